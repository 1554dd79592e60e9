package path

import (
	"fmt"
	"math"
)

// FitPoints returns the path with its runs of short facets made smooth: where
// points were taken from a curve, circular arcs that join without a corner
// stand in for the straight lines between them. Arcs that the path already has
// stay, and so do its ends and its true corners, exactly. The path keeps
// within the tolerance in mm of every given point ([PointTolerance] suits
// coordinates with two decimals of a mm or four of an inch), and leaves the
// lines between neighbours by that and the rise that the arc has over them.
//
// A corner is a vertex that turns by at least the angle corner, in radians
// ([PointCorner] is usual), more than a curve through the vertices beside it
// would, or by more than 30 degrees and that angle: the facets of a curve turn
// by like angles over like lengths. Turns and lengths are taken after points
// are left out that lie within 0.72 of the tolerance of the line between
// others (Douglas and Peucker, 1973), so that the rounding of dense points is
// no turn. Two corners nearer to each other than that may come out as one.
//
// Lines longer than the facets of a curve beside them stay on their line; the
// arc is tangent to them unless the points show a corner of 1.5 degrees or
// more. Fewer than four facets in a row, facets over which an arc would rise
// 0.5 mm, and runs that would take more than half as many arcs as facets stay
// straight lines, so that polygons and zigzags come back as they are but for
// points in line with their neighbours.
//
// Each run is cut into as few arcs as reach, each fitted to its points by least
// squares, the cuts moved to where the errors are least, and ends and
// directions at the cuts then changed together by as little as makes every two
// neighbours tangent. Time grows about in proportion to the number of points.
//
// A closed path stays closed and keeps its sense; it starts at the given start
// if that is still a vertex. The empty path and single segments are returned as
// they are. It fails when a coordinate or an argument is not a number, or a
// coordinate lies beyond 1e9 mm.
func FitPoints(p Path, corner, tolerance float64) (Path, error) {
	if !(tolerance > 0) || math.IsInf(tolerance, 0) {
		return Path{}, fmt.Errorf("fit points: tolerance %g mm is no distance above 0; give one, such as %g", tolerance, PointTolerance)
	}
	if !(corner > 0 && corner < math.Pi) {
		return Path{}, fmt.Errorf("fit points: least corner of %g rad is not between 0 and pi; give one, such as %g", corner, PointCorner)
	}
	for i, v := range p.V {
		if !finite(v.Bulge) || !(math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest) {
			return Path{}, fmt.Errorf("fit points: vertex %d at (%g, %g) with bulge %g is not within %g mm of the origin; correct it", i+1, v.X, v.Y, v.Bulge, farthest)
		}
	}
	v := withoutDoubles(p)
	if len(v) < 3 {
		return p, nil
	}
	if p.Closed {
		v = append(fromFarEnd(v), Vertex{})
		v[len(v)-1].Point = v[0].Point
	}
	s := sketch{v: v, closed: p.Closed, corner: corner, tolerance: tolerance, noise: noisePart * tolerance}
	s.thin()
	s.findCorners()
	s.findLines()
	q := s.path()
	if p.Closed {
		for i := range q.V {
			if q.V[i].Point == p.V[0].Point {
				q.V = append(q.V[i:len(q.V):len(q.V)], q.V[:i]...)
				break
			}
		}
	}
	return q, nil
}

// withoutDoubles returns the vertices without those that lie on the next one.
func withoutDoubles(p Path) []Vertex {
	v := make([]Vertex, 0, len(p.V)+1)
	for i, w := range p.V {
		if k := len(v); k > 0 && v[k-1].Dist(w.Point) <= Coincident {
			if i == len(p.V)-1 && !p.Closed {
				v[k-1].Point = w.Point
			} else {
				v[k-1].Bulge = w.Bulge
			}
			continue
		}
		v = append(v, w)
	}
	if k := len(v); p.Closed && k > 1 && v[k-1].Dist(v[0].Point) <= Coincident {
		v = v[:k-1]
	}
	return v
}

// fromFarEnd returns a closed path's vertices from where an arc starts, or else
// from the vertex farthest from the first, which is no point within a line.
func fromFarEnd(v []Vertex) []Vertex {
	start, far := 0, -1.0
	for i, w := range v {
		if w.Bulge != 0 {
			start = i
			break
		}
		if d := w.DistSq(v[0].Point); d > far {
			start, far = i, d
		}
	}
	w := make([]Vertex, 0, len(v)+1)
	return append(append(w, v[start:]...), v[:start]...)
}

