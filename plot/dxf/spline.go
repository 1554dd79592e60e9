package dxf

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// weighted is a control point in homogeneous coordinates: x, y times the
// weight, and the weight.
type weighted struct{ x, y, w float64 }

// spline is a B-spline: rational, of any degree, with a knot vector of any
// kind.
type spline struct {
	degree int
	knots  []float64
	points []weighted
}

// newSpline returns the spline of the control points. No weights are equal
// ones.
func newSpline(degree int, knots []float64, points []path.Point, weights []float64) (*spline, error) {
	if degree < 1 || degree > maxDegree {
		return nil, fmt.Errorf("a spline of degree %d, not from 1 to %d", degree, maxDegree)
	}
	n := len(points)
	if n <= degree {
		return nil, fmt.Errorf("a spline of degree %d with %d control points, and it needs %d", degree, n, degree+1)
	}
	if len(knots) == n+degree-1 { // as some programs have it, without the outer two
		knots = append(append([]float64{knots[0]}, knots...), knots[len(knots)-1])
	}
	if len(knots) != n+degree+1 {
		return nil, fmt.Errorf("a spline of degree %d with %d control points and %d knots, and it needs %d", degree, n, len(knots), n+degree+1)
	}
	if len(weights) != 0 && len(weights) != n {
		return nil, fmt.Errorf("a spline with %d control points and %d weights", n, len(weights))
	}
	s := &spline{degree: degree, knots: make([]float64, len(knots)), points: make([]weighted, n)}
	slack := sameKnot * (knots[n] - knots[degree])
	copy(s.knots, knots)
	for i := 1; i < len(knots); i++ {
		if knots[i] < knots[i-1]-slack {
			return nil, fmt.Errorf("a spline whose knots fall from %g to %g", knots[i-1], knots[i])
		}
		if s.knots[i]-s.knots[i-1] <= slack {
			s.knots[i] = s.knots[i-1]
		}
	}
	if !(s.knots[n] > s.knots[degree]) {
		return nil, fmt.Errorf("a spline whose knots are all the same")
	}
	for i, p := range points {
		w := 1.0
		if len(weights) > 0 {
			if w = weights[i]; !(w > 0) {
				return nil, fmt.Errorf("a spline with the weight %g", w)
			}
		}
		s.points[i] = weighted{p.X * w, p.Y * w, w}
	}
	return s, nil
}

// transform returns the spline under the map: its control points follow.
func (s *spline) transform(m path.Affine) *spline {
	moved := *s
	moved.points = make([]weighted, len(s.points))
	for i, p := range s.points {
		v := m.ApplyVec(path.Vec{X: p.x, Y: p.y})
		moved.points[i] = weighted{v.X + m.E*p.w, v.Y + m.F*p.w, p.w}
	}
	return &moved
}

// eval returns the point and the derivative at t by the polynomial of the span
// between knots k and k+1: de Boor's algorithm, stopped one step early for the
// derivative (Piegl and Tiller, The NURBS Book, 2nd edition 1997, chapters 3
// and 4).
func (s *spline) eval(k int, t float64) (path.Point, path.Vec) {
	var d [maxDegree + 1]weighted
	p := s.degree
	copy(d[:p+1], s.points[k-p:k+1])
	var slope weighted
	for r := 1; r <= p; r++ {
		if r == p {
			h := float64(p) / (s.knots[k+1] - s.knots[k])
			slope = weighted{(d[p].x - d[p-1].x) * h, (d[p].y - d[p-1].y) * h, (d[p].w - d[p-1].w) * h}
		}
		for j := p; j >= r; j-- {
			i := k - p + j
			a := (t - s.knots[i]) / (s.knots[i+p-r+1] - s.knots[i])
			b := 1 - a
			d[j] = weighted{b*d[j-1].x + a*d[j].x, b*d[j-1].y + a*d[j].y, b*d[j-1].w + a*d[j].w}
		}
	}
	at := d[p]
	x, y := at.x/at.w, at.y/at.w
	return path.Point{X: x, Y: y}, path.Vec{X: (slope.x - slope.w*x) / at.w, Y: (slope.y - slope.w*y) / at.w}
}

// smoothPart is a smooth part of a spline as a [path.Curve]: some of its spans.
type smoothPart struct {
	*spline
	spans []int
	still float64 // a speed that counts as none
}

func (c smoothPart) span(t float64) int {
	for _, k := range c.spans {
		if t < c.knots[k+1] {
			return k
		}
	}
	return c.spans[len(c.spans)-1]
}

// At returns the point at t.
func (c smoothPart) At(t float64) path.Point {
	p, _ := c.eval(c.span(t), t)
	return p
}

// Tangent returns the derivative at t or, where it vanishes at an end, the way
// that the curve takes from there.
func (c smoothPart) Tangent(t float64) path.Vec {
	k := c.span(t)
	p, v := c.eval(k, t)
	if v.Len() > c.still {
		return v
	}
	h := nearEnd * (c.knots[k+1] - c.knots[k])
	if t-c.knots[k] < c.knots[k+1]-t {
		q, _ := c.eval(k, t+h)
		return q.Sub(p)
	}
	q, _ := c.eval(k, t-h)
	return p.Sub(q)
}

