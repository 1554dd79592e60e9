package dxf_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

func testFile(t require.TestingT, name string) []byte {
	data, err := os.ReadFile(filepath.Join(testdata, name))
	require.NoError(t, err)
	return data
}

func rulesOf(t require.TestingT, table string) *dxf.Rules {
	r, err := dxf.ParseRules(strings.NewReader(table))
	require.NoError(t, err)
	return r
}

// The file is written and graded by other programs, see
// testdata/plot-dxf/graded.py.
func TestFileWithGradeRulesHasTheSizesOfAnIndependentGrading(t *testing.T) {
	var want map[string]map[string]map[string][]json.RawMessage
	require.NoError(t, json.Unmarshal(testFile(t, "graded.json"), &want))
	rules := rulesOf(t, string(testFile(t, "graded.rul")))
	d, report, err := dxf.ReadWithReport(bytes.NewReader(testFile(t, "graded.dxf")), dxf.ReadOptions{Rules: rules})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.Equal(t, "SEDGE", report.RuleTable)
	require.Equal(t, 15, report.GradePoints)
	require.Len(t, d.Groups, 2*len(want))
	layers := map[string]plot.Line{
		"1": {Role: plot.Cut}, "14": {Role: plot.Stitch}, "6": {Role: plot.Fold}, "7": {Role: plot.Grain}, "8": {Role: plot.Internal},
		"11": {Role: plot.Cut}, "5": {Class: "5"}, "13": {Role: plot.Mark},
	}
	for i, g := range d.Groups {
		require.Equal(t, rules.Sizes[i%5], g.Piece.Size, "a piece in all sizes, then the next one")
		require.Equal(t, "Sedge skirt", g.Piece.Style)
		require.Equal(t, []string{"press flat"}, g.Piece.Notes)
		require.Len(t, g.Texts, 1)
		piece := want[g.Piece.Size][g.Piece.Name]
		lines := 0
		for layer, like := range layers {
			var got []plot.Line
			for _, l := range g.Lines {
				if l.Role == like.Role && l.Class == like.Class && (layer != "1" && layer != "11" || (layer == "1") == (l.Path.Bounds().Width() > 50)) {
					got = append(got, l)
				}
			}
			require.Len(t, got, len(piece[layer]), "layer %s", layer)
			lines += len(got)
			for k, raw := range piece[layer] {
				var points [][2]float64
				require.NoError(t, json.Unmarshal(raw, &points))
				require.Len(t, got[k].Path.V, len(points))
				for j, q := range points {
					require.LessOrEqual(t, got[k].Path.V[j].Dist(path.Point{X: q[0], Y: q[1]}), 0.01,
						"%s, size %s, layer %s, line %d, vertex %d", g.Piece.Name, g.Piece.Size, layer, k, j)
				}
			}
		}
		require.Len(t, g.Lines, lines+len(piece["notches"]))
		for k, raw := range piece["notches"] {
			var q [2]float64
			require.NoError(t, json.Unmarshal(raw, &q))
			n := g.Lines[lines+k]
			require.Equal(t, plot.Notch, n.Role)
			require.LessOrEqual(t, n.Path.Start().Dist(path.Point{X: q[0], Y: q[1]}), 0.01)
			require.InDelta(t, [2]float64{5, 6}[k], n.Path.Length(), 1e-9)
			require.InDelta(t, [2]float64{3, 4}[k], n.Width, 1e-9)
			require.Equal(t, [2]fit.NotchKind{fit.VNotch, fit.TNotch}[k], n.Notch)
		}
	}
	// The size that is drawn is as it is drawn.
	base, err := dxf.Read(bytes.NewReader(testFile(t, "graded.dxf")), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, base.Groups, []plot.Group{d.Groups[2], d.Groups[7]})
}

// graded writes the drawing as one size with rules and reads it again.
func graded(t require.TestingT, d plot.Drawing, o dxf.Options) (plot.Drawing, dxf.Report) {
	o.Flavour, o.RuleTable = dxf.Exchange, "TABLE"
	var table bytes.Buffer
	require.NoError(t, dxf.WriteRules(&table, d, o))
	back, report, err := dxf.ReadWithReport(strings.NewReader(written(t, d, o)), dxf.ReadOptions{Rules: rulesOf(t, table.String())})
	require.NoError(t, err)
	return back, report
}

