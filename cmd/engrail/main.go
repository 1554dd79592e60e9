// Command engrail designs shaped garment edges and their facings. Run it with
// the word help for what it can do.
package main

import (
	"os"
	"runtime/debug"

	"engrail/cmd/engrail/internal/command"
)

func main() {
	debug.SetGCPercent(400) // a run is over before the memory is needed again
	os.Exit(command.Run(os.Args[1:], command.Console()))
}
