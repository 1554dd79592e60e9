package path

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawSegmentThrough draws a segment that passes through the point at a ratio
// strictly between its ends, in the direction given, and returns the ratio.
func drawSegmentThrough(t *rapid.T, p Point, along Vec, label string) (Segment, float64) {
	ratio := rapid.Float64Range(0.05, 0.95).Draw(t, label+" ratio")
	length := math.Pow(10, rapid.Float64Range(-1, 3.5).Draw(t, label+" length"))
	var sweep float64
	switch rapid.IntRange(0, 2).Draw(t, label+" kind") {
	case 1: // any arc
		sweep = rapid.Float64Range(-6.2, 6.2).Draw(t, label+" sweep")
	case 2: // a flat arc, down to radii far beyond anything drawn
		sweep = math.Pow(10, rapid.Float64Range(-11, -1).Draw(t, label+" flatness"))
	}
	if math.Abs(sweep) < 4e-10 {
		a := p.Add(along.Mul(-ratio * length))
		return Line(a, a.Add(along.Mul(length))), ratio
	}
	return Segment{
		A:     p.Add(arcChord(along.Neg(), -sweep*ratio, length*ratio)),
		B:     p.Add(arcChord(along, sweep*(1-ratio), length*(1-ratio))),
		Bulge: math.Tan(sweep / 4),
	}, ratio
}

// arcChord returns the chord of the arc that leaves in the direction and turns
// by sweep over the length.
func arcChord(along Vec, sweep, length float64) Vec {
	if math.Abs(sweep) > 1e-8 {
		length *= math.Sin(sweep/2) / (sweep / 2)
	}
	return along.Rotate(sweep / 2).Mul(length)
}

func hitNear(h Hits, p Point) (Hit, float64) {
	best, dist := Hit{}, math.Inf(1)
	for _, x := range h.At[:h.N] {
		if d := x.Dist(p); d < dist {
			best, dist = x, d
		}
	}
	return best, dist
}

func TestSegmentsCrossWherePlanted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Point{rapid.Float64Range(-2000, 2000).Draw(t, "x"), rapid.Float64Range(-2000, 2000).Draw(t, "y")}
		u := Direction(rapid.Float64Range(-3, 3).Draw(t, "direction"))
		angle := rapid.Float64Range(0.02, math.Pi-0.02).Draw(t, "angle")
		s, st := drawSegmentThrough(t, p, u, "s")
		q, qt := drawSegmentThrough(t, p, u.Rotate(angle), "t")
		h := s.Intersect(q)
		hit, dist := hitNear(h, p)
		// The planted arcs are themselves placed with rounding errors, which a
		// shallow crossing enlarges.
		tol := 1e-8 / math.Sin(angle)
		require.LessOrEqual(t, dist, tol, "hits %v", h)
		require.Zero(t, h.Overlaps)
		if tol < 1e-3*min(s.Length(), q.Length()) {
			require.InDelta(t, st, hit.T, 1e-9+2*tol/s.Length())
			require.InDelta(t, qt, hit.U, 1e-9+2*tol/q.Length())
		}
		for _, x := range h.At[:h.N] {
			require.LessOrEqual(t, x.Dist(s.At(x.T)), 1e-6)
			require.LessOrEqual(t, x.Dist(q.At(x.U)), 1e-6)
		}

		w := q.Intersect(s)
		require.Equal(t, h.N, w.N, "swapped: %v and %v", h, w)
		back, dist := hitNear(w, p)
		require.LessOrEqual(t, dist, tol)
		require.InDelta(t, hit.T, back.U, 1e-9+2*tol/s.Length())
	})
}