// skirt returns a half skirt in three sizes with everything that a piece can
// have: straight and curved edges, a hem of arcs, a fold, lettering.
func skirt() plot.Drawing {
	var d plot.Drawing
	for k, size := range []string{"36", "38", "42"} {
		w, h := 250+12.345*float64(k*k), 600-7.5*float64(k)
		hem := path.Path{V: []path.Vertex{{Point: path.Point{}}}}
		for i := range 5 {
			hem.V = append(hem.V, path.Vertex{Point: path.Point{X: w * float64(i) / 5}, Bulge: 0.4})
		}
		shape := func(in float64) path.Path {
			v := hem.V[1:]
			v = append(v[:5:5], path.Vertex{Point: path.Point{X: w}, Bulge: 0.01}, path.Vertex{Point: path.Point{X: w - 40, Y: h}, Bulge: -0.05},
				path.Vertex{Point: path.Point{Y: h - 20}})
			p := path.Path{V: v, Closed: true}
			if in > 0 {
				p = p.Transform(path.Translation(path.Vec{X: in, Y: in}))
				for i := range p.V {
					if p.V[i].X > w/2 {
						p.V[i].X -= 2 * in
					}
					if p.V[i].Y > h/2 {
						p.V[i].Y -= 2 * in
					}
				}
			}
			return p
		}
		cut := shape(0)
		side := path.NewRuler(path.FromSegments(cut.Segment(5)))
		notch := side.At(side.Length() * 0.4)
		d.Groups = append(d.Groups, plot.Group{
			Piece: &plot.Piece{Name: "Front", Size: size, Style: "Rowan", Quantity: 1, OnFold: true, Material: "linen"},
			Lines: []plot.Line{
				{Role: plot.Cut, Path: cut},
				{Role: plot.Stitch, Path: shape(10)},
				{Role: plot.Fold, Path: path.Open(path.Point{Y: h - 20}, path.Point{})},
				{Role: plot.Grain, Path: path.Open(path.Point{X: 50, Y: 100}, path.Point{X: 50, Y: 400})},
				{Role: plot.Notch, Notch: fit.UNotch, Width: 4, Path: path.Open(notch, notch.Add(side.TangentAt(side.Length()*0.4).Left().Mul(6)))},
				{Role: plot.Internal, Path: path.Path{V: []path.Vertex{{Point: path.Point{X: 100, Y: 300 - h/10}, Bulge: 0.3}, {Point: path.Point{X: 100 + w/7, Y: 290}}}}},
				{Role: plot.Cut, Path: path.Circle(path.Point{X: w / 3, Y: 200}, 10+float64(k))},
				{Role: plot.Mark, Path: path.Open(path.Point{X: w / 4, Y: h * 0.7})},
				{Role: plot.Inner, Path: path.Open(path.Point{X: 0, Y: 60}, path.Point{X: w / 2, Y: 70 - float64(k)})},
			},
			Texts: []plot.Text{
				{At: path.Point{X: w / 2, Y: h / 2}, Height: 5, Align: plot.Middle, String: "FRONT"},
				{At: path.Point{X: w / 2, Y: h/2 - 10}, Height: 5, String: "size " + size},
			},
		})
	}
	band := pieceOf().Groups[0]
	band.Piece.Size = ""
	d.Groups = append(d.Groups, band)
	return d
}

func TestGradedFileComesBackInEverySize(t *testing.T) {
	d := skirt()
	for _, sample := range []string{"", "38", "42"} {
		back, report := graded(t, d, dxf.Options{SampleSize: sample})
		require.Empty(t, report.Warnings)
		require.Len(t, back.Groups, 6)
		for i, want := range d.Groups[:3] {
			got := back.Groups[i]
			require.Equal(t, want.Piece, got.Piece)
			requireLines(t, want.Lines, got.Lines, 0.02)
			require.Len(t, got.Texts, 1, "the text that is the same in all sizes")
			require.Equal(t, want.Texts[0].String, got.Texts[0].String)
			require.LessOrEqual(t, want.Texts[0].At.Dist(got.Texts[0].At), 0.02)
			require.Equal(t, fit.UNotch, got.Lines[4].Notch)
			require.InDelta(t, 4, got.Lines[4].Width, 0)
		}
		for i, g := range back.Groups[3:] {
			require.Equal(t, d.Groups[i].Piece.Size, g.Piece.Size, "what has no size is the same in all")
			requireLines(t, d.Groups[3].Lines, g.Lines, 0.02)
		}
	}
}

