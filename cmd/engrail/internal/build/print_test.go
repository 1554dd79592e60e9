package build_test

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/svg"

	"github.com/stretchr/testify/require"
)

// printedDamson is the damson skirt of nine sizes, to be drawn and printed.
func printedDamson(t testing.TB, output string) *build.Plan {
	p, err := build.New(nestStyle(t, "{file: damson-layers.svg, sizes: layers}", "output: {"+output+"}"), patternFolder())
	require.NoError(t, err)
	return p
}

// The nest as SVG is a pattern with a layer for each size.
func TestNestAsSVGIsReadAgainInAllItsSizes(t *testing.T) {
	p := printedDamson(t, "formats: [svg]")
	files, _ := written(t, p)
	d, err := svg.Read(bytes.NewReader(files["damson-nest.svg"]), svg.Options{})
	require.NoError(t, err)
	by, names := pattern.ProposeSizes(d)
	require.Equal(t, pattern.ByLayer, by)
	sizes, _, err := pattern.Sizes(d, pattern.ByLayer)
	require.NoError(t, err)
	require.Len(t, sizes, 9)
	for k, size := range sizes {
		require.Equal(t, p.Sizes[k].Name, size.Name)
		require.Equal(t, size.Name, names[k])
		read := pattern.Inspect(size.Drawing, "damson-nest.svg").Pieces
		require.Len(t, read, 4, "size %s", size.Name)
		for i, want := range p.Sizes[k].Pieces {
			// The label, which all sizes share, is in each of them.
			at := slices.IndexFunc(read, func(in pattern.Inspected) bool { return slices.Contains(in.Texts, "Damson: "+want.Name) })
			require.GreaterOrEqual(t, at, 0, "%s size %s", want.Name, size.Name)
			got := read[at]
			require.InEpsilon(t, math.Abs(want.Cut().Area()), got.Outline.Area(), 1e-4, "%s size %s", want.Name, size.Name)
			require.InDelta(t, p.Sizes[0].Pieces[i].Grain.Length(), got.Grain.Length(), 0.01, "the grain line is drawn once, for all")
			require.True(t, got.Cut)
			require.Equal(t, want.OnFold, got.OnFold)
		}
	}
	for _, g := range d.Groups[:9] {
		g.Walk(func(h plot.Group) {
			for _, l := range h.Lines {
				require.NotEqual(t, plot.Drawn, l.Role, "in the nest every line has its role")
			}
		})
	}
}

// nestOf returns the drawing of a nest, its sizes' groups and those that all share.
func nestOf(t testing.TB, p *build.Plan, name string) (d plot.Drawing, sizes, shared []plot.Group) {
	drawings, err := p.Drawings()
	require.NoError(t, err)
	require.Contains(t, drawings, name)
	d = drawings[name]
	for _, g := range d.Groups {
		if g.Size != "" {
			sizes = append(sizes, g)
		} else {
			shared = append(shared, g)
		}
	}
	return d, sizes, shared
}

func TestEachSizeOfANestIsCompleteByItself(t *testing.T) {
	p := printedDamson(t, "formats: [svg, dxf]")
	_, sizes, shared := nestOf(t, p, "damson-nest.svg")
	drawings, err := p.Drawings()
	require.NoError(t, err)
	require.Len(t, sizes, 9)
	require.Len(t, shared, 4)
	for k, size := range sizes {
		require.Equal(t, p.Sizes[k].Name, size.Size)
		alone := drawings["damson-"+size.Size+".dxf"]
		require.Len(t, size.Groups, len(alone.Groups))
		for i, want := range alone.Groups {
			got := size.Groups[i]
			count := func(g plot.Group) (lengths map[plot.Role]float64) {
				lengths = map[plot.Role]float64{}
				for _, l := range g.Lines {
					if !l.Sign && l.Role != plot.Grain {
						lengths[l.Role] += l.Path.Length()
					}
				}
				return lengths
			}
			require.InDeltaMapValues(t, count(want), count(got), 1e-6)
		}
	}
}

func TestLabelsOfANestStandOnceAndSizesAreNamedClearOfAllLines(t *testing.T) {
	for name, p := range map[string]*build.Plan{
		"damson":       printedDamson(t, "formats: [svg]"),
		"sorrel-skirt": planOf(t, "nine.yaml", with(nineSizes(t), "[dxf, astm, hpgl]", "[svg]")),
	} {
		d, sizes, shared := nestOf(t, p, name+"-nest.svg")
		labels, named := 0, 0
		var texts []plot.Text
		var lines []path.Path
		for _, g := range d.Groups {
			g.Walk(func(h plot.Group) {
				texts = append(texts, h.Texts...)
				for _, l := range h.Lines {
					lines = append(lines, l.Path)
				}
			})
		}
		for _, g := range shared {
			for _, x := range g.Texts {
				if strings.HasPrefix(x.String, "sizes 34-50, cut ") {
					labels++
				}
				require.NotContains(t, x.String, "size 34")
			}
		}
		require.Equal(t, 4, labels, name)
		for _, g := range sizes {
			for _, piece := range g.Groups {
				require.NotEmpty(t, piece.Texts, "%s: %s has its name", name, piece.Name())
				cut := path.NewRuler(cutOf(piece))
				for _, x := range piece.Texts {
					require.Equal(t, g.Size, x.String)
					own := false
					for _, c := range x.Corners() {
						_, off := cut.Nearest(c)
						own = own || off < 0.8
					}
					require.True(t, own, "beside its own line")
					named++
				}
			}
		}
		require.GreaterOrEqual(t, named, 9*4*2-4, "%s: nearly all twice", name)
		for i, x := range texts {
			c := x.Corners()
			block := path.Closed(c[:]...)
			for _, l := range lines {
				require.False(t, block.Bounds().Meets(l.Bounds()) && touches(block, l), "%s: %q lies on a line", name, x.String)
			}
			for _, y := range texts[:i] {
				o := y.Corners()
				require.False(t, touches(block, path.Closed(o[:]...)), "%s: %q lies on %q", name, x.String, y.String)
			}
		}
	}
}

