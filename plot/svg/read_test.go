package svg

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/plottest"
)

// page100 wraps the body in a page of 100 mm by 100 mm whose unit is 1 mm.
func page100(body string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"` +
		` xmlns:prog="http://example.org/drawing-program"` +
		` width="100mm" height="100mm" viewBox="0 0 100 100">` + body + `</svg>`
}

func read(t testing.TB, file string) plot.Drawing {
	t.Helper()
	d, err := Read(strings.NewReader(file), Options{})
	require.NoError(t, err)
	return d
}

// only returns the one line of a page100 with the body.
func only(t testing.TB, body string) plot.Line {
	t.Helper()
	all := plottest.Lines(read(t, page100(body)))
	require.Len(t, all, 1)
	return all[0]
}

func requireBox(t testing.TB, b path.Box, minX, minY, maxX, maxY float64) {
	t.Helper()
	require.InDelta(t, minX, b.Min.X, 1e-6, "left")
	require.InDelta(t, minY, b.Min.Y, 1e-6, "bottom")
	require.InDelta(t, maxX, b.Max.X, 1e-6, "right")
	require.InDelta(t, maxY, b.Max.Y, 1e-6, "top")
}

func TestYIsUpFromTheLowerLeftCornerOfThePage(t *testing.T) {
	l := only(t, `<path d="M0 0 L10 20"/>`)
	require.Equal(t, []path.Vertex{{Point: path.Point{X: 0, Y: 100}}, {Point: path.Point{X: 10, Y: 80}}}, l.Path.V)
	require.False(t, l.Path.Closed)
}

func TestClockwiseOnThePageHasNegativeArea(t *testing.T) {
	require.InDelta(t, -200, only(t, `<path d="M0 0 H20 V10 H0 Z"/>`).Path.Area(), 1e-9)
}

// The sizes are CSS's: css-values-3, "Absolute lengths".
func TestEveryUnitGivesItsTrueSize(t *testing.T) {
	for unit, mm := range map[string]float64{
		"": 25.4 / 96, "px": 25.4 / 96, "mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6,
		"Q": 0.25, "em": 16 * 25.4 / 96, "ex": 8 * 25.4 / 96,
	} {
		t.Run("shape in "+unit, func(t *testing.T) {
			d := read(t, fmt.Sprintf(`<svg><line x1="0" y1="0" x2="7%s" y2="0"/></svg>`, unit))
			require.InDelta(t, 7*mm, plottest.Lines(d)[0].Path.Length(), 1e-9)
		})
		t.Run("page in "+unit, func(t *testing.T) {
			d := read(t, fmt.Sprintf(`<svg width="70%s" height="70%s" viewBox="0 0 10 10"><line x2="1"/></svg>`, unit, unit))
			require.InDelta(t, 7*mm, plottest.Lines(d)[0].Path.Length(), 1e-9)
		})
	}
}

func TestPageSize(t *testing.T) {
	const square = `<rect width="10" height="10"/></svg>`
	const px = 25.4 / 96
	for _, c := range []struct {
		name, root                 string
		left, bottom, right, upper float64
	}{
		{"without any size is in px below the origin", `<svg>`, 0, -10 * px, 10 * px, 0},
		{"in percent is in px", `<svg width="100%" height="100%" viewBox="0 0 20 30">`, 0, 20 * px, 10 * px, 30 * px},
		{"with a viewBox only is in px", `<svg viewBox="0 0 20 30">`, 0, 20 * px, 10 * px, 30 * px},
		{"with a width keeps the viewBox's shape", `<svg width="20mm" viewBox="0 0 20 30">`, 0, 20, 10, 30},
		{"with a height keeps the viewBox's shape", `<svg height="60mm" viewBox="0 0 20 30">`, 0, 40, 20, 60},
		{"with a shifted viewBox", `<svg width="20mm" height="30mm" viewBox="-5 -5 20 30">`, 5, 15, 15, 25},
		{"that is wider centres the drawing", `<svg width="60mm" height="20mm" viewBox="0 0 20 20">`, 20, 10, 30, 20},
		{"that is wider, to the left", `<svg width="60mm" height="20mm" viewBox="0 0 20 20" preserveAspectRatio="xMinYMid">`, 0, 10, 10, 20},
		{"that is wider, to the right", `<svg width="60mm" height="20mm" viewBox="0 0 20 20" preserveAspectRatio="xMaxYMid meet">`, 40, 10, 50, 20},
		{"that is higher, to the top", `<svg width="20mm" height="60mm" viewBox="0 0 20 20" preserveAspectRatio="xMidYMin">`, 0, 50, 10, 60},
		{"that is higher, to the bottom", `<svg width="20mm" height="60mm" viewBox="0 0 20 20" preserveAspectRatio="xMidYMax">`, 0, 10, 10, 20},
		{"filled by a slice", `<svg width="60mm" height="20mm" viewBox="0 0 20 20" preserveAspectRatio="xMidYMin slice">`, 0, -10, 30, 20},
		{"stretched", `<svg width="60mm" height="20mm" viewBox="0 0 20 20" preserveAspectRatio="none">`, 0, 10, 30, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			requireBox(t, read(t, c.root+square).Bounds(), c.left, c.bottom, c.right, c.upper)
		})
	}
}

