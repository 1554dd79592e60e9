package png

import (
	"math"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
)

// view takes the plane of the drawing, in mm and y up, to the picture, in px
// and y down.
type view struct{ scale, x, y float64 }

func (v view) point(p path.Point) gg.Point {
	return gg.Point{X: v.x + v.scale*p.X, Y: v.y - v.scale*p.Y}
}

// polyline returns the path, which has vertices, as chords. A closed path ends
// where it starts.
func (v view) polyline(p path.Path) []gg.Point {
	flat := p.Flatten(chordError / v.scale)
	if p.Closed || len(flat) == 0 {
		flat = append(flat, p.Start())
	}
	pts := make([]gg.Point, len(flat))
	for i, q := range flat {
		pts[i] = v.point(q)
	}
	return pts
}

// picture is what is to be painted, in the order of painting.
type picture struct {
	weight float64 // px for a length of 1 in a pen or a sign
	items  []item
	words  []words
}

// item is a line, or a filled outline when its pen has no width.
type item struct {
	pen    pen
	points []gg.Point
	holes  [][]gg.Point // further outlines of a filled item
	closed bool
}

// words is a line of lettering, from the left end of its base line.
type words struct {
	face  *face
	hue   hue
	size  float64
	at    gg.Point
	along gg.Point
	text  string
}

func (p *picture) stroke(k pen, points ...gg.Point) {
	p.items = append(p.items, item{pen: k, points: points})
}

func (p *picture) fill(h hue, points ...gg.Point) {
	p.items = append(p.items, item{pen: pen{hue: h}, points: points})
}

// rectangle adds a crisp frame, or a filled one with a pen without width.
func (p *picture) rectangle(k pen, x, y, w, h float64) {
	if k.width > 0 {
		x, y, w, h = math.Floor(x)+0.5, math.Floor(y)+0.5, math.Round(w), math.Round(h)
	}
	p.stroke(k, gg.Point{X: x, Y: y}, gg.Point{X: x + w, Y: y}, gg.Point{X: x + w, Y: y + h}, gg.Point{X: x, Y: y + h}, gg.Point{X: x, Y: y})
}

// write adds lettering that stands upright.
func (p *picture) write(f *face, h hue, size float64, at gg.Point, text string) {
	p.words = append(p.words, words{f, h, size, at, gg.Point{X: 1}, text})
}

// disc returns the outline of a disc.
func disc(c gg.Point, r float64) []gg.Point {
	const n = 24
	pts := make([]gg.Point, n)
	for i := range pts {
		s, k := math.Sincos(2 * math.Pi * float64(i) / n)
		pts[i] = gg.Point{X: c.X + r*k, Y: c.Y + r*s}
	}
	return pts
}

// line adds a line in the manner of its role.
func (p *picture) line(r plot.Role, points []gg.Point, closed bool) {
	u, k := p.weight, penOf(r).times(p.weight)
	first, last := points[0], points[len(points)-1]
	length := polylineLength(points)
	straight := len(points) == 2 && length > 0
	switch {
	case length == 0:
		p.cross(k, first)
		return
	case r == plot.Notch && straight:
		p.notch(k.hue, first, last)
		return
	case r == plot.Fold:
		// The outline that the fold belongs to must not show between dashes.
		p.stroke(pen{hue: paper, width: penOf(plot.Cut).width*u + 1}, points...)
	}
	p.items = append(p.items, item{pen: k, points: points, closed: closed})
}

// sign adds a line of a sign: an arrowhead, no smaller than can be seen and no
// larger than need be, or a thin solid line.
func (p *picture) sign(points []gg.Point, closed bool) {
	const triangle = 4 // points of a closed one
	thin := pen{hue: ink, width: 1.3 * p.weight, butt: true}
	if !closed || len(points) != triangle {
		p.stroke(thin, points...)
		return
	}
	tip, back := points[0], points[1].Interpolate(points[2], 0.5)
	if length := tip.Distance(back); length > 0 {
		p.stroke(thin, back, tip)
		p.arrow(back, tip, min(max(length, 12*p.weight), 24*p.weight))
	}
}

