package notes_test

import (
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/notes"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Of any garment with any motif there is a sheet, well-formed and whole: no number in it is
// none, and the clips round the hem are those of the pieces, on each seam once.
func TestEveryGarmentHasASheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		s := style.Plain()
		s.Name = "Sorrel"
		s.Facing.Depth = style.Length(rapid.SampledFrom([]float64{0, 40, 60}).Draw(t, "depth"))
		s.Allowance.Hem = style.Length(rapid.SampledFrom([]float64{3, 6, 10}).Draw(t, "hem"))
		s.Facing.Favour = style.Length(rapid.SampledFrom([]float64{0, 1, 2}).Draw(t, "favour"))
		made, err := facing.Make(r, facing.Options{
			Depth: float64(s.Facing.Depth), Favour: float64(s.Facing.Favour), Hem: float64(s.Allowance.Hem), Inner: 6,
			SideAsPanel: true, ClipGap: 1.5, MarkEvery: 150,
		})
		if err != nil {
			t.Skip("this garment cannot be faced so")
		}
		unit := rapid.SampledFrom([]style.Unit{style.Millimetre, style.Centimetre, style.Inch}).Draw(t, "unit")
		d := notes.Of(notes.Design{Style: s, Unit: unit, Sizes: []notes.Size{{Fit: r, Pieces: append(made.Garments, made.Facings...)}}})
		html := string(d.HTML())
		require.NotRegexp(t, `NaN|Inf\b`, html)
		decoder := xml.NewDecoder(strings.NewReader(html))
		for {
			if _, err := decoder.Token(); errors.Is(err, io.EOF) {
				break
			} else {
				require.NoError(t, err)
			}
		}
		clips := 0
		for _, p := range made.Garments {
			clips += len(p.Unfold().Clips) * p.Quantity
		}
		table := tableOf(t, section(t, d, "figures"), "Clips")
		cells := table.Rows[0]
		total, err := strconv.Atoi(cells[len(cells)-1])
		require.NoError(t, err)
		require.GreaterOrEqual(t, total, 0)
		shared := 0
		if len(r.Seams) > 0 {
			shared, err = strconv.Atoi(cells[len(cells)-2])
			require.NoError(t, err)
		}
		// A single piece that is sewn to a copy of itself shares nothing of its own.
		alone := slices.ContainsFunc(r.Seams, func(x fit.SeamReport) bool {
			p := r.Panels[x.Seam.A.Panel].Panel
			return x.Seam.A == x.Seam.B && p.Quantity%2 == 1 && !p.OnFold()
		})
		if !alone {
			require.Equal(t, clips, total+shared)
		}
		for _, c := range cells {
			require.NotContains(t, c, "-", "no count is below 0")
		}
	})
}
