package fit_test

import (
	"fmt"
	"math"
	"testing"

	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sewn returns the panel as it lies when the side at the end of its hem is the
// upright line x = 0, with the drafted corner at the origin and up the side up;
// the panel lies to the right, the other one of the seam mirrored.
func sewn(f fit.Fitted, e fit.End) path.Path {
	side := f.Panel.Edges[1].Path
	edge := f.Edge.Reverse()
	if e == fit.Start {
		side = f.Panel.Edges[len(f.Panel.Edges)-1].Path.Reverse()
		edge = f.Edge
	}
	place := path.Rotation(side.Start(), math.Pi/2-side.StartTangent().Angle()).Then(path.Translation(path.Point{}.Sub(side.Start())))
	edge = edge.Transform(place)
	if e == fit.Finish {
		edge = edge.Transform(path.Reflection(path.Point{}, path.Vec{Y: 1}))
	}
	return edge
}

// joinedGores are two gores of different widths, whose hems meet their sides at
// the same angle, or at angles of their own.
func joinedGores(t *rapid.T, alike bool) fit.Garment {
	var g fit.Garment
	half := rapid.Float64Range(0.1, 0.5).Draw(t, "half angle")
	for i := range 2 {
		angle := half
		if !alike {
			angle = rapid.Float64Range(-0.3, 0.3).Draw(t, "lean")
		}
		hem := rapid.Float64Range(300, 700).Draw(t, "hem")
		flat := 0.0
		waist := hem - 2*400*math.Sin(angle)
		if waist < 50 {
			hem, waist = hem-waist+50, 50
		}
		p, err := draft.Gore{Waist: waist, Hem: hem, Length: 400 * math.Cos(angle), Rise: &flat}.Panel(draft.Form{Name: fmt.Sprint("gore ", i+1)})
		require.NoError(t, err)
		p.StartPhase, p.FinishPhase = fit.Peak, fit.Peak
		g.Panels = append(g.Panels, p)
	}
	g.Seams = []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}}}
	return g
}

func TestHalvesOfAMotifOnASeamAreMirrorImages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := joinedGores(t, true), fittest.Spec(t)
		r, err := fit.Fit(g, spec)
		if err != nil {
			t.Skip(err) // some motifs overlap beside sides that lean so much
		}
		a, b := sewn(r.Panels[0], fit.Finish), sewn(r.Panels[1], fit.Start)
		ra, rb := path.NewRuler(a), path.NewRuler(b)
		half := math.Abs(r.Panels[0].Valleys[len(r.Panels[0].Valleys)-1].Point.Dist(r.Panels[0].Edge.End()))
		for i := range 50 {
			q := ra.At(half * float64(i) / 50)
			_, off := rb.Nearest(q)
			require.LessOrEqual(t, off, 0.01, "%.1f mm along the edge", half*float64(i)/50)
		}
	})
}

func TestMotifRunsSmoothlyAcrossItsSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := joinedGores(t, rapid.Bool().Draw(t, "alike")), fittest.Spec(t)
		spec.Shape = motif.Shape{Kind: rapid.SampledFrom([]motif.Kind{motif.Scallop, motif.Wave}).Draw(t, "shape")}
		r, err := fit.Fit(g, spec)
		if err != nil {
			t.Skip(err)
		}
		a, b := sewn(r.Panels[0], fit.Finish), sewn(r.Panels[1], fit.Start)
		require.InDelta(t, 0, a.Start().Dist(b.Start()), 0.01)
		// Sewn, the second one lies on the other side of the seam: the way on is
		// the mirror image of the way back.
		back := path.Vec{X: -b.StartTangent().X, Y: b.StartTangent().Y}
		require.InDelta(t, math.Pi, math.Abs(a.StartTangent().AngleTo(back)), 1e-3)
	})
}

func TestWidthsAreEasedOverThreeMotifsBesideAJoinedPeak(t *testing.T) {
	var g fit.Garment
	for _, w := range []float64{500, 630} { // 50 and 52.5 mm in 10 and 12
		p, err := draft.Straight{Width: w, Depth: 300}.Panel(draft.Form{Name: "strip"})
		require.NoError(t, err)
		p.StartPhase, p.FinishPhase = fit.Peak, fit.Peak
		g.Panels = append(g.Panels, p)
	}
	g.Panels[0].Count, g.Panels[1].Count = 10, 12
	g.Seams = []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}}}
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		r, err := fit.Fit(g, fit.Spec{Width: 50, Depth: 15, Lay: lay})
		require.NoError(t, err)
		widths := func(f fit.Fitted) (all []float64) {
			for i := 1; i < len(f.Valleys); i++ {
				all = append(all, f.Valleys[i].Point.Dist(f.Valleys[i-1].Point))
			}
			return all
		}
		a, b := widths(r.Panels[0]), widths(r.Panels[1])
		const seam = (50.0 + 52.5) / 2
		// The half on the seam and the next three take up what the others lose.
		wide := (500 - (0.5+0.75+0.5+0.25)*seam) / (10 - 2)
		for i, share := range []float64{0.75, 0.5, 0.25, 0, 0} {
			require.InDelta(t, wide+share*(seam-wide), a[len(a)-1-i], 1e-6)
		}
		require.InDelta(t, seam/2, 500-r.Panels[0].Valleys[len(r.Panels[0].Valleys)-1].Point.Sub(r.Panels[0].Edge.Start()).X, 1e-6)
		require.Less(t, b[0], b[1])
		require.InDelta(t, b[4], b[5], 1e-6)
		require.InDelta(t, a[0], a[1], 1e-6, "the end that is not joined is not eased")
	}
}