// fit returns the spline as an open path of arcs, nowhere further from it than
// the tolerance.
func (s *spline) fit(tolerance float64) (path.Path, error) {
	var spans []int
	for k := s.degree; k < len(s.points); k++ {
		if s.knots[k] < s.knots[k+1] {
			spans = append(spans, k)
		}
	}
	box := path.EmptyBox()
	for _, p := range s.points {
		box = box.Include(path.Point{X: p.x / p.w, Y: p.y / p.w})
	}
	size := box.Width() + box.Height()
	still := sameKnot * size / (s.knots[len(s.points)] - s.knots[s.degree])
	var parts []path.Path
	from := 0
	for i, k := range spans {
		if i+1 < len(spans) {
			t := s.knots[k+1]
			p, u := s.eval(k, t)
			q, v := s.eval(spans[i+1], t)
			if p.Dist(q) > path.Coincident+sameKnot*size {
				return path.Path{}, fmt.Errorf("a spline that jumps from (%g, %g) to (%g, %g) mm", p.X, p.Y, q.X, q.Y)
			}
			corner := u.Len() <= still || v.Len() <= still || math.Abs(u.AngleTo(v)) > smoothKnot
			if !corner && i+1-from < spansPerPart {
				continue
			}
		}
		part := smoothPart{s, spans[from : i+1], still}
		from = i + 1
		l, err := part.fit(tolerance)
		if err != nil {
			return path.Path{}, err
		}
		if len(l.V) > 0 {
			parts = append(parts, l)
		}
	}
	if len(parts) == 0 {
		k := spans[0]
		p, _ := s.eval(k, s.knots[k])
		return path.Open(p), nil
	}
	return path.Join(path.Coincident+sameKnot*size, parts...), nil
}

func (c smoothPart) fit(tolerance float64) (path.Path, error) {
	// The curve lies in the hull of its control points.
	box := path.EmptyBox()
	for _, p := range c.points[c.spans[0]-c.degree : c.spans[len(c.spans)-1]+1] {
		box = box.Include(path.Point{X: p.x / p.w, Y: p.y / p.w})
	}
	if box.Width()+box.Height() <= path.Coincident {
		return path.Path{}, nil
	}
	t0, t1 := c.knots[c.spans[0]], c.knots[c.spans[len(c.spans)-1]+1]
	if c.degree == 1 {
		points := []path.Point{c.At(t0)}
		for _, k := range c.spans {
			p, _ := c.eval(k, c.knots[k+1])
			points = append(points, p)
		}
		return path.Open(points...), nil
	}
	return path.FitCurve(c, t0, t1, tolerance)
}

// through returns the cubic spline through the points, with the chords' lengths
// as its parameter and its second derivative steady. Its ends have the given
// directions, or where these are zero no curvature; when it is closed it runs
// on smoothly. Equations: Piegl and Tiller, chapter 9, for the slopes at the
// points.
func through(points []path.Point, start, end path.Vec, closed bool) (*spline, error) {
	distinct := points[:0:0]
	for _, p := range points {
		if n := len(distinct); n == 0 || distinct[n-1] != p {
			distinct = append(distinct, p)
		}
	}
	if n := len(distinct); closed && n > 1 && distinct[0] == distinct[n-1] {
		distinct = distinct[:n-1]
	}
	n := len(distinct)
	if n < 2 {
		return nil, fmt.Errorf("a spline with %d fit points, and it needs 2", n)
	}
	if !closed || n < 3 {
		return hermite(distinct, slopes(distinct, start, end)), nil
	}
	// A point's weight falls to 27 % from one to the next, so that the ends of
	// some more turns do not tell in the middle one.
	const more = 24
	round := make([]path.Point, 0, n+1+2*more)
	for i := -more; i <= n+more; i++ {
		round = append(round, distinct[((i%n)+n)%n])
	}
	m := slopes(round, path.Vec{}, path.Vec{})
	return hermite(round[more:more+n+1], m[more:more+n+1]), nil
}

// slopes returns the derivatives of the cubic spline at its points.
func slopes(points []path.Point, start, end path.Vec) []path.Vec {
	n := len(points)
	diagonal, right := make([]float64, n), make([]path.Vec, n)
	upper := make([]float64, n)
	chord := func(i int) (path.Vec, float64) {
		v := points[i+1].Sub(points[i])
		return v, v.Len()
	}
	v0, h0 := chord(0)
	diagonal[0], upper[0], right[0] = 2, 1, v0.Mul(3/h0)
	if start != (path.Vec{}) {
		diagonal[0], upper[0], right[0] = 1, 0, start.Unit()
	}
	for i := 1; i < n; i++ {
		var lower float64
		if i < n-1 {
			v, h := v0, h0
			v0, h0 = chord(i)
			lower, diagonal[i], upper[i] = h0, 2*(h+h0), h
			right[i] = v.Mul(3 * h0 / h).Add(v0.Mul(3 * h / h0))
		} else {
			lower, diagonal[i], right[i] = 1, 2, v0.Mul(3/h0)
			if end != (path.Vec{}) {
				lower, diagonal[i], right[i] = 0, 1, end.Unit()
			}
		}
		f := lower / diagonal[i-1]
		diagonal[i] -= f * upper[i-1]
		right[i] = right[i].Sub(right[i-1].Mul(f))
	}
	for i := n - 1; i >= 0; i-- {
		if i < n-1 {
			right[i] = right[i].Sub(right[i+1].Mul(upper[i]))
		}
		right[i] = right[i].Mul(1 / diagonal[i])
	}
	return right
}

// hermite returns the cubic spline through the points with those slopes over
// the chords' lengths.
func hermite(points []path.Point, slopes []path.Vec) *spline {
	s := &spline{degree: 3, knots: []float64{0}}
	add := func(p path.Point) { s.points = append(s.points, weighted{p.X, p.Y, 1}) }
	t := 0.0
	for i, p := range points {
		s.knots = append(s.knots, t, t, t)
		if i > 0 {
			h := p.Dist(points[i-1])
			add(p.Add(slopes[i].Mul(-h / 3)))
		}
		add(p)
		if i+1 < len(points) {
			h := points[i+1].Dist(p)
			add(p.Add(slopes[i].Mul(h / 3)))
			t += h
		}
	}
	s.knots = append(s.knots, t)
	return s
}
