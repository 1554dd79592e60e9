package png_test

import (
	"bytes"
	"image"
	"image/color"
	gopng "image/png"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

func pngConfig(file []byte) (image.Config, error) {
	return gopng.DecodeConfig(bytes.NewReader(file))
}

// strip returns the grey of a line of the role alone and what is 30 px round
// it. The two far points only fix the scale.
func strip(t *testing.T, r plot.Role, length float64) []float64 {
	corners := []plot.Line{
		{Role: plot.Mark, Path: path.Open(pt(0, 0))}, {Role: plot.Mark, Path: path.Open(pt(400, 100))},
	}
	line := plot.Line{Role: r, Path: path.Open(pt(50, 50), pt(50+length, 50))}
	im := picture(t, drawingOf("", append(corners, line)...), png.Options{NoLegend: true})
	scale := float64(im.Rect.Max.X-2*56) / 400
	x, y := 56+int(50*scale), 56+int(50*scale)
	var grey []float64
	for j := y - 30; j <= y+30; j++ {
		for i := x - 30; i <= x+30+int(length*scale); i++ {
			grey = append(grey, darkness(im, i, j))
		}
	}
	return grey
}

// Long lines are compared with long ones; notches and clips, which are short,
// with what may also be short.
func TestLineStylesDifferWithoutColour(t *testing.T) {
	short := []plot.Role{plot.Notch, plot.Clip}
	long := []plot.Role{plot.Stitch, plot.Fold, plot.Inner}
	roles := append(plot.Roles(), plot.Drawn)
	for _, c := range []struct {
		mm float64
		of func(a, b plot.Role) bool
	}{
		{300, func(a, b plot.Role) bool { return !slices.Contains(short, a) && !slices.Contains(short, b) }},
		{8, func(a, b plot.Role) bool { return slices.Contains(short, a) && !slices.Contains(long, b) }},
	} {
		strips := map[plot.Role][]float64{}
		for _, r := range roles {
			strips[r] = strip(t, r, c.mm)
		}
		for _, a := range roles {
			for _, b := range roles {
				if a == b || !c.of(a, b) {
					continue
				}
				var common, all float64
				for i := range strips[a] {
					common += min(strips[a][i], strips[b][i])
					all += max(strips[a][i], strips[b][i])
				}
				require.Greater(t, 1-common/all, 0.2, "%s and %s at %g mm", a, b, c.mm)
			}
		}
	}
}

// contrast is the contrast ratio of WCAG 2.1.
func contrast(a, b color.RGBA) float64 {
	luminance := func(c color.RGBA) float64 {
		part := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.04045 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
	}
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.1 (1.4.11) asks for a contrast of 3 for graphical objects. The pixel
// with the most is taken, as lines are hardly wider than a pixel.
func TestLinesStandOutFromTints(t *testing.T) {
	for _, kind := range []string{"garment", "facing"} {
		for _, r := range plot.Roles() {
			d := drawingOf(kind,
				plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 200, 100)},
				plot.Line{Role: r, Path: path.Open(pt(30, 20), pt(30, 80))})
			im := picture(t, d, png.Options{NoLegend: true})
			px := func(x float64) int {
				return int(math.Round(float64(im.Rect.Max.X)/2 + (x-100)*(float64(im.Rect.Max.X)-112)/200))
			}
			tint := im.At(px(60), im.Rect.Max.Y/2).(color.RGBA)
			best := 0.0
			for x := px(28); x < px(32); x++ {
				for y := im.Rect.Max.Y/2 - 60; y < im.Rect.Max.Y/2; y++ {
					best = max(best, contrast(tint, im.At(x, y).(color.RGBA)))
				}
			}
			require.Greater(t, best, 3.0, "%s on %s", r, kind)
		}
	}
}

func TestFacingIsTintedApartFromGarment(t *testing.T) {
	tint := func(kind string) color.RGBA {
		im := picture(t, drawingOf(kind, plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 100, 100)}), png.Options{})
		return im.At(im.Rect.Max.X/2, im.Rect.Max.Y/3).(color.RGBA)
	}
	white, garment, facing := tint(""), tint("garment"), tint("facing")
	require.Equal(t, color.RGBA{255, 255, 255, 255}, white)
	// Very light, and yet apart in grey.
	grey := func(c color.RGBA) int { return int(color.GrayModel.Convert(c).(color.Gray).Y) }
	require.Greater(t, grey(facing), 220)
	require.GreaterOrEqual(t, grey(white)-grey(garment), 10)
	require.GreaterOrEqual(t, grey(garment)-grey(facing), 8)
}