// TestHitsMatchChordCount holds the number of hits against that of crossing
// chords of the same segments, wherever that is clear.
func TestHitsMatchChordCount(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	random := func() Segment {
		p := func() Point { return Point{rng.Float64() * 100, rng.Float64() * 100} }
		s := Segment{A: p(), B: p()}
		if rng.IntN(3) > 0 {
			s.Bulge = math.Tan(rng.Float64()*3.1/2) * float64(1-2*rng.IntN(2))
		}
		return s
	}
	counts := [3]int{}
	for range 3000 {
		s, q := random(), random()
		h := s.Intersect(q)
		clear := s.Radius() < 1e4 || s.IsLine()
		for _, x := range h.At[:h.N] {
			if math.Abs(s.TangentAt(x.T).Cross(q.TangentAt(x.U))) < 0.15 ||
				min(x.T, 1-x.T)*s.Length() < 0.5 || min(x.U, 1-x.U)*q.Length() < 0.5 {
				clear = false
			}
		}
		if !clear {
			continue
		}
		const chords = 400
		var a, b [chords + 1]Point
		for i := range a {
			a[i], b[i] = s.At(float64(i)/chords), q.At(float64(i)/chords)
		}
		crossings, near := 0, false
		for i := range chords {
			for j := range chords {
				d1 := a[i+1].Sub(a[i]).Cross(b[j].Sub(a[i]))
				d2 := a[i+1].Sub(a[i]).Cross(b[j+1].Sub(a[i]))
				d3 := b[j+1].Sub(b[j]).Cross(a[i].Sub(b[j]))
				d4 := b[j+1].Sub(b[j]).Cross(a[i+1].Sub(b[j]))
				if (d1 < 0) != (d2 < 0) && (d3 < 0) != (d4 < 0) {
					crossings++
				}
				near = near || h.N == 0 && a[i].Dist(b[j]) < 1
			}
		}
		if near {
			continue
		}
		require.Equal(t, crossings, h.N, "%+v and %+v: %v", s, q, h)
		counts[h.N]++
	}
	for n, c := range counts {
		require.Greater(t, c, 50, "too few cases with %d hits", n)
	}
}

