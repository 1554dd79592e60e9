package build_test

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// attempt does the whole job on a style file. It is built, with a whole report,
// or refused with a reason and a remedy in numbers that a person can read; a
// panic fails the test.
func attempt(t require.TestingT, text string) (built bool) {
	s, err := style.Parse("odd.yaml", []byte(text))
	require.NoError(t, err, text)
	p, err := build.New(s, build.Files{})
	if err == nil {
		_, err = p.Write(func(string, []byte) error { return nil }, func(int, int) {})
	}
	if err == nil {
		return true
	}
	require.NotRegexp(t, unreadable, err.Error(), text)
	var known interface{ Remedy() string }
	require.True(t, errors.As(err, &known), "%v has no remedy\n%s", err, text)
	require.NotEmpty(t, known.Remedy(), "%v has no remedy\n%s", err, text)
	require.NotRegexp(t, unreadable, known.Remedy(), text)
	return false
}

// unreadable is what a message should not have in it: values that are no
// numbers, exponents, decimals beyond any tape measure, and words of the
// language.
var unreadable = regexp.MustCompile(`NaN|Inf|[0-9]e[+-][0-9]|\.[0-9]{7}|runtime|%!`)

func TestOddStylesAreBuiltOrRefusedInWords(t *testing.T) {
	const whole = "{straight: {width: 600, depth: 300}}"
	for name, c := range map[string]struct {
		text  string
		built bool
	}{
		"depth of a hair":              {"motif: {depth: 0.1}\npanels: {a: " + whole + "}", true},
		"width of a hair":              {"motif: {width: 0.1, depth: 0.04}\npanels: {a: {straight: {width: 20, depth: 300}}}", false},
		"panel of a hair":              {"motif: {width: 0.01, depth: 0.001}\nfacing: 0.01\nallowance: 0.01\npanels: {a: {straight: {width: 0.1, depth: 0.1}}}", false},
		"hem of 5 m":                   {"motif: {width: 300, depth: 100}\npanels: {a: {gore: {waist: 2000, hem: 5000, length: 900}}}\noutput: {plotter: {range: wide}}", true},
		"300 repeats":                  {"motif: {count: 300, width: 16, depth: 5}\npanels: {a: {gore: {waist: 1000, hem: 4800, length: 900}}}", true},
		"300 bent repeats":             {"motif: {count: 300, width: 16, depth: 5, lay: bent}\npanels: {a: {gore: {waist: 1000, hem: 4800, length: 900}}}", true},
		"more repeats than mm":         {"motif: {count: 1000}\npanels: {a: " + whole + "}", false},
		"one repeat":                   {"motif: {width: 600, depth: 100}\npanels: {a: " + whole + "}", true},
		"one repeat on the fold":       {"motif: {width: 600, depth: 100}\npanels: {a: {straight: {width: 600, depth: 300}, half: fold}}", true},
		"negative rise":                {"panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: -80}}}", false},
		"rise without flare":           {"panels: {a: {gore: {waist: 600, hem: 600, length: 500, rise: -20}}}", false},
		"fall at the sides":            {"panels: {a: {gore: {waist: 900, hem: 600, length: 500, rise: -60}}}", true},
		"rise above the waist":         {"panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: 900}}}", false},
		"sides meeting at a point":     {"panels: {a: {gore: {waist: 0.001, hem: 600, length: 500}}}", false},
		"sides nearly meeting":         {"allowance: 0.2\npanels: {a: {gore: {waist: 1, hem: 600, length: 500}}}", true},
		"narrower at the hem":          {"panels: {a: {gore: {waist: 900, hem: 600, length: 500}}}", true},
		"no hem at all":                {"panels: {a: {gore: {waist: 900, hem: 0.01, length: 500}}}", false},
		"all on the fold":              {"panels: {a: {straight: {width: 600, depth: 300}, half: fold}, b: {circle: {waist: 700, length: 500, part: half}, half: fold}}", true},
		"all openings":                 {"panels: {a: {straight: {width: 600, depth: 300}, half: opening, finish: {edge: opening}}}", true},
		"joined to itself":             {"panels: {a: " + whole + "}\nseams: [[a start, a finish]]", true},
		"whole circle":                 {"panels: {a: {circle: {waist: 700, length: 600, part: full}}}", false},
		"half of a whole circle":       {"facing: none\npanels: {a: {circle: {waist: 700, length: 600, part: full}, half: fold}}", true},
		"more than a circle":           {"panels: {a: {circle: {waist: 700, length: 600, part: 5, panels: 4}}}", false},
		"a thousand circles":           {"panels: {a: {circle: {waist: 700, length: 600, part: 1000, panels: 1000}}}", false},
		"sliver of a circle":           {"panels: {a: {circle: {waist: 1, length: 600, part: 0.001}}}", false},
		"waist eased away":             {"panels: {a: {circle: {waist: 700, length: 600, part: full, ease: -800}}}", false},
		"hem that goes back":           {"panels: {a: {curve: {points: [[0, 0], [300, 10], [100, 20], [400, 30]], height: 600}}}", false},
		"hem of peaks":                 {"panels: {a: {curve: {points: [[0, 0], [10, 300], [20, 0], [30, 300], [40, 0]], height: 600}}}", false},
		"hem of one point":             {"panels: {a: {curve: {points: [[0, 0]], height: 600}}}", false},
		"hem of one point twice":       {"panels: {a: {curve: {points: [[0, 0], [0, 0], [300, 10]], height: 600}}}", false},
		"hem above the top":            {"panels: {a: {curve: {points: [[0, 0], [200, 10], [400, 0]], height: -600}}}", false},
		"hem that curves inward":       {"panels: {a: {curve: {points: [[0, 0], [200, 50], [400, 0]], height: 600}}}", true},
		"allowances like panels":       {"allowance: 500\npanels: {a: " + whole + "}", false},
		"allowances as wide as may be": {"allowance: 100\nfacing: 101\npanels: {a: " + whole + "}", true},
		"no allowances":                {"allowance: 0\nfacing: none\npanels: {a: " + whole + "}", true},
		"allowances beyond the facing": {"allowance: 60\npanels: {a: " + whole + "}", false},
		"favour beyond the facing":     {"facing: {depth: 30, favour: 60}\npanels: {a: " + whole + "}", false},
		"facing of a hair":             {"facing: {depth: 0.1, favour: 0}\nallowance: 0.05\npanels: {a: " + whole + "}", true},
		"facing beyond the panel":      {"facing: 4000\npanels: {a: " + whole + "}", false},
		"clips out of the cloth":       {"facing: {clip gap: 90}\npanels: {a: " + whole + "}", true},
		"marks everywhere":             {"facing: {mark every: 0.01}\npanels: {a: " + whole + "}", true},
		"nothing but flats":            {"motif: {flat: 60}\npanels: {a: " + whole + "}", false},
		"tips like plates":             {"motif: {shape: point, tip: {round: 500}, valley: {round: 500}}\npanels: {a: " + whole + "}", false},
		"depth beyond the panel":       {"motif: {shape: point, depth: 9000}\npanels: {a: " + whole + "}", false},
		"depth hung on the panel":      {"motif: {shape: point, depth: 9000, rest: valleys}\npanels: {a: " + whole + "}", true},
		"no limits":                    {"motif: {least: 0.001, most: 99999}\npanels: {a: " + whole + "}", false},
		"bent on a small circle":       {"motif: {lay: bent, width: 20, depth: 9}\nallowance: 3\nfacing: 15\npanels: {a: {circle: {waist: 60, length: 30, part: half}}}", true},
		"steps of a cm":                {"panels: {a: " + whole + "}\noutput: {plotter: {range: wide, step: 10}}", true},
		"steps of a thousandth":        {"panels: {a: {straight: {width: 20, depth: 20}}}\nfacing: 4\nmotif: {width: 5, depth: 2}\noutput: {plotter: {step: 0.001}}", false},
		"unfolded almost circle":       {"panels: {a: {circle: {waist: 700, length: 600, part: 0.9}, half: fold}}\noutput: {unfold: true, plotter: {range: wide}}", true},
		"pieces in the thousand":       {"panels: {a: {straight: {width: 600, depth: 300}, quantity: 1000}}", true},
		"lettering wider than that":    {"style: " + strings.Repeat("W", 200) + "\npanels: {a: {straight: {width: 60, depth: 30}}}\nfacing: none\nmotif: {width: 10, depth: 3}\noutput: {picture: 640}", true},
	} {
		t.Run(name, func(t *testing.T) {
			text := "engrail: 1\n" + c.text + "\n"
			if !strings.Contains(text, "output:") {
				text += "output: {formats: [hpgl, dxf, svg, astm], plotter: {range: wide}}\n"
			}
			require.Equal(t, c.built, attempt(t, text))
		})
	}
}

