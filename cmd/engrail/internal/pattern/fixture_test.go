package pattern

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/svg"
)

const tansy = "../../../../testdata/pattern/tansy-skirt.svg"

// file reads one of the drawings of testdata/pattern.
func file(t testing.TB, name string) plot.Drawing {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	d, err := svg.Read(f, svg.Options{})
	require.NoError(t, err)
	return d
}

// tansyPanels returns the front and the back of the skirt, whose outlines have
// 15 mm on the sides and the hem and 10 mm on the waist.
func tansyPanels(t testing.TB) (front, back fit.Panel) {
	t.Helper()
	d := file(t, tansy)
	take := func(s Selection) fit.Panel {
		s.File, s.Includes = "tansy-skirt.svg", &Widths{Hem: 15, Start: 15, Finish: 15, Top: 10}
		s.Allowance = Widths{Hem: 6, Start: 15, Finish: 12, Top: 10}
		p, warnings, err := Take(d, s)
		require.NoError(t, err)
		require.Empty(t, warnings)
		return p
	}
	return take(Selection{Panel: "front", Name: "front"}), take(Selection{Panel: "back", Name: "back"})
}

// requirePanel checks what fit.Panel promises.
func requirePanel(t require.TestingT, p fit.Panel) {
	if hem := p.Edges[0].Path; hem.Closed { // all round
		require.Len(t, p.Edges, 1)
		require.Equal(t, fit.HemEdge, p.Edges[0].Role)
		require.True(t, hem.Simple())
		require.Positive(t, hem.Area())
		return
	}
	for i, e := range p.Edges {
		next := p.Edges[(i+1)%len(p.Edges)]
		require.Equal(t, next.Path.Start(), e.Path.End(), "edges share their corners")
		require.False(t, e.Path.Closed)
		if e.Role == fit.FoldEdge {
			require.Equal(t, 1, e.Path.Segments())
			require.True(t, e.Path.Segment(0).IsLine())
			require.Zero(t, e.Allowance)
		}
	}
	require.Equal(t, fit.HemEdge, p.Edges[0].Role)
	require.GreaterOrEqual(t, len(p.Edges), 3)
	outline := p.Outline()
	require.True(t, outline.Simple())
	require.Positive(t, outline.Area())
	for _, n := range p.Notches {
		require.True(t, n.At >= 0 && n.At <= p.Edges[n.Edge].Path.Length(), "%+v on %v mm", n, p.Edges[n.Edge].Path.Length())
	}
}

func roleNames(p fit.Panel) string {
	var all []string
	for _, e := range p.Edges {
		all = append(all, e.Name+" "+e.Role.String())
	}
	return strings.Join(all, ", ")
}

func TestSkirtPanelsHaveTheirEdgesInOrder(t *testing.T) {
	front, back := tansyPanels(t)
	requirePanel(t, front)
	requirePanel(t, back)
	require.Equal(t, "hem hem, right seam, top other, left fold", roleNames(front))
	require.Equal(t, "hem hem, right seam, top other, left seam", roleNames(back))
	require.Equal(t, []float64{6, 12, 10, 0}, []float64{front.Edges[0].Allowance, front.Edges[1].Allowance, front.Edges[2].Allowance, front.Edges[3].Allowance})
	require.Equal(t, 1, front.Quantity, "cut 1 on fold")
	require.Equal(t, 2, back.Quantity, "cut 2")
}

// The hidden layer of the drawing has the stitching lines that the skirt was
// drafted from, before its allowances were drawn.
func TestSkirtPanelsAreTheDraftedStitchingLines(t *testing.T) {
	data, err := os.ReadFile(tansy)
	require.NoError(t, err)
	shown := strings.Replace(string(data), `style="display:none"`, "", 1)
	d, err := svg.Read(strings.NewReader(shown), svg.Options{})
	require.NoError(t, err)
	front, back := tansyPanels(t)
	for id, p := range map[string]fit.Panel{"front-net": front, "back-net": back} {
		drafted, _, err := Take(d, Selection{Panel: id, ID: id, Fold: "none"})
		require.NoError(t, err)
		for i, e := range p.Edges {
			want := drafted.Edges[i].Path
			// 0.02: the allowances were drawn with a few cubics.
			require.InDelta(t, want.Length(), e.Path.Length(), 0.05, "%s %s", id, e.Name)
			r := path.NewRuler(want)
			for _, q := range along(e.Path, 50) {
				_, off := r.Nearest(q)
				require.Less(t, off, 0.02, "%s %s", id, e.Name)
			}
		}
	}
}

