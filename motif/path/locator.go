package path

import "math"

// Locator tells how far points are from many paths. It remembers the last answer,
// from which the next is often found, and so is for one goroutine.
type Locator struct {
	segments []Segment
	owner    []int // the path of each segment
	tree     boxTree
	last     int
}

// NewLocator returns the locator of the paths. One vertex is a point; paths
// without vertices, and those with a coordinate that is not a number, are nowhere.
func NewLocator(paths ...Path) *Locator {
	n := 0
	for _, p := range paths {
		n += max(p.Segments(), min(1, len(p.V)))
	}
	l := &Locator{segments: make([]Segment, 0, n), owner: make([]int, 0, n)}
	for k, p := range paths {
		if !p.Finite() {
			continue
		}
		if p.Segments() == 0 && len(p.V) > 0 {
			l.segments, l.owner = append(l.segments, Line(p.V[0].Point, p.V[0].Point)), append(l.owner, k)
		}
		for i := range p.Segments() {
			l.segments, l.owner = append(l.segments, p.Segment(i)), append(l.owner, k)
		}
	}
	l.tree = newBoxTree(len(l.segments), func(i int) Box { return l.segments[i].Bounds() })
	return l
}

// Nearest returns the distance of p to the nearest path and its place in the list
// of paths; without paths +Inf and -1. Where some path is no further than enough,
// in mm, the answer may be that one even if another is nearer: who looks for the
// greatest of many distances need not know those below it.
func (l *Locator) Nearest(p Point, enough float64) (dist float64, path int) {
	if len(l.segments) == 0 {
		return math.Inf(1), -1
	}
	best, at := math.Inf(1), l.last
	// Along a path the next point is near the same segment, or the next one.
	for _, i := range [...]int{l.last, l.last + 1, l.last - 1} {
		if i < 0 || i >= len(l.segments) {
			continue
		}
		if d := l.segments[i].away(p); d < best {
			best, at = d, i
		}
		if best <= enough {
			l.last = at
			return best, l.owner[at]
		}
	}
	if top := l.tree.top(); l.tree.boxes[l.tree.levels[top]].away(p) < best*best {
		l.nearest(top, 0, p, &best, &at)
	}
	l.last = at
	return best, l.owner[at]
}

// nearest looks for a segment nearer than the best among those under a box of the tree
// that is, the nearest parts first.
func (l *Locator) nearest(level, i int, p Point, best *float64, at *int) {
	if level == 0 {
		if d := l.segments[i].away(p); d < *best {
			*best, *at = d, i
		}
		return
	}
	from, to := l.tree.children(level, i)
	boxes := l.tree.level(level - 1)
	var order [fan]int
	var away [fan]float64
	n := 0
	for j := from; j < to; j++ {
		d := boxes[j].away(p)
		if d >= *best**best {
			continue
		}
		k := n
		for ; k > 0 && away[k-1] > d; k-- {
			order[k], away[k] = order[k-1], away[k-1]
		}
		order[k], away[k] = j, d
		n++
	}
	for k := range n {
		if away[k] < *best**best {
			l.nearest(level-1, order[k], p, best, at)
		}
	}
}

// away returns the square of the distance from the point to the box, 0 inside.
func (b *Box) away(p Point) float64 {
	dx := max(b.Min.X-p.X, 0, p.X-b.Max.X)
	dy := max(b.Min.Y-p.Y, 0, p.Y-b.Max.Y)
	return dx*dx + dy*dy
}

// away is the distance of [Segment.Nearest] without the place, and without
// trigonometry: on the circle the angle x from the arc's middle to p is within its
// half where |tan(x/2)| is no more than |bulge|.
func (s *Segment) away(p Point) float64 {
	if s.isPoint() {
		return p.Dist(s.A)
	}
	if s.IsLine() {
		c, w := s.Chord(), p.Sub(s.A)
		t := min(1, max(0, w.Dot(c)/c.Dot(c)))
		dx, dy := w.X-t*c.X, w.Y-t*c.Y
		return math.Sqrt(dx*dx + dy*dy)
	}
	k, along, across := s.fromMiddle(p)
	y := along*along + across*across - 2*across
	out := math.Sqrt(max(0, 1+y)) // from the centre, in radii
	within := math.Abs(along) <= math.Abs(s.Bulge)*(out+1-across)
	if across > 1 { // beyond the centre, where that is 0 by 0 just opposite
		within = out+across-1 <= math.Abs(s.Bulge)*math.Abs(along)
	}
	if within {
		return math.Abs(y / (k * (1 + out)))
	}
	return math.Sqrt(min(p.DistSq(s.A), p.DistSq(s.B)))
}
