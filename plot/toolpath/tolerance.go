package toolpath

import "math"

// Tolerances and bounds in this package, each with its kind and reason.
const (
	// noGain (distance, mm) is the gain of a change below which it is not made:
	// rounding, and far below what a machine resolves, so that a search ends.
	noGain = 1e-7
	// farthest (distance, mm) is the largest coordinate of a line that is put in
	// order: squares of distances keep their digits well beyond it.
	farthest = 1e9

	// alongside (ratio) is the sine of the largest angle between two lines that
	// lie on one another: what is as short as the tolerance may lean by its
	// rounding, but what crosses does not run along.
	alongside = 0.25
	// roundOff (ratio) is the rounding allowed on a distance that is compared with
	// the tolerance from both sides.
	roundOff = 1e-6

	// concave (angle, rad), 15 degrees, is the turn to the inside of an outline
	// from which a vertex is a valley, and to the outside from which it is a tip:
	// a knife swings round less without a mark.
	concave = 15 * math.Pi / 180

	// neighbours (count) is how many lines near an end are tried beside it, and
	// sideNeighbours (count) how many on each of its four sides. More find little,
	// as a line is also tried from its other neighbours.
	neighbours     = 6
	sideNeighbours = 2
	// fewLines (count) is how many lines need no look to the sides.
	fewLines = 64
	// longestInsert (count) is the most lines in a row that are moved elsewhere
	// together in one change.
	longestInsert = 3
	// mostStarts (count) is the most vertices of an outline that are tried as its
	// start while the order is open, spread evenly; allStarts (count) is that of
	// all outlines together. In the end every vertex is tried.
	mostStarts, allStarts = 128, 400_000
	// mostLooks (count) is the most vertices of an outline from which its
	// neighbours are sought.
	mostLooks = 32
	// linkSites (count) is the most sites that stand for a piece while pieces are
	// put in order.
	linkSites = 16
	// leafSize (count) is how many points a leaf of the tree holds at most.
	leafSize = 6

	// exactWork (count) is the most steps in which the best order of a few lines
	// is found for certain: six strokes, or an outline and two marks. That takes
	// no longer than a search.
	exactWork = 30_000
	// longestKick (count) is the most lines that one of the two parts has that
	// change places in a kick: repair stays local.
	longestKick = 30
	// leastKicks, kickGrowth and mostKicks (counts) bound the kicks for n lines by
	// default: leastKicks + n/4 + n^4 / kickGrowth, and mostKicks. Sixty lines get some forty,
	// which takes a fraction of a millisecond; from 473 lines on they get all.
	leastKicks, kickGrowth, mostKicks = 10, 500_000, 100_000
	// hotKicks (count) is how many kicks for each line there must be for worse
	// orders to be taken on the way, and heatPart (ratio) how much worse, by the
	// mean way between lines, that is at first.
	hotKicks = 40
	heatPart = 0.2
	// patience (count) is how many kicks for each line may bring nothing before
	// the search ends.
	patience = 100
	// mostRounds (count) bounds how often order and starts are improved in turn;
	// three are usual.
	mostRounds = 20
	// pieceReach (count) is how many places a piece is moved at most in one change.
	pieceReach = 200
)
