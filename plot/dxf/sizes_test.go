package dxf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

// note is a TEXT on layer 1.
func note(s string, at ...float64) string {
	x, y := 0.0, 0.0
	if len(at) == 2 {
		x, y = at[0], at[1]
	}
	return codes(0, "TEXT", 8, 1, 10, x, 20, y, 40, 1, 1, s)
}

// line is a POLYLINE, closed unless the layer's number is negative.
func line(layer int, points ...float64) string {
	closed := 1
	if layer < 0 {
		layer, closed = -layer, 0
	}
	var s strings.Builder
	s.WriteString(codes(0, "POLYLINE", 8, layer, 66, 1, 70, closed))
	for i := 0; i < len(points); i += 2 {
		s.WriteString(codes(0, "VERTEX", 8, layer, 10, points[i], 20, points[i+1]))
	}
	s.WriteString(codes(0, "SEQEND"))
	return s.String()
}

// patternData is a file with blocks, given as their name and contents.
func patternData(style string, blocks ...string) string {
	all, inserts := "", style
	for i := 0; i < len(blocks); i += 2 {
		all += codes(0, "BLOCK", 8, 1, 2, blocks[i]) + blocks[i+1] + codes(0, "ENDBLK")
		inserts += codes(0, "INSERT", 8, 1, 2, blocks[i])
	}
	return section("BLOCKS", all) + entities(inserts)
}

const square = "Square"

// tagged is a square of 100 units with a grade point at each corner.
func tagged(more string) string {
	return note("Piece Name: "+square) + line(1, 0, 0, 100, 0, 100, 100, 0, 100) +
		note("# 1", 0, 0) + note("#2", 100, 0) + note(" #  3 ", 100, 100) + note("# 4", 0, 100) + more
}

const squareRules = `UNITS: METRIC
GRADE RULE TABLE: T
SIZE LIST: S M
SAMPLE SIZE: S
RULE: DELTA 1
0,0 0,0
RULE: DELTA 2
0,0 10,0
RULE: DELTA 3
0,0 10,6
RULE: DELTA 4
0,0 0,6
RULE: DELTA 5
0,0 -3,-1
`

// grown reads a file with rules and returns the lines of its last group.
func grown(t require.TestingT, file, table string) ([]plot.Line, dxf.Report) {
	d, report, err := dxf.ReadWithReport(strings.NewReader(file), dxf.ReadOptions{Rules: rulesOf(t, table)})
	require.NoError(t, err)
	return d.Groups[len(d.Groups)-1].Lines, report
}

func requireVertices(t require.TestingT, p path.Path, coordinates ...float64) {
	require.Len(t, p.V, len(coordinates)/2)
	for i, v := range p.V {
		require.InDelta(t, coordinates[2*i], v.X, 1e-9, "x of vertex %d of %v", i, p)
		require.InDelta(t, coordinates[2*i+1], v.Y, 1e-9, "y of vertex %d of %v", i, p)
	}
}

