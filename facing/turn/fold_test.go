package turn_test

import (
	"fmt"
	"math"
	"testing"

	"engrail/facing/turn"
	"engrail/fit"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
)

// outside returns the line at the distance to the right.
func outside(t require.TestingT, net path.Path, a float64) path.Path {
	parts, err := net.Offset(a, path.Corner{})
	require.NoError(t, err)
	best := parts[0]
	for _, p := range parts {
		if p.Length() > best.Length() {
			best = p
		}
	}
	return best
}

func planned(t require.TestingT, net path.Path, o turn.Options, valleys ...fit.Place) *turn.Plan {
	p, err := turn.Make(net, outside(t, net, o.Allowance), valleys, o)
	require.NoError(t, err)
	return p
}

// whole measures all of the line as one repeat.
func whole(p *turn.Plan, net path.Path) turn.Repeat {
	return p.Measure([]float64{0, net.Length()})[0]
}

// outwardArc runs counter-clockwise, with the outside on its convex side.
func outwardArc(radius, sweep float64) path.Path {
	return path.FromSegments(path.Arc(path.Point{}, radius, -math.Pi/2-sweep/2, sweep))
}

// strip is an allowance, cut into fine slices square to the net line.
type strip struct {
	flat, turned [][4]path.Point
}

// sliced cuts the allowance between two distances along the net line into slices of about
// the width, and folds each over its own tangent.
func sliced(net *path.Ruler, from, to, a, width float64) strip {
	var s strip
	n := int(math.Ceil((to - from) / width))
	for i := range n {
		s0, s1 := from+(to-from)*float64(i)/float64(n), from+(to-from)*float64(i+1)/float64(n)
		p0, p1 := net.At(s0), net.At(s1)
		q0, q1 := p0.Add(net.TangentAt(s0).Right().Mul(a)), p1.Add(net.TangentAt(s1-1e-9).Right().Mul(a))
		quad := [4]path.Point{p0, q0, q1, p1}
		fold := path.Reflection(p0, p1.Sub(p0).Unit())
		s.flat = append(s.flat, quad)
		for k := range quad {
			quad[k] = fold.Apply(quad[k])
		}
		s.turned = append(s.turned, quad)
	}
	return s
}

// areas returns the area of all quadrangles, and that which is covered by at least one,
// counted in squares of the size.
func areas(quads [][4]path.Point, size float64) (sum, covered float64) {
	type cell [2]int
	seen := map[cell]bool{}
	for _, q := range quads {
		ring := path.Closed(q[:]...)
		sum += math.Abs(ring.Area())
		box := ring.Bounds()
		for j := int(math.Ceil(box.Min.Y/size - 0.5)); (float64(j)+0.5)*size <= box.Max.Y; j++ {
			y := (float64(j) + 0.5) * size
			from, to := math.Inf(1), math.Inf(-1)
			for k := range q {
				a, b := q[k], q[(k+1)%4]
				if (a.Y <= y) != (b.Y <= y) {
					x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
					from, to = min(from, x), max(to, x)
				}
			}
			for i := int(math.Ceil(from/size - 0.5)); (float64(i)+0.5)*size <= to; i++ {
				seen[cell{i, j}] = true
			}
		}
	}
	return sum, float64(len(seen)) * size * size
}

func TestBulkOfAnOutwardArcIsThatOfAFoldedStripOfSlices(t *testing.T) {
	for _, c := range []struct{ radius, sweep, a float64 }{{30, 1.6, 6}, {15, 2.5, 6}, {60, 0.9, 10}, {12, 1.2, 4}} {
		t.Run(fmt.Sprintf("radius %g", c.radius), func(t *testing.T) {
			net := outwardArc(c.radius, c.sweep)
			got := whole(planned(t, net, turn.Usual(c.a)), net).Before
			require.InDelta(t, c.a*c.a*c.sweep, got.Bulk, 1e-6, "a a t")
			require.InDelta(t, 2*c.a*c.sweep, got.Fullness, 1e-9, "2 a t too much edge")
			sum, covered := areas(sliced(path.NewRuler(net), 0, net.Length(), c.a, 0.05).turned, 0.03)
			require.InEpsilon(t, sum-covered, got.Bulk, 0.01)
		})
	}
}

