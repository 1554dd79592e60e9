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
	"engrail/plot/stroke"
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
	c := collector{turns: newTurns(o), options: o}
	for i, g := range d.Groups {
		if err := c.collect(g, "group "+strconv.Itoa(i+1)); err != nil {
			return err
		}
	}
	box := c.bounds()
	if err := c.plan(box); err != nil {
		return err
	}
	e := newEncoder(w, o, c.size(o.ChordError))
	e.shift = o.Shift(box)
	if o.Printer {
		e.enterPlot(box)
	} else {
		e.command("IN")
	}
	pen, dashed := 0, false
	for _, s := range c.items {
		if s.pen != pen {
			pen = s.pen
			e.selectPen(pen)
		}
		if wanted := o.LineTypes && s.text == nil && lineType(s.role) != ""; wanted || dashed {
			e.lineType(lineType(s.role))
			dashed = wanted
		}
		inside := true
		switch {
		case s.line != nil:
			inside = e.line(s.line)
		case s.strokes != nil:
			for k := range s.strokes {
				inside = inside && e.line(&s.strokes[k])
			}
		default:
			inside = e.text(s.text)
		}
		if !inside {
			return outside(s, o)
		}
	}
	e.command("PU")
	e.command("SP0")
	if o.PageEnd {
		e.command("PG")
	}
	if o.Printer {
		e.leavePlot()
	}
	_, err = w.Write(e.buf)
	return err
}

// lineType returns the number of the line type in which a role's lines are drawn,
// nothing for a solid one.
func lineType(r plot.Role) string {
	switch r {
	case plot.Stitch:
		return "2"
	case plot.Inner:
		return "4"
	case plot.Fold:
		return "6"
	}
	return ""
}

// item is one line or text and what decides its turn.
type item struct {
	line    *path.Path
	text    *plot.Text
	strokes []path.Path // of a text, unless it is in the device's letters
	piece   *piece
	role    plot.Role
	pen     int
	rank    int // within its piece
}

// piece is a group for messages.
type piece struct {
	group *plot.Group
	name  string
	n     int
}

type collector struct {
	*turns
	options Options
	items   []item
	pieces  int
}

// collect adds what the group and those inside it hold. The name is that of
// the group when it has none of its own.
func (c *collector) collect(g plot.Group, name string) error {
	name = cmp.Or(g.Name(), name)
	c.pieces++
	p := &piece{group: &g, name: name, n: c.pieces}
	textPen := c.options.Pens.Text
	for i := range g.Texts {
		t := &g.Texts[i]
		if textPen == 0 || t.String == "" {
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
		s := item{text: t, piece: p, pen: textPen}
		if c.options.Lettering == Device {
			c.items = append(c.items, s)
			continue
		}
		if s.strokes = stroke.Lines(*t); len(s.strokes) > 0 {
			c.items = append(c.items, s)
		}
	}
	folds := c.folds(g)
	var largest *path.Path // of the cut lines: the outline
	first := len(c.items)
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
		s := item{line: &l.Path, piece: p, role: l.Role, pen: c.pen[l.Role]}
		s.rank = drawingOrder(l.Role)
		if l.Role == plot.Cut && l.Path.Closed {
			if largest == nil || math.Abs(l.Path.Area()) > math.Abs(largest.Area()) {
				largest = &l.Path
			}
			if parts, some := offFold(l.Path, folds); some {
				for k := range parts {
					s.line = &parts[k]
					c.items = append(c.items, s)
				}
				continue
			}
		}
		c.items = append(c.items, s)
	}
	for i := range c.items[first:] {
		if s := &c.items[first+i]; largest != nil && s.line == largest {
			s.rank++ // after the cutouts
		}
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

// bounds returns the box round all that is drawn, lettering of the device by
// its place.
func (c *collector) bounds() path.Box {
	box := path.EmptyBox()
	for _, s := range c.items {
		switch {
		case s.line != nil:
			box = box.Union(s.line.Bounds())
		case s.strokes != nil:
			for _, p := range s.strokes {
				box = box.Union(p.Bounds())
			}
		default:
			box = box.Include(s.text.At)
		}
	}
	return box
}

// size guesses the length of the file, for room to write it in. An arc that rises by h over its chord
// becomes about sqrt(h/e) chords within e.
func (c *collector) size(chordError float64) int {
	n := 64
	for _, s := range c.items {
		n += 64
		if s.line == nil {
			n += 150 * len(s.strokes)
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
func outside(s item, o Options) error {
	lo, hi := o.Range.limits()
	ends := fmt.Sprintf("coordinates end at %.1f and %.1f mm", lo*o.StepMM, hi*o.StepMM)
	if o.Origin == Centre {
		ends += " of the drawing's middle"
	}
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
