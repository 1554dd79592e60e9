package pattern

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// outlineOf describes the edges of a piece in one line each.
func edgeWords(in Inspected) string {
	var all []string
	for _, e := range in.Edges {
		all = append(all, fmt.Sprintf("#%d %s %v: %s", e.Number, e.Word, e.Role, e.Reason))
	}
	return strings.Join(all, "\n")
}

func problems(r Report) string {
	var all []string
	for _, p := range r.Problems {
		all = append(all, p.Code+": "+p.Where+": "+p.Message)
	}
	return strings.Join(all, "\n")
}

// inspected reports the only piece of the page with the body.
func inspected(t testing.TB, body string) (Inspected, Report) {
	t.Helper()
	r := Inspect(page(t, body), "skirt.svg")
	require.Len(t, r.Pieces, 1, problems(r))
	return r.Pieces[0], r
}

func TestSkirtIsReported(t *testing.T) {
	r := Inspect(file(t, tansy), "tansy-skirt.svg")
	require.Empty(t, r.Problems)
	require.Len(t, r.Pieces, 2)
	front, back := r.Pieces[0], r.Pieces[1]
	require.Equal(t, []any{1, "Front", "name", "Front"}, []any{front.Number, front.Name, front.Key, front.Value})
	require.Equal(t, []any{2, "Back", "name", "Back"}, []any{back.Number, back.Name, back.Key, back.Value})
	require.Equal(t, "#1 hem hem: the lowest edge\n"+
		fmt.Sprintf("#2 finish seam: as long as the start of Back, %.1f mm\n", back.Edges[3].Path.Length())+
		"#3 top other: none of the others\n#4 fold fold: a line with the word fold runs along it", edgeWords(front))
	require.Equal(t, "#1 hem hem: the lowest edge\n#2 finish seam: beside the hem, at its finish\n#3 top other: none of the others\n"+
		fmt.Sprintf("#4 start seam: as long as the finish of Front, %.1f mm", front.Edges[1].Path.Length()), edgeWords(back))
	require.True(t, front.OnFold)
	require.Equal(t, []int{1, 2}, []int{front.Quantity, back.Quantity})
	require.Len(t, front.Notches, 2)
	require.Len(t, back.Notches, 4)
	require.InDelta(t, 270, front.Grain.Length(), 1e-6)
	require.Zero(t, front.Turned)
	require.Len(t, r.Seams, 2)
	require.Equal(t, [2]SideRef{{0, fit.Finish}, {1, fit.Start}}, [2]SideRef{r.Seams[0].A, r.Seams[0].B})
	require.Equal(t, [2]SideRef{{1, fit.Finish}, {1, fit.Finish}}, [2]SideRef{r.Seams[1].A, r.Seams[1].B}, "cut 2 and sewn together")
}

// What a report says is what a panel becomes, for every piece that is right.
func TestReportSaysWhatTakeDoes(t *testing.T) {
	for name, body := range map[string]string{
		"plain":            skirt,
		"marked fold":      skirt + `<path id="fold-1" d="M100 200V600"/>`,
		"marked opening":   skirt + `<path id="opening" d="M100 200V600"/>`,
		"sideways":         `<path d="M100 100H700V300L100 400Z"/><path id="grain" d="M200 200h300"/>`,
		"with many edges":  `<path d="M100 100H400V400L250 700H200L100 600Z"/>`,
		"stitching inside": `<path d="M100 100H400V700H100Z"/><path d="M115 140H385V685H115Z"/>`,
		"a named hem":      `<path id="cut" d="M100 100H400L300 700H100Z"/><path id="hem" d="M120 700H280"/>`,
	} {
		t.Run(name, func(t *testing.T) {
			in, r := inspected(t, body)
			require.Empty(t, r.Problems)
			p, _, err := Take(page(t, body), Selection{Panel: "p", Order: 1})
			require.NoError(t, err)
			require.Len(t, in.Edges, len(p.Edges))
			m := path.Rotation(in.Outline.Bounds().Centre(), in.Turned)
			for _, e := range in.Edges {
				i := -1
				for k, f := range p.Edges {
					if f.Path.Start().Dist(m.Apply(e.Path.Start())) < 1e-6 {
						i = k
					}
				}
				require.GreaterOrEqual(t, i, 0, "edge #%d is one of the panel's", e.Number)
				require.InDelta(t, e.Path.Length(), p.Edges[i].Path.Length(), 1e-6)
				require.Equal(t, e.Role, p.Edges[i].Role, "edge #%d", e.Number)
				require.Equal(t, e.Word == "hem", i == 0)
			}
		})
	}
}

