package png_test

import (
	"bytes"
	"fmt"
	gopng "image/png"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

func ExampleWrite() {
	band := path.Closed(path.Point{}, path.Point{X: 300}, path.Point{X: 300, Y: 80}, path.Point{Y: 80})
	d := plot.Drawing{Title: "Cuff", Groups: []plot.Group{{
		Piece: &plot.Piece{Name: "Cuff facing", Kind: "facing"},
		Lines: []plot.Line{{Role: plot.Cut, Path: band}},
		Texts: []plot.Text{{At: path.Point{X: 150, Y: 40}, Height: 5, Align: plot.Middle, String: "Cuff facing"}},
	}}}
	var file bytes.Buffer
	if err := png.Write(&file, d, png.Options{}); err != nil {
		fmt.Println(err)
		return
	}
	size, err := gopng.DecodeConfig(&file)
	fmt.Println(size.Width, size.Height, err)
	// Output: 1600 693 <nil>
}
