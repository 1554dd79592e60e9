package style

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml/ast"
)

// Limits of what is read, so that no file takes long.
const (
	maxBytes = 128 << 10 // of the file
	maxDepth = 32        // of brackets
	maxText  = 200       // characters of a text
)

// unset marks a length that the file leaves out, until it is filled in.
var unset = Length(math.NaN())

func isSet(l Length) bool { return !math.IsNaN(float64(l)) }

// place is a line and a column, counted from 1.
type place struct{ line, column int }

// reader reads the nodes of a file into the structs of model.go. Mistakes are
// collected; what has one keeps its default.
type reader struct {
	file    string
	units   Unit
	anchors map[string]ast.Node
	// sizes is the value of the key sizes, which can be read only after panels.
	sizes ast.Node
	// places are those of the values read, by path: keys joined by slashes.
	places map[string]place
	errs   Errors
}

// field is what the tags of a struct's field say, and the field's index.
type field struct {
	index                            int
	key                              string
	required, positive, signed, bare bool
	wordNone, wordAuto               bool // none or auto can stand for a length
	enum, keys                       []string
	min, max                         int
}

func fieldOf(index int, f reflect.StructField) field {
	rules := strings.Split(f.Tag.Get("rule"), ",")
	list := func(tag string) []string {
		if s := f.Tag.Get(tag); s != "" {
			return strings.Split(s, ",")
		}
		return nil
	}
	number := func(tag string) int {
		n := 0
		if s := f.Tag.Get(tag); s != "" {
			n, _ = strconv.Atoi(s) // a test reads every tag
		}
		return n
	}
	return field{
		index:    index,
		key:      f.Tag.Get("yaml"),
		required: slices.Contains(rules, "required"),
		positive: slices.Contains(rules, "positive"),
		signed:   slices.Contains(rules, "signed"),
		bare:     slices.Contains(rules, "bare"),
		wordNone: slices.Contains(rules, "none"),
		wordAuto: slices.Contains(rules, "auto"),
		enum:     list("enum"), keys: list("keys"),
		min: number("min"), max: number("max"),
	}
}

// fields returns the fields of a struct that have keys.
func fields(t reflect.Type) []field {
	all := make([]field, 0, t.NumField())
	for i := range t.NumField() {
		if key := t.Field(i).Tag.Get("yaml"); key != "" && key != "-" {
			all = append(all, fieldOf(i, t.Field(i)))
		}
	}
	return all
}

func keysOf(list []field) []string {
	keys := make([]string, len(list))
	for i, f := range list {
		keys[i] = f.key
	}
	return keys
}

// fail records a mistake at a place.
func (r *reader) fail(at place, hint, format string, args ...any) {
	r.errs = append(r.errs, &Error{
		File: r.file, Line: max(1, at.line), Column: max(1, at.column),
		Message: fmt.Sprintf(format, args...), Hint: hint,
	})
}

// placeOf returns where a node starts.
func placeOf(n ast.Node) place {
	switch m := n.(type) {
	case *ast.MappingNode:
		if !m.IsFlowStyle && len(m.Values) > 0 {
			return placeOf(m.Values[0])
		}
	case *ast.MappingValueNode:
		return placeOf(m.Key)
	}
	if n != nil {
		if t := n.GetToken(); t != nil && t.Position != nil {
			return place{t.Position.Line, t.Position.Column}
		}
	}
	return place{1, 1}
}

// resolve returns the value that an anchored node or an alias stands for, nil
// after recording a mistake.
func (r *reader) resolve(n ast.Node) ast.Node {
	at := placeOf(n)
	if a, ok := n.(*ast.AnchorNode); ok {
		n = a.Value
	}
	if a, ok := n.(*ast.AliasNode); ok {
		name := a.Value.GetToken().Value
		if n, ok = r.anchors[name]; !ok {
			r.fail(at, "", "the alias *%s has no anchor &%s", name, name)
			return nil
		}
	}
	switch n.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		r.fail(at, "leave it out", "the mark %s means nothing here", n.GetToken().Value)
		return nil
	case nil:
		r.fail(at, "", "a value is missing")
	}
	return n
}

// collectAnchors remembers what every anchor of the file names.
func (r *reader) collectAnchors(root ast.Node) {
	ast.Walk(anchorVisitor{r.anchors}, root)
}

type anchorVisitor struct{ anchors map[string]ast.Node }

// Visit remembers the node if it is an anchor.
func (v anchorVisitor) Visit(n ast.Node) ast.Visitor {
	if a, ok := n.(*ast.AnchorNode); ok {
		v.anchors[a.Name.GetToken().Value] = a.Value
	}
	return v
}