func TestWhatIsInAPieceMovesWithItsGradePoints(t *testing.T) {
	way := math.Hypot(48, 38)
	share := 50 + way + math.Hypot(22, 22)
	for name, c := range map[string]struct {
		lines string
		want  []float64
	}{
		"outline":                                {"", []float64{0, 0, 110, 0, 110, 106, 0, 106}},
		"stitching line beside it":               {line(14, 10, 20, 90, 20, 90, 95, 10, 95), []float64{10, 20, 100, 20, 100, 101, 10, 101}},
		"stitching line of one side":             {codes(0, "LINE", 8, 14, 10, 10, 20, 10, 11, 90, 21, 10), []float64{10, 10, 100, 10}},
		"stitching line from edge to edge":       {line(-14, 0, 50, 50, 50, 100, 50), []float64{0, 53, 55, 53, 110, 53}},
		"stitching line with its own points":     {line(-14, 10, 40, 60, 40, 90, 40) + note("# 5", 10, 40) + note("# 1", 90, 40), []float64{7, 39, 60 - 3*30./80, 40 - 30./80, 90, 40}},
		"fold":                                   {codes(0, "LINE", 8, 6, 11, 0, 21, 100), []float64{0, 0, 0, 106}},
		"fold that is drawn further":             {codes(0, "LINE", 8, 6, 20, -5, 11, 0, 21, 105), []float64{0, -5, 0, 111}},
		"grain keeps its length":                 {codes(0, "LINE", 8, 7, 10, 90, 20, 30, 11, 90, 21, 60), []float64{100, 30 + 6*.3, 100, 60 + 6*.3}},
		"line between points":                    {line(-8, 0, 0, 30, 40, 78, 78, 100, 100), []float64{0, 0, 30 + 10*50/share, 40 + 6*50/share, 78 + 10*(50+way)/share, 78 + 6*(50+way)/share, 110, 106}},
		"line from the edge goes on as it began": {line(-8, 100, 50, 80, 50, 60, 40), []float64{110, 53, 90, 53, 70, 43}},
		"line that meets nothing":                {line(-8, 95, 50, 80, 60, 70, 20), []float64{105, 53, 90, 63, 80, 23}},
		"cutout keeps its shape":                 {line(11, 40, 10, 60, 10, 60, 20), []float64{44, 10, 64, 10, 64, 20}},
		"drill hole":                             {codes(0, "POINT", 8, 13, 10, 20, 20, 95), []float64{22, 101}},
		"drill hole with its own point":          {codes(0, "POINT", 8, 13, 10, 20, 20, 95) + note("# 5", 20, 95), []float64{17, 94}},
		"drill hole with a centred point":        {codes(0, "POINT", 8, 13, 10, 20, 20, 95, 0, "TEXT", 8, 2, 1, "# 5", 72, 1, 11, 20, 21, 95), []float64{17, 94}},
		"grade reference line":                   {codes(0, "LINE", 8, 5, 20, 50, 11, 100, 21, 50), []float64{0, 53, 110, 53}},
		"notch":                                  {codes(0, "POINT", 8, 4, 10, 100, 20, 25, 30, 5, 50, 180), []float64{110, 26.5, 105, 26.5}},
	} {
		got, report := grown(t, patternData("", "A", tagged(c.lines)), squareRules)
		require.Empty(t, report.Warnings, name)
		t.Run(name, func(t *testing.T) { requireVertices(t, got[len(got)-1].Path, c.want...) })
	}
}

func TestGradePointBetweenVerticesDividesTheEdge(t *testing.T) {
	got, report := grown(t, patternData("", "A", tagged(line(-8, 50, 100, 50, 80)+note("# 5", 50, 100))), squareRules)
	require.Empty(t, report.Warnings)
	requireVertices(t, got[1].Path, 47, 99, 47, 79)
	got, report = grown(t, patternData("", "A", tagged(note("# 5", 50, 0)+codes(0, "POINT", 8, 13, 10, 75, 20, 0))), squareRules)
	require.Empty(t, report.Warnings)
	requireVertices(t, got[1].Path, 75+3.5, -.5) // half way from -3, -1 to 10, 0
}

func TestOneGradePointMovesTheWholeOutline(t *testing.T) {
	got, _ := grown(t, patternData("", "A", note("Piece Name: A")+line(1, 0, 0, 100, 0, 100, 100)+note("# 5", 100, 0)), squareRules)
	requireVertices(t, got[0].Path, -3, -1, 97, -1, 97, 99)
}

func TestArcsKeepTheirShareOfTheChord(t *testing.T) {
	arc := note("Piece Name: A") + codes(0, "POLYLINE", 8, 1, 70, 1, 0, "VERTEX", 10, 0, 20, 0, 42, 0.5, 0, "VERTEX", 10, 100, 20, 0, 0, "VERTEX", 10, 100, 20, 80, 0, "SEQEND") +
		note("# 1", 0, 0) + note("# 2", 100, 0) + note("# 2", 100, 80)
	got, _ := grown(t, patternData("", "A", arc), squareRules)
	require.InDelta(t, 0.5, got[0].Path.V[0].Bulge, 0)
	requireVertices(t, got[0].Path, 0, 0, 110, 0, 110, 80)
}

