package png

import (
	"strings"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/stroke"
)

// capHeight and xHeight are the heights of a capital and of a small letter as parts
// of the text size.
const (
	capHeight = 0.72
	xHeight   = capHeight * 2 / 3
)

// face draws letters as strokes, as they are on every plot, so that they turn freely
// and come out alike everywhere.
type face struct {
	weight float64 // width of the strokes to the height of a capital
}

func regular() *face { return &face{weight: 0.105} }
func medium() *face  { return &face{weight: 0.155} }

// width returns the length of the text at the text size.
func (f *face) width(s string, size float64) float64 { return stroke.Width(s, capHeight*size) }

// draw strokes the text with the context's colour, from the point on its base line in
// the direction along, a unit vector in the picture, y down.
func (f *face) draw(dc *gg.Context, s string, size float64, at, along gg.Point) {
	dc.SetLineWidth(f.weight * capHeight * size)
	dc.SetLineCapRound()
	dc.SetLineJoinRound()
	dc.SetDash()
	to := func(p path.Point) (x, y float64) {
		return at.X + p.X*along.X + p.Y*along.Y, at.Y + p.X*along.Y - p.Y*along.X
	}
	for _, p := range stroke.Lines(plot.Text{Height: capHeight * size, String: s}) {
		points := p.Flatten(letterError)
		x, y := to(points[0])
		dc.MoveTo(x, y)
		for _, q := range points[1:] {
			dc.LineTo(to(q))
		}
		if p.Closed {
			dc.ClosePath()
		}
	}
	dc.Stroke()
}

// wrap breaks the text at spaces into lines that are no longer than limit, and
// a word that is longer than that between letters.
func (f *face) wrap(s string, size, limit float64) []string {
	var lines []string
	for _, word := range strings.Fields(s) {
		if n := len(lines) - 1; n >= 0 {
			if joined := lines[n] + " " + word; f.width(joined, size) <= limit {
				lines[n] = joined
				continue
			}
		}
		from := 0
		for i, r := range word {
			if i > from && f.width(word[from:i]+string(r), size) > limit {
				lines = append(lines, word[from:i])
				from = i
			}
		}
		lines = append(lines, word[from:])
	}
	return lines
}

// shorten returns the text, cut short with an ellipsis if it is longer than
// limit.
func (f *face) shorten(s string, size, limit float64) string {
	if f.width(s, size) <= limit {
		return s
	}
	const ellipsis = "\u2026"
	for i, r := range s {
		if f.width(s[:i]+string(r)+ellipsis, size) > limit {
			return s[:i] + ellipsis
		}
	}
	return s
}
