package motif

import (
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
)

// circles draws scallop, point, wave and cloud.
//
// The half cell is a circle of the valley's radius standing on the base line
// and one of the tip's radius hanging from the top, either of radius 0. In a
// point a line touches both; in the others they touch one another, which
// fixes the sum of their radii at (h^2 + d^2) / 2d, h being the run of the
// curve from valley to tip. With a sharp valley that is the rule for the
// radius of an arc from its chord 2h and rise d.
func (s Shape) circles(width, depth float64) (Cell, error) {
	run := s.run(width)
	sum := (run*run + depth*depth) / (2 * depth)
	valley, tip := s.ValleyRadius, s.TipRadius
	switch s.Kind {
	case Scallop:
		tip = sum - valley
	case Cloud:
		if least := s.MinDepth(width); depth < least*(1-roundingSlack) {
			return Cell{}, s.fail(fmt.Sprintf("make it at least %.2f mm deep, or take a wave", least),
				"%.2f mm deep its crests are less than half circles at a width of %.2f mm", depth, width)
		}
		fallthrough
	case Wave:
		switch {
		case tip > 0 && valley > 0:
			return Cell{}, s.fail("give one of them; the other follows from width and depth", "%s takes a tip radius or a valley radius, not both", article(s.Kind))
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
			return Cell{}, s.fail(fmt.Sprintf("keep them together under %.2f mm", greatest),
				"valley radius %.2f mm and tip radius %.2f mm leave no room for one another", valley, tip)
		}
	}
	if valley < 0 || tip < 0 {
		return Cell{}, s.fail(fmt.Sprintf("at this width and depth it can be at most %.2f mm", sum), "the radius %.2f mm is too large", max(s.ValleyRadius, s.TipRadius))
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
	return rising(width, depth, low,
		path.ArcFrom(low, level, leave),
		path.Line(leave, reach),
		// Run backwards from the level tip, which fixes the tangent there.
		path.ArcFrom(top, level.Neg(), reach).Reverse(),
	), nil
}

// rising returns the symmetrical cell whose side, from the end of its flat to the
// end of its blunt tip, is made of the segments; those without length are left
// out.
func rising(width, depth float64, low path.Point, side ...path.Segment) Cell {
	chain := make([]path.Segment, 0, len(side)+2)
	add := func(g path.Segment) {
		if g.A.Dist(g.B) > path.Coincident {
			chain = append(chain, g)
		}
	}
	add(path.Line(path.Point{}, low))
	for _, g := range side {
		add(g)
	}
	add(path.Line(side[len(side)-1].B, path.Point{X: width / 2, Y: depth}))
	rise := path.FromSegments(chain...)
	// The ends are exact, whatever was left out between.
	rise.V[0].Point = path.Point{}
	rise.V[len(rise.V)-1].Point = path.Point{X: width / 2, Y: depth}
	return symmetrical(width, depth, rise)
}

// engrailed draws the scallop turned over, whose valleys are the engrailed edge's
// tips.
func (s Shape) engrailed(width, depth float64) (Cell, error) {
	over := Shape{Kind: Scallop, Flat: s.TipFlat, TipFlat: s.Flat, ValleyRadius: s.TipRadius}
	c, err := over.Cell(width, depth)
	if limit, ok := err.(*LimitError); ok {
		other := strings.NewReplacer("valley radius", "tip radius", "flat", "blunt tip", "blunt tip", "flat", "the lobe is wider than its foot", "the hollow is wider than its mouth", "; a bulb is a scallop beyond the half circle", "")
		return Cell{}, &LimitError{s.Kind, other.Replace(limit.Reason), other.Replace(limit.Hint)}
	}
	return c.turned(), err
}

// bulb draws a circular segment beyond the semicircle, on a chord c that flats leave
// of the width: of the radius R = (c^2/4 + d^2) / 2d it overhangs its foot by
// R - c/2 on each side. Without a flat that is stated, the overhangs of two keep a
// quarter of the width apart.
func (s Shape) bulb(width, depth float64) (Cell, error) {
	flat := s.Flat
	if greatest := s.MaxDepth(width); flat == 0 && depth >= greatest {
		return Cell{}, s.fail(fmt.Sprintf("at this width the depth can be less than %.2f mm; at this depth the width must be more than %.2f mm", greatest, s.MinWidth(depth)),
			"%.2f mm deep is %.2f mm too much for a width of %.2f mm: the lobes would meet", depth, depth-greatest, width)
	}
	if least := s.MinDepth(width); depth <= least {
		return Cell{}, s.fail(fmt.Sprintf("make it more than %.2f mm deep, or take a scallop", least),
			"%.2f mm deep it is no more than a half circle at a width of %.2f mm", depth, width)
	}
	if flat == 0 {
		flat = width - 2*math.Sqrt(depth*((1-bulbGap)*width-depth))
	}
	half := (width - flat) / 2
	if half <= 0 {
		return Cell{}, s.fail(fmt.Sprintf("keep the flat under %.2f mm", width), "the flat of %.2f mm leaves nothing of the width %.2f mm", flat, width)
	}
	radius := (half*half + depth*depth) / (2 * depth)
	if gap := width - 2*radius; gap < leastNeck-touching {
		least := width - 2*math.Sqrt(max(0, depth*(width-leastNeck-depth)))
		hint := fmt.Sprintf("leave a flat of %.2f mm or more between", math.Ceil(least*100)/100)
		if depth >= width-leastNeck {
			hint = fmt.Sprintf("make it less than %.2f mm deep", width-leastNeck)
		}
		return Cell{}, s.fail(hint, "its lobes are %.2f mm across, which leaves %.2f mm between them at a width of %.2f mm", 2*radius, gap, width)
	}
	low, top := path.Point{X: flat / 2}, path.Point{X: width / 2, Y: depth}
	return rising(width, depth, low, path.ArcFrom(top, path.Vec{X: -1}, low).Reverse()), nil
}
