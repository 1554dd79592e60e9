package command

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// patience is how long a build may take before it shows its progress.
const patience = 300 * time.Millisecond

// progress shows how far a long build is to people who watch. The first function is
// called with every step; the second takes away what is shown.
func progress(s Streams, quiet bool, patience time.Duration) (step func(done, total int), end func()) {
	show, end := line(s, quiet, patience)
	return func(done, total int) { show(fmt.Sprintf("making files: %d of %d", done, total)) }, end
}

// line shows what goes on to people who watch, once it has lasted longer than their
// patience, in a line that is written over. The second function takes it away.
func line(s Streams, quiet bool, patience time.Duration) (show func(string), end func()) {
	if quiet || !s.Watched {
		return func(string) {}, func() {}
	}
	began := time.Now()
	shown := 0 // letters in the line
	show = func(line string) {
		if time.Since(began) < patience {
			return
		}
		fmt.Fprintf(s.Err, "\r%-*s", shown, line)
		shown = max(shown, utf8.RuneCountInString(line))
	}
	end = func() {
		if shown > 0 {
			fmt.Fprintf(s.Err, "\r%s\r", strings.Repeat(" ", shown))
		}
	}
	return show, end
}
