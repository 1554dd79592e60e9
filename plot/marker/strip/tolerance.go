package strip

import "math"

// Tolerances and sizes in this package, each with its kind and reason. Those of the search
// were found by trying, on garment pieces.
const (
	// exactTurn (angle) is how near to a quarter turn a turn counts as one; sameTurn how
	// near two turns are one.
	exactTurn = 1e-12
	sameTurn  = 1e-9
	// straight (angle) is the turn that counts as none where convex parts are joined and
	// where their sides follow one another.
	straight = 1e-9
	// cornerTurn (angle) is the turn in steps of which a corner is rounded by a
	// margin: 45 degrees leave 8 % of the margin too much. coarseTurn is that in a search, where it is of
	// more use that a corner of 90 degrees has no more edges: it leaves 54 %.
	// cornerCos (ratio) is the cosine of the least turn that is rounded.
	cornerTurn, coarseTurn, cornerCos = math.Pi / 4, 0.55 * math.Pi, math.Sqrt2 / 2
	// parallel (ratio) is the sine of the turn below which two edges do not meet.
	parallel = 1e-12
	// rounding (ratio) is by how much outlines may overlap, in heights of the strip: a
	// millionth of a mm on cloth.
	rounding = 1e-9

	// fewCorners (count) is up to how many corners an outline is never simplified.
	fewCorners = 16

	// mostCulled (count) is up to how many hulls of a relation those that others cover are
	// looked for: it takes a few ms for so many, and four times as long for twice.
	mostCulled = 500
	// mostCuts (count) is into how many regions a hull may be cut while it is seen whether others
	// cover it.
	mostCuts = 60
	// mostEdges (count) bounds the edges of all relations that are stored, with their corners and rasters: 240
	// MB. bytesOfEdge (count) is what one takes with its corner.
	mostEdges, bytesOfEdge = 6_000_000, 40

	// rasterSide (count) is how many corners a raster of depths has in a row; leastSampled
	// (count) is from how many hulls on a relation has one.
	rasterSide, leastSampled = 16, 3

	// mostCells (count) bounds the cells of a strip; the last has all that lies beyond.
	mostCells = 4096

	// workers (count) is how many searches run side by side, whatever the machine has,
	// so that it does not change the layout.
	workers = 2
	// leastWork (work) is the effort of level 0 of each worker, for a few pieces.
	leastWork = 1_250_000
	// manyPieces (count) is from how many pieces on the effort grows with their number, so that
	// large orders are not laid worse than small ones.
	manyPieces = 60
	// hullWork (work) is what it takes to look at a hull, in boxes that are compared.
	hullWork = 12
	// tryWork (work) is what every try counts at least, so that the effort comes to an end.
	tryWork = 2000
	// mostLevel (count) is the highest level.
	mostLevel = 9
	// epoch (work) is how often a worker looks at the others.
	epoch = 2_000_000
	// first (share) is the part of the effort that goes into the first layout.
	first = 0.03
	// last (share) is the part of the effort that goes into the last, small steps.
	last = 0.3

	// mostLines and leastLines (count) are on how many lines across the strip the first
	// layout looks for room, fewer where there are many pieces: allLines by their number.
	mostLines, leastLines = 100, 20
	allLines              = 2_000

	// closing (share) is the part of a time that is left for moving all together.
	closing = 0.02

	// wide and near (count) are how many places are tried in the whole strip, and near
	// to where a piece lies, of which the best three are followed. nearReach
	// and lineReach (ratio) are how far around it they are looked for, and how far the lines
	// go along which they are followed, in sizes of the piece.
	wide, near           = 40, 20
	nearReach, lineReach = 0.5, 0.06
	// gain (ratio) is the gain of a line that is worth looking along the next.
	gain = 1e-3
	// hopeless (ratio) is from how much more than the best that is known a place is given up.
	hopeless = 2
	// raise and raiseMost (ratio) are what weights are raised by where two overlap a
	// little and where most; fade is what is left of a weight where they do not.
	raise, raiseMost, fade = 0.2, 0.8, 0.95
	// mostWeight (ratio) keeps weights finite.
	mostWeight = 1e250
	// mostShare (share) is how much of the effort may go into one try.
	mostShare = 0.05
	// patience (count) is how many rounds may pass without a better state, finePatience in
	// the last steps; strikes is how often that may be; better (ratio) is what
	// counts as one.
	patience, finePatience, strikes, better = 150, 80, 3, 0.98
	// firstStep and leastStep (ratio) are by how much the strip is shrunk, to begin with and
	// at least; fineStep and leastFine are those of the last steps.
	firstStep, leastStep = 0.004, 0.002
	fineStep, leastFine  = 0.0005, 1e-5
	// longer, shorter and finer (ratio) change the step after a success, a failure, and a
	// failure in the last steps.
	longer, shorter, finer = 1.3, 0.5, 0.7
	// mostFailures (count) is how many failures of a length are kept. choice (ratio) is the
	// deviation by which one is chosen, in their number: nearer to the best is likelier.
	mostFailures, choice = 50, 0.25
	// swaps (count) is how often two pieces to swap are looked for.
	swaps = 20
	// slides (count) is how often all pieces are moved on at the end.
	slides = 10
	// slideReach (ratio) is how far they are moved at a time, in their widths.
	slideReach = 0.1
)
