package build_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/hpgl"
)

// anyOutput draws what files a style asks for, and how they are written.
func anyOutput(t *rapid.T) string {
	pick := func(label string, words ...string) string { return rapid.SampledFrom(words).Draw(t, label) }
	plotter := []string{"kind: " + pick("kind", "pen plotter", "roll plotter", "flatbed knife", "printer")}
	maybe := func(label string, words ...string) {
		if rapid.Bool().Draw(t, "say "+label) {
			plotter = append(plotter, pick(label, words...))
		}
	}
	maybe("range", "range: wide", "range: portable")
	maybe("origin", "origin: centre", "origin: corner")
	maybe("step", "step: 0.025mm", "step: 0.01mm", "step: 0.0125mm")
	maybe("arcs", "arcs: true", "arcs: false")
	maybe("width", "width: 400mm", "width: 1100mm")
	maybe("points", "points: 1", "points: 12")
	if strings.Contains(plotter[0], "knife") {
		maybe("cutting", "cutting: {notches: v, overcut: 1}", "cutting: {overcut: 0.5, lead in: 4}", "cutting: {lead in: 2, together: true}")
	}
	dxf := pick("dxf", "", ", dxf: {release: r2000}", ", dxf: {arcs: false}", ", dxf: {release: r2000, arcs: false, lettering: strokes}", ", dxf: {lettering: strokes}")
	astm := pick("astm", "", ", astm: {units: english}", ", astm: {check curves: true}")
	return fmt.Sprintf("output: {formats: [dxf, astm, hpgl, svg], plotter: {%s}%s%s}\n", strings.Join(plotter, ", "), dxf, astm)
}

// Whatever the garment and the machine, each file is read back as it was designed.
func TestEveryFileOfAnyStyleIsProvedTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := with(randomStyle(t), "seams:", anyOutput(t)+"seams:")
		_, r := written(t, planOf(t, "any.yaml", text))
		require.NotEmpty(t, r.Proof)
		for _, p := range r.Proof {
			require.NotNil(t, p.MaxDeviation)
			require.LessOrEqual(t, *p.MaxDeviation, plotterUnit, "%s\n%s", p.Path, text)
			require.Zero(t, p.Open, "%s\n%s", p.Path, text)
			require.InDelta(t, 1, p.ScaleX, 0.01)
			require.InDelta(t, 1, p.ScaleY, 0.01)
		}
	})
}

// What the tip of a trailing blade cuts is played back from the file.
func TestTipOfATrailingBladeCutsTheDesign(t *testing.T) {
	for _, offset := range []float64{0.2, 0.35, 0.5, 1} {
		p := demoPlan(t)
		p.Style.Output.Formats, p.Style.Output.Plotter = []string{"hpgl"}, style.Plotter{
			Kind: "flatbed knife", Cutting: style.Cutting{Swivel: 15, Blade: style.Length(offset), LeadIn: style.Length(10 * offset), Overcut: 0.5},
		}
		_, r := written(t, p)
		require.Len(t, r.Proof, 1)
		require.LessOrEqual(t, *r.Proof[0].MaxDeviation, 0.05, "offset %g", offset)
		require.Zero(t, r.Proof[0].Open)
		require.Empty(t, r.Warnings)
	}
}

func TestEveryFileThatCanBeReadIsProved(t *testing.T) {
	text := with(someSizes(t, "36", "50"), "[dxf, astm, hpgl]", "[png, dxf, astm, hpgl, svg, pdf], paper: [a4, sheet, roll 900]")
	_, r := written(t, planOf(t, "style.yaml", text))
	var want, got []string
	for _, f := range r.Files() {
		if f.Format != "png" && f.Format != "txt" && f.Format != "rul" {
			want = append(want, f.Path)
		}
	}
	for _, p := range r.Proof {
		got = append(got, p.Path)
	}
	require.ElementsMatch(t, want, got)
	require.Empty(t, r.Warnings)
}

// spoil changes a file and returns what the plan's check says of it.
func spoil(t *testing.T, p *build.Plan, name string, change func(string) string) *build.Checked {
	files, _ := written(t, p)
	before := string(files[name])
	after := change(before)
	require.NotEqual(t, before, after, "something was changed")
	c, err := p.Check(name, []byte(after))
	require.NoError(t, err)
	return c
}

