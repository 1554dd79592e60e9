package path

import (
	"fmt"
	"math"
)

// prepare fills the source from the path.
func (o *offsetting) prepare(p Path) error {
	n := len(p.V)
	o.source = make([]curve, 0, n+2)
	if n == 0 {
		return nil
	}
	for i := range p.V {
		// Written so that NaN fails.
		if v := &p.V[i]; !(math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest && math.Abs(v.Bulge) <= math.MaxFloat64) {
			return fmt.Errorf("vertex %d (%g, %g, bulge %g) cannot be offset: give numbers within 1000 km", i, v.X, v.Y, v.Bulge)
		}
	}
	at := p.V[0].Point
	for i := range p.Segments() {
		s := p.Segment(i)
		if s.shorter(offsetDetail) {
			continue
		}
		start := s.A
		if at != s.A {
			// Segments that are too short one by one may make a way together.
			if l := Line(at, s.A); !l.shorter(offsetDetail) {
				o.trace(l)
			} else {
				s.A = at
			}
		}
		at = s.B
		if s.Bulge <= 1 && s.Bulge >= -1 {
			o.trace(s)
			continue
		}
		m := apex(Segment{start, s.B, s.Bulge})
		if !(math.Abs(m.X) <= farthest && math.Abs(m.Y) <= farthest) {
			return fmt.Errorf("arc %d (bulge %g) cannot be offset: it reaches beyond 1000 km", i, s.Bulge)
		}
		half := s.Bulge / (1 + math.Sqrt(1+s.Bulge*s.Bulge))
		o.trace(Segment{s.A, m, half})
		o.trace(Segment{m, s.B, half})
		for len(o.halves) < len(o.source)-1 {
			o.halves = append(o.halves, false)
		}
		o.halves = append(o.halves, true)
	}
	if l := Line(at, p.End()); !l.shorter(offsetDetail) {
		o.trace(l)
	}
	return nil
}

// trace puts a segment at the end of the source.
func (o *offsetting) trace(s Segment) {
	o.source = append(o.source, curve{})
	o.source[len(o.source)-1].set(s)
}

// draw fills the raw chain.
func (o *offsetting) draw() {
	n := len(o.source)
	perCorner := 1
	if o.limit > 0 {
		perCorner = 3
	}
	o.raw = make([]piece, 0, n+n*perCorner)
	o.last = -1
	var moved curve
	for i := range o.source {
		c := &o.source[i]
		fate := c.aside(o.d, &moved)
		next := &moved
		if fate != kept {
			next = nil
		}
		if i > 0 {
			o.join(&o.source[i-1], c, next)
		}
		switch fate {
		case kept:
			half := i < len(o.halves) && o.halves[i] && o.last >= 0 && o.last == len(o.raw)-1 && !o.gap
			o.last = len(o.raw)
			o.add(&moved)
			o.raw[o.last].continues = half
		case gone:
			o.last, o.loose = -1, true
		case inverted:
			o.last, o.gap = -1, true
		}
	}
	switch {
	case len(o.raw) == 0:
	case !o.closed:
		o.raw[0].gap = false
	default:
		// The first piece may be a corner when the first segment has none.
		c, first := &o.source[0], &o.raw[0]
		next := first.curve
		if c.aside(o.d, &moved) == kept {
			o.join(&o.source[n-1], c, &next)
		} else {
			o.join(&o.source[n-1], c, nil)
		}
		first = &o.raw[0]
		first.curve, first.gap, first.loose = next, first.gap || o.gap, first.loose || o.loose
		if o.limit > 0 && len(o.raw) > 1 {
			o.raw[1].loose = true // as after a mitre in outer
		}
	}
}

// add puts a piece at the end of the raw chain.
func (o *offsetting) add(c *curve) {
	o.raw = append(o.raw, piece{})
	p := &o.raw[len(o.raw)-1]
	p.curve, p.gap, p.loose = *c, o.gap, o.loose
	o.gap, o.loose = false, false
}

// addLine is add for the line from a to b.
func (o *offsetting) addLine(a, b Point) {
	c := newCurve(Line(a, b))
	o.add(&c)
}

// fate is what becomes of a segment that is moved aside.
type fate uint8

const (
	kept     fate = iota
	gone          // nothing is left, but the chain goes on
	inverted      // it would run backwards, all of it too near to its source
)

// aside makes m the curve moved to the right by d.
func (c *curve) aside(d float64, m *curve) fate {
	grow := 1 + c.k*d
	e := c.gradient(c.b)
	m.a = Point{c.a.X + d*c.n.X, c.a.Y + d*c.n.Y}
	m.b = Point{c.b.X + d*e.X, c.b.Y + d*e.Y}
	m.bulge, m.k, m.n = c.bulge, c.k/grow, c.n
	switch {
	case m.a.DistSq(m.b) <= Coincident*Coincident:
		return gone
	case grow <= 0:
		return inverted
	}
	return kept
}

