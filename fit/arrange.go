package fit

import (
	"math"
	"slices"

	"engrail/motif"
)

// part is how much of a motif stands on a hem.
type part uint8

const (
	whole part = iota
	rise       // from its valley to its peak, on the finish
	fall       // from its peak to its valley, on the start
)

// step is a motif on a hem, or the half of one that stands on an end.
type step struct {
	unit *motif.Unit
	part part
	// ratio times the width of the run, and add mm, are the width of the whole
	// motif; depth is its depth in mm.
	ratio, add float64
	depth      float64
}

// width returns how wide the whole motif is.
func (s step) width(w float64) float64 { return s.ratio*w + s.add }

// length returns what the step takes of the hem.
func (s step) length(w float64) float64 {
	if s.part == whole {
		return s.width(w)
	}
	return s.width(w) / 2
}

// steps returns the motifs for so many half motifs on the hem, from start to
// finish, with what stands on the ends. It is not ok when they cannot be
// arranged.
func (r *run) steps(halves int) (list []step, phases [2]Phase, ok bool) {
	phases, ok = r.phasesFor(halves)
	if !ok || halves < 1 {
		return nil, phases, false
	}
	// A folded panel is built from its outer end to the fold.
	from := Start
	if r.sides[Start].role == FoldEdge && r.folded {
		from = Finish
	}
	units, ok := motif.Turned(r.spec.units(), phases[from] == Peak)
	if !ok {
		return nil, phases, false
	}
	if p := len(units); p > 1 {
		unfolded := halves
		if r.folded {
			unfolded *= 2
		}
		if unfolded%(2*p) != 0 {
			return nil, phases, false
		}
	}
	left := halves
	next := 0
	list = make([]step, 0, halves/2+2)
	if from == Finish {
		units = slices.Clone(units)
		for i, u := range units {
			units[i] = u.Mirror() // as they stand on the hem, seen from its start
		}
	}
	add := func(p part) bool {
		u := &units[next%len(units)]
		next++
		if p != whole && !u.Shape.Symmetrical() {
			return false
		}
		ratio, _ := u.Ratios()
		list = append(list, step{unit: u, part: p, ratio: ratio})
		return true
	}
	if phases[from] == Peak {
		if !add(fall) {
			return nil, phases, false
		}
		left--
	}
	for ; left >= 2; left -= 2 {
		add(whole)
	}
	if left == 1 && !add(rise) {
		return nil, phases, false
	}
	if from == Finish {
		for i, j := 0, len(list)-1; i <= j; i, j = i+1, j-1 {
			list[i], list[j] = list[j].turned(), list[i].turned()
		}
	}
	r.grow(list)
	return r.ease(list), phases, true
}

// turned returns the step seen from the other end.
func (s step) turned() step {
	switch s.part {
	case rise:
		s.part = fall
	case fall:
		s.part = rise
	}
	return s
}

// grow sets the ratios and depths of the steps. A motif's place on the hem is told
// by the ratios of those before it, so that widths grow by equal steps.
func (r *run) grow(list []step) {
	if r.spec.Growth == (Growth{}) {
		for i := range list {
			_, depth := list[i].unit.Ratios()
			list[i].depth = r.spec.Depth * depth
		}
		return
	}
	total := 0.0
	for _, s := range list {
		total += s.length(1)
	}
	at := 0.0
	for i := range list {
		s := &list[i]
		length := s.length(1)
		t := (at + length/2) / total
		switch s.part { // the middle of the motif is on the end
		case fall:
			t = 0
		case rise:
			t = 1
		}
		at += length
		w, d := r.spec.Growth.factors(t)
		_, depth := s.unit.Ratios()
		s.ratio *= w
		s.depth = r.spec.Depth * depth * d
	}
}

// ease gives the motif that stands with its peak on a joined end the width that
// its other half has, and the next ones widths between that and the run's.
func (r *run) ease(list []step) []step {
	if r.joint == [2]float64{} {
		return list
	}
	n := len(list)
	eased := make([]step, n)
	copy(eased, list)
	over := min(easeOver, max(0, n-2)/2)
	for end, width := range r.joint {
		if width == 0 {
			continue
		}
		at := func(k int) *step {
			if End(end) == Finish {
				k = n - 1 - k
			}
			return &eased[k]
		}
		unit := at(0).ratio
		for k := range over + 1 {
			s, share := at(k), 1-float64(k)/float64(over+1)
			s.add += share * width * s.ratio / unit
			s.ratio *= 1 - share
		}
	}
	free := 0.0
	for _, s := range eased {
		free += s.ratio
	}
	if free == 0 {
		return list
	}
	return eased
}

// mean returns the mean width of the motifs over the width of the run.
func (r *run) mean() float64 {
	sum := 0.0
	for _, u := range r.spec.units() {
		w, _ := u.Ratios()
		sum += w
	}
	g := 0.0
	const places = 64
	for i := range places {
		w, _ := r.spec.Growth.factors((float64(i) + 0.5) / places)
		g += w / places
	}
	return sum / float64(len(r.spec.units())) * g
}

// repeats returns the number of repeats of the unfolded panel: half ones only at
// corners.
func (r *run) repeats(halves int) float64 {
	n := float64(halves) / 2 / float64(len(r.spec.units()))
	if r.folded {
		n *= 2
	}
	return n
}

// halvesOf returns the half motifs on the hem for a number of repeats of the
// unfolded panel.
func (r *run) halvesOf(repeats int) int {
	n := 2 * repeats * len(r.spec.units())
	if r.folded {
		n /= 2
	}
	return n
}

// widths returns the narrowest and the widest motif on the run.
func (s stations) widths() (narrow, wide float64) {
	narrow = math.Inf(1)
	for _, t := range s.steps {
		w := t.width(s.width)
		narrow, wide = min(narrow, w), max(wide, w)
	}
	return narrow, wide
}
