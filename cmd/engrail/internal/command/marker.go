package command

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
	"engrail/plot/marker"

	"github.com/urfave/cli/v2"
)

// What a marker has where the command line says nothing, in mm: half an inch at each
// selvage (common practice), 2 cm at each end (Industrial Cutting of Textile Materials,
// p. 37: 2 to 4), and 3 mm between pieces (ordinary buffers are 0 to 3 mm, from memory).
const (
	usualSelvage = "12.7mm"
	usualEnd     = "20mm"
	usualGap     = "3mm"
)

func markerCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "marker",
		Usage:     "lay the pieces on cloth, in as little of it as is found",
		UsageText: "engrail marker STYLE [--cloth WIDTH] [--order SIZE=NUMBER] [--folded] [--effort 1-9 | --time 30s] [--out DIR]",
		Description: "Lays the pieces of an order on cloth and writes the marker: a picture, the style's other formats, and\n" +
			"the layout, from which --start goes on. In place of a style it takes a pattern (SVG or DXF) with all\n" +
			"its pieces, or items in JSON. Every marker is proved before it is written: all pieces there, on grain,\n" +
			"nowhere nearer than the gap. Ctrl-C ends the search and keeps the best so far.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "cloth", Usage: "lay on cloth of the whole `WIDTH`, such as 140cm or 45in; left out, that of the style"},
			&cli.StringFlag{Name: "selvage", Usage: "keep a `WIDTH` clear along each selvage", Value: usualSelvage},
			&cli.StringFlag{Name: "end", Usage: "leave a `LENGTH` at each end", Value: usualEnd},
			&cli.StringFlag{Name: "gap", Usage: "keep a `DISTANCE` between pieces", Value: usualGap},
			&cli.StringFlag{Name: "direction", Usage: "let pieces lie `WAYS` up: one-way, two-way, or any-way in quarter turns", Value: "one-way"},
			&cli.StringFlag{Name: "tilt", Usage: "let pieces lie up to so many `DEGREES` off grain", Value: "0"},
			&cli.BoolFlag{Name: "folded", Usage: "fold the cloth along its length: pairs are cut at once, fold edges lie on the fold"},
			&cli.BoolFlag{Name: "alike", Usage: "turn pieces over, on cloth with two right sides"},
			&cli.StringFlag{Name: "longest", Usage: "make sections of at most the `LENGTH`, with splices between them"},
			&cli.StringSliceFlag{Name: "order", Usage: "cut a `NUMBER` of garments, of a size with 38=2; left out, one of each"},
			&cli.StringFlag{Name: "pieces", Usage: "lay pieces of the `KINDS` " + strings.Join(kinds(), ", ") + "; garment,facing if left out"},
			&cli.StringSliceFlag{Name: "apart", Usage: "keep others away from a piece by `NAME=DISTANCE`, such as collar=10mm"},
			&cli.BoolFlag{Name: "buy", Usage: "print instead how much cloth of the usual widths is needed, rounded up as it is sold"},
			&cli.BoolFlag{Name: "by-size", Usage: "lay the sizes one after the other"},
			&cli.StringFlag{Name: "start", Usage: "go on from the layout in the `FILE` of an earlier marker; its locked pieces stay"},
			&cli.StringSliceFlag{Name: "lock", Usage: "leave the pieces of the `NAME` where they lie in that layout"},
			&cli.IntFlag{Name: "effort", Usage: "search at the `LEVEL` from 1 to 9, each four times as long as the one before", Value: marker.DefaultLevel},
			&cli.StringFlag{Name: "time", Usage: "search for a `TIME` such as 30s or 5m instead"},
			&cli.Uint64Flag{Name: "seed", Usage: "search in another way, by a `NUMBER`"},
			&cli.StringFlag{Name: "formats", Usage: "write the `FORMATS` " + strings.Join(build.MarkerFormats(), ", ") + "; left out, those of the style among them"},
			&cli.StringFlag{Name: "date", Usage: "write the `DATE` in the legend, as it is"},
			outFlag(outFolder), quietFlag()}, motifFlags()...),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file, a pattern or items")
			if err != nil {
				return err
			}
			folder, err := out(c)
			if err != nil {
				return err
			}
			t, err := newLay(c, name)
			if err != nil {
				return err
			}
			if c.Bool("buy") {
				return t.buy(c, s)
			}
			m, err := t.search(c, s)
			if err != nil {
				return err
			}
			stage, err := openStage(folder, otherFolder)
			if err != nil {
				return err
			}
			defer stage.close()
			names, warnings, err := t.plan.WriteMarker(m, build.MarkerOptions{Name: t.name, Formats: t.formats, Date: c.String("date")}, stage.add)
			if err != nil {
				return err
			}
			if err := keep(t.inputs, folder, stage.names, otherFolder); err != nil {
				return err
			}
			if err := stage.finish(); err != nil || c.Bool("quiet") {
				return err
			}
			for _, x := range t.problems {
				fmt.Fprintf(s.Err, "engrail: %v: %s: %s\n", x.Level, x.Where, x.Message)
			}
			t.print(s.Out, m)
			for _, n := range names {
				fmt.Fprintln(s.Out, filepath.Join(folder, n))
			}
			for _, x := range warnings {
				fmt.Fprintf(s.Err, "engrail: %s: %s: %s\n", x.Level, filepath.Join(folder, x.Where), x.Message)
			}
			return nil
		},
	}
}

