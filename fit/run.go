package fit

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"engrail/motif"
	"engrail/motif/path"
)

// run is a stretch of a hem between two corners or ends, on its way through the
// fit.
type run struct {
	panel *Panel
	spec  Spec
	hem   path.Path
	sides [2]side
	count int
	bare  bool // no motif stands on it
	// number counts the runs of the panel from 1, 0 when it is the only one.
	number int
	// plain is the length of the stretch without a motif at each end.
	plain  [2]float64
	valley path.Path
	ruler  *path.Ruler // of the valley line
	phases [2]Phase
	ends   [2]terminal
	folded bool
	closed bool
	// joint is the width of the motif whose other half stands on the end joined to
	// this one, 0 where that is nothing to go by.
	joint   [2]float64
	options []option
	made    []stations // of each option
	chosen  stations
	halves  int
	bed     bed
}

// from and to are the distances along the valley line between which the motifs
// stand.
func (r *run) from() float64 { return r.plain[Start] }
func (r *run) to() float64   { return r.ruler.Length() - r.plain[Finish] }

// measure finds the valley line and its ends.
func (r *run) measure() error {
	y := r.spec.valleyHeight()
	line, err := r.level(y)
	if err != nil {
		radius, along := tightest(path.NewRuler(r.hem), 1)
		const hint = "make the motif shallower, or let the valleys rest on the hem"
		if radius > -y {
			return &Error{Panel: r.panel.title(), Cause: err, Hint: hint}
		}
		return r.panel.errorf(hint,
			"the valleys would lie %.1f mm inside the hem, but it turns on a radius of %.1f mm, %.0f mm from its start: %.1f mm too deep",
			-y, radius, along, -y-radius)
	}
	r.valley, r.ruler = line, path.NewRuler(line)
	if r.to()-r.from() <= 0 {
		return r.panel.errorf("make the plain stretches shorter", "plain stretches of %.1f and %.1f mm leave nothing of its hem of %.1f mm", r.plain[Start], r.plain[Finish], r.ruler.Length())
	}
	if r.closed {
		return nil
	}
	for i, s := range r.sides {
		if reach := -y * s.slant; reach >= s.in.Length() {
			return r.panel.errorf("make the motif shallower, or let the valleys rest on the hem",
				"the valleys would lie %.1f mm up its side, which is %.1f mm long", reach, s.in.Length())
		}
		t := terminal{at: r.sides[i].at(s.slant * y), side: s.out}
		t.inward = line.StartTangent()
		if End(i) == Finish {
			t.inward = line.EndTangent().Neg()
		}
		if s.role == FoldEdge {
			// A folded motif is its own mirror image, so that its width
			// counts square to the fold.
			square := s.out.Left()
			if square.Dot(t.inward) < 0 {
				square = square.Neg()
			}
			t.inward = square
		}
		r.ends[i] = t
	}
	return nil
}

// level returns the line at the height y beside the run.
func (r *run) level(y float64) (path.Path, error) {
	if r.closed {
		return closedLevel(r.hem, y)
	}
	return level(r.hem, r.sides, y)
}

// phasesFor returns what stands on the ends with that many half motifs on the
// run, and whether that is possible.
func (r *run) phasesFor(halves int) (phases [2]Phase, ok bool) {
	phases = r.phases
	if !r.folded {
		odd := (phases[Start] == Peak) != (phases[Finish] == Peak)
		return phases, (halves%2 == 1) == odd
	}
	for i, s := range r.sides {
		if s.role != FoldEdge {
			continue
		}
		across := Valley
		if phases[1-i] == Peak {
			across = Peak
		}
		here := across
		if halves%2 == 1 {
			here = Valley + Peak - across
		}
		if phases[i] != AnyPhase && phases[i] != here {
			return phases, false
		}
		phases[i] = here
	}
	return phases, true
}

