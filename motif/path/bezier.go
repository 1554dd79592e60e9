package path

import (
	"fmt"
	"math"
)

// CubicBezier is the curve from A to B with the control points C1 and C2, over
// t from 0 to 1.
type CubicBezier struct{ A, C1, C2, B Point }

// QuadraticBezier is the curve from A to B with the control point C, over t
// from 0 to 1.
type QuadraticBezier struct{ A, C, B Point }

// Cubic returns the same curve as a cubic.
func (q QuadraticBezier) Cubic() CubicBezier {
	return CubicBezier{q.A, q.A.Lerp(q.C, 2.0/3), q.B.Lerp(q.C, 2.0/3), q.B}
}

// Transform returns the curve under the map.
func (q QuadraticBezier) Transform(m Affine) QuadraticBezier {
	return QuadraticBezier{m.Apply(q.A), m.Apply(q.C), m.Apply(q.B)}
}

// Fit is [CubicBezier.Fit] for a quadratic.
func (q QuadraticBezier) Fit(tolerance float64) (Path, error) { return q.Cubic().Fit(tolerance) }

// Transform returns the curve under the map.
func (c CubicBezier) Transform(m Affine) CubicBezier {
	return CubicBezier{m.Apply(c.A), m.Apply(c.C1), m.Apply(c.C2), m.Apply(c.B)}
}

// At returns the point at t.
func (c CubicBezier) At(t float64) Point {
	s := 1 - t
	a, b, d, e := s*s*s, 3*s*s*t, 3*s*t*t, t*t*t
	return Point{
		a*c.A.X + b*c.C1.X + d*c.C2.X + e*c.B.X,
		a*c.A.Y + b*c.C1.Y + d*c.C2.Y + e*c.B.Y,
	}
}

// Tangent returns a vector in the direction of travel at t. At an end whose
// control point lies on it (within a millionth of the curve's size), that is
// the direction in which the curve leaves or arrives all the same. It is zero
// where all four points coincide.
func (c CubicBezier) Tangent(t float64) Vec {
	if t == 0 || t == 1 {
		return c.endTangent(t == 1)
	}
	s := 1 - t
	return c.C1.Sub(c.A).Mul(s * s).Add(c.C2.Sub(c.C1).Mul(2 * s * t)).Add(c.B.Sub(c.C2).Mul(t * t))
}

// endTangent points from the start to the first control point that does not
// lie on it, or to the finish from the last that does not.
func (c CubicBezier) endTangent(finish bool) Vec {
	least := stopped * c.size()
	if finish {
		for _, p := range [3]Point{c.C2, c.C1, c.A} {
			if v := c.B.Sub(p); v.Len() > least {
				return v
			}
		}
		return Vec{}
	}
	for _, p := range [3]Point{c.C1, c.C2, c.B} {
		if v := p.Sub(c.A); v.Len() > least {
			return v
		}
	}
	return Vec{}
}

// size is the longest distance from the start to another control point.
func (c CubicBezier) size() float64 {
	return max(c.A.Dist(c.C1), c.A.Dist(c.C2), c.A.Dist(c.B))
}

// finite reports whether every control point is.
func (c CubicBezier) finite() bool {
	return c.A.Finite() && c.C1.Finite() && c.C2.Finite() && c.B.Finite()
}

// Fit returns the curve as an open path of arcs with the curve's own ends and
// end tangents, nowhere further from it than the tolerance in mm (see
// [FitCurve]). A cusp becomes a corner. A curve whose control points lie in
// line becomes straight lines, as many as it doubles back and one more; one
// whose points all coincide becomes the empty path.
func (c CubicBezier) Fit(tolerance float64) (Path, error) {
	if !c.finite() {
		return Path{}, fmt.Errorf("fit bezier %v: a control point is not a number; correct the point", c)
	}
	if line, ok := c.straight(); ok {
		return line, nil
	}
	if t, onward, ok := c.cusp(); ok {
		p, err := FitCurve(cusped{c, t, onward.Neg()}, 0, t, tolerance)
		if err != nil {
			return Path{}, err
		}
		q, err := FitCurve(cusped{c, t, onward}, t, 1, tolerance)
		if err != nil {
			return Path{}, err
		}
		return Join(Coincident, p, q), nil
	}
	return FitCurve(c, 0, 1, tolerance)
}

// straight returns the lines that the curve runs along when its control points
// are in line.
func (c CubicBezier) straight() (Path, bool) {
	far := c.A
	for _, p := range [3]Point{c.B, c.C1, c.C2} {
		// The finish is preferred, so that the direction of a plain line is its own.
		if c.A.DistSq(p) > 4*c.A.DistSq(far) {
			far = p
		}
	}
	if far == c.A {
		return Path{}, true
	}
	u := far.Sub(c.A).Unit()
	var along [3]float64
	for i, p := range [3]Point{c.C1, c.C2, c.B} {
		v := p.Sub(c.A)
		if math.Abs(u.Cross(v)) > Coincident {
			return Path{}, false
		}
		along[i] = u.Dot(v)
	}
	// The speed along the line, as a quadratic in t.
	x, y, z := along[0], along[1]-along[0], along[2]-along[1]
	points := []Point{c.A}
	first, last := roots(x-2*y+z, 2*(y-x), x)
	for _, t := range [2]float64{first, last} {
		if !(t > 0 && t < 1) {
			continue
		}
		if p := c.At(t); p.Dist(points[len(points)-1]) > Coincident {
			points = append(points, p)
		}
	}
	if n := len(points); n > 1 && points[n-1].Dist(c.B) <= Coincident {
		points = points[:n-1]
	}
	return Open(append(points, c.B)...), true
}

// cusped is a Bezier with the tangent that it has on one side of a cusp.
type cusped struct {
	CubicBezier
	at      float64
	tangent Vec
}

func (c cusped) Tangent(t float64) Vec {
	if t == c.at {
		return c.tangent
	}
	return c.CubicBezier.Tangent(t)
}

// cusp returns the place inside the curve where its speed vanishes, if any, and
// the direction in which it goes on from there.
func (c CubicBezier) cusp() (t float64, onward Vec, ok bool) {
	// The derivative is 3 (p t^2 + q t + r). Where it vanishes, so does its
	// cross product with the second derivative, and that has a double root.
	r := c.C1.Sub(c.A)
	q := c.C2.Sub(c.C1).Sub(r).Mul(2)
	p := c.B.Sub(c.C2).Sub(c.C2.Sub(c.C1)).Sub(q.Mul(0.5))
	pq := p.Cross(q)
	if pq == 0 {
		return 0, Vec{}, false
	}
	t = -p.Cross(r) / pq
	if !(t > stopped && t < 1-stopped) || c.Tangent(t).Len() > stopped*c.size() {
		return 0, Vec{}, false
	}
	return t, p.Mul(2 * t).Add(q), true
}

// roots returns the real roots of a t^2 + b t + c, the lower first, NaN for
// those that there are not. A double root counts as none.
func roots(a, b, c float64) (float64, float64) {
	d := b*b - 4*a*c
	if !(d > 0) {
		return math.NaN(), math.NaN()
	}
	h := -0.5 * (b + math.Copysign(math.Sqrt(d), b))
	t, u := h/a, c/h
	if t < u || math.IsNaN(u) {
		return t, u
	}
	return u, t
}
