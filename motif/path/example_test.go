package path_test

import (
	"fmt"

	"engrail/motif/path"
)

// A scallop 60 mm wide and 24 mm deep is one arc. A hem of three of them is
// 249 mm long; three repeats are found along it by their lengths.
func Example() {
	const width, depth = 60, 24
	var hem []path.Segment
	for i := range 3 {
		x := float64(i) * width
		hem = append(hem, path.Segment{
			A: path.Point{X: x}, B: path.Point{X: x + width},
			Bulge: 2 * depth / float64(width), // the rise over half the chord
		})
	}
	p := path.FromSegments(hem...)
	fmt.Printf("radius %.2f mm, length %.1f mm\n", p.Segment(0).Radius(), p.Length())

	r := path.NewRuler(p)
	for i := range 3 {
		lowest := r.At((float64(i) + 0.5) / 3 * r.Length())
		fmt.Printf("lowest at %.0f, %.0f\n", lowest.X, lowest.Y)
	}
	// Output:
	// radius 30.75 mm, length 249.0 mm
	// lowest at 30, -24
	// lowest at 90, -24
	// lowest at 150, -24
}

// A hem drawn as a Bezier becomes a smooth chain of arcs.
func ExampleCubicBezier_Fit() {
	hem := path.CubicBezier{
		A: path.Point{X: 0, Y: 0}, C1: path.Point{X: 70, Y: 50},
		C2: path.Point{X: 115, Y: -45}, B: path.Point{X: 185, Y: 10},
	}
	for _, tolerance := range []float64{0.1, 0.01, path.FitTolerance} {
		p, err := hem.Fit(tolerance)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("within %g mm: %d arcs, %.2f mm long\n", tolerance, p.Segments(), p.Length())
	}
	// Output:
	// within 0.1 mm: 10 arcs, 195.84 mm long
	// within 0.01 mm: 18 arcs, 195.84 mm long
	// within 0.002 mm: 26 arcs, 195.84 mm long
}

// The part of a panel below a straight line is what a facing covers.
func ExampleBoolean() {
	panel := path.Closed(path.Point{X: 0, Y: 0}, path.Point{X: 300, Y: 0}, path.Point{X: 250, Y: 600}, path.Point{X: 50, Y: 600})
	strip := path.Closed(path.Point{X: -10, Y: -10}, path.Point{X: 310, Y: -10}, path.Point{X: 310, Y: 60}, path.Point{X: -10, Y: 60})
	parts, err := path.Boolean(path.Intersection, []path.Path{panel}, []path.Path{strip}, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range parts {
		fmt.Printf("%d corners, %.0f mm^2\n", len(p.V), p.Area())
	}
	// Output:
	// 4 corners, 17700 mm^2
}
