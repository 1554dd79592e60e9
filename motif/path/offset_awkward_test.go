package path

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// offsetStress is 100,000 and more for a long run, which takes some 10 s.
var offsetStress = flag.Int("offset-stress", 10000, "awkward paths that are offset")

// awkwardPath returns a path with everything that goes wrong: crossings,
// vertices on lines, overlaps, doubling back, circles, touches, tiny segments.
func awkwardPath(rng *rand.Rand) Path {
	n := rng.IntN(12)
	p := Path{Closed: rng.IntN(3) > 0}
	grid := []float64{1, 2, 5, 0.5}[rng.IntN(4)]
	bulges := []float64{0, 0, 0, 1, -1, 0.5, -0.5, math.Sqrt2 - 1, 1e-7, -1e-5, 3, -20, 200}
	walk := Point{}
	free := rng.IntN(3) == 0
	for range n {
		v := Vertex{Point: Point{grid * float64(rng.IntN(8)), grid * float64(rng.IntN(8))}}
		switch {
		case free:
			walk = walk.Add(Vec{rng.NormFloat64() * 5, rng.NormFloat64() * 5})
			v.Point = walk
		case rng.IntN(10) == 0 && len(p.V) > 0: // as good as the one before
			v.Point = p.V[len(p.V)-1].Add(Vec{rng.NormFloat64(), rng.NormFloat64()}.Mul(math.Pow(10, -3-9*rng.Float64())))
		case rng.IntN(12) == 0:
			v.X += 1e-7 * rng.NormFloat64()
		}
		if rng.IntN(2) == 0 {
			v.Bulge = bulges[rng.IntN(len(bulges))]
			if rng.IntN(3) == 0 {
				v.Bulge = rng.NormFloat64()
			}
		}
		p.V = append(p.V, v)
	}
	return p
}

// awkwardDistance returns a distance that fits the grid of awkwardPath now and
// then.
func awkwardDistance(rng *rand.Rand) float64 {
	d := []float64{0.25, 0.5, 1, 2, 2.5, 5, 1e-5, 1e-4, 100}[rng.IntN(9)]
	if rng.IntN(2) == 0 {
		d = rng.Float64() * 10
	}
	if rng.IntN(2) == 0 {
		d = -d
	}
	return d
}

func TestOffsetOfAwkwardPathsKeepsItsDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	corners := []Corner{{}, {}, {Kind: Mitred}, {Kind: Squared}, {Kind: Mitred, Limit: 20}}
	var outlines, chains, places, refused int
	for i := range *offsetStress {
		p, d, corner := awkwardPath(rng), awkwardDistance(rng), corners[rng.IntN(len(corners))]
		out, err := p.Offset(d, corner)
		if err != nil {
			require.ErrorContains(t, err, "where it crosses itself or as good as does")
			if p.Simple() {
				refused++
			}
			continue
		}
		if corner.Kind == Rounded && (!p.Closed || p.Simple()) {
			for _, x := range clearPlaces(p, d) {
				places++
				if lost := nearest(x, out); lost > 1e-6 {
					t.Errorf("case %d: the offset misses %v by %g: %#v by %g", i, x, lost, p, d)
				}
			}
		}
		for _, q := range out {
			require.True(t, q.Finite())
			require.True(t, q.Closed || !p.Closed)
			if q.Closed {
				outlines++
			} else {
				chains++
			}
		}
		if off := offsetError(p, d, out, corner.Kind == Rounded); off > 1e-6 {
			t.Errorf("case %d: off by %g: %#v by %g, corner %v", i, off, p, d, corner)
		}
	}
	// Even what nowhere meets itself may as good as do so, within some 1e-6.
	t.Logf("%d outlines and %d chains; %d paths refused that nowhere meet themselves", outlines, chains, refused)
	require.LessOrEqual(t, refused, *offsetStress/5000)
	require.Greater(t, places, *offsetStress/2)
	require.Greater(t, outlines, *offsetStress/5)
	require.Greater(t, chains, *offsetStress/8)
}

// clearPlaces returns places beside p, at the distance d and clearly no nearer
// to anything else: the offset goes through them. Places beside segments below
// 1e-3 are left out.
func clearPlaces(p Path, d float64) []Point {
	const more = 1e-4
	var places []Point
	for i := range p.Segments() {
		s := p.Segment(i)
		if s.Length() < 1e-3 {
			continue
		}
		for _, r := range []float64{0.03, 0.27, 0.5, 0.71, 0.98} {
			n := s.TangentAt(r).Right().Mul(math.Copysign(1, d))
			x, y := s.At(r).Add(n.Mul(math.Abs(d))), s.At(r).Add(n.Mul(math.Abs(d)+more))
			if distance(x, p) >= math.Abs(d)-1e-9 && distance(y, p) >= math.Abs(d)+more-1e-9 {
				places = append(places, x)
			}
		}
	}
	return places
}

// nearest returns the distance from the point to the paths.
func nearest(p Point, paths []Path) float64 {
	dist := math.Inf(1)
	for _, q := range paths {
		dist = min(dist, distance(p, q))
	}
	return dist
}

