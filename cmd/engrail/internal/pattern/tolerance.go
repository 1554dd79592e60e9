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
	// mostLean (angle) is how far a grain line may lean from upright and the piece
	// still stands as drawn: farther than a scan or a sketch is off.
	mostLean = 20 * math.Pi / 180
	// biasSlack (angle) is how far from 45 degrees a grain line of a piece that is
	// cut on the bias may be.
	biasSlack = 2 * math.Pi / 180
	// lying (angle) is the lean above which a grain line does not tell which of its
	// ends is up.
	lying = 60 * math.Pi / 180
	// slope (ratio) is the rise of an edge over its width above which it may be the
	// cut off corner of a hem.
	slope = 0.3
	// clearlyLonger (ratio) is the length of the waist over that of the hem up to
	// which the longer of the two is the hem.
	clearlyLonger = 0.9
	// facetLength (length, mm) and leastFacets (count) tell a curve that is drawn as
	// points: so many straight segments in a row, none longer than that. Notches and
	// steps have fewer.
	facetLength, leastFacets = 15.0, 8
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
	// slitWidth (length, mm) is the width below which a notch is a slit: what a laser
	// or a knife takes away.
	slitWidth = 1.0
	// seamSlack (length, mm) and seamRatio (ratio) are how far two sides of one seam
	// may differ in length, whichever is more: what drawing by hand and a little
	// ease come to.
	seamSlack, seamRatio = 1.0, 0.003
	// lengthStep (length, mm) is the difference of two lengths that is no reason to
	// prefer one.
	lengthStep = 0.05
	// leanStep (angle) is the difference of how far two sides lean from the grain
	// that is no reason to prefer one: a front's side leans other than a back's.
	leanStep = 8 * math.Pi / 180
	// mostAllowance (distance, mm) is the widest allowance between a cut line and a
	// stitching line: that of a deep hem.
	mostAllowance = 120.0
	// sameWay (angle) is how far two lines beside each other may differ in direction.
	sameWay = 12 * math.Pi / 180
	// leastStitch (ratio) is the area within a stitching line over that within the
	// cut line: a narrow band has half of its width in its allowances.
	leastStitch = 0.3
	// evenWidth (distance, mm) is how far the allowance of one edge may differ along
	// it and still be one width.
	evenWidth = 0.5
	// vanished (length, mm) is the length below which nothing is left of an edge.
	vanished = 0.5
	// checkSlack (ratio) is how far a hem may miss its stated length and still be
	// drawn in the right scale: above measuring errors, below the difference of
	// 90 and 96 px to the inch.
	checkSlack = 0.01
	// leastSquare and mostSquare (length, mm) bound what may be a square to check the
	// print by: 1 in to 10 cm, taken for a quarter or for four times as much.
	leastSquare, mostSquare = 5.0, 400.0
	// squareSlack (ratio) is how far a square may miss what it should measure.
	squareSlack = 0.01
	// besideSquare (ratio) of its side is how far beside a square its text may begin.
	besideSquare = 0.6
	// checkQuiet (length, mm) is the difference from the stated length that is not
	// worth a warning: half of the smallest step of a tape measure.
	checkQuiet = 0.5
	// smallestPiece and largestPiece (length, mm) bound the longer side of a piece
	// that can be worn. Below smallPiece and above largePiece a piece is unusual: a
	// floor-length circle skirt is 2.2 m across.
	smallestPiece, smallPiece, largePiece, largestPiece = 80.0, 200.0, 2200.0, 3000.0
	// mostLines (count) bounds the work: a sheet of pieces in many sizes has some
	// thousand lines, and lettering made of strokes ten times that.
	mostLines = 50_000
	// mostVertices (count) bounds the work on lines made of points: one every tenth of
	// a mm round a hundred pieces are more.
	mostVertices = 1_000_000
	// mostOutlines (count) bounds the work on closed lines: of more, the largest are
	// looked at.
	mostOutlines = 2000
	// mostNear, mostPasses, mostLooks and mostTrials (counts) bound the search for
	// lines that meet or lie on each other, where thousands crowd in one place.
	mostNear, mostPasses, mostLooks, mostTrials = 32, 8, 20_000_000, 300_000
	// mostPieces (count) and mostTexts (count) bound the work of a report: more
	// pieces than a style has, and more texts than a piece.
	mostPieces, mostTexts = 500, 20
	// leastPiece (ratio) is the area of the smallest outline, over that of the
	// drawing's largest, that counts as a piece and not as a mark.
	leastPiece = 0.002
	// leastShape (ratio) is the area of an outline, over the square of what its box
	// measures across and up, below which it is a line that comes back: a tape 2 mm
	// wide and 5 m long has more.
	leastShape = 2e-4
	// secondPiece (ratio) is the area of an outline, over that of the largest in
	// its group, above which the group holds two pieces.
	secondPiece = 0.1
)