func TestStatedUnitOverridesThePage(t *testing.T) {
	for _, root := range []string{
		`<svg width="60px" height="20px" viewBox="0 0 20 20">`, `<svg viewBox="0 0 20 20">`, `<svg width="20" height="20">`,
	} {
		d, err := Read(strings.NewReader(root+`<rect width="10" height="10"/></svg>`), Options{UnitMM: 2})
		require.NoError(t, err)
		requireBox(t, d.Bounds(), 0, 20, 20, 40)
	}
}

func TestTransforms(t *testing.T) {
	for _, c := range []struct{ transform, from, to string }{
		// Worked by hand from the matrices of SVG 1.1, chapter 7.6.
		{"translate(3)", "1 1", "4 1"},
		{"translate(3,4)", "1 1", "4 5"},
		{"scale(2)", "1 3", "2 6"},
		{"scale(2 -3)", "1 3", "2 -9"},
		{"rotate(90)", "2 1", "-1 2"},
		{"rotate(90, 10, 10)", "12 10", "10 12"},
		{"skewX(45)", "2 3", "5 3"},
		{"skewY(45)", "2 3", "2 5"},
		{"matrix(1 2 3 4 5 6)", "1 1", "9 12"},
		{"translate(10 0) scale(2)", "1 1", "12 2"},
		{"scale(2),translate(10 0)", "1 1", "22 2"},
		{" translate( 1e1 , .5 )\nrotate(-90) ", "0 2", "12 .5"},
		{"translate(10px, 0px) rotate(90deg)", "2 1", "9 2"},
		{"none", "2 1", "2 1"},
	} {
		t.Run(c.transform, func(t *testing.T) {
			got := only(t, `<path transform="`+c.transform+`" d="M0 0L`+c.from+`"/>`).Path
			want := only(t, `<path d="M0 0L`+c.to+`"/>`).Path
			require.InDelta(t, 0, got.End().Dist(want.End()), 1e-9)
		})
	}
}

func TestTransformsNestFromTheInside(t *testing.T) {
	l := only(t, `<g transform="translate(10 20)"><g transform="rotate(90)" style="transform:scale(2)"><path transform="translate(1 0)" d="M0 0 h5"/></g></g>`)
	// The style's transform takes the place of the attribute's.
	require.InDelta(t, 0, l.Path.Start().Dist(path.Point{X: 12, Y: 80}), 1e-9)
	require.InDelta(t, 0, l.Path.End().Dist(path.Point{X: 22, Y: 80}), 1e-9)
}

