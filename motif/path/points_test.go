package path

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// rounded returns the points as a file with the given step writes them.
func rounded(points []Point, step float64) []Point {
	r := make([]Point, len(points))
	for i, p := range points {
		r[i] = Point{math.Round(p.X/step) * step, math.Round(p.Y/step) * step}
	}
	return r
}

func sampled(c Curve, t0, t1 float64, n int) []Point {
	points := make([]Point, n+1)
	for i := range points {
		points[i] = c.At(t0 + (t1-t0)*float64(i)/float64(n))
	}
	return points
}

// oval is an ellipse around the origin, a circle when the half axes are equal.
type oval struct{ a, b float64 }

func (o oval) At(t float64) Point    { return Point{o.a * math.Cos(t), o.b * math.Sin(t)} }
func (o oval) Tangent(t float64) Vec { return Vec{-o.a * math.Sin(t), o.b * math.Cos(t)} }

// fitPoints fits with the usual arguments and checks what holds for every path:
// all points near, ends kept, no arc that goes the long way round.
func fitPoints(t require.TestingT, p Path) Path {
	q, err := FitPoints(p, PointCorner, PointTolerance)
	require.NoError(t, err)
	require.Equal(t, p.Closed, q.Closed)
	for _, v := range p.V {
		require.LessOrEqual(t, distanceFrom(q, v.Point), PointTolerance+1e-9)
	}
	if len(p.V) > 0 && !p.Closed {
		require.Equal(t, p.Start(), q.Start())
		require.Equal(t, p.End(), q.End())
	}
	return q
}

// kinkAllRound is kink with that at the start of a closed path.
func kinkAllRound(p Path) float64 {
	return max(kink(p), math.Abs(p.EndTangent().AngleTo(p.StartTangent())))
}

// The steps of 0.01 mm and 0.0001 inch that files are written in, and none.
var fileSteps = []float64{1e-9, 0.01, 0.00254}

func TestPointsOnCircleGiveTheCircle(t *testing.T) {
	for _, r := range []float64{5, 30, 400} {
		for _, n := range []int{32, 100, 1000} {
			if r*(1-math.Cos(math.Pi/float64(n))) > facetRise/2 {
				continue
			}
			for _, step := range fileSteps {
				points := rounded(sampled(oval{r, r}, 0, 2*math.Pi, n), step)
				q := fitPoints(t, Closed(points[:n]...))
				require.Len(t, q.V, 2, "r %g n %d step %g", r, n, step)
				require.InDelta(t, r, q.Segment(0).Radius(), step)
				require.InDelta(t, math.Pi*r*r, q.Area(), 2*math.Pi*r*step+1e-6)
				require.Less(t, Point{}.Dist(q.Segment(0).Centre()), step)
			}
		}
	}
}

func TestPointsOnArcGiveOneArc(t *testing.T) {
	for _, sweep := range []float64{0.3, 1, 2, 4.7} {
		for _, n := range []int{30, 100, 1000} {
			for _, step := range fileSteps {
				points := rounded(sampled(oval{30, 30}, 0.3, 0.3+sweep, n), step)
				q := fitPoints(t, Open(points...))
				require.Len(t, q.V, 2, "sweep %g n %d step %g", sweep, n, step)
				// Rounding of the ends moves the rise of the arc by up to the step.
				rise := 1 - math.Cos(min(sweep, math.Pi)/2)
				require.InDelta(t, 30, q.Segment(0).Radius(), 1.5*step/rise+1e-6)
			}
		}
	}
}

func TestFittedPointsKeepToTheCurve(t *testing.T) {
	for _, c := range []struct {
		name   string
		curve  Curve
		t1     float64
		closed bool
		arcs   int
	}{
		{"hem", hemS, 1, false, 15},
		{"armhole", armhole, 1, false, 12},
		{"oval", oval{80, 50}, 2 * math.Pi, true, 28},
	} {
		for _, n := range []int{40, 100, 1000} {
			for _, step := range fileSteps {
				t.Run(fmt.Sprintf("%s %d %g", c.name, n, step), func(t *testing.T) {
					points := sampled(c.curve, 0, c.t1, n)
					facets := Open(points...)
					fine := Open(sampled(c.curve, 0, c.t1, 20000)...)
					rise := fromPath(facets, c.curve, 0, c.t1, 500)
					p := Open(rounded(points, step)...)
					if c.closed {
						p = Closed(places(p)[:n]...)
						fine.Closed, facets.Closed = true, true
					}
					q := fitPoints(t, p)
					require.LessOrEqual(t, q.Segments(), c.arcs)
					require.Less(t, kink(q), 1e-9)
					if c.closed {
						require.Less(t, kinkAllRound(q), 1e-9)
					}
					bound := PointTolerance + rise/4
					require.Less(t, fromPath(q, c.curve, 0, c.t1, 1000), bound)
					require.Less(t, fromCurve(q, c.curve, 0, c.t1, 10, 1000), bound)
					require.InEpsilon(t, fine.Length(), q.Length(), 3e-4)
					require.InDelta(t, fine.Area(), q.Area(), 0.005*fine.Length())
				})
			}
		}
	}
}

