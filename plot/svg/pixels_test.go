package svg

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot/plottest"
)

// render draws the file with rsvg-convert, an independent SVG renderer, at 10
// pixels to the mm. (With another resolution than 96 it would change what mm
// inside the drawing are.)
func render(t *testing.T, file string) *image.NRGBA {
	t.Helper()
	program := plottest.Program(t, "rsvg-convert")
	var out, messages bytes.Buffer
	c := exec.Command(program, "-z", fmt.Sprint(10*mmPerPx), "-f", "png")
	c.Stdin, c.Stdout, c.Stderr = bytes.NewBufferString(file), &out, &messages
	require.NoError(t, c.Run(), messages.String())
	picture, err := png.Decode(&out)
	require.NoError(t, err)
	require.IsType(t, &image.NRGBA{}, picture)
	return picture.(*image.NRGBA)
}

// ink returns how much of the picture is covered, in square mm, and the box
// around it in mm with y up.
func ink(picture *image.NRGBA) (float64, path.Box) {
	b := picture.Bounds()
	box := path.EmptyBox()
	var sum float64
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			a := picture.NRGBAAt(x, y).A
			sum += float64(a) / 255
			if a > 127 {
				left, top := float64(x)/10, float64(b.Max.Y-y)/10
				box = box.Include(path.Point{X: left, Y: top}).Include(path.Point{X: left + 0.1, Y: top - 0.1})
			}
		}
	}
	return sum / 100, box
}

// What an independent renderer fills has the area and the place that the lines
// read have. The shapes of a page do not overlap.
func TestRendererFillsTheSameArea(t *testing.T) {
	for name, body := range map[string]string{
		"nested transforms": `<g transform="translate(50 50)"><g transform="rotate(30)"><g transform="skewX(20) scale(1 .5)">
			<path d="M-30-20h60v40h-60z"/><rect x="-20" y="30" width="40" height="20" rx="8" ry="4"/></g></g></g>`,
		"rotation about a point": `<rect x="20" y="20" width="30" height="10" transform="rotate(40 50 50)"/>`,
		"cubics":                 `<path d="M10 50C10 10 90 10 90 50S70 90 50 60 10 90 10 50z"/>`,
		"quadratics":             `<path d="m10 50q20-60 40 0t40 0v30h-80z"/>`,
		"arcs of the standard's example": `<g transform="scale(.1)"><path d="M300,200 h-150 a150,150 0 1,0 150,-150 z"/>
			<path d="M275,175 v-150 a150,150 0 0,0 -150,150 z"/>
			<path d="M200,750 l 50,-25a25,25 -30 0,1 50,-25l 50,-25a25,50 -30 0,1 50,-25l 50,-25a25,75 -30 0,1 50,-25l 50,-25a25,100 -30 0,1 50,-25l 50,-25v300H200z"/></g>`,
		"arc flags without separators": `<path d="M20 50a30 15 30 1140-10 5 5 0 0010 10V80H20z"/>`,
		"ellipse under skew":           `<ellipse cx="50" cy="40" rx="30" ry="12" transform="skewY(25) translate(0 -20)"/>`,
		"mirrored":                     `<path transform="matrix(-1 0 .3 1 90 5)" d="M10 10L60 20C60 50 30 60 20 60z"/>`,
		"nested svg":                   `<svg x="10" y="20" width="60" height="40" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMin"><path d="M0 0L10 5 0 10z"/></svg>`,
		"nested svg, stretched":        `<svg x="10%" y="5mm" width="60%" height="40" viewBox="0 0 10 10" preserveAspectRatio="none"><circle cx="5" cy="5" r="4"/></svg>`,
		"copies":                       `<defs><path id="p" d="M0 0h10l-5 10z"/></defs><use xlink:href="#p" x="10" y="10"/><use xlink:href="#p" transform="translate(60 20) rotate(20) scale(2)"/>`,
		"copies of a symbol":           `<symbol id="s" viewBox="-1 -1 2 2"><circle r="1"/></symbol><use xlink:href="#s" x="5" y="5" width="40" height="30"/><use xlink:href="#s" x="50" y="50" width="30" height="40"/>`,
		"units":                        `<rect x="1cm" y="0.05in" width="10pt" height="2pc"/><circle cx="60%" cy="60%" r="10%"/>`,
		"style sheet":                  `<style>.a{display:none} rect.b{transform:rotate(10deg)}</style><rect class="a" width="90" height="90"/><rect class="b" x="40" y="10" width="30" height="30"/>`,
		"polygons":                     `<polygon points="10,10 90,10 50,45"/><polyline points="10 60,0 90 60 95 10 60"/>`,
	} {
		t.Run(name, func(t *testing.T) {
			file := page100(body)
			var area float64
			box := path.EmptyBox()
			for _, l := range plottest.Lines(read(t, file)) {
				area += math.Abs(l.Path.Area())
				box = box.Union(l.Path.Bounds())
			}
			got, gotBox := ink(render(t, file))
			// Within 0.2 % of the area, and for the place within a few pixels: a
			// sharp tip does not fill its last ones.
			require.InDelta(t, area, got, 0.002*area)
			const pixels = 0.25
			require.InDelta(t, box.Min.X, gotBox.Min.X, pixels)
			require.InDelta(t, box.Min.Y, gotBox.Min.Y, pixels)
			require.InDelta(t, box.Max.X, gotBox.Max.X, pixels)
			require.InDelta(t, box.Max.Y, gotBox.Max.Y, pixels)
		})
	}
}
