package toolpath_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/toolpath"
)

// within is how far, in mm, a cut may be from the design.
const within = 0.05

// step is how far apart, in mm, the places are at which a cut is looked at.
const step = 0.08

var offsets = []float64{0.2, 0.35, 0.5, 0.7, 1}

// cut returns where the tip goes while the pivot goes along the path, from the
// distance after on.
func cut(pivot path.Path, offset float64, heading path.Vec, after float64) []path.Point {
	k := toolpath.TrailingBlade{Offset: offset, Heading: heading.Unit()}
	var tips []path.Point
	if after == 0 {
		tips = append(tips, pivot.Start().Add(k.Heading.Mul(-offset)))
	}
	gone := 0.0
	for i := range pivot.Segments() {
		s := pivot.Segment(i)
		k.Follow(s, step, func(tip path.Point) {
			if gone >= after-1e-6 {
				tips = append(tips, tip)
			}
		})
		gone += s.Length()
	}
	return tips
}

// strays returns how far the furthest of the points is from the path.
func strays(points []path.Point, p path.Path) float64 {
	worst := 0.0
	r := path.NewRuler(p)
	for _, q := range points {
		_, d := r.Nearest(q)
		worst = max(worst, d)
	}
	return worst
}

// misses returns at how many places the path has no point within the limit.
func misses(points []path.Point, p path.Path) int {
	cell := func(q path.Point) [2]int { return [2]int{int(math.Floor(q.X / within)), int(math.Floor(q.Y / within))} }
	cells := map[[2]int][]path.Point{}
	for _, q := range points {
		cells[cell(q)] = append(cells[cell(q)], q)
	}
	missed := 0
	r := path.NewRuler(p)
	n := math.Ceil(r.Length() / step)
	for i := 0.0; i <= n; i++ {
		// The end of a closed path is its start.
		q := r.At(i / n * r.Length())
		c := cell(q)
		found := false
		for x := c[0] - 1; x <= c[0]+1; x++ {
			for y := c[1] - 1; y <= c[1]+1; y++ {
				found = found || slices.ContainsFunc(cells[[2]int{x, y}], func(o path.Point) bool { return o.Dist(q) <= within })
			}
		}
		if !found {
			missed++
		}
	}
	return missed
}

// hem returns a closed piece, counter-clockwise, 60 mm high on a hem of cells.
func hem(t require.TestingT, s motif.Shape, width, depth float64, n int) path.Path {
	c, err := s.Cell(width, depth)
	require.NoError(t, err)
	down := c.Path().Transform(path.Reflection(path.Point{}, path.Vec{X: 1}))
	var parts []path.Path
	for i := range n {
		parts = append(parts, down.Transform(path.Translation(path.Vec{X: width * float64(i)})))
	}
	right := width * float64(n)
	parts = append(parts, path.Open(path.Point{X: right, Y: 60}, path.Point{Y: 60}))
	return path.Join(1e-6, parts...).Close(1e-6)
}

// rounded returns the polygon with its corners rounded by the radius.
func rounded(r float64, corners ...path.Point) path.Path {
	p := path.Path{Closed: true}
	n := len(corners)
	for i, c := range corners {
		in, out := c.Sub(corners[(i+n-1)%n]).Unit(), corners[(i+1)%n].Sub(c).Unit()
		turn := in.AngleTo(out)
		back := r * math.Abs(math.Tan(turn/2))
		p.V = append(p.V,
			path.Vertex{Point: c.Add(in.Mul(-back)), Bulge: math.Tan(turn / 4)},
			path.Vertex{Point: c.Add(out.Mul(back))})
	}
	return p
}

func square(side float64) path.Path {
	return path.Closed(path.Point{}, path.Point{X: side}, path.Point{X: side, Y: side}, path.Point{Y: side})
}

