package path

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// hemS is an S-shaped hem 196 mm long, armhole a curve 239 mm long.
var (
	hemS    = CubicBezier{Point{0, 0}, Point{70, 50}, Point{115, -45}, Point{185, 10}}
	armhole = CubicBezier{Point{0, 0}, Point{5, 95}, Point{45, 120}, Point{120, 185}}
)

// fromPath returns the largest distance of n places of the curve from the
// path.
func fromPath(p Path, c Curve, t0, t1 float64, n int) float64 {
	worst := 0.0
	for i := range n + 1 {
		q := c.At(t0 + (t1-t0)*float64(i)/float64(n))
		worst = max(worst, distanceFrom(p, q))
	}
	return worst
}

func distanceFrom(p Path, q Point) float64 {
	near := math.Inf(1)
	for k := range p.Segments() {
		s := p.Segment(k)
		if s.Bounds().Grow(near).Contains(q) {
			_, d := s.Nearest(q)
			near = min(near, d)
		}
	}
	return near
}

// fromCurve returns the largest distance of n places on each segment of the
// path from the curve, given as a chain of m chords.
func fromCurve(p Path, c Curve, t0, t1 float64, n, m int) float64 {
	points := make([]Point, m+1)
	for i := range points {
		points[i] = c.At(t0 + (t1-t0)*float64(i)/float64(m))
	}
	chords := Open(points...)
	worst := 0.0
	for k := range p.Segments() {
		for i := range n + 1 {
			worst = max(worst, distanceFrom(chords, p.Segment(k).At(float64(i)/float64(n))))
		}
	}
	return worst
}

// kink returns the largest angle between neighbouring segments.
func kink(p Path) float64 {
	worst := 0.0
	for i := 1; i < p.Segments(); i++ {
		worst = max(worst, math.Abs(p.Segment(i-1).EndTangent().AngleTo(p.Segment(i).StartTangent())))
	}
	return worst
}

// genCubic draws curves of every kind that the pens of drawing programs leave:
// free ones, some with control points on the ends or on one another.
func genCubic(size float64) *rapid.Generator[CubicBezier] {
	return rapid.Custom(func(t *rapid.T) CubicBezier {
		p := genPoint(size)
		c := CubicBezier{p.Draw(t, "a"), p.Draw(t, "c1"), p.Draw(t, "c2"), p.Draw(t, "b")}
		switch rapid.IntRange(0, 8).Draw(t, "kind") {
		case 1:
			c.C1 = c.A
		case 2:
			c.C2 = c.B
		case 3:
			c.C1, c.C2 = c.A, c.B
		case 4:
			c.B = c.A
		case 5:
			c.C2 = c.C1
		case 6:
			c.C1, c.C2 = c.A.Lerp(c.B, rapid.Float64Range(-1, 2).Draw(t, "f")), c.A.Lerp(c.B, rapid.Float64Range(-1, 2).Draw(t, "g"))
		}
		return c
	})
}

func TestFittedCubicKeepsWithinTheTolerance(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		c := genCubic(300).Draw(t, "curve")
		tolerance := rapid.SampledFrom([]float64{0.1, 0.01, FitTolerance, 1e-4}).Draw(t, "tolerance")
		p, err := c.Fit(tolerance)
		require.NoError(t, err)
		if c.size() == 0 {
			require.Empty(t, p.V)
			return
		}
		require.Equal(t, c.A, p.Start())
		require.Equal(t, c.B, p.End())
		d := fromPath(p, c, 0, 1, 500)
		require.LessOrEqual(t, d, tolerance)
		worst = max(worst, d/tolerance)
		// The chords' own rise is at most 0.6 h^2/8 of the second derivative.
		require.LessOrEqual(t, fromCurve(p, c, 0, 1, 3, 3000), tolerance+3e-4)
	})
	t.Logf("largest distance %.3f of the tolerance", worst)
}

func TestFittedCubicIsSmoothAndKeepsItsEndTangents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := genCubic(300).Draw(t, "curve")
		slowest := math.Inf(1)
		for i := range 1001 {
			slowest = min(slowest, c.Tangent(float64(i)/1000).Len())
		}
		if slowest < 10 {
			t.Skip("near a cusp")
		}
		p, err := c.Fit(FitTolerance)
		require.NoError(t, err)
		require.Less(t, kink(p), 1e-7)
		require.InDelta(t, 0, c.Tangent(0).AngleTo(p.StartTangent()), 2e-7)
		require.InDelta(t, 0, c.Tangent(1).AngleTo(p.EndTangent()), 2e-7)
	})
}

