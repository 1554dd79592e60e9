package pattern

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// A cut line with 40 mm at the hem, 12 and 15 at the sides and 10 at the top, and
// the stitching line inside.
const both = `<path id="cut" d="M100 100H400V700H100Z"/><path id="net" d="M112 140H385V690H112Z"/>`

func TestDrawnStitchingLineIsTaken(t *testing.T) {
	for name, body := range map[string]string{
		"two outlines":         both,
		"the inner one first":  `<path d="M112 140H385V690H112Z"/><path d="M100 100H400V700H100Z"/>`,
		"a layer a line":       `<g><path d="M100 100H400V700H100Z"/></g><g><path d="M112 140H385V690H112Z"/></g>`,
		"in loose segments":    `<path d="M100 100H400V700H100Z"/><g id="stitching"><path d="M112 140H385"/><path d="M385 690V140M385 690H112V140"/></g>`,
		"drawn the other way":  `<path d="M100 100H400V700H100Z"/><path d="M112 140V690H385V140Z"/>`,
		"with shaped hem ends": `<path d="M105 100H395L400 140V700H100V140Z"/><path d="M112 140H385V690H112Z"/>`,
		"with cut off corners": `<path d="M108 100H392L400 108V700H100V108Z"/><path d="M112 140H385V690H112Z"/>`,
	} {
		t.Run(name, func(t *testing.T) {
			p, warnings := panel(t, body, Selection{Order: 1, AsDrawn: Sides{Hem: true, Start: true, Finish: true, Top: true}})
			require.Empty(t, warnings)
			require.Equal(t, path.Open(path.Point{X: 112, Y: 140}, path.Point{X: 385, Y: 140}), p.Edges[0].Path)
			require.InDelta(t, 273*550, p.Outline().Area(), 1e-9)
			for i, want := range []float64{40, 15, 10, 12} {
				require.InDelta(t, want, p.Edges[i].Allowance, 1e-9, p.Edges[i].Name)
			}
			require.Empty(t, p.Internal)
			require.Empty(t, p.Notches)

			in := Inspect(page(t, body), "").Pieces[0]
			require.True(t, in.Cut)
			require.Len(t, in.Edges, 4)
			require.InDelta(t, 273*550, in.Stitch.Area(), 1e-9)
			for i, want := range []float64{40, 15, 10, 12} {
				require.True(t, in.Edges[i].Measured)
				require.InDelta(t, want, in.Edges[i].Allowance, 1e-9, "edge #%d", i+1)
			}
		})
	}
}

func TestStyleGoesBeforeTheDrawnAllowances(t *testing.T) {
	p, _ := panel(t, both, Selection{Order: 1, Allowance: Widths{Hem: 6, Start: 7, Top: 8, Edges: []EdgeWidth{{"#2", 9}}}, AsDrawn: Sides{Start: true, Finish: true}})
	require.Equal(t, []float64{6, 9, 8}, []float64{p.Edges[0].Allowance, p.Edges[1].Allowance, p.Edges[2].Allowance})
	require.InDelta(t, 12, p.Edges[3].Allowance, 1e-9)
	p, _ = panel(t, both, Selection{Order: 1, Includes: &Widths{Hem: 30, Start: 10, Finish: 10, Top: 10}, AsDrawn: Sides{Hem: true, Top: true}})
	require.InDelta(t, 130, p.Edges[0].Path.Start().Y, 1e-9, "said to include so much, the cut line counts")
	require.Equal(t, []float64{30, 0, 10, 0}, []float64{p.Edges[0].Allowance, p.Edges[1].Allowance, p.Edges[2].Allowance, p.Edges[3].Allowance})
}

func TestNotchesOnTheCutLineMoveToTheStitchingLine(t *testing.T) {
	p, warnings := panel(t, both+`<path d="M400 300h-8"/><path d="M250 700v-6"/>`, Selection{Order: 1})
	require.Empty(t, warnings)
	require.Equal(t, []fit.Notch{{Edge: 1, At: 160}, {Edge: 2, At: 135}}, p.Notches)
}

func TestUnevenAllowanceIsReported(t *testing.T) {
	_, warnings := panel(t, `<path d="M100 100H400V700H100Z"/><path d="M112 140H385L383 690H112Z"/>`, Selection{Order: 1})
	require.Len(t, warnings, 1)
	require.Equal(t, "uneven-allowance", warnings[0].Code)
	require.Contains(t, warnings[0].Message, "the allowance of edge #2 is not even: it measures from 15.4 to 16.6 mm between the cut and the stitching line, near 384.0, 415.0 mm; 16.0 mm is taken")
}

