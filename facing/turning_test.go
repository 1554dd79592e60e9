package facing_test

import (
	"slices"
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

// everything turns on all that turning has.
func everything() facing.Turning {
	return facing.Turning{Curves: true, Notches: true, On: facing.Staggered, Tips: true, TrimGarment: 3.9, TrimFacing: 3, Cloth: facing.Heavy}
}

func waves(t *testing.T, turning facing.Turning) *facing.Made {
	p, err := draft.Gore{Waist: 500, Hem: 700, Length: 500}.Panel(draft.Form{Name: "panel"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Wave}, Width: 140, Depth: 50})
	require.NoError(t, err)
	made, err := facing.Make(r, facing.Options{Depth: 80, Favour: 1, Hem: 6, Inner: 6, Side: 10, ClipGap: 1.5, Turning: turning})
	require.NoError(t, err)
	return made
}

func kinds(p facing.Piece) map[facing.ClipKind]int {
	n := map[facing.ClipKind]int{}
	for _, c := range p.Clips {
		n[c.Kind]++
	}
	return n
}

func TestNoClipOrNotchCrossesTheStitchingOnEitherPiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		o.Hem = max(o.Hem, 4)
		o.Turning = everything()
		made := makeOrSkip(t, r, o)
		for _, p := range append(made.Garments, made.Facings...) {
			for _, c := range p.Clips {
				require.Empty(t, c.Line.Intersections(p.Edges[0].Net), "%s: %v", p.Name, c)
				_, off := path.NewRuler(p.Edges[0].Cut).Nearest(c.Line.Start())
				if c.Kind == facing.MarkV { // on a trim line, it may be
					require.Less(t, off, o.Hem)
					continue
				}
				require.InDelta(t, 0, off, 0.01)
			}
		}
	})
}

// Without a favour both layers have one stitching line, and are snipped at the same places.
func TestSnipsOfGarmentAndFacingArePairs(t *testing.T) {
	all := 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		o.Favour = 0
		o.Turning = facing.Turning{Curves: true, Notches: true}
		made := makeOrSkip(t, r, o)
		for i, g := range made.Garments {
			f := made.Facings[i]
			// The sides of facings can have allowances of their own, beside which other
			// snips have room.
			middle := func(p facing.Piece) (inside []facing.Clip) {
				for _, c := range p.Clips {
					apex := c.Line.End()
					if c.Line.Segments() == 2 {
						apex = c.Line.V[1].Point
					}
					if hem := p.Edges[0].Net; p.Hole.Net.V != nil || apex.Dist(hem.Start()) > 60 && apex.Dist(hem.End()) > 60 {
						inside = append(inside, c)
					}
				}
				return inside
			}
			a, b := middle(g), middle(f)
			require.Len(t, b, len(a), g.Name)
			for k := range a {
				all++
				require.Equal(t, a[k].Kind, b[k].Kind)
				require.Equal(t, a[k].Valley, b[k].Valley)
				require.InDelta(t, 0, a[k].Line.End().Dist(b[k].Line.End()), 0.01)
			}
		}
	})
	t.Logf("%d pairs", all)
}

func TestPiecesWithoutOptionsHaveASlitAtEachValleyAndNothingMore(t *testing.T) {
	for _, p := range []facing.Piece{waves(t, facing.Turning{}).Garments[0], waves(t, facing.Turning{}).Facings[0]} {
		require.Equal(t, map[facing.ClipKind]int{facing.SlitClip: 6}, kinds(p))
		require.Empty(t, p.Trims)
		require.Empty(t, p.Pivots)
	}
}

