package dxf_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

// section wraps lines as a section.
func section(name, lines string) string {
	return "0\nSECTION\n2\n" + name + "\n" + lines + "0\nENDSEC\n"
}

// codes returns group codes with their values, one a line.
func codes(pairs ...any) string {
	var b strings.Builder
	for _, p := range pairs {
		fmt.Fprintln(&b, p)
	}
	return b.String()
}

// oneLine reads the only line of some entities.
func oneLine(t require.TestingT, entity string) path.Path {
	all := plottest.Lines(read(t, entities(entity)))
	require.Len(t, all, 1)
	return all[0].Path
}

// mustBeOn fails unless every point that is given lies on the path.
func mustBeOn(t require.TestingT, p path.Path, within float64, points ...path.Point) {
	for _, q := range points {
		d := q.Dist(p.Start())
		for i := range p.Segments() {
			_, near := p.Segment(i).Nearest(q)
			d = min(d, near)
		}
		require.LessOrEqual(t, d, within, "%v", q)
	}
}

func TestTextsOfAnotherWriterAreRead(t *testing.T) {
	file, err := os.ReadFile(filepath.Join(testdata, "others-R2010.dxf"))
	require.NoError(t, err)
	d, report, err := dxf.ReadWithReport(bytes.NewReader(file), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, []dxf.Skipped{{Kind: "HATCH", Count: 1}}, report.Skipped)
	require.Equal(t, 2, report.Hidden)
	require.Equal(t, dxf.UnitHeader, report.UnitFrom)
	shown := map[string]int{}
	for _, x := range plottest.Texts(d) {
		shown[x.String]++
	}
	// A default of an attribute for each insert without attributes: five single
	// ones, two times two nested ones, and six in rows.
	require.Equal(t, map[string]int{
		"Waist 5°": 1, "centred": 1, "Front 5°": 1, "on fold, 1/2": 1, "42": 1, "38": 15,
	}, shown)
}

func TestTextsStandWhereTheirAlignmentSays(t *testing.T) {
	text := func(pairs ...any) plot.Text {
		all := plottest.Texts(read(t, entities(codes(0, "TEXT", 10, 1, 20, 2, 11, 7, 21, 8, 40, 3, 1, "a")+codes(pairs...))))
		require.Len(t, all, 1)
		return all[0]
	}
	for _, c := range []struct {
		pairs []any
		at    path.Point
		align plot.Align
	}{
		{nil, path.Point{X: 1, Y: 2}, plot.Left},
		{[]any{72, 2}, path.Point{X: 7, Y: 8}, plot.Right},
		{[]any{72, 4}, path.Point{X: 7, Y: 6.5}, plot.Middle},
		{[]any{73, 3}, path.Point{X: 7, Y: 5}, plot.Left},
		{[]any{72, 1, 73, 2, 50, 90}, path.Point{X: 8.5, Y: 8}, plot.Middle},
		{[]any{73, 1}, path.Point{X: 7, Y: 9}, plot.Left},
		{[]any{230, -1}, path.Point{X: -1, Y: 2}, plot.Right}, // seen from below, yet readable
	} {
		got := text(c.pairs...)
		require.InDelta(t, 0, got.At.Dist(c.at), 1e-9, "%v: %v", c.pairs, got.At)
		require.Equal(t, c.align, got.Align, "%v", c.pairs)
	}
	require.InDelta(t, math.Pi/4, text(72, 5).Angle, 1e-9) // between the two points
}

func TestParagraphsStandOneBeneathTheOther(t *testing.T) {
	for place, first := range map[int]float64{1: -3, 4: (3+5)/2. - 3, 7: 5} {
		all := plottest.Texts(read(t, entities(codes(0, "MTEXT", 40, 3, 71, place, 3, `{\fArial|b0;one}\P`, 1, `\H3x;two\~\\ \U+00E9^Jthree`, 44, 0.5))))
		require.Len(t, all, 3)
		require.Equal(t, []string{"one", `two \ é`, "three"}, []string{all[0].String, all[1].String, all[2].String})
		for i, x := range all {
			require.InDelta(t, first-2.5*float64(i), x.At.Y, 1e-9, "%d", place) // 5/3 of the height, halved
		}
	}
	turned := plottest.Texts(read(t, entities(codes(0, "MTEXT", 40, 3, 71, 8, 11, 0, 21, 1, 1, "up"))))
	require.InDelta(t, math.Pi/2, turned[0].Angle, 1e-9)
	require.Equal(t, plot.Middle, turned[0].Align)
}

