package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot"
)

func TestHemOfSeveralCurvesIsOneLine(t *testing.T) {
	// Kinks of 10 and 15 degrees between the curves.
	p, _ := panel(t, `<path d="M100 120Q150 105 200 100L300 117.6Q360 150 400 200V700H100Z"/>`, Selection{})
	require.Len(t, p.Edges, 4)
	require.InDelta(t, 0, p.Edges[0].Path.Start().Dist(path.Point{X: 100, Y: 120}), 1e-6)
	require.InDelta(t, 0, p.Edges[0].Path.End().Dist(path.Point{X: 400, Y: 200}), 1e-6)
}

const (
	vent = `<path d="M100 100H250V140H300V100H400V700H100Z"/>`
	wrap = `<path d="M100 100L250 60L400 100V700H100Z"/>`
)

func TestHemWithACornerIsSeveralRuns(t *testing.T) {
	for name, c := range map[string]struct {
		body    string
		words   string
		problem string
	}{
		"vent": {vent, "hem top top top hem finish top start", "the edges #1 and #5 both lie below the piece, with a corner between them at 250.0, 100.0 mm"},
		"wrap": {wrap, "hem hem finish top start", "the edges #1 and #2 both lie below the piece, with a corner between them at 250.0, 60.0 mm"},
		"three": {`<path d="M100 100L200 60L300 50L400 100V700H100Z"/>`, "hem hem hem finish top start",
			"the edges #1, #2 and #3 all lie below the piece"},
	} {
		t.Run(name, func(t *testing.T) {
			d := page(t, c.body)
			if name == "three" {
				_, _, err := Take(d, Selection{Corner: 5 * math.Pi / 180})
				require.ErrorContains(t, err, c.problem)
				return
			}
			requireError(t, d, Selection{Hem: "lowest"}, c.problem, "or say which edge is the hem by its number in quotes, such as `hem: \"#1\"`")
			in, r := inspected(t, c.body)
			var words []string
			for _, e := range in.Edges {
				words = append(words, e.Word)
			}
			require.Equal(t, c.words, strings.Join(words, " "))
			require.Len(t, r.Problems, 1)
			require.Contains(t, r.Problems[0].Message, c.problem)
			require.Contains(t, edgeWords(in), "another run of the hem, beyond a corner: it keeps its line and gets the hem's allowance")
		})
	}
}

func TestOtherRunsOfTheHemHaveItsAllowance(t *testing.T) {
	p, _ := panel(t, vent, Selection{Hem: "#5", Includes: &Widths{Hem: 30, Start: 10, Finish: 10, Top: 10}, Allowance: Widths{Hem: 6, Start: 12, Finish: 12, Top: 8}})
	require.Equal(t, "hem hem, right seam, top 1 other, top 2 other, hem #1 other, top 4 other, top 5 other, left seam", roleNames(p))
	require.InDelta(t, 130, p.Edges[0].Path.Start().Y, 1e-9)
	require.InDelta(t, 130, p.Edges[4].Path.Start().Y, 1e-9)
	require.InDelta(t, 6, p.Edges[4].Allowance, 0)

	t.Run("beside the hem", func(t *testing.T) {
		p, _ := panel(t, wrap, Selection{Hem: "#2", Allowance: Widths{Hem: 6, Start: 12, Finish: 12, Top: 8}})
		require.Equal(t, "hem hem, right seam, top 1 other, top 2 other, hem #1 other", roleNames(p))
		require.InDelta(t, 6, p.Edges[4].Allowance, 0)
	})
	t.Run("and the fold beside it is the fold", func(t *testing.T) {
		p, _ := panel(t, wrap+`<path id="fold" d="M100 200V600"/>`, Selection{Order: 1, Hem: "#2", Allowance: Widths{Hem: 6, Start: 12, Finish: 12, Top: 8}})
		require.Equal(t, "hem hem, right seam, top 1 other, top 2 fold, hem #1 other", roleNames(p))
		require.Zero(t, p.Edges[3].Allowance)
	})
}

