package path

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	clipper "github.com/ctessum/go.clipper"
	"github.com/stretchr/testify/require"
)

var (
	offsetCases = flag.Int("offset-cases", 2000, "outlines whose offset is compared with the reference library")
	offsetChord = flag.Float64("offset-chord", 0.005, "chord error of that comparison, in mm")
)

// randomOutline returns a counter-clockwise outline like a garment panel: a
// shaped hem on a straight or curved line, sides and a top that are straight or
// curved.
func randomOutline(rng *rand.Rand) Path {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	width, height := between(100, 500), between(80, 400)
	n := 1 + rng.IntN(9)
	// The hem's places: on an arc from corner to corner, stepped evenly.
	hem := Segment{A: Point{0, 0}, B: Point{width, between(-40, 40)}}
	if rng.IntN(3) > 0 {
		hem.Bulge = between(-0.3, 0.3)
	}
	w := width / float64(n)
	depth := between(0.05, 0.7) * w
	kind := rng.IntN(5)
	flat := 0.
	if rng.IntN(3) == 0 {
		flat = between(0.02, 0.3)
	}
	var v []Vertex
	for i := range n {
		a, b := hem.At(float64(i)/float64(n)), hem.At((float64(i)+1-flat)/float64(n))
		along := b.Sub(a)
		down := along.Unit().Right().Mul(depth)
		mid := a.Lerp(b, 0.5)
		switch kind {
		case 0: // scallop
			v = append(v, Vertex{a, min(1, 2*depth/along.Len())})
		case 1: // point
			v = append(v, Vertex{Point: a}, Vertex{Point: mid.Add(down)})
		case 2: // wave
			q := math.Tan(math.Atan(2*depth/along.Len()) / 2 * 2)
			v = append(v, Vertex{a, min(1, q)}, Vertex{mid, -min(1, q)})
		case 3: // curved point: two arcs to a tip
			v = append(v, Vertex{a, between(-0.3, 0.3)}, Vertex{mid.Add(down), between(-0.3, 0.3)})
		case 4: // notched scallop: inward
			v = append(v, Vertex{a, -min(1, 2*depth/along.Len())})
		}
		if flat > 0 {
			v = append(v, Vertex{Point: b})
		}
	}
	curve := func() float64 {
		if rng.IntN(2) == 0 {
			return 0
		}
		return between(-0.3, 0.3)
	}
	v = append(v, Vertex{hem.B, curve()})
	taper := between(-0.1, 0.4) * width
	v = append(v, Vertex{Point{width - taper/2, height + between(-30, 30)}, curve() / 2})
	if rng.IntN(2) == 0 { // an armhole
		v = append(v, Vertex{Point{width - taper, height * between(1, 1.4)}, -between(0.1, 0.4)})
	}
	v = append(v, Vertex{Point{taper / 2, height}, curve()})
	p := Path{V: v, Closed: true}
	if p.Area() < 0 { // a deep notch that takes more than there is
		p = p.Reverse()
	}
	return p.Transform(Rotation(Point{between(-500, 500), between(-500, 500)}, between(-4, 4)))
}

