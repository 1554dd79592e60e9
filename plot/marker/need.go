package marker

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"
)

// Shop is how cloth is sold: in metres or in yards.
type Shop uint8

// The shops.
const (
	// Metres sells in steps of 10 cm.
	Metres Shop = iota
	// Yards sells in eighths.
	Yards
)

// inch is its length in mm.
const inch = 25.4

// Bolt is a usual width of cloth: its name, and mm.
type Bolt struct {
	Name  string
	Width float64
}

// Bolts returns the usual widths of cloth (common practice).
func (s Shop) Bolts() []Bolt {
	unit, mm, widths := "cm", 10.0, []float64{90, 114, 140, 150}
	if s == Yards {
		unit, mm, widths = "in", inch, []float64{36, 45, 54, 60}
	}
	all := make([]Bolt, len(widths))
	for i, w := range widths {
		all[i] = Bolt{fmt.Sprintf("%g %s", w, unit), w * mm}
	}
	return all
}

// Step returns the least length that is sold, in mm, and what it is called.
func (s Shop) Step() (mm float64, name string) {
	if s == Yards {
		return 36 * inch / 8, "eighth of a yard"
	}
	return 100, "10 cm"
}

// Sold writes a length in mm as it is sold, rounded up.
func (s Shop) Sold(mm float64) string {
	const slack = 1e-6 // of a step, for figures that are a whole number of them
	step, _ := s.Step()
	n := int(math.Ceil(mm/step - slack))
	if s == Metres {
		return strconv.FormatFloat(float64(n)/10, 'f', 1, 64) + " m"
	}
	whole, top, bottom := n/8, n%8, 8
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return fmt.Sprintf("%d yd", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d yd", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d yd", whole, top, bottom)
}

// Need is how much of a cloth an order takes.
type Need struct {
	Bolt
	// Marker is nil where the cloth is too narrow, as Narrow says, for the piece.
	Marker *Marker
	Narrow *Error
	Piece  Piece
}

// Needs lays an order on cloth of each of the widths, otherwise like the one given. A
// width that is too narrow for a piece is told; any other thing that cannot be is an
// error.
func Needs(ctx context.Context, pieces []Piece, order Order, cloth Cloth, bolts []Bolt, o Options) ([]Need, error) {
	all := make([]Need, len(bolts))
	for i, b := range bolts {
		all[i].Bolt = b
		cloth.Width = b.Width
		j, err := New(pieces, order, cloth)
		if err != nil {
			var narrow *tooNarrow
			if errors.As(err, &narrow) {
				all[i].Narrow, all[i].Piece = narrow.err, narrow.piece
				continue
			}
			return nil, err
		}
		if all[i].Marker, err = j.Lay(ctx, o); err != nil {
			return nil, err
		}
	}
	return all, nil
}