// An edge that leans by a tenth more takes its notches along.
func TestNotchTurnsWithItsEdge(t *testing.T) {
	rules := strings.Replace(squareRules, "10,6", "20,0", 1)
	got, _ := grown(t, patternData("", "A", tagged(codes(0, "POINT", 8, 80, 10, 100, 20, 50, 30, 5, 50, 180))), rules)
	edge := got[0].Path.Segment(1).Chord()
	notch := got[1].Path.Segment(0).Chord()
	require.InDelta(t, 5, notch.Len(), 1e-9)
	require.Greater(t, edge.AngleTo(path.Vec{Y: 1}), 0.05)
	require.InDelta(t, math.Pi/2, edge.AngleTo(notch), 1e-9)
}

func TestRulesTurnAndScaleWithTheBlock(t *testing.T) {
	file := section("BLOCKS", codes(0, "BLOCK", 2, "A")+tagged("")+codes(0, "ENDBLK")) +
		entities(codes(0, "INSERT", 2, "A", 50, 90, 41, 2, 42, -2, 10, 5))
	got, _ := grown(t, file, squareRules)
	requireVertices(t, got[0].Path, 5, 0, 5, 220, 217, 220, 217, 0)
}

func TestPieceWithoutGradePointsIsTheSameInAllSizes(t *testing.T) {
	file := patternData("", "A", tagged(""), "B", note("Piece Name: Loop")+line(1, 0, 0, 9, 0, 9, 40))
	d, report, err := dxf.ReadWithReport(strings.NewReader(file), dxf.ReadOptions{Rules: rulesOf(t, squareRules)})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.Equal(t, 4, report.GradePoints)
	require.Len(t, d.Groups, 4)
	names := ""
	for _, g := range d.Groups {
		names += g.Piece.Name + g.Piece.Size + g.ID + " "
	}
	require.Equal(t, "SquareSA SquareMA-M LoopSB LoopMB-M ", names)
	require.Equal(t, d.Groups[2].Lines, d.Groups[3].Lines)
}

func TestUnitOfTheRulesCountsBesideThatOfTheFile(t *testing.T) {
	for _, c := range []struct {
		file, table string
		given       float64
		want        float64 // of 100 units in size M, in mm
		warnings    int
	}{
		{"METRIC", "METRIC", 0, 110, 0},
		{"ENGLISH", "ENGLISH", 0, 110 * 25.4, 0},
		{"METRIC", "ENGLISH", 0, 100 + 254, 1},
		{"ENGLISH", "METRIC", 0, 2540 + 10, 1},
		{"METRIC", "METRIC", 10, 1100, 0}, // both say what is not so
		{"METRIC", "", 0, 110, 0},
		{"ENGLISH", "", 0, 110 * 25.4, 0},
		{"", "METRIC", 0, 110, 0},
		{"", "ENGLISH", 25.4, 110 * 25.4, 0},
	} {
		style := note("Style Name: Sorrel")
		if c.file != "" {
			style += note("Units: " + c.file)
		}
		table := strings.Replace(squareRules, "UNITS: METRIC", "UNITS: "+c.table, 1)
		d, report, err := dxf.ReadWithReport(strings.NewReader(patternData(style, "A", tagged(""))), dxf.ReadOptions{UnitMM: c.given, Rules: rulesOf(t, table)})
		require.NoError(t, err)
		require.InDelta(t, c.want, d.Groups[1].Bounds().Width(), 1e-9, "%v", c)
		require.Len(t, report.Warnings, c.warnings, "%v", c)
	}
}