// reference offsets the outline with a polygon clipping library and returns
// the signed area and the number of the outlines. The chords of the outline,
// those of its offset and those of rounded corners are all within e.
func reference(p Path, d float64, corner Corner, e float64) (area float64, outlines int) {
	const grid = 1e-5 // mm, of the library's whole numbers
	var poly clipper.Path
	var last Point
	add := func(q Point) {
		if len(poly) == 0 || q.Dist(last) > 0.02 && q.Dist(p.V[0].Point) > 0.02 {
			poly = append(poly, clipper.NewIntPointFromFloat(math.Round(q.X/grid), math.Round(q.Y/grid)))
			last = q
		}
	}
	for i := range p.Segments() {
		s := p.Segment(i)
		add(s.A)
		if s.IsLine() {
			continue
		}
		step := math.Sqrt(8 * e / (s.Radius() + math.Abs(d)))
		n := int(math.Ceil(math.Abs(s.Sweep()) / step))
		// Short chords at the ends give the corners their true angles.
		l := s.Length()
		add(s.At(endChord / l))
		for k := 1; k < n; k++ {
			if t := float64(k) / float64(n); t*l > 2*endChord && (1-t)*l > 2*endChord {
				add(s.At(t))
			}
		}
		add(s.At(1 - endChord/l))
	}
	co := clipper.NewClipperOffset()
	co.ArcTolerance = e / grid
	join := clipper.JtRound
	switch corner.Kind {
	case Mitred:
		join, co.MiterLimit = clipper.JtMiter, corner.Limit
	case Squared:
		join = clipper.JtSquare
	}
	co.AddPath(poly, join, clipper.EtClosedPolygon)
	for _, q := range co.Execute(d / grid) {
		area += clipper.Area(q) * grid * grid
		outlines++
	}
	return area, outlines
}

// endChord (mm) is the length of the first and last chord of an arc.
const endChord = 0.05

// cornerSlack returns how much the area of the corners of the offset may change
// by the turn of the chords against the arcs at each corner, and the furthest
// reach of a mitre.
func cornerSlack(p Path, d float64, corner Corner) (slack, reach float64) {
	n := p.Segments()
	for i := range n {
		a, b := p.Segment(i), p.Segment((i+1)%n)
		turn := math.Abs(a.EndTangent().AngleTo(b.StartTangent()))
		dturn := endChord / 2 * (math.Abs(a.Curvature()) + math.Abs(b.Curvature()))
		cos := math.Cos(turn / 2)
		reach = max(reach, 1/cos)
		switch corner.Kind {
		case Squared: // d^2 tan(turn/4) on each side
			slack += d * d * dturn
		case Mitred: // d^2 tan(turn/2)
			slack += d * d * dturn / (cos * cos)
		}
	}
	return slack, reach
}

func TestOffsetAreaAgreesWithPolygonLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 11))
	e := *offsetChord
	corners := [...]Corner{{}, {}, {Kind: Squared}, {Kind: Mitred, Limit: 4}}
	var crossed int
	var largest, relative, ofBound [Squared + 1]float64 // differences, by kind of corner
	for cases := 0; cases < *offsetCases; {
		p := randomOutline(rng)
		d := rng.Float64()*30 - 15
		corner := corners[rng.IntN(len(corners))]
		slack, reach := cornerSlack(p, d, corner)
		if corner.Kind == Mitred && reach > 3.9 {
			continue // the library cuts such corners off differently
		}
		if !p.Simple() {
			crossed++
			continue
		}
		cases++
		out, err := p.Offset(d, corner)
		require.NoError(t, err)
		var area, length float64
		for _, q := range out {
			area += q.Area()
			length += q.Length()
		}
		want, outlines := reference(p, d, corner, e)
		// The chords of the source and those of round corners lie off by up to e,
		// by 2/3 of it on average.
		bound := 2./3*2*e*length + slack + 1e-2
		diff := math.Abs(area - want)
		k := corner.Kind
		largest[k] = max(largest[k], diff)
		relative[k] = max(relative[k], diff/math.Abs(p.Area()))
		ofBound[k] = max(ofBound[k], diff/bound)
		require.LessOrEqual(t, diff, bound, "case %d: area %g, the library %g: %#v by %g, corner %v", cases, area, want, p, d, corner)
		require.Len(t, out, outlines, "case %d: %#v by %g, corner %v", cases, p, d, corner)
	}
	t.Logf("%d outlines compared (%d crossed themselves), all agree in number", *offsetCases, crossed)
	for k, name := range []string{Rounded: "rounded", Mitred: "mitred", Squared: "squared"} {
		t.Logf("%s: largest difference of area %.2g mm2, %.2g of the outline's, %.2f of the bound", name, largest[k], relative[k], ofBound[k])
	}
}
