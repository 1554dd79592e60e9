package plot

import (
	"engrail/facing/template"
	"engrail/motif/path"
)

// FromCard draws a card to mark motifs by as a group: its outline as a cut line, the
// valley line and the centre line with its arrow, and its label.
func FromCard(c template.Card, style, size string) Group {
	name := "card " + c.Name
	g := Group{
		ID: Identifier(name, size), Label: name,
		Piece: &Piece{Name: name, Size: size, Style: style, Kind: "template", Quantity: 1, Notes: c.Label.Lines},
	}
	g.Lines = append(g.Lines, Line{Role: Cut, Path: c.Outline}, Line{Role: Internal, Path: path.FromSegments(c.Valley)})
	if !c.Half {
		g.Lines = append(g.Lines, Line{Role: Internal, Path: path.FromSegments(c.Centre)}, Line{Role: Internal, Path: c.Arrow})
	}
	g.Texts = texts(c.Label)
	return g
}
