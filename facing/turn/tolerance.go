package turn

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// usualGap (length, mm) is how far short of the stitching snips end: one short
	// stitch. Closer, the cloth frays into the seam; farther, a valley puckers (common
	// practice, no source).
	usualGap = 1.5
	// usualFullness (length, mm) is the extra edge that may stay at a V. With the
	// usual gap it makes Vs stand 8 mm apart on a radius of 25 mm, as far as S5 p. 452
	// has clips on inward curves, and 1 mm of extra edge is what a press takes out of a
	// firm cloth (from memory).
	usualFullness = 1
	// usualOpening (length, mm) is how wide a slit may gape when it is turned. With an
	// allowance of 6 mm it gives slits every 6 to 13 mm on radii from 18 to 39 mm: the
	// printed rule of S5 p. 452 on the curves of garments.
	usualOpening = 4
	// usualBridge (length, mm) is what has to stay between two Vs at the cut edge, for
	// scissors to hold; usualLeastV is the narrowest V that can be cut out
	// rather than slit (both from memory).
	usualBridge = 3
	usualLeastV = 2
	// leastGap (length, mm) is how near to the stitching a V may end on a tight curve, and
	// the allowance be trimmed where the gap is less: two threads of a coarse cloth.
	leastGap = 0.75
	// leastNotched (length, mm) is the narrowest allowance that is trimmed for Vs: enclosed
	// seams are trimmed to 1/8 to 1/4 in, 3 to 6 mm (S5 p. 451). Without Vs, on a few mm of a
	// curve for which that leaves more edge than there is room for, it may be down to
	// leastGap, as near as a V ends. trimStep (length, mm) is the step in which a width
	// is tried.
	leastNotched = 3
	trimStep     = 1
	// trimWalk (length, mm) is the step in which a trim line leads out to the cut edge;
	// bluntDip (length, mm) how long the bottom of an inward corner may be that does
	// not end it: that of one of 20 degrees, beside which the allowance is narrower.
	trimWalk = 0.25
	bluntDip = 2
	// onSlit (distance, mm) is how near to a slit a trim line ends on it.
	onSlit = 0.5
	// slitBridge (length, mm) is the least distance of two slits at the cut edge.
	slitBridge = 2
	// leastSnip (length, mm) is the shortest snip that is worth cutting.
	leastSnip = 0.5
	// shareGap (ratio) is the largest gap as a share of the allowance: beyond it
	// there is nothing to snip.
	shareGap = 0.9
	// maxAllowance (length, mm) bounds the allowance, four times what any seam has.
	maxAllowance = 100
	// maxLimit (length, mm) bounds all other measures.
	maxLimit = 1000
	// smooth (angle) is the turn at a joint that counts as none: 2 degrees, by which an
	// allowance of 6 mm has 0.4 mm too much.
	smooth = 0.035
	// valleyTurn (angle) is the turn into the garment above which a corner is a valley,
	// 20 degrees, as in package fit; tipTurn the turn outward above which a corner
	// is a tip: it is more than one V takes within the usual fullness.
	valleyTurn = 0.349
	tipTurn    = usualFullness / (2 * leastGap)
	// mostTip (angle) is the turn from which on a curve is a ball, which ends in no point.
	mostTip = 3.0
	// sameValley (length, mm) is how near a valley's own place a corner belongs to it.
	sameValley = 3.5
	// onCut (gap, mm) is how exactly the cut line lies at the allowance.
	onCut = 0.01
	// lookAhead (count) is how many segments of the net line may lie hidden in a valley,
	// where the cut line has none beside them.
	lookAhead = 48
	// lookAround (count) is how many segments on each side a slit is kept clear of.
	lookAround = 12
	// onRay (distance, mm) is how far from a ray the end of a cut line may lie and be on
	// it.
	onRay = 0.001
	// reaches (ratio) is how far from the net line the cut edge is looked for, in
	// allowances: at a valley it is at a/cos of half the turn.
	reaches = 5
	// walkStep (length, mm) is the step in which the place is looked for where a turned
	// edge meets an axis, before it is halved to placeTolerance (length, mm).
	walkStep       = 1.0
	placeTolerance = 0.001
	// foldStep (length, mm) and foldTurn (angle) are the steps of the sums along a net
	// line: the heights change slowly, and sums are within 1 % of a fold of slices.
	foldStep = 0.5
	foldTurn = 0.1
	// keepsClear (ratio) is how much of the gap a trimmed tip keeps everywhere.
	keepsClear = 0.8
	// longest (ratio) is how long a slit may be on a curve, in allowances: beyond that two
	// sides have one allowance, and it would cut through to the other.
	longest = 1.5
	// strays (ratio) is how far from the net line a trimmed tip's line may be, in
	// allowances: it is straight, and the cut edge beside it may be hollow.
	strays = 1.05
	// rounding (ratio) is what is added to a count before it is rounded up.
	rounding = 1e-9
)
