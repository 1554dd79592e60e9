package path

import "math"

// Segment is a straight line or a circular arc from A to B. Bulge is
// tan(sweep/4): 0 for a line, positive for an arc that turns left.
type Segment struct {
	A, B  Point
	Bulge float64
}

// Line returns the straight segment from a to b.
func Line(a, b Point) Segment { return Segment{A: a, B: b} }

// Arc returns the arc around the centre that starts at the angle start and
// turns by sweep (positive counter-clockwise, less than a full turn either way).
func Arc(centre Point, radius, start, sweep float64) Segment {
	return Segment{
		A:     centre.Add(Direction(start).Mul(radius)),
		B:     centre.Add(Direction(start + sweep).Mul(radius)),
		Bulge: math.Tan(sweep / 4),
	}
}

// ArcThrough returns the arc from a to b that passes through m, or the line
// from a to b when the three points are in line with m between them.
func ArcThrough(a, m, b Point) Segment {
	// The inscribed angle at m is half the arc on the other side.
	u, w := m.Sub(a), b.Sub(m)
	return Segment{A: a, B: b, Bulge: math.Tan(u.AngleTo(w) / 2)}
}

// ArcFrom returns the arc from a to b that leaves a in the direction of
// tangent; a line when that points at b.
func ArcFrom(a Point, tangent Vec, b Point) Segment {
	return Segment{A: a, B: b, Bulge: math.Tan(tangent.AngleTo(b.Sub(a)) / 2)}
}

// IsLine reports whether the segment is straight.
func (s Segment) IsLine() bool { return math.Abs(s.Bulge) < straightBulge }

// Chord returns the displacement from A to B.
func (s Segment) Chord() Vec { return s.B.Sub(s.A) }

// Sweep returns the angle that the tangent turns through from A to B.
func (s Segment) Sweep() float64 {
	if s.IsLine() {
		return 0
	}
	return 4 * math.Atan(s.Bulge)
}

// Radius returns the radius of an arc, +Inf for a line.
func (s Segment) Radius() float64 {
	if s.IsLine() {
		return math.Inf(1)
	}
	return math.Abs(s.signedRadius())
}

// signedRadius is positive for an arc that turns left; the segment is an arc.
func (s Segment) signedRadius() float64 {
	return s.Chord().Len() * (1 + s.Bulge*s.Bulge) / (4 * s.Bulge)
}

// Centre returns the centre of an arc. It has no meaning for a line.
func (s Segment) Centre() Point {
	// From the middle of the chord, to the left by c/2 * (1-b^2)/(2b).
	c := s.Chord()
	k := (1 - s.Bulge*s.Bulge) / (4 * s.Bulge)
	return s.A.Lerp(s.B, 0.5).Add(c.Left().Mul(k))
}

// Curvature returns 1/radius, positive where the segment turns left, 0 for a
// line and for a segment without length.
func (s Segment) Curvature() float64 {
	c := s.Chord().Len()
	if s.IsLine() || c == 0 {
		return 0
	}
	return 4 * s.Bulge / (c * (1 + s.Bulge*s.Bulge))
}

// Length returns the length along the segment.
func (s Segment) Length() float64 {
	c := s.Chord().Len()
	if s.IsLine() {
		return c
	}
	b := math.Abs(s.Bulge)
	return c * (1 + b*b) / b * math.Atan(b)
}

// At returns the point at the ratio t of the length, 0 at A and 1 at B.
func (s Segment) At(t float64) Point {
	switch {
	case t == 0:
		return s.A
	case t == 1:
		return s.B
	case s.IsLine():
		return s.A.Lerp(s.B, t)
	}
	// The chord to the point leaves A at half of the turn so far, from the
	// tangent; chord lengths are as the sines of the half sweeps.
	half := s.Sweep() / 2
	d := s.Chord().Rotate((t - 1) * half)
	return s.A.Add(d.Mul(math.Sin(t*half) / math.Sin(half)))
}

// TangentAt returns the unit direction of travel at the ratio t of the length.
// It is zero for a segment whose ends coincide.
func (s Segment) TangentAt(t float64) Vec {
	u := s.Chord().Unit()
	if s.IsLine() {
		return u
	}
	return u.Rotate((t - 0.5) * s.Sweep())
}

// StartTangent returns the unit direction of travel at A.
func (s Segment) StartTangent() Vec { return s.endTangent(-1) }

// EndTangent returns the unit direction of travel at B.
func (s Segment) EndTangent() Vec { return s.endTangent(1) }

// endTangent turns the chord by half the sweep without trigonometry:
// cos and sin of 2 atan(b) are (1-b^2)/(1+b^2) and 2b/(1+b^2).
func (s Segment) endTangent(sign float64) Vec {
	u := s.Chord().Unit()
	b := s.Bulge
	if b == 0 {
		return u
	}
	q := 1 + b*b
	c, d := (1-b*b)/q, sign*2*b/q
	return Vec{c*u.X - d*u.Y, d*u.X + c*u.Y}
}

// Turn returns the angle by which a line turns from one segment to the next, which
// starts at its end, in radians, to the left as positive, in (-π, π]. At a cusp, where
// the next goes back, it turns to the side on which the next lies: to the left where
// both lie on one line.
func Turn(before, after Segment) float64 {
	turn := before.EndTangent().AngleTo(after.StartTangent())
	if math.Abs(turn) < math.Pi-cusp {
		return turn
	}
	aside := func(s Segment) Vec {
		return s.At(min(0.5, cuspReach/s.Length())).Sub(s.A)
	}
	if a, b := aside(before.Reverse()), aside(after); a.Cross(b) > 0 {
		return -math.Abs(turn)
	}
	return math.Abs(turn)
}

