package notes

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/plot/marker"
)

// The cloth of the markers, in mm. Half an inch is lost at each selvage (common practice)
// and 2 to 4 cm at each end (Industrial Cutting of Textile Materials, p. 37).
const (
	selvage = inch / 2
	layEnd  = 20.0
	between = 10.0 // from piece to piece: room for the scissors, common practice
)

// markerLevel is the effort of the markers: little, as a sheet has many of them.
const markerLevel = 1

// shop returns how cloth is sold where the sheet's unit is used.
func (s *sheet) shop() marker.Shop {
	if s.Unit == style.Inch {
		return marker.Yards
	}
	return marker.Metres
}

// toLay returns the pieces of a kind as they are laid, with their net outlines when net is
// set.
func toLay(size Size, kind facing.Kind, net bool) []marker.Piece {
	var all []marker.Piece
	for _, p := range size.Pieces {
		if p.Kind != kind {
			continue
		}
		piece := marker.FromPiece(p, "")
		if net {
			piece.Whole.Outline = p.Unfold().Net()
		}
		all = append(all, piece)
	}
	return all
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
	use := [2]float64{1, 0}
	var unlaid error
	table := func(caption string, kind facing.Kind, net bool) Table {
		t := Table{Caption: caption, Left: s.left(0), Head: s.sized("Size", names...)}
		for _, size := range s.Sizes {
			row := s.sized(size.Name)
			needs, err := marker.Needs(context.Background(), toLay(size, kind, net), marker.Order{{Size: size.Name, Count: 1}},
				marker.Cloth{Selvage: selvage, Gap: between, End: layEnd}, bolts, marker.Options{Level: markerLevel})
			if err != nil {
				unlaid = err
				needs = make([]marker.Need, len(bolts))
			}
			for _, n := range needs {
				if n.Marker != nil {
					use = [2]float64{min(use[0], n.Marker.Use()), max(use[1], n.Marker.Use())}
					row = append(row, s.shop().Sold(n.Marker.Length()))
					continue
				}
				row = append(row, "–")
				if text := fmt.Sprintf("%s at %s", n.Piece.Name, n.Name); n.Narrow != nil && !slices.Contains(tooWide, text) {
					tooWide = append(tooWide, text)
				}
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
	text := fmt.Sprintf("For each figure the pieces of one garment were laid on the cloth, opened out on a single layer, all the same way up and on their grain, %s apart. "+
		"At each selvage %s and at each end %s are left over, and the length is rounded up to the next %s.",
		s.length(between), s.length(selvage), s.length(layEnd), step)
	if use[1] > 0 {
		text += fmt.Sprintf(" Before rounding the pieces take %.0f to %.0f per cent of the cloth. engrail marker draws how they lie, and finds shorter markers when it is given more time.", 100*use[0], 100*use[1])
	}
	if unlaid != nil {
		text += fmt.Sprintf(" Some could not be laid: %v.", unlaid)
	}
	list := append([]Block{Paragraph(text)}, tables...)
	if len(tooWide) > 0 {
		list = append(list, Paragraph("A dash stands where a piece is wider than the cloth: "+strings.Join(tooWide, "; ")+
			". Take wider cloth, or cut such a piece in two with an allowance on both sides of the new seam."))
	}
	list = append(list, Paragraph("Cloth shrinks: buy a little more than the table says, and wash and press all of it before you cut. "+own))
	return Section{"cloth", "Cloth to buy", list}
}
