package style

import (
	"fmt"
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLengthsInAnyUnit(t *testing.T) {
	tests := []struct {
		word string
		unit Unit
		want Length
	}{
		{"60", Millimetre, 60},
		{"6", Centimetre, 60},
		{"2", Inch, 50.8},
		{"57mm", Inch, 57},
		{"5.5 cm", Inch, 55},
		{"2 1/4 in", Millimetre, 57.15},
		{"2-1/4in", Millimetre, 57.15},
		{"2¼ inches", Millimetre, 57.15},
		{"2 ¼ in", Millimetre, 57.15},
		{"½\"", Millimetre, 12.7},
		{"1/2\"", Millimetre, 12.7},
		{"1 inch", Millimetre, 25.4},
		{"1″", Millimetre, 25.4},
		{"5/8", Inch, 15.875},
		{"⅝", Inch, 15.875},
		{".5", Centimetre, 5},
		{"5.", Centimetre, 50},
		{"-3 mm", Millimetre, -3},
		{"-1 1/2 in", Millimetre, -38.1},
		{"+7", Millimetre, 7},
		{"  12 mm  ", Millimetre, 12},
		{"0", Inch, 0},
		{"100000", Millimetre, 100000},
		{"007", Millimetre, 7},
	}
	for _, tt := range tests {
		got, err := ParseLength(tt.word, tt.unit)
		require.NoError(t, err, tt.word)
		require.InDelta(t, float64(tt.want), float64(got), 1e-9, tt.word)
	}
	// Every fraction sign of the form has a value.
	for _, sign := range "½¼¾⅛⅜⅝⅞⅓⅔" {
		got, err := ParseLength(string(sign), Millimetre)
		require.NoError(t, err)
		require.Positive(t, got)
	}
}

func TestBadLengthsSayWhatIsWrong(t *testing.T) {
	tests := []struct{ word, want string }{
		{"", `"" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{"wide", `"wide" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{".nan", `".nan" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{"NaN", `"NaN" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{".inf", `".inf" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{"1e3", `unknown unit "e3"; the units are mm, cm and in`},
		{"0x10", `unknown unit "x10"; the units are mm, cm and in`},
		{"5,5 cm", `"5,5 cm" is no length; write "5.5 cm"`},
		{"57 mmm", `unknown unit "mmm"; did you mean "mm"?`},
		{"57MM", `unknown unit "MM"; did you mean "mm"?`},
		{"5 c", `unknown unit "c"; did you mean "cm"?`},
		{"2 inchs", `unknown unit "inchs"; did you mean "inch"?`},
		{"3 furlongs", `unknown unit "furlongs"; the units are mm, cm and in`},
		{"1/0 in", `"1/0 in" is no length: it divides by 0`},
		{"101 m", `unknown unit "m"; did you mean "mm"?`},
		{"100001", `"100001" is longer than 100 m`},
		{"-100001 mm", `"-100001 mm" is longer than 100 m`},
		{"99999999999999999999999999 cm", `"99999999999999999999999999 cm" is longer than 100 m`},
		{"1 2 3", `"1 2 3" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`},
		{"11111111111111111111111111111111111111111111111111111111111111111",
			`"11111111111111111111111111111111111111111111111111111111111111111" is no length: it has more than 64 characters`},
	}
	for _, tt := range tests {
		_, err := ParseLength(tt.word, Millimetre)
		require.EqualError(t, err, tt.want)
	}
}

func TestWrittenLengthsReadBack(t *testing.T) {
	perUnit := map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"", "mm", "cm", "in", "inch", "inches", `"`, "″"}).Draw(t, "unit")
		bare := rapid.SampledFrom([]Unit{Millimetre, Centimetre, Inch}).Draw(t, "bare")
		space := rapid.SampledFrom([]string{"", " ", "   "}).Draw(t, "space")
		negative := rapid.Bool().Draw(t, "negative")
		var word string
		var value float64
		if rapid.Bool().Draw(t, "fraction") {
			whole := rapid.IntRange(0, 300).Draw(t, "whole")
			d := rapid.SampledFrom([]int{2, 3, 4, 8, 16, 32, 64}).Draw(t, "denominator")
			n := rapid.IntRange(0, d).Draw(t, "numerator")
			joint := rapid.SampledFrom([]string{" ", "-"}).Draw(t, "joint")
			word, value = fmt.Sprintf("%d%s%d/%d", whole, joint, n, d), float64(whole)+float64(n)/float64(d)
		} else {
			value = math.Round(rapid.Float64Range(0, 3000).Draw(t, "value")*1000) / 1000
			word = fmt.Sprintf("%.3f", value)
		}
		if negative {
			word, value = "-"+word, -value
		}
		per, ok := perUnit[unit]
		if !ok {
			per = perUnit[string(bare)]
		}
		got, err := ParseLength(word+space+unit, bare)
		require.NoError(t, err)
		require.InDelta(t, value*per, float64(got), 1e-9)
	})
}

func FuzzParseLength(f *testing.F) {
	for _, word := range []string{"60", "57mm", "5.5 cm", "2 1/4 in", "1/2\"", "-3", "2¼ in", "5,5", "1/0", ".nan", "1e3", "99999999999999 in", "½"} {
		f.Add(word)
	}
	form := regexp.MustCompile(lengthForm)
	f.Fuzz(func(t *testing.T, word string) {
		for _, unit := range []Unit{Millimetre, Centimetre, Inch} {
			l, err := ParseLength(word, unit)
			if err != nil {
				require.NotEmpty(t, err.Error())
				continue
			}
			require.True(t, form.MatchString(word), "editors take what is read")
			require.LessOrEqual(t, math.Abs(float64(l)), float64(Longest))
			again, err := ParseLength(fmt.Sprintf("%.17f", float64(l)), Millimetre)
			if err == nil { // too many digits are refused
				require.InDelta(t, float64(l), float64(again), 1e-9)
			}
		}
	})
}

func TestPartsOfACircle(t *testing.T) {
	for word, want := range map[string]Part{
		"full": 1, "half": 0.5, "third": 1.0 / 3, "quarter": 0.25, "3/4": 0.75, "1 1/2": 1.5, "0.4": 0.4, "¾": 0.75, "2": 2,
	} {
		got, err := parsePart(word)
		require.NoError(t, err, word)
		require.InDelta(t, float64(want), float64(got), 1e-12, word)
	}
	for word, want := range map[string]string{
		"haf":  `unknown part of a circle "haf"; did you mean "half"?`,
		"0":    `"0" is no part of a circle; write full, half, third, quarter, or a number above 0 such as 3/4`,
		"-1/2": `"-1/2" is no part of a circle; write full, half, third, quarter, or a number above 0 such as 3/4`,
		"90":   "",
		"9999": `"9999" is no part of a circle; write full, half, third, quarter, or a number above 0 such as 3/4`,
	} {
		_, err := parsePart(word)
		if want == "" {
			require.NoError(t, err)
			continue
		}
		require.EqualError(t, err, want)
	}
}

func TestNearestWord(t *testing.T) {
	keys := []string{"shape", "width", "depth", "flat", "tip", "valley", "lay", "rest", "least", "most", "count"}
	for word, want := range map[string]string{
		"widht": "width", "with": "width", "Width": "width", "dept": "depth", "depths": "depth",
		"shap": "shape", "valleys": "valley", "leest": "least", "tipp": "tip", "cuont": "count",
		"colour": "", "x": "", "": "", "facing": "", "thickness": "",
	} {
		require.Equal(t, want, Nearest(word, keys), word)
	}
}

func TestEditDistanceIsSymmetricAndCountsLetters(t *testing.T) {
	require.Equal(t, 1, editDistance("width", "widht"), "a swap")
	require.Equal(t, 1, editDistance("width", "widh"), "a letter missing")
	require.Equal(t, 1, editDistance("width", "wwidth"), "a letter too many")
	require.Equal(t, 1, editDistance("width", "wiðth"), "a letter changed")
	// A pair that is a textbook example of the Levenshtein distance.
	require.Equal(t, 3, editDistance("kitten", "sitting"))
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abcd")), 0, 12, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := editDistance(a, b)
		require.Equal(t, d, editDistance(b, a))
		require.Equal(t, a == b, d == 0)
		require.LessOrEqual(t, d, max(len(a), len(b)))
		require.GreaterOrEqual(t, d, max(len(a), len(b))-min(len(a), len(b)))
	})
}
