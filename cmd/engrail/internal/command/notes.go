package command

import (
	"fmt"
	"path/filepath"
	"slices"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

func notesCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "notes",
		Usage:     "write a sheet that explains how the design is cut and sewn",
		UsageText: "engrail notes STYLE [--size NAME] [--units mm|cm|in] [--out DIR]",
		Description: "Writes the pieces, the cloth to buy, the figures of the hem, the order of work with the numbers of\n" +
			"this design, drawings, cautions, and every unusual word explained: as HTML to look at and print, and\n" +
			"as Markdown with its pictures beside it. The format notes in the style file lets every build make it, too.",
		Flags: append(motifFlags(),
			&cli.StringFlag{Name: "size", Usage: "write of the size `NAME` alone"},
			&cli.StringFlag{Name: "units", Usage: "write lengths in the `UNIT` mm, cm or in instead of the style's"},
			outFlag(outFolder), quietFlag()),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			folder, err := out(c)
			if err != nil {
				return err
			}
			o := build.NotesOptions{Size: c.String("size"), Unit: style.Unit(c.String("units"))}
			units := []string{string(style.Millimetre), string(style.Centimetre), string(style.Inch)}
			if c.IsSet("units") && !slices.Contains(units, string(o.Unit)) {
				return &usageError{fmt.Sprintf("--units: there is no unit %q", o.Unit), suggest(string(o.Unit), units, "the units are mm, cm and in")}
			}
			plan, inputs, err := load(c, name)
			if err != nil {
				return err
			}
			stage, err := openStage(folder, otherFolder)
			if err != nil {
				return err
			}
			defer stage.close()
			plan.Before = before(folder)
			report, err := plan.Notes(o, stage.add)
			if err != nil {
				return err
			}
			if err := keep(inputs, folder, stage.names, otherFolder); err != nil {
				return err
			}
			if err := stage.finish(); err != nil || c.Bool("quiet") {
				return err
			}
			for _, f := range report.Texts {
				fmt.Fprintln(s.Out, filepath.Join(folder, f.Path))
			}
			warn(s.Err, report, folder)
			return nil
		},
	}
}
