package dxf_test

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const testdata = "../../testdata/plot-dxf"

// near (mm) is how near to the design everything must be that is read back.
const near = 0.025

func written(t require.TestingT, d plot.Drawing, o dxf.Options) string {
	var b bytes.Buffer
	require.NoError(t, dxf.Write(&b, d, o))
	return b.String()
}

func exchange() dxf.Options { return dxf.Options{Flavour: dxf.Exchange} }

func rectangle(x, y, w, h float64) path.Path {
	return path.Closed(
		path.Point{X: x, Y: y}, path.Point{X: x + w, Y: y}, path.Point{X: x + w, Y: y + h}, path.Point{X: x, Y: y + h})
}

// pieceOf returns a drawing of one piece, a rectangle with the lines in it.
func pieceOf(lines ...plot.Line) plot.Drawing {
	return plot.Drawing{Groups: []plot.Group{{
		Piece: &plot.Piece{Name: "Back", Size: "40"},
		Lines: append([]plot.Line{{Role: plot.Cut, Path: rectangle(0, 0, 300, 200)}}, lines...),
	}}}
}

// pairsOf takes a file apart into its lines, two and two.
func pairsOf(t require.TestingT, file string) [][2]string {
	lines := strings.Split(strings.TrimSuffix(file, "\r\n"), "\r\n")
	require.Zero(t, len(lines)%2)
	var pairs [][2]string
	for i := 0; i < len(lines); i += 2 {
		pairs = append(pairs, [2]string{lines[i], lines[i+1]})
	}
	return pairs
}

func TestGoldenFiles(t *testing.T) {
	for name, o := range map[string]dxf.Options{
		"scalloped-4-plain.dxf":         {},
		"scalloped-4-r2000.dxf":         {Release: dxf.R2000},
		"scalloped-4-lines-strokes.dxf": {Lines: true, ChordError: 0.5, Strokes: strokes},
		"scalloped-4-english.dxf":       {Flavour: dxf.Exchange, Units: dxf.English, ChordError: 0.5},
		"scalloped-4-exchange.dxf": {Flavour: dxf.Exchange, Author: "engrail;engrail;1", CutClips: true,
			Created: time.Date(2026, 3, 9, 14, 5, 0, 0, time.UTC)},
	} {
		t.Run(name, func(t *testing.T) {
			plottest.Golden(t, *update, filepath.Join(testdata, name), []byte(written(t, plottest.Scalloped(4), o)))
		})
	}
}

func TestSameDrawingGivesTheSameBytes(t *testing.T) {
	for _, o := range []dxf.Options{{}, exchange()} {
		first := written(t, plottest.Scalloped(5), o)
		for range 20 {
			require.Equal(t, first, written(t, plottest.Scalloped(5), o))
		}
	}
}

func TestPlainFileSaysReleaseAndUnit(t *testing.T) {
	// Autodesk's DXF Reference, HEADER: $ACADVER AC1009 is release 11 and 12,
	// $INSUNITS 4 is millimetres, $MEASUREMENT 1 is metric.
	file := written(t, pieceOf(), dxf.Options{})
	require.True(t, strings.HasPrefix(file, strings.ReplaceAll(
		"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n9\n$INSUNITS\n70\n4\n9\n$MEASUREMENT\n70\n1\n"+
			"9\n$EXTMIN\n10\n0.0000\n20\n0.0000\n9\n$EXTMAX\n10\n300.0000\n20\n200.0000\n0\nENDSEC\n", "\n", "\r\n")), file)
	require.True(t, strings.HasSuffix(file, "0\r\nENDSEC\r\n0\r\nEOF\r\n"))
}

