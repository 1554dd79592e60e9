package path

import "math"

// Vertex is a corner or joint of a path and the bulge of the segment that
// starts there.
type Vertex struct {
	Point
	Bulge float64
}

// Path is a chain of straight lines and circular arcs. A closed path returns
// from its last vertex to its first by the last vertex's segment; the first
// vertex is not repeated. The zero Path is empty. A closed path of two
// vertices with bulge 1 is a circle.
type Path struct {
	V      []Vertex
	Closed bool
}

// Open returns the open polyline through the points.
func Open(points ...Point) Path { return polyline(points, false) }

// Closed returns the closed polygon through the points.
func Closed(points ...Point) Path { return polyline(points, true) }

func polyline(points []Point, closed bool) Path {
	v := make([]Vertex, len(points))
	for i, p := range points {
		v[i].Point = p
	}
	return Path{V: v, Closed: closed}
}

// Circle returns the counter-clockwise circle that starts right of the centre.
func Circle(centre Point, radius float64) Path {
	return Path{Closed: true, V: []Vertex{
		{Point{centre.X + radius, centre.Y}, 1},
		{Point{centre.X - radius, centre.Y}, 1},
	}}
}

// FromSegments returns the open chain of the segments, each of which starts
// where the one before it ends; small gaps are closed by taking the start of
// the next one. No segments give the empty path.
func FromSegments(segments ...Segment) Path {
	if len(segments) == 0 {
		return Path{}
	}
	v := make([]Vertex, 0, len(segments)+1)
	for _, s := range segments {
		v = append(v, Vertex{s.A, s.Bulge})
	}
	return Path{V: append(v, Vertex{Point: segments[len(segments)-1].B})}
}

// Segments returns how many segments the path has.
func (p Path) Segments() int {
	switch {
	case len(p.V) < 2:
		return 0
	case p.Closed:
		return len(p.V)
	}
	return len(p.V) - 1
}

// Segment returns the i-th segment, 0 <= i < p.Segments().
func (p Path) Segment(i int) Segment {
	j := i + 1
	if j == len(p.V) {
		j = 0
	}
	return Segment{p.V[i].Point, p.V[j].Point, p.V[i].Bulge}
}

// Start returns the first vertex's point. The path has vertices.
func (p Path) Start() Point { return p.V[0].Point }

// End returns the point where the path stops: the last vertex, or the first
// of a closed path. The path has vertices.
func (p Path) End() Point {
	if p.Closed {
		return p.V[0].Point
	}
	return p.V[len(p.V)-1].Point
}

// StartTangent returns the unit direction of travel at the start. The path has
// segments.
func (p Path) StartTangent() Vec { return p.Segment(0).StartTangent() }

// EndTangent returns the unit direction of travel at the end. The path has
// segments.
func (p Path) EndTangent() Vec { return p.Segment(p.Segments() - 1).EndTangent() }

// Length returns the length along the path, 0 for the empty path.
func (p Path) Length() float64 {
	var sum float64
	for i := range p.Segments() {
		sum += p.Segment(i).Length()
	}
	return sum
}

// Area returns the signed area of a closed path, positive when it runs
// counter-clockwise, each part counted as often as the path winds round it.
// An open path is closed with a straight line.
func (p Path) Area() float64 {
	if len(p.V) < 2 {
		return 0
	}
	// Relative to the first vertex, so that a piece far from the origin keeps
	// its digits.
	o := p.V[0].Point
	var twice float64
	for i := range p.Segments() {
		s := p.Segment(i)
		s.A, s.B = Point(s.A.Sub(o)), Point(s.B.Sub(o))
		twice += s.areaUnder()
	}
	return twice / 2
}

// Bounds returns the smallest box around the path, the empty box for the empty
// path.
func (p Path) Bounds() Box {
	b := EmptyBox()
	for _, v := range p.V {
		b = b.Include(v.Point)
	}
	for i := range p.Segments() {
		s := p.Segment(i)
		if s.IsLine() {
			continue
		}
		// Seldom does an arc leave the box of all vertices.
		if d := s.stray(); !b.covers(s.A, d) || !b.covers(s.B, d) {
			b = b.Union(s.Bounds())
		}
	}
	return b
}

// covers reports whether the box holds everything up to the distance from p.
func (b Box) covers(p Point, distance float64) bool {
	return p.X-distance >= b.Min.X && p.X+distance <= b.Max.X && p.Y-distance >= b.Min.Y && p.Y+distance <= b.Max.Y
}

// Finite reports whether every coordinate and bulge is a number.
func (p Path) Finite() bool {
	for _, v := range p.V {
		if !v.Finite() || !finite(v.Bulge) {
			return false
		}
	}
	return true
}

