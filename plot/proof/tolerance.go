package proof

// Tolerances in this package, each with its kind and reason.
const (
	// near (distance, mm) is how near two vertices of a line that follow one another
	// are too near: some machines stutter there. Common practice; programs merge
	// ends within 0.025 to 0.05 mm.
	near = 0.05
	// crossingSlack (length, mm) is how long a loop may be that counts as a corner: what
	// rounding to steps makes of a sharp one.
	crossingSlack = 0.2
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
	// shortMM (length, mm) is that of a segment that is measured at its ends alone.
	shortMM = 0.5
	// mostPoints (count) bounds those of one segment.
	mostPoints = 64
)
