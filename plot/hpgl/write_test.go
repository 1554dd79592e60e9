package hpgl_test

import (
	"bytes"
	"flag"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/hpgl"
	"engrail/plot/plottest"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const testdata = "../../testdata/plot-hpgl"

func written(t require.TestingT, d plot.Drawing, o hpgl.Options) string {
	var b bytes.Buffer
	require.NoError(t, hpgl.Write(&b, d, o))
	return b.String()
}

func lines(role plot.Role, paths ...path.Path) plot.Drawing {
	g := plot.Group{Label: "test piece"}
	for _, p := range paths {
		g.Lines = append(g.Lines, plot.Line{Role: role, Path: p})
	}
	return plot.Drawing{Groups: []plot.Group{g}}
}

func rectangle(x, y, w, h float64) path.Path {
	return path.Closed(
		path.Point{X: x, Y: y}, path.Point{X: x + w, Y: y}, path.Point{X: x + w, Y: y + h}, path.Point{X: x, Y: y + h})
}

func TestMillimetreIsFortyUnits(t *testing.T) {
	// HP-GL/2 and HP RTL Reference Guide, 1996, p. 12: 40 plotter units a mm.
	require.Equal(t,
		"IN;\nPU;\nSP1;\nPU0,0;\nPD4000,0,4000,2000,0,2000,0,0;\nPU;\nSP0;\n",
		written(t, lines(plot.Cut, rectangle(0, 0, 100, 50)), hpgl.Options{}))
}

func TestStepOfTheDeviceScalesUnits(t *testing.T) {
	// A cutter set to 2560 steps to the inch: 100.79 mm are 10158 steps.
	d := lines(plot.Cut, path.Open(path.Point{}, path.Point{X: 25.4, Y: -12.7}))
	require.Contains(t, written(t, d, hpgl.Options{StepMM: 25.4 / 2560}), "PU0,0;\nPD2560,-1280;\n")
}

func TestEmptyDrawingDrawsNothing(t *testing.T) {
	for _, d := range []plot.Drawing{{}, {Groups: []plot.Group{{}}}, lines(plot.Cut, path.Path{})} {
		require.Equal(t, "IN;\nPU;\nSP0;\n", written(t, d, hpgl.Options{}))
	}
}

func TestGoldenFiles(t *testing.T) {
	for name, o := range map[string]hpgl.Options{
		"scalloped-4-pen.hpgl":   {},
		"scalloped-4-knife.hpgl": {Tool: hpgl.Knife},
	} {
		t.Run(name, func(t *testing.T) {
			plottest.Golden(t, *update, filepath.Join(testdata, name), []byte(written(t, plottest.Scalloped(4), o)))
		})
	}
}

// The commands that every device knows, one a line, as listed in the package
// comment.
var portable = regexp.MustCompile(`^(IN|SP\d+|PU(-?\d+,-?\d+)?|PD-?\d+,-?\d+(,-?\d+,-?\d+){0,4}|` +
	`SI\d+\.\d{4},\d+\.\d{4}|DI-?\d\.\d{4},-?\d\.\d{4}|LB[ -~]+\x03);$`)

func TestFileKeepsToThePortableCommands(t *testing.T) {
	for name, o := range map[string]hpgl.Options{
		"pen": {}, "knife": {Tool: hpgl.Knife}, "wide": {Range: hpgl.Wide, StepMM: 1e-5}, "device's letters": {Lettering: hpgl.Device},
	} {
		t.Run(name, func(t *testing.T) {
			file := written(t, plottest.Scalloped(20), o)
			require.Equal(t, 1, strings.Count(file, "IN;"))
			require.True(t, strings.HasPrefix(file, "IN;\n"))
			require.True(t, strings.HasSuffix(file, "\nPU;\nSP0;\n"))
			for line := range strings.Lines(file) {
				line = strings.TrimSuffix(line, "\n")
				require.Regexp(t, portable, line)
				require.Less(t, len(line), 80, line)
			}
		})
	}
}

func pensUsed(file string) []string {
	return regexp.MustCompile(`SP\d+`).FindAllString(file, -1)
}

func TestEachPenIsTakenOnceAndTheCutIsLast(t *testing.T) {
	pens := pensUsed(written(t, plottest.Scalloped(5), hpgl.Options{}))
	require.Equal(t, []string{"SP4", "SP7", "SP2", "SP3", "SP5", "SP6", "SP1", "SP0"}, pens)
}

func TestKnifeCutsNothingButCutLinesAndNotches(t *testing.T) {
	d := plottest.Scalloped(5)
	file := written(t, d, hpgl.Options{Tool: hpgl.Knife})
	require.Equal(t, []string{"SP1", "SP0"}, pensUsed(file))
	require.NotContains(t, file, "LB")
	require.Equal(t, 2+2, strings.Count(file, "PU")-2, "an outline and a notch for each of two pieces")

	withClips := hpgl.KnifeTable()
	withClips.Roles[plot.Clip] = 1
	file = written(t, d, hpgl.Options{Tool: hpgl.Knife, Pens: withClips})
	require.Equal(t, 2+2+2*4, strings.Count(file, "PU")-2, "and four clips for each")
}

func TestKnifeRefusesWhatWouldSpoilThePiece(t *testing.T) {
	for name, c := range map[string]struct {
		pens hpgl.Pens
		want string
	}{
		"lettering": {hpgl.Pens{Roles: map[plot.Role]int{plot.Cut: 1}, Text: 2},
			"hpgl: a knife writes no lettering: set its pen to 0"},
		"stitching": {hpgl.Pens{Roles: map[plot.Role]int{plot.Cut: 1, plot.Stitch: 1}},
			"hpgl: a knife would cut the stitch lines: give it cut, notch and clip lines only"},
	} {
		t.Run(name, func(t *testing.T) {
			err := hpgl.Write(io.Discard, plot.Drawing{}, hpgl.Options{Tool: hpgl.Knife, Pens: c.pens})
			require.EqualError(t, err, c.want)
		})
	}
}

// onFold returns a rectangle whose left edge lies on the fold, with a cutout.
func onFold() plot.Drawing {
	d := lines(plot.Cut, rectangle(0, 0, 100, 200), rectangle(40, 40, 10, 10))
	d.Groups[0].Lines = append(d.Groups[0].Lines,
		plot.Line{Role: plot.Fold, Path: path.Open(path.Point{Y: 200}, path.Point{})},
		plot.Line{Role: plot.Fold, Sign: true, Path: path.Open(path.Point{X: 40, Y: 40}, path.Point{X: 50, Y: 40})})
	return d
}

func TestPenDrawsTheFoldOnceAndAKnifeTheWholeOutline(t *testing.T) {
	noFold := hpgl.PenTable()
	noFold.Roles[plot.Fold] = 0
	const cutout = "PU1600,1600;\nPD2000,1600,2000,2000,1600,2000,1600,1600;\n"
	const whole = "PU0,0;\nPD4000,0,4000,8000,0,8000,0,0;\n"
	for name, c := range map[string]struct {
		o    hpgl.Options
		want string
	}{
		"pen": {hpgl.Options{}, "SP3;\nPU1600,1600;\nPD2000,1600;\nPU0,0;\nPD0,8000;\nPU;\nSP1;\n" +
			"PU0,8000;\nPD4000,8000,4000,0,0,0;\n" + cutout},
		"no pen for the fold": {hpgl.Options{Pens: noFold}, "SP1;\n" + whole + cutout},
		"knife":               {hpgl.Options{Tool: hpgl.Knife}, "SP1;\n" + cutout + whole},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, "IN;\nPU;\n"+c.want+"PU;\nSP0;\n", written(t, onFold(), c.o))
		})
	}
}

