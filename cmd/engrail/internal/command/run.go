package command

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"engrail/cmd/engrail/internal/style"

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
type Streams struct {
	Out, Err io.Writer
	// Watched says that Err is a terminal, so that progress can be shown there.
	Watched bool
}

// Console returns the streams of the process.
func Console() Streams {
	return Streams{Out: os.Stdout, Err: os.Stderr, Watched: term.IsTerminal(int(os.Stderr.Fd()))}
}

// Run runs the command line, without the program's name, and returns the exit
// code. It does not panic: a mistake of the program is told as an error.
func Run(args []string, s Streams) (code int) {
	defer func() {
		if p := recover(); p != nil {
			report(s.Err, &mishap{fmt.Sprint(p), panicked()})
			code = ExitFailed
		}
	}()
	out := &output{to: s.Out}
	s.Out = out
	app := newApp(s)
	args, err := flagsFirst(app, args)
	if err == nil {
		err = app.Run(append([]string{app.Name}, args...))
	}
	if out.err != nil {
		err = &fileError{"the output cannot be written: " + reason(out.err), "", out.err}
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

// output keeps the first error of a writer, which tables and help do not look
// at.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.to.Write(p)
	if o.err == nil {
		o.err = err
	}
	return n, err
}

// mishap is a panic.
type mishap struct{ problem, place string }

func (e *mishap) Error() string {
	return fmt.Sprintf("the program has made a mistake that is not yours: %s (%s)", e.problem, e.place)
}

func (e *mishap) Remedy() string {
	return "please report it, with these lines, the command as you typed it, the style file and its pattern, and what engrail version prints"
}

// panicked returns the line of this module that panicked, for a deferred
// function that has recovered.
func panicked() string {
	stack := make([]uintptr, 100)
	frames := runtime.CallersFrames(stack[:runtime.Callers(0, stack)])
	for unwinding := false; ; {
		f, more := frames.Next()
		switch {
		case f.Function == "runtime.gopanic":
			unwinding = true
		case unwinding && strings.HasPrefix(f.Function, "engrail/"):
			return fmt.Sprintf("%s:%d", filepath.Base(f.File), f.Line)
		}
		if !more {
			return "at an unknown place"
		}
	}
}

// mostErrors is how many mistakes in a style file are told at once.
const mostErrors = 5

// report prints an error and, when it is known, what would help; of several
// mistakes in a style file, each with its own hint.
func report(w io.Writer, err error) {
	var several style.Errors
	if !errors.As(err, &several) {
		several = nil
	}
	if len(several) < 2 {
		reportOne(w, err, "")
		return
	}
	said := ""
	for i, one := range several {
		if i == mostErrors {
			fmt.Fprintf(w, "engrail: error: and %d more mistakes\n", len(several)-i)
			break
		}
		said = reportOne(w, one, said)
	}
}

// reportOne prints an error and its hint, unless that was said just before, and
// returns the hint.
func reportOne(w io.Writer, err error, said string) string {
	fmt.Fprintf(w, "engrail: error: %v\n", err)
	var known interface{ Remedy() string }
	if !errors.As(err, &known) || known.Remedy() == "" {
		return said
	}
	if hint := known.Remedy(); hint != said {
		fmt.Fprintf(w, "engrail: hint: %s\n", hint)
		said = hint
	}
	return said
}

const description = `Shaped hems: scallops, points, waves and more, in whole repeats along a curved edge,
with the facing that finishes it, for plotters and cutters.

Begin with "engrail demo", which makes a finished style to look at, with
"engrail inspect", which writes a style file for a pattern that you have, or
with "engrail new", which writes one to fill in. Then "engrail fit" shows the
numbers, "engrail compare" alternatives to choose from, and "engrail build"
makes the files. "engrail check" measures a file that is made, and "engrail
calibrate" helps to measure the machine that uses it. "engrail help fit" shows
the options of a command, here of fit; they can stand before or after its file.

Exit codes: 0 done, 1 the job could not be done, 2 the command line is wrong.`

func newApp(s Streams) *cli.App {
	app := &cli.App{
		Name:        "engrail",
		Usage:       "shaped hems and their facings, fitted and ready to plot or cut",
		UsageText:   "engrail COMMAND [arguments]",
		Description: description,
		Writer:      s.Out,
		ErrWriter:   s.Err,
		HideVersion: true,
		// A panel's name can have commas in it.
		DisableSliceFlagSeparator: true,
		// Errors are printed and turned into exit codes by Run.
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError:   usage,
		Action:         cli.ShowAppHelp,
		Flags:          []cli.Flag{cli.HelpFlag},
		Commands: []*cli.Command{
			demoCommand(s), newCommand(s), inspectCommand(s), fitCommand(s), compareCommand(s), turningCommand(s), seamsCommand(s), reviewCommand(s),
			buildCommand(s), markerCommand(s), notesCommand(s), checkCommand(s), calibrateCommand(s),
			motifsCommand(s), schemaCommand(s), versionCommand(s), helpCommand(),
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
