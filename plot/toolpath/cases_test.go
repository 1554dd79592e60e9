package toolpath

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
)

// annealing makes TestLongAnnealing run, which takes minutes.
var annealing = flag.Duration("annealing", 0, "how long to anneal each case for the travels in the benchmarks")

// stages makes TestStageTable run.
var stages = flag.Bool("stages", false, "log what each stage of the search brings")

// jobCase is a set of lines like those of a kind of plot.
type jobCase struct {
	name  string
	lines func() []Line
	// annealed is the travel in mm from the origin, with all lines free, that the
	// better of two annealings of 60 s reached (-annealing 60s). Least is the
	// least that Order has reached with up to 3 million kicks and other numbers of
	// neighbours; no optimum is proved.
	annealed, least float64
}

var jobCases = []jobCase{
	{"A-500-strokes", strokes, 11404, 11377},
	{"B-marker", func() []Line { return marker(true) }, 34263, 34215},
	{"C-99-outlines", func() []Line { return marker(false) }, 14687, 14327},
	{"D-100-texts", texts, 19225, 18586},
}

// strokes are 500 lines of 10 to 60 mm on a square metre.
func strokes() []Line {
	r := rand.New(rand.NewPCG(1, 500))
	var lines []Line
	for range 500 {
		p := path.Point{X: 1000 * r.Float64(), Y: 1000 * r.Float64()}
		d := path.Direction(2 * math.Pi * r.Float64()).Mul(10 + 50*r.Float64())
		lines = append(lines, Line{Path: path.Open(p, p.Add(d))})
	}
	return lines
}

// marker is a cloth 1500 mm wide with 99 pieces in rows of seven, most with a
// scalloped hem; with signs, each has a grain line and three notches, too.
func marker(signs bool) []Line {
	r := rand.New(rand.NewPCG(2, 99))
	var lines []Line
	for k := range 99 {
		at := path.Point{X: 15 + 210*float64(k%7), Y: 15 + 340*float64(k/7)}
		for _, l := range panel(r, at, signs) {
			l.Piece = k
			lines = append(lines, l)
		}
	}
	// As a file has them: not in the order in which they lie.
	r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
	return lines
}

// panel is a piece of some 190 by 320 mm with its lower left corner about there.
func panel(r *rand.Rand, at path.Point, signs bool) []Line {
	w, h, flare := 120+70*r.Float64(), 180+140*r.Float64(), 20*r.Float64()
	at = at.Add(path.Vec{X: 10 * r.Float64(), Y: 20 * r.Float64()})
	outline := path.Path{Closed: true}
	n := r.IntN(16)
	for i := range n {
		x := at.X + w*float64(i)/float64(n)
		outline.V = append(outline.V, path.Vertex{Point: path.Point{X: x, Y: at.Y}, Bulge: 0.8})
	}
	if n == 0 {
		outline.V = append(outline.V, path.Vertex{Point: at})
	}
	for _, v := range []path.Vec{{X: w}, {X: w + 0.3*flare, Y: 0.6 * h}, {X: w - flare, Y: h}, {X: w / 2, Y: h - flare}, {X: flare, Y: h}, {X: -0.3 * flare, Y: 0.6 * h}} {
		outline.V = append(outline.V, path.Vertex{Point: at.Add(v)})
	}
	lines := []Line{{Path: outline, Rank: 1}}
	if !signs {
		return lines
	}
	x := at.X + w*(0.3+0.4*r.Float64())
	lines = append(lines, Line{Path: path.Open(path.Point{X: x, Y: at.Y + 0.25*h}, path.Point{X: x, Y: at.Y + 0.75*h})})
	for range 3 {
		i := n + r.IntN(6)
		s := outline.Segment(i % len(outline.V))
		t := 0.2 + 0.6*r.Float64()
		p := s.At(t)
		lines = append(lines, Line{Path: path.Open(p, p.Add(s.TangentAt(t).Left().Mul(6)))})
	}
	return lines
}

