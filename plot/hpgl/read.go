package hpgl

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// SyntaxError says what in a file cannot be read, and where: Line counts from
// 1, Offset is the number of bytes before it.
type SyntaxError struct {
	Line, Offset int
	Msg          string
}

func (e *SyntaxError) Error() string {
	return fmt.Sprintf("hpgl: line %d, byte %d: %s", e.Line, e.Offset, e.Msg)
}

// ReadOptions say how a file was written.
type ReadOptions struct {
	// StepMM is the device's step in mm, [StepMM] when it is 0.
	StepMM float64
	// Pens give lines their roles, [PenTable] when it is zero. Where it has several
	// roles for a pen the first of plot.Roles counts; other pens draw plot.Drawn.
	Pens Pens
}

// Read reads an HP-GL file.
//
// It understands IN, DF, SP, PU, PD, PA, PR, AA, LB, DT, SI and DI, and skips
// what does not move the pen: LT, VS, FS, AS, PT, PW, WU, PS and a last PG, and the
// escape sequences round a plot inside of PCL. Everything else, above all scaling and rotation, is a [*SyntaxError] rather
// than a drawing of the wrong size.
//
// The drawing has one group, none when nothing is drawn: HP-GL does not know
// pieces. Lines have the roles of their pens, and the pen as their class. A chain
// that returns to its start is a closed path, a pen put down and lifted again
// a path of one vertex; the cut line of a piece on the fold is open at its fold,
// as it was drawn. Signs are lines like others. Texts are aligned left, whatever
// they were.
func Read(r io.Reader, o ReadOptions) (plot.Drawing, error) {
	return read(r, o, limits{bytes: maxBytes, points: maxPoints, numbers: maxNumbers})
}

// limits bound what is read and kept.
type limits struct{ bytes, points, numbers int }

func read(r io.Reader, o ReadOptions, most limits) (plot.Drawing, error) {
	if o.StepMM == 0 {
		o.StepMM = StepMM
	}
	if !(o.StepMM >= minStep && o.StepMM <= maxStep) {
		return plot.Drawing{}, fmt.Errorf("hpgl: the step of %g mm is not between %g and %g mm", o.StepMM, minStep, maxStep)
	}
	if o.Pens.Roles == nil && o.Pens.Text == 0 {
		o.Pens = PenTable()
	}
	src, err := io.ReadAll(io.LimitReader(r, int64(most.bytes)+1))
	if err != nil {
		return plot.Drawing{}, fmt.Errorf("hpgl: %w", err)
	}
	if len(src) > most.bytes {
		return plot.Drawing{}, fmt.Errorf("hpgl: the file is larger than %d bytes: read its parts one by one", most.bytes)
	}
	p := interpreter{src: src, most: most, step: o.StepMM}
	p.reset()
	p.nameRoles(o.Pens)
	commands := 0
	for p.skipToCommand() {
		if err := p.command(); err != nil {
			return plot.Drawing{}, err
		}
		commands++
	}
	if commands == 0 {
		return plot.Drawing{}, errors.New("hpgl: the file holds no command: is it an HP-GL file?")
	}
	p.liftPen()
	d := plot.Drawing{}
	if len(p.group.Lines)+len(p.group.Texts) > 0 {
		d.Groups = []plot.Group{p.group}
	}
	return d, nil
}

// interpreter is a plotter that keeps what it draws.
type interpreter struct {
	src  []byte
	most limits
	step float64 // in mm
	pos  int
	args []float64

	group  plot.Group
	roles  [maxPen + 1]plot.Role
	points int

	at             path.Point // in mm
	pen            int
	down, relative bool
	chain          []path.Vertex // since the pen went down
	paged          bool          // a page was fed

	terminator    byte
	width, height float64 // of letters, in mm
	along         path.Vec
	labelled      bool // the last thing done was a label
}

// reset does what IN does.
func (p *interpreter) reset() {
	p.at, p.down = path.Point{}, false
	p.defaults()
}

// defaults does what DF does. Letters are 2.85 by 3.75 mm, the size on sheets
// below A0.
func (p *interpreter) defaults() {
	p.relative, p.terminator = false, etx
	p.width, p.height = 2.85, 3.75
	p.along = path.Vec{X: 1}
	p.labelled = false
}

