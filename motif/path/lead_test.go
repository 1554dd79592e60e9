package path

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPathIsLedOnAlongItsLastLineOrCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(5, 500).Draw(t, "radius")
		sweep := rapid.Float64Range(0.01, 1.8*math.Pi).Draw(t, "sweep") * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		by := rapid.Float64Range(0.001, 0.5*radius).Draw(t, "length")
		arc := Segment{B: Point{X: 2 * radius * math.Sin(math.Abs(sweep)/2)}, Bulge: math.Tan(sweep / 4)}
		p := Join(0, Open(Point{}.Add(arc.StartTangent().Mul(-10)), Point{}), FromSegments(arc))
		longer := p.LeadOn(by)
		require.InDelta(t, p.Length()+by, longer.Length(), 1e-9*radius)
		require.Equal(t, p.Start(), longer.Start())
		s := longer.Segment(1)
		require.InDelta(t, 0, s.Centre().Dist(arc.Centre()), 1e-6*radius)
		for i := 1; i < longer.Segments(); i++ {
			require.InDelta(t, 0, longer.Segment(i-1).EndTangent().AngleTo(longer.Segment(i).StartTangent()), 1e-6)
		}
	})
}

func TestLineIsLedOnStraight(t *testing.T) {
	require.Equal(t, Open(Point{}, Point{X: 5}), Open(Point{}, Point{X: 3}).LeadOn(2))
	require.Equal(t, Path{}, Path{}.LeadOn(2))
}
