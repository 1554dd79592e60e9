package path

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// panel returns a straight-topped outline with n scallops, each one arc.
func panel(n int) Path {
	const width, depth, height = 60, 24, 400
	p := Path{Closed: true}
	for i := range n {
		p.V = append(p.V, Vertex{Point{width * float64(i), 0}, 2. * depth / width})
	}
	w := width * float64(n)
	p.V = append(p.V, Vertex{Point: Point{w, 0}}, Vertex{Point: Point{w, height}}, Vertex{Point: Point{0, height}})
	return p
}

// distance returns how far p is from the path, by trying all of it.
func distance(p Point, q Path) float64 {
	dist := math.Inf(1)
	for i := range q.Segments() {
		_, d := q.Segment(i).Nearest(p)
		dist = min(dist, d)
	}
	return dist
}

// offsetError returns by how much the offset paths come nearer to the source
// than the distance and, when it is to be kept everywhere, go further away.
func offsetError(source Path, d float64, out []Path, exact bool) float64 {
	worst := 0.
	for _, q := range out {
		for i := range q.Segments() {
			s := q.Segment(i)
			for _, r := range []float64{0, 0.29, 0.5, 0.83, 1} {
				off := math.Abs(d) - distance(s.At(r), source)
				if exact {
					off = math.Abs(off)
				}
				worst = max(worst, off)
			}
		}
	}
	return worst
}

// requireBeside checks that the offset paths are at the distance from the
// source everywhere when exact, and nowhere nearer anyhow.
func requireBeside(t require.TestingT, source Path, d float64, out []Path, exact bool) {
	require.LessOrEqual(t, offsetError(source, d, out, exact), 1e-6)
}

func mustOffset(t require.TestingT, p Path, d float64, corner Corner) []Path {
	out, err := p.Offset(d, corner)
	require.NoError(t, err)
	return out
}

func totalArea(paths []Path) float64 {
	sum := 0.
	for _, p := range paths {
		sum += p.Area()
	}
	return sum
}

func TestOffsetAreasOfKnownShapes(t *testing.T) {
	square := Closed(Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0, 10})
	stadium := Path{Closed: true, V: []Vertex{{Point{0, 0}, 0}, {Point{10, 0}, 1}, {Point{10, 6}, 0}, {Point{0, 6}, 1}}}
	// A notch 4 wide and 5 deep in the lower edge.
	notched := Closed(Point{0, 0}, Point{8, 0}, Point{8, 5}, Point{12, 5}, Point{12, 0}, Point{20, 0}, Point{20, 10}, Point{0, 10})
	triangle := Closed(Point{0, 0}, Point{30, 0}, Point{0, 40})
	rounded, squared, mitred := Corner{}, Corner{Kind: Squared}, Corner{Kind: Mitred}
	for _, c := range []struct {
		name   string
		p      Path
		d      float64
		corner Corner
		want   []float64
	}{
		{"circle grows", Circle(Point{3, 4}, 5), 2, rounded, []float64{49 * math.Pi}},
		{"circle shrinks", Circle(Point{3, 4}, 5), -2, rounded, []float64{9 * math.Pi}},
		{"circle vanishes", Circle(Point{3, 4}, 5), -5, rounded, nil},
		{"circle vanishes and more", Circle(Point{3, 4}, 5), -7, rounded, nil},
		{"clockwise circle shrinks to the right", Circle(Point{3, 4}, 5).Reverse(), 2, rounded, []float64{-9 * math.Pi}},
		{"square rounded", square, 2, rounded, []float64{100 + 80 + 4*math.Pi}},
		{"square mitred", square, 2, mitred, []float64{196}},
		{"square squared", square, 2, squared, []float64{196 - 4*math.Pow(2-math.Sqrt2, 2)*2}},
		{"square mitred to a limit", square, 2, Corner{Mitred, 1.2}, []float64{196 - 4*math.Pow(2*math.Sqrt2-2.4, 2)}},
		{"square shrinks", square, -2, mitred, []float64{36}},
		{"square nearly vanishes", square, -4.9, rounded, []float64{0.04}},
		{"square vanishes just so", square, -5, rounded, nil},
		{"square vanishes", square, -6, squared, nil},
		{"stadium grows", stadium, 2, rounded, []float64{10*10 + 25*math.Pi}},
		{"stadium shrinks", stadium, -2, rounded, []float64{10*2 + math.Pi}},
		{"stadium vanishes just so", stadium, -3, rounded, nil},
		{"notch narrows", notched, 1, mitred, []float64{22*12 - 2*5}},
		{"notch closes just so", notched, 2, mitred, []float64{24 * 14}},
		{"notch closes", notched, 3, mitred, []float64{26 * 16}},
		{"notch cuts through", notched, -2.5, rounded, []float64{15 + 6.25*(1-math.Pi/4), 15 + 6.25*(1-math.Pi/4)}},
		{"triangle shrinks", triangle, -5, rounded, []float64{150}}, // inradius 10
		{"triangle vanishes just so", triangle, -10, rounded, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, m := range []Similarity{Translation(Vec{}), Rotation(Point{50, 20}, 0.4)} {
				out := mustOffset(t, c.p.Transform(m), c.d, c.corner)
				require.Len(t, out, len(c.want), "%v", out)
				for i, q := range out {
					require.InDelta(t, c.want[i], q.Area(), 1e-9*math.Abs(c.want[i])+1e-9)
					require.True(t, q.Closed)
					require.True(t, q.Simple())
				}
			}
		})
	}
}