// kinds returns the kinds of pieces.
func kinds() []string {
	return []string{facing.Garment.String(), facing.Facing.String(), facing.Interfacing.String(), facing.Lining.String()}
}

// lay is what the command line wants to be laid.
type lay struct {
	name    string
	plan    *build.Plan // with the style that says how files are written
	pieces  []marker.Piece
	orderOf marker.Order
	clothOf marker.Cloth
	job     *marker.Job // nil for a table of widths
	options marker.Options
	formats []string
	inputs  []string
	// problems are those of a pattern.
	problems []fit.Warning
}

func newLay(c *cli.Context, file string) (*lay, error) {
	t := &lay{}
	width, err := t.load(c, file)
	if err != nil {
		return nil, err
	}
	cloth, err := t.cloth(c, width)
	if err != nil {
		return nil, err
	}
	if err := t.apart(c); err != nil {
		return nil, err
	}
	order, err := t.order(c)
	if err != nil {
		return nil, err
	}
	t.orderOf, t.clothOf = order, cloth
	if c.Bool("buy") {
		if c.IsSet("cloth") || c.IsSet("start") {
			return nil, &usageError{"--buy is for the usual widths of cloth", "leave out --cloth and --start"}
		}
	} else if t.job, err = marker.New(t.pieces, order, cloth); err != nil {
		return nil, err
	}
	if err := t.start(c); err != nil {
		return nil, err
	}
	t.formats, err = t.wanted(c)
	if err != nil {
		return nil, err
	}
	t.options.Level, t.options.Seed, t.options.BySize = c.Int("effort"), c.Uint64("seed"), c.Bool("by-size")
	if l := t.options.Level; l < 1 || l > 9 {
		return nil, &usageError{fmt.Sprintf("--effort: there is no effort %d", l), "give one from 1 to 9"}
	}
	if c.IsSet("time") {
		if c.IsSet("effort") {
			return nil, &usageError{"--time and --effort both say how long to search", "give one of them"}
		}
		if t.options.Time, err = time.ParseDuration(c.String("time")); err != nil || t.options.Time <= 0 {
			return nil, &usageError{fmt.Sprintf("--time: %q is no time", c.String("time")), "write it with a unit, such as 30s or 5m"}
		}
	}
	return t, nil
}

