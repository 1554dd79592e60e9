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
	l := &Locator{}
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
		if _, d := l.segments[i].Nearest(p); d < best {
			best, at = d, i
		}
		if best <= enough {
			l.last = at
			return best, l.owner[at]
		}
	}
	l.nearest(l.tree.top(), 0, p, &best, &at)
	l.last = at
	return best, l.owner[at]
}

func (l *Locator) nearest(level, i int, p Point, best *float64, at *int) {
	b := &l.tree.boxes[l.tree.levels[level]+i]
	if b.away(p) >= *best {
		return
	}
	if level == 0 {
		if _, d := l.segments[i].Nearest(p); d < *best {
			*best, *at = d, i
		}
		return
	}
	from, to := l.tree.children(level, i)
	for j := from; j < to; j++ {
		l.nearest(level-1, j, p, best, at)
	}
}

// away returns the distance from the point to the box, 0 inside.
func (b *Box) away(p Point) float64 {
	dx := max(b.Min.X-p.X, 0, p.X-b.Max.X)
	dy := max(b.Min.Y-p.Y, 0, p.Y-b.Max.Y)
	return math.Sqrt(dx*dx + dy*dy)
}