// Whatever edges of an outline are on folds, everything is drawn once.
func TestOutlineAndItsFoldsAreAsLongAsTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outline := path.Path{Closed: true}
		n := rapid.IntRange(3, 12).Draw(t, "corners")
		for i := range n {
			out := path.Direction(2 * math.Pi * float64(i) / float64(n)).Mul(rapid.Float64Range(60, 90).Draw(t, "radius"))
			outline.V = append(outline.V, path.Vertex{
				Point: path.Point{}.Add(out), Bulge: rapid.SampledFrom([]float64{0, 0, 0.2}).Draw(t, "bulge"),
			})
		}
		g := plot.Group{Lines: []plot.Line{{Role: plot.Cut, Path: outline}}}
		for i := 1; i < n; i++ { // an outline that is nothing but fold stays as it is
			if s := outline.Segment(i); s.IsLine() && rapid.Bool().Draw(t, "on the fold") {
				g.Lines = append(g.Lines, plot.Line{Role: plot.Fold, Path: path.FromSegments(s.Reverse())})
			}
		}
		total := 0.0
		for _, l := range readLines(t, written(t, plot.Drawing{Groups: []plot.Group{g}}, hpgl.Options{})) {
			total += l.Path.Length()
		}
		// Both ends of a chord move by half a step.
		require.InDelta(t, outline.Length(), total, 0.002*outline.Length()+float64(len(outline.V))*hpgl.StepMM)
	})
}