// designs are outlines, counter-clockwise.
func designs(t require.TestingT) map[string]path.Path {
	d := map[string]path.Path{
		"square":              square(40),
		"circle r 5":          path.Circle(path.Point{X: 3, Y: 4}, 5),
		"circle r 50":         path.Circle(path.Point{}, 50),
		"points":              hem(t, motif.Shape{Kind: motif.Point}, 12, 9, 5),
		"waves":               hem(t, motif.Shape{Kind: motif.Wave}, 16, 7, 4),
		"tabs":                hem(t, motif.Shape{Kind: motif.Tab}, 20, 8, 4),
		"bulbs":               hem(t, motif.Shape{Kind: motif.Bulb}, 20, 14, 4),
		"tight rounded comb":  rounded(1, path.Point{}, path.Point{X: 20}, path.Point{X: 20, Y: 30}, path.Point{X: 13, Y: 30}, path.Point{X: 13, Y: 8}, path.Point{X: 7, Y: 8}, path.Point{X: 7, Y: 30}, path.Point{Y: 30}),
		"rounded sharp point": rounded(1, path.Point{}, path.Point{X: 40}, path.Point{X: 5, Y: 12}),
	}
	for i, l := range plottest.Lines(plottest.Scalloped(6)) {
		if l.Role == plot.Cut {
			d[fmt.Sprintf("scallops %d", i)] = l.Path
		}
	}
	return d
}

func TestTrailingBladeCutsTheDesign(t *testing.T) {
	for name, p := range designs(t) {
		for _, offset := range offsets {
			for _, least := range []float64{0, toolpath.LeastSwivel} {
				t.Run(fmt.Sprintf("%s/offset %g/least %.2f", name, offset, least), func(t *testing.T) {
					pivot, err := toolpath.Trailing(p, offset, least)
					require.NoError(t, err)
					tips := cut(pivot, offset, p.StartTangent(), 0)
					// Exact, but for corners that are crossed straight.
					require.Less(t, strays(tips, p), offset*(1-math.Cos(least/2))+1e-6)
					require.Zero(t, misses(tips, p))
				})
			}
		}
	}
}

// outlines draws simple outlines with lines, arcs, sharp and rounded corners.
func outlines(t *rapid.T) path.Path {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	corners := make([]path.Point, n)
	for i := range corners {
		r := rapid.Float64Range(8, 60).Draw(t, "radius")
		angle := (float64(i) + rapid.Float64Range(-0.3, 0.3).Draw(t, "angle")) / float64(n) * 2 * math.Pi
		corners[i] = path.Point{}.Add(path.Direction(angle).Mul(r))
	}
	p := path.Closed(corners...)
	if rapid.Bool().Draw(t, "rounded") {
		p = rounded(rapid.Float64Range(0.3, 2).Draw(t, "corner radius"), corners...)
	}
	for i := range p.V {
		if p.V[i].Bulge == 0 && rapid.Bool().Draw(t, "arc") {
			p.V[i].Bulge = rapid.Float64Range(-0.5, 0.5).Draw(t, "bulge")
		}
	}
	if !p.Simple() {
		t.Skip("crosses itself")
	}
	if rapid.Bool().Draw(t, "clockwise") {
		return p.Reverse()
	}
	return p
}

func TestTrailingBladeCutsAnyOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outlines(t)
		offset := rapid.Float64Range(0.1, 1.5).Draw(t, "offset")
		pivot, err := toolpath.Trailing(p, offset, toolpath.LeastSwivel)
		require.NoError(t, err)
		tips := cut(pivot, offset, p.StartTangent(), 0)
		require.Less(t, strays(tips, p), offset*(1-math.Cos(toolpath.LeastSwivel/2))+1e-6)
		require.Zero(t, misses(tips, p))
		require.False(t, pivot.Closed)
		require.InDelta(t, 0, pivot.Start().Dist(pivot.End()), 1e-9, "the last swivel comes back to the first heading")
	})
}