func TestPlainArcsAreBulges(t *testing.T) {
	// Autodesk's DXF Reference, VERTEX: the bulge is the tangent of a quarter of
	// the included angle, 1 for a semicircle, negative when clockwise.
	circle := plot.Line{Role: plot.Mark, Path: path.Circle(path.Point{X: 50, Y: 40}, 10)}
	arc := plot.Line{Role: plot.Internal, Path: path.FromSegments(path.Arc(path.Point{}, 20, 1, -math.Pi/2))}
	file := written(t, pieceOf(circle, arc), dxf.Options{})
	require.Contains(t, file, "VERTEX\r\n8\r\nMARK\r\n10\r\n60.0000\r\n20\r\n40.0000\r\n42\r\n1.00000000\r\n")
	require.Contains(t, file, "VERTEX\r\n8\r\nMARK\r\n10\r\n40.0000\r\n20\r\n40.0000\r\n42\r\n1.00000000\r\n")
	require.Contains(t, file, "42\r\n-0.41421356\r\n") // tan(pi/8)

	flat := written(t, pieceOf(circle, arc), dxf.Options{ChordError: 0.1})
	require.NotContains(t, flat, "\r\n42\r\n")
	d := read(t, flat)
	require.LessOrEqual(t, plottest.Deviation(circle.Path, d.Groups[0].Lines[1].Path), 0.1001)
	require.Greater(t, plottest.Deviation(circle.Path, d.Groups[0].Lines[1].Path), 0.05)
}

func TestNoCutLineIsDashed(t *testing.T) {
	file := written(t, plottest.Scalloped(3), dxf.Options{})
	for _, layer := range []string{"CUT", "NOTCH", "CLIP"} {
		require.Regexp(t, "LAYER\r\n2\r\n"+layer+"\r\n70\r\n0\r\n62\r\n\\d+\r\n6\r\nCONTINUOUS\r\n", file)
	}
	require.Regexp(t, "LAYER\r\n2\r\nSTITCH\r\n70\r\n0\r\n62\r\n\\d+\r\n6\r\nDASHED\r\n", file)
}

// factsOf returns the texts on layer 1 of the block.
func factsOf(t require.TestingT, file, block string) (facts []plot.Text) {
	in, text := false, plot.Text{}
	for _, p := range pairsOf(t, file) {
		number := func() float64 {
			x, err := strconv.ParseFloat(p[1], 64)
			require.NoError(t, err)
			return x
		}
		switch {
		case p[0] == "2":
			in = p[1] == block
		case !in:
		case p[0] == "0":
			if text.String != "" {
				facts = append(facts, text)
			}
			if p[1] == "ENDBLK" {
				return facts
			}
			text = plot.Text{}
		case p[0] == "10":
			text.At.X = number()
		case p[0] == "20":
			text.At.Y = number()
		case p[0] == "40":
			text.Height = number()
		case p[0] == "1" && strings.Contains(p[1], ": "):
			text.String = p[1]
		}
	}
	return facts
}