func TestAllowanceOfASingleEdge(t *testing.T) {
	p, _ := panel(t, `<path d="M100 100H400V400L250 700H100Z"/>`, Selection{
		Includes:  &Widths{Hem: 30, Start: 10, Finish: 10, Top: 10, Edges: []EdgeWidth{{"#3", 20}}},
		Allowance: Widths{Top: 5, Edges: []EdgeWidth{{"D to E", 7}, {"#1", 9}}},
	})
	// Edge #3 lies on the line through 400, 400 and 250, 700.
	u := path.Vec{X: -150, Y: 300}.Unit()
	for _, q := range []path.Point{p.Edges[2].Path.Start(), p.Edges[2].Path.End()} {
		require.InDelta(t, 20, q.Sub(path.Point{X: 400, Y: 400}).Dot(u.Left()), 1e-9)
	}
	require.Equal(t, []float64{9, 0, 5, 7, 0}, []float64{p.Edges[0].Allowance, p.Edges[1].Allowance, p.Edges[2].Allowance, p.Edges[3].Allowance, p.Edges[4].Allowance})
	requireError(t, page(t, skirt), Selection{Includes: &Widths{Edges: []EdgeWidth{{"#2", -3}}}}, "an allowance of -3 mm cannot be", "give a width from 0")
	requireError(t, page(t, skirt), Selection{Includes: &Widths{Edges: []EdgeWidth{{"#7", 3}}}}, `the edge "#7" is none of the edges`, "name an edge by its number in quotes, such as `\"#3\": 10`, under `edges:`; the edges are #1")
	requireError(t, page(t, skirt), Selection{Allowance: Widths{Edges: []EdgeWidth{{"#2", 3}, {"B to C", 4}}}}, "two widths under `allowance:` are for the edge #2", "leave out one")
}

func TestEdgeIsNamedByItsCorners(t *testing.T) {
	// The corners are A at 100, 100, then counter-clockwise B, C, D and E.
	const five = `<path d="M100 100H400V300L250 400H100Z"/>`
	for name, number := range map[string]int{
		"A to B": 1, "B to A": 1, "B to C": 2, "D to E": 4, "A to E": 5, "#2": 2,
		"from 100, 100 to 400, 100": 1, "from 0,-50 to 360, 110": 1, "from 400, 100 to 101.5, 99": 1, "from 390, 310 to 250, 450": 3,
	} {
		p, _ := panel(t, five, Selection{Hem: name})
		all, _ := panel(t, five, Selection{Hem: fmt.Sprintf("#%d", number)})
		require.Equal(t, all.Edges[0].Path, p.Edges[0].Path, name)
	}
	for name, want := range map[string]string{
		"A to A":                    "names the corner A twice, at 100.0, 100.0",
		"A to C":                    "names the corners A and C, between which there are several edges",
		"A to Q":                    "names a corner that is not there",
		"from 100, 100 to 90, 90":   "names the corner A twice",
		"from 100, 100 to 270, 410": "names the corners A and D, between which there are several edges",
		"from 1.2.3, 4 to 5, 6":     "no line of the piece has the id or label",
	} {
		requireError(t, page(t, five), Selection{Hem: name}, want, "the edges are #1")
	}
	require.Equal(t, "A Z AA AZ BA", strings.Join([]string{CornerLetter(1), CornerLetter(26), CornerLetter(27), CornerLetter(52), CornerLetter(53)}, " "))
}

