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

// joined fits two panels that are sewn together at one side, with a seam allowance of 15 mm.
func joined(t *testing.T, spec fit.Spec, a, b fit.Panel) *fit.Result {
	for _, p := range []*fit.Panel{&a, &b} {
		if p.StartPhase == fit.AnyPhase {
			p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
		}
	}
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{a, b},
		Seams: []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}}}}, spec)
	require.NoError(t, err)
	return r
}

// straightPanel is a rectangle with notches so far up both its sides.
func straightPanel(t *testing.T, name string, width, depth float64, notches ...float64) fit.Panel {
	side := draft.Side{Role: fit.SeamEdge, Allowance: 15, Notches: notches}
	p, err := draft.Straight{Width: width, Depth: depth}.Panel(draft.Form{Name: name, Start: side, Finish: side})
	require.NoError(t, err)
	return p
}

func TestSeamsOfEqualPanelsAreTrue(t *testing.T) {
	side := draft.Side{Role: fit.SeamEdge, Allowance: 15, Notches: []float64{20, 100}}
	ring, err := draft.Circle{Waist: 711, Length: 400, Part: 1, Panels: 4}.Panel(draft.Form{Name: "ring", Start: side, Finish: side})
	require.NoError(t, err)
	for _, p := range []fit.Panel{straightPanel(t, "straight", 600, 300, 20, 100), ring} {
		for _, shape := range []motif.Kind{motif.Point, motif.Scallop, motif.Wave} {
			for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
				p.StartPhase, p.FinishPhase = phase, phase
				r := joined(t, fit.Spec{Shape: motif.Shape{Kind: shape}, Width: 60, Depth: 18}, p, p)
				made, err := facing.Make(r, usual())
				require.NoError(t, err)
				require.Len(t, made.Truing, 2, "of the garments and of the facings")
				for i, x := range made.Truing {
					require.Equal(t, []facing.Kind{facing.Garment, facing.Facing}[i], x.Kind)
					require.InDelta(t, 0, x.Worst(), 1e-6)
					require.Equal(t, facing.Good, x.Verdict())
					require.InDelta(t, 0, x.HemTurn, 1e-3, "%v on %s, %v: as at the other %vs", shape, p.Name, x.Kind, phase)
					require.Len(t, x.Pairs, 2-i, "the facing has the one that it covers")
					require.Zero(t, x.Unmatched)
				}
			}
		}
	}
}

func TestNotchesThatMissAreToldFromTheNearerEnd(t *testing.T) {
	spec := fit.Spec{Width: 60, Depth: 18}
	r := joined(t, spec, straightPanel(t, "front", 600, 300, 100, 200), straightPanel(t, "back", 600, 300, 102, 200, 250))
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	x := made.Truing[0]
	require.Len(t, x.Pairs, 2)
	require.InDelta(t, 2, x.Pairs[0].Apart(), 1e-6)
	require.InDelta(t, 0, x.Pairs[1].Apart(), 1e-6)
	require.Equal(t, [2]int{0, 1}, x.Unmatched)
	require.InDelta(t, -2, x.HemStep, 1e-6, "sewn from the lower notches, B's hem comes further down")
	require.Equal(t, facing.Tolerated, x.Verdict())
	require.Len(t, made.Warnings, 1)
	require.Equal(t, "truing", made.Warnings[0].Code)
	require.Equal(t, fit.LevelNote, made.Warnings[0].Level, "what is tolerated can stay")
	require.Contains(t, made.Warnings[0].Message, "notch 1 from the hem misses its pair by 2.0 mm")

	// The second panel is 4 mm longer above its notches, and so are they from the top.
	r = joined(t, spec, straightPanel(t, "front", 600, 300, 100), straightPanel(t, "back", 600, 304, 100))
	made, err = facing.Make(r, usual())
	require.NoError(t, err)
	x = made.Truing[0]
	require.InDelta(t, -4, x.Difference(), 1e-6)
	require.InDelta(t, 0, x.Pairs[0].Apart(), 1e-6)
	require.InDelta(t, 0, x.HemStep, 1e-6)
	require.Equal(t, facing.Untrue, x.Verdict())
	require.Equal(t, "truing-error", r.Warnings[0].Code)
	require.Equal(t, fit.LevelWarning, r.Warnings[0].Level)
}