func TestTrailingBladeCutsPathsThatCrossThemselves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plottest.RandomPath(t)
		if p.Segments() == 0 || p.Length() > 1000 {
			t.Skip("a point, or long to measure")
		}
		offset := rapid.SampledFrom(offsets).Draw(t, "offset")
		pivot, err := toolpath.Trailing(p, offset, 0)
		require.NoError(t, err)
		first := slices.IndexFunc(p.V[1:], func(v path.Vertex) bool { return v.Dist(p.Start()) >= 0.001 })
		if first != 0 {
			t.Skip("does not begin with a heading")
		}
		tips := cut(pivot, offset, p.StartTangent(), 0)
		require.Less(t, strays(tips, p), 0.003)
		require.Zero(t, misses(tips, p))
	})
}

func TestTrailingMovesWithThePath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outlines(t)
		offset := rapid.Float64Range(0.1, 1.5).Draw(t, "offset")
		m := path.Frame(path.Point{X: rapid.Float64Range(-900, 900).Draw(t, "x"), Y: 7}, path.Direction(rapid.Float64Range(-3, 3).Draw(t, "turn")))
		if rapid.Bool().Draw(t, "mirrored") {
			m = m.Then(path.Reflection(path.Point{}, path.Vec{X: 3, Y: 1}))
		}
		a, err := toolpath.Trailing(p.Transform(m), offset, toolpath.LeastSwivel)
		require.NoError(t, err)
		b, err := toolpath.Trailing(p, offset, toolpath.LeastSwivel)
		require.NoError(t, err)
		require.Less(t, plottest.Deviation(a, b.Transform(m)), 1e-7)
	})
}

func TestPivotOfCircleRunsOnLargerCircle(t *testing.T) {
	pivot, err := toolpath.Trailing(path.Circle(path.Point{X: 1, Y: 2}, 5), 0.3, 0)
	require.NoError(t, err)
	require.Len(t, pivot.V, 3, "two half circles")
	for i := range 2 {
		s := pivot.Segment(i)
		require.InDelta(t, 5.00899, s.Radius(), 5e-6)
		require.InDelta(t, math.Sqrt(25+0.09), s.Radius(), 1e-12)
		require.InDelta(t, 0, s.Centre().Dist(path.Point{X: 1, Y: 2}), 1e-12)
	}
	require.InDelta(t, 2*math.Pi*math.Sqrt(25.09), pivot.Length(), 1e-11)
}

func TestPivotRunsOnLargerCircleThanAnArcSmallerThanItsOffset(t *testing.T) {
	pivot, err := toolpath.Trailing(path.Circle(path.Point{}, 0.3).Reverse(), 0.4, 0)
	require.NoError(t, err)
	require.InDelta(t, 0.5, pivot.Segment(0).Radius(), 1e-12)
	require.InDelta(t, -math.Pi, pivot.Segment(0).Sweep(), 1e-12)
}

func TestStraightLineIsMovedOnByTheOffset(t *testing.T) {
	pivot, err := toolpath.Trailing(path.Open(path.Point{X: 1, Y: 1}, path.Point{X: 4, Y: 5}), 0.5, 0)
	require.NoError(t, err)
	require.False(t, pivot.Closed)
	require.InDelta(t, 0, plottest.Deviation(pivot, path.Open(path.Point{X: 1.3, Y: 1.4}, path.Point{X: 4.3, Y: 5.4})), 1e-12)
}

func TestRightAngleSwivelsOnQuarterCircleOfTheOffset(t *testing.T) {
	for _, side := range []float64{1, -1} {
		corner := path.Point{X: 10}
		pivot, err := toolpath.Trailing(path.Open(path.Point{}, corner, path.Point{X: 10, Y: side * 10}), 0.5, toolpath.LeastSwivel)
		require.NoError(t, err)
		require.Len(t, pivot.V, 4)
		s := pivot.Segment(1)
		require.InDelta(t, 0, s.A.Dist(path.Point{X: 10.5}), 1e-12)
		require.InDelta(t, 0, s.B.Dist(path.Point{X: 10, Y: side * 0.5}), 1e-12)
		require.InDelta(t, 0, s.Centre().Dist(corner), 1e-12)
		require.InDelta(t, side*math.Pi/2, s.Sweep(), 1e-12)
	}
}

