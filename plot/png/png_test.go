package png_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

// picture writes a drawing and decodes it.
func picture(t testing.TB, d plot.Drawing, o png.Options) *image.Paletted {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Write(&b, d, o))
	return decode(t, b.Bytes())
}

func drawingOf(kind string, lines ...plot.Line) plot.Drawing {
	return plot.Drawing{Groups: []plot.Group{{Piece: &plot.Piece{Name: "Front", Kind: kind}, Lines: lines}}}
}

func rectangle(x, y, w, h float64) path.Path {
	return path.Closed(pt(x, y), pt(x+w, y), pt(x+w, y+h), pt(x, y+h))
}

// darkness is 0 for white and 1 for black.
func darkness(im *image.Paletted, x, y int) float64 {
	return 1 - float64(color.GrayModel.Convert(im.At(x, y)).(color.Gray).Y)/255
}

// extent returns the box of the pixels that satisfy the condition.
func extent(im *image.Paletted, in func(c color.RGBA) bool) image.Rectangle {
	var box image.Rectangle
	for y := range im.Rect.Max.Y {
		for x := range im.Rect.Max.X {
			if in(im.Palette[im.Pix[y*im.Stride+x]].(color.RGBA)) {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return box
}

func sand(c color.RGBA) bool { return c.R > 245 && c.B < 210 && c.B > 180 }

// chunk finds a part of a file by the rules of the PNG specification (third
// edition, section 5.3), and says how many parts come before it.
func chunk(t *testing.T, file []byte, name string) (data []byte, before []string) {
	t.Helper()
	require.Equal(t, "\x89PNG\r\n\x1a\n", string(file[:8]))
	for p := file[8:]; len(p) > 0; {
		n := binary.BigEndian.Uint32(p)
		kind := string(p[4:8])
		require.Equal(t, crc32.ChecksumIEEE(p[4:8+n]), binary.BigEndian.Uint32(p[8+n:]), "checksum of %s", kind)
		if kind == name {
			return p[8 : 8+n], before
		}
		before = append(before, kind)
		p = p[12+n:]
	}
	t.Fatalf("no %s", name)
	return nil, nil
}

func TestFilePrintsAtTrueSize(t *testing.T) {
	d := drawingOf("facing", plot.Line{Role: plot.Cut, Path: rectangle(-40, 7, 200, 100)})
	for _, longest := range []int{800, 1600, 3200} {
		var b bytes.Buffer
		require.NoError(t, png.Write(&b, d, png.Options{Longest: longest, NoLegend: true}))
		data, before := chunk(t, b.Bytes(), "pHYs")
		require.NotContains(t, before, "IDAT")
		require.Equal(t, byte(1), data[8], "the unit is the metre")
		perMetre := binary.BigEndian.Uint32(data)
		require.Equal(t, perMetre, binary.BigEndian.Uint32(data[4:]))

		// The tint ends under the middle of the cut line, half of whose width
		// covers it.
		box := extent(decode(t, b.Bytes()), sand)
		px := 1000 / float64(perMetre)
		line := 2.6 * float64(max(longest, 1600)) / 1600
		require.InDelta(t, 200, (float64(box.Dx())+line)*px, 2*px)
		require.InDelta(t, 100, (float64(box.Dy())+line)*px, 2*px)
	}
}

// A drawing of 200 x 100 mm has an inch as the longer of its two bars.
func TestScaleBarIsAsLongAsItSays(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.Write(&b, drawingOf("", plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 200, 100)}), png.Options{NoLegend: true}))
	data, _ := chunk(t, b.Bytes(), "pHYs")
	im := decode(t, b.Bytes())
	longest := 0
	for y := im.Rect.Max.Y - 70; y < im.Rect.Max.Y; y++ {
		run := 0
		for x := range im.Rect.Max.X {
			if darkness(im, x, y) < 0.6 {
				run = 0
				continue
			}
			run++
			longest = max(longest, run)
		}
	}
	perMM := float64(binary.BigEndian.Uint32(data)) / 1000
	require.InDelta(t, 25.4, float64(longest)/perMM, 2/perMM)
}

func TestSameDrawingGivesSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	require.NoError(t, png.Write(&a, nineSizes(), png.Options{}))
	require.NoError(t, png.Write(&b, nineSizes(), png.Options{}))
	require.True(t, bytes.Equal(a.Bytes(), b.Bytes()))
}

func TestEmptyDrawingIsRefused(t *testing.T) {
	err := png.Write(io.Discard, plot.Drawing{Title: "Nothing", Groups: []plot.Group{{Texts: []plot.Text{{String: "a", Height: 5}}}}}, png.Options{})
	require.EqualError(t, err, `png: drawing "Nothing" has no lines to show; give it at least one`)
}

func TestNumbersThatAreNotFiniteAreRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 10, 10)}
	for name, c := range map[string]struct {
		drawing plot.Drawing
		want    string
	}{
		"coordinate": {
			drawingOf("", good, plot.Line{Role: plot.Stitch, Path: path.Open(pt(0, 0), pt(nan, 1))}),
			`png: stitch line 2 of piece "Front" has a coordinate that is not a number or not finite; check the numbers that it is made from`,
		},
		"bulge": {
			drawingOf("", plot.Line{Path: path.FromSegments(path.Segment{B: pt(1, 1), Bulge: inf})}),
			`png: drawn line 1 of piece "Front" has a coordinate that is not a number or not finite; check the numbers that it is made from`,
		},
		"arc beyond all numbers": {
			drawingOf("", plot.Line{Path: path.FromSegments(path.Segment{B: pt(1, 1), Bulge: 1e300})}),
			`png: drawn line 1 of piece "Front" has a coordinate that is not a number or not finite; check the numbers that it is made from`,
		},
		"text": {
			plot.Drawing{Groups: []plot.Group{{Label: "a", Lines: []plot.Line{good}, Texts: []plot.Text{{String: "hem", Height: inf}}}}},
			`png: text "hem" of group "a" has a place, height or angle that is not finite; check the numbers that it is made from`,
		},
		"far too large": {
			drawingOf("", plot.Line{Path: rectangle(0, 0, 4e6, 1)}),
			`png: the drawing is 4e+03 m by 0.001 m, too large to show; check the units of its numbers`,
		},
	} {
		t.Run(name, func(t *testing.T) {
			require.EqualError(t, png.Write(io.Discard, c.drawing, png.Options{}), c.want)
			require.Error(t, png.WriteSheet(io.Discard, []png.Cell{{Drawing: c.drawing}}, png.Options{}))
		})
	}
}

func TestLongestSideOutsideItsRangeIsRefused(t *testing.T) {
	d := drawingOf("", plot.Line{Path: rectangle(0, 0, 10, 10)})
	for _, px := range []int{-1, 639, 6401} {
		require.ErrorContains(t, png.Write(io.Discard, d, png.Options{Longest: px}), "choose from 640 to 6400")
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestFailureToWriteIsReported(t *testing.T) {
	d := drawingOf("", plot.Line{Path: rectangle(0, 0, 10, 10)})
	require.EqualError(t, png.Write(full{}, d, png.Options{}), "png: disk full")
}

// Whatever the shape of the drawing, the picture keeps to its longest side and
// shows all of it.
func TestPictureKeepsToItsLongestSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := math.Pow(10, rapid.Float64Range(-3, 5.3).Draw(t, "w"))
		h := math.Pow(10, rapid.Float64Range(-3, 5.3).Draw(t, "h"))
		longest := rapid.SampledFrom([]int{640, 1000, 1600}).Draw(t, "longest")
		d := drawingOf("facing", plot.Line{Role: plot.Cut, Path: rectangle(-w/3, h*7, w, h)})
		d.Title = strings.Repeat("A long title ", rapid.IntRange(0, 30).Draw(t, "title"))
		var b bytes.Buffer
		require.NoError(t, png.Write(&b, d, png.Options{Longest: longest}))
		c, err := pngConfig(b.Bytes())
		require.NoError(t, err)
		require.LessOrEqual(t, max(c.Width, c.Height), longest)
		require.GreaterOrEqual(t, c.Width, 640)
	})
}

// A title that is ever so long, captions and any label leave a picture, and
// nothing panics on lines without length, points, and whole turns.
func TestOddDrawingsAreDrawn(t *testing.T) {
	coordinate := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-1000, 1000))
	rapid.Check(t, func(t *rapid.T) {
		var lines []plot.Line
		for range rapid.IntRange(1, 6).Draw(t, "lines") {
			var p path.Path
			for range rapid.IntRange(0, 4).Draw(t, "vertices") {
				p.V = append(p.V, path.Vertex{
					Point: pt(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")),
					Bulge: rapid.SampledFrom([]float64{0, 0, 1, -0.4, 1e-11, 30}).Draw(t, "bulge"),
				})
			}
			p.Closed = rapid.Bool().Draw(t, "closed")
			lines = append(lines, plot.Line{Role: plot.Role(rapid.IntRange(0, 10).Draw(t, "role")), Path: p})
		}
		lines = append(lines, plot.Line{Role: plot.Mark, Path: path.Open(pt(0, 0))})
		d := drawingOf("garment", lines...)
		for range rapid.IntRange(0, 4).Draw(t, "texts") {
			d.Groups[0].Texts = append(d.Groups[0].Texts, plot.Text{
				At:     pt(1e6*coordinate.Draw(t, "x"), coordinate.Draw(t, "y")),
				Height: rapid.SampledFrom([]float64{0, -3, 5, 1e9}).Draw(t, "height"),
				Angle:  coordinate.Draw(t, "angle"),
				String: rapid.SampledFrom([]string{"", "a", "Größe \u4e2d", strings.Repeat("word ", 80)}).Draw(t, "text"),
			})
		}
		require.NoError(t, png.Write(io.Discard, d, png.Options{Longest: 640}))
	})
}