func TestOffsetKeepsVerticesOfScallops(t *testing.T) {
	p := panel(3)
	out := mustOffset(t, p, 6, Corner{Kind: Mitred})
	require.Len(t, out, 1)
	require.Len(t, out[0].V, len(p.V)+2, "one arc a scallop, one point at each corner")
	// The offset arc of radius 30.75+6 around (30, 6.75) meets the next one
	// above the valley between them, 30 away.
	r := 30.75 + 6
	require.InDelta(t, 0, distance(Point{60, 6.75 - math.Sqrt(r*r-900)}, out[0]), 1e-9)

	out = mustOffset(t, p, -6, Corner{})
	require.Len(t, out, 1)
	require.Len(t, out[0].V, 3+2+3, "three arcs, two round the valleys, two sides and the top")
}

func TestOffsetOfWholeArcStaysOneArc(t *testing.T) {
	// A sweep of 286 degrees and its chord.
	p := Path{Closed: true, V: []Vertex{{Point{0, 0}, 3}, {Point{10, 0}, 0}}}
	out := mustOffset(t, p, -1, Corner{})
	require.Len(t, out, 1)
	require.Len(t, out[0].V, 2)
	require.Greater(t, max(out[0].V[0].Bulge, out[0].V[1].Bulge), 1.)
}

// Steiner's formula for the parallel set of a convex body: A + L d + pi d^2.
func TestConvexOutlineGrowsBySteinersFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawConvex(t)
		d := math.Pow(10, rapid.Float64Range(-2, 2.5).Draw(t, "d"))
		out := mustOffset(t, p, d, Corner{})
		require.Len(t, out, 1)
		want := p.Area() + p.Length()*d + math.Pi*d*d
		require.InEpsilon(t, want, out[0].Area(), 1e-10)
		require.InEpsilon(t, p.Length()+2*math.Pi*d, out[0].Length(), 1e-10)
		requireBeside(t, p, d, out, true)
	})
}

// drawConvex draws a convex outline of lines and arcs with corners, from sharp
// ones to bends as slight as rounding.
func drawConvex(t *rapid.T) Path {
	n := rapid.IntRange(2, 12).Draw(t, "n")
	r := rapid.Float64Range(5, 500).Draw(t, "r")
	centre := Point{100, 50}
	var around []Point
	for i := range n {
		a := (float64(i) + rapid.Float64Range(0, 0.8).Draw(t, "a")) * 2 * math.Pi / float64(n)
		around = append(around, centre.Add(Direction(a).Mul(r)))
	}
	slight := rapid.Map(rapid.Float64Range(-12, -2), func(x float64) float64 { return math.Pow(10, x) })
	p := Path{Closed: true}
	for i, a := range around {
		b := around[(i+1)%n]
		// Up to the bulge of the circle through the points.
		turn := a.Sub(centre).AngleTo(b.Sub(centre))
		if turn < 0 {
			turn += 2 * math.Pi
		}
		full := math.Tan(turn / 4)
		if n == 2 {
			full = rapid.Float64Range(0.25, 1).Draw(t, "bulge")
		}
		side := rapid.SampledFrom([]string{"line", "bent", "shallow", "nearly", "full"}).Draw(t, "side")
		if n == 2 {
			side = "full" // two lines have no width
		}
		switch side {
		case "line":
			p.V = append(p.V, Vertex{a, 0})
		case "bent":
			bulge := slight.Draw(t, "slight") * full
			p.V = append(p.V, Vertex{a, 0}, Vertex{Segment{a, b, bulge}.At(rapid.Float64Range(0.1, 0.9).Draw(t, "at")), 0})
		case "shallow":
			p.V = append(p.V, Vertex{a, full / 2})
		case "nearly":
			p.V = append(p.V, Vertex{a, full * (1 - slight.Draw(t, "slight"))})
		case "full":
			p.V = append(p.V, Vertex{a, full})
		}
	}
	return p
}