func TestStaggeredSlitsDoNotLieOnOneAnotherButAtValleys(t *testing.T) {
	made := waves(t, everything())
	garment, facings := made.Garments[0], made.Facings[0]
	require.Greater(t, kinds(garment)[facing.SlitClip], 6)
	require.Positive(t, kinds(garment)[facing.VClip])
	least := 1000.0
	valleys := 0
	for _, a := range garment.Clips {
		for _, b := range facings.Clips {
			apart := a.Line.End().Dist(b.Line.End())
			switch {
			case a.Valley && b.Valley && apart < 1.2:
				valleys++
			case a.Kind == facing.SlitClip && b.Kind == facing.SlitClip:
				least = min(least, apart)
			}
		}
	}
	require.Equal(t, 6, valleys, "the favour apart")
	require.Greater(t, least, 2.0)

	apexes := func(p facing.Piece) (all []path.Point) {
		for _, c := range p.Clips {
			if c.Line.Segments() == 2 { // cut out or, at a match mark, marked
				all = append(all, c.Line.V[1].Point)
			}
		}
		return all
	}
	a, b := apexes(garment), apexes(facings)
	require.Len(t, b, len(a)+5, "one more on each of five crests")
	for _, q := range a {
		for _, other := range b {
			require.Greater(t, q.Dist(other), 2.0)
		}
	}
}

func TestSnipsAreOnTheLayersAndOfTheKindsThatAreWanted(t *testing.T) {
	turning := everything()
	turning.On, turning.MarkNotches, turning.Clips = facing.FacingOnly, true, facing.Marked
	made := waves(t, turning)
	require.Empty(t, made.Garments[0].Clips)
	n := kinds(made.Facings[0])
	require.Zero(t, n[facing.SlitClip]+n[facing.VClip])
	require.Positive(t, n[facing.MarkClip])
	require.Positive(t, n[facing.MarkV])
	require.Len(t, made.Facings[0].Pivots, 4, "at the valleys that are in no seam")
	for _, l := range made.Facings[0].Pivots {
		require.InDelta(t, 2*3, l.Length(), 1e-9, "two stitches of 3 mm in thick cloth")
	}
	turning.Clips = facing.Uncut
	require.Zero(t, kinds(waves(t, turning).Facings[0])[facing.MarkClip])
}

// S5 p. 451: trim enclosed seams to 1/8 to 1/4 in (3 to 6 mm), the layer nearest the
// outside widest.
func TestSnipWithANotchInItIsOnlyMarked(t *testing.T) {
	marked := 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		o.Turning = facing.Turning{Curves: true, Notches: true, On: facing.Staggered}
		made := makeOrSkip(t, r, o)
		for _, p := range append(made.Garments, made.Facings...) {
			for _, c := range p.Clips {
				if !c.Kind.Cut() {
					marked++
				}
				if c.Valley || !c.Kind.Cut() {
					continue
				}
				line := path.NewRuler(c.Line)
				for _, n := range p.Notches {
					_, off := line.Nearest(n.Line.A)
					require.Greater(t, off, 1.99, "%s", p.Name)
				}
			}
		}
	})
	require.Positive(t, marked)
}

func TestTrimLineLiesAtItsWidth(t *testing.T) {
	made := waves(t, everything())
	for _, c := range []struct {
		piece facing.Piece
		width float64
	}{{made.Garments[0], 3.9}, {made.Facings[0], 3}} {
		net := path.NewRuler(c.piece.Edges[0].Net)
		for _, q := range samples(c.piece.Trims[0], 2) {
			if _, off := net.Nearest(q); !beyondSide(c.piece, q) {
				require.InDelta(t, c.width, off, 0.01)
			}
		}
	}
}

