package facing

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// joinGap (gap, mm) is how far apart the ends of parts may lie and still be
	// one point; under half a plotter unit.
	joinGap = 0.01
	// slack (distance, mm) absorbs rounding where a mark starts exactly on the
	// end of a cut line.
	slack = 0.001
	// notchLength (length, mm) is how far a notch runs in from the cut edge at
	// the most, and notchShare the share of the allowance that it may take, so
	// that it stays clear of the stitching (common practice, no source).
	notchLength = 5
	notchShare  = 0.6
	// leastClip (length, mm) is the shortest clip worth marking.
	leastClip = 0.5
	// grainLength (length, mm) is the length of a facing's grain line where
	// there is room, and grainMargin its distance from the edges.
	grainLength = 120
	grainMargin = 5
	// labelHeight (length, mm) is the height of a label's capitals where there
	// is room, leastLabel the smallest that prints legibly; lineSpacing and
	// letterWidth are ratios of the height.
	labelHeight = 7
	leastLabel  = 2
	lineSpacing = 1.7
	letterWidth = 0.75
	// maxMeasure (length, mm) bounds every option: 100 m.
	maxMeasure = 1e5
)