func TestShapes(t *testing.T) {
	const r, s = 3.0, 2.0
	for _, c := range []struct {
		shape          string
		length, area   float64
		x0, y0, x1, y1 float64 // on the page, y down
	}{
		{`<rect x="1" y="2" width="20" height="10"/>`, 60, 200, 1, 2, 21, 12},
		{`<rect x="1" y="2" width="20" height="10" rx="3"/>`, 60 - 8*r + 2*math.Pi*r, 200 - (4-math.Pi)*r*r, 1, 2, 21, 12},
		{`<circle cx="50" cy="40" r="3"/>`, 2 * math.Pi * r, math.Pi * r * r, 47, 37, 53, 43},
		{`<polygon points="0,0 30,0 30,40"/>`, 120, 600, 0, 0, 30, 40},
		{`<polygon points="0 0-30-0 -30 -40"/>`, 120, 600, -30, -40, 0, 0},
		{`<path d="M0 0H30V40z"/>`, 120, 600, 0, 0, 30, 40},
	} {
		t.Run(c.shape, func(t *testing.T) {
			p := only(t, c.shape).Path
			require.True(t, p.Closed)
			require.InDelta(t, c.length, p.Length(), 1e-6)
			require.InDelta(t, c.area, -p.Area(), 1e-6)
			requireBox(t, p.Bounds(), c.x0, 100-c.y1, c.x1, 100-c.y0)
		})
	}
	t.Run("ellipse", func(t *testing.T) {
		p := only(t, `<ellipse cx="50" cy="40" rx="30" ry="20"/>`).Path
		require.InDelta(t, math.Pi*600, -p.Area(), 2*path.FitTolerance*p.Length())
		// Ramanujan's second approximation (1914), here good to 1e-6.
		h := math.Pow((30.0-20)/(30+20), 2)
		require.InDelta(t, math.Pi*50*(1+3*h/(10+math.Sqrt(4-3*h))), p.Length(), 0.01)
	})
	t.Run("rect with two radii", func(t *testing.T) {
		p := only(t, `<rect x="1" y="2" width="20" height="10" rx="3" ry="2"/>`).Path
		require.InDelta(t, 200-(4-math.Pi)*r*s, -p.Area(), 2*path.FitTolerance*p.Length())
	})
	t.Run("rect with radii beyond its size is an ellipse", func(t *testing.T) {
		p := only(t, `<rect x="1" y="2" width="20" height="10" ry="50"/>`).Path
		require.InDelta(t, 50*math.Pi, -p.Area(), 2*path.FitTolerance*p.Length())
	})
	t.Run("polyline stays open", func(t *testing.T) {
		p := only(t, `<polyline points="0,0 3,4 3,10"/>`).Path
		require.False(t, p.Closed)
		require.InDelta(t, 11, p.Length(), 1e-9)
	})
	t.Run("line", func(t *testing.T) {
		require.InDelta(t, 5, only(t, `<line x1="10%" y1="10" x2="13" y2="14"/>`).Path.Length(), 1e-9)
	})
	t.Run("percent of the diagonal", func(t *testing.T) {
		require.InDelta(t, 20*math.Pi, only(t, `<circle r="10%"/>`).Path.Length(), 1e-9)
	})
}

func TestShapeWithoutSizeIsNotDrawn(t *testing.T) {
	require.Empty(t, read(t, page100(`<rect width="0" height="5"/><circle r="0"/><ellipse rx="3" ry="0"/><path d=""/><path d="none"/>
		<path d="M 3 3"/><path d="M3 3z"/><line x1="2" x2="2"/><polygon points="1,1"/><polyline/><path d="M1 1 1 1 1 1z"/>`)).Groups)
}

func TestGroupsKeepNamesAndOrder(t *testing.T) {
	d := read(t, page100(`<title> Marrow
		Lane </title><g id="empty"><g/></g>
		<g id="g1" prog:label="Skirt front"><title>not this</title><path id="p1" d="M0 0h1"/><g id="g2"><title>Marks</title><path d="M0 0h1"/></g></g>
		<path id="loose" prog:label="loose line" d="M0 0h1"/>
		<a id="g3"><path d="M0 0h1"/></a>`))
	require.Equal(t, "Marrow Lane", d.Title)
	require.Len(t, d.Groups, 3)
	require.Equal(t, "loose", d.Groups[0].Lines[0].ID)
	require.Equal(t, "loose line", d.Groups[0].Lines[0].Label)
	require.Equal(t, "g1", d.Groups[1].ID)
	require.Equal(t, "Skirt front", d.Groups[1].Label)
	require.Equal(t, "p1", d.Groups[1].Lines[0].ID)
	require.Equal(t, "g2", d.Groups[1].Groups[0].ID)
	require.Equal(t, "Marks", d.Groups[1].Groups[0].Label)
	require.Equal(t, "g3", d.Groups[2].ID)
}

func TestPartsOfOnePathBecomeAGroup(t *testing.T) {
	d := read(t, page100(`<path id="notches" prog:label="notch" d="M0 0v5M10 0v5 m10 0h1"/>`))
	require.Len(t, d.Groups, 1)
	g := d.Groups[0]
	require.Equal(t, "notches", g.ID)
	require.Equal(t, "notch", g.Label)
	require.Len(t, g.Lines, 3)
	for _, l := range g.Lines {
		require.Empty(t, l.ID)
		require.Equal(t, "notch", l.Label)
	}
}

func TestClassesComeDownFromGroups(t *testing.T) {
	l := only(t, `<g class="front cut"><g><path class="cut edge" d="M0 0h1" stroke-dasharray="4 2"/></g></g>`)
	require.Equal(t, "front cut edge dashed", l.Class)
}

