package pattern

import (
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
)

// The damson skirt: a front on the fold and a back with a seam down the middle,
// each a sector of a ring, in nine nested sizes. Its outlines include 15 mm on
// the hem and the seams and 10 mm on the waist; the stitching lines are dashed.
// All of it follows from radii and angles, so that its lengths are known.
const (
	damsonHem, damsonSide, damsonTop = 15.0, 15.0, 10.0
	damsonLength                     = 560.0
	// damsonBack (mm) is where the back's middle lies, right of the front's.
	damsonBack = 560.0
)

// damsonSizes are the names of the sizes.
func damsonSizes() []string {
	return []string{"34", "36", "38", "40", "42", "44", "46", "48", "50"}
}

// sector is one piece in one size, half of the front or one back.
type sector struct {
	name          string
	x             float64 // of its middle line, at whose upper end y is 0
	waist, radius float64 // along the waist's stitching line
	onFold        bool
}

func damson(size int) [2]sector {
	k := float64(size)
	return [2]sector{
		{"Front", 0, 172 + 10*k, 400 + 12*k, true},
		{"Back", damsonBack, 168 + 10*k, 400 + 12*k, false},
	}
}

func (s sector) angle() float64 { return s.waist / s.radius }

// hem returns the length of the hem's stitching line.
func (s sector) hem() float64 { return s.angle() * (s.radius + damsonLength) }

// at returns the point at the radius that lies the distance outside of the line
// from the centre at the angle.
func (s sector) at(radius, angle, outside float64) path.Point {
	turn := angle + math.Asin(outside/radius)
	if radius == 0 {
		turn = angle
	}
	return path.Point{X: s.x + radius*math.Sin(turn), Y: s.radius - radius*math.Cos(turn)}
}

// outline returns the ring sector with allowances of those widths.
func (s sector) outline(hem, side, top float64) path.Path {
	middle := -side
	if s.onFold {
		middle = 0
	}
	in, out := s.radius-top, s.radius+damsonLength+hem
	a, b := s.at(out, 0, middle), s.at(out, s.angle(), side)
	c, d := s.at(in, s.angle(), side), s.at(in, 0, middle)
	arc := func(from, to path.Point, radius float64) float64 {
		return math.Tan(math.Asin(from.Dist(to)/2/radius) / 2)
	}
	return path.Path{Closed: true, V: []path.Vertex{
		{Point: a, Bulge: arc(a, b, out)}, {Point: b}, {Point: c, Bulge: -arc(c, d, in)}, {Point: d},
	}}
}

// notch returns a balance notch on the side, so far above the hem.
func (s sector) notch(up float64) path.Path {
	r := s.radius + damsonLength - up
	return path.Open(s.at(r, s.angle(), damsonSide), s.at(r, s.angle(), damsonSide-6))
}

// nest is how the damson skirt is drawn.
type nest struct {
	by By
	// names of the sizes, which layers and classes are called by.
	names []string
	// without leaves out pieces: a size's number and a piece's name.
	without func(size int, piece string) bool
	legend  bool
	only    int // the number of the only size, -1 for all
}

// damsonNest returns the skirt drawn with a layer for each size, as it stands in
// testdata.
func damsonNest() nest { return nest{by: ByLayer, names: damsonSizes(), only: -1} }

// looks are colours and dashes, one for each size.
func looks() [][2]string {
	return [][2]string{
		{"#b00", "none"}, {"#b00", "9 3"}, {"#06c", "none"}, {"#06c", "9 3"}, {"#080", "none"},
		{"#080", "9 3"}, {"#a0a", "none"}, {"#a0a", "9 3"}, {"#850", "none"},
	}
}

