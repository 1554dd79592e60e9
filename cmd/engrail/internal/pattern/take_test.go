package pattern

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/svg"
)

// page reads the body of an SVG in mm whose y is turned over already: a place
// in the body is the place in the drawing.
func page(t testing.TB, body string) plot.Drawing {
	t.Helper()
	d, err := svg.Read(strings.NewReader(`<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="1000mm" viewBox="0 0 1000 1000">`+
		`<g transform="translate(0 1000) scale(1 -1)">`+body+`</g></svg>`), svg.Options{})
	require.NoError(t, err)
	return d
}

// panel takes the panel of the page with the body.
func panel(t testing.TB, body string, s Selection) (fit.Panel, []fit.Warning) {
	t.Helper()
	s.Panel = "front"
	p, warnings, err := Take(page(t, body), s)
	require.NoError(t, err)
	requirePanel(t, p)
	return p, warnings
}

func requireError(t testing.TB, d plot.Drawing, s Selection, problem, hint string) {
	t.Helper()
	s.File = "skirt.svg"
	p, _, err := Take(d, s)
	var e *Error
	require.ErrorAs(t, err, &e)
	require.Empty(t, p)
	require.Contains(t, err.Error(), problem)
	require.True(t, strings.HasPrefix(err.Error(), "skirt.svg: piece "), "%v", err)
	require.Contains(t, e.Remedy(), hint)
	requireKeys(t, e.Remedy())
}

// requireKeys checks that style files have the keys between backquotes, and that
// those with a value can stand in one.
func requireKeys(t testing.TB, hint string) {
	t.Helper()
	for _, m := range regexp.MustCompile("`(([a-z]+):[^`]*)`").FindAllStringSubmatch(hint, -1) {
		stated, key := m[1], m[2]
		require.Contains(t, string(style.Schema()), `"`+key+`": {`, "no such key: %s", hint)
		if stated == key+":" {
			continue
		}
		var failed error
		for _, form := range []string{
			"pattern: {file: a.svg, %s}\npanels: {p: {piece: }}",
			"pattern: a.svg\npanels: {p: {piece: {%s}}}",
			"pattern: a.svg\npanels: {p: {piece: , %s}}",
			"pattern: a.svg\npanels: {p: {piece: , start: {%s}}}",
		} {
			if _, failed = style.Parse("a.yaml", fmt.Appendf(nil, "engrail: 1\n"+form, stated)); failed == nil {
				break
			}
		}
		require.NoError(t, failed, "%s cannot stand in a style file: %s", stated, hint)
	}
}

// skirt is a piece 300 mm wide at the hem, 200 at the waist and 600 high.
const skirt = `<path id="cut" d="M100 100H400L300 700H100Z"/>`

func TestOutlineMayBeDrawnEitherWayAndFromAnywhere(t *testing.T) {
	want, _ := panel(t, skirt, Selection{})
	for _, body := range []string{
		`<path d="M100 100V700H300L400 100Z"/>`,
		`<path d="M300 700H100V100H400Z"/>`,
		`<path d="M200 100H400L300 700H100V100Z"/>`,
		`<polygon points="300 700 100 700 100 100 400 100"/>`,
		`<path d="M100 100H400L300 700H100V100.3"/>`,
	} {
		got, _ := panel(t, body, Selection{})
		require.Len(t, got.Edges, 4, body)
		require.InDelta(t, 0, want.Edges[0].Path.Start().Dist(got.Edges[0].Path.Start()), JoinGap, body)
		require.InDelta(t, 0, want.Edges[2].Path.Start().Dist(got.Edges[2].Path.Start()), JoinGap, body)
	}
}

func TestHemRunsFromLeftToRightWithTheSidesBesideIt(t *testing.T) {
	p, _ := panel(t, skirt, Selection{})
	require.Equal(t, "hem hem, right seam, top other, left seam", roleNames(p))
	require.Equal(t, path.Open(path.Point{X: 100, Y: 100}, path.Point{X: 400, Y: 100}), p.Edges[0].Path)
	require.InDelta(t, math.Hypot(100, 600), p.Edges[1].Path.Length(), 1e-9)
}

func TestSidesBecomeWhatTheUserSays(t *testing.T) {
	p, _ := panel(t, skirt, Selection{Fold: "left", Finish: fit.OpeningEdge})
	require.Equal(t, "hem hem, right opening, top other, left fold", roleNames(p))
	p, _ = panel(t, skirt, Selection{Start: fit.OpeningEdge})
	require.Equal(t, "hem hem, right seam, top other, left opening", roleNames(p))
}

func TestAllowancesComeOffEachEdgeByItsOwnWidth(t *testing.T) {
	p, _ := panel(t, `<path d="M100 100H400V700H100Z"/>`, Selection{Fold: "left", Includes: &Widths{Hem: 40, Start: 15, Finish: 20, Top: 10}})
	b := p.Outline().Bounds()
	require.InDelta(t, 100, b.Min.X, 1e-9, "nothing comes off the fold")
	require.InDelta(t, 140, b.Min.Y, 1e-9)
	require.InDelta(t, 380, b.Max.X, 1e-9)
	require.InDelta(t, 690, b.Max.Y, 1e-9)
	require.InDelta(t, 280*550, p.Outline().Area(), 1e-6)
}

// width draws an allowance: none, or one that is wide enough to be taken off, as
// the offset of less than a millionth of a mm is the path itself.
func width(most float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.001, most))
}

