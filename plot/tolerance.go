package plot

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// roundOff (distance, mm) is by how much a piece may pass the sheet's size
	// and still fit: the rounding error of coordinates, far below any machine's
	// step.
	roundOff = 1e-6

	// letterWidth (ratio) is the distance of letters to their height in the
	// widest lettering that a piece is written in, a plotter's own.
	letterWidth = 0.83
	// lineSpacing (ratio) is the distance of a label's base lines by its height.
	lineSpacing = 1.7

	// arrowLength (length, mm) is that of an arrowhead where there is room, and
	// arrowWidth (ratio) its width to its length: seen from where one stands to
	// cut.
	arrowLength = 10
	arrowWidth  = 0.6
	// longestBracket and bracketDepth (lengths, mm) are the sides of the bracket
	// on a long fold; with less than leastBracketDepth there is none.
	longestBracket    = 160
	bracketDepth      = 18
	leastBracketDepth = 4
	// bracketMargin (distance, mm) is kept clear round a bracket, and
	// foldClearance (distance, mm) is the strip along the fold that is not
	// looked at, as the cut line lies there too.
	bracketMargin = 2
	foldClearance = 0.5

	// leastFrame (length, mm) is the least side of a frame, and maxFrames (count)
	// how many there can be: more is a mistake in a unit.
	leastFrame = 100
	maxFrames  = 10_000
	// frameMargin (length, mm) is what a frame shows beyond its edges: the arms of
	// register marks, of markArm (length, mm).
	frameMargin = 6.0
	markArm     = 5.0
	// markRoom (distance, mm) is what a register mark is kept clear of lines by, and
	// markPlaces (count) how many places are tried for it.
	markRoom   = 9.0
	markPlaces = 40
)
