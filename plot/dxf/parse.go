package dxf

import (
	"bytes"

	"engrail/motif/path"
)

// file is a DXF file as it stands, before anything is made of it.
type file struct {
	units    int // $INSUNITS
	blocks   map[string]*block
	entities []entity
}

// block is a named list of entities and the point that is inserted.
type block struct {
	base     path.Point
	entities []entity
	piece    bool // has the facts of a piece of pattern data
}

// kind is a kind of entity.
type kind uint8

const (
	kindPoint kind = iota + 1
	kindLine
	kindArc
	kindCircle
	kindPolyline
	kindText
	kindInsert
)

// entity holds the values of an entity by what the group codes mean to it.
type entity struct {
	kind     kind
	closed   bool // 70 of a polyline
	paper    bool // 67: in paper space
	align    int  // 72 of a text
	flags    int  // 70
	colour   int  // 62
	line     int  // of the file
	layer    string
	at       path.Point // 10, 20
	to       path.Point // 11, 21
	z        float64    // 30
	size     float64    // 40
	angle    float64    // 50, degrees
	endAngle float64    // 51, degrees
	vertices []path.Vertex
	text     string // 1 or 2
	x        *extra
}

// extra is what few entities have.
type extra struct {
	xScale, yScale float64 // 41, 42
	columns, rows  int     // 70, 71
	group          int     // of our extended data
	facts          []string
}

// parser reads the sections of a file.
type parser struct {
	scanner
	file
	most     limits
	names    map[string]string // one copy of each name
	entries  int
	vertices int
}