func TestPivotOfClosedPathIsLongerByTheSwivels(t *testing.T) {
	// Convex, so the turns are one whole turn: at corners on the offset's radius,
	// on arcs on sqrt(r^2+offset^2) in place of r.
	pivot, err := toolpath.Trailing(square(40), 0.5, 0)
	require.NoError(t, err)
	require.InDelta(t, 160+2*math.Pi*0.5, pivot.Length(), 1e-11)

	p := rounded(3, path.Point{}, path.Point{X: 30}, path.Point{X: 30, Y: 20}, path.Point{Y: 20})
	pivot, err = toolpath.Trailing(p, 4, 0)
	require.NoError(t, err)
	bends := 0.0 // where lines meet arcs the path bends, but has no gap
	for _, v := range pivot.V {
		bends += math.Abs(v.Bulge)
	}
	require.InDelta(t, 4*math.Tan(math.Pi/8), bends, 1e-12)
	require.InDelta(t, 2*(24+14)+2*math.Pi*5, pivot.Length(), 1e-11)
}

func TestSwivelTurnsTheShorterWayAndLeftAtAHalfTurn(t *testing.T) {
	for _, degrees := range []float64{1, 90, 179, -1, -90, -179, 180} {
		back := path.Point{X: 10}.Add(path.Direction(degrees * math.Pi / 180).Mul(10))
		pivot, err := toolpath.Trailing(path.Open(path.Point{}, path.Point{X: 10}, back), 0.5, 0)
		require.NoError(t, err)
		require.InDelta(t, degrees*math.Pi/180, pivot.Segment(1).Sweep(), 1e-12)
	}
	// The same slit in all directions, where rounding would choose.
	for i := range 100 {
		a, b := path.Point{X: 1.1, Y: -0.3}, path.Point{X: 1.1, Y: -0.3}.Add(path.Direction(float64(i)).Mul(4.7))
		pivot, err := toolpath.Trailing(path.Path{Closed: true, V: []path.Vertex{{Point: a}, {Point: b}}}, 0.5, 0)
		require.NoError(t, err)
		require.Len(t, pivot.V, 5)
		require.InDelta(t, math.Pi, pivot.Segment(1).Sweep(), 1e-9)
		require.InDelta(t, math.Pi, pivot.Segment(3).Sweep(), 1e-9)
	}
}

func TestTipStandsStillWhileTheBladeSwivels(t *testing.T) {
	for _, offset := range offsets {
		for _, degrees := range []float64{5, 45, 90, 170, 180, -20, -120} {
			corner := path.Point{X: 10, Y: 3}
			back := corner.Add(path.Direction(degrees * math.Pi / 180).Mul(10))
			pivot, err := toolpath.Trailing(path.Open(path.Point{Y: 3}, corner, back), offset, 0)
			require.NoError(t, err)
			k, n := toolpath.TrailingBlade{Offset: offset, Heading: path.Vec{X: 1}}, 0
			k.Follow(pivot.Segment(1), step, func(tip path.Point) {
				n++
				require.InDelta(t, 0, tip.Dist(corner), 1e-6)
			})
			require.Positive(t, n)
			require.InDelta(t, 0, math.Sin(k.Heading.AngleTo(back.Sub(corner))), 1e-6, "and then heads along the next line")
		}
	}
}

