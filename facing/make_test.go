package facing_test

import (
	"fmt"
	"math"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func options(t *rapid.T) facing.Options {
	o := facing.Options{
		Depth: rapid.Float64Range(30, 70).Draw(t, "facing depth"),
		Hem:   rapid.Float64Range(4, 10).Draw(t, "hem allowance"),
		Side:  float64(rapid.IntRange(0, 20).Draw(t, "side allowance")),
		Inner: rapid.SampledFrom([]float64{0, 6}).Draw(t, "inner allowance"),

		ClipGap: 1.5, MarkEvery: 200, Style: "Test",
	}
	if rapid.Bool().Draw(t, "favoured") {
		o.Favour = rapid.Float64Range(0.5, 3).Draw(t, "favour")
	}
	return o
}

// pair is the two pieces of a panel.
type pair struct{ Garment, Facing facing.Piece }

// eachPiece checks a fact on the pieces of random garments.
func eachPiece(t *testing.T, fact func(t *rapid.T, f fit.Fitted, o facing.Options, p pair)) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		o := options(t)
		made, err := facing.Make(r, o)
		require.NoError(t, err)
		for i, f := range r.Panels {
			fact(t, f, o, pair{made.Garments[i], made.Facings[i]})
		}
	})
}

func each(p pair) []facing.Piece { return []facing.Piece{p.Garment, p.Facing} }

func TestFacingHemIsTheGarmentsMovedInByTheFavour(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		require.Equal(t, f.Edge, p.Garment.Edges[0].Net)
		moved := p.Facing.Edges[0].Net
		if o.Favour == 0 {
			require.Equal(t, f.Edge, moved)
			return
		}
		hem := path.NewRuler(f.Edge)
		each, want := samples(moved, 3), o.Favour
		for _, q := range each {
			_, off := hem.Nearest(q)
			// Beside a seam the nearest place may be on the neighbour's hem.
			if near(f, q, 2*o.Favour) {
				require.LessOrEqual(t, off, 3*want)
				continue
			}
			// Where the hem turns at a seam its end is eased.
			if near(f, q, f.Width) {
				require.InDelta(t, want, off, 0.1)
				continue
			}
			require.InDelta(t, want, off, 1e-4)
		}
	})
}

// samples returns points along the path about every step mm.
func samples(p path.Path, step float64) []path.Point {
	r := path.NewRuler(p)
	n := int(r.Length()/step) + 1
	list := make([]path.Point, 0, n+1)
	for i := range n + 1 {
		list = append(list, r.At(r.Length()*float64(i)/float64(n)))
	}
	return list
}

// near reports whether q lies within the distance of the line of a side.
func near(f fit.Fitted, q path.Point, distance float64) bool {
	for _, k := range []int{1, len(f.Panel.Edges) - 1} {
		side := f.Panel.Edges[k].Path
		if math.Abs(q.Sub(side.Start()).Cross(side.StartTangent())) < distance {
			return true
		}
	}
	return false
}

func TestCutLineLiesAtItsAllowanceAndNowhereNearer(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			net := path.NewRuler(piece.Net())
			for _, e := range piece.Edges {
				edge := path.NewRuler(e.Net)
				for _, q := range samples(e.Cut, 5) {
					along, off := edge.Nearest(q)
					atEnd := along < 1e-6 || along > edge.Length()-1e-6
					if !atEnd && !beyondSide(piece, q) {
						require.InDelta(t, e.Allowance, off, 0.01, "%s, edge %s", piece.Name, e.Name)
					}
					least := e.Allowance
					_, whole := net.Nearest(q)
					if whole < least-0.01 {
						// Nearer only to the edge round the corner, whose own
						// allowance is narrower.
						require.True(t, atEnd || near(f, q, 40), "%s, edge %s", piece.Name, e.Name)
					}
				}
			}
			require.GreaterOrEqual(t, piece.Cut().Area(), piece.Net().Area()-1e-6)
		}
	})
}

