package path

import "math"

// curve is a segment made ready for many questions. Lines and arcs are one
// kind: through a, with the unit normal n to the right of travel and the
// signed curvature k, the circle or line is where
//
//	gap(x) = n.(x-a) + k/2 |x-a|^2
//
// is zero. Near it gap is the signed distance, positive to the right. The form
// has no centre, so that an arc may be as flat as it likes.
type curve struct {
	a, b  Point
	bulge float64
	k     float64
	n     Vec
}

// newCurve prepares a segment. Without length, or with a NaN in it, it has no
// normal.
func newCurve(s Segment) curve {
	var c curve
	c.set(s)
	return c
}

// set is newCurve in place.
func (c *curve) set(s Segment) {
	*c = curve{a: s.A, b: s.B}
	x, y := s.B.X-s.A.X, s.B.Y-s.A.Y
	l := math.Sqrt(x*x + y*y)
	if !(l > 0) {
		return
	}
	l = 1 / l
	x, y = x*l, y*l
	if s.IsLine() {
		c.n = Vec{y, -x}
		return
	}
	// The chord leaves the tangent by half the sweep, 2 atan(bulge).
	q := 1 / (1 + s.Bulge*s.Bulge)
	cos, sin := (1-s.Bulge*s.Bulge)*q, 2*s.Bulge*q
	c.bulge = s.Bulge
	c.k = 2 * sin * l
	c.n = Vec{y*cos - x*sin, -x*cos - y*sin}
}

// tangent returns the unit direction of travel at a.
func (c *curve) tangent() Vec { return Vec{-c.n.Y, c.n.X} }

// shorter reports whether the segment is shorter than l, or nearly so.
func (s *Segment) shorter(l float64) bool {
	return s.A.DistSq(s.B)*max(1, s.Bulge*s.Bulge) <= l*l
}

// gap returns the signed distance from the line or circle of the curve for
// points near it; far away it only has the right sign.
func (c *curve) gap(p Point) float64 {
	x, y := p.X-c.a.X, p.Y-c.a.Y
	return c.n.X*x + c.n.Y*y + c.k/2*(x*x+y*y)
}

// gradient returns the gradient of gap: on the curve the unit normal to the
// right of travel.
func (c *curve) gradient(p Point) Vec {
	return Vec{c.n.X + c.k*(p.X-c.a.X), c.n.Y + c.k*(p.Y-c.a.Y)}
}

// spans reports whether p, which is near the curve's line or circle, is between
// its ends.
func (c *curve) spans(p Point) bool {
	key := c.key(p)
	return key >= 0 && key <= c.fullKey()
}

// key returns a measure of how far along the curve the point p on it lies,
// rising from 0 at a: the distance on a line, on an arc the bulge of the part
// up to p.
func (c *curve) key(p Point) float64 {
	x, y := p.X-c.a.X, p.Y-c.a.Y
	along := c.n.X*y - c.n.Y*x
	if c.k == 0 {
		return along
	}
	l := x*x + y*y
	if l <= Coincident*Coincident {
		return 0
	}
	l = math.Sqrt(l)
	// The chord to p leaves the tangent by half the sweep to p: by the chord's
	// length while that tells, then by its direction.
	if sin := l * math.Abs(c.k) / 2; sin < 0.5 && along > 0 {
		return sin / (1 + math.Sqrt(1-sin*sin))
	}
	left := -(c.n.X*x + c.n.Y*y)
	if c.k < 0 {
		left = -left
	}
	if left = max(0, left); along < 0 {
		return (l - along) / left // behind a: without end
	}
	return left / (l + along)
}

// fullKey returns the key of the curve's end.
func (c *curve) fullKey() float64 {
	if c.k == 0 {
		return math.Sqrt(c.a.DistSq(c.b))
	}
	return math.Abs(c.bulge)
}

// keyAt returns the key of a point that is on the curve within a tolerance.
func (c *curve) keyAt(w where, p Point) float64 {
	if w == atStart {
		return 0
	}
	end := c.fullKey()
	if w == atEnd {
		return end
	}
	// Beyond an end by as little it may be all the way round.
	key := c.key(p)
	if !(key > 0) || key > end && p.DistSq(c.a) < p.DistSq(c.b) {
		return 0
	}
	return min(key, end)
}