func TestSpecialMeetingsOfSegments(t *testing.T) {
	arc := func(x, y, r, from, to float64) Segment {
		return Arc(Point{x, y}, r, from*math.Pi/180, (to-from)*math.Pi/180)
	}
	line := func(x0, y0, x1, y1 float64) Segment { return Line(Point{x0, y0}, Point{x1, y1}) }
	type hits [][2]float64 // ratios on the first and second segment
	for _, c := range []struct {
		name     string
		s, t     Segment
		overlaps int
		want     hits
	}{
		{"lines cross", line(0, 0, 10, 0), line(5, -5, 5, 5), 0, hits{{0.5, 0.5}}},
		{"lines end to end", line(0, 0, 10, 0), line(10, 0, 10, 5), 0, hits{{1, 0}}},
		{"lines end to end in line", line(0, 0, 10, 0), line(10, 0, 20, 0), 0, hits{{1, 0}}},
		{"line stops on line", line(0, 0, 10, 0), line(4, 3, 4, 0), 0, hits{{0.4, 1}}},
		{"line stops short of line", line(0, 0, 10, 0), line(4, 3, 4, 2e-7), 0, nil},
		{"parallel lines", line(0, 0, 10, 0), line(0, 1, 10, 1), 0, nil},
		{"lines in line apart", line(0, 0, 10, 0), line(11, 0, 20, 0), 0, nil},
		{"lines overlap", line(0, 0, 10, 0), line(6, 0, 16, 0), 1, hits{{0.6, 0}, {1, 0.4}}},
		{"lines overlap run against each other", line(0, 0, 10, 0), line(16, 0, 6, 0), 1, hits{{0.6, 1}, {1, 0.6}}},
		{"line within line", line(0, 0, 10, 0), line(2, 0, 4, 0), 1, hits{{0.2, 0}, {0.4, 1}}},
		{"same line", line(1, 2, 7, 9), line(1, 2, 7, 9), 1, hits{{0, 0}, {1, 1}}},
		{"same line reversed", line(1, 2, 7, 9), line(7, 9, 1, 2), 1, hits{{0, 1}, {1, 0}}},
		{"lines overlap nearly", line(0, 0, 1000, 0), line(500, 9e-8, 1500, -9e-8), 1, hits{{0.5, 0}, {1, 0.5}}},
		{"lines cross at a hair", line(0, 0, 1000, 0), line(0, -1e-5, 1000, 1e-5), 0, hits{{0.5, 0.5}}},

		{"line through arc", line(-20, 0, 20, 0), arc(0, 0, 10, -45, 225), 0, hits{{0.25, 5. / 6}, {0.75, 1. / 6}}},
		{"line misses arc's missing part", line(0, -20, 0, -5), arc(0, 0, 10, -45, 225), 0, nil},
		{"line tangent to arc", line(-10, 10, 10, 10), arc(0, 0, 10, 0, 180), 0, hits{{0.5, 0.5}}},
		{"line tangent within tolerance outside", line(-10, 10+9e-8, 10, 10+9e-8), arc(0, 0, 10, 0, 180), 0, hits{{0.5, 0.5}}},
		{"line tangent within tolerance inside", line(-10, 10-9e-8, 10, 10-9e-8), arc(0, 0, 10, 0, 180), 0, hits{{0.5, 0.5}}},
		{"line beside arc", line(-10, 10+2e-7, 10, 10+2e-7), arc(0, 0, 10, 0, 180), 0, nil},
		{"line ends tangent at arc's end", line(10, -10, 10, 0), arc(0, 0, 10, 0, 180), 0, hits{{1, 0}}},
		{"line ends tangent within arc", line(10, -10, 10, 0), arc(0, 0, 10, -90, 90), 0, hits{{1, 0.5}}},
		{"line is arc's chord", line(10, 0, -10, 0), arc(0, 0, 10, 0, 180), 0, hits{{0, 0}, {1, 1}}},
		{"line overlaps an arc as good as straight", line(0, 0, 100, 0), Segment{Point{20, 0}, Point{60, 0}, 1e-9}, 1, hits{{0.2, 0}, {0.6, 1}}},

		{"arcs cross once", arc(0, 0, 10, 0, 180), arc(10, 0, 10, 90, 270), 0, hits{{1. / 3, 1. / 6}}},
		{"arcs cross twice", arc(0, 0, 10, -90, 90), arc(10, 0, 10, 90, 270), 0, hits{{1. / 6, 5. / 6}, {5. / 6, 1. / 6}}},
		{"circles touch outside", arc(0, 0, 10, -90, 90), arc(15, 0, 5, 90, 270), 0, hits{{0.5, 0.5}}},
		{"circles touch inside", arc(0, 0, 10, -90, 90), arc(5, 0, 5, -90, 90), 0, hits{{0.5, 0.5}}},
		{"nearly equal circles touch inside", arc(0, 0, 10, -90, 90), arc(0.01, 0, 9.99, -90, 90), 0, hits{{0.5, 0.5}}},
		{"circles touch where one arc is not", arc(0, 0, 10, 90, 270), arc(15, 0, 5, 90, 270), 0, nil},
		{"concentric circles", arc(0, 0, 10, 0, 180), arc(0, 0, 11, 0, 180), 0, nil},
		{"arcs of one circle apart", arc(0, 0, 10, 0, 80), arc(0, 0, 10, 100, 200), 0, nil},
		{"arcs of one circle end to end", arc(0, 0, 10, 0, 80), arc(0, 0, 10, 80, 200), 0, hits{{1, 0}}},
		{"semicircles make a circle", arc(0, 0, 10, 0, 180), arc(0, 0, 10, 180, 360), 0, hits{{0, 1}, {1, 0}}},
		{"arcs overlap", arc(0, 0, 10, 0, 90), arc(0, 0, 10, 45, 180), 1, hits{{0.5, 0}, {1, 1. / 3}}},
		{"arcs overlap run against each other", arc(0, 0, 10, 0, 90), arc(0, 0, 10, 180, 45), 1, hits{{0.5, 1}, {1, 2. / 3}}},
		{"arcs overlap and touch", arc(0, 0, 10, 0, 270), arc(0, 0, 10, 180, 360), 1, hits{{2. / 3, 0}, {1, 0.5}, {0, 1}}},
		{"arcs overlap at both ends", arc(0, 0, 10, 0, 300), arc(0, 0, 10, 200, 460), 2, hits{{0, 160. / 260}, {1. / 3, 1}, {2. / 3, 0}, {1, 100. / 260}}},
		{"same arc", arc(3, 4, 10, 20, 200), arc(3, 4, 10, 20, 200), 1, hits{{0, 0}, {1, 1}}},
		{"arcs share both ends", Segment{Point{0, 0}, Point{10, 0}, 0.5}, Segment{Point{0, 0}, Point{10, 0}, 0.6}, 0, hits{{0, 0}, {1, 1}}},
		{"arc continues its neighbour smoothly", arc(0, 0, 10, 0, 90), arc(0, 5, 5, 90, 180), 0, hits{{1, 0}}},
		{"flat arcs cross", Segment{Point{0, 0}, Point{100, 0}, 1e-8}, Segment{Point{50, -50}, Point{50, 50}, 1e-8}, 0, hits{{0.5, 0.5}}},
		{"no length", line(5, 5, 5, 5), line(0, 0, 10, 10), 0, nil},
		{"not a number", line(0, math.NaN(), 5, 5), line(0, 0, 10, 10), 0, nil},
		{"infinite", line(0, 0, math.Inf(1), 5), line(0, -1, 10, 10), 0, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, turned := range []bool{false, true} {
				s, q := c.s, c.t
				if turned {
					m := Rotation(Point{31, -7}, 0.7).Then(Translation(Vec{120, 50}))
					s.A, s.B, q.A, q.B = m.Apply(s.A), m.Apply(s.B), m.Apply(q.A), m.Apply(q.B)
				}
				h := s.Intersect(q)
				require.Equal(t, c.overlaps, h.Overlaps, "%+v", h)
				require.Equal(t, len(c.want), h.N, "%+v", h)
				for i, w := range c.want {
					// Near a touch the place is known to half the digits.
					require.InDelta(t, w[0], h.At[i].T, 3e-5, "%+v", h)
					require.InDelta(t, w[1], h.At[i].U, 3e-5, "%+v", h)
					for k, r := range []float64{h.At[i].T, h.At[i].U} {
						if w[k] == 0 || w[k] == 1 {
							require.Equal(t, w[k], r, "ends are exact")
						}
					}
				}
				swapped := q.Intersect(s)
				require.Equal(t, h.N, swapped.N)
				require.Equal(t, h.Overlaps, swapped.Overlaps)
			}
		})
	}
}

func TestTouchingCirclesMeetOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := math.Pow(10, rapid.Float64Range(-1, 4).Draw(t, "r"))
		q := math.Pow(10, rapid.Float64Range(-1, 4).Draw(t, "q"))
		if math.Abs(r-q) < 1e-3*max(r, q) {
			q *= 1.01
		}
		touch := Point{rapid.Float64Range(-1e3, 1e3).Draw(t, "x"), 500}
		u := rapid.Float64Range(-3, 3).Draw(t, "direction")
		side := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		c := touch.Add(Direction(u).Mul(-r))
		d := touch.Add(Direction(u).Mul(-q * side))
		facing := u
		if side < 0 {
			facing += math.Pi
		}
		h := Arc(c, r, u-1, 2).Intersect(Arc(d, q, facing-1.2, 2.2))
		require.Equal(t, 1, h.N, "%+v", h)
		require.LessOrEqual(t, h.At[0].Dist(touch), 1e-3*math.Sqrt(max(r, q)))
		require.LessOrEqual(t, math.Abs(h.At[0].Dist(c)-r), 1.1e-7)
		require.LessOrEqual(t, math.Abs(h.At[0].Dist(d)-q), 1.1e-7)
	})
}

func TestPartsOfOneSegmentOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole, _ := drawSegmentThrough(t, Point{10, 20}, Direction(rapid.Float64Range(-3, 3).Draw(t, "u")), "s")
		if whole.Length() < 1 {
			whole.B = whole.A.Add(whole.Chord().Mul(10))
		}
		var cut [4]float64
		for i := range cut {
			cut[i] = (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, fmt.Sprint("cut ", i))) / 4
		}
		s, q := whole.Sub(cut[0], cut[2]), whole.Sub(cut[1], cut[3])
		if rapid.Bool().Draw(t, "reverse") {
			q = q.Reverse()
		}
		h := s.Intersect(q)
		require.Equal(t, 1, h.Overlaps, "%+v", h)
		require.Equal(t, 2, h.N)
		require.InDelta(t, 0, h.At[0].Dist(whole.At(cut[1])), 1e-6)
		require.InDelta(t, 0, h.At[1].Dist(whole.At(cut[2])), 1e-6)
		require.Equal(t, 1.0, h.At[1].T)
	})
}

