package pdf

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font/gofont/goregular"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// look is how the lines of a role are drawn: in a colour, with a width in mm, in
// dashes of lengths in mm. Printed in black, roles differ in their dashes.
type look struct {
	red, green, blue int
	width            float64
	dashes           []float64
}

func looks(r plot.Role) look {
	switch r {
	case plot.Cut:
		return look{width: 0.5}
	case plot.Stitch:
		return look{31, 95, 168, 0.35, []float64{4, 2}}
	case plot.Fold:
		return look{width: 0.35, dashes: []float64{10, 2, 1.5, 2}}
	case plot.Inner:
		return look{20, 120, 105, 0.35, []float64{7, 1.5, 1.5, 1.5}}
	case plot.Clip:
		return look{194, 64, 28, 0.35, nil}
	case plot.Internal, plot.Mark, plot.Drawn:
		return look{80, 80, 80, 0.3, nil}
	}
	return look{width: 0.3}
}

// nestLooks is how the lines of a role are drawn in a nest, in the size's colour: cut
// lines in its dashes, stitching finely dotted, so that no dashes are taken for a size's.
func nestLooks(r plot.Role, size plot.SizeLook) look {
	l := look{int(size.Red), int(size.Green), int(size.Blue), 0.25, nil}
	switch r {
	case plot.Cut, plot.Drawn:
		l.width, l.dashes = 0.4, size.Dashes
	case plot.Stitch, plot.Inner:
		l.width, l.dashes = 0.18, []float64{0.5, 1}
	case plot.Fold:
		l.dashes = looks(plot.Fold).dashes
	}
	return l
}

// ErrTooLarge says that a drawing does not fit on a page, or on as many as there can be.
var ErrTooLarge = errors.New("too large")

// Write writes a drawing in mm on one page, which is a margin of 10 mm larger than it
// and, below a nest, its legend.
//
// A drawing without lines, and one with numbers that are not finite, are errors; one
// that is larger than a page can be (5080 mm) is [ErrTooLarge].
func Write(w io.Writer, d plot.Drawing, s Stretch) error { return writeSheet(w, d, 0, s) }

// Stretch is how many times as large pages are drawn across and up, each about its
// middle, for a printer that is off. The zero value leaves them as they are.
type Stretch struct{ X, Y float64 }

// WriteRoll is [Write] on paper from a roll of the width in mm: the page is as wide, and
// as long as needed. [RollSpace] is what the drawing may take; a wider one is
// [ErrTooLarge], too.
func WriteRoll(w io.Writer, d plot.Drawing, width float64, s Stretch) error {
	if !(width > 2*sheetMargin && width <= largestPage) {
		return fmt.Errorf("pdf: a roll of %g mm cannot be written; take a width from 100 to 5080 mm", width)
	}
	return writeSheet(w, d, width, s)
}

// RollSpace returns the width and the length in mm that a drawing on a roll may take: a
// page less a margin of 10 mm on each side, and less the legend of a nest of the sizes.
func RollSpace(d plot.Drawing, width float64) (wide, long float64) {
	wide, long = width-2*sheetMargin, largestPage-2*sheetMargin
	if legend := d.Legend(wide); len(legend.Groups) > 0 {
		long -= legend.Extent().Height() + legendSpace
	}
	return wide, long
}

// Sheet returns the size of the page that [Write] makes for a drawing or, for a roll of
// a width in mm above 0, [WriteRoll], and their errors.
func Sheet(d plot.Drawing, roll float64) (Page, error) {
	box, _, err := sheet(d, roll)
	return Page{box.Width(), box.Height()}, err
}

// sheet returns the box of the page for a drawing, as wide as the roll or, of 0, as
// needed, and the legend in its place.
func sheet(d plot.Drawing, roll float64) (box path.Box, legend plot.Group, err error) {
	if box, err = d.Extent(); err != nil {
		return box, legend, fmt.Errorf("pdf: %w", err)
	}
	wide := box.Width()
	if roll > 0 {
		wide = roll - 2*sheetMargin
		if lines := d.Bounds(); lines.Width() > wide+hair {
			return box, legend, fmt.Errorf("pdf: the drawing is %.1f mm wide, and a roll of %g mm takes %g mm: %w", lines.Width(), roll, wide, ErrTooLarge)
		}
		// Lettering may reach into the margin, lines may not.
		box.Min.X = d.Bounds().Min.X
		box.Max.X = box.Min.X + wide
	}
	if legend = d.Legend(wide); len(legend.Groups) > 0 {
		legend = legend.Transform(path.Translation(path.Vec{X: box.Min.X, Y: box.Min.Y - legendSpace}))
		below := legend.Extent()
		box = box.Include(path.Point{X: box.Min.X, Y: below.Min.Y})
		if roll == 0 {
			box = box.Union(below)
		}
	}
	box = box.Grow(sheetMargin)
	if max(box.Width(), box.Height()) > largestPage+hair {
		return box, legend, fmt.Errorf("pdf: the drawing is %.0f x %.0f mm with its margin, and a page at most %.0f mm: %w", box.Width(), box.Height(), largestPage, ErrTooLarge)
	}
	return box, legend, nil
}