// beyondSide reports whether q lies in the allowance of a side, where a hem's
// cut line is a mirror image.
func beyondSide(p facing.Piece, q path.Point) bool {
	last := len(p.Edges) - 1
	a, b := p.Edges[last].Net, p.Edges[1].Net
	return q.Sub(a.End()).Cross(a.EndTangent()) > -1e-6 || q.Sub(b.Start()).Cross(b.StartTangent()) > -1e-6
}

func TestInnerEdgeLiesAtTheFacingDepthInsideThePanel(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		valley := path.NewRuler(f.Valley)
		outline := f.Panel.Outline()
		for _, q := range samples(p.Facing.Edges[2].Net, 5) {
			// Slanted sides ease the line towards what their neighbours have.
			if !near(f, q, 4*o.Depth+120) {
				_, off := valley.Nearest(q)
				require.InDelta(t, o.Depth, off, 0.05)
			}
			if !near(f, q, 1) {
				require.True(t, outline.Contains(q))
			}
		}
	})
}

func TestEveryValleyHasAClipThatStopsShortOfTheStitching(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			if missing := len(f.Valleys) - len(piece.Clips); missing > 0 {
				// Only at an end whose side leans in under the motif.
				require.LessOrEqual(t, missing, 2)
				require.True(t, f.SideAngle(fit.Start) > math.Pi/2+0.02 || f.SideAngle(fit.Finish) > math.Pi/2+0.02)
				continue
			}
			net := path.NewRuler(piece.Edges[0].Net)
			cut := path.NewRuler(piece.Edges[0].Cut)
			for i, c := range piece.Clips {
				_, off := cut.Nearest(c.A)
				require.InDelta(t, 0, off, 0.002, "starts on the cut edge")
				_, off = net.Nearest(c.B)
				require.LessOrEqual(t, off, o.ClipGap+0.01)
				require.Positive(t, off)
				if piece.Kind == facing.Garment {
					require.InDelta(t, o.ClipGap, c.B.Dist(f.Valleys[i].Point), 1e-6, "ends the gap short of the valley")
				}
				require.Empty(t, path.FromSegments(c).Intersections(piece.Edges[0].Net))
			}
		}
	})
}

func TestMatchMarksOfGarmentAndFacingStandAtEqualDistances(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		marks := func(piece facing.Piece) []facing.Notch {
			var on []facing.Notch
			for _, n := range piece.Notches {
				if n.Edge == 0 {
					on = append(on, n)
				}
			}
			return on
		}
		a, b := marks(p.Garment), marks(p.Facing)
		require.Equal(t, len(a), len(b))
		require.NotEmpty(t, a)
		for i := range a {
			apart := b[i].Net.Sub(a[i].Net)
			require.InDelta(t, 0, apart.Cross(a[i].Line.Chord().Unit()), 0.001, "on one axis")
			require.GreaterOrEqual(t, apart.Len(), o.Favour-0.01)
			if o.Favour == 0 {
				require.InDelta(t, a[i].At, b[i].At, 1e-6)
			}
		}
	})
}

func TestFoldIsStraightAndHasNoAllowance(t *testing.T) {
	folds := 0
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			require.Equal(t, f.Panel.OnFold(), piece.OnFold)
			for _, e := range piece.Edges {
				if e.Role != fit.FoldEdge {
					continue
				}
				folds++
				require.Zero(t, e.Allowance)
				a, b := e.Cut.Start(), e.Cut.End()
				require.InDelta(t, 0, a.Dist(e.Net.Start()), a.Dist(b), "the cut line leaves no fold out")
				for _, q := range samples(e.Cut, 10) {
					require.InDelta(t, 0, q.Sub(e.Net.Start()).Cross(e.Net.StartTangent()), 1e-6)
				}
			}
		}
	})
	require.Positive(t, folds)
}

