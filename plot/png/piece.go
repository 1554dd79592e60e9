package png

import (
	"cmp"
	"fmt"
	"slices"

	"engrail/motif/path"
	"engrail/plot"
)

// piece is what is drawn as one: a group with the groups inside it that are
// not pieces of their own.
type piece struct {
	kind  string
	size  string
	hatch int // the number of its hatching, 0 for none
	lines []plot.Line
	texts []plot.Text
	view  view
	in    area // where its lettering may be

	// Of a numbered piece:
	outline, stitch path.Path
	nested          []path.Path
	edges           []NumberedEdge
	heading         []string // lines that stand at its middle
}

// collect returns the pieces of a drawing and the box around their lines. A
// group without signs is given them. It refuses numbers that cannot be drawn.
func collect(d plot.Drawing) ([]piece, path.Box, error) {
	var pieces []piece
	box := path.EmptyBox()
	var visit func(g plot.Group, p *piece) error
	visit = func(g plot.Group, p *piece) error {
		if p == nil || g.Piece != nil {
			pieces = append(pieces, piece{})
			own := len(pieces) - 1
			p = &piece{}
			if g.Piece != nil {
				p.kind, p.size = g.Piece.Kind, g.Piece.Size
			}
			defer func() { pieces[own] = *p }()
		}
		lines := g.Lines
		if !slices.ContainsFunc(lines, func(l plot.Line) bool { return l.Sign }) {
			lines = slices.Concat(lines, g.Signs())
		}
		for i, l := range lines {
			if len(l.Path.V) == 0 {
				continue
			}
			b := l.Path.Bounds()
			if !l.Path.Finite() || !b.Min.Finite() || !b.Max.Finite() {
				return fmt.Errorf("png: %s line %d of %s has a coordinate that is not a number or not finite; check the numbers that it is made from", l.Role, i+1, cmp.Or(g.Name(), "a group without a name"))
			}
			box = box.Union(b)
			p.lines = append(p.lines, l)
		}
		for _, t := range g.Texts {
			if !t.At.Finite() || !finite(t.Height) || !finite(t.Angle) {
				return fmt.Errorf("png: text %q of %s has a place, height or angle that is not finite; check the numbers that it is made from", t.String, cmp.Or(g.Name(), "a group without a name"))
			}
			p.texts = append(p.texts, t)
		}
		for _, in := range g.Groups {
			if err := visit(in, p); err != nil {
				return err
			}
		}
		return nil
	}
	for _, g := range d.Groups {
		if err := visit(g, nil); err != nil {
			return nil, box, err
		}
	}
	return pieces, box, nil
}

func finite(x float64) bool { return path.Point{X: x}.Finite() }

// region returns the outlines of the piece's inside: its cut lines, with its
// fold where that closes them, or its stitching when it has no cut lines; of a
// numbered piece its outline.
func (p piece) region() []path.Path {
	if len(p.outline.V) > 0 {
		return []path.Path{p.outline}
	}
	edge := plot.Stitch
	for _, l := range p.lines {
		if l.Role == plot.Cut && !l.Sign {
			edge = plot.Cut
			break
		}
	}
	var loops, open []path.Path
	for _, l := range p.lines {
		switch {
		case l.Sign:
		case l.Role == edge && l.Path.Closed:
			loops = append(loops, l.Path)
		case (l.Role == edge || l.Role == plot.Fold) && l.Path.Segments() > 0:
			open = append(open, l.Path)
		}
	}
	for len(open) > 0 {
		chain := open[0]
		open = open[1:]
		for i := 0; i < len(open) && chain.Start().Dist(chain.End()) > joinGap; {
			next := open[i]
			if chain.End().Dist(next.Start()) > joinGap {
				next = next.Reverse()
			}
			if chain.End().Dist(next.Start()) > joinGap {
				i++
				continue
			}
			chain = path.Join(joinGap, chain, next)
			open = append(open[:i], open[i+1:]...)
			i = 0
		}
		if chain.Start().Dist(chain.End()) <= joinGap {
			loops = append(loops, chain.Close(joinGap))
		}
	}
	return loops
}
