package strip

import (
	"math"
	"math/rand/v2"
)

// spot is where a piece lies: a shape moved by x, y.
type spot struct {
	x, y  float64
	shape int32
}

// reach is a box.
type reach struct{ x0, y0, x1, y1 float64 }

func (a *reach) meets(b *reach) bool {
	return a.x0 < b.x1 && a.x1 > b.x0 && a.y0 < b.y1 && a.y1 > b.y0
}

// state is a layout in which pieces may overlap, and what overlaps weigh.
type state struct {
	*table
	length float64
	at     []spot
	boxes  []reach // of the pieces with their margins
	cells  *cells
	loss   []float64 // by how much each pair overlaps, in a full matrix
	pairs  []int32   // those below the diagonal that overlap, or did lately and weigh more for it
	listed []bool    // which are among them
	weight []float64
	light  []float64 // the weights of what has not overlapped: large pieces weigh more
	rng    *rand.Rand
	work   int // what was spent so far, in boxes compared

	spans []span // room for the lines
	stops []float64
	order []int
	near  []int32
}

// span is where a line runs through a hull.
type span struct {
	from, to     float64
	weight       float64
	piece        int32 // the hull's
	rel          *relation
	hull         *hull
	x, y, dx, dy float64 // the line, seen from the hull's piece
}

func newState(t *table, seed, stream uint64) *state {
	n := len(t.piece)
	s := &state{
		table: t, at: make([]spot, n), boxes: make([]reach, n), cells: newCells(t.meanWidth(), n),
		loss: make([]float64, n*n), listed: make([]bool, n*n), weight: make([]float64, n*n), light: make([]float64, n*n), rng: rand.New(rand.NewPCG(seed, stream)),
	}
	size := make([]float64, n)
	for i, item := range t.piece {
		hull := t.shapes[t.poses[item][0]].hull
		size[i] = math.Sqrt(math.Sqrt(areaOf(hull) / t.area * float64(n))) // about 1 on average
	}
	for i := range n {
		for j := range n {
			s.light[i*n+j] = size[i] * size[j]
		}
	}
	s.forget()
	return s
}

// forget makes all weights what they were in the beginning.
func (s *state) forget() { copy(s.weight, s.light) }

// restore puts all pieces where they lay.
func (s *state) restore(at []spot, length float64) {
	copy(s.at, at)
	s.length = length
	s.renew()
}

// room returns between what limits a shape can lie in the strip.
func (s *state) room(shape int32) (x0, y0, x1, y1 float64) {
	h := &s.shapes[shape]
	x0, x1 = -h.box.Min.X, s.length-h.box.Max.X
	y0, y1 = -h.box.Min.Y, s.height-h.box.Max.Y
	switch {
	case h.low:
		y1 = y0
	case h.high:
		y0 = y1
	}
	return x0, y0, x1, max(y0, y1)
}

// inRoom returns the nearest spot that is in the strip.
func (s *state) inRoom(p spot) spot {
	x0, y0, x1, y1 := s.room(p.shape)
	p.x, p.y = max(min(p.x, x1), x0), max(min(p.y, y1), y0)
	return p
}

// meanWidth is that of the pieces' boxes.
func (t *table) meanWidth() float64 {
	sum := 0.0
	for _, item := range t.piece {
		sum += t.shapes[t.poses[item][0]].cover.Width()
	}
	return sum / float64(len(t.piece))
}

func (t *table) reach(shape int32, x, y float64) reach {
	c := &t.shapes[shape].cover
	return reach{x + c.Min.X, y + c.Min.Y, x + c.Max.X, y + c.Max.Y}
}

// cost is what a piece overlaps in a place, weighted.
func (s *state) cost(i int, p spot) float64 {
	sum := 0.0
	weight := s.weight[i*len(s.at):]
	a := s.reach(p.shape, p.x, p.y)
	for _, j := range s.meeting(i, a) {
		b := &s.at[j]
		v := s.relation(p.shape, b.shape)
		s.work += hullWork * len(v.hulls)
		sum += weight[j] * v.depth(p.x-b.x, p.y-b.y)
	}
	return sum
}

