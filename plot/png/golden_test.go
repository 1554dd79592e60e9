package png_test

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	gopng "image/png"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

var update = flag.Bool("update", false, "rewrite the golden pictures")

// nineSizes is more than has room for its labels.
func nineSizes() plot.Drawing {
	var all []skirt
	for i := range 9 {
		all = append(all, skirt{fmt.Sprint(34 + 2*i), 54 + 2*float64(i), 2600, 24})
	}
	return arranged(all, 2400)
}

// strips are long and narrow pieces, whose labels have room neither in them nor
// beside them.
func strips() plot.Drawing {
	d := plot.Drawing{Title: "Marigold skirt, bands"}
	for i := range 4 {
		x, name := 50*float64(i), fmt.Sprintf("band %d", i+1)
		g := plot.Group{
			Piece: &plot.Piece{Name: name, Kind: []string{"garment", "facing"}[i%2]},
			Lines: []plot.Line{
				{Role: plot.Cut, Path: rectangle(x, 0, 38, 1500)},
				{Role: plot.Grain, Path: path.Open(pt(x+19, 200), pt(x+19, 1300))},
			},
		}
		for k, line := range []string{"Marigold skirt: " + name, "size 44, cut 2, one mirrored", "25 rounded scallops 58.4 x 21.5 mm", "allowance hem 6, side 15/20, waist 10, opening 25 mm"} {
			g.Texts = append(g.Texts, plot.Text{At: pt(x+19, 760-10*float64(k)), Height: 6, Align: plot.Middle, String: line})
		}
		d.Groups = append(d.Groups, g)
	}
	return d
}

// edges are four hems side by side.
func edges() []png.Cell {
	a, m, b := pt(0, 0), pt(30, -24), pt(60, 0)
	quarter := a.Lerp(m, 0.5)
	rise := path.ArcFrom(a, path.Vec{X: 1}, quarter)
	half := []path.Segment{rise, {A: quarter, B: m, Bulge: -rise.Bulge}}
	var cells []png.Cell
	for _, e := range []struct {
		name, size string
		unit       []path.Segment
	}{
		{"Scallop", "60 mm wide, 24 mm deep", []path.Segment{path.ArcThrough(a, m, b)}},
		{"Point", "60 mm wide, 24 mm deep", []path.Segment{path.Line(a, m), path.Line(m, b)}},
		{"Wave", "60 mm wide, 24 mm deep", append(half, mirrored(half)...)},
		{"Shallow scallop", "60 mm wide, 9 mm deep", []path.Segment{path.ArcThrough(a, pt(30, -9), b)}},
	} {
		var hem []path.Path
		for i := range 3 {
			hem = append(hem, path.FromSegments(e.unit...).Transform(path.Translation(path.Vec{X: 60 * float64(i)})))
		}
		hem = append(hem, path.Open(pt(180, 0), pt(180, 40), pt(0, 40), pt(0, 0)))
		cells = append(cells, png.Cell{
			Drawing: plot.Drawing{Groups: []plot.Group{{
				Piece: &plot.Piece{Kind: "garment"},
				Lines: []plot.Line{{Role: plot.Cut, Path: path.Join(1e-9, hem...).Close(1e-9)}},
			}}},
			Caption: []string{e.name, e.size, "valley at both ends"},
		})
	}
	return cells
}

// mirrored is the other half of a motif 60 mm wide.
func mirrored(half []path.Segment) []path.Segment {
	p := path.FromSegments(half...).Transform(path.Reflection(pt(30, 0), path.Vec{Y: 1})).Reverse()
	var s []path.Segment
	for i := range p.Segments() {
		s = append(s, p.Segment(i))
	}
	return s
}

func TestPicturesLookAsApproved(t *testing.T) {
	captions := []string{
		"Front 38", "11 repeats on the whole front", "58.0 mm wide, 24 mm deep", "",
		"Front 44", "11 repeats on the whole front", "66.0 mm wide, 24 mm deep",
	}
	for name, write := range map[string]func(io.Writer) error{
		"one-size":   func(w io.Writer) error { return png.Write(w, oneSize(), png.Options{}) },
		"two-sizes":  func(w io.Writer) error { return png.Write(w, twoSizes(), png.Options{Captions: captions}) },
		"nine-sizes": func(w io.Writer) error { return png.Write(w, nineSizes(), png.Options{}) },
		"narrow":     func(w io.Writer) error { return png.Write(w, strips(), png.Options{}) },
		"small":      func(w io.Writer) error { return png.Write(w, oneSize(), png.Options{Longest: 800, Title: "Small"}) },
		"numbered": func(w io.Writer) error {
			return png.WriteNumbered(w, numbered(), png.Options{Title: "Marigold skirt: size 44 of 38 to 44", Longest: 1400})
		},
		"edges": func(w io.Writer) error {
			return png.WriteSheet(w, edges(), png.Options{Title: "Edges to choose from"})
		},
	} {
		t.Run(name, func(t *testing.T) {
			var got bytes.Buffer
			require.NoError(t, write(&got))
			file := filepath.Join("..", "..", "testdata", "plot-png", name+".png")
			if *update {
				require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
				require.NoError(t, os.WriteFile(file, got.Bytes(), 0o644))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			requireAlike(t, decode(t, want), decode(t, got.Bytes()))
		})
	}
}

// requireAlike compares pixels, not bytes: processors with fused
// multiply-add round coordinates differently by up to 1/64 px, which can move
// a blend by a step or two of the palette's fifteen.
func requireAlike(t *testing.T, want, got *image.Paletted) {
	t.Helper()
	require.Equal(t, want.Rect, got.Rect)
	const steps = 3 * 255 / 15
	off := 0
	for i := range want.Pix {
		a, b := want.Palette[want.Pix[i]], got.Palette[got.Pix[i]]
		r0, g0, b0, _ := a.RGBA()
		r1, g1, b1, _ := b.RGBA()
		d := max(distance(r0, r1), distance(g0, g1), distance(b0, b1))
		if d > steps {
			t.Fatalf("pixel %d, %d: %v, not %v", i%want.Stride, i/want.Stride, b, a)
		}
		if d > 0 {
			off++
		}
	}
	require.LessOrEqual(t, off, len(want.Pix)/1000, "pixels that differ")
}

func distance(a, b uint32) int { return max(int(a>>8)-int(b>>8), int(b>>8)-int(a>>8)) }

func decode(t testing.TB, file []byte) *image.Paletted {
	t.Helper()
	im, err := gopng.Decode(bytes.NewReader(file))
	require.NoError(t, err)
	p, ok := im.(*image.Paletted)
	require.True(t, ok, "8-bit palette colour")
	return p
}