func TestUnitIsTheUsersElseTheFiles(t *testing.T) {
	header := func(pairs ...any) string { return section("HEADER", codes(pairs...)) }
	units := func(word string) string { return codes(0, "TEXT", 8, 1, 40, 1, 1, "Units: "+word) }
	point := codes(0, "POINT", 10, 2)
	style := codes(0, "TEXT", 8, 1, 40, 1, 1, "Style Name: Rowan")
	for _, c := range []struct {
		file  string
		given float64
		unit  float64
		from  string
	}{
		{entities(point), 0, 1, dxf.UnitNone},
		{entities(point), 3, 3, dxf.UnitGiven},
		{header(9, "$INSUNITS", 70, 6) + entities(point), 0, 1000, dxf.UnitHeader},
		{header(9, "$INSUNITS", 70, 6) + entities(point), 25.4, 25.4, dxf.UnitGiven},
		{header(9, "$INSUNITS", 70, 2) + entities(point), 0, 304.8, dxf.UnitHeader},
		{header(9, "$insunits", 70, 5, 9, "$MEASUREMENT", 70, 0) + entities(point), 0, 10, dxf.UnitHeader},
		{header(9, "$INSUNITS", 70, 0, 9, "$MEASUREMENT", 70, 0) + entities(point), 0, 25.4, dxf.UnitHeader},
		{header(9, "$MEASUREMENT", 70, 1) + entities(point), 0, 1, dxf.UnitHeader},
		{entities(point + units("ENGLISH")), 0, 25.4, dxf.UnitText},
		{entities(point + units("metric")), 0, 1, dxf.UnitText},
		{entities(point + units("by the yard")), 0, 1, dxf.UnitNone},
		// Pattern data say it themselves, whatever the program's header has.
		{header(9, "$INSUNITS", 70, 6) + entities(point+style+units("ENGLISH")), 0, 25.4, dxf.UnitText},
	} {
		d, report, err := dxf.ReadWithReport(strings.NewReader(c.file), dxf.ReadOptions{UnitMM: c.given})
		require.NoError(t, err)
		require.Equal(t, dxf.Report{UnitMM: c.unit, UnitFrom: c.from}, report, "%q", c.file)
		require.InDelta(t, 2*c.unit, plottest.Lines(d)[0].Path.Start().X, 1e-9)
	}
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := dxf.Read(strings.NewReader(entities(point)), dxf.ReadOptions{UnitMM: bad})
		require.EqualError(t, err, fmt.Sprintf("dxf: a file cannot be read with %g mm to the unit: give a length above 0", bad))
	}
}

