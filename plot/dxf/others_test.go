package dxf_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
)

// figures is what others.py says of a layer, in the file's units.
type figures struct {
	Length, Area float64
	Box          [4]float64
}

// byLayer returns the lines of the drawing by their classes.
func byLayer(d plot.Drawing) map[string][]path.Path {
	lines := map[string][]path.Path{}
	for _, top := range d.Groups {
		top.Walk(func(g plot.Group) {
			for _, l := range g.Lines {
				lines[l.Class] = append(lines[l.Class], l.Path)
			}
		})
	}
	return lines
}

// The figures are those of ezdxf 0.18.1, see testdata/plot-dxf/others.py.
func TestFilesOfAnotherWriterMeasureAsItSays(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(testdata, "others.json"))
	require.NoError(t, err)
	var files map[string]struct {
		Layers map[string]figures
		Units  int
	}
	require.NoError(t, json.Unmarshal(data, &files))
	require.Len(t, files, 6)
	mm := map[int]float64{1: 25.4, 4: 1, 5: 10, 14: 100}
	for name, file := range files {
		t.Run(name, func(t *testing.T) {
			src, err := os.ReadFile(filepath.Join(testdata, name))
			require.NoError(t, err)
			d, report, err := dxf.ReadWithReport(bytes.NewReader(src), dxf.ReadOptions{})
			require.NoError(t, err)
			unit := mm[file.Units]
			if strings.Contains(name, "R12") {
				unit = 1 // the writer leaves $INSUNITS out of that release
			}
			require.Equal(t, unit, report.UnitMM)
			got := byLayer(d)
			for layer, want := range file.Layers {
				length, area, box := 0.0, 0.0, path.EmptyBox()
				for _, p := range got[layer] {
					length += p.Length()
					area += math.Abs(p.Area())
					box = box.Union(p.Bounds())
				}
				require.InDelta(t, want.Length*unit, length, 0.01, "length of %s", layer)
				require.InDelta(t, want.Area*unit*unit, area, max(0.01, 0.002*length), "area of %s", layer)
				for i, x := range [4]float64{box.Min.X, box.Min.Y, box.Max.X, box.Max.Y} {
					require.InDelta(t, want.Box[i]*unit, x, 0.01, "box of %s", layer)
				}
			}
			require.Len(t, got, len(file.Layers))
		})
	}
}
