package path

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// CornerKind is a way to carry an offset round an outer corner.
type CornerKind uint8

const (
	// Rounded goes round the corner on an arc.
	Rounded CornerKind = iota
	// Mitred goes on straight along both tangents to where they meet. A corner
	// that would reach further than Limit times the distance from the source's
	// is cut off straight across there.
	Mitred
	// Squared cuts the mitre off straight across at the distance.
	Squared
)

// Corner tells how an offset goes round an outer corner. The zero Corner is
// rounded.
type Corner struct {
	Kind CornerKind
	// Limit is how far a mitred corner may reach from the source's corner, in
	// distances, at least 1. 0 stands for DefaultMitreLimit.
	Limit float64
}

// DefaultMitreLimit lets corners down to some 29 degrees come to a point.
const DefaultMitreLimit = 4

// Offset returns the paths that run beside p at the distance, to its right
// when the distance is positive: outside of a counter-clockwise outline, below
// a hem that is drawn from left to right. Lines stay lines and arcs arcs.
//
// No point of the result is nearer to p than the distance, on either side:
// where the offset would cross itself or come nearer to another part of p, as
// in a narrow valley, that part is left out. Outer corners are made as corner
// tells; what a mitred corner covers is left out in the same way.
//
// An outline gives outlines, several when it falls apart, none when nothing is
// left. They run the way of p, so that a gap that is closed in by an outward
// offset comes out as a clockwise outline. An open path gives an open path that
// runs from its start to its end, square to p at the ends; more when it is
// broken where p comes near itself. What closes in itself, as in a bay of p with
// a narrow mouth or when the ends of p are near one another, follows as closed
// paths.
//
// Distances are kept within 1e-6. The distance 0, or one below that, gives p.
// Segments below that are passed over. A path without length gives nothing.
//
// It is an error when the distance, a vertex or the limit is not a number that
// makes sense, and when the offset of an outline would not be closed, because p
// crosses itself; [Path.Simple] tells beforehand. An outline that crosses itself
// may also lose parts.
func (p Path) Offset(distance float64, corner Corner) ([]Path, error) {
	limit, err := corner.limit()
	if err != nil {
		return nil, err
	}
	if !(math.Abs(distance) <= farthest) {
		return nil, fmt.Errorf("offset distance %g mm is not a usable length: give one within 1000 km", distance)
	}
	o := offsetting{d: distance, clear: math.Abs(distance) - offsetSlack, limit: limit, closed: p.Closed}
	if err := o.prepare(p); err != nil {
		return nil, err
	}
	if len(o.source) == 0 {
		return nil, nil
	}
	if math.Abs(distance) <= nodeSize {
		return []Path{p}, nil
	}
	o.draw()
	if len(o.raw) == 0 {
		return nil, nil
	}
	return o.result()
}

// limit returns the reach of the corners in distances, 0 for rounded ones.
func (c Corner) limit() (float64, error) {
	switch c.Kind {
	case Rounded:
		return 0, nil
	case Squared:
		return 1, nil
	case Mitred:
		if c.Limit == 0 {
			return DefaultMitreLimit, nil
		}
		if !(c.Limit >= 1) {
			return 0, fmt.Errorf("mitre limit %g is too small: give at least 1", c.Limit)
		}
		return c.Limit, nil
	}
	return 0, fmt.Errorf("corner kind %d is unknown: give Rounded, Mitred or Squared", c.Kind)
}

// offsetting is the work of one offset, in the steps known for chains of arcs:
// move each segment aside, join neighbours, cut the raw chain where it crosses
// itself, keep the slices that are nowhere too near to the source, and link
// them. The raw chain can only become too near or cease to be so where two of
// its pieces meet that both are not, so that one point tells for a slice.
//
// What is known to be too near is not drawn at all: the way between two pieces
// at an inner corner, and arcs whose radius would fall below nothing. There the
// raw chain has a gap, and a slice with a gap is no good.
type offsetting struct {
	d      float64 // to the right
	clear  float64 // the distance within which a point is too near
	limit  float64
	closed bool

	source []curve // without short segments, no arc above half a turn
	halves []bool  // source[i] continues the arc of source[i-1]; nil when none does
	near   boxTree // of source

	raw     []piece
	wedges  []wedge // the mitred corners
	mitres  boxTree // of wedges
	cuts    []cut
	nodes   []node
	slices  []slice
	crosses bool // the outline meets itself
	overlap bool // some pieces run together
	lost    bool // at lostAt is a good part, but in no good slice
	lostAt  Point
}

