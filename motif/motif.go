package motif

import (
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
)

// Kind names a shape.
type Kind uint8

// The shapes. Each is drawn between the flats that the cell's width leaves, which
// are its run on both sides, to the cell's depth.
const (
	// Scallop is a circular segment, at most a semicircle, with its chord on
	// the base line.
	Scallop Kind = iota
	// Point is a triangle.
	Point
	// Wave is two arcs a side that run smoothly into one another, level at
	// valley and peak.
	Wave
	// Engrailed is the scallop turned over: hollow arcs with their points outward.
	Engrailed
	// Bulb is a circular segment beyond the semicircle, wider than its foot.
	Bulb
	// Elliptical is half of an ellipse, upright at its foot.
	Elliptical
	// Petal is a pointed arch: one arc a side that leaves its foot half as steep
	// again as its chord, at most upright, to a pointed tip.
	Petal
	// Ogee is two arcs a side, alike and smoothly joined in the middle: round at the
	// foot, which they leave 1.6 times as steep as the chord, at most upright, and
	// hollow at the pointed tip.
	Ogee
	// Bracket is an upright quarter circle of two thirds of the depth a side, a level
	// shoulder, and a hollow quarter circle to a small point.
	Bracket
	// Tab is a rectangle, as in embattled: half of the width unless flat or blunt
	// tip say otherwise.
	Tab
	// Stepped is a tab with one step in each side, at half the depth; foot gap, treads
	// and top are a quarter of the width each.
	Stepped
	// Dovetailed is a tab that is wider at its top than at its foot, by half of the
	// depth but at most a quarter of the width.
	Dovetailed
	// Cloud is the wave beyond its quarter circles, as in nebuly: crests and bowls of
	// more than a half circle.
	Cloud
	// Own is a shape that the user draws.
	Own
	kinds
)

var kindNames = [kinds]string{"scallop", "point", "wave", "engrailed", "bulb", "elliptical", "petal", "ogee", "bracket", "tab", "stepped", "dovetailed", "cloud", "own"}

var kindNotes = [kinds]string{
	"round lobes that meet in sharp valleys; each is an arc of one circle, at most a semicircle",
	"triangles; sharp, rounded or blunt at the tip, upright or leaning",
	"a smooth undulation of equal arcs, with no sharp place",
	"the scallop turned over: hollow arcs with their points outward",
	"round lobes of more than a half circle, wider than their foot, with a gap between",
	"half ellipses, upright at the foot, of any depth",
	"pointed arches of two round arcs",
	"S-shaped sides, round at the foot and hollow at a pointed tip",
	"round shoulders and a small point in the middle",
	"rectangles, as on a battlement",
	"rectangles with a step in each side",
	"tabs that are wider at the top than at the foot",
	"a deep undulation of more than half circles, as in nebuly",
	"a shape of your own, drawn as a path or through points",
}

// Kinds returns every shape but those that users draw.
func Kinds() []Kind {
	all := make([]Kind, Own)
	for k := range all {
		all[k] = Kind(k)
	}
	return all
}

