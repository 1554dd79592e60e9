package stroke

import (
	"math"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

// drawn returns every character that has a notation, with its box and strokes.
func drawn(t *testing.T) map[rune]struct {
	box
	strokes []path.Path
} {
	t.Helper()
	all := map[rune]struct {
		box
		strokes []path.Path
	}{}
	for r := rune(0); r <= unicode.MaxRune; r++ {
		n := notation(r)
		if n == "" {
			continue
		}
		b, strokes, ok := header(n)
		require.True(t, ok, "the box of %q", r)
		var p pen
		require.True(t, p.draw(strokes, path.Frame(path.Point{}, path.Vec{X: 1})), "the strokes of %q", r)
		require.NotEmpty(t, p.strokes, "%q", r)
		g := all[r]
		g.box, g.strokes = b, p.strokes
		all[r] = g
	}
	require.Greater(t, len(all), 180)
	return all
}

func TestStrokesFillTheWidthOfTheirBox(t *testing.T) {
	for r, g := range drawn(t) {
		ink := path.EmptyBox()
		for _, p := range g.strokes {
			ink = ink.Union(p.Bounds())
		}
		require.GreaterOrEqual(t, ink.Min.X, -1e-9, "left of %q", r)
		require.LessOrEqual(t, ink.Max.X, g.width+1e-9, "right of %q", r)
		require.InDelta(t, 0, ink.Min.X, 0.65, "left of %q", r)
		require.InDelta(t, g.width, ink.Max.X, 0.65, "right of %q", r)
	}
}

func TestGlyphsHaveFewArcsAndNoEmptySegments(t *testing.T) {
	for r, g := range drawn(t) {
		arcs := 0
		for _, p := range g.strokes {
			for i := range p.Segments() {
				s := p.Segment(i)
				require.Greater(t, s.Length(), 0.15, "segment %d of %q", i, r)
				require.LessOrEqual(t, math.Abs(s.Sweep()), math.Pi+1e-6, "segment %d of %q", i, r)
				if !s.IsLine() {
					arcs++
				}
			}
		}
		require.LessOrEqual(t, arcs, 16, "%q", r)
	}
}

func TestNotationThatCannotBeReadIsToldSo(t *testing.T) {
	for _, n := range []string{"", "||", "|x|", "|3", "!3|", "|3!", "#3|", "3"} {
		_, _, ok := header(n)
		require.False(t, ok, "%q", n)
	}
	for _, strokes := range []string{
		"1", "1,", ",1", "1,1,", "1,1  2,2", "h1,1", "~1,1", "1,1 ~2,2", "1,1 h1,2", "1,1 v2,1", "q1,1", "1,1 =A", "=", "=\u0001",
		"=A*", "=A*2", "=A*2+1", "=A2+1,1", "=A*2+1,1x", "--1,1", "1..2,1",
	} {
		var p pen
		require.False(t, p.draw(strokes, path.Frame(path.Point{}, path.Vec{X: 1})), "%q", strokes)
	}
}

// A quarter of an oval leaves along one axis, arrives along the other, is
// smooth between and turns by a quarter.
func TestOvalIsSmoothBetweenItsAxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0.5, 20)
		d := path.Vec{X: side.Draw(t, "wide"), Y: side.Draw(t, "high")}
		if rapid.Bool().Draw(t, "circle") {
			d.Y = d.X
		}
		if rapid.Bool().Draw(t, "left") {
			d.X = -d.X
		}
		if rapid.Bool().Draw(t, "down") {
			d.Y = -d.Y
		}
		upright := rapid.Bool().Draw(t, "upright")
		from := path.Point{X: 3, Y: -2}
		to := from.Add(d)
		p := pen{v: []path.Vertex{{Point: from}}}
		require.True(t, p.oval(from, to, upright))
		q := path.Path{V: p.v}
		require.InDelta(t, 0, q.End().Dist(to), 1e-9)
		first, last := path.Vec{X: math.Copysign(1, d.X)}, path.Vec{Y: math.Copysign(1, d.Y)}
		if upright {
			first, last = last, first
		}
		near := func(want, got path.Vec, where string) {
			require.InDelta(t, 0, got.Sub(want).Len(), 1e-6, where)
		}
		near(first, q.StartTangent(), "start")
		near(last, q.EndTangent(), "end")
		require.LessOrEqual(t, q.Segments(), 2)
		turn := 0.0
		for i := range q.Segments() {
			turn += q.Segment(i).Sweep()
			if i > 0 {
				near(q.Segment(i-1).EndTangent(), q.Segment(i).StartTangent(), "joint")
			}
		}
		require.InDelta(t, math.Pi/2, math.Abs(turn), 1e-6)
	})
}

func TestFourQuartersOfACircleAreTwoArcs(t *testing.T) {
	var p pen
	require.True(t, p.draw("5,10 h0,5 v5,0 h10,5 v5,10 z", path.Frame(path.Point{}, path.Vec{X: 1})))
	require.Len(t, p.strokes, 1)
	require.Equal(t, 2, p.strokes[0].Segments())
	require.InDelta(t, 25*math.Pi, p.strokes[0].Area(), 1e-9)
}
