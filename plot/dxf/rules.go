package dxf

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/motif/path"
	"engrail/plot/internal/ascii"
)

// Rules is a grade rule table: how far the grade points of a base size move to
// make the other sizes.
type Rules struct {
	// Table is the table's name, by which a file of pattern data asks for it.
	Table string
	// UnitMM is the length in mm of the table's unit, 0 when it does not say.
	UnitMM float64
	// Sizes are the names of the sizes in the table's order, all different, and
	// Sample is the one of them that the file of pattern data draws.
	Sizes  []string
	Sample string
	// Deltas are the rules by their numbers: for each size the way from the point
	// in the sample size, in the table's unit.
	Deltas map[int][]path.Vec
}

// sample returns which of the sizes is the sample, -1 when it is none of them.
func (r *Rules) sample() int { return slices.Index(r.Sizes, r.Sample) }

// ParseRules reads the text file (.RUL) of a grade rule table: lines of a key
// and its value, then for each rule a line RULE: DELTA n and for each size its
// x,y, one beneath the other or in rows.
//
// It takes any case and spacing, keys without a colon, commas or spaces between
// sizes and numbers, and lists over several lines, and passes over keys that it
// does not know. What is told must be whole: SIZE LIST, SAMPLE SIZE and at
// least one rule, each with a delta for each size and none in the sample size.
//
// The error is a [*SyntaxError] but for one of the reader's. The limits are
// 16 MB, 500 sizes, and deltas of 10000 units.
func ParseRules(r io.Reader) (*Rules, error) {
	src, err := io.ReadAll(io.LimitReader(r, maxRuleBytes+1))
	if err != nil {
		return nil, fmt.Errorf("dxf: rule table: %w", err)
	}
	p := rulesParser{Rules: Rules{Deltas: map[int][]path.Vec{}}}
	if len(src) > maxRuleBytes {
		return nil, p.fail("the file is larger than %d bytes: is it a rule table?", maxRuleBytes)
	}
	for line := range bytes.Lines(bytes.TrimPrefix(src, []byte("\ufeff"))) {
		p.line++
		if err := p.take(strings.TrimSpace(strings.Trim(text(line, usualPage()), "\x1a\r\n"))); err != nil {
			return nil, err
		}
		if p.ended {
			break
		}
	}
	if err := p.finish(); err != nil {
		return nil, err
	}
	return &p.Rules, nil
}

// The keys of a rule table. The writers of one family call the table Grading
// Rule Table.
const (
	ruleUnits     = "UNITS"
	ruleTable     = "GRADE RULE TABLE"
	ruleOtherName = "GRADING RULE TABLE"
	ruleCount     = "NUMBER OF SIZES"
	ruleSizes     = "SIZE LIST"
	ruleSample    = "SAMPLE SIZE"
	ruleAuthor    = "AUTHOR"
	ruleDate      = "CREATION DATE"
	ruleTime      = "CREATION TIME"
	ruleRule      = "RULE"
	ruleDelta     = "DELTA"
	ruleEnd       = "END"
)

// rulesParser reads a rule table line by line.
type rulesParser struct {
	Rules
	line       int
	count      int // NUMBER OF SIZES, 0 before it
	countLine  int
	list       []string // lines of SIZE LIST
	listLine   int
	listing    bool // the list may go on in the next line
	sampleLine int
	rules      []rule
	ended      bool
}

// rule is one rule with its numbers as they stand.
type rule struct {
	number, line int
	values       []float64
}

func (p *rulesParser) fail(format string, args ...any) error {
	return p.failAt(p.line, format, args...)
}

func (p *rulesParser) failAt(line int, format string, args ...any) error {
	return &SyntaxError{Table: true, Line: max(line, 1), Msg: fmt.Sprintf(format, args...)}
}