func TestDashes(t *testing.T) {
	for file, dashed := range map[string]bool{
		`<path d="M0 0h1"/>`:                                                                              false,
		`<path d="M0 0h1" stroke-dasharray="none"/>`:                                                      false,
		`<path d="M0 0h1" stroke-dasharray="0"/>`:                                                         false,
		`<path d="M0 0h1" stroke-dasharray="3"/>`:                                                         true,
		`<path d="M0 0h1" style="fill:none;stroke-dasharray:0.5,2"/>`:                                     true,
		`<g stroke-dasharray="3"><path d="M0 0h1"/></g>`:                                                  true,
		`<g stroke-dasharray="3"><path d="M0 0h1" style="stroke-dasharray:none"/></g>`:                    false,
		`<style>.d{stroke-dasharray:3}</style><path class="d" d="M0 0h1"/>`:                               true,
		`<style>.d{stroke-dasharray:3}</style><path class="d" style="stroke-dasharray:none" d="M0 0h1"/>`: false,
	} {
		require.Equal(t, dashed, strings.Contains(only(t, file).Class, "dashed"), file)
	}
}

func TestWhatIsNotDisplayedIsLeftOut(t *testing.T) {
	for _, body := range []string{
		`<g display="none"><path d="M0 0h1"/></g>`,
		`<g style="display: none !important"><path d="M0 0h1"/></g>`,
		`<path d="M0 0h1" visibility="hidden"/>`,
		`<g visibility="hidden"><path d="M0 0h1"/><text>a</text></g>`,
		`<style>.off{display:none}</style><g class="off"><path d="M0 0h1"/></g>`,
		`<style>@charset "utf-8"; @import url("a.css"); #b {display:none}</style><path id="b" d="M0 0h1"/>`,
		`<style>/* { */ @media print { .a { x: y } } #a, #b {display:none} </style><path id="b" d="M0 0h1"/>`,
		`<style><![CDATA[path.off{visibility:hidden}]]></style><path class="on off" d="M0 0h1"/>`,
		`<defs><path d="M0 0h1"/></defs>`,
		`<symbol><path d="M0 0h1"/></symbol>`,
		`<clipPath><path d="M0 0h1"/></clipPath>`,
		`<mask><path d="M0 0h1"/></mask>`,
		`<pattern><path d="M0 0h1"/></pattern>`,
		`<marker><path d="M0 0h1"/></marker>`,
		`<metadata><path d="M0 0h1"/></metadata>`,
		`<foreignObject><path d="M0 0h1"/></foreignObject>`,
		`<prog:guide><path d="M0 0h1"/></prog:guide>`,
		`<use xlink:href="#gone"/>`,
	} {
		require.Empty(t, read(t, page100(body)).Groups, body)
	}
}

func TestVisibleInsideHiddenIsDrawn(t *testing.T) {
	require.Equal(t, "in", only(t, `<g visibility="hidden"><path d="M0 0h1"/><path id="in" visibility="visible" d="M0 0h1"/></g>`).ID)
}

func TestStrongerSelectorWins(t *testing.T) {
	for _, c := range []struct {
		sheet string
		shown bool
	}{
		{`path{display:none} .a{display:inline}`, true},
		{`.a{display:none} path{display:inline}`, false},
		{`.a{display:none} .b{display:inline}`, true},
		{`.b{display:inline} .a{display:none}`, false},
		{`path.a{display:inline} .b{display:none}`, true},
		{`#p{display:inline} path.a{display:none}`, true},
		{`*{display:none}`, false},
		{`g path{display:none}`, true}, // a selector that is not known
	} {
		d := read(t, page100(`<style>`+c.sheet+`</style><path id="p" class="a b" d="M0 0h1"/>`))
		require.Equal(t, c.shown, len(d.Groups) > 0, c.sheet)
	}
}

func TestSwitchShowsItsFirstChild(t *testing.T) {
	require.Equal(t, "a", only(t, `<switch><foreignObject/><g><path id="a" d="M0 0h1"/></g><path id="b" d="M0 0h1"/></switch>`).ID)
}

func TestUseDrawsACopy(t *testing.T) {
	d := read(t, page100(`<g id="all"><path id="a" d="M0 0h10"/><use id="u" xlink:href="#a" x="5" y="20" transform="scale(2)"/></g>`))
	all := plottest.Lines(d)
	require.Len(t, all, 2)
	require.Equal(t, "u", d.Groups[0].Groups[0].ID)
	require.Empty(t, all[1].ID, "the id is the original's")
	require.InDelta(t, 0, all[1].Path.Start().Dist(path.Point{X: 10, Y: 60}), 1e-9)
	require.InDelta(t, 20, all[1].Path.Length(), 1e-9)
}

