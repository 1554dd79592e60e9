package stroke

import (
	"math"
	"strings"
	"unicode/utf8"

	"engrail/motif/path"
)

// The notation of a glyph is a list of words with single spaces between them.
// The first is its box: the shape of its left side, the width of its strokes in
// steps, and the shape of its right side. Shapes of sides are
//
//	|      straight
//	( )    round
//	/ \    slanted
//	:      open
//	#      that of a digit: all have one advance
//
// The others are its strokes, from x = 0 at the left of the box, y up from the
// base line:
//
//	x,y         starts a stroke, or draws a line to the point
//	hx,y vx,y   draws a quarter of an oval, which leaves along x (h) or y (v) and
//	            arrives along the other
//	Hx,y Vx,y   draws an arc that arrives along x (H) or y (V)
//	~x,y        draws an arc that goes on smoothly
//	z           closes the stroke
//	/           ends the stroke
//	=c*k+x,y    draws the strokes of the character c, in k times their size,
//	            at the point; *k+x,y may be left out
//
// A stroke of one point is a dot.

// box is the room of a glyph in steps: its strokes are as wide as width, and left
// and right of them is free.
type box struct{ left, width, right float64 }

// header takes the box off a notation. It reports whether there is one.
func header(notation string) (b box, strokes string, ok bool) {
	word, strokes, _ := strings.Cut(notation, " ")
	if len(word) < 3 {
		return box{}, "", false
	}
	r := reader{s: word[1 : len(word)-1]}
	b.width, ok = r.number()
	if !ok || r.s != "" {
		return box{}, "", false
	}
	if word[0] == '#' {
		b.left = (figureAdvance - b.width) / 2
		b.right = b.left
		return b, strokes, word[len(word)-1] == '#'
	}
	var known bool
	b.left, ok = bearing(word[0])
	b.right, known = bearing(word[len(word)-1])
	return b, strokes, ok && known
}

func bearing(side byte) (float64, bool) {
	switch side {
	case '|':
		return straightBearing, true
	case '(', ')':
		return roundBearing, true
	case '/', '\\':
		return slantedBearing, true
	case ':':
		return openBearing, true
	}
	return 0, false
}

// reader takes words off a notation.
type reader struct{ s string }

// number takes a decimal number off: a sign, digits, and perhaps a point and
// digits.
func (r *reader) number() (float64, bool) {
	i, sign := 0, 1.0
	if i < len(r.s) && r.s[i] == '-' {
		i, sign = 1, -1
	}
	n, scale, digits := 0, 1.0, 0
	for point := false; i < len(r.s); i++ {
		c := r.s[i]
		switch {
		case '0' <= c && c <= '9':
			n = 10*n + int(c-'0')
			digits++
			if point {
				scale *= 10
			}
		case c == '.' && !point:
			point = true
		default:
			r.s = r.s[i:]
			return sign * float64(n) / scale, digits > 0
		}
	}
	r.s = ""
	return sign * float64(n) / scale, digits > 0
}

// take takes the character off, if it comes next.
func (r *reader) take(c byte) bool {
	if r.s == "" || r.s[0] != c {
		return false
	}
	r.s = r.s[1:]
	return true
}

func (r *reader) point() (p path.Point, ok bool) {
	if p.X, ok = r.number(); !ok || !r.take(',') {
		return p, false
	}
	p.Y, ok = r.number()
	return p, ok
}

// pen draws strokes. The vertices of all of them share one array.
type pen struct {
	strokes []path.Path
	v       []path.Vertex
	from    int // the first vertex of the stroke that is being drawn
}

// draw draws the strokes in the notation, moved. It reports whether all of it
// can be read. Whatever is read is drawn.
func (p *pen) draw(strokes string, m path.Similarity) bool {
	ok := p.read(strokes, m)
	p.end(m, false)
	return ok
}

func (p *pen) read(strokes string, m path.Similarity) bool {
	for r := (reader{strokes}); r.s != ""; {
		c := r.s[0]
		switch c {
		case '/', 'z':
			r.take(c)
			p.end(m, c == 'z')
		case '=':
			r.take(c)
			if !p.include(&r, m) {
				return false
			}
		case 'h', 'v', 'H', 'V', '~':
			r.take(c)
			to, ok := r.point()
			if !ok || len(p.v) == p.from || !p.curve(c, to) {
				return false
			}
		default:
			to, ok := r.point()
			if !ok {
				return false
			}
			p.v = append(p.v, path.Vertex{Point: to})
		}
		if !r.take(' ') && r.s != "" {
			return false
		}
	}
	return true
}

// include draws the strokes of another character.
func (p *pen) include(r *reader, m path.Similarity) bool {
	word, rest, more := strings.Cut(r.s, " ")
	if r.s = rest; more {
		r.s = " " + rest
	}
	of, size := utf8.DecodeRuneInString(word)
	if size == 0 || len(p.v) > p.from {
		return false
	}
	place := reader{word[size:]}
	if place.s != "" {
		ok := place.take('*')
		k, number := place.number()
		ok = ok && number && place.take('+')
		at, point := place.point()
		if !ok || !point || place.s != "" {
			return false
		}
		m = path.Frame(at, path.Vec{X: k}).Then(m)
	}
	_, strokes, ok := header(notation(of))
	return ok && p.draw(strokes, m)
}

