package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// scene is a drawing with its groups in a flat list.
type scene struct {
	groups []group // the first is the drawing itself
	items  []item
	notes  []note
	closed []chain // the closed chains that are no marks
	pieces []chain // those of them that do not lie in another one
	// warnings are about the drawing as a whole.
	warnings []fit.Warning
}

type group struct {
	id, label string
	piece     *plot.Piece
	parent    int // -1 for the drawing
	texts     []string
}

type item struct {
	plot.Line
	group int
	box   path.Box
}

type note struct {
	plot.Text
	group int
}

func newScene(d plot.Drawing) *scene {
	s := &scene{groups: []group{{parent: -1}}}
	var add func(g plot.Group, parent int)
	add = func(g plot.Group, parent int) {
		n := len(s.groups)
		s.groups = append(s.groups, group{id: g.ID, label: g.Label, piece: g.Piece, parent: parent})
		for _, l := range g.Lines {
			if l.Sign {
				continue // it says again what its line does
			}
			s.items = append(s.items, item{l, n, l.Path.Bounds()})
		}
		for _, t := range g.Texts {
			s.notes = append(s.notes, note{t, n})
			s.groups[n].texts = append(s.groups[n].texts, t.String)
		}
		for _, in := range g.Groups {
			add(in, n)
		}
	}
	for _, g := range d.Groups {
		add(g, 0)
	}
	s.outlines()
	return s
}

// within reports whether the group g is the group root or lies in it.
func (s *scene) within(g, root int) bool {
	for ; g >= 0; g = s.groups[g].parent {
		if g == root {
			return true
		}
	}
	return false
}

// itemsIn returns the lines of a group and of the groups in it.
func (s *scene) itemsIn(root int) []int {
	var all []int
	for i, it := range s.items {
		if s.within(it.group, root) {
			all = append(all, i)
		}
	}
	return all
}

// chains joins the lines; those that say that they are no part of an outline
// are left out. Lines for stitching and lines inside a piece make chains of their
// own.
func (s *scene) chains(items []int) []chain {
	var kinds [3][]int
	for _, i := range items {
		l := s.items[i].Line
		words := strings.ToLower(l.ID + " " + l.Label + " " + l.Class)
		p := l.Path
		if l.Role == plot.Grain || l.Role == plot.Notch || l.Role == plot.Clip ||
			strings.Contains(words, "grain") && !p.Closed || strings.Contains(words, "notch") && p.Length() < 4*notchLength {
			continue
		}
		kind := 0
		switch l.Role {
		case plot.Stitch:
			kind = 1
		case plot.Mark, plot.Internal, plot.Inner:
			kind = 2
		}
		kinds[kind] = append(kinds[kind], i)
	}
	var all []chain
	for kind, some := range kinds {
		for _, c := range chains(some, func(i int) path.Path { return s.items[i].Path }) {
			c.inner = kind == 2
			all = append(all, c)
		}
	}
	return all
}

// outlines finds the closed chains of the drawing and its pieces, in the
// drawing's order. A chain is made of the lines of one group.
func (s *scene) outlines() {
	byGroup := map[int][]int{}
	for i, it := range s.items {
		byGroup[it.group] = append(byGroup[it.group], i)
	}
	var all []chain
	for g := range s.groups {
		var closed, open []chain
		for _, c := range s.chains(byGroup[g]) {
			switch {
			case c.inner:
			case c.branch:
				closed = append(closed, c.faces...)
			case c.path.Closed:
				closed = append(closed, c)
			default:
				open = append(open, c)
			}
		}
		closed = largestOf(closed, mostOutlines)
		all = append(all, closed...)
		all = append(all, besides(closed, open)...)
	}
	all = largestOf(all, mostOutlines)
	for n, i := range s.testSquares(all) {
		all = slices.Delete(all, i-n, i-n+1)
	}
	if len(all) > 0 {
		least := leastPiece * all[0].size
		all = slices.DeleteFunc(all, func(c chain) bool {
			size := c.box.Width() + c.box.Height()
			return c.size <= max(least, leastShape*size*size)
		})
	}
	slices.SortStableFunc(all, func(a, b chain) int { return slices.Min(a.items) - slices.Min(b.items) })
	side := func(c chain) float64 { return max(c.box.Width(), c.box.Height()) }
	sized := slices.ContainsFunc(all, func(c chain) bool { return side(c) >= smallPiece })
	for i, c := range all {
		if sized && side(c) < smallestPiece {
			continue // a mark, such as a square to check the scale by
		}
		inside := slices.ContainsFunc(all, func(d chain) bool { return d.size > c.size && encloses(d, c) && !s.apart(d, c) })
		// Of an outline that is drawn twice the first counts.
		again := slices.ContainsFunc(all[:i], func(d chain) bool { return sameOutline(d, c) && !s.apart(d, c) })
		if !inside && !again {
			s.pieces = append(s.pieces, c)
		}
	}
	s.closed = all
}

