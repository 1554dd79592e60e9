package dxf_test

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

// The clauses are those of ASTM D6673-10 as others quote it: the text itself
// has not been read.

// record is an entity of a file, with the values of its group codes.
type record struct {
	kind, layer string
	values      map[string]string
}

func (r record) number(t require.TestingT, code string) float64 {
	x, err := strconv.ParseFloat(r.values[code], 64)
	require.NoError(t, err, "group code %s of %v", code, r)
	return x
}

// recordsOf returns all that begins with group code 0.
func recordsOf(t require.TestingT, file string) []record {
	var all []record
	for _, p := range pairsOf(t, file) {
		if p[0] == "0" {
			all = append(all, record{kind: p[1], values: map[string]string{}})
			continue
		}
		r := &all[len(all)-1]
		if p[0] == "8" {
			r.layer = p[1]
		}
		r.values[p[0]] = p[1]
	}
	return all
}

// Section 4.3: layers 1, 11 and 14 hold POLYLINE, 8 POLYLINE or LINE, 5, 6, 7, 9
// and 10 LINE, 2 to 4, 13 and 80 to 83 POINT, 15 TEXT.
func TestEachLayerHoldsItsKindsOfEntities(t *testing.T) {
	allowed := map[string]string{
		"1": "POLYLINE TEXT BLOCK ENDBLK INSERT", "2": "POINT", "3": "POINT", "4": "POINT", "5": "LINE", "6": "LINE", "7": "LINE",
		"8": "POLYLINE LINE", "9": "LINE", "10": "LINE", "11": "POLYLINE", "13": "POINT", "14": "POLYLINE", "15": "TEXT",
		"80": "POINT", "81": "POINT", "82": "POINT", "83": "POINT",
		"84": "POLYLINE", "85": "POLYLINE", "86": "POLYLINE", "87": "POLYLINE",
	}
	d := plottest.Scalloped(3)
	for i := range d.Groups {
		g := &d.Groups[i]
		for r := plot.Drawn; r <= plot.Internal; r++ {
			g.Lines = append(g.Lines,
				plot.Line{Role: r, Path: path.Open(path.Point{X: 1, Y: 30}, path.Point{X: 5, Y: 34})},
				plot.Line{Role: r, Path: path.FromSegments(path.Arc(path.Point{X: 5, Y: 30}, 4, 0, 2))})
		}
		for k := fit.SlitNotch; k <= fit.UNotch; k++ {
			g.Lines = append(g.Lines, plot.Line{Role: plot.Notch, Notch: k, Path: path.Open(path.Point{X: 5}, path.Point{X: 5, Y: 4})})
		}
		for _, layer := range []string{"5", "9", "10"} {
			g.Lines = append(g.Lines, plot.Line{Class: layer, Path: path.Open(path.Point{X: 5, Y: 40}, path.Point{X: 15, Y: 40})})
		}
	}
	o := exchange()
	o.CheckCurves = true
	found := map[string]bool{}
	for _, r := range recordsOf(t, written(t, d, o)) {
		if r.layer == "" || r.kind == "VERTEX" || r.kind == "SEQEND" {
			continue
		}
		require.Contains(t, strings.Fields(allowed[r.layer]), r.kind, "layer %s", r.layer)
		found[r.layer] = true
	}
	require.Len(t, found, len(allowed), "every layer but the blank one, 12")
}

