package path

import "math"

// runEnd is what a run of points is fitted to at an end: the direction of the
// line or arc there, zero when any will do, and how far the end may slide
// along it.
type runEnd struct {
	u     Vec
	slide float64
}

// endOn returns the end of a run at the end (or the start) of the segment.
func endOn(s Segment, atEnd bool) runEnd {
	e := runEnd{u: s.StartTangent()}
	if atEnd {
		e.u = s.EndTangent()
	}
	if s.IsLine() {
		e.slide = 0.4 * s.Chord().Len()
	}
	return e
}

// chain fits tangent arcs to points. A closed one repeats its first point.
type chain struct {
	points    []Point
	ends      [2]runEnd
	closed    bool
	tolerance float64 // mm

	along []float64 // mm from the first point
	cuts  []int     // points where one arc ends and the next starts
	arcs  []circle  // fitted to the points between cuts, not tangent
	nodes []joint
}

// joint is the place and direction of travel where two arcs meet, and how far
// each may have to be changed: across, along (mm) and in direction (rad).
type joint struct {
	Point
	u                   Vec
	across, slide, turn float64
}

// fit returns the vertices of tangent arcs, the last one included unless the
// chain is closed. It fails where six arcs for ten facets, or a pair for two, do not do. Made
// tangent, arcs err up to twice as much as by themselves, so that they are
// fitted more closely until they pass, first all and then those that do not.
func (c *chain) fit() ([]Vertex, bool) {
	n := len(c.points)
	c.along = make([]float64, n)
	for i := 1; i < n; i++ {
		c.along[i] = c.along[i-1] + c.points[i].Dist(c.points[i-1])
	}
	whole := c.tolerance
	for _, part := range [...]float64{0.85, 1} { // better than it must be, if it can
		c.tolerance = part * whole
		if s := c.within(); s != nil {
			return c.vertices(s), true
		}
	}
	return nil, false
}

// within returns tangent arcs within the tolerance, nil if it finds none.
func (c *chain) within() []Segment {
	n := len(c.points)
	most := 3 * (n - 1) / 5
	for _, part := range [...]float64{0.8, 0.6, 0.45, 0.3} {
		c.cut(part * c.tolerance)
		if len(c.arcs) > most {
			break
		}
		if s, far := c.joined(); s != nil && far == nil {
			return s
		}
	}
	// Few points far apart, as beside a short line, take short arcs there.
	c.cut(0.6 * c.tolerance)
	for range 8 {
		s, far := c.joined()
		if s != nil && far == nil {
			return s
		}
		if s == nil || !c.split(far) || len(c.arcs) > most {
			break
		}
	}
	c.cut(0.6 * c.tolerance)
	c.settle()
	c.place()
	if 2*len(c.arcs) < n {
		if s := c.pairs(); s != nil && c.far(s) == nil {
			return s
		}
	}
	return nil
}

// joined returns the arcs made tangent, nil if they cannot be, and which of
// them are too far from their points.
func (c *chain) joined() (s []Segment, far []int) {
	c.settle()
	c.place()
	if !c.join() {
		return nil, nil
	}
	s = c.singles()
	return s, c.far(s)
}

// split cuts the arcs in two that are too far from their points, or else the
// longer one of their neighbours, and reports whether it could.
func (c *chain) split(far []int) bool {
	halve := make([]bool, len(c.arcs))
	facets := func(j int) int {
		if j < 0 || j == len(c.arcs) {
			return 0
		}
		return c.cuts[j+1] - c.cuts[j]
	}
	for _, j := range far {
		switch before, after := facets(j-1), facets(j+1); {
		case facets(j) > 1:
			halve[j] = true
		case before > 1 && before >= after:
			halve[j-1] = true
		case after > 1:
			halve[j+1] = true
		default:
			return false
		}
	}
	cuts := make([]int, 0, len(c.cuts)+len(far))
	for j, h := range halve {
		cuts = append(cuts, c.cuts[j])
		if h {
			cuts = append(cuts, (c.cuts[j]+c.cuts[j+1])/2)
		}
	}
	c.cuts = append(cuts, c.cuts[len(c.cuts)-1])
	c.fitArcs()
	return true
}

func (c *chain) fitArcs() {
	c.arcs = c.arcs[:0]
	for j := range len(c.cuts) - 1 {
		c.arcs = append(c.arcs, c.arc(c.cuts[j], c.cuts[j+1]))
	}
}

func (c *chain) vertices(s []Segment) []Vertex {
	v := FromSegments(s...).V
	if c.closed {
		v = v[:len(v)-1]
	}
	return v
}

