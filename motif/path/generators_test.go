package path

import (
	"math"

	"pgregory.net/rapid"
)

func genPoint(size float64) *rapid.Generator[Point] {
	return rapid.Custom(func(t *rapid.T) Point {
		x := rapid.Float64Range(-size, size)
		return Point{x.Draw(t, "x"), x.Draw(t, "y")}
	})
}

// genBulge draws lines, nearly straight arcs, semicircles and arcs up to nine
// tenths of the circle.
func genBulge() *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		b := rapid.OneOf(
			rapid.Just(0.0),
			rapid.Just(1.0),
			rapid.Float64Range(0.01, 1),
			rapid.Float64Range(1, 6),
			rapid.Map(rapid.Float64Range(-12, -2), func(x float64) float64 { return math.Pow(10, x) }),
		).Draw(t, "bulge")
		if rapid.Bool().Draw(t, "right") {
			return -b
		}
		return b
	})
}

// genSegment draws segments at least 0.1 mm from end to end.
func genSegment() *rapid.Generator[Segment] {
	return rapid.Custom(func(t *rapid.T) Segment {
		a := genPoint(200).Draw(t, "a")
		chord := Direction(rapid.Float64Range(-4, 4).Draw(t, "direction")).Mul(rapid.Float64Range(0.1, 300).Draw(t, "chord"))
		return Segment{a, a.Add(chord), genBulge().Draw(t, "bulge")}
	})
}

// genPath draws chains of 1 to 8 segments, free to cross themselves.
func genPath() *rapid.Generator[Path] {
	return rapid.Custom(func(t *rapid.T) Path {
		n := rapid.IntRange(2, 8).Draw(t, "vertices")
		p := Path{Closed: rapid.Bool().Draw(t, "closed")}
		for range n {
			s := genSegment().Draw(t, "step")
			p.V = append(p.V, Vertex{s.A, s.Bulge})
		}
		if !p.Closed {
			p.V[n-1].Bulge = 0
		}
		return p
	})
}

func genSimilarity() *rapid.Generator[Similarity] {
	return rapid.Custom(func(t *rapid.T) Similarity {
		turn := Direction(rapid.Float64Range(-4, 4).Draw(t, "turn"))
		m := Frame(genPoint(100).Draw(t, "origin"), turn.Mul(rapid.Float64Range(0.1, 10).Draw(t, "scale")))
		if rapid.Bool().Draw(t, "mirrored") {
			axis := Direction(rapid.Float64Range(-4, 4).Draw(t, "axis"))
			m = m.Then(Reflection(genPoint(100).Draw(t, "mirror"), axis))
		}
		return m
	})
}
