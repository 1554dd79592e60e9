package plot_test

import (
	"math"
	"testing"

	"engrail/motif/path"
	"engrail/plot"

	"github.com/stretchr/testify/require"
)

func TestMirroredTextStaysReadable(t *testing.T) {
	g := plot.Group{Texts: []plot.Text{{At: path.Point{X: 10, Y: 5}, Height: 4, Align: plot.Left, String: "front"}}}
	across := g.Transform(path.Reflection(path.Point{}, path.Vec{Y: 1})).Texts[0]
	require.Equal(t, path.Point{X: -10, Y: 5}, across.At)
	require.InDelta(t, 0, across.Angle, 1e-12)
	require.Equal(t, plot.Right, across.Align)

	over := g.Transform(path.Reflection(path.Point{}, path.Vec{X: 1})).Texts[0]
	require.InDelta(t, 0, over.Angle, 1e-12)
	require.Equal(t, plot.Left, over.Align)

	turned := g.Transform(path.Rotation(path.Point{}, math.Pi/2)).Texts[0]
	require.InDelta(t, math.Pi/2, turned.Angle, 1e-12)
	require.Equal(t, plot.Left, turned.Align)
}

func TestRolesAreReadBackByName(t *testing.T) {
	for _, r := range plot.Roles() {
		got, ok := plot.ParseRole(r.String())
		require.True(t, ok)
		require.Equal(t, r, got)
	}
	_, ok := plot.ParseRole("welt")
	require.False(t, ok)
}

func TestExtentHoldsLinesAndTextsAndRefusesWhatIsNoNumber(t *testing.T) {
	line := plot.Line{Role: plot.Cut, Path: path.Open(path.Point{}, path.Point{X: 10})}
	box, err := plot.Drawing{Groups: []plot.Group{{ID: "a", Lines: []plot.Line{line}, Texts: []plot.Text{{At: path.Point{X: 2, Y: 30}, Height: 5, String: "i"}}}}}.Extent()
	require.NoError(t, err)
	require.Equal(t, path.Box{Max: path.Point{X: 10, Y: 35}}, box)

	_, err = plot.Drawing{}.Extent()
	require.EqualError(t, err, "the drawing has no lines; draw something")
	_, err = plot.Drawing{Groups: []plot.Group{{ID: "a", Lines: []plot.Line{line, {Role: plot.Cut, Path: path.Open(path.Point{Y: math.Inf(1)}, path.Point{})}}}}}.Extent()
	require.ErrorContains(t, err, `cut line 2 of group "a" has a coordinate that is not a number or not finite`)
	_, err = plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{line}, Texts: []plot.Text{{Height: math.NaN(), String: "i"}}}}}.Extent()
	require.ErrorContains(t, err, `text "i" of a group without a name has a place`)
}
