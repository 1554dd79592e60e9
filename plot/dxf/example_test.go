package dxf_test

import (
	"bytes"
	"fmt"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
)

func Example() {
	d := plot.Drawing{Groups: []plot.Group{{
		Piece: &plot.Piece{Name: "Pocket", Size: "40", Quantity: 2, Pairs: true},
		Lines: []plot.Line{{Role: plot.Cut, Path: path.Path{Closed: true, V: []path.Vertex{
			{Point: path.Point{Y: 50}, Bulge: 1}, {Point: path.Point{X: 120, Y: 50}},
			{Point: path.Point{X: 120, Y: 150}}, {Point: path.Point{Y: 150}},
		}}}},
	}}}
	for _, flavour := range []dxf.Flavour{dxf.Plain, dxf.Exchange} {
		var file bytes.Buffer
		if err := dxf.Write(&file, d, dxf.Options{Flavour: flavour}); err != nil {
			fmt.Println(err)
			return
		}
		back, err := dxf.Read(&file, dxf.ReadOptions{})
		if err != nil {
			fmt.Println(err)
			return
		}
		g := back.Groups[0]
		fmt.Printf("%s: cut %d, %d vertices, %.1f mm around\n",
			g.Piece.Name, g.Piece.Quantity, len(g.Lines[0].Path.V), g.Lines[0].Path.Length())
	}
	// Output:
	// Pocket: cut 2, 4 vertices, 508.5 mm around
	// Pocket: cut 2, 74 vertices, 508.5 mm around
}

func ExampleParseRules() {
	rules, err := dxf.ParseRules(strings.NewReader("UNITS: METRIC\nSIZE LIST: 38 40\nSAMPLE SIZE: 38\nRULE: DELTA 1\n0,0 12.5,-4\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("in size", rules.Sizes[1], "a point with rule 1 moves by", rules.Deltas[1][1])
	// Output: in size 40 a point with rule 1 moves by {12.5 -4}
}
