package dxf_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

func read(t require.TestingT, file string) plot.Drawing {
	d, err := dxf.Read(strings.NewReader(file), dxf.ReadOptions{})
	require.NoError(t, err)
	return d
}

// entities wraps entities, a value a line, as a file.
func entities(lines string) string {
	return "0\nSECTION\n2\nENTITIES\n" + lines + "0\nENDSEC\n0\nEOF\n"
}

// head is a header with one variable.
func head(variable, code, value string) string {
	return "0\nSECTION\n2\nHEADER\n9\n" + variable + "\n" + code + "\n" + value + "\n0\nENDSEC\n"
}

func requireTexts(t require.TestingT, want, got []plot.Text) {
	require.Len(t, got, len(want))
	for i, w := range want {
		g := got[i]
		require.Equal(t, w.String, g.String)
		require.Equal(t, w.Align, g.Align)
		require.LessOrEqual(t, w.At.Dist(g.At), 0.01)
		require.InDelta(t, w.Height, g.Height, 0.01)
		require.InDelta(t, w.Angle, g.Angle, 1e-5)
	}
}

func TestPlainFileComesBackAsItWas(t *testing.T) {
	d := plottest.Scalloped(6)
	d.Groups[0].Piece.Pairs, d.Groups[0].Piece.Quantity = true, 4
	d.Groups = append(d.Groups, plot.Group{ID: "legend", Texts: []plot.Text{{Height: 3, Align: plot.Right, Angle: 1, String: "100 mm"}}})
	back := read(t, written(t, d, dxf.Options{}))
	require.Equal(t, d.Title, back.Title)
	require.Len(t, back.Groups, len(d.Groups))
	for i, want := range d.Groups {
		got := back.Groups[i]
		require.Equal(t, want.ID, got.ID)
		require.Equal(t, want.Label, got.Label)
		require.Equal(t, want.Piece, got.Piece)
		requireTexts(t, want.Texts, got.Texts)
		requireLines(t, want.Lines, got.Lines, 0.001)
	}
}

func TestExchangeFileComesBackAsItWas(t *testing.T) {
	for _, cutClips := range []bool{false, true} {
		d := plottest.Scalloped(6)
		g := &d.Groups[0]
		g.Lines[0], g.Lines[len(g.Lines)-1] = g.Lines[len(g.Lines)-1], g.Lines[0] // the outline is written first
		g.Lines = append(g.Lines,
			plot.Line{Role: plot.Inner, Path: path.Open(path.Point{X: -60, Y: 60}, path.Point{X: 60, Y: 60})},
			plot.Line{Role: plot.Mark, Path: path.Open(path.Point{X: 10, Y: 60}, path.Point{X: 10, Y: 70})},
			plot.Line{Role: plot.Internal, Path: path.Open(path.Point{X: 20, Y: 60})},
		)
		d.Groups = d.Groups[:1]
		o := exchange()
		o.CutClips = cutClips
		back := read(t, written(t, d, o))
		require.Equal(t, d.Title, back.Title)
		require.Len(t, back.Groups, 1)
		want, got := d.Groups[0], back.Groups[0]
		want.Piece.Notes = nil // not in pattern data
		require.Equal(t, want.Piece, got.Piece)
		require.Equal(t, "FRONT-38", got.ID)
		require.Equal(t, "Front", got.Label)
		requireTexts(t, want.Texts, got.Texts)
		requireLines(t, want.Lines, got.Lines, near)
	}
}

func requireLines(t require.TestingT, want, got []plot.Line, within float64) {
	require.Len(t, got, len(want))
	for i, w := range want {
		require.Equal(t, w.Role, got[i].Role, "line %d", i)
		require.Equal(t, w.Sign, got[i].Sign, "line %d", i)
		require.Equal(t, w.Path.Closed, got[i].Path.Closed, "line %d", i)
		require.LessOrEqual(t, plottest.Deviation(w.Path, got[i].Path), within, "%s line %d: %v", w.Role, i, w.Path)
	}
}

func randomLines(t *rapid.T) []plot.Line {
	var lines []plot.Line
	for range rapid.IntRange(1, 6).Draw(t, "lines") {
		role := rapid.SampledFrom(append(plot.Roles(), plot.Drawn)).Draw(t, "role")
		lines = append(lines, plot.Line{Role: role, Path: plottest.RandomPath(t)})
	}
	return lines
}

func TestPlainLinesComeBackWithinTheRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := plot.Drawing{Groups: []plot.Group{{Lines: randomLines(t)}}}
		for i := range d.Groups[0].Lines {
			d.Groups[0].Lines[i].Sign = rapid.Bool().Draw(t, "sign")
		}
		back := read(t, written(t, d, dxf.Options{}))
		require.Len(t, back.Groups, 1)
		// A bulge of eight decimals over a chord of up to 600 mm, and four decimals.
		requireLines(t, d.Groups[0].Lines, back.Groups[0].Lines, 0.0005)
	})
}

func TestExchangeLinesComeBackWithinAPlotterUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := exchange()
		o.Units = rapid.SampledFrom([]dxf.Units{dxf.Metric, dxf.English}).Draw(t, "units")
		o.CheckCurves = rapid.Bool().Draw(t, "check curves")
		outline := plot.Line{Role: plot.Cut, Path: rectangle(-500, -500, 1000, 1000)}
		g := plot.Group{Label: "piece", Lines: []plot.Line{outline}}
		for _, l := range randomLines(t) {
			switch l.Role {
			case plot.Fold, plot.Grain, plot.Notch:
				// Their layers have straight lines only, each its own entity.
				if len(l.Path.V) < 2 {
					continue
				}
				l.Path = path.Open(l.Path.V[0].Point, l.Path.V[1].Point)
			case plot.Cut, plot.Stitch:
				if len(l.Path.V) < 2 {
					continue // a point of the cut line is a marked point
				}
			}
			g.Lines = append(g.Lines, l)
		}
		back := read(t, written(t, plot.Drawing{Groups: []plot.Group{g}}, o))
		require.Len(t, back.Groups, 1)
		requireLines(t, g.Lines, back.Groups[0].Lines, near)
	})
}