func TestCornerCrossedStraightStraysByNoMoreThanStated(t *testing.T) {
	for _, offset := range offsets {
		for _, degrees := range []float64{3, 10, 15, 30, 60, 90, 120, -15, -45} {
			turn := degrees * math.Pi / 180
			corner := path.Point{X: 10}
			p := path.Open(path.Point{}, corner, corner.Add(path.Direction(turn).Mul(10)))
			pivot, err := toolpath.Trailing(p, offset, math.Abs(turn)+1e-9)
			require.NoError(t, err)
			require.Len(t, pivot.V, 4)
			require.Zero(t, pivot.V[1].Bulge)

			stated := offset * (1 - math.Cos(turn/2))
			tips := cut(pivot, offset, path.Vec{X: 1}, 0)
			require.LessOrEqual(t, strays(tips, p), stated)
			if math.Abs(degrees) <= 45 {
				require.Zero(t, misses(tips, p))
			}

			// While it turns the tip is drawn back, in its own cut, by the height of
			// the arc that the pivot cuts off: a swivel is what holds it.
			k := toolpath.TrailingBlade{Offset: offset, Heading: path.Vec{X: 1}}
			most := 0.0
			k.Follow(pivot.Segment(1), step, func(tip path.Point) { most = max(most, tip.Dist(corner)) })
			require.InEpsilon(t, stated, most, 0.05+turn*turn/10)
		}
	}
	require.Less(t, 1-math.Cos(toolpath.LeastSwivel/2), 0.01, "as the constant says")
}

func TestManySmallCornersStrayNoFurther(t *testing.T) {
	for _, n := range []int{25, 60, 400} {
		p := path.Path{Closed: true}
		for i := range n {
			p.V = append(p.V, path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / float64(n)).Mul(10))})
		}
		for _, offset := range offsets {
			pivot, err := toolpath.Trailing(p, offset, toolpath.LeastSwivel)
			require.NoError(t, err)
			tips := cut(pivot, offset, p.StartTangent(), 0)
			require.LessOrEqual(t, strays(tips, p), offset*(1-math.Cos(math.Pi/float64(n)))*1.05)
			require.Zero(t, misses(tips, p))
		}
	}
}

func TestUncompensatedCircleIsCutTooSmall(t *testing.T) {
	for _, r := range []float64{2, 5, 50} {
		for _, offset := range offsets {
			p := path.Circle(path.Point{}, r)
			tips := cut(p, offset, p.StartTangent(), 0)
			for _, tip := range tips[len(tips)-len(tips)/20:] {
				require.InDelta(t, math.Sqrt(r*r-offset*offset), tip.Dist(path.Point{}), 2*offset*math.Exp(-r/offset)+1e-9)
			}
		}
	}
}

func TestUncompensatedCornerIsRoundedToATractrix(t *testing.T) {
	// The tractrix x = d (-ln tan(a/2) - cos a), y = d sin a begins at a = pi/2,
	// a length d before the corner, and runs out along the next edge.
	nearest := math.Inf(1)
	for a := math.Pi / 2; a > 0; a -= 1e-5 {
		nearest = min(nearest, math.Hypot(-math.Log(math.Tan(a/2))-math.Cos(a), math.Sin(a)))
	}
	corner := path.Point{X: 10}
	p := path.Open(path.Point{}, corner)
	for i := range 1000 { // so that it is looked at in small steps
		p.V = append(p.V, path.Vertex{Point: path.Point{X: 10, Y: float64(i+1) * 0.01}})
	}
	for _, offset := range offsets {
		got := math.Inf(1)
		for _, tip := range cut(p, offset, path.Vec{X: 1}, 0) {
			got = min(got, tip.Dist(corner))
		}
		require.InDelta(t, nearest*offset, got, 1e-4)
		require.Greater(t, got, within, "so without swivels the corner is lost")
	}
}

func TestCircleCompensatedTwiceIsAsFarOffAsUncompensated(t *testing.T) {
	const r, offset = 5, 0.5
	p := path.Circle(path.Point{}, r)
	once, err := toolpath.Trailing(p, offset, 0)
	require.NoError(t, err)
	twice, err := toolpath.Trailing(once, offset, 0)
	require.NoError(t, err)
	for _, tip := range cut(twice, offset, twice.StartTangent().Rotate(-math.Asin(offset/twice.Segment(0).Radius())), 0) {
		require.InDelta(t, math.Sqrt(r*r+offset*offset), tip.Dist(path.Point{}), 1e-6)
	}
}