// nearCost is about the cost; once it is over the limit it is not summed to its end. Most of a search's
// places are looked at here, so that it goes through the cells itself.
func (s *state) nearCost(i int, p spot, limit float64) float64 {
	sum := 0.0
	weight := s.weight[i*len(s.at):]
	a := s.reach(p.shape, p.x, p.y)
	c := s.cells.of(&a)
	for k := c.from; k <= c.to && int(k) < len(s.cells.in); k++ {
		for _, j := range s.cells.in[k] {
			s.work++
			if !a.meets(&s.boxes[j]) || int(j) == i || k != max(c.from, s.cells.span[j].from) {
				continue
			}
			s.work += hullWork
			b := &s.at[j]
			sum += weight[j] * s.relation(p.shape, b.shape).nearDepth(p.x-b.x, p.y-b.y)
			if sum >= limit {
				return sum
			}
		}
	}
	return sum
}

// meeting returns the pieces but one whose boxes meet another; the list is good until
// it is called again.
func (s *state) meeting(i int, a reach) []int32 {
	s.near = s.cells.appendNear(s.near[:0], i, &a)
	s.work += len(s.near)
	met := s.near[:0]
	for _, j := range s.near {
		if a.meets(&s.boxes[j]) {
			met = append(met, j)
		}
	}
	return met
}

// lie says where the box of a piece is.
func (s *state) lie(i int, box reach) {
	s.boxes[i] = box
	s.cells.put(i, &box)
}

// put moves a piece and renews its losses.
func (s *state) put(i int, p spot) {
	s.at[i] = p
	a := s.reach(p.shape, p.x, p.y)
	s.lie(i, a)
	n := len(s.at)
	for j := range s.at {
		if j == i {
			continue
		}
		d := 0.0
		if a.meets(&s.boxes[j]) && !(s.locked[i] && s.locked[j]) { // those that stay may lie closer than a simplified outline allows
			b := &s.at[j]
			d = s.relation(p.shape, b.shape).depth(p.x-b.x, p.y-b.y)
		}
		s.loss[i*n+j], s.loss[j*n+i] = d, d
		if k := max(i, j)*n + min(i, j); d > 0 && !s.listed[k] {
			s.listed[k] = true
			s.pairs = append(s.pairs, int32(k))
		}
	}
}

// renew makes all losses anew.
func (s *state) renew() {
	s.work += len(s.at) * len(s.at)
	for i, p := range s.at {
		s.lie(i, s.reach(p.shape, p.x, p.y))
	}
	for i := range s.at {
		s.put(i, s.at[i])
	}
}

// total is the sum of all losses.
func (s *state) total() float64 {
	sum := 0.0
	for _, k := range s.pairs {
		sum += s.loss[k]
	}
	return sum
}

// costNow is the weighted loss of a piece where it lies.
func (s *state) costNow(i int) float64 {
	n := len(s.at)
	sum := 0.0
	for j, d := range s.loss[i*n : i*n+n] {
		if d > 0 {
			sum += d * s.weight[i*n+j]
		}
	}
	return sum
}

// far is the length of the strip that is used.
func (s *state) far() float64 {
	far := 0.0
	for _, q := range s.at {
		far = max(far, q.x+s.shapes[q.shape].box.Max.X)
	}
	return far
}

// line is a part of a line along the strip, or across it: what is between two distances from a
// point.
type line struct {
	x, y   float64
	up     bool // across the strip
	t0, t1 float64
}