func TestFilesThatAreNotTidyAreRead(t *testing.T) {
	point := codes(0, "POINT", 10, 2)
	tidy := entities(point)
	for name, file := range map[string]string{
		"no EOF":                     strings.TrimSuffix(tidy, "0\nEOF\n"),
		"no EOF, blank lines":        strings.TrimSuffix(tidy, "0\nEOF\n") + "\r\n \r\n\n",
		"no line after EOF":          strings.TrimSuffix(tidy, "\n"),
		"end of text sign":           strings.TrimSuffix(tidy, "0\nEOF\n") + "\x1a",
		"more after EOF":             tidy + "anything\n",
		"CR LF":                      strings.ReplaceAll(tidy, "\n", "\r\n"),
		"lower case":                 strings.ToLower(tidy),
		"spaces about codes, values": strings.ReplaceAll(tidy, "\n", "  \n   "),
		"byte order mark":            "\ufeff" + tidy,
		"comments":                   "999\nmade by hand\n" + strings.ReplaceAll(tidy, "0\nPOINT", "999\n0\n0\nPOINT\n999\nPOINT"),
		"sections of other programs": section("CLASSES", codes(0, "CLASS", 1, "X")) + section("TABLES", codes(0, "TABLE", 2, "VPORT", 70, 0, 0, "ENDTAB")) + tidy + section("THUMBNAILIMAGE", codes(90, 4, 310, "00")),
		"control, handles, subclass": entities(codes(0, "POINT", 5, "2F", 102, "{ACAD_REACTORS", 330, "2", 102, "}", 330, "1F", 100, "AcDbEntity", 370, -1, 100, "AcDbPoint", 10, 2, 20, 0, 30, 0)),
	} {
		d, err := dxf.Read(strings.NewReader(file), dxf.ReadOptions{})
		require.NoError(t, err, name)
		require.Equal(t, []plot.Line{{Path: path.Open(path.Point{X: 2})}}, plottest.Lines(d), name)
	}
}

func TestLooseEntitiesAreAGroupALayerAndBlocksTheirOwn(t *testing.T) {
	d := read(t, section("BLOCKS",
		codes(0, "BLOCK", 2, "Yoke", 0, "POINT", 8, 0, 0, "POINT", 8, "CUT", 0, "INSERT", 8, "MARKS", 2, "*U1", 0, "ENDBLK")+
			codes(0, "BLOCK", 2, "*U1", 0, "POINT", 8, 0, 0, "ENDBLK"))+
		entities(codes(0, "POINT", 8, "SIZE 38", 0, "INSERT", 8, "SIZE 40", 2, "YOKE", 0, "POINT", 8, "size 38", 0, "POINT", 8, 0, 0, "INSERT", 2, "yoke", 10, 5)))
	require.Len(t, d.Groups, 4)
	labels, ids := []string{}, []string{}
	for _, g := range d.Groups {
		labels, ids = append(labels, g.Label), append(ids, g.ID)
	}
	require.Equal(t, []string{"SIZE 38", "Yoke", "", "Yoke"}, labels)
	require.Equal(t, []string{"", "Yoke", "", ""}, ids) // the second has no id, as ids are unique
	require.Len(t, d.Groups[0].Lines, 2)
	yoke := d.Groups[1]
	require.Equal(t, "SIZE 40", yoke.Lines[0].Class) // on layer 0 of a block, so on that of the INSERT
	require.Equal(t, "CUT", yoke.Lines[1].Class)
	require.Equal(t, plot.Cut, yoke.Lines[1].Role)
	require.Len(t, yoke.Groups, 1)
	require.Equal(t, "MARKS", yoke.Groups[0].Lines[0].Class)
	require.Empty(t, yoke.Groups[0].Label)
}

func TestWhatIsNotShownIsLeftOut(t *testing.T) {
	layer := func(name string, flags, colour int) string {
		return codes(0, "LAYER", 2, name, 70, flags, 62, colour)
	}
	d, report, err := dxf.ReadWithReport(strings.NewReader(
		section("TABLES", codes(0, "TABLE", 2, "LAYER")+layer("shown", 4, 7)+layer("Frozen", 1, 7)+layer("off", 0, -7)+codes(0, "ENDTAB"))+
			section("BLOCKS", codes(0, "BLOCK", 2, "B", 0, "POINT", 8, 0, 0, "POINT", 8, "shown", 10, 1, 0, "ENDBLK"))+
			entities(codes(0, "POINT", 8, "FROZEN", 0, "POINT", 8, "Off", 0, "POINT", 8, "shown", 60, 1,
				0, "INSERT", 8, "frozen", 2, "B", 0, "INSERT", 8, "off", 2, "B",
				0, "HATCH", 8, "shown", 0, "DIMENSION", 8, "shown", 0, "HATCH", 8, "shown",
				0, "POLYLINE", 70, 16, 0, "VERTEX", 0, "SEQEND", 0, "POLYLINE", 0, "SEQEND", 0, "LWPOLYLINE",
				0, "CIRCLE", 40, 1, 210, 1, 230, 0, 0, "INSERT", 2, "B", 41, 0))), dxf.ReadOptions{})
	require.NoError(t, err)
	// Only what a block on a layer that is off has on a layer of its own.
	require.Equal(t, []plot.Line{{Class: "shown", Path: path.Open(path.Point{X: 1})}}, plottest.Lines(d))
	require.Equal(t, 5, report.Hidden)
	require.Equal(t, []dxf.Skipped{
		{"DIMENSION", 1}, {"HATCH", 2}, {"INSERT (scaled to nothing)", 1}, {"POLYLINE (empty)", 2}, {"POLYLINE (mesh)", 1}, {"entity that is tilted", 1},
	}, report.Skipped)
}

