package pattern

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot"
)

// loose returns the lines of a drawing in one group.
func loose(lines ...path.Path) plot.Drawing {
	var g plot.Group
	for _, l := range lines {
		g.Lines = append(g.Lines, plot.Line{Path: l})
	}
	return plot.Drawing{Groups: []plot.Group{g}}
}

// The outline of a skirt with a curved waist, cut at random places into lines that
// run either way, some drawn twice, some with a part drawn again, all out of order.
func TestOutlineInLooseSegmentsIsJoined(t *testing.T) {
	whole := path.Path{Closed: true, V: []path.Vertex{{Point: path.Point{X: 0, Y: 0}}, {Point: path.Point{X: 300, Y: 0}}, {Point: path.Point{X: 250, Y: 600}, Bulge: -0.1}, {Point: path.Point{X: 50, Y: 600}}}}
	r := path.NewRuler(whole)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "lines")
		shift := rapid.Float64Range(0, 100).Draw(t, "shift")
		gap := rapid.SampledFrom([]float64{0, 0.04, 0.2}).Draw(t, "gap")
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		var lines []path.Path
		for i := range n {
			from, to := shift+r.Length()*float64(i)/float64(n), shift+r.Length()*float64(i+1)/float64(n)
			from = math.Mod(from, r.Length())
			to = math.Mod(to, r.Length())
			l := r.Sub(from, to)
			if random.IntN(2) == 0 {
				l = l.Reverse()
			}
			switch random.IntN(4) {
			case 0:
				lines = append(lines, l.Reverse())
			case 1:
				in := path.NewRuler(l)
				lines = append(lines, in.Sub(0.2*in.Length(), 0.7*in.Length()))
			}
			v := path.Vec{X: gap * (random.Float64() - 0.5), Y: gap * (random.Float64() - 0.5)}
			lines = append(lines, l.Transform(path.Translation(v)))
		}
		random.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		p, _, err := Take(loose(lines...), Selection{Panel: "p"})
		require.NoError(t, err)
		require.Len(t, p.Edges, 4)
		require.InDelta(t, whole.Area(), p.Outline().Area(), 20+gap*r.Length())
		require.Empty(t, p.Internal)
	})
}

func TestLargestClosedGapIsReported(t *testing.T) {
	body := `<g id="front"><path d="M100 100H400"/><path d="M400 100.1L300 700"/><path d="M300.3 700H100"/><path d="M100 700V100.2"/></g>`
	_, r := inspected(t, body)
	require.Len(t, r.Problems, 1)
	require.Contains(t, r.Problems[0].Message, "a gap of 0.30 mm at 30")
}

func TestLinesShorterThanTheGapKeepTheirEnds(t *testing.T) {
	// A waist in lines of 0.1 mm.
	lines := []path.Path{path.Open(path.Point{X: 0, Y: 600}, path.Point{}, path.Point{X: 200}, path.Point{X: 200, Y: 600})}
	at := func(i int) path.Point {
		a := math.Pi * float64(i) / 2000
		return path.Point{X: 100 + 100*math.Cos(a), Y: 600 - 30*math.Sin(a)}
	}
	for i := range 2000 {
		lines = append(lines, path.Open(at(i), at(i+1)))
	}
	p, warnings, err := Take(loose(lines...), Selection{Panel: "p"})
	require.NoError(t, err)
	require.Empty(t, warnings)
	require.Len(t, p.Edges, 4)
	require.InDelta(t, 200*600-math.Pi*100*30/2, p.Outline().Area(), 1)
}

func TestPartsOfLinesDrawnTwiceCountOnce(t *testing.T) {
	for name, lines := range map[string]string{
		"drawn twice":                 `<path d="M400 100H100"/>`,
		"a part of a line":            `<path d="M150 100H390"/>`,
		"a part, to its end":          `<path d="M150 100H400"/>`,
		"two that overlap each other": `<path d="M100 700H350"/>`,
		"a bit beside it":             `<path d="M150 100.03H390"/>`,
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, `<path d="M100 100H400"/><path d="M400 100V700"/><path d="M400 700H180"/><path d="M100 700V100"/><path d="M300 700H100"/>`+lines, Selection{})
			require.Len(t, p.Edges, 4)
			require.InDelta(t, 300*600, p.Outline().Area(), 20)
			require.Empty(t, p.Internal)
		})
	}
}

func TestPiecesThatTouchAreToldApart(t *testing.T) {
	const left, right = `<path d="M100 700H0"/><path d="M0 700V0"/><path d="M0 0H100"/>`, `<path d="M100 0H300"/><path d="M300 0V700"/><path d="M300 700H100"/>`
	for name, c := range map[string]struct {
		body   string
		shared bool
		areas  []float64
	}{
		"at a line":                     {left + `<path d="M100 0V700"/>` + right, true, []float64{100 * 700, 200 * 700}},
		"at a line drawn twice":         {left + `<path d="M100 0V700"/><path d="M100 700V0"/>` + right, true, []float64{100 * 700, 200 * 700}},
		"at an outline":                 {`<path d="M0 0H100V700H0Z"/>` + right, true, []float64{100 * 700, 200 * 700}},
		"at a part of an outline":       {`<path d="M0 0H100V700H0Z"/><path d="M100 100H300V600H100"/>`, true, []float64{100 * 700, 200 * 500}},
		"three in a row":                {`<path d="M0 0H100V700H0Z"/>` + right + `<path d="M300 50H500V650H300"/>`, true, []float64{100 * 700, 200 * 700, 200 * 600}},
		"at a corner":                   {left + `<path d="M100 0V700"/><path d="M100 700H300"/><path d="M300 700V1400"/><path d="M300 1400L100 700"/>`, false, []float64{100 * 700, 200 * 700 / 2}},
		"at a line, with one hanging":   {left + `<path d="M100 0V700"/><path d="M100 700L120 760"/>` + right, true, []float64{100 * 700, 200 * 700}},
		"at a line, and one in between": {left + `<path d="M100 0V300"/><path d="M100 300V700"/>` + right, true, []float64{100 * 700, 200 * 700}},
	} {
		t.Run(name, func(t *testing.T) {
			r := Inspect(page(t, c.body), "")
			require.Len(t, r.Pieces, len(c.areas))
			for i, want := range c.areas {
				require.InDelta(t, want, r.Pieces[i].Outline.Area(), 1e-6)
				require.GreaterOrEqual(t, len(r.Pieces[i].Edges), 3)
				require.Equal(t, c.shared, strings.Contains(problems(r), "shares a line"))
				p, _, err := Take(page(t, c.body), Selection{Panel: "p", Order: i + 1})
				require.NoError(t, err)
				require.InDelta(t, want, p.Outline().Area(), 1e-6)
				require.Empty(t, p.Notches)
				require.Empty(t, p.Internal)
			}
		})
	}
}