// star returns the closed pentagram, which crosses itself five times.
func star() Path {
	p := Path{Closed: true}
	for i := range 5 {
		p.V = append(p.V, Vertex{Point: Point{50, 40}.Add(Direction(float64(i) * 4 * math.Pi / 5).Mul(30))})
	}
	return p
}

func TestSelfIntersectionsOfKnownPaths(t *testing.T) {
	open := func(xy ...float64) Path {
		p := Path{}
		for i := 0; i < len(xy); i += 2 {
			p.V = append(p.V, Vertex{Point: Point{xy[i], xy[i+1]}})
		}
		return p
	}
	shut := func(xy ...float64) Path { p := open(xy...); p.Closed = true; return p }
	for _, c := range []struct {
		name string
		p    Path
		want int
	}{
		{"empty", Path{}, 0},
		{"one vertex", open(1, 1), 0},
		{"circle", Circle(Point{3, 4}, 5), 0},
		{"square", shut(0, 0, 10, 0, 10, 10, 0, 10), 0},
		{"triangle", shut(0, 0, 10, 0, 10, 10), 0},
		{"repeated vertices", shut(0, 0, 0, 0, 10, 0, 10, 0, 10, 10, 0, 10, 0, 10, 0, 0), 0},
		{"pentagram", star(), 5},
		{"bow tie", shut(0, 0, 10, 10, 10, 0, 0, 10), 1},
		{"bow tie with a vertex at the crossing", shut(0, 0, 5, 5, 10, 10, 10, 0, 5, 5, 0, 10), 1},
		{"open chain back to its start", open(0, 0, 10, 0, 10, 10, 0, 0), 1},
		{"open loop", open(0, 0, 10, 0, 10, 10, 5, -5), 1},
		{"doubling back", open(0, 0, 10, 0, 4, 0), 2},
		{"doubling back past the start", open(0, 0, 10, 0, -4, 0), 2},
		{"spike touching the far side", shut(0, 0, 10, 0, 10, 10, 6, 10, 5, 0, 4, 10, 0, 10), 1},
		{"tangent arcs in a chain", FromSegments(Arc(Point{0, 0}, 5, math.Pi, math.Pi), Arc(Point{10, 0}, 5, math.Pi, -math.Pi)), 0},
		{"arc cut by its own neighbour", FromSegments(Arc(Point{0, 0}, 5, 0, math.Pi*1.5), Line(Point{0, -5}, Point{20, 30})), 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.p.SelfIntersections()
			require.Len(t, got, c.want, "%+v", got)
			require.Equal(t, c.want == 0, c.p.Simple())
			last := -1.0
			for _, x := range got {
				require.LessOrEqual(t, float64(x.I)+x.T, float64(x.J)+x.U)
				require.GreaterOrEqual(t, float64(x.I)+x.T, last)
				last = float64(x.I) + x.T
				require.InDelta(t, 0, x.Dist(c.p.Segment(x.I).At(x.T)), 1e-9)
				require.InDelta(t, 0, x.Dist(c.p.Segment(x.J).At(x.U)), 1e-9)
			}
		})
	}
}

func TestPathMeetsAnotherAtItsJointOnce(t *testing.T) {
	hem := Open(Point{0, 0}, Point{10, 0}, Point{20, 0}, Point{30, 0})
	zigzag := Open(Point{5, -5}, Point{10, 0}, Point{15, 5}, Point{20, 0}, Point{25, -5}, Point{30, 0})
	got := hem.Intersections(zigzag)
	require.Len(t, got, 3)
	require.Equal(t, Crossing{Point: Point{10, 0}, I: 1, J: 1}, got[0])
	require.Equal(t, Crossing{Point: Point{20, 0}, I: 2, J: 3}, got[1])
	require.Equal(t, Crossing{Point: Point{30, 0}, I: 2, J: 4, T: 1, U: 1}, got[2])
	require.Empty(t, hem.Intersections(Path{}))
	require.Empty(t, Path{}.Intersections(hem))
}

