package marker

import (
	"math"
	"testing"

	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// outline draws a simple outline of lines and arcs of both kinds round the origin: star-shaped, or
// it is drawn again.
func outline(t *rapid.T) path.Path {
	p := path.Path{Closed: true}
	n := rapid.IntRange(2, 30).Draw(t, "vertices")
	for i := range n {
		at := path.Direction(2 * math.Pi * float64(i) / float64(n)).Mul(rapid.Float64Range(60, 300).Draw(t, "radius"))
		bulge := 0.0
		if rapid.Bool().Draw(t, "round") {
			bulge = rapid.Float64Range(-0.3, 0.9).Draw(t, "bulge")
		}
		p.V = append(p.V, path.Vertex{Point: path.Point{}.Add(at), Bulge: bulge})
	}
	if n == 2 {
		p.V[0].Bulge = max(0.1, p.V[0].Bulge)
		p.V[1].Bulge = max(0.1, p.V[1].Bulge)
	}
	if !p.Simple() || p.Area() <= 0 {
		t.Skip("it crosses itself")
	}
	return p
}

func TestPolygonHoldsTheOutlineAndIsNearIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := outline(t)
		points, ok := container(o)
		require.True(t, ok)
		p := path.Closed(points...)
		require.True(t, p.Simple())
		require.Greater(t, p.Area(), o.Area()-1e-6)
		to, from := path.NewLocator(o), path.NewLocator(p)
		for i := range o.Segments() {
			for k := range 20 {
				at := o.Segment(i).At(float64(k) / 20)
				if d, _ := from.Nearest(at, 0); d > 1e-7 {
					require.True(t, p.Contains(at), "%v is %g outside", at, d)
				}
			}
		}
		for i := range p.Segments() {
			for k := range 20 {
				d, _ := to.Nearest(p.Segment(i).At(float64(k)/20), 0)
				require.LessOrEqual(t, d, containing+1e-9)
			}
		}
	})
}

// The tangents of equal steps of a circle meet r (1/cos(step/2) - 1) outside of it, and of
// no fewer steps within the tolerance.
func TestPolygonOfACircleHasTheFewestTangents(t *testing.T) {
	for _, r := range []float64{1, 30, 500} {
		points, ok := container(path.Circle(path.Point{}, r))
		require.True(t, ok)
		fewest := math.Ceil(math.Pi / math.Acos(r/(r+containing)))
		require.LessOrEqual(t, float64(len(points)), fewest+4, "%g", r) // the ends of its two arcs, too
		require.GreaterOrEqual(t, float64(len(points)), fewest)
	}
}

// Straight sides stay where they are.
func TestPolygonOfAPolygonIsItself(t *testing.T) {
	points := []path.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 50}, {X: 60, Y: 20}, {X: 0, Y: 50}}
	got, ok := container(path.Closed(points...))
	require.True(t, ok)
	require.Equal(t, points, got)
}

// Of arcs that join smoothly only the tangents stay: the joints go.
func TestJointsOfSmoothArcsGo(t *testing.T) {
	o := path.Path{Closed: true}
	const n = 200
	for i := range n {
		o.V = append(o.V, path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / n).Mul(200)), Bulge: math.Tan(2 * math.Pi / n / 4)})
	}
	points, ok := container(o)
	require.True(t, ok)
	require.LessOrEqual(t, len(points), n)
}

// Near the fold a polygon is its reach along it, and the rest of it is as it was or larger.
func TestPolygonIsLiftedFromTheFold(t *testing.T) {
	got := lifted([]path.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 110, Y: 10}, {X: 50, Y: 60}, {X: 10, Y: 10}}, 2)
	require.Equal(t, []path.Point{{X: 110, Y: 10}, {X: 50, Y: 60}, {X: 10, Y: 10}, {X: 0, Y: 2}, {X: 102, Y: 2}}, got)
	whole := []path.Point{{X: 0, Y: 3}, {X: 9, Y: 3}, {X: 5, Y: 9}}
	require.Equal(t, whole, lifted(whole, 2))
	rapid.Check(t, func(t *rapid.T) {
		o := outline(t)
		points, ok := container(o)
		require.True(t, ok)
		keep := o.Bounds().Min.Y + rapid.Float64Range(0, 5).Draw(t, "keep")
		up := path.Closed(lifted(points, keep)...)
		if !up.Simple() {
			t.Skip("it comes near to itself")
		}
		require.GreaterOrEqual(t, up.Bounds().Min.Y, keep-1e-9)
		for i := range o.Segments() {
			for k := range 10 {
				at := o.Segment(i).At(float64(k) / 10)
				at.Y = max(at.Y, keep)
				if _, d := path.NewRuler(up).Nearest(at); d > 1e-6 {
					require.True(t, up.Contains(at), "%v is %g outside", at, d)
				}
			}
		}
	})
}
