package style

import (
	"cmp"
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// Words that the file uses and the program asks for.
const (
	StartEnd  = "start"
	FinishEnd = "finish"
	FoldEdge  = "fold"
	SeamEdge  = "seam"
	Opening   = "opening"
	Lowest    = "lowest"
	AllRound  = "all round"
	HoldWidth = "width"
	HoldCount = "count"

	MirroredEnds = "mirrored"
	SquaredEnds  = "squared"
	SteppedEnds  = "stepped"

	FavourOnFacing = "facing"
	FavourOnBoth   = "both"

	TellTruing    = "tell"
	CorrectTruing = "correct"

	LightCloth  = "light"
	MediumCloth = "medium"
	HeavyCloth  = "heavy"

	Shaped   = "shaped"
	OnePiece = "one piece"
	Band     = "band"
	GrownOn  = "grown on"
	Pieced   = "pieced"

	TurnedEdge = "turned"
	BoundEdge  = "bound"
)

// defaults returns a style with everything that a file may leave out.
func defaults() *Style {
	return &Style{
		Units:     Millimetre,
		Motif:     Motif{Shape: "scallop", Width: 60, Depth: 24, Lay: "rigid", Rest: "peaks", Hold: HoldWidth},
		Allowance: Allowance{Hem: 6, Side: 15, Top: 15, Inner: 6, Ends: MirroredEnds},
		Facing:    Facing{Depth: 50, Favour: 1, FavourOn: FavourOnFacing, Truing: TellTruing, ClipGap: 1.5, MarkEvery: 150, Kind: Shaped, PiecesAt: "valleys", InnerEdge: TurnedEdge},
		Cloth:     Cloth{Width: 1400},
		Turning:   Turning{Clips: "slit", Notches: "none", On: "both", Fullness: 1, Opening: 4},
		Output: Output{
			Formats: []string{"png", "hpgl", "dxf", "astm"},
			Paper:   []Paper{{Name: "a4"}},
			Picture: 1600,
			Plotter: Plotter{Kind: "pen plotter", Cutting: Cutting{Notches: "slit", Swivel: 15}},
			DXF:     DXF{Release: "r12", Lettering: "text"},
			ASTM:    ASTM{Units: "metric"},
		},
	}
}

func (p *Panel) preset() {
	p.Start.Motif, p.Finish.Motif, p.Corners.Motif = "any", "any", "any"
	p.Allowance = PanelAllowance{Side: unset, Start: unset, Finish: unset, Top: unset}
}

func (p *Piece) preset() { p.Hem = []string{Lowest} }

func (i *Includes) preset() {
	*i = Includes{Hem: unset, Side: unset, Start: unset, Finish: unset, Top: unset}
}

func (c *Circle) preset() { c.Panels = 1 }

func (c *Curve) preset() { c.Height = unset }

// check fills in what the file leaves out and checks what can be without
// geometry.
func (r *reader) check(s *Style) {
	if s.Name == "" {
		base := path.Base(strings.ReplaceAll(r.file, `\`, "/"))
		s.Name = strings.TrimSuffix(base, path.Ext(base))
	}
	m := s.Motif
	r.checkMotif(m, "/motif")
	in := func(l Length) string { return fmt.Sprintf("%s %s", s.Units.Short(float64(l)), s.Units) }
	switch {
	case m.Least > 0 && m.Most > 0 && m.Least > m.Most:
		r.fail(r.places["/motif/least"], "", "the least width of %s is above the most, %s", in(m.Least), in(m.Most))
	case m.Least > 0 && m.Width < m.Least:
		r.fail(r.places["/motif/least"], "", "the least width of %s is above the wanted width, %s", in(m.Least), in(m.Width))
	case m.Most > 0 && m.Width > m.Most:
		r.fail(r.places["/motif/most"], "", "the most width of %s is below the wanted width, %s", in(m.Most), in(m.Width))
	}
	for i, f := range s.Output.Formats {
		if slices.Index(s.Output.Formats, f) < i {
			r.fail(r.places[fmt.Sprintf("/output/formats/%d", i)], "", "the format %q is listed twice", f)
		}
	}
	for i, f := range s.Output.Paper {
		if slices.IndexFunc(s.Output.Paper, f.same) < i {
			r.fail(r.places[fmt.Sprintf("/output/paper/%d", i)], "", "the paper %q is listed twice", f.Name)
		}
	}
	r.checkMeasured(s.Output.Measured, s.Units)
	r.checkCloth(s)
	r.checkPattern(s.Pattern)
	r.checkFacing(s)
	if r.readSizes(s); len(r.errs) > 0 {
		return
	}
	for i := range s.Sizes {
		for j := range s.Sizes[i].Panels {
			r.checkPanel(&s.Sizes[i].Panels[j], s)
		}
	}
	usual := defaults().Allowance
	fill(&s.Allowance.Side, usual.Side)
	fill(&s.Allowance.Top, usual.Top)
	s.Panels = s.Sizes[0].Panels
	r.checkSeams(s)
	if at, given := r.places["/facing/open at"]; given {
		var names []string
		for _, p := range s.Panels {
			names = append(names, p.Name)
		}
		r.checkSide(at, s.Facing.OpenAt, s, names)
	}
}

// Thickest is the thickest cloth, thicker than any felt that is worn.
const Thickest Length = 20

// checkCloth checks that the cloth can be, and fills in what it leaves out. The
// limits of its weights are common practice; that of heavy cloth stands for a coating,
// from memory.
func (r *reader) checkCloth(s *Style) {
	c := &s.Cloth
	if c.Thickness > Thickest {
		r.fail(r.places["/cloth/thickness"], "give the thickness of one layer, such as 0.4mm",
			"the cloth is %s %s thick, and %s %s is the most", s.Units.Short(float64(c.Thickness)), s.Units, s.Units.Short(float64(Thickest)), s.Units)
	}
	most := map[string]Length{LightCloth: 0.5, MediumCloth: 1, HeavyCloth: 1.5}
	if c.Weight == "" && c.Thickness > 0 {
		switch {
		case c.Thickness < most[LightCloth]:
			c.Weight = LightCloth
		case c.Thickness <= most[MediumCloth]:
			c.Weight = MediumCloth
		default:
			c.Weight = HeavyCloth
		}
	}
	c.Weight = cmp.Or(c.Weight, MediumCloth)
	c.Thickness = cmp.Or(c.Thickness, most[c.Weight])
}

// checkFacing checks the keys of sections, and takes the allowance off an inner edge
// that is not turned.
func (r *reader) checkFacing(s *Style) {
	at, given := r.places["/allowance/hem"]
	if given && s.Allowance.Hem == 0 && (s.Facing.Depth > 0 || s.Facing.Lining) {
		r.fail(at, "6 mm is usual; for an edge that is cut and not sewn, write facing: none", "without a hem allowance nothing can be sewn to the hem")
	}
	for _, key := range []string{"section", "pieces at"} {
		if at, given := r.places["/facing/"+key]; given && s.Facing.Kind != Pieced && s.Facing.Kind != OnePiece {
			r.fail(at, `write "kind: pieced" to have sections`, "%s: the facings are not cut in sections", key)
		}
	}
	if at := r.places["/facing/interfacing"]; s.Facing.Interfacing > 0 && s.Facing.Kind == GrownOn {
		r.fail(at, "leave it out, or choose another kind of facing", "interfacing: a facing that is grown on is no piece of its own")
	}
	if s.Facing.Lining && s.Facing.Kind == GrownOn {
		r.fail(r.places["/facing/lining"], "leave it out, or choose another kind of facing", "lining: a hem with its facing grown on is not sewn to a lining")
	}
	if at, given := r.places["/facing/open at"]; given && s.Facing.Kind != OnePiece {
		r.fail(at, `write "kind: one piece" to have one`, "open at is for a facing in one piece")
	}
	if s.Facing.Kind == Pieced && s.Facing.Section == 0 {
		s.Facing.Section = usualSection
	}
	if s.Facing.InnerEdge == TurnedEdge {
		return
	}
	at, given = r.places["/allowance/inner"]
	switch {
	case !given:
		s.Allowance.Inner = 0
	case s.Facing.InnerEdge == BoundEdge && s.Allowance.Inner > 0:
		r.fail(at, "leave it out, or write inner edge: turned", "a bound inner edge has no allowance")
	}
}

// usualSection is the greatest length of a facing's section where none is said.
const usualSection Length = 400

// CalibrationSide is the length of the sides of the square in calibration files.
const CalibrationSide Length = 150

// checkMeasured checks that what the calibration square measures can be.
func (r *reader) checkMeasured(m Measured, unit Unit) {
	for _, x := range []struct {
		key   string
		sides Point
	}{{"hpgl", m.HPGL}, {"dxf", m.DXF}, {"svg", m.SVG}, {"pdf", m.PDF}} {
		if x.sides == (Point{}) {
			continue
		}
		for _, l := range [2]Length{x.sides.X, x.sides.Y} {
			if !(l >= CalibrationSide*0.9 && l <= CalibrationSide*1.1) {
				r.fail(r.places["/output/measured/"+x.key], "measure the sides of the square in the file that engrail calibrate makes, first across and then up",
					"a side of %s %s is far from the %s %s of the calibration square", unit.Short(float64(l)), unit, unit.Short(float64(CalibrationSide)), unit)
				break
			}
		}
	}
}

// checkMotif checks that a motif says what its shape needs.
func (r *reader) checkMotif(m Motif, path string) {
	r.checkOwn(m.Shape, m.Own, path)
	r.checkMark(m.Mark, path+"/mark")
	for i, u := range m.Sequence {
		at := fmt.Sprintf("%s/sequence/%d", path, i)
		if u.Shape != "" || u.Own.given() {
			r.checkOwn(u.Shape, u.Own, at)
		}
		r.checkMark(u.Mark, at+"/mark")
	}
}

// given reports whether a shape is drawn.
func (o Own) given() bool { return o.Path != "" || len(o.Points) > 0 }

// checkOwn checks that a shape of one's own is drawn, and in one way.
func (r *reader) checkOwn(shape string, o Own, path string) {
	const hint = `draw it from left to right, such as "own: {points: [[0, 0], [10, 8], [20, 0]]}"`
	switch {
	case shape == "own" && !o.given():
		r.fail(cmp.Or(r.places[path+"/shape"], r.places[path]), hint, "the shape is own, and nothing is drawn with the key own")
	case shape != "own" && o.given():
		r.fail(r.places[path+"/own"], `write "shape: own" to have it`, "a shape of your own is drawn, but the shape is %s", cmp.Or(shape, "another"))
	case o.Path != "" && len(o.Points) > 0:
		r.fail(r.places[path+"/own"], "keep one of them", "your own shape has both a path and points")
	}
}

// checkMark checks that a mark says what it is.
func (r *reader) checkMark(m Mark, path string) {
	at, given := r.places[path]
	switch {
	case !given:
	case m.Kind == "":
		r.fail(at, `such as "mark: {kind: eyelet, size: 6mm}"`, "mark needs the key %q", "kind")
	case m.Size == 0:
		r.fail(at, `such as "mark: {kind: eyelet, size: 6mm}"`, "mark needs the key %q", "size")
	}
}

// SizeInName stands in the name of a pattern file for the size.
const SizeInName = "{size}"

// checkPattern checks what the style says of its pattern's sizes.
func (r *reader) checkPattern(p Pattern) {
	inFile := strings.Contains(p.File, SizeInName)
	switch {
	case strings.Count(p.File, SizeInName) > 1:
		r.fail(cmp.Or(r.places["/pattern/file"], r.places["/pattern"]), "write it once", "the file's name has %s in it twice", SizeInName)
	case inFile && p.Sizes != "":
		r.fail(r.places["/pattern/sizes"], "leave out one of them", "the file's name says already that there is a file for each size")
	case inFile && p.Rules != "":
		r.fail(r.places["/pattern/rules"], "leave out one of them", "grade rules are for a file in one size, but the file's name says that there is one for each")
	case p.Rules != "" && !strings.EqualFold(path.Ext(p.File), ".dxf"):
		r.fail(r.places["/pattern/rules"], "name the DXF file that they belong to with the key file", "grade rules are for pattern data in a DXF file, and the pattern is %q", p.File)
	case p.Rules != "" && p.Sizes != "" && p.Sizes != "pieces":
		r.fail(r.places["/pattern/sizes"], "leave it out", "with grade rules it is the pieces that say their size")
	case len(p.Names) > 0 && p.Sizes == "" && p.Rules == "" && !inFile:
		r.fail(r.places["/pattern/names"], `say how the file tells its sizes apart, such as "sizes: layers"`, "names are for a pattern with sizes")
	}
	lines := map[string]int{}
	for i, name := range p.Names {
		at := r.places[fmt.Sprintf("/pattern/names/%d", i)]
		if why := badName(name); why != "" {
			r.fail(at, namesHint, "the size's name %q %s", name, why)
		}
		low := strings.ToLower(name)
		if _, twice := lines[low]; twice {
			r.fail(at, "", "two sizes are called %q", name)
		}
		lines[low] = at.line
	}
}

// Sized reports whether the style lists sizes.
func (s *Style) Sized() bool { return s.Sizes[0].Name != "" }

// WithSizes returns the style in those sizes, all with the panels that it has
// before any of its own sizes. It is for a style that has none.
func (s *Style) WithSizes(names []string) *Style {
	sized := *s
	sized.Sizes = nil
	for _, name := range names {
		size := Size{Name: name}
		for _, p := range s.Panels {
			size.Panels = append(size.Panels, p.clone())
		}
		sized.Sizes = append(sized.Sizes, size)
	}
	sized.Panels = sized.Sizes[0].Panels
	return &sized
}

// sizesHint says how sizes are written.
const sizesHint = `write the measures that differ under each, such as "sizes: {S: {front: {width: 780}}, M: }"`

// readSizes reads the key sizes, each size being the panels as listed with
// other measures. A style without it has one size without a name.
func (r *reader) readSizes(s *Style) {
	if r.sizes == nil {
		s.Sizes = []Size{{Panels: s.Panels}}
		return
	}
	n := r.resolve(r.sizes)
	if n == nil {
		return
	}
	if list, ok := n.(*ast.SequenceNode); ok && s.Pattern.File != "" {
		n = r.keysOnly(list)
	}
	list, ok := r.named(n, "sizes", "size", sizesHint, placeOf(n), 100)
	if ok && len(list) == 0 {
		r.fail(placeOf(n), "leave the key out for a single size", "sizes lists no size")
	}
	var names []string
	for _, p := range s.Panels {
		names = append(names, p.Name)
	}
	for _, e := range list {
		size := Size{Name: e.key}
		for _, p := range s.Panels {
			size.Panels = append(size.Panels, p.clone())
		}
		s.Sizes = append(s.Sizes, size)
		value := r.resolve(e.value)
		if value == nil {
			continue
		}
		panels, ok := r.entries(value)
		if !ok {
			r.fail(placeOf(value), sizesHint, "size %s needs the names of panels under it", e.key)
		}
		for _, pe := range panels {
			at := slices.Index(names, pe.key)
			if at < 0 {
				r.unknownPanel(pe.at, pe.key, names)
				continue
			}
			measures := size.Panels[at].measures()
			if measures == nil {
				continue // checkPanel says so
			}
			if v := r.resolve(pe.value); v != nil {
				r.mapping(v, reflect.ValueOf(measures).Elem(), "panel "+pe.key, "/sizes/"+e.key+"/"+pe.key)
			}
		}
	}
}

// keysOnly turns a list of names into a mapping of them to nothing.
func (r *reader) keysOnly(list *ast.SequenceNode) ast.Node {
	m := &ast.MappingNode{BaseNode: &ast.BaseNode{}, Start: list.Start, IsFlowStyle: true}
	for _, v := range list.Values {
		key, ok := v.(ast.MapKeyNode)
		if _, isText := scalar(v); !ok || !isText {
			r.fail(placeOf(v), sizesHint, "a list of sizes has their names alone")
			continue
		}
		m.Values = append(m.Values, &ast.MappingValueNode{BaseNode: &ast.BaseNode{}, Key: key, Value: ast.Null(v.GetToken())})
	}
	return m
}

func (r *reader) unknownPanel(at place, name string, names []string) {
	hint := "the panels are " + inWords(names, "and")
	if near := Nearest(name, names); near != "" {
		r.fail(at, hint, "no panel is called %q; did you mean %q?", name, near)
	} else {
		r.fail(at, hint, "no panel is called %q", name)
	}
}

// clone returns a copy whose measures can be changed.
func (p Panel) clone() Panel {
	p.Runs = slices.Clone(p.Runs)
	copyOf(&p.Piece)
	copyOf(&p.Circle)
	copyOf(&p.Gore)
	copyOf(&p.Straight)
	copyOf(&p.Curve)
	return p
}

func copyOf[T any](p **T) {
	if *p != nil {
		c := **p
		*p = &c
	}
}

// measures returns what says where the panel comes from: a pointer to the
// first such struct, or nil.
func (p Panel) measures() any {
	switch {
	case p.Piece != nil:
		return p.Piece
	case p.Circle != nil:
		return p.Circle
	case p.Gore != nil:
		return p.Gore
	case p.Straight != nil:
		return p.Straight
	case p.Curve != nil:
		return p.Curve
	}
	return nil
}

// within returns the motif of a run, with what it leaves out from the style's.
func (m Motif) within(run Motif) Motif {
	run.Shape = cmp.Or(run.Shape, m.Shape)
	if run.Shape == "own" && m.Shape == "own" && !run.Own.given() {
		run.Own = m.Own
	}
	run.Width, run.Depth = cmp.Or(run.Width, m.Width), cmp.Or(run.Depth, m.Depth)
	run.Lay, run.Rest, run.Hold = m.Lay, m.Rest, m.Hold
	return run
}

// checkPanel fills in and checks one panel of one size.
func (r *reader) checkPanel(p *Panel, s *Style) {
	base := "/panels/" + p.Name
	at := r.places[base]
	sources := map[string]bool{
		"piece": p.Piece != nil, "circle": p.Circle != nil, "gore": p.Gore != nil,
		"straight": p.Straight != nil, "curve": p.Curve != nil,
	}
	var given []string
	for _, k := range []string{"piece", "circle", "gore", "straight", "curve"} {
		if sources[k] {
			given = append(given, k)
		}
	}
	switch len(given) {
	case 0:
		r.fail(at, "", "panel %s has no shape; give it one of piece, circle, gore, straight and curve", p.Name)
		return
	case 1:
	default:
		r.fail(r.places[base+"/"+given[1]], "", "panel %s has both %s and %s; keep one", p.Name, given[0], given[1])
		return
	}
	kind := given[0]
	at = r.places[base+"/"+kind]
	need := func(key string, given bool) {
		if !given {
			r.fail(at, "", "panel %s: %s needs the key %q", p.Name, kind, key)
		}
	}
	switch {
	case p.Piece != nil:
		r.checkPiece(p, s)
	case p.Circle != nil:
		c := p.Circle
		need("waist", c.Waist > 0)
		need("length", c.Length > 0)
		switch {
		case c.Part > 0 && c.Angle > 0:
			r.fail(at, "", "panel %s: circle has both part and angle; keep one", p.Name)
		case c.Angle > 0:
			c.Part = Part(c.Angle / 360)
		default:
			need("part", c.Part > 0)
		}
	case p.Gore != nil:
		need("waist", p.Gore.Waist > 0)
		need("hem", p.Gore.Hem > 0)
		need("length", p.Gore.Length > 0)
	case p.Straight != nil:
		need("width", p.Straight.Width > 0)
		need("depth", p.Straight.Depth > 0)
	case p.Curve != nil:
		need("points", len(p.Curve.Points) > 0)
		need("height", isSet(p.Curve.Height))
	}
	if at, given := r.places[base+"/allowance/edges"]; given && p.Piece == nil {
		r.fail(at, "give the widths with the keys side, start, finish and top", "panel %s: edges are those of a pattern's piece", p.Name)
	}
	for i, run := range p.Runs {
		path := fmt.Sprintf("%s/runs/%d", base, i)
		if run.Motif == nil {
			continue
		}
		m := s.Motif.within(*run.Motif)
		r.checkMotif(m, path+"/motif")
		for _, key := range []string{"lay", "rest", "hold", "count"} {
			if at, given := r.places[path+"/motif/"+key]; given {
				r.fail(at, "write it under the motif of the style", "%q is one for the whole garment, or is said beside the run's motif", key)
			}
		}
		p.Runs[i].Motif = &m
	}
	r.checkEnds(p)
	p.Allowance.settle(p, s.Allowance)
	if p.Quantity == 0 && p.Piece == nil {
		p.Quantity = 1
		if p.Half == SeamEdge || p.Half == Opening {
			p.Quantity = 2
		}
	}
}

func (r *reader) checkPiece(p *Panel, s *Style) {
	q := p.Piece
	base := "/panels/" + p.Name
	at := r.places[base+"/piece"]
	var ways []string
	for _, w := range []struct {
		key   string
		given bool
	}{{"name", q.Name != ""}, {"id", q.ID != ""}, {"label", q.Label != ""}, {"text", q.Text != ""}, {"order", q.Order != 0}} {
		if w.given {
			ways = append(ways, w.key)
		}
	}
	switch {
	case len(ways) == 0:
		q.Name = p.Name
	case len(ways) > 1:
		r.fail(at, "", "panel %s: the piece has both %s and %s; keep one", p.Name, ways[0], ways[1])
	}
	if q.File == "" {
		q.File = s.Pattern.File
	}
	if q.File == "" {
		r.fail(at, `name the file with the key pattern, such as "pattern: skirt.svg"`, "panel %s is a piece of a pattern, but the file names no pattern", p.Name)
	}
	if p.Half != "" {
		r.fail(r.places[base+"/half"], "say with the piece's fold which edge lies on the fold", "panel %s: half is for drafted panels", p.Name)
	}
	for _, e := range []string{StartEnd, FinishEnd} {
		if at, given := r.places[base+"/"+e+"/notches"]; given {
			r.fail(at, "draw the notches in the pattern", "panel %s: notches are for drafted panels", p.Name)
		}
	}
	if i := q.Includes; i != nil {
		fill(&i.Start, i.Side)
		fill(&i.Finish, i.Side)
		fill(&i.Side, i.Start)
		for _, w := range []struct {
			key   string
			width Length
		}{{"hem", i.Hem}, {"side", i.Start}, {"side", i.Finish}, {"top", i.Top}} {
			if !isSet(w.width) {
				r.fail(r.places[base+"/piece/includes"], "write 0 where the outline is the stitching line", "panel %s: includes needs the key %q", p.Name, w.key)
			}
		}
	}
}

// checkEnds fills in the edges of a panel's two ends.
func (r *reader) checkEnds(p *Panel) {
	base := "/panels/" + p.Name
	if p.Half != "" {
		if at, given := r.places[base+"/start/edge"]; given {
			r.fail(at, "leave one of them out", "panel %s: half says already that the start is its middle, a %s", p.Name, p.Half)
		}
		p.Start.Edge = p.Half
	}
	for _, e := range []*End{&p.Start, &p.Finish} {
		if e.Edge == "" {
			e.Edge = SeamEdge
		}
	}
	if p.Half == FoldEdge {
		if at, given := r.places[base+"/allowance/start"]; given && p.Allowance.Start > 0 {
			r.fail(at, "", "panel %s: the start is a fold, which has no allowance", p.Name)
		}
		if at, given := r.places[base+"/start/notches"]; given {
			r.fail(at, "", "panel %s: the start is a fold, which has no notches", p.Name)
		}
	}
}

// settle fills in the widths that are left out: those of the style before those
// that the drawing of a piece includes, and those before the usual ones. What only
// the usual ones say is unstated.
func (a *PanelAllowance) settle(p *Panel, style Allowance) {
	fill(&a.Start, a.Side)
	fill(&a.Finish, a.Side)
	fill(&a.Start, style.Side)
	fill(&a.Finish, style.Side)
	fill(&a.Top, style.Top)
	if p.Piece != nil && p.Piece.Includes != nil {
		fill(&a.Start, p.Piece.Includes.Start)
		fill(&a.Finish, p.Piece.Includes.Finish)
		fill(&a.Top, p.Piece.Includes.Top)
	}
	p.Unstated = Unstated{!isSet(a.Start), !isSet(a.Finish), !isSet(a.Top)}
	usual := defaults().Allowance
	fill(&a.Start, usual.Side)
	fill(&a.Finish, usual.Side)
	fill(&a.Top, usual.Top)
	fill(&a.Side, a.Start)
	if p.Half == FoldEdge {
		a.Start = 0
	}
}

// fill sets a length that is unset.
func fill(l *Length, by Length) {
	if !isSet(*l) {
		*l = by
	}
}

// checkSeams checks that seams join sides that there are, once each, and adds
// the seam in the middle of a half.
func (r *reader) checkSeams(s *Style) {
	var names []string
	for _, p := range s.Panels {
		names = append(names, p.Name)
	}
	joined := map[Side]int{}
	for i, seam := range s.Seams {
		path := fmt.Sprintf("/seams/%d", i)
		for k, side := range []Side{seam.A, seam.B} {
			at := r.places[path+[]string{"/a", "/b"}[k]]
			at = r.checkSide(at, side, s, names)
			if line, twice := joined[side]; twice && !(k == 1 && seam.A == seam.B) {
				r.fail(at, "", "the %s of %s is already joined on line %d", side.End, side.Panel, line)
			}
			joined[side] = at.line
		}
	}
	for _, p := range s.Panels {
		middle := Side{p.Name, StartEnd}
		if _, given := joined[middle]; p.Half == SeamEdge && !given {
			s.Seams = append(s.Seams, Seam{middle, middle})
		}
	}
}

// checkSide checks one side of a seam and returns its place.
func (r *reader) checkSide(at place, side Side, s *Style, names []string) place {
	i := slices.Index(names, side.Panel)
	if i < 0 {
		r.unknownPanel(at, side.Panel, names)
		return at
	}
	p := s.Panels[i]
	edge, fold := p.Start.Edge, "left"
	switch side.End {
	case StartEnd:
	case FinishEnd:
		edge, fold = p.Finish.Edge, "right"
	default:
		r.oneOf(side.End, []string{StartEnd, FinishEnd}, "the end of "+side.Panel, at)
		return at
	}
	if p.Piece != nil && p.Piece.Fold == fold {
		edge = FoldEdge
	}
	if edge != SeamEdge {
		article := "a"
		if edge == Opening {
			article = "an"
		}
		r.fail(at, "", "the %s of %s is %s %s, which is not sewn to anything", side.End, side.Panel, article, edge)
	}
	return at
}
