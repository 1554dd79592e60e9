package fit

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Held is how one panel can have the same number of repeats in every size.
type Held struct {
	// Repeats is the number chosen, of the unfolded panel.
	Repeats int
	// Options are the numbers that keep within the limits in every size, the
	// chosen one among them, in growing order.
	Options []HeldOption
}

// HeldOption is a number of repeats and how wide they are: the least and the most
// over all sizes, in mm.
type HeldOption struct {
	Repeats      int
	Narrow, Wide float64
}

// Chosen returns the option that was chosen.
func (h Held) Chosen() HeldOption {
	return h.Options[slices.IndexFunc(h.Options, func(o HeldOption) bool { return o.Repeats == h.Repeats })]
}

// HoldCounts chooses for every panel of a garment the number of repeats that it
// has in all of its sizes, so that the repeats grow with the size. The garments
// are the sizes, with the same panels and seams in the same order.
//
// Every width must keep within the limits in every size: with neither Least nor
// Most within 4/5 and 5/4 of the wanted width. Of the numbers that do, those
// count whose widths lie around the wanted width, the middle of the narrowest
// and the widest no further from it than a tenth or than the nearest; and of
// these the numbers that [Fit] would choose if all sizes had that middle. A panel
// whose Count is fixed keeps it.
//
// An [*Error] names the sizes that allow no number in common, and what would.
func HoldCounts(sizes []Garment, spec Spec) ([]Held, error) {
	spec, err := spec.complete()
	if err != nil {
		return nil, err
	}
	if len(sizes) == 0 || len(sizes[0].Panels) == 0 {
		return nil, errors.New("there is no panel to fit")
	}
	all := make([][]*run, len(sizes)) // by size and run
	for i, g := range sizes {
		if len(g.Panels) != len(sizes[0].Panels) {
			return nil, fmt.Errorf("one size has %d panels and another %d; give all the same panels", len(sizes[0].Panels), len(g.Panels))
		}
		l, err := newLayout(g, spec)
		if err != nil {
			return nil, err
		}
		for _, w := range l.panels {
			if len(w.runs) > 1 {
				return nil, w.panel.errorf("give its runs counts of their own, or let their number grow with the size", "a count is held for hems in one run, and its hem has %d", len(w.runs))
			}
		}
		all[i] = l.runs()
	}
	held := make([]Held, len(sizes[0].Panels))
	options := make([][]option, len(held))
	for k := range held {
		column := make([]*run, len(sizes))
		for i := range sizes {
			column[i] = all[i][k]
		}
		if held[k], options[k], err = hold(column, spec); err != nil {
			return nil, err
		}
	}
	for k, i := range choose(options, spec.Width) {
		held[k].Repeats = int(all[0][k].repeats(options[k][i].halves))
	}
	return held, nil
}

// hold lists the counts that one panel can have in all of its sizes, and those of
// them to choose from, each with the middle of its widths.
func hold(sizes []*run, spec Spec) (Held, []option, error) {
	var held Held
	var options []option
	for _, o := range sizes[0].options {
		narrow, widest := o.width, o.width
		every := true
		for _, w := range sizes[1:] {
			i := slices.IndexFunc(w.options, func(p option) bool { return p.halves == o.halves })
			if every = i >= 0; !every {
				break
			}
			narrow, widest = min(narrow, w.options[i].width), max(widest, w.options[i].width)
		}
		if every {
			held.Options = append(held.Options, HeldOption{int(sizes[0].repeats(o.halves)), narrow, widest})
			options = append(options, option{o.halves, (narrow + widest) / 2})
		}
	}
	if len(options) == 0 {
		return held, nil, noneHeld(sizes, spec)
	}
	off := func(o option) float64 { return math.Abs(o.width - spec.Width) }
	nearest := math.Inf(1)
	for _, o := range options {
		nearest = min(nearest, off(o))
	}
	limit := max(nearest, spec.Width/10) + stepPrecision
	options = slices.DeleteFunc(options, func(o option) bool { return off(o) > limit })
	return held, options, nil
}

// noneHeld says which sizes have no count in common, and the limits that would
// give them one.
func noneHeld(sizes []*run, spec Spec) error {
	few := func(w *run) int { return w.options[0].halves }
	many := func(w *run) int { return w.options[len(w.options)-1].halves }
	small := slices.MinFunc(sizes, func(a, b *run) int { return many(a) - many(b) })
	large := sizes[0]
	for _, w := range sizes[1:] {
		if few(w) >= few(large) { // of several, the largest
			large = w
		}
	}
	takes := func(w *run) string {
		a, b := w.repeats(few(w)), w.repeats(many(w))
		if a == b {
			return fmt.Sprintf("size %s takes %g", w.panel.Size, a)
		}
		return fmt.Sprintf("size %s takes %g to %g", w.panel.Size, a, b)
	}
	panel := *sizes[0].panel
	panel.Size = ""
	hint := "let the number of repeats grow with the size"
	if o, ok := widened(sizes, spec, few(small), many(large)); ok {
		hint = fmt.Sprintf("%d repeats would do in all sizes if widths from %.1f to %.1f mm were allowed; or %s",
			o.Repeats, math.Floor(o.Narrow*10)/10, math.Ceil(o.Wide*10)/10, hint)
	}
	return panel.errorf(hint, "no number of repeats from %.1f to %.1f mm wide fits every size: %s, %s",
		spec.Least, spec.Most, takes(small), takes(large))
}

// widened returns the count from one number of half repeats to another whose
// widths over all sizes stray least from the wanted one.
func widened(sizes []*run, spec Spec, from, to int) (best HeldOption, ok bool) {
	least := math.Inf(1)
	for halves := from; halves <= to; halves++ {
		narrow, widest := math.Inf(1), 0.0
		for _, w := range sizes {
			s, ok := w.stations(halves)
			if !ok {
				widest = math.Inf(1)
				break
			}
			narrow, widest = min(narrow, s.width), max(widest, s.width)
		}
		if off := max(widest-spec.Width, spec.Width-narrow); off < least {
			best, least, ok = HeldOption{int(sizes[0].repeats(halves)), narrow, widest}, off, true
		}
	}
	return best, ok
}
