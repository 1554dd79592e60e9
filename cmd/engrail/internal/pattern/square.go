package pattern

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
)

// testSquares looks for the squares that a pattern has for checking its print
// (common practice, no source), and warns when one does not measure what the texts
// in it and beside it say. It returns the squares, which are no pieces.
func (s *scene) testSquares(all []chain) (squares []int) {
	for i, c := range all {
		side, ok := square(c.path)
		if !ok || side < leastSquare || side > mostSquare {
			continue
		}
		said, words := s.saidOf(c.box, side)
		if slices.ContainsFunc(said, func(l float64) bool { return math.Abs(side/l-1) <= squareSlack }) {
			squares = append(squares, i)
			continue
		}
		for _, l := range said {
			all := mixups()
			k := slices.IndexFunc(all, func(m mixup) bool { return math.Abs(l/side/m.factor-1) <= squareSlack })
			if k < 0 {
				continue
			}
			if len(squares) == 0 { // the others are drawn alike
				s.warnings = append(s.warnings, fit.Warning{Code: "test-square", Message: fmt.Sprintf(
					"the test square at %s has sides of %.2f mm, and its text %q says %g mm: all comes out in the wrong scale, by the factor %s (%s); write `unit: %s` under `pattern:` beside `file:`",
					at(c.box.Centre()), side, words, l, all[k].name, all[k].cause, all[k].unit)})
			}
			squares = append(squares, i)
			break
		}
	}
	return squares
}

// square returns the side of a square that stands upright.
func square(p path.Path) (side float64, ok bool) {
	b := p.Bounds()
	w, h := b.Width(), b.Height()
	if !p.Closed || math.Abs(w-h) > squareSlack*w || math.Abs(math.Abs(p.Area())/(w*h)-1) > squareSlack || math.Abs(p.Length()/(2*(w+h))-1) > squareSlack {
		return 0, false
	}
	return (w + h) / 2, true
}

// lengthInText finds lengths such as 5 cm, 2" and 1.5 inches.
var lengthInText = regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*(mm|cm|inches|inch|in\b|")`)

// saidOf returns the lengths in mm that the texts in a square, or beside it, say of
// it, and the first of these texts: where one of them says that it is a square to test or
// to check something by, or all that one says is a length or two.
func (s *scene) saidOf(box path.Box, side float64) (said []float64, words string) {
	meant := false
	near := box.Grow(besideSquare * side)
	for _, n := range s.notes {
		if !near.Contains(n.At) {
			continue
		}
		text := strings.ToLower(n.String)
		for _, w := range []string{"test", "check", "square", "scale", "print"} {
			meant = meant || strings.Contains(text, w)
		}
		found := lengthInText.FindAllStringSubmatch(text, -1)
		meant = meant || len(found) > 0 && strings.Trim(lengthInText.ReplaceAllString(text, ""), " x×/=0123456789.,()") == ""
		for _, m := range found {
			l, err := strconv.ParseFloat(strings.ReplaceAll(m[1], ",", "."), 64)
			if err != nil || l == 0 {
				continue
			}
			switch m[2] {
			case "mm":
			case "cm":
				l *= 10
			default:
				l *= 25.4
			}
			if words == "" {
				words = n.String
			}
			said = append(said, l)
		}
	}
	if !meant {
		return nil, ""
	}
	return said, words
}
