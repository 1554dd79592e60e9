package proof

import (
	"math"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/toolpath"
)

// Findings are what a drawing holds.
type Findings struct {
	// Box is round all lines.
	Box path.Box
	// Roles are those that have lines, in the order of plot.Roles, drawn lines
	// first.
	Roles []Lines
	Texts int
	// Open are the starts of cut lines that do not close, Crossing the places where a
	// cut line crosses itself, Close vertices nearer than 0.05 mm to the one before,
	// Duplicates the starts of cut lines of which a part lies on an earlier one.
	Open, Crossing, Close, Duplicates []path.Point
}

// Lines are those of a role: how many, and how long together in mm.
type Lines struct {
	Role   plot.Role
	Count  int
	Length float64
}

// Look lists what a drawing holds. Lines without vertices and with coordinates that
// are not numbers do not count; places are in the order of the drawing.
func Look(lines []plot.Line, texts int) Findings {
	f := Findings{Box: path.EmptyBox(), Texts: texts}
	sums := map[plot.Role]*Lines{}
	var cuts []toolpath.Line
	for _, l := range lines {
		if len(l.Path.V) == 0 || !l.Path.Finite() {
			continue
		}
		f.Box = f.Box.Union(l.Path.Bounds())
		if sums[l.Role] == nil {
			sums[l.Role] = &Lines{Role: l.Role}
		}
		sums[l.Role].Count++
		sums[l.Role].Length += l.Path.Length()
		for i := range l.Path.Segments() {
			if s := l.Path.Segment(i); s.Length() < near {
				f.Close = append(f.Close, s.B)
			}
		}
		if l.Role != plot.Cut {
			continue
		}
		cuts = append(cuts, toolpath.Line{Path: l.Path})
		if !l.Path.Closed && l.Path.Start().Dist(l.Path.End()) > near {
			f.Open = append(f.Open, l.Path.Start())
		}
		f.Crossing = append(f.Crossing, crossings(l.Path)...)
	}
	for _, r := range append([]plot.Role{plot.Drawn}, plot.Roles()...) {
		if s := sums[r]; s != nil {
			f.Roles = append(f.Roles, *s)
		}
	}
	f.Duplicates = duplicates(cuts)
	return f
}

// duplicates returns the starts of the lines of which a part lies on an earlier line,
// or on an earlier part of their own.
func duplicates(cuts []toolpath.Line) (at []path.Point) {
	left := make([]float64, len(cuts))
	for _, p := range toolpath.Once(cuts, same) {
		left[p.Of] += p.Path.Length()
	}
	for i, c := range cuts {
		if lost := c.Path.Length() - left[i]; lost > near || left[i] == 0 && len(c.Path.V) > 1 {
			at = append(at, c.Path.Start())
		}
	}
	return at
}

// crossings returns the places where a path crosses itself. Where it runs along
// itself, as behind a closed line's start, it does not, though rounding may weave one
// round the other.
func crossings(p path.Path) (at []path.Point) {
	found := p.SelfIntersections()
	if len(found) == 0 {
		return nil
	}
	r := path.NewRuler(p)
	along := func(i int, t float64) float64 { return r.Stop(i) + t*p.Segment(i).Length() }
	for _, x := range found {
		if x.Overlap {
			continue
		}
		loop := along(x.J, x.U) - along(x.I, x.T)
		steep := math.Abs(p.Segment(x.I).TangentAt(x.T).Cross(p.Segment(x.J).TangentAt(x.U)))
		if loop > crossingSlack && loop < r.Length()-crossingSlack && steep > alongside {
			at = append(at, x.Point)
		}
	}
	return at
}
