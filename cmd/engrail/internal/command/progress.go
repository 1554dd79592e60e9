package command

import (
	"time"

	"github.com/schollz/progressbar/v3"
)

// patience is how long a build may take before it shows its progress.
const patience = 300 * time.Millisecond

// progress shows how far a long build is to people who watch. The first
// function is called with every step; the second takes away what is shown.
func progress(s Streams, quiet bool, patience time.Duration) (step func(done, total int), end func()) {
	if quiet || !s.Watched {
		return func(int, int) {}, func() {}
	}
	began := time.Now()
	var bar *progressbar.ProgressBar
	step = func(done, total int) {
		if bar == nil && time.Since(began) < patience {
			return
		}
		if bar == nil {
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(s.Err),
				progressbar.OptionSetDescription("making files"), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
		}
		_ = bar.Set(done) // only shown
	}
	end = func() {
		if bar != nil {
			_ = bar.Clear()
		}
	}
	return step, end
}