func TestFactsStandInsideTheirPiece(t *testing.T) {
	band := path.Path{Closed: true, V: []path.Vertex{
		{Point: path.Point{}, Bulge: 0.4}, {Point: path.Point{X: 600}}, {Point: path.Point{X: 560, Y: 20}, Bulge: -0.4}, {Point: path.Point{X: 40, Y: 20}},
	}}
	cutout := plot.Line{Role: plot.Cut, Path: rectangle(20, 20, 160, 160)}
	for name, c := range map[string]struct {
		outline path.Path
		clear   bool // there is room for all of it
	}{
		"upright":     {rectangle(-700, 40, 300, 200), true},
		"cut out":     {rectangle(0, 0, 300, 200), true},
		"slanted":     {path.Closed(path.Point{}, path.Point{X: 120}, path.Point{X: 720, Y: 700}, path.Point{X: 600, Y: 700}), true},
		"curved band": {band, true},
		"turned":      {path.Closed(path.Point{}, path.Point{X: 300, Y: 300}, path.Point{X: 200, Y: 400}, path.Point{X: -100, Y: 100}), true},
		"small":       {rectangle(0, 0, 40, 10), true},
		"tiny":        {rectangle(0, 0, 3, 3), false},
	} {
		t.Run(name, func(t *testing.T) {
			box := c.outline.Bounds().Centre()
			label := plot.Text{At: box, Height: 1, Align: plot.Middle, String: "label"}
			d := plot.Drawing{Groups: []plot.Group{{
				Piece: &plot.Piece{Name: "Sleeve facing", Size: "40", Kind: "facing", Quantity: 2, Material: "linen"},
				Lines: []plot.Line{{Role: plot.Cut, Path: c.outline}}, Texts: []plot.Text{label},
			}}}
			if name == "cut out" {
				d.Groups[0].Lines = append(d.Groups[0].Lines, cutout)
			}
			facts := factsOf(t, written(t, d, exchange()), "SLEEVE_FACING-40")
			require.Len(t, facts, 5)
			require.True(t, c.outline.Contains(facts[0].At))
			if !c.clear {
				return
			}
			for _, f := range facts {
				corners := f.Corners()
				block := path.Closed(corners[:]...)
				require.Empty(t, block.Intersections(c.outline), f.String)
				for _, q := range corners {
					require.True(t, c.outline.Contains(q), f.String)
					require.False(t, name == "cut out" && cutout.Path.Contains(q), f.String)
				}
				l := label.Corners()
				require.Empty(t, block.Intersections(path.Closed(l[:]...)), "over the label")
				require.GreaterOrEqual(t, f.Height, 0.25)
			}
		})
	}
}

// ASTM D6673-10, 4.3: layer 6 has the mirror line and layer 7 the grain line,
// as LINE.
func TestExchangeHasOneLineForGrainAndFoldAndNoSigns(t *testing.T) {
	d := plottest.Scalloped(6)
	for i := range d.Groups {
		g := &d.Groups[i]
		signs := g.Signs()
		require.Len(t, signs, 5, "two arrowheads, and a bracket with two")
		g.Lines = append(g.Lines, signs...)
	}
	require.Equal(t, written(t, plottest.Scalloped(6), exchange()), written(t, d, exchange()))

	plain := written(t, d, dxf.Options{})
	require.Equal(t, 10, strings.Count(plain, "\r\n1070\r\n1\r\n"))
	back := read(t, plain)
	for i, g := range back.Groups {
		requireLines(t, d.Groups[i].Lines, g.Lines, near)
	}
	require.NoError(t, dxf.Write(io.Discard, back, exchange()))
}

func TestEmptyDrawingIsAFileWithoutEntities(t *testing.T) {
	for _, o := range []dxf.Options{{}, exchange()} {
		for _, d := range []plot.Drawing{{}, {Groups: []plot.Group{{Label: "nothing", Lines: []plot.Line{{}}}}}} {
			file := written(t, d, o)
			require.NotRegexp(t, "\r\n0\r\n(LINE|POLYLINE|POINT|INSERT|BLOCK)\r\n", file)
			require.Empty(t, read(t, file).Groups)
		}
	}
}

