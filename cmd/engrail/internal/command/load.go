package command

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

// motifFlags are the values of the motif that can be tried on the command
// line, over those of the style file.
func motifFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "shape", Usage: "try the motif's `SHAPE`: scallop, point or wave"},
		&cli.StringFlag{Name: "width", Usage: "try the wanted `WIDTH` of a repeat, such as 55mm"},
		&cli.StringFlag{Name: "depth", Usage: "try the `DEPTH` of the motif"},
		&cli.IntFlag{Name: "count", DefaultText: "free", Usage: "try a fixed `NUMBER` of repeats in each whole panel"},
	}
}

func quietFlag() cli.Flag {
	return &cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print nothing but errors"}
}

// fileError says that a file cannot be read or written.
type fileError struct {
	err  error
	hint string
}

func (e *fileError) Error() string  { return e.err.Error() }
func (e *fileError) Remedy() string { return e.hint }
func (e *fileError) Unwrap() error  { return e.err }

// readFile reads a file of up to maxFile bytes; pathless errors of the system
// become sentences.
func readFile(name, hint string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, &fileError{plain(err), hint}
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if err != nil {
		return nil, &fileError{plain(err), hint}
	}
	if len(data) > maxFile {
		return nil, &fileError{fmt.Errorf("%s is larger than %d MB", name, maxFile>>20), "is it the right file?"}
	}
	return data, nil
}

// maxFile (bytes) bounds what is read of one file.
const maxFile = 64 << 20

// plain words an error of the file system.
func plain(err error) error {
	var p *fs.PathError
	if !errors.As(err, &p) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file %s", p.Path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s cannot be opened: permission denied", p.Path)
	}
	return fmt.Errorf("%s: %w", p.Path, p.Err)
}

// load reads a style file, sets the values tried on the command line, and works
// it out.
func load(c *cli.Context, name string) (*build.Plan, error) {
	data, err := readFile(name, "engrail new FILE writes a style file to begin with")
	if err != nil {
		return nil, err
	}
	s, err := style.Parse(name, data)
	if err != nil {
		return nil, err
	}
	if err := try(c, s); err != nil {
		return nil, err
	}
	folder := filepath.Dir(name)
	return build.New(s, func(file string) ([]byte, error) {
		if !filepath.IsAbs(file) {
			file = filepath.Join(folder, file)
		}
		return readFile(file, "the style file names it; patterns are looked for beside the style file")
	})
}

// try sets the values given on the command line.
func try(c *cli.Context, s *style.Style) error {
	if c.IsSet("shape") {
		s.Motif.Shape = c.String("shape")
	}
	for name, value := range map[string]*style.Length{"width": &s.Motif.Width, "depth": &s.Motif.Depth} {
		if !c.IsSet(name) {
			continue
		}
		length, err := style.ParseLength(c.String(name), s.Units)
		if err != nil {
			return &usageError{fmt.Sprintf("--%s: %v", name, err), "write a length such as 55mm, 5.5cm or 2 1/4 in"}
		}
		*value = length
	}
	if c.IsSet("width") && (s.Motif.Width < s.Motif.Least || s.Motif.Most > 0 && s.Motif.Width > s.Motif.Most) {
		// The style's limits are for another width.
		s.Motif.Least, s.Motif.Most = 0, 0
	}
	if c.IsSet("count") {
		if c.Int("count") < 1 {
			return &usageError{fmt.Sprintf("--count is %d", c.Int("count")), "give at least 1"}
		}
		s.Motif.Count = c.Int("count")
		for i := range s.Sizes {
			for j := range s.Sizes[i].Panels {
				s.Sizes[i].Panels[j].Count = 0
			}
		}
	}
	return nil
}

// warn prints the plan's warnings.
func warn(w io.Writer, p *build.Plan) {
	for _, x := range p.Warnings {
		fmt.Fprintf(w, "engrail: warning: %s: %s\n", x.Where, x.Message)
	}
}
