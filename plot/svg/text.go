package svg

import (
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// capHeight is the height of a capital letter over the font's size, as in most
// sans faces: 0.7 to 0.73.
const capHeight = 0.7

// textLine is a line of text that is being collected.
type textLine struct {
	at   path.Point // in user units
	s    state
	id   string
	text strings.Builder
}

// text draws a text element: a text for each line.
func (r *reader) text(e *element, s state, into *plot.Group) error {
	var lines []*textLine
	if err := r.span(e, s, &lines); err != nil {
		return err
	}
	for _, l := range lines {
		content := oneLine(l.text.String())
		if content == "" {
			continue
		}
		t, err := l.place()
		if err != nil {
			return err
		}
		t.String = content
		into.Texts = append(into.Texts, t)
	}
	return nil
}

// span collects the text of a text element or of a span in it.
func (r *reader) span(e *element, s state, lines *[]*textLine) error {
	first := len(*lines) == 0
	var at path.Point
	if !first {
		at = (*lines)[len(*lines)-1].at
	}
	moves := first
	for _, c := range []struct {
		name  string
		axis  axis
		value *float64
		adds  bool
	}{
		{"x", along, &at.X, false}, {"y", down, &at.Y, false},
		{"dx", along, &at.X, true}, {"dy", down, &at.Y, true},
	} {
		// Where each letter has a position, the first one's counts.
		list := strings.FieldsFunc(e.attr(c.name), func(r rune) bool { return r == ',' || r == ' ' || r == '\t' || r == '\n' || r == '\r' })
		if len(list) == 0 {
			continue
		}
		v, err := s.scale.length(list[0], c.axis)
		if err != nil {
			return e.failf("has %s that %w", c.name, err)
		}
		if c.adds {
			*c.value += v
		} else {
			*c.value = v
			moves = true
		}
	}
	if moves {
		*lines = append(*lines, &textLine{at: at, s: s, id: s.id(e)})
	}
	for _, c := range e.children {
		switch c.name {
		case "":
			if r.elements -= c.weight; r.elements < 0 {
				return e.failf("brings the drawing to more than %d elements", MaxElements)
			}
			if s.hidden {
				continue
			}
			l := (*lines)[len(*lines)-1]
			if strings.TrimSpace(c.text) != "" {
				if l.text.Len() == 0 {
					l.s = s // the line looks as its first letters do
				}
				l.text.WriteString(c.text)
			} else if l.text.Len() > 0 {
				l.text.WriteByte(' ')
			}
		case "tspan", "a", "textPath":
			if r.elements -= c.weight; r.elements < 0 {
				return c.failf("brings the drawing to more than %d elements", MaxElements)
			}
			inner := s
			shown, err := r.inherit(c, &inner)
			if err != nil {
				return err
			}
			if shown {
				if err := r.span(c, inner, lines); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// place returns the line's text in mm, without its string.
func (l *textLine) place() (plot.Text, error) {
	p := pen{m: l.s.m}
	at, err := p.place(l.at)
	if err != nil {
		return plot.Text{}, err
	}
	t := plot.Text{At: at, Align: l.s.anchor, ID: l.id}
	t.Height = l.s.scale.font * capHeight * math.Sqrt(math.Abs(l.s.m.Det()))
	if !(t.Height >= 0 && t.Height <= MaxDistance) {
		return plot.Text{}, fmt.Errorf("has letters %.3g mm high", t.Height)
	}
	u := l.s.m.ApplyVec(path.Vec{X: 1})
	// y down to y up mirrors once; text that is mirrored besides is kept
	// readable, at most upright, and starts where it ended.
	if l.s.m.Det() > 0 && u.X < 0 {
		u = u.Neg()
		t.Align = t.Align.Opposite()
	}
	t.Angle = u.Angle()
	return t, nil
}
