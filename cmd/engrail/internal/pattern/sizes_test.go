package pattern

import (
	"flag"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/svg"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const damsonFile = "../../../../testdata/pattern/damson-layers.svg"

func TestDamsonSkirtIsAsItsTestDrawsIt(t *testing.T) {
	plottest.Golden(t, *update, damsonFile, []byte(damsonNest().svg()))
}

func drawingOf(t testing.TB, text string) plot.Drawing {
	t.Helper()
	d, err := svg.Read(strings.NewReader(text), svg.Options{})
	require.NoError(t, err)
	return d
}

func sizesOf(t testing.TB, d plot.Drawing, by By) []Sized {
	t.Helper()
	list, warnings, err := Sizes(d, by)
	require.NoError(t, err)
	require.Empty(t, warnings)
	return list
}

func namesIn(list []Sized) (names []string) {
	for _, s := range list {
		names = append(names, s.Name)
	}
	return names
}

// takeDamson takes a panel and checks it against the radii and angles that it
// was drawn from.
func takeDamson(t testing.TB, d plot.Drawing, k int, name string) fit.Panel {
	t.Helper()
	i := slices.Index([]string{"Front", "Back"}, name)
	s := damson(k)[i]
	sel := Selection{
		File: "damson.svg", Panel: name, Name: name, Includes: &Widths{Hem: damsonHem, Start: damsonSide, Finish: damsonSide, Top: damsonTop},
		Start: fit.SeamEdge, Finish: fit.SeamEdge,
	}
	p, _, err := Take(d, sel)
	require.NoError(t, err)
	require.InDelta(t, s.hem(), p.Edges[0].Path.Length(), 0.001, "hem of %s in size %d", name, k)
	require.InDelta(t, damsonLength, p.Edges[1].Path.Length(), 0.001)
	require.InDelta(t, math.Abs(s.outline(0, 0, 0).Area()), math.Abs(p.Outline().Area()), 0.5)
	require.Equal(t, s.onFold, p.OnFold())
	return p
}

func requireDamson(t testing.TB, list []Sized) {
	t.Helper()
	require.Len(t, list, len(damsonSizes()))
	for k, s := range list {
		for _, name := range []string{"Front", "Back"} {
			p := takeDamson(t, s.Drawing, k, name)
			require.Len(t, p.Notches, 2, "its own two, not those of the other sizes")
			require.InDelta(t, 270, p.Grain.Length(), 1e-6, "the grain line is in every size")
			require.Len(t, p.Internal, 1, "the hip line is in every size")
		}
	}
}

func TestLayersAreSizes(t *testing.T) {
	d := file(t, damsonFile)
	list := sizesOf(t, d, ByLayer)
	require.Equal(t, damsonSizes(), namesIn(list))
	requireDamson(t, list)
}

func TestClassesAreSizes(t *testing.T) {
	n := damsonNest()
	n.by, n.names = ByClass, []string{"size-34", "size-36", "size-38", "size-40", "size-42", "size-44", "size-46", "size-48", "size-50"}
	list := sizesOf(t, drawingOf(t, n.svg()), ByClass)
	require.Equal(t, damsonSizes(), namesIn(list))
	requireDamson(t, list)
}

func TestStrokesAreSizesCalledByTheLegend(t *testing.T) {
	n := damsonNest()
	n.by, n.legend = ByStroke, true
	list := sizesOf(t, drawingOf(t, n.svg()), ByStroke)
	require.Equal(t, damsonSizes(), namesIn(list))
	requireDamson(t, list)
}

func TestStrokesWithoutALegendAreNumberedAsTheyGrow(t *testing.T) {
	n := damsonNest()
	n.by = ByStroke
	list := sizesOf(t, drawingOf(t, n.svg()), ByStroke)
	require.Equal(t, []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"}, namesIn(list))
	requireDamson(t, list)
}

// Of nested sizes in black and white, the inner lines are often drawn as the
// outline of one of the sizes.
func TestMarksInOneLookServeEverySize(t *testing.T) {
	square := func(x, w float64, stroke string) plot.Line {
		return plot.Line{Stroke: stroke, Path: path.Closed(path.Point{X: x}, path.Point{X: x + w}, path.Point{X: x + w, Y: w}, path.Point{X: x, Y: w})}
	}
	d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{
		square(0, 400, "black"), square(0, 420, "black/6"), square(0, 440, "black/1"),
		{Stroke: "black", Path: path.Open(path.Point{X: 50, Y: 50}, path.Point{X: 90, Y: 300})},
	}}}}
	for _, s := range sizesOf(t, d, ByStroke) {
		require.Len(t, s.Drawing.Groups[0].Lines, 2, "size %s has an outline and the mark", s.Name)
	}
}

