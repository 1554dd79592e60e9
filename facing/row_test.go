package facing_test

import (
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// corner returns where the piece of a row has the hem's corner at an end.
func corner(l facing.Laid, e fit.End) path.Point {
	net := l.Piece.Edges[1].Net.Start()
	if e == fit.Start {
		net = l.Piece.Edges[len(l.Piece.Edges)-1].Net.End()
	}
	return l.Motion.Apply(net)
}

func TestRowsCrossEverySeamOnceWithCornersJoined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, _, r := fittest.Fitted(t)
		made := makeOrSkip(t, r, options(t))
		for _, list := range [][]facing.Piece{made.Garments, made.Facings} {
			crossed := map[int]int{}
			names := map[string]bool{}
			for _, row := range facing.Rows(list, g.Seams) {
				require.Len(t, row.Joins, len(row.Pieces)-1)
				for i, j := range row.Joins {
					crossed[j.Seam]++
					for _, l := range row.Pieces[i : i+2] {
						near := min(corner(l, fit.Start).Dist(j.At), corner(l, fit.Finish).Dist(j.At))
						require.InDelta(t, 0, near, 1e-6)
						require.InDelta(t, 1, l.Motion.Scale(), 1e-9)
					}
				}
				for _, l := range row.Pieces {
					names[l.Piece.Panel] = true
					require.False(t, l.Piece.OnFold)
				}
			}
			require.Len(t, names, len(list))
			require.Len(t, crossed, len(g.Seams))
			for _, n := range crossed {
				require.Equal(t, 1, n)
			}
		}
	})
}

// Four quarters of a ring come round to where they began.
func TestRowOfAFullRingCloses(t *testing.T) {
	p, err := draft.Circle{Waist: 711, Length: 400, Part: 1, Panels: 4}.Panel(draft.Form{Name: "quarter"})
	require.NoError(t, err)
	p.StartPhase, p.FinishPhase = fit.Valley, fit.Valley
	g := fit.Garment{}
	for i := range 4 {
		g.Panels = append(g.Panels, p)
		g.Seams = append(g.Seams, fit.Seam{A: fit.EndRef{Panel: i, End: fit.Finish}, B: fit.EndRef{Panel: (i + 1) % 4, End: fit.Start}})
	}
	r, err := fit.Fit(g, fit.Spec{Width: 60, Depth: 15})
	require.NoError(t, err)
	made, err := facing.Make(r, usual())
	require.NoError(t, err)
	rows := facing.Rows(made.Garments, g.Seams)
	require.Len(t, rows, 1)
	require.Len(t, rows[0].Pieces, 5, "the first at both ends")
	first, last := rows[0].Pieces[0], rows[0].Pieces[4]
	for _, e := range []fit.End{fit.Start, fit.Finish} {
		require.InDelta(t, 0, corner(first, e).Dist(corner(last, e)), 1e-6)
	}
}