// cross marks a point.
func (p *picture) cross(k pen, at gg.Point) {
	d := 6 * p.weight
	solid := pen{hue: k.hue, width: 1.6 * p.weight}
	p.stroke(solid, gg.Point{X: at.X - d, Y: at.Y}, gg.Point{X: at.X + d, Y: at.Y})
	p.stroke(solid, gg.Point{X: at.X, Y: at.Y - d}, gg.Point{X: at.X, Y: at.Y + d})
}

// notch draws a wedge that stands on the cut edge and points inward.
func (p *picture) notch(h hue, edge, tip gg.Point) {
	along := unit(edge, tip)
	length := max(edge.Distance(tip), 9*p.weight)
	half := min(length/2, 5*p.weight)
	p.fill(h,
		shift(edge, along, 0, half), shift(edge, along, 0, -half), shift(edge, along, length, 0))
}

// arrow draws the head of an arrow that comes from one point and ends at the
// other.
func (p *picture) arrow(from, to gg.Point, length float64) {
	along := unit(from, to)
	p.fill(ink, to,
		shift(to, along, -length, length*0.3), shift(to, along, -length*0.8, 0), shift(to, along, -length, -length*0.3))
}

func polylineLength(points []gg.Point) float64 {
	var l float64
	for i := 1; i < len(points); i++ {
		l += points[i-1].Distance(points[i])
	}
	return l
}

// unit returns the direction from a to b, which differ.
func unit(a, b gg.Point) gg.Point {
	d := a.Distance(b)
	return gg.Point{X: (b.X - a.X) / d, Y: (b.Y - a.Y) / d}
}

// shift returns p moved by x along the direction and by y across it.
func shift(p, along gg.Point, x, y float64) gg.Point {
	return gg.Point{X: p.X + x*along.X - y*along.Y, Y: p.Y + x*along.Y + y*along.X}
}

// paint draws everything.
func (p *picture) paint(dc *gg.Context) {
	dc.SetLineJoinRound()
	dc.SetFillRuleEvenOdd()
	for _, it := range p.items {
		for i, pt := range it.points {
			if i == 0 {
				dc.MoveTo(pt.X, pt.Y)
			} else {
				dc.LineTo(pt.X, pt.Y)
			}
		}
		dc.SetColor(it.pen.hue.rgba())
		if it.pen.width == 0 {
			for _, h := range it.holes {
				dc.NewSubPath()
				for _, pt := range h {
					dc.LineTo(pt.X, pt.Y)
				}
			}
			dc.Fill()
			continue
		}
		dc.SetLineWidth(it.pen.width)
		dash := fitDash(it.pen.dash, polylineLength(it.points), it.closed)
		if it.pen.butt || len(dash) > 0 && dash[0] > it.pen.width/2 {
			dc.SetLineCapButt()
		} else {
			dc.SetLineCapRound()
		}
		dc.SetDash(dash...)
		dc.Stroke()
	}
	dc.SetFillRuleWinding()
	for _, t := range p.words {
		dc.SetColor(t.hue.rgba())
		t.face.draw(dc, t.text, t.size, t.at, t.along)
	}
}

// fitDash stretches a dash pattern a little, so that a closed line meets its
// start without a seam and an open one begins and ends with the first dash.
func fitDash(dash []float64, length float64, closed bool) []float64 {
	if len(dash) == 0 {
		return nil
	}
	var period float64
	for _, d := range dash {
		period += d
	}
	end := dash[0]
	if closed {
		end = 0
	}
	n := math.Round((length - end) / period)
	if n < 1 {
		return nil
	}
	fitted := make([]float64, len(dash))
	for i, d := range dash {
		fitted[i] = d * length / (n*period + end)
	}
	return fitted
}