// What the exchange flavour must be, by ASTM D6673-10 as other programs'
// documents quote it, and by what importers are known to stumble over.
func TestExchangeFileKeepsToTheStandard(t *testing.T) {
	d := plottest.Scalloped(8)
	d.Groups[0].Piece.Name = "Vorderteil, weiß – mit sehr langem Namen"
	d.Groups = append(d.Groups, d.Groups[0])
	file := written(t, d, exchange())
	require.True(t, strings.HasPrefix(file, "0\r\nSECTION\r\n2\r\nHEADER\r\n0\r\nENDSEC\r\n0\r\nSECTION\r\n2\r\nBLOCKS\r\n"))
	require.NotContains(t, file, "TABLES")
	require.NotContains(t, file, "$")
	require.NotContains(t, file, "\r\n42\r\n", "no bulges")
	require.Regexp(t, `^([ -~]*\r\n)*$`, file, "7-bit ASCII")

	blocks, inserts := map[string]int{}, map[string]int{}
	decimals := regexp.MustCompile(`^-?\d+\.\d\d$`)
	polylines := map[string]int{}
	kind := ""
	for _, p := range pairsOf(t, file) {
		switch p[0] {
		case "0":
			kind = p[1]
		case "2":
			switch kind {
			case "BLOCK":
				blocks[p[1]]++
			case "INSERT":
				inserts[p[1]]++
			}
		case "8":
			if kind == "POLYLINE" {
				polylines[p[1]]++
			}
		case "10", "20", "11", "21", "30", "40":
			if kind != "POLYLINE" && kind != "TEXT" {
				require.Regexp(t, decimals, p[1], "METRIC has two decimals (4.3.1.1)")
			}
		}
	}
	require.Equal(t, map[string]int{
		"VORDERTEIL__WEISS_-_MIT_SEHR_LA": 1, "FRONT_FACING-38": 1, "VORDERTEIL__WEISS_-_MIT_SEHR_-2": 1,
	}, blocks)
	require.Equal(t, blocks, inserts, "each block is inserted once")
	for _, layer := range []string{"5", "6", "7", "9", "10", "13"} {
		require.Zero(t, polylines[layer], "layer %s may not hold polylines (4.3)", layer)
	}
	require.Equal(t, map[string]int{"1": 3, "14": 3, "8": 3}, polylines)
	for _, text := range []string{
		"ASTM/D13 Proposal 1 Version: D6673-10", "Style Name: Marram skirt", "Sample Size: 38", "Grade Rule Table: ",
		"Units: METRIC", "Piece Name: Vorderteil, weiss - mit sehr langem Namen", "Size: 38", "Quantity: 1,0",
		"Material: linen", "Category: garment",
	} {
		require.Contains(t, file, "\r\n1\r\n"+text+"\r\n")
	}
	for _, absent := range []string{"Creation Date", "Creation Time", "Author"} {
		require.NotContains(t, file, absent)
	}
	dated := written(t, d, dxf.Options{Flavour: dxf.Exchange, SampleSize: "40", Author: "v;a;1",
		Created: time.Date(2026, 3, 9, 14, 5, 0, 0, time.UTC)})
	for _, text := range []string{"Creation Date: 09-03-2026", "Creation Time: 14:05", "Sample Size: 40", "Author: v;a;1"} {
		require.Contains(t, dated, "\r\n1\r\n"+text+"\r\n")
	}
}

func TestQuantityTellsDrawnFromMirrored(t *testing.T) {
	for want, p := range map[string]plot.Piece{
		"1,1": {Quantity: 2, Pairs: true}, "2,0": {Quantity: 2}, "2,1": {Quantity: 3, Pairs: true}, "1,0": {Quantity: 1},
	} {
		d := pieceOf()
		p.Name = "Back"
		d.Groups[0].Piece = &p
		file := written(t, d, exchange())
		require.Contains(t, file, "\r\nQuantity: "+want+"\r\n")
		back := read(t, file).Groups[0].Piece
		require.Equal(t, p.Quantity, back.Quantity)
		require.Equal(t, p.Pairs, back.Pairs)
	}
	require.NotContains(t, written(t, pieceOf(), exchange()), "Quantity")
}

