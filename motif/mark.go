package motif

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// MarkKind is a kind of mark inside of a motif.
type MarkKind uint8

// The kinds of marks.
const (
	NoMark MarkKind = iota
	// Eyelet is a circle.
	Eyelet
	// Keyhole is a circle with a slot of half its width that runs down towards the
	// base line, one and a half times as long as the circle is wide from its middle.
	Keyhole
)

// Mark is drawn inside of each motif, under its peak.
type Mark struct {
	Kind MarkKind
	// Size is the diameter of its circle, and Height that of the circle's middle above
	// the base line; 0 is half of the depth.
	Size, Height float64
}

// marked adds the shape's mark to the cell.
func (s Shape) marked(c Cell) (Cell, error) {
	m := s.Mark
	if m.Kind == NoMark {
		return c, nil
	}
	height := m.Height
	if height == 0 {
		height = c.Depth / 2
	}
	if !(m.Size >= minMeasure && m.Size <= maxMeasure && height >= 0 && height <= maxMeasure) {
		return c, s.fail(fmt.Sprintf("give a size of at least %g mm and a height above the base line", minMeasure), "its mark has a size of %.4g mm and a height of %.4g mm", m.Size, height)
	}
	// Under the peak of a motif that leans, along its lean.
	peak := c.Peak().X - s.Lean
	at := path.Point{X: peak + s.Lean*height/c.Depth, Y: height}
	r := m.Size / 2
	line := path.Circle(at, r)
	if m.Kind == Keyhole {
		half, deep := r/2, 3*r
		meet := math.Sqrt(r*r - half*half)
		around := 2*math.Pi - 2*math.Asin(half/r)
		line = path.Path{Closed: true, V: []path.Vertex{
			{Point: at.Add(path.Vec{X: -half, Y: -deep})},
			{Point: at.Add(path.Vec{X: half, Y: -deep})},
			{Point: at.Add(path.Vec{X: half, Y: -meet}), Bulge: math.Tan(around / 4)},
			{Point: at.Add(path.Vec{X: -half, Y: -meet})},
		}}
	}
	// All of it lies in the motif, half its size from the edge.
	lobe := path.NewRuler(c.Path())
	lowest := 0.0
	const places = 48
	outline := path.NewRuler(line)
	for i := range places {
		q := outline.At(outline.Length() * float64(i) / places)
		lowest = min(lowest, q.Y)
		if _, off := lobe.Nearest(q); off < r || !c.Path().Contains(q) {
			return c, s.fail("make the mark smaller, or the motif wider; a height of about half the depth has the most room",
				"its mark of %.2f mm at a height of %.2f mm comes nearer than %.2f mm to the edge of a motif %.2f mm wide and %.2f mm deep", m.Size, height, r, c.Width, c.Depth)
		}
	}
	c.Marks = []path.Path{line}
	return c, nil
}
