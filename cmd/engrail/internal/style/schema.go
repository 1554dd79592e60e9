package style

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strconv"
	"strings"
)

// modelSource is where the comments are that describe the keys.
//
//go:embed model.go
var modelSource string

// Schema returns the form of style files as a JSON Schema of the draft 2020-12,
// always the same bytes. It allows every file that Parse reads; mistakes that
// depend on several keys, such as a seam of unknown panels, are Parse's alone.
func Schema() []byte {
	g := generator{docs: comments(), done: map[string]bool{}}
	root := g.structure(reflect.ValueOf(*defaults()))
	root = append(object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "engrail style file, form " + strconv.Itoa(Form)},
	}, root...)
	root = append(root, member{"$defs", g.defs})

	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(root); err != nil {
		panic(err) // strings, numbers and lists always encode
	}
	return out.Bytes()
}

// object is a JSON object that keeps the order of its members.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	out.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			out.WriteByte(',')
		}
		if err := e.Encode(m.key); err != nil {
			return nil, err
		}
		out.WriteByte(':')
		if err := e.Encode(m.value); err != nil {
			return nil, err
		}
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// comments returns the comments of model.go by Type and by Type.Field, each on
// one line.
func comments() map[string]string {
	file, err := parser.ParseFile(token.NewFileSet(), "model.go", modelSource, parser.ParseComments)
	if err != nil {
		panic(err) // it has been compiled
	}
	docs := map[string]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		decl, ok := n.(*ast.GenDecl)
		if !ok || decl.Tok != token.TYPE {
			return true
		}
		for _, s := range decl.Specs {
			spec := s.(*ast.TypeSpec)
			docs[spec.Name.Name] = oneLine(decl.Doc)
			if t, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range t.Fields.List {
					for _, name := range f.Names {
						docs[spec.Name.Name+"."+name.Name] = oneLine(f.Doc)
					}
				}
			}
		}
		return false
	})
	return docs
}

func oneLine(c *ast.CommentGroup) string { return strings.Join(strings.Fields(c.Text()), " ") }

// generator turns the types of model.go into schemas.
type generator struct {
	docs map[string]string
	defs object
	done map[string]bool
}

// structure returns the schema of a struct's mapping; the value holds the
// defaults.
func (g *generator) structure(v reflect.Value) object {
	t := v.Type()
	var properties object
	var required []string
	for _, f := range fields(t) {
		property := object{{"description", g.docs[t.Name()+"."+t.Field(f.index).Name]}}
		property = append(property, g.value(v.Field(f.index), f)...)
		if d := defaultOf(v.Field(f.index)); d != nil {
			property = append(property, member{"default", d})
		}
		properties = append(properties, member{f.key, property})
		if f.required {
			required = append(required, f.key)
		}
	}
	s := object{{"type", "object"}}
	if len(required) == 0 {
		s[0].value = []string{"object", "null"}
	}
	s = append(s, member{"properties", properties}, member{"additionalProperties", false})
	if len(required) > 0 {
		s = append(s, member{"required", required})
	}
	if t == reflect.TypeFor[Panel]() {
		var one []object
		for _, k := range []string{"piece", "circle", "gore", "straight", "curve"} {
			one = append(one, object{{"required", []string{k}}})
		}
		s = append(s, member{"oneOf", one})
	}
	return s
}

// define returns a reference to the schema of the name, which make makes the
// first time for the definitions.
func (g *generator) define(name string, make func() object) object {
	if !g.done[name] {
		g.done[name] = true
		at := len(g.defs)
		g.defs = append(g.defs, member{name, nil}) // before those that it refers to
		g.defs[at].value = make()
	}
	return object{{"$ref", "#/$defs/" + name}}
}

// defined returns a reference to a struct's schema.
func (g *generator) defined(v reflect.Value) object {
	return g.define(strings.ToLower(v.Type().Name()), func() object { return g.structure(v) })
}

