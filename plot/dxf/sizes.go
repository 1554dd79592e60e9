package dxf

import (
	"fmt"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// tag is a grade point of a piece: a text "# n" at the place that moves by the
// rule n. m maps the piece's coordinates, which the rules are in, to mm.
type tag struct {
	at     path.Point
	rule   int
	m      path.Affine
	entity *entity
}

// gradeRule returns the number of a text "# n" and its place. Annotation may
// say the same and mean no rule.
func (e *entity) gradeRule() (number int, at path.Point, ok bool) {
	if e.kind != kindText || e.layer.name == layerLettering {
		return 0, path.Point{}, false
	}
	digits, ok := strings.CutPrefix(strings.TrimSpace(e.text), "#")
	if !ok {
		return 0, path.Point{}, false
	}
	if number, ok = integer([]byte(strings.TrimSpace(digits))); !ok || number < 0 {
		return 0, path.Point{}, false
	}
	if e.align != 0 || e.rise != 0 {
		return number, e.to, true
	}
	return number, e.at, true
}

// sizeBlocks gives the blocks of pieces the size that their names or the style
// say, for those whose own texts do not. Of blocks with the same piece name
// the names end with the size, as in FRONT-36 and FRONT-38.
func (b *builder) sizeBlocks(sample string) {
	named := map[string][]*block{}
	for _, blk := range b.blocks {
		if !blk.piece {
			continue
		}
		blk.size = sample
		name, size := "", ""
		for i := range blk.entities {
			switch key, value, _ := blk.entities[i].fact(); key {
			case keyPiece:
				name = value
			case keySize:
				size = value
			}
		}
		if size == "" {
			named[name] = append(named[name], blk)
		}
	}
	for _, blocks := range named {
		if len(blocks) < 2 {
			continue
		}
		common := commonName(blocks)
		for _, blk := range blocks {
			if size := strings.Trim(blk.name[len(common):], separators); common != "" && size != "" {
				blk.size = size
			}
		}
	}
}

// separators stand between the name of a piece and its size.
const separators = "-_. "

// commonName returns what the blocks' names begin with before their sizes,
// nothing when they do not end with sizes: with digits or what follows a
// separator.
func commonName(blocks []*block) string {
	const digits = "0123456789"
	common := blocks[0].name
	for _, blk := range blocks[1:] {
		n := 0
		for n < min(len(common), len(blk.name)) && strings.EqualFold(common[n:n+1], blk.name[n:n+1]) {
			n++
		}
		common = common[:n]
	}
	common = strings.TrimRight(common, digits) // not 6 and 8 of FRONT36 and FRONT38
	for _, blk := range blocks {
		if rest := blk.name[len(common):]; rest != "" && !strings.ContainsAny(rest[:1], digits+separators) {
			return common[:strings.LastIndexAny(common, separators)+1]
		}
	}
	return common
}

// startGrading finds whether there are grade points for the rules to use.
func (b *builder) startGrading(unit float64) error {
	if b.rules == nil {
		return nil
	}
	for _, blk := range b.blocks {
		for i := range blk.entities {
			if _, _, ok := blk.entities[i].gradeRule(); ok && blk.piece {
				b.graded = true
			}
		}
	}
	if !b.graded {
		return nil
	}
	r := b.rules
	if r.sample() < 0 {
		return fmt.Errorf("dxf: rule table %q: sample size %q is not one of its sizes", r.Table, r.Sample)
	}
	for n, deltas := range r.Deltas {
		if len(deltas) != len(r.Sizes) {
			return fmt.Errorf("dxf: rule table %q: rule %d has %d deltas for %d sizes", r.Table, n, len(deltas), len(r.Sizes))
		}
	}
	b.ratio = 1
	said, file, err := b.unitText()
	switch {
	case r.UnitMM == 0:
	case !said || err != nil:
		b.ratio = r.UnitMM / unit
	case file != r.UnitMM:
		// Where both say the same they may both be wrong, and the options right.
		b.ratio = r.UnitMM / file
		b.report.warn("the file's unit is %g mm and the rule table's %g mm: see that the table belongs to the file", file, r.UnitMM)
	}
	if name := b.report.RuleTable; name != "" && r.Table != "" && !strings.EqualFold(name, tableName(r.Table)) {
		b.report.warn("the file names the grade rule table %q, and the one given is %q: see that the table belongs to the file", name, r.Table)
	}
	return nil
}

// tableName returns the name of a rule table without the ending of its file, which
// some files have with it.
func tableName(s string) string {
	s = strings.Trim(s, `" `)
	if n := len(s) - len(".RUL"); n > 0 && strings.EqualFold(s[n:], ".RUL") {
		return s[:n]
	}
	return s
}

// sizes returns the piece in each size of the rules, and the piece itself where
// there are none.
func (b *builder) sizes(e *entity, g plot.Group) ([]plot.Group, error) {
	tags := b.tags
	b.tags = b.tags[:0]
	b.report.GradePoints += len(tags)
	if !b.graded {
		return []plot.Group{g}, nil
	}
	r := b.rules
	if s := g.Piece.Size; s != "" && s != r.Sample {
		b.report.warn("piece %q is drawn in size %s, and the rule table moves points from size %s: see that the table belongs to the file",
			g.Piece.Name, s, r.Sample)
	}
	points, err := b.gradePoints(g, tags)
	if err != nil {
		return nil, err
	}
	lines, texts := everything(g)
	vertices := 0
	for _, l := range lines {
		vertices += len(l.Path.V)
	}
	b.entries += (len(r.Sizes) - 1) * (len(lines) + len(texts))
	if err := b.count(e, (len(r.Sizes)-1)*vertices+len(points)*len(r.Sizes)); err != nil {
		return nil, err
	}
	p, err := newPlan(lines, texts, points, b.work)
	if err != nil {
		return nil, e.fail("piece %q: %v", g.Piece.Name, err)
	}
	b.work = p.work
	for i, used := range p.used {
		if !used {
			b.report.warn("piece %q: the grade point at (%.1f, %.1f) mm is on no line and moves nothing: set it on a point of the piece",
				g.Piece.Name, points[i].at.X, points[i].at.Y)
		}
	}
	if len(points) > 0 && p.loose {
		b.report.warn("piece %q has no closed cut line, and each of its lines is graded by itself: make its outline one closed polyline", g.Piece.Name)
	}
	groups := make([]plot.Group, len(r.Sizes))
	for i, size := range r.Sizes {
		groups[i] = g // as it is drawn
		if i != r.sample() {
			groups[i] = p.group(g, i)
			if g.ID != "" {
				groups[i].ID += "-" + size
			}
		}
		piece := *g.Piece
		piece.Size = size
		groups[i].Piece = &piece
	}
	return groups, nil
}

// gradePoints returns where the piece's grade points move to.
func (b *builder) gradePoints(g plot.Group, tags []tag) ([]gradePoint, error) {
	var points []gradePoint
	rules := map[path.Point]int{}
	for _, t := range tags {
		deltas, ok := b.rules.Deltas[t.rule]
		if !ok {
			return nil, t.entity.fail("piece %q: grade rule %d is not in the rule table %q: give the table that belongs to the file",
				g.Piece.Name, t.rule, b.rules.Table)
		}
		if first, ok := rules[t.at]; ok {
			if first != t.rule {
				b.report.warn("piece %q: the point at (%.1f, %.1f) mm has the grade rules %d and %d, and moves by the first: take one of them out",
					g.Piece.Name, t.at.X, t.at.Y, first, t.rule)
			}
			continue
		}
		rules[t.at] = t.rule
		moves := make([]path.Vec, len(deltas))
		for i, d := range deltas {
			if moves[i] = t.m.ApplyVec(d.Mul(b.ratio)); !(moves[i].Len() <= maxNumber) {
				return nil, t.entity.fail("grade rule %d moves a point by more than %g mm", t.rule, maxNumber)
			}
		}
		points = append(points, gradePoint{t.at, moves})
	}
	return points, nil
}

// tellOfRules warns of grading that could not be done.
func (b *builder) tellOfRules(sample string) {
	sizes := map[string]bool{}
	for _, blk := range b.blocks {
		if blk.piece {
			sizes[blk.size] = true
		}
	}
	name := b.report.RuleTable
	drawn := "only the size that is drawn is read"
	if sample != "" {
		drawn = fmt.Sprintf("only size %s is read", sample)
	}
	beside := name + ".RUL beside it"
	if name == "" {
		beside = "the rule table beside it, a .RUL file of the same name"
	}
	switch points := b.report.GradePoints; {
	case b.graded:
	case points > 0:
		b.report.warn("the file has %d grade points and no rule table was given, so that %s: put %s", points, drawn, beside)
	case b.rules != nil:
		b.report.warn("the file has no grade points, so that the rule table %q was not used: save the pattern with its grade points", b.rules.Table)
	case name != "" && len(sizes) < 2:
		b.report.warn("the file names the grade rule table %q and has no grade points, so that %s: save the pattern with its grade points and %s.RUL, or in all sizes", name, drawn, name)
	}
}

// everything returns the lines and texts of the group and of the groups inside
// it.
func everything(g plot.Group) (lines []plot.Line, texts []plot.Text) {
	g.Walk(func(in plot.Group) {
		lines = append(lines, in.Lines...)
		texts = append(texts, in.Texts...)
	})
	return lines, texts
}

// group returns the group in the size. The plan is one of everything in it.
func (p *plan) group(g plot.Group, size int) plot.Group {
	line, text := 0, 0
	var move func(g plot.Group) plot.Group
	move = func(g plot.Group) plot.Group {
		lines := make([]plot.Line, len(g.Lines))
		for i, l := range g.Lines {
			lines[i] = p.lines[line].line(l, size)
			line++
		}
		texts := make([]plot.Text, len(g.Texts))
		for i, t := range g.Texts {
			t.At = t.At.Add(p.texts[text].in(size))
			texts[i] = t
			text++
		}
		groups := make([]plot.Group, len(g.Groups))
		for i, in := range g.Groups {
			groups[i] = move(in)
		}
		g.Lines, g.Texts, g.Groups = lines, texts, groups
		return g
	}
	return move(g)
}
