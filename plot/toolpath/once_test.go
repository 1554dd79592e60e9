package toolpath

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

// onceTolerance is half of a plotter unit.
const onceTolerance = 0.0125

func at(x, y float64) path.Point { return path.Point{X: x, Y: y} }

func linesOf(paths ...path.Path) []Line {
	lines := make([]Line, len(paths))
	for i, p := range paths {
		lines[i] = Line{Path: p, Piece: i, Rank: 10 + i}
	}
	return lines
}

func lengthOf(parts []Part) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Path.Length()
	}
	return sum
}

func TestSharedEdgeOfTwoRectanglesIsCutOnce(t *testing.T) {
	a := path.Closed(at(0, 0), at(100, 0), at(100, 50), at(0, 50))
	for _, b := range []path.Path{
		path.Closed(at(100, 0), at(180, 0), at(180, 50), at(100, 50)),
		path.Closed(at(100, 0), at(100, 50), at(180, 50), at(180, 0)),
		path.Closed(at(100, 50), at(100, 0), at(180, 0), at(180, 50)),
		path.Closed(at(180, 50), at(100, 50), at(100, 0), at(180, 0)),
		path.Closed(at(180, 0), at(180, 50), at(100, 50), at(100, 0)),
	} {
		parts := Once(linesOf(a, b), onceTolerance)
		require.Len(t, parts, 2)
		require.Equal(t, Part{linesOf(a)[0], 0}, parts[0])
		require.Equal(t, 1, parts[1].Of)
		require.Equal(t, 1, parts[1].Piece)
		require.Equal(t, 11, parts[1].Rank)
		p := parts[1].Path
		require.False(t, p.Closed)
		require.Len(t, p.V, 4)
		require.InDelta(t, 80+50+80, p.Length(), 1e-9)
		require.InDelta(t, 100, p.Start().X, 0)
		require.InDelta(t, 100, p.End().X, 0)
	}
}

func TestOutlineBetweenTwoOthersKeepsTheTwoSidesBetween(t *testing.T) {
	below := path.Closed(at(0, 0), at(0, -50), at(100, -50), at(100, 0))
	above := path.Closed(at(0, 40), at(100, 40), at(100, 90), at(0, 90))
	corners := []path.Point{at(0, 0), at(100, 0), at(100, 40), at(0, 40)}
	for first := range corners {
		between := path.Closed(append(append([]path.Point{}, corners[first:]...), corners[:first]...)...)
		parts := Once(linesOf(below, above, between), onceTolerance)
		require.Len(t, parts, 4)
		for _, p := range parts[2:] {
			require.InDelta(t, 40, p.Path.Length(), 1e-9, "from corner %d", first)
			require.InDelta(t, 40, p.Path.Start().Dist(p.Path.End()), 1e-9)
		}
	}
}

func TestPartlySharedEdgeKeepsItsEnds(t *testing.T) {
	// The neighbour stands higher by 20 and 0.01 mm to the right.
	a := path.Closed(at(0, 0), at(100, 0), at(100, 50), at(0, 50))
	b := path.Closed(at(100.01, 20), at(180, 20), at(180, 80), at(100.01, 80))
	parts := Once(linesOf(a, b), onceTolerance)
	require.Len(t, parts, 2)
	require.False(t, parts[1].Path.Closed)
	require.InDelta(t, 2*79.99+60+30, parts[1].Path.Length(), 1e-9)
	require.Equal(t, at(100.01, 20), parts[1].Path.Start())
	require.InDelta(t, 0, parts[1].Path.End().Dist(at(100.01, 50)), 1e-9)
	// With a smaller tolerance they are apart.
	require.Equal(t, b, Once(linesOf(a, b), 0.005)[1].Path)
}

func TestMiddleOfALineIsTakenOut(t *testing.T) {
	parts := Once(linesOf(path.Open(at(30, 0), at(60, 0)), path.Open(at(0, 0), at(100, 0))), onceTolerance)
	require.Len(t, parts, 3)
	require.Equal(t, path.Open(at(0, 0), at(30, 0)), parts[1].Path)
	require.Equal(t, path.Open(at(60, 0), at(100, 0)), parts[2].Path)
	require.Equal(t, []int{0, 1, 1}, []int{parts[0].Of, parts[1].Of, parts[2].Of})
}