// The parts of a ring have a closed form: with the allowance h on the hem of
// radius R, w on the straight sides and t on the waist of radius r, the cut line
// has the radii R+h and r-t, and its sides lie w beside the radii.
func TestAllowancesOfARingComeOffExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(60, 200).Draw(t, "waist radius")
		R := r + rapid.Float64Range(200, 700).Draw(t, "length")
		half := rapid.Float64Range(0.2, 1.4).Draw(t, "half angle")
		h, w, top := width(40).Draw(t, "hem"), width(20).Draw(t, "side"), width(15).Draw(t, "top")
		turn := rapid.Float64Range(-0.5, 0.5).Draw(t, "turn")
		fold := rapid.SampledFrom([]string{"left", "right", "none"}).Draw(t, "fold")
		wl, wr := w, w
		switch fold {
		case "left":
			wl = 0
		case "right":
			wr = 0
		}
		o := path.Point{X: 500, Y: 900}
		down := -math.Pi/2 + turn
		// The corner where the circle of the radius rho meets the line that lies w
		// outside of the radius at the angle a, on the side given.
		corner := func(rho, a, w, side float64) float64 { return a + side*math.Asin(w/rho) }
		arc := func(rho, from, to float64) path.Path { return path.FromSegments(path.Arc(o, rho, from, to-from)) }
		cut := path.Join(1e-9,
			arc(R+h, corner(R+h, down-half, wl, -1), corner(R+h, down+half, wr, 1)),
			arc(r-top, corner(r-top, down+half, wr, 1), corner(r-top, down-half, wl, -1)),
		).Close(0)
		d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Path: cut}}}}}
		p, _, err := Take(d, Selection{Hem: "lowest", Fold: fold, Includes: &Widths{Hem: h, Start: wl, Finish: wr, Top: top}})
		require.NoError(t, err)
		requirePanel(t, p)
		require.Len(t, p.Edges, 4)
		for i, want := range []path.Path{
			arc(R, down-half, down+half), path.Open(arc(R, down, down+half).End(), arc(r, down, down+half).End()),
			arc(r, down+half, down-half), path.Open(arc(r, down, down-half).End(), arc(R, down, down-half).End()),
		} {
			got := p.Edges[i].Path
			require.InDelta(t, 0, want.Start().Dist(got.Start()), 1e-6)
			require.InDelta(t, 0, want.End().Dist(got.End()), 1e-6)
			require.InDelta(t, want.Length(), got.Length(), 1e-6)
		}
		require.LessOrEqual(t, p.Edges[0].Path.Segments(), 2, "arcs stay arcs")
	})
}

// A polygon's allowances added by hand, as the meetings of shifted lines, come
// off again, at sharp, blunt and inner corners. The corners turn by 35 to 160
// degrees wherever the points lie.
func TestAllowancesOfPolygonsComeOffExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(lo, hi float64, what string) float64 { return rapid.Float64Range(lo, hi).Draw(t, what) }
		net := []path.Point{
			{X: number(0, 60, "x"), Y: number(0, 40, "y")}, {X: number(300, 400, "x"), Y: number(0, 40, "y")},
			{X: number(280, 330, "x"), Y: number(440, 460, "y")}, {X: number(200, 220, "x"), Y: number(440, 470, "y")},
			{X: number(165, 185, "x"), Y: number(300, 350, "y")}, {X: number(20, 60, "x"), Y: number(430, 500, "y")},
		}
		widths := Widths{Hem: width(40).Draw(t, "hem"), Start: width(20).Draw(t, "start"), Finish: width(20).Draw(t, "finish"), Top: width(10).Draw(t, "top")}
		each := numbered{Widths: widths}.of(make([]edge, len(net)), -1)
		n := len(net)
		cut := make([]path.Point, n)
		for i := range net {
			u, w := net[i].Sub(net[(i+n-1)%n]).Unit(), net[(i+1)%n].Sub(net[i]).Unit()
			a, b := net[i].Add(u.Right().Mul(each[(i+n-1)%n])), net[i].Add(w.Right().Mul(each[i]))
			cut[i] = a.Add(u.Mul(b.Sub(a).Cross(w) / u.Cross(w)))
		}
		d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Path: path.Closed(cut...)}}}}}
		p, _, err := Take(d, Selection{Includes: &widths})
		require.NoError(t, err)
		require.Len(t, p.Edges, n)
		for i, e := range p.Edges {
			require.InDelta(t, 0, e.Path.Start().Dist(net[i]), 1e-6)
		}
	})
}

// An allowance is often ended as the mirror image in the stitching line: folded
// up, its end lies on the side seam.
func TestShapedAllowanceEndsAreNoEdges(t *testing.T) {
	// A side that leans by 20 degrees, 15 mm of allowance, a hem of 30.
	lean := math.Tan(20 * math.Pi / 180)
	w := 15 / math.Cos(20*math.Pi/180)
	// On the side's cut line at the hem's stitching line.
	x := 400 + w
	body := fmt.Sprintf(`<path d="M100 70H%v L%v 100 L%v 710H100Z"/>`, x-30*lean, x, x-610*lean)
	p, _ := panel(t, body, Selection{Fold: "left", Includes: &Widths{Hem: 30, Finish: 15, Top: 10}})
	require.Len(t, p.Edges, 4)
	require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-6)
	require.InDelta(t, 0, p.Edges[0].Path.End().Dist(path.Point{X: 400, Y: 100}), 1e-6)
	require.InDelta(t, 600/math.Cos(20*math.Pi/180), p.Edges[1].Path.Length(), 1e-6)
}

// Not every end is the exact mirror image; none has a part in the stitching line.
func TestShapedAllowanceEndsLeaveTheStitchingLineAlone(t *testing.T) {
	// Sides through 400, 100 and 300, 710, and the same on the left.
	inward := 12 * math.Hypot(100, 610) / 610
	for _, end := range []float64{390, 385, 375} {
		p, _ := panel(t, fmt.Sprintf(`<path d="M%v 70H%v L400 100L300 710H200L100 100Z"/>`, 500-end, end),
			Selection{Includes: &Widths{Hem: 30, Start: 12, Finish: 12, Top: 10}})
		require.Len(t, p.Edges, 4)
		require.InDelta(t, 0, p.Edges[0].Path.Start().Dist(path.Point{X: 100 + inward, Y: 100}), 1e-6)
		require.InDelta(t, 0, p.Edges[0].Path.End().Dist(path.Point{X: 400 - inward, Y: 100}), 1e-6)
		require.Equal(t, 1, p.Edges[1].Path.Segments())
	}
}