// at returns the point of the curve at the key.
func (c *curve) at(key float64) Point {
	t := c.tangent()
	if c.k == 0 {
		return Point{c.a.X + key*t.X, c.a.Y + key*t.Y}
	}
	// key is the tangent of half the angle from the tangent to the chord.
	q := 1 / (1 + key*key)
	cos, sin := (1-key*key)*q, 2*key*q
	l := 2 * sin / math.Abs(c.k)
	if c.k < 0 {
		sin = -sin
	}
	return Point{c.a.X + l*(cos*t.X-sin*t.Y), c.a.Y + l*(cos*t.Y+sin*t.X)}
}

// exists reports whether the curve has a length and no NaN.
func (c *curve) exists() bool { return c.n.X*c.n.X+c.n.Y*c.n.Y > 0 }

// ratioAt returns the ratio of the length at which a point lies that is on the
// curve within a tolerance.
func (c *curve) ratioAt(w where, p Point) float64 {
	switch {
	case w == atStart:
		return 0
	case w == atEnd:
		return 1
	case c.k == 0:
		return c.keyAt(w, p) / c.fullKey()
	}
	return math.Atan(c.keyAt(w, p)) / math.Atan(c.fullKey())
}

// partBulge returns the bulge of the part of the curve between two keys.
func (c *curve) partBulge(from, to float64) float64 {
	if c.k == 0 {
		return 0
	}
	b := (to - from) / (1 + to*from)
	if c.k < 0 {
		return -b
	}
	return b
}

// between returns the point half-way along the curve from p to q on it.
func (c *curve) between(p, q Point) Point {
	if c.k == 0 {
		return p.Lerp(q, 0.5)
	}
	f, t := c.key(p), c.key(q)
	if f > t {
		f, t, p, q = t, f, q, p
	}
	return apex(Segment{p, q, c.partBulge(f, t)})
}

// apex returns the middle point of the segment.
func apex(s Segment) Point {
	dx, dy := s.B.X-s.A.X, s.B.Y-s.A.Y
	return Point{
		(s.A.X + s.B.X + s.Bulge*dy) / 2,
		(s.A.Y + s.B.Y - s.Bulge*dx) / 2,
	}
}

// box returns the smallest box around the curve, grown by Coincident.
func (c *curve) box() Box {
	lo, hi := c.a, c.b
	if lo.X > hi.X {
		lo.X, hi.X = hi.X, lo.X
	}
	if lo.Y > hi.Y {
		lo.Y, hi.Y = hi.Y, lo.Y
	}
	if c.k != 0 {
		// The directions from the centre to the ends, so ordered that the arc
		// runs counter-clockwise from s to e.
		s, e := c.n, c.gradient(c.b)
		if c.k < 0 {
			s, e = e.Neg(), s.Neg()
		}
		right, up, left, down := passes(s, e)
		if c.bulge > 1 || c.bulge < -1 {
			right, up, left, down = passes(e, s)
			right, up, left, down = !right, !up, !left, !down
		}
		if right || up || left || down {
			o, r := c.n, 1/c.k
			if r < 0 {
				o, r = o.Neg(), -r
			}
			if right {
				hi.X = c.a.X + r*oneMinus(o.X, o.Y)
			}
			if left {
				lo.X = c.a.X - r*oneMinus(-o.X, o.Y)
			}
			if up {
				hi.Y = c.a.Y + r*oneMinus(o.Y, o.X)
			}
			if down {
				lo.Y = c.a.Y - r*oneMinus(-o.Y, o.X)
			}
		}
	}
	return Box{
		Point{lo.X - Coincident, lo.Y - Coincident},
		Point{hi.X + Coincident, hi.Y + Coincident},
	}
}

// passes reports which of the directions right, up, left and down lie on the
// way counter-clockwise from s to e, half a turn at most: on the left of s and
// on the right of e. When there is no turn to speak of that does not tell a
// direction from its opposite, but their sum does.
func passes(s, e Vec) (right, up, left, down bool) {
	if s.Y <= 0 {
		right = e.Y >= 0 && s.X+e.X > -1
	}
	if s.Y >= 0 {
		left = e.Y <= 0 && s.X+e.X < 1
	}
	if s.X >= 0 {
		up = e.X <= 0 && s.Y+e.Y > -1
	}
	if s.X <= 0 {
		down = e.X >= 0 && s.Y+e.Y < 1
	}
	return right, up, left, down
}

// oneMinus returns 1-c, where c and s are a cosine and its sine, without
// cancellation.
func oneMinus(c, s float64) float64 {
	if c > 0 {
		return s * s / (1 + c)
	}
	return 1 - c
}
