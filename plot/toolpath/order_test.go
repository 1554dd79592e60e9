package toolpath

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

func genPoint() *rapid.Generator[path.Point] {
	return rapid.Custom(func(t *rapid.T) path.Point {
		// Whole numbers, so that points coincide now and then.
		return path.Point{
			X: float64(rapid.IntRange(-20, 20).Draw(t, "x")),
			Y: float64(rapid.IntRange(-20, 20).Draw(t, "y")),
		}
	})
}

// genLines draws open and closed lines, dots and lines drawn twice.
func genLines(most int) *rapid.Generator[[]Line] {
	return rapid.Custom(func(t *rapid.T) []Line {
		n := rapid.IntRange(0, most).Draw(t, "lines")
		lines := make([]Line, n)
		for i := range lines {
			if i > 0 && rapid.IntRange(0, 9).Draw(t, "again") == 0 {
				lines[i] = lines[i-1]
				continue
			}
			p := path.Path{Closed: rapid.Bool().Draw(t, "closed")}
			for range rapid.IntRange(1, 5).Draw(t, "vertices") {
				v := path.Vertex{Point: genPoint().Draw(t, "vertex")}
				v.Bulge = rapid.SampledFrom([]float64{0, 0.5, -1}).Draw(t, "bulge")
				p.V = append(p.V, v)
			}
			if !p.Closed {
				p.V[len(p.V)-1].Bulge = 0
			}
			lines[i] = Line{Path: p, Piece: rapid.IntRange(0, 3).Draw(t, "piece"), Rank: rapid.IntRange(-1, 1).Draw(t, "rank")}
		}
		return lines
	})
}

func genOptions() *rapid.Generator[Options] {
	return rapid.Custom(func(t *rapid.T) Options {
		return Options{
			From:         genPoint().Draw(t, "from"),
			Mix:          rapid.Bool().Draw(t, "mix"),
			Kicks:        rapid.SampledFrom([]int{-1, 0, 30, 2000}).Draw(t, "kicks"),
			SmoothStarts: rapid.Bool().Draw(t, "smooth"),
		}
	})
}

// sameLine reports whether a path is the line, run from some end or vertex.
func sameLine(line, p path.Path) bool {
	if line.Closed != p.Closed || len(line.V) != len(p.V) {
		return false
	}
	same := func(v, w []path.Vertex) bool {
		return slices.EqualFunc(v, w, func(a, b path.Vertex) bool {
			return fmt.Sprint(a) == fmt.Sprint(b) // NaN equals NaN
		})
	}
	if !line.Closed {
		return same(line.V, p.V) || same(line.Reverse().V, p.V)
	}
	for k := range max(1, len(line.V)) {
		if same(slices.Concat(line.V[k:], line.V[:k]), p.V) {
			return true
		}
	}
	return false
}

func TestEveryLineIsDrawnOnceAndUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(30).Draw(t, "lines")
		for range rapid.IntRange(0, 2).Draw(t, "odd") {
			odd := rapid.SampledFrom([]path.Path{
				{}, {Closed: true},
				path.Open(path.Point{X: math.NaN()}, path.Point{}),
				path.Closed(path.Point{X: math.Inf(1)}, path.Point{}, path.Point{Y: 1}),
				path.Open(path.Point{X: 1e200}, path.Point{}),
				{V: []path.Vertex{{Bulge: math.NaN()}, {}}},
			}).Draw(t, "path")
			lines = slices.Insert(lines, rapid.IntRange(0, len(lines)).Draw(t, "at"), Line{Path: odd})
		}
		steps := Order(lines, genOptions().Draw(t, "options"))
		require.Len(t, steps, len(lines))
		seen := map[int]bool{}
		for _, s := range steps {
			require.False(t, seen[s.Line])
			seen[s.Line] = true
			require.True(t, sameLine(lines[s.Line].Path, s.Path), "%v became %v", lines[s.Line].Path, s.Path)
		}
	})
}

func TestUnfitLinesComeLastAsGiven(t *testing.T) {
	stroke := path.Open(path.Point{X: 5}, path.Point{X: 9})
	lines := []Line{
		{Path: path.Open(path.Point{X: math.NaN()}, path.Point{})},
		{Path: stroke}, {}, {Path: stroke.Reverse()},
	}
	var order []int
	for _, s := range Order(lines, Options{}) {
		order = append(order, s.Line)
	}
	require.Equal(t, []int{1, 3, 0, 2}, order)
	require.Empty(t, Order(nil, Options{}))
	require.Len(t, Order(lines, Options{From: path.Point{X: math.NaN()}}), 4)
}

