package stroke_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
	"engrail/plot/stroke"
)

var update = flag.Bool("update", false, "rewrite the golden file")

const (
	signs    = "–—−‘’‚“”„‹›…•€⌀⅓⅔⅛⅜⅝⅞ẞȷșțȘȚẁẃẅỳǖ"
	pen      = 0.1 // the advised width to the height
	capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	figures  = "0123456789"
)

// characters returns all that has strokes of its own.
func characters() []rune {
	var all []rune
	for r := '!'; r <= 0x17f; r++ {
		switch {
		case 0x7f <= r && r <= 0xa0, r == 0xad, r == '¨', r == '¯', r == '´', r == '¸':
		default:
			all = append(all, r)
		}
	}
	return append(all, []rune(signs)...)
}

func lines(s string) []path.Path { return stroke.Lines(plot.Text{Height: 1, String: s}) }

func bounds(all []path.Path) path.Box {
	b := path.EmptyBox()
	for _, p := range all {
		b = b.Union(p.Bounds())
	}
	return b
}

// shape writes strokes down, to compare them.
func shape(all []path.Path) string {
	var b strings.Builder
	for _, p := range all {
		fmt.Fprint(&b, p.Closed)
		for _, v := range p.V {
			fmt.Fprintf(&b, " %.6f %.6f %.6f", v.X+0, v.Y+0, v.Bulge+0)
		}
		b.WriteByte('\n')
	}
	return strings.ReplaceAll(b.String(), "-0.000000", "0.000000")
}

func TestNoTwoCharactersLookAlike(t *testing.T) {
	same := map[rune]rune{'Đ': 'Ð', '‚': ','}
	seen := map[string]rune{}
	for _, r := range characters() {
		s := shape(lines(string(r)))
		require.NotEmpty(t, s, "%q", r)
		if other, ok := seen[s]; ok {
			require.Equal(t, same[r], other, "%q looks like %q", r, other)
			delete(same, r)
			continue
		}
		seen[s] = r
	}
	require.Empty(t, same)
}

// Only the ligatures of I and J and the ellipsis are as their letters and dots.
func TestCharactersAreNotSpelledInASCII(t *testing.T) {
	for _, r := range characters() {
		if r > '~' && !strings.ContainsRune("\u0132\u0133…", r) {
			require.NotEqual(t, shape(lines(ascii.Fold(string(r)))), shape(lines(string(r))), "%q", r)
		}
	}
}

func TestWhatHasNoStrokesIsSpelledInASCII(t *testing.T) {
	for in, want := range map[string]string{
		"裾":                   "?",
		"x裾y":                 "x?y",
		"a\tb\nc":             "a b c",
		"´":                   "'",
		"thin\u2009space":     "thin space",
		"co\u00adoperate":     "cooperate",
		"\ufffd":              "?",
		"a\xffb":              "ab",
		"\u0301a":             "a",
		"e\u0363":             "e",
		"ạ\u0301":             "ạ\u0301",
		"\u212b":              "Å",
		"d\u030c":             "ď",
		"i\u0307":             "i\u0307",
		"u\u0308\u0304":       "ǖ",
		"x\u0301\u0301\u0301": "x\u0301\u0301",
	} {
		require.Equal(t, shape(lines(want)), shape(lines(in)), "%q", in)
		require.Equal(t, stroke.Width(want, 1), stroke.Width(in, 1), "%q", in)
	}
}

func TestMarksAfterALetterAreThoseOfTheCharacter(t *testing.T) {
	for _, r := range characters() {
		apart := norm.NFD.String(string(r))
		require.Equal(t, shape(lines(string(r))), shape(lines(apart)), "%q", r)
	}
}

func TestCapitalsAndFiguresStandOnTheBaseLineAndAreAsTallAsTold(t *testing.T) {
	for _, r := range capitals + figures {
		b := bounds(stroke.Lines(plot.Text{Height: 7, String: string(r)}))
		require.InDelta(t, 0, b.Min.Y, 1e-9, "%q", r)
		require.InDelta(t, 7, b.Max.Y, 1e-9, "%q", r)
	}
}

func TestSmallLettersKeepTheirLines(t *testing.T) {
	for letters, want := range map[string][2]float64{
		"acemnorsuvwxzæøœı": {0, 2. / 3},
		"bdhklß":            {0, 1},
		"gpqyŋ":             {-1. / 3, 2. / 3},
		"þ":                 {-1. / 3, 1},
	} {
		for _, r := range letters {
			b := bounds(lines(string(r)))
			require.InDelta(t, want[0], b.Min.Y, 1e-9, "%q", r)
			require.InDelta(t, want[1], b.Max.Y, 1e-9, "%q", r)
		}
	}
}

func TestAllKeepsWithinTheToldHeights(t *testing.T) {
	for _, r := range characters() {
		b := bounds(lines(string(r)))
		require.GreaterOrEqual(t, b.Min.Y, -1./3-1e-9, "%q", r)
		require.LessOrEqual(t, b.Max.Y, 5./3+1e-9, "%q", r)
	}
}