func TestSplineCircleIsACircle(t *testing.T) {
	// The NURBS Book, 2nd edition, example 7.1: a circle of nine control points.
	h := math.Sqrt2 / 2
	spline := codes(0, "SPLINE", 70, 4, 71, 2)
	for _, k := range []float64{0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4} {
		spline += codes(40, k)
	}
	for i, p := range [][2]float64{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}, {1, 0}} {
		spline += codes(10, 100*p[0], 20, 100*p[1], 41, []float64{1, h}[i%2])
	}
	p := oneLine(t, spline)
	require.True(t, p.Closed)
	require.InDelta(t, 200*math.Pi, p.Length(), 1e-6)
	require.InDelta(t, 1e4*math.Pi, p.Area(), 1e-4)
	require.LessOrEqual(t, len(p.V), 16) // smooth at its knots, so that few arcs do
}

func TestEllipseHasItsPerimeter(t *testing.T) {
	// Abramowitz and Stegun, 17.3: 4 a E(m); E(0.75) = 1.2110560 for b = a/2.
	p := oneLine(t, codes(0, "ELLIPSE", 10, 5, 11, 60, 21, 80, 40, 0.5, 41, 0, 42, 2*math.Pi))
	require.True(t, p.Closed)
	require.InDelta(t, 400*1.2110560, p.Length(), 0.005)
	require.InDelta(t, math.Pi*100*50, p.Area(), path.FitTolerance*p.Length())
}

func TestStretchedCircleIsAnEllipse(t *testing.T) {
	d := read(t, section("BLOCKS", codes(0, "BLOCK", 2, "B", 0, "CIRCLE", 40, 10, 0, "ENDBLK"))+
		entities(codes(0, "INSERT", 2, "B", 41, 5, 42, -3, 50, 30)))
	want := oneLine(t, codes(0, "ELLIPSE", 11, 50*math.Cos(math.Pi/6), 21, 25, 40, 0.6))
	require.InDelta(t, want.Length(), plottest.Lines(d)[0].Path.Length(), 0.001)
	require.InDelta(t, want.Area(), math.Abs(plottest.Lines(d)[0].Path.Area()), 0.1)
}

func TestSplineOfFitPointsGoesThroughThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "n")
		closed := rapid.Bool().Draw(t, "closed")
		spline := codes(0, "SPLINE", 70, map[bool]int{true: 1}[closed])
		var points []path.Point
		for i := range n {
			p := path.Point{X: 20 * float64(i), Y: rapid.Float64Range(-50, 50).Draw(t, "y")}
			points = append(points, p)
			spline += codes(11, p.X, 21, p.Y)
		}
		p := oneLine(t, spline)
		mustBeOn(t, p, path.FitTolerance, points...)
		require.Equal(t, closed && n > 2, p.Closed)
	})
}

