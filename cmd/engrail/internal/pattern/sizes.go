package pattern

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// By says how a drawing tells its sizes apart. The words are those of the style
// file.
type By string

// The ways to tell sizes apart.
const (
	// ByNothing is for a drawing of one size.
	ByNothing By = ""
	// ByLayer is a layer or group for each size, or for each piece in each size. A
	// line can have the name of its size too.
	ByLayer By = "layers"
	// ByClass is a style class for each size.
	ByClass By = "classes"
	// ByStroke is a colour or kind of dash for each size.
	ByStroke By = "strokes"
	// ByPiece is pattern data, where each piece says its size.
	ByPiece By = "pieces"
)

// Ways returns the ways to tell sizes apart, the surest first.
func Ways() []By { return []By{ByPiece, ByLayer, ByClass, ByStroke} }

// Sized is one size of a drawing.
type Sized struct {
	Name    string
	Drawing plot.Drawing
}

// SizesError says why a drawing cannot be divided into sizes, and what would
// help.
type SizesError struct{ Problem, Hint string }

// Error returns the problem.
func (e *SizesError) Error() string { return e.Problem }

// Remedy returns what would help, with the keys of a style file.
func (e *SizesError) Remedy() string { return e.Hint }

// Sizes divides a drawing into its sizes, in their order: by number where the
// names are numbers, by letter from XXS to XXL and beyond, else from the
// smallest pieces to the largest. What belongs to no size is in every one.
//
// Only what draws outlines of pieces makes a size. Names that read as sizes,
// such as 38, "size M" or front-38, come before others; the size is then taken
// out of the ids and labels, so that front-38 is front in its size. Sizes told
// apart by colour or dash are called after the text beside a line in that look,
// such as a legend has, or else size 1, size 2 and so on.
//
// The error is a [SizesError]: the drawing has no such sizes, or one of them
// lacks a piece that another one has.
func Sizes(d plot.Drawing, by By) ([]Sized, []fit.Warning, error) {
	if by == ByNothing {
		return []Sized{{Drawing: d}}, nil, nil
	}
	s := newSizing(d)
	if len(s.lines) > mostLines {
		return nil, nil, &SizesError{
			fmt.Sprintf("the drawing has %d lines, more than %d", len(s.lines), mostLines),
			"save the pieces alone, without pictures and lettering made of lines",
		}
	}
	list := s.find(by)
	if len(list) == 0 {
		return nil, nil, s.none(by)
	}
	if err := complete(list, by); err != nil {
		return nil, nil, err
	}
	return s.divide(list), s.warnings(list), nil
}

// ProposeSizes returns how the drawing tells its sizes apart, as far as that is
// plain, and their names in order: nothing when it seems to have one size.
func ProposeSizes(d plot.Drawing) (By, []string) {
	s := newSizing(d)
	if len(s.lines) > mostLines {
		return ByNothing, nil
	}
	for _, by := range Ways() {
		list := s.find(by)
		if len(list) > 1 && (by == ByPiece || nested(list)) && (len(list) > 2 || by != ByStroke && readable(list)) {
			return by, namesOf(list)
		}
	}
	return ByNothing, nil
}

// readable reports whether all names read as sizes: a front and a back that lie
// over one another are not two sizes, and neither are a cut and a stitching line.
func readable(list []size) bool {
	return !slices.ContainsFunc(list, func(x size) bool { size, _ := sizeName(x.name); return size == "" })
}

// sizing is the work on one drawing.
type sizing struct {
	drawing plot.Drawing
	// lines are those of the drawing, groups before the groups in them.
	lines []sizedLine
	// texts are those of the drawing, in the same order.
	texts []sizedText
}

type sizedText struct {
	plot.Text
	groups []plot.Group
	home   int
}

// sizedLine is a line with the groups that it is in, the outermost first.
type sizedLine struct {
	plot.Line
	groups []plot.Group
	home   int   // the number of the innermost one, as groups are numbered
	among  []int // the numbers of all of them
}

// size is one size that was found: the lines that are its alone, and the outlines
// that they make.
type size struct {
	name   string
	lines  []int // of the sizing
	pieces []sizedPiece
	area   float64 // of all of them
	deep   int     // how many outlines lie over one another, of those of one piece
}

