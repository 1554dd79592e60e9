package svg

import (
	"fmt"
	"strings"
)

// sheet holds the declarations of the file's style sheets: by selector, then by
// property.
type sheet map[string]map[string]declaration

// declaration is a property's value and its place in the sheet.
type declaration struct {
	value string
	order int
}

// parseSheet reads a style sheet. Only the selectors that drawing programs write
// are kept: *, an element's name, a class, an id, or a name with one of these.
// Others and at-rules are left out.
func parseSheet(text string) (sheet, error) {
	text = withoutComments(text)
	rules := sheet{}
	order, count := 0, 0
	for {
		selectors, after, ok := strings.Cut(text, "{")
		if !ok {
			return rules, nil
		}
		// What ends with a semicolon is an at-rule without a block.
		selectors = selectors[strings.LastIndexByte(selectors, ';')+1:]
		if strings.HasPrefix(strings.TrimSpace(selectors), "@") {
			text = afterBlock(after)
			continue
		}
		var body string
		body, text, _ = strings.Cut(after, "}")
		set := parseDeclarations(body)
		for selector := range strings.SplitSeq(selectors, ",") {
			selector = strings.TrimSpace(selector)
			if len(selector) > 1 {
				selector = strings.TrimPrefix(selector, "*")
			}
			if count += 1 + len(set); count > maxDeclarations {
				return nil, fmt.Errorf("has style sheets of more than %d declarations", maxDeclarations)
			}
			if rules[selector] == nil {
				rules[selector] = map[string]declaration{}
			}
			for property, value := range set {
				rules[selector][property] = declaration{value, order}
			}
			order++
		}
	}
}

// afterBlock returns what follows the block that is open at the start of s.
func afterBlock(s string) string {
	depth := 1
	for i := range len(s) {
		switch s[i] {
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return s[i+1:]
			}
		}
	}
	return ""
}

func withoutComments(s string) string {
	var b strings.Builder
	for {
		before, after, ok := strings.Cut(s, "/*")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		_, s, _ = strings.Cut(after, "*/")
	}
}

func parseDeclarations(s string) map[string]string {
	set := map[string]string{}
	for declaration := range strings.SplitSeq(withoutComments(s), ";") {
		name, value, ok := strings.Cut(declaration, ":")
		if !ok {
			continue
		}
		value, _, _ = strings.Cut(value, "!")
		set[strings.ToLower(strings.TrimSpace(name))] = strings.TrimSpace(value)
	}
	return set
}

// style answers what an element says of a property: in its style attribute,
// else in the sheet, else in the attribute of that name.
type style struct {
	e     *element
	own   map[string]string
	rules sheet
}

func (r *reader) styleOf(e *element) style {
	s := style{e: e, rules: r.rules}
	if text := e.attr("style"); text != "" {
		s.own = parseDeclarations(text)
	}
	return s
}

func (s style) get(property string) string {
	if v, ok := s.own[property]; ok {
		return v
	}
	if len(s.rules) > 0 {
		if v, ok := s.fromSheet(property); ok {
			return v
		}
	}
	return s.e.attr(property)
}

// fromSheet looks from the strongest kind of selector to the weakest; of several
// classes the one that the sheet declares last counts.
func (s style) fromSheet(property string) (string, bool) {
	name, id := s.e.name, "#"+s.e.attr("id")
	classes := strings.Fields(s.e.attr("class"))
	inClass := func(prefix string) (string, bool) {
		last := declaration{order: -1}
		for _, c := range classes {
			if d, ok := s.rules[prefix+"."+c][property]; ok && d.order > last.order {
				last = d
			}
		}
		return last.value, last.order >= 0
	}
	for _, selector := range [2]string{name + id, id} {
		if d, ok := s.rules[selector][property]; ok {
			return d.value, true
		}
	}
	for _, prefix := range [2]string{name, ""} {
		if v, ok := inClass(prefix); ok {
			return v, true
		}
	}
	for _, selector := range [2]string{name, "*"} {
		if d, ok := s.rules[selector][property]; ok {
			return d.value, true
		}
	}
	return "", false
}

// colourWord returns a colour in one word that is the same however its
// hexadecimal digits are written.
func colourWord(colour string) string {
	colour = strings.ToLower(strings.Join(strings.Fields(colour), ""))
	if len(colour) == 4 && colour[0] == '#' {
		r, g, b := colour[1:2], colour[2:3], colour[3:4]
		return "#" + r + r + g + g + b + b
	}
	return colour
}

func isSeparator(c rune) bool { return c == ',' || c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// look returns the colour and the dashes in one word, nothing without a stroke.
func (s state) look() string {
	if s.stroke == "" || s.dashes == "" {
		return s.stroke
	}
	return s.stroke + "/" + s.dashes
}
