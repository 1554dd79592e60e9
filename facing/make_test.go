package facing_test

import (
	"fmt"
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

// pair is the two pieces of a panel; joined says that a seam joins the panel to
// another, whose hem may turn or have repeats of another width.
type pair struct {
	Garment, Facing facing.Piece
	joined          bool
}

// eachPiece checks a fact on the pieces of random garments.
func eachPiece(t *testing.T, fact func(t *rapid.T, f fit.Fitted, o facing.Options, p pair)) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		o := options(t)
		made := makeOrSkip(t, r, o)
		for i, f := range r.Panels {
			joined := slices.ContainsFunc(g.Seams, func(s fit.Seam) bool {
				return s.A != s.B && (s.A.Panel == i || s.B.Panel == i)
			})
			fact(t, f, o, pair{made.Garments[i], made.Facings[i], joined})
		}
	})
}

// makeOrSkip makes the pieces of a random garment. A few cannot be made, as where a
// deep motif lies across the line of a side that leans in, and are refused with what
// would help.
func makeOrSkip(t *rapid.T, r *fit.Result, o facing.Options) *facing.Made {
	made, err := facing.Make(r, o)
	if err == nil {
		return made
	}
	var own *facing.Error
	require.ErrorAs(t, err, &own)
	require.NotEmpty(t, own.Remedy(), err)
	t.Skip(err)
	return nil
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
		for _, q := range samples(moved, 3) {
			_, off := hem.Nearest(q)
			// Beside a side the nearest place may be on the image beyond it.
			if near(f, q, 2*o.Favour) {
				require.LessOrEqual(t, off, 3*o.Favour)
				continue
			}
			// Where joined hems differ, the ends of both are eased to meet.
			if near(f, q, f.Width) && p.joined {
				require.InDelta(t, o.Favour, off, 0.1)
				continue
			}
			require.InDelta(t, o.Favour, off, 1e-4)
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
			nets := make([]*path.Ruler, len(piece.Edges))
			for i, e := range piece.Edges {
				nets[i] = path.NewRuler(e.Net)
			}
			for i, e := range piece.Edges {
				for _, q := range samples(e.Cut, 4) {
					outside := beyondSide(piece, q)
					for j, other := range piece.Edges {
						along, off := nets[j].Nearest(q)
						if j == i && outside {
							continue // the image of its own or of the joined hem
						}
						least := min(e.Allowance, other.Allowance)
						require.GreaterOrEqual(t, off, least-0.01, "%s, edge %s from %s", piece.Name, e.Name, other.Name)
						if j == i && along > 1e-6 && along < nets[j].Length()-1e-6 {
							require.InDelta(t, e.Allowance, off, 0.01, "%s, edge %s", piece.Name, e.Name)
						}
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
			if missing := len(f.ClipPlaces()) - len(piece.Clips); missing > 0 {
				// Only at an end whose side leans in under the motif.
				if len(f.ClipPlaces()) != len(f.Valleys) {
					continue // low steps have no room at their inner corners, which is warned of
				}
				require.LessOrEqual(t, missing, 2)
				require.True(t, f.SideAngle(fit.Start) > math.Pi/2+0.02 || f.SideAngle(fit.Finish) > math.Pi/2+0.02)
				continue
			}
			net := path.NewRuler(piece.Edges[0].Net)
			cut := path.NewRuler(piece.Edges[0].Cut)
			for i, c := range piece.Clips {
				_, off := cut.Nearest(c.Line.Start())
				require.InDelta(t, 0, off, 0.002, "starts on the cut edge")
				_, off = net.Nearest(c.Line.End())
				require.LessOrEqual(t, off, o.ClipGap+0.01)
				require.Positive(t, off)
				if piece.Kind == facing.Garment {
					require.InDelta(t, o.ClipGap, c.Line.End().Dist(f.ClipPlaces()[i].Point), 1e-6, "ends the gap short of the valley")
				}
				require.Empty(t, c.Line.Intersections(piece.Edges[0].Net))
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
			for i, e := range piece.Edges {
				if e.Role != fit.FoldEdge {
					continue
				}
				folds++
				require.Zero(t, e.Allowance)
				// It runs on from the net's ends to the cut lines beside it.
				before, after := piece.Edges[(i+len(piece.Edges)-1)%len(piece.Edges)], piece.Edges[(i+1)%len(piece.Edges)]
				along := e.Net.StartTangent()
				require.GreaterOrEqual(t, e.Net.Start().Sub(e.Cut.Start()).Dot(along), before.Allowance-1e-6)
				require.GreaterOrEqual(t, e.Cut.End().Sub(e.Net.End()).Dot(along), after.Allowance-1e-6)
				for _, q := range samples(e.Cut, 10) {
					require.InDelta(t, 0, q.Sub(e.Net.Start()).Cross(e.Net.StartTangent()), 1e-6)
				}
			}
		}
	})
	require.Positive(t, folds)
}

// ending is where the hem (or a facing's inner edge) comes to a side: its cut
// line, the corner of the stitching lines, and the side's direction from there,
// up from the hem.
type ending struct {
	cut       path.Path
	at        path.Point
	up        path.Vec
	end       fit.End
	allowance float64
}

// endings returns those of the piece at an end: the hem's, and of a facing the
// inner edge's.
func endings(p facing.Piece, end fit.End) []ending {
	side := p.Edges[1]
	net := side.Net
	if end == fit.Start {
		side = p.Edges[len(p.Edges)-1]
		net = side.Net.Reverse()
	}
	all := []ending{{p.Edges[0].Cut, net.Start(), net.StartTangent(), end, side.Allowance}}
	if p.Kind == facing.Facing {
		all = append(all, ending{p.Edges[2].Cut, net.End(), net.EndTangent(), end, side.Allowance})
	}
	return all
}

// beyond returns how far q lies beyond the line of the side, negative inside.
func (e ending) beyond(q path.Point) float64 {
	if e.end == fit.Start {
		return e.up.Cross(q.Sub(e.at))
	}
	return q.Sub(e.at).Cross(e.up)
}

// lay returns the motion that lays the ending's corner on the other's and its
// side on the other's side, allowance on allowance, as the two are sewn.
func (e ending) lay(on ending) path.Similarity {
	m := path.Translation(path.Vec{})
	if e.end != on.end {
		m = path.Reflection(e.at, e.up)
	}
	return m.Then(path.Rotation(e.at, e.up.AngleTo(on.up))).Then(path.Translation(on.at.Sub(e.at)))
}

// onSide is how near in mm to a line a place lies on it: a step along that of a side is
// neither in the allowance nor in the piece.
const onSide = 1e-6

// farthest returns the largest distance from the line of the places of e's cut
// line that lie beyond its side, at most width mm, and how many it looked at.
func (e ending) farthest(line path.Path, width float64) (off float64, places int) {
	r := path.NewRuler(line)
	for _, q := range samples(e.cut, 0.5) {
		if out := e.beyond(q); out > onSide && out <= width {
			_, d := r.Nearest(q)
			off = max(off, d)
			places++
		}
	}
	return off, places
}

// eachMade checks a fact on random garments: the endings of hems and of facings'
// inner edges, by panel and end, garments and facings one after the other.
func eachMade(t *testing.T, fact func(t *rapid.T, g fit.Garment, at func(fit.EndRef) []ending)) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		if slices.ContainsFunc(r.Warnings, func(w fit.Warning) bool { return w.Code == "motif-across-seam" }) {
			t.Skip("a motif that lies across its seam is warned of")
		}
		o := options(t)
		made := makeOrSkip(t, r, o)
		fact(t, g, func(e fit.EndRef) []ending {
			return append(endings(made.Garments[e.Panel], e.End), endings(made.Facings[e.Panel], e.End)...)
		})
	})
}