func TestCornersAreMeasuredInside(t *testing.T) {
	in, _ := inspected(t, `<path d="M100 100H400L300 700H100Z"/>`)
	lean := math.Atan2(100, 600)
	for i, want := range []float64{math.Pi / 2, math.Pi/2 - lean, math.Pi/2 + lean, math.Pi / 2} {
		require.InDelta(t, want, in.Edges[i].Corner, 1e-9, "edge #%d", i+1)
	}
	in, _ = inspected(t, `<path d="M100 100H400V650H350V700H100Z"/>`)
	require.InDelta(t, 3*math.Pi/2, in.Edges[3].Corner, 1e-9, "an inner corner")
}

func TestReasonsForTheGuesses(t *testing.T) {
	for name, c := range map[string]struct {
		body   string
		number int
		want   string
	}{
		"hem by a line":     {`<path id="hem" d="M120 700H280"/>`, 3, "hem hem: a line with the word hem runs along it"},
		"hem by its place":  {``, 1, "hem hem: the lowest edge"},
		"centre back":       {`<path class="centre back" d="M100 200V600"/>`, 4, "start seam: a line with the words centre back runs along it"},
		"side seam":         {`<g id="side seam"><path d="M390 160L310 640"/></g>`, 2, "finish seam: a line with the words side seam runs along it"},
		"slit":              {`<path id="slit" d="M100 200V400"/>`, 4, "start opening: a line with the word slit runs along it"},
		"neither":           {``, 2, "finish seam: beside the hem, at its finish"},
		"top":               {``, 3, "top other: none of the others"},
		"fold by its words": {`<path class="fold" d="M100 200V600"/>`, 4, "fold fold: a line with the word fold runs along it"},
	} {
		t.Run(name, func(t *testing.T) {
			in, r := inspected(t, skirt+c.body)
			require.Empty(t, r.Problems)
			e := in.Edges[c.number-1]
			require.Equal(t, c.want, fmt.Sprintf("%s %v: %s", e.Word, e.Role, e.Reason))
		})
	}
}

func TestOnlyStraightSideIsTheFoldOfAPieceOnTheFold(t *testing.T) {
	const curved = `<path id="cut" d="M100 100H400Q360 400 300 700H100Z"/><text x="200" y="300">cut 1 on fold</text>`
	in, r := inspected(t, curved)
	require.Empty(t, r.Problems)
	require.Equal(t, "fold", in.Edges[3].Word)
	require.Equal(t, `the only straight side, and the text "cut 1 on fold" says that the piece lies on the fold`, in.Edges[3].Reason)
	p, _ := panel(t, curved, Selection{ID: "cut"})
	require.Equal(t, fit.FoldEdge, p.Edges[3].Role)

	_, r = inspected(t, skirt+`<text x="200" y="300">cut 1 on fold</text>`)
	require.Len(t, r.Problems, 1)
	require.Contains(t, r.Problems[0].Message, "no line along a side says which edge does; say which it is with `fold: left`")
}

// A piece of pattern data has roles and facts in place of names.
func exchangePiece() plot.Drawing {
	o := path.Closed(path.Point{X: 0, Y: 0}, path.Point{X: 300, Y: 0}, path.Point{X: 250, Y: 600}, path.Point{X: 0, Y: 600})
	return plot.Drawing{Groups: []plot.Group{{ID: "FRONT-10", Piece: &plot.Piece{Name: "Front", Size: "10", Quantity: 3, OnFold: true}, Lines: []plot.Line{
		{Role: plot.Cut, Path: o},
		{Role: plot.Fold, Path: path.Open(path.Point{X: 0, Y: 0}, path.Point{X: 0, Y: 600})},
		{Role: plot.Grain, Path: path.Open(path.Point{X: 100, Y: 100}, path.Point{X: 100, Y: 500})},
		{Role: plot.Notch, Path: path.Open(path.Point{X: 275, Y: 300}, path.Point{X: 268, Y: 299.4}), Notch: fit.VNotch, Width: 5},
	}}}}
}

