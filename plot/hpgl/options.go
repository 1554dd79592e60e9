package hpgl

import (
	"fmt"
	"math"

	"engrail/plot"
)

// Tool is what the device holds.
type Tool uint8

// The tools.
const (
	// Pen draws every line and the lettering.
	Pen Tool = iota
	// Knife cuts: only cut lines, notches and clips may go to it, and no
	// lettering.
	Knife
)

// Range says which coordinates the device takes.
type Range uint8

// The ranges.
const (
	// Portable is -32768 to 32767, which every device takes: ±819 mm at the
	// usual step.
	Portable Range = iota
	// Wide is ±(2^30-1), for devices that take the integers of HP-GL/2. Others
	// stop at the portable range without a word and spoil the piece.
	Wide
)

// limits returns the lowest and highest coordinate.
func (r Range) limits() (lo, hi float64) {
	if r == Wide {
		return -maxUnits, maxUnits
	}
	return -32768, 32767
}

// Pens says which pen, from 1 up, draws what. Roles that are not listed or
// have pen 0 are left out. Text is the pen of the lettering, 0 for none.
type Pens struct {
	Roles map[plot.Role]int
	Text  int
}

// PenTable returns the pens of a plotter, 1 to 8 so that an eight-pen carousel
// holds them all: cut 1, stitch 2, fold 3, grain and lettering 4, notch 5,
// clip 6, every other inner line 7, a facing's inner edge 8. [Read] takes it
// the other way.
func PenTable() Pens {
	return Pens{
		Text: 4,
		Roles: map[plot.Role]int{
			plot.Cut: 1, plot.Stitch: 2, plot.Fold: 3, plot.Grain: 4, plot.Notch: 5, plot.Clip: 6,
			plot.Mark: 7, plot.Internal: 7, plot.Drawn: 7, plot.Inner: 8,
		},
	}
}

// KnifeTable returns the pens of a cutter: cut lines and notches with tool 1.
// Clips are left out, for they are snipped after stitching; add them with tool
// 1 to have the cutter do it.
func KnifeTable() Pens {
	return Pens{Roles: map[plot.Role]int{plot.Cut: 1, plot.Notch: 1}}
}

// Options say how a drawing is written. The zero value is a pen plot in
// portable coordinates.
type Options struct {
	Tool Tool
	// Pens is [PenTable] or [KnifeTable], by the tool, when it is zero.
	Pens Pens
	// StepMM is the device's step in mm, [StepMM] when it is 0. Some cutters
	// can be set to another one.
	StepMM float64
	Range  Range
	// ChordError is the largest distance in mm between an arc and its chords,
	// before rounding to steps, [ChordError] when it is 0.
	ChordError float64
}

// withDefaults returns the options with every value set, or an error that
// says which one cannot be.
func (o Options) withDefaults() (Options, error) {
	if o.StepMM == 0 {
		o.StepMM = StepMM
	}
	if o.ChordError == 0 {
		o.ChordError = ChordError
	}
	if !(o.StepMM >= minStep && o.StepMM <= maxStep) {
		return o, fmt.Errorf("hpgl: the step of %g mm is not between %g and %g mm", o.StepMM, minStep, maxStep)
	}
	if !(o.ChordError >= minStep && o.ChordError <= maxStep) {
		return o, fmt.Errorf("hpgl: the chord error of %g mm is not between %g and %g mm", o.ChordError, minStep, maxStep)
	}
	if o.Pens.Roles == nil && o.Pens.Text == 0 {
		o.Pens = PenTable()
		if o.Tool == Knife {
			o.Pens = KnifeTable()
		}
	}
	if o.Tool == Knife && o.Pens.Text != 0 {
		return o, fmt.Errorf("hpgl: a knife writes no lettering: set its pen to 0")
	}
	if p := o.Pens.Text; p < 0 || p > maxPen {
		return o, fmt.Errorf("hpgl: pen %d for lettering is not between 1 and %d", p, maxPen)
	}
	for r := range plot.Role(roles) {
		pen := o.Pens.Roles[r]
		if pen < 0 || pen > maxPen {
			return o, fmt.Errorf("hpgl: pen %d for %s lines is not between 1 and %d", pen, r, maxPen)
		}
		if o.Tool == Knife && pen != 0 && r != plot.Cut && r != plot.Notch && r != plot.Clip {
			return o, fmt.Errorf("hpgl: a knife would cut the %s lines: give it cut, notch and clip lines only", r)
		}
	}
	return o, nil
}

// roles is how many roles there are, that of drawn lines included.
const roles = int(plot.Internal) + 1

// turns are the pens by role, and for each pen its turn.
type turns struct {
	pen  [roles]int
	turn [maxPen + 1]int
}

// newTurns puts the pens in the order of the last role that each draws.
func newTurns(p Pens) *turns {
	var t turns
	for role := range t.pen {
		pen := p.Roles[plot.Role(role)]
		t.pen[role] = pen
		t.turn[pen] = max(t.turn[pen], drawingOrder(plot.Role(role)))
	}
	return &t
}

// drawingOrder says when a role's lines are drawn, from the inside of the
// piece to its outline.
func drawingOrder(r plot.Role) int {
	switch r {
	case plot.Mark:
		return 1
	case plot.Grain:
		return 2
	case plot.Internal:
		return 3
	case plot.Inner:
		return 5
	case plot.Stitch:
		return 6
	case plot.Fold:
		return 7
	case plot.Notch:
		return 8
	case plot.Clip:
		return 9
	case plot.Cut:
		return 10
	}
	return 4
}

// finite reports whether x is a number.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