// writeSheet writes a drawing on one page.
func writeSheet(w io.Writer, d plot.Drawing, roll float64, s Stretch) error {
	box, legend, err := sheet(d, roll)
	if err != nil {
		return err
	}
	b, err := newBook(d, box.Width(), box.Height(), s)
	if err != nil {
		return err
	}
	b.page(box.Width(), box.Height())
	v := view{corner: path.Point{X: box.Min.X, Y: box.Max.Y}, scale: 1, of: box, whole: true}
	b.draw(d, v)
	b.group(legend, nil, v)
	return b.finish(w)
}

// book is a document in the making, in mm from the upper left corner of its pages.
type book struct {
	*fpdf.Fpdf
	letters *truetype.Font
	stretch Stretch
	// sizes are those of a nest, and layers their numbers in the file.
	sizes  []string
	layers []int
}

// newBook begins the book of a drawing, with a layer for each size of a nest.
func newBook(d plot.Drawing, width, height float64, s Stretch) (book, error) {
	letters, err := truetype.Parse(goregular.TTF)
	if err != nil {
		return book{}, fmt.Errorf("pdf: the built-in font does not load: %w", err)
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: width, Ht: height}})
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetCatalogSort(true)
	// The same drawing gives the same file, whenever it is written.
	f.SetCreationDate(time.Unix(0, 0).UTC())
	f.SetModificationDate(time.Unix(0, 0).UTC())
	f.SetProducer("engrail", true)
	f.AddUTF8FontFromBytes(fontName, "", goregular.TTF)
	f.SetFont(fontName, "", 10)
	f.SetLineJoinStyle("round")
	f.SetLineCapStyle("round")
	b := book{Fpdf: f, letters: letters, sizes: d.Sizes(), stretch: s}
	b.SetTitle(b.spelled(d.Title), true)
	for _, s := range b.sizes {
		b.layers = append(b.layers, b.AddLayer(b.spelled("size "+s), true))
	}
	if len(b.layers) > 0 {
		b.OpenLayerPane()
	}
	return b, nil
}

// page begins a page of that size.
func (b book) page(width, height float64) {
	if b.PageNo() > 0 {
		b.endPage()
	}
	b.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	if b.stretch != (Stretch{}) {
		b.TransformBegin()
		b.TransformScale(100*b.stretch.X, 100*b.stretch.Y, width/2, height/2)
	}
}

func (b book) endPage() {
	if b.stretch != (Stretch{}) {
		b.TransformEnd()
	}
}

