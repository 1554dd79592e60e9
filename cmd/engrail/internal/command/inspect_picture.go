package command

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

const (
	// inspectLongest is the longest side of the picture in px.
	inspectLongest = 1400
	// onEdge (distance, mm) is how near to an outline a line is taken for a part of
	// it, which the picture shows already.
	onEdge = 1
	// pieceGap (mm) is left between pieces that are laid apart.
	pieceGap = 60
	// notchDepth (mm) is how long a notch is shown when the drawing has only a short
	// line; longestNotch is the longest line that is one.
	notchDepth, longestNotch = 6, 30
)

// draw draws the pieces with their edges numbered, those of the largest size with
// the outlines of the others.
func (in *inspection) draw(w io.Writer) error {
	shown := in.shown()
	title := filepath.Base(in.file)
	if n := len(in.sizes); n > 1 {
		title += fmt.Sprintf(": size %s of %s to %s", shown.Name, in.sizes[0].Name, shown.Name)
	}
	all := in.numbered()
	if overlap(all) {
		spread(all)
	}
	return png.WriteNumbered(w, all, png.Options{Title: title, Longest: inspectLongest})
}

// numbered returns the pieces of the picture, as they lie in the file.
func (in *inspection) numbered() (all []png.Numbered) {
	shown := in.shown()
	for _, p := range shown.report.Pieces {
		n := png.Numbered{
			Name: fmt.Sprintf("%d %s", p.Number, p.Name), Notes: pieceNotes(p),
			Outline: p.Outline, Stitch: p.Stitch, Lines: inside(shown.Drawing, p),
		}
		for _, e := range p.Edges {
			n.Edges = append(n.Edges, png.NumberedEdge{Number: e.Number, Word: e.Word, Corner: e.Letter, Path: e.Path})
		}
		if len(p.Edges) == 0 {
			// One line without corners: it is still shown.
			n.Lines = append(n.Lines, plot.Line{Role: plot.Cut, Path: p.Outline})
		}
		for _, s := range in.sizes[:len(in.sizes)-1] {
			if q, ok := pieceOf(s.report, p); ok {
				n.Nested = append(n.Nested, q.Outline)
			}
		}
		all = append(all, n)
	}
	return all
}

// overlap reports whether two of the pieces lie over one another, as they do where
// a file has each of them at its own origin.
func overlap(pieces []png.Numbered) bool {
	for i, a := range pieces {
		for _, b := range pieces[i+1:] {
			if a.Outline.Bounds().Meets(b.Outline.Bounds()) &&
				(a.Outline.Contains(b.Outline.Start()) || b.Outline.Contains(a.Outline.Start()) || len(a.Outline.Intersections(b.Outline)) > 1) {
				return true
			}
		}
	}
	return false
}

// spread lays the pieces apart, in rows of about the same width and height.
func spread(pieces []png.Numbered) {
	boxes := make([]path.Box, len(pieces))
	wide, area := 0.0, 0.0
	for i, p := range pieces {
		boxes[i] = p.Outline.Bounds()
		for _, n := range p.Nested {
			boxes[i] = boxes[i].Union(n.Bounds())
		}
		boxes[i] = boxes[i].Grow(pieceGap / 2)
		wide = max(wide, boxes[i].Width())
		area += boxes[i].Width() * boxes[i].Height()
	}
	wide = max(wide, 1.2*math.Sqrt(area))
	x, y, high := 0.0, 0.0, 0.0
	for i, b := range boxes {
		if x > 0 && x+b.Width() > wide {
			x, y, high = 0, y-high, 0
		}
		pieces[i] = moved(pieces[i], path.Vec{X: x - b.Min.X, Y: y - b.Max.Y})
		x, high = x+b.Width(), max(high, b.Height())
	}
}

// moved returns the piece moved by the vector.
func moved(p png.Numbered, by path.Vec) png.Numbered {
	m := path.Translation(by)
	p.Outline, p.Stitch = p.Outline.Transform(m), p.Stitch.Transform(m)
	p.Edges, p.Lines, p.Nested = slices.Clone(p.Edges), slices.Clone(p.Lines), slices.Clone(p.Nested)
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Transform(m)
	}
	for i := range p.Lines {
		p.Lines[i].Path = p.Lines[i].Path.Transform(m)
	}
	for i := range p.Nested {
		p.Nested[i] = p.Nested[i].Transform(m)
	}
	return p
}

// pieceNotes are the lines under the name of a piece.
func pieceNotes(p pattern.Inspected) []string {
	switch {
	case p.Quantity > 0 && p.OnFold:
		return []string{fmt.Sprintf("cut %d on fold", p.Quantity)}
	case p.Quantity > 0:
		return []string{fmt.Sprintf("cut %d", p.Quantity)}
	case p.OnFold:
		return []string{"on fold"}
	}
	return nil
}

// inside returns the lines of the drawing that lie in the piece, without those
// that its outline shows: its grain and its notches by what they are, all others
// as inside lines.
func inside(d plot.Drawing, p pattern.Inspected) []plot.Line {
	var all []plot.Line
	outline := path.NewRuler(p.Outline)
	edges := []*path.Ruler{outline}
	if len(p.Stitch.V) > 0 {
		edges = append(edges, path.NewRuler(p.Stitch))
	}
	if p.Grain.Length() > 0 {
		grain := path.FromSegments(p.Grain)
		edges = append(edges, path.NewRuler(grain))
		all = append(all, plot.Line{Role: plot.Grain, Path: grain})
	}
	for _, n := range p.Notches {
		a, _ := outline.Nearest(n)
		all = append(all, plot.Line{Role: plot.Notch, Path: path.Open(n, n.Add(outline.TangentAt(a).Left().Mul(notchDepth)))})
	}
	for _, g := range d.Groups {
		g.Walk(func(g plot.Group) {
			for _, l := range g.Lines {
				if l.Sign || len(l.Path.V) == 0 || !p.Outline.Bounds().Meets(l.Path.Bounds()) || !p.Outline.Contains(middleOf(l.Path)) {
					continue
				}
				if along(l.Path, edges) || isNotch(l.Path, p.Notches) {
					continue
				}
				if l.Role != plot.Mark && l.Role != plot.Clip {
					l.Role = plot.Internal
				}
				all = append(all, l)
			}
		})
	}
	return all
}

// isNotch reports whether a line is drawn at one of the notches.
func isNotch(l path.Path, notches []path.Point) bool {
	if l.Length() > longestNotch {
		return false
	}
	for _, n := range notches {
		if math.Min(n.Dist(l.Start()), n.Dist(l.End())) <= onEdge {
			return true
		}
	}
	return false
}

// along reports whether a line lies on one of the edges all along.
func along(l path.Path, edges []*path.Ruler) bool {
	const places = 24
	at := func(int) path.Point { return l.Start() } // of a line without length
	if l.Segments() > 0 {
		r := path.NewRuler(l)
		at = func(i int) path.Point { return r.At(r.Length() * float64(i) / places) }
	}
	for _, e := range edges {
		on := true
		for i := 0; on && i <= places; i++ {
			_, d := e.Nearest(at(i))
			on = d <= onEdge
		}
		if on {
			return true
		}
	}
	return false
}

// middleOf returns the middle of a line, which may have no length.
func middleOf(p path.Path) path.Point {
	if p.Segments() == 0 {
		return p.Start()
	}
	r := path.NewRuler(p)
	return r.At(r.Length() / 2)
}
