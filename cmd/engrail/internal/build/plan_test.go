package build_test

import (
	"fmt"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/demo"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
	"engrail/plot"

	"github.com/stretchr/testify/require"
)

// flounce is a style of one straight panel; the lines are added to it.
func flounce(lines ...string) []byte {
	return []byte("engrail: 1\nstyle: Flounce\nmotif: {shape: point, width: 30, depth: 10}\n" +
		"panels:\n  flounce: {straight: {width: 300, depth: 80}}\n" + strings.Join(lines, "\n") + "\n")
}

func TestMotifIsTheStyles(t *testing.T) {
	text := with(flounce(), "{shape: point, width: 30, depth: 10}",
		"{shape: point, width: 30, depth: 10, flat: 2, tip: {round: 1}, valley: {round: 1.5}, lay: bent, rest: middle, least: 28, most: 33}")
	f := planOf(t, "flounce.yaml", text).Sizes[0].Fit.Panels[0]
	require.Equal(t, fit.Bent, f.Spec.Lay)
	require.Equal(t, fit.Middle, f.Spec.Rest)
	require.Equal(t, 28.0, f.Spec.Least)
	require.Equal(t, 33.0, f.Spec.Most)
	require.Equal(t, 2.0, f.Spec.Shape.Flat)
	require.Equal(t, 1.0, f.Spec.Shape.TipRadius)
	require.Equal(t, 1.5, f.Spec.Shape.ValleyRadius)
	require.Equal(t, 10, f.Repeats)

	text = with(flounce(), "depth: 10}", "depth: 10, tip: {blunt: 4}, count: 9, rest: valleys}")
	f = planOf(t, "flounce.yaml", text).Sizes[0].Fit.Panels[0]
	require.Equal(t, fit.Rigid, f.Spec.Lay)
	require.Equal(t, fit.Valleys, f.Spec.Rest)
	require.Equal(t, 4.0, f.Spec.Shape.TipFlat)
	require.Equal(t, 9, f.Repeats)
}

func TestPanelsOwnCountAndPhasesComeBeforeTheStyles(t *testing.T) {
	text := with(flounce(), "depth: 10}", "depth: 10, count: 9}", "depth: 80}}",
		"depth: 80}, count: 11, start: {motif: peak}, finish: {motif: peak}}")
	f := planOf(t, "flounce.yaml", text).Sizes[0].Fit.Panels[0]
	require.Equal(t, 11, f.Repeats)
	require.Equal(t, [2]fit.Phase{fit.Peak, fit.Peak}, f.Phases)
}

func TestFacingMeasuresAreTheStyles(t *testing.T) {
	p := planOf(t, "flounce.yaml", flounce(
		"allowance: {hem: 7, side: 12, top: 9, inner: 5}", "facing: {depth: 30, favour: 2, side: 8, clip gap: 2.5, mark every: 50}"))
	pieces := p.Sizes[0].Pieces
	require.Len(t, pieces, 2)
	widths := func(p facing.Piece) (all []float64) {
		for _, e := range p.Edges {
			all = append(all, e.Allowance)
		}
		return all
	}
	require.Equal(t, []float64{7, 12, 9, 12}, widths(pieces[0]), "hem, finish, top, start")
	require.Equal(t, []float64{7, 8, 5, 8}, widths(pieces[1]), "hem, finish, inner edge, start")
	require.InDelta(t, 2.5, pieces[0].Clips[3].Line.End().Dist(p.Sizes[0].Fit.Panels[0].Valleys[3].Point), 1e-9)
	require.Len(t, pieces[0].Notches, len(pieces[1].Notches))
	require.InDelta(t, p.Sizes[0].Fit.Panels[0].Edge.Length()/50, float64(len(pieces[0].Notches)), 1)
	require.Equal(t, "Flounce: flounce facing", pieces[1].Label.Lines[0])
}

func TestNoFacingIsMadeWhenNoneIsWanted(t *testing.T) {
	p := planOf(t, "flounce.yaml", flounce("facing: none"))
	require.Len(t, p.Sizes[0].Pieces, 1)
	require.Empty(t, p.Sizes[0].FacingSeams)
}

func TestUnfoldedStyleHasNoFold(t *testing.T) {
	for _, unfold := range []bool{false, true} {
		text := with(nineSizes(t), "[dxf, astm, hpgl]", fmt.Sprintf("[dxf], unfold: %v", unfold))
		for _, s := range planOf(t, "style.yaml", text).Sizes {
			for _, piece := range s.Pieces {
				require.Equal(t, !unfold && piece.Panel == "front", piece.OnFold)
				require.Equal(t, piece.OnFold, strings.Contains(piece.Label.Lines[1], "fold"))
			}
		}
	}
}

func TestWarningsNameTheirSize(t *testing.T) {
	text := with(nineSizes(t), "length: 560}", "length: 560, rise: 0}")
	p := planOf(t, "style.yaml", text)
	require.NotEmpty(t, p.Warnings)
	require.Equal(t, "size 34: front finish, back finish", p.Warnings[0].Where)
	require.Equal(t, "size 50: ", p.Warnings[len(p.Warnings)-1].Where[:9])
}

func TestPatternIsReadOnceForAllItsPanels(t *testing.T) {
	s, err := style.Parse(demo.StyleName, demo.Style())
	require.NoError(t, err)
	reads := 0
	_, err = build.New(s, build.Files{Read: func(name string) ([]byte, error) {
		reads++
		return patternFile(name)
	}})
	require.NoError(t, err)
	require.Equal(t, 1, reads)
}

