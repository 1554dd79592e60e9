package facing_test

import (
	"math"
	"slices"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// onto returns the motion that lays a chain on a stretch of another, end on end.
func onto(p, on path.Path) path.Similarity {
	turn := p.End().Sub(p.Start()).AngleTo(on.End().Sub(on.Start()))
	return path.Rotation(p.Start(), turn).Then(path.Translation(on.Start().Sub(p.Start())))
}

func TestFacingInOnePieceLaidOnThoseOfThePanelsCoincides(t *testing.T) {
	joined, most := 0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		for i := range r.Panels {
			r.Panels[i].Panel.Quantity = 2
			if r.Panels[i].Panel.OnFold() {
				r.Panels[i].Panel.Quantity = 1
			} else if !r.Panels[0].Panel.OnFold() {
				r.Panels[i].Panel.Quantity = 1
			}
		}
		o := options(t)
		each := makeOrSkip(t, r, o)
		o.Form = facing.OnePiece
		made := makeOrSkip(t, r, o)
		require.Len(t, made.Facings, 1)
		one := made.Facings[0]
		require.Len(t, made.Closings, len(r.Panels)-1)
		require.Equal(t, r.Panels[0].Panel.OnFold(), one.OnFold)
		require.Equal(t, 1, one.Quantity)
		require.Equal(t, r.Panels[0].Panel.Name, one.Panel)
		for _, c := range made.Closings {
			require.LessOrEqual(t, c.Gap, 0.1)
			most = max(most, c.Gap)
		}
		if len(r.Panels) > 1 {
			joined++
			require.Equal(t, "facing", one.Name)
		}
		hem, off := path.NewRuler(one.Edges[0].Net), offNet(one)
		area, from, clips, places := 0.0, 0.0, 0, 0
		for i, p := range each.Facings {
			to := from + p.Edges[0].Net.Length()
			m := onto(p.Edges[0].Net, hem.Sub(from, min(to, hem.Length())))
			for _, k := range []int{0, 2} {
				for _, q := range samples(p.Edges[k].Net.Transform(m), 20) {
					require.InDelta(t, 0, off(q), 0.05)
				}
			}
			if i == 0 {
				require.InDelta(t, 0, m.Apply(path.Point{X: 100, Y: 100}).Dist(path.Point{X: 100, Y: 100}), 1e-5, "the first stays where it is")
			}
			area += p.Net().Area()
			clips += len(p.Clips)
			places += len(r.Panels[i].ClipPlaces())
			from = to
		}
		seams := 0 // marked on the inner edge
		for _, n := range one.Notches {
			if n.Edge == 2 {
				seams++
			}
		}
		require.Equal(t, len(r.Panels)-1, seams)
		require.InDelta(t, hem.Length(), from, 1e-4)
		require.InDelta(t, area, one.Net().Area(), 0.1*hem.Length())
		require.LessOrEqual(t, len(one.Clips), places, "beside a join there is room where there was none beside a seam")
		require.GreaterOrEqual(t, len(one.Clips), clips-2*len(r.Panels))
	})
	require.Positive(t, joined)
	t.Logf("largest gap %.4f mm", most)
}