func TestSecondOfTwoAlikeIsLeftOut(t *testing.T) {
	s := star(50, 20)
	s.V[2].Bulge = 0.7
	wave := path.Open(at(200, 0), at(230, 10), at(260, 0))
	wave.V[0].Bulge, wave.V[1].Bulge = 0.4, -0.4
	turned := path.Path{V: append(append([]path.Vertex{}, s.V[3:]...), s.V[:3]...), Closed: true}
	// The first hides the others; both of the segments of the last lie together.
	parts := Once(linesOf(s, s, s.Reverse(), turned, wave, wave.Reverse(), path.Closed(at(0, 99), at(9, 99))), onceTolerance)
	require.Len(t, parts, 3)
	require.Equal(t, s, parts[0].Path)
	require.Equal(t, wave, parts[1].Path)
	require.Equal(t, path.Open(at(0, 99), at(9, 99)), parts[2].Path)
}

func TestArcsOfOneCircleShareWhatIsCommon(t *testing.T) {
	arc := func(start, sweep float64) path.Path {
		return path.FromSegments(path.Arc(at(5, 7), 40, start, sweep))
	}
	for name, c := range map[string]struct {
		first, second path.Path
		left          []float64 // angles
	}{
		"overlapping ends":  {arc(0, 2), arc(1, 2), []float64{1}},
		"opposite way":      {arc(0, 2), arc(3, -2), []float64{1}},
		"inside":            {arc(0, 2), arc(0.5, 1), nil},
		"around":            {arc(0.5, 1), arc(0, 2), []float64{0.5, 0.5}},
		"both ends":         {arc(0, 5), arc(4.5, 2.5), []float64{2*math.Pi - 5}},
		"apart":             {arc(0, 1), arc(2, 1), []float64{1}},
		"circle after arc":  {arc(0.3, 1), path.Circle(at(5, 7), 40), []float64{2*math.Pi - 1}},
		"arc after circle":  {path.Circle(at(5, 7), 40), arc(0.3, 5), nil},
		"another radius":    {arc(0, 2), path.FromSegments(path.Arc(at(5, 7), 40.02, 0, 2)), []float64{2 * 40.02 / 40}},
		"crossing circle":   {arc(0, 2), path.FromSegments(path.Arc(at(25, 7), 40, 0, 3)), []float64{3}},
		"a chord is no arc": {arc(0, 2), path.Open(arc(0, 2).Start(), arc(0, 2).End()), []float64{2 * math.Sin(1)}},
	} {
		t.Run(name, func(t *testing.T) {
			parts := Once(linesOf(c.first, c.second), onceTolerance)
			require.Len(t, parts, 1+len(c.left))
			for i, angle := range c.left {
				require.InDelta(t, 40*angle, parts[i+1].Path.Length(), 1e-6)
			}
		})
	}
}

func TestLinesThatCrossOrTouchStayAsTheyAre(t *testing.T) {
	lines := linesOf(
		path.Open(at(0, 0), at(100, 0)),
		path.Open(at(50, -20), at(50, 20)),
		path.Open(at(60, 0), at(60, 8)),                // touches
		path.Open(at(70, 0), at(70, 0.005), at(80, 5)), // its first part is no longer than the tolerance
		path.Open(at(0, -1), at(100, 1)),               // a shallow crossing
		path.Open(at(100, 0), at(140, 0)),              // goes on
		path.Closed(at(20, 5), at(40, 5), at(30, 25)),
		path.Path{}, path.Open(at(math.NaN(), 0), at(100, 0)),
		path.Open(at(50, 0)), // a dot on lines
	)
	parts := Once(lines, onceTolerance)
	require.Len(t, parts, len(lines))
	for i, p := range parts {
		require.Equal(t, i, p.Of)
		if i != 8 {
			require.Equal(t, lines[i], p.Line)
		}
	}
}

func TestDotIsDrawnOnce(t *testing.T) {
	parts := Once(linesOf(path.Open(at(5, 5)), path.Open(at(5, 5.01)), path.Open(at(5, 6)), path.Closed(at(5, 5))), onceTolerance)
	require.Len(t, parts, 2)
	require.Equal(t, []int{0, 2}, []int{parts[0].Of, parts[1].Of})
	require.Empty(t, Once(nil, onceTolerance))
}

