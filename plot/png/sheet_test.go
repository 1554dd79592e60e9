package png_test

import (
	"bytes"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot"
	"engrail/plot/png"
)

func TestSheetShowsEveryCellAtOneScale(t *testing.T) {
	var cells []png.Cell
	for _, w := range []float64{40, 80, 120, 160, 200} {
		cells = append(cells, png.Cell{
			Drawing: drawingOf("facing", plot.Line{Role: plot.Cut, Path: rectangle(500, 0, w, 50)}),
			Caption: []string{"name", "a line that is longer than its cell is wide, and so is cut short with three dots"},
		})
	}
	var b bytes.Buffer
	require.NoError(t, png.WriteSheet(&b, cells, png.Options{NoLegend: true}))
	im := decode(t, b.Bytes())
	// The runs of tint in the rows of pixels: the five widths, in one ratio.
	widths := map[int]bool{}
	for y := range im.Rect.Max.Y {
		run := 0
		for x := range im.Rect.Max.X {
			c := im.Palette[im.Pix[y*im.Stride+x]]
			r, _, bl, _ := c.RGBA()
			if r>>8 > 245 && bl>>8 < 210 && bl>>8 > 180 {
				run++
			} else {
				if run > 20 {
					widths[(run+13)/10] = true
				}
				run = 0
			}
		}
	}
	require.Len(t, widths, 5)
}

func TestSheetKeepsToItsLongestSide(t *testing.T) {
	for _, n := range []int{1, 2, 3, 5, 8, 13, 40} {
		var cells []png.Cell
		for i := range n {
			cells = append(cells, edges()[i%4])
		}
		var b bytes.Buffer
		require.NoError(t, png.WriteSheet(&b, cells, png.Options{Title: "Edges"}))
		c, err := pngConfig(b.Bytes())
		require.NoError(t, err)
		require.Equal(t, 1600, c.Width)
		require.LessOrEqual(t, c.Height, 1600)
	}
}

func TestEmptyCellKeepsItsPlace(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.WriteSheet(&b, append(edges()[:2], png.Cell{Caption: []string{"none"}}), png.Options{}))
	require.NoError(t, png.WriteSheet(&b, []png.Cell{{}}, png.Options{}))
}

func TestSheetErrorsNameTheRemedy(t *testing.T) {
	require.EqualError(t, png.WriteSheet(io.Discard, nil, png.Options{}), "png: the sheet has no pictures; give at least one")
	err := png.WriteSheet(io.Discard, make([]png.Cell, 2000), png.Options{})
	require.EqualError(t, err, "png: a longest side of 1600 px leaves no room for the drawing; choose a larger one, up to 6400 px (2000 pictures on one sheet)")
}
