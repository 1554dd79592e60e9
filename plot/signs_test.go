package plot_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
)

// signsOf returns the paths of the signs of the role.
func signsOf(g plot.Group, r plot.Role) (paths []path.Path) {
	for _, l := range g.Lines {
		if l.Role == r && l.Sign {
			paths = append(paths, l.Path)
		}
	}
	return paths
}

// folded is a rectangle whose left edge lies on the fold.
func folded(w, h float64, more ...plot.Line) plot.Group {
	g := block("front", 0, 0, w, h)
	g.Lines = append(g.Lines[:1], plot.Line{Role: plot.Fold, Path: path.Open(path.Point{Y: h}, path.Point{})})
	g.Lines = append(g.Lines, more...)
	g.Texts = nil
	return g
}

func TestGrainHasAnArrowheadAtEachEnd(t *testing.T) {
	g := block("front", 0, 0, 200, 300)
	g.Lines = append(g.Lines, g.Signs()...)
	heads := signsOf(g, plot.Grain)
	require.Len(t, heads, 2)
	for i, tip := range []path.Point{{X: 100, Y: 0}, {X: 100, Y: 300}} {
		require.True(t, heads[i].Closed)
		require.Equal(t, tip, heads[i].Start())
		b := heads[i].Bounds()
		require.InDelta(t, 10, b.Height(), 1e-9)
		require.InDelta(t, 100, b.Centre().X, 1e-9)
		require.GreaterOrEqual(t, b.Min.Y, 0.0)
		require.LessOrEqual(t, b.Max.Y, 300.0)
	}
	require.Equal(t, heads, signsOf(plot.Group{Lines: g.Signs()}, plot.Grain), "signs have no signs")
}

func TestBracketIsABarWithArrowsTurnedToTheFold(t *testing.T) {
	g := folded(200, 500)
	signs := g.Signs()
	require.Len(t, signs, 3)
	bar := signs[0].Path
	require.Equal(t, 3, bar.Segments())
	require.InDelta(t, 0, bar.Segment(1).Chord().X, 1e-9, "the bar is parallel to the fold")
	require.InDelta(t, 18, bar.V[1].X, 1e-9)
	require.InDelta(t, 250, bar.Bounds().Centre().Y, 1e-9)
	for i, head := range signs[1:] {
		require.InDelta(t, 0, head.Path.Start().X, 1e-9, "the tip is on the fold")
		require.InDelta(t, bar.V[3*i].Y, head.Path.Start().Y, 1e-9)
		require.InDelta(t, bar.V[3*i].X, head.Path.Bounds().Max.X, 1e-9, "and the bar ends at the head")
	}
}

func TestBracketMovesAndShrinksForRoom(t *testing.T) {
	across := plot.Line{Role: plot.Internal, Path: path.Open(path.Point{Y: 255}, path.Point{X: 100, Y: 255})}
	bar := signsOf(plot.Group{Lines: folded(200, 500, across).Signs()}, plot.Fold)[0].Bounds()
	require.Greater(t, math.Abs(bar.Centre().Y-255), bar.Height()/2)

	// Lines everywhere.
	var comb []plot.Line
	for i := range 50 {
		y := 10 * float64(i)
		comb = append(comb, plot.Line{Role: plot.Internal, Path: path.Open(path.Point{X: 2, Y: y}, path.Point{X: 60, Y: y})})
	}
	require.Empty(t, folded(200, 500, comb...).Signs())
}

func TestFoldWithoutAnOutlineHasNoBracket(t *testing.T) {
	g := folded(200, 500)
	g.Lines = g.Lines[1:]
	require.Empty(t, g.Signs())
	require.Empty(t, folded(6, 10).Signs(), "too small for one")
}

func TestSignsOfRandomPiecesStandClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, p := range made(t) {
			g := plot.FromPiece(p, "Test")
			require.Len(t, signsOf(g, plot.Grain), 2*len(of(g, plot.Grain)))
			folds, cut := of(g, plot.Fold), of(g, plot.Cut)[0]
			bracket := signsOf(g, plot.Fold)
			if len(folds) == 0 {
				require.Empty(t, bracket)
				continue
			}
			if len(bracket) == 0 {
				continue // there is no room
			}
			require.Len(t, bracket, 3)
			fold := path.NewRuler(folds[0])
			for _, head := range bracket[1:] {
				_, d := fold.Nearest(head.Start())
				require.InDelta(t, 0, d, 1e-6)
			}
			bar := bracket[0]
			for _, v := range bar.V {
				require.True(t, cut.Contains(v.Point))
			}
			for _, l := range g.Lines {
				if !l.Sign {
					require.Empty(t, bar.Intersections(l.Path), l.Role)
				}
			}
			for _, text := range g.Texts {
				c := text.Corners()
				block := path.Closed(c[:]...)
				require.Empty(t, bar.Intersections(block))
				require.False(t, block.Contains(bar.Start()))
			}
		}
	})
}

func TestCornersOfATextHoldItsLetters(t *testing.T) {
	for align, left := range map[plot.Align]float64{plot.Left: 0, plot.Middle: -8.3, plot.Right: -16.6} {
		c := plot.Text{At: path.Point{X: 3, Y: 4}, Height: 5, Align: align, String: "größ"}.Corners()
		require.InDelta(t, 3+left, c[0].X, 1e-9)
		require.InDelta(t, 4, c[0].Y, 1e-9)
		require.InDelta(t, 3+left+16.6, c[2].X, 1e-9)
		require.InDelta(t, 9, c[2].Y, 1e-9)
	}
	up := plot.Text{Height: 5, Angle: math.Pi / 2, String: "ab"}.Corners()
	require.InDelta(t, -5, up[2].X, 1e-9)
	require.InDelta(t, 8.3, up[2].Y, 1e-9)
}
