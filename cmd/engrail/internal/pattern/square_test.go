package pattern

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// squared is a piece with a square of the size in mm beside it, with the text.
func squared(side float64, text string) string {
	return fmt.Sprintf(`<g id="front"><path d="M100 100H400V500H100Z"/></g><g><path d="M500 100h%[1]vv%[1]vh-%[1]vz"/><text x="505" y="110" font-size="6">%[2]s</text></g>`, side, text)
}

func TestTestSquareFindsTheScale(t *testing.T) {
	for name, c := range map[string]struct {
		side float64
		text string
		want string // of the warning, nothing without one
	}{
		"true":                        {50, "test square 5 cm", ""},
		"true in inches":              {50.8, "2&quot; x 2&quot;", ""},
		"true in one of two units":    {25.4, "print check: 2.5 cm or 1 inch", ""},
		"72 px to the inch":           {37.5, "Test square 50 mm", "says 50 mm: all comes out in the wrong scale, by the factor 96/72 (points of 1/72 in were taken for px of 1/96 in); write `unit: 1/72 in`"},
		"90 px to the inch":           {25.4 * 90 / 96, "1 inch", "says 25.4 mm: all comes out in the wrong scale, by the factor 96/90 (px of 1/90 in, as of old, were taken for px of 1/96 in); write `unit: 1/90 in`"},
		"96 taken for 90":             {50 * 96.0 / 90, "5 cm x 5 cm", "by the factor 90/96"},
		"96 taken for 72":             {50 * 96.0 / 72, "5,0 cm square", "by the factor 72/96"},
		"inches taken for mm":         {10, "scale: 10 in", "by the factor 25.4"},
		"a factor that nothing makes": {60, "test square 5 cm", ""},
		"a pocket":                    {100, "pocket, 10 mm allowance", ""},
	} {
		t.Run(name, func(t *testing.T) {
			d := page(t, squared(c.side, c.text))
			r := Inspect(d, "x.svg")
			_, warnings, err := Take(d, Selection{ID: "front"})
			require.NoError(t, err)
			if c.want == "" {
				for _, w := range append(r.Problems, warnings...) {
					require.NotEqual(t, "test-square", w.Code)
				}
				return
			}
			require.Len(t, r.Pieces, 1, "the square is no piece")
			require.Contains(t, r.Problems[len(r.Problems)-1].Message, c.want)
			require.Equal(t, "x.svg", r.Problems[len(r.Problems)-1].Where)
			require.Equal(t, "test-square", warnings[0].Code)
			require.Contains(t, warnings[0].Message, c.want)
		})
	}
}