func TestMirrorLineIsTheFold(t *testing.T) {
	r := Inspect(exchangePiece(), "style.dxf")
	require.Len(t, r.Pieces, 1)
	in := r.Pieces[0]
	require.Equal(t, []any{"Front", "name", "Front", "10", 3, true}, []any{in.Name, in.Key, in.Value, in.Size, in.Quantity, in.OnFold})
	require.Equal(t, "fold fold: the mirror line runs along it", fmt.Sprintf("%s %v: %s", in.Edges[3].Word, in.Edges[3].Role, in.Edges[3].Reason))
	require.Len(t, in.Notches, 1)
	require.InDelta(t, 400, in.Grain.Length(), 1e-9)
}

func TestSidesOfEqualLengthAreSewnTogether(t *testing.T) {
	piece := func(id, d string) string { return `<path id="` + id + `" d="` + d + `"/>` }
	at := func(i int, e fit.End) SideRef { return SideRef{i, e} }
	for name, c := range map[string]struct {
		body string
		want []SeamGuess
	}{
		"front and back all round": {
			piece("front", "M0 0H300L250 600H50Z") + piece("back", "M400 0H720L670 600H450Z"),
			[]SeamGuess{{A: at(0, fit.Start), B: at(1, fit.Finish)}, {A: at(0, fit.Finish), B: at(1, fit.Start)}}},
		"the nearest of three": {
			piece("a", "M0 0H100V600.8H0Z") + piece("b", "M200 0H300V600H200Z") + piece("c", "M400 0H500V600.1H400Z"),
			[]SeamGuess{{A: at(1, fit.Start), B: at(2, fit.Finish)}, {A: at(1, fit.Finish), B: at(2, fit.Start)}}},
		"too far apart": {piece("a", "M0 0H100V602H0Z") + piece("b", "M200 0H300V600H200Z"), nil},
		"within three parts in a thousand": {piece("a", "M0 0H100V901L0 920Z") + piece("b", "M200 0H300V903L200 950Z"),
			[]SeamGuess{{A: at(0, fit.Finish), B: at(1, fit.Finish)}}},
		"not at the centre back": {
			piece("front", "M0 0H300L250 600H0Z") + `<g id="back">` + piece("back-cut", "M400 0H600V602L450 600Z") + piece("CB", "M600 50V550") + `<text x="450" y="300">cut 2</text></g>`,
			[]SeamGuess{{A: at(0, fit.Finish), B: at(1, fit.Start)}, {A: at(1, fit.Finish), B: at(1, fit.Finish)}}},
		"gores": {`<g id="gore">` + piece("a", "M0 0H100L80 600H20Z") + `<text x="40" y="300">cut 6</text></g>`,
			[]SeamGuess{{A: at(0, fit.Start), B: at(0, fit.Finish)}}},
	} {
		t.Run(name, func(t *testing.T) {
			r := Inspect(page(t, c.body), "")
			var got []SeamGuess
			for _, s := range r.Seams {
				require.NotEmpty(t, s.Reason)
				require.InDelta(t, r.Pieces[s.A.Piece].side(s.A.End).Path.Length(), s.ALength, 1e-9)
				require.InDelta(t, r.Pieces[s.B.Piece].side(s.B.End).Path.Length(), s.BLength, 1e-9)
				got = append(got, SeamGuess{A: s.A, B: s.B})
			}
			require.Equal(t, c.want, got)
		})
	}
}

func TestPieceIsFoundByTheKeyOfTheReport(t *testing.T) {
	for _, body := range []string{
		skirt,
		`<path d="M100 100H400L300 700H100Z"/>`,
		`<g><title>front</title><path d="M100 100h200v600h-200z"/></g><g><title>front</title><path d="M500 100h200v600h-200z"/></g>`,
		`<path d="M100 100h200v600h-200z"/><path d="M500 100h200v600h-200z"/><text x="200" y="300">BACK</text>`,
	} {
		d := page(t, body)
		for _, in := range Inspect(d, "").Pieces {
			sel := Selection{Panel: "p"}
			require.Contains(t, []string{"name", "id", "label", "text", "order"}, in.Key)
			in.Find(&sel)
			p, _, err := Take(d, sel)
			require.NoError(t, err)
			require.InDelta(t, 0, p.Outline().Bounds().Min.Dist(in.Outline.Bounds().Min), 1e-9)
		}
	}
}

