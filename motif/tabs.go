package motif

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// tab draws tab, stepped and dovetailed.
func (s Shape) tab(width, depth float64) (Cell, error) {
	flat, top, err := s.gaps(width, depth)
	if err != nil {
		return Cell{}, err
	}
	foot, edge := path.Point{X: flat / 2}, path.Point{X: (width - top) / 2, Y: depth}
	corners := []path.Point{{}, foot, edge, {X: width / 2, Y: depth}}
	if s.Kind == Stepped {
		corners = []path.Point{{}, foot, {X: foot.X, Y: depth / 2}, {X: edge.X, Y: depth / 2}, edge, {X: width / 2, Y: depth}}
	}
	rise, ok := rounded(corners, s.ValleyRadius, s.TipRadius)
	if !ok {
		return Cell{}, s.fail("make the radii smaller, or the sides longer",
			"a tip radius of %.2f mm and a valley radius of %.2f mm leave no room for one another on its sides", s.TipRadius, s.ValleyRadius)
	}
	return symmetrical(width, depth, rise), nil
}

// gaps returns the flat at the foot and the width of the top.
func (s Shape) gaps(width, depth float64) (flat, top float64, err error) {
	flat, top = s.Flat, s.TipFlat
	usualFlat, usualTop := width/2, width/2
	switch s.Kind {
	case Stepped:
		usualFlat, usualTop = width/4, width/4
	case Dovetailed:
		wider := min(depth/2, width/4)
		usualFlat, usualTop = (width+wider)/2, (width+wider)/2
	}
	switch {
	case s.Kind == Tab && flat > 0 && top > 0 && math.Abs(flat+top-width) > touching:
		return 0, 0, s.fail(fmt.Sprintf("leave one of them out, or give a width of %.2f mm", flat+top),
			"flat %.2f mm and blunt tip %.2f mm do not fill the width %.2f mm of a tab with upright sides", flat, top, width)
	case s.Kind == Tab && flat > 0:
		usualTop = width - flat
	case s.Kind == Tab && top > 0:
		usualFlat = width - top
	}
	if flat == 0 {
		flat = usualFlat
	}
	if top == 0 {
		top = usualTop
	}
	foot := width - flat
	switch {
	case foot <= 0 || top <= 0 || top >= width:
		return 0, 0, s.fail(fmt.Sprintf("keep each of them under %.2f mm", width),
			"flat %.2f mm and blunt tip %.2f mm leave nothing of the width %.2f mm", flat, top, width)
	case s.Kind == Stepped && top >= foot:
		return 0, 0, s.fail(fmt.Sprintf("keep flat and blunt tip together under %.2f mm", width),
			"flat %.2f mm and blunt tip %.2f mm leave no room for steps in a width of %.2f mm", flat, top, width)
	case s.Kind == Dovetailed && top <= foot:
		return 0, 0, s.fail("make the blunt tip or the flat wider, or take a tab", "its top of %.2f mm is no wider than its foot of %.2f mm", top, foot)
	}
	return flat, top, nil
}

// rounded returns the open chain of lines through the points with its corners
// rounded: those that turn left, inward, on the one radius, and those that turn
// right on the other. It is not ok when a side is too short for that.
func rounded(points []path.Point, left, right float64) (path.Path, bool) {
	n := len(points)
	cut := make([]float64, n) // of the sides beside each corner
	radius := make([]float64, n)
	for i := 1; i < n-1; i++ {
		turn := points[i].Sub(points[i-1]).AngleTo(points[i+1].Sub(points[i]))
		radius[i] = right
		if turn > 0 {
			radius[i] = left
		}
		cut[i] = radius[i] * math.Tan(math.Abs(turn)/2)
	}
	var chain []path.Segment
	at := points[0]
	add := func(g path.Segment) {
		if g.A.Dist(g.B) > path.Coincident {
			chain = append(chain, g)
		}
	}
	for i := 1; i < n; i++ {
		side := points[i].Sub(points[i-1])
		if cut[i-1]+cut[i] > side.Len()*(1+roundingSlack) {
			return path.Path{}, false
		}
		u := side.Unit()
		add(path.Line(at, points[i].Add(u.Mul(-cut[i]))))
		at = points[i]
		if cut[i] > 0 {
			from := points[i].Add(u.Mul(-cut[i]))
			at = points[i].Add(points[i+1].Sub(points[i]).Unit().Mul(cut[i]))
			add(path.ArcFrom(from, u, at))
		}
	}
	p := path.FromSegments(chain...)
	p.V[0].Point, p.V[len(p.V)-1].Point = points[0], points[n-1]
	return p, true
}
