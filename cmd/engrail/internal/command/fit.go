package command

import (
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"

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
			&cli.BoolFlag{Name: "why", Usage: "tell why these counts were chosen, and what comes next"},
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
			if c.Bool("why") {
				whyChosen(s.Out, plan)
			}
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
			if len(panel.Runs) == 1 {
				fmt.Fprintf(t, "%s\t%s\t%s\t%d\t%s\t%s\t%s\t%s\t\n", panel.Name, orDash(size.Size), hem, panel.Repeats,
					length(panel.RepeatWidth), signed(off, unit), panel.Start, panel.Finish)
				continue
			}
			for n, run := range panel.Runs {
				name := fmt.Sprintf("%s, run %d", panel.Name, n+1)
				if run.Repeats == 0 {
					fmt.Fprintf(t, "%s\t%s\t%s\t-\t-\t-\t%s\t%s\t\n", name, orDash(size.Size), hem, run.Start, run.Finish)
					continue
				}
				off := run.Width - float64(m.Width)
				fmt.Fprintf(t, "%s\t%s\t%s\t%g\t%s\t%s\t%s\t%s\t\n", name, orDash(size.Size), hem, run.Repeats, length(run.Width), signed(off, unit), run.Start, run.Finish)
			}
		}
	}
	t.Flush()
	if len(p.Sizes) > 1 {
		overSizes(w, p)
	}

	seamTable(w, p, report)
	facing := 0.0
	for _, size := range p.Sizes {
		for _, x := range size.FacingSeams {
			facing = max(facing, abs(x.ALength-x.BLength))
		}
	}
	if len(p.Sizes[0].FacingSeams) > 0 {
		fmt.Fprintf(w, "\nThe facings' side seams agree within %s %s.\n", unit.Text(facing), unit)
	}
	gap, joined := 0.0, false
	for _, size := range p.Sizes {
		for _, c := range size.Closings {
			gap, joined = max(gap, c.Gap), true
		}
	}
	if joined {
		fmt.Fprintf(w, "Laid out flat in one piece, they close within %s %s.\n", unit.Text(gap), unit)
	}
	favourLine(w, p)
}

// favourLine says how much smaller than the garments the facings are, and what that
// leaves to be eased in.
func favourLine(w io.Writer, p *build.Plan) {
	unit := p.Style.Units
	favour, most, where := 0.0, 0.0, ""
	for _, size := range p.Sizes {
		for i, v := range size.Favours {
			favour = v.Inward + v.Outward
			if where == "" || abs(v.PerRepeat) > abs(most) {
				most, where = v.PerRepeat, size.Fit.Panels[i].Panel.Name
			}
		}
	}
	if favour == 0 {
		return
	}
	on := "on the facing"
	if p.Style.Facing.FavourOn == style.FavourOnBoth {
		on = "half on the facing and half on the garment"
	}
	longer := "garment's"
	if most < 0 {
		longer = "facing's"
	}
	ease := fmt.Sprintf("per repeat the %s line is at most %s %s longer (%s), which is eased in", longer, unit.Text(abs(most)), unit, where)
	if unit.Text(abs(most)) == unit.Text(0) {
		ease = "both lines are as long, and nothing is eased in"
	}
	fmt.Fprintf(w, "\nFavour %s %s %s; %s.\n", unit.Text(favour), unit, on, ease)
}

// seamTable prints a line for every seam; sizes one after the other that are alike in it share
// one.
func seamTable(w io.Writer, p *build.Plan, report *build.Report) {
	length := p.Style.Units.Text
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	for i := range p.Sizes[0].Fit.Seams {
		if i == 0 {
			fmt.Fprintf(t, "\nseam\tsize\tlengths %s\tdiffer by\them turns\t\n", p.Style.Units)
		}
		first, last, figures := "", "", ""
		end := func() {
			if first != last {
				first += " to " + last
			}
			row := report.Sizes[0].Seams[i]
			fmt.Fprintf(t, "%s + %s\t%s\t%s\n", row.A, row.B, orDash(first), figures)
		}
		for k, size := range p.Sizes {
			x, row := size.Fit.Seams[i], report.Sizes[k].Seams[i]
			now := fmt.Sprintf("%s / %s\t%s\t%s\t", length(x.ALength), length(x.BLength), length(abs(row.Difference)), angle(row.HemTurnDeg))
			if now != figures {
				if figures != "" {
					end()
				}
				first, figures = size.Name, now
			}
			last = size.Name
		}
		end()
	}
	t.Flush()
}

// overSizes prints the repeats of every panel in every size, and why they are so
// many.
func overSizes(w io.Writer, p *build.Plan) {
	unit := p.Style.Units
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "\nsize\t")
	for _, f := range p.Sizes[0].Fit.Panels {
		fmt.Fprintf(t, "%s %s\t", f.Panel.Name, unit)
	}
	fmt.Fprintln(t)
	for _, size := range p.Sizes {
		fmt.Fprintf(t, "%s\t", size.Name)
		for _, f := range size.Fit.Panels {
			fmt.Fprintf(t, "%d x %s\t", f.Repeats, unit.Text(f.Width))
		}
		fmt.Fprintln(t)
	}
	t.Flush()
	switch {
	case p.Held != nil:
	case !slices.ContainsFunc(p.Sizes[0].Fit.Panels, func(f fit.Fitted) bool { return f.Panel.Count == 0 }):
		return // all of them are the style's
	default:
		fmt.Fprintln(w, "\nThe width is held: larger sizes have more repeats. With \"hold: count\" all have as many.")
		return
	}
	fmt.Fprint(w, "\nThe count is held: larger sizes have wider repeats. Chosen are the numbers whose widths\n"+
		"are most alike in all panels and nearest to the wanted one over all sizes.\n")
	widths := func(o fit.HeldOption) string {
		return fmt.Sprintf("%s to %s %s", unit.Text(o.Narrow), unit.Text(o.Wide), unit)
	}
	for k, f := range p.Sizes[0].Fit.Panels {
		held := p.Held[k]
		fmt.Fprintf(w, "  %s: %d repeats of %s", f.Panel.Name, held.Repeats, widths(held.Chosen()))
		sign := "; "
		for _, o := range held.Options {
			if o.Repeats == held.Repeats-1 || o.Repeats == held.Repeats+1 {
				fmt.Fprintf(w, "%s%d would be %s", sign, o.Repeats, widths(o))
				sign = ", "
			}
		}
		fmt.Fprintln(w)
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