func TestSquareCompensatedTwiceHasTailsAsLongAsTheOffset(t *testing.T) {
	p := square(20)
	for _, offset := range offsets {
		once, err := toolpath.Trailing(p, offset, 0)
		require.NoError(t, err)
		twice, err := toolpath.Trailing(once, offset, 0)
		require.NoError(t, err)
		require.InDelta(t, offset, strays(cut(twice, offset, path.Vec{X: 1}, 0), p), 0.02*offset)
	}
}

// TestPlaybackSolvesTheBladesEquation compares the closed form, by which the
// other tests play a cut back, with Runge-Kutta steps of dT/ds = (u.P')u.
func TestPlaybackSolvesTheBladesEquation(t *testing.T) {
	const offset = 0.5
	for _, start := range []float64{0, 1, 3, -2} {
		pivot := path.FromSegments(
			path.Line(path.Point{}, path.Point{X: 1}),
			path.Segment{A: path.Point{X: 1}, B: path.Point{X: 3, Y: 2}, Bulge: 0.5},
			path.Segment{A: path.Point{X: 3, Y: 2}, B: path.Point{X: 3.5, Y: 2}, Bulge: -1}, // tighter than the offset
			path.Line(path.Point{X: 3.5, Y: 2}, path.Point{X: 3.4, Y: 1}),
		)
		k := toolpath.TrailingBlade{Offset: offset, Heading: path.Direction(start)}
		tip := path.Point{}.Add(k.Heading.Mul(-offset))
		for i := range pivot.Segments() {
			s := pivot.Segment(i)
			var last path.Point
			k.Follow(s, step, func(p path.Point) { last = p })
			slope := func(at float64, tip path.Point) path.Vec {
				u := s.At(at).Sub(tip).Unit()
				return u.Mul(u.Dot(s.TangentAt(at)))
			}
			const n = 2000
			h := s.Length() / n
			for j := range n {
				a := float64(j) / n
				k1 := slope(a, tip)
				k2 := slope(a+0.5/n, tip.Add(k1.Mul(h/2)))
				k3 := slope(a+0.5/n, tip.Add(k2.Mul(h/2)))
				k4 := slope(a+1.0/n, tip.Add(k3.Mul(h)))
				tip = tip.Add(k1.Add(k2.Mul(2)).Add(k3.Mul(2)).Add(k4).Mul(h / 6))
			}
			require.InDelta(t, 0, tip.Dist(last), 1e-9)
			require.InDelta(t, offset, tip.Dist(s.B), 1e-9)
		}
	}
}

func TestPathWithoutOffsetOrLengthIsReturnedAsItIs(t *testing.T) {
	p := square(10)
	got, err := toolpath.Trailing(p, 0, 0)
	require.NoError(t, err)
	require.Equal(t, p, got)
	for _, p := range []path.Path{
		{}, path.Open(path.Point{X: 3}), {Closed: true}, path.Closed(path.Point{X: 3}),
		path.Open(path.Point{X: 3}, path.Point{X: 3}), path.Closed(path.Point{X: 3}, path.Point{X: 3}, path.Point{X: 3}),
		path.Open(path.Point{X: 3}, path.Point{X: 3.0005}),
		{V: []path.Vertex{{Point: path.Point{X: 3}, Bulge: 2}, {Point: path.Point{X: 3}}}},
	} {
		got, err := toolpath.Trailing(p, 0.5, 0)
		require.NoError(t, err)
		require.Equal(t, p, got)
	}
}