// Found by long runs of the test above, each for what its name says.
func TestOffsetOfPathsThatOnceWentWrong(t *testing.T) {
	v := func(x, y, bulge float64) Vertex { return Vertex{Point{x, y}, bulge} }
	shut := func(v ...Vertex) Path { return Path{V: v, Closed: true} }
	for _, c := range []struct {
		name   string
		p      Path
		d      float64
		corner Corner
	}{
		{"tiny arc beside a corner", shut(v(2, 0, 0), v(2.000252, -0.000516, -1.081), v(5, 5, -1)), -0.25, Corner{Mitred, 20}},
		{"mitre's extension met by the next arc", shut(v(3, 2.5, 0), v(1, 3, 0), v(0.99893, 2.99923, 0.66695), v(0.5, 1, 3), v(1.5, 2.5, 0.41421)), 2.5, Corner{Kind: Squared}},
		{"arc leaves straight back", shut(v(15, 10, 0), v(10, 5, -1), v(15, 0, 0.68532), v(5, 0, -1.83474)), -0.5, Corner{Mitred, 20}},
		{"cut of a square corner beyond its distance", Path{V: []Vertex{v(2, 3, 0), v(7, 2, 0), v(6, 1, 0), v(4, 5, 0), v(5, 4, 0), v(1, 7, 0), v(6, 2, 0)}}, -2, Corner{Kind: Squared}},
		{"vertex on another segment in line with the boxes", shut(v(12, 10, -0.75085), v(6, 10, 0.54928), v(2, 10, 0)), -0.0001, Corner{Kind: Squared}},
		{"neighbour crosses beside the joint", shut(v(7, 7, 0), v(1, 7, -20), v(4, 3, 0), v(4, 6, 1.83484)), -2, Corner{Kind: Squared}},
		{"mitre reaches through the far side", shut(v(8, 6, 0), v(10, 10, -0.5), v(2, 10, 0.95821), v(14, 4, 0), v(6, 4, math.Sqrt2-1)), -0.5, Corner{Mitred, 20}},
		{"cusp of a line and an arc", shut(v(3, 2.5, 0), v(1, 0, math.Sqrt2-1), v(0.4999999899143776, 0, 0)), -5.98855, Corner{}},
		{"two branches end in one place", Path{V: []Vertex{v(4, 4, -0.01971), v(2, 5, 0), v(3, 1, 0), v(5, 2, 0), v(6, 0, -0.2994), v(3, 6, 0), v(3, 0, -1), v(4, 1, 0.5), v(2, 5, 0)}}, 0.25, Corner{}},
		{"end of a semicircle met along its tangent", shut(v(4, 6, 0), v(3.999667527631837, 6.000153423702615, 0)), 2.681153546449244, Corner{}},
		{"vertices nearly in one place", Path{V: []Vertex{v(15, 10, 0), v(35, 0, 0), v(20, 15, -0.58976), v(35, 35, 0), v(5, 15, 0), v(0, 5, 0), v(10, 25, -0.25734), v(2.1481052157347356e-07, 5, 0.5)}}, -1.978290957766059, Corner{}},
		{"two arcs as good as on one another round a tiny tip", Path{V: []Vertex{v(-10, 0, 0), v(-1.2e-4, 0, 0), v(0, 2.9e-8, 0), v(1.2e-4, 0, 0), v(10, 0, 0)}}, 6, Corner{}},
		{"whole circle of two halves from a tiny chord", shut(v(12, 12, 0), v(11.999999994711489, 11.999999998676198, 200)), 0.25, Corner{Kind: Squared}},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := c.p.Offset(c.d, c.corner)
			if err != nil {
				require.False(t, c.p.Simple(), "%v", err)
			}
			require.LessOrEqual(t, offsetError(c.p, c.d, out, c.corner.Kind == Rounded), 1e-6)
			if c.corner.Kind != Rounded || c.p.Closed && !c.p.Simple() {
				return
			}
			for _, x := range clearPlaces(c.p, c.d) {
				require.LessOrEqual(t, nearest(x, out), 1e-6, "%v", x)
			}
		})
	}
}

// Its arcs cross one another 0.0003 mm above the tip.
func TestOffsetGoesRoundATipThatLeansOverItself(t *testing.T) {
	v := func(x, y, bulge float64) Vertex { return Vertex{Point{x, y}, bulge} }
	p := Path{V: []Vertex{v(-2, 0.461577, 0), v(-0.192215, 0.461577, -0.2), v(0, 0, -0.2), v(0.192215, 0.461577, 0), v(2, 0.461577, 0)}}
	require.Less(t, p.Segment(1).EndTangent().X, 0.0)
	for _, q := range []Path{p, p.Reverse()} {
		d := 4.5
		if q.Start() != p.Start() {
			d = -d
		}
		out, err := q.Offset(d, Corner{})
		require.NoError(t, err)
		require.Len(t, out, 1)
		require.InDelta(t, d, out[0].Start().Dist(q.Start())*math.Copysign(1, d), 1e-9)
		require.InDelta(t, 0, nearest(Point{0, -4.5}, out), 1e-6)
		require.LessOrEqual(t, offsetError(q, d, out, true), 1e-6)
	}
}