func TestCornersOfAllowancesThatAreSquaredOffAreMadeSharp(t *testing.T) {
	const w = 15
	for name, body := range map[string]string{
		"at the hem's finish": `<path d="M100 100H390L400 110V700H100Z"/>`,
		"at its start":        `<path d="M108 100H400V700H100V112Z"/>`,
		"at the top":          `<path d="M100 100H400V693L393 700H106L100 691Z"/>`,
		"everywhere":          `<path d="M108 100H390L400 110V693L393 700H106L100 691V112Z"/>`,
	} {
		t.Run(name, func(t *testing.T) {
			p, warnings := panel(t, body, Selection{Includes: &Widths{Hem: 30, Start: w, Finish: w, Top: 10}})
			require.Empty(t, warnings)
			require.Len(t, p.Edges, 4)
			b := p.Outline().Bounds()
			require.InDelta(t, 0, b.Min.Dist(path.Point{X: 115, Y: 130}), 1e-9)
			require.InDelta(t, 0, b.Max.Dist(path.Point{X: 385, Y: 690}), 1e-9)
			require.InDelta(t, 270*560, p.Outline().Area(), 1e-6)
		})
	}
	t.Run("an edge of the piece stays", func(t *testing.T) {
		// The cut line of a corner cut off by 12 mm, with 15 mm all round.
		off := 15 * math.Tan(math.Pi/8)
		p, _ := panel(t, fmt.Sprintf(`<path d="M100 100H400V%vL%v 700H100Z"/>`, 700-12-15+off, 400-12-15+off), Selection{Includes: &Widths{Hem: w, Start: w, Finish: w, Top: w}})
		require.Len(t, p.Edges, 5)
		require.InDelta(t, 12*math.Sqrt2, p.Edges[2].Path.Length(), 1e-6)
	})
}

func TestRoundedAndCutCornersAreMadeSharp(t *testing.T) {
	for _, body := range []string{
		`<path d="M100 100H398.6L400 101.4V700H100Z"/>`,
		`<path d="M100 100H399A1 1 0 0 1 400 101V700H100Z"/>`,
	} {
		for _, w := range []*Widths{nil, {Hem: 15, Finish: 15, Start: 15, Top: 15}} {
			p, _ := panel(t, body, Selection{Includes: w})
			require.Len(t, p.Edges, 4)
			want := path.Point{X: 400, Y: 100}
			if w != nil {
				want = path.Point{X: 385, Y: 115}
			}
			require.InDelta(t, 0, p.Edges[0].Path.End().Dist(want), 1e-6)
		}
	}
}

func TestTurnDecidesWhatACornerIs(t *testing.T) {
	// The side bends by 20 degrees half-way up.
	bend := fmt.Sprintf(`<path d="M100 100H400V400L%v 700H100Z"/>`, 400-300*math.Tan(20*math.Pi/180))
	p, _ := panel(t, bend, Selection{})
	require.Len(t, p.Edges, 4)
	p, _ = panel(t, bend, Selection{Corner: 15 * math.Pi / 180})
	require.Len(t, p.Edges, 5)
	require.Equal(t, "hem hem, right seam, top 1 other, top 2 other, left seam", roleNames(p))
}

func TestSeparateLinesMakeAnOutline(t *testing.T) {
	edges := `<path id="hem" d="M400 100.2H100"/><path id="waist" d="M100 700H300"/><path id="left" d="M100 100V700"/>`
	p, warnings := panel(t, `<g id="front">`+edges+`<path id="right" d="M300 700L400 100"/></g>`, Selection{ID: "front", Hem: "hem", Fold: "left"})
	require.Len(t, p.Edges, 4)
	require.Equal(t, fit.FoldEdge, p.Edges[3].Role)
	require.Len(t, warnings, 1)
	require.Equal(t, "gap-closed", warnings[0].Code)
	require.Contains(t, warnings[0].Message, "a gap of 0.20 mm at ")
	require.Equal(t, "panel front", warnings[0].Where)

	t.Run("a line drawn twice counts once", func(t *testing.T) {
		again, _ := panel(t, `<g id="front">`+edges+`<path id="right" d="M300 700L400 100"/><path d="M100 700V100"/></g>`, Selection{ID: "front"})
		require.Equal(t, p.Outline().Area(), again.Outline().Area())
		require.Empty(t, again.Internal)
	})
	t.Run("a line that ends on a corner is an inner line", func(t *testing.T) {
		again, _ := panel(t, `<g id="front">`+edges+`<path d="M300 700L400 100"/><path d="M300 700L200 500"/></g>`, Selection{ID: "front"})
		require.Equal(t, p.Outline().Area(), again.Outline().Area())
		require.Len(t, again.Internal, 1)
	})
	t.Run("the outline's own name finds it", func(t *testing.T) {
		again, _ := panel(t, edges+`<path id="right" d="M300 700L400 100"/>`, Selection{ID: "waist"})
		require.Equal(t, p.Outline().Area(), again.Outline().Area())
	})
}

