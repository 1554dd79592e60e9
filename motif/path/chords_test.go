package path_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

// between returns how far the polyline and the path are apart at most, measured
// from both.
func between(p path.Path, points []path.Point) float64 {
	line := path.Path{Closed: p.Closed}
	for _, q := range points {
		line.V = append(line.V, path.Vertex{Point: q})
	}
	far := func(from, to path.Path) float64 {
		worst := 0.0
		r := path.NewRuler(to)
		for i := range from.Segments() {
			for k := range 17 {
				_, d := r.Nearest(from.Segment(i).At(float64(k) / 16))
				worst = max(worst, d)
			}
		}
		return worst
	}
	return max(far(p, line), far(line, p))
}

func TestCircleHasTheFewestChordsThereCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1, 2000).Draw(t, "radius")
		e := rapid.Float64Range(0.002, 0.1).Draw(t, "error")
		points := path.Circle(path.Point{X: 3, Y: -8}, r).Chords(e)
		// Points at r+e, chords that touch r-e.
		least := max(4, math.Ceil(math.Pi/math.Acos((r-e)/(r+e))-1e-9))
		require.Len(t, points, int(least))
		require.LessOrEqual(t, between(path.Circle(path.Point{X: 3, Y: -8}, r), points), e*(1+1e-6))
	})
}

func TestArcBetweenCornersHasTheFewestChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1, 2000).Draw(t, "radius")
		e := rapid.Float64Range(0.002, 0.1).Draw(t, "error")
		sweep := rapid.Float64Range(0.01, 6).Draw(t, "sweep") * float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "turn"))
		arc := path.FromSegments(path.Arc(path.Point{}, r, 0.3, sweep))
		points := arc.Chords(e)
		n := float64(len(points) - 1)
		require.Equal(t, arc.Start(), points[0])
		require.Equal(t, arc.End(), points[len(points)-1])
		require.LessOrEqual(t, between(arc, points), e*(1+1e-6))
		// With one chord fewer, the first and last from the arc's ends to r+e and
		// the others between points there, all touching r-e, do not reach.
		inner, end := math.Acos((r-e)/(r+e)), math.Acos((r-e)/r)
		if fewer := n - 1; inner < math.Pi/4 {
			switch {
			case fewer == 1:
				require.Less(t, 2*end, math.Abs(sweep)*(1+1e-9))
			case fewer > 1:
				require.Less(t, 2*(inner+end)+2*inner*(fewer-2), math.Abs(sweep)*(1+1e-9))
			}
		}
	})
}

// smoothPath draws arcs and lines of which most run smoothly into the next.
func smoothPath(t *rapid.T) path.Path {
	var segments []path.Segment
	at, along := path.Point{}, path.Vec{X: 1}
	for range rapid.IntRange(1, 12).Draw(t, "segments") {
		if rapid.IntRange(0, 4).Draw(t, "corner") == 0 {
			along = along.Rotate(rapid.Float64Range(-2.5, 2.5).Draw(t, "turn"))
		}
		length := rapid.Float64Range(0.5, 80).Draw(t, "length")
		sweep := 0.0
		if rapid.IntRange(0, 3).Draw(t, "line") > 0 {
			sweep = rapid.Float64Range(-3, 3).Draw(t, "sweep")
		}
		to := at.Add(along.Rotate(sweep / 2).Mul(length))
		s := path.Segment{A: at, B: to, Bulge: math.Tan(sweep / 4)}
		segments = append(segments, s)
		at, along = to, s.EndTangent()
	}
	p := path.FromSegments(segments...)
	if rapid.Bool().Draw(t, "closed") && len(segments) > 1 {
		p.Closed = true
	}
	return p
}

func TestChordsKeepWithinTheErrorAndTheCorners(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := smoothPath(t)
		e := rapid.SampledFrom([]float64{0.005, 0.05, 0.5}).Draw(t, "error")
		points := p.Chords(e)
		require.LessOrEqual(t, between(p, points), e*(1+1e-6))
		require.LessOrEqual(t, len(points), len(p.Flatten(e)), "no more than with points on the curve")
		on := map[path.Point]bool{}
		for _, q := range points {
			on[q] = true
		}
		if !p.Closed {
			require.Equal(t, p.Start(), points[0])
			require.Equal(t, p.End(), points[len(points)-1])
		}
		for i := range p.Segments() {
			if i == 0 {
				continue
			}
			a, b := p.Segment(i-1), p.Segment(i)
			if math.Abs(a.EndTangent().AngleTo(b.StartTangent())) > 0.01 {
				require.True(t, on[b.A], "corner %d", i)
			}
		}
	})
}

