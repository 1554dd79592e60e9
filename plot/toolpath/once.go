package toolpath

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// Part is a line or what is left of one: Of is the index of that line, whose
// piece and rank it has.
type Part struct {
	Line
	Of int
}

// Once returns the lines without what would be drawn twice: every part that
// lies on an earlier line, or on an earlier part of the same one, in either
// direction, is taken out. A part lies on another when it is nowhere further
// from it than the tolerance in mm, which is at least [path.Coincident], and
// runs along it; lines that only cross or touch lose nothing. A straight line
// may lie on an arc if it is within the tolerance. Give the lines of one tool
// only: a cut along a drawn line is still to be cut.
//
// The order stays. A line that loses nothing comes back as it is; a closed one
// that loses a part becomes open parts, and a line that loses all is left out.
// No part is shorter than the tolerance, unless the line is. All that the lines
// cover is within the tolerance of what the parts cover, but for gaps of that
// length between parts that are left out. A dot, which is a line of one vertex,
// lies only on another dot. Lines that are empty or not finite come back as
// they are.
//
// Time grows with the number of pairs of segments whose bounds meet.
func Once(lines []Line, tolerance float64) []Part {
	if !(tolerance >= path.Coincident) {
		tolerance = path.Coincident
	}
	c := newCover(lines, tolerance)
	var parts []Part
	for i, l := range lines {
		switch {
		case !within(l.Path):
			parts = append(parts, Part{l, i})
		case len(l.Path.V) == 1:
			if !c.hasDot(i) {
				parts = append(parts, Part{l, i})
			}
		default:
			for _, p := range c.left(i) {
				parts = append(parts, Part{Line{Path: p, Piece: l.Piece, Rank: l.Rank}, i})
			}
		}
	}
	return parts
}

// span is a part of a segment, between two ratios of its length.
type span struct{ from, to float64 }

// cover is what earlier lines cover.
type cover struct {
	lines     []Line
	tolerance float64
	first     []int // the number of each line's first segment
	segments  []path.Segment
	kept      [][]span // what is left of each segment, once that is known
	boxes     boxes
}

// newCover returns the cover for the lines; a dot is a segment without length.
func newCover(lines []Line, tolerance float64) *cover {
	c := &cover{lines: lines, tolerance: tolerance, first: make([]int, len(lines))}
	var all []path.Box
	for i, l := range lines {
		c.first[i] = len(c.segments)
		switch {
		case !within(l.Path):
		case len(l.Path.V) == 1:
			c.segments = append(c.segments, path.Line(l.Path.Start(), l.Path.Start()))
		default:
			for k := range l.Path.Segments() {
				c.segments = append(c.segments, l.Path.Segment(k))
			}
		}
	}
	for _, s := range c.segments {
		all = append(all, s.Bounds())
	}
	c.kept = make([][]span, len(c.segments))
	c.boxes.build(all)
	return c
}

// hasDot reports whether the dot lies on an earlier one, and keeps it if not.
func (c *cover) hasDot(line int) bool {
	k := c.first[line]
	p := c.segments[k].A
	found := false
	c.boxes.find(path.Box{Min: p, Max: p}.Grow(c.tolerance), func(j int) {
		t := c.segments[j]
		found = found || j < k && len(c.kept[j]) > 0 && t.A == t.B && t.A.Dist(p) <= c.tolerance
	})
	if !found {
		c.kept[k] = []span{{0, 1}}
		c.boxes.show(k)
	}
	return found
}

// left returns what the earlier lines leave of a line.
func (c *cover) left(line int) []path.Path {
	p := c.lines[line].Path
	first, whole := c.first[line], true
	for k := range p.Segments() {
		if c.kept[first+k] = c.uncovered(first + k); len(c.kept[first+k]) > 0 {
			c.boxes.show(first + k)
		}
		whole = whole && len(c.kept[first+k]) == 1 && c.kept[first+k][0] == span{0, 1}
	}
	if whole {
		return []path.Path{p}
	}
	var chains [][]path.Segment
	joined := false // the last chain goes on where the next segment starts
	for k := range p.Segments() {
		s := c.segments[first+k]
		if len(c.kept[first+k]) == 0 {
			joined = false
		}
		for _, w := range c.kept[first+k] {
			part := s.Sub(w.from, w.to)
			if joined && w.from == 0 {
				chains[len(chains)-1] = append(chains[len(chains)-1], part)
			} else {
				chains = append(chains, []path.Segment{part})
			}
			joined = w.to == 1
		}
	}
	if n, start := len(chains), c.kept[first]; p.Closed && joined && n > 1 && len(start) > 0 && start[0].from == 0 {
		chains[0] = append(chains[n-1], chains[0]...)
		chains = chains[:n-1]
	}
	var parts []path.Path
	for _, chain := range chains {
		if part := path.FromSegments(chain...); part.Length() > c.tolerance {
			parts = append(parts, part)
		}
	}
	return parts
}

