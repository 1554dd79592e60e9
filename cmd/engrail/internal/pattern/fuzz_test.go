package pattern

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/svg"
)

// Whatever a file holds, there is a sound panel or an error with a remedy.
func FuzzTake(f *testing.F) {
	files, err := filepath.Glob("../../../../testdata/pattern/*.svg")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(string(data), "front", "", "", 15.0, 0.0)
		f.Add(string(data), "back", "lowest", "right", 10.0, 300.0)
	}
	for _, body := range []string{
		`<path d="M0 0h300v500h-300z"/><path d="M0 100h6"/><path id="hem" d="M0 500h300"/><text x="9" y="99">cut 2 on fold</text>`,
		`<g id="front"><path d="M0 0h300"/><path d="M300 0v500"/><path d="M300 500h-300v-499.7"/></g>`,
		`<path id="front" d="M0 0h300a200 200 0 0 1 0 400h-300z"/><g id="grain"><path d="M9 9v200"/></g>`,
	} {
		f.Add(`<svg width="600mm" height="600mm" viewBox="0 0 600 600">`+body+`</svg>`, "", "hem", "", 15.0, 0.0)
		f.Add(`<svg width="600mm" height="600mm" viewBox="0 0 600 600">`+body+`</svg>`, "front", "#1", "left", 0.0, 500.0)
	}
	f.Fuzz(func(t *testing.T, file, name, hem, fold string, width, check float64) {
		d, err := svg.Read(strings.NewReader(file), svg.Options{})
		if err != nil {
			return
		}
		p, warnings, err := Take(d, Selection{Panel: "p", Name: name, Hem: hem, Fold: fold, Check: check,
			Includes: &Widths{Hem: width, Start: width, Finish: width / 2, Top: width}, Allowance: Widths{Hem: 6}})
		if err != nil {
			var e *Error
			require.True(t, errors.As(err, &e), "%v", err)
			require.NotEmpty(t, e.Problem)
			require.NotEmpty(t, e.Remedy())
			require.Empty(t, p)
			return
		}
		requirePanel(t, p)
		for _, w := range warnings {
			require.NotEmpty(t, w.Code)
			require.NotEmpty(t, w.Message)
		}
		require.False(t, math.IsNaN(p.Outline().Area()))
	})
}

// Whatever a file holds, a report says what is in it or what is wrong, and does
// not go against what Take does with a piece.
func FuzzInspect(f *testing.F) {
	for _, body := range []string{
		skirt, both, vent, wrap,
		`<g id="a"><path d="M0 0h300"/><path d="M300 0v500h-300"/><path d="M0 0v500"/></g><path d="M300 0h200v500h-200"/>`,
		`<path d="M0 0h300v500h-300z"/><path class="grain" d="M50 100h200"/><path d="M299 100h8"/><text x="9" y="99">cut 2 on fold</text>`,
		`<path d="M0 0h300v500h-300z"/><g id="stitching"><path d="M15 15h270v470"/><path d="M285 485h-270v-470"/></g>`,
		`<path d="M0 0l9 2 9 1 9 1 9 1 9 0 9 0 9 0 9 -1 9 -1 9 -2v300h-99z"/>`,
	} {
		f.Add(`<svg width="600mm" height="600mm" viewBox="0 0 600 600">` + body + `</svg>`)
	}
	f.Fuzz(func(t *testing.T, file string) {
		d, err := svg.Read(strings.NewReader(file), svg.Options{})
		if err != nil {
			return
		}
		requireSound(t, d)
	})
}

// requireSound checks what a report promises, and that Take does as it says.
func requireSound(t require.TestingT, d plot.Drawing) {
	r := Inspect(d, "x.svg")
	if len(r.Pieces) == 0 {
		require.NotEmpty(t, r.Problems)
	}
	for i, in := range r.Pieces {
		require.Equal(t, i+1, in.Number)
		require.Positive(t, in.Outline.Area())
		for k, e := range in.Edges {
			require.Equal(t, k+1, e.Number)
			require.NotEmpty(t, e.Word)
			require.NotEmpty(t, e.Reason)
			require.False(t, math.IsNaN(e.Corner+e.Allowance))
		}
		p, _, err := Take(d, Selection{File: "x.svg", Panel: "p", Order: i + 1})
		if err != nil {
			require.NotEmpty(t, r.Problems, "%v", err)
			continue
		}
		requirePanel(t, p)
		require.Len(t, in.Edges, len(p.Edges))
	}
	for _, s := range r.Seams {
		require.NotNil(t, r.Pieces[s.A.Piece].side(s.A.End))
		require.NotNil(t, r.Pieces[s.B.Piece].side(s.B.End))
	}
}

// Lines between the points of a grid meet, cross, touch and lie on one another.
func TestReportOfAnyDrawingIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		point := func() path.Point {
			jitter := rapid.SampledFrom([]float64{0, 0, 0, 0.01, 0.3, 3}).Draw(t, "jitter")
			return path.Point{X: 150*float64(rapid.IntRange(0, 3).Draw(t, "x")) + jitter, Y: 150 * float64(rapid.IntRange(0, 4).Draw(t, "y"))}
		}
		var d plot.Drawing
		for range rapid.IntRange(1, 3).Draw(t, "groups") {
			var g plot.Group
			g.ID = rapid.SampledFrom([]string{"", "front", "grain", "notch", "fold", "hem"}).Draw(t, "id")
			if rapid.Bool().Draw(t, "is a piece") {
				g.Piece = &plot.Piece{Name: "p", Quantity: rapid.IntRange(0, 2).Draw(t, "quantity"), OnFold: rapid.Bool().Draw(t, "on fold")}
			}
			for range rapid.IntRange(0, 12).Draw(t, "lines") {
				l := plot.Line{Role: rapid.SampledFrom(append(plot.Roles(), plot.Drawn, plot.Drawn, plot.Drawn, plot.Cut)).Draw(t, "role")}
				for range rapid.IntRange(1, 6).Draw(t, "points") {
					l.Path.V = append(l.Path.V, path.Vertex{Point: point(), Bulge: rapid.SampledFrom([]float64{0, 0, 0, 0.2, -0.4}).Draw(t, "bulge")})
				}
				if l.Path.Closed = rapid.Bool().Draw(t, "closed"); !l.Path.Closed {
					l.Path.V[len(l.Path.V)-1].Bulge = 0
				}
				g.Lines = append(g.Lines, l)
			}
			if rapid.Bool().Draw(t, "text") {
				g.Texts = []plot.Text{{At: point(), Height: 5, String: rapid.SampledFrom([]string{"cut 2", "cut 1 on fold", "grain", "front", "a"}).Draw(t, "text")}}
			}
			d.Groups = append(d.Groups, g)
		}
		requireSound(t, d)
	})
}