// stations sets the valleys for a number of half motifs.
func (r *run) stations(halves int) (stations, bool) {
	steps, phases, ok := r.steps(halves)
	if !ok {
		return stations{}, false
	}
	var s stations
	if r.spec.Lay == Bent || r.closed && r.ruler.Path().Segments() == 0 {
		s, ok = walk(r.to()-r.from(), steps)
	} else {
		line := r.valley
		if r.plain != [2]float64{} {
			line = r.ruler.Sub(r.from(), r.to())
		}
		s, ok = newStepper(line, phases[Start], phases[Finish], r.ends).step(steps)
	}
	for i := range s.along {
		s.along[i] += r.from()
	}
	return s, ok
}

// counts lists the counts that the run can have.
func (r *run) counts() error {
	if n := r.count; n > 0 {
		halves := r.halvesOf(n)
		if !r.folded && (r.phases[Start] == Peak) != (r.phases[Finish] == Peak) {
			halves++ // the half at a corner
		}
		if halves > maxRepeats {
			return r.panel.errorf(fmt.Sprintf("give at most %d", maxRepeats), "%d repeats are too many", n)
		}
		if _, ok := r.phasesFor(halves); !ok {
			return r.panel.errorf("give one more or one fewer, or leave the fold free",
				"%d repeats cannot have a %v on its fold", n, r.foldPhase())
		}
		s, ok := r.stations(halves)
		if !ok {
			return r.panel.errorf("give more repeats, or bend them along the hem", "%d rigid repeats cannot be stepped along so curved a hem", n)
		}
		r.options, r.made = []option{{halves, s.width}}, []stations{s}
		return nil
	}

	// Half motifs from the pitch along the valley line; a chord is a little
	// shorter than its arc, so that the list starts a little beyond.
	length := 2 * (r.to() - r.from()) / r.mean()
	if length/r.spec.Least > 2*maxRepeats {
		return r.panel.errorf("make the motif wider", "more than %d repeats of %.4g mm, the least width, would fit its hem", maxRepeats, r.spec.Least)
	}
	wanted := length / r.spec.Width
	first := max(1, int(math.Floor(min(length/r.spec.Most, wanted)))-2)
	last := max(first+3, int(math.Ceil(length/r.spec.Least))+2)
	period := 1
	if n := len(r.spec.units()); n > 1 {
		period = 2 * n
		if r.folded {
			period = n
		}
		last = max(last, 3*period)
	}
	// A long hem has very many counts, and their widths differ by less than counts;
	// those nearest the wanted width do.
	most := max(leastOptions, min(maxOptions, int(maxOptions*manyRepeats/wanted))) * period
	first = max(first, int(wanted)-most)
	last = min(last, int(wanted)+most)
	var near []string
	for halves := first; halves <= last; halves++ {
		s, ok := r.stations(halves)
		if !ok {
			continue
		}
		if s.width >= r.spec.Least-stepPrecision && s.width <= r.spec.Most+stepPrecision {
			r.options = append(r.options, option{halves, s.width})
			r.made = append(r.made, s)
		} else if len(near) < 3 {
			near = append(near, fmt.Sprintf("%g of %.1f mm", r.repeats(halves), s.width))
		}
	}
	if len(r.options) > 0 {
		if r.spec.free {
			r.keepNear()
		}
		return nil
	}
	hem := r.to() - r.from()
	if r.folded {
		hem *= 2
	}
	hint := "make the motif narrower or wider, or its limits wider"
	if len(near) > 0 {
		hint = "what fits: " + strings.Join(near, ", ")
	}
	if least := r.spec.Least * r.mean() * float64(len(r.spec.units())); least > hem {
		return r.panel.errorf(hint, "the motif is wider than the hem: repeats of at least %.1f mm are wanted and the hem is %.1f mm long, %.1f mm too short",
			least, hem, least-hem)
	}
	return r.panel.errorf(hint, "no whole number of repeats from %.1f to %.1f mm wide fits its hem of %.1f mm",
		r.spec.Least, r.spec.Most, hem)
}

