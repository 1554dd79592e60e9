package png

import (
	"bytes"
	"image/png"
	"slices"
	"testing"

	"github.com/fogleman/gg"
	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
)

func TestSizesAreHatchedInTheirOrder(t *testing.T) {
	pieces := []piece{{kind: clothKind}, {size: "38"}, {size: "40"}, {size: "38"}, {size: "42"}}
	hatch(pieces)
	var got []int
	for _, p := range pieces {
		got = append(got, p.hatch)
	}
	require.Equal(t, []int{0, 0, 1, 0, 2}, got)
}

func TestHatchingsDifferInMoreThanOneWayOrClearly(t *testing.T) {
	all := hatchings()
	for i, a := range all {
		for _, b := range all[i+1:] {
			require.True(t, !slices.Equal(a.angles, b.angles) || max(a.apart, b.apart) >= 2*min(a.apart, b.apart), "%v and %v", a, b)
		}
	}
}

// Every stroke lies in the outline, and none in its hole.
func TestHatchingStaysInItsOutline(t *testing.T) {
	outline := []gg.Point{{X: 10, Y: 10}, {X: 210, Y: 20}, {X: 190, Y: 180}, {X: 100, Y: 60}, {X: 20, Y: 190}}
	hole := []gg.Point{{X: 40, Y: 40}, {X: 60, Y: 40}, {X: 60, Y: 70}, {X: 40, Y: 70}}
	closed := func(points []gg.Point) path.Path {
		var all []path.Point
		for _, p := range points {
			all = append(all, path.Point(p))
		}
		return path.Closed(all...)
	}
	for number := range hatchings() {
		p := picture{weight: 1}
		p.hatch(number, [][]gg.Point{outline, hole})
		require.Equal(t, number == 0, len(p.items) == 0)
		for _, it := range p.items {
			for _, at := range []float64{0.001, 0.3, 0.5, 0.8, 0.999} {
				q := path.Point(it.points[0].Interpolate(it.points[1], at))
				require.True(t, closed(outline).Contains(q), "%v", q)
				require.False(t, closed(hole).Contains(q), "%v", q)
			}
		}
	}
}

// In black and white a piece of another size is darker between its lines, and a fine
// picture has its lettering as small as one of the usual size.
func TestSizesAreToldApartWithoutColour(t *testing.T) {
	square := func(size string, x float64) plot.Group {
		return plot.Group{
			Piece: &plot.Piece{Name: "front", Size: size, Kind: "garment"},
			Lines: []plot.Line{{Role: plot.Cut, Path: path.Closed(path.Point{X: x}, path.Point{X: x + 300}, path.Point{X: x + 300, Y: 300}, path.Point{X: x, Y: 300})}},
		}
	}
	var b bytes.Buffer
	require.NoError(t, Write(&b, plot.Drawing{Groups: []plot.Group{square("38", 0), square("40", 400)}}, Options{BySize: true}))
	im, err := png.Decode(&b)
	require.NoError(t, err)
	dark := func(x0, x1 int) (n int) {
		for y := im.Bounds().Dy() / 3; y < im.Bounds().Dy()/2; y++ {
			for x := x0; x < x1; x++ {
				if r, _, _, _ := im.At(x, y).RGBA(); r < 0xD000 {
					n++
				}
			}
		}
		return n
	}
	w := im.Bounds().Dx()
	require.Zero(t, dark(w/8, 3*w/8))
	require.Greater(t, dark(5*w/8, 7*w/8), 500)

	usual, err := newKit(Options{})
	require.NoError(t, err)
	fine, err := newKit(Options{Longest: 6400, Fine: true})
	require.NoError(t, err)
	require.Equal(t, usual.unit, fine.unit)
}