// join carries the raw chain round the corner between two segments of the
// source. next is the piece of the second, which is yet to be added and may be
// cut back, or nil when it has none.
func (o *offsetting) join(before, after, next *curve) {
	n1, n2 := before.gradient(before.b), after.n
	x, y := n2.X-n1.X, n2.Y-n1.Y
	kinkSq := x*x + y*y
	apartSq := kinkSq * o.d * o.d
	if apartSq <= sameEnd*sameEnd {
		return
	}
	both := o.last >= 0 && next != nil && !o.gap
	corner := after.a
	if kinkSq*math.Abs(o.d) <= 8*slightBend {
		// So slight a bend that the way round it is no way: the pieces meet.
		if !(both && o.bend(before, after, next, apartSq)) && apartSq > Coincident*Coincident {
			o.addLine(corner.Add(n1.Mul(o.d)), corner.Add(n2.Mul(o.d)))
		}
		return
	}
	turn := n1.X*n2.Y - n1.Y*n2.X
	if o.d < 0 {
		turn = -turn
	}
	if bend := before.k + after.k; n1.X*n2.X+n1.Y*n2.Y < 0 {
		switch {
		case math.Abs(turn) < max(doubledBack, min(math.Abs(bend), 1)*offsetDetail):
			// Straight back, or off it by what the bend makes up for at once: then
			// the bend tells on which side. Two lines have both sides outside.
			if turn = 1; bend*o.d > 0 {
				turn = -1
			}
		case turn < 0 && bend*o.d < 0 && o.limit == 0 && before.closesTip(after, -turn, -bend*math.Copysign(1, o.d)):
			// More than half a turn, in two.
			middle := n1.Left().Mul(math.Copysign(1, o.d))
			o.outer(corner, n1, middle, nil)
			o.outer(corner, middle, n2, next)
			return
		}
	}
	if turn > 0 {
		o.outer(corner, n1, n2, next)
		return
	}
	if both {
		prev := &o.raw[o.last].curve
		if p, onPrev, onNext, ok := prev.meetsNear(next); ok && before.faces(p) && after.faces(p) {
			prev.cutEnd(p, onPrev)
			next.cutStart(p, onNext)
			return
		}
	}
	o.gap = true
}

// closesTip reports whether two curves that leave a tip across one another, by the angle,
// and bend apart by the curvature, close it in a loop too narrow to count: it is
// 2 angle/bend long and angle^2/2 bend wide.
func (c *curve) closesTip(next *curve, angle, bend float64) bool {
	long := 2 * angle / bend
	return angle*angle <= offsetSlack*bend && c.a.DistSq(c.b) >= long*long && next.a.DistSq(next.b) >= long*long
}

// bend makes the last and the next piece, the ends of which are apart by a
// little, meet where their lines or circles cross. It does nothing and reports
// false when the pieces are too short for it.
//
// With x along the tangent from half-way between the two ends, m apart, and as
// parabolas there, the pieces are at the same height where
//
//	(w2-w1) (x/m)^2 - (w1+w2) x/m + (w2-w1)/4 = 0
//
// where w is 1/(1+kd) with the curvature k of the source's segment; that is
// x/m = (sqrt w2 - sqrt w1) / 2(sqrt w2 + sqrt w1). Nothing is divided by the
// angle, so that the bend may be as slight as it likes.
func (o *offsetting) bend(before, after, next *curve, apartSq float64) bool {
	prev := &o.raw[o.last].curve
	if small := 256 * apartSq; prev.a.DistSq(prev.b) < small || next.a.DistSq(next.b) < small {
		return false
	}
	s1, s2 := math.Sqrt(1+before.k*o.d), math.Sqrt(1+after.k*o.d)
	p := prev.b.Lerp(next.a, 0.5+(s1-s2)/(2*(s1+s2)))
	p = p.Add(next.n.Mul(-(prev.gap(p) + next.gap(p)) / 2))
	prev.b, prev.bulge = p, prev.bulgeTo(p)
	back := curve{a: next.b, k: -next.k, n: next.gradient(next.b).Neg()}
	next.a, next.bulge, next.n = p, -back.bulgeTo(p), next.gradient(p)
	return true
}

// bulgeTo returns the bulge of the arc that leaves a along the curve and ends
// in p, near the curve.
func (c *curve) bulgeTo(p Point) float64 {
	if c.k == 0 {
		return 0
	}
	return math.Copysign(c.key(p), c.k)
}

