package command

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"

	"engrail/cmd/engrail/internal/build"
	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"

	"github.com/urfave/cli/v2"
)

const (
	// seamsLongest is the longest side of the picture of seams in px.
	seamsLongest = 2000
	// rowGap (mm) is left between rows of pieces.
	rowGap = 40
	// seamText (mm) is how high the numbers of seams and the names of pieces are, and
	// seamRoom how far beyond the hem a number stands.
	seamText, seamRoom = 12, 24
)

func seamsCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "seams",
		Usage:     "show how true the seams are, and how the hem runs across them",
		UsageText: "engrail seams STYLE [--png FILE] [--size NAME]",
		Description: "Walks along every seam of garment and facing and shows what differs. With --png it draws the\n" +
			"pieces laid seam to seam, as they meet at the hem.",
		Flags: append(motifFlags(),
			&cli.StringFlag{Name: "png", Usage: "draw the pieces in the picture `FILE`"},
			&cli.StringFlag{Name: "size", Usage: "show the size `NAME`; left out, the first"},
			quietFlag()),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			folder, base := filepath.Split(c.String("png"))
			if c.IsSet("png") && base == "" {
				return &usageError{fmt.Sprintf("--png: %q names no file", c.String("png")), "give it a name, such as --png seams.png"}
			}
			plan, inputs, err := load(c, name)
			if err != nil {
				return err
			}
			var sizes []string
			for _, x := range plan.Sizes {
				sizes = append(sizes, x.Name)
			}
			if c.IsSet("size") && len(sizes) == 1 && sizes[0] == "" {
				return &usageError{fmt.Sprintf("--size: no size is called %q", c.String("size")), "the style has one size; leave --size out"}
			}
			k, err := pick(c, "size", sizes)
			if err != nil {
				return err
			}
			report := plan.Report()
			if base != "" {
				var picture bytes.Buffer
				if err := png.Write(&picture, seamDrawing(plan, k), png.Options{Longest: seamsLongest}); err != nil {
					return err
				}
				const other = "choose another file with --png"
				if err := keep(inputs, filepath.Clean(folder), []string{base}, other); err != nil {
					return err
				}
				if err := place(filepath.Clean(folder), []file{{base, picture.Bytes()}}, other); err != nil {
					return err
				}
			}
			if c.Bool("quiet") {
				return nil
			}
			truingTable(s.Out, plan, report.Sizes[k])
			if base != "" {
				fmt.Fprintf(s.Out, "\ndrawn in %s\n", c.String("png"))
			}
			warn(s.Err, report, "")
			return nil
		},
	}
}

// truingTable prints a line for every seam of garments and facings, with its number in the
// picture.
func truingTable(w io.Writer, p *build.Plan, size build.SizeReport) {
	unit := p.Style.Units
	if len(size.Truing) == 0 {
		fmt.Fprintln(w, "No sides are joined at the hem.")
		return
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "seam\t\tlengths %s\tdiffer by\tnotches meet\tapart\them turns\them step\tcut step\tit is\t\n", unit)
	n := len(p.Sizes[0].Fit.Seams)
	for i, x := range size.Truing {
		apart := 0.0
		for _, q := range x.Matched {
			apart = max(apart, q.Apart)
		}
		notches := fmt.Sprintf("%d", len(x.Matched))
		if x.Unmatched > 0 {
			notches += fmt.Sprintf(", %d do not", x.Unmatched)
		}
		fmt.Fprintf(t, "%d\t%s + %s\t%s / %s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", i%n+1, x.A, x.B, unit.Text(x.ALength), unit.Text(x.BLength),
			unit.Text(abs(x.Difference)), notches, unit.Text(apart), angle(x.HemTurnDeg), unit.Text(abs(x.HemStep)), unit.Text(abs(x.CutStep)), x.Verdict)
	}
	t.Flush()
	fmt.Fprintf(w, "\nGood is up to %s %s in all of it, tolerated up to %s %s.\n", unit.Text(facing.GoodSeam), unit, unit.Text(facing.ToleratedSeam), unit)
}

// seamDrawing draws the rows of a size's garment pieces laid seam to seam, and those of its
// facings under them.
func seamDrawing(p *build.Plan, size int) plot.Drawing {
	of := p.Sizes[size]
	var seams []fit.Seam
	for _, s := range of.Fit.Seams {
		seams = append(seams, s.Seam)
	}
	title := p.Style.Name
	if of.Name != "" {
		title += ", size " + of.Name
	}
	d := plot.Drawing{Title: title + ": pieces laid seam to seam"}
	n := len(of.Fit.Panels)
	y := 0.0
	for _, pieces := range [][]facing.Piece{of.Pieces[:n], of.Pieces[n:]} {
		x, low := 0.0, y
		for _, row := range facing.Rows(pieces, seams) {
			groups := rowGroups(row)
			box := path.EmptyBox()
			for _, g := range groups {
				box = box.Union(g.Bounds())
			}
			by := path.Vec{X: x - box.Min.X, Y: y - box.Max.Y}
			for _, g := range groups {
				d.Groups = append(d.Groups, shifted(g, by))
			}
			x += box.Width() + rowGap
			low = min(low, y-box.Height())
		}
		y = low - rowGap
	}
	return d
}

// rowGroups draws the pieces of a row and marks its seams.
func rowGroups(row facing.Row) []plot.Group {
	var all []plot.Group
	for _, l := range row.Pieces {
		p := l.Piece
		g := plot.Group{Label: p.Name, Piece: &plot.Piece{Name: p.Name, Kind: p.Kind.String()}}
		add := func(r plot.Role, line path.Path) {
			g.Lines = append(g.Lines, plot.Line{Role: r, Path: line.Transform(l.Motion)})
		}
		add(plot.Cut, p.Cut())
		add(plot.Stitch, p.Net())
		if len(p.Hole.Net.V) > 0 {
			add(plot.Cut, p.Hole.Cut)
			add(plot.Stitch, p.Hole.Net)
		}
		for _, q := range p.Notches {
			add(plot.Notch, path.FromSegments(q.Line))
		}
		along := l.Motion.ApplyVec(path.Direction(p.Label.Angle))
		if along.X < 0 {
			along = along.Neg()
		}
		g.Texts = append(g.Texts, plot.Text{At: l.Motion.Apply(p.Label.At), Height: seamText, Angle: along.Angle(), Align: plot.Middle, String: p.Name})
		all = append(all, g)
	}
	for _, j := range row.Joins {
		// A tick and the number are a group of their own, so that they stay outside.
		end := j.At.Add(j.Up.Mul(-seamRoom))
		all = append(all, plot.Group{
			Lines: []plot.Line{{Path: path.Open(j.At.Add(j.Up.Mul(-seamRoom/2)), end)}},
			Texts: []plot.Text{{At: end.Add(path.Vec{Y: -1.4 * seamText}), Height: seamText, Align: plot.Middle, String: fmt.Sprintf("seam %d", j.Seam+1)}},
		})
	}
	return all
}

// shifted returns the group moved by the vector.
func shifted(g plot.Group, by path.Vec) plot.Group {
	m := path.Translation(by)
	for i := range g.Lines {
		g.Lines[i].Path = g.Lines[i].Path.Transform(m)
	}
	for i := range g.Texts {
		g.Texts[i].At = g.Texts[i].At.Add(by)
	}
	return g
}
