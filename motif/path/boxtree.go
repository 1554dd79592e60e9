package path

// fan is how many boxes of the boxTree below one box of it covers.
const fan = 4

// boxTree finds which of many boxes meet. The boxes of a chain's segments are
// near one another in the chain's own order, so that the tree is that order,
// cut in fours, and needs no sorting.
type boxTree struct {
	boxes  []Box // the leaves, then the levels above them up to the root
	levels []int // where each level starts, and the length of boxes
}

// newBoxTree returns the tree over n boxes.
func newBoxTree(n int, box func(i int) Box) boxTree {
	t := boxTree{boxes: make([]Box, n, n+n/3+8), levels: make([]int, 1, 16)}
	for i := range n {
		t.boxes[i] = box(i)
	}
	for start := 0; n > 1; {
		end := start + n
		for i := start; i < end; i += fan {
			b := t.boxes[i]
			for j := i + 1; j < min(i+fan, end); j++ {
				b = b.cover(&t.boxes[j])
			}
			t.boxes = append(t.boxes, b)
		}
		t.levels = append(t.levels, end)
		start, n = end, (n+fan-1)/fan
	}
	t.levels = append(t.levels, len(t.boxes))
	return t
}

// cover is Union without regard to NaN.
func (b Box) cover(c *Box) Box {
	if c.Min.X < b.Min.X {
		b.Min.X = c.Min.X
	}
	if c.Min.Y < b.Min.Y {
		b.Min.Y = c.Min.Y
	}
	if c.Max.X > b.Max.X {
		b.Max.X = c.Max.X
	}
	if c.Max.Y > b.Max.Y {
		b.Max.Y = c.Max.Y
	}
	return b
}

// meets is Meets on places.
func (b *Box) meets(c *Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// top returns the level of the root.
func (t *boxTree) top() int { return len(t.levels) - 2 }

// level returns the boxes of a level.
func (t *boxTree) level(l int) []Box { return t.boxes[t.levels[l]:t.levels[l+1]] }

// children returns the range of boxes, in level-1, that a box of the level
// covers. Boxes are counted from their level's start.
func (t *boxTree) children(level, i int) (from, to int) {
	return i * fan, min(i*fan+fan, t.levels[level]-t.levels[level-1])
}

// find calls visit with each leaf that meets the box until it returns false,
// and reports whether it never did.
func (t *boxTree) find(b *Box, visit func(int) bool) bool {
	if len(t.boxes) == 0 {
		return true
	}
	return t.findIn(t.top(), 0, b, visit)
}

func (t *boxTree) findIn(level, i int, b *Box, visit func(int) bool) bool {
	if !t.boxes[t.levels[level]+i].meets(b) {
		return true
	}
	if level == 0 {
		return visit(i)
	}
	from, to := t.children(level, i)
	for j := from; j < to; j++ {
		if !t.findIn(level-1, j, b, visit) {
			return false
		}
	}
	return true
}

// pairs calls visit with each pair of leaves i < j that meet until it returns
// false, and reports whether it never did.
func (t *boxTree) pairs(visit func(i, j int) bool) bool {
	if len(t.boxes) == 0 {
		return true
	}
	return t.pairsIn(t.top(), 0, visit)
}

func (t *boxTree) pairsIn(level, i int, visit func(i, j int) bool) bool {
	if level == 0 {
		return true
	}
	from, to := t.children(level, i)
	boxes := t.level(level - 1)
	for j := from; j < to; j++ {
		if level > 1 && !t.pairsIn(level-1, j, visit) {
			return false
		}
		for k := j + 1; k < to; k++ {
			if boxes[j].meets(&boxes[k]) && !pairsUnder(t, level-1, j, t, level-1, k, visit) {
				return false
			}
		}
	}
	return true
}

// pairsWith calls visit with each leaf i of the tree and leaf j of the other
// that meet.
func (t *boxTree) pairsWith(u *boxTree, visit func(i, j int) bool) {
	if len(t.boxes) > 0 && len(u.boxes) > 0 && t.level(t.top())[0].meets(&u.level(u.top())[0]) {
		pairsUnder(t, t.top(), 0, u, u.top(), 0, visit)
	}
}

// pairsUnder calls visit with each pair of leaves, one of each tree, that lie
// under the two boxes, which meet, and meet themselves, until it returns false,
// and reports whether it never did.
func pairsUnder(s *boxTree, ls, i int, t *boxTree, lt, j int, visit func(i, j int) bool) bool {
	switch {
	case ls == 0 && lt == 0:
		return visit(i, j)
	case ls >= lt:
		// Open the box that has more below it; of two alike, both in turn.
		b := &t.level(lt)[j]
		from, to := s.children(ls, i)
		boxes := s.level(ls - 1)
		for k := from; k < to; k++ {
			if boxes[k].meets(b) && !pairsUnder(s, ls-1, k, t, lt, j, visit) {
				return false
			}
		}
	default:
		b := &s.level(ls)[i]
		from, to := t.children(lt, j)
		boxes := t.level(lt - 1)
		for k := from; k < to; k++ {
			if b.meets(&boxes[k]) && !pairsUnder(s, ls, i, t, lt-1, k, visit) {
				return false
			}
		}
	}
	return true
}