// value returns the schema of one value.
func (g *generator) value(v reflect.Value, f field) object {
	switch v.Interface().(type) {
	case Length, *Length:
		return g.length(f)
	case Degrees:
		return number(angleForm, f)
	case Part, Ratio:
		f.positive = true
		return number(partForm, f)
	case Place:
		return object{{"anyOf", []object{{{"enum", []string{"start", "middle", "finish"}}}, number(partForm, f)}}}
	case Paper:
		return object{{"anyOf", []object{
			{{"enum", f.enum}},
			{{"type", "string"}, {"pattern", rollForm + strings.TrimPrefix(lengthForm, `^ *([+-]?)`)}},
		}}}
	case Unit, string:
		if f.enum != nil {
			return object{{"type", "string"}, {"enum", f.enum}}
		}
		return object{{"type", []string{"string", "number"}}}
	case int:
		s := object{{"type", "integer"}}
		if f.positive {
			f.min = 1
		}
		return append(s, member{"minimum", f.min}, member{"maximum", f.max})
	case bool, *bool:
		return object{{"type", "boolean"}}
	case map[string]int:
		return object{
			{"type", []string{"object", "null"}},
			{"propertyNames", object{{"enum", f.keys}}},
			{"additionalProperties", g.value(reflect.ValueOf(0), field{max: f.max})},
		}
	case []EdgeWidth:
		return object{
			{"type", "object"},
			{"propertyNames", object{{"minLength", 1}, {"maxLength", maxText}}},
			{"additionalProperties", g.length(field{})},
			{"minProperties", 1},
			{"maxProperties", f.max},
		}
	case []Panel:
		return g.named(f.max, g.defined(fresh(reflect.TypeFor[Panel]())), 1)
	case []Size:
		var any []object
		for _, t := range []reflect.Type{
			reflect.TypeFor[Piece](), reflect.TypeFor[Circle](), reflect.TypeFor[Gore](),
			reflect.TypeFor[Straight](), reflect.TypeFor[Curve](),
		} {
			any = append(any, g.defined(fresh(t)))
		}
		any = append(any, g.value(reflect.ValueOf(""), field{}))
		named := g.named(f.max, g.named(200, object{{"anyOf", any}}, 0), 1)
		list := object{{"type", "array"}, {"items", g.value(reflect.ValueOf(""), field{})}, {"minItems", 1}, {"maxItems", f.max}}
		return object{{"anyOf", []object{named, list}}}
	case Point:
		f.signed, f.positive = true, false
		return tuple(g.length(f))
	case Side:
		return object{{"type", "string"}, {"pattern", " (start|finish) *$"}}
	case Seam:
		return tuple(g.value(reflect.ValueOf(Side{}), f))
	}
	switch v.Kind() {
	case reflect.Slice:
		limit := f.max
		if v.Type().Elem().Kind() != reflect.Int {
			f.max = 0 // it is that of the list alone
		}
		one := g.value(reflect.Zero(v.Type().Elem()), f)
		many := object{{"type", "array"}, {"items", one}, {"maxItems", limit}}
		if one[0].value == "array" {
			return many
		}
		return object{{"anyOf", []object{many, one}}}
	case reflect.Pointer:
		return g.bare(fresh(v.Type().Elem()), f)
	}
	return g.bare(v, f)
}

// bare returns a reference to a struct, or where a value can stand in its place
// the choice of both.
func (g *generator) bare(v reflect.Value, f field) object {
	ref := g.defined(v)
	for _, b := range fields(v.Type()) {
		if b.bare {
			return object{{"anyOf", []object{g.value(v.Field(b.index), b), ref}}}
		}
	}
	return ref
}

// length returns a reference to the schema of a length of the field's signs.
func (g *generator) length(f field) object {
	name := "length"
	switch {
	case f.signed:
		name = "length-of-either-sign"
	case f.positive:
		name = "length-above-0"
	}
	ref := g.define(name, func() object { return number(lengthForm, f) })
	if f.wordNone {
		return object{{"anyOf", []object{ref, {{"const", "none"}}}}}
	}
	if f.wordAuto {
		return object{{"anyOf", []object{ref, {{"const", "auto"}}}}}
	}
	return ref
}

// number returns the schema of a number that can also be a word of the form.
func number(form string, f field) object {
	if !f.signed {
		form = strings.Replace(form, `([+-]?)`, `(\+?)`, 1)
	}
	s := object{{"type", []string{"number", "string"}}, {"pattern", form}}
	switch {
	case f.positive:
		s = append(s, member{"exclusiveMinimum", 0})
	case !f.signed:
		s = append(s, member{"minimum", 0})
	}
	return s
}

// named returns the schema of a mapping from names to things.
func (g *generator) named(most int, thing object, least int) object {
	s := object{{"type", "object"}}
	if least == 0 {
		s[0].value = []string{"object", "null"}
	}
	return append(s,
		member{"propertyNames", object{{"minLength", 1}, {"maxLength", maxName}}},
		member{"additionalProperties", thing},
		member{"minProperties", least},
		member{"maxProperties", most},
	)
}

func tuple(item object) object {
	return object{{"type", "array"}, {"items", item}, {"minItems", 2}, {"maxItems", 2}}
}

// fresh returns a value of the type with its defaults.
func fresh(t reflect.Type) reflect.Value {
	v := reflect.New(t)
	if p, ok := v.Interface().(presetter); ok {
		p.preset()
	}
	return v.Elem()
}

// defaultOf returns a default as the file would state it, nil when there is
// none.
func defaultOf(v reflect.Value) any {
	if v.IsZero() {
		return nil
	}
	switch x := v.Interface().(type) {
	case Length:
		if !isSet(x) {
			return nil
		}
		return strconv.FormatFloat(float64(x), 'f', -1, 64) + " mm"
	case Unit, string, int, bool, []string:
		return x
	case []Paper:
		names := make([]string, len(x))
		for i, p := range x {
			names[i] = p.Name
		}
		return names
	}
	return nil
}
