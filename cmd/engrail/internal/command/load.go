package command

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/motif"

	"github.com/urfave/cli/v2"
)

// motifFlags are the values of the motif that can be tried on the command
// line, over those of the style file.
func motifFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "shape", Usage: "try the motif's `SHAPE`: " + strings.Join(shapes(), ", ")},
		&cli.StringFlag{Name: "width", Usage: "try the wanted `WIDTH` of a repeat, such as 55mm or \"2 1/4 in\""},
		&cli.StringFlag{Name: "depth", Usage: "try the `DEPTH` of the motif, such as 20mm"},
		&cli.StringSliceFlag{Name: "count", Usage: "try a fixed `NUMBER` of repeats in each whole panel, or in one: front=9"},
		&cli.StringFlag{Name: "hold", Usage: "try to hold the `MEASURE` in all sizes: " + strings.Join(holds(), " or ")},
	}
}

func quietFlag() cli.Flag {
	return &cli.BoolFlag{Name: "quiet", Aliases: []string{"q"}, Usage: "print nothing but errors"}
}

// fileError says that a file cannot be read or written.
type fileError struct {
	problem, hint string
	cause         error
}

func (e *fileError) Error() string  { return e.problem }
func (e *fileError) Remedy() string { return e.hint }
func (e *fileError) Unwrap() error  { return e.cause }

// maxFile (bytes) bounds what is read of one file.
const maxFile = 64 << 20

// readFile reads a file of up to maxFile bytes.
func readFile(name, hint string) ([]byte, error) {
	data, err := readSome(name)
	if err != nil {
		return nil, &fileError{fmt.Sprintf("%s cannot be read: %s", name, reason(err)), hint, err}
	}
	if len(data) > maxFile {
		return nil, &fileError{fmt.Sprintf("%s is larger than %d MB", name, maxFile>>20), "is it the right file?", nil}
	}
	return data, nil
}

// readSome reads up to one byte more than a file may have.
func readSome(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxFile+1))
}

// load reads a style file, sets the values tried on the command line, and works
// it out. Inputs are the files that it was made from.
func load(c *cli.Context, name string) (plan *build.Plan, inputs []string, err error) {
	data, err := readFile(name, otherStyle(name))
	if err != nil {
		return nil, nil, err
	}
	inputs = []string{name}
	s, err := parse(c, name, data)
	if err != nil {
		return nil, nil, err
	}
	plan, err = build.New(s, filesFor(name, otherPlace(name), &inputs))
	return plan, inputs, err
}

// parse reads a style and sets the values tried on the command line.
func parse(c *cli.Context, name string, data []byte) (*style.Style, error) {
	s, err := style.Parse(name, data)
	if err != nil {
		return nil, err
	}
	return s, try(c, s)
}

// filesFor gives the files that a style file names, which are looked for beside
// it, and adds to the inputs what is read; hint is for one that cannot be.
func filesFor(name string, hint func(file string) string, inputs *[]string) build.Files {
	beside := func(file string) string {
		if filepath.IsAbs(file) {
			return file
		}
		return filepath.Join(filepath.Dir(name), file)
	}
	return build.Files{
		Read: func(file string) ([]byte, error) {
			file = beside(file)
			*inputs = append(*inputs, file)
			return readFile(file, hint(file))
		},
		List: func(in string) (names []string) {
			entries, _ := os.ReadDir(beside(in)) // of a folder that cannot be read, nothing
			for _, e := range entries {
				names = append(names, e.Name())
			}
			return names
		},
	}
}

// otherPlace returns what is said, of a file that the style file of that name
// names and that cannot be read: one with a name much like it, or where such
// files are looked for.
func otherPlace(name string) func(file string) string {
	return func(file string) string {
		if near := style.Nearest(filepath.Base(file), filesIn(filepath.Dir(file), ".svg", ".dxf", ".rul")); near != "" && near != filepath.Base(file) {
			return fmt.Sprintf("%s names it; did you mean %q?", name, near)
		}
		return fmt.Sprintf("%s names it; such files are looked for beside the style file", name)
	}
}

// otherStyle says, for a style file that cannot be read, which there are.
func otherStyle(name string) string {
	return otherFile(name, "check its name; engrail new FILE writes a style file to begin with", ".yaml", ".yml")
}

// otherFile says, for a file that cannot be read, which there are with one of the
// extensions; none is the hint when there are none.
func otherFile(name, none string, extensions ...string) string {
	folder := filepath.Dir(name)
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		folder = name
	}
	files := filesIn(folder, extensions...)
	if near := style.Nearest(filepath.Base(name), files); near != "" {
		return fmt.Sprintf("did you mean %q?", filepath.Join(folder, near))
	}
	var some []string
	for _, s := range files[:min(len(files), mostNamed)] {
		some = append(some, filepath.Join(folder, s))
	}
	if len(some) == 0 {
		return none
	}
	return "check its name; there is " + strings.Join(some, ", ")
}

