package facing_test

import (
	"math"
	"slices"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// heights returns the least and the greatest height above the corner of the places
// of the ending's cut line that lie from 0.01 mm beyond its side to its allowance.
func (e ending) heights() (low, high float64, places int) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, q := range samples(e.cut, 0.5) {
		if out := e.beyond(q); out > 0.01 && out < e.allowance-0.01 {
			h := q.Sub(e.at).Dot(e.up)
			low, high, places = min(low, h), max(high, h), places+1
		}
	}
	return low, high, places
}

func TestSquaredAndSteppedEndsRunSquareToTheSide(t *testing.T) {
	seen, squareSeams := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		if slices.ContainsFunc(r.Warnings, func(w fit.Warning) bool { return w.Code == "motif-across-seam" }) {
			t.Skip("a motif that lies across its seam is warned of")
		}
		o := options(t)
		mirrored := makeOrSkip(t, r, o)
		o.Ends = rapid.SampledFrom([]facing.Ends{facing.Squared, facing.Stepped}).Draw(t, "ends")
		made, err := facing.Make(r, o)
		require.NoError(t, err, "what can be made with mirrored ends can be with these")
		for k, list := range [][]facing.Piece{made.Garments, made.Facings} {
			for i, p := range list {
				usual := [][]facing.Piece{mirrored.Garments, mirrored.Facings}[k][i]
				require.Empty(t, p.Cut().SelfIntersections())
				require.Equal(t, usual.Net(), p.Net())
				require.GreaterOrEqual(t, len(p.Clips), len(usual.Clips))
				for _, end := range []fit.End{fit.Start, fit.Finish} {
					for n, e := range endings(p, end) {
						if e.allowance == 0 {
							continue // as at a fold
						}
						low, high, places := e.heights()
						seen += places
						if places == 0 {
							continue
						}
						require.InDelta(t, low, high, 1e-6, "level beyond the side")
						if o.Ends == facing.Stepped {
							width := o.Hem
							if n == 1 {
								width = o.Inner
							}
							require.InDelta(t, width, math.Abs(low), 1e-6, "at its own allowance from the corner")
						}
						// Inside of the sides nothing changes.
						was := path.NewRuler(endings(usual, end)[n].cut)
						for _, q := range samples(e.cut, 7) {
							if !beyondSide(p, q) {
								_, off := was.Nearest(q)
								require.InDelta(t, 0, off, 1e-6)
							}
						}
					}
				}
			}
		}
		for _, s := range g.Seams {
			for _, list := range [][]facing.Piece{made.Garments, made.Facings} {
				as, bs := endings(list[s.A.Panel], s.A.End), endings(list[s.B.Panel], s.B.End)
				for n := range as {
					other := path.NewRuler(bs[n].cut.Transform(bs[n].lay(as[n])))
					for _, q := range samples(as[n].cut, 0.5) {
						// A step along the stitching line is each piece's own.
						if out := as[n].beyond(q); out > 0.01 && out < min(as[n].allowance, bs[n].allowance)-0.01 {
							_, off := other.Nearest(q)
							require.InDelta(t, 0, off, 1e-6, "edge on edge when sewn")
							squareSeams++
						}
					}
				}
			}
		}
	})
	require.Positive(t, seen)
	require.Positive(t, squareSeams)
}

// Points of 90 degrees on a straight strip, with a valley at its side: the cut line
// comes to the side the root of 2 times the allowance below the corner.
func TestEndsAtAValleyHaveTheHeightsOfTheClosedForm(t *testing.T) {
	p, err := draft.Straight{Width: 240, Depth: 300}.Panel(draft.Form{Name: "strip",
		Start: draft.Side{Allowance: 15}, Finish: draft.Side{Allowance: 15}})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Shape: motif.Shape{Kind: motif.Point}, Width: 60, Depth: 30})
	require.NoError(t, err)
	for ends, want := range map[facing.Ends][2]float64{
		facing.Mirrored: {6 * math.Sqrt2, 6*math.Sqrt2 + 15},
		facing.Squared:  {6 * math.Sqrt2, 6 * math.Sqrt2},
		facing.Stepped:  {6, 6},
	} {
		o := usual()
		o.Ends = ends
		made, err := facing.Make(r, o)
		require.NoError(t, err)
		e := endings(made.Garments[0], fit.Finish)[0]
		low, high, places := e.heights()
		require.Positive(t, places)
		require.InDelta(t, -want[0], high, 0.5, "%d: within a step of the sampling", ends)
		require.InDelta(t, -want[1], low, 0.5, ends)
		corner := made.Garments[0].Edges[1].Cut.Start()
		require.InDelta(t, 15, e.beyond(corner), 1e-6)
		require.InDelta(t, -want[1], corner.Sub(e.at).Dot(e.up), 1e-6)
	}
	o := usual()
	o.Ends = 7
	_, err = facing.Make(r, o)
	require.EqualError(t, err, "strip: there is no end 7 of an allowance")
}
