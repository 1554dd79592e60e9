package advice

import "math"

// Tolerances and limits in this package, each with its kind and reason. What books
// and common practice say is kept in one place here; where no measure is published
// it is said so.
const (
	// Fray (length, mm) is the narrowest allowance that holds in firm cloth: enclosed
	// seams are trimmed to 1/8 to 1/4 in, 3 to 6 mm, and the widest layer stays at 6
	// (a college textbook of clothing construction, p. 451). Loose weaves need more, up
	// to 1 in (common practice).
	Fray = 6.0
	// Stitch (length, mm) is a reinforcing stitch, with which valleys are sewn (common
	// practice, no source).
	Stitch = 1.5
	// LeastClear (length, mm) is how far a facing reaches beyond the motif at the
	// least: strips for scallops are cut the motif's depth, 1 in, and an allowance
	// (common practice, rounded from 25.4 mm).
	LeastClear = 25.0
	// BluntPoint (angle) is the sharpest point that turns well. None is published: at
	// 30 degrees two allowances trimmed to 3 mm lie on one another for 11 mm from the
	// tip, which is derived. SharpestPoint (angle) is where that is 23 mm, and nothing is
	// left to turn.
	BluntPoint    = 30 * math.Pi / 180
	SharpestPoint = 15 * math.Pi / 180
	// ManyClips (count) is how many clips are an hour's work, at about half a minute
	// each (from memory).
	ManyClips = 120
	// NotchClear (distance, mm) is how near a notch may be to a clip: what stays between
	// two cuts that are nearer tears or frays away. It is 1/8 in (from memory).
	NotchClear = 3.0
	// GrainTurn (angle) is by how much two grain lines may differ: layers tilt by 1 to 3
	// degrees at the most (from memory; none is published).
	GrainTurn = 3 * math.Pi / 180
	// tipReach (length, mm) is how far along each side of a tip its angle is measured,
	// about an allowance, so that hollow and slightly rounded points count as what they
	// are to turn; tipShare (ratio) is how much of a narrow motif's width that may be.
	tipReach = 5.0
	tipShare = 1.0 / 8
	// footSlope (angle) is how steep an edge may be and still belong to the foot of a
	// valley, and corner (angle) the turn that ends a foot and makes a tip.
	footSlope = math.Pi / 4
	corner    = 20 * math.Pi / 180
	// sharpFoot (length, mm) is the foot of a valley that is a corner.
	sharpFoot = 0.05
	// slack (length, mm) absorbs the rounding of units.
	slack = 1e-6
	// angleSlack (angle) absorbs rounding.
	angleSlack = 1e-9
	// onEdge (distance, mm) is how far a place may lie off the edge that it is on:
	// half a plotter unit.
	onEdge = 0.0125
	// flankParts (count) bounds the segments of one side of a motif that are looked at.
	flankParts = 400
)
