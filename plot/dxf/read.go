package dxf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// ReadOptions say how to read a file.
type ReadOptions struct {
	// UnitMM is the true length in mm of one unit of the file, for a file that
	// does not say it or says it wrongly. 0 believes the file.
	UnitMM float64
	// Rules are the grade rule table beside a file of pattern data that draws one
	// size, for [Read] to make the other sizes.
	Rules *Rules
}

// What said the unit of a file.
const (
	UnitGiven  = "given"       // the options
	UnitText   = "units text"  // a text, Units: METRIC or Units: ENGLISH
	UnitHeader = "file header" // $INSUNITS or $MEASUREMENT
	UnitNone   = "nothing"     // so that it is the mm
)

// Report is what there is to say of a file beside its drawing.
type Report struct {
	// UnitMM is the length in mm of one unit of the file, and UnitFrom what said
	// so: UnitGiven, UnitText, UnitHeader or UnitNone.
	UnitMM   float64
	UnitFrom string
	// Skipped counts the entities that the drawing has no place for, such as
	// HATCH, by their kinds: those of a block each time that it is inserted.
	Skipped []Skipped
	// Hidden counts the entities left out as they are on a layer that is off or
	// frozen, or invisible.
	Hidden int
	// RuleTable is the grade rule table that pattern data name, without the
	// ending of a file, and GradePoints
	// counts the points of their pieces that move by its rules.
	RuleTable   string
	GradePoints int
	// Warnings say what may not be as it was meant, each with its remedy.
	Warnings []string
}

// warn adds a warning, as long as they can be read.
func (r *Report) warn(format string, args ...any) {
	switch w := fmt.Sprintf(format, args...); {
	case slices.Contains(r.Warnings, w):
	case len(r.Warnings) < maxWarnings:
		r.Warnings = append(r.Warnings, w)
	case len(r.Warnings) == maxWarnings:
		r.Warnings = append(r.Warnings, "more of this kind: mend these first")
	}
}

// Skipped is a kind of entity and how many were not read.
type Skipped struct {
	Kind  string
	Count int
}

// Read reads an ASCII DXF file of any release, in mm.
//
// The unit is the one of the options; else, in pattern data, what its text
// Units says; else the header's $INSUNITS or, without it, $MEASUREMENT; else a
// text Units: METRIC or Units: ENGLISH; else the mm.
//
// Each piece is a group: what one INSERT of a block draws, with groups inside
// it where the block inserts others, and in our plain flavour what the extended
// data say. In pattern data a block has the label of its piece, in other files
// of its name. All other entities make a group for each layer, with the layer's
// name as its label. Layers give roles, by the names of the plain flavour or,
// in the blocks of pattern data, by the standard's numbers; other lines are
// plot.Drawn. The layer is the class of a line unless the line is of our plain
// flavour or the number says its role. A piece with a fold line is on the fold.
//
// It reads POINT, LINE, ARC, CIRCLE, ELLIPSE, POLYLINE, LWPOLYLINE, SPLINE,
// TEXT, MTEXT and ATTRIB, and INSERT with any scale, turn, mirroring and rows.
// Bulges stay arcs; ellipses, splines, and arcs in blocks that are not evenly
// scaled, become arcs within [path.FitTolerance]. Heights are left out: a line in
// space is seen from above. What is in paper space, invisible, or on a layer
// that is off or frozen is left out; of the attributes of a block the values are
// texts, or where an INSERT gives none their defaults.
//
// In pattern data a piece has the size that its text Size says, or else, of
// blocks with the same piece name, the end of the block's name, or else the
// text Sample Size. With [ReadOptions.Rules], and grade points in the file, each
// piece comes back in every size of the rules, one after the other; the package
// comment says how. A rule that is missing is an error; what only may be wrong,
// such as a table of another name, is a warning of the report.
//
// Anything wrong in the file is an error, a [*SyntaxError] with the line where
// there is one; the package comment has the limits.
func Read(r io.Reader, o ReadOptions) (plot.Drawing, error) {
	d, _, err := ReadWithReport(r, o)
	return d, err
}

