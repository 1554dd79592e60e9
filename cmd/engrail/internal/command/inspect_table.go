package command

import (
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
)

const (
	// tableWidth is the longest line of the tables in characters.
	tableWidth = 100
	// mostSaid is how many notches or texts of a piece are told.
	mostSaid = 12
)

// print tells what is in the file, in tables, and what to do next.
func (in *inspection) print(w io.Writer, picture, styleFile string, draft *styleDraft) {
	shown := in.shown()
	pieces := shown.report.Pieces
	n := len(in.sizes)
	switch {
	case n > 1:
		fmt.Fprintf(w, "%s: %s in %d sizes, told apart by %s; lengths in mm\n", in.file, counted(len(pieces), "piece"), n, inWords(in.by))
	default:
		fmt.Fprintf(w, "%s: %s in one size; lengths in mm\n", in.file, counted(len(pieces), "piece"))
	}
	if in.family != "" {
		fmt.Fprintf(w, "there is a file like it for %d sizes, %s; for all of them: engrail inspect %s\n", len(in.familySizes), some(in.familySizes), quoted(in.family))
	}
	if n > 1 {
		in.printSizes(w)
		fmt.Fprintf(w, "\nsize %s:\n", shown.Name)
	}
	g := grid{align: "rlrrll", rows: [][]string{{"no", "piece", "width x height", "cut", "on fold", "grain line"}}}
	for _, p := range pieces {
		box := p.Outline.Bounds()
		g.add(strconv.Itoa(p.Number), tidy(p.Name), mm(box.Width())+" x "+mm(box.Height()), orDash(quantity(p)), yes(p.OnFold), orDash(grain(p)))
	}
	fmt.Fprintln(w)
	g.print(w)
	for _, p := range pieces {
		printPiece(w, p)
	}
	if len(shown.report.Seams) > 0 {
		fmt.Fprintf(w, "\nseams, as guessed\n")
		g := grid{align: "lrl", indent: 2}
		for _, s := range shown.report.Seams {
			g.add(tidy(sideName(shown.report, s.A)+" + "+sideName(shown.report, s.B)), mm(s.ALength)+" / "+mm(s.BLength), s.Reason)
		}
		g.print(w)
	}
	if problems := in.allProblems(); len(problems) > 0 {
		fmt.Fprintf(w, "\nproblems\n")
		g := grid{align: "ll", indent: 2}
		for _, p := range problems {
			g.add(p.Level.String(), tidy(strings.TrimPrefix(p.Where, in.file+", ")+": "+edgeList().ReplaceAllString(p.Message, "")))
		}
		g.print(w)
	}
	if picture != "" {
		fmt.Fprintf(w, "\ndrawn in %s\n", picture)
	}
	in.printNext(w, styleFile, draft)
}

// edgeList is the part of a message that lists the edges, which the tables do.
func edgeList() *regexp.Regexp { return regexp.MustCompile(`; the edges are [^;]*`) }

// printSizes tells how long the hems are in every size, and the line for the style
// file.
func (in *inspection) printSizes(w io.Writer) {
	pieces := in.shown().report.Pieces
	const columns = 5 // pieces beside one another, so that long names have room
	for block := range slices.Chunk(pieces, columns) {
		g := grid{align: "r" + strings.Repeat("rr", len(block))}
		head := []string{"size"}
		for _, p := range block {
			head = append(head, shortened(tidy(p.Name), 12)+" hem")
		}
		g.add(head...)
		for _, s := range in.sizes {
			row := []string{s.Name}
			for _, p := range block {
				hem := "-"
				if q, ok := pieceOf(s.report, p); ok && hemOf(q) > 0 {
					hem = mm(hemOf(q))
				}
				row = append(row, hem)
			}
			g.add(row...)
		}
		fmt.Fprintln(w)
		g.print(w)
	}
	how := ""
	if in.by != pattern.ByNothing {
		how = ", sizes: " + string(in.by)
	}
	fmt.Fprintf(w, "\nthe style file says it with: pattern: {file: %s%s}\n", yamlText(filepath.Base(in.file)), how)
}

// inWords says how sizes are told apart.
func inWords(by pattern.By) string {
	switch by {
	case pattern.ByNothing:
		return "their files"
	case pattern.ByLayer:
		return "their layers"
	case pattern.ByClass:
		return "the classes of their lines"
	case pattern.ByStroke:
		return "the colours and dashes of their lines"
	}
	return "what their pieces say"
}

