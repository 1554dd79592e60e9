package path

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDistanceOfSegmentsIsTheClosedForm(t *testing.T) {
	flat := Segment{A: Point{-1000, 5}, B: Point{1000, 5}, Bulge: -1e-6} // rises by 1 micrometre
	for name, c := range map[string]struct {
		s, t Segment
		want float64
	}{
		"lines that cross":         {Line(Point{0, 0}, Point{10, 10}), Line(Point{0, 10}, Point{10, 0}), 0},
		"parallel lines":           {Line(Point{0, 0}, Point{10, 0}), Line(Point{3, 2}, Point{30, 2}), 2},
		"lines end to end":         {Line(Point{0, 0}, Point{10, 0}), Line(Point{13, 4}, Point{30, 4}), 5},
		"an end beside a line":     {Line(Point{0, 0}, Point{10, 0}), Line(Point{5, 1}, Point{5, 9}), 1},
		"a bow over a line":        {Arc(Point{0, 10}, 7, math.Pi, math.Pi), Line(Point{-20, 0}, Point{20, 0}), 3},
		"a line in a bowl":         {Arc(Point{0, 0}, 7, math.Pi, math.Pi), Line(Point{-1, -6}, Point{1, -6}), 7 - math.Sqrt(37)},
		"two bows":                 {Arc(Point{0, 0}, 3, -1, 2), Arc(Point{10, 0}, 4, math.Pi-1, 2), 3},
		"a bow in a bow":           {Arc(Point{0, 0}, 10, -1, 2), Arc(Point{2, 0}, 5, -1, 2), 3},
		"bows whose hollows face":  {Arc(Point{0, 0}, 10, 0.5, math.Pi-1), Arc(Point{0, 0}, 10, math.Pi+0.5, math.Pi-1), 20 * math.Sin(0.5)},
		"an arc as flat as a line": {flat, Line(Point{-1, 0}, Point{1, 0}), 5.001},
		"more than half a circle":  {Arc(Point{0, 0}, 10, 3, 6), Line(Point{20, -40}, Point{20, 40}), 10},
		"a point":                  {Line(Point{3, 4}, Point{3, 4}), Line(Point{0, 0}, Point{0, 0}), 5},
	} {
		require.InDelta(t, c.want, c.s.Distance(c.t), 1e-8, name)
		require.InDelta(t, c.s.Distance(c.t), c.t.Distance(c.s), 1e-12, name)
	}
}

// No place that is looked at is nearer, and one is nearly as near: the distance to the
// other segment changes by no more than one goes along.
func TestDistanceOfSegmentsIsTheLeastOfAllPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) Segment {
			at := Point{rapid.Float64Range(-50, 50).Draw(t, label+" x"), rapid.Float64Range(-50, 50).Draw(t, label+" y")}
			s, _ := drawSegmentThrough(t, at, Direction(rapid.Float64Range(-4, 4).Draw(t, label+" way")), label)
			return s
		}
		s, u := draw("s"), draw("u")
		least := math.Inf(1)
		const steps = 1000
		for i := range steps + 1 {
			_, d := u.Nearest(s.At(float64(i) / steps))
			least = min(least, d)
		}
		got := s.Distance(u)
		slack := 1e-6 * (1 + s.Length() + u.Length())
		require.LessOrEqual(t, got, least+slack)
		require.GreaterOrEqual(t, got, least-s.Length()/steps/2-slack)
		require.InDelta(t, got, u.Distance(s), slack)
	})
}

func TestDistanceOfPathsIsThatOfTheirNearestSegments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outline := func(label string, x float64) Path {
			p := Path{Closed: true}
			n := rapid.IntRange(2, 40).Draw(t, label+" vertices")
			for i := range n {
				r := rapid.Float64Range(5, 40).Draw(t, label+" radius")
				at := Direction(2 * math.Pi * float64(i) / float64(n)).Mul(r)
				p.V = append(p.V, Vertex{Point{x + at.X, at.Y}, rapid.Float64Range(-0.4, 1).Draw(t, label+" bulge")})
			}
			return p
		}
		p, q := outline("p", 0), outline("q", rapid.Float64Range(20, 150).Draw(t, "apart"))
		least := math.Inf(1)
		for i := range p.Segments() {
			for j := range q.Segments() {
				least = min(least, p.Segment(i).Distance(q.Segment(j)))
			}
		}
		require.InDelta(t, least, p.Distance(q), 1e-12)
	})
}

func TestDistanceOfPathsWithoutLines(t *testing.T) {
	circle := Circle(Point{}, 10)
	require.InDelta(t, 4, circle.Distance(Open(Point{6, 0})), 1e-12, "a point inside")
	require.InDelta(t, 5, circle.Distance(Circle(Point{}, 5)), 1e-12, "inside")
	require.True(t, math.IsInf(circle.Distance(Path{}), 1))
	require.True(t, math.IsInf(circle.Distance(Open(Point{math.NaN(), 0}, Point{})), 1))
}