func TestRulesThatDoNotFitTheFileAreToldOf(t *testing.T) {
	style := func(table string) string {
		return note("Sample Size: S") + note("Grade Rule Table: "+table) + note("Units: METRIC")
	}
	plain := note("Piece Name: A") + line(1, 0, 0, 100, 0, 100, 100)
	table := rulesOf(t, squareRules)
	for _, c := range []struct {
		file  string
		rules *dxf.Rules
		want  string
	}{
		{patternData(style("t"), "A", tagged("")), table, ""},
		{patternData(style(`"T.rul"`), "A", tagged("")), table, ""},
		{patternData(style("SORREL"), "A", tagged("")), table,
			`the file names the grade rule table "SORREL", and the one given is "T": see that the table belongs to the file`},
		{patternData(strings.Replace(style("T"), "METRIC", "ENGLISH", 1)+note("Style Name: Sorrel"), "A", tagged("")), table,
			"the file's unit is 25.4 mm and the rule table's 1 mm: see that the table belongs to the file"},
		{patternData(style("T"), "A", tagged(note("Size: L"))), table,
			`piece "Square" is drawn in size L, and the rule table moves points from size S: see that the table belongs to the file`},
		{patternData(style("T"), "A", tagged(note("# 5", 50, 50))), table,
			`piece "Square": the grade point at (50.0, 50.0) mm is on no line and moves nothing: set it on a point of the piece`},
		{patternData(style("T"), "A", tagged(note("# 5", 0, 100))), table,
			`piece "Square": the point at (0.0, 100.0) mm has the grade rules 4 and 5, and moves by the first: take one of them out`},
		{patternData(style("T"), "A", note("Piece Name: A")+line(-1, 0, 0, 100, 0, 100, 100)+note("# 2", 100, 0)), table,
			`piece "A" has no closed cut line, and each of its lines is graded by itself: make its outline one closed polyline`},
		{patternData(style("T"), "A", plain), table,
			`the file has no grade points, so that the rule table "T" was not used: save the pattern with its grade points`},
		{patternData(style("T"), "A", tagged("")), nil,
			"the file has 4 grade points and no rule table was given, so that only size S is read: put T.RUL beside it"},
		{patternData("", "A", tagged("")), nil,
			"the file has 4 grade points and no rule table was given, so that only the size that is drawn is read: put the rule table beside it, a .RUL file of the same name"},
		{patternData(style("T"), "A", plain), nil,
			`the file names the grade rule table "T" and has no grade points, so that only size S is read: save the pattern with its grade points and T.RUL, or in all sizes`},
		{patternData(style("T.Rul"), "A", tagged("")), nil,
			"the file has 4 grade points and no rule table was given, so that only size S is read: put T.RUL beside it"},
		{patternData(style(""), "A", plain), nil, ""},
		{patternData(style("T"), "A-S", plain, "A-M", plain), nil, ""},
	} {
		_, report, err := dxf.ReadWithReport(strings.NewReader(c.file), dxf.ReadOptions{Rules: c.rules})
		require.NoError(t, err)
		if c.want == "" {
			require.Empty(t, report.Warnings)
		} else {
			require.Equal(t, []string{c.want}, report.Warnings)
		}
	}
	for _, c := range []struct {
		file  string
		rules dxf.Rules
		want  string
	}{
		{patternData(style("T"), "A", tagged(note("# 12", 0, 0))), *table,
			`dxf: line 114: piece "Square": grade rule 12 is not in the rule table "T": give the table that belongs to the file`},
		{patternData(style("T"), "A", tagged("")), dxf.Rules{Table: "T", Sizes: []string{"S"}, Sample: "M"},
			`dxf: rule table "T": sample size "M" is not one of its sizes`},
		{patternData(style("T"), "A", tagged("")), dxf.Rules{Table: "T", Sizes: []string{"S"}, Sample: "S", Deltas: map[int][]path.Vec{1: nil}},
			`dxf: rule table "T": rule 1 has 0 deltas for 1 sizes`},
		{patternData(style("T"), "A", tagged("")), dxf.Rules{Table: "T", Sizes: []string{"S"}, Sample: "S", Deltas: map[int][]path.Vec{1: {{X: math.NaN()}}}},
			`dxf: line 66: grade rule 1 moves a point by more than 1e+09 mm`},
	} {
		d, err := dxf.Read(strings.NewReader(c.file), dxf.ReadOptions{Rules: &c.rules})
		require.EqualError(t, err, c.want)
		require.Zero(t, d)
	}
	many := ""
	for i := range 100 {
		many += note("# 5", 20+float64(i)/2, 50)
	}
	_, report := grown(t, patternData("", "A", tagged(many)), squareRules)
	require.Len(t, report.Warnings, 51)
	require.Equal(t, "more of this kind: mend these first", report.Warnings[50])
}