// The counts are a regression guard: a greedy search for the longest pair of
// arcs that keeps to the curve's tangents took 24 and 48 arcs for a hem of this
// shape and length at 0.01 and 0.001 mm (own measurement, no source).
func TestFitTakesFewArcs(t *testing.T) {
	for _, c := range []struct {
		curve     CubicBezier
		tolerance float64
		most      int
	}{
		{hemS, 0.1, 10}, {hemS, 0.01, 20}, {hemS, FitTolerance, 28}, {hemS, 0.001, 34},
		{armhole, 0.01, 12}, {armhole, 0.001, 26},
	} {
		p, err := c.curve.Fit(c.tolerance)
		require.NoError(t, err)
		require.LessOrEqual(t, p.Segments(), c.most, "%v at %g", c.curve, c.tolerance)
		require.LessOrEqual(t, fromPath(p, c.curve, 0, 1, 20000), c.tolerance)
	}
}

func TestFittedLengthApproachesTheCurves(t *testing.T) {
	// The sum of 2^18 chords, short by less than 1e-8 mm.
	want := 0.0
	before := hemS.At(0)
	const n = 1 << 18
	for i := 1; i <= n; i++ {
		q := hemS.At(float64(i) / n)
		want += before.Dist(q)
		before = q
	}
	p, err := hemS.Fit(FitTolerance)
	require.NoError(t, err)
	require.InDelta(t, want, p.Length(), 1e-3)
}

func TestStraightCubicIsOneLine(t *testing.T) {
	c := CubicBezier{Point{1, 2}, Point{2, 4}, Point{4, 8}, Point{5, 10}}
	p, err := c.Fit(FitTolerance)
	require.NoError(t, err)
	require.Equal(t, Open(c.A, c.B), p)
}

func TestCubicThatDoublesBackKeepsItsReach(t *testing.T) {
	// x = 10 (3 t (1-t)^2 * 3 + 3 t^2 (1-t) * (-2) + t^3): turns back twice.
	c := CubicBezier{Point{0, 0}, Point{30, 0}, Point{-20, 0}, Point{10, 0}}
	p, err := c.Fit(FitTolerance)
	require.NoError(t, err)
	require.Equal(t, 3, p.Segments())
	box := EmptyBox()
	for i := range 10001 {
		box = box.Include(c.At(float64(i) / 10000))
	}
	require.InDelta(t, box.Min.X, p.Bounds().Min.X, 1e-5)
	require.InDelta(t, box.Max.X, p.Bounds().Max.X, 1e-5)
	require.Zero(t, p.Bounds().Height())

	// Out and back to where it began.
	c = CubicBezier{Point{0, 0}, Point{0, 12}, Point{0, 12}, Point{0, 0}}
	p, err = c.Fit(FitTolerance)
	require.NoError(t, err)
	require.Equal(t, 2, p.Segments())
	require.InDelta(t, 18, p.Length(), 1e-9)
}

func TestPointCubicIsEmpty(t *testing.T) {
	a := Point{3, 4}
	p, err := CubicBezier{a, a, a, a}.Fit(FitTolerance)
	require.NoError(t, err)
	require.Empty(t, p.V)
}

func TestCuspBecomesACorner(t *testing.T) {
	// Symmetrical about x = 50 and stopped at t = 1/2.
	c := CubicBezier{Point{0, 0}, Point{100, 60}, Point{0, 60}, Point{100, 0}}
	p, err := c.Fit(FitTolerance)
	require.NoError(t, err)
	require.LessOrEqual(t, fromPath(p, c, 0, 1, 5000), FitTolerance)
	corners := 0
	for i := 1; i < p.Segments(); i++ {
		if turn := p.Segment(i - 1).EndTangent().AngleTo(p.Segment(i).StartTangent()); math.Abs(turn) > 1e-6 {
			corners++
			require.InDelta(t, math.Pi, math.Abs(turn), 1e-6)
			require.InDelta(t, 0, p.Segment(i).A.Dist(Point{50, 45}), 1e-9)
		}
	}
	require.Equal(t, 1, corners)
}