func TestSkirtSeamsAreTrued(t *testing.T) {
	front, back := tansyPanels(t)
	frontSide, backSide := front.Edges[1].Path, back.Edges[3].Path
	require.InDelta(t, frontSide.Length(), backSide.Length(), 0.1)
	degrees := func(a, b path.Vec) float64 { return math.Abs(a.AngleTo(b)) * 180 / math.Pi }
	f := degrees(front.Edges[0].Path.EndTangent().Neg(), frontSide.StartTangent())
	b := degrees(back.Edges[0].Path.StartTangent(), backSide.EndTangent().Neg())
	require.InDelta(t, 180, f+b, 0.2, "the hem runs on across the side seam")
	require.InDelta(t, 90, degrees(front.Edges[0].Path.StartTangent(), front.Edges[3].Path.EndTangent()), 0.1, "square to the fold")
	require.InDelta(t, 90, degrees(back.Edges[0].Path.EndTangent(), back.Edges[1].Path.StartTangent()), 0.1, "square to the centre back")
}

func TestSkirtNotchesMatchAlongTheSeam(t *testing.T) {
	front, back := tansyPanels(t)
	require.Len(t, front.Notches, 2)
	require.Len(t, back.Notches, 4)
	// Drafted 120 and 395 mm from the hem, and on the centre back 195 and 203 mm
	// from the waist.
	require.Equal(t, []int{1, 1}, []int{front.Notches[0].Edge, front.Notches[1].Edge})
	require.InDelta(t, 120, front.Notches[0].At, 0.05)
	require.InDelta(t, 395, front.Notches[1].At, 0.05)
	side := back.Edges[3].Path.Length()
	require.Equal(t, []int{1, 1, 3, 3}, []int{back.Notches[0].Edge, back.Notches[1].Edge, back.Notches[2].Edge, back.Notches[3].Edge})
	require.InDelta(t, 395, side-back.Notches[2].At, 0.05)
	require.InDelta(t, 120, side-back.Notches[3].At, 0.05)
	middle := back.Edges[1].Path.Length()
	require.InDelta(t, 203, middle-back.Notches[0].At, 0.05)
	require.InDelta(t, 195, middle-back.Notches[1].At, 0.05)
}

func TestSkirtKeepsGrainAndInnerLines(t *testing.T) {
	front, back := tansyPanels(t)
	for _, p := range []fit.Panel{front, back} {
		require.InDelta(t, 270, p.Grain.Length(), 1e-6)
		require.InDelta(t, 0, p.Grain.Chord().X, 1e-9, "the grain is upright")
	}
	require.Len(t, front.Internal, 1)
	require.InDelta(t, 203, front.Internal[0].Length(), 1e-6, "the hip line")
	require.Len(t, back.Internal, 1)
	require.Equal(t, 2, back.Internal[0].Segments(), "the dart")
}

func TestSkirtIsFoundInEveryWay(t *testing.T) {
	d := file(t, tansy)
	want := map[string]float64{}
	for _, s := range []Selection{
		{ID: "front"}, {ID: "front-cut"}, {Label: "Front"}, {Label: "front"}, {Text: "FRONT"}, {Text: "place on fold"}, {Order: 1},
		{Name: "front"}, {Name: "Front"}, {Name: "front-cut"},
		{ID: "back"}, {ID: "back-cut"}, {Label: "Back"}, {Text: "back"}, {Text: "cut 2"}, {Order: 2}, {Name: "back"}, {Name: "cut 2"},
	} {
		s.Panel = "p"
		p, _, err := Take(d, s)
		require.NoError(t, err, "%+v", s)
		key := "front"
		if p.Outline().Bounds().Centre().X > 430 {
			key = "back"
		}
		if s.Order == 2 || strings.Contains(strings.ToLower(s.ID+s.Label+s.Text+s.Name), "back") || s.Text == "cut 2" || s.Name == "cut 2" {
			require.Equal(t, "back", key, "%+v", s)
		} else {
			require.Equal(t, "front", key, "%+v", s)
		}
		if want[key] == 0 {
			want[key] = p.Outline().Area()
		}
		require.Equal(t, want[key], p.Outline().Area())
		require.Len(t, p.Internal, 1)
		require.NotZero(t, p.Grain.Length())
		require.NotEmpty(t, p.Notches)
	}
}
