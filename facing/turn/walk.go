package turn

import (
	"math"

	"engrail/motif/path"
)

// walk is a net line with the cut line beside it.
type walk struct {
	net   path.Path
	ruler *path.Ruler
	cut   path.Path
	a     float64 // the allowance
	boxes []path.Box
	// full is, for each segment of the net line, the stretch from and to along the
	// line beside which the whole allowance is there; from > to where it is nowhere.
	full [][2]float64
	// beside is a segment of the cut line near each segment of the net line.
	beside []int
	// corner is the turn at the start of each segment, where that is a corner.
	corner []float64
	// near tells how far points are from the net line.
	near *path.Locator
}

func newWalk(net, cut path.Path, a float64) *walk {
	w := &walk{net: net, ruler: path.NewRuler(net), cut: cut, a: a, near: path.NewLocator(net)}
	n, m := net.Segments(), cut.Segments()
	w.boxes = make([]path.Box, m)
	for j := range m {
		w.boxes[j] = cut.Segment(j).Bounds()
	}
	w.full = make([][2]float64, n)
	w.beside = make([]int, n)
	w.corner = make([]float64, n)
	for i := range w.full {
		w.full[i] = [2]float64{math.Inf(1), math.Inf(-1)}
		w.beside[i] = -1
	}
	next, ahead := 0, lookAhead
	if net.Closed {
		ahead = n // until one is found, for the two may start anywhere
	}
	for j := range m {
		s := cut.Segment(j)
		middle := s.At(0.5)
		for k := range min(ahead, n) {
			i := next + k
			if i >= n {
				if !net.Closed {
					break
				}
				i -= n
			}
			g := net.Segment(i)
			t, d := g.Nearest(middle)
			along := g.TangentAt(t)
			if math.Abs(d-a) > onCut || t <= 0 || t >= 1 || middle.Sub(g.At(t)).Dot(along.Right()) < 0 {
				continue
			}
			// That of the piece beyond a seam may be as far away, but not beside.
			if math.Abs(along.AngleTo(s.TangentAt(0.5))) > smooth {
				continue
			}
			t0, _ := g.Nearest(s.A)
			t1, _ := g.Nearest(s.B)
			from, l := w.ruler.Stop(i), w.ruler.Stop(i+1)-w.ruler.Stop(i)
			w.full[i][0] = min(w.full[i][0], from+t0*l)
			w.full[i][1] = max(w.full[i][1], from+t1*l)
			w.beside[i] = j
			next, ahead = i, lookAhead
			break
		}
	}
	last := 0
	for i := range w.beside {
		if w.beside[i] < 0 {
			w.beside[i] = last
		}
		last = w.beside[i]
	}
	return w
}

// place returns the point of the net line at a distance along it and the unit
// direction out of the garment there.
func (w *walk) place(s float64) (path.Point, path.Vec, int) {
	i, t := w.ruler.Find(s)
	g := w.net.Segment(i)
	return g.At(t), g.TangentAt(t).Right(), i
}

// alongCut returns the place on the net line beside which the cut edge is by so much
// longer than beside s, negative before it; on the round of a corner it is the corner.
func (w *walk) alongCut(s, by float64) float64 {
	const most = 100 // segments under one V
	for range most {
		look := s + math.Copysign(placeTolerance/10, by)
		i, _ := w.ruler.Find(look)
		grown := max(0.1, 1+w.net.Segment(i).Curvature()*w.a)
		end := w.ruler.Stop(i + 1)
		if by < 0 {
			end = w.ruler.Stop(i)
		}
		room := math.Abs(end-s) * grown
		if w.net.Closed && (s < 0 || s > w.ruler.Length()) || math.Abs(by) <= room || end == s {
			return s + by/grown
		}
		s, by = end, math.Copysign(math.Abs(by)-room, by)
		joint := i + 1
		if by < 0 {
			joint = i
		}
		if joint < len(w.corner) {
			round := w.a * max(0, w.corner[joint])
			if math.Abs(by) <= round {
				return s
			}
			by -= math.Copysign(round, by)
		}
	}
	return s
}

// fullBack returns how far before a place the whole allowance goes on, no farther than
// the limit.
func (w *walk) fullBack(s, limit float64) float64 {
	i, _ := w.ruler.Find(s - placeTolerance)
	for ; i >= 0 && s > limit && w.full[i][1] > s-onCut && w.full[i][0] < s; i-- {
		s = w.full[i][0]
		if s > w.ruler.Stop(i)+onCut {
			break
		}
	}
	return max(s, limit)
}

// fullOn is fullBack in the direction of the line.
func (w *walk) fullOn(s, limit float64) float64 {
	i, _ := w.ruler.Find(s + placeTolerance)
	for ; i < len(w.full) && s < limit && w.full[i][0] < s+onCut && w.full[i][1] > s; i++ {
		s = w.full[i][1]
		if s < w.ruler.Stop(i+1)-onCut {
			break
		}
	}
	return min(s, limit)
}