// room is the advance that Text.Corners assumes, at height 1.
func room(s string) float64 {
	c := plot.Text{Height: 1, String: s}.Corners()
	return c[1].X - c[0].X
}

// advance is the distance at which the next letter follows.
func advance(s string) float64 { return stroke.Width("H"+s+"H", 1) - stroke.Width("HH", 1) }

func TestEveryCharacterFitsTheRoomOfALetter(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if !utf8.ValidRune(r) {
			continue
		}
		if a := advance(string(r)); a > room(string(r))+1e-9 {
			require.LessOrEqual(t, a, room(string(r)), "%q", r)
		}
	}
}

func TestStrokesKeepWithinTheAdvance(t *testing.T) {
	for _, r := range characters() {
		before := bounds(lines("H")).Max.X
		all := lines("H" + string(r) + "H")
		b := bounds(all[3 : len(all)-3])
		after := bounds(all[len(all)-3:]).Min.X
		require.Greater(t, b.Min.X, before+pen, "%q", r)
		require.Less(t, b.Max.X, after-pen, "%q", r)
	}
}

func TestFiguresHaveOneAdvance(t *testing.T) {
	for _, r := range figures {
		require.InDelta(t, advance("0"), advance(string(r)), 1e-12, "%q", r)
	}
}

func TestDotsAreSmallCircles(t *testing.T) {
	for s, want := range map[string]int{".": 1, "i": 1, "j": 1, ":": 2, "…": 3, "ä": 2, "Ż": 1, "!": 1, "÷": 2, "ı": 0, "î": 0, "į": 1} {
		dots := 0
		for _, p := range lines(s) {
			if b := p.Bounds(); p.Closed && b.Width() < 0.11 {
				require.InDelta(t, 0.1, b.Width(), 1e-9)
				require.InDelta(t, 0.1, b.Height(), 1e-9)
				dots++
			}
		}
		require.Equal(t, want, dots, "%q", s)
	}
}

// With the advised pen there is white between a letter and the marks that do not
// hang from it.
func TestMarksDoNotTouchTheirLetters(t *testing.T) {
	for _, r := range characters() {
		parts := []rune(norm.NFD.String(string(r)))
		if len(parts) < 2 || strings.ContainsAny(string(parts[1:]), "\u0327\u0328") {
			continue
		}
		all := lines(string(r))
		base := map[rune]int{'i': 1, 'j': 1}[parts[0]]
		if base == 0 {
			base = len(lines(string(parts[0])))
		}
		for _, mark := range all[base:] {
			for _, p := range all[:base] {
				require.Greater(t, gap(mark, p), 1.25*pen, "%q", r)
			}
		}
	}
}

// gap is the distance between strokes, looked for at points of the first.
func gap(a, b path.Path) float64 {
	least := math.Inf(1)
	points := []path.Point{a.V[0].Point}
	for i := range a.Segments() {
		for k := range 21 {
			points = append(points, a.Segment(i).At(float64(k)/20))
		}
	}
	for _, p := range points {
		for i := range b.Segments() {
			_, d := b.Segment(i).Nearest(p)
			least = min(least, d)
		}
		for _, v := range b.V {
			least = min(least, p.Dist(v.Point))
		}
	}
	return least
}

func TestAlignedAndTurnedTextIsThePlainOneMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := text().Draw(t, "text")
		x := plot.Text{
			At:     path.Point{X: rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), Y: rapid.Float64Range(-1e4, 1e4).Draw(t, "y")},
			Height: rapid.Float64Range(0.5, 200).Draw(t, "height"),
			Angle:  rapid.Float64Range(-7, 7).Draw(t, "angle"),
			Align:  plot.Align(rapid.IntRange(0, 2).Draw(t, "align")),
			String: s,
		}
		part := map[plot.Align]float64{plot.Left: 0, plot.Middle: 0.5, plot.Right: 1}[x.Align]
		m := path.Translation(path.Vec{X: -part * stroke.Width(s, 1)}).Then(path.Frame(x.At, path.Direction(x.Angle).Mul(x.Height)))
		want, got := lines(s), stroke.Lines(x)
		require.Len(t, got, len(want))
		for i, p := range want {
			p = p.Transform(m)
			require.Equal(t, p.Closed, got[i].Closed)
			require.Len(t, got[i].V, len(p.V))
			for k, v := range p.V {
				require.InDelta(t, 0, v.Dist(got[i].V[k].Point), 1e-7)
				require.InDelta(t, v.Bulge, got[i].V[k].Bulge, 1e-9)
			}
		}
	})
}

func TestStrokesOfAnyTextKeepWithinItsRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := plot.Text{Height: rapid.Float64Range(0.1, 1e3).Draw(t, "height"), Align: plot.Align(rapid.IntRange(0, 2).Draw(t, "align")), String: text().Draw(t, "text")}
		c := x.Corners()
		for _, p := range stroke.Lines(x) {
			require.NotEmpty(t, p.V)
			require.True(t, p.Finite())
			b := p.Bounds()
			const dot = 0.05 // half of a dot's width
			require.GreaterOrEqual(t, b.Min.X, c[0].X-(dot+1e-9)*x.Height)
			require.LessOrEqual(t, b.Max.X, c[1].X+(dot+1e-9)*x.Height)
			require.Less(t, b.Max.Y, 5./3*x.Height)
			require.Greater(t, b.Min.Y, -x.Height)
		}
	})
}

