package path

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
)

// randomPanel returns a garment panel with a slightly curved waist, slanted
// sides and a hem of scallops, points or waves along an arc; its sides are the
// first and the last but one segment after the hem.
func randomPanel(r *rand.Rand) (panel Path, right, left Segment) {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	width, height := between(150, 600), between(200, 700)
	hem := Segment{Point{0, 0}, Point{width, between(-40, 40)}, between(-0.2, 0.3)}
	n := 2 + r.IntN(8)
	kind := r.IntN(3)
	depth := between(0.1, 0.9)
	var v []Vertex
	for i := range n {
		a, b := hem.At(float64(i)/float64(n)), hem.At(float64(i+1)/float64(n))
		c := b.Sub(a)
		switch kind {
		case 0: // a scallop
			v = append(v, Vertex{a, depth})
		case 1: // a point
			v = append(v, Vertex{Point: a}, Vertex{Point: a.Lerp(b, 0.5).Add(c.Right().Mul(depth / 2))})
		default: // a wave
			v = append(v, Vertex{a, depth}, Vertex{a.Lerp(b, 0.5), -depth})
		}
	}
	top := between(0.4, 0.9) * width
	rightTop, leftTop := Point{width/2 + top/2, height}, Point{width/2 - top/2, height + between(-20, 20)}
	v = append(v, Vertex{Point: hem.B}, Vertex{rightTop, -between(0, 0.2)}, Vertex{Point: leftTop})
	return Path{V: v, Closed: true}, Line(hem.B, rightTop), Line(leftTop, hem.A)
}

// band returns a strip across the panel that ends on both its sides.
func band(r *rand.Rand, right, left Segment) Path {
	lo := 0.1 + 0.4*r.Float64()
	hi := lo + 0.05 + 0.3*r.Float64()
	return Closed(left.At(1-lo), right.At(lo), right.At(hi), left.At(1-hi))
}

// simplefeaturesPolygon returns the outline's chords as a polygon of simplefeatures, an
// independent library, and whether it passes that one's own check.
func simplefeaturesPolygon(p Path, chordError float64) (geom.Geometry, bool) {
	var xy []float64
	points := p.Flatten(chordError)
	for _, q := range append(points, points[0]) {
		xy = append(xy, q.X, q.Y)
	}
	g := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))}).AsGeometry()
	return g, g.Validate() == nil
}

func areaOf(paths []Path) float64 {
	sum := 0.0
	for _, p := range paths {
		sum += p.Area()
	}
	return sum
}

func TestBooleansOfShapedOutlinesAgreeWithSimplefeatures(t *testing.T) {
	const (
		cases      = 2100
		chordError = 0.05
	)
	r := rand.New(rand.NewPCG(3, 4))
	referenceOp := [...]func(a, b geom.Geometry) (geom.Geometry, error){geom.Union, geom.Intersection, geom.Difference}
	var worst, worstOverlap, vertices float64
	tried := 0
	for tried < cases {
		a, right, left := randomPanel(r)
		var b Path
		if tried%4 == 0 {
			b = band(r, right, left)
		} else {
			b, _, _ = randomPanel(r)
			b = b.Transform(Rotation(b.Bounds().Centre(), 2*math.Pi*r.Float64()).
				Then(Translation(Vec{300 * (r.Float64() - 0.5), 300 * (r.Float64() - 0.5)})))
		}
		m := Rotation(Point{}, 2*math.Pi*r.Float64()).Then(Translation(Vec{1000 * r.Float64(), 1000 * r.Float64()}))
		a, b = a.Transform(m), b.Transform(m)
		ga, plainA := simplefeaturesPolygon(a, chordError)
		gb, plainB := simplefeaturesPolygon(b, chordError)
		if !plainA || !plainB {
			continue // the draw made neighbouring scallops cross
		}
		op := Op(tried % 3)
		out, err := Boolean(op, []Path{a}, []Path{b}, chordError)
		require.NoError(t, err)
		want, err := referenceOp[op](ga, gb)
		require.NoError(t, err)
		overlap, err := OverlapArea(a, b, chordError)
		require.NoError(t, err)
		both, err := geom.Intersection(ga, gb)
		require.NoError(t, err)

		// Snapping moves each vertex by up to 0.00071 mm and T-vertices by 0.0015.
		slack := 0.0008 * (a.Length() + b.Length())
		d, e := math.Abs(areaOf(out)-want.Area()), math.Abs(overlap-both.Area())
		require.LessOrEqual(t, d, slack, "case %d, %v", tried, op)
		require.LessOrEqual(t, e, 1e-6*min(ga.Area(), gb.Area()), "case %d", tried)
		worst, worstOverlap = max(worst, d), max(worstOverlap, e)
		vertices += float64(len(a.Flatten(chordError)) + len(b.Flatten(chordError)))
		tried++
	}
	t.Logf("%d pairs of outlines, %.0f vertices each on average: largest difference of area %.4f mm^2 (booleans), %.1e mm^2 (overlap)",
		cases, vertices/cases/2, worst, worstOverlap)
}