type sizedPiece struct {
	name    string
	outline path.Path
	edge    *path.Ruler // of the outline
	box     path.Box
	area    float64
	items   []int // of the sizing's lines
}

func newSizing(d plot.Drawing) *sizing {
	s := &sizing{drawing: d}
	n := 0
	var add func(g plot.Group, around []plot.Group, among []int)
	add = func(g plot.Group, around []plot.Group, among []int) {
		home := n
		n++
		around, among = append(slices.Clip(around), g), append(slices.Clip(among), home)
		for _, l := range g.Lines {
			s.lines = append(s.lines, sizedLine{l, around, home, among})
		}
		for _, t := range g.Texts {
			s.texts = append(s.texts, sizedText{t, around, home})
		}
		for _, in := range g.Groups {
			add(in, around, among)
		}
	}
	for _, g := range d.Groups {
		add(g, nil, nil)
	}
	return s
}

// leastSize (ratio) is the area of the largest outline of a size, over that of
// any size, that makes it one: a test square or a dart is far smaller, and no
// two sizes of a garment differ so much.
const leastSize = 0.2

// mostNames (count) bounds the work on what could be sizes, which a style has at
// most 100 of; drawing programs make a class for every manner of line.
const mostNames = 1000

// find returns the sizes in order, none when the drawing has none of the kind.
func (s *sizing) find(by By) []size {
	var list []size
	switch by {
	case ByPiece:
		list = s.tell(func(l sizedLine) []string {
			for _, g := range l.groups {
				if g.Piece != nil && g.Piece.Size != "" {
					return []string{g.Piece.Size}
				}
			}
			return nil
		})
	case ByLayer:
		list = s.tell(groupSize)
		if len(list) < 2 {
			list = s.tell(func(l sizedLine) []string {
				if size := groupSize(l); size != nil {
					return size
				}
				return sizeIn(cmp.Or(l.Label, l.ID))
			})
		}
		if len(list) < 2 {
			list = s.layers()
		}
	case ByClass:
		list = s.tell(func(l sizedLine) []string {
			var all []string
			for _, c := range strings.Fields(l.Class) {
				all = append(all, sizeIn(c)...)
			}
			return all
		})
		if len(list) < 2 {
			list = s.classes()
		}
	case ByStroke:
		list = s.strokes()
	}
	if len(list) < 2 && by != ByPiece {
		return nil
	}
	inSizeOrder(list, func(x size) string { return x.name }, func(x size) float64 { return x.area })
	if by == ByStroke {
		s.callByLegend(list)
		inSizeOrder(list, func(x size) string { return x.name }, func(x size) float64 { return x.area })
	}
	return list
}

// sizeIn returns the size that the name has in it.
func sizeIn(name string) []string {
	if size, _ := sizeName(name); size != "" {
		return []string{size}
	}
	return nil
}

// groupSize returns the size of the outermost group that names one.
func groupSize(l sizedLine) []string {
	for _, g := range l.groups {
		if size := sizeIn(nameOfGroup(g)); size != nil {
			return size
		}
	}
	return nil
}

// tell sorts the lines by the sizes that they are in and keeps the sizes that
// have pieces.
func (s *sizing) tell(in func(sizedLine) []string) []size {
	of := map[string][]int{}
	for i, l := range s.lines {
		for _, name := range in(l) {
			if list := of[name]; len(list) == 0 || list[len(list)-1] != i {
				of[name] = append(list, i)
			}
		}
	}
	if len(of) > mostNames {
		return nil
	}
	var list []size
	largest := 0.0
	for _, name := range slices.Sorted(maps.Keys(of)) {
		x := size{name: name, lines: of[name]}
		x.pieces, x.deep = s.outlines(of[name])
		for _, p := range x.pieces {
			x.area += p.area
			largest = max(largest, p.area)
		}
		list = append(list, x)
	}
	return slices.DeleteFunc(list, func(x size) bool {
		return !slices.ContainsFunc(x.pieces, func(p sizedPiece) bool { return p.area >= leastSize*largest })
	})
}

