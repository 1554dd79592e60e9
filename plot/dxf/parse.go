package dxf

import (
	"bytes"
	"slices"
	"strings"

	"golang.org/x/text/encoding"

	"engrail/motif/path"
)

// file is a DXF file as it stands, before anything is made of it.
type file struct {
	units       int // $INSUNITS
	measured    bool
	measurement int               // $MEASUREMENT, if measured
	blocks      map[string]*block // by their names in capitals
	entities    []entity
}

// block is a named list of entities and the point that is inserted.
type block struct {
	name     string
	base     path.Point
	entities []entity
	piece    bool // has the facts of a piece of pattern data
	size     string
	open     bool // it is being inserted
}

// parser reads the sections of a file.
type parser struct {
	scanner
	file
	most       limits
	page       encoding.Encoding // of strings that are not UTF-8
	names      map[string]string // one copy of each name
	layers     map[string]*layer
	zero, last *layer // the layer 0, and the one that was read last
	entries    int
	vertices   int
	shape      []path.Vertex // that are being read
	slab       []path.Vertex // room for those that have been
	letters    []byte        // of the MTEXT that is being read
}

// parse reads a whole file.
func parse(src []byte, most limits) (*file, error) {
	if err := foreign(src); err != nil {
		return nil, err
	}
	p := parser{
		scanner: scanner{src: withoutMark(src)}, most: most, page: usualPage(),
		names: map[string]string{}, layers: map[string]*layer{},
	}
	p.last = &layer{name: "0"}
	p.layers["0"], p.zero = p.last, p.last
	p.blocks = map[string]*block{}
	drawn := false
	for {
		if err := p.next(); err != nil {
			return nil, err
		}
		if p.is(0, endOfFile) {
			break
		}
		if err := p.section(); err != nil {
			return nil, err
		}
		if err := p.next(); err != nil {
			return nil, err
		}
		if p.code != 2 {
			return nil, fail(p.line, "a section without its name")
		}
		var err error
		switch string(upper(p.value)) {
		case "HEADER":
			err = p.header()
		case "TABLES":
			err = p.tables()
		case "BLOCKS":
			err = p.readBlocks()
		case "ENTITIES":
			drawn = true
			err = p.next()
			if err == nil {
				p.entities, err = p.readEntities("ENDSEC")
			}
		default:
			err = p.skipSection()
		}
		if err != nil {
			return nil, err
		}
	}
	if !drawn {
		return nil, fail(p.line, "the file has no ENTITIES section: is it a drawing?")
	}
	return &p.file, nil
}

// foreign returns the error for a file of another format.
func foreign(src []byte) error {
	switch {
	case bytes.HasPrefix(src, []byte("AutoCAD Binary DXF")):
		return fail(1, "this is a binary DXF: save it as ASCII DXF")
	case len(src) > 6 && bytes.HasPrefix(src, []byte("AC1")) && number(src[2:6]) || bytes.HasPrefix(src, []byte("AC2.")):
		return fail(1, "this is a DWG: save it as ASCII DXF")
	}
	return nil
}

func withoutMark(src []byte) []byte { return bytes.TrimPrefix(src, []byte("\ufeff")) }

// begins returns the error for a file that does not begin as DXF does. It is
// not told where the head ends within the first pair.
func begins(head []byte) error {
	if err := foreign(head); err != nil {
		return err
	}
	s := scanner{src: withoutMark(head)}
	if bytes.IndexByte(s.src, '\n') < 0 {
		return fail(1, "%.40q is not a group code", clip(s.src))
	}
	err := s.next()
	if s.pos == len(s.src) || s.ends {
		return nil
	}
	if err != nil {
		return err
	}
	return s.section()
}

// section returns an error unless the pair starts a section.
func (p *pair) section() error {
	if !p.is(0, "SECTION") {
		return fail(p.line, "%.40q where a section should start", clip(p.value))
	}
	return nil
}

func number(b []byte) bool { return len(bytes.Trim(b, "0123456789")) == 0 }

// cut returns the error for a file that ends within a section.
func (p *parser) cut() error {
	if p.ends {
		return fail(p.line, "the file ends within a section: it may have been cut short")
	}
	return fail(p.line, "EOF within a section: ENDSEC is missing, and it may have been cut short")
}

func (p *parser) tooManyEntities() error {
	return fail(p.line, "more than %d entities: divide the drawing", p.most.entities)
}

func (p *parser) tooManyVertices() error {
	return fail(p.line, "more than %d vertices: divide the drawing", p.most.vertices)
}

// each calls take for every pair up to the end of the section.
func (p *parser) each(take func() error) error {
	for {
		if err := p.next(); err != nil {
			return err
		}
		switch {
		case p.is(0, "ENDSEC"):
			return nil
		case p.is(0, endOfFile):
			return p.cut()
		}
		if err := take(); err != nil {
			return err
		}
	}
}

func (p *parser) skipSection() error { return p.each(func() error { return nil }) }