func TestAllowancesOfASeamLieEdgeOnEdgeWhenSewn(t *testing.T) {
	seen := 0
	eachMade(t, func(t *rapid.T, g fit.Garment, at func(fit.EndRef) []ending) {
		for _, s := range g.Seams {
			as, bs := at(s.A), at(s.B)
			for i, a := range as {
				b := bs[i]
				if a.allowance > b.allowance {
					// Beyond the neck of a valley a wide allowance has what in a narrow one does
					// not hang together with its piece and is left out.
					a, b = b, a
				}
				off, places := a.farthest(b.cut.Transform(b.lay(a)), a.allowance)
				require.LessOrEqual(t, off, onSide)
				seen += places
			}
		}
	})
	require.Positive(t, seen)
}

// Of two joined pieces the first does, and every piece at ends that are not
// joined.
func TestAllowancePressedOpenLiesOnItsPieceEdgeOnEdge(t *testing.T) {
	seen := 0
	eachMade(t, func(t *rapid.T, g fit.Garment, at func(fit.EndRef) []ending) {
		for i := range g.Panels {
			for _, end := range []fit.End{fit.Start, fit.Finish} {
				self := fit.EndRef{Panel: i, End: end}
				if slices.ContainsFunc(g.Seams, func(s fit.Seam) bool { return s.B == self && s.A != self }) {
					continue
				}
				for _, e := range at(self) {
					off, places := e.farthest(e.cut.Transform(path.Reflection(e.at, e.up)), e.allowance)
					require.LessOrEqual(t, off, onSide)
					seen += places
				}
			}
		}
	})
	require.Positive(t, seen)
}