func TestAllowanceEndsMirrorThePieceAcrossItsSeams(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			hem := piece.Edges[0]
			for i, side := range []facing.Edge{piece.Edges[len(piece.Edges)-1], piece.Edges[1]} {
				if side.Role == fit.FoldEdge || side.Allowance == 0 {
					continue
				}
				corner, along := side.Net.End(), side.Net.EndTangent()
				if i == 1 {
					corner, along = side.Net.Start(), side.Net.StartTangent()
				}
				mirror := path.Reflection(corner, along)
				image := path.NewRuler(hem.Cut.Transform(mirror))
				inside := 0
				for _, q := range samples(hem.Cut, 1) {
					off := q.Sub(corner).Cross(along)
					if off < 0 {
						continue // inside; beyond the seam is right of the side as run
					}
					inside++
					_, d := image.Nearest(q)
					require.LessOrEqual(t, d, 0.01)
				}
				if side.Allowance > 3 {
					require.Positive(t, inside)
				}
			}
		}
	})
}

func TestUnfoldedPieceIsTwiceTheHalf(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			whole := piece.Unfold()
			if !piece.OnFold {
				require.Equal(t, piece, whole)
				continue
			}
			require.False(t, whole.OnFold)
			require.InDelta(t, 2*piece.Net().Area(), whole.Net().Area(), 1e-3)
			require.InDelta(t, 2*piece.Cut().Area(), whole.Cut().Area(), 1e-3)
			require.Empty(t, whole.Cut().SelfIntersections())
			require.Equal(t, fit.HemEdge, whole.Edges[0].Role)
			onFold := 0
			if f.Phases[fit.Start] == fit.Valley {
				onFold = 1
			}
			require.Len(t, whole.Clips, 2*len(piece.Clips)-onFold)
			for _, n := range whole.Notches {
				r := path.NewRuler(whole.Edges[n.Edge].Net)
				require.InDelta(t, 0, r.At(n.At).Dist(n.Net), 1e-4, "notches know their place")
			}
		}
	})
}

func skirt(t *testing.T, half bool) *fit.Result {
	p, err := draft.Gore{Waist: 360, Hem: 600, Length: 560}.Panel(draft.Form{
		Name: "front", Size: "38", Half: half, Finish: draft.Side{Allowance: 15, Notches: []float64{25, 300}}, TopAllowance: 10,
	})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	return r
}

func usual() facing.Options {
	return facing.Options{Depth: 50, Favour: 1, Hem: 6, Inner: 6, SideAsPanel: true, ClipGap: 1.5, MarkEvery: 200, Style: "Test"}
}

func TestJoinedFacingsHaveEqualSeams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		o := options(t)
		made, err := facing.Make(r, o)
		require.NoError(t, err)
		require.Len(t, made.Seams, len(g.Seams))
		side := func(e fit.EndRef) float64 {
			k := 1
			if e.End == fit.Start {
				k = 3
			}
			return made.Facings[e.Panel].Edges[k].Net.Length()
		}
		for _, s := range g.Seams {
			require.InDelta(t, side(s.A), side(s.B), 0.1)
		}
	})
}

func TestLabelSaysWhatToCut(t *testing.T) {
	made, err := facing.Make(skirt(t, true), usual())
	require.NoError(t, err)
	p := pair{made.Garments[0], made.Facings[0]}
	require.Equal(t, []string{
		"Test: front", "size 38, cut 1 on fold", "10 scallops 60 x 20 mm", "allowance hem 6, side 15, top 10 mm",
	}, p.Garment.Label.Lines)
	require.Equal(t, []string{
		"Test: front facing", "size 38, cut 1 on fold", "10 scallops 60 x 20 mm", "allowance hem 6, side 15, inner 6 mm",
	}, p.Facing.Label.Lines)
}

func TestLabelIsInTheUnitOfTheStyle(t *testing.T) {
	o := usual()
	o.Unit, o.Length = "in", func(mm float64) string { return fmt.Sprintf("%.2f", mm/25.4) }
	made, err := facing.Make(skirt(t, true), o)
	require.NoError(t, err)
	require.Equal(t, []string{"10 scallops 2.36 x 0.79 in", "allowance hem 0.24, side 0.59, top 0.39 in"}, made.Garments[0].Label.Lines[2:])
}

