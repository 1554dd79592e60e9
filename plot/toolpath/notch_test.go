package toolpath_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/toolpath"
)

func TestVOnAStraightEdgeIsAsWideAndDeepAsItSays(t *testing.T) {
	slit := path.Open(path.Point{X: 20}, path.Point{X: 20, Y: 6})
	require.Equal(t, path.Open(path.Point{X: 18}, path.Point{X: 20, Y: 6}, path.Point{X: 22}), toolpath.V(slit, 4, square(40)))
	require.Equal(t, path.Open(path.Point{X: 22}, path.Point{X: 20, Y: 6}, path.Point{X: 18}), toolpath.V(slit, 4, square(40).Reverse()))
}

func TestVOfUnknownWidthIsHalfAsWideAsDeep(t *testing.T) {
	slit := path.Open(path.Point{X: 20}, path.Point{X: 20, Y: 6})
	for _, width := range []float64{0, -1, math.NaN()} {
		require.Equal(t, path.Open(path.Point{X: 18.5}, path.Point{X: 20, Y: 6}, path.Point{X: 21.5}), toolpath.V(slit, width, square(40)))
	}
}

func TestVEndsOnTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := outlines(t)
		r := path.NewRuler(p)
		at := rapid.Float64Range(0, 1).Draw(t, "at") * r.Length()
		in := r.TangentAt(at).Left()
		if p.Area() < 0 {
			in = in.Neg()
		}
		depth := rapid.Float64Range(1, 6).Draw(t, "depth")
		slit := path.Open(r.At(at), r.At(at).Add(in.Mul(depth)))
		width := rapid.Float64Range(0, 8).Draw(t, "width")
		v := toolpath.V(slit, width, p)
		require.Len(t, v.V, 3)
		require.Equal(t, slit.End(), v.V[1].Point)
		if width == 0 {
			width = depth / 2
		}
		// Rulers measure where the ends are: both half of the width away. A place
		// where the outline nearly meets itself could be either.
		for i, side := range []float64{-1, 1} {
			end := v.V[2*i].Point
			_, off := r.Nearest(end)
			require.Less(t, off, 1e-9)
			require.InDelta(t, 0, end.Dist(r.At(at+side*width/2)), 1e-6)
		}
		require.LessOrEqual(t, v.Start().Dist(v.End()), width+1e-9)
	})
}

func TestVRoundACornerEndsOnBothEdges(t *testing.T) {
	slit := path.Open(path.Point{X: 39}, path.Point{X: 38, Y: 5})
	require.Equal(t, path.Open(path.Point{X: 37}, path.Point{X: 38, Y: 5}, path.Point{X: 40, Y: 1}), toolpath.V(slit, 4, square(40)))
}

func TestVEndsWhereAnOpenEdgeDoes(t *testing.T) {
	edge := path.Open(path.Point{}, path.Point{X: 30})
	slit := path.Open(path.Point{X: 1}, path.Point{X: 1, Y: 5})
	for width, right := range map[float64]float64{4: 3, 1e300: 30, math.Inf(1): 30} {
		require.Equal(t, path.Open(path.Point{}, path.Point{X: 1, Y: 5}, path.Point{X: right}), toolpath.V(slit, width, edge))
	}
}

func TestVTakesHalfOfAnOutlineAtTheMost(t *testing.T) {
	slit := path.Open(path.Point{X: 20}, path.Point{X: 20, Y: 6})
	require.Equal(t, path.Open(path.Point{Y: 20}, path.Point{X: 20, Y: 6}, path.Point{X: 40, Y: 20}), toolpath.V(slit, 1e6, square(40)))
}

func TestNotchesOfASheetBecomeVs(t *testing.T) {
	for _, g := range plottest.Scalloped(6).Groups {
		var outline path.Path
		for _, l := range g.Lines {
			if l.Role == plot.Cut {
				outline = l.Path
			}
		}
		notches := 0
		for _, l := range g.Lines {
			if l.Role == plot.Notch {
				notches++
				v := toolpath.V(l.Path, l.Width, outline)
				require.InDelta(t, 2, v.Start().Dist(v.End()), 1e-9)
				require.InDelta(t, 2*math.Hypot(1, 4), v.Length(), 1e-9)
				require.Less(t, bites([]path.Point{v.Start(), v.End()}, outline), 1e-9)
				require.True(t, outline.Contains(v.V[1].Point))
			}
		}
		require.Equal(t, 1, notches)
	}
}

func TestSlitThatIsNoneStaysAsItIs(t *testing.T) {
	slit := path.Open(path.Point{X: 20}, path.Point{X: 20, Y: 6})
	nan := path.Open(path.Point{X: math.NaN()}, path.Point{})
	for _, c := range []struct{ slit, outline path.Path }{
		{path.Path{}, square(40)},
		{path.Open(path.Point{X: 20}), square(40)},
		{path.Open(path.Point{X: 20}, path.Point{X: 20}), square(40)},
		{path.Closed(path.Point{X: 20}, path.Point{X: 20, Y: 6}), square(40)},
		{slit, path.Path{}},
		{slit, path.Open(path.Point{X: 20})},
		{slit, nan},
		{path.Open(path.Point{X: 20, Y: 0.1}, path.Point{X: 20, Y: 6}), square(40)},
	} {
		require.Equal(t, c.slit, toolpath.V(c.slit, 4, c.outline))
	}
	require.True(t, math.IsNaN(toolpath.V(nan, 4, square(40)).V[0].X))
}

func TestVIsCutByATrailingBlade(t *testing.T) {
	v := toolpath.V(path.Open(path.Point{X: 20}, path.Point{X: 20, Y: 6}), 3, square(40))
	for _, offset := range offsets {
		pivot, err := toolpath.Trailing(v, offset, toolpath.LeastSwivel)
		require.NoError(t, err)
		tips := cut(pivot, offset, v.StartTangent(), 0)
		require.Less(t, strays(tips, v), 1e-6)
		require.Zero(t, misses(tips, v))
	}
}

func TestAnyNumbersGiveFinitePathsOrAnError(t *testing.T) {
	number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-2, 2), rapid.SampledFrom([]float64{0, 1, -1, math.NaN(), math.Inf(1), 1e9, -1e9, 1e-300, 1e-9, 1e12}))
	rapid.Check(t, func(t *rapid.T) {
		p := path.Path{Closed: rapid.Bool().Draw(t, "closed")}
		for range rapid.IntRange(0, 5).Draw(t, "vertices") {
			p.V = append(p.V, path.Vertex{Point: path.Point{X: number.Draw(t, "x"), Y: number.Draw(t, "y")}, Bulge: number.Draw(t, "bulge")})
		}
		before := slices.Clone(p.V)
		offset, length, width := number.Draw(t, "offset"), number.Draw(t, "length"), number.Draw(t, "width")
		pivot, err := toolpath.Trailing(p, offset, number.Draw(t, "least"))
		require.True(t, err != nil || pivot.Finite())
		over := toolpath.Overcut(p, length)
		lead, _ := toolpath.LeadIn(over, length, width, p)
		own, _ := toolpath.LeadIn(p, length, width)
		v := toolpath.V(p, width, over)
		w := toolpath.V(path.Open(path.Point{}, path.Point{X: 1, Y: 4}), width, p)
		if p.Finite() {
			for _, q := range []path.Path{over, lead, own, v, w} {
				require.True(t, q.Finite())
			}
		}
		require.True(t, slices.EqualFunc(before, p.V, func(a, b path.Vertex) bool { return fmt.Sprint(a) == fmt.Sprint(b) }), "the path given stays as it is")
	})
}