// Reverse returns the path run the other way. A closed path keeps its first
// vertex.
func (p Path) Reverse() Path {
	n := len(p.V)
	v := make([]Vertex, n)
	for i := range v {
		from := n - 1 - i
		if p.Closed {
			from = (n - i) % n
		}
		v[i].Point = p.V[from].Point
		if before := from - 1; before >= 0 {
			v[i].Bulge = -p.V[before].Bulge
		} else if p.Closed {
			v[i].Bulge = -p.V[n-1].Bulge
		}
	}
	return Path{V: v, Closed: p.Closed}
}

// Join returns the open chain of the paths, in order. Where one ends within
// gap of the next one's start they share the next one's point; otherwise a
// straight line joins them. Empty paths are left out.
func Join(gap float64, paths ...Path) Path {
	n := 0
	for _, p := range paths {
		n += len(p.V)
	}
	v := make([]Vertex, 0, n+1)
	for _, p := range paths {
		if len(p.V) == 0 {
			continue
		}
		if k := len(v); k > 0 && v[k-1].Dist(p.V[0].Point) <= gap {
			v = v[:k-1]
		}
		v = append(v, p.V...)
		if p.Closed {
			v = append(v, Vertex{Point: p.V[0].Point})
		} else {
			v[len(v)-1].Bulge = 0
		}
	}
	return Path{V: v}
}

// Close returns the open path as an outline: when its ends lie within gap of
// one another they become one vertex, otherwise a straight line closes it. A
// closed path is returned as it is.
func (p Path) Close(gap float64) Path {
	if p.Closed || len(p.V) < 2 {
		return Path{V: p.V, Closed: true}
	}
	v := p.V
	if p.Start().Dist(p.End()) <= gap {
		v = v[: len(v)-1 : len(v)-1]
	}
	return Path{V: v, Closed: true}
}

// Similarity is a motion of the plane with an even scale: turn, scale, shift
// and perhaps a reflection. The zero value is not valid; start from one of
// the constructors.
type Similarity struct {
	a, b    float64 // x' = a x - b y + tx, y' = b x + a y + ty
	t       Vec
	mirrors bool // y is negated first
}

// Translation returns the shift by v.
func Translation(v Vec) Similarity { return Similarity{a: 1, t: v} }

// Rotation returns the turn by the angle about the point.
func Rotation(about Point, angle float64) Similarity {
	s, c := math.Sincos(angle)
	m := Similarity{a: c, b: s}
	return m.fixing(about)
}

// Scaling returns the even scaling by k about the point.
func Scaling(about Point, k float64) Similarity { return Similarity{a: k}.fixing(about) }

// Reflection returns the mirror image in the line through the point along the
// direction.
func Reflection(through Point, along Vec) Similarity {
	u := along.Unit()
	m := Similarity{a: u.X*u.X - u.Y*u.Y, b: 2 * u.X * u.Y, mirrors: true}
	return m.fixing(through)
}

// Frame returns the motion that takes the origin to the point and the x axis
// to the direction along, with the even scale of along's length.
func Frame(origin Point, along Vec) Similarity {
	return Similarity{a: along.X, b: along.Y, t: Vec(origin)}
}

// fixing returns the motion with its shift chosen so that the point stays.
func (m Similarity) fixing(p Point) Similarity {
	m.t = Vec{}
	m.t = p.Sub(m.Apply(p))
	return m
}

// Then returns the motion m followed by n.
func (m Similarity) Then(n Similarity) Similarity {
	b := m.b
	if n.mirrors {
		b = -b
	}
	return Similarity{
		a:       n.a*m.a - n.b*b,
		b:       n.b*m.a + n.a*b,
		t:       Vec(n.Apply(Point(m.t))),
		mirrors: m.mirrors != n.mirrors,
	}
}

// Apply moves a point.
func (m Similarity) Apply(p Point) Point { return Point(m.ApplyVec(Vec(p)).Add(m.t)) }

// ApplyVec moves a displacement, leaving out the shift.
func (m Similarity) ApplyVec(v Vec) Vec {
	if m.mirrors {
		v.Y = -v.Y
	}
	return Vec{m.a*v.X - m.b*v.Y, m.b*v.X + m.a*v.Y}
}

// Scale returns the ratio of lengths after to before.
func (m Similarity) Scale() float64 { return math.Hypot(m.a, m.b) }

// Mirrors reports whether the motion turns left into right.
func (m Similarity) Mirrors() bool { return m.mirrors }

// Transform returns the path moved. A reflection keeps the order of the
// vertices, so that a counter-clockwise outline becomes clockwise.
func (p Path) Transform(m Similarity) Path {
	v := make([]Vertex, len(p.V))
	for i, w := range p.V {
		b := w.Bulge
		if m.mirrors {
			b = -b
		}
		v[i] = Vertex{m.Apply(w.Point), b}
	}
	return Path{V: v, Closed: p.Closed}
}