func (b book) finish(w io.Writer) error {
	b.endPage()
	if err := b.Output(w); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

// view is how a drawing lies on a page: its corner at the page's upper left one, times
// scale, with what comes into the box; whole with its texts and all of its lines, else
// only where pieces are cut.
type view struct {
	corner path.Point
	scale  float64
	of     path.Box
	whole  bool
}

func (v view) at(p path.Point) (x, y float64) {
	return (p.X - v.corner.X) * v.scale, (v.corner.Y - p.Y) * v.scale
}

// draw draws a drawing, the sizes of a nest on their layers.
func (b book) draw(d plot.Drawing, v view) {
	for _, g := range d.Groups {
		if size := slices.Index(b.sizes, g.Size); size >= 0 {
			b.BeginLayer(b.layers[size])
		}
		b.group(g, nil, v)
		b.EndLayer()
	}
}

// group draws a group, in the look of its size or else of the one that it is in.
func (b book) group(g plot.Group, look *plot.SizeLook, v view) {
	if size := slices.Index(b.sizes, g.Size); size >= 0 {
		own := plot.LookOfSize(size)
		look = &own
	}
	for _, role := range append([]plot.Role{plot.Drawn}, plot.Roles()...) {
		for _, l := range g.Lines {
			if l.Role == role && len(l.Path.V) > 0 && (v.whole || role == plot.Cut) && l.Path.Bounds().Grow(1).Meets(v.of) {
				b.line(l, look, v)
			}
		}
	}
	for _, t := range g.Texts {
		if v.whole && room(t).Meets(v.of) {
			x, y := v.at(t.At)
			b.text(x, y, t.Height*v.scale, t.Angle, t.Align, t.String)
		}
	}
	for _, in := range g.Groups {
		b.group(in, look, v)
	}
}

// room returns the box that a text takes at most.
func room(t plot.Text) path.Box {
	box := path.EmptyBox()
	for _, c := range t.Corners() {
		box = box.Include(c)
	}
	return box.Grow(t.Height / 2) // letters reach below the base line
}

// line strokes a line, in the look of a size of a nest unless that is nil. Under the
// dashes of a fold the outline that it belongs to does not show.
func (b book) line(l plot.Line, size *plot.SizeLook, v view) {
	if l.Role == plot.Fold && !l.Sign {
		under := looks(plot.Cut).width + 0.4
		b.stroke(l.Path, look{red: 255, green: 255, blue: 255, width: under}, v)
	}
	s := looks(l.Role)
	if size != nil {
		s = nestLooks(l.Role, *size)
	}
	b.stroke(l.Path, s, v)
}

// stroke draws a path; one of one point is a small circle.
func (b book) stroke(p path.Path, s look, v view) {
	b.SetDrawColor(s.red, s.green, s.blue)
	dashes := make([]float64, len(s.dashes))
	for i, dash := range s.dashes {
		dashes[i] = dash * v.scale
	}
	b.SetLineWidth(max(s.width*v.scale, thinnest))
	b.SetDashPattern(dashes, 0)
	x, y := v.at(p.V[0].Point)
	if p.Segments() == 0 {
		b.Circle(x, y, dotRadius*v.scale, "D")
		return
	}
	b.MoveTo(x, y)
	for i := range p.Segments() {
		seg := p.Segment(i)
		if seg.IsLine() {
			b.LineTo(v.at(seg.B))
			continue
		}
		n := parts(seg.Radius()*v.scale, seg.Sweep())
		for k := range n {
			piece := seg.Sub(float64(k)/float64(n), float64(k+1)/float64(n))
			c1, c2 := controls(piece)
			x1, y1 := v.at(c1)
			x2, y2 := v.at(c2)
			x, y := v.at(piece.B)
			b.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
		}
	}
	if p.Closed {
		b.ClosePath()
	}
	b.DrawPath("D")
}

// parts returns how many Bézier curves keep within curveError of an arc. A quarter of
// a circle is off by 2.7253e-4 of its radius, and the error falls with the sixth power
// of the angle (M. Goldapp, Approximation of circular arcs by cubic polynomials, 1991;
// the figures from memory, and measured by a test).
func parts(radius, sweep float64) int {
	widest := math.Pi / 2 * min(1, math.Pow(curveError/(2.7253e-4*radius), 1.0/6))
	return max(1, int(math.Ceil(math.Abs(sweep)/widest)))
}

// controls returns the inner control points of the Bézier curve that has an arc's ends,
// tangents and middle: they lie 4/3 tan(sweep/4) radii along the tangents.
func controls(s path.Segment) (c1, c2 path.Point) {
	// The radius times 4/3 tan(sweep/4) = bulge*4/3, in terms of the chord c =
	// 2 r sin(sweep/2) = 4 r bulge/(1+bulge²): it holds for flat arcs, too.
	h := s.Chord().Len() * (1 + s.Bulge*s.Bulge) / 3
	return s.A.Add(s.StartTangent().Mul(h)), s.B.Add(s.EndTangent().Mul(-h))
}

// spelled returns s in letters that the font has; the others, and those beyond the
// 65536 that the library can write, are spelled in ASCII or become question marks.
func (b book) spelled(s string) string {
	var out strings.Builder
	for _, r := range s {
		if r <= 0xffff && b.letters.Index(r) != 0 {
			out.WriteRune(r)
		} else {
			out.WriteString(ascii.Fold(string(r)))
		}
	}
	return out.String()
}

// within returns the height of the capitals, at most the given one, at which s takes no
// more than the length.
func (b book) within(length, height float64, s string) float64 {
	b.SetFontUnitSize(height / capHeight)
	return height * min(1, length/max(length, b.GetStringWidth(b.spelled(s))))
}

// text sets a line of text whose capitals are height mm high.
func (b book) text(x, y, height, angle float64, align plot.Align, s string) {
	s = b.spelled(s)
	b.SetFontUnitSize(height / capHeight)
	back := b.GetStringWidth(s) * [...]float64{plot.Left: 0, plot.Middle: 0.5, plot.Right: 1}[align]
	if angle == 0 {
		b.Text(x-back, y, s)
		return
	}
	b.TransformBegin()
	b.TransformRotate(angle*180/math.Pi, x, y)
	b.Text(x-back, y, s)
	b.TransformEnd()
}
