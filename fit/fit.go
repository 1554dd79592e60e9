package fit

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"engrail/motif"
	"engrail/motif/path"
)

// Lay says how repeats follow a curved hem.
type Lay uint8

// The ways to lay a motif.
const (
	// Rigid repeats keep their shape: they stand on equal chords, stepped
	// along the valley line as with a pair of compasses.
	Rigid Lay = iota
	// Bent repeats follow the curve: they are equal in length along the
	// valley line.
	Bent
)

// String returns the name in lower case.
func (l Lay) String() string {
	if l == Bent {
		return "bent"
	}
	return "rigid"
}

// Rest says which line of the motif lies on the drafted hem line.
type Rest uint8

// The lines of a motif that can rest on the hem.
const (
	// Valleys rest on the hem: the garment grows by the depth.
	Valleys Rest = iota
	// Peaks rest on the hem: the motif is cut into the garment.
	Peaks
	// Middle rests half of the depth on each side.
	Middle
)

// String returns the name in lower case.
func (r Rest) String() string {
	switch r {
	case Peaks:
		return "peaks"
	case Middle:
		return "middle"
	}
	return "valleys"
}

// Spec is the motif that is wanted and how it is to be laid. Lengths are mm.
type Spec struct {
	Shape motif.Shape
	Depth float64
	// Width is the wanted width of a repeat; Least and Most bound it. Where both
	// are zero, widths keep within a tenth of the wanted one on every panel that
	// has such a count; one that has none takes its nearest, from 4/5 to 5/4 of
	// the wanted width.
	Width, Least, Most float64
	Lay                Lay
	Rest               Rest

	free bool // no bounds were given
}

// valleyHeight is the height of the valley line beside the hem line.
func (s Spec) valleyHeight() float64 {
	switch s.Rest {
	case Peaks:
		return -s.Depth
	case Middle:
		return -s.Depth / 2
	}
	return 0
}

// Fitted is a panel with the motif on its hem.
type Fitted struct {
	// Panel is the panel as drafted.
	Panel Panel
	// Spec is the motif's, with its bounds filled in.
	Spec Spec
	// Repeats is the whole number of repeats of the unfolded panel; Width is
	// the width of each, as chord (rigid) or along the valley line (bent).
	Repeats int
	Width   float64
	// Phases are what stands on the hem's start and finish: Valley or Peak.
	Phases [2]Phase
	// Valley is the valley line, Edge the shaped hem; both are open and run
	// from the start to the finish.
	Valley, Edge path.Path
	// Valleys and Peaks are in order along the edge, those on an end included.
	Valleys, Peaks []Place
	// Net are the panel's edges with the shaped hem in place of the hem and
	// the sides beside it cut off or led on to meet it.
	Net []Edge
	// Notches are the panel's notches, placed on Net.
	Notches []Notch
	sides   [2]side
}

// Level returns the line at the height y beside the hem line (outward
// positive), from side to side: open, from start to finish. Its ends agree
// with the same line of the panels joined there. The error says that the hem
// is too curved for it, or the side too short.
func (f Fitted) Level(y float64) (path.Path, error) {
	if room := f.Room(); -y > room {
		return path.Path{}, f.Panel.errorf("", "a line %.1f mm above the hem leaves the panel, whose sides reach %.1f mm", -y, room)
	}
	line, err := level(f.Panel.Edges[0].Path, f.sides, y)
	if err != nil {
		return path.Path{}, f.Panel.because(err)
	}
	return line, nil
}

// Room returns how far above the hem line both sides reach, in mm.
func (f Fitted) Room() float64 {
	room := math.Inf(1)
	for _, s := range f.sides {
		room = min(room, s.in.Length()/s.slant)
	}
	return room
}

// ValleyHeight returns the height of the valley line beside the hem line, in
// mm: 0 or negative.
func (f Fitted) ValleyHeight() float64 { return f.Spec.valleyHeight() }

// SideAngle returns the angle inside the panel between hem and side at an end.
func (f Fitted) SideAngle(e End) float64 { return f.sides[e].angle }

// SeamReport compares the two edges that a seam joins.
type SeamReport struct {
	Seam Seam
	// ALength and BLength are the lengths of the two side edges, from their
	// far end to the shaped hem.
	ALength, BLength float64
	// HemTurn is the angle by which the hem turns where it crosses the seam, 0
	// when it runs on smoothly, positive when it is hollow there.
	HemTurn float64
}

