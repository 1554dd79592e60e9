package facing

// GoodSeam and ToleratedSeam (length, mm) are by how much two joined seam lines may
// differ and be good, and tolerated: 1/16 and 1/8 in ("10 Patternwork Skills", Threads
// 200, 2018).
const (
	GoodSeam      = 25.4 / 16
	ToleratedSeam = 25.4 / 8
)

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// joinGap (gap, mm) is how far apart the ends of parts may lie and still be
	// one point; under half a plotter unit.
	joinGap = 0.01
	// slack (distance, mm) absorbs rounding where a mark starts exactly on the
	// end of a cut line.
	slack = 0.001
	// notchLength (length, mm) is how far a notch runs in from the cut edge at
	// the most, and notchShare the share of the allowance that it may take, so
	// that it stays clear of the stitching (common practice, no source).
	notchLength = 5
	notchShare  = 0.6
	// cornerNotch (distance, mm) is how near the corner of a facing a notch on
	// its side may be; nearer it would mark the corner. No measure of a style
	// falls on it, so that rounding does not give a notch to one of two joined
	// facings.
	cornerNotch = 0.4637
	// notchReach (distance, mm) is how far from one another two notches may be and still
	// be meant to meet: less than what two of a side are apart.
	notchReach = 10
	// favourShare (ratio) is how much of the motif's depth the favour may be before the
	// facing's shape differs from the garment's.
	favourShare = 0.5
	// filledValley (length, mm) is by how much a valley may be less deep unseen: the
	// width of a stitching line.
	filledValley = 0.5
	// sameClip (distance, mm) is how near the ends of two clips are one clip's: those
	// of two facings that are joined there.
	sameClip = 1
	// leastClip (length, mm) is the shortest clip worth marking.
	leastClip = 0.5
	// grainLength (length, mm) is the length of a facing's grain line where
	// there is room, and grainMargin its distance from the edges.
	grainLength = 120
	grainMargin = 5
	// labelHeight (length, mm) is the height of capitals that reads at arm's
	// length, comfortableLabel what still reads without effort, and leastLabel
	// what a fine pen can just write, for a doll's pieces.
	labelHeight      = 7
	comfortableLabel = 4
	leastLabel       = 1
	// lineSpacing and letterWidth (ratios) are the distance of a label's base
	// lines and that of its letters to its height; the letters are those of the
	// widest lettering that a piece is written in, a plotter's own.
	lineSpacing = 1.7
	letterWidth = 0.83
	// labelChords (chord, mm) is how exactly lettering keeps clear of arcs.
	labelChords = 0.5
	// maxAllowance (length, mm) bounds allowances and the favour: four times what
	// any seam has, and still so little that motifs of 1 mm can be moved by it in
	// a moment.
	maxAllowance = 100
	// maxMeasure (length, mm) bounds every other option: 100 m.
	maxMeasure = 1e5
	// bindingEnd (length, mm) is what a binding has beyond each end of the edge that
	// it binds, to be turned in or joined (common practice, no source).
	bindingEnd = 10
	// leastSection (length, mm) is the least length along the hem of what is cut off
	// at a join.
	leastSection = 10
	// numberHeight (length, mm) is the height of the number beside the notch of a join.
	numberHeight = 5
	// extentDirections (count) are the directions in half a turn in which a piece is
	// measured: between two of them it is at most a hundred-thousandth longer.
	// extentChords (chord, mm) is how exactly its arcs are followed for it.
	extentDirections = 360
	extentChords     = 0.05
	// mostGap (gap, mm) is how far the side lines of two facings may lie apart where
	// they are made in one: 1/16 in, the accuracy of a careful pattern maker
	// ("10 Patternwork Skills", Threads 200, 2018). closingPlaces (count) is at how many places they are compared.
	mostGap       = 1.5
	closingPlaces = 12
	// mostSaid (count) is how many lines on a label say what motifs the panels of a
	// facing in one piece have.
	mostSaid = 3
	// straightShare (ratio) is how far a hem may be from straight, as a share of the
	// facing's depth, where its facing is a band or grown on: the inner edge is then
	// off its depth by no more, 2.5 mm of 50 mm, which is tolerated (1/8 in, "10
	// Patternwork Skills", Threads 200, 2018).
	straightShare = 0.05
	// roundShare (ratio) is how much of an edge that comes back to its start is
	// left out at one end while the other is moved, and roundPlaces (count) how
	// many places in its middle tenth may join the two: of a motif's repeat there,
	// some are moved to where both are the same.
	roundShare  = 0.25
	roundPlaces = 64
	// ringJoin (length, mm) is the allowance where a facing that goes all round is cut
	// in sections: it has no seams whose allowance it could have (common practice, no
	// source).
	ringJoin = 10.0
	// notchClear (distance, mm) is how near to a notch on the cut edge a snip on a curve
	// may be cut: half of the narrowest V, so that none has a notch inside.
	notchClear = 2.0
	// overhang (distance, mm) is how far a motif that is wider than its foot may lean
	// back towards a side.
	overhang = 60.0
	// reachStep (length, mm) is at what distances along a line it is seen whether it is
	// within reach: a lobe that just comes so near turns by more.
	reachStep = 1.0
	// loopReach (length, mm) is how near a corner a line may cross what follows on it and
	// make a loop that is left out: more than tips are rounded by.
	loopReach = 5.0
	// leastGrain (length, mm) is half of the shortest grain line that says anything.
	leastGrain = 1.0
)
