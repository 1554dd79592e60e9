package path

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRulerFindsWhatItMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		r := NewRuler(p)
		require.InEpsilon(t, 1+p.Length(), 1+r.Length(), 1e-12)
		d := rapid.Float64Range(0, 0.999).Draw(t, "part") * r.Length()
		q := r.At(d)
		along, dist := r.Nearest(q)
		require.InDelta(t, 0, dist, 1e-7)
		require.InDelta(t, 0, r.At(along).Dist(q), 1e-7)
		i, at := r.Find(d)
		require.InDelta(t, d, r.Stop(i)+at*p.Segment(i).Length(), 1e-9*(1+d))
	})
}

func TestRulerNearestIsTheLeastOfAllSegments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := genPath().Draw(t, "path"), genPoint(400).Draw(t, "q")
		r := NewRuler(p)
		along, d := r.Nearest(q)
		require.InDelta(t, d, r.At(along).Dist(q), 1e-7)
		least := math.Inf(1)
		const n = 2000
		for i := range n + 1 {
			least = min(least, r.At(r.Length()*float64(i)/n).Dist(q))
		}
		require.LessOrEqual(t, d, least+1e-7)
		require.GreaterOrEqual(t, d, least-r.Length()/n-1e-9)
	})
}

func TestSubsMakeTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		r := NewRuler(p)
		l := r.Length()
		cut := rapid.OneOf(
			rapid.Float64Range(0, l),
			rapid.Map(rapid.IntRange(0, p.Segments()), r.Stop),
		)
		a, b := cut.Draw(t, "a"), cut.Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		sub := r.Sub(a, b)
		require.False(t, sub.Closed)
		if p.Closed && a == b {
			require.InDelta(t, l, sub.Length(), 1e-6)
		} else {
			require.InDelta(t, b-a, sub.Length(), 1e-6)
		}
		require.InDelta(t, 0, sub.Start().Dist(r.At(a)), 1e-6)
		require.InDelta(t, 0, sub.End().Dist(r.At(b)), 1e-6)
		if p.Closed {
			rest := r.Sub(b, a) // through the start
			want := l - (b - a)
			if b-a == l {
				want = l
			}
			require.InDelta(t, want, rest.Length(), 1e-6)
			require.InDelta(t, 0, rest.Start().Dist(r.At(b)), 1e-6)
			require.InDelta(t, 0, rest.End().Dist(r.At(a)), 1e-6)
			if b-a > 1e-6 && want < l {
				require.InDelta(t, p.Area(), Join(1e-6, sub, rest).Area(), 1e-2)
			}
		}
		if sub.Length() > 1e-3 {
			at := rapid.Float64Range(0, 1).Draw(t, "at") * sub.Length()
			require.InDelta(t, 0, NewRuler(sub).At(at).Dist(r.At(a+at)), 1e-7)
		}
	})
}

func TestSubHasNoSliverAtAJoint(t *testing.T) {
	r := NewRuler(Open(Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0.1, 10}))
	for _, e := range []float64{0, 1e-13, -1e-13} {
		require.Equal(t, 1, r.Sub(10+e, 20+e).Segments())
		require.Equal(t, Vec{0, 1}, r.Sub(10+e, 15).StartTangent())
		require.Equal(t, Vec{1, 0}, r.Sub(0, 10+e).EndTangent())
	}
}

func TestSubOfALongFirstSideStopsWhereItShould(t *testing.T) {
	r := NewRuler(Closed(Point{0, 0}, Point{100, 0}, Point{100, 1}, Point{0, 1}))
	require.InDelta(t, 103, r.Sub(0, 103).Length(), 1e-9)
	require.InDelta(t, 200, r.Sub(1, 201).Length(), 1e-9)
	require.InDelta(t, 202, r.Sub(5, 207).Length(), 1e-9)
	require.InDelta(t, 2, r.Sub(201, 1).Length(), 1e-9)
	require.InDelta(t, 4, r.Sub(-3, 1).Length(), 1e-9)
}

func TestRulerHoldsOpenEndsAndGoesRoundClosedOnes(t *testing.T) {
	open := NewRuler(Open(Point{0, 0}, Point{10, 0}, Point{10, 10}))
	require.Equal(t, Point{0, 0}, open.At(-5))
	require.Equal(t, Point{10, 10}, open.At(99))
	require.Equal(t, Vec{0, 1}, open.TangentAt(10))
	closed := NewRuler(Closed(Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0, 10}))
	require.Equal(t, Point{0, 5}, closed.At(-5))
	require.Equal(t, Point{5, 0}, closed.At(45))
	require.Equal(t, Point{0, 0}, closed.At(40))
}

func TestRulerPassesSegmentsWithoutLength(t *testing.T) {
	a := Point{5, 0}
	r := NewRuler(Open(Point{0, 0}, a, a, a, Point{5, 5}))
	require.Equal(t, Vec{0, 1}, r.TangentAt(5))
	require.Equal(t, a, r.At(5))
	require.InDelta(t, 5, r.Sub(2.5, 7.5).Length(), 1e-12)
}

func TestCurvatureAlongThePath(t *testing.T) {
	p := FromSegments(Line(Point{0, 0}, Point{10, 0}), Segment{Point{10, 0}, Point{10, 40}, 1}, Segment{Point{10, 40}, Point{10, 60}, -1})
	r := NewRuler(p)
	require.Zero(t, r.CurvatureAt(5))
	require.InDelta(t, 1.0/20, r.CurvatureAt(20), 1e-12)
	require.InDelta(t, -1.0/10, r.CurvatureAt(r.Length()-1), 1e-12)
}

func BenchmarkRuler(b *testing.B) {
	p := scallopedPanel(60, 60, 24)
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			NewRuler(p)
		}
	})
	r := NewRuler(p)
	b.Run("at", func(b *testing.B) {
		for b.Loop() {
			r.At(1234.5)
		}
	})
	b.Run("nearest", func(b *testing.B) {
		for b.Loop() {
			r.Nearest(Point{1800, 100})
		}
	})
}
