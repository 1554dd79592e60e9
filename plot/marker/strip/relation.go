package strip

import (
	"math"
	"slices"
	"sync/atomic"

	"engrail/motif/path"
)

// edge is a half-plane: points with nx x + ny y < d are inside of it. The normal has the
// length 1.
type edge struct{ nx, ny, d float64 }

// hull is a convex region of a relation: its box, its edges and its corners, counter-clockwise.
type hull struct {
	x0, y0, x1, y1 float64
	from, to       int32 // the edges, and the corners where they begin
	low, left      int32 // of its corners, the lowest and the leftmost
}

// relation is where the place of a shape, seen from that of another, makes the two
// overlap: the no-fit polygon of both, as the union of those of all pairs of convex
// parts, which are convex. Inside of it is what is nearer than the two margins.
type relation struct {
	x0, y0, x1, y1 float64
	raster         atomic.Pointer[raster]
	whole          hull // convex, with all others in it, when there are several
	hulls          []hull
	edges          []edge
	xs, ys         []float64 // of all corners
	slack          float64   // a depth up to it counts as none
	turn           float64   // in steps of which corners are cut off
}

// newRelation returns the relation of a to b; slack is by how much they may overlap
// so that there is room where they touch, and again so that touching is no overlap in spite of
// rounding. Corners are cut off in steps of a turn where there are margins.
func newRelation(a, b *shape, slack, turn float64) *relation {
	r := between(a, b, slack, turn)
	if len(r.hulls) <= mostCulled {
		r.cull()
	} else {
		r.edges = slices.Clone(r.edges)
	}
	return r
}

// between returns the relation with the hulls of all pairs of parts.
func between(a, b *shape, slack, turn float64) *relation {
	r := &relation{turn: turn, x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1), slack: slack}
	var sum []path.Point
	many := len(a.parts)*len(b.parts) > 1
	apart := a.margin + b.margin - slack
	for _, p := range a.parts {
		for _, q := range b.parts {
			sum = appendDifference(sum[:0], q, p)
			r.add(sum, apart)
		}
	}
	if many {
		r.add(appendDifference(sum[:0], b.hull, a.hull), apart)
		last := len(r.hulls) - 1
		r.whole = r.hulls[last]
		r.hulls = r.hulls[:last]
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
		r.hulls[i].mirror(sign)
	}
	r.whole.mirror(sign)
	for i := range r.edges {
		r.edges[i].nx *= sign.X
		r.edges[i].ny *= sign.Y
	}
}

func (h *hull) mirror(sign path.Vec) {
	if sign.X < 0 {
		h.x0, h.x1 = -h.x1, -h.x0
	}
	if sign.Y < 0 {
		h.y0, h.y1 = -h.y1, -h.y0
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
	for i, p := range ring {
		h.x0, h.y0, h.x1, h.y1 = min(h.x0, p.X-apart), min(h.y0, p.Y-apart), max(h.x1, p.X+apart), max(h.y1, p.Y+apart)
		side := ring[(i+1)%len(ring)].Sub(p)
		length := math.Sqrt(side.Dot(side))
		if length == 0 {
			continue
		}
		n := path.Vec{X: side.Y / length, Y: -side.X / length}
		if k := len(r.edges) - 1; k >= int(h.from) {
			before := path.Vec{X: r.edges[k].nx, Y: r.edges[k].ny}
			if math.Abs(before.Cross(n)) < straight && before.Dot(n) > 0 {
				continue // in one line with the side before
			}
			r.round(before, n, p, apart)
		}
		r.edges = append(r.edges, edge{n.X, n.Y, n.X*p.X + n.Y*p.Y + apart})
	}
	if first, last := int(h.from), len(r.edges)-1; last > first {
		a, b := path.Vec{X: r.edges[last].nx, Y: r.edges[last].ny}, path.Vec{X: r.edges[first].nx, Y: r.edges[first].ny}
		if math.Abs(a.Cross(b)) < straight && a.Dot(b) > 0 {
			r.edges = r.edges[:last] // in one line with the first side
		} else {
			r.round(a, b, ring[0], apart)
		}
	}
	h.to = int32(len(r.edges))
	r.hulls = append(r.hulls, h)
	r.x0, r.y0, r.x1, r.y1 = min(r.x0, h.x0), min(r.y0, h.y0), max(r.x1, h.x1), max(r.y1, h.y1)
}

// round cuts off the corner at p between two sides with the given normals.
func (r *relation) round(before, after path.Vec, p path.Point, apart float64) {
	if apart <= 0 || before.Dot(after) > cornerCos {
		return
	}
	turn := before.AngleTo(after)
	n := int(turn / r.turn)
	for i := range n {
		v := before.Rotate(turn * float64(i+1) / float64(n+1))
		r.edges = append(r.edges, edge{v.X, v.Y, v.X*p.X + v.Y*p.Y + apart})
	}
}

// depth is by how much the two overlap: the sum over pairs of parts of the least
// distance that would part them; 0 when they do not.
func (r *relation) depth(x, y float64) float64 {
	sum := 0.0
	if len(r.hulls) > 1 && r.hullDepth(&r.whole, x, y) == 0 {
		return 0
	}
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
		if g <= r.slack {
			return 0
		}
		if g < least {
			least = g
		}
	}
	return least
}

