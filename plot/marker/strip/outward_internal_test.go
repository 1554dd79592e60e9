package strip

import (
	"math"
	"testing"

	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// star draws a ring round the origin whose corners lie at random distances.
func star(t *rapid.T) []path.Point {
	n := rapid.IntRange(3, 40).Draw(t, "corners")
	ring := make([]path.Point, n)
	for i := range ring {
		r := rapid.Float64Range(20, 100).Draw(t, "radius")
		ring[i] = path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / float64(n)).Mul(r))
	}
	return ring
}

func asPath(ring []path.Point) path.Path {
	p := path.Open(ring...)
	p.Closed = true
	return p
}

func TestARingWithFewerCornersContainsTheOneItStandsFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := star(t)
		out := outward(ring, 6, 0.3)
		require.True(t, asPath(out).Simple())
		require.GreaterOrEqual(t, areaOf(out), areaOf(ring)*(1-1e-12))
		require.LessOrEqual(t, areaOf(out), areaOf(ring)*1.3*(1+1e-9))
		whole := asPath(out)
		for i, q := range ring {
			for _, share := range []float64{0, 0.5} {
				p := q.Lerp(ring[(i+1)%len(ring)], share)
				if !whole.Contains(p) {
					_, off := path.NewRuler(whole).Nearest(p)
					require.InDelta(t, 0, off, 1e-6)
				}
			}
		}
	})
}

func TestConvexPartsFillTheirRing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := star(t)
		parts, ok := convexParts(ring)
		require.True(t, ok)
		sum := 0.0
		for _, p := range parts {
			sum += areaOf(p)
			for i := range p {
				require.GreaterOrEqual(t, cross(p[i], p[(i+1)%len(p)], p[(i+2)%len(p)]), -1e-6)
			}
		}
		require.InEpsilon(t, areaOf(ring), sum, 1e-9)
	})
}

func TestARelationTellsWhetherTwoOutlinesOverlap(t *testing.T) {
	overlaps, apart := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := star(t), star(t)
		margin := rapid.SampledFrom([]float64{0, 2.5}).Draw(t, "margin")
		pa, _ := convexParts(a)
		pb, _ := convexParts(b)
		r := newRelation(&shape{parts: pa, hull: hullOf(a), margin: margin}, &shape{parts: pb, hull: hullOf(b), margin: margin}, 0)
		by := path.Vec{X: rapid.Float64Range(-220, 220).Draw(t, "x"), Y: rapid.Float64Range(-220, 220).Draw(t, "y")}
		moved := make([]path.Point, len(a))
		for i, q := range a {
			moved[i] = q.Add(by)
		}
		p, q := asPath(moved), asPath(b)
		gap := math.Inf(1) // between the outlines
		if len(p.Intersections(q)) > 0 || q.Contains(moved[0]) || p.Contains(b[0]) {
			gap = 0
		} else {
			for _, v := range moved {
				_, d := path.NewRuler(q).Nearest(v)
				gap = min(gap, d)
			}
			for _, v := range b {
				_, d := path.NewRuler(p).Nearest(v)
				gap = min(gap, d)
			}
		}
		depth := r.depth(by.X, by.Y)
		switch {
		case gap == 0:
			overlaps++
			require.Positive(t, depth)
		case gap < 2*margin-1e-6:
			require.Positive(t, depth)
		case gap > 2*margin*1.09+1e-6: // corners are cut off outside of the circle
			apart++
			require.Zero(t, depth)
		}
	})
	t.Logf("%d overlap, %d are apart", overlaps, apart)
}
