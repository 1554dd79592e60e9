package dxf

import (
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// The names under which our extended data stand: that of all entities, and that
// of lettering drawn as strokes.
const (
	ourApplication       = "ENGRAIL"
	letteringApplication = "ENGRAIL_TEXT"
)

// solidLine is the line type without dashes.
const solidLine = "CONTINUOUS"

// plain writes the plain flavour.
func (e *encoder) plain(d plot.Drawing, pieces []piece, o Options) {
	e.release = o.Release
	box := path.EmptyBox()
	used := plainLayers{}
	stroked := false
	for _, p := range pieces {
		size := p.layerSize(o)
		for _, l := range p.Lines {
			box = box.Union(l.Path.Bounds())
			used.roles(size)[l.Role] = true
		}
		for i, t := range p.Texts {
			box = box.Include(t.At)
			used.roles(size)[lettering] = true
			for _, s := range p.strokesOf(i) {
				box = box.Union(s.Bounds())
				stroked = true
			}
		}
	}
	if box.Empty() {
		box = path.Box{}
	}

	seed := e.header(box)
	var model uint64
	if o.Release == R2000 {
		e.section("CLASSES")
		e.endSection()
	}
	e.section("TABLES")
	if o.Release == R2000 {
		e.view(box)
	}
	e.lineTypes()
	e.layers(used)
	if o.Release == R2000 {
		e.styles()
	}
	e.applications(stroked)
	if o.Release == R2000 {
		e.dimensions()
		var paper uint64
		model, paper = e.spaces()
		e.endSection()
		e.section("BLOCKS")
		e.space(modelSpace, model)
		e.space(paperSpace, paper)
	}
	e.endSection()

	e.section("ENTITIES")
	e.owner = model
	for i, p := range pieces {
		x := extended{group: i + 1, facts: p.facts(d.Title)}
		size := p.layerSize(o)
		for _, l := range p.Lines {
			x.sign = l.Sign
			e.line(size+plainLayer(l.Role), l.Path, &x, o)
		}
		x.sign = false
		for i, t := range p.Texts {
			if strokes := p.strokesOf(i); len(strokes) > 0 {
				x.stroked, x.text = true, &t
				for _, line := range strokes {
					e.line(size+textLayer, line, &x, o)
				}
				x.stroked = false
				continue
			}
			e.lettering(size+textLayer, t)
			e.extended(&x)
		}
	}
	e.endSection()
	if o.Release == R2000 {
		e.objects()
	}
	e.text("0", "EOF")
	if o.Release == R2000 {
		free := append(appendHex([]byte("9\r\n$HANDSEED\r\n5\r\n"), e.handle+1), "\r\n"...)
		e.buf = slices.Insert(e.buf, seed, free...)
	}
}

// header writes the header and returns where its variables end: there the first
// free handle is put in once it is known.
func (e *encoder) header(box path.Box) (end int) {
	e.section("HEADER")
	e.text("9", "$ACADVER")
	if e.release == R2000 {
		e.text("1", "AC1015")
		e.text("9", "$DWGCODEPAGE")
		e.text("3", "ANSI_1252")
	} else {
		e.text("1", "AC1009")
	}
	e.text("9", "$INSUNITS")
	e.text("70", "4") // millimetres
	e.text("9", "$MEASUREMENT")
	e.text("70", "1") // metric
	e.text("9", "$EXTMIN")
	e.point(box.Min)
	e.level("30")
	e.text("9", "$EXTMAX")
	e.point(box.Max)
	e.level("30")
	end = len(e.buf)
	e.endSection()
	return end
}

func (e *encoder) lineTypes() {
	types := lineTypes()
	if e.release == R2000 {
		types = append([]lineType{{name: "BYBLOCK"}, {name: "BYLAYER"}}, types...)
	}
	e.table("LTYPE", len(types))
	for _, t := range types {
		e.entry("LTYPE", "AcDbLinetypeTableRecord", t.name)
		e.text("70", "0")
		e.text("3", t.picture)
		e.text("72", "65")
		e.integer("73", len(t.dashes))
		length := 0.0
		for _, dash := range t.dashes {
			length += max(dash, -dash)
		}
		e.number("40", length, plainDecimals)
		for _, dash := range t.dashes {
			e.number("49", dash, plainDecimals)
			if e.release == R2000 {
				e.text("74", "0") // no shape in it
			}
		}
	}
	e.text("0", "ENDTAB")
}

func (e *encoder) layers(used plainLayers) {
	e.table("LAYER", 1+used.count())
	e.layer("0", 7, solidLine)
	for _, x := range used {
		for role, is := range x.used {
			switch {
			case !is:
			case role == lettering:
				e.layer(x.size+textLayer, 7, solidLine)
			default:
				colour, lineType := plainStyle(plot.Role(role))
				e.layer(x.size+plainLayer(plot.Role(role)), colour, lineType)
			}
		}
	}
	e.text("0", "ENDTAB")
}

// applications names those that have extended data.
func (e *encoder) applications(stroked bool) {
	names := []string{ourApplication}
	if e.release == R2000 {
		names = append([]string{"ACAD"}, names...)
	}
	if stroked {
		names = append(names, letteringApplication)
	}
	e.table("APPID", len(names))
	for _, name := range names {
		e.entry("APPID", "AcDbRegAppTableRecord", name)
		e.text("70", "0")
	}
	e.text("0", "ENDTAB")
}

// lettering stands for the layer of texts behind those of the roles.
const lettering = int(plot.Internal) + 1

// plainLayers are the layers of a file: those of each size, or of all when they
// are not told apart.
type plainLayers []sizeLayers

type sizeLayers struct {
	size string // what their names begin with
	used [lettering + 1]bool
}

// roles returns which layers the size has.
func (p *plainLayers) roles(size string) []bool {
	for i := range *p {
		if (*p)[i].size == size {
			return (*p)[i].used[:]
		}
	}
	*p = append(*p, sizeLayers{size: size})
	return (*p)[len(*p)-1].used[:]
}

func (p plainLayers) count() int {
	n := 0
	for _, x := range p {
		for _, is := range x.used {
			if is {
				n++
			}
		}
	}
	return n
}

// layerSize returns what the names of the piece's layers begin with.
func (p piece) layerSize(o Options) string {
	if !o.SizeLayers || p.Piece == nil {
		return ""
	}
	size := strings.ToUpper(plot.Identifier(p.Piece.Size))
	if size == "" {
		return ""
	}
	return size[:min(len(size), maxLayerSize)] + "-"
}

// facts returns all that the plain flavour keeps of the group and the
// drawing's title.
func (p piece) facts(title string) []string {
	var facts []string
	add := func(key, value string) {
		if value != "" {
			facts = append(facts, fact(key, value))
		}
	}
	add(keyTitle, title)
	add(keyGroup, p.ID)
	add(keyLabel, p.Label)
	if p.Piece != nil {
		facts = append(facts, pieceFacts(*p.Piece)...)
		add(keyStyle, p.Piece.Style)
		for _, n := range p.Piece.Notes {
			add(keyNote, n)
		}
	}
	return facts
}

func (e *encoder) table(name string, entries int) {
	e.text("0", "TABLE")
	e.text("2", name)
	if e.release == R2000 {
		e.owner = e.owned(0)
		e.text("100", "AcDbSymbolTable")
	}
	e.integer("70", entries)
}

// entry starts an entry of the table that was started last.
func (e *encoder) entry(kind, class, name string) {
	e.text("0", kind)
	if e.release == R2000 {
		e.owned(e.owner)
		e.text("100", "AcDbSymbolTableRecord")
		e.text("100", class)
	}
	e.text("2", name)
}

func (e *encoder) layer(name string, colour int, lineType string) {
	e.entry("LAYER", "AcDbLayerTableRecord", name)
	e.text("70", "0")
	e.integer("62", colour)
	e.text("6", lineType)
}

// extended is the extended data of a group's entities. The first of them has
// the facts; the lines of signs have a 1. Strokes say so by a second
// application, and the first stroke of a text what it says and where.
type extended struct {
	group   int
	facts   []string
	sign    bool
	stroked bool
	text    *plot.Text
}

// extended ends an entity with the extended data. A sign is drawn solid,
// whatever the line type of its layer.
func (e *encoder) extended(x *extended) {
	if x.sign && e.release == R12 {
		e.text("6", solidLine)
	}
	e.text("1001", ourApplication)
	e.integer("1071", x.group)
	if x.sign {
		e.text("1070", "1")
	}
	for _, f := range x.facts {
		e.text("1000", spell(f))
	}
	x.facts = nil
	if !x.stroked {
		return
	}
	e.text("1001", letteringApplication)
	if t := x.text; t != nil {
		e.text("1000", spell(t.String))
		e.integer("1070", int(t.Align))
		e.length("1011", t.At.X) // a place, a height and an angle
		e.length("1021", t.At.Y)
		e.text("1031", "0.0")
		e.length("1041", t.Height)
		e.number("1040", degrees(t.Angle), angleDecimals)
	}
	x.text = nil
}

// drawn starts an entity of the plain flavour.
func (e *encoder) drawn(kind, layer, class string, x *extended) {
	e.entity(kind, layer)
	if x.sign && e.release == R2000 {
		e.text("6", solidLine)
	}
	e.subclass(class)
}

// line writes a point, a LINE or a POLYLINE with bulges, or with chords when
// there is a chord error.
func (e *encoder) line(layer string, p path.Path, x *extended, o Options) {
	if o.ChordError > 0 {
		p = chords(p, o.ChordError)
	}
	switch {
	case len(p.V) == 1:
		e.drawn("POINT", layer, "AcDbPoint", x)
		e.point(p.V[0].Point)
		e.level("30")
		e.extended(x)
		return
	case len(p.V) == 2 && !p.Closed && p.V[0].Bulge == 0:
		e.drawn("LINE", layer, "AcDbLine", x)
		e.point(p.V[0].Point)
		e.level("30")
		e.secondPoint(p.V[1].Point)
		e.level("31")
		e.extended(x)
		return
	}
	before := ""
	if e.release == R2000 {
		e.drawn("LWPOLYLINE", layer, "AcDbPolyline", x)
		e.integer("90", len(p.V))
		e.closed(p.Closed)
	} else {
		e.polyline(layer, p.Closed)
		e.extended(x)
		before = "0\r\nVERTEX\r\n8\r\n" + layer + "\r\n"
	}
	for _, v := range p.V {
		e.buf = append(e.buf, before...)
		e.point(v.Point)
		if v.Bulge != 0 {
			e.number("42", v.Bulge, bulgeDecimals)
		}
	}
	if e.release == R2000 {
		e.extended(x)
	} else {
		e.entity("SEQEND", layer)
	}
}

// polyline starts a POLYLINE.
func (e *encoder) polyline(layer string, closed bool) {
	e.entity("POLYLINE", layer)
	e.text("66", "1")
	e.buf = append(e.buf, "10\r\n0.0\r\n20\r\n0.0\r\n30\r\n0.0\r\n"...)
	e.closed(closed)
}

func (e *encoder) closed(is bool) {
	if is {
		e.text("70", "1")
	} else {
		e.text("70", "0")
	}
}
