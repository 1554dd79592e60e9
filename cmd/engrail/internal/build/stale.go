package build

import (
	"encoding/json"
	"path"
	"slices"
	"strings"
	"unicode"

	"engrail/cmd/engrail/internal/notes"
	"engrail/fit"
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

// Before is what stood in a folder before new files come there.
type Before struct {
	// Names of the files.
	Names []string
	// Report is the content of the one called [ReportName], empty without it.
	Report []byte
}

// stale warns of the files that an earlier build made, that still stand there,
// and that are not made now. The report is read only when there may be some.
func (b Before) stale(made []output) []Warning {
	names := slices.DeleteFunc(slices.Clone(b.Names), func(name string) bool {
		return name == ReportName || slices.ContainsFunc(made, func(o output) bool { return o.name == name })
	})
	if len(names) == 0 {
		return nil
	}
	var all []Warning
	for _, name := range Earlier(b.Report) {
		if slices.Contains(names, name) {
			all = append(all, staleFile(name))
		}
	}
	return all
}

// stalePictures warns of the pictures of an earlier sheet of notes that had more of them:
// of those whose numbers go on after the ones that are made. No report tells of a sheet
// that is made alone.
func (b Before) stalePictures(base string, made int) []Warning {
	var all []Warning
	for n := made + 1; ; n++ {
		name := notes.PictureName(base, n)
		if !slices.Contains(b.Names, name) {
			return all
		}
		all = append(all, staleFile(name))
	}
}

func staleFile(name string) Warning {
	return Warning{
		Code:    StaleFile,
		Level:   fit.LevelWarning.String(),
		Message: "an earlier build made this file and this one does not; delete or move it, so that nobody plots or cuts it by mistake",
		Where:   name,
	}
}