func TestMarksAreFoundWhereverTheLayersPutThem(t *testing.T) {
	marks := func(x int) string {
		return fmt.Sprintf(`<path id="n%d" d="M%d 300h-6"/><path id="grain%d" d="M%d 200v300"/>`, x, x+200, x, x+100)
	}
	outlines := `<path id="a" d="M100 100h200v600h-200z"/><path id="b" d="M500 100h200v600h-200z"/>`
	for name, body := range map[string]string{
		"a layer a piece": `<g id="A"><path id="a" d="M100 100h200v600h-200z"/>` + marks(100) + `</g><g id="B"><path id="b" d="M500 100h200v600h-200z"/>` + marks(500) + `</g>`,
		"a layer a kind":  `<g>` + outlines + `</g><g>` + marks(100) + marks(500) + `</g>`,
		"no layers":       outlines + marks(100) + marks(500),
		"outlines alone in their groups": `<g><g id="A"><path id="a" d="M100 100h200v600h-200z"/></g><g><path id="b" d="M500 100h200v600h-200z"/></g></g>` +
			`<g id="marks">` + marks(100) + marks(500) + `</g>`,
	} {
		t.Run(name, func(t *testing.T) {
			for i, id := range []string{"a", "b"} {
				p, _ := panel(t, body, Selection{ID: id})
				require.Len(t, p.Notches, 1)
				require.Equal(t, fit.Notch{Edge: 1, At: 200}, p.Notches[0])
				require.InDelta(t, 300, p.Grain.Length(), 1e-9)
				require.InDelta(t, float64(200+400*i), p.Grain.A.X, 1e-9)
				require.Empty(t, p.Internal)
			}
		})
	}
}

func TestSizesOnTopOfEachOtherKeepTheirOwnMarks(t *testing.T) {
	body := `<g id="s10"><path d="M100 100h200v600h-200z"/><path id="n10" d="M300 300h-6"/></g>` +
		`<g id="s12"><path d="M100 90h210v620h-210z"/><path id="n12" d="M310 310h-6"/></g>`
	p, _ := panel(t, body, Selection{ID: "s10"})
	require.Equal(t, []fit.Notch{{Edge: 1, At: 200}}, p.Notches)
	p, _ = panel(t, body, Selection{ID: "s12"})
	require.Equal(t, []fit.Notch{{Edge: 1, At: 220}}, p.Notches)
	require.Empty(t, p.Internal)
}

func TestWhatTheNameMayMean(t *testing.T) {
	two := `<g id="front"><title>Vorne</title><path d="M100 100h200v600h-200z"/></g><g><path id="back" d="M500 100h200v600h-200z"/></g>` +
		`<g transform="translate(600 400) scale(1 -1)"><text>Back 2</text></g>`
	p, _ := panel(t, two, Selection{Label: "vorne"})
	require.InDelta(t, 100, p.Edges[0].Path.Start().X, 1e-9)
	p, _ = panel(t, two, Selection{Text: "Back  2"})
	require.InDelta(t, 500, p.Edges[0].Path.Start().X, 1e-9)

	d := page(t, two)
	const pieces = "choose one with its number, such as `order: 1`, under `piece:`; the pieces are #1 \"Vorne\" (200 x 600 mm), #2 \"back\" (200 x 600 mm)"
	requireError(t, d, Selection{Panel: "x"}, `skirt.svg: piece for the panel "x": the drawing has 2 pieces; say which is meant`, pieces)
	requireError(t, d, Selection{Order: 3}, "skirt.svg: piece #3: the drawing has 2 pieces", pieces)
	requireError(t, d, Selection{ID: "side"}, `piece with the id "side": nothing in the drawing has this id`, pieces)
	requireError(t, d, Selection{ID: "Front"}, `nothing in the drawing has this id`, pieces)
	requireError(t, d, Selection{Label: "side"}, `piece with the label "side": nothing in the drawing has this label`, pieces)
	requireError(t, d, Selection{Text: "bac"}, `piece with the text "bac": no outline has such a text in it`, pieces)
	requireError(t, d, Selection{Name: "side"}, `piece "side": nothing in the drawing has this id, label or text`, pieces)
	requireError(t, page(t, ``), Selection{}, "the drawing has no piece", "draw each piece as a closed outline")

	same := `<g><title>front</title><path d="M100 100h200v600h-200z"/></g><g><title>front</title><path d="M500 100h200v600h-200z"/></g>`
	requireError(t, page(t, same), Selection{Label: "front"}, "2 pieces have this name", "choose one with its number, such as `order: 1`, under `piece:`; the pieces are #1")
	requireError(t, page(t, `<g id="all">`+same+`</g>`), Selection{ID: "all"}, "the group has two outlines beside each other, at 200.0, 400.0 mm and at 600.0, 400.0 mm",
		"name the outline itself, or a group with one piece, such as `id: front`, under `piece:`")
}

func TestHemIsTheLowestEdge(t *testing.T) {
	for name, c := range map[string]struct {
		body   string
		length float64
	}{
		"straight":           {skirt, 300},
		"rising to one side": {`<path d="M100 100L400 180L300 700H100Z"/>`, math.Hypot(300, 80)},
		"under a point":      {`<path d="M100 100H400L250 700Z"/>`, 300},
		"a circle's":         {`<path d="M300 100A300 300 0 0 1 600 400H500A200 200 0 0 0 300 200Z"/>`, 150 * math.Pi},
		"below a pocket":     {`<path d="M100 100H400V650L350 640V700H100Z"/>`, 300},
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, c.body, Selection{})
			require.InDelta(t, c.length, p.Edges[0].Path.Length(), 1e-6)
		})
	}
}

