package stroke

// Tolerances and sizes in this package, each with its kind and reason. A step
// is the grid's: 1/24 of the height of a capital.
const (
	// capHeight and xHeight (length, steps) are the heights of a capital and of
	// a small letter.
	capHeight = 24
	xHeight   = 16

	// The side bearings (length, steps) are the room beside a letter, by the
	// shape of its side: the rounder or the more slanted, the nearer to the
	// next letter.
	straightBearing = 3.2
	roundBearing    = 2.4
	openBearing     = 1.8
	slantedBearing  = 1.4
	// leastBearing (length, steps) is kept beside a mark that is wider than its
	// letter.
	leastBearing = 1
	// figureAdvance (length, steps) is the distance of digits, so that numbers
	// below one another align.
	figureAdvance = 17.4

	// dotSize (ratio) is the diameter of a dot to the height.
	dotSize = 0.1
	// spaceAdvance (length, steps) is the width of a space between words.
	spaceAdvance = 8

	// roundness (ratio) is the radius of an oval's narrow ends to its lesser
	// half axis: at 1 the sides are straight, and the ellipse has less.
	roundness = 0.8
	// sameArc (ratio) is how far the curvatures of two arcs and the sines and
	// cosines of their directions may differ where they still are one arc:
	// rounding error.
	sameArc = 1e-9

	// markRise (length, steps) is by how much a second mark stands above or
	// below the first.
	markRise = 6.5
	// mostMarks (count) is how many marks above a letter, and as many below it,
	// are drawn: more would stand in the next line.
	mostMarks = 2

	// usualLetters (count) of a text, and usualStrokes and usualVertices (ratios)
	// of a letter, get room in memory beforehand; more takes longer.
	usualLetters  = 64
	usualStrokes  = 2
	usualVertices = 8
)
