package path

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestClosedFormsOfAreaAndLength(t *testing.T) {
	const r, l = 30.0, 80.0
	at := Point{5000, -3000} // far from the origin
	circle := Circle(at, r)
	semicircle := Path{Closed: true, V: []Vertex{{at, 1}, {at.Add(Vec{2 * r, 0}), 0}}}
	stadium := Path{Closed: true, V: []Vertex{
		{at, 0}, {at.Add(Vec{l, 0}), 1}, {at.Add(Vec{l, 2 * r}), 0}, {at.Add(Vec{0, 2 * r}), 1},
	}}
	square := Closed(at, at.Add(Vec{l, 0}), at.Add(Vec{l, l}), at.Add(Vec{0, l}))
	// A lens of two circular segments and a crescent between two arcs.
	sweep := 4 * math.Atan(0.4)
	radius := l * (1 + 0.16) / (4 * 0.4)
	part := radius * radius / 2 * (sweep - math.Sin(sweep))
	lens := Path{Closed: true, V: []Vertex{{at, 0.4}, {at.Add(Vec{l, 0}), 0.4}}}
	crescent := Path{Closed: true, V: []Vertex{{at, 1}, {at.Add(Vec{l, 0}), -0.4}}}
	for name, c := range map[string]struct {
		path         Path
		area, length float64
	}{
		"circle":     {circle, math.Pi * r * r, 2 * math.Pi * r},
		"semicircle": {semicircle, math.Pi * r * r / 2, math.Pi*r + 2*r},
		"stadium":    {stadium, math.Pi*r*r + 2*r*l, 2*math.Pi*r + 2*l},
		"square":     {square, l * l, 4 * l},
		"lens":       {lens, 2 * part, 2 * radius * sweep},
		"crescent":   {crescent, math.Pi*l*l/8 - part, math.Pi*l/2 + radius*sweep},
	} {
		t.Run(name, func(t *testing.T) {
			require.InEpsilon(t, c.area, c.path.Area(), 1e-12)
			require.InEpsilon(t, c.length, c.path.Length(), 1e-12)
			require.InEpsilon(t, -c.area, c.path.Reverse().Area(), 1e-12)
		})
	}
}

func TestReversedPathKeepsItsLengthAndNegatesItsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		r := p.Reverse()
		require.InEpsilon(t, p.Length()+1, r.Length()+1, 1e-12)
		require.InDelta(t, p.Area(), -r.Area(), 1e-7)
		require.Equal(t, p.Start(), r.End())
		require.Equal(t, p.End(), r.Start())
		require.Equal(t, p, r.Reverse())
	})
}

func TestRigidMotionKeepsLengthsAndAreas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, m := genPath().Draw(t, "path"), genSimilarity().Draw(t, "motion")
		q, k := p.Transform(m), m.Scale()
		sign := 1.0
		if m.Mirrors() {
			sign = -1
		}
		require.InEpsilon(t, 1+k*p.Length(), 1+q.Length(), 1e-9)
		require.InDelta(t, sign*p.Area(), q.Area()/(k*k), 1e-4)
		at := rapid.Float64Range(0, 1).Draw(t, "at")
		for i := range p.Segments() {
			a, b := p.Segment(i), q.Segment(i)
			require.InDelta(t, 0, m.Apply(a.At(at)).Dist(b.At(at)), 1e-6)
			if a.Length() > 0.01 {
				require.InDelta(t, 0, m.ApplyVec(a.TangentAt(at)).AngleTo(b.TangentAt(at)), 1e-6)
			}
		}
	})
}

func TestSimilarityThenAppliesTheFirstFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := genSimilarity().Draw(t, "m"), genSimilarity().Draw(t, "n")
		p := genPoint(100).Draw(t, "p")
		require.InDelta(t, 0, m.Then(n).Apply(p).Dist(n.Apply(m.Apply(p))), 1e-7)
		require.InEpsilon(t, m.Scale()*n.Scale(), m.Then(n).Scale(), 1e-12)
		require.Equal(t, m.Mirrors() != n.Mirrors(), m.Then(n).Mirrors())
	})
}

