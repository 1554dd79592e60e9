package dxf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// SyntaxError says what in a file cannot be read and in which line, counted
// from 1.
type SyntaxError struct {
	Line int
	Msg  string
}

func (e *SyntaxError) Error() string { return fmt.Sprintf("dxf: line %d: %s", e.Line, e.Msg) }

func fail(line int, format string, args ...any) error {
	return &SyntaxError{Line: line, Msg: fmt.Sprintf(format, args...)}
}

// pair is a group code with its value, and the line that the value is on.
type pair struct {
	code  int
	value []byte
	line  int
}

// is reports whether the pair is the one given.
func (p pair) is(code int, value string) bool { return p.code == code && string(p.value) == value }

// scanner takes a file apart into pairs.
type scanner struct {
	src  []byte
	pos  int
	line int // that is read next, less one
	pair
}

// next reads the next pair that is not a comment. The file may not end here:
// the pair 0, EOF is its last.
func (s *scanner) next() error {
	for {
		code, ok := s.readLine()
		if !ok {
			return fail(s.line+1, "the file ends without EOF: it may have been cut short")
		}
		n, ok := integer(bytes.TrimSpace(code))
		if !ok || n < -5 || n > 1071 {
			return fail(s.line, "%.40q is not a group code", code)
		}
		value, ok := s.readLine()
		if !ok {
			return fail(s.line+1, "the file ends without the value of group code %d", n)
		}
		s.pair = pair{code: n, value: value, line: s.line}
		if n == 0 || n == 2 {
			s.value = bytes.TrimSpace(value)
		}
		if n != 999 {
			return nil
		}
	}
}

func (s *scanner) readLine() ([]byte, bool) {
	rest := s.src[s.pos:]
	if len(rest) == 0 {
		return nil, false
	}
	s.line++
	end := bytes.IndexByte(rest, '\n')
	if end < 0 {
		s.pos = len(s.src)
		return rest, true
	}
	s.pos += end + 1
	if end > 0 && rest[end-1] == '\r' {
		end--
	}
	return rest[:end], true
}

// integer reads a whole number of up to nine digits.
func integer(b []byte) (n int, ok bool) {
	digits := b
	if len(b) > 0 && b[0] == '-' {
		digits = b[1:]
	}
	if len(digits) == 0 || len(digits) > 9 {
		return 0, false
	}
	for _, c := range digits {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	if len(digits) < len(b) {
		n = -n
	}
	return n, true
}

// integer returns the pair's value as a whole number.
func (p pair) integer() (int, error) {
	n, ok := integer(bytes.TrimSpace(p.value))
	if !ok {
		return 0, fail(p.line, "%.40q is not a whole number, as group code %d has it", p.value, p.code)
	}
	return n, nil
}

// number returns the pair's value as a number.
func (p pair) number() (float64, error) {
	b := bytes.TrimSpace(p.value)
	x, ok := decimal(b)
	if !ok {
		var err error
		if x, err = strconv.ParseFloat(string(b), 64); err != nil {
			return 0, fail(p.line, "%.40q is not a number, as group code %d has it", p.value, p.code)
		}
	}
	if !(math.Abs(x) <= maxNumber) {
		return 0, fail(p.line, "%g is not a number up to %g", x, maxNumber)
	}
	return x, nil
}

// decimal reads digits with a point and a sign, as nearly all numbers are
// written. Up to 15 digits over a power of ten are rounded once, as they should.
func decimal(b []byte) (x float64, ok bool) {
	negative := len(b) > 0 && b[0] == '-'
	if negative {
		b = b[1:]
	}
	if len(b) == 0 || len(b) > 16 {
		return 0, false
	}
	n, scale, digits, point := uint64(0), 1.0, 0, false
	for _, c := range b {
		switch {
		case '0' <= c && c <= '9':
			n = 10*n + uint64(c-'0')
			digits++
			if point {
				scale *= 10
			}
		case c == '.' && !point:
			point = true
		default:
			return 0, false
		}
	}
	if digits == 0 || digits > 15 {
		return 0, false
	}
	x = float64(n) / scale
	if negative {
		x = -x
	}
	return x, true
}

// text returns the pair's value as text: the codes of DXF for signs become the
// signs, control characters spaces. What is not UTF-8 is taken as Latin-1.
func (p pair) text() string {
	s := string(p.value)
	if !utf8.ValidString(s) {
		r := make([]rune, len(p.value))
		for i, c := range p.value {
			r[i] = rune(c)
		}
		s = string(r)
	}
	if !strings.ContainsAny(s, "%^") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '^' && i+1 < len(s):
			i++
			if s[i] == ' ' {
				b.WriteByte('^')
			} else {
				b.WriteByte(' ') // ^J is a line feed, and so on
			}
		case c == '%' && i+2 < len(s) && s[i+1] == '%':
			i += 2
			switch s[i] {
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
				b.WriteString(s[i-2 : i+1])
			}
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}
