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
)