func TestNearCuspStaysBounded(t *testing.T) {
	for _, d := range []float64{1e-1, 1e-3, 1e-5, 1e-7, 1e-9, 1e-12} {
		for _, sign := range []float64{1, -1} {
			c := CubicBezier{Point{0, 0}, Point{100 + sign*d, 60}, Point{0, 60}, Point{100, 0}}
			p, err := c.Fit(FitTolerance)
			require.NoError(t, err)
			require.LessOrEqual(t, fromPath(p, c, 0, 1, 5000), FitTolerance)
			require.Less(t, p.Segments(), 60)
		}
	}
}

// A control arm far shorter than the curve, but longer than the tolerance,
// swings the curve round at once.
func TestShortControlArmKeepsWithinTheTolerance(t *testing.T) {
	for _, arm := range []float64{1, 1e-2, 1e-3, 1e-5, 1e-8} {
		c := CubicBezier{Point{0, 0}, Point{arm, arm}, Point{9000, -9000}, Point{-19000, -3000}}
		p, err := c.Fit(1e-4)
		require.NoError(t, err)
		require.LessOrEqual(t, fromPath(p, c, 0, 1, 3000), 1e-4, "arm %g", arm)
		require.LessOrEqual(t, fromPath(p, c, 0, 0.01, 3000), 1e-4, "arm %g", arm)
	}
}

func TestQuadraticFitsAsItsCubic(t *testing.T) {
	q := QuadraticBezier{Point{0, 0}, Point{40, 90}, Point{130, 10}}
	p, err := q.Fit(FitTolerance)
	require.NoError(t, err)
	worst := 0.0
	for i := range 2001 {
		s := float64(i) / 2000
		at := q.A.Lerp(q.C, s).Lerp(q.C.Lerp(q.B, s), s)
		worst = max(worst, distanceFrom(p, at))
	}
	require.LessOrEqual(t, worst, FitTolerance)
	require.InDelta(t, 0, q.C.Sub(q.A).AngleTo(p.StartTangent()), 1e-12)
}

// circleCurve is a circle with an uneven parameter.
type circleCurve struct{ radius float64 }

func (c circleCurve) angle(t float64) float64 { return t + 0.2*math.Sin(t) }
func (c circleCurve) At(t float64) Point      { return Point(Direction(c.angle(t)).Mul(c.radius)) }
func (c circleCurve) Tangent(t float64) Vec   { return Direction(c.angle(t)).Left() }

func TestCircularCurveIsExactArcs(t *testing.T) {
	p, err := FitCurve(circleCurve{80}, 0, math.Pi, FitTolerance)
	require.NoError(t, err)
	require.Equal(t, 1, p.Segments())
	require.InDelta(t, 80*math.Pi, p.Length(), 1e-9)

	p, err = FitCurve(circleCurve{80}, 2*math.Pi, 0, FitTolerance)
	require.NoError(t, err)
	require.LessOrEqual(t, p.Segments(), 4)
	require.InDelta(t, 160*math.Pi, p.Length(), 1e-9)
	require.InDelta(t, -6400*math.Pi, p.Close(Coincident).Area(), 1e-9)
}

// sine is a sine wave.
type sine struct{ height, width float64 }

func (s sine) At(t float64) Point { return Point{t, s.height * math.Sin(2*math.Pi*t/s.width)} }
func (s sine) Tangent(t float64) Vec {
	return Vec{1, s.height * 2 * math.Pi / s.width * math.Cos(2*math.Pi*t/s.width)}
}

func TestSineWaveFits(t *testing.T) {
	for _, s := range []sine{{5, 60}, {24, 60}, {60, 20}, {1e-3, 60}} {
		p, err := FitCurve(s, 0, s.width, FitTolerance)
		require.NoError(t, err)
		require.LessOrEqual(t, fromPath(p, s, 0, s.width, 4000), FitTolerance)
		require.LessOrEqual(t, fromCurve(p, s, 0, s.width, 8, 20000), FitTolerance+2e-4)
		require.Less(t, kink(p), 1e-9)
	}
}

// slow is a half circle that starts and ends without speed, corner turns a
// right angle at t = 0.4, and jump is not continuous there.
type (
	slow   struct{}
	corner struct{}
	jump   struct{}
)