// piece is a segment of the raw chain.
type piece struct {
	curve
	gap       bool // the chain is broken before it
	loose     bool // it may meet the piece before it elsewhere than at their joint
	continues bool // it continues the arc of the piece before it
}

// attached reports whether the piece meets the one before it at their joint
// and nowhere else.
func (p *piece) attached() bool { return !p.gap && !p.loose }

// wedge is an outer corner of the source with straight edges round it: the
// points w from the corner between the normals with each product w.n below the
// distance, and w.middle below the reach.
type wedge struct {
	corner          Point
	before, after   Vec // the unit normals on the offset's side
	middle          Vec // half-way between them
	distance, reach float64
	box             Box
}

// node is a place where the raw chain meets itself or is cut off.
type node struct {
	same  int32 // another node at the same place, nearer to the one that stands for all
	first int32 // the first good slice that starts here, or -1
}

// cut is a place on the raw chain where slices end.
type cut struct {
	Point
	key   float64
	piece int32
	node  int32
}

// slice is the part of the raw chain from one cut to the next; -1 stands for
// the end of an open chain, or both for the whole of a closed one.
type slice struct {
	from, to int32
	next     int32 // the next slice that starts at the same node, or -1
	good     bool
}

// prepare fills the source from the path.
func (o *offsetting) prepare(p Path) error {
	n := len(p.V)
	o.source = make([]curve, 0, n+2)
	if n == 0 {
		return nil
	}
	for i, v := range p.V {
		if !(math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest && finite(v.Bulge)) {
			return fmt.Errorf("vertex %d (%g, %g, bulge %g) cannot be offset: give numbers within 1000 km", i, v.X, v.Y, v.Bulge)
		}
	}
	at := p.V[0].Point
	for i := range p.Segments() {
		s := p.Segment(i)
		if s.shorter(offsetDetail) {
			continue
		}
		m := apex(s)
		if at != s.A {
			// Segments that are too short one by one may make a way together.
			if l := Line(at, s.A); !l.shorter(offsetDetail) {
				o.source = append(o.source, newCurve(l))
			} else {
				s.A = at
			}
		}
		at = s.B
		if s.Bulge <= 1 && s.Bulge >= -1 {
			o.source = append(o.source, newCurve(s))
			continue
		}
		if !(math.Abs(m.X) <= farthest && math.Abs(m.Y) <= farthest) {
			return fmt.Errorf("arc %d (bulge %g) cannot be offset: it reaches beyond 1000 km", i, s.Bulge)
		}
		half := s.Bulge / (1 + math.Sqrt(1+s.Bulge*s.Bulge))
		o.source = append(o.source, newCurve(Segment{s.A, m, half}), newCurve(Segment{m, s.B, half}))
		for len(o.halves) < len(o.source)-1 {
			o.halves = append(o.halves, false)
		}
		o.halves = append(o.halves, true)
	}
	if l := Line(at, p.End()); !l.shorter(offsetDetail) {
		o.source = append(o.source, newCurve(l))
	}
	return nil
}

// draw fills the raw chain.
func (o *offsetting) draw() {
	o.raw = make([]piece, 0, 2*len(o.source)+2)
	gap, loose := false, false
	last := -1 // the piece of the source segment before, when it has one
	for i := range o.source {
		c := &o.source[i]
		moved, kind := c.aside(o.d)
		if i > 0 {
			gap, last = o.join(&o.source[i-1], c, last, &moved, kind == kept, gap)
		}
		switch kind {
		case kept:
			half := i < len(o.halves) && o.halves[i] && last >= 0 && last == len(o.raw)-1 && !gap
			last = len(o.raw)
			o.raw = append(o.raw, piece{curve: moved, gap: gap, loose: loose, continues: half})
			gap, loose = false, false
		case gone:
			last, loose = -1, true
		case inverted:
			last, gap = -1, true
		}
	}
	if o.closed && len(o.raw) > 0 {
		// The first piece may be a corner when the first segment has none.
		c := &o.source[0]
		_, kind := c.aside(o.d)
		first := o.raw[0].curve
		gap, _ = o.join(&o.source[len(o.source)-1], c, last, &first, kind == kept, gap)
		if o.raw[0].a != first.a && len(o.raw) > 1 {
			o.raw[1].loose = true
		}
		o.raw[0].curve = first
		o.raw[0].gap = o.raw[0].gap || gap
		o.raw[0].loose = o.raw[0].loose || loose
	} else if len(o.raw) > 0 {
		o.raw[0].gap = false
	}
}

