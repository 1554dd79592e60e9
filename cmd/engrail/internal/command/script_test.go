package command

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"engrail": func() { os.Exit(Run(os.Args[1:], Console())) },
	})
}

// The scripts in testdata/command use the program as it is used, one topic a
// file. Besides what testscript has, they know
//
//	exits CODE COMMAND...   run the command, which must exit with the code
//	same FOLDER FOLDER      compare two folders, file by file
//
// and find the files of testdata in $TESTDATA.
//
// With -short, as under the race detector, they are left out: they start many
// processes, each of which does one thing after the other.
func TestScripts(t *testing.T) {
	if testing.Short() {
		t.Skip("many processes")
	}
	data, err := filepath.Abs(filepath.Join("..", "..", "..", "..", "testdata"))
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join(data, "command"),
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("TESTDATA", data)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "same": same},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("%s exits with %d, not %d", strings.Join(args[1:], " "), got, want)
	}
}

func same(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: same FOLDER FOLDER")
	}
	a, err := content(ts.MkAbs(args[0]))
	ts.Check(err)
	b, err := content(ts.MkAbs(args[1]))
	ts.Check(err)
	var differ []string
	for name := range a {
		if _, both := b[name]; !both {
			differ = append(differ, "only in "+args[0]+": "+name)
		}
	}
	for name, text := range b {
		if other, both := a[name]; !both {
			differ = append(differ, "only in "+args[1]+": "+name)
		} else if other != text {
			differ = append(differ, "differs: "+name)
		}
	}
	if len(a) == 0 {
		ts.Fatalf("%s is empty", args[0])
	}
	if (len(differ) == 0) == neg {
		ts.Fatalf("%s and %s: %s", args[0], args[1], strings.Join(differ, ", "))
	}
}
