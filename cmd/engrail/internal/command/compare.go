package command

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/motif"

	"github.com/urfave/cli/v2"
)

// The ways in which alternatives differ, in the order in which they are shown.
const (
	byCounts = "counts"
	byShapes = "shapes"
	byDepths = "depths"
)

func compareCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "compare",
		Usage:     "show a hem in other counts, shapes and depths, to choose by eye",
		UsageText: "engrail compare STYLE [--png FILE] [--panel NAME] [--size NAME] [--by counts|shapes|depths]",
		Description: "Fits the hem of a panel as the style has it, with one repeat more and one less, in every\n" +
			"shape, and in other depths up to the largest that works, and shows the figures of each.\n" +
			"With --png it draws them at one scale on one sheet, the style's own in a blue frame: the\n" +
			"shaped hem, the hem line as drafted (thin) and the facing's inner edge (dashed).",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "png", Usage: "draw the alternatives in the picture `FILE`"},
			&cli.StringFlag{Name: "panel", Usage: "show the panel `NAME`; left out, the first"},
			&cli.StringFlag{Name: "size", Usage: "show the size `NAME`; left out, the first"},
			&cli.StringFlag{Name: "by", Usage: "show only what differs in `WORD`: " + strings.Join(ways(), ", ")},
		}, append(motifFlags(), quietFlag())...),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			by := ways()
			if c.IsSet("by") {
				word := c.String("by")
				if !slices.Contains(by, word) {
					return &usageError{fmt.Sprintf("--by: nothing is called %q", word), suggest(word, by, "it is one of "+strings.Join(by, ", "))}
				}
				by = []string{word}
			}
			t, err := newTrial(c, name)
			if err != nil {
				return err
			}
			all := t.alternatives(by)
			if c.IsSet("png") {
				if err := t.draw(c.String("png"), all); err != nil {
					return err
				}
			}
			if c.Bool("quiet") {
				return nil
			}
			t.table(s.Out, all)
			if c.IsSet("png") {
				fmt.Fprintf(s.Out, "\ndrawn in %s\n", c.String("png"))
			}
			return nil
		},
	}
}

func ways() []string { return []string{byCounts, byShapes, byDepths} }

// trial builds a style with changes, and looks at one panel in one size.
type trial struct {
	fresh       func() (*style.Style, error)
	files       build.Files
	inputs      []string    // the files that are read
	plan        *build.Plan // as the style has it
	size, panel int
}

// alternative is the style with one change.
type alternative struct {
	by, name string
	chosen   bool // by the style
	plan     *build.Plan
	err      error // why it cannot be, in place of the plan
}

func newTrial(c *cli.Context, name string) (*trial, error) {
	data, err := readFile(name, otherStyle(name))
	if err != nil {
		return nil, err
	}
	t := &trial{inputs: []string{name}}
	t.files = remembered(filesFor(name, otherPlace(name), &t.inputs))
	t.fresh = func() (*style.Style, error) { return parse(c, name, data) }
	s, err := t.fresh()
	if err != nil {
		return nil, err
	}
	if t.plan, err = build.New(s, t.files); err != nil {
		return nil, err
	}
	var sizes, panels []string
	for _, x := range t.plan.Sizes {
		sizes = append(sizes, x.Name)
	}
	for _, f := range t.plan.Sizes[0].Fit.Panels {
		panels = append(panels, f.Panel.Name)
	}
	if t.panel, err = pick(c, "panel", panels); err != nil {
		return nil, err
	}
	if c.IsSet("size") && len(sizes) == 1 && sizes[0] == "" {
		return nil, &usageError{fmt.Sprintf("--size: no size is called %q", c.String("size")), "the style has one size; leave --size out"}
	}
	t.size, err = pick(c, "size", sizes)
	return t, err
}