// load reads what is to be laid: the pieces, and the width of the cloth for which items
// are meant, in mm.
func (t *lay) load(c *cli.Context, file string) (width float64, err error) {
	t.name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	plain := func() { t.plan, t.inputs = &build.Plan{Style: style.Plain()}, append(t.inputs, file) }
	switch strings.ToLower(filepath.Ext(file)) {
	case ".json":
		plain()
		data, err := readFile(file, otherFile(file, "check its name", ".json"))
		if err != nil {
			return 0, err
		}
		items, err := marker.DecodeItems(bytes.NewReader(data))
		if err != nil {
			return 0, inFile(file, err)
		}
		if items.Name != "" {
			t.name = items.Name
		}
		t.pieces = items.Pieces
		return items.Height, nil
	case ".svg", ".dxf":
		plain()
		in, err := inspect(file)
		if err != nil {
			return 0, err
		}
		t.inputs = in.inputs
		// What keeps a hem from being shaped does not keep a piece from being laid.
		t.problems = slices.DeleteFunc(in.allProblems(), func(w fit.Warning) bool { return w.Level == fit.LevelError })
		t.pieces, err = in.markerPieces()
		return 0, err
	}
	t.plan, t.inputs, err = load(c, file)
	if err != nil {
		return 0, err
	}
	wanted := []string{facing.Garment.String(), facing.Facing.String()}
	t.name = t.plan.Style.Name
	if c.IsSet("pieces") {
		wanted = nil
		for _, word := range strings.Split(c.String("pieces"), ",") {
			word = strings.TrimSpace(word)
			if !slices.Contains(kinds(), word) {
				return 0, &usageError{fmt.Sprintf("--pieces: no kind of piece is called %q", word), suggest(word, kinds(), "the kinds are "+strings.Join(kinds(), ", "))}
			}
			wanted = append(wanted, word)
		}
		t.name += " " + strings.Join(wanted, " ")
	}
	t.pieces = t.plan.MarkerPieces(wanted)
	if len(t.pieces) == 0 {
		return 0, &usageError{fmt.Sprintf("the style has no piece of the kind %s", strings.Join(wanted, ", ")), "lay pieces that it has; engrail fit shows them"}
	}
	return float64(t.plan.Style.Cloth.Width), nil
}

// inFile puts the file's name before an error that has a remedy.
func inFile(file string, err error) error {
	var known *marker.Error
	if k, ok := err.(*marker.Error); ok {
		known = k
		return &fileError{file + ": " + known.Problem, known.Hint, err}
	}
	return err
}

func (t *lay) cloth(c *cli.Context, width float64) (marker.Cloth, error) {
	cloth := marker.Cloth{Width: width, Folded: c.Bool("folded"), Alike: c.Bool("alike")}
	items := width > 0 && t.plan.Sizes == nil
	for _, f := range []struct {
		name string
		to   *float64
	}{{"cloth", &cloth.Width}, {"selvage", &cloth.Selvage}, {"end", &cloth.End}, {"gap", &cloth.Gap}, {"longest", &cloth.Longest}} {
		if f.name == "cloth" || f.name == "longest" || items {
			if !c.IsSet(f.name) {
				continue
			}
		}
		length, err := style.ParseLength(c.String(f.name), t.plan.Style.Units)
		if err == nil && (length < 0 || length == 0 && (f.name == "cloth" || f.name == "longest")) {
			err = fmt.Errorf("%q is less than it can be; give a length above 0", c.String(f.name))
		}
		if err != nil {
			return cloth, &usageError{fmt.Sprintf("--%s: %v", f.name, err), ""}
		}
		*f.to = float64(length)
	}
	if cloth.Width == 0 && !c.Bool("buy") {
		return cloth, &usageError{"marker needs the width of the cloth", "write for example --cloth 140cm"}
	}
	if !c.IsSet("cloth") && !items {
		// The style's width is that between its selvages.
		cloth.Width += 2 * cloth.Selvage
	}
	for _, name := range []string{"direction", "tilt", "alike"} {
		if items && c.IsSet(name) {
			return cloth, &usageError{fmt.Sprintf("--%s is for pieces with a grain", name), "change the allowed_orientations of the items instead"}
		}
	}
	var ok bool
	if cloth.Direction, ok = marker.ParseDirection(c.String("direction")); !ok {
		words := []string{"one-way", "two-way", "any-way"}
		return cloth, &usageError{fmt.Sprintf("--direction: there is no %q", c.String("direction")), suggest(c.String("direction"), words, "it is "+strings.Join(words, ", "))}
	}
	tilt, err := strconv.ParseFloat(c.String("tilt"), 64)
	if err != nil {
		return cloth, &usageError{fmt.Sprintf("--tilt: %q is no angle", c.String("tilt")), "write a number of degrees, such as 1"}
	}
	cloth.Tilt = tilt * math.Pi / 180
	return cloth, nil
}