// text draws strings of letters, of anything, of bytes, and of letters with many
// marks.
func text() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.StringMatching(`[ -~]{0,30}`),
		rapid.String(),
		rapid.StringOfN(rapid.RuneFrom(characters()), 0, 20, -1),
		rapid.StringOf(rapid.SampledFrom([]rune("aLdijgÅ½ \u0301\u0308\u030c\u0327\u0328\u0363"))),
		rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }),
	)
}

func TestWidthsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := text().Draw(t, "a"), text().Draw(t, "b")
		whole := stroke.Width(a+"H"+b, 1)
		require.InDelta(t, stroke.Width(a+"H", 1)+stroke.Width("H"+b, 1)-stroke.Width("H", 1), whole, 1e-9)
		k := rapid.Float64Range(0.1, 100).Draw(t, "height")
		require.InDelta(t, k*whole, stroke.Width(a+"H"+b, k), 1e-9*(1+k*whole))
	})
}

func TestWidthIsFromTheFirstLetterToTheLast(t *testing.T) {
	for _, s := range []string{"H", "HNH", "Front H", "DECIMAL", "ï", "Öl", "¾"} {
		b := bounds(lines(s))
		require.InDelta(t, 0, b.Min.X, 0.0501, "%q", s) // half of a dot's width
		require.InDelta(t, stroke.Width(s, 1), b.Max.X, 0.0501, "%q", s)
	}
}

func TestTextThatCannotBeDrawnHasNoStrokes(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, x := range map[string]plot.Text{
		"empty":          {Height: 5},
		"space":          {Height: 5, String: " "},
		"no height":      {String: "A"},
		"negative":       {Height: -5, String: "A"},
		"NaN height":     {Height: nan, String: "A"},
		"endless height": {Height: inf, String: "A"},
		"huge height":    {Height: 1e308, String: "A"},
		"NaN angle":      {Height: 5, Angle: nan, String: "A"},
		"endless angle":  {Height: 5, Angle: inf, String: "A"},
		"nowhere":        {Height: 5, At: path.Point{X: nan}, String: "A"},
		"far away":       {Height: 5, At: path.Point{Y: inf}, String: "A"},
		"not UTF-8":      {Height: 5, String: "\xff\xc3"},
		"only a mark":    {Height: 5, String: "\u0301"},
	} {
		require.Empty(t, stroke.Lines(x), name)
	}
	for _, h := range []float64{0, -1, nan, inf} {
		require.Zero(t, stroke.Width("A", h))
	}
	require.Zero(t, stroke.Width("", 5))
	require.Zero(t, stroke.Width("\xff", 5))
}

// The golden file has a line for each character: its advance, how many strokes,
// lines and arcs it has, and their length and box, at height 1.
func TestCharactersAreAsInGoldenFile(t *testing.T) {
	var b strings.Builder
	for _, r := range characters() {
		straight, arcs, length := 0, 0, 0.0
		all := lines(string(r))
		for _, p := range all {
			length += p.Length()
			for i := range p.Segments() {
				if p.Segment(i).IsLine() {
					straight++
				} else {
					arcs++
				}
			}
		}
		box := bounds(all)
		fmt.Fprintf(&b, "%c advance %.3f: strokes %d, lines %d, arcs %d, length %.3f, %.3f wide, from %.3f to %.3f\n",
			r, advance(string(r)), len(all), straight, arcs, length, box.Width(), box.Min.Y+0, box.Max.Y)
	}
	file := filepath.Join("..", "..", "testdata", "plot-stroke", "characters.golden")
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), b.String())
}

func FuzzLines(f *testing.F) {
	for _, s := range []string{"", "Front facing · cut 2 · size 38 · ¼ in", "„Öffnung“", "źdźbło ďábel", "a\u0301\u0327\xff裾"} {
		f.Add(s, 5., 0.3, 1)
		f.Add(s, 5., 0.3, 0xa9) // no alignment
	}
	f.Fuzz(func(t *testing.T, s string, height, angle float64, align int) {
		for _, p := range stroke.Lines(plot.Text{Height: height, Angle: angle, Align: plot.Align(align), String: s}) {
			if len(p.V) == 0 || !p.Finite() {
				t.Fatalf("a stroke of %q: %v", s, p)
			}
		}
	})
}

func BenchmarkLines(b *testing.B) {
	for name, s := range map[string]string{
		"label-20":   "Front facing, cut 2x",
		"accents-20": "Žluťoučký kůň śćęłóż",
		"one":        "A",
		"empty":      "",
	} {
		b.Run(name, func(b *testing.B) {
			x := plot.Text{Height: 5, Angle: 0.3, Align: plot.Middle, String: s}
			for b.Loop() {
				stroke.Lines(x)
			}
		})
	}
}
