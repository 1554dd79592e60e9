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
func (p Path) Chords(err float64) []Point {
	var c Chorder
	return c.Append(nil, p, err)
}

// Chorder lays the chords of [Path.Chords], for one path after the other in the same
// room. The zero value is ready; it is for one goroutine.
//
// It divides a path in stretches: lines, and chains of arcs that run smoothly into one
// another and turn one way.
type Chorder struct {
	path      Path
	err       float64
	segments  []chorded
	stretches []stretch
	places    []spot // of the points, in order
}

// chorded is a segment and what is known of it.
type chorded struct {
	Segment
	line   bool
	joins  bool    // the segment before it runs smoothly into it
	half   float64 // half of the angle that a chord spans with both ends outside of it
	chords float64 // how many full chords it is long
	owner  int     // its stretch
}

// Append appends the points of [Path.Chords].
func (c *Chorder) Append(points []Point, p Path, err float64) []Point {
	err = max(err, Coincident)
	if p.Segments() == 0 {
		return p.AppendFlat(points, err)
	}
	first := len(points)
	c.path, c.err = p, err
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

// outsideAngle returns half of the angle that a chord spans with both ends outside of
// the arc, onAngle with both on it.
func (c *Chorder) outsideAngle(radius float64) float64 {
	return min(2*math.Asin(math.Sqrt(c.err/(radius+c.err))), math.Pi/4)
}

func (c *Chorder) onAngle(radius float64) float64 {
	return min(2*math.Asin(math.Sqrt(min(1, c.err/(2*radius)))), math.Pi/4)
}

// divide finds the stretches. Those of a closed path start at a corner or at an
// end of a line, if it has one.
func (c *Chorder) divide() {
	p := c.path
	n := p.Segments()
	c.segments, c.stretches = c.segments[:0], c.stretches[:0]
	for i := range n {
		g := chorded{Segment: p.Segment(i)}
		if g.line = g.IsLine(); !g.line {
			g.half = c.outsideAngle(g.Radius())
			g.chords = math.Abs(g.Sweep()) / (2 * g.half)
		}
		c.segments = append(c.segments, g)
	}
	for i := range n {
		if i == 0 && !p.Closed {
			continue
		}
		b := &c.segments[i]
		a := &c.segments[(i+n-1)%n]
		if !a.line || !b.line {
			u, v := a.EndTangent(), b.StartTangent()
			b.joins = math.Abs(u.Cross(v)) < smoothTurn && u.Dot(v) > 0
		}
	}
	way := func(i int) float64 { return c.segments[i%n].Bulge }
	chained := func(i int) bool {
		a, b := &c.segments[(i+n-1)%n], &c.segments[i]
		return b.joins && !a.line && !b.line && way(i)*way(i+n-1) > 0
	}
	turns := func(i int) bool {
		a, b := &c.segments[(i+n-1)%n], &c.segments[i]
		return b.joins && !a.line && !b.line && way(i)*way(i+n-1) < 0
	}
	start := 0
	if p.Closed {
		for start < n && chained(start) {
			start++
		}
		start %= n
	}
	for i := 0; i < n; {
		from := (start + i) % n
		first := &c.segments[from]
		s := stretch{from: from, n: 1, line: first.line}
		s.smooth[0], s.turns[0] = first.joins, turns(from)
		for i+s.n < n && chained((start+i+s.n)%n) {
			s.n++
		}
		if next := (start + i + s.n) % n; p.Closed || i+s.n < n {
			s.smooth[1], s.turns[1] = c.segments[next].joins, turns(next)
		}
		for k := range s.n {
			g := &c.segments[(from+k)%n]
			g.owner = len(c.stretches)
			s.chords += g.chords
		}
		s.exact = s.line || s.n == 1 && !s.smooth[0] && !s.smooth[1]
		i += s.n
		c.stretches = append(c.stretches, s)
	}
}

// lay appends the points of all stretches. An open path's end comes with them.
func (c *Chorder) lay(points []Point) []Point {
	c.places = c.places[:0]
	at := func(q Point, segment int, t float64) {
		points = append(points, q)
		c.places = append(c.places, spot{segment, t})
	}
	n := len(c.segments)
	for _, s := range c.stretches {
		if !s.smooth[0] {
			at(c.segments[s.from].A, s.from, 0)
		}
		if s.line {
			continue
		}
		gap, count := c.gaps(s)
		// The places of the points, counted in full chords, which all are shorter in
		// the same ratio.
		shrink := s.chords / (gap[0] + gap[1] + float64(count-1))
		next, passed := 0, 0.0
		for k := 0; k < s.n && next < count; k++ {
			segment := (s.from + k) % n
			g := &c.segments[segment]
			upTo := count
			if k < s.n-1 {
				upTo = min(count, int(math.Floor((passed+g.chords)/shrink-gap[0]))+1)
			}
			if next < upTo {
				place := func(m int) float64 {
					return min(1, max(0, ((gap[0]+float64(m))*shrink-passed)/g.chords))
				}
				points = outside(points, g.Segment, place(next), math.Copysign(g.half*min(1, shrink), g.Bulge), upTo-next)
				for ; next < upTo; next++ {
					c.places = append(c.places, spot{segment, place(next)})
				}
			}
			passed += g.chords
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
func (c *Chorder) gaps(s stretch) (gap [2]float64, count int) {
	n := len(c.segments)
	if s.n == n && s.smooth[0] {
		// All round: from the start to itself.
		return [2]float64{0, 1}, int(math.Ceil(s.chords-chordSlack)) + s.more
	}
	ends := [2]*chorded{&c.segments[s.from], &c.segments[(s.from+s.n-1)%n]}
	on := 0.0 // half of the angle of a chord on the first of them
	for e, g := range ends {
		switch {
		case !s.smooth[e]:
			angle := c.onAngle(g.Radius())
			if e == 0 {
				on = angle
			}
			gap[e] = (g.half + angle) / (2 * g.half)
		case s.turns[e]:
			gap[e] = acrossTurn
		default:
			gap[e] = 0.5 // half of the chord that reaches across
		}
	}
	if !s.smooth[0] && !s.smooth[1] && s.chords <= on/ends[0].half+chordSlack {
		return gap, s.more // one chord from end to end
	}
	return gap, max(1, int(math.Ceil(s.chords-gap[0]-gap[1]-chordSlack))+1) + s.more
}

// keeps reports whether the path keeps within the error of the chords. Chains
// that do not get a point more.
func (c *Chorder) keeps(points []Point) bool {
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
		a, b := &c.stretches[c.segments[from.segment].owner], &c.stretches[c.segments[to.segment].owner]
		// Between two points outside of one arc a chord is as it should be.
		within := from.segment == to.segment && from.t > 0 && to.t > from.t && to.t < 1
		if a == b && a.exact || within || c.strays(from, to, points[k], points[next]) <= c.err*(1+chordSlack) {
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
func (c *Chorder) strays(from, to spot, p, q Point) float64 {
	along := q.Sub(p).Unit()
	most := 0.0
	visit := func(x Point) { most = max(most, math.Abs(along.Cross(x.Sub(p)))) }
	n := len(c.segments)
	t0 := from.t
	for i := from.segment; ; i, t0 = (i+1)%n, 0 {
		g := &c.segments[i]
		last := i == to.segment && to.t >= t0
		t1 := 1.0
		if last {
			t1 = to.t
		}
		visit(g.At(t0))
		visit(g.At(t1))
		if sweep := 2 * g.half * g.chords; sweep != 0 {
			sweep = math.Copysign(sweep, g.Bulge)
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