// uncovered returns the spans of a segment that lie on nothing earlier.
func (c *cover) uncovered(k int) []span {
	s := c.segments[k]
	length := s.Length()
	if length == 0 {
		return []span{{0, 1}}
	}
	var covered []span
	c.boxes.find(s.Bounds().Grow(c.tolerance), func(j int) {
		if j >= k || c.segments[j].A == c.segments[j].B {
			return
		}
		for _, w := range c.kept[j] {
			t := c.segments[j]
			if w != (span{0, 1}) {
				t = t.Sub(w.from, w.to)
			}
			covered = c.lying(covered, s, t)
		}
	})
	if len(covered) == 0 {
		return []span{{0, 1}}
	}
	slices.SortFunc(covered, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var left []span
	at, crumb := 0.0, c.tolerance/length
	for _, w := range append(covered, span{1, 1}) {
		if w.from-at > crumb {
			left = append(left, span{at, w.from})
		}
		at = max(at, w.to)
	}
	return left
}

// lying appends the spans of the segment s that lie on t.
func (c *cover) lying(spans []span, s, t path.Segment) []span {
	// Between these places, s lies on t all the way or not at all.
	places := [4]float64{0, 1}
	n := 2
	for _, end := range [2]path.Point{t.A, t.B} {
		if u, d := s.Nearest(end); d <= c.tolerance && u > 0 && u < 1 {
			places[n] = u
			n++
		}
	}
	slices.Sort(places[:n])
	length := s.Length()
	for i := range n - 1 {
		w := span{places[i], places[i+1]}
		if w != (span{0, 1}) && (w.to-w.from)*length <= c.tolerance {
			continue
		}
		if c.liesOn(s, t, w) {
			spans = append(spans, w)
		}
	}
	return spans
}

// liesOn reports whether a span of s is within the tolerance of t, and runs
// along it. The distance of two lines or arcs has one extreme on either side of
// a place where they cross, so that a few places tell.
func (c *cover) liesOn(s, t path.Segment, w span) bool {
	for _, r := range [5]float64{0, 1, 0.5, 0.25, 0.75} {
		u := w.from + r*(w.to-w.from)
		v, d := t.Nearest(s.At(u))
		if !(d <= c.tolerance*(1+roundOff)) || math.Abs(s.TangentAt(u).Cross(t.TangentAt(v))) > alongside {
			return false
		}
	}
	return true
}

// boxes finds which of many boxes meet another, of those that have been shown:
// a tree of boxes.
type boxes struct {
	of    []path.Box
	ids   []int
	leaf  []int // of each box
	nodes []boxNode
}

type boxNode struct {
	box         path.Box
	lo, hi      int
	left, right int  // 0 in a leaf
	up          int  // 0 in the root, too
	shown       bool // whether one of them is
}

func (b *boxes) build(of []path.Box) {
	b.of, b.ids, b.leaf = of, make([]int, len(of)), make([]int, len(of))
	for i := range b.ids {
		b.ids[i] = i
	}
	if len(of) > 0 {
		b.divide(0, len(of), 0)
	}
}

func (b *boxes) divide(lo, hi, up int) int {
	id := len(b.nodes)
	n := boxNode{box: path.EmptyBox(), lo: lo, hi: hi, up: up}
	for _, i := range b.ids[lo:hi] {
		n.box = n.box.Union(b.of[i])
	}
	b.nodes = append(b.nodes, n)
	if hi-lo <= leafSize {
		for _, i := range b.ids[lo:hi] {
			b.leaf[i] = id
		}
		return id
	}
	key := func(i int) float64 { return b.of[i].Min.X + b.of[i].Max.X }
	if n.box.Height() > n.box.Width() {
		key = func(i int) float64 { return b.of[i].Min.Y + b.of[i].Max.Y }
	}
	slices.SortFunc(b.ids[lo:hi], func(i, j int) int { return cmp.Or(cmp.Compare(key(i), key(j)), i-j) })
	mid := (lo + hi) / 2
	left := b.divide(lo, mid, id)
	right := b.divide(mid, hi, id)
	b.nodes[id].left, b.nodes[id].right = left, right
	return id
}

// show has find look at a box.
func (b *boxes) show(i int) {
	id := b.leaf[i]
	for !b.nodes[id].shown {
		b.nodes[id].shown = true
		id = b.nodes[id].up
	}
}

// find calls visit with every shown box that meets the given one, and perhaps
// with others.
func (b *boxes) find(box path.Box, visit func(i int)) {
	if len(b.nodes) > 0 {
		b.findIn(0, box, visit)
	}
}

func (b *boxes) findIn(id int, box path.Box, visit func(i int)) {
	n := &b.nodes[id]
	if !n.shown || !n.box.Meets(box) {
		return
	}
	if n.right > 0 {
		b.findIn(n.left, box, visit)
		b.findIn(n.right, box, visit)
		return
	}
	for _, i := range b.ids[n.lo:n.hi] {
		if b.of[i].Meets(box) {
			visit(i)
		}
	}
}
