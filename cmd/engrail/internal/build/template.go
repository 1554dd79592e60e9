package build

import (
	"io"
	"slices"

	"engrail/facing/template"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/png"
)

// cardOutputs lists the files of the cards that one size is marked with by hand, none
// where it has no motifs.
func (p *Plan) cardOutputs(size Size) ([]output, error) {
	s := p.Style
	cards, err := template.Make(size.Fit, template.Options{Style: s.Name, Size: size.Name, Unit: string(s.Units), Length: s.Units.Short})
	if err != nil || len(cards) == 0 {
		return nil, err
	}
	groups := make([]plot.Group, len(cards))
	for i, c := range cards {
		groups[i] = plot.FromCard(c, s.Name, size.Name)
	}
	title := s.Name + ", cards to mark by"
	if size.Name != "" {
		title = s.Name + ", size " + size.Name + ", cards to mark by"
	}
	base := fileName(s.Name, size.Name, "template")
	sheet, err := oneSheet(groups, title)
	if err != nil {
		return nil, err
	}
	var all []output
	wants := func(format string) bool { return slices.Contains(s.Output.Formats, format) }
	if wants("png") {
		o := png.Options{Longest: s.Output.Picture, Captions: howToMark()}
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
	if wants("hpgl") {
		d, err := plotter(s.Output.Plotter)
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

// howToMark says beside the picture how a card is used.
func howToMark() []string {
	return []string{
		"How to mark",
		"Draw the valley line on the cloth.",
		"Lay the card on it, arrow up,",
		"both lower corners on the line.",
		"Draw along the lower edge.",
		"Step on: the left corner comes",
		"where the right one was.",
	}
}
