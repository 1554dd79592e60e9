package pattern

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
)

func TestWhatIsInsideComesThrough(t *testing.T) {
	at := func(x, y float64) path.Point { return path.Point{X: x, Y: y} }
	d := exchangePiece()
	g := &d.Groups[0]
	dart := path.Open(at(50, 600), at(60, 500), at(70, 600))
	hole := path.Circle(at(150, 300), 20)
	g.Lines = append(g.Lines,
		plot.Line{Role: plot.Internal, Path: dart},
		plot.Line{Role: plot.Cut, Path: hole},
		plot.Line{Role: plot.Mark, Path: path.Open(at(80, 200))},
		plot.Line{Role: plot.Mark, Path: path.Open(at(90, 200))},
		plot.Line{Role: plot.Grain, Sign: true, Path: path.Open(at(100, 100), at(105, 110))},
		plot.Line{Role: plot.Mark, Path: path.Open(at(900, 200))}, // of nothing
	)
	text := func(s string, x, y float64) plot.Text { return plot.Text{At: at(x, y), Height: 5, String: s} }
	g.Texts = []plot.Text{
		text("Front", 50, 50), text("10", 50, 60), text("Cut 3 in cloth", 50, 70), text("Size: 10", 50, 80), text("grain line", 50, 90), text("place on fold", 50, 95), text("15 mm allowances,", 50, 120), text("10 mm at the waist", 50, 110),
		text("ease here", 60, 400), {At: at(150, 420), Height: 4, Angle: math.Pi / 2, Align: plot.Middle, String: "B"}, text("elsewhere", 900, 90),
	}
	p, warnings, err := Take(d, Selection{Panel: "front", Name: "Front", Allowance: Widths{Top: 10}})
	require.NoError(t, err)
	require.Empty(t, warnings)
	require.Equal(t, []path.Path{dart}, p.Internal)
	require.Equal(t, []path.Path{hole}, p.Cutouts)
	require.Equal(t, []path.Point{at(80, 200), at(90, 200)}, p.Drills)
	require.Len(t, p.Texts, 2)
	require.Equal(t, fit.Text{At: at(60, 400), Height: 5, String: "ease here"}, p.Texts[0])
	require.Equal(t, "B", p.Texts[1].String)
	require.InDelta(t, 150, p.Texts[1].At.X, 1e-9)
	require.Less(t, p.Texts[1].At.Y, 420.0, "the left end of a line that runs up")
	require.Equal(t, 3, p.Quantity)
	require.Len(t, p.Notches, 1)
	n := p.Notches[0]
	require.Equal(t, []any{1, fit.VNotch, 5.0}, []any{n.Edge, n.Kind, n.Width})
	require.InDelta(t, math.Hypot(7, 0.6), n.Depth, 1e-9)
}

func TestDrawnCutoutsAreToldByTheirWords(t *testing.T) {
	p, _ := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/><path id="hole-1" d="M200 200h50v50h-50z"/><g id="Cut out"><path d="M200 300h50v50h-50z"/></g><path id="pocket" d="M200 400h50v50h-50z"/>`, Selection{ID: "cut"})
	require.Len(t, p.Cutouts, 2)
	require.Len(t, p.Internal, 1)
}

func TestNotchesCutIntoTheOutlineKeepTheirShape(t *testing.T) {
	for name, c := range map[string]struct {
		body string
		want fit.Notch
	}{
		"slit":   {`<path d="M100 100H400V299.9H392V300.1H400V700H100Z"/>`, fit.Notch{Edge: 1, At: 200, Kind: fit.SlitNotch, Depth: 8}},
		"V":      {`<path d="M100 100H400V297L394 300L400 303V700H100Z"/>`, fit.Notch{Edge: 1, At: 200, Kind: fit.VNotch, Depth: 6, Width: 6}},
		"castle": {`<path d="M100 100H400V297H394V303H400V700H100Z"/>`, fit.Notch{Edge: 1, At: 200, Kind: fit.CastleNotch, Depth: 6, Width: 6}},
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, c.body, Selection{})
			require.Len(t, p.Notches, 1)
			n := p.Notches[0]
			require.InDelta(t, c.want.At, n.At, 1e-6)
			require.InDelta(t, c.want.Depth, n.Depth, 0.1)
			require.InDelta(t, c.want.Width, n.Width, 1e-9)
			require.Equal(t, []any{c.want.Edge, c.want.Kind}, []any{n.Edge, n.Kind})
		})
	}
}

func TestNotchMayBeAPoint(t *testing.T) {
	d := exchangePiece()
	d.Groups[0].Lines[3] = plot.Line{Role: plot.Notch, Path: path.Open(path.Point{X: 275, Y: 300}), Notch: fit.TNotch}
	p, warnings, err := Take(d, Selection{Panel: "front"})
	require.NoError(t, err)
	require.Empty(t, warnings)
	require.Len(t, p.Notches, 1)
	require.Equal(t, []any{1, fit.TNotch, 0.0}, []any{p.Notches[0].Edge, p.Notches[0].Kind, p.Notches[0].Depth})
	require.Empty(t, p.Drills)
}

// The signs of our own drawings, arrowheads and the bracket at a fold, stand on the
// layers of their lines and are no lines inside the piece.
func TestSignsOfOurOwnDrawingAreNoInsideLines(t *testing.T) {
	d := exchangePiece()
	require.Len(t, d.Groups[0].Signs(), 5, "two arrowheads at the grain, and a bracket with two")
	for name, o := range map[string]dxf.Options{"plain": {}, "size layers": {SizeLayers: true}} {
		t.Run(name, func(t *testing.T) {
			var file bytes.Buffer
			require.NoError(t, dxf.Write(&file, d, o))
			back, err := dxf.Read(&file, dxf.ReadOptions{})
			require.NoError(t, err)
			p, _, err := Take(back, Selection{Panel: "front", Order: 1, Fold: "left"})
			require.NoError(t, err)
			require.Empty(t, p.Internal)
			require.Empty(t, p.Cutouts)
			require.Len(t, p.Notches, 1)
			require.InDelta(t, 400, p.Grain.Length(), 1e-3)
		})
	}
}
