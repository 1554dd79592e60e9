package style

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Form is the form of style files that this package reads.
const Form = 1

// beginHint says how a style file begins.
const beginHint = `begin the file with "engrail: 1"`

// Plain returns a style with everything as usual and no panels.
func Plain() *Style { return defaults() }

// Parse reads a style file of up to 128 KiB. The name is that of the file, for
// messages and for a style without a name. Everything that the file leaves out
// is filled in, except where a field's comment says otherwise. The error is an
// [Errors] with the place of each mistake.
func Parse(name string, data []byte) (*Style, error) {
	r := &reader{file: name, units: Millimetre, anchors: map[string]ast.Node{}, places: map[string]place{}}
	if root := r.tree(data); root != nil {
		if s := r.style(root); s != nil && len(r.errs) == 0 {
			return s, nil
		}
	}
	slices.SortStableFunc(r.errs, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	// One value can be read for several sizes or edges.
	r.errs = slices.CompactFunc(r.errs, func(a, b *Error) bool { return *a == *b })
	return nil, r.errs
}

// tree returns the root mapping of the file, nil after recording a mistake.
func (r *reader) tree(data []byte) ast.Node {
	if len(data) > maxBytes {
		r.fail(place{}, "", "the file has %d bytes; a style file has at most %d", len(data), maxBytes)
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if text := bytes.TrimSpace(data); IsDrawing(r.file) || bytes.HasPrefix(text, []byte("<")) && !bytes.HasPrefix(text, []byte("<<:")) {
		r.fail(place{}, "write a style file that names the drawing as its pattern", "this is a drawing or a web page, not a style file")
		return nil
	}
	if at, ok := notText(data); ok {
		r.fail(at, "save it as UTF-8 in the editor, or check that it is the right file", "this is not a text file in UTF-8")
		return nil
	}
	file, err := parseYAML(string(data))
	if err != nil {
		r.notYAML(err)
		return nil
	}
	var root ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if root != nil {
			r.fail(placeOf(doc.Body), `take out the line "---"`, "a style file is one document, and here a second one begins")
			return nil
		}
		root = doc.Body
	}
	switch root.(type) {
	case nil:
		r.fail(place{}, beginHint, "the file is empty")
	case *ast.MappingNode, *ast.MappingValueNode:
		r.collectAnchors(root)
		return root
	default:
		r.fail(placeOf(root), beginHint, "this is not a style file")
	}
	return nil
}

// IsDrawing tells from a file's name that it is a drawing and no style file. A
// plot or a DXF file can look much like YAML.
func IsDrawing(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".svg", ".dxf", ".hpgl", ".plt", ".png", ".pdf":
		return true
	}
	return false
}

// notText returns the place of the first byte that a text in UTF-8 cannot have.
func notText(data []byte) (at place, ok bool) {
	at = place{1, 1}
	for len(data) > 0 {
		c, size := utf8.DecodeRune(data)
		if c == 0 || c == utf8.RuneError && size == 1 {
			return at, true
		}
		if at.column++; c == '\n' {
			at = place{at.line + 1, 1}
		}
		data = data[size:]
	}
	return place{}, false
}

// parseYAML reads YAML, whatever the text.
func parseYAML(text string) (file *ast.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			file, err = nil, fmt.Errorf("it cannot be read: %v", p)
		}
	}()
	tokens := lexer.Tokenize(text)
	// The parser takes a time that grows with the square of the depth.
	depth := 0
	for _, t := range tokens {
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			if depth++; depth > maxDepth {
				return nil, &yaml.SyntaxError{Message: "brackets are too deep in one another", Token: t}
			}
		case token.SequenceEndType, token.MappingEndType:
			depth--
		}
	}
	return parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
}

// notYAML records an error of the YAML parser.
func (r *reader) notYAML(err error) {
	at, message := place{}, err.Error()
	var e yaml.Error
	if errors.As(err, &e) {
		message = e.GetMessage()
		if t := e.GetToken(); t != nil && t.Position != nil {
			at = place{t.Position.Line, t.Position.Column}
		}
	}
	hint := "look for a missing colon, bracket or quote there or on the line before, and indent with the same number of spaces"
	for _, w := range []struct{ part, message, hint string }{
		{"\t", "a tab stands where only spaces can", "indent with spaces"},
		{"tab ", "a tab stands where only spaces can", "indent with spaces"},
		{"non-map value", "a key and its value are missing", keyHint},
		{"unexpected key name", "a key and its value are missing", keyHint},
		{"mapping value is not allowed", "a second key begins where a value stands",
			"give every key a line of its own, with as many spaces before it as its neighbours have; put a text with a colon in quotes"},
		{"value is not allowed in this context", "the line does not go on from those before it",
			"begin it with as many spaces as its neighbours have, and write nothing behind a closing bracket or quote"},
		{"end character of", "the quote is not closed", "put one at the end of the text; inches can be written 2 in"},
		{"sequence end token", "the bracket is not closed", "put a ] at the end of the list"},
		{"mapping end token", "the bracket is not closed", "put a } after the last value"},
		{"reserved character", message, "put the text in quotes"},
	} {
		if strings.Contains(message, w.part) {
			message, hint = w.message, w.hint
			break
		}
	}
	r.fail(at, hint, "this is not YAML: %s", message)
}

// keyHint says how a key and its value are written.
const keyHint = `write a colon and a space between a key and its value, such as "width: 60"`

// style reads the root mapping and checks it as a whole.
func (r *reader) style(root ast.Node) *Style {
	// A file of another form is not worth reading on.
	if list, _ := r.entries(root); list != nil {
		for _, e := range list {
			word, _ := scalar(e.value)
			if e.key == "engrail" && word != fmt.Sprint(Form) {
				r.fail(placeOf(e.value), fmt.Sprintf("use a newer engrail, or write the file anew for form %d", Form), "the file has form %q, but this program reads form %d", word, Form)
				return nil
			}
		}
	}
	r.errs = nil // entries are read again below
	s := defaults()
	s.Allowance.Side, s.Allowance.Top = unset, unset // until it is known what is stated
	r.mapping(root, reflect.ValueOf(s).Elem(), "the file", "")
	if len(r.errs) > 0 {
		return nil
	}
	r.check(s)
	return s
}
