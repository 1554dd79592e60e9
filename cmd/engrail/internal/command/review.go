package command

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/facing/advice"
	"engrail/fit"

	"github.com/urfave/cli/v2"
)

func reviewCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "review",
		Usage:     "say what a careful pattern maker would say of a style",
		UsageText: "engrail review STYLE [--size NAME] [--all]",
		Description: "Looks over the design before anything is cut: the facing's depth, allowances, valleys, points,\n" +
			"clips, widths, seams, notches and grain. What is meant to be so can be accepted by its name in\n" +
			"the style file, such as \"accept: [facing-on-valley]\". With an error it exits with 1.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "size", Usage: "look at the size `NAME` alone"},
			&cli.BoolFlag{Name: "all", Usage: "tell what is fine as well, with its figures"},
			quietFlag(),
		}, motifFlags()...),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			plan, _, err := load(c, name)
			if err != nil {
				return err
			}
			sizes, err := sizesOf(plan, c)
			if err != nil {
				return err
			}
			found := remarks(sizes)
			if !c.Bool("quiet") {
				tellChecks(s.Out, plan.Style.Name, found, c.Bool("all"))
			}
			var grave []string
			for _, r := range found {
				if r.is(fit.LevelError, false) {
					grave = append(grave, r.findings[0].Name)
				}
			}
			if grave = slices.Compact(grave); len(grave) > 0 {
				return &fileError{fmt.Sprintf("%s cannot be sewn as it is: %s", name, strings.Join(grave, ", ")),
					fmt.Sprintf("change what they tell of, or accept them in the style file with accept: [%s]", strings.Join(grave, ", ")), nil}
			}
			return nil
		},
	}
}

// sizesOf returns the sizes of the plan, or the one that the command line names.
func sizesOf(plan *build.Plan, c *cli.Context) ([]build.Size, error) {
	if !c.IsSet("size") {
		return plan.Sizes, nil
	}
	word := c.String("size")
	var names []string
	for _, s := range plan.Sizes {
		if s.Name == word {
			return []build.Size{s}, nil
		}
		names = append(names, s.Name)
	}
	if len(names) == 1 && names[0] == "" {
		return nil, &usageError{"--size: the style has one size, without a name", "leave it out"}
	}
	return nil, &usageError{fmt.Sprintf("--size: no size is called %q", word), suggest(word, names, "the sizes are "+strings.Join(names, ", "))}
}

// remark is what is said in the same words of one or more places.
type remark struct {
	findings []advice.Finding
	places   []string
}

// remarks gathers the findings of the sizes, in the order of the checks.
func remarks(sizes []build.Size) []remark {
	var all []remark
	var wheres [][]string          // of each remark, without sizes
	in := map[[2]string][]string{} // the sizes of a remark's name and message at a place
	for _, size := range sizes {
		for _, f := range size.Checks {
			i := slices.IndexFunc(all, func(r remark) bool {
				one := r.findings[0]
				return one.Name == f.Name && one.Level == f.Level && one.Message == f.Message
			})
			if i < 0 {
				i = len(all)
				all, wheres = append(all, remark{}), append(wheres, nil)
			}
			all[i].findings = append(all[i].findings, f)
			if !slices.Contains(wheres[i], f.Where) {
				wheres[i] = append(wheres[i], f.Where)
			}
			key := [2]string{f.Name + f.Message, f.Where}
			in[key] = append(in[key], size.Name)
		}
	}
	for i, r := range all {
		f := r.findings[0]
		for _, where := range wheres[i] {
			names := in[[2]string{f.Name + f.Message, where}]
			where = cmp.Or(where, "the whole garment")
			switch {
			case len(names) == len(sizes):
			case len(names) == 1:
				where += " in size " + names[0]
			default:
				where += " in sizes " + strings.Join(names, ", ")
			}
			all[i].places = append(all[i].places, where)
		}
	}
	order := advice.Names()
	slices.SortStableFunc(all, func(a, b remark) int {
		return slices.Index(order, a.findings[0].Name) - slices.Index(order, b.findings[0].Name)
	})
	return all
}

// figures writes the figures of the findings, as ranges where they differ.
func (r remark) figures() string {
	var words []string
	for i, x := range r.findings[0].Figures {
		least, most := x.Value, x.Value
		for _, f := range r.findings {
			if i < len(f.Figures) && f.Figures[i].Name == x.Name {
				least, most = min(least, f.Figures[i].Value), max(most, f.Figures[i].Value)
			}
		}
		form, unit := "%.1f", " "+string(x.Unit)
		if x.Unit == advice.Count {
			form, unit = "%.0f", ""
		}
		figure := fmt.Sprintf(form, least)
		if other := fmt.Sprintf(form, most); other != figure {
			figure += " to " + other
		}
		words = append(words, x.Name+" "+figure+unit)
	}
	return strings.Join(words, ", ")
}

// is reports whether the remark has the level and whether it is accepted.
func (r remark) is(l fit.Level, accepted bool) bool {
	return r.findings[0].Level == l && r.findings[0].Accepted == accepted
}

// tellChecks prints the findings by level, those that are accepted for themselves.
func tellChecks(w io.Writer, style string, found []remark, all bool) {
	groups := []struct {
		title, one string
		has        func(remark) bool
		shown      bool
	}{
		{"errors", "error", func(r remark) bool { return r.is(fit.LevelError, false) }, true},
		{"warnings", "warning", func(r remark) bool { return r.is(fit.LevelWarning, false) }, true},
		{"notes", "note", func(r remark) bool { return r.is(fit.LevelNote, false) }, true},
		{"accepted", "accepted", func(r remark) bool { return r.findings[0].Accepted }, true},
		{"fine", "fine", func(r remark) bool { return r.is(fit.LevelFine, false) }, all},
	}
	var counts []string
	for _, g := range groups {
		n := 0
		for _, r := range found {
			if g.has(r) {
				n += len(r.findings)
			}
		}
		if n > 0 || g.title == "errors" || g.title == "warnings" {
			counts = append(counts, howMany(n, g.one, g.title))
		}
	}
	fmt.Fprintf(w, "%s: %s\n", style, strings.Join(counts, ", "))
	for _, g := range groups {
		table := grid{align: "ll", indent: 2}
		for _, r := range found {
			if !g.shown || !g.has(r) {
				continue
			}
			f := r.findings[0]
			table.add(f.Name, strings.Join(r.places, "; "))
			table.add("", f.Message)
			if said := r.figures(); said != "" {
				table.add("", "("+said+")")
			}
			if f.Remedy != "" {
				table.add("", "remedy: "+f.Remedy)
			}
		}
		if len(table.rows) > 0 {
			fmt.Fprintf(w, "\n%s\n", g.title)
			table.print(w)
		}
	}
}