// end moves the stroke to its place.
func (p *pen) end(m path.Similarity, closed bool) {
	v := p.v[p.from:len(p.v):len(p.v)]
	if len(v) == 0 {
		return
	}
	if last := len(v) - 1; closed && last > 0 && v[last].Point == v[0].Point {
		v = v[:last:last]
		p.v = p.v[:len(p.v)-1]
	}
	for i := range v {
		v[i].Point = m.Apply(v[i].Point)
	}
	p.strokes = append(p.strokes, path.Path{V: v, Closed: closed})
	p.from = len(p.v)
}

// curve draws one of the curves of the notation. It reports whether there is one.
func (p *pen) curve(kind byte, to path.Point) bool {
	from := p.v[len(p.v)-1].Point
	chord := to.Sub(from)
	switch kind {
	case 'h', 'v':
		return p.oval(from, to, kind == 'v')
	case 'H':
		p.arc(to, halfTurn(chord, path.Vec{X: chord.X}))
	case 'V':
		p.arc(to, halfTurn(chord, path.Vec{Y: chord.Y}))
	default:
		if len(p.v)-p.from < 2 {
			return false
		}
		last := p.v[len(p.v)-2]
		s := path.Segment{A: last.Point, B: from, Bulge: last.Bulge}
		p.arc(to, halfTurn(s.EndTangent(), chord))
	}
	return true
}

// halfTurn returns the tangent of half the angle from v to w.
func halfTurn(v, w path.Vec) float64 {
	return v.Cross(w) / (math.Sqrt(v.Dot(v)*w.Dot(w)) + v.Dot(w))
}

// oval draws a quarter of an oval: an arc of a lesser radius at the end of the
// longer axis, and one of a greater radius that goes on smoothly from it to the
// end of the shorter axis. It reports whether the two points are the ends of a
// quarter.
func (p *pen) oval(from, to path.Point, upright bool) bool {
	d := to.Sub(from)
	wide, high := math.Abs(d.X), math.Abs(d.Y)
	if wide == 0 || high == 0 {
		return false
	}
	sign := 1.0
	if (d.X < 0) != (d.Y < 0) != upright {
		sign = -1
	}
	short, long := min(wide, high), max(wide, high)
	if long-short < sameArc*long {
		p.arc(to, sign*(math.Sqrt2-1))
		return true
	}
	// The circles touch where the line through their centres meets them:
	// (R - short)^2 + (long - r)^2 = (R - r)^2.
	r := roundness * short
	R := (short*short + long*long - 2*long*r) / (2 * (short - r))
	u := path.Vec{X: long - r, Y: R - short}.Unit() // along the longer axis, and the shorter
	a, b := long-r+r*u.X, r*u.Y
	bulge := quarterOf(u)
	rest := quarterOf(path.Vec{X: u.Y, Y: u.X})
	// The centre of the oval is beside or below the point where it leaves along
	// y or x.
	centre, x, y := path.Point{X: from.X, Y: to.Y}, d.X, -d.Y
	if upright {
		centre, x, y = path.Point{X: to.X, Y: from.Y}, -d.X, d.Y
	}
	joint := centre.Add(path.Vec{X: math.Copysign(b, x), Y: math.Copysign(a, y)})
	if wide > high {
		joint = centre.Add(path.Vec{X: math.Copysign(a, x), Y: math.Copysign(b, y)})
	}
	if upright != (wide > high) {
		bulge, rest = rest, bulge
	}
	p.arc(joint, sign*bulge)
	p.arc(to, sign*rest)
	return true
}

// quarterOf returns the tangent of a quarter of the unit vector's angle.
func quarterOf(u path.Vec) float64 {
	half := u.Y / (1 + u.X)
	return half / (1 + math.Sqrt(1+half*half))
}

// arc draws an arc, as one with the arc before it if both are part of the same
// half circle.
func (p *pen) arc(to path.Point, bulge float64) {
	last := len(p.v) - 1
	if last > p.from {
		before := path.Segment{A: p.v[last-1].Point, B: p.v[last].Point, Bulge: p.v[last-1].Bulge}
		next := path.Segment{A: before.B, B: to, Bulge: bulge}
		// tan of the sum of a quarter of the sweeps
		sum := (before.Bulge + bulge) / (1 - before.Bulge*bulge)
		if before.Bulge*bulge > 0 && sum*bulge > 0 && math.Abs(sum) <= 1+sameArc && oneCircle(before, next) {
			p.v[last-1].Bulge = sum
			p.v[last].Point = to
			return
		}
	}
	p.v[last].Bulge = bulge
	p.v = append(p.v, path.Vertex{Point: to})
}

// oneCircle reports whether the arcs, which both turn the same way, are parts of
// the same circle.
func oneCircle(a, b path.Segment) bool {
	k := a.Curvature()
	if math.Abs(b.Curvature()-k) > sameArc*math.Abs(k) {
		return false
	}
	turn := b.StartTangent().Sub(a.EndTangent())
	return max(math.Abs(turn.X), math.Abs(turn.Y)) < sameArc
}
