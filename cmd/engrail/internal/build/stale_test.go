package build_test

import (
	"strings"
	"testing"
	"unicode"

	"engrail/cmd/engrail/internal/build"

	"github.com/stretchr/testify/require"
)

func TestFilesThatAreNoLongerMadeAreWarnedOfUntilTheyAreGone(t *testing.T) {
	const wanted = "engrail: 1\nstyle: Hem\npanels: {front: {straight: {width: 300, depth: 200}}}\noutput: {formats: [dxf, svg]}\n"
	first, _ := written(t, planOf(t, "hem.yaml", []byte(wanted)))
	require.Equal(t, []string{"hem.dxf", "hem.svg"}, build.Earlier(first[build.ReportName]))

	plan := planOf(t, "hem.yaml", []byte(strings.Replace(wanted, ", svg", "", 1)))
	plan.Before = build.Before{Names: []string{"hem.dxf", "hem.svg", "hem.png", "report.json"}, Report: first[build.ReportName]}
	second, r := written(t, plan)
	require.Equal(t, []build.Warning{{
		Code:    "stale-file",
		Level:   "warning",
		Message: "an earlier build made this file and this one does not; delete or move it, so that nobody plots or cuts it by mistake",
		Where:   "hem.svg",
	}}, r.Warnings)
	require.Equal(t, []string{"hem.dxf", "hem.svg"}, build.Earlier(second[build.ReportName]), "the next build warns of it again")

	plan = planOf(t, "hem.yaml", []byte(wanted))
	plan.Before = build.Before{Names: []string{"hem.dxf", "hem.svg", "report.json"}, Report: second[build.ReportName]}
	_, r = written(t, plan)
	require.Empty(t, r.Warnings, "it is made again")

	plan = planOf(t, "hem.yaml", []byte(strings.Replace(wanted, ", svg", "", 1)))
	plan.Before = build.Before{Names: []string{"hem.dxf", "hem.png", "report.json"}, Report: second[build.ReportName]}
	_, r = written(t, plan)
	require.Empty(t, r.Warnings, "it is gone, and the picture is another's")
}

func TestOtherFilesThanReportsNameNoEarlierFiles(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":        "",
		"no JSON":        "engrail: 1",
		"other JSON":     `{"sizes": [{"files": [{"path": "a.dxf"}]}]}`,
		"a later report": `{"version": "engrail-report/2", "sizes": [{"files": [{"path": "a.dxf"}]}]}`,
		"a list":         `[]`,
	} {
		require.Empty(t, build.Earlier([]byte(text)), name)
	}
}

func FuzzEarlier(f *testing.F) {
	f.Add([]byte(`{"version": "engrail-report/1", "sizes": [{"files": [{"path": "a.dxf"}, {"path": "../b.dxf"}]}]}`))
	f.Add([]byte(`{"version": "engrail-report/1", "warnings": [{"code": "stale-file", "where": "a\u001b[2Jb"}, {"code": "stale-file", "where": ".."}]}`))
	f.Add([]byte(`{`))
	f.Fuzz(func(t *testing.T, report []byte) {
		last := ""
		for _, name := range build.Earlier(report) {
			require.False(t, strings.ContainsAny(name, `/\`), "%q leads out of the folder", name)
			require.NotEqual(t, "..", name)
			require.False(t, strings.ContainsFunc(name, func(c rune) bool { return !unicode.IsPrint(c) }), "%q cannot be printed", name)
			require.Less(t, last, name, "in order, each once")
			last = name
		}
	})
}
