package notes

import "math"

const (
	// sharpTurn (angle) is the turn of the shaped edge above which the sewer stops and
	// turns the work, as where a clip is needed.
	sharpTurn = 20 * math.Pi / 180
	// roundSweep (angle) is the sweep above which an arc of the edge counts as a curve
	// whose allowance is in its way when it is turned.
	roundSweep = 25 * math.Pi / 180
	// atEnd (gap, mm) is how far beyond the gap of a clip the end of the hem may be from
	// the clip that belongs to it; the facing's hem has moved by its favour.
	atEnd = 1.0
	// sketchChord (chord, mm on paper) is below what the eye sees of a drawing.
	sketchChord = 0.02
)