// texts are 100 labels of 20 strokes each on a cloth of 1.5 m by 3 m.
func texts() []Line {
	r := rand.New(rand.NewPCG(4, 2000))
	var lines []Line
	for range 100 {
		at := path.Point{X: 1400 * r.Float64(), Y: 3000 * r.Float64()}
		for k := range 20 {
			p := at.Add(path.Vec{X: 4*float64(k/2) + 3*r.Float64(), Y: 6 * r.Float64()})
			lines = append(lines, Line{Path: path.Open(p, p.Add(path.Vec{X: 3 * r.Float64(), Y: 5 * (r.Float64() - 0.5)}))})
		}
	}
	r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
	return lines
}

// garment is a job of four pieces with 10 to 60 lines each.
func garment() []Line {
	r := rand.New(rand.NewPCG(5, 4))
	var lines []Line
	for k, n := range []int{10, 25, 40, 60} {
		at := path.Point{X: 250 * float64(k)}
		piece := panel(r, at, true)
		for len(piece) < n {
			p := at.Add(path.Vec{X: 150 * r.Float64(), Y: 250 * r.Float64()})
			piece = append(piece, Line{Path: path.Open(p, p.Add(path.Vec{X: 3, Y: 5}))})
		}
		for _, l := range piece {
			l.Piece = k
			lines = append(lines, l)
		}
	}
	return lines
}

// free returns the lines as those of one piece and one rank.
func free(lines []Line) []Line {
	all := append([]Line(nil), lines...)
	for i := range all {
		all[i].Piece, all[i].Rank = 0, 0
	}
	return all
}

// TestStageTable logs what each stage takes and brings.
func TestStageTable(t *testing.T) {
	if !*stages {
		t.Skip("takes half a minute; run with -stages -v")
	}
	for _, c := range jobCases {
		lines := free(c.lines())
		report := func(stage string, start time.Time, travel float64) {
			t.Logf("%-14s %-24s %8.2f ms %9.0f mm %+7.2f %% over annealing, %+.2f %% over the least", c.name, stage,
				float64(time.Since(start).Microseconds())/1000, travel, 100*(travel/c.annealed-1), 100*(travel/c.least-1))
		}
		start := time.Now()
		var given []Step
		for i, l := range lines {
			given = append(given, Step{i, l.Path})
		}
		report("file order", start, Travel(path.Point{}, given))
		start = time.Now()
		j := newJob(lines, Options{})
		ch := j.chains()[0]
		g := ch.groups()[0]
		g.join(path.Point{}, path.Point{}, false)
		g.greedy()
		report("nearest next", start, g.travel())
		g.pushAll(g.order...)
		g.settle(crosses)
		report("+ cross", start, g.travel())
		g.pushAll(g.order...)
		g.settle(crosses | inserts)
		report("+ insert", start, g.travel())
		g.pushAll(g.order...)
		g.tour.improve()
		report("+ begin, replace", start, g.travel())
		ch.settle()
		report("+ starts, repeated", start, g.travel())
		for _, k := range []int{1000, 10_000, mostKicks} {
			g.kick(k, random(0))
			ch.settle()
			report(fmt.Sprintf("+ %d kicks", k), start, g.travel())
		}
		start = time.Now()
		s := Order(lines, Options{})
		report("Order", start, Travel(path.Point{}, s))
	}
}

// TestLongAnnealing finds the travels that the benchmarks compare with.
func TestLongAnnealing(t *testing.T) {
	if *annealing == 0 {
		t.Skip("takes minutes; run with -annealing 60s")
	}
	for _, c := range jobCases {
		for seed := range uint64(2) {
			j := newJob(free(c.lines()), Options{})
			ch := j.chains()[0]
			g := ch.groups()[0]
			g.join(path.Point{}, path.Point{}, false)
			g.greedy()
			g.pushAll(g.order...)
			ch.settle()
			proposals := anneal(g.tour, *annealing, seed)
			g.pushAll(g.order...)
			ch.settle()
			travel := Travel(path.Point{}, j.steps(ch.sequence()))
			t.Logf("%s: %.0f mm after %d M proposals", c.name, travel, proposals/1_000_000)
			require.Greater(t, travel, c.least)
		}
	}
}

