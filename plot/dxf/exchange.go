package dxf

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
	"engrail/plot/internal/ground"
)

// exchange writes the pattern data flavour.
func (e *encoder) exchange(title string, pieces []piece, o Options) error {
	style, err := styleOf(title, pieces)
	if err != nil {
		return err
	}
	sample := sampleOf(pieces, o)
	if o.RuleTable != "" {
		if pieces, _, err = gradePieces(pieces, o); err != nil {
			return err
		}
	}
	e.section("HEADER")
	e.endSection()
	e.section("BLOCKS")
	names := blockNames(pieces)
	for i, p := range pieces {
		if err := e.block(names[i], p, o); err != nil {
			return err
		}
	}
	e.endSection()
	e.section("ENTITIES")
	for _, name := range names {
		e.entity("INSERT", layerCut)
		e.text("2", name)
		e.point(path.Point{})
	}
	facts := []string{standard, fact(keyStyle, style)}
	if !o.Created.IsZero() {
		facts = append(facts,
			fact("Creation Date", o.Created.Format(dateLayout)), fact("Creation Time", o.Created.Format(timeLayout)))
	}
	if o.Author != "" {
		facts = append(facts, fact("Author", o.Author))
	}
	// The sample size and the rule table must stand even when they are blank.
	facts = append(facts, fact(keySample, sample), fact(keyTable, o.RuleTable), fact(keyUnits, o.Units.word()))
	if o.CheckCurves {
		facts = append(facts, fact("Curve Tolerance", o.Units.atLeast(checkTolerance)))
	}
	for _, f := range facts {
		if n := len(spell(f)); n > maxText {
			return fmt.Errorf("dxf: %q has %d characters, and a DXF text holds %d: shorten it", f, n, maxText)
		}
	}
	// Beneath all pieces.
	box := path.EmptyBox()
	for _, p := range pieces {
		box = box.Union(p.Bounds())
	}
	if box.Empty() {
		box = path.Box{}
	}
	e.facts(facts, box.Min.Add(path.Vec{Y: -10 * systemHeight}), systemHeight)
	e.endSection()
	e.text("0", "EOF")
	return nil
}

// standard is the version line as it is seen in files: the standard's own name
// and number.
const standard = "ASTM/D13 Proposal 1 Version: D6673-10"

// The standard's day and time of creation.
const dateLayout, timeLayout = "02-01-2006", "15:04"

// sampleOf returns the sample size, the first piece's unless the options say
// one.
func sampleOf(pieces []piece, o Options) string {
	if o.SampleSize == "" && len(pieces) > 0 && pieces[0].Piece != nil {
		return pieces[0].Piece.Size
	}
	return o.SampleSize
}

// styleOf returns the name of the only style of the pieces.
func styleOf(title string, pieces []piece) (string, error) {
	style, from := "", ""
	for _, p := range pieces {
		switch {
		case p.Piece == nil || p.Piece.Style == "" || p.Piece.Style == style:
		case style == "":
			style, from = p.Piece.Style, p.name
		default:
			return "", fmt.Errorf("dxf: %s is of style %q and %s of style %q: pattern data hold one style a file", from, style, p.name, p.Piece.Style)
		}
	}
	if style == "" {
		style = title
	}
	return style, nil
}

// blockNames returns a name of capitals, digits, _ and - for each piece, all
// different and none longer than release 12 allows.
func blockNames(pieces []piece) []string {
	names := make([]string, len(pieces))
	taken := map[string]bool{}
	for i, p := range pieces {
		words := p.pieceName()
		if p.Piece != nil && p.Piece.Size != "" {
			words += "-" + p.Piece.Size
		}
		base := strings.Trim(strings.Map(func(r rune) rune {
			switch {
			case 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '-', r == '_':
				return r
			}
			return '_'
		}, strings.ToUpper(ascii.Fold(words))), "_-")
		if base == "" {
			base = "PIECE"
		}
		name := base[:min(len(base), maxBlockName)]
		for n := 2; taken[name]; n++ {
			end := "-" + strconv.Itoa(n)
			name = base[:min(len(base), maxBlockName-len(end))] + end
		}
		taken[name] = true
		names[i] = name
	}
	return names
}

