package path

import (
	"cmp"
	"math"
	"slices"
)

// Hit is a point that two segments share, and the ratio of the length at which
// it stands on each.
type Hit struct {
	Point
	T, U float64
}

// Hits are the places that two segments share, N of them in At. The first
// 2*Overlaps are the two ends, in order along the first segment, of parts that
// the segments have in common (two arcs of one circle may have two such parts);
// the others are single points, also in order along the first segment.
type Hits struct {
	At       [4]Hit
	N        int
	Overlaps int
}

// Intersect returns the places that the segments share, within [Coincident]:
// ends that touch the other segment count, and where the segments pass each
// other by no more than that, or cut into each other by no more than that, they
// touch in one point. T is the ratio on s, U that on t; both are exactly 0 or 1
// at an end. Segments that are nowhere apart by more than Coincident over some
// length overlap there. A segment without length, or with a coordinate that is
// not a number, shares nothing.
func (s Segment) Intersect(t Segment) Hits {
	var h Hits
	c, d := newCurve(s), newCurve(t)
	m := c.meet(&d)
	for i := range m.n {
		e := &m.at[i]
		h.At[i] = Hit{e.Point, c.ratioAt(e.onC, e.Point), d.ratioAt(e.onD, e.Point)}
	}
	h.N, h.Overlaps = m.n, m.overlaps
	slices.SortFunc(h.At[:2*h.Overlaps], func(a, b Hit) int { return cmp.Compare(a.T, b.T) })
	slices.SortFunc(h.At[2*h.Overlaps:h.N], func(a, b Hit) int { return cmp.Compare(a.T, b.T) })
	return h
}

// where tells at which end of a curve a point is.
type where uint8

const (
	inside where = iota
	atStart
	atEnd
)

// meeting is a point that two curves share.
type meeting struct {
	Point
	onC, onD where
}

// meetings are the places that two curves share, as in [Hits] but in no order.
type meetings struct {
	at       [4]meeting
	n        int
	overlaps int
}

func (m *meetings) add(p Point, onC, onD where) {
	if m.n < len(m.at) {
		m.at[m.n] = meeting{p, onC, onD}
		m.n++
	}
}

// joint reports whether the k-th meeting is no more than the joint of the two
// curves, of which the second is the next one after the first or the one before
// it, or both.
func (m *meetings) joint(k int, next, prev bool) bool {
	e := &m.at[k]
	return k >= 2*m.overlaps && (next && e.onC == atEnd && e.onD == atStart || prev && e.onC == atStart && e.onD == atEnd)
}

// meet returns the places that the curves share.
func (c *curve) meet(d *curve) meetings {
	var m meetings
	if !c.exists() || !d.exists() {
		return m
	}
	// First the ends, which the rest is held against: what touches at an end
	// must not be counted again, nor be lost to rounding.
	if w, on := c.carries(d.a); on {
		m.add(d.a, w, atStart)
	}
	if w, on := c.carries(d.b); on {
		m.add(d.b, w, atEnd)
	}
	if w, on := d.carries(c.a); on && w == inside {
		m.add(c.a, atStart, inside)
	}
	if w, on := d.carries(c.b); on && w == inside {
		m.add(c.b, atEnd, inside)
	}
	if m.n > 1 && c.overlap(d, &m) {
		return m
	}
	ends := m.n
	var x [2]Point
	for _, p := range x[:c.cross(d, &x)] {
		// A shallow crossing far from both is no more than rounding.
		if math.Abs(c.gap(p)) <= Coincident && math.Abs(d.gap(p)) <= Coincident &&
			c.spans(p) && d.spans(p) && !c.known(d, p, m.at[:ends]) {
			m.add(p, inside, inside)
		}
	}
	return m
}

