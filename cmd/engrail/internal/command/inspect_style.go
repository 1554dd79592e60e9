package command

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
)

// styleDraft is a style file made from a pattern.
type styleDraft struct {
	text []byte
	// panels are the names of those in it, and left the pieces that are not.
	panels []string
	left   []string
	why    string // the first of those is left out
}

// summary says what is in the style.
func (d *styleDraft) summary() string {
	text := counted(len(d.panels), "panel") + " (" + some(d.panels) + ")"
	if len(d.left) > 0 {
		text += "; left out: " + some(d.left)
	}
	return text
}

// draftPanel is a panel of a style that is being drafted.
type draftPanel struct {
	pattern.Inspected
	name string
	// hem and fold are what has to be said of the piece, and why; mostly nothing.
	hem, fold, hemNote, foldNote string
	// why says what keeps the panel out of the style; empty for one that is in it.
	why string
}

// starting is what a style begins with: lengths in mm.
type starting struct{ width, depth, facing, favour float64 }

// seamless is a note on why a style has none of the guessed seams.
const seamless = "the seams, as guessed, cannot all be built; take the # away from those that are right"

// startings are the starter's motif and facing and smaller ones, in two lists: the
// second is for files all of whose pieces are too small for the first.
func startings() [2][]starting {
	return [2][]starting{
		{{60, 24, 50, 1}, {60, 24, 50, 0}, {40, 16, 35, 1}, {40, 16, 35, 0}, {25, 10, 20, 1}, {25, 10, 20, 0}},
		{{60, 24, 0, 0}, {12, 5, 10, 0}, {25, 10, 0, 0}, {5, 2, 4, 0}, {12, 5, 0, 0}, {5, 2, 0, 0}},
	}
}

// style drafts a style file of that name. It is built here on trial: a panel that
// cannot be built is left out with the reason, and where nothing else helps, the
// motif and the facing are smaller. With no panel left it is an error.
func (in *inspection) style(name string) (*styleDraft, error) {
	panels := in.draftPanels()
	files := remembered(filesFor(name, otherPlace(name), &[]string{}))
	fits := func(s starting, panels []draftPanel, noSeams string) error {
		parsed, err := style.Parse(name, in.styleText(name, panels, s, noSeams))
		if err != nil {
			return err
		}
		_, err = build.New(parsed, files)
		return err
	}
	var draft *styleDraft
	for _, list := range startings() {
		tried := slices.Clone(panels)
		for _, s := range list {
			if draft = newDraft(tried); len(draft.panels) > 0 && fits(s, tried, "") == nil {
				draft.text = in.styleText(name, tried, s, "")
				return draft, nil
			}
		}
		// Not all of them go: those that do not go alone are left out.
		for i := range tried {
			var first error
			for _, s := range list {
				if tried[i].why != "" {
					break
				}
				err := fits(s, panels[i:i+1], "")
				if err == nil {
					first = nil
					break
				}
				first = cmp.Or(first, err)
			}
			if first != nil {
				tried[i].why = tried[i].shaped(first)
			}
		}
		draft = newDraft(tried)
		if len(draft.panels) == 0 {
			continue
		}
		var failed error
		for _, note := range []string{"", seamless} {
			for _, s := range list {
				if failed = fits(s, tried, note); failed == nil {
					draft.text = in.styleText(name, tried, s, note)
					return draft, nil
				}
			}
		}
		return nil, fmt.Errorf("%s: the panels do not go together: %w", in.file, failed)
	}
	return nil, &fileError{
		fmt.Sprintf("%s: none of its pieces can have a shaped hem; %s: %s", in.file, draft.left[0], draft.why),
		"engrail inspect " + quoted(in.file) + " tells what is in the drawing", nil,
	}
}

// newDraft tells the panels that are in the style from those that are not.
func newDraft(panels []draftPanel) *styleDraft {
	d := &styleDraft{}
	for _, p := range panels {
		if p.why == "" {
			d.panels = append(d.panels, p.name)
			continue
		}
		d.left = append(d.left, tidy(p.Name))
		d.why = cmp.Or(d.why, p.why)
	}
	return d
}

// shaped says why a panel cannot be built, and what is likely when its hem has
// many runs.
func (d *draftPanel) shaped(failed error) string {
	runs := 0
	for _, e := range d.Edges {
		if e.Word == "hem" {
			runs++
		}
	}
	if runs > 2 {
		return fmt.Sprintf("its hem has %d runs, as one that is shaped already; draw it as one line", runs)
	}
	return failed.Error()
}

