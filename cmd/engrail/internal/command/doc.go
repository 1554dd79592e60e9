// Package command is the engrail command: one file a subcommand, each of which
// turns its flags into a call of the build or style package and prints what
// came of it. Data goes to standard output; errors, hints, warnings and
// progress go to standard error.
package command