// sketch is a chain of vertices and what is known of each. The last vertex of a
// closed one is the first again.
type sketch struct {
	v         []Vertex
	closed    bool
	corner    float64 // rad
	tolerance float64 // mm
	noise     float64 // mm

	kept   []int     // vertices that count, the first and last among them
	length []float64 // from each kept vertex to the next
	turn   []float64 // at each kept vertex, 0 at ends
	broken []bool    // a corner or an end is at the kept vertex
	fixed  []bool    // what follows the kept vertex stays: an arc or a line
}

// thin keeps the vertices that show the shape.
func (s *sketch) thin() {
	last := len(s.v) - 1
	keep := make([]bool, last+1)
	keep[0], keep[last] = true, true
	arcs := false
	for i := range last {
		if s.v[i].Bulge != 0 {
			keep[i], keep[i+1], arcs = true, true, true
		}
	}
	if s.closed && !arcs {
		far, best := 0, -1.0
		for i := range last {
			if d := s.v[i].DistSq(s.v[0].Point); d > best {
				far, best = i, d
			}
		}
		keep[far] = true
	}
	for i := 0; i < last; {
		j := i + 1
		for !keep[j] {
			j++
		}
		s.between(keep, i, j, 0)
		i = j
	}
	for i, k := range keep {
		if k {
			s.kept = append(s.kept, i)
		}
	}
	m := len(s.kept)
	s.length, s.turn = make([]float64, m), make([]float64, m)
	s.broken, s.fixed = make([]bool, m), make([]bool, m)
	for j := range m - 1 {
		c := s.chord(j)
		s.length[j] = c.Chord().Len()
		s.fixed[j] = c.Bulge != 0
		if i, ok := s.before(j); ok {
			s.turn[j] = s.chord(i).EndTangent().AngleTo(c.StartTangent())
		}
	}
	if s.closed {
		s.turn[m-1] = s.turn[0]
	} else {
		s.broken[0], s.broken[m-1] = true, true
	}
}

// between keeps the vertex farthest from the line from vertex i to j, and so on
// on both sides of it, until all lie within the noise. Past maxThinDepth it
// keeps all that is left.
func (s *sketch) between(keep []bool, i, j, depth int) {
	for j-i > 1 {
		if depth == maxThinDepth {
			for k := i + 1; k < j; k++ {
				keep[k] = true
			}
			return
		}
		depth++
		a, c := s.v[i].Point, s.v[j].Sub(s.v[i].Point)
		ll := c.Dot(c)
		far, best := i, -1.0
		reached, peak, back, turned := 0.0, i+1, 0.0, i+1
		for k := i + 1; k < j; k++ {
			w := s.v[k].Sub(a)
			t := 0.0
			if ll > 0 {
				t = min(1, max(0, w.Dot(c)/ll))
			}
			w = w.Sub(c.Mul(t))
			if d := w.Dot(w); d > best {
				far, best = k, d
			}
			if t > reached {
				reached, peak = t, k
			} else if reached-t > back {
				back, turned = reached-t, peak
			}
		}
		if back *= back * ll; best <= s.noise*s.noise && back > s.noise*s.noise {
			far, best = turned, back // it runs back along the line
		}
		if best <= s.noise*s.noise {
			return
		}
		keep[far] = true
		s.between(keep, i, far, depth)
		i = far
	}
}

// chord returns the line or arc from the j-th kept vertex to the next.
func (s *sketch) chord(j int) Segment {
	a, b := s.v[s.kept[j]], s.v[s.kept[j+1]]
	return Segment{a.Point, b.Point, a.Bulge}
}

// before returns the chord that ends at the j-th kept vertex, after the one
// that starts there.
func (s *sketch) before(j int) (int, bool) {
	if j > 0 {
		return j - 1, true
	}
	return len(s.kept) - 2, s.closed
}

func (s *sketch) after(j int) (int, bool) {
	if j < len(s.kept)-1 {
		return j, true
	}
	return 0, s.closed
}