// scalar returns the text of a single value as it stands in the file.
func scalar(n ast.Node) (string, bool) {
	switch m := n.(type) {
	case *ast.LiteralNode:
		return m.Value.Value, true
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	return "", false
}

// entry is one key of a mapping and its value.
type entry struct {
	key   string
	at    place
	value ast.Node
}

// entries returns the keys of a mapping, each once. It is not ok when the node
// is something else; an empty value counts as an empty mapping.
func (r *reader) entries(n ast.Node) (list []entry, ok bool) {
	var values []*ast.MappingValueNode
	switch m := n.(type) {
	case *ast.NullNode:
	case *ast.MappingNode:
		values = m.Values
	case *ast.MappingValueNode:
		values = []*ast.MappingValueNode{m}
	default:
		return nil, false
	}
	lines := map[string]int{}
	for _, v := range values {
		var key ast.Node = v.Key
		if k, isKey := key.(*ast.MappingKeyNode); isKey {
			key = k.Value
		}
		at := placeOf(v.Key)
		if key == nil || v.Key.IsMergeKey() {
			r.fail(at, "repeat the keys, or refer to a single value with an alias", "keys cannot be merged here")
			continue
		}
		text, isText := scalar(key)
		if !isText {
			r.fail(at, "", "a key must be a word")
			continue
		}
		if line, twice := lines[text]; twice {
			r.fail(at, "", "the key %q is already on line %d", text, line)
			continue
		}
		lines[text] = at.line
		if null, isNull := v.Value.(*ast.NullNode); isNull {
			// What is not there is missed at its key.
			null.Token.Position = v.Key.GetToken().Position
		}
		list = append(list, entry{text, at, v.Value})
	}
	return list, true
}

// presetter is a struct whose defaults are not all zero.
type presetter interface{ preset() }

// mapping reads a mapping into a struct, whose values are kept where a key is
// left out. Fields are read in their order, so that units come first.
func (r *reader) mapping(n ast.Node, v reflect.Value, key, path string) {
	form := fields(v.Type())
	list, ok := r.entries(n)
	if !ok {
		r.bareValue(n, v, form, key, path)
		return
	}
	known := keysOf(form)
	for _, e := range list {
		if slices.Contains(known, e.key) {
			continue
		}
		hint := "the keys here are " + inWords(known, "and")
		if _, err := strconv.Atoi(e.key); err == nil {
			hint = "write a decimal point, such as 60.5, in place of a decimal comma"
		}
		if near := Nearest(e.key, known); near != "" {
			r.fail(e.at, hint, "unknown key %q; did you mean %q?", e.key, near)
			continue
		}
		if home := homeOf(e.key); home != "" {
			hint = fmt.Sprintf("%q is a key of %s; %s", e.key, home, hint)
		}
		r.fail(e.at, hint, "unknown key %q", e.key)
	}
	for _, f := range form {
		at := slices.IndexFunc(list, func(e entry) bool { return e.key == f.key })
		if at < 0 {
			if f.required {
				hint := ""
				switch f.key {
				case "engrail":
					hint = beginHint
				case "panels":
					hint = panelsHint
				}
				r.fail(placeOf(n), hint, "the key %q is missing", f.key)
			}
			continue
		}
		if v.Field(f.index).Type() == reflect.TypeFor[[]Size]() {
			r.sizes = list[at].value
			continue
		}
		r.value(list[at].value, v.Field(f.index), f, path+"/"+f.key)
	}
}

// bareValue reads a value that stands in place of a struct's mapping.
func (r *reader) bareValue(n ast.Node, v reflect.Value, form []field, key, path string) {
	_, isScalar := scalar(n)
	done := false
	for _, f := range form {
		if f.bare && isScalar {
			f.key = key
			r.value(n, v.Field(f.index), f, path)
			done = true
		}
	}
	if !done {
		r.fail(placeOf(n), "the keys are "+inWords(keysOf(form), "and"), "%s needs keys under it", key)
	}
}

// value reads one value of any type.
func (r *reader) value(n ast.Node, v reflect.Value, f field, path string) {
	at := placeOf(n)
	r.places[path] = at
	if n = r.resolve(n); n == nil {
		return
	}
	switch x := v.Addr().Interface().(type) {
	case *Length:
		r.length(n, x, f, at)
	case **Length:
		var l Length
		r.length(n, &l, f, at)
		*x = &l
	case *Degrees:
		if word, ok := r.word(n, f, at, "an angle in degrees"); ok {
			d, err := parseDegrees(word)
			if err != nil {
				r.fail(at, "", "%s: %v", f.key, err)
			} else if r.inRange(float64(d), f, at) {
				*x = d
			}
		}
	case *Part:
		if word, ok := r.word(n, f, at, "a part of a circle"); ok {
			p, err := parsePart(word)
			if err != nil {
				r.fail(at, "", "%s: %v", f.key, err)
			}
			*x = p
		}
	case *Ratio:
		if word, ok := r.word(n, f, at, "a ratio"); ok {
			v, err := parseRatio(word)
			if err != nil {
				r.fail(at, "", "%s: %v", f.key, err)
			}
			*x = v
		}
	case *Place:
		if word, ok := r.word(n, f, at, "a place along the hem"); ok {
			v, err := parsePlace(word)
			if err != nil {
				r.fail(at, "", "%s: %v", f.key, err)
			}
			*x = v
		}
	case *Paper:
		if word, ok := r.word(n, f, at, inWords(f.enum, "or")+", or a roll such as roll 914"); ok {
			r.paper(word, x, f, at)
		}
	case *Unit:
		var word string
		r.text(n, &word, f, at)
		if word != "" {
			*x, r.units = Unit(word), Unit(word)
		}
	case *string:
		r.text(n, x, f, at)
	case *int:
		r.whole(n, x, f, at)
	case **bool:
		var b bool
		r.value(n, reflect.ValueOf(&b).Elem(), f, path)
		*x = &b
	case *bool:
		word, ok := r.word(n, f, at, "true or false")
		switch {
		case !ok:
		case word == "true" || word == "false":
			*x = word == "true"
		default:
			r.fail(at, "", "%s is %q; write true or false", f.key, word)
		}
	case *Point:
		pair := r.pair(n, at, f.key+": write two lengths for one, such as [120, 15]")
		if pair == nil {
			return
		}
		f.signed = true
		r.value(pair[0], reflect.ValueOf(&x.X).Elem(), f, path+"/across")
		r.value(pair[1], reflect.ValueOf(&x.Y).Elem(), f, path+"/up")
	case *Seam:
		pair := r.pair(n, at, "a seam joins two sides, such as [front finish, back finish]")
		if pair == nil {
			return
		}
		r.value(pair[0], reflect.ValueOf(&x.A).Elem(), f, path+"/a")
		r.value(pair[1], reflect.ValueOf(&x.B).Elem(), f, path+"/b")
	case *Side:
		var word string
		r.text(n, &word, f, at)
		word = strings.TrimSpace(word)
		i := strings.LastIndexByte(word, ' ')
		if i < 0 {
			if word != "" {
				r.fail(at, `write its panel's name and start or finish, such as "front finish"`, "%q is no side of a panel", word)
			}
			return
		}
		*x = Side{Panel: strings.TrimSpace(word[:i]), End: word[i+1:]}
	case *[]Panel:
		r.panels(n, x, at)
	case *[]EdgeWidth:
		r.edgeWidths(n, x, f, at, path)
	case *map[string]int:
		r.wholes(n, x, f, at, path)
	default:
		switch v.Kind() {
		case reflect.Slice:
			r.list(n, v, f, at, path)
		case reflect.Pointer:
			fresh := reflect.New(v.Type().Elem())
			if p, ok := fresh.Interface().(presetter); ok {
				p.preset()
			}
			r.mapping(n, fresh.Elem(), f.key, path)
			v.Set(fresh)
		case reflect.Struct:
			r.mapping(n, v, f.key, path)
		}
	}
}

// word returns the text of a single value, recording a mistake when there is
// none.
func (r *reader) word(n ast.Node, f field, at place, what string) (string, bool) {
	word, ok := scalar(n)
	if _, isNull := n.(*ast.NullNode); isNull {
		r.fail(at, "", "%s has no value; write %s, or leave the key out", f.key, what)
	} else if !ok {
		r.fail(at, "", "%s is a single value; write %s", f.key, what)
	}
	return word, ok
}

func (r *reader) length(n ast.Node, x *Length, f field, at place) {
	what := "a length"
	if f.wordNone {
		what += " or none"
	}
	if f.wordAuto {
		what += " or auto"
	}
	word, ok := r.word(n, f, at, what)
	if !ok {
		return
	}
	if f.wordAuto && strings.TrimSpace(word) == "auto" {
		*x = Auto
		return
	}
	if f.wordNone && strings.TrimSpace(word) == "none" {
		*x = 0
		return
	}
	l, err := ParseLength(word, r.units)
	if err != nil {
		hint := ""
		if f.wordNone {
			hint = fmt.Sprintf("write %s: none to go without", f.key)
		}
		if f.wordAuto {
			hint = fmt.Sprintf("write %s: auto to have it found", f.key)
		}
		r.fail(at, hint, "%s: %v", f.key, err)
	} else if r.inRange(float64(l), f, at) {
		*x = l
	}
}

// inRange checks the sign of a number.
func (r *reader) inRange(v float64, f field, at place) bool {
	switch {
	case f.positive && v <= 0:
		r.fail(at, "", "%s must be above 0", f.key)
	case v < 0 && !f.signed:
		r.fail(at, "", "%s cannot be below 0", f.key)
	default:
		return true
	}
	return false
}

func (r *reader) whole(n ast.Node, x *int, f field, at place) {
	word, ok := r.word(n, f, at, "a whole number")
	if !ok {
		return
	}
	i, err := strconv.Atoi(word)
	if f.positive {
		f.min = 1
	}
	switch {
	case err != nil:
		r.fail(at, "", "%s is %q; write a whole number", f.key, word)
	case i < f.min:
		r.fail(at, "", "%s is %d; it must be at least %d", f.key, i, f.min)
	case f.max > 0 && i > f.max:
		r.fail(at, "", "%s is %d; it can be at most %d", f.key, i, f.max)
	default:
		*x = i
	}
}

// text reads a free text, or one of the words of the field.
func (r *reader) text(n ast.Node, x *string, f field, at place) {
	what := "a text"
	if f.enum != nil {
		what = inWords(f.enum, "or")
	}
	word, ok := r.word(n, f, at, what)
	if !ok {
		return
	}
	if f.enum != nil {
		if r.oneOf(word, f.enum, f.key, at) {
			*x = word
		}
		return
	}
	if why := unprintable(word); why != "" {
		r.fail(at, "", "%s %s", f.key, why)
		return
	}
	*x = word
}

// unprintable says what is wrong with a text that is to be written on a piece.
func unprintable(text string) string {
	switch {
	case strings.TrimSpace(text) == "":
		return "is empty"
	case len([]rune(text)) > maxText:
		return fmt.Sprintf("has more than %d characters", maxText)
	case strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsPrint(c) }):
		return "has a character in it that cannot be printed"
	}
	return ""
}