// Section 4.3 and the layers' description of notches, second-hand: the POINT
// lies on the boundary; 30 is the depth, 39 the width, 50 the angle. That it
// points inward is from memory.
func TestNotchesLieOnTheBoundaryAsDeepAndWideAsDesigned(t *testing.T) {
	layers := map[fit.NotchKind]string{
		fit.SlitNotch: "4", fit.VNotch: "4", fit.TNotch: "80", fit.CastleNotch: "81", fit.CheckNotch: "82", fit.UNotch: "83",
	}
	rapid.Check(t, func(t *rapid.T) {
		o := exchange()
		o.Units = rapid.SampledFrom([]dxf.Units{dxf.Metric, dxf.English}).Draw(t, "units")
		o.ChordError = rapid.SampledFrom([]float64{0, 0.1, 3}).Draw(t, "chord error")
		outline := path.Path{Closed: true}
		for i := range 4 {
			outline.V = append(outline.V, path.Vertex{
				Point: path.Point{}.Add(path.Direction(math.Pi / 2 * float64(i)).Mul(300)),
				Bulge: rapid.Float64Range(-0.3, 0.5).Draw(t, "bulge"),
			})
		}
		lines := []plot.Line{{Role: plot.Cut, Path: outline}}
		ruler := path.NewRuler(outline)
		for k := fit.SlitNotch; k <= fit.UNotch; k++ {
			at := rapid.Float64Range(0, ruler.Length()).Draw(t, "along")
			depth := rapid.Float64Range(2, 12).Draw(t, "depth")
			n := plot.Line{Role: plot.Notch, Notch: k, Path: path.Open(ruler.At(at), ruler.At(at).Add(ruler.TangentAt(at).Left().Mul(depth)))}
			if k != fit.SlitNotch {
				n.Width = rapid.Float64Range(1, 9).Draw(t, "width")
			}
			lines = append(lines, n)
		}
		file := written(t, plot.Drawing{Groups: []plot.Group{{Label: "piece", Lines: lines}}}, o)
		unit := map[dxf.Units]float64{dxf.Metric: 1, dxf.English: 25.4}[o.Units]
		boundary := path.Path{Closed: true}
		var notches []record
		for _, r := range recordsOf(t, file) {
			switch {
			case r.kind == "VERTEX" && r.layer == "1":
				boundary.V = append(boundary.V, path.Vertex{Point: path.Point{X: r.number(t, "10") * unit, Y: r.number(t, "20") * unit}})
			case r.kind == "POINT" && r.layer != "2" && r.layer != "3":
				notches = append(notches, r)
			}
		}
		require.Len(t, notches, len(layers))
		drawn := path.NewRuler(boundary)
		for i, n := range notches {
			want := lines[1+i]
			require.Equal(t, layers[want.Notch], n.layer)
			_, off := drawn.Nearest(path.Point{X: n.number(t, "10") * unit, Y: n.number(t, "20") * unit})
			require.LessOrEqual(t, off, 0.015, "the rounding of the point and of the boundary")
			require.InDelta(t, want.Path.Length(), n.number(t, "30")*unit, 0.0051)
			if want.Width > 0 {
				require.InDelta(t, want.Width, n.number(t, "39")*unit, 0.0051)
			} else {
				require.NotContains(t, n.values, "39")
			}
			turn := n.number(t, "50")*math.Pi/180 - want.Path.V[1].Sub(want.Path.V[0].Point).Angle()
			require.InDelta(t, 0, math.Remainder(turn, 2*math.Pi), 1e-5)
		}
		back := read(t, file).Groups[0].Lines
		require.LessOrEqual(t, plottest.Deviation(outline, back[0].Path), max(near, o.ChordError+0.01))
		for i, l := range lines[1:] {
			require.Equal(t, l.Notch, back[1+i].Notch)
			require.InDelta(t, l.Width, back[1+i].Width, 0.0051)
		}
	})
}

