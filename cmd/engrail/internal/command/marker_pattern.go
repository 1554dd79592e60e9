package command

import (
	"fmt"
	"math"
	"slices"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/marker"
)

// markerPieces returns the pieces of a pattern as they are to be cut, in all sizes. A
// piece on the fold without a straight side there is an error.
func (in *inspection) markerPieces() ([]marker.Piece, error) {
	var all []marker.Piece
	for _, s := range in.sizes {
		taken := map[string]int{}
		for _, p := range s.report.Pieces {
			piece := pieceToLay(p, s.Name)
			if p.OnFold && piece.Half == nil {
				return nil, &fileError{fmt.Sprintf("%s: %s is cut on the fold, and no straight side of it is one", in.file, piece.Name),
					"draw the fold as a straight side of the piece, with the word fold beside it", nil}
			}
			if taken[piece.Name]++; taken[piece.Name] > 1 {
				piece.Name = fmt.Sprintf("%s (%d)", piece.Name, taken[piece.Name])
			}
			all = append(all, piece)
		}
	}
	return all, nil
}

// pieceToLay returns a piece of a pattern as it is to be cut: on a fold, opened out too.
func pieceToLay(p pattern.Inspected, size string) marker.Piece {
	out := marker.Piece{Name: p.Name, Size: size, Quantity: max(1, p.Quantity)}
	if out.Name == "" {
		out.Name = fmt.Sprintf("piece %d", p.Number)
	}
	out.Pairs = !p.OnFold && out.Quantity > 1
	group := plot.Group{ID: plot.Identifier(out.Name, size), Label: out.Name, Piece: &plot.Piece{Name: out.Name, Size: size}}
	if p.Grain.Length() > 0 {
		group.Lines = append(group.Lines, plot.Line{Role: plot.Grain, Path: path.FromSegments(p.Grain)})
	}
	notches := notchLines(p)
	shape := func(outline path.Path, fold path.Segment, notches []plot.Line) marker.Shape {
		g := group
		g.Lines = slices.Concat([]plot.Line{{Role: plot.Cut, Path: outline}}, g.Lines, notches)
		if fold.Length() > 0 {
			g.Lines = append(g.Lines, plot.Line{Role: plot.Fold, Path: path.FromSegments(fold)})
		}
		g.Lines = append(g.Lines, g.Signs()...)
		return marker.Shape{Outline: outline, Group: g, Along: marker.Upward(p.Grain.Chord()), Fold: fold}
	}
	out.Whole = shape(p.Outline, path.Segment{}, notches)
	if !p.OnFold {
		return out
	}
	for _, e := range p.Edges {
		if e.Word != "fold" {
			continue
		}
		whole, fold, ok := opened(p.Outline, e.Path)
		if !ok {
			continue
		}
		half := shape(p.Outline, fold, notches)
		both := slices.Clone(notches)
		for _, n := range notches {
			n.Path = n.Path.Transform(path.Reflection(fold.A, fold.Chord()))
			both = append(both, n)
		}
		out.Half, out.Whole = &half, shape(whole, path.Segment{}, both)
	}
	return out
}

// slitDepth (distance, mm) is how deep the notches of a pattern are drawn on a marker, whatever
// its drawing has: within the narrowest usual allowance.
const slitDepth = 5

// notchLines returns the notches of a piece as slits from its outline inward, no deeper than half
// of what its allowances are measured to be.
func notchLines(p pattern.Inspected) (all []plot.Line) {
	depth := float64(slitDepth)
	for _, e := range p.Edges {
		if e.Measured && e.Allowance > 0 {
			depth = min(depth, e.Allowance/2)
		}
	}
	outline := path.NewRuler(p.Outline)
	for _, n := range p.Notches {
		along, _ := outline.Nearest(n)
		at := outline.At(along)
		inward := outline.TangentAt(along).Left().Mul(depth)
		all = append(all, plot.Line{Role: plot.Notch, Path: path.Open(at, at.Add(inward))})
	}
	return all
}

// opened returns the outline with its mirror image in the line of a fold, on which a side
// of it lies, and that side.
func opened(outline, edge path.Path) (path.Path, path.Segment, bool) {
	axis := edge.End().Sub(edge.Start())
	on := func(i int) bool {
		s := outline.Segment(i)
		off := func(p path.Point) float64 { return math.Abs(p.Sub(edge.Start()).Cross(axis.Unit())) }
		return max(off(s.A), off(s.B), off(s.At(0.5))) <= pattern.Straight
	}
	ruler := path.NewRuler(outline)
	along, off := ruler.Nearest(edge.Start().Lerp(edge.End(), 0.5))
	first, _ := ruler.Find(along)
	n := outline.Segments()
	if off > pattern.JoinGap || !on(first) {
		return path.Path{}, path.Segment{}, false
	}
	last := first
	for range n {
		if k := (first + n - 1) % n; on(k) {
			first = k
		}
		if k := (last + 1) % n; on(k) {
			last = k
		}
	}
	fold := path.Line(outline.Segment(first).A, outline.Segment(last).B)
	half := ruler.Sub(ruler.Stop(last+1), ruler.Stop(first))
	image := half.Transform(path.Reflection(fold.A, fold.Chord())).Reverse()
	return path.Join(pattern.JoinGap, half, image).Close(pattern.JoinGap), fold, true
}
