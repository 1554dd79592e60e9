package proof

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
	"engrail/plot"
)

// Comparison is how far what was read is from its design.
type Comparison struct {
	// Max is the largest distance in mm, 0 when nothing was compared and +Inf when
	// there is nothing where something should be.
	Max float64
	// ScaleX and ScaleY are the sizes of what was read to those of the design, 1
	// where the design has none.
	ScaleX, ScaleY float64
	// Classes are the parts of the design, in the order of their first line.
	Classes []Deviation
}

// Deviation is the largest distance in mm of one class of lines, and where on the
// design or in the file that is.
type Deviation struct {
	Class string
	Max   float64
	At    path.Point
}

// Compare measures what was read against the design, which lies in the same place.
// Class says which lines belong together, such as those of a role or of a pen.
//
// Every point of the design has to have a line near it in the file, of whatever
// class: a line on which two lie is drawn once. Every point of the file has to
// have a line of its own class near it in the design. The distance is the largest
// of both, measured at the ends of every segment and, where it is longer than half a
// mm, along it: at points not further apart than 25 mm on lines and a sixteenth of a
// turn on arcs.
func Compare(design, read []plot.Line, class func(plot.Line) string) Comparison {
	c := Comparison{ScaleX: 1, ScaleY: 1}
	want, got := bounds(design), bounds(read)
	if want.Width() > 0 {
		c.ScaleX = got.Width() / want.Width()
	}
	if want.Height() > 0 {
		c.ScaleY = got.Height() / want.Height()
	}
	designed, classes := byClass(design, class)
	found, _ := byClass(read, class)
	var all []path.Path
	for _, l := range read {
		all = append(all, l.Path)
	}
	file := path.NewLocator(all...)
	for _, name := range classes {
		d := Deviation{Class: name}
		d.furthest(designed[name], file)
		d.furthest(found[name], path.NewLocator(designed[name]...))
		c.Classes = append(c.Classes, d)
		c.Max = max(c.Max, d.Max)
	}
	// What no class of the design has.
	for _, l := range read {
		name := class(l)
		if _, ok := designed[name]; !ok && !slices.ContainsFunc(c.Classes, func(d Deviation) bool { return d.Class == name }) && len(l.Path.V) > 0 {
			c.Classes = append(c.Classes, Deviation{Class: name, Max: math.Inf(1), At: l.Path.Start()})
			c.Max = math.Inf(1)
		}
	}
	return c
}

func byClass(lines []plot.Line, class func(plot.Line) string) (paths map[string][]path.Path, order []string) {
	paths = map[string][]path.Path{}
	for _, l := range lines {
		name := class(l)
		if _, had := paths[name]; !had {
			order = append(order, name)
		}
		paths[name] = append(paths[name], l.Path)
	}
	return paths, order
}

func bounds(lines []plot.Line) path.Box {
	b := path.EmptyBox()
	for _, l := range lines {
		b = b.Union(l.Path.Bounds())
	}
	return b
}

// furthest looks for a point of the paths that is further from what is located.
func (d *Deviation) furthest(paths []path.Path, to *path.Locator) {
	visit := func(p path.Point) {
		if off, _ := to.Nearest(p, d.Max); off > d.Max || math.IsNaN(off) {
			d.Max, d.At = off, p
		}
	}
	for _, p := range paths {
		if p.Segments() == 0 && len(p.V) > 0 {
			visit(p.V[0].Point)
		}
		for i := range p.Segments() {
			s := p.Segment(i)
			visit(s.A)
			if length := s.Length(); length > shortMM {
				n := min(mostPoints, math.Ceil(max(2, length/everyMM, math.Abs(s.Sweep())/(math.Pi/2)*arcPoints)))
				for k := 1.0; k < n; k++ {
					visit(s.At(k / n))
				}
			}
			if i == p.Segments()-1 {
				visit(s.B)
			}
		}
	}
}

// Worst returns the class with the largest distance, the first of several.
func (c Comparison) Worst() (d Deviation, ok bool) {
	if len(c.Classes) == 0 {
		return d, false
	}
	return slices.MaxFunc(c.Classes, func(a, b Deviation) int { return cmp.Compare(a.Max, b.Max) }), true
}
