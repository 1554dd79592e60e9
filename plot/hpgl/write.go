package hpgl

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// Write writes the drawing as HP-GL, all of it or, after an error, nothing.
//
// Lines without vertices are left out; a line that is no longer than a step
// becomes a dot. A drawing without lines and texts becomes a file that draws
// nothing. Lettering stands on its base line in the device's own letters; it
// is spelled in ASCII, marks dropped, and other characters as question marks.
//
// The error says which piece has a coordinate that is not a number, or lies
// outside of what the device takes, and what to do.
func Write(w io.Writer, d plot.Drawing, o Options) error {
	o, err := o.withDefaults()
	if err != nil {
		return err
	}
	c := collector{turns: newTurns(o.Pens), textPen: o.Pens.Text}
	for i, g := range d.Groups {
		if err := c.collect(g, "group "+strconv.Itoa(i+1)); err != nil {
			return err
		}
	}
	c.sort()
	e := encoder{
		perMM: 1 / o.StepMM, chordError: o.ChordError,
		along: [2]float64{1, 0}, // after IN
	}
	if b, ok := w.(interface{ AvailableBuffer() []byte }); ok {
		e.buf = b.AvailableBuffer() // of a buffer that is used again
	}
	e.buf = slices.Grow(e.buf, c.size(o.ChordError))
	e.lo, e.hi = o.Range.limits()
	e.command("IN")
	pen := 0
	for _, s := range c.strokes {
		if s.pen != pen {
			pen = s.pen
			e.selectPen(pen)
		}
		inside := true
		if s.text != nil {
			inside = e.text(s.text)
		} else {
			inside = e.line(s.line)
		}
		if !inside {
			return outside(s, o)
		}
	}
	e.command("PU")
	e.command("SP0")
	_, err = w.Write(e.buf)
	return err
}

// stroke is one line or text and what decides its turn.
type stroke struct {
	line  *path.Path
	text  *plot.Text
	piece *piece
	pen   int
	turn  [3]float64 // of the pen, of the role, of a cut line in its piece
}

// piece is a group for messages.
type piece struct {
	group *plot.Group
	name  string
	n     int
}

type collector struct {
	*turns
	textPen int
	strokes []stroke
	pieces  int
}

// collect adds what the group and those inside it hold. The name is that of
// the group when it has none of its own.
func (c *collector) collect(g plot.Group, name string) error {
	name = cmp.Or(g.Name(), name)
	c.pieces++
	p := &piece{group: &g, name: name, n: c.pieces}
	for i := range g.Texts {
		t := &g.Texts[i]
		if c.textPen == 0 || t.String == "" {
			continue
		}
		if !t.At.Finite() || !finite(t.Angle) {
			return fmt.Errorf("hpgl: %s: text %d, %q, has a place or angle that is not a number", name, i+1, t.String)
		}
		if n := len(ascii.Fold(t.String)); n > maxLetters {
			return fmt.Errorf("hpgl: %s: text %d has %d characters, and no more than %d are written: divide it", name, i+1, n, maxLetters)
		}
		if !(t.Height >= minLetter && t.Height <= maxLetter) {
			return fmt.Errorf("hpgl: %s: text %d, %q, is %g mm high, not between %g and %d mm",
				name, i+1, t.String, t.Height, minLetter, maxLetter)
		}
		c.strokes = append(c.strokes, stroke{
			text: t, piece: p, pen: c.textPen, turn: [3]float64{float64(c.turn[c.textPen])},
		})
	}
	folds := c.folds(g)
	for i := range g.Lines {
		l := &g.Lines[i]
		if int(l.Role) >= roles || c.pen[l.Role] == 0 || len(l.Path.V) == 0 {
			continue
		}
		if !l.Path.Finite() {
			return fmt.Errorf("hpgl: %s: %s line %d has a coordinate that is not a number", name, l.Role, i+1)
		}
		for _, v := range l.Path.V {
			if math.Abs(v.Bulge) > maxBulge {
				return fmt.Errorf("hpgl: %s: %s line %d has an arc at (%.1f, %.1f) mm that is too nearly a full turn: divide it",
					name, l.Role, i+1, v.X, v.Y)
			}
		}
		s := stroke{line: &l.Path, piece: p, pen: c.pen[l.Role]}
		s.turn[0], s.turn[1] = float64(c.turn[s.pen]), float64(drawingOrder(l.Role))
		if l.Role == plot.Cut && l.Path.Closed {
			s.turn[2] = math.Abs(l.Path.Area())
			if parts, some := offFold(l.Path, folds); some {
				for k := range parts {
					s.line = &parts[k]
					c.strokes = append(c.strokes, s)
				}
				continue
			}
		}
		c.strokes = append(c.strokes, s)
	}
	for _, in := range g.Groups {
		if err := c.collect(in, name); err != nil {
			return err
		}
	}
	return nil
}