// findCorners finds the corners of all hulls, and puts edges in order that a mirror has left
// clockwise.
func (r *relation) findCorners() {
	r.xs, r.ys = make([]float64, len(r.edges)), make([]float64, len(r.edges))
	for i := range r.hulls {
		h := &r.hulls[i]
		edges, xs, ys := r.edges[h.from:h.to], r.xs[h.from:h.to], r.ys[h.from:h.to]
		if edges[0].nx*edges[1].ny < edges[0].ny*edges[1].nx {
			slices.Reverse(edges)
		}
		h.low, h.left = 0, 0
		e := edges[len(edges)-1]
		for k, f := range edges {
			p := e.meet(f)
			xs[k], ys[k] = p.X, p.Y
			if p.Y < ys[h.low] {
				h.low = int32(k)
			}
			if p.X < xs[h.left] {
				h.left = int32(k)
			}
			e = f
		}
	}
}

// meet returns where two edges that are not parallel meet.
func (e edge) meet(f edge) path.Point {
	across := e.nx*f.ny - e.ny*f.nx
	return path.Point{X: (e.d*f.ny - f.d*e.ny) / across, Y: (e.nx*f.d - f.nx*e.d) / across}
}

// span returns from where to where a line along x, at a height of the hull's box, is inside of the
// hull; from is not below to when it only passes by.
func (r *relation) span(h *hull, y float64) (from, to float64) {
	xs, ys := r.xs[h.from:h.to], r.ys[h.from:h.to]
	return max(h.x0, valueAt(y, ys, xs, int(h.low), -1)), min(h.x1, valueAt(y, ys, xs, int(h.low), 1))
}

// spanUp is the same for a line along y, at an x of the hull's box.
func (r *relation) spanUp(h *hull, x float64) (from, to float64) {
	xs, ys := r.xs[h.from:h.to], r.ys[h.from:h.to]
	return max(h.y0, valueAt(x, xs, ys, int(h.left), 1)), min(h.y1, valueAt(x, xs, ys, int(h.left), -1))
}

// valueAt walks round a hull from the corner k with the least coordinate, and returns what the other
// coordinate is where the first one is at.
func valueAt(at float64, coordinates, others []float64, k, step int) float64 {
	i := k
	for range coordinates {
		if coordinates[k] >= at {
			break
		}
		i = k
		if k += step; k < 0 {
			k = len(coordinates) - 1
		} else if k == len(coordinates) {
			k = 0
		}
	}
	p, q := coordinates[i], coordinates[k]
	if p == q {
		return others[k]
	}
	return others[i] + (others[k]-others[i])*(at-p)/(q-p)
}

// raster is what the depth of a relation is at the corners of a grid over its box, row by row, in
// units of the deepest by 255.
type raster struct {
	unit   float64
	depths [rasterSide * rasterSide]uint8
}

// sample makes the raster.
func (r *relation) sample() *raster {
	var made raster
	var depths [rasterSide * rasterSide]float64
	dx, dy := (r.x1-r.x0)/(rasterSide-1), (r.y1-r.y0)/(rasterSide-1)
	for k := 1; k < rasterSide-1; k++ { // it is 0 on the border
		for i := 1; i < rasterSide-1; i++ {
			d := r.depth(r.x0+float64(i)*dx, r.y0+float64(k)*dy)
			depths[k*rasterSide+i] = d
			made.unit = max(made.unit, d/255)
		}
	}
	for k, d := range depths {
		if d > 0 {
			made.depths[k] = uint8(min(255, math.Ceil(d/made.unit)))
		}
	}
	r.raster.Store(&made)
	return &made
}

// nearDepth is about the depth: where there are many hulls it is interpolated between the corners of the
// raster, which is made when it is first asked for.
func (r *relation) nearDepth(x, y float64) float64 {
	if !(x > r.x0 && x < r.x1 && y > r.y0 && y < r.y1) {
		return 0
	}
	if len(r.hulls) < leastSampled {
		return r.depth(x, y)
	}
	at := r.raster.Load()
	if at == nil {
		at = r.sample()
	}
	x, y = (x-r.x0)*(rasterSide-1)/(r.x1-r.x0), (y-r.y0)*(rasterSide-1)/(r.y1-r.y0)
	i, k := min(int(x), rasterSide-2), min(int(y), rasterSide-2)
	x, y = x-float64(i), y-float64(k)
	c := at.depths[k*rasterSide+i:][:rasterSide+2]
	low := float64(c[0])*(1-x) + float64(c[1])*x
	high := float64(c[rasterSide])*(1-x) + float64(c[rasterSide+1])*x
	return at.unit * (low*(1-y) + high*y)
}
