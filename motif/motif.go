package motif

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// Kind names a shape.
type Kind uint8

// The shapes.
const (
	// Scallop is a circular segment, at most a semicircle, with its chord on
	// the base line.
	Scallop Kind = iota
	// Point is a triangle.
	Point
	// Wave is two arcs a side that run smoothly into one another, level at
	// valley and peak.
	Wave
	kinds
)

var kindNames = [kinds]string{"scallop", "point", "wave"}

var kindNotes = [kinds]string{
	"round lobes that meet in sharp valleys; each is an arc of one circle, at most a semicircle",
	"triangles; sharp, rounded or blunt at the tip",
	"a smooth undulation of equal arcs, with no sharp place",
}

// Kinds returns every shape.
func Kinds() []Kind { return []Kind{Scallop, Point, Wave} }

// ParseKind returns the shape of that name.
func ParseKind(name string) (Kind, error) {
	for i, n := range kindNames {
		if n == name {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("no shape is called %q; the shapes are scallop, point and wave", name)
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
	// TipRadius rounds the tip of a point, or sets the radius of a wave's
	// crest. Depth is kept.
	TipRadius float64
	// TipFlat makes the tip blunt: a straight top of that width.
	TipFlat float64
	// ValleyRadius rounds the valley, which stays on the base line.
	ValleyRadius float64
}

// Cell is one repeat of a shape.
type Cell struct {
	Width, Depth float64
	// Rise runs from the valley at (0, 0) to the peak, which lies at the height
	// Depth; Fall from the peak to the valley at (Width, 0).
	Rise, Fall path.Path
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
	if s.Kind == Point {
		return math.Inf(1)
	}
	return (width - s.Flat - s.TipFlat) / 2
}

// MinWidth returns the smallest width of the shape at the depth: the converse
// of [Shape.MaxDepth].
func (s Shape) MinWidth(depth float64) float64 {
	if s.Kind == Point {
		return s.Flat + s.TipFlat
	}
	return 2*depth + s.Flat + s.TipFlat
}

// Cell draws one repeat. The error is a [*LimitError]: a measure is not a
// positive number, flats leave no width, the depth is beyond [Shape.MaxDepth]
// (the lobe would be undercut), radii leave no room for one another, or the
// shape has no such detail.
//
// The half cell is a circle of the valley's radius standing on the base line
// and one of the tip's radius hanging from the top, either of radius 0. In a
// point a line touches both; in scallop and wave they touch one another, which
// fixes the sum of their radii at (h^2 + d^2) / 2d, h being the run of the
// curve from valley to tip. With a sharp valley that is the rule for the
// radius of an arc from its chord 2h and rise d.
func (s Shape) Cell(width, depth float64) (Cell, error) {
	fail := func(hint, format string, args ...any) (Cell, error) {
		return Cell{}, &LimitError{s.Kind, fmt.Sprintf(format, args...), hint}
	}
	for _, m := range []struct {
		name  string
		value float64
		least float64
	}{
		{"width", width, minMeasure}, {"depth", depth, minMeasure}, {"flat", s.Flat, 0},
		{"tip radius", s.TipRadius, 0}, {"blunt tip", s.TipFlat, 0}, {"valley radius", s.ValleyRadius, 0},
	} {
		if !(m.value >= m.least && m.value <= maxMeasure) {
			return fail(fmt.Sprintf("give a %s from %g to %g mm", m.name, m.least, maxMeasure),
				"%s is %.4g mm", m.name, m.value)
		}
	}
	run := width/2 - s.Flat/2 - s.TipFlat/2
	if run <= 0 {
		return fail(fmt.Sprintf("keep flat and blunt tip together under %.2f mm", width),
			"flat %.2f mm and blunt tip %.2f mm leave nothing of the width %.2f mm", s.Flat, s.TipFlat, width)
	}
	if greatest := s.MaxDepth(width); depth > greatest*(1+roundingSlack) {
		return fail(fmt.Sprintf("at this width the depth can be at most %.2f mm; at this depth the width must be at least %.2f mm", greatest, s.MinWidth(depth)),
			"%.2f mm deep is %.2f mm too much for a width of %.2f mm: beyond the half circle the lobe is wider than its foot",
			depth, depth-greatest, width)
	}
	sum := (run*run + depth*depth) / (2 * depth)
	valley, tip := s.ValleyRadius, s.TipRadius
	switch s.Kind {
	case Scallop:
		if tip > 0 {
			return fail("leave the tip radius out; width and depth decide it", "a scallop's tip is round already")
		}
		tip = sum - valley
	case Wave:
		switch {
		case tip > 0 && valley > 0:
			return fail("give one of them; the other follows from width and depth", "a wave takes a tip radius or a valley radius, not both")
		case tip > 0:
			valley = sum - tip
		case valley > 0:
			tip = sum - valley
		default:
			valley, tip = sum/2, sum/2
		}
	case Point:
		greatest := sum
		if depth > run {
			greatest = run // beyond it the sides would lean outward
		}
		if valley+tip > greatest*(1+roundingSlack) {
			return fail(fmt.Sprintf("keep them together under %.2f mm", greatest),
				"valley radius %.2f mm and tip radius %.2f mm leave no room for one another", valley, tip)
		}
	}
	if valley < 0 || tip < 0 {
		return fail(fmt.Sprintf("at this width and depth it can be at most %.2f mm", sum), "the radius %.2f mm is too large", max(s.ValleyRadius, s.TipRadius))
	}

	low := path.Point{X: s.Flat / 2}
	top := path.Point{X: width/2 - s.TipFlat/2, Y: depth}
	lowCentre := low.Add(path.Vec{Y: valley})
	topCentre := top.Add(path.Vec{Y: -tip})
	apart := topCentre.Sub(lowCentre)

	// leave is where the curve leaves the valley's circle, reach where it
	// meets the tip's.
	var leave, reach path.Point
	if s.Kind == Point {
		slope := apart.Angle() + math.Asin(min(1, (valley+tip)/apart.Len()))
		out := path.Direction(slope).Right()
		leave, reach = lowCentre.Add(out.Mul(valley)), topCentre.Add(out.Mul(-tip))
	} else {
		leave = lowCentre.Add(apart.Mul(valley / (valley + tip)))
		reach = leave
	}
	level := path.Vec{X: 1}
	chain := make([]path.Segment, 0, 5)
	add := func(g path.Segment) {
		if g.A.Dist(g.B) > path.Coincident {
			chain = append(chain, g)
		}
	}
	add(path.Line(path.Point{}, low))
	add(path.ArcFrom(low, level, leave))
	add(path.Line(leave, reach))
	// Run backwards from the level tip, which fixes the tangent there.
	add(path.ArcFrom(top, level.Neg(), reach).Reverse())
	add(path.Line(top, path.Point{X: width / 2, Y: depth}))
	rise := path.FromSegments(chain...)
	// The ends are exact, whatever was left out between.
	rise.V[0].Point = path.Point{}
	rise.V[len(rise.V)-1].Point = path.Point{X: width / 2, Y: depth}
	return symmetrical(width, depth, rise), nil
}
