package build_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
	"engrail/plot/svg"

	"github.com/stretchr/testify/require"
)

const patternData = "../../../../testdata/pattern"

// damson is the invented skirt of nine sizes as pattern data have it: a piece of
// each name and size, with the roles of its lines.
func damson(t testing.TB) plot.Drawing {
	data, err := os.ReadFile(filepath.Join(patternData, "damson-layers.svg"))
	require.NoError(t, err)
	layers, err := svg.Read(bytes.NewReader(data), svg.Options{})
	require.NoError(t, err)
	sizes, _, err := pattern.Sizes(layers, pattern.ByLayer)
	require.NoError(t, err)
	common := layers.Groups[len(layers.Groups)-1].Lines
	d := plot.Drawing{Title: "Damson skirt"}
	for i, name := range []string{"Front", "Back"} {
		for k, size := range sizes {
			g := plot.Group{Piece: &plot.Piece{Name: name, Size: size.Name, Style: d.Title, Quantity: i + 1, OnFold: i == 0, Pairs: i == 1}}
			var outline path.Path
			for _, l := range layers.Groups[k].Groups[i].Lines {
				switch {
				case strings.Contains(l.Class, "cut"):
					outline = l.Path
					l.Role = plot.Cut
				case strings.Contains(l.Class, "sew"):
					l.Role = plot.Stitch
				default:
					l.Role = plot.Notch
				}
				g.Lines = append(g.Lines, plot.Line{Role: l.Role, Path: l.Path})
			}
			for _, l := range common {
				middle := l.Path.Start().Lerp(l.Path.End(), 0.5)
				switch {
				case l.Label == "fold":
					if i == 0 {
						g.Lines = append(g.Lines, plot.Line{Role: plot.Fold, Path: foldOf(outline)})
					}
				case !outline.Contains(middle):
				case l.Label == "grain line":
					g.Lines = append(g.Lines, plot.Line{Role: plot.Grain, Path: l.Path})
				default:
					g.Lines = append(g.Lines, plot.Line{Role: plot.Internal, Path: l.Path})
				}
			}
			d.Groups = append(d.Groups, g)
		}
	}
	return d
}

// foldOf returns the outline's straight edge at the left, from end to end.
func foldOf(outline path.Path) path.Path {
	left := outline.Bounds().Min.X
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range outline.V {
		if v.X < left+1e-6 {
			low, high = min(low, v.Y), max(high, v.Y)
		}
	}
	return path.Open(path.Point{X: left, Y: high}, path.Point{X: left, Y: low})
}

// The skirt in three forms: SVG with a layer for each size, pattern data with a
// block for each size, and pattern data in one size with grade rules.
func TestThreeFormsOfAPatternGiveTheSameHems(t *testing.T) {
	d := damson(t)
	var blocks, graded, rules bytes.Buffer
	require.NoError(t, dxf.Write(&blocks, d, dxf.Options{Flavour: dxf.Exchange}))
	o := dxf.Options{Flavour: dxf.Exchange, SampleSize: "42", RuleTable: "damson-graded"}
	require.NoError(t, dxf.Write(&graded, d, o))
	require.NoError(t, dxf.WriteRules(&rules, d, o))
	for name, data := range map[string][]byte{"damson-blocks.dxf": blocks.Bytes(), "damson-graded.dxf": graded.Bytes(), "damson-graded.rul": rules.Bytes()} {
		plottest.Golden(t, *update, filepath.Join(patternData, name), data)
	}

	plans := map[string]*build.Plan{}
	for form, line := range map[string]string{
		"layers": "{file: damson-layers.svg, sizes: layers}",
		"blocks": "{file: damson-blocks.dxf, sizes: pieces}",
		"graded": "damson-graded.dxf",
	} {
		s, err := style.Parse("damson.yaml", []byte(fmt.Sprintf(damsonStyle, line)))
		require.NoError(t, err)
		plans[form], err = build.New(s, build.Files{
			Read: func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(patternData, name)) },
			List: func(string) []string { return []string{"damson-graded.dxf", "damson-graded.rul"} },
		})
		require.NoError(t, err, form)
	}
	want := plans["layers"]
	require.Equal(t, 9, len(want.Sizes))
	for form, p := range plans {
		require.Equal(t, 9, len(p.Sizes), form)
		worst := 0.0
		for k, size := range p.Sizes {
			require.Equal(t, want.Sizes[k].Name, size.Name)
			for i, f := range size.Fit.Panels {
				w := want.Sizes[k].Fit.Panels[i]
				require.Equal(t, w.Repeats, f.Repeats, "%s, size %s, %s", form, size.Name, f.Panel.Name)
				require.InDelta(t, w.Width, f.Width, 0.01)
				// A block's own place on the page does not matter.
				to := path.Translation(w.Edge.Start().Sub(f.Edge.Start()))
				worst = max(worst, apart(f.Edge.Transform(to), w.Edge), apart(w.Edge, f.Edge.Transform(to)))
				require.Equal(t, len(w.Notches), len(f.Notches))
				require.Equal(t, w.Panel.OnFold(), f.Panel.OnFold())
				require.InDelta(t, w.Panel.Grain.Length(), f.Panel.Grain.Length(), 0.02)
			}
		}
		t.Logf("%s: hems within %.4f mm", form, worst)
		require.LessOrEqual(t, worst, 0.05, form)
	}
}

const damsonStyle = `
engrail: 1
style: Damson skirt
motif: {shape: scallop, width: 55, depth: 18}
pattern: %s
allowance: {hem: 6, side: 15, top: 10}
panels:
  front: {piece: Front}
  back: {piece: Back, finish: {edge: seam}}
seams: [[front finish, back finish], [back start, back start]]
facing: 50
`

// apart returns the largest distance of places of the one path from the other.
func apart(p, q path.Path) float64 {
	r, worst := path.NewRuler(q), 0.0
	for _, at := range samples(p, 1) {
		_, off := r.Nearest(at)
		worst = max(worst, off)
	}
	return worst
}
