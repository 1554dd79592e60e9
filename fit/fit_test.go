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

const inch = 25.4

// eachFit checks a fact on every panel of random fitted garments.
func eachFit(t *testing.T, fact func(t *rapid.T, g fit.Garment, r *fit.Result)) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		fact(t, g, r)
	})
}

func TestEveryUnfoldedPanelCarriesWholeRepeats(t *testing.T) {
	eachFit(t, func(t *rapid.T, g fit.Garment, r *fit.Result) {
		for k, f := range r.Panels {
			// A half repeat for each step from valley to peak or back.
			halves := len(f.Valleys) + len(f.Peaks) - 1
			if f.Panel.OnFold() {
				require.Equal(t, f.Repeats, halves)
			} else {
				require.Equal(t, 2*f.Repeats, halves)
				require.Equal(t, f.Phases[0], f.Phases[1])
			}
			slack := 1e-6
			if joinedPeak(g, r, k, fit.Start) || joinedPeak(g, r, k, fit.Finish) {
				slack = 0.1 * f.Spec.Width // what is eased beside the seam
			}
			require.GreaterOrEqual(t, f.Width, f.Spec.Least-slack)
			require.LessOrEqual(t, f.Width, f.Spec.Most+slack)
		}
	})
}

// joinedPeak reports whether a peak stands on the end that is joined to another
// one: over three motifs beside it the widths of the two panels are eased.
func joinedPeak(g fit.Garment, r *fit.Result, panel int, e fit.End) bool {
	for _, s := range g.Seams {
		for _, at := range [2]fit.EndRef{s.A, s.B} {
			if s.A != s.B && at == (fit.EndRef{Panel: panel, End: e}) && r.Panels[panel].Phases[e] == fit.Peak {
				return true
			}
		}
	}
	return false
}

func TestRepeatsOfAHemAreEqual(t *testing.T) {
	eachFit(t, func(t *rapid.T, g fit.Garment, r *fit.Result) {
		for k, f := range r.Panels {
			eased := [2]bool{joinedPeak(g, r, k, fit.Start), joinedPeak(g, r, k, fit.Finish)}
			line := path.NewRuler(f.Valley)
			var along []float64
			for _, v := range f.Valleys {
				at, off := line.Nearest(v.Point)
				require.InDelta(t, 0, off, 1e-6, "valleys lie on the valley line")
				along = append(along, at)
			}
			for i := 1; i < len(along); i++ {
				w := f.Valleys[i].Point.Dist(f.Valleys[i-1].Point)
				if f.Spec.Lay == fit.Bent {
					w = along[i] - along[i-1]
				}
				if eased[fit.Start] && i <= 3 || eased[fit.Finish] && i >= len(along)-3 {
					continue
				}
				require.InDelta(t, f.Width, w, 1e-6)
			}
			// A peak at an end leaves half a repeat there.
			last := len(along) - 1
			for end, half := range [2]float64{along[0], line.Length() - along[last]} {
				if f.Phases[end] != fit.Peak || eased[end] {
					continue
				}
				if f.Spec.Lay == fit.Bent {
					require.InDelta(t, f.Width/2, half, 1e-6)
					continue
				}
				side, valley, hem := f.Panel.Edges[len(f.Panel.Edges)-1].Path.Reverse(), f.Valleys[0].Point, f.Valley.StartTangent()
				if fit.End(end) == fit.Finish {
					side, valley, hem = f.Panel.Edges[1].Path, f.Valleys[last].Point, f.Valley.EndTangent()
				}
				if f.Panel.OnFold() && fit.End(end) == fit.Start {
					hem = side.StartTangent().Left() // square to the fold
				}
				// Measured in the hem's direction, from the side's stitching line.
				up := side.StartTangent()
				require.InDelta(t, f.Width/2, math.Abs(valley.Sub(side.Start()).Cross(up)/hem.Cross(up)), 1e-6)
			}
		}
	})
}

