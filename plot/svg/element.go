package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// namespace is SVG's. A file without any namespace is taken for SVG too.
const namespace = "http://www.w3.org/2000/svg"

// element is an element of the file or, without a name, a run of text.
type element struct {
	name         string
	attrs        []xml.Attr
	text         string
	children     []*element
	line, column int
	// weight is what the element counts towards MaxElements, without its
	// children.
	weight int
}

// attr returns the attribute that has no namespace, trimmed; empty when the
// element does not have it.
func (e *element) attr(name string) string {
	for _, a := range e.attrs {
		if a.Name.Local == name && a.Name.Space == "" {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// label returns the name that a person gave the element: a label attribute of
// any drawing program's namespace, else its title.
func (e *element) label() string {
	for _, a := range e.attrs {
		if s := oneLine(a.Value); a.Name.Local == "label" && s != "" {
			return s
		}
	}
	for _, c := range e.children {
		if c.name == "title" {
			return oneLine(c.allText())
		}
	}
	return ""
}

// href returns the id that the element refers to, without the leading #.
func (e *element) href() (string, error) {
	for _, a := range e.attrs {
		if a.Name.Local == "href" {
			id, ok := strings.CutPrefix(strings.TrimSpace(a.Value), "#")
			if !ok {
				return "", e.failf("refers to %q: only elements of the same file can be used", clip(a.Value))
			}
			return id, nil
		}
	}
	return "", nil
}

func (e *element) allText() string {
	var b strings.Builder
	for _, c := range e.children {
		if c.name == "" {
			b.WriteString(c.text)
		}
	}
	return b.String()
}

// oneLine trims the text and makes every run of white space one space.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// parseTree reads the file into its root element. Elements of other namespaces
// are left out with all that is in them.
func parseTree(r io.Reader) (*element, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(data) > MaxBytes:
		return nil, fmt.Errorf("is larger than %d MiB", MaxBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return nil, errors.New("is empty, not SVG")
	case bytes.HasPrefix(data, []byte{0x1f, 0x8b}):
		return nil, errors.New("is compressed (.svgz): save it as plain .svg")
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return nil, errors.New("is encoded in UTF-16: save it in UTF-8")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if first := bytes.TrimSpace(data)[0]; first != '<' {
		return nil, errors.New("is not SVG: it does not start with <")
	}

	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		if strings.EqualFold(label, "us-ascii") {
			return in, nil
		}
		return nil, fmt.Errorf("the encoding %s cannot be read: save it in UTF-8", clip(label))
	}
	var root *element
	var open []*element
	count, foreign := 0, 0
	at := position{line: 1, column: 1}
	for {
		at.moveTo(data, d.InputOffset())
		line, column := at.line, at.column
		place := func(err error) error { return &Error{Line: line, Column: column, Err: err} }
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			at.moveTo(data, d.InputOffset())
			line, column = at.line, at.column
			var syntax *xml.SyntaxError
			if errors.As(err, &syntax) {
				err = errors.New(syntax.Msg)
			}
			if root == nil {
				return nil, place(fmt.Errorf("is not SVG: %w", err))
			}
			return nil, place(fmt.Errorf("broken XML: %w", err))
		}
		switch t := token.(type) {
		case xml.Directive:
			if d.Entity, err = entities(string(t), data); err != nil {
				return nil, place(err)
			}
		case xml.StartElement:
			if foreign > 0 || root != nil && len(open) > 0 && !inSVG(t.Name) {
				foreign++
				continue
			}
			e := &element{name: t.Name.Local, attrs: t.Attr, line: line, column: column, weight: 1}
			for _, a := range t.Attr {
				e.weight += len(a.Value) / 100
			}
			count += e.weight
			switch {
			case root == nil && (e.name != "svg" || !inSVG(t.Name)):
				return nil, place(fmt.Errorf("is not SVG: its root element is <%s>", clip(e.name)))
			case root != nil && len(open) == 0:
				return nil, e.failf("broken XML: the file goes on after </svg>")
			case len(open) >= MaxDepth:
				return nil, e.failf("elements are nested more than %d deep", MaxDepth)
			case count > MaxElements:
				return nil, e.failf("the file has more than %d elements", MaxElements)
			case root == nil:
				root = e
			default:
				parent := open[len(open)-1]
				parent.children = append(parent.children, e)
			}
			open = append(open, e)
		case xml.EndElement:
			if foreign > 0 {
				foreign--
			} else {
				open = open[:len(open)-1]
			}
		case xml.CharData:
			if foreign > 0 || len(open) == 0 {
				continue
			}
			weight := 1 + len(t)/100
			if count += weight; count > MaxElements {
				return nil, place(fmt.Errorf("the file has more than %d elements", MaxElements))
			}
			parent := open[len(open)-1]
			parent.children = append(parent.children, &element{text: string(t), line: line, column: column, weight: weight})
		}
	}
	if root == nil {
		return nil, errors.New("is not SVG: it has no root element")
	}
	return root, nil
}

// position is a place in the file, counted from 1.
type position struct {
	line, column int
	offset       int64
}

// moveTo goes on to the offset. It stays where it is when that lies behind.
func (p *position) moveTo(data []byte, offset int64) {
	for ; p.offset < min(offset, int64(len(data))); p.offset++ {
		p.column++
		if data[p.offset] == '\n' {
			p.line, p.column = p.line+1, 1
		}
	}
}

func inSVG(name xml.Name) bool { return name.Space == namespace || name.Space == "" }

// entities returns the entities that a document type declares. Some drawing
// programs declare their namespaces so. An entity that holds another one is
// refused, as is a file that would grow beyond MaxBytes.
func entities(directive string, data []byte) (map[string]string, error) {
	var found map[string]string
	longest := 0
	rest := directive
	for {
		_, after, ok := strings.Cut(rest, "<!ENTITY")
		if !ok {
			break
		}
		rest = after
		name, value, ok := strings.Cut(strings.TrimSpace(after), " ")
		value = strings.TrimSpace(value)
		if !ok || name == "%" || value == "" || value[0] != '"' && value[0] != '\'' {
			continue // of a kind that SVG files do not use; refused where it is used
		}
		value, _, ok = strings.Cut(value[1:], value[:1])
		if !ok {
			continue
		}
		if strings.ContainsAny(value, "&%") {
			return nil, fmt.Errorf("the entity %q is made of other entities: save the file without them", clip(name))
		}
		if found == nil {
			found = map[string]string{}
		}
		found[name] = value
		longest = max(longest, len(value))
	}
	if len(data)+bytes.Count(data, []byte("&"))*longest > MaxBytes {
		return nil, errors.New("the entities make the file too large: save the file without them")
	}
	return found, nil
}
