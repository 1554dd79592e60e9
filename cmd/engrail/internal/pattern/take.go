package pattern

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// Take returns the panel that the selection names, in the drawing's
// coordinates: its net outline from the hem on, with the roles and the
// allowances of its edges, its notches, grain line and inner lines. Errors are
// of the type [Error] and name the file, the piece, the place and the remedy.
func Take(d plot.Drawing, sel Selection) (fit.Panel, []fit.Warning, error) {
	if err := sel.check(); err != nil {
		return fit.Panel{}, nil, err
	}
	if err := usable(d, &sel); err != nil {
		return fit.Panel{}, nil, err
	}
	if sel.Check > 0 {
		return checked(d, sel)
	}
	s := newScene(d)
	t := taking{sel: &sel}
	t.warnScene(s)
	panel, err := t.take(s)
	return panel, t.warnings, err
}

// usable refuses drawings with more in them than a pattern has, and such as no
// reader of files gives.
func usable(d plot.Drawing, sel *Selection) error {
	var failed error
	n, vertices := 0, 0
	for _, g := range d.Groups {
		g.Walk(func(h plot.Group) {
			n += len(h.Lines)
			for _, l := range h.Lines {
				vertices += len(l.Path.V)
				b := l.Path.Bounds()
				if failed == nil && len(l.Path.V) > 0 && !(l.Path.Finite() && math.Hypot(b.Min.X, b.Min.Y)+math.Hypot(b.Max.X, b.Max.Y) < 1e9) {
					failed = sel.errorf("correct the drawing", "the line %q has a coordinate that is too large or not a number", l.ID)
				}
			}
		})
	}
	if n > mostLines {
		return sel.errorf("save the pieces alone, without pictures and lettering made of lines", "the drawing has %d lines, more than %d", n, mostLines)
	}
	if vertices > mostVertices {
		return sel.errorf("save the pieces alone, and curves as curves or with fewer points", "the lines of the drawing have %d points, more than %d", vertices, mostVertices)
	}
	return failed
}

// taking is the work on one panel.
type taking struct {
	sel      *Selection
	warnings []fit.Warning
}

func (t *taking) warnf(code, format string, args ...any) {
	t.say(fit.LevelWarning, code, fmt.Sprintf(format, args...))
}

func (t *taking) notef(code, format string, args ...any) {
	t.say(fit.LevelNote, code, fmt.Sprintf(format, args...))
}

func (t *taking) say(l fit.Level, code, message string) {
	t.warnings = append(t.warnings, fit.Warning{Code: code, Level: l, Message: message, Where: place(t.sel.File, "panel "+t.sel.Panel)})
}

func (t *taking) take(s *scene) (fit.Panel, error) {
	sel := t.sel
	none := fit.Panel{}
	c, err := s.find(sel)
	if err != nil {
		return none, err
	}
	t.warnGap(c)
	t.warnShared(c)
	if err := t.plausible(c.path.Bounds()); err != nil {
		return none, err
	}
	st, err := t.outlined(s, c)
	if err != nil {
		return none, err
	}
	if strings.EqualFold(strings.TrimSpace(sel.Hem), allRound) {
		return t.round(&st)
	}
	if err := t.cornered(&st); err != nil {
		return none, err
	}
	if err := t.hem(&st); err != nil {
		return none, err
	}
	if err := t.longer(&st); err != nil {
		return none, err
	}
	if sel.Includes != nil {
		st.edges = withoutEnds(st.edges, *sel.Includes)
	}
	if err := t.onFold(&st); err != nil {
		return none, err
	}
	return t.panel(&st)
}

// panel makes the panel of a piece whose edges are known.
func (t *taking) panel(st *study) (fit.Panel, error) {
	sel := t.sel
	none := fit.Panel{}
	p, edges, fold := st.piece, st.edges, st.fold
	var includes Widths
	if sel.Includes != nil {
		includes = *sel.Includes
	}
	n := len(edges)
	off, err := st.numbered(sel, "includes", includes)
	if err != nil {
		return none, err
	}
	on, err := st.numbered(sel, "allowance", sel.Allowance)
	if err != nil {
		return none, err
	}
	taken := off.of(edges, fold)
	drawn := slices.Clone(taken)
	for i, e := range edges {
		if e.measured {
			drawn[i] = e.width
		}
	}
	lines, err := net(sel, edges, taken)
	if err != nil {
		return none, err
	}
	panel := fit.Panel{Name: sel.Panel, Quantity: max(1, t.quantity(p))}
	name, role, given := names(edges), st.roles(sel), st.given(sel, on, drawn)
	for i, l := range lines {
		panel.Edges = append(panel.Edges, fit.Edge{Name: name[i], Role: role[i], Path: l, Allowance: given[i]})
	}
	if x := panel.Outline().SelfIntersections(); len(x) > 0 {
		return none, sel.errorf(correctIncludes, "without its allowances the outline crosses itself at %s", at(x[0].Point))
	}
	if n > 4 && len(off.own)+len(on.own) == 0 && (uneven(taken, fold) || uneven(given, fold)) {
		t.notef("many-edges", "the piece has %d edges; only those beside the hem, #%d and #%d, count as its sides, the others get the allowance of the top: %s", n, edges[1].number, edges[n-1].number, list(edges))
	}
	t.marks(&panel, p, edges, drawn)
	if st.turn != 0 {
		t.notef("turned", "the grain line lies at %.0f degrees; the panel was turned by %.0f degrees to stand on it, with the edge #%d as the hem; name the edge, such as `hem: \"#%d\"`, where that is wrong",
			degrees(panel.Grain.Chord().Angle()), degrees(st.turn), edges[0].number, edges[0].number)
		panel = turned(panel, path.Rotation(st.outline.Bounds().Centre(), st.turn))
	}
	return panel, nil
}

