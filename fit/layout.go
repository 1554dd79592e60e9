package fit

import (
	"fmt"
	"math"

	"engrail/motif"
	"engrail/motif/path"
)

// layout is a garment on its way through the fit.
type layout struct {
	garment Garment
	panels  []*work
}

// work is a panel on its way through the fit.
type work struct {
	panel  Panel
	sides  [2]side
	folded bool
	runs   []*run
}

// newLayout divides the hems in runs and lists the counts of each.
func newLayout(g Garment, spec Spec) (*layout, error) {
	spec, err := spec.complete()
	if err != nil {
		return nil, err
	}
	if len(g.Panels) == 0 {
		return nil, fmt.Errorf("there is no panel to fit")
	}
	l := &layout{garment: g, panels: make([]*work, len(g.Panels))}
	spec.base = spec.deepest()
	for _, p := range g.Panels {
		for i, r := range p.Runs {
			if r.Spec == nil || r.Bare {
				continue
			}
			own, err := r.Spec.complete()
			if err != nil {
				return nil, p.errorf("", "run %d: %v", i+1, err)
			}
			spec.base = max(spec.base, own.deepest())
		}
	}
	for i, p := range g.Panels {
		if l.panels[i], err = newWork(p, spec); err != nil {
			return nil, err
		}
	}
	if err := l.meet(); err != nil {
		return nil, err
	}
	for _, r := range l.runs() {
		if err := r.measure(); err != nil {
			return nil, err
		}
		if r.bare {
			continue
		}
		if err := r.counts(); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// runs returns the runs of all panels.
func (l *layout) runs() (all []*run) {
	for _, w := range l.panels {
		all = append(all, w.runs...)
	}
	return all
}

// at returns the run that ends at the end of a panel's hem.
func (l *layout) at(e EndRef) *run {
	w := l.panels[e.Panel]
	if e.End == Start {
		return w.runs[0]
	}
	return w.runs[len(w.runs)-1]
}

func newWork(p Panel, spec Spec) (*work, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	w := &work{panel: p}
	hem := p.Edges[0].Path
	if !hem.Closed {
		var err error
		if w.sides, err = p.sides(); err != nil {
			return nil, err
		}
		if w.sides[Start].role == FoldEdge && w.sides[Finish].role == FoldEdge {
			return nil, p.errorf("draw half of the panel, from one fold to a seam", "both ends of its hem are folds")
		}
		for _, s := range w.sides {
			w.folded = w.folded || s.role == FoldEdge
		}
	}
	parts, corners := atCorners(hem)
	if n := len(p.Runs); n > 0 && n != len(parts) {
		return nil, p.errorf(fmt.Sprintf("say it for %d", len(parts)), "it says what stands on %d runs of its hem, which has %d", n, len(parts))
	}
	if len(parts) > 1 && p.Count > 0 {
		return nil, p.errorf("give each run its own count", "a count of %d is for a hem without corners, and it has %d runs", p.Count, len(parts))
	}
	if len(parts) > 1 && w.folded {
		return nil, p.errorf("draw the whole panel, not its half", "its hem has a corner and ends on the fold")
	}
	for i, part := range parts {
		r := &run{panel: &w.panel, spec: spec, hem: part, sides: w.sides, count: p.Count, folded: w.folded,
			phases: [2]Phase{p.StartPhase, p.FinishPhase}, plain: [2]float64{p.StartPlain, p.FinishPlain}, closed: part.Closed}
		if len(parts) > 1 {
			r.number = i + 1
		}
		if i < len(p.Runs) {
			o := p.Runs[i]
			if r.bare, r.count = o.Bare, o.Count; o.Spec != nil {
				base := spec.base
				r.spec, _ = o.Spec.complete() // its errors have been told
				r.spec.base, r.spec.Rest, r.spec.Lay = base, spec.Rest, spec.Lay
			}
		}
		for end := range r.sides {
			at := i + end - 1 // of the corner
			if hem.Closed {
				at = (i + end - 1 + len(corners)) % max(1, len(corners))
			}
			if at < 0 || at >= len(corners) {
				continue
			}
			c := corners[at]
			var err error
			if r.sides[end], err = c.side(p, spec.base); err != nil {
				return nil, err
			}
			r.plain[end] = p.CornerPlain
			r.phases[end] = p.CornerPhase
		}
		if r.closed {
			r.phases, r.plain = [2]Phase{Valley, Valley}, [2]float64{}
		}
		for end, s := range r.sides {
			if r.plain[end] > 0 && s.role == FoldEdge {
				return nil, p.errorf("leave it out", "a plain stretch at its %v would lie on the fold", End(end))
			}
			if r.plain[end] > 0 || r.bare && r.phases[end] == AnyPhase {
				r.phases[end] = Plain
			}
		}
		w.runs = append(w.runs, r)
	}
	for i, r := range w.runs {
		for end, phase := range r.phases {
			if !r.bare || phase != Peak {
				continue
			}
			return nil, p.errorf("put valleys on the corners", "run %d has no motif, and its %v would have to be as high as a peak", i+1, End(end))
		}
	}
	return w, nil
}

// corner is a place at which a hem turns.
type corner struct {
	at            path.Point
	before, after path.Vec
}

// atCorners divides a hem at its corners. A closed hem with corners begins at one
// of them; one without is one closed run.
func atCorners(hem path.Path) (parts []path.Path, corners []corner) {
	n := hem.Segments()
	var stops []int // of the segments that begin at a corner
	for i := range n {
		if i == 0 && !hem.Closed {
			continue
		}
		before, after := hem.Segment((i+n-1)%n).EndTangent(), hem.Segment(i).StartTangent()
		if math.Abs(before.AngleTo(after)) > hemCorner {
			stops = append(stops, i)
			corners = append(corners, corner{hem.Segment(i).A, before, after})
		}
	}
	if len(stops) == 0 {
		return []path.Path{hem}, nil
	}
	run := func(from, to int) path.Path {
		var all []path.Segment
		for i := from; i < to; i++ {
			all = append(all, hem.Segment(i%n))
		}
		return path.FromSegments(all...)
	}
	if !hem.Closed {
		stops = append(append([]int{0}, stops...), n)
	} else {
		stops = append(stops, stops[0]+n)
		// The corner at the end of run i is the one that the next starts at.
		corners = append(corners[1:], corners[0])
	}
	for i := range len(stops) - 1 {
		parts = append(parts, run(stops[i], stops[i+1]))
	}
	return parts, corners
}

// side returns the line through the corner that halves its angle, as a side that
// both runs end on.
func (c corner) side(p Panel, base float64) (side, error) {
	inside := math.Pi - c.before.AngleTo(c.after)
	angle := inside / 2
	if !(angle >= sharpest && angle <= bluntest) {
		return side{}, p.errorf("draw it less sharp", "the corner of its hem at (%.0f, %.0f) is one of %.0f degrees; from %.0f to %.0f is possible",
			c.at.X, c.at.Y, degrees(inside), degrees(2*sharpest), degrees(2*bluntest))
	}
	out := c.before.Right().Add(c.after.Right()).Unit()
	slant := 1 / math.Sin(angle)
	in := path.Open(c.at, c.at.Add(out.Mul(-2*slant*base-1)))
	return side{role: OtherEdge, in: path.NewRuler(in), out: out, angle: angle, slant: slant}, nil
}

// meet makes joined ends agree.
func (l *layout) meet() error {
	for i, s := range l.garment.Seams {
		for _, e := range []EndRef{s.A, s.B} {
			if e.Panel < 0 || e.Panel >= len(l.panels) {
				return fmt.Errorf("seam %d joins a panel that does not exist", i+1)
			}
			w := l.panels[e.Panel]
			switch {
			case w.panel.Edges[0].Path.Closed:
				return w.panel.errorf("leave out the seam", "its hem goes round, and has no %v to join", e.End)
			case w.sides[e.End].role == FoldEdge:
				return w.panel.errorf("join another end", "its %v is a fold and cannot be joined in a seam", e.End)
			}
		}
		sa, sb := &l.panels[s.A.Panel].sides[s.A.End], &l.panels[s.B.Panel].sides[s.B.End]
		mean := (sa.slant + sb.slant) / 2
		sa.slant, sb.slant = mean, mean
		l.at(s.A).sides[s.A.End].slant, l.at(s.B).sides[s.B.End].slant = mean, mean
	}
	return l.settlePhases()
}

// settlePhases decides what stands on ends that leave it open: what stands on
// the end joined to them and, but for a panel on the fold, on the run's other
// end; a valley where nothing asks for a peak, and the sequence can begin and end
// with one. A fold stays open: the count decides. A plain stretch asks for nothing.
func (l *layout) settlePhases() error {
	l.spreadPhases()
	// A sequence such as large, small is symmetrical only about its peaks.
	for _, w := range l.panels {
		for _, r := range w.runs {
			if _, ok := motif.Turned(r.spec.units(), false); ok || r.bare {
				continue
			}
			for i, s := range r.sides {
				if s.role != FoldEdge && r.phases[i] == AnyPhase {
					r.phases[i] = Peak
				}
			}
		}
	}
	l.spreadPhases()
	for _, w := range l.panels {
		for _, r := range w.runs {
			for i, s := range r.sides {
				if s.role != FoldEdge && r.phases[i] == AnyPhase {
					r.phases[i] = Valley
				}
			}
		}
		if r := w.runs[0]; !w.folded && len(w.runs) == 1 && (r.phases[Start] == Peak) != (r.phases[Finish] == Peak) {
			return w.panel.errorf("put the same on both ends",
				"a %v at one end and a %v at the other leave half a repeat over", r.phases[Start], r.phases[Finish])
		}
		if err := w.arrangeable(); err != nil {
			return err
		}
	}
	for _, s := range l.garment.Seams {
		a, b := l.at(s.A), l.at(s.B)
		if (a.phases[s.A.End] == Peak) != (b.phases[s.B.End] == Peak) {
			return a.panel.errorf("put the same on both",
				"its %v has a %v, but the end joined to it (%s, %v) has a %v",
				s.A.End, a.phases[s.A.End], b.panel.Name, s.B.End, b.phases[s.B.End])
		}
	}
	return nil
}

// spreadPhases gives ends that leave it open what stands across.
func (l *layout) spreadPhases() {
	for changed := true; changed; {
		changed = false
		same := func(a, b *Phase) {
			if *a == AnyPhase && (*b == Valley || *b == Peak) {
				*a, changed = *b, true
			}
		}
		for _, w := range l.panels {
			if r := w.runs[0]; !w.folded && len(w.runs) == 1 {
				same(&r.phases[Start], &r.phases[Finish])
				same(&r.phases[Finish], &r.phases[Start])
			}
		}
		for _, s := range l.garment.Seams {
			a, b := &l.at(s.A).phases[s.A.End], &l.at(s.B).phases[s.B.End]
			same(a, b)
			same(b, a)
		}
	}
}

// arrangeable refuses sequences that cannot stand on the runs.
func (w *work) arrangeable() error {
	for _, r := range w.runs {
		if r.bare {
			continue
		}
		peak := r.phases[Start] == Peak || r.phases[Finish] == Peak
		outer := r.phases[Start]
		if r.sides[Start].role == FoldEdge && r.folded {
			outer = r.phases[Finish]
		}
		units := r.spec.units()
		turned, ok := motif.Turned(units, outer == Peak)
		switch {
		case !ok && len(units) == 1, ok && peak && !turned[0].Shape.Symmetrical():
			return r.panel.errorf("put valleys on the ends", "a motif that leans or is not symmetrical cannot stand with its peak on an end")
		case !ok && !peak:
			if _, ok := motif.Turned(units, true); ok {
				return r.panel.errorf("put peaks on the ends", "its sequence of %d motifs is symmetrical about a peak only, so that it cannot begin and end with valleys", len(units))
			}
			fallthrough
		case !ok:
			return r.panel.errorf("write it so that it reads the same from both sides, such as large, small, small, which goes on large, small, small, large",
				"its sequence of %d motifs is not symmetrical about any place, so that it cannot begin and end alike", len(units))
		case len(units) > 1 && !r.folded && (r.phases[Start] == Peak) != (r.phases[Finish] == Peak):
			return r.panel.errorf("put the same on both ends", "a sequence of motifs takes the same on both ends of a run: here a %v and a %v", r.phases[Start], r.phases[Finish])
		}
	}
	return nil
}

// lay draws the motifs on all panels, when their counts have been chosen.
func (l *layout) lay() (*Result, error) {
	l.joinWidths()
	for _, w := range l.panels {
		for _, r := range w.runs {
			r.place()
		}
		w.joinCorners()
	}
	for _, s := range l.garment.Seams {
		a, b := &l.at(s.A).bed.reach[s.A.End], &l.at(s.B).bed.reach[s.B.End]
		mean := (a.peak + b.peak) / 2
		a.peak, b.peak = mean, mean
	}
	r := &Result{}
	for _, w := range l.panels {
		f, err := w.lay()
		if err != nil {
			return nil, err
		}
		r.Panels = append(r.Panels, f)
	}
	r.compare(l.garment)
	return r, nil
}

// joinWidths gives the two halves of a motif that stands with its peak on a seam
// or a corner one width, the mean of the two panels', which the next motifs ease
// out.
func (l *layout) joinWidths() {
	eased := map[*run]bool{}
	join := func(a, b *run, ea, eb End) {
		if a == b && ea == eb || a.bare || b.bare || a.phases[ea] != Peak || b.phases[eb] != Peak {
			return
		}
		wa, wb := a.endWidth(ea), b.endWidth(eb)
		if math.Abs(wa-wb) < sameWidth {
			return
		}
		mean := (wa + wb) / 2
		a.joint[ea], b.joint[eb] = mean, mean
		eased[a], eased[b] = true, true
	}
	for _, s := range l.garment.Seams {
		join(l.at(s.A), l.at(s.B), s.A.End, s.B.End)
	}
	for _, w := range l.panels {
		n := len(w.runs)
		for i, r := range w.runs {
			if next := w.runs[(i+1)%n]; n > 1 && (i < n-1 || w.panel.Edges[0].Path.Closed) {
				join(r, next, Finish, Start)
			}
		}
	}
	for _, r := range l.runs() {
		if !eased[r] {
			continue
		}
		if s, ok := r.stations(r.halves); ok {
			r.chosen = s
		} else {
			r.joint = [2]float64{}
		}
	}
}

// endWidth returns the width of the motif at an end.
func (r *run) endWidth(e End) float64 {
	s := r.chosen.steps
	return s[int(e)*(len(s)-1)].width(r.chosen.width)
}

// joinCorners makes the runs beside a corner agree on the height of its peak.
func (w *work) joinCorners() {
	n := len(w.runs)
	for i, r := range w.runs {
		if n == 1 || i == n-1 && !w.panel.Edges[0].Path.Closed {
			continue
		}
		a, b := &r.bed.reach[Finish], &w.runs[(i+1)%n].bed.reach[Start]
		mean := (a.peak + b.peak) / 2
		a.peak, b.peak = mean, mean
	}
}

// lay draws the motifs on the panel.
func (w *work) lay() (Fitted, error) {
	first, last := w.runs[0], w.runs[len(w.runs)-1]
	f := Fitted{
		Panel: w.panel, Spec: first.spec, Phases: [2]Phase{first.phases[Start], last.phases[Finish]},
		sides: w.sides, closed: w.panel.Edges[0].Path.Closed,
	}
	var edges, valleys []path.Path
	repeats := 0.0
	for _, r := range w.runs {
		l, err := r.drawn()
		if err != nil {
			return Fitted{}, err
		}
		edges, valleys = append(edges, l.edge), append(valleys, r.valley)
		f.Valleys, f.Peaks = join(f.Valleys, l.valleys), join(f.Peaks, l.peaks)
		f.Marks = append(f.Marks, l.marks...)
		run := Run{Spec: r.spec, Phases: r.phases}
		if !r.bare {
			run.Repeats = r.repeats(r.halves)
			run.Motifs = run.Repeats * float64(len(r.spec.units()))
			run.Width = r.chosen.width
			run.AtValleys, run.AtPeaks = distances(l.valleys), distances(l.peaks)
			run.Neck, run.Mouth = l.neck, l.mouth
			if run.Mouth > 0 {
				run.Mouth = max(0.1, run.Mouth-max(0, run.AtValleys[0]-run.AtPeaks[0]))
			}
			if low, high := run.AtValleys[0], run.AtPeaks[0]; low > 0 && high < low {
				run.Neck *= high / low // squeezed on a hollow hem
			}
			if f.Width == 0 {
				f.Width, f.Spec = run.Width, r.spec
			}
		}
		repeats += run.Repeats
		f.Runs = append(f.Runs, run)
	}
	f.Repeats = int(math.Round(repeats))
	f.Edge, f.Valley = path.Join(JoinGap, edges...), path.Join(JoinGap, valleys...)
	if len(w.runs) == 1 {
		f.Edge, f.Valley = edges[0], valleys[0]
		f.trim(first.bed.reach[Start], first.bed.reach[Finish])
		return f, nil
	}
	if f.closed {
		f.Edge, f.Valley = f.Edge.Close(JoinGap), f.Valley.Close(JoinGap)
		f.Valleys, f.Peaks = round(f.Valleys), round(f.Peaks)
	}
	if at, ok := crossing(f.Edge); ok {
		return f, w.panel.errorf("put valleys on the corners, leave a plain stretch beside them, or make the motif shallower",
			"the motifs of two runs of its hem overlap at a corner near (%.0f, %.0f)", at.X, at.Y)
	}
	f.trim(first.bed.reach[Start], last.bed.reach[Finish])
	return f, nil
}

// distances returns the least and the greatest distance from one place to the next.
func distances(places []Place) (d [2]float64) {
	for i := 1; i < len(places); i++ {
		l := places[i].Point.Dist(places[i-1].Point)
		if i == 1 {
			d = [2]float64{l, l}
		}
		d = [2]float64{min(d[0], l), max(d[1], l)}
	}
	return d
}

// join returns the places of two runs, one that both have once.
func join(a, b []Place) []Place {
	if n := len(a); n > 0 && len(b) > 0 && a[n-1].Point.Dist(b[0].Point) < JoinGap {
		b = b[1:]
	}
	return append(a, b...)
}

// round returns the places of a hem that goes round, without the first one again.
func round(all []Place) []Place {
	if n := len(all); n > 1 && all[0].Point.Dist(all[n-1].Point) < JoinGap {
		all = all[:n-1]
	}
	return all
}

// trim makes the net outline: the sides end where the shaped hem does.
func (f *Fitted) trim(start, finish reach) {
	f.Net = append([]Edge(nil), f.Panel.Edges...)
	f.Net[0].Path = f.Edge
	if f.closed {
		f.Notches = f.Panel.Notches
		return
	}
	last := len(f.Net) - 1
	reaches := [2]float64{start.valley, finish.valley}
	for i, r := range [2]reach{start, finish} {
		if f.Phases[i] == Peak {
			reaches[i] = r.peak
		}
		k := 1
		if End(i) == Start {
			k = last
		}
		side := f.sides[i].in.Path()
		if r := reaches[i]; r > 0 {
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
			n.At += reaches[Finish]
		}
		f.Notches = append(f.Notches, n)
	}
}
