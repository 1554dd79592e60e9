package pattern

import (
	"slices"
	"strings"

	"engrail/fit"
	"engrail/plot"
)

// keep adds the line to what is inside the panel.
func keep(in *fit.Inside, m marked) {
	switch {
	case m.Path.Segments() == 0:
		in.Drills = append(in.Drills, m.Path.V[0].Point)
	case m.Path.Closed && (m.Role == plot.Cut || m.Role == plot.Drawn && cutout(m.words)):
		in.Cutouts = append(in.Cutouts, m.Path)
	default:
		in.Internal = append(in.Internal, m.Path)
	}
}

// cutout reports whether the words say that a closed line is cut out.
func cutout(words string) bool {
	return slices.ContainsFunc([]string{"cutout", "cut-out", "cut out", "hole"}, func(w string) bool { return hasWords(words, w) })
}

// lettering returns the texts of the piece that are no facts about it: those are
// told by what is made of it.
func (p piece) lettering() []fit.Text {
	var all []fit.Text
	goesOn := false // a fact that ends with a comma, in the next line
	for _, n := range p.notes {
		fact := goesOn || p.isFact(n.String)
		goesOn = fact && strings.HasSuffix(strings.TrimSpace(n.String), ",")
		if !fact {
			all = append(all, fit.Text{At: n.Text.Corners()[0], Height: n.Height, Angle: n.Angle, String: n.String})
		}
	}
	return all
}

// isFact reports whether the text says what the piece is called, its size or its
// allowances, how many are cut, or where its fold and its grain are.
func (p piece) isFact(text string) bool {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	if slices.ContainsFunc(p.names, func(n string) bool { return n != "" && strings.EqualFold(n, text) }) {
		return true
	}
	if key, _, ok := strings.Cut(text, ":"); ok && slices.Contains([]string{
		"piece", "piece name", "name", "size", "quantity", "category", "material", "style", "style name", "annotation"}, strings.TrimSpace(key)) {
		return true
	}
	if _, ok := cutCount(text); ok {
		return true
	}
	// What is said of allowances need no longer be true.
	for _, w := range []string{"size", "on fold", "on the fold", "grain", "grainline", "allowance", "allowances"} {
		if hasWords(text, w) {
			return true
		}
	}
	return text == "" || text == "fold"
}