func TestFilesAreNamedAfterStyleAndSize(t *testing.T) {
	_, r := written(t, planOf(t, "x.yaml", flounce("output: {formats: [dxf]}", `sizes: {"Größe 34 (XL)": }`)))
	require.Equal(t, "flounce-grosse-34-xl.dxf", r.Files()[0].Path)
	_, r = written(t, planOf(t, "x.yaml", with(flounce("output: {formats: [dxf]}"), "style: Flounce", "style: 裾")))
	require.Equal(t, "style.dxf", r.Files()[0].Path)
}

func TestKnifeWritesNoLettering(t *testing.T) {
	files, r := written(t, planOf(t, "x.yaml", flounce("output: {formats: [hpgl], plotter: {tool: knife}}")))
	content := string(files[r.Files()[0].Path])
	require.NotContains(t, content, "LB")
	require.NotContains(t, content, "SP2")
}

func TestPensAreTheStyles(t *testing.T) {
	p := planOf(t, "x.yaml", flounce("output: {formats: [hpgl], plotter: {pens: {cut: 3, stitch: 0, grain: 0, text: 0, fold: 0}}}"))
	files, r := written(t, p)
	content := string(files[r.Files()[0].Path])
	require.Contains(t, content, "SP3;")
	require.NotContains(t, content, "SP1;")
	require.NotContains(t, content, "LB")
	drawings, err := p.Drawings()
	require.NoError(t, err)
	for _, l := range linesOf(drawings[r.Files()[0].Path]) {
		require.NotContains(t, []plot.Role{plot.Stitch, plot.Grain}, l.Role)
	}
}

func TestWidePieceHasAPlotOfItsWidth(t *testing.T) {
	text := with(flounce("output: {formats: [hpgl], plotter: {range: wide}}"), "width: 300", "width: 2500")
	_, r := written(t, planOf(t, "x.yaml", text))
	require.Len(t, r.Sizes[0].Files, 1)
	require.Greater(t, r.Sizes[0].Files[0].Width, 2500.0)
}

func TestPieceBeyondThePlottersReachIsDrawnInFrames(t *testing.T) {
	text := with(flounce("output: {formats: [hpgl], plotter: {width: 500, height: 400}}"), "width: 300", "width: 1200")
	files, r := written(t, planOf(t, "x.yaml", text))
	plots := r.Sizes[0].Files
	require.Len(t, plots, 6, "flounce and facing are cut in three each")
	var frames []build.FrameReport
	for _, f := range plots {
		require.LessOrEqual(t, f.Width, 500.0)
		require.LessOrEqual(t, f.Height, 400.0)
		require.NotNil(t, f.Frame)
		frames = append(frames, *f.Frame)
	}
	require.Equal(t, build.FrameReport{Row: 1, Column: 1, Of: 3, Marks: []int{1, 2}}, frames[0])
	require.Contains(t, string(files["flounce-plots.txt"]), "row 1, column 2 of 3 frames, marks 1, 2, 3, 4")
}

func TestImpossibleBuildsAreExplained(t *testing.T) {
	for _, c := range []struct {
		name         string
		text         []byte
		read         func(string) ([]byte, error)
		want, remedy string
	}{
		{"motif wider than the hem", with(flounce(), "width: 30,", "width: 500,"), nil,
			"panel flounce: the motif is wider than the hem: repeats of at least 400.0 mm are wanted and the hem is 300.0 mm long, 100.0 mm too short",
			"what fits: 1 of 300.0 mm, 2 of 150.0 mm"},
		{"facing deeper than the piece", flounce("facing: {depth: 90}"), nil,
			"flounce facing: the facing is deeper than the piece: 90.0 mm above the valleys is 20.0 mm beyond its sides",
			"at most 70.0 mm deep fits"},
		{"roll too narrow for frames", flounce(`output: {formats: [hpgl], plotter: {height: 60}}`), nil,
			"plot: frames 60 mm high are too small; give 100 mm or more",
			`give the plotter a larger reach: "output: {plotter: {width: 800mm, height: 600mm}}" in the style file`},
		{"knife that would cut lettering", flounce(`output: {formats: [hpgl], plotter: {tool: knife, pens: {text: 1}}}`), nil,
			"the plotter of the style cannot be: hpgl: a knife writes no lettering: set its pen to 0",
			"correct what stands under output and plotter in the style file"},
		{"two sizes of one file name", flounce(`sizes: {"10+": , "10,": }`), nil,
			"the sizes 10+ and 10, would both be written to flounce-10.png",
			"give them names that differ in the letters a to z and digits, of which file names are made"},
		{"pattern that is missing", demo.Style(), func(name string) ([]byte, error) { return nil, fmt.Errorf("there is no file %s", name) },
			"there is no file tansy-skirt.svg", ""},
		{"pattern that is no SVG", demo.Style(), func(string) ([]byte, error) { return []byte("<html></html>"), nil },
			"tansy-skirt.svg: line 1, column 1: is not SVG: its root element is <html>", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := style.Parse("x.yaml", c.text)
			require.NoError(t, err)
			p, err := build.New(s, build.Files{Read: c.read})
			if err == nil {
				_, err = p.Write(func(string, []byte) error {
					require.Fail(t, "a file was written before all was known to work")
					return nil
				}, func(int, int) {})
			}
			require.EqualError(t, err, c.want)
			if c.remedy != "" {
				var known interface{ Remedy() string }
				require.ErrorAs(t, err, &known)
				require.Equal(t, c.remedy, known.Remedy())
			}
		})
	}
}