// ReadWithReport is [Read] and tells of the file what the drawing does not.
func ReadWithReport(r io.Reader, o ReadOptions) (plot.Drawing, Report, error) {
	return read(r, o, limits{bytes: maxBytes, entities: maxEntities, vertices: maxVertices, arcs: maxArcs})
}

// limits bound what is read and kept.
type limits struct{ bytes, entities, vertices, arcs int }

func read(r io.Reader, o ReadOptions, most limits) (plot.Drawing, Report, error) {
	var src bytes.Buffer
	if known, ok := r.(interface{ Len() int }); ok { // of bytes in memory
		src.Grow(min(known.Len(), most.bytes) + bytes.MinRead)
	}
	for _, part := range [2]int{headBytes, most.bytes + 1 - headBytes} {
		n, err := src.ReadFrom(io.LimitReader(r, int64(part)))
		if err != nil {
			return plot.Drawing{}, Report{}, fmt.Errorf("dxf: %w", err)
		}
		if part == headBytes && n == headBytes {
			// What is no DXF at all is not read to its end.
			if err := begins(src.Bytes()); err != nil {
				return plot.Drawing{}, Report{}, err
			}
		}
	}
	if src.Len() > most.bytes {
		return plot.Drawing{}, Report{}, fmt.Errorf("dxf: the file is larger than %d bytes: divide the drawing", most.bytes)
	}
	f, err := parse(src.Bytes(), most)
	if err != nil {
		return plot.Drawing{}, Report{}, err
	}
	b := builder{
		file: f, most: most, rules: o.Rules, work: maxGradeWork,
		numbered: map[int]int{}, layered: map[*layer]int{}, skipped: map[string]int{},
	}
	if err := b.build(o); err != nil {
		return plot.Drawing{}, Report{}, err
	}
	for kind, n := range b.skipped {
		b.report.Skipped = append(b.report.Skipped, Skipped{kind, n})
	}
	slices.SortFunc(b.report.Skipped, func(x, y Skipped) int { return strings.Compare(x.Kind, y.Kind) })
	return b.drawing, b.report, nil
}

// builder makes the drawing of a file.
type builder struct {
	*file
	most     limits
	drawing  plot.Drawing
	report   Report
	skipped  map[string]int
	numbered map[int]int    // where the groups of extended data are in the drawing
	layered  map[*layer]int // and those of layers
	pattern  bool           // the file has pattern data
	style    string
	rules    *Rules
	graded   bool    // they are to be used
	ratio    float64 // of the rules' unit to the file's
	tags     []tag   // of the piece that is being inserted
	work     int     // see newPlan
	ids      map[string]bool
	entries  int
	vertices int
	arcs     int // that stand for other curves
	depth    int
}

// frame is where entities are drawn: in model space or by an INSERT.
type frame struct {
	m     path.Affine // to mm
	still bool        // m changes nothing
	even  bool        // m is a similarity
	sim   path.Similarity
	layer *layer // of the INSERT, which entities on layer 0 take
	piece bool   // of pattern data
}

func newFrame(m path.Affine) frame {
	f := frame{m: m, still: m == path.Identity()}
	f.sim, f.even = m.Similarity()
	return f
}

func (b *builder) build(o ReadOptions) error {
	for _, blk := range b.blocks {
		b.pattern = b.pattern || blk.piece
	}
	sample := ""
	for i := range b.entities {
		switch key, value, ok := b.entities[i].fact(); {
		case !ok:
		case key == keyStyle:
			b.pattern = true
		case key == keySample:
			sample = value
		case key == keyTable:
			b.report.RuleTable = tableName(value)
		}
	}
	scale, from, err := b.unit(o)
	if err != nil {
		return err
	}
	b.report.UnitMM, b.report.UnitFrom = scale, from
	b.sizeBlocks(sample)
	if err := b.startGrading(scale); err != nil {
		return err
	}
	f := newFrame(path.Affine{A: scale, D: scale})
	b.ids = map[string]bool{}
	for i := range b.entities {
		e := &b.entities[i]
		if e.paper {
			continue
		}
		if e.kind == kindInsert {
			var groups []plot.Group
			if groups, err = b.insert(e, f); err == nil {
				b.drawing.Groups = append(b.drawing.Groups, groups...)
			}
		} else {
			err = b.loose(e, f)
		}
		if err != nil {
			return err
		}
	}
	groups := b.drawing.Groups[:0]
	for _, g := range b.drawing.Groups {
		if len(g.Lines)+len(g.Texts)+len(g.Groups) > 0 || g.Piece != nil {
			groups = append(groups, g)
		}
	}
	b.drawing.Groups = groups
	b.settle(groups)
	if b.pattern {
		b.drawing.Title = b.style
	}
	b.tellOfRules(sample)
	return nil
}