func TestInsideIsCutBeforeTheOutline(t *testing.T) {
	outline := rectangle(0, 0, 100, 100)
	cutout := rectangle(40, 40, 10, 10)
	slit := path.Open(path.Point{X: 20, Y: 20}, path.Point{X: 30, Y: 20})
	d := lines(plot.Cut, outline, cutout, slit)
	d.Groups = append(d.Groups, lines(plot.Cut, rectangle(200, 0, 5, 5)).Groups...)
	for _, together := range []bool{false, true} {
		cut := readLines(t, written(t, d, hpgl.Options{Tool: hpgl.Knife, Together: together}))
		require.Len(t, cut, 4)
		at := func(p path.Path) int {
			return slices.IndexFunc(cut, func(l plot.Line) bool { return l.Path.Bounds() == p.Bounds() })
		}
		require.Less(t, max(at(cutout), at(slit)), at(outline))
		require.GreaterOrEqual(t, min(at(cutout), at(slit)), 0)
	}
}

func TestLineOfTwoPiecesIsCutOnce(t *testing.T) {
	d := lines(plot.Cut, rectangle(0, 0, 100, 100))
	d.Groups = append(d.Groups, lines(plot.Cut, rectangle(100, 20, 50, 50)).Groups...)
	d.Groups = append(d.Groups, lines(plot.Cut, rectangle(0, 0, 100, 100)).Groups...)
	length := 0.0
	for _, l := range readLines(t, written(t, d, hpgl.Options{Tool: hpgl.Knife})) {
		length += l.Path.Length()
	}
	require.InDelta(t, 400+150, length, 1e-6)
}

func TestPenGoesLittleWayBetweenLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := plot.Drawing{Groups: []plot.Group{{}}}
		n := rapid.IntRange(2, 30).Draw(t, "lines")
		apart := 0.0 // from line to line in the order of the drawing
		at := path.Point{}
		for range n {
			x, y := rapid.Float64Range(-200, 200), rapid.Float64Range(-200, 200)
			p := path.Circle(path.Point{X: x.Draw(t, "x"), Y: y.Draw(t, "y")}, 5)
			if rapid.Bool().Draw(t, "straight") {
				p = path.Open(path.Point{X: x.Draw(t, "x"), Y: y.Draw(t, "y")}, path.Point{X: x.Draw(t, "x"), Y: y.Draw(t, "y")})
			}
			d.Groups[0].Lines = append(d.Groups[0].Lines, plot.Line{Role: plot.Cut, Path: p})
			apart += at.Dist(p.Start())
			at = p.End()
			if p.Closed {
				at = p.Start()
			}
		}
		travelled := 0.0
		at = path.Point{}
		for _, l := range readLines(t, written(t, d, hpgl.Options{})) {
			travelled += at.Dist(l.Path.Start())
			at = l.Path.End()
			if l.Path.Closed {
				at = l.Path.Start()
			}
		}
		require.LessOrEqual(t, travelled, apart+0.1*float64(n), "but for rounding")
	})
}

func TestKnifeGoesOnPastTheStartAndComesFromTheWaste(t *testing.T) {
	outline := rectangle(50, 50, 100, 80)
	cut := readLines(t, written(t, lines(plot.Cut, outline), hpgl.Options{Tool: hpgl.Knife, Overcut: 2, LeadIn: 6}))
	require.Len(t, cut, 1)
	p := cut[0].Path
	require.False(t, p.Closed)
	require.InDelta(t, 360+2+6, p.Length(), 0.1)
	start := p.Start()
	require.False(t, outline.Contains(start), "it is set down outside of the piece")
	_, off := path.NewRuler(outline).Nearest(start)
	require.Greater(t, off, 1.0)
	require.InDelta(t, 2, p.End().Dist(p.V[1].Point), 0.05, "and lifted behind its start")
}