// Reverse returns the segment run from B to A.
func (s Segment) Reverse() Segment { return Segment{A: s.B, B: s.A, Bulge: -s.Bulge} }

// Split cuts the segment at the ratio t of the length.
func (s Segment) Split(t float64) (Segment, Segment) {
	m := s.At(t)
	if s.IsLine() {
		return Line(s.A, m), Line(m, s.B)
	}
	q := s.Sweep() / 4
	return Segment{s.A, m, math.Tan(t * q)}, Segment{m, s.B, math.Tan((1 - t) * q)}
}

// Sub returns the part between the ratios t0 and t1 of the length, t0 <= t1.
func (s Segment) Sub(t0, t1 float64) Segment {
	sub := Segment{A: s.At(t0), B: s.At(t1)}
	if !s.IsLine() {
		sub.Bulge = math.Tan((t1 - t0) * s.Sweep() / 4)
	}
	return sub
}

// Ratio returns the ratio of the length at which the point p, which lies on
// the segment's line or circle, stands: 0 at A, 1 at B, outside [0, 1] when p
// is beyond an end. On a circle, the point half-way round the missing part
// divides the two sides.
func (s Segment) Ratio(p Point) float64 {
	if s.isPoint() {
		return 0
	}
	if s.IsLine() {
		c := s.Chord()
		return p.Sub(s.A).Dot(c) / c.Dot(c)
	}
	_, along, across := s.fromMiddle(p)
	return 0.5 + math.Atan2(along, 1-across)/s.Sweep()
}

// fromMiddle returns an arc's curvature k, and k times the displacement of p
// from the arc's middle: along its tangent there, which is the chord's
// direction, and across it to the left. The centre, at (0, 1) in that measure,
// is not computed: a nearly straight arc's lies too far away to have digits.
// The segment is no point.
func (s Segment) fromMiddle(p Point) (k, along, across float64) {
	c := s.Chord()
	w := p.Sub(s.A.Lerp(s.B, 0.5)).Sub(c.Right().Mul(s.Bulge / 2))
	cc := c.Dot(c)
	q := 4 * s.Bulge / (cc * (1 + s.Bulge*s.Bulge))
	return q * math.Sqrt(cc), q * c.Dot(w), q * c.Cross(w)
}

// Nearest returns the ratio of the length at which the segment comes nearest
// to p, and the distance there.
func (s Segment) Nearest(p Point) (t, dist float64) {
	if s.isPoint() {
		return 0, p.Dist(s.A)
	}
	if !s.IsLine() {
		k, along, across := s.fromMiddle(p)
		if t := 0.5 + math.Atan2(along, 1-across)/s.Sweep(); t >= 0 && t <= 1 {
			// The distance to the centre less the radius, in radii: sqrt(1+y) - 1.
			y := along*along + across*across - 2*across
			return t, math.Abs(y / (k * (1 + math.Sqrt(max(0, 1+y)))))
		}
		da, db := p.Dist(s.A), p.Dist(s.B)
		if da <= db {
			return 0, da
		}
		return 1, db
	}
	t = min(1, max(0, s.Ratio(p)))
	return t, p.Dist(s.At(t))
}

// isPoint reports whether the ends are the same but for less than can be told.
func (s Segment) isPoint() bool { return s.A.DistSq(s.B) < noLength*noLength }

// Bounds returns the smallest box around the segment.
func (s Segment) Bounds() Box {
	b := EmptyBox().Include(s.A).Include(s.B)
	if s.IsLine() {
		return b
	}
	// An arc reaches beyond its ends where it passes an axis direction: where the
	// angle x from its middle's direction to the axis is less than half of the
	// sweep, tan(x/2) < |bulge|. It reaches beyond the middle by r (1 - cos x),
	// written so that a large radius costs no digits.
	c := s.Chord()
	l, bulge := c.Len(), math.Abs(s.Bulge)
	bow := c.Right().Mul(s.Bulge / 2)
	middle := s.A.Lerp(s.B, 0.5).Add(bow)
	out := bow.Mul(2 / bulge) // from the centre to the middle, as long as the chord
	r := l * (1 + bulge*bulge) / (4 * bulge)
	reach := func(along, across float64) float64 {
		h := math.Abs(across) / (l + along)
		if !(h < bulge) {
			return math.Inf(-1)
		}
		return r * h * h * (1 + along/l)
	}
	b.Max.X = max(b.Max.X, middle.X+reach(out.X, out.Y))
	b.Min.X = min(b.Min.X, middle.X-reach(-out.X, out.Y))
	b.Max.Y = max(b.Max.Y, middle.Y+reach(out.Y, out.X))
	b.Min.Y = min(b.Min.Y, middle.Y-reach(-out.Y, out.X))
	return b
}

// stray is a quick bound on how far the segment is from its chord: no further
// than |bulge| times half of it.
func (s Segment) stray() float64 {
	return math.Abs(s.Bulge) / 2 * (math.Abs(s.B.X-s.A.X) + math.Abs(s.B.Y-s.A.Y))
}

// areaUnder is twice the signed area between the segment and the origin: the
// triangle to the chord and the circular segment beside it.
func (s Segment) areaUnder() float64 {
	twice := s.A.X*s.B.Y - s.A.Y*s.B.X
	if s.IsLine() {
		return twice
	}
	r := s.signedRadius()
	sweep := s.Sweep()
	return twice + r*r*sweepMinusSin(sweep)
}

// sweepMinusSin returns |x - sin x| with the sign of x, without cancellation
// for small x.
func sweepMinusSin(x float64) float64 {
	if math.Abs(x) > 0.1 {
		return x - math.Sin(x)
	}
	x2 := x * x
	return x * x2 / 6 * (1 - x2/20*(1-x2/42*(1-x2/72)))
}