// Result is a garment with the motif laid on every panel.
type Result struct {
	Panels   []Fitted
	Seams    []SeamReport
	Warnings []Warning
}

// work is a panel on its way through the fit.
type work struct {
	panel   Panel
	spec    Spec
	sides   [2]side
	valley  path.Path
	ruler   *path.Ruler
	phases  [2]Phase
	ends    [2]terminal
	folded  bool
	options []option
	made    []stations // of each option
	chosen  stations
	halves  int
	bed     bed
}

// Fit lays the motif on every panel of the garment: the counts are chosen over
// all panels together, see the package comment. An [*Error] says which panel
// fails, by how much, and what would work.
func Fit(g Garment, spec Spec) (*Result, error) {
	spec, err := spec.complete()
	if err != nil {
		return nil, err
	}
	if len(g.Panels) == 0 {
		return nil, errors.New("there is no panel to fit")
	}
	panels := make([]*work, len(g.Panels))
	for i, p := range g.Panels {
		if panels[i], err = newWork(p, spec); err != nil {
			return nil, err
		}
	}
	if err := meet(g, panels); err != nil {
		return nil, err
	}
	for _, w := range panels {
		if err := w.measure(); err != nil {
			return nil, err
		}
		if err := w.count(); err != nil {
			return nil, err
		}
	}
	options := make([][]option, len(panels))
	for i, w := range panels {
		options[i] = w.options
	}
	for i, k := range choose(options, spec.Width) {
		panels[i].chosen, panels[i].halves = panels[i].made[k], panels[i].options[k].halves
	}

	for _, w := range panels {
		w.place()
	}
	for _, s := range g.Seams {
		a, b := &panels[s.A.Panel].bed.reach[s.A.End], &panels[s.B.Panel].bed.reach[s.B.End]
		mean := (a.peak + b.peak) / 2
		a.peak, b.peak = mean, mean
	}
	r := &Result{}
	for _, w := range panels {
		f, err := w.lay()
		if err != nil {
			return nil, err
		}
		r.Panels = append(r.Panels, f)
	}
	r.compare(g)
	return r, nil
}

// complete fills in the bounds and refuses measures that make no sense.
func (s Spec) complete() (Spec, error) {
	fail := func(format string, args ...any) (Spec, error) {
		return s, fmt.Errorf("motif: "+format, args...)
	}
	if !(s.Width > 0) || math.IsInf(s.Width, 0) {
		return fail("the wanted width is %g mm; give a positive one", s.Width)
	}
	if !(s.Depth > 0) || math.IsInf(s.Depth, 0) {
		return fail("the depth is %g mm; give a positive one", s.Depth)
	}
	s.free = s.Least == 0 && s.Most == 0
	if s.Least == 0 {
		s.Least = s.Width * 4 / 5
	}
	if s.Most == 0 {
		s.Most = s.Width * 5 / 4
	}
	if !(s.Least > 0 && s.Least <= s.Most) {
		return fail("repeats from %g to %g mm wide are wanted; give the smaller width first", s.Least, s.Most)
	}
	return s, nil
}

func newWork(p Panel, spec Spec) (*work, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	sides, err := p.sides()
	if err != nil {
		return nil, err
	}
	w := &work{panel: p, spec: spec, sides: sides, phases: [2]Phase{p.StartPhase, p.FinishPhase}}
	if sides[Start].role == FoldEdge && sides[Finish].role == FoldEdge {
		return nil, p.errorf("draw half of the panel, from one fold to a seam", "both ends of its hem are folds")
	}
	for _, s := range sides {
		w.folded = w.folded || s.role == FoldEdge
	}
	return w, nil
}

// meet makes joined ends agree.
func meet(g Garment, panels []*work) error {
	for i, s := range g.Seams {
		for _, e := range []EndRef{s.A, s.B} {
			if e.Panel < 0 || e.Panel >= len(panels) {
				return fmt.Errorf("seam %d joins a panel that does not exist", i+1)
			}
			if panels[e.Panel].sides[e.End].role == FoldEdge {
				return panels[e.Panel].panel.errorf("join another end", "its %v is a fold and cannot be joined in a seam", e.End)
			}
		}
		sa, sb := &panels[s.A.Panel].sides[s.A.End], &panels[s.B.Panel].sides[s.B.End]
		mean := (sa.slant + sb.slant) / 2
		sa.slant, sb.slant = mean, mean
	}
	return settlePhases(g, panels)
}