// places returns the points of the vertices.
func places(p Path) []Point {
	points := make([]Point, len(p.V))
	for i, v := range p.V {
		points[i] = v.Point
	}
	return points
}

func TestCurvatureOfFittedHemRisesAndFallsOnce(t *testing.T) {
	for _, step := range fileSteps {
		for _, n := range []int{100, 300, 1000} {
			q := fitPoints(t, Open(rounded(sampled(hemS, 0, 1, n), step)...))
			turns, last, rising := 0, q.Segment(0).Curvature(), 0
			for i := 1; i < q.Segments(); i++ {
				k := q.Segment(i).Curvature()
				if d := k - last; math.Abs(d) > 1.5e-3 {
					if sign := int(math.Copysign(1, d)); sign != rising {
						turns, rising = turns+1, sign
					}
				}
				last = k
			}
			require.LessOrEqual(t, turns, 3, "step %g n %d", step, n)
		}
	}
}

func TestCurvatureOfFittedClothoidOnlyRises(t *testing.T) {
	// Its curvature rises from 0 to 1/40 over 200 mm; the sum of small steps is
	// exact to far less than the rounding.
	at, fine := Point{}, []Point{{}}
	for i := range 20000 {
		s := (float64(i) + 0.5) * 0.01
		at = at.Add(Direction(s * s / (2 * 200 * 40)).Mul(0.01))
		fine = append(fine, at)
	}
	for _, step := range fileSteps {
		for _, every := range []int{20, 200, 500} {
			var points []Point
			for i := 0; i < len(fine); i += every {
				points = append(points, fine[i])
			}
			q := fitPoints(t, Open(rounded(points, step)...))
			require.LessOrEqual(t, q.Segments(), 16)
			require.Less(t, kink(q), 1e-9)
			for i := 1; i < q.Segments(); i++ {
				require.Greater(t, q.Segment(i).Curvature(), q.Segment(i-1).Curvature()-3e-4, "step %g every %d", step, every)
			}
		}
	}
}

