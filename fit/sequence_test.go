package fit_test

import (
	"math"
	"testing"

	"engrail/fit"
	"engrail/fit/draft"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// largeSmallSmall is a sequence of a large scallop and two small ones, which are
// half as wide and two thirds as deep.
func largeSmallSmall() []motif.Unit {
	small := motif.Unit{Width: 0.5, Depth: 2.0 / 3}
	return []motif.Unit{{}, small, small}
}

// widthsOf returns the distances of the valleys of a straight hem along it, and the
// ends', and heightsOf how deep each peak is.
func widthsOf(f fit.Fitted) (all []float64) {
	last := f.Edge.Start().X
	for _, v := range f.Valleys {
		if w := v.Point.X - last; w > 1e-9 {
			all = append(all, w)
		}
		last = v.Point.X
	}
	if w := f.Edge.End().X - last; w > 1e-9 {
		all = append(all, w)
	}
	return all
}

func heightsOf(f fit.Fitted) (all []float64) {
	for _, p := range f.Peaks {
		all = append(all, f.Valley.Start().Y-p.Point.Y)
	}
	return all
}

func TestSequenceIsRepeatedAndSymmetrical(t *testing.T) {
	for _, c := range []struct {
		name    string
		phase   fit.Phase
		widths  []float64
		heights []float64
	}{
		// 400 mm in two repeats of 50 + 100 + 50 mm.
		{"from valley to valley", fit.Valley, []float64{50, 100, 50, 50, 100, 50}, []float64{20, 30, 20, 20, 30, 20}},
		{"from peak to peak", fit.Peak, []float64{50, 50, 50, 100, 50, 50, 50}, []float64{30, 20, 20, 30, 20, 20, 30}},
	} {
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			t.Run(c.name+" "+lay.String(), func(t *testing.T) {
				g := strip(t, 400)
				g.Panels[0].StartPhase, g.Panels[0].FinishPhase = c.phase, c.phase
				r, err := fit.Fit(g, fit.Spec{Sequence: largeSmallSmall(), Width: 95, Depth: 30, Lay: lay})
				require.NoError(t, err)
				f := r.Panels[0]
				require.Equal(t, 2, f.Repeats)
				require.Equal(t, 6.0, f.Runs[0].Motifs)
				require.InDelta(t, 100, f.Width, 1e-9)
				require.InDeltaSlice(t, c.widths, widthsOf(f), 1e-6)
				require.InDeltaSlice(t, c.heights, heightsOf(f), 0.005)
			})
		}
	}
}

// A panel on the fold is half of the panel drawn whole.
func TestHalfOnTheFoldIsHalfOfTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hem := rapid.Float64Range(500, 1200).Draw(t, "hem")
		whole := draft.Gore{Waist: hem / 2, Hem: hem, Length: 500}
		spec := fit.Spec{Width: rapid.Float64Range(40, 70).Draw(t, "width"), Depth: 6}
		spec.Lay = rapid.SampledFrom([]fit.Lay{fit.Rigid, fit.Bent}).Draw(t, "lay")
		spec.Sequence = rapid.SampledFrom([][]motif.Unit{
			nil, largeSmallSmall(), {{}, {Width: 0.7}}, {{Width: 0.6}, {}, {Width: 0.6}, {Width: 1.2, Depth: 1.5}},
		}).Draw(t, "sequence")
		phase := rapid.SampledFrom([]fit.Phase{fit.Valley, fit.Peak}).Draw(t, "phase")
		if n := len(spec.Sequence); n%2 == 0 && n > 0 {
			phase = fit.AnyPhase // with a valley they are not symmetrical
		}
		half, err := whole.Panel(draft.Form{Name: "half", Half: true})
		require.NoError(t, err)
		half.FinishPhase = phase
		all, err := whole.Panel(draft.Form{Name: "whole"})
		require.NoError(t, err)
		all.StartPhase, all.FinishPhase = phase, phase
		h, err := fit.Fit(fit.Garment{Panels: []fit.Panel{half}}, spec)
		require.NoError(t, err)
		if phase == fit.AnyPhase {
			require.Equal(t, fit.Peak, h.Panels[0].Phases[fit.Finish])
		}
		all.Count = h.Panels[0].Repeats
		w, err := fit.Fit(fit.Garment{Panels: []fit.Panel{all}}, spec)
		require.NoError(t, err)
		require.InDelta(t, w.Panels[0].Width, h.Panels[0].Width, 1e-6)
		line := path.NewRuler(w.Panels[0].Edge)
		for _, v := range h.Panels[0].Edge.V {
			_, off := line.Nearest(v.Point)
			require.LessOrEqual(t, off, 0.01)
		}
	})
}