// keepNear keeps the options within a tenth of the wanted width, or the nearest
// one when there is none.
func (r *run) keepNear() {
	off := func(o option) float64 { return math.Abs(o.width - r.spec.Width) }
	nearest := math.Inf(1)
	for _, o := range r.options {
		nearest = min(nearest, off(o))
	}
	limit := max(nearest, r.spec.Width/10) + stepPrecision
	kept := 0
	for i, o := range r.options {
		if off(o) <= limit {
			r.options[kept], r.made[kept] = o, r.made[i]
			kept++
		}
	}
	r.options, r.made = r.options[:kept], r.made[:kept]
}

func (r *run) foldPhase() Phase {
	for i, s := range r.sides {
		if s.role == FoldEdge {
			return r.phases[i]
		}
	}
	return AnyPhase
}

// place fixes where valley line and peaks meet the sides.
func (r *run) place() {
	if !r.bare {
		r.phases, _ = r.phasesFor(r.halves)
	}
	r.bed = bed{valley: r.ruler, phases: r.phases, sides: r.sides, ends: r.ends, closed: r.closed, from: r.from(), to: r.to()}
	if r.closed {
		return
	}
	y := r.spec.valleyHeight()
	for i, s := range r.sides {
		e := &r.bed.reach[i]
		e.valley = s.slant * y
		e.depth = r.spec.Depth
		if n := len(r.chosen.steps); n > 0 {
			e.depth = r.chosen.steps[i*(n-1)].depth
		}
		e.peak = s.slant * (y + e.depth)
		if r.spec.Lay == Rigid && r.phases[i] == Peak {
			valley := r.chosen.along[0]
			if End(i) == Finish {
				valley = r.chosen.along[len(r.chosen.along)-1]
			}
			e.peak = r.bed.footReach(End(i), r.ruler.At(valley)) + s.slant*e.depth
		}
	}
}

// drawn lays the motif on the run.
func (r *run) drawn() (laid, error) {
	if r.bare {
		return r.bed.bare(), nil
	}
	l, err := r.draw()
	if err != nil {
		var own *Error
		if !errors.As(err, &own) {
			err = r.panel.because(err)
		}
	}
	return l, err
}

// cells draws the motifs of the steps, each kind of them once.
func (r *run) cells(steps []step) ([]motif.Cell, error) {
	type kind struct {
		unit         *motif.Unit
		width, depth float64
	}
	made := map[kind]motif.Cell{}
	all := make([]motif.Cell, len(steps))
	last := kind{}
	for i, s := range steps {
		k := kind{s.unit, s.width(r.chosen.width), s.depth}
		if i > 0 && k == last {
			all[i] = all[i-1]
			continue
		}
		last = k
		c, ok := made[k]
		if !ok {
			var err error
			if c, err = s.unit.Cell(k.width, k.depth); err != nil {
				return nil, err
			}
			made[k] = c
		}
		all[i] = c
	}
	return all, nil
}

// draw lays the cells and makes sure that the motifs leave room for one another.
func (r *run) draw() (laid, error) {
	cells, err := r.cells(r.chosen.steps)
	if err != nil {
		var limit *motif.LimitError
		if errors.As(err, &limit) && r.spec.Shape.MaxDepth(r.chosen.width) < r.spec.Depth && len(r.spec.Sequence) == 0 {
			if n := r.most(); n > 0 && n < r.repeats(r.halves) {
				limit.Hint += fmt.Sprintf("; %g repeats or fewer would be wide enough", n)
			}
		}
		return laid{}, err
	}
	deepest := r.spec.deepest()
	if r.spec.Lay == Bent {
		if radius, along := tightest(r.ruler, -1); radius <= deepest {
			return laid{}, r.panel.errorf(
				fmt.Sprintf("at most %.1f mm deep would work, or rigid repeats", radius*0.95*r.spec.Depth/deepest),
				"%.1f mm deep is %.1f mm more than the radius on which the hem curves inward (%.1f mm, %.0f mm from its start)",
				deepest, deepest-radius, radius, along)
		}
	}
	l, err := r.bed.lay(r.spec.Lay, cells, r.chosen)
	if err != nil {
		return laid{}, err
	}
	if at, ok := crossing(l.edge); ok {
		return laid{}, r.overlapping(at)
	}
	for i, c := range cells {
		if i > 0 && &c.Rise.V[0] == &cells[i-1].Rise.V[0] {
			continue
		}
		if w, _ := c.Neck(); w > 0 && (l.neck == 0 || w < l.neck) {
			l.neck = w
		}
		if w := c.Mouth(); w > 0 && (l.mouth == 0 || w < l.mouth) {
			l.mouth = w
		}
	}
	return l, nil
}