// oneOf checks that the word is one of the list.
func (r *reader) oneOf(word string, list []string, key string, at place) bool {
	if slices.Contains(list, word) {
		return true
	}
	hint := fmt.Sprintf("the words are %s", inWords(list, "and"))
	if near := Nearest(word, list); near != "" {
		r.fail(at, hint, "unknown word %q for %s; did you mean %q?", word, key, near)
	} else {
		r.fail(at, hint, "unknown word %q for %s", word, key)
	}
	return false
}

// list reads a sequence. A single value stands for a sequence of one.
func (r *reader) list(n ast.Node, v reflect.Value, f field, at place, path string) {
	nodes := []ast.Node{n}
	if s, ok := n.(*ast.SequenceNode); ok {
		nodes = s.Values
	} else if _, ok := scalar(n); !ok && !(isMapping(n) && v.Type().Elem().Kind() == reflect.Struct) {
		r.fail(at, "", "%s is a list; write its values in brackets or each on a line after a hyphen", f.key)
		return
	}
	if f.max > 0 && len(nodes) > f.max {
		r.fail(at, "", "%s has %d values; it can have at most %d", f.key, len(nodes), f.max)
		return
	}
	out := reflect.MakeSlice(v.Type(), len(nodes), len(nodes))
	for i, one := range nodes {
		r.value(one, out.Index(i), f, fmt.Sprintf("%s/%d", path, i))
	}
	v.Set(out)
}