func (slow) At(t float64) Point {
	return Point(Direction(math.Pi * t * t * (3 - 2*t)).Mul(50))
}
func (slow) Tangent(t float64) Vec {
	return Direction(math.Pi * t * t * (3 - 2*t)).Left().Mul(t * (1 - t))
}
func (corner) At(t float64) Point {
	return Point{100 * min(t, 0.4), 100 * max(0, t-0.4)}
}
func (corner) Tangent(t float64) Vec {
	if t < 0.4 {
		return Vec{1, 0}
	}
	return Vec{0, 1}
}
func (jump) At(t float64) Point {
	if t < 0.4 {
		return Point{100 * t, 0}
	}
	return Point{100 * t, 1}
}
func (jump) Tangent(float64) Vec { return Vec{1, 0} }

func TestVanishingDerivativeAtTheEndsIsNoMatter(t *testing.T) {
	p, err := FitCurve(slow{}, 0, 1, FitTolerance)
	require.NoError(t, err)
	require.InDelta(t, 0, p.StartTangent().AngleTo(Vec{0, 1}), 1e-6)
	require.InDelta(t, 50*math.Pi, p.Length(), FitTolerance)
}

func TestCornerInsideACurveComesOutWithinTheTolerance(t *testing.T) {
	p, err := FitCurve(corner{}, 0, 1, FitTolerance)
	require.NoError(t, err)
	require.LessOrEqual(t, fromPath(p, corner{}, 0, 1, 5000), FitTolerance)
	require.Less(t, p.Segments(), 30)
}

type broken struct{ at float64 }

func (b broken) At(t float64) Point {
	if t > b.at {
		return Point{math.NaN(), 0}
	}
	return Point{t, t * t}
}
func (b broken) Tangent(t float64) Vec { return Vec{1, 2 * t} }

func TestFitRefusesWhatIsNoCurve(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	fit := func(c Curve, t0, t1, tolerance float64) error {
		_, err := FitCurve(c, t0, t1, tolerance)
		return err
	}
	bezier := func(x float64) error {
		_, err := CubicBezier{Point{}, Point{x, 1}, Point{2, 2}, Point{3, 0}}.Fit(1)
		return err
	}
	arc := func(e EllipticArc) error {
		_, err := e.Fit(FitTolerance)
		return err
	}
	for name, c := range map[string]struct {
		err  error
		want string
	}{
		"no tolerance":   {fit(hemS, 0, 1, 0), "tolerance 0 mm is no distance above 0"},
		"NaN tolerance":  {fit(hemS, 0, 1, nan), "tolerance NaN mm"},
		"endless range":  {fit(hemS, 0, inf, 1), "range 0 to +Inf is not finite"},
		"NaN at start":   {fit(broken{-1}, 0, 1, 1), "not a number at t = 0"},
		"NaN later":      {fit(broken{0.5}, 0, 1, 1e-3), "not a number"},
		"jump":           {fit(jump{}, 0, 1, 1e-3), "the curve jumps or is not"},
		"too long":       {fit(sine{1e5, 1}, 0, 1e4, 1e-6), "more than 20000 arcs"},
		"NaN in bezier":  {bezier(nan), "a control point is not a number"},
		"Inf in bezier":  {bezier(inf), "a control point is not a number"},
		"huge bezier":    {bezier(1e300), "fit curve"},
		"negative":       {arc(EllipticArc{RX: -1, RY: 1, Sweep: 1}), "a radius is negative"},
		"NaN in ellipse": {arc(EllipticArc{RX: nan, RY: 1, Sweep: 1}), "a value is not a number"},
		"over a turn":    {arc(EllipticArc{RX: 2, RY: 1, Sweep: 7}), "more than a full turn"},
	} {
		t.Run(name, func(t *testing.T) { require.ErrorContains(t, c.err, c.want) })
	}
}

func BenchmarkFitCubic(b *testing.B) {
	for _, tolerance := range []float64{0.1, 0.01, FitTolerance, 0.001} {
		b.Run(fmt.Sprintf("hem196/%g", tolerance), func(b *testing.B) {
			for b.Loop() {
				if _, err := hemS.Fit(tolerance); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	for name, c := range map[string]CubicBezier{
		"armhole":  armhole,
		"straight": {Point{0, 0}, Point{10, 0}, Point{20, 0}, Point{30, 0}},
		"cusp":     {Point{0, 0}, Point{100, 60}, Point{0, 60}, Point{100, 0}},
		"nearcusp": {Point{0, 0}, Point{100.001, 60}, Point{0, 60}, Point{100, 0}},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.Fit(FitTolerance); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
