package plot

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// Stretch returns the drawing x times as wide and y times as high about the
// origin, for a machine that is off by other ratios along than across. Arcs
// become arcs within the tolerance in mm of what they would be. Texts move and
// keep their size.
//
// A ratio that is not between 1/2 and 2 is an error.
func (d Drawing) Stretch(x, y, tolerance float64) (Drawing, error) {
	for _, k := range [2]float64{x, y} {
		if !(k >= 0.5 && k <= 2) {
			return d, fmt.Errorf("plot: a drawing cannot be stretched by %g; measure again", k)
		}
	}
	switch {
	case x == 1 && y == 1:
		return d, nil
	case x == y:
		return d.Transform(path.Scaling(path.Point{}, x)), nil
	}
	m := path.Affine{A: x, D: y}
	groups := make([]Group, len(d.Groups))
	for i, g := range d.Groups {
		var err error
		if groups[i], err = g.stretched(m, tolerance); err != nil {
			return d, err
		}
	}
	d.Groups = groups
	return d, nil
}

func (g Group) stretched(m path.Affine, tolerance float64) (Group, error) {
	lines := make([]Line, len(g.Lines))
	for i, l := range g.Lines {
		p, err := stretched(l.Path, m, tolerance)
		if err != nil {
			return g, fmt.Errorf("plot: %v line %d of %s: %w", l.Role, i+1, g.Name(), err)
		}
		l.Path = p
		lines[i] = l
	}
	texts := make([]Text, len(g.Texts))
	for i, t := range g.Texts {
		t.At = m.Apply(t.At)
		texts[i] = t
	}
	groups := make([]Group, len(g.Groups))
	for i, in := range g.Groups {
		var err error
		if groups[i], err = in.stretched(m, tolerance); err != nil {
			return g, err
		}
	}
	g.Lines, g.Texts, g.Groups = lines, texts, groups
	return g, nil
}

func stretched(p path.Path, m path.Affine, tolerance float64) (path.Path, error) {
	if p.Segments() == 0 {
		out := path.Path{Closed: p.Closed}
		for _, v := range p.V {
			out.V = append(out.V, path.Vertex{Point: m.Apply(v.Point)})
		}
		return out, nil
	}
	var segments []path.Segment
	for i := range p.Segments() {
		s := p.Segment(i)
		// An arc that hardly leaves its chord keeps its shape.
		if math.Abs(s.Bulge)*s.Chord().Len() <= tolerance/4 {
			segments = append(segments, path.Segment{A: m.Apply(s.A), B: m.Apply(s.B), Bulge: s.Bulge})
			continue
		}
		// In parts of at most half a turn, each an arc of an ellipse.
		n := int(math.Ceil(math.Abs(s.Sweep())/math.Pi - path.Coincident))
		for k := range n {
			part := s.Sub(float64(k)/float64(n), float64(k+1)/float64(n))
			centre := part.Centre()
			r := part.Radius()
			fitted, err := path.EllipticArc{
				Centre: centre, RX: r, RY: r, Start: part.A.Sub(centre).Angle(), Sweep: part.Sweep(),
			}.Transform(m).Fit(tolerance)
			if err != nil {
				return p, err
			}
			for j := range fitted.Segments() {
				segments = append(segments, fitted.Segment(j))
			}
		}
	}
	out := path.FromSegments(segments...)
	if p.Closed {
		// The last vertex is the first one.
		out.V, out.Closed = out.V[:len(out.V)-1], true
	}
	return out, nil
}
