package plot

import (
	"cmp"
	"fmt"
	"math"

	"engrail/motif/path"
)

// Arrange lays the groups side by side on sheets, in rows that fill from the
// left and run from the top down, the groups of a row standing on one line.
// Groups are moved, never turned or mirrored, so that the grain stays as it
// is, and keep their order. Between groups and between rows there is at least
// gap. On each sheet everything lies right of and above the origin and touches
// both axes; the drawings have no title.
//
// A maximum of 0 means a sheet without end in that direction. A group without
// lines takes no room and is left out; no groups give no sheets. A group that
// is larger than the sheet, a group whose lines are not finite, and a gap or
// size that is negative or not finite are errors.
func Arrange(groups []Group, gap, maxWidth, maxHeight float64) ([]Drawing, error) {
	for _, s := range []struct {
		what string
		mm   float64
	}{{"gap", gap}, {"sheet width", maxWidth}, {"sheet height", maxHeight}} {
		if !(s.mm >= 0 && s.mm <= math.MaxFloat64) {
			return nil, fmt.Errorf("plot: the %s is %g mm; give a length of 0 or more", s.what, s.mm)
		}
	}
	width, height := endless(maxWidth), endless(maxHeight)

	var sheets []Drawing
	var s sheet
	for i, g := range groups {
		b := g.Bounds()
		if b.Empty() {
			continue
		}
		name := cmp.Or(g.Name(), fmt.Sprintf("group %d", i+1))
		if !b.Min.Finite() || !b.Max.Finite() {
			return nil, fmt.Errorf("plot: %s has a line that is not finite; check the numbers that it is made from", name)
		}
		if err := fits(name, b, width, height); err != nil {
			return nil, err
		}
		if !s.add(g, b, gap, width, height) {
			sheets = append(sheets, s.drawing())
			s = sheet{}
			s.add(g, b, gap, width, height)
		}
	}
	if len(s.placed) > 0 {
		sheets = append(sheets, s.drawing())
	}
	return sheets, nil
}

func endless(limit float64) float64 {
	if limit == 0 {
		return math.Inf(1)
	}
	return limit + roundOff
}

func fits(name string, b path.Box, width, height float64) error {
	for _, s := range []struct {
		adjective, size string
		mm, limit       float64
	}{{"wide", "width", b.Width(), width}, {"high", "height", b.Height(), height}} {
		if s.mm > s.limit {
			return fmt.Errorf("plot: %s is %.1f mm %s, %.1f mm more than the sheet; set a sheet %s of at least %.1f mm",
				name, s.mm, s.adjective, s.mm-s.limit, s.size, math.Ceil(s.mm*10)/10)
		}
	}
	return nil
}

// sheet is a sheet being filled. Rows go down from 0; where the lowest ends is
// known only when the sheet is full, and then everything is lifted.
type sheet struct {
	placed []placement
	// The row being filled: the first of its groups, its right end, the line
	// above it and its height.
	row          int
	x, top, high float64
}

type placement struct {
	group Group
	at    path.Point // where the lower left corner goes
	from  path.Box
}

// add places the group and reports whether the sheet had room for it; an empty
// sheet has room for every group that fits it alone.
func (s *sheet) add(g Group, b path.Box, gap, width, height float64) bool {
	x, top, high := s.x, s.top, max(s.high, b.Height())
	if s.row < len(s.placed) {
		x += gap
	}
	newRow := s.row < len(s.placed) && (x+b.Width() > width || top+high > height)
	if newRow {
		x, top, high = 0, s.top+s.high+gap, b.Height()
	}
	if len(s.placed) > 0 && top+high > height {
		return false
	}
	if newRow {
		s.row = len(s.placed)
	}
	s.placed = append(s.placed, placement{group: g, at: path.Point{X: x}, from: b})
	s.x, s.top, s.high = x+b.Width(), top, high
	for i := s.row; i < len(s.placed); i++ {
		s.placed[i].at.Y = -top - high
	}
	return true
}

func (s *sheet) drawing() Drawing {
	lift := path.Vec{Y: s.top + s.high}
	var d Drawing
	for _, p := range s.placed {
		d.Groups = append(d.Groups, p.group.Transform(path.Translation(p.at.Add(lift).Sub(p.from.Min))))
	}
	return d
}
