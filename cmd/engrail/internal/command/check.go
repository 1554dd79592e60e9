package command

import (
	"fmt"
	"io"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/motif/path"

	"github.com/urfave/cli/v2"
)

func checkCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "read a finished file back, and measure it",
		UsageText: "engrail check FILE [--against STYLE]",
		Description: "Says what is in an HPGL, DXF or SVG file: its size, its lines, and what would spoil a cut. Of a PDF\n" +
			"it says how large the pages are. With --against it measures how far the file is from the design\n" +
			"that the style has for a file of this name.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "against", Usage: "compare with what the style file `STYLE` makes"}, quietFlag(),
		}, motifFlags()...),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a file")
			if err != nil {
				return err
			}
			content, err := readFile(name, otherFile(name, "check its name", ".hpgl", ".plt", ".dxf", ".svg", ".pdf"))
			if err != nil {
				return err
			}
			found, err := checked(c, name, content)
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				describe(s.Out, name, c.String("against"), found)
			}
			if problems := found.Problems(); len(problems) > 0 {
				return &fileError{name + ": " + strings.Join(problems, "; "), "make the file again with engrail build, and send nothing to a machine that is not as it should be", nil}
			}
			return nil
		},
	}
}

// checked reads the file, against a style if the command line names one.
func checked(c *cli.Context, name string, content []byte) (*build.Checked, error) {
	if !c.IsSet("against") {
		return build.Check(name, content)
	}
	plan, _, err := load(c, c.String("against"))
	if err != nil {
		return nil, err
	}
	return plan.Check(name, content)
}

// mostPlaces is how many places of a kind are told.
const mostPlaces = 3

// describe prints what is in a file.
func describe(w io.Writer, name, against string, c *build.Checked) {
	if c.Kind == "PDF" {
		fmt.Fprintf(w, "%s: %s of %s\n", name, c.Kind, howMany(len(c.Pages), "page", "pages"))
		sizes := grid{align: "rr", indent: 2, rows: [][]string{{"pages", "size mm"}}}
		for i := 0; i < len(c.Pages); {
			k := i
			for k < len(c.Pages) && c.Pages[k] == c.Pages[i] {
				k++
			}
			sizes.add(span(i+1, k), fmt.Sprintf("%.1f x %.1f", c.Pages[i].Width, c.Pages[i].Height))
			i = k
		}
		sizes.print(w)
	} else {
		f := c.Found
		fmt.Fprintf(w, "%s: %s, %.2f x %.2f mm\n\n", name, c.Kind, f.Box.Width(), f.Box.Height())
		lines := grid{align: "lrr", indent: 2, rows: [][]string{{"lines", "number", "length mm"}}}
		for _, r := range f.Roles {
			lines.add(r.Role.String(), fmt.Sprint(r.Count), fmt.Sprintf("%.1f", r.Length))
		}
		lines.print(w)
		fmt.Fprintln(w)
		tell := func(places []path.Point, one, several string) {
			fmt.Fprintf(w, "  %s%s\n", howMany(len(places), one, several), inPlaces(places))
		}
		fmt.Fprintf(w, "  %s\n", howMany(f.Texts, "text", "texts"))
		tell(f.Open, "open cut line", "open cut lines")
		tell(f.Duplicates, "cut line with a part on another", "cut lines with a part on another")
		tell(f.Crossing, "place where a cut line crosses itself", "places where a cut line crosses itself")
		tell(f.Close, "vertex nearer than 0.05 mm to the one before", "vertices nearer than 0.05 mm to the one before")
	}
	if c.Proof == nil {
		return
	}
	fmt.Fprintf(w, "\nagainst %s: %.6g times as wide and %.6g times as high\n", against, c.Proof.ScaleX, c.Proof.ScaleY)
	if c.Against != nil {
		off := grid{align: "lrr", indent: 2, rows: [][]string{{"lines", "furthest off mm", "at mm"}}}
		for _, d := range c.Against.Classes {
			off.add(d.Class, fmt.Sprintf("%.4f", d.Max), fmt.Sprintf("%.1f, %.1f", d.At.X, d.At.Y))
		}
		fmt.Fprintln(w)
		off.print(w)
	}
}

// span writes a range of numbers.
func span(from, to int) string {
	if from == to {
		return fmt.Sprint(from)
	}
	return fmt.Sprintf("%d-%d", from, to)
}

// howMany writes a number with its noun.
func howMany(n int, one, several string) string {
	switch n {
	case 0:
		return "no " + several
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, several)
}

// inPlaces writes the first few places, after a colon.
func inPlaces(places []path.Point) string {
	var b strings.Builder
	for i, p := range places {
		switch {
		case i == mostPlaces:
			b.WriteString(" and more")
			return b.String()
		case i == 0:
			b.WriteString(": at ")
		default:
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "(%.1f, %.1f)", p.X, p.Y)
	}
	return b.String()
}
