package pdf

import (
	"fmt"
	"io"
	"math"

	"engrail/motif/path"
	"engrail/plot"
)

// Paper is a size of paper.
type Paper struct {
	Name          string
	Width, Height float64 // mm, upright
}

// The sizes of paper: ISO 216, and ANSI/ASME Y14.1 (letter is its A, tabloid its B).
func A4() Paper      { return Paper{"A4", 210, 297} }
func A3() Paper      { return Paper{"A3", 297, 420} }
func Letter() Paper  { return Paper{"Letter", 215.9, 279.4} }
func Tabloid() Paper { return Paper{"Tabloid", 279.4, 431.8} }

// grid is how tiles cover a drawing: rows from the top, columns from the left.
type grid struct {
	paper         Paper
	width, height float64 // of a tile, mm
	left, top     float64 // of the drawing
	rows, columns int
	order         [][2]int       // the rows and columns of the tiles that have a page
	page          map[[2]int]int // row and column to page number, from 2
}

// tile returns the tile's box, and shown what its page shows of the drawing.
func (g grid) tile(row, column int) (tile, shown path.Box) {
	left, top := g.left+float64(column)*g.width, g.top-float64(row)*g.height
	tile = path.Box{Min: path.Point{X: left, Y: top - g.height}, Max: path.Point{X: left + g.width, Y: top}}
	shown = tile
	shown.Max.X += overlap
	shown.Min.Y -= overlap
	return tile, shown
}

// WriteTiles writes a drawing in mm on pages of the paper, upright or across, whichever
// takes fewer; the package comment says how they are put together. The first is
// upright.
//
// A drawing without lines, one with numbers that are not finite, and paper smaller than
// 100 mm are errors; a drawing of more than 2000 pages is [ErrTooLarge].
func WriteTiles(w io.Writer, d plot.Drawing, paper Paper, s Stretch) error {
	box, err := d.Extent()
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	if !(min(paper.Width, paper.Height) >= 100) {
		return fmt.Errorf("pdf: paper of %g x %g mm is too small; take A4 or larger", paper.Width, paper.Height)
	}
	box = box.Grow(2) // lines have a width
	g, err := cover(d, box, paper)
	across, errAcross := cover(d, box, Paper{paper.Name, paper.Height, paper.Width})
	if errAcross == nil && (err != nil || len(across.order) < len(g.order)) {
		g, err = across, nil
	}
	if err != nil {
		return err
	}
	b, err := newBook(d, paper.Width, paper.Height, s)
	if err != nil {
		return err
	}
	b.first(d, g, paper)
	for _, at := range g.order {
		b.page(g.paper.Width, g.paper.Height)
		b.tilePage(d, g, at[0], at[1])
	}
	return b.finish(w)
}

// cover lays tiles over the drawing, whose box is given.
func cover(d plot.Drawing, box path.Box, paper Paper) (grid, error) {
	g := grid{
		paper: paper, page: map[[2]int]int{},
		width: paper.Width - 2*paperMargin - overlap, height: paper.Height - 2*paperMargin - overlap,
	}
	columns, rows := math.Ceil(box.Width()/g.width), math.Ceil(box.Height()/g.height)
	if columns*rows > mostPages {
		return grid{}, fmt.Errorf("pdf: the drawing, %.0f x %.0f mm, takes %.0f pages of %s, of at most %d: %w", box.Width(), box.Height(), columns*rows, paper.Name, mostPages, ErrTooLarge)
	}
	g.columns, g.rows = int(columns), int(rows)
	// What is left over is shared by the sides.
	g.left = box.Centre().X - columns*g.width/2
	g.top = box.Centre().Y + rows*g.height/2
	for row := range g.rows {
		for column := range g.columns {
			if tile, _ := g.tile(row, column); drawnOn(d, tile) {
				g.page[[2]int{row, column}] = len(g.order) + 2
				g.order = append(g.order, [2]int{row, column})
			}
		}
	}
	return g, nil
}

// drawnOn reports whether a line or a text of d lies in the box.
func drawnOn(d plot.Drawing, box path.Box) bool {
	found := false
	for _, g := range d.Groups {
		g.Walk(func(g plot.Group) {
			for _, l := range g.Lines {
				for i := range l.Path.Segments() {
					found = found || meets(l.Path.Segment(i), box)
				}
				found = found || l.Path.Segments() == 0 && len(l.Path.V) > 0 && box.Contains(l.Path.V[0].Point)
			}
			for _, t := range g.Texts {
				found = found || room(t).Meets(box)
			}
		})
	}
	return found
}

// meets reports whether a segment comes into the box, or within half a mm of it.
func meets(s path.Segment, box path.Box) bool {
	bounds := s.Bounds()
	switch {
	case !bounds.Meets(box):
		return false
	case box.Contains(s.A), max(bounds.Width(), bounds.Height()) < 0.5:
		return true
	}
	a, b := s.Split(0.5)
	return meets(a, box) || meets(b, box)
}