func TestNamedLineChoosesTheHem(t *testing.T) {
	lying := `<path d="M100 100H700V300L100 400Z"/>`
	p, _ := panel(t, lying+`<path id="saum" d="M100 130V370"/>`, Selection{Hem: "saum"})
	require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-9)
	require.InDelta(t, 100, p.Edges[0].Path.End().Y, 1e-9, "counter-clockwise, so downward on the left")
	require.Empty(t, p.Internal, "the line only names the edge")

	t.Run("on the stitching line", func(t *testing.T) {
		p, _ := panel(t, lying+`<g id="Hem line"><path d="M115 130V370"/></g>`, Selection{Hem: "hem line", Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 15}})
		require.InDelta(t, 115, p.Edges[0].Path.Start().X, 1e-9)
	})
	t.Run("by the number of the messages", func(t *testing.T) {
		p, _ := panel(t, lying, Selection{Hem: "#4"})
		require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-9)
	})
	t.Run("and the fold by its number in the same order", func(t *testing.T) {
		p, _ := panel(t, lying, Selection{Hem: "#4", Fold: "#1"})
		require.Equal(t, "hem hem, right fold, top other, left seam", roleNames(p))
		requireError(t, page(t, lying), Selection{Hem: "#4", Fold: "#2"}, `the fold "#2" is edge #2, which is not one of the two sides`, "say `fold: left`")
	})
	t.Run("by several lines", func(t *testing.T) {
		p, _ := panel(t, lying+`<path id="hem" d="M100 130V190M100 250V370"/>`, Selection{Hem: "hem"})
		require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-9)
	})
}

func TestHemThatCannotBeFound(t *testing.T) {
	edges := "the edges are #1 300.0 mm long from 100.0, 100.0 to 400.0, 100.0, #2 608.3 mm long from 400.0, 100.0 to 300.0, 700.0, " +
		"#3 200.0 mm long from 300.0, 700.0 to 100.0, 700.0, #4 600.0 mm long from 100.0, 700.0 to 100.0, 100.0"
	const which = "say which edge is the hem by its number in quotes, such as `hem: \"#1\"`, under `piece:`; "
	d := page(t, skirt+`<path id="inner" d="M150 300H250"/><path id="round" d="M105 700H300L400 100H100V695"/><path id="away" d="M100 100h300v80"/>`)
	requireError(t, d, Selection{ID: "cut", Hem: "saum"}, `the hem was not found: no line of the piece has the id or label "saum"`, "give a line along the edge that id or label, or "+which+edges)
	requireError(t, d, Selection{ID: "cut", Hem: "inner"}, `the line "inner" for the hem does not run along the outline; it lies at 200.0, 300.0 mm`, "draw it along the edge, or "+which+edges)
	requireError(t, d, Selection{ID: "cut", Hem: "away"}, `the line "away" for the hem does not run along the outline`, edges)
	requireError(t, d, Selection{ID: "cut", Hem: "round"}, `the line "round" for the hem runs along 4 edges, #1 and #2 and #3 and #4, the whole outline`, "the hem is one edge between two corners; "+which+edges)
	requireError(t, d, Selection{ID: "cut", Hem: "#5"}, `the hem "#5" is none of the edges`, which+edges)
	requireError(t, page(t, `<path d="M100 100L250 60L400 100V700H100Z"/>`), Selection{},
		"the hem was not found: the edges #1 and #2 both lie below the piece, with a corner between them at 250.0, 60.0 mm", "draw the hem without a corner, or list all its edges, such as `hem: [\"#1\", \"#2\"]`, or "+which+"the edges are #1")
	requireError(t, page(t, `<path d="M100 400L400 100L700 400L400 700Z"/>`), Selection{Corner: 1.5}, "both lie below", "")
	requireError(t, page(t, `<circle cx="300" cy="300" r="200"/>`), Selection{}, "the outline has no corner of 25 degrees or more, and a hem between two sides takes 3", "sharper")
	requireError(t, page(t, `<path d="M100 300A200 200 0 0 1 500 300Z"/>`), Selection{}, "the outline has 2 corners", "sharper")
}

func TestFoldIsWhatTheDrawingMarks(t *testing.T) {
	for name, c := range map[string]struct{ body, fold, want string }{
		"an id":                      {`<path id="fold-1" d="M100 200V600"/>`, "", "left"},
		"a class":                    {`<path class="fold" d="M100 200V600"/>`, "", "left"},
		"a group":                    {`<g id="Fold lines"><path d="M100 200V600"/></g>`, "", "left"},
		"a text in the line's group": {`<g><path d="M100 200V600"/><text x="200" y="300">Place on fold</text></g>`, "", "left"},
		"a fold elsewhere":           {`<path id="hem-fold" d="M100 140H390"/>`, "", ""},
		"nothing":                    {``, "", ""},
		"the user, against it":       {`<path id="fold" d="M100 200V600"/>`, "none", ""},
		"the user, elsewhere":        {`<path id="fold" d="M100 200V600"/>`, "right", "right"},
		"the user, a line":           {`<path id="cf" d="M100 200V600"/>`, "cf", "left"},
		"the user, a number":         {``, "#2", "right"},
		"a text and the user":        {`<text x="200" y="300">cut 1 on fold</text>`, "left", "left"},
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, skirt+c.body, Selection{ID: "cut", Fold: c.fold})
			got := ""
			for _, e := range p.Edges {
				if e.Role == fit.FoldEdge {
					got += e.Name
				}
			}
			require.Equal(t, c.want, got)
		})
	}
}

func TestFoldThatCannotBe(t *testing.T) {
	s := Selection{ID: "cut"}
	requireError(t, page(t, skirt+`<text x="200" y="300">cut 1 on fold</text>`), s,
		`the text "cut 1 on fold" says that the piece lies on the fold, but no line along a side says which edge does`, "say which it is with `fold: left`, `fold: right` or `fold: none` under `piece:`")
	requireError(t, page(t, skirt+`<path id="fold" d="M100 200V600M390 160L310 640"/>`), s, "lines for a fold run along both sides of the hem", "say which it is with `fold: left`, `fold: right` or `fold: none` under `piece:`")
	s.Fold = "waist"
	requireError(t, page(t, skirt+`<path id="waist" d="M110 700H290"/>`), s, `the fold "waist" is edge #3, which is not one of the two sides`, "say `fold: left` or `fold: right` under `piece:`, or name a line along one of the sides")
	s.Fold = "cf"
	requireError(t, page(t, skirt), s, `the fold was not found: no line of the piece has the id or label "cf"`,
		"give a line along the edge that id or label, or say which edge is the fold with `fold: left` or `fold: right`, under `piece:`; the edges are #1")
	s.Fold = "left"
	requireError(t, page(t, `<path id="cut" d="M100 100H400L300 700H100Q99 400 100 100Z"/>`), s,
		"the fold edge from 100.0, 700.0 mm to 100.0, 100.0 mm is not straight: it bends by 0.50 mm", "up to 0.1 mm are made straight")
}

