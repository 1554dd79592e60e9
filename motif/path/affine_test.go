package path

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func genAffine() *rapid.Generator[Affine] {
	return rapid.Custom(func(t *rapid.T) Affine {
		x := rapid.Float64Range(-3, 3)
		return Affine{x.Draw(t, "a"), x.Draw(t, "b"), x.Draw(t, "c"), x.Draw(t, "d"), x.Draw(t, "e"), x.Draw(t, "f")}
	})
}

func TestAffineThenAppliesTheFirstFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n, p := genAffine().Draw(t, "m"), genAffine().Draw(t, "n"), genPoint(100).Draw(t, "p")
		require.InDelta(t, 0, m.Then(n).Apply(p).Dist(n.Apply(m.Apply(p))), 1e-9)
		require.InDelta(t, m.Det()*n.Det(), m.Then(n).Det(), 1e-9)
		require.Equal(t, m, m.Then(Identity()))
	})
}

// SVG 1.1 (Second Edition), 7.5, from memory: translate(50,90) around
// rotate(-45) around translate(130,160) has this matrix, worked there with
// 0.707 for the sine.
func TestNestedTransformsAreTheOnesOfSVG(t *testing.T) {
	inner := Translation(Vec{130, 160}).Affine()
	middle := Rotation(Point{}, -math.Pi/4).Affine()
	outer := Translation(Vec{50, 90}).Affine()
	got := inner.Then(middle).Then(outer)
	require.InDelta(t, 0.707, got.A, 5e-4)
	require.InDelta(t, -0.707, got.B, 5e-4)
	require.InDelta(t, 0.707, got.C, 5e-4)
	require.InDelta(t, 0.707, got.D, 5e-4)
	require.InDelta(t, 255.03, got.E, 0.04)
	require.InDelta(t, 111.21, got.F, 0.04)
}

func TestSimilarityComesBackFromItsAffine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, p := genSimilarity().Draw(t, "m"), genPoint(100).Draw(t, "p")
		a := m.Affine()
		require.InDelta(t, 0, m.Apply(p).Dist(a.Apply(p)), 1e-9)
		back, ok := a.Similarity()
		require.True(t, ok)
		require.Equal(t, m.Mirrors(), back.Mirrors())
		require.InDelta(t, 0, m.Apply(p).Dist(back.Apply(p)), 1e-9)
	})
}

func TestUnevenScaleIsNoSimilarity(t *testing.T) {
	for _, m := range []Affine{
		{A: 2, D: 1}, {A: 1, D: 1, C: 1e-6}, {}, {A: 1}, {A: math.NaN(), D: 1}, {A: 1, B: 1, C: 1, D: 1},
	} {
		_, ok := m.Similarity()
		require.False(t, ok, "%v", m)
	}
	_, ok := Affine{A: -1, D: 1}.Similarity()
	require.True(t, ok)
}

func genEllipticArc() *rapid.Generator[EllipticArc] {
	return rapid.Custom(func(t *rapid.T) EllipticArc {
		r, a := rapid.Float64Range(0.5, 200), rapid.Float64Range(-6, 6)
		return EllipticArc{
			Centre: genPoint(200).Draw(t, "centre"),
			RX:     r.Draw(t, "rx"), RY: r.Draw(t, "ry"),
			Rotation: a.Draw(t, "rotation"), Start: a.Draw(t, "start"), Sweep: a.Draw(t, "sweep"),
		}
	})
}

func TestEllipseUnderAnAffineMapIsTheEllipseOfItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, m := genEllipticArc().Draw(t, "arc"), genAffine().Draw(t, "map")
		f := e.Transform(m)
		require.GreaterOrEqual(t, f.RX, f.RY)
		require.InDelta(t, math.Abs(m.Det())*e.RX*e.RY, f.RX*f.RY, 1e-6)
		for i := range 9 {
			s := float64(i) / 8
			want, got := m.Apply(e.At(e.Start+s*e.Sweep)), f.At(f.Start+s*f.Sweep)
			require.InDelta(t, 0, want.Dist(got), 1e-9)
		}
	})
}

func TestFittedEllipseKeepsWithinTheTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := genEllipticArc().Draw(t, "arc")
		p, err := e.Fit(FitTolerance)
		require.NoError(t, err)
		if math.Abs(e.Sweep) < 1e-9 {
			t.Skip("nothing to fit")
		}
		require.InDelta(t, 0, e.At(e.Start).Dist(p.Start()), 1e-9)
		require.InDelta(t, 0, e.At(e.Start+e.Sweep).Dist(p.End()), 1e-9)
		worst := 0.0
		for i := range 501 {
			worst = max(worst, distanceFrom(p, e.At(e.Start+float64(i)/500*e.Sweep)))
		}
		require.LessOrEqual(t, worst, FitTolerance)
		require.Less(t, kink(p), 1e-7)
	})
}