// Moved in by d, a side of a convex polygon loses d tan(turn/2) at each end, so
// that the polygon keeps A - L d + d^2 (sum of tan(turn/2)) while all sides last.
func TestPolygonShrinksByItsSidesAndTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawConvex(t)
		for i := range p.V {
			p.V[i].Bulge = 0
		}
		n := len(p.V)
		if n < 3 {
			t.Skip("no width")
		}
		tans, sum, most := make([]float64, n), 0., math.Inf(1)
		for i := range n {
			tans[i] = math.Tan(p.Segment((i+n-1)%n).Chord().AngleTo(p.Segment(i).Chord()) / 2)
			sum += tans[i]
		}
		for i := range n {
			most = min(most, p.Segment(i).Length()/(tans[i]+tans[(i+1)%n]))
		}
		d := most * rapid.Float64Range(0.01, 0.9).Draw(t, "part")
		for _, corner := range []Corner{{}, {Kind: Mitred}} {
			out := mustOffset(t, p, -d, corner)
			require.Len(t, out, 1)
			require.InEpsilon(t, p.Area()-p.Length()*d+sum*d*d, out[0].Area(), 1e-10)
		}
	})
}

func TestSmoothConvexOutlineComesBackFromOffset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		smooth := mustOffset(t, drawConvex(t), rapid.Float64Range(1, 20).Draw(t, "round"), Corner{})[0]
		d := rapid.Float64Range(0.1, 50).Draw(t, "d")
		back := mustOffset(t, mustOffset(t, smooth, d, Corner{})[0], -d, Corner{})
		require.Len(t, back, 1)
		require.Len(t, back[0].V, len(smooth.V))
		for i, v := range back[0].V {
			require.InDelta(t, 0, v.Dist(smooth.V[i].Point), 1e-6)
			require.InDelta(t, smooth.V[i].Bulge, v.Bulge, 1e-6)
		}
	})
}

func TestOffsetOfShapedOutlineIsAtTheDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		p := randomOutline(rng)
		if !p.Simple() {
			continue
		}
		d := rng.Float64()*30 - 15
		out := mustOffset(t, p, d, Corner{})
		requireBeside(t, p, d, out, true)
		requireBeside(t, p, d, mustOffset(t, p, d, Corner{Kind: Mitred}), false)
		for _, q := range out {
			require.True(t, q.Simple(), "%#v by %g: %v", p, d, q.SelfIntersections())
		}

		m := Rotation(Point{3, 5}, rng.Float64()*6).Then(Translation(Vec{700, -300}))
		moved := mustOffset(t, p.Transform(m), d, Corner{})
		require.Len(t, moved, len(out))
		require.InDelta(t, totalArea(out), totalArea(moved), 1e-9*math.Abs(p.Area()))

		mirrored := mustOffset(t, p.Transform(Reflection(Point{3, 5}, Vec{1, 2})), -d, Corner{})
		require.Len(t, mirrored, len(out))
		require.InDelta(t, totalArea(out), -totalArea(mirrored), 1e-9*math.Abs(p.Area()))

		reversed := mustOffset(t, p.Reverse(), -d, Corner{})
		require.Len(t, reversed, len(out))
		require.InDelta(t, totalArea(out), -totalArea(reversed), 1e-9*math.Abs(p.Area()))
	}
}

