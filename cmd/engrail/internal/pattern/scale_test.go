package pattern

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/svg"
)

// The case of a 500 mm hem that arrives as 132.29 mm, a factor of 25.4/96
// (common practice, no source).
func TestPixelsForMillimetresAreFoundOut(t *testing.T) {
	d := file(t, "../../../../testdata/pattern/pixels-for-mm.svg")
	p, _, err := Take(d, Selection{Panel: "front"})
	require.NoError(t, err)
	require.InDelta(t, 132.29, p.Edges[0].Path.Length(), 0.005)

	requireError(t, d, Selection{Panel: "front", Check: 500},
		"the hem measures 132.29 mm where it should measure 500.00 mm: the drawing comes out in the wrong scale, "+
			"and all of it must be 3.78 times as large (the factor 96/25.4: mm were taken for px of 1/96 in)", "state the length of a unit of the file with `unit: 1 mm` under `pattern:` beside `file:`")

	f, err := os.Open("../../../../testdata/pattern/pixels-for-mm.svg")
	require.NoError(t, err)
	defer f.Close()
	d, err = svg.Read(f, svg.Options{UnitMM: 1})
	require.NoError(t, err)
	p, warnings, err := Take(d, Selection{Panel: "front", Check: 500})
	require.NoError(t, err)
	require.Empty(t, warnings)
	require.InDelta(t, 500, p.Edges[0].Path.Length(), 1e-9)
}

// scaled returns the drawing with another size.
func scaled(d plot.Drawing, k float64) plot.Drawing {
	out := plot.Drawing{}
	for _, g := range d.Groups {
		out.Groups = append(out.Groups, g.Transform(path.Scaling(path.Point{}, k)))
	}
	return out
}

// The allowances that come off are true to size in a drawing that is not, so
// that the stitching line is wrong by another factor than the drawing.
func TestEveryUsualFactorIsNamed(t *testing.T) {
	d := file(t, tansy)
	s := Selection{Panel: "front", Name: "front", Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 10}}
	p, _, err := Take(d, s)
	require.NoError(t, err)
	s.Check = p.Edges[0].Path.Length()
	for _, m := range mixups() {
		t.Run(m.name, func(t *testing.T) {
			requireError(t, scaled(d, 1/m.factor), s, "(the factor "+m.name+": "+m.cause+")", "state the length of a unit of the file with `unit: "+m.unit+"` under `pattern:` beside `file:`")
		})
	}
}

func TestStatedHemLength(t *testing.T) {
	take := func(check float64) ([]string, error) {
		_, warnings, err := Take(page(t, skirt), Selection{Panel: "front", Check: check})
		var all []string
		for _, w := range warnings {
			all = append(all, w.Code+": "+w.Message)
		}
		return all, err
	}
	warnings, err := take(300.4)
	require.NoError(t, err)
	require.Empty(t, warnings)
	warnings, err = take(302)
	require.NoError(t, err)
	require.Equal(t, []string{"hem-differs: the hem measures 300.0 mm on the stitching line, 2.0 mm from the 302.0 mm stated"}, warnings)
	requireError(t, page(t, skirt), Selection{Check: 350}, "the hem measures 300.00 mm where it should measure 350.00 mm; no usual mix-up of units makes this difference (a factor of 1.167)", "measure the hem on the stitching line once more; if the file is right, state `check: 300.0mm` under `piece:`, else correct its scale")
	requireError(t, page(t, `<path d="M100 100L250 60L400 100V700H100Z"/>`), Selection{Check: 350}, "the hem was not found", "")
}

func TestSizeThatNobodyWearsIsRefused(t *testing.T) {
	d := page(t, skirt)
	requireError(t, scaled(d, 0.05), Selection{}, "the piece measures 15.0 x 30.0 mm, which is no size of a garment", "25.4 (inches were taken for mm): then a unit of the file is 1 in and the piece 381 x 762 mm")
	requireError(t, scaled(d, 25.4), Selection{}, "the piece measures 7620.0 x 15240.0 mm", "1/25.4 (mm were taken for inches): then a unit of the file is 1 mm and the piece 300 x 600 mm")
	requireError(t, scaled(d, 1e-4), Selection{}, "the piece measures 0.0 x 0.1 mm",
		"state the length of a unit of the file, such as `unit: 1 mm`, under `pattern:` beside `file:`; or state the hem's true length, such as `check: 412mm`, under `piece:` to have the scale found")
}

func TestUnusualSizeIsReported(t *testing.T) {
	_, warnings, err := Take(scaled(page(t, skirt), 25.4/96), Selection{Panel: "front"})
	require.NoError(t, err)
	require.Len(t, warnings, 1)
	require.Equal(t, "small-piece", warnings[0].Code)
	require.True(t, strings.HasPrefix(warnings[0].Message, "the piece measures only 79.4 x 158.8 mm"), warnings[0].Message)
	require.Contains(t, warnings[0].Message, "96/25.4 (mm were taken for px of 1/96 in): then a unit of the file is 1 mm and the piece 300 x 600 mm")
}

// A piece that is 600 mm high shows by its size alone that it is in a wrong scale,
// unless the factor is near one: those show against a stated hem only.
func TestLikelyFactorIsNamedFromTheSizeAlone(t *testing.T) {
	named := 0
	for _, m := range mixups() {
		t.Run(m.name, func(t *testing.T) {
			r := Inspect(scaled(page(t, skirt), 1/m.factor), "skirt.svg")
			require.Len(t, r.Pieces, 1)
			if size := 600 / m.factor; size >= smallPiece && size <= largePiece {
				require.Empty(t, r.Problems)
				require.Greater(t, m.factor, 0.7)
				require.Less(t, m.factor, 1.4)
				return
			}
			named++
			require.Contains(t, problems(r), fmt.Sprintf("%s (%s): then a unit of the file is %s and the piece 300 x 600 mm", m.name, m.cause, m.unit))
		})
	}
	require.Equal(t, 8, named)
}
