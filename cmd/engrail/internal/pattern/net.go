package pattern

import (
	"math"
	"slices"

	"engrail/motif/path"
)

// net moves each edge inward by its width and makes the corners where the moved
// edges truly meet: cut off or led on, arcs on their circles. The edges are in
// order round the piece, and so is what it returns; each ends exactly where the
// next one starts.
func net(sel *Selection, edges []edge, widths []float64) ([]path.Path, error) {
	n := len(edges)
	moved := make([]path.Path, n)
	for i, e := range edges {
		all, err := e.own.Offset(-widths[i], path.Corner{Kind: path.Mitred})
		if err != nil {
			return nil, sel.errorf("correct the outline there", "the edge at %s cannot be moved: %v", at(middle(e.path)), err)
		}
		if len(all) != 1 {
			return nil, sel.errorf(correctIncludes,
				"an allowance of %.1f mm cannot be taken off the edge at %s: it is curved too strongly", widths[i], at(middle(e.path)))
		}
		moved[i] = all[0]
	}
	// Corner i is at the start of edge i.
	corners := make([]path.Point, n)
	for i := range n {
		before := (i + n - 1) % n
		if widths[before] == 0 && widths[i] == 0 && !edges[i].soft {
			corners[i] = edges[i].own.Start()
			continue
		}
		c, ok := meeting(edges[before].own, edges[i].own, moved[before], moved[i], widths[before], widths[i])
		if !ok {
			return nil, sel.errorf(correctIncludes,
				"the stitching lines beside the corner at %s do not meet", at(edges[i].path.Start()))
		}
		corners[i] = c
	}
	out := make([]path.Path, n)
	for i := range n {
		start, finish := corners[i], corners[(i+1)%n]
		r := path.NewRuler(ledOn(moved[i], reach(start, moved[i].Start()), reach(finish, moved[i].End())))
		from, _ := r.Nearest(start)
		to, _ := r.Nearest(finish)
		if to-from < vanished {
			return nil, sel.errorf(correctIncludes+"; draw small corners without edges of their own",
				"nothing is left of the edge at %s, %.1f mm long, without its allowance", at(middle(edges[i].path)), edges[i].path.Length())
		}
		p := r.Sub(from, to)
		p.V = slices.Clone(p.V)
		p.V[0].Point = start
		p.V[len(p.V)-1].Point = finish
		out[i] = p
	}
	return out, nil
}

// reach is how far a path must be led on to pass a point near its end.
func reach(corner, end path.Point) float64 { return 1.5*corner.Dist(end) + 1 }

func middle(p path.Path) path.Point {
	r := path.NewRuler(p)
	return r.At(r.Length() / 2)
}

// meeting returns where the moved edges before and after a corner meet: of all
// places the nearest to where their tangents at the corner would.
func meeting(before, after, movedBefore, movedAfter path.Path, wa, wb float64) (path.Point, bool) {
	a, b := movedBefore.End(), movedAfter.Start()
	u, w := before.EndTangent(), after.StartTangent()
	sin := u.Cross(w)
	if math.Abs(sin) < math.Sin(kink) {
		return path.Point{}, false
	}
	// a + s u = b + t w
	want := a.Add(u.Mul(b.Sub(a).Cross(w) / sin))
	far := 1.5*(want.Dist(a)+want.Dist(b)) + 2*(wa+wb) + cornerSpan
	p := movedBefore.LeadOn(far)
	q := movedAfter.Reverse().LeadOn(far).Reverse()
	best, ok := path.Point{}, false
	for _, x := range p.Intersections(q) {
		if d := x.Dist(want); d <= far && (!ok || d < best.Dist(want)) {
			best, ok = x.Point, true
		}
	}
	return best, ok
}

// ledOn returns the path led on beyond both its ends.
func ledOn(p path.Path, start, finish float64) path.Path {
	return p.LeadOn(finish).Reverse().LeadOn(start).Reverse()
}

// withoutEnds makes the shaped ends of allowances part of the edges that they
// end: a side's end may be drawn as the mirror image in the hem's stitching
// line, with a corner on that line. The stitching line goes by the side alone. The
// first edge is the hem.
func withoutEnds(edges []edge, w Widths) []edge {
	// An end beside the hem belongs to the side, one beside the top as well: it is
	// short, next to the edge whose allowance it ends, and its other corner lies as
	// deep as that allowance is wide.
	isEnd := func(e, beside edge, far path.Point, width float64) bool {
		if width == 0 || e.path.Length() > 2*width {
			return false
		}
		// The end leans beyond the edge that it is next to.
		line := ledOn(beside.path, 2*width, 2*width)
		_, d := path.NewRuler(line).Nearest(far)
		return math.Abs(d-width) <= onLine+0.1*width
	}
	for len(edges) > 4 {
		n := len(edges)
		switch {
		case isEnd(edges[1], edges[0], edges[1].path.End(), w.Hem):
			edges = merge(edges, 1, 2)
		case isEnd(edges[n-1], edges[0], edges[n-1].path.Start(), w.Hem):
			edges = merge(edges, n-2, n-2)
		case isEnd(edges[2], edges[3], edges[2].path.Start(), w.Top):
			edges = merge(edges, 1, 1)
		case n > 5 && isEnd(edges[n-2], edges[n-3], edges[n-2].path.End(), w.Top):
			edges = merge(edges, n-2, n-1)
		default:
			return withoutCutOff(edges, w)
		}
	}
	return withoutCutOff(edges, w)
}

// withoutCutOff makes edges that only cut off the corner of an allowance part of
// the edge before: moved inward they would lie outside of the corner of the
// stitching line. The first edge is the hem.
func withoutCutOff(edges []edge, w Widths) []edge {
	cutsOff := func(i int, wa, wb float64) bool {
		n := len(edges)
		a, e, b := edges[i-1], edges[i], edges[(i+1)%n]
		own := min(wa, wb)
		in, out := a.path.EndTangent(), b.path.StartTangent()
		if own == 0 || e.path.Length() > 2*(wa+wb) || in.AngleTo(e.path.StartTangent()) <= 0 || e.path.EndTangent().AngleTo(out) <= 0 || in.AngleTo(out) <= 0 {
			return false
		}
		movedA, errA := a.own.Offset(-wa, path.Corner{Kind: path.Mitred})
		movedB, errB := b.own.Offset(-wb, path.Corner{Kind: path.Mitred})
		if errA != nil || errB != nil || len(movedA) != 1 || len(movedB) != 1 {
			return false
		}
		c, ok := meeting(a.own, b.own, movedA[0], movedB[0], wa, wb)
		start, chord := e.path.Start(), e.path.End().Sub(e.path.Start())
		return ok && chord.Unit().Cross(c.Sub(start)) >= own
	}
	for i := 1; i < len(edges) && len(edges) > 3; {
		n := len(edges)
		wa, wb := w.Top, w.Top
		switch i {
		case 1:
			wa, wb = w.Hem, w.Finish
		case 2:
			wa = w.Finish
		}
		switch i {
		case n - 1:
			wa, wb = w.Start, w.Hem
		case n - 2:
			wb = w.Start
		}
		if !cutsOff(i, wa, wb) {
			i++
			continue
		}
		// The edge after it begins with it, and its own line does not.
		if i == n-1 {
			edges = merge(edges, i-1, i-1)
		} else {
			edges = merge(edges, i, i+1)
		}
		i = 1
	}
	return edges
}