// A garment of any kind in one to twelve sizes: every size has whole repeats, and the
// edges of joined panels meet; with the count held, all sizes have as many.
func TestEverySizeMeetsAtItsSeams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		var sizes []fit.Garment
		for k := range rapid.IntRange(1, 12).Draw(t, "sizes") {
			larger := path.Scaling(path.Point{}, 1+0.01*float64(k))
			size := fit.Garment{Seams: g.Seams}
			for _, p := range g.Panels {
				edges := make([]fit.Edge, len(p.Edges))
				for i, e := range p.Edges {
					e.Path = e.Path.Transform(larger)
					edges[i] = e
				}
				p.Edges, p.Notches, p.Size = edges, nil, fmt.Sprint(k)
				size.Panels = append(size.Panels, p)
			}
			sizes = append(sizes, size)
		}
		if rapid.Bool().Draw(t, "count held") {
			held, err := fit.HoldCounts(sizes, spec)
			if err != nil {
				t.Skip(err) // no count in common
			}
			for _, size := range sizes {
				for i := range size.Panels {
					size.Panels[i].Count = held[i].Repeats
				}
			}
		}
		first := map[int]int{}
		for k, size := range sizes {
			r, err := fit.Fit(size, spec)
			if err != nil {
				t.Skip(err) // overlaps, in a size with narrower repeats
			}
			for i, f := range r.Panels {
				require.Positive(t, f.Repeats)
				if n := size.Panels[i].Count; n > 0 {
					require.Equal(t, n, f.Repeats)
					if k == 0 {
						first[i] = f.Repeats
					}
					require.Equal(t, first[i], f.Repeats)
				}
			}
			for _, s := range g.Seams {
				require.InDelta(t, reach(r.Panels[s.A.Panel], s.A.End), reach(r.Panels[s.B.Panel], s.B.End), 0.01)
			}
		}
	})
}

func TestMotifEndsOnTheStitchingLineOfItsSeam(t *testing.T) {
	eachFit(t, func(t *rapid.T, _ fit.Garment, r *fit.Result) {
		for _, f := range r.Panels {
			last := len(f.Panel.Edges) - 1
			for i, end := range []path.Point{f.Edge.Start(), f.Edge.End()} {
				side := f.Panel.Edges[last].Path.Reverse()
				if i == 1 {
					side = f.Panel.Edges[1].Path
				}
				on := side.Start().Add(side.StartTangent().Mul(-200))
				_, off := path.NewRuler(path.Join(1e-9, path.Open(on, side.Start()), side)).Nearest(end)
				require.LessOrEqual(t, off, 0.001)
			}
		}
	})
}

func TestJoinedEdgesMeetAcrossTheSeam(t *testing.T) {
	eachFit(t, func(t *rapid.T, g fit.Garment, r *fit.Result) {
		for _, s := range g.Seams {
			a, b := reach(r.Panels[s.A.Panel], s.A.End), reach(r.Panels[s.B.Panel], s.B.End)
			require.InDelta(t, a, b, 0.01)
		}
	})
}

// reach is how far along the side, outward of the drafted corner, the shaped
// hem ends.
func reach(f fit.Fitted, e fit.End) float64 {
	k := 1
	if e == fit.Start {
		k = len(f.Net) - 1
	}
	return f.Net[k].Path.Length() - f.Panel.Edges[k].Path.Length()
}

func TestNetOutlineIsClosedAndDoesNotCrossItself(t *testing.T) {
	eachFit(t, func(t *rapid.T, _ fit.Garment, r *fit.Result) {
		for _, f := range r.Panels {
			p := f.Panel
			p.Edges = f.Net
			for i, e := range p.Edges {
				require.InDelta(t, 0, e.Path.End().Dist(p.Edges[(i+1)%len(p.Edges)].Path.Start()), 0.005)
			}
			require.Empty(t, p.Outline().SelfIntersections())
			require.Positive(t, p.Outline().Area())
		}
	})
}

func TestBentWaveOnASmoothHemHasNoCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		spec.Lay = fit.Bent
		spec.Shape = motif.Shape{Kind: motif.Wave}
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		for _, f := range r.Panels {
			for i := 1; i < f.Edge.Segments(); i++ {
				turn := f.Edge.Segment(i - 1).EndTangent().AngleTo(f.Edge.Segment(i).StartTangent())
				require.InDelta(t, 0, turn, 1e-3)
			}
		}
	})
}