func TestPiecesSayTheirSizes(t *testing.T) {
	var d plot.Drawing
	layers := file(t, damsonFile)
	for k, name := range damsonSizes() {
		for _, g := range layers.Groups[k].Groups {
			g.Piece = &plot.Piece{Name: g.Label, Size: name}
			d.Groups = append(d.Groups, g)
		}
	}
	slices.Reverse(d.Groups)
	d.Groups = append(d.Groups, layers.Groups[len(layers.Groups)-1])
	list := sizesOf(t, d, ByPiece)
	require.Equal(t, damsonSizes(), namesIn(list))
	requireDamson(t, list)
}

func TestSizesCanLieInThePieces(t *testing.T) {
	layers := file(t, damsonFile)
	for _, label := range []func(size, piece string) string{
		func(size, _ string) string { return size },
		func(size, piece string) string { return piece + "-" + size },
		func(size, piece string) string { return "Size " + size },
	} {
		d := plot.Drawing{Groups: []plot.Group{{Label: "Front"}, {Label: "Back"}, layers.Groups[len(layers.Groups)-1]}}
		for k, name := range damsonSizes() {
			for i, g := range layers.Groups[k].Groups {
				piece := d.Groups[i].Label
				g.Label = label(name, piece)
				d.Groups[i].Groups = append(d.Groups[i].Groups, g)
			}
		}
		list := sizesOf(t, d, ByLayer)
		require.Equal(t, damsonSizes(), namesIn(list))
		requireDamson(t, list)
	}
}

// Ids are of one line alone in a file, and so have the size in them.
func TestNamesLoseTheirSize(t *testing.T) {
	square := func(id string, w float64) plot.Line {
		return plot.Line{ID: id, Path: path.Closed(path.Point{}, path.Point{X: w}, path.Point{X: w, Y: w}, path.Point{Y: w})}
	}
	d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{square("front-38", 400), square("front-40", 420), square("front-42", 440)}}}}
	for _, s := range sizesOf(t, d, ByLayer) {
		require.Equal(t, "front", s.Drawing.Groups[0].Lines[0].ID)
		require.Len(t, s.Drawing.Groups[0].Lines, 1)
	}
}

func TestNamesThatAreNoSizesAreOrderedAsTheyGrow(t *testing.T) {
	n := damsonNest()
	n.names = []string{"petite", "girl", "woman"}
	list := sizesOf(t, drawingOf(t, n.svg()), ByLayer)
	require.Equal(t, n.names, namesIn(list))
	n.by = ByClass
	list = sizesOf(t, drawingOf(t, n.svg()), ByClass)
	require.Equal(t, n.names, namesIn(list))
}

func TestSizesAreInTheirOrder(t *testing.T) {
	for _, want := range [][]string{
		{"8", "10", "12"}, {"XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL"}, {"34/36", "38/40", "104"}, {"girl", "petite"},
	} {
		got := slices.Clone(want)
		slices.Reverse(got)
		SortSizes(got)
		require.Equal(t, want, got)
	}
}

func TestSizesAreReadFromNames(t *testing.T) {
	for name, want := range map[string][2]string{
		"38": {"38", ""}, "size 38": {"38", ""}, "Size: M": {"M", ""}, "xs": {"XS", ""}, "size-xl": {"XL", ""},
		"front-38": {"38", "front"}, "front_38_cut": {"38", "front_cut"}, "38 cut": {"38", "cut"}, "FRONT-XXL": {"XXL", "FRONT"},
		"s38": {"38", ""}, "front size 38": {"38", "front"}, "34/36": {"34/36", ""},
		// No sizes.
		"": {"", ""}, "front": {"", "front"}, "Layer 1": {"", "Layer 1"}, "layer2": {"", "layer2"}, "path31": {"", "path31"},
		"2 of 3": {"", "2 of 3"}, "left s": {"", "left s"}, "XM": {"", "XM"}, "2026": {"", "2026"},
	} {
		size, rest := sizeName(name)
		require.Equal(t, want, [2]string{size, rest}, name)
	}
}

func TestMissingPieceOfASizeIsNamed(t *testing.T) {
	n := damsonNest()
	n.without = func(size int, piece string) bool { return size == 4 && piece == "Back" }
	_, _, err := Sizes(drawingOf(t, n.svg()), ByLayer)
	require.EqualError(t, err, `size 42 does not have piece "Back", which size 34 has`)
	var e *SizesError
	require.ErrorAs(t, err, &e)
	require.Contains(t, e.Remedy(), "in the layer of its size")
}

