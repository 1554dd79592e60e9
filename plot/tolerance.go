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

	// legendSample, legendGap, legendPitch and legendColumn (lengths, mm) are a
	// sample's length, from it to the name, from row to row and between columns;
	// legendText and legendHeading (heights, mm) those of the capitals.
	legendSample  = 36.0
	legendGap     = 3.0
	legendPitch   = 7.0
	legendColumn  = 8.0
	legendText    = 3.5
	legendHeading = 5.0

	// sameDirection (sine of an angle) is by how much grain lines may differ and be
	// drawn once: a hundredth of a degree.
	sameDirection = 2e-4
	// nameClearance (distance, mm) is kept between a size's name and lines.
	nameClearance = 0.7
	// nameApart (ratio) is how many times as far as its own cut line those of other
	// sizes are from the middle of a size's name, and nameReach (distance, mm) how far
	// beyond the outlines names and what is kept clear round them can reach.
	nameApart = 1.8
	nameReach = 10.0
	// nameStep (length, mm) is from one place to look for a name to the next, of
	// which there are at most nameSteps (number).
	nameStep  = 2.0
	nameSteps = 200
	// labelGrid (number) is in how many parts a piece is divided each way to look
	// for a place for its label. comfortableLabel (height, mm) is how high its letters
	// are where there is room, if no size has higher ones, and leastLabel (height, mm)
	// how high at least.
	labelGrid        = 24
	comfortableLabel = 5.0
	leastLabel       = 1.5
)
