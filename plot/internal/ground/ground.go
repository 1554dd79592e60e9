// Package ground tells where on a piece there is room: for a sign, for
// lettering.
package ground

import (
	"math"

	"engrail/motif/path"
)

// Ground is the inside of an outline and the lines that must be kept clear of.
type Ground struct {
	outline path.Path
	walls   []wall
}

type wall struct {
	path.Segment
	box path.Box
}

// New returns the ground inside the outline, which is one of the lines to keep
// clear of. An open outline is closed with a straight line that is no wall.
func New(outline path.Path) *Ground {
	g := &Ground{outline: outline}
	g.Keep(outline)
	return g
}

// Keep adds a line to keep clear of. One vertex is a point; a line without
// vertices, or with a coordinate that is not finite, is nothing.
func (g *Ground) Keep(line path.Path) {
	if len(line.V) == 0 || !line.Finite() {
		return
	}
	if line.Segments() == 0 {
		line = path.Open(line.Start(), line.Start())
	}
	for i := range line.Segments() {
		s := line.Segment(i)
		g.walls = append(g.walls, wall{s, s.Bounds()})
	}
}

// KeepBlock adds a block of lettering to keep clear of: its sides and, so that
// little fits between these, its diagonals.
func (g *Ground) KeepBlock(corners [4]path.Point) {
	a, b, c, d := corners[0], corners[1], corners[2], corners[3]
	g.Keep(path.Closed(a, b, c, d))
	g.Keep(path.Open(a, c))
	g.Keep(path.Open(b, d))
}

// Clear reports whether the rectangle round the point, which reaches half.X to
// both sides of it along the direction and half.Y across, lies inside the
// outline and meets no line. The direction is a unit vector.
func (g *Ground) Clear(at path.Point, along path.Vec, half path.Vec) bool {
	x, y := along.Mul(half.X), along.Left().Mul(half.Y)
	a, b := at.Add(x).Add(y), at.Add(x.Neg()).Add(y)
	c, d := at.Add(x.Neg()).Add(y.Neg()), at.Add(x).Add(y.Neg())
	sides := [4]path.Segment{path.Line(a, b), path.Line(b, c), path.Line(c, d), path.Line(d, a)}
	box := path.EmptyBox().Include(a).Include(b).Include(c).Include(d)
	for i, w := range g.walls {
		if !w.box.Meets(box) {
			continue
		}
		in := w.A.Sub(at)
		met := math.Abs(in.Dot(along)) <= half.X && math.Abs(in.Dot(along.Left())) <= half.Y
		for _, s := range sides {
			met = met || w.Intersect(s).N > 0
		}
		if met {
			// What is in the way here is likely so at the next place.
			g.walls[0], g.walls[i] = g.walls[i], g.walls[0]
			return false
		}
	}
	return g.outline.Contains(at)
}