func TestDrawingWithoutSuchSizesIsRefused(t *testing.T) {
	d := file(t, damsonFile)
	for by, want := range map[By]string{
		ByClass:  "told apart by classes: no two classes tell closed outlines apart",
		ByStroke: "told apart by strokes: no two closed outlines differ in their colour or dashes",
		ByPiece:  "told apart by pieces: no piece says its size",
	} {
		_, _, err := Sizes(d, by)
		require.ErrorContains(t, err, want)
		var e *SizesError
		require.ErrorAs(t, err, &e)
		require.Equal(t, "write `sizes: layers` under `pattern:`, which finds the sizes 34, 36, 38, 40, 42, 44, 46, 48, 50", e.Remedy())
	}
}

func TestPieceWithoutASizeIsInEveryOneWithAWarning(t *testing.T) {
	n := damsonNest()
	n.names = append(n.names[:8:8], "draft")
	list, warnings, err := Sizes(drawingOf(t, n.svg()), ByLayer)
	require.NoError(t, err)
	require.Len(t, list, 8)
	require.Len(t, warnings, 2)
	require.Equal(t, "no-size", warnings[0].Code)
	require.Equal(t, `piece "Front"`, warnings[0].Where)
}

func TestTheLineOfTheStyleFileIsProposed(t *testing.T) {
	n := damsonNest()
	propose := func(n nest) By {
		by, names := ProposeSizes(drawingOf(t, n.svg()))
		require.Equal(t, by == ByNothing, len(names) == 0)
		return by
	}
	require.Equal(t, ByLayer, propose(n))
	n.only = 3
	require.Equal(t, ByNothing, propose(n), "one size")
	n.only, n.by = -1, ByStroke
	require.Equal(t, ByStroke, propose(n))
	n.by, n.names = ByClass, []string{"s34", "s36"}
	require.Equal(t, ByClass, propose(n))
	n.by, n.names = ByLayer, []string{"front draft", "back draft"}
	require.Equal(t, ByNothing, propose(n), "two names that are no sizes")
	by, _ := ProposeSizes(file(t, tansy))
	require.Equal(t, ByNothing, by, "a pattern of one size")
}

// The front and the back of one size side by side, numbered, are not two sizes.
func TestNumberedPiecesAreNotSizes(t *testing.T) {
	square := func(x float64) plot.Line {
		return plot.Line{Path: path.Closed(path.Point{X: x}, path.Point{X: x + 400}, path.Point{X: x + 400, Y: 600}, path.Point{X: x, Y: 600})}
	}
	d := plot.Drawing{Groups: []plot.Group{
		{Label: "piece 1", Lines: []plot.Line{square(0)}}, {Label: "piece 2", Lines: []plot.Line{square(500)}},
	}}
	by, _ := ProposeSizes(d)
	require.Equal(t, ByNothing, by)
}

func TestDrawingOfOneSizeIsLeftAsItIs(t *testing.T) {
	d := file(t, tansy)
	list := sizesOf(t, d, ByNothing)
	require.Equal(t, []Sized{{Drawing: d}}, list)
}

func BenchmarkSizes(b *testing.B) {
	d := file(b, damsonFile)
	b.Run("layers", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := Sizes(d, ByLayer); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("proposed", func(b *testing.B) {
		for b.Loop() {
			if by, _ := ProposeSizes(d); by != ByLayer {
				b.Fatal(by)
			}
		}
	})
}

func FuzzSizes(f *testing.F) {
	n := damsonNest()
	for _, by := range []By{ByLayer, ByClass, ByStroke} {
		n.by, n.legend, n.names = by, true, damsonSizes()[:3]
		f.Add(n.svg())
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := svg.Read(strings.NewReader(text), svg.Options{})
		if err != nil {
			return
		}
		by, names := ProposeSizes(d)
		for _, way := range Ways() {
			list, _, err := Sizes(d, way)
			if err != nil {
				var e *SizesError
				require.ErrorAs(t, err, &e)
				require.NotEmpty(t, e.Remedy())
				continue
			}
			require.NotEmpty(t, list)
			seen := map[string]bool{}
			for _, s := range list {
				require.NotEmpty(t, s.Name)
				require.False(t, seen[s.Name], "two sizes are called %s", s.Name)
				seen[s.Name] = true
			}
			if way == by {
				require.Equal(t, names, namesIn(list))
			}
		}
	})
}