// The pivot leads the tip by the blade's offset: a corner is turned about on an arc,
// and what is drawn is longer by that.
func TestFileLeadsThePivotOfATrailingBlade(t *testing.T) {
	const d = 0.5
	outline := rectangle(50, 50, 100, 80)
	cut := readLines(t, written(t, lines(plot.Cut, outline), hpgl.Options{Tool: hpgl.Knife, Blade: d}))
	require.Len(t, cut, 1)
	require.InDelta(t, 360+4*d*math.Pi/2, cut[0].Path.Length(), 0.1)
	box := cut[0].Path.Bounds()
	require.InDelta(t, 100+2*d, box.Width(), 0.05)
	require.InDelta(t, 80+2*d, box.Height(), 0.05)
}

func TestChordsAreWithinTheErrorOfTheOptions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1, 500).Draw(t, "radius")
		allowed := rapid.Float64Range(0.002, 0.5).Draw(t, "error")
		sweep := rapid.Float64Range(0.05, 2*math.Pi-0.1).Draw(t, "sweep")
		arc := path.FromSegments(path.Arc(path.Point{}, r, 0.3, sweep))
		// Steps fine enough that rounding does not show.
		const step = 1e-5
		file := written(t, lines(plot.Cut, arc), hpgl.Options{StepMM: step, Range: hpgl.Wide, ChordError: allowed})
		d, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{StepMM: step})
		require.NoError(t, err)
		back := d.Groups[0].Lines[0].Path
		require.LessOrEqual(t, plottest.Deviation(arc, back), allowed+step)
		require.Len(t, back.V, len(arc.Chords(allowed)), "as few as there can be")
	})
}

func TestRangeErrorSaysWhichPieceHowLargeAndWhatToDo(t *testing.T) {
	piece := func(p path.Path) plot.Drawing {
		d := lines(plot.Cut, p)
		d.Groups[0].Piece = &plot.Piece{Name: "Back", Size: "44"}
		return d
	}
	for name, c := range map[string]struct {
		path path.Path
		o    hpgl.Options
		want string
	}{
		"too wide": {rectangle(0, 0, 1700, 200), hpgl.Options{},
			`hpgl: piece "Back" size 44, 1700.0 by 200.0 mm, reaches from (0.0, 0.0) to (1700.0, 200.0) mm, ` +
				"but coordinates end at -819.2 and 819.2 mm: draw it in parts on smaller sheets, " +
				"or set the wide range if the device takes HP-GL/2 integers"},
		"off to a side": {rectangle(700, 0, 300, 200), hpgl.Options{},
			`hpgl: piece "Back" size 44, 300.0 by 200.0 mm, reaches from (700.0, 0.0) to (1000.0, 200.0) mm, ` +
				"but coordinates end at -819.2 and 819.2 mm: move it nearer to the origin, " +
				"draw it in parts on smaller sheets, or set the wide range if the device takes HP-GL/2 integers"},
		"arc that needs more chords than there is room for": {path.Path{V: []path.Vertex{{Bulge: 1e4}, {Point: path.Point{X: 500}}}}, hpgl.Options{},
			`hpgl: piece "Back" size 44, 2500000.0 by 2500000.0 mm, reaches from (-1249750.0, -2500000.0) to (1250250.0, 0.0) mm, ` +
				"but coordinates end at -819.2 and 819.2 mm: draw it in parts on smaller sheets, " +
				"or set the wide range if the device takes HP-GL/2 integers"},
		"wide and still too wide": {rectangle(0, 0, 1e9, 200), hpgl.Options{Range: hpgl.Wide},
			`hpgl: piece "Back" size 44, 1000000000.0 by 200.0 mm, reaches from (0.0, 0.0) to (1000000000.0, 200.0) mm, ` +
				"but coordinates end at -26843545.6 and 26843545.6 mm: draw it in parts on smaller sheets"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.EqualError(t, hpgl.Write(&b, piece(c.path), c.o), c.want)
			require.Zero(t, b.Len(), "nothing is written after an error")
		})
	}
	written(t, piece(rectangle(0, 0, 1700, 200)), hpgl.Options{Range: hpgl.Wide})
	// 32767 units are 819.175 mm; half a unit further rounds away from it.
	written(t, piece(rectangle(-819.2, 0, 819.2+819.175, 1)), hpgl.Options{})
	require.Error(t, hpgl.Write(io.Discard, piece(rectangle(0, 0, 819.19, 1)), hpgl.Options{}))
}