// folds returns the straight parts of the group's folds that a pen draws.
func (c *collector) folds(g plot.Group) (folds []path.Segment) {
	if c.pen[plot.Fold] == 0 {
		return nil
	}
	for _, l := range g.Lines {
		if l.Role != plot.Fold || l.Sign || !l.Path.Finite() {
			continue
		}
		for i := range l.Path.Segments() {
			if s := l.Path.Segment(i); s.IsLine() {
				folds = append(folds, s)
			}
		}
	}
	return folds
}

// offFold returns the parts of the closed cut line that are not on a fold, and
// whether there are any beside some that are. A straight segment is on a fold
// when both of its ends are on the same part of it.
func offFold(cut path.Path, folds []path.Segment) (parts []path.Path, some bool) {
	on := func(s path.Segment) bool {
		return s.IsLine() && slices.ContainsFunc(folds, func(f path.Segment) bool {
			_, a := f.Nearest(s.A)
			_, b := f.Nearest(s.B)
			return a < onFold && b < onFold
		})
	}
	n := cut.Segments()
	first := 0 // a segment on the fold, so that a part starts behind it
	for first < n && !on(cut.Segment(first)) {
		first++
	}
	if first == n {
		return nil, false
	}
	var part []path.Segment
	for i := 1; i <= n; i++ {
		if s := cut.Segment((first + i) % n); !on(s) {
			part = append(part, s)
		} else if len(part) > 0 {
			parts = append(parts, path.FromSegments(part...))
			part = nil
		}
	}
	return parts, len(parts) > 0
}

func (c *collector) sort() {
	slices.SortStableFunc(c.strokes, func(a, b stroke) int {
		return cmp.Or(
			cmp.Compare(a.turn[0], b.turn[0]),
			cmp.Compare(a.turn[1], b.turn[1]),
			cmp.Compare(a.piece.n, b.piece.n),
			cmp.Compare(a.turn[2], b.turn[2]),
		)
	})
}

// size guesses the length of the file, for room to write it in. An arc that rises by h over its chord
// becomes about sqrt(h/e) chords within e.
func (c *collector) size(chordError float64) int {
	n := 64
	for _, s := range c.strokes {
		n += 64
		if s.line == nil {
			continue
		}
		points := 0.0
		for i := range s.line.Segments() {
			g := s.line.Segment(i)
			points++
			if g.Bulge != 0 {
				points += math.Sqrt(math.Abs(g.Bulge) * g.Chord().Len() / 2 / chordError)
			}
		}
		n = min(n+int(13*min(points, maxPoints)), maxBytes)
	}
	return n
}

// outside is the error for a line or text that leaves the range.
func outside(s stroke, o Options) error {
	lo, hi := o.Range.limits()
	ends := fmt.Sprintf("coordinates end at %.1f and %.1f mm", lo*o.StepMM, hi*o.StepMM)
	remedy := "draw it in parts on smaller sheets"
	if o.Range == Portable {
		remedy += ", or set the wide range if the device takes HP-GL/2 integers"
	}
	const move = "move it nearer to the origin, "
	if s.text != nil {
		at := s.text.At
		return fmt.Errorf("hpgl: %s: text %q starts at (%.1f, %.1f) mm, but %s: %s",
			s.piece.name, s.text.String, at.X, at.Y, ends, move+remedy)
	}
	b := s.piece.group.Bounds()
	if room := (hi - lo) * o.StepMM; b.Width() <= room && b.Height() <= room {
		remedy = move + remedy
	}
	return fmt.Errorf("hpgl: %s, %.1f by %.1f mm, reaches from (%.1f, %.1f) to (%.1f, %.1f) mm, but %s: %s",
		s.piece.name, b.Width(), b.Height(), b.Min.X, b.Min.Y, b.Max.X, b.Max.Y, ends, remedy)
}