// remembered returns the files, each of which is read once.
func remembered(files build.Files) build.Files {
	read, known := files.Read, map[string][]byte{}
	files.Read = func(name string) ([]byte, error) {
		if data, ok := known[name]; ok {
			return data, nil
		}
		data, err := read(name)
		if err == nil {
			known[name] = data
		}
		return data, err
	}
	return files
}

// draftPanels returns the pieces as panels, with what has to be said of them.
func (in *inspection) draftPanels() []draftPanel {
	var all []draftPanel
	taken := map[string]bool{}
	for _, p := range in.shown().report.Pieces {
		d := draftPanel{Inspected: p, name: panelName(p, taken)}
		if d.Key != "order" && (unsuitable(d.Value) || tidy(d.Value) != d.Value) {
			d.Key, d.Value = "order", strconv.Itoa(p.Number)
		}
		switch {
		case strings.Contains(strings.ToLower(p.Name), "facing"):
			d.why = "a facing, by its name: engrail makes facings itself"
		case len(all) >= mostPanels:
			d.why = fmt.Sprintf("only the first %d pieces are looked at here", mostPanels)
		default:
			d.say(in.file, in.sizes)
		}
		all = append(all, d)
	}
	return all
}

// mostPanels is how many pieces become panels of a style that is drafted: each has
// to be built on trial.
const mostPanels = 40

// say finds out what a build has to be told of the piece so that it takes what was
// guessed: nothing, where it does that anyway.
func (d *draftPanel) say(file string, sizes []inspectedSize) {
	// The edges of the guess, or what comes next to it.
	hem, hemNote, length := "", "", 0.0
	for _, e := range d.Edges {
		if e.Word == "hem" && e.Path.Length() > length {
			hem, hemNote, length = fmt.Sprintf("#%d", e.Number), e.Reason, e.Path.Length()
		}
	}
	fold, foldNote := "", ""
	for _, e := range d.Edges {
		if e.Word == "fold" {
			fold, foldNote = fmt.Sprintf("#%d", e.Number), e.Reason
		}
	}
	type words struct{ hem, fold, hemNote, foldNote string }
	tries := []words{{}, {fold: fold, foldNote: foldNote}, {hem: hem, hemNote: hemNote}, {hem, fold, hemNote, foldNote}}
	if fold == "" && (d.OnFold || slices.ContainsFunc(d.Texts, saysFold)) {
		const guess = "a guess: the piece lies on the fold, and nothing says on which side"
		tries = append(tries, words{fold: "left", foldNote: guess}, words{fold: "right", foldNote: guess}, words{hem, "left", hemNote, guess}, words{hem, "right", hemNote, guess})
	}
	for _, w := range tries {
		d.hem, d.fold, d.hemNote, d.foldNote = w.hem, w.fold, w.hemNote, w.foldNote
		err := d.take(file, sizes, hem, fold)
		if err == nil {
			d.why = ""
			return
		}
		d.why = cmp.Or(d.why, err.Error())
	}
}

// saysFold reports whether a text says that the piece lies on the fold.
func saysFold(text string) bool {
	text = strings.ToLower(text)
	return strings.Contains(text, "on fold") || strings.Contains(text, "on the fold")
}

// errOther says that a panel is not what was guessed.
var errOther = errors.New("a build would take another edge for the hem or the fold")

// take takes the panel from every size, as a build does, and compares it with the
// guess.
func (d *draftPanel) take(file string, sizes []inspectedSize, hem, fold string) error {
	for _, s := range sizes {
		sel := pattern.Selection{File: file, Panel: d.name, Hem: cmp.Or(d.hem, style.Lowest), Fold: d.fold}
		d.Find(&sel)
		panel, _, err := pattern.Take(s.Drawing, sel)
		if err != nil {
			return err
		}
		p, ok := pieceOf(s.report, d.Inspected)
		if !ok {
			return fmt.Errorf("size %s has no piece that is found by the %s %q", s.Name, d.Key, d.Value)
		}
		for _, e := range p.Edges {
			number := fmt.Sprintf("#%d", e.Number)
			if d.hem == "" && number == hem && abs(e.Path.Length()-panel.Edges[0].Path.Length()) > onEdge {
				return errOther
			}
		}
		if onFold := slices.ContainsFunc(panel.Edges, func(e fit.Edge) bool { return e.Role == fit.FoldEdge }); d.fold == "" && fold != "" && !onFold {
			return errOther
		}
	}
	return nil
}