func TestSpoiltFilesAreFoundOut(t *testing.T) {
	p := demoPlan(t)
	p.Style.Output.Formats = []string{"hpgl", "dxf", "svg", "pdf"}
	one := func(from, to string) func(string) string {
		return func(s string) string { return strings.Replace(s, from, to, 1) }
	}
	for name, c := range map[string]struct {
		file   string
		change func(string) string
		want   string
	}{
		"svg in other units": {"tansy-skirt.svg", one("mm\" height", "px\" height"), "mm from the design"},
		"plot without a pen": {"tansy-skirt.hpgl", one("SP2;", "SP1;"), "lines"},
		"plot cut short":     {"tansy-skirt.hpgl", func(s string) string { return s[:strings.LastIndex(s, "PU;\nSP1")] + "PU;\n" }, "lines are up to"},
		"drawing without a layer": {"tansy-skirt.dxf", func(s string) string {
			return strings.ReplaceAll(s, "\nSTITCH\r\n", "\nCUT\r\n")
		}, "lines"},
		"pages of another size": {"tansy-skirt-a4.pdf", func(s string) string {
			return strings.ReplaceAll(s, "841.89", "842.89")
		}, "pages are"},
	} {
		t.Run(name, func(t *testing.T) {
			problems := spoil(t, p, c.file, c.change).Problems()
			require.NotEmpty(t, problems)
			require.Contains(t, strings.Join(problems, "; "), c.want)
		})
	}
}

func TestTextOnAKnifeIsFoundOut(t *testing.T) {
	p := demoPlan(t)
	p.Style.Output.Formats, p.Style.Output.Plotter = []string{"hpgl"}, style.Plotter{Kind: "flatbed knife", Cutting: style.Cutting{Swivel: 15}}
	c := spoil(t, p, "tansy-skirt.hpgl", func(s string) string { return strings.Replace(s, "SP1;\n", "SP1;\nPU400,400;\nLBcut 1\x03;\n", 1) })
	require.Contains(t, strings.Join(c.Problems(), "; "), "1 text that a knife would cut")
}

func TestCheckOfAFileThatIsNotMadeNamesThoseThatAre(t *testing.T) {
	_, err := demoPlan(t).Check("tansy-skrt.hpgl", nil)
	require.EqualError(t, err, "the style makes no file that is called tansy-skrt.hpgl")
	require.Contains(t, err.(*build.Error).Remedy(), `did you mean "tansy-skirt.hpgl"? the style makes tansy-skirt.png, `)
}

func TestCalibrationSquareIsTrueAndStretchedByWhatWasMeasured(t *testing.T) {
	for name, c := range map[string]struct {
		measured      style.Measured
		across, upped float64
	}{
		"as it is":  {style.Measured{}, 150, 150},
		"corrected": {style.Measured{HPGL: style.Point{X: 149.4, Y: 150.6}}, 150 * 150 / 149.4, 150 * 150 / 150.6},
	} {
		t.Run(name, func(t *testing.T) {
			s := style.Plain()
			s.Output.Measured = c.measured
			files := map[string][]byte{}
			proofs, err := build.Calibrate(s, func(name string, content []byte) error {
				files[name] = bytes.Clone(content)
				return nil
			})
			require.NoError(t, err)
			require.Len(t, proofs, 5)
			for _, p := range proofs {
				if p.MaxDeviation != nil {
					require.LessOrEqual(t, *p.MaxDeviation, plotterUnit, p.Path)
				}
			}
			d, err := hpgl.Read(bytes.NewReader(files["calibration.hpgl"]), hpgl.ReadOptions{})
			require.NoError(t, err)
			square := path.EmptyBox()
			for _, l := range linesOf(d) {
				if b := l.Path.Bounds(); l.Role == plot.Cut && b.Width() > 148 && b.Height() > 148 {
					square = b
				}
			}
			require.InDelta(t, c.across, square.Width(), plotterUnit)
			require.InDelta(t, c.upped, square.Height(), plotterUnit)
		})
	}
}
