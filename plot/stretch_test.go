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

func TestStretchedLinesAreWhereTheMapPutsThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plottest.RandomPath(t)
		x := rapid.Float64Range(0.9, 1.1).Draw(t, "x")
		y := rapid.Float64Range(0.9, 1.1).Draw(t, "y")
		d, err := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Role: plot.Cut, Path: p}}}}}.Stretch(x, y, 0.002)
		require.NoError(t, err)
		got := d.Groups[0].Lines[0].Path
		require.Equal(t, p.Closed, got.Closed)
		if p.Segments() == 0 {
			return
		}
		r := path.NewRuler(got)
		for i := range p.Segments() {
			for k := range 9 {
				q := p.Segment(i).At(float64(k) / 8)
				_, off := r.Nearest(path.Point{X: x * q.X, Y: y * q.Y})
				require.LessOrEqual(t, off, 0.0021)
			}
		}
		back, err := d.Stretch(1/x, 1/y, 0.002)
		require.NoError(t, err)
		require.LessOrEqual(t, plottest.Deviation(p, back.Groups[0].Lines[0].Path), 0.0045)
	})
}

func TestEvenStretchKeepsArcs(t *testing.T) {
	d, err := plottest.Scalloped(3).Stretch(1.01, 1.01, 0.002)
	require.NoError(t, err)
	require.Len(t, d.Groups[0].Lines[len(d.Groups[0].Lines)-1].Path.V, len(plottest.Scalloped(3).Groups[0].Lines[len(d.Groups[0].Lines)-1].Path.V))
	require.InDelta(t, 1.01*plottest.Scalloped(3).Bounds().Width(), d.Bounds().Width(), 1e-9)
}

func TestStretchRefusesWhatIsNoMeasure(t *testing.T) {
	for _, k := range []float64{0, -1, 3, math.NaN(), math.Inf(1)} {
		_, err := plottest.Scalloped(1).Stretch(1, k, 0.002)
		require.ErrorContains(t, err, "measure again")
	}
}
