package png

import (
	"fmt"
	"strings"

	"github.com/fogleman/gg"
	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
)

// capHeight and xHeight are the heights of a capital and of a small letter in
// the Go fonts, as parts of the font size.
const (
	capHeight = 0.72
	xHeight   = 0.53
)

// face draws letters as filled outlines, so that they turn freely and come
// out alike everywhere. It is for one goroutine.
type face struct {
	font   *truetype.Font
	glyphs map[rune]glyph
}

// glyph is a letter's outline and advance at font size 1, y up.
type glyph struct {
	contours [][]outlinePoint
	advance  float64
}

// outlinePoint is a point on an outline of parabolas, or else the control
// point between two; between two control points lies a point on the outline.
type outlinePoint struct {
	gg.Point
	on bool
}

func regular() (*face, error) { return newFace(goregular.TTF) }
func medium() (*face, error)  { return newFace(gomedium.TTF) }

func newFace(ttf []byte) (*face, error) {
	f, err := truetype.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("png: the built-in font does not load: %w", err)
	}
	return &face{font: f, glyphs: map[rune]glyph{}}, nil
}

// glyph returns a letter. One that the font lacks is the font's empty box.
func (f *face) glyph(r rune) glyph {
	g, ok := f.glyphs[r]
	if ok {
		return g
	}
	units := f.font.FUnitsPerEm()
	var buf truetype.GlyphBuf
	if buf.Load(f.font, fixed.Int26_6(units), f.font.Index(r), font.HintingNone) == nil {
		k := 1 / float64(units)
		g.advance = k * float64(buf.AdvanceWidth)
		from := 0
		for _, to := range buf.Ends {
			if to == from {
				continue
			}
			var c []outlinePoint
			for _, p := range buf.Points[from:to] {
				c = append(c, outlinePoint{gg.Point{X: k * float64(p.X), Y: k * float64(p.Y)}, p.Flags&1 != 0})
			}
			g.contours = append(g.contours, onFirst(c))
			from = to
		}
	}
	f.glyphs[r] = g
	return g
}

// onFirst returns the outline, which is not empty, turned so that it starts with a point on it.
func onFirst(c []outlinePoint) []outlinePoint {
	for i, p := range c {
		if p.on {
			return append(c[i:len(c):len(c)], c[:i]...)
		}
	}
	between := outlinePoint{c[0].Interpolate(c[len(c)-1].Point, 0.5), true}
	return append([]outlinePoint{between}, c...)
}

// width returns the length of the text at the font size.
func (f *face) width(s string, size float64) float64 {
	var w float64
	for _, r := range s {
		w += f.glyph(r).advance
	}
	return w * size
}

// draw fills the text with the context's colour, from the point on its base
// line in the direction along, a unit vector in the picture, y down.
func (f *face) draw(dc *gg.Context, s string, size float64, at, along gg.Point) {
	for _, r := range s {
		g := f.glyph(r)
		to := func(p gg.Point) (x, y float64) {
			return at.X + size*(p.X*along.X+p.Y*along.Y), at.Y + size*(p.X*along.Y-p.Y*along.X)
		}
		for _, c := range g.contours {
			contour(dc, c, to)
		}
		at.X += size * g.advance * along.X
		at.Y += size * g.advance * along.Y
	}
	dc.Fill()
}

func contour(dc *gg.Context, c []outlinePoint, to func(gg.Point) (x, y float64)) {
	dc.MoveTo(to(c[0].Point))
	for i := 1; i <= len(c); i++ {
		p := c[i%len(c)]
		if p.on {
			dc.LineTo(to(p.Point))
			continue
		}
		end := c[(i+1)%len(c)]
		if end.on {
			i++
		} else {
			end.Point = p.Interpolate(end.Point, 0.5)
		}
		x1, y1 := to(p.Point)
		x2, y2 := to(end.Point)
		dc.QuadraticTo(x1, y1, x2, y2)
	}
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
		from, w := 0, 0.0
		for i, r := range word {
			advance := f.glyph(r).advance * size
			if w += advance; w > limit && i > from {
				lines = append(lines, word[from:i])
				from, w = i, advance
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
	w := f.width(ellipsis, size)
	for i, r := range s {
		if w += f.glyph(r).advance * size; w > limit {
			return s[:i] + ellipsis
		}
	}
	return s
}
