package marker

import (
	"fmt"
	"io"
	"math"

	"engrail/motif/path"
	"engrail/plot"
)

// Items are pieces in a simple form of their own, which is JSON:
//
//	{"name": "shirts", "strip_height": 40, "items": [
//	  {"demand": 8, "allowed_orientations": [0, 180], "polygon": [[0, 0], [4, 0], [4, 3]]}]}
//
// Lengths are mm and orientations degrees counter-clockwise, 0 alone where none are given. A
// polygon is a ring of corners, the first of which may stand at its end again. An item can
// have a "name". Other keys are passed over.
type Items struct {
	Name string
	// Height is that of the strip: the width of a cloth without selvages.
	Height float64
	// Pieces are without a size, in one garment as often as they are demanded.
	Pieces []Piece
}

type itemsForm struct {
	Name   string  `json:"name"`
	Height float64 `json:"strip_height"`
	Items  []struct {
		Name    string      `json:"name"`
		Demand  int         `json:"demand"`
		Turns   []float64   `json:"allowed_orientations"`
		Polygon [][]float64 `json:"polygon"`
	} `json:"items"`
}

// DecodeItems reads items. Errors are of the type [Error] and name the item; an error of
// the reader is passed on. What a job refuses, such as a polygon that crosses itself, is
// read.
func DecodeItems(r io.Reader) (Items, error) {
	var form itemsForm
	if err := decode(r, &form, false); err != nil {
		return Items{}, err
	}
	if !(form.Height > 0 && form.Height <= mostLength) {
		return Items{}, &Error{fmt.Sprintf("strip_height is %g", form.Height), "give the width of the cloth in mm, above 0"}
	}
	if len(form.Items) == 0 || len(form.Items) > mostPieces {
		return Items{}, &Error{fmt.Sprintf("there are %d items", len(form.Items)), fmt.Sprintf("give 1 to %d of them", mostPieces)}
	}
	out := Items{Name: form.Name, Height: form.Height}
	for i, x := range form.Items {
		name := x.Name
		if name == "" {
			name = fmt.Sprintf("item %d", i+1)
		}
		points := make([]path.Point, len(x.Polygon))
		for k, v := range x.Polygon {
			if len(v) != 2 {
				return Items{}, &Error{fmt.Sprintf("corner %d of %s has %d numbers", k+1, name, len(v)), "give it two, x and y"}
			}
			points[k] = path.Point{X: v[0], Y: v[1]}
		}
		if n := len(points); n > 1 && points[0] == points[n-1] {
			points = points[:n-1]
		}
		if len(points) < 3 {
			return Items{}, &Error{fmt.Sprintf("%s has a polygon of %d corners", name, len(points)), "give it three or more"}
		}
		outline := path.Closed(points...)
		if outline.Area() < 0 {
			outline = outline.Reverse()
		}
		p := Piece{
			Name: name, Quantity: x.Demand, Turns: []float64{0},
			Whole: Shape{Outline: outline, Along: path.Vec{X: 1}, Group: plot.Group{
				ID: plot.Identifier(name), Label: name, Piece: &plot.Piece{Name: name, Style: form.Name}, Lines: []plot.Line{{Role: plot.Cut, Path: outline}},
			}},
		}
		if len(x.Turns) > 0 {
			p.Turns = nil
		}
		for _, t := range x.Turns {
			p.Turns = append(p.Turns, t*math.Pi/180)
		}
		out.Pieces = append(out.Pieces, p)
	}
	return out, nil
}
