package build_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/demo"
	"engrail/cmd/engrail/internal/style"
	"engrail/plot/plottest"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const testdata = "../../../../testdata/build"

// patternFile reads the demo's pattern under its name and nothing else.
func patternFile(name string) ([]byte, error) {
	if name != demo.PatternName {
		return nil, fmt.Errorf("there is no file %s", name)
	}
	return demo.Pattern(), nil
}

// planOf works a style file out.
func planOf(t require.TestingT, name string, text []byte) *build.Plan {
	s, err := style.Parse(name, text)
	require.NoError(t, err)
	p, err := build.New(s, build.Files{Read: patternFile})
	require.NoError(t, err)
	return p
}

func demoPlan(t require.TestingT) *build.Plan { return planOf(t, demo.StyleName, demo.Style()) }

// nineSizes is a style of two drafted panels in nine sizes; its formats are all
// but pictures.
func nineSizes(t require.TestingT) []byte {
	text, err := os.ReadFile(filepath.Join(testdata, "nine-sizes.yaml"))
	require.NoError(t, err)
	return text
}

func nineSizesPlan(t require.TestingT) *build.Plan {
	return planOf(t, "nine-sizes.yaml", nineSizes(t))
}

// with puts lines in place of others in a style file.
func with(text []byte, oldNew ...string) []byte {
	return []byte(strings.NewReplacer(oldNew...).Replace(string(text)))
}

// written makes the plan's files.
func written(t require.TestingT, p *build.Plan) (map[string][]byte, *build.Report) {
	files := map[string][]byte{}
	r, err := p.Write(func(name string, content []byte) error {
		require.NotContains(t, files, name)
		files[name] = bytes.Clone(content)
		return nil
	}, func(int, int) {})
	require.NoError(t, err)
	return files, r
}

// The figures of the demo, from pattern and style file to report. The files'
// sizes in bytes, which no one decides on, are left out.
func TestDemoIsReportedAsBefore(t *testing.T) {
	files, r := written(t, demoPlan(t))
	require.Equal(t, string(files[build.ReportName]), string(jsonOf(t, r)))
	for _, s := range r.Sizes {
		for i := range s.Files {
			s.Files[i].Bytes = 0
		}
	}
	plottest.Golden(t, *update, filepath.Join(testdata, "report.golden.json"), jsonOf(t, r))
}

func jsonOf(t require.TestingT, r *build.Report) []byte {
	content, err := r.JSON()
	require.NoError(t, err)
	return content
}

