package command

import (
	"fmt"
	"path/filepath"
	"strings"

	"engrail/cmd/engrail/internal/style"

	"github.com/urfave/cli/v2"
)

// usageError is a wrong command line.
type usageError struct{ problem, hint string }

func (e *usageError) Error() string  { return e.problem }
func (e *usageError) Remedy() string { return e.hint }

// usage turns the flag package's errors into ours.
func usage(c *cli.Context, err error, _ bool) error {
	return &usageError{err.Error(), itsOptions(c.Command.Name)}
}

// itsOptions says where a command's options are told.
func itsOptions(command string) string {
	return fmt.Sprintf("engrail help %s shows its options", command)
}

// noCommand says that a word is no command.
func noCommand(app *cli.App, word string) error {
	var names []string
	for _, k := range app.Commands {
		names = append(names, k.Name)
	}
	if ext := filepath.Ext(word); ext == ".yaml" || ext == ".yml" {
		return &usageError{fmt.Sprintf("there is no command %q", word), fmt.Sprintf("to see how a style fits, write: engrail fit %s", word)}
	}
	return &usageError{fmt.Sprintf("there is no command %q", word), suggest(word, names, "engrail help lists the commands")}
}

// suggest returns a hint with the nearest of the words, or the other hint when
// none is near.
func suggest(word string, words []string, other string) string {
	if near := style.Nearest(word, words); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return other
}

// flagsFirst moves a command's flags before its arguments, so that they can
// stand anywhere, and refuses commands and flags that there are not. Asking for
// help becomes the command help, whatever else there is.
func flagsFirst(app *cli.App, args []string) ([]string, error) {
	if len(args) == 0 {
		return args, nil
	}
	command := app.Command(args[0])
	switch name := strings.TrimLeft(args[0], "-"); {
	case command != nil:
	case name == "help" || name == "h":
		return []string{"help"}, nil
	case name != args[0] && app.Command(name) != nil:
		return nil, &usageError{"engrail has no option " + args[0], fmt.Sprintf("did you mean \"engrail %s\"?", name)}
	case name != args[0]:
		return nil, &usageError{"engrail has no option " + args[0], "begin with a command, and write options after it; engrail help lists the commands"}
	default:
		return nil, noCommand(app, args[0])
	}

	takesValue := map[string]bool{}
	names := []string{"--help"}
	for _, f := range command.Flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, n := range f.Names() {
			takesValue[n] = !isBool
		}
		names = append(names, "--"+f.Names()[0])
	}
	flags, rest := []string{command.Name}, []string{"--"}
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
		option, _, hasValue := strings.Cut(a, "=")
		name := strings.TrimLeft(option, "-")
		wants, known := takesValue[name]
		switch {
		case name == "help" || name == "h":
			return []string{"help", command.Name}, nil
		case !known:
			return nil, &usageError{fmt.Sprintf("%s has no option %s", command.Name, option), suggest(option, names, itsOptions(command.Name))}
		case hasValue && !wants:
			return nil, &usageError{fmt.Sprintf("%s takes no value", option), "leave out what begins with ="}
		case wants && !hasValue && i+1 == len(args):
			return nil, &usageError{option + " needs a value", itsOptions(command.Name)}
		}
		flags = append(flags, a)
		if wants && !hasValue {
			i++
			flags = append(flags, args[i])
		}
	}
	return append(flags, rest...), nil
}

// oneArgument returns the command's only argument.
func oneArgument(c *cli.Context, what string) (string, error) {
	switch {
	case c.Args().Len() == 0 || c.Args().First() == "":
		return "", &usageError{fmt.Sprintf("%s needs %s", c.Command.Name, what), "write: " + c.Command.UsageText}
	case c.Args().Len() > 1:
		return "", &usageError{
			fmt.Sprintf("%s takes one argument, but there are %d: %s", c.Command.Name, c.Args().Len(), strings.Join(c.Args().Slice(), ", ")),
			`put a name or value with spaces in quotes, such as "my skirt.yaml" or "2 1/4 in"`,
		}
	}
	return c.Args().First(), nil
}

// noArguments refuses arguments.
func noArguments(c *cli.Context) error {
	if c.Args().Present() {
		return &usageError{fmt.Sprintf("%s takes no arguments, but there is %q", c.Command.Name, c.Args().First()), "leave it out"}
	}
	return nil
}
