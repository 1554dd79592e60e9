package dxf

import (
	"math"
	"strconv"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// plainText returns a string as it is shown: the codes for signs become the
// signs, control characters spaces.
func plainText(s string) string {
	if !strings.ContainsAny(s, `%^\`) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		i += sign(&b, s[i:], " ")
	}
	return b.String()
}

// sign writes the first sign of s, which may be a code, and returns its length.
// lineFeed stands for the code ^J; other control characters become spaces.
func sign(b *strings.Builder, s, lineFeed string) int {
	switch {
	case s[0] == '^' && len(s) > 1:
		switch s[1] {
		case ' ':
			b.WriteByte('^')
		case 'J':
			b.WriteString(lineFeed)
		default:
			b.WriteByte(' ')
		}
		return 2
	case s[0] == '%' && len(s) > 2 && s[1] == '%':
		switch s[2] {
		case '%':
			b.WriteByte('%')
		case 'd', 'D':
			b.WriteString("°")
		case 'p', 'P':
			b.WriteString("±")
		case 'c', 'C':
			b.WriteString("⌀")
		case 'u', 'U', 'o', 'O', 'k', 'K': // a line beneath, above, through
		default:
			if len(s) > 4 && digits(s[2:5]) {
				n, _ := strconv.Atoi(s[2:5])
				b.WriteRune(rune(n))
				return 5
			}
			b.WriteString(s[:3])
		}
		return 3
	case strings.HasPrefix(s, `\U+`) && len(s) > 6:
		if n, err := strconv.ParseUint(s[3:7], 16, 32); err == nil {
			b.WriteRune(rune(n))
			return 7
		}
	}
	b.WriteByte(s[0])
	return 1
}

func digits(s string) bool {
	return strings.Trim(s, "0123456789") == ""
}

// paragraphs returns the lines of an MTEXT without what only says how its
// letters look.
func paragraphs(s string) []string {
	var b strings.Builder
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case c == '{' || c == '}':
			i++
		case c != '\\' || strings.HasPrefix(s[i:], `\U+`):
			i += sign(&b, s[i:], "\n")
		case i+1 == len(s):
			i++
		default:
			i += 2
			switch s[i-1] {
			case 'P', 'N', 'X': // a new paragraph, a new column, beneath a dimension's line
				b.WriteByte('\n')
			case '~': // a space at which no line ends
				b.WriteByte(' ')
			case 'L', 'l', 'O', 'o', 'K', 'k': // lines beneath, above and through
			case 'A', 'C', 'c', 'F', 'f', 'H', 'p', 'Q', 'T', 'W', 'M':
				i += argument(s[i:])
			case 'S': // one above the other
				end := argument(s[i:])
				parts := strings.TrimSuffix(s[i:i+end], ";")
				parts = strings.NewReplacer("^ ", "/", "^", "/", "#", "/", `\`, "").Replace(parts)
				b.WriteString(parts)
				i += end
			default: // a sign that stands for itself
				b.WriteByte(s[i-1])
			}
		}
	}
	return strings.Split(b.String(), "\n")
}

// argument returns the length of what follows a code up to its semicolon.
func argument(s string) int {
	if end := strings.IndexByte(s, ';'); end >= 0 {
		return end + 1
	}
	return len(s)
}

// lineSpacing is the distance of the base lines of an MTEXT over the height of
// its letters, unless the text says more: the value of the DXF reference.
const lineSpacing = 5.0 / 3

// lettering adds the lines of a text, placed as the file has them.
func (e *entity) lettering(to []plot.Text) []plot.Text {
	t := plot.Text{At: e.at, Height: e.size, Angle: radians(e.angle), String: plainText(e.text)}
	if e.kind == kindMText {
		return e.paragraphs(to, t)
	}
	if t.String == "" {
		return to
	}
	drop := 0.0 // from the place to the base line, in heights
	switch e.rise {
	case 1:
		drop = -descent
	case 2:
		drop = 0.5
	case 3:
		drop = 1
	}
	if e.align != 0 || e.rise != 0 {
		switch e.align {
		case 1:
			t.Align = plot.Middle
		case 4: // centred both ways
			t.Align, drop = plot.Middle, 0.5
		case 2:
			t.Align = plot.Right
		}
		if e.align == 3 || e.align == 5 { // stretched from the one point to the other
			if along := e.to.Sub(e.at); along != (path.Vec{}) {
				t.Angle = along.Angle()
			}
			drop = 0
		} else {
			t.At = e.to
		}
	}
	if drop != 0 {
		t.At = t.At.Add(path.Direction(t.Angle).Right().Mul(drop * t.Height))
	}
	return append(to, t)
}

// descent is how far letters such as g reach below the base line, in heights
// of a capital: as in most faces.
const descent = 1.0 / 3

func (e *entity) paragraphs(to []plot.Text, t plot.Text) []plot.Text {
	if e.directed {
		t.Angle = e.to.Sub(path.Point{}).Angle()
	}
	lines := paragraphs(e.text)
	spacing := lineSpacing
	if e.x != nil && e.x.yScale > 0 {
		spacing *= e.x.yScale
	}
	place := max(e.flags-1, 0) // 71: from the upper left, row by row
	t.Align = [...]plot.Align{plot.Left, plot.Middle, plot.Right}[place%3]
	last := float64(len(lines)-1) * spacing
	drop := 1.0
	switch place / 3 {
	case 0:
	case 1:
		drop = 1 - (1+last)/2
	default:
		drop = -last
	}
	down := path.Direction(t.Angle).Right().Mul(t.Height)
	at := t.At
	for i, line := range lines {
		if t.String = strings.TrimSpace(line); t.String != "" {
			t.At = at.Add(down.Mul(drop + float64(i)*spacing))
			to = append(to, t)
		}
	}
	return to
}

// moveText returns the text under the map. A map that mirrors moves its place
// but leaves the letters readable.
func moveText(t plot.Text, m path.Affine) plot.Text {
	along := m.ApplyVec(path.Direction(t.Angle))
	l := along.Len()
	if l == 0 {
		return t
	}
	t.At = m.Apply(t.At)
	t.Height *= math.Abs(m.Det()) / l
	if m.Det() < 0 && along.X < 0 {
		along = along.Neg()
		t.Align = t.Align.Opposite()
	}
	if along != path.Direction(t.Angle) {
		t.Angle = along.Angle()
	}
	return t
}