func (p *interpreter) nameRoles(pens Pens) {
	for i, all := 0, plot.Roles(); i < len(all); i++ {
		r := all[len(all)-1-i]
		if pen := pens.Roles[r]; pen > 0 && pen <= maxPen {
			p.roles[pen] = r
		}
	}
	p.roles[0] = plot.Drawn
}

// fail returns the error at the offset.
func (p *interpreter) fail(pos int, format string, args ...any) error {
	line := 1
	for _, b := range p.src[:pos] {
		if b == '\n' {
			line++
		}
	}
	return &SyntaxError{Line: line, Offset: pos, Msg: fmt.Sprintf(format, args...)}
}

// skipToCommand skips separators and reports whether anything is left.
func (p *interpreter) skipToCommand() bool {
	for p.pos < len(p.src) {
		switch n := p.escape(); {
		case n > 0:
			p.pos += n
		case strings.IndexByte(" \t\r\n;", p.src[p.pos]) >= 0:
			p.pos++
		default:
			return true
		}
	}
	return false
}

// escape returns the length of the escape sequence that stands here, 0 if none
// does: those that reset a printer, enter HP-GL/2 and leave it.
func (p *interpreter) escape() int {
	for _, e := range [...]string{"\x1bE", "\x1b%0A", "\x1b%1A", "\x1b%0B", "\x1b%1B", "\x1b%-1B"} {
		if bytes.HasPrefix(p.src[p.pos:], []byte(e)) {
			return len(e)
		}
	}
	return 0
}

func letter(b byte) (upper byte, ok bool) {
	b &^= 'a' - 'A'
	return b, 'A' <= b && b <= 'Z'
}

// command reads and does one command.
func (p *interpreter) command() error {
	start := p.pos
	if p.src[start] == 0x1b {
		return p.fail(start, "an escape sequence of a printer that does not enter or leave a plot: save the drawing as plain HP-GL")
	}
	a, ok := letter(p.src[start])
	if !ok {
		return p.fail(start, "%q where a command should start", p.src[start])
	}
	if start+1 == len(p.src) {
		return p.fail(start, "the file ends within a command")
	}
	b, ok := letter(p.src[start+1])
	if !ok {
		return p.fail(start, "%q is not a command", p.src[start:start+2])
	}
	p.pos += 2
	name := string([]byte{a, b})
	switch name {
	case "LB":
		return p.label(start)
	case "DT":
		return p.setTerminator(start)
	}
	if err := p.numbers(); err != nil {
		return err
	}
	return p.do(start, name)
}

func (p *interpreter) do(start int, name string) error {
	n := len(p.args)
	count := func(want ...int) error {
		for _, w := range want {
			if n == w {
				return nil
			}
		}
		return p.fail(start, "%s has %d numbers", name, n)
	}
	switch name {
	case "IN":
		p.liftPen()
		p.reset()
		return count(0, 1)
	case "DF":
		p.defaults()
		return count(0)
	case "SP":
		p.endChain()
		p.pen = 0
		if n == 1 {
			if a := p.args[0]; a < 0 || a > maxPen || a != math.Trunc(a) {
				return p.fail(start, "pen %g is not a whole number from 0 to %d", a, maxPen)
			}
			p.pen = int(p.args[0])
		}
		return count(0, 1)
	case "PU":
		p.liftPen()
		return p.moves(start, name)
	case "PD":
		p.labelled = false
		if !p.down {
			p.down = true
			if err := p.startChain(start); err != nil {
				return err
			}
		}
		return p.moves(start, name)
	case "PA", "PR":
		p.relative = name == "PR"
		return p.moves(start, name)
	case "AA":
		if err := count(3, 4); err != nil {
			return err
		}
		return p.arc(start)
	case "SI":
		p.width, p.height = 2.85, 3.75
		if n == 2 {
			p.width, p.height = p.args[0]*10, p.args[1]*10
			if !(p.height >= minLetter && p.height <= maxLetter && p.width > 0 && p.width <= maxLetter) {
				return p.fail(start, "letters of %g by %g cm", p.args[0], p.args[1])
			}
		}
		p.labelled = false
		return count(0, 2)
	case "DI":
		p.along = path.Vec{X: 1}
		if n == 2 {
			p.along = path.Vec{X: p.args[0], Y: p.args[1]}.Unit()
			if p.along == (path.Vec{}) {
				return p.fail(start, "a lettering direction of 0,0")
			}
		}
		p.labelled = false
		return count(0, 2)
	case "PG":
		p.liftPen()
		p.paged = true
		return count(0, 1)
	case "LT", "VS", "FS", "AS", "PT", "PW", "WU", "PS":
		return nil
	}
	return p.fail(start, "command %s is not understood, and skipping it could change the drawing", name)
}