// fate is what becomes of a segment that is moved aside.
type fate uint8

const (
	kept     fate = iota
	gone          // nothing is left, but the chain goes on
	inverted      // it would run backwards, all of it too near to its source
)

// aside returns the curve moved to the right by d.
func (c *curve) aside(d float64) (curve, fate) {
	grow := 1 + c.k*d
	m := curve{a: c.a, b: c.b, bulge: c.bulge, k: c.k / grow, n: c.n}
	e := c.gradient(c.b)
	m.a.X += d * c.n.X
	m.a.Y += d * c.n.Y
	m.b.X += d * e.X
	m.b.Y += d * e.Y
	switch {
	case m.a.DistSq(m.b) <= Coincident*Coincident:
		return m, gone
	case grow <= 0:
		return m, inverted
	}
	return m, kept
}

// join carries the raw chain round the corner between two segments of the
// source. last is the index of the first one's piece, or -1; next is the piece
// of the second, which is yet to be added and may be cut back, if it has one.
// It returns whether there is a gap before next, and last.
func (o *offsetting) join(before, after *curve, last int, next *curve, hasNext, gap bool) (bool, int) {
	n1, n2 := before.gradient(before.b), after.n
	kink := Vec{n2.X - n1.X, n2.Y - n1.Y}
	kinkSq := kink.X*kink.X + kink.Y*kink.Y
	if kinkSq*o.d*o.d <= Coincident*Coincident {
		return gap, last
	}
	corner := after.a
	turn := n1.Cross(n2)
	if o.d < 0 {
		turn = -turn
	}
	if kinkSq*math.Abs(o.d) <= 8*slightBend {
		// So slight a bend that its middle is on both pieces.
		if last < 0 || !hasNext || gap || !o.bend(last, next, corner.Add(n1.Add(n2).Unit().Mul(o.d)), kinkSq) {
			o.add(newCurve(Line(corner.Add(n1.Mul(o.d)), corner.Add(n2.Mul(o.d)))), gap)
			gap = false
		}
		return gap, last
	}
	if bend := before.k + after.k; n1.Dot(n2) < 0 && math.Abs(turn) < max(doubledBack, min(math.Abs(bend), 1)*offsetDetail) {
		// Straight back, or off it by what the bend makes up for at once: then
		// the bend tells on which side. Two lines have both sides outside.
		if turn = 1; bend*o.d > 0 {
			turn = -1
		}
	}
	if turn > 0 {
		return o.outer(corner, n1, n2, last, next, hasNext, gap)
	}
	if last >= 0 && hasNext && !gap {
		prev := &o.raw[last].curve
		if p, ok := prev.meetsNear(next); ok && before.faces(p) && after.faces(p) {
			prev.cutEnd(p)
			next.cutStart(p)
			return false, last
		}
	}
	return true, last
}

func (o *offsetting) add(c curve, gap bool) {
	o.raw = append(o.raw, piece{curve: c, gap: gap})
}

