package facing

import (
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
)

// A quarter circle of 2 mm comes to the side at the origin, 2 degrees too far.
func TestTipThatLeansAcrossItsImageLosesTheLoop(t *testing.T) {
	up := path.Vec{Y: 1}
	arc := path.Path{V: []path.Vertex{{Point: path.Point{X: -2, Y: 2}, Bulge: -0.4142}, {}}}
	line := path.Join(0, path.Open(path.Point{X: -30, Y: 2}, arc.Start()), arc).Transform(path.Rotation(path.Point{}, -0.035))
	e := ending{line: line, up: up, end: fit.Finish}
	near, image := withoutLoop(e.mirrored(20))
	require.InDelta(t, 0, near.End().Dist(image.Start()), 1e-9)
	require.InDelta(t, 0, near.End().X, 1e-9, "on the side")
	require.InDelta(t, 2*2*0.035, near.End().Y, 0.01, "a chord of twice the angle")
	both := path.Join(path.Coincident, near, image)
	require.Empty(t, both.SelfIntersections())
	for _, corner := range []path.Path{near, image} {
		require.Greater(t, corner.Length(), 20.0)
	}
	parts, err := both.Offset(6, path.Corner{})
	require.NoError(t, err)
	require.Len(t, parts, 1)

	// One that does not lean across stays as it is.
	e.line = line.Transform(path.Rotation(path.Point{}, 0.07))
	whole, other := e.mirrored(20)
	near, image = withoutLoop(whole, other)
	require.Equal(t, whole, near)
	require.Equal(t, other, image)
}

// It leans back to 27.5 mm from the side, over a valley of 30 mm.
func TestLobeThatJustComesWithinReachIsMirrored(t *testing.T) {
	line := path.Open(path.Point{X: -160, Y: -12}, path.Point{X: -27.5, Y: -12}, path.Point{X: -30}, path.Point{})
	near, _ := ending{line: line, up: path.Vec{Y: 1}, end: fit.Finish}.mirrored(28)
	require.InDelta(t, -27.5, near.V[1].X, 1e-9)
	require.Less(t, near.Start().X, -28.0)
}
