package facing_test

import (
	"math"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// cloths are pieces whose hems go all round, smoothly or with corners, and the front
// of a wrap skirt, whose hem turns one corner.
func cloths() map[string]fit.Panel {
	all := map[string]fit.Panel{}
	for name, hem := range map[string]path.Path{
		"disc":   path.Circle(path.Point{X: 100}, 500),
		"oblong": {Closed: true, V: []path.Vertex{{Point: path.Point{}}, {Point: path.Point{X: 400}, Bulge: 1}, {Point: path.Point{X: 400, Y: 700}}, {Point: path.Point{Y: 700}, Bulge: 1}}},
		"square": path.Closed(path.Point{}, path.Point{X: 900}, path.Point{X: 900, Y: 800}, path.Point{Y: 800}),
	} {
		all[name] = fit.Panel{Name: name, Grain: path.Line(path.Point{X: 200}, path.Point{X: 200, Y: 400}),
			Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge, Path: hem}}}
	}
	front := path.Open(path.Point{}, path.Point{X: 500, Y: -10}, path.Point{X: 510, Y: 600})
	all["wrap"] = fit.Panel{Name: "wrap", Edges: []fit.Edge{
		{Name: "hem", Role: fit.HemEdge, Path: front},
		{Name: "waist", Role: fit.SeamEdge, Path: path.Open(front.End(), path.Point{X: -40, Y: 600}), Allowance: 10},
		{Name: "side", Role: fit.SeamEdge, Path: path.Open(path.Point{X: -40, Y: 600}, path.Point{}), Allowance: 15},
	}}
	return all
}

func TestHemsThatTurnCornersOrGoRoundHaveFacings(t *testing.T) {
	for name, panel := range cloths() {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				p := panel
				p.CornerPhase = rapid.SampledFrom([]fit.Phase{fit.Valley, fit.Peak}).Draw(t, "corner")
				spec := fit.Spec{Width: rapid.Float64Range(40, 70).Draw(t, "width"), Depth: 14}
				spec.Shape.Kind = rapid.SampledFrom([]motif.Kind{motif.Scallop, motif.Point, motif.Wave}).Draw(t, "shape")
				spec.Lay = rapid.SampledFrom([]fit.Lay{fit.Rigid, fit.Bent}).Draw(t, "lay")
				spec.Rest = rapid.SampledFrom([]fit.Rest{fit.Valleys, fit.Peaks}).Draw(t, "rest")
				o := facing.Options{Depth: 45, Favour: rapid.SampledFrom([]float64{0, 1}).Draw(t, "favour"), Hem: 6, Inner: 6, SideAsPanel: true, ClipGap: 1.5, MarkEvery: 300}
				r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
				require.NoError(t, err)
				made, err := facing.Make(r, o)
				require.NoError(t, err)
				f, garment, piece := r.Panels[0], made.Garments[0], made.Facings[0]

				require.Len(t, garment.Clips, len(f.ClipPlaces()))
				require.Len(t, piece.Clips, len(f.ClipPlaces()))
				for _, q := range []facing.Piece{garment, piece} {
					require.True(t, q.Cut().Closed)
					require.Positive(t, q.Cut().Area())
					require.Empty(t, q.Cut().SelfIntersections())
					net := path.NewRuler(q.Net())
					for _, at := range samples(q.Edges[0].Cut, 5) {
						_, off := net.Nearest(at)
						require.GreaterOrEqual(t, off, o.Hem-0.01, "nowhere nearer than the allowance")
					}
				}
				// The hem of the facing is the garment's, moved in by the favour.
				hem := path.NewRuler(garment.Edges[0].Net)
				for i, at := range samples(piece.Edges[0].Net, 5) {
					_, off := hem.Nearest(at)
					if name == "wrap" && (i < 3 || i > len(samples(piece.Edges[0].Net, 5))-4) {
						continue // beside the sides
					}
					require.InDelta(t, o.Favour, off, 1e-3)
				}
				if name == "wrap" {
					return
				}
				// A ring as wide as the depth from the valley line.
				line := path.NewRuler(f.Valley)
				require.Negative(t, piece.Hole.Net.Area())
				for _, at := range samples(piece.Hole.Net, 5) {
					_, off := line.Nearest(at)
					require.InDelta(t, o.Depth, off, 0.05)
					require.True(t, piece.Net().Contains(at))
				}
				inner := path.NewRuler(piece.Hole.Net)
				for _, at := range samples(piece.Hole.Cut, 5) {
					_, off := inner.Nearest(at)
					require.InDelta(t, o.Inner, off, 0.01)
				}
				require.Less(t, math.Abs(piece.Hole.Cut.Area()), math.Abs(piece.Hole.Net.Area()))
			})
		})
	}
}

func TestNarrowNecksAreReported(t *testing.T) {
	for _, c := range []struct {
		flat, hem float64
		want      string
	}{
		{36, 6, ""}, {36, 13, "met"},
	} {
		p := cloths()["square"]
		p.CornerPlain = 30
		spec := fit.Spec{Shape: motif.Shape{Kind: motif.Bulb, Flat: c.flat}, Width: 60, Depth: 24, Least: 59.9, Most: 60.1}
		p.Edges[0].Path = path.Closed(path.Point{}, path.Point{X: 900}, path.Point{X: 900, Y: 900}, path.Point{Y: 900})
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
		require.NoError(t, err)
		require.InDelta(t, 24, r.Panels[0].Runs[0].Neck, 0.3)
		made, err := facing.Make(r, facing.Options{Depth: 45, Hem: c.hem, ClipGap: 1.5})
		require.NoError(t, err)
		var got string
		for _, w := range made.Warnings {
			if w.Code == "narrow-neck" {
				got = w.Message
			}
		}
		if c.want != "" {
			require.Contains(t, got, "where the two allowances of 13.0 mm meet")
		} else {
			require.Empty(t, got)
		}
	}
}

func TestAllowancesThatCloseTheMouthsBetweenMotifsAreRefused(t *testing.T) {
	p := cloths()["square"]
	p.CornerPlain = 30
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Dovetailed}, Width: 60, Depth: 24})
	require.NoError(t, err)
	mouth := r.Panels[0].Runs[0].Mouth
	require.InDelta(t, 0.4*r.Panels[0].Runs[0].Width, mouth, 0.5, "half of the width less a quarter of the depth on both sides")
	_, err = facing.Make(r, facing.Options{Depth: 45, Hem: mouth/2 - 0.5, ClipGap: 1.5})
	require.NoError(t, err)
	_, err = facing.Make(r, facing.Options{Depth: 45, Hem: mouth/2 + 0.5, ClipGap: 1.5})
	require.ErrorContains(t, err, "two allowances of")
	require.Contains(t, err.(*facing.Error).Remedy(), "make the hem allowance at most")
}
