package notes

import (
	"fmt"
	"strings"
)

// Picture is a drawing in a file of its own.
type Picture struct {
	Name string
	SVG  []byte
}

// PictureName is the name of a picture's file. Pictures are numbered from 1; the base is of
// letters that a link can have as they are.
func PictureName(base string, number int) string {
	return fmt.Sprintf("%s-picture-%d.svg", base, number)
}

// Markdown returns the sheet as Markdown with tables, and the pictures that it shows, named
// by [PictureName]. Text is escaped, and line breaks in it are spaces.
func (d Document) Markdown(base string) ([]byte, []Picture) {
	var b strings.Builder
	var pictures []Picture
	fmt.Fprintf(&b, "# %s\n", marked(d.Title))
	for _, s := range d.Sections {
		fmt.Fprintf(&b, "\n## %s\n", marked(s.Title))
		for _, block := range s.Blocks {
			b.WriteByte('\n')
			switch x := block.(type) {
			case Paragraph:
				fmt.Fprintf(&b, "%s\n", marked(string(x)))
			case List:
				for i, item := range x.Items {
					sign := "-"
					if x.Ordered {
						sign = fmt.Sprintf("%d.", i+1)
					}
					fmt.Fprintf(&b, "%s %s\n", sign, led(item.Lead, item.Text))
				}
			case Table:
				x.markdown(&b)
			case Figures:
				for i, f := range x {
					if i > 0 {
						b.WriteByte('\n')
					}
					if f.SVG != "" {
						name := PictureName(base, len(pictures)+1)
						pictures = append(pictures, Picture{name, f.alone()})
						fmt.Fprintf(&b, "![%s](%s)\n\n", marked(f.Title), name)
					}
					fmt.Fprintf(&b, "%s\n", led(f.Title+".", f.Caption))
				}
			case Terms:
				for _, t := range x {
					fmt.Fprintf(&b, "- %s\n", led(t.Word+":", t.Meaning))
				}
			}
		}
	}
	return []byte(b.String()), pictures
}

// alone returns the drawing as a file, with its style sheet inside and on white, as it is
// where the page round it is dark.
func (f Figure) alone() []byte {
	head, body, _ := strings.Cut(f.SVG, "</title>\n")
	return fmt.Appendf(nil, "%s</title>\n<style>\nsvg{background:#fff}\n%s</style>\n%s", head, lines, body)
}

func (t Table) markdown(b *strings.Builder) {
	if t.Caption != "" {
		fmt.Fprintf(b, "%s:\n\n", marked(t.Caption))
	}
	row := func(cells []string) {
		for _, c := range cells {
			fmt.Fprintf(b, "| %s ", marked(c))
		}
		b.WriteString("|\n")
	}
	row(t.Head)
	for i := range t.Head {
		if i < t.Left {
			b.WriteString("|---")
		} else {
			b.WriteString("|---:")
		}
	}
	b.WriteString("|\n")
	for _, r := range t.Rows {
		row(r)
	}
}

// led writes a text with its stressed lead before it.
func led(lead, text string) string {
	if lead == "" {
		return marked(text)
	}
	return strings.TrimSpace(fmt.Sprintf("**%s** %s", marked(lead), marked(text)))
}

// marked writes plain text so that nothing in it is taken for a sign of Markdown.
func marked(s string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(s), " ") {
		if strings.ContainsRune("\\`*_[]<>#|&~$", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}
