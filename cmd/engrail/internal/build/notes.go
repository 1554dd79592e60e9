package build

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/notes"
	"engrail/cmd/engrail/internal/style"
	"engrail/plot"
)

// notesOutputs lists the sheet that explains the design, as Markdown with its pictures and as
// HTML, when the style asks for it.
func (p *Plan) notesOutputs() []output {
	if !slices.Contains(p.Style.Output.Formats, "notes") {
		return nil
	}
	var all []output
	for _, f := range p.notesFiles(fileName(p.Style.Name, "notes"), p.Style.Units, p.Sizes) {
		all = append(all, output{name: f.name, format: "notes",
			write: func(w io.Writer, _ plot.Drawing) error {
				_, err := w.Write(f.content)
				return err
			}})
	}
	return all
}

// notesFile is a file of the sheet.
type notesFile struct {
	name    string
	content []byte
}

// notesFiles makes the files of the sheet, the pictures last.
func (p *Plan) notesFiles(base string, unit style.Unit, sizes []Size) []notesFile {
	d := notes.Design{Style: p.Style, Unit: unit}
	for _, s := range sizes {
		d.Sizes = append(d.Sizes, notes.Size{Name: s.Name, Fit: s.Fit, Pieces: s.Pieces})
	}
	sheet := notes.Of(d)
	markdown, pictures := sheet.Markdown(base)
	all := []notesFile{{base + ".md", markdown}, {base + ".html", sheet.HTML()}}
	for _, x := range pictures {
		all = append(all, notesFile{x.Name, x.SVG})
	}
	return all
}

// NotesOptions say what a sheet is made of.
type NotesOptions struct {
	// Size is the name of the only size to write of; empty for all of them.
	Size string
	// Unit is that of the lengths; empty for the style's.
	Unit style.Unit
}

// Notes gives the sink the sheet that explains the design, as Markdown with its pictures and
// as HTML, and returns the report of the plan with these files. A size that the plan does
// not have is an error.
func (p *Plan) Notes(o NotesOptions, sink Sink) (*Report, error) {
	sizes, unit := p.Sizes, o.Unit
	if unit == "" {
		unit = p.Style.Units
	}
	if o.Size != "" {
		i := slices.IndexFunc(p.Sizes, func(s Size) bool { return strings.EqualFold(s.Name, o.Size) })
		if i < 0 {
			return nil, &Error{Problem: fmt.Sprintf("the style has no size %q", o.Size), Hint: p.sizesHint()}
		}
		sizes = p.Sizes[i : i+1]
		o.Size = sizes[0].Name
	}
	report, base := p.Report(), fileName(p.Style.Name, o.Size, "notes")
	files := p.notesFiles(base, unit, sizes)
	for _, f := range files {
		if len(f.name) > longestName {
			return nil, tooLong(f.name)
		}
		if err := sink(f.name, f.content); err != nil {
			return nil, err
		}
		report.Texts = append(report.Texts, File{Path: f.name, Format: "notes", Bytes: len(f.content)})
	}
	report.Warnings = append(report.Warnings, p.Before.stalePictures(base, len(files)-2)...)
	return report, nil
}

// sizesHint lists the sizes.
func (p *Plan) sizesHint() string {
	if len(p.Sizes) == 1 && p.Sizes[0].Name == "" {
		return "it has one size, without a name: leave the size out"
	}
	var names []string
	for _, s := range p.Sizes {
		names = append(names, s.Name)
	}
	return "its sizes are " + strings.Join(names, ", ")
}