// parse reads a whole file.
func parse(src []byte, most limits) (*file, error) {
	if bytes.HasPrefix(src, []byte("AutoCAD Binary DXF")) {
		return nil, fail(1, "binary DXF: save the drawing as ASCII DXF")
	}
	p := parser{scanner: scanner{src: src}, most: most, names: map[string]string{}}
	p.blocks = map[string]*block{}
	drawn := false
	for {
		if err := p.next(); err != nil {
			return nil, err
		}
		if p.is(0, "EOF") {
			break
		}
		if !p.is(0, "SECTION") {
			return nil, fail(p.line, "%.40q where a section should start", p.value)
		}
		if err := p.next(); err != nil {
			return nil, err
		}
		if p.code != 2 {
			return nil, fail(p.line, "a section without its name")
		}
		var err error
		switch string(p.value) {
		case "HEADER":
			err = p.header()
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

func (p *parser) skipSection() error {
	for {
		if err := p.next(); err != nil {
			return err
		}
		if p.is(0, "ENDSEC") {
			return nil
		}
	}
}

func (p *parser) header() error {
	variable := ""
	for {
		if err := p.next(); err != nil {
			return err
		}
		switch {
		case p.is(0, "ENDSEC"):
			return nil
		case p.code == 0:
			return fail(p.line, "%.40q in the header", p.value)
		case p.code == 9:
			variable = string(bytes.TrimSpace(p.value))
		case variable == "$INSUNITS" && p.code == 70:
			var err error
			if p.units, err = p.integer(); err != nil {
				return err
			}
		}
	}
}

func (p *parser) readBlocks() error {
	if err := p.next(); err != nil {
		return err
	}
	for !p.is(0, "ENDSEC") {
		if !p.is(0, "BLOCK") {
			return fail(p.line, "%.40q where a block should start", p.value)
		}
		head, err := p.readEntity(0)
		if err != nil {
			return err
		}
		if head.text == "" {
			return fail(head.line, "a block without a name")
		}
		if p.blocks[head.text] != nil {
			return fail(head.line, "block %q is there twice", head.text)
		}
		b := &block{base: head.at}
		if b.entities, err = p.readEntities("ENDBLK"); err != nil {
			return err
		}
		for i := range b.entities {
			if key, _, ok := b.entities[i].fact(); ok && key == keyPiece {
				b.piece = true
			}
		}
		p.blocks[head.text] = b
		// What ENDBLK says of itself.
		if _, err := p.readEntity(0); err != nil {
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
		k, ok := kindOf(p.value)
		if p.code != 0 || !ok {
			return nil, fail(p.line, "%.40q is not read: turn it into lines, arcs and polylines first", p.value)
		}
		if p.entries++; p.entries > p.most.entities {
			return nil, fail(p.line, "more than %d entities: divide the drawing", p.most.entities)
		}
		e, err := p.readEntity(k)
		if err != nil {
			return nil, err
		}
		if k == kindPolyline {
			if err := p.readVertices(&e); err != nil {
				return nil, err
			}
		}
		list = append(list, e)
	}
	return list, nil
}

func kindOf(name []byte) (kind, bool) {
	switch string(name) {
	case "POINT":
		return kindPoint, true
	case "LINE":
		return kindLine, true
	case "ARC":
		return kindArc, true
	case "CIRCLE":
		return kindCircle, true
	case "POLYLINE":
		return kindPolyline, true
	case "TEXT":
		return kindText, true
	case "INSERT":
		return kindInsert, true
	}
	return 0, false
}

// readVertices reads what follows a POLYLINE: VERTEX, VERTEX ... SEQEND.
func (p *parser) readVertices(e *entity) error {
	const closed, splineFit, solid = 1, 4, 16 | 64
	if e.flags&solid != 0 {
		return fail(e.line, "a mesh is not read: draw its outline")
	}
	e.closed = e.flags&closed != 0
	for p.is(0, "VERTEX") {
		if p.vertices++; p.vertices > p.most.vertices {
			return fail(p.line, "more than %d vertices: divide the drawing", p.most.vertices)
		}
		v, frame, err := p.readVertex()
		if err != nil {
			return err
		}
		if !frame || e.flags&splineFit == 0 {
			e.vertices = append(e.vertices, v)
		}
	}
	if !p.is(0, "SEQEND") {
		return fail(p.line, "%.40q within a polyline that began in line %d", p.value, e.line)
	}
	if len(e.vertices) == 0 {
		return fail(e.line, "a polyline without vertices")
	}
	if !e.closed {
		e.vertices[len(e.vertices)-1].Bulge = 0
	}
	_, err := p.readEntity(0)
	return err
}

// readVertex reads a VERTEX and reports whether it is only of the frame of a
// spline.
func (p *parser) readVertex() (v path.Vertex, frame bool, err error) {
	for {
		if err := p.next(); err != nil {
			return v, frame, err
		}
		var to *float64
		switch p.code {
		case 0:
			return v, frame, nil
		case 10:
			to = &v.X
		case 20:
			to = &v.Y
		case 42:
			to = &v.Bulge
		case 70:
			flags, err := p.integer()
			if err != nil {
				return v, frame, err
			}
			frame = flags&16 != 0
			continue
		default:
			continue
		}
		if *to, err = p.number(); err != nil {
			return v, frame, err
		}
	}
}

// readEntity reads the values of an entity that has been started, and starts
// what comes next.
func (p *parser) readEntity(k kind) (entity, error) {
	e := entity{kind: k, line: p.line}
	application := ""
	more := func() *extra {
		if e.x == nil {
			e.x = &extra{xScale: 1, yScale: 1}
		}
		return e.x
	}
	for {
		if err := p.next(); err != nil {
			return e, err
		}
		var x *float64
		var n *int
		switch p.code {
		case 0:
			return e, nil
		case 1:
			if k == kindText {
				e.text = p.text()
			}
		case 2:
			if k != kindText {
				e.text = p.name()
			}
		case 8:
			e.layer = p.name()
		case 10:
			x = &e.at.X
		case 20:
			x = &e.at.Y
		case 30:
			x = &e.z
		case 11:
			x = &e.to.X
		case 21:
			x = &e.to.Y
		case 40:
			x = &e.size
		case 41:
			x = &more().xScale
		case 42:
			x = &more().yScale
		case 50:
			x = &e.angle
		case 51:
			x = &e.endAngle
		case 62:
			n = &e.colour
		case 67:
			space, err := p.integer()
			if err != nil {
				return e, err
			}
			e.paper = space != 0
		case 70:
			n = &e.flags
			if k == kindInsert {
				n = &more().columns
			}
		case 71:
			if k == kindInsert {
				n = &more().rows
			}
		case 72:
			n = &e.align
		case 230:
			up, err := p.number()
			if err != nil {
				return e, err
			}
			if up != 1 {
				return e, fail(p.line, "an entity seen from another side, direction %g: lay it flat", up)
			}
		case 1001:
			application = p.name()
		case 1000:
			if application == ourApplication {
				x := more()
				x.facts = append(x.facts, p.text())
			}
		case 1071:
			if application == ourApplication {
				n = &more().group
			}
		}
		var err error
		switch {
		case x != nil:
			*x, err = p.number()
		case n != nil:
			*n, err = p.integer()
		}
		if err != nil {
			return e, err
		}
	}
}

// name returns the value as a name, of which only one copy is kept.
func (p *parser) name() string {
	b := bytes.TrimSpace(p.value)
	if s, ok := p.names[string(b)]; ok {
		return s
	}
	s := string(b)
	p.names[s] = s
	return s
}