// largestOf returns the chains from the largest down, so many at most.
func largestOf(all []chain, most int) []chain {
	slices.SortStableFunc(all, func(a, b chain) int { return cmp.Compare(b.size, a.size) })
	return all[:min(len(all), most)]
}

// apart reports whether the drawing says that two outlines are pieces of their
// own, wherever they lie: each has its own facts, or a grain line to itself.
func (s *scene) apart(c, d chain) bool {
	a, b := s.pieceOf(c), s.pieceOf(d)
	if a >= 0 && b >= 0 {
		return a != b
	}
	return s.hasGrain(c, d) && s.hasGrain(d, c)
}

// pieceOf returns the group of a piece that has the outline, -1 without one.
func (s *scene) pieceOf(c chain) int {
	g := s.items[c.items[0]].group
	for g >= 0 && s.groups[g].piece == nil {
		g = s.groups[g].parent
	}
	return g
}

// hasGrain reports whether the outline's own group has a grain line, and not the
// other outline.
func (s *scene) hasGrain(c, other chain) bool {
	home := s.items[c.items[0]].group
	if home == 0 || s.within(s.items[other.items[0]].group, home) {
		return false
	}
	return slices.ContainsFunc(s.items, func(it item) bool {
		return s.within(it.group, home) && strings.Contains(s.words(it, home), "grain") && c.box.Contains(it.box.Centre())
	})
}

// encloses reports whether the inner outline lies in the outer one; it may touch
// it.
func encloses(outer, inner chain) bool {
	box := outer.box.Grow(onLine)
	if !box.Contains(inner.box.Min) || !box.Contains(inner.box.Max) {
		return false
	}
	return mostly(inner.path, outer.path.Contains)
}

// sameOutline reports whether two outlines are one that is drawn twice.
func sameOutline(a, b chain) bool {
	if a.box.Min.Dist(b.box.Min) > onLine || a.box.Max.Dist(b.box.Max) > onLine ||
		math.Abs(math.Abs(a.path.Area())-math.Abs(b.path.Area())) > onLine*a.path.Length()/2 {
		return false
	}
	r := path.NewRuler(a.path)
	return mostly(b.path, func(q path.Point) bool {
		_, d := r.Nearest(q)
		return d <= onLine
	})
}

// mostly reports whether more than half of some places along the path hold.
func mostly(p path.Path, holds func(path.Point) bool) bool {
	const places = 15
	n := 0
	for _, q := range along(p, places) {
		if holds(q) {
			n++
		}
	}
	return n > places/2
}

// along returns n points at equal distances inside of the path's ends.
func along(p path.Path, n int) []path.Point {
	r := path.NewRuler(p)
	points := make([]path.Point, n)
	for i := range points {
		points[i] = r.At(r.Length() * (float64(i) + 0.5) / float64(n))
	}
	return points
}

// named returns the groups and lines that the name matches, without those that
// lie in a group that it matches.
func (s *scene) named(matches func(id, label string) bool) (groups, items []int) {
	hit := make([]bool, len(s.groups))
	for g, it := range s.groups {
		switch {
		case it.parent < 0:
		case hit[it.parent]:
			hit[g] = true
		case matches(it.id, it.label), it.piece != nil && matches("", it.piece.Name):
			hit[g] = true
			groups = append(groups, g)
		}
	}
	for i, it := range s.items {
		if !hit[it.group] && matches(it.ID, it.Label) {
			items = append(items, i)
		}
	}
	return groups, items
}

// choices is a hint that lists the pieces.
func (s *scene) choices() string {
	if len(s.pieces) == 0 {
		return "draw each piece as a closed outline"
	}
	var names []string
	for i, c := range s.pieces {
		b := c.path.Bounds()
		names = append(names, fmt.Sprintf("#%d %s(%.0f x %.0f mm)", i+1, s.nameOf(c), b.Width(), b.Height()))
		if len(names) == 12 && len(s.pieces) > 13 {
			names = append(names, fmt.Sprintf("and %d more", len(s.pieces)-12))
			break
		}
	}
	return "choose one with its number, such as `order: 1`, under `piece:`; the pieces are " + strings.Join(names, ", ")
}

// nameOf returns the best name that an outline has, with a space after it.
func (s *scene) nameOf(c chain) string {
	it := s.items[c.items[0]]
	names := []string{it.Label, it.ID}
	for g := it.group; g > 0; g = s.groups[g].parent {
		if p := s.groups[g].piece; p != nil {
			names = append(names, p.Name)
		}
		names = append(names, s.groups[g].label, s.groups[g].id)
	}
	for _, n := range names {
		if n != "" {
			return fmt.Sprintf("%q ", n)
		}
	}
	return ""
}

func count(n int, what string) string {
	switch n {
	case 0:
		return "no " + what
	case 1:
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func at(p path.Point) string { return fmt.Sprintf("%.1f, %.1f mm", p.X, p.Y) }