func TestUseOfAGroupKeepsItsTransform(t *testing.T) {
	d := read(t, page100(`<defs><g id="a" transform="translate(3 0)"><path d="M0 0h10"/></g></defs><use href="#a" x="5"/>`))
	require.InDelta(t, 8, plottest.Lines(d)[0].Path.Start().X, 1e-9)
}

func TestUseFitsASymbol(t *testing.T) {
	d := read(t, page100(`<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol>
		<use href="#s" x="10" y="20" width="30" height="30"/>`))
	requireBox(t, d.Bounds(), 10, 50, 40, 80)
}

func TestNestedSVGHasItsOwnPlaceAndScale(t *testing.T) {
	d := read(t, page100(`<svg id="in" x="10" y="20" width="30" height="30%" viewBox="0 0 10 10"><rect width="50%" height="10"/></svg>`))
	requireBox(t, d.Bounds(), 10, 50, 25, 80)
	require.Equal(t, "in", d.Groups[0].ID)
}

func TestTexts(t *testing.T) {
	d := read(t, page100(`<g transform="translate(10 10)" font-size="5">
		<text id="t" x="1" y="2" style="font-size:10px;text-anchor:middle">Cut  2
			<tspan font-weight="bold">on</tspan> fold</text>
		<text id="m" x="1" y="2" transform="rotate(-90)"><tspan x="3 4 5" y="20">first</tspan><tspan id="n" x="3" dy="1.2em" font-size="200%">second</tspan></text>
		<text x="1"> </text><text display="none">gone</text></g>`))
	all := plottest.Texts(d)
	require.Len(t, all, 3)

	require.Equal(t, "Cut 2 on fold", all[0].String)
	require.Equal(t, "t", all[0].ID)
	require.Equal(t, plot.Middle, all[0].Align)
	require.InDelta(t, 7, all[0].Height, 1e-9)
	require.InDelta(t, 0, all[0].At.Dist(path.Point{X: 11, Y: 88}), 1e-9)
	require.InDelta(t, 0, all[0].Angle, 1e-9)

	require.Equal(t, "first", all[1].String)
	require.InDelta(t, 3.5, all[1].Height, 1e-9)
	require.InDelta(t, math.Pi/2, all[1].Angle, 1e-9)
	require.InDelta(t, 0, all[1].At.Dist(path.Point{X: 30, Y: 93}), 1e-9)

	require.Equal(t, "second", all[2].String)
	require.Equal(t, "n", all[2].ID)
	require.InDelta(t, 7, all[2].Height, 1e-9)
	require.InDelta(t, 0, all[2].At.Dist(path.Point{X: 42, Y: 93}), 1e-9)
}

func TestMirroredTextStaysReadable(t *testing.T) {
	text := plottest.Texts(read(t, page100(`<text transform="scale(-1 1)" x="-50" y="50" font-size="5">ab</text>`)))[0]
	require.InDelta(t, 0, text.Angle, 1e-9)
	require.Equal(t, plot.Right, text.Align, "it still ends at x 50")
	text = plottest.Texts(read(t, page100(`<text transform="scale(1 -1)" x="50" y="-50" font-size="5">ab</text>`)))[0]
	require.InDelta(t, 0, text.Angle, 1e-9)
	require.Equal(t, plot.Left, text.Align)
}

func TestNamespacesMayBePrefixedOrEntities(t *testing.T) {
	d := read(t, `<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" [
	<!ENTITY ns_svg "http://www.w3.org/2000/svg">
]>
<s:svg xmlns:s="&ns_svg;" width="10mm" height="10mm" viewBox="0 0 10 10"><s:path d="M0 0h10"/></s:svg>`)
	require.InDelta(t, 10, plottest.Lines(d)[0].Path.Length(), 1e-9)
}

func TestByteOrderMarkIsSkipped(t *testing.T) {
	require.Len(t, plottest.Lines(read(t, "\ufeff"+page100(`<path d="M0 0h1"/>`))), 1)
}

