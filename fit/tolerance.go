package fit

import (
	"math"

	"engrail/motif/path"
)

// Tolerances in this package, each with its kind and reason.
const (
	// JoinGap (gap, mm) is how far apart the ends of neighbouring edges of a
	// panel may lie and still be one corner.
	JoinGap = 0.01
	// EqualWidths (length, mm) is the spread of repeat widths below which the
	// choice of counts sees no difference: it is the tolerance of truing.
	EqualWidths = 0.1
	// exactEnd (distance, mm) is the displacement of an end below which it is
	// rounding and not eased, so that arcs stay arcs.
	exactEnd = path.Coincident
	// levelSlope (ratio) is how steep a motif may be where it counts as level: fitted
	// arcs lean by less than that.
	levelSlope = 0.02
	// exactTurn (angle) is the turn at an end below which it is rounding and not
	// eased.
	exactTurn = 1e-9
	// kink (angle) is the turn at a joint of a hem above which it is a corner
	// rather than rounding: it shows as 0.02 mm on a depth of 200 mm.
	kink = 1e-4
	// stepPrecision (length, mm) is how exactly the width of stepped repeats
	// is solved.
	stepPrecision = 1e-10
	// maxRepeats (count) bounds the work on one hem.
	maxRepeats = 100_000
	// maxOptions (count) is how many half repeats on each side of the wanted
	// width the choice looks at. On hems of more than manyRepeats half repeats, whose
	// widths differ less from one count to the next, it is fewer, leastOptions at
	// least.
	maxOptions, leastOptions, manyRepeats = 80, 6, 500
	// sameWidth (length, mm) is the difference of two widths that is rounding.
	sameWidth = 1e-6
	// innerCorner (angle) is the turn into the garment above which an edge has to be
	// clipped.
	innerCorner = 20 * math.Pi / 180
	// flatClips (length, mm) is how long a flat may be whose ends share one clip.
	flatClips = 6.0
	// levelFlat (ratio) is how steep an edge may be and count as a flat.
	levelFlat = 0.2
	// easeOver (count) is over how many motifs beside a joined peak the difference
	// of the widths of two panels is eased out.
	easeOver = 3
	// mostTried (count) bounds the counts that are tried to find one with room.
	mostTried = 12
	// leastRatio (ratio) bounds the sizes of the motifs of a sequence, and growth:
	// from a twentieth to twenty times.
	leastRatio = 0.05
	// hemCorner (angle) is the turn in a hem above which it is a corner between two
	// runs.
	hemCorner = 25 * math.Pi / 180
	// sharpest and bluntest (angle) bound the angle between a hem and its
	// side; beyond them there is no sensible end.
	sharpest = 20 * math.Pi / 180
	bluntest = math.Pi - sharpest
	// VisibleWidths (ratio) is the difference between neighbouring repeats
	// above which people see it: 7 1/2 beside 8 in goes unseen, 6 beside 9 in
	// shows (common practice, no source).
	VisibleWidths = 0.5 / 7.5
	// VisibleTurn (angle) is the turn of the hem at a seam above which a
	// warning is due: the lower end of what a smooth curve's eye notices (from
	// memory).
	VisibleTurn = 3 * math.Pi / 180
	// trueSeams (length, mm) is the difference of two joined seam lines that is
	// accepted: 1/16 in ("10 Patternwork Skills", Threads 200, 2018).
	trueSeams = 25.4 / 16
	// toleratedSeams (length, mm) is the difference above which they cannot be sewn as
	// they are: 1/8 in (the same).
	toleratedSeams = 25.4 / 8
)
