package path

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Two arcs that meet with a bend of 0.0003 at a valley, and an offset that
// leaves a radius of less than 1 mm: the middle of the bend lies beside both.
func TestSlightBendBetweenSharpArcsKeepsTheOffset(t *testing.T) {
	p := Path{V: []Vertex{
		{Point{-74.9711878157251, 0.9222176766912986}, -0.1869839533306674},
		{Point{-69.15432229504627, 3.1844616275254474}, -0.18698395333066725},
		{Point{-63.332701798302935, 0.9344823008102565}, 0},
	}}
	for _, d := range []float64{7.7, 7.74, 7.75, 7.8, 8.5} {
		out, err := p.Offset(d, Corner{})
		require.NoError(t, err)
		require.Len(t, out, 1, "distance %g", d)
	}
}
