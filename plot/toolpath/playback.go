package toolpath

import (
	"math"

	"engrail/motif/path"
)

// TrailingBlade is a blade whose tip trails behind its pivot, to play back what a path
// of the pivot cuts. Its tip can only move along its heading, the direction from the tip
// to the pivot, so that for the angle a of the heading to the pivot's direction of
// travel on a line of curvature k
//
//	da/ds = -sin(a)/Offset - k.
//
// Without k the tip draws a tractrix. With a/2 as the direction of a vector
// (cos, sin) the equation is linear, and solved in closed form.
type TrailingBlade struct {
	Offset  float64 // in mm, above 0
	Heading path.Vec
}

// turned returns a after the distance s.
func (k TrailingBlade) turned(a, curvature, s float64) float64 {
	sin, cos := math.Sincos(a / 2)
	c, b := curvature/2, 1/(2*k.Offset)
	// The matrix (-b -c; c b) has the square (b^2-c^2); this is its exponential,
	// divided by its hyperbolic cosine.
	q := b*b - c*c
	even, odd := 1.0, s
	switch {
	case q*s*s > 1e-12:
		odd = math.Tanh(math.Sqrt(q)*s) / math.Sqrt(q)
	case q*s*s < -1e-12:
		even = math.Cos(math.Sqrt(-q) * s)
		odd = math.Sin(math.Sqrt(-q)*s) / math.Sqrt(-q)
	}
	return 2 * math.Atan2(even*sin+odd*(-b*sin-c*cos), even*cos+odd*(c*sin+b*cos))
}

// Follow moves the pivot along the segment and gives the tip's places on the way, which
// are no further apart than every, in mm above 0, but for what the tip swings round.
func (k *TrailingBlade) Follow(s path.Segment, every float64, tip func(path.Point)) {
	l := s.Length()
	if l == 0 {
		return
	}
	a := s.StartTangent().AngleTo(k.Heading)
	n := math.Ceil(l/every) + 3
	for i := 1.0; i <= n; i++ {
		t := i / n
		k.Heading = s.TangentAt(t).Rotate(k.turned(a, s.Curvature(), t*l))
		tip(s.At(t).Add(k.Heading.Mul(-k.Offset)))
	}
}
