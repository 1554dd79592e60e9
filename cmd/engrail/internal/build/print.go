package build

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/pdf"
	"engrail/plot/svg"
)

// printable is what is drawn as SVG and printed as PDF.
type printable struct {
	groups []plot.Group // that are laid out anew for a roll
	sheet  plot.Drawing // with them laid out, finished
	base   string       // of file names
	finish func(plot.Drawing) plot.Drawing
}

// printOutputs lists the SVG and PDF files that the style asks for.
func (p *Plan) printOutputs(x printable) ([]output, error) {
	var all []output
	if slices.Contains(p.Style.Output.Formats, "svg") {
		all = append(all, output{name: x.base + ".svg", format: "svg", drawing: x.sheet, write: svg.Write})
	}
	if !slices.Contains(p.Style.Output.Formats, "pdf") {
		return all, nil
	}
	for _, paper := range p.Style.Output.Paper {
		base := x.base + "-" + fileName(paper.Name)
		if paper.Roll == 0 {
			all = append(all, output{name: base + ".pdf", format: "pdf", drawing: x.sheet, page: pageOf(paper), write: p.printed(paper.Name)})
			continue
		}
		sheets, err := rolled(x, paper)
		if err != nil {
			return nil, err
		}
		for i, d := range sheets {
			name := base
			if d.Title = x.sheet.Title; len(sheets) > 1 {
				name = fmt.Sprintf("%s-%d", base, i+1)
				d.Title = fmt.Sprintf("%s, sheet %d of %d", d.Title, i+1, len(sheets))
			}
			all = append(all, output{name: name + ".pdf", format: "pdf", drawing: d, page: pageOf(paper),
				write: func(w io.Writer, d plot.Drawing) error {
					return pdf.WriteRoll(w, d, float64(paper.Roll), p.printerStretch())
				}})
		}
	}
	return all, nil
}

// rolled lays the pieces out on as many lengths of a roll as they need.
func rolled(x printable, paper style.Paper) ([]plot.Drawing, error) {
	roll := float64(paper.Roll)
	wide, long := pdf.RollSpace(x.sheet, roll)
	widest, longest := 0.0, 0.0
	var which string
	for _, g := range x.groups {
		if b := g.Bounds(); !b.Empty() {
			if b.Width() > widest {
				widest, which = b.Width(), g.Name()
			}
			longest = max(longest, b.Height())
		}
	}
	switch {
	case widest > wide:
		return nil, &Error{
			Problem: fmt.Sprintf("%s is %.1f mm wide, and a roll of %g mm takes %g mm between its margins", which, widest, roll, wide),
			Hint:    widerRoll(widest + roll - wide),
		}
	case longest > long:
		return nil, &Error{
			Problem: fmt.Sprintf("a piece is %.0f mm long, and a page of PDF takes %.0f mm", longest, long),
			Hint:    `print it on pages that are put together: "output: {paper: [a4]}" in the style file`,
		}
	}
	sheets, err := plot.Arrange(x.groups, gap, wide, long)
	for i, d := range sheets {
		sheets[i] = x.finish(d)
	}
	return sheets, err
}

// widerRoll says which of the usual rolls takes a width with its margins. They are 24,
// 36, 42, 44 and 60 in wide, in mm (the first, the second and the fourth after a print
// shop's list, the others from memory).
func widerRoll(need float64) string {
	for _, usual := range []float64{610, 914, 1067, 1118, 1524} {
		if usual >= need {
			return fmt.Sprintf(`a roll of %.0f mm or more would do: "output: {paper: [roll %.0f]}" in the style file`, math.Ceil(need), usual)
		}
	}
	return fmt.Sprintf(`a roll of %.0f mm or more would do, wider than the usual ones: print it on pages that are put together, "output: {paper: [a4]}" in the style file`, math.Ceil(need))
}

// tiled returns the sizes of paper that is put together, by what they are called in a
// style.
func tiled() map[string]pdf.Paper {
	return map[string]pdf.Paper{"a4": pdf.A4(), "letter": pdf.Letter(), "a3": pdf.A3(), "tabloid": pdf.Tabloid()}
}

// pageOf returns the size of the pages for a drawing on the paper.
func pageOf(paper style.Paper) func(plot.Drawing) (pdf.Page, error) {
	return func(d plot.Drawing) (pdf.Page, error) {
		if p, ok := tiled()[paper.Name]; ok {
			return pdf.Page{Width: p.Width, Height: p.Height}, nil
		}
		return pdf.Sheet(d, float64(paper.Roll))
	}
}

// printerStretch returns by how much pages are drawn larger for the printer.
func (p *Plan) printerStretch() pdf.Stretch {
	if s := p.stretch("pdf"); s != (path.Vec{X: 1, Y: 1}) {
		return pdf.Stretch(s)
	}
	return pdf.Stretch{}
}

// printed returns what writes a drawing as PDF for paper of that name; for any other
// on one sheet.
func (p *Plan) printed(paper string) func(io.Writer, plot.Drawing) error {
	return func(w io.Writer, d plot.Drawing) (err error) {
		hint := `print it on pages that are put together: "output: {paper: [a4]}" in the style file`
		if t, ok := tiled()[paper]; ok {
			hint = `print it on larger pages: "output: {paper: [a3]}" in the style file`
			err = pdf.WriteTiles(w, d, t, p.printerStretch())
		} else {
			err = pdf.Write(w, d, p.printerStretch())
		}
		if errors.Is(err, pdf.ErrTooLarge) {
			return &Error{Problem: err.Error(), Hint: hint}
		}
		return err
	}
}
