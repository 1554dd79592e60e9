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
