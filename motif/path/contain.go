package path

import "math"

// Contains reports whether the path, closed with a straight line if it is
// open, winds round the point: inside a simple outline of either direction. A
// point on the path may count either way. Arcs count as they are.
func (p Path) Contains(q Point) bool { return p.Winding(q) != 0 }

// Winding returns how often the path, closed with a straight line if it is
// open, goes counter-clockwise round the point. A point on the path may count
// as on either side.
func (p Path) Winding(q Point) int {
	if len(p.V) < 2 {
		return 0
	}
	w := 0
	for i := range p.Segments() {
		w += p.Segment(i).winding(q)
	}
	if !p.Closed {
		w += Line(p.End(), p.Start()).winding(q)
	}
	return w
}

// winding counts the chord's crossing of the ray to the right of q, and the
// turn round q of the arc together with the chord back. A point on a chord is
// moved to the right and then, by less, upwards: both counts take the same
// side, so that a point on the chord of an arc is not lost.
func (s Segment) winding(q Point) int {
	a, b := s.A.Sub(q), s.B.Sub(q)
	side := a.Cross(b) // positive when q is left of the chord
	left := side > 0
	if side == 0 {
		left = a.Y > b.Y || a.Y == b.Y && a.X < b.X
	}
	w := 0
	switch {
	case a.Y <= 0 && b.Y > 0 && left:
		w = 1
	case b.Y <= 0 && a.Y > 0 && !left:
		w = -1
	}
	if s.Bulge == 0 || left == (s.Bulge > 0) {
		return w
	}
	// On the arc's side of the chord. Points of the arc see the chord under the
	// angle pi - sweep/2, whose cotangent is -(1-b^2)/(2 |b|); points inside see
	// it under a larger one.
	bulge := math.Abs(s.Bulge)
	if 2*bulge*a.Dot(b)+(1-bulge*bulge)*math.Abs(side) < 0 {
		if s.Bulge > 0 {
			return w + 1
		}
		return w - 1
	}
	return w
}
