package toolpath

import "math"

// Tolerances and bounds in this package, each with its kind and reason.
const (
	// noGain (distance, mm) is the gain of a change below which it is not made:
	// rounding, and far below what a machine resolves, so that a search ends.
	noGain = 1e-7
	// farthest (distance, mm) is the largest coordinate, and the longest line, that
	// a tool follows: 1000 km, where rounding nears a ten-thousandth of a mm.
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

	// neighbours (count) is how many ends near an end are tried beside it, and
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
	// default: leastKicks + n^5 / kickGrowth, and mostKicks. Sixty lines get
	// about fifty, which takes a fraction of a millisecond; 290 and more get all.
	leastKicks, kickGrowth, mostKicks = 10, 20_000_000, 100_000
	// linkKickGrowth and linkLooks (counts) bound those for the order of n pieces:
	// by default n^3 / linkKickGrowth, and never more than linkLooks / n, as each
	// looks at all pieces unless it is refused at sight. longestLinks (count) is the
	// most pieces in a part that changes places, and linkSlack (ratio) by how much
	// of the mean travel for a piece it may look longer and not be refused.
	linkKickGrowth, linkLooks = 50, 2_000_000
	longestLinks              = 8
	linkSlack                 = 1.6
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
	pieceReach = 100

	// LeastSwivel (angle, rad) is the default turn, 15 degrees, up to which a
	// trailing blade is taken straight across a corner: common practice, no
	// source. The tip then strays by less than a hundredth of the offset.
	LeastSwivel = 15 * math.Pi / 180
	// LeadOffsets (ratio) is how many offsets long a lead-in is to be by default.
	// A heading that is off by the angle a is off by b after the distance s with
	// tan(b/2) = tan(a/2) exp(-s/offset): from 179 degrees to 0.6 in ten offsets.
	LeadOffsets = 10

	// shortest (distance, mm) is the length below which a segment is a point to a
	// blade, which does not turn for it: far below a machine's step, and what
	// rounding in a file makes of two points that were one.
	shortest = 1e-3
	// sameHeading (distance, mm) is how far apart two places of the pivot may lie
	// and be one: no swivel, but rounding.
	sameHeading = 1e-9
	// halfTurn (angle, rad) is how much less than a half turn still counts as one:
	// the rounding of two directions, which would choose the side by chance.
	halfTurn = 1e-9

	// leadStep (angle, rad) is by how much the directions of a lead-in differ that
	// are tried, and leadSteps (count) how many there are on either side: the turn
	// at the start is the smallest that is clear, to 15 degrees.
	leadStep  = math.Pi / 12
	leadSteps = 11
	// leadHalvings (count) is how often a lead-in that has no room is halved: once,
	// as the five offsets that are left still turn a blade from 90 degrees to 1.
	leadHalvings = 1
	// leadPlaces (count) is at how many places a lead-in is measured from the
	// outlines. What may lie between them is added in its first half.
	leadPlaces = 32
	// leadTouch (distance, mm) is how near its end a lead-in may meet an outline:
	// that is where it begins to cut it.
	leadTouch = 0.01

	// onEdge (distance, mm) is how far off the cut line a notch may start: under
	// half a plotter unit.
	onEdge = 0.01
	// notchWidth (ratio) is the width of a V at the edge to its depth where it is
	// not known: narrow enough to leave the seam its strength, and wide enough for
	// a sliver that falls out (common practice, no source).
	notchWidth = 0.5
	// notchRound (ratio) is the most of a closed outline that a V may take.
	notchRound = 0.5
)
