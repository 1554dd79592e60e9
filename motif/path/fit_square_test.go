package path

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// An S whose handles stand square to the way from end to end, as a drawn waist
// may have them: the tangents at its ends are alike, so that no pair of arcs
// joins them.
func TestSquareHandledSIsFitted(t *testing.T) {
	for _, c := range []CubicBezier{
		{Point{600, 500}, Point{600, 350}, Point{900, 650}, Point{900, 500}},
		{Point{0, 0}, Point{0, 30}, Point{100, -30}, Point{100, 0}},
		{Point{0, 0}, Point{-20, 40}, Point{60, -10}, Point{40, 30}},
	} {
		p, err := c.Fit(FitTolerance)
		require.NoError(t, err)
		require.True(t, p.Finite())
		r := NewRuler(p)
		for i := range 201 {
			_, off := r.Nearest(c.At(float64(i) / 200))
			require.LessOrEqual(t, off, FitTolerance)
		}
	}
}