// The full circle's sides are one line, on which it is cut open.
func TestFullCircleInOnePieceIsTwoHalves(t *testing.T) {
	for _, favour := range []float64{0, 2} {
		make := func(panels int) *facing.Made {
			p, err := draft.Circle{Waist: 711, Length: 610, Part: 1, Panels: panels}.Panel(draft.Form{Name: "circle", TopAllowance: 10})
			require.NoError(t, err)
			p.StartPhase, p.FinishPhase, p.Count = fit.Valley, fit.Valley, 36/panels
			r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 120, Depth: 30})
			require.NoError(t, err)
			o := usual()
			o.Favour = favour
			made, err := facing.Make(r, o)
			require.NoError(t, err)
			require.Empty(t, made.Warnings)
			return made
		}
		whole, half := make(1), make(2)
		for i, p := range []facing.Piece{whole.Garments[0], whole.Facings[0]} {
			h := []facing.Piece{half.Garments[0], half.Facings[0]}[i]
			require.InDelta(t, 2*h.Net().Area(), p.Net().Area(), 1e-3)
			require.InDelta(t, 2*h.Cut().Area(), p.Cut().Area(), 1e-3)
			require.InDelta(t, 2*h.Edges[0].Cut.Length(), p.Edges[0].Cut.Length(), 1e-5)
			require.Len(t, p.Clips, 37, "one on each side of the opening")
			require.InDelta(t, 0, p.Edges[0].Cut.Start().Dist(p.Edges[0].Cut.End()), 1e-6)
		}
	}
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
			onFold := 0 // a clip there is its own mirror image
			for _, c := range piece.Clips {
				if math.Abs(c.Line.Start().Sub(f.Edge.Start()).Cross(f.Panel.Edges[len(f.Panel.Edges)-1].Path.StartTangent())) < 1e-6 {
					onFold++
				}
			}
			require.LessOrEqual(t, onFold, 1)
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
		g, _, r := fittest.Fitted(t)
		made := makeOrSkip(t, r, options(t))
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
	p := pair{Garment: made.Garments[0], Facing: made.Facings[0]}
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
	p := pair{Garment: made.Garments[0], Facing: made.Facings[0]}
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
	// As long as the band lets it be: 5 mm from the edges at both ends.
	net, along := path.NewRuler(p.Facing.Net()), g.Chord().Unit()
	for _, q := range []path.Point{g.A.Add(along.Mul(-5)), g.B.Add(along.Mul(5))} {
		_, off := net.Nearest(q)
		require.InDelta(t, 0, off, 1e-6)
	}
	deep := usual()
	deep.Depth = 300
	made, err = facing.Make(r, deep)
	require.NoError(t, err)
	require.InDelta(t, 120, made.Facings[0].Grain.Length(), 1e-9, "where there is room")
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
		{"allowance as deep as the facing", func(o *facing.Options) { o.Hem = 50 },
			"front: the hem allowance of 50.0 mm is as much as the facing is deep, 50.0 mm, or more", "6 mm is usual"},
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