func TestGradedStyleGoesOutAsItCameIn(t *testing.T) {
	d, report, err := dxf.ReadWithReport(bytes.NewReader(testFile(t, "graded.dxf")), dxf.ReadOptions{Rules: rulesOf(t, string(testFile(t, "graded.rul")))})
	require.NoError(t, err)
	back, again := graded(t, d, dxf.Options{SampleSize: "38"})
	require.Len(t, back.Groups, len(d.Groups))
	for i, want := range d.Groups {
		want.Piece.Notes = nil // not in pattern data
		require.Equal(t, want.Piece, back.Groups[i].Piece)
		requireLines(t, want.Lines, back.Groups[i].Lines, 0.02)
	}
	// With hardly more points than it had, and then with the same.
	require.Less(t, again.GradePoints, 2*report.GradePoints)
	_, third := graded(t, back, dxf.Options{SampleSize: "38"})
	require.Equal(t, again.GradePoints, third.GradePoints)
}

func TestRandomPiecesComeBackInEverySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := func(label string, most int) float64 {
			return float64(rapid.IntRange(-most*100, most*100).Draw(t, label)) / 100
		}
		// A star-shaped outline, so that it is no knot, and lines in it that go
		// anywhere. Each vertex has its own way in each size.
		corners := rapid.IntRange(3, 9).Draw(t, "corners")
		sizes := rapid.IntRange(2, 5).Draw(t, "sizes")
		base := plot.Group{Lines: []plot.Line{{Role: plot.Cut, Path: path.Path{Closed: true}}}}
		for i := range corners {
			v := path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / float64(corners)).Mul(400 + mm("radius", 100)))}
			if rapid.Bool().Draw(t, "arc") {
				v.Bulge = mm("bulge", 1) / 4
			}
			base.Lines[0].Path.V = append(base.Lines[0].Path.V, v)
		}
		for range rapid.IntRange(0, 4).Draw(t, "lines") {
			role := rapid.SampledFrom([]plot.Role{plot.Stitch, plot.Fold, plot.Grain, plot.Mark, plot.Inner, plot.Internal, plot.Cut}).Draw(t, "role")
			p := path.Path{}
			n := rapid.IntRange(2, 5).Draw(t, "vertices")
			if role == plot.Fold || role == plot.Grain {
				n = 2 // each straight line of these is its own
			}
			for i := range n {
				p.V = append(p.V, path.Vertex{Point: path.Point{X: mm("x", 80) + 30*float64(i), Y: mm("y", 100)}})
			}
			if n > 2 {
				p.V[0].Bulge = mm("bulge", 1)
				p.Closed = rapid.Bool().Draw(t, "closed")
			}
			base.Lines = append(base.Lines, plot.Line{Role: role, Path: p})
		}
		base.Texts = []plot.Text{{At: path.Point{X: mm("x", 100), Y: mm("y", 100)}, Height: 5, String: "centre"}}
		d := plot.Drawing{}
		for s := range sizes {
			g := base
			g.Piece = &plot.Piece{Name: "Gusset", Size: strconv.Itoa(30 + 2*s)}
			g.Lines, g.Texts = nil, slices.Clone(base.Texts)
			for _, l := range base.Lines {
				l.Path.V = slices.Clone(l.Path.V)
				for i := range l.Path.V {
					if s > 0 && rapid.Bool().Draw(t, "moves") {
						l.Path.V[i].Point = l.Path.V[i].Add(path.Vec{X: mm("dx", 20), Y: mm("dy", 20)})
					}
				}
				g.Lines = append(g.Lines, l)
			}
			if s > 0 {
				g.Texts[0].At = g.Texts[0].At.Add(path.Vec{X: mm("dx", 20), Y: mm("dy", 20)})
			}
			d.Groups = append(d.Groups, g)
		}
		o := dxf.Options{SampleSize: strconv.Itoa(30 + 2*rapid.IntRange(0, sizes-1).Draw(t, "sample"))}
		var refused *dxf.GradeError
		if err := dxf.WriteRules(io.Discard, d, dxf.Options{SampleSize: o.SampleSize, RuleTable: "TABLE"}); errors.As(err, &refused) {
			t.Skip(err) // two points fell on one place
		}
		back, _ := graded(t, d, o)
		require.Len(t, back.Groups, sizes)
		for i, want := range d.Groups {
			require.Equal(t, want.Piece.Size, back.Groups[i].Piece.Size)
			requireLines(t, want.Lines, back.Groups[i].Lines, 0.02)
			require.Len(t, back.Groups[i].Texts, 1)
			require.LessOrEqual(t, want.Texts[0].At.Dist(back.Groups[i].Texts[0].At), 0.02)
		}
	})
}

func TestLargerChordErrorTakesFewerGradePoints(t *testing.T) {
	d := skirt()
	count := func(o dxf.Options) int {
		back, report := graded(t, d, o)
		for i, want := range d.Groups[:3] {
			requireLines(t, want.Lines, back.Groups[i].Lines, max(0.02, 2.5*o.ChordError))
		}
		return report.GradePoints
	}
	fine, coarse := count(dxf.Options{}), count(dxf.Options{ChordError: 0.1})
	require.Less(t, 2*coarse, fine)
}

