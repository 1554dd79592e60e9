package pattern

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"engrail/motif/path"
)

// chain is a line of a drawing or several whose ends meet.
type chain struct {
	path  path.Path // closed where it closes
	items []int     // what it is made of
	// size is the area that ranks outlines. Of a branch it is half of the box: less
	// than most outlines that could be meant.
	size float64
	// gap is the widest gap that was closed, at the place.
	gap float64
	at  path.Point
	// inner says that its lines are drawn inside a piece.
	inner bool
	// branch says that more than two lines meet at the place, so that there is no
	// telling how the outline goes.
	branch bool
}

// openLine is an open line of a drawing with the nodes that its ends belong to.
type openLine struct {
	item int
	path path.Path
	node [2]int
	ring bool // part of something closed
	used bool
}

func (l *openLine) end(i int) path.Point {
	if i == 0 {
		return l.path.Start()
	}
	return l.path.End()
}

// web is open lines and the points at which they meet.
type web struct {
	lines  []*openLine
	at     map[int][]*openLine // by node
	degree map[int]int         // how many ends meet at a node, by node
}

// chains joins the lines into chains. Lines that hang on an outline with one
// end only are left out of it; a line that is drawn twice counts once.
func chains(items []int, pathOf func(int) path.Path) []chain {
	var all []chain
	var lines []*openLine
	for _, i := range items {
		switch p := pathOf(i); {
		case p.Segments() == 0:
		case p.Closed:
			all = append(all, chain{path: p, items: []int{i}})
		default:
			lines = append(lines, &openLine{item: i, path: p})
		}
	}
	lines = withoutRepeats(lines)
	meet(lines)
	w := web{at: map[int][]*openLine{}, degree: map[int]int{}}
	for _, l := range lines {
		if l.node[0] == l.node[1] {
			if l.path.Length() > 4*JoinGap {
				all = append(all, linked([]link{{l, 0}}, true))
			}
			continue
		}
		w.lines = append(w.lines, l)
		for _, n := range l.node {
			w.at[n] = append(w.at[n], l)
			w.degree[n]++
		}
	}
	inRings := w.rings()
	for _, l := range w.lines {
		if l.ring && !l.used {
			all = append(all, w.ring(l, inRings))
		}
	}
	for _, l := range w.lines {
		for end := range 2 {
			if !l.used && w.degree[l.node[end]] != 2 {
				all = append(all, linked(w.follow(l, end, w.degree), false))
			}
		}
	}
	for i, c := range all {
		all[i].size = math.Abs(c.path.Area())
		if c.branch {
			b := c.path.Bounds()
			all[i].size = b.Width() * b.Height() / 2
		}
	}
	return all
}

// withoutRepeats leaves out lines that lie on another one from end to end.
func withoutRepeats(lines []*openLine) []*openLine {
	type measured struct {
		line   *openLine
		length float64
		mid    path.Point
	}
	m := make([]measured, len(lines))
	for i, l := range lines {
		r := path.NewRuler(l.path)
		m[i] = measured{line: l, length: r.Length(), mid: r.At(r.Length() / 2)}
	}
	slices.SortStableFunc(m, func(a, b measured) int { return cmp.Compare(a.length, b.length) })
	repeated := map[*openLine]bool{}
	for i := range m {
		for j := i + 1; j < len(m) && m[j].length-m[i].length <= JoinGap && !repeated[m[i].line]; j++ {
			a, b := m[i].line, m[j].line
			same := a.end(0).Dist(b.end(0)) <= JoinGap && a.end(1).Dist(b.end(1)) <= JoinGap
			turned := a.end(0).Dist(b.end(1)) <= JoinGap && a.end(1).Dist(b.end(0)) <= JoinGap
			if (same || turned) && m[i].mid.Dist(m[j].mid) <= JoinGap && m[i].length > 4*JoinGap {
				repeated[a] = true
			}
		}
	}
	return slices.DeleteFunc(lines, func(l *openLine) bool { return repeated[l] })
}