// anneal makes random changes, worse ones too, less and less so (Kirkpatrick,
// Gelatt and Vecchi, 1983), and returns how many it tried.
func anneal(t *tour, long time.Duration, seed uint64) int {
	rnd := rand.New(rand.NewPCG(seed, 7))
	n := len(t.order)
	mean := t.travel() / float64(n)
	begun := time.Now()
	temperature := 0.0
	tried := 0
	for ; ; tried++ {
		if tried%1024 == 0 {
			done := float64(time.Since(begun)) / float64(long)
			if done >= 1 {
				return tried
			}
			temperature = 2 * mean * math.Pow(0.001, done)
		}
		take := func(gain float64) bool {
			return gain >= 0 || rnd.Float64() < math.Exp(gain/temperature)
		}
		a := int32(rnd.IntN(n))
		if t.loop[a] && rnd.IntN(3) == 0 {
			s := t.first[a] + rnd.Int32N(t.first[a+1]-t.first[a])
			p, q := t.out[t.prev(a)], t.in[t.next(a)]
			if take(t.dist(p, t.in[a]) + t.dist(t.in[a], q) - t.dist(p, s) - t.dist(s, q)) {
				t.restart(a, s)
			}
			continue
		}
		// A line near the end of a.
		s := t.out[a]
		var j int32
		if s == t.nowhere {
			j = int32(rnd.IntN(n))
		} else if list := t.nearOf(s); len(list) > 0 {
			j = t.owner[list[rnd.IntN(len(list))].site]
		}
		if j == a {
			continue
		}
		b, k := t.next(a), t.next(j)
		if rnd.IntN(2) == 0 {
			if take(t.dist(s, t.in[b]) + t.dist(t.out[j], t.in[k]) - t.dist(s, t.out[j]) - t.dist(t.in[b], t.in[k])) {
				t.reverse(b, j)
			}
			continue
		}
		// Up to three lines from j on, or back from it, go behind a.
		f, l := j, j
		count := rnd.IntN(3)
		back := rnd.IntN(2) == 0
		clear := f != a
		for range count {
			if back {
				f = t.prev(f)
				clear = clear && f != a
			} else {
				l = t.next(l)
				clear = clear && l != a
			}
		}
		p, q := t.prev(f), t.next(l)
		if !clear || p == a || count+4 > n {
			continue
		}
		turned := rnd.IntN(2) == 0
		in, out := t.in[f], t.out[l]
		if turned {
			in, out = out, in
		}
		site := int32(-1)
		if f == l && t.loop[f] {
			site = t.first[f] + rnd.Int32N(t.first[f+1]-t.first[f])
			in, out = site, site
		}
		gain := t.dist(t.out[p], t.in[f]) + t.dist(t.out[l], t.in[q]) + t.dist(s, t.in[b]) -
			t.dist(t.out[p], t.in[q]) - t.dist(s, in) - t.dist(out, t.in[b])
		if take(gain) {
			if site >= 0 {
				t.restart(f, site)
			}
			t.move(f, l, a, turned)
		}
	}
}

func BenchmarkOrder(b *testing.B) {
	for _, c := range jobCases {
		b.Run(c.name, func(b *testing.B) {
			lines := free(c.lines())
			var travel float64
			for b.Loop() {
				travel = Travel(path.Point{}, Order(lines, Options{}))
			}
			b.ReportMetric(100*(travel/c.annealed-1), "%over-annealing")
			b.ReportMetric(100*(travel/c.least-1), "%over-least")
		})
	}
	for name, lines := range map[string][]Line{"garment": garment(), "marker": marker(true)} {
		for _, o := range []Options{{}, {Mix: true}, {SmoothStarts: true}, {Kicks: -1}} {
			b.Run(fmt.Sprintf("%s/mix=%t,smooth=%t,kicks=%d", name, o.Mix, o.SmoothStarts, o.Kicks), func(b *testing.B) {
				var travel float64
				for b.Loop() {
					travel = Travel(path.Point{}, Order(lines, o))
				}
				b.ReportMetric(travel, "mm")
			})
		}
	}
	b.Run("20000-strokes", func(b *testing.B) {
		lines := make([]Line, 20_000)
		r := rand.New(rand.NewPCG(6, 20_000))
		for i := range lines {
			p := path.Point{X: 10_000 * r.Float64(), Y: 10_000 * r.Float64()}
			lines[i].Path = path.Open(p, p.Add(path.Direction(2*math.Pi*r.Float64()).Mul(30)))
		}
		for b.Loop() {
			Order(lines, Options{})
		}
	})
}