// outlines returns the pieces that some of the lines draw, and how many outlines
// lie over one another at most.
func (s *sizing) outlines(lines []int) (pieces []sizedPiece, deep int) {
	var items []int
	for _, i := range lines {
		if r := s.lines[i].Role; (r == plot.Drawn || r == plot.Cut) && len(s.lines[i].Path.V) > 0 && s.lines[i].Path.Finite() {
			items = append(items, i)
		}
	}
	has := make(map[int]bool, len(items))
	for _, i := range items {
		has[i] = true
	}
	scene := newScene(s.part(sizePart{line: func(i int) bool { return has[i] }}))
	pieces = make([]sizedPiece, len(scene.pieces))
	for k, c := range scene.pieces {
		p := sizedPiece{outline: c.path, edge: path.NewRuler(c.path), box: c.path.Bounds(), area: math.Abs(c.path.Area())}
		for _, j := range c.items {
			p.items = append(p.items, items[j])
		}
		p.name = s.nameOf(s.lines[p.items[0]])
		pieces[k] = p
		n := 0
		for _, d := range scene.closed {
			if over(p, sizedPiece{box: d.path.Bounds()}) {
				n++
			}
		}
		deep = max(deep, n)
	}
	return pieces, deep
}

// nameOf returns what a person would call the piece that the line is of, without
// its size; nothing when only programs have named it.
func (s *sizing) nameOf(l sizedLine) string {
	var names []string
	for _, g := range slices.Backward(l.groups) {
		if g.Piece != nil && g.Piece.Name != "" {
			return g.Piece.Name
		}
		names = append(names, g.Label, g.ID)
	}
	for _, n := range append([]string{l.Label, l.ID}, names...) {
		if size, rest := sizeName(n); n != "" && (size == "" || rest != "") {
			return rest
		}
	}
	return ""
}

// sizePart says what part of the drawing is wanted.
type sizePart struct {
	line, text func(i int) bool     // by their numbers; without the latter no text
	size       string               // which is taken out of names
	adopted    map[int][]plot.Group // what is added to the group of a line
}

// part returns a part of the drawing.
func (s *sizing) part(w sizePart) plot.Drawing {
	line, text := -1, -1
	var cut func(g plot.Group) (plot.Group, bool)
	cut = func(g plot.Group) (plot.Group, bool) {
		out := g
		out.ID, out.Label = without(g.ID, w.size), without(g.Label, w.size)
		out.Lines, out.Texts, out.Groups = nil, nil, nil
		for _, l := range g.Lines {
			line++
			if w.line(line) {
				l.ID, l.Label = without(l.ID, w.size), without(l.Label, w.size)
				out.Lines = append(out.Lines, l)
			}
			out.Groups = append(out.Groups, w.adopted[line]...)
		}
		for _, t := range g.Texts {
			text++
			if w.text != nil && w.text(text) {
				out.Texts = append(out.Texts, t)
			}
		}
		for _, in := range g.Groups {
			if x, some := cut(in); some {
				out.Groups = append(out.Groups, x)
			}
		}
		return out, len(out.Lines)+len(out.Texts)+len(out.Groups) > 0
	}
	d := plot.Drawing{Title: s.drawing.Title}
	for _, g := range s.drawing.Groups {
		if x, some := cut(g); some {
			d.Groups = append(d.Groups, x)
		}
	}
	return d
}

// without returns the name without the size, if it says more than the size.
func without(name, size string) string {
	if size == "" {
		return name
	}
	if has, rest := sizeName(name); has == size && rest != "" {
		return rest
	}
	return name
}

