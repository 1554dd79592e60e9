package command

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing/turn"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"

	"github.com/urfave/cli/v2"
)

func turningCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "turning",
		Usage:     "show how the hem's allowance turns to the inside",
		UsageText: "engrail turning STYLE [--png FILE]",
		Description: "Plans slits, V notches, trimmed points and where the hem's allowance is trimmed narrower, folds it\n" +
			"over and shows what lies double and how wide it gapes, before and after, of garment, facing and lining\n" +
			"each. With --png it draws one repeat of the garment.",
		Flags: append(motifFlags(),
			&cli.StringFlag{Name: "png", Usage: "draw one repeat of the first panel in the picture `FILE`"},
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
			unit := plan.Style.Units
			t := grid{align: "lllrrrrrrrrrrr", rows: [][]string{{"piece", "layer", "size", "repeats", "slits", "Vs", "points", "narrower",
				"double mm2", "after", "extra " + string(unit), "after", "gap " + string(unit), "after"}}}
			var first *build.Turned
			for _, size := range plan.Sizes {
				all, err := plan.Turning(size)
				if err != nil {
					return err
				}
				for i, x := range all {
					if first == nil {
						first = &all[i]
					}
					m := widest(x.Repeats)
					slits, vs, points := counts(x.Plan)
					row := []string{x.Piece.Name, x.Piece.Kind.String(), orDash(size.Name)}
					for _, n := range []int{len(x.Repeats), slits, vs, points, len(x.Plan.Trims)} {
						row = append(row, strconv.Itoa(n))
					}
					t.add(append(row, fmt.Sprintf("%.1f", m.Before.Bulk), fmt.Sprintf("%.1f", m.After.Bulk),
						unit.Text(m.Before.Fullness), unit.Text(m.After.Fullness), unit.Text(m.Before.Gap), unit.Text(m.After.Gap))...)
				}
			}
			if c.IsSet("png") {
				if first == nil {
					return &usageError{"--png: no piece has a repeat from valley to valley", "try a narrower width"}
				}
				if err := drawTurning(c.String("png"), *first); err != nil {
					return err
				}
			}
			if !c.Bool("quiet") {
				if first == nil {
					fmt.Fprintln(s.Out, "No piece has a repeat from valley to valley with an allowance to turn.")
					return nil
				}
				t.print(s.Out)
				fmt.Fprintf(s.Out, "\nThe numbers are of the whole piece with all that helps, the figures the largest of its\n"+
					"repeats: before, with the allowance whole, and after. This style has\n"+
					"%s: see curves, notches, tips and on under turning.\n", snipsDrawn(plan.Style.Turning))
			}
			return nil
		},
	}
}

// counts returns how many slits, Vs and trimmed points a plan has.
func counts(p *turn.Plan) (slits, vs, points int) {
	for _, s := range p.Snips {
		if s.Kind == turn.V {
			vs++
		} else {
			slits++
		}
	}
	for _, t := range p.Tips {
		if len(t.Line.V) > 0 {
			points++
		}
	}
	return slits, vs, points
}

// snipsDrawn says what of a plan a style draws.
func snipsDrawn(t style.Turning) string {
	var all []string
	if t.Clips != "none" {
		all = append(all, "slits at valleys")
		if t.Curves {
			all[0] += " and on inward curves"
		}
	}
	if t.Notches != "none" {
		all = append(all, "V notches")
	}
	if t.Tips {
		all = append(all, "trimmed points")
	}
	if t.Tips || t.Notches != "none" {
		all = append(all, "where tight curves are trimmed narrower")
	}
	if len(all) == 0 {
		return "none of it"
	}
	return strings.Join(all, ", ") + map[string]string{"garment": ", on the garment alone", "facing": ", on the facing alone", "staggered": ", staggered"}[t.On]
}

// widest returns the largest figures of all repeats.
func widest(all []turn.Repeat) turn.Repeat {
	m := all[0]
	for _, r := range all {
		for _, x := range [2]struct{ to, from *turn.Fold }{{&m.Before, &r.Before}, {&m.After, &r.After}} {
			*x.to = turn.Fold{Bulk: max(x.to.Bulk, x.from.Bulk), Fullness: max(x.to.Fullness, x.from.Fullness), Gap: max(x.to.Gap, x.from.Gap)}
		}
	}
	return m
}