func TestClosedSplineOfFitPointsIsEvenAllAround(t *testing.T) {
	spline := codes(0, "SPLINE", 70, 1)
	for i := range 12 {
		p := path.Direction(float64(i) * math.Pi / 6).Mul(100)
		spline += codes(11, p.X, 21, p.Y)
	}
	p := oneLine(t, spline)
	require.True(t, p.Closed)
	// Even chords: the slope m of the cubic spline through points of a circle
	// follows from m0 + 4 m1 + m2 = 3 (P2 - P0), and half-way between two points
	// stands (P0 + P1)/2 + (m0 - m1)/8.
	sin, cos := math.Sincos(math.Pi / 6)
	slope := 3 * sin / (2 + cos)
	between := 100 * (math.Cos(math.Pi/12) + slope*math.Sin(math.Pi/12)/4)
	for i := range 12 {
		mustBeOn(t, p, path.FitTolerance,
			path.Point{}.Add(path.Direction(float64(i)*math.Pi/6).Mul(100)),
			path.Point{}.Add(path.Direction((float64(i)+0.5)*math.Pi/6).Mul(between)))
	}
}

func TestSplineStartsAndEndsAsItsTangentsSay(t *testing.T) {
	p := oneLine(t, codes(0, "SPLINE", 12, 0, 22, 2, 13, 1, 23, 0, 11, 0, 21, 0, 11, 30, 21, 20, 11, 60, 21, 0))
	require.InDelta(t, math.Pi/2, p.StartTangent().Angle(), 1e-6)
	require.InDelta(t, 0, p.EndTangent().Angle(), 1e-6)
}

// bernstein returns the point of a Bezier by its definition.
func bernstein(points []path.Point, t float64) path.Point {
	var x, y float64
	n := len(points) - 1
	c := 1.0
	for i, p := range points {
		w := c * math.Pow(t, float64(i)) * math.Pow(1-t, float64(n-i))
		x, y = x+w*p.X, y+w*p.Y
		c = c * float64(n-i) / float64(i+1)
	}
	return path.Point{X: x, Y: y}
}

func TestSplineOfOneSpanIsABezierOfAnyDegree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		degree := rapid.IntRange(1, 9).Draw(t, "degree")
		spline := codes(0, "SPLINE", 71, degree)
		var points []path.Point
		for range degree + 1 {
			p := path.Point{X: rapid.Float64Range(-100, 100).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y")}
			points = append(points, p)
			spline += codes(10, p.X, 20, p.Y, 40, 2, 40, 7)
		}
		// Knots in order.
		spline = strings.ReplaceAll(strings.ReplaceAll(spline, "40\n2\n", ""), "40\n7\n", "") +
			strings.Repeat("40\n2\n", degree+1) + strings.Repeat("40\n7\n", degree+1)
		p := oneLine(t, spline)
		for i := range 50 {
			mustBeOn(t, p, path.FitTolerance, bernstein(points, float64(i)/49))
		}
	})
}

func TestSplineHasACornerWhereItsKnotsSay(t *testing.T) {
	spline := func(last ...any) string {
		return codes(0, "SPLINE", 71, 2, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 2, 40, 2, 40, 2,
			10, 0, 20, 0, 10, 10, 20, 10, 10, 20, 20, 0) + codes(last...)
	}
	corners := func(p path.Path) (n int) {
		for i := 1; i < p.Segments(); i++ {
			if math.Abs(p.Segment(i-1).EndTangent().AngleTo(p.Segment(i).StartTangent())) > 0.01 {
				n++
			}
		}
		return n
	}
	sharp := oneLine(t, spline(10, 30, 20, 10, 10, 40, 20, 0))
	require.Equal(t, 1, corners(sharp))
	mustBeOn(t, sharp, 1e-9, path.Point{X: 20})
	smooth := oneLine(t, spline(10, 30, 20, -10, 10, 40, 20, 0))
	require.Zero(t, corners(smooth))
}