func TestStitchingLineOfAPieceOnTheFoldMayBeOpen(t *testing.T) {
	d := exchangePiece()
	g := &d.Groups[0]
	for _, reverse := range []bool{false, true} {
		line := path.Open(path.Point{X: 0, Y: 40}, path.Point{X: 285, Y: 40}, path.Point{X: 240, Y: 590}, path.Point{X: 0, Y: 590})
		if reverse {
			line = line.Reverse()
		}
		e := d
		e.Groups = []plot.Group{*g}
		e.Groups[0].Lines = append([]plot.Line{{Role: plot.Stitch, Path: line}}, g.Lines...)
		p, warnings, err := Take(e, Selection{Panel: "front", Name: "front", AsDrawn: Sides{Hem: true, Top: true, Finish: true}})
		require.NoError(t, err)
		require.Empty(t, warnings)
		requirePanel(t, p)
		require.Equal(t, "hem hem, right seam, top other, left fold", roleNames(p))
		require.Equal(t, path.Open(path.Point{X: 0, Y: 40}, path.Point{X: 285, Y: 40}), p.Edges[0].Path)
		require.InDelta(t, 40, p.Edges[0].Allowance, 1e-9)
		require.InDelta(t, 10, p.Edges[2].Allowance, 1e-9)
		require.Len(t, p.Notches, 1)
		require.Equal(t, 1, p.Notches[0].Edge)
		r := Inspect(e, "")
		require.Empty(t, r.Problems)
		require.Zero(t, r.Pieces[0].Edges[3].Allowance)
	}
	require.Contains(t, problems(Inspect(d, "")), "the outline is a cut line, and no stitching line is drawn in it")
}

func TestLinesInsideAreNoStitchingLines(t *testing.T) {
	for _, inner := range []string{
		`<path d="M200 200H300V400H200Z"/>`,                     // a pocket
		`<path d="M150 150L350 150 250 650Z"/>`,                 // not beside the outline
		`<circle cx="250" cy="400" r="140"/>`,                   // a hole
		`<path d="M100 100H400V700H100Z"/>`,                     // the outline once more
		`<path d="M112 140H385V690H300V200H200V690H112V140Z"/>`, // with a bay
	} {
		p, _ := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/>`+inner, Selection{ID: "cut"})
		require.InDelta(t, 300*600, p.Outline().Area(), 1e-6, inner)
	}
}

func TestSizesInOneAnotherAreNoStitchingLines(t *testing.T) {
	const nest = `<path id="s14" d="M100 100H400V700H100Z"/><path id="s12" d="M105 105H395V695H105Z"/><path id="s10" d="M110 110H390V690H110Z"/>`
	p, _ := panel(t, nest, Selection{ID: "s14"})
	require.InDelta(t, 300*600, p.Outline().Area(), 1e-6)
	p, _ = panel(t, nest+`<path class="stitching" d="M115 130H385V690H115Z"/>`, Selection{ID: "s14"})
	require.InDelta(t, 270*560, p.Outline().Area(), 1e-6, "said to be one")
	p, _ = panel(t, both+`<path d="M112 140V690H385V140Z"/>`, Selection{Order: 1})
	require.InDelta(t, 273*550, p.Outline().Area(), 1e-6, "drawn twice")
}

// The cut line of a ring has a closed form; see TestAllowancesOfARingComeOffExactly.
func TestMeasuredAllowancesAreThoseDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(100, 200).Draw(t, "waist radius")
		R := r + rapid.Float64Range(300, 700).Draw(t, "length")
		half := rapid.Float64Range(0.3, 1.2).Draw(t, "half angle")
		h, w, top := rapid.Float64Range(1, 40).Draw(t, "hem"), rapid.Float64Range(1, 20).Draw(t, "side"), rapid.Float64Range(1, 15).Draw(t, "top")
		o := path.Point{X: 500, Y: 900}
		sector := func(R, r, w float64) path.Path {
			arc := func(rho, from, to float64) path.Path { return path.FromSegments(path.Arc(o, rho, from, to-from)) }
			down := -math.Pi / 2
			a, b := half+math.Asin(w/R), half+math.Asin(w/r)
			return path.Join(1e-9, arc(R, down-a, down+a), arc(r, down+b, down-b)).Close(0)
		}
		net := sector(R, r, 0)
		d := loose(sector(R+h, r-top, w), net)
		p, warnings, err := Take(d, Selection{Panel: "p", AsDrawn: Sides{true, true, true, true}})
		require.NoError(t, err)
		require.Empty(t, warnings)
		require.InDelta(t, net.Area(), p.Outline().Area(), 1e-6)
		for i, want := range []float64{h, w, top, w} {
			require.InDelta(t, want, p.Edges[i].Allowance, 1e-6, fmt.Sprint(i))
		}
	})
}