func TestNearlyStraightFoldIsMadeStraight(t *testing.T) {
	p, _ := panel(t, `<path d="M100 100H400L300 700H100Q99.85 400 100 100Z"/>`, Selection{Fold: "left", Includes: &Widths{Hem: 15, Finish: 15, Top: 15}})
	require.Equal(t, path.Open(path.Point{X: 100, Y: 685}, path.Point{X: 100, Y: 115}), p.Edges[3].Path)
}

func TestNotches(t *testing.T) {
	for name, c := range map[string]struct {
		marks string
		want  []fit.Notch
	}{
		"a short line inward":               {`<path d="M400 300h-8"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a short line outward":              {`<path d="M400 300h8"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a short line across":               {`<path d="M404 300h-8"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a slanting one counts at the edge": {`<path d="M400 300l-8 5"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a V":                               {`<path d="M400 297l-6 3 6 3"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a triangle":                        {`<path class="notch" d="M400 297l-6 3 6 3z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"two beside each other":             {`<path d="M400 300h-8M400 308h-8"/>`, []fit.Notch{{Edge: 1, At: 200}, {Edge: 1, At: 208}}},
		"one drawn twice":                   {`<path d="M400 300h-8"/><path d="M400 300h-8"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a named one beside the edge":       {`<path id="notch-2" d="M390 300h-8"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"on the hem":                        {`<path d="M250 100v8"/>`, []fit.Notch{{Edge: 0, At: 150}}},
		"on the left, from the top":         {`<path d="M100 300h8"/>`, []fit.Notch{{Edge: 3, At: 400}}},
		"a long line is none":               {`<path d="M400 300h-80"/>`, nil},
		"a short line inside is none":       {`<path d="M300 300h-8"/>`, nil},
	} {
		t.Run(name, func(t *testing.T) {
			p, warnings := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/>`+c.marks, Selection{ID: "cut"})
			require.Empty(t, warnings)
			require.Len(t, p.Notches, len(c.want))
			for i, n := range c.want {
				require.Equal(t, n.Edge, p.Notches[i].Edge)
				require.InDelta(t, n.At, p.Notches[i].At, 1e-6)
			}
			if c.want == nil {
				require.Len(t, p.Internal, 1)
			} else {
				require.Empty(t, p.Internal)
			}
		})
	}
}

func TestNotchesMoveSquareToTheStitchingLine(t *testing.T) {
	p, _ := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/><path d="M400 300h-8"/>`, Selection{ID: "cut", Includes: &Widths{Hem: 40, Start: 15, Finish: 15, Top: 10}})
	require.Equal(t, []fit.Notch{{Edge: 1, At: 160}}, p.Notches)
}

func TestNotchThatFitsNoEdgeIsReported(t *testing.T) {
	p, warnings := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/><path d="M400 120h-8"/><path id="notch" d="M250 400h-8"/>`, Selection{ID: "cut", Includes: &Widths{Hem: 40, Start: 15, Finish: 15, Top: 10}})
	require.Empty(t, p.Notches)
	require.Len(t, warnings, 2)
	require.Equal(t, "the notch at 400.0, 120.0 mm is on the allowance beyond the end of its edge and was left out", warnings[0].Message)
	require.Equal(t, "the notch at 250.0, 400.0 mm is 142.0 mm from the outline and was left out", warnings[1].Message)
}

func TestGrainLine(t *testing.T) {
	line := path.Line(path.Point{X: 200, Y: 600}, path.Point{X: 200, Y: 200})
	for name, marks := range map[string]string{
		"an id":                 `<path id="grain" d="M200 600V200"/>`,
		"with arrows in it":     `<path id="grain" d="M200 600V200l5 10M200 200l-5 10"/>`,
		"a group with arrows":   `<g id="Grainline"><path d="M200 200l5 10"/><path d="M200 600V200"/></g>`,
		"a text in its group":   `<g><text x="500" y="5">GRAIN</text><path d="M200 600V200"/></g>`,
		"a text beside it":      `<path d="M200 600V200"/><text x="210" y="-400" transform="scale(1 -1)">grain line</text>`,
		"the longer of two":     `<path class="grain" d="M150 600V500"/><path class="grain" d="M200 600V200"/>`,
		"the one beside a text": `<path d="M320 600V200"/><path d="M200 600V200"/><text x="210" y="-400" transform="scale(1 -1)">straight grain</text>`,
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/>`+marks, Selection{ID: "cut"})
			require.Equal(t, line, p.Grain)
		})
	}
	p, _ := panel(t, skirt, Selection{})
	require.Zero(t, p.Grain.Length())
}

func TestLinesThatRepeatTheOutlineAreNoInnerLines(t *testing.T) {
	p, _ := panel(t, `<path id="cut" d="M100 100H400V700H100Z"/><path id="again" d="M100 700H400V100H100Z"/>`+
		`<path id="stitching" d="M115 115H385V685H115Z"/><path id="dart" d="M200 685l10 -120 10 120"/>`, Selection{ID: "cut", Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 15}})
	require.Len(t, p.Internal, 1)
	require.InDelta(t, 2*math.Hypot(10, 120), p.Internal[0].Length(), 1e-9)
}

