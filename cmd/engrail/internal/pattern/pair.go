package pattern

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// stitching returns the stitching line that is drawn inside of the cut line,
// closed and counter-clockwise, and whether there is one: lines that the drawing
// has for that, or else a closed line that runs beside the cut line all round.
func (p piece) stitching() (path.Path, bool) {
	var said, closed []int
	for i, m := range p.lines {
		named := hasWords(m.words, "stitch") || hasWords(m.words, "stitching") || hasWords(m.words, "sew") || hasWords(m.words, "seamline")
		switch {
		case m.Role == plot.Stitch, m.Role == plot.Drawn && named && !strings.Contains(m.words, "notch"):
			said = append(said, i)
		case m.Role == plot.Drawn && !strings.Contains(m.words, "grain"):
			closed = append(closed, i)
		}
	}
	pathOf := func(i int) path.Path { return p.lines[i].Path }
	cut := path.NewRuler(p.outline)
	var found []chain
	consider := func(q path.Path) {
		if q.Area() < 0 {
			q = q.Reverse()
		}
		c := chain{path: q, size: q.Area(), box: q.Bounds()}
		if c.size > leastStitch*p.outline.Area() && runsInside(q, cut) &&
			!slices.ContainsFunc(found, func(d chain) bool { return sameOutline(d, c) }) {
			found = append(found, c)
		}
	}
	for _, c := range chains(said, pathOf) {
		switch {
		case c.branch:
		case c.path.Closed:
			consider(c.path)
		default:
			if q, ok := closedAlong(c.path, cut); ok {
				consider(q)
			}
		}
	}
	if found == nil {
		for _, c := range chains(closed, pathOf) {
			if c.path.Closed && !c.branch {
				consider(c.path)
			}
		}
		if len(found) > 1 {
			return path.Path{}, false // several sizes in one another
		}
	}
	if found == nil {
		return path.Path{}, false
	}
	best := slices.MaxFunc(found, func(a, b chain) int { return cmp.Compare(a.size, b.size) }).path
	best = cleaned(best)
	return best, best.Area() > 0 && best.Simple()
}

// closedAlong closes an open stitching line whose ends lie on the cut line along
// that, as at a fold.
func closedAlong(line path.Path, cut *path.Ruler) (path.Path, bool) {
	a, d1 := cut.Nearest(line.Start())
	b, d2 := cut.Nearest(line.End())
	if max(d1, d2) > onLine {
		return path.Path{}, false
	}
	one := path.Join(onLine, line, cut.Sub(b, a)).Close(onLine)
	other := path.Join(onLine, line.Reverse(), cut.Sub(a, b)).Close(onLine)
	if other.Area() > one.Area() {
		one = other
	}
	return one, true
}

// runsInside reports whether the closed line runs inside of the cut line and nearly
// all of it beside that, no farther away than an allowance is wide.
func runsInside(line path.Path, cut *path.Ruler) bool {
	const places = 60
	r := path.NewRuler(line)
	beside, apart := 0, 0
	for i := range places {
		at := r.Length() * (float64(i) + 0.5) / places
		q := r.At(at)
		on, d := cut.Nearest(q)
		if d > onLine && !cut.Path().Contains(q) {
			return false
		}
		if d > quietGap {
			apart++
		}
		if d <= mostAllowance && math.Abs(r.TangentAt(at).AngleTo(cut.TangentAt(on))) <= sameWay {
			beside++
		}
	}
	return beside >= places*4/5 && apart > 0
}

// pair finds for every edge of the stitching line its part of the cut line, and
// measures the allowance between the two.
func (t *taking) pair(st *study) {
	cut := path.NewRuler(st.outline)
	n := len(st.edges)
	from := make([]float64, n)
	turns := corners(cut, DefaultCorner)
	taken := map[int]bool{}
	for i, e := range st.edges {
		q := e.path.Start()
		from[i], _ = cut.Nearest(q)
		// The cut line's own corner beside it, where there is one.
		best, least := -1, mostAllowance
		for k, c := range turns {
			if d := cut.At(c.from).Dist(q); d < least && !taken[k] {
				best, least = k, d
			}
		}
		if best >= 0 {
			taken[best] = true
			from[i] = turns[best].from
		}
	}
	for i := range st.edges {
		e := &st.edges[i]
		if a, b := from[i], from[(i+1)%n]; a != b {
			e.cut = cut.Sub(a, b)
		}
		var widths []float64
		const places = 21
		r := path.NewRuler(e.path)
		for k := range places {
			at := r.Length() * (0.2 + 0.6*float64(k)/(places-1))
			q, out := r.At(at), r.TangentAt(at).Right()
			ray := path.Open(q.Add(out.Mul(-quietGap)), q.Add(out.Mul(mostAllowance)))
			least := math.Inf(1)
			for _, x := range ray.Intersections(st.outline) {
				least = min(least, max(0, x.Point.Sub(q).Dot(out)))
			}
			if !math.IsInf(least, 1) {
				widths = append(widths, least)
			}
		}
		if len(widths) == 0 {
			t.warnf("no-allowance", "the cut line is nowhere beside the stitching line of edge #%d, at %s", e.number, at(r.At(r.Length()/2)))
			continue
		}
		slices.Sort(widths)
		e.width, e.measured = widths[len(widths)/2], true
		if e.width <= 2*quietGap {
			e.width = 0
		}
		if least, most := widths[0], widths[len(widths)-1]; most-least > evenWidth {
			t.warnf("uneven-allowance", "the allowance of edge #%d is not even: it measures from %.1f to %.1f mm between the cut and the stitching line, near %s; %.1f mm is taken",
				e.number, least, most, at(r.At(r.Length()/2)), e.width)
		}
	}
}
