package marker

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"strings"

	"engrail/motif/path"
)

// File is a marker as it is stored: the layout, without the outlines of its pieces.
//
// It is written as JSON in mm and degrees, with an object of these keys:
//
//	engrail_marker  1, the form
//	style           what it is of
//	cloth           width, selvage, direction ("one way", "two way", "any way"), tilt, folded,
//	                alike, gap, end, longest
//	order           a list of {size, garments}
//	use             the share of the cloth that pieces take, from 0 to 1
//	sections        their lengths, ends included
//	pieces          a list of {piece, size, side, copy, garment, section, mirrored, turn, x, y,
//	                locked}, as [Place] explains them; section counts from 1
type File struct {
	Style string
	Use   float64
	Layout
}

type fileForm struct {
	Form     int         `json:"engrail_marker"`
	Style    string      `json:"style"`
	Cloth    clothForm   `json:"cloth"`
	Order    []orderForm `json:"order"`
	Use      float64     `json:"use"`
	Sections []float64   `json:"sections"`
	Pieces   []placeForm `json:"pieces"`
}

type clothForm struct {
	Width     float64 `json:"width"`
	Selvage   float64 `json:"selvage"`
	Direction string  `json:"direction"`
	Tilt      float64 `json:"tilt"`
	Folded    bool    `json:"folded"`
	Alike     bool    `json:"alike"`
	Gap       float64 `json:"gap"`
	End       float64 `json:"end"`
	Longest   float64 `json:"longest"`
}

type orderForm struct {
	Size     string `json:"size"`
	Garments int    `json:"garments"`
}

type placeForm struct {
	Piece    string  `json:"piece"`
	Size     string  `json:"size"`
	Side     string  `json:"side"`
	Copy     int     `json:"copy"`
	Garment  int     `json:"garment"`
	Section  int     `json:"section"`
	Mirrored bool    `json:"mirrored"`
	Turn     float64 `json:"turn"`
	X        float64 `json:"x"`
	Y        float64 `json:"y"`
	Locked   bool    `json:"locked"`
}

// MaxBytes (size) is the largest file that is read.
const MaxBytes = 16 << 20

// Encode writes a marker. Places are written to a billionth of a mm, so that what is read
// back is written the same.
func Encode(w io.Writer, f File) error {
	c := f.Cloth
	form := fileForm{
		Form: 1, Style: f.Style, Use: decimals(f.Use, 6), Order: []orderForm{}, Sections: []float64{}, Pieces: []placeForm{},
		Cloth: clothForm{c.Width, c.Selvage, c.Direction.String(), decimals(degrees(c.Tilt), turnDecimals), c.Folded, c.Alike, c.Gap, c.End, c.Longest},
	}
	for _, g := range f.Order {
		form.Order = append(form.Order, orderForm{g.Size, g.Count})
	}
	for _, s := range f.Sections {
		form.Sections = append(form.Sections, decimals(s, placeDecimals))
	}
	for _, p := range f.Places {
		turn := decimals(degrees(math.Remainder(p.Turn, 2*math.Pi)), turnDecimals)
		if turn == -180 {
			turn = 180
		}
		form.Pieces = append(form.Pieces, placeForm{
			p.Piece, p.Size, p.Side.String(), p.Copy, p.Garment, p.Section + 1, p.Mirrored, turn, decimals(p.At.X, placeDecimals), decimals(p.At.Y, placeDecimals), p.Locked,
		})
	}
	out, err := json.MarshalIndent(form, "", " ")
	if err != nil {
		return fmt.Errorf("marker: %w", err)
	}
	_, err = w.Write(append(out, '\n'))
	return err
}

