package style

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/fit/draft"
)

func parse(t *testing.T, text string) *Style {
	s, err := Parse("skirt.yaml", []byte(text))
	require.NoError(t, err)
	return s
}

// straight is the end of a file with one panel.
const straight = "panels:\n  front: {straight: {width: 800, depth: 300}}\n"

func TestEveryExampleParses(t *testing.T) {
	for name, data := range examples(t) {
		s, err := Parse(name, data)
		require.NoError(t, err)
		requireNumbers(t, reflect.ValueOf(s), name)
	}
}

// requireNumbers checks that every number in a value is one.
func requireNumbers(t require.TestingT, v reflect.Value, at string) {
	switch v.Kind() {
	case reflect.Float64:
		require.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), at)
	case reflect.Pointer:
		if !v.IsNil() {
			requireNumbers(t, v.Elem(), at)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			requireNumbers(t, v.Field(i), at+"/"+v.Type().Field(i).Name)
		}
	case reflect.Slice:
		for i := range v.Len() {
			requireNumbers(t, v.Index(i), fmt.Sprintf("%s/%d", at, i))
		}
	}
}

func TestEveryKeyReachesItsValue(t *testing.T) {
	s, err := Parse("every-key.yaml", examples(t)["every-key.yaml"])
	require.NoError(t, err)
	rise := Length(70)
	side := Length(10)
	require.Equal(t, Motif{
		Shape: "wave", Width: 60, Depth: 24, Flat: 2, Tip: Tip{3, 8}, Valley: Valley{2},
		Lean: -5, Turn: true, Mark: Mark{"keyhole", 6, 10}, Grow: Grow{1.5, 1.5, 0.5},
		Sequence: []Member{
			{Shape: "point", Width: 0.5, Depth: 0.75, Mirrored: true, Flat: 1, Tip: Tip{Blunt: 2}, Valley: Valley{1}, Lean: 4, Turn: true, Mark: Mark{Kind: "eyelet", Size: 3}},
			{Shape: "own", Own: Own{Path: "M 0 0 C 5 20 15 20 20 0"}},
			{Shape: "own", Own: Own{Points: []Point{{0, 0}, {10, 8}, {20, 0}}}},
		},
		Lay: "bent", Rest: "middle", Least: 45, Most: 75, Count: 5, Hold: "count",
	}, s.Motif)
	require.Equal(t, Allowance{6, 15, 10, 6, "stepped"}, s.Allowance)
	require.Equal(t, Pattern{"skirt.dxf", "pieces", []string{"S", "M"}, "skirt.rul", 1}, s.Pattern)
	require.Equal(t, Facing{Depth: 50, Favour: Auto, FavourOn: "both", Truing: "correct", Side: &side, ClipGap: 1.5, MarkEvery: 150,
		Kind: "one piece", OpenAt: Side{"front", "finish"}, Section: 350, PiecesAt: "peaks", InnerEdge: "overlocked", Interfacing: 3, Lining: true}, s.Facing)
	require.Equal(t, Cloth{Weight: "light", Thickness: 0.4, Fray: 6, Width: 1400}, s.Cloth)
	require.Equal(t, Turning{
		Clips: "mark", Curves: true, Notches: "v", On: "staggered", Fullness: 1.2, Opening: 3, Trim: Trimming{5, 3}, Tips: true, Stitches: true,
	}, s.Turning)
	yes, no := true, false
	require.Equal(t, Output{
		Formats: []string{"png", "hpgl", "dxf", "svg", "pdf", "astm", "notes"}, Paper: []Paper{{Name: "letter"}, {Name: "sheet"}, {Name: "roll 36in", Roll: 914.4}}, Unfold: true, Template: true, Picture: 2000,
		Plotter: Plotter{
			Kind: "flatbed knife", Tool: "knife", Range: "wide", Origin: "centre", Width: 1200, Height: 800, Step: 0.025,
			Pens: map[string]int{"cut": 1, "notch": 2, "clip": 0}, Order: []int{2, 1}, Arcs: &yes, ChordError: 0.05,
			Lettering: "none", LineTypes: &no, Speed: 20, Force: 3, PageEnd: &yes, PCL: &no, LineLength: 60, Points: 4,
			Cutting: Cutting{Notches: "v", Overcut: 1, LeadIn: 5, Blade: 0.25, Swivel: 20, Together: true},
		},
		DXF:      DXF{Release: "r2000", Arcs: &no, ChordError: 0.02, Lettering: "strokes"},
		ASTM:     ASTM{Units: "english", CheckCurves: true},
		Measured: Measured{HPGL: Point{149.5, 150.5}, DXF: Point{150, 150.2}, SVG: Point{150, 149.8}, PDF: Point{148, 148}},
	}, s.Output)
	require.Equal(t, []string{"facing-on-valley", "hem-turn"}, s.Accept)
	require.Len(t, s.Sizes, 2)
	small, medium := s.Sizes[0], s.Sizes[1]
	require.Equal(t, "S", small.Name)
	require.Equal(t, Panel{
		Name: "front", Gore: &Gore{340, 800, 600, &rise}, Half: "seam", Quantity: 2, Count: 12,
		Corners:   Corners{"peak", 30},
		Runs:      []Run{{Bare: true}, {Count: 7, Motif: &Motif{Shape: "point", Width: 30, Depth: 24, Lay: "bent", Rest: "middle", Hold: "count"}}},
		Start:     End{Edge: "seam", Motif: "peak", Plain: 12, Notches: []Length{100, 200}},
		Finish:    End{Edge: "seam", Motif: "valley", Notches: []Length{150}},
		Allowance: PanelAllowance{Side: 12, Start: 20, Finish: 15, Top: 10},
	}, small.Panels[0])
	require.Equal(t, Length(360), medium.Panels[0].Gore.Waist)
	require.Equal(t, Circle{Waist: 680, Length: 600, Part: Part(300.0 / 360), Angle: 300, Panels: 2, Ease: 20}, *small.Panels[1].Circle)
	require.Equal(t, Part(0.5), medium.Panels[2].Circle.Part)
	require.Equal(t, Straight{800, 300}, *medium.Panels[3].Straight)
	require.Equal(t, Curve{[]Point{{0, 0}, {150, 12}, {300, 40}}, 600}, *medium.Panels[4].Curve)
	require.Equal(t, Piece{Name: "back", File: "skirt.dxf", Hem: []string{"lowest"}, Fold: "left", Includes: &Includes{Hem: 40, Side: 15, Start: 20, Finish: 10, Top: 15}, Check: 400}, *medium.Panels[5].Piece)
	require.Equal(t, "back-S", small.Panels[6].Piece.ID)
	require.Equal(t, "back", medium.Panels[6].Piece.ID)
	require.Equal(t, "back", medium.Panels[7].Piece.Label)
	require.Equal(t, "back", medium.Panels[8].Piece.Text)
	require.Equal(t, Piece{Order: 3, File: "other.svg", Hem: []string{"lowest"}}, *medium.Panels[9].Piece)
	require.Equal(t, []Seam{
		{Side{"front", "finish"}, Side{"circle", "start"}},
		{Side{"front", "start"}, Side{"front", "start"}},
	}, s.Seams)
}