// crossing returns the first place where the edge crosses itself. The edge of
// a whole circle ends where it starts, which is no crossing.
func crossing(edge path.Path) (path.Point, bool) {
	for _, x := range edge.SelfIntersections() {
		if edge.Closed || !(x.Point.Dist(edge.Start()) < JoinGap && x.Point.Dist(edge.End()) < JoinGap) {
			return x.Point, true
		}
	}
	return path.Point{}, false
}

// most returns the largest number of repeats that are wide enough for the
// depth, 0 when there is none.
func (r *run) most() float64 {
	least := r.spec.Shape.MinWidth(r.spec.Depth)
	for halves := r.halves; halves > 0; halves-- {
		if s, ok := r.stations(halves); ok && s.width >= least {
			return r.repeats(halves)
		}
	}
	return 0
}

// works reports whether the motifs have room with another depth and another number
// of half motifs.
func (r *run) works(depth float64, halves int) bool {
	try := *r
	try.spec.Growth.Depth, try.spec.Depth = r.spec.Growth.Depth, depth
	try.halves = halves
	var ok bool
	if try.chosen, ok = try.stations(halves); !ok {
		return false
	}
	try.place()
	for i := range try.bed.reach {
		// Joined ends meet at a height that is fixed already.
		try.bed.reach[i].peak += r.bed.reach[i].peak - r.peakAlone(End(i))
	}
	cells, err := try.cells(try.chosen.steps)
	if err != nil {
		return false
	}
	l, err := try.bed.lay(try.spec.Lay, cells, try.chosen)
	if err != nil {
		return false
	}
	_, crosses := crossing(l.edge)
	return !crosses
}

// peakAlone returns where the peak at an end would lie if nothing were joined
// there.
func (r *run) peakAlone(e End) float64 {
	alone := *r
	alone.place()
	return alone.bed.reach[e].peak
}

// overlapping explains motifs that run into one another, with the largest depth
// that works, and the largest number of repeats below it that does.
func (r *run) overlapping(at path.Point) error {
	low, high := 0.0, r.spec.Depth
	for range 12 {
		if mid := (low + high) / 2; r.works(mid, r.halves) {
			low = mid
		} else {
			high = mid
		}
	}
	hint := "make the motif shallower, leave a flat between, or make the hem less curved"
	if low > 0 {
		hint = fmt.Sprintf("with %g repeats at most %.1f mm deep works", r.repeats(r.halves), math.Floor(low*10)/10)
		for halves, tried := r.halves-1, 0; halves > 0 && tried < mostTried; halves-- {
			if _, ok := r.stations(halves); !ok {
				continue
			}
			if tried++; r.works(r.spec.Depth, halves) {
				n, has := r.repeats(halves), "repeats or fewer have"
				if n == 1 {
					has = "repeat or fewer has"
				}
				hint += fmt.Sprintf("; %g %s room at the depth wanted", n, has)
				break
			}
		}
		if r.spec.Rest != Valleys {
			hint += "; so may valleys that rest on the hem"
		}
	}
	narrow, _ := r.chosen.widths()
	return r.panel.errorf(hint, "repeats %.1f mm wide and %.1f mm deep overlap near (%.0f, %.0f), by about %.1f mm of depth",
		narrow, r.spec.Depth, at.X, at.Y, r.spec.Depth-low)
}
