package build_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/plottest"

	"github.com/stretchr/testify/require"
)

// What follows is read by programs of others: HP-GL by hp2xx, a plotter in
// software, and DXF by ezdxf.

// readStyles are the styles that they read: the demo, and all nine sizes of a
// drafted one, with fewer repeats so that they do not take too long.
func readStyles(t *testing.T) map[string]*build.Plan {
	all := map[string]*build.Plan{"demo": demoPlan(t)}
	if !testing.Short() {
		all["nine sizes"] = planOf(t, "style.yaml", with(nineSizes(t), "width: 55", "width: 150"))
	}
	return all
}

// filesOf returns the files of one format with the drawings that they show, by
// name and in order.
func filesOf(t *testing.T, p *build.Plan, format string) (names []string, files map[string][]byte, drawings map[string]plot.Drawing) {
	files, r := written(t, p)
	drawings, err := p.Drawings()
	require.NoError(t, err)
	for _, f := range r.Files() {
		if f.Format == format {
			names = append(names, f.Path)
		}
	}
	require.GreaterOrEqual(t, len(names), len(r.Sizes))
	return names, files, drawings
}

// onlyPens keeps what some pens draw of a plot.
func onlyPens(file []byte, pens string) []byte {
	kept := []byte("IN;\n")
	on := false
	for line := range bytes.Lines(file) {
		if pen, ok := bytes.CutPrefix(line, []byte("SP")); ok {
			on = strings.Contains(pens, string(pen[:1]))
		}
		if on {
			kept = append(kept, line...)
		}
	}
	return append(kept, "PU;\nSP0;\n"...)
}

// total returns the length of the lines of the roles, all of them when there
// are none.
func total(lines []plot.Line, roles ...plot.Role) float64 {
	sum := 0.0
	for _, l := range lines {
		if len(roles) == 0 || slices.Contains(roles, l.Role) {
			sum += l.Path.Length()
		}
	}
	return sum
}

func TestSoftwarePlotterDrawsTheDesign(t *testing.T) {
	t.Parallel()
	for name, p := range readStyles(t) {
		t.Run(name, func(t *testing.T) {
			p.Style.Output.Plotter.Lettering = "none"
			names, files, drawings := filesOf(t, p, "hpgl")
			for _, f := range names {
				file, designed := files[f], drawnAs(drawings[f], "hpgl", p.Style.Output.Plotter)
				got := plottest.Plot(t, file)
				box := designed.Bounds()
				require.InDelta(t, box.Width(), got.Width, plotterUnit, f)
				require.InDelta(t, box.Height(), got.Height, plotterUnit, f)

				// Every line that it draws lies on one that was designed.
				lines := linesOf(designed)
				at := finder(lines)
				for _, l := range got.Lines {
					for _, q := range []path.Point{l[0], l[0].Lerp(l[1], 0.5), l[1]} {
						require.LessOrEqual(t, at(q), plotterUnit, "%s: nothing was designed at %v", f, q)
					}
				}

				// And they are as long, pen by pen. The last ones together: hp2xx
				// has no place for a drawing without a width.
				for _, set := range []struct {
					pens  string
					roles []plot.Role
				}{
					{"1", []plot.Role{plot.Cut}}, {"2", []plot.Role{plot.Stitch}},
					{"345678", []plot.Role{plot.Fold, plot.Grain, plot.Notch, plot.Clip, plot.Internal, plot.Mark, plot.Inner}},
				} {
					part := onlyPens(file, set.pens)
					measured := plottest.Plot(t, part).Length()
					back, err := hpgl.Read(bytes.NewReader(part), hpgl.ReadOptions{})
					require.NoError(t, err)
					require.InDelta(t, total(linesOf(back)), measured, plotterUnit, "%s, pens %s", f, set.pens)
					// Chords within 0.007 mm shorten an arc of 5 mm radius by 0.2 %, and
					// rounding adds at most as much to a line of a few steps.
					require.InEpsilon(t, total(lines, set.roles...), measured, 0.002, "%s, pens %s", f, set.pens)
				}
			}
		})
	}
}

// finder returns a function for the distance from a point to the nearest of the
// lines.
func finder(lines []plot.Line) func(path.Point) float64 {
	type near struct {
		ruler *path.Ruler
		box   path.Box
	}
	var all []near
	for _, l := range lines {
		all = append(all, near{path.NewRuler(l.Path), l.Path.Bounds().Grow(1)})
	}
	return func(q path.Point) float64 {
		least := math.Inf(1)
		for _, n := range all {
			if n.box.Contains(q) {
				_, d := n.ruler.Nearest(q)
				least = min(least, d)
			}
		}
		return least
	}
}

