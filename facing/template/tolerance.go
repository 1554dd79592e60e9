package template

// Tolerances and sizes in this package, each with its kind and reason.
const (
	// sameRigid (distance, mm) is how far motifs may differ that are drawn alike: twice
	// what is rounding in arcs that are fitted.
	sameRigid = 0.05
	// sameBent (distance, mm) is how far bent motifs may be from the first with which
	// they share a card: the width of a pencil line.
	sameBent = 0.5
	// onEdge (distance, mm) is how far a place may lie off the edge that it is on.
	onEdge = 0.0125
	// places (count) is at how many places of a motif it is compared.
	places = 24
	// mostCards (count) bounds the cards of a garment: nobody cuts more.
	mostCards = 60
	// body (length, mm) is how far a card reaches above the valley line at the least, to
	// be held.
	body = 25.0
	// letter (length, mm) is the height of capitals on a card, smallLetter that on a narrow
	// one, and leastLetter what a fine pen can just write. letterWidth and lineSpacing (ratios) are the distances of letters
	// and lines to it, those of the widest lettering that pieces are written in.
	letter, smallLetter, leastLetter = 2.8, 1.8, 1.0
	letterWidth                      = 0.83
	lineSpacing                      = 1.7
	// across (count) is how many letters there must be room for where lines run along the
	// hem; on a narrower card they run up it.
	across = 18
	// longestRound (count) is how many motifs may be in a round that is told as repeated.
	longestRound = 24
	// margin (length, mm) is between lettering and the edges of a card.
	margin = 3.0
	// stem (length, mm) is how far the centre line reaches above the valley line, and
	// head the length of its arrowhead.
	stem, head = 12.0, 3.0
)
