package dxf

import (
	"bytes"
	"math"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// kind is a kind of entity.
type kind uint8

const (
	// kindOther is one that the drawing model has no place for. It is kept to be
	// counted where it would be drawn.
	kindOther kind = iota
	kindPoint
	kindLine
	kindArc
	kindCircle
	kindEllipse
	kindPolyline
	kindSpline
	kindText
	kindMText
	kindAttribute
	kindDefinition // of an attribute
	kindInsert
)

func kindOf(name []byte) kind {
	switch string(name) {
	case "POINT":
		return kindPoint
	case "LINE":
		return kindLine
	case "ARC":
		return kindArc
	case "CIRCLE":
		return kindCircle
	case "ELLIPSE":
		return kindEllipse
	case "POLYLINE", "LWPOLYLINE":
		return kindPolyline
	case "SPLINE":
		return kindSpline
	case "TEXT":
		return kindText
	case "MTEXT":
		return kindMText
	case "ATTRIB":
		return kindAttribute
	case "ATTDEF":
		return kindDefinition
	case "INSERT":
		return kindInsert
	}
	return kindOther
}

// layer is a layer with what its table and its name say.
type layer struct {
	name        string
	frozen, off bool
	role        plot.Role // of our layer of the name
}

// entity holds the values of an entity by what the group codes mean to it.
type entity struct {
	kind     kind
	closed   bool // 70 of a polyline or a spline
	paper    bool // 67: in paper space
	unseen   bool // 60, or 70 of an attribute
	directed bool // 11 rather than 50 says the direction of an MTEXT
	facing   side
	align    int8  // 72 of a text
	rise     int8  // 73 of a text, 74 of an attribute
	colour   int32 // 62
	flags    int32 // 70; 71 of an MTEXT
	line     int32 // of the file
	layer    *layer
	at       path.Point // 10, 20
	to       path.Point // 11, 21
	size     float64    // 40; 30 of a point
	angle    float64    // 50, degrees; 41 of an ellipse, radians
	endAngle float64    // 51, degrees; 42 of an ellipse, radians
	width    float64    // 39 of a point
	vertices []path.Vertex
	text     string // 1 or 2; the kind of one that is not drawn
	x        *extra
}

// side is the side from which an entity's own plane is seen.
type side uint8

const (
	above  side = iota
	below       // mirrored
	tilted      // from neither
)

// extra is what few entities have.
type extra struct {
	xScale, yScale         float64 // 41, 42; 44 of an MTEXT in the second
	columns, rows          int     // 70, 71
	columnStep, rowStep    float64 // 44, 45
	group                  int     // 1071 of our extended data
	sign                   bool    // 1070 of our extended data
	facts                  []string
	stroke                 bool       // it has data of our lettering
	lettering              *plot.Text // of its first stroke
	attributes             []entity
	degree                 int
	knots, weights         []float64
	fitPoints              []path.Point
	startTangent, finalTan path.Vec
}

// fail returns an error in the line of the entity.
func (e *entity) fail(format string, args ...any) error { return fail(int(e.line), format, args...) }

// more returns the entity's extra values.
func (e *entity) more() *extra {
	if e.x == nil {
		e.x = &extra{xScale: 1, yScale: 1}
	}
	return e.x
}

// letters returns the text that the entity is the first stroke of.
func (x *extra) letters() *plot.Text {
	if x.lettering == nil {
		x.lettering = &plot.Text{}
	}
	return x.lettering
}

// place returns the field of the text for a number; the angle is in degrees.
func (x *extra) place(code int) *float64 {
	t := x.letters()
	switch code {
	case 1011:
		return &t.At.X
	case 1021:
		return &t.At.Y
	case 1040:
		return &t.Angle
	}
	return &t.Height
}

// place returns the field for the number of a group code, nil when it does
// not matter to the entity.
func (e *entity) place(code int) *float64 {
	switch code {
	case 10:
		return &e.at.X
	case 20:
		return &e.at.Y
	case 11:
		e.directed = true
		return &e.to.X
	case 21:
		return &e.to.Y
	case 40:
		return &e.size
	case 50:
		e.directed = false
		return &e.angle
	}
	switch {
	case e.kind == kindInsert:
		switch code {
		case 41:
			return &e.more().xScale
		case 42:
			return &e.more().yScale
		case 44:
			return &e.more().columnStep
		case 45:
			return &e.more().rowStep
		}
	case e.kind == kindPoint && code == 30:
		return &e.size
	case e.kind == kindPoint && code == 39:
		return &e.width
	case e.kind == kindArc && code == 51, e.kind == kindEllipse && code == 42:
		return &e.endAngle
	case e.kind == kindEllipse && code == 41:
		return &e.angle
	case e.kind == kindMText && code == 44:
		return &e.more().yScale
	}
	return nil
}

// readEntity reads the values of an entity that has been started, and starts
// what comes next. BLOCK is read as an INSERT.
func (p *parser) readEntity(e *entity) error {
	e.line = int32(p.line)
	e.layer = p.zero
	if e.kind == kindOther {
		e.text = p.name()
	}
	application := ""
	embedded := false
	normal := [3]float64{0, 0, 1}
	p.shape, p.letters = p.shape[:0], p.letters[:0]
	for {
		if err := p.next(); err != nil {
			return err
		}
		code := p.code
		if code == 0 {
			break
		}
		if embedded {
			continue // what follows repeats the codes for another object
		}
		var x *float64
		var n int
		var err error
		switch code {
		case 8:
			e.layer = p.layer()
			continue
		case 60, 62, 67, 70, 71, 72, 73, 74:
			if code > 67 && e.kind == kindOther {
				continue
			}
			if n, err = p.integer(); err != nil {
				return err
			}
			e.whole(code, n)
			continue
		case 101:
			embedded = true
			continue
		case 210, 220, 230:
			x = &normal[(code-210)/10]
		case 1001:
			if application = p.name(); application == letteringApplication {
				e.more().stroke = true
			}
			continue
		case 1011, 1021, 1040, 1041:
			if application != letteringApplication {
				continue
			}
			x = e.more().place(code)
		case 1000:
			if application == letteringApplication {
				e.more().letters().String = plainText(text(p.value, p.page))
			}
			if application == ourApplication {
				if p.entries++; p.entries > p.most.entities {
					return p.tooManyEntities()
				}
				x := e.more()
				x.facts = append(x.facts, plainText(text(p.value, p.page)))
			}
			continue
		case 1070, 1071:
			if application == ourApplication || application == letteringApplication {
				if n, err = p.integer(); err != nil {
					return err
				}
				switch {
				case application == letteringApplication:
					e.more().letters().Align = plot.Align(min(max(n, 0), int(plot.Right)))
				case code == 1070:
					e.more().sign = n != 0
				default:
					e.more().group = n
				}
			}
			continue
		}
		if x == nil {
			switch e.kind {
			case kindOther:
				continue
			case kindSpline, kindPolyline:
				if p.vertices > p.most.vertices {
					return p.tooManyVertices()
				}
				x = p.curve(e, code)
			case kindText, kindMText, kindAttribute, kindDefinition, kindInsert:
				if code <= 3 {
					p.word(e)
					continue
				}
				x = e.place(code)
			default:
				x = e.place(code)
			}
		}
		if x != nil {
			if *x, err = p.number(); err != nil {
				return err
			}
		}
	}
	if e.kind == kindMText {
		if len(p.letters) > maxLetters {
			return e.fail("a text of more than %d letters: divide it", maxLetters)
		}
		e.text = text(p.letters, p.page)
	}
	switch {
	case math.Abs(normal[0])+math.Abs(normal[1]) > upright*math.Abs(normal[2]):
		e.facing = tilted
	case normal[2] < 0:
		e.facing = below
	}
	return nil
}

// whole takes a whole number.
func (e *entity) whole(code, n int) {
	switch code {
	case 60:
		e.unseen = e.unseen || n == 1
	case 62:
		e.colour = int32(n)
	case 67:
		e.paper = n != 0
	case 70:
		switch e.kind {
		case kindInsert:
			e.more().columns = n
			return
		case kindPolyline, kindSpline:
			e.closed = n&1 != 0
		case kindAttribute, kindDefinition:
			e.unseen = e.unseen || n&1 != 0
		}
		e.flags = int32(n)
	case 71:
		switch e.kind {
		case kindInsert:
			e.more().rows = n
		case kindSpline:
			e.more().degree = n
		case kindMText:
			e.flags = int32(min(max(n, 0), 9))
		}
	case 72:
		if e.kind == kindText || e.kind == kindAttribute || e.kind == kindDefinition {
			e.align = int8(min(max(n, 0), 5))
		}
	case 73, 74:
		if e.kind == kindText && code == 73 || (e.kind == kindAttribute || e.kind == kindDefinition) && code == 74 {
			e.rise = int8(min(max(n, 0), 3))
		}
	}
}

// word takes a string.
func (p *parser) word(e *entity) {
	switch {
	case p.code != 2 && e.kind == kindMText: // in parts
		p.letters = append(p.letters, p.value...)
	case p.code == 1 && e.kind != kindInsert:
		e.text = text(p.value, p.page)
	case p.code == 2 && e.kind == kindInsert:
		e.text = p.name()
	case p.code == 2 && e.kind == kindDefinition && e.text == "":
		e.text = p.name()
	}
}

// curve returns the place for a number of a spline or of a polyline's
// vertices, nil when it does not matter.
func (p *parser) curve(e *entity, code int) *float64 {
	if e.kind == kindPolyline {
		switch code {
		case 10:
			return p.grow(&p.shape)
		case 20, 42:
			if len(p.shape) == 0 {
				return nil
			}
			v := &p.shape[len(p.shape)-1]
			if code == 20 {
				return &v.Y
			}
			return &v.Bulge
		}
		return nil
	}
	x := e.more()
	switch code {
	case 10:
		return p.grow(&p.shape)
	case 20:
		if n := len(p.shape); n > 0 {
			return &p.shape[n-1].Y
		}
	case 11:
		x.fitPoints = append(x.fitPoints, path.Point{})
		p.vertices++
		return &x.fitPoints[len(x.fitPoints)-1].X
	case 21:
		if n := len(x.fitPoints); n > 0 {
			return &x.fitPoints[n-1].Y
		}
	case 12:
		return &x.startTangent.X
	case 22:
		return &x.startTangent.Y
	case 13:
		return &x.finalTan.X
	case 23:
		return &x.finalTan.Y
	case 40:
		x.knots = append(x.knots, 0)
		p.vertices++
		return &x.knots[len(x.knots)-1]
	case 41:
		x.weights = append(x.weights, 0)
		return &x.weights[len(x.weights)-1]
	}
	return nil
}

// grow adds a vertex and returns its x.
func (p *parser) grow(shape *[]path.Vertex) *float64 {
	*shape = append(*shape, path.Vertex{})
	p.vertices++
	return &(*shape)[len(*shape)-1].X
}

// keep returns a copy of the vertices that have been read.
func (p *parser) keep() []path.Vertex {
	n := len(p.shape)
	if n > len(p.slab) {
		p.slab = make([]path.Vertex, max(n, slabSize))
	}
	v := p.slab[:n:n]
	p.slab = p.slab[n:]
	copy(v, p.shape)
	return v
}

// slabSize (vertices) is how many are allocated at a time.
const slabSize = 4096

// readVertices reads what follows a POLYLINE: VERTEX, VERTEX ... SEQEND.
func (p *parser) readVertices(e *entity) error {
	const splineFit = 4
	p.shape = p.shape[:0]
	for p.is(0, "VERTEX") {
		if p.vertices++; p.vertices > p.most.vertices {
			return p.tooManyVertices()
		}
		v, frame, err := p.readVertex()
		if err != nil {
			return err
		}
		if !frame || e.flags&splineFit == 0 {
			p.shape = append(p.shape, v)
		}
	}
	if !p.is(0, "SEQEND") {
		return fail(p.line, "%.40q within a polyline that began in line %d", clip(p.value), e.line)
	}
	return p.skipEntity()
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

// skipEntity passes over the values of an entity.
func (p *parser) skipEntity() error {
	for {
		if err := p.next(); err != nil || p.code == 0 {
			return err
		}
	}
}

// name returns the value as a name, of which only one copy is kept.
func (p *parser) name() string {
	b := bytes.TrimSpace(p.value)
	if s, ok := p.names[string(b)]; ok {
		return s
	}
	s := text(b, p.page)
	p.names[string(b)] = s
	return s
}

// layer returns the layer that the value names, in whatever case.
func (p *parser) layer() *layer {
	if string(p.value) == p.last.name {
		return p.last
	}
	name := p.name()
	l, ok := p.layers[name]
	if !ok {
		key := strings.ToUpper(name)
		if l, ok = p.layers[key]; !ok {
			l = &layer{name: name}
			role := name[strings.LastIndexByte(name, '-')+1:] // a size can stand before it
			for r := range plot.Internal + 1 {
				if strings.EqualFold(role, r.String()) {
					l.role = r
				}
			}
			p.layers[key] = l
		}
		p.layers[name] = l
	}
	p.last = l
	return l
}