// Curves are fitted where they lie on the page: a drawing that is scaled up
// after drawing is as true as any other.
func TestCurvesStayWithinToleranceAfterTransformation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(-10, 10)
		var c [8]float64
		for i := range c {
			c[i] = number.Draw(t, "coordinate")
		}
		scale := rapid.Float64Range(0.1, 100).Draw(t, "scale")
		skew := rapid.Float64Range(-60, 60).Draw(t, "skew")
		turn := rapid.Float64Range(-180, 180).Draw(t, "turn")
		kind := rapid.SampledFrom([]string{"C", "A"}).Draw(t, "kind")
		d := fmt.Sprintf("M%v %vC%v %v %v %v %v %v", c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7])
		at := func(u float64) (x, y float64) {
			v := 1 - u
			b := [4]float64{v * v * v, 3 * v * v * u, 3 * v * u * u, u * u * u}
			for i := range b {
				x += b[i] * c[2*i]
				y += b[i] * c[2*i+1]
			}
			return x, y
		}
		if kind == "A" {
			// The upper right quarter of an ellipse.
			rx, ry := 1+math.Abs(c[0]), 1+math.Abs(c[1])
			d = fmt.Sprintf("M%v 0A%v %v 0 0 1 0 %v", rx, rx, ry, ry)
			at = func(u float64) (x, y float64) {
				sin, cos := math.Sincos(u * math.Pi / 2)
				return rx * cos, ry * sin
			}
		}
		file := fmt.Sprintf(`<svg width="1mm" height="1mm" viewBox="0 0 1 1"><g transform="scale(%v)"><g transform="skewX(%v)"><path transform="rotate(%v)" d="%s"/></g></g></svg>`,
			scale, skew, turn, d)
		drawing, err := Read(strings.NewReader(file), Options{})
		if err != nil {
			t.Fatal(err)
		}
		ruler := path.NewRuler(plottest.Lines(drawing)[0].Path)
		sin, cos := math.Sincos(turn * math.Pi / 180)
		for i := range 101 {
			x, y := at(float64(i) / 100)
			x, y = cos*x-sin*y, sin*x+cos*y
			x += math.Tan(skew*math.Pi/180) * y
			p := path.Point{X: x * scale, Y: 1 - y*scale}
			if _, off := ruler.Nearest(p); off > path.FitTolerance*1.001 {
				t.Fatalf("%v is %v mm off", p, off)
			}
		}
	})
}

