package marker

import "math"

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// Slack (distance, mm) is by how much a piece may be nearer to another, or to the
	// cloth's edge, than it should and still be proved: the rounding of coordinates in
	// places of ten decimals, far below any machine's step.
	Slack = 1e-5
	// containing (distance, mm) is how far the polygon that stands for a piece in the
	// search may be from its outline: a tenth of a millimetre of cloth is less than the
	// scissors' way.
	containing = 0.1
	// finest (distance, mm) is the least of that which is tried for an outline that comes
	// so near to itself that a coarser polygon would cross itself.
	finest = containing / 64
	// placeDecimals and turnDecimals (counts) are those of a place in mm and of a turn in
	// degrees: steps far below Slack and far above the rounding of coordinates.
	placeDecimals = 9
	turnDecimals  = 9
	// sameTurn (angle, rad) is how near two turns are one.
	sameTurn = 1e-9
	// straightFold (distance, mm) is how far a fold edge may bend from the line between its
	// ends: what cannot be seen on cloth.
	straightFold = 0.1
	// foldAlong (angle, rad) is how far a fold edge may lie off the grain, a tenth of a
	// degree: what rounding in a drawing comes to.
	foldAlong = 0.1 * math.Pi / 180
	// mostTilt (angle, rad) is the most that pieces may be tilted off grain: 1 to 3 degrees
	// are offered (from memory), and ten are no grain any more.
	mostTilt = 10 * math.Pi / 180
	// mostPieces (count) bounds a marker: far above what is cut at once.
	mostPieces = 5000
	// pushEnough (distance, mm) is the step below which a size that is pushed against the
	// one before has arrived, and mostPushes (count) how many steps it takes at most.
	pushEnough = 0.01
	mostPushes = 400
	// layLevel (effort) is that in which pieces are first laid together to see into how many
	// sections they go.
	layLevel = 2
)

const (
	// mostLength (length, mm) bounds every length, 100 m, up to which coordinates keep
	// their digits.
	mostLength = 100_000
	// mostTurn (angle, rad) bounds a turn: a full one.
	mostTurn = 2*math.Pi + sameTurn
)

const (
	// highestLabel and leastLabel (heights, mm) are those of a label's capitals, which become
	// smaller by labelStep (ratio) until they have room; labelSpacing (ratio) is from line to
	// line by them, and labelGrid (number) in how many parts a piece is divided each way to
	// look for a place.
	highestLabel = 25.0
	leastLabel   = 3.0
	labelStep    = 0.8
	labelSpacing = 1.6
	labelGrid    = 16
	// legendText (height, mm) is that of the legend's capitals, legendGap (distance, mm) from
	// it to the cloth: read from where one stands to spread it.
	legendText = 12.0
	legendGap  = 30.0
	// spliceMark (length, mm) is how far a splice line reaches beyond the cloth, spliceText
	// (height, mm) that of its name.
	spliceMark = 15.0
	spliceText = 8.0
)
