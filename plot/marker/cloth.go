package marker

import (
	"fmt"
	"math"
)

// Direction says which way up pieces may lie on a cloth.
type Direction uint8

// The directions of cloth.
const (
	// OneWay is cloth with a nap or a print: all pieces lie the same way up.
	OneWay Direction = iota
	// TwoWay is cloth that is the same upside down: pieces may lie turned by half a turn.
	TwoWay
	// AnyWay is cloth without a grain to mind: pieces may lie in quarter turns.
	AnyWay
	directions
)

var directionNames = [directions]string{"one way", "two way", "any way"}

// String returns the direction's name in lower case.
func (d Direction) String() string {
	if d < directions {
		return directionNames[d]
	}
	return "direction?"
}

// Ways says which way up pieces may lie on the cloth, in words: its direction, unless all
// of them have turns of their own.
func (c Cloth) Ways(pieces []Piece) string {
	for _, p := range pieces {
		if len(p.Turns) == 0 {
			return c.Direction.String()
		}
	}
	return "turned as given"
}

// ParseDirection returns the direction of that name; a hyphen counts as a space.
func ParseDirection(name string) (Direction, bool) {
	for d, n := range directionNames {
		if n == name || hyphened(n) == name {
			return Direction(d), true
		}
	}
	return OneWay, false
}

// Cloth is what pieces are laid on, and how. Lengths are mm.
type Cloth struct {
	// Width is that of the whole cloth, folded or not, and Selvage what is kept clear of
	// pieces along each of its selvages.
	Width, Selvage float64
	Direction      Direction
	// Tilt is how far a piece may lie off its grain, in radians. An edge on the fold
	// never does.
	Tilt float64
	// Folded says that the cloth is folded along its length, right sides together.
	Folded bool
	// Alike says that both sides of the cloth are alike, so that pieces can be turned over.
	Alike bool
	// Gap is kept between two pieces, End at each end of a section.
	Gap, End float64
	// Longest is the greatest length of a section with its ends, 0 for any.
	Longest float64
}

// usable returns the strip that pieces may lie in: how far its lower side is from the
// cloth's, and its height. Along a fold half of the gap stays free, so that a piece is
// the gap from the one that is cut with it on the other side; only an edge on the
// fold goes to it.
func (c Cloth) usable() (from, height float64) {
	if c.Folded {
		return c.Gap / 2, c.Width/2 - c.Selvage - c.Gap/2
	}
	return c.Selvage, c.Width - 2*c.Selvage
}

// Breadth returns how wide the cloth lies: half of its width when it is folded.
func (c Cloth) Breadth() float64 {
	if c.Folded {
		return c.Width / 2
	}
	return c.Width
}

// widthFor returns the whole width of a cloth that has room for so much across.
func (c Cloth) widthFor(across float64) float64 {
	if c.Folded {
		return 2 * (across + c.Selvage + c.Gap/2)
	}
	return across + 2*c.Selvage
}

// check refuses a cloth that cannot be.
func (c Cloth) check() error {
	for _, x := range []struct {
		what string
		mm   float64
		hint string
	}{
		{"selvage", c.Selvage, "give what is kept clear along each selvage, 0 or more"},
		{"gap between pieces", c.Gap, "give a gap of 0 or more"},
		{"allowance at each end", c.End, "give an allowance of 0 or more"},
		{"greatest length", c.Longest, "give a length above 0, or none for any length"},
		{"tilt off grain", c.Tilt, "give an angle of 0 or more"},
		{"width", c.Width, "give the width of the cloth, such as 140 cm"},
	} {
		if !(x.mm >= 0 && x.mm <= mostLength) {
			return &Error{fmt.Sprintf("the cloth's %s is %g, which cannot be", x.what, x.mm), x.hint}
		}
	}
	if c.Direction >= directions {
		return &Error{fmt.Sprintf("the cloth's direction is %d, which is none", c.Direction), "it is one way, two way or any way"}
	}
	if c.Tilt > mostTilt {
		return &Error{fmt.Sprintf("a tilt of %.4g degrees off grain is more than the most, %.4g", degrees(c.Tilt), degrees(mostTilt)),
			"give 1 to 3 degrees, or lay the pieces any way on cloth without a grain"}
	}
	if _, height := c.usable(); !(height > 0) {
		return &Error{fmt.Sprintf("nothing is left of a cloth %s wide beside selvages of %s", mm(c.Width), mm(c.Selvage)),
			"give the whole width of the cloth, and what of it is selvage on one side"}
	}
	if c.Longest > 0 && c.Longest <= 2*c.End {
		return &Error{fmt.Sprintf("a section of %s at most has no room between ends of %s each", mm(c.Longest), mm(c.End)), "give a greater length, or less at the ends"}
	}
	return nil
}

// degrees returns an angle in radians in degrees.
func degrees(rad float64) float64 { return rad * 180 / math.Pi }
