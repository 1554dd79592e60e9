package dxf

import (
	"math"
	"strconv"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// encoder appends pairs: a line with the group code, a line with the value.
// Lengths are given in mm and written in the file's unit.
type encoder struct {
	buf      []byte
	decimals int     // of lengths
	unit     float64 // mm
	release  Release
	// Of release 2000: the handle that was given last, and that of what owns the
	// entities or the entries of a table that are being written.
	handle, owner uint64
}

// Group codes are given as text, which saves the time to spell them.

func (e *encoder) text(code, value string) {
	e.buf = append(append(e.buf, code...), "\r\n"...)
	e.buf = append(append(e.buf, value...), "\r\n"...)
}

func (e *encoder) integer(code string, n int) {
	e.buf = append(append(e.buf, code...), "\r\n"...)
	e.buf = append(strconv.AppendInt(e.buf, int64(n), 10), "\r\n"...)
}

func (e *encoder) number(code string, x float64, decimals int) {
	e.buf = append(append(e.buf, code...), "\r\n"...)
	e.buf = append(appendFixed(e.buf, x, decimals), "\r\n"...)
}

func (e *encoder) length(code string, mm float64) { e.number(code, mm/e.unit, e.decimals) }

// point writes the point with the codes 10 and 20.
func (e *encoder) point(p path.Point) { e.buf = e.appendPoint(e.buf, p) }

// secondPoint writes the point with the codes 11 and 21.
func (e *encoder) secondPoint(p path.Point) {
	e.length("11", p.X)
	e.length("21", p.Y)
}

func (e *encoder) section(name string) {
	e.text("0", "SECTION")
	e.text("2", name)
}

func (e *encoder) endSection() { e.text("0", "ENDSEC") }

// entity starts an entity on the layer.
func (e *encoder) entity(kind, layer string) {
	e.text("0", kind)
	if e.release == R2000 {
		e.owned(e.owner)
		e.text("100", "AcDbEntity")
	}
	e.text("8", layer)
}

// subclass says, where a release does, whose group codes follow.
func (e *encoder) subclass(name string) {
	if e.release == R2000 {
		e.text("100", name)
	}
}

// level writes, in releases that want it, that a point lies in the plane: code
// is 30 or 31.
func (e *encoder) level(code string) {
	if e.release == R2000 {
		e.text(code, "0.0")
	}
}

// lettering writes a TEXT without what may follow it.
func (e *encoder) lettering(layer string, t plot.Text) {
	e.entity("TEXT", layer)
	e.subclass("AcDbText")
	e.point(t.At)
	e.level("30")
	e.length("40", t.Height)
	e.text("1", spell(t.String))
	if t.Angle != 0 {
		e.number("50", degrees(t.Angle), angleDecimals)
	}
	if t.Align != plot.Left {
		e.integer("72", int(t.Align))
		e.secondPoint(t.At)
		e.level("31")
	}
	e.subclass("AcDbText") // of how it is aligned across its line
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }

// spell returns the text as a DXF string: ASCII, a caret with the space that
// lets it stand for itself, and percent signs in a row set apart, since two of
// them start a code.
func spell(s string) string {
	s = ascii.Fold(s)
	for strings.Contains(s, "%%") {
		s = strings.ReplaceAll(s, "%%", "% %")
	}
	return strings.ReplaceAll(s, "^", "^ ")
}

// appendPoint appends the point with the codes 10 and 20.
func (e *encoder) appendPoint(buf []byte, p path.Point) []byte {
	buf = append(buf, "10\r\n"...)
	buf = append(appendFixed(buf, p.X/e.unit, e.decimals), "\r\n20\r\n"...)
	return append(appendFixed(buf, p.Y/e.unit, e.decimals), "\r\n"...)
}

// appendFixed appends x, less than 1e10 in size, with 2, 4 or 8 decimals; zero
// has no sign. It is several times as fast as strconv.AppendFloat, which finds
// the digits of numbers of any size.
func appendFixed(buf []byte, x float64, decimals int) []byte {
	scale := [...]float64{2: 1e2, 4: 1e4, 8: 1e8}[decimals]
	n := int64(math.RoundToEven(x * scale))
	negative := n < 0
	if negative {
		n = -n
	}
	var digits [24]byte
	i := len(digits)
	put := func(c byte) {
		i--
		digits[i] = c
	}
	for range decimals {
		put(byte('0' + n%10))
		n /= 10
	}
	put('.')
	for ok := true; ok; ok = n > 0 {
		put(byte('0' + n%10))
		n /= 10
	}
	if negative {
		put('-')
	}
	return append(buf, digits[i:]...)
}
