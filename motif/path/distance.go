package path

import "math"

// Distance returns how near the segments come to one another, 0 where they meet as
// [Segment.Intersect] finds it. A segment without length is a point; with a
// coordinate that is not a number the distance is not one either.
//
// Where two segments that do not meet are nearest, the way from one to the other is
// square to both, or starts at an end of one of them. Of a line and an arc, the first
// is where the arc runs along the line's direction, of two arcs, where it runs square
// to the line through both centres.
func (s Segment) Distance(t Segment) float64 {
	if s.Intersect(t).N > 0 {
		return 0
	}
	best := math.Inf(1)
	to := func(p Point, t Segment) {
		// NaN is kept.
		if _, d := t.Nearest(p); !(d >= best) {
			best = d
		}
	}
	to(s.A, t)
	to(s.B, t)
	to(t.A, s)
	to(t.B, s)
	square := func(arc, other Segment) {
		along := other.Chord()
		if !other.IsLine() {
			along = other.Centre().Sub(arc.Centre()).Left()
		}
		for _, d := range [...]Vec{along, along.Neg()} {
			// An arc's direction turns evenly, from that of the chord in its middle.
			for _, turn := range [...]float64{0, 2 * math.Pi, -2 * math.Pi} {
				if at := 0.5 + (arc.Chord().AngleTo(d)+turn)/arc.Sweep(); at > 0 && at < 1 {
					to(arc.At(at), other)
				}
			}
		}
	}
	if !s.IsLine() && !s.isPoint() {
		square(s, t)
	}
	if !t.IsLine() && !t.isPoint() {
		square(t, s)
	}
	return best
}

// Distance returns how near the paths come to one another, 0 where they meet. It is
// that of the lines themselves: a path inside of a closed one is as far from it as from
// its line. One vertex is a point. It is +Inf from an empty path and from one with a
// coordinate that is not a number.
func (p Path) Distance(q Path) float64 {
	a, b := NewLocator(p), NewLocator(q)
	best := math.Inf(1)
	if len(a.segments) == 0 || len(b.segments) == 0 {
		return best
	}
	a.nearestTo(b, a.tree.top(), 0, b.tree.top(), 0, &best)
	return best
}

// nearestTo looks for segments nearer than the best among those under two boxes of the
// trees, the nearest parts first.
func (l *Locator) nearestTo(m *Locator, level, i, other, j int, best *float64) {
	if level == 0 && other == 0 {
		*best = min(*best, l.segments[i].Distance(m.segments[j]))
		return
	}
	if level < other {
		l, m, level, other, i, j = m, l, other, level, j, i
	}
	from, to := l.tree.children(level, i)
	boxes, box := l.tree.level(level-1), &m.tree.level(other)[j]
	var away [fan]float64
	for k := from; k < to; k++ {
		away[k-from] = boxes[k].apart(box)
	}
	for range to - from {
		k := 0
		for n := range to - from {
			if away[n] < away[k] {
				k = n
			}
		}
		if !(away[k] < *best) {
			return
		}
		away[k] = math.Inf(1)
		l.nearestTo(m, level-1, from+k, other, j, best)
	}
}

// apart returns the distance of two boxes, 0 where they meet.
func (b *Box) apart(c *Box) float64 {
	dx := max(b.Min.X-c.Max.X, 0, c.Min.X-b.Max.X)
	dy := max(b.Min.Y-c.Max.Y, 0, c.Min.Y-b.Max.Y)
	return math.Hypot(dx, dy)
}
