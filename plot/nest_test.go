package plot_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"
	"engrail/motif/path"
	"engrail/plot"
)

// inked reports whether a line in the look is drawn at a distance from its start.
func inked(l plot.SizeLook, at float64) bool {
	period := 0.0
	for _, d := range l.Dashes {
		period += d
	}
	if period == 0 {
		return true
	}
	at = math.Mod(at, period)
	for i, d := range l.Dashes {
		if at -= d; at < 0 {
			return i%2 == 0
		}
	}
	return false
}

func TestLooksOfSizesDifferInBlackAndWhite(t *testing.T) {
	for a := range plot.LooksOfSizes {
		l := plot.LookOfSize(a)
		require.Zero(t, len(l.Dashes)%2, "each dash has its gap")
		require.Equal(t, l, plot.LookOfSize(a+plot.LooksOfSizes))
		require.Equal(t, l, plot.LookOfSize(a-plot.LooksOfSizes))
		for b := range a {
			m := plot.LookOfSize(b)
			require.NotEqual(t, [3]uint8{l.Red, l.Green, l.Blue}, [3]uint8{m.Red, m.Green, m.Blue})
			// However the two are moved along each other, they differ on a tenth of 72 mm.
			least := 1.0
			for shift := 0.0; shift < 30; shift++ {
				n := 0
				for i := range 720 {
					if inked(l, float64(i)/10) != inked(m, float64(i)/10+shift) {
						n++
					}
				}
				least = min(least, float64(n)/720)
			}
			require.Greater(t, least, 0.1, "looks %d and %d", b, a)
		}
	}
}

// WCAG 2.1 asks for a contrast of 4.5 of text to its ground; its formula.
func TestColoursOfSizesAreDarkOnWhite(t *testing.T) {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	for k := range plot.LooksOfSizes {
		l := plot.LookOfSize(k)
		luminance := 0.2126*linear(l.Red) + 0.7152*linear(l.Green) + 0.0722*linear(l.Blue)
		require.Greater(t, 1.05/(luminance+0.05), 4.5, "look %d", k)
	}
}

func TestLegendHasEverySizeOnceWithoutOverlaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := plot.Drawing{Title: rapid.SampledFrom([]string{"", "Sorrel skirt, all sizes"}).Draw(t, "title")}
		n := rapid.IntRange(1, 40).Draw(t, "sizes")
		for k := range n {
			d.Groups = append(d.Groups, plot.Group{Size: fmt.Sprint(30 + 2*k)})
		}
		width := rapid.Float64Range(100, 2000).Draw(t, "width")
		legend := d.Legend(width)
		require.Len(t, legend.Groups, n)
		box := legend.Extent()
		require.InDelta(t, 0, box.Max.Y, 1e-9)
		require.InDelta(t, 0, box.Min.X, 1e-9)
		require.LessOrEqual(t, box.Max.X, width+1e-9)
		for k, g := range legend.Groups {
			require.Equal(t, d.Groups[k].Size, g.Size)
			require.Equal(t, "size "+g.Size, g.Texts[0].String)
			for _, h := range legend.Groups[:k] {
				require.False(t, g.Extent().Meets(h.Extent()))
			}
		}
	})
	require.Empty(t, plot.Drawing{Groups: []plot.Group{{ID: "a"}}}.Legend(100))
}

// graded makes a garment's pieces in three sizes that are alike but for their names.
func graded(t *rapid.T) (sizes [3][]facing.Piece) {
	_, _, r := fittest.Fitted(t)
	for k := range sizes {
		for i := range r.Panels {
			r.Panels[i].Panel.Size = []string{"S", "M", "L"}[k]
		}
		made, err := facing.Make(r, facing.Options{Depth: 45, Hem: 5, Inner: 6, SideAsPanel: true, ClipGap: 1.5, Style: "Test"})
		if err != nil {
			t.Skip(err)
		}
		sizes[k] = append(made.Garments, made.Facings...)
	}
	return sizes
}

func TestSharedLabelSaysTheRangeOfSizesOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sizes := graded(t)
		i := rapid.IntRange(0, len(sizes[0])-1).Draw(t, "piece")
		var pieces []facing.Piece
		for k := range sizes {
			pieces = append(pieces, sizes[k][i])
		}
		shift := []path.Vec{{}, {X: 9, Y: 4}, {X: 18, Y: 8}}
		groups := plot.FromSizes(pieces, shift, fit.Finish, "Test")
		require.Len(t, groups, 4)
		shared := groups[3]
		require.Empty(t, shared.Size)
		var label []string
		for _, x := range shared.Texts {
			label = append(label, x.String)
		}
		want := pieces[0].Label.Lines
		require.Equal(t, want[0], label[0])
		require.Contains(t, label[1], "sizes S-L, cut ")
		require.Len(t, label, len(want), "the same motifs and allowances")
		grains := 0
		for k, g := range groups[:3] {
			require.Equal(t, []string{"S", "M", "L"}[k], g.Size)
			require.NotEmpty(t, g.Lines)
			alone := plot.FromPiece(pieces[k], "Test").Transform(path.Translation(shift[k]))
			require.Equal(t, alone.Lines[0], g.Lines[0], "its cut line, in its place")
			for _, l := range g.Lines {
				require.NotEqual(t, plot.Grain, l.Role)
			}
			for _, x := range g.Texts {
				require.Equal(t, g.Size, x.String)
			}
		}
		for _, l := range shared.Lines {
			if l.Role == plot.Grain && !l.Sign {
				grains++
			}
		}
		require.Equal(t, 1, grains)
	})
}

func TestNoPiecesMakeNoNest(t *testing.T) {
	require.Empty(t, plot.FromSizes(nil, nil, fit.Start, ""))
}