func TestOffsetHemIsPartOfOffsetOutline(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	tried := 0
	for range 400 {
		p := randomOutline(rng)
		if !p.Simple() {
			continue
		}
		// The outline opened at its top: everything but the last segment.
		open := Path{V: slices.Clone(p.V)}
		open.V[len(open.V)-1].Bulge = 0
		d := rng.Float64()*30 - 15
		chains, outlines := mustOffset(t, open, d, Corner{}), mustOffset(t, p, d, Corner{})
		requireBeside(t, open, d, chains, true)
		if d > 0 && len(chains) == 1 {
			// Outside, the offset chain is the offset outline but for the top.
			tried++
			q := chains[0]
			first, last := open.Segment(0), open.Segment(open.Segments()-1)
			startsFree := q.Start().Dist(first.A.Add(first.StartTangent().Right().Mul(d))) < 1e-6
			endsFree := q.End().Dist(last.B.Add(last.EndTangent().Right().Mul(d))) < 1e-6
			if startsFree && endsFree {
				whole := 0.
				for _, o := range outlines {
					if o.Area() > 0 {
						whole += o.Length()
					}
				}
				require.Less(t, q.Length(), whole)
			}
			for i := range q.Segments() {
				mid := q.Segment(i).At(0.5)
				if distance(mid, p) < d-1e-6 {
					continue // too near to the top, which the chain does not know
				}
				dist := math.Inf(1)
				for _, o := range outlines {
					dist = min(dist, distance(mid, o))
				}
				require.LessOrEqual(t, dist, 1e-6)
			}
		}
	}
	require.Greater(t, tried, 50)
}

func TestOffsetHemRunsFromStartToEnd(t *testing.T) {
	hem := Path{}
	for i := range 5 {
		hem.V = append(hem.V, Vertex{Point{60 * float64(i), 0}, 0.8})
	}
	hem.V[4].Bulge = 0
	for _, corner := range []Corner{{}, {Kind: Mitred}, {Kind: Squared}} {
		for _, d := range []float64{6, 25, -6, -15, -40} {
			out := mustOffset(t, hem, d, corner)
			require.Len(t, out, 1, "%g", d)
			require.False(t, out[0].Closed)
			require.Less(t, out[0].Start().X, out[0].End().X)
			require.True(t, out[0].Simple())
			requireBeside(t, hem, d, out, corner.Kind == Rounded)
			first := hem.Segment(0)
			if d > -30 {
				require.InDelta(t, 0, out[0].Start().Dist(first.A.Add(first.StartTangent().Right().Mul(d))), 1e-9)
			}
		}
	}
}

func TestOffsetOfDegeneratePaths(t *testing.T) {
	p := func(x, y float64) Point { return Point{x, y} }
	one, nine := Path{V: []Vertex{{p(3, 3), 0}}}, Path{V: make([]Vertex, 9), Closed: true}
	for _, c := range []struct {
		name string
		p    Path
		d    float64
		want int
	}{
		{"empty", Path{}, 5, 0},
		{"empty closed", Path{Closed: true}, 5, 0},
		{"one vertex", one, 5, 0},
		{"one point many times", nine, 5, 0},
		{"no distance", panel(3), 0, 1},
		{"line there and back", Closed(p(0, 0), p(10, 0)), 2, 1},
		{"line there and back the other way", Closed(p(0, 0), p(10, 0)), -2, 1},
		{"open line there and back", Open(p(0, 0), p(10, 0), p(0, 0)), 2, 1},
		{"repeated vertices", Closed(p(0, 0), p(0, 0), p(10, 0), p(10, 0), p(10, 10), p(0, 10), p(0, 0)), 2, 1},
		{"spike out", Closed(p(0, 0), p(5, 0), p(5, -20), p(5, 0), p(10, 0), p(10, 10), p(0, 10)), 2, 1},
		{"spike in", Closed(p(0, 0), p(50, 0), p(50, 20), p(50, 0), p(100, 0), p(100, 100), p(0, 100)), 2, 1},
		{"spike in, inwards", Closed(p(0, 0), p(50, 0), p(50, 20), p(50, 0), p(100, 0), p(100, 100), p(0, 100)), -2, 1},
		{"arc of the offset's radius", FromSegments(Line(p(0, 0), p(10, 0)), Arc(p(10, -2), 2, math.Pi/2, -math.Pi/2), Line(p(12, -2), p(12, -9))), 2, 1},
		{"closed at a distance that meets itself", Open(p(0, 0), p(100, 0), p(100, 100), p(0, 100), p(0, 1)), -2, 1},
		{"two circles in one", Path{Closed: true, V: []Vertex{{p(0, 0), 1}, {p(10, 0), 1}, {p(0, 0), 1}, {p(10, 0), 1}}}, 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, corner := range []Corner{{}, {Kind: Mitred}, {Kind: Squared}} {
				out := mustOffset(t, c.p, c.d, corner)
				require.Len(t, out, c.want, "%v: %v", corner, out)
				requireBeside(t, c.p, c.d, out, false)
			}
		})
	}
}

