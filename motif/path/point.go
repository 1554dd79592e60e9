package path

import "math"

// Point is a position in the plane, in mm.
type Point struct{ X, Y float64 }

// Vec is a displacement in the plane, in mm, or a direction of length 1.
type Vec struct{ X, Y float64 }

// Add returns the point displaced by v.
func (p Point) Add(v Vec) Point { return Point{p.X + v.X, p.Y + v.Y} }

// Sub returns the displacement from q to p.
func (p Point) Sub(q Point) Vec { return Vec{p.X - q.X, p.Y - q.Y} }

// Dist returns the distance to q.
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// DistSq returns the square of the distance to q.
func (p Point) DistSq(q Point) float64 {
	dx, dy := p.X-q.X, p.Y-q.Y
	return dx*dx + dy*dy
}

// Lerp returns the point at the ratio t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)}
}

// Finite reports whether neither coordinate is NaN or infinite.
func (p Point) Finite() bool { return finite(p.X) && finite(p.Y) }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y} }

// Mul returns v scaled by k.
func (v Vec) Mul(k float64) Vec { return Vec{k * v.X, k * v.Y} }

// Neg returns v turned by half a turn.
func (v Vec) Neg() Vec { return Vec{-v.X, -v.Y} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y }

// Cross returns the z component of the vector product, positive when w lies
// to the left of v.
func (v Vec) Cross(w Vec) float64 { return v.X*w.Y - v.Y*w.X }

// Len returns the length.
func (v Vec) Len() float64 { return math.Hypot(v.X, v.Y) }

// Unit returns the direction of v. The zero vector stays zero.
func (v Vec) Unit() Vec {
	if l := v.Len(); l > 0 {
		return Vec{v.X / l, v.Y / l}
	}
	return Vec{}
}

// Left returns v turned a quarter turn counter-clockwise.
func (v Vec) Left() Vec { return Vec{-v.Y, v.X} }

// Right returns v turned a quarter turn clockwise.
func (v Vec) Right() Vec { return Vec{v.Y, -v.X} }

// Rotate returns v turned counter-clockwise by the angle.
func (v Vec) Rotate(angle float64) Vec {
	s, c := math.Sincos(angle)
	return Vec{c*v.X - s*v.Y, s*v.X + c*v.Y}
}

// Angle returns the direction of v from the x axis, in (-pi, pi].
func (v Vec) Angle() float64 { return math.Atan2(v.Y, v.X) }

// AngleTo returns the turn from v to w, in (-pi, pi], positive to the left.
func (v Vec) AngleTo(w Vec) float64 { return math.Atan2(v.Cross(w), v.Dot(w)) }

// Direction returns the unit vector at the angle from the x axis.
func Direction(angle float64) Vec {
	s, c := math.Sincos(angle)
	return Vec{c, s}
}

// Box is a rectangle with sides along the axes. The empty box, which holds no
// point, has Min above Max; [EmptyBox] makes it.
type Box struct{ Min, Max Point }

// EmptyBox returns the box that holds no point.
func EmptyBox() Box {
	return Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Width returns the extent in x, 0 for the empty box.
func (b Box) Width() float64 { return math.Max(0, b.Max.X-b.Min.X) }

// Height returns the extent in y, 0 for the empty box.
func (b Box) Height() float64 { return math.Max(0, b.Max.Y-b.Min.Y) }

// Centre returns the middle of the box.
func (b Box) Centre() Point { return b.Min.Lerp(b.Max, 0.5) }

// Include returns the smallest box that holds b and p.
func (b Box) Include(p Point) Box {
	return Box{
		Point{min(b.Min.X, p.X), min(b.Min.Y, p.Y)},
		Point{max(b.Max.X, p.X), max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// Grow returns the box enlarged by d on every side.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Meets reports whether the boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Contains reports whether p lies in the box or on its border.
func (b Box) Contains(p Point) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}
