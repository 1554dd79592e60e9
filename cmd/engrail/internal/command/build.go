package command

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"engrail/cmd/engrail/internal/build"

	"github.com/google/renameio/v2"
	"github.com/schollz/progressbar/v3"
	"github.com/urfave/cli/v2"
)

// outFolder is where files go when the user does not say.
const outFolder = "engrail-out"

func buildCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "build",
		Usage:     "make all files of a style",
		UsageText: "engrail build STYLE --out DIR",
		Description: "Makes the pieces of every size as pictures, plotter files and drawings, with a report of\n" +
			"them. Files in the folder are replaced when all of the new ones are ready, and only then.",
		Flags: append(motifFlags(),
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write the files to the folder `DIR`", Value: outFolder},
			quietFlag()),
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "a style file")
			if err != nil {
				return err
			}
			plan, err := load(c, name)
			if err != nil {
				return err
			}
			report, err := writeAll(plan, c.String("out"), s, c.Bool("quiet"))
			if err != nil {
				return err
			}
			if !c.Bool("quiet") {
				table(s.Out, plan)
				fmt.Fprintf(s.Out, "\n%d files in %s\n", len(report.Files())+1, c.String("out"))
				warn(s.Err, plan)
			}
			return nil
		},
	}
}

// writeAll makes the plan's files in the folder. They appear together, when all
// of them are complete; on failure the folder is as it was.
func writeAll(plan *build.Plan, folder string, s Streams, quiet bool) (*build.Report, error) {
	hint := "choose another folder with --out, or make this one writable"
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, &fileError{fmt.Errorf("the folder %s cannot be made: %w", folder, plain(err)), hint}
	}
	var pending []*renameio.PendingFile
	defer func() {
		for _, f := range pending {
			_ = f.Cleanup() // does nothing once the file is in place
		}
	}()
	sink := func(name string, content []byte) error {
		f, err := renameio.NewPendingFile(filepath.Join(folder, name), renameio.WithTempDir(folder), renameio.WithPermissions(0o644))
		if err != nil {
			return &fileError{fmt.Errorf("%s cannot be written in %s: %w", name, folder, plain(err)), hint}
		}
		pending = append(pending, f)
		if _, err := f.Write(content); err != nil {
			return &fileError{fmt.Errorf("%s cannot be written: %w", name, plain(err)), "is the disk full?"}
		}
		return nil
	}
	report, err := plan.Write(sink, progress(s, quiet))
	if err != nil {
		return nil, err
	}
	for _, f := range pending {
		if err := f.CloseAtomicallyReplace(); err != nil {
			return nil, &fileError{fmt.Errorf("a file cannot be put in place in %s: %w", folder, err), hint}
		}
	}
	return report, nil
}

// patience is how long a build may take before it shows its progress.
const patience = 300 * time.Millisecond

// progress returns what shows the progress of a long build to people who
// watch.
func progress(s Streams, quiet bool) func(done, total int) {
	if quiet || !s.terminal() {
		return func(int, int) {}
	}
	began := time.Now()
	var bar *progressbar.ProgressBar
	return func(done, total int) {
		if bar == nil && time.Since(began) < patience {
			return
		}
		if bar == nil {
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(s.Err),
				progressbar.OptionSetDescription("making files"), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
		}
		_ = bar.Set(done) // only shown
	}
}
