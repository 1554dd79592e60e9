package png_test

import (
	"bytes"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/png"
)

// edgesOf cuts a closed outline at its vertices and gives its edges the words.
func edgesOf(outline path.Path, words ...string) (all []png.NumberedEdge) {
	for i := range outline.Segments() {
		word := "top"
		if i < len(words) {
			word = words[i]
		}
		all = append(all, png.NumberedEdge{Number: i + 1, Word: word, Corner: string(rune(65 + i)), Path: path.FromSegments(outline.Segment(i))})
	}
	return all
}

// numbered is a nested front with allowances, a back without, a piece with many
// edges, and one so small that nothing has room in it.
func numbered() []png.Numbered {
	half := func(x, k, out float64) path.Path {
		return path.Path{Closed: true, V: []path.Vertex{
			{Point: pt(x, -out), Bulge: 0.06}, {Point: pt(x+300*k+out, 30-out*0.8)}, {Point: pt(x+200*k+out, 600+out), Bulge: -0.06}, {Point: pt(x, 580+out)},
		}}
	}
	words := []string{"hem", "finish", "top", "fold"}
	star := path.Path{Closed: true}
	for i := range 18 {
		r := []float64{120, 70}[i%2]
		s, c := math.Sincos(float64(i) * math.Pi / 9)
		star.V = append(star.V, path.Vertex{Point: pt(1000+r*c, 450+r*s)})
	}
	stitch, back := half(0, 1, 0), half(420, 1.1, 0)
	tab := path.Closed(pt(940, 100), pt(960, 100), pt(960, 125), pt(940, 125))
	return []png.Numbered{
		{
			Name: "1 Front", Notes: []string{"cut 1 on fold"}, Outline: half(0, 1, 15), Stitch: stitch, Edges: edgesOf(stitch, words...),
			Nested: []path.Path{half(0, 0.9, 15), half(0, 0.94, 15), half(0, 0.97, 15)},
			Lines: []plot.Line{
				{Role: plot.Grain, Path: path.Open(pt(70, 150), pt(70, 450))},
				{Role: plot.Notch, Path: path.Open(pt(283, 240), pt(277, 239))},
				{Role: plot.Internal, Path: path.Open(pt(90, 600), pt(100, 480), pt(110, 602))},
			},
		},
		{Name: "2 Back", Notes: []string{"cut 2"}, Outline: back, Edges: edgesOf(back, "hem", "finish", "top", "start")},
		{Name: "3 Star", Outline: star, Edges: edgesOf(star)},
		{Name: "4 Tab", Notes: []string{"cut 4"}, Outline: tab, Edges: edgesOf(tab, "other", "other", "other", "other")},
	}
}

func TestNumberedPieceThatCannotBeDrawnIsRefused(t *testing.T) {
	n := numbered()[1]
	n.Edges = []png.NumberedEdge{{Number: 1, Path: path.Open(pt(0, 0), pt(math.NaN(), 1))}}
	require.EqualError(t, png.WriteNumbered(io.Discard, []png.Numbered{n}, png.Options{}),
		`png: the piece "2 Back" has a coordinate that is not a number or not finite; check the numbers that it is made from`)
	n.Edges, n.Lines = nil, []plot.Line{{Role: plot.Mark, Path: path.Open(pt(0, math.Inf(1)))}}
	require.ErrorContains(t, png.WriteNumbered(io.Discard, []png.Numbered{n}, png.Options{}), "not finite")
	require.EqualError(t, png.WriteNumbered(io.Discard, nil, png.Options{Title: "none"}),
		`png: drawing "none" has no lines to show; give it at least one`)
}

// The shading is the sand of the palette; a piece without a stitching line has
// none.
func TestOnlyAllowancesAreShaded(t *testing.T) {
	shaded := func(n png.Numbered) int {
		var b bytes.Buffer
		require.NoError(t, png.WriteNumbered(&b, []png.Numbered{n}, png.Options{NoLegend: true}))
		im, count := decode(t, b.Bytes()), 0
		for _, i := range im.Pix {
			if r, g, bl, _ := im.Palette[i].RGBA(); r>>8 == 0xFB && g>>8 == 0xE9 && bl>>8 == 0xC6 {
				count++
			}
		}
		return count
	}
	require.Greater(t, shaded(numbered()[0]), 1000)
	require.Zero(t, shaded(numbered()[1]))
}

func BenchmarkWriteNumbered(b *testing.B) {
	all := numbered()
	for b.Loop() {
		require.NoError(b, png.WriteNumbered(io.Discard, all, png.Options{Longest: 1400}))
	}
}
