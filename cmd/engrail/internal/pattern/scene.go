package pattern

import (
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
			s.items = append(s.items, item{l, n})
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
		if l.Sign || l.Role == plot.Grain || l.Role == plot.Notch || l.Role == plot.Clip ||
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
	largest := 0.0
	for g := range s.groups {
		for _, c := range s.chains(byGroup[g]) {
			if c.path.Closed && !c.branch && !c.inner {
				all = append(all, c)
				largest = max(largest, c.size)
			}
		}
	}
	all = slices.DeleteFunc(all, func(c chain) bool { return c.size < leastPiece*largest })
	slices.SortStableFunc(all, func(a, b chain) int { return slices.Min(a.items) - slices.Min(b.items) })
	side := func(c chain) float64 { return max(c.path.Bounds().Width(), c.path.Bounds().Height()) }
	sized := slices.ContainsFunc(all, func(c chain) bool { return side(c) >= smallPiece })
	for i, c := range all {
		if sized && side(c) < smallestPiece {
			continue // a mark, such as a square to check the scale by
		}
		inside := slices.ContainsFunc(all, func(d chain) bool { return d.size > c.size && encloses(d.path, c.path) })
		// Of an outline that is drawn twice the first counts.
		again := slices.ContainsFunc(all[:i], func(d chain) bool { return sameOutline(d.path, c.path) })
		if !inside && !again {
			s.pieces = append(s.pieces, c)
		}
	}
	s.closed = all
}

// encloses reports whether the inner outline lies in the outer one; it may touch
// it.
func encloses(outer, inner path.Path) bool {
	a, b := outer.Bounds().Grow(onLine), inner.Bounds()
	if !a.Contains(b.Min) || !a.Contains(b.Max) {
		return false
	}
	return mostly(inner, func(p path.Point) bool { return outer.Contains(p) })
}

func sameOutline(p, q path.Path) bool {
	a, b := p.Bounds(), q.Bounds()
	return a.Min.Dist(b.Min) <= onLine && a.Max.Dist(b.Max) <= onLine &&
		math.Abs(math.Abs(p.Area())-math.Abs(q.Area())) <= onLine*p.Length()/2
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