// pieceName returns the piece's name, or what stands for it.
func (p piece) pieceName() string {
	switch {
	case p.Piece != nil && p.Piece.Name != "":
		return p.Piece.Name
	case p.Label != "":
		return p.Label
	}
	return p.ID
}

// block writes one piece.
func (e *encoder) block(name string, p piece, o Options) error {
	outline, err := p.outline()
	if err != nil {
		return err
	}
	e.entity("BLOCK", layerCut)
	e.text("2", name)
	e.text("70", "0")
	e.point(path.Point{})

	facts := []string{fact(keyPiece, name)}
	if p.Piece != nil {
		known := *p.Piece
		known.Name = p.pieceName()
		if known.Name == "" {
			known.Name = name
		}
		facts = pieceFacts(known)
	}
	if p.turns == nil {
		p.Lines = slices.Clone(p.Lines)
		p.Lines[outline].Path = p.notched(p.Lines[outline].Path, o)
	}
	at, height := p.factsPlace(facts, p.Lines[outline].Path)
	e.facts(facts, at, height)
	e.exchangeLine(p, outline, true, o)
	for i, l := range p.Lines {
		if i != outline && !l.Sign {
			e.exchangeLine(p, i, false, o)
		}
	}
	for _, g := range p.grades {
		e.lettering(layerCut, plot.Text{At: g.at, Height: leastSystemHeight, String: "# " + strconv.Itoa(g.rule)})
	}
	for _, t := range p.Texts {
		e.lettering(layerLettering, t)
	}
	e.entity("ENDBLK", layerCut)
	return nil
}

// outline returns which of the piece's lines is its cut line.
func (p piece) outline() (int, error) {
	outline, most, onFold := -1, 0.0, false
	for i, l := range p.Lines {
		if l.Role == plot.Fold && !l.Sign {
			onFold = true
		}
		if l.Role == plot.Cut && l.Path.Closed && !l.Sign {
			if area := math.Abs(l.Path.Area()); area > most {
				outline, most = i, area
			}
		}
	}
	if outline < 0 {
		return 0, fmt.Errorf("dxf: %s has no closed cut line, which pattern data need: close its outline, or write plain DXF", p.name)
	}
	if p.Piece != nil && p.Piece.OnFold && !onFold {
		return 0, fmt.Errorf("dxf: %s is cut on the fold and has no fold line, which pattern data need as its mirror line", p.name)
	}
	return outline, nil
}

// notched returns the outline with a vertex at each notch on one of its arcs, so
// that the notch lies on the boundary whatever the error of the chords.
func (p piece) notched(outline path.Path, o Options) path.Path {
	type place struct {
		segment int
		ratio   float64
	}
	var places []place
	for _, l := range p.Lines {
		if l.Role != plot.Notch && !(l.Role == plot.Clip && o.CutClips) {
			continue
		}
		at, near := place{}, math.Inf(1)
		for i := range outline.Segments() {
			if ratio, dist := outline.Segment(i).Nearest(l.Path.Start()); dist < near {
				at, near = place{i, ratio}, dist
			}
		}
		s := outline.Segment(at.segment)
		if q := s.At(at.ratio); near <= samePlace && !s.IsLine() && min(q.Dist(s.A), q.Dist(s.B)) > samePlace {
			places = append(places, at)
		}
	}
	if len(places) == 0 {
		return outline
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.segment, b.segment), cmp.Compare(a.ratio, b.ratio))
	})
	out := path.Path{Closed: true, V: make([]path.Vertex, 0, len(outline.V)+len(places))}
	for i := range outline.Segments() {
		s, from := outline.Segment(i), 0.0
		for len(places) > 0 && places[0].segment == i {
			if to := places[0].ratio; to > from {
				part := s.Sub(from, to)
				out.V = append(out.V, path.Vertex{Point: part.A, Bulge: part.Bulge})
				from = to
			}
			places = places[1:]
		}
		last := s
		if from > 0 {
			last = s.Sub(from, 1)
		}
		out.V = append(out.V, path.Vertex{Point: last.A, Bulge: last.Bulge})
	}
	return out
}

func hasArcs(p path.Path) bool {
	return slices.ContainsFunc(p.V, func(v path.Vertex) bool { return v.Bulge != 0 })
}

