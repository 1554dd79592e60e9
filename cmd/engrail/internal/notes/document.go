package notes

import (
	"regexp"
	"strings"
)

// Document is a sheet: a title and sections.
type Document struct {
	Title    string
	Sections []Section
}

// Section is a part of a sheet under a heading. ID is unique, of the letters a to z
// and hyphens.
type Section struct {
	ID, Title string
	Blocks    []Block
}

// Block is one of [Paragraph], [List], [Table], [Figures] and [Terms]. Their strings are
// plain text.
type Block interface {
	// text returns the words of the block, each string on a line.
	text() string
}

// Paragraph is a paragraph.
type Paragraph string

// List is a list; the items of an ordered one are numbered from 1.
type List struct {
	Ordered bool
	Items   []Item
}

// Item is an item of a list. Lead stands before its text and is stressed.
type Item struct{ Lead, Text string }

// Table is a table. The first Left columns are words, the others figures. All rows are as
// long as the head.
type Table struct {
	Caption string
	Head    []string
	Left    int
	Rows    [][]string
}

// Figures are drawings that stand side by side where there is room.
type Figures []Figure

// Figure is a drawing: SVG is one whole element of that name, empty when there is
// nothing to draw, begun by its own title. Caption says what it shows, so that it can be read without the
// drawing. One that is wide has no other beside it.
type Figure struct {
	SVG, Title, Caption string
	Wide                bool
}

// Terms are words with what they mean.
type Terms []Term

// Term is a word and what it means.
type Term struct{ Word, Meaning string }

func (p Paragraph) text() string { return string(p) }

func (l List) text() string {
	var all []string
	for _, i := range l.Items {
		all = append(all, i.Lead, i.Text)
	}
	return strings.Join(all, "\n")
}

func (t Table) text() string {
	all := append([]string{t.Caption}, t.Head...)
	for _, r := range t.Rows {
		all = append(all, r...)
	}
	return strings.Join(all, "\n")
}

func (f Figures) text() string {
	var all []string
	for _, x := range f {
		all = append(all, x.Title, x.Caption)
		for _, t := range lettering().FindAllStringSubmatch(x.SVG, -1) {
			all = append(all, t[1])
		}
	}
	return strings.Join(all, "\n")
}

// lettering finds the texts of a drawing.
func lettering() *regexp.Regexp { return regexp.MustCompile(`<text[^>]*>([^<]*)`) }

func (t Terms) text() string {
	var all []string
	for _, x := range t {
		all = append(all, x.Word, x.Meaning)
	}
	return strings.Join(all, "\n")
}

// Text returns all words of the sheet, each string on a line, those in drawings among
// them, which are escaped.
func (d Document) Text() string {
	all := []string{d.Title}
	for _, s := range d.Sections {
		all = append(all, s.Title)
		for _, b := range s.Blocks {
			all = append(all, b.text())
		}
	}
	return strings.Join(all, "\n")
}