func TestPolygonsAndZigzagsStayAsTheyAre(t *testing.T) {
	for name, p := range map[string]Path{
		"empty":     {},
		"line":      Open(Point{1, 2}, Point{3, 4}),
		"rectangle": Closed(Point{0, 0}, Point{300, 0}, Point{300, 200}, Point{0, 200}),
		"hexagon":   Closed(sampled(oval{5, 5}, 0, 2*math.Pi, 6)[:6]...),
		"octagon":   Closed(sampled(oval{5, 5}, 0, 2*math.Pi, 8)[:8]...),
		"16 sides":  Closed(sampled(oval{200, 200}, 0, 2*math.Pi, 16)[:16]...),
		"drafted":   Closed(Point{0, 0}, Point{200, 8}, Point{390, 0}, Point{405, 190}, Point{380, 400}, Point{200, 408}, Point{10, 400}, Point{-4, 190}),
		"chamfered": Closed(Point{3, 0}, Point{97, 0}, Point{100, 3}, Point{100, 50}, Point{0, 50}, Point{0, 3}),
	} {
		q := fitPoints(t, p)
		require.Equal(t, p, q, name)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for _, amplitude := range []float64{0.05, 0.2, 1, 5} {
		var points []Point
		for i, x := 0, 0.0; i < 200; i, x = i+1, x+2+rng.Float64() {
			points = append(points, Point{x, amplitude * float64(i%2)})
		}
		p := Open(points...)
		require.Equal(t, p, fitPoints(t, p), "amplitude %g", amplitude)
	}
}

func TestFilletsAreTangentToTheirLines(t *testing.T) {
	// A rounded rectangle; 5 mm in 8 facets a quarter as the coarsest.
	for _, step := range fileSteps {
		for _, n := range []int{8, 20, 200} {
			r := 5.0
			var points []Point
			for k, c := range []Point{{295, 195}, {5, 195}, {5, 5}, {295, 5}} {
				for i := range n + 1 {
					points = append(points, c.Add(Direction(math.Pi/2*(float64(k)+float64(i)/float64(n))).Mul(r)))
				}
			}
			p := Closed(rounded(points, step)...)
			q := fitPoints(t, p)
			require.Len(t, q.V, 8, "step %g n %d", step, n)
			require.Less(t, kinkAllRound(q), 1e-9)
			for i := range q.Segments() {
				s := q.Segment(i)
				if s.IsLine() {
					along := s.Chord().Unit()
					require.InDelta(t, 0, along.X*along.Y, 1e-4)
				} else {
					require.InDelta(t, r, s.Radius(), 4*step+0.01)
				}
			}
			require.InDelta(t, 300*200-(4-math.Pi)*r*r, q.Area(), 0.02*1000)
		}
	}
}

func TestCurvesThatMeetAtTwelveDegreesKeepTheirCorner(t *testing.T) {
	turn := 12 * math.Pi / 180
	for _, step := range fileSteps {
		for _, facet := range []float64{0.2, 1, 3} { // degrees
			n := int(40 / facet)
			a := Arc(Point{0, 0}, 60, 0, 40*math.Pi/180)
			b := ArcFrom(a.B, a.EndTangent().Rotate(turn), a.B.Add(a.EndTangent().Rotate(turn+0.3).Mul(40)))
			var points []Point
			for i := range n {
				points = append(points, a.At(float64(i)/float64(n)))
			}
			for i := range n + 1 {
				points = append(points, b.At(float64(i)/float64(n)))
			}
			points = rounded(points, step)
			q := fitPoints(t, Open(points...))
			require.Len(t, q.V, 3, "step %g facet %g", step, facet)
			require.Equal(t, points[n], q.V[1].Point)
			require.InDelta(t, turn, kink(q), 0.02)
		}
	}
}

func TestArcsGivenStay(t *testing.T) {
	given := Arc(Point{0, 0}, 20, 0, 1)
	next := Arc(Point{0, 0}, 20, 1, 0) // its start
	end := next.A.Add(Direction(1 + math.Pi/2).Mul(50))
	bend := ArcFrom(end, Direction(1+math.Pi/2), end.Add(Direction(3.2).Mul(30)))
	p := Path{V: []Vertex{{given.A, given.Bulge}, {given.B, 0}}}
	for i := range 31 {
		p.V = append(p.V, Vertex{Point: bend.At(float64(i) / 30)})
	}
	q := fitPoints(t, p)
	require.Equal(t, p.V[0], q.V[0])
	require.Len(t, q.V, 4)
	require.InDelta(t, bend.Radius(), q.Segment(2).Radius(), 0.01)
	require.Less(t, kink(q), 1e-9)
}

func TestUnevenAndDoubledPointsGiveTheSameCurve(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 20 {
		var points []Point
		for at := 0.0; at < 1; at += 0.001 + 0.02*rng.Float64()*rng.Float64() {
			p := hemS.At(at)
			points = append(points, p)
			if rng.IntN(5) == 0 {
				points = append(points, p)
			}
			if rng.IntN(5) == 0 {
				points = append(points, p.Add(Vec{0.003, 0.001}))
			}
		}
		points = append(points, hemS.At(1))
		q := fitPoints(t, Open(rounded(points, 0.01)...))
		require.LessOrEqual(t, q.Segments(), 18)
		require.Less(t, kink(q), 1e-9)
		require.Less(t, fromPath(q, hemS, 0, 1, 1000), PointTolerance+0.01)
	}
}

// genSmooth draws chains of 1 to 6 lines and arcs as patterns have them, some
// tangent, some with corners of 20 degrees and more.
func genSmooth() *rapid.Generator[Path] {
	return rapid.Custom(func(t *rapid.T) Path {
		at, way := genPoint(300).Draw(t, "start"), rapid.Float64Range(-3, 3).Draw(t, "way")
		var s []Segment
		for i := range rapid.IntRange(1, 6).Draw(t, "segments") {
			if i > 0 && rapid.Bool().Draw(t, "corner") {
				turn := rapid.Float64Range(0.35, 2).Draw(t, "turn")
				if rapid.Bool().Draw(t, "right") {
					turn = -turn
				}
				way += turn
			}
			length := rapid.Float64Range(15, 150).Draw(t, "length")
			if rapid.IntRange(0, 3).Draw(t, "kind") == 0 {
				s = append(s, Line(at, at.Add(Direction(way).Mul(length))))
			} else {
				r := rapid.Float64Range(8, 300).Draw(t, "radius")
				sweep := min(length/r, 4)
				a := Arc(Point{}, r, way-math.Pi/2, sweep)
				if rapid.Bool().Draw(t, "right") {
					a = Arc(Point{}, r, way+math.Pi/2, -sweep)
				}
				shift := at.Sub(a.A)
				a.A, a.B = at, a.B.Add(shift)
				s = append(s, a)
				way += a.Sweep()
			}
			at = s[len(s)-1].B
		}
		return FromSegments(s...)
	})
}

// The chords leave the path by up to 0.015 mm, and the result its points by the
// tolerance.
func TestFlattenedPathComesBack(t *testing.T) {
	const bound = PointTolerance + 0.015
	rapid.Check(t, func(t *rapid.T) {
		p := genSmooth().Draw(t, "path")
		step := rapid.SampledFrom(fileSteps).Draw(t, "step")
		flat := Open(rounded(p.Flatten(0.015), step)...)
		q := fitPoints(t, flat)
		for i := range p.Segments() {
			for k := range 41 {
				require.LessOrEqual(t, distanceFrom(q, p.Segment(i).At(float64(k)/40)), bound+step)
			}
		}
		for i := range q.Segments() {
			for k := range 21 {
				require.LessOrEqual(t, distanceFrom(p, q.Segment(i).At(float64(k)/20)), bound+step)
			}
		}
		require.LessOrEqual(t, q.Segments(), 4*p.Segments()+4)
	})
}

func TestOffsetOfFittedPointsIsNearTheTrueOne(t *testing.T) {
	// A skirt panel: hem and waist curves, corners, a hip curve with an arc that
	// goes over into a line.
	hip := ArcFrom(Point{300, 300}, Vec{-0.05, 1}.Unit(), Point{270, 480})
	p := Path{Closed: true, V: []Vertex{
		{Point{0, 0}, 0.06}, {Point{310, 10}, 0}, {hip.A, hip.Bulge}, {hip.B, -0.03}, {Point{0, 500}, 0},
	}}
	for _, step := range fileSteps {
		q := fitPoints(t, Closed(rounded(p.Flatten(0.015), step)...))
		for _, d := range []float64{10, -10} {
			a, err := p.Offset(d, Corner{Kind: Mitred})
			require.NoError(t, err)
			b, err := q.Offset(d, Corner{Kind: Mitred})
			require.NoError(t, err)
			require.Len(t, b, len(a))
			require.LessOrEqual(t, len(b[0].V), len(a[0].V)+4)
			for i := range a[0].Segments() {
				for k := range 50 {
					require.Less(t, distanceFrom(b[0], a[0].Segment(i).At(float64(k)/50)), 0.05)
				}
			}
			for i := range b[0].Segments() {
				for k := range 50 {
					require.Less(t, distanceFrom(a[0], b[0].Segment(i).At(float64(k)/50)), 0.05)
				}
			}
		}
	}
}

// sameWay requires that two paths keep within the distance of each other.
func sameWay(t require.TestingT, p, q Path, distance float64) {
	for _, c := range [][2]Path{{p, q}, {q, p}} {
		for i := range c[0].Segments() {
			for k := range 11 {
				require.LessOrEqual(t, distanceFrom(c[1], c[0].Segment(i).At(float64(k)/10)), distance)
			}
		}
	}
}

func TestFitOfReversedPointsIsTheReversedFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flat := Open(rounded(genSmooth().Draw(t, "path").Flatten(0.015), 0.01)...)
		sameWay(t, fitPoints(t, flat), fitPoints(t, flat.Reverse()).Reverse(), 2*PointTolerance+0.03)
	})
}

func TestFitOfMovedPointsIsTheMovedFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flat := Open(rounded(genSmooth().Draw(t, "path").Flatten(0.015), 0.01)...)
		m := Frame(genPoint(1000).Draw(t, "to"), Direction(rapid.Float64Range(-3, 3).Draw(t, "turn")))
		if rapid.Bool().Draw(t, "mirrored") {
			m = m.Then(Reflection(Point{}, Vec{1, 0}))
		}
		sameWay(t, fitPoints(t, flat).Transform(m), fitPoints(t, flat.Transform(m)), 2*PointTolerance+0.03)
	})
}

func TestCornersOfFittedPointsStay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genSmooth().Draw(t, "path")
		flat := Open(rounded(p.Flatten(0.015), 0.01)...)
		q := fitPoints(t, flat)
		for i := 1; i < p.Segments(); i++ {
			if math.Abs(p.Segment(i-1).EndTangent().AngleTo(p.Segment(i).StartTangent())) < 0.3 {
				continue
			}
			c := rounded([]Point{p.V[i].Point}, 0.01)[0]
			kept := false
			for _, v := range q.V {
				kept = kept || v.Point == c
			}
			require.True(t, kept, "corner %v", c)
		}
	})
}

func TestAnyPointsAreFittedOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// On a coarse grid, so that points coincide, align and turn back.
		n := rapid.IntRange(0, 40).Draw(t, "n")
		scale := rapid.SampledFrom([]float64{1e-6, 0.003, 0.01, 0.1, 1, 1e6}).Draw(t, "scale")
		p := Path{Closed: rapid.Bool().Draw(t, "closed")}
		for range n {
			v := Vertex{Point: Point{scale * float64(rapid.IntRange(-20, 20).Draw(t, "x")), scale * float64(rapid.IntRange(-3, 3).Draw(t, "y"))}}
			if rapid.IntRange(0, 9).Draw(t, "arc") == 0 {
				v.Bulge = genBulge().Draw(t, "bulge")
			}
			p.V = append(p.V, v)
		}
		q, err := FitPoints(p, PointCorner, PointTolerance)
		require.NoError(t, err)
		require.True(t, q.Finite())
		if p.Segments() == 0 {
			require.Equal(t, p, q)
			return
		}
		for i, v := range p.V {
			if i == len(p.V)-1 && !p.Closed && i > 0 && p.V[i-1].Dist(v.Point) <= Coincident {
				continue
			}
			require.LessOrEqual(t, distanceFrom(q, v.Point), PointTolerance+1e-6)
		}
	})
}

