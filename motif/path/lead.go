package path

import (
	"math"
	"slices"
)

// LeadOn returns the open path led on beyond its end by the length in mm, along
// its last line or circle: on a circle by an eighth of a turn at the most, and
// then straight on.
func (p Path) LeadOn(length float64) Path {
	n := p.Segments()
	if n == 0 || !(length > 0) {
		return p
	}
	s := p.Segment(n - 1)
	v := slices.Clone(p.V)
	if s.IsLine() {
		v[n].Point = s.B.Add(s.EndTangent().Mul(length))
		return Path{V: v}
	}
	// Not so far that the arc would become more than the circle.
	sweep := math.Abs(s.Sweep())
	turn := min(length/s.Radius(), leadTurn, max(0, wholeTurn-sweep))
	t := 1 + turn/sweep
	longer := Segment{A: s.A, B: s.At(t), Bulge: math.Tan(s.Sweep() * t / 4)}
	v[n-1].Bulge, v[n].Point = longer.Bulge, longer.B
	if rest := length - turn*s.Radius(); rest > Coincident {
		v = append(v, Vertex{Point: longer.B.Add(longer.EndTangent().Mul(rest))})
	}
	return Path{V: v}
}
