package path_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

func TestLocatorFindsWhatLookingAtEveryPathFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var paths []path.Path
		for range rapid.IntRange(1, 6).Draw(t, "paths") {
			paths = append(paths, smoothPath(t))
		}
		l := path.NewLocator(paths...)
		for range 20 {
			p := path.Point{X: rapid.Float64Range(-300, 300).Draw(t, "x"), Y: rapid.Float64Range(-300, 300).Draw(t, "y")}
			enough := rapid.SampledFrom([]float64{0, 1, 50}).Draw(t, "enough")
			want := math.Inf(1)
			for _, q := range paths {
				_, d := path.NewRuler(q).Nearest(p)
				want = min(want, d)
			}
			got, which := l.Nearest(p, enough)
			_, own := path.NewRuler(paths[which]).Nearest(p)
			require.LessOrEqual(t, own, got+1e-9, "it is the distance to that path")
			if got > enough {
				require.InDelta(t, want, got, 1e-9)
			} else {
				require.GreaterOrEqual(t, got, want-1e-9)
			}
		}
	})
}

func TestLocatorOfNothingAndOfAPoint(t *testing.T) {
	for _, l := range []*path.Locator{path.NewLocator(), path.NewLocator(path.Path{}), path.NewLocator(path.Open(path.Point{X: math.NaN()}, path.Point{}))} {
		d, at := l.Nearest(path.Point{}, 0)
		require.True(t, math.IsInf(d, 1))
		require.Equal(t, -1, at)
	}
	d, at := path.NewLocator(path.Path{}, path.Open(path.Point{X: 3, Y: 4})).Nearest(path.Point{}, 0)
	require.InDelta(t, 5, d, 1e-12)
	require.Equal(t, 1, at)
}

func BenchmarkLocator(b *testing.B) {
	hem := path.Path{}
	for i := range 60 {
		hem.V = append(hem.V, path.Vertex{Point: path.Point{X: 60 * float64(i)}, Bulge: 0.8})
	}
	l := path.NewLocator(hem)
	points := hem.Chords(0.007)
	for b.Loop() {
		for _, p := range points {
			l.Nearest(p, 0.01)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(points)), "ns/point")
}

func TestPointJustOppositeAnArcIsAsFarAsItsEnds(t *testing.T) {
	// Rotated and moved, so that rounding falls either way.
	for i := range 2000 {
		at := path.Point{X: 0.37 * float64(i), Y: -0.21 * float64(i)}
		quarter := path.Arc(at, 2.5, 0.01*float64(i), -math.Pi/2)
		q := at.Add(path.Direction(0.01*float64(i) - math.Pi/4).Mul(-2.4))
		got, _ := path.NewLocator(path.FromSegments(quarter)).Nearest(q, 0)
		require.InDelta(t, min(q.Dist(quarter.A), q.Dist(quarter.B)), got, 1e-9)
	}
}
