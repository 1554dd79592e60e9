package toolpath_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif"
	"engrail/motif/path"
	"engrail/plot/plottest"
	"engrail/plot/toolpath"
)

// startingAt returns the closed path begun at another place.
func startingAt(p path.Path, along float64) path.Path {
	return path.NewRuler(p).Sub(along, along).Close(1e-6)
}

// bites returns how deep the points reach into what lies inside an odd number of
// the outlines.
func bites(points []path.Point, outlines ...path.Path) float64 {
	rulers := make([]*path.Ruler, len(outlines))
	for i, o := range outlines {
		rulers[i] = path.NewRuler(o)
	}
	deepest := 0.0
	for _, q := range points {
		inside, depth := 0, math.Inf(1)
		for i, o := range outlines {
			if o.Contains(q) {
				inside++
			}
			_, d := rulers[i].Nearest(q)
			depth = min(depth, d)
		}
		if inside%2 == 1 {
			deepest = max(deepest, depth)
		}
	}
	return deepest
}

// along returns points of the path, close together.
func along(p path.Path) []path.Point {
	var points []path.Point
	for i := range p.Segments() {
		for k := range 65 {
			points = append(points, p.Segment(i).At(float64(k)/64))
		}
	}
	return points
}

// checkLead checks the lead-in of a cut, and that a blade set down on it in any
// direction, up to ten degrees from backwards, leaves the pieces whole.
func checkLead(t require.TestingT, line path.Path, length, offset float64, outlines ...path.Path) {
	lead := path.Open(line.V[0].Point, line.V[1].Point)
	require.InDelta(t, length, lead.Length(), 1e-9)
	require.Zero(t, line.V[0].Bulge)
	require.Less(t, bites(along(lead), outlines...), 1e-6)

	pivot, err := toolpath.Trailing(lead, offset, 0)
	require.NoError(t, err)
	for off := -170; off <= 170; off += 34 {
		tips := cut(pivot, offset, lead.StartTangent().Rotate(float64(off)*math.Pi/180), 0)
		require.Less(t, bites(tips, outlines...), 0.01*offset, "set down %d degrees off", off)
	}
}

func TestLeadInComesStraightFromBehindAtAnOuterCorner(t *testing.T) {
	p := square(40)
	for _, q := range []path.Path{p, p.Reverse()} {
		got, ok := toolpath.LeadIn(q, 5, 0.5)
		require.True(t, ok)
		require.False(t, got.Closed)
		require.InDelta(t, 0, got.Start().Dist(path.Point{}.Add(q.StartTangent().Mul(-5))), 1e-9)
		require.InDelta(t, 165, got.Length(), 1e-9)
		require.Equal(t, q.Start(), got.End())
		checkLead(t, got, 5, 0.5, q)
	}
}

func TestLeadInSlantsFromTheWasteInTheMiddleOfAnEdge(t *testing.T) {
	p := startingAt(square(40), 17)
	for _, q := range []path.Path{p, p.Reverse()} {
		got, ok := toolpath.LeadIn(q, 5, 0.5)
		require.True(t, ok)
		turn := got.StartTangent().AngleTo(q.StartTangent())
		require.InDelta(t, math.Pi/12, math.Abs(turn), 1e-9, "the least slant")
		require.Negative(t, got.Start().Y, "below the lower edge")
		checkLead(t, got, 5, 0.5, q)
	}
}

func TestLeadInOfAHoleLiesInTheHole(t *testing.T) {
	outer, hole := square(60), path.Circle(path.Point{X: 30, Y: 30}, 20)
	for _, q := range []path.Path{hole, hole.Reverse()} {
		got, ok := toolpath.LeadIn(q, 5, 0.5, outer, q)
		require.True(t, ok)
		require.Less(t, got.Start().Dist(path.Point{X: 30, Y: 30}), 20.0)
		checkLead(t, got, 5, 0.5, outer, q)
	}
}

