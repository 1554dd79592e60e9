package plot_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
)

// block is a group whose outline is a rectangle, with a grain line and a text
// that have to move with it.
func block(name string, x, y, w, h float64) plot.Group {
	return plot.Group{
		Piece: &plot.Piece{Name: name},
		Lines: []plot.Line{
			{Role: plot.Cut, Path: path.Closed(path.Point{X: x, Y: y}, path.Point{X: x + w, Y: y}, path.Point{X: x + w, Y: y + h}, path.Point{X: x, Y: y + h})},
			{Role: plot.Grain, Path: path.Open(path.Point{X: x + w/2, Y: y}, path.Point{X: x + w/2, Y: y + h})},
		},
		Texts: []plot.Text{{At: path.Point{X: x + w/2, Y: y + h/2}, Height: 5, String: name}},
	}
}

func TestOneRowStandsOnTheAxisInOrder(t *testing.T) {
	sheets, err := plot.Arrange([]plot.Group{block("a", -50, 700, 100, 40), block("b", 3, -9, 60, 80)}, 20, 0, 0)
	require.NoError(t, err)
	require.Len(t, sheets, 1)
	a, b := sheets[0].Groups[0].Bounds(), sheets[0].Groups[1].Bounds()
	require.Equal(t, path.Box{Min: path.Point{X: 0, Y: 0}, Max: path.Point{X: 100, Y: 40}}, a)
	require.Equal(t, path.Box{Min: path.Point{X: 120, Y: 0}, Max: path.Point{X: 180, Y: 80}}, b)
	require.Equal(t, path.Point{X: 50, Y: 20}, sheets[0].Groups[0].Texts[0].At)
}

func TestFullRowContinuesBelow(t *testing.T) {
	sheets, err := plot.Arrange([]plot.Group{
		block("a", 0, 0, 100, 40), block("b", 0, 0, 60, 80), block("c", 0, 0, 50, 10),
	}, 10, 170, 0)
	require.NoError(t, err)
	require.Len(t, sheets, 1)
	g := sheets[0].Groups
	require.Equal(t, path.Point{X: 0, Y: 20}, g[0].Bounds().Min)
	require.Equal(t, path.Point{X: 110, Y: 20}, g[1].Bounds().Min)
	require.Equal(t, path.Point{X: 0, Y: 0}, g[2].Bounds().Min)
}

func TestFullSheetContinuesOnTheNext(t *testing.T) {
	var groups []plot.Group
	for i := range 5 {
		groups = append(groups, block(fmt.Sprint(i), 0, 0, 100, 100))
	}
	sheets, err := plot.Arrange(groups, 10, 210, 210)
	require.NoError(t, err)
	require.Len(t, sheets, 2)
	require.Len(t, sheets[0].Groups, 4)
	require.Equal(t, path.Box{Max: path.Point{X: 210, Y: 210}}, sheets[0].Bounds())
	require.Equal(t, "4", sheets[1].Groups[0].Piece.Name)
	require.Equal(t, path.Box{Max: path.Point{X: 100, Y: 100}}, sheets[1].Bounds())
}

// A low piece followed by a high one: the row would outgrow the sheet, but a
// new row, or else a new sheet, holds the high one.
func TestRowThatWouldOutgrowTheSheetIsNotJoined(t *testing.T) {
	sheets, err := plot.Arrange([]plot.Group{
		block("a", 0, 0, 100, 150), block("b", 0, 0, 100, 40), block("c", 0, 0, 100, 60),
	}, 10, 220, 200)
	require.NoError(t, err)
	require.Len(t, sheets, 2)
	require.Len(t, sheets[0].Groups, 2)
	require.Len(t, sheets[1].Groups, 1)
}

func TestArrangedGroupsKeepOrderGapAndSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(1, 300)
		n := rapid.IntRange(1, 12).Draw(t, "n")
		var groups []plot.Group
		for i := range n {
			groups = append(groups, block(fmt.Sprint(i),
				rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y"),
				size.Draw(t, "w"), size.Draw(t, "h")))
		}
		gap := rapid.Float64Range(0, 40).Draw(t, "gap")
		const width, height = 320, 340
		sheets, err := plot.Arrange(groups, gap, width, height)
		require.NoError(t, err)
		next := 0
		for _, s := range sheets {
			b := s.Bounds()
			require.InDelta(t, 0, b.Min.X, 1e-9)
			require.InDelta(t, 0, b.Min.Y, 1e-9)
			require.LessOrEqual(t, b.Width(), width+1e-5)
			require.LessOrEqual(t, b.Height(), height+1e-5)
			for i, g := range s.Groups {
				require.Equal(t, fmt.Sprint(next), g.Piece.Name)
				before := groups[next].Bounds()
				require.InDelta(t, before.Width(), g.Bounds().Width(), 1e-9)
				require.InDelta(t, before.Height(), g.Bounds().Height(), 1e-9)
				next++
				for _, h := range s.Groups[:i] {
					a, b := g.Bounds(), h.Bounds()
					apart := max(a.Min.X-b.Max.X, b.Min.X-a.Max.X, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
					require.GreaterOrEqual(t, apart, gap-1e-9)
				}
			}
		}
		require.Equal(t, n, next)
	})
}

func TestPieceAsLargeAsTheSheetFits(t *testing.T) {
	sheets, err := plot.Arrange([]plot.Group{block("a", 0.1, 0.7, 900, 600)}, 10, 900, 600)
	require.NoError(t, err)
	require.Len(t, sheets, 1)
}

func TestGroupsWithoutLinesAreLeftOut(t *testing.T) {
	sheets, err := plot.Arrange([]plot.Group{{Label: "empty"}}, 10, 0, 0)
	require.NoError(t, err)
	require.Empty(t, sheets)
}

func TestArrangeErrorsNamePieceAndRemedy(t *testing.T) {
	bad := block("a", 0, 0, 10, 10)
	bad.Lines[0].Path.V[2].X = math.NaN()
	sized := block("Front", 0, 0, 912, 10)
	sized.Piece.Size = "44"
	for name, c := range map[string]struct {
		group            plot.Group
		gap, wide, high_ float64
		want             string
	}{
		"too wide":     {sized, 10, 900, 0, `plot: piece "Front" size 44 is 912.0 mm wide, 12.0 mm more than the sheet; set a sheet width of at least 912.0 mm`},
		"too high":     {block("Back", 0, 0, 10, 700.04), 10, 0, 600, `plot: piece "Back" is 700.0 mm high, 100.0 mm more than the sheet; set a sheet height of at least 700.1 mm`},
		"not finite":   {bad, 10, 0, 0, `plot: piece "a" has a line that is not finite; check the numbers that it is made from`},
		"negative gap": {block("a", 0, 0, 1, 1), -1, 0, 0, `plot: the gap is -1 mm; give a length of 0 or more`},
		"nan width":    {block("a", 0, 0, 1, 1), 1, math.NaN(), 0, `plot: the sheet width is NaN mm; give a length of 0 or more`},
		"inf height":   {block("a", 0, 0, 1, 1), 1, 0, math.Inf(1), `plot: the sheet height is +Inf mm; give a length of 0 or more`},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := plot.Arrange([]plot.Group{c.group}, c.gap, c.wide, c.high_)
			require.EqualError(t, err, c.want)
		})
	}
}
