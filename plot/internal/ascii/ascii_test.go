package ascii

import (
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFoldSpellsWords(t *testing.T) {
	for in, want := range map[string]string{
		"":                           "",
		"Front, size 38; cut 2":      "Front, size 38; cut 2",
		"Rückenblatt groß":           "Ruckenblatt gross",
		"Devant à l’ourlet":          "Devant a l'ourlet",
		"e\u0301te\u0301":            "ete",
		"Łódź Ångström cœur Ærø ğış": "Lodz Angstrom coeur AEro gis",
		"1½ in × 57 mm – 3°":         "1 1/2 in x 57 mm - 3deg",
		"two\nlines\tand\x03etx":     "two lines and etx",
		"裾 and \xff":                 "? and ?",
		"co\u00adoperate":            "cooperate",
		"thin\u2009space\u00a0":      "thin space ",
	} {
		require.Equal(t, want, Fold(in), "%q", in)
	}
}

func TestFoldKeepsCaseAndLeavesNoOtherCharacter(t *testing.T) {
	for r := rune(0xa0); r <= 0x17f; r++ {
		folded := Fold(string(r))
		require.True(t, printable(folded), "%q", r)
		if !unicode.IsLetter(r) || unicode.Is(unicode.Lm, r) {
			continue
		}
		first, _ := utf8.DecodeRuneInString(folded)
		require.True(t, unicode.IsLetter(first), "%q is spelled %q", r, folded)
		require.Equal(t, unicode.IsUpper(r), unicode.IsUpper(first), "%q is spelled %q", r, folded)
	}
}

func TestFoldedTextStaysAsItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		once := Fold(s)
		require.True(t, printable(once))
		require.Equal(t, once, Fold(once))
	})
}