// settle completes what is known of the pieces.
func (b *builder) settle(groups []plot.Group) {
	for i := range groups {
		g := &groups[i]
		b.settle(g.Groups)
		if g.Piece == nil {
			continue
		}
		for _, l := range g.Lines {
			g.Piece.OnFold = g.Piece.OnFold || l.Role == plot.Fold
		}
		if b.pattern {
			g.Piece.Style = b.style
		}
	}
}

// loose adds an entity that is not in a block.
func (b *builder) loose(e *entity, f frame) error {
	if b.pattern && e.kind == kindText && e.layer.name == layerCut {
		if key, value, _ := e.fact(); key == keyStyle {
			b.style = value
		}
		return nil
	}
	g := b.groupOf(e)
	if e.x != nil {
		for _, f := range e.x.facts {
			b.learn(g, f)
		}
	}
	return b.add(g, e, f)
}

// groupOf returns the group of an entity that is not in a block.
func (b *builder) groupOf(e *entity) *plot.Group {
	groups := &b.drawing.Groups
	if e.x != nil && e.x.group != 0 {
		i, ok := b.numbered[e.x.group]
		if !ok {
			i = len(*groups)
			b.numbered[e.x.group] = i
			*groups = append(*groups, plot.Group{})
		}
		return &(*groups)[i]
	}
	i, ok := b.layered[e.layer]
	if !ok {
		i = len(*groups)
		b.layered[e.layer] = i
		*groups = append(*groups, plot.Group{Label: e.layer.word()})
	}
	return &(*groups)[i]
}

// word returns the layer's name, nothing for the layer that has no name of
// its own.
func (l *layer) word() string {
	if l.name == "0" {
		return ""
	}
	return l.name
}

