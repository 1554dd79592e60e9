package png

import (
	"errors"
	"fmt"
	"io"
	"math"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
)

// Cell is one small picture of a sheet: a drawing, which may be empty, and the
// lines under it, of which the first is a heading.
type Cell struct {
	Drawing plot.Drawing
	Caption []string
	// Row begins a new row of the sheet, under these words.
	Row string
	// Chosen sets the cell off from the others by a heavier frame.
	Chosen bool
}

// Lengths of a sheet, px at the usual size.
const (
	cellGap     = 30
	cellPad     = 24
	headingSize = 16
	cellText    = 14
	cellLead    = 21
	rowSize     = 20
	rowHead     = 38 // room for the words over a row
)

// WriteSheet writes small pictures in rows, all at one scale so that they can
// be compared, under the title of the options. Cells follow each other from row to
// row, and those with words for a row begin one. Texts of a drawing that find no
// room in its cell are left out, and captions are cut short to the cell's width.
//
// No cells, more than fit the longest side, numbers that are not finite and
// drawings too large to show are errors.
func WriteSheet(w io.Writer, cells []Cell, o Options) error {
	var pieces [][]piece
	var boxes []path.Box
	var most path.Box // as wide as the widest and as high as the highest
	captionLines := 0
	for _, c := range cells {
		ps, b, err := collect(c.Drawing)
		if err != nil {
			return err
		}
		pieces, boxes = append(pieces, ps), append(boxes, b)
		most = most.Union(path.Box{Max: path.Point{X: b.Width(), Y: b.Height()}})
		captionLines = max(captionLines, len(c.Caption))
	}
	if len(cells) == 0 {
		return errors.New("png: the sheet has no pictures; give at least one")
	}
	k, err := newKit(o)
	if err != nil {
		return err
	}
	u := k.unit
	var all []piece
	for _, ps := range pieces {
		all = append(all, ps...)
	}
	legend := legendOf(all)
	if o.NoLegend {
		legend = nil
	}
	m := k.margin
	pg := page{width: k.longest}
	head := k.headHeight(o.Title, pg.width-2*m)
	foot := k.footSpace(k.footOf(legend, pg.width-2*m).height)
	under := (16 + float64(captionLines)*cellLead) * u

	rowHeads := 0.0
	for _, c := range cells {
		if c.Row != "" {
			rowHeads += rowHead * u
		}
	}
	// What n columns leave for each cell's drawing frame.
	frame := func(n int) (wide, high float64, rows int) {
		places := placesOf(cells, n)
		rows = places[len(places)-1].row + 1
		wide = (pg.width-2*m+cellGap*u)/float64(n) - cellGap*u
		high = (k.longest-head-foot-rowHeads+cellGap*u)/float64(rows) - cellGap*u - under
		return wide, high, rows
	}
	// Of all numbers of columns, the one that shows the drawings largest and
	// leaves few places empty; wide and low drawings still stand three to a
	// row, so that it reads as a sheet.
	var cols int
	var best float64
	for n := min(3, len(cells)); n <= len(cells); n++ {
		wide, high, rows := frame(n)
		perMetre, failed := k.pixelsPerMetre(most, wide-2*cellPad*u, high-2*cellPad*u)
		if failed != nil {
			err = failed
			continue
		}
		if good := float64(perMetre) * float64(len(cells)) / float64(rows*n); good > best {
			cols, pg.perMetre, best = n, perMetre, good
		}
	}
	if cols == 0 {
		return fmt.Errorf("%w (%d pictures on one sheet)", err, len(cells))
	}
	scale := float64(pg.perMetre) / 1000
	pg.weight = u * weightAt(scale/u)
	wide, _, rows := frame(cols)
	high := most.Height()*scale + 2*cellPad*u

	k.head(&pg.picture, o.Title, m, pg.width-m)
	all = all[:0]
	places, down := placesOf(cells, cols), 0.0
	for i, ps := range pieces {
		x := math.Floor(m + float64(places[i].column)*(wide+cellGap*u))
		y := math.Floor(head + down + float64(places[i].row)*(high+under+cellGap*u))
		if words := cells[i].Row; words != "" {
			size := rowSize * u
			pg.write(k.medium, blue, size, gg.Point{X: x, Y: y + size*capHeight}, k.medium.shorten(words, size, pg.width-2*m))
			down += rowHead * u
			y = math.Floor(y + rowHead*u)
		}
		in := area{x, y, x + wide, y + high}
		frame := pen{hue: hair, width: u}
		if cells[i].Chosen {
			frame = pen{hue: blue, width: 3 * u}
		}
		pg.rectangle(frame, x, y, wide, high)
		k.cellCaption(&pg.picture, cells[i].Caption, in)
		c := boxes[i].Centre()
		for j := range ps {
			ps[j].view = view{scale, x + wide/2 - scale*c.X, y + high/2 + scale*c.Y}
			ps[j].in = in.inset(8 * u)
		}
		all = append(all, ps...)
	}
	bottom := head + rowHeads + float64(rows)*(high+under+cellGap*u) - cellGap*u
	r := newRoom(pg.width, bottom, 4*u)
	k.draw(&pg.picture, r, all)
	k.place(&pg.picture, r, all)
	pg.height = math.Ceil(k.foot(&pg.picture, legend, m, bottom+36*u, pg.width-m, scale) + 0.8*m)
	return pg.encode(w)
}

// placeInRow is where a cell stands on a sheet.
type placeInRow struct{ row, column int }

// placesOf returns the places of the cells in so many columns.
func placesOf(cells []Cell, columns int) []placeInRow {
	places := make([]placeInRow, len(cells))
	at := placeInRow{}
	for i, c := range cells {
		if i > 0 && (at.column == columns || c.Row != "") {
			at = placeInRow{row: at.row + 1}
		}
		places[i] = at
		at.column++
	}
	return places
}

// cellCaption writes the lines under a cell.
func (k *kit) cellCaption(p *picture, caption []string, cell area) {
	u := k.unit
	for i, line := range caption {
		f, h, size := k.regular, grey, cellText*u
		if i == 0 {
			f, h, size = k.medium, ink, headingSize*u
		}
		at := gg.Point{X: cell.x0, Y: cell.y1 + (16+float64(i)*cellLead)*u + size*capHeight}
		p.write(f, h, size, at, f.shorten(line, size, cell.x1-cell.x0))
	}
}