func TestBlocksInRowsStandAtTheirPlaces(t *testing.T) {
	d := read(t, section("BLOCKS", codes(0, "BLOCK", 2, "B", 10, 1, 0, "POINT", 10, 2, 0, "ENDBLK"))+
		entities(codes(0, "INSERT", 2, "B", 10, 100, 20, 50, 41, 3, 42, 3, 50, 90, 70, 2, 71, 3, 44, 10, 45, 20)))
	var got []path.Point
	for _, l := range plottest.Lines(d) {
		got = append(got, l.Path.Start())
	}
	require.Len(t, got, 6)
	for i, want := range []path.Point{{X: 100, Y: 53}, {X: 100, Y: 63}, {X: 80, Y: 53}, {X: 80, Y: 63}, {X: 60, Y: 53}, {X: 60, Y: 63}} {
		require.InDelta(t, 0, got[i].Dist(want), 1e-9)
	}
}

func TestLengthsGrowWithTheUnitAndStayUnderMotions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		block := section("BLOCKS", codes(0, "BLOCK", 2, "B",
			0, "ELLIPSE", 11, 9, 21, 3, 40, 0.3, 41, 1, 42, 4,
			0, "SPLINE", 71, 3, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 2, 40, 2, 40, 2, 40, 2,
			10, 0, 20, 0, 10, 5, 20, 9, 10, 9, 20, -9, 10, 15, 20, 3, 10, 20, 20, 0,
			0, "LWPOLYLINE", 10, 0, 20, 0, 42, 0.7, 10, 5, 20, 5, 10, 9, 20, 0, 0, "ENDBLK"))
		k := rapid.Float64Range(0.5, 20).Draw(t, "scale")
		mirror := rapid.SampledFrom([]float64{1, -1}).Draw(t, "mirror")
		unit := rapid.Float64Range(0.5, 30).Draw(t, "unit")
		file := block + entities(codes(0, "INSERT", 2, "B")) // as it is
		moved := block + entities(codes(0, "INSERT", 2, "B", 41, k, 42, k*mirror,
			50, rapid.Float64Range(0, 360).Draw(t, "angle"), 10, rapid.Float64Range(-99, 99).Draw(t, "x"),
			230, rapid.SampledFrom([]int{1, -1}).Draw(t, "side")))
		a, err := dxf.Read(strings.NewReader(file), dxf.ReadOptions{})
		require.NoError(t, err)
		b, err := dxf.Read(strings.NewReader(moved), dxf.ReadOptions{UnitMM: unit})
		require.NoError(t, err)
		for i, l := range plottest.Lines(a) {
			want := k * unit * l.Path.Length()
			// Both are fitted within the same distance, which counts k times in the first.
			require.InDelta(t, want, plottest.Lines(b)[i].Path.Length(), path.FitTolerance*(1+k*unit))
		}
	})
}