func TestTurningThatCannotBeIsRefusedWithARemedy(t *testing.T) {
	p, err := draft.Straight{Width: 500, Depth: 300}.Panel(draft.Form{Name: "panel"})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Scallop}, Width: 50, Depth: 20})
	require.NoError(t, err)
	for want, o := range map[string]facing.Options{
		"panel: the gap of 6.0 mm leaves nothing to snip of an allowance of 6.0 mm": {Hem: 6, ClipGap: 6, Turning: facing.Turning{Notches: true}},
		"panel: an allowance of 6.0 mm cannot be trimmed to 6 mm":                   {Hem: 6, ClipGap: 1.5, Turning: facing.Turning{TrimGarment: 6}},
		"panel: an allowance of 6.0 mm cannot be trimmed to -1 mm":                  {Hem: 6, ClipGap: 1.5, Turning: facing.Turning{TrimGarment: -1}},
		"panel: the fullness is 5000 mm":                                            {Hem: 6, ClipGap: 1.5, Turning: facing.Turning{Notches: true, Fullness: 5000}},
	} {
		_, err := facing.Make(r, o)
		require.EqualError(t, err, want)
		var own *facing.Error
		require.ErrorAs(t, err, &own)
		require.NotEmpty(t, own.Remedy())
	}
}

// The sections of a facing have its valleys between them, each join in two of them, though
// no slit is cut there.
func TestTurningOfSectionsIsMeasuredFromValleyToValley(t *testing.T) {
	p, err := draft.Gore{Waist: 500, Hem: 900, Length: 500}.Panel(draft.Form{Name: "panel"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Wave}, Width: 70, Depth: 24})
	require.NoError(t, err)
	o := facing.Options{Depth: 60, Favour: 2, Hem: 6, Inner: 6, Side: 10, ClipGap: 1.5, Turning: facing.Turning{Clips: facing.Uncut}}
	repeats := func(pieces []facing.Piece) (n int, bulk []float64) {
		for _, p := range pieces {
			require.Empty(t, p.Clips)
			_, all, err := facing.PlanTurning(p, o)
			require.NoError(t, err)
			n += len(all)
			for _, x := range all {
				bulk = append(bulk, x.Before.Bulk)
			}
		}
		return n, bulk
	}
	made, err := facing.Make(r, o)
	require.NoError(t, err)
	n, whole := repeats(made.Facings)
	require.Equal(t, r.Panels[0].Repeats, n)
	o.Section = 400
	made, err = facing.Make(r, o)
	require.NoError(t, err)
	require.Greater(t, len(made.Facings), 1)
	n, parts := repeats(made.Facings)
	require.Equal(t, r.Panels[0].Repeats, n)
	require.InDeltaSlice(t, whole, parts, 2) // the allowance ends otherwise beside a join
}

// Crests of a radius of about 9 mm, on which Vs have no room in 8 mm.
func TestTightCurvesHaveTrimLinesWithNotchesOrTips(t *testing.T) {
	p, err := draft.Gore{Waist: 500, Hem: 700, Length: 500}.Panel(draft.Form{Name: "panel"})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Wave}, Width: 34, Depth: 16})
	require.NoError(t, err)
	for _, c := range []struct {
		turning facing.Turning
		drawn   bool
	}{
		{facing.Turning{Notches: true}, true}, {facing.Turning{Tips: true}, true}, {facing.Turning{Curves: true}, false},
	} {
		made, err := facing.Make(r, facing.Options{Depth: 80, Hem: 8, Inner: 6, Side: 10, ClipGap: 1.5, Turning: c.turning})
		require.NoError(t, err)
		for _, p := range append(made.Garments, made.Facings...) {
			warned := slices.ContainsFunc(made.Warnings, func(w fit.Warning) bool { return w.Code == "turn-tight" && w.Where == p.Name })
			if !c.drawn {
				require.Empty(t, p.Trims)
				require.Zero(t, p.Narrowest)
				require.False(t, warned)
				continue
			}
			require.NotEmpty(t, p.Trims)
			require.Greater(t, p.Narrowest, 2.9)
			require.Less(t, p.Narrowest, 8.0)
			require.True(t, warned || p.Kind != facing.Garment)
			n := kinds(p)
			require.Zero(t, n[facing.VClip], "in the whole allowance none has room")
			require.Equal(t, c.turning.Notches, n[facing.MarkV] > 0)
		}
	}
}
