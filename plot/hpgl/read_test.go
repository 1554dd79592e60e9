package hpgl_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/hpgl"
	"engrail/plot/plottest"
	"engrail/plot/proof"
)

func read(t require.TestingT, file string) plot.Drawing {
	d, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{})
	require.NoError(t, err)
	return d
}

// readLines returns the lines of the only group.
func readLines(t require.TestingT, file string) []plot.Line {
	d := read(t, file)
	require.Len(t, d.Groups, 1)
	return d.Groups[0].Lines
}

func points(v ...float64) []path.Point {
	var p []path.Point
	for i := 0; i < len(v); i += 2 {
		p = append(p, path.Point{X: v[i], Y: v[i+1]})
	}
	return p
}

func TestWhatIsReadIsWithinAPlotterUnitOfTheDesign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, folds := plot.Group{}, plot.Group{} // apart: a cut line is left open at its piece's fold
		for range rapid.IntRange(1, 6).Draw(t, "lines") {
			role := rapid.SampledFrom([]plot.Role{plot.Cut, plot.Stitch, plot.Fold, plot.Grain, plot.Notch, plot.Clip, plot.Mark, plot.Inner}).Draw(t, "role")
			to := &g
			if role == plot.Fold {
				to = &folds
			}
			to.Lines = append(to.Lines, plot.Line{Role: role, Path: plottest.RandomPath(t)})
		}
		design := plot.Drawing{Groups: []plot.Group{g, folds}}
		back := readLines(t, written(t, design, hpgl.Options{}))
		c := proof.Compare(plottest.Lines(design), back, func(l plot.Line) string { return l.Role.String() })
		require.LessOrEqual(t, c.Max, hpgl.StepMM)
	})
}

func TestClosedOutlinesComeBackClosed(t *testing.T) {
	for name, o := range presets() {
		o.Range, o.Pens = hpgl.Wide, hpgl.Pens{Roles: map[plot.Role]int{plot.Cut: 1}}
		back := fromFile(t, written(t, plottest.Scalloped(30), o), o)
		require.Len(t, back, 2, name)
		for _, l := range back {
			require.True(t, l.Path.Closed, name)
		}
	}
}

func TestTextsComeBack(t *testing.T) {
	texts := []plot.Text{
		{At: path.Point{X: 10, Y: 20}, Height: 5, String: "front; size 38"},
		{At: path.Point{X: -10, Y: 20.5}, Height: 3.5, Angle: math.Pi / 2, String: "grain"},
		{At: path.Point{X: -30, Y: -20}, Height: 3.5, Angle: -3, String: "fold"},
	}
	d := read(t, written(t, plot.Drawing{Groups: []plot.Group{{Texts: texts}}}, hpgl.Options{Lettering: hpgl.Device}))
	require.Len(t, d.Groups[0].Texts, len(texts))
	for i, got := range d.Groups[0].Texts {
		want := texts[i]
		require.Equal(t, want.String, got.String)
		require.LessOrEqual(t, want.At.Dist(got.At), hpgl.StepMM)
		require.InDelta(t, want.Height, got.Height, 0.001)
		require.InDelta(t, want.Angle, got.Angle, 0.0001)
	}
}

func TestReaderUnderstandsCommonHPGL(t *testing.T) {
	for name, c := range map[string]struct {
		file string
		want []path.Path
	}{
		"commands run together, in lower case, spaces for commas": {
			"in;sp1pu0 0pd 400 0,400,+400PU", []path.Path{path.Open(points(0, 0, 10, 0, 10, 10)...)}},
		"absolute and relative": {
			"IN;SP1;PA400,400;PD;PR400,0,0,400;PU;PA0,0;PD40,40;",
			[]path.Path{path.Open(points(10, 10, 20, 10, 20, 20)...), path.Open(points(0, 0, 1, 1)...)}},
		"closed polygon": {
			"SP1;PU0,0;PD400,0,0,400,0,0;PU;", []path.Path{path.Closed(points(0, 0, 10, 0, 0, 10)...)}},
		"there and back is not closed": {
			"SP1;PD400,0,0,0;PU;", []path.Path{path.Open(points(0, 0, 10, 0, 0, 0)...)}},
		"dot":             {"SP1;PU40,40;PD;PU;", []path.Path{path.Open(points(1, 1)...)}},
		"list over lines": {"SP1;PD400,0,\r\n400,400\nPU\n", []path.Path{path.Open(points(0, 0, 10, 0, 10, 10)...)}},
		"fractions":       {"SP1;PD0.4,-.4;", []path.Path{path.Open(points(0, 0, 0.01, -0.01)...)}},
		"another pen in the middle of a line": {
			"SP1;PD400,0;SP1;PD400,400;",
			[]path.Path{path.Open(points(0, 0, 10, 0)...), path.Open(points(10, 0, 10, 10)...)}},
		"initialising lifts the pen": {
			"SP1;PD400,0;IN;SP1;PA400,400;PD400,0;",
			[]path.Path{path.Open(points(0, 0, 10, 0)...), path.Open(points(10, 10, 10, 0)...)}},
		"quarter circle": {
			"SP1;PU400,0;PD;AA0,0,90;PU;",
			[]path.Path{path.FromSegments(path.Arc(path.Point{}, 10, 0, math.Pi/2))}},
		"circle": {
			"SP1;PU400,0;PD;AA0,0,-360,5;PU;",
			[]path.Path{path.Circle(path.Point{}, 10)}},
		"settings that do not move the pen": {
			"IN;VS10;FS3,1;LT2,4;PT.3;PS1000,1000;SP1;PD400,0;PU;PG;", []path.Path{path.Open(points(0, 0, 10, 0)...)}},
	} {
		t.Run(name, func(t *testing.T) {
			got := readLines(t, c.file)
			require.Len(t, got, len(c.want))
			for i, want := range c.want {
				require.Equal(t, plot.Cut, got[i].Role)
				require.Equal(t, want.Closed, got[i].Path.Closed)
				require.InDelta(t, want.Length(), got[i].Path.Length(), 1e-9)
				require.LessOrEqual(t, plottest.Deviation(want, got[i].Path), 1e-9)
			}
		})
	}
}