// settlePhases decides what stands on ends that leave it open: what stands on
// the end joined to them and, but for a panel on the fold, on the hem's other
// end; a valley where nothing asks for a peak. A fold stays open: the count
// decides.
func settlePhases(g Garment, panels []*work) error {
	for changed := true; changed; {
		changed = false
		same := func(a, b *Phase) {
			if *a == AnyPhase && *b != AnyPhase {
				*a, changed = *b, true
			}
		}
		for _, w := range panels {
			if !w.folded {
				same(&w.phases[Start], &w.phases[Finish])
				same(&w.phases[Finish], &w.phases[Start])
			}
		}
		for _, s := range g.Seams {
			a, b := &panels[s.A.Panel].phases[s.A.End], &panels[s.B.Panel].phases[s.B.End]
			same(a, b)
			same(b, a)
		}
	}
	for _, w := range panels {
		for i, s := range w.sides {
			if s.role != FoldEdge && w.phases[i] == AnyPhase {
				w.phases[i] = Valley
			}
		}
		if !w.folded && w.phases[Start] != w.phases[Finish] {
			return w.panel.errorf("put the same on both ends",
				"a %v at one end and a %v at the other leave half a repeat over", w.phases[Start], w.phases[Finish])
		}
	}
	for _, s := range g.Seams {
		a, b := panels[s.A.Panel], panels[s.B.Panel]
		if a.phases[s.A.End] != b.phases[s.B.End] {
			return a.panel.errorf("put the same on both",
				"its %v has a %v, but the end joined to it (%s, %v) has a %v",
				s.A.End, a.phases[s.A.End], b.panel.Name, s.B.End, b.phases[s.B.End])
		}
	}
	return nil
}

// measure finds the valley line and its ends.
func (w *work) measure() error {
	hem := w.panel.Edges[0].Path
	y := w.spec.valleyHeight()
	line, err := level(hem, w.sides, y)
	if err != nil {
		radius, along := tightest(path.NewRuler(hem), 1)
		hint := "make the motif shallower, or let the valleys rest on the hem"
		if radius > -y {
			return &Error{Panel: w.panel.title(), Cause: err, Hint: hint}
		}
		return w.panel.errorf(hint,
			"the valleys would lie %.1f mm inside the hem, but it turns on a radius of %.1f mm, %.0f mm from its start: %.1f mm too deep",
			-y, radius, along, -y-radius)
	}
	w.valley, w.ruler = line, path.NewRuler(line)
	for i, s := range w.sides {
		if reach := -y * s.slant; reach >= s.in.Length() {
			return w.panel.errorf("make the motif shallower, or let the valleys rest on the hem",
				"the valleys would lie %.1f mm up its side, which is %.1f mm long", reach, s.in.Length())
		}
		t := terminal{at: w.sides[i].at(s.slant * y), side: s.out}
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
		w.ends[i] = t
	}
	return nil
}