func measure(t *testing.T, names []string, files map[string][]byte) []plottest.Measured {
	folder := t.TempDir()
	var full []string
	for _, n := range names {
		full = append(full, filepath.Join(folder, n))
		require.NoError(t, os.WriteFile(full[len(full)-1], files[n], 0o644))
	}
	var all []plottest.Measured
	plottest.Ezdxf(t, &all, filepath.Join(testdata, "../plot-dxf/measure.py"), full...)
	require.Len(t, all, len(names))
	for i, m := range all {
		// Its audit is in these lists; the program itself ends well on any file.
		require.Empty(t, m.Errors, names[i])
		require.Equal(t, "AC1009", m.Version, names[i])
	}
	return all
}

func boxOf(lines []plot.Line, roles ...plot.Role) path.Box {
	b := path.EmptyBox()
	for _, l := range lines {
		if slices.Contains(roles, l.Role) {
			b = b.Union(l.Path.Bounds())
		}
	}
	return b
}

func requireBox(t *testing.T, want path.Box, got [4]float64, message string) {
	for i, w := range [4]float64{want.Min.X, want.Min.Y, want.Max.X, want.Max.Y} {
		require.InDelta(t, w, got[i], plotterUnit, message)
	}
}

func TestIndependentReaderMeasuresPlainDXF(t *testing.T) {
	t.Parallel()
	for name, p := range readStyles(t) {
		t.Run(name, func(t *testing.T) {
			names, files, drawings := filesOf(t, p, "dxf")
			for i, m := range measure(t, names, files) {
				require.Equal(t, 4, m.Units, "millimetres")
				sizes := map[string]plot.Drawing{"": drawings[names[i]]}
				if strings.HasSuffix(names[i], "-nest.dxf") {
					// Each size has layers of its own, which begin with its name.
					sizes = map[string]plot.Drawing{}
					for _, g := range drawings[names[i]].Groups {
						d := sizes[g.Piece.Size+"-"]
						d.Groups = append(d.Groups, g)
						sizes[g.Piece.Size+"-"] = d
					}
					require.Len(t, sizes, 9)
				}
				found := 0
				for size, d := range sizes {
					lines := linesOf(d)
					for _, r := range plot.Roles() {
						box := boxOf(lines, r)
						if box.Empty() {
							continue
						}
						found++
						layer := m.Layers[size+strings.ToUpper(r.String())]
						require.InDelta(t, total(lines, r), layer.Length, plotterUnit, "%s: %s", names[i], r)
						requireBox(t, box, layer.Box, names[i]+": "+r.String())
					}
					require.Len(t, m.Texts[size+"TEXT"], 16)
				}
				require.Len(t, m.Layers, found)
			}
		})
	}
}

func TestIndependentReaderMeasuresPatternData(t *testing.T) {
	t.Parallel()
	for name, p := range readStyles(t) {
		t.Run(name, func(t *testing.T) {
			names, files, drawings := filesOf(t, p, "astm")
			for i, m := range measure(t, names, files) {
				back, err := dxf.Read(bytes.NewReader(files[names[i]]), dxf.ReadOptions{})
				require.NoError(t, err)
				require.Len(t, m.Blocks, len(drawings[names[i]].Groups), "a block for each piece in each size")
				require.Len(t, m.Inserts, len(m.Blocks))
				for k, g := range drawnAs(drawings[names[i]], "astm", p.Style.Output.Plotter).Groups {
					block := m.Blocks[m.Inserts[k]]
					where := names[i] + ": " + m.Inserts[k]
					require.Contains(t, block.Texts["1"], "Piece Name: "+g.Piece.Name)
					require.Equal(t, g.Piece.Notes, block.Texts["15"])
					for layer, roles := range map[string][]plot.Role{
						"1": {plot.Cut}, "14": {plot.Stitch}, "6": {plot.Fold}, "7": {plot.Grain}, "8": {plot.Clip, plot.Internal, plot.Inner},
					} {
						got, drawn := block.Layers[layer]
						box := boxOf(g.Lines, roles...)
						require.Equal(t, !box.Empty(), drawn, "%s: layer %s", where, layer)
						if !drawn {
							continue
						}
						requireBox(t, box, got.Box, where+": layer "+layer)
						require.InDelta(t, total(back.Groups[k].Lines, roles...), got.Length, plotterUnit, "%s: layer %s", where, layer)
						// Chords within 0.015 mm of an arc of 5 mm radius.
						require.InEpsilon(t, total(g.Lines, roles...), got.Length, 0.004, "%s: layer %s", where, layer)
					}
					notches := slices.DeleteFunc(slices.Clone(g.Lines), func(l plot.Line) bool { return l.Role != plot.Notch })
					require.Len(t, block.Notches, len(notches))
					at := finder(notches)
					for _, n := range block.Notches {
						require.LessOrEqual(t, at(path.Point{X: n[0], Y: n[1]}), plotterUnit, where)
					}
				}
			}
		})
	}
}
