package png

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
)

// Sizes of lettering, px at the usual size of picture.
const (
	smallText  = 13
	labelText  = 15
	largeText  = 22
	leading    = 1.4 // base line to base line, of the text size
	breathing  = 5   // clear space round a label
	discRadius = 11
	enough     = 200 // labels without room, after which no more are tried
	near       = 40  // how far from its place a label is still clearly there
	besides    = 160 // how far from its place a label may stand with a leader
)

// label is lines of lettering that stand together: texts of a drawing each of
// which is placed under the one before it.
type label struct {
	lines []string
	align plot.Align
	angle float64
	at    gg.Point // the first line's place, as the drawing has it
	size  float64  // px
	owner int      // of the ground that it belongs to
	order int      // among the labels of the drawing
	under hue      // what is painted under it, 0 for nothing
	in    area
}

// labels returns the lettering of a piece, in blocks. Each has the size that
// the drawing gives it, within what reads well and not above most.
func (k *kit) labels(pc piece, owner int, most float64) []label {
	u := k.unit
	var all []label
	var last plot.Text
	for _, t := range pc.texts {
		if strings.TrimSpace(t.String) == "" {
			continue
		}
		if n := len(all) - 1; n >= 0 && follows(last, t) {
			all[n].lines = append(all[n].lines, t.String)
		} else {
			size := min(max(t.Height*pc.view.scale/capHeight, labelText*u), most*u)
			all = append(all, label{
				lines: []string{t.String}, align: t.Align, angle: t.Angle, at: pc.view.point(t.At),
				size: size, owner: owner, in: pc.in,
			})
			if pc.hatch > 0 {
				all[len(all)-1].under = tintOf(pc.kind)
			}
		}
		last = t
	}
	return all
}

// follows reports whether the text is the next line of a block.
func follows(above, t plot.Text) bool {
	if above.Angle != t.Angle || above.Align != t.Align || above.Height != t.Height {
		return false
	}
	d := t.At.Sub(above.At).Rotate(-t.Angle)
	return math.Abs(d.X) < t.Height/2 && -d.Y > t.Height && -d.Y < 3*t.Height
}

// letters returns how much there is to read.
func (l label) letters() int { return len(strings.Join(l.lines, "")) }

// bold reports whether the first line is a heading.
func (l label) bold() bool { return len(l.lines) > 1 }

func (k *kit) faceOf(l label, line int) *face {
	if line == 0 && l.bold() {
		return k.medium
	}
	return k.regular
}

// spot returns the place that the label takes where the drawing has it.
func (k *kit) spot(l label) spot {
	size := l.size
	s := spot{along: upright(l.angle)}
	for i, line := range l.lines {
		s.w = max(s.w, k.faceOf(l, i).width(line, size))
	}
	s.h = (float64(len(l.lines)-1)*leading + capHeight + 0.25) * size
	along := gg.Point{X: math.Cos(l.angle), Y: -math.Sin(l.angle)}
	x := s.w / 2
	switch l.align {
	case plot.Middle:
		x = 0
	case plot.Right:
		x = -s.w / 2
	}
	s.centre = shift(l.at, along, x, s.h/2-capHeight*size)
	s.w += 2 * breathing * k.unit
	s.h += 2 * breathing * k.unit
	return s
}

// upright returns the direction in the picture of a text at the angle, turned
// so that it is not read upside down.
func upright(angle float64) gg.Point {
	s, c := math.Sincos(angle)
	if c < -1e-9 || math.Abs(c) <= 1e-9 && s < 0 {
		s, c = -s, -c
	}
	return gg.Point{X: c, Y: -s}
}