func TestBadInputIsRefusedByName(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	text := func(x plot.Text) plot.Drawing {
		return plot.Drawing{Groups: []plot.Group{{ID: "g7", Texts: []plot.Text{x}}}}
	}
	bad := path.Open(path.Point{X: nan}, path.Point{})
	for name, c := range map[string]struct {
		d    plot.Drawing
		o    hpgl.Options
		want string
	}{
		"nan": {lines(plot.Stitch, path.Open(path.Point{}), bad), hpgl.Options{},
			`hpgl: group "test piece": stitch line 2 has a coordinate that is not a number`},
		"infinite bulge": {lines(plot.Cut, path.Path{V: []path.Vertex{{Bulge: inf}, {}}}), hpgl.Options{},
			`hpgl: group "test piece": cut line 1 has a coordinate that is not a number`},
		"nearly a full turn": {lines(plot.Cut, path.Path{V: []path.Vertex{{Bulge: -1e9}, {Point: path.Point{X: 1}}}}), hpgl.Options{},
			`hpgl: group "test piece": cut line 1 has an arc at (0.0, 0.0) mm that is too nearly a full turn: divide it`},
		"nested without a name": {plot.Drawing{Groups: []plot.Group{{}, {Groups: lines(plot.Cut, bad).Groups}}}, hpgl.Options{},
			`hpgl: group "test piece": cut line 1 has a coordinate that is not a number`},
		"text place": {text(plot.Text{At: path.Point{Y: inf}, Height: 5, String: "cut 2"}), hpgl.Options{},
			`hpgl: group "g7": text 1, "cut 2", has a place or angle that is not a number`},
		"text height": {text(plot.Text{String: "cut 2"}), hpgl.Options{},
			`hpgl: group "g7": text 1, "cut 2", is 0 mm high, not between 0.01 and 10000 mm`},
		"text length": {text(plot.Text{Height: 5, String: strings.Repeat("½", 1400)}), hpgl.Options{},
			`hpgl: group "g7": text 1 has 4200 characters, and no more than 4096 are written: divide it`},
		"text outside": {text(plot.Text{At: path.Point{Y: 900}, Height: 5, String: "cut 2"}), hpgl.Options{},
			`hpgl: group "g7": text "cut 2" starts at (0.0, 900.0) mm, but coordinates end at -819.2 and 819.2 mm: ` +
				`move it nearer to the origin, draw it in parts on smaller sheets, or set the wide range if the device takes HP-GL/2 integers`},
		"step":        {plot.Drawing{}, hpgl.Options{StepMM: -1}, "hpgl: the step of -1 mm is not between 1e-06 and 10 mm"},
		"chord error": {plot.Drawing{}, hpgl.Options{ChordError: nan}, "hpgl: the chord error of NaN mm is not between 1e-06 and 10 mm"},
		"pen": {plot.Drawing{}, hpgl.Options{Pens: hpgl.Pens{Roles: map[plot.Role]int{plot.Fold: -2}}},
			"hpgl: pen -2 for fold lines is not between 1 and 255"},
		"pen for lettering": {plot.Drawing{}, hpgl.Options{Pens: hpgl.Pens{Text: 999}},
			"hpgl: pen 999 for lettering is not between 1 and 255"},
	} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			require.EqualError(t, hpgl.Write(&b, c.d, c.o), c.want)
			require.Zero(t, b.Len())
		})
	}
}

func TestLetteringCannotEndItsLabel(t *testing.T) {
	text := func(s string) plot.Drawing {
		return plot.Drawing{Groups: []plot.Group{{Texts: []plot.Text{{Height: 5, String: s}}}}}
	}
	for in, want := range map[string]string{
		"a;PU0,0;b":      "LBa;PU0,0;b\x03;\n",
		"a\x03;SP2;b":    "LBa ;SP2;b\x03;\n",
		"two\nlines\r\n": "LBtwo lines  \x03;\n",
		"Größe 38 – ½":   "LBGrosse 38 - 1/2\x03;\n",
		"\x1b%0A\x00":    "LB %0A \x03;\n",
	} {
		file := written(t, text(in), hpgl.Options{Lettering: hpgl.Device})
		require.Contains(t, file, "\n"+want, "%q", in)
		d, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{})
		require.NoError(t, err)
		require.Len(t, d.Groups[0].Texts, 1)
		require.Empty(t, d.Groups[0].Lines)
	}
	require.NotContains(t, written(t, text(""), hpgl.Options{}), "LB")
}

func TestLongLetteringIsOneTextInShortLines(t *testing.T) {
	long := strings.Repeat("cut two of lining, ", 12)
	d := plot.Drawing{Groups: []plot.Group{{Texts: []plot.Text{{Height: 5, String: long}}}}}
	file := written(t, d, hpgl.Options{Lettering: hpgl.Device})
	require.Equal(t, 4, strings.Count(file, "LB"))
	back, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{})
	require.NoError(t, err)
	require.Equal(t, long, back.Groups[0].Texts[0].String)
}

