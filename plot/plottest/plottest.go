// Package plottest holds what the tests of the plot formats share: drawings to
// write, a measure of how far a drawing that was read is from its design, and
// the programs of others that read our files.
package plottest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
)

// Program returns the path of another's program. A test whose program is not
// installed is skipped, but fails when the environment variable CI is set, so
// that no check goes missing there unseen.
func Program(t testing.TB, name string) string {
	t.Helper()
	p, err := exec.LookPath(name)
	if err != nil {
		missing(t, name)
	}
	return p
}

func missing(t testing.TB, name string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed, and CI is set", name)
	}
	t.Skipf("%s is not installed", name)
}

// python is the interpreter that has the distribution's libraries.
const python = "/usr/bin/python3"

// Ezdxf runs a Python script that imports ezdxf, as [Python] does.
func Ezdxf(t testing.TB, result any, script string, args ...string) {
	t.Helper()
	Python(t, result, "ezdxf", append([]string{script}, args...)...)
}

// Measured is what testdata/plot-dxf/measure.py finds in a DXF file with ezdxf;
// it says there what each of them is.
type Measured struct {
	MeasuredLayers
	Errors  []string
	Fixes   []string
	Version string
	Units   int
	Inserts []string
	Blocks  map[string]MeasuredLayers
}

// MeasuredLayers is what it finds in model space or in a block.
type MeasuredLayers struct {
	Layers map[string]struct {
		Length float64
		Kinds  map[string]int
		Box    [4]float64
	}
	Texts   map[string][]string
	Notches [][5]float64
}

// Python runs Python with the arguments and decodes the JSON that it prints into
// result. It skips or fails as [Program] does when there is no such library.
func Python(t testing.TB, result any, library string, args ...string) {
	t.Helper()
	if exec.Command(python, "-c", "import "+library).Run() != nil {
		missing(t, "python3-"+library)
	}
	var stderr bytes.Buffer
	cmd := exec.Command(python, args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, "%s: %s", args[0], &stderr)
	require.NoError(t, json.Unmarshal(out, result), "%s printed %s", args[0], out)
}

// Plotted is what a plotter draws: its size in mm, and its straight lines
// moved to the lower left corner.
type Plotted struct {
	Width, Height float64
	Lines         [][2]path.Point
}

// Length returns how long all lines are together.
func (p Plotted) Length() float64 {
	sum := 0.0
	for _, l := range p.Lines {
		sum += l[0].Dist(l[1])
	}
	return sum
}

var plottedSize = regexp.MustCompile(`Width\s+x\s+height:\s*([\d.]+)\s*x\s*([\d.]+) mm, true`)

// Plot has hp2xx, a plotter in software, draw an HP-GL file. It fails when
// hp2xx finds a command that it does not know, and skips or fails as [Program]
// does when there is none.
func Plot(t testing.TB, file []byte) Plotted {
	t.Helper()
	program := Program(t, "hp2xx")
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "in.hpgl"), file, 0o644))
	run := func(args ...string) string {
		cmd := exec.Command(program, append(args, "in.hpgl")...)
		cmd.Dir = folder
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", out)
		return string(out)
	}
	said := run("-t", "-N", "-m", "png", "-d", "25.4", "-p", "11111111", "-f", "out.png")
	require.Regexp(t, `ignored: 0\b`, said)
	require.Regexp(t, `Unexpected event\(s\):\s*0\b`, said)
	size := plottedSize.FindStringSubmatch(said)
	require.NotNil(t, size, said)
	var p Plotted
	_, err := fmt.Sscan(size[1]+" "+size[2], &p.Width, &p.Height)
	require.NoError(t, err)

	// Its DXF is LINE entities, each with 10, 20 and 11, 21 as group codes.
	run("-q", "-t", "-m", "dxf", "-f", "out.dxf")
	drawn, err := os.ReadFile(filepath.Join(folder, "out.dxf"))
	require.NoError(t, err)
	_, entities, ok := strings.Cut(string(drawn), "ENTITIES")
	require.True(t, ok)
	fields := strings.Fields(entities)
	number := func(i int) float64 {
		x, err := strconv.ParseFloat(fields[i], 64)
		require.NoError(t, err)
		return x
	}
	for i := 0; i+1 < len(fields); i += 2 {
		switch fields[i] {
		case "10":
			p.Lines = append(p.Lines, [2]path.Point{{X: number(i + 1)}, {}})
		case "20":
			p.Lines[len(p.Lines)-1][0].Y = number(i + 1)
		case "11":
			p.Lines[len(p.Lines)-1][1].X = number(i + 1)
		case "21":
			p.Lines[len(p.Lines)-1][1].Y = number(i + 1)
		}
	}
	return p
}

// Lines returns every line of the drawing, outer groups first.
func Lines(d plot.Drawing) []plot.Line {
	var all []plot.Line
	for _, top := range d.Groups {
		top.Walk(func(g plot.Group) { all = append(all, g.Lines...) })
	}
	return all
}

// Texts returns every text of the drawing, outer groups first.
func Texts(d plot.Drawing) []plot.Text {
	var all []plot.Text
	for _, top := range d.Groups {
		top.Walk(func(g plot.Group) { all = append(all, g.Texts...) })
	}
	return all
}

// Golden compares the bytes with the file, or rewrites the file when update is
// set.
func Golden(t testing.TB, update bool, file string, got []byte) {
	t.Helper()
	if update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, got), "%s differs: look at the change, then run the test with -update", file)
}

