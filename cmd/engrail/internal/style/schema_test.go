package style

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/require"
)

const testdata = "../../../../testdata/style"

var update = flag.Bool("update", false, "write the schema to testdata")

func TestSchemaFileIsCurrent(t *testing.T) {
	file := filepath.Join(testdata, "engrail.schema.json")
	if *update {
		require.NoError(t, os.WriteFile(file, Schema(), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), string(Schema()), "run the tests of this package with -update")
}

// schema returns the schema as any reader of JSON sees it.
func schema(t *testing.T) map[string]any {
	var s map[string]any
	require.NoError(t, json.Unmarshal(Schema(), &s))
	return s
}

// examples returns the style files of testdata and the starter by name.
func examples(t *testing.T) map[string][]byte {
	files, err := filepath.Glob(filepath.Join(testdata, "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	all := map[string][]byte{"starter.yaml": Starter()}
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		all[filepath.Base(f)] = data
	}
	return all
}

func TestSchemaDescribesEveryKey(t *testing.T) {
	s := schema(t)
	walkObjects(s, s, nil, func(path []string, object map[string]any) {
		for key, p := range object["properties"].(map[string]any) {
			text, _ := p.(map[string]any)["description"].(string)
			require.Regexp(t, `^[A-Z].*\.$`, text, "%v %s", path, key)
		}
	})
}

func TestSchemaAllowsEveryExample(t *testing.T) {
	for name, data := range examples(t) {
		var v any
		require.NoError(t, yaml.Unmarshal(data, &v))
		require.Empty(t, validate(schema(t), schema(t), v, name))
	}
}

func TestSchemaRefusesWhatParseRefuses(t *testing.T) {
	for _, text := range []string{
		"engrail: 2\npanels: {front: {straight: {width: 1, depth: 1}}}",
		"panels: {front: {straight: {width: 1, depth: 1}}}",
		"engrail: 1\npanels: {}",
		"engrail: 1\npanels: {front: {}}",
		"engrail: 1\npanels: {front: {straight: {width: 1, depth: 1}, gore: {}}}",
		"engrail: 1\npanels: {front: {straight: {widht: 1, depth: 1}}}",
		"engrail: 1\npanels: {front: {straight: {width: -1, depth: 1}}}",
		"engrail: 1\npanels: {front: {straight: {width: -1 mm, depth: 1}}}",
		"engrail: 1\npanels: {front: {straight: {width: 3 furlongs, depth: 1}}}",
		"engrail: 1\nunits: m\npanels: {front: {straight: {width: 1, depth: 1}}}",
		"engrail: 1\nmotif: {shape: swirl}\npanels: {front: {straight: {width: 1, depth: 1}}}",
		"engrail: 1\nmotif: {count: 0}\npanels: {front: {straight: {width: 1, depth: 1}}}",
		"engrail: 1\nseams: [[front start]]\npanels: {front: {straight: {width: 1, depth: 1}}}",
		"engrail: 1\noutput: {plotter: {pens: {laser: 1}}}\npanels: {front: {straight: {width: 1, depth: 1}}}",
	} {
		var v any
		require.NoError(t, yaml.Unmarshal([]byte(text), &v))
		require.NotEmpty(t, validate(schema(t), schema(t), v, "root"), text)
		_, err := Parse("a.yaml", []byte(text))
		require.Error(t, err, text)
	}
}

// walkObjects calls visit for every mapping of the form with the path of keys
// to it, in which "*" is a name.
func walkObjects(root, s map[string]any, path []string, visit func([]string, map[string]any)) {
	if ref, ok := s["$ref"].(string); ok {
		name := strings.TrimPrefix(ref, "#/$defs/")
		s = root["$defs"].(map[string]any)[name].(map[string]any)
	}
	if choices, ok := s["anyOf"].([]any); ok {
		for _, c := range choices {
			walkObjects(root, c.(map[string]any), path, visit)
		}
	}
	if named, ok := s["additionalProperties"].(map[string]any); ok {
		walkObjects(root, named, append(slices.Clone(path), "*"), visit)
	}
	if properties, ok := s["properties"].(map[string]any); ok {
		visit(path, s)
		for key, p := range properties {
			walkObjects(root, p.(map[string]any), append(slices.Clone(path), key), visit)
		}
	}
}

func TestSchemaAndParseKnowTheSameKeys(t *testing.T) {
	s := schema(t)
	every := map[string]bool{}
	objects := map[string][]string{}
	walkObjects(s, s, nil, func(path []string, object map[string]any) {
		at := strings.Join(path, "\x00")
		for key := range object["properties"].(map[string]any) {
			every[key] = true
			objects[at] = append(objects[at], key)
		}
	})
	require.Greater(t, len(every), 60)
	for at, keys := range objects {
		var path []string
		if at != "" {
			path = strings.Split(at, "\x00")
		}
		if len(path) > 0 && path[0] == "sizes" {
			continue // what a panel's size can have depends on the panel
		}
		for key := range every {
			// A file with only this key at this place.
			text, indent := "", ""
			for _, p := range path {
				text += indent + strings.ReplaceAll(p, "*", "front") + ":\n"
				indent += " "
			}
			text += indent + key + ":\n"
			_, err := Parse("a.yaml", []byte(text))
			require.Error(t, err)
			unknown := strings.Contains(err.Error(), fmt.Sprintf("unknown key %q", key))
			require.Equal(t, !slices.Contains(keys, key), unknown, "key %q at %q: %v", key, path, err)
		}
	}
}

func TestEveryKeyIsInTheExampleOfEveryKeyAndInTheStarter(t *testing.T) {
	s := schema(t)
	full, start := string(examples(t)["every-key.yaml"]), string(Starter())
	walkObjects(s, s, nil, func(path []string, object map[string]any) {
		for key := range object["properties"].(map[string]any) {
			require.Contains(t, full, key+":")
			require.Contains(t, start, key+":")
		}
	})
}

func TestTagsOfTheFormAreWellFormed(t *testing.T) {
	var check func(reflect.Type)
	check = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct {
			return
		}
		for i := range typ.NumField() {
			f := typ.Field(i)
			tag := f.Tag
			for _, name := range []string{"min", "max"} {
				if s, ok := tag.Lookup(name); ok {
					require.Regexp(t, `^[1-9][0-9]*$`, s, f.Name)
				}
			}
			for _, rule := range strings.FieldsFunc(tag.Get("rule"), func(r rune) bool { return r == ',' }) {
				require.Contains(t, []string{"required", "positive", "signed", "bare", "none", "auto"}, rule, f.Name)
			}
			if f.Type.Kind() == reflect.Int || f.Type.Kind() == reflect.Slice && tag.Get("yaml") != "" {
				require.NotEmpty(t, tag.Get("max"), "%s has a limit", f.Name)
			}
			check(f.Type)
		}
	}
	check(reflect.TypeFor[Style]())
}

// validate checks a value against the keywords of JSON Schema that the schema
// uses (draft 2020-12), and returns what is wrong.
func validate(root, s map[string]any, v any, at string) []string {
	var wrong []string
	fail := func(format string, args ...any) { wrong = append(wrong, at+": "+fmt.Sprintf(format, args...)) }
	number, isNumber := toFloat(v)
	text, isText := v.(string)
	object, isObject := v.(map[string]any)
	list, isList := v.([]any)
	valid := func(s any, v any) bool { return len(validate(root, s.(map[string]any), v, at)) == 0 }
	for keyword, arg := range s {
		switch keyword {
		case "$schema", "$defs", "title", "description", "default":
		case "$ref":
			name := strings.TrimPrefix(arg.(string), "#/$defs/")
			def := root["$defs"].(map[string]any)[name].(map[string]any)
			wrong = append(wrong, validate(root, def, v, at)...)
		case "type":
			types, ok := arg.([]any)
			if !ok {
				types = []any{arg}
			}
			is := map[any]bool{
				"null": v == nil, "string": isText, "number": isNumber, "object": isObject, "array": isList,
				"integer": isNumber && number == float64(int(number)), "boolean": v == true || v == false,
			}
			if !slices.ContainsFunc(types, func(t any) bool { return is[t] }) {
				fail("%v is no %v", v, types)
			}
		case "enum":
			if !slices.Contains(arg.([]any), v) {
				fail("%v is none of %v", v, arg)
			}
		case "const":
			if v != arg {
				fail("%v is not %v", v, arg)
			}
		case "pattern":
			if isText && !regexp.MustCompile(arg.(string)).MatchString(text) {
				fail("%q does not match", text)
			}
		case "minLength":
			if isText && float64(len([]rune(text))) < arg.(float64) {
				fail("too short")
			}
		case "maxLength":
			if isText && float64(len([]rune(text))) > arg.(float64) {
				fail("too long")
			}
		case "minimum":
			if isNumber && number < arg.(float64) {
				fail("%v is too small", v)
			}
		case "exclusiveMinimum":
			if isNumber && number <= arg.(float64) {
				fail("%v is too small", v)
			}
		case "maximum":
			if isNumber && number > arg.(float64) {
				fail("%v is too large", v)
			}
		case "required":
			for _, k := range arg.([]any) {
				if _, ok := object[k.(string)]; isObject && !ok {
					fail("lacks %v", k)
				}
			}
		case "properties":
			for k, p := range arg.(map[string]any) {
				if inner, ok := object[k]; ok {
					wrong = append(wrong, validate(root, p.(map[string]any), inner, at+"/"+k)...)
				}
			}
		case "additionalProperties":
			known, _ := s["properties"].(map[string]any)
			for k, inner := range object {
				if _, ok := known[k]; ok {
					continue
				}
				if named, ok := arg.(map[string]any); ok {
					wrong = append(wrong, validate(root, named, inner, at+"/"+k)...)
				} else {
					fail("unknown key %q", k)
				}
			}
		case "propertyNames":
			for k := range object {
				wrong = append(wrong, validate(root, arg.(map[string]any), k, at+"/"+k)...)
			}
		case "minProperties":
			if isObject && float64(len(object)) < arg.(float64) {
				fail("too few keys")
			}
		case "maxProperties":
			if isObject && float64(len(object)) > arg.(float64) {
				fail("too many keys")
			}
		case "items":
			for i, inner := range list {
				wrong = append(wrong, validate(root, arg.(map[string]any), inner, fmt.Sprintf("%s/%d", at, i))...)
			}
		case "minItems":
			if isList && float64(len(list)) < arg.(float64) {
				fail("too few values")
			}
		case "maxItems":
			if isList && float64(len(list)) > arg.(float64) {
				fail("too many values")
			}
		case "anyOf":
			if !slices.ContainsFunc(arg.([]any), func(s any) bool { return valid(s, v) }) {
				fail("%v fits none", v)
			}
		case "oneOf":
			n := 0
			for _, s := range arg.([]any) {
				if valid(s, v) {
					n++
				}
			}
			if n != 1 {
				fail("%v fits %d of the choices", v, n)
			}
		default:
			fail("this test does not know the keyword %q", keyword)
		}
	}
	return wrong
}

func toFloat(v any) (float64, bool) {
	switch x := reflect.ValueOf(v); x.Kind() {
	case reflect.Float64:
		return x.Float(), true
	case reflect.Int, reflect.Int64:
		return float64(x.Int()), true
	case reflect.Uint, reflect.Uint64:
		return float64(x.Uint()), true
	}
	return 0, false
}
