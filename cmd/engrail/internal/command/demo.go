package command

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/demo"
	"engrail/cmd/engrail/internal/style"

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
		Flags: []cli.Flag{outFlag(demoFolder), quietFlag()},
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			folder, err := out(c)
			if err != nil {
				return err
			}
			own := []file{{demo.StyleName, demo.Style()}, {demo.PatternName, demo.Pattern()}}
			if err := unchanged(folder, own); err != nil {
				return err
			}
			skirt, err := style.Parse(demo.StyleName, demo.Style())
			if err != nil {
				return err
			}
			plan, err := build.New(skirt, build.Files{Read: func(string) ([]byte, error) { return demo.Pattern(), nil }})
			if err != nil {
				return err
			}
			report, err := makeFiles(plan, s, c.Bool("quiet"), folder, nil, own)
			if err != nil || c.Bool("quiet") {
				return err
			}
			table(s.Out, plan, report)
			fmt.Fprintf(s.Out, "\n%s holds:\n", folder)
			look := map[string]string{
				"png":  "look at this first: every piece with its new hem",
				"hpgl": "for a pen plotter, at true size",
				"dxf":  "for drawing programs and cutters: arcs, a layer for each kind of line",
				"txt":  "what each pen draws, and what to mind before a machine starts",
				"astm": "for pattern systems: DXF after ASTM D6673, a block for each piece",
			}
			for _, f := range report.Files() {
				fmt.Fprintf(s.Out, "  %-28s %s\n", f.Path, look[f.Format])
			}
			fmt.Fprintf(s.Out, "  %-28s %s\n", build.ReportName, "the figures of all of it")
			fmt.Fprintf(s.Out, "  %-28s %s\n", demo.StyleName, "the style file: change a value in it")
			fmt.Fprintf(s.Out, "  %-28s %s\n", demo.PatternName, "the pattern that it begins from")
			fmt.Fprintf(s.Out, "\nthen: %s\n", buildDemo(folder))
			warn(s.Err, report, folder)
			return nil
		},
	}
}

// buildDemo returns the command that builds the demo once more.
func buildDemo(folder string) string {
	return fmt.Sprintf("engrail build %s --out %s", filepath.Join(folder, demo.StyleName), folder)
}

// unchanged refuses to write over a demo that the user has worked on.
func unchanged(folder string, files []file) error {
	for _, f := range files {
		name := filepath.Join(folder, f.name)
		if there, err := os.ReadFile(name); err == nil && !bytes.Equal(there, f.content) {
			return &fileError{fmt.Sprintf("%s has been changed, and the demo would write over it", name),
				fmt.Sprintf("build it as it is with %q, or write the demo elsewhere with --out", buildDemo(folder)), nil}
		}
	}
	return nil
}
