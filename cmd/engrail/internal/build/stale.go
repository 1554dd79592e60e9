package build

import (
	"encoding/json"
	"path"
	"slices"
	"strings"
	"unicode"
)

// StaleFile is the code of warnings about files that an earlier build left.
const StaleFile = "stale-file"

// Earlier returns the names of the files that the report of an earlier build
// speaks of in its folder: those that it made, and those that were stale by
// then. Of anything but a report there are none, and names that no build gives
// are left out.
func Earlier(report []byte) []string {
	var r Report
	if err := json.Unmarshal(report, &r); err != nil || r.Version != ReportVersion {
		return nil
	}
	var names []string
	for _, f := range r.Files() {
		names = append(names, f.Path)
	}
	for _, w := range r.Warnings {
		if w.Code == StaleFile {
			names = append(names, w.Where)
		}
	}
	names = slices.DeleteFunc(names, func(name string) bool {
		return name == "" || len(name) > longestName || strings.HasPrefix(name, ".") || path.Base(name) != name ||
			strings.ContainsFunc(name, func(c rune) bool { return c == '\\' || !unicode.IsPrint(c) })
	})
	slices.Sort(names)
	return slices.Compact(names)
}

// stale warns of the files that stand in the folder and are not made now.
func stale(standing []string, made []output) []Warning {
	var all []Warning
	for _, name := range standing {
		if !slices.ContainsFunc(made, func(o output) bool { return o.name == name }) {
			all = append(all, Warning{
				Code:    StaleFile,
				Message: "an earlier build made this file and this one does not; delete or move it, so that nobody plots or cuts it by mistake",
				Where:   name,
			})
		}
	}
	return all
}
