package pattern

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// faces returns what the lines enclose, where more than two of them meet: the
// outlines of pieces that share a line or a corner. Each is counter-clockwise.
func faces(lines []*openLine) []chain {
	walks := walk(lines)
	// A line with the same face on both sides bounds none.
	bridge := map[*openLine]bool{}
	for _, links := range walks {
		seen := map[*openLine]bool{}
		for _, k := range links {
			bridge[k.line] = bridge[k.line] || seen[k.line]
			seen[k.line] = true
		}
	}
	if kept := slices.DeleteFunc(slices.Clone(lines), func(l *openLine) bool { return bridge[l] }); len(kept) < len(lines) {
		walks = walk(kept)
	}
	var all []chain
	sides := map[*openLine]int{}
	var of [][]link
	for _, links := range walks {
		c := linked(links, true)
		if c.size = c.path.Area(); c.size <= 0 {
			continue // all round them
		}
		c.box = c.path.Bounds()
		for _, k := range links {
			sides[k.line]++
		}
		all, of = append(all, c), append(of, links)
	}
	for i := range all {
		all[i].touches = len(all) > 1
		all[i].shared = slices.ContainsFunc(of[i], func(k link) bool { return sides[k.line] > 1 })
	}
	return all
}

// walk goes along both sides of every line, at each point on to the next line on
// the left, until it comes back.
func walk(lines []*openLine) [][]link {
	type way struct {
		link
		angle float64
	}
	from := map[int][]way{}
	for _, l := range lines {
		r := path.NewRuler(l.path)
		reach := min(r.Length()/2, cornerSpan)
		for end := range 2 {
			to := r.At(reach)
			if end == 1 {
				to = r.At(r.Length() - reach)
			}
			from[l.node[end]] = append(from[l.node[end]], way{link{l, end}, to.Sub(l.end(end)).Angle()})
		}
	}
	next := map[link]link{}
	for _, ways := range from {
		slices.SortStableFunc(ways, func(a, b way) int { return cmp.Compare(a.angle, b.angle) })
		for i, w := range ways {
			// Come in along w, leave by the way that is next clockwise: the face is
			// on the left.
			next[link{w.line, 1 - w.from}] = ways[(i+len(ways)-1)%len(ways)].link
		}
	}
	var all [][]link
	done := map[link]bool{}
	for _, l := range lines {
		for end := range 2 {
			var links []link
			for k := (link{l, end}); !done[k]; k = next[k] {
				done[k] = true
				links = append(links, k)
			}
			if links != nil {
				all = append(all, links)
			}
		}
	}
	return all
}

// besides closes the open chains that begin and end on the outline of a closed
// one and lie outside of it: pieces of which the shared line is drawn once.
func besides(closed, open []chain) []chain {
	var added []chain
	for range mostPasses {
		grown := false
		for i, o := range open {
			if o.path.Closed || o.branch || o.inner || o.path.Length() < 4*notchLength {
				continue
			}
			for _, c := range closed {
				if q, ok := beside(o, c); ok {
					open[i].path.Closed = true
					added, closed, grown = append(added, q), append(closed, q), true
					break
				}
			}
		}
		if !grown {
			break
		}
	}
	return added
}

// beside closes the open chain along the outline of the closed one.
func beside(o, c chain) (chain, bool) {
	box := c.box.Grow(JoinGap)
	if !box.Contains(o.path.Start()) || !box.Contains(o.path.End()) {
		return chain{}, false
	}
	r := path.NewRuler(c.path)
	from, d1 := r.Nearest(o.path.End())
	to, d2 := r.Nearest(o.path.Start())
	if max(d1, d2) > JoinGap || mostly(o.path, func(q path.Point) bool {
		_, d := r.Nearest(q)
		return d <= onLine || c.path.Contains(q)
	}) {
		return chain{}, false
	}
	o.shared, o.touches = true, true
	o.gap, o.at = max(o.gap, d1, d2), o.path.Start()
	one := path.Join(JoinGap, o.path, r.Sub(from, to)).Close(JoinGap)
	other := path.Join(JoinGap, o.path, r.Sub(to, from).Reverse()).Close(JoinGap)
	if math.Abs(other.Area()) < math.Abs(one.Area()) {
		one = other
	}
	o.path, o.size, o.box = one, math.Abs(one.Area()), one.Bounds()
	return o, true
}
