package build_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"

	"github.com/stretchr/testify/require"
)

const strip = "panels: {front: {straight: {width: 600, depth: 300}%s}}\n"

// stripOf builds a straight panel with the motif, and what else is said of it.
func stripOf(t *testing.T, motif, panel string) build.Size {
	return planOf(t, "strip.yaml", []byte("engrail: 1\nmotif: {"+motif+"}\n"+fmt.Sprintf(strip, panel))).Sizes[0]
}

func TestOwnShapeIsDrawnAsPathOrThroughPoints(t *testing.T) {
	byPoints := stripOf(t, "shape: own, width: 60, depth: 20, own: {points: [[0, 0], [4, 10], [20, 0]]}", "").Fit.Panels[0]
	byPath := stripOf(t, "shape: own, width: 60, depth: 20, own: M 5 3 l 4 10 L 25 3", "").Fit.Panels[0]
	require.Equal(t, byPoints.Edge, byPath.Edge)
	require.InDelta(t, 12, byPoints.Peaks[0].Point.X-byPoints.Valleys[0].Point.X, 1e-9, "a fifth of the way")
	curved := stripOf(t, `shape: own, width: 60, depth: 20, own: {path: "M0 0 C 5 20, 15 20, 20 0"}`, "").Fit.Panels[0]
	require.Len(t, curved.Peaks, 10)
}

func TestSequencesGrowthAndPlainStretchesReachTheFit(t *testing.T) {
	size := stripOf(t, "width: 80, depth: 20, rest: valleys, sequence: [{}, {width: 1/2, depth: 1/2}, {width: 1/2, depth: 1/2}]", ", start: {plain: 20}, finish: {plain: 10}")
	f := size.Fit.Panels[0]
	require.Equal(t, [2]fit.Phase{fit.Plain, fit.Plain}, f.Phases)
	require.Equal(t, 4, f.Repeats)
	require.InDelta(t, 570.0/8, f.Width, 1e-9)
	for _, p := range size.Pieces {
		require.Contains(t, strings.Join(p.Label.Lines, "\n"), "4 repeats of 3 motifs, 71.2 x 20 mm")
	}
	f = stripOf(t, "width: 50, depth: 10, grow: {width: 2, at: finish}", "").Fit.Panels[0]
	first, last := f.Valleys[1].Point.Dist(f.Valleys[0].Point), f.Valleys[len(f.Valleys)-1].Point.Dist(f.Valleys[len(f.Valleys)-2].Point)
	require.Greater(t, last, 1.7*first)
}

func TestCornersAndRunsReachTheFit(t *testing.T) {
	const square = `<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="700mm" viewBox="0 0 700 700"><path id="cloth" d="M50 50H650V650H50Z"/></svg>`
	s, err := style.Parse("cloth.yaml", []byte(`engrail: 1
motif: {width: 60, depth: 15, rest: valleys}
pattern: cloth.svg
panels:
  cloth:
    piece: {hem: all round}
    corners: {motif: peak}
    runs: [{count: 9}, {}, {motif: {shape: point, width: 30, depth: 10}}, {}]
facing: 40
`))
	require.NoError(t, err)
	p, err := build.New(s, build.Files{Read: func(string) ([]byte, error) { return []byte(square), nil }})
	require.NoError(t, err)
	f := p.Sizes[0].Fit.Panels[0]
	require.Len(t, f.Runs, 4)
	require.Equal(t, []float64{9, 10, 20, 10}, []float64{f.Runs[0].Repeats, f.Runs[1].Repeats, f.Runs[2].Repeats, f.Runs[3].Repeats})
	var ring facing.Piece
	for _, piece := range p.Sizes[0].Pieces {
		if piece.Kind == facing.Facing {
			ring = piece
		}
	}
	require.NotEmpty(t, ring.Hole.Cut.V)
	report := p.Report().Sizes[0]
	require.Len(t, report.Panels[0].Runs, 4)
	require.InDelta(t, ring.Net().Area()-(600-80)*(600-80), report.Pieces[1].NetArea, 0.01)
	// Every format takes a ring.
	_, err = p.Write(func(string, []byte) error { return nil }, func(int, int) {})
	require.NoError(t, err)
}

func TestOwnShapesThatCannotBeAreExplained(t *testing.T) {
	for motif, want := range map[string]string{
		"shape: own, own: M 0 0 L 10 10":                        "own shape: the motif ends 10.00 higher or lower than it begins",
		"shape: own, own: M 0 0 L 10 10 L 20 0 M 30 0 L 40 0":   "own shape: the path has 2 lines, and a motif is one",
		"shape: own, own: hello":                                "own shape: ",
		`shape: own, own: "M 0 0 <"`:                            "own shape: the path has a sign in it that no path has",
		"shape: own, own: {points: [[0, 0], [5, -5], [10, 0]]}": "own shape: the motif lies 5.00 behind its base line",
	} {
		s, err := style.Parse("strip.yaml", []byte("engrail: 1\nmotif: {"+motif+"}\n"+fmt.Sprintf(strip, "")))
		require.NoError(t, err, motif)
		_, err = build.New(s, build.Files{})
		require.ErrorContains(t, err, want)
		var known interface{ Remedy() string }
		require.True(t, errors.As(err, &known), motif)
		require.NotEmpty(t, known.Remedy())
	}
}
