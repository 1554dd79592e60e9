package command

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"engrail/cmd/engrail/internal/build"

	"github.com/urfave/cli/v2"
)

// outFolder is where files go when the user does not say.
const outFolder = "engrail-out"

func buildCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "build",
		Usage:     "make all files of a style",
		UsageText: "engrail build STYLE [--out DIR]",
		Description: "Makes the pieces of every size as pictures, plotter files and drawings, with a report of\n" +
			"them. Files in the folder are replaced when all of the new ones are ready, and only then.",
		Flags: append(motifFlags(), outFlag(outFolder), quietFlag()),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			folder, err := out(c)
			if err != nil {
				return err
			}
			plan, inputs, err := load(c, name)
			if err != nil {
				return err
			}
			report, err := makeFiles(plan, s, c.Bool("quiet"), folder, inputs, nil)
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				table(s.Out, plan, report)
				fmt.Fprintf(s.Out, "\n%d files in %s\n", len(report.Files())+1, folder)
				warn(s.Err, report, folder)
			}
			return nil
		},
	}
}

func outFlag(folder string) cli.Flag {
	return &cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write the files to the folder `DIR`", Value: folder}
}

// otherFolder is the hint of errors about the folder to write to.
const otherFolder = "choose another folder with --out"

// out returns the folder to write to.
func out(c *cli.Context) (string, error) {
	folder := c.String("out")
	if folder == "" {
		return "", &usageError{"--out names no folder", `give it a name, such as --out skirt, or "." for the folder that you are in`}
	}
	return folder, nil
}

// makeFiles puts the plan's files, the report and the extra files into the
// folder, all or none. None of them may take the place of an input.
func makeFiles(plan *build.Plan, s Streams, quiet bool, folder string, inputs []string, extra []file) (*build.Report, error) {
	step, end := progress(s, quiet, patience)
	defer end()
	stage, err := openStage(folder, otherFolder)
	if err != nil {
		return nil, err
	}
	defer stage.close()
	plan.Before = before(folder)
	report, err := plan.Write(stage.add, step)
	if err != nil {
		return nil, err
	}
	for _, f := range extra {
		if err := stage.add(f.name, f.content); err != nil {
			return nil, err
		}
	}
	if err := keep(inputs, folder, stage.names, otherFolder); err != nil {
		return nil, err
	}
	return report, stage.finish()
}

// before returns what stands in the folder, as far as it can be read.
func before(folder string) (b build.Before) {
	entries, _ := os.ReadDir(folder) // of a folder that cannot be read, nothing
	for _, e := range entries {
		b.Names = append(b.Names, e.Name())
	}
	if slices.Contains(b.Names, build.ReportName) {
		b.Report, _ = readSome(filepath.Join(folder, build.ReportName)) // nothing is told by half of it
	}
	return b
}

// keep refuses files that would take the place of what was read.
func keep(inputs []string, folder string, names []string, hint string) error {
	for _, in := range inputs {
		input, err := os.Stat(in)
		if err != nil {
			continue // it has been moved away since
		}
		for _, name := range names {
			target := filepath.Join(folder, name)
			if there, err := os.Stat(target); err == nil && os.SameFile(input, there) {
				return &fileError{fmt.Sprintf("the output %s would take the place of %s, from which it is made", target, in),
					hint, nil}
			}
		}
	}
	return nil
}