func TestQuantity(t *testing.T) {
	for text, want := range map[string]int{
		"cut 2": 2, "CUT 4 in cloth": 4, "cut: 2x": 1, "Cut 1 pair": 1, "size 12": 1, "cut 0": 1, "": 1, "facing, cut (3)": 3,
	} {
		p, _ := panel(t, skirt+`<text x="200" y="-300" transform="scale(1 -1)">`+text+`</text>`, Selection{ID: "cut"})
		require.Equal(t, want, p.Quantity, text)
		p, _ = panel(t, skirt+`<text x="200" y="-300" transform="scale(1 -1)">`+text+`</text>`, Selection{ID: "cut", Quantity: 7})
		require.Equal(t, 7, p.Quantity)
	}
}

func TestOutlineThatCannotBeUsed(t *testing.T) {
	for name, c := range map[string]struct {
		body          string
		s             Selection
		problem, hint string
	}{
		"open": {`<path id="cut" d="M100 100H400L300 700H103"/>`, Selection{ID: "cut"},
			"the outline is open: a gap of 600.01 mm between 100.0, 100.0 mm and 103.0, 700.0 mm", "gaps up to 0.5 mm are closed"},
		"nearly closed": {`<path id="cut" d="M100 100H400L300 700H100V101.2"/>`, Selection{ID: "cut"},
			"the outline is open: a gap of 1.20 mm between 100.0, 100.0 mm and 100.0, 101.2 mm", "join the two ends"},
		"lines that miss each other": {`<g id="g"><path d="M100 100H400"/><path d="M402 100L300 700H100V100"/></g>`, Selection{ID: "g"},
			"the outline is open: a gap of 2.00 mm between 400.0, 100.0 mm and 402.0, 100.0 mm", "join the two ends"},
		"open beside something closed": {`<g id="g"><circle cx="200" cy="200" r="10"/><path d="M402 100L300 700H100V100"/></g>`, Selection{ID: "g"},
			"the outline is open: a gap of 302.00 mm", "join the two ends"},
		"crossing": {`<path id="cut" d="M100 100H400L100 700H400Z"/>`, Selection{ID: "cut"},
			"the outline crosses or touches itself at 250.0, 400.0 mm", "nowhere meets itself"},
		"with a slit": {`<path id="cut" d="M100 100H400V300H380H400V700H100Z"/>`, Selection{ID: "cut"},
			"the outline crosses or touches itself at 400.0, 300.0 mm", "a notch is a line of its own"},
		"with a line across": {`<g id="g"><path d="M100 100H400V700"/><path d="M400 700H100V100"/><path d="M100 100L400 700"/></g>`, Selection{ID: "g"},
			"more than two lines meet at", "take the inner line away"},
		"a group without lines": {`<g id="g"><text>front</text></g>`, Selection{ID: "g"}, "the group of this name has no lines", "draw each piece as a closed outline"},
		"allowances that leave nothing": {`<path id="cut" d="M100 100H400V700H100Z"/>`, Selection{ID: "cut", Includes: &Widths{Start: 150, Finish: 150}},
			"nothing is left of the edge at 250.0, 100.0 mm, 300.0 mm long, without its allowance", correctIncludes + "; draw small corners"},
		"an allowance wider than a curve": {`<path id="cut" d="M100 100H400V700H320A70 70 0 0 1 180 700H100Z"/>`, Selection{ID: "cut", Includes: &Widths{Top: 71}},
			"an allowance of 71.0 mm cannot be taken off the edge at 250.0, 770.0 mm: it is curved too strongly",
			"correct the widths under `includes:`, such as `hem: 15mm`, or leave that key out where the outline is the stitching line"},
	} {
		t.Run(name, func(t *testing.T) { requireError(t, page(t, c.body), c.s, c.problem, c.hint) })
	}
}

func TestNumbersThatMakeNoSense(t *testing.T) {
	for name, c := range map[string]struct {
		s             Selection
		problem, hint string
	}{
		"NaN allowance":      {Selection{Allowance: Widths{Hem: math.NaN()}}, "an allowance of NaN mm cannot be", "give a width from 0 to 3000 mm, such as `hem: 15mm`, under `allowance:` or `includes:`"},
		"negative allowance": {Selection{Includes: &Widths{Top: -1}}, "an allowance of -1 mm cannot be", "give a width from 0 to 3000 mm, such as `hem: 15mm`, under `allowance:` or `includes:`"},
		"huge allowance":     {Selection{Includes: &Widths{Top: 1e9}}, "an allowance of 1e+09 mm cannot be", "give a width from 0 to 3000 mm, such as `hem: 15mm`, under `allowance:` or `includes:`"},
		"negative check":     {Selection{Check: -5}, "a hem of -5 mm cannot be checked for", "give the hem's length, such as `check: 412mm`, under `piece:`"},
		"infinite check":     {Selection{Check: math.Inf(1)}, "a hem of +Inf mm cannot be checked for", "give the hem's length, such as `check: 412mm`, under `piece:`"},
		"NaN corner":         {Selection{Corner: math.NaN()}, "a turn of NaN rad cannot make a corner", "give an angle between 0 and 180 degrees"},
		"negative quantity":  {Selection{Quantity: -1}, "a quantity of -1", "count from 1, as in `quantity: 2` and `order: 1`"},
		"hem as a side":      {Selection{Start: fit.HemEdge}, "a side of the hem cannot be a hem edge", "say `edge: seam` or `edge: opening` under `start:` and `finish:`, and a fold with `fold: left` under `piece:`"},
	} {
		t.Run(name, func(t *testing.T) { requireError(t, page(t, skirt), c.s, c.problem, c.hint) })
	}
	t.Run("NaN in the drawing", func(t *testing.T) {
		d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{ID: "a", Path: path.Closed(path.Point{X: math.NaN()}, path.Point{}, path.Point{Y: 1})}}}}}
		requireError(t, d, Selection{}, `the line "a" has a coordinate that is too large or not a number`, "correct the drawing")
	})
	t.Run("too many points", func(t *testing.T) {
		d := plot.Drawing{Groups: []plot.Group{{Lines: []plot.Line{{Path: path.Path{V: make([]path.Vertex, mostVertices+1)}}}}}}
		requireError(t, d, Selection{}, "the lines of the drawing have 1000001 points, more than 1000000", "with fewer points")
		require.Contains(t, problems(Inspect(d, "x.dxf")), "more than 1000000")
	})
	t.Run("too many lines", func(t *testing.T) {
		d := plot.Drawing{Groups: []plot.Group{{Lines: make([]plot.Line, mostLines+1)}}}
		requireError(t, d, Selection{}, "the drawing has 50001 lines, more than 50000", "save the pieces alone")
	})
}