// lyingSkirt is a skirt 300 mm wide at the hem and 200 at the waist, with its grain
// and a notch 200 mm above the hem on its right side, turned.
func lyingSkirt(turn float64) plot.Drawing {
	m := path.Rotation(path.Point{X: 400, Y: 400}, turn)
	lines := []plot.Line{
		{ID: "cut", Path: path.Closed(path.Point{X: 0, Y: 0}, path.Point{X: 300, Y: 0}, path.Point{X: 250, Y: 600}, path.Point{X: 50, Y: 600})},
		{ID: "grain", Path: path.Open(path.Point{X: 150, Y: 100}, path.Point{X: 150, Y: 500})},
		{ID: "notch", Path: path.Open(path.Point{X: 285, Y: 200}, path.Point{X: 275, Y: 200})},
		{ID: "pocket", Path: path.Open(path.Point{X: 100, Y: 300}, path.Point{X: 200, Y: 320})},
	}
	return plot.Drawing{Groups: []plot.Group{plot.Group{ID: "front", Lines: lines}.Transform(m)}}
}

func TestPieceTurnsOntoItsGrain(t *testing.T) {
	want, _, err := Take(lyingSkirt(0), Selection{Panel: "front", ID: "front"})
	require.NoError(t, err)
	for _, degrees := range []float64{90, -90, 80, -80, 30, -30, 55} {
		t.Run(fmt.Sprint(degrees), func(t *testing.T) {
			d := lyingSkirt(degrees * math.Pi / 180)
			p, warnings, err := Take(d, Selection{Panel: "front", ID: "front"})
			require.NoError(t, err)
			requirePanel(t, p)
			require.Len(t, warnings, 1)
			require.Equal(t, "turned", warnings[0].Code)
			require.Contains(t, warnings[0].Message, fmt.Sprintf("turned by %.0f degrees", -degrees))
			require.InDelta(t, 0, p.Edges[0].Path.StartTangent().Angle(), 1e-9)
			require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-6)
			require.InDelta(t, 0, p.Grain.Chord().X, 1e-9)
			require.Len(t, p.Notches, 1)
			require.Equal(t, 1, p.Notches[0].Edge)
			require.InDelta(t, want.Notches[0].At, p.Notches[0].At, 1e-6)
			require.Len(t, p.Internal, 1)
			require.InDelta(t, want.Internal[0].Start().Dist(want.Edges[0].Path.Start()), p.Internal[0].Start().Dist(p.Edges[0].Path.Start()), 1e-6)
			in := Inspect(d, "").Pieces[0]
			require.InDelta(t, -degrees*math.Pi/180, in.Turned, 1e-9)
			require.Equal(t, "the lowest edge when the piece stands on its grain line", in.Edges[slices.IndexFunc(in.Edges, func(e InspectedEdge) bool { return e.Word == "hem" })].Reason)
		})
	}
}

func TestPieceOnTheBiasStaysAsDrawn(t *testing.T) {
	for _, grain := range []string{"M150 200L350 400", "M150 400L350 200", "M200 200L260 500"} {
		p, warnings := panel(t, skirt+`<path id="grain" d="`+grain+`"/>`, Selection{ID: "cut"})
		require.Empty(t, warnings)
		require.InDelta(t, 300, p.Edges[0].Path.Length(), 1e-9)
	}
}

func TestHemThatTheGrainDoesNotTell(t *testing.T) {
	const level = `<path id="cut" d="M100 100H400V700H100Z"/><path id="grain" d="M150 300H350"/>`
	requireError(t, page(t, level), Selection{ID: "cut"},
		"the grain line lies level, and with the piece turned to stand on it, the edges #2 and #4 could both be the hem", "say which edge is the hem by its number in quotes")
	p, warnings := panel(t, level, Selection{ID: "cut", Hem: "#1"})
	require.Empty(t, warnings)
	require.InDelta(t, 100, p.Edges[0].Path.Start().Y, 1e-9, "a hem that lies below is left there")
	p, warnings, err := Take(page(t, level), Selection{ID: "cut", Hem: "#2"})
	require.NoError(t, err)
	require.Len(t, warnings, 1)
	require.InDelta(t, 600, p.Edges[0].Path.Length(), 1e-9)
	require.InDelta(t, 600, p.Edges[0].Path.End().Sub(p.Edges[0].Path.Start()).X, 1e-9)
}
