package command

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"engrail/cmd/engrail/internal/demo"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the README's pictures")

// The pictures in the README are what the commands beside them draw.
func TestReadmePicturesAreCurrent(t *testing.T) {
	dir := t.TempDir()
	run := func(args ...string) {
		var out, errs bytes.Buffer
		require.Zero(t, Run(args, Streams{Out: &out, Err: &errs}), errs.String())
	}
	run("demo", "--out", filepath.Join(dir, "demo"), "--quiet")
	run("motifs", "--png", filepath.Join(dir, "motifs.png"), "--quiet")
	run("build", filepath.Join(dir, "demo", demo.StyleName), "--out", filepath.Join(dir, "waves"), "--quiet",
		"--shape", "wave", "--width", "45mm", "--depth", "14mm")
	for name, made := range map[string]string{
		"demo.png":   "demo/tansy-skirt.png",
		"motifs.png": "motifs.png",
		"waves.png":  "waves/tansy-skirt.png",
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
