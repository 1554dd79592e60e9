package toolpath_test

import (
	"fmt"

	"engrail/motif/path"
	"engrail/plot/toolpath"
)

// Two facings that share an edge, each with a notch that is drawn before the
// edge is cut.
func Example() {
	at := func(x, y float64) path.Point { return path.Point{X: x, Y: y} }
	lines := []toolpath.Line{
		{Path: path.Closed(at(100, 0), at(200, 0), at(200, 60), at(100, 60)), Piece: 1, Rank: 1},
		{Path: path.Open(at(200, 30), at(194, 30)), Piece: 1},
		{Path: path.Closed(at(0, 0), at(100, 0), at(100, 60), at(0, 60)), Piece: 2, Rank: 1},
		{Path: path.Open(at(50, 0), at(50, 6)), Piece: 2},
	}
	var once []toolpath.Line
	for _, p := range toolpath.Once(lines, 0.0125) {
		once = append(once, p.Line)
	}
	steps := toolpath.Order(once, toolpath.Options{})
	for _, s := range steps {
		fmt.Println("piece", once[s.Line].Piece, "from", s.Path.Start(), "to", s.Path.End())
	}
	fmt.Printf("%.0f mm of travel\n", toolpath.Travel(path.Point{}, steps))
	// Output:
	// piece 2 from {50 0} to {50 6}
	// piece 2 from {100 0} to {100 60}
	// piece 1 from {194 30} to {200 30}
	// piece 1 from {200 0} to {200 0}
	// 229 mm of travel
}
