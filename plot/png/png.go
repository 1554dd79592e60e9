package png

import (
	"fmt"
	"io"

	"engrail/motif/path"
	"engrail/plot"
)

// Limits of the longest side in px, and the size that 0 stands for. All
// lengths of the look are meant for pictures of the usual size; above it they
// grow with the picture, below it they stay so that lettering can be read.
const (
	usualLongest    = 1600
	smallestLongest = 640
	largestLongest  = 6400
)

// Options say how a picture is made. The zero value is a good picture.
type Options struct {
	// Title stands over the picture in place of the drawing's title.
	Title string
	// Captions are lines that stand beside the drawing, such as counts and
	// widths. An empty line makes a gap; the first of several lines without a
	// gap is their heading. WriteSheet has no use for them.
	Captions []string
	// Longest is the longest side in px, 640 to 6400; 0 means 1600. A long list
	// of labels that have no room in the drawing makes the picture higher.
	Longest int
	// NoLegend leaves out the list of line styles.
	NoLegend bool
	// Fine keeps lettering and lines in a larger picture as small as in one of the usual
	// size, so that more of it has room: for what is looked at part by part.
	Fine bool
	// BySize hatches the pieces of several sizes, each in a way of its own, and names the
	// sizes in the legend: they are told apart in black and white.
	BySize bool
}

// Write writes a picture of the drawing, as large as fits the longest side.
// The file states a pixel density at which it prints at true size.
//
// A drawing without lines, one with numbers that are not finite, and one so
// large that a pixel would stand for more than a metre are errors.
func Write(w io.Writer, d plot.Drawing, o Options) error {
	pieces, box, err := collect(d)
	if err != nil {
		return err
	}
	if o.BySize {
		hatch(pieces)
	}
	return write(w, pieces, box, title(d, o), o)
}

// write writes a picture of the pieces, which have lines within the box.
func write(w io.Writer, pieces []piece, box path.Box, title string, o Options) error {
	if box.Empty() {
		return fmt.Errorf("png: drawing %q has no lines to show; give it at least one", title)
	}
	k, err := newKit(o)
	if err != nil {
		return err
	}
	// Which labels need a list shows only once they have been placed, and that
	// needs the scale, which depends on the room that the list leaves.
	var pg page
	var expected key
	for range 3 {
		if pg, err = k.page(pieces, box, title, o, expected); err != nil {
			return err
		}
		if pg.key.height <= expected.height && pg.key.width <= expected.width {
			break
		}
		expected = pg.key
	}
	return pg.encode(w)
}

func title(d plot.Drawing, o Options) string {
	if o.Title != "" {
		return o.Title
	}
	return d.Title
}

// kit is what pictures are made with.
type kit struct {
	unit            float64 // px for a length of 1 in a picture of the usual size
	longest         float64 // px
	margin          float64 // px
	regular, medium *face
}

func newKit(o Options) (*kit, error) {
	longest := o.Longest
	if longest == 0 {
		longest = usualLongest
	}
	if longest < smallestLongest || longest > largestLongest {
		return nil, fmt.Errorf("png: the longest side is set to %d px; choose from %d to %d", longest, smallestLongest, largestLongest)
	}
	look := float64(longest)
	if o.Fine {
		look = min(look, usualLongest)
	}
	return &kit{
		unit:    max(1, look/usualLongest),
		longest: float64(longest),
		margin:  56 * max(0.6, look/usualLongest),
		regular: regular(), medium: medium(),
	}, nil
}