// apart keeps others away from the pieces that are named.
func (t *lay) apart(c *cli.Context) error {
	for _, word := range c.StringSlice("apart") {
		name, distance, ok := strings.Cut(word, "=")
		if !ok {
			return &usageError{fmt.Sprintf("--apart: %q says no distance", word), "write for example --apart collar=10mm"}
		}
		length, err := style.ParseLength(distance, t.plan.Style.Units)
		if err == nil && length < 0 {
			err = fmt.Errorf("%q is less than 0", distance)
		}
		if err != nil {
			return &usageError{fmt.Sprintf("--apart: %v", err), ""}
		}
		if err := t.named("apart", name, func(p *marker.Piece) { p.Apart = float64(length) }); err != nil {
			return err
		}
	}
	return nil
}

// named does something to all pieces of a name, of which there is one at least.
func (t *lay) named(option, name string, do func(*marker.Piece)) error {
	found := false
	var names []string
	for i := range t.pieces {
		names = append(names, t.pieces[i].Name)
		if t.pieces[i].Name == name {
			do(&t.pieces[i])
			found = true
		}
	}
	if !found {
		slices.Sort(names)
		names = slices.Compact(names)
		return &usageError{fmt.Sprintf("--%s: no piece is called %q", option, name), suggest(name, names, "the pieces are "+strings.Join(names, ", "))}
	}
	return nil
}

// order returns how many garments are cut of each size.
func (t *lay) order(c *cli.Context) (marker.Order, error) {
	var sizes []string
	for _, p := range t.pieces {
		if !slices.Contains(sizes, p.Size) {
			sizes = append(sizes, p.Size)
		}
	}
	var all marker.Order
	for _, word := range c.StringSlice("order") {
		size, number, one := strings.Cut(word, "=")
		if !one {
			size, number = "", word
		}
		n, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil {
			return nil, &usageError{fmt.Sprintf("--order: %q is no number of garments", number), "write for example --order 2, or of a size --order 38=2"}
		}
		if !one {
			for _, s := range sizes {
				all = append(all, marker.Garments{Size: s, Count: n})
			}
			continue
		}
		all = append(all, marker.Garments{Size: strings.TrimSpace(size), Count: n})
	}
	if len(all) == 0 {
		for _, s := range sizes {
			all = append(all, marker.Garments{Size: s, Count: 1})
		}
	}
	return all, nil
}

// start reads the layout to go on from.
func (t *lay) start(c *cli.Context) error {
	locks := c.StringSlice("lock")
	if !c.IsSet("start") {
		if len(locks) > 0 {
			return &usageError{"--lock: there is no layout in which pieces lie", "give one with --start"}
		}
		return nil
	}
	file := c.String("start")
	data, err := readFile(file, otherFile(file, "check its name; engrail marker writes such a file", ".json"))
	if err != nil {
		return err
	}
	f, err := marker.Decode(bytes.NewReader(data))
	if err != nil {
		return inFile(file, err)
	}
	t.inputs = append(t.inputs, file)
	for _, name := range locks {
		if err := t.named("lock", name, func(*marker.Piece) {}); err != nil {
			return err
		}
		for i := range f.Places {
			ordered := slices.ContainsFunc(t.orderOf, func(g marker.Garments) bool { return g.Size == f.Places[i].Size })
			if f.Places[i].Piece == name && ordered {
				f.Places[i].Locked = true
			}
		}
	}
	t.options.Start = &f.Layout
	return nil
}