func TestNotesLikeGradePointsAreNone(t *testing.T) {
	d, report, err := dxf.ReadWithReport(strings.NewReader(patternData("", "A", tagged(
		codes(0, "TEXT", 8, 15, 40, 5, 1, "# 1")+codes(0, "TEXT", 8, 8, 40, 5, 1, "# 1 a")+codes(0, "TEXT", 8, 8, 40, 5, 1, "#")))), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, 4, report.GradePoints)
	require.Len(t, plottest.Texts(d), 3)
}

func TestBlocksOfOnePieceAreItsSizes(t *testing.T) {
	front := note("Piece Name: Front") + line(1, 0, 0, 9, 0, 9, 9)
	back := note("Piece Name: Back") + line(1, 0, 0, 9, 0, 9, 9)
	sample := note("Style Name: Sorrel") + note("Sample Size: 38")
	for _, c := range []struct {
		style  string
		blocks []string
		want   string
	}{
		{sample, []string{"FRONT", front, "BACK", back}, "Front 38, Back 38, "},
		{"", []string{"FRONT", front}, "Front , "},
		{sample, []string{"FRONT-34", front, "FRONT-36", front, "BACK-36", back}, "Front 34, Front 36, Back 38, "},
		{"", []string{"FRONT_34", front, "FRONT-36", front, "front.38", front}, "Front 34, Front 36, Front 38, "},
		{"", []string{"P1_XS", front, "P1_XL", front, "P1_M", front, "P2_M", back, "P2_L", back}, "Front XS, Front XL, Front M, Back M, Back L, "},
		{"", []string{"F34", front, "F36", front, "F104", front}, "Front 34, Front 36, Front 104, "},
		{sample, []string{"FRONT", front, "FRONT-36", front}, "Front 38, Front 36, "},
		{sample, []string{"FRONTA", front, "FRONTB", front}, "Front 38, Front 38, "},
		{sample, []string{"A", front + note("SIZE:  40 "), "B", front + note("size: 42")}, "Front 40, Front 42, "},
		{sample, []string{"A-1", front + note("Size: 40"), "A-2", front}, "Front 40, Front 38, "},
	} {
		got := ""
		for _, g := range read(t, patternData(c.style, c.blocks...)).Groups {
			got += fmt.Sprintf("%s %s, ", g.Piece.Name, g.Piece.Size)
		}
		require.Equal(t, c.want, got)
	}
}

func TestBlockForEachSizeComesBackWithItsSize(t *testing.T) {
	d := skirt()
	file := written(t, d, exchange())
	for _, name := range []string{"FRONT-36", "FRONT-38", "FRONT-42"} {
		require.Contains(t, file, "0\r\nBLOCK\r\n8\r\n1\r\n2\r\n"+name+"\r\n")
	}
	back := read(t, file)
	require.Len(t, back.Groups, 4)
	for i, size := range []string{"36", "38", "42"} {
		require.Contains(t, file, "\r\n1\r\nSize: "+size+"\r\n")
		require.Equal(t, d.Groups[i].Piece, back.Groups[i].Piece)
		requireLines(t, d.Groups[i].Lines, back.Groups[i].Lines, near)
	}
}