// touches reports whether a line comes into a block or crosses its sides.
func touches(block, line path.Path) bool {
	for _, p := range samples(line, 0.3) {
		if block.Contains(p) {
			return true
		}
	}
	return false
}

// pdftotext, an independent program.
func TestPrintedNestHasEveryLabelOnceAndALegend(t *testing.T) {
	program := plottest.Program(t, "pdftotext")
	files, _ := written(t, printedDamson(t, "formats: [pdf], paper: [a4, sheet, roll 42in]"))
	for _, name := range []string{"damson-nest-a4.pdf", "damson-nest-sheet.pdf", "damson-nest-roll-42in.pdf"} {
		file := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(file, files[name], 0o644))
		text, err := exec.Command(program, "-l", "1", file, "-").Output()
		require.NoError(t, err)
		for _, size := range []string{"34", "36", "38", "40", "42", "44", "46", "48", "50"} {
			require.Equal(t, 1, strings.Count(string(text), "size "+size), "%s: the legend is on the first page", name)
		}
		if name != "damson-nest-a4.pdf" { // on pages, a text lies on two where they overlap
			require.Equal(t, 1, strings.Count(string(text), "Damson: front\n"), name)
			require.Equal(t, 1, strings.Count(string(text), "Damson: back\n"), name)
		}
	}
}

func TestRollsHaveAsManySheetsAsTheirLengthTakes(t *testing.T) {
	const long = "engrail: 1\nstyle: Long\nfacing: none\npanels:\n  a: {straight: {width: 600, depth: 2000}, quantity: 1}\n" +
		"  b: {straight: {width: 600, depth: 2000}}\n  c: {straight: {width: 600, depth: 2000}}\noutput: {formats: [pdf], paper: [roll 36in, roll 1524]}\n"
	drawings, err := planOf(t, "long.yaml", []byte(long)).Drawings()
	require.NoError(t, err)
	require.Len(t, drawings, 3)
	require.Len(t, drawings["long-roll-36in-1.pdf"].Groups, 2)
	require.Len(t, drawings["long-roll-36in-2.pdf"].Groups, 1)
	require.Equal(t, "Long, sheet 2 of 2", drawings["long-roll-36in-2.pdf"].Title)
	require.Len(t, drawings["long-roll-1524.pdf"].Groups, 3)
	require.LessOrEqual(t, drawings["long-roll-1524.pdf"].Bounds().Width(), 1504.0)
}

func TestPiecesWiderThanTheRollAreRefusedWithTheRollThatWouldDo(t *testing.T) {
	refused := func(paper string, sizes string) (string, string) {
		s := "engrail: 1\nstyle: Wide\npanels: {a: {straight: {width: 880, depth: 300}}}\n" + sizes + "output: {formats: [pdf], paper: [" + paper + "]}\n"
		_, err := planOf(t, "wide.yaml", []byte(s)).Drawings()
		var e *build.Error
		require.ErrorAs(t, err, &e)
		return e.Problem, e.Hint
	}
	problem, hint := refused("roll 610", "")
	require.Equal(t, `piece "a" is 910.0 mm wide, and a roll of 610 mm takes 590 mm between its margins`, problem)
	require.Equal(t, `a roll of 930 mm or more would do: "output: {paper: [roll 1067]}" in the style file`, hint)
	_, hint = refused("roll 610", "sizes: {M: , L: {a: {width: 1900}}}\n")
	require.Equal(t, `a roll of 930 mm or more would do: "output: {paper: [roll 1067]}" in the style file`, hint, "in the first size")
	problem, hint = refused("roll 1118", "sizes: {M: , L: {a: {width: 1900}}}\n")
	require.Equal(t, `piece "a" size L is 1930.0 mm wide, and a roll of 1118 mm takes 1098 mm between its margins`, problem)
	require.Contains(t, hint, "a roll of 1950 mm or more would do, wider than the usual ones")
}

func TestRoundPiecesAreNestedOnTheirMiddles(t *testing.T) {
	const rings = `<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="700mm" viewBox="0 0 700 700">` +
		`<g id="size-S"><circle id="cape-S" cx="350" cy="350" r="250"/></g><g id="size-M"><circle id="cape-M" cx="340" cy="350" r="290"/></g></svg>`
	s, err := style.Parse("cape.yaml", []byte("engrail: 1\nstyle: Cape\npattern: {file: cape.svg, sizes: layers}\n"+
		"panels: {cape: {piece: {hem: all round}}}\noutput: {formats: [png, svg, pdf, dxf]}\n"))
	require.NoError(t, err)
	p, err := build.New(s, build.Files{Read: func(string) ([]byte, error) { return []byte(rings), nil }})
	require.NoError(t, err)
	written(t, p)
	_, sizes, shared := nestOf(t, p, "cape-nest.svg")
	for i := range 2 { // the cape and its facing
		small, large := cutOf(sizes[0].Groups[i]), cutOf(sizes[1].Groups[i])
		require.LessOrEqual(t, small.Bounds().Centre().Dist(large.Bounds().Centre()), 5.0, "scallops do not stand alike on all sides")
		at := shared[i].Texts[0].At
		require.True(t, small.Contains(at))
		for _, l := range sizes[0].Groups[i].Lines {
			if l.Role == plot.Cut && math.Abs(l.Path.Area()) < math.Abs(small.Area()) {
				require.False(t, l.Path.Contains(at), "the label is not in the hole")
			}
		}
	}
}
