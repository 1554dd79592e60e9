package dxf

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
)

// SyntaxError says what in a file cannot be read and in which line, counted
// from 1. Table says that it is the file of a rule table.
type SyntaxError struct {
	Table bool
	Line  int
	Msg   string
}

func (e *SyntaxError) Error() string {
	if e.Table {
		return fmt.Sprintf("dxf: rule table, line %d: %s", e.Line, e.Msg)
	}
	return fmt.Sprintf("dxf: line %d: %s", e.Line, e.Msg)
}

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
func (p *pair) is(code int, value string) bool { return p.code == code && string(p.value) == value }

// scanner takes a file apart into pairs.
type scanner struct {
	src  []byte
	pos  int
	line int  // that is read next, less one
	ends bool // without saying EOF
	pair
}

// next reads the next pair that is not a comment. Where the file ends between
// two pairs, the pair is 0, EOF, as if the file said so.
func (s *scanner) next() error {
	for {
		code, ok := s.readLine()
		if !ok || (len(code) == 0 || code[0] == endOfText) && s.ended() {
			if !ok {
				s.line++
			}
			s.pair = pair{value: []byte(endOfFile), line: s.line}
			s.ends = true
			return nil
		}
		n, ok := groupCode(code)
		if !ok {
			return fail(s.line, "%.40q is not a group code", clip(code))
		}
		value, ok := s.readLine()
		if !ok {
			return fail(s.line+1, "the file ends without the value of group code %d", n)
		}
		s.pair = pair{code: n, value: value, line: s.line}
		if n == 0 || n == 2 {
			s.value = bytes.TrimSpace(value)
			if n == 0 {
				s.value = upper(s.value)
			}
		}
		if n != comment {
			return nil
		}
	}
}

const (
	comment   = 999
	endOfFile = "EOF"
	// endOfText closes files that some old programs wrote.
	endOfText = 0x1a
)

// ended reports whether nothing follows but blank lines.
func (s *scanner) ended() bool {
	return len(bytes.Trim(s.src[s.pos:], " \t\r\n\x00\x1a")) == 0
}

// readLine returns the next line without its end.
func (s *scanner) readLine() ([]byte, bool) {
	rest := s.src[s.pos:]
	if len(rest) == 0 {
		return nil, false
	}
	s.line++
	end := -1
	// Nearly all lines are short, for which a loop is faster than a call.
	for i, c := range rest[:min(len(rest), 24)] {
		if c == '\n' {
			end = i
			break
		}
	}
	if end < 0 {
		end = bytes.IndexByte(rest, '\n')
	}
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

// groupCode reads a group code with the spaces around it.
func groupCode(line []byte) (int, bool) {
	n, i := 0, 0
	for i < len(line) && line[i] == ' ' {
		i++
	}
	first := i
	for i < len(line) && '0' <= line[i] && line[i] <= '9' && i < first+5 {
		n = 10*n + int(line[i]-'0')
		i++
	}
	if i == first || i < len(line) {
		var ok bool
		if n, ok = integer(bytes.TrimSpace(line)); !ok {
			return 0, false
		}
	}
	return n, -5 <= n && n <= 1071
}

// upper returns the word in capitals.
func upper(word []byte) []byte {
	for _, c := range word {
		if 'a' <= c && c <= 'z' {
			return bytes.ToUpper(word)
		}
	}
	return word
}

// clip shortens what a message quotes.
func clip(b []byte) []byte { return b[:min(len(b), 80)] }

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
func (p *pair) integer() (int, error) {
	n, ok := integer(bytes.TrimSpace(p.value))
	if !ok {
		return 0, fail(p.line, "%.40q is not a whole number, as group code %d has it", clip(p.value), p.code)
	}
	return n, nil
}

// number returns the pair's value as a number.
func (p *pair) number() (float64, error) {
	b := bytes.TrimSpace(p.value)
	x, ok := decimal(b)
	if !ok {
		var err error
		if x, err = strconv.ParseFloat(string(b), 64); err != nil {
			return 0, fail(p.line, "%.40q is not a number, as group code %d has it", clip(p.value), p.code)
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