func TestTurnPointsAreCornersAndEndsOfStraightLines(t *testing.T) {
	// A round-cornered tab: straight, quarter circle, straight, a corner, and an
	// S of two arcs that run on smoothly.
	quarter := math.Tan(math.Pi / 8)
	line := path.Path{V: []path.Vertex{
		{Point: path.Point{X: 10, Y: 10}},                     // end, turn
		{Point: path.Point{X: 40, Y: 10}, Bulge: quarter},     // end of a straight line, turn
		{Point: path.Point{X: 50, Y: 20}},                     // likewise
		{Point: path.Point{X: 50, Y: 50}, Bulge: -quarter},    // likewise
		{Point: path.Point{X: 60, Y: 60}, Bulge: quarter},     // smooth, from arc to arc: curve
		{Point: path.Point{X: 70, Y: 70}, Bulge: quarter},     // smooth: curve
		{Point: path.Point{X: 60, Y: 80}, Bulge: -math.Sqrt2}, // a cusp: turn
		{Point: path.Point{X: 60, Y: 100}},                    // end, turn
	}}
	file := written(t, pieceOf(plot.Line{Role: plot.Stitch, Path: line}), exchange())
	points := map[string][]string{}
	pairs := pairsOf(t, file)
	for i, p := range pairs {
		if p == [2]string{"0", "POINT"} {
			points[pairs[i+1][1]] = append(points[pairs[i+1][1]], pairs[i+2][1]+","+pairs[i+3][1])
		}
	}
	require.Equal(t, []string{
		"0.00,0.00", "300.00,0.00", "300.00,200.00", "0.00,200.00", // the piece
		"10.00,10.00", "40.00,10.00", "50.00,20.00", "50.00,50.00", "60.00,80.00", "60.00,100.00",
	}, points["2"])
	require.Contains(t, points["3"], "60.00,60.00")
	require.Contains(t, points["3"], "70.00,70.00")
	vertices := strings.Count(file, "VERTEX\r\n8\r\n14\r\n")
	require.Equal(t, 4+vertices, len(points["2"])+len(points["3"]), "each vertex is one or the other")
}

func TestNotchIsAPointWithDepthAndDirectionInward(t *testing.T) {
	notch := plot.Line{Role: plot.Notch, Path: path.Open(path.Point{X: 300, Y: 100}, path.Point{X: 296, Y: 103})}
	require.Contains(t, written(t, pieceOf(notch), exchange()), strings.ReplaceAll(
		"0\nPOINT\n8\n4\n10\n300.00\n20\n100.00\n30\n5.00\n50\n143.1301\n", "\n", "\r\n"))
}

func TestClipsAreDrawnUnlessTheyAreToBeCut(t *testing.T) {
	clip := plot.Line{Role: plot.Clip, Path: path.Open(path.Point{X: 150}, path.Point{X: 150, Y: 5})}
	require.Contains(t, written(t, pieceOf(clip), exchange()), "LINE\r\n8\r\n8\r\n62\r\n130\r\n10\r\n150.00\r\n")
	o := exchange()
	o.CutClips = true
	file := written(t, pieceOf(clip), o)
	require.Contains(t, file, "POINT\r\n8\r\n4\r\n62\r\n130\r\n10\r\n150.00\r\n20\r\n0.00\r\n30\r\n5.00\r\n50\r\n90.0000\r\n")
	require.NotContains(t, file, "\r\n8\r\n8\r\n")
}

func TestLargestCutLineIsThePieceAndOthersAreCutouts(t *testing.T) {
	hole := plot.Line{Role: plot.Cut, Path: path.Circle(path.Point{X: 50, Y: 50}, 10)}
	slit := plot.Line{Role: plot.Cut, Path: path.Open(path.Point{X: 90, Y: 50}, path.Point{X: 95, Y: 50})}
	d := pieceOf(hole, slit)
	lines := d.Groups[0].Lines
	lines[0], lines[2] = lines[2], lines[0]
	back := read(t, written(t, d, exchange())).Groups[0]
	require.Len(t, back.Lines, 3)
	for _, l := range back.Lines {
		require.Equal(t, plot.Cut, l.Role)
	}
	file := written(t, d, exchange())
	require.Equal(t, 1, strings.Count(file, "POLYLINE\r\n8\r\n1\r\n"))
	// ASTM D6673-10, 4.3, second-hand: layer 11 holds POLYLINE.
	require.Equal(t, 2, strings.Count(file, "POLYLINE\r\n8\r\n11\r\n"))
	require.NotContains(t, file, "\r\nLINE\r\n8\r\n11\r\n")
}

