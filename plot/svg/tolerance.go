package svg

import "math"

// Limits on what a file may hold. They are far above any drawing of a garment
// and keep a hostile file from taking the machine.
const (
	// MaxBytes is the size of the largest file, after the expansion of its
	// entities.
	MaxBytes = 64 << 20
	// MaxDepth is the deepest nesting of elements.
	MaxDepth = 200
	// MaxElements is the largest number of elements. 100 bytes of attributes or
	// text count as one more.
	MaxElements = 1_000_000
	// MaxVertices is the largest number of vertices of the paths.
	MaxVertices = 2_000_000
	// MaxDistance (distance, mm) is how far a point may lie from the page's
	// corner: 100 m, up to which path.Coincident holds.
	MaxDistance = 100_000
	// maxDeclarations is the largest number of declarations of style sheets, each
	// counted with each of its selectors.
	maxDeclarations = 100_000
	// maxClass is the largest length in bytes of the classes of an element and of
	// those around it.
	maxClass = 500
)

// Tolerances in this package, each with its kind and reason.
const (
	// closeGap (gap, mm) is how far from its start a closed path may stop and
	// still end there without a closing line: programs write coordinates with
	// few digits and let relative ones add up.
	closeGap = 0.002
	// largestRadius (distance, mm) is the radius of the flattest arc that is
	// drawn. The sagitta of 1 m of it is 0.001 mm, and its centre still leaves
	// the digits that place its points.
	largestRadius = 1e8
	// flatArc (distance, mm) is the sagitta of arcs that are read as straight: of
	// flatter ones the angle has too few digits.
	flatArc = 1e-7
	// pageMargin (length, mm) is left round a drawing that is written, and dotRadius
	// that of a point that is marked.
	pageMargin, dotRadius = 10.0, 0.75
	// maxWritten (distance, mm) bounds the coordinates that are written: a kilometre.
	maxWritten = 1e6
	// writtenDecimals (digits) leave 0.00007 mm of rounding, and radiusDecimals keep
	// the middle of a flat arc as near.
	writtenDecimals, radiusDecimals = 4, 6
	// widestArc (angle, radians) is the widest arc that is written as one: 120 degrees,
	// up to which the rounding of its ends moves its middle no further than them.
	widestArc = 2 * math.Pi / 3
	// roundingSlack (ratio) lets an arc that was meant to be as wide pass.
	roundingSlack = 1e-9
)