// arc returns the circle fitted to the points from i to j.
func (c *chain) arc(i, j int) circle {
	last := len(c.points) - 1
	m := i + (j-i)/2
	if m == i {
		v := c.points[j].Sub(c.points[i])
		return circle{m: c.points[i].Lerp(c.points[j], 0.5), u: v.Unit(), size: v.Len() / 2}
	}
	a := through(c.points[i], c.points[m], c.points[j])
	if j-i == 2 {
		a.size = max(a.m.Dist(c.points[i]), a.m.Dist(c.points[j]))
		return a
	}
	first, final := 1.0, 1.0
	if i == 0 && !c.closed {
		first = endWeight
	}
	if j == last && !c.closed {
		final = endWeight
	}
	return a.refined(c.points[i:j+1], first, final)
}

// cut finds few arcs that keep within the limit, the longest that reach from
// the first point on, and then moves the cuts between them.
func (c *chain) cut(limit float64) {
	last := len(c.points) - 1
	fits := func(i, j int) bool {
		if j-i < 2 {
			return true
		}
		a := c.arc(i, j)
		return c.turn(&a, i, j) <= mostTurn && a.keeps(c.points[i:j+1], limit)
	}
	c.cuts = append(c.cuts[:0], 0)
	size := 8
	for i := 0; i < last; {
		good, bad := 1, last-i+1
		for size = min(size, last-i); bad-good > 1+good/32; {
			if fits(i, i+size) {
				good = size
				size = min(2*size, last-i)
			} else {
				bad = size
			}
			if bad <= last-i || size <= good {
				size = (good + bad) / 2
			}
		}
		i += good
		size = good
		c.cuts = append(c.cuts, i)
	}
	// Arcs between fixed ends have too little freedom alone, and a ring of two.
	least := 1
	if c.closed {
		least = 3
	} else if c.ends[0].u != (Vec{}) && c.ends[1].u != (Vec{}) && c.ends[0].slide+c.ends[1].slide == 0 {
		least = 2
	}
	if len(c.cuts) <= least && last >= 2*least {
		c.cuts = c.cuts[:0]
		for i := range least + 1 {
			c.cuts = append(c.cuts, i*last/least)
		}
	}
	for range 2 {
		for j := 1; j < len(c.cuts)-1; j++ {
			c.cuts[j] = c.balanced(c.cuts[j-1], c.cuts[j], c.cuts[j+1])
		}
	}
	c.fitArcs()
}

// turn returns the angle that the arc a turns by from point i to j.
func (c *chain) turn(a *circle, i, j int) float64 {
	return math.Abs(a.k) * (c.along[j] - c.along[i])
}

// balanced returns where to cut the points from i to k so that the squares of
// the errors of both arcs add up to the least, j unless another place is better.
func (c *chain) balanced(i, j, k int) int {
	sum := func(j int) float64 {
		a, b := c.arc(i, j), c.arc(j, k)
		if max(c.turn(&a, i, j), c.turn(&b, j, k)) > mostTurn {
			return math.Inf(1)
		}
		return a.squares(c.points[i:j+1]) + b.squares(c.points[j:k+1])
	}
	lo, hi := i+2, k-2
	if lo >= hi {
		return j
	}
	best, least := j, sum(j)
	step := (hi - lo + 3) / 4
	for enough := step / 7; step > enough; {
		moved := false
		for _, at := range [...]int{best - step, best + step} {
			if at < lo || at > hi {
				continue
			}
			if e := sum(at); e < least {
				best, least, moved = at, e, true
				break
			}
		}
		if !moved {
			step /= 2
		}
	}
	return best
}

