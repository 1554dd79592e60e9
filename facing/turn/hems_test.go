package turn_test

import (
	"slices"
	"testing"

	"engrail/facing"
	"engrail/facing/turn"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// hem is a random one with its allowance.
type hem struct {
	net, cut path.Path
	valleys  []fit.Place
	clips    []facing.Clip
	o        turn.Options
}

// eachHem checks a fact on the hems of random garments, each with an allowance of 4 to
// 8 mm.
func eachHem(t *testing.T, fact func(t *rapid.T, h hem, p *turn.Plan)) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := turn.Usual(rapid.Float64Range(4, 8).Draw(t, "allowance"))
		o.Shifted = rapid.Bool().Draw(t, "shifted")
		made, err := facing.Make(r, facing.Options{Hem: o.Allowance, ClipGap: o.Gap})
		if err != nil {
			t.Skip(err)
		}
		for i, f := range r.Panels {
			edge := made.Garments[i].Edges[0]
			h := hem{edge.Net, edge.Cut, f.ClipPlaces(), made.Garments[i].Clips, o}
			p, err := turn.Make(h.net, h.cut, h.valleys, o)
			require.NoError(t, err)
			fact(t, h, p)
		}
	})
}

// stops are the valleys' distances along the net line.
func (h hem) stops() []float64 {
	r := path.NewRuler(h.net)
	stops := []float64{0}
	for _, v := range h.valleys {
		if at, _ := r.Nearest(v.Point); at > stops[len(stops)-1]+1 {
			stops = append(stops, at)
		}
	}
	if l := r.Length(); l > stops[len(stops)-1]+1 {
		stops = append(stops, l)
	}
	return stops
}

func TestWhatStaysAtEveryRepeatIsBelowTheFullness(t *testing.T) {
	repeats, lefts, before, after := 0, 0, 0.0, 0.0
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		// What is left without Vs is too tight for them: they would be nearer to one another
		// than the bridge, even if they ended at the least gap of 0.75 mm.
		net := path.NewRuler(h.net)
		tight := h.o.Allowance + 2*0.75*h.o.Bridge/h.o.Fullness
		for _, l := range p.Left {
			lefts++
			// Or a V and its bridges are longer than the stretch, or it is a short one in parts
			// beside a valley.
			leaves := l.To - l.From - l.Extra/2
			require.True(t, leaves < h.o.Bridge+h.o.Fullness || l.Extra < 2*h.o.Fullness || net.CurvatureAt((l.From+l.To)/2) > 1/tight, "%+v %+v", l, h.o)
		}
		for _, r := range p.Measure(h.stops()) {
			repeats++
			before, after = before+r.Before.Bulk, after+r.After.Bulk
			if len(p.Left) == 0 {
				require.LessOrEqual(t, r.After.Fullness, h.o.Fullness+1e-6)
			}
			require.LessOrEqual(t, r.After.Bulk, r.Before.Bulk+1e-6)
		}
	})
	t.Logf("%d repeats, %d places too tight for Vs: %.1f mm2 double before, %.1f after", repeats, lefts, before/float64(repeats), after/float64(repeats))
}

func TestNoSnipComesNearerToTheStitchingThanItsGap(t *testing.T) {
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		net, cut := path.NewRuler(h.net), path.NewRuler(h.cut)
		for _, s := range p.Snips {
			for k := range s.Line.Segments() {
				for i := range 5 {
					_, off := net.Nearest(s.Line.Segment(k).At(float64(i) / 4))
					if s.Valley {
						require.Positive(t, off) // along a side that may slant
						continue
					}
					require.GreaterOrEqual(t, off, min(s.Gap, 0.7)-0.01, "%v at %.2f", s.Kind, s.At)
				}
			}
			_, off := cut.Nearest(s.Line.Start())
			require.InDelta(t, 0, off, 0.01, "starts on the cut edge")
			if s.Kind == turn.V {
				_, off = cut.Nearest(s.Line.End())
				require.InDelta(t, 0, off, 0.01, "and a V ends there")
				_, off = net.Nearest(s.Line.V[1].Point)
				require.InDelta(t, s.Gap, off, 0.01)
			}
		}
		for _, x := range p.Tips {
			for k := range x.Line.Segments() {
				for i := range 3 {
					_, off := net.Nearest(x.Line.Segment(k).At(float64(i) / 2))
					require.GreaterOrEqual(t, off, 0.7*h.o.Gap)
					require.LessOrEqual(t, off, 1.25*h.o.Allowance)
				}
			}
		}
	})
}

func TestVsLeaveTheBridgeBetweenThem(t *testing.T) {
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		cut := path.NewRuler(h.cut)
		end := -1.0
		for _, s := range p.Snips {
			if s.Kind != turn.V {
				continue
			}
			from, _ := cut.Nearest(s.Line.Start())
			to, _ := cut.Nearest(s.Line.End())
			require.Less(t, from, to)
			if end >= 0 {
				require.GreaterOrEqual(t, from-end, h.o.Bridge*2/3-0.01, "%+v", s)
			}
			end = to
		}
	})
}

func TestEveryClipOfAPieceIsASlitOfThePlan(t *testing.T) {
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		for _, c := range h.clips {
			require.True(t, slices.ContainsFunc(p.Snips, func(s turn.Snip) bool {
				return s.Kind == turn.Slit && s.Line.End().Dist(c.Line.End()) < 1e-6
			}), "%v %+v", c, p.Snips[max(0, len(p.Snips)-2):])
		}
	})
}

// scalloped is the net and the cut line of a straight hem with so many scallops.
func scalloped(t testing.TB, repeats int) hem {
	p, err := draft.Straight{Width: 50 * float64(repeats), Depth: 400}.Panel(draft.Form{Name: "panel"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Scallop}, Width: 50, Depth: 20})
	require.NoError(t, err)
	made, err := facing.Make(r, facing.Options{Hem: 6, ClipGap: 1.5})
	require.NoError(t, err)
	e := made.Garments[0].Edges[0]
	return hem{e.Net, e.Cut, r.Panels[0].ClipPlaces(), made.Garments[0].Clips, turn.Usual(6)}
}

func BenchmarkMake(b *testing.B) {
	h := scalloped(b, 60)
	b.ResetTimer()
	for b.Loop() {
		if _, err := turn.Make(h.net, h.cut, h.valleys, h.o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMeasure(b *testing.B) {
	h := scalloped(b, 60)
	p, err := turn.Make(h.net, h.cut, h.valleys, h.o)
	require.NoError(b, err)
	stops := h.stops()
	for b.Loop() {
		if len(p.Measure(stops)) == 0 {
			b.Fatal("no repeats")
		}
	}
}