// Section 4.3.1.1, second-hand: ENGLISH is inches with four decimals.
func TestEnglishUnitsAreInchesWithFourDecimals(t *testing.T) {
	d := plottest.Scalloped(4)
	o := exchange()
	o.Units = dxf.English
	file := written(t, d, o)
	require.Contains(t, file, "\r\n1\r\nUnits: ENGLISH\r\n")
	decimals := regexp.MustCompile(`^-?\d+\.\d{4}$`)
	for _, r := range recordsOf(t, file) {
		for _, code := range []string{"10", "20", "11", "21", "30", "39", "40"} {
			if x, ok := r.values[code]; ok && r.kind != "POLYLINE" {
				require.Regexp(t, decimals, x)
			}
		}
	}
	// The outline's first corner is 50 mm left of the middle, the notch 4 mm deep.
	require.Contains(t, file, "VERTEX\r\n8\r\n1\r\n10\r\n-1.9685\r\n20\r\n0.0000\r\n")
	require.Contains(t, file, "\r\n30\r\n0.1575\r\n50\r\n180.0000\r\n")
	back, report, err := dxf.ReadWithReport(strings.NewReader(file), dxf.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, 25.4, report.UnitMM)
	for i, g := range d.Groups {
		requireTexts(t, g.Texts, back.Groups[i].Texts)
		g.Lines = append([]plot.Line{g.Lines[len(g.Lines)-1]}, g.Lines[:len(g.Lines)-1]...) // the outline is written first
		require.Len(t, back.Groups[i].Lines, len(g.Lines))
		requireLines(t, g.Lines, back.Groups[i].Lines, near)
	}
}

func TestEnglishGradedFileComesBackInEverySize(t *testing.T) {
	d := sizesOf(plottest.Scalloped(4), 3)
	o := dxf.Options{Flavour: dxf.Exchange, RuleTable: "MARRAM", SampleSize: "36", Units: dxf.English}
	var table bytes.Buffer
	require.NoError(t, dxf.WriteRules(&table, d, o))
	require.Contains(t, table.String(), "UNITS: ENGLISH\r\n")
	rules, err := dxf.ParseRules(&table)
	require.NoError(t, err)
	back, report, err := dxf.ReadWithReport(strings.NewReader(written(t, d, o)), dxf.ReadOptions{Rules: rules})
	require.NoError(t, err)
	require.Empty(t, report.Warnings)
	require.Len(t, back.Groups, len(d.Groups))
	for i, g := range d.Groups {
		require.Equal(t, g.Piece.Size, back.Groups[i].Piece.Size)
		for _, r := range []plot.Role{plot.Cut, plot.Stitch} {
			for k, l := range rolled(g.Lines, r) {
				require.LessOrEqual(t, plottest.Deviation(l.Path, rolled(back.Groups[i].Lines, r)[k].Path), near, "%s", r)
			}
		}
	}
}

// rolled returns the lines of the role.
func rolled(lines []plot.Line, r plot.Role) []plot.Line {
	var of []plot.Line
	for _, l := range lines {
		if l.Role == r {
			of = append(of, l)
		}
	}
	return of
}

// Section 4.3, second-hand: layers 84 to 87 hold dense check curves of 1, 8, 11
// and 14. What Curve Tolerance means is from memory.
func TestCheckCurvesFollowTheDesignWhereChordsAreCoarse(t *testing.T) {
	hole := path.Circle(path.Point{X: 100, Y: 100}, 40)
	dart := path.FromSegments(path.Arc(path.Point{X: 200, Y: 100}, 30, 0, 2))
	sewn := path.Circle(path.Point{X: 150, Y: 100}, 95)
	d := pieceOf(plot.Line{Role: plot.Cut, Path: hole}, plot.Line{Role: plot.Internal, Path: dart}, plot.Line{Role: plot.Stitch, Path: sewn},
		plot.Line{Role: plot.Internal, Path: path.Open(path.Point{X: 5, Y: 5}, path.Point{X: 15, Y: 5})})
	d.Groups[0].Lines[0].Path.V[0].Bulge = 0.1
	design := map[string]path.Path{"84": d.Groups[0].Lines[0].Path, "85": dart, "86": hole, "87": sewn}
	for units, tolerance := range map[dxf.Units]string{dxf.Metric: "0.03", dxf.English: "0.0009"} {
		o := dxf.Options{Flavour: dxf.Exchange, ChordError: 2, Units: units}
		require.NotContains(t, written(t, d, o), "\r\n84\r\n")
		o.CheckCurves = true
		file := written(t, d, o)
		require.Contains(t, file, "\r\n1\r\nCurve Tolerance: "+tolerance+"\r\n")
		unit := map[dxf.Units]float64{dxf.Metric: 1, dxf.English: 25.4}[units]
		drawn := map[string]path.Path{}
		for _, r := range recordsOf(t, file) {
			p := drawn[r.layer]
			switch r.kind {
			case "POLYLINE":
				p = path.Path{Closed: r.values["70"] == "1"} // of those on layer 8 the last
			case "VERTEX":
				p.V = append(p.V, path.Vertex{Point: path.Point{X: r.number(t, "10") * unit, Y: r.number(t, "20") * unit}})
			}
			drawn[r.layer] = p
		}
		for layer, want := range design {
			require.LessOrEqual(t, plottest.Deviation(want, drawn[layer]), 0.0221, "layer %s", layer)
		}
		require.Greater(t, plottest.Deviation(hole, drawn["11"]), 1.0)
		require.Len(t, read(t, file).Groups[0].Lines, len(d.Groups[0].Lines), "a check curve is no line more")
	}
}

