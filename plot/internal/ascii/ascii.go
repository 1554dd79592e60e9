// Package ascii spells text with the characters that plotters and old drawing
// files can hold: 7-bit ASCII from the space to the tilde.
package ascii

import "strings"

// Fold returns s with printable ASCII characters only:
//   - a letter with a mark loses the mark (é becomes e, Å becomes A), whether
//     the mark is part of the character or follows it;
//   - letters and signs that stand for several become these (ß ss, æ ae, ½
//     1/2, after a digit with a space before it), and typographic quotes, dashes and spaces become the plain ones;
//   - a line break, tab or other control character becomes a space;
//   - anything else, bytes that are not UTF-8 included, becomes a question mark.
//
// Text that is printable ASCII already is returned as it is.
func Fold(s string) string {
	if printable(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	digit := false
	for _, r := range s {
		switch {
		case ' ' <= r && r <= '~':
			b.WriteByte(byte(r))
		case r < ' ' || 0x7f <= r && r < 0xa0:
			b.WriteByte(' ')
		case 0x300 <= r && r <= 0x36f, r == 0xad: // combining marks, soft hyphen
		default:
			if fraction(r) && digit {
				b.WriteByte(' ') // 1½ must not become 11/2
			}
			b.WriteString(spelling(r))
		}
		digit = '0' <= r && r <= '9'
	}
	return b.String()
}

func printable(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Spellings of U+00A0 to U+00FF and of U+0100 to U+017F, separated by spaces.
const (
	latin1 = "_ ! c GBP ? JPY | S \" (c) a << ! - (r) - " +
		"deg +/- 2 3 ' u P . , 1 o >> 1/4 1/2 3/4 ? " +
		"A A A A A A AE C E E E E I I I I " +
		"D N O O O O O x O U U U U Y Th ss " +
		"a a a a a a ae c e e e e i i i i " +
		"d n o o o o o / o u u u u y th y"
	extendedA = "A a A a A a C c C c C c C c D d " +
		"D d E e E e E e E e E e G g G g " +
		"G g G g H h H h I i I i I i I i " +
		"I i IJ ij J j K k k L l L l L l L " +
		"l L l N n N n N n n N n O o O o " +
		"O o OE oe R r R r R r S s S s S s " +
		"S s T t T t T t U u U u U u U u " +
		"U u U u W w Y y Y Z z Z z Z z s"
)

func spelling(r rune) string {
	switch {
	case r == 0xa0:
		return " "
	case r <= 0xff:
		return field(latin1, int(r-0xa0))
	case r <= 0x17f:
		return field(extendedA, int(r-0x100))
	}
	switch r {
	case 'Ș':
		return "S"
	case 'ș':
		return "s"
	case 'Ț':
		return "T"
	case 'ț':
		return "t"
	case 'ẞ':
		return "SS"
	case '‐', '‑', '‒', '–', '—', '−':
		return "-"
	case '‘', '’', '‚', '′':
		return "'"
	case '“', '”', '„', '″':
		return "\""
	case '•', '∙':
		return "*"
	case '…':
		return "..."
	case '€':
		return "EUR"
	case '⌀':
		return "dia"
	case '⅛':
		return "1/8"
	case '⅜':
		return "3/8"
	case '⅝':
		return "5/8"
	case '⅞':
		return "7/8"
	case '⅓':
		return "1/3"
	case '⅔':
		return "2/3"
	}
	if 0x2000 <= r && r <= 0x200a || r == 0x202f { // spaces of other widths
		return " "
	}
	return "?"
}

// fraction reports whether r is a vulgar fraction.
func fraction(r rune) bool {
	return '¼' <= r && r <= '¾' || '⅐' <= r && r <= '⅞'
}

// field returns the n-th field of the list.
func field(list string, n int) string {
	for ; n > 0; n-- {
		_, list, _ = strings.Cut(list, " ")
	}
	word, _, _ := strings.Cut(list, " ")
	return word
}