func TestEveryProblemIsListed(t *testing.T) {
	r := Inspect(page(t, `<path id="a" d="M0 0H300L100 600H300Z"/><path id="b" d="M400 0H600V700H400V0.2"/><circle cx="800" cy="300" r="90"/>`+
		`<path id="notch" d="M500 400h8"/>`), "x.svg")
	require.Len(t, r.Pieces, 3)
	all := problems(r)
	require.Contains(t, all, "the outline crosses or touches itself at 180.0, 360.0 mm; draw it so that it nowhere meets itself")
	require.Contains(t, all, "gap-closed: x.svg, panel b: the outline had a gap of 0.20 mm at 400.0, 0.2 mm")
	require.Contains(t, all, "notch-off-edge: x.svg, panel b: the notch at 500.0, 400.0 mm is 92.0 mm from the outline and was left out")
	require.Contains(t, all, "the outline has no corner of 25 degrees or more")
	require.Contains(t, problems(Inspect(plot.Drawing{}, "x.svg")), "no-piece: x.svg: the drawing has no piece; draw each piece as a closed outline")
}

// A sheet of two pieces of many lines, as one size of a nest.
func BenchmarkInspect(b *testing.B) {
	for name, d := range map[string]plot.Drawing{
		"tansy":         file(b, tansy),
		"loose, dense":  dense(2, 400),
		"nine pieces":   dense(9, 400),
		"many segments": dense(2, 20_000),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if r := Inspect(d, ""); len(r.Pieces) == 0 {
					b.Fatal(problems(r))
				}
			}
		})
	}
}

// dense returns pieces whose outlines are so many points of a curve and three
// straight lines.
func dense(pieces, points int) plot.Drawing {
	var d plot.Drawing
	for k := range pieces {
		o := path.Path{Closed: true}
		for i := range points + 1 {
			x := 400 * float64(i) / float64(points)
			o.V = append(o.V, path.Vertex{Point: path.Point{X: 600*float64(k) + x, Y: x * (400 - x) / -2000}})
		}
		o.V = append(o.V, path.Vertex{Point: path.Point{X: 600*float64(k) + 350, Y: 600}}, path.Vertex{Point: path.Point{X: 600*float64(k) + 50, Y: 600}})
		d.Groups = append(d.Groups, plot.Group{ID: fmt.Sprint("piece-", k), Lines: []plot.Line{{Path: o}}})
	}
	return d
}

// The sides and the straight middle of a flared skirt are equally long.
func TestSidesOfASeamLeanAlike(t *testing.T) {
	sizes := sizesOf(t, file(t, damsonFile), ByLayer)
	r := Inspect(sizes[0].Drawing, damsonFile)
	require.Len(t, r.Seams, 2)
	front, back := SideRef{0, fit.Finish}, SideRef{1, fit.Finish}
	middle := SideRef{1, fit.Start}
	require.Equal(t, [2]SideRef{front, back}, [2]SideRef{r.Seams[0].A, r.Seams[0].B})
	require.Equal(t, [2]SideRef{middle, middle}, [2]SideRef{r.Seams[1].A, r.Seams[1].B})
}

func TestDrawingOfAnOpenOutlineSaysWhereItIsOpen(t *testing.T) {
	d := file(t, "../../../../testdata/pattern/open-outline.svg")
	for _, sel := range []Selection{{Order: 1}, {}} {
		_, _, err := Take(d, sel)
		require.ErrorContains(t, err, "the outline is open: a gap of 3.16 mm between 339.0, 63.0 mm and 340.0, 60.0 mm")
	}
	r := Inspect(d, "skirt.svg")
	require.Empty(t, r.Pieces)
	require.Len(t, r.Problems, 1)
	require.Equal(t, "the drawing has no piece: the outline is open: a gap of 3.16 mm between 339.0, 63.0 mm and 340.0, 60.0 mm; "+
		"join the two ends in the drawing program; gaps up to 0.5 mm are closed here", r.Problems[0].Message)
}