// The bad files of testdata/pattern.
func TestBadFilesSayWhatIsWrong(t *testing.T) {
	for name, c := range map[string]struct {
		s             Selection
		problem, hint string
	}{
		"open-outline.svg":     {Selection{Name: "front"}, `piece "front": the outline is open: a gap of 3.16 mm between`, "join the two ends"},
		"crossing-outline.svg": {Selection{Name: "front"}, `piece "front": the outline crosses or touches itself at`, "nowhere meets itself"},
		"bent-fold.svg":        {Selection{Name: "front", Fold: "left"}, "is not straight: it bends by 1.5", "draw it as one straight line"},
		"hem-with-corner.svg":  {Selection{Name: "front"}, "the hem was not found: the edges #1 and #2 both lie below the piece", "draw the hem without a corner"},
	} {
		t.Run(name, func(t *testing.T) {
			requireError(t, file(t, "../../../../testdata/pattern/"+name), c.s, c.problem, c.hint)
		})
	}
}

func TestNotchesCutIntoTheOutlineAreFilled(t *testing.T) {
	for name, c := range map[string]struct {
		body string
		want []fit.Notch
	}{
		"a slit":             {`<path d="M100 100H400V300H392H400V700H100Z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a slit with a kerf": {`<path d="M100 100H400V299.9H392V300.1H400V700H100Z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a V":                {`<path d="M100 100H400V297L394 300L400 303V700H100Z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a V outward":        {`<path d="M100 100H400V297L406 300L400 303V700H100Z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"a box":              {`<path d="M100 100H400V297H394V303H400V700H100Z"/>`, []fit.Notch{{Edge: 1, At: 200}}},
		"two, and the start in one": {`<path d="M394 300L400 303V397L394 400L400 403V700H100V100H400V297Z"/>`,
			[]fit.Notch{{Edge: 1, At: 200}, {Edge: 1, At: 300}}},
		"on a curve": {`<path d="M100 700V100A500 500 0 0 1 348.5 166.2L344 171L351.7 168.1A500 500 0 0 1 500 310V700Z"/>`, []fit.Notch{{Edge: 0, At: 260}}},
	} {
		t.Run(name, func(t *testing.T) {
			p, warnings := panel(t, c.body, Selection{})
			require.Empty(t, warnings)
			require.Len(t, p.Edges, 4)
			require.Empty(t, p.Internal)
			require.Len(t, p.Notches, len(c.want))
			for i, n := range c.want {
				require.Equal(t, n.Edge, p.Notches[i].Edge)
				if name != "on a curve" {
					require.InDelta(t, n.At, p.Notches[i].At, 0.01)
				}
			}
		})
	}
}

func TestEdgesThatMightBeSidesAreReported(t *testing.T) {
	bent := `<path d="M100 100H400V400L250 700H100Z"/>`
	_, warnings := panel(t, bent, Selection{Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 10}})
	require.Len(t, warnings, 1)
	require.Equal(t, "many-edges", warnings[0].Code)
	require.Contains(t, warnings[0].Message, "the piece has 5 edges; only those beside the hem, #2 and #5, count as its sides, the others get the allowance of the top: the edges are #1 300.0 mm long")
	_, warnings = panel(t, bent, Selection{Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 15}})
	require.Empty(t, warnings)
}

// A drawing that is moved and turned a little gives the same panel, moved.
func TestPanelMovesWithTheDrawing(t *testing.T) {
	d := file(t, tansy)
	s := Selection{Panel: "back", Name: "back", Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 10}}
	want, _, err := Take(d, s)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		m := path.Rotation(path.Point{X: 400, Y: 400}, rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")).Then(path.Translation(path.Vec{
			X: rapid.Float64Range(-1e4, 1e4).Draw(t, "x"), Y: rapid.Float64Range(-1e4, 1e4).Draw(t, "y")}))
		moved := plot.Drawing{}
		for _, g := range d.Groups {
			moved.Groups = append(moved.Groups, g.Transform(m))
		}
		got, _, err := Take(moved, s)
		require.NoError(t, err)
		require.Len(t, got.Edges, len(want.Edges))
		for i, e := range want.Edges {
			p := e.Path.Transform(m)
			require.InDelta(t, 0, p.Start().Dist(got.Edges[i].Path.Start()), 1e-6)
			require.InDelta(t, p.Length(), got.Edges[i].Path.Length(), 1e-6)
		}
		require.Len(t, got.Notches, len(want.Notches))
		for i, n := range want.Notches {
			require.Equal(t, n.Edge, got.Notches[i].Edge)
			require.InDelta(t, n.At, got.Notches[i].At, 1e-6)
		}
	})
}

func BenchmarkTake(b *testing.B) {
	d := file(b, tansy)
	for name, s := range map[string]Selection{
		"stitching line": {Name: "back"},
		"cut line":       {Name: "back", Includes: &Widths{Hem: 15, Start: 15, Finish: 15, Top: 10}},
		"missing":        {ID: "missing"},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := Take(d, s); (err != nil) != (name == "missing") {
					b.Fatal(err)
				}
			}
		})
	}
}
