package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
)

// ring returns a square of cloth whose hem goes all round.
func ring(t *testing.T, side float64) *fit.Result {
	hem := path.Closed(path.Point{}, path.Point{X: side}, path.Point{X: side, Y: side}, path.Point{Y: side})
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{{Name: "cloth", Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge, Path: hem}}}}},
		fit.Spec{Width: 40, Depth: 10})
	require.NoError(t, err)
	return r
}

func TestFacingThatMeetsItselfAcrossANarrowPanelIsRefused(t *testing.T) {
	// Across a square with the hem all round, and across a tie's end, whose hem turns
	// two corners.
	tie := path.Open(path.Point{Y: 400}, path.Point{}, path.Point{X: 80}, path.Point{X: 80, Y: 400})
	end, err := fit.Fit(fit.Garment{Panels: []fit.Panel{{Name: "tie", Edges: []fit.Edge{
		{Name: "hem", Role: fit.HemEdge, Path: tie},
		{Name: "top", Role: fit.SeamEdge, Path: path.Open(tie.End(), path.Point{X: 40, Y: 400})},
		{Name: "top", Role: fit.SeamEdge, Path: path.Open(path.Point{X: 40, Y: 400}, tie.Start())},
	}}}}, fit.Spec{Width: 20, Depth: 5})
	require.NoError(t, err)
	for name, r := range map[string]*fit.Result{"all round": ring(t, 160), "round an end": end} {
		for _, form := range []facing.Form{facing.PerPanel, facing.OnePiece, facing.Band, facing.GrownOn} {
			o := usual()
			o.Depth, o.Form = 100, form
			_, err := facing.Make(r, o)
			var own *facing.Error
			require.ErrorAs(t, err, &own, name)
			require.NotEmpty(t, own.Remedy(), name)
		}
	}
}

func TestSectionsOfAFacingThatGoesAllRoundAreTheWholeRing(t *testing.T) {
	circle := func() *fit.Result {
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{{Name: "cape", Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge, Path: path.Circle(path.Point{X: 350, Y: 350}, 250)}}}}},
			fit.Spec{Width: 50, Depth: 15})
		require.NoError(t, err)
		return r
	}
	for name, r := range map[string]*fit.Result{"a square": ring(t, 600), "a circle": circle()} {
		for _, atPeaks := range []bool{false, true} {
			o := usual()
			o.AtPeaks = atPeaks
			made, err := facing.Make(r, o)
			require.NoError(t, err)
			whole := made.Facings[0]
			o.Section = 400
			made, err = facing.Make(r, o)
			require.NoError(t, err)
			require.Greater(t, len(made.Facings), 3, name)
			area, hem, clips := 0.0, 0.0, 0
			for i, p := range made.Facings {
				next := made.Facings[(i+1)%len(made.Facings)]
				require.Less(t, p.Edges[1].Net.Start().Dist(next.Edges[0].Net.Start()), 1e-9, "each begins where the one before ends")
				require.Less(t, p.Edges[1].Net.End().Dist(next.Edges[2].Net.End()), 1e-9)
				area += p.Net().Area()
				hem += p.Edges[0].Net.Length()
				clips += len(p.Clips)
				box := p.Cut().Bounds()
				require.LessOrEqual(t, max(box.Width(), box.Height()), 400.0)
				ruler := path.NewRuler(whole.Edges[0].Net)
				for _, q := range samples(p.Edges[0].Net, 20) {
					_, off := ruler.Nearest(q)
					require.InDelta(t, 0, off, 1e-6)
				}
			}
			require.InDelta(t, whole.Net().Area()+whole.Hole.Net.Area(), area, 1e-3, "%s: holes have negative areas", name)
			require.InDelta(t, whole.Edges[0].Net.Length(), hem, 1e-6)
			require.GreaterOrEqual(t, clips, len(whole.Clips))
		}
	}
}

func TestHemAllRoundHasInterfacingAndLiningButNoBand(t *testing.T) {
	o := usual()
	o.Interfaced, o.Short, o.Lined, o.Form = true, 3, true, facing.OnePiece
	made, err := facing.Make(ring(t, 600), o)
	require.NoError(t, err)
	in, of, lining := made.Interfacings[0], made.Facings[0], made.Linings[0]
	require.Equal(t, "cloth facing", of.Name)
	area := func(p facing.Piece) float64 { return p.Net().Area() + p.Hole.Net.Area() }
	require.Less(t, area(in), area(of))
	require.Greater(t, area(in), area(of)-4*(of.Net().Length()+of.Hole.Net.Length()))
	require.Less(t, lining.Net().Area(), made.Garments[0].Net().Area())
	for _, q := range samples(in.Hole.Net, 10) {
		_, off := path.NewRuler(of.Hole.Net).Nearest(q)
		require.InDelta(t, 3, off, 0.01)
	}

	for _, form := range []facing.Form{facing.Band, facing.GrownOn} {
		o := usual()
		o.Form = form
		_, err = facing.Make(ring(t, 600), o)
		require.ErrorContains(t, err, "the hem goes all round, and a straight facing needs a straight hem")
	}
}