// numbers reads the numbers behind a command, up to its end.
func (p *interpreter) numbers() error {
	p.args = p.args[:0]
	comma := -1
	for p.pos < len(p.src) {
		b := p.src[p.pos]
		_, word := letter(b)
		switch {
		case b == ' ' || b == '\t' || b == '\r':
			p.pos++
		case b == '\n' && comma >= 0: // a list that goes on in the next line
			p.pos++
		case b == ',':
			if comma >= 0 || len(p.args) == 0 {
				return p.fail(p.pos, "a comma without a number before it")
			}
			comma = p.pos
			p.pos++
		case b == ';' || b == '\n' || word || b == 0x1b:
			if comma >= 0 {
				return p.fail(comma, "a comma without a number after it")
			}
			return nil
		default:
			if len(p.args) == p.most.numbers {
				return p.fail(p.pos, "a command with more than %d numbers", p.most.numbers)
			}
			x, err := p.number()
			if err != nil {
				return err
			}
			p.args = append(p.args, x)
			comma = -1
		}
	}
	if comma >= 0 {
		return p.fail(comma, "the file ends within a command")
	}
	return nil
}

// number reads one number: a sign, digits and a fraction, without exponent.
func (p *interpreter) number() (float64, error) {
	start := p.pos
	i := start
	if p.src[i] == '-' || p.src[i] == '+' {
		i++
	}
	digits, dots := 0, 0
	whole := int64(0)
	for ; i < len(p.src); i++ {
		if c := p.src[i]; '0' <= c && c <= '9' {
			digits++
			whole = whole*10 + int64(c-'0')
		} else if c == '.' && dots == 0 {
			dots++
		} else {
			break
		}
		if i-start > 30 {
			return 0, p.fail(start, "a number of more than 30 characters")
		}
	}
	if digits == 0 {
		return 0, p.fail(start, "%q where a number should stand", p.src[start])
	}
	p.pos = i
	x := float64(whole)
	if p.src[start] == '-' {
		x = -x
	}
	if dots > 0 || digits > 18 {
		var err error
		if x, err = strconv.ParseFloat(string(p.src[start:i]), 64); err != nil {
			return 0, p.fail(start, "%q is not a number", p.src[start:i])
		}
	}
	if math.Abs(x) > maxUnits {
		return 0, p.fail(start, "%g is larger than %d", x, maxUnits)
	}
	return x, nil
}

// moves goes to the points of the command.
func (p *interpreter) moves(start int, name string) error {
	if len(p.args)%2 != 0 {
		return p.fail(start, "%s has %d numbers, and points have two each", name, len(p.args))
	}
	for i := 0; i < len(p.args); i += 2 {
		to := path.Point{X: p.args[i] * p.step, Y: p.args[i+1] * p.step}
		if p.relative {
			to = p.at.Add(path.Vec(to))
		}
		if err := p.move(start, to, 0); err != nil {
			return err
		}
	}
	return nil
}

// move goes to the point, in a straight line or an arc.
func (p *interpreter) move(start int, to path.Point, bulge float64) error {
	if math.Abs(to.X) > maxUnits*p.step || math.Abs(to.Y) > maxUnits*p.step {
		return p.fail(start, "the pen leaves the range of ±%d units", maxUnits)
	}
	p.labelled = false
	from := p.at
	p.at = to
	if !p.down {
		return nil
	}
	if err := p.count(start); err != nil {
		return err
	}
	if len(p.chain) == 0 { // after a change of pens, or a label
		p.chain = append(p.chain, path.Vertex{Point: from})
	}
	p.chain[len(p.chain)-1].Bulge = bulge
	p.chain = append(p.chain, path.Vertex{Point: to})
	return nil
}