// settle changes the arcs together, so that neighbours meet where they are cut,
// in place and direction, at the least cost in squares of the errors: that of
// each arc is a quadratic form around its fit. The forces at the cuts
// (Lagrange multipliers) are found by conjugate gradients, a few steps as they
// fade from one cut to the next; [chain.join] does the rest.
func (c *chain) settle() {
	n := len(c.arcs)
	joints := make([]tie, 0, n)
	inverse := make([][3][3]float64, n)
	for j := range n {
		inverse[j] = c.freedom(j)
		if j == 0 && !c.closed {
			continue
		}
		k := tie{before: (j + n - 1) % n, after: j}
		q := c.points[c.cuts[j]]
		a, b := &c.arcs[k.before], &c.arcs[k.after]
		k.from, k.to = a.change(q), b.change(q)
		k.gap = [2]float64{b.deviation(q) - a.deviation(q), a.direction(q).AngleTo(b.direction(q))}
		joints = append(joints, k)
	}
	m := len(joints)
	if m == 0 {
		return
	}
	changes := make([][3]float64, n)
	spread := func(force [][2]float64) { // what the forces do to the arcs
		clear(changes)
		for i, k := range joints {
			for r := range 2 {
				for p := range 3 {
					changes[k.before][p] += force[i][r] * k.from[r][p]
					changes[k.after][p] -= force[i][r] * k.to[r][p]
				}
			}
		}
		for j, x := range changes {
			changes[j] = multiplied(inverse[j], x)
		}
	}
	// The blocks of the diagonal, inverted, precondition.
	blocks := make([][3]float64, m)
	for i, k := range joints {
		var d [3]float64
		for r := range 2 {
			a, b := multiplied(inverse[k.before], k.from[r]), multiplied(inverse[k.after], k.to[r])
			for p := range 3 {
				d[r] += a[p]*k.from[0][p] + b[p]*k.to[0][p]
				if r == 1 {
					d[2] += a[p]*k.from[1][p] + b[p]*k.to[1][p]
				}
			}
		}
		det := d[0]*d[2] - d[1]*d[1]
		blocks[i] = [3]float64{d[2] / det, -d[1] / det, d[0] / det}
	}
	force, rest := make([][2]float64, m), make([][2]float64, m)
	way, answer := make([][2]float64, m), make([][2]float64, m)
	for i, k := range joints {
		rest[i] = k.gap
	}
	dot := func(a, b [][2]float64) (sum float64) {
		for i := range a {
			sum += a[i][0]*b[i][0] + a[i][1]*b[i][1]
		}
		return sum
	}
	var first, before float64
	for step := range settleSteps {
		for i, r := range rest {
			b := blocks[i]
			answer[i] = [2]float64{b[0]*r[0] + b[1]*r[1], b[1]*r[0] + b[2]*r[1]}
		}
		now := dot(rest, answer)
		if step == 0 {
			first = now
		}
		if !(now > settled*first) {
			break
		}
		for i, a := range answer {
			f := 0.0
			if step > 0 {
				f = now / before
			}
			way[i] = [2]float64{a[0] + f*way[i][0], a[1] + f*way[i][1]}
		}
		before = now
		spread(way)
		for i, k := range joints {
			var y [2]float64
			for r := range 2 {
				for p := range 3 {
					y[r] += k.from[r][p]*changes[k.before][p] - k.to[r][p]*changes[k.after][p]
				}
			}
			answer[i] = y
		}
		f := now / dot(way, answer)
		for i := range force {
			for r := range 2 {
				force[i][r] += f * way[i][r]
				rest[i][r] -= f * answer[i][r]
			}
		}
	}
	spread(force)
	for j, x := range changes {
		if a := c.arcs[j].changed(x); a.m.Finite() && finite(a.k) {
			c.arcs[j] = a
		}
	}
}

// tie is a cut between two arcs: what a change of each does to its place
// and direction there, and how far the two are apart.
type tie struct {
	before, after int
	from, to      [2][3]float64
	gap           [2]float64
}

// freedom returns the inverse of the quadratic form that a change of the arc
// costs.
func (c *chain) freedom(j int) [3][3]float64 {
	a := &c.arcs[j]
	i, k := c.cuts[j], c.cuts[j+1]
	last := len(c.points) - 1
	var m [3][4]float64
	points := c.points[i : k+1]
	step := stride(len(points))
	for at := 0; at < len(points); at += step {
		addSquare(&m, a.change(points[at])[0], float64(step))
	}
	if !c.closed {
		for side, at := range [...]int{0, last} {
			if at != i && at != k {
				continue
			}
			rows := a.change(c.points[at])
			addSquare(&m, rows[0], endWeight)
			if e := c.ends[side]; e.u != (Vec{}) && e.slide == 0 {
				addSquare(&m, rows[1], endWeight*c.span(j)*c.span(j))
			}
		}
	}
	for p := range 3 { // a single facet leaves the curvature open
		m[p][p] *= 1 + openCurvature
	}
	var inverse [3][3]float64
	for p := range 3 {
		e := m
		e[p][3] = 1
		x, ok := solve3(e)
		if !ok {
			return [3][3]float64{}
		}
		inverse[p] = x
	}
	return inverse
}

func addSquare(m *[3][4]float64, row [3]float64, weight float64) {
	for i := range 3 {
		for j := i; j < 3; j++ {
			m[i][j] += weight * row[i] * row[j]
		}
	}
}

func multiplied(m [3][3]float64, x [3]float64) (y [3]float64) {
	for i := range 3 {
		y[i] = m[i][0]*x[0] + m[i][1]*x[1] + m[i][2]*x[2]
	}
	return y
}