// carries reports whether the point lies on the curve, and whether at an end.
func (c *curve) carries(p Point) (where, bool) {
	const reach = Coincident * Coincident
	g := math.Abs(c.gap(p))
	switch {
	case !(g <= 2*Coincident):
		return inside, false
	case p.DistSq(c.a) <= reach:
		return atStart, true
	case p.DistSq(c.b) <= reach:
		return atEnd, true
	}
	return inside, g <= Coincident && c.spans(p)
}

// overlap looks for parts that the curves have in common, between two of the
// ends found so far: two circles or lines that agree at three points of a part
// agree on all of it. It puts such parts first.
func (c *curve) overlap(d *curve, m *meetings) bool {
	var keys [4]float64
	at := m.at[:m.n]
	for i, e := range at {
		switch e.onC {
		case inside:
			keys[i] = c.key(e.Point)
		case atEnd:
			keys[i] = math.Inf(1)
		}
	}
	for i := 1; i < len(at); i++ {
		for j := i; j > 0 && keys[j] < keys[j-1]; j-- {
			at[j], at[j-1] = at[j-1], at[j]
			keys[j], keys[j-1] = keys[j-1], keys[j]
		}
	}
	for i := 0; i+1 < len(at); i++ {
		p, q := at[i], at[i+1]
		if p.DistSq(q.Point) <= Coincident*Coincident {
			continue
		}
		if mid := c.between(p.Point, q.Point); math.Abs(d.gap(mid)) <= Coincident && d.spans(mid) {
			k := 2 * m.overlaps
			copy(at[k+2:], at[k:i])
			at[k], at[k+1] = p, q
			m.overlaps++
			i++
		}
	}
	return m.overlaps > 0
}

// known reports whether the crossing p of two curves is one of the meetings
// already: the same point, or with no more than Coincident between the curves
// all the way there.
func (c *curve) known(d *curve, p Point, at []meeting) bool {
	for i := range at {
		q := at[i].Point
		if p.DistSq(q) <= Coincident*Coincident || math.Abs(d.gap(c.between(p, q))) <= Coincident {
			return true
		}
	}
	return false
}

// cross puts the points that the curves' lines or circles share into x and
// returns how many they are. Where they touch it is one point half-way between
// them.
func (c *curve) cross(d *curve, x *[2]Point) int {
	if math.Abs(c.k) < math.Abs(d.k) {
		c, d = d, c
	}
	// With w measured from c.a, the difference gap_d - ratio gap_c has no square
	// in it: the line m.w + q = 0 through the shared points.
	q := d.gap(c.a)
	var ratio, radius float64
	if c.k != 0 {
		radius = 1 / c.k
		ratio = d.k * radius
	}
	x0, y0 := c.a.X-d.a.X, c.a.Y-d.a.Y
	mx, my := d.n.X+d.k*x0-ratio*c.n.X, d.n.Y+d.k*y0-ratio*c.n.Y
	mm := mx*mx + my*my
	if l := math.Abs(d.k)*Coincident + parallel; !(mm > l*l) {
		return 0 // one circle or line, concentric circles or parallel lines
	}
	inv := 1 / math.Sqrt(mm)
	mx, my, q = mx*inv, my*inv, q*inv
	// From its point nearest to c.a the line runs along (-my, mx); at s from
	// there gap_c is k/2 s^2 + b s + g.
	foot := Point{c.a.X - q*mx, c.a.Y - q*my}
	at := func(s float64) Point { return Point{foot.X - s*my, foot.Y + s*mx} }
	b := c.n.Y*mx - c.n.X*my
	g := q * (c.k/2*q - (c.n.X*mx + c.n.Y*my))
	if c.k == 0 {
		if b == 0 {
			return 0
		}
		x[0] = at(-g / b)
		return 1
	}
	disc := b*b - 2*c.k*g
	// In the middle of the chord that the line cuts off gap_c is -disc/2k and
	// gap_d is ratio times that; the circles are apart by the difference or the
	// sum, by whether they face the same way there. When that may be within the
	// tolerance, the true distance is that of d from c's nearest point.
	const close = 8 * Coincident
	if apart, reach := math.Abs(disc), close*math.Abs(c.k); apart*(1-math.Abs(ratio)) <= reach {
		mid := at(-b * radius)
		same := ratio
		if c.gradient(mid).Dot(d.gradient(mid)) < 0 {
			same = -ratio
		}
		if apart*(1-same) <= reach {
			p := c.nearest(mid)
			if gap := d.gap(p); math.Abs(gap) <= Coincident {
				x[0] = p.Add(d.gradient(p).Mul(-gap / 2))
				return 1
			}
		}
	}
	if !(disc >= 0) {
		return 0
	}
	root := math.Sqrt(disc)
	if b < 0 {
		root = -root
	}
	h := -(b + root)
	x[0], x[1] = at(h*radius), at(2*g/h)
	return 2
}

