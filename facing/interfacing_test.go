package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The distance of 3 mm is about the 1/8 in that is usual (from memory).
func TestInterfacingStopsShortOfEverySeamButNotOfTheFold(t *testing.T) {
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		o.Interfaced, o.Short = true, rapid.Float64Range(1, 4).Draw(t, "short")
		pieces := makeOrSkip(t, r, o)
		for i, p := range pieces.Interfacings {
			made++
			require.Equal(t, facing.Interfacing, p.Kind)
			require.Empty(t, p.Notches)
			require.Empty(t, p.Clips)
			require.Equal(t, p.Net(), p.Cut(), "no allowance")
			require.Equal(t, r.Panels[i].Panel.OnFold(), p.OnFold)
			of := pieces.Facings[i]
			outline := of.Net()
			for _, q := range samples(p.Net(), 9) {
				require.True(t, outline.Contains(q) || onFold(of, q))
				nearest := 1e9
				for _, e := range of.Edges {
					if e.Role != fit.FoldEdge {
						_, d := path.NewRuler(e.Net).Nearest(q)
						nearest = min(nearest, d)
					}
				}
				if onFold(p, q) {
					require.True(t, onFold(of, q))
					require.GreaterOrEqual(t, nearest, o.Short-0.01)
					continue
				}
				require.InDelta(t, o.Short, nearest, 0.01)
			}
		}
	})
	require.Positive(t, made)
}

// onFold reports whether q lies on the fold of the piece.
func onFold(p facing.Piece, q path.Point) bool {
	for _, e := range p.Edges {
		if e.Role == fit.FoldEdge {
			_, off := path.NewRuler(e.Net).Nearest(q)
			return off < 1e-6
		}
	}
	return false
}

func TestInterfacingTooFarFromTheSeamsIsRefused(t *testing.T) {
	o := usual()
	o.Interfaced, o.Short = true, 45
	_, err := facing.Make(skirt(t, false), o)
	var own *facing.Error
	require.ErrorAs(t, err, &own)
	require.ErrorContains(t, err, "front interfacing: ")
	require.Equal(t, "stop less than 45.0 mm short of the seams, 3 mm is usual, or make the facing deeper", own.Remedy())
}

func TestBindingIsTheInnerEdgeAndTwoEnds(t *testing.T) {
	for _, half := range []bool{true, false} {
		o := usual()
		o.Finish, o.Inner = facing.Bound, 0
		made, err := facing.Make(skirt(t, half), o)
		require.NoError(t, err)
		f := made.Facings[0]
		require.InDelta(t, f.Unfold().Edges[2].Net.Length()+20, f.Binding, 1e-6)
		require.Contains(t, f.Label.Lines[4], "binding ")
	}
}

func TestInterfacingLabelSaysWhatToCut(t *testing.T) {
	o := usual()
	o.Interfaced, o.Short = true, 3
	made, err := facing.Make(skirt(t, true), o)
	require.NoError(t, err)
	require.Equal(t, []string{"Test: front interfacing", "size 38, cut 1 on fold", "no allowance"}, made.Interfacings[0].Label.Lines)
}