func TestRanksAscendInEveryPieceAndPiecesStayTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(30).Draw(t, "lines")
		o := genOptions().Draw(t, "options")
		rank, last := map[int]int{}, -1
		for _, s := range Order(lines, o) {
			l := lines[s.Line]
			r, begun := rank[l.Piece]
			require.True(t, !begun || r <= l.Rank)
			if !o.Mix {
				require.True(t, !begun || l.Piece == last, "piece %d is taken up again", l.Piece)
			}
			rank[l.Piece], last = l.Rank, l.Piece
		}
	})
}

func TestTravelIsNoLongerThanGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(30).Draw(t, "lines")
		o := genOptions().Draw(t, "options")
		o.SmoothStarts = false
		if rapid.Bool().Draw(t, "free") {
			lines = free(lines)
		} else {
			slices.SortStableFunc(lines, func(a, b Line) int {
				if a.Piece != b.Piece {
					return a.Piece - b.Piece
				}
				return a.Rank - b.Rank
			})
		}
		var given []Step
		for i, l := range lines {
			given = append(given, Step{i, l.Path})
		}
		require.LessOrEqual(t, Travel(o.From, Order(lines, o)), Travel(o.From, given)+1e-6)
	})
}

func TestMixedPiecesTravelNoFurtherThanSeparateOnes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(30).Draw(t, "lines")
		o := genOptions().Draw(t, "options")
		o.Mix = false
		apart := Travel(o.From, Order(lines, o))
		o.Mix = true
		require.LessOrEqual(t, Travel(o.From, Order(lines, o)), apart+1e-6)
	})
}

func TestSameLinesGiveSameSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(40).Draw(t, "lines")
		o := genOptions().Draw(t, "options")
		require.Equal(t, Order(lines, o), Order(lines, o))
	})
}

// leastTravel is the optimum over all orders, directions and starts (Held and
// Karp, 1962: for each set of lines drawn and each last site the least travel).
func leastTravel(from path.Point, lines []Line) float64 {
	type site struct {
		line    int
		in, out path.Point
	}
	var sites []site
	for i, l := range lines {
		if n := len(l.Path.V); l.Path.Closed {
			for _, v := range l.Path.V {
				sites = append(sites, site{i, v.Point, v.Point})
			}
		} else {
			a, b := l.Path.V[0].Point, l.Path.V[n-1].Point
			sites = append(sites, site{i, a, b}, site{i, b, a})
		}
	}
	all := 1<<len(lines) - 1
	least := make([][]float64, all+1)
	for set := range least {
		least[set] = make([]float64, len(sites))
		for k, s := range sites {
			least[set][k] = math.Inf(1)
			rest := set &^ (1 << s.line)
			switch {
			case rest == set:
			case rest == 0:
				least[set][k] = from.Dist(s.in)
			default:
				for b, r := range sites {
					least[set][k] = min(least[set][k], least[rest][b]+r.out.Dist(s.in))
				}
			}
		}
	}
	if bits.OnesCount(uint(all)) == 0 {
		return 0
	}
	return slices.Min(least[all])
}

func TestFewLinesAreWithinAFewPercentOfTheBest(t *testing.T) {
	sum, best, exact, checks := 0.0, 0.0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(7).Draw(t, "lines"))
		from := genPoint().Draw(t, "from")
		got, want := Travel(from, Order(lines, Options{From: from})), leastTravel(from, lines)
		require.GreaterOrEqual(t, got, want-1e-6)
		sum, best, checks = sum+got, best+want, checks+1
		if got <= want+1e-6 {
			exact++
		}
	})
	t.Logf("%d of %d exact, %.2f %% longer in all", exact, checks, 100*(sum/best-1))
	require.Less(t, sum, 1.02*best)
}

func TestSixStrokesAreInTheBestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(6).Draw(t, "lines"))
		for i := range lines {
			lines[i].Path.Closed = false
		}
		from := genPoint().Draw(t, "from")
		require.InDelta(t, leastTravel(from, lines), Travel(from, Order(lines, Options{From: from})), 1e-6)
	})
}

func TestStartsAreTheBestForTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(6).Draw(t, "lines"))
		from := genPoint().Draw(t, "from")
		j := newJob(lines, Options{From: from})
		if len(lines) == 0 {
			t.Skip("no lines")
		}
		g := j.group(j.drawn)
		var items []choice
		for _, a := range g.tour.lines() {
			items = append(items, g.choice(a))
		}
		// All ways to enter the lines in this order.
		least := math.Inf(1)
		var try func(k int, at path.Point, travel float64)
		try = func(k int, at path.Point, travel float64) {
			if k == len(items) {
				least = min(least, travel)
				return
			}
			for s, p := range items[k].at {
				try(k+1, items[k].exit(s), travel+at.Dist(p))
			}
		}
		try(0, from, 0)
		best, gain := bestChoices(from, items)
		now, travel, was := from, 0.0, 0.0
		before := from
		for k, s := range best {
			travel += now.Dist(items[k].at[s])
			now = items[k].exit(s)
			was += before.Dist(items[k].at[items[k].now])
			before = items[k].exit(items[k].now)
		}
		require.InDelta(t, least, travel, 1e-9)
		require.InDelta(t, was-travel, gain, 1e-9)
	})
}

func TestNeighboursAreTheNearestOfOtherLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(60).Draw(t, "lines"))
		if len(lines) == 0 {
			t.Skip("no lines")
		}
		j := newJob(lines, Options{})
		g := j.group(j.drawn)
		s := int32(rapid.IntRange(0, len(g.at)-3).Draw(t, "site"))
		sideX := float64(rapid.IntRange(-1, 1).Draw(t, "x side"))
		sideY := float64(rapid.IntRange(-1, 1).Draw(t, "y side"))
		var w nearest
		w.start(5, g.owner[s], g.at[s], sideX, sideY)
		g.tree.search(0, &w)
		nearestOf := map[int32]float64{}
		for k := range g.at[:len(g.at)-2] {
			v := g.at[k].Sub(g.at[s])
			if o := g.alike[k]; g.owner[k] != g.owner[s] && v.X*sideX >= 0 && v.Y*sideY >= 0 {
				if d, ok := nearestOf[o]; !ok || v.Dot(v) < d {
					nearestOf[o] = v.Dot(v)
				}
			}
		}
		var want, got []float64
		for _, d := range nearestOf {
			want = append(want, d)
		}
		slices.Sort(want)
		for _, f := range w.found {
			got = append(got, f.distSq)
			require.Equal(t, nearestOf[f.alike], f.distSq)
		}
		require.Len(t, got, min(5, len(want)))
		for i, d := range got {
			require.Equal(t, want[i], d)
		}
	})
}

// The ring keeps its travel, its lines and where they are entered when changes
// are taken back.
func TestChangesAreTakenBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(20).Draw(t, "lines"))
		if len(lines) < 5 {
			t.Skip("few lines")
		}
		j := newJob(lines, Options{})
		g := j.group(j.drawn)
		order, in, out := slices.Clone(g.order), slices.Clone(g.in), slices.Clone(g.out)
		g.logging = true
		for range rapid.IntRange(1, 5).Draw(t, "changes") {
			n := len(g.order)
			at := rapid.IntRange(0, n-1).Draw(t, "place")
			count := rapid.IntRange(1, n-2).Draw(t, "count")
			beyond := rapid.IntRange(1, n-count).Draw(t, "beyond")
			f, l, u := g.order[at], g.order[(at+count-1)%n], g.order[(at+count-1+beyond)%n]
			turned := rapid.Bool().Draw(t, "turned")
			p, q, v := g.prev(f), g.next(l), g.next(u)
			want := g.travel()
			if u != p {
				a, b := g.in[f], g.out[l]
				if turned {
					a, b = b, a
				}
				want += g.dist(g.out[u], a) + g.dist(b, g.in[v]) + g.dist(g.out[p], g.in[q]) -
					g.dist(g.out[p], g.in[f]) - g.dist(g.out[l], g.in[q]) - g.dist(g.out[u], g.in[v])
				g.move(f, l, u, turned)
				require.InDelta(t, want, g.travel(), 1e-9)
			}
		}
		g.undo()
		require.Equal(t, order, g.order)
		require.Equal(t, in, g.in)
		require.Equal(t, out, g.out)
		for i, a := range g.order {
			require.Equal(t, int32(i), g.pos[a])
		}
	})
}

// What a search says it gained is what the travel is shorter.
func TestGainsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := free(genLines(40).Draw(t, "lines"))
		if len(lines) == 0 {
			t.Skip("no lines")
		}
		j := newJob(lines, Options{})
		g := j.group(j.drawn)
		g.join(path.Point{}, path.Point{X: 3}, rapid.Bool().Draw(t, "goes on"))
		before := g.travel()
		g.pushAll(g.order...)
		gain := g.settle(kind(rapid.IntRange(1, int(everything)).Draw(t, "kinds")))
		require.InDelta(t, before-g.travel(), gain, 1e-6)
		before = g.travel()
		gain = g.kick(rapid.SampledFrom([]int{50, 200 * len(lines)}).Draw(t, "kicks"), random(1))
		require.GreaterOrEqual(t, gain, 0.0)
		require.InDelta(t, before-g.travel(), gain, 1e-6)
	})
}