// take takes a line.
func (p *rulesParser) take(line string) error {
	if line == "" {
		return nil
	}
	key, value, ok := ruleKey(line)
	if !ok {
		switch {
		case p.listing:
			p.list = append(p.list, line)
		case len(p.rules) > 0:
			return p.takeNumbers(line)
		}
		return nil // such as the version of the standard
	}
	p.listing = false
	switch key {
	case ruleUnits:
		switch {
		case strings.EqualFold(value, metricWord):
			p.UnitMM = 1
		case strings.EqualFold(value, englishWord):
			p.UnitMM = inch
		case value != "":
			return p.fail("units %.40q are neither METRIC nor ENGLISH", value)
		}
	case ruleTable, ruleOtherName:
		p.Table = value
	case ruleCount:
		n, ok := integer([]byte(value))
		if !ok || n < 1 || n > maxSizes {
			return p.fail("%.40q is not a number of sizes from 1 to %d", value, maxSizes)
		}
		p.count, p.countLine = n, p.line
	case ruleSizes:
		if p.listLine > 0 {
			return p.fail("a second size list, after the one in line %d: leave one of them", p.listLine)
		}
		p.list, p.listLine, p.listing = append(p.list, value), p.line, true
	case ruleSample:
		p.Sample, p.sampleLine = value, p.line
	case ruleRule, ruleDelta:
		return p.startRule(key, value)
	case ruleEnd:
		p.ended = true
	}
	return nil
}

// ruleKey returns the key that the line starts with, in capitals, and its value.
func ruleKey(line string) (key, value string, ok bool) {
	words := strings.Fields(strings.ToUpper(line[:min(len(line), 40)]))
	for _, key := range [...]string{
		ruleUnits, ruleTable, ruleOtherName, ruleCount, ruleSizes, ruleSample, ruleAuthor, ruleDate, ruleTime, ruleRule, ruleDelta, ruleEnd,
	} {
		parts := strings.Fields(key)
		n := len(parts)
		if len(words) < n {
			continue
		}
		last, _, colon := strings.Cut(words[n-1], ":")
		if last != parts[n-1] || !slices.Equal(words[:n-1], parts[:n-1]) {
			continue
		}
		if key == ruleEnd && (len(words) > n || colon) {
			continue
		}
		// The value starts behind as many words, without the colon.
		rest := line
		for i := range n {
			rest = strings.TrimLeft(rest, " \t")
			rest = rest[min(len(rest), len(parts[i])):]
		}
		rest = strings.TrimSpace(rest)
		return key, strings.TrimSpace(strings.TrimPrefix(rest, ":")), true
	}
	return "", "", false
}

// startRule takes the head of a rule, "DELTA n" or what follows DELTA.
func (p *rulesParser) startRule(key, value string) error {
	name := value
	if key == ruleRule {
		kind, number, ok := ruleKey(value)
		if !ok || kind != ruleDelta {
			return p.fail("rule %.40q is not DELTA with a number: only deltas are read", value)
		}
		name = number
	}
	// What follows the number are its first deltas.
	digits := name
	if i := strings.IndexFunc(name, func(r rune) bool { return r < '0' || r > '9' }); i >= 0 {
		digits = name[:i]
	}
	n, ok := integer([]byte(digits))
	if !ok {
		return p.fail("%.40q is not the number of a rule: write RULE: DELTA and a whole number", name)
	}
	p.rules = append(p.rules, rule{number: n, line: p.line})
	return p.takeNumbers(strings.TrimLeft(name[len(digits):], " \t:"))
}

// takeNumbers takes numbers of the rule that was started last.
func (p *rulesParser) takeNumbers(line string) error {
	r := &p.rules[len(p.rules)-1]
	for word := range strings.FieldsFuncSeq(line, separates) {
		x, err := strconv.ParseFloat(word, 64)
		switch {
		case err != nil && !math.IsInf(x, 0):
			return p.fail("%.40q in rule %d is not a number: write x,y for each size, with a point for decimals", word, r.number)
		case !(math.Abs(x) <= maxDelta):
			return p.fail("%.40q in rule %d is not a number up to %g: no grade point moves so far", word, r.number, maxDelta)
		case len(r.values) == 2*maxSizes:
			return p.fail("rule %d has deltas for more than %d sizes", r.number, maxSizes)
		}
		r.values = append(r.values, x)
	}
	return nil
}

func separates(r rune) bool { return r == ',' || r == ';' || r == ' ' || r == '\t' }

