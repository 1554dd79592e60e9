package strip

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// cull drops hulls that others cover together, the smallest first: what is inside of them is
// inside of the others. A hem with many valleys leaves about a quarter. The edges of
// those take no more room than they need.
func (r *relation) cull() {
	rings, areas := r.rings()
	c := cover{relation: r, kept: make([]int32, len(rings))}
	for i := range c.kept {
		c.kept[i] = int32(i)
	}
	slices.SortStableFunc(c.kept, func(i, k int32) int { return cmp.Compare(areas[k], areas[i]) })
	for c.but = len(rings) - 1; c.but >= 0; c.but-- {
		if ring := rings[c.kept[c.but]]; ring != nil && c.covers(ring) {
			c.kept = slices.Delete(c.kept, c.but, c.but+1)
		}
	}
	n := int(r.whole.to - r.whole.from)
	for _, i := range c.kept {
		n += int(r.hulls[i].to - r.hulls[i].from)
	}
	hulls := make([]hull, 0, len(c.kept))
	edges := make([]edge, 0, n)
	take := func(h hull) hull {
		from := int32(len(edges))
		edges = append(edges, r.edges[h.from:h.to]...)
		h.from, h.to = from, int32(len(edges))
		return h
	}
	for _, i := range c.kept {
		hulls = append(hulls, take(r.hulls[i]))
	}
	r.whole = take(r.whole)
	r.hulls, r.edges = hulls, edges
}

// rings returns the corners of all hulls, counter-clockwise, and their areas. A hull in which two edges that
// follow one another are parallel has none.
func (r *relation) rings() (rings [][]path.Point, areas []float64) {
	rings, areas = make([][]path.Point, len(r.hulls)), make([]float64, len(r.hulls))
	all := make([]path.Point, 0, len(r.edges))
hulls:
	for i, h := range r.hulls {
		from, edges := len(all), r.edges[h.from:h.to]
		for k, e := range edges {
			f := edges[(k+1)%len(edges)]
			if math.Abs(e.nx*f.ny-e.ny*f.nx) < parallel {
				continue hulls
			}
			all = append(all, e.meet(f))
		}
		rings[i] = all[from:]
		areas[i] = areaOf(rings[i])
	}
	return rings, areas
}

// cover is hulls of a relation that may cover a region together. They count as smaller by
// twice the slack, so that rounding leaves no gap between two of them.
type cover struct {
	*relation
	kept   []int32      // the largest first
	but    int          // which of them does not count
	cuts   int          // how many more a region may be cut into
	points []path.Point // of the regions that are looked at
}

// covers reports whether the others cover a convex ring that runs counter-clockwise; false, too, when it is hard to see.
func (c *cover) covers(ring []path.Point) bool {
	last := int32(-1)
	for _, p := range ring { // most that are not covered have a corner that is not
		if last >= 0 && c.holds(last, p) {
			continue
		}
		if last = c.find(p); last < 0 {
			return false
		}
	}
	c.cuts = mostCuts
	return c.coversAll(ring)
}

// coversAll cuts off what is outside of one of the hulls, edge by edge, for the others to cover.
func (c *cover) coversAll(ring []path.Point) bool {
	box := boxOf(ring)
	if areaOf(ring) <= c.slack*max(box.Width(), box.Height())/2 {
		return true // narrower than by what the hulls count as smaller
	}
	c.cuts--
	i := c.find(middleOf(ring))
	if c.cuts < 0 || i < 0 {
		return false
	}
	h := &c.hulls[i]
	from := len(c.points)
	defer func() { c.points = c.points[:from] }()
	for _, e := range c.edges[h.from:h.to] {
		e.d -= 2 * c.slack
		if !e.leaves(ring) {
			continue
		}
		start := len(c.points)
		c.points = e.appendOutside(c.points, ring)
		if !c.coversAll(c.points[start:]) {
			return false
		}
		c.points = edge{-e.nx, -e.ny, -e.d}.appendOutside(c.points[:start], ring)
		ring = c.points[start:]
	}
	return true
}

// find returns the largest of the hulls that a point is in, or -1.
func (c *cover) find(p path.Point) int32 {
	for at, i := range c.kept {
		if at != c.but && c.holds(i, p) {
			return i
		}
	}
	return -1
}

// holds reports whether a point is in a hull.
func (c *cover) holds(i int32, p path.Point) bool {
	h := &c.hulls[i]
	if p.X <= h.x0 || p.X >= h.x1 || p.Y <= h.y0 || p.Y >= h.y1 {
		return false
	}
	for _, e := range c.edges[h.from:h.to] {
		if e.nx*p.X+e.ny*p.Y > e.d-2*c.slack {
			return false
		}
	}
	return true
}

// leaves reports whether some of a ring is outside of the edge.
func (e edge) leaves(ring []path.Point) bool {
	return slices.ContainsFunc(ring, func(p path.Point) bool { return e.nx*p.X+e.ny*p.Y > e.d })
}

// appendOutside appends the ring of what of a convex ring is outside of the edge.
func (e edge) appendOutside(list, ring []path.Point) []path.Point {
	p := ring[len(ring)-1]
	g := e.nx*p.X + e.ny*p.Y - e.d
	for _, q := range ring {
		h := e.nx*q.X + e.ny*q.Y - e.d
		if (g > 0) != (h > 0) {
			list = append(list, p.Lerp(q, g/(g-h)))
		}
		if h > 0 {
			list = append(list, q)
		}
		p, g = q, h
	}
	return list
}

func middleOf(ring []path.Point) path.Point {
	var sum path.Vec
	for _, p := range ring {
		sum = sum.Add(p.Sub(path.Point{}))
	}
	return path.Point{}.Add(sum.Mul(1 / float64(len(ring))))
}
