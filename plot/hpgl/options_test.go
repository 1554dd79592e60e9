package hpgl_test

import (
	"math"
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
	"engrail/plot/proof"
)

func presets() map[string]hpgl.Options {
	return map[string]hpgl.Options{
		"pen plotter": hpgl.PenPlotter(), "roll plotter": hpgl.RollPlotter(914), "flatbed knife": hpgl.FlatbedKnife(), "HP-GL/2 printer": hpgl.HPGL2Printer(),
	}
}

func TestSoftwarePlotterMeasuresEveryPreset(t *testing.T) {
	for name, o := range presets() {
		for where, origin := range map[string]hpgl.Origin{"corner": hpgl.Corner, "centre": hpgl.Centre} {
			t.Run(name+" "+where, func(t *testing.T) {
				o.Origin = origin
				d := withoutTexts(plottest.Scalloped(6))
				d = d.Transform(path.Translation(path.Point{}.Sub(d.Bounds().Min)))
				got := plottest.Plot(t, []byte(written(t, d, o)))
				require.InDelta(t, d.Bounds().Width(), got.Width, hpgl.StepMM)
				require.InDelta(t, d.Bounds().Height(), got.Height, hpgl.StepMM)
			})
		}
	}
}

func TestPresetsReadBackWithinAPlotterUnit(t *testing.T) {
	for name, o := range presets() {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				o.StepMM = rapid.SampledFrom([]float64{0.025, 0.0125, 25.4 / 2560}).Draw(t, "step")
				o.Origin = rapid.SampledFrom([]hpgl.Origin{hpgl.Corner, hpgl.Centre}).Draw(t, "origin")
				o.Arcs = rapid.Bool().Draw(t, "arcs")
				o.Range = hpgl.Wide
				o.Pairs = rapid.IntRange(1, 40).Draw(t, "pairs")
				p := plottest.RandomPath(t)
				design := lines(plot.Cut, p)
				back := fromFile(t, written(t, design, o), o)
				for i := range back {
					back[i].Path = back[i].Path.Transform(path.Translation(o.Shift(p.Bounds()).Neg()))
				}
				c := proof.Compare(plottest.Lines(design), back, func(l plot.Line) string { return l.Role.String() })
				require.LessOrEqual(t, c.Max, 0.025)
			})
		})
	}
}

func fromFile(t require.TestingT, file string, o hpgl.Options) []plot.Line {
	d, err := hpgl.Read(strings.NewReader(file), hpgl.ReadOptions{StepMM: o.StepMM, Pens: o.Pens})
	require.NoError(t, err)
	require.Len(t, d.Groups, 1)
	return d.Groups[0].Lines
}

func TestArcsOfAScallopedHemGoOutAsArcs(t *testing.T) {
	o := hpgl.HPGL2Printer()
	o.Pens = hpgl.Pens{Roles: map[plot.Role]int{plot.Cut: 1}}
	file := written(t, plottest.Scalloped(20), o)
	arcs := strings.Count(file, "AA")
	require.GreaterOrEqual(t, arcs, 40, "of 42 arcs in two outlines")
	o.Arcs = false
	require.Less(t, 5*len(file), len(written(t, plottest.Scalloped(20), o)), "and the file is much shorter")
}

func TestOptionsAreSent(t *testing.T) {
	d := plottest.Scalloped(3)
	plain := written(t, d, hpgl.Options{})
	for name, c := range map[string]struct {
		change func(*hpgl.Options)
		want   string
	}{
		"speed":         {func(o *hpgl.Options) { o.Speed = 12.5 }, "SP1;\nVS12.5;\n"},
		"force":         {func(o *hpgl.Options) { o.Force = 3 }, "SP1;\nFS3;\n"},
		"page end":      {func(o *hpgl.Options) { o.PageEnd = true }, "PU;\nSP0;\nPG;\n"},
		"line types":    {func(o *hpgl.Options) { o.LineTypes = true }, "SP2;\nLT2,6,1;\nPU"},
		"solid again":   {func(o *hpgl.Options) { o.LineTypes = true }, "\nLT;\nPU"},
		"printer":       {func(o *hpgl.Options) { o.Printer = true }, "\x1bE\x1b%0B\nIN;\nPS"},
		"printer's end": {func(o *hpgl.Options) { o.Printer = true }, "PU;\nSP0;\n\x1b%0A\x1bE"},
	} {
		t.Run(name, func(t *testing.T) {
			o := hpgl.Options{}
			c.change(&o)
			require.NotContains(t, plain, c.want)
			require.Contains(t, written(t, d, o), c.want)
		})
	}
}

// HP-GL/2's PS takes the length and the width of a plot in plotter units.
func TestPrinterIsToldAPlotThatHoldsTheDrawing(t *testing.T) {
	d := lines(plot.Cut, rectangle(0, 0, 100, 50))
	require.Contains(t, written(t, d, hpgl.HPGL2Printer()), "IN;\nPS4200,2200;\n")
}

func TestPensAreTakenUpInTheOrderOfTheOptions(t *testing.T) {
	require.Equal(t, []string{"SP5", "SP1", "SP4", "SP7", "SP2", "SP3", "SP6", "SP0"},
		pensUsed(written(t, plottest.Scalloped(5), hpgl.Options{Order: []int{5, 1}})))
}