// bend makes the last and the next piece meet in p, near the ends of both. It
// does nothing and reports false when they are too short for it.
func (o *offsetting) bend(last int, next *curve, p Point, kinkSq float64) bool {
	prev := &o.raw[last].curve
	if small := 256 * kinkSq * o.d * o.d; prev.a.DistSq(prev.b) < small || next.a.DistSq(next.b) < small {
		return false
	}
	*prev = newCurve(Segment{prev.a, p, prev.bulgeTo(p)})
	r := newCurve(next.segment().Reverse())
	*next = newCurve(Segment{p, next.b, -r.bulgeTo(p)})
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

// meetsNear returns the one point where two pieces at an inner corner cross, if
// that is near the corner: then what they have beyond it is too near to the
// other's segment.
func (c *curve) meetsNear(next *curve) (Point, bool) {
	m := c.meet(next)
	if m.n != 1 || m.at[0].onC != inside || m.at[0].onD != inside {
		return Point{}, false
	}
	p := m.at[0].Point
	// Of a large part of an arc that is not certain.
	if c.k != 0 && math.Abs(c.bulge)-c.key(p) > smallPart || next.k != 0 && next.key(p) > smallPart {
		return Point{}, false
	}
	return p, true
}

// faces reports whether the nearest point of the line or circle is on the
// curve, an arc of half a turn at most.
func (c *curve) faces(p Point) bool {
	n := c.gradient(c.b)
	return c.n.Cross(p.Sub(c.a)) >= 0 && n.Cross(p.Sub(c.b)) <= 0
}

// cutEnd makes the curve end at the point p of it.
func (c *curve) cutEnd(p Point) {
	c.b, c.bulge = p, c.partBulge(0, c.key(p))
}

// cutStart makes the curve start at the point p of it.
func (c *curve) cutStart(p Point) {
	c.bulge = c.partBulge(c.key(p), math.Abs(c.bulge))
	c.n = c.gradient(p)
	c.a = p
}

// outer carries the raw chain round an outer corner.
func (o *offsetting) outer(corner Point, n1, n2 Vec, last int, next *curve, hasNext, gap bool) (bool, int) {
	e, s := corner.Add(n1.Mul(o.d)), corner.Add(n2.Mul(o.d))
	// |n2-n1| and |n1+n2| are twice the sine and cosine of half the turn.
	sin, cos := n2.Sub(n1).Len()/2, n1.Add(n2).Len()/2
	if o.limit == 0 {
		o.add(curve{a: e, b: s, bulge: math.Copysign(sin/(1+cos), o.d), k: 1 / o.d, n: n1}, gap)
		return false, last
	}
	// Straight on by this much on both sides; to the point, or to where the
	// corner is cut.
	d := math.Abs(o.d)
	on, cutOff := 0., cos*o.limit < 1
	if cutOff {
		on = d * (o.limit - cos) / sin
	} else {
		on = d * sin / cos
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
	if last >= 0 && !gap && o.raw[last].k == 0 {
		// Longer, it may meet the arc at its start again.
		o.raw[last].b, o.raw[last].loose = p, true
	} else {
		o.add(newCurve(Line(e, p)), gap)
	}
	if cutOff {
		o.add(newCurve(Line(p, q)), false)
	}
	if hasNext && next.k == 0 {
		next.a = q
	} else {
		o.add(newCurve(Line(q, s)), false)
	}
	return false, last
}

// result cuts the raw chain and returns the good parts of it.
func (o *offsetting) result() ([]Path, error) {
	boxes := make([]Box, len(o.source), len(o.source)*3/2+8)
	for i := range boxes {
		boxes[i] = o.source[i].box()
	}
	o.near = newBoxTree(boxes)
	if len(o.wedges) > 0 {
		boxes := make([]Box, len(o.wedges), len(o.wedges)*3/2+8)
		for i := range boxes {
			boxes[i] = o.wedges[i].box
		}
		o.mitres = newBoxTree(boxes)
	}
	boxes = make([]Box, len(o.raw), len(o.raw)*3/2+8)
	for i := range boxes {
		boxes[i] = o.raw[i].box()
	}
	raw := newBoxTree(boxes)
	o.cutSelf(&raw)
	// Of an outline that nowhere meets itself nothing comes near the offset
	// from behind, unless a mitre reaches through it.
	o.crosses = o.closed && !o.simple()
	if !o.closed || o.crosses || o.piercing() {
		o.cutOther(&raw)
	}
	o.choose()
	return o.link()
}

// holds reports whether the point is in the wedge, further than the slack from
// its edges.
func (w *wedge) holds(p Point) bool {
	v, d := p.Sub(w.corner), w.distance-offsetSlack
	return w.before.Cross(v) >= 0 && v.Cross(w.after) >= 0 &&
		v.Dot(w.before) < d && v.Dot(w.after) < d && v.Dot(w.middle) < w.reach-offsetSlack
}

// simple reports whether the source nowhere meets itself.
func (o *offsetting) simple() bool {
	last := len(o.source) - 1
	return o.near.pairs(func(i, j int) bool {
		c, d := &o.source[i], &o.source[j]
		next, prev := j == i+1, o.closed && i == 0 && j == last
		b, e := &o.near.boxes[i], &o.near.boxes[j]
		if next && !prev && b.touches(e, c.a, d.b) || prev && !next && b.touches(e, c.b, d.a) {
			return true
		}
		m := c.meet(d)
		for _, e := range m.at[:m.n] {
			if !(next && e.onC == atEnd && e.onD == atStart || prev && e.onC == atStart && e.onD == atEnd) {
				return false
			}
		}
		return m.overlaps == 0
	})
}

// piercing reports whether a mitred corner may reach the source elsewhere.
func (o *offsetting) piercing() bool {
	for i := range o.wedges {
		w := &o.wedges[i]
		if !o.near.find(&w.box, func(j int) bool {
			return o.source[j].a == w.corner || o.source[j].b.DistSq(w.corner) <= Coincident*Coincident
		}) {
			return true
		}
	}
	return false
}

// touches reports whether the boxes of two curves with a joint lie beside one
// another, with the far end of one of them at least off the line between them:
// then the curves meet at the joint only.
func (b *Box) touches(c *Box, farB, farC Point) bool {
	const thin = 4 * Coincident
	off := func(f, g, line float64) bool { return math.Abs(f-line) > thin || math.Abs(g-line) > thin }
	return b.Max.X-c.Min.X <= thin && off(farB.X, farC.X, c.Min.X) ||
		c.Max.X-b.Min.X <= thin && off(farB.X, farC.X, b.Min.X) ||
		b.Max.Y-c.Min.Y <= thin && off(farB.Y, farC.Y, c.Min.Y) ||
		c.Max.Y-b.Min.Y <= thin && off(farB.Y, farC.Y, b.Min.Y)
}

// cutSelf cuts the raw chain where it meets itself.
func (o *offsetting) cutSelf(t *boxTree) {
	n := len(o.raw)
	t.pairs(func(i, j int) bool {
		// Neighbours only meet at their joint, see join and trim.
		if n > 2 && (j == i+1 && o.raw[j].attached() || o.closed && i == 0 && j == n-1 && o.raw[0].attached()) {
			return true
		}
		c, d := &o.raw[i].curve, &o.raw[j].curve
		m := c.meet(d)
		for k := range m.n {
			e := &m.at[k]
			id := o.node()
			o.cuts = append(o.cuts,
				cut{e.Point, c.keyAt(e.onC, e.Point), int32(i), id},
				cut{e.Point, d.keyAt(e.onD, e.Point), int32(j), id})
		}
		o.overlap = o.overlap || m.overlaps > 0
		return true
	})
}

// cutOther cuts the raw chain where it comes into reach of the source from the
// other side or round an end.
func (o *offsetting) cutOther(t *boxTree) {
	other := offsetting{d: -o.d, closed: o.closed, source: o.source}
	other.draw()
	if !o.closed {
		first, last := &o.source[0], &o.source[len(o.source)-1]
		turn := math.Copysign(1, o.d)
		n := first.n.Mul(o.d)
		other.add(newCurve(Segment{first.a.Add(n.Neg()), first.a.Add(n), turn}), true)
		n = last.gradient(last.b).Mul(o.d)
		other.add(newCurve(Segment{last.b.Add(n), last.b.Add(n.Neg()), turn}), true)
	}
	boxes := make([]Box, len(other.raw), len(other.raw)*3/2+8)
	for i := range boxes {
		boxes[i] = other.raw[i].box()
	}
	u := newBoxTree(boxes)
	end := len(o.raw) - 1
	t.pairsWith(&u, func(i, j int) bool {
		c := &o.raw[i].curve
		m := c.meet(&other.raw[j].curve)
		for k := range m.n {
			e := &m.at[k]
			if !o.closed && (i == 0 && e.onC == atStart || i == end && e.onC == atEnd) {
				continue
			}
			o.cuts = append(o.cuts, cut{e.Point, c.keyAt(e.onC, e.Point), int32(i), o.node()})
		}
		return true
	})
}

func (o *offsetting) node() int32 {
	id := int32(len(o.nodes))
	o.nodes = append(o.nodes, node{same: id, first: -1})
	return id
}

// root returns the node that stands for all at the same place.
func (o *offsetting) root(id int32) int32 {
	for o.nodes[id].same != id {
		o.nodes[id].same = o.nodes[o.nodes[id].same].same
		id = o.nodes[id].same
	}
	return id
}

// part is a part of one piece of the raw chain.
type part struct {
	a, b     Point
	from, to float64 // keys
	piece    int
}

func (o *offsetting) segment(p part) Segment {
	return Segment{p.a, p.b, o.raw[p.piece].partBulge(p.from, p.to)}
}

// span returns the first piece of the slice and how many pieces it is on.
func (o *offsetting) span(s *slice) (first, count int) {
	last := len(o.raw) - 1
	if s.from >= 0 {
		first = int(o.cuts[s.from].piece)
	}
	if s.to >= 0 {
		last = int(o.cuts[s.to].piece)
	}
	if s.from >= 0 && s.to >= 0 && s.to <= s.from {
		last += len(o.raw)
	}
	return first, last - first + 1
}

// part returns the i-th of count parts of the slice, the first of which is on
// the piece first.
func (o *offsetting) part(s *slice, first, count, i int) part {
	k := first + i
	if k >= len(o.raw) {
		k -= len(o.raw)
	}
	c := &o.raw[k].curve
	p := part{c.a, c.b, 0, c.fullKey(), k}
	if i == 0 && s.from >= 0 {
		p.a, p.from = o.cuts[s.from].Point, o.cuts[s.from].key
	}
	if i == count-1 && s.to >= 0 {
		p.b, p.to = o.cuts[s.to].Point, o.cuts[s.to].key
	}
	return p
}

// choose makes the slices and finds the good ones.
func (o *offsetting) choose() {
	slices.SortFunc(o.cuts, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.piece, b.piece), cmp.Compare(a.key, b.key))
	})
	n := int32(len(o.cuts))
	o.slices = make([]slice, 0, n+1)
	switch {
	case n == 0:
		o.slices = append(o.slices, slice{from: -1, to: -1})
	case o.closed:
		for i := range n - 1 {
			o.slices = append(o.slices, slice{from: i, to: i + 1})
		}
		o.slices = append(o.slices, slice{from: n - 1, to: 0})
	default:
		for i := range n + 1 {
			o.slices = append(o.slices, slice{from: i - 1, to: i})
		}
		o.slices[n].to = -1
	}
	for i := range o.slices {
		s := &o.slices[i]
		s.next = -1
		s.good = o.check(s)
	}
	if o.overlap {
		o.dropDoubles()
	}
	for i := len(o.slices) - 1; i >= 0; i-- {
		if s := &o.slices[i]; s.good && s.from >= 0 {
			at := &o.nodes[o.root(o.cuts[s.from].node)]
			s.next, at.first = at.first, int32(i)
		}
	}
}

