package dxf

// Tolerances and limits in this package, each with its kind and reason.
const (
	// ChordError (chord, mm) is the default largest distance between an arc and
	// its chords in the exchange flavour. Two decimals move a point by up to
	// 0.005 sqrt 2 = 0.0071 mm; together it is 0.0221 mm, less than the 0.025 mm
	// of a plotter unit.
	ChordError = 0.015
	// LinesError (chord, mm) is the default largest distance between an arc and its
	// chords in a plain file of lines: less than half a plotter unit.
	LinesError = 0.01
	// checkTolerance (distance, mm) is how far a check curve may be from the design:
	// the default chord error and the rounding of two decimals.
	checkTolerance = 0.0221
	// lastBit (ratio) keeps a whole number of steps from being rounded up.
	lastBit = 1e-9
	// GradedChordError (chord, mm) is that of a base size with grade rules, where
	// it adds to gradeError in every size: together 0.02 mm.
	GradedChordError = 0.008
	// gradeError (distance, mm) is how far a point may be from its place in a size
	// before it becomes a grade point: the rounding of the base and of the deltas,
	// up to 0.0071 mm each, nearly fills it. With a chord error that is set it is
	// pointsToChords (ratio) of that, as by default, so that who wants fewer
	// points gets fewer of both kinds.
	gradeError     = 0.012
	pointsToChords = 1.5
	// notchTurn (angle, radians) is by how much a notch in a size may differ from
	// one that turns with its edge: two degrees, a sixth of a mm at its end.
	notchTurn = 0.035
	// plainDecimals (digits) leave 0.00007 mm of rounding in the plain flavour.
	plainDecimals = 4
	// bulgeDecimals (digits) keep an arc over a chord of 1 m within 0.00001 mm.
	bulgeDecimals = 8
	// angleDecimals (digits) of degrees are 0.001 mm over 500 mm.
	angleDecimals = 4
	// metricDecimals and englishDecimals (digits) are what ASTM D6673-10, 4.3.1.1,
	// has for METRIC and ENGLISH: they move a point by up to 0.0071 and 0.0018 mm.
	// The steps are how many of the last decimal make a unit.
	metricDecimals, englishDecimals = 2, 4
	metricSteps, englishSteps       = 1e2, 1e4
	// smooth (angle, radians) is the turn between two arcs up to which they are
	// one curve: half a degree, less than chords of the default error turn.
	smooth = 0.009
	// minChordError and maxChordError (mm) bound the chord error that can be set.
	minChordError, maxChordError = 1e-4, 10.0

	// maxCoordinate (mm) bounds what is written: a kilometre.
	maxCoordinate = 1e6
	// maxBulge (ratio) bounds arcs that are written: closer to a full turn the
	// ends of an arc say too little of its centre.
	maxBulge = 1e4
	// minTextHeight and maxTextHeight (mm) bound the letters that are written.
	minTextHeight, maxTextHeight = 0.01, 1e4
	// maxText (characters) is what release 12 keeps of a text.
	maxText = 255
	// maxBlockName (characters) is what release 12 keeps of a name.
	maxBlockName = 31
	// maxLayerSize (characters) is how much of a size's name begins that of a layer:
	// the hyphen and the longest role are 9 more.
	maxLayerSize = maxBlockName - 9
	// systemHeight and leastSystemHeight (mm) bound the height of the letters of
	// facts, which nobody draws, and systemLead (ratio) is the distance of their
	// base lines to it.
	systemHeight, leastSystemHeight = 2.0, 0.25
	systemLead                      = 2.0

	// maxBytes bounds a file that is read.
	maxBytes = 64 << 20
	// headBytes of a larger file must begin as DXF does before the rest is read.
	headBytes = 64 << 10
	// maxEntities bounds the entities that are read or that inserting blocks
	// makes.
	maxEntities = 1 << 20
	// maxVertices bounds the vertices of all lines, likewise: a million are one every
	// tenth of a mm round a hundred pieces.
	maxVertices = 1 << 20
	// maxArcs bounds the arcs that stand for ellipses and splines, each of which
	// takes some hundred points of the curve to find.
	maxArcs = 1 << 19
	// maxLetters bounds an MTEXT, of which a few letters can make a line each.
	maxLetters = 1 << 16
	// lettersPerVertex is how many letters count as a vertex where blocks repeat
	// them.
	lettersPerVertex = 64
	// maxNesting bounds how deep blocks are inserted in one another.
	maxNesting = 32
	// maxNumber bounds the numbers that are read, and the coordinates in mm that
	// they become.
	maxNumber = 1e9
	// maxUnit (mm) bounds the unit that is given.
	maxUnit = 1e6
	// maxDegree bounds splines: four times what drawing programs make.
	maxDegree = 25

	// maxWarnings bounds the warnings of a report.
	maxWarnings = 50
	// maxRuleBytes bounds a rule table that is read. Our own, with a rule at most
	// points of finely drawn curves, have some 1.4 MB for two pieces in nine sizes.
	maxRuleBytes = 16 << 20
	// maxSizes bounds the sizes of a rule table.
	maxSizes = 500
	// maxDelta (units) bounds the way of a grade point in x and y.
	maxDelta = 1e4
	// sampleDelta (distance, units) is what a rule may say of the sample size,
	// where it is 0: the rounding of two decimals.
	sampleDelta = 0.015

	// samePlace (distance, mm) is how far a point may be from a grade point, or a
	// grade point from a line, and still be at it: the rounding of two decimals on
	// both sides, 2 x 0.0071 mm, and some more.
	samePlace = 0.02
	// cornerTurn (angle, radians) is the turn above which a vertex is a corner of
	// an outline and of its stitching line: 20 degrees, more than chords of
	// a small arc turn.
	cornerTurn = 0.35
	// turnReach (distance, mm) is how far to both sides of a notch its edge's
	// direction is taken, so that the rounding of points does not turn it.
	turnReach = 5
	// noLengthSq (area, mm2) is the square of a length that is none: 1e-6 mm.
	noLengthSq = 1e-12
	// maxGradeWork bounds the segments that are looked at to find how a file's
	// pieces move: about a second, and several times what a style takes.
	maxGradeWork = 1 << 26

	// upright (ratio) is the slope up to which a plane counts as level: a metre
	// rises by a micrometre, and no length changes by 1e-12 of itself.
	upright = 1e-6
	// fullTurn (angle, radians) is what an elliptic arc may lack to be closed: at
	// a radius of 1 m less than the curves' tolerance.
	fullTurn = 1e-6
	// sameKnot (ratio) of the range of a spline's knots or of its size counts as
	// nothing: files have some ten digits.
	sameKnot = 1e-9
	// smoothKnot (angle, radians) is the turn at a knot up to which a spline is
	// smooth there: the rounding of its points.
	smoothKnot = 1e-5
	// nearEnd (ratio) of a span is where the direction of a spline is looked up
	// that stands still at the span's end.
	nearEnd = 1e-5
	// spansPerPart bounds the spans of a spline that are fitted at once, so that
	// the places that path.FitCurve looks at, 64 at least, are eight a span.
	spansPerPart = 8
)