func TestLeadInOfAnInnerCornerLiesBetweenItsEdges(t *testing.T) {
	p := startingAt(hem(t, motif.Shape{Kind: motif.Point}, 30, 15, 3), 2*math.Hypot(15, 15))
	require.InDelta(t, 0, p.Start().Dist(path.Point{X: 30}), 1e-6)
	got, ok := toolpath.LeadIn(p, 5, 0.5)
	require.True(t, ok)
	from := got.Start().Sub(path.Point{X: 30})
	require.Negative(t, from.Y)
	require.Less(t, math.Abs(from.X), -from.Y, "in the valley of a right angle")
	checkLead(t, got, 5, 0.5, p)
}

func TestLeadInOfASlitBeginsInTheWaste(t *testing.T) {
	p := hem(t, motif.Shape{Kind: motif.Scallop}, 25, 10, 4)
	clip := path.Open(path.Point{X: 25}, path.Point{X: 25, Y: 5})
	got, ok := toolpath.LeadIn(clip, 3, 0.3, p)
	require.True(t, ok)
	require.Equal(t, path.Open(path.Point{X: 25, Y: -3}, path.Point{X: 25}, path.Point{X: 25, Y: 5}), got)
}

func TestLeadInKeepsClearOfThePieceBeside(t *testing.T) {
	p := square(40)
	beside := square(40).Transform(path.Translation(path.Vec{X: -42}))
	got, ok := toolpath.LeadIn(p, 5, 0.5, p, beside)
	require.True(t, ok)
	require.Less(t, got.Start().Y, -1.0, "not back into the piece on the left")
	checkLead(t, got, 5, 0.5, p, beside)
}

func TestLeadInIsHalvedWhereThereIsLessRoom(t *testing.T) {
	wall := path.Closed(path.Point{X: -2.5, Y: -2.5}, path.Point{X: 42.5, Y: -2.5}, path.Point{X: 42.5, Y: 42.5}, path.Point{X: -2.5, Y: 42.5})
	frame := wall.Transform(path.Scaling(path.Point{X: 20, Y: 20}, 2))
	got, ok := toolpath.LeadIn(square(40), 6, 0.7, square(40), wall, frame)
	require.True(t, ok)
	require.InDelta(t, 163, got.Length(), 1e-9)
	require.Less(t, bites(along(path.Open(got.V[0].Point, got.V[1].Point)), square(40), wall, frame), 1e-9)
}

func TestPathWithoutRoomIsBegunOnItself(t *testing.T) {
	p := startingAt(square(40), 17)
	beside := square(40).Transform(path.Translation(path.Vec{Y: -40.5}))
	for _, q := range []path.Path{p, toolpath.Overcut(p, 1)} {
		got, ok := toolpath.LeadIn(q, 5, 0.5, p, beside)
		require.False(t, ok)
		require.Equal(t, path.Point{X: 12}, got.Start())
		require.InDelta(t, q.Length()+5, got.Length(), 1e-9)
		require.Less(t, plottest.Deviation(got, p), 1e-9, "it cuts nothing else")
	}
	round, ok := toolpath.LeadIn(p, 500, 0.5, p, beside)
	require.False(t, ok)
	require.InDelta(t, 320, round.Length(), 1e-9, "once round at most")
}

func TestLineInsideThePieceHasNoLeadIn(t *testing.T) {
	dart := path.Open(path.Point{X: 10, Y: 10}, path.Point{X: 20, Y: 10})
	got, ok := toolpath.LeadIn(dart, 4, 0.5, square(40))
	require.False(t, ok)
	require.Equal(t, dart, got)
}

func TestLeadInWithoutSenseGivesThePath(t *testing.T) {
	nan := math.NaN()
	bad := path.Open(path.Point{}, path.Point{X: nan})
	for _, c := range []struct {
		p             path.Path
		length, clear float64
		outlines      []path.Path
	}{
		{p: path.Path{}, length: 5},
		{p: path.Path{Closed: true}, length: 5},
		{p: path.Open(path.Point{X: 1}), length: 5},
		{p: path.Closed(path.Point{X: 1}, path.Point{X: 1}), length: 5},
		{p: square(10), length: 0},
		{p: square(10), length: -1},
		{p: square(10), length: math.Inf(1)},
		{p: square(10), length: nan},
		{p: square(10), length: 5, clear: nan},
		{p: square(10), length: 5, clear: -1},
		{p: square(10), length: 5, outlines: []path.Path{square(10), bad}},
	} {
		got, ok := toolpath.LeadIn(c.p, c.length, c.clear, c.outlines...)
		require.False(t, ok)
		require.Equal(t, c.p, got)
	}
	_, ok := toolpath.LeadIn(bad, 5, 1, square(10))
	require.False(t, ok)
}