func TestSimilarityConstructorsDoWhatTheySay(t *testing.T) {
	near := func(want, got Point) { t.Helper(); require.InDelta(t, 0, want.Dist(got), 1e-12) }
	near(Point{4, 6}, Translation(Vec{3, 4}).Apply(Point{1, 2}))
	near(Point{1, 3}, Rotation(Point{1, 2}, math.Pi/2).Apply(Point{2, 2}))
	near(Point{1, 2}, Scaling(Point{1, 2}, 3).Apply(Point{1, 2}))
	near(Point{4, 2}, Scaling(Point{1, 2}, 3).Apply(Point{2, 2}))
	near(Point{3, 1}, Reflection(Point{0, 0}, Vec{2, 2}).Apply(Point{1, 3}))
	near(Point{5, 9}, Frame(Point{5, 7}, Vec{0, 2}).Apply(Point{1, 0}))
	near(Point{3, 7}, Frame(Point{5, 7}, Vec{0, 2}).Apply(Point{0, 1}))
}

func TestPathBoundsHoldEverySegment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		box := EmptyBox()
		for i := range p.Segments() {
			box = box.Union(p.Segment(i).Bounds())
		}
		require.Equal(t, box, p.Bounds())
	})
	require.True(t, Path{}.Bounds().Empty())
	require.Equal(t, Box{Point{1, 2}, Point{1, 2}}, Open(Point{1, 2}).Bounds())
	require.Equal(t, Box{Point{-5, -6}, Point{7, 6}}, Circle(Point{1, 0}, 6).Bounds())
}

func TestSegmentsJoinToTheirPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		var segments []Segment
		var parts []Path
		for i := range p.Segments() {
			segments = append(segments, p.Segment(i))
			parts = append(parts, FromSegments(p.Segment(i)))
		}
		chain := FromSegments(segments...)
		require.Equal(t, chain, Join(Coincident, parts...))
		if p.Closed {
			require.Equal(t, p, chain.Close(Coincident))
		} else {
			require.Equal(t, p, chain)
		}
	})
}

func TestJoinBridgesGapsWithLines(t *testing.T) {
	a, b := Open(Point{0, 0}, Point{10, 0}), Open(Point{10, 0.5}, Point{20, 0})
	require.Equal(t, Open(Point{0, 0}, Point{10, 0}, Point{10, 0.5}, Point{20, 0}), Join(0.1, a, Path{}, b))
	require.Equal(t, Open(Point{0, 0}, Point{10, 0.5}, Point{20, 0}), Join(0.5, a, b))
	require.Empty(t, Join(1).V)
	circle := Join(Coincident, Circle(Point{}, 5))
	require.Equal(t, 2, circle.Segments())
	require.InDelta(t, 10*math.Pi, circle.Length(), 1e-12)
}

func TestCloseMergesEndsThatMeet(t *testing.T) {
	triangle := []Point{{0, 0}, {10, 0}, {0, 10}}
	require.Equal(t, Closed(triangle...), Open(triangle...).Close(Coincident))
	require.Equal(t, Closed(triangle...), Open(append(triangle, Point{0, 1e-9})...).Close(Coincident))
	require.Equal(t, Closed(triangle...), Closed(triangle...).Close(Coincident))
}

func TestNoFunctionChangesTheVerticesItIsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		before := append([]Vertex(nil), p.V...)
		p.Reverse()
		p.Transform(Translation(Vec{1, 1}))
		q := p.Close(1e9)
		Join(1e9, p, q, p)
		p.Flatten(1)
		r := NewRuler(p)
		r.Sub(0, r.Length()/2)
		require.Equal(t, before, p.V)
	})
}

func TestEmptyPathAnswersQuietly(t *testing.T) {
	for _, p := range []Path{{}, {Closed: true}, Open(Point{1, 1})} {
		require.Zero(t, p.Segments())
		require.Zero(t, p.Length())
		require.Zero(t, p.Area())
		require.False(t, p.Contains(Point{1, 1}))
		require.Len(t, p.Flatten(0.1), len(p.V))
		require.Len(t, p.Reverse().V, len(p.V))
		require.True(t, p.Finite())
	}
	require.False(t, Open(Point{math.NaN(), 0}).Finite())
	require.False(t, Path{V: []Vertex{{Point{}, math.Inf(1)}}}.Finite())
}

func TestFlattenedPathKeepsWithinTheChordError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		e := rapid.SampledFrom([]float64{1, 0.1, 0.01}).Draw(t, "error")
		points := p.Flatten(e)
		chords := Path{Closed: p.Closed}
		for _, q := range points {
			require.InDelta(t, 0, distanceFrom(p, q), 1e-7)
			chords.V = append(chords.V, Vertex{Point: q})
		}
		for i := range p.Segments() {
			for k := range 50 {
				require.LessOrEqual(t, distanceFrom(chords, p.Segment(i).At(float64(k)/49)), e+1e-7)
			}
		}
		if p.Closed {
			require.Equal(t, p.Start(), points[0])
		} else {
			require.Equal(t, p.End(), points[len(points)-1])
		}
	})
}