// fewest returns how few chords an open path without corners can do with, as an
// exhaustive search finds them among points on the path, and beside it on both
// sides at the error and half of it.
func fewest(p path.Path, e float64, every float64) int {
	r := path.NewRuler(p)
	n := int(math.Ceil(r.Length() / every))
	sides := []float64{0, -e, -e / 2, e / 2, e}
	curve := make([]path.Point, n+1)
	candidates := make([][]path.Point, n+1)
	for i := range n + 1 {
		along := r.Length() * float64(i) / float64(n)
		curve[i] = r.At(along)
		out := r.TangentAt(along).Left()
		for _, d := range sides {
			candidates[i] = append(candidates[i], curve[i].Add(out.Mul(d)))
		}
	}
	best := make([][]int, n+1)
	for i := range best {
		best[i] = []int{math.MaxInt32, math.MaxInt32, math.MaxInt32, math.MaxInt32, math.MaxInt32}
	}
	best[0][0] = 0
	for i := range n {
		for a, had := range best[i] {
			if had == math.MaxInt32 {
				continue
			}
			from := candidates[i][a]
			for j := i + 1; j <= n; j++ {
				reached := false
				for b, to := range candidates[j] {
					if j == n && b > 0 {
						break // the end stays
					}
					along := to.Sub(from).Unit()
					within := true
					for k := i; k <= j && within; k++ {
						within = math.Abs(along.Cross(curve[k].Sub(from))) <= e*(1+1e-9)
					}
					if within {
						reached = true
						best[j][b] = min(best[j][b], had+1)
					}
				}
				if !reached && curve[j].Dist(from) > 4*every {
					break
				}
			}
		}
	}
	return best[n][0]
}

func TestHemsHaveHardlyMoreChordsThanTheFewest(t *testing.T) {
	arcs := func(bulges ...float64) path.Path {
		p := path.Path{}
		for i, b := range bulges {
			p.V = append(p.V, path.Vertex{Point: path.Point{X: 30 * float64(i)}, Bulge: b})
		}
		p.V = append(p.V, path.Vertex{Point: path.Point{X: 30 * float64(len(bulges))}})
		return p
	}
	sweep, err := path.CubicBezier{
		A: path.Point{}, C1: path.Point{X: 200, Y: -40}, C2: path.Point{X: 420, Y: -30}, B: path.Point{X: 600, Y: 60},
	}.Fit(path.FitTolerance)
	require.NoError(t, err)
	for name, hem := range map[string]path.Path{
		"waves":               arcs(0.4, -0.4, 0.4, -0.4, 0.4, -0.4),
		"waves of two depths": arcs(0.3, -0.3, 0.3, -0.3),
		"sweep of a skirt":    sweep,
	} {
		for _, e := range []float64{0.05, 0.2} {
			t.Run(name, func(t *testing.T) {
				points := hem.Chords(e)
				least := fewest(hem, e, hem.Length()/float64(len(points)-1)/25)
				t.Logf("error %g mm: %d chords, fewest found %d, with points on the curve %d", e, len(points)-1, least, len(hem.Flatten(e))-1)
				require.LessOrEqual(t, float64(len(points)-1), 1.1*float64(least))
			})
		}
	}
}

func TestChordsOfLittle(t *testing.T) {
	require.Empty(t, path.Path{}.Chords(0.1))
	require.Equal(t, []path.Point{{X: 1}}, path.Open(path.Point{X: 1}).Chords(0.1))
	line := path.Open(path.Point{}, path.Point{X: 5}, path.Point{X: 9})
	require.Equal(t, []path.Point{{}, {X: 5}, {X: 9}}, line.Chords(0.1))
}

func BenchmarkChords(b *testing.B) {
	hem := path.Path{}
	for i := range 60 {
		hem.V = append(hem.V, path.Vertex{Point: path.Point{X: 60 * float64(i)}, Bulge: 0.8})
	}
	var room []path.Point
	var c path.Chorder
	for b.Loop() {
		room = c.Append(room[:0], hem, 0.007)
	}
}