func isMapping(n ast.Node) bool {
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return true
	}
	return false
}

// pair returns the two values of a sequence, nil after recording a mistake.
func (r *reader) pair(n ast.Node, at place, what string) []ast.Node {
	if s, ok := n.(*ast.SequenceNode); ok && len(s.Values) == 2 {
		return s.Values
	}
	r.fail(at, "", "%s", what)
	return nil
}

// panelsHint says how panels are written.
const panelsHint = `write the panels' names and shapes under it, such as "panels: {front: {straight: {width: 800, depth: 300}}}"`

// panels reads a mapping of names to panels.
func (r *reader) panels(n ast.Node, x *[]Panel, at place) {
	list, ok := r.named(n, "panels", "panel", panelsHint, at, 200)
	if !ok {
		return
	}
	if len(list) == 0 {
		r.fail(at, panelsHint, "panels lists no panel")
	}
	for _, e := range list {
		p := Panel{Name: e.key}
		p.preset()
		path := "/panels/" + e.key
		r.places[path] = e.at
		if value := r.resolve(e.value); value != nil {
			r.mapping(value, reflect.ValueOf(&p).Elem(), "panel "+e.key, path)
		}
		*x = append(*x, p)
	}
}

// named returns the entries of a mapping whose keys are names of things.
func (r *reader) named(n ast.Node, key, thing, hint string, at place, most int) ([]entry, bool) {
	list, ok := r.entries(n)
	if !ok {
		r.fail(at, hint, "%s needs the name of each %s as a key", key, thing)
		return nil, false
	}
	if len(list) > most {
		r.fail(at, "", "%s has %d entries; it can have at most %d", key, len(list), most)
		return nil, false
	}
	lines := map[string]int{}
	for _, e := range list {
		if why := badName(e.key); why != "" {
			r.fail(e.at, namesHint, "the %s's name %q %s", thing, e.key, why)
		}
		// Files are named after it, and some systems do not tell A from a.
		low := strings.ToLower(e.key)
		if line, twice := lines[low]; twice {
			r.fail(e.at, "", "the %s's name %q differs from that on line %d only in capitals", thing, e.key, line)
		}
		lines[low] = e.at.line
	}
	return list, true
}