func TestFitPointsTellsWhatIsWrong(t *testing.T) {
	good := Open(Point{0, 0}, Point{1, 0}, Point{2, 1})
	bad := func(x float64) Path { return Open(Point{0, 0}, Point{x, 0}, Point{2, 1}) }
	for _, c := range []struct {
		p                 Path
		corner, tolerance float64
		message           string
	}{
		{good, 0.1, 0, "fit points: tolerance 0 mm is no distance above 0; give one, such as 0.02"},
		{good, 0.1, math.NaN(), "fit points: tolerance NaN mm is no distance above 0; give one, such as 0.02"},
		{good, 0, 0.02, "fit points: least corner of 0 rad is not between 0 and pi; give one, such as 0.17453292519943295"},
		{good, math.NaN(), 0.02, "fit points: least corner of NaN rad is not between 0 and pi; give one, such as 0.17453292519943295"},
		{bad(math.NaN()), 0.1, 0.02, "fit points: vertex 2 at (NaN, 0) with bulge 0 is not within 1e+09 mm of the origin; correct it"},
		{bad(math.Inf(1)), 0.1, 0.02, "fit points: vertex 2 at (+Inf, 0) with bulge 0 is not within 1e+09 mm of the origin; correct it"},
		{bad(1e300), 0.1, 0.02, "fit points: vertex 2 at (1e+300, 0) with bulge 0 is not within 1e+09 mm of the origin; correct it"},
	} {
		_, err := FitPoints(c.p, c.corner, c.tolerance)
		require.EqualError(t, err, c.message)
	}
}

func BenchmarkFitPoints(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 6))
	noisy := make([]Point, 100000)
	for i := range noisy {
		noisy[i] = Point{rng.Float64() * 1000, rng.Float64() * 1000}
	}
	wave := make([]Point, 100000)
	for i := range wave {
		x := float64(i) * 0.05
		wave[i] = Point{x, 20 * math.Sin(x/40)}
	}
	for _, c := range []struct {
		name   string
		points []Point
	}{
		{"hem100", rounded(sampled(hemS, 0, 1, 100), 0.01)},
		{"hem1000", rounded(sampled(hemS, 0, 1, 1000), 0.01)},
		{"wave100000", rounded(wave, 0.01)},
		{"oval100000", rounded(sampled(oval{800, 500}, 0, 6, 100000), 0.01)},
		{"random100000", noisy},
	} {
		b.Run(c.name, func(b *testing.B) {
			p := Open(c.points...)
			for b.Loop() {
				if _, err := FitPoints(p, PointCorner, PointTolerance); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