func TestMotifsGrowByEqualSteps(t *testing.T) {
	for _, c := range []struct {
		name   string
		growth fit.Growth
		widths []float64 // of six motifs on 600 mm, in parts of the base width
		depths []float64
	}{
		{"to the finish", fit.Growth{Width: 2, At: 1}, []float64{1 + 1.0/12, 1.25, 1 + 5.0/12, 1 + 7.0/12, 1.75, 1 + 11.0/12}, []float64{1, 1, 1, 1, 1, 1}},
		{"to the start, in depth too", fit.Growth{Width: 1.5, Depth: 2}, []float64{1 + 11.0/24, 1.375, 1 + 7.0/24, 1 + 5.0/24, 1.125, 1 + 1.0/24}, []float64{1 + 11.0/12, 1.75, 1 + 7.0/12, 1 + 5.0/12, 1.25, 1 + 1.0/12}},
		{"strongest in the middle", fit.Growth{Width: 2, At: 0.5}, []float64{1 + 1.0/6, 1.5, 1 + 5.0/6, 1 + 5.0/6, 1.5, 1 + 1.0/6}, []float64{1, 1, 1, 1, 1, 1}},
	} {
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			t.Run(c.name+" "+lay.String(), func(t *testing.T) {
				g := strip(t, 600)
				g.Panels[0].Count = 6
				r, err := fit.Fit(g, fit.Spec{Width: 70, Depth: 15, Lay: lay, Growth: c.growth})
				require.NoError(t, err)
				f := r.Panels[0]
				total := 0.0
				for _, w := range c.widths {
					total += w
				}
				require.InDelta(t, 600/total, f.Width, 1e-6)
				for i, w := range widthsOf(f) {
					require.InDelta(t, c.widths[i]*600/total, w, 1e-6)
				}
				for i, d := range heightsOf(f) {
					require.InDelta(t, 15*c.depths[i], d, 0.005)
				}
				require.InDelta(t, 600, f.Edge.End().X-f.Edge.Start().X, 1e-9)
			})
		}
	}
}

func TestSequencesThatCannotBeginAndEndAlikeAreRefused(t *testing.T) {
	g := strip(t, 600)
	_, err := fit.Fit(g, fit.Spec{Sequence: []motif.Unit{{}, {Width: 0.5}, {Width: 0.7}}, Width: 60, Depth: 15})
	require.EqualError(t, err, "panel strip: its sequence of 3 motifs is not symmetrical about any place, so that it cannot begin and end alike")
	g.Panels[0].StartPhase = fit.Valley
	_, err = fit.Fit(g, fit.Spec{Sequence: []motif.Unit{{}, {Width: 0.5}}, Width: 60, Depth: 15})
	require.EqualError(t, err, "panel strip: its sequence of 2 motifs is symmetrical about a peak only, so that it cannot begin and end with valleys")
	for text, spec := range map[string]fit.Spec{
		"motif: motif 2 of the sequence is -1 times as large as wanted; give a ratio from 0.05 to 20": {Sequence: []motif.Unit{{}, {Depth: -1}}, Width: 60, Depth: 15},
		"motif: it grows 100 times as large; give a factor from 0.05 to 20":                           {Growth: fit.Growth{Width: 100}, Width: 60, Depth: 15},
		"motif: growth is strongest at 2 of the hem; give a place from 0, its start, to 1":            {Growth: fit.Growth{Width: 2, At: 2}, Width: 60, Depth: 15},
	} {
		_, err := fit.Fit(g, spec)
		require.EqualError(t, err, text)
	}
}

