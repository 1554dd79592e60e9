package pattern

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
)

func TestHemGoesOnAlongSeveralEdges(t *testing.T) {
	// The corners are A at 100, 100, then counter-clockwise B, C, D and E.
	const five = `<path d="M100 100H400V300L250 400H100Z"/>`
	for name, c := range map[string]struct {
		hem   string
		more  []string
		from  path.Point // of the hem
		to    path.Point
		edges int
	}{
		"two":                        {"#1", []string{"#2"}, path.Point{X: 100, Y: 100}, path.Point{X: 400, Y: 300}, 4},
		"the other way round":        {"#2", []string{"A to B"}, path.Point{X: 100, Y: 100}, path.Point{X: 400, Y: 300}, 4},
		"three, over the lower left": {"#5", []string{"#2", "#1"}, path.Point{X: 100, Y: 400}, path.Point{X: 400, Y: 300}, 3},
	} {
		t.Run(name, func(t *testing.T) {
			p, _ := panel(t, five, Selection{Hem: c.hem, More: c.more, Allowance: Widths{Hem: 6, Start: 15, Finish: 14, Top: 10}})
			require.Len(t, p.Edges, c.edges)
			require.Equal(t, fit.HemEdge, p.Edges[0].Role)
			require.Equal(t, c.from, p.Edges[0].Path.Start())
			require.Equal(t, c.to, p.Edges[0].Path.End())
			require.Equal(t, len(c.more)+1, p.Edges[0].Path.Segments())
			require.Equal(t, []float64{6, 14, 15}, []float64{p.Edges[0].Allowance, p.Edges[1].Allowance, p.Edges[len(p.Edges)-1].Allowance})
			require.InDelta(t, 300*300-150*100/2, p.Outline().Area(), 1e-6)
		})
	}
	// Its allowance comes off all round the corner.
	p, _ := panel(t, five, Selection{Hem: "#1", More: []string{"#2"}, Includes: &Widths{Hem: 10, Start: 20, Finish: 20, Top: 20}})
	require.InDelta(t, 0, p.Edges[0].Path.V[1].Dist(path.Point{X: 390, Y: 110}), 1e-9)
	for _, c := range []struct {
		more    []string
		problem string
		hint    string
	}{
		{[]string{"#3"}, "the edges of the hem do not follow one another: after #1 comes #2, which is none of them", "say which edge is the hem"},
		{[]string{"#1"}, "the hem names the edge #1 twice", "name each edge once"},
		{[]string{"#2", "#3", "#4"}, "the hem has 4 of the 5 edges, which leaves no two sides for it to end on", "write `hem: all round`"},
		{[]string{"#9"}, `the hem "#9" is none of the edges`, "say which edge is the hem"},
	} {
		requireError(t, page(t, five), Selection{Hem: "#1", More: c.more}, c.problem, c.hint)
	}
}

func TestHemGoesAllRound(t *testing.T) {
	const disc = `<circle cx="500" cy="500" r="300"/>`
	p, _ := panel(t, disc, Selection{Hem: "all round", Allowance: Widths{Hem: 6}})
	require.Len(t, p.Edges, 1)
	require.True(t, p.Edges[0].Path.Closed)
	require.InDelta(t, math.Pi*300*300, p.Outline().Area(), 1)
	require.InDelta(t, 6, p.Edges[0].Allowance, 0)
	// An allowance is taken off; a corner stays one.
	p, _ = panel(t, disc, Selection{Hem: "All round", Includes: &Widths{Hem: 10}})
	require.InDelta(t, 2*math.Pi*290, p.Edges[0].Path.Length(), 0.01)
	p, _ = panel(t, `<path d="M100 100H400V700H100Z"/>`, Selection{Hem: "all round", Includes: &Widths{Hem: 10}})
	require.InDelta(t, 280*580, p.Outline().Area(), 1e-6)
	// Between a cut line and a stitching line nothing is asked.
	p, _ = panel(t, `<g id="a"><circle id="cut" cx="500" cy="500" r="310"/><circle id="stitching" cx="500" cy="500" r="300"/></g>`, Selection{ID: "a", Hem: "all round"})
	require.InDelta(t, 2*math.Pi*300, p.Edges[0].Path.Length(), 0.01)
	requireError(t, page(t, disc), Selection{Hem: "all round", Includes: &Widths{Hem: 301}}, "an allowance of 301.0 mm cannot be taken off the outline", "")
	requireError(t, page(t, disc), Selection{Hem: "all round", More: []string{"#1"}}, "the hem goes all round", "leave out the others")
	requireError(t, page(t, disc), Selection{}, "the outline has no corner of 25 degrees or more", "write `hem: all round` under `piece:`")
}