// Scalloped returns two pieces of an invented skirt whose hems have n scallops
// of 25 mm by 10 mm each: a front to cut once on the fold and a facing for it
// beneath. It lies around the origin; with 60 scallops it is 1.5 m wide.
func Scalloped(n int) plot.Drawing {
	front := scallopedPiece(n, 500)
	front.ID, front.Label = "front", "Front"
	front.Piece = &plot.Piece{
		Name: "Front", Size: "38", Style: "Marram skirt", Kind: "garment", Quantity: 1,
		OnFold: true, Material: "linen", Notes: []string{"seam allowance 6 mm"},
	}
	facing := scallopedPiece(n, 60).Transform(path.Translation(path.Vec{Y: -120}))
	facing.ID, facing.Label = "front-facing", "Front facing"
	facing.Piece = &plot.Piece{
		Name: "Front facing", Size: "38", Style: "Marram skirt", Kind: "facing", Quantity: 1,
		OnFold: true, Material: "lining",
	}
	return plot.Drawing{Title: "Marram skirt", Groups: []plot.Group{front, facing}}
}

// scallopedPiece has its fold on the left, its seam on the right and a curved
// upper edge.
func scallopedPiece(n int, height float64) plot.Group {
	const width, depth, allowance = 25.0, 10.0, 6.0
	left := -width * float64(n) / 2
	right := -left
	bulge := 2 * depth / width
	cut, stitch := path.Path{Closed: true}, path.Path{}
	g := plot.Group{}
	clip := func(x float64) {
		g.Lines = append(g.Lines, plot.Line{
			Role: plot.Clip, Path: path.Open(path.Point{X: x}, path.Point{X: x, Y: allowance - 1}),
		})
	}
	for i := range n {
		x := left + width*float64(i)
		cut.V = append(cut.V, path.Vertex{Point: path.Point{X: x}, Bulge: bulge})
		stitch.V = append(stitch.V, path.Vertex{Point: path.Point{X: x, Y: allowance}, Bulge: bulge})
		if i > 0 {
			clip(x)
		}
	}
	cut.V = append(cut.V,
		path.Vertex{Point: path.Point{X: right}},
		path.Vertex{Point: path.Point{X: right, Y: height}, Bulge: 0.1},
		path.Vertex{Point: path.Point{X: left, Y: height}},
	)
	stitch.V = append(stitch.V,
		path.Vertex{Point: path.Point{X: right - allowance, Y: allowance}},
		path.Vertex{Point: path.Point{X: right - allowance, Y: height - allowance}, Bulge: 0.1},
		path.Vertex{Point: path.Point{X: left, Y: height - allowance}},
	)
	middle := height / 2
	g.Lines = append(g.Lines,
		plot.Line{Role: plot.Stitch, Path: stitch},
		plot.Line{Role: plot.Fold, Path: path.Open(path.Point{X: left}, path.Point{X: left, Y: height})},
		plot.Line{Role: plot.Grain, Path: path.Open(path.Point{Y: middle - 15}, path.Point{Y: middle + 15})},
		plot.Line{Role: plot.Notch, Path: path.Open(path.Point{X: right, Y: middle}, path.Point{X: right - 4, Y: middle})},
		plot.Line{Role: plot.Mark, Path: path.Open(path.Point{X: left / 2, Y: middle})},
		plot.Line{Role: plot.Internal, Path: path.Open(
			path.Point{X: 40, Y: middle}, path.Point{X: 45, Y: middle + 20}, path.Point{X: 50, Y: middle})},
		plot.Line{Role: plot.Cut, Path: cut},
	)
	g.Texts = []plot.Text{{
		At: path.Point{X: 10, Y: middle - 10}, Height: 5, String: "size 38",
	}, {
		At: path.Point{X: -10, Y: middle}, Height: 4, Angle: math.Pi / 2, Align: plot.Middle, String: "grain",
	}}
	return g
}

// RandomPath draws a path of lines and arcs up to the semicircle within 400 mm
// of the origin, open or closed, or a single point.
func RandomPath(t *rapid.T) path.Path {
	n := rapid.IntRange(1, 12).Draw(t, "vertices")
	p := path.Path{}
	for range n {
		v := path.Vertex{Point: path.Point{
			X: float64(rapid.IntRange(-200_000, 200_000).Draw(t, "x in um")) / 1000,
			Y: float64(rapid.IntRange(-200_000, 200_000).Draw(t, "y in um")) / 1000,
		}}
		if rapid.Bool().Draw(t, "arc") {
			v.Bulge = rapid.Float64Range(-1, 1).Draw(t, "bulge")
		}
		p.V = append(p.V, v)
	}
	p.Closed = n > 2 && rapid.Bool().Draw(t, "closed")
	if !p.Closed {
		p.V[n-1].Bulge = 0
	}
	return p
}

// Deviation returns how far, in mm, the two paths are apart: the largest
// distance from a point of either to the nearest one of the other, looked for
// at 16 points a segment.
func Deviation(a, b path.Path) float64 {
	return max(furthest(a, b), furthest(b, a))
}

func furthest(from, to path.Path) float64 {
	distance := func(p path.Point) float64 { return p.Dist(to.V[0].Point) }
	if to.Segments() > 0 {
		r := path.NewRuler(to)
		distance = func(p path.Point) float64 {
			_, d := r.Nearest(p)
			return d
		}
	}
	worst := distance(from.V[0].Point)
	for i := range from.Segments() {
		s := from.Segment(i)
		for k := 1; k <= 16; k++ {
			worst = max(worst, distance(s.At(float64(k)/16)))
		}
	}
	return worst
}