// wanted returns the formats to write.
func (t *lay) wanted(c *cli.Context) (formats []string, err error) {
	all := build.MarkerFormats()
	if !c.IsSet("formats") {
		return slices.DeleteFunc(all, func(f string) bool { return !slices.Contains(t.plan.Style.Output.Formats, f) }), nil
	}
	for _, word := range strings.Split(c.String("formats"), ",") {
		word = strings.TrimSpace(word)
		if !slices.Contains(all, word) {
			return nil, &usageError{fmt.Sprintf("--formats: a marker is not written as %q", word), suggest(word, all, "the formats are "+strings.Join(all, ", "))}
		}
		if !slices.Contains(formats, word) {
			formats = append(formats, word)
		}
	}
	return formats, nil
}

// search lays the job, and shows how far it has come to people who watch. The user's
// wish to stop ends it with the best so far.
func (t *lay) search(c *cli.Context, s Streams) (*marker.Marker, error) {
	ctx, end := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer end()
	show, clear := line(s, c.Bool("quiet"), patience)
	defer clear()
	unit := t.plan.Style.Units
	t.options.Progress = func(p marker.Progress) {
		show(fmt.Sprintf("laying: %3.0f %%, %s %s long, %.1f %% of the cloth used; Ctrl-C keeps this", 100*p.Done, unit.Short(p.Length), unit, 100*p.Use))
	}
	return t.job.Lay(ctx, t.options)
}

// buy prints how much cloth is needed of each of the usual widths.
func (t *lay) buy(c *cli.Context, s Streams) error {
	ctx, end := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer end()
	shop := marker.Metres
	if t.plan.Style.Units == style.Inch {
		shop = marker.Yards
	}
	needs, err := marker.Needs(ctx, t.pieces, t.orderOf, t.clothOf, shop.Bolts(), t.options)
	if err != nil || c.Bool("quiet") {
		return err
	}
	unit := t.plan.Style.Units
	table := grid{align: "rrrr", indent: 2, rows: [][]string{{"width", "length " + string(unit), "buy", "use"}}}
	var notes []string
	for _, n := range needs {
		if n.Marker == nil {
			table.add(n.Name, "-", "-", "-")
			notes = append(notes, fmt.Sprintf("%s: %s; %s", n.Name, n.Narrow, n.Narrow.Remedy()))
			continue
		}
		table.add(n.Name, unit.Text(n.Marker.Length()), shop.Sold(n.Marker.Length()), fmt.Sprintf("%.1f %%", 100*n.Marker.Use()))
	}
	fmt.Fprintf(s.Out, "%s: cloth needed, %s\n\n", t.name, t.clothOf.Ways(t.pieces))
	table.print(s.Out)
	for i, n := range notes {
		if i == 0 {
			fmt.Fprintln(s.Out)
		}
		fmt.Fprintln(s.Out, n)
	}
	return nil
}

// print prints the figures of a marker.
func (t *lay) print(w io.Writer, m *marker.Marker) {
	unit := t.plan.Style.Units
	fmt.Fprintf(w, "%s: %s on cloth %s %s wide, %s\n\n", t.name, howMany(len(m.Places), "outline", "outlines"), unit.Short(m.Cloth.Width), unit, m.Cloth.Ways(t.pieces))
	for i, s := range m.Sections {
		if len(m.Sections) > 1 {
			fmt.Fprintf(w, "  section %d  %s %s\n", i+1, unit.Text(s), unit)
		}
	}
	fmt.Fprintf(w, "  length  %s %s\n  use of cloth  %.1f %%\n\n", unit.Text(m.Length()), unit, 100*m.Use())
}