// divide returns the drawing of each size: without the lines that belong to
// other sizes alone, and without the texts of groups that do. What belongs to
// no size and lies in one piece alone moves into that piece's group, where a
// piece's marks are looked for.
func (s *sizing) divide(list []size) []Sized {
	in := make([][]string, len(s.lines)) // the sizes of each line
	for _, x := range list {
		for _, i := range x.lines {
			in[i] = append(in[i], x.name)
		}
	}
	all := make([]Sized, len(list))
	for k, x := range list {
		w := sizePart{size: x.name, adopted: map[int][]plot.Group{}}
		moved, movedTexts := map[int]bool{}, map[int]bool{}
		for i, l := range s.lines {
			if len(in[i]) > 0 || len(l.Path.V) == 0 || !l.Path.Finite() {
				continue
			}
			if p, ok := x.only(func(p sizedPiece) bool { return p.holds(l.Path) }); ok && !slices.Contains(s.lines[p.items[0]].among, l.home) {
				moved[i] = true
				w.adopted[p.items[0]] = append(w.adopted[p.items[0]], named(l.groups, plot.Group{Lines: []plot.Line{l.Line}}))
			}
		}
		for i, t := range s.texts {
			if !s.shared(t.groups, list) {
				continue
			}
			if p, ok := x.only(func(p sizedPiece) bool { return p.outline.Contains(t.At) }); ok && !slices.Contains(s.lines[p.items[0]].among, t.home) {
				movedTexts[i] = true
				w.adopted[p.items[0]] = append(w.adopted[p.items[0]], named(t.groups, plot.Group{Texts: []plot.Text{t.Text}}))
			}
		}
		w.line = func(i int) bool { return !moved[i] && (len(in[i]) == 0 || slices.Contains(in[i], x.name)) }
		w.text = func(i int) bool { return !movedTexts[i] && s.holds(s.texts[i].groups, x.name, list) }
		all[k] = Sized{x.name, s.part(w)}
	}
	return all
}

// named gives what was taken out of a group the names of that group.
func named(from []plot.Group, g plot.Group) plot.Group {
	g.ID, g.Label = from[len(from)-1].ID, from[len(from)-1].Label
	return g
}

// only returns the piece that is the only one to hold something.
func (x size) only(holds func(sizedPiece) bool) (one sizedPiece, ok bool) {
	for _, p := range x.pieces {
		if holds(p) {
			if ok {
				return p, false
			}
			one, ok = p, true
		}
	}
	return one, ok
}

// holds reports whether the line lies in the piece or on its edge.
func (p sizedPiece) holds(l path.Path) bool {
	b := l.Bounds()
	box := p.box.Grow(onLine)
	if !box.Contains(b.Min) || !box.Contains(b.Max) {
		return false
	}
	if l.Segments() == 0 {
		return p.outline.Contains(l.V[0].Point)
	}
	return mostly(l, func(q path.Point) bool {
		if p.outline.Contains(q) {
			return true
		}
		_, off := p.edge.Nearest(q)
		return off <= onLine
	})
}

// shared reports whether what stands in the groups belongs to no size.
func (s *sizing) shared(groups []plot.Group, list []size) bool {
	return !slices.ContainsFunc(list, func(x size) bool { return !s.holds(groups, x.name, list) })
}

// holds reports whether what stands in the groups belongs to the size: unless a
// group around it is another size's.
func (s *sizing) holds(groups []plot.Group, name string, list []size) bool {
	for _, g := range groups {
		of := nameOfGroup(g)
		if g.Piece != nil && g.Piece.Size != "" {
			of = g.Piece.Size
		} else if x, _ := sizeName(of); x != "" {
			of = x
		}
		if of != name && slices.ContainsFunc(list, func(x size) bool { return x.name == of }) {
			return false
		}
	}
	return true
}

// nameOfGroup returns the group's label, or its id without one.
func nameOfGroup(g plot.Group) string { return cmp.Or(g.Label, g.ID) }

// layers finds sizes whose names do not read as such: the outermost groups with
// pieces, or groups of the same names inside each of them.
func (s *sizing) layers() []size {
	called := func(g plot.Group) []string {
		if name := nameOfGroup(g); name != "" {
			return []string{name}
		}
		return nil
	}
	for depth := range MaxSizeDepth {
		outer := s.tell(func(l sizedLine) []string {
			if len(l.groups) > depth {
				return called(l.groups[depth])
			}
			return nil
		})
		if len(outer) < 2 {
			continue
		}
		inner := s.tell(func(l sizedLine) []string {
			if len(l.groups) > depth+1 {
				return called(l.groups[depth+1])
			}
			return nil
		})
		if len(inner) > 1 && !nested(outer) && nested(inner) {
			return inner
		}
		return outer
	}
	return nil
}