func TestLabelsAreRead(t *testing.T) {
	for name, c := range map[string]struct {
		file string
		want []plot.Text
	}{
		"default letters":        {"PU400,0;LBcut 2\x03", []plot.Text{{At: path.Point{X: 10}, Height: 3.75, String: "cut 2"}}},
		"own terminator":         {"DT#;LBa;b#DT;LBc\x03", []plot.Text{{Height: 3.75, String: "a;bc"}}},
		"terminator with a mode": {"DT*,1;LBa*", []plot.Text{{Height: 3.75, String: "a"}}},
		"goes on where it stopped": {"SI.2,.4;LBab\x03SI.1,.2;LBc\x03", []plot.Text{
			{Height: 4, String: "ab"}, {At: path.Point{X: 2 * 1.5 * 2}, Height: 2, String: "c"}}},
		"direction":            {"DI0,-3;LBa\x03", []plot.Text{{Height: 3.75, Angle: -math.Pi / 2, String: "a"}}},
		"other character sets": {"LBGr\xf6\xdfe\x03", []plot.Text{{Height: 3.75, String: "Gr??e"}}},
	} {
		t.Run(name, func(t *testing.T) {
			d := read(t, c.file)
			require.Len(t, d.Groups, 1)
			require.Equal(t, c.want, d.Groups[0].Texts)
		})
	}
}

func TestPensGiveRoles(t *testing.T) {
	for pen, want := range map[string]plot.Role{
		"1": plot.Cut, "2": plot.Stitch, "3": plot.Fold, "4": plot.Grain, "5": plot.Notch, "6": plot.Clip,
		"7": plot.Mark, "8": plot.Inner, "9": plot.Drawn, "0": plot.Drawn, "": plot.Drawn,
	} {
		require.Equal(t, want, readLines(t, "IN;SP"+pen+";PD1,1;")[0].Role, "pen %s", pen)
	}
	require.Equal(t, plot.Drawn, readLines(t, "IN;PD1,1;")[0].Role, "no pen")
}

func TestNothingDrawnIsAnEmptyDrawing(t *testing.T) {
	require.Empty(t, read(t, "IN;PU;SP0;").Groups)
	require.Empty(t, read(t, written(t, plot.Drawing{}, hpgl.Options{})).Groups)
}

