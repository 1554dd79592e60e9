package turn_test

import (
	"math"
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
	repeats, trims, before, after := 0, 0, 0.0, 0.0
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		trims += len(p.Trims)
		for _, r := range p.Measure(h.stops()) {
			repeats++
			before, after = before+r.Before.Bulk, after+r.After.Bulk
			require.LessOrEqual(t, r.After.Fullness, h.o.Fullness+1e-6)
			require.LessOrEqual(t, r.After.Bulk, r.Before.Bulk+1e-6)
		}
	})
	t.Logf("%d repeats, %d trimmed narrower: %.1f mm2 double before, %.1f after", repeats, trims, before/float64(repeats), after/float64(repeats))
}

// sampleTurn is the most that a sample of a curve turns.
const sampleTurn = 0.01

// turning is a short part of a curve outside of Vs and tips.
type turning struct {
	at, turn, height float64
	parted           bool // from what is before it
}

// unnotched walks along the net line and returns what turns outward beside the whole
// allowance and in no V's share, with how wide the trim lines leave it.
func unnotched(h hem, p *turn.Plan) []turning {
	const vNotch = turn.V
	net, near, edge := path.NewRuler(h.net), path.NewLocator(h.net), path.NewLocator(h.cut)
	var all []turning
	parted, turned, snip, tip, trim := true, 0.0, 0, 0, 0
	type share struct{ from, to float64 }
	var shares []share // of the Vs, in what has been turned outward
	look := func(s, turn float64, q path.Point, out path.Vec) {
		for ; tip < len(p.Tips) && p.Tips[tip].To < s-1e-9; tip++ {
		}
		switch {
		case turn == 0:
			return
		case turn < 0, tip < len(p.Tips) && p.Tips[tip].From <= s+1e-9:
			parted = true
			return
		}
		turned += turn
		for ; snip < len(p.Snips) && p.Snips[snip].At < s+1e-6; snip++ {
			if v := p.Snips[snip]; v.Kind == vNotch {
				// At a corner its middle may be anywhere in the turn.
				shares = append(shares, share{turned - turn - v.Turn/2, turned + v.Turn/2})
			}
		}
		top := q.Add(out.Mul(h.o.Allowance))
		off, _ := near.Nearest(top, 0)
		if cut, _ := edge.Nearest(top, 0.001); off < h.o.Allowance-0.0001 || cut > 0.001 {
			return
		}
		middle := turned - turn/2
		if slices.ContainsFunc(shares, func(v share) bool { return middle > v.from-0.01 && middle < v.to+0.01 }) {
			parted = true
			return
		}
		for ; trim < len(p.Trims) && p.Trims[trim].To < s; trim++ {
		}
		height := h.o.Allowance
		if trim < len(p.Trims) && p.Trims[trim].From <= s {
			line := p.Trims[trim].Line
			for k := range line.Segments() {
				hits := line.Segment(k).Intersect(path.Line(q, top))
				for _, x := range hits.At[:hits.N] {
					height = min(height, x.Point.Dist(q))
				}
			}
		}
		n := len(all) - 1
		all = append(all, turning{s, turn, height, parted || n >= 0 && s-all[n].at > h.o.Bridge+0.2})
		parted = false
	}
	// Twice, as a V's share is known only when it is passed.
	for range 2 {
		all, parted, turned, tip, trim = nil, true, 0, 0, 0
		for i := range h.net.Segments() {
			g := h.net.Segment(i)
			from := net.Stop(i)
			if i > 0 {
				before := h.net.Segment(i - 1)
				if turn := path.Turn(before, g); turn > 0.035 || turn < -0.035 {
					look(from, turn, g.A, before.EndTangent().Right().Rotate(turn/2))
				}
			}
			n := int(math.Ceil(max(g.Length()/0.2, math.Abs(g.Sweep())/sampleTurn)))
			for k := range n {
				ratio := (float64(k) + 0.5) / float64(n)
				s := from + g.Length()*ratio
				look(s, g.Sweep()/float64(n), g.At(ratio), g.TangentAt(ratio).Right())
			}
		}
	}
	return all
}

