package build

import (
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/plot"
)

// Open reads a pattern file as a build does that knows no more than its name:
// with the grade rules that lie beside it. The warnings say what of the file may
// not be as it was meant.
func Open(file string, files Files) (plot.Drawing, []fit.Warning, error) {
	data, err := files.Read(file)
	if err != nil {
		return plot.Drawing{}, nil, err
	}
	rules, err := newPatterns(&style.Style{Pattern: style.Pattern{File: file}}, files).rules(file)
	if err != nil {
		return plot.Drawing{}, nil, err
	}
	return decode(file, data, 0, rules)
}
