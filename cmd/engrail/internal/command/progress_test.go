package command

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// shown shows the progress of a build of three files and returns what was
// written; with an end before the last file it broke off.
func shown(watched, quiet bool, patience time.Duration, files int) string {
	var b bytes.Buffer
	step, end := progress(Streams{Err: &b, Watched: watched}, quiet, patience)
	for i := range files {
		step(i, 3)
	}
	end()
	return b.String()
}

func TestProgressIsShownToThoseWhoWatchALongBuild(t *testing.T) {
	require.Contains(t, shown(true, false, 0, 3), "\rmaking files: 0 of 3\rmaking files: 1 of 3\rmaking files: 2 of 3\r")
	require.Empty(t, shown(false, false, 0, 3), "not on a terminal")
	require.Empty(t, shown(true, true, 0, 3), "quiet")
	require.Empty(t, shown(true, false, time.Hour, 3), "a short build")
}

// What is printed after it begins on a clean line.
func TestProgressIsTakenAwayAtTheEnd(t *testing.T) {
	for files := 1; files <= 4; files++ {
		text := shown(true, false, 0, files)
		last := text[bytes.LastIndexByte([]byte(text[:len(text)-1]), '\r')+1:]
		require.Empty(t, string(bytes.TrimSpace([]byte(last))), "%q", text)
		require.Equal(t, byte('\r'), text[len(text)-1], "%q", text)
	}
}

func TestBuildShowsNoProgressOffTheTerminal(t *testing.T) {
	t.Chdir(t.TempDir())
	var out, errs bytes.Buffer
	require.Equal(t, ExitDone, Run([]string{"demo"}, Streams{Out: &out, Err: &errs}))
	require.Empty(t, errs.String())
}