type encoder struct {
	buf        []byte
	points     []path.Point // room for those of a line
	perMM      float64
	lo, hi     float64
	chordError float64
	letter     [2]float64 // width and height of letters in cm, as sent
	along      [2]float64 // direction of the lettering, as sent
}

func (e *encoder) command(s string) { e.buf = append(append(e.buf, s...), ";\n"...) }

func (e *encoder) selectPen(pen int) {
	e.command("PU")
	e.buf = strconv.AppendInt(append(e.buf, "SP"...), int64(pen), 10)
	e.buf = append(e.buf, ";\n"...)
}

// units returns the point in plotter units, and whether it is in the range.
func (e *encoder) units(p path.Point) (x, y int64, inside bool) {
	fx, fy := math.RoundToEven(p.X*e.perMM), math.RoundToEven(p.Y*e.perMM)
	if !(fx >= e.lo && fx <= e.hi && fy >= e.lo && fy <= e.hi) {
		return 0, 0, false
	}
	return int64(fx), int64(fy), true
}

func appendPair(buf []byte, x, y int64) []byte {
	return strconv.AppendInt(append(strconv.AppendInt(buf, x, 10), ','), y, 10)
}

// moveTo lifts the pen and moves it.
func (e *encoder) moveTo(x, y int64) {
	e.buf = appendPair(append(e.buf, "PU"...), x, y)
	e.buf = append(e.buf, ";\n"...)
}

// line draws the path and reports whether it is in the range.
func (e *encoder) line(p *path.Path) bool {
	// Before chords are made, of which an arc out of all range would need many.
	b := p.Bounds()
	if _, _, inside := e.units(b.Min); !inside {
		return false
	}
	if _, _, inside := e.units(b.Max); !inside {
		return false
	}
	points := p.AppendFlat(e.points[:0], e.chordError)
	if p.Closed {
		points = append(points, points[0])
	}
	e.points = points
	x, y, _ := e.units(points[0])
	e.moveTo(x, y)
	buf := append(e.buf, "PD"...)
	line, pairs := len(buf), 0 // where the numbers of this line start, how many
	for i, q := range points {
		qx, qy, _ := e.units(q)
		last := i == len(points)-1
		if qx == x && qy == y && !(last && len(buf) == line) {
			continue // no further than rounding, unless it is all there is
		}
		x, y = qx, qy
		switch {
		case len(buf) == line:
		case pairs == pairsPerLine || len(buf)-line+pairWidth > lineWidth:
			buf = append(buf, ";\nPD"...)
			line, pairs = len(buf), 0
		default:
			buf = append(buf, ',')
		}
		buf = appendPair(buf, x, y)
		pairs++
	}
	e.buf = append(buf, ";\n"...)
	return true
}

// text writes the lettering and reports whether it starts in the range.
func (e *encoder) text(t *plot.Text) bool {
	s := ascii.Fold(t.String)
	height := decimals(t.Height / 10) // in cm
	letter := [2]float64{decimals(height * charWidth), height}
	length := 10 * letter[0] * (charPitch*float64(len(s)-1) + 1)
	along := path.Direction(t.Angle)
	at := t.At
	switch t.Align {
	case plot.Middle:
		at = at.Add(along.Mul(-length / 2))
	case plot.Right:
		at = at.Add(along.Mul(-length))
	}
	x, y, inside := e.units(at)
	if !inside {
		return false
	}
	if letter != e.letter {
		e.letter = letter
		e.reals("SI", letter)
	}
	if along := [2]float64{decimals(along.X), decimals(along.Y)}; along != e.along {
		e.along = along
		e.reals("DI", along)
	}
	e.moveTo(x, y)
	for len(s) > 0 {
		// The pen is left where the next letter stands.
		n := min(len(s), lineWidth-len("LB\x03;"))
		e.buf = append(append(append(e.buf, "LB"...), s[:n]...), etx)
		e.buf = append(e.buf, ";\n"...)
		s = s[n:]
	}
	return true
}

// decimals rounds to the four decimals that are sent, zero without a sign.
func decimals(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }

func (e *encoder) reals(command string, v [2]float64) {
	e.buf = append(e.buf, command...)
	e.buf = append(strconv.AppendFloat(e.buf, v[0], 'f', 4, 64), ',')
	e.buf = strconv.AppendFloat(e.buf, v[1], 'f', 4, 64)
	e.buf = append(e.buf, ";\n"...)
}

// etx ends a label.
const etx = 3