// findCorners marks the vertices that turn more than a curve does.
func (s *sketch) findCorners() {
	m := len(s.kept)
	sharp := max(s.corner, facetTurn)
	for j := range m {
		if math.Abs(s.turn[j]) > sharp {
			s.broken[j] = true
		}
	}
	marked := make([]bool, m)
	for j := range m {
		a := s.turn[j]
		if s.broken[j] || math.Abs(a) < s.corner {
			continue
		}
		in, _ := s.before(j)
		out, _ := s.after(j)
		left, leftKnown := s.bend(in, j, in, out)
		right, rightKnown := s.bend(out, j, in, out)
		switch { // where one side ends at once, the curve may go on as on the other
		case !leftKnown && rightKnown:
			left = right * min(1, s.length[in]/s.length[out])
		case !rightKnown && leftKnown:
			right = left * min(1, s.length[out]/s.length[in])
		}
		excess := math.Abs(a) - math.Copysign(1, a)*(left+right)
		marked[j] = excess >= max(s.corner, math.Abs(a)/2)
	}
	for j := range m {
		s.broken[j] = s.broken[j] || marked[j]
	}
}

// bend returns the angle between the given chord of in and out, which meet at
// vertex j, and the circle through its ends and the vertex beyond its other
// end: the part of the turn at j that a curve on that side explains. A line
// and an arc explain none; it is not known beyond a corner.
func (s *sketch) bend(c, j, in, out int) (angle float64, known bool) {
	if s.fixed[c] {
		return 0, true
	}
	end, next, ok := c, 0, false // the vertex and chord beyond
	if c == in {
		next, ok = s.before(c)
	} else {
		end = c + 1
		next, ok = s.after(end)
	}
	if !ok || s.broken[end] {
		return 0, false
	}
	h, beyond, beside := s.length[c], s.length[next], s.length[in]
	if c == in {
		beside = s.length[out]
	}
	if s.fixed[next] { // an arc: the chord's own half of the turn
		return s.turn[end], true
	}
	if h > lineLength*min(beyond, beside) {
		return 0, true
	}
	return s.turn[end] * h / (h + beyond), true
}

// findLines marks the chords that no curve with the turns at their ends makes.
func (s *sketch) findLines() {
	m := len(s.kept)
	for j := range m - 1 {
		if s.fixed[j] {
			continue
		}
		h := s.length[j]
		var share [2]float64 // of the turn at either end that a curve would take
		evidence, long, curved := false, true, false
		for side := range 2 {
			at := j + side
			if s.broken[at] {
				continue
			}
			evidence = true
			var next, end, beyond int // the chord beside, its other vertex, the chord beyond
			var ok bool
			if side == 0 {
				next, _ = s.before(at)
				end = next
				beyond, ok = s.before(end)
			} else {
				next, _ = s.after(at)
				end = next + 1
				beyond, ok = s.after(end)
			}
			if s.v[s.kept[next]].Bulge != 0 {
				share[side] = s.turn[at]
				continue
			}
			l := s.length[next]
			share[side] = s.turn[at] * h / (h + l)
			if !ok || s.broken[end] {
				long = long && h >= lineLength*l
				continue
			}
			// Over a line, the turn is half of a facet's; over a curve it is more.
			long = long && h >= lineLength/2*l
			k := s.turn[end] / ((l + s.length[beyond]) / 2)
			curved = curved || math.Abs(s.turn[at]) > math.Abs(k)*(l/2+h/4)
		}
		rise := max(math.Abs(share[0]), math.Abs(share[1])) * h / 4
		plain := 3 * s.noise
		if share[0]*share[1] < 0 { // an S rises little over its middle
			plain = 10 * s.noise
		}
		dense := s.kept[j+1]-s.kept[j] > 3
		s.fixed[j] = !evidence || rise > facetRise ||
			rise > plain && dense || rise > s.noise && long && !curved
	}
	for j := range m - 1 {
		if s.fixed[j] {
			s.trim(j)
		}
	}
}

// trim takes the ends of a line off the facets that thinning lets it run on
// into, up to the noise: those next to its first and last part of a tenth of its
// length or more. A line of many points has no such part and stays.
func (s *sketch) trim(j int) {
	part := s.length[j] / 10
	i, k := s.kept[j], s.kept[j+1]
	for i < k && s.v[i].Dist(s.v[i+1].Point) < part {
		i++
	}
	for k > i && s.v[k].Dist(s.v[k-1].Point) < part {
		k--
	}
	if s.v[i].Dist(s.v[k].Point) < 7*part {
		return
	}
	if j > 0 && !s.broken[j] && !s.fixed[j-1] {
		s.kept[j] = i
	}
	if j+2 < len(s.kept) && !s.broken[j+1] && !s.fixed[j+1] {
		s.kept[j+1] = k
	}
}

