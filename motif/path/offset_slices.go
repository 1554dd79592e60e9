package path

import (
	"cmp"
	"math"
	"slices"
)

// result cuts the raw chain and returns the good parts of it.
func (o *offsetting) result() ([]Path, error) {
	o.near = newBoxTree(len(o.source), func(i int) Box { return o.source[i].box() })
	o.mitres = newBoxTree(len(o.wedges), func(i int) Box { return o.wedges[i].box })
	raw := newBoxTree(len(o.raw), func(i int) Box { return o.raw[i].box() })
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
		if o.near.boxes[i].onlyJoin(&o.near.boxes[j], c, d, next, prev) {
			return true
		}
		m := c.meet(d)
		for k := range m.n {
			if !m.joint(k, next, prev) {
				return false
			}
		}
		return true
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

// cutSelf cuts the raw chain where it meets itself.
func (o *offsetting) cutSelf(t *boxTree) {
	n := len(o.raw)
	t.pairs(func(i, j int) bool {
		next := j == i+1 && !o.raw[j].gap
		prev := o.closed && i == 0 && j == n-1 && !o.raw[0].gap
		if n > 2 && (next && !o.raw[j].loose || prev && !o.raw[0].loose) {
			return true
		}
		c, d := &o.raw[i].curve, &o.raw[j].curve
		m := c.meet(d)
		for k := range m.n {
			if m.joint(k, next, prev) {
				continue
			}
			e, id := &m.at[k], o.node()
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
		end := newCurve(Segment{first.a.Add(n.Neg()), first.a.Add(n), turn})
		other.add(&end)
		n = last.gradient(last.b).Mul(o.d)
		end = newCurve(Segment{last.b.Add(n), last.b.Add(n.Neg()), turn})
		other.add(&end)
	}
	u := newBoxTree(len(other.raw), func(i int) Box { return other.raw[i].box() })
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
	for i, k := 0, first; i < count; i, k = i+1, k+1 {
		if k == len(o.raw) {
			k = 0
		}
		c := &o.raw[k]
		a, b := c.a, c.b
		if i == 0 && s.from >= 0 {
			a = o.cuts[s.from].Point
		}
		if i == count-1 && s.to >= 0 {
			b = o.cuts[s.to].Point
		}
		whole = whole && (i == 0 || !c.gap)
		if l := a.DistSq(b); l > longest {
			longest, where = l, i
		}
		tiny = tiny && b.DistSq(o.cuts[s.from].Point) <= nodeSize*nodeSize
	}
	if tiny {
		o.nodes[o.root(o.cuts[s.from].node)].same = o.root(o.cuts[s.to].node)
		return false
	}
	if !whole {
		if longest > lostLength*lostLength {
			x := apex(o.segment(o.part(s, first, count, where)))
			if o.isClear(x) && o.clearBy(x, o.exact) && !o.clearBy(x, math.Abs(o.d)+nodeSize) {
				o.lost = append(o.lost, x)
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
		exact = exact || o.clearBy(x, o.exact)
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
	return o.clearBy(p, o.clear) &&
		o.mitres.find(&Box{p, p}, func(i int) bool { return !o.wedges[i].holds(p) })
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