func TestPathsThatRunTogetherGiveBothEnds(t *testing.T) {
	p := Open(Point{0, 0}, Point{10, 0})
	q := Open(Point{2, 5}, Point{2, 0}, Point{6, 0}, Point{6, 5})
	got := p.Intersections(q)
	require.Len(t, got, 2)
	require.Equal(t, Point{2, 0}, got[0].Point)
	require.Equal(t, Point{6, 0}, got[1].Point)
}

// drawChain draws a chain of arcs and lines that wanders over itself.
func randomChain(rng *rand.Rand, n int, size float64) Path {
	p := Path{V: make([]Vertex, n+1)}
	at := Point{}
	for i := range p.V {
		p.V[i].Point = at
		if i < n && rng.IntN(2) == 0 {
			p.V[i].Bulge = rng.Float64()*3 - 1.5
		}
		at = at.Add(Vec{rng.NormFloat64() * size, rng.NormFloat64() * size})
	}
	return p
}

func TestPathCrossingsAreThoseOfAllPairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 60 {
		p, q := randomChain(rng, 1+rng.IntN(60), 20), randomChain(rng, 1+rng.IntN(60), 20)
		want := 0
		for i := range p.Segments() {
			for j := range q.Segments() {
				want += p.Segment(i).Intersect(q.Segment(j)).N
			}
		}
		// Both chains start at the origin and have no other joint in common.
		require.Len(t, p.Intersections(q), want)

		want = 0
		for i := range p.Segments() {
			for j := i + 1; j < p.Segments(); j++ {
				h := p.Segment(i).Intersect(p.Segment(j))
				want += h.N
				if j == i+1 {
					want--
				}
			}
		}
		require.Len(t, p.SelfIntersections(), want)
	}
}

func BenchmarkIntersect(b *testing.B) {
	arc := func(x, bulge float64) Segment { return Segment{Point{x, 0}, Point{x + 60, 0}, bulge} }
	for _, c := range []struct {
		name string
		s, t Segment
	}{
		{"line-line", Line(Point{0, 0}, Point{10, 3}), Line(Point{5, -5}, Point{4, 5})},
		{"line-arc", Line(Point{0, -5}, Point{60, -3}), arc(0, 0.8)},
		{"arc-arc", arc(0, 0.8), arc(20, 0.7)},
		{"apart", arc(0, 0.8), arc(100, 0.7)},
		{"tangent", Line(Point{0, -24}, Point{60, -24}), arc(0, 0.8)},
		{"overlap", arc(0, 0.8), arc(0, 0.8)},
	} {
		b.Run(c.name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				h := c.s.Intersect(c.t)
				n += h.N
			}
			_ = n
		})
	}
}

func BenchmarkSelfIntersections(b *testing.B) {
	for _, n := range []int{60, 6000} {
		p := Path{V: make([]Vertex, n+1)}
		for i := range p.V {
			p.V[i] = Vertex{Point{60 * float64(i), 0}, 0.8}
		}
		b.Run(fmt.Sprintf("hem-%d", n), func(b *testing.B) {
			for b.Loop() {
				if !p.Simple() {
					b.Fatal("hem crosses itself")
				}
			}
		})
	}
}

func TestBoxOfCurveHoldsItsPointsTightly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _ := drawSegmentThrough(t, Point{10, 20}, Direction(rapid.Float64Range(-3, 3).Draw(t, "u")), "s")
		if rapid.Bool().Draw(t, "semicircle") {
			s.Bulge = rapid.SampledFrom([]float64{-1, 1}).Draw(t, "bulge")
		}
		c := newCurve(s)
		box, seen := c.box(), EmptyBox()
		for i := range 1001 {
			p := s.At(float64(i) / 1000)
			require.True(t, box.Contains(p), "%v outside %v", p, box)
			seen = seen.Include(p)
		}
		require.True(t, seen.Grow(1e-5*s.Length()+1e-6).Contains(box.Min))
		require.True(t, seen.Grow(1e-5*s.Length()+1e-6).Contains(box.Max))
	})
}
