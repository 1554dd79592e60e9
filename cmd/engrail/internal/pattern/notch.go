package pattern

import (
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// fillNotches cleans the outline and fills the notches that are cut into it: a
// slit, a V or a box of short lines after which the outline goes on as before.
// They become lines of the piece.
func (p *piece) fillNotches() {
	p.outline = cleaned(p.outline)
	for i := 0; i < p.outline.Segments(); i++ {
		if filled, cut, ok := fillNotch(p.outline, i); ok {
			p.outline = cleaned(filled)
			m := marked{item: item{Line: plot.Line{Path: cut, Width: cut.Start().Dist(cut.End())}}, words: "notch"}
			for _, v := range cut.V {
				if _, d := (path.Segment{A: cut.Start(), B: cut.End()}).Nearest(v.Point); d > m.depth {
					m.depth = d
				}
			}
			switch {
			case m.Width < slitWidth:
				m.Width = 0
			case cut.Segments() == 2:
				m.Notch = fit.VNotch
			default:
				m.Notch = fit.CastleNotch
			}
			p.lines = append(p.lines, m)
			i--
		}
	}
}

// fillNotch fills the notch whose first line is segment i, if there is one.
func fillNotch(outline path.Path, i int) (filled, notch path.Path, ok bool) {
	n := outline.Segments()
	for legs := 2; legs <= 3 && n >= legs+3; legs++ {
		v := make([]path.Point, legs+1)
		short := true
		for k := range v {
			v[k] = outline.V[(i+k)%n].Point
			s := outline.Segment((i + k) % n)
			short = short && (k == legs || s.IsLine() && s.Length() <= notchLength)
		}
		a, b := v[0], v[legs]
		in, out := outline.Segment((i+n-1)%n).EndTangent(), outline.Segment((i+legs)%n).StartTangent()
		way := in
		if b.Dist(a) > speck {
			way = b.Sub(a)
		}
		deep := slices.ContainsFunc(v[1:legs], func(q path.Point) bool { return math.Abs(in.Cross(q.Sub(a))) >= leastDepth })
		if !short || !deep || a.Dist(b) > notchMouth || math.Abs(in.AngleTo(way)) > notchTurn || math.Abs(way.AngleTo(out)) > notchTurn {
			continue
		}
		// The vertices from b round to a, where the way back to b starts.
		for k := range n - legs + 1 {
			filled.V = append(filled.V, outline.V[(i+legs+k)%n])
		}
		filled.V[n-legs].Bulge = path.ArcFrom(a, in, b).Bulge
		filled.Closed = true
		return filled, path.Open(v...), true
	}
	return path.Path{}, path.Path{}, false
}

func touches(outline *path.Ruler, p path.Path) bool {
	if len(outline.Path().Intersections(p)) > 0 {
		return true
	}
	return slices.ContainsFunc(p.V, func(v path.Vertex) bool {
		_, d := outline.Nearest(v.Point)
		return d <= onLine
	})
}

// notch adds the notch that the line draws: where it touches the outline as
// drawn, put square on the net edge.
func (t *taking) notch(panel *fit.Panel, m marked, edges []edge, widths []float64) {
	line := m.Path
	// The places where it touches an edge; else the one nearest to one.
	best, least := -1, math.Inf(1)
	var foot path.Point
	var on []float64
	drawn := make([]path.Path, len(edges))
	for i, e := range edges {
		if drawn[i] = e.path; e.cut.Segments() > 0 {
			drawn[i] = e.cut
		}
		r := path.NewRuler(drawn[i])
		var here []float64
		for _, v := range line.V {
			a, d := r.Nearest(v.Point)
			if d <= onLine {
				here = append(here, a)
			}
			if d < least {
				best, least, foot = i, d, r.At(a)
				on = nil
			}
		}
		for _, x := range drawn[i].Intersections(line) {
			here = append(here, r.Stop(x.I)+x.T*(r.Stop(x.I+1)-r.Stop(x.I)))
			if least > 0 {
				best, least = i, 0
				on = nil
			}
		}
		if best == i && here != nil {
			on = here
		}
	}
	if least > notchLength+widths[best] {
		t.warnf("notch-off-edge", "the notch at %s is %.1f mm from the outline and was left out", at(line.Start()), least)
		return
	}
	if on != nil {
		// A notch with two legs is in the middle between them.
		foot = path.NewRuler(drawn[best]).At((slices.Min(on) + slices.Max(on)) / 2)
	}
	r := path.NewRuler(panel.Edges[best].Path)
	a, _ := r.Nearest(foot)
	if a <= 0 || a >= r.Length() {
		// Beyond the end of the edge: on an allowance that was taken off.
		if beyond := math.Abs(foot.Sub(r.At(a)).Dot(r.TangentAt(a))); beyond > onLine {
			t.warnf("notch-off-edge", "the notch at %s is on the allowance beyond the end of its edge and was left out", at(foot))
			return
		}
	}
	a = min(a, r.Path().Length()) // the ruler's differs by rounding
	for _, n := range panel.Notches {
		if n.Edge == best && math.Abs(n.At-a) < JoinGap {
			return // drawn twice
		}
	}
	n := fit.Notch{Edge: best, At: a, Kind: m.Notch, Depth: m.depth, Width: m.Width}
	if m.Role == plot.Notch {
		n.Depth = line.Length()
	}
	panel.Notches = append(panel.Notches, n)
}
