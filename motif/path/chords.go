package path

import "math"

// Chords returns the path as few points joined by straight lines, nowhere
// further from it than the error, in mm (less than 1e-7 counts as that), for
// machines that take no arcs. Ends and corners of the path stay where they are.
// Elsewhere the points lie outside of the curve by what the lines between them
// lie inside of it, so that there are 1/sqrt 2 as many as in [Path.Flatten].
//
// An arc between corners, and a circle, gets the fewest points that there can
// be: a chord between two points at r+e touches r-e where it spans the angle
// 2 acos((r-e)/(r+e)). Where arcs run smoothly into one another or into a line
// chords reach across. A chord spans a quarter turn at most, so that a small
// circle keeps a shape. The points of a closed path do not repeat the first;
// the empty path gives none.
func (p Path) Chords(err float64) []Point { return p.AppendChords(nil, err) }

// AppendChords appends the points of [Path.Chords], for callers that use their
// room again.
func (p Path) AppendChords(points []Point, err float64) []Point {
	err = max(err, Coincident)
	if p.Segments() == 0 {
		return p.AppendFlat(points, err)
	}
	first := len(points)
	c := chorder{path: p, err: err, owner: make([]int, p.Segments())}
	c.divide()
	for range chordTries {
		points = c.lay(points[:first])
		if len(points)-first >= p.flatSize(err) {
			break // no fewer than on the curve
		}
		if c.keeps(points[first:]) {
			return points
		}
	}
	return p.AppendFlat(points[:first], err)
}

// chorder lays chords along a path. It divides it in stretches: lines, and
// chains of arcs that run smoothly into one another and turn one way.
type chorder struct {
	path      Path
	err       float64
	stretches []stretch
	owner     []int  // the stretch of each segment
	places    []spot // of the points, in order
}

// stretch is a line or a chain of arcs that turn the same way: n segments from
// the given one on. Smooth says that the path runs on without a corner at its
// start and end, turns that it then turns the other way.
type stretch struct {
	from, n int
	line    bool
	smooth  [2]bool
	turns   [2]bool
	chords  float64 // how many full chords it is long
	more    int     // points beyond those that were enough by the rule
	exact   bool    // the rule needs no check
}

// spot is a place on the path: a segment and the ratio of its length.
type spot struct {
	segment int
	t       float64
}

// chordAngles returns half of the angle that a chord spans with both ends
// outside of the arc, and half of it with both on the arc.
func (c *chorder) chordAngles(radius float64) (outside, on float64) {
	outside = 2 * math.Asin(math.Sqrt(c.err/(radius+c.err)))
	on = 2 * math.Asin(math.Sqrt(min(1, c.err/(2*radius))))
	return min(outside, math.Pi/4), min(on, math.Pi/4)
}

// divide finds the stretches. Those of a closed path start at a corner or at an
// end of a line, if it has one.
func (c *chorder) divide() {
	p := c.path
	n := p.Segments()
	joins := func(i int) bool { // the segment before i runs smoothly into i
		if i == 0 && !p.Closed {
			return false
		}
		a, b := p.Segment((i+n-1)%n), p.Segment(i%n)
		return !(a.IsLine() && b.IsLine()) && math.Abs(a.EndTangent().AngleTo(b.StartTangent())) < smoothTurn
	}
	way := func(i int) float64 { return p.Segment(i % n).Sweep() }
	chained := func(i int) bool { return joins(i) && way(i)*way(i+n-1) > 0 }
	turns := func(i int) bool { return joins(i) && way(i)*way(i+n-1) < 0 }
	start := 0
	if p.Closed {
		for start < n && chained(start) {
			start++
		}
		start %= n
	}
	for i := 0; i < n; {
		s := stretch{from: (start + i) % n, n: 1, line: p.Segment((start + i) % n).IsLine()}
		s.smooth[0], s.turns[0] = joins(s.from), turns(s.from)
		for i+s.n < n && chained((start+i+s.n)%n) {
			s.n++
		}
		if next := (start + i + s.n) % n; p.Closed || i+s.n < n {
			s.smooth[1], s.turns[1] = joins(next), turns(next)
		}
		for k := range s.n {
			g := p.Segment((s.from + k) % n)
			c.owner[(s.from+k)%n] = len(c.stretches)
			if !s.line {
				outside, _ := c.chordAngles(g.Radius())
				s.chords += math.Abs(g.Sweep()) / (2 * outside)
			}
		}
		s.exact = s.line || s.n == 1 && !s.smooth[0] && !s.smooth[1]
		i += s.n
		c.stretches = append(c.stretches, s)
	}
}

