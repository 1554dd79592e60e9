package command

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"
)

// Exit codes.
const (
	// ExitDone says that the job was done.
	ExitDone = 0
	// ExitFailed says that the job could not be done.
	ExitFailed = 1
	// ExitUsage says that the command line was wrong.
	ExitUsage = 2
)

// Streams are where a command writes.
type Streams struct{ Out, Err io.Writer }

// terminal reports whether people watch the standard error as it comes.
func (s Streams) terminal() bool {
	f, ok := s.Err.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// usageError is a wrong command line.
type usageError struct{ problem, hint string }

func (e *usageError) Error() string  { return e.problem }
func (e *usageError) Remedy() string { return e.hint }

// Run runs the command line, without the program's name, and returns the exit
// code.
func Run(args []string, s Streams) int {
	app := newApp(s)
	args, err := flagsFirst(app, args)
	if err == nil {
		err = app.Run(append([]string{app.Name}, args...))
	}
	if err == nil {
		return ExitDone
	}
	report(s.Err, err)
	var usage *usageError
	if errors.As(err, &usage) {
		return ExitUsage
	}
	return ExitFailed
}

// report prints an error and, when it is known, what would help.
func report(w io.Writer, err error) {
	fmt.Fprintf(w, "engrail: error: %v\n", err)
	var known interface{ Remedy() string }
	if errors.As(err, &known) && known.Remedy() != "" {
		fmt.Fprintf(w, "engrail: hint: %s\n", known.Remedy())
	}
}

const description = `Shaped hems: scallops, points and waves in whole repeats along a curved edge,
with the facing that finishes it, for plotters and cutters.

Begin with "engrail demo", which makes a finished style to look at, or with
"engrail new", which writes a style file to fill in. Then "engrail fit" shows
the numbers and "engrail build" makes the files.

Exit codes: 0 done, 1 the job could not be done, 2 the command line is wrong.`

func newApp(s Streams) *cli.App {
	app := &cli.App{
		Name:            "engrail",
		Usage:           "shaped hems and their facings, fitted and ready to plot or cut",
		UsageText:       "engrail COMMAND [arguments]",
		Description:     description,
		Writer:          s.Out,
		ErrWriter:       s.Err,
		HideVersion:     true,
		HideHelpCommand: false,
		// Errors are printed and turned into exit codes by Run.
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError:   usage,
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				word := c.Args().First()
				var names []string
				for _, k := range c.App.Commands {
					names = append(names, k.Name)
				}
				return &usageError{fmt.Sprintf("there is no command %q", word), suggest(word, names, "engrail help lists the commands")}
			}
			return cli.ShowAppHelp(c)
		},
		Commands: []*cli.Command{
			demoCommand(s), newCommand(s), fitCommand(s), buildCommand(s),
			motifsCommand(s), schemaCommand(s), versionCommand(s),
		},
	}
	for _, k := range app.Commands {
		k.OnUsageError = usage
		k.HideHelpCommand = true
		for _, f := range k.Flags {
			if b, ok := f.(*cli.BoolFlag); ok {
				b.DisableDefaultText = true
			}
		}
	}
	return app
}

// usage turns the flag package's errors into ours.
func usage(c *cli.Context, err error, _ bool) error {
	name := c.Command.Name
	hint := fmt.Sprintf("engrail help %s shows its options", name)
	if c.Command.Name == "" || c.Command.Name == c.App.Name {
		hint = "engrail help lists the commands"
	}
	return &usageError{err.Error(), hint}
}

// suggest returns a hint with the nearest of the words, or the other hint when
// none is near.
func suggest(word string, words []string, other string) string {
	best, most := "", 3
	for _, w := range words {
		if d := distance(word, w); d < most {
			best, most = w, d
		}
	}
	if best == "" {
		return other
	}
	return fmt.Sprintf("did you mean %q?", best)
}

// distance is how many letters have to be changed, added or taken away to turn
// one word into the other (Levenshtein's distance).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := before
			if a[i] != b[j] {
				change++
			}
			before = row[j+1]
			row[j+1] = min(change, row[j]+1, before+1)
		}
	}
	return row[len(b)]
}

// flagsFirst moves a command's flags before its arguments, so that they can
// stand anywhere, and refuses flags that the command does not have.
func flagsFirst(app *cli.App, args []string) ([]string, error) {
	if len(args) == 0 {
		return args, nil
	}
	var command *cli.Command
	for _, k := range app.Commands {
		if k.Name == args[0] {
			command = k
		}
	}
	if command == nil {
		return args, nil
	}
	takesValue := map[string]bool{"help": false, "h": false}
	for _, f := range command.Flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, n := range f.Names() {
			takesValue[n] = !isBool
		}
	}
	var flags, rest []string
	for i := 1; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if len(a) < 2 || a[0] != '-' {
			rest = append(rest, a)
			continue
		}
		name, _, hasValue := strings.Cut(strings.TrimLeft(a, "-"), "=")
		wants, known := takesValue[name]
		if !known {
			var names []string
			for n := range takesValue {
				if len(n) > 1 {
					names = append(names, n)
				}
			}
			hint := suggest(name, names, "")
			if hint == "" {
				hint = fmt.Sprintf("engrail help %s shows its options", command.Name)
			}
			return nil, &usageError{fmt.Sprintf("%s has no option --%s", command.Name, name), hint}
		}
		flags = append(flags, a)
		if wants && !hasValue {
			if i+1 == len(args) {
				return nil, &usageError{fmt.Sprintf("--%s needs a value", name), fmt.Sprintf("engrail help %s shows its options", command.Name)}
			}
			i++
			flags = append(flags, args[i])
		}
	}
	return append(append([]string{command.Name}, flags...), append([]string{"--"}, rest...)...), nil
}

// oneArgument returns the command's only argument.
func oneArgument(c *cli.Context, what string) (string, error) {
	switch c.Args().Len() {
	case 1:
		return c.Args().First(), nil
	case 0:
		return "", &usageError{fmt.Sprintf("%s needs %s", c.Command.Name, what), c.Command.UsageText}
	}
	return "", &usageError{fmt.Sprintf("%s takes one argument, but there are %d", c.Command.Name, c.Args().Len()), c.Command.UsageText}
}

// noArguments refuses arguments.
func noArguments(c *cli.Context) error {
	if c.Args().Present() {
		return &usageError{fmt.Sprintf("%s takes no arguments, but there is %q", c.Command.Name, c.Args().First()), "leave it out"}
	}
	return nil
}
