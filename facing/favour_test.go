package facing_test

import (
	"math"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// 1/8 in for usual cloth is from J. Barlup, "Understand Turn-of-Cloth", Threads 131;
// 1/16 in for light cloth is from memory.
func TestTurnOfClothAgreesWithTheHabit(t *testing.T) {
	require.InDelta(t, 25.4/16, facing.TurnOfCloth(0.5), 0.05)
	require.InDelta(t, 25.4/8, facing.TurnOfCloth(1), 0.05)
	require.Zero(t, facing.TurnOfCloth(0))
}

func TestSharedFavourMovesBothHemsByHalf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		o := options(t)
		o.Favour, o.FavourBoth = rapid.Float64Range(0.5, 3).Draw(t, "shared favour"), true
		made := makeOrSkip(t, r, o)
		for i, f := range r.Panels {
			garment, piece := made.Garments[i], made.Facings[i]
			drafted, larger := path.NewRuler(f.Edge), path.NewRuler(garment.Edges[0].Net)
			for _, q := range samples(garment.Edges[0].Net, 3) {
				if near(f, q, f.Width) {
					continue // hems that differ are eased to meet
				}
				_, off := drafted.Nearest(q)
				require.GreaterOrEqual(t, off, o.Favour/2-1e-4)
				// A sharper tip is cut off straight across, at most as wide as twice the distance.
				most := math.Hypot(path.DefaultMitreLimit, 1)
				require.LessOrEqual(t, off, most*o.Favour/2+1e-4, "as far as at a sharp tip")
			}
			for _, q := range samples(piece.Edges[0].Net, 3) {
				if near(f, q, f.Width) {
					continue
				}
				_, off := larger.Nearest(q)
				require.InDelta(t, o.Favour, off, 1e-4, "the facing's hem is the garment's moved in by the favour")
			}
			require.InDelta(t, o.Favour, made.Favours[i].Inward+made.Favours[i].Outward, 1e-12)
			require.Empty(t, garment.Cut().SelfIntersections())
		}
		for _, s := range g.Seams { // the moved hems still meet
			a, b := made.Garments[s.A.Panel], made.Garments[s.B.Panel]
			onSide := func(p facing.Piece, panel int, e fit.End) float64 {
				net := r.Panels[panel].Net
				if e == fit.Start {
					k := len(net) - 1
					return p.Edges[k].Net.Length() - net[k].Path.Length()
				}
				return p.Edges[1].Net.Length() - net[1].Path.Length()
			}
			require.InDelta(t, onSide(a, s.A.Panel, s.A.End), onSide(b, s.B.Panel, s.B.End), 0.01)
		}
	})
}

// strip is a straight panel with so many repeats 60 mm wide, or a part of a ring
// whose hem has the radius.
func strip(t *testing.T, shape motif.Shape, depth float64, repeats int) *fit.Result {
	p, err := draft.Straight{Width: 60 * float64(repeats), Depth: 300}.Panel(draft.Form{Name: "strip"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: shape, Width: 60, Depth: depth})
	require.NoError(t, err)
	require.Equal(t, repeats, r.Panels[0].Repeats)
	return r
}

// A line moved sideways changes in length by the distance times what it turns;
// arcs and rounded valleys of a straight hem turn as much to one side as to the
// other. Only where a sharp tip is cut off is the facing shorter.
func TestEasePerRepeatIsThatOfTheClosedForm(t *testing.T) {
	o := usual()
	o.Favour = 2
	ease := func(r *fit.Result) float64 {
		made, err := facing.Make(r, o)
		require.NoError(t, err)
		return made.Favours[0].PerRepeat
	}
	require.InDelta(t, 0, ease(strip(t, motif.Shape{Kind: motif.Scallop}, 20, 6)), 1e-6)
	turn := 2 * math.Atan2(20, 30)
	require.InDelta(t, 2*o.Favour*math.Tan(turn/2)-o.Favour*turn, ease(strip(t, motif.Shape{Kind: motif.Point}, 20, 6)), 1e-6)

	p, err := draft.Circle{Waist: 711, Length: 610, Part: 1, Panels: 4}.Panel(draft.Form{Name: "quarter"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 15})
	require.NoError(t, err)
	require.InDelta(t, o.Favour*math.Pi/2/float64(r.Panels[0].Repeats), ease(r), 1e-6, "a quarter turn over all repeats")
}

