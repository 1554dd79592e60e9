package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"syscall"
)

// file is a file to be put into a folder.
type file struct {
	name    string
	content []byte
}

// place puts the files into the folder, which it makes if it has to. They are
// written in a folder of their own inside it first, and take the places of the
// old ones when all of them are complete. After an error everything is as it
// was.
func place(folder string, files []file, hint string) (err error) {
	for _, f := range files {
		target := filepath.Join(folder, f.name)
		info, err := os.Lstat(target)
		switch {
		case err != nil || info.Mode().IsRegular() || info.Mode().Type() == fs.ModeSymlink:
		case info.IsDir():
			return &fileError{fmt.Sprintf("%s cannot be written: there is a folder of this name", target), "move the folder away, or " + hint, nil}
		default:
			return &fileError{fmt.Sprintf("%s cannot be written: it is a device, not a file", target), hint, nil}
		}
	}
	undo, err := makeFolder(folder)
	defer func() {
		if err != nil {
			undo()
		}
	}()
	if err != nil {
		return &fileError{fmt.Sprintf("the folder %s cannot be made: %s", folder, reason(err)), hint, err}
	}
	staging, err := os.MkdirTemp(folder, ".engrail-")
	if err != nil {
		return &fileError{fmt.Sprintf("nothing can be written in the folder %s: %s", folder, reason(err)), hint, err}
	}
	s := stage{folder: folder, staging: staging, files: files}
	if i, err := s.fill(); err != nil {
		_ = os.RemoveAll(staging) // the error before is what matters
		return &fileError{fmt.Sprintf("%s cannot be written in %s: %s", files[i].name, folder, reason(err)), hint, err}
	}
	if i, err, stuck := s.swap(); err != nil {
		if stuck != nil {
			return &fileError{fmt.Sprintf("%s cannot be replaced in %s (%s), and the files before it cannot be put back: %s",
				files[i].name, folder, reason(err), reason(stuck)), "the old files are in " + staging, err}
		}
		_ = os.RemoveAll(staging)
		return &fileError{fmt.Sprintf("%s cannot be put in place in %s: %s", files[i].name, folder, reason(err)), hint, err}
	}
	if err := os.RemoveAll(staging); err != nil {
		return &fileError{fmt.Sprintf("the files are in place, but the folder %s beside them cannot be removed: %s", staging, reason(err)), "remove it", err}
	}
	return nil
}

// makeFolder makes a folder and those that it lies in. The function takes away
// again what was made.
func makeFolder(folder string) (undo func(), err error) {
	var made []string
	for at := filepath.Clean(folder); ; at = filepath.Dir(at) {
		if _, err := os.Lstat(at); !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			break
		}
		made = append(made, at)
	}
	undo = func() {
		for _, at := range made {
			_ = os.Remove(at) // a folder that another program has put something in stays
		}
	}
	return undo, os.MkdirAll(folder, 0o755)
}

// stage is where new files are written and old ones wait.
type stage struct {
	folder, staging string
	files           []file
}

func (s stage) fresh(i int) string { return filepath.Join(s.staging, "new"+strconv.Itoa(i)) }

// writers is how many files are written at a time: a disk takes many of them in
// the time that it takes to make sure of one.
const writers = 16

// fill writes the new files. With an error it returns the number of its file.
func (s stage) fill() (int, error) {
	errs := make([]error, len(s.files))
	room := make(chan struct{}, writers)
	var done sync.WaitGroup
	for i := range s.files {
		room <- struct{}{}
		done.Go(func() {
			errs[i] = s.write(i)
			<-room
		})
	}
	done.Wait()
	for i, err := range errs {
		if err != nil {
			return i, err
		}
	}
	return 0, nil
}

// write writes one new file, down to the disk.
func (s stage) write(i int) error {
	w, err := os.OpenFile(s.fresh(i), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = w.Write(s.files[i].content)
	if err == nil {
		err = w.Sync()
	}
	return errors.Join(err, w.Close())
}

// swap puts each new file in the place of the old one. With an error it returns
// the number of its file, after putting the old ones back; what kept it from
// that is stuck.
func (s stage) swap() (i int, err, stuck error) {
	var undo []func() error
	back := func() error {
		for _, step := range slices.Backward(undo) {
			if err := step(); err != nil {
				return err
			}
		}
		return nil
	}
	for i, f := range s.files {
		target, old := filepath.Join(s.folder, f.name), filepath.Join(s.staging, "old"+strconv.Itoa(i))
		switch err := os.Rename(target, old); {
		case err == nil:
			undo = append(undo, func() error { return os.Rename(old, target) })
		case !errors.Is(err, fs.ErrNotExist):
			return i, err, back()
		}
		if err := os.Rename(s.fresh(i), target); err != nil {
			return i, err, back()
		}
		undo = append(undo, func() error { return os.Remove(target) })
	}
	return 0, nil, nil
}

// reason words an error of the file system, without the path.
func reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "you have no permission for it"
	case errors.Is(err, syscall.EISDIR):
		return "it is a folder"
	case errors.Is(err, syscall.ENOTDIR):
		return "a file stands where a folder should"
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full"
	case errors.Is(err, syscall.EROFS):
		return "the disk can only be read"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "its name is too long"
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err.Error()
	}
	return err.Error()
}
