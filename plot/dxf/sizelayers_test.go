package dxf_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
)

func TestSizesHaveLayersOfTheirOwn(t *testing.T) {
	var d plot.Drawing
	for i, size := range []string{"38", "Größe XL (lang)", ""} {
		w := 300 + 20*float64(i)
		d.Groups = append(d.Groups, plot.Group{
			Piece: &plot.Piece{Name: "Front", Size: size},
			Lines: []plot.Line{
				{Role: plot.Cut, Path: path.Closed(path.Point{}, path.Point{X: w}, path.Point{X: w, Y: w})},
				{Role: plot.Internal, Path: path.Open(path.Point{X: 9, Y: 1}, path.Point{X: 99, Y: 8})},
			},
			Texts: []plot.Text{{At: path.Point{X: 9, Y: 5}, Height: 5, String: "Front"}},
		})
	}
	var file bytes.Buffer
	require.NoError(t, dxf.Write(&file, d, dxf.Options{SizeLayers: true}))
	var layers []string
	lines := strings.Split(file.String(), "\r\n")
	for i := 0; i+3 < len(lines); i++ {
		if lines[i] == "0" && lines[i+1] == "LAYER" {
			layers = append(layers, lines[i+3])
			require.LessOrEqual(t, len(lines[i+3]), 31, "release 12 keeps 31 characters of a name")
		}
	}
	require.Equal(t, []string{"0", "38-CUT", "38-INTERNAL", "38-TEXT",
		"GROSSE-XL-LANG-CUT", "GROSSE-XL-LANG-INTERNAL", "GROSSE-XL-LANG-TEXT", "CUT", "INTERNAL", "TEXT"}, layers)

	back, err := dxf.Read(&file, dxf.ReadOptions{})
	require.NoError(t, err)
	require.Len(t, back.Groups, 3)
	for i, g := range back.Groups {
		require.Equal(t, d.Groups[i].Piece.Name, g.Piece.Name)
		require.Len(t, g.Lines, 2)
		require.Equal(t, plot.Cut, g.Lines[0].Role)
		require.Equal(t, plot.Internal, g.Lines[1].Role)
		require.Equal(t, "Front", g.Texts[0].String)
	}
}
