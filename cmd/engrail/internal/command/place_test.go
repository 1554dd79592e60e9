package command

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// content returns what lies under a folder: the content of each file by its
// name, "folder" for a folder.
func content(folder string) (map[string]string, error) {
	all := map[string]string{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil || name == ".":
			return err
		case d.IsDir():
			all[name] = "folder"
			return nil
		}
		data, err := os.ReadFile(filepath.Join(folder, name))
		all[name] = string(data)
		return err
	})
	return all, err
}

func requireContent(t *testing.T, folder string, want map[string]string) {
	t.Helper()
	got, err := content(folder)
	require.NoError(t, err)
	require.Equal(t, want, got)
}

func TestPlacedFilesReplaceOldOnesAndLeaveOthers(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "made", "for", "it")
	require.NoError(t, place(folder, []file{{"a", []byte("1")}, {"b", []byte("2")}}, ""))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "other"), []byte("kept"), 0o600))
	require.NoError(t, place(folder, []file{{"b", []byte("3")}, {"c", nil}}, ""))
	requireContent(t, folder, map[string]string{"a": "1", "b": "3", "c": "", "other": "kept"})
}

func TestFailedPlacingLeavesEverythingAsItWas(t *testing.T) {
	// No file system takes a name of 300 letters, so that the second file cannot
	// be put in place after the first one was.
	long := strings.Repeat("x", 300)
	hint := "choose another"
	for name, c := range map[string]struct {
		folder   string
		files    []file
		problem  string
		remedies string
	}{
		"a folder of a file's name": {"old", []file{{"a", []byte("new")}, {"taken", []byte("new")}},
			"taken cannot be written: there is a folder of this name", "move the folder away, or choose another"},
		"a file of the folder's name": {filepath.Join("old", "a"), []file{{"a", []byte("new")}},
			"a cannot be made: a file stands where a folder should", hint},
		"a file above the folder": {filepath.Join("old", "a", "b"), []file{{"a", []byte("new")}},
			"b cannot be made: a file stands where a folder should", hint},
		"a name that cannot be, over an old file": {"old", []file{{"a", []byte("new")}, {long, []byte("new")}},
			"cannot be put in place in", hint},
		"a name that cannot be, beside a new file": {"old", []file{{"fresh", []byte("new")}, {long, []byte("new")}},
			"its name is too long", hint},
		"a name that cannot be, in a new folder": {filepath.Join("fresh", "folder"), []file{{"a", []byte("new")}, {long, []byte("new")}},
			"its name is too long", hint},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, os.MkdirAll(filepath.Join(dir, "old", "taken"), 0o755))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "old", "a"), []byte("old"), 0o644))
			before, err := content(dir)
			require.NoError(t, err)

			err = place(filepath.Join(dir, c.folder), c.files, hint)
			require.ErrorContains(t, err, c.problem)
			var known *fileError
			require.ErrorAs(t, err, &known)
			require.Equal(t, c.remedies, known.Remedy())
			requireContent(t, dir, before)
		})
	}
}

func TestStoppedWorkLeavesEverythingAsItWas(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot interrupt itself there")
	}
	me, err := os.FindProcess(os.Getpid())
	require.NoError(t, err)
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "a"), []byte("old"), 0o644))
		for _, folder := range []string{dir, filepath.Join(dir, "made", "for", "it")} {
			s, err := openStage(folder, "")
			require.NoError(t, err)
			require.NoError(t, s.add("a", []byte("new")))
			require.NoError(t, me.Signal(signal))
			<-s.stopped.Done()
			const told = "stopped before the files were in place; nothing was changed"
			require.EqualError(t, s.add("b", []byte("new")), told)
			require.EqualError(t, s.finish(), told)
			s.close()
			requireContent(t, dir, map[string]string{"a": "old"})
		}
	}
}

func TestReasonsAreInPlainWords(t *testing.T) {
	dir := t.TempDir()
	plain := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(plain, nil, 0o644))
	_, none := os.ReadFile(filepath.Join(dir, "none"))
	_, folder := os.ReadFile(dir)
	_, under := os.ReadFile(filepath.Join(plain, "under"))
	_, closed := (*os.File)(nil).Write(nil)
	for want, err := range map[string]error{
		"there is no such file or folder":        none,
		"it is a folder":                         folder,
		"a file stands where a folder should":    under,
		"you have no permission for it":          &fs.PathError{Op: "open", Path: "x", Err: fs.ErrPermission},
		"something else of this name is there":   &fs.PathError{Op: "mkdir", Path: "x", Err: fs.ErrExist},
		"the cause":                              &os.LinkError{Op: "rename", Old: "a", New: "b", Err: errors.New("the cause")},
		"invalid argument":                       closed,
		"what the file system says besides that": errors.New("what the file system says besides that"),
	} {
		require.Equal(t, want, reason(err))
	}
}