func TestMistakesNameElementAndPlace(t *testing.T) {
	for _, c := range []struct{ name, file, message string }{
		{"empty", ``, `is empty, not SVG`},
		{"web page", "<!DOCTYPE html>\n<html><svg/></html>", `line 2, column 1: is not SVG: its root element is <html>`},
		{"other root of that name", `<svg xmlns="http://example.org/other"/>`, `line 1, column 1: is not SVG: its root element is <svg>`},
		{"plain text", `0 0 10 10`, `is not SVG: it does not start with <`},
		{"only a comment", `<!-- -->`, `is not SVG: it has no root element`},
		{"compressed", "\x1f\x8b\x08\x00", `is compressed (.svgz): save it as plain .svg`},
		{"UTF-16", "\xff\xfe<\x00", `is encoded in UTF-16: save it in UTF-8`},
		{"other encoding", `<?xml version="1.0" encoding="ISO-8859-1"?><svg/>`, `line 1, column 44: is not SVG: xml: opening charset "ISO-8859-1": the encoding ISO-8859-1 cannot be read: save it in UTF-8`},
		{"tag not closed", "<svg>\n<g>\n</svg>", `line 3, column 7: broken XML: element <g> closed by </svg>`},
		{"second root", "<svg/>\n<A>", `line 2, column 1, <A>: broken XML: the file goes on after </svg>`},
		{"no name", "<\n0", `line 1, column 2: is not SVG: expected element name after <`},
		{"cut off", "<svg>\n<g", `line 2, column 3: broken XML: unexpected EOF`},
		{"entity not declared", "<svg>&unknown;</svg>", `line 1, column 15: broken XML: invalid character entity &unknown;`},
		{"entity of entities", `<!DOCTYPE svg [<!ENTITY a "x"><!ENTITY b "&a;&a;">]><svg>&b;</svg>`, `line 1, column 1: the entity "b" is made of other entities: save the file without them`},
		{"path data", page100("\n <path id=\"hem\" d=\"M 0 0 L 10 x\"/>"), `line 2, column 2, <path id="hem">: has path data that, in L at character 7, has "x" at character 12 where a number should stand`},
		{"path data without move", page100(`<path d="L 1 2"/>`), `has path data that starts with 'L' instead of a move, M`},
		{"path data with a number first", page100(`<path d="1 2"/>`), `has path data that has "1 2" at character 1 where a command should stand`},
		{"path data after a close", page100(`<path d="M0 0h1z 5"/>`), `has path data that has "5" at character 9 where a command should stand`},
		{"path data with other letters", page100(`<path d="M0 0 B 1 1"/>`), `has path data that, in B at character 6, is none of the commands M L H V C S Q T A Z`},
		{"path data cut off", page100(`<path d="M0 0 C 1 1 2 2 3"/>`), `has path data that, in C at character 6, ends where a number should follow`},
		{"path data with a bad flag", page100(`<path d="M0 0 A 5 5 0 2 0 3 3"/>`), `has path data that, in A at character 6, has "2 0 3 3" at character 14 where a flag, 0 or 1, should stand`},
		{"NaN", page100(`<path d="M0 0 L NaN 3"/>`), `has path data that, in L at character 6, has "NaN 3" at character 8 where a number should stand`},
		{"infinite", page100(`<path d="M0 0 L Infinity 3"/>`), `has "Infinity 3" at character 8 where a number should stand`},
		{"huge number", page100(`<path d="M0 0 L 1e999 3"/>`), `has a number at character 8 that is too large: 1e999`},
		{"far away", page100(`<path d="M0 0 L 1e9 3"/>`), `has path data that, in L at character 6, has the point 1e+09,3, which lies more than 100 m from the page's corner`},
		{"control point far away", page100(`<path d="M0 0 C 1e9 3 0 0 1 1"/>`), `has the point 1e+09,3, which lies more than 100 m`},
		{"numbers that add up", page100(`<path d="M1e308 0 l 1e308 0 1e308 0"/>`), `has the point 1e+308,0, which lies more than 100 m`},
		{"flat arc", page100(`<path d="M0 0 A 1e12 1e12 0 0 0 3 3"/>`), `has an arc with a radius of 1e+12 mm: draw a straight line`},
		{"unit", page100(`<circle r="3furlong"/>`), `line 1, column 183, <circle>: has r that has the unit "furlong", which is none of px, mm, cm, in, pt, pc, Q, em, ex and %`},
		{"length", page100(`<rect width="wide" height="3"/>`), `has width that has "wide" at character 1 where a number should stand`},
		{"length with a rest", page100(`<rect width="3 4" height="3"/>`), `has width that has "4" at character 3 where the end should stand`},
		{"negative size", page100(`<rect width="-3" height="3"/>`), `<rect>: has the negative width -3`},
		{"points", page100(`<polygon points="1,1 2"/>`), `<polygon>: has a list of points that ends with an x without y`},
		{"points with letters", page100(`<polyline points="1,1 2,b"/>`), `<polyline>: has a list of points that has "b" at character 7 where a number should stand`},
		{"transform", page100(`<g transform="shift(3)"/>`), `<g>: has a transform that cannot be read at character 1: shift with 1 numbers`},
		{"transform with too few numbers", page100(`<g transform="scale(2) matrix(1 2)"/>`), `<g>: has a transform that cannot be read at character 10: matrix with 2 numbers`},
		{"transform not closed", page100(`<g transform="scale(2"/>`), `<g>: has a transform whose bracket is not closed`},
		{"transform without function", page100(`<g transform="5"/>`), `<g>: has a transform that has "5" at character 1 where a function such as translate(x y) should stand`},
		{"transform in turns", page100(`<g transform="rotate(1turn)"/>`), `<g>: has a transform with the unit "turn": only px and deg can be read`},
		{"transform that overflows", page100(`<g transform="scale(1e200) scale(1e200)"/>`), `<g>: has a transform with a number that is too large`},
		{"transform origin", page100(`<g transform="scale(2)" transform-origin="3 4"/>`), `<g>: has a transform-origin, which cannot be read: apply the transformation in the drawing program`},
		{"viewBox", `<svg viewBox="0 0 10"/>`, `line 1, column 1, <svg>: has the viewBox "0 0 10": give x, y, width and height, the last two above 0`},
		{"viewBox without width", `<svg viewBox="0 0 0 10"/>`, `has the viewBox "0 0 0 10": give x, y, width and height`},
		{"page width", `<svg width="wide"/>`, `<svg>: has a width that has "wide" at character 1 where a number should stand`},
		{"negative page", `<svg height="-5mm"/>`, `<svg>: has the height "-5mm": give a length above 0`},
		{"font size", page100(`<text font-size="1e400">a</text>`), `<text>: has a font-size that has a number at character 1 that is too large: 1e400`},
		{"text far away", page100(`<text x="1e9">a</text>`), `<text>: has the point 1e+09,0, which lies more than 100 m from the page's corner`},
		{"other file", page100(`<use href="other.svg#a"/>`), `<use>: refers to "other.svg#a": only elements of the same file can be used`},
		{"use of itself", page100(`<g id="a"><use href="#a"/></g>`), `<g id="a">: is drawn more than 200 deep: does a use element draw itself?`},
		{"deep nesting", strings.Repeat("<svg>", 201) + strings.Repeat("</svg>", 201), `<svg>: elements are nested more than 200 deep`},
		{"long class", page100(`<g class="` + strings.Repeat("a", 600) + `"/>`), `<g>: has, with the groups around it, classes of more than 500 letters`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(strings.NewReader(c.file), Options{})
			require.ErrorContains(t, err, c.message)
		})
	}
}

