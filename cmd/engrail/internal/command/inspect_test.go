package command

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
)

// patternFile is a file of testdata.
func patternFile(parts ...string) string {
	return filepath.Join(append([]string{"..", "..", "..", "..", "testdata"}, parts...)...)
}

// drawn writes an SVG of the body, in mm, into a folder of its own and returns its
// name.
func drawn(t testing.TB, body string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "drawn.svg")
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="3000mm" height="1000mm" viewBox="0 0 3000 1000">` + body + `</svg>`
	require.NoError(t, os.WriteFile(name, []byte(svg), 0o644))
	return name
}

// built returns the plan of the style that is drafted for the pattern file, and
// its text.
func built(t require.TestingT, file string) (*build.Plan, string) {
	in, err := inspect(file)
	require.NoError(t, err)
	name := filepath.Join(filepath.Dir(file), "style.yaml")
	draft, err := in.style(name)
	require.NoError(t, err)
	s, err := style.Parse(name, draft.text)
	require.NoError(t, err, string(draft.text))
	plan, err := build.New(s, filesFor(name, otherPlace(name), &[]string{}))
	require.NoError(t, err, string(draft.text))
	return plan, string(draft.text)
}

func TestDraftedStyleHasTheHemsThatWereTold(t *testing.T) {
	for _, file := range []string{patternFile("pattern", "tansy-skirt.svg"), patternFile("pattern", "damson-layers.svg"), patternFile("plot-dxf", "graded.dxf")} {
		t.Run(filepath.Base(file), func(t *testing.T) {
			in, err := inspect(file)
			require.NoError(t, err)
			plan, _ := built(t, file)
			require.Len(t, plan.Sizes, len(in.sizes))
			for k, size := range plan.Sizes {
				require.Equal(t, in.sizes[k].Name, size.Name)
				require.Len(t, size.Fit.Panels, len(in.sizes[k].report.Pieces))
				for i, f := range size.Fit.Panels {
					p := in.sizes[k].report.Pieces[i]
					require.Equal(t, p.Name, f.Panel.Name)
					require.InDelta(t, hemOf(p), f.Panel.Edges[0].Path.Length(), 0.05, "size %s, %s", size.Name, p.Name)
					require.Equal(t, p.OnFold, f.Panel.OnFold())
				}
			}
		})
	}
}

func TestDrawnAllowancesAreKeptInEverySize(t *testing.T) {
	plan, text := built(t, patternFile("pattern", "damson-layers.svg"))
	require.Contains(t, text, "  # side: 15")
	// 15 mm at the seams and 10 mm at the waist are what is drawn in the file.
	for _, size := range plan.Sizes {
		for _, e := range size.Fit.Panels[1].Panel.Edges[1:] {
			want := 15.0
			if e.Name == "top" {
				want = 10
			}
			require.InDelta(t, want, e.Allowance, 0.001, "size %s, %s", size.Name, e.Name)
		}
	}
}

func TestSideOnAGuessedFoldIsInNoSeam(t *testing.T) {
	name := drawn(t, `<g id="half"><path d="M20 20H420V620H20Z"/><text x="80" y="300">cut 1 on fold</text></g><path id="back" d="M520 20H920V620H520Z"/>`)
	plan, text := built(t, name)
	require.True(t, plan.Sizes[0].Fit.Panels[0].Panel.OnFold() || plan.Sizes[0].Fit.Panels[1].Panel.OnFold())
	require.NotContains(t, text, "half start", "that side is the fold")
}

func TestSeamThatIsUnequalInASizeSaysSo(t *testing.T) {
	body := ""
	for i, size := range []string{"36", "38", "40"} {
		// The back's side is 4 mm shorter in 36, 2 mm in 38, and as long in 40.
		w, h := 300+20*i, 596+2*i
		body += fmt.Sprintf(`<g id="size-%s"><g id="front-%s"><path d="M20 20h%d v600 h-%d z"/></g><g id="back-%s"><path d="M620 20h%d v%d h-%d z"/></g></g>`, size, size, w, w, size, w, h, w)
	}
	_, text := built(t, drawn(t, body))
	require.Contains(t, text, "equally long: 600.0 and 600.0 mm; in size 36 they differ by 4.0 mm")
}

func TestSeamsThatCannotBeBuiltStandAsNotes(t *testing.T) {
	in, err := inspect(patternFile("pattern", "tansy-skirt.svg"))
	require.NoError(t, err)
	text := in.styleText("style.yaml", in.draftPanels(), startings()[0][0], seamless)
	s, err := style.Parse("style.yaml", text)
	require.NoError(t, err)
	require.Empty(t, s.Seams)
	require.Contains(t, string(text), "  # - [Front finish, Back start]")
}

func TestStyleIsDraftedWhateverPiecesAreCalled(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		names := rapid.SliceOfN(rapid.OneOf(
			rapid.SampledFrom([]string{"yes", "null", "10", "1e3", "- a", "a: b", "#1", "a # b", `"`, "'", "Front finish", "[x]", "{", "&a", "*a", "!x", "%", "@", "-", "~", "ärmel", "a\tb", "0x1f", "front", "FRONT", " front "}),
			rapid.StringOfN(rapid.RuneFrom([]rune(`ab :#-'"[]{},&*!|>%@~?=\/`)), 1, 12, -1),
		), 1, 4).Draw(rt, "names")
		var body strings.Builder
		for i, n := range names {
			x := 20 + 500*i
			var escaped bytes.Buffer
			for _, r := range n {
				fmt.Fprintf(&escaped, "&#%d;", r)
			}
			fmt.Fprintf(&body, `<g id="%s"><path d="M%d 20h%d v600 h-%d z"/></g>`, escaped.String(), x, 400+i, 400+i)
		}
		plan, _ := built(rt, drawn(t, body.String()))
		require.Len(rt, plan.Sizes[0].Fit.Panels, len(names))
		for i, f := range plan.Sizes[0].Fit.Panels {
			require.InDelta(rt, 400+float64(i), f.Panel.Edges[0].Path.Length(), 1e-6, "in the order of the file")
		}
	})
}