// drawTurning draws the repeat in the middle, flat with its snips, and turned in slices
// without and with them.
func drawTurning(name string, x build.Turned) error {
	folder, base := filepath.Split(name)
	if base == "" {
		return &usageError{fmt.Sprintf("--png: %q names no file", name), "give it a name, such as --png turning.png"}
	}
	r := x.Repeats[len(x.Repeats)/2]
	hem := path.NewRuler(x.Piece.Edges[0].Net)
	net := hem.Sub(r.From, r.To)
	cut := path.NewRuler(x.Piece.Edges[0].Cut)
	from, _ := cut.Nearest(hem.At(r.From))
	to, _ := cut.Nearest(hem.At(r.To))
	flat := []plot.Line{{Role: plot.Stitch, Path: net}, {Role: plot.Cut, Path: cut.Sub(from, to)}}
	snipped := flat
	for _, s := range x.Plan.Snips {
		if s.At >= r.From-0.01 && s.At <= r.To+0.01 {
			snipped = append(snipped[:len(snipped):len(snipped)], plot.Line{Role: plot.Clip, Path: s.Line})
		}
	}
	for _, t := range x.Plan.Tips {
		if t.From >= r.From && t.To <= r.To && len(t.Line.V) > 0 {
			snipped = append(snipped[:len(snipped):len(snipped)], plot.Line{Role: plot.Mark, Path: t.Line})
		}
	}
	for _, t := range x.Plan.Trims {
		if t.From >= r.From-x.Plan.Options.Allowance && t.To <= r.To+x.Plan.Options.Allowance {
			snipped = append(snipped[:len(snipped):len(snipped)], plot.Line{Role: plot.Mark, Path: t.Line})
		}
	}
	turned := func(lines []plot.Line) []plot.Line {
		out := []plot.Line{{Role: plot.Stitch, Path: net}}
		for _, l := range lines[1:] {
			if l.Role == plot.Clip && len(l.Path.V) == 2 {
				// A slit has a side on each part of the hem, and these move apart.
				at, _ := hem.Nearest(l.Path.End())
				beside := (r.To - r.From) / 2
				for _, side := range [2][2]float64{{max(r.From, at-beside), at}, {at, min(r.To, at+beside)}} {
					if side[1]-side[0] > 1 {
						out = append(out, plot.Line{Role: l.Role, Path: folded(path.NewRuler(hem.Sub(side[0], side[1])), l.Path)})
					}
				}
				continue
			}
			out = append(out, plot.Line{Role: l.Role, Path: folded(path.NewRuler(net), l.Path)})
		}
		return out
	}
	cell := func(lines []plot.Line, row string, caption ...string) png.Cell {
		return png.Cell{Drawing: plot.Drawing{Groups: []plot.Group{{Lines: lines}}}, Row: row, Caption: caption}
	}
	said := func(f turn.Fold) string {
		return fmt.Sprintf("%.0f mm2 double, %.1f mm extra edge, gap %.1f mm", f.Bulk, f.Fullness, f.Gap)
	}
	cells := []png.Cell{
		cell(flat, "Flat", "as cut"), cell(snipped, "", "with its snips"),
		cell(turned(flat), "Turned to the inside", "as cut", said(r.Before)), cell(turned(snipped), "", "with its snips", said(r.After)),
	}
	var picture bytes.Buffer
	if err := png.WriteSheet(&picture, cells, png.Options{Title: "Turning: one repeat of " + x.Piece.Panel, NoLegend: true}); err != nil {
		return err
	}
	return place(filepath.Clean(folder), []file{{base, picture.Bytes()}}, "choose another file with --png")
}

// folded returns a line of the allowance where it lies when it is turned: each of its
// points on the other side of the hem, on the same normal.
func folded(hem *path.Ruler, line path.Path) path.Path {
	r := path.NewRuler(line)
	const step = 0.25
	n := max(2, int(r.Length()/step))
	points := make([]path.Point, 0, n+1)
	for i := range n + 1 {
		q := r.At(r.Length() * float64(i) / float64(n))
		along, _ := hem.Nearest(q)
		foot := hem.At(along)
		points = append(points, foot.Add(foot.Sub(q)))
	}
	return path.Open(points...)
}
