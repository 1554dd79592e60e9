package notes

import (
	_ "embed"
	"encoding/xml"
	"fmt"
	"regexp"
	"strings"
)

// looks is the style sheet: for a screen, and for A4 and Letter alike.
//
//go:embed notes.css
var looks string

// lines is the style sheet of drawings.
//
//go:embed drawing.css
var lines string

// HTML returns the sheet as one page that needs no other file, well-formed as XML
// besides. Text is escaped.
func (d Document) HTML() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"+
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>%s</title>\n<style>\n%s%s</style>\n</head>\n<body>\n<h1>%s</h1>\n",
		escaped(d.Title), looks, lines, escaped(d.Title))
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "<section id=\"%s\">\n<h2>%s</h2>\n", escaped(s.ID), escaped(s.Title))
		for _, block := range s.Blocks {
			switch x := block.(type) {
			case Paragraph:
				fmt.Fprintf(&b, "<p>%s</p>\n", escaped(string(x)))
			case List:
				x.html(&b)
			case Table:
				x.html(&b)
			case Figures:
				x.html(&b)
			case Terms:
				b.WriteString("<dl>\n")
				for _, t := range x {
					fmt.Fprintf(&b, "<dt>%s</dt><dd>%s</dd>\n", escaped(t.Word), escaped(t.Meaning))
				}
				b.WriteString("</dl>\n")
			}
		}
		b.WriteString("</section>\n")
	}
	b.WriteString("</body>\n</html>\n")
	return []byte(b.String())
}

func (l List) html(b *strings.Builder) {
	kind := "ul"
	if l.Ordered {
		kind = "ol"
	}
	fmt.Fprintf(b, "<%s>\n", kind)
	for _, i := range l.Items {
		b.WriteString("<li>")
		if i.Lead != "" {
			fmt.Fprintf(b, "<strong>%s</strong> ", escaped(i.Lead))
		}
		fmt.Fprintf(b, "%s</li>\n", escaped(i.Text))
	}
	fmt.Fprintf(b, "</%s>\n", kind)
}

// longTable is how many rows are too many for a page of paper: such a table begins where it
// stands, and runs on under its head again.
const longTable = 24

func (t Table) html(b *strings.Builder) {
	if len(t.Rows) > longTable {
		b.WriteString("<table class=\"long\">\n")
	} else {
		b.WriteString("<table>\n")
	}
	if t.Caption != "" {
		fmt.Fprintf(b, "<caption>%s</caption>\n", escaped(t.Caption))
	}
	row := func(kind string, cells []string) {
		b.WriteString("<tr>")
		for i, c := range cells {
			class := ""
			if i >= t.Left {
				class = " class=\"figure\""
			}
			fmt.Fprintf(b, "<%s%s>%s</%s>", kind, class, escaped(c), kind)
		}
		b.WriteString("</tr>\n")
	}
	b.WriteString("<thead>\n")
	row("th", t.Head)
	b.WriteString("</thead>\n<tbody>\n")
	for _, r := range t.Rows {
		row("td", r)
	}
	b.WriteString("</tbody>\n</table>\n")
}

func (f Figures) html(b *strings.Builder) {
	b.WriteString("<div class=\"figures\">\n")
	for _, x := range f {
		class := ""
		if x.Wide {
			class = " class=\"wide\""
		}
		fmt.Fprintf(b, "<figure%s>\n%s<figcaption><strong>%s.</strong> %s</figcaption>\n</figure>\n", class, x.SVG, escaped(x.Title), escaped(x.Caption))
	}
	b.WriteString("</div>\n")
}

// escaped writes text for XML; characters that it cannot have become U+FFFD. A unit stays
// on the line of its number.
func escaped(s string) string {
	var b strings.Builder
	if xml.EscapeText(&b, []byte(strings.Join(strings.Fields(s), " "))) != nil { // a strings.Builder takes all
		return ""
	}
	return withUnit.ReplaceAllString(b.String(), "$1\u00a0$2")
}

// withUnit finds a number and its unit.
var withUnit = regexp.MustCompile(`(\d) (mm|cm|m|in)\b`)
