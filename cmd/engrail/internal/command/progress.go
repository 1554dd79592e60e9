package command

import (
	"fmt"
	"strings"
	"time"
)

// patience is how long a build may take before it shows its progress.
const patience = 300 * time.Millisecond

// progress shows how far a long build is to people who watch, in a line that
// is written over. The first function is called with every step; the second
// takes away what is shown.
func progress(s Streams, quiet bool, patience time.Duration) (step func(done, total int), end func()) {
	if quiet || !s.Watched {
		return func(int, int) {}, func() {}
	}
	began := time.Now()
	shown := 0 // letters in the line
	step = func(done, total int) {
		if time.Since(began) < patience {
			return
		}
		line := fmt.Sprintf("making files: %d of %d", done, total)
		shown = max(shown, len(line))
		fmt.Fprintf(s.Err, "\r%s", line)
	}
	end = func() {
		if shown > 0 {
			fmt.Fprintf(s.Err, "\r%s\r", strings.Repeat(" ", shown))
		}
	}
	return step, end
}
