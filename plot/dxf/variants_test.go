package dxf_test

import (
	"fmt"
	"image"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

// strokes draws an arch for each letter but spaces, and a bar beneath the text.
func strokes(t plot.Text) []path.Path {
	var lines []path.Path
	place := path.Frame(t.At, path.Direction(t.Angle))
	width := 0.6 * t.Height
	start := -0.5 * float64(t.Align) * width * float64(len(t.String))
	for i, c := range t.String {
		if c == ' ' {
			continue
		}
		x := start + width*float64(i)
		lines = append(lines, path.Path{V: []path.Vertex{
			{Point: path.Point{X: x}}, {Point: path.Point{X: x, Y: t.Height - width/4}, Bulge: -1},
			{Point: path.Point{X: x + width/2, Y: t.Height - width/4}}, {Point: path.Point{X: x + width/2}},
		}}.Transform(place))
	}
	if len(lines) > 0 {
		lines = append(lines, path.Open(path.Point{X: start}, path.Point{X: -start + 1}).Transform(place))
	}
	return lines
}

// plainVariants are the options of the plain flavour by what they are called.
func plainVariants() map[string]dxf.Options {
	all := map[string]dxf.Options{}
	for release, r := range map[string]dxf.Release{"R12": dxf.R12, "R2000": dxf.R2000} {
		all[release] = dxf.Options{Release: r}
		all[release+" lines"] = dxf.Options{Release: r, Lines: true}
		all[release+" strokes"] = dxf.Options{Release: r, Strokes: strokes, SizeLayers: true}
		all[release+" lines strokes"] = dxf.Options{Release: r, Lines: true, Strokes: strokes}
	}
	return all
}

// within returns how far lines may be from their design: the rounding of places
// and bulges, and the error of the chords.
func within(o dxf.Options) float64 {
	if o.Lines {
		return 0.0005 + dxf.LinesError
	}
	return 0.0005
}

func TestEveryPlainVariantComesBackAsItWas(t *testing.T) {
	d := plottest.Scalloped(6)
	d.Groups[0].Lines = append(d.Groups[0].Lines, d.Groups[0].Signs()...)
	d.Groups[0].Piece.Pairs, d.Groups[0].Piece.Quantity = true, 4
	d.Groups = append(d.Groups, plot.Group{ID: "legend", Texts: []plot.Text{{Height: 3, Align: plot.Right, Angle: 1, String: "100 mm; 50% ^"}}})
	for name, o := range plainVariants() {
		t.Run(name, func(t *testing.T) {
			back := read(t, written(t, d, o))
			require.Equal(t, d.Title, back.Title)
			require.Len(t, back.Groups, len(d.Groups))
			for i, want := range d.Groups {
				got := back.Groups[i]
				require.Equal(t, want.ID, got.ID)
				require.Equal(t, want.Label, got.Label)
				require.Equal(t, want.Piece, got.Piece)
				requireTexts(t, want.Texts, got.Texts)
				requireLines(t, want.Lines, got.Lines, within(o))
			}
		})
	}
}

func TestRandomLinesComeBackFromEveryPlainVariant(t *testing.T) {
	variants := plainVariants()
	names := slices.Sorted(maps.Keys(variants))
	rapid.Check(t, func(t *rapid.T) {
		d := plot.Drawing{Groups: []plot.Group{{Lines: randomLines(t)}}}
		for i := range d.Groups[0].Lines {
			d.Groups[0].Lines[i].Sign = rapid.Bool().Draw(t, "sign")
		}
		for i := range rapid.IntRange(0, 2).Draw(t, "texts") {
			d.Groups[0].Texts = append(d.Groups[0].Texts, plot.Text{
				At: path.Point{X: float64(i)}, Height: 5, Angle: rapid.Float64Range(-3, 3).Draw(t, "angle"),
				Align: plot.Align(rapid.IntRange(0, 2).Draw(t, "align")), String: rapid.StringMatching("[a-z ]*[a-z]").Draw(t, "text"),
			})
		}
		o := variants[rapid.SampledFrom(names).Draw(t, "variant")]
		back := read(t, written(t, d, o))
		require.Len(t, back.Groups, 1)
		requireLines(t, d.Groups[0].Lines, back.Groups[0].Lines, within(o))
		requireTexts(t, d.Groups[0].Texts, back.Groups[0].Texts)
	})
}

func TestLinesHaveNoBulgesAndKeepToTheirError(t *testing.T) {
	circle := path.Circle(path.Point{X: 150, Y: 100}, 80)
	d := pieceOf(plot.Line{Role: plot.Mark, Path: circle})
	for _, r := range []dxf.Release{dxf.R12, dxf.R2000} {
		for asked, most := range map[float64]float64{0: 0.01, 0.5: 0.5} {
			file := written(t, d, dxf.Options{Release: r, Lines: true, ChordError: asked})
			for _, x := range recordsOf(t, file) {
				if x.kind == "VERTEX" || x.kind == "LWPOLYLINE" {
					require.NotContains(t, x.values, "42")
				}
			}
			drawn := read(t, file).Groups[0].Lines[1].Path
			require.LessOrEqual(t, plottest.Deviation(circle, drawn), most+0.0001)
			require.Greater(t, plottest.Deviation(circle, drawn), most/4, "no more chords than it takes")
		}
	}
}

func TestReleaseTwoThousandSaysReleaseUnitAndExtent(t *testing.T) {
	// Autodesk's DXF Reference, HEADER: AC1015 is release 2000, $INSUNITS 4 is
	// millimetres, $MEASUREMENT 1 is metric.
	file := written(t, pieceOf(), dxf.Options{Release: dxf.R2000})
	head, _, _ := strings.Cut(file, "ENDSEC")
	for _, want := range []string{
		"$ACADVER\r\n1\r\nAC1015\r\n", "$INSUNITS\r\n70\r\n4\r\n", "$MEASUREMENT\r\n70\r\n1\r\n",
		"$EXTMIN\r\n10\r\n0.0000\r\n20\r\n0.0000\r\n30\r\n0.0\r\n", "$EXTMAX\r\n10\r\n300.0000\r\n20\r\n200.0000\r\n30\r\n0.0\r\n",
	} {
		require.Contains(t, head, want)
	}
	require.True(t, strings.HasSuffix(file, "0\r\nENDSEC\r\n0\r\nEOF\r\n"))
	require.NotContains(t, file, "VERTEX")
	require.Regexp(t, `^([ -~]*\r\n)*$`, file, "7-bit ASCII")
}

// Autodesk's DXF Reference, as ezdxf's "DXF File Structure" lists it for
// releases from 13 on: the sections and tables in their order; every thing with a
// handle of its own below $HANDSEED, and an owner that is there.
func TestReleaseTwoThousandHasSectionsTablesHandlesAndOwners(t *testing.T) {
	for name, d := range map[string]plot.Drawing{"scalloped": plottest.Scalloped(4), "nothing": {}} {
		t.Run(name, func(t *testing.T) {
			var sections, tables, blocks []string
			kinds, names := map[string]string{"0": "the file"}, map[string]string{}
			section, table, seed := "", "", uint64(0)
			all := recordsOf(t, written(t, d, dxf.Options{Release: dxf.R2000, Strokes: strokes}))
			handleOf := func(r record) string {
				if r.kind == "DIMSTYLE" {
					return r.values["105"]
				}
				return r.values["5"]
			}
			for _, r := range all {
				switch r.kind {
				case "SECTION":
					section = r.values["2"]
					sections = append(sections, section)
					if section == "HEADER" {
						var err error
						seed, err = strconv.ParseUint(r.values["5"], 16, 64)
						require.NoError(t, err)
					}
					continue
				case "ENDSEC", "ENDTAB", "EOF":
					continue
				case "TABLE":
					tables = append(tables, r.values["2"])
				case "BLOCK":
					blocks = append(blocks, r.values["2"])
				}
				h := handleOf(r)
				require.Regexp(t, "^[1-9A-F][0-9A-F]*$", h, "%v", r)
				require.NotContains(t, kinds, h, "a handle is given once")
				n, err := strconv.ParseUint(h, 16, 64)
				require.NoError(t, err)
				require.Less(t, n, seed)
				kinds[h], names[h] = r.kind, r.values["2"]
			}
			require.Equal(t, []string{"HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"}, sections)
			require.Equal(t, []string{"VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD"}, tables)
			require.Equal(t, []string{"*Model_Space", "*Paper_Space"}, blocks)
			section, inBlock, layers := "", "", map[string]bool{}
			for _, r := range all {
				owner := r.values["330"]
				switch {
				case r.kind == "SECTION":
					section = r.values["2"]
				case r.kind == "ENDSEC", r.kind == "ENDTAB", r.kind == "EOF":
				case r.kind == "TABLE":
					table = r.values["2"]
					require.Equal(t, "0", owner)
				case section == "TABLES":
					require.Equal(t, table, r.kind)
					require.Equal(t, "TABLE", kinds[owner])
					require.Equal(t, table, names[owner])
					if table == "LAYER" {
						layers[r.values["2"]] = true
					}
				case section == "BLOCKS":
					if r.kind == "BLOCK" {
						inBlock = r.values["2"]
					}
					require.Equal(t, "BLOCK_RECORD", kinds[owner])
					require.Equal(t, inBlock, names[owner])
				case section == "ENTITIES":
					require.Equal(t, "*Model_Space", names[owner])
					require.True(t, layers[r.layer], "layer %s is in the table", r.layer)
				case section == "OBJECTS":
					require.Contains(t, kinds, owner)
				}
			}
		})
	}
}

func TestStrokesStandForTheirTextOnItsLayer(t *testing.T) {
	d := pieceOf()
	d.Groups[0].Texts = []plot.Text{
		{At: path.Point{X: 10, Y: 10}, Height: 5, String: "ab"}, {At: path.Point{X: 50, Y: 50}, Height: 7, String: "  "},
	}
	for _, r := range []dxf.Release{dxf.R12, dxf.R2000} {
		for layer, o := range map[string]dxf.Options{
			"TEXT": {Release: r, Strokes: strokes}, "40-TEXT": {Release: r, Strokes: strokes, SizeLayers: true},
		} {
			kinds := map[string]int{}
			file := written(t, d, o)
			for _, x := range recordsOf(t, file) {
				if x.layer == layer && x.kind != "VERTEX" && x.kind != "SEQEND" {
					kinds[x.kind]++
				}
			}
			lines := map[dxf.Release]string{dxf.R12: "POLYLINE", dxf.R2000: "LWPOLYLINE"}[r]
			require.Equal(t, map[string]int{lines: 2, "LINE": 1, "TEXT": 1}, kinds, "two letters with their bar, and spaces that have no strokes")
			back := read(t, file).Groups[0]
			require.Len(t, back.Lines, 1)
			requireTexts(t, d.Groups[0].Texts, back.Texts)
		}
	}
	// In inches, as a drawing program may save the file.
	inches := strings.Replace(written(t, d, dxf.Options{Strokes: strokes}), "$INSUNITS\r\n70\r\n4", "$INSUNITS\r\n70\r\n1", 1)
	require.InDelta(t, 5*25.4, read(t, inches).Groups[0].Texts[0].Height, 1e-9)
	require.InDelta(t, 10*25.4, read(t, inches).Groups[0].Texts[0].At.X, 1e-9)

	require.Equal(t, written(t, d, exchange()), written(t, d, dxf.Options{Flavour: dxf.Exchange, Strokes: strokes, Lines: true, Release: dxf.R2000}),
		"pattern data are release 12, with texts")
	for want, stroke := range map[string]path.Path{
		`dxf: piece "Back" size 40: text 1, "ab": stroke 2 has a coordinate that is not a number`:                                                        path.Open(path.Point{X: math.NaN()}),
		`dxf: piece "Back" size 40: text 1, "ab": stroke 2 reaches 3000000 mm from the origin, and no more than 1000000 mm are written: check its scale`: path.Open(path.Point{X: 3e6}),
	} {
		o := dxf.Options{Strokes: func(plot.Text) []path.Path { return []path.Path{{}, stroke} }}
		require.EqualError(t, dxf.Write(io.Discard, d, o), want)
	}
	require.EqualError(t, dxf.Write(io.Discard, d, dxf.Options{Release: 9}), "dxf: there is no release 9: choose release 12 or 2000")
}

// Programs of others.

// ezdxfAll has ezdxf read all files at once.
func ezdxfAll(t *testing.T, files ...string) []plottest.Measured {
	t.Helper()
	args := []string{testdata + "/measure.py"}
	for i, file := range files {
		name := filepath.Join(t.TempDir(), fmt.Sprintf("%d.dxf", i))
		require.NoError(t, os.WriteFile(name, []byte(file), 0o644))
		args = append(args, name)
	}
	var all []plottest.Measured
	plottest.Ezdxf(t, &all, args[0], args[1:]...)
	require.Len(t, all, len(files))
	return all
}

func TestIndependentReaderMeasuresEveryPlainVariant(t *testing.T) {
	d := plottest.Scalloped(5)
	var names, files []string
	for name, o := range plainVariants() {
		o.SizeLayers = false
		names, files = append(names, name), append(files, written(t, d, o))
	}
	lines := plottest.Lines(d)
	for i, f := range ezdxfAll(t, files...) {
		t.Run(names[i], func(t *testing.T) {
			o := plainVariants()[names[i]]
			require.Empty(t, f.Errors)
			require.Empty(t, f.Fixes, "nothing to mend")
			require.Equal(t, map[dxf.Release]string{dxf.R12: "AC1009", dxf.R2000: "AC1015"}[o.Release], f.Version)
			require.Equal(t, 4, f.Units)
			require.Empty(t, f.Blocks)
			back := plottest.Lines(read(t, files[i]))
			for _, r := range plot.Roles() {
				length, box := designed(lines, r)
				if box.Empty() {
					require.NotContains(t, f.Layers, strings.ToUpper(r.String()))
					continue
				}
				layer := f.Layers[strings.ToUpper(r.String())]
				short := near
				if o.Lines {
					// Chords within e shorten an arc of the radius r by 4 e/(3 r) of its
					// length: the scallops of 12.8 mm radius and more, by 0.1 %.
					short += length * 4 * dxf.LinesError / (3 * 12.8)
				}
				require.LessOrEqual(t, layer.Length, length+near, "%s", r)
				require.GreaterOrEqual(t, layer.Length, length-short, "%s", r)
				drawn, _ := designed(back, r)
				t.Logf("%s: %.4f mm designed, %.4f mm read by ezdxf, %.4f mm by us", r, length, layer.Length, drawn)
				require.InDelta(t, drawn, layer.Length, near, "%s", r)
				requireBox(t, box, layer.Box, near, r.String())
			}
			if o.Strokes == nil {
				require.Equal(t, map[string][]string{"TEXT": {"size 38", "grain", "size 38", "grain"}}, f.Texts)
				return
			}
			require.Empty(t, f.Texts)
			length, box := 0.0, path.EmptyBox()
			for _, text := range plottest.Texts(d) {
				for _, s := range strokes(text) {
					length, box = length+s.Length(), box.Union(s.Bounds())
				}
			}
			// Arches of 0.6 mm radius lose 2 %, of the arch alone.
			short := near
			if o.Lines {
				short += 0.02 * length
			}
			require.LessOrEqual(t, f.Layers["TEXT"].Length, length+near)
			require.GreaterOrEqual(t, f.Layers["TEXT"].Length, length-short)
			requireBox(t, box, f.Layers["TEXT"].Box, near, "TEXT")
		})
	}
}

func TestIndependentReaderMeasuresPatternDataInBothUnits(t *testing.T) {
	d := plottest.Scalloped(5)
	units := []dxf.Units{dxf.Metric, dxf.English}
	var files []string
	for _, u := range units {
		files = append(files, written(t, d, dxf.Options{Flavour: dxf.Exchange, Units: u, CheckCurves: true}))
	}
	for i, f := range ezdxfAll(t, files...) {
		unit := map[dxf.Units]float64{dxf.Metric: 1, dxf.English: 25.4}[units[i]]
		require.Empty(t, f.Errors)
		for _, fix := range f.Fixes {
			require.Contains(t, fix, "Deleted SEQEND", "what ezdxf 0.18.1 does to every POLYLINE in a block of release 12")
		}
		back := read(t, files[i])
		for k, g := range d.Groups {
			block := f.Blocks[f.Inserts[k]]
			for layer, roles := range map[string][]plot.Role{
				"1": {plot.Cut}, "84": {plot.Cut}, "14": {plot.Stitch}, "87": {plot.Stitch}, "6": {plot.Fold}, "7": {plot.Grain}, "8": {plot.Clip, plot.Internal},
			} {
				drawn, box := 0.0, path.EmptyBox()
				for _, r := range roles {
					_, b := designed(g.Lines, r)
					l, _ := designed(back.Groups[k].Lines, r)
					drawn, box = drawn+l, box.Union(b)
				}
				got := block.Layers[layer]
				require.InDelta(t, drawn, got.Length*unit, near, "layer %s", layer)
				for i := range got.Box {
					got.Box[i] *= unit
				}
				requireBox(t, box, got.Box, near, "layer "+layer)
			}
			require.Len(t, block.Notches, 1)
			require.InDelta(t, 4, block.Notches[0][2]*unit, 0.002)
			require.Equal(t, 180.0, block.Notches[0][4])
		}
	}
}

func TestLibreCADDrawsEveryVariantAtItsTrueSize(t *testing.T) {
	// All of it is cut or lettering, which are drawn solid in black, and fits on A4.
	lines := []path.Path{
		{Closed: true, V: []path.Vertex{
			{Point: path.Point{}}, {Point: path.Point{X: 170}, Bulge: 0.2}, {Point: path.Point{X: 170, Y: 240}}, {Point: path.Point{Y: 240}, Bulge: 0.1},
		}},
		path.Circle(path.Point{X: 85, Y: 150}, 60), path.Open(path.Point{X: 20, Y: 20}, path.Point{X: 150, Y: 60}),
	}
	text := plot.Text{At: path.Point{X: 85, Y: 100}, Height: 20, Angle: 0.3, Align: plot.Middle, String: "true"}
	d := plot.Drawing{Groups: []plot.Group{{Texts: []plot.Text{text}}}}
	for _, p := range lines {
		d.Groups[0].Lines = append(d.Groups[0].Lines, plot.Line{Role: plot.Cut, Path: p})
	}
	lines = append(lines, strokes(text)...)
	box := d.Bounds()
	for name, o := range map[string]dxf.Options{
		"R12": {Strokes: strokes}, "R2000": {Release: dxf.R2000, Strokes: strokes}, "R2000 lines": {Release: dxf.R2000, Strokes: strokes, Lines: true},
	} {
		t.Run(name, func(t *testing.T) {
			page := plottest.LibreCAD(t, []byte(written(t, d, o)))
			const scale = plottest.PixelsPerMM
			dark := func(x, y int) bool { return image.Pt(x, y).In(page.Rect) && page.GrayAt(x, y).Y < 140 }
			ink := image.Rectangle{}
			for y := range page.Rect.Dy() {
				for x := range page.Rect.Dx() {
					if dark(x, y) {
						ink = ink.Union(image.Rect(x, y, x+1, y+1))
					}
				}
			}
			t.Logf("designed %.2f x %.2f mm, inked %.1f x %.1f mm", box.Width(), box.Height(), float64(ink.Dx())/scale, float64(ink.Dy())/scale)
			// A line is a pixel or two wide, and on the grid a pixel off.
			require.InDelta(t, box.Width(), float64(ink.Dx())/scale, 0.21)
			require.InDelta(t, box.Height(), float64(ink.Dy())/scale, 0.21)

			// Everything designed is inked within two pixels, and all ink is near it.
			middle := path.Point{X: float64(ink.Min.X+ink.Max.X) / 2, Y: float64(ink.Min.Y+ink.Max.Y) / 2}
			reached := image.NewAlpha(page.Rect)
			for _, p := range lines {
				r := path.NewRuler(p)
				for along := 0.0; along <= r.Length(); along += 0.05 {
					q := r.At(along).Sub(box.Centre())
					x, y := int(math.Floor(middle.X+scale*q.X)), int(math.Floor(middle.Y-scale*q.Y))
					inked := false
					for dy := -2; dy <= 2; dy++ {
						for dx := -2; dx <= 2; dx++ {
							inked = inked || dark(x+dx, y+dy)
							if i := image.Pt(x+dx, y+dy); i.In(reached.Rect) {
								reached.Pix[reached.PixOffset(i.X, i.Y)] = 1
							}
						}
					}
					require.True(t, inked, "no ink at %v of %v", r.At(along), p)
				}
			}
			for y := range page.Rect.Dy() {
				for x := range page.Rect.Dx() {
					if dark(x, y) && reached.Pix[reached.PixOffset(x, y)] == 0 {
						require.Failf(t, "ink where nothing is designed", "pixel %d, %d", x, y)
					}
				}
			}
		})
	}
}