// shapes draws lines that lie on a few carriers: lines 10 mm apart and
// concentric circles, so that what is covered is known in closed form.
func shapes() *rapid.Generator[[]path.Path] {
	return rapid.Custom(func(t *rapid.T) []path.Path {
		n := rapid.IntRange(1, 12).Draw(t, "lines")
		all := make([]path.Path, n)
		for i := range all {
			row := rapid.IntRange(0, 2).Draw(t, "carrier")
			a := float64(rapid.IntRange(0, 40).Draw(t, "from"))
			long := float64(rapid.IntRange(1, 30).Draw(t, "length"))
			if rapid.Bool().Draw(t, "straight") {
				y := 500 + 10*float64(row)
				all[i] = path.Open(at(a, y), at(a+long/2, y), at(a+long, y))
			} else {
				all[i] = path.FromSegments(path.Arc(at(0, 0), 50+10*float64(row), a*2*math.Pi/60, long*2*math.Pi/60))
			}
			if rapid.Bool().Draw(t, "reversed") {
				all[i] = all[i].Reverse()
			}
		}
		return all
	})
}

func TestOnceCoversTheSameWithTheLengthOfTheUnion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := shapes().Draw(t, "paths")
		// Which unit of each carrier is covered: of the lines a mm, of the circles
		// a sixtieth.
		lines, circles := map[[2]int]bool{}, map[[2]int]bool{}
		want := 0.0
		for _, p := range all {
			for k := range p.Segments() {
				s := p.Segment(k)
				if s.IsLine() {
					// The middles of all half millimetres.
					lo, hi := min(s.A.X, s.B.X), max(s.A.X, s.B.X)
					for h := 2 * lo; h < 2*hi; h++ {
						key := [2]int{int(s.A.Y), int(h)}
						if !lines[key] {
							want += 0.5
						}
						lines[key] = true
					}
					continue
				}
				steps := int(math.Round(math.Abs(s.Sweep()) * 60 / (2 * math.Pi)))
				for h := range steps {
					m := s.At((float64(h) + 0.5) / float64(steps))
					angle := math.Mod(path.Vec(m).Angle()+2*math.Pi, 2*math.Pi)
					key := [2]int{int(math.Round(s.Radius())), int(angle * 60 / (2 * math.Pi))}
					if !circles[key] {
						want += s.Radius() * 2 * math.Pi / 60
					}
					circles[key] = true
				}
			}
		}
		parts := Once(linesOf(all...), onceTolerance)
		require.InDelta(t, want, lengthOf(parts), 1e-6)
		for _, p := range all {
			for k := range p.Segments() {
				for h := range 11 {
					requireCovered(t, parts, p.Segment(k).At(float64(h)/10))
				}
			}
		}
	})
}

func requireCovered(t *rapid.T, parts []Part, p path.Point) {
	for _, q := range parts {
		for k := range q.Path.Segments() {
			if _, d := q.Path.Segment(k).Nearest(p); d <= onceTolerance+1e-9 {
				return
			}
		}
	}
	t.Fatalf("%v is not covered", p)
}

// Any lines, crossing and overlapping as they will.
func TestOnceLosesNoPointOfAnyLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := genLines(12).Draw(t, "lines")
		parts := Once(lines, onceTolerance)
		of := -1
		for _, p := range parts {
			require.GreaterOrEqual(t, p.Of, of)
			of = p.Of
			require.Equal(t, lines[of].Piece, p.Piece)
			require.Equal(t, lines[of].Rank, p.Rank)
		}
		for _, l := range lines {
			for k := range l.Path.Segments() {
				for h := range 7 {
					requireCovered(t, parts, l.Path.Segment(k).At(float64(h)/6))
				}
			}
		}
		// There is nothing left to take out.
		var again []Line
		for _, p := range parts {
			again = append(again, p.Line)
		}
		require.InDelta(t, lengthOf(parts), lengthOf(Once(again, onceTolerance)), float64(len(parts))*4*onceTolerance)
	})
}

func TestManyCopiesAreCutOnce(t *testing.T) {
	lines := make([]Line, 20_000)
	for i := range lines {
		lines[i].Path = star(50, 20)
	}
	require.Len(t, Once(lines, onceTolerance), 1)
}

func BenchmarkOnce(b *testing.B) {
	lines := marker(true)
	for b.Loop() {
		Once(lines, onceTolerance)
	}
}