// pick returns the index of the name that an option gives, 0 without it.
func pick(c *cli.Context, option string, names []string) (int, error) {
	if !c.IsSet(option) {
		return 0, nil
	}
	word := c.String(option)
	i := slices.Index(names, word)
	if i < 0 {
		return 0, &usageError{fmt.Sprintf("--%s: no %s is called %q", option, option, word),
			suggest(word, names, fmt.Sprintf("the %ss are %s", option, strings.Join(names, ", ")))}
	}
	return i, nil
}

// fitted returns the panel that is shown.
func (t *trial) fitted(p *build.Plan) fit.Fitted { return p.Sizes[t.size].Fit.Panels[t.panel] }

// build builds the style with a change.
func (t *trial) build(change func(s *style.Style)) (*build.Plan, error) {
	s, err := t.fresh()
	if err != nil {
		return nil, err
	}
	change(s)
	return build.New(s, t.files)
}

func (t *trial) alternatives(by []string) (all []alternative) {
	for _, word := range by {
		switch word {
		case byCounts:
			all = append(all, t.counts()...)
		case byShapes:
			all = append(all, t.shapes()...)
		case byDepths:
			all = append(all, t.depths()...)
		}
	}
	return all
}

// counts has one repeat less, as many as the style gives, and one more.
func (t *trial) counts() (all []alternative) {
	n := t.fitted(t.plan).Repeats
	for _, k := range []int{n - 1, n, n + 1} {
		a := alternative{by: byCounts, name: fmt.Sprintf("%d repeats", k), chosen: k == n, plan: t.plan}
		switch {
		case k < 1:
			continue
		case k != n:
			a.plan, a.err = t.build(func(s *style.Style) { t.setCount(s, k) })
		}
		all = append(all, a)
	}
	return all
}

// setCount fixes the count of the panel in the size that is shown, in all sizes
// when the style holds the count.
func (t *trial) setCount(s *style.Style, n int) {
	s.Sizes = slices.Clone(t.plan.Style.Sizes) // those of the pattern, too
	for i := range s.Sizes {
		if i == t.size || s.Motif.Hold == style.HoldCount {
			s.Sizes[i].Panels = slices.Clone(s.Sizes[i].Panels)
			s.Sizes[i].Panels[t.panel].Count = n
		}
	}
}

// shapes has the style's shape and all others.
func (t *trial) shapes() (all []alternative) {
	words := shapes()
	own := t.plan.Style.Motif.Shape
	if own == motif.Own.String() {
		words = append([]string{own}, words...)
	}
	for _, word := range words {
		a := alternative{by: byShapes, name: word, chosen: word == own, plan: t.plan}
		if !a.chosen {
			a.plan, a.err = t.build(func(s *style.Style) {
				// The details are those of the style's shape.
				m := &s.Motif
				m.Shape, m.Sequence = word, nil
				m.Tip, m.Valley, m.Own, m.Mark, m.Turn = style.Tip{}, style.Valley{}, style.Own{}, style.Mark{}, false
				switch word {
				case motif.Bulb.String(), motif.Tab.String(), motif.Stepped.String(), motif.Dovetailed.String():
					m.Flat = 0 // a gap of their own looks right
				}
			})
		}
		all = append(all, a)
	}
	return all
}

const (
	// depthStep (length, mm) is how near the depth that is called the largest is to
	// it, and below it.
	depthStep = 0.1
	// depthReach is how many times as deep as the style's depth it is looked for.
	depthReach = 4
)

// depths has three quarters of the style's depth, that, five quarters, and the
// largest that works.
func (t *trial) depths() (all []alternative) {
	d := float64(t.plan.Style.Motif.Depth)
	at := func(depth float64) (*build.Plan, error) {
		return t.build(func(s *style.Style) { s.Motif.Depth = style.Length(depth) })
	}
	unit := t.plan.Style.Units
	for _, depth := range []float64{0.75 * d, d, 1.25 * d} {
		a := alternative{by: byDepths, name: fmt.Sprintf("%s %s deep", unit.Text(depth), unit), chosen: depth == d, plan: t.plan}
		if !a.chosen {
			a.plan, a.err = at(depth)
		}
		all = append(all, a)
	}
	low, high := d, depthReach*d
	best := t.plan
	if _, err := at(high); err == nil {
		return all // nothing that a hem is made in limits it
	}
	for high-low > depthStep {
		middle := (low + high) / 2
		if p, err := at(middle); err == nil {
			low, best = middle, p
		} else {
			high = middle
		}
	}
	if low > d {
		all = append(all, alternative{by: byDepths, name: fmt.Sprintf("%s %s, the deepest", unit.Text(low), unit), plan: best})
	}
	return all
}

