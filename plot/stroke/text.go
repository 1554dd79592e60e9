package stroke

import (
	"math"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// Lines returns the strokes of a text: paths of lines and arcs in mm, in the
// order in which they are written, each one to draw with the pen down. A dot is a
// circle of a tenth of the height, for machines that leave nothing on a point. Closed paths are counter-clockwise or clockwise, as it is
// written.
//
// The text's place is on the base line, and its left end, middle or right end is
// there, measured as [Width] does. The strokes keep within the room of
// [plot.Text.Corners] along the line; small letters, some signs and marks reach
// below and above it.
//
// There are no strokes of a text whose height is not a positive number, or whose
// place or angle is not finite or so far off that its room is not. Bytes that are
// not UTF-8 leave none and take no room.
func Lines(t plot.Text) []path.Path {
	if !drawable(t) {
		return nil
	}
	w := writer{at: t.At, step: path.Direction(t.Angle).Mul(t.Height / capHeight), draws: true}
	letters := min(len(t.String), usualLetters)
	w.pen.strokes = make([]path.Path, 0, usualStrokes*letters)
	w.pen.v = make([]path.Vertex, 0, usualVertices*letters)
	w.write(t.String)
	back := w.step.Mul(-w.width() * t.Align.Before())
	for k, p := range w.pen.strokes {
		for i := range p.V {
			p.V[i].Point = p.V[i].Add(back)
		}
		if len(p.V) == 1 {
			middle := p.V[0].Point
			w.pen.strokes[k] = path.Circle(middle, dotSize/2*t.Height).Transform(path.Rotation(middle, t.Angle))
		}
	}
	return w.pen.strokes
}

// Width returns the length in mm of a text in capitals of that height, from the
// left side of its first letter to the right side of its last: the sum of the
// letters' advances without the bearings at both ends, which is what a text is
// aligned by. It is 0 for a text without strokes or spaces and for a height that
// is not a positive number.
func Width(s string, height float64) float64 {
	if !(height > 0) || math.IsInf(height, 1) {
		return 0
	}
	var w writer
	w.write(s)
	return w.width() / capHeight * height
}

// drawable reports whether all that is drawn of the text has finite coordinates.
func drawable(t plot.Text) bool {
	if !(t.Height > 0) {
		return false
	}
	t.Height *= mostMarks // as high as it may get
	for _, c := range t.Corners() {
		if !c.Finite() {
			return false
		}
	}
	return true
}

// writer sets letters one after another.
type writer struct {
	pen   pen
	at    path.Point
	step  path.Vec // one step along the base line
	draws bool

	x       float64 // in steps: where the next letter's advance begins
	bearing float64 // in steps: on the right of the letter before that
	any     bool    // there is a letter
}

// width returns the length of what is written, in steps.
func (w *writer) width() float64 { return w.x - w.bearing }

func (w *writer) write(s string) {
	for len(s) > 0 {
		r, size := utf8.DecodeRuneInString(s)
		s = s[size:]
		if r == utf8.RuneError && size < 2 {
			continue
		}
		if r < utf8.RuneSelf && (s == "" || s[0] < utf8.RuneSelf) {
			w.plain(r)
			continue
		}
		end := 0
		for end < len(s) {
			m, size := utf8.DecodeRuneInString(s[end:])
			if !combining(m) {
				break
			}
			end += size
		}
		w.letter(r, s[:end])
		s = s[end:]
	}
}

// letter sets a character and the marks that follow it.
func (w *writer) letter(r rune, marks string) {
	if combining(r) {
		return // with nothing before it to stand on
	}
	if notation(r) != "" {
		w.marked(r, marks)
		return
	}
	var buf [utf8.UTFMax]byte
	parts := norm.NFD.Properties(buf[:utf8.EncodeRune(buf[:], r)]).Decomposition()
	if base, size := utf8.DecodeRune(parts); size > 0 && notation(base) != "" && known(parts[size:]) {
		w.marked(base, string(parts[size:])+marks)
		return
	}
	spelled := ascii.Fold(string(r))
	for i := range len(spelled) {
		w.plain(rune(spelled[i]))
	}
}

// known reports whether all of the text are marks that have strokes.
func known(marks []byte) bool {
	for len(marks) > 0 {
		m, size := utf8.DecodeRune(marks)
		if !combining(m) || notation(m) == "" {
			return false
		}
		marks = marks[size:]
	}
	return true
}

// plain sets a character of ASCII without marks. Control characters are spaces.
func (w *writer) plain(r rune) {
	b, strokes, ok := header(notation(r))
	if !ok {
		w.space()
		return
	}
	w.set(b)
	w.draw(strokes, 0, 0)
	w.x += b.width + b.right
}

func (w *writer) space() {
	w.x += spaceAdvance
	w.bearing = 0
	w.any = true
}

// set begins a letter: it moves to the left end of its strokes.
func (w *writer) set(b box) {
	if w.any {
		w.x += b.left
	}
	w.any = true
	w.bearing = b.right
}

// draw draws strokes with their origin so many steps along and above.
func (w *writer) draw(strokes string, along, above float64) {
	if w.draws {
		at := w.at.Add(w.step.Mul(w.x + along)).Add(w.step.Left().Mul(above))
		w.pen.draw(strokes, path.Frame(at, w.step))
	}
}

// placed is a mark on its letter.
type placed struct {
	strokes       string
	along, raised float64
}

// marked sets a character that has strokes with marks, of which those that have
// none are left out.
func (w *writer) marked(letter rune, marks string) {
	var list [2 * mostMarks]placed
	n, over, under := 0, 0, 0
	for _, m := range marks {
		if !below(m) && notation(m) != "" {
			letter = dotless(letter)
		}
	}
	b, strokes, _ := header(notation(letter))
	from, to := 0.0, b.width
	for _, m := range marks {
		m = form(m, letter)
		mb, ms, ok := header(notation(m))
		if !ok {
			continue
		}
		p := placed{strokes: ms, along: anchor(letter, m, b.width) - mb.width/2}
		switch {
		case m == besideCaron:
			if over == mostMarks {
				continue
			}
			over = mostMarks
		case below(m):
			if under == mostMarks {
				continue
			}
			p.raised = -markRise * float64(under)
			under++
		default:
			if over == mostMarks {
				continue
			}
			p.raised = top(letter) + markRise*float64(over)
			over++
		}
		list[n] = p
		n++
		from, to = min(from, p.along), max(to, p.along+mb.width)
	}
	// A mark that is wider than the letter takes of its bearings.
	b = box{left: max(b.left+from, min(b.left, leastBearing)), width: to - from, right: max(b.right+b.width-to, min(b.right, leastBearing))}
	w.set(b)
	w.draw(strokes, -from, 0)
	for _, p := range list[:n] {
		w.draw(p.strokes, p.along-from, p.raised)
	}
	w.x += b.width + b.right
}