// Decode reads a marker. Errors are of the type [Error] and name the place in the file;
// an error of the reader is passed on.
func Decode(r io.Reader) (File, error) {
	var form fileForm
	if err := decode(r, &form, true); err != nil {
		return File{}, err
	}
	wrong := func(hint, format string, a ...any) (File, error) {
		return File{}, &Error{"the marker " + fmt.Sprintf(format, a...), hint}
	}
	if form.Form != 1 {
		return wrong("give a file that engrail marker has written", "is of form %d, and form 1 is read", form.Form)
	}
	direction, ok := ParseDirection(form.Cloth.Direction)
	if !ok {
		return wrong("it is one way, two way or any way", "has cloth of the direction %q", form.Cloth.Direction)
	}
	c := form.Cloth
	f := File{Style: form.Style, Use: form.Use}
	f.Cloth = Cloth{c.Width, c.Selvage, direction, c.Tilt * math.Pi / 180, c.Folded, c.Alike, c.Gap, c.End, c.Longest}
	if err := f.Cloth.check(); err != nil {
		return File{}, err
	}
	for _, g := range form.Order {
		f.Order = append(f.Order, Garments{g.Size, g.Garments})
	}
	if len(form.Pieces) > mostPieces || len(form.Sections) > mostPieces {
		return wrong("lay fewer at a time", "has %d pieces in %d sections, and %d are the most", len(form.Pieces), len(form.Sections), mostPieces)
	}
	for i, s := range form.Sections {
		if !(s >= 0 && s <= mostPieces*mostLength) {
			return wrong("give its length in mm", "has a section %d of %g mm", i+1, s)
		}
	}
	f.Sections = form.Sections
	for i, p := range form.Pieces {
		side := Side(0)
		for ; side < sides && side.String() != p.Side; side++ {
		}
		switch {
		case side == sides:
			return wrong("it is as drawn, mirrored, both layers or on fold", "has at pieces[%d], %s, the side %q", i, p.Piece, p.Side)
		case p.Section < 1 || p.Section > len(form.Sections):
			return wrong(fmt.Sprintf("sections count from 1, and there are %d", len(form.Sections)), "has pieces[%d], %s, in section %d", i, p.Piece, p.Section)
		case math.Abs(p.X) > mostPieces*mostLength || math.Abs(p.Y) > mostLength || math.Abs(p.Turn) > 360:
			return wrong("give x and y in mm and turn in degrees", "has pieces[%d], %s, at (%g, %g) mm, turned by %g degrees", i, p.Piece, p.X, p.Y, p.Turn)
		}
		f.Places = append(f.Places, Place{
			Piece: p.Piece, Size: p.Size, Side: side, Copy: p.Copy, Garment: p.Garment, Section: p.Section - 1,
			Mirrored: p.Mirrored, Turn: p.Turn * math.Pi / 180, At: path.Point{X: p.X, Y: p.Y}, Locked: p.Locked,
		})
	}
	return f, nil
}

// decode reads one JSON value within the bounds.
func decode(r io.Reader, into any, strict bool) error {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return err
	}
	if len(data) > MaxBytes {
		return &Error{fmt.Sprintf("the file is larger than %d MB", MaxBytes>>20), "is it the right file?"}
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if strict {
		d.DisallowUnknownFields()
	}
	err = d.Decode(into)
	at := int(d.InputOffset())
	if err == nil {
		if _, more := d.Token(); more == io.EOF {
			return nil
		}
		err = errors.New("something follows its end")
	}
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF):
		at, err = len(data), errors.New("it ends too soon")
	case errors.As(err, &syntax):
		at = int(syntax.Offset)
	case errors.As(err, &kind):
		at, err = int(kind.Offset), fmt.Errorf("%s is %s, where %s should be", cmp.Or(kind.Field, "it"), wordOf(kind.Value), wordForKind(kind.Type.Kind()))
	default:
		if _, word, ok := strings.Cut(err.Error(), "unknown field "); ok {
			at, err = max(0, bytes.Index(data, []byte(word))), fmt.Errorf("there is no key %s", word)
		}
	}
	line := 1 + bytes.Count(data[:min(len(data), at)], []byte("\n"))
	return &Error{fmt.Sprintf("line %d: %v", line, err), "correct it there, or give a file that is whole"}
}

// wordOf returns what people call a value of which the decoder says what it is.
func wordOf(value string) string {
	switch word, rest, _ := strings.Cut(value, " "); word {
	case "array":
		return "a list"
	case "object":
		return "an object"
	case "bool":
		return "true or false"
	case "number":
		if rest != "" {
			return "the number " + rest
		}
		return "a number"
	default:
		return "a " + word
	}
}

// wordForKind returns what people call a kind of value.
func wordForKind(k reflect.Kind) string {
	switch k {
	case reflect.Int:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	case reflect.Bool:
		return "true or false"
	case reflect.String:
		return "a string"
	case reflect.Slice, reflect.Array:
		return "a list"
	}
	return "an object"
}