func TestPeaksLieAtTheDepthFromTheValleyLine(t *testing.T) {
	eachFit(t, func(t *rapid.T, _ fit.Garment, r *fit.Result) {
		for _, f := range r.Panels {
			line := path.NewRuler(f.Valley)
			for i, p := range f.Peaks {
				if end := f.Phases[fit.Start] == fit.Peak && i == 0 || f.Phases[fit.Finish] == fit.Peak && i == len(f.Peaks)-1; end {
					continue // there the depth follows the side
				}
				_, off := line.Nearest(p.Point)
				// A rigid motif stands on a chord, which leaves the curve by
				// its sagitta.
				slack := 0.01
				if f.Spec.Lay == fit.Rigid {
					slack = f.Width * f.Width / (8 * 200)
				}
				require.InDelta(t, f.Spec.Depth, off, slack)
			}
		}
	})
}

func TestMirroredGarmentGivesTheMirrorImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		mirrored := fit.Garment{}
		axis := path.Reflection(path.Point{X: 17}, path.Vec{X: 0.3, Y: 1})
		for _, p := range g.Panels {
			edges := make([]fit.Edge, len(p.Edges))
			for i, e := range p.Edges {
				e.Path = e.Path.Transform(axis).Reverse()
				edges[(len(p.Edges)-i)%len(p.Edges)] = e
			}
			p.Edges, p.Notches = edges, nil
			p.StartPhase, p.FinishPhase = p.FinishPhase, p.StartPhase
			mirrored.Panels = append(mirrored.Panels, p)
		}
		for _, s := range g.Seams {
			s.A.End, s.B.End = 1-s.A.End, 1-s.B.End
			mirrored.Seams = append(mirrored.Seams, s)
		}
		m, err := fit.Fit(mirrored, spec)
		require.NoError(t, err)
		for i, f := range r.Panels {
			require.Equal(t, f.Repeats, m.Panels[i].Repeats)
			require.InDelta(t, f.Width, m.Panels[i].Width, 1e-6)
			other := path.NewRuler(m.Panels[i].Edge.Transform(axis))
			for _, v := range f.Edge.V {
				_, off := other.Nearest(v.Point)
				require.LessOrEqual(t, off, 0.01)
			}
		}
	})
}

func strip(t require.TestingT, length float64) fit.Garment {
	p, err := draft.Straight{Width: length, Depth: 20 * inch}.Panel(draft.Form{Name: "strip"})
	require.NoError(t, err)
	return fit.Garment{Panels: []fit.Panel{p}}
}

// Divisions of an edge as tutorials work them, in inches: common practice, no
// source; the exact quotients are arithmetic.
func TestStraightEdgesDivideAsWorkedByHand(t *testing.T) {
	for _, c := range []struct {
		name          string
		length, width float64
		repeats       int
		each          float64
		within        float64
	}{
		{"22 1/2 in in 1 1/2 in scallops", 22.5, 1.5, 15, 1.5, 1e-9},
		{"54 in cloth less two half-inch allowances in eight", 54 - 2*0.5, 6.6, 8, 6.625, 1e-9},
		{"68 less 4 in, about 8 in each", 68 - 4, 8, 8, 8, 1e-9},
		{"77 less 4 in, about 8 in each", 77 - 4, 8, 9, 8.111, 5e-4},
		{"31 in in five", 31, 6, 5, 6.2, 1e-9},
		{"41 in in five", 41, 8, 5, 8.2, 1e-9},
	} {
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			t.Run(c.name+", "+lay.String(), func(t *testing.T) {
				r, err := fit.Fit(strip(t, c.length*inch), fit.Spec{Width: c.width * inch, Depth: c.width * inch / 4, Lay: lay})
				require.NoError(t, err)
				require.Equal(t, c.repeats, r.Panels[0].Repeats)
				require.InDelta(t, c.each, r.Panels[0].Width/inch, c.within)
			})
		}
	}
}

// A panel of nine whole repeats and half a one at each end, a crest on both
// seams: ten pitches. Common practice, no source.
func TestPeaksOnBothSeamsLeaveHalfRepeatsAtTheEnds(t *testing.T) {
	g := strip(t, 50*inch)
	g.Panels[0].StartPhase, g.Panels[0].FinishPhase = fit.Peak, fit.Peak
	r, err := fit.Fit(g, fit.Spec{Shape: motif.Shape{Kind: motif.Wave}, Width: 5 * inch, Depth: inch})
	require.NoError(t, err)
	f := r.Panels[0]
	require.Equal(t, 10, f.Repeats)
	require.Len(t, f.Valleys, 10)
	require.Len(t, f.Peaks, 11)
	require.InDelta(t, 5, f.Width/inch, 1e-9)
	require.InDelta(t, 2.5, f.Valleys[0].Point.Sub(f.Peaks[0].Point).X/inch, 1e-9)
}