// A general YAML reader must take the text for what it is, alone and in a list.
func TestTextsAreQuotedWhereYAMLNeedsIt(t *testing.T) {
	texts := rapid.OneOf(
		rapid.SampledFrom([]string{"yes", "No", "null", "~", "10", "1.5", "0x1f", "1e3", ".inf", "-", "- a", "a: b", "a #b", "#1", "a,b", "2020-01-01", "<<", "=", "a b (c)", "Front finish"}),
		rapid.StringOfN(rapid.RuneFrom([]rune(`abcäö019 :#-'"[]{},&*!|>%@~?=\/()_.`)), 1, 12, -1).Filter(func(s string) bool { return strings.TrimSpace(s) == s }),
	)
	rapid.Check(t, func(rt *rapid.T) {
		text := texts.Draw(rt, "text")
		var got struct {
			A any            `yaml:"a"`
			L []any          `yaml:"l"`
			M map[string]any `yaml:"m"`
		}
		q := yamlText(text)
		doc := fmt.Sprintf("a: %s # note\nl: [%s, %s]\nm:\n  %s: 1\n", q, q, q, q)
		require.NoError(rt, yaml.Unmarshal([]byte(doc), &got), doc)
		require.Equal(rt, any(text), got.A, doc)
		require.Equal(rt, []any{text, text}, got.L, doc)
		require.Equal(rt, map[string]any{text: uint64(1)}, got.M, doc)
	})
}

func TestTablesAreNoWiderThanAHundredCharacters(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("abcdeü ")), 1, 60, -1)
	rapid.Check(t, func(rt *rapid.T) {
		name := word.Draw(rt, "name")
		g := grid{align: "rll", indent: 2}
		for range rapid.IntRange(1, 4).Draw(rt, "rows") {
			g.add(fmt.Sprint(rapid.IntRange(1, 999).Draw(rt, "n")), shortened(tidy(name), 12), strings.Repeat(word.Draw(rt, "why")+" ", 4))
		}
		var b bytes.Buffer
		g.print(&b)
		for line := range strings.Lines(b.String()) {
			require.LessOrEqual(rt, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), tableWidth)
		}
	})
}

func TestEverythingThatIsPrintedFitsInAHundredColumns(t *testing.T) {
	for _, file := range []string{patternFile("pattern", "tansy-skirt.svg"), patternFile("pattern", "damson-layers.svg"), patternFile("plot-dxf", "graded.dxf"), patternFile("pattern", "hem-with-corner.svg")} {
		in, err := inspect(file)
		require.NoError(t, err)
		in.file = filepath.Base(file)
		var b bytes.Buffer
		in.print(&b, "", "", nil)
		for line := range strings.Lines(b.String()) {
			require.LessOrEqual(t, utf8.RuneCountInString(line), tableWidth+1, line)
		}
	}
}

// The figures are those of the draft in testdata/pattern/tansy-skirt.svg: the
// front's fold from 50, 40 to 50, 665 mm is 625 mm long.
func TestJSONHasTheFiguresOfTheDrawing(t *testing.T) {
	var out, errs bytes.Buffer
	require.Zero(t, Run([]string{"inspect", patternFile("pattern", "tansy-skirt.svg"), "--json"}, Streams{Out: &out, Err: &errs}))
	require.Empty(t, errs.String())
	var got inspectionJSON
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	require.Equal(t, inspectVersion, got.Version)
	require.Len(t, got.Sizes, 1)
	front := got.Sizes[0].Pieces[0]
	require.Equal(t, "fold", front.Edges[3].Guess)
	require.InDelta(t, 625, front.Edges[3].Length, 1e-3)
	require.Nil(t, front.Edges[0].Allowance)
	again := Run([]string{"inspect", patternFile("pattern", "tansy-skirt.svg"), "--json"}, Streams{Out: &errs, Err: &errs})
	require.Zero(t, again)
	require.Equal(t, out.String(), errs.String(), "the same input gives the same bytes")
}

func TestPiecesAtOneOriginAreLaidApart(t *testing.T) {
	in, err := inspect(patternFile("plot-dxf", "graded.dxf"))
	require.NoError(t, err)
	all := in.numbered()
	require.True(t, overlap(all), "as the file has them")
	spread(all)
	require.False(t, overlap(all))
}

// The whole job but for the picture, from the file to the table, on nine sizes of
// two panels.
func BenchmarkInspect(b *testing.B) {
	file := patternFile("pattern", "damson-layers.svg")
	for b.Loop() {
		in, err := inspect(file)
		require.NoError(b, err)
		var out bytes.Buffer
		in.print(&out, "", "", nil)
		require.Len(b, in.sizes, 9)
	}
}

func BenchmarkInspectStyle(b *testing.B) {
	file := patternFile("pattern", "damson-layers.svg")
	for b.Loop() {
		in, err := inspect(file)
		require.NoError(b, err)
		_, err = in.style("style.yaml")
		require.NoError(b, err)
	}
}
