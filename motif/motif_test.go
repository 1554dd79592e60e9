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
	s.Flat = share(t, "flat", 0.3) * width
	s.TipFlat = share(t, "blunt", 0.3) * width
	run := (width - s.Flat - s.TipFlat) / 2
	depth := rapid.Float64Range(0.05, 1).Draw(t, "depth") * run
	sum := (run*run + depth*depth) / (2 * depth)
	switch s.Kind {
	case motif.Scallop:
		s.ValleyRadius = share(t, "valley", 0.5) * sum
	case motif.Point:
		s.ValleyRadius = share(t, "valley", 0.45) * sum
		s.TipRadius = share(t, "tip", 0.45) * sum
	case motif.Wave:
		s.TipRadius = share(t, "tip", 0.9) * sum
	}
	return s, width, depth
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
		require.InDelta(t, depth, c.Rise.End().Y, 1e-9)
		b := p.Bounds()
		require.InDelta(t, 0, b.Min.Y, 1e-6, "nothing lies behind the base line")
		require.InDelta(t, depth, b.Max.Y, 1e-6, "nothing lies beyond the peak")
		require.InDelta(t, 0, b.Min.X, 1e-6, "the lobe is not undercut")
		require.InDelta(t, width, b.Max.X, 1e-6)
	})
}

func TestCellIsSmoothWhereNoCornerIsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		p := c.Path()
		for i := 1; i < p.Segments(); i++ {
			a, b := p.Segment(i-1), p.Segment(i)
			turn := a.EndTangent().AngleTo(b.StartTangent())
			corner := s.Kind == motif.Point && s.TipRadius == 0 || // its tip
				(s.Kind != motif.Wave && s.ValleyRadius == 0) // its valley, beside a flat
			if !corner {
				require.InDelta(t, 0, turn, 1e-6, "joint %d of %v", i, p)
			}
		}
	})
}

func TestFallMirrorsRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, depth := shapes(t)
		c, err := s.Cell(width, depth)
		require.NoError(t, err)
		rise, fall := path.NewRuler(c.Rise), path.NewRuler(c.Fall)
		require.InDelta(t, rise.Length(), fall.Length(), 1e-9)
		along := rapid.Float64Range(0, rise.Length()).Draw(t, "along")
		a, b := rise.At(along), fall.At(fall.Length()-along)
		require.InDelta(t, width-a.X, b.X, 1e-7)
		require.InDelta(t, a.Y, b.Y, 1e-7)
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
	require.Equal(t, "at this width the depth can be at most 19.05 mm; at this depth the width must be at least 50.80 mm", limit.Remedy())
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
	require.EqualError(t, err, `no shape is called "scalop"; the shapes are scallop, point and wave`)
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