// MaxSizeDepth is how deep the groups of sizes may lie in others.
const MaxSizeDepth = 8

// severalSizes reports whether a word that does not read as a size says
// something else, such as what is a cut line: its lines draw a piece three times
// or more. Twice it can be the cut and the stitching line.
func severalSizes(x size) bool { return x.deep > 2 }

// classes finds sizes whose classes do not read as such.
func (s *sizing) classes() []size {
	var list []size
	for _, x := range s.tell(func(l sizedLine) []string { return strings.Fields(l.Class) }) {
		// Of classes that the same lines have, one is enough.
		if !severalSizes(x) && !slices.ContainsFunc(list, func(y size) bool { return slices.Equal(x.lines, y.lines) }) {
			list = append(list, x)
		}
	}
	return list
}

// strokes finds sizes by colour and dash, and calls them so. Marks that are
// drawn in only one of the looks belong to no size.
func (s *sizing) strokes() []size {
	list := s.tell(func(l sizedLine) []string {
		if l.Stroke == "" {
			return nil
		}
		return []string{l.Stroke}
	})
	list = slices.DeleteFunc(list, severalSizes)
	marked := -1
	for k, x := range list {
		legend, _ := s.legend(x, list)
		marks := slices.ContainsFunc(x.lines, func(i int) bool { return i != legend && !x.draws(i) })
		switch {
		case marks && marked >= 0:
			return list
		case marks:
			marked = k
		}
	}
	if marked >= 0 {
		x := &list[marked]
		x.lines = slices.DeleteFunc(x.lines, func(i int) bool { return !x.draws(i) })
	}
	return list
}

// draws reports whether the line is a part of an outline.
func (x size) draws(line int) bool {
	return slices.ContainsFunc(x.pieces, func(p sizedPiece) bool { return slices.Contains(p.items, line) })
}

// legendReach (distance, mm) is how far the text of a legend may stand from the
// end of its line.
const legendReach = 30

// legend returns the line in the look of the size that has a text with the name
// of a size at one of its ends, outside of all pieces, and that name; -1 without
// one.
func (s *sizing) legend(x size, all []size) (line int, name string) {
	line = -1
	nearest := float64(legendReach)
	for _, i := range x.lines {
		p := s.lines[i].Path
		if len(p.V) == 0 || p.Closed || x.draws(i) || slices.ContainsFunc(all, func(y size) bool {
			return slices.ContainsFunc(y.pieces, func(q sizedPiece) bool { return q.outline.Contains(p.Start()) })
		}) {
			continue
		}
		for _, g := range s.drawing.Groups {
			g.Walk(func(h plot.Group) {
				for _, t := range h.Texts {
					d := min(t.At.Dist(p.Start()), t.At.Dist(p.End()))
					if d >= nearest {
						continue
					}
					if size := sizeIn(t.String); size != nil {
						line, name, nearest = i, size[0], d
					}
				}
			})
		}
	}
	return line, name
}

// callByLegend gives the looks, from the smallest size to the largest, the names
// of the legend, or numbers when it does not name all of them.
func (s *sizing) callByLegend(list []size) {
	names := map[string]bool{}
	of := make([]string, len(list))
	for k, x := range list {
		if _, of[k] = s.legend(x, list); of[k] != "" {
			names[of[k]] = true
		}
	}
	for k := range list {
		if list[k].name = of[k]; len(names) < len(list) {
			list[k].name = fmt.Sprint(k + 1)
		}
	}
}

func namesOf(list []size) []string {
	names := make([]string, len(list))
	for k, x := range list {
		names[k] = x.name
	}
	return names
}

// sameBox (ratio) is how much of the room that two boxes take together both must
// take, for their outlines to be two sizes of one piece.
const sameBox = 0.4

