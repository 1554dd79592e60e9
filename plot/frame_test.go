package plot_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
)

// lengths returns the total length of the lines of each role, without register
// marks.
func lengths(groups []plot.Group) map[plot.Role]float64 {
	sum := map[plot.Role]float64{}
	for _, g := range groups {
		if g.ID == "register-marks" {
			continue
		}
		g.Walk(func(g plot.Group) {
			for _, l := range g.Lines {
				sum[l.Role] += l.Path.Length()
			}
		})
	}
	return sum
}

// marksOf returns where the register marks of a frame are in the whole drawing.
func marksOf(f plot.Frame) (at []path.Point) {
	for _, g := range f.Drawing.Groups {
		if g.ID == "register-marks" {
			for i := 0; i < len(g.Lines); i += 2 {
				at = append(at, g.Lines[i].Path.Bounds().Centre().Add(f.At.Sub(path.Point{})))
			}
		}
	}
	return at
}

func TestDrawingThatFitsIsOneFrame(t *testing.T) {
	d := plottest.Scalloped(4)
	for _, size := range [][2]float64{{0, 0}, {d.Bounds().Width(), 0}, {2000, 2000}} {
		frames, err := plot.Frames(d, size[0], size[1], plot.Mark)
		require.NoError(t, err)
		require.Len(t, frames, 1)
		require.Empty(t, frames[0].Marks)
		require.Len(t, frames[0].Drawing.Groups, len(d.Groups))
		require.InDelta(t, 0, frames[0].Drawing.Bounds().Min.Dist(path.Point{}), 1e-9)
	}
}

func TestFramesTogetherAreTheDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := plottest.Scalloped(rapid.IntRange(2, 30).Draw(t, "scallops"))
		for range rapid.IntRange(0, 5).Draw(t, "more lines") {
			d.Groups[0].Lines = append(d.Groups[0].Lines, plot.Line{Role: plot.Internal, Path: plottest.RandomPath(t)})
		}
		width := rapid.Float64Range(200, 900).Draw(t, "width")
		height := rapid.SampledFrom([]float64{0, 300, 819.175}).Draw(t, "height")
		frames, err := plot.Frames(d, width, height, plot.Mark)
		require.NoError(t, err)
		var parts []plot.Group
		places := map[int][]path.Point{}
		for _, f := range frames {
			box := f.Drawing.Bounds()
			require.GreaterOrEqual(t, min(box.Min.X, box.Min.Y), -1e-6)
			require.LessOrEqual(t, box.Max.X, width+1e-6)
			if height > 0 {
				require.LessOrEqual(t, box.Max.Y, height+1e-6)
			}
			whole := f.Drawing.Transform(path.Translation(f.At.Sub(path.Point{})))
			parts = append(parts, whole.Groups...)
			at := marksOf(f)
			require.Len(t, at, len(f.Marks))
			for i, m := range f.Marks {
				places[m] = append(places[m], at[i])
			}
		}
		want, got := lengths(d.Groups), lengths(parts)
		for role, length := range want {
			require.InDelta(t, length, got[role], 1e-4, "%s", role)
		}
		for m, at := range places {
			require.LessOrEqual(t, len(at), 2)
			if len(at) == 2 {
				require.InDelta(t, 0, at[0].Dist(at[1]), 1e-9, "mark %d", m)
			}
		}
		// Every part lies on a line of the drawing.
		design := lineRulers(d)
		for _, g := range parts {
			for _, l := range g.Lines {
				if g.ID == "register-marks" || l.Path.Segments() == 0 {
					continue
				}
				for _, p := range []path.Point{l.Path.Start(), l.Path.Segment(0).At(0.5), l.Path.End()} {
					near := math.Inf(1)
					for _, r := range design[l.Role] {
						_, d := r.Nearest(p)
						near = min(near, d)
					}
					require.LessOrEqual(t, near, 1e-6)
				}
			}
		}
	})
}

func lineRulers(d plot.Drawing) map[plot.Role][]*path.Ruler {
	all := map[plot.Role][]*path.Ruler{}
	for _, g := range d.Groups {
		for _, l := range g.Lines {
			if l.Path.Segments() > 0 {
				all[l.Role] = append(all[l.Role], path.NewRuler(l.Path))
			}
		}
	}
	return all
}

func TestRegisterMarksStandOutsideOfPiecesWhereTheyCan(t *testing.T) {
	whole := plottest.Scalloped(12)
	frames, err := plot.Frames(whole, 200, 0, plot.Mark)
	require.NoError(t, err)
	require.Len(t, frames, 2)
	require.Equal(t, [][]int{{1, 2}, {1, 2}}, [][]int{frames[0].Marks, frames[1].Marks})
	at := marksOf(frames[0])
	// One lies between the front and its facing; higher up the front fills the edge.
	for _, g := range whole.Groups {
		for _, l := range g.Lines {
			if l.Role == plot.Cut {
				require.False(t, l.Path.Contains(at[0]))
			}
		}
	}
	for _, list := range lineRulers(whole) {
		for _, r := range list {
			for _, p := range at {
				_, d := r.Nearest(p)
				require.Greater(t, d, 5.0, "its arms meet no line")
			}
		}
	}
}

func TestFramesOfNothingAndOfBadSizes(t *testing.T) {
	for name, c := range map[string]struct {
		d             plot.Drawing
		width, height float64
		want          string
	}{
		"nothing":   {plot.Drawing{}, 300, 300, "plot: the drawing has no lines; draw something"},
		"too small": {plottest.Scalloped(60), 40, 0, "plot: frames 40 mm wide are too small; give 100 mm or more"},
		"negative":  {plottest.Scalloped(60), 0, -5, "plot: frames -5 mm high are too small; give 100 mm or more"},
		"no number": {plottest.Scalloped(60), math.NaN(), 0, "plot: frames NaN mm wide are too small; give 100 mm or more"},
		"too many": {plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Path: path.Open(path.Point{}, path.Point{X: 1e5, Y: 1e5})}}}}},
			100, 100, "plot: the drawing of 100000 x 100000 mm has more than 10000 frames of 100 x 100 mm; take larger ones"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := plot.Frames(c.d, c.width, c.height, plot.Mark)
			require.EqualError(t, err, c.want)
		})
	}
}
