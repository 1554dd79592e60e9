package path

import "math"

// Tolerances in this package, each with its kind and reason.
const (
	// FitTolerance (distance, mm) is the default largest distance between a
	// smooth curve and the arcs that stand for it: a tenth of a plotter unit.
	FitTolerance = 0.002
	// Coincident (distance, mm) is how near two points may lie to count as
	// one: far below what any machine resolves, far above the rounding error
	// of coordinates up to 100 m.
	Coincident = 1e-7
	// noLength (distance, mm) is the chord below which a segment is a point to
	// divide by: the square of its curvature times any length would overflow.
	noLength = 1e-100
	// straightBulge (ratio) is the bulge below which a segment counts as
	// straight: the sagitta of a 1 m chord is then 5e-8 mm.
	straightBulge = 1e-10
	// evenScale (ratio) is how far an affine map may be from a similarity, of its
	// scale, and count as one: 1e-5 mm across 10 m, far above the rounding of
	// nested transforms.
	evenScale = 1e-9
	// stopped (ratio) is the speed of a Bezier, or the length of its control arm,
	// of its size, at which it stands still: at a cusp if that is inside. What
	// turns in so little room is tighter than any tolerance.
	stopped = 1e-6
	// fullTurnSlack (angle, rad) is the rounding allowed on a full turn.
	fullTurnSlack = 1e-9
	// sameArc (distance, mm) is the difference of the curvatures of two joined
	// arcs, times their length squared, below which they are one: some 200
	// times the distance from that one, so only rounding.
	sameArc = 1e-9
	// fitAim (ratio) is the part of the tolerance that a fit uses by its own
	// estimate, which may be a little low between the places that it checks.
	fitAim = 0.97
	// fitNext (ratio) is the part of its aim that a fit's next try is to take.
	fitNext = 0.9
	// fitEnough (ratio) is the part of its aim at which a longer arc is no
	// longer sought: 8 % in error is 3 % in length.
	fitEnough = 0.8
	// chordSlack (count) is the rounding allowed on the number of chords of an
	// arc: a whole number that comes out a little above itself is not one more.
	chordSlack = 1e-9
	// smoothTurn (angle, rad) is the turn from which a joint is a corner for
	// chords, which keep it: some hundredths of a chord's own turn.
	smoothTurn = 1e-3
	// acrossTurn (ratio) is how much of a chord that reaches across a turn from
	// left to right lies on either side, in full chords: with the error e its ends
	// are where the arcs have left their common tangent by (3+2 sqrt 2) e, and a
	// full chord rises 2 e in its half, so it is sqrt(3/2+sqrt 2)/2.
	acrossTurn = 0.8535
	// cusp (angle, rad) is how near to a half turn a corner is a cusp, whose sign the
	// tangents do not tell: those of fitted arcs are off by so much.
	cusp = 0.05
	// cuspReach (distance, mm) is how far from a cusp its sides are compared: where arcs
	// of some hundred mm are some thousandths apart.
	cuspReach = 0.5
	// chordTries (count) is how often a point is added where chords that reach
	// across joints stray too far.
	chordTries = 6
	// parallel (ratio) is the length below which the difference of two unit
	// normals is rounding error.
	parallel = 1e-15
	// onJoint (distance, mm) is how near a joint a place along a path may be to
	// be on it: rounding of a length of some kilometres.
	onJoint = 1e-9
	// onEdge (distance, grid lines of 0.001 mm) is how near an edge a vertex of
	// another region may lie to be put on it: snapping moves each of the two by
	// up to 0.71.
	onEdge = 1.5
	// areaSlack (area a length, mm^2 a mm) is how far an area of regions found in
	// two ways may differ: a thousandth of what snapping moves.
	areaSlack = 1e-6
	// farthest (distance, mm) is the largest coordinate and distance that are
	// offset: there the rounding of coordinates reaches Coincident.
	farthest = 1e9
	// offsetSlack (distance, mm) is how much too near to its source an offset
	// may be and pass: what touches or runs together within Coincident is not
	// cut there.
	offsetSlack = 2 * Coincident
	// offsetDetail (distance, mm) is the shortest segment that counts in an
	// offset: what it turns aside must show beside the slack.
	offsetDetail = 4 * Coincident
	// slightBend (distance, mm) is how much further than the distance the two
	// pieces at a corner of an offset may go to meet there: a little less and
	// they would be taken to lie on one another.
	slightBend = 0.3 * Coincident
	// sameEnd (distance, mm) is how far apart two pieces of an offset may end and
	// start and count as joined: rounding. A longer one would show in an area.
	sameEnd = 1e-12
	// offsetRounding (distance, mm) is the rounding error of an offset.
	offsetRounding = Coincident / 100
	// nodeSize (distance, mm) is how near two places where an offset meets
	// itself may follow one another to be one, as where three pieces meet.
	nodeSize = 10 * Coincident
	// doubledBack (ratio) is the sine of the angle between two directions that
	// are against each other within rounding.
	doubledBack = 1e-9
	// smallPart (ratio, a bulge) is the largest part of an arc, 45 degrees, that
	// is cut off at an inner corner without a look at what is around.
	smallPart = 0.2
	// wholeBulge (ratio) is the largest bulge, of 304 degrees, of an arc that an
	// offset gives in one: errors at the ends of an arc are multiplied by it.
	wholeBulge = 4
	// lostLength (distance, mm) is the length from which a part of an outline's
	// offset that does not close is a fault: shorter ones are slivers that are
	// only there by the slack.
	lostLength = 1e-3
	// PointTolerance (distance, mm) is the default largest distance between
	// given points and the arcs fitted to them: three times what rounding to two
	// decimals of a mm, or four of an inch, moves a point.
	PointTolerance = 0.02
	// PointCorner (angle, rad) is the default least angle, 10 degrees, by which
	// a corner turns more than the curves beside it: common practice, no source.
	PointCorner = 10 * math.Pi / 180
	// facetTurn (angle, rad) is the most, 30 degrees, that a curve turns from one
	// facet to the next: a circle of a dozen.
	facetTurn = 30 * math.Pi / 180
	// facetRise (distance, mm) is the most that a curve rises over its facet:
	// what is drawn coarser is meant as straight.
	facetRise = 0.5
	// leastFacets (count) is the fewest facets that make a curve: three are a
	// corner cut off or squared.
	leastFacets = 4
	// lineLength (ratio) is how much longer than the facets beside it a line is,
	// and twice what it is where the turns at its ends show it too.
	lineLength = 3.0
	// noisePart (ratio) is the part of the tolerance of fitted points within which
	// a point shows no turn: rounding moves a point by up to 0.0071 mm, and so one
	// from the line between two others by up to twice that.
	noisePart = 0.72
	// circlePart (ratio) is the part of the tolerance within which one circle
	// stands for all points of a closed path, above what rounding moves them.
	circlePart = 0.6
	// maxThinDepth (count) bounds how often a point is looked at in thinning.
	maxThinDepth = 60
	// tangentSlack (angle, rad) is the largest angle, 1.5 degrees, between a line
	// and the arc fitted beside it that counts as none: a drafter sees none.
	tangentSlack = 1.5 * math.Pi / 180
	// mostTurn (angle, rad) is the most that a fitted arc turns, 285 degrees: the
	// ends of a longer one are too near each other to direct it.
	mostTurn = 5
	// closedKink (angle, rad) is the angle between tangent arcs that is rounding.
	closedKink = 1e-11
	// endWeight (count of points) makes an arc go through the end of a run.
	endWeight = 1e4
	// refineEnough (distance, mm) is the change of a fitted circle after which
	// another, of about its square over the radius, does not count.
	refineEnough = 1e-4
	// settleSteps (count) is the most steps in which forces spread along arcs,
	// and settled (ratio, squared) the rest of them that does not count.
	settleSteps = 60
	settled     = 1e-12
	// openCurvature (ratio) is the stiffness given to the curvature of an arc that
	// has too few points to tell it: far below that of any point.
	openCurvature = 1e-9
	// singular (ratio) is the part of a pivot left below which it is rounding.
	singular = 1e-13
	// leadTurn (angle) is how far a path is led on along the circle that it ends
	// on, and wholeTurn what the longer arc then turns at the most, so that it
	// stays one that can be drawn.
	leadTurn, wholeTurn = math.Pi / 4, 1.9 * math.Pi
)
