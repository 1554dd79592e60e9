package pattern_test

import (
	"fmt"
	"strings"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/plot/svg"
)

func ExampleTake() {
	drawing, err := svg.Read(strings.NewReader(`
		<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="800mm" viewBox="0 0 400 800">
			<path id="front" d="M 50,50 H 250 L 365,715 C 250,735 150,740 50,740 Z"/>
		</svg>`), svg.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	panel, _, err := pattern.Take(drawing, pattern.Selection{
		File: "skirt.svg", Panel: "front", ID: "front", Fold: "left",
		Includes: &pattern.Widths{Hem: 15, Finish: 15, Top: 10},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range panel.Edges {
		fmt.Printf("%s (%v): %.1f mm\n", e.Name, e.Role, e.Path.Length())
	}
	// Output:
	// hem (hem): 298.8 mm
	// right (seam): 652.3 mm
	// top (other): 186.5 mm
	// left (fold): 665.0 mm
}