// form describes the form of the next JSON value: an object by its keys in
// order, an array by its only form of element.
func form(t require.TestingT, d *json.Decoder) string {
	token, err := d.Token()
	require.NoError(t, err)
	switch x := token.(type) {
	case string:
		return "string"
	case bool:
		return "bool"
	case json.Number:
		return "number"
	case json.Delim:
		var parts []string
		for d.More() {
			part := ""
			if x == '{' {
				key, err := d.Token()
				require.NoError(t, err)
				part = key.(string) + " "
			}
			part += form(t, d)
			if x == '{' || len(parts) == 0 {
				parts = append(parts, part)
			}
			require.Equal(t, parts[len(parts)-1], part, "elements of one array are alike")
		}
		_, err := d.Token()
		require.NoError(t, err)
		if x == '{' {
			return "{" + strings.Join(parts, ", ") + "}"
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return fmt.Sprint(token)
}

func TestReportHasItsPublishedForm(t *testing.T) {
	// Sides that are not square to the hem give a warning.
	text := with(nineSizes(t), "length: 560}", "length: 560, rise: 0}")
	// Every side of the facings has a notch.
	text = with(with(text, "[200, 350]", "[40, 350]"), "half: seam", "half: seam\n    start: {notches: [40]}")
	files, _ := written(t, planOf(t, "style.yaml", text))
	d := json.NewDecoder(bytes.NewReader(files[build.ReportName]))
	d.UseNumber()
	require.Equal(t, "{version string, style string, sizes [{size string, "+
		"panels [{name string, hem number, repeats number, repeat_width number, depth number, start string, finish string, valleys number, runs [{repeats number, motifs number, width number, depth number, start string, finish string, at_valleys [number], at_peaks [number], neck number}], favour number, ease_per_repeat number}], "+
		"seams [{a string, b string, a_length number, b_length number, difference number, hem_turn_deg number}], "+
		"truing [{kind string, a string, b string, a_length number, b_length number, difference number, "+
		"notches_matched [{a_from_hem number, b_from_hem number, a_from_top number, b_from_top number, apart number}], notches_unmatched number, "+
		"hem_turn_deg number, hem_step number, cut_step number, verdict string}], "+
		"pieces [{name string, kind string, panel string, net_area number, cut_area number, net_perimeter number, "+
		"cut_quantity number, on_fold bool, clips number, snips {slits number, vs number, marked_slits number, marked_vs number}, notches number, width number, height number}], "+
		"files [{path string, format string, bytes number, width number, height number}]}], "+
		"nest [{path string, format string, bytes number, width number, height number}], "+
		"texts [{path string, format string, bytes number, width number, height number}], "+
		"proof [{path string, max_deviation number, scale_x number, scale_y number, open number, duplicates number}], "+
		"checks [{name string, level string, message string, figures [{name string, value number, unit string}], remedy string, where string, accepted bool}], "+
		"warnings [{code string, level string, message string, where string}]}", form(t, d))
	require.False(t, d.More())

	var r map[string]any
	require.NoError(t, json.Unmarshal(files[build.ReportName], &r))
	require.Equal(t, "engrail-report/1", r["version"])
	require.Equal(t, "Sorrel skirt", r["style"])
}

// Readers of the report need not look for null.
func TestEmptyListsAreReportedAsLists(t *testing.T) {
	p := planOf(t, "plain.yaml", []byte("engrail: 1\nmotif: {shape: point, width: 30, depth: 10}\n"+
		"panels: {flounce: {straight: {width: 300, depth: 80}}}\nfacing: none\noutput: {formats: []}\n"))
	files, r := written(t, p)
	require.Len(t, files, 1)
	require.NotContains(t, string(files[build.ReportName]), "null")
	require.Contains(t, string(files[build.ReportName]), `"seams": []`)
	require.Contains(t, string(files[build.ReportName]), `"files": []`)
	require.Empty(t, r.Files())
}

func TestReportTellsWhatTheWorkIs(t *testing.T) {
	p := nineSizesPlan(t)
	_, r := written(t, p)
	require.Len(t, r.Sizes, 9)
	for i, size := range r.Sizes {
		of := p.Sizes[i]
		require.Equal(t, of.Name, size.Size)
		for k, panel := range size.Panels {
			f := of.Fit.Panels[k]
			require.Equal(t, f.Panel.Name, panel.Name)
			require.InDelta(t, f.Panel.Edges[0].Path.Length(), panel.Hem, 5e-5)
			require.Equal(t, f.Repeats, panel.Repeats)
			require.InDelta(t, f.Width, panel.RepeatWidth, 5e-5)
			require.InDelta(t, 18, panel.Depth, 1e-9)
			require.Equal(t, len(f.Valleys), panel.Valleys)
		}
		// Side seam and centre back, of garment and facing.
		require.Len(t, size.Seams, 4)
		require.Equal(t, "front finish", size.Seams[0].A)
		require.Equal(t, "back facing start", size.Seams[3].B)
		for _, s := range size.Seams {
			require.InDelta(t, s.ALength-s.BLength, s.Difference, 1.5e-4)
		}
		require.Len(t, size.Pieces, 4)
		for k, piece := range size.Pieces {
			made := of.Pieces[k]
			require.Equal(t, []string{"garment", "garment", "facing", "facing"}[k], piece.Kind)
			require.Equal(t, []string{"front", "back", "front", "back"}[k], piece.Panel)
			require.Equal(t, k%2 == 0, piece.OnFold)
			require.Equal(t, []int{1, 2, 1, 2}[k], piece.CutQuantity)
			require.InDelta(t, made.Net().Area(), piece.NetArea, 5e-5)
			require.InDelta(t, made.Cut().Area(), piece.CutArea, 5e-5)
			require.InDelta(t, made.Net().Length(), piece.NetPerimeter, 5e-5)
			require.InDelta(t, made.Cut().Bounds().Width(), piece.Width, 5e-5)
			require.Equal(t, len(made.Clips), piece.Clips)
			require.Equal(t, len(made.Notches), piece.Notches)
		}
	}
}

func TestFilesAreListedWithTheirTrueSizes(t *testing.T) {
	for name, p := range map[string]*build.Plan{"demo": demoPlan(t), "nine sizes": nineSizesPlan(t)} {
		t.Run(name, func(t *testing.T) {
			files, r := written(t, p)
			drawings, err := p.Drawings()
			require.NoError(t, err)
			listed := 1 // the report
			for _, f := range r.Files() {
				listed++
				require.Len(t, files[f.Path], f.Bytes)
				box := drawings[f.Path].Bounds()
				require.InDelta(t, box.Width(), f.Width, 5e-5)
				require.InDelta(t, box.Height(), f.Height, 5e-5)
				ending := map[string]string{"png": ".png", "dxf": ".dxf", "astm": "-astm.dxf", "hpgl": ".hpgl"}[f.Format]
				require.True(t, strings.HasSuffix(f.Path, ending), f.Path)
			}
			require.Len(t, files, listed)
		})
	}
}

func TestOnlyTheFormatsAskedForAreMade(t *testing.T) {
	for _, format := range []string{"png", "dxf", "astm", "hpgl"} {
		text := with(nineSizes(t), "[dxf, astm, hpgl]", "["+format+"]")
		_, r := written(t, planOf(t, "style.yaml", text))
		for _, f := range r.Files() {
			if format == "hpgl" && f.Format == "txt" {
				continue // what the pens do
			}
			require.Equal(t, format, f.Format)
		}
		require.GreaterOrEqual(t, len(r.Files()), 9)
	}
}

func TestProgressCountsEveryFile(t *testing.T) {
	var seen []int
	last := 0
	r, err := nineSizesPlan(t).Write(func(string, []byte) error { return nil }, func(done, total int) {
		seen = append(seen, done)
		last = total
	})
	require.NoError(t, err)
	require.Equal(t, len(r.Files())+1, last, "the report counts")
	require.Len(t, seen, last+1)
	for i, done := range seen {
		require.Equal(t, i, done)
	}
}

func TestFailureOfASinkEndsTheWork(t *testing.T) {
	full := fmt.Errorf("the disk is full")
	calls := 0
	_, err := nineSizesPlan(t).Write(func(string, []byte) error {
		calls++
		if calls == 3 {
			return full
		}
		return nil
	}, func(int, int) {})
	require.ErrorIs(t, err, full)
	require.Equal(t, 3, calls)
}
