package hpgl

import (
	"io"
	"math"
	"slices"
	"strconv"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// encoder writes the commands of a plot.
type encoder struct {
	Options
	buf    []byte
	points []path.Point // room for those of a line
	chords path.Chorder
	perMM  float64
	lo, hi float64
	shift  path.Vec   // from the drawing to the device, in whole steps
	letter [2]float64 // width and height of letters in cm, as sent
	along  [2]float64 // direction of the lettering, as sent
}

func newEncoder(w io.Writer, o Options, size int) *encoder {
	e := &encoder{
		Options: o, perMM: 1 / o.StepMM,
		along: [2]float64{1, 0}, // after IN
	}
	if b, ok := w.(interface{ AvailableBuffer() []byte }); ok {
		e.buf = b.AvailableBuffer() // of a buffer that is used again
	}
	e.buf = slices.Grow(e.buf, size)
	e.lo, e.hi = o.Range.limits()
	return e
}

// Shift returns by how much a drawing with the box is moved to the device: not at all
// from a [Corner], and from a [Centre] so that its middle is on the origin, by whole
// steps.
func (o Options) Shift(box path.Box) path.Vec {
	if o.Origin == Corner || box.Empty() {
		return path.Vec{}
	}
	step := o.filled().StepMM
	middle := box.Centre()
	return path.Vec{X: -math.Round(middle.X/step) * step, Y: -math.Round(middle.Y/step) * step}
}

// enterPlot resets a printer, enters HP-GL/2 and says how large the plot of the box
// is. HP PCL 5 Technical Reference Manual, chapter 17: ESC E resets, ESC %0B enters,
// PS takes length and width in plotter units.
func (e *encoder) enterPlot(box path.Box) {
	e.buf = append(e.buf, "\x1bE\x1b%0B\n"...)
	e.command("IN")
	if box.Empty() {
		return
	}
	reach := func(hi, shift float64) int64 {
		return int64(math.Ceil((max(0, hi+shift) + pageMargin) * e.perMM))
	}
	e.buf = appendPair(append(e.buf, "PS"...), reach(box.Max.X, e.shift.X), reach(box.Max.Y, e.shift.Y))
	e.buf = append(e.buf, ";\n"...)
}

// leavePlot goes back to PCL and resets: ESC %0A, ESC E.
func (e *encoder) leavePlot() { e.buf = append(e.buf, "\x1b%0A\x1bE"...) }

func (e *encoder) command(s string) { e.buf = append(append(e.buf, s...), ";\n"...) }

func (e *encoder) selectPen(pen int) {
	e.command("PU")
	e.buf = strconv.AppendInt(append(e.buf, "SP"...), int64(pen), 10)
	e.buf = append(e.buf, ";\n"...)
	e.setting("VS", e.Speed)
	e.setting("FS", e.Force)
}

// setting sends a number unless it is 0.
func (e *encoder) setting(command string, x float64) {
	if x != 0 {
		e.buf = strconv.AppendFloat(append(e.buf, command...), x, 'f', -1, 64)
		e.buf = append(e.buf, ";\n"...)
	}
}

// lineType sends the number of a line type, or that lines are solid. HP PCL 5
// Technical Reference Manual, p. 22-22: LT type, length, mode, of which 1 is mm.
func (e *encoder) lineType(number string) {
	if number == "" {
		e.command("LT")
		return
	}
	e.command("LT" + number + "," + strconv.Itoa(dashLength) + ",1")
}

// units returns the point in plotter units, and whether it is in the range.
func (e *encoder) units(p path.Point) (x, y int64, inside bool) {
	fx, fy := math.RoundToEven((p.X+e.shift.X)*e.perMM), math.RoundToEven((p.Y+e.shift.Y)*e.perMM)
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
	if e.Arcs && slices.ContainsFunc(p.V, func(v path.Vertex) bool { return v.Bulge != 0 }) {
		e.arcs(p)
		return true
	}
	points := e.chords.Append(e.points[:0], *p, e.ChordError)
	if p.Closed {
		points = append(points, points[0])
	}
	e.points = points
	x, y, _ := e.units(points[0])
	e.moveTo(x, y)
	e.lines(x, y, points, true)
	return true
}

// lines draws through the points, from where the pen is. The pen goes down even if it
// does not move.
func (e *encoder) lines(x, y int64, points []path.Point, dot bool) (int64, int64) {
	buf := append(e.buf, "PD"...)
	line, pairs := len(buf), 0 // where the numbers of this line start, how many
	for i, q := range points {
		qx, qy, _ := e.units(q)
		if qx == x && qy == y && !(dot && i == len(points)-1 && len(buf) == line) {
			continue // no further than rounding, unless it is all there is
		}
		x, y = qx, qy
		switch {
		case len(buf) == line:
		case pairs == e.Pairs || len(buf)-line+pairWidth > e.LineLength:
			buf = append(buf, ";\nPD"...)
			line, pairs = len(buf), 0
		default:
			buf = append(buf, ',')
		}
		buf = appendPair(buf, x, y)
		pairs++
	}
	if len(buf) == line {
		return x, y // nothing to draw
	}
	e.buf = append(buf, ";\n"...)
	return x, y
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
