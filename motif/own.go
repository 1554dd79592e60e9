package motif

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// Drawn is a motif that a user has drawn.
type Drawn struct {
	// unit runs from the origin along the base line to (width, 0), and is height high.
	unit          path.Path
	width, height float64
	peak          float64 // the distance of its peak along it
	symmetrical   bool
}

// NewDrawn takes a drawn motif: an open path from left to right whose base line is
// the straight line from its start to its end, level, and which grows away from the
// garment in y. The error says what of that it is not, or that it crosses itself or
// its own copy beside it.
func NewDrawn(p path.Path) (*Drawn, error) {
	if p.Closed {
		return nil, fmt.Errorf("the motif is a closed line; leave its base line out, from where it begins to where it ends")
	}
	if p.Segments() == 0 || !p.Finite() {
		return nil, fmt.Errorf("the motif has no length, or is not made of numbers; draw it from left to right")
	}
	width := p.End().X - p.Start().X
	if !(width >= minMeasure && width <= maxMeasure) {
		return nil, fmt.Errorf("the motif ends %.2f to the right of where it begins; draw it from left to right, from %g to %g wide", width, minMeasure, maxMeasure)
	}
	if off := p.End().Y - p.Start().Y; math.Abs(off) > levelBase*width {
		return nil, fmt.Errorf("the motif ends %.2f higher or lower than it begins; both ends lie on its base line, level with one another", math.Abs(off))
	}
	p = p.Transform(path.Translation(path.Point{}.Sub(p.Start())))
	p.V[len(p.V)-1].Point = path.Point{X: width}
	box := p.Bounds()
	if box.Min.Y < -levelBase*width {
		return nil, fmt.Errorf("the motif lies %.2f behind its base line; it goes away from the garment only, with its ends innermost", -box.Min.Y)
	}
	if !(box.Max.Y >= minMeasure) {
		return nil, fmt.Errorf("the motif is %.2f deep; draw it at least %g deep", box.Max.Y, minMeasure)
	}
	d := &Drawn{unit: p, width: width, height: box.Max.Y}
	for _, x := range p.SelfIntersections() {
		return nil, fmt.Errorf("the motif crosses itself at %.2f, %.2f; draw it so that it does not", x.Point.X, x.Point.Y)
	}
	next := p.Transform(path.Translation(path.Vec{X: width}))
	for _, x := range p.Intersections(next) {
		if x.Point.Dist(p.End()) > levelBase*width {
			return nil, fmt.Errorf("the motif crosses its own copy beside it, at %.2f, %.2f; keep it within its width, or begin and end it with a flat", x.Point.X, x.Point.Y)
		}
	}
	d.findPeak()
	return d, nil
}

// findPeak finds the highest place: of several, or of a level top, that nearest
// the middle.
func (d *Drawn) findPeak() {
	mirror := path.Reflection(path.Point{X: d.width / 2}, path.Vec{Y: 1})
	r := path.NewRuler(d.unit)
	image := path.NewRuler(d.unit.Transform(mirror))
	d.symmetrical = true
	for _, v := range d.unit.V {
		if _, off := image.Nearest(v.Point); off > levelBase*d.width {
			d.symmetrical = false
		}
	}
	best := math.Inf(1)
	try := func(along float64) {
		p := r.At(along)
		off := math.Abs(p.X - d.width/2)
		if d.height-p.Y <= levelBase*d.height && off < best {
			best, d.peak = off, along
		}
	}
	for i := range d.unit.Segments() {
		g := d.unit.Segment(i)
		from, length := r.Stop(i), r.Stop(i+1)-r.Stop(i)
		try(from)
		try(from + length)
		if g.IsLine() {
			if g.A.Y == g.B.Y { // where it passes the middle
				try(from + min(length, max(0, math.Abs(d.width/2-g.A.X))))
			}
			continue
		}
		if t := g.Ratio(g.Centre().Add(path.Vec{Y: g.Radius()})); t > 0 && t < 1 {
			try(from + t*length)
		}
	}
	if d.symmetrical && best > levelBase*d.width {
		d.symmetrical = false // its middle is no peak, on which an end could stand
	}
}

// drawn draws the user's motif at the width and depth, between its flats.
func (s Shape) drawn(width, depth float64) (Cell, error) {
	d := s.Drawn
	if d == nil {
		return Cell{}, s.fail("draw it, as a path or through points", "nothing is drawn")
	}
	across := width - s.Flat
	if across <= 0 {
		return Cell{}, s.fail(fmt.Sprintf("keep the flat under %.2f mm", width), "the flat of %.2f mm leaves nothing of the width %.2f mm", s.Flat, width)
	}
	m := path.Affine{A: across / d.width, D: depth / d.height, E: s.Flat / 2}
	if ratio := m.A / m.D; math.Abs(ratio-1) < roundingSlack {
		m.D = m.A // it keeps its proportions, and its arcs
	}
	r := path.NewRuler(d.unit)
	rise, err := distorted(r.Sub(0, d.peak), m)
	if err != nil {
		return Cell{}, err
	}
	fall, err := distorted(r.Sub(d.peak, r.Length()), m)
	if err != nil {
		return Cell{}, err
	}
	c := Cell{Width: width, Depth: depth, Rise: rise, Fall: fall}
	if s.Flat > 0 {
		c.Rise = path.Join(touching, path.Open(path.Point{}, path.Point{X: s.Flat / 2}), rise)
		c.Fall = path.Join(touching, fall, path.Open(path.Point{X: width - s.Flat/2}, path.Point{X: width}))
	}
	exact(&c)
	if d.symmetrical {
		c = symmetrical(width, depth, middled(c.Rise, width))
	}
	return c, nil
}

// middled returns the rise with its end in the middle of the cell.
func middled(rise path.Path, width float64) path.Path {
	rise.V[len(rise.V)-1].Point.X = width / 2
	return rise
}
