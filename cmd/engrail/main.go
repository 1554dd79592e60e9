// Command engrail designs shaped garment edges and their facings. Run it with
// the word help for what it can do.
package main

import (
	"os"

	"engrail/cmd/engrail/internal/command"
)

func main() {
	os.Exit(command.Run(os.Args[1:], command.Console()))
}