func square(x, y, side float64) Path {
	return Closed(Point{x, y}, Point{x + side, y}, Point{x + side, y + side}, Point{x, y + side})
}

func TestBooleansOfSquares(t *testing.T) {
	a, b := square(0, 0, 10), square(6, 4, 10)
	for _, c := range []struct {
		op       Op
		a, b     []Path
		outlines int
		area     float64
		box      Box
	}{
		{Union, []Path{a}, []Path{b}, 1, 176, Box{Point{0, 0}, Point{16, 14}}},
		{Intersection, []Path{a}, []Path{b}, 1, 24, Box{Point{6, 4}, Point{10, 10}}},
		{Difference, []Path{a}, []Path{b}, 1, 76, Box{Point{0, 0}, Point{10, 10}}},
		{Difference, []Path{a}, []Path{square(4, 4, 2)}, 2, 96, Box{Point{0, 0}, Point{10, 10}}},
		{Difference, []Path{a}, []Path{Closed(Point{4, -1}, Point{6, -1}, Point{6, 11}, Point{4, 11})}, 2, 80, Box{Point{0, 0}, Point{10, 10}}},
		{Union, []Path{a}, []Path{square(20, 0, 1)}, 2, 101, Box{Point{0, 0}, Point{21, 10}}},
		{Union, []Path{a}, []Path{square(10, 0, 10)}, 1, 200, Box{Point{0, 0}, Point{20, 10}}},
		{Intersection, []Path{a}, []Path{square(20, 0, 1)}, 0, 0, EmptyBox()},
		{Intersection, []Path{a}, []Path{square(10, 0, 10)}, 0, 0, EmptyBox()},
		{Intersection, []Path{a}, []Path{a.Reverse()}, 1, 100, a.Bounds()},
		{Difference, []Path{a}, []Path{a}, 0, 0, EmptyBox()},
		{Difference, []Path{a}, nil, 1, 100, a.Bounds()},
		{Union, nil, []Path{a.Reverse()}, 1, 100, a.Bounds()},
		{Intersection, nil, []Path{a}, 0, 0, EmptyBox()},
		{Union, nil, nil, 0, 0, EmptyBox()},
		// A square with a hole, and another over the hole.
		{Intersection, []Path{a, square(2, 2, 6)}, []Path{b}, 1, 24 - 8, Box{Point{6, 4}, Point{10, 10}}},
	} {
		out, err := Boolean(c.op, c.a, c.b, 0.01)
		require.NoError(t, err)
		require.Len(t, out, c.outlines)
		require.InDelta(t, c.area, areaOf(out), 1e-9)
		box := EmptyBox()
		for _, p := range out {
			require.True(t, p.Closed)
			box = box.Union(p.Bounds())
		}
		require.Equal(t, c.box, box)
	}
}

func TestHolesRunClockwise(t *testing.T) {
	out, err := Boolean(Difference, []Path{Circle(Point{}, 50)}, []Path{Circle(Point{5, 5}, 20)}, 0.001)
	require.NoError(t, err)
	require.Len(t, out, 2)
	require.Negative(t, out[0].Area()*out[1].Area())
	require.InDelta(t, math.Pi*(2500-400), areaOf(out), 0.3)
}

// The area that two circles share is the sum of two circular segments.
func TestOverlapOfCirclesIsTheLens(t *testing.T) {
	const r, d = 40, 30
	half := math.Acos(float64(d) / 2 / r)
	lens := 2 * (r*r*half - d/2*r*math.Sin(half))
	got, err := OverlapArea(Circle(Point{}, r), Circle(Point{d, 0}, r).Reverse(), 1e-4)
	require.NoError(t, err)
	require.InDelta(t, lens, got, 4*r*half*1e-4)
	require.Less(t, got, lens) // chords are inscribed

	got, err = OverlapArea(Circle(Point{}, r), Circle(Point{2 * r, 0}, r), 1e-3)
	require.NoError(t, err)
	require.Zero(t, got)
	got, err = OverlapArea(square(0, 0, 10), square(10, 0, 10), 1e-3)
	require.NoError(t, err)
	require.InDelta(t, 0, got, 1e-12)
	got, err = OverlapArea(square(0, 0, 10), square(0, 0, 10), 1e-3)
	require.NoError(t, err)
	require.InDelta(t, 100, got, 1e-12)
}