// Accuracy of 1/16 in, 1/8 in tolerated: "10 Patternwork Skills", Threads 200, 2018.
func TestVerdictsFollowThePublishedTolerances(t *testing.T) {
	for off, want := range map[float64]facing.Verdict{
		0: facing.Good, 1.587: facing.Good, 1.59: facing.Tolerated, 3.174: facing.Tolerated, 3.18: facing.Untrue, math.Inf(1): facing.Untrue,
	} {
		require.Equal(t, want, facing.Truing{Lengths: [2]float64{100, 100 + off}}.Verdict(), "%g mm longer", off)
		require.Equal(t, want, facing.Truing{Lengths: [2]float64{100 + off, 100}}.Verdict(), "%g mm longer", off)
		require.Equal(t, want, facing.Truing{CutStep: -off}.Verdict())
		require.Equal(t, want, facing.Truing{HemStep: off}.Verdict())
	}
}

// Half circles of a motif stand on repeats of 60 and 66 mm: the cut line of each comes
// to the seam where its circle moved out meets the side.
func TestCutStepIsThatOfTheTwoCircles(t *testing.T) {
	a, b := straightPanel(t, "front", 600, 300), straightPanel(t, "back", 660, 300)
	a.Count, b.Count = 10, 10
	r := joined(t, fit.Spec{Width: 60, Depth: 20}, a, b)
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	depth := func(width float64) float64 {
		radius := (width*width/4 + 20*20) / 2 / 20
		centre := 20 - radius // below the valleys, where it is above 0
		return centre + math.Sqrt((radius+6)*(radius+6)-width*width/4)
	}
	require.InDelta(t, depth(60)-depth(66), made.Truing[0].CutStep, 1e-3)
}

func TestJoinedFacingsOfAnyGarmentAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		o := options(t)
		o.TrueFacings = rapid.Bool().Draw(t, "corrected")
		o.FavourBoth = rapid.Bool().Draw(t, "favour on both")
		made := makeOrSkip(t, r, o)
		require.Len(t, made.Truing, 2*len(g.Seams))
		limit := 0.1
		if o.TrueFacings {
			limit = 1e-6
		}
		for i, x := range made.Truing {
			require.Equal(t, g.Seams[i%len(g.Seams)], x.Seam)
			require.False(t, math.IsNaN(x.Worst()) || math.IsNaN(x.HemTurn))
			require.LessOrEqual(t, math.Abs(x.HemTurn), math.Pi)
			if x.Kind == facing.Facing {
				require.InDelta(t, 0, x.Difference(), limit)
			} else if len(x.Pairs) == 0 && made.Favours[0].Outward == 0 && r.Panels[x.Seam.A.Panel].Repeats > 3 && r.Panels[x.Seam.B.Panel].Repeats > 3 {
				// The hem turns much as the panels' own angles say. Motifs that grow or lean
				// differ from their neighbours besides.
				require.InDelta(t, r.Seams[i].HemTurn, x.HemTurn, 1)
			}
			if x.Seam.A == x.Seam.B {
				require.Zero(t, x.Worst(), "a side and its own mirror image")
			}
			// Walked the other way round, it is the same.
			require.InDelta(t, x.Lengths[0]-x.Lengths[1], x.Difference(), 1e-12)
			for _, n := range x.Pairs {
				for k := range n.FromHem {
					require.InDelta(t, x.Lengths[k], n.FromHem[k]+n.FromTop[k], 1e-9)
				}
			}
		}
	})
}

// Correcting moves no more than the inner corner of the second facing.
func TestCorrectedFacingsKeepTheirHems(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		was := makeOrSkip(t, r, o)
		o.TrueFacings = true
		made := makeOrSkip(t, r, o)
		for i, p := range made.Facings {
			require.Equal(t, was.Garments[i].Net(), made.Garments[i].Net())
			require.Equal(t, was.Facings[i].Edges[0].Net, p.Edges[0].Net)
			before := path.NewRuler(was.Facings[i].Edges[2].Net)
			for _, q := range samples(p.Edges[2].Net, 10) {
				_, off := before.Nearest(q)
				require.LessOrEqual(t, off, 0.1)
			}
		}
	})
}
