package build_test

import (
	"bytes"
	"cmp"
	"maps"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/plottest"
	"engrail/plot/proof"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// plotterUnit (mm) is how near to the design all must be that is read back.
const plotterUnit = 0.025

// someSizes keeps some of the nine sizes, to save time.
func someSizes(t require.TestingT, names ...string) []byte {
	var kept []string
	found := 0
	for line := range strings.Lines(string(nineSizes(t))) {
		if name, ok := strings.CutPrefix(line, `  "`); ok {
			if !slices.Contains(names, name[:2]) {
				continue
			}
			found++
		}
		kept = append(kept, line)
	}
	require.Equal(t, len(names), found)
	return []byte(strings.Join(kept, ""))
}

// plotStyles are the styles whose files are read back: the demo, and one whose
// plots are several, for pens and for a knife, folded and not.
func plotStyles(t *testing.T) map[string]*build.Plan {
	return map[string]*build.Plan{
		"demo": demoPlan(t),
		"pens": planOf(t, "style.yaml", someSizes(t, "50")),
		"knife": planOf(t, "style.yaml", with(someSizes(t, "34", "50"),
			"[dxf, astm, hpgl]", "[hpgl], plotter: {tool: knife}")),
		"wide, unfolded": planOf(t, "style.yaml", with(someSizes(t, "36"),
			"[dxf, astm, hpgl]", "[dxf, astm, hpgl], unfold: true, plotter: {range: wide, step: 0.0125mm}")),
	}
}

// linesOf returns all lines of the drawing.
func linesOf(d plot.Drawing) []plot.Line {
	var all []plot.Line
	for _, g := range d.Groups {
		g.Walk(func(h plot.Group) { all = append(all, h.Lines...) })
	}
	return all
}

// drawnAs returns what of a design a file of the format shows: pattern data has
// no signs, and a pen draws a fold once, with the cut line left open there.
func drawnAs(d plot.Drawing, format string, p style.Plotter) plot.Drawing {
	d.Groups = slices.Clone(d.Groups)
	for i := range d.Groups {
		g := &d.Groups[i]
		g.Lines = slices.Clone(g.Lines)
		switch {
		case format == "astm":
			g.Lines = slices.DeleteFunc(g.Lines, func(l plot.Line) bool { return l.Sign })
		case format == "hpgl" && p.Tool != "knife":
			for _, fold := range g.Lines {
				if fold.Role != plot.Fold || fold.Sign {
					continue
				}
				for k, l := range g.Lines {
					if l.Role == plot.Cut {
						g.Lines[k].Path = openAt(l.Path, path.NewRuler(fold.Path))
					}
				}
			}
		}
	}
	return d
}

// openAt leaves out the segments of a closed path that lie on a straight line.
func openAt(p path.Path, line *path.Ruler) path.Path {
	var before, after []path.Segment
	on := false
	for i := range p.Segments() {
		s := p.Segment(i)
		_, a := line.Nearest(s.A)
		_, b := line.Nearest(s.B)
		switch {
		case max(a, b) < 1e-6:
			on = true
		case on:
			after = append(after, s)
		default:
			before = append(before, s)
		}
	}
	if !on {
		return p
	}
	return path.FromSegments(append(after, before...)...)
}

// requireLinesBack makes sure that every line that was designed is read back
// within a plotter unit, at its own place, with its role, and that there are no
// others.
func requireLinesBack(t require.TestingT, designed, read []plot.Line, role func(plot.Role) plot.Role) {
	require.Len(t, read, len(designed))
	taken := make([]bool, len(read))
	for _, l := range designed {
		box := l.Path.Bounds()
		best, apart := -1, math.Inf(1)
		for i, r := range read {
			if taken[i] || r.Role != role(l.Role) {
				continue
			}
			b := r.Path.Bounds()
			if d := max(b.Min.Dist(box.Min), b.Max.Dist(box.Max)); d < apart {
				best, apart = i, d
			}
		}
		require.LessOrEqual(t, apart, 2*plotterUnit, "%s", l.Role)
		taken[best] = true
		require.LessOrEqual(t, plottest.Deviation(l.Path, read[best].Path), plotterUnit, "%s", l.Role)
		require.Equal(t, l.Path.Closed, read[best].Path.Closed)
	}
}

// penRole returns what the reader takes the lines of a role for, which knows
// nothing but pens.
func penRole(p style.Plotter) func(plot.Role) plot.Role {
	return func(r plot.Role) plot.Role {
		switch {
		case p.Tool == "knife":
			return plot.Cut
		case r == plot.Internal:
			return plot.Mark // of one pen with it
		}
		return r
	}
}

func TestEveryFileReadsBackWithinAPlotterUnit(t *testing.T) {
	for name, p := range plotStyles(t) {
		t.Run(name, func(t *testing.T) {
			p.Style.Output.Plotter.Lettering = "none" // whose strokes would be lines like others
			files, r := written(t, p)
			drawings, err := p.Drawings()
			require.NoError(t, err)
			for _, f := range r.Files() {
				designed := linesOf(drawnAs(drawings[f.Path], f.Format, p.Style.Output.Plotter))
				content := bytes.NewReader(files[f.Path])
				var back plot.Drawing
				role := func(r plot.Role) plot.Role { return r }
				switch f.Format {
				case "png", "txt":
					continue
				case "hpgl":
					back, err = hpgl.Read(content, hpgl.ReadOptions{StepMM: float64(p.Style.Output.Plotter.Step)})
					role = penRole(p.Style.Output.Plotter)
				default:
					back, err = dxf.Read(content, dxf.ReadOptions{})
				}
				require.NoError(t, err, f.Path)
				if f.Format == "hpgl" {
					// What two lines share is drawn once.
					c := proof.Compare(designed, linesOf(back), func(l plot.Line) string { return role(l.Role).String() })
					require.LessOrEqual(t, c.Max, plotterUnit, f.Path)
					continue
				}
				requireLinesBack(t, designed, linesOf(back), role)
			}
		})
	}
}

func TestLabelsReadBackWhereTheyWere(t *testing.T) {
	p := demoPlan(t)
	p.Style.Output.Plotter.Lettering = "device"
	files, r := written(t, p)
	drawings, err := p.Drawings()
	require.NoError(t, err)
	texts := func(d plot.Drawing) (all []plot.Text) {
		for _, g := range d.Groups {
			all = append(all, g.Texts...)
		}
		return all
	}
	for _, f := range r.Files() {
		var back plot.Drawing
		switch f.Format {
		case "png", "txt":
			continue
		case "hpgl":
			back, err = hpgl.Read(bytes.NewReader(files[f.Path]), hpgl.ReadOptions{})
		default:
			back, err = dxf.Read(bytes.NewReader(files[f.Path]), dxf.ReadOptions{})
		}
		require.NoError(t, err)
		want, got := texts(drawings[f.Path]), texts(back)
		require.Len(t, want, 16, "four lines on each of four pieces")
		require.Len(t, got, len(want))
		for _, w := range want {
			// A plotter draws them in an order with little travel; some say the same.
			found := slices.DeleteFunc(slices.Clone(got), func(g plot.Text) bool { return g.String != w.String })
			require.NotEmpty(t, found, w.String)
			slices.SortFunc(found, func(a, b plot.Text) int { return cmp.Compare(a.At.Dist(w.At), b.At.Dist(w.At)) })
			text := found[0]
			require.InDelta(t, w.Height, text.Height, 0.01)
			require.InDelta(t, w.Angle, text.Angle, 1e-3)
			at := text.At
			if f.Format == "hpgl" {
				// From the left, where it is drawn from, back to the middle: letters
				// 0.55 of their height wide, one and a half of that apart.
				at = at.Add(path.Direction(w.Angle).Mul(w.Height * 0.55 * (1.5*float64(len(w.String)-1) + 1) / 2))
			}
			require.LessOrEqual(t, w.At.Dist(at), 0.1, "%q in %s", w.String, f.Path)
		}
	}
}

func TestSameStyleGivesTheSameBytes(t *testing.T) {
	plans := map[string]func(require.TestingT) *build.Plan{
		"demo":       demoPlan,
		"nine sizes": func(t require.TestingT) *build.Plan { return planOf(t, "style.yaml", someSizes(t, "36", "50")) },
	}
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			first, _ := written(t, plan(t))
			for _, threads := range []int{1, 2, runtime.NumCPU()} {
				before := runtime.GOMAXPROCS(threads)
				again, _ := written(t, plan(t))
				runtime.GOMAXPROCS(before)
				require.Equal(t, keys(first), keys(again))
				for file, content := range first {
					require.True(t, bytes.Equal(content, again[file]), "%s, with %d threads", file, threads)
				}
			}
		})
	}
	t.Run("any", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			text := with(randomStyle(t), "seams:", "output: {formats: [dxf, astm, hpgl], plotter: {range: wide}}\nseams:")
			first, _ := written(t, planOf(t, "any.yaml", text))
			again, _ := written(t, planOf(t, "any.yaml", text))
			require.Equal(t, first, again)
		})
	})
}

func keys(files map[string][]byte) []string { return slices.Sorted(maps.Keys(files)) }