// lay appends the points of all stretches. An open path's end comes with them.
func (c *chorder) lay(points []Point) []Point {
	c.places = c.places[:0]
	at := func(q Point, segment int, t float64) {
		points = append(points, q)
		c.places = append(c.places, spot{segment, t})
	}
	n := c.path.Segments()
	for _, s := range c.stretches {
		g := c.path.Segment(s.from)
		if s.line {
			if !s.smooth[0] {
				at(g.A, s.from, 0)
			}
			continue
		}
		gap, count := c.gaps(s)
		if !s.smooth[0] {
			at(g.A, s.from, 0)
		}
		// The places of the points, counted in full chords, which all are shorter in
		// the same ratio.
		shrink := s.chords / (gap[0] + gap[1] + float64(count-1))
		next, passed := 0, 0.0
		for k := 0; k < s.n && next < count; k++ {
			segment := (s.from + k) % n
			g := c.path.Segment(segment)
			half, _ := c.chordAngles(g.Radius())
			own := math.Abs(g.Sweep()) / (2 * half)
			upTo := count
			if k < s.n-1 {
				upTo = min(count, int(math.Floor((passed+own)/shrink-gap[0]))+1)
			}
			if next < upTo {
				t := min(1, max(0, ((gap[0]+float64(next))*shrink-passed)/own))
				half *= min(1, shrink)
				points = outside(points, g, t, math.Copysign(half, g.Bulge), upTo-next)
				for ; next < upTo; next++ {
					t := min(1, max(0, ((gap[0]+float64(next))*shrink-passed)/own))
					c.places = append(c.places, spot{segment, t})
				}
			}
			passed += own
		}
	}
	if !c.path.Closed {
		at(c.path.End(), n-1, 1)
	}
	return points
}

// outside appends count points outside of an arc, the first at the ratio t of
// its length. Between two it turns by twice the angle half, and the line between
// them lies inside of it by as much as they lie outside.
func outside(points []Point, arc Segment, t, half float64, count int) []Point {
	along := arc.TangentAt(t)
	tan := math.Tan(half / 2)
	at := arc.At(t).Add(along.Right().Mul(arc.signedRadius() * tan * tan))
	// Each chord is the one before it, turned.
	sin, cos := math.Sincos(2 * half)
	chord := along.Rotate(half).Mul(2 * arc.signedRadius() * (1 + tan*tan) * math.Sin(half))
	points = append(points, at)
	for range count - 1 {
		at = at.Add(chord)
		points = append(points, at)
		chord = Vec{cos*chord.X - sin*chord.Y, sin*chord.X + cos*chord.Y}
	}
	return points
}

// gaps returns how far, in full chords, the first and the last point outside of
// a chain are from its ends, and how many there are.
func (c *chorder) gaps(s stretch) (gap [2]float64, count int) {
	n := c.path.Segments()
	if s.n == n && s.smooth[0] {
		// All round: from the start to itself.
		return [2]float64{0, 1}, int(math.Ceil(s.chords-chordSlack)) + s.more
	}
	ends := [2]Segment{c.path.Segment(s.from), c.path.Segment((s.from + s.n - 1) % n)}
	for e, g := range ends {
		switch {
		case !s.smooth[e]:
			outside, on := c.chordAngles(g.Radius())
			gap[e] = (outside + on) / (2 * outside)
		case s.turns[e]:
			gap[e] = acrossTurn
		default:
			gap[e] = 0.5 // half of the chord that reaches across
		}
	}
	if !s.smooth[0] && !s.smooth[1] {
		outside, on := c.chordAngles(ends[0].Radius())
		if s.chords <= on/outside+chordSlack {
			return gap, s.more // one chord from end to end
		}
	}
	return gap, max(1, int(math.Ceil(s.chords-gap[0]-gap[1]-chordSlack))+1) + s.more
}

// keeps reports whether the path keeps within the error of the chords. Chains
// that do not get a point more.
func (c *chorder) keeps(points []Point) bool {
	kept := true
	for k, from := range c.places {
		next := k + 1
		if next == len(c.places) {
			if !c.path.Closed {
				break
			}
			next = 0
		}
		to := c.places[next]
		a, b := &c.stretches[c.owner[from.segment]], &c.stretches[c.owner[to.segment]]
		if a == b && a.exact || c.strays(from, to, points[k], points[next]) <= c.err*(1+chordSlack) {
			continue
		}
		kept = false
		a.more++
		if b != a {
			b.more++
		}
	}
	return kept
}

// strays returns how far the path between two places strays from the line
// through two points.
func (c *chorder) strays(from, to spot, p, q Point) float64 {
	along := q.Sub(p).Unit()
	most := 0.0
	visit := func(x Point) { most = max(most, math.Abs(along.Cross(x.Sub(p)))) }
	n := c.path.Segments()
	t0 := from.t
	for i := from.segment; ; i, t0 = (i+1)%n, 0 {
		g := c.path.Segment(i)
		last := i == to.segment && to.t >= t0
		t1 := 1.0
		if last {
			t1 = to.t
		}
		visit(g.At(t0))
		visit(g.At(t1))
		if sweep := g.Sweep(); sweep != 0 {
			// An arc is furthest where it runs along the line.
			if t := 0.5 + g.Chord().AngleTo(along)/sweep; t > t0 && t < t1 {
				visit(g.At(t))
			}
		}
		if last {
			return most
		}
	}
}
