package svg_test

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/svg"
)

// nested is a nest of squares in sizes of these names, each 20 mm larger than the one
// before.
func nested(names ...string) plot.Drawing {
	d := plot.Drawing{Title: "Nest"}
	for k, name := range names {
		s := float64(100 + 20*k)
		d.Groups = append(d.Groups, plot.Group{Size: name, Groups: []plot.Group{{
			ID: "front-" + name, Label: "front", Piece: &plot.Piece{Name: "front", Size: name},
			Lines: []plot.Line{
				{Role: plot.Cut, Path: path.Closed(path.Point{}, path.Point{X: s}, path.Point{X: s, Y: s}, path.Point{Y: s})},
				{Role: plot.Stitch, Path: path.Open(path.Point{X: s - 10}, path.Point{X: s - 10, Y: s})},
			},
		}}})
	}
	d.Groups = append(d.Groups, plot.Group{ID: "all", Texts: []plot.Text{{At: path.Point{X: 10, Y: 50}, Height: 5, String: "shared"}}})
	return d
}

func TestNestIsReadBackWithItsSizesAndRoles(t *testing.T) {
	names := []string{"34", "XS & S", "xs-s", "裾"}
	var file bytes.Buffer
	require.NoError(t, svg.Write(&file, nested(names...)))
	text := file.String()
	require.Contains(t, text, `<g id="size-34" class="size-34">`+"\n<title>34</title>\n"+`<g id="front-34">`+"\n<title>front</title>\n"+`<g id="front-34-cut" class="cut">`)
	require.Contains(t, text, `<g id="size-xs-s" class="size-xs-s">`)
	require.Contains(t, text, `<g id="size-xs-s-2" class="size-xs-s-2">`, "names that make the same word stay apart")
	back, err := svg.Read(&file, svg.Options{})
	require.NoError(t, err)
	require.Len(t, back.Groups, len(names)+2, "what all share, and the legend")
	for k, g := range back.Groups[:len(names)] {
		require.Equal(t, names[k], g.Label)
		lines := plottest.Lines(plot.Drawing{Groups: []plot.Group{g}})
		require.Len(t, lines, 2)
		require.Equal(t, plot.Cut, lines[0].Role)
		require.InDelta(t, 4*float64(100+20*k), lines[0].Path.Length(), 1e-6)
		require.Equal(t, plot.Stitch, lines[1].Role)
	}
	require.Equal(t, "legend", back.Groups[len(names)+1].ID)
}

// The look of a line is that of its size, and its role's dashes where that has some:
// the reader takes both from the style sheet.
func TestOneRuleForEachSizeAndEachRoleSaysAllLooks(t *testing.T) {
	var names []string
	for k := range plot.LooksOfSizes + 1 {
		names = append(names, fmt.Sprint(30+2*k))
	}
	var file bytes.Buffer
	require.NoError(t, svg.Write(&file, nested(names...)))
	sheet, _, _ := strings.Cut(file.String(), "</style>")
	for _, role := range plot.Roles() {
		require.Len(t, regexp.MustCompile(`(?m)^\.`+role.String()+`\{`).FindAllString(sheet, -1), 1, "%v", role)
	}
	for _, name := range names {
		require.Equal(t, 1, strings.Count(sheet, ".size-"+name+"{"))
	}
	d, err := svg.Read(strings.NewReader(file.String()), svg.Options{})
	require.NoError(t, err)
	seen := map[string]int{}
	for k := range names {
		lines := plottest.Lines(plot.Drawing{Groups: d.Groups[k : k+1]})
		look := plot.LookOfSize(k)
		colour := fmt.Sprintf("#%02x%02x%02x", look.Red, look.Green, look.Blue)
		require.True(t, strings.HasPrefix(lines[0].Stroke, colour))
		require.Equal(t, colour+"/0.5,1", lines[1].Stroke)
		seen[lines[0].Stroke]++
	}
	require.Len(t, seen, plot.LooksOfSizes, "looks differ, and begin again")

	// And so does the sheet of a drawing that is no nest.
	file.Reset()
	require.NoError(t, svg.Write(&file, plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Role: plot.Cut, Path: path.Circle(path.Point{}, 9)}}}}}))
	for _, role := range plot.Roles() {
		require.Len(t, regexp.MustCompile(`(?m)^\.`+role.String()+` `).FindAllString(file.String(), -1), 1, "%v", role)
	}
}

// rsvg-convert, an independent program.
func TestChangedRuleOfASizeChangesAllOfItAndNothingElse(t *testing.T) {
	program := plottest.Program(t, "rsvg-convert")
	var b bytes.Buffer
	require.NoError(t, svg.Write(&b, nested("S", "M", "L")))
	changed := regexp.MustCompile(`\.size-m\{[^}]*\}`).ReplaceAllString(b.String(), ".size-m{stroke:#ff0000}")
	require.NotEqual(t, b.String(), changed)
	file := filepath.Join(t.TempDir(), "nest.svg")
	require.NoError(t, os.WriteFile(file, []byte(changed), 0o644))
	out, err := exec.Command(program, "--dpi-x=254", "--dpi-y=254", "--background-color=white", file).Output()
	require.NoError(t, err)
	m, err := png.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	// Ten px a mm, from 10 mm left of the squares and above the largest.
	red := func(x, y float64) bool {
		for dx := -2; dx <= 2; dx++ {
			r, g, b, _ := m.At(int((x+10)*10)+dx, int((150-y)*10)).RGBA()
			if r > 0xf000 && g < 0xd000 && b < 0xd000 {
				return true
			}
		}
		return false
	}
	drawn := func(x float64) (n int) {
		for y := range 600 {
			if red(x, 30+float64(y)/10) {
				n++
			}
		}
		return n
	}
	require.Equal(t, 600, drawn(120), "its cut line, now without dashes")
	require.Greater(t, drawn(110), 100, "its stitching line")
	require.Zero(t, drawn(100)+drawn(140)+drawn(90)+drawn(130))
}
