package template_test

import (
	"math"
	"strings"
	"testing"

	"engrail/facing/template"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// straight is a panel of 600 mm with ten motifs, changed as the test wants.
func straight(t *testing.T, change func(*draft.Form, *fit.Panel, *fit.Spec)) *fit.Result {
	form := draft.Form{Name: "front"}
	var ignored fit.Panel
	spec := fit.Spec{Shape: motif.Shape{Flat: 2}, Width: 60, Least: 10, Most: 100, Depth: 20}
	change(&form, &ignored, &spec)
	p, err := draft.Straight{Width: 600, Depth: 300}.Panel(form)
	require.NoError(t, err)
	p.Count = 10
	change(&form, &p, &spec)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
	require.NoError(t, err)
	return r
}

func cards(t *testing.T, r *fit.Result) []template.Card {
	all, err := template.Make(r, template.Options{Style: "Tansy"})
	require.NoError(t, err)
	return all
}

// The text of a card, in one line.
func text(c template.Card) string { return strings.Join(c.Label.Lines, " ") }

func TestCardIsOneMotifOfTheShape(t *testing.T) {
	for _, kind := range motif.Kinds() {
		t.Run(kind.String(), func(t *testing.T) {
			shape := motif.Shape{Kind: kind, Flat: 5}
			depth := 20.0
			switch kind {
			case motif.Tab, motif.Stepped, motif.Dovetailed:
				shape.Flat = 0 // as wide as is usual
			}
			if least := shape.MinDepth(60); depth < least {
				depth = least + 1
			}
			r := straight(t, func(_ *draft.Form, _ *fit.Panel, s *fit.Spec) { s.Shape, s.Depth = shape, depth })
			all := cards(t, r)
			require.Len(t, all, 1)
			c := all[0]
			require.Equal(t, 10, c.Count)
			require.InDelta(t, 60, c.Width, 1e-6)
			require.InDelta(t, depth, c.Depth, 1e-6)
			cell, err := shape.Cell(60, depth)
			require.NoError(t, err)
			want := path.NewRuler(cell.Path().Transform(path.Reflection(path.Point{}, path.Vec{X: 1})))
			got := path.NewRuler(c.Lower)
			require.InDelta(t, want.Length(), got.Length(), 1e-6)
			for i := range 51 {
				at := want.Length() * float64(i) / 50
				require.Less(t, want.At(at).Dist(got.At(at)), 1e-6)
			}
		})
	}
}

func TestCardSaysHowManyAndWhereToStart(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*draft.Form, *fit.Panel, *fit.Spec)
		count  int
		want   string
	}{
		{"valleys at seams", func(*draft.Form, *fit.Panel, *fit.Spec) {}, 10,
			"Tansy: card A 60 x 20 mm, 10 motifs front: start at the left seam with a valley 10 A end at the right seam with a valley"},
		{"peak on the fold", func(f *draft.Form, p *fit.Panel, _ *fit.Spec) {
			f.Half, p.StartPhase, p.FinishPhase, p.Count = true, fit.Peak, fit.Valley, 11
		}, 11, "Tansy: card A 54.5 x 20 mm, 11 motifs front, both halves: start at the fold with a peak half of A, 5 A end at the right seam with a valley"},
		{"peaks at seams, two of it", func(f *draft.Form, p *fit.Panel, _ *fit.Spec) {
			f.Quantity, p.StartPhase, p.FinishPhase = 2, fit.Peak, fit.Peak
		}, 18, "Tansy: card A 60 x 20 mm, 18 motifs front, twice, one mirrored: start at the left seam with a peak half of A, 9 A, half of A end at the right seam with a peak"},
		{"plain", func(_ *draft.Form, p *fit.Panel, _ *fit.Spec) { p.StartPlain, p.FinishPlain = 50, 50 }, 10,
			"Tansy: card A 50 x 20 mm, 10 motifs front: start at the left seam 50 mm plain, 10 A, 50 mm plain end at the right seam"},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := cards(t, straight(t, c.change))
			require.Len(t, all, 1)
			require.Equal(t, c.want, text(all[0]))
			require.Equal(t, c.count, all[0].Count)
		})
	}
}

