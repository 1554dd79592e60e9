package pattern

import (
	"fmt"
	"math"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// mixup is a way in which a drawing comes to the wrong size.
type mixup struct {
	factor float64 // true size over size as read
	name   string
	cause  string
	unit   string // what a unit of the file truly is
}

// mixups returns the usual ones.
func mixups() []mixup {
	return []mixup{
		{96 / 25.4, "96/25.4", "mm were taken for px of 1/96 in", "1 mm"},
		{25.4 / 96, "25.4/96", "px of 1/96 in were taken for mm", "1/96 in"},
		{25.4, "25.4", "inches were taken for mm", "1 in"},
		{1 / 25.4, "1/25.4", "mm were taken for inches", "1 mm"},
		{96.0 / 72, "96/72", "points of 1/72 in were taken for px of 1/96 in", "1/72 in"},
		{72.0 / 96, "72/96", "px of 1/96 in were taken for points of 1/72 in", "1/96 in"},
		{96.0 / 90, "96/90", "px of 1/90 in, as of old, were taken for px of 1/96 in", "1/90 in"},
		{90.0 / 96, "90/96", "px of 1/96 in were taken for px of 1/90 in", "1/96 in"},
		{10, "10", "cm were taken for mm", "1 cm"},
		{0.1, "1/10", "mm were taken for cm", "1 mm"},
		{1000, "1000", "m were taken for mm", "1000 mm"},
		{0.001, "1/1000", "mm were taken for m", "1 mm"},
	}
}

// plausible refuses a piece in a size that nobody wears, and warns of an unusual
// one. A wrong scale that leaves the size likely only shows against a stated
// length.
func (t *taking) plausible(b path.Box) error {
	size := max(b.Width(), b.Height())
	if size >= smallPiece && size <= largePiece {
		return nil
	}
	var likely []string
	for _, m := range mixups() {
		if s := size * m.factor; s >= smallPiece && s <= largePiece {
			likely = append(likely, fmt.Sprintf("%s (%s): then a unit of the file is %s and the piece %.0f x %.0f mm",
				m.name, m.cause, m.unit, b.Width()*m.factor, b.Height()*m.factor))
		}
	}
	hint := "state the length of a unit of the file, such as `unit: 1 mm`, under `pattern:` beside `file:`; " +
		"or state the hem's true length, such as `check: 412mm`, under `piece:` to have the scale found"
	if len(likely) > 0 {
		hint = "the likely factors are " + strings.Join(likely, "; ") + ". " + hint
	}
	if size < smallestPiece || size > largestPiece {
		return t.sel.errorf(hint, "the piece measures %.1f x %.1f mm, which is no size of a garment: the drawing seems to have the wrong scale", b.Width(), b.Height())
	}
	if size < smallPiece {
		t.warnf("small-piece", "the piece measures only %.1f x %.1f mm; if that is wrong, so is the scale: %s", b.Width(), b.Height(), hint)
	} else {
		t.warnf("large-piece", "the piece measures %.0f x %.0f mm; if that is wrong, so is the scale: %s", b.Width(), b.Height(), hint)
	}
	return nil
}

// checked takes the panel and compares its hem with the stated length. When it
// differs, it takes the panel again from the drawing at each of the scales that
// come about by mistake, as the allowances that come off do not grow with it.
func checked(d plot.Drawing, sel Selection) (fit.Panel, []fit.Warning, error) {
	at := func(factor float64) (fit.Panel, *taking, error) {
		scaled := plot.Drawing{Title: d.Title, Groups: make([]plot.Group, len(d.Groups))}
		for i, g := range d.Groups {
			scaled.Groups[i] = g.Transform(path.Scaling(path.Point{}, factor))
		}
		t := &taking{sel: &sel}
		panel, err := t.take(newScene(scaled))
		return panel, t, err
	}
	panel, t, err := at(1)
	off := math.Inf(1)
	if err == nil {
		off = panel.Edges[0].Path.Length() - sel.Check
	}
	if math.Abs(off) <= checkSlack*sel.Check {
		if math.Abs(off) > checkQuiet {
			t.warnf("hem-differs", "the hem measures %.1f mm on the stitching line, %.1f mm from the %.1f mm stated", sel.Check+off, math.Abs(off), sel.Check)
		}
		return panel, t.warnings, nil
	}
	best, least := mixup{}, checkSlack
	for _, m := range mixups() {
		p, _, failed := at(m.factor)
		if failed != nil {
			continue
		}
		if x := math.Abs(p.Edges[0].Path.Length()/sel.Check - 1); x <= least {
			best, least = m, x
		}
	}
	switch {
	case best.factor != 0:
		size := "is too small or too large for a garment"
		if err == nil {
			size = fmt.Sprintf("measures %.2f mm", panel.Edges[0].Path.Length())
		}
		return fit.Panel{}, nil, sel.errorf(fmt.Sprintf("state the length of a unit of the file with `unit: %s` under `pattern:` beside `file:`", best.unit),
			"the hem %s where it should measure %.2f mm: the drawing comes out in the wrong scale, and all of it must be %.4g times as large (the factor %s: %s)",
			size, sel.Check, best.factor, best.name, best.cause)
	case err != nil:
		return fit.Panel{}, nil, err
	}
	length := panel.Edges[0].Path.Length()
	return fit.Panel{}, nil, sel.errorf(fmt.Sprintf("measure the hem on the stitching line once more; if the file is right, state `check: %.1fmm` under `piece:`, else correct its scale", length),
		"the hem measures %.2f mm where it should measure %.2f mm; no usual mix-up of units makes this difference (a factor of %.4g)",
		length, sel.Check, sel.Check/length)
}