func TestLinesAndListsAreNoLongerThanTheOptionsSay(t *testing.T) {
	for _, o := range []hpgl.Options{{LineLength: 40}, {Pairs: 1}, {LineLength: 60, Pairs: 3}, {LineLength: 2000, Pairs: 100}} {
		file := written(t, plottest.Scalloped(30), o)
		longest, most := 0, 0
		for line := range strings.Lines(file) {
			longest = max(longest, len(line)-1)
			if strings.HasPrefix(line, "PD") {
				most = max(most, (strings.Count(line, ",")+1)/2)
			}
		}
		o = func() hpgl.Options {
			if o.LineLength == 0 {
				o.LineLength = 79
			}
			if o.Pairs == 0 {
				o.Pairs = 5
			}
			return o
		}()
		require.LessOrEqual(t, longest, o.LineLength)
		require.LessOrEqual(t, most, o.Pairs)
		require.True(t, longest > o.LineLength-35 || most == o.Pairs, "and use the room")
	}
}

func TestCentreOriginPutsTheMiddleOnIt(t *testing.T) {
	d := lines(plot.Cut, rectangle(100, 300, 1600, 1000))
	require.Contains(t, written(t, d, hpgl.Options{Origin: hpgl.Centre}), "PU-32000,-20000;\n", "and reaches twice as far")
	d = lines(plot.Cut, rectangle(100, 300, 1700, 1000))
	require.ErrorContains(t, hpgl.Write(&strings.Builder{}, d, hpgl.Options{Origin: hpgl.Centre}), "coordinates end at -819.2 and 819.2 mm of the drawing's middle")
}

func TestRoomIsWhatTheDeviceReaches(t *testing.T) {
	for name, c := range map[string]struct {
		o             hpgl.Options
		width, height float64
	}{
		"portable":        {hpgl.Options{}, 819.175, 819.175},
		"centre":          {hpgl.Options{Origin: hpgl.Centre}, 1638.375, 1638.375},
		"another step":    {hpgl.Options{StepMM: 0.01}, 327.67, 327.67},
		"wide":            {hpgl.Options{Range: hpgl.Wide}, 0, 0},
		"small bed":       {hpgl.Options{Width: 400, Height: 270}, 400, 270},
		"roll":            {hpgl.RollPlotter(914), 0, 914},
		"portable roll":   {hpgl.Options{Height: 600}, 819.175, 600},
		"beyond portable": {hpgl.Options{Height: 2000}, 819.175, 819.175},
	} {
		width, height := c.o.Room()
		require.InDelta(t, c.width, width, 1e-9, name)
		require.InDelta(t, c.height, height, 1e-9, name)
	}
}

func TestOptionsThatCannotBeAreRefused(t *testing.T) {
	for want, o := range map[string]hpgl.Options{
		"hpgl: the speed of -1 cm/s is not between 0 and 500 cm/s":                             {Speed: -1},
		"hpgl: the force of NaN is not between 0 and 10000":                                    {Force: math.NaN()},
		"hpgl: the line length of 20 characters is not between 35 and 1e+06 characters":        {LineLength: 20},
		"hpgl: the number of points in a command of -2 is not between 1 and 524288":            {Pairs: -2},
		"hpgl: the width of -3 mm is not between 0 and 100000 mm":                              {Width: -3},
		"hpgl: pen 300 in the order of pens is not between 1 and 255":                          {Order: []int{1, 300}},
		"hpgl: a knife would cut in dashes: leave line types off":                              {Tool: hpgl.Knife, LineTypes: true},
		"hpgl: a pen has no overcut, lead-in or blade offset: take a knife, or leave them out": {Overcut: 1},
		"hpgl: the blade offset of 30 mm is not between 0 and 20 mm":                           {Tool: hpgl.Knife, Blade: 30},
		"hpgl: a knife writes no lettering: set its pen to 0":                                  {Tool: hpgl.Knife, Pens: hpgl.PenTable()},
	} {
		require.EqualError(t, hpgl.Write(&strings.Builder{}, plottest.Scalloped(2), o), want)
	}
}

// Letters are lines like any others: none is left to the device.
func TestLettersAreDrawnAsStrokes(t *testing.T) {
	d := plot.Drawing{Groups: []plot.Group{{Texts: []plot.Text{{At: path.Point{X: 10, Y: 20}, Height: 7, String: "H"}}}}}
	file := written(t, d, hpgl.Options{})
	require.NotRegexp(t, regexp.MustCompile(`LB|SI|DI`), file)
	back := readLines(t, file)
	box := path.EmptyBox()
	for _, l := range back {
		box = box.Union(l.Path.Bounds())
	}
	require.InDelta(t, 20, box.Min.Y, hpgl.StepMM)
	require.InDelta(t, 27, box.Max.Y, hpgl.StepMM)
	require.True(t, slices.ContainsFunc(back, func(l plot.Line) bool { return math.Abs(l.Path.Length()-7) < 0.1 }), "its stems")
}
