package notes

import (
	"fmt"
	"math"
	"strconv"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
)

// overview says in a few sentences what the design is and how to read the sheet.
func (s *sheet) overview() Section {
	m := s.Style.Motif
	what := fmt.Sprintf("The hem of this design is shaped: the same motif, here %s, stands along it again and again. "+
		"One motif together with its valley is a repeat, and every whole panel has a whole number of them.", plainly(m.Shape))
	if n := len(m.Sequence); n > 0 {
		what = fmt.Sprintf("The hem of this design is shaped: a group of %d motifs follows one another along it again and again. "+
			"Such a group is a repeat, and every whole panel has a whole number of them.", n)
	}
	wanted := fmt.Sprintf("Wanted were motifs %s wide and %s deep; how wide they came out stands in the tables below.",
		s.length(float64(m.Width)), s.length(float64(m.Depth)))
	blocks := []Block{Paragraph(what + " " + wanted)}
	if s.faced() {
		what := "A facing of the same shape is sewn to the edge"
		switch s.Style.Facing.Kind {
		case style.GrownOn:
			what = "A facing is cut in one with the garment, folded back and sewn along the shape"
		case style.Band:
			what = "A straight band is sewn to the edge along the shape as a facing, trimmed"
		}
		blocks = append(blocks, Paragraph(fmt.Sprintf("%s, turned to the inside and pressed. It is %s deep above the valleys.", what, s.length(float64(s.Style.Facing.Depth)))))
	} else if s.has(facing.Lining) {
		blocks = append(blocks, Paragraph("A lining of the same shape is sewn to the edge, turned to the inside and pressed."))
	} else {
		blocks = append(blocks, Paragraph("The design has no facing: the shaped edge is cut with an allowance, and you choose how it is finished."))
	}
	unit := "Lengths are in mm unless another unit stands beside them."
	switch s.Unit {
	case "cm":
		unit = "Lengths are in cm unless another unit stands beside them."
	case "in":
		unit = "Lengths are in inches, to the nearest sixteenth (small ones to a thirty-second), unless another unit stands beside them."
	}
	blocks = append(blocks, Paragraph(unit+" Every unusual word is explained at the end. Read the cautions before you start, and the order of work once from beginning to end."))
	return Section{"about", "What this is", blocks}
}

// plainly says in plain words what a shape is.
func plainly(shape string) string {
	switch shape {
	case "scallop":
		return "a scallop (a part of a circle, as at the rim of a shell)"
	case "point":
		return "a point (a triangle)"
	case "wave":
		return "a wave (round outward and round inward in turn)"
	case "engrailed":
		return "the engrailed one (hollow curves that meet in sharp points)"
	case "bulb":
		return "a bulb (more than half of a circle, narrower at its foot)"
	case "elliptical":
		return "half of an ellipse"
	case "petal":
		return "a petal (an arch with a pointed tip)"
	case "ogee":
		return "an ogee (two S-shaped sides that end in a tip)"
	case "bracket":
		return "a bracket (round shoulders with a small tip between them)"
	case "tab":
		return "a tab (a rectangle)"
	case "stepped":
		return "the stepped one (a rectangle with a step in each side)"
	case "dovetailed":
		return "the dovetailed one (a tab that is wider at its end)"
	case "cloud":
		return "a cloud (a deep wave of more than half circles)"
	}
	return "one of your own drawing"
}

// figuresSection has the figures of the hem, by size and panel.
func (s *sheet) figuresSection() Section {
	u := string(s.Unit)
	t := Table{Caption: "The hem of each whole panel", Left: s.left(1),
		Head: s.sized("Size", "Panel", "Repeats", "Width of a motif, "+u, "Depth, "+u, "Shaped edge, "+u, "Along one motif, "+u)}
	runs := Table{Caption: "Stretches of hems with corners", Left: s.left(2),
		Head: s.sized("Size", "Panel", "Stretch", "Repeats", "Width of a motif, "+u, "Depth, "+u)}
	for k, size := range s.Sizes {
		for _, h := range s.hems[k] {
			width := s.span(h.Across)
			if h.Across[1] == 0 {
				width = s.figure(h.Width)
			}
			t.Rows = append(t.Rows, s.sized(size.Name, h.Name, strconv.Itoa(h.Repeats), width,
				s.figure(h.Spec.Depth), s.figure(h.Length), s.span(h.Along)))
			if len(h.Runs) < 2 {
				continue
			}
			for n, r := range h.Runs {
				cells := []string{h.Name, strconv.Itoa(n + 1), "none", "–", "–"}
				if r.Repeats > 0 {
					cells = append(cells[:2], fmt.Sprintf("%g", r.Repeats), s.figure(r.Width), s.figure(r.Spec.Depth))
				}
				runs.Rows = append(runs.Rows, s.sized(size.Name, cells...))
			}
		}
	}
	blocks := []Block{
		Paragraph("All figures are taken on the stitching line, of panels opened out where they are cut on the fold. The shaped edge is what you sew along: in and out of every motif, and so longer than the hem is wide."),
		t,
	}
	if len(runs.Rows) > 0 {
		blocks = append(blocks, runs)
	}
	if !s.grownOn() {
		blocks = append(blocks, s.clipTable())
	}
	if p := s.endsSentence(); p != "" {
		blocks = append(blocks, Paragraph(p))
	}
	return Section{"figures", "The hem in figures", blocks}
}

