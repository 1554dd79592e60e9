package pattern

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// putBack returns the cut line that the panel gets with the allowances and an
// unshaped hem.
func putBack(t require.TestingT, p fit.Panel, hem float64) path.Path {
	f := fit.Fitted{Panel: p, Repeats: 1, Width: p.Edges[0].Path.Length(), Valley: p.Edges[0].Path, Edge: p.Edges[0].Path, Net: p.Edges}
	made, err := facing.Make(&fit.Result{Panels: []fit.Fitted{f}}, facing.Options{Hem: hem})
	require.NoError(t, err)
	return made.Garments[0].Cut()
}

// roundTrip takes the allowances off and puts them back.
func roundTrip(t require.TestingT, cut path.Path, w Widths, fold string) path.Path {
	p, _, err := Take(loose(cut), Selection{Panel: "p", Hem: "lowest", Fold: fold, Includes: &w, Allowance: w})
	require.NoError(t, err)
	return putBack(t, p, w.Hem)
}

// apart returns how far two lines are apart: the largest distance of one from the
// other, either way, and the place.
func apart(a, b path.Path) (float64, path.Point) {
	most, where := 0.0, path.Point{}
	for _, q := range [2][2]path.Path{{a, b}, {b, a}} {
		r := path.NewRuler(q[1])
		points := along(q[0], 400)
		for _, v := range q[0].V {
			points = append(points, v.Point)
		}
		for _, x := range points {
			if _, d := r.Nearest(x); d > most {
				most, where = d, x
			}
		}
	}
	return most, where
}

// The corners beside the hem are square, where a hem that is folded up along the
// side and one that is not are alike; the others are as they come.
func TestAllowancesTakenOffAndPutBackGiveTheCutLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		wide, high := number(250, 500, "width"), number(300, 480, "height")
		waist := path.Point{X: wide - number(120, 160, "in"), Y: high}
		w := Widths{Hem: width(40).Draw(t, "hem"), Start: width(20).Draw(t, "start"), Finish: width(20).Draw(t, "finish"), Top: width(15).Draw(t, "top"),
			Edges: []EdgeWidth{{"#3", width(25).Draw(t, "third")}}}
		fold := rapid.SampledFrom([]string{"left", "none"}).Draw(t, "fold")
		cut := path.Closed(path.Point{}, path.Point{X: wide}, path.Point{X: wide, Y: high * 0.5}, waist, path.Point{Y: high - number(0, 20, "slope")})
		sel := Selection{Panel: "p", Hem: "lowest", Fold: fold, Includes: &w, Allowance: w}
		p, _, err := Take(loose(cut), sel)
		require.NoError(t, err)
		require.Len(t, p.Edges, 5)
		off, where := apart(cut, putBack(t, p, w.Hem))
		require.Less(t, off, 0.01, "at %v", where)
	})
}

// Beyond its corners a curved edge other than the hem is led on straight, in the
// allowance beside it, where its cut line may have been drawn on along the curve:
// over w mm the two part by w*w/2r.
func TestAllowancesOfARingTakenOffAndPutBackGiveItsCutLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(100, 200).Draw(t, "waist radius")
		R := r + rapid.Float64Range(200, 700).Draw(t, "length")
		half := rapid.Float64Range(0.2, 1.2).Draw(t, "half angle")
		h, w, top := width(40).Draw(t, "hem"), width(20).Draw(t, "side"), width(15).Draw(t, "top")
		o := path.Point{X: 500, Y: 900}
		arc := func(rho, from, to float64) path.Path { return path.FromSegments(path.Arc(o, rho, from, to-from)) }
		down := -math.Pi / 2
		a, b := half+math.Asin(w/(R+h)), half+math.Asin(w/(r-top))
		cut := path.Join(1e-9, arc(R+h, down-a, down+a), arc(r-top, down+b, down-b)).Close(0)
		off, where := apart(cut, roundTrip(t, cut, Widths{Hem: h, Start: w, Finish: w, Top: top}, "none"))
		require.Less(t, off, 0.01+1.1*w*w/2/(r-top), "at %v", where)
		if w == 0 {
			require.Less(t, off, 1e-6, "at %v", where)
		}
	})
}

// Taken off is the meeting of the stitching lines, and put back that of the cut
// lines, or the hem's mirror image in the side: a corner that was cut in another
// way does not come back. All else does.
func TestCornersThatDoNotComeBack(t *testing.T) {
	w := Widths{Hem: 30, Start: 15, Finish: 15, Top: 10}
	corner := path.Point{X: 300, Y: 600}
	for name, c := range map[string]struct {
		cut   path.Path
		w     Widths
		near  path.Point // the corner
		lost  float64    // how far the line there is from the one put back
		reach float64    // how far along the line that goes
	}{
		"rounded": {path.Path{Closed: true, V: []path.Vertex{{Point: path.Point{}}, {Point: path.Point{X: 300}}, {Point: path.Point{X: 300, Y: 599}, Bulge: math.Tan(math.Pi / 8)}, {Point: path.Point{X: 299, Y: 600}}, {Point: path.Point{Y: 600}}}},
			w, corner, math.Sqrt2 - 1, 1.5},
		"squared off": {path.Closed(path.Point{}, path.Point{X: 300}, path.Point{X: 300, Y: 598.8}, path.Point{X: 298.8, Y: 600}, path.Point{Y: 600}),
			w, corner, 1.2 / math.Sqrt2, 2},
		"stepped": {path.Closed(path.Point{X: 15}, path.Point{X: 285}, path.Point{X: 285, Y: 30}, path.Point{X: 300, Y: 30}, path.Point{X: 300, Y: 600}, path.Point{Y: 600}, path.Point{Y: 30}, path.Point{X: 15, Y: 30}),
			w, path.Point{X: 300}, 15, 60},
		"straight on, at a leaning side": {path.Closed(path.Point{}, path.Point{X: 300}, path.Point{X: 250, Y: 600}, path.Point{Y: 600}),
			w, path.Point{X: 300}, 15 * 2 * 50 / 600.0, 60},
	} {
		t.Run(name, func(t *testing.T) {
			back := roundTrip(t, c.cut, c.w, "none")
			off, where := apart(c.cut, back)
			require.InDelta(t, c.lost, off, 0.2*c.lost, "at %v", where)
			for _, q := range along(back, 500) {
				if q.Dist(c.near) <= c.reach || name == "stepped" && q.Dist(path.Point{}) <= c.reach {
					continue
				}
				_, d := path.NewRuler(c.cut).Nearest(q)
				require.Less(t, d, 0.01, "at %v", q)
			}
		})
	}
}
