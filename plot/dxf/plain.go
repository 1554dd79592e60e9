package dxf

import (
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// ourApplication is the name under which our extended data stands.
const ourApplication = "ENGRAIL"

// plain writes the plain flavour.
func (e *encoder) plain(d plot.Drawing, pieces []piece, o Options) {
	box := path.EmptyBox()
	used := plainLayers{}
	for _, p := range pieces {
		size := p.layerSize(o)
		for _, l := range p.Lines {
			box = box.Union(l.Path.Bounds())
			used.roles(size)[l.Role] = true
		}
		for _, t := range p.Texts {
			box = box.Include(t.At)
			used.roles(size)[lettering] = true
		}
	}
	if box.Empty() {
		box = path.Box{}
	}

	e.section("HEADER")
	e.text("9", "$ACADVER")
	e.text("1", "AC1009")
	e.text("9", "$INSUNITS")
	e.text("70", "4") // millimetres
	e.text("9", "$MEASUREMENT")
	e.text("70", "1") // metric
	e.text("9", "$EXTMIN")
	e.point(box.Min)
	e.text("9", "$EXTMAX")
	e.point(box.Max)
	e.endSection()

	e.section("TABLES")
	types := lineTypes()
	e.table("LTYPE", len(types))
	for _, t := range types {
		e.text("0", "LTYPE")
		e.text("2", t.name)
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
		}
	}
	e.text("0", "ENDTAB")
	e.table("LAYER", 1+used.count())
	e.layer("0", 7, "CONTINUOUS")
	for _, x := range used {
		for role, is := range x.used {
			switch {
			case !is:
			case role == lettering:
				e.layer(x.size+textLayer, 7, "CONTINUOUS")
			default:
				colour, lineType := plainStyle(plot.Role(role))
				e.layer(x.size+plainLayer(plot.Role(role)), colour, lineType)
			}
		}
	}
	e.text("0", "ENDTAB")
	e.table("APPID", 1)
	e.text("0", "APPID")
	e.text("2", ourApplication)
	e.text("70", "0")
	e.text("0", "ENDTAB")
	e.endSection()

	e.section("ENTITIES")
	for i, p := range pieces {
		x := extended{group: i + 1, facts: p.facts(d.Title)}
		size := p.layerSize(o)
		for _, l := range p.Lines {
			line := l.Path
			if o.ChordError > 0 {
				line = chords(line, o.ChordError)
			}
			x.sign = l.Sign
			e.line(size+plainLayer(l.Role), line, &x)
		}
		x.sign = false
		for _, t := range p.Texts {
			e.lettering(size+textLayer, t)
			e.extended(&x)
		}
	}
	e.endSection()
	e.text("0", "EOF")
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
	e.integer("70", entries)
}

func (e *encoder) layer(name string, colour int, lineType string) {
	e.text("0", "LAYER")
	e.text("2", name)
	e.text("70", "0")
	e.integer("62", colour)
	e.text("6", lineType)
}

// extended is the extended data of a group's entities. The first of them has
// the facts; the lines of signs have a 1.
type extended struct {
	group int
	facts []string
	sign  bool
}

// extended ends an entity with the extended data. A sign is drawn solid,
// whatever the line type of its layer.
func (e *encoder) extended(x *extended) {
	if x.sign {
		e.text("6", "CONTINUOUS")
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
}

// line writes a point, a LINE or a POLYLINE with bulges.
func (e *encoder) line(layer string, p path.Path, x *extended) {
	switch {
	case len(p.V) == 1:
		e.entity("POINT", layer)
		e.point(p.V[0].Point)
		e.extended(x)
		return
	case len(p.V) == 2 && !p.Closed && p.V[0].Bulge == 0:
		e.entity("LINE", layer)
		e.point(p.V[0].Point)
		e.secondPoint(p.V[1].Point)
		e.extended(x)
		return
	}
	e.polyline(layer, p.Closed)
	e.extended(x)
	vertex := "0\r\nVERTEX\r\n8\r\n" + layer + "\r\n"
	for _, v := range p.V {
		e.buf = append(e.buf, vertex...)
		e.point(v.Point)
		if v.Bulge != 0 {
			e.number("42", v.Bulge, bulgeDecimals)
		}
	}
	e.entity("SEQEND", layer)
}

// polyline starts a POLYLINE.
func (e *encoder) polyline(layer string, closed bool) {
	e.entity("POLYLINE", layer)
	e.text("66", "1")
	e.buf = append(e.buf, "10\r\n0.0\r\n20\r\n0.0\r\n30\r\n0.0\r\n"...)
	if closed {
		e.text("70", "1")
	} else {
		e.text("70", "0")
	}
}