func TestLeadInNeverCutsIntoAPiece(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		p := outlines(t)
		p = startingAt(p, rapid.Float64Range(0, 1).Draw(t, "start")*p.Length())
		all := []path.Path{p}
		if rapid.Bool().Draw(t, "piece beside") {
			all = append(all, path.Circle(path.Point{X: 80, Y: rapid.Float64Range(-20, 20).Draw(t, "y")}, 30))
			if len(p.Intersections(all[1])) > 0 {
				t.Skip("overlap")
			}
		}
		if rapid.Bool().Draw(t, "in a hole") {
			all = append(all, path.Circle(path.Point{}, 150), path.Circle(path.Point{}, 200))
		}
		offset := rapid.SampledFrom(offsets).Draw(t, "offset")
		length := toolpath.LeadOffsets * offset
		got, ok := toolpath.LeadIn(p, length, offset, all...)
		if !ok {
			require.Less(t, plottest.Deviation(got, p), 1e-6)
			return
		}
		found++
		if l := got.Length() - p.Length(); l < length-1e-6 {
			lead := path.Open(got.V[0].Point, got.V[1].Point)
			require.InDelta(t, length/2, l, 1e-6)
			require.Less(t, bites(along(lead), all...), 1e-6)
			return
		}
		checkLead(t, got, length, offset, all...)
	})
	require.Positive(t, found)
}

func TestEveryStartOnAHemHasALeadIn(t *testing.T) {
	for name, p := range designs(t) {
		n, missing := 97, 0
		l := p.Length()
		for i := range n {
			q := startingAt(p, l*float64(i)/float64(n))
			got, ok := toolpath.LeadIn(q, 3.5, 0.35)
			if !ok {
				missing++
				require.Less(t, plottest.Deviation(got, q), 1e-6)
				continue
			}
			require.Less(t, bites(along(path.Open(got.V[0].Point, got.V[1].Point)), q), 1e-6)
		}
		require.Zero(t, missing, name)
	}
}

func TestBladeSetDownAgainstItsCutIsTurnedByTheLeadIn(t *testing.T) {
	for name, p := range designs(t) {
		for _, offset := range offsets {
			t.Run(fmt.Sprintf("%s/offset %g", name, offset), func(t *testing.T) {
				length := toolpath.LeadOffsets * offset
				line, ok := toolpath.LeadIn(toolpath.Overcut(p, 0.5), length, offset, p)
				require.True(t, ok)
				pivot, err := toolpath.Trailing(line, offset, toolpath.LeastSwivel)
				require.NoError(t, err)
				for _, off := range []float64{-90, 179} {
					tips := cut(pivot, offset, line.StartTangent().Rotate(off*math.Pi/180), length)
					require.Less(t, strays(tips, p), within)
					require.Zero(t, misses(tips, p))
				}
			})
		}
	}
}

func TestLeadLengthTurnsABladeThatIsSetDownBackwards(t *testing.T) {
	k := toolpath.TrailingBlade{Offset: 0.5, Heading: path.Direction(179 * math.Pi / 180)}
	k.Follow(path.Line(path.Point{}, path.Point{X: toolpath.LeadOffsets * 0.5}), step, func(path.Point) {})
	require.InDelta(t, 2*math.Atan(math.Tan(179*math.Pi/360)*math.Exp(-toolpath.LeadOffsets)), k.Heading.Angle(), 1e-12)
	require.Less(t, k.Heading.Angle(), 0.7*math.Pi/180)
}

func BenchmarkLeadIn(b *testing.B) {
	for _, n := range []int{60, 10_000} {
		p := plottest.Lines(plottest.Scalloped(n))
		outline := p[len(p)-1].Path
		b.Run(fmt.Sprintf("%d-scallops", n), func(b *testing.B) {
			for b.Loop() {
				_, ok := toolpath.LeadIn(outline, 3.5, 0.35, outline)
				require.True(b, ok)
			}
		})
	}
}
