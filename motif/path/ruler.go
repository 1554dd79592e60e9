package path

import (
	"math"
	"sort"
)

// Ruler measures places along a path by their distance from its start. It is
// made once for a path and then answers in logarithmic time.
type Ruler struct {
	path  Path
	stops []float64 // distance at each segment's start, and the whole length
}

// NewRuler returns the ruler of the path, which has at least one segment.
func NewRuler(p Path) *Ruler {
	n := p.Segments()
	if n == 0 {
		panic("path: ruler of a path without segments")
	}
	stops := make([]float64, n+1)
	for i := range n {
		stops[i+1] = stops[i] + p.Segment(i).Length()
	}
	return &Ruler{path: p, stops: stops}
}

// Path returns the path that the ruler measures.
func (r *Ruler) Path() Path { return r.path }

// Length returns the length of the path.
func (r *Ruler) Length() float64 { return r.stops[len(r.stops)-1] }

// Stop returns the distance at which the i-th segment starts; at i =
// Segments() the length.
func (r *Ruler) Stop(i int) float64 { return r.stops[i] }

// Find returns the segment on which the distance lies and the ratio of that
// segment's length. A distance on a joint belongs to the segment that starts
// there. On an open path distances beyond an end are held to it; on a closed
// path they go round.
func (r *Ruler) Find(distance float64) (segment int, t float64) {
	l := r.Length()
	if r.path.Closed && l > 0 {
		distance = math.Mod(distance, l)
		if distance < 0 {
			distance += l
		}
	}
	n := len(r.stops) - 1
	i := sort.SearchFloat64s(r.stops, distance)
	if i > n || i > 0 && r.stops[i] != distance {
		i--
	}
	// Of several stops at one place (segments without length) the last counts.
	for i < n-1 && r.stops[i+1] <= distance {
		i++
	}
	i = min(max(i, 0), n-1)
	d := r.stops[i+1] - r.stops[i]
	if d == 0 {
		return i, 0
	}
	return i, min(1, max(0, (distance-r.stops[i])/d))
}

// At returns the point at the distance from the start.
func (r *Ruler) At(distance float64) Point {
	i, t := r.Find(distance)
	return r.path.Segment(i).At(t)
}

// TangentAt returns the unit direction of travel at the distance; at a joint,
// that of the segment that starts there.
func (r *Ruler) TangentAt(distance float64) Vec {
	i, t := r.Find(distance)
	return r.path.Segment(i).TangentAt(t)
}

// CurvatureAt returns the signed curvature at the distance, positive where the
// path turns left.
func (r *Ruler) CurvatureAt(distance float64) float64 {
	i, _ := r.Find(distance)
	return r.path.Segment(i).Curvature()
}

// Nearest returns the distance along the path at which it comes nearest to p,
// and how far that is.
func (r *Ruler) Nearest(p Point) (along, dist float64) {
	dist = math.Inf(1)
	for i := range len(r.stops) - 1 {
		if t, d := r.path.Segment(i).Nearest(p); d < dist {
			dist = d
			along = r.stops[i] + t*(r.stops[i+1]-r.stops[i])
		}
	}
	return along, dist
}

// Sub returns the open part of the path between two distances. On a closed
// path a part with to <= from runs through the start, the whole way round when
// they are equal, and no part is longer than that. On an open path they are
// held to its ends, and from <= to. Ends that fall on a joint but for rounding
// are set on it.
func (r *Ruler) Sub(from, to float64) Path {
	n := len(r.stops) - 1
	i, ti := r.joint(from)
	j, tj := r.joint(to)
	if !r.path.Closed && (i > j || i == j && ti > tj) {
		j, tj = i, ti
	}
	if i > j || i == j && (ti > tj || ti == tj && r.path.Closed && r.goesRound(from, to)) {
		j += n
	}
	if i == j {
		return FromSegments(r.path.Segment(i).Sub(ti, tj))
	}
	first := r.path.Segment(i).Sub(ti, 1)
	v := make([]Vertex, 0, j-i+2)
	v = append(v, Vertex{first.A, first.Bulge})
	for k := i + 1; k < j; k++ {
		v = append(v, r.path.V[k%n])
	}
	last := r.path.Segment(j%n).Sub(0, tj)
	if tj > 0 {
		v = append(v, Vertex{last.A, last.Bulge})
	}
	return Path{V: append(v, Vertex{Point: last.B})}
}

// joint is [Ruler.Find], moved to a joint that lies next to the distance.
func (r *Ruler) joint(distance float64) (segment int, t float64) {
	i, t := r.Find(distance)
	l := r.stops[i+1] - r.stops[i]
	switch {
	case t*l <= onJoint:
		return i, 0
	case (1-t)*l <= onJoint:
		return r.Find(r.stops[i+1])
	}
	return i, t
}

// goesRound tells the whole closed path from no part of it, for two distances
// at the same place.
func (r *Ruler) goesRound(from, to float64) bool {
	l := r.Length()
	if to <= from {
		to += l * (1 + math.Floor((from-to)/l))
	}
	return to-from > l/2
}