// over reports whether the pieces lie over one another as two sizes do.
func over(p, q sizedPiece) bool {
	a, b := p.box, q.box
	w := min(a.Max.X, b.Max.X) - max(a.Min.X, b.Min.X)
	h := min(a.Max.Y, b.Max.Y) - max(a.Min.Y, b.Min.Y)
	if w <= 0 || h <= 0 {
		return false
	}
	return w*h >= sameBox*(a.Width()*a.Height()+b.Width()*b.Height()-w*h)
}

// nested reports whether the sizes plainly are sizes of the same pieces: each
// lies over one of the next size, or all have several pieces of the same names.
func nested(list []size) bool {
	for k := 1; k < len(list); k++ {
		small, large := list[k-1].pieces, list[k].pieces
		if len(small) > len(large) {
			small, large = large, small
		}
		for _, p := range small {
			if !slices.ContainsFunc(large, func(q sizedPiece) bool {
				return over(p, q) || len(small) > 1 && p.name != "" && p.name == q.name
			}) {
				return false
			}
		}
	}
	return len(list) > 1
}

// complete returns an error when a size lacks a piece that another one has.
func complete(list []size, by By) error {
	most := slices.MaxFunc(list, func(a, b size) int { return len(a.pieces) - len(b.pieces) })
	for _, x := range list {
		if len(x.pieces) == len(most.pieces) {
			continue
		}
		for n, p := range most.pieces {
			if slices.ContainsFunc(x.pieces, func(q sizedPiece) bool { return p.name != "" && p.name == q.name || over(p, q) }) {
				continue
			}
			piece := fmt.Sprintf("piece #%d", n+1)
			if p.name != "" {
				piece = fmt.Sprintf("piece %q", p.name)
			}
			return lacks(x.name, piece, most.name, by)
		}
		return lacks(x.name, fmt.Sprintf("all of the %d pieces, but only %d", len(most.pieces), len(x.pieces)), most.name, by)
	}
	return nil
}

func lacks(name, piece, other string, by By) error {
	where := map[By]string{
		ByLayer: "in the layer of its size", ByClass: "with the class of its size",
		ByStroke: "in the look of its size", ByPiece: "as a piece of its size",
	}[by]
	return &SizesError{
		fmt.Sprintf("size %s does not have %s, which size %s has", name, piece, other),
		fmt.Sprintf("draw its outline closed, %s, or take all of size %s out of the drawing", where, name),
	}
}

// none says that the drawing has no sizes of the kind, and what it has.
func (s *sizing) none(by By) error {
	how := map[By]string{
		ByLayer: "no two of its layers or groups hold closed outlines",
		ByClass: "no two classes tell closed outlines apart",
		// The reader of DXF files gives lines no look.
		ByStroke: "no two closed outlines differ in their colour or dashes",
		ByPiece:  "no piece says its size, as in pattern data",
	}[by]
	hint := "draw each piece in each size as a closed outline, or leave the key `sizes` out under `pattern:` for a drawing of one size"
	if other, names := ProposeSizes(s.drawing); other != ByNothing && other != by {
		hint = fmt.Sprintf("write `sizes: %s` under `pattern:`, which finds the sizes %s", other, strings.Join(names, ", "))
	}
	return &SizesError{fmt.Sprintf("the drawing has no sizes that are told apart by %s: %s", by, how), hint}
}

// warnings tells of outlines of pieces that are in every size.
func (s *sizing) warnings(list []size) []fit.Warning {
	sized := map[int]bool{}
	largest := 0.0
	for _, x := range list {
		for _, i := range x.lines {
			sized[i] = true
		}
		for _, p := range x.pieces {
			largest = max(largest, p.area)
		}
	}
	var others []int
	for i := range s.lines {
		if !sized[i] {
			others = append(others, i)
		}
	}
	var all []fit.Warning
	pieces, _ := s.outlines(others)
	for n, p := range pieces {
		if p.area < leastSize*largest {
			continue
		}
		where := fmt.Sprintf("outline %d without a size", n+1)
		if p.name != "" {
			where = fmt.Sprintf("piece %q", p.name)
		}
		all = append(all, fit.Warning{
			Code:    "no-size",
			Level:   fit.LevelNote,
			Message: "the piece belongs to none of the sizes and is taken into every one; if it should not be, give it a size in the drawing",
			Where:   where,
		})
	}
	return all
}
