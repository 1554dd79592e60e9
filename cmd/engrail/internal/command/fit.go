package command

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

func fitCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "fit",
		Usage:     "show how the motif fits each panel",
		UsageText: "engrail fit STYLE [--width 55mm ...]",
		Description: "Fits the motif to the hem of every panel in every size and shows the figures, without\n" +
			"writing files. Values on the command line are tried in place of the style file's.",
		Flags: append(motifFlags(),
			&cli.BoolFlag{Name: "json", Usage: "print the report as JSON, lengths in mm"},
			quietFlag()),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			plan, _, err := load(c, name)
			if err != nil {
				return err
			}
			if c.Bool("json") {
				content, err := plan.Report().JSON()
				if err != nil {
					return err
				}
				_, err = s.Out.Write(content)
				return err
			}
			if c.Bool("quiet") {
				return nil
			}
			report := plan.Report()
			table(s.Out, plan, report)
			warn(s.Err, report, "")
			return nil
		},
	}
}

// table prints a line for every panel and seam.
func table(w io.Writer, p *build.Plan, report *build.Report) {
	unit := p.Style.Units
	length := unit.Text
	m := p.Style.Motif
	fmt.Fprintf(w, "%s: %s, wanted %s x %s %s\n\n", p.Style.Name, m.Shape, length(float64(m.Width)), length(float64(m.Depth)), unit)

	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "panel\tsize\them %s\trepeats\twidth %s\toff by\tstart\tfinish\t\n", unit, unit)
	for k, size := range report.Sizes {
		for i, panel := range size.Panels {
			hem := length(panel.Hem)
			if p.Sizes[k].Fit.Panels[i].Panel.OnFold() {
				hem = "2 x " + hem
			}
			off := panel.RepeatWidth - float64(m.Width)
			fmt.Fprintf(t, "%s\t%s\t%s\t%d\t%s\t%s\t%s\t%s\t\n", panel.Name, orDash(size.Size), hem, panel.Repeats,
				length(panel.RepeatWidth), signed(off, unit), panel.Start, panel.Finish)
		}
	}
	t.Flush()

	t = tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	garment, facing := 0, 0.0
	for k, size := range p.Sizes {
		for i, x := range size.Fit.Seams {
			if garment == 0 {
				fmt.Fprintf(t, "\nseam\tsize\tlengths %s\tdiffer by\them turns\t\n", unit)
			}
			garment++
			row := report.Sizes[k].Seams[i]
			fmt.Fprintf(t, "%s + %s\t%s\t%s / %s\t%s\t%s\t\n", row.A, row.B, orDash(size.Name),
				length(x.ALength), length(x.BLength), length(abs(row.Difference)), angle(row.HemTurnDeg))
		}
		for _, x := range size.FacingSeams {
			facing = max(facing, abs(x.ALength-x.BLength))
		}
	}
	t.Flush()
	if garment > 0 && float64(p.Style.Facing.Depth) > 0 {
		fmt.Fprintf(w, "\nThe facings' side seams agree within %s %s.\n", unit.Text(facing), unit)
	}
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

func abs(x float64) float64 { return max(x, -x) }

// angle writes an angle to a tenth of a degree, 0 without a sign.
func angle(degrees float64) string {
	return fmt.Sprintf("%.1f°", math.Round(degrees*10)/10+0)
}

func signed(mm float64, unit style.Unit) string {
	text := unit.Text(abs(mm))
	switch {
	case unit.Text(0) == text:
		return text
	case mm < 0:
		return "-" + text
	}
	return "+" + text
}