// path puts the lines, arcs and smooth runs together.
func (s *sketch) path() Path {
	m := len(s.kept) - 1 // chords
	start := 0
	if s.closed {
		for start < m {
			in, _ := s.before(start)
			if s.broken[start] || s.fixed[start] || s.fixed[in] {
				break
			}
			start++
		}
		if start == m {
			return s.smoothAllRound()
		}
	}
	out := Path{Closed: s.closed}
	at := s.v[s.kept[start%m]].Point
	for n := 0; n < m; {
		j := (start + n) % m
		if s.fixed[j] {
			out.V = append(out.V, Vertex{at, s.v[s.kept[j]].Bulge})
			at = s.v[s.kept[j+1]].Point
			n++
			continue
		}
		size := 1
		for n+size < m {
			next := (j + size) % m
			if s.fixed[next] || s.broken[next] {
				break
			}
			size++
		}
		nodes := s.run(j, size)
		last := len(nodes) - 1
		out.V = append(out.V, nodes[:last]...)
		at = nodes[last].Point
		n += size
	}
	switch {
	case !s.closed:
		out.V = append(out.V, Vertex{Point: at})
	case s.fixed[start]:
		out.V[0].Point = at
	}
	return out
}

// run returns the vertices of the smooth run of size chords from the j-th one.
func (s *sketch) run(j, size int) []Vertex {
	m := len(s.kept) - 1
	end := j + size
	from, to := s.kept[j], 0
	if end <= m {
		to = s.kept[end]
	} else {
		end -= m
		to = s.kept[end] + len(s.v) - 1
	}
	points := make([]Point, 0, to-from+1)
	last := len(s.v) - 1
	for i := from; i <= to; i++ {
		k := i
		if k > last {
			k -= last
		}
		points = append(points, s.v[k].Point)
	}
	var ends [2]runEnd
	if in, ok := s.before(j); ok && !s.broken[j] {
		ends[0] = endOn(s.chord(in), true)
	}
	if out, ok := s.after(end); ok && !s.broken[end] {
		ends[1] = endOn(s.chord(out), false)
	}
	if facets(points, s.noise) >= leastFacets {
		c := chain{points: points, ends: ends, tolerance: s.tolerance}
		if v, ok := c.fit(); ok {
			return v
		}
	}
	return Open(points...).V
}

// smoothAllRound returns a closed path without corners and lines: a circle
// where one keeps within the noise of the points.
func (s *sketch) smoothAllRound() Path {
	last := len(s.v) - 1
	points := make([]Point, last+1)
	for i, v := range s.v {
		points[i] = v.Point
	}
	if facets(points, s.noise) >= leastFacets {
		if p, ok := s.circle(points[:last]); ok {
			return p
		}
		c := chain{points: points, closed: true, tolerance: s.tolerance}
		if v, ok := c.fit(); ok {
			return Path{V: v, Closed: true}
		}
	}
	return Closed(points[:last]...)
}

func (s *sketch) circle(points []Point) (Path, bool) {
	turn := 0.0
	for _, a := range s.turn[1:] {
		turn += a
	}
	if n := len(points); n > 3 && math.Abs(math.Abs(turn)-2*math.Pi) < 1 {
		c := through(points[0], points[n/3], points[2*n/3]).refined(points, 1, 1)
		if c.k*turn > 0 && c.keeps(points, circlePart*s.tolerance) {
			v := points[0].Sub(c.centre()).Unit().Mul(1 / math.Abs(c.k))
			b := math.Copysign(1, c.k)
			return Path{V: []Vertex{{c.centre().Add(v), b}, {c.centre().Add(v.Neg()), b}}, Closed: true}, true
		}
	}
	return Path{}, false
}

// facets counts the lines between points, but those shorter than four times
// the noise with the next.
func facets(points []Point, noise float64) int {
	n, at := 0, points[0]
	for _, p := range points[1:] {
		if p.Dist(at) > 4*noise {
			n++
			at = p
		}
	}
	return n
}
