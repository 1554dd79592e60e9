package pattern

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
)

// An ellipse's quarter in points, as a hem: its length is from a table of elliptic
// integrals, and no facet of it is left.
func TestCurvesInPointsBecomeSmooth(t *testing.T) {
	for name, points := range map[string]int{"2 mm apart": 200, "0.4 mm apart": 1200, "8 mm apart": 60} {
		t.Run(name, func(t *testing.T) {
			outline := path.Path{Closed: true}
			for i := range points + 1 {
				a := -math.Pi/2 + math.Pi/2*float64(i)/float64(points)
				outline.V = append(outline.V, path.Vertex{Point: path.Point{X: 400 * math.Cos(a), Y: 500 + 300*math.Sin(a)}})
			}
			outline.V = append(outline.V, path.Vertex{Point: path.Point{X: 100, Y: 900}}, path.Vertex{Point: path.Point{Y: 900}})
			p, warnings, err := Take(loose(outline), Selection{Panel: "p", Includes: &Widths{Start: 10}})
			require.NoError(t, err)
			require.Empty(t, warnings)
			require.Len(t, p.Edges, 4)
			hem := p.Edges[0].Path
			require.Less(t, hem.Segments(), 40)
			for i := 1; i < hem.Segments(); i++ {
				require.InDelta(t, 0, hem.Segment(i-1).EndTangent().AngleTo(hem.Segment(i).StartTangent()), 1e-3, "joint %d", i)
			}
			// A quarter of the perimeter of an ellipse with the half axes 400 and 300:
			// Ramanujan's second formula (Modular equations and approximations to pi,
			// Quart. J. Math. 45, 1914), good to 1e-9 here.
			const h = (400.0 - 300) * (400 - 300) / (700 * 700)
			quarter := math.Pi * 700 * (1 + 3*h/(10+math.Sqrt(4-3*h))) / 4
			// 10 mm of it lie in the allowance of the side.
			require.InDelta(t, quarter-10, hem.Length(), 0.05)
		})
	}
}

func TestLinesThatAreNoCurvesStayAsDrawn(t *testing.T) {
	d := loose(path.Closed(path.Point{}, path.Point{X: 300}, path.Point{X: 300, Y: 600}, path.Point{X: 290, Y: 603}, path.Point{X: 280, Y: 600}, path.Point{X: 0, Y: 600}))
	r := Inspect(d, "")
	require.Len(t, r.Pieces, 1)
	require.Equal(t, 6, r.Pieces[0].Outline.Segments())
}
