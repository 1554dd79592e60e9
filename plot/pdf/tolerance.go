package pdf

const (
	// sheetMargin (length, mm) is left round a drawing on a sheet of its own size.
	sheetMargin = 10.0
	// legendSpace (length, mm) is from a nest to its legend and on.
	legendSpace = 8.0
	// hair (length, mm) is by how much lines may pass a page's size: round-off.
	hair = 1e-3
	// largestPage (length, mm) is 14400 points, the largest page that readers of PDF
	// are said to take (ISO 32000-1, annex C; from memory).
	largestPage = 14400 * 25.4 / 72
	// dotRadius (length, mm) is that of a point that is marked.
	dotRadius = 0.75
	// thinnest (length, mm) is the width of the thinnest line of the map.
	thinnest = 0.1
	// curveError (distance, mm) is how far a curve may lie from its arc.
	curveError = 0.002
	// capHeight (ratio) is the height of the font's capitals to its size.
	capHeight = 0.723
	// fontName is what the document calls its font.
	fontName = "engrail"

	// paperMargin (length, mm) is left free on each side of paper, which few printers
	// can print to the edge, and overlap (length, mm) the strip that is glued.
	paperMargin = 12.0
	overlap     = 12.0
	// mostPages (number) bounds the tiles of one drawing.
	mostPages = 2000
)
