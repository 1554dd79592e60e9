package command

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/demo"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the README's pictures")

// The pictures in the README are what the commands beside them draw.
func TestReadmePicturesAreCurrent(t *testing.T) {
	if testing.Short() {
		t.Skip("many pictures")
	}
	dir := t.TempDir()
	run := func(args ...string) {
		var out, errs bytes.Buffer
		require.Zero(t, Run(args, Streams{Out: &out, Err: &errs}), errs.String())
	}
	run("demo", "--out", filepath.Join(dir, "demo"), "--quiet")
	run("compare", filepath.Join(dir, "demo", demo.StyleName), "--png", filepath.Join(dir, "compare.png"), "--quiet")
	run("motifs", "--png", filepath.Join(dir, "motifs.png"), "--quiet")
	nested := filepath.Join("..", "..", "..", "..", "testdata", "pattern", "damson-layers.svg")
	run("inspect", nested, "--png", filepath.Join(dir, "edges.png"), "--style", filepath.Join(dir, "damson.yaml"), "--quiet")
	run("build", filepath.Join(dir, "damson.yaml"), "--out", filepath.Join(dir, "damson"), "--quiet")
	run("build", filepath.Join(dir, "demo", demo.StyleName), "--out", filepath.Join(dir, "waves"), "--quiet",
		"--shape", "wave", "--width", "45mm", "--depth", "14mm")
	run("turning", filepath.Join(dir, "demo", demo.StyleName), "--png", filepath.Join(dir, "turning.png"), "--quiet")
	run("marker", filepath.Join(dir, "demo", demo.StyleName), "--cloth", "140cm", "--folded", "--formats", "png", "--out", filepath.Join(dir, "marker"), "--quiet")
	for name, made := range map[string]string{
		"marker.png":  "marker/tansy-skirt-marker.png",
		"turning.png": "turning.png",
		"demo.png":    "demo/tansy-skirt.png",
		"motifs.png":  "motifs.png",
		"compare.png": "compare.png",
		"waves.png":   "waves/tansy-skirt.png",
		"inspect.png": "edges.png",
		"nest.png":    "damson/damson-nest.png",
	} {
		got, err := os.ReadFile(filepath.Join(dir, made))
		require.NoError(t, err)
		golden := filepath.Join("..", "..", "..", "..", "testdata", "readme", name)
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(golden), 0o755))
			require.NoError(t, os.WriteFile(golden, got, 0o644))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, got), "%s is not what the program draws now; run go test -update here", name)
	}
}

// The README's commands do what it says, in its order, with its style file in a
// folder of its own; what it shows of their output is what they print.
func TestReadmeCommandsDoWhatItSays(t *testing.T) {
	if testing.Short() {
		t.Skip("many pictures")
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "README.md"))
	require.NoError(t, err)
	style := regexp.MustCompile("(?s)```yaml\n(.*?)```").FindSubmatch(text)
	require.NotNil(t, style, "the README shows a style file")
	nested, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "pattern", "damson-layers.svg"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("skirt.yaml", style[1], 0o644))
	require.NoError(t, os.WriteFile(demo.PatternName, demo.Pattern(), 0o644))
	require.NoError(t, os.WriteFile("damson-layers.svg", nested, 0o644))

	ran := map[string]bool{}
	for _, block := range regexp.MustCompile(`(?m)(^    .*\n|^\n)+`).FindAllString(string(text), -1) {
		block = strings.TrimSpace(strings.ReplaceAll("\n"+block, "\n    ", "\n"))
		if shell, isSession := strings.CutPrefix(block, "$ "); isSession {
			line, want, _ := strings.Cut(shell, "\n")
			_, got := readmeCommand(t, line)
			require.Equal(t, want, strings.TrimSpace(got), line)
			ran[strings.Fields(line)[1]] = true
			continue
		}
		for line := range strings.Lines(block) {
			line = strings.Replace(strings.TrimSpace(line), "go run ./cmd/engrail", "engrail", 1)
			if strings.HasPrefix(line, "engrail ") {
				code, got := readmeCommand(t, line)
				require.Equal(t, ExitDone, code, "%s: %s", line, got)
				ran[strings.Fields(line)[1]] = true
			}
		}
	}
	require.Equal(t, map[string]bool{"demo": true, "inspect": true, "fit": true, "compare": true, "build": true, "check": true, "calibrate": true,
		"turning": true, "seams": true, "review": true, "marker": true}, ran)

	// The files that its table lists are those that are built.
	listed := map[string]bool{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|").FindAllStringSubmatch(string(text), -1) {
		listed[row[1]] = true
	}
	made, err := content("skirt")
	require.NoError(t, err)
	for name := range made {
		require.True(t, listed[name], "%s is not in the README's table", name)
		delete(listed, name)
	}
	require.Empty(t, listed, "in the README's table, but not made")
}

// readmeCommand runs a command line and returns its exit code and all that it
// prints.
func readmeCommand(t *testing.T, line string) (code int, printed string) {
	t.Helper()
	var args []string
	for _, word := range regexp.MustCompile(`"[^"]*"|\S+`).FindAllString(line, -1) {
		args = append(args, strings.Trim(word, `"`))
	}
	require.Equal(t, "engrail", args[0])
	var all bytes.Buffer
	code = Run(args[1:], Streams{Out: &all, Err: &all})
	return code, all.String()
}