// panelName returns a name for the panel, which is none of those taken.
func panelName(p pattern.Inspected, taken map[string]bool) string {
	allowed := func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) || strings.ContainsRune(" -_.+,&()", r) {
			return r
		}
		return ' '
	}
	const most = 50
	base := strings.TrimLeft(strings.Join(strings.Fields(strings.Map(allowed, p.Name)), " "), ".- ")
	if r := []rune(base); len(r) > most {
		base = strings.TrimSpace(string(r[:most]))
	}
	if base == "" {
		base = "piece " + strconv.Itoa(p.Number)
	}
	name := base
	for i := 2; taken[strings.ToLower(name)]; i++ {
		name = fmt.Sprintf("%s %d", base, i)
	}
	taken[strings.ToLower(name)] = true
	return name
}

// unsuitable reports whether a style file cannot have the text as a value.
func unsuitable(text string) bool {
	const most = 200
	return strings.TrimSpace(text) == "" || len([]rune(text)) > most
}

// styleText writes the style file. With a note on why it has no seams, those that
// were guessed stand in it as notes only.
func (in *inspection) styleText(name string, panels []draftPanel, begin starting, noSeams string) []byte {
	var b bytes.Buffer
	line := func(text, note string) {
		if note != "" {
			text = fmt.Sprintf("%-31s # %s", text, tidy(note))
		}
		fmt.Fprintln(&b, strings.TrimRight(text, " "))
	}
	base := filepath.Base(name)
	title := strings.TrimSuffix(base, filepath.Ext(base))
	if unsuitable(tidy(title)) {
		title = "My style"
	}
	line("# A style from "+tidy(in.file)+", which builds as it is. What was guessed has a note that", "")
	line("# says why. See the edges by their numbers in the picture of", "")
	line("#   engrail inspect "+tidy(quoted(in.file))+" --png "+tidy(quoted(title+".png")), "")
	line("# change the motif, try it, and make the files:", "")
	line("#   engrail fit "+tidy(quoted(name)), "")
	line("#   engrail build "+tidy(quoted(name))+" --out "+tidy(quoted(title)), "")
	line("engrail: 1", "")
	line("style: "+yamlText(tidy(title)), "written on every piece")
	line("units: mm", "")
	line("", "")
	line("motif:", "")
	line("  shape: scallop", "scallop, point or wave")
	line("  width: "+number(begin.width), "wanted width of one; it is fitted to whole numbers")
	line("  depth: "+number(begin.depth), "from its valleys to its peaks")
	line("", "")
	line("allowance:", "of what is made")
	line("  hem: 6", "on the shaped edge, of garment and facing alike")
	if slices.ContainsFunc(panels, func(p draftPanel) bool { return p.why == "" && p.measured() }) {
		line("  # side: 15", "left out, sides and top stay as wide as between the cut line")
		line("  # top: 15", "and the stitching line, in every size")
	} else {
		line("  side: 15", "where a panel does not say otherwise")
		line("  top: 15", "")
	}
	line("  inner: 6", "on the inner edge of the facing")
	line("", "")
	line("pattern:", "")
	line("  file: "+yamlText(in.patternFrom(name)), "")
	if in.by != pattern.ByNothing {
		line("  sizes: "+string(in.by), "found: "+some(in.sizeNames()))
	}
	line("", "")
	line("panels:", "take out those whose hem is to stay as it is")
	for _, p := range panels {
		if p.why == "" {
			p.write(line)
		}
	}
	left := slices.DeleteFunc(slices.Clone(panels), func(p draftPanel) bool { return p.why == "" })
	for n, p := range left {
		if n == mostPanels {
			line(fmt.Sprintf("  # left out: and %d more", len(left)-n), "")
			break
		}
		for i, l := range wrapped(fmt.Sprintf("left out: %s: %s", tidy(p.Name), tidy(p.why)), tableWidth-6) {
			if i > 0 {
				l = "  " + l
			}
			line("  # "+l, "")
		}
	}
	in.writeSeams(line, panels, noSeams)
	line("", "")
	line("facing:", "")
	if begin.facing > 0 {
		line("  depth: "+number(begin.facing), "from the valleys up to its inner edge; none for no facing")
	} else {
		line("  depth: none", "the pieces have no room for one")
	}
	line("  favour: "+number(begin.favour), "how much smaller at the hem, so that the seam rolls to the inside")
	return b.Bytes()
}

// patternFrom returns the pattern file's name as seen from the style file.
func (in *inspection) patternFrom(styleFile string) string {
	from, err := filepath.Abs(filepath.Dir(styleFile))
	to, failed := filepath.Abs(in.file)
	if err == nil && failed == nil {
		if rel, err := filepath.Rel(from, to); err == nil {
			return filepath.ToSlash(rel)
		}
		return filepath.ToSlash(to)
	}
	return filepath.ToSlash(in.file)
}