func TestGroupsInsideAPieceAreOfIt(t *testing.T) {
	d := pieceOf()
	d.Groups[0].Groups = []plot.Group{
		{Label: "darts", Lines: []plot.Line{{Role: plot.Internal, Path: path.Open(path.Point{X: 10, Y: 10}, path.Point{X: 20, Y: 40})}}},
		{Piece: &plot.Piece{Name: "Pocket"}, Lines: []plot.Line{{Role: plot.Cut, Path: rectangle(400, 0, 100, 100)}}},
	}
	for _, o := range []dxf.Options{{}, exchange()} {
		back := read(t, written(t, d, o))
		require.Len(t, back.Groups, 2)
		require.Len(t, back.Groups[0].Lines, 2)
		require.Equal(t, "Pocket", back.Groups[1].Piece.Name)
	}
}

func TestBadInputIsRefusedByName(t *testing.T) {
	nan := math.NaN()
	text := func(x plot.Text) plot.Drawing {
		d := pieceOf()
		d.Groups[0].Texts = []plot.Text{x}
		return d
	}
	stitch := func(p path.Path) plot.Drawing { return pieceOf(plot.Line{Role: plot.Stitch, Path: p}) }
	two := pieceOf()
	two.Groups[0].Piece.Style = "Marram skirt"
	two.Groups = append(two.Groups, plot.Group{Piece: &plot.Piece{Name: "Yoke", Style: "Sedge coat"}, Lines: two.Groups[0].Lines})
	onFold := pieceOf()
	onFold.Groups[0].Piece.OnFold = true
	for name, c := range map[string]struct {
		d    plot.Drawing
		o    dxf.Options
		want string
	}{
		"nan": {stitch(path.Open(path.Point{Y: nan})), dxf.Options{},
			`dxf: piece "Back" size 40: stitch line 2 has a coordinate that is not a number`},
		"infinite bulge": {stitch(path.Path{V: []path.Vertex{{Bulge: math.Inf(1)}, {}}}), exchange(),
			`dxf: piece "Back" size 40: stitch line 2 has a coordinate that is not a number`},
		"too large": {stitch(path.Open(path.Point{}, path.Point{X: 2e6})), dxf.Options{},
			`dxf: piece "Back" size 40: stitch line 2 reaches 2000000 mm from the origin, and no more than 1000000 mm are written: check its scale`},
		"arc too large": {stitch(path.Path{V: []path.Vertex{{Bulge: -9e3}, {Point: path.Point{Y: 500}}}}), exchange(),
			`dxf: piece "Back" size 40: stitch line 2 reaches 2250000 mm from the origin, and no more than 1000000 mm are written: check its scale`},
		"nearly a full turn": {stitch(path.Path{V: []path.Vertex{{Bulge: 1e5}, {}}}), dxf.Options{},
			`dxf: piece "Back" size 40: stitch line 2 has an arc at (0.0, 0.0) mm that is too nearly a full turn: divide it`},
		"unknown role": {pieceOf(plot.Line{Role: 99, Path: path.Open(path.Point{})}), dxf.Options{},
			`dxf: piece "Back" size 40: line 2 has no role that is known`},
		"text place": {text(plot.Text{At: path.Point{X: nan}, Height: 5, String: "a"}), dxf.Options{},
			`dxf: piece "Back" size 40: text 1, "a", has a place or angle that is not a number, or too large a one`},
		"text height": {text(plot.Text{String: "a"}), exchange(),
			`dxf: piece "Back" size 40: text 1, "a", is 0 mm high, not between 0.01 and 10000 mm`},
		"text length": {text(plot.Text{Height: 5, String: strings.Repeat("ß", 128)}), dxf.Options{},
			`dxf: piece "Back" size 40: text 1 has 256 characters, and a DXF text holds 255: divide it`},
		"chord error": {plot.Drawing{}, dxf.Options{ChordError: -1},
			"dxf: the chord error of -1 mm is not between 0.0001 and 10 mm"},
		"units": {plot.Drawing{}, dxf.Options{Flavour: dxf.Exchange, Units: 7},
			"dxf: there are no units 7: choose metric or English ones"},
		"graded check curves": {pieceOf(), dxf.Options{Flavour: dxf.Exchange, CheckCurves: true, RuleTable: "A"},
			`dxf: check curves cannot be graded by the rule table "A": leave them out, or write a block for each size`},
		"two styles": {two, exchange(),
			`dxf: piece "Back" size 40 is of style "Marram skirt" and piece "Yoke" of style "Sedge coat": pattern data hold one style a file`},
		"open piece": {plot.Drawing{Groups: []plot.Group{{Label: "legend", Texts: []plot.Text{{Height: 5, String: "a"}}}}}, exchange(),
			`dxf: group "legend" has no closed cut line, which pattern data need: close its outline, or write plain DXF`},
		"no fold": {onFold, exchange(),
			`dxf: piece "Back" size 40 is cut on the fold and has no fold line, which pattern data need as its mirror line`},
		"title": {plot.Drawing{Title: strings.Repeat("a", 250)}, dxf.Options{},
			"dxf: the drawing's title has 257 characters with its key, and a DXF text holds 255: shorten it"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.EqualError(t, dxf.Write(&b, c.d, c.o), c.want)
			require.Zero(t, b.Len(), "nothing is written after an error")
		})
	}
	long := pieceOf()
	long.Groups[0].Piece.Notes = []string{strings.Repeat("x", 300)}
	require.ErrorContains(t, dxf.Write(io.Discard, long, dxf.Options{}), "has 306 characters, and a DXF text holds 255: shorten it")
	require.NoError(t, dxf.Write(io.Discard, two, dxf.Options{}), "the plain flavour holds several styles")
}