// ParseKind returns the shape of that name.
func ParseKind(name string) (Kind, error) {
	for i, n := range kindNames {
		if n == name {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("no shape is called %q; the shapes are %s and %s", name, strings.Join(kindNames[:kinds-1], ", "), kindNames[kinds-1])
}

// String returns the shape's name.
func (k Kind) String() string {
	if k < kinds {
		return kindNames[k]
	}
	return "kind?"
}

// Note describes the shape in half a sentence.
func (k Kind) Note() string { return kindNotes[k] }

// Shape is a kind of motif with its details, all in mm and none needed: the
// zero Shape is a plain scallop. Width and depth come with the cell.
type Shape struct {
	Kind Kind
	// Flat is a straight stretch of the base line at each valley, half of it
	// at each end of the cell.
	Flat float64
	// TipRadius rounds the tip of a point, the outer corners of a tab, or sets the
	// radius of a wave's crest. Depth is kept.
	TipRadius float64
	// TipFlat makes the tip blunt: a straight top of that width.
	TipFlat float64
	// ValleyRadius rounds the valley, which stays on the base line, and the inner
	// corners of a tab.
	ValleyRadius float64
	// Lean moves the peak to the side, to the right when it is positive: the shape is
	// sheared along its base line.
	Lean float64
	// Turn is the shape upside down, its peaks where its valleys were.
	Turn bool
	// Drawn is the shape of the kind Own.
	Drawn *Drawn
	// Mark is drawn inside of each motif.
	Mark Mark
}

// Symmetrical reports whether the shape is its own mirror image.
func (s Shape) Symmetrical() bool {
	return s.Lean == 0 && (s.Kind != Own || s.Drawn != nil && s.Drawn.symmetrical)
}

// Cell is one repeat of a shape.
type Cell struct {
	Width, Depth float64
	// Rise runs from the valley at (0, 0) to the peak, which lies at the height
	// Depth; Fall from the peak to the valley at (Width, 0).
	Rise, Fall path.Path
	// Marks are closed lines inside of the motif.
	Marks []path.Path
}

// symmetrical returns the cell with the rise and its mirror image.
func symmetrical(width, depth float64, rise path.Path) Cell {
	axis := path.Reflection(path.Point{X: width / 2}, path.Vec{Y: 1})
	return Cell{Width: width, Depth: depth, Rise: rise, Fall: rise.Transform(axis).Reverse()}
}

// Path returns the whole repeat, from valley to valley.
func (c Cell) Path() path.Path { return path.Join(path.Coincident, c.Rise, c.Fall) }

// Peak returns the peak, in the cell's coordinates.
func (c Cell) Peak() path.Point { return c.Rise.End() }

// PeakOut returns the unit direction outward at the peak: the bisector of its two
// sides.
func (c Cell) PeakOut() path.Vec {
	up, down := c.Rise.EndTangent(), c.Fall.StartTangent()
	if out := up.Left().Add(down.Left()); out.Len() > cusp {
		return out.Unit()
	}
	return up // the sides of a cusp run along each other
}

// LimitError says that a shape cannot be drawn with the measures given.
type LimitError struct {
	Shape  Kind
	Reason string
	// Hint says what would work.
	Hint string
}

// Error returns shape and reason.
func (e *LimitError) Error() string { return e.Shape.String() + ": " + e.Reason }

// Remedy returns what would work.
func (e *LimitError) Remedy() string { return e.Hint }

// MaxDepth returns the greatest depth of the shape at the width, +Inf where
// there is no limit. For a scallop it is the semicircle's, and for a wave that
// of two quarter circles: half of the width that flats leave.
func (s Shape) MaxDepth(width float64) float64 {
	switch s.Kind {
	case Scallop, Wave, Engrailed, Bracket:
		return (width - s.Flat - s.TipFlat) / 2
	case Bulb:
		return (1 - bulbGap) * width
	case Cloud:
		// Its crests, of the radius (h^2 + d^2) / 4d over the run h, keep apart.
		h, apart := s.run(width), width-s.TipFlat-s.Flat-leastNeck
		return apart + math.Sqrt(max(0, apart*apart-h*h))
	}
	return math.Inf(1)
}

// MinDepth returns the smallest depth of the shape at the width: that of a bulb or
// a cloud that is more than a half circle, else 0.
func (s Shape) MinDepth(width float64) float64 {
	switch {
	case s.Kind == Bulb && s.Flat > 0:
		return (width - s.Flat) / 2
	case s.Kind == Bulb:
		return (1 - bulbGap) * width / 2
	case s.Kind == Cloud:
		return s.run(width)
	}
	return 0
}

// MinWidth returns the smallest width of the shape at the depth: the converse
// of [Shape.MaxDepth].
func (s Shape) MinWidth(depth float64) float64 {
	low := s.Flat + s.TipFlat
	if math.IsInf(s.MaxDepth(2*low+depth), 1) {
		return low
	}
	high := low + 2*depth + 2*leastNeck
	for range 60 {
		mid := (low + high) / 2
		if s.MaxDepth(mid) < depth {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// run returns the length along the base line of one side of the shape.
func (s Shape) run(width float64) float64 { return (width - s.Flat - s.TipFlat) / 2 }

// fail returns the error for measures that do not go together.
func (s Shape) fail(hint, format string, args ...any) error {
	return &LimitError{s.Kind, fmt.Sprintf(format, args...), hint}
}

// Cell draws one repeat. The error is a [*LimitError]: a measure is not a
// positive number, flats leave no width, the depth is beyond [Shape.MaxDepth] or
// below [Shape.MinDepth], radii leave no room for one another, the
// shape has no such detail, or it would run into its neighbours.
func (s Shape) Cell(width, depth float64) (Cell, error) {
	if err := s.check(width, depth); err != nil {
		return Cell{}, err
	}
	c, err := s.plain(width, depth)
	if err != nil {
		return Cell{}, err
	}
	if s.Turn {
		c = c.turned()
	}
	if s.Lean != 0 {
		if c, err = c.leaning(s.Lean); err != nil {
			return Cell{}, err
		}
	}
	if s.Kind == Bulb || s.Kind == Dovetailed || s.Kind == Cloud || s.Kind == Own {
		if err := s.repeats(c); err != nil {
			return Cell{}, err
		}
	}
	return s.marked(c)
}

// check refuses measures that are no numbers or of the wrong sign, and details that
// the kind has not.
func (s Shape) check(width, depth float64) error {
	for _, m := range []struct {
		name  string
		value float64
		least float64
	}{
		{"width", width, minMeasure}, {"depth", depth, minMeasure}, {"flat", s.Flat, 0},
		{"tip radius", s.TipRadius, 0}, {"blunt tip", s.TipFlat, 0}, {"valley radius", s.ValleyRadius, 0},
		{"lean", s.Lean, -maxMeasure},
	} {
		if !(m.value >= m.least && m.value <= maxMeasure) {
			return s.fail(fmt.Sprintf("give a %s from %g to %g mm", m.name, m.least, maxMeasure),
				"%s is %.4g mm", m.name, m.value)
		}
	}
	if math.Abs(s.Lean) > width {
		return s.fail(fmt.Sprintf("keep it under %.2f mm", width), "it leans by %.2f mm, more than its width of %.2f mm", math.Abs(s.Lean), width)
	}
	none := func(detail, why string) error {
		return s.fail(fmt.Sprintf("leave the %s out", detail), "%s", why)
	}
	switch s.Kind {
	case Scallop:
		if s.TipRadius > 0 {
			return s.fail("leave the tip radius out; width and depth decide it", "a scallop's tip is round already")
		}
	case Engrailed:
		if s.ValleyRadius > 0 {
			return s.fail("leave the valley radius out; width and depth decide it", "the valley of an engrailed edge is round already")
		}
	case Bulb, Elliptical, Petal, Ogee, Bracket, Own:
		if s.TipRadius > 0 {
			return none("tip radius", fmt.Sprintf("the tip of %s cannot be rounded", article(s.Kind)))
		}
		if s.ValleyRadius > 0 {
			return none("valley radius", fmt.Sprintf("the valley of %s cannot be rounded", article(s.Kind)))
		}
		if s.TipFlat > 0 && (s.Kind == Bulb || s.Kind == Own) {
			return none("blunt tip", fmt.Sprintf("%s cannot be blunt", article(s.Kind)))
		}
	}
	return nil
}

func article(k Kind) string {
	if strings.ContainsRune("aeiou", rune(k.String()[0])) {
		return "an " + k.String()
	}
	return "a " + k.String()
}

// plain draws the shape upright.
func (s Shape) plain(width, depth float64) (Cell, error) {
	switch s.Kind {
	case Tab, Stepped, Dovetailed:
		return s.tab(width, depth)
	case Own:
		return s.drawn(width, depth)
	case Engrailed:
		return s.engrailed(width, depth)
	case Bulb:
		return s.bulb(width, depth)
	}
	if s.run(width) <= 0 {
		return Cell{}, s.fail(fmt.Sprintf("keep flat and blunt tip together under %.2f mm", width),
			"flat %.2f mm and blunt tip %.2f mm leave nothing of the width %.2f mm", s.Flat, s.TipFlat, width)
	}
	if greatest := s.MaxDepth(width); depth > greatest*(1+roundingSlack) {
		return Cell{}, s.tooDeep(width, depth, greatest)
	}
	switch s.Kind {
	case Elliptical, Petal, Ogee, Bracket:
		return s.arch(width, depth)
	}
	return s.circles(width, depth)
}

// tooDeep is the error for a depth beyond the greatest.
func (s Shape) tooDeep(width, depth, greatest float64) error {
	hint := fmt.Sprintf("at this width the depth can be at most %.2f mm; at this depth the width must be at least %.2f mm", greatest, s.MinWidth(depth))
	why := "beyond the half circle the lobe is wider than its foot"
	switch s.Kind {
	case Scallop:
		if bulb := (Shape{Kind: Bulb}); depth >= bulb.MinDepth(width) && depth <= bulb.MaxDepth(width) {
			hint += "; a bulb is a scallop beyond the half circle"
		}
	case Wave:
		hint += "; a cloud is a wave beyond it"
	case Bracket:
		why = "its two quarter circles are as wide as it is deep"
	case Cloud:
		why = "its crests would meet"
	}
	return s.fail(hint, "%.2f mm deep is %.2f mm too much for a width of %.2f mm: %s", depth, depth-greatest, width, why)
}

// repeats makes sure that the motif crosses neither itself nor the next one.
func (s Shape) repeats(c Cell) error {
	p := c.Path()
	for _, x := range p.SelfIntersections() {
		return s.fail("change its measures so that it does not", "it crosses itself at (%.1f, %.1f)", x.Point.X, x.Point.Y)
	}
	next := p.Transform(path.Translation(path.Vec{X: c.Width}))
	for _, x := range p.Intersections(next) {
		if x.Point.Dist(p.End()) > touching {
			return s.fail("make it wider, shallower or lean less, or leave a wider flat between", "%.2f mm wide and %.2f mm deep it runs into the next one", c.Width, c.Depth)
		}
	}
	return nil
}

// turned returns the cell upside down: it begins at its old peak.
func (c Cell) turned() Cell {
	over := path.Reflection(path.Point{Y: c.Depth / 2}, path.Vec{X: 1})
	peak := c.Peak().X
	t := c
	t.Rise = c.Fall.Transform(over.Then(path.Translation(path.Vec{X: -peak})))
	t.Fall = c.Rise.Transform(over.Then(path.Translation(path.Vec{X: c.Width - peak})))
	exact(&t)
	return t
}

// leaning returns the cell sheared along its base line, its peak moved by so much.
func (c Cell) leaning(by float64) (Cell, error) {
	m := path.Affine{A: 1, C: by / c.Depth, D: 1}
	var err error
	l := c
	if l.Rise, err = distorted(c.Rise, m); err != nil {
		return c, err
	}
	if l.Fall, err = distorted(c.Fall, m); err != nil {
		return c, err
	}
	exact(&l)
	return l, nil
}

// exact puts the ends of the halves exactly where they belong.
func exact(c *Cell) {
	peak := path.Point{X: c.Rise.End().X, Y: c.Depth}
	c.Rise.V[0].Point, c.Rise.V[len(c.Rise.V)-1].Point = path.Point{}, peak
	c.Fall.V[0].Point, c.Fall.V[len(c.Fall.V)-1].Point = peak, path.Point{X: c.Width}
}

// distorted returns the path under the map, with arcs fitted where they become arcs
// of ellipses.
func distorted(p path.Path, m path.Affine) (path.Path, error) {
	if s, ok := m.Similarity(); ok {
		return p.Transform(s), nil
	}
	var all path.Path
	for i := range p.Segments() {
		g := p.Segment(i)
		part := path.Open(m.Apply(g.A), m.Apply(g.B))
		if !g.IsLine() {
			c := g.Centre()
			e := path.EllipticArc{Centre: c, RX: g.Radius(), RY: g.Radius(), Start: g.A.Sub(c).Angle(), Sweep: g.Sweep()}
			var err error
			if part, err = e.Transform(m).Fit(path.FitTolerance); err != nil {
				return path.Path{}, err
			}
		}
		all = path.Join(touching, all, part)
	}
	return all, nil
}
