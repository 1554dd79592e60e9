package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLiningIsTheGarmentWithTheHemOfItsFacing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		o.Lined = true
		made := makeOrSkip(t, r, o)
		require.Len(t, made.Linings, len(r.Panels))
		for i, p := range made.Linings {
			garment := made.Garments[i]
			require.Equal(t, facing.Lining, p.Kind)
			require.Equal(t, r.Panels[i].Panel.Name+" lining", p.Name)
			require.Equal(t, made.Facings[i].Edges[0].Net, p.Edges[0].Net)
			require.Equal(t, garment.Quantity, p.Quantity)
			require.Equal(t, garment.OnFold, p.OnFold)
			require.Len(t, p.Edges, len(garment.Edges))
			for k := 1; k < len(p.Edges); k++ {
				whole := path.NewRuler(garment.Edges[k].Net)
				for _, q := range samples(p.Edges[k].Net, 20) {
					_, off := whole.Nearest(q)
					require.InDelta(t, 0, off, 1e-3)
				}
			}
			require.LessOrEqual(t, p.Net().Area(), garment.Net().Area()+1e-6)
			require.InDelta(t, len(made.Facings[i].Clips), len(p.Clips), 2, "at most those at its ends differ")
		}
	})
}

func TestLiningKeepsNotchesAndNeedsNoFacing(t *testing.T) {
	o := usual()
	o.Depth, o.Lined = 0, true
	made, err := facing.Make(skirt(t, true), o)
	require.NoError(t, err)
	require.Empty(t, made.Facings)
	on := func(p facing.Piece) (at []path.Point) {
		for _, n := range p.Notches {
			if p.Edges[n.Edge].Role == fit.SeamEdge {
				at = append(at, n.Net)
			}
		}
		return at
	}
	a, b := on(made.Garments[0]), on(made.Linings[0])
	require.Len(t, a, 2)
	require.Len(t, b, 2)
	for i := range a {
		require.InDelta(t, 0, a[i].Dist(b[i]), 1e-6)
	}
	require.Equal(t, "Test: front lining", made.Linings[0].Label.Lines[0])
	require.Len(t, made.Linings[0].Notches, len(made.Garments[0].Notches))
}
