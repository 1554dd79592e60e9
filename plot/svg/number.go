package svg

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// scanner reads numbers from an attribute's value.
type scanner struct {
	s string
	i int
}

// space skips white space.
func (c *scanner) space() {
	for c.i < len(c.s) && strings.IndexByte(" \t\r\n\f", c.s[c.i]) >= 0 {
		c.i++
	}
}

// separator skips white space with at most one comma in it.
func (c *scanner) separator() {
	c.space()
	if c.i < len(c.s) && c.s[c.i] == ',' {
		c.i++
		c.space()
	}
}

func (c *scanner) done() bool { return c.i >= len(c.s) }

// wanted returns the error that something else stands where the wanted thing
// should.
func (c *scanner) wanted(what string) error {
	if c.done() {
		return fmt.Errorf("ends where %s should follow", what)
	}
	return fmt.Errorf("has %q at character %d where %s should stand", clip(c.s[c.i:]), c.i+1, what)
}

// number reads one number. An e that no exponent follows is left, as it can
// start a unit.
func (c *scanner) number() (float64, error) {
	i := c.i
	digits := func() int {
		from := i
		for i < len(c.s) && c.s[i] >= '0' && c.s[i] <= '9' {
			i++
		}
		return i - from
	}
	sign := func() {
		if i < len(c.s) && (c.s[i] == '+' || c.s[i] == '-') {
			i++
		}
	}
	sign()
	n := digits()
	if i < len(c.s) && c.s[i] == '.' {
		i++
		n += digits()
	}
	if n == 0 {
		return 0, c.wanted("a number")
	}
	if mantissa := i; i < len(c.s) && (c.s[i] == 'e' || c.s[i] == 'E') {
		i++
		sign()
		if digits() == 0 {
			i = mantissa
		}
	}
	x, err := strconv.ParseFloat(c.s[c.i:i], 64)
	if err != nil {
		return 0, fmt.Errorf("has a number at character %d that is too large: %s", c.i+1, clip(c.s[c.i:i]))
	}
	c.i = i
	return x, nil
}

// flag reads a 0 or 1, after which no separator is needed.
func (c *scanner) flag() (bool, error) {
	if c.done() || c.s[c.i] != '0' && c.s[c.i] != '1' {
		return false, c.wanted("a flag, 0 or 1,")
	}
	c.i++
	return c.s[c.i-1] == '1', nil
}

// word reads letters and %.
func (c *scanner) word() string {
	from := c.i
	for c.i < len(c.s) {
		if b := c.s[c.i] | 0x20; (b < 'a' || b > 'z') && c.s[c.i] != '%' {
			break
		}
		c.i++
	}
	return c.s[from:c.i]
}

// numbers reads a list to its end.
func numbers(s string) ([]float64, error) {
	c := scanner{s: s}
	c.space()
	var list []float64
	for !c.done() {
		x, err := c.number()
		if err != nil {
			return nil, err
		}
		list = append(list, x)
		c.separator()
	}
	return list, nil
}

// Units of CSS, in px: css-values-3, "Absolute lengths".
const (
	pxPerInch = 96
	mmPerInch = 25.4
	mmPerPx   = mmPerInch / pxPerInch
)

// scale is what relative lengths are measured by: the size of the font and of
// the viewport in user units, 0 when not known.
type scale struct {
	font, width, height float64
}

// axis says which extent of the viewport a percentage is of.
type axis uint8

const (
	along axis = iota // x
	down              // y
	across
)

func (s scale) extent(a axis) float64 {
	switch a {
	case along:
		return s.width
	case down:
		return s.height
	}
	// SVG 1.1, 7.10: the diagonal over the square root of 2.
	return math.Hypot(s.width, s.height) / math.Sqrt2
}

// length reads a length with its unit and returns it in user units.
func (s scale) length(text string, a axis) (float64, error) {
	c := scanner{s: text}
	c.space()
	x, err := c.number()
	if err != nil {
		return 0, err
	}
	unit := c.word()
	c.space()
	if !c.done() {
		return 0, c.wanted("the end")
	}
	switch strings.ToLower(unit) {
	case "", "px":
		return x, nil
	case "in":
		return x * pxPerInch, nil
	case "mm":
		return x / mmPerPx, nil
	case "cm":
		return x * 10 / mmPerPx, nil
	case "q":
		return x / 4 / mmPerPx, nil
	case "pt":
		return x * pxPerInch / 72, nil
	case "pc":
		return x * pxPerInch / 6, nil
	case "em":
		return x * s.font, nil
	case "ex":
		return x * s.font / 2, nil
	case "%":
		return x / 100 * s.extent(a), nil
	}
	return 0, fmt.Errorf("has the unit %q, which is none of px, mm, cm, in, pt, pc, Q, em, ex and %%", clip(unit))
}