// ASTM D6673: layer 4 has V and slit notches, 80 to 83 T, castle, check and U
// notches; 30 is the depth, 39 the width, 50 the angle.
func TestNotchKeepsItsKindDepthWidthAndAngle(t *testing.T) {
	for _, c := range []struct {
		kind         fit.NotchKind
		width        float64
		layer        string
		wrote, comes float64
	}{
		{fit.SlitNotch, 0, "4", 0, 0}, {fit.VNotch, 3, "4", 3, 3}, {fit.VNotch, 0, "4", 5, 5}, {fit.TNotch, 4, "80", 4, 4}, {fit.TNotch, 0, "80", 0, 0},
		{fit.CastleNotch, 6, "81", 6, 6}, {fit.CheckNotch, 2.25, "82", 2.25, 2.25}, {fit.UNotch, 3, "83", 3, 3},
	} {
		notch := plot.Line{Role: plot.Notch, Notch: c.kind, Width: c.width, Path: path.Open(path.Point{X: 300, Y: 100}, path.Point{X: 296, Y: 103})}
		file := written(t, pieceOf(notch), exchange())
		want := "0\nPOINT\n8\n" + c.layer + "\n10\n300.00\n20\n100.00\n30\n5.00\n"
		if c.wrote > 0 {
			want += fmt.Sprintf("39\n%.2f\n", c.wrote)
		}
		require.Contains(t, file, strings.ReplaceAll(want+"50\n143.1301\n", "\n", "\r\n"))
		got := read(t, file).Groups[0].Lines[1]
		require.Equal(t, c.kind, got.Notch)
		require.InDelta(t, c.comes, got.Width, 0)
		require.InDelta(t, 0, got.Path.End().Dist(notch.Path.End()), 0.001)
	}
	inches := read(t, patternData(note("Style Name: S")+note("Units: ENGLISH"), "A", note("Piece Name: A")+codes(0, "POINT", 8, 82, 30, .25, 39, .125, 50, 90)))
	require.InDelta(t, .25*25.4, inches.Groups[0].Lines[0].Path.Length(), 1e-9)
	require.InDelta(t, .125*25.4, inches.Groups[0].Lines[0].Width, 1e-9)
	bad := plot.Line{Role: plot.Notch, Width: math.NaN(), Path: path.Open(path.Point{})}
	require.EqualError(t, dxf.Write(nil, pieceOf(bad), exchange()), `dxf: piece "Back" size 40: notch 2 is NaN mm wide`)
}

func TestEveryLayerOfAPieceComesThroughWithItsRole(t *testing.T) {
	for layer, want := range map[string]plot.Line{
		"5": {Class: "5"}, "6": {Role: plot.Fold}, "7": {Role: plot.Grain}, "8": {Role: plot.Internal}, "9": {Class: "9"}, "10": {Class: "10"},
		"11": {Role: plot.Cut}, "14": {Role: plot.Stitch}, " 14 ": {Role: plot.Stitch}, "WAIST": {Class: "WAIST"},
		// Named by words, as in our plain flavour.
		"GRAIN": {Role: plot.Grain}, "stitch": {Role: plot.Stitch},
	} {
		got := plottest.Lines(read(t, patternData("", "A", note("Piece Name: A")+codes(0, "LINE", 8, layer, 11, 5))))
		want.Path = path.Open(path.Point{}, path.Point{X: 5})
		require.Equal(t, []plot.Line{want}, got, layer)
	}
	// Lines to lay the piece by go out as they came in.
	for _, layer := range []string{"5", "9", "10"} {
		want := plot.Line{Class: layer, Path: path.Open(path.Point{X: 10, Y: 20}, path.Point{X: 90, Y: 20})}
		require.Equal(t, want, read(t, written(t, pieceOf(want), exchange())).Groups[0].Lines[1])
	}
	for _, layer := range []int{2, 3, 84, 85, 86, 87} {
		require.Empty(t, plottest.Lines(read(t, patternData("", "A", note("Piece Name: A")+codes(0, "POINT", 8, layer)+line(layer, 0, 0, 1, 1)))))
	}
	drill := plottest.Lines(read(t, patternData("", "A", note("Piece Name: A")+codes(0, "POINT", 8, 13, 10, 5))))
	require.Equal(t, []plot.Line{{Role: plot.Mark, Path: path.Open(path.Point{X: 5})}}, drill)
	d := read(t, patternData("", "A", note("Piece Name: A")+codes(0, "TEXT", 8, 15, 40, 5, 1, "Cut 2: on the fold")+note("Annotation: nap up")+note("Quantity: 1,1")+note("Material: twill")))
	require.Equal(t, "Cut 2: on the fold", plottest.Texts(d)[0].String)
	require.Equal(t, &plot.Piece{Name: "A", Quantity: 2, Pairs: true, Material: "twill", Notes: []string{"nap up"}}, d.Groups[0].Piece)
}

