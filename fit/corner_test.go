package fit_test

import (
	"math"
	"testing"

	"engrail/fit"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// wrap is a wrap skirt's front: its hem goes round the square corner at the lower
// right and up the front edge, which ends at the waist.
func wrap(corner path.Point) fit.Panel {
	hem := path.Open(path.Point{}, corner, path.Point{X: corner.X, Y: 500})
	return fit.Panel{Name: "wrap", Edges: []fit.Edge{
		{Name: "hem", Role: fit.HemEdge, Path: hem},
		{Name: "waist", Role: fit.SeamEdge, Path: path.Open(hem.End(), path.Point{X: -40, Y: 500})},
		{Name: "side", Role: fit.SeamEdge, Path: path.Open(path.Point{X: -40, Y: 500}, path.Point{})},
	}}
}

func TestHemTurnsACorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := wrap(path.Point{X: rapid.Float64Range(400, 700).Draw(t, "across"), Y: rapid.Float64Range(-60, 60).Draw(t, "slope")})
		p.CornerPhase = rapid.SampledFrom([]fit.Phase{fit.AnyPhase, fit.Valley, fit.Peak}).Draw(t, "corner")
		p.CornerPlain = rapid.SampledFrom([]float64{0, 30}).Draw(t, "plain")
		p.StartPhase = rapid.SampledFrom([]fit.Phase{fit.Valley, fit.Peak}).Draw(t, "start")
		spec := fit.Spec{Width: 50, Depth: 14}
		spec.Shape.Kind = rapid.SampledFrom([]motif.Kind{motif.Scallop, motif.Point, motif.Wave}).Draw(t, "shape")
		spec.Lay = rapid.SampledFrom([]fit.Lay{fit.Rigid, fit.Bent}).Draw(t, "lay")
		spec.Rest = rapid.SampledFrom([]fit.Rest{fit.Valleys, fit.Peaks, fit.Middle}).Draw(t, "rest")
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, spec)
		require.NoError(t, err)
		f := r.Panels[0]
		require.Len(t, f.Runs, 2)
		require.Empty(t, f.Edge.SelfIntersections())
		for i := 1; i < f.Edge.Segments(); i++ {
			require.InDelta(t, 0, f.Edge.Segment(i-1).B.Dist(f.Edge.Segment(i).A), 1e-9)
		}
		want := p.CornerPhase
		switch {
		case p.CornerPlain > 0:
			want = fit.Plain
		case want == fit.AnyPhase:
			want = fit.Valley
		}
		require.Equal(t, [2]fit.Phase{want, want}, [2]fit.Phase{f.Runs[0].Phases[fit.Finish], f.Runs[1].Phases[fit.Start]})

		// What stands on the corner lies on the line that halves its angle.
		corner := p.Edges[0].Path.V[1].Point
		u, w := p.Edges[0].Path.Segment(0).StartTangent(), p.Edges[0].Path.Segment(1).StartTangent()
		out := u.Right().Add(w.Right()).Unit()
		on := func(places []fit.Place, height float64) bool {
			for _, q := range places {
				v := q.Point.Sub(corner)
				if math.Abs(v.Cross(out)) < 1e-3 && math.Abs(v.Dot(out)*math.Cos(u.AngleTo(w)/2)-height) < 0.5 {
					return true
				}
			}
			return false
		}
		valley := f.ValleyHeight()
		switch want {
		case fit.Valley:
			require.True(t, on(f.Valleys, valley))
		case fit.Peak:
			require.True(t, on(f.Peaks, valley+spec.Depth))
		case fit.Plain:
			require.False(t, on(f.Valleys, valley))
			_, off := path.NewRuler(f.Edge).Nearest(corner.Add(out.Mul(valley / math.Cos(u.AngleTo(w)/2))))
			require.InDelta(t, 0, off, 1e-3)
		}
		require.InDelta(t, math.Round(f.Runs[0].Repeats+f.Runs[1].Repeats), f.Runs[0].Repeats+f.Runs[1].Repeats+0.5*math.Mod(2*(f.Runs[0].Repeats+f.Runs[1].Repeats), 2), 0.51)
	})
}

func TestPeakOnACornerIsItsOwnMirrorImage(t *testing.T) {
	p := wrap(path.Point{X: 500})
	p.CornerPhase, p.StartPhase = fit.Peak, fit.Valley
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 50, Depth: 14, Lay: lay})
		require.NoError(t, err)
		f := r.Panels[0]
		require.InDelta(t, math.Floor(f.Runs[0].Repeats)+0.5, f.Runs[0].Repeats, 0, "half a motif at the corner")
		corner := path.Point{X: 500}
		mirror := path.Reflection(corner, path.Vec{X: -1, Y: 1})
		edge := path.NewRuler(f.Edge)
		at, off := edge.Nearest(corner.Add(path.Vec{X: 14, Y: -14}))
		require.InDelta(t, 0, off, 0.01)
		for d := range 25 {
			_, off := edge.Nearest(mirror.Apply(edge.At(at - float64(d))))
			require.LessOrEqual(t, off, 0.01, "%d mm before the corner", d)
		}
	}
}

