package png

import (
	"fmt"
	"math"
	"strings"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
)

// page is a picture with its size and its density.
type page struct {
	picture
	width, height float64 // px
	perMetre      int     // px
	key           key     // of the list of numbered labels
}

// Lengths of a page, px at the usual size.
const (
	titleSize    = 27
	captionSize  = 16
	captionLead  = 25
	captionWidth = 300
	captionGap   = 40
	narrowest    = 640
)

// pixelsPerMetre returns the density, a whole number of px per metre as the
// file states it, at which the box fits w by h px.
func (k *kit) pixelsPerMetre(box path.Box, w, h float64) (int, error) {
	if least := 40 * k.unit; w < least || h < least {
		return 0, fmt.Errorf("png: a longest side of %g px leaves no room for the drawing; choose a larger one, up to %d px", k.longest, largestLongest)
	}
	// A drawing without extent is shown at a middling scale.
	most := 10000.0
	if s := max(box.Width(), box.Height()); s > 0 {
		most = 1e6
	}
	perMetre := math.Floor(1000 * min(w/box.Width(), h/box.Height(), most/1000))
	if !(perMetre >= 1) {
		return 0, fmt.Errorf("png: the drawing is %.3g m by %.3g m, too large to show; check the units of its numbers",
			box.Width()/1000, box.Height()/1000)
	}
	return int(perMetre), nil
}

// page lays out a picture with room for such a list of numbered labels.
func (k *kit) page(pieces []piece, box path.Box, title string, o Options, expected key) (page, error) {
	u := k.unit
	var pg page
	m := k.margin
	captions, captionSpace := k.captions(o.Captions)

	legend := legendOf(pieces)
	if o.NoLegend {
		legend = nil
	}
	// The footer's height depends on the width, which depends on the scale.
	pg.width = k.longest
	var head, foot float64
	for range 3 {
		head = k.headHeight(title, pg.width-2*m)
		foot = k.footSpace(k.footOf(legend, pg.width-2*m).height) + min(expected.height, keyShare*k.longest)
		n, err := k.pixelsPerMetre(box, k.longest-2*m-captionSpace, k.longest-head-foot)
		if err != nil {
			return pg, err
		}
		pg.perMetre = n
		pg.width = math.Ceil(max(narrowest*u, box.Width()*float64(n)/1000+2*m+captionSpace, expected.width+2*m))
	}
	scale := float64(pg.perMetre) / 1000
	pg.weight = u * weightAt(scale/u)
	w, h := box.Width()*scale, box.Height()*scale
	h = max(h, float64(len(captions))*captionLead*u)
	x := m + max(0, pg.width-2*m-captionSpace-w)/2
	bottom := head + h
	v := view{scale, x - scale*box.Min.X, bottom + scale*box.Min.Y}

	k.head(&pg.picture, title, m, pg.width-m)
	for i := range pieces {
		pieces[i].view = v
		pieces[i].in = area{m / 4, head - 16*u, pg.width - captionSpace - m/4, bottom + 32*u}
	}
	r := newRoom(pg.width, bottom+foot, 4*u)
	k.draw(&pg.picture, r, pieces)
	k.headings(&pg.picture, r, pieces)
	k.numberEdges(&pg.picture, r, pieces)
	left := k.place(&pg.picture, r, pieces)
	pg.key = k.keyOf(left, pg.width-2*m)
	for i := range pg.key.numbered {
		k.number(&pg.picture, r, left[i], i+1)
	}
	for i, c := range captions {
		pg.write(c.face, ink, captionSize*u, gg.Point{X: pg.width - captionSpace - m + captionGap*u, Y: head + (float64(i)*captionLead+captionSize*capHeight)*u}, c.text)
	}
	y := bottom + 36*u
	k.list(&pg.picture, pg.key, m, y)
	y += pg.key.height
	pg.height = math.Ceil(k.foot(&pg.picture, legend, m, y, pg.width-m, scale) + m*0.8)
	return pg, nil
}

// draw adds the lines of the pieces to the picture and takes their room.
func (k *kit) draw(p *picture, r *room, pieces []piece) {
	for i, pc := range pieces {
		var loops [][]gg.Point
		for _, loop := range pc.region() {
			loops = append(loops, pc.view.polyline(loop))
		}
		if len(loops) == 0 {
			continue
		}
		r.own(loops, i)
		if h := tintOf(pc.kind); h != paper {
			p.items = append(p.items, item{pen: pen{hue: h}, points: loops[0], holes: loops[1:]})
		}
		p.hatch(pc.hatch, loops)
		p.allowance(pc)
	}
	lines := len(p.items)
	for _, pc := range pieces {
		p.under(pc)
		for _, role := range append([]plot.Role{plot.Drawn}, plot.Roles()...) {
			for _, l := range pc.lines {
				if l.Role != role {
					continue
				}
				points := pc.view.polyline(l.Path)
				if l.Sign {
					p.sign(points, l.Path.Closed)
				} else {
					p.line(role, points, l.Path.Closed)
				}
			}
		}
		p.over(pc)
	}
	for _, it := range p.items[lines:] {
		r.takeLine(it.points)
	}
}

// titleLines breaks the title into two lines at most.
func (k *kit) titleLines(title string, width float64) []string {
	size := titleSize * k.unit
	lines := k.medium.wrap(title, size, width)
	if len(lines) > 2 {
		lines = []string{lines[0], k.medium.shorten(strings.Join(lines[1:], " "), size, width)}
	}
	return lines
}

func (k *kit) headHeight(title string, width float64) float64 {
	n := len(k.titleLines(title, width))
	if n == 0 {
		return k.margin
	}
	return k.margin + (float64(n)*titleSize*1.3+48)*k.unit
}

// head writes the title and, under it, the rule that marks our pictures: a row
// of small scallops.
func (k *kit) head(p *picture, title string, x0, x1 float64) {
	u := k.unit
	lines := k.titleLines(title, x1-x0)
	y := k.margin + titleSize*capHeight*u
	for _, l := range lines {
		p.write(k.medium, ink, titleSize*u, gg.Point{X: x0, Y: y}, l)
		y += titleSize * 1.3 * u
	}
	if len(lines) == 0 {
		return
	}
	y -= 12 * u
	n := math.Round((x1 - x0) / (12 * u))
	w := (x1 - x0) / n
	scallop := view{1, 0, 0}.polyline(path.FromSegments(path.Segment{B: path.Point{X: w}, Bulge: 0.6}))
	var rule []gg.Point
	for i := range int(n) {
		for _, q := range scallop {
			rule = append(rule, gg.Point{X: x0 + float64(i)*w + q.X, Y: y + q.Y})
		}
	}
	p.stroke(pen{hue: blue, width: 1.2 * u}, rule...)
}

// caption is a line beside the drawing.
type caption struct {
	face *face
	text string
}

// captions returns the captions broken into lines, and the width that they
// need beside the drawing. The first of several lines together is a heading.
func (k *kit) captions(captions []string) (lines []caption, space float64) {
	u := k.unit
	for i, c := range captions {
		f := k.regular
		if (i == 0 || captions[i-1] == "") && i+1 < len(captions) && captions[i+1] != "" {
			f = k.medium
		}
		wrapped := f.wrap(c, captionSize*u, captionWidth*u)
		if len(wrapped) == 0 {
			lines = append(lines, caption{f, ""})
		}
		for _, w := range wrapped {
			lines = append(lines, caption{f, w})
			space = max(space, f.width(w, captionSize*u)+captionGap*u)
		}
	}
	return lines, space
}