// nearest returns the point of the curve's circle or line that is nearest to p.
func (c *curve) nearest(p Point) Point {
	g := c.gradient(p)
	l := math.Sqrt(max(0, 1+2*c.k*c.gap(p)))
	if l == 0 {
		return c.a
	}
	return p.Add(g.Mul(-c.distance(p) / l))
}

// distance returns the signed distance from the curve's circle or line,
// positive to the right of travel.
func (c *curve) distance(p Point) float64 {
	g := c.gap(p)
	return 2 * g / (1 + math.Sqrt(max(0, 1+2*c.k*g)))
}

// Crossing is a place where two paths meet: segment I of the first at the
// ratio T of its length, and segment J of the second at U. At a joint it is the
// segment that starts there, with the ratio 0; only the end of an open path has
// the ratio 1. Overlap marks the ends of a part that two segments share.
type Crossing struct {
	Point
	I, J    int
	T, U    float64
	Overlap bool
}

// Intersections returns the places where the paths meet, as
// [Segment.Intersect] finds them, in order along p. Each place is given once;
// where the paths run together, the two ends of each part that a segment of the
// one shares with a segment of the other. Empty paths meet nothing.
func (p Path) Intersections(q Path) []Crossing {
	// Often a long path meets a short one, or what is far away.
	is, js := p.beside(q.Bounds()), q.beside(p.Bounds())
	cs, ct := p.curves(is)
	ds, dt := q.curves(js)
	var found []Crossing
	ct.pairsWith(&dt, func(i, j int) bool {
		m := cs[i].meet(&ds[j])
		for k := range m.n {
			e := &m.at[k]
			x := Crossing{Point: e.Point, Overlap: k < 2*m.overlaps}
			x.I, x.T = p.place(is[i], cs[i].ratioAt(e.onC, e.Point))
			x.J, x.U = q.place(js[j], ds[j].ratioAt(e.onD, e.Point))
			found = append(found, x)
		}
		return true
	})
	return tidy(found)
}

// beside returns the segments that may come within Coincident of the box.
func (p Path) beside(box Box) []int {
	box = box.Grow(2 * Coincident)
	var near []int
	for i := range p.Segments() {
		s := p.Segment(i)
		d := s.stray()
		if max(s.A.X, s.B.X)+d < box.Min.X || min(s.A.X, s.B.X)-d > box.Max.X ||
			max(s.A.Y, s.B.Y)+d < box.Min.Y || min(s.A.Y, s.B.Y)-d > box.Max.Y {
			continue
		}
		near = append(near, i)
	}
	return near
}

// SelfIntersections returns the places where the path meets itself, in order
// along it, each once, with the earlier place as I and T. The joints of
// neighbouring segments do not count, nor does the start of a closed path.
// Segments shorter than [Coincident] are passed over.
func (p Path) SelfIntersections() []Crossing {
	var found []Crossing
	p.meetSelf(func(x Crossing) bool {
		found = append(found, x)
		return true
	})
	return tidy(found)
}