// A panel of two scallops and its copy shifted by one of them: swept from left
// to right, the clipper loses a part of the difference.
func TestPartLostByTheClipperIsFoundTheOtherWay(t *testing.T) {
	a := Path{Closed: true, V: []Vertex{
		{Point{0, 0}, 0.11124107612316525},
		{Point{77.38653389229725, 25.124644419344854}, 0.11124107612316525},
		{Point{157.74112910874155, 37.8942337887637}, 0},
		{Point{138.2078891418907, 649.2657112116077}, -0.0501786938901597},
		{Point{19.53323996685085, 639.2135638116887}, 0},
	}}
	b := a.Transform(Translation(a.V[1].Sub(a.V[0].Point)))
	shared, err := OverlapArea(a, b, 0.05)
	require.NoError(t, err)
	out, err := Boolean(Difference, []Path{a}, []Path{b}, 0.05)
	require.NoError(t, err)
	require.InDelta(t, Closed(a.Flatten(0.05)...).Area()-shared, areaOf(out), 0.5)
}

func TestPanicAndHangOfTheClipperAreErrors(t *testing.T) {
	_, err := guarded(time.Hour, func() region { panic("index out of range") })
	require.EqualError(t, err, "the clipper broke off: index out of range")

	release := make(chan struct{})
	defer close(release)
	_, err = guarded(time.Millisecond, func() region { <-release; return nil })
	require.ErrorIs(t, err, errHung)
}

func TestBooleanRefusesWhatIsNoRegion(t *testing.T) {
	a := square(0, 0, 10)
	bow := Closed(Point{0, 0}, Point{10, 10}, Point{10, 0}, Point{0, 10})
	for name, c := range map[string]struct {
		a, b  []Path
		error float64
		want  string
	}{
		"open":              {[]Path{a, Open(Point{}, Point{1, 0}, Point{1, 1})}, []Path{a}, 0.1, "outline 2 of the first is open; close it"},
		"not a number":      {[]Path{a}, []Path{Closed(Point{}, Point{1, math.NaN()}, Point{1, 1})}, 0.1, "outline 1 of the second has a coordinate that is not a number"},
		"far away":          {[]Path{square(2e6, 0, 1)}, nil, 0.1, "reaches 2.000001e+06 mm from the origin"},
		"bow tie":           {[]Path{bow}, []Path{a}, 0.1, "the first outline, 10.0 x 10.0 mm, crosses itself"},
		"laid on another":   {[]Path{a}, []Path{a, square(5, 5, 10)}, 0.1, "(50.000 mm^2 count twice)"},
		"no chord error":    {[]Path{a}, []Path{a}, 0, "chord error 0 mm is no distance above 0"},
		"NaN chord error":   {[]Path{a}, []Path{a}, math.NaN(), "chord error NaN mm"},
		"too many chords":   {[]Path{Circle(Point{}, 1e5)}, []Path{a}, 1e-4, "the first has more than 20000 chords"},
		"too many in all":   {[]Path{Circle(Point{}, 1e5)}, []Path{Circle(Point{}, 1e5)}, 2e-3, "chords in all are more than 20000"},
		"no such operation": {nil, nil, 0.1, "operation 9 is none of"},
	} {
		t.Run(name, func(t *testing.T) {
			op := Union
			if name == "no such operation" {
				op = 9
			}
			_, err := Boolean(op, c.a, c.b, c.error)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := OverlapArea(bow, a, 0.1)
	require.ErrorContains(t, err, "crosses itself")
	_, err = OverlapArea(a, Open(Point{}, Point{1, 1}), 0.1)
	require.ErrorContains(t, err, "outline 1 of the second is open")
}

func BenchmarkBoolean(b *testing.B) {
	for _, n := range []int{6, 60} {
		p := scallopedPanel(n, 60, 24)
		q := p.Transform(Translation(Vec{100, 33}))
		name := fmt.Sprintf("/scallops%d/%dchords", n, len(p.Flatten(0.05)))
		b.Run("intersection"+name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Boolean(Intersection, []Path{p}, []Path{q}, 0.05); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("overlap"+name, func(b *testing.B) {
			for b.Loop() {
				if _, err := OverlapArea(p, q, 0.05); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