// The rest is measured by ezdxf, a DXF library of others.

func ezdxf(t *testing.T, file string) plottest.Measured {
	name := filepath.Join(t.TempDir(), "drawing.dxf")
	require.NoError(t, os.WriteFile(name, []byte(file), 0o644))
	var all []plottest.Measured
	plottest.Ezdxf(t, &all, testdata+"/measure.py", name)
	require.Len(t, all, 1)
	f := all[0]
	require.Empty(t, f.Errors)
	require.Equal(t, "AC1009", f.Version)
	return f
}

// designed returns the length of the lines of the role and the box around them.
func designed(lines []plot.Line, role plot.Role) (length float64, box path.Box) {
	box = path.EmptyBox()
	for _, l := range lines {
		if l.Role == role {
			length += l.Path.Length()
			box = box.Union(l.Path.Bounds())
		}
	}
	return length, box
}

func requireBox(t *testing.T, want path.Box, got [4]float64, within float64, message string) {
	for i, w := range [4]float64{want.Min.X, want.Min.Y, want.Max.X, want.Max.Y} {
		require.InDelta(t, w, got[i], within, message)
	}
}

func TestIndependentReaderMeasuresThePlainDesign(t *testing.T) {
	d := plottest.Scalloped(60)
	f := ezdxf(t, written(t, d, dxf.Options{}))
	require.Equal(t, 4, f.Units)
	require.Empty(t, f.Blocks)
	lines := append(d.Groups[0].Lines, d.Groups[1].Lines...)
	layers := 0
	for _, r := range plot.Roles() {
		length, box := designed(lines, r)
		if box.Empty() {
			continue
		}
		layers++
		layer, ok := f.Layers[strings.ToUpper(r.String())]
		require.True(t, ok, "%s", r)
		t.Logf("%s: %.4f mm designed, %.4f mm read", r, length, layer.Length)
		require.InDelta(t, length, layer.Length, near, "%s", r)
		requireBox(t, box, layer.Box, near, r.String())
	}
	require.Len(t, f.Layers, layers)
	require.Equal(t, map[string][]string{"TEXT": {"size 38", "grain", "size 38", "grain"}}, f.Texts)
}

