package toolpath

import "math"

// Tolerances and sizes of what a knife does along one line, each with its kind
// and reason.
const (
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
	// farthest (length, mm) is the longest line and the largest coordinate that a
	// blade follows: 1000 km, where rounding nears a ten-thousandth of a mm.
	farthest = 1e9

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