func TestOffsetSaysWhatIsWrong(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	square := Closed(Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0, 10})
	bad := func(v Vertex) Path { return Path{V: append(slices.Clone(square.V), v), Closed: true} }
	for _, c := range []struct {
		p      Path
		d      float64
		corner Corner
		want   string
	}{
		{square, nan, Corner{}, "offset distance NaN mm is not a usable length: give one within 1000 km"},
		{square, -inf, Corner{}, "offset distance -Inf mm is not a usable length: give one within 1000 km"},
		{square, 2, Corner{Mitred, 0.5}, "mitre limit 0.5 is too small: give at least 1"},
		{square, 2, Corner{Mitred, nan}, "mitre limit NaN is too small: give at least 1"},
		{square, 2, Corner{Kind: 7}, "corner kind 7 is unknown: give Rounded, Mitred or Squared"},
		{bad(Vertex{Point{nan, 0}, 0}), 2, Corner{}, "vertex 4 (NaN, 0, bulge 0) cannot be offset: give numbers within 1000 km"},
		{bad(Vertex{Point{0, 5}, inf}), 2, Corner{}, "vertex 4 (0, 5, bulge +Inf) cannot be offset: give numbers within 1000 km"},
		{bad(Vertex{Point{0, 5}, 1e200}), 2, Corner{}, "arc 4 (bulge 1e+200) cannot be offset: it reaches beyond 1000 km"},
	} {
		_, err := c.p.Offset(c.d, c.corner)
		require.EqualError(t, err, c.want)
	}
}

func BenchmarkOffset(b *testing.B) {
	run := func(name string, p Path, d float64, corner Corner) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := p.Offset(d, corner); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	for _, n := range []int{12, 60, 600, 6000} {
		run(fmt.Sprintf("inward-%d", n), panel(n), -6, Corner{})
		run(fmt.Sprintf("outward-%d", n), panel(n), 6, Corner{})
	}
	points, waves := panel(0), panel(0)
	for i := 59; i >= 0; i-- {
		x := 60 * float64(i)
		points.V = slices.Insert(points.V, 0, Vertex{Point: Point{x, 0}}, Vertex{Point: Point{x + 30, -24}})
		waves.V = slices.Insert(waves.V, 0, Vertex{Point{x, 0}, 0.4}, Vertex{Point{x + 30, 0}, -0.4})
	}
	for i := range 2 {
		points.V[len(points.V)-3+i].X = 3600
		waves.V[len(waves.V)-3+i].X = 3600
	}
	run("points-mitred-60", points, 6, Corner{Kind: Mitred})
	run("points-inward-60", points, -6, Corner{})
	run("waves-outward-60", waves, 6, Corner{})
	run("waves-inward-60", waves, -6, Corner{})
	hem := Path{V: slices.Clone(panel(60).V[:61])}
	run("hem-outward-60", hem, 6, Corner{})
	run("hem-inward-60", hem, -6, Corner{})
	// Nothing is left; every scallop's arc is gone, and what remains crosses.
	run("vanishing-60", panel(60), -250, Corner{})
	run("narrow-valleys-60", panel(60), 60, Corner{})
}

// A hem of two scallops, each one arc 60 wide and 24 deep, with an allowance of
// 6 below it: the arcs stay arcs and meet above the valley.
func ExamplePath_Offset() {
	hem := Path{V: []Vertex{{Point{0, 0}, 0.8}, {Point{60, 0}, 0.8}, {Point{120, 0}, 0}}}
	cut, err := hem.Offset(6, Corner{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range cut[0].V {
		fmt.Printf("(%.2f, %.2f) bulge %.3f\n", v.X, v.Y, v.Bulge)
	}
	// Output:
	// (-5.85, -1.32) bulge 0.650
	// (60.00, -14.48) bulge 0.650
	// (125.85, -1.32) bulge 0.000
}