func TestSizesThatNoRulesMakeAreRefused(t *testing.T) {
	for want, change := range map[string]func(d *plot.Drawing){
		`dxf: piece "Front" size 36 has 1 stitch lines and piece "Front" size 42 2: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[2].Lines = append(d.Groups[2].Lines, plot.Line{Role: plot.Stitch, Path: path.Open(path.Point{X: 1}, path.Point{X: 2})})
		},
		`dxf: the sizes of piece "Front" size 36 lie more than 10000 mm apart: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[2] = d.Groups[2].Transform(path.Translation(path.Vec{Y: 12000}))
		},
		"dxf: the drawing has 501 sizes, and a rule table up to 500: write a block for each size": func(d *plot.Drawing) {
			front := d.Groups[0]
			d.Groups = nil
			for i := range 501 {
				front.Piece = &plot.Piece{Name: "Front", Size: strconv.Itoa(i)}
				d.Groups = append(d.Groups, front)
			}
		},
		`dxf: piece "Front" size 36: too many points between grade points: thin out its lines: write a block for each size`: func(d *plot.Drawing) {
			// Fine on the fold, where nothing moves.
			for s := range 3 {
				p := path.Path{Closed: true}
				for i := range 9000 {
					p.V = append(p.V, path.Vertex{Point: path.Point{Y: 500 * float64(i) / 9000}})
				}
				p.V = append(p.V, path.Vertex{Point: path.Point{X: 9000, Y: 300 + float64(s)}})
				inner := slices.Clone(p.V[:9000])
				for i := range inner {
					inner[i].X = 10 + float64(i)/100
				}
				d.Groups[s].Lines[0].Path = p
				d.Groups[s].Lines[8].Path = path.Path{V: inner}
			}
		},
		`dxf: sizes "M½" and "M1/2" are the same in ASCII: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[1].Piece.Size, d.Groups[2].Piece.Size = "M½", "M1/2"
		},
		`dxf: the cut line of piece "Front" size 36 has 8 vertices and that of piece "Front" size 38 7: write a block for each size`: func(d *plot.Drawing) {
			p := &d.Groups[1].Lines[0].Path
			p.V = slices.Delete(slices.Clone(p.V), 1, 2) // a repeat less
		},
		`dxf: piece "Front" has no size 42, which others have: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[2].Piece = &plot.Piece{Name: "Back", Size: "42"}
		},
		`dxf: piece "Front" size 36 is there twice: write a block for each size`: func(d *plot.Drawing) {
			d.Groups = append(d.Groups, d.Groups[0])
		},
		`dxf: piece "Front" is there with a size and without one: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[1].Piece = &plot.Piece{Name: "Front"}
		},
		"dxf: the drawing has no second size: write a block for each size":                                     func(d *plot.Drawing) { d.Groups = d.Groups[:1] },
		`dxf: size "42, long" has a sign or a space that a size list cannot hold: write a block for each size`: func(d *plot.Drawing) { d.Groups[2].Piece.Size = "42, long" },
		`dxf: a notch of piece "Front" size 36 is of another kind or width than that of piece "Front" size 42: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[2].Lines[4].Notch = fit.VNotch
		},
		`dxf: the notch of piece "Front" size 36 at (236.9, 240.2) mm has another depth or direction in size 42: write a block for each size`: func(d *plot.Drawing) {
			p := d.Groups[2].Lines[4].Path
			d.Groups[2].Lines[4].Path = path.Open(p.Start(), p.Start().Lerp(p.End(), 0.5))
		},
		`dxf: two points of the inner line of piece "Front" size 36 are in one place, (0.0, 60.0) mm, and apart in size 38: write a block for each size`: func(d *plot.Drawing) {
			p := &d.Groups[0].Lines[8].Path
			p.V[1].Point = p.V[0].Point
		},
		`dxf: the inner line of piece "Front" size 36 at (250.0, 0.0) mm moves otherwise than what else is there: write a block for each size`: func(d *plot.Drawing) {
			d.Groups[0].Lines[8].Path = path.Open(path.Point{Y: 60}, path.Point{X: 250})
		},
	} {
		d := skirt()
		change(&d)
		o := dxf.Options{Flavour: dxf.Exchange, RuleTable: "TABLE"}
		var grade *dxf.GradeError
		err := dxf.WriteRules(io.Discard, d, o)
		require.EqualError(t, err, want)
		require.ErrorAs(t, err, &grade)
		require.EqualError(t, dxf.Write(io.Discard, d, o), want)
		o.RuleTable = ""
		require.NoError(t, dxf.Write(io.Discard, d, o), "a block for each size")
	}
	require.EqualError(t, dxf.WriteRules(io.Discard, skirt(), dxf.Options{}), "dxf: the rule table has no name: set one in the options")
	require.EqualError(t, dxf.WriteRules(io.Discard, skirt(), dxf.Options{RuleTable: "T", SampleSize: "40"}),
		`dxf: the sample size "40" is not in the drawing, which has 36, 38, 42`)
	require.EqualError(t, dxf.WriteRules(io.Discard, skirt(), dxf.Options{RuleTable: "T", ChordError: -1}),
		"dxf: the chord error of -1 mm is not between 0.0001 and 10 mm")
}

