package stroke_test

import (
	"fmt"

	"engrail/plot"
	"engrail/plot/stroke"
)

func ExampleLines() {
	for _, p := range stroke.Lines(plot.Text{Height: 24, String: "Ti"}) {
		for i, v := range p.V {
			if i > 0 {
				fmt.Print(" to ")
			}
			fmt.Printf("%.1f,%.1f", v.X, v.Y)
		}
		fmt.Println()
	}
	fmt.Printf("%.1f mm wide\n", stroke.Width("Ti", 24))
	// Output:
	// 0.0,24.0 to 13.0,24.0
	// 6.5,24.0 to 6.5,0.0
	// 17.6,16.0 to 17.6,0.0
	// 18.8,21.8 to 16.4,21.8
	// 17.6 mm wide
}
