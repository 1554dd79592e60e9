package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

func newCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:        "new",
		Usage:       "write a style file to begin with",
		UsageText:   "engrail new FILE",
		Description: "Writes a complete style file with a note at every value. A file that is there already is kept.",
		Flags:       []cli.Flag{quietFlag()},
		Action: func(c *cli.Context) error {
			name, err := oneArgument(c, "the name of the file to write, such as skirt.yaml")
			if err != nil {
				return err
			}
			if style.IsDrawing(name) {
				return &usageError{name + " is the name of a drawing", "choose a name for the style file that ends in .yaml"}
			}
			f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, fs.ErrExist) {
				return &fileError{fmt.Sprintf("%s is there already, and is kept", name), "choose another name", err}
			}
			if err != nil {
				return &fileError{fmt.Sprintf("%s cannot be written: %s", name, reason(err)), "choose another name, in a folder that is there", err}
			}
			_, err = f.Write(style.Starter())
			if closed := f.Close(); err == nil {
				err = closed
			}
			if err != nil {
				_ = os.Remove(name) // half of it is of no use
				return &fileError{fmt.Sprintf("%s cannot be written: %s", name, reason(err)), "choose another disk", err}
			}
			if !c.Bool("quiet") {
				fmt.Fprintf(s.Out, "%s is ready to edit; then: engrail fit %s\n", name, name)
			}
			return nil
		},
	}
}

func schemaCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:        "schema",
		Usage:       "print the JSON Schema of style files, for editors",
		UsageText:   "engrail schema",
		Description: "An editor that knows the schema completes and checks a style file while it is written.",
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			_, err := s.Out.Write(style.Schema())
			return err
		},
	}
}