// gores returns flared panels, each with the next joined to it and the last to the
// first.
func gores(t *testing.T, names ...string) *fit.Result {
	var g fit.Garment
	for i, name := range names {
		p, err := draft.Gore{Waist: 300, Hem: 600, Length: 560}.Panel(draft.Form{
			Name: name, Start: draft.Side{Allowance: 15}, Finish: draft.Side{Allowance: 15, Notches: []float64{25}},
		})
		require.NoError(t, err)
		g.Panels = append(g.Panels, p)
		g.Seams = append(g.Seams, fit.Seam{A: fit.EndRef{Panel: i, End: fit.Finish}, B: fit.EndRef{Panel: (i + 1) % len(names), End: fit.Start}})
	}
	r, err := fit.Fit(g, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	return r
}

func TestRingOfFacingsIsOpenAtOneSeam(t *testing.T) {
	o := usual()
	o.Form = facing.OnePiece
	made, err := facing.Make(gores(t, "a", "b", "c"), o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 1)
	p := made.Facings[0]
	require.Equal(t, "facing", p.Name)
	require.Len(t, made.Closings, 2)
	require.Equal(t, []string{"Test: facing", "cut 1", "a: 10 scallops 60 x 20 mm", "b: 10 scallops 60 x 20 mm", "c: 10 scallops 60 x 20 mm", "allowance hem 6, side 15, inner 6 mm"}, p.Label.Lines)
	require.Equal(t, "a", p.Panel)
	// The gore's sides lean by the half of what they meet at.
	lean := 2 * 3 * math.Asin((600.0-300)/2/560)
	turned := math.Abs(p.Edges[3].Net.StartTangent().Neg().AngleTo(p.Edges[1].Net.StartTangent()))
	require.InDelta(t, lean, turned, 0.1)

	o.Open = &fit.EndRef{Panel: 1, End: fit.Start}
	made, err = facing.Make(gores(t, "a", "b", "c"), o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 1)
	for _, c := range made.Closings {
		require.NotEqual(t, fit.EndRef{Panel: 1, End: fit.Start}, c.Seam.B)
	}
}

func TestFacingIsOpenAnywayAtASeamOfAPanelWithItsMirrorImage(t *testing.T) {
	r := skirt(t, true)
	end := fit.EndRef{End: fit.Finish}
	r.Seams = []fit.SeamReport{{Seam: fit.Seam{A: end, B: end}}}
	o := usual()
	o.Form = facing.OnePiece
	want, err := facing.Make(r, o)
	require.NoError(t, err)
	o.Open = &end
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	require.Equal(t, want.Facings, made.Facings)
}

func TestFacingsOfTwoFoldsAreOneWhole(t *testing.T) {
	var g fit.Garment
	for _, name := range []string{"front", "back"} {
		p, err := draft.Gore{Waist: 300, Hem: 600, Length: 560}.Panel(draft.Form{Name: name, Half: true, Start: draft.Side{Role: fit.FoldEdge}, Finish: draft.Side{Allowance: 15}})
		require.NoError(t, err)
		g.Panels = append(g.Panels, p)
	}
	g.Seams = []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Finish}}}
	r, err := fit.Fit(g, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	o := usual()
	halves, err := facing.Make(r, o)
	require.NoError(t, err)
	o.Form = facing.OnePiece
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 1)
	p := made.Facings[0]
	require.False(t, p.OnFold)
	require.Equal(t, 1, p.Quantity)
	area := 2 * (halves.Facings[0].Net().Area() + halves.Facings[1].Net().Area())
	require.InDelta(t, area, p.Net().Area(), 0.1)
	require.Len(t, p.Clips, 21, "a valley at both ends")
}

func TestSectionsOfAFacingInOnePieceReachAcrossSeams(t *testing.T) {
	o := usual()
	o.Form = facing.OnePiece
	whole, err := facing.Make(gores(t, "a", "b", "c"), o)
	require.NoError(t, err)
	o.Section = 460
	made, err := facing.Make(gores(t, "a", "b", "c"), o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 5)
	area := 0.0
	for _, p := range made.Facings {
		area += p.Net().Area()
		for _, q := range samples(p.Edges[0].Net, 10) {
			require.InDelta(t, 0, offNet(whole.Facings[0])(q), 1e-6)
		}
	}
	require.InDelta(t, whole.Facings[0].Net().Area(), area, 1e-3)
}

func TestFacingInOnePieceThatDoesNotCloseOrLiesOnItselfIsRefused(t *testing.T) {
	o := usual()
	o.Form = facing.OnePiece
	// Fourteen gores go round more than once.
	_, err := facing.Make(gores(t, "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "k", "l", "m", "n"), o)
	var own *facing.Error
	require.ErrorAs(t, err, &own)
	require.ErrorContains(t, err, "facing: its cut line crosses itself")
	require.Contains(t, own.Remedy(), "its panels may lie on one another")

	r := gores(t, "a", "b", "c")
	o.Open = &fit.EndRef{Panel: 0, End: fit.Start}
	r.Seams = r.Seams[:2]
	_, err = facing.Make(r, o)
	require.ErrorAs(t, err, &own)
	require.EqualError(t, err, "a facing: it cannot be left open at its start, where no other facing is joined to it")
	require.Equal(t, "name a side that is listed under seams", own.Remedy())

	// A side that is round near the hem beside one that is straight.
	var g fit.Garment
	for _, f := range r.Panels {
		g.Panels = append(g.Panels, f.Panel)
	}
	g.Seams = []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}}}
	side := g.Panels[0].Edges[1].Path
	at := side.Start().Add(side.StartTangent().Mul(100))
	bent := path.Open(side.Start(), at, side.End())
	bent.V[0].Bulge = 0.2
	g.Panels[0].Edges = slices.Clone(g.Panels[0].Edges)
	g.Panels[0].Edges[1].Path = bent
	r, err = fit.Fit(g, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	o.Open = nil
	_, err = facing.Make(r, o)
	require.ErrorAs(t, err, &own)
	require.ErrorContains(t, err, "a facing: laid out flat it does not close with b facing: their side lines are up to ")
	require.Contains(t, own.Remedy(), "true the side seams of the panels to one another")
}