// Full circle skirt of waist 28 and length 24 in: hem 178.796 in (common
// practice, no source). In 24 repeats the pitch is 7.4499 in along the arc and
// 7.4286 in as chord: arithmetic.
func TestFullCircleHemStepsInChords(t *testing.T) {
	p, err := draft.Circle{Waist: 28 * inch, Length: 24 * inch, Part: 1}.Panel(draft.Form{Name: "circle"})
	require.NoError(t, err)
	p.Count = 24
	g := fit.Garment{Panels: []fit.Panel{p}}
	require.InDelta(t, 178.796, p.Edges[0].Path.Length()/inch, 5e-4)
	for _, c := range []struct {
		lay   fit.Lay
		width float64
	}{{fit.Bent, 7.4499}, {fit.Rigid, 7.4286}} {
		r, err := fit.Fit(g, fit.Spec{Width: 7 * inch, Depth: 2 * inch, Lay: c.lay})
		require.NoError(t, err)
		require.InDelta(t, c.width, r.Panels[0].Width/inch, 1e-4)
		require.Len(t, r.Panels[0].Valleys, 25)
	}
}

func TestRepeatsOnACircleAreExactArcs(t *testing.T) {
	p, err := draft.Circle{Waist: 700, Length: 550, Part: 0.5, Panels: 2}.Panel(draft.Form{Name: "half"})
	require.NoError(t, err)
	for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
		p.StartPhase, p.FinishPhase = phase, phase
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
		require.NoError(t, err)
		f := r.Panels[0]
		require.Equal(t, 2*f.Repeats, f.Edge.Segments(), "two arcs a repeat, with %v at the ends", phase)
	}
}

// A hem as drawn may begin with a crumb of an arc.
func TestCrumbAtTheStartOfAHemLeavesNoTrace(t *testing.T) {
	p, err := draft.Gore{Waist: 300, Hem: 600, Length: 500}.Panel(draft.Form{Name: "gore"})
	require.NoError(t, err)
	spec := fit.Spec{Width: 60, Depth: 20, Lay: fit.Bent, Rest: fit.Peaks}
	plain, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
	require.NoError(t, err)

	hem := p.Edges[0].Path
	r := path.NewRuler(hem)
	crumb := path.Segment{A: hem.Start(), B: r.At(1e-6), Bulge: 1e-3}
	p.Edges = append([]fit.Edge(nil), p.Edges...)
	p.Edges[0].Path = path.Join(0, path.FromSegments(crumb), r.Sub(1e-6, r.Length()))
	again, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
	require.NoError(t, err)
	other := path.NewRuler(again.Panels[0].Edge)
	for _, v := range plain.Panels[0].Edge.V {
		_, off := other.Nearest(v.Point)
		require.LessOrEqual(t, off, 0.005)
	}
}

