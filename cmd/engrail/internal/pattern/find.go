package pattern

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// way is one way to find what a selection names. It reports whether the drawing
// has something of that name.
type way func() (chain, bool, error)

// find returns the chain that is the outline of the selected piece.
func (s *scene) find(sel *Selection) (chain, error) {
	byName := func(matches func(id, label string) bool) way {
		return func() (chain, bool, error) { return s.byName(sel, matches) }
	}
	byID := func(name string) way { return byName(func(id, _ string) bool { return id == name }) }
	byLabel := func(name string) way { return byName(func(_, label string) bool { return label == name }) }
	byEither := func(name string) way { return byName(func(id, label string) bool { return called(name, id, label) }) }
	byText := func(name string) way {
		return func() (chain, bool, error) { return s.byText(sel, name) }
	}
	if len(s.pieces) == 0 && (sel.Order > 0 || sel.Name+sel.ID+sel.Label+sel.Text == "") {
		if err := s.unclosed(sel); err != nil {
			return chain{}, err
		}
	}
	var ways []way
	what := ""
	switch {
	case sel.Order > 0:
		if sel.Order > len(s.pieces) {
			return chain{}, sel.errorf(s.choices(), "the drawing has %s", count(len(s.pieces), "piece"))
		}
		return s.pieces[sel.Order-1], nil
	case sel.ID != "":
		ways, what = []way{byID(sel.ID)}, "nothing in the drawing has this id"
	case sel.Label != "":
		ways, what = []way{byLabel(sel.Label), byName(func(_, label string) bool { return called(sel.Label, "", label) })}, "nothing in the drawing has this label"
	case sel.Text != "":
		ways, what = []way{byText(sel.Text)}, "no outline has such a text in it"
	case sel.Name != "":
		ways, what = []way{byID(sel.Name), byLabel(sel.Name), byEither(sel.Name), byText(sel.Name)}, "nothing in the drawing has this id, label or text"
	default:
		if len(s.pieces) != 1 {
			return chain{}, sel.errorf(s.choices(), "the drawing has %s; say which is meant", count(len(s.pieces), "piece"))
		}
		return s.pieces[0], nil
	}
	for _, w := range ways {
		if c, ok, err := w(); ok || err != nil {
			return c, err
		}
	}
	return chain{}, sel.errorf(s.choices(), "%s", what)
}

// unclosed says, of a drawing without a piece, what its largest outline lacks;
// nothing of one without any line.
func (s *scene) unclosed(sel *Selection) error {
	all := s.chains(s.itemsIn(0))
	if len(all) == 0 {
		return nil
	}
	_, err := s.largest(sel, all)
	return err
}

// called reports whether a person would take the id or label for the name.
func called(name, id, label string) bool {
	name = strings.TrimSpace(name)
	return name != "" && (strings.EqualFold(id, name) || strings.EqualFold(strings.TrimSpace(label), name))
}

// byName finds the outline of the group, or the line, that the name matches.
func (s *scene) byName(sel *Selection, matches func(id, label string) bool) (chain, bool, error) {
	groups, items := s.named(matches)
	if len(groups)+len(items) == 0 {
		return chain{}, false, nil
	}
	var found []chain
	var failed error
	add := func(c chain, err error) {
		switch {
		case err != nil:
			failed = cmp.Or(failed, err)
		case !slices.ContainsFunc(found, func(d chain) bool { return encloses(d, c) }):
			// What lies in another outline of the name is a mark in that piece.
			found = slices.DeleteFunc(found, func(d chain) bool { return encloses(c, d) })
			found = append(found, c)
		}
	}
	for _, g := range groups {
		in := s.itemsIn(g)
		if len(in) == 0 {
			continue
		}
		c, err := s.largest(sel, s.chains(in))
		if err != nil {
			if only, ok := s.touching(func(items []int) bool {
				return !slices.ContainsFunc(items, func(i int) bool { return !slices.Contains(in, i) })
			}); ok {
				c, err = only, nil
			}
		}
		add(c, err)
	}
	for _, i := range items {
		if slices.ContainsFunc(found, func(d chain) bool { return slices.Contains(d.items, i) }) {
			continue
		}
		add(s.around(sel, i))
	}
	switch {
	case len(found) > 1:
		return chain{}, true, sel.errorf(s.choices(), "%d pieces have this name", len(found))
	case len(found) == 1:
		return found[0], true, nil
	case failed == nil:
		return chain{}, true, sel.errorf(s.choices(), "the group of this name has no lines")
	}
	return chain{}, true, failed
}

// touching returns the only piece that shares a line or a corner with another one
// and whose lines pass.
func (s *scene) touching(pass func(items []int) bool) (chain, bool) {
	var found []chain
	for _, c := range s.pieces {
		if c.touches && pass(c.items) {
			found = append(found, c)
		}
	}
	if len(found) != 1 {
		return chain{}, false
	}
	return found[0], true
}