func TestNotchesAndGrainAreKept(t *testing.T) {
	r := skirt(t, false)
	f := r.Panels[0]
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	p := pair{made.Garments[0], made.Facings[0]}
	require.Equal(t, f.Panel.Grain, p.Garment.Grain)
	var onSide []float64
	for _, n := range p.Garment.Notches {
		if n.Edge == 1 {
			onSide = append(onSide, n.At)
			require.InDelta(t, 15, n.Line.A.Dist(n.Net), 1e-6)
		}
	}
	require.InDeltaSlice(t, []float64{25, 300}, onSide, 1e-9)
	onSide = nil
	for _, n := range p.Facing.Notches {
		if n.Edge == 1 {
			onSide = append(onSide, n.At)
		}
	}
	require.InDeltaSlice(t, []float64{25 - 1}, onSide, 0.01, "only the one that the facing covers, less the favour")
	g := p.Facing.Grain
	require.InDelta(t, 0, g.Chord().Unit().Cross(f.Panel.Grain.Chord().Unit()), 1e-9)
	require.True(t, p.Facing.Net().Contains(g.A) && p.Facing.Net().Contains(g.B))
}

func TestImpossibleFacingsAreExplained(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*facing.Options)
		text   string
		remedy string
	}{
		{"deeper than the piece", func(o *facing.Options) { o.Depth = 700 },
			"front facing: the facing is deeper than the piece: 700.0 mm above the valleys is 140.0 mm beyond its sides",
			"at most 560.0 mm deep fits"},
		{"depth that is not a number", func(o *facing.Options) { o.Depth = math.NaN() }, "front: the facing depth is NaN mm", "give it from 0 to 100000 mm"},
		{"negative allowance", func(o *facing.Options) { o.Hem = -6 }, "front: the hem allowance is -6 mm", "give it from 0 to 100 mm"},
		{"favour larger than the facing", func(o *facing.Options) { o.Favour = 40 },
			"front: the favour of 40.0 mm is half of the facing depth of 50.0 mm or more", "1 to 3 mm is usual"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := usual()
			c.change(&o)
			_, err := facing.Make(skirt(t, false), o)
			var own *facing.Error
			require.ErrorAs(t, err, &own)
			require.EqualError(t, err, c.text)
			require.Equal(t, c.remedy, own.Remedy())
		})
	}
}

func TestNoDepthMakesNoFacing(t *testing.T) {
	o := usual()
	o.Depth = 0
	made, err := facing.Make(skirt(t, false), o)
	require.NoError(t, err)
	require.Len(t, made.Garments, 1)
	require.Empty(t, made.Facings)
}

// The sides of a half circle lie on one line, so that its inner edge comes back
// to it.
func TestHalfCirclePanelHasAFacing(t *testing.T) {
	p, err := draft.Circle{Waist: 711, Length: 610, Part: 1, Panels: 2}.Panel(draft.Form{
		Name: "half", Start: draft.Side{Allowance: 15}, Finish: draft.Side{Allowance: 15},
	})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 120, Depth: 30})
	require.NoError(t, err)
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	inner := made.Facings[0].Edges[2]
	require.InDelta(t, math.Pi*(711/(2*math.Pi)+610-50), inner.Net.Length(), 0.01)
	require.Empty(t, made.Facings[0].Cut().SelfIntersections())
}

func TestClipsWithoutRoomAreReported(t *testing.T) {
	o := usual()
	o.Hem = 0.3
	made, err := facing.Make(skirt(t, false), o)
	require.NoError(t, err)
	require.Empty(t, made.Garments[0].Clips)
	require.Len(t, made.Warnings, 2)
	require.Equal(t, "clip-room", made.Warnings[0].Code)
}

func BenchmarkMake(b *testing.B) {
	p, err := draft.Gore{Waist: 360, Hem: 600, Length: 560}.Panel(draft.Form{Name: "front", Finish: draft.Side{Allowance: 15}})
	require.NoError(b, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
	require.NoError(b, err)
	for b.Loop() {
		if _, err := facing.Make(r, usual()); err != nil {
			b.Fatal(err)
		}
	}
}