func TestSameDrawingGivesTheSameBytes(t *testing.T) {
	first := written(t, plottest.Scalloped(7), hpgl.Options{})
	for range 20 {
		require.Equal(t, first, written(t, plottest.Scalloped(7), hpgl.Options{}))
	}
}

func TestPenTableFitsAnEightPenCarouselAndDrawsEveryRole(t *testing.T) {
	pens := hpgl.PenTable()
	for _, r := range append(plot.Roles(), plot.Drawn) {
		require.Contains(t, []int{1, 2, 3, 4, 5, 6, 7, 8}, pens.Roles[r], r)
	}
	alone := slices.DeleteFunc(plot.Roles(), func(r plot.Role) bool { return pens.Roles[r] != pens.Roles[plot.Cut] })
	require.Equal(t, []plot.Role{plot.Cut}, alone, "no other line is drawn with the cut line's pen")
}

// What is measured is drawn by hp2xx, a plotter in software.

func withoutTexts(d plot.Drawing) plot.Drawing {
	for i := range d.Groups {
		d.Groups[i].Texts = nil
	}
	return d
}

func TestSoftwarePlotterMeasuresTheDesignedSize(t *testing.T) {
	for name, o := range map[string]hpgl.Options{"pen": {}, "knife": {Tool: hpgl.Knife}} {
		t.Run(name, func(t *testing.T) {
			d := withoutTexts(plottest.Scalloped(6))
			got := plottest.Plot(t, []byte(written(t, d, o)))
			require.InDelta(t, d.Bounds().Width(), got.Width, hpgl.StepMM)
			require.InDelta(t, d.Bounds().Height(), got.Height, hpgl.StepMM)
		})
	}
}

func TestSoftwarePlotterDrawsRolesInTheirLengths(t *testing.T) {
	d := withoutTexts(plottest.Scalloped(6))
	// The last ones together: hp2xx has no place for a drawing without a width.
	sets := [][]plot.Role{{plot.Cut}, {plot.Stitch}, {plot.Fold, plot.Grain, plot.Notch, plot.Clip, plot.Internal}}
	for _, set := range sets {
		pens := map[plot.Role]int{}
		for _, r := range set {
			pens[r] = 1
		}
		file := written(t, d, hpgl.Options{Pens: hpgl.Pens{Roles: pens}})
		designed, drawn := 0.0, 0.0
		for _, g := range d.Groups {
			for _, l := range g.Lines {
				if slices.Contains(set, l.Role) {
					designed += l.Path.Length()
				}
			}
		}
		for _, l := range readLines(t, file) {
			drawn += l.Path.Length()
		}
		got := plottest.Plot(t, []byte(file)).Length()
		t.Logf("%v: %.3f mm designed, %.3f mm measured", set, designed, got)
		require.InDelta(t, drawn, got, hpgl.StepMM, "%v", set)
		// Chords shorten an arc of 12.8 mm radius by 4 x 0.007 / (3 x 12.8) of its
		// length, 0.07 %; rounding to steps takes and gives half as much.
		require.InEpsilon(t, designed, got, 0.001, "%v", set)
	}
}

func TestSoftwarePlotterDrawsLettersAtTheirHeight(t *testing.T) {
	text := plot.Text{Height: 7, Align: plot.Middle, String: "HHHHH"}
	d := plot.Drawing{Groups: []plot.Group{{
		Texts: []plot.Text{text},
		// A cross that the text is centred on.
		Lines: []plot.Line{{Role: plot.Mark, Path: path.Open(path.Point{X: -50}, path.Point{X: 50})}},
	}}}
	got := plottest.Plot(t, []byte(written(t, d, hpgl.Options{Lettering: hpgl.Device})))
	require.InDelta(t, 100, got.Width, hpgl.StepMM)
	require.InDelta(t, 7, got.Height, hpgl.StepMM)

	d.Groups[0].Lines = nil
	width := plottest.Plot(t, []byte(written(t, d, hpgl.Options{Lettering: hpgl.Device}))).Width
	back, err := hpgl.Read(strings.NewReader(written(t, d, hpgl.Options{Lettering: hpgl.Device})), hpgl.ReadOptions{})
	require.NoError(t, err)
	require.InDelta(t, -width/2, back.Groups[0].Texts[0].At.X, hpgl.StepMM)
}
