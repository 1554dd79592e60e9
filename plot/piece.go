package plot

import (
	"strings"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot/internal/ascii"
)

// FromPiece draws a piece as a group: its cut line closed, the stitching line
// in runs, without folds and without edges that have no allowance, where it
// would lie on the cut line; then its marks, its label and its signs.
func FromPiece(p facing.Piece, style string) Group {
	g := Group{
		ID:    Identifier(p.Name, p.Size),
		Label: p.Name,
		Piece: &Piece{
			Name: p.Name, Size: p.Size, Style: style, Kind: p.Kind.String(),
			Quantity: p.Quantity, OnFold: p.OnFold, Pairs: p.Pairs, Notes: p.Label.Lines,
		},
	}
	add := func(r Role, line path.Path) { g.Lines = append(g.Lines, Line{Role: r, Path: line}) }
	segment := func(r Role, s path.Segment) { add(r, path.FromSegments(s)) }

	add(Cut, p.Cut())
	for _, run := range stitching(p) {
		add(Stitch, run)
	}
	for _, l := range p.Stitches {
		add(Stitch, l)
	}
	for _, e := range p.Edges {
		switch {
		case e.Role == fit.FoldEdge:
			// From cut line to cut line: all of it is laid on the fold.
			segment(Fold, path.Line(e.Cut.Start(), e.Cut.End()))
		case e.Inner && e.Allowance > 0:
			add(Inner, e.Net)
		}
	}
	if len(p.Hole.Net.V) > 0 {
		add(Cut, p.Hole.Cut)
		if p.Hole.Allowance > 0 {
			add(Inner, p.Hole.Net)
		}
	}
	for _, n := range p.Notches {
		g.Lines = append(g.Lines, Line{Role: Notch, Path: path.FromSegments(n.Line), Notch: n.Kind, Width: n.Width})
	}
	for _, c := range p.Clips {
		if c.Kind.Cut() {
			add(Clip, c.Line)
		} else {
			add(Mark, c.Line)
		}
	}
	for _, l := range p.Trims {
		add(Mark, l)
	}
	for _, l := range p.Pivots {
		add(Mark, l)
	}
	for _, l := range p.Internal {
		add(Internal, l)
	}
	for _, c := range p.Cutouts {
		add(Cut, c)
	}
	for _, d := range p.Drills {
		add(Mark, path.Open(d))
	}
	if p.Grain.Length() > 0 {
		segment(Grain, p.Grain)
	}
	g.Texts = texts(p.Label)
	for _, t := range p.Texts {
		g.Texts = append(g.Texts, Text{At: t.At, Height: t.Height, Angle: t.Angle, String: t.String})
	}
	g.Lines = append(g.Lines, g.Signs()...)
	return g
}

// stitching returns the runs of net edges that are sewn: those with an
// allowance, joined where they follow one another. A facing's inner edge is
// left to its own role.
func stitching(p facing.Piece) []path.Path {
	sewn := func(e facing.Edge) bool {
		return e.Allowance > 0 && e.Role != fit.FoldEdge && !e.Inner
	}
	n := len(p.Edges)
	first := -1 // an edge that is not sewn, so that a run starts behind it
	for i, e := range p.Edges {
		if !sewn(e) {
			first = i
			break
		}
	}
	if first < 0 {
		return []path.Path{p.Net()}
	}
	var runs []path.Path
	var run path.Path
	for i := 1; i <= n; i++ {
		e := p.Edges[(first+i)%n]
		if sewn(e) {
			run = path.Join(fit.JoinGap, run, e.Net)
		} else if len(run.V) > 0 {
			runs = append(runs, run)
			run = path.Path{}
		}
	}
	return runs
}

// texts sets the label's lines one below the other, centred on its place.
func texts(l facing.Label) []Text {
	along := path.Direction(l.Angle)
	step := l.Height * lineSpacing
	list := make([]Text, len(l.Lines))
	for i, line := range l.Lines {
		up := (float64(len(l.Lines)-1)/2-float64(i))*step - l.Height/2
		list[i] = Text{
			At: l.At.Add(along.Left().Mul(up)), Height: l.Height, Angle: l.Angle,
			Align: Middle, String: line,
		}
	}
	return list
}

// Identifier makes an identifier of the words: letters from a to z without
// marks, digits, and hyphens for all else.
func Identifier(words ...string) string {
	var b strings.Builder
	for _, w := range words {
		for _, r := range strings.ToLower(ascii.Fold(w)) {
			switch {
			case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
				b.WriteRune(r)
			case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
				b.WriteByte('-')
			}
		}
		if b.Len() > 0 && !strings.HasSuffix(b.String(), "-") {
			b.WriteByte('-')
		}
	}
	return strings.TrimSuffix(b.String(), "-")
}
