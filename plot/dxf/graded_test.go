package dxf_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
)

func testFile(t require.TestingT, name string) []byte {
	data, err := os.ReadFile(filepath.Join(testdata, name))
	require.NoError(t, err)
	return data
}

func rulesOf(t require.TestingT, table string) *dxf.Rules {
	r, err := dxf.ParseRules(strings.NewReader(table))
	require.NoError(t, err)
	return r
}

// The file is written and graded by other programs, see
// testdata/plot-dxf/graded.py.
func TestFileWithGradeRulesHasTheSizesOfAnIndependentGrading(t *testing.T) {
	var want map[string]map[string]map[string][]json.RawMessage
	require.NoError(t, json.Unmarshal(testFile(t, "graded.json"), &want))
	rules := rulesOf(t, string(testFile(t, "graded.rul")))
	d, report, err := dxf.ReadWithReport(bytes.NewReader(testFile(t, "graded.dxf")), dxf.ReadOptions{Rules: rules})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.Equal(t, "SEDGE", report.RuleTable)
	require.Equal(t, 15, report.GradePoints)
	require.Len(t, d.Groups, 2*len(want))
	layers := map[string]plot.Line{
		"1": {Role: plot.Cut}, "14": {Role: plot.Stitch}, "6": {Role: plot.Fold}, "7": {Role: plot.Grain}, "8": {Role: plot.Internal},
		"11": {Role: plot.Cut}, "5": {Class: "5"}, "13": {Role: plot.Mark},
	}
	for i, g := range d.Groups {
		require.Equal(t, rules.Sizes[i%5], g.Piece.Size, "a piece in all sizes, then the next one")
		require.Equal(t, "Sedge skirt", g.Piece.Style)
		require.Equal(t, []string{"press flat"}, g.Piece.Notes)
		require.Len(t, g.Texts, 1)
		piece := want[g.Piece.Size][g.Piece.Name]
		lines := 0
		for layer, like := range layers {
			var got []plot.Line
			for _, l := range g.Lines {
				if l.Role == like.Role && l.Class == like.Class && (layer != "1" && layer != "11" || (layer == "1") == (l.Path.Bounds().Width() > 50)) {
					got = append(got, l)
				}
			}
			require.Len(t, got, len(piece[layer]), "layer %s", layer)
			lines += len(got)
			for k, raw := range piece[layer] {
				var points [][2]float64
				require.NoError(t, json.Unmarshal(raw, &points))
				require.Len(t, got[k].Path.V, len(points))
				for j, q := range points {
					require.LessOrEqual(t, got[k].Path.V[j].Dist(path.Point{X: q[0], Y: q[1]}), 0.01,
						"%s, size %s, layer %s, line %d, vertex %d", g.Piece.Name, g.Piece.Size, layer, k, j)
				}
			}
		}
		require.Len(t, g.Lines, lines+len(piece["notches"]))
		for k, raw := range piece["notches"] {
			var q [2]float64
			require.NoError(t, json.Unmarshal(raw, &q))
			n := g.Lines[lines+k]
			require.Equal(t, plot.Notch, n.Role)
			require.LessOrEqual(t, n.Path.Start().Dist(path.Point{X: q[0], Y: q[1]}), 0.01)
			require.InDelta(t, [2]float64{5, 6}[k], n.Path.Length(), 1e-9)
			require.InDelta(t, [2]float64{3, 4}[k], n.Width, 1e-9)
			require.Equal(t, [2]fit.NotchKind{fit.VNotch, fit.TNotch}[k], n.Notch)
		}
	}
	// The size that is drawn is as it is drawn.
	base, err := dxf.Read(bytes.NewReader(testFile(t, "graded.dxf")), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, base.Groups, []plot.Group{d.Groups[2], d.Groups[7]})
}