// across finds the spans of the hulls that a piece would meet on a line, one other piece after another. They
// may begin and end beyond the line.
func (s *state) across(i int, shape int32, l line) {
	s.spans = s.spans[:0]
	c := &s.shapes[shape].cover
	a := reach{l.x + c.Min.X, l.y + c.Min.Y, l.x + c.Max.X, l.y + c.Max.Y}
	if l.up {
		a.y0, a.y1 = a.y0+l.t0, a.y1+l.t1
	} else {
		a.x0, a.x1 = a.x0+l.t0, a.x1+l.t1
	}
	weight := s.weight[i*len(s.at):]
	for _, j := range s.meeting(i, a) {
		b := &s.at[j]
		r := s.relation(shape, b.shape)
		x, y := r.sx*(l.x-b.x), r.sy*(l.y-b.y)
		p := span{weight: weight[j], piece: j, rel: r.relation, x: x, y: y}
		sign, start := r.sx, x
		if l.up {
			sign, start = r.sy, y
			p.dy = sign
		} else {
			p.dx = sign
		}
		t0, t1 := start+l.t0*sign, start+l.t1*sign
		if sign < 0 {
			t0, t1 = t1, t0
		}
		for k := range r.hulls {
			h := &r.hulls[k]
			if l.up {
				if x <= h.x0 || x >= h.x1 || t1 <= h.y0 || t0 >= h.y1 {
					continue
				}
				p.from, p.to = r.spanUp(h, x)
			} else {
				if y <= h.y0 || y >= h.y1 || t1 <= h.x0 || t0 >= h.x1 {
					continue
				}
				p.from, p.to = r.span(h, y)
			}
			s.work += hullWork
			if p.from, p.to = (p.from-start)*sign, (p.to-start)*sign; sign < 0 {
				p.from, p.to = p.to, p.from
			}
			if p.from < p.to && p.from < l.t1 && p.to > l.t0 {
				p.hull = h
				s.spans = append(s.spans, p)
			}
		}
	}
}

// along looks for the best place of a piece on a line; its cost has to be below a limit.
// What a piece overlaps of one hull is a concave function along a line, so that the sum
// of them is least where the line enters or leaves one, or at an end. Of those places the ones in
// another hull of the same two pieces are left out: there it is seldom least.
func (s *state) along(i int, shape int32, l line, limit float64) (best, cost float64, ok bool) {
	s.across(i, shape, l)
	s.stops = append(s.stops[:0], l.t0, l.t1)
	for from := 0; from < len(s.spans); {
		to := from + 1
		for to < len(s.spans) && s.spans[to].piece == s.spans[from].piece {
			to++
		}
		of := s.spans[from:to]
		for _, p := range of {
			if p.from > l.t0 && !isInside(of, p.from) {
				s.stops = append(s.stops, p.from)
			}
			if p.to < l.t1 && !isInside(of, p.to) {
				s.stops = append(s.stops, p.to)
			}
		}
		from = to
	}
	cost = limit
	for _, t := range s.stops {
		sum := 0.0
		for k := range s.spans {
			p := &s.spans[k]
			if t <= p.from || t >= p.to {
				continue
			}
			s.work += hullWork
			sum += p.weight * p.rel.hullDepth(p.hull, p.x+t*p.dx, p.y+t*p.dy)
			if sum >= cost {
				break
			}
		}
		if sum < cost {
			best, cost, ok = t, sum, true
			if cost == 0 {
				break
			}
		}
	}
	return best, cost, ok
}

// isInside reports whether a place on a line is inside of one of the spans.
func isInside(spans []span, t float64) bool {
	for k := range spans {
		if t > spans[k].from && t < spans[k].to {
			return true
		}
	}
	return false
}

// firstFree returns the first place on the line at y, from the strip's start, where a
// piece overlaps none of those that lie; it has to be below a limit.
func (s *state) firstFree(i int, shape int32, y, limit float64) (float64, bool) {
	x, _, _, _ := s.room(shape)
	if limit < x {
		return 0, false
	}
	s.across(i, shape, line{y: y, t0: x, t1: limit})
	for moved := true; moved; { // what was passed may begin before the new place
		moved = false
		for k := range s.spans {
			if p := &s.spans[k]; p.from < x && p.to > x {
				x, moved = p.to, true
			}
		}
	}
	return x, x < limit
}
