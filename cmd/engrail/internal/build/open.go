package build

import (
	"path/filepath"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/plot"
)

// Open reads a pattern file as a build does that knows no more than its name:
// with the grade rules that lie beside it. The warnings say what of the file may
// not be as it was meant.
func Open(file string, files Files) (plot.Drawing, []fit.Warning, error) {
	return open(newPatterns(&style.Style{Pattern: style.Pattern{File: file}}, files), file)
}

func open(p *patterns, file string) (plot.Drawing, []fit.Warning, error) {
	data, err := p.files.Read(file)
	if err != nil {
		return plot.Drawing{}, nil, err
	}
	rules, err := p.rules(file)
	if err != nil {
		return plot.Drawing{}, nil, err
	}
	return decode(file, data, 0, rules)
}

// OpenSizes reads the files of a pattern with one for each size, in order. The name
// has [style.SizeInName] in it.
func OpenSizes(file string, files Files) ([]pattern.Sized, []fit.Warning, error) {
	p := newPatterns(&style.Style{Pattern: style.Pattern{File: file}}, files)
	var all []pattern.Sized
	var warnings []fit.Warning
	names := p.inNames(file)
	if len(names) == 0 {
		return nil, nil, noSuchSizes(file)
	}
	for _, name := range names {
		d, w, err := open(p, strings.ReplaceAll(file, style.SizeInName, name))
		if err != nil {
			return nil, nil, err
		}
		all = append(all, pattern.Sized{Name: name, Drawing: d})
		warnings = append(warnings, w...)
	}
	return all, warnings, nil
}

// noSuchSizes is the error for a pattern without any of its files.
func noSuchSizes(file string) error {
	return &Error{
		Problem: "there is no file of the name " + file + " with a size in place of " + style.SizeInName,
		Hint:    "there should be files such as " + strings.ReplaceAll(file, style.SizeInName, "38"),
	}
}

// ProposeFiles returns the name, with [style.SizeInName] in it, of which there is a
// file for each of several sizes, this file one of them, and the sizes in order;
// nothing when its name says no size or it stands alone.
func ProposeFiles(file string, files Files) (name string, sizes []string) {
	folder, base := filepath.Split(file)
	ext := filepath.Ext(base)
	size, at := pattern.SizeInName(strings.TrimSuffix(base, ext))
	if size == "" || strings.Contains(file, style.SizeInName) {
		return "", nil
	}
	name = folder + base[:at] + style.SizeInName + base[at+len(size):]
	sizes = newPatterns(&style.Style{}, files).inNames(name)
	sizes = slices.DeleteFunc(sizes, func(s string) bool { found, _ := pattern.SizeInName(s); return found != s })
	if len(sizes) < 2 {
		return "", nil
	}
	return name, sizes
}