func TestInwardArcLacksAsMuchAsAFoldedStripGapes(t *testing.T) {
	for _, c := range []struct{ radius, sweep, a float64 }{{30, 1.6, 6}, {15, 2.5, 6}, {60, 0.9, 10}} {
		net := outwardArc(c.radius, c.sweep).Reverse()
		o := turn.Usual(c.a)
		p := planned(t, net, o)
		got := whole(p, net)
		require.InDelta(t, 2*c.a*c.sweep, got.Before.Gap, 1e-9)
		require.Zero(t, got.Before.Bulk)
		// Few slices, as many as there are slits: the corners of neighbours are as far
		// apart as each slit opens.
		n := len(p.Snips)
		require.Greater(t, n, 1)
		quads := sliced(path.NewRuler(net), 0, net.Length(), c.a, net.Length()/float64(400*n)).turned
		// On the turned edge there are gaps between the fine slices, which add up.
		gaps := 0.0
		for i := 1; i < len(quads); i++ {
			gaps += quads[i][1].Dist(quads[i-1][2])
		}
		require.InEpsilon(t, gaps, 2*c.a*c.sweep, 0.01)
		opened := 0.0
		for _, s := range p.Snips {
			require.LessOrEqual(t, s.Opening, o.Opening+1e-9)
			opened += s.Opening
		}
		require.InDelta(t, 2*c.a*c.sweep, opened, 1e-9, "the slits have all of it")
	}
}

func TestBulkOfAConvexOutlineIsItsAllowanceLessTheBandInside(t *testing.T) {
	square := path.Closed(path.Point{}, path.Point{X: 80}, path.Point{X: 80, Y: 80}, path.Point{Y: 80})
	triangle := path.Closed(path.Point{}, path.Point{X: 120}, path.Point{X: 60, Y: 60 * math.Sqrt(3)})
	lens := path.Path{Closed: true, V: []path.Vertex{{Point: path.Point{}, Bulge: 0.5}, {Point: path.Point{X: 90}, Bulge: 0.5}}}
	for name, net := range map[string]path.Path{"square": square, "triangle": triangle, "lens": lens} {
		const a = 6
		band := net.Area() - outside(t, net, -a).Area()
		flat := outside(t, net, a).Area() - net.Area()
		o := turn.Usual(a)
		got := whole(planned(t, net, o), net)
		require.InEpsilon(t, flat-band, got.Before.Bulk, 0.01, name)
		require.Less(t, got.After.Bulk, 0.5*got.Before.Bulk, name)
	}
	// In closed form, for a square: a a each corner's double, and the quarters round them.
	got := whole(planned(t, square, turn.Usual(6)), square).Before.Bulk
	require.InEpsilon(t, (4+math.Pi)*36, got, 0.01)
}

// rowsLength returns the length of the line at the height over the net line between two
// distances, by chords of points on normals.
func rowLength(net *path.Ruler, from, to, h float64) float64 {
	const n = 2000
	sum := 0.0
	var before path.Point
	for i := range n + 1 {
		s := from + (to-from)*float64(i)/n
		q := net.At(s).Add(net.TangentAt(s).Right().Mul(h))
		if i > 0 {
			sum += q.Dist(before)
		}
		before = q
	}
	return sum
}

func TestWhatStaysAtVsIsThatOfRowsLaidOnTheirPlaces(t *testing.T) {
	net := outwardArc(28, 2.2)
	r := path.NewRuler(net)
	o := turn.Usual(6)
	p := planned(t, net, o)
	require.NotEmpty(t, p.Snips)
	got := whole(p, net).After
	const rows = 400
	bulk, widest := 0.0, 0.0
	n := float64(len(p.Snips))
	for i := range p.Snips {
		v := p.Snips[i]
		from, to := r.Length()*float64(i)/n, r.Length()*float64(i+1)/n
		for k := range rows {
			h := (float64(k) + 0.5) / rows * o.Allowance
			// What of the row the V takes: the chord between its sides.
			taken := 0.0
			if h > v.Gap {
				taken = v.Line.V[0].Dist(v.Line.V[2].Point) * (h - v.Gap) / (o.Allowance - v.Gap)
			}
			extra := rowLength(r, from, to, h) - taken - rowLength(r, from, to, -h)
			widest = max(widest, extra)
			bulk += max(0, extra) * o.Allowance / rows
		}
	}
	require.InEpsilon(t, bulk, got.Bulk, 0.01)
	require.InEpsilon(t, widest, got.Fullness, 0.02)
	require.LessOrEqual(t, got.Fullness, o.Fullness+1e-9)
}