func TestEveryMemberOfASequenceHasACard(t *testing.T) {
	r := straight(t, func(_ *draft.Form, p *fit.Panel, s *fit.Spec) {
		one := motif.Unit{Shape: s.Shape}
		s.Sequence = []motif.Unit{{Shape: motif.Shape{Kind: motif.Tab}, Width: 2}, one, one}
		p.Count, s.Depth = 5, 8
	})
	all := cards(t, r)
	require.Len(t, all, 2)
	require.Equal(t, []int{10, 5}, []int{all[0].Count, all[1].Count})
	require.InDelta(t, 2*all[0].Width, all[1].Width, 1e-6)
	require.Contains(t, text(all[0]), "5 times (A, B, A)")
}

func TestLeaningMotifIsMarkedWithItsCardTurnedOver(t *testing.T) {
	r := straight(t, func(_ *draft.Form, p *fit.Panel, s *fit.Spec) {
		s.Shape = motif.Shape{Kind: motif.Point, Lean: 8}
		s.Sequence = []motif.Unit{{Shape: s.Shape}, {Shape: s.Shape, Mirrored: true}}
		p.Count = 5
	})
	all := cards(t, r)
	require.Len(t, all, 1)
	require.Equal(t, 10, all[0].Count)
	require.Contains(t, text(all[0]), "5 times (A, A turned over)")
}

func TestNoMotifsNoCards(t *testing.T) {
	require.Empty(t, cards(t, straight(t, func(_ *draft.Form, p *fit.Panel, _ *fit.Spec) {
		p.Count, p.Runs = 0, []fit.RunOptions{{Bare: true}}
	})))
}

func TestMoreCardsThanAnyoneCutsAreRefused(t *testing.T) {
	r := straight(t, func(_ *draft.Form, p *fit.Panel, s *fit.Spec) {
		s.Shape, s.Growth, s.Depth, s.Width, s.Least = motif.Shape{}, fit.Growth{Width: 20, At: 1}, 0.2, 3, 0.1
		p.Count = 70
	})
	_, err := template.Make(r, template.Options{})
	require.EqualError(t, err, "the motifs differ so much that more than 60 cards would be needed to mark them")
	var own *template.Error
	require.ErrorAs(t, err, &own)
	require.Equal(t, "leave template out, or let the motifs grow less", own.Remedy())
}

// Every motif of a random hem is the edge of a card, within what the card says.
func TestEveryMotifIsMarkedWithACard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		all, err := template.Make(r, template.Options{Style: "Test"})
		if err != nil {
			t.Skip(err) // growth
		}
		total, want := 0, 0
		for _, c := range all {
			total += c.Count
			require.True(t, c.Outline.Closed)
			require.Greater(t, c.Outline.Area(), 0.0)
			require.Empty(t, c.Outline.SelfIntersections())
			require.True(t, c.Outline.Contains(c.Label.At))
			require.GreaterOrEqual(t, c.Off, 0.0)
			require.LessOrEqual(t, c.Off, 1.5)
		}
		for _, f := range r.Panels {
			edge := path.NewRuler(f.Edge)
			times := max(1, f.Panel.Quantity)
			if f.Panel.OnFold() {
				times *= 2
				if f.Phases[fit.Start] == fit.Peak {
					want += times / 2
				}
			}
			for i := 1; i < len(f.Valleys); i++ {
				a, b := f.Valleys[i-1].Point, f.Valleys[i].Point
				from, _ := edge.Nearest(a)
				to, _ := edge.Nearest(b)
				motif := edge.Sub(from, to)
				if math.Abs(motif.Length()-b.Dist(a)) < 1e-3 && motif.Bounds().Height() < f.Spec.Depth/4 {
					continue // plain
				}
				want += times
				m := path.Translation(path.Point{}.Sub(a)).Then(path.Rotation(path.Point{}, -b.Sub(a).Angle()))
				off := math.Inf(1)
				for _, c := range all {
					if c.Half {
						continue
					}
					mid := path.Translation(path.Vec{X: (c.Width - b.Dist(a)) / 2})
					line := motif.Transform(m.Then(mid))
					over := line.Transform(path.Reflection(path.Point{X: c.Width / 2}, path.Vec{Y: 1}))
					off = min(off, far(line, c.Lower)-c.Off, far(over, c.Lower)-c.Off)
				}
				require.LessOrEqual(t, off, 0.051)
			}
		}
		require.Equal(t, want, total)
	})
}

// far returns how far the line is from the other at the most.
func far(line, other path.Path) float64 {
	a, b := path.NewRuler(line), path.NewRuler(other)
	most := 0.0
	for i := range 60 {
		_, d := b.Nearest(a.At(a.Length() * float64(i) / 59))
		most = max(most, d)
	}
	return most
}
