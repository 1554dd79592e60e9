package fit_test

import (
	"testing"

	"engrail/fit"
	"engrail/motif"

	"github.com/stretchr/testify/require"
)

func TestClipsStandAtValleysAndInnerCorners(t *testing.T) {
	for name, c := range map[string]struct {
		shape motif.Shape
		phase fit.Phase
		want  int // on five repeats of 60 mm
	}{
		"scallops":            {motif.Shape{}, fit.Valley, 6},
		"scallops from peaks": {motif.Shape{}, fit.Peak, 5},
		"waves":               {motif.Shape{Kind: motif.Wave}, fit.Valley, 6},
		"a short flat":        {motif.Shape{Flat: 4}, fit.Valley, 6},
		"a long flat":         {motif.Shape{Flat: 20}, fit.Valley, 10},
		"tabs":                {motif.Shape{Kind: motif.Tab}, fit.Valley, 10},
		"tabs from peaks":     {motif.Shape{Kind: motif.Tab}, fit.Peak, 10},
		"stepped":             {motif.Shape{Kind: motif.Stepped}, fit.Valley, 20},
		"round inner corners": {motif.Shape{Kind: motif.Tab, ValleyRadius: 4}, fit.Valley, 6},
		"brackets":            {motif.Shape{Kind: motif.Bracket}, fit.Valley, 6},
		"brackets on a flat":  {motif.Shape{Kind: motif.Bracket, Flat: 20}, fit.Valley, 10},
		"engrailed":           {motif.Shape{Kind: motif.Engrailed}, fit.Valley, 6},
	} {
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			g := strip(t, 300)
			p := &g.Panels[0]
			p.StartPhase, p.FinishPhase, p.Count = c.phase, c.phase, 5
			r, err := fit.Fit(g, fit.Spec{Shape: c.shape, Width: 60, Depth: 18, Lay: lay})
			require.NoError(t, err)
			places := r.Panels[0].ClipPlaces()
			require.Len(t, places, c.want, "%s, %v", name, lay)
			for i := 1; i < len(places); i++ {
				require.Greater(t, places[i].Point.X, places[i-1].Point.X-1e-9)
			}
		}
	}
	// At the foot of a tab the clip runs out at half of its corner.
	g := strip(t, 300)
	r, err := fit.Fit(g, fit.Spec{Shape: motif.Shape{Kind: motif.Tab}, Width: 60, Depth: 18})
	require.NoError(t, err)
	first := r.Panels[0].ClipPlaces()[0]
	require.InDelta(t, 15, first.Point.X-r.Panels[0].Edge.Start().X, 1e-9)
	require.InDelta(t, -1, first.Out.Y/first.Out.Len()*1.4142135623730951, 1e-9)
	require.Negative(t, first.Out.X, "away from the tab")
}
