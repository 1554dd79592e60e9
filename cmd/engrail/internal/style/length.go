package style

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Length is a length in mm.
type Length float64

// Auto is the length of which the file says auto: the program finds it.
const Auto Length = -1

// Degrees is an angle in degrees.
type Degrees float64

// Part is a part of a circle, 1 for all of it.
type Part float64

// Point is a place on a panel, in mm: X across to the right, Y up.
type Point struct{ X, Y Length }

// Unit is a unit of length: mm, cm or in.
type Unit string

// The units.
const (
	Millimetre Unit = "mm"
	Centimetre Unit = "cm"
	Inch       Unit = "in"
)

// mm returns the unit's length in mm.
func (u Unit) mm() float64 {
	switch u {
	case Centimetre:
		return 10
	case Inch:
		return 25.4
	}
	return 1
}

// Text writes a length in the unit, without its name, to about a tenth of a mm.
func (u Unit) Text(mm float64) string {
	decimals := map[Unit]int{Centimetre: 2, Inch: 3}[u]
	return strconv.FormatFloat(mm/u.mm(), 'f', max(1, decimals), 64)
}

// Short is [Unit.Text] without zeros at the end.
func (u Unit) Short(mm float64) string {
	return strings.TrimSuffix(strings.TrimRight(u.Text(mm), "0"), ".")
}

// Longest is the longest length in mm that a file may state, 100 m.
const Longest Length = 100_000

const (
	// longestWord bounds what is read as a number, in bytes.
	longestWord = 64
	// numberForm is a number: whole, decimal, or with a vulgar fraction. Its
	// groups are sign; decimal; whole, numerator, denominator; whole, fraction
	// sign.
	numberForm = `([+-]?)(?:([0-9]+(?:\.[0-9]*)?|\.[0-9]+)|(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)|([0-9]*) ?([½¼¾⅛⅜⅝⅞⅓⅔]))`
	lengthForm = `^ *` + numberForm + ` *(mm|cm|in|inch|inches|"|″)? *$`
	angleForm  = `^ *` + numberForm + ` *(deg|degrees|°)? *$`
	partForm   = `^ *(?:full|half|third|quarter|` + numberForm + `) *$`
)

// The forms, each compiled when the first word is read in it: together they
// would take a tenth of the time in which the program starts.
var (
	lengthWord = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(lengthForm) })
	angleWord  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(angleForm) })
	partWord   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(partForm) })
)

// ParseLength reads a length, such as 57mm, 5.5 cm, 2 1/4 in or 1/2", into mm.
// A bare number counts in the unit. Units are mm, cm, in, inch, inches and "; a
// fraction may follow the whole number after a space or a hyphen, or be one of
// the fraction signs. The error says what is wrong with the word and names the
// nearest unit. Lengths of either sign up to [Longest] are read.
func ParseLength(word string, unit Unit) (Length, error) {
	v, suffix, err := parseNumber(word, lengthWord())
	if err != nil {
		return 0, lengthError(word, err)
	}
	switch suffix {
	case "":
	case "inch", "inches", `"`, "″":
		unit = Inch
	default:
		unit = Unit(suffix)
	}
	v *= unit.mm()
	if math.Abs(v) > float64(Longest) {
		return 0, fmt.Errorf("%q is longer than 100 m", word)
	}
	return Length(v), nil
}

