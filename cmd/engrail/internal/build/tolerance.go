package build

import "math"

// Tolerances in this package, each with its kind and reason.
const (
	// evenCorner (angle) is the turn at which a joint is a corner, which all sizes
	// must have; joints between arcs that are fitted to a curve turn far less.
	evenCorner = 3 * math.Pi / 180
	// sameJoint (length, mm) is how near the joints of two sizes lie between their
	// corners to be one: pattern data have hundredths of a mm.
	sameJoint = 0.05
	// speck (length, mm) is the length of a segment that is none: pattern data have
	// hundredths of a mm.
	speck = 0.005
	// straightTurn (angle) is the turn of two straight segments that are one: of
	// 1 m, a hundredth of a mm.
	straightTurn = 1e-5
)