// place puts the nodes half-way between the arcs that meet there.
func (c *chain) place() {
	n := len(c.arcs)
	c.nodes = c.nodes[:0]
	for j := range n + 1 {
		q := c.points[c.cuts[j]]
		before, after := j-1, j
		if c.closed {
			before, after = (before+n)%n, after%n
		}
		switch {
		case before < 0:
			c.nodes = append(c.nodes, c.end(0, q, 0))
		case after == n:
			c.nodes = append(c.nodes, c.end(1, q, n-1))
		default:
			a, b := &c.arcs[before], &c.arcs[after]
			u := a.direction(q).Add(b.direction(q)).Unit()
			d := (a.deviation(q) + b.deviation(q)) / 2
			longest := max(c.span(before), c.span(after))
			c.nodes = append(c.nodes, joint{q.Add(u.Left().Mul(d)), u, c.tolerance / 4, 0, 4 * c.tolerance / longest})
		}
	}
}

func (c *chain) span(arc int) float64 { return c.along[c.cuts[arc+1]] - c.along[c.cuts[arc]] }

// end returns the node at an end of the chain.
func (c *chain) end(side int, q Point, arc int) joint {
	e, l := c.ends[side], c.span(arc)
	u := c.arcs[arc].direction(q)
	if e.u != (Vec{}) && math.Abs(u.AngleTo(e.u)) <= tangentSlack+2*c.tolerance/l {
		// Where a line ends and an arc begins shows to about the length over
		// which the two part by the tolerance.
		part := math.Sqrt(2 * c.tolerance / max(math.Abs(c.arcs[arc].k), 1/l))
		return joint{q, e.u, 0, min(e.slide, part), 0}
	}
	return joint{q, u, 0, 0, 4 * c.tolerance / l}
}

// join changes the nodes, as little as they may have to be, until one arc
// leads from each to the next, and reports whether it could. An arc's
// directions at its ends lean from the chord by the same angle, which makes one
// equation an arc; Newton steps solve all, each the shortest in the measure of
// what the nodes may be changed by (Lagrange multipliers, a tridiagonal system).
func (c *chain) join() bool {
	n := len(c.arcs)
	type side struct{ across, slide, turn float64 } // change of an arc's equation with its node
	from, to := make([]side, n), make([]side, n)
	lower, diagonal, rhs := make([]float64, n), make([]float64, n), make([]float64, n)
	square := func(k joint, a, b side) float64 {
		return a.across*b.across*k.across*k.across + a.slide*b.slide*k.slide*k.slide + a.turn*b.turn*k.turn*k.turn
	}
	for range 12 {
		worst := 0.0
		for j := range n {
			a, b := c.nodes[j], c.nodes[j+1]
			v := b.Sub(a.Point)
			l := v.Len()
			if l < Coincident {
				return false
			}
			g := a.u.AngleTo(v) - v.AngleTo(b.u)
			worst = max(worst, math.Abs(g))
			rhs[j] = -g
			across := v.Left().Mul(2 / (l * l))
			from[j] = side{-across.Dot(a.u.Left()), -across.Dot(a.u), -1}
			to[j] = side{across.Dot(b.u.Left()), across.Dot(b.u), -1}
		}
		if !(worst < 1) {
			return false
		}
		if worst <= closedKink {
			return true
		}
		for j := range n {
			diagonal[j] = square(c.nodes[j], from[j], from[j]) + square(c.nodes[j+1], to[j], to[j])
			lower[j] = 0
			if j > 0 {
				lower[j] = square(c.nodes[j], to[j-1], from[j])
			} else if c.closed {
				lower[j] = square(c.nodes[0], to[n-1], from[0])
			}
		}
		if !solveRing(lower, diagonal, rhs) {
			return false
		}
		for j := range c.nodes {
			k := &c.nodes[j]
			var s side
			add := func(a side, x float64) {
				s = side{s.across + a.across*x, s.slide + a.slide*x, s.turn + a.turn*x}
			}
			if j < n {
				add(from[j], rhs[j])
			} else if c.closed {
				add(from[0], rhs[0])
			}
			if j > 0 {
				add(to[j-1], rhs[j-1])
			} else if c.closed {
				add(to[n-1], rhs[n-1])
			}
			k.Point = k.Add(k.u.Left().Mul(s.across * k.across * k.across)).Add(k.u.Mul(s.slide * k.slide * k.slide))
			if k.turn > 0 {
				k.u = k.u.Rotate(s.turn * k.turn * k.turn)
			}
		}
		if c.closed {
			c.nodes[n] = c.nodes[0]
		}
	}
	return false
}