// fact returns the key and value of a TEXT of pattern data that is a fact.
func (e *entity) fact() (key, value string, ok bool) {
	if e.kind != kindText || e.layer.name != layerCut {
		return "", "", false
	}
	return splitFact(plainText(e.text))
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

// insert returns the groups that an INSERT makes: one, or one for each place
// of its rows.
func (b *builder) insert(e *entity, f frame) ([]plot.Group, error) {
	blk := b.blocks[strings.ToUpper(e.text)]
	on := e.layer
	if f.layer != nil && on.name == "0" {
		on = f.layer
	}
	switch {
	case e.unseen || e.layer.frozen:
		b.report.Hidden++
		return nil, nil
	case e.facing == tilted:
		b.skipped["INSERT (tilted)"]++
		return nil, nil
	case blk == nil:
		return nil, e.fail("block %.40q is not in the file", e.text)
	case blk.open:
		return nil, e.fail("block %.40q is inserted in itself: take it out there", e.text)
	case b.depth >= maxNesting:
		return nil, e.fail("blocks nested more than %d deep: explode block %.40q", maxNesting, e.text)
	}
	x := extra{xScale: 1, yScale: 1}
	if e.x != nil {
		x = *e.x
	}
	if x.xScale == 0 || x.yScale == 0 {
		b.skipped["INSERT (scaled to nothing)"]++
		return nil, nil
	}
	blk.open = true
	b.depth++
	defer func() {
		blk.open = false
		b.depth--
	}()
	var groups []plot.Group
	turn := path.Direction(radians(e.angle))
	for row := range max(x.rows, 1) {
		for column := range max(x.columns, 1) {
			step := path.Vec{X: float64(column) * x.columnStep, Y: float64(row) * x.rowStep}
			at := e.at.Add(turn.Mul(step.X)).Add(turn.Left().Mul(step.Y))
			u, v := turn.Mul(x.xScale), turn.Left().Mul(x.yScale)
			m := path.Affine{A: u.X, B: u.Y, C: v.X, D: v.Y, E: at.X, F: at.Y}
			base := m.ApplyVec(path.Vec(blk.base))
			m.E, m.F = m.E-base.X, m.F-base.Y
			if e.facing == below {
				m = m.Then(mirrored())
			}
			inner := newFrame(m.Then(f.m))
			inner.layer, inner.piece = on, blk.piece
			if !inner.m.Finite() || inner.m.Det() == 0 {
				return nil, e.fail("block %.40q is inserted with a scale that is too large or too small", e.text)
			}
			g, err := b.fill(e, blk, inner)
			if err != nil {
				return nil, err
			}
			if row == 0 && column == 0 {
				for i := range x.attributes {
					if err := b.add(&g, &x.attributes[i], f); err != nil {
						return nil, err
					}
				}
			}
			made := []plot.Group{g}
			if blk.piece && !f.piece {
				if made, err = b.sizes(e, g); err != nil {
					return nil, err
				}
			}
			if len(g.Lines)+len(g.Texts)+len(g.Groups) > 0 || g.Piece != nil {
				groups = append(groups, made...)
			}
		}
	}
	return groups, nil
}

// mirrored returns the map from the plane of an entity that is seen from
// below: the arbitrary axis algorithm of the DXF reference for the direction
// 0, 0, -1.
func mirrored() path.Affine { return path.Affine{A: -1, D: 1} }

// fill returns the group of a block in its frame.
func (b *builder) fill(e *entity, blk *block, f frame) (plot.Group, error) {
	g := plot.Group{}
	if err := b.count(e, 0); err != nil {
		return g, err
	}
	if !b.ids[blk.name] {
		g.ID = blk.name
		b.ids[blk.name] = true
	}
	if !strings.HasPrefix(blk.name, "*") { // that one is made up by a program
		g.Label = blk.name
	}
	if blk.piece {
		g.Piece = &plot.Piece{Size: blk.size}
	}
	for i := range blk.entities {
		in := &blk.entities[i]
		if blk.piece {
			if key, value, ok := in.fact(); ok {
				learn(g.Piece, key, value)
				continue
			}
			if number, at, ok := in.gradeRule(); ok && !in.unseen {
				if err := b.count(in, 0); err != nil {
					return g, err
				}
				b.tags = append(b.tags, tag{at: f.m.Apply(at), rule: number, m: f.m, entity: in})
				continue
			}
		}
		switch {
		case in.paper:
		case in.kind == kindInsert:
			groups, err := b.insert(in, f)
			if err != nil {
				return g, err
			}
			g.Groups = append(g.Groups, groups...)
		case in.kind == kindDefinition && e.x != nil && len(e.x.attributes) > 0:
		default:
			if err := b.add(&g, in, f); err != nil {
				return g, err
			}
		}
	}
	if blk.piece {
		g.Label = g.Piece.Name
	}
	return g, nil
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// count counts an entity that is drawn, with so many vertices.
func (b *builder) count(e *entity, vertices int) error {
	if b.entries++; b.entries > b.most.entities {
		return e.fail("more than %d entities, those of inserted blocks counted: divide the drawing", b.most.entities)
	}
	if b.vertices += vertices; b.vertices > b.most.vertices {
		return e.fail("more than %d vertices, those of inserted blocks counted: divide the drawing", b.most.vertices)
	}
	return nil
}

// add draws an entity into the group.
func (b *builder) add(g *plot.Group, e *entity, f frame) error {
	vertices := len(e.vertices) + len(e.text)/lettersPerVertex
	if e.x != nil {
		vertices += len(e.x.fitPoints)
	}
	if err := b.count(e, vertices); err != nil {
		return err
	}
	on := e.layer
	if on.name == "0" && f.layer != nil {
		on = f.layer
	}
	if e.unseen || on.off || on.frozen {
		b.report.Hidden++
		return nil
	}
	if e.kind == kindOther {
		b.skipped[e.text]++
		return nil
	}
	switch e.kind {
	case kindPoint, kindLine, kindEllipse, kindSpline, kindMText:
		// These have no plane of their own.
	default:
		switch e.facing {
		case tilted:
			b.skipped["entity that is tilted"]++
			return nil
		case below:
			layer, piece := f.layer, f.piece
			f = newFrame(mirrored().Then(f.m))
			f.layer, f.piece = layer, piece
		}
	}
	stroke := e.x != nil && e.x.stroke
	switch {
	case stroke, e.kind == kindText, e.kind == kindMText, e.kind == kindAttribute, e.kind == kindDefinition:
		from := len(g.Texts)
		switch {
		case !stroke:
			g.Texts = e.lettering(g.Texts)
		case e.x.lettering != nil && e.x.lettering.String != "":
			t := *e.x.lettering
			t.Angle = radians(t.Angle)
			g.Texts = append(g.Texts, t)
		}
		for i := from; i < len(g.Texts); i++ {
			if i > from { // a line more
				if err := b.count(e, 0); err != nil {
					return err
				}
			}
			t := &g.Texts[i]
			if !(t.Height > 0) { // left out: nobody has said how large
				t.Height = systemHeight / b.report.UnitMM
			}
			if !f.still {
				*t = moveText(*t, f.m)
			}
		}
		return nil
	}
	var l plot.Line
	drawn := true
	switch {
	case f.piece:
		l, drawn = patternLine(e, on)
	case e.x != nil && e.x.group != 0:
		l.Role, l.Sign = on.role, e.x.sign
	default:
		l = plot.Line{Role: on.role, Class: on.word()}
	}
	if !drawn {
		return nil
	}
	var err error
	if l.Path, err = b.path(e, f, l.Role); err != nil {
		return e.fail("%v", err)
	}
	if f.piece && l.Role == plot.Notch {
		l.Width = e.width * math.Sqrt(math.Abs(f.m.Det()))
		l.Notch = notchKind(on.name, l.Width)
	}
	g.Lines = append(g.Lines, l)
	return nil
}

// patternLine returns the line's role by the number of its layer. Points that
// only repeat the vertices of lines are not drawn.
func patternLine(e *entity, on *layer) (plot.Line, bool) {
	first, drawn := exchangeRole(on.name)
	if first == plot.Drawn && drawn { // a layer that is named by a word
		first = on.role
	}
	l := plot.Line{Role: colourRole(int(e.colour), on.name, first)}
	if first == plot.Drawn {
		l.Class = on.name
	}
	return l, drawn
}

// path returns the path of an entity that draws one, in mm.
func (b *builder) path(e *entity, f frame, role plot.Role) (path.Path, error) {
	var p path.Path
	switch e.kind {
	case kindPoint:
		p = path.Open(e.at)
		if f.piece && (role == plot.Notch || role == plot.Clip) && e.size != 0 {
			p = path.Open(e.at, e.at.Add(path.Direction(radians(e.angle)).Mul(e.size)))
		}
	case kindLine:
		p = path.Open(e.at, e.to)
	case kindPolyline:
		p = path.Path{V: e.vertices, Closed: e.closed}
	case kindSpline:
		return b.spline(e, f)
	default:
		return b.round(e, f)
	}
	if f.still {
		return p, nil
	}
	if f.even {
		return b.near(p.Transform(f.sim))
	}
	out := path.Path{Closed: p.Closed, V: make([]path.Vertex, 0, len(p.V))}
	for i, v := range p.V {
		if i >= p.Segments() || v.Bulge == 0 {
			out.V = append(out.V, path.Vertex{Point: f.m.Apply(v.Point)})
			continue
		}
		s := p.Segment(i)
		c := s.Centre()
		arc := path.EllipticArc{
			Centre: c, RX: s.Radius(), RY: s.Radius(), Start: s.A.Sub(c).Angle(), Sweep: s.Sweep(),
		}.Transform(f.m)
		q, err := b.fitted(arc.Fit(path.FitTolerance))
		if err != nil {
			return path.Path{}, err
		}
		if len(q.V) == 0 {
			q = path.Open(f.m.Apply(s.A))
		} else {
			q.V[0].Point = f.m.Apply(s.A)
			q.V = q.V[:len(q.V)-1]
		}
		out.V = append(out.V, q.V...)
	}
	return b.near(out)
}

// round returns the path of an ARC, a CIRCLE or an ELLIPSE.
func (b *builder) round(e *entity, f frame) (path.Path, error) {
	arc := path.EllipticArc{Centre: e.at, RX: e.size, RY: e.size, Sweep: 2 * math.Pi}
	if e.kind == kindEllipse {
		major := e.to.Sub(path.Point{})
		arc.RX, arc.Rotation = major.Len(), major.Angle()
		if arc.RY *= arc.RX; !(arc.RY > 0) {
			return path.Path{}, fmt.Errorf("an ellipse with the radii %g and %g", arc.RX, arc.RY)
		}
		if e.angle != 0 || e.endAngle != 0 {
			arc.Start, arc.Sweep = e.angle, upTo(e.endAngle-e.angle)
		}
		if e.facing == below {
			arc.Start, arc.Sweep = -arc.Start, -arc.Sweep
		}
	} else {
		if !(e.size > 0) {
			return path.Path{}, fmt.Errorf("an arc with a radius of %g", e.size)
		}
		if e.kind == kindArc {
			arc.Start, arc.Sweep = radians(e.angle), upTo(radians(e.endAngle-e.angle))
		}
	}
	full := e.kind == kindCircle || e.kind == kindEllipse && math.Abs(arc.Sweep) >= 2*math.Pi-fullTurn
	if e.kind != kindEllipse && f.even {
		p := path.Circle(arc.Centre, e.size)
		if !full {
			// In two halves, so that no arc is nearly a full turn.
			p = path.FromSegments(path.Arc(arc.Centre, e.size, arc.Start, arc.Sweep/2),
				path.Arc(arc.Centre, e.size, arc.Start+arc.Sweep/2, arc.Sweep/2))
		}
		if f.still {
			return p, nil
		}
		return b.near(p.Transform(f.sim))
	}
	if !f.still {
		arc = arc.Transform(f.m)
	}
	p, err := b.fitted(arc.Fit(path.FitTolerance))
	if err != nil || len(p.V) == 0 {
		return path.Open(arc.Centre), err
	}
	if full {
		p = p.Close(path.FitTolerance)
	}
	return b.near(p)
}

// upTo returns the angle as one above 0 and up to a full turn.
func upTo(angle float64) float64 {
	if angle = math.Mod(angle, 2*math.Pi); angle <= 0 {
		angle += 2 * math.Pi
	}
	return angle
}

// spline returns the path of a SPLINE.
func (b *builder) spline(e *entity, f frame) (path.Path, error) {
	var s *spline
	var err error
	x := e.more()
	if len(e.vertices) > 0 {
		points := make([]path.Point, len(e.vertices))
		for i, v := range e.vertices {
			points[i] = v.Point
		}
		s, err = newSpline(x.degree, x.knots, points, x.weights)
	} else {
		s, err = through(x.fitPoints, x.startTangent, x.finalTan, e.closed)
	}
	if err != nil {
		return path.Path{}, err
	}
	if !f.still {
		s = s.transform(f.m)
	}
	p, err := b.fitted(s.fit(path.FitTolerance))
	if err != nil {
		return p, err
	}
	if len(p.V) > 2 && (e.closed && p.Start().Dist(p.End()) <= path.FitTolerance || p.Start() == p.End()) {
		p = p.Close(path.FitTolerance)
	}
	return b.near(p)
}

// fitted counts the arcs that stand for another curve.
func (b *builder) fitted(p path.Path, err error) (path.Path, error) {
	if b.arcs += len(p.V); b.arcs > b.most.arcs {
		return p, fmt.Errorf("more than %d arcs for ellipses and splines, those of inserted blocks counted: divide the drawing", b.most.arcs)
	}
	return p, err
}

// near returns the path if it is not out of all bounds.
func (b *builder) near(p path.Path) (path.Path, error) {
	for _, v := range p.V {
		if !(math.Abs(v.X) <= maxNumber && math.Abs(v.Y) <= maxNumber && !math.IsNaN(v.Bulge)) {
			return p, fmt.Errorf("a point that is more than %g mm from the origin", maxNumber)
		}
	}
	return p, nil
}