// Points of 90 degrees: the garment's tips and valleys both move out by the square
// root of 2 times its half.
func TestSharedFavourKeepsPointsSharp(t *testing.T) {
	r := strip(t, motif.Shape{Kind: motif.Point}, 30, 4)
	o := usual()
	o.Favour, o.FavourBoth = 2, true
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	require.Empty(t, made.Warnings)
	hem := made.Garments[0].Edges[0].Net
	require.Equal(t, 8, hem.Segments(), "two lines for each point")
	for i := range hem.Segments() {
		require.InDelta(t, math.Sqrt2, r.Panels[0].Edge.Segment(i).A.Sub(hem.Segment(i).A).Len(), 1e-6)
	}
	require.InDelta(t, r.Panels[0].Net[1].Path.Length()+math.Sqrt2, made.Garments[0].Edges[1].Net.Length(), 1e-6, "the side is led on")
	require.InDelta(t, 1, made.Favours[0].Outward, 1e-12)
	require.InDelta(t, 1, made.Favours[0].Inward, 1e-12)
}

func TestNotchesKeepTheirPlaceUnderASharedFavour(t *testing.T) {
	o := usual()
	alone, err := facing.Make(skirt(t, false), o)
	require.NoError(t, err)
	o.FavourBoth = true
	shared, err := facing.Make(skirt(t, false), o)
	require.NoError(t, err)
	for i, n := range alone.Garments[0].Notches {
		if n.Edge != 0 {
			require.InDelta(t, 0, n.Net.Dist(shared.Garments[0].Notches[i].Net), 1e-6)
		}
	}
	require.Len(t, shared.Facings[0].Notches, len(alone.Facings[0].Notches))
	require.Len(t, shared.Garments[0].Clips, len(alone.Garments[0].Clips))
	require.Len(t, shared.Facings[0].Clips, len(alone.Facings[0].Clips))
}

func TestHemsAllRoundShareTheFavour(t *testing.T) {
	p := cloths()["disc"]
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 14})
	require.NoError(t, err)
	o := facing.Options{Depth: 45, Favour: 2, FavourBoth: true, Hem: 6, Inner: 6, ClipGap: 1.5}
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	hem := path.NewRuler(made.Garments[0].Edges[0].Net)
	for _, q := range samples(made.Facings[0].Edges[0].Net, 5) {
		_, off := hem.Nearest(q)
		require.InDelta(t, 2, off, 1e-3)
	}
	require.InDelta(t, 2*2*math.Pi/float64(r.Panels[0].Repeats), made.Favours[0].PerRepeat, 1e-6, "all round it turns once")
	require.Len(t, made.Garments[0].Clips, len(r.Panels[0].ClipPlaces()))
}

func TestFavoursThatChangeTheShapeAreReported(t *testing.T) {
	codes := func(shape motif.Shape, depth, favour float64, both bool) []string {
		o := usual()
		o.Favour, o.FavourBoth = favour, both
		made, err := facing.Make(strip(t, shape, depth, 5), o)
		require.NoError(t, err)
		var all []string
		for _, w := range made.Warnings {
			all = append(all, w.Code)
		}
		return all
	}
	wave := motif.Shape{Kind: motif.Wave}
	require.Empty(t, codes(wave, 8, 3, false))
	require.Contains(t, codes(wave, 8, 4.5, false), "favour-shape")
	// Two half circles of radius r, moved out by e, meet the root of (r+e)^2 - r^2 further out.
	round := motif.Shape{Kind: motif.Scallop}
	require.Contains(t, codes(round, 30, 2, true), "favour-valleys")
	require.NotContains(t, codes(round, 30, 2, false), "favour-valleys")
	require.NotContains(t, codes(wave, 8, 2, true), "favour-valleys")
}

func TestImpossibleFavoursAreRefusedWithARemedy(t *testing.T) {
	for _, favour := range []float64{-1, 25, 1e300, math.NaN(), math.Inf(1)} {
		for _, both := range []bool{false, true} {
			o := usual()
			o.Favour, o.FavourBoth = favour, both
			_, err := facing.Make(skirt(t, false), o)
			var own *facing.Error
			require.ErrorAs(t, err, &own)
			require.NotEmpty(t, own.Remedy())
		}
	}
}