// arc does AA with the centre and the sweep in degrees. The chord angle that
// may follow does not count: the arc stays an arc.
func (p *interpreter) arc(start int) error {
	centre := path.Point{X: p.args[0] * p.step, Y: p.args[1] * p.step}
	sweep := max(-360, min(360, p.args[2])) * math.Pi / 180
	if sweep == 0 || p.at == centre {
		return p.move(start, p.at, 0)
	}
	// Parts of no more than half a turn.
	n := int(math.Ceil(math.Abs(sweep)/math.Pi - path.Coincident))
	from, spoke := p.at, p.at.Sub(centre)
	for i := 1; i <= n; i++ {
		to := centre.Add(spoke.Rotate(sweep * float64(i) / float64(n)))
		if i == n && math.Abs(sweep) == 2*math.Pi {
			to = from
		}
		if err := p.move(start, to, math.Tan(sweep/float64(n)/4)); err != nil {
			return err
		}
	}
	return nil
}

func (p *interpreter) liftPen() {
	p.endChain()
	p.down, p.labelled = false, false
}

// startChain begins a line where the pen is put down.
func (p *interpreter) startChain(start int) error {
	p.chain = append(p.chain[:0], path.Vertex{Point: p.at})
	return p.count(start)
}

// count counts a point or text that is drawn.
func (p *interpreter) count(start int) error {
	if p.paged {
		return p.fail(start, "a second page: save each page as a file of its own")
	}
	if p.points++; p.points > p.most.points {
		return p.fail(start, "more than %d points: read the drawing's parts one by one", p.most.points)
	}
	return nil
}

// endChain keeps the line that the pen has drawn since it went down.
func (p *interpreter) endChain() {
	if len(p.chain) == 0 {
		return
	}
	v := dropStays(p.chain)
	closed := false
	if n := len(v); n > 2 && v[0].Point == v[n-1].Point && (n > 3 || v[0].Bulge != 0 || v[1].Bulge != 0) {
		v, closed = v[:n-1], true
	}
	p.chain = p.chain[:0]
	p.group.Lines = append(p.group.Lines, plot.Line{
		Role: p.roles[p.pen], Class: "pen-" + strconv.Itoa(p.pen),
		Path: path.Path{V: append([]path.Vertex(nil), v...), Closed: closed},
	})
}

// dropStays drops the vertices at which the pen did not move.
func dropStays(v []path.Vertex) []path.Vertex {
	out := v[:1]
	for _, w := range v[1:] {
		if w.Point == out[len(out)-1].Point {
			out[len(out)-1].Bulge = w.Bulge
			continue
		}
		out = append(out, w)
	}
	return out
}

// label reads the text behind LB.
func (p *interpreter) label(start int) error {
	from := p.pos
	end := -1
	for i := from; i < len(p.src); i++ {
		if p.src[i] == p.terminator {
			end = i
			break
		}
	}
	if end < 0 {
		return p.fail(start, "a label without its end, character %d", p.terminator)
	}
	if err := p.count(start); err != nil {
		return err
	}
	var b strings.Builder
	for i, c := range p.src[from:end] {
		switch {
		case c < ' ':
			return p.fail(from+i, "control character %d in a label", c)
		case c > '~':
			b.WriteByte('?') // of a character set that the file does not name
		default:
			b.WriteByte(c)
		}
	}
	p.pos = end + 1
	s := b.String()
	at := p.at
	p.at = at.Add(p.along.Mul(float64(len(s)) * p.width * charPitch))
	p.endChain()
	n := len(p.group.Texts)
	letters := len(s)
	if p.labelled {
		letters += len(p.group.Texts[n-1].String)
	}
	if letters > maxLetters {
		return p.fail(start, "lettering of more than %d characters: has a label lost its end?", maxLetters)
	}
	if p.labelled {
		p.group.Texts[n-1].String += s
	} else if s != "" {
		p.group.Texts = append(p.group.Texts, plot.Text{
			At: at, Height: p.height, Angle: p.along.Angle(), String: s,
		})
		p.labelled = true
	}
	return nil
}

// setTerminator reads the character behind DT, and the mode that may follow.
func (p *interpreter) setTerminator(start int) error {
	if p.pos == len(p.src) {
		return p.fail(start, "the file ends within a command")
	}
	c := p.src[p.pos]
	p.pos++
	switch c {
	case ';':
		p.terminator = etx
		return nil
	case 0, '\n', 0x1b:
		return p.fail(start, "character %d cannot end labels", c)
	}
	p.terminator = c
	if p.pos < len(p.src) && p.src[p.pos] == ',' {
		p.pos++
		return p.numbers()
	}
	return nil
}