// around returns the outline that the line is or is a part of.
func (s *scene) around(sel *Selection, i int) (chain, error) {
	if c, ok := s.touching(func(items []int) bool { return slices.Contains(items, i) }); ok {
		return c, nil
	}
	var near []int
	for k, it := range s.items {
		if it.group == s.items[i].group {
			near = append(near, k)
		}
	}
	var with []chain
	for _, c := range s.chains(near) {
		if slices.Contains(c.items, i) {
			with = append(with, c)
		}
	}
	if len(with) == 0 {
		// A line that a mark's word kept out of the outlines.
		with = chains([]int{i}, func(i int) path.Path { return s.items[i].Path })
	}
	return s.largest(sel, with)
}

// largest returns the largest of the chains, which must be closed and alone.
func (s *scene) largest(sel *Selection, all []chain) (chain, error) {
	if len(all) == 0 {
		return chain{}, sel.errorf("draw the outline as one closed line, or as lines that meet", "it has no lines to make an outline of")
	}
	best := slices.MaxFunc(all, func(a, b chain) int { return cmp.Compare(a.size, b.size) })
	switch {
	case best.branch:
		return chain{}, sel.errorf("draw the outline as one closed line, or take the inner line away from it",
			"more than two lines meet at %s, so that there is no telling how the outline runs", at(best.at))
	case !best.path.Closed:
		a, b := nearestEnds(best, all)
		if b == a {
			return chain{}, sel.errorf("draw the outline as a closed line", "the outline is a single open line with nothing at its end at %s", at(a))
		}
		return chain{}, sel.errorf(fmt.Sprintf("join the two ends in the drawing program; gaps up to %g mm are closed here", JoinGap),
			"the outline is open: a gap of %.2f mm between %s and %s", a.Dist(b), at(a), at(b))
	}
	for _, c := range all {
		if c.path.Closed && !c.branch && c.size > secondPiece*best.size &&
			!encloses(best, c) && !sameOutline(best, c) {
			return chain{}, sel.errorf("name the outline itself, or a group with one piece, such as `id: front`, under `piece:`",
				"the group has two outlines beside each other, at %s and at %s", at(best.path.Bounds().Centre()), at(c.path.Bounds().Centre()))
		}
	}
	return best, nil
}

// nearestEnds returns an end of the open chain and the end of an open chain,
// perhaps its own, that is nearest to it: the narrowest gap.
func nearestEnds(c chain, all []chain) (path.Point, path.Point) {
	a, b := c.path.Start(), c.path.End()
	least := a.Dist(b)
	for _, d := range all {
		if d.path.Closed || d.path.Start() == c.path.Start() && d.path.End() == c.path.End() {
			continue
		}
		for _, p := range [2]path.Point{c.path.Start(), c.path.End()} {
			for _, q := range [2]path.Point{d.path.Start(), d.path.End()} {
				if l := p.Dist(q); l < least {
					a, b, least = p, q, l
				}
			}
		}
	}
	return a, b
}

// byText finds the piece that has the text in it: one that reads so, or else
// one with these words in it.
func (s *scene) byText(sel *Selection, want string) (chain, bool, error) {
	want = strings.ToLower(strings.Join(strings.Fields(want), " "))
	for _, matches := range []func(text string) bool{
		func(text string) bool { return text == want },
		func(text string) bool { return hasWords(text, want) },
	} {
		var found []int
		for _, n := range s.notes {
			if !matches(strings.ToLower(n.String)) {
				continue
			}
			for i, c := range s.pieces {
				if c.path.Contains(n.At) && !slices.Contains(found, i) {
					found = append(found, i)
				}
			}
		}
		if len(found) > 1 {
			return chain{}, true, sel.errorf(s.choices(), "%d pieces have this text in them", len(found))
		}
		if len(found) == 1 {
			return s.pieces[found[0]], true, nil
		}
	}
	return chain{}, false, nil
}

// hasWords reports whether the words stand in the text, not in the middle of
// other words.
func hasWords(text, words string) bool {
	letter := func(b byte) bool { return b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b >= 0x80 }
	for from := 0; ; {
		i := strings.Index(text[from:], words)
		if i < 0 || words == "" {
			return false
		}
		i += from
		end := i + len(words)
		if (i == 0 || !letter(text[i-1]) || !letter(words[0])) && (end == len(text) || !letter(text[end]) || !letter(words[len(words)-1])) {
			return true
		}
		from = i + 1
	}
}

// piece is a piece of the drawing: its outline, closed and counter-clockwise,
// and what belongs to it.
type piece struct {
	outline path.Path
	parts   []marked // the lines that make the outline
	lines   []marked
	notes   []note
	known   plot.Piece // what the drawing says of it
	names   []string   // ids, labels and names of it
}