func TestOnlyATurnedInnerEdgeHasAnAllowanceByItself(t *testing.T) {
	inner := func(text string) Length { return parse(t, "engrail: 1\n"+straight+text).Allowance.Inner }
	require.Equal(t, Length(6), inner(""))
	require.Zero(t, inner("facing: {inner edge: overlocked}\n"))
	require.Zero(t, inner("facing: {inner edge: bound}\n"))
	require.Equal(t, Length(4), inner("facing: {inner edge: overlocked}\nallowance: {inner: 4}\n"))
	_, err := Parse("skirt.yaml", []byte("engrail: 1\n"+straight+"facing: {inner edge: bound}\nallowance: {inner: 4}\n"))
	require.ErrorContains(t, err, "a bound inner edge has no allowance")
}

func TestHemThatIsSewnHasAnAllowance(t *testing.T) {
	for text, want := range map[string]string{
		"allowance: {hem: 0}\n": "without a hem allowance nothing can be sewn to the hem",
		"allowance: {hem: 0}\nfacing: {depth: none, lining: true}\n": "without a hem allowance nothing can be sewn to the hem",
	} {
		_, err := Parse("skirt.yaml", []byte("engrail: 1\n"+straight+text))
		require.ErrorContains(t, err, want)
	}
	require.Zero(t, parse(t, "engrail: 1\n"+straight+"allowance: {hem: 0}\nfacing: none\n").Allowance.Hem)
}

func TestSectionsAreForPiecedFacings(t *testing.T) {
	require.Equal(t, Length(400), parse(t, "engrail: 1\n"+straight+"facing: {kind: pieced}\n").Facing.Section)
	require.Zero(t, parse(t, "engrail: 1\n"+straight).Facing.Section)
	for _, key := range []string{"section: 300", "pieces at: peaks"} {
		_, err := Parse("skirt.yaml", []byte("engrail: 1\n"+straight+"facing: {"+key+"}\n"))
		require.ErrorContains(t, err, "the facings are not cut in sections")
	}
	_, err := Parse("skirt.yaml", []byte("engrail: 1\n"+straight+"facing: {open at: front finish}\n"))
	require.ErrorContains(t, err, "open at is for a facing in one piece")
	_, err = Parse("skirt.yaml", []byte("engrail: 1\n"+straight+"facing: {kind: one piece, open at: side finish}\n"))
	require.ErrorContains(t, err, "side")
}

func TestLeftOutKeysHaveDefaults(t *testing.T) {
	s := parse(t, "engrail: 1\n"+straight)
	want := defaults()
	require.Equal(t, "skirt", s.Name, "a style without a name has its file's")
	require.Equal(t, want.Motif, s.Motif)
	require.Equal(t, want.Facing, s.Facing)
	require.Equal(t, want.Output, s.Output)
	require.Len(t, s.Sizes, 1)
	require.Equal(t, "", s.Sizes[0].Name)
	require.Equal(t, []Panel{{
		Name: "front", Straight: &Straight{800, 300}, Quantity: 1,
		Start: End{Edge: "seam", Motif: "any"}, Finish: End{Edge: "seam", Motif: "any"}, Corners: Corners{Motif: "any"},
		Allowance: PanelAllowance{Side: 15, Start: 15, Finish: 15, Top: 15}, Unstated: Unstated{true, true, true},
	}}, s.Sizes[0].Panels)
	require.Equal(t, s.Sizes[0].Panels, s.Panels)
}

// Limits of the weights are common practice.
func TestClothIsAsHeavyAsItIsThick(t *testing.T) {
	for text, want := range map[string]Cloth{
		"{}":                              {Weight: "medium", Thickness: 1},
		"light":                           {Weight: "light", Thickness: 0.5},
		"{weight: heavy}":                 {Weight: "heavy", Thickness: 1.5},
		"{thickness: 0.3}":                {Weight: "light", Thickness: 0.3},
		"{thickness: 1}":                  {Weight: "medium", Thickness: 1},
		"{thickness: 2mm}":                {Weight: "heavy", Thickness: 2},
		"{weight: light, thickness: 0.7}": {Weight: "light", Thickness: 0.7},
	} {
		want.Width = 1400
		require.Equal(t, want, parse(t, "engrail: 1\n"+straight+"\ncloth: "+text+"\n").Cloth, text)
	}
}

func TestLengthsCountInTheUnitsOfTheFile(t *testing.T) {
	for unit, factor := range map[string]float64{"mm": 1, "cm": 10, "in": 25.4} {
		// The key counts wherever it stands.
		s := parse(t, "engrail: 1\nmotif: {width: 3, depth: 7mm, least: 2.9, most: 3 1/2}\n"+
			"panels: {front: {straight: {width: 10 in, depth: 30}}}\nunits: "+unit)
		require.InDelta(t, 3*factor, float64(s.Motif.Width), 1e-9)
		require.InDelta(t, 7, float64(s.Motif.Depth), 1e-9)
		require.InDelta(t, 3.5*factor, float64(s.Motif.Most), 1e-9)
		require.InDelta(t, 254, float64(s.Panels[0].Straight.Width), 1e-9)
		require.InDelta(t, 30*factor, float64(s.Panels[0].Straight.Depth), 1e-9)
	}
}

func TestAllowancesComeFromTheNearestPlaceThatStatesThem(t *testing.T) {
	s := parse(t, `
engrail: 1
allowance: {hem: 6, side: 12, top: 20}
pattern: skirt.svg
panels:
  plain: {straight: {width: 800, depth: 300}}
  own: {straight: {width: 800, depth: 300}, allowance: {side: 8, start: 25}}
  one: {straight: {width: 800, depth: 300}, allowance: 9}
  folded: {straight: {width: 800, depth: 300}, half: fold, allowance: {side: 8}}
  drawn: {piece: {includes: {hem: 40, side: 10, top: 5}}}
  drawn one: {piece: {includes: 7}, allowance: {finish: 30}}
  drawn two: {piece: {includes: {hem: 40, start: 9, finish: 8, top: 5}}}
  drawn own: {piece: {includes: {hem: 40, side: 9, start: 20, top: 5}}, allowance: {side: 11}}
  net: {piece: }
`)
	want := map[string]PanelAllowance{
		"plain":     {Side: 12, Start: 12, Finish: 12, Top: 20},
		"own":       {Side: 8, Start: 25, Finish: 8, Top: 20},
		"one":       {Side: 9, Start: 9, Finish: 9, Top: 9},
		"folded":    {Side: 8, Start: 0, Finish: 8, Top: 20},
		"drawn":     {Side: 12, Start: 12, Finish: 12, Top: 20},
		"drawn one": {Side: 12, Start: 12, Finish: 30, Top: 20},
		"drawn two": {Side: 12, Start: 12, Finish: 12, Top: 20},
		"drawn own": {Side: 11, Start: 11, Finish: 11, Top: 20},
		"net":       {Side: 12, Start: 12, Finish: 12, Top: 20},
	}
	for _, p := range s.Panels {
		require.Equal(t, want[p.Name], p.Allowance, p.Name)
	}
	s = parse(t, `engrail: 1
pattern: skirt.svg
allowance: {top: 20}
panels: {drawn: {piece: {includes: {hem: 40, start: 9, finish: 8, top: 5}}}}
`)
	require.Equal(t, PanelAllowance{Side: 9, Start: 9, Finish: 8, Top: 20}, s.Panels[0].Allowance)
	require.Equal(t, Allowance{9, 9, 9, 9, "mirrored"}, parse(t, "engrail: 1\nallowance: 9\n"+straight).Allowance)
}