// A star of four points, with its valleys at odd vertices.
func star(tip, valley float64) path.Path {
	p := path.Path{Closed: true}
	for k := range 8 {
		r := tip
		if k%2 == 1 {
			r = valley
		}
		p.V = append(p.V, path.Vertex{Point: path.Point{}.Add(path.Direction(float64(k) * math.Pi / 4).Mul(r))})
	}
	return p
}

func TestSmoothStartsAvoidValleysAndTips(t *testing.T) {
	s := star(50, 20)
	require.Equal(t, []int32{0, 2, 4, 6}, starts(s, true))
	// Run clockwise, the valleys are the same corners.
	require.Equal(t, []int32{0, 2, 4, 6}, starts(s.Reverse(), true))
	// A vertex on a straight stretch is better than any tip.
	s.V = slices.Insert(s.V, 1, path.Vertex{Point: s.Segment(0).At(0.5)})
	require.Equal(t, []int32{1}, starts(s, true))
	require.Len(t, starts(s, false), 9)
	// A repeated vertex on it does not make it a corner.
	s.V = slices.Insert(s.V, 1, s.V[1])
	require.Equal(t, []int32{1, 2}, starts(s, true))
	// A circle is smooth everywhere; in a cloud every vertex is a valley.
	require.Equal(t, []int32{0, 1}, starts(path.Circle(path.Point{}, 5), true))
	cloud := path.Closed(path.Point{}, path.Point{X: 9}, path.Point{X: 9, Y: 9}, path.Point{Y: 9})
	for i := range cloud.V {
		cloud.V[i].Bulge = 1
	}
	require.Equal(t, []int32{0, 1, 2, 3}, starts(cloud, true))
	// The nearest vertex is a valley, and the tool goes on to a tip.
	steps := Order([]Line{{Path: star(50, 20)}}, Options{From: path.Point{X: 16, Y: 15}, SmoothStarts: true})
	require.InDelta(t, 50, steps[0].Path.Start().Dist(path.Point{}), 1e-9)
	steps = Order([]Line{{Path: star(50, 20)}}, Options{From: path.Point{X: 16, Y: 15}})
	require.InDelta(t, 20, steps[0].Path.Start().Dist(path.Point{}), 1e-9)
}

// Of a long outline some vertices are tried first, and all in the end.
func TestLongOutlineBeginsAtTheNearestOfAllVertices(t *testing.T) {
	p := path.Path{Closed: true}
	for k := range 1001 {
		p.V = append(p.V, path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(k) / 1001).Mul(100))})
	}
	from := path.Point{}.Add(path.Direction(2 * math.Pi * 333 / 1001).Mul(150))
	require.InDelta(t, 50, Travel(from, Order([]Line{{Path: p}}, Options{From: from})), 1e-9)
}

func TestTravelIsWhatLiesBetween(t *testing.T) {
	steps := []Step{
		{Path: path.Open(path.Point{X: 3, Y: 4}, path.Point{X: 10, Y: 4})},
		{},
		{Path: path.Circle(path.Point{X: 9, Y: 9}, 1)},
		{Path: path.Open(path.Point{X: 10, Y: 9})},
		{Path: path.Open(path.Point{X: 10, Y: 10}, path.Point{})},
	}
	require.Equal(t, 5.0+5+0+1, Travel(path.Point{}, steps))
}

func TestManyLinesArePutInOrder(t *testing.T) {
	many := make([]Line, 0, 20_000)
	for i := range 10_000 {
		// Half of them on a grid, half all alike.
		at := path.Point{X: float64(i * 7919 % 100), Y: float64(i * 104729 % 9973)}
		many = append(many, Line{Path: path.Open(at, at.Add(path.Vec{X: 0.5}))}, Line{Path: path.Closed(path.Point{X: -5}, path.Point{X: -9})})
	}
	steps := Order(many, Options{Kicks: -1})
	require.Len(t, steps, len(many))
	// The shortest tour of so many random points is 0.7124 sqrt(n area) long
	// (Johnson and McGeoch, from memory); 2-opt comes within a fifth of it.
	require.Less(t, Travel(path.Point{}, steps), 1.2*0.7124*math.Sqrt(10_000*100*9973))
}