// check reports whether the slice is nowhere too near to the source. It makes
// the ends of a slice without length one.
func (o *offsetting) check(s *slice) bool {
	first, count := o.span(s)
	longest, where := -1., 0
	tiny := s.from >= 0 && s.to >= 0 && s.to != s.from
	whole := s.from >= 0 || !o.closed || !o.raw[0].gap
	for i := range count {
		p := o.part(s, first, count, i)
		if i > 0 && o.raw[p.piece].gap {
			whole = false
		}
		if l := p.a.DistSq(p.b); l > longest {
			longest, where = l, i
		}
		tiny = tiny && p.b.DistSq(o.cuts[s.from].Point) <= nodeSize*nodeSize
	}
	if tiny {
		o.nodes[o.root(o.cuts[s.from].node)].same = o.root(o.cuts[s.to].node)
		return false
	}
	if !whole {
		if longest > lostLength*lostLength {
			x := apex(o.segment(o.part(s, first, count, where)))
			if o.isClear(x) && o.clearBy(x, math.Abs(o.d)-2*slightBend) && !o.clearBy(x, math.Abs(o.d)+nodeSize) {
				o.lost, o.lostAt = true, x
			}
		}
		return false
	}
	// One place tells, but for a slice that is too near by less than the slack
	// there: such a one is so everywhere, and by more in other places.
	p := o.part(s, first, count, where)
	exact := false
	for _, t := range [3]float64{0.5, 0.1, 0.9} {
		x := o.raw[p.piece].at(p.from + t*(p.to-p.from))
		if !o.isClear(x) {
			return false
		}
		exact = exact || o.clearBy(x, math.Abs(o.d)-2*slightBend)
	}
	if !exact {
		return false
	}
	for _, i := range [2]int{(where + count/3) % count, (where + 2*count/3) % count} {
		if i != where && !o.isClear(apex(o.segment(o.part(s, first, count, i)))) {
			return false
		}
	}
	return o.isClear(o.part(s, first, count, 0).a) && o.isClear(o.part(s, first, count, count-1).b)
}

