package svg

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// pen draws in user units and keeps what it draws as lines and arcs in mm.
type pen struct {
	m         path.Affine // user units to mm
	start, at path.Point  // in user units
	v         []path.Vertex
	paths     []path.Path
	room      *int // vertices that may still be drawn
}

// place returns the point in mm.
func (p *pen) place(at path.Point) (path.Point, error) {
	q := p.m.Apply(at)
	if !within(q) {
		return q, fmt.Errorf("has the point %g,%g, which lies more than %d m from the page's corner", at.X, at.Y, MaxDistance/1000)
	}
	return q, nil
}

func within(p path.Point) bool {
	return math.Abs(p.X) <= MaxDistance && math.Abs(p.Y) <= MaxDistance
}

// add appends a part that starts at the pen and ends at to.
func (p *pen) add(part path.Path, to path.Point) error {
	from, err := p.place(p.at)
	if err != nil {
		return err
	}
	end, err := p.place(to)
	if err != nil {
		return err
	}
	p.at = to
	n := len(part.V)
	if n < 2 || n == 2 && from.Dist(end) <= path.Coincident && math.Abs(part.V[0].Bulge) < 1 {
		return nil
	}
	for _, v := range part.V {
		// An arc can reach further than the points that it is given by.
		if !within(v.Point) {
			return fmt.Errorf("has a curve that reaches more than %d m from the page's corner", MaxDistance/1000)
		}
	}
	if *p.room -= n; *p.room < 0 {
		return fmt.Errorf("brings the drawing to more than %d vertices", MaxVertices)
	}
	if k := len(p.v); k > 0 {
		p.v = p.v[:k-1]
	}
	k := len(p.v)
	p.v = append(p.v, part.V...)
	// The ends are the drawing's own, without the rounding of the fit.
	p.v[k].Point = from
	p.v[len(p.v)-1] = path.Vertex{Point: end}
	return nil
}

func (p *pen) moveTo(to path.Point) {
	p.finish()
	p.start, p.at = to, to
}

// finish ends the current line where it is.
func (p *pen) finish() {
	if len(p.v) > 1 {
		p.paths = append(p.paths, path.Path{V: p.v})
	}
	p.v = nil
}

// close ends the current line at its start.
func (p *pen) close() {
	if len(p.v) > 1 {
		if closed := (path.Path{V: p.v}).Close(closeGap); len(closed.V) > 1 {
			p.paths = append(p.paths, closed)
		}
	}
	p.v = nil
	p.at = p.start
}

func (p *pen) lineTo(to path.Point) error {
	a, err := p.place(p.at)
	if err != nil {
		return err
	}
	b, err := p.place(to)
	if err != nil {
		return err
	}
	return p.add(path.Open(a, b), to)
}

func (p *pen) cubicTo(c1, c2, to path.Point) error {
	var q [4]path.Point
	for i, at := range [4]path.Point{p.at, c1, c2, to} {
		var err error
		if q[i], err = p.place(at); err != nil {
			return err
		}
	}
	part, err := path.CubicBezier{A: q[0], C1: q[1], C2: q[2], B: q[3]}.Fit(path.FitTolerance)
	if err != nil {
		return err
	}
	return p.add(part, to)
}

func (p *pen) quadTo(c, to path.Point) error {
	cubic := path.QuadraticBezier{A: p.at, C: c, B: to}.Cubic()
	return p.cubicTo(cubic.C1, cubic.C2, to)
}

// arcTo draws SVG's elliptical arc; the turn is in degrees.
func (p *pen) arcTo(rx, ry, turn float64, large, sweep bool, to path.Point) error {
	arc, ok := path.EndpointArc(p.at, to, rx, ry, math.Mod(turn, 360)*math.Pi/180, large, sweep)
	if !ok {
		return p.lineTo(to)
	}
	return p.arc(arc, to)
}

// arc draws a part of an ellipse that is given in user units.
func (p *pen) arc(arc path.EllipticArc, to path.Point) error {
	if _, err := p.place(to); err != nil {
		return err
	}
	arc = arc.Transform(p.m)
	if r := max(arc.RX, arc.RY); !(r <= largestRadius) {
		return fmt.Errorf("has an arc with a radius of %.3g mm: draw a straight line", r)
	} else if r*arc.Sweep*arc.Sweep/8 < flatArc {
		return p.lineTo(to)
	}
	part, err := arc.Fit(path.FitTolerance)
	if err != nil {
		return err
	}
	return p.add(part, to)
}

// ellipse draws a whole ellipse, from its right end in the direction of
// increasing angles as SVG's shapes run.
func (p *pen) ellipse(centre path.Point, rx, ry float64) error {
	p.moveTo(path.Point{X: centre.X + rx, Y: centre.Y})
	half := path.EllipticArc{Centre: centre, RX: rx, RY: ry, Sweep: math.Pi}
	if err := p.arc(half, path.Point{X: centre.X - rx, Y: centre.Y}); err != nil {
		return err
	}
	half.Start = math.Pi
	if err := p.arc(half, p.start); err != nil {
		return err
	}
	p.close()
	return nil
}

// rect draws a rectangle with rounded corners.
func (p *pen) rect(x, y, w, h, rx, ry float64) error {
	rx, ry = min(rx, w/2), min(ry, h/2)
	at := func(dx, dy float64) path.Point { return path.Point{X: x + dx, Y: y + dy} }
	if rx == 0 || ry == 0 {
		return p.polyline([]path.Point{at(0, 0), at(w, 0), at(w, h), at(0, h)}, true)
	}
	p.moveTo(at(rx, 0))
	for _, side := range [4]struct{ line, corner path.Point }{
		{at(w-rx, 0), at(w, ry)},
		{at(w, h-ry), at(w-rx, h)},
		{at(rx, h), at(0, h-ry)},
		{at(0, ry), at(rx, 0)},
	} {
		if err := p.lineTo(side.line); err != nil {
			return err
		}
		if err := p.arcTo(rx, ry, 0, false, true, side.corner); err != nil {
			return err
		}
	}
	p.close()
	return nil
}

func (p *pen) polyline(points []path.Point, closed bool) error {
	for i, q := range points {
		if i == 0 {
			p.moveTo(q)
		} else if err := p.lineTo(q); err != nil {
			return err
		}
	}
	if closed {
		p.close()
	}
	p.finish()
	return nil
}