// meet gives each end of a line the number of its point; ends within JoinGap of
// one another are one point.
func meet(lines []*openLine) {
	type end struct {
		line *openLine
		i    int
	}
	var ends []end
	for _, l := range lines {
		ends = append(ends, end{l, 0}, end{l, 1})
	}
	at := func(e end) path.Point { return e.line.end(e.i) }
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(at(a).X, at(b).X) })
	parent := make([]int, len(ends))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for i := range ends {
		for j := i + 1; j < len(ends) && at(ends[j]).X-at(ends[i]).X <= JoinGap; j++ {
			if at(ends[i]).Dist(at(ends[j])) <= JoinGap {
				parent[root(j)] = root(i)
			}
		}
	}
	for i, e := range ends {
		e.line.node[e.i] = root(i)
	}
}

// rings marks the lines that are left when those with an end where no other line
// meets them are taken away, again and again. It returns the degrees that the
// nodes then have.
func (w *web) rings() map[int]int {
	degree := maps.Clone(w.degree)
	var loose []int
	for n, d := range degree {
		if d == 1 {
			loose = append(loose, n)
		}
	}
	for _, l := range w.lines {
		l.ring = true
	}
	for len(loose) > 0 {
		n := loose[len(loose)-1]
		loose = loose[:len(loose)-1]
		for _, l := range w.at[n] {
			if !l.ring {
				continue
			}
			l.ring = false
			for _, m := range l.node {
				if degree[m]--; degree[m] == 1 {
					loose = append(loose, m)
				}
			}
		}
	}
	return degree
}

// link is a line of a chain and the end at which the chain enters it.
type link struct {
	line *openLine
	from int
}

// ring returns the closed chain through the line, or a branch.
func (w *web) ring(l *openLine, degree map[int]int) chain {
	links := w.follow(l, 0, degree)
	last := links[len(links)-1]
	if n := last.line.node[1-last.from]; n == l.node[0] && degree[n] == 2 {
		return linked(links, true)
	}
	c := linked(links, false)
	c.branch = true
	c.at = last.line.end(1 - last.from)
	// All that hangs together counts for the size.
	for todo := []int{l.node[0], last.line.node[1-last.from]}; len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, m := range w.at[n] {
			if m.ring && !m.used {
				m.used = true
				todo = append(todo, m.node[0], m.node[1])
				c.path = path.Join(0, c.path, m.path)
				c.items = append(c.items, m.item)
			}
		}
	}
	return c
}

// follow returns the lines from l on, entered at the end, as long as exactly two
// lines meet.
func (w *web) follow(l *openLine, end int, degree map[int]int) []link {
	var links []link
	for {
		l.used = true
		links = append(links, link{l, end})
		n := l.node[1-end]
		if degree[n] != 2 {
			return links
		}
		i := slices.IndexFunc(w.at[n], func(m *openLine) bool { return !m.used && m.ring == l.ring })
		if i < 0 {
			return links
		}
		l = w.at[n][i]
		end = 0
		if l.node[1] == n {
			end = 1
		}
	}
}

// linked joins the lines of a chain into one path.
func linked(links []link, closed bool) chain {
	var c chain
	parts := make([]path.Path, len(links))
	for i, k := range links {
		parts[i] = k.line.path
		if k.from == 1 {
			parts[i] = parts[i].Reverse()
		}
		c.items = append(c.items, k.line.item)
	}
	note := func(a, b path.Point) {
		if d := a.Dist(b); d > c.gap {
			c.gap, c.at = d, a
		}
	}
	for i := 1; i < len(parts); i++ {
		note(parts[i-1].End(), parts[i].Start())
	}
	c.path = path.Join(JoinGap, parts...)
	if closed {
		note(parts[len(parts)-1].End(), parts[0].Start())
		c.path = c.path.Close(JoinGap)
	}
	return c
}