func TestFlattenTakesTheFewestChords(t *testing.T) {
	// A circle in n chords rises r (1 - cos(pi/n)).
	for _, n := range []int{4, 12, 40, 100, 1000} {
		const r = 50
		half := math.Sin(math.Pi / float64(2*n))
		rise := 2 * r * half * half
		require.Len(t, Circle(Point{3, 4}, r).Flatten(rise), n)
		require.Len(t, Circle(Point{3, 4}, r).Flatten(rise*0.999), n+2)
	}
	require.Len(t, Circle(Point{}, 1).Flatten(100), 4)
	require.Len(t, Open(Point{0, 0}, Point{5, 0}, Point{9, 0}).Flatten(0.1), 3)
}

func TestFlattenedAreaIsThePolygons(t *testing.T) {
	// A regular polygon of n corners on a circle has the area n/2 r^2 sin(2 pi/n).
	points := Circle(Point{100, 100}, 50).Flatten(0.01)
	n := float64(len(points))
	require.InEpsilon(t, n/2*2500*math.Sin(2*math.Pi/n), Closed(points...).Area(), 1e-12)
}

func TestCircleContainsWhatIsNearerThanItsRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, p := genPoint(50).Draw(t, "centre"), genPoint(100).Draw(t, "p")
		r := rapid.Float64Range(1, 80).Draw(t, "radius")
		d := c.Dist(p)
		if math.Abs(d-r) < 1e-9 {
			t.Skip("on the circle")
		}
		require.Equal(t, d < r, Circle(c, r).Contains(p))
		require.Equal(t, d < r, Circle(c, r).Reverse().Contains(p))
	})
	// Points on the common chord of both halves.
	for _, x := range []float64{-5.9, -1, 0, 1, 5.9} {
		require.Equal(t, 1, Circle(Point{}, 6).Winding(Point{x, 0}))
		require.Equal(t, -1, Circle(Point{}, 6).Reverse().Winding(Point{x, 0}))
		upright := Path{Closed: true, V: []Vertex{{Point{0, 6}, 1}, {Point{0, -6}, 1}}}
		require.Equal(t, 1, upright.Winding(Point{0, x}))
	}
}

func TestWindingIsThatOfTheFlattenedPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath().Draw(t, "path")
		q := genPoint(300).Draw(t, "q")
		loop := p.Close(0)
		if distanceFrom(loop, q) < 0.02 {
			t.Skip("on the path")
		}
		require.Equal(t, turns(p.Flatten(0.01), q), p.Winding(q))
		require.Equal(t, -p.Winding(q), p.Reverse().Winding(q))
	})
}

// turns counts how often the closed polygon goes round q by adding up angles.
func turns(points []Point, q Point) int {
	sum := 0.0
	for i, p := range points {
		sum += p.Sub(q).AngleTo(points[(i+1)%len(points)].Sub(q))
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

func BenchmarkFlatten(b *testing.B) {
	for _, e := range []struct {
		name  string
		error float64
	}{{"0.1mm", 0.1}, {"0.01mm", 0.01}, {"0.001mm", 0.001}} {
		b.Run("scallops60/"+e.name, func(b *testing.B) {
			p := scallopedPanel(60, 60, 24)
			for b.Loop() {
				p.Flatten(e.error)
			}
		})
	}
	b.Run("square/0.01mm", func(b *testing.B) {
		p := Closed(Point{0, 0}, Point{10, 0}, Point{10, 10}, Point{0, 10})
		for b.Loop() {
			p.Flatten(0.01)
		}
	})
}

func BenchmarkContains(b *testing.B) {
	p := scallopedPanel(60, 60, 24)
	q := p.Bounds().Centre()
	for b.Loop() {
		p.Contains(q)
	}
}

// scallopedPanel is a straight-topped panel 400 mm high with n scallops of one
// arc each along its lower edge.
func scallopedPanel(n int, width, depth float64) Path {
	var v []Vertex
	for i := range n {
		v = append(v, Vertex{Point{float64(i) * width, 0}, 2 * depth / width})
	}
	w := float64(n) * width
	return Path{Closed: true, V: append(v,
		Vertex{Point: Point{w, 0}}, Vertex{Point: Point{w, 400}}, Vertex{Point: Point{0, 400}})}
}