func TestGradingTakesBoundedTimeAndRoom(t *testing.T) {
	round := func(n int, radius float64) (points []float64) {
		for i := range n {
			at := path.Direction(2 * math.Pi * float64(i) / float64(n)).Mul(radius)
			points = append(points, at.X, at.Y)
		}
		return points
	}
	rules := rulesOf(t, squareRules)
	many := &dxf.Rules{Sample: "0", Deltas: map[int][]path.Vec{1: make([]path.Vec, 500)}}
	for i := range 500 {
		many.Sizes = append(many.Sizes, fmt.Sprint(i))
	}
	outline := note("Piece Name: A") + note("# 1", 900, 0)
	var crowd strings.Builder // more grade points than two decimals can tell apart, in one place
	for i := range 20000 {
		crowd.WriteString(note("# 1", 900+float64(i)*1e-7, 0))
	}
	for name, c := range map[string]struct {
		piece string
		rules *dxf.Rules
		want  string
	}{
		"long lines":     {outline + line(1, round(20000, 900)...) + line(8, round(40000, 300)...), rules, `piece "A": too many points between grade points: thin out its lines`},
		"many points":    {outline + line(1, round(20000, 900)...) + strings.Repeat(codes(0, "POINT", 8, 13), 10000), rules, `piece "A": too many points between grade points: thin out its lines`},
		"many seams":     {outline + line(1, round(20000, 900)...) + strings.Repeat(line(14, 0, 0, 5, 0, 5, 5), 20000), rules, `piece "A": too many points between grade points: thin out its lines`},
		"points crowded": {outline + crowd.String() + line(1, 0, 0, 900, 0, 900, 900) + strings.Repeat(codes(0, "POINT", 8, 13, 10, 900), 20000), rules, `piece "A": too many points between grade points: thin out its lines`},
		"many sizes":     {outline + line(1, round(20000, 900)...), many, "more than 1048576 vertices, those of inserted blocks counted"},
		"many lines":     {outline + line(1, round(4, 900)...) + strings.Repeat(codes(0, "LINE", 8, 8), 5000), many, "more than 1048576 entities, those of inserted blocks counted"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := dxf.Read(strings.NewReader(patternData("", "A", c.piece)), dxf.ReadOptions{Rules: c.rules})
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestFoldStaysStraightInEverySize(t *testing.T) {
	half := note("Piece Name: Half") + line(1, 0, 0, 80, 0, 80, 100, 10, 100, 7, 70, 2, 20) + note("# 2", 0, 0) + note("# 1", 80, 0) + note("# 4", 80, 100) + note("# 5", 10, 100) +
		codes(0, "LINE", 8, 6, 11, 10, 21, 100)
	got, _ := grown(t, patternData("", "A", half), squareRules)
	fold := got[1].Path.Segment(0)
	require.Equal(t, path.Line(path.Point{X: 10}, path.Point{X: 7, Y: 99}), fold)
	for _, v := range got[0].Path.V[4:] { // of the outline, on the fold
		_, dist := fold.Nearest(v.Point)
		require.InDelta(t, 0, dist, 1e-9)
	}
}

func TestOutlineWithoutGradePointsMovesAsItsStitchingLine(t *testing.T) {
	piece := note("Piece Name: A") + line(1, -10, -10, 110, -10, 110, 110, -10, 110) + line(14, 0, 0, 100, 0, 100, 100, 0, 100) +
		note("# 1", 0, 0) + note("# 2", 100, 0) + note("# 3", 100, 100) + note("# 4", 0, 100) + codes(0, "POINT", 8, 13, 10, 105, 20, 110)
	got, _ := grown(t, patternData("", "A", piece), squareRules)
	requireVertices(t, got[0].Path, -10, -10, 120, -10, 120, 116, -10, 116)
	requireVertices(t, got[1].Path, 0, 0, 110, 0, 110, 106, 0, 106)
	requireVertices(t, got[2].Path, 105+10*115./120, 116)
}