func TestBladeDoesNotTurnForShortSegments(t *testing.T) {
	p := path.Open(path.Point{}, path.Point{X: 5}, path.Point{X: 5, Y: 0.0005}, path.Point{X: 5, Y: 0.0005}, path.Point{X: 5}, path.Point{X: 9})
	pivot, err := toolpath.Trailing(p, 0.5, 0)
	require.NoError(t, err)
	require.Equal(t, path.Open(path.Point{X: 0.5}, path.Point{X: 5.5}, path.Point{X: 9.5}), pivot)

	// But many of them are a line.
	long := path.Path{}
	for i := range 10_001 {
		long.V = append(long.V, path.Vertex{Point: path.Point{X: float64(i) * 0.0004}})
	}
	pivot, err = toolpath.Trailing(long, 0.5, 0)
	require.NoError(t, err)
	require.Less(t, plottest.Deviation(pivot, path.Open(path.Point{X: 0.5}, path.Point{X: 4.5})), 0.001)
}

func TestPathOfTenThousandVerticesIsCut(t *testing.T) {
	p := path.Path{}
	for i := range 10_000 {
		p.V = append(p.V, path.Vertex{Point: path.Point{X: float64(i) * 0.2, Y: float64(i%7) * 3}, Bulge: float64(i%3-1) * 0.7})
	}
	pivot, err := toolpath.Trailing(p, 0.4, 0)
	require.NoError(t, err)
	require.True(t, len(pivot.V) > len(p.V) && len(pivot.V) <= 2*len(p.V))
	require.True(t, pivot.Finite())
}

func TestImpossibleCutsAreRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := square(10)
	offset := func(got string) string {
		return "the blade's offset is " + got + " mm: give 0 or more, as measured from the knife's pivot to its tip"
	}
	for _, c := range []struct {
		p             path.Path
		offset, least float64
		want          string
	}{
		{good, nan, 0, offset("NaN")},
		{good, -0.1, 0, offset("-0.1")},
		{good, inf, 0, offset("+Inf")},
		{good, 0.3, nan, "the least turn to swivel at is NaN rad: give an angle of 0 or more"},
		{good, 0.3, -1, "the least turn to swivel at is -1 rad: give an angle of 0 or more"},
		{
			path.Open(path.Point{}, path.Point{X: nan}), 0.3, 0,
			"vertex 2 of 2 at (NaN, 0) with bulge 0 is not a number or beyond 1000 km: check the numbers that it is made from",
		},
		{
			path.Open(path.Point{Y: -inf}, path.Point{}), 0, 0,
			"vertex 1 of 2 at (0, -Inf) with bulge 0 is not a number or beyond 1000 km: check the numbers that it is made from",
		},
		{
			path.Open(path.Point{}, path.Point{Y: 1e200}), 0.3, 0,
			"vertex 2 of 2 at (0, 1e+200) with bulge 0 is not a number or beyond 1000 km: check the numbers that it is made from",
		},
		{
			path.Path{V: []path.Vertex{{Bulge: nan}, {Point: path.Point{X: 1}}}}, 0.3, 0,
			"vertex 1 of 2 at (0, 0) with bulge NaN is not a number or beyond 1000 km: check the numbers that it is made from",
		},
		{
			path.Path{V: []path.Vertex{{Bulge: 1e200}, {Point: path.Point{X: 1}}}}, 0.3, 0,
			"the arc from vertex 1 of 2 at (0, 0) with bulge 1e+200 is longer than 1000 km: check the numbers that it is made from",
		},
	} {
		got, err := toolpath.Trailing(c.p, c.offset, c.least)
		require.EqualError(t, err, c.want)
		require.Empty(t, got)
	}
}