// numbered returns the widths with the numbers of the edges that they name. The
// key is where a style file has them.
func (st *study) numbered(sel *Selection, key string, w Widths) (numbered, error) {
	all := numbered{Widths: w, own: map[int]float64{}}
	for _, x := range w.Edges {
		i, err := st.namedEdge(sel, "edge", x.Edge, st.edges, onLine+x.Width)
		if err != nil {
			return all, err
		}
		n := st.edges[i].number
		if _, twice := all.own[n]; twice {
			return all, sel.errorf("leave out one of them", "two widths under `%s:` are for the edge #%d", key, n)
		}
		all.own[n] = x.Width
	}
	return all, nil
}

// warnGap reports the widest gap that was closed in the outline.
func (t *taking) warnGap(c chain) {
	if c.gap > quietGap {
		t.notef("gap-closed", "the outline had a gap of %.2f mm at %s, which was closed; join the ends in the drawing program", c.gap, at(c.at))
	}
}

// warnScene reports what is wrong with the drawing as a whole.
func (t *taking) warnScene(s *scene) {
	for _, w := range s.warnings {
		t.say(w.Level, w.Code, w.Message)
	}
}

// warnShared reports an outline that shares a line with another one: a line
// across one piece looks the same.
func (t *taking) warnShared(c chain) {
	if c.shared {
		t.warnf("shared-line", "the piece shares a line of its outline with another one; if that line lies inside of one piece, draw it so that it stops short of the outline")
	}
}

// turned returns the panel moved.
func turned(p fit.Panel, m path.Similarity) fit.Panel {
	for i, e := range p.Edges {
		p.Edges[i].Path = e.Path.Transform(m)
	}
	for i, n := range p.Notches {
		p.Notches[i].At = min(n.At, p.Edges[n.Edge].Path.Length()) // differs by rounding
	}
	p.Grain = path.Line(m.Apply(p.Grain.A), m.Apply(p.Grain.B))
	p.Inside = p.Inside.Transform(m)
	return p
}

func degrees(a float64) float64 { return a * 180 / math.Pi }

// uneven reports whether the allowance of a side differs from that of the top.
func uneven(widths []float64, fold int) bool {
	n := len(widths)
	return fold != 1 && widths[1] != widths[2] || fold != n-1 && widths[n-1] != widths[2]
}

// quantity returns how many to cut: as selected, else as the piece's data or a text such as
// "cut 2 in cloth" says, else 0.
func (t *taking) quantity(p piece) int {
	if t.sel.Quantity > 0 {
		return t.sel.Quantity
	}
	if p.known.Quantity > 0 {
		return p.known.Quantity
	}
	for _, n := range p.notes {
		if q, ok := cutCount(n.String); ok {
			return q
		}
	}
	return 0
}

// cutCount returns the number in a text such as "cut 2 in cloth".
func cutCount(text string) (int, bool) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	for i := range len(words) - 1 {
		if words[i] != "cut" {
			continue
		}
		if n, err := strconv.Atoi(words[i+1]); err == nil && n > 0 && n < 1000 {
			return n, true
		}
	}
	return 0, false
}

// isNotch reports whether the line is a notch in the outline.
func (m marked) isNotch(outline *path.Ruler) bool {
	if m.Role == plot.Notch {
		return true
	}
	length := m.Path.Length()
	return strings.Contains(m.words, "notch") && length < 4*notchLength || length > 0 && length < notchLength && touches(outline, m.Path)
}

// marks sorts the piece's lines into notches, the grain line and what is inside.
// The edges are as drawn, the widths what was taken off them.
func (t *taking) marks(panel *fit.Panel, p piece, edges []edge, widths []float64) {
	nets := make([]edge, len(panel.Edges))
	for i, e := range panel.Edges {
		nets[i].path = e.Path
	}
	outline := path.NewRuler(p.outline)
	grain := p.grain()
	for i, m := range p.lines {
		switch {
		case i == grain || strings.Contains(m.words, "grain"):
		case m.isNotch(outline):
			t.notch(panel, m, edges, widths)
		case alongside(m.Path, edges, onLine) != nil, alongside(m.Path, nets, onLine) != nil:
			// It names an edge, or is the outline or the stitching line once more.
		default:
			keep(&panel.Inside, m)
		}
	}
	panel.Texts = p.lettering()
	if grain >= 0 {
		panel.Grain = longest(p.lines[grain].Path)
	}
	slices.SortFunc(panel.Notches, func(a, b fit.Notch) int {
		if a.Edge != b.Edge {
			return a.Edge - b.Edge
		}
		if a.At < b.At {
			return -1
		}
		return 1
	})
}

// grain returns the number of the line that is the grain line: of those with the
// word grain the longest straight one, else the line nearest to a text with the
// word; -1 without one.
func (p piece) grain() int {
	const shortest, near = 20.0, 30.0 // mm
	best, length := -1, shortest
	for i, m := range p.lines {
		if l := longest(m.Path).Length(); strings.Contains(m.words, "grain") && l > length {
			best, length = i, l
		}
	}
	if best >= 0 {
		return best
	}
	least := near
	for _, n := range p.notes {
		if !strings.Contains(strings.ToLower(n.String), "grain") {
			continue
		}
		for i, m := range p.lines {
			s := longest(m.Path)
			if _, d := s.Nearest(n.At); s.Length() > shortest && d < least {
				best, least = i, d
			}
		}
	}
	return best
}

// longest returns the path's longest straight segment, which has no length when
// there is none.
func longest(p path.Path) path.Segment {
	var best path.Segment
	for i := range p.Segments() {
		if s := p.Segment(i); s.IsLine() && s.Length() > best.Length() {
			best = s
		}
	}
	return best
}
