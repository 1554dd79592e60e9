package hpgl_test

import (
	"fmt"
	"os"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/hpgl"
)

func ExampleWrite() {
	square := path.Closed(path.Point{}, path.Point{X: 10}, path.Point{X: 10, Y: 10}, path.Point{Y: 10})
	notch := path.Open(path.Point{X: 5}, path.Point{X: 5, Y: 2})
	d := plot.Drawing{Groups: []plot.Group{{
		Label: "sample",
		Lines: []plot.Line{{Role: plot.Cut, Path: square}, {Role: plot.Notch, Path: notch}},
	}}}
	if err := hpgl.Write(os.Stdout, d, hpgl.Options{Tool: hpgl.Knife}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// IN;
	// PU;
	// SP1;
	// PU200,0;
	// PD200,80;
	// PU0,0;
	// PD400,0,400,400,0,400,0,0;
	// PU;
	// SP0;
}
