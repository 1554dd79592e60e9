package build

import (
	"engrail/facing/template"
	"engrail/plot"
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
	return p.formatOutputs(groups, title, fileName(s.Name, size.Name, "template"), howToMark(), false)
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