func TestWhatIsInsideAPanelIsKeptAndUnfolded(t *testing.T) {
	r := skirt(t, true)
	in := fit.Inside{
		Internal: []path.Path{path.Open(path.Point{X: 40, Y: 300}, path.Point{X: 60, Y: 400})},
		Cutouts:  []path.Path{path.Closed(path.Point{X: 80, Y: 200}, path.Point{X: 90, Y: 200}, path.Point{X: 85, Y: 210})},
		Drills:   []path.Point{{X: 50, Y: 350}},
		Texts:    []fit.Text{{At: path.Point{X: 30, Y: 150}, Height: 5, String: "pocket"}},
	}
	r.Panels[0].Panel.Inside = in
	r.Panels[0].Panel.Notches = []fit.Notch{{Edge: 1, At: 100, Kind: fit.VNotch, Depth: 6, Width: 4}}
	r.Panels[0].Notches = r.Panels[0].Panel.Notches
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	g := made.Garments[0]
	require.Equal(t, in, g.Inside)
	require.Equal(t, fit.VNotch, g.Notches[0].Kind)
	require.InDelta(t, 6, g.Notches[0].Line.Length(), 1e-9, "as deep as it says")
	require.InDelta(t, 4, g.Notches[0].Width, 0)
	require.Empty(t, made.Facings[0].Internal)

	u := g.Unfold()
	mirror := path.Reflection(path.Point{}, path.Vec{Y: 1})
	require.Equal(t, []path.Path{in.Internal[0], in.Internal[0].Transform(mirror)}, u.Internal)
	require.Equal(t, []path.Path{in.Cutouts[0], in.Cutouts[0].Transform(mirror)}, u.Cutouts)
	require.Equal(t, []path.Point{in.Drills[0], mirror.Apply(in.Drills[0])}, u.Drills)
	require.Equal(t, in.Texts, u.Texts, "once")
}

// The corner of a curved waist is where the two true cut lines meet: on the
// waist's circle moved by its allowance, and on the side's line moved by its.
func TestCornerOfACurvedWaistIsAtBothAllowances(t *testing.T) {
	p, err := draft.Circle{Waist: 711, Length: 610, Part: 0.5, Panels: 2}.Panel(draft.Form{
		Name: "half", Start: draft.Side{Allowance: 15}, Finish: draft.Side{Allowance: 15}, TopAllowance: 10,
	})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 15})
	require.NoError(t, err)
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	edges := made.Garments[0].Edges
	require.Len(t, edges, 4)
	waist, side := edges[2], edges[1]
	corner := waist.Cut.Start()
	circle := waist.Net.Segment(0)
	require.InDelta(t, circle.Radius()-10, corner.Dist(circle.Centre()), 1e-6)
	require.InDelta(t, 15, math.Abs(corner.Sub(side.Net.Start()).Cross(side.Net.StartTangent())), 1e-6)
}

// straight returns a rectangular panel with scallops 20 mm deep.
func straight(t *testing.T, width, repeat float64) *fit.Result {
	p, err := draft.Straight{Width: width, Depth: 400}.Panel(draft.Form{
		Name: "front", Start: draft.Side{Allowance: 15}, Finish: draft.Side{Allowance: 15},
	})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: repeat, Depth: 20})
	require.NoError(t, err)
	return r
}