// Names of A-Z 0-9 _ -, at most 31 characters (that from memory), all different.
func TestBlockNamesAreCleanAndUnique(t *testing.T) {
	clean := regexp.MustCompile(`^[A-Z0-9_-]{1,31}$`)
	name := rapid.OneOf(rapid.String(), rapid.StringMatching(`[a-b]-?2?`), rapid.StringN(25, 40, -1), rapid.Just("裾"))
	rapid.Check(t, func(t *rapid.T) {
		d := plot.Drawing{}
		for range rapid.IntRange(1, 12).Draw(t, "pieces") {
			g := pieceOf().Groups[0]
			g.Piece = &plot.Piece{Name: name.Draw(t, "name"), Size: rapid.SampledFrom([]string{"", "38", "2", "größer"}).Draw(t, "size")}
			d.Groups = append(d.Groups, g)
		}
		var blocks, inserts []string
		file := written(t, d, exchange())
		for _, r := range recordsOf(t, file) {
			switch r.kind {
			case "BLOCK":
				require.Regexp(t, clean, r.values["2"])
				require.NotContains(t, blocks, r.values["2"])
				blocks = append(blocks, r.values["2"])
			case "INSERT":
				inserts = append(inserts, r.values["2"])
			}
		}
		require.Len(t, blocks, len(d.Groups))
		require.Equal(t, blocks, inserts)
		require.Regexp(t, `^([ -~]*\r\n)*$`, file, "7-bit ASCII")
	})
}

// 4.3.1.1 and 4.3.1.2, second-hand: TEXT on layer 1, "Key: value", one for each
// entity; Sample Size and Grade Rule Table stand even when blank; of the keys of
// a piece only its name must be there.
func TestFactsHaveTheStandardsKeys(t *testing.T) {
	style := regexp.MustCompile(`^(ASTM/D13 Proposal 1 Version|Style Name|Creation Date|Creation Time|Author|Sample Size|Grade Rule Table|Units): ?`)
	piece := regexp.MustCompile(`^(Piece Name|Size|Category|Quantity|Material): `)
	d := plottest.Scalloped(2)
	d.Groups[1].Piece = &plot.Piece{Name: "Facing"}
	d.Groups[0].Piece.Size = ""
	inBlock, texts := false, []string{}
	for _, r := range recordsOf(t, written(t, d, exchange())) {
		switch {
		case r.kind == "BLOCK", r.kind == "ENDBLK":
			inBlock = r.kind == "BLOCK"
		case r.kind == "TEXT" && r.layer == "1" && inBlock:
			require.Regexp(t, piece, r.values["1"])
		case r.kind == "TEXT" && r.layer == "1":
			require.Regexp(t, style, r.values["1"])
			texts = append(texts, r.values["1"])
		}
	}
	require.Equal(t, []string{
		"ASTM/D13 Proposal 1 Version: D6673-10", "Style Name: Marram skirt", "Sample Size: ", "Grade Rule Table: ", "Units: METRIC",
	}, texts)
	require.Contains(t, written(t, d, exchange()), "\r\n1\r\nPiece Name: Facing\r\n")
}
