package command

import (
	"fmt"
	"io"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/fit"
)

// nextBest is how many other choices are told.
const nextBest = 3

// whyChosen tells why the counts were chosen, which come next, and how wide the
// motifs are where their hem is curved.
func whyChosen(w io.Writer, p *build.Plan) {
	unit := p.Style.Units
	fmt.Fprintf(w, "\nWhy: of all counts whose widths keep within the limits, those were chosen whose widths differ least\n"+
		"from one another over the garment, to 0.1 mm, and of these those that come nearest to the wanted %s %s.\n\n",
		unit.Text(float64(p.Style.Motif.Width)), unit)
	option := func(o fit.CountOption) string { return fmt.Sprintf("%g x %s", o.Repeats, unit.Text(o.Width)) }
	g := grid{align: "lll", indent: 2, rows: [][]string{{"panel", "chosen", "also possible"}}}
	next := grid{align: "lrrl", indent: 2, rows: [][]string{{"", "differ by", "furthest off", "with"}}}
	for _, size := range p.Sizes {
		c := size.Fit.Choice
		for _, r := range c.Runs {
			var others []string
			for i, o := range r.Options {
				if i != r.Chosen {
					others = append(others, option(o))
				}
			}
			also := strings.Join(others, ", ")
			switch {
			case r.Fixed:
				also = "its count is fixed"
			case also == "":
				also = "nothing else is within the limits"
			}
			g.add(runName(r), option(r.Options[r.Chosen]), also)
		}
		next.add(strings.TrimSpace(size.Name+" chosen"), unit.Text(c.Spread), unit.Text(c.Worst), "")
		for _, a := range c.Next(nextBest) {
			var changes []string
			for _, ch := range a.Changes {
				r := c.Runs[ch.Run]
				r.Size = ""
				changes = append(changes, runName(r)+" "+option(r.Options[ch.Option]))
			}
			next.add("next", unit.Text(a.Spread), unit.Text(a.Worst), some(changes))
		}
	}
	g.print(w)
	fmt.Fprintln(w, "\nhow much widths differ over the garment, and how far the furthest is off the wanted one")
	next.print(w)
	curved := grid{align: "lrr", indent: 2, rows: [][]string{{"panel", "from valley to valley", "from peak to peak"}}}
	for _, size := range p.Sizes {
		for _, f := range size.Fit.Panels {
			for i, r := range f.Runs {
				if r.AtPeaks[1] == 0 || r.AtValleys[1] == 0 {
					continue
				}
				name := fit.ChosenRun{Panel: f.Panel.Name, Size: f.Panel.Size}
				if len(f.Runs) > 1 {
					name.Run = i + 1
				}
				span := func(d [2]float64) string {
					if a, b := unit.Text(d[0]), unit.Text(d[1]); a != b {
						return a + " to " + b
					}
					return unit.Text(d[0])
				}
				curved.add(runName(name), span(r.AtValleys), span(r.AtPeaks))
			}
		}
	}
	if len(curved.rows) > 1 {
		fmt.Fprintf(w, "\nstraight distances, which a curved hem makes wider on its outer line\n")
		curved.print(w)
	}
}

// runName names a run for people.
func runName(r fit.ChosenRun) string {
	name := r.Panel
	if r.Size != "" {
		name += " " + r.Size
	}
	if r.Run > 0 {
		name += fmt.Sprintf(", run %d", r.Run)
	}
	return name
}
