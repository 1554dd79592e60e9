package command

import (
	"fmt"
	"runtime/debug"

	"github.com/urfave/cli/v2"
)

func versionCommand(s Streams) *cli.Command {
	return &cli.Command{
		Name:      "version",
		Usage:     "print the version",
		UsageText: "engrail version",
		Action: func(c *cli.Context) error {
			if err := noArguments(c); err != nil {
				return err
			}
			_, err := fmt.Fprintln(s.Out, "engrail", version())
			return err
		},
	}
}

// version returns the module's version or, built from a checkout, its commit.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown version"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && (v == "" || v == "(devel)") {
			v = s.Value
		}
	}
	if v == "" {
		v = "(devel)"
	}
	return v
}
