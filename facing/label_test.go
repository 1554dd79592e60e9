package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// lettered is the box that the label's lines fill when they are written with
// a plotter's letters, 0.825 of their height apart, and 1.7 of it apart as
// lines.
func lettered(l facing.Label) path.Path {
	letters := 0
	for _, line := range l.Lines {
		letters = max(letters, len(line))
	}
	w, h := 0.825*l.Height*float64(letters), l.Height*(1.7*float64(len(l.Lines)-1)+1)
	box := path.Closed(path.Point{X: -w / 2, Y: -h / 2}, path.Point{X: w / 2, Y: -h / 2}, path.Point{X: w / 2, Y: h / 2}, path.Point{X: -w / 2, Y: h / 2})
	return box.Transform(path.Frame(l.At, path.Direction(l.Angle)))
}

func requireClear(t require.TestingT, p facing.Piece) {
	box := lettered(p.Label)
	require.Empty(t, box.Intersections(p.Net()), "%s: the stitching", p.Name)
	require.True(t, p.Net().Contains(p.Label.At), p.Name)
	for _, l := range p.Internal {
		require.Empty(t, box.Intersections(l), "%s: a line inside", p.Name)
	}
	for _, n := range p.Notches {
		require.Empty(t, box.Intersections(path.FromSegments(n.Line)), "%s: a notch", p.Name)
	}
	if p.Grain.Length() > 0 {
		require.Empty(t, box.Intersections(path.FromSegments(p.Grain)), "%s: the grain line", p.Name)
	}
}

func TestLabelKeepsClearOfEveryLine(t *testing.T) {
	eachPiece(t, func(t *rapid.T, f fit.Fitted, o facing.Options, p pair) {
		for _, piece := range each(p) {
			requireClear(t, piece)
			require.GreaterOrEqual(t, piece.Label.Height, 2.5)
		}
	})
}

func TestLabelKeepsClearOfDarts(t *testing.T) {
	r := skirt(t, true)
	for i := range 5 {
		x := 30 + 30*float64(i)
		dart := path.Open(path.Point{X: x - 10, Y: 560}, path.Point{X: x, Y: 200 + 30*float64(i)}, path.Point{X: x + 10, Y: 560})
		r.Panels[0].Panel.Internal = append(r.Panels[0].Panel.Internal, dart)
	}
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	requireClear(t, made.Garments[0])
	require.GreaterOrEqual(t, made.Garments[0].Label.Height, 3.5)
}

func TestUnfoldedPieceIsNotLabelledOnFold(t *testing.T) {
	made, err := facing.Make(skirt(t, true), usual())
	require.NoError(t, err)
	for _, p := range []facing.Piece{made.Garments[0], made.Facings[0]} {
		require.Equal(t, "size 38, cut 1 on fold", p.Label.Lines[1])
		require.Equal(t, "size 38, cut 1", p.Unfold().Label.Lines[1])
		require.Equal(t, "size 38, cut 1 on fold", p.Label.Lines[1], "the half keeps its own")
		requireClear(t, p.Unfold())
	}
}

func TestLabelTellsTheWidthsOfAllSides(t *testing.T) {
	p, err := draft.Gore{Waist: 360, Hem: 600, Length: 560}.Panel(draft.Form{
		Name: "back", Start: draft.Side{Allowance: 20}, Finish: draft.Side{Allowance: 15}, TopAllowance: 10,
	})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	require.Equal(t, "allowance hem 6, side 15/20, top 10 mm", made.Garments[0].Label.Lines[3])
}

func TestLabelKeepsClearOfLetteringThatIsThere(t *testing.T) {
	free, err := facing.Make(skirt(t, true), usual())
	require.NoError(t, err)
	middle := free.Garments[0].Label.At
	for _, height := range []float64{3, 9, 40} {
		r := skirt(t, true)
		// Its middle is below the label, and its capitals reach into it.
		w, up := path.Vec{X: 0.83 * height * 6}, path.Vec{Y: height}
		at := middle.Add(w.Mul(-0.5)).Add(up.Mul(-0.5)).Add(path.Vec{Y: -30})
		r.Panels[0].Panel.Texts = []fit.Text{{At: at, Height: height, String: "POCKET"}}
		made, err := facing.Make(r, usual())
		require.NoError(t, err)
		taken := path.Closed(at, at.Add(w), at.Add(w).Add(up), at.Add(up))
		box := lettered(made.Garments[0].Label)
		require.Empty(t, box.Intersections(taken), "letters of %g mm", height)
		require.False(t, box.Contains(at) || taken.Contains(made.Garments[0].Label.At))
	}
}