func TestPieceClosedByItsFoldIsTinted(t *testing.T) {
	im := picture(t, drawingOf("facing",
		plot.Line{Role: plot.Fold, Path: path.Open(pt(0, 0), pt(0, 100))},
		plot.Line{Role: plot.Cut, Path: path.Open(pt(0, 0), pt(200, 0), pt(200, 60))},
		plot.Line{Role: plot.Cut, Path: path.Open(pt(0, 100), pt(200, 60))},
	), png.Options{})
	require.Greater(t, extent(im, sand).Dx(), 1300)
}

func TestCutoutIsNotTinted(t *testing.T) {
	im := picture(t, drawingOf("facing",
		plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 100, 100)},
		plot.Line{Role: plot.Cut, Path: path.Circle(pt(50, 50), 30)},
	), png.Options{NoLegend: true})
	box := extent(im, sand)
	middle := box.Min.Add(box.Max).Div(2)
	require.Equal(t, color.RGBA{255, 255, 255, 255}, im.At(middle.X, middle.Y))
}

// A fold that lies on a closed cut line still shows as a fold.
func TestFoldCoversTheCutLineUnderIt(t *testing.T) {
	im := picture(t, drawingOf("garment",
		plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 300, 100)},
		plot.Line{Role: plot.Fold, Path: path.Open(pt(0, 100), pt(0, 0))},
	), png.Options{NoLegend: true})
	gaps := 0
	edge := 56
	for y := 100; y < 400; y++ {
		if darkness(im, edge, y) < 0.05 {
			gaps++
		}
	}
	require.Greater(t, gaps, 60)
}

// A drawing that brings its signs is drawn like one that leaves them to the
// picture.
func TestSignsAreDrawnOnce(t *testing.T) {
	d := drawingOf("garment",
		plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 300, 200)},
		plot.Line{Role: plot.Fold, Path: path.Open(pt(0, 200), pt(0, 0))},
		plot.Line{Role: plot.Grain, Path: path.Open(pt(150, 20), pt(150, 180))},
	)
	without := picture(t, d, png.Options{})
	g := &d.Groups[0]
	signs := g.Signs()
	require.Len(t, signs, 5)
	g.Lines = append(g.Lines, signs...)
	requireAlike(t, without, picture(t, d, png.Options{}))
	g.Lines = append(g.Lines[:3], signs[0])
	require.NotEmpty(t, added(t, without, picture(t, d, png.Options{})), "the signs show")
}

func TestArcsAreRound(t *testing.T) {
	im := picture(t, drawingOf("", plot.Line{Role: plot.Cut, Path: path.Circle(pt(0, 0), 50)}), png.Options{NoLegend: true})
	box := extent(im, func(c color.RGBA) bool { return c.R < 60 })
	box.Max.Y = min(box.Max.Y, box.Min.Y+box.Dx()) // without the scale bar
	cx, cy, r := float64(box.Min.X+box.Max.X)/2, float64(box.Min.Y+box.Max.Y)/2, float64(box.Dx())/2-1.3
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if darkness(im, x, y) > 0.5 {
				require.InDelta(t, r, math.Hypot(float64(x)+0.5-cx, float64(y)+0.5-cy), 2.2)
			}
		}
	}
}

func TestDashesRunOnOverJoints(t *testing.T) {
	whole := path.Open(pt(0, 0), pt(300, 0))
	pieces := []path.Point{pt(0, 0)}
	for i := range 59 {
		pieces = append(pieces, pt(5*float64(i+1)+1.3*math.Sin(float64(i)), 0))
	}
	parts := path.Open(append(pieces, pt(300, 0))...)
	for _, r := range []plot.Role{plot.Stitch, plot.Inner, plot.Mark} {
		requireAlike(t,
			picture(t, drawingOf("", plot.Line{Role: r, Path: whole}), png.Options{}),
			picture(t, drawingOf("", plot.Line{Role: r, Path: parts}), png.Options{}))
	}
}

// added returns the pixels in which the pictures differ.
func added(t testing.TB, without, with *image.Paletted) (pixels []image.Point) {
	require.Equal(t, without.Rect, with.Rect)
	for i := range with.Pix {
		if with.Pix[i] != without.Pix[i] {
			pixels = append(pixels, image.Pt(i%with.Stride, i/with.Stride))
		}
	}
	return pixels
}

// lettered returns the drawing with the texts in its first group.
func lettered(d plot.Drawing, texts ...plot.Text) plot.Drawing {
	g := d.Groups[0]
	g.Texts = texts
	return plot.Drawing{Groups: append([]plot.Group{g}, d.Groups[1:]...)}
}

