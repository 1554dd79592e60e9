package advice

import (
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// edge is a shaped hem on which places are found in order.
type edge struct {
	path.Path
	parts []path.Segment
	next  int // where the search for a place begins
}

func newEdge(p path.Path) *edge {
	e := &edge{Path: p, parts: make([]path.Segment, p.Segments())}
	for i := range e.parts {
		e.parts[i] = p.Segment(i)
	}
	return e
}

// spot is a place on an edge: on the segment, at the ratio of its length.
type spot struct {
	part int
	at   float64
}

// find returns where on the edge a point lies. Points that come in order are found
// in a moment.
func (e *edge) find(p path.Point) (spot, bool) {
	for k := range e.parts {
		i := (e.next + k) % len(e.parts)
		if !e.parts[i].Bounds().Grow(onEdge).Contains(p) {
			continue
		}
		if t, off := e.parts[i].Nearest(p); off <= onEdge {
			e.next = i
			return spot{i, t}, true
		}
	}
	return spot{}, false
}

// from yields the segments from a place on, in the direction 1 or against it, -1, as
// they are walked; it ends at the ends of an open edge, and after a round.
func (e *edge) from(s spot, direction int) func(yield func(path.Segment) bool) {
	return func(yield func(path.Segment) bool) {
		n := len(e.parts)
		for k := range min(n, flankParts) {
			i := s.part + direction*k
			if i < 0 || i >= n {
				if !e.Closed {
					return
				}
				i = (i + n) % n
			}
			g := e.parts[i]
			switch {
			case k == 0 && direction > 0:
				g = g.Sub(s.at, 1)
			case k == 0:
				g = g.Sub(0, s.at)
			}
			if direction < 0 {
				g = g.Reverse()
			}
			if g.Length() > onEdge && !yield(g) {
				return
			}
		}
	}
}

// valley is what an edge is like on both sides of a valley.
type valley struct {
	fit.Place
	// sides are the segments up to the next peak, to the left and to the right, and
	// heights those of the peaks above the valley.
	sides   [2][]path.Segment
	heights [2]float64
}

// valley looks at the edge on both sides of a valley that lies at the spot.
func (e *edge) valley(s spot, v fit.Place) valley {
	w := valley{Place: v}
	for k, direction := range [2]int{-1, 1} {
		for g := range e.from(s, direction) {
			h := g.B.Sub(v.Point).Dot(v.Out)
			// On a curved hem the foot lies a little above or below the valley.
			if w.heights[k] > onEdge && h < w.heights[k]/2 {
				break // down again
			}
			w.heights[k] = max(w.heights[k], h)
			w.sides[k] = append(w.sides[k], g)
		}
	}
	return w
}

// foot returns how wide the valley is at its foot: across its flat or its
// rounding, to where it is steeper than half a right angle or has a corner. A valley
// with a corner has none; one on the end of an edge is half of what is sewn.
func (v valley) foot() float64 {
	along := v.Out.Left()
	if l, r := v.sides[0], v.sides[1]; len(l) > 0 && len(r) > 0 {
		if turn := l[0].StartTangent().Neg().AngleTo(r[0].StartTangent()); math.Abs(turn) > corner {
			return 0
		}
	}
	var reach [2]float64
	for k, direction := range [2]path.Vec{along.Neg(), along} {
		level := direction
		for i, g := range v.sides[k] {
			slope := math.Abs(direction.AngleTo(g.StartTangent()))
			if slope > footSlope || i > 0 && math.Abs(level.AngleTo(g.StartTangent())) > corner {
				break
			}
			end, whole := g.B, true
			if sweep := math.Abs(g.Sweep()); math.Abs(direction.AngleTo(g.EndTangent())) > footSlope && sweep > 0 {
				end, whole = g.At(min(1, (footSlope-slope)/sweep)), false
			}
			reach[k] = max(reach[k], end.Sub(v.Point).Dot(direction))
			if level = g.EndTangent(); !whole {
				break
			}
		}
	}
	switch {
	case len(v.sides[0]) == 0:
		reach[0] = reach[1]
	case len(v.sides[1]) == 0:
		reach[1] = reach[0]
	}
	return reach[0] + reach[1]
}

// opening returns how far apart the two motifs beside the valley are where they are
// furthest apart up to three quarters of the lower one. There is none beside an end
// or a plain stretch.
func (v valley) opening() (float64, bool) {
	height := min(v.heights[0], v.heights[1])
	if height <= onEdge {
		return 0, false
	}
	along := v.Out.Left()
	widest, found := 0.0, false
	for _, share := range [3]float64{0.25, 0.5, 0.75} {
		var reach [2]float64
		both := true
		for k, direction := range [2]path.Vec{along.Neg(), along} {
			x, ok := v.crossing(k, share*height, direction)
			reach[k], both = x, both && ok
		}
		if both {
			widest, found = max(widest, reach[0]+reach[1]), true
		}
	}
	return widest, found
}

// crossing returns how far along the direction the one side of the valley first
// comes to a height.
func (v valley) crossing(side int, height float64, direction path.Vec) (float64, bool) {
	for _, g := range v.sides[side] {
		if g.B.Sub(v.Point).Dot(v.Out) < height {
			continue
		}
		far := g.A.Dist(v.Point) + g.B.Dist(v.Point) + g.Length()
		from := v.Point.Add(v.Out.Mul(height))
		hits := g.Intersect(path.Line(from.Add(direction.Mul(-far)), from.Add(direction.Mul(far))))
		if hits.N == 0 {
			continue
		}
		first := math.Inf(1)
		for _, h := range hits.At[:hits.N] {
			first = min(first, h.Point.Sub(v.Point).Dot(direction))
		}
		return first, true
	}
	return 0, false
}

// sharpest returns the angle of the sharpest tip, at a peak or a corner outward,
// measured between the places a reach away on its two sides; +Inf when there is none.
func (e *edge) sharpest(peaks []fit.Place, reach float64) float64 {
	least := math.Inf(1)
	look := func(s spot, p path.Point) {
		var sides [2]path.Vec
		for k, direction := range [2]int{-1, 1} {
			left := reach
			for g := range e.from(s, direction) {
				if l := g.Length(); l < left {
					left -= l
					continue
				}
				sides[k] = g.At(left / g.Length()).Sub(p)
				break
			}
		}
		if sides[0].Len() > 0 && sides[1].Len() > 0 {
			least = min(least, math.Abs(sides[0].AngleTo(sides[1])))
		}
	}
	for _, p := range peaks {
		if s, ok := e.find(p.Point); ok {
			look(s, p.Point)
		}
	}
	for i := range e.parts {
		if i == 0 && !e.Closed {
			continue
		}
		before := e.parts[(i+len(e.parts)-1)%len(e.parts)]
		if path.Turn(before, e.parts[i]) > corner {
			look(spot{i, 0}, e.parts[i].A)
		}
	}
	return least
}
