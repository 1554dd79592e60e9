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
	box   path.Box
	items []int // what it is made of
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
	// faces are what the lines of a branch enclose, none of them in another.
	faces []chain
	// touches says that it shares a corner or a line with another outline, shared
	// that it is a line.
	touches, shared bool
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
		all[i].box = c.path.Bounds()
		if c.branch {
			b := c.path.Bounds()
			all[i].size = b.Width() * b.Height() / 2
		}
	}
	return all
}

// meet gives each end of a line the number of its point. Ends at the same place
// are one point; an end that is alone joins the nearest other one within JoinGap,
// so that lines shorter than that keep their two ends.
func meet(lines []*openLine) {
	type end struct {
		line *openLine
		i    int
	}
	var ends []end
	for _, l := range lines {
		ends = append(ends, end{l, 0}, end{l, 1})
	}
	at := func(i int) path.Point { return ends[i].line.end(ends[i].i) }
	parent := make([]int, len(ends))
	size := make([]int, len(ends))
	for i := range parent {
		parent[i], size[i] = i, 1
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	join := func(i, j int) {
		if i, j = root(i), root(j); i != j {
			parent[j] = i
			size[i] += size[j]
		}
	}
	about := grid{}
	for i := range ends {
		about.near(at(i), func(j int) {
			if at(i).Dist(at(j)) <= speck {
				join(i, j)
			}
		})
		about.add(at(i), i)
	}
	type gap struct {
		i, j int
		wide float64
	}
	for range mostPasses {
		var gaps []gap
		for i := range ends {
			if size[root(i)] != 1 {
				continue
			}
			best := gap{i, -1, JoinGap}
			about.near(at(i), func(j int) {
				if d := at(i).Dist(at(j)); root(i) != root(j) && d <= best.wide &&
					(j/2 != i/2 || ends[i].line.path.Length() > 4*JoinGap) {
					best.j, best.wide = j, d
				}
			})
			if best.j >= 0 {
				gaps = append(gaps, best)
			}
		}
		if len(gaps) == 0 {
			break
		}
		slices.SortStableFunc(gaps, func(a, b gap) int { return cmp.Compare(a.wide, b.wide) })
		for _, g := range gaps {
			if size[root(g.i)] == 1 {
				join(g.i, g.j)
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
	var lines []*openLine
	for _, k := range links {
		lines = append(lines, k.line)
	}
	last := links[len(links)-1]
	if n := last.line.node[1-last.from]; n == l.node[0] && degree[n] == 2 {
		return linked(links, true)
	}
	c := linked(links, false)
	c.branch = true
	c.at = last.line.end(1 - last.from)
	// All that hangs together counts for the size.
	parts := []path.Path{c.path}
	for todo := []int{l.node[0], last.line.node[1-last.from]}; len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, m := range w.at[n] {
			if m.ring && !m.used {
				m.used = true
				todo = append(todo, m.node[0], m.node[1])
				parts = append(parts, m.path)
				c.items = append(c.items, m.item)
				lines = append(lines, m)
			}
		}
	}
	c.path = path.Join(0, parts...)
	c.faces = faces(lines)
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
	for i := range parts {
		next := (i + 1) % len(parts)
		if next == 0 && !closed {
			break
		}
		note(parts[i].End(), parts[next].Start())
		if next != i {
			parts[i], parts[next] = uncrossed(parts[i], parts[next])
		}
	}
	c.path = path.Join(JoinGap, parts...)
	if closed {
		c.path = c.path.Close(JoinGap)
	}
	return c
}

// uncrossed takes off two lines that meet what they run on beyond the place where
// they cross, no more than JoinGap from their ends.
func uncrossed(a, b path.Path) (path.Path, path.Path) {
	if a.End().Dist(b.Start()) <= speck {
		return a, b
	}
	for _, x := range a.Intersections(b) {
		if x.Point.Dist(a.End()) > JoinGap || x.Point.Dist(b.Start()) > JoinGap {
			continue
		}
		ra, rb := path.NewRuler(a), path.NewRuler(b)
		to, _ := ra.Nearest(x.Point)
		from, _ := rb.Nearest(x.Point)
		if to > JoinGap && rb.Length()-from > JoinGap {
			return ra.Sub(0, to), rb.Sub(from, rb.Length())
		}
	}
	return a, b
}