// isFull reports whether the whole allowance is there beside the place.
func (w *walk) isFull(s float64) bool {
	i, _ := w.ruler.Find(s)
	if w.net.Closed {
		l := w.ruler.Length()
		s = math.Mod(math.Mod(s, l)+l, l)
	}
	return s >= w.full[i][0]-onCut && s <= w.full[i][1]+onCut
}

// hit returns where the ray from p first meets the cut line, looking from the segment
// on to both sides.
func (w *walk) hit(p path.Point, out path.Vec, reach float64, from int) (path.Point, bool) {
	ray := path.Line(p, p.Add(out.Mul(reach)))
	box := ray.Bounds().Grow(onCut)
	m := w.cut.Segments()
	best, found := math.Inf(1), path.Point{}
	look := func(j int) {
		if !box.Meets(w.boxes[j]) {
			return
		}
		g := w.cut.Segment(j)
		hits := g.Intersect(ray)
		for _, x := range hits.At[:hits.N] {
			if d := x.Point.Dist(p); d < best {
				best, found = d, x.Point
			}
		}
		// A ray along a fold meets the cut line just at its end.
		for _, q := range [2]path.Point{g.A, g.B} {
			if v := q.Sub(p); math.Abs(v.Cross(out)) < onRay && v.Dot(out) >= 0 && v.Dot(out) < min(reach, best) {
				best, found = v.Dot(out), q
			}
		}
	}
	for k := range m {
		for _, j := range [2]int{from + k, from - k} {
			if w.cut.Closed {
				j = ((j % m) + m) % m
			}
			if j >= 0 && j < m {
				look(j)
			}
		}
		// Some segments farther on cannot be nearer along the ray than one beside it.
		if !math.IsInf(best, 1) && k >= 3 {
			break
		}
	}
	return found, !math.IsInf(best, 1)
}

// isClear reports whether a slit is at least the distance from the net line near s.
func (w *walk) isClear(s float64, slit path.Path, distance float64) bool {
	i, _ := w.ruler.Find(s)
	for k := max(0, i-lookAround); k < min(len(w.full), i+lookAround+1); k++ {
		g := w.net.Segment(k)
		if g.Intersect(slit.Segment(0)).N > 0 {
			return false
		}
		for _, t := range [3]float64{0.4, 0.7, 1} {
			if _, d := g.Nearest(slit.Segment(0).At(t)); d < distance {
				return false
			}
		}
	}
	return true
}

// height returns how high the allowance is beside a place: the whole one, or as far as
// no other part of the net line is nearer, where the slit of a valley is.
func (w *walk) height(s float64) float64 {
	if w.isFull(s) {
		return w.a
	}
	p, out, _ := w.place(s)
	if w.isFullAt(p, out) {
		return w.a
	}
	lo, hi := 0.0, w.a
	for hi-lo > placeTolerance {
		if m := (lo + hi) / 2; w.isNearest(p, out, m) {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// isNearest reports whether no part of the net line is nearer to what lies at the height
// over a place than that.
func (w *walk) isNearest(p path.Point, out path.Vec, h float64) bool {
	off, _ := w.near.Nearest(p.Add(out.Mul(h)), h-placeTolerance)
	return off >= h-placeTolerance
}

// isFullAt reports whether the whole allowance is there beside a place in a direction.
func (w *walk) isFullAt(p path.Point, out path.Vec) bool { return w.isNearest(p, out, w.a) }

// bit is a part of a net line that turns: an arc, or a corner, where from is to.
type bit struct {
	from, to, turn float64
	segment        int
	radius         float64
	before         float64 // what the run has turned before it, without sign
}

// bits returns what turns on the net line, in order.
func (w *walk) bits() []bit {
	n := w.net.Segments()
	list := make([]bit, 0, 2*n)
	for i := range n {
		g := w.net.Segment(i)
		if i > 0 || w.net.Closed {
			if turn := path.Turn(w.net.Segment((i+n-1)%n), g); math.Abs(turn) > smooth {
				w.corner[i] = turn
				list = append(list, bit{from: w.ruler.Stop(i), to: w.ruler.Stop(i), turn: turn, segment: i})
			}
		}
		if turn := g.Sweep(); turn != 0 {
			list = append(list, bit{from: w.ruler.Stop(i), to: w.ruler.Stop(i + 1), turn: turn, segment: i, radius: g.Radius()})
		}
	}
	return list
}

// opened returns a closed line as one that starts where it turns most into the
// garment, and how far along it that is; lines that are open or do not turn in are
// returned as they are.
func opened(net path.Path) (path.Path, float64) {
	if !net.Closed {
		return net, 0
	}
	n := net.Segments()
	first, most := -1, -smooth
	for i := range n {
		if turn := path.Turn(net.Segment((i+n-1)%n), net.Segment(i)); turn < most {
			first, most = i, turn
		}
	}
	if first < 0 { // smooth all round: where an inward curve starts
		for i := range n {
			if net.Segment((i+n-1)%n).Bulge >= 0 && net.Segment(i).Bulge < 0 {
				first = i
				break
			}
		}
	}
	if first <= 0 {
		return net, 0
	}
	v := append(append([]path.Vertex{}, net.V[first:]...), net.V[:first]...)
	return path.Path{V: v, Closed: true}, path.NewRuler(net).Stop(first)
}
