package proof_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/proof"
)

func role(l plot.Line) string { return l.Role.String() }

func square(x, y, side float64) path.Path {
	return path.Closed(path.Point{X: x, Y: y}, path.Point{X: x + side, Y: y}, path.Point{X: x + side, Y: y + side}, path.Point{X: x, Y: y + side})
}

func cuts(paths ...path.Path) (all []plot.Line) {
	for _, p := range paths {
		all = append(all, plot.Line{Role: plot.Cut, Path: p})
	}
	return all
}

func TestDrawingIsNoDistanceFromItself(t *testing.T) {
	lines := plottest.Lines(plottest.Scalloped(20))
	c := proof.Compare(lines, lines, role)
	require.InDelta(t, 0, c.Max, 1e-9)
	require.Equal(t, [2]float64{1, 1}, [2]float64{c.ScaleX, c.ScaleY})
	require.Len(t, c.Classes, 8, "of the roles in it")
}

func TestMovedLineIsFoundWithItsDistanceAndPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		design := plottest.Lines(plottest.Scalloped(8))
		by := rapid.Float64Range(0.01, 3).Draw(t, "by")
		file := plottest.Lines(plottest.Scalloped(8))
		// The straight side of the front's cut line, moved to the right.
		cut := file[len(file)/2-1]
		require.Equal(t, plot.Cut, cut.Role)
		n := len(cut.Path.V)
		cut.Path.V[n-3].X += by
		cut.Path.V[n-2].X += by
		file[len(file)/2-1] = cut
		c := proof.Compare(design, file, role)
		require.InDelta(t, by, c.Max, 0.02*by)
		worst, ok := c.Worst()
		require.True(t, ok)
		require.Equal(t, "cut", worst.Class)
		require.InDelta(t, 100, worst.At.X, 3.1)
		require.Greater(t, c.ScaleX, 1.0)
	})
}

func TestMissingAndStrayLinesAreFarOff(t *testing.T) {
	design := cuts(square(0, 0, 100), square(40, 40, 10))
	require.InDelta(t, 45, proof.Compare(design, design[:1], role).Max, 5.1, "the cutout is missing")
	stray := append(cuts(square(300, 0, 10)), design...)
	require.InDelta(t, 210, proof.Compare(design, stray, role).Max, 1)
	require.True(t, math.IsInf(proof.Compare(design, nil, role).Max, 1))
	other := append([]plot.Line{{Role: plot.Stitch, Path: square(0, 0, 100)}}, design...)
	require.True(t, math.IsInf(proof.Compare(design, other, role).Max, 1), "no stitching was designed")
	require.Zero(t, proof.Compare(nil, nil, role).Max)
}

func TestLinesOfAnotherRoleAreNotTakenForTheirOwn(t *testing.T) {
	design := append(cuts(square(0, 0, 100)), plot.Line{Role: plot.Stitch, Path: square(10, 10, 80)})
	swapped := append(cuts(square(10, 10, 80)), plot.Line{Role: plot.Stitch, Path: square(0, 0, 100)})
	require.InDelta(t, 14.1, proof.Compare(design, swapped, role).Max, 0.1)
}

func TestScaleIsMeasured(t *testing.T) {
	design := cuts(square(0, 0, 100))
	c := proof.Compare(design, cuts(path.Closed(path.Point{}, path.Point{X: 101}, path.Point{X: 101, Y: 98}, path.Point{Y: 98})), role)
	require.InDelta(t, 1.01, c.ScaleX, 1e-12)
	require.InDelta(t, 0.98, c.ScaleY, 1e-12)
}

func TestChordsAreAsFarOffAsTheyBow(t *testing.T) {
	circle := path.Circle(path.Point{}, 50)
	var chords path.Path
	chords.Closed = true
	for i := range 24 {
		chords.V = append(chords.V, path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / 24).Mul(50))})
	}
	// r (1 - cos x/2)
	require.InDelta(t, 50*(1-math.Cos(math.Pi/24)), proof.Compare(cuts(circle), cuts(chords), role).Max, 1e-9)
}

func TestLookFindsWhatSpoilsACut(t *testing.T) {
	bow := path.Closed(path.Point{}, path.Point{X: 10, Y: 10}, path.Point{X: 10}, path.Point{Y: 10})
	open := path.Open(path.Point{X: 50}, path.Point{X: 60}, path.Point{X: 60, Y: 10})
	stutter := path.Closed(path.Point{X: 100}, path.Point{X: 110}, path.Point{X: 110.03}, path.Point{X: 110, Y: 10})
	lines := append(cuts(square(200, 0, 50), bow, open, stutter), plot.Line{Role: plot.Stitch, Path: path.Open(path.Point{}, path.Point{X: 7})})
	f := proof.Look(lines, 3)
	require.Equal(t, 3, f.Texts)
	require.Equal(t, []path.Point{{X: 50}}, f.Open)
	require.Len(t, f.Crossing, 1)
	require.InDelta(t, 0, f.Crossing[0].Dist(path.Point{X: 5, Y: 5}), 1e-9)
	require.Equal(t, []path.Point{{X: 110.03}}, f.Close)
	require.Equal(t, path.Box{Max: path.Point{X: 250, Y: 50}}, f.Box)
	require.Len(t, f.Roles, 2)
	require.Equal(t, proof.Lines{Role: plot.Stitch, Count: 1, Length: 7}, f.Roles[1])
	require.Equal(t, 4, f.Roles[0].Count)
}

func TestLookFindsWhatIsCutTwice(t *testing.T) {
	f := proof.Look(cuts(square(0, 0, 100), square(100, 20, 50), square(300, 0, 10), square(0, 0, 100).Reverse()), 0)
	require.Equal(t, []path.Point{{X: 100, Y: 20}, {}}, f.Duplicates, "a side that two share, and a whole outline")
	require.Empty(t, f.Crossing)
	require.Empty(t, proof.Look(cuts(square(0, 0, 100), square(200, 20, 50)), 0).Duplicates)
}

func TestScallopedOutlinesHaveNothingToFind(t *testing.T) {
	f := proof.Look(plottest.Lines(plottest.Scalloped(30)), 4)
	require.Empty(t, f.Open)
	require.Empty(t, f.Crossing)
	require.Empty(t, f.Close)
	require.Empty(t, f.Duplicates)
}

func BenchmarkCompare(b *testing.B) {
	design := plottest.Lines(plottest.Scalloped(60))
	var file []plot.Line
	for _, l := range design {
		p := path.Path{Closed: l.Path.Closed}
		for _, q := range l.Path.Chords(0.007) {
			p.V = append(p.V, path.Vertex{Point: q})
		}
		l.Path = p
		file = append(file, l)
	}
	b.Run("2x60-scallops", func(b *testing.B) {
		for b.Loop() {
			proof.Compare(design, file, role)
		}
	})
}
