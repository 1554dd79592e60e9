package notes

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/motif/path"
	"engrail/plot/marker"
)

// The estimate of cloth, in mm. Half an inch is lost at each selvage (common practice) and
// 2 to 4 cm at each end (Industrial Cutting of Textile Materials, p. 37).
const (
	selvages = inch
	layEnd   = 20.0
	between  = 10.0 // from piece to piece: room for the scissors, common practice
)

// shop returns how cloth is sold where the sheet's unit is used.
func (s *sheet) shop() marker.Shop {
	if s.Unit == style.Inch {
		return marker.Yards
	}
	return marker.Metres
}

// block is the rectangle that a piece takes, its grain along the cloth.
type block struct {
	name          string
	across, along float64
	area          float64
}

// blocks returns a rectangle for every piece to cut of a kind, opened out; of their net
// outlines when net is set.
func blocks(size Size, kind facing.Kind, net bool) []block {
	var all []block
	for _, p := range size.Pieces {
		if p.Kind != kind {
			continue
		}
		w := p.Unfold()
		line, hole := w.Cut(), w.Hole.Cut
		if net {
			line, hole = w.Net(), w.Hole.Net
		}
		if along := p.Grain.Chord(); along.Len() > 0 {
			line = line.Transform(path.Rotation(path.Point{}, math.Pi/2-along.Angle()))
		}
		box := line.Bounds()
		b := block{name: p.Name, across: box.Width(), along: box.Height(), area: line.Area() + hole.Area()}
		for range p.Quantity {
			all = append(all, b)
		}
	}
	return all
}

// inRows is the length of cloth of a width that the blocks take when they lie side by
// side in rows, the longest first, each in the first row that has room. The name is of
// one that is too wide, empty when all fit.
func inRows(list []block, width float64) (length float64, tooWide string) {
	usable := width - selvages
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b block) int {
		switch {
		case a.along > b.along:
			return -1
		case a.along < b.along:
			return 1
		}
		return 0
	})
	type row struct{ used, high float64 }
	var rows []row
next:
	for _, b := range list {
		if b.across > usable {
			return 0, b.name
		}
		for i := range rows {
			if rows[i].used+between+b.across <= usable {
				rows[i].used += between + b.across
				continue next
			}
		}
		rows = append(rows, row{b.across, b.along})
	}
	length = 2 * layEnd
	for i, r := range rows {
		length += r.high
		if i > 0 {
			length += between
		}
	}
	return length, ""
}

// clothSection says how much cloth facing and interfacing take.
func (s *sheet) clothSection() Section {
	if !s.has(facing.Facing) && !s.has(facing.Lining) {
		return Section{}
	}
	bolts := s.shop().Bolts()
	var names, tooWide []string
	for _, b := range bolts {
		names = append(names, b.Name)
	}
	factors := [2]float64{math.Inf(1), 0}
	table := func(caption string, kind facing.Kind, net bool) Table {
		t := Table{Caption: caption, Left: s.left(0), Head: s.sized("Size", names...)}
		for _, size := range s.Sizes {
			row := s.sized(size.Name)
			list := blocks(size, kind, net)
			area := 0.0
			for _, b := range list {
				area += b.area
			}
			for _, b := range bolts {
				length, wide := inRows(list, b.Width)
				if wide != "" {
					row = append(row, "–")
					if text := fmt.Sprintf("%s at %s", wide, b.Name); !slices.Contains(tooWide, text) {
						tooWide = append(tooWide, text)
					}
					continue
				}
				f := length * b.Width / area
				factors = [2]float64{min(factors[0], f), max(factors[1], f)}
				row = append(row, s.shop().Sold(length))
			}
			t.Rows = append(t.Rows, row)
		}
		return t
	}
	var tables []Block
	if s.has(facing.Facing) {
		tables = append(tables, table("Cloth for the facing, by its width", facing.Facing, false))
		if s.has(facing.Interfacing) {
			tables = append(tables, table("Interfacing, by its width", facing.Interfacing, false))
		} else {
			tables = append(tables, table("Interfacing, by its width", facing.Facing, true))
		}
	}
	own := "Of the garment's own cloth and lining you need what its pattern says."
	if s.has(facing.Lining) {
		tables = append(tables, table("Lining, by its width", facing.Lining, false))
		own = "Of the garment's own cloth you need what its pattern says."
	}
	_, step := s.shop().Step()
	text := fmt.Sprintf("This is an estimate that is sure to be enough. Each piece is taken opened out, as a rectangle with its grain along the cloth; "+
		"the rectangles lie side by side in rows, all the same way up, %s apart. At each selvage %s and at each end %s are left over, and the sum is rounded up to the next %s.",
		s.length(between), s.length(selvages/2), s.length(layEnd), step)
	if factors[1] > 0 {
		text += fmt.Sprintf(" Before rounding it comes to %.1f to %.1f times the area of the pieces themselves; curved bands that you lay into one another can do with less. Try it with the pieces on a table before you buy.", factors[0], factors[1])
	}
	list := append([]Block{Paragraph(text)}, tables...)
	if len(tooWide) > 0 {
		list = append(list, Paragraph("A dash stands where a piece is wider than the cloth: "+strings.Join(tooWide, "; ")+
			". Take wider cloth, or cut such a piece in two with an allowance on both sides of the new seam."))
	}
	list = append(list, Paragraph("Cloth shrinks: buy a little more than the table says, and wash and press all of it before you cut. "+own))
	return Section{"cloth", "Cloth to buy", list}
}
