package strip

import (
	"math"

	"engrail/motif/path"
)

// edge is a half-plane: points with nx x + ny y < d are inside of it. The normal has the
// length 1.
type edge struct{ nx, ny, d float64 }

// hull is a convex region of a relation: its box and its edges.
type hull struct {
	x0, y0, x1, y1 float64
	from, to       int32
}

// relation is where the place of a shape, seen from that of another, makes the two
// overlap: the no-fit polygon of both, as the union of those of all pairs of convex
// parts, which are convex. Inside of it is what is nearer than the two margins.
type relation struct {
	x0, y0, x1, y1 float64
	hulls          []hull
	edges          []edge
}

// newRelation returns the relation of a to b; slack is by how much they may overlap.
func newRelation(a, b *shape, slack float64) *relation {
	r := &relation{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1)}
	var sum []path.Point
	apart := a.margin + b.margin - slack
	for _, p := range a.parts {
		for _, q := range b.parts {
			sum = appendDifference(sum[:0], q, p)
			r.add(sum, apart)
		}
	}
	return r
}

// mirror mirrors the relation.
func (r *relation) mirror(sign path.Vec) {
	if sign.X < 0 {
		r.x0, r.x1 = -r.x1, -r.x0
	}
	if sign.Y < 0 {
		r.y0, r.y1 = -r.y1, -r.y0
	}
	for i := range r.hulls {
		h := &r.hulls[i]
		if sign.X < 0 {
			h.x0, h.x1 = -h.x1, -h.x0
		}
		if sign.Y < 0 {
			h.y0, h.y1 = -h.y1, -h.y0
		}
	}
	for i := range r.edges {
		r.edges[i].nx *= sign.X
		r.edges[i].ny *= sign.Y
	}
}

// appendDifference appends the outline of all q - p, counter-clockwise: both are convex
// and run counter-clockwise.
func appendDifference(sum []path.Point, q, p []path.Point) []path.Point {
	// The lowest point of q, and the highest of p, which is the lowest of -p.
	i, k := 0, 0
	for m, v := range q {
		if v.Y < q[i].Y || v.Y == q[i].Y && v.X < q[i].X {
			i = m
		}
	}
	for m, v := range p {
		if v.Y > p[k].Y || v.Y == p[k].Y && v.X > p[k].X {
			k = m
		}
	}
	for a, b := 0, 0; a < len(q) || b < len(p); {
		u, w := q[(i+a)%len(q)], p[(k+b)%len(p)]
		sum = append(sum, path.Point{X: u.X - w.X, Y: u.Y - w.Y})
		s := q[(i+a+1)%len(q)].Sub(u)
		t := w.Sub(p[(k+b+1)%len(p)])
		switch turn := s.Cross(t); {
		case b >= len(p) || a < len(q) && turn > 0:
			a++
		case a >= len(q) || turn < 0:
			b++
		default:
			a++
			b++
		}
	}
	return sum
}

// add adds a convex region, grown by a distance: its corners are cut off so that they
// stay near the circle.
func (r *relation) add(ring []path.Point, apart float64) {
	h := hull{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1), from: int32(len(r.edges))}
	var before path.Vec
	has := false
	var first path.Vec
	add := func(n path.Vec, p path.Point) {
		r.edges = append(r.edges, edge{n.X, n.Y, n.X*p.X + n.Y*p.Y + apart})
	}
	corner := func(from, to path.Vec, p path.Point) {
		if apart <= 0 {
			return
		}
		turn := from.AngleTo(to)
		n := int(turn / cornerTurn)
		for i := range n {
			add(from.Rotate(turn*float64(i+1)/float64(n+1)), p)
		}
	}
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		h.x0, h.y0, h.x1, h.y1 = min(h.x0, p.X-apart), min(h.y0, p.Y-apart), max(h.x1, p.X+apart), max(h.y1, p.Y+apart)
		side := q.Sub(p)
		if side.Len() == 0 {
			continue
		}
		n := side.Unit().Right()
		if has {
			if math.Abs(before.AngleTo(n)) < straight {
				continue // in one line with the side before
			}
			corner(before, n, p)
		} else {
			first, has = n, true
		}
		add(n, p)
		before = n
	}
	if has {
		corner(before, first, ring[0])
	}
	h.to = int32(len(r.edges))
	r.hulls = append(r.hulls, h)
	r.x0, r.y0, r.x1, r.y1 = min(r.x0, h.x0), min(r.y0, h.y0), max(r.x1, h.x1), max(r.y1, h.y1)
}

// depth is by how much the two overlap: the sum over pairs of parts of the least
// distance that would part them; 0 when they do not.
func (r *relation) depth(x, y float64) float64 {
	sum := 0.0
	for i := range r.hulls {
		sum += r.hullDepth(&r.hulls[i], x, y)
	}
	return sum
}

func (r *relation) hullDepth(h *hull, x, y float64) float64 {
	if x <= h.x0 || x >= h.x1 || y <= h.y0 || y >= h.y1 {
		return 0
	}
	least := math.MaxFloat64
	for _, e := range r.edges[h.from:h.to] {
		g := e.d - e.nx*x - e.ny*y
		if g <= 0 {
			return 0
		}
		if g < least {
			least = g
		}
	}
	return least
}

// span returns the part of the line x + t dx, y + t dy that is inside of the hull; from is not
// below to when there is none.
func (r *relation) span(h *hull, x, y, dx, dy, from, to float64) (float64, float64) {
	for _, e := range r.edges[h.from:h.to] {
		g := e.d - e.nx*x - e.ny*y
		s := e.nx*dx + e.ny*dy
		switch {
		case s > parallel:
			if t := g / s; t < to {
				to = t
			}
		case s < -parallel:
			if t := g / s; t > from {
				from = t
			}
		case g <= 0:
			return 1, 0
		}
		if from >= to {
			return 1, 0
		}
	}
	return from, to
}