// isClear reports whether the point is far enough from the source.
func (o *offsetting) isClear(p Point) bool {
	return o.clearBy(p, o.clear) && (len(o.wedges) == 0 ||
		o.mitres.find(&Box{p, p}, func(i int) bool { return !o.wedges[i].holds(p) }))
}

// clearBy reports whether the source is nowhere nearer to the point than d.
func (o *offsetting) clearBy(p Point, d float64) bool {
	b := Box{Point{p.X - d, p.Y - d}, Point{p.X + d, p.Y + d}}
	return o.near.find(&b, func(i int) bool { return !o.source[i].within(p, d) })
}

// within reports whether the curve, an arc of half a turn at most, comes nearer
// to p than d.
func (c *curve) within(p Point, d float64) bool {
	if d <= 0 {
		return false
	}
	if p.DistSq(c.a) < d*d || p.DistSq(c.b) < d*d {
		return true
	}
	// A distance s from the circle is the gap s + k s^2/2; beyond the centre
	// there are no more.
	g, bend := c.gap(p), c.k*d*d/2
	if c.k*d > -1 && g >= d+bend || c.k*d < 1 && g <= -d+bend {
		return false
	}
	return c.faces(p)
}

// dropDoubles drops slices that lie on another good one: both when they run
// against each other, for what is between them has no width.
func (o *offsetting) dropDoubles() {
	type ends struct{ a, b int32 }
	seen := map[ends][]int{}
	for i := range o.slices {
		s := &o.slices[i]
		if !s.good || s.from < 0 || s.to < 0 {
			continue
		}
		a, b := o.root(o.cuts[s.from].node), o.root(o.cuts[s.to].node)
		e := ends{min(a, b), max(a, b)}
		for _, j := range seen[e] {
			t := &o.slices[j]
			if t.good && s.good && o.middle(s).DistSq(o.middle(t)) <= nodeSize*nodeSize {
				s.good = false
				t.good = o.root(o.cuts[t.from].node) == a && a != b
			}
		}
		seen[e] = append(seen[e], i)
	}
}