// meetsNear returns the one point where two pieces at an inner corner cross, and
// its keys on both, if that is near the corner: then what they have beyond it is
// too near to the other's segment.
func (c *curve) meetsNear(next *curve) (p Point, onC, onNext float64, ok bool) {
	var x [2]Point
	endC, endNext := c.fullKey(), next.fullKey()
	for i := range c.cross(next, &x) {
		if !c.besides(x[i]) || !next.besides(x[i]) {
			continue
		}
		k, l := c.key(x[i]), next.key(x[i])
		if k >= 0 && k <= endC && l >= 0 && l <= endNext {
			if ok {
				return p, 0, 0, false
			}
			p, onC, onNext, ok = x[i], k, l, true
		}
	}
	// Ends that touch the other piece are left to cutSelf, and of a large part
	// of an arc it is not certain that all is too near.
	const touch = 2 * Coincident
	ok = ok && (c.k == 0 || endC-onC <= smallPart) && (next.k == 0 || onNext <= smallPart) &&
		math.Abs(c.gap(next.a)) > touch && math.Abs(c.gap(next.b)) > touch &&
		math.Abs(next.gap(c.a)) > touch && math.Abs(next.gap(c.b)) > touch &&
		math.Abs(c.gap(p)) <= Coincident && math.Abs(next.gap(p)) <= Coincident
	return p, onC, onNext, ok
}

// besides reports whether the point on the circle or line of the curve, an arc
// of half a turn at most, is on its side of the chord and not beyond an end. It
// is quick to tell what is far off.
func (c *curve) besides(p Point) bool {
	cx, cy := c.b.X-c.a.X, c.b.Y-c.a.Y
	x, y := p.X-c.a.X, p.Y-c.a.Y
	l, along := cx*cx+cy*cy, cx*x+cy*y
	return along >= 0 && along <= l && 4*c.bulge*(cx*y-cy*x) <= l*(1-c.bulge*c.bulge)
}

// faces reports whether the nearest point of the line or circle is on the
// curve, an arc of half a turn at most.
func (c *curve) faces(p Point) bool {
	n := c.gradient(c.b)
	return c.n.Cross(p.Sub(c.a)) >= 0 && n.Cross(p.Sub(c.b)) <= 0
}

// cutEnd makes the curve end at the point p of it, which has the key.
func (c *curve) cutEnd(p Point, key float64) {
	c.b, c.bulge = p, c.partBulge(0, key)
}

// cutStart makes the curve start at the point p of it, which has the key.
func (c *curve) cutStart(p Point, key float64) {
	c.bulge = c.partBulge(key, math.Abs(c.bulge))
	c.n = c.gradient(p)
	c.a = p
}

// outer carries the raw chain round an outer corner.
func (o *offsetting) outer(corner Point, n1, n2 Vec, next *curve) {
	d := math.Abs(o.d)
	e := Point{corner.X + o.d*n1.X, corner.Y + o.d*n1.Y}
	s := Point{corner.X + o.d*n2.X, corner.Y + o.d*n2.Y}
	// The sine and cosine of half the turn.
	sin, cos := math.Sqrt(e.DistSq(s))/(2*d), math.Sqrt((n1.X+n2.X)*(n1.X+n2.X)+(n1.Y+n2.Y)*(n1.Y+n2.Y))/2
	if o.limit == 0 {
		o.add(&curve{a: e, b: s, bulge: math.Copysign(sin/(1+cos), o.d), k: 1 / o.d, n: n1})
		return
	}
	// Straight on by this much on both sides; to the point, or to where the
	// corner is cut.
	on, cutOff := d*sin/cos, cos*o.limit < 1
	if cutOff {
		on = d * (o.limit - cos) / sin
	}
	w := wedge{corner: corner, before: n1, after: n2, distance: d, reach: min(o.limit, 1/cos) * d}
	if o.d < 0 {
		// To the left the normals turn clockwise; swapped, they do not.
		w.before, w.after = n2.Neg(), n1.Neg()
	}
	w.middle = w.after.Sub(w.before).Right().Unit()
	p, q := e.Add(n1.Left().Mul(on)), s.Add(n2.Right().Mul(on))
	if !cutOff {
		q = p
	}
	w.box = EmptyBox().Include(corner).Include(e).Include(p).Include(q).Include(s)
	o.wedges = append(o.wedges, w)
	if o.last >= 0 && !o.gap && o.raw[o.last].k == 0 {
		// Longer, it may meet the arc at its start again.
		o.raw[o.last].b, o.raw[o.last].loose = p, true
	} else {
		o.addLine(e, p)
	}
	if cutOff {
		o.addLine(p, q)
	}
	if next != nil && next.k == 0 {
		next.a = q
	} else {
		o.addLine(q, s)
	}
}