// letter writes the label into its spot and takes it.
func (k *kit) letter(p *picture, r *room, l label, s spot) {
	r.takeSpot(s)
	if l.under != 0 && l.owner != nowhere {
		p.fill(l.under, shift(s.centre, s.along, -s.w/2, -s.h/2), shift(s.centre, s.along, s.w/2, -s.h/2), shift(s.centre, s.along, s.w/2, s.h/2), shift(s.centre, s.along, -s.w/2, s.h/2))
	}
	size := l.size
	pad := breathing * k.unit
	for i, line := range l.lines {
		f := k.faceOf(l, i)
		slack := s.w - 2*pad - f.width(line, size)
		x := pad - s.w/2
		switch l.align {
		case plot.Middle:
			x += slack / 2
		case plot.Right:
			x += slack
		}
		y := pad - s.h/2 + (capHeight+float64(i)*leading)*size
		p.words = append(p.words, words{f, ink, size, shift(s.centre, s.along, x, y), s.along, line})
	}
}

// place puts the labels of the pieces where they stand clear of every line: as
// the drawing has them; else near that in the same piece; else beside the piece
// with a leader; else turned. When one has no room in its piece, all that are
// larger become smaller first. It returns those that then have no room, in the
// order of the drawing.
func (k *kit) place(p *picture, r *room, pieces []piece) (left []label) {
	items, written, taken := len(p.items), len(p.words), slices.Clone(r.taken)
	for _, most := range []float64{largeText, labelText, smallText} {
		p.items, p.words = p.items[:items], p.words[:written]
		copy(r.taken, taken)
		var ok bool
		if left, ok = k.try(p, r, pieces, most); ok {
			break
		}
	}
	return left
}

// try places the labels, none larger than most, and gives up when one could
// be smaller and needs to be.
func (k *kit) try(p *picture, r *room, pieces []piece, most float64) (left []label, ok bool) {
	var waiting []label
	order := 0
	for i, pc := range pieces {
		for _, l := range k.labels(pc, i, most) {
			order++
			l.order = order
			if _, ok := r.bounds[i]; !ok {
				l.owner = nowhere
			}
			if s := k.spot(l); r.free(s, l.owner, l.in) {
				k.letter(p, r, l, s)
			} else {
				waiting = append(waiting, l)
			}
		}
	}
	// Short ones first: a letter at a notch has to stay near it.
	slices.SortStableFunc(waiting, func(a, b label) int { return a.letters() - b.letters() })
	for _, l := range waiting {
		if s, ok := k.within(r, l, k.spot(l)); ok {
			k.letter(p, r, l, s)
			continue
		}
		if most > smallText {
			return nil, false
		}
		if len(left) >= enough || !k.elsewhere(p, r, l) {
			left = append(left, l)
		}
	}
	slices.SortFunc(left, func(a, b label) int { return a.order - b.order })
	return left, true
}

// within finds the free spot in the label's piece that is nearest to the one
// given; for a label that belongs to no piece, one so near that it needs no
// leader.
func (k *kit) within(r *room, l label, s spot) (spot, bool) {
	s.centre = l.in.clamp(s.centre)
	reach := near * k.unit
	if l.owner != nowhere {
		reach = r.across(s.centre, l.owner)
	}
	return r.find(s, l.owner, l.in, reach)
}

// elsewhere places a label that has no room in its piece as it stands.
func (k *kit) elsewhere(p *picture, r *room, l label) bool {
	s := k.spot(l)
	apart := s
	apart.w += 2 * breathing * k.unit
	apart.h += 2 * breathing * k.unit
	apart.centre = l.in.clamp(apart.centre)
	if found, ok := r.find(apart, nowhere, l.in, besides*k.unit); ok {
		beside := s
		beside.centre = found.centre
		if from, to := k.leader(r, l, beside); !r.meets(from, to, lettered) {
			k.drawLeader(p, r, from, to)
			l.under = 0
			k.letter(p, r, l, beside)
			return true
		}
	}
	s.along = upright(l.angle + math.Pi/2)
	s, ok := k.within(r, l, s)
	if ok {
		k.letter(p, r, l, s)
	}
	return ok
}

