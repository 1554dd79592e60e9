package command

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// An alternative has the figures of a fit with that count, shape or depth.
func TestAlternativesHaveTheFiguresOfAFit(t *testing.T) {
	file := filepath.Join(t.TempDir(), "skirt.yaml")
	require.NoError(t, os.WriteFile(file, []byte("engrail: 1\nmotif: {width: 60, depth: 20}\n"+
		"panels: {front: {gore: {waist: 400, hem: 780, length: 600}}, back: {gore: {waist: 400, hem: 800, length: 600}}}\n"), 0o644))
	run := func(args ...string) string {
		var out, errs bytes.Buffer
		require.Zero(t, Run(args, Streams{Out: &out, Err: &errs}), errs.String())
		return out.String()
	}
	all := run("compare", file)
	figure := func(text, form string) string {
		m := regexp.MustCompile(form).FindStringSubmatch(text)
		require.NotNil(t, m, "%s in\n%s", form, text)
		return strings.Join(strings.Fields(m[1]), " ")
	}
	for row, flags := range map[string][]string{
		`13 repeats`:       {"--count", "front=13"},
		`wave`:             {"--shape", "wave"},
		`15\.0 mm deep`:    {"--depth", "15mm"},
		`\* 14 repeats`:    nil,
		`\* 20\.0 mm deep`: nil,
		`dovetailed`:       {"--shape", "dovetailed"},
	} {
		fit := run(append([]string{"fit", file}, flags...)...)
		require.Equal(t, figure(fit, `front +- +780\.0 +(\d+ +[\d.]+) `), figure(all, `(?m)^ *`+row+` +(\d+ +[\d.]+) `), row)
	}
}
