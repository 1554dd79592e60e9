package fit

import (
	"fmt"
	"math"

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
	// Shape is the motif. Sequence are several in place of it, which are repeated
	// in this order and together count as one repeat.
	Shape    motif.Shape
	Sequence []motif.Unit
	Depth    float64
	// Width is the wanted width of a motif; Least and Most bound it. Where both
	// are zero, widths keep within a tenth of the wanted one on every panel that
	// has such a count; one that has none takes its nearest, from 4/5 to 5/4 of
	// the wanted width. They are widths of a motif of ratio 1, where nothing has
	// grown.
	Width, Least, Most float64
	Lay                Lay
	Rest               Rest
	Growth             Growth

	free bool    // no bounds were given
	base float64 // the greatest depth on the garment, on which the valley line goes by
}

// Growth is how motifs grow along a hem, by equal steps from one to the next.
type Growth struct {
	// Width and Depth are the factors where they are strongest, 0 for none.
	Width, Depth float64
	// At is that place as a ratio of the hem from its start, from 0 to 1. There is
	// no growth at the ends other than one that is the place itself.
	At float64
}

// factors returns the growth of width and depth at the ratio t of the hem.
func (g Growth) factors(t float64) (width, depth float64) {
	share := 1 - math.Abs(t-g.At)
	switch {
	case t < g.At:
		share = t / g.At
	case t > g.At:
		share = (1 - t) / (1 - g.At)
	}
	width, depth = 1, 1
	if g.Width > 0 {
		width += (g.Width - 1) * share
	}
	if g.Depth > 0 {
		depth += (g.Depth - 1) * share
	}
	return width, depth
}

// units returns the sequence.
func (s Spec) units() []motif.Unit {
	if len(s.Sequence) > 0 {
		return s.Sequence
	}
	return []motif.Unit{{Shape: s.Shape}}
}

// deepest returns the depth of the deepest motif.
func (s Spec) deepest() float64 {
	most := 0.0
	for _, u := range s.units() {
		_, d := u.Ratios()
		most = max(most, d)
	}
	return s.Depth * most * max(1, s.Growth.Depth)
}

// valleyHeight is the height of the valley line beside the hem line.
func (s Spec) valleyHeight() float64 {
	switch s.Rest {
	case Peaks:
		return -s.base
	case Middle:
		return -s.base / 2
	}
	return 0
}

// Fitted is a panel with the motif on its hem.
type Fitted struct {
	// Panel is the panel as drafted.
	Panel Panel
	// Spec is the motif's, with its bounds filled in.
	Spec Spec
	// Runs are the stretches of the hem between its corners, in order: one, when
	// it has none.
	Runs []Run
	// Repeats is the whole number of repeats of the unfolded panel, on all runs;
	// Width is the width of a motif on the first run that has some, as chord
	// (rigid) or along the valley line (bent).
	Repeats int
	Width   float64
	// Phases are what stands on the hem's start and finish: Valley, Peak or Plain.
	Phases [2]Phase
	// Valley is the valley line, Edge the shaped hem; both run from the start to
	// the finish, and are closed when the hem is.
	Valley, Edge path.Path
	// Valleys and Peaks are in order along the edge, those on an end included.
	Valleys, Peaks []Place
	// Marks are the closed lines inside of the motifs.
	Marks []path.Path
	// Net are the panel's edges with the shaped hem in place of the hem and
	// the sides beside it cut off or led on to meet it.
	Net []Edge
	// Notches are the panel's notches, placed on Net.
	Notches []Notch
	sides   [2]side
	closed  bool
}

// Run is a stretch of a hem between two corners or ends.
type Run struct {
	// Spec is its motif.
	Spec Spec
	// Repeats is its number of repeats, of the unfolded panel; half a repeat counts
	// at a corner with a peak. It is 0 on a stretch without a motif. Motifs is the
	// number of motifs in them, and Width that of one of ratio 1 where nothing has
	// grown.
	Repeats, Motifs float64
	Width           float64
	// Phases are what stands on its ends.
	Phases [2]Phase
	// AtValleys and AtPeaks are the least and the greatest straight distance, in mm,
	// from a valley to the next one and from a peak to the next: on a curved hem the
	// motif is wider on the one line than on the other.
	AtValleys, AtPeaks [2]float64
	// Neck is the width of the narrowest motif at its neck, 0 of motifs that are widest
	// at their foot.
	Neck float64
	// Mouth is the narrowest opening between two motifs that is wider further in, 0
	// where there is none.
	Mouth float64
}