func TestTouchingPieceIsFoundByItsOwnLine(t *testing.T) {
	body := `<path id="a" d="M100 700H0V0H100"/><path id="both" d="M100 0V700"/><path id="b" d="M100 0H300V700H100"/>`
	for id, want := range map[string]float64{"a": 100 * 700, "b": 200 * 700} {
		p, _, err := Take(page(t, body), Selection{Panel: "p", ID: id})
		require.NoError(t, err)
		require.InDelta(t, want, p.Outline().Area(), 1e-6)
	}
	requireError(t, page(t, body), Selection{ID: "both"}, "more than two lines meet", "")
}

func TestPieceDrawnInsideAnotherIsOneOfItsOwnWhenItHasItsOwnGrain(t *testing.T) {
	big, small := `<path id="big" d="M0 0H500V800H0Z"/><path id="grain" d="M50 100V700"/>`, `<path id="small" d="M100 100H300V600H100Z"/><path id="grain-2" d="M200 200V500"/>`
	r := Inspect(page(t, `<g id="A">`+big+`</g><g id="B">`+small+`</g>`), "")
	require.Len(t, r.Pieces, 2)
	require.Equal(t, "small", r.Pieces[1].Value)
	r = Inspect(page(t, big+`<path id="pocket" d="M100 100H300V400H100Z"/>`), "")
	require.Len(t, r.Pieces, 1)

	d := exchangePiece()
	other := d.Groups[0]
	other.ID, other.Piece = "BACK-10", &plot.Piece{Name: "Back", Size: "10"}
	other.Lines = []plot.Line{{Role: plot.Cut, Path: path.Closed(path.Point{X: 50, Y: 50}, path.Point{X: 200, Y: 50}, path.Point{X: 200, Y: 400}, path.Point{X: 50, Y: 400})}}
	d.Groups = append(d.Groups, other)
	r = Inspect(d, "")
	require.Len(t, r.Pieces, 2, "blocks lie on one another in pattern data")
}

func TestLetteringInStrokesIsNoPartOfTheOutline(t *testing.T) {
	var strokes strings.Builder
	for i := range 400 {
		x, y := 120+5*(i%40), 300+9*(i/40)
		fmt.Fprintf(&strokes, `<path d="M%d %dv4"/><path d="M%d %dl3 4 1 -2"/><path d="M%d %dh3v3h-3z"/>`, x, y, x, y, x+1, y)
	}
	p, warnings := panel(t, `<path d="M100 100H400V700H100Z"/>`+strokes.String(), Selection{})
	require.Empty(t, warnings)
	require.Empty(t, p.Notches)
	require.Len(t, p.Internal, 1200)
	require.InDelta(t, 300*600, p.Outline().Area(), 1e-9)
}

// However lines crowd, the work on them is bounded.
func TestCrowdsOfLinesAreGotThrough(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	at := func(size float64) path.Point {
		return path.Point{X: size * random.Float64(), Y: size * random.Float64()}
	}
	for name, line := range map[string]func(i int) path.Path{
		"in one place":   func(int) path.Path { return path.Open(at(0.4), at(0.4)) },
		"across a page":  func(int) path.Path { return path.Open(at(1000), at(1000)) },
		"from one point": func(int) path.Path { return path.Open(path.Point{}, at(1000)) },
		"on one another": func(i int) path.Path {
			return path.Open(path.Point{X: float64(i) / 50}, path.Point{X: 900 + float64(i)/50})
		},
		"squares in a square": func(i int) path.Path {
			d := float64(i) / 100
			return path.Closed(path.Point{X: d, Y: d}, path.Point{X: 999 - d, Y: d}, path.Point{X: 999 - d, Y: 999 - d}, path.Point{X: d, Y: 999 - d})
		},
		"a net": func(i int) path.Path {
			a := path.Point{X: float64(i % 100 * 10), Y: float64(i / 200 * 10)}
			if i/100%2 == 0 {
				return path.Open(a, a.Add(path.Vec{X: 10}))
			}
			return path.Open(a, a.Add(path.Vec{Y: 10}))
		},
	} {
		t.Run(name, func(t *testing.T) {
			var lines []path.Path
			for i := range 8000 {
				lines = append(lines, line(i))
			}
			r := Inspect(loose(lines...), "x.dxf")
			require.LessOrEqual(t, len(r.Pieces), mostPieces)
		})
	}
}
