// Package fittest draws random garments and motifs for property tests.
package fittest

import (
	"fmt"

	"engrail/fit"
	"engrail/fit/draft"
	"engrail/motif"
	"engrail/motif/path"

	"pgregory.net/rapid"
)

// Garment draws a garment of one to four panels of every kind: parts of a
// circle, gores that are square to their sides and gores that are not,
// straight panels, and hollow and round hems through points. The first may lie
// on the fold; neighbours are joined, and sometimes the last one to its own
// copy. Hems are 400 to 900 mm long and curve on radii of 250 mm and more.
func Garment(t *rapid.T) fit.Garment {
	var g fit.Garment
	phase := rapid.SampledFrom([]fit.Phase{fit.Valley, fit.Peak}).Draw(t, "phase at the seams")
	n := rapid.IntRange(1, 4).Draw(t, "panels")
	for i := range n {
		form := draft.Form{Name: fmt.Sprintf("panel %d", i+1), Quantity: rapid.IntRange(1, 2).Draw(t, "quantity")}
		form.Start.Allowance = float64(rapid.IntRange(0, 20).Draw(t, "start allowance"))
		form.Finish.Allowance = float64(rapid.IntRange(0, 20).Draw(t, "finish allowance"))
		form.TopAllowance = 10
		if i == 0 && rapid.Bool().Draw(t, "fold") {
			form.Half = true
			form.Start.Allowance = 0
		}
		p := panel(t, form)
		p.StartPhase, p.FinishPhase = phase, phase
		if form.Half {
			p.StartPhase = fit.AnyPhase
		}
		g.Panels = append(g.Panels, p)
		if i > 0 {
			g.Seams = append(g.Seams, fit.Seam{A: fit.EndRef{Panel: i - 1, End: fit.Finish}, B: fit.EndRef{Panel: i, End: fit.Start}})
		}
	}
	if rapid.Bool().Draw(t, "joined to its copy") {
		last := fit.EndRef{Panel: n - 1, End: fit.Finish}
		g.Seams = append(g.Seams, fit.Seam{A: last, B: last})
	}
	return g
}

func panel(t *rapid.T, form draft.Form) fit.Panel {
	hem := rapid.Float64Range(400, 900).Draw(t, "hem")
	length := rapid.Float64Range(300, 700).Draw(t, "length")
	var p fit.Panel
	var err error
	switch rapid.IntRange(0, 4).Draw(t, "kind of panel") {
	case 0:
		waist := rapid.Float64Range(0.4, 0.95).Draw(t, "waist share") * hem
		p, err = draft.Gore{Waist: waist, Hem: hem, Length: length}.Panel(form)
	case 1:
		flat := 0.0 // hem and top straight, so that the sides are slanted
		waist := rapid.Float64Range(0.8, 1.2).Draw(t, "waist share") * hem
		p, err = draft.Gore{Waist: waist, Hem: hem, Length: length, Rise: &flat}.Panel(form)
	case 2:
		p, err = draft.Straight{Width: hem, Depth: length}.Panel(form)
	case 3:
		circle := draft.Circle{Waist: 700, Length: 550, Part: rapid.Float64Range(0.3, 1).Draw(t, "part"), Panels: 4}
		p, err = circle.Panel(form)
	default:
		sag := rapid.Float64Range(-0.08, 0.08).Draw(t, "sag") * hem
		points := []path.Point{{X: -hem / 2}, {X: -hem / 4, Y: sag * 0.75}, {Y: sag}, {X: hem / 4, Y: sag * 0.75}, {X: hem / 2}}
		if form.Half {
			points = []path.Point{{Y: sag}, {X: hem / 4, Y: sag * 0.75}, {X: hem / 2}}
		}
		p, err = draft.Curve{Points: points, Height: length}.Panel(form)
	}
	if err != nil {
		t.Fatalf("drafting failed: %v", err)
	}
	return p
}

// Spec draws a motif that fits the hems of [Garment], of any shape, with any
// details, lay and rest.
func Spec(t *rapid.T) fit.Spec {
	s := fit.Spec{Width: rapid.Float64Range(30, 80).Draw(t, "width")}
	s.Least, s.Most = s.Width*0.7, s.Width*1.4
	s.Shape.Kind = rapid.SampledFrom(motif.Kinds()).Draw(t, "kind")
	part := rapid.Float64Range(0.2, 0.95).Draw(t, "depth")
	switch s.Shape.Kind {
	case motif.Bulb, motif.Cloud:
		// Beyond the half circle at every width, and with room on hollow hems.
		s.Least, s.Most = s.Width*0.85, s.Width*1.15
		s.Shape.Flat, s.Depth = 0.5*s.Width, (0.34+0.05*part)*s.Width
	case motif.Tab, motif.Stepped, motif.Dovetailed:
		s.Depth = part * s.Least / 2
		if rapid.Bool().Draw(t, "rounded") {
			s.Shape.TipRadius, s.Shape.ValleyRadius = 0.1*s.Depth, 0.1*s.Depth
		}
	default:
		// Details from the narrowest repeat, so that they fit every width.
		if rapid.Bool().Draw(t, "flat") {
			s.Shape.Flat = 0.1 * s.Least
		}
		switch s.Shape.Kind {
		case motif.Elliptical, motif.Petal, motif.Ogee, motif.Bracket:
			// Upright at the foot, they would touch on a hollow hem.
			s.Shape.Flat = 0.25 * s.Least
		}
		if rapid.Bool().Draw(t, "blunt") {
			s.Shape.TipFlat = 0.1 * s.Least
		}
		run := (s.Least - s.Shape.Flat - s.Shape.TipFlat) / 2
		s.Depth = part * run
		if rapid.Bool().Draw(t, "rounded") {
			switch s.Shape.Kind {
			case motif.Point:
				s.Shape.TipRadius, s.Shape.ValleyRadius = 0.2*run, 0.1*run
			case motif.Scallop:
				s.Shape.ValleyRadius = 0.1 * run
			case motif.Engrailed:
				s.Shape.TipRadius = 0.1 * run
			}
		}
	}
	s.Lay = rapid.SampledFrom([]fit.Lay{fit.Rigid, fit.Bent}).Draw(t, "lay")
	s.Rest = rapid.SampledFrom([]fit.Rest{fit.Valleys, fit.Peaks, fit.Middle}).Draw(t, "rest")
	return s
}
