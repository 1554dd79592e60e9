package command

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
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

// place puts the files into the folder, through a stage.
func place(folder string, files []file, hint string) error {
	s, err := openStage(folder, hint)
	if err != nil {
		return err
	}
	defer s.close()
	for _, f := range files {
		if err := s.add(f.name, f.content); err != nil {
			return err
		}
	}
	return s.finish()
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

// stage is a folder inside the one where files are to go. New files are written
// there, take the places of the old ones when all of them are complete, and
// until then nothing else is touched. The old ones wait there until all of that
// has gone well.
type stage struct {
	folder, staging, hint string
	undo                  func() // takes away the folders that were made
	names                 []string
	room                  chan struct{}
	writing               sync.WaitGroup
	failed                chan error // the first file that could not be written
	stopped               context.Context
	resume                func()
	finished              bool
}

// writers is how many files are taken down to the disk at a time: a disk takes
// many of them in the time that it takes to make sure of one.
const writers = 16

// openStage makes a stage inside the folder, which it makes if it has to. It
// must be closed. Until then the user's wish to stop is heard only when it
// leaves everything as it was.
func openStage(folder, hint string) (*stage, error) {
	s := &stage{folder: folder, hint: hint, room: make(chan struct{}, writers), failed: make(chan error, 1)}
	var err error
	if s.undo, err = makeFolder(folder); err != nil {
		s.undo()
		return nil, &fileError{fmt.Sprintf("the folder %s cannot be made: %s", folder, reason(err)), hint, err}
	}
	if s.staging, err = os.MkdirTemp(folder, ".engrail-"); err != nil {
		s.undo()
		return nil, &fileError{fmt.Sprintf("nothing can be written in the folder %s: %s", folder, reason(err)), hint, err}
	}
	s.stopped, s.resume = signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	return s, nil
}

func (s *stage) fresh(i int) string { return filepath.Join(s.staging, "new"+strconv.Itoa(i)) }

// add writes a new file. That it is on the disk is made sure of meanwhile.
func (s *stage) add(name string, content []byte) error {
	target := filepath.Join(s.folder, name)
	info, err := os.Lstat(target)
	switch {
	case s.stopped.Err() != nil:
		return s.interrupted()
	case err != nil || info.Mode().IsRegular() || info.Mode().Type() == fs.ModeSymlink:
	case info.IsDir():
		return &fileError{fmt.Sprintf("%s cannot be written: there is a folder of this name", target), "move the folder away, or " + s.hint, nil}
	default:
		return &fileError{fmt.Sprintf("%s cannot be written: it is a device, not a file", target), s.hint, nil}
	}
	w, err := os.OpenFile(s.fresh(len(s.names)), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return s.unwritten(name, err)
	}
	s.names = append(s.names, name)
	if _, err = w.Write(content); err != nil {
		_ = w.Close() // the error before is what matters
		return s.unwritten(name, err)
	}
	s.room <- struct{}{}
	s.writing.Go(func() {
		if err := errors.Join(w.Sync(), w.Close()); err != nil {
			select {
			case s.failed <- s.unwritten(name, err):
			default:
			}
		}
		<-s.room
	})
	return nil
}

func (s *stage) unwritten(name string, err error) error {
	return &fileError{fmt.Sprintf("%s cannot be written in %s: %s", name, s.folder, reason(err)), s.hint, err}
}

func (s *stage) interrupted() error {
	return &fileError{"stopped before the files were in place; nothing was changed", "", s.stopped.Err()}
}

// finish puts the new files in place. After an error everything is as it was,
// unless the error says otherwise.
func (s *stage) finish() error {
	s.writing.Wait()
	select {
	case err := <-s.failed:
		return err
	default:
	}
	if s.stopped.Err() != nil {
		return s.interrupted()
	}
	if i, err, stuck := s.swap(); err != nil {
		if stuck != nil {
			s.finished = true // what is on the stage is all that there is
			return &fileError{fmt.Sprintf("%s cannot be replaced in %s (%s), and the files before it cannot be put back: %s",
				s.names[i], s.folder, reason(err), reason(stuck)), "the old files are in " + s.staging, err}
		}
		return &fileError{fmt.Sprintf("%s cannot be put in place in %s: %s", s.names[i], s.folder, reason(err)), s.hint, err}
	}
	s.finished = true
	if err := os.RemoveAll(s.staging); err != nil {
		return &fileError{fmt.Sprintf("the files are in place, but the folder %s beside them cannot be removed: %s", s.staging, reason(err)), "remove it", err}
	}
	return nil
}

// close takes an unfinished stage away, and the folders that were made for it.
func (s *stage) close() {
	s.writing.Wait()
	if !s.finished {
		_ = os.RemoveAll(s.staging) // the error before is what matters
		s.undo()
	}
	s.resume()
}

// swap puts each new file in the place of the old one. With an error it returns
// the number of its file, after putting the old ones back; what kept it from
// that is stuck.
func (s *stage) swap() (i int, err, stuck error) {
	var undo []func() error
	back := func() error {
		for _, step := range slices.Backward(undo) {
			if err := step(); err != nil {
				return err
			}
		}
		return nil
	}
	for i, name := range s.names {
		target, old := filepath.Join(s.folder, name), filepath.Join(s.staging, "old"+strconv.Itoa(i))
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
	case errors.Is(err, fs.ErrExist):
		return "something else of this name is there"
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