func TestHalvesSayQuantityAndMiddleSeam(t *testing.T) {
	for half, want := range map[string]struct{ quantity, seams int }{
		"fold": {1, 0}, "seam": {2, 1}, "opening": {2, 0},
	} {
		s := parse(t, "engrail: 1\npanels: {front: {straight: {width: 800, depth: 300}, half: "+half+"}}\n")
		require.Equal(t, half, s.Panels[0].Start.Edge)
		require.Equal(t, want.quantity, s.Panels[0].Quantity)
		require.Len(t, s.Seams, want.seams)
	}
	// A middle seam that the file lists is not added again.
	s := parse(t, "engrail: 1\npanels: {front: {straight: {width: 800, depth: 300}, half: seam}}\nseams: [[front start, front start]]\n")
	require.Len(t, s.Seams, 1)
}

func TestAliasesStandForTheirValues(t *testing.T) {
	s := parse(t, `
engrail: 1
panels:
  front: {gore: &flare {waist: 360, hem: &sweep 800, length: 600}}
  back: {gore: *flare}
  strip: {straight: {width: *sweep, depth: 100}}
sizes:
  S: {front: {waist: 340}}
`)
	require.Equal(t, Length(340), s.Panels[0].Gore.Waist)
	require.Equal(t, Length(360), s.Panels[1].Gore.Waist, "a size of one panel leaves the other alone")
	require.Equal(t, Length(800), s.Panels[2].Straight.Width)
}

func TestCommandLineValuesReplaceThoseOfTheFile(t *testing.T) {
	s := parse(t, "engrail: 1\n"+straight)
	width, err := ParseLength("2 in", s.Units)
	require.NoError(t, err)
	s.Motif.Width = width
	require.Equal(t, Length(50.8), s.Motif.Width)
}

