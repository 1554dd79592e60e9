package command

import (
	"fmt"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

// calibrationFolder is where calibration files go when the user does not say.
const calibrationFolder = "engrail-calibration"

func calibrateCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "calibrate",
		Usage:     "make files to measure your machines with",
		UsageText: "engrail calibrate [STYLE] [--out DIR]",
		Description: "Makes a square, a circle, corners, valleys and a trial for blades as HPGL, DXF, SVG and PDF, with a\n" +
			"text that says what to measure. What you measured goes into the style file, under output and\n" +
			"measured: files then come out right. With a style file they are for the machines that it describes.",
		Flags: []cli.Flag{outFlag(calibrationFolder), quietFlag()},
		Action: func(c *cli.Context) error {
			folder, err := out(c)
			if err != nil {
				return err
			}
			var inputs []string
			st := style.Plain()
			if c.Args().Present() {
				name, err := oneArgument(c, "a style file")
				if err != nil {
					return err
				}
				data, err := readFile(name, otherStyle(name))
				if err != nil {
					return err
				}
				if st, err = style.Parse(name, data); err != nil {
					return err
				}
				inputs = []string{name}
			}
			stage, err := openStage(folder, otherFolder)
			if err != nil {
				return err
			}
			defer stage.close()
			proofs, err := build.Calibrate(st, stage.add)
			if err != nil {
				return err
			}
			if err := keep(inputs, folder, stage.names, otherFolder); err != nil {
				return err
			}
			if err := stage.finish(); err != nil || c.Bool("quiet") {
				return err
			}
			files := grid{align: "lr", indent: 2, rows: [][]string{{"file", "true within mm"}}}
			for _, p := range proofs {
				within := "its pages' size"
				if p.MaxDeviation != nil {
					within = fmt.Sprintf("%.3f", *p.MaxDeviation)
				}
				files.add(p.Path, within)
			}
			files.print(s.Out)
			fmt.Fprintf(s.Out, "\nread %s/calibration.txt: it says what to measure, and what to mind before a machine starts\n", folder)
			return nil
		},
	}
}