func TestPlainStretchesAtTheEndsAreLeft(t *testing.T) {
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		p, err := draft.Gore{Waist: 400, Hem: 700, Length: 500}.Panel(draft.Form{Name: "gore"})
		require.NoError(t, err)
		p.StartPlain, p.FinishPlain = 40, 25
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 18, Lay: lay})
		require.NoError(t, err)
		f := r.Panels[0]
		require.Equal(t, [2]fit.Phase{fit.Plain, fit.Plain}, f.Phases)
		line := path.NewRuler(f.Valley)
		first, _ := line.Nearest(f.Valleys[0].Point)
		last, _ := line.Nearest(f.Valleys[len(f.Valleys)-1].Point)
		require.InDelta(t, 40, first, 1e-6)
		require.InDelta(t, 25, line.Length()-last, 1e-6)
		for _, along := range []float64{10, 39, line.Length() - 24} {
			_, off := path.NewRuler(f.Edge).Nearest(line.At(along))
			require.InDelta(t, 0, off, 1e-6, "the edge lies on the valley line there")
		}
		require.Len(t, f.Peaks, f.Repeats)
	}
	p := strip(t, 300)
	p.Panels[0].StartPlain, p.Panels[0].FinishPlain = 150, 151
	_, err := fit.Fit(p, fit.Spec{Width: 60, Depth: 18})
	require.EqualError(t, err, "panel strip: plain stretches of 150.0 and 151.0 mm leave nothing of its hem of 300.0 mm")
	p.Panels[0].FinishPlain = math.NaN()
	_, err = fit.Fit(p, fit.Spec{Width: 60, Depth: 18})
	require.EqualError(t, err, "panel strip: a plain stretch of NaN mm cannot be")
}

func TestMarksStandInTheirMotifs(t *testing.T) {
	p, err := draft.Gore{Waist: 300, Hem: 600, Length: 500}.Panel(draft.Form{Name: "gore"})
	require.NoError(t, err)
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
			p.StartPhase, p.FinishPhase = phase, phase
			spec := fit.Spec{Shape: motif.Shape{Mark: motif.Mark{Kind: motif.Keyhole, Size: 4, Height: 16}}, Width: 60, Depth: 24, Lay: lay}
			r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
			require.NoError(t, err)
			f := r.Panels[0]
			whole := f.Repeats
			if phase == fit.Peak {
				whole-- // the halves on the ends have none
			}
			require.Len(t, f.Marks, whole)
			valley, edge := path.NewRuler(f.Valley), path.NewRuler(f.Edge)
			for i, m := range f.Marks {
				require.Positive(t, m.Area())
				peak := f.Peaks[i+f.Repeats-whole]
				box := m.Bounds().Centre()
				_, off := valley.Nearest(box)
				require.Greater(t, off, 10.0, "outward of the valley line")
				_, off = edge.Nearest(box)
				require.Greater(t, off, 3.0)
				// The slot points from the peak to the valley line.
				require.Less(t, math.Abs(box.Sub(peak.Point).Unit().Cross(peak.Out)), 0.05)
				require.Negative(t, box.Sub(peak.Point).Dot(peak.Out))
			}
		}
	}
}

// Every other one turned round: about the middle of the hem, and of each seam, the
// edge is its own mirror image.
func TestAlternatedMotifsAreSymmetricalAboutTheMiddle(t *testing.T) {
	lean := motif.Shape{Kind: motif.Point, Lean: 15}
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		r, err := fit.Fit(strip(t, 600), fit.Spec{Sequence: []motif.Unit{{Shape: lean}, {Shape: lean, Mirrored: true}}, Width: 60, Depth: 20, Lay: lay})
		require.NoError(t, err)
		f := r.Panels[0]
		require.Equal(t, 5, f.Repeats)
		require.Len(t, f.Peaks, 10)
		from := f.Edge.Start().X
		require.InDelta(t, 45, f.Peaks[0].Point.X-from, 0.005, "leaning to the right")
		require.InDelta(t, 75, f.Peaks[1].Point.X-from, 0.005, "and to the left")
		mirror := path.Reflection(path.Point{X: from + 300}, path.Vec{Y: 1})
		edge := path.NewRuler(f.Edge)
		for _, v := range f.Edge.V {
			_, off := edge.Nearest(mirror.Apply(v.Point))
			require.InDelta(t, 0, off, 0.005)
		}
	}
	// All leaning one way is only its own copy, and cannot stand with a peak on an end.
	g := strip(t, 600)
	_, err := fit.Fit(g, fit.Spec{Shape: lean, Width: 60, Depth: 20})
	require.NoError(t, err)
	g.Panels[0].StartPhase = fit.Peak
	_, err = fit.Fit(g, fit.Spec{Shape: lean, Width: 60, Depth: 20})
	require.EqualError(t, err, "panel strip: a motif that leans or is not symmetrical cannot stand with its peak on an end")
}