// oddStyle draws a style file with usual values and, now and then, ones that
// nobody means.
func oddStyle(t *rapid.T) string {
	var b strings.Builder
	length := func(what string, least, most float64) float64 {
		if rapid.IntRange(0, 5).Draw(t, what+" is odd") > 0 {
			return rapid.Float64Range(least, most).Draw(t, what)
		}
		odd := []float64{0.1, 1, 5, 60, 300, 800, 9000}
		// Thousands of repeats and offsets far beyond them only take long.
		odd = slices.DeleteFunc(odd, func(x float64) bool { return x > 20*most })
		return rapid.SampledFrom(odd).Draw(t, what)
	}
	some := func(what string) bool { return rapid.IntRange(0, 3).Draw(t, what) == 0 }
	word := func(what string, words ...string) string { return rapid.SampledFrom(words).Draw(t, what) }
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }

	line("engrail: 1\nmotif:\n  shape: %s\n  lay: %s\n  rest: %s", word("shape", "scallop", "point", "wave"),
		word("lay", "rigid", "bent"), word("rest", "peaks", "middle", "valleys"))
	line("  width: %.4f\n  depth: %.4f", max(4, length("width", 20, 120)), length("depth", 2, 40))
	if some("flat") {
		line("  flat: %.4f", length("flat", 0, 10))
	}
	if some("tip") {
		line("  tip: {%s: %.4f}", word("tip", "round", "blunt"), length("tip", 0, 10))
	}
	if some("valley") {
		line("  valley: {round: %.4f}", length("valley", 0, 10))
	}
	if some("count") {
		line("  count: %d", rapid.IntRange(1, 60).Draw(t, "count"))
	}
	if some("allowance") {
		line("allowance: {hem: %.4f, side: %.4f, top: %.4f, inner: %.4f}", length("hem", 0.1, 15), length("side", 0, 15), length("top", 0, 15), length("inner", 0, 15))
	}
	if some("facing") {
		line("facing: {depth: %.4f, favour: %.4f, clip gap: %.4f, mark every: %.4f}", length("facing", 20, 100), length("favour", 0, 3), length("gap", 0, 4), length("mark", 20, 300))
	}
	line("panels:")
	names := []string{"a", "b"}[:rapid.IntRange(1, 2).Draw(t, "panels")]
	for _, name := range names {
		line("  %s:", name)
		switch word("panel", "straight", "gore", "circle", "curve") {
		case "straight":
			line("    straight: {width: %.4f, depth: %.4f}", length("width", 200, 1500), length("depth", 100, 900))
		case "gore":
			rise := ""
			if some("rise") {
				rise = fmt.Sprintf(", rise: %.4f", length("rise", 0, 90)*rapid.SampledFrom([]float64{1, 1, -1}).Draw(t, "sign"))
			}
			line("    gore: {waist: %.4f, hem: %.4f, length: %.4f%s}", length("waist", 200, 600), length("hem", 300, 1500), length("length", 200, 900), rise)
		case "circle":
			line("    circle: {waist: %.4f, length: %.4f, part: %.4f, panels: %d}", length("waist", 300, 900), length("length", 200, 900),
				rapid.Float64Range(0.01, 1.3).Draw(t, "part"), rapid.IntRange(1, 4).Draw(t, "panels"))
		case "curve":
			var points []string
			x, y := 0.0, 0.0
			for range rapid.IntRange(2, 6).Draw(t, "points") {
				points = append(points, fmt.Sprintf("[%.4f, %.4f]", x, y))
				x += length("across", 50, 300)
				y += length("up", 0, 60) * rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
			}
			line("    curve: {points: [%s], height: %.4f}", strings.Join(points, ", "), length("height", 300, 900))
		}
		if half := word("half", "", "", "fold", "seam", "opening"); half != "" {
			line("    half: %s", half)
		}
		if some("end") {
			line("    finish: {motif: %s}", word("end", "valley", "peak"))
		}
	}
	if len(names) == 2 && some("seam") {
		line("seams: [[a finish, b finish]]")
	}
	line("output: {formats: [hpgl, dxf, svg, astm], plotter: {range: wide}, unfold: %v}", some("unfold"))
	return b.String()
}

func TestRandomOddStylesAreBuiltOrRefusedInWords(t *testing.T) {
	built := 0
	rapid.Check(t, func(t *rapid.T) {
		if attempt(t, oddStyle(t)) {
			built++
		}
	})
	require.NotZero(t, built)
}
