package command

import (
	"fmt"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/marker"
)

// markerPieces returns the pieces of a pattern as they are to be cut, in all sizes.
func (in *inspection) markerPieces() []marker.Piece {
	var all []marker.Piece
	for _, s := range in.sizes {
		taken := map[string]int{}
		for _, p := range s.report.Pieces {
			piece := pieceToLay(p, s.Name)
			if taken[piece.Name]++; taken[piece.Name] > 1 {
				piece.Name = fmt.Sprintf("%s (%d)", piece.Name, taken[piece.Name])
			}
			all = append(all, piece)
		}
	}
	return all
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
	shape := func(outline path.Path, fold path.Segment) marker.Shape {
		g := group
		g.Lines = append([]plot.Line{{Role: plot.Cut, Path: outline}}, g.Lines...)
		if fold.Length() > 0 {
			g.Lines = append(g.Lines, plot.Line{Role: plot.Fold, Path: path.FromSegments(fold)})
		}
		g.Lines = append(g.Lines, g.Signs()...)
		return marker.Shape{Outline: outline, Group: g, Along: marker.Upward(p.Grain.Chord()), Fold: fold}
	}
	out.Whole = shape(p.Outline, path.Segment{})
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
		half := shape(p.Outline, fold)
		out.Half, out.Whole = &half, shape(whole, path.Segment{})
	}
	return out
}

// opened returns the outline with its mirror image in a fold, which is a part of it, and
// the fold from end to end of the outline.
func opened(outline, edge path.Path) (path.Path, path.Segment, bool) {
	ruler := path.NewRuler(outline)
	from, off := ruler.Nearest(edge.Start())
	to, off2 := ruler.Nearest(edge.End())
	if max(off, off2) > pattern.JoinGap {
		return path.Path{}, path.Segment{}, false
	}
	fold := path.Line(ruler.At(from), ruler.At(to))
	half := ruler.Sub(to, from) // all but the fold
	image := half.Transform(path.Reflection(fold.A, fold.Chord())).Reverse()
	return path.Join(pattern.JoinGap, half, image).Close(pattern.JoinGap), fold, true
}