// facts writes facts one beneath the other, the first on the base line at the
// point.
func (e *encoder) facts(facts []string, at path.Point, height float64) {
	for _, f := range facts {
		e.lettering(layerCut, plot.Text{At: at, Height: height, String: f})
		at.Y -= systemLead * height
	}
}

// factsPlace returns where the facts stand inside the outline: as large as they
// have room, and as near its middle, clear of the piece's lines and lettering;
// with no such place clear of the outline alone; and in the smallest of pieces
// so that they begin in it.
func (p piece) factsPlace(facts []string, outline path.Path) (at path.Point, height float64) {
	width := 0.0 // that of letters 1 mm high, like rows
	for _, f := range facts {
		c := plot.Text{Height: 1, String: spell(f)}.Corners()
		width = max(width, c[1].X)
	}
	rows := systemLead*float64(len(facts)-1) + 1
	outlined, all := ground.New(outline), ground.New(outline)
	for _, l := range p.Lines {
		all.Keep(l.Path)
	}
	for _, t := range p.Texts {
		all.KeepBlock(t.Corners())
	}
	places := p.inside(outline)
	for _, room := range []*ground.Ground{all, outlined} {
		for height = systemHeight; height >= leastSystemHeight; height /= 2 {
			half := path.Vec{X: (width + 2) * height / 2, Y: (rows + 2) * height / 2}
			for _, middle := range places {
				if room.Clear(middle, path.Vec{X: 1}, half) {
					return middle.Add(path.Vec{X: -width * height / 2, Y: (rows/2 - 1) * height}), height
				}
			}
		}
	}
	if len(places) == 0 {
		return outline.Start(), leastSystemHeight
	}
	return places[0], leastSystemHeight
}

// inside returns places in the outline and in no cutout, the one nearest to the
// middle of its box first.
func (p piece) inside(outline path.Path) []path.Point {
	const parts = 12
	box := outline.Bounds()
	var places []path.Point
	for i := 1; i < parts; i++ {
		for j := 1; j < parts; j++ {
			q := path.Point{
				X: box.Min.X + box.Width()*float64(i)/parts, Y: box.Min.Y + box.Height()*float64(j)/parts,
			}
			cut := 0 // lines round it, the outline's among them
			for _, l := range p.Lines {
				if l.Role == plot.Cut && l.Path.Closed && l.Path.Contains(q) {
					cut++
				}
			}
			if cut == 1 && outline.Contains(q) {
				places = append(places, q)
			}
		}
	}
	middle := box.Centre()
	slices.SortStableFunc(places, func(a, b path.Point) int { return cmp.Compare(a.DistSq(middle), b.DistSq(middle)) })
	return places
}

// exchangeLine writes a line as its layer has it.
func (e *encoder) exchangeLine(p piece, i int, outline bool, o Options) {
	l := p.Lines[i]
	layer := exchangeLayer(l.Role)
	switch {
	case outline:
		layer = layerCut
	case l.Role == plot.Clip && o.CutClips:
		layer = layerNotch
	case len(l.Path.V) == 1 && layer != layerNotch:
		layer = layerDrill
	case l.Role == plot.Drawn && isReference(l.Class):
		layer = l.Class
	}
	colour := 0
	if first, _ := exchangeRole(layer); first != l.Role {
		colour = roleColour(l.Role)
	}
	switch layer {
	case layerNotch:
		e.notch(l, colour)
	case layerDrill:
		e.exchangePoint(layerDrill, l.Path.Start(), colour)
	case layerMirror, layerGrain, layerReference, layerStripe, layerPlaid:
		// These layers hold no polylines.
		p := chords(l.Path, o.ChordError)
		for i := range p.Segments() {
			e.straight(layer, p.Segment(i), colour)
		}
	default:
		if p.turns == nil {
			points, turns := exchangePoints(l.Path, o.ChordError, o.Units)
			e.curve(layer, points, turns, l.Path.Closed, colour)
		} else {
			e.curve(layer, l.Path.Flatten(o.ChordError), p.turns[i], l.Path.Closed, colour)
		}
		if o.CheckCurves && hasArcs(l.Path) {
			points, _ := exchangePoints(l.Path, ChordError, o.Units)
			e.chain(checkLayer(layer), points, l.Path.Closed, 0)
		}
	}
}

