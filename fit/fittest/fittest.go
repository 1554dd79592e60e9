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

// Garment draws a garment of one to twelve panels, mostly few, of every kind: parts of a
// circle, gores that are square to their sides and gores that are not,
// straight panels, and hollow and round hems through points. The first may lie
// on the fold; neighbours are joined, and sometimes the last one to its own
// copy. Hems are 400 to 900 mm long and curve on radii of 250 mm and more.
func Garment(t *rapid.T) fit.Garment {
	var g fit.Garment
	phase := rapid.SampledFrom([]fit.Phase{fit.Valley, fit.Peak}).Draw(t, "phase at the seams")
	n := rapid.IntRange(1, 4).Draw(t, "panels")
	if n == 4 {
		n = rapid.IntRange(4, 12).Draw(t, "many panels")
	}
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
	case motif.Bulb, motif.Cloud, motif.Dovetailed:
		s.Width = max(s.Width, 50) // their mouths have room for allowances of 6 mm
		s.Least, s.Most = s.Width*0.7, s.Width*1.4
	}
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

// Fitted draws a garment with motifs that can also be sequences, grow, lean, be
// turned over, marked, or leave plain stretches, and fits it. Repeats are then not
// all equal.
func Fitted(t *rapid.T) (fit.Garment, fit.Spec, *fit.Result) {
	g, s := Garment(t), Spec(t)
	leans := false
	switch rapid.SampledFrom([]string{"one shape", "one shape", "sequence", "growth", "lean", "turned", "plain", "marked"}).Draw(t, "special") {
	case "sequence":
		// No smaller than the narrowest repeat that the shape fits.
		large := motif.Unit{Shape: s.Shape, Width: 1.3, Depth: 1.1}
		one := motif.Unit{Shape: s.Shape}
		s.Sequence = rapid.SampledFrom([][]motif.Unit{{large, one, one}, {one, large}, {large, one, large, one, one}}).Draw(t, "sequence")
		s.Least, s.Most = s.Width*0.75, s.Width*1.9
		if len(s.Sequence)%2 == 0 {
			for i := range g.Panels { // symmetrical about peaks only
				for _, phase := range []*fit.Phase{&g.Panels[i].StartPhase, &g.Panels[i].FinishPhase} {
					if *phase == fit.Valley {
						*phase = fit.Peak
					}
				}
			}
		}
	case "growth":
		s.Growth = fit.Growth{Width: 1.2, At: rapid.SampledFrom([]float64{0, 0.5, 1, 0.3}).Draw(t, "at")}
	case "lean":
		if s.Shape.Kind != motif.Bulb && s.Shape.Kind != motif.Cloud && s.Shape.Kind != motif.Dovetailed {
			s.Shape.Lean = rapid.Float64Range(-0.1, 0.1).Draw(t, "lean") * s.Width
			leans = s.Shape.Lean != 0
		}
	case "turned":
		switch s.Shape.Kind {
		case motif.Point, motif.Wave, motif.Scallop, motif.Engrailed, motif.Tab, motif.Stepped:
			s.Shape.Turn = true
		}
	case "plain":
		for i := range g.Panels {
			if p := &g.Panels[i]; !p.OnFold() && (p.StartPhase == fit.Valley || p.StartPhase == fit.AnyPhase) {
				p.StartPlain, p.FinishPlain = rapid.SampledFrom([]float64{0, 20}).Draw(t, "plain start"), 15
			}
		}
	case "marked":
		switch s.Shape.Kind {
		case motif.Scallop, motif.Elliptical, motif.Tab:
			s.Shape.Mark = motif.Mark{Kind: motif.Eyelet, Size: 0.15 * s.Depth}
		}
	}
	if leans {
		for i := range g.Panels {
			p := &g.Panels[i]
			for _, phase := range []*fit.Phase{&p.StartPhase, &p.FinishPhase} {
				if *phase == fit.Peak {
					*phase = fit.Valley
				}
			}
		}
	}
	r, err := fit.Fit(g, s)
	if err != nil {
		t.Skip(err) // some leave no whole number, or overlap
	}
	return g, s, r
}
