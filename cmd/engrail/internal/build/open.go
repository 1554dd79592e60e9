package build

import (
	"engrail/cmd/engrail/internal/style"
	"engrail/plot"
)

// Open reads a pattern file as a build does that knows no more than its name:
// with the grade rules that lie beside it.
func Open(file string, files Files) (plot.Drawing, error) {
	data, err := files.Read(file)
	if err != nil {
		return plot.Drawing{}, err
	}
	rules, err := newPatterns(&style.Style{Pattern: style.Pattern{File: file}}, files).rules(file)
	if err != nil {
		return plot.Drawing{}, err
	}
	return decode(file, data, 0, rules)
}