// marked is a line of a piece with its words.
type marked struct {
	item
	words string
	// depth is that of a notch that is cut into the outline.
	depth float64
}

// gather returns the piece with the outline. Its marks are what lies on the
// outline in the group that has the outline, and in the groups around that as
// far as they have no other outline of about that size. They are looked for in
// the whole drawing when that group has another piece too, or nothing else.
func (s *scene) gather(c chain) piece {
	p := piece{outline: c.path}
	if p.outline.Area() < 0 {
		p.outline = p.outline.Reverse()
	}
	home := s.items[c.items[0]].group
	for _, i := range c.items {
		for !s.within(s.items[i].group, home) {
			home = s.groups[home].parent
		}
	}
	root := home
	for _, i := range c.items {
		p.names = append(p.names, s.items[i].ID, s.items[i].Label)
	}
	for g := home; g >= 0; g = s.groups[g].parent {
		p.names = append(p.names, s.groups[g].id, s.groups[g].label)
		if s.groups[g].piece != nil {
			p.known = *s.groups[g].piece
			p.names = append(p.names, p.known.Name, p.known.Size, p.known.Style, p.known.Material)
			break
		}
	}
	if !s.alone(home, -1, c) {
		root = 0
	}
	for root > 0 && s.alone(s.groups[root].parent, root, c) {
		root = s.groups[root].parent
	}
	if s.only(root, c) {
		root = 0 // the marks are in a layer of their own
	}
	for _, i := range c.items {
		p.parts = append(p.parts, marked{item: s.items[i], words: s.words(s.items[i], home)})
	}
	edge := path.NewRuler(p.outline)
	touches := func(q path.Point) bool {
		_, d := edge.Nearest(q)
		return d <= onLine
	}
	box := p.outline.Bounds().Grow(onLine)
	others := map[int]bool{} // the lines of this outline and of those beside it
	for _, d := range s.closed {
		if len(d.items) > 1 && !encloses(c, d) && !sameOutline(c, d) {
			for _, i := range d.items {
				others[i] = true
			}
		}
	}
	for _, i := range c.items {
		others[i] = true
	}
	for i, it := range s.items {
		if !s.within(it.group, root) || others[i] || len(it.Path.V) == 0 || !box.Meets(it.box) {
			continue
		}
		if it.Path.Segments() == 0 {
			if p.outline.Contains(it.Path.V[0].Point) || touches(it.Path.V[0].Point) {
				p.lines = append(p.lines, marked{item: it, words: s.words(it, home)})
			}
			continue
		}
		short := it.Path.Length() < notchLength
		if short && slices.ContainsFunc(it.Path.V, func(v path.Vertex) bool { return touches(v.Point) }) ||
			mostly(it.Path, func(q path.Point) bool { return p.outline.Contains(q) || touches(q) }) {
			p.lines = append(p.lines, marked{item: it, words: s.words(it, home)})
		}
	}
	for _, n := range s.notes {
		if s.within(n.group, root) && p.outline.Contains(n.At) {
			p.notes = append(p.notes, n)
		}
	}
	return p
}

// only reports whether the group has nothing in it but the outline.
func (s *scene) only(g int, c chain) bool {
	for i, it := range s.items {
		if s.within(it.group, g) && !slices.Contains(c.items, i) {
			return false
		}
	}
	return !slices.ContainsFunc(s.notes, func(n note) bool { return s.within(n.group, g) })
}

// alone reports whether the group has no outline beside that one of the chain
// that could be a piece of its own. What is in the group except is not looked at;
// without it (-1), outlines within the chain's do not count.
func (s *scene) alone(g, except int, c chain) bool {
	for _, d := range s.closed {
		home := s.items[d.items[0]].group
		switch {
		case slices.Contains(c.items, d.items[0]), !s.within(home, g), d.size < secondPiece*c.size:
		case except < 0 && (encloses(c, d) || sameOutline(c, d)):
		case except >= 0 && s.within(home, except):
		default:
			return false
		}
	}
	return true
}

// words returns what names a line, in lower case: what it is for when that is an
// edge or a mark, its own names, those of the groups around it in which the
// outline is not, and the texts of these.
func (s *scene) words(it item, home int) string {
	words := []string{it.ID, it.Label, it.Class}
	switch it.Role {
	case plot.Fold, plot.Grain, plot.Notch:
		words = append(words, it.Role.String())
	}
	for g := it.group; !s.within(home, g); g = s.groups[g].parent {
		words = append(words, s.groups[g].id, s.groups[g].label)
		words = append(words, s.groups[g].texts...)
	}
	return strings.ToLower(strings.Join(words, " "))
}
