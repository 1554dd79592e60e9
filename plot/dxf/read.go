package dxf

import (
	"fmt"
	"io"
	"math"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// Read reads a DXF file, in mm: other units that the file says are converted.
//
// Each piece is a group: in pattern data an inserted block, in our plain
// flavour what the extended data say, in other files an inserted block; all
// other entities make one more group. Layers give roles, by the names of the
// plain flavour or, in the blocks of pattern data, by the standard's numbers;
// on other layers lines are plot.Drawn with the layer as their class. A piece
// with a fold line is on the fold.
//
// It reads POINT, LINE, ARC, CIRCLE, POLYLINE with bulges, TEXT, and INSERT of a
// block that holds these, moved, turned or evenly scaled. Paper space is left
// out. Anything else is an error, a [*SyntaxError] with the line.
func Read(r io.Reader) (plot.Drawing, error) {
	return read(r, limits{bytes: maxBytes, entities: maxEntities, vertices: maxVertices})
}

// limits bound what is read and kept.
type limits struct{ bytes, entities, vertices int }

func read(r io.Reader, most limits) (plot.Drawing, error) {
	src, err := io.ReadAll(io.LimitReader(r, int64(most.bytes)+1))
	if err != nil {
		return plot.Drawing{}, fmt.Errorf("dxf: %w", err)
	}
	if len(src) > most.bytes {
		return plot.Drawing{}, fmt.Errorf("dxf: the file is larger than %d bytes: divide the drawing", most.bytes)
	}
	f, err := parse(src, most)
	if err != nil {
		return plot.Drawing{}, err
	}
	b := builder{file: f, most: most, numbered: map[int]int{}}
	if err := b.build(); err != nil {
		return plot.Drawing{}, err
	}
	return b.drawing, nil
}

// builder makes the drawing of a file.
type builder struct {
	*file
	most     limits
	drawing  plot.Drawing
	numbered map[int]int // where the groups of extended data are in the drawing
	pattern  bool        // the file has pattern data
	scale    float64
	style    string
	entries  int
	vertices int
}

func (b *builder) build() error {
	for _, blk := range b.blocks {
		b.pattern = b.pattern || blk.piece
	}
	for i := range b.entities {
		if key, _, ok := b.entities[i].fact(); ok && key == keyStyle {
			b.pattern = true
		}
	}
	var err error
	if b.scale, err = millimetres(b.units); err != nil {
		return err
	}
	for i := range b.entities {
		e := &b.entities[i]
		if e.paper {
			continue
		}
		if e.kind == kindInsert {
			err = b.insert(e)
		} else {
			err = b.loose(e)
		}
		if err != nil {
			return err
		}
	}
	groups := b.drawing.Groups
	for i := range groups {
		g := &groups[i]
		if g.Piece != nil {
			for _, l := range g.Lines {
				g.Piece.OnFold = g.Piece.OnFold || l.Role == plot.Fold
			}
			if b.pattern {
				g.Piece.Style = b.style
			}
		}
		if b.scale != 1 {
			groups[i] = g.Transform(path.Scaling(path.Point{}, b.scale))
		}
	}
	if b.pattern {
		b.drawing.Title = b.style
	}
	return nil
}

// millimetres returns the length of the unit of $INSUNITS.
func millimetres(units int) (float64, error) {
	switch units {
	case 0, 4: // not said, or mm
		return 1, nil
	case 1:
		return 25.4, nil
	case 2:
		return 304.8, nil
	case 5:
		return 10, nil
	case 6:
		return 1000, nil
	}
	return 0, fmt.Errorf("dxf: unit %d in $INSUNITS is not read: save the drawing in mm, cm or inches", units)
}

// loose adds an entity that is not in a block.
func (b *builder) loose(e *entity) error {
	if b.pattern && e.kind == kindText && e.layer == layerCut {
		return b.system(e)
	}
	number := 0
	if e.x != nil {
		number = e.x.group
	}
	i, ok := b.numbered[number]
	if !ok {
		i = len(b.drawing.Groups)
		b.numbered[number] = i
		b.drawing.Groups = append(b.drawing.Groups, plot.Group{})
	}
	g := &b.drawing.Groups[i]
	if e.x != nil {
		for _, f := range e.x.facts {
			b.learn(g, f)
		}
	}
	return b.add(g, e, b.plainLine)
}

// fact returns the key and value of a TEXT of pattern data that is a fact.
func (e *entity) fact() (key, value string, ok bool) {
	if e.kind != kindText || e.layer != layerCut {
		return "", "", false
	}
	return splitFact(e.text)
}

// system takes a text of pattern data about the style.
func (b *builder) system(e *entity) error {
	key, value, _ := e.fact()
	switch {
	case key == keyStyle:
		b.style = value
	case key == keyUnits && strings.EqualFold(value, "METRIC"):
		b.scale = 1
	case key == keyUnits && strings.EqualFold(value, "ENGLISH"):
		b.scale = 25.4
	case key == keyUnits:
		return fail(e.line, "units %.40q are neither METRIC nor ENGLISH", value)
	}
	return nil
}

// learn takes a fact of extended data.
func (b *builder) learn(g *plot.Group, f string) {
	key, value, _ := splitFact(f)
	switch key {
	case keyTitle:
		b.drawing.Title = value
	case keyGroup:
		g.ID = value
	case keyLabel:
		g.Label = value
	case keyPiece:
		g.Piece = &plot.Piece{Name: value}
	default:
		if g.Piece != nil {
			learn(g.Piece, key, value)
		}
	}
}

// insert adds a block as a group.
func (b *builder) insert(e *entity) error {
	blk := b.blocks[e.text]
	if blk == nil {
		return fail(e.line, "block %.40q is not in the file", e.text)
	}
	g := plot.Group{ID: e.text}
	line := b.plainLine
	if blk.piece {
		g.Piece = &plot.Piece{}
		line = b.patternLine
	}
	for i := range blk.entities {
		in := &blk.entities[i]
		if in.kind == kindInsert {
			return fail(in.line, "a block within a block is not read: explode it")
		}
		if blk.piece {
			if key, value, ok := in.fact(); ok {
				learn(g.Piece, key, value)
				continue
			}
		}
		if err := b.add(&g, in, line); err != nil {
			return err
		}
	}
	if blk.piece {
		g.Label = g.Piece.Name
	}
	motion, err := e.motion(blk.base)
	if err != nil {
		return err
	}
	if motion != nil {
		g = g.Transform(*motion)
	}
	b.drawing.Groups = append(b.drawing.Groups, g)
	return nil
}

// motion returns how the INSERT moves its block, nil when it does not.
func (e *entity) motion(base path.Point) (*path.Similarity, error) {
	scale := 1.0
	if x := e.x; x != nil {
		if x.columns > 1 || x.rows > 1 {
			return nil, fail(e.line, "a block inserted in rows is not read: explode it")
		}
		if x.xScale != x.yScale || !(x.xScale > 0) {
			return nil, fail(e.line, "a block scaled by %g and %g is not read: explode it", x.xScale, x.yScale)
		}
		scale = x.xScale
	}
	m := path.Translation(e.at.Sub(base))
	switch {
	case scale != 1 || e.angle != 0:
		along := path.Direction(radians(e.angle)).Mul(scale)
		m = path.Translation(path.Point{}.Sub(base)).Then(path.Frame(e.at, along))
	case e.at == base:
		return nil, nil
	}
	return &m, nil
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// add adds an entity to the group; line says which line is made of it.
func (b *builder) add(g *plot.Group, e *entity, line func(*entity) (plot.Line, bool)) error {
	if b.entries++; b.entries > b.most.entities {
		return fail(e.line, "more than %d entities, those of inserted blocks counted: divide the drawing", b.most.entities)
	}
	if b.vertices += len(e.vertices); b.vertices > b.most.vertices {
		return fail(e.line, "more than %d vertices, those of inserted blocks counted: divide the drawing", b.most.vertices)
	}
	if e.kind == kindText {
		t, err := e.lettering()
		if err != nil {
			return err
		}
		if t.String != "" {
			g.Texts = append(g.Texts, t)
		}
		return nil
	}
	l, drawn := line(e)
	if !drawn {
		return nil
	}
	if l.Path.V == nil {
		var err error
		if l.Path, err = e.path(); err != nil {
			return err
		}
	}
	g.Lines = append(g.Lines, l)
	return nil
}

// plainLine returns the line's role by the name of its layer.
func (b *builder) plainLine(e *entity) (plot.Line, bool) {
	for r := range plot.Internal + 1 {
		if e.layer == plainLayer(r) {
			return plot.Line{Role: r}, true
		}
	}
	if e.layer == "0" {
		return plot.Line{}, true
	}
	return plot.Line{Class: e.layer}, true
}

// patternLine returns the line's role by the number of its layer, and the path
// of a notch. Points that only repeat the vertices of lines are not drawn.
func (b *builder) patternLine(e *entity) (plot.Line, bool) {
	first, drawn := exchangeRole(e.layer)
	l := plot.Line{Role: colourRole(e.colour, e.layer, first)}
	if first == plot.Drawn {
		l.Class = e.layer
	}
	if first == plot.Notch && e.kind == kindPoint {
		l.Path = path.Open(e.at)
		if e.z != 0 {
			l.Path = path.Open(e.at, e.at.Add(path.Direction(radians(e.angle)).Mul(e.z)))
		}
	}
	return l, drawn
}

// lettering returns the text of a TEXT.
func (e *entity) lettering() (plot.Text, error) {
	t := plot.Text{At: e.at, Height: e.size, Angle: radians(e.angle), String: e.text}
	if !(t.Height > 0) {
		return t, fail(e.line, "a text without a height")
	}
	switch e.align {
	case 0:
	case 1, 4: // 4 is centred both ways
		t.Align, t.At = plot.Middle, e.to
	case 2:
		t.Align, t.At = plot.Right, e.to
	case 3, 5: // stretched between two points, of which the first is the left
	default:
		return t, fail(e.line, "a text aligned by %d", e.align)
	}
	return t, nil
}

// path returns the path of an entity that draws one.
func (e *entity) path() (path.Path, error) {
	switch e.kind {
	case kindPoint:
		return path.Open(e.at), nil
	case kindLine:
		return path.Open(e.at, e.to), nil
	case kindPolyline:
		return path.Path{V: e.vertices, Closed: e.closed}, nil
	}
	if !(e.size > 0) {
		return path.Path{}, fail(e.line, "an arc with a radius of %g", e.size)
	}
	if e.kind == kindCircle {
		return path.Circle(e.at, e.size), nil
	}
	start := radians(e.angle)
	sweep := math.Mod(radians(e.endAngle-e.angle), 2*math.Pi)
	if sweep <= 0 {
		sweep += 2 * math.Pi
	}
	// In two halves, so that no arc is nearly a full turn.
	return path.FromSegments(
		path.Arc(e.at, e.size, start, sweep/2), path.Arc(e.at, e.size, start+sweep/2, sweep/2)), nil
}
