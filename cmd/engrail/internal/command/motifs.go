package command

import (
	"bytes"
	"fmt"
	"path/filepath"
	"text/tabwriter"

	"engrail/motif"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"

	"github.com/urfave/cli/v2"
)

func motifsCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:        "motifs",
		Usage:       "list the shapes, and show them in a picture",
		UsageText:   "engrail motifs [--png FILE]",
		Description: "Lists the shapes that a hem can have. With --png it draws each of them, plain and with its details.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "png", Usage: "draw the shapes in the picture `FILE`"},
			quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			name := c.String("png")
			if c.IsSet("png") {
				if err := drawMotifs(name); err != nil {
					return err
				}
			}
			if c.Bool("quiet") {
				return nil
			}
			t := tabwriter.NewWriter(s.Out, 0, 0, 3, ' ', 0)
			for _, k := range append(motif.Kinds(), motif.Own) {
				fmt.Fprintf(t, "%s\t%s\n", k, k.Note())
			}
			t.Flush()
			if name != "" {
				fmt.Fprintf(s.Out, "\ndrawn in %s\n", name)
			}
			return nil
		},
	}
}

// drawMotifs draws the shapes in a picture.
func drawMotifs(name string) error {
	folder, base := filepath.Split(name)
	if base == "" {
		return &usageError{fmt.Sprintf("--png: %q names no file", name), "give it a name, such as --png motifs.png"}
	}
	cells, err := motifCells()
	if err != nil {
		return err
	}
	var picture bytes.Buffer
	if err := png.WriteSheet(&picture, cells, png.Options{Title: "Motifs: three repeats 60 mm wide, hanging from their base line", NoLegend: true}); err != nil {
		return err
	}
	return place(filepath.Clean(folder), []file{{base, picture.Bytes()}}, "choose another file with --png")
}

// motifCells draws three repeats of every shape, plain and with details, and
// sequences.
func motifCells() ([]png.Cell, error) {
	const width, repeats = 60, 3
	fin, err := motif.NewDrawn(path.FromSegments(
		path.ArcThrough(path.Point{}, path.Point{X: 5, Y: 12}, path.Point{X: 16, Y: 18}),
		path.ArcThrough(path.Point{X: 16, Y: 18}, path.Point{X: 14.5, Y: 8}, path.Point{X: 20}),
	))
	if err != nil {
		return nil, err
	}
	small := motif.Unit{Width: 0.5, Depth: 2.0 / 3}
	samples := []struct {
		shape  motif.Shape
		depth  float64
		detail string
		units  []motif.Unit
	}{
		{motif.Shape{}, 18, "depth: 18", nil},
		{motif.Shape{}, 30, "depth: 30, the half circle", nil},
		{motif.Shape{Flat: 8}, 18, "depth: 18, flat: 8", nil},
		{motif.Shape{Flat: 8, ValleyRadius: 5}, 18, "depth: 18, flat: 8, valley: {round: 5}", nil},
		{motif.Shape{TipFlat: 14}, 18, "depth: 18, tip: {blunt: 14}", nil},
		{motif.Shape{Mark: motif.Mark{Kind: motif.Eyelet, Size: 6}}, 24, "depth: 24, mark: {kind: eyelet, size: 6}", nil},
		{motif.Shape{Kind: motif.Point}, 24, "depth: 24", nil},
		{motif.Shape{Kind: motif.Point, TipRadius: 5, ValleyRadius: 5}, 24, "depth: 24, tip and valley: {round: 5}", nil},
		{motif.Shape{Kind: motif.Point, TipFlat: 14}, 24, "depth: 24, tip: {blunt: 14}", nil},
		{motif.Shape{Kind: motif.Point, Lean: 20}, 24, "depth: 24, lean: 20", nil},
		{motif.Shape{Kind: motif.Wave}, 24, "depth: 24", nil},
		{motif.Shape{Kind: motif.Wave, TipRadius: 10}, 18, "depth: 18, tip: {round: 10}", nil},
		{motif.Shape{Kind: motif.Wave, Lean: 16}, 20, "depth: 20, lean: 16", nil},
		{motif.Shape{Kind: motif.Engrailed}, 18, "depth: 18", nil},
		{motif.Shape{Kind: motif.Engrailed, TipRadius: 4}, 18, "depth: 18, tip: {round: 4}", nil},
		{motif.Shape{Kind: motif.Bulb}, 32, "depth: 32", nil},
		{motif.Shape{Kind: motif.Elliptical}, 34, "depth: 34", nil},
		{motif.Shape{Kind: motif.Petal}, 32, "depth: 32", nil},
		{motif.Shape{Kind: motif.Petal, Flat: 10, Lean: 14}, 32, "depth: 32, flat: 10, lean: 14", nil},
		{motif.Shape{Kind: motif.Ogee}, 30, "depth: 30", nil},
		{motif.Shape{Kind: motif.Petal, Turn: true}, 30, "depth: 30, turn: true", nil},
		{motif.Shape{Kind: motif.Bracket}, 24, "depth: 24", nil},
		{motif.Shape{Kind: motif.Tab}, 24, "depth: 24", nil},
		{motif.Shape{Kind: motif.Tab, Flat: 16, TipRadius: 8, Mark: motif.Mark{Kind: motif.Keyhole, Size: 7, Height: 18}}, 30, "tip: {round: 8}, mark: {kind: keyhole, …}", nil},
		{motif.Shape{Kind: motif.Stepped}, 28, "depth: 28", nil},
		{motif.Shape{Kind: motif.Dovetailed}, 24, "depth: 24", nil},
		{motif.Shape{Kind: motif.Cloud}, 36, "depth: 36", nil},
		{motif.Shape{Kind: motif.Own, Drawn: fin}, 26, "own: {path: M 0 0 …}", nil},
		{motif.Shape{}, 16, "sequence: [{}, {width: 1/2, …}, …]", []motif.Unit{small, {}, small, small, {}, small}},
		{motif.Shape{Kind: motif.Own, Drawn: fin}, 26, "sequence: [{}, {mirrored: true}]", []motif.Unit{{}, {Mirrored: true}, {}}},
	}
	var cells []png.Cell
	for _, x := range samples {
		if x.units == nil {
			x.units = make([]motif.Unit, repeats)
		}
		total := 0.0
		for _, u := range x.units {
			w, _ := u.Ratios()
			total += w
		}
		// Peaks point down, as they hang on a hem.
		down := path.Reflection(path.Point{}, path.Vec{X: 1})
		var edge path.Path
		var marks []path.Path
		at := 0.0
		for _, u := range x.units {
			u.Shape = x.shape
			w, d := u.Ratios()
			w *= width * repeats / total
			cell, err := u.Cell(w, d*x.depth)
			if err != nil {
				return nil, err
			}
			m := down.Then(path.Translation(path.Vec{X: at}))
			edge = path.Join(path.Coincident, edge, cell.Path().Transform(m))
			for _, l := range cell.Marks {
				marks = append(marks, l.Transform(m))
			}
			at += w
		}
		base := path.Open(path.Point{}, path.Point{X: width * repeats})
		lines := []plot.Line{{Role: plot.Internal, Path: base}, {Role: plot.Cut, Path: edge}}
		for _, l := range marks {
			lines = append(lines, plot.Line{Role: plot.Internal, Path: l})
		}
		cells = append(cells, png.Cell{
			Drawing: plot.Drawing{Groups: []plot.Group{{Lines: lines}}},
			Caption: []string{x.shape.Kind.String(), x.detail},
		})
	}
	return cells, nil
}
