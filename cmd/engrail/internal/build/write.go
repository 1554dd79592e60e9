package build

import (
	"fmt"
	"io"
	"math"
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/pdf"
	"engrail/plot/png"
	"engrail/plot/stroke"
)

// gap is the distance in mm between pieces on a sheet.
const gap = 20

// longestName is how long a file name can be in the usual file systems.
const longestName = 255

// Sink stores a file of that name, which is relative and has no folders. The
// content is the sink's only until it returns.
type Sink func(name string, content []byte) error

// allSizes is the size of a file that holds all of them.
const allSizes = -1

// output is one file that a plan makes.
type output struct {
	size    int // its index in the plan, or allSizes
	name    string
	format  string
	drawing plot.Drawing
	frame   *FrameReport                         // of a plot that is drawn in frames
	stretch path.Vec                             // what the machine that reads it is off by, across and up
	device  *device                              // of a plot
	page    func(plot.Drawing) (pdf.Page, error) // the size of a PDF's pages
	write   func(io.Writer, plot.Drawing) error
}

// Write makes every file that the style asks for and the report, each handed
// to the sink when it is whole. Progress is called with the number of files
// made before each file, and once at the end.
func (p *Plan) Write(sink Sink, progress func(done, total int)) (*Report, error) {
	outputs, err := p.outputs()
	if err != nil {
		return nil, err
	}
	report := p.Report()
	report.Warnings = append(report.Warnings, p.ungraded...)
	report.Warnings = append(report.Warnings, p.Before.stale(outputs)...)
	made := p.makeAll(outputs)
	defer made.stop()
	for i, o := range outputs {
		progress(i, len(outputs)+1)
		f := made.next()
		if f.err != nil {
			return nil, f.err
		}
		if f.proof != nil {
			report.Proof = append(report.Proof, *f.proof)
			report.Warnings = append(report.Warnings, f.proof.warnings()...)
		}
		if err := sink(o.name, f.content.Bytes()); err != nil {
			return nil, err
		}
		box := o.drawing.Bounds()
		files := &report.Nest
		switch {
		case o.size != allSizes:
			files = &report.Sizes[o.size].Files
		case o.format == "txt" || o.format == "notes":
			files = &report.Texts
		}
		*files = append(*files, File{
			Path: o.name, Format: o.format, Bytes: f.content.Len(), Width: round(box.Width()), Height: round(box.Height()), Frame: o.frame,
		})
		made.done(f)
	}
	progress(len(outputs), len(outputs)+1)
	content, err := report.JSON()
	if err != nil {
		return nil, err
	}
	if err := sink(ReportName, content); err != nil {
		return nil, err
	}
	progress(len(outputs)+1, len(outputs)+1)
	return report, nil
}

// outputs lists the files, size by size and then those of all sizes, and lays
// out their drawings.
func (p *Plan) outputs() ([]output, error) {
	var all []output
	owner := map[string]string{} // what a file name is taken by
	groups := make([][]plot.Group, len(p.Sizes))
	for i := range len(p.Sizes) + 1 {
		var made []output
		var err error
		of, at := "the nest of all", allSizes
		if i < len(p.Sizes) {
			of, at = p.Sizes[i].Name, i
			groups[i] = drawn(p.Sizes[i].Pieces, p.Style.Name)
			made, err = p.sizeOutputs(p.Sizes[i], groups[i])
		} else {
			made, err = p.nestOutputs(groups)
			if plots := plotsOf(all); len(plots) > 0 {
				made = append(made, p.sidecar(plots))
			}
			made = append(made, p.notesOutputs()...)
		}
		if err != nil {
			return nil, err
		}
		for _, o := range made {
			if other, taken := owner[o.name]; taken {
				return nil, &Error{
					Problem: fmt.Sprintf("the sizes %s and %s would both be written to %s", other, of, o.name),
					Hint:    "give them names that differ in the letters a to z and digits, of which file names are made",
				}
			}
			if len(o.name) > longestName {
				return nil, tooLong(o.name)
			}
			owner[o.name] = of
			o.size, o.stretch = at, p.stretch(o.format)
			all = append(all, o)
		}
	}
	return all, nil
}

// tooLong is the error for a file's name that no folder takes.
func tooLong(name string) *Error {
	return &Error{
		Problem: fmt.Sprintf("the name of the file %s has %d letters, and a folder takes at most %d", name, len(name), longestName),
		Hint:    "make the style's or the size's name shorter",
	}
}

// sizeOutputs lists the files of one size, whose pieces are drawn as the groups.
func (p *Plan) sizeOutputs(size Size, groups []plot.Group) ([]output, error) {
	title := p.Style.Name
	if size.Name != "" {
		title += ", size " + size.Name
	}
	all, err := p.formatOutputs(groups, title, fileName(p.Style.Name, size.Name), p.captions(size), true)
	if err != nil {
		return nil, err
	}
	if p.Style.Output.Template {
		cards, err := p.cardOutputs(size)
		if err != nil {
			return nil, err
		}
		all = append(all, cards...)
	}
	return all, nil
}