func TestImpossibleFitsAreExplained(t *testing.T) {
	curve := func(hollow float64) fit.Garment {
		// A hem on an arc of 100 mm radius, hollow or round.
		p, err := draft.Curve{Points: []path.Point{{X: -80}, {Y: hollow * 40}, {X: 80}}, Height: 400}.Panel(draft.Form{Name: "back", Size: "38"})
		require.NoError(t, err)
		return fit.Garment{Panels: []fit.Panel{p}}
	}
	fixed := strip(t, 300)
	fixed.Panels[0].Count = 5
	mixed := strip(t, 300)
	mixed.Panels[0].StartPhase, mixed.Panels[0].FinishPhase = fit.Peak, fit.Valley
	for _, c := range []struct {
		name    string
		garment fit.Garment
		spec    fit.Spec
		text    string
		remedy  string
	}{
		{"motif wider than the hem", strip(t, 40), fit.Spec{Width: 60, Depth: 20},
			"panel strip: the motif is wider than the hem: repeats of at least 48.0 mm are wanted and the hem is 40.0 mm long, 8.0 mm too short",
			"what fits: 1 of 40.0 mm, 2 of 20.0 mm"},
		{"no count within the limits", strip(t, 90), fit.Spec{Width: 60, Depth: 20, Least: 50, Most: 70},
			"panel strip: no whole number of repeats from 50.0 to 70.0 mm wide fits its hem of 90.0 mm",
			"what fits: 1 of 90.0 mm, 2 of 45.0 mm, 3 of 30.0 mm"},
		{"undercut at the fixed count", fixed, fit.Spec{Width: 60, Depth: 35},
			"panel strip: scallop: 35.00 mm deep is 5.00 mm too much for a width of 60.00 mm: beyond the half circle the lobe is wider than its foot",
			"at this width the depth can be at most 30.00 mm; at this depth the width must be at least 70.00 mm; a bulb is a scallop beyond the half circle; 4 repeats or fewer would be wide enough"},
		{"half a repeat over", mixed, fit.Spec{Width: 60, Depth: 20},
			"panel strip: a peak at one end and a valley at the other leave half a repeat over",
			"put the same on both ends"},
		{"depth beyond the radius of a hollow hem", curve(1), fit.Spec{Width: 60, Depth: 120, Shape: motif.Shape{Kind: motif.Point}, Lay: fit.Bent},
			"panel back size 38: 120.0 mm deep is 20.0 mm more than the radius on which the hem curves inward (100.0 mm, 139 mm from its start)",
			"at most 95.0 mm deep would work, or rigid repeats"},
		{"valleys beyond the radius of a round hem", curve(-1), fit.Spec{Width: 60, Depth: 130, Shape: motif.Shape{Kind: motif.Point}, Rest: fit.Peaks},
			"panel back size 38: the valleys would lie 130.0 mm inside the hem, but it turns on a radius of 100.0 mm, 139 mm from its start: 30.0 mm too deep",
			"make the motif shallower, or let the valleys rest on the hem"},
		{"no width", strip(t, 300), fit.Spec{Depth: 20}, "motif: the wanted width is 0 mm; give a positive one", ""},
		{"no depth", strip(t, 300), fit.Spec{Width: 60, Depth: math.NaN()}, "motif: the depth is NaN mm; give a positive one", ""},
		{"limits the wrong way round", strip(t, 300), fit.Spec{Width: 60, Depth: 20, Least: 70, Most: 50},
			"motif: repeats from 70 to 50 mm wide are wanted; give the smaller width first", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := fit.Fit(c.garment, c.spec)
			require.EqualError(t, err, c.text)
			remedy := ""
			if r, ok := err.(interface{ Remedy() string }); ok {
				remedy = r.Remedy()
			}
			require.Equal(t, c.remedy, remedy)
		})
	}
}

func TestMotifAcrossItsSeamIsReported(t *testing.T) {
	flat := 0.0
	for _, c := range []struct {
		waist float64 // wider than the hem, the sides lean in at the hem
		codes []string
	}{{520, []string{"motif-across-seam", "motif-across-seam"}}, {400, nil}, {360, nil}} {
		p, err := draft.Gore{Waist: c.waist, Hem: 400, Length: 300, Rise: &flat}.Panel(draft.Form{Name: "gore"})
		require.NoError(t, err)
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 50, Depth: 24})
		require.NoError(t, err)
		var codes []string
		for _, w := range r.Warnings {
			codes = append(codes, w.Code)
		}
		require.Equal(t, c.codes, codes)
	}
}

func TestOverlappingRepeatsNameTheDepthThatWorks(t *testing.T) {
	p, err := draft.Curve{Points: []path.Point{{X: -80}, {Y: 40}, {X: 80}}, Height: 400}.Panel(draft.Form{Name: "back"})
	require.NoError(t, err)
	g := fit.Garment{Panels: []fit.Panel{p}}
	spec := fit.Spec{Width: 40, Depth: 110, Shape: motif.Shape{Kind: motif.Point, TipFlat: 25}}
	_, err = fit.Fit(g, spec)
	var own *fit.Error
	require.ErrorAs(t, err, &own)
	require.Contains(t, own.Problem, "overlap near")
	require.Regexp(t, `^with \d+ repeats at most [\d.]+ mm deep works(; \d+ repeats? or fewer (has|have) room at the depth wanted)?$`, own.Remedy())
}

func TestWidthsKeepNearTheWantedOneWhereAPanelCan(t *testing.T) {
	one := func(length float64) fit.Panel { return strip(t, length).Panels[0] }
	for _, c := range []struct {
		name    string
		lengths []float64
		repeats []int
	}{
		// Ten and five would be more equal, but 6 mm narrower than wanted.
		{"two panels", []float64{604, 316}, []int{11, 6}},
		{"one panel whose nearest count is an eighth off", []float64{80}, []int{1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var g fit.Garment
			for _, l := range c.lengths {
				g.Panels = append(g.Panels, one(l))
			}
			r, err := fit.Fit(g, fit.Spec{Width: 55, Depth: 12, Least: 0, Most: 0})
			if len(c.lengths) == 1 {
				r, err = fit.Fit(g, fit.Spec{Width: 70, Depth: 12})
			}
			require.NoError(t, err)
			for i, f := range r.Panels {
				require.Equal(t, c.repeats[i], f.Repeats)
			}
		})
	}
}

