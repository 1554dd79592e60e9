package png

import (
	"math"

	"github.com/fogleman/gg"

	"engrail/plot"
)

// entry is one line of the legend: a line style, a sign or the tint of a kind of
// piece.
type entry struct {
	name   string
	role   plot.Role
	point  bool // the role occurs only as points
	tint   hue  // 0 for a line style
	hatch  int  // of a tint, 0 for none
	pen    pen  // of a line without a role
	corner bool // a dot
}

// legendOf returns what occurs in the pieces.
func legendOf(pieces []piece) []entry {
	lines, points := map[plot.Role]bool{}, map[plot.Role]bool{}
	kinds := map[string]bool{}
	sizes := map[int]string{} // by their hatching
	cloth := map[plot.Role]bool{}
	for _, p := range pieces {
		if p.size != "" && p.hatch >= 0 {
			sizes[p.hatch] = p.size
		}
		for _, l := range p.lines {
			if p.kind == clothKind {
				cloth[l.Role] = true
				continue
			}
			if l.Path.Length() > 0 {
				lines[l.Role] = true
			} else {
				points[l.Role] = true
			}
		}
		kinds[p.kind] = kinds[p.kind] || len(p.outline.V) == 0
	}
	all := numberedLegend(pieces)
	for _, r := range append(plot.Roles(), plot.Drawn) {
		if lines[r] || points[r] {
			all = append(all, entry{name: nameOf(r), role: r, point: !lines[r]})
		}
	}
	for _, r := range []plot.Role{plot.Fold, plot.Internal, plot.Mark} {
		if name := map[plot.Role]string{plot.Fold: "fold", plot.Internal: "cloth edge", plot.Mark: "splice"}[r]; cloth[r] && !(r == plot.Fold && lines[r]) {
			all = append(all, entry{name: name, role: r})
		}
	}
	for _, kind := range []string{"garment", "facing", "interfacing", "lining"} {
		if kinds[kind] {
			all = append(all, entry{name: named(kind), tint: tintOf(kind)})
		}
	}
	for i := range len(sizes) {
		if s, hatched := sizes[i]; hatched && len(sizes) > 1 {
			all = append(all, entry{name: "size " + s, tint: paper, hatch: i})
		}
	}
	return all
}

// clothKind is the kind of the piece that stands for the cloth itself.
const clothKind = "cloth"

// named returns what the legend calls a piece of the kind.
func named(kind string) string {
	if kind == "garment" || kind == "facing" {
		return kind + " piece"
	}
	return kind
}

// Lengths of the legend and the scale bar, px at the usual size.
const (
	legendSize   = 14
	legendLead   = 27
	sampleWidth  = 52
	legendGap    = 12 // sample to name
	columnGap    = 30
	scaleLongest = 220
	scaleSpace   = 300 // what the scale bar takes from the legend's width
	scaleHeight  = 50
)

// foot is how the legend and the scale bar share the foot of a page.
type foot struct {
	rows   int     // of the legend
	column float64 // width, px
	beside bool    // the scale bar stands beside the legend, not under it
	height float64 // px
}

// footOf arranges the foot within the width.
func (k *kit) footOf(legend []entry, width float64) foot {
	u := k.unit
	f := foot{beside: true}
	for _, e := range legend {
		f.column = max(f.column, k.regular.width(e.name, legendSize*u)+(sampleWidth+legendGap+columnGap)*u)
	}
	if len(legend) == 0 {
		f.height = scaleHeight * u
		return f
	}
	cols := int((width - scaleSpace*u) / f.column)
	if cols < 3 && cols < len(legend) {
		f.beside = false
		cols = max(1, int((width+columnGap*u)/f.column))
	}
	f.rows = (len(legend) + cols - 1) / cols
	f.height = float64(f.rows) * legendLead * u
	if f.beside {
		f.height = max(f.height, scaleHeight*u)
	} else {
		f.height += (14 + scaleHeight) * u
	}
	return f
}

// footSpace is what a page needs under the drawing for a foot so high.
func (k *kit) footSpace(height float64) float64 { return (36+26)*k.unit + height + k.margin }