func TestMistakesAreToldWithPlaceAndRemedy(t *testing.T) {
	tests := []struct{ name, text, want, hint string }{
		{"unknown key", "engrail: 1\nmotif:\n  shape: scallop\n  widht: 60\n" + straight,
			`skirt.yaml:4:3: unknown key "widht"; did you mean "width"?`,
			"the keys here are shape, width, depth, flat, tip, valley, lean, turn, own, mark, sequence, grow, lay, rest, least, most, count and hold"},
		{"key in the wrong place", "engrail: 1\nshape: wave\n" + straight,
			`skirt.yaml:2:1: unknown key "shape"`,
			`"shape" is a key of motif; the keys here are engrail, style, units, motif, allowance, pattern, panels, seams, facing, cloth, turning, sizes, accept and output`},
		{"unknown key in braces", "engrail: 1\nmotif: {shape: scallop, tip: {rond: 3}}\n" + straight,
			`skirt.yaml:2:31: unknown key "rond"; did you mean "round"?`, "the keys here are round and blunt"},
		{"unknown word", "engrail: 1\nmotif: {shape: scalop}\n" + straight,
			`skirt.yaml:2:16: unknown word "scalop" for shape; did you mean "scallop"?`, "the words are scallop, point, wave, engrailed, bulb, elliptical, petal, ogee, bracket, tab, stepped, dovetailed, cloud and own"},
		{"word without a near one", "engrail: 1\nmotif: {shape: squiggle}\n" + straight,
			`skirt.yaml:2:16: unknown word "squiggle" for shape`, "the words are scallop, point, wave, engrailed, bulb, elliptical, petal, ogee, bracket, tab, stepped, dovetailed, cloud and own"},
		{"own shape not drawn", "engrail: 1\nmotif: {shape: own}\n" + straight,
			`skirt.yaml:2:16: the shape is own, and nothing is drawn with the key own`, `draw it from left to right, such as "own: {points: [[0, 0], [10, 8], [20, 0]]}"`},
		{"own shape not wanted", "engrail: 1\nmotif: {own: M 0 0 L 5 5 L 10 0}\n" + straight,
			`skirt.yaml:2:14: a shape of your own is drawn, but the shape is scallop`, `write "shape: own" to have it`},
		{"own shape drawn twice", "engrail: 1\nmotif: {shape: own, own: {path: M 0 0, points: [[0, 0], [1, 1]]}}\n" + straight,
			`skirt.yaml:2:26: your own shape has both a path and points`, "keep one of them"},
		{"mark without its size", "engrail: 1\nmotif: {mark: {kind: eyelet}}\n" + straight,
			`skirt.yaml:2:15: mark needs the key "size"`, `such as "mark: {kind: eyelet, size: 6mm}"`},
		{"mark of no kind", "engrail: 1\nmotif: {mark: {size: 6}}\n" + straight,
			`skirt.yaml:2:15: mark needs the key "kind"`, `such as "mark: {kind: eyelet, size: 6mm}"`},
		{"bad ratio", "engrail: 1\nmotif: {sequence: [{}, {width: 0}]}\n" + straight,
			`skirt.yaml:2:32: width: "0" is no ratio; write a number from 0 to 20 such as 0.5 or 2/3`, ""},
		{"bad place", "engrail: 1\nmotif: {grow: {width: 2, at: midle}}\n" + straight,
			`skirt.yaml:2:30: at: unknown place "midle"; did you mean "middle"?`, ""},
		{"place beyond the hem", "engrail: 1\nmotif: {grow: {width: 2, at: 1.5}}\n" + straight,
			`skirt.yaml:2:30: at: "1.5" is no place along a hem; write start, middle, finish, or a part of the way such as 2/3`, ""},
		{"laid otherwise on a run", "engrail: 1\npanels: {front: {straight: {width: 800, depth: 300}, runs: [{motif: {lay: bent}}]}}\n",
			`skirt.yaml:2:75: "lay" is one for the whole garment, or is said beside the run's motif`, "write it under the motif of the style"},
		{"edges of a drafted panel", "engrail: 1\npanels: {front: {straight: {width: 800, depth: 300}, allowance: {edges: {2: 5}}}}\n",
			`skirt.yaml:2:73: panel front: edges are those of a pattern's piece`, "give the widths with the keys side, start, finish and top"},
		{"key twice", "engrail: 1\nmotif:\n  width: 60\n  width: 70\n" + straight,
			`skirt.yaml:4:3: the key "width" is already on line 3`, ""},
		{"bad length", "engrail: 1\nmotif: {width: wide}\n" + straight,
			`skirt.yaml:2:16: width: "wide" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`, ""},
		{"bad unit", "engrail: 1\nmotif: {width: 57 mmm}\n" + straight,
			`skirt.yaml:2:16: width: unknown unit "mmm"; did you mean "mm"?`, ""},
		{"decimal comma", "engrail: 1\nmotif:\n  width: 5,5 cm\n" + straight,
			`skirt.yaml:3:10: width: "5,5 cm" is no length; write "5.5 cm"`, ""},
		{"not a number", "engrail: 1\nmotif: {width: .nan}\n" + straight,
			`skirt.yaml:2:16: width: ".nan" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`, ""},
		{"huge", "engrail: 1\nmotif: {width: 1000000}\n" + straight,
			`skirt.yaml:2:16: width: "1000000" is longer than 100 m`, ""},
		{"negative", "engrail: 1\nmotif: {flat: -2}\n" + straight,
			`skirt.yaml:2:15: flat cannot be below 0`, ""},
		{"nothing", "engrail: 1\nmotif: {width: 0}\n" + straight,
			`skirt.yaml:2:16: width must be above 0`, ""},
		{"no value", "engrail: 1\nmotif:\n  width:\n  depth: 20\n" + straight,
			`skirt.yaml:3:3: width has no value; write a length, or leave the key out`, ""},
		{"keys for a value", "engrail: 1\nmotif: {width: {mm: 60}}\n" + straight,
			`skirt.yaml:2:16: width is a single value; write a length`, ""},
		{"value for keys", "engrail: 1\nmotif: scallop\n" + straight,
			`skirt.yaml:2:8: motif needs keys under it`, "the keys are shape, width, depth, flat, tip, valley, lean, turn, own, mark, sequence, grow, lay, rest, least, most, count and hold"},
		{"fraction for a count", "engrail: 1\nmotif: {count: 2.5}\n" + straight,
			`skirt.yaml:2:16: count is "2.5"; write a whole number`, ""},
		{"count too small", "engrail: 1\nmotif: {count: 0}\n" + straight,
			`skirt.yaml:2:16: count is 0; it must be at least 1`, ""},
		{"count too large", "engrail: 1\nmotif: {count: 100000}\n" + straight,
			`skirt.yaml:2:16: count is 100000; it can be at most 10000`, ""},
		{"yes for true", "engrail: 1\noutput: {unfold: yes}\n" + straight,
			`skirt.yaml:2:18: unfold is "yes"; write true or false`, ""},
		{"least above most", "engrail: 1\nmotif: {least: 70, most: 50}\n" + straight,
			`skirt.yaml:2:16: the least width of 70 mm is above the most, 50 mm`, ""},
		{"wanted below least", "engrail: 1\nmotif: {width: 40, least: 5 cm}\n" + straight,
			`skirt.yaml:2:27: the least width of 50 mm is above the wanted width, 40 mm`, ""},
		{"wanted above most", "engrail: 1\nmotif: {width: 90, most: 5 cm}\n" + straight,
			`skirt.yaml:2:26: the most width of 50 mm is below the wanted width, 90 mm`, ""},
		{"no form", "style: Marrow Lane\n" + straight,
			`skirt.yaml:1:1: the key "engrail" is missing`, `begin the file with "engrail: 1"`},
		{"later form", "engrail: 2\nfrills: 3\n" + straight,
			`skirt.yaml:1:10: the file has form "2", but this program reads form 1`, "use a newer engrail, or write the file anew for form 1"},
		{"no panels", "engrail: 1\nstyle: Marrow Lane\n",
			`skirt.yaml:1:1: the key "panels" is missing`,
			`write the panels' names and shapes under it, such as "panels: {front: {straight: {width: 800, depth: 300}}}"`},
		{"panels empty", "engrail: 1\npanels:\n",
			`skirt.yaml:2:1: panels lists no panel`,
			`write the panels' names and shapes under it, such as "panels: {front: {straight: {width: 800, depth: 300}}}"`},
		{"panels listed", "engrail: 1\npanels:\n  - name: front\n",
			`skirt.yaml:3:3: panels needs the name of each panel as a key`,
			`write the panels' names and shapes under it, such as "panels: {front: {straight: {width: 800, depth: 300}}}"`},
		{"panel without shape", "engrail: 1\npanels:\n  front: {half: fold}\n",
			`skirt.yaml:3:3: panel front has no shape; give it one of piece, circle, gore, straight and curve`, ""},
		{"panel with two shapes", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}, gore: {waist: 3, hem: 4, length: 5}}\n",
			`skirt.yaml:3:21: panel front has both gore and straight; keep one`, ""},
		{"measure missing", "engrail: 1\npanels:\n  front:\n    gore: {waist: 360, length: 600}\n",
			`skirt.yaml:4:11: panel front: gore needs the key "hem"`, ""},
		{"part missing", "engrail: 1\npanels:\n  front:\n    circle: {waist: 360, length: 600}\n",
			`skirt.yaml:4:13: panel front: circle needs the key "part"`, ""},
		{"part and angle", "engrail: 1\npanels:\n  front:\n    circle: {waist: 360, length: 600, part: half, angle: 180}\n",
			`skirt.yaml:4:13: panel front: circle has both part and angle; keep one`, ""},
		{"unknown part", "engrail: 1\npanels:\n  front:\n    circle: {waist: 360, length: 600, part: hlaf}\n",
			`skirt.yaml:4:45: part: unknown part of a circle "hlaf"; did you mean "half"?`, ""},
		{"bad angle", "engrail: 1\npanels:\n  front:\n    circle: {waist: 360, length: 600, angle: wide}\n",
			`skirt.yaml:4:46: angle: "wide" is no angle; write a number of degrees such as 180`, ""},
		{"point of three", "engrail: 1\npanels:\n  front:\n    curve: {points: [[0, 0, 0], [300, 0]], height: 600}\n",
			`skirt.yaml:4:22: points: write two lengths for one, such as [120, 15]`, ""},
		{"calibration square of another size", "engrail: 1\noutput: {measured: {hpgl: [149.2, 15]}}\n" + straight,
			`skirt.yaml:2:27: a side of 15 mm is far from the 150 mm of the calibration square`, "measure the sides of the square in the file that engrail calibrate makes, first across and then up"},
		{"calibration square with one side", "engrail: 1\noutput: {measured: {pdf: 149.2}}\n" + straight,
			`skirt.yaml:2:26: pdf: write two lengths for one, such as [120, 15]`, ""},
		{"unknown kind of plotter", "engrail: 1\noutput: {plotter: {kind: rol plotter}}\n" + straight,
			`skirt.yaml:2:26: unknown word "rol plotter" for kind; did you mean "roll plotter"?`, "the words are pen plotter, roll plotter, flatbed knife and printer"},
		{"pen below 1 in the order", "engrail: 1\noutput: {plotter: {order: [2, 0]}}\n" + straight,
			`skirt.yaml:2:31: order is 0; it must be at least 1`, ""},
		{"height missing", "engrail: 1\npanels:\n  front:\n    curve: {points: [[0, 0], [300, 0]]}\n",
			`skirt.yaml:4:12: panel front: curve needs the key "height"`, ""},
		{"bad name", "engrail: 1\npanels:\n  front/left: {straight: {width: 8, depth: 3}}\n",
			`skirt.yaml:3:3: the panel's name "front/left" has '/' in it`, "names are letters, digits, spaces and -_.+,&()"},
		{"name with a dot before", "engrail: 1\npanels:\n  .front: {straight: {width: 8, depth: 3}}\n",
			`skirt.yaml:3:3: the panel's name ".front" begins with "."`, "names are letters, digits, spaces and -_.+,&()"},
		{"name of spaces", "engrail: 1\npanels:\n  ' ': {straight: {width: 8, depth: 3}}\n",
			`skirt.yaml:3:3: the panel's name " " is empty or has spaces around it`, "names are letters, digits, spaces and -_.+,&()"},
		{"long name", "engrail: 1\nsizes: {" + strings.Repeat("M", 61) + ": }\n" + straight,
			`skirt.yaml:2:9: the size's name "` + strings.Repeat("M", 61) + `" has more than 60 characters`, "names are letters, digits, spaces and -_.+,&()"},
		{"names alike", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}}\n  Front: {straight: {width: 8, depth: 3}}\n",
			`skirt.yaml:4:3: the panel's name "Front" differs from that on line 3 only in capitals`, ""},
		{"name twice", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}}\n  front: {straight: {width: 8, depth: 3}}\n",
			`skirt.yaml:4:3: the key "front" is already on line 3`, ""},
		{"half of a piece", "engrail: 1\npattern: a.svg\npanels:\n  front: {piece: , half: fold}\n",
			`skirt.yaml:4:26: panel front: half is for drafted panels`, "say with the piece's fold which edge lies on the fold"},
		{"notches of a piece", "engrail: 1\npattern: a.svg\npanels:\n  front: {piece: , finish: {notches: 30}}\n",
			`skirt.yaml:4:38: panel front: notches are for drafted panels`, "draw the notches in the pattern"},
		{"piece without pattern", "engrail: 1\npanels:\n  front: {piece: front}\n",
			`skirt.yaml:3:18: panel front is a piece of a pattern, but the file names no pattern`, `name the file with the key pattern, such as "pattern: skirt.svg"`},
		{"piece found twice", "engrail: 1\npattern: a.svg\npanels:\n  front: {piece: {id: a, order: 2}}\n",
			`skirt.yaml:4:18: panel front: the piece has both id and order; keep one`, ""},
		{"includes not all", "engrail: 1\npattern: a.svg\npanels:\n  front: {piece: {includes: {hem: 40, side: 10}}}\n",
			`skirt.yaml:4:29: panel front: includes needs the key "top"`, "write 0 where the outline is the stitching line"},
		{"edge of a half's start", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}, half: seam, start: {edge: opening}}\n",
			`skirt.yaml:3:69: panel front: half says already that the start is its middle, a seam`, "leave one of them out"},
		{"allowance at a fold", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}, half: fold, allowance: {start: 5}}\n",
			`skirt.yaml:3:74: panel front: the start is a fold, which has no allowance`, ""},
		{"notch on a fold", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}, half: fold, start: {notches: [1]}}\n",
			`skirt.yaml:3:72: panel front: the start is a fold, which has no notches`, ""},
		{"fold at an end", "engrail: 1\npanels:\n  front: {straight: {width: 8, depth: 3}, start: {edge: fold}}\n",
			`skirt.yaml:3:57: unknown word "fold" for edge`, "the words are seam and opening"},
		{"seam of one side", "engrail: 1\nseams: [[front start]]\n" + straight,
			`skirt.yaml:2:9: a seam joins two sides, such as [front finish, back finish]`, ""},
		{"seam of an unknown panel", "engrail: 1\nseams: [[fornt start, front finish]]\n" + straight,
			`skirt.yaml:2:10: no panel is called "fornt"; did you mean "front"?`, "the panels are front"},
		{"seam of a strange panel", "engrail: 1\nseams: [[godet start, front finish]]\n" + straight,
			`skirt.yaml:2:10: no panel is called "godet"`, "the panels are front"},
		{"seam of an unknown end", "engrail: 1\nseams: [[front strat, front finish]]\n" + straight,
			`skirt.yaml:2:10: unknown word "strat" for the end of front; did you mean "start"?`, "the words are start and finish"},
		{"seam of a panel", "engrail: 1\nseams: [[front, front finish]]\n" + straight,
			`skirt.yaml:2:10: "front" is no side of a panel`, `write its panel's name and start or finish, such as "front finish"`},
		{"side joined twice", "engrail: 1\nseams:\n  - [front start, front start]\n  - [front finish, front start]\n" + straight,
			`skirt.yaml:4:20: the start of front is already joined on line 3`, ""},
		{"seam at a fold", "engrail: 1\nseams: [[front start, front finish]]\npanels:\n  front: {straight: {width: 8, depth: 3}, half: fold}\n",
			`skirt.yaml:2:10: the start of front is a fold, which is not sewn to anything`, ""},
		{"seam at a piece's fold", "engrail: 1\nseams: [[front finish, front start]]\npattern: a.svg\npanels:\n  front: {piece: {fold: right}}\n",
			`skirt.yaml:2:10: the finish of front is a fold, which is not sewn to anything`, ""},
		{"seam at an opening", "engrail: 1\nseams: [[front start, front finish]]\npanels:\n  front: {straight: {width: 8, depth: 3}, finish: {edge: opening}}\n",
			`skirt.yaml:2:23: the finish of front is an opening, which is not sewn to anything`, ""},
		{"size of an unknown panel", "engrail: 1\nsizes:\n  S: {fornt: {width: 700}}\n" + straight,
			`skirt.yaml:3:7: no panel is called "fornt"; did you mean "front"?`, "the panels are front"},
		{"size with another shape's key", "engrail: 1\nsizes:\n  S: {front: {waist: 700}}\n" + straight,
			`skirt.yaml:3:15: unknown key "waist"`, `"waist" is a key of circle; the keys here are width and depth`},
		{"size without panels", "engrail: 1\nsizes:\n  S: 700\n" + straight,
			`skirt.yaml:3:6: size S needs the names of panels under it`,
			`write the measures that differ under each, such as "sizes: {S: {front: {width: 780}}, M: }"`},
		{"no sizes", "engrail: 1\nsizes:\n" + straight,
			`skirt.yaml:2:1: sizes lists no size`, "leave the key out for a single size"},
		{"sizes listed", "engrail: 1\nsizes: [S, M]\n" + straight,
			`skirt.yaml:2:8: sizes needs the name of each size as a key`,
			`write the measures that differ under each, such as "sizes: {S: {front: {width: 780}}, M: }"`},
		{"size twice in a file name", "engrail: 1\npattern: a-{size}-{size}.svg\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:10: the file's name has {size} in it twice`, "write it once"},
		{"files and sizes", "engrail: 1\npattern: {file: \"a-{size}.svg\", sizes: layers}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:40: the file's name says already that there is a file for each size`, "leave out one of them"},
		{"files and rules", "engrail: 1\npattern: {file: \"a-{size}.dxf\", rules: a.rul}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:40: grade rules are for a file in one size, but the file's name says that there is one for each`, "leave out one of them"},
		{"rules of a picture", "engrail: 1\npattern: {file: a.svg, rules: a.rul}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:31: grade rules are for pattern data in a DXF file, and the pattern is "a.svg"`, "name the DXF file that they belong to with the key file"},
		{"rules and layers", "engrail: 1\npattern: {file: a.dxf, rules: a.rul, sizes: layers}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:45: with grade rules it is the pieces that say their size`, "leave it out"},
		{"names of no sizes", "engrail: 1\npattern: {file: a.dxf, names: [S, M]}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:31: names are for a pattern with sizes`, `say how the file tells its sizes apart, such as "sizes: layers"`},
		{"names alike", "engrail: 1\npattern: {file: a.dxf, sizes: layers, names: [s, S]}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:50: two sizes are called "S"`, ""},
		{"name of a size", "engrail: 1\npattern: {file: a.dxf, sizes: layers, names: [s/m]}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:47: the size's name "s/m" has '/' in it`, "names are letters, digits, spaces and -_.+,&()"},
		{"unknown way to tell sizes", "engrail: 1\npattern: {file: a.dxf, sizes: layer}\npanels: {a: {piece: }}\n",
			`skirt.yaml:2:31: unknown word "layer" for sizes; did you mean "layers"?`, "the words are layers, classes, strokes and pieces"},
		{"list of sizes with more than names", "engrail: 1\npattern: a.svg\npanels: {a: {piece: }}\nsizes: [S, {M: }]\n",
			`skirt.yaml:4:12: a list of sizes has their names alone`, sizesHint},
		{"size's slip", "engrail: 1\nsizes:\n  S: {front: {width: -5}}\n" + straight,
			`skirt.yaml:3:22: width must be above 0`, ""},
		{"format twice", "engrail: 1\noutput: {formats: [png, png]}\n" + straight,
			`skirt.yaml:2:25: the format "png" is listed twice`, ""},
		{"paper twice", "engrail: 1\noutput: {paper: [a4, a4]}\n" + straight,
			`skirt.yaml:2:22: the paper "a4" is listed twice`, ""},
		{"unknown paper", "engrail: 1\noutput: {paper: [a5]}\n" + straight,
			`skirt.yaml:2:18: unknown word "a5" for paper; did you mean "a4"?`, `the words are a4, letter, a3, tabloid and sheet, and a roll is written with its width, such as "roll 914" or "roll 36in"`},
		{"misspelt roll", "engrail: 1\noutput: {paper: [a4, rol 914]}\n" + straight,
			`skirt.yaml:2:22: unknown word "rol" for paper; did you mean "roll"?`, `the words are a4, letter, a3, tabloid and sheet, and a roll is written with its width, such as "roll 914" or "roll 36in"`},
		{"roll without a width", "engrail: 1\noutput: {paper: roll}\n" + straight,
			`skirt.yaml:2:17: the roll has no width`, rollHint},
		{"roll's unit", "engrail: 1\noutput: {paper: [roll 36inc]}\n" + straight,
			`skirt.yaml:2:18: paper: unknown unit "inc"; did you mean "in"?`, rollHint},
		{"roll as wide as a hand", "engrail: 1\nunits: cm\noutput: {paper: [roll 61]}\n" + straight,
			`skirt.yaml:3:18: the roll is 61 mm wide; it can be 100 to 5080 mm`, rollHint},
		{"roll twice", "engrail: 1\noutput: {paper: [roll 914.4, roll 36 in]}\n" + straight,
			`skirt.yaml:2:30: the paper "roll 36 in" is listed twice`, ""},
		{"unknown format", "engrail: 1\noutput: {formats: [pgn]}\n" + straight,
			`skirt.yaml:2:20: unknown word "pgn" for formats; did you mean "png"?`, "the words are png, hpgl, dxf, svg, pdf, astm and notes"},
		{"formats as keys", "engrail: 1\noutput: {formats: {png: true}}\n" + straight,
			`skirt.yaml:2:19: formats is a list; write its values in brackets or each on a line after a hyphen`, ""},
		{"too many formats", "engrail: 1\noutput: {formats: [png, hpgl, dxf, svg, pdf, astm, notes, png]}\n" + straight,
			`skirt.yaml:2:19: formats has 8 values; it can have at most 7`, ""},
		{"unknown pen", "engrail: 1\noutput: {plotter: {pens: {cuts: 1}}}\n" + straight,
			`skirt.yaml:2:27: unknown word "cuts" for pens; did you mean "cut"?`, "the words are cut, stitch, fold, grain, notch, clip, mark, internal, inner and text"},
		{"pens without keys", "engrail: 1\noutput: {plotter: {pens: 3}}\n" + straight,
			`skirt.yaml:2:26: pens needs keys under it`, "the keys are cut, stitch, fold, grain, notch, clip, mark, internal, inner and text"},
		{"empty style", "engrail: 1\nstyle: ''\n" + straight,
			`skirt.yaml:2:8: style is empty`, ""},
		{"long style", "engrail: 1\nstyle: " + strings.Repeat("x", 201) + "\n" + straight,
			`skirt.yaml:2:8: style has more than 200 characters`, ""},
		{"style with a bell", "engrail: 1\nstyle: \"a\\ab\"\n" + straight,
			`skirt.yaml:2:8: style has a character in it that cannot be printed`, ""},
		{"alias without anchor", "engrail: 1\nmotif: {width: *w}\n" + straight,
			`skirt.yaml:2:16: the alias *w has no anchor &w`, ""},
		{"merged keys", "engrail: 1\nmotif:\n  <<: {width: 3}\n" + straight,
			`skirt.yaml:3:3: keys cannot be merged here`, "repeat the keys, or refer to a single value with an alias"},
		{"tag", "engrail: 1\nmotif: {width: !!int 3}\n" + straight,
			`skirt.yaml:2:16: the mark !!int means nothing here`, "leave it out"},
		{"empty file", "", `skirt.yaml:1:1: the file is empty`, `begin the file with "engrail: 1"`},
		{"notes only", "# nothing yet\n", `skirt.yaml:1:1: the file is empty`, `begin the file with "engrail: 1"`},
		{"prose", "Dear tailor\n", `skirt.yaml:1:1: this is not a style file`, `begin the file with "engrail: 1"`},
		{"picture", "\x89PNG\r\n\x1a\n\x00\x00", `skirt.yaml:1:1: this is not a text file in UTF-8`, "save it as UTF-8 in the editor, or check that it is the right file"},
		{"another encoding", "engrail: 1\nstyle: Jupe d'\xe9t\xe9\n" + straight, `skirt.yaml:2:15: this is not a text file in UTF-8`,
			"save it as UTF-8 in the editor, or check that it is the right file"},
		{"zero byte", "engrail: 1\nstyle: \x00\n" + straight, `skirt.yaml:2:8: this is not a text file in UTF-8`,
			"save it as UTF-8 in the editor, or check that it is the right file"},
		{"no space after a colon", "engrail: 1\nmotif:\n  width: 6\n  depth:3\n" + straight, `skirt.yaml:4:3: this is not YAML: a key and its value are missing`,
			`write a colon and a space between a key and its value, such as "width: 60"`},
		{"no colon", "engrail: 1\nmotif:\n  width 6\n  depth: 3\n" + straight, `skirt.yaml:3:3: this is not YAML: a key and its value are missing`,
			`write a colon and a space between a key and its value, such as "width: 60"`},
		{"indented more", "engrail: 1\nmotif:\n  width: 6\n   depth: 3\n" + straight, `skirt.yaml:3:10: this is not YAML: a second key begins where a value stands`,
			"give every key a line of its own, with as many spaces before it as its neighbours have; put a text with a colon in quotes"},
		{"indented less", "engrail: 1\nmotif:\n  width: 6\n depth: 3\n" + straight, `skirt.yaml:4:2: this is not YAML: the line does not go on from those before it`,
			"begin it with as many spaces as its neighbours have, and write nothing behind a closing bracket or quote"},
		{"open quote", "engrail: 1\nmotif: {width: 2\", depth: \"1\"\"}\n" + straight, `skirt.yaml:2:30: this is not YAML: the quote is not closed`,
			"put one at the end of the text; inches can be written 2 in"},
		{"open list", "engrail: 1\nseams: [[a, b]\n", `skirt.yaml:2:8: this is not YAML: the bracket is not closed`, "put a ] at the end of the list"},
		{"open braces", "engrail: 1\nmotif: {width: 3\n", `skirt.yaml:2:8: this is not YAML: the bracket is not closed`, "put a } after the last value"},
		{"reserved sign", "engrail: 1\nstyle: @home\n" + straight, `skirt.yaml:2:8: this is not YAML: '@' is a reserved character`, "put the text in quotes"},
		{"decimal comma in braces", "engrail: 1\nmotif: {width: 60,5}\n" + straight, `skirt.yaml:2:19: unknown key "5"`,
			"write a decimal point, such as 60.5, in place of a decimal comma"},
		{"favour that is a word", "engrail: 1\nfacing: {favour: auot}\n" + straight,
			`skirt.yaml:2:18: favour: "auot" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`, "write favour: auto to have it found"},
		{"favour below 0", "engrail: 1\nfacing: {favour: -1}\n" + straight, `skirt.yaml:2:18: favour cannot be below 0`, ""},
		{"cloth as thick as a mattress", "engrail: 1\ncloth: {thickness: 30cm}\n" + straight,
			`skirt.yaml:2:20: the cloth is 300 mm thick, and 20 mm is the most`, "give the thickness of one layer, such as 0.4mm"},
		{"no for none", "engrail: 1\nfacing: no\n" + straight,
			`skirt.yaml:2:9: facing: "no" is no length; write a number, or one with a unit such as 57mm, 5.5 cm or 2 1/4 in`, "write facing: none to go without"},
		{"limits in inches", "engrail: 1\nunits: in\nmotif: {width: 2 1/4, least: 3}\n" + straight,
			`skirt.yaml:3:30: the least width of 3 in is above the wanted width, 2.25 in`, ""},
		{"drawing", "\n<?xml version=\"1.0\"?>\n<svg/>\n", `skirt.yaml:1:1: this is a drawing or a web page, not a style file`,
			"write a style file that names the drawing as its pattern"},
		{"two documents", "engrail: 1\n" + straight + "---\nengrail: 1\n", `skirt.yaml:5:1: a style file is one document, and here a second one begins`, `take out the line "---"`},
		{"open bracket", "engrail: 1\noutput: {formats: [png, hpgl}\n", `skirt.yaml:2:29: this is not YAML: ',' or ']' must be specified`,
			"look for a missing colon, bracket or quote there or on the line before, and indent with the same number of spaces"},
		{"tab", "engrail: 1\nmotif:\n\twidth: 3\n", `skirt.yaml:3:1: this is not YAML: a tab stands where only spaces can`,
			"indent with spaces"},
		{"brackets without end", "a: " + strings.Repeat("[", 40), `skirt.yaml:1:36: this is not YAML: brackets are too deep in one another`,
			"look for a missing colon, bracket or quote there or on the line before, and indent with the same number of spaces"},
		{"long file", "engrail: 1\n#" + strings.Repeat("x", 1<<18), `skirt.yaml:1:1: the file has 262156 bytes; a style file has at most 131072`, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := Parse("skirt.yaml", []byte(tt.text))
			require.Nil(t, s)
			require.EqualError(t, err, tt.want)
			var all Errors
			require.ErrorAs(t, err, &all)
			require.Equal(t, tt.hint, all.Remedy())
			var one *Error
			require.ErrorAs(t, err, &one)
		})
	}
}

func TestSeveralMistakesAreToldInOrderOfLines(t *testing.T) {
	_, err := Parse("skirt.yaml", []byte("output: {formts: [png]}\nengrail: 1\nmotif: {widht: 3, shape: scalop}\n"+straight+"units: feet\n"))
	require.EqualError(t, err, `skirt.yaml:1:10: unknown key "formts"; did you mean "formats"?
skirt.yaml:3:9: unknown key "widht"; did you mean "width"?
skirt.yaml:3:26: unknown word "scalop" for shape; did you mean "scallop"?
skirt.yaml:6:8: unknown word "feet" for units`)

	_, err = Parse("skirt.yaml", []byte("engrail: 1\nmotif: {a1: 1, a2: 1, a3: 1, a4: 1, a5: 1, a6: 1, a7: 1}\n"+straight))
	require.ErrorContains(t, err, "\nand 2 more")
	require.Equal(t, 5, strings.Count(err.Error(), "unknown key"))
}

func TestMistakeOfASizeIsToldOnce(t *testing.T) {
	_, err := Parse("skirt.yaml", []byte("engrail: 1\npanels:\n  front: {gore: {waist: 30, length: 60}}\nsizes: {S: {}, M: {front: {hem: 40}}, L: {}}\n"))
	require.EqualError(t, err, `skirt.yaml:3:17: panel front: gore needs the key "hem"`)
	// Measures can come from the sizes alone.
	parse(t, "engrail: 1\npanels:\n  front: {gore: {waist: 30, length: 60}}\nsizes: {S: {front: {hem: 38}}, M: {front: {hem: 40}}}\n")
}

func TestByteOrderMarkAndCarriageReturnsAreRead(t *testing.T) {
	s := parse(t, "\uFEFFengrail: 1\r\n"+strings.ReplaceAll(straight, "\n", "\r\n"))
	require.Equal(t, Length(800), s.Panels[0].Straight.Width)
}

func TestStarterDraftsInEverySize(t *testing.T) {
	s, err := Parse("starter.yaml", Starter())
	require.NoError(t, err)
	require.Len(t, s.Sizes, 3)
	for _, size := range s.Sizes {
		for _, p := range size.Panels {
			g := draft.Gore{Waist: float64(p.Gore.Waist), Hem: float64(p.Gore.Hem), Length: float64(p.Gore.Length)}
			panel, err := g.Panel(draft.Form{Name: p.Name, Half: true, Finish: draft.Side{Allowance: float64(p.Allowance.Finish), Notches: []float64{200, 350}}})
			require.NoError(t, err)
			require.InDelta(t, float64(p.Gore.Hem)/2, panel.Edges[0].Path.Length(), 1e-9)
			require.Equal(t, fit.HemEdge, panel.Edges[0].Role)
		}
	}
}

func FuzzParse(f *testing.F) {
	// Without its notes: the fuzzer spends its time on shortening long seeds.
	f.Add(regexp.MustCompile(` *#.*\n`).ReplaceAll(Starter(), []byte("\n")))
	for _, text := range []string{
		"engrail: 1\n" + straight, "", "a: [", "engrail: 1\nmotif: {width: *w}", "&a *a", "- - -", "? a\n: b", "\t", "!!map {a: b}",
		"engrail: 1\npanels: &p {front: {piece: *p}}", "engrail: |\n  1", "<<: *a", "{[a]: b}", "a: {b, c}", "\uFEFF",
		"engrail: 1\npattern: a.svg\npanels: {a: {piece: {includes: 3}}}\nsizes: {S: {a: x}}\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := Parse("skirt.yaml", data)
		if err == nil {
			requireNumbers(t, reflect.ValueOf(s), "style")
			require.NotEmpty(t, s.Sizes)
			require.NotEmpty(t, s.Panels)
			return
		}
		require.Nil(t, s)
		var all Errors
		require.ErrorAs(t, err, &all)
		require.NotEmpty(t, all)
		lines := strings.Count(string(data), "\n") + strings.Count(string(data), "\r") + 1
		for _, e := range all {
			require.NotEmpty(t, e.Message)
			require.GreaterOrEqual(t, e.Column, 1)
			require.GreaterOrEqual(t, e.Line, 1)
			require.LessOrEqual(t, e.Line, lines+1)
		}
		_, again := Parse("skirt.yaml", data)
		require.EqualError(t, again, err.Error())
	})
}

func BenchmarkParse(b *testing.B) {
	text := string(Starter())
	for _, bench := range []struct{ name, text string }{
		{"starter", text}, {"mistake", strings.Replace(text, "width:", "widht:", 1)},
	} {
		b.Run(bench.name, func(b *testing.B) {
			for b.Loop() {
				_, _ = Parse("skirt.yaml", []byte(bench.text))
			}
		})
	}
}

func ExampleParse() {
	_, err := Parse("skirt.yaml", []byte(`engrail: 1
motif: {shape: scallop, widht: 2 1/4 in}
panels: {front: {straight: {width: 80 cm, depth: 30 cm}}}
`))
	fmt.Println(err)
	// Output: skirt.yaml:2:25: unknown key "widht"; did you mean "width"?
}

// A plot and a DXF file begin like YAML; the name tells them apart.
func TestDrawingIsNoStyleFileWhateverIsInIt(t *testing.T) {
	for _, name := range []string{"skirt.dxf", "SKIRT.DXF", "skirt.svg", "skirt.hpgl", "skirt.plt", "skirt.png", "skirt.pdf"} {
		_, err := Parse(name, []byte("0\nSECTION\n"))
		require.EqualError(t, err, name+":1:1: this is a drawing or a web page, not a style file")
	}
}

func TestPatternsSizesCanBeAList(t *testing.T) {
	s := parse(t, "engrail: 1\npattern: {file: skirt.svg, sizes: layers}\npanels: {a: {piece: }}\nsizes: [36, M, \"40\"]\n")
	require.Len(t, s.Sizes, 3)
	for i, name := range []string{"36", "M", "40"} {
		require.Equal(t, name, s.Sizes[i].Name)
		require.Equal(t, s.Panels, s.Sizes[i].Panels)
	}
}

func TestStyleTakesTheSizesOfItsPattern(t *testing.T) {
	s := parse(t, "engrail: 1\npattern: {file: skirt.svg, sizes: layers}\npanels: {a: {piece: {includes: 3}}}\n")
	sized := s.WithSizes([]string{"36", "38"})
	require.Equal(t, []string{"36", "38"}, []string{sized.Sizes[0].Name, sized.Sizes[1].Name})
	for _, size := range sized.Sizes {
		require.Equal(t, s.Panels, size.Panels)
	}
	sized.Sizes[0].Panels[0].Piece.ID = "other"
	require.Empty(t, s.Panels[0].Piece.ID, "the style stays as it is")
	require.Len(t, s.Sizes, 1)
}

func TestAllowancesThatNothingStatesAreKnown(t *testing.T) {
	for text, want := range map[string]Unstated{
		"":                             {true, true, true},
		"allowance:":                   {true, true, true},
		"allowance: {}":                {true, true, true},
		"allowance: 12":                {},
		"allowance: {hem: 5}":          {true, true, true},
		"allowance: {side: 15}":        {false, false, true},
		"allowance: {top: 10, hem: 5}": {true, true, false},
	} {
		s, err := Parse("a.yaml", []byte("engrail: 1\npattern: a.svg\n"+text+"\npanels: {a: {piece: {}}, b: {piece: {}, allowance: {start: 8}}, c: {piece: {}, allowance: 9}}\n"))
		require.NoError(t, err)
		require.Equal(t, want, s.Panels[0].Unstated, text)
		want.Start = false
		require.Equal(t, want, s.Panels[1].Unstated, text)
		require.Equal(t, Unstated{}, s.Panels[2].Unstated, text)
	}
}