func TestOpenEndsTakeWhatStandsAcross(t *testing.T) {
	g := strip(t, 600)
	g.Panels = append(g.Panels, strip(t, 400).Panels[0])
	g.Seams = []fit.Seam{{A: fit.EndRef{Panel: 0, End: fit.Finish}, B: fit.EndRef{Panel: 1, End: fit.Start}}}
	spec := fit.Spec{Width: 50, Depth: 15}
	for _, asked := range []fit.Phase{fit.AnyPhase, fit.Valley, fit.Peak} {
		g.Panels[1].FinishPhase = asked
		want := asked
		if asked == fit.AnyPhase {
			want = fit.Valley
		}
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		for _, f := range r.Panels {
			require.Equal(t, [2]fit.Phase{want, want}, f.Phases)
		}
	}
	g.Panels[0].StartPhase = fit.Valley
	_, err := fit.Fit(g, spec)
	require.EqualError(t, err, "panel strip: its finish has a valley, but the end joined to it (strip, start) has a peak")
}

func TestOddCountOnTheFoldPutsAPeakThere(t *testing.T) {
	for _, c := range []struct {
		width   float64
		repeats int
		phase   fit.Phase
	}{{600.0 / 9, 9, fit.Peak}, {600.0 / 10, 10, fit.Valley}} {
		p, err := draft.Straight{Width: 600, Depth: 400}.Panel(draft.Form{Name: "front", Half: true})
		require.NoError(t, err)
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: c.width, Depth: 20})
		require.NoError(t, err)
		require.Equal(t, c.repeats, r.Panels[0].Repeats)
		require.Equal(t, c.phase, r.Panels[0].Phases[fit.Start])
	}
}

func BenchmarkFit(b *testing.B) {
	p, err := draft.Gore{Waist: 300, Hem: 700, Length: 600}.Panel(draft.Form{Name: "front"})
	require.NoError(b, err)
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		b.Run("panel-"+lay.String(), func(b *testing.B) {
			g := fit.Garment{Panels: []fit.Panel{p}}
			for b.Loop() {
				if _, err := fit.Fit(g, fit.Spec{Width: 60, Depth: 20, Lay: lay}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Twelve panels in twelve sizes, and hems of a hundred to ten thousand repeats.
func BenchmarkFitMany(b *testing.B) {
	var sizes []fit.Garment
	for s := range 12 {
		var g fit.Garment
		for k := range 12 {
			p, err := draft.Gore{Waist: 200 + float64(5*s), Hem: 420 + float64(9*s+7*k), Length: 600}.Panel(draft.Form{Name: "gore"})
			require.NoError(b, err)
			g.Panels = append(g.Panels, p)
			g.Seams = append(g.Seams, fit.Seam{A: fit.EndRef{Panel: k, End: fit.Finish}, B: fit.EndRef{Panel: (k + 1) % 12}})
		}
		sizes = append(sizes, g)
	}
	spec := fit.Spec{Width: 55, Depth: 18}
	b.Run("12 panels x 12 sizes", func(b *testing.B) {
		for b.Loop() {
			for _, g := range sizes {
				if _, err := fit.Fit(g, spec); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("12 panels x 12 sizes, counts held", func(b *testing.B) {
		for b.Loop() {
			if _, err := fit.HoldCounts(sizes, spec); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, n := range []int{100, 1000, 10000} {
		p, err := draft.Circle{Waist: 700, Length: 2 * float64(n), Part: 0.5}.Panel(draft.Form{Name: "circle"})
		require.NoError(b, err)
		p.Count = 0
		hem := p.Edges[0].Path.Length()
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			b.Run(fmt.Sprintf("%d repeats %v", n, lay), func(b *testing.B) {
				for b.Loop() {
					r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: hem / float64(n), Depth: hem / float64(n) / 5, Lay: lay})
					if err != nil || r.Panels[0].Repeats != n {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