func TestReadErrorsSayWhere(t *testing.T) {
	for file, want := range map[string]string{
		"IN;\nPD10,10,5;":                     "hpgl: line 2, byte 4: PD has 3 numbers, and points have two each",
		"IN;\n\nPD1,x;":                       "hpgl: line 3, byte 8: a comma without a number after it",
		"PD1,,2;":                             "hpgl: line 1, byte 4: a comma without a number before it",
		"PD,1;":                               "hpgl: line 1, byte 2: a comma without a number before it",
		"PD1,":                                "hpgl: line 1, byte 3: the file ends within a command",
		"PD1e3,1;":                            "hpgl: line 1, byte 0: PD has 1 numbers, and points have two each",
		"PD--1,1;":                            "hpgl: line 1, byte 2: '-' where a number should stand",
		"PD1073741824,0;":                     "hpgl: line 1, byte 2: 1.073741824e+09 is larger than 1073741823",
		"PD1000000000,0,2;PD":                 "hpgl: line 1, byte 0: PD has 3 numbers, and points have two each",
		"PR1000000000,0;PR1000000000,0;":      "hpgl: line 1, byte 15: the pen leaves the range of ±1073741823 units",
		"PD" + strings.Repeat("1", 40) + ",0": "hpgl: line 1, byte 2: a number of more than 30 characters",
		"IN;SC0,1,0,1;":                       "hpgl: line 1, byte 3: command SC is not understood, and skipping it could change the drawing",
		"IN;RO90;":                            "hpgl: line 1, byte 3: command RO is not understood, and skipping it could change the drawing",
		"\x1b&l0OIN;":                         "hpgl: line 1, byte 0: an escape sequence of a printer that does not enter or leave a plot: save the drawing as plain HP-GL",
		"IN;\nhello":                          "hpgl: line 2, byte 4: command HE is not understood, and skipping it could change the drawing",
		"I":                                   "hpgl: line 1, byte 0: the file ends within a command",
		"I5":                                  "hpgl: line 1, byte 0: \"I5\" is not a command",
		"12":                                  "hpgl: line 1, byte 0: '1' where a command should start",
		"":                                    "hpgl: the file holds no command: is it an HP-GL file?",
		" ;\n":                                "hpgl: the file holds no command: is it an HP-GL file?",
		"LBno end":                            "hpgl: line 1, byte 0: a label without its end, character 3",
		strings.Repeat("LBlong\x03;", 1025):   "hpgl: line 1, byte 8192: lettering of more than 4096 characters: has a label lost its end?",
		"LBa\nb\x03":                          "hpgl: line 1, byte 3: control character 10 in a label",
		"DT":                                  "hpgl: line 1, byte 0: the file ends within a command",
		"DT\n":                                "hpgl: line 1, byte 0: character 10 cannot end labels",
		"SP1.5;":                              "hpgl: line 1, byte 0: pen 1.5 is not a whole number from 0 to 255",
		"SP-1;":                               "hpgl: line 1, byte 0: pen -1 is not a whole number from 0 to 255",
		"SP1,2;":                              "hpgl: line 1, byte 0: SP has 2 numbers",
		"SI0,0;":                              "hpgl: line 1, byte 0: letters of 0 by 0 cm",
		"SI1;":                                "hpgl: line 1, byte 0: SI has 1 numbers",
		"DI0,0;":                              "hpgl: line 1, byte 0: a lettering direction of 0,0",
		"AA0,0;":                              "hpgl: line 1, byte 0: AA has 2 numbers",
		"PD1,1;PG;PD2,2;":                     "hpgl: line 1, byte 9: a second page: save each page as a file of its own",
	} {
		_, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{})
		require.EqualError(t, err, want, "%q", file)
		var syntax *hpgl.SyntaxError
		require.Equal(t, strings.Contains(want, "byte"), errors.As(err, &syntax))
	}
}

func TestReadPassesOnErrorsOfTheReader(t *testing.T) {
	_, err := hpgl.Read(iotest.ErrReader(os.ErrClosed), hpgl.ReadOptions{})
	require.ErrorIs(t, err, os.ErrClosed)
}

func FuzzRead(f *testing.F) {
	// Small files: large ones take the fuzzer's time to shrink.
	for _, o := range []hpgl.Options{{}, {Tool: hpgl.Knife}} {
		o.ChordError = 1
		f.Add([]byte(written(f, plottest.Scalloped(1), o)))
	}
	f.Add([]byte("IN;SP1;PU400,0;PD;AA0,0,90;PR1,1;PU;DT#;LBa;b#;SI.2,.3;DI1,-1;LBc\x03;PG;"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := hpgl.Read(bytes.NewReader(data), hpgl.ReadOptions{})
		if err != nil {
			require.Zero(t, d)
			return
		}
		// What was read can be written. Chords and units are then settled: written
		// and read once more it is the same but for a lettering's last digit, and for the
		// order, which is chosen anew from where the lines start.
		settled := again(t, again(t, d))
		third := again(t, settled)
		require.Len(t, third.Groups, len(settled.Groups))
		for i, g := range settled.Groups {
			require.Equal(t, strokesOf(g.Lines), strokesOf(third.Groups[i].Lines))
			require.Len(t, third.Groups[i].Texts, len(g.Texts))
			for k, want := range g.Texts {
				got := third.Groups[i].Texts[k]
				require.Equal(t, want.String, got.String)
				require.Equal(t, want.At, got.At)
				require.InDelta(t, 1, path.Direction(want.Angle).Dot(path.Direction(got.Angle)), 1e-7)
			}
		}
	})
}

// strokesOf returns the straight strokes of lines as text, in an order and a direction that
// do not depend on how the lines are drawn.
func strokesOf(lines []plot.Line) []string {
	var all []string
	for _, l := range lines {
		if len(l.Path.V) == 1 {
			all = append(all, fmt.Sprint(l.Role, l.Path.V[0].Point))
		}
		for k := range l.Path.Segments() {
			a, b := l.Path.Segment(k).A, l.Path.Segment(k).B
			if b.X < a.X || b.X == a.X && b.Y < a.Y {
				a, b = b, a
			}
			all = append(all, fmt.Sprint(l.Role, a, b, l.Path.Segment(k).IsLine()))
		}
	}
	slices.Sort(all)
	return all
}

// again writes and reads the drawing.
func again(t *testing.T, d plot.Drawing) plot.Drawing {
	return read(t, written(t, d, hpgl.Options{Range: hpgl.Wide}))
}