// svg returns the drawing, in mm.
func (n nest) svg() string {
	const left, top = 60.0, 110.0
	var b strings.Builder
	line := func(f string, args ...any) { fmt.Fprintf(&b, f+"\n", args...) }
	point := func(p path.Point) string { return fmt.Sprintf("%.4f,%.4f", left+p.X, top-p.Y) }
	data := func(p path.Path) string {
		d := "M" + point(p.Start())
		for i := range p.Segments() {
			g := p.Segment(i)
			if g.IsLine() {
				d += " L" + point(g.B)
				continue
			}
			sweep := 0 // counter-clockwise with y up is as it is seen
			if g.Bulge < 0 {
				sweep = 1
			}
			d += fmt.Sprintf(" A%.4f,%.4f 0 0 %d %s", g.Radius(), g.Radius(), sweep, point(g.B))
		}
		if p.Closed {
			d += " Z"
		}
		return d
	}
	line(`<?xml version="1.0" encoding="UTF-8"?>`)
	line(`<!-- An invented skirt in nested sizes: outlines with 15 mm on hem and seams and 10 mm
     on the waist, and dashed stitching lines. A test makes this file. -->`)
	line(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:draw="http://example.org/draw" width="1120mm" height="830mm" viewBox="0 0 1120 830">`)
	line(`  <title>Damson skirt</title>`)
	line(`  <style>`)
	line(`    .cut { fill: none; stroke: #1a1a1a; stroke-width: 0.5 }`)
	line(`    .sew { fill: none; stroke: #1a1a1a; stroke-width: 0.3; stroke-dasharray: 4 2 }`)
	line(`    .mark { fill: none; stroke: #1a1a1a; stroke-width: 0.3 }`)
	line(`    text { font-family: sans-serif; fill: #1a1a1a }`)
	line(`  </style>`)
	for k, name := range n.names {
		if n.only >= 0 && k != n.only {
			continue
		}
		class, look := "", ""
		switch n.by {
		case ByLayer:
			line(`  <g draw:mode="layer" draw:label="%s" id="size-%d">`, name, k+1)
		case ByClass:
			class = " " + name
		case ByStroke:
			look = fmt.Sprintf(` style="stroke:%s;stroke-dasharray:%s"`, looks()[k][0], looks()[k][1])
		}
		for _, s := range damson(k) {
			if n.without != nil && n.without(k, s.name) {
				continue
			}
			line(`    <g draw:label="%s">`, s.name)
			line(`      <path class="cut%s"%s d="%s"/>`, class, look, data(s.outline(damsonHem, damsonSide, damsonTop)))
			if n.by != ByStroke { // whose dashes are taken
				line(`      <path class="sew%s" d="%s"/>`, class, data(s.outline(0, 0, 0)))
			}
			for _, up := range []float64{120, 300} {
				line(`      <path draw:label="notch" class="mark%s"%s d="%s"/>`, class, look, data(s.notch(up)))
			}
			line(`    </g>`)
		}
		if n.by == ByLayer {
			line(`  </g>`)
		}
	}
	line(`  <g draw:mode="layer" draw:label="all sizes">`)
	for _, s := range damson(0) {
		word := "cut 2"
		if s.onFold {
			word = "cut 1 on fold"
			line(`    <path draw:label="fold" class="mark" d="%s"/>`, data(path.Open(path.Point{X: s.x, Y: -20}, path.Point{X: s.x, Y: -540})))
		}
		line(`    <path draw:label="grain line" class="mark" d="%s"/>`, data(path.Open(path.Point{X: s.x + 60, Y: -150}, path.Point{X: s.x + 60, Y: -420})))
		line(`    <path draw:label="hip line" class="mark" d="%s"/>`, data(path.Open(path.Point{X: s.x + 10, Y: -200}, path.Point{X: s.x + 150, Y: -190})))
		line(`    <text x="%g" y="%g" font-size="20">%s</text>`, left+s.x+90, top+250, strings.ToUpper(s.name))
		line(`    <text x="%g" y="%g" font-size="12">%s</text>`, left+s.x+90, top+272, word)
		line(`    <text x="%g" y="%g" font-size="12">Damson skirt</text>`, left+s.x+90, top+290)
	}
	line(`  </g>`)
	if n.legend {
		line(`  <g draw:label="legend">`)
		for k, name := range n.names {
			y := 7 + 0.5*float64(k)
			x := left + 110*float64(k)
			line(`    <path d="M%g,%g h40" style="stroke:%s;stroke-dasharray:%s"/>`, x, y, looks()[k][0], looks()[k][1])
			line(`    <text x="%g" y="%g" font-size="10">%s</text>`, x+44, y, name)
		}
		line(`  </g>`)
	}
	line(`</svg>`)
	return b.String()
}