func TestBadFilesTakeBoundedRoom(t *testing.T) {
	deep := ""
	for i := range 40 {
		deep += codes(0, "BLOCK", 2, i, 0, "INSERT", 2, i+1, 0, "INSERT", 2, i+1, 0, "ENDBLK")
	}
	deep = section("BLOCKS", deep+codes(0, "BLOCK", 2, 40, 0, "ENDBLK"))
	doubling := ""
	for i := range 30 {
		doubling += codes(0, "BLOCK", 2, i, 0, "INSERT", 2, i+1, 0, "INSERT", 2, i+1, 0, "ENDBLK")
	}
	doubling = section("BLOCKS", doubling+codes(0, "BLOCK", 2, 30, 0, "ENDBLK"))
	cycle := section("BLOCKS", codes(0, "BLOCK", 2, "ring", 0, "INSERT", 2, "hook", 0, "ENDBLK", 0, "BLOCK", 2, "hook", 0, "INSERT", 2, "Ring", 0, "ENDBLK"))
	rows := section("BLOCKS", codes(0, "BLOCK", 2, "B", 0, "ENDBLK"))
	random := make([]byte, 1<<16)
	state := uint32(1)
	for i := range random {
		state = state*1664525 + 1013904223
		random[i] = byte(state >> 24)
	}
	garbage := func(piece []byte) io.Reader { return io.LimitReader(&repeating{piece, 0}, 50e6) }
	for name, c := range map[string]struct {
		file io.Reader
		want string
	}{
		"bytes":    {garbage(random), `is not a group code`},
		"zeros":    {garbage(make([]byte, 4096)), `is not a group code`},
		"digits":   {garbage([]byte("0\n")), `dxf: line 2: "0" where a section should start`},
		"vertices": {io.MultiReader(strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n"), garbage([]byte("10\n1\n"))), "more than 1048576 vertices"},
		"knots":    {io.MultiReader(strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nSPLINE\n"), garbage([]byte("40\n1\n"))), "more than 1048576 vertices"},
		"entities": {io.MultiReader(strings.NewReader("0\nSECTION\n2\nENTITIES\n"), garbage([]byte("0\nX\n"))), "more than 1048576 entities"},
		"facts":    {io.MultiReader(strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nLINE\n1001\nENGRAIL\n"), garbage([]byte("1000\na\n"))), "more than 1048576 entities"},
		"letters":  {io.MultiReader(strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nMTEXT\n"), garbage([]byte("3\na\n")), strings.NewReader("0\nENDSEC\n")), "a text of more than 65536 letters"},
		"lines":    {strings.NewReader(entities(strings.Repeat(codes(0, "MTEXT", 1, strings.Repeat(`\Pa`, 20000)), 60))), "more than 1048576 entities, those"},
		"text in rows": {strings.NewReader(section("BLOCKS", codes(0, "BLOCK", 2, "B", 0, "TEXT", 1, strings.Repeat("%%d", 1e6), 0, "ENDBLK")) +
			entities(codes(0, "INSERT", 2, "B", 70, 1000000))), "more than 1048576 vertices, those"},
		"too long":    {io.MultiReader(strings.NewReader("0\nSECTION\n"), io.LimitReader(&repeating{random, 0}, 1e10)), "dxf: the file is larger than 67108864 bytes: divide the drawing"},
		"cycle":       {strings.NewReader(cycle + entities(codes(0, "INSERT", 2, "RING"))), `block "Ring" is inserted in itself`},
		"deep blocks": {strings.NewReader(deep + entities(codes(0, "INSERT", 2, "0"))), `blocks nested more than 32 deep: explode block "32"`},
		"doubling":    {strings.NewReader(doubling + entities(codes(0, "INSERT", 2, "0"))), "more than 1048576 entities, those of inserted blocks counted"},
		"many rows":   {strings.NewReader(rows + entities(codes(0, "INSERT", 2, "B", 70, 999999999, 71, 999999999))), "more than 1048576 entities, those of inserted blocks counted"},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := dxf.Read(c.file, dxf.ReadOptions{})
			runtime.ReadMemStats(&after)
			require.ErrorContains(t, err, c.want)
			// All that is allocated on the way, kept or not.
			require.LessOrEqual(t, after.TotalAlloc-before.TotalAlloc, uint64(1200<<20))
		})
	}
}

func TestGarbageIsNotReadToItsEnd(t *testing.T) {
	random := make([]byte, 1<<16)
	state := uint32(7)
	for i := range random {
		state = state*1664525 + 1013904223
		random[i] = byte(state >> 24)
	}
	for name, c := range map[string]struct {
		begin, piece, want string
	}{
		"bytes":        {"", string(random), `is not a group code`},
		"zeros":        {"", strings.Repeat("\x00", 4096), `dxf: line 1: "\x00\x00`},
		"numbers":      {"", "0\n", `dxf: line 2: "0" where a section should start`},
		"text":         {"\ufeff", "Once upon a time\r\n", `dxf: line 1: "Once upon a time" is not a group code`},
		"comments":     {"999\nby hand\n999\n\n", "0\nLINE\n", `dxf: line 6: "LINE" where a section should start`},
		"binary DXF":   {"AutoCAD Binary DXF\r\n\x1a\x00", "\x00\x01", "dxf: line 1: this is a binary DXF: save it as ASCII DXF"},
		"DWG":          {"AC1027", "\x00\x01", "dxf: line 1: this is a DWG: save it as ASCII DXF"},
		"is DXF, long": {"999\nby hand\n0\nSECTION\n2\nENTITIES\n", "0\nPOINT\n10\n1\n", "dxf: the file is larger than 67108864 bytes: divide the drawing"},
	} {
		file := &counting{Reader: io.MultiReader(strings.NewReader(c.begin), io.LimitReader(&repeating{[]byte(c.piece), 0}, 200e6))}
		_, err := dxf.Read(file, dxf.ReadOptions{})
		require.ErrorContains(t, err, c.want, name)
		if name == "is DXF, long" {
			require.LessOrEqual(t, file.read, 64<<20+1)
		} else {
			require.LessOrEqual(t, file.read, 64<<10, name)
		}
	}
}

// counting counts what is read.
type counting struct {
	io.Reader
	read int
}

func (c *counting) Read(p []byte) (int, error) {
	n, err := c.Reader.Read(p)
	c.read += n
	return n, err
}

// repeating reads the same bytes again and again.
type repeating struct {
	bytes []byte
	at    int
}

func (r *repeating) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = r.bytes[r.at]
		r.at = (r.at + 1) % len(r.bytes)
	}
	return len(p), nil
}

func TestEveryTruncationOfAFileIsReadOrNamesItsLine(t *testing.T) {
	file, err := os.ReadFile(filepath.Join(testdata, "others-R2000.dxf"))
	require.NoError(t, err)
	for n := 0; n < len(file); n += 97 {
		_, err := dxf.Read(bytes.NewReader(file[:n]), dxf.ReadOptions{})
		if err != nil {
			var syntax *dxf.SyntaxError
			require.ErrorAs(t, err, &syntax)
			require.Positive(t, syntax.Line)
		}
	}
}

// basis is the B-spline basis function by its definition (Piegl and Tiller, The
// NURBS Book, 2nd edition, equation 2.5).
func basis(i, p int, t float64, knots []float64) float64 {
	if p == 0 {
		if knots[i] <= t && t < knots[i+1] {
			return 1
		}
		return 0
	}
	sum := 0.0
	if d := knots[i+p] - knots[i]; d > 0 {
		sum += (t - knots[i]) / d * basis(i, p-1, t, knots)
	}
	if d := knots[i+p+1] - knots[i+1]; d > 0 {
		sum += (knots[i+p+1] - t) / d * basis(i+1, p-1, t, knots)
	}
	return sum
}

func TestRationalSplineIsWhatItsDefinitionSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.IntRange(1, 5).Draw(t, "degree")
		n := rapid.IntRange(p+1, p+12).Draw(t, "points")
		spline := codes(0, "SPLINE", 70, 4, 71, p)
		knots := []float64{0}
		for len(knots) < n+p+1 {
			// Up to degree p in a row alike; the ends may be clamped or not.
			step := rapid.SampledFrom([]float64{0, 1, 1, 2.5}).Draw(t, "step")
			if k := len(knots); k >= p && step == 0 && knots[k-p] == knots[k-1] && k > p {
				step = 1
			}
			knots = append(knots, knots[len(knots)-1]+step)
		}
		if knots[p] == knots[n] {
			return
		}
		points, weights := make([]path.Point, n), make([]float64, n)
		for _, k := range knots {
			spline += codes(40, k)
		}
		for i := range points {
			points[i] = path.Point{X: rapid.Float64Range(-100, 100).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y")}
			weights[i] = rapid.Float64Range(0.3, 3).Draw(t, "weight")
			spline += codes(10, points[i].X, 20, points[i].Y, 41, weights[i])
		}
		line := oneLine(t, spline)
		for i := range 60 {
			u := knots[p] + (knots[n]-knots[p])*(float64(i)+0.5)/60
			var x, y, w float64
			for k, q := range points {
				b := basis(k, p, u, knots) * weights[k]
				x, y, w = x+b*q.X, y+b*q.Y, w+b
			}
			mustBeOn(t, line, path.FitTolerance, path.Point{X: x / w, Y: y / w})
		}
	})
}