// foot adds the legend and the scale bar under a thin rule and returns where
// they end.
func (k *kit) foot(p *picture, legend []entry, x0, y, x1, scale float64) float64 {
	u := k.unit
	p.stroke(pen{hue: hair, width: u}, gg.Point{X: x0, Y: math.Floor(y) + 0.5}, gg.Point{X: x1, Y: math.Floor(y) + 0.5})
	y += 26 * u
	f := k.footOf(legend, x1-x0)
	for i, e := range legend {
		x := x0 + float64(i/f.rows)*f.column
		mid := y + (float64(i%f.rows)+0.5)*legendLead*u
		k.sample(p, e, x, mid)
		p.write(k.regular, ink, legendSize*u, gg.Point{X: x + (sampleWidth+legendGap)*u, Y: mid + xHeight*legendSize*u/2}, e.name)
	}
	if f.beside {
		k.scaleBar(p, x1, y+4*u, scale)
	} else {
		k.scaleBar(p, x1, y+f.height-(scaleHeight-4)*u, scale)
	}
	return y + f.height
}

// sample draws a legend entry's example from x on.
func (k *kit) sample(p *picture, e entry, x, y float64) {
	u := k.unit
	at := func(dx, dy float64) gg.Point { return gg.Point{X: x + dx*u, Y: y + dy*u} }
	switch {
	case e.tint != 0:
		p.rectangle(pen{hue: e.tint}, x, y-8*u, sampleWidth*u, 16*u)
		p.hatch(e.hatch, [][]gg.Point{{at(0, -8), at(sampleWidth, -8), at(sampleWidth, 8), at(0, 8)}})
		p.rectangle(pen{hue: grey, width: u}, x, y-8*u, sampleWidth*u, 16*u)
	case e.pen.width > 0:
		p.stroke(e.pen.times(p.weight), at(0, 0), at(sampleWidth, 0))
	case e.corner:
		p.fill(ink, disc(at(sampleWidth/2, 0), cornerDot*p.weight)...)
	case e.point:
		p.line(e.role, []gg.Point{at(sampleWidth/2, 0)}, false)
	case e.role == plot.Notch || e.role == plot.Clip:
		p.line(plot.Cut, []gg.Point{at(0, -7), at(sampleWidth, -7)}, false)
		for _, dx := range []float64{0.2, 0.5, 0.8} {
			if e.role == plot.Clip || dx == 0.5 {
				p.line(e.role, []gg.Point{at(dx*sampleWidth, -7), at(dx*sampleWidth, 6)}, false)
			}
		}
	default:
		ends := []gg.Point{at(0, 0), at(sampleWidth, 0)}
		p.line(e.role, ends, false)
		if e.role == plot.Grain {
			p.arrow(ends[1], ends[0], 12*p.weight)
			p.arrow(ends[0], ends[1], 12*p.weight)
		}
	}
}

// scaleBar draws a bar of round length in mm and one in inches, both ending
// before the right edge.
func (k *kit) scaleBar(p *picture, right, y, scale float64) {
	u := k.unit
	const mmPerInch = 25.4
	mm, mmParts := roundLength(scaleLongest * u / scale)
	inch, inchParts := roundLength(scaleLongest * u / scale / mmPerInch)
	x := right - max(mm, inch*mmPerInch)*scale
	bar := func(length float64, parts int, top float64) float64 {
		w := length / float64(parts)
		h := 5 * u
		for i := 0; i < parts; i += 2 {
			p.rectangle(pen{hue: ink}, x+float64(i)*w, top, w, h)
		}
		p.rectangle(pen{hue: ink, width: u}, x, top, length, h)
		return x + length
	}
	size := legendSize * u
	above, below := y+size*capHeight, y+size*capHeight+8*u
	end := bar(mm*scale, mmParts, below)
	p.write(k.regular, ink, size, gg.Point{X: x, Y: above}, "0")
	label := number(mm) + " mm"
	p.write(k.regular, ink, size, gg.Point{X: end - k.regular.width(label, size), Y: above}, label)
	low := below + 9*u
	end = bar(inch*mmPerInch*scale, inchParts, low)
	under := low + 13*u + size*capHeight
	p.write(k.regular, ink, size, gg.Point{X: x, Y: under}, "0")
	label = number(inch) + " in"
	p.write(k.regular, ink, size, gg.Point{X: end - k.regular.width(label, size), Y: under}, label)
}

// roundLength returns the largest of 1, 2 and 5 times a power of ten that is
// not above the limit, and the number of equal parts to divide it in.
func roundLength(limit float64) (length float64, parts int) {
	tens := math.Pow(10, math.Floor(math.Log10(limit)))
	switch {
	case limit >= 5*tens:
		return 5 * tens, 5
	case limit >= 2*tens:
		return 2 * tens, 4
	}
	return tens, 5
}
