package path

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestChordAndRiseGiveTheRadius(t *testing.T) {
	// R = (c^2/4 + s^2) / (2 s): the intersecting chords theorem (Euclid,
	// Elements III.35) for a chord c cut in half by the diameter that holds the
	// rise s.
	for _, c := range []struct{ chord, rise, radius float64 }{
		{60, 30, 30}, {60, 24, 30.75}, {80, 20, 50}, {6, 1, 5}, {60, 50, 34}, {1000, 0.5, 250000.25},
	} {
		s := Segment{Point{0, 0}, Point{c.chord, 0}, 2 * c.rise / c.chord}
		require.InEpsilon(t, c.radius, s.Radius(), 1e-12)
		require.InEpsilon(t, (c.chord*c.chord/4+c.rise*c.rise)/(2*c.rise), s.Radius(), 1e-12)
		// The arc turns left, so it bows down.
		require.InDelta(t, 0, s.At(0.5).Dist(Point{c.chord / 2, -c.rise}), 1e-9)
		require.InEpsilon(t, 1/c.radius, s.Curvature(), 1e-12)
	}
}

func TestArcHasTheLengthOfItsAngle(t *testing.T) {
	for _, degrees := range []float64{1, 30, 90, 180, 270, 350, -45, -300} {
		sweep := degrees * math.Pi / 180
		s := Arc(Point{10, 20}, 40, 0.7, sweep)
		require.InEpsilon(t, 40*math.Abs(sweep), s.Length(), 1e-12)
		require.InDelta(t, sweep, s.Sweep(), 1e-12)
		require.InDelta(t, 0, s.Centre().Dist(Point{10, 20}), 1e-10)
		require.InDelta(t, 40, s.Radius(), 1e-10)
		require.InDelta(t, 0, s.StartTangent().AngleTo(Direction(0.7+math.Copysign(math.Pi/2, sweep))), 1e-12)
	}
}

// The length of an arc with the chord c and bulge b is c (1 + 2/3 b^2 - 2/15
// b^4 ...): the series of (1+b^2) atan(b)/b.
func TestNearlyStraightArcsKeepTheirDigits(t *testing.T) {
	for _, b := range []float64{1e-12, 1e-9, 1e-7, 1e-7, 1e-3} {
		s := Segment{Point{3, 4}, Point{103, 4}, b}
		require.InEpsilon(t, 100*(1+2*b*b/3), s.Length(), 2e-13, "%g", b)
		// The circular segment's area is 2/3 c s (1 + ...), s = c b / 2.
		area := Path{V: []Vertex{{s.A, b}, {s.B, 0}}, Closed: true}.Area()
		require.InDelta(t, 100*100*b/3, area, max(1e-6*b*1e4, 1e-6), "%g", b)
		if b > straightBulge {
			require.InEpsilon(t, 100*100*b/3, area, 2e-6)
		}
		require.InDelta(t, 0, s.At(0.5).Dist(Point{53, 4 - 50*b}), 1e-7)
		require.InDelta(t, 25, nearestAlong(t, s, Point{28, 4}), 1e-4)
	}
}

// nearestAlong returns the distance along the segment at which it comes nearest.
func nearestAlong(t *testing.T, s Segment, p Point) float64 {
	at, d := s.Nearest(p)
	require.InDelta(t, d, s.At(at).Dist(p), 1e-6)
	return at * s.Length()
}

func TestPointsOfAnArcLieOnItsCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSegment().Draw(t, "segment")
		at := rapid.Float64Range(0, 1).Draw(t, "at")
		p := s.At(at)
		require.InDelta(t, at, s.Ratio(p), 1e-6)
		_, d := s.Nearest(p)
		if math.Abs(s.Bulge) < 1e-4 {
			require.InDelta(t, 0, d, 1e-7) // the radius has few digits behind the point left
			return
		}
		require.InDelta(t, 0, d, 1e-8)
		require.InEpsilon(t, s.Radius(), p.Dist(s.Centre()), 1e-9)
	})
}

func TestTangentIsTheLimitOfChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSegment().Draw(t, "segment")
		at := rapid.Float64Range(0.01, 0.99).Draw(t, "at")
		// The chord from h before a place to h after it, over the angle 2hS of the
		// sweep S, runs in the direction of the tangent between and is
		// 2r sin(hS) = 2hL sin(hS)/hS long. What is left is the rounding of its
		// ends, each a few units in the last place of the numbers it is made from.
		h := math.Pow(10, rapid.Float64Range(-6, -2).Draw(t, "h"))
		chord, long := s.At(at+h).Sub(s.At(at-h)), 2*h*s.Length()
		if x := h * s.Sweep(); x != 0 {
			long *= math.Sin(x) / x
		}
		rounding := 0x1p-48 * (Vec(s.A).Len() + s.Length())
		require.InDelta(t, 0, s.TangentAt(at).AngleTo(chord), 0x1p-48+rounding/long)
		require.InDelta(t, long, chord.Len(), rounding)
		require.InDelta(t, 0, s.StartTangent().AngleTo(s.TangentAt(0)), 1e-9)
		require.InDelta(t, 0, s.EndTangent().AngleTo(s.TangentAt(1)), 1e-9)
	})
}

func TestSplitPartsMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSegment().Draw(t, "segment")
		at, along := rapid.Float64Range(0, 1).Draw(t, "at"), rapid.Float64Range(0, 1).Draw(t, "along")
		a, b := s.Split(at)
		require.Equal(t, s.A, a.A)
		require.Equal(t, a.B, b.A)
		require.Equal(t, s.B, b.B)
		require.InEpsilon(t, s.Length(), a.Length()+b.Length(), 1e-9)
		require.InDelta(t, at*s.Length(), a.Length(), 1e-6)
		require.InDelta(t, 0, s.At(at*along).Dist(a.At(along)), 1e-6)
		require.InDelta(t, 0, s.At(at+(1-at)*along).Dist(b.At(along)), 1e-6)
		if at > 0.01 && at < 0.99 {
			require.InDelta(t, 0, a.EndTangent().AngleTo(b.StartTangent()), 1e-6)
		}
	})
}

func TestReversedSegmentRunsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSegment().Draw(t, "segment")
		at := rapid.Float64Range(0, 1).Draw(t, "at")
		r := s.Reverse()
		require.Equal(t, s, r.Reverse())
		require.InDelta(t, 0, s.At(at).Dist(r.At(1-at)), 1e-8)
		require.InDelta(t, 0, s.StartTangent().Add(r.EndTangent()).Len(), 1e-12)
		require.Equal(t, s.Length(), r.Length())
	})
}

func TestArcThroughPassesItsMiddlePoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := genSegment().Draw(t, "arc")
		m := want.At(rapid.Float64Range(0.05, 0.95).Draw(t, "at"))
		got := ArcThrough(want.A, m, want.B)
		require.Equal(t, want.A, got.A)
		require.Equal(t, want.B, got.B)
		require.InDelta(t, want.Sweep(), got.Sweep(), 1e-8)
		_, d := got.Nearest(m)
		require.InDelta(t, 0, d, 1e-4)
	})
	require.True(t, ArcThrough(Point{0, 0}, Point{1, 1}, Point{4, 4}).IsLine())
}

func TestArcFromLeavesInItsTangent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPoint(100).Draw(t, "a"), genPoint(100).Draw(t, "b")
		tangent := Direction(rapid.Float64Range(-3, 3).Draw(t, "angle")).Mul(3)
		if a.Dist(b) < 0.1 || math.Abs(tangent.AngleTo(b.Sub(a))) > 3 {
			t.Skip("no arc between them")
		}
		s := ArcFrom(a, tangent, b)
		require.Equal(t, a, s.A)
		require.Equal(t, b, s.B)
		require.InDelta(t, 0, s.StartTangent().AngleTo(tangent), 1e-10)
	})
}

func TestBoundsHoldTheSegmentTightly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genSegment().Draw(t, "segment")
		box, samples := s.Bounds(), EmptyBox()
		const n = 2000
		for i := range n + 1 {
			samples = samples.Include(s.At(float64(i) / n))
		}
		require.True(t, box.Grow(1e-7).Contains(samples.Min) && box.Grow(1e-7).Contains(samples.Max), "%v %v", box, samples)
		// Between samples an arc rises by less than this.
		rise := 1e-7 + s.Length()*math.Abs(s.Sweep())/(8*n*n)
		require.True(t, samples.Grow(rise).Contains(box.Min) && samples.Grow(rise).Contains(box.Max), "%v %v", box, samples)
	})
}

