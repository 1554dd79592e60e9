package command

import (
	"fmt"
	"os"
	"path/filepath"

	"engrail/cmd/engrail/internal/demo"

	"github.com/google/renameio/v2"
	"github.com/urfave/cli/v2"
)

// demoFolder is where the demo goes.
const demoFolder = "engrail-demo"

func demoCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "demo",
		Usage:     "make a finished style to look at",
		UsageText: "engrail demo [--out DIR]",
		Description: "Writes an invented skirt, its pattern and its style file, builds it, and says what to look at.\n" +
			"The files are yours to change and build again.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write the files to the folder `DIR`", Value: demoFolder},
			quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			folder := c.String("out")
			if err := os.MkdirAll(folder, 0o755); err != nil {
				return &fileError{fmt.Errorf("the folder %s cannot be made: %w", folder, plain(err)), "choose another folder with --out"}
			}
			for _, f := range []struct {
				name    string
				content []byte
			}{{demo.PatternName, demo.Pattern()}, {demo.StyleName, demo.Style()}} {
				if err := renameio.WriteFile(filepath.Join(folder, f.name), f.content, 0o644); err != nil {
					return &fileError{fmt.Errorf("%s cannot be written in %s: %w", f.name, folder, plain(err)), "choose another folder with --out"}
				}
			}
			plan, err := load(c, filepath.Join(folder, demo.StyleName))
			if err != nil {
				return err
			}
			report, err := writeAll(plan, folder, s, c.Bool("quiet"))
			if err != nil || c.Bool("quiet") {
				return err
			}
			table(s.Out, plan)
			fmt.Fprintf(s.Out, "\n%s holds:\n", folder)
			look := map[string]string{
				"png":  "look at this first: every piece with its new hem",
				"hpgl": "for a pen plotter, at true size",
				"dxf":  "for drawing programs and cutters: arcs, a layer for each kind of line",
				"astm": "for pattern systems: DXF after ASTM D6673, a block for each piece",
			}
			for _, f := range report.Files() {
				fmt.Fprintf(s.Out, "  %-28s %s\n", f.Path, look[f.Format])
			}
			fmt.Fprintf(s.Out, "  %-28s %s\n", "report.json", "the figures of all of it")
			fmt.Fprintf(s.Out, "  %-28s %s\n", demo.StyleName, "the style file: change a value in it")
			fmt.Fprintf(s.Out, "  %-28s %s\n", demo.PatternName, "the pattern that it begins from")
			fmt.Fprintf(s.Out, "\nthen: engrail build %s --out %s\n", filepath.Join(folder, demo.StyleName), folder)
			warn(s.Err, plan)
			return nil
		},
	}
}