// tilePage draws one tile, its trim lines, its corners and where it belongs.
func (b book) tilePage(d plot.Drawing, g grid, row, column int) {
	_, shown := g.tile(row, column)
	corner := path.Point{X: shown.Min.X - paperMargin, Y: shown.Max.Y + paperMargin}
	b.ClipRect(paperMargin, paperMargin, shown.Width(), shown.Height(), false)
	b.draw(d, view{corner: corner, scale: 1, of: shown, whole: true})
	b.ClipEnd()

	right, bottom := paperMargin+g.width, paperMargin+g.height
	b.SetDrawColor(110, 110, 110)
	b.SetLineWidth(0.2)
	b.SetDashPattern([]float64{1, 1.5}, 0)
	b.Line(paperMargin, paperMargin, right+overlap, paperMargin)
	b.Line(paperMargin, paperMargin, paperMargin, bottom+overlap)
	b.SetDashPattern(nil, 0)
	b.SetTextColor(70, 70, 70)
	for i, x := range []float64{paperMargin, right} {
		for j, y := range []float64{paperMargin, bottom} {
			b.cross(x, y)
			// The number stands right of the corner and below it, where the page shows
			// its own tile or the strip that another page is laid over.
			b.text(x+1.5, y+4, 2, 0, plot.Left, cornerName(row+j, column+i))
		}
	}
	belongs := fmt.Sprintf("%s · row %d, column %d · page %d of %d · print at 100 %%", d.Title, row+1, column+1, b.PageNo(), len(g.order)+1)
	b.text(paperMargin+7, paperMargin-3.5, b.within(g.width-14, 2.2, belongs), 0, plot.Left, belongs)
	strip := func(x, y, angle float64, r, c int) {
		if page := g.page[[2]int{r, c}]; page != 0 {
			b.text(x, y, 2.2, angle, plot.Middle, fmt.Sprintf("page %d is laid over this strip", page))
		}
	}
	strip(paperMargin+g.width/2, bottom+overlap+3.5, 0, row+1, column)
	strip(right+overlap+3.5, paperMargin+g.height/2, math.Pi/2, row, column+1)
	b.SetTextColor(0, 0, 0)
}

// cross marks a corner of tiles.
func (b book) cross(x, y float64) {
	b.SetDrawColor(0, 0, 0)
	b.SetLineWidth(0.2)
	b.Line(x-5, y, x+5, y)
	b.Line(x, y-5, x, y+5)
}

// cornerName numbers the corners of the tiles.
func cornerName(row, column int) string { return fmt.Sprintf("%d.%d", row+1, column+1) }

// first draws the page of instructions.
func (b book) first(d plot.Drawing, g grid, paper Paper) {
	b.page(paper.Width, paper.Height)
	y := paperMargin + 6
	b.text(paperMargin, y, b.within(paper.Width-2*paperMargin, 5, d.Title), 0, plot.Left, d.Title)
	lines := []string{
		fmt.Sprintf("%d pages of %s: this one, and %d with the pattern.", len(g.order)+1, paper.Name, len(g.order)),
		"Print at 100 % (\"actual size\"), never fitted to the page. Print this page first, and measure",
		"the squares: if they are not as large as they say, mend the setting before you print the rest.",
		"Trim each page along its dashed lines, at its left and its upper side. Lay it over the strip of",
		"the page before it, so that the crosses of the same number meet, and glue it there.",
	}
	if len(b.sizes) > 0 {
		lines = append(lines, "Each size is a layer: hide those that you do not need in the program that prints, if it can.")
	}
	for _, line := range lines {
		y += 7
		b.text(paperMargin, y, 2.6, 0, plot.Left, line)
	}
	y += 10
	b.SetDrawColor(0, 0, 0)
	b.SetLineWidth(0.25)
	b.SetDashPattern(nil, 0)
	b.Rect(paperMargin, y, 50, 50, "D")
	b.text(paperMargin+25, y+26, 3, 0, plot.Middle, "50 mm x 50 mm")
	b.Rect(paperMargin+60, y, 50.8, 50.8, "D")
	b.text(paperMargin+60+25.4, y+26, 3, 0, plot.Middle, "2 in x 2 in")
	y += 62
	if len(b.sizes) > 0 {
		// Of a great many sizes the legend is drawn smaller, to leave room for the map.
		wide, room, scale := paper.Width-2*paperMargin, max(legendSpace, (paper.Height-paperMargin-y)/2), 1.0
		untitled := plot.Drawing{Groups: d.Groups} // the title is above already
		legend := untitled.Legend(wide)
		for legend.Extent().Height()*scale > room || legend.Extent().Width()*scale > wide {
			scale *= 0.95
			legend = untitled.Legend(wide / scale)
		}
		extent := legend.Extent()
		b.group(legend, nil, view{corner: path.Point{X: -paperMargin / scale, Y: y / scale}, scale: scale, of: extent, whole: true})
		b.SetDashPattern(nil, 0)
		y += extent.Height()*scale + legendSpace
	}

	// The map fills what is left.
	whole, tall := float64(g.columns)*g.width, float64(g.rows)*g.height
	scale := min((paper.Width-2*paperMargin)/whole, (paper.Height-paperMargin-y)/tall)
	corner := path.Point{X: g.left - paperMargin/scale, Y: g.top + y/scale}
	b.draw(d, view{corner: corner, scale: scale, of: path.Box{Min: path.Point{X: g.left, Y: g.top - tall}, Max: path.Point{X: g.left + whole, Y: g.top}}})
	b.SetDashPattern(nil, 0)
	b.SetDrawColor(150, 150, 150)
	b.SetLineWidth(0.15)
	size := min(g.width, g.height) * scale
	for row := range g.rows {
		for column := range g.columns {
			page := g.page[[2]int{row, column}]
			if page == 0 {
				continue
			}
			x, top := paperMargin+float64(column)*g.width*scale, y+float64(row)*g.height*scale
			b.Rect(x, top, g.width*scale, g.height*scale, "D")
			b.text(x+g.width*scale/2, top+g.height*scale/2+size/10, min(size/5, 5), 0, plot.Middle, fmt.Sprint(page))
		}
	}
}
