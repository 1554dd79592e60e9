package png

// Tolerances in this package, each with its kind and reason.
const (
	// chordError (distance, px) is how far a chord may lie from its arc: a
	// twentieth of a pixel, below what antialiasing shows.
	chordError = 0.05
	// letterError (distance, px) is the same for letters, which have small arcs.
	letterError = 0.1
	// joinGap (distance, mm) is how far apart the ends of a piece's lines may
	// lie to count as one outline: far below a pixel, above any file's rounding.
	joinGap = 0.05
)