// clipTable counts the clips: within panels, on seams, and in all.
func (s *sheet) clipTable() Table {
	t := Table{Caption: "Clips, in one layer of cloth", Left: s.left(0), Head: s.sized("Size")}
	for _, h := range s.hems[0] {
		name := h.Name
		if h.Quantity > 1 {
			name += ", each"
		}
		t.Head = append(t.Head, name)
	}
	seams := len(s.Sizes[0].Fit.Seams) > 0
	if seams {
		t.Head = append(t.Head, "on seams")
	}
	t.Head = append(t.Head, "in all")
	for k, size := range s.Sizes {
		row := s.sized(size.Name)
		loose := s.looseEnds(k)
		for i, h := range s.hems[k] {
			row = append(row, strconv.Itoa(h.inside()+loose[i]/h.Quantity))
		}
		if seams {
			row = append(row, strconv.Itoa(s.seamClips(k)))
		}
		t.Rows = append(t.Rows, append(row, strconv.Itoa(s.allClips(k))))
	}
	return t
}

// endsSentence says what stands on folds and seams.
func (s *sheet) endsSentence() string {
	on := map[string]map[fit.Phase]bool{"fold": {}, "seam": {}}
	for _, hems := range s.hems {
		for _, h := range hems {
			if h.Fitted.Edge.Closed {
				continue
			}
			for e, side := range [2]fit.Edge{h.Net[len(h.Net)-1], h.Net[1]} {
				if kind := on[side.Role.String()]; kind != nil {
					kind[h.Phases[e]] = true
				}
			}
		}
	}
	what := func(kind string) string {
		switch p := on[kind]; {
		case len(p) != 1:
			return ""
		case p[fit.Valley]:
			return "A valley lies"
		case p[fit.Peak]:
			return "The outermost place of a motif lies"
		default:
			return "A plain stretch lies"
		}
	}
	seam, fold := what("seam"), what("fold")
	switch {
	case seam == "" && fold == "":
		return ""
	case seam == fold:
		return seam + " on every seam and on every fold."
	case fold == "":
		return seam + " on every seam."
	case seam == "":
		return fold + " on every fold."
	}
	return seam + " on every seam. " + fold + " on every fold."
}

// cloth is a kind of cloth with how it is sewn.
type cloth struct {
	name   string
	stitch float64 // mm
	needle string
	valley int // stitches across a valley
	point  int // and across a point
}

// cloths are common practice: the lengths and needles as teachers and machine manuals
// have them, one stitch across a valley and two in thick cloth, one to three across a
// point from light to heavy.
func cloths() []cloth {
	return []cloth{
		{name: "light, such as shirting", stitch: 2, needle: "70/10", valley: 1, point: 1},
		{name: "medium, such as poplin or suiting", stitch: 2.5, needle: "80/12", valley: 1, point: 2},
		{name: "heavy, such as denim", stitch: 2.5, needle: "90/14", valley: 2, point: 3},
		{name: "very heavy, such as coating", stitch: 3, needle: "100/16", valley: 2, point: 3},
	}
}

// reinforced (mm) is the shorter stitch beside valleys and points, and beside (mm) how far
// on each side it goes. Common practice.
const (
	reinforced = 1.5
	beside     = 25.0
)

// stitches is how many stitches of that length go along an edge.
func stitches(along, stitch float64) int { return int(math.Round(along / stitch)) }

// stitchesSection has the settings of the machine by the weight of the cloth.
func (s *sheet) stitchesSection() Section {
	var along, around [2]float64
	widen := func(r *[2]float64, x float64) {
		if x <= 0 {
			return
		}
		if r[1] == 0 {
			r[0] = x
		}
		r[0], r[1] = min(r[0], x), max(r[1], x)
	}
	for k, hems := range s.hems {
		widen(&around, s.around(k))
		for _, h := range hems {
			widen(&along, h.Along[0])
			widen(&along, h.Along[1])
		}
	}
	t := Table{Caption: "Settings by cloth", Left: 1,
		Head: []string{"Cloth", "Stitch length", "Stitches to an inch", "Needle"}}
	add := func(on bool, head string) {
		if on {
			t.Head = append(t.Head, head)
		}
	}
	add(s.turns.Valleys, "Across a valley")
	add(s.turns.Points, "Across a point")
	add(along[1] > 0, "Stitches along one motif")
	t.Head = append(t.Head, "Stitches round the hem")
	for _, c := range cloths() {
		row := []string{c.name, fmt.Sprintf("%g mm", c.stitch), strconv.Itoa(int(math.Round(inch / c.stitch))), c.needle}
		if s.turns.Valleys {
			row = append(row, several(c.valley, "stitch"))
		}
		if s.turns.Points {
			row = append(row, several(c.point, "stitch"))
		}
		if along[1] > 0 {
			row = append(row, counts([]int{stitches(along[0], c.stitch), stitches(along[1], c.stitch)}))
		}
		t.Rows = append(t.Rows, append(row, counts([]int{stitches(around[0], c.stitch), stitches(around[1], c.stitch)})))
	}
	text := "Take the row of your cloth. Thread a new needle of that size: a blunt one pulls threads and makes the valleys pucker. " +
		"Sew a few motifs on scraps of the same two layers first, turn them, and change the setting until you like the edge."
	if s.turns.Valleys || s.turns.Points {
		text += fmt.Sprintf(" For about %s on each side of every sharp place shorten the stitch to %g mm (%d to an inch), so that the seam holds where the cloth is cut close to it.",
			s.both(beside), reinforced, int(math.Round(inch/reinforced)))
	}
	return Section{"stitches", "Stitches and needles", []Block{
		Paragraph(text), t,
		Paragraph("These settings are common practice; the manual of your machine comes first. Stitches along one motif help to check the setting: count them on your trial."),
	}}
}