func TestWholeEllipseHasItsArea(t *testing.T) {
	p, err := EllipticArc{Centre: Point{5, 5}, RX: 120, RY: 45, Rotation: 0.3, Sweep: 2 * math.Pi}.Fit(FitTolerance)
	require.NoError(t, err)
	p = p.Close(Coincident)
	// The perimeter bounds how far an error within the tolerance can go.
	require.InDelta(t, math.Pi*120*45, p.Area(), p.Length()*FitTolerance)
}

func TestEqualRadiiGiveExactArcs(t *testing.T) {
	p, err := EllipticArc{Centre: Point{1, 2}, RX: 30, RY: 30, Rotation: 1, Start: 2, Sweep: -2 * math.Pi}.Fit(FitTolerance)
	require.NoError(t, err)
	require.Equal(t, 2, p.Segments())
	require.InDelta(t, -900*math.Pi, p.Close(Coincident).Area(), 1e-9)

	// A mirrored turn keeps a circle; even scales from nested transforms may
	// differ in the last digit.
	m := Affine{A: 0.1 * 3, D: -0.3, E: 4}
	p, err = EllipticArc{RX: 10, RY: 10, Sweep: math.Pi / 2}.Transform(m).Fit(FitTolerance)
	require.NoError(t, err)
	require.Equal(t, 1, p.Segments())
	require.InDelta(t, 3*math.Pi/2, p.Length(), 1e-9)
	require.Negative(t, p.V[0].Bulge)
}

func TestFlattenedEllipseIsLines(t *testing.T) {
	for _, e := range []EllipticArc{
		{RX: 10, Sweep: 2 * math.Pi}, {RX: 10, Sweep: -2 * math.Pi}, {RX: 10, Start: 1, Sweep: -2 * math.Pi},
		{RY: 10, Start: 0.5, Sweep: 2 * math.Pi},
	} {
		p, err := e.Fit(FitTolerance)
		require.NoError(t, err)
		require.InDelta(t, 40, p.Length(), 1e-9, "%+v", e)
	}
	p, err := EllipticArc{Sweep: 1}.Fit(FitTolerance)
	require.NoError(t, err)
	require.Empty(t, p.V)
}

func TestEndpointArcComesBackFromItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := genEllipticArc().Draw(t, "arc")
		if s := math.Abs(e.Sweep); s < 0.01 || math.Abs(s-math.Pi) < 0.01 || s > 6 {
			t.Skip("the ends do not tell the arc")
		}
		from, to := e.At(e.Start), e.At(e.Start+e.Sweep)
		got, ok := EndpointArc(from, to, e.RX, e.RY, e.Rotation, math.Abs(e.Sweep) > math.Pi, e.Sweep > 0)
		require.True(t, ok)
		require.InDelta(t, 0, got.Centre.Dist(e.Centre), 1e-6)
		require.InDelta(t, e.Sweep, got.Sweep, 1e-8)
		require.InDelta(t, 0, got.At(got.Start).Dist(from), 1e-8)
		require.InDelta(t, 0, got.At(got.Start+got.Sweep).Dist(to), 1e-8)
	})
}

// SVG 2, B.2.5: radii too small are scaled up until the ellipse just reaches,
// and their sign does not count.
func TestSmallRadiiAreScaledUp(t *testing.T) {
	e, ok := EndpointArc(Point{0, 0}, Point{40, 0}, -10, 5, 0, false, true)
	require.True(t, ok)
	require.InDelta(t, 20, e.RX, 1e-12)
	require.InDelta(t, 10, e.RY, 1e-12)
	require.InDelta(t, 0, e.Centre.Dist(Point{20, 0}), 1e-12)
	require.InDelta(t, math.Pi, e.Sweep, 1e-12)
}

// SVG 2, B.2.2 and 9.5.1: such commands are straight lines or nothing.
func TestEndpointArcWithoutRadiusOrLengthIsNone(t *testing.T) {
	for _, c := range []struct{ rx, ry, x float64 }{{0, 1, 5}, {1, 0, 5}, {1, 1, 0}} {
		_, ok := EndpointArc(Point{}, Point{c.x, 0}, c.rx, c.ry, 0, true, true)
		require.False(t, ok)
	}
}
