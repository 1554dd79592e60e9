package marker

import (
	"math"

	"engrail/motif/path"
)

// polygon returns few points of a polygon that holds all of the outline, which is
// closed and counter-clockwise, and is nowhere further from it than the error in mm.
// Straight edges that need no company stay where they are, exactly. It may cross itself
// where the outline comes within the error of itself.
//
// An arc that turns left, outward of the piece, becomes its tangents at its ends and at
// equal steps, which meet outside of it by r (1/cos(step/2) - 1); one that turns right
// becomes chords, which lie outside of the piece by r (1 - cos(step/2)).
func polygon(outline path.Path, err float64) []path.Point {
	var r ring
	for i := range outline.Segments() {
		s := outline.Segment(i)
		if s.A.Dist(s.B) < path.Coincident {
			continue
		}
		sweep := math.Abs(s.Sweep())
		switch n := steps(s, err); {
		case s.IsLine():
			r.add(s.A, 0)
		case s.Bulge > 0:
			half := sweep / float64(n) / 2
			out := s.Radius() * (1/math.Cos(half) - 1)
			r.add(s.A, out)
			for k := range n {
				// The tangents at both ends of a step meet beyond the middle of its chord.
				part := s.Sub(float64(k)/float64(n), float64(k+1)/float64(n))
				c := part.Chord()
				r.add(part.A.Lerp(part.B, 0.5).Add(c.Right().Mul(math.Tan(half)/2)), out)
			}
		default:
			in := s.Radius() * (1 - math.Cos(sweep/float64(n)/2))
			for k := range n {
				r.add(s.At(float64(k)/float64(n)), in)
			}
		}
	}
	return r.thin(err)
}

// steps returns in how many an arc is divided.
func steps(s path.Segment, err float64) int {
	if s.IsLine() {
		return 1
	}
	k := err / s.Radius()
	step := 2 * math.Acos(1/(1+k)) // outward
	if s.Bulge < 0 {
		step = 2 * math.Acos(max(-1, 1-k))
	}
	return int(math.Ceil(math.Abs(s.Sweep())/min(step, math.Pi/2) - 1e-9))
}

// ring is a polygon in the making: its points, and how far the edge from each to the
// next is at most from the outline.
type ring struct {
	at  []path.Point
	off []float64
	// While it is thinned: the points before and behind each that are left.
	prev, next []int
}

func (r *ring) add(p path.Point, off float64) {
	if n := len(r.at); n > 0 && r.at[n-1].Dist(p) < path.Coincident {
		r.off[n-1] = max(off, r.off[n-1])
		return
	}
	r.at, r.off = append(r.at, p), append(r.off, off)
}

// thin takes points out as long as the polygon keeps within the error and only grows:
// those of inward corners, and edges whose neighbours meet beyond them. What costs least
// goes first.
func (r *ring) thin(err float64) []path.Point {
	n := len(r.at)
	r.prev, r.next = make([]int, n), make([]int, n)
	all := make([]candidate, n)
	for i := range n {
		r.prev[i], r.next[i] = (i+n-1)%n, (i+1)%n
	}
	for i := range n {
		all[i] = r.without(i, err)
	}
	first := 0
	for left := n; left > 4; left-- {
		best := -1
		for i := range all {
			if all[i].can && (best < 0 || all[i].off < all[best].off) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		gone := r.take(best, all[best])
		all[gone] = candidate{}
		if gone == first {
			first = r.next[gone]
		}
		// What a point can do depends on the one before it and the two behind it.
		for i, k := r.prev[r.prev[r.prev[gone]]], 0; k < 5; i, k = r.next[i], k+1 {
			all[i] = r.without(i, err)
		}
	}
	var points []path.Point
	for i := first; ; {
		points = append(points, r.at[i])
		if i = r.next[i]; i == first {
			return points
		}
	}
}

// candidate is a polygon without a point, or without the edge from it to the next, in
// whose place a point comes; and how far off the edges are then.
type candidate struct {
	can, edge bool
	in        path.Point
	off       float64
}

// without looks at what becomes of the polygon without its i-th point if that is an
// inward corner, or without the edge from it to the next if both are outward ones.
func (r *ring) without(i int, err float64) candidate {
	h, j := r.prev[i], r.next[i]
	a, b, c, d := r.at[h], r.at[i], r.at[j], r.at[r.next[j]]
	before, edge, after := b.Sub(a), c.Sub(b), d.Sub(c)
	if before.Cross(edge) <= 0 {
		// The chord across leaves the polygon's inside on its left.
		_, off := path.Line(a, c).Nearest(b)
		off += max(r.off[h], r.off[i])
		return candidate{can: off <= err && before.Dot(edge) > 0, off: off}
	}
	sin := before.Cross(after)
	if edge.Cross(after) <= 0 || !(sin > 0) || before.Dot(after) <= 0 {
		return candidate{} // they do not meet, or far off
	}
	p := b.Add(before.Mul(edge.Cross(after) / sin))
	off := math.Abs(p.Sub(b).Cross(edge.Unit())) + r.off[i]
	// What the edges beside it gain lies between it and the new corner.
	off = max(off, r.off[h], r.off[j])
	return candidate{can: off <= err, edge: true, in: p, off: off}
}

// take makes the polygon that a candidate stands for, and returns the point that goes.
func (r *ring) take(i int, c candidate) (gone int) {
	r.off[r.prev[i]] = c.off
	if gone = i; c.edge {
		gone = r.next[i]
		r.at[i], r.off[i] = c.in, c.off
	}
	r.next[r.prev[gone]], r.prev[r.next[gone]] = r.next[gone], r.prev[gone]
	return gone
}

// container returns a polygon that holds the outline within [containing] and does not
// cross itself.
func container(outline path.Path) ([]path.Point, bool) {
	for err := float64(containing); err >= finest; err /= 4 {
		if p := polygon(outline, err); path.Closed(p...).Simple() {
			return p, true
		}
	}
	return nil, false
}