// finish checks the whole of the table and makes its rules.
func (p *rulesParser) finish() error {
	if err := p.finishSizes(); err != nil {
		return err
	}
	if len(p.rules) == 0 {
		return p.fail("the table has no rules: write RULE: DELTA 1 and one x,y for each size")
	}
	lines := map[int]int{}
	for _, r := range p.rules {
		if first, ok := lines[r.number]; ok {
			return p.failAt(r.line, "rule %d again, after the one in line %d: give one of them another number", r.number, first)
		}
		lines[r.number] = r.line
		if len(r.values) != 2*len(p.Sizes) {
			return p.failAt(r.line, "rule %d has %d numbers and the table %d sizes: write one x,y for each size",
				r.number, len(r.values), len(p.Sizes))
		}
		deltas := make([]path.Vec, len(p.Sizes))
		for i := range deltas {
			deltas[i] = path.Vec{X: r.values[2*i], Y: r.values[2*i+1]}
		}
		if d := deltas[p.sample()]; d.Len() > sampleDelta {
			return p.failAt(r.line, "rule %d moves its point by %g,%g in the sample size %s: deltas count from the sample size, where they are 0,0",
				r.number, d.X, d.Y, p.Sample)
		}
		deltas[p.sample()] = path.Vec{}
		p.Deltas[r.number] = deltas
	}
	return nil
}

// finishSizes takes the size list apart: by commas if that gives as many as
// there should be, for then names may have spaces.
func (p *rulesParser) finishSizes() error {
	if p.listLine == 0 {
		return p.fail("the table has no size list: write SIZE LIST: and the names of the sizes")
	}
	fields := func(separates func(rune) bool) []string {
		var list []string
		for _, line := range p.list {
			for s := range strings.FieldsFuncSeq(line, separates) {
				if s = strings.TrimSpace(s); s != "" {
					list = append(list, s)
				}
			}
		}
		return list
	}
	p.Sizes = fields(func(r rune) bool { return r == ',' || r == ';' || r == '\t' })
	if len(p.Sizes) != p.count && (p.count > 0 || len(p.Sizes) <= len(p.list)) {
		p.Sizes = fields(separates)
	}
	switch n := len(p.Sizes); {
	case n == 0:
		return p.failAt(p.listLine, "the size list has no sizes")
	case n > maxSizes:
		return p.failAt(p.listLine, "the size list has more than %d sizes", maxSizes)
	case p.count > 0 && n != p.count:
		return p.failAt(p.listLine, "the size list has %d sizes, and line %d says %d", n, p.countLine, p.count)
	}
	seen := map[string]bool{}
	for _, s := range p.Sizes {
		if seen[s] {
			return p.failAt(p.listLine, "size %.40q is in the size list twice", s)
		}
		seen[s] = true
	}
	switch {
	case p.Sample == "":
		return p.failAt(p.sampleLine, "the table does not say its sample size: write SAMPLE SIZE: and the name of the size that is drawn")
	case p.sample() < 0:
		return p.failAt(p.sampleLine, "sample size %.40q is not in the size list %.80s", p.Sample, strings.Join(p.Sizes, ", "))
	}
	return nil
}

// text returns the table as a file in the units, beneath the lines of its head.
func (r *Rules) text(head []string, u Units) []byte {
	between := " "
	if slices.ContainsFunc(r.Sizes, func(s string) bool { return strings.ContainsAny(s, " \t") }) {
		between = ", "
	}
	var b []byte
	line := func(s string) { b = append(append(b, ascii.Fold(strings.TrimSpace(s))...), "\r\n"...) }
	for _, l := range head {
		line(l)
	}
	line(fact(ruleUnits, u.word()))
	line(fact(ruleTable, r.Table))
	line(fact(ruleCount, strconv.Itoa(len(r.Sizes))))
	line(fact(ruleSizes, strings.Join(r.Sizes, between)))
	line(fact(ruleSample, r.Sample))
	unit := cmp.Or(r.UnitMM, 1) / u.mm()
	for _, n := range slices.Sorted(maps.Keys(r.Deltas)) {
		line(fact(ruleRule, ruleDelta+" "+strconv.Itoa(n)))
		for _, d := range r.Deltas[n] {
			b = append(appendFixed(b, d.X*unit, u.decimals()), ',')
			b = append(appendFixed(b, d.Y*unit, u.decimals()), "\r\n"...)
		}
	}
	line(ruleEnd)
	return b
}
