package draft

// Limits and tolerances of this package, each with its kind and reason.
const (
	// shortest (length, mm) is the least waist, length or width that is
	// drafted: anything smaller is a slip of the units.
	shortest = 1.0
	// longest (length, mm) is the largest measure that is drafted, 100 m:
	// beyond it coordinates lose the digits that the rest relies on.
	longest = 100_000.0
	// mostPoints (count) is how many points a measured curve may have.
	mostPoints = 10_000
	// turnSlack (angle, radians) is how far rounding may take a sector beyond
	// the full turn.
	turnSlack = 1e-9
	// sameTangent (sine of an angle) is how near two directions lie that count
	// as one, so that points on one circle give one arc and not two.
	sameTangent = 1e-12
	// solved (angle, radians) is how near the flare of a gore with a given
	// rise is found: on a side of 100 m it moves the corner by 1e-7 mm.
	solved = 1e-12
)