// lengthError looks for what the word should have been.
func lengthError(word string, cause error) error {
	if !errors.Is(cause, errForm) {
		return fmt.Errorf("%q is no length: %w", word, cause)
	}
	word = strings.TrimSpace(word)
	if strings.Contains(word, ",") {
		if dotted := strings.Replace(word, ",", ".", 1); lengthWord().MatchString(dotted) {
			return fmt.Errorf("%q is no length; write %q", word, dotted)
		}
	}
	// Everything from the first letter on may be a misspelt unit.
	if i := strings.IndexFunc(word, isLetter); i > 0 && lengthWord().MatchString(word[:i]) {
		units := []string{"mm", "cm", "in", "inch", "inches"}
		if near := Nearest(word[i:], units); near != "" {
			return fmt.Errorf("unknown unit %q; did you mean %q?", word[i:], near)
		}
		return fmt.Errorf("unknown unit %q; the units are mm, cm and in", word[i:])
	}
	return fmt.Errorf("%q is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in", word)
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' }

// parseDegrees reads an angle in degrees.
func parseDegrees(word string) (Degrees, error) {
	v, _, err := parseNumber(word, angleWord())
	if err != nil || math.Abs(v) > maxDegrees {
		return 0, fmt.Errorf("%q is no angle; write a number of degrees such as 180", word)
	}
	return Degrees(v), nil
}

// maxDegrees is the largest angle, a thousand turns.
const maxDegrees = 360_000

// Ratio is how many times as large something is, 0 when it is left out.
type Ratio float64

// Place is a part of the way along a hem from its start, 0 to 1.
type Place float64

// parsePart reads a part of a circle.
func parsePart(word string) (Part, error) {
	switch strings.TrimSpace(word) {
	case "full":
		return 1, nil
	case "half":
		return 0.5, nil
	case "third":
		return 1.0 / 3, nil
	case "quarter":
		return 0.25, nil
	}
	v, _, err := parseNumber(word, partWord())
	if err == nil && v > 0 && v <= maxDegrees/360 {
		return Part(v), nil
	}
	if near := Nearest(word, []string{"full", "half", "third", "quarter"}); near != "" && err != nil {
		return 0, fmt.Errorf("unknown part of a circle %q; did you mean %q?", word, near)
	}
	return 0, fmt.Errorf("%q is no part of a circle; write full, half, third, quarter, or a number above 0 such as 3/4", word)
}

// parseRatio reads a number above 0 or a fraction.
func parseRatio(word string) (Ratio, error) {
	v, _, err := parseNumber(word, partWord())
	if err == nil && v > 0 && v <= maxRatio {
		return Ratio(v), nil
	}
	return 0, fmt.Errorf("%q is no ratio; write a number from 0 to %d such as 0.5 or 2/3", word, maxRatio)
}

// maxRatio is the largest ratio of two motifs.
const maxRatio = 20

// parsePlace reads a place along a hem.
func parsePlace(word string) (Place, error) {
	switch strings.TrimSpace(word) {
	case "start":
		return 0, nil
	case "middle":
		return 0.5, nil
	case "finish":
		return 1, nil
	}
	v, _, err := parseNumber(word, partWord())
	if err == nil && v >= 0 && v <= 1 {
		return Place(v), nil
	}
	if near := Nearest(word, []string{"start", "middle", "finish"}); near != "" && err != nil {
		return 0, fmt.Errorf("unknown place %q; did you mean %q?", word, near)
	}
	return 0, fmt.Errorf("%q is no place along a hem; write start, middle, finish, or a part of the way such as 2/3", word)
}

// errForm says that a word does not look like a number at all.
var errForm = errors.New("not a number")

// parseNumber reads a number in the form and the unit behind it, if any.
func parseNumber(word string, form *regexp.Regexp) (v float64, unit string, err error) {
	if len(word) > longestWord {
		return 0, "", fmt.Errorf("it has more than %d characters", longestWord)
	}
	m := form.FindStringSubmatch(word)
	if m == nil {
		return 0, "", errForm
	}
	number := func(s string) float64 {
		x, _ := strconv.ParseFloat(s, 64) // the form holds digits only; empty is 0
		return x
	}
	switch {
	case m[2] != "":
		v = number(m[2])
	case m[5] != "":
		d := number(m[5])
		if d == 0 {
			return 0, "", errors.New("it divides by 0")
		}
		v = number(m[3]) + number(m[4])/d
	default:
		v = number(m[6]) + vulgar(m[7])
	}
	if m[1] == "-" {
		v = -v
	}
	if len(m) > 8 {
		unit = m[8]
	}
	return v, unit, nil
}

// vulgar returns the value of a fraction sign.
func vulgar(sign string) float64 {
	switch sign {
	case "½":
		return 1.0 / 2
	case "¼":
		return 1.0 / 4
	case "¾":
		return 3.0 / 4
	case "⅛":
		return 1.0 / 8
	case "⅜":
		return 3.0 / 8
	case "⅝":
		return 5.0 / 8
	case "⅞":
		return 7.0 / 8
	case "⅓":
		return 1.0 / 3
	case "⅔":
		return 2.0 / 3
	}
	return 0
}
