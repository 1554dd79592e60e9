package path

import "math"

// Affine is a linear map of the plane and a shift, with the six numbers of
// SVG's matrix(a b c d e f):
//
//	x' = A x + C y + E
//	y' = B x + D y + F
//
// The zero value maps everything to the origin; [Identity] changes nothing.
// Lines stay lines under it and Beziers follow their control points, but
// circles become ellipses unless it is a similarity.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity returns the map that changes nothing.
func Identity() Affine { return Affine{A: 1, D: 1} }

// Affine returns the motion as an affine map.
func (m Similarity) Affine() Affine {
	x, y := m.ApplyVec(Vec{1, 0}), m.ApplyVec(Vec{0, 1})
	return Affine{x.X, x.Y, y.X, y.Y, m.t.X, m.t.Y}
}

// Apply maps a point.
func (m Affine) Apply(p Point) Point {
	return Point{m.A*p.X + m.C*p.Y + m.E, m.B*p.X + m.D*p.Y + m.F}
}

// ApplyVec maps a displacement, leaving out the shift.
func (m Affine) ApplyVec(v Vec) Vec {
	return Vec{m.A*v.X + m.C*v.Y, m.B*v.X + m.D*v.Y}
}

// Then returns the map m followed by n. For nested SVG transforms the inner
// one comes first: inner.Then(outer).
func (m Affine) Then(n Affine) Affine {
	x, y := n.ApplyVec(Vec{m.A, m.B}), n.ApplyVec(Vec{m.C, m.D})
	t := n.Apply(Point{m.E, m.F})
	return Affine{x.X, x.Y, y.X, y.Y, t.X, t.Y}
}

// Det returns the factor by which areas grow, negative when the map turns left
// into right.
func (m Affine) Det() float64 { return m.A*m.D - m.B*m.C }

// Finite reports whether all six numbers are neither NaN nor infinite.
func (m Affine) Finite() bool {
	for _, x := range [6]float64{m.A, m.B, m.C, m.D, m.E, m.F} {
		if !finite(x) {
			return false
		}
	}
	return true
}

// Similarity returns the map as a motion with an even scale, under which arcs
// stay arcs, and whether it is one. A map without area is none.
func (m Affine) Similarity() (Similarity, bool) {
	s := Similarity{a: m.A, b: m.B, t: Vec{m.E, m.F}, mirrors: m.Det() < 0}
	y := s.ApplyVec(Vec{0, 1})
	scale := s.Scale()
	even := math.Hypot(y.X-m.C, y.Y-m.D) <= evenScale*scale
	return s, even && scale > 0
}