func TestOvercutRunsOnAlongThePath(t *testing.T) {
	p := square(10)
	for _, length := range []float64{0.3, 10, 12, 39} {
		got := toolpath.Overcut(p, length)
		require.False(t, got.Closed)
		require.InDelta(t, 40+length, got.Length(), 1e-9)
		require.Equal(t, p.Start(), got.Start())
		require.InDelta(t, 0, got.End().Dist(path.NewRuler(p).At(length)), 1e-9)
		require.InDelta(t, 0, plottest.Deviation(got, p), 1e-9)
	}
	c := toolpath.Overcut(path.Circle(path.Point{}, 5), 2)
	require.InDelta(t, 10*math.Pi+2, c.Length(), 1e-9)
	require.InDelta(t, 0, c.End().Dist(path.Point{}.Add(path.Direction(0.4).Mul(5))), 1e-9)
}

func TestOvercutGoesRoundOnceAtMost(t *testing.T) {
	for _, length := range []float64{40, 41, 1e300, math.Inf(1)} {
		require.InDelta(t, 80, toolpath.Overcut(square(10), length).Length(), 1e-9)
	}
}

func TestOpenPathHasNoOvercut(t *testing.T) {
	open := path.Open(path.Point{}, path.Point{X: 4})
	require.Equal(t, open, toolpath.Overcut(open, 1))
	for _, p := range []path.Path{{}, {Closed: true}, path.Closed(path.Point{X: 1}), path.Closed(path.Point{X: 1}, path.Point{X: 1}), path.Closed(path.Point{}, path.Point{X: math.Inf(1)})} {
		require.Equal(t, p, toolpath.Overcut(p, 1))
	}
	for _, length := range []float64{0, -1, math.NaN()} {
		require.Equal(t, square(10), toolpath.Overcut(square(10), length))
	}
}

func TestClosedPathEndsWithTheSwivelAtItsStart(t *testing.T) {
	pivot, err := toolpath.Trailing(square(10), 0.5, 0)
	require.NoError(t, err)
	last := pivot.Segment(pivot.Segments() - 1)
	require.InDelta(t, math.Pi/2, last.Sweep(), 1e-12)
	require.InDelta(t, 0, last.Centre().Dist(path.Point{}), 1e-12)
	require.Equal(t, pivot.Start(), pivot.End())
}

func TestOvercutSwivelsAtTheStartAndRunsOn(t *testing.T) {
	whole, err := toolpath.Trailing(square(10), 0.5, 0)
	require.NoError(t, err)
	over, err := toolpath.Trailing(toolpath.Overcut(square(10), 0.7), 0.5, 0)
	require.NoError(t, err)
	require.Equal(t, len(whole.V)+1, len(over.V))
	require.InDelta(t, whole.Length()+0.7, over.Length(), 1e-9)
	require.InDelta(t, 0, over.End().Dist(path.Point{X: 1.2}), 1e-9)
}

func BenchmarkTrailing(b *testing.B) {
	outline := func(n int) path.Path {
		lines := plottest.Lines(plottest.Scalloped(n))
		return lines[slices.IndexFunc(lines, func(l plot.Line) bool { return l.Role == plot.Cut })].Path
	}
	for name, p := range map[string]path.Path{"point": path.Open(path.Point{}), "60-scallops": outline(60), "10000-scallops": outline(10_000)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, err := toolpath.Trailing(p, 0.35, toolpath.LeastSwivel)
				require.NoError(b, err)
			}
		})
	}
}

func ExampleTrailing() {
	corner := path.Open(path.Point{}, path.Point{X: 20}, path.Point{X: 20, Y: 10})
	pivot, err := toolpath.Trailing(corner, 0.5, toolpath.LeastSwivel)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range pivot.Segments() {
		s := pivot.Segment(i)
		fmt.Printf("(%.1f, %.1f) to (%.1f, %.1f), turning by %.0f degrees\n", s.A.X, s.A.Y, s.B.X, s.B.Y, s.Sweep()*180/math.Pi)
	}
	// Output:
	// (0.5, 0.0) to (20.5, 0.0), turning by 0 degrees
	// (20.5, 0.0) to (20.0, 0.5), turning by 90 degrees
	// (20.0, 0.5) to (20.0, 10.5), turning by 0 degrees
}