// write writes the panel.
func (d *draftPanel) write(line func(text, note string)) {
	line("  "+yamlText(d.name)+":", "")
	value := yamlText(d.Value)
	if d.Key == "order" {
		value = strconv.Itoa(d.Number)
	}
	line("    piece:", "")
	note := ""
	if d.Key == "order" {
		note = "its place in the file, which has no name for it alone"
	}
	line("      "+d.Key+": "+value, note)
	words := map[string]pattern.InspectedEdge{}
	for _, e := range d.Edges {
		if _, there := words[e.Word]; !there {
			words[e.Word] = e
		}
	}
	say := func(key, said, note string) {
		e, there := words[key]
		switch {
		case said != "":
			line(fmt.Sprintf("      %s: %s", key, yamlText(said)), note)
		case there:
			line(fmt.Sprintf("      # %s: %q", key, fmt.Sprintf("#%d", e.Number)), e.Reason)
		}
	}
	say("hem", d.hem, d.hemNote)
	say("fold", d.fold, d.foldNote)
	if !d.measured() {
		note := "if allowances are drawn on it, to be taken off first"
		if d.Cut {
			note = "it is a cut line: put in its allowances, to be taken off first"
		}
		line("      # includes: {hem: 15, side: 15, top: 15}", "")
		line("      #   ^ "+note, "")
	}
	for _, k := range [2]string{style.StartEnd, style.FinishEnd} {
		if e, there := words[k]; there && e.Role == fit.OpeningEdge {
			line("    "+k+": {edge: opening}", e.Reason)
		}
	}
}

// measured reports whether the drawing has the piece's allowances.
func (d *draftPanel) measured() bool {
	return slices.ContainsFunc(d.Edges, func(e pattern.InspectedEdge) bool { return e.Measured })
}

// writeSeams writes the seams between panels of the style.
func (in *inspection) writeSeams(line func(text, note string), panels []draftPanel, noSeams string) {
	report := in.shown().report
	side := func(s pattern.SideRef) (name string, ok bool) {
		for _, p := range panels {
			if p.Number == report.Pieces[s.Piece].Number && p.why == "" {
				onFold := p.fold == "left" && s.End == fit.Start || p.fold == "right" && s.End == fit.Finish
				return yamlText(p.name + " " + s.End.String()), !onFold
			}
		}
		return "", false
	}
	mark := "  - "
	if noSeams != "" {
		mark = "  # - "
	}
	first := true
	for _, s := range report.Seams {
		a, hasA := side(s.A)
		b, hasB := side(s.B)
		if !hasA || !hasB {
			continue
		}
		if first {
			line("", "")
			if noSeams == "" {
				line("seams:", "which sides are sewn together at the hem")
			} else {
				line("seams: []", noSeams)
			}
			first = false
		}
		line(fmt.Sprintf("%s[%s, %s]", mark, a, b), s.Reason+in.unequal(s))
	}
}

// unequal says in which size the two sides of a seam differ most, when that is more
// than is eased in; nothing when there is none.
func (in *inspection) unequal(s pattern.SeamGuess) string {
	pieces := in.shown().report.Pieces
	most, where := 0.0, ""
	for _, size := range in.sizes {
		a, hasA := pieceOf(size.report, pieces[s.A.Piece])
		b, hasB := pieceOf(size.report, pieces[s.B.Piece])
		if !hasA || !hasB {
			continue
		}
		if off := abs(sideLength(a, s.A.End) - sideLength(b, s.B.End)); off > most {
			most, where = off, size.Name
		}
	}
	if most <= unevenSeam || len(in.sizes) == 1 {
		return ""
	}
	return fmt.Sprintf("; in size %s they differ by %s mm", where, mm(most))
}

// unevenSeam (length, mm) is how far the sides of a seam may differ without a
// word.
const unevenSeam = 1

// sideLength returns the length in mm of the piece's side at the end of its hem.
func sideLength(p pattern.Inspected, end fit.End) float64 {
	for _, e := range p.Edges {
		if e.Word == end.String() {
			return e.Path.Length()
		}
	}
	return 0
}

// number writes a length in mm without zeros at the end.
func number(mm float64) string { return style.Millimetre.Short(mm) }

// plainYAML is a text that YAML takes as it stands, in brackets too.
var plainYAML = regexp.MustCompile(`^[\pL_][\pL\pN_./-]*( [\pL\pN_./()-]+)*$`)

// yamlText returns a text as YAML has it, in quotes where it needs them.
func yamlText(s string) string {
	switch strings.ToLower(s) {
	case "true", "false", "null", "yes", "no", "on", "off", "y", "n":
		return strconv.Quote(s)
	}
	if plainYAML.MatchString(s) {
		return s
	}
	return strconv.Quote(s)
}
