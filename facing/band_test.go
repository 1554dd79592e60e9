package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
)

func TestBandIsARectangleWithTheHemMarkedOnIt(t *testing.T) {
	o := usual()
	shaped, err := facing.Make(straight(t, 900, 60), o)
	require.NoError(t, err)
	o.Form = facing.Band
	made, err := facing.Make(straight(t, 900, 60), o)
	require.NoError(t, err)
	band, of := made.Facings[0], shaped.Facings[0]
	box := band.Cut().Bounds()
	require.InDelta(t, 900+2*15, box.Width(), 1e-6)
	// The favour makes it a little less deep at the peaks.
	require.InDelta(t, 50+20+6+6-o.Favour, box.Height(), 1e-6)
	require.InDelta(t, box.Width()*box.Height(), band.Cut().Area(), 1e-3)
	require.Equal(t, of.Edges[0].Net, band.Edges[0].Net, "the line that it is sewn on")
	require.InDelta(t, of.Net().Area(), band.Net().Area(), 1e-6)
	require.Empty(t, band.Clips)
	require.Len(t, band.Notches, len(of.Notches))
	require.Contains(t, band.Label.Lines, "sewn first, trimmed after")
	require.Empty(t, made.Warnings)
	cut := path.NewRuler(band.Cut())
	for _, q := range samples(of.Edges[0].Cut, 5) {
		_, off := cut.Nearest(q)
		require.True(t, off < 1e-6 || band.Cut().Contains(q), "trimmed to the allowance")
	}
}

func TestBandOnACurvedHemIsRefused(t *testing.T) {
	o := usual()
	o.Form = facing.Band
	for _, half := range []bool{true, false} {
		_, err := facing.Make(skirt(t, half), o)
		var own *facing.Error
		require.ErrorAs(t, err, &own)
		require.ErrorContains(t, err, "front facing: the hem is ")
		require.ErrorContains(t, err, " mm from straight, and a straight facing 50.0 mm deep allows 2.5 mm")
		require.Contains(t, own.Remedy(), "facings that are shaped follow every hem")
	}
}
