package pattern

import "math"

// Tolerances in this package, each with its kind and reason.
const (
	// JoinGap (gap, mm) is how far apart the ends of two lines may lie and still be
	// one point of an outline: what a drawing program's snapping misses, far below
	// any allowance.
	JoinGap = 0.5
	// quietGap (gap, mm) is the gap above which joining deserves a warning.
	quietGap = 0.05
	// DefaultCorner (angle) is the turn that makes a corner of an outline. Curves
	// drawn by hand have kinks of a few degrees; a hem meets a side at 60 to 120
	// (common practice, no source).
	DefaultCorner = 25 * math.Pi / 180
	// cornerSpan (length, mm) is how far a corner that is drawn rounded or chamfered
	// may reach along the outline.
	cornerSpan = 2.0
	// kink (angle) is the least turn of a joint that counts towards a corner.
	kink = 3 * math.Pi / 180
	// speck (length, mm) is the length below which a segment is noise, whose
	// direction means nothing.
	speck = 0.02
	// Straight (distance, mm) is how far a fold edge may bend from its chord.
	Straight = 0.1
	// onLine (distance, mm) is how near a line lies to what it runs along or
	// touches.
	onLine = 1.0
	// notchLength (length, mm) is the length below which a line that touches the
	// outline is a notch: notches are 3 to 10 mm (common practice, no source).
	notchLength = 15.0
	// notchMouth (length, mm), leastDepth (distance, mm) and notchTurn (angle) tell
	// a notch that is cut into the outline: at most so wide, at least so deep, and
	// beside it the outline turns by no more.
	notchMouth = 10.0
	leastDepth = 2.0
	notchTurn  = 15 * math.Pi / 180
	// vanished (length, mm) is the length below which nothing is left of an edge.
	vanished = 0.5
	// checkSlack (ratio) is how far a hem may miss its stated length and still be
	// drawn in the right scale: above measuring errors, below the difference of
	// 90 and 96 px to the inch.
	checkSlack = 0.01
	// checkQuiet (length, mm) is the difference from the stated length that is not
	// worth a warning: half of the smallest step of a tape measure.
	checkQuiet = 0.5
	// smallestPiece and largestPiece (length, mm) bound the longer side of a piece
	// that can be worn. Below smallPiece a piece is unusual.
	smallestPiece, smallPiece, largestPiece = 80.0, 200.0, 3000.0
	// mostLines (count) bounds the work: a sheet of pieces in many sizes has some
	// thousand lines.
	mostLines = 10_000
	// leastPiece (ratio) is the area of the smallest outline, over that of the
	// drawing's largest, that counts as a piece and not as a mark.
	leastPiece = 0.002
	// secondPiece (ratio) is the area of an outline, over that of the largest in
	// its group, above which the group holds two pieces.
	secondPiece = 0.1
)