func TestReaderUnderstandsOtherFiles(t *testing.T) {
	for name, c := range map[string]struct {
		file string
		want plot.Group
	}{
		"line on a layer of its own, comments, padded codes": {
			entities("999\nby hand\n  0\nLINE\n  8\nWAIST\n 10\n 1.5\n 20\n2\n 11\n1e1\n 21\n-2.\n"),
			plot.Group{Lines: []plot.Line{{Class: "WAIST", Path: path.Open(path.Point{X: 1.5, Y: 2}, path.Point{X: 10, Y: -2})}}}},
		"arc": {
			entities("0\nARC\n8\n0\n10\n0\n20\n0\n40\n10\n50\n350\n51\n10\n"),
			plot.Group{Lines: []plot.Line{{Path: path.FromSegments(
				path.Arc(path.Point{}, 10, -math.Pi/18, math.Pi/18), path.Arc(path.Point{}, 10, 0, math.Pi/18))}}}},
		"circle": {
			entities("0\nCIRCLE\n8\nCUT\n10\n5\n20\n6\n40\n10\n"),
			plot.Group{Lines: []plot.Line{{Role: plot.Cut, Class: "CUT", Path: path.Circle(path.Point{X: 5, Y: 6}, 10)}}}},
		"spline's frame is left out": {
			entities("0\nPOLYLINE\n8\n0\n66\n1\n70\n4\n0\nVERTEX\n70\n16\n10\n99\n0\nVERTEX\n70\n8\n10\n1\n0\nVERTEX\n10\n2\n42\n1\n0\nSEQEND\n"),
			plot.Group{Lines: []plot.Line{{Path: path.Open(path.Point{X: 1}, path.Point{X: 2})}}}},
		"paper space is left out": {
			entities("0\nPOINT\n8\n0\n67\n1\n10\n1\n0\nPOINT\n8\n0\n67\n0\n10\n2\n"),
			plot.Group{Lines: []plot.Line{{Path: path.Open(path.Point{X: 2})}}}},
		"inches": {
			"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nTABLES\n0\nTABLE\n0\nENDSEC\n" +
				entities("0\nPOINT\n8\n0\n10\n2\n"),
			plot.Group{Lines: []plot.Line{{Path: path.Open(path.Point{X: 50.8})}}}},
		"block moved, turned and scaled": {
			"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n0\n2\nB\n10\n1\n20\n1\n1\n\n0\nPOINT\n8\n0\n10\n2\n20\n1\n0\nENDBLK\n8\n0\n0\nENDSEC\n" +
				entities("0\nINSERT\n8\n0\n2\nB\n10\n10\n20\n20\n50\n90\n41\n3\n42\n3\n"),
			plot.Group{ID: "B", Lines: []plot.Line{{Path: path.Open(path.Point{X: 10, Y: 23})}}}},
		"lettering": {
			entities("0\nTEXT\n8\n0\n10\n1\n20\n2\n40\n5\n1\ncut 2 %%p 3%%d, %%c5 ^I%%%\n72\n1\n11\n7\n21\n8\n50\n90\n"),
			plot.Group{Texts: []plot.Text{{At: path.Point{X: 7, Y: 8}, Height: 5, Angle: math.Pi / 2, Align: plot.Middle, String: "cut 2 ± 3°, ⌀5  %"}}}},
		"lettering in Latin-1": {
			entities("0\nTEXT\n8\n0\n40\n5\n1\nGr\xf6\xdfe\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "Größe"}}}},
		"lettering in ANSI_1252, which no page means": {
			entities("0\nTEXT\n8\n0\n40\n5\n1\n\x84Gr\xf6\xdfe 38\x94 \x96 \x80\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "„Größe 38” – €"}}}},
		"lettering in ANSI_1250": {
			head("$DWGCODEPAGE", "3", "ANSI_1250") + entities("0\nTEXT\n8\n0\n40\n5\n1\nsukn\xec, \xe8ern\xe1\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "sukně, černá"}}}},
		"lettering in ANSI_932": {
			head("$DWGCODEPAGE", "3", "ansi_932") + entities("0\nTEXT\n8\n0\n40\n5\n1\n\x83X\x83J\x81[\x83g\x95\\\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "スカート表"}}}},
		"lettering in DOS850": {
			head("$DWGCODEPAGE", "3", "dos850") + entities("0\nTEXT\n8\n0\n40\n5\n1\nGr\x94\xe1e\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "Größe"}}}},
		"UTF-8 whatever the page": {
			head("$DWGCODEPAGE", "3", "ANSI_1251") + entities("0\nTEXT\n8\n0\n40\n5\n1\nGröße\n"), plot.Group{Texts: []plot.Text{{Height: 5, String: "Größe"}}}},
		"standard's layers without a piece say nothing": {
			entities("0\nPOINT\n8\n4\n10\n1\n30\n5\n"), plot.Group{Lines: []plot.Line{{Class: "4", Path: path.Open(path.Point{X: 1})}}}},
	} {
		t.Run(name, func(t *testing.T) {
			d := read(t, c.file)
			require.Len(t, d.Groups, 1)
			got := d.Groups[0]
			require.Equal(t, c.want.ID, got.ID)
			requireTexts(t, c.want.Texts, got.Texts)
			requireLines(t, c.want.Lines, got.Lines, 1e-9)
			for i, l := range c.want.Lines {
				require.Equal(t, l.Class, got.Lines[i].Class)
			}
		})
	}
}

func TestPatternDataOfOthersAreRead(t *testing.T) {
	const piece = `0
SECTION
2
BLOCKS
0
BLOCK
8
1
2
YOKE
70
0
10
0
20
0
0
TEXT
8
1
10
0
20
0
40
1
1
Piece Name: Yoke
0
TEXT
8
1
40
1
1
Quantity: 1,1
0
TEXT
8
1
40
1
1
Rule of its own: 5
0
POINT
8
80
10
2
30
0.25
50
90
0
POINT
8
2
10
2
0
LINE
8
5
10
0
11
1
0
LINE
8
6
10
0
11
2
0
ENDBLK
0
ENDSEC
`
	d := read(t, piece+entities("0\nTEXT\n8\n1\n40\n1\n1\nUnits: ENGLISH\n0\nTEXT\n8\n1\n40\n1\n1\nStyle Name: Sedge coat\n0\nINSERT\n8\n1\n2\nYOKE\n10\n10\n20\n0\n"))
	require.Equal(t, "Sedge coat", d.Title)
	require.Len(t, d.Groups, 1)
	g := d.Groups[0]
	require.Equal(t, &plot.Piece{Name: "Yoke", Style: "Sedge coat", Quantity: 2, Pairs: true, OnFold: true}, g.Piece)
	requireLines(t, []plot.Line{
		{Role: plot.Notch, Path: path.Open(path.Point{X: 12 * 25.4}, path.Point{X: 12 * 25.4, Y: 0.25 * 25.4})},
		{Role: plot.Drawn, Path: path.Open(path.Point{X: 10 * 25.4}, path.Point{X: 11 * 25.4})},
		{Role: plot.Fold, Path: path.Open(path.Point{X: 10 * 25.4}, path.Point{X: 12 * 25.4})},
	}, g.Lines, 1e-9)
	require.Equal(t, "5", g.Lines[1].Class)
}

func TestReadErrorsSayTheLine(t *testing.T) {
	blockB := "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n0\nPOINT\n0\nENDBLK\n0\nENDSEC\n"
	for file, want := range map[string]string{
		"":                                  "dxf: line 1: the file has no ENTITIES section: is it a drawing?",
		"0\nEOF\n":                          "dxf: line 2: the file has no ENTITIES section: is it a drawing?",
		"0\nSECTION\n":                      "dxf: line 3: a section without its name",
		"0\nSECTION\n2\n":                   "dxf: line 4: the file ends without the value of group code 2",
		"0\nSECTION\n8\nX\n":                "dxf: line 4: a section without its name",
		"hello\nworld\n":                    `dxf: line 1: "hello" is not a group code`,
		"99999\n0\n":                        `dxf: line 1: "99999" is not a group code`,
		"0\nLINE\n":                         `dxf: line 2: "LINE" where a section should start`,
		"AutoCAD Binary DXF\r\n\x1a\x00":    "dxf: line 1: this is a binary DXF: save it as ASCII DXF",
		"AC1027\x00\x00\x00":                "dxf: line 1: this is a DWG: save it as ASCII DXF",
		"0\nSECTION\n2\nHEADER\n0\nLINE\n":  `dxf: line 6: "LINE" in the header`,
		"0\nSECTION\n2\nHEADER\n9\n$A\n":    "dxf: line 7: the file ends within a section: it may have been cut short",
		"0\nSECTION\n2\nTABLES\n0\nTABLE\n": "dxf: line 7: the file ends within a section: it may have been cut short",
		"0\nSECTION\n2\nOBJECTS\n0\nX\n":    "dxf: line 7: the file ends within a section: it may have been cut short",
		"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n0\nLINE\n":                                "dxf: line 11: the file ends within a section: it may have been cut short",
		"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n5\n":                                       "dxf: line 9: the file ends within a section: it may have been cut short",
		"0\nSECTION\n2\nENTITIES\n0\nLINE\n0\nEOF\n":                                      "dxf: line 8: EOF within a section: ENDSEC is missing, and it may have been cut short",
		"0\nSECTION\n2\nENTITIES\n0\nSECTION\n":                                           `dxf: line 6: "SECTION" where ENDSEC should stand`,
		entities("0\nLINE\n10\nabc\n"):                                                    `dxf: line 8: "abc" is not a number, as group code 10 has it`,
		entities("0\nLINE\n10\nnan\n"):                                                    `dxf: line 8: NaN is not a number up to 1e+09`,
		entities("0\nLINE\n10\n-2e9\n"):                                                   `dxf: line 8: -2e+09 is not a number up to 1e+09`,
		entities("0\nLINE\n62\n1.5\n"):                                                    `dxf: line 8: "1.5" is not a whole number, as group code 62 has it`,
		entities("0\nCIRCLE\n10\n1\n"):                                                    "dxf: line 6: an arc with a radius of 0",
		entities("0\nELLIPSE\n11\n1\n"):                                                   "dxf: line 6: an ellipse with the radii 1 and 0",
		entities("0\nPOLYLINE\n0\nLINE\n"):                                                `dxf: line 8: "LINE" within a polyline that began in line 6`,
		entities("0\nVERTEX\n"):                                                           "dxf: line 6: a VERTEX without its POLYLINE",
		entities("0\nSPLINE\n8\n0\n"):                                                     "dxf: line 6: a spline with 0 fit points, and it needs 2",
		entities("0\nSPLINE\n71\n99\n10\n1\n"):                                            "dxf: line 6: a spline of degree 99, not from 1 to 25",
		entities("0\nSPLINE\n71\n3\n10\n1\n"):                                             "dxf: line 6: a spline of degree 3 with 1 control points, and it needs 4",
		entities("0\nSPLINE\n71\n1\n10\n1\n10\n2\n40\n0\n"):                               "dxf: line 6: a spline of degree 1 with 2 control points and 1 knots, and it needs 4",
		entities("0\nSPLINE\n71\n1\n10\n1\n10\n2\n40\n0\n40\n0\n40\n0\n40\n0\n"):          "dxf: line 6: a spline whose knots are all the same",
		entities("0\nSPLINE\n71\n1\n10\n1\n10\n2\n40\n0\n40\n0\n40\n1\n40\n.5\n"):         "dxf: line 6: a spline whose knots fall from 1 to 0.5",
		entities("0\nSPLINE\n71\n1\n10\n1\n10\n2\n40\n0\n40\n1\n41\n1\n"):                 "dxf: line 6: a spline with 2 control points and 1 weights",
		entities("0\nSPLINE\n71\n1\n10\n1\n10\n2\n40\n0\n40\n1\n41\n1\n41\n0\n"):          "dxf: line 6: a spline with the weight 0",
		entities("0\nINSERT\n2\nB\n"):                                                     `dxf: line 6: block "B" is not in the file`,
		blockB + entities("0\nINSERT\n2\nB\n41\n1e-200\n42\n1e-200\n"):                    `dxf: line 20: block "B" is inserted with a scale that is too large or too small`,
		blockB + entities("0\nINSERT\n2\nB\n41\n1e9\n42\n1e9\n10\n1e9\n44\n1e9\n70\n3\n"): "dxf: line 10: a point that is more than 1e+09 mm from the origin",
		blockB + blockB: `dxf: line 20: block "B" is there twice`,
		"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n0\nENDBLK\n":                                      "dxf: line 6: a block without a name",
		"0\nSECTION\n2\nBLOCKS\n0\nLINE\n":                                                  `dxf: line 6: "LINE" where a block should start`,
		strings.Replace(blockB, "POINT", "INSERT\n2\nb", 1) + entities("0\nINSERT\n2\nB\n"): `dxf: line 10: block "b" is inserted in itself: take it out there`,
		"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n18\n0\nENDSEC\n" + entities(""):           "dxf: unit 18 in $INSUNITS is not read: save the drawing in mm, cm or inches",
		strings.Replace(written(t, pieceOf(), exchange()), "METRIC", "LEAGUES", 1):          "dxf: line 198: units \"LEAGUES\" are neither METRIC nor ENGLISH",
	} {
		_, err := dxf.Read(strings.NewReader(file), dxf.ReadOptions{})
		require.EqualError(t, err, want, "%q", file)
		var syntax *dxf.SyntaxError
		require.Equal(t, strings.Contains(want, ": line"), errors.As(err, &syntax))
	}
}

func TestReadPassesOnErrorsOfTheReader(t *testing.T) {
	_, err := dxf.Read(iotest.ErrReader(os.ErrClosed), dxf.ReadOptions{})
	require.ErrorIs(t, err, os.ErrClosed)
}

func requireFinite(t require.TestingT, d plot.Drawing) {
	for _, top := range d.Groups {
		top.Walk(func(g plot.Group) {
			for _, l := range g.Lines {
				require.True(t, l.Path.Finite())
			}
			for _, x := range g.Texts {
				require.True(t, x.At.Finite())
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	// Small files: large ones take the fuzzer's time to shrink.
	small := plottest.Scalloped(1)
	small.Groups = small.Groups[:1]
	f.Add([]byte(written(f, small, dxf.Options{})))
	f.Add([]byte(written(f, small, dxf.Options{Flavour: dxf.Exchange, ChordError: 5})))
	f.Add([]byte(written(f, small, dxf.Options{Release: dxf.R2000, Strokes: strokes, Lines: true, ChordError: 5})))
	f.Add([]byte(entities("0\nARC\n40\n5\n50\n10\n51\n200\n0\nCIRCLE\n40\n2\n0\nINSERT\n2\nB\n41\n2\n42\n2\n")))
	// What other programs write, an entity or two each.
	for _, lines := range []string{
		"0\nLWPOLYLINE\n70\n1\n230\n-1\n10\n0\n20\n0\n42\n1\n10\n9\n20\n5\n",
		"0\nELLIPSE\n10\n1\n11\n5\n21\n1\n40\n.4\n41\n1\n42\n4\n",
		"0\nSPLINE\n71\n2\n10\n0\n20\n1\n10\n3\n20\n5\n10\n6\n10\n9\n20\n1\n40\n0\n40\n0\n40\n0\n40\n1\n40\n2\n40\n2\n40\n2\n41\n1\n41\n2\n41\n1\n41\n1\n",
		"0\nSPLINE\n70\n1\n11\n0\n11\n4\n21\n5\n11\n9\n12\n1\n22\n1\n",
		"0\nMTEXT\n10\n1\n40\n2\n71\n5\n1\n{\\fA;Front\\P}%%d\\S1#2;\\U+00e9\n101\nEmbedded Object\n",
		"0\nTEXT\n40\n2\n1\nWaist\n72\n3\n73\n2\n11\n5\n0\nATTDEF\n2\nA\n74\n1\n0\nHATCH\n0\nPOINT\n60\n1\n",
		"0\nINSERT\n2\nB\n41\n2\n42\n-1\n50\n20\n70\n2\n71\n2\n44\n5\n45\n6\n66\n1\n0\nATTRIB\n1\n42\n0\nSEQEND\n",
	} {
		f.Add([]byte("0\nSECTION\n2\nHEADER\n9\n$MEASUREMENT\n70\n1\n0\nENDSEC\n" +
			"0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\nL\n70\n1\n62\n-7\n0\nENDTAB\n0\nENDSEC\n" +
			"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nB\n10\n1\n0\nARC\n40\n5\n51\n90\n0\nINSERT\n2\nC\n0\nENDBLK\n" +
			"0\nBLOCK\n2\nC\n0\nCIRCLE\n8\nL\n40\n1\n0\nENDBLK\n0\nENDSEC\n" + entities(lines)))
	}
	// A piece with grade points, and what they make of other lines.
	piece := codes(0, "BLOCK", 2, "P", 0, "TEXT", 8, 1, 1, "Piece Name: P", 0, "POLYLINE", 8, 1, 70, 1,
		0, "VERTEX", 10, 0, 20, 0, 0, "VERTEX", 10, 90, 20, 0, 0, "VERTEX", 10, 90, 20, 60, 42, .5, 0, "VERTEX", 10, 0, 20, 60, 0, "SEQEND",
		0, "TEXT", 8, 1, 1, "# 1", 10, 0, 20, 0, 0, "TEXT", 8, 1, 1, "# 2", 10, 90, 20, 60)
	for _, lines := range []string{
		codes(0, "LINE", 8, 14, 10, 5, 20, 5, 11, 85, 21, 5, 0, "LINE", 8, 6, 11, 90, 0, "POINT", 8, 4, 10, 40, 30, 5, 50, 90),
		codes(0, "POLYLINE", 8, 14, 70, 1, 0, "VERTEX", 10, 5, 20, 5, 0, "VERTEX", 10, 85, 20, 5, 0, "VERTEX", 10, 85, 20, 55, 0, "SEQEND"),
		codes(0, "CIRCLE", 8, 11, 10, 40, 20, 30, 40, 5, 0, "TEXT", 8, 15, 10, 40, 20, 30, 40, 5, 1, "a", 0, "TEXT", 8, 1, 1, "#1", 10, 40, 20, 30),
	} {
		f.Add([]byte(section("BLOCKS", piece+lines+codes(0, "ENDBLK")) + entities(codes(0, "INSERT", 2, "P", 50, 30, 41, 2, 42, -2))))
	}
	rules := &dxf.Rules{Sizes: []string{"S", "M"}, Sample: "S", Deltas: map[int][]path.Vec{1: {{}, {X: -2, Y: 1}}, 2: {{}, {X: 7}}}}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := dxf.Read(bytes.NewReader(data), dxf.ReadOptions{})
		if err != nil {
			require.Zero(t, d)
			return
		}
		requireFinite(t, d)
		sized, report, err := dxf.ReadWithReport(bytes.NewReader(data), dxf.ReadOptions{Rules: rules})
		if err != nil {
			require.Zero(t, sized)
		} else if requireFinite(t, sized); report.GradePoints == 0 {
			require.Equal(t, d, sized)
		} else if o := (dxf.Options{Flavour: dxf.Exchange, RuleTable: "T", ChordError: 1}); dxf.WriteRules(io.Discard, sized, o) == nil && dxf.Write(io.Discard, sized, o) == nil {
			graded(t, sized, o)
		}
		// What was read can be written, unless it is larger than we write. Spelling
		// and decimals are then settled: read and written once more it is the same.
		var first bytes.Buffer
		if err := dxf.Write(&first, d, dxf.Options{}); err != nil {
			return
		}
		settled := written(t, read(t, first.String()), dxf.Options{})
		d = read(t, settled)
		require.Equal(t, settled, written(t, d, dxf.Options{}))
		// The other release says the same.
		require.Equal(t, d, read(t, written(t, d, dxf.Options{Release: dxf.R2000})))
	})
}