// notch writes a notch from its path's start to its end. A width of 0 is left
// out: that is the default of the format, and a 0 that is written stops some
// programs when they move the point. A V without a width is as wide as it is
// deep, for without one it is a slit.
func (e *encoder) notch(l plot.Line, colour int) {
	in := l.Path.V[len(l.Path.V)-1].Sub(l.Path.Start())
	layer, width := layerNotch, 0.0
	if l.Role == plot.Notch && l.Notch != fit.SlitNotch {
		layer, width = notchLayer(l.Notch), l.Width
		if l.Notch == fit.VNotch && width == 0 {
			width = in.Len()
		}
	}
	e.exchangePoint(layer, l.Path.Start(), colour)
	e.length("30", in.Len())
	if width > 0 {
		e.length("39", width)
	}
	e.number("50", degrees(in.Angle()), angleDecimals)
}

func (e *encoder) exchangePoint(layer string, p path.Point, colour int) {
	e.entity("POINT", layer)
	e.colour(colour)
	e.point(p)
}

func (e *encoder) straight(layer string, s path.Segment, colour int) {
	e.entity("LINE", layer)
	e.colour(colour)
	e.point(s.A)
	e.secondPoint(s.B)
}

func (e *encoder) colour(colour int) {
	if colour != 0 {
		e.integer("62", colour)
	}
}

// curve writes a line as chords and the points that say which of their ends
// are corners and which lie on a curve. Only the layer of drawn lines holds a
// LINE for a single chord.
func (e *encoder) curve(layer string, points []path.Point, turns []bool, closed bool, colour int) {
	if len(points) == 2 && !closed && layer == layerInternal {
		e.straight(layer, path.Line(points[0], points[1]), colour)
	} else {
		e.chain(layer, points, closed, colour)
	}
	buf := e.buf
	for i, q := range points {
		if turns[i] {
			buf = append(buf, "0\r\nPOINT\r\n8\r\n"+layerTurn+"\r\n"...)
		} else {
			buf = append(buf, "0\r\nPOINT\r\n8\r\n"+layerCurve+"\r\n"...)
		}
		buf = e.appendPoint(buf, q)
	}
	e.buf = buf
}

// chain writes a POLYLINE without bulges.
func (e *encoder) chain(layer string, points []path.Point, closed bool, colour int) {
	e.polyline(layer, closed)
	e.colour(colour)
	vertex := "0\r\nVERTEX\r\n8\r\n" + layer + "\r\n"
	buf := e.buf
	for _, q := range points {
		buf = e.appendPoint(append(buf, vertex...), q)
	}
	e.buf = buf
	e.entity("SEQEND", layer)
}

// exchangePoints returns the ends of the path's chords, rounded to the
// decimals that are written and no two the same in a row, and which of them
// are turn points.
func exchangePoints(p path.Path, chordError float64, u Units) (points []path.Point, turns []bool) {
	all := p.Flatten(chordError)
	points, turns = all[:0], make([]bool, 0, len(all))
	vertex := 0
	for _, q := range all {
		turn := false
		if vertex < len(p.V) && q == p.V[vertex].Point {
			turn = isTurn(p, vertex)
			vertex++
		}
		q = u.round(q)
		if n := len(points); n > 0 && q == points[n-1] {
			turns[n-1] = turns[n-1] || turn
			continue
		}
		points, turns = append(points, q), append(turns, turn)
	}
	if n := len(points); p.Closed && n > 1 && points[0] == points[n-1] {
		turns[0] = turns[0] || turns[n-1]
		points, turns = points[:n-1], turns[:n-1]
	}
	return points, turns
}

// isTurn reports whether the vertex is a turn point: an end, a corner, or the
// end of a straight line.
func isTurn(p path.Path, vertex int) bool {
	n := len(p.V)
	if !p.Closed && (vertex == 0 || vertex == n-1) {
		return true
	}
	before, after := p.Segment((vertex+n-1)%n), p.Segment(vertex)
	return before.IsLine() || after.IsLine() ||
		math.Abs(before.EndTangent().AngleTo(after.StartTangent())) > smooth
}