// formatOutputs lists the files of groups that lie side by side, in every wanted format;
// pattern data only when data is set.
func (p *Plan) formatOutputs(groups []plot.Group, title, base string, captions []string, data bool) ([]output, error) {
	sheet, err := oneSheet(groups, title)
	if err != nil {
		return nil, err
	}
	var all []output
	wants := func(format string) bool { return slices.Contains(p.Style.Output.Formats, format) }
	if wants("png") {
		o := png.Options{Longest: p.Style.Output.Picture, Captions: captions}
		all = append(all, output{name: base + ".png", format: "png", drawing: sheet,
			write: func(w io.Writer, d plot.Drawing) error { return png.Write(w, d, o) }})
	}
	if wants("dxf") {
		all = append(all, output{name: base + ".dxf", format: "dxf", drawing: sheet,
			write: func(w io.Writer, d plot.Drawing) error { return dxf.Write(w, d, p.plainDXF()) }})
	}
	prints, err := p.printOutputs(printable{groups, sheet, base, func(d plot.Drawing) plot.Drawing { return d }})
	if err != nil {
		return nil, err
	}
	all = append(all, prints...)
	if data && wants("astm") {
		all = append(all, output{name: base + "-astm.dxf", format: "astm", drawing: sheet,
			write: func(w io.Writer, d plot.Drawing) error {
				return dxf.Write(w, d, p.patternData())
			}})
	}
	if wants("hpgl") {
		d, err := plotter(p.Style.Output.Plotter)
		if err != nil {
			return nil, err
		}
		plots, err := p.plots(d, groups, title, base)
		if err != nil {
			return nil, err
		}
		all = append(all, plots...)
	}
	return all, nil
}

// stretch returns by how much files of a format are made larger across and up, so
// that they come out right on the machine that reads them.
func (p *Plan) stretch(format string) path.Vec {
	m := p.Style.Output.Measured
	sides := map[string]style.Point{"hpgl": m.HPGL, "dxf": m.DXF, "svg": m.SVG, "pdf": m.PDF}[format]
	if sides == (style.Point{}) {
		return path.Vec{X: 1, Y: 1}
	}
	return path.Vec{X: float64(style.CalibrationSide / sides.X), Y: float64(style.CalibrationSide / sides.Y)}
}

// plainDXF returns how the style wants drawings in DXF.
func (p *Plan) plainDXF() dxf.Options {
	s := p.Style.Output.DXF
	o := dxf.Options{ChordError: float64(s.ChordError), Lines: s.Arcs != nil && !*s.Arcs}
	if !o.Lines {
		o.ChordError = 0 // arcs stay arcs
	}
	if s.Release == "r2000" {
		o.Release = dxf.R2000
	}
	if s.Lettering == "strokes" {
		o.Strokes = stroke.Lines
	}
	return o
}

// patternData returns how it wants pattern data.
func (p *Plan) patternData() dxf.Options {
	o := dxf.Options{Flavour: dxf.Exchange, CheckCurves: p.Style.Output.ASTM.CheckCurves}
	if p.Style.Output.ASTM.Units == "english" {
		o.Units = dxf.English
	}
	return o
}

// captions say how the motif fits: how many, how wide, and whether it meets.
func (p *Plan) captions(size Size) []string {
	unit := p.Style.Units
	m := p.Style.Motif
	lines := []string{"wanted", fmt.Sprintf("%s %s x %s %s", m.Shape, unit.Short(float64(m.Width)), unit.Short(float64(m.Depth)), unit)}
	for _, f := range size.Fit.Panels {
		lines = append(lines, "", f.Panel.Name)
		if n := len(f.Spec.Sequence); n > 0 {
			lines = append(lines, fmt.Sprintf("%d repeats of %d motifs", f.Repeats, n))
		} else {
			lines = append(lines, fmt.Sprintf("%d repeats", f.Repeats))
		}
		for i, r := range f.Runs {
			switch {
			case r.Repeats == 0:
				lines = append(lines, fmt.Sprintf("run %d without a motif", i+1))
			case len(f.Runs) > 1:
				lines = append(lines, fmt.Sprintf("run %d: %g of %s %s", i+1, r.Repeats, unit.Text(r.Width), unit))
			default:
				lines = append(lines, fmt.Sprintf("%s %s each", unit.Text(f.Width), unit))
			}
		}
	}
	for _, s := range size.Fit.Seams {
		a, b := size.Fit.Panels[s.Seam.A.Panel].Panel.Name, size.Fit.Panels[s.Seam.B.Panel].Panel.Name
		lines = append(lines, "", fmt.Sprintf("seam %s + %s", a, b),
			fmt.Sprintf("lengths differ by %s %s", unit.Text(math.Abs(s.ALength-s.BLength)), unit),
			fmt.Sprintf("hem turns by %.1f°", math.Abs(s.HemTurn)*180/math.Pi))
	}
	return lines
}

// drawn draws the pieces as groups.
func drawn(pieces []facing.Piece, styleName string) []plot.Group {
	groups := make([]plot.Group, len(pieces))
	for i, p := range pieces {
		groups[i] = plot.FromPiece(p, styleName)
	}
	return groups
}

// oneSheet lays the pieces out on one sheet, somewhat wider than high when they
// allow it.
func oneSheet(groups []plot.Group, title string) (plot.Drawing, error) {
	widest, area := 0.0, 0.0
	for _, g := range groups {
		b := g.Bounds()
		widest = max(widest, b.Width()+2*gap)
		area += (b.Width() + gap) * (b.Height() + gap)
	}
	sheets, err := plot.Arrange(groups, gap, max(widest, math.Sqrt(1.6*area)), 0)
	if err != nil {
		return plot.Drawing{}, err
	}
	if len(sheets) == 0 {
		return plot.Drawing{Title: title}, nil
	}
	d := sheets[0]
	d.Title = title
	return d, nil
}

// Error says why the job cannot be done and what would work.
type Error struct{ Problem, Hint string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Remedy returns what would work.
func (e *Error) Remedy() string { return e.Hint }

// fileName makes a file name of the words: letters, digits and hyphens.
func fileName(words ...string) string {
	if name := plot.Identifier(words...); name != "" {
		return name
	}
	return "style"
}
