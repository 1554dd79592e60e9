package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
)

func TestGrownOnFacingFoldedBackLiesOnTheGarment(t *testing.T) {
	o := usual()
	o.Favour = 0
	shaped, err := facing.Make(straight(t, 900, 60), o)
	require.NoError(t, err)
	o.Form = facing.GrownOn
	r := straight(t, 900, 60)
	r.Panels[0].Notches = []fit.Notch{{Edge: 1, At: 100}, {Edge: 3, At: 100}}
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	require.Empty(t, made.Facings)
	require.Empty(t, made.Warnings)
	p, garment, of := made.Garments[0], shaped.Garments[0], shaped.Facings[0]
	// The hem adds 20 mm to the garment, and it and the facing 70 mm beyond the peaks.
	require.InDelta(t, 400+20+70, p.Net().Bounds().Height(), 1e-6)
	require.InDelta(t, 900*(400+20+70), p.Net().Area(), 1e-3)
	require.InDelta(t, p.Net().Bounds().Min.Y-6, p.Cut().Bounds().Min.Y, 1e-6)
	require.Len(t, p.Stitches, 2)
	require.Equal(t, garment.Edges[0].Net, p.Stitches[0])
	fold := p.Internal[len(p.Internal)-1]
	require.Len(t, fold.V, 2)
	over := path.Reflection(fold.Start(), fold.StartTangent())
	require.InDelta(t, 0, p.Stitches[1].Transform(over).Start().Dist(p.Stitches[0].Start()), 1e-9)
	inner := path.NewRuler(of.Edges[2].Net)
	for _, q := range samples(p.Edges[0].Net.Transform(over), 10) {
		_, off := inner.Nearest(q)
		require.InDelta(t, 0, off, 1e-6)
	}
	require.Empty(t, p.Clips)
	require.Equal(t, "allowance inner 6, side 15, top 0 mm", p.Label.Lines[3])
	require.Len(t, p.Notches, 2)
	for _, n := range p.Notches {
		want := garment.Edges[n.Edge].Net
		at := 100.0
		require.InDelta(t, 0, path.NewRuler(want).At(at).Dist(n.Net), 1e-6, "where it was")
	}
	require.Equal(t, "fold back", p.Texts[0].String)
}

func TestFacingIsNotGrownOnACurvedHem(t *testing.T) {
	o := usual()
	o.Form = facing.GrownOn
	_, err := facing.Make(skirt(t, true), o)
	var own *facing.Error
	require.ErrorAs(t, err, &own)
	require.ErrorContains(t, err, "front: the hem is ")
	require.NotEmpty(t, own.Remedy())
}
