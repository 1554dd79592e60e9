package svg_test

import (
	"bytes"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/facing"
	"engrail/fit/fittest"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/svg"
)

// pieces draws the pieces of a random garment, laid apart.
func pieces(t *rapid.T) plot.Drawing {
	_, _, r := fittest.Fitted(t)
	made, err := facing.Make(r, facing.Options{Depth: 45, Favour: 1, Hem: 5, Inner: 6, SideAsPanel: true, ClipGap: 1.5, MarkEvery: 200, Style: "Test"})
	if err != nil {
		t.Skip(err)
	}
	d := plot.Drawing{Title: "Test & <more>"}
	for _, p := range append(made.Garments, made.Facings...) {
		d.Groups = append(d.Groups, plot.FromPiece(p, "Test"))
	}
	return d
}

// inOrder returns the lines by role, as they are written.
func inOrder(d plot.Drawing) (all []plot.Line) {
	for _, g := range d.Groups {
		for _, role := range append([]plot.Role{plot.Drawn}, plot.Roles()...) {
			for _, l := range g.Lines {
				if l.Role == role {
					all = append(all, l)
				}
			}
		}
	}
	return all
}

func TestWrittenDrawingIsReadBackAtTrueSize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := pieces(t)
		var file bytes.Buffer
		require.NoError(t, svg.Write(&file, d))
		back, err := svg.Read(bytes.NewReader(file.Bytes()), svg.Options{})
		require.NoError(t, err)
		require.Equal(t, d.Title, back.Title)
		want, got := inOrder(d), plottest.Lines(back)
		if len(want) != len(got) {
			for i, w := range want {
				if i >= len(got) || w.Role != got[i].Role || math.Abs(w.Path.Length()-got[i].Path.Length()) > 0.1 {
					t.Logf("line %d: %v %v length %v", i, w.Role, w.Path, w.Path.Length())
					break
				}
			}
		}
		require.Equal(t, len(want), len(got))
		// The page begins elsewhere than the drawing.
		by := want[0].Path.Start().Sub(got[0].Path.Start())
		for i, w := range want {
			g := got[i].Path.Transform(path.Translation(by))
			require.Equal(t, w.Role, got[i].Role)
			require.Equal(t, w.Path.Closed, g.Closed)
			require.InDelta(t, w.Path.Length(), g.Length(), 1e-3*float64(len(w.Path.V)+1), "%v %v: %v, not %v", w.Role, w.Sign, g, w.Path)
			if w.Path.Segments() == 0 {
				continue
			}
			ruler := path.NewRuler(w.Path)
			for _, v := range g.V {
				_, off := ruler.Nearest(v.Point)
				require.LessOrEqual(t, off, 1e-3)
			}
			require.LessOrEqual(t, g.Segments(), 3*w.Path.Segments(), "nothing is flattened: wide arcs are up to three")
		}
		texts := 0
		for _, g := range d.Groups {
			texts += len(g.Texts)
		}
		require.Equal(t, texts, strings.Count(file.String(), "<text"))
	})
}

func TestWriterTakesEveryKindOfLine(t *testing.T) {
	at := func(x, y float64) path.Point { return path.Point{X: x, Y: y} }
	nearlyFull := path.FromSegments(path.Arc(at(0, 0), 10, 0, 1.99*math.Pi))
	d := plot.Drawing{Groups: []plot.Group{{ID: "a", Label: "A & B", Piece: &plot.Piece{Size: "38"}, Lines: []plot.Line{
		{Role: plot.Cut, ID: "edge", Path: path.Circle(at(50, 50), 20)},
		{Role: plot.Mark, Path: path.Open(at(50, 50))},
		{Role: plot.Internal, ID: "edge", Path: nearlyFull},
	}, Texts: []plot.Text{{At: at(1, 2), Height: 7, Angle: math.Pi / 2, Align: plot.Right, String: "<&>"}}}}}
	var file bytes.Buffer
	require.NoError(t, svg.Write(&file, d))
	text := file.String()
	require.Contains(t, text, `<title>A &amp; B, size 38</title>`)
	require.Contains(t, text, `id="edge"`)
	require.Contains(t, text, `id="edge-2"`, "an id is there once")
	require.Contains(t, text, `<g id="a-cut" class="cut">`)
	require.Contains(t, text, `font-size="10" text-anchor="end" transform="rotate(-90`)
	require.Contains(t, text, "&lt;&amp;&gt;")
	back, err := svg.Read(&file, svg.Options{})
	require.NoError(t, err)
	got := plottest.Lines(back)
	require.InDelta(t, 2*math.Pi*20, got[0].Path.Length(), 1e-3)
	require.InDelta(t, nearlyFull.Length(), got[2].Path.Length(), 1e-3)
	require.InDelta(t, 7, back.Groups[0].Groups[len(back.Groups[0].Groups)-1].Texts[0].Height, 1e-9)
}

func TestDrawingsThatCannotBeWrittenAreRefused(t *testing.T) {
	one := func(p path.Path) plot.Drawing {
		return plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Path: p}}}}}
	}
	require.ErrorContains(t, svg.Write(&bytes.Buffer{}, plot.Drawing{}), "has no lines")
	require.ErrorContains(t, svg.Write(&bytes.Buffer{}, one(path.Open(path.Point{X: math.NaN()}, path.Point{}))), "not a number")
	require.ErrorContains(t, svg.Write(&bytes.Buffer{}, one(path.Open(path.Point{X: 1e9}, path.Point{}))), "reaches 1e+09 mm from its origin, and 1 km are written at most")
}

// rsvg-convert, an independent program, draws it at the size that it says.
func TestWrittenDrawingIsDrawnAtTrueSizeByAnotherProgram(t *testing.T) {
	program := plottest.Program(t, "rsvg-convert")
	box := path.Closed(path.Point{}, path.Point{X: 200}, path.Point{X: 200, Y: 100}, path.Point{Y: 100})
	file := filepath.Join(t.TempDir(), "box.svg")
	var b bytes.Buffer
	require.NoError(t, svg.Write(&b, plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Role: plot.Cut, Path: box}}}}}))
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
	out, err := exec.Command(program, "--dpi-x=254", "--dpi-y=254", "--background-color=white", file).Output()
	require.NoError(t, err)
	image, err := png.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	// Ten px a mm: the page is 220 x 120 mm, and the box's lower left corner lies 10 mm
	// in from its own.
	require.Equal(t, 2200, image.Bounds().Dx())
	require.Equal(t, 1200, image.Bounds().Dy())
	dark := func(x, y int) bool { r, _, _, _ := image.At(x, y).RGBA(); return r < 0xc000 }
	require.True(t, dark(100, 600) || dark(99, 600))
	require.True(t, dark(2100, 600) || dark(2099, 600))
	require.True(t, dark(1000, 1100) || dark(1000, 1099))
	require.False(t, dark(105, 600) || dark(1000, 600))
}

func BenchmarkWrite(b *testing.B) {
	d := plottest.Scalloped(60)
	var file bytes.Buffer
	for b.Loop() {
		file.Reset()
		if err := svg.Write(&file, d); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(file.Len()))
}
