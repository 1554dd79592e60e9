package command

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/cmd/engrail/internal/demo"
)

// broken is a writer with a mistake of the program in it.
type broken struct{}

func (broken) Write(p []byte) (int, error) {
	var none []int
	return none[len(p)], nil
}

func TestMistakeOfTheProgramIsToldAsAnErrorWithItsPlace(t *testing.T) {
	for _, args := range [][]string{{"schema"}, {"version"}, {"motifs"}, {"help"}} {
		var errs bytes.Buffer
		require.Equal(t, ExitFailed, Run(args, Streams{Out: broken{}, Err: &errs}))
		lines := strings.SplitAfter(errs.String(), "\n")
		require.Len(t, lines, 3)
		require.True(t, strings.HasPrefix(lines[0], "engrail: error: the program has made a mistake that is not yours: "), lines[0])
		require.Contains(t, lines[0], "index out of range [")
		require.Regexp(t, ` \(run_test\.go:\d+\)\n$`, lines[0])
		require.True(t, strings.HasPrefix(lines[1], "engrail: hint: please report it, "), lines[1])
	}
}

// full is a writer that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestDataThatCannotBeWrittenIsAnError(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("hem.yaml", []byte("engrail: 1\npanels: {a: {straight: {width: 300, depth: 200}}}\noutput: {formats: [dxf]}\n"), 0o644))
	require.NoError(t, os.WriteFile("skirt.svg", demo.Pattern(), 0o644))
	for _, args := range [][]string{
		{"inspect", "skirt.svg"}, {"inspect", "skirt.svg", "--json"},
		{"schema"}, {"version"}, {"help"}, {"motifs"}, {"new", "skirt.yaml"}, {"fit", "hem.yaml"}, {"fit", "hem.yaml", "--json"},
		{"build", "hem.yaml"}, {"demo"},
	} {
		var errs bytes.Buffer
		require.Equal(t, ExitFailed, Run(args, Streams{Out: full{}, Err: &errs}), "%v", args)
		require.Equal(t, "engrail: error: the output cannot be written: short write\n", errs.String())
	}
}
