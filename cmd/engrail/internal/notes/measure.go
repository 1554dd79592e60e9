package notes

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"engrail/cmd/engrail/internal/style"
)

// inch (mm) is an inch.
const inch = 25.4

// measure writes lengths in the unit that was chosen.
type measure style.Unit

// length writes a length with its unit: inches to a sixteenth, or a thirty-second below
// an eighth, as a tape shows them, and less than a cm in mm.
func (m measure) length(mm float64) string {
	if style.Unit(m) == style.Centimetre && mm < 10 {
		return measure(style.Millimetre).length(mm)
	}
	return m.figure(mm) + " " + string(m)
}

// figure is length without the unit.
func (m measure) figure(mm float64) string {
	if style.Unit(m) == style.Inch {
		return inches(mm)
	}
	return style.Unit(m).Short(mm)
}

// both writes a small measure of sewing in the unit and in the other system.
func (m measure) both(mm float64) string {
	if style.Unit(m) == style.Inch {
		return fmt.Sprintf("%s (%s mm)", m.length(mm), style.Millimetre.Short(mm))
	}
	return fmt.Sprintf("%s (%s in)", m.length(mm), inches(mm))
}

// span writes two figures as one when they are written alike.
func (m measure) span(r [2]float64) string {
	a, b := m.figure(r[0]), m.figure(r[1])
	switch {
	case r[1] <= 0:
		return "–"
	case a == b:
		return a
	}
	return a + " to " + b
}

// inches writes a length in inches with a vulgar fraction.
func inches(mm float64) string {
	parts := 16.0
	if math.Abs(mm) < inch/8 {
		parts = 32
	}
	n := int(math.Round(math.Abs(mm) / inch * parts))
	sign := ""
	if mm < 0 && n > 0 {
		sign = "-"
	}
	whole, top, bottom := n/int(parts), n%int(parts), int(parts)
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return sign + strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, top, bottom)
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, top, bottom)
}

// counts writes whole numbers, those of several sizes, as one or as a range.
func counts(list []int) string {
	least, most := list[0], list[0]
	for _, n := range list {
		least, most = min(least, n), max(most, n)
	}
	if least == most {
		return strconv.Itoa(least)
	}
	return fmt.Sprintf("%d to %d", least, most)
}

// several writes a count with its noun, which takes an s.
func several(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	if strings.HasSuffix(noun, "ch") {
		return fmt.Sprintf("%d %ses", n, noun)
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
