package path

import "math"

// Flatten returns the path as points joined by straight lines, nowhere further
// from it than chordError, in mm (less than 1e-7 counts as that). Each arc
// becomes the fewest equal chords for the error, inscribed, with their ends on
// the arc, but one a quarter turn at least, so that a small circle keeps a
// shape; a line stays one. The points of a closed path do not repeat the
// first. The empty path gives none.
func (p Path) Flatten(chordError float64) []Point {
	chordError = max(chordError, Coincident)
	return p.AppendFlat(make([]Point, 0, p.flatSize(chordError)), chordError)
}

// AppendFlat appends the points of [Path.Flatten], for callers that use their
// room again.
func (p Path) AppendFlat(points []Point, chordError float64) []Point {
	chordError = max(chordError, Coincident)
	for i := range p.Segments() {
		points = p.Segment(i).flatten(points, chordError)
	}
	if !p.Closed && len(p.V) > 0 {
		points = append(points, p.V[len(p.V)-1].Point)
	}
	return points
}

// flatSize returns how many points [Path.Flatten] makes.
func (p Path) flatSize(e float64) int {
	n := len(p.V)
	for i := range p.Segments() {
		n += p.Segment(i).chords(e) - 1
	}
	return n
}

// chords returns the least number of equal chords whose rise is at most e. A chord over the angle x of a circle with the radius r rises
// r (1 - cos(x/2)) = 2 r sin(x/4)^2.
func (s Segment) chords(e float64) int {
	if s.IsLine() {
		return 1
	}
	sweep := math.Abs(s.Sweep())
	most := math.Pi / 2 // of one chord
	if q := math.Sqrt(e / (2 * s.Radius())); q < 0.5 {
		most = min(most, 4*math.Asin(q))
	}
	// An arc that was flattened for this very error gets the same count again.
	return max(1, int(math.Ceil(sweep/most-chordSlack)))
}

// flatten appends the start of the segment and the inner ends of its chords.
func (s Segment) flatten(points []Point, e float64) []Point {
	points = append(points, s.A)
	n := s.chords(e)
	if n == 1 {
		return points
	}
	// Each chord is the one before it, turned. Adding them up needs no centre,
	// which lies far away from a nearly straight arc.
	sweep := s.Sweep()
	turn := sweep / float64(n)
	chord := s.Chord().Rotate((turn - sweep) / 2).Mul(math.Sin(turn/2) / math.Sin(sweep/2))
	sin, cos := math.Sincos(turn)
	at := s.A
	for range n - 1 {
		at.X += chord.X
		at.Y += chord.Y
		points = append(points, at)
		chord.X, chord.Y = cos*chord.X-sin*chord.Y, sin*chord.X+cos*chord.Y
	}
	return points
}
