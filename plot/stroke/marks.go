package stroke

// The combining marks that have strokes, by what they are.
const (
	grave       = '\u0300'
	acute       = '\u0301'
	circumflex  = '\u0302'
	tilde       = '\u0303'
	macron      = '\u0304'
	breve       = '\u0306'
	dotAbove    = '\u0307'
	diaeresis   = '\u0308'
	ring        = '\u030a'
	doubleAcute = '\u030b'
	caron       = '\u030c'
	turnedComma = '\u0312'
	besideCaron = '\u0315'
	dotBelow    = '\u0323'
	commaBelow  = '\u0326'
	cedilla     = '\u0327'
	ogonek      = '\u0328'
)

// combining reports whether r is a mark that belongs to the letter before it.
func combining(r rune) bool { return 0x300 <= r && r <= 0x36f }

// form returns the mark that is drawn for a mark on a letter. Tall letters have
// the caron beside them, and where there is a comma, as in Latvian, it is called
// a cedilla.
func form(mark, letter rune) rune {
	switch mark {
	case caron:
		switch letter {
		case 'd', 't', 'l', 'L':
			return besideCaron
		}
	case cedilla:
		switch letter {
		case 'g':
			return turnedComma
		case 'G', 'K', 'k', 'L', 'l', 'N', 'n', 'R', 'r':
			return commaBelow
		}
	}
	return mark
}

// below reports whether the mark stands below the letter.
func below(mark rune) bool { return dotBelow <= mark && mark <= ogonek }

// dotless returns the letter that stands under a mark.
func dotless(letter rune) rune {
	switch letter {
	case 'i':
		return 'ı'
	case 'j':
		return 'ȷ'
	}
	return letter
}

// top returns the height in steps of the letter that a mark stands on.
func top(letter rune) float64 {
	switch letter {
	case 'b', 'd', 'f', 'h', 'k', 'l', 't', 'đ', 'ħ', 'ł', 'ß', 'þ':
		return capHeight
	}
	if 'a' <= letter && letter <= 'z' {
		return xHeight
	}
	switch letter {
	case 'æ', 'ø', 'œ', 'ı', 'ȷ', 'ŋ':
		return xHeight
	}
	return capHeight
}

// anchor returns the place in steps, from the left of a letter's box, of the
// middle of a mark.
func anchor(letter, mark rune, width float64) float64 {
	if mark == besideCaron {
		switch letter {
		case 'L':
			return 5.5
		case 'l':
			return 4
		case 't':
			return 6.8
		}
		return width + 3.8
	}
	if mark == ogonek {
		switch letter {
		case 'A', 'a', 'u':
			return width
		case 'E':
			return width - 2.5
		case 'e':
			return 8
		}
		return width / 2
	}
	if below(mark) {
		if letter == 'r' {
			return 0.6
		}
		return width / 2
	}
	switch letter {
	case 'b', 'h', 'k', 'l', 'L':
		return 1.5
	case 'd', 'J', 'ȷ':
		return width - 0.5
	}
	return width / 2
}
