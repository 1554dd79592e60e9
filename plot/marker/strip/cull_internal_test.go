package strip

import (
	"testing"

	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func shapeOf(t *rapid.T) *shape {
	ring := rapid.SampledFrom([]func(*rapid.T) []path.Point{star, hook}).Draw(t, "ring")(t)
	if !asPath(ring).Simple() {
		t.Skip("its sides cross")
	}
	parts, ok := convexParts(ring)
	if !ok {
		t.Skip("it cannot be divided")
	}
	return &shape{parts: parts, hull: hullOf(ring), margin: rapid.SampledFrom([]float64{0, 1.5}).Draw(t, "margin")}
}

func TestFewerHullsCoverTheSamePlaces(t *testing.T) {
	dropped := 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := shapeOf(t), shapeOf(t)
		const slack = 1e-7
		all, few := between(a, b, slack, cornerTurn), between(a, b, slack, cornerTurn)
		few.cull()
		require.LessOrEqual(t, len(few.hulls), len(all.hulls))
		dropped += len(all.hulls) - len(few.hulls)
		agree := func(p path.Point) {
			before, after := all.depth(p.X, p.Y), few.depth(p.X, p.Y)
			require.LessOrEqual(t, after, before*(1+1e-12))
			if before > 10*slack {
				require.Positive(t, after, "at %v, where the depth was %g", p, before)
			}
		}
		// What is not covered any more has corners where edges meet: those of hulls, and where their sides cross.
		rings, _ := all.rings()
		for range 200 {
			i, k := rapid.IntRange(0, len(rings)-1).Draw(t, "hull"), rapid.IntRange(0, len(rings)-1).Draw(t, "other")
			for _, c := range asPath(rings[i]).Intersections(asPath(rings[k])) {
				agree(c.Point)
			}
			for _, p := range rings[i] {
				agree(p)
			}
			share := func(name string) float64 { return rapid.Float64Range(0, 1).Draw(t, name) }
			agree(path.Point{X: all.x0 + share("x")*(all.x1-all.x0), Y: all.y0 + share("y")*(all.y1-all.y0)})
		}
	})
	require.Positive(t, dropped)
}