func TestIndependentReaderMeasuresTheExchangeDesign(t *testing.T) {
	d := plottest.Scalloped(60)
	file := written(t, d, exchange())
	f := ezdxf(t, file)
	require.Equal(t, []string{"FRONT-38", "FRONT_FACING-38"}, f.Inserts)
	require.Len(t, f.Blocks, 2)
	back := read(t, file)
	for i, g := range d.Groups {
		block := f.Blocks[f.Inserts[i]]
		for layer, roles := range map[string][]plot.Role{
			"1": {plot.Cut}, "14": {plot.Stitch}, "6": {plot.Fold}, "7": {plot.Grain}, "8": {plot.Clip, plot.Internal},
		} {
			length, drawn, box := 0.0, 0.0, path.EmptyBox()
			for _, r := range roles {
				l, b := designed(g.Lines, r)
				length, box = length+l, box.Union(b)
				l, _ = designed(back.Groups[i].Lines, r)
				drawn += l
			}
			got := block.Layers[layer]
			t.Logf("layer %s: %.3f mm designed, %.3f mm read", layer, length, got.Length)
			require.InDelta(t, drawn, got.Length, near, "layer %s", layer)
			// Chords shorten an arc of 12.8 mm radius by 4 x 0.015 / (3 x 12.8) of its
			// length, 0.16 %.
			require.InEpsilon(t, length, got.Length, 0.0016, "layer %s", layer)
			requireBox(t, box, got.Box, near, "layer "+layer)
		}
		require.Len(t, block.Notches, 1)
		require.Equal(t, [3]float64{4, 0, 180}, [3]float64(block.Notches[0][2:]))
		require.Equal(t, []string{"size 38", "grain"}, block.Texts["15"])
		require.Contains(t, block.Texts["1"], "Piece Name: "+g.Piece.Name)
	}
}

func TestIndependentReaderSeesTheLettering(t *testing.T) {
	d := pieceOf()
	for i, s := range []string{"cut 2; 100% wool", "50%% off", "caret ^J", "line\nbreak\x03", "Größe – 裾", "%%%"} {
		d.Groups[0].Texts = append(d.Groups[0].Texts, plot.Text{At: path.Point{Y: float64(10 * i)}, Height: 5, String: s})
	}
	want := []string{"cut 2; 100% wool", "50% % off", "caret ^J", "line break ", "Grosse - ?", "% % %"}
	for _, o := range []dxf.Options{{}, exchange()} {
		file := written(t, d, o)
		var got []string
		for _, x := range read(t, file).Groups[0].Texts {
			got = append(got, x.String)
		}
		require.Equal(t, want, got)
		f := ezdxf(t, file)
		if o.Flavour == dxf.Exchange {
			require.Equal(t, want, f.Blocks["BACK-40"].Texts["15"])
		} else {
			require.Equal(t, want, f.Texts["TEXT"])
		}
	}
}

func TestNumbersAreWrittenToTheLastDecimal(t *testing.T) {
	for _, x := range []float64{0, 0.0049, -0.0051, 1, -1, 12.34567, 99999.999, -123456.78, 999999.99999} {
		d := pieceOf(plot.Line{Role: plot.Mark, Path: path.Open(path.Point{X: x, Y: -x})})
		file := written(t, d, dxf.Options{})
		require.Contains(t, file, fmt.Sprintf("POINT\r\n8\r\nMARK\r\n10\r\n%.4f\r\n20\r\n%.4f\r\n", x, 0-x))
	}
}
