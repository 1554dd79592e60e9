package command

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"

	"github.com/urfave/cli/v2"
)

func inspectCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "inspect",
		Usage:     "show what is in a pattern file, and begin a style from it",
		UsageText: "engrail inspect FILE [--png FILE] [--style FILE]",
		Description: "Lists the pieces of an SVG or DXF file, their edges and what each of them probably is, and the\n" +
			"sizes. With --png it draws them with their edges numbered; with --style it writes a style file\n" +
			"that builds from them as it is. A style file that is there already is kept. Lengths are in mm.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "png", Usage: "draw the pieces with numbered edges in the picture `FILE`"},
			&cli.StringFlag{Name: "style", Usage: "write a style file ready to build to `FILE`"},
			&cli.BoolFlag{Name: "json", Usage: "print all of it as JSON, lengths in mm"},
			quietFlag(),
		},
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a pattern file, such as skirt.svg")
			if err != nil {
				return err
			}
			picture, styleFile, err := inspectOutputs(c, name)
			if err != nil {
				return err
			}
			in, err := inspect(name)
			if err != nil {
				return err
			}
			wrote, err := in.write(picture, styleFile)
			if err != nil {
				return err
			}
			switch {
			case c.Bool("json"):
				content, err := in.json()
				if err != nil {
					return err
				}
				_, err = s.Out.Write(content)
				return err
			case !c.Bool("quiet"):
				in.print(s.Out, picture, styleFile, wrote)
			}
			return nil
		},
	}
}

// inspectOutputs returns the names of the files to write, empty for those that
// are not wanted.
func inspectOutputs(c *cli.Context, input string) (picture, styleFile string, err error) {
	picture, styleFile = c.String("png"), c.String("style")
	for _, f := range []struct{ flag, name, example string }{{"png", picture, "skirt.png"}, {"style", styleFile, "skirt.yaml"}} {
		if !c.IsSet(f.flag) {
			continue
		}
		if _, base := filepath.Split(f.name); base == "" {
			return "", "", &usageError{fmt.Sprintf("--%s: %q names no file", f.flag, f.name), fmt.Sprintf("give it a name, such as --%s %s", f.flag, f.example)}
		}
		if filepath.Clean(f.name) == filepath.Clean(input) {
			return "", "", &usageError{fmt.Sprintf("--%s: %s is the pattern itself", f.flag, f.name), fmt.Sprintf("give it another name, such as --%s %s", f.flag, f.example)}
		}
	}
	if style.IsDrawing(styleFile) {
		return "", "", &usageError{fmt.Sprintf("--style: %s is the name of a drawing", styleFile), "choose a name for the style file that ends in .yaml"}
	}
	if picture != "" && filepath.Clean(picture) == filepath.Clean(styleFile) {
		return "", "", &usageError{fmt.Sprintf("--png and --style both name %s", picture), "choose another name for one of them"}
	}
	if styleFile == "" {
		return picture, "", nil
	}
	switch _, err := os.Lstat(styleFile); {
	case err == nil:
		return "", "", &fileError{fmt.Sprintf("%s is there already, and is kept", styleFile), "choose another name with --style", nil}
	case !errors.Is(err, fs.ErrNotExist):
		return "", "", &fileError{fmt.Sprintf("%s cannot be written: %s", styleFile, reason(err)), "choose another name with --style", err}
	}
	return picture, styleFile, nil
}

// otherPattern says, for a pattern file that cannot be read, which there are.
func otherPattern(name string) string {
	return otherFile(name, "check its name; engrail demo makes a pattern to try", ".svg", ".dxf")
}

// inspection is a pattern file with what is in it.
type inspection struct {
	file string // as it was named
	// inputs are the files that were read.
	inputs []string
	by     pattern.By
	// sizes are in order, one without a name when the file has one size.
	sizes []inspectedSize
	// family is the name of the files for all sizes, of which this is one, and
	// familySizes are these; nothing when it stands alone.
	family      string
	familySizes []string
	// problems are those of the file; those of its pieces are in the reports.
	problems []fit.Warning
}

type inspectedSize struct {
	pattern.Sized
	report pattern.Report
}

// shown returns the size whose edges are shown: the largest, which lies outside
// of the others in a nest.
func (in *inspection) shown() inspectedSize { return in.sizes[len(in.sizes)-1] }

// sizeNames returns the names of the sizes in order.
func (in *inspection) sizeNames() []string {
	var all []string
	for _, s := range in.sizes {
		all = append(all, s.Name)
	}
	return all
}