// middle returns a point in the middle of a slice on one piece.
func (o *offsetting) middle(s *slice) Point {
	first, count := o.span(s)
	return apex(o.segment(o.part(s, first, count, count/2)))
}

// link joins the good slices to paths.
func (o *offsetting) link() ([]Path, error) {
	var out []Path
	used := make([]bool, len(o.slices))
	if !o.closed {
		// Open chains begin where more good slices start than end.
		begin := make([]int, len(o.nodes))
		for i := range o.slices {
			if s := &o.slices[i]; s.good {
				if s.from >= 0 {
					begin[o.root(o.cuts[s.from].node)]++
				}
				if s.to >= 0 {
					begin[o.root(o.cuts[s.to].node)]--
				}
			}
		}
		for i := range o.slices {
			s := &o.slices[i]
			if !s.good || used[i] {
				continue
			}
			if s.from >= 0 {
				n := &begin[o.root(o.cuts[s.from].node)]
				if *n <= 0 {
					continue
				}
				*n--
			}
			chain, _ := o.follow(i, used)
			out = append(out, o.path(chain, false))
		}
	}
	for i := range o.slices {
		if !o.slices[i].good || used[i] {
			continue
		}
		chain, closed := o.follow(i, used)
		p := o.path(chain, closed)
		switch {
		case closed && len(p.V) > 1 && !o.hollow(chain, p):
			out = append(out, p)
		case !closed && o.closed && p.Length() > lostLength && o.beside(chain):
			o.lost, o.lostAt = true, p.End()
		}
	}
	if o.lost && !(o.crosses && len(out) > 0) {
		return nil, fmt.Errorf("the path cannot be offset by %g mm near (%.3f, %.3f), where it crosses itself or as good as does: draw it without the loop there",
			o.d, o.lostAt.X, o.lostAt.Y)
	}
	return out, nil
}

