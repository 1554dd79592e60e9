package command

import "github.com/urfave/cli/v2"

func helpCommand() *cli.Command {
	return &cli.Command{
		Name:        "help",
		Usage:       "list the commands, or show the options of one",
		UsageText:   "engrail help [COMMAND]",
		Description: "Shows what the program can do or, with the name of a command, how that is used.",
		Action: func(c *cli.Context) error {
			if !c.Args().Present() {
				return cli.ShowAppHelp(c)
			}
			name, err := oneArgument(c, "a command")
			if err != nil {
				return err
			}
			if c.App.Command(name) == nil {
				return noCommand(c.App, name)
			}
			return cli.ShowCommandHelp(c, name)
		},
	}
}