func TestWhatTurnsWithoutVsKeepsNoMoreThanTheFullness(t *testing.T) {
	parts, trimmed := 0, 0
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		all := unnotched(h, p)
		from, sum, turned := 0, 0.0, 0.0
		for i, x := range all {
			parts++
			if x.height < h.o.Allowance-0.01 {
				trimmed++
			}
			if x.parted {
				from, sum, turned = i, 0, 0
			}
			sum, turned = sum+2*x.height*x.turn, turned+x.turn
			// Of what turns by more than a V at the gap takes, so much, or a bridge's length.
			for ; from < i && turned > h.o.Fullness/(2*h.o.Gap)+1e-9 && x.at-all[from].at > h.o.Bridge-0.2; from++ {
				sum, turned = sum-2*all[from].height*all[from].turn, turned-all[from].turn
			}
			// The first and the last may lie beside the whole allowance in part only.
			ends := 2 * sampleTurn * (all[from].height + x.height)
			require.LessOrEqual(t, sum, h.o.Fullness*1.05+ends, "to %+v from %+v", x, all[from])
		}
	})
	require.Positive(t, trimmed)
	t.Logf("%d parts, %d trimmed narrower", parts, trimmed)
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
			if s.Kind == turn.V {
				for _, q := range [2]path.Point{s.Line.Start(), s.Line.End()} {
					_, off := net.Nearest(q)
					require.InDelta(t, s.Edge, off, 0.01, "starts and ends on the edge")
				}
				_, off := net.Nearest(s.Line.V[1].Point)
				require.InDelta(t, s.Gap, off, 0.01)
			}
			if s.Edge == h.o.Allowance {
				_, off := cut.Nearest(s.Line.Start())
				require.InDelta(t, 0, off, 0.01, "starts on the cut edge")
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
		var last *turn.Snip
		for i := range p.Snips {
			s := &p.Snips[i]
			if s.Kind != turn.V {
				continue
			}
			if last != nil && last.Edge == h.o.Allowance && s.Edge == h.o.Allowance {
				from, _ := cut.Nearest(s.Line.Start())
				end, _ := cut.Nearest(last.Line.End())
				require.GreaterOrEqual(t, from-end, h.o.Bridge*2/3-0.01, "%+v", s)
			} else if last != nil { // along the trimmed edge it is no less than straight
				require.GreaterOrEqual(t, last.Line.End().Dist(s.Line.Start()), h.o.Bridge*2/3-0.01, "%+v", s)
			}
			last = s
		}
	})
}

func TestTrimLinesKeepTheirWidthAndLeadOutOfTheAllowance(t *testing.T) {
	trims, inside, nearer := 0, 0, 0
	eachHem(t, func(t *rapid.T, h hem, p *turn.Plan) {
		net, cut := path.NewLocator(h.net), path.NewLocator(h.cut)
		for i, x := range p.Trims {
			trims++
			require.Less(t, x.From, x.To)
			require.GreaterOrEqual(t, x.Width, 0.75)
			require.Less(t, x.Width, h.o.Allowance)
			if i > 0 {
				require.Greater(t, x.From, p.Trims[i-1].To)
			}
			line := path.NewRuler(x.Line)
			least := h.o.Allowance
			for k := 0.0; k <= line.Length(); k += 0.1 {
				off, _ := net.Nearest(line.At(k), 0)
				require.LessOrEqual(t, off, h.o.Allowance+0.05)
				least = min(least, off)
			}
			require.GreaterOrEqual(t, least, 0.7, "%+v", x)
			if least < x.Width-0.25 {
				nearer++ // on its way out beside a narrow valley
			}
			require.LessOrEqual(t, least, x.Width+0.1, "%+v", x) // between two samples
			for _, q := range [2]path.Point{x.Line.Start(), x.Line.End()} {
				off, _ := cut.Nearest(q, 0)
				slit := off
				for _, s := range p.Snips {
					if s.Kind == turn.Slit {
						_, d := s.Line.Segment(0).Nearest(q)
						slit = min(slit, d)
					}
				}
				if min(q.Dist(h.net.Start()), q.Dist(h.net.End())) < 1.25*h.o.Allowance {
					continue // in a seam or beside its valley
				}
				if min(off, slit) > 0.05 {
					inside++ // between the sides of a narrow valley, where no edge lies
				}
			}
		}
	})
	require.Positive(t, trims)
	t.Logf("%d lines, %d ends inside of the allowance, %d nearer than their width", trims, inside, nearer)
	require.LessOrEqual(t, float64(inside+nearer), 0.02*float64(trims))
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