// figures are those of an alternative: lengths in mm.
type figures struct {
	repeats               int
	width, depth          float64
	off                   float64
	edge                  float64 // of the half, of a panel on the fold
	spread                float64 // of the widths in all panels of the size
	onFold                bool
	warnings, newWarnings []fit.Warning
}

func (t *trial) figures(p *build.Plan) figures {
	f := t.fitted(p)
	x := figures{
		repeats: f.Repeats, width: f.Width, depth: f.Spec.Depth, off: f.Width - float64(p.Style.Motif.Width),
		edge: f.Edge.Length(), onFold: f.Panel.OnFold(), warnings: p.Warnings,
	}
	least, most := math.Inf(1), 0.0
	for _, f := range p.Sizes[t.size].Fit.Panels {
		if f.Repeats > 0 {
			least, most = min(least, f.Width), max(most, f.Width)
		}
	}
	x.spread = max(0, most-least)
	for _, w := range p.Warnings {
		if p == t.plan || !slices.Contains(t.plan.Warnings, w) {
			x.newWarnings = append(x.newWarnings, w)
		}
	}
	return x
}

// edgeText writes the length of the shaped hem, that of a half twice.
func (x figures) edgeText(unit style.Unit) string {
	if x.onFold {
		return "2 x " + unit.Text(x.edge)
	}
	return unit.Text(x.edge)
}

// title names what is shown.
func (t *trial) title() string {
	title := fmt.Sprintf("%s, %s", t.plan.Style.Name, t.fitted(t.plan).Panel.Name)
	if size := t.plan.Sizes[t.size].Name; size != "" {
		title += ", size " + size
	}
	return title
}

// table prints the figures, and under them why some cannot be and what is to be
// looked at.
func (t *trial) table(w io.Writer, all []alternative) {
	unit := t.plan.Style.Units
	length := unit.Text
	fmt.Fprintf(w, "%s: lengths in %s, the style's own with *\n\n", t.title(), unit)
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "\trepeats\twidth\toff by\tdepth\tedge\tspread\t\n")
	var notes []string
	for i, a := range all {
		if a.err != nil {
			notes = append(notes, fmt.Sprintf("%s cannot be: %v", a.name, reasonFor(a.err)))
			continue
		}
		x := t.figures(a.plan)
		name := a.name
		if a.chosen {
			name = "* " + name
		}
		fmt.Fprintf(tw, "%s\t%d\t%s\t%s\t%s\t%s\t%s\t\n", name, x.repeats, length(x.width), signed(x.off, unit), length(x.depth), x.edgeText(unit), length(x.spread))
		if a.plan == t.plan && slices.ContainsFunc(all[:i], func(b alternative) bool { return b.plan == t.plan }) {
			continue // said already
		}
		for _, m := range x.newWarnings {
			notes = append(notes, fmt.Sprintf("%s: %s: %s: %s", a.name, m.Level, m.Where, m.Message))
		}
	}
	tw.Flush()
	fmt.Fprint(w, "\nSpread is that of the widths in all panels.\n")
	for i, n := range notes {
		if i == 0 {
			fmt.Fprintln(w)
		}
		fmt.Fprintln(w, n)
	}
}

// reasonFor words why an alternative cannot be, with its remedy.
func reasonFor(err error) string {
	var known interface{ Remedy() string }
	if !errors.As(err, &known) {
		return err.Error()
	}
	return strings.TrimSuffix(err.Error()+"; "+cmp.Or(known.Remedy(), ""), "; ")
}