// phasesFor returns what stands on the ends with that many half repeats on the
// hem, and whether that is possible.
func (w *work) phasesFor(halves int) (phases [2]Phase, ok bool) {
	phases = w.phases
	if !w.folded {
		return phases, halves%2 == 0
	}
	for i, s := range w.sides {
		if s.role != FoldEdge {
			continue
		}
		across := phases[1-i]
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

// stations sets the valleys for a number of half repeats.
func (w *work) stations(halves int) (stations, bool) {
	phases, ok := w.phasesFor(halves)
	if !ok || halves < 1 {
		return stations{}, false
	}
	if w.spec.Lay == Bent {
		return walk(w.ruler.Length(), halves, phases[Start]), true
	}
	return newStepper(w.valley, phases[Start], phases[Finish], w.ends).step(halves)
}

// repeats returns the number of repeats of the unfolded panel.
func (w *work) repeats(halves int) int {
	if w.folded {
		return halves
	}
	return halves / 2
}

// count lists the counts that the panel can have.
func (w *work) count() error {
	perRepeat := 2
	if w.folded {
		perRepeat = 1
	}
	if n := w.panel.Count; n > 0 {
		halves := n * perRepeat
		if n > maxRepeats {
			return w.panel.errorf(fmt.Sprintf("give at most %d", maxRepeats), "%d repeats are too many", n)
		}
		if _, ok := w.phasesFor(halves); !ok {
			return w.panel.errorf("give one more or one fewer, or leave the fold free",
				"%d repeats cannot have a %v on its fold", n, w.foldPhase())
		}
		s, ok := w.stations(halves)
		if !ok {
			return w.panel.errorf("give more repeats, or bend them along the hem", "%d rigid repeats cannot be stepped along so curved a hem", n)
		}
		w.options, w.made = []option{{halves, s.width}}, []stations{s}
		return nil
	}

	// Half repeats from the pitch along the valley line; a chord is a little
	// shorter than its arc, so that the list starts a little beyond.
	length := 2 * w.ruler.Length()
	if length/w.spec.Least > 2*maxRepeats {
		return w.panel.errorf("make the motif wider", "more than %d repeats of %.4g mm, the least width, would fit its hem", maxRepeats, w.spec.Least)
	}
	wanted := length / w.spec.Width
	first := max(1, int(math.Floor(min(length/w.spec.Most, wanted)))-2)
	last := max(first+3, int(math.Ceil(length/w.spec.Least))+2)
	// A long hem has very many counts; those nearest the wanted width do.
	first = max(first, int(wanted)-maxOptions)
	last = min(last, int(wanted)+maxOptions)
	var near []string
	for halves := first; halves <= last; halves++ {
		s, ok := w.stations(halves)
		if !ok {
			continue
		}
		if s.width >= w.spec.Least-stepPrecision && s.width <= w.spec.Most+stepPrecision {
			w.options = append(w.options, option{halves, s.width})
			w.made = append(w.made, s)
		} else if len(near) < 3 {
			near = append(near, fmt.Sprintf("%d of %.1f mm", w.repeats(halves), s.width))
		}
	}
	if len(w.options) > 0 {
		if w.spec.free {
			w.keepNear()
		}
		return nil
	}
	hem := w.ruler.Length()
	if w.folded {
		hem *= 2
	}
	hint := "make the motif narrower or wider, or its limits wider"
	if len(near) > 0 {
		hint = "what fits: " + strings.Join(near, ", ")
	}
	if w.spec.Least > hem {
		return w.panel.errorf(hint, "the motif is wider than the hem: repeats of at least %.1f mm are wanted and the hem is %.1f mm long, %.1f mm too short",
			w.spec.Least, hem, w.spec.Least-hem)
	}
	return w.panel.errorf(hint, "no whole number of repeats from %.1f to %.1f mm wide fits its hem of %.1f mm",
		w.spec.Least, w.spec.Most, hem)
}

// keepNear keeps the options within a tenth of the wanted width, or the nearest
// one when there is none.
func (w *work) keepNear() {
	off := func(o option) float64 { return math.Abs(o.width - w.spec.Width) }
	nearest := math.Inf(1)
	for _, o := range w.options {
		nearest = min(nearest, off(o))
	}
	limit := max(nearest, w.spec.Width/10) + stepPrecision
	kept := 0
	for i, o := range w.options {
		if off(o) <= limit {
			w.options[kept], w.made[kept] = o, w.made[i]
			kept++
		}
	}
	w.options, w.made = w.options[:kept], w.made[:kept]
}

func (w *work) foldPhase() Phase {
	for i, s := range w.sides {
		if s.role == FoldEdge {
			return w.phases[i]
		}
	}
	return AnyPhase
}

// place fixes where valley line and peaks meet the sides.
func (w *work) place() {
	w.phases, _ = w.phasesFor(w.halves)
	w.bed = bed{valley: w.ruler, depth: w.spec.Depth, phases: w.phases, sides: w.sides, ends: w.ends}
	y := w.spec.valleyHeight()
	for i, s := range w.sides {
		r := &w.bed.reach[i]
		r.valley = s.slant * y
		r.peak = s.slant * (y + w.spec.Depth)
		if w.spec.Lay == Rigid && w.phases[i] == Peak {
			valley := w.chosen.along[0]
			if End(i) == Finish {
				valley = w.chosen.along[len(w.chosen.along)-1]
			}
			r.peak = w.bed.footReach(End(i), w.ruler.At(valley)) + s.slant*w.spec.Depth
		}
	}
}

// lay draws the motif on the panel.
func (w *work) lay() (Fitted, error) {
	l, err := w.draw()
	if err != nil {
		var own *Error
		if errors.As(err, &own) {
			return Fitted{}, err
		}
		return Fitted{}, w.panel.because(err)
	}
	f := Fitted{
		Panel: w.panel, Spec: w.spec, Repeats: w.repeats(w.halves), Width: w.chosen.width, Phases: w.phases,
		Valley: w.valley, Edge: l.edge, Valleys: l.valleys, Peaks: l.peaks,
		sides: w.sides,
	}
	return f, f.trim(w.bed)
}

// draw lays the cell and makes sure that the repeats leave room for one
// another.
func (w *work) draw() (laid, error) {
	cell, err := w.spec.Shape.Cell(w.chosen.width, w.spec.Depth)
	if err != nil {
		var limit *motif.LimitError
		if errors.As(err, &limit) && w.spec.Shape.MaxDepth(w.chosen.width) < w.spec.Depth {
			if n := w.most(); n > 0 && n < w.repeats(w.halves) {
				limit.Hint += fmt.Sprintf("; %d repeats or fewer would be wide enough", n)
			}
		}
		return laid{}, err
	}
	if w.spec.Lay == Bent {
		if radius, along := tightest(w.ruler, -1); radius <= w.spec.Depth {
			return laid{}, w.panel.errorf(
				fmt.Sprintf("at most %.1f mm deep would work, or rigid repeats", radius*0.95),
				"%.1f mm deep is %.1f mm more than the radius on which the hem curves inward (%.1f mm, %.0f mm from its start)",
				w.spec.Depth, w.spec.Depth-radius, radius, along)
		}
	}
	l, err := w.drawCell(w.bed, cell)
	if err != nil {
		return laid{}, err
	}
	if at, ok := crossing(l.edge); ok {
		return laid{}, w.overlapping(cell, at)
	}
	return l, nil
}

// crossing returns the first place where the edge crosses itself. The edge of
// a whole circle ends where it starts, which is no crossing.
func crossing(edge path.Path) (path.Point, bool) {
	for _, x := range edge.SelfIntersections() {
		if !(x.Point.Dist(edge.Start()) < JoinGap && x.Point.Dist(edge.End()) < JoinGap) {
			return x.Point, true
		}
	}
	return path.Point{}, false
}

func (w *work) drawCell(b bed, cell motif.Cell) (laid, error) {
	if w.spec.Lay == Bent {
		return b.bend(cell, w.chosen)
	}
	return b.rigid(cell, w.chosen)
}

// most returns the largest number of repeats that are wide enough for the
// depth, 0 when there is none.
func (w *work) most() int {
	least := w.spec.Shape.MinWidth(w.spec.Depth)
	for halves := w.halves; halves > 0; halves-- {
		if s, ok := w.stations(halves); ok && s.width >= least {
			return w.repeats(halves)
		}
	}
	return 0
}

// overlapping explains repeats that run into one another, with the largest
// depth that works.
func (w *work) overlapping(cell motif.Cell, at path.Point) error {
	works := func(depth float64) bool {
		c, err := w.spec.Shape.Cell(cell.Width, depth)
		if err != nil {
			return false
		}
		b := w.bed
		b.depth = depth
		for i, s := range b.sides {
			b.reach[i].peak += s.slant * (depth - w.spec.Depth)
		}
		l, err := w.drawCell(b, c)
		if err != nil {
			return false
		}
		_, crosses := crossing(l.edge)
		return !crosses
	}
	low, high := 0.0, w.spec.Depth
	for range 12 {
		if mid := (low + high) / 2; works(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	hint := "make the motif shallower or the hem less curved"
	if low > 0 {
		hint = fmt.Sprintf("with %d repeats at most %.1f mm deep works", w.repeats(w.halves), math.Floor(low*10)/10)
		if w.spec.Rest != Valleys {
			hint += "; so may valleys that rest on the hem"
		}
	}
	return w.panel.errorf(hint, "repeats %.1f mm wide and %.1f mm deep overlap near (%.0f, %.0f), by about %.1f mm of depth",
		cell.Width, w.spec.Depth, at.X, at.Y, w.spec.Depth-low)
}

// across returns how far the edge reaches beyond the line of the side at an end
// on which a valley stands: that of a deep motif may on a side that leans in.
func (f Fitted) across(e End) float64 {
	if f.Phases[e] != Valley {
		return 0
	}
	side := f.sides[e]
	at, first := f.Edge.Start(), 0
	beyond := 1.0 // the sign of what lies outside of the panel
	if e == Finish {
		at, first, beyond = f.Edge.End(), f.Edge.Segments()-1, -1
	}
	over := 0.0
	for k := range 9 {
		// Closer together towards the end, where the edge may lean over.
		t := float64(k) / 8 * float64(k) / 8
		if e == Finish {
			t = 1 - t
		}
		q := f.Edge.Segment(first).At(t)
		over = max(over, beyond*q.Sub(at).Cross(side.out))
	}
	return over
}

// trim makes the net outline: the sides end where the shaped hem does.
func (f *Fitted) trim(b bed) error {
	f.Net = append([]Edge(nil), f.Panel.Edges...)
	f.Net[0].Path = f.Edge
	last := len(f.Net) - 1
	var reach [2]float64
	for i, phase := range f.Phases {
		reach[i] = b.reach[i].valley
		if phase == Peak {
			reach[i] = b.reach[i].peak
		}
		k := 1
		if End(i) == Start {
			k = last
		}
		side := f.sides[i].in.Path()
		if r := reach[i]; r > 0 {
			side = path.Join(path.Coincident, path.Open(f.sides[i].at(r), side.Start()), side)
		} else if r < 0 {
			side = f.sides[i].in.Sub(-r, f.sides[i].in.Length())
		}
		if End(i) == Start {
			side = side.Reverse()
		}
		f.Net[k].Path = side
	}
	for _, n := range f.Panel.Notches {
		if n.Edge == 1 {
			n.At += reach[Finish]
		}
		f.Notches = append(f.Notches, n)
	}
	return nil
}

// compare reports the seams and warns of what does not look right.
func (r *Result) compare(g Garment) {
	for _, f := range r.Panels {
		for e, s := range f.sides {
			if over := f.across(End(e)); s.role == SeamEdge && over > JoinGap {
				r.Warnings = append(r.Warnings, Warning{"motif-across-seam",
					fmt.Sprintf("the first repeat reaches %.1f mm across the line of the seam, so that it will lie on its neighbour; draw the hem square to the seam or make the motif shallower", over),
					fmt.Sprintf("%s %v", f.Panel.Name, End(e))})
			}
		}
	}
	sideOf := func(e EndRef) (Fitted, float64) {
		f := r.Panels[e.Panel]
		k := 1
		if e.End == Start {
			k = len(f.Net) - 1
		}
		return f, f.Net[k].Path.Length()
	}
	for _, s := range g.Seams {
		a, la := sideOf(s.A)
		b, lb := sideOf(s.B)
		report := SeamReport{Seam: s, ALength: la, BLength: lb,
			HemTurn: a.SideAngle(s.A.End) + b.SideAngle(s.B.End) - math.Pi}
		r.Seams = append(r.Seams, report)
		where := fmt.Sprintf("%s %v, %s %v", a.Panel.Name, s.A.End, b.Panel.Name, s.B.End)
		warn := func(code, format string, args ...any) {
			r.Warnings = append(r.Warnings, Warning{code, fmt.Sprintf(format, args...), where})
		}
		if d := math.Abs(la - lb); d > trueSeams {
			warn("seam-lengths", "the joined seam lines differ by %.1f mm; true them before cutting (up to %.1f mm is eased in)", d, trueSeams)
		}
		if math.Abs(report.HemTurn) > visibleTurn {
			warn("hem-turn", "the hem turns by %.1f degrees where it crosses the seam; true the hem to run smoothly across it", degrees(report.HemTurn))
		}
		if wide, narrow := max(a.Width, b.Width), min(a.Width, b.Width); wide/narrow-1 > visibleWidths {
			warn("repeat-widths", "repeats %.1f mm wide beside repeats %.1f mm wide are seen to differ; try another width or wider limits", wide, narrow)
		}
	}
}
