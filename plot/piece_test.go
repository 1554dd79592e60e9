package plot_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif/path"
	"engrail/plot"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// made returns the pieces of a random garment.
func made(t *rapid.T) []facing.Piece {
	r, err := fit.Fit(fittest.Garment(t), fittest.Spec(t))
	require.NoError(t, err)
	o := facing.Options{
		Depth: 45, Favour: 1, Hem: 6, ClipGap: 1.5, MarkEvery: 200, Style: "Test",
		Side: float64(rapid.SampledFrom([]int{0, 15}).Draw(t, "side")), Inner: float64(rapid.SampledFrom([]int{0, 6}).Draw(t, "inner")),
	}
	m, err := facing.Make(r, o)
	require.NoError(t, err)
	return append(m.Garments, m.Facings...)
}

// of returns the group's lines of the role, without signs.
func of(g plot.Group, r plot.Role) (lines []path.Path) {
	for _, l := range g.Lines {
		if l.Role == r && !l.Sign {
			lines = append(lines, l.Path)
		}
	}
	return lines
}

func TestDrawnPieceHasEveryLineOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, p := range made(t) {
			g := plot.FromPiece(p, "Test")
			cut := of(g, plot.Cut)
			require.Len(t, cut, 1)
			require.True(t, cut[0].Closed)
			require.Equal(t, p.Cut(), cut[0])
			require.Len(t, of(g, plot.Clip), len(p.Clips))
			require.Len(t, of(g, plot.Notch), len(p.Notches))
			require.Len(t, of(g, plot.Grain), 1)

			// What is stitched, folded or left raw is the net outline, once.
			total, raw := 0.0, 0.0
			for _, r := range []plot.Role{plot.Stitch, plot.Inner} {
				for _, l := range of(g, r) {
					total += l.Length()
				}
			}
			for _, e := range p.Edges {
				if e.Allowance == 0 {
					raw += e.Net.Length()
				}
			}
			require.InDelta(t, p.Net().Length(), total+raw, 0.05)
		}
	})
}

func TestFoldLineIsOneWholeEdgeOfTheCutLine(t *testing.T) {
	p, err := draft.Gore{Waist: 360, Hem: 600, Length: 560}.Panel(draft.Form{
		Name: "front", Half: true, Finish: draft.Side{Allowance: 15}, TopAllowance: 10,
	})
	require.NoError(t, err)
	for _, phase := range []fit.Phase{fit.Valley, fit.Peak} {
		p.StartPhase = phase
		r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
		require.NoError(t, err)
		m, err := facing.Make(r, facing.Options{Depth: 50, Favour: 1, Hem: 6, Inner: 6, SideAsPanel: true, ClipGap: 1.5})
		require.NoError(t, err)
		for _, piece := range append(m.Garments, m.Facings...) {
			g := plot.FromPiece(piece, "Test")
			fold := of(g, plot.Fold)
			require.Len(t, fold, 1)
			require.Len(t, signsOf(g, plot.Fold), 3, "%s has its bracket", piece.Name)
			require.Equal(t, 1, fold[0].Segments())
			cut := of(g, plot.Cut)[0]
			var corners []path.Point
			for _, v := range cut.V {
				if v.X < 1e-6 {
					corners = append(corners, v.Point)
				}
			}
			require.InDelta(t, cut.Bounds().Min.X, fold[0].V[0].X, 1e-9)
			for _, end := range []path.Point{fold[0].Start(), fold[0].End()} {
				require.Contains(t, corners, end, "%s: %v", piece.Name, fold[0])
			}
			for _, c := range corners {
				require.LessOrEqual(t, c.Y, fold[0].Start().Y+1e-9)
				require.GreaterOrEqual(t, c.Y, fold[0].End().Y-1e-9)
			}
			require.Empty(t, of(plot.FromPiece(piece.Unfold(), "Test"), plot.Fold))
		}
	}
}

// An edge without an allowance is cut where it is finished: no stitching line
// lies on its cut line.
func TestEdgeWithoutAllowanceIsNotStitched(t *testing.T) {
	p, err := draft.Straight{Width: 600, Depth: 300}.Panel(draft.Form{Name: "flounce", Start: draft.Side{Allowance: 10}, Finish: draft.Side{Allowance: 10}})
	require.NoError(t, err)
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{p}}, fit.Spec{Width: 60, Depth: 20})
	require.NoError(t, err)
	m, err := facing.Make(r, facing.Options{SideAsPanel: true})
	require.NoError(t, err)
	stitch := of(plot.FromPiece(m.Garments[0], ""), plot.Stitch)
	require.Len(t, stitch, 2, "the two sides")
	for _, l := range stitch {
		require.Equal(t, 1, l.Segments())
	}
}

func TestLabelLinesStandBelowOneAnotherAroundTheirPlace(t *testing.T) {
	p := facing.Piece{Name: "a", Edges: []facing.Edge{{Role: fit.OtherEdge, Net: path.Open(path.Point{}, path.Point{X: 1}), Cut: path.Open(path.Point{}, path.Point{X: 1})}}}
	p.Label = facing.Label{At: path.Point{X: 50, Y: 40}, Height: 5, Lines: []string{"one", "two", "three"}}
	texts := plot.FromPiece(p, "").Texts
	require.Len(t, texts, 3)
	for i, y := range []float64{40 + 8.5 - 2.5, 40 - 2.5, 40 - 8.5 - 2.5} {
		require.InDelta(t, y, texts[i].At.Y, 1e-9)
		require.InDelta(t, 50, texts[i].At.X, 1e-9)
		require.Equal(t, plot.Middle, texts[i].Align)
	}
}

func TestIdentifierHasPlainLettersDigitsAndHyphens(t *testing.T) {
	for want, words := range map[string][]string{
		"front-38": {"Front", "38"}, "grosse-jacke-1-2": {"Große Jacke", "½"}, "a-b": {" a/ ", "", "(b)"}, "": {"裾", "-"},
	} {
		require.Equal(t, want, plot.Identifier(words...))
	}
}
