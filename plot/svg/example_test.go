package svg_test

import (
	"fmt"
	"strings"

	"engrail/plot/svg"
)

func ExampleRead() {
	file := `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
		<g id="front"><path id="hem" d="M 20,80 C 80,95 120,95 180,80"/></g></svg>`
	drawing, err := svg.Read(strings.NewReader(file), svg.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	hem := drawing.Groups[0].Lines[0]
	fmt.Printf("%s %s: %.1f mm\n", drawing.Groups[0].ID, hem.ID, hem.Path.Length())
	// Output: front hem: 162.0 mm
}
