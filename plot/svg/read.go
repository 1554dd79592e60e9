package svg

import (
	"io"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// Options says how to read a file.
type Options struct {
	// UnitMM is the true length in mm of one user unit of the outermost svg
	// element, for a file whose width, height and viewBox say it wrongly. 0
	// believes the file; where that does not say, a unit is a px of 1/96 inch.
	UnitMM float64
}

// Read reads a drawing. The groups directly under the outermost svg become the
// drawing's groups, in order; what lies outside of them comes first, in a group
// of its own. Groups without content are left out.
//
// A line has the id, the label (any attribute of that name, whatever drawing
// program's namespace it is in, else the title) and the classes of its element,
// the classes of the groups around it, and the class "dashed" where it is drawn
// with dashes. Its Stroke is the colour and the dashes, such as #1a1a1a/6,3;
// a colour in short hexadecimal digits is written out, others stay as they are,
// and an element without a stroke has none. A path element with several parts becomes a group with the
// element's id, and each part has its label. What a use element draws is a group
// with that element's id, without ids inside.
//
// A text is one string for each line: a tspan with a position of its own starts
// a new one. Its height is taken as 0.7 of the font's size, as in most sans
// faces. White space is made single.
//
// In a file that [Write] made, lines have the roles that they had.
//
// A mistake in the file is an [Error]; an error of r is passed on.
func Read(r io.Reader, o Options) (plot.Drawing, error) {
	d, _, err := ReadWithReport(r, o)
	return d, err
}

// ReadWithReport is [Read] and tells of the file what the drawing does not.
func ReadWithReport(r io.Reader, o Options) (plot.Drawing, Report, error) {
	root, err := parseTree(r)
	if err != nil {
		return plot.Drawing{}, Report{}, err
	}
	d := reader{ids: map[string]*element{}, elements: MaxElements, vertices: MaxVertices}
	if err := d.collect(root); err != nil {
		return plot.Drawing{}, Report{}, root.fail(err)
	}
	s, err := page(root, o)
	if err != nil {
		return plot.Drawing{}, Report{}, err
	}
	var report Report
	if o.UnitMM == 0 {
		report = otherPixels(root, s.scale.width, s.scale.height)
	}
	var top plot.Group
	if err := d.children(root, s, &top); err != nil {
		return plot.Drawing{}, Report{}, err
	}
	var drawing plot.Drawing
	for _, c := range root.children {
		if c.name == "title" {
			drawing.Title = oneLine(c.allText())
			break
		}
	}
	if len(top.Lines)+len(top.Texts) > 0 {
		drawing.Groups = append(drawing.Groups, plot.Group{ID: root.attr("id"), Lines: top.Lines, Texts: top.Texts})
	}
	drawing.Groups = append(drawing.Groups, top.Groups...)
	if root.attr("class") == ownClass {
		giveRoles(drawing.Groups)
	}
	return drawing, report, nil
}

// giveRoles gives the lines of a file that [Write] made the roles that their classes
// are.
func giveRoles(groups []plot.Group) {
	for i := range groups {
		for j := range groups[i].Lines {
			l := &groups[i].Lines[j]
			for word := range strings.FieldsSeq(l.Class) {
				if role, ok := plot.ParseRole(word); ok {
					l.Role = role
				}
			}
		}
		giveRoles(groups[i].Groups)
	}
}

// reader is the state of reading one file.
type reader struct {
	ids                map[string]*element
	rules              sheet
	elements, vertices int // that may still be drawn
}

// collect notes the ids and the style sheets.
func (r *reader) collect(root *element) error {
	var sheets strings.Builder
	var visit func(*element)
	visit = func(e *element) {
		if id := e.attr("id"); id != "" && r.ids[id] == nil {
			r.ids[id] = e
		}
		if e.name == "style" {
			sheets.WriteString(e.allText())
		}
		for _, c := range e.children {
			visit(c)
		}
	}
	visit(root)
	var err error
	r.rules, err = parseSheet(sheets.String())
	return err
}

// state is what an element inherits.
type state struct {
	m       path.Affine // its user units to mm
	scale   scale
	class   string
	anchor  plot.Align
	stroke  string // the colour, empty without a stroke
	dashes  string // their lengths with commas between, empty for a solid line
	hidden  bool
	copied  bool // drawn by a use element
	nesting int
}

// id returns the id that what the element draws may have: none inside a copy,
// as the original has it.
func (s state) id(e *element) string {
	if s.copied {
		return ""
	}
	return e.attr("id")
}

// page returns the state at the outermost svg element.
func page(root *element, o Options) (state, error) {
	s := state{scale: scale{font: 16}} // CSS: the initial font size is medium, 16 px
	b, boxed, err := parseViewBox(root)
	if err != nil {
		return s, err
	}
	size := func(name string) (float64, error) {
		text := root.attr(name)
		if text == "" || text == "auto" || strings.HasSuffix(text, "%") {
			return 0, nil
		}
		x, err := s.scale.length(text, along)
		if err == nil && !(x >= 0) {
			return 0, root.failf("has the %s %q: give a length above 0", name, clip(text))
		}
		if err != nil {
			return 0, root.failf("has a %s that %w", name, err)
		}
		return x, nil
	}
	w, err := size("width")
	if err != nil {
		return s, err
	}
	h, err := size("height")
	if err != nil {
		return s, err
	}
	if !boxed {
		b = box{w: w, h: h}
	}
	unit := mmPerPx
	switch {
	case math.IsNaN(o.UnitMM) || math.IsInf(o.UnitMM, 0) || o.UnitMM < 0:
		return s, root.failf("cannot be read with %g mm to the unit: give a length above 0", o.UnitMM)
	case o.UnitMM > 0:
		w, h, unit = b.w, b.h, o.UnitMM
	case !boxed:
	case w == 0 && h == 0:
		w, h = b.w, b.h
	case w == 0:
		w = h * b.w / b.h
	case h == 0:
		h = w * b.h / b.w
	}
	s.m = path.Identity()
	if boxed {
		s.m = b.fitted(w, h, root.attr("preserveAspectRatio"))
	}
	// To mm, and y up from the page's lower edge.
	s.m = s.m.Then(path.Affine{A: unit, D: -unit, F: h * unit})
	if !s.m.Finite() {
		return s, root.failf("has a width, height or viewBox with a number that is too large")
	}
	s.scale.width, s.scale.height = b.w, b.h
	return s, nil
}

// children draws the element's children into the group.
func (r *reader) children(e *element, s state, into *plot.Group) error {
	for _, c := range e.children {
		if c.name == "" {
			continue
		}
		drawn, err := r.draw(c, s, into)
		if err != nil {
			return err
		}
		if drawn && e.name == "switch" {
			break // a switch shows the first of its children that can be shown
		}
	}
	return nil
}

// draw draws the element into the group. It reports whether it is of a kind
// that is drawn.
func (r *reader) draw(e *element, s state, into *plot.Group) (bool, error) {
	switch e.name {
	case "g", "a", "switch", "svg", "use", "text",
		"path", "rect", "line", "polyline", "polygon", "circle", "ellipse":
	default:
		return false, nil
	}
	shown, err := r.enter(e, &s)
	if err != nil || !shown {
		return true, err
	}
	switch e.name {
	case "text":
		return true, e.fail(r.text(e, s, into))
	case "g", "a", "switch":
		return true, r.group(e, s, into)
	case "svg":
		if shown, err = viewport(e, e, &s); err != nil || !shown {
			return true, err
		}
		return true, r.group(e, s, into)
	case "use":
		return true, r.use(e, s, into)
	}
	return true, e.fail(r.shape(e, s, into))
}

// enter counts the element and takes over what it says of itself. It reports
// whether the element is displayed.
func (r *reader) enter(e *element, s *state) (bool, error) {
	if r.elements -= e.weight; r.elements < 0 {
		return false, e.failf("brings the drawing to more than %d elements", MaxElements)
	}
	if s.nesting++; s.nesting > MaxDepth {
		return false, e.failf("is drawn more than %d deep: does a use element draw itself?", MaxDepth)
	}
	if s.class = joinWords(s.class, e.attr("class")); len(s.class) > maxClass {
		return false, e.failf("has, with the groups around it, classes of more than %d letters", maxClass)
	}
	return r.inherit(e, s)
}

// inherit takes over what the element says of itself. It reports whether the
// element is displayed.
func (r *reader) inherit(e *element, s *state) (bool, error) {
	style := r.styleOf(e)
	if style.get("display") == "none" {
		return false, nil
	}
	switch style.get("visibility") {
	case "hidden", "collapse":
		s.hidden = true
	case "visible":
		s.hidden = false
	}
	switch colour := style.get("stroke"); colour {
	case "", "inherit":
	case "none", "transparent":
		s.stroke = ""
	default:
		s.stroke = colourWord(colour)
	}
	switch dashes := style.get("stroke-dasharray"); {
	case dashes == "none":
		s.dashes = ""
	case strings.ContainsAny(dashes, "123456789"):
		s.dashes = strings.Join(strings.FieldsFunc(dashes, isSeparator), ",")
	}
	switch style.get("text-anchor") {
	case "start":
		s.anchor = plot.Left
	case "middle":
		s.anchor = plot.Middle
	case "end":
		s.anchor = plot.Right
	}
	if size := style.get("font-size"); size != "" && size[0] <= '9' {
		// A percentage is of the inherited size.
		of := scale{font: s.scale.font, width: s.scale.font}
		font, err := of.length(size, along)
		if err != nil {
			return false, e.failf("has a font-size that %w", err)
		}
		s.scale.font = font
	}
	if text := style.get("transform"); text != "" {
		if style.get("transform-origin") != "" {
			return false, e.failf("has a transform-origin, which cannot be read: apply the transformation in the drawing program")
		}
		m, err := parseTransform(text)
		if err != nil {
			return false, e.fail(err)
		}
		if s.m = m.Then(s.m); !s.m.Finite() {
			return false, e.failf("has a transform with a number that is too large")
		}
	}
	return true, nil
}

// group draws the children of an element into a new group of its name.
func (r *reader) group(e *element, s state, into *plot.Group) error {
	g := plot.Group{ID: s.id(e), Label: e.label()}
	if err := r.children(e, s, &g); err != nil {
		return err
	}
	keep(g, into)
	return nil
}

// keep appends the group unless it is empty.
func keep(g plot.Group, into *plot.Group) {
	if len(g.Lines)+len(g.Texts)+len(g.Groups) > 0 {
		into.Groups = append(into.Groups, g)
	}
}

// viewport enters a nested svg, or the svg or symbol that a use element draws;
// sized is the element that says its size. It reports whether the viewport has
// one.
func viewport(e, sized *element, s *state) (bool, error) {
	var v [4]float64
	for i, name := range [4]string{"x", "y", "width", "height"} {
		text := ""
		if sized != e && i >= 2 {
			text = sized.attr(name)
		}
		if text == "" && (i >= 2 || e.name == "svg") {
			text = e.attr(name)
		}
		if (text == "" || text == "auto") && i >= 2 {
			text = "100%"
		}
		if text == "" {
			continue
		}
		var err error
		if v[i], err = s.scale.length(text, axis(i%2)); err != nil {
			return false, sized.failf("has %s that %w", name, err)
		}
	}
	b, boxed, err := parseViewBox(e)
	if err != nil {
		return false, err
	}
	m := translation(v[0], v[1])
	switch {
	case boxed && (v[2] <= 0 || v[3] <= 0):
		return false, nil
	case boxed:
		m = b.fitted(v[2], v[3], e.attr("preserveAspectRatio")).Then(m)
		s.scale.width, s.scale.height = b.w, b.h
	default:
		s.scale.width, s.scale.height = v[2], v[3]
	}
	if s.m = m.Then(s.m); !s.m.Finite() {
		return false, e.failf("has a size or viewBox with a number that is too large")
	}
	return true, nil
}

// use draws the element that a use element refers to; nothing when there is
// none, as for a clone whose original was deleted.
func (r *reader) use(e *element, s state, into *plot.Group) error {
	id, err := e.href()
	if err != nil {
		return err
	}
	target := r.ids[id]
	if target == nil {
		return nil
	}
	x, err := e.length(s, "x", along)
	if err != nil {
		return err
	}
	y, err := e.length(s, "y", down)
	if err != nil {
		return err
	}
	s.m = translation(x, y).Then(s.m)
	g := plot.Group{ID: s.id(e), Label: e.label()}
	s.copied = true
	switch target.name {
	case "symbol", "svg":
		shown, err := r.enter(target, &s)
		if err != nil || !shown {
			return err
		}
		if shown, err = viewport(target, e, &s); err != nil || !shown {
			return err
		}
		if err := r.children(target, s, &g); err != nil {
			return err
		}
	default:
		if _, err := r.draw(target, s, &g); err != nil {
			return err
		}
	}
	keep(g, into)
	return nil
}

// length returns the length that an attribute gives, 0 without it.
func (e *element) length(s state, name string, a axis) (float64, error) {
	text := e.attr(name)
	if text == "" || text == "auto" {
		return 0, nil
	}
	x, err := s.scale.length(text, a)
	if err != nil {
		return 0, e.failf("has %s that %w", name, err)
	}
	return x, nil
}

// joinWords appends the words of b that a does not have.
func joinWords(a, b string) string {
	if b == "" {
		return a
	}
	words := strings.Fields(a)
	for _, w := range strings.Fields(b) {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}