// solveRing solves the symmetric system with the diagonal and, left of it, the
// lower one, whose first element stands in the far corners: 0, unless the
// equations are a ring of three or more. The right side becomes the solution. It
// fails when the system is singular.
func solveRing(lower, diagonal, x []float64) bool {
	n := len(x)
	corner := lower[0]
	d := append(make([]float64, 0, n), diagonal...)
	var r []float64 // the answer to the rank one change that makes the ring
	gamma := -diagonal[0]
	if corner != 0 {
		if gamma == 0 {
			return false
		}
		d[0] -= gamma
		d[n-1] -= corner * corner / gamma
		r = make([]float64, n)
		r[0], r[n-1] = gamma, corner
	}
	for i := range n {
		if i > 0 {
			f := lower[i] / d[i-1]
			d[i] -= f * lower[i]
			x[i] -= f * x[i-1]
			if r != nil {
				r[i] -= f * r[i-1]
			}
		}
		if !(math.Abs(d[i]) > singular*math.Abs(diagonal[i])) {
			return false
		}
	}
	back := func(x []float64) {
		for i := n - 1; i >= 0; i-- {
			if i < n-1 {
				x[i] -= lower[i+1] * x[i+1]
			}
			x[i] /= d[i]
		}
	}
	back(x)
	if r == nil {
		return true
	}
	back(r)
	f := corner / gamma
	below := 1 + r[0] + f*r[n-1]
	if below == 0 {
		return false
	}
	scale := (x[0] + f*x[n-1]) / below
	for i := range x {
		x[i] -= scale * r[i]
	}
	return true
}

// singles returns an arc from each node to the next.
func (c *chain) singles() []Segment {
	s := make([]Segment, 0, len(c.arcs))
	for j := range c.arcs {
		a, b := c.nodes[j], c.nodes[j+1]
		v := b.Sub(a.Point)
		half := (a.u.AngleTo(v) + v.AngleTo(b.u)) / 2
		s = append(s, Segment{a.Point, b.Point, math.Tan(half / 2)})
	}
	return s
}

// pairs returns two arcs from each node to the next, nil if there are none.
func (c *chain) pairs() []Segment {
	s := make([]Segment, 0, 2*len(c.arcs))
	for j := range c.arcs {
		a, b := c.nodes[j], c.nodes[j+1]
		p, ok := newPair(a.Point, a.u, b.Point, b.u)
		if !ok {
			return nil
		}
		s = append(s, Segment{p.a, p.m, p.bulgeA}, Segment{p.m, p.b, p.bulgeB})
	}
	return s
}

// far returns the arcs for which the segments, one or two each, leave the
// tolerance of the points or turn in another way, nil when there are none.
func (c *chain) far(s []Segment) (far []int) {
	n := len(c.arcs)
	each := len(s) / n
	for j := range n {
		turn := 0.0
		for _, a := range s[j*each : (j+1)*each] {
			turn += a.Sweep()
		}
		ok := math.Abs(turn-c.arcs[j].k*c.span(j)) <= 0.5
		for i := c.cuts[j]; ok && i <= c.cuts[j+1]; i++ {
			ok = c.reached(c.points[i], s, j*each, each)
		}
		// An end may slide back over a part of its line, not over all.
		if ok && !c.closed && j == 0 {
			ok = s[0].A.Sub(c.points[0]).Dot(c.ends[0].u) >= -c.ends[0].slide-Coincident
		}
		if ok && !c.closed && j == n-1 {
			ok = s[len(s)-1].B.Sub(c.points[len(c.points)-1]).Dot(c.ends[1].u) <= c.ends[1].slide+Coincident
		}
		if !ok {
			far = append(far, j)
		}
	}
	return far
}

// reached reports whether the point is near one of the n segments from the first
// one on, or those beside them, or the lines that the chain goes on in.
func (c *chain) reached(q Point, s []Segment, first, n int) bool {
	for k := first; k < first+n; k++ {
		if _, d := s[k].Nearest(q); d <= c.tolerance {
			return true
		}
	}
	for _, k := range [...]int{first - 1, first + n} {
		if c.closed {
			k = (k + len(s)) % len(s)
		}
		var d float64
		switch {
		case k < 0:
			_, d = Line(s[0].A.Add(c.ends[0].u.Mul(-c.ends[0].slide)), s[0].A).Nearest(q)
		case k == len(s):
			_, d = Line(s[k-1].B, s[k-1].B.Add(c.ends[1].u.Mul(c.ends[1].slide))).Nearest(q)
		default:
			_, d = s[k].Nearest(q)
		}
		if d <= c.tolerance {
			return true
		}
	}
	return false
}
