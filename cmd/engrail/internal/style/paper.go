package style

import (
	"slices"
	"strings"
)

// The widths in mm that a roll of paper can have: no narrower than a hand, no wider
// than a page of PDF.
const narrowestRoll, widestRoll = 100, 5080

const (
	rollWord = "roll"
	// rollForm is a roll in the schema, whose width is a length without a sign.
	rollForm = `^ *` + rollWord + ` +\+?`
	rollHint = `write its width in mm or with a unit, such as "roll 914" or "roll 36in"`
)

// same reports whether two papers are one.
func (p Paper) same(q Paper) bool { return p.Roll == q.Roll && (p.Roll > 0 || p.Name == q.Name) }

// paper reads a word for paper: one of the field's, or a roll with its width.
func (r *reader) paper(word string, x *Paper, f field, at place) {
	if slices.Contains(f.enum, word) {
		*x = Paper{Name: word}
		return
	}
	first, width, _ := strings.Cut(strings.TrimSpace(word), " ")
	if first != rollWord {
		hint := "the words are " + inWords(f.enum, "and") + `, and a roll is written with its width, such as "roll 914" or "roll 36in"`
		// A width that follows is right or wrong whatever the word.
		if near := Nearest(first, append(slices.Clone(f.enum), rollWord)); near != "" {
			r.fail(at, hint, "unknown word %q for %s; did you mean %q?", first, f.key, near)
		} else {
			r.fail(at, hint, "unknown word %q for %s", word, f.key)
		}
		return
	}
	if width = strings.TrimSpace(width); width == "" {
		r.fail(at, rollHint, "the roll has no width")
		return
	}
	l, err := ParseLength(width, Millimetre)
	switch {
	case err != nil:
		r.fail(at, rollHint, "%s: %v", f.key, err)
	case l < narrowestRoll || l > widestRoll:
		r.fail(at, rollHint, "the roll is %g mm wide; it can be %d to %d mm", float64(l), narrowestRoll, widestRoll)
	default:
		*x = Paper{Name: word, Roll: l}
	}
}
