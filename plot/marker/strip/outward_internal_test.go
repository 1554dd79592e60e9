package strip

import (
	"math"
	"slices"
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

// hook draws a band that runs round the origin and comes near to its own beginning.
func hook(t *rapid.T) []path.Point {
	n := rapid.IntRange(3, 25).Draw(t, "corners of a side")
	whole := rapid.Float64Range(3, 6.2).Draw(t, "angle")
	var out, in []path.Point
	for i := range n {
		d := path.Direction(whole * float64(i) / float64(n-1))
		r := rapid.Float64Range(60, 100).Draw(t, "radius")
		out = append(out, path.Point{}.Add(d.Mul(r)))
		in = append(in, path.Point{}.Add(d.Mul(r-rapid.Float64Range(2, 50).Draw(t, "width"))))
	}
	slices.Reverse(in)
	return append(out, in...)
}

func asPath(ring []path.Point) path.Path {
	p := path.Open(ring...)
	p.Closed = true
	return p
}

func TestARingWithFewerCornersContainsTheOneItStandsFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := rapid.SampledFrom([]func(*rapid.T) []path.Point{star, hook}).Draw(t, "ring")(t)
		if !asPath(ring).Simple() {
			t.Skip("its sides cross")
		}
		out := outward(ring, detail{rapid.IntRange(0, 9).Draw(t, "hollows"), rapid.IntRange(3, 12).Draw(t, "corners"), 0.3, cornerTurn})
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
		turn := rapid.SampledFrom([]float64{cornerTurn, coarseTurn}).Draw(t, "turn")
		r := related(pa, pb, a, b, margin, 0, turn)
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
		case gap > 2*margin/math.Cos(turn/2)+1e-6: // corners are cut off outside of the circle
			apart++
			require.Zero(t, depth)
		}
	})
	t.Logf("%d overlap, %d are apart", overlaps, apart)
}

// related returns the relation of two rings that are divided into parts.
func related(pa, pb [][]path.Point, a, b []path.Point, margin, slack, turn float64) *relation {
	return newRelation(&shape{parts: pa, hull: hullOf(a), margin: margin}, &shape{parts: pb, hull: hullOf(b), margin: margin}, slack, turn)
}

// Else a piece that is moved to where it just touches could never be said to lie free.
func TestThereIsNoOverlapWhereALineLeavesAHull(t *testing.T) {
	const slack = 1e-7
	rapid.Check(t, func(t *rapid.T) {
		a, b := hullOf(star(t)), hullOf(star(t))
		r := related([][]path.Point{a}, [][]path.Point{b}, a, b, rapid.SampledFrom([]float64{0, 2.5}).Draw(t, "margin"), slack, cornerTurn)
		r.mirror(path.Vec{X: rapid.SampledFrom([]float64{-1, 1}).Draw(t, "x"), Y: rapid.SampledFrom([]float64{-1, 1}).Draw(t, "y")})
		r.findCorners()
		h := &r.hulls[0]
		share := rapid.Float64Range(0.001, 0.999).Draw(t, "share")
		var d path.Vec
		var from, to, x, y float64
		if rapid.Bool().Draw(t, "up") {
			x, d = h.x0+share*(h.x1-h.x0), path.Vec{Y: 1}
			from, to = r.spanUp(h, x)
		} else {
			y, d = h.y0+share*(h.y1-h.y0), path.Vec{X: 1}
			from, to = r.span(h, y)
		}
		require.Less(t, from, to)
		require.Zero(t, r.depth(x+from*d.X, y+from*d.Y))
		require.Zero(t, r.depth(x+to*d.X, y+to*d.Y))
		near := 1e-5 * (to - from)
		for _, at := range []float64{from + near, (from + to) / 2, to - near} {
			require.Positive(t, r.depth(x+at*d.X, y+at*d.Y))
		}
	})
}

// The depth in a hull changes by no more than the way that is gone, and by the weights of
// four corners the raster is no further off than a cell is long, and by what is rounded up.
func TestTheRasterIsNearToTheDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := star(t), star(t)
		pa, _ := convexParts(a)
		pb, _ := convexParts(b)
		r := related(pa, pb, a, b, 0, 0, cornerTurn)
		x, y := rapid.Float64Range(-220, 220).Draw(t, "x"), rapid.Float64Range(-220, 220).Draw(t, "y")
		cell := math.Hypot(r.x1-r.x0, r.y1-r.y0) / (rasterSide - 1)
		near := r.nearDepth(x, y)
		unit := 0.0
		if made := r.raster.Load(); made != nil {
			unit = made.unit
		}
		require.InDelta(t, r.depth(x, y), near, cell*float64(len(r.hulls))+unit+1e-3)
		if len(r.hulls) >= leastSampled {
			i, k := rapid.IntRange(1, rasterSide-2).Draw(t, "i"), rapid.IntRange(1, rasterSide-2).Draw(t, "k")
			x, y = r.x0+float64(i)*(r.x1-r.x0)/(rasterSide-1), r.y0+float64(k)*(r.y1-r.y0)/(rasterSide-1)
			unit = r.sample().unit
			require.InDelta(t, r.depth(x, y)+unit/2, r.nearDepth(x, y), unit/2+1e-6)
		}
	})
}