// Simple reports whether the path nowhere meets itself.
func (p Path) Simple() bool {
	return p.meetSelf(func(Crossing) bool { return false })
}

// meetSelf calls visit with each place where the path meets itself until it
// returns false, and reports whether it never did.
func (p Path) meetSelf(visit func(Crossing) bool) bool {
	n := p.Segments()
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	cs, t := p.curves(all)
	short, after := make([]bool, n), make([]int, n)
	for i := range short {
		s := p.Segment(i)
		short[i] = s.shorter(Coincident)
	}
	// After each segment comes the next one that is not short.
	next := -1
	if p.Closed {
		next = slices.Index(short, false)
	}
	for i := n - 1; i >= 0; i-- {
		after[i] = next
		if !short[i] {
			next = i
		}
	}
	return t.pairs(func(i, j int) bool {
		if short[i] || short[j] {
			return true
		}
		next, prev := after[i] == j, after[j] == i
		if t.boxes[i].onlyJoin(&t.boxes[j], &cs[i], &cs[j], next, prev) {
			return true
		}
		m := cs[i].meet(&cs[j])
		for k := range m.n {
			if m.joint(k, next, prev) {
				continue
			}
			e := &m.at[k]
			x := Crossing{Point: e.Point, Overlap: k < 2*m.overlaps}
			x.I, x.T = p.place(i, cs[i].ratioAt(e.onC, e.Point))
			x.J, x.U = p.place(j, cs[j].ratioAt(e.onD, e.Point))
			if x.I > x.J || x.I == x.J && x.T > x.U {
				x.I, x.T, x.J, x.U = x.J, x.U, x.I, x.T
			}
			if !visit(x) {
				return false
			}
		}
		return true
	})
}

// onlyJoin reports whether the boxes of two curves, of which the second is the
// next or the previous one in a chain, lie beside one another with the far end
// of one of the curves at least off the line between them: then they meet at the
// joint only.
func (b *Box) onlyJoin(e *Box, c, d *curve, next, prev bool) bool {
	const thin = 4 * Coincident
	var f, g Point // the far ends
	switch {
	case next == prev:
		return false
	case next:
		f, g = c.a, d.b
	default:
		f, g = c.b, d.a
	}
	off := func(f, g, line float64) bool { return math.Abs(f-line) > thin || math.Abs(g-line) > thin }
	return b.Max.X-e.Min.X <= thin && off(f.X, g.X, e.Min.X) ||
		e.Max.X-b.Min.X <= thin && off(f.X, g.X, b.Min.X) ||
		b.Max.Y-e.Min.Y <= thin && off(f.Y, g.Y, e.Min.Y) ||
		e.Max.Y-b.Min.Y <= thin && off(f.Y, g.Y, b.Min.Y)
}

// curves returns some of the path's segments prepared, and the tree of their
// boxes.
func (p Path) curves(which []int) ([]curve, boxTree) {
	cs := make([]curve, len(which))
	for k, i := range which {
		cs[k].set(p.Segment(i))
	}
	return cs, newBoxTree(len(cs), func(i int) Box { return cs[i].box() })
}

// place puts the end of a segment at the start of the next.
func (p Path) place(i int, t float64) (int, float64) {
	if t == 1 {
		switch n := p.Segments(); {
		case i < n-1:
			return i + 1, 0
		case p.Closed:
			return 0, 0
		}
	}
	return i, t
}

// tidy sorts crossings along the first path and drops repeated ones, which
// arise where a joint lies on the other path.
func tidy(found []Crossing) []Crossing {
	slices.SortFunc(found, func(a, b Crossing) int {
		return cmp.Or(cmp.Compare(a.I, b.I), cmp.Compare(a.T, b.T),
			cmp.Compare(a.J, b.J), cmp.Compare(a.U, b.U))
	})
	return slices.CompactFunc(found, func(a, b Crossing) bool {
		return a.I == b.I && a.T == b.T && a.J == b.J && a.U == b.U
	})
}