func TestSegmentNearestIsNearerThanAnySample(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := genSegment().Draw(t, "segment"), genPoint(400).Draw(t, "p")
		at, d := s.Nearest(p)
		require.InDelta(t, s.At(at).Dist(p), d, 1e-7)
		least := math.Inf(1)
		const n = 1000
		for i := range n + 1 {
			least = min(least, s.At(float64(i)/n).Dist(p))
		}
		require.LessOrEqual(t, d, least+1e-7)
		require.GreaterOrEqual(t, d, least-s.Length()/n-1e-9)
	})
}

func TestNearestOfAnArcsCentreIsItsRadius(t *testing.T) {
	s := Segment{Point{-3, 0}, Point{3, 0}, 0.5}
	_, d := s.Nearest(s.Centre())
	require.InDelta(t, s.Radius(), d, 1e-12)
}

func TestSegmentWithoutLengthAnswersQuietly(t *testing.T) {
	for _, b := range []float64{0, 0.5, -1} {
		s := Segment{Point{1, 2}, Point{1, 2}, b}
		t.Run(fmt.Sprint(b), func(t *testing.T) {
			require.Zero(t, s.Length())
			require.Zero(t, s.Curvature())
			require.Equal(t, Vec{}, s.StartTangent())
			require.Equal(t, s.A, s.At(0.3))
			_, d := s.Nearest(Point{4, 6})
			require.InDelta(t, 5, d, 1e-12)
			require.Equal(t, Box{s.A, s.A}, s.Bounds())
		})
	}
}

// The square of such a chord is 0, and that of its curvature infinite.
func TestSegmentShorterThanNumbersTellIsAPoint(t *testing.T) {
	for _, chord := range []float64{0, 1e-320, 1e-162, 1e-110} {
		for _, bulge := range []float64{0, 1, -0.3} {
			s := Segment{Point{}, Point{chord, chord}, bulge}
			for _, p := range []Point{{3, 4}, {-4, 3}, {4, -3}} {
				at, dist := s.Nearest(p)
				require.Zero(t, at)
				require.InDelta(t, 5, dist, 1e-12)
				require.Zero(t, s.Ratio(p))
			}
		}
	}
}

func TestTurnAtACornerIsThatOfTheTangentsAndAtACuspThatOfTheSides(t *testing.T) {
	line := func(x, y float64) Segment { return Line(Point{}, Point{X: x, Y: y}) }
	in := Line(Point{X: -10}, Point{})
	require.InDelta(t, math.Pi/2, Turn(in, line(0, 5)), 1e-12)
	require.InDelta(t, -math.Pi/4, Turn(in, line(5, -5)), 1e-12)
	require.InDelta(t, 0, Turn(in, line(5, 0)), 1e-12)
	require.InDelta(t, math.Pi, Turn(in, line(-5, 0)), 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		// Two circles that touch the x axis at the origin: their sides part by the
		// difference of their curvatures.
		bend := func(name string) float64 { return rapid.Float64Range(-0.05, 0.05).Draw(t, name) }
		a, b := bend("curvature before"), bend("curvature after")
		if math.Abs(a-b) < 1e-3 {
			return
		}
		side := func(k float64) Segment {
			p := Point{X: -8, Y: k * 32}
			return ArcFrom(Point{}, Vec{X: -1}, p)
		}
		spin := Rotation(Point{}, rapid.Float64Range(-3, 3).Draw(t, "angle"))
		before, after := side(a).Reverse(), side(b)
		moved := FromSegments(before, after).Transform(spin)
		want := math.Pi // to the left, around what lies below it
		if a > b {
			want = -math.Pi
		}
		require.InDelta(t, want, Turn(moved.Segment(0), moved.Segment(1)), 1e-6)
		back := moved.Reverse()
		require.InDelta(t, -want, Turn(back.Segment(0), back.Segment(1)), 1e-6)
	})
}
