package hpgl

// Tolerances and limits in this package, each with its kind and reason.
const (
	// StepMM (grid, mm) is the plotter unit: 40 to the mm. HP-GL/2 and HP RTL
	// Reference Guide, 1996, p. 12.
	StepMM = 0.025
	// ChordError (chord, mm) is the default largest distance between an arc and
	// its chords. Rounding both coordinates moves a point by up to StepMM/sqrt 2,
	// 0.0177 mm, and what is left of one plotter unit is 0.0073 mm.
	ChordError = 0.007
	// onFold (distance, mm) is how near to a fold a point of the cut line lies on
	// it: above the rounding of any file, far below a step.
	onFold = 0.001
	// charWidth (ratio) is a letter's width to the height of a capital. HP-GL
	// letters stand 1.5 widths apart: 0.83 of the height, as wide as the usual
	// sans face, for which the labels have room.
	charWidth = 0.55
	// charPitch (ratio) is the distance between letters to their width.
	charPitch = 1.5
	// lineWidth (characters) ends a line of the file: old devices buffer little.
	lineWidth = 79
	// pairWidth (characters) is the most that one more point adds to a line: two
	// numbers of 11 with their commas, and what stands at the line's two ends.
	pairWidth = 2*12 + len("PD;")
	// minLine and maxLine (characters) bound the length of a line that can be set:
	// one point has to fit.
	minLine, maxLine = float64(pairWidth + 8), 1e6
	// maxReach (mm), maxSpeed (cm/s) and maxForce bound what can be set: more is a
	// mistake in a unit.
	maxReach, maxSpeed, maxForce = 100_000.0, 500.0, 10_000.0
	// maxCutting and maxBlade (mm) bound what is set for a knife.
	maxCutting, maxBlade = 100.0, 20.0
	// twice (distance, mm) is how near two lines have to be to be drawn once: what is
	// left of one plotter unit after chords and rounding.
	twice = 0.0002
	// leastShared (length, mm) is the least length of a line that is left out because
	// another has it.
	leastShared = 0.1
	// arcSlack (distance, steps) is how far an arc that is sent as AA may be from the
	// design: a plotter unit, as all that is read back, less what lies between the
	// places where it is measured.
	arcSlack = 0.9
	// leastArc (radius, steps) is that of the smallest arc that is sent as AA: a smaller
	// one is off by too much of itself.
	leastArc = 40
	// leastChordAngle (degrees) is the least chord angle that AA takes. HP PCL 5
	// Technical Reference Manual, from memory.
	leastChordAngle = 0.5
	// dashLength (length, mm) is that of one run of dashes of a line type.
	dashLength = 6
	// pageMargin (length, mm) is added to a printer's plot on the far sides, so that
	// lines along them have their width.
	pageMargin = 5
	// pairsPerLine is how many points one PD holds at most, for the same reason.
	pairsPerLine = 5
	// minStep and maxStep (mm) bound the step and the chord error that can be set.
	minStep, maxStep = 1e-6, 10.0
	// minLetter and maxLetter (mm) bound the height of lettering.
	minLetter, maxLetter = 0.01, 10_000
	// maxBulge (ratio) bounds arcs: closer to a full turn their ends say too
	// little of the centre.
	maxBulge = 1e4
	// maxPen is the highest pen number that is written or read.
	maxPen = 255

	// maxBytes bounds a file that is read: some hundred times the largest
	// pattern.
	maxBytes = 32 << 20
	// maxPoints bounds the points and texts of a file that is read.
	maxPoints = 2 << 20
	// maxLetters bounds the lettering of one text: more has lost its end.
	maxLetters = 4096
	// maxUnits bounds the coordinates that are read: HP-GL/2 integers and reals
	// reach 2^30-1. PCL 5 Technical Reference Manual, part II, p. 17-10.
	maxUnits = 1<<30 - 1
	// maxNumbers bounds the numbers behind one command.
	maxNumbers = 1 << 20
)