// inspect reads a pattern file and looks at every size. A file without a piece is
// an error.
func inspect(name string) (*inspection, error) {
	in := &inspection{file: name}
	sized, err := in.open()
	if err != nil {
		return nil, err
	}
	for _, s := range sized {
		r := pattern.Inspect(s.Drawing, name)
		in.sizes = append(in.sizes, inspectedSize{s, r})
		if len(r.Pieces) > 0 {
			continue
		}
		if len(r.Problems) > 0 {
			p := r.Problems[0]
			problem, hint, _ := strings.Cut(p.Message, "; ")
			return nil, &fileError{p.Where + ": " + problem, hint, nil}
		}
		return nil, &fileError{name + ": the drawing has no piece", "draw each piece as a closed outline", nil}
	}
	return in, nil
}

// open reads the file, or those of all sizes, and tells its sizes apart.
func (in *inspection) open() ([]pattern.Sized, error) {
	files := filesFor("", otherPattern, &in.inputs)
	if strings.Contains(in.file, style.SizeInName) {
		sized, warnings, err := build.OpenSizes(in.file, files)
		in.problems = warnings
		return sized, err
	}
	d, warnings, err := build.Open(in.file, files)
	if err != nil {
		return nil, err
	}
	in.problems = warnings
	sized := []pattern.Sized{{Drawing: d}}
	if by, _ := pattern.ProposeSizes(d); by != pattern.ByNothing {
		found, warnings, err := pattern.Sizes(d, by)
		if err == nil {
			in.by, sized = by, found
			in.problems = append(in.problems, warnings...)
		} else {
			in.problems = append(in.problems, fit.Warning{Code: "sizes", Level: fit.LevelError, Where: in.file, Message: inFull(err)})
		}
	}
	if len(sized) == 1 {
		in.family, in.familySizes = build.ProposeFiles(in.file, files)
	}
	return sized, nil
}

// inFull returns what an error says, and what would help.
func inFull(err error) string {
	var known interface{ Remedy() string }
	if errors.As(err, &known) && known.Remedy() != "" {
		return err.Error() + "; " + known.Remedy()
	}
	return err.Error()
}

// allProblems returns the problems of the file and of every size. What is wrong in
// several sizes is told of the first of them, with the others.
func (in *inspection) allProblems() []fit.Warning {
	all := slices.Clone(in.problems)
	figures := regexp.MustCompile(`[^#\d]-?\d+(\.\d+)?`)
	first := map[fit.Warning]int{} // in all, by what is left without figures
	sizes := map[int][]string{}
	for _, s := range in.sizes {
		for _, p := range s.report.Problems {
			kind := fit.Warning{Code: p.Code, Level: p.Level, Where: p.Where, Message: figures.ReplaceAllString(p.Message, "")}
			i, known := first[kind]
			if !known {
				i = len(all)
				first[kind] = i
				all = append(all, p)
			}
			sizes[i] = append(sizes[i], s.Name)
		}
	}
	if len(in.sizes) == 1 {
		return all
	}
	for i, n := range sizes {
		all[i].Where += ", size " + n[0]
		switch {
		case len(n) == len(in.sizes):
			all[i].Message += " (and likewise in every size)"
		case len(n) > 1:
			all[i].Message += " (and likewise in " + strings.Join(n[1:], ", ") + ")"
		}
	}
	return all
}

// write writes the picture and the style file, those that are wanted, and returns
// what was made of the style.
func (in *inspection) write(picture, styleFile string) (*styleDraft, error) {
	const elsewhere = "choose another file with --png or --style"
	var draft *styleDraft
	if styleFile != "" {
		var err error
		if draft, err = in.style(styleFile); err != nil {
			return nil, err
		}
	}
	if picture != "" {
		if err := keep(in.inputs, filepath.Dir(picture), []string{filepath.Base(picture)}, elsewhere); err != nil {
			return nil, err
		}
		var b bytes.Buffer
		if err := in.draw(&b); err != nil {
			return nil, err
		}
		if err := place(filepath.Dir(picture), []file{{filepath.Base(picture), b.Bytes()}}, elsewhere); err != nil {
			return nil, err
		}
	}
	if styleFile != "" {
		if err := place(filepath.Dir(styleFile), []file{{filepath.Base(styleFile), draft.text}}, elsewhere); err != nil {
			return nil, err
		}
	}
	return draft, nil
}

// pieceOf returns the piece of the report that is the one given, in another size:
// that of the same name or else of the same number.
func pieceOf(r pattern.Report, p pattern.Inspected) (pattern.Inspected, bool) {
	for _, q := range r.Pieces {
		if q.Key == p.Key && q.Value == p.Value {
			return q, true
		}
	}
	if i := p.Number - 1; i < len(r.Pieces) && p.Key == "order" {
		return r.Pieces[i], true
	}
	return pattern.Inspected{}, false
}

// hemOf returns the length of the piece's hem in mm, of all its runs; 0 when none
// was found.
func hemOf(p pattern.Inspected) (length float64) {
	for _, e := range p.Edges {
		if e.Word == "hem" {
			length += e.Path.Length()
		}
	}
	return length
}