// Level returns the line at the height y beside the hem line (outward
// positive), from side to side: open, from start to finish. Its ends agree
// with the same line of the panels joined there. The error says that the hem
// is too curved for it, or the side too short.
func (f Fitted) Level(y float64) (path.Path, error) {
	if f.closed {
		line, err := closedLevel(f.Panel.Edges[0].Path, y)
		if err != nil {
			return path.Path{}, f.Panel.because(err)
		}
		return line, nil
	}
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
	if f.closed {
		return room
	}
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
	Panels []Fitted
	// Choice is which counts were chosen, and why.
	Choice   *Choice
	Seams    []SeamReport
	Warnings []Warning
}

// Fit lays the motif on every panel of the garment: the counts are chosen over
// all panels together, see the package comment. An [*Error] says which panel
// fails, by how much, and what would work.
func Fit(g Garment, spec Spec) (*Result, error) {
	l, err := newLayout(g, spec)
	if err != nil {
		return nil, err
	}
	var runs []*run
	for _, r := range l.runs() {
		if !r.bare {
			runs = append(runs, r)
		}
	}
	choice := decide(runs)
	r, err := l.lay()
	if err != nil {
		return nil, err
	}
	r.Choice = choice
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
	for i, u := range s.units() {
		for _, r := range [2]float64{u.Width, u.Depth} {
			if r != 0 && !(r >= leastRatio && r <= 1/leastRatio) {
				return fail("motif %d of the sequence is %g times as large as wanted; give a ratio from %g to %g", i+1, r, leastRatio, 1/leastRatio)
			}
		}
	}
	for _, r := range [2]float64{s.Growth.Width, s.Growth.Depth} {
		if r != 0 && !(r >= leastRatio && r <= 1/leastRatio) {
			return fail("it grows %g times as large; give a factor from %g to %g", r, leastRatio, 1/leastRatio)
		}
	}
	if !(s.Growth.At >= 0 && s.Growth.At <= 1) {
		return fail("growth is strongest at %g of the hem; give a place from 0, its start, to 1", s.Growth.At)
	}
	return s, nil
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

// compare reports the seams and warns of what does not look right.
func (r *Result) compare(g Garment) {
	for _, f := range r.Panels {
		if f.closed {
			continue
		}
		for e, s := range f.sides {
			if over := f.across(End(e)); s.role == SeamEdge && over > JoinGap {
				r.Warnings = append(r.Warnings, Warning{Code: "motif-across-seam",
					Message: fmt.Sprintf("the first repeat reaches %.1f mm across the line of the seam, so that it will lie on its neighbour; draw the hem square to the seam or make the motif shallower", over),
					Where:   fmt.Sprintf("%s %v", f.Panel.Name, End(e))})
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
		warn := func(l Level, code, format string, args ...any) {
			r.Warnings = append(r.Warnings, Warning{Code: code, Level: l, Message: fmt.Sprintf(format, args...), Where: where})
		}
		switch d := math.Abs(la - lb); {
		case d > toleratedSeams:
			warn(LevelWarning, "truing-error", "the joined seam lines differ by %.1f mm, and no more than %.1f mm can be tolerated; true them before cutting", d, toleratedSeams)
		case d > trueSeams:
			warn(LevelNote, "seam-lengths", "the joined seam lines differ by %.1f mm; true them before cutting (up to %.1f mm is eased in)", d, trueSeams)
		}
		if math.Abs(report.HemTurn) > VisibleTurn {
			warn(LevelWarning, "hem-turn", "the hem turns by %.1f degrees where it crosses the seam; true the hem to run smoothly across it", degrees(report.HemTurn))
		}
		if wide, narrow := max(a.Width, b.Width), min(a.Width, b.Width); wide/narrow-1 > VisibleWidths {
			warn(LevelWarning, "repeat-widths", "repeats %.1f mm wide beside repeats %.1f mm wide are seen to differ; try another width or wider limits", wide, narrow)
		}
	}
}
