package proof

// Tolerances in this package, each with its kind and reason.
const (
	// near (distance, mm) is how near two vertices of a line that follow one another
	// are too near: some machines stutter there. Common practice; programs merge
	// ends within 0.025 to 0.05 mm.
	near = 0.05
	// crossingSlack (distance, mm) is how near its own start a path may meet itself
	// and be closed by that, and how near a joint two segments may touch: rounding
	// of files with two decimals.
	crossingSlack = 0.05
	// same (distance, mm) is how near two lines are to be one: under half a plotter
	// unit.
	same = 0.01
	// alongside (ratio) is the sine of the angle up to which two lines run along one
	// another: some ten degrees.
	alongside = 0.17
	// everyMM (distance, mm) is how far apart the points are that a straight line is
	// measured at, and arcPoints (count) how many a quarter turn has.
	everyMM   = 25.0
	arcPoints = 4.0
	// mostPoints (count) bounds those of one segment.
	mostPoints = 64
)