// What the rule table must say, by ASTM D6673 as public notes quote it.
func TestRuleTableIsWrittenAsTheStandardHasIt(t *testing.T) {
	d := pieceOf()
	for _, size := range []string{"38", "44"} {
		g := d.Groups[0]
		g.Piece = &plot.Piece{Name: "Back", Size: size}
		g.Lines = []plot.Line{{Role: plot.Cut, Path: rectangle(0, 0, 300+2.5*float64(len(d.Groups)), 200)}}
		d.Groups = append(d.Groups, g)
	}
	o := dxf.Options{Flavour: dxf.Exchange, RuleTable: "SORREL", SampleSize: "38", Author: "v;a;1", Created: time.Date(2026, 3, 9, 14, 5, 0, 0, time.UTC)}
	var table bytes.Buffer
	require.NoError(t, dxf.WriteRules(&table, d, o))
	require.Equal(t, strings.ReplaceAll(`ASTM/D13 Proposal 1 Version: D6673-10
AUTHOR: v;a;1
CREATION DATE: 09-03-2026
CREATION TIME: 14:05
UNITS: METRIC
GRADE RULE TABLE: SORREL
NUMBER OF SIZES: 3
SIZE LIST: 40 38 44
SAMPLE SIZE: 38
RULE: DELTA 1
-2.50,0.00
0.00,0.00
2.50,0.00
RULE: DELTA 2
0.00,0.00
0.00,0.00
0.00,0.00
END
`, "\n", "\r\n"), table.String())
	file := written(t, d, o)
	for _, text := range []string{"Grade Rule Table: SORREL", "Sample Size: 38", "# 1", "# 2"} {
		require.Contains(t, file, "\r\n1\r\n"+text+"\r\n")
	}
	require.Contains(t, file, "0\r\nBLOCK\r\n8\r\n1\r\n2\r\nBACK\r\n")
	require.NotContains(t, file, "\r\nSize: ")
	require.Regexp(t, `^([ -~]*\r\n)*$`, file, "7-bit ASCII")
}

func TestSizesThatAreAllAlikeHaveARuleThatDoesNotMove(t *testing.T) {
	d := pieceOf()
	d.Groups = append(d.Groups, d.Groups[0])
	d.Groups[1].Piece = &plot.Piece{Name: "Back", Size: "42"}
	back, report := graded(t, d, dxf.Options{})
	require.Equal(t, 1, report.GradePoints)
	require.Len(t, back.Groups, 2)
	require.Equal(t, back.Groups[0].Lines, back.Groups[1].Lines)
}

// Another program's reader and grading, see testdata/plot-dxf/grade.py.
func TestIndependentGradingOfAWrittenFileHasTheDesign(t *testing.T) {
	d := skirt()
	o := dxf.Options{Flavour: dxf.Exchange, RuleTable: "ROWAN", SampleSize: "38"}
	folder := t.TempDir()
	file, table := filepath.Join(folder, "rowan.dxf"), filepath.Join(folder, "rowan.rul")
	require.NoError(t, os.WriteFile(file, []byte(written(t, d, o)), 0o644))
	var rules bytes.Buffer
	require.NoError(t, dxf.WriteRules(&rules, d, o))
	require.NoError(t, os.WriteFile(table, rules.Bytes(), 0o644))
	var sizes map[string]map[string][][2]float64
	plottest.Ezdxf(t, &sizes, filepath.Join(testdata, "grade.py"), file, table)
	require.Len(t, sizes, 3)
	for _, g := range d.Groups[:3] {
		var outline path.Path
		for _, q := range sizes[g.Piece.Size]["FRONT"] {
			outline.V = append(outline.V, path.Vertex{Point: path.Point{X: q[0], Y: q[1]}})
		}
		outline.Closed = true
		require.LessOrEqual(t, plottest.Deviation(g.Lines[0].Path, outline), 0.02, g.Piece.Size)
	}
}