func TestRunsHaveMotifsOfTheirOwn(t *testing.T) {
	p := wrap(path.Point{X: 500})
	p.Runs = []fit.RunOptions{{}, {Spec: &fit.Spec{Shape: motif.Shape{Kind: motif.Point}, Width: 25, Depth: 10}, Count: 20}}
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 50, Depth: 14})
	require.NoError(t, err)
	runs := r.Panels[0].Runs
	require.Equal(t, []any{10.0, 50.0, 20.0}, []any{runs[0].Repeats, runs[0].Width, runs[1].Repeats})
	require.Equal(t, 30, r.Panels[0].Repeats)
	p.Runs[1] = fit.RunOptions{Bare: true}
	r, err = fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 50, Depth: 14})
	require.NoError(t, err)
	require.Equal(t, 10, r.Panels[0].Repeats)
	require.Len(t, r.Panels[0].Peaks, 10)
	p.Runs = p.Runs[:1]
	_, err = fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 50, Depth: 14})
	require.EqualError(t, err, "panel wrap: it says what stands on 1 runs of its hem, which has 2")
}

// round is a piece whose hem goes all round: a disc, or an oblong with round ends.
func round(oblong float64) fit.Panel {
	r := 600.0
	hem := path.Path{Closed: true, V: []path.Vertex{
		{Point: path.Point{X: 0, Y: -r}}, {Point: path.Point{X: oblong, Y: -r}, Bulge: 1}, {Point: path.Point{X: oblong, Y: r}}, {Point: path.Point{X: 0, Y: r}, Bulge: 1},
	}}
	if oblong == 0 {
		hem = path.Circle(path.Point{}, r)
	}
	return fit.Panel{Name: "cloth", Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge, Path: hem}}}
}

func TestHemThatGoesRoundHasAWholeNumberRound(t *testing.T) {
	for _, oblong := range []float64{0, 500} {
		for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
			p := round(oblong)
			p.Count = 48
			for _, rest := range []fit.Rest{fit.Valleys, fit.Peaks} {
				r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Wave}, Width: 80, Depth: 20, Lay: lay, Rest: rest})
				require.NoError(t, err)
				f := r.Panels[0]
				require.True(t, f.Edge.Closed)
				require.Len(t, f.Valleys, 48)
				require.Len(t, f.Peaks, 48)
				radius := 600 + f.ValleyHeight()
				around := 2*math.Pi*radius + 2*oblong
				if lay == fit.Bent {
					require.InDelta(t, around/48, f.Width, 1e-6)
					for i := range f.Edge.Segments() {
						before := f.Edge.Segment((i + f.Edge.Segments() - 1) % f.Edge.Segments())
						require.InDelta(t, 0, before.EndTangent().AngleTo(f.Edge.Segment(i).StartTangent()), 1e-3, "smooth, at its start too")
					}
				} else if oblong == 0 {
					require.InDelta(t, 2*radius*math.Sin(math.Pi/48), f.Width, 1e-6, "chords of a regular polygon")
				}
				require.Equal(t, f.Edge, f.Net[0].Path)
				require.Positive(t, f.Edge.Area())
			}
		}
	}
}

func TestSquareClothHasFourRuns(t *testing.T) {
	p := fit.Panel{Name: "cloth", Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge,
		Path: path.Closed(path.Point{}, path.Point{X: 900}, path.Point{X: 900, Y: 900}, path.Point{Y: 900})}}}
	for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
		p.CornerPhase = phase
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 15})
		require.NoError(t, err)
		f := r.Panels[0]
		require.Len(t, f.Runs, 4)
		require.Equal(t, 60, f.Repeats)
		require.Len(t, f.Valleys, 60)
		require.Len(t, f.Peaks, 60)
		require.True(t, f.Edge.Closed)
		quarter := path.Rotation(path.Point{X: 450, Y: 450}, math.Pi/2)
		line := path.NewRuler(f.Edge)
		for _, v := range f.Edge.V {
			_, off := line.Nearest(quarter.Apply(v.Point))
			require.InDelta(t, 0, off, 1e-6, "a quarter turn changes nothing")
		}
	}
}

// On a circle of radius R the peaks stand on R + d where the valleys do on R (arithmetic).
func TestWidthsAtValleysAndPeaksAreTold(t *testing.T) {
	p := round(0)
	p.Count = 48
	for _, lay := range []fit.Lay{fit.Rigid, fit.Bent} {
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 80, Depth: 20, Lay: lay})
		require.NoError(t, err)
		run := r.Panels[0].Runs[0]
		valleys := 2 * 600 * math.Sin(math.Pi/48)
		peaks := 2 * 620 * math.Sin(math.Pi/48)
		if lay == fit.Rigid { // they stand on chords
			peaks = 2 * (600*math.Cos(math.Pi/48) + 20) * math.Sin(math.Pi/48)
		}
		for i := range 2 {
			require.InDelta(t, valleys, run.AtValleys[i], 1e-6)
			require.InDelta(t, peaks, run.AtPeaks[i], 1e-6)
		}
	}
}
