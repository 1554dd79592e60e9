package fit

import (
	"math"
	"testing"

	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// curvedPanel is a panel whose hem is one arc of the radius between sides that lean
// from square by the angles, hollow with a negative radius.
func curvedPanel(radius, sweep, leanStart, leanFinish float64) Panel {
	centre := path.Point{Y: radius}
	hem := path.FromSegments(path.Arc(centre, math.Abs(radius), -math.Pi/2-sweep/2, sweep))
	if radius < 0 {
		hem = path.FromSegments(path.Arc(centre, -radius, math.Pi/2+sweep/2, -sweep))
	}
	side := func(at path.Point, along path.Vec, lean float64) path.Point {
		return at.Add(along.Left().Rotate(lean).Mul(300))
	}
	a, b := side(hem.Start(), hem.StartTangent(), leanStart), side(hem.End(), hem.EndTangent(), leanFinish)
	return Panel{Name: "curved", Edges: []Edge{
		{Name: "hem", Role: HemEdge, Path: hem},
		{Name: "finish", Role: SeamEdge, Path: path.Open(hem.End(), b)},
		{Name: "top", Role: OtherEdge, Path: path.Open(b, a)},
		{Name: "start", Role: SeamEdge, Path: path.Open(a, hem.Start())},
	}}
}

// farthest returns how far the laid edge and the exact map of its motifs are apart,
// the larger of both ways, sampled densely.
func farthest(r *run, l laid) float64 {
	cells, _ := r.cells(r.chosen.steps)
	m := bent{bed: r.bed, heading: newHeading(r.bed.valley, r.chosen.width/4)}
	m.eases([2]motif.Cell{cells[0], cells[len(cells)-1]})
	const dense = 150
	edge := path.NewRuler(l.edge)
	most := 0.0
	var exact []path.Point
	at := r.from()
	for i, s := range r.chosen.steps {
		local := cells[i].Path()
		m.from = at
		switch s.part {
		case fall:
			local, m.from = cells[i].Fall, -cells[i].Width/2
		case rise:
			local = cells[i].Rise
		}
		at += s.length(r.chosen.width)
		for k := range local.Segments() {
			m.local = local.Segment(k)
			m.low, m.high = 0, r.bed.valley.Length()
			for t := range dense + 1 {
				q := m.At(float64(t) / dense)
				exact = append(exact, q)
				_, off := edge.Nearest(q)
				most = max(most, off)
			}
		}
	}
	line := path.NewRuler(path.Open(exact...))
	for i := range 100 {
		_, off := line.Nearest(edge.At(edge.Length() * (float64(i) + 0.5) / 100))
		// The exact line is itself in chords, of a hundredth of this at most.
		most = max(most, off-0.0005)
	}
	return most
}

func bentRun(t require.TestingT, p Panel, spec Spec) (*run, laid) {
	spec.Lay = Bent
	l, err := newLayout(Garment{Panels: []Panel{p}}, spec)
	require.NoError(t, err)
	decide(l.runs())
	r := l.runs()[0]
	r.place()
	laid, err := r.draw()
	require.NoError(t, err)
	return r, laid
}

func TestBentMotifsAreWithinFiveThousandthsOfTheExactMap(t *testing.T) {
	most := 0.0
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(250, 1500).Draw(t, "radius")
		if rapid.Bool().Draw(t, "hollow") {
			radius = -radius
		}
		lean := func(what string) float64 { return rapid.Float64Range(-0.2, 0.2).Draw(t, what) }
		p := curvedPanel(radius, rapid.Float64Range(200, 300).Draw(t, "hem")/math.Abs(radius), lean("start"), lean("finish"))
		phase := rapid.SampledFrom([]Phase{Valley, Peak}).Draw(t, "phase")
		p.StartPhase, p.FinishPhase = phase, phase
		spec := Spec{Shape: motif.Shape{Kind: rapid.SampledFrom([]motif.Kind{motif.Scallop, motif.Point, motif.Wave, motif.Engrailed, motif.Elliptical, motif.Petal, motif.Ogee}).Draw(t, "shape")}, Width: 55, Depth: 15}
		if k := spec.Shape.Kind; k == motif.Elliptical {
			spec.Shape.Flat = 12
		}
		r, l := bentRun(t, p, spec)
		off := farthest(r, l)
		require.Less(t, off, 0.005)
		most = max(most, off)
	})
	t.Logf("at most %.4f mm", most)
}

// BenchmarkBentEntities reports how many lines and arcs a bent repeat takes.
func BenchmarkBentEntities(b *testing.B) {
	for _, k := range motif.Kinds() {
		spec := Spec{Shape: motif.Shape{Kind: k}, Width: 55, Depth: 18}
		switch k {
		case motif.Bulb, motif.Cloud:
			spec.Depth, spec.Shape.Flat = 20, 25
		}
		b.Run(k.String(), func(b *testing.B) {
			entities := 0.0
			for b.Loop() {
				r, l := bentRun(b, curvedPanel(800, 0.8, 0, 0), spec)
				entities = float64(l.edge.Segments()) / r.repeats(r.halves)
			}
			b.ReportMetric(entities, "entities/repeat")
		})
	}
}
