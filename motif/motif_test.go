package motif_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const inch = 25.4

// share draws 0 or a ratio from 0.01 to most: a radius is left out or visible.
func share(t *rapid.T, name string, most float64) float64 {
	if rapid.Bool().Draw(t, name+" given") {
		return rapid.Float64Range(0.01, most).Draw(t, name)
	}
	return 0
}

// shapes draws a shape of any kind with details that fit the width and depth.
func shapes(t *rapid.T) (motif.Shape, float64, float64) {
	width := rapid.Float64Range(10, 200).Draw(t, "width")
	s := motif.Shape{Kind: rapid.SampledFrom(motif.Kinds()).Draw(t, "kind")}
	depth := rapid.Float64Range(0.1, 1).Draw(t, "depth") * width
	switch s.Kind {
	case motif.Bulb:
		depth = rapid.Float64Range(0.39, 0.73).Draw(t, "bulb") * width
	case motif.Tab:
		if rapid.Bool().Draw(t, "flat or top") {
			s.Flat = rapid.Float64Range(0.2, 0.8).Draw(t, "flat") * width
		}
		round := 0.45 * min(depth, width-s.Flat, max(s.Flat, 0.2*width))
		s.ValleyRadius, s.TipRadius = share(t, "valley", 0.45)*round, share(t, "tip", 0.45)*round
	case motif.Stepped, motif.Dovetailed:
		round := 0.4 * min(depth/2, width/8)
		s.ValleyRadius, s.TipRadius = share(t, "valley", 0.45)*round, share(t, "tip", 0.45)*round
	case motif.Cloud:
		depth = rapid.Float64Range(0.55, 0.85).Draw(t, "cloud") * width
	default:
		s.Flat = share(t, "flat", 0.3) * width
		s.TipFlat = share(t, "blunt", 0.3) * width
		run := (width - s.Flat - s.TipFlat) / 2
		if s.MaxDepth(width) < math.Inf(1) {
			depth = rapid.Float64Range(0.05, 1).Draw(t, "part of the greatest depth") * run
		}
		sum := (run*run + depth*depth) / (2 * depth)
		switch s.Kind {
		case motif.Scallop:
			s.ValleyRadius = share(t, "valley", 0.5) * sum
		case motif.Engrailed:
			s.TipRadius = share(t, "tip", 0.5) * sum
		case motif.Point:
			most := min(sum, run)
			s.ValleyRadius, s.TipRadius = share(t, "valley", 0.45)*most, share(t, "tip", 0.45)*most
		case motif.Wave:
			s.TipRadius = share(t, "tip", 0.9) * sum
		}
	}
	s.Turn = rapid.Bool().Draw(t, "turned over")
	if !undercut(s) {
		s.Lean = share(t, "lean", 0.2) * width
	}
	return s, width, depth
}

// undercut reports whether the shape is wider than its foot.
func undercut(s motif.Shape) bool {
	return s.Kind == motif.Bulb || s.Kind == motif.Dovetailed || s.Kind == motif.Cloud
}

func TestCellRunsFromValleyOverPeakToValley(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		p := c.Path()
		require.Equal(t, path.Point{}, p.Start())
		require.InDelta(t, width, p.End().X, 1e-9)
		require.InDelta(t, 0, p.End().Y, 1e-9)
		require.InDelta(t, depth, c.Peak().Y, 1e-9)
		require.InDelta(t, width/2+s.Lean, c.Peak().X, 1e-9)
		b := p.Bounds()
		require.InDelta(t, 0, b.Min.Y, 0.003, "nothing lies behind the base line")
		require.InDelta(t, depth, b.Max.Y, 0.003, "nothing lies beyond the peak")
		if !undercut(s) && s.Lean == 0 {
			require.InDelta(t, 0, b.Min.X, 1e-6, "the lobe is not undercut")
			require.InDelta(t, width, b.Max.X, 1e-6)
		}
	})
}

func TestCellsSideBySideDoNotCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		p := c.Path()
		require.Empty(t, p.SelfIntersections())
		for _, x := range p.Intersections(p.Transform(path.Translation(path.Vec{X: width}))) {
			require.InDelta(t, 0, x.Point.Dist(p.End()), 0.005)
		}
	})
}

func TestCellIsSmoothWhereNoCornerIsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		s.Turn, s.Lean = false, 0
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		p := c.Path()
		corners := 0
		for i := 1; i < p.Segments(); i++ {
			if turn := p.Segment(i - 1).EndTangent().AngleTo(p.Segment(i).StartTangent()); math.Abs(turn) > 1e-2 {
				corners++
			}
		}
		two := func(yes bool, n int) int {
			if yes {
				return n
			}
			return 0
		}
		flat, blunt := s.Flat > 0, s.TipFlat > 0
		var most int
		switch s.Kind {
		case motif.Scallop:
			most = two(flat && s.ValleyRadius == 0, 2)
		case motif.Point:
			most = two(flat && s.ValleyRadius == 0, 2) + two(s.TipRadius == 0, 1) + two(s.TipRadius == 0 && blunt, 1)
		case motif.Engrailed:
			most = two(s.TipRadius == 0, 1) + two(s.TipRadius == 0 && blunt, 1)
		case motif.Bulb:
			most = 2
		case motif.Elliptical:
			most = two(flat, 2)
		case motif.Petal, motif.Ogee, motif.Bracket:
			most = two(flat, 2) + 1 + two(blunt, 1)
		case motif.Tab, motif.Dovetailed:
			most = two(s.ValleyRadius == 0, 2) + two(s.TipRadius == 0, 2)
		case motif.Stepped:
			most = two(s.ValleyRadius == 0, 4) + two(s.TipRadius == 0, 4)
		}
		require.LessOrEqual(t, corners, most)
	})
}

func TestSymmetricalCellsAreTheirMirrorImages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		m := path.NewRuler(c.Mirror().Path())
		require.Equal(t, s.Lean == 0, s.Symmetrical())
		most := 0.0
		for _, v := range c.Path().V {
			_, off := m.Nearest(v.Point)
			most = max(most, off)
		}
		if s.Symmetrical() {
			require.InDelta(t, 0, most, 1e-6)
		} else {
			require.InDelta(t, width/2-s.Lean, c.Mirror().Peak().X, 1e-9)
		}
	})
}

func TestTurnedTwiceIsTheShapeItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		s.Lean = 0
		s.Turn = false
		up, err := s.Cell(width, depth)
		require.NoError(t, err)
		s.Turn = true
		over, err := s.Cell(width, depth)
		require.NoError(t, err)
		// The peak of the one is the valley of the other.
		line := path.NewRuler(over.Path())
		half := path.Reflection(path.Point{Y: depth / 2}, path.Vec{X: 1}).Then(path.Translation(path.Vec{X: -width / 2}))
		for _, v := range up.Fall.Transform(half).V {
			_, off := line.Nearest(v.Point)
			require.InDelta(t, 0, off, 1e-6)
		}
	})
}

// Worked scallops and arcs. Sizes and radii: common practice, no source; the
// derived figures are arithmetic on R = (c^2/4 + s^2) / 2s.
func TestRadiusFollowsFromChordAndRise(t *testing.T) {
	for _, c := range []struct {
		name                     string
		chord, rise              float64
		radius, sweepDeg, length float64 // 0: not given
		within                   float64
	}{
		{name: "radius 5.6667 from chord 10 and rise 3", chord: 10, rise: 3, radius: 5.6667, within: 5e-5},
		{name: "radius 5 from chord 8 and rise 2", chord: 8, rise: 2, radius: 5, within: 1e-9},
		{name: "rise 2 from radius 10 and chord 12", chord: 12, rise: 2, radius: 10, within: 1e-9},
		{name: "rise 3.8197 from radius 15 and chord 20", chord: 20, rise: 3.8197, radius: 15, within: 2e-4},
		{name: "drapery scallop of 14 by 3 in", chord: 14, rise: 3, radius: 9.6667, sweepDeg: 92.79, length: 15.656, within: 5e-3},
		{name: "eight scallops on 53 in, 1 1/2 in deep", chord: 53.0 / 8, rise: 1.5, radius: 4.4076, within: 5e-5},
		{name: "semicircle of 1 1/2 in", chord: 1.5, rise: 0.75, radius: 0.75, sweepDeg: 180, length: 2.3562, within: 5e-5},
	} {
		t.Run(c.name, func(t *testing.T) {
			cell, err := motif.Shape{}.Cell(c.chord*inch, c.rise*inch)
			require.NoError(t, err)
			arc := cell.Rise.Segment(0)
			require.InDelta(t, c.radius, arc.Radius()/inch, c.within)
			if c.sweepDeg > 0 {
				require.InDelta(t, c.sweepDeg, math.Abs(2*arc.Sweep())*180/math.Pi, c.within)
				require.InDelta(t, c.length, cell.Path().Length()/inch, c.within)
			}
		})
	}
}

