package hpgl

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"engrail/plot"
	"engrail/plot/toolpath"
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
// holds them all: cut 1, stitch 2, fold 3, grain 4, notch 5, clip 6, every other
// inner line and lettering 7, a facing's inner edge 8. [Read] takes it the other
// way.
func PenTable() Pens {
	return Pens{
		Text: 7,
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

// Origin is where the device has its origin.
type Origin uint8

// The origins.
const (
	// Corner is the lower left corner of what the device reaches. The drawing
	// stays where it is.
	Corner Origin = iota
	// Centre is the middle of it: the drawing's own middle is put there.
	Centre
)

// Lettering says how texts are written.
type Lettering uint8

// The ways of lettering.
const (
	// Strokes draws letters as lines, alike on every device.
	Strokes Lettering = iota
	// Device leaves them to the letters that the device has (LB).
	Device
)

// Options say how a drawing is written. The zero value is a pen plot in
// portable coordinates.
type Options struct {
	Tool Tool
	// Pens is [PenTable] or [KnifeTable], by the tool, when it is zero.
	Pens Pens
	// Order lists pens in the order in which they are taken up. Those that it
	// leaves out come after them, by what they draw.
	Order []int
	// StepMM is the device's step in mm, [StepMM] when it is 0. Some cutters
	// can be set to another one.
	StepMM float64
	Range  Range
	Origin Origin
	// Width and Height are what the device reaches in x and y, in mm; 0 is as far as
	// its coordinates go.
	Width, Height float64
	// ChordError is the largest distance in mm between an arc and its chords,
	// before rounding to steps, [ChordError] when it is 0.
	ChordError float64
	// Arcs sends arcs as AA, where one of whole steps comes within a step of the
	// design; the others still become chords.
	Arcs bool
	// Lettering is how texts are written by the pen for them.
	Lettering Lettering
	// LineTypes draws stitching, folds and inner edges in the dashes of the device
	// (LT). A pen's only: a knife never cuts in dashes.
	LineTypes bool
	// Speed in cm/s (VS) and Force in the device's own units (FS) are not sent
	// when they are 0.
	Speed, Force float64
	// LineLength is how many characters a line of the file has at most, 79 when 0,
	// and Pairs how many points follow one PD at most, 5 when 0: old devices have
	// little room.
	LineLength, Pairs int
	// PageEnd feeds the page at the end (PG).
	PageEnd bool
	// Together says that a knife need not finish a piece before the next, where the way
	// is shorter. Lines inside of a piece come before its outline all the same.
	Together bool
	// Overcut is how far in mm a knife goes on past the start of a closed line, and
	// LeadIn how far before a line it is set down, in the waste where there is room.
	Overcut, LeadIn float64
	// Blade is how far in mm the tip of a trailing blade is behind its pivot: the
	// file then leads the pivot. 0 leaves it to the machine, as most want it; done
	// twice it is as wrong as not done. Swivel is the turn in radians from which it
	// is turned at corners, [toolpath.LeastSwivel] when 0.
	Blade, Swivel float64
	// Printer wraps the plot for a printer that takes HP-GL/2 inside of PCL, and
	// tells it the plot's size (PS).
	Printer bool
}

// PenPlotter returns the options for a plotter with a carousel of pens, old ones
// too: portable coordinates, chords, no line types, speeds or page ends.
func PenPlotter() Options { return Options{Pens: PenTable()}.filled() }

// RollPlotter returns the options for a plotter that draws on a roll of the width
// in mm, fed along x: all with pen 1, told apart by line types, and a page end that
// feeds the plot out.
func RollPlotter(width float64) Options {
	return Options{Pens: OnePen(1), Range: Wide, Height: width, LineTypes: true, PageEnd: true}.filled()
}

// FlatbedKnife returns the options for a cutter: cut lines and notches with tool 1 in
// portable coordinates.
func FlatbedKnife() Options { return Options{Tool: Knife, Pens: KnifeTable()}.filled() }

// HPGL2Printer returns the options for a printer that takes HP-GL/2: wrapped in PCL,
// with arcs and line types, all with pen 1.
func HPGL2Printer() Options {
	return Options{Pens: OnePen(1), Range: Wide, Arcs: true, LineTypes: true, PageEnd: true, Printer: true}.filled()
}

// OnePen returns the pens of a device that draws everything with that one.
func OnePen(pen int) Pens {
	p := Pens{Roles: map[plot.Role]int{}, Text: pen}
	for r := range plot.Role(roles) {
		p.Roles[r] = pen
	}
	return p
}

// filled returns the options with what was left at zero.
func (o Options) filled() Options {
	if o.StepMM == 0 {
		o.StepMM = StepMM
	}
	if o.ChordError == 0 {
		o.ChordError = ChordError
	}
	if o.LineLength == 0 {
		o.LineLength = lineWidth
	}
	if o.Pairs == 0 {
		o.Pairs = pairsPerLine
	}
	if o.Swivel == 0 {
		o.Swivel = toolpath.LeastSwivel
	}
	if o.Pens.Roles == nil && o.Pens.Text == 0 {
		o.Pens = PenTable()
		if o.Tool == Knife {
			o.Pens = KnifeTable()
		}
	}
	return o
}

// Room returns the size in mm of the largest drawing that the device reaches, 0 for
// one without end. From a [Corner] it begins at 0.
func (o Options) Room() (width, height float64) {
	o = o.filled()
	lo, hi := o.Range.limits()
	if o.Origin == Corner {
		lo = 0
	}
	room := (hi - lo) * o.StepMM
	within := func(own float64) float64 {
		switch {
		case own > 0:
			return min(own, room)
		case o.Range == Wide:
			return 0
		}
		return room
	}
	return within(o.Width), within(o.Height)
}

// withDefaults returns the options with every value set, or an error that
// says which one cannot be.
func (o Options) withDefaults() (Options, error) {
	o = o.filled()
	for _, x := range []struct {
		what      string
		value     float64
		low, high float64
		unit      string
	}{
		{"step", o.StepMM, minStep, maxStep, " mm"},
		{"chord error", o.ChordError, minStep, maxStep, " mm"},
		{"width", o.Width, 0, maxReach, " mm"},
		{"height", o.Height, 0, maxReach, " mm"},
		{"speed", o.Speed, 0, maxSpeed, " cm/s"},
		{"force", o.Force, 0, maxForce, ""},
		{"overcut", o.Overcut, 0, maxCutting, " mm"},
		{"lead-in", o.LeadIn, 0, maxCutting, " mm"},
		{"blade offset", o.Blade, 0, maxBlade, " mm"},
		{"swivel", o.Swivel, 0, math.Pi, " rad"},
		{"line length", float64(o.LineLength), minLine, maxLine, " characters"},
		{"number of points in a command", float64(o.Pairs), 1, maxNumbers / 2, ""},
	} {
		if !(x.value >= x.low && x.value <= x.high) {
			return o, fmt.Errorf("hpgl: the %s of %g%s is not between %g and %g%s", x.what, x.value, x.unit, x.low, x.high, x.unit)
		}
	}
	for _, pen := range o.Order {
		if pen < 1 || pen > maxPen {
			return o, fmt.Errorf("hpgl: pen %d in the order of pens is not between 1 and %d", pen, maxPen)
		}
	}
	if o.Tool == Knife && o.Pens.Text != 0 {
		return o, fmt.Errorf("hpgl: a knife writes no lettering: set its pen to 0")
	}
	if o.Tool == Pen && max(o.Overcut, o.LeadIn, o.Blade) > 0 {
		return o, fmt.Errorf("hpgl: a pen has no overcut, lead-in or blade offset: take a knife, or leave them out")
	}
	if o.Tool == Knife && o.LineTypes {
		return o, fmt.Errorf("hpgl: a knife would cut in dashes: leave line types off")
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

// newTurns puts the pens in the order that the options list, and the others
// in that of the last role that each draws.
func newTurns(o Options) *turns {
	var t turns
	for role := range t.pen {
		pen := o.Pens.Roles[plot.Role(role)]
		t.pen[role] = pen
		t.turn[pen] = max(t.turn[pen], drawingOrder(plot.Role(role)))
	}
	for i, pen := range o.Order {
		t.turn[pen] = i - len(o.Order)
	}
	return &t
}

// PensInOrder returns the pens that draw something, in the order in which they are
// taken up.
func (o Options) PensInOrder() (pens []int) {
	o = o.filled()
	for pen := 1; pen <= maxPen; pen++ {
		if o.Pens.Text == pen || slices.ContainsFunc(plot.Roles(), func(r plot.Role) bool { return o.Pens.Roles[r] == pen }) {
			pens = append(pens, pen)
		}
	}
	newTurns(o).sort(pens)
	return pens
}

// sort puts pens in their order.
func (t *turns) sort(pens []int) {
	slices.SortStableFunc(pens, func(a, b int) int { return cmp.Or(cmp.Compare(t.turn[a], t.turn[b]), cmp.Compare(a, b)) })
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