// printPiece tells of one piece.
func printPiece(w io.Writer, p pattern.Inspected) {
	outline := "its outline counts as the stitching line"
	switch {
	case len(p.Stitch.V) > 0:
		outline = "with a cut line and a stitching line, of which the latter has the edges"
	case p.Cut:
		outline = "its outline is a cut line"
	}
	fmt.Fprintf(w, "\n%d %s, found by its %s; %s\n", p.Number, tidy(p.Name), p.Key, outline)
	if turned := degrees(p.Turned); abs(turned) >= 0.05 {
		fmt.Fprintf(w, "  lies on its side: turned by %.1f° it stands on its grain\n", turned)
	}
	g := grid{align: "llrrrl", indent: 2, rows: [][]string{{"edge", "guess", "length", "allowance", "corner", "why"}}}
	for _, e := range p.Edges {
		allowance := "-"
		if e.Measured {
			allowance = mm(e.Allowance)
		}
		guess := e.Word
		if role := e.Role.String(); role == "opening" {
			guess += ", " + role
		}
		g.add(fmt.Sprintf("#%d", e.Number), guess, mm(e.Path.Length()), allowance, e.Letter+" "+angle(degrees(e.Corner)), e.Reason)
	}
	if len(p.Edges) > 0 {
		g.print(w)
	}
	more := grid{align: "ll", indent: 2}
	var notches, texts []string
	places := map[int][]float64{}
	for _, n := range p.Notches {
		number, along := nearestEdge(p, n)
		places[number] = append(places[number], along)
	}
	for _, e := range p.Edges {
		at := places[e.Number]
		slices.Sort(at)
		for i, along := range at {
			notch := mm(along)
			if i == 0 {
				notch = fmt.Sprintf("#%d at %s", e.Number, notch)
			}
			notches = append(notches, notch)
		}
	}
	for _, t := range p.Texts {
		texts = append(texts, strconv.Quote(t))
	}
	if len(notches) > 0 {
		more.add("notches", some(notches)+" from the start of the edge")
	}
	if len(texts) > 0 {
		more.add("texts", some(texts))
	}
	more.print(w)
}

// printNext says what to do next.
func (in *inspection) printNext(w io.Writer, styleFile string, draft *styleDraft) {
	fmt.Fprintln(w)
	if draft == nil {
		base := strings.TrimSuffix(filepath.Base(in.file), filepath.Ext(in.file))
		base = strings.Trim(strings.ReplaceAll(base, style.SizeInName, ""), " -_.")
		fmt.Fprintf(w, "next: engrail inspect %s --style %s\n", quoted(in.file), quoted(base+".yaml"))
		return
	}
	fmt.Fprintf(w, "%s is ready: %s\n", styleFile, draft.summary())
	fmt.Fprintf(w, "next: engrail fit %s\n", quoted(styleFile))
}

// quoted returns a file's name as it is typed.
func quoted(name string) string {
	if strings.ContainsAny(name, " '\"$&()*;<>?[]{|}") {
		return strconv.Quote(name)
	}
	return name
}

// some lists the first of many.
func some(list []string) string {
	if n := len(list); n > mostSaid {
		list = append(slices.Clone(list[:mostSaid]), fmt.Sprintf("and %d more", n-mostSaid))
	}
	return strings.Join(list, ", ")
}

func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func mm(length float64) string { return style.Millimetre.Text(length) }

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func quantity(p pattern.Inspected) string {
	if p.Quantity == 0 {
		return ""
	}
	return strconv.Itoa(p.Quantity)
}

func grain(p pattern.Inspected) string {
	if l := p.Grain.Length(); l > 0 {
		return mm(l)
	}
	return ""
}

// tidy returns a text of the drawing without what would break a line.
func tidy(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || !unicode.IsPrint(r) }), " ")
}

func shortened(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

// grid is a table in aligned columns, a letter for each: l left, r right. The last
// column is broken into lines where it would be too wide.
type grid struct {
	align  string
	indent int
	rows   [][]string
}

func (g *grid) add(row ...string) { g.rows = append(g.rows, row) }

func (g *grid) print(w io.Writer) {
	const gap = 2
	var widths []int
	for _, row := range g.rows {
		for i, cell := range row[:len(row)-1] {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	last := len(widths)
	left := g.indent
	for _, n := range widths {
		left += n + gap
	}
	if last < len(g.align) && g.align[last] == 'r' {
		// The last column is aligned too, and not broken.
		n := 0
		for _, row := range g.rows {
			n = max(n, utf8.RuneCountInString(row[last]))
		}
		widths = append(widths, n)
	}
	for _, row := range g.rows {
		line := strings.Repeat(" ", g.indent)
		for i, n := range widths {
			pad := strings.Repeat(" ", n-utf8.RuneCountInString(row[i]))
			if g.align[i] == 'r' {
				line += pad + row[i]
			} else {
				line += row[i] + pad
			}
			line += strings.Repeat(" ", gap)
		}
		if len(widths) == last {
			line += strings.Join(wrapped(row[last], tableWidth-left), "\n"+strings.Repeat(" ", left))
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}

// wrapped breaks a text at spaces into lines of so many characters; a word that is
// longer stands on a line of its own.
func wrapped(text string, most int) []string {
	var lines []string
	for _, word := range strings.Fields(text) {
		if n := len(lines) - 1; n >= 0 && utf8.RuneCountInString(lines[n]+" "+word) <= most {
			lines[n] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}