// A scallop of 1 1/2 by 1 in is in use (common practice, no source), but with
// radius 0.78125 in its rise exceeds the radius: the lobe overhangs its foot.
func TestUndercutScallopIsRefusedWithWhatWouldFit(t *testing.T) {
	_, err := motif.Shape{}.Cell(1.5*inch, 1*inch)
	var limit *motif.LimitError
	require.ErrorAs(t, err, &limit)
	require.EqualError(t, err, "scallop: 25.40 mm deep is 6.35 mm too much for a width of 38.10 mm: beyond the half circle the lobe is wider than its foot")
	require.Equal(t, "at this width the depth can be at most 19.05 mm; at this depth the width must be at least 50.80 mm; a bulb is a scallop beyond the half circle", limit.Remedy())
	require.Equal(t, 0.75*inch, motif.Shape{}.MaxDepth(1.5*inch))
}

func TestImpossibleMeasuresAreRefused(t *testing.T) {
	for _, c := range []struct {
		shape        motif.Shape
		width, depth float64
		text         string
	}{
		{motif.Shape{}, math.NaN(), 5, "scallop: width is NaN mm"},
		{motif.Shape{}, 60, -5, "scallop: depth is -5 mm"},
		{motif.Shape{}, math.Inf(1), 5, "scallop: width is +Inf mm"},
		{motif.Shape{Flat: -1}, 60, 20, "scallop: flat is -1 mm"},
		{motif.Shape{Flat: 40, TipFlat: 20}, 60, 20, "scallop: flat 40.00 mm and blunt tip 20.00 mm leave nothing of the width 60.00 mm"},
		{motif.Shape{TipRadius: 3}, 60, 20, "scallop: a scallop's tip is round already"},
		{motif.Shape{ValleyRadius: 40}, 60, 20, "scallop: the radius 40.00 mm is too large"},
		{motif.Shape{Kind: motif.Wave, TipRadius: 3, ValleyRadius: 3}, 60, 20, "wave: a wave takes a tip radius or a valley radius, not both"},
		{motif.Shape{Kind: motif.Wave}, 60, 31, "wave: 31.00 mm deep is 1.00 mm too much for a width of 60.00 mm: beyond the half circle the lobe is wider than its foot"},
		{motif.Shape{Kind: motif.Point, TipRadius: 20, ValleyRadius: 12}, 60, 40, "point: valley radius 12.00 mm and tip radius 20.00 mm leave no room for one another"},
	} {
		_, err := c.shape.Cell(c.width, c.depth)
		var limit *motif.LimitError
		require.ErrorAs(t, err, &limit)
		require.EqualError(t, err, c.text)
		require.NotEmpty(t, limit.Remedy())
	}
}

func TestNamesOfShapesAreReadBack(t *testing.T) {
	for _, k := range motif.Kinds() {
		got, err := motif.ParseKind(k.String())
		require.NoError(t, err)
		require.Equal(t, k, got)
		require.NotEmpty(t, k.Note())
	}
	_, err := motif.ParseKind("scalop")
	require.EqualError(t, err, `no shape is called "scalop"; the shapes are scallop, point, wave, engrailed, bulb, elliptical, petal, ogee, bracket, tab, stepped, dovetailed, cloud and own`)
	require.False(t, errors.As(err, new(*motif.LimitError)))
}

func Example() {
	cell, err := motif.Shape{Kind: motif.Scallop}.Cell(60, 18)
	if err != nil {
		fmt.Println(err)
		return
	}
	arc := cell.Rise.Segment(0)
	fmt.Printf("radius %.1f mm, edge %.1f mm\n", arc.Radius(), cell.Path().Length())
	// Output: radius 34.0 mm, edge 73.5 mm
}