// filesIn returns the names of the files in a folder with one of the extensions.
func filesIn(folder string, extensions ...string) (names []string) {
	entries, _ := os.ReadDir(folder) // none of a folder that is not there
	for _, e := range entries {
		if slices.Contains(extensions, strings.ToLower(filepath.Ext(e.Name()))) {
			names = append(names, e.Name())
		}
	}
	return names
}

// mostNamed is how many files a hint names.
const mostNamed = 5

// try sets the values given on the command line.
func try(c *cli.Context, s *style.Style) error {
	if c.IsSet("shape") {
		word := c.String("shape")
		if _, err := motif.ParseKind(word); err != nil {
			return &usageError{fmt.Sprintf("--shape: %v", err), suggest(word, shapes(), "engrail motifs tells what they look like")}
		}
		s.Motif.Shape = word
	}
	for _, f := range []struct {
		name  string
		value *style.Length
	}{{"width", &s.Motif.Width}, {"depth", &s.Motif.Depth}} {
		if !c.IsSet(f.name) {
			continue
		}
		length, err := style.ParseLength(c.String(f.name), s.Units)
		if err == nil && length <= 0 {
			err = fmt.Errorf("%q is no length above 0", c.String(f.name))
		}
		if err != nil {
			return &usageError{fmt.Sprintf("--%s: %v", f.name, err), ""}
		}
		*f.value = length
	}
	if c.IsSet("width") && (s.Motif.Width < s.Motif.Least || s.Motif.Most > 0 && s.Motif.Width > s.Motif.Most) {
		// The style's limits are for another width.
		s.Motif.Least, s.Motif.Most = 0, 0
	}
	if c.IsSet("hold") {
		word := c.String("hold")
		if !slices.Contains(holds(), word) {
			return &usageError{fmt.Sprintf("--hold: %q cannot be held", word), suggest(word, holds(), "it holds "+strings.Join(holds(), " or "))}
		}
		s.Motif.Hold = word
	}
	for _, word := range c.StringSlice("count") {
		if err := tryCount(word, s); err != nil {
			return err
		}
	}
	return nil
}

// tryCount fixes the repeats of every whole panel with a number, of one panel
// with PANEL=NUMBER.
func tryCount(word string, s *style.Style) error {
	panel, number, one := strings.Cut(word, "=")
	if !one {
		panel, number = "", word
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > mostRepeats {
		return &usageError{
			fmt.Sprintf("--count: %q is no number of repeats; write a whole number from 1 to %d", number, mostRepeats),
			"a number is for every panel; for some of them write, for example, --count front=9 --count back=10",
		}
	}
	var names []string
	for _, p := range s.Panels {
		names = append(names, p.Name)
	}
	if one && !slices.Contains(names, panel) {
		return &usageError{fmt.Sprintf("--count: no panel is called %q", panel), suggest(panel, names, "the panels are "+strings.Join(names, ", "))}
	}
	if !one {
		s.Motif.Count, n = n, 0 // the panels' own give way
	}
	for _, size := range s.Sizes {
		for i := range size.Panels {
			if p := &size.Panels[i]; !one || p.Name == panel {
				p.Count = n
			}
		}
	}
	return nil
}

// holds returns what can be the same in all sizes.
func holds() []string { return []string{style.HoldWidth, style.HoldCount} }

// mostRepeats is how many repeats a panel may be told to have, as in a style
// file.
const mostRepeats = 10_000

// shapes returns the words for the shapes of a motif.
func shapes() []string {
	var words []string
	for _, k := range motif.Kinds() {
		words = append(words, k.String())
	}
	return words
}

// warn prints the report's warnings and what the checks say in earnest; folder is where
// its files are.
func warn(w io.Writer, r *build.Report, folder string) {
	for _, x := range r.Warnings {
		if x.Code == build.StaleFile {
			x.Where = filepath.Join(folder, x.Where)
		}
		fmt.Fprintf(w, "engrail: %s: %s: %s\n", x.Level, x.Where, x.Message)
	}
	grave := 0
	for _, x := range r.Telling() {
		fmt.Fprintf(w, "engrail: warning: %s: %s; %s (%s)\n", x.Where, x.Message, x.Remedy, x.Name)
		if x.Level == fit.LevelError.String() {
			grave++
		}
	}
	if grave > 0 {
		fmt.Fprintf(w, "engrail: warning: it cannot be sewn as it is: %s among its checks, which engrail review tells\n", howMany(grave, "error", "errors"))
	}
}
