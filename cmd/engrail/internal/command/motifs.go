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
			for _, k := range motif.Kinds() {
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

// motifCells draws three repeats of every shape, plain and with each of its
// details.
func motifCells() ([]png.Cell, error) {
	const width, repeats = 60, 3
	samples := []struct {
		shape  motif.Shape
		depth  float64
		detail string
	}{
		{motif.Shape{}, 18, "depth: 18"},
		{motif.Shape{}, 30, "depth: 30, the half circle"},
		{motif.Shape{Flat: 8}, 18, "depth: 18, flat: 8"},
		{motif.Shape{ValleyRadius: 5}, 18, "depth: 18, valley: {round: 5}"},
		{motif.Shape{TipFlat: 14}, 18, "depth: 18, tip: {blunt: 14}"},
		{motif.Shape{Flat: 8, ValleyRadius: 5}, 18, "depth: 18, flat: 8, valley: {round: 5}"},
		{motif.Shape{Kind: motif.Point}, 24, "depth: 24"},
		{motif.Shape{Kind: motif.Point, TipRadius: 5}, 24, "depth: 24, tip: {round: 5}"},
		{motif.Shape{Kind: motif.Point, TipFlat: 14}, 24, "depth: 24, tip: {blunt: 14}"},
		{motif.Shape{Kind: motif.Point, Flat: 8}, 24, "depth: 24, flat: 8"},
		{motif.Shape{Kind: motif.Point, ValleyRadius: 5}, 24, "depth: 24, valley: {round: 5}"},
		{motif.Shape{Kind: motif.Point, TipRadius: 5, ValleyRadius: 5}, 24, "depth: 24, tip and valley: {round: 5}"},
		{motif.Shape{Kind: motif.Wave}, 12, "depth: 12"},
		{motif.Shape{Kind: motif.Wave}, 24, "depth: 24"},
		{motif.Shape{Kind: motif.Wave, Flat: 10}, 18, "depth: 18, flat: 10"},
		{motif.Shape{Kind: motif.Wave, TipRadius: 10}, 18, "depth: 18, tip: {round: 10}"},
		{motif.Shape{Kind: motif.Wave, ValleyRadius: 10}, 18, "depth: 18, valley: {round: 10}"},
		{motif.Shape{Kind: motif.Wave, TipFlat: 10}, 18, "depth: 18, tip: {blunt: 10}"},
	}
	var cells []png.Cell
	for _, x := range samples {
		cell, err := x.shape.Cell(width, x.depth)
		if err != nil {
			return nil, err
		}
		// Peaks point down, as they hang on a hem.
		down := path.Reflection(path.Point{}, path.Vec{X: 1})
		var edge path.Path
		for i := range repeats {
			edge = path.Join(path.Coincident, edge, cell.Path().Transform(down.Then(path.Translation(path.Vec{X: width * float64(i)}))))
		}
		base := path.Open(path.Point{}, path.Point{X: width * repeats})
		cells = append(cells, png.Cell{
			Drawing: plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{
				{Role: plot.Internal, Path: base}, {Role: plot.Cut, Path: edge},
			}}}},
			Caption: []string{x.shape.Kind.String(), x.detail},
		})
	}
	return cells, nil
}