func TestLetteringIsLegibleAtAnyScale(t *testing.T) {
	for _, c := range []struct{ mm, least, most float64 }{{0.1, 9, 12}, {5, 9, 12}, {1000, 14, 19}} {
		d := drawingOf("garment", plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 5000, 3000)})
		with := lettered(d, plot.Text{At: pt(2000, 1500), Height: c.mm, String: "H"})
		box := image.Rectangle{}
		for _, p := range added(t, picture(t, d, png.Options{}), picture(t, with, png.Options{})) {
			box = box.Union(image.Rectangle{Min: p, Max: p.Add(image.Pt(1, 1))})
		}
		// 13 px of text size make 9.4 px of capital height, and 22 px 15.8; the pen
		// adds a tenth of that.
		require.GreaterOrEqual(t, float64(box.Dy()), c.least)
		require.LessOrEqual(t, float64(box.Dy()), c.most)
	}
}

func TestLetteringStandsOverNoLine(t *testing.T) {
	lines := []plot.Line{{Role: plot.Cut, Path: rectangle(0, 0, 300, 200)}}
	for i := range 6 {
		x := 30 + 45*float64(i)
		lines = append(lines, plot.Line{Role: plot.Internal, Path: path.Open(pt(x, 20), pt(x+12, 180))})
	}
	d := drawingOf("garment", lines...)
	small := png.Options{Longest: 800, NoLegend: true}
	without := picture(t, d, small)
	rapid.Check(t, func(rt *rapid.T) {
		var texts []plot.Text
		for i := range rapid.IntRange(1, 5).Draw(rt, "texts") {
			texts = append(texts, plot.Text{
				At:     pt(rapid.Float64Range(-20, 320).Draw(rt, "x"), rapid.Float64Range(-20, 220).Draw(rt, "y")),
				Height: 4, Angle: rapid.SampledFrom([]float64{0, math.Pi / 2, 2.7}).Draw(rt, "angle"),
				Align: plot.Align(i % 3), String: "hem 12",
			})
		}
		letters := added(t, without, picture(t, lettered(d, texts...), small))
		require.NotEmpty(rt, letters)
		for _, p := range letters {
			require.Less(rt, darkness(without, p.X, p.Y), 0.08, "at %v", p)
		}
	})
}

func TestLabelTooLargeForItsPieceStandsBesideIt(t *testing.T) {
	d := drawingOf("garment", plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 20, 30)})
	d.Groups = append(d.Groups, plot.Group{Lines: []plot.Line{{Role: plot.Mark, Path: path.Open(pt(-300, -200))}, {Role: plot.Mark, Path: path.Open(pt(300, 200))}}})
	without := picture(t, d, png.Options{NoLegend: true})
	letters := added(t, without, picture(t, lettered(d, plot.Text{At: pt(2, 10), Height: 4, String: "under collar facing"}), png.Options{NoLegend: true}))
	bluish := func(c color.RGBA) bool { return c == color.RGBA{0xEF, 0xF3, 0xF7, 0xFF} }
	piece := extent(without, bluish)
	inside := 0
	for _, p := range letters {
		if p.In(piece) {
			inside++
		}
	}
	require.Greater(t, len(letters), 300)
	require.Greater(t, inside, 0, "the leader")
	require.Less(t, inside, len(letters)/4, "only the leader")
}

// With no room beside it either, the piece gets a number and the picture a
// list, for which it keeps its longest side.
func TestLabelWithoutAnyRoomIsListed(t *testing.T) {
	var groups []plot.Group
	for i := range 20 {
		for j := range 20 {
			groups = append(groups, plot.Group{
				Piece: &plot.Piece{Kind: "garment"},
				Lines: []plot.Line{{Role: plot.Cut, Path: rectangle(50*float64(i), 50*float64(j), 45, 45)}},
			})
		}
	}
	d := plot.Drawing{Groups: groups}
	plain := picture(t, d, png.Options{})
	groups[210].Texts = []plot.Text{{At: pt(505, 520), Height: 4, String: "a name that is far too long for so small a piece"}}
	listed := picture(t, d, png.Options{})
	require.LessOrEqual(t, listed.Rect.Max.Y, 1600)
	require.Less(t, listed.Rect.Max.X, plain.Rect.Max.X, "the list takes height from the drawing")
}

func TestLegendListsOnlyWhatOccurs(t *testing.T) {
	cut := plot.Line{Role: plot.Cut, Path: rectangle(0, 0, 300, 100)}
	one := picture(t, drawingOf("", cut), png.Options{})
	none := picture(t, drawingOf("", cut), png.Options{NoLegend: true})
	ink := func(im *image.Paletted) (n int) {
		for y := im.Rect.Max.Y - 120; y < im.Rect.Max.Y; y++ {
			for x := range 600 {
				if darkness(im, x, y) > 0.5 {
					n++
				}
			}
		}
		return n
	}
	require.Greater(t, ink(one), ink(none))
	require.Zero(t, extent(one, sand).Dx())
	require.NotZero(t, extent(picture(t, drawingOf("facing", plot.Line{Role: plot.Cut, Path: path.Open(pt(0, 0), pt(300, 100))}), png.Options{}), sand).Dx())
}