// beside reports whether some of the slices are at the distance from the
// source, unlike the points of mitres that reach through it.
func (o *offsetting) beside(chain []int) bool {
	return slices.ContainsFunc(chain, func(i int) bool {
		return !o.clearBy(o.middle(&o.slices[i]), math.Abs(o.d)+nodeSize)
	})
}

// follow returns the slices that follow on from the one, itself first, and
// whether the last leads back to it. It marks them as used.
func (o *offsetting) follow(start int, used []bool) (chain []int, closed bool) {
	for i := start; ; {
		used[i] = true
		chain = append(chain, i)
		s := &o.slices[i]
		if s.to < 0 {
			return chain, o.closed && s.from < 0
		}
		// Straight on if that is good, else over to the other piece.
		at := o.root(o.cuts[s.to].node)
		next := -1
		for j := int(o.nodes[at].first); j >= 0; j = int(o.slices[j].next) {
			if j == start && o.slices[start].from >= 0 {
				return chain, true
			}
			if !used[j] && (next < 0 || o.slices[j].from == s.to) {
				next = j
			}
		}
		if next < 0 {
			return chain, false
		}
		i = next
	}
}

// path returns the path along the slices, with what was cut to no purpose put
// together again.
func (o *offsetting) path(chain []int, closed bool) Path {
	n := 1
	for _, i := range chain {
		_, count := o.span(&o.slices[i])
		n += count
	}
	parts := make([]part, 0, n)
	for _, i := range chain {
		s := &o.slices[i]
		first, count := o.span(s)
		for j := range count {
			p := o.part(s, first, count, j)
			if k := len(parts) - 1; k >= 0 && parts[k].piece == p.piece && parts[k].to == p.from {
				parts[k].b, parts[k].to = p.b, p.to
			} else if p.a.DistSq(p.b) > Coincident*Coincident {
				parts = append(parts, p)
			}
		}
	}
	if k := len(parts) - 1; closed && k > 0 && parts[k].piece == parts[0].piece && parts[k].to == parts[0].from {
		parts[0].a, parts[0].from = parts[k].a, parts[k].from
		parts = parts[:k]
	}
	if k := len(parts) - 1; closed && k > 0 && o.continues(&parts[k], &parts[0]) {
		parts = append(parts[1:], parts[0])
	}
	v := make([]Vertex, 0, len(parts)+1)
	for i, p := range parts {
		s := o.segment(p)
		if i > 0 && o.continues(&parts[i-1], &p) {
			// The quarter sweeps add up.
			w := &v[len(v)-1]
			if b := (w.Bulge + s.Bulge) / (1 - w.Bulge*s.Bulge); math.Abs(b) <= wholeBulge && b*s.Bulge > 0 {
				w.Bulge = b
				continue
			}
		}
		v = append(v, Vertex{s.A, s.Bulge})
	}
	if !closed && len(parts) > 0 {
		v = append(v, Vertex{Point: parts[len(parts)-1].b})
	}
	return Path{V: v, Closed: closed}
}

// continues reports whether the part goes on with the arc of the other one.
func (o *offsetting) continues(other, p *part) bool {
	return o.raw[p.piece].continues && p.from == 0 &&
		other.piece == p.piece-1 && other.to == o.raw[other.piece].fullKey()
}

// hollow reports whether the closed path of the slices has no width to speak
// of: then it is only there by the slack.
func (o *offsetting) hollow(chain []int, p Path) bool {
	for _, i := range chain {
		if o.clearBy(o.middle(&o.slices[i]), math.Abs(o.d)-Coincident/100) {
			return false
		}
	}
	return math.Abs(p.Area()) <= 2*offsetSlack*p.Length()
}