// leader returns the line from a label beside a piece to the place in the piece
// that is nearest to it: one that is clear for the dot, or else any.
func (k *kit) leader(r *room, l label, s spot) (from, to gg.Point) {
	to = l.in.clamp(l.at)
	if l.owner != nowhere {
		for _, side := range []float64{14, 6} {
			dot := spot{centre: l.in.clamp(s.centre), along: gg.Point{X: 1}, w: side * k.unit, h: side * k.unit}
			if found, ok := r.find(dot, l.owner, l.in, r.across(dot.centre, l.owner)); ok {
				to = found.centre
				break
			}
		}
	}
	// From the side that faces the piece.
	d := gg.Point{X: to.X - s.centre.X, Y: to.Y - s.centre.Y}
	x := d.X*s.along.X + d.Y*s.along.Y
	y := d.Y*s.along.X - d.X*s.along.Y
	if math.Abs(x)*s.h > math.Abs(y)*s.w {
		return shift(s.centre, s.along, math.Copysign(s.w/2, x), 0), to
	}
	return shift(s.centre, s.along, min(max(x, -s.w/2), s.w/2), math.Copysign(s.h/2-3*k.unit, y)), to
}

func (k *kit) drawLeader(p *picture, r *room, from, to gg.Point) {
	p.stroke(pen{hue: grey, width: k.unit}, from, to)
	p.fill(grey, disc(to, 2.5*k.unit)...)
	r.takeLine([]gg.Point{from, to})
}

// number puts a disc with a number in the label's piece, or beside it with the
// shortest leader, for the list.
func (k *kit) number(p *picture, r *room, l label, n int) {
	u := k.unit
	text := fmt.Sprint(n)
	w := max(k.medium.width(text, smallText*u)+10*u, 2*discRadius*u)
	// It may stand nearer to the edges than lettering.
	l.in.x0, l.in.x1 = l.in.x0-discRadius*u, l.in.x1+discRadius*u
	s := spot{centre: l.in.clamp(k.spot(l).centre), along: gg.Point{X: 1}, w: w + 2*u, h: 2*discRadius*u + 2*u}
	if at, ok := k.within(r, l, s); ok {
		s = at
	} else if at, ok := k.outside(r, l, s); ok {
		s = at
		from, to := k.leader(r, l, s)
		k.drawLeader(p, r, from, to)
	}
	r.takeSpot(s)
	k.numberSign(p, s.centre, text)
}

// outside finds a free spot beside the label's piece for one that has none in
// it: beyond an end or a side of the piece, where the leader is short and passes
// no lettering.
func (k *kit) outside(r *room, l label, s spot) (spot, bool) {
	middle := s.centre
	starts := []gg.Point{middle}
	if b, ok := r.bounds[l.owner]; ok {
		if !b.Contains(path.Point(middle)) {
			middle = gg.Point(b.Centre())
		}
		starts = []gg.Point{
			{X: b.Min.X - s.w/2, Y: middle.Y}, {X: b.Max.X + s.w/2, Y: middle.Y},
			{X: middle.X, Y: b.Min.Y - s.h/2}, {X: middle.X, Y: b.Max.Y + s.h/2},
		}
	}
	best, least := s, math.Inf(1)
	for _, start := range starts {
		s.centre = l.in.clamp(start)
		found, ok := r.find(s, nowhere, l.in, besides*k.unit)
		if !ok {
			continue
		}
		from, to := k.leader(r, l, found)
		cost := from.Distance(to) + found.centre.Distance(middle)/8
		if r.meets(from, to, lettered) {
			cost += besides * k.unit
		}
		if cost < least {
			best, least = found, cost
		}
	}
	return best, !math.IsInf(least, 1)
}

// numberSign draws a number in a dark disc, lengthened for more than two
// digits.
func (k *kit) numberSign(p *picture, c gg.Point, text string) {
	u := k.unit
	w := k.medium.width(text, smallText*u)
	d := max(0, w/2+5*u-discRadius*u)
	p.stroke(pen{hue: ink, width: 2 * discRadius * u}, gg.Point{X: c.X - d, Y: c.Y}, gg.Point{X: c.X + d + 0.2, Y: c.Y})
	p.write(k.medium, paper, smallText*u, gg.Point{X: c.X - w/2, Y: c.Y + capHeight*smallText*u/2}, text)
}