// header reads which unit the file is in, and which code page.
func (p *parser) header() error {
	variable := ""
	return p.each(func() error {
		switch {
		case p.code == 0:
			return fail(p.line, "%.40q in the header", clip(p.value))
		case p.code == 9:
			variable = strings.ToUpper(string(clip(bytes.TrimSpace(p.value))))
		case p.code == 3 && variable == "$DWGCODEPAGE":
			p.page = codePage(p.value)
		case p.code == 70 && (variable == "$INSUNITS" || variable == "$MEASUREMENT"):
			n, err := p.integer()
			if err != nil {
				return err
			}
			if variable == "$INSUNITS" {
				p.units = n
			} else {
				p.measured, p.measurement = true, n
			}
		}
		return nil
	})
}

// tables reads which layers are off or frozen.
func (p *parser) tables() error {
	const frozen = 1
	of := p.zero
	reading := false
	return p.each(func() error {
		switch {
		case p.code == 0:
			reading = p.is(0, "LAYER")
			of = &layer{}
		case !reading:
		case p.code == 2:
			named := p.layer()
			named.frozen, named.off = of.frozen, of.off
			of = named
		case p.code == 70, p.code == 62:
			n, err := p.integer()
			if err != nil {
				return err
			}
			if p.code == 70 {
				of.frozen = n&frozen != 0
			} else {
				of.off = n < 0
			}
		}
		return nil
	})
}

func (p *parser) readBlocks() error {
	if err := p.next(); err != nil {
		return err
	}
	for !p.is(0, "ENDSEC") {
		if p.is(0, endOfFile) {
			return p.cut()
		}
		if !p.is(0, "BLOCK") {
			return fail(p.line, "%.40q where a block should start", clip(p.value))
		}
		head := entity{kind: kindInsert}
		if err := p.readEntity(&head); err != nil {
			return err
		}
		if head.text == "" {
			return head.fail("a block without a name")
		}
		key := strings.ToUpper(head.text)
		if p.blocks[key] != nil {
			return head.fail("block %.40q is there twice", head.text)
		}
		b := &block{name: head.text, base: head.at}
		var err error
		if b.entities, err = p.readEntities("ENDBLK"); err != nil {
			return err
		}
		for i := range b.entities {
			if key, _, ok := b.entities[i].fact(); ok && key == keyPiece {
				b.piece = true
			}
		}
		p.blocks[key] = b
		// What ENDBLK says of itself.
		if err := p.skipEntity(); err != nil {
			return err
		}
	}
	return nil
}

// readEntities reads entities, of which the first has been started, up to the
// one that ends them.
func (p *parser) readEntities(end string) ([]entity, error) {
	var list []entity
	for !p.is(0, end) {
		switch {
		case p.is(0, endOfFile):
			return nil, p.cut()
		case p.is(0, "SEQEND"): // after attributes
			if err := p.skipEntity(); err != nil {
				return nil, err
			}
			continue
		case p.is(0, "ENDSEC"), p.is(0, "SECTION"), p.is(0, "BLOCK"):
			return nil, fail(p.line, "%.40q where %s should stand", p.value, end)
		case p.is(0, "VERTEX"):
			return nil, fail(p.line, "a VERTEX without its POLYLINE")
		}
		if p.entries++; p.entries > p.most.entities {
			return nil, p.tooManyEntities()
		}
		light := string(p.value) == "LWPOLYLINE"
		if len(list) == cap(list) { // twice as many, for entities are large
			list = slices.Grow(list, max(16, len(list)))
		}
		list = append(list, entity{kind: kindOf(p.value)})
		e := &list[len(list)-1]
		if err := p.readEntity(e); err != nil {
			return nil, err
		}
		if e.kind == kindPolyline && !light {
			if err := p.readVertices(e); err != nil {
				return nil, err
			}
		}
		if p.vertices > p.most.vertices {
			return nil, p.tooManyVertices()
		}
		switch e.kind {
		case kindPolyline, kindSpline:
			e.vertices = p.keep()
			e.settle()
		case kindAttribute:
			if n := len(list) - 1; n > 0 && list[n-1].kind == kindInsert {
				x := list[n-1].more()
				x.attributes = append(x.attributes, *e)
				list = list[:n]
			}
		}
	}
	return list, nil
}

// settle makes a polyline that is no curve of the plane one that is not drawn,
// and forgets the bulge of an open one's end.
func (e *entity) settle() {
	const solid, mesh = 8, 16 | 64
	switch {
	case e.kind == kindSpline:
	case e.flags&mesh != 0:
		e.kind, e.text, e.vertices = kindOther, "POLYLINE (mesh)", nil
	case len(e.vertices) == 0:
		e.kind, e.text = kindOther, "POLYLINE (empty)"
	default:
		if e.flags&solid != 0 { // a line in space: its points are not in a plane of its own
			e.facing = above
			for i := range e.vertices {
				e.vertices[i].Bulge = 0
			}
		}
		if !e.closed {
			e.vertices[len(e.vertices)-1].Bulge = 0
		}
	}
}
