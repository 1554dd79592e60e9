package motif

// Limits in this package, each with its kind and reason.
const (
	// minMeasure (length, mm) is the smallest width or depth: nothing smaller
	// can be cut or seen.
	minMeasure = 0.1
	// maxMeasure (length, mm) is the largest: 100 m.
	maxMeasure = 1e5
	// roundingSlack (ratio) lets a measure that was meant to be exactly at a
	// limit pass in spite of rounding.
	roundingSlack = 1e-9
	// touching (distance, mm) is how near to one another two places are one.
	touching = 0.005
	// levelBase (ratio) of a drawn motif's width is how far its ends may lie from its
	// base line: the rounding of what drawing programs write.
	levelBase = 1e-3
	// cusp (ratio) is how little two unit vectors may add up to and be opposite.
	cusp = 1e-3
	// neckSlack (ratio) is by how much a motif must widen above its foot to have a
	// neck.
	neckSlack = 0.01
	// bulbGap (ratio) of the width is what bulbs without a stated flat keep between
	// them: room for two allowances of a quarter inch from 2 in wide.
	bulbGap = 0.25
	// leastNeck (length, mm) is what bulbs and clouds keep between them: less cannot
	// be cut.
	leastNeck = 1.0
)