// A page saved from a browser instead of the drawing.
func TestWebPageSavedAsSVGIsFoundOut(t *testing.T) {
	f, err := os.Open("../../testdata/pattern/web-page.svg")
	require.NoError(t, err)
	defer f.Close()
	_, err = Read(f, Options{})
	require.EqualError(t, err, "line 2, column 1: is not SVG: its root element is <html>")
}

func TestMistakesAreTyped(t *testing.T) {
	_, err := Read(strings.NewReader("<svg>\n  <g>\n    <path id=\"a\" d=\"M0\"/></g></svg>"), Options{})
	var e *Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, 3, e.Line)
	require.Equal(t, 5, e.Column)
	require.Equal(t, `<path id="a">`, e.Element)
}

func TestReadersErrorIsPassedOn(t *testing.T) {
	broken := errors.New("disk on fire")
	_, err := Read(iotest.ErrReader(broken), Options{})
	require.ErrorIs(t, err, broken)
}

func TestStatedUnitMustBeALength(t *testing.T) {
	for _, unit := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := Read(strings.NewReader(page100(``)), Options{UnitMM: unit})
		require.ErrorContains(t, err, "mm to the unit: give a length above 0")
	}
}

// endless is a file that never stops, made of one piece over and over.
type endless struct {
	head, piece string
	rest        string
}

func (e *endless) Read(p []byte) (int, error) {
	if e.rest == "" {
		e.rest, e.head = e.head, ""
	}
	if e.rest == "" {
		e.rest = e.piece
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	return n, nil
}

func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name    string
		file    io.Reader
		message string
	}{
		{"bytes", &endless{head: "<svg>", piece: strings.Repeat(" ", 1<<16)}, "is larger than 64 MiB"},
		{"elements", io.LimitReader(&endless{head: "<svg>", piece: "<g/>"}, 5_000_000), "the file has more than 1000000 elements"},
		{"pieces of text", io.LimitReader(&endless{head: "<svg>", piece: "a<!---->"}, 10_000_000), "the file has more than 1000000 elements"},
		{"entities that grow", strings.NewReader(`<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("x", 1<<10) + `">]><svg>` + strings.Repeat("&a;", 1<<17) + `</svg>`), "the entities make the file too large"},
		{"copies of copies", strings.NewReader(page100(func() string {
			var b strings.Builder
			b.WriteString(`<g id="a0"><path d="M0 0h1"/></g>`)
			for i := range 30 {
				fmt.Fprintf(&b, `<g id="a%d"><use href="#a%d"/><use href="#a%d"/></g>`, i+1, i, i)
			}
			return b.String()
		}())), "brings the drawing to more than 1000000 elements"},
		{"copies of long text", strings.NewReader(page100(`<text id="t">` + strings.Repeat("long ", 100_000) + `</text>` +
			strings.Repeat(`<use href="#t"/>`, 1000))), "brings the drawing to more than 1000000 elements"},
		{"vertices", strings.NewReader(page100(`<path id="a" d="M0 0` + strings.Repeat("h1v1", 5000) + `"/>` + strings.Repeat(`<use href="#a"/>`, 400))), "brings the drawing to more than 2000000 vertices"},
		{"declarations", strings.NewReader(page100(`<style>` + strings.Repeat("a,", 1000) + `a{` + strings.Repeat("b:c;", 10) + `}` + `</style>` +
			`<style>` + strings.Repeat("a,", 60_000) + `a{b:c}</style>`)), "has style sheets of more than 100000 declarations"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(c.file, Options{})
			require.ErrorContains(t, err, c.message)
		})
	}
}

// A short arc of kilometres is a line, not nothing.
func TestFlattestArcsAreKept(t *testing.T) {
	for _, r := range []string{"4e3", "4e5", "4e7", "9e7"} {
		d := read(t, page100(`<path d="M577.6439 44.9999A`+r+" "+r+` 0 0 1 577.4999 44.9999L387.5 44.9999"/>`))
		require.InDelta(t, 190.1439, d.Groups[0].Lines[0].Path.Length(), 1e-6, r)
	}
}