// namesHint says what names are made of.
const namesHint = "names are letters, digits, spaces and -_.+,&()"

// maxName is how many characters a name may have.
const maxName = 60

// badName says what is wrong with the name of a panel or a size.
func badName(name string) string {
	switch {
	case name == "" || strings.TrimSpace(name) != name:
		return "is empty or has spaces around it"
	case len([]rune(name)) > maxName:
		return fmt.Sprintf("has more than %d characters", maxName)
	case strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-"):
		return fmt.Sprintf("begins with %q", name[:1])
	}
	for _, c := range name {
		if !unicode.IsLetter(c) && !unicode.IsMark(c) && !unicode.IsDigit(c) && !strings.ContainsRune(" -_.+,&()", c) {
			return fmt.Sprintf("has %q in it", c)
		}
	}
	return ""
}

// wholes reads a mapping of words to whole numbers.
func (r *reader) wholes(n ast.Node, x *map[string]int, f field, at place, path string) {
	list, ok := r.entries(n)
	if !ok {
		r.fail(at, "the keys are "+inWords(f.keys, "and"), "%s needs keys under it", f.key)
		return
	}
	*x = map[string]int{}
	for _, e := range list {
		if !r.oneOf(e.key, f.keys, f.key, e.at) {
			continue
		}
		var i int
		r.value(e.value, reflect.ValueOf(&i).Elem(), field{key: e.key, max: f.max}, path+"/"+e.key)
		(*x)[e.key] = i
	}
}

// edgeWidths reads a mapping of edges to the widths of their allowances.
func (r *reader) edgeWidths(n ast.Node, x *[]EdgeWidth, f field, at place, path string) {
	const hint = `such as {"#3": 10}`
	list, ok := r.entries(n)
	if !ok || len(list) == 0 {
		r.fail(at, hint, "%s needs edges and the widths of their allowances", f.key)
		return
	}
	if len(list) > f.max {
		r.fail(at, "", "%s has %d entries; it can have at most %d", f.key, len(list), f.max)
		return
	}
	for _, e := range list {
		if why := unprintable(e.key); why != "" {
			r.fail(e.at, hint, "the name of an edge %s", why)
			continue
		}
		w := EdgeWidth{Edge: e.key}
		if _, err := strconv.Atoi(e.key); err == nil {
			w.Edge = "#" + e.key // a # begins a note in the file where it is not in quotes
		}
		r.value(e.value, reflect.ValueOf(&w.Width).Elem(), field{key: "the allowance of " + e.key}, path+"/"+e.key)
		*x = append(*x, w)
	}
}

// inWords lists words for a sentence.
func inWords(words []string, joiner string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + joiner + " " + words[len(words)-1]
}

// homeOf returns where in the file a key belongs, in words; nothing when it is
// no key at all.
func homeOf(key string) string { return homeIn(reflect.TypeFor[Style](), "the whole file", key) }

func homeIn(t reflect.Type, name, key string) string {
	form := fields(t)
	if slices.Contains(keysOf(form), key) {
		return name
	}
	for _, f := range form {
		inner := t.Field(f.index).Type
		if inner.Kind() == reflect.Pointer || inner.Kind() == reflect.Slice {
			inner = inner.Elem()
		}
		if inner.Kind() != reflect.Struct {
			continue
		}
		within := f.key
		if inner == reflect.TypeFor[Panel]() {
			within = "a panel"
		}
		if home := homeIn(inner, within, key); home != "" {
			return home
		}
	}
	return ""
}
