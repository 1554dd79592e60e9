package motif_test

import (
	"math"
	"testing"

	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func cell(t require.TestingT, s motif.Shape, width, depth float64) motif.Cell {
	c, err := s.Cell(width, depth)
	require.NoError(t, err)
	return c
}

// points returns the vertices of the rise.
func points(c motif.Cell) (all []path.Point) {
	for _, v := range c.Rise.V {
		all = append(all, v.Point)
	}
	return all
}

func requirePoints(t *testing.T, want []path.Point, got []path.Point) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		require.InDelta(t, 0, want[i].Dist(got[i]), 1e-9, "%d: %v, not %v", i, got[i], want[i])
	}
}

// A scallop of 1 1/2 by 1 in (common practice, no source): of the chord and the rise
// follow radius 0.78125 in, sweep 212.52 degrees and length 2.8978 in (arithmetic).
func TestBulbIsTheScallopBeyondTheHalfCircle(t *testing.T) {
	const flat = 0.25 * inch
	c := cell(t, motif.Shape{Kind: motif.Bulb, Flat: flat}, 1.5*inch+flat, 1*inch)
	arc := c.Rise.Segment(1)
	require.InDelta(t, 0.78125, arc.Radius()/inch, 1e-9)
	require.InDelta(t, 212.52, 2*math.Abs(arc.Sweep())*180/math.Pi, 0.005)
	require.InDelta(t, 2.8978, 2*arc.Length()/inch, 5e-5)

	for _, c := range []struct {
		flat, width, depth float64
		text, remedy       string
	}{
		{0, 60, 55, "bulb: 55.00 mm deep is 10.00 mm too much for a width of 60.00 mm: the lobes would meet", "at this width the depth can be less than 45.00 mm; at this depth the width must be more than 73.33 mm"},
		{0, 60, 20, "bulb: 20.00 mm deep it is no more than a half circle at a width of 60.00 mm", "make it more than 22.50 mm deep, or take a scallop"},
		{2, 60, 40, "bulb: its lobes are 61.02 mm across, which leaves -1.02 mm between them at a width of 60.00 mm", "leave a flat of 4.87 mm or more between"},
		{20, 60, 60, "bulb: its lobes are 66.67 mm across, which leaves -6.67 mm between them at a width of 60.00 mm", "make it less than 59.00 mm deep"},
	} {
		_, err := motif.Shape{Kind: motif.Bulb, Flat: c.flat}.Cell(c.width, c.depth)
		require.EqualError(t, err, c.text)
		require.Equal(t, c.remedy, err.(*motif.LimitError).Remedy())
	}
	// What the remedy says works.
	cell(t, motif.Shape{Kind: motif.Bulb, Flat: 4.87}, 60, 40)
}

// In heraldry the points of an engrailed line are outward, and invected is the
// reverse (G. W. Eve, Heraldry as Art).
func TestEngrailedIsTheScallopTurnedOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth := rapid.Float64Range(5, 30).Draw(t, "depth")
		require.Equal(t, cell(t, motif.Shape{Turn: true}, 60, depth).Path(), cell(t, motif.Shape{Kind: motif.Engrailed}, 60, depth).Path())
		c := cell(t, motif.Shape{Kind: motif.Engrailed}, 60, depth)
		require.Positive(t, c.Rise.Segment(0).Bulge, "hollow from outside")
		require.InDelta(t, 0, c.Rise.StartTangent().Y, 1e-9, "the valley is the arc's lowest place")
	})
	_, err := motif.Shape{Kind: motif.Engrailed, ValleyRadius: 3}.Cell(60, 20)
	require.EqualError(t, err, "engrailed: the valley of an engrailed edge is round already")
	_, err = motif.Shape{Kind: motif.Engrailed, TipFlat: 10}.Cell(60, 31)
	require.EqualError(t, err, "engrailed: 31.00 mm deep is 6.00 mm too much for a width of 60.00 mm: beyond the half circle the hollow is wider than its mouth")
}

func TestEllipticalLiesOnItsEllipse(t *testing.T) {
	c := cell(t, motif.Shape{Kind: motif.Elliptical, Flat: 4}, 64, 50)
	for _, q := range path.NewRuler(c.Path()).Path().Flatten(0.001) {
		if q.Y == 0 {
			continue
		}
		x, y := (q.X-32)/30, q.Y/50
		require.InDelta(t, 1, math.Hypot(x, y), 1e-4)
	}
	// A quarter of an ellipse of 30 by 50 mm is 63.815 mm long (Ramanujan's second
	// approximation, from memory: relative error below 1e-7 here).
	h := math.Pow((50.0-30)/(50+30), 2)
	quarter := math.Pi * 80 * (1 + 3*h/(10+math.Sqrt(4-3*h))) / 4
	require.InDelta(t, quarter+2, c.Rise.Length(), 0.01)
}

func TestPetalAndOgeeLeaveTheirFootAsSteepAsTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth := rapid.Float64Range(6, 90).Draw(t, "depth")
		chord := math.Atan2(depth, 30)
		petal := cell(t, motif.Shape{Kind: motif.Petal}, 60, depth)
		require.Equal(t, 1, petal.Rise.Segments())
		require.InDelta(t, min(math.Pi/2, 1.5*chord), petal.Rise.StartTangent().Angle(), 1e-9)
		ogee := cell(t, motif.Shape{Kind: motif.Ogee}, 60, depth)
		require.InDelta(t, min(math.Pi/2, 1.6*chord), ogee.Rise.StartTangent().Angle(), 1e-9)
		require.InDelta(t, ogee.Rise.StartTangent().Angle(), ogee.Rise.EndTangent().Angle(), 1e-9, "alike at foot and tip")
		a, b := ogee.Rise.Segment(0), ogee.Rise.Segment(1)
		require.InDelta(t, 0, a.B.Dist(path.Point{X: 15, Y: depth / 2}), 1e-9)
		require.InDelta(t, 0, a.EndTangent().AngleTo(b.StartTangent()), 1e-9)
		require.InDelta(t, a.Curvature(), -b.Curvature(), 1e-12, "round, then hollow")
	})
}

func TestCornersOfBracketTabSteppedAndDovetailed(t *testing.T) {
	requirePoints(t, []path.Point{{}, {X: 16, Y: 16}, {X: 22, Y: 16}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Bracket}, 60, 24)))
	requirePoints(t, []path.Point{{}, {X: 15}, {X: 15, Y: 24}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Tab}, 60, 24)))
	requirePoints(t, []path.Point{{}, {X: 10}, {X: 10, Y: 24}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Tab, Flat: 20}, 60, 24)))
	requirePoints(t, []path.Point{{}, {X: 12}, {X: 15, Y: 3}, {X: 15, Y: 19}, {X: 20, Y: 24}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Tab, ValleyRadius: 3, TipRadius: 5}, 60, 24)))
	requirePoints(t, []path.Point{{}, {X: 7.5}, {X: 7.5, Y: 12}, {X: 22.5, Y: 12}, {X: 22.5, Y: 24}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Stepped}, 60, 24)))
	// Wider at the top by half of the depth, 12 mm: a foot of 24 and a top of 36 mm.
	requirePoints(t, []path.Point{{}, {X: 18}, {X: 12, Y: 24}, {X: 30, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Dovetailed}, 60, 24)))
}

func TestCloudIsTheWaveBeyondItsQuarterCircles(t *testing.T) {
	c := cell(t, motif.Shape{Kind: motif.Cloud}, 60, 40)
	a, b := c.Rise.Segment(0), c.Rise.Segment(1)
	require.InDelta(t, (900.0+1600)/160, a.Radius(), 1e-9)
	require.InDelta(t, a.Radius(), b.Radius(), 1e-9)
	require.Greater(t, math.Abs(a.Sweep()), math.Pi/2, "a bowl of more than a half circle, with its other half")
	_, err := motif.Shape{Kind: motif.Cloud}.Cell(60, 29)
	require.EqualError(t, err, "cloud: 29.00 mm deep its crests are less than half circles at a width of 60.00 mm")
	_, err = motif.Shape{Kind: motif.Cloud}.Cell(60, 120)
	require.EqualError(t, err, "cloud: 120.00 mm deep is 10.20 mm too much for a width of 60.00 mm: its crests would meet")
	cell(t, motif.Shape{Kind: motif.Cloud}, 60, 109.8)
}

func TestLeaningShapesMoveTheirPeakAlongTheBaseLine(t *testing.T) {
	requirePoints(t, []path.Point{{}, {X: 45, Y: 24}}, points(cell(t, motif.Shape{Kind: motif.Point, Lean: 15}, 60, 24)))
	up, lean := cell(t, motif.Shape{Kind: motif.Wave}, 60, 20), cell(t, motif.Shape{Kind: motif.Wave, Lean: -12}, 60, 20)
	line := path.NewRuler(lean.Path())
	for _, q := range up.Path().Flatten(0.01) {
		_, off := line.Nearest(path.Point{X: q.X - 12*q.Y/20, Y: q.Y})
		require.Less(t, off, 0.0125)
	}
	require.InDelta(t, 0, lean.Rise.StartTangent().Y, 0.01, "still level at its valley")
	_, err := motif.Shape{Lean: -61}.Cell(60, 20)
	require.EqualError(t, err, "scallop: it leans by 61.00 mm, more than its width of 60.00 mm")
}

func TestNeckIsTheNarrowestPlaceBelowTheWidest(t *testing.T) {
	for name, c := range map[string]struct {
		shape        motif.Shape
		depth, width float64
	}{
		"scallop":     {motif.Shape{}, 24, 0},
		"point":       {motif.Shape{Kind: motif.Point}, 24, 0},
		"tab":         {motif.Shape{Kind: motif.Tab}, 24, 0},
		"stepped":     {motif.Shape{Kind: motif.Stepped}, 24, 0},
		"dovetailed":  {motif.Shape{Kind: motif.Dovetailed}, 24, 24},
		"bulb":        {motif.Shape{Kind: motif.Bulb, Flat: 30}, 24, 30},
		"turned ogee": {motif.Shape{Kind: motif.Ogee, Turn: true}, 40, 0},
	} {
		w, h := cell(t, c.shape, 60, c.depth).Neck()
		require.InDelta(t, c.width, w, 0.02*60, name)
		require.Equal(t, c.width == 0, h == 0, name)
	}
	// A cloud's neck lies level with the middles of its bowls.
	w, h := cell(t, motif.Shape{Kind: motif.Cloud}, 60, 40).Neck()
	r := (900.0 + 1600) / 160
	require.InDelta(t, 60-2*r, w, 0.05)
	require.InDelta(t, r, h, 40.0/64)
}

func TestMinWidthIsTheConverseOfMaxDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, width, _ := shapes(t)
		s.Lean = 0
		most := s.MaxDepth(width)
		if math.IsInf(most, 1) {
			require.Equal(t, s.Flat+s.TipFlat, s.MinWidth(width))
			return
		}
		require.InDelta(t, width, s.MinWidth(most), 1e-6*width)
		if s.Kind != motif.Bulb {
			cell(t, motif.Shape{Kind: s.Kind, Flat: s.Flat, TipFlat: s.TipFlat}, width, most*(1-1e-6))
		}
	})
}

func TestDetailsThatAShapeHasNotAreRefused(t *testing.T) {
	for text, s := range map[string]motif.Shape{
		"ogee: the tip of an ogee cannot be rounded":     {Kind: motif.Ogee, TipRadius: 3},
		"petal: the valley of a petal cannot be rounded": {Kind: motif.Petal, ValleyRadius: 3},
		"bulb: a bulb cannot be blunt":                   {Kind: motif.Bulb, TipFlat: 3},
		"own: nothing is drawn":                          {Kind: motif.Own},
		"tab: flat 20.00 mm and blunt tip 30.00 mm do not fill the width 60.00 mm of a tab with upright sides":    {Kind: motif.Tab, Flat: 20, TipFlat: 30},
		"dovetailed: its top of 20.00 mm is no wider than its foot of 24.00 mm":                                   {Kind: motif.Dovetailed, TipFlat: 20},
		"stepped: flat 30.00 mm and blunt tip 31.00 mm leave no room for steps in a width of 60.00 mm":            {Kind: motif.Stepped, Flat: 30, TipFlat: 31},
		"tab: a tip radius of 20.00 mm and a valley radius of 0.00 mm leave no room for one another on its sides": {Kind: motif.Tab, TipRadius: 20},
	} {
		_, err := s.Cell(60, 24)
		require.EqualError(t, err, text)
		require.NotEmpty(t, err.(*motif.LimitError).Remedy())
	}
}

func TestMarksLieInsideOfTheMotif(t *testing.T) {
	for _, lean := range []float64{0, 10} {
		c := cell(t, motif.Shape{Kind: motif.Scallop, Lean: lean, Mark: motif.Mark{Kind: motif.Eyelet, Size: 6}}, 60, 24)
		require.Len(t, c.Marks, 1)
		require.InDelta(t, 2*math.Pi*3, c.Marks[0].Length(), 1e-9)
		require.InDelta(t, 0, c.Marks[0].Bounds().Centre().Dist(path.Point{X: 30 + lean/2, Y: 12}), 1e-9)
	}
	c := cell(t, motif.Shape{Kind: motif.Tab, Mark: motif.Mark{Kind: motif.Keyhole, Size: 6, Height: 16}}, 60, 24)
	box := c.Marks[0].Bounds()
	require.InDelta(t, 6, box.Width(), 1e-9)
	require.InDelta(t, 19, box.Max.Y, 1e-9)
	require.InDelta(t, 16-9, box.Min.Y, 1e-9)
	require.Positive(t, c.Marks[0].Area())
	_, err := motif.Shape{Mark: motif.Mark{Kind: motif.Eyelet, Size: 12, Height: 20}}.Cell(60, 24)
	require.ErrorContains(t, err, "comes nearer than 6.00 mm to the edge")
	_, err = motif.Shape{Mark: motif.Mark{Kind: motif.Eyelet}}.Cell(60, 24)
	require.ErrorContains(t, err, "its mark has a size of 0 mm")
}

func drawn(t require.TestingT, p path.Path) motif.Shape {
	d, err := motif.NewDrawn(p)
	require.NoError(t, err)
	return motif.Shape{Kind: motif.Own, Drawn: d}
}

func TestDrawnMotifIsScaledToWidthAndDepth(t *testing.T) {
	// Begun away from the origin: a tooth with an upright side.
	s := drawn(t, path.Open(path.Point{X: 10, Y: 5}, path.Point{X: 10, Y: 15}, path.Point{X: 30, Y: 5}))
	require.False(t, s.Symmetrical())
	c := cell(t, s, 60, 24)
	requirePoints(t, []path.Point{{}, {Y: 24}}, points(c))
	require.InDelta(t, 60, c.Fall.End().X, 0)
	s.Flat = 10
	requirePoints(t, []path.Point{{}, {X: 5}, {X: 5, Y: 24}}, points(cell(t, s, 60, 24)))
	require.InDelta(t, 60, cell(t, s, 60, 24).Mirror().Path().End().X, 0)

	// A half circle drawn 20 wide: with its proportions it stays one, else it becomes
	// half of an ellipse.
	half := drawn(t, path.FromSegments(path.Arc(path.Point{}, 10, math.Pi, -math.Pi)))
	require.True(t, half.Symmetrical())
	c = cell(t, half, 60, 30)
	require.InDelta(t, 30, c.Rise.Segment(0).Radius(), 1e-9)
	require.Equal(t, 1, c.Rise.Segments())
	ellipse := cell(t, motif.Shape{Kind: motif.Elliptical}, 60, 24)
	line := path.NewRuler(cell(t, half, 60, 24).Path())
	for _, v := range ellipse.Path().V {
		_, off := line.Nearest(v.Point)
		require.Less(t, off, 0.005)
	}
}

func TestDrawnMotifsThatCannotRepeatAreRefused(t *testing.T) {
	o := func(points ...float64) path.Path {
		var p []path.Point
		for i := 0; i < len(points); i += 2 {
			p = append(p, path.Point{X: points[i], Y: points[i+1]})
		}
		return path.Open(p...)
	}
	for text, p := range map[string]path.Path{
		"the motif is a closed line; leave its base line out, from where it begins to where it ends":                         path.Closed(path.Point{}, path.Point{X: 5, Y: 5}, path.Point{X: 10}),
		"the motif ends -10.00 to the right of where it begins; draw it from left to right, from 0.1 to 100000 wide":         o(0, 0, -5, 5, -10, 0),
		"the motif ends 1.00 higher or lower than it begins; both ends lie on its base line, level with one another":         o(0, 0, 5, 5, 10, 1),
		"the motif lies 2.00 behind its base line; it goes away from the garment only, with its ends innermost":              o(0, 0, 3, -2, 5, 5, 10, 0),
		"the motif is 0.00 deep; draw it at least 0.1 deep":                                                                  o(0, 0, 10, 0),
		"the motif crosses itself at 5.00, 3.33; draw it so that it does not":                                                o(0, 0, 6, 4, 4, 4, 10, 0),
		"the motif crosses its own copy beside it, at 7.71, 4.57; keep it within its width, or begin and end it with a flat": o(0, 0, -3, 6, 12, 4, 10, 0),
		"the motif has no length, or is not made of numbers; draw it from left to right":                                     o(0, 0, math.NaN(), 5, 10, 0),
	} {
		_, err := motif.NewDrawn(p)
		require.EqualError(t, err, text)
	}
}

// FuzzDrawn draws motifs through any points: each is refused in words, or is a cell
// that repeats.
func FuzzDrawn(f *testing.F) {
	f.Add(0.0, 0.0, 3.0, 5.0, 7.0, 5.0, 10.0, 0.0, 0.3)
	f.Add(0.0, 0.0, -3.0, 6.0, 12.0, 4.0, 10.0, 0.0, -0.2)
	f.Add(0.0, 0.0, 1e-9, 6.0, 5.0, 1e6, 10.0, 0.0, 5.0)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, cx, cy, dx, dy, bulge float64) {
		p := path.Open(path.Point{X: ax, Y: ay}, path.Point{X: bx, Y: by}, path.Point{X: cx, Y: cy}, path.Point{X: dx, Y: dy})
		p.V[1].Bulge = bulge
		d, err := motif.NewDrawn(p)
		if err != nil {
			return
		}
		s := motif.Shape{Kind: motif.Own, Drawn: d}
		c, err := s.Cell(60, 24)
		if err != nil {
			return
		}
		require.Equal(t, path.Point{}, c.Path().Start())
		require.Equal(t, path.Point{X: 60}, c.Path().End())
		require.Equal(t, 24.0, c.Peak().Y)
		if s.Symmetrical() {
			require.Equal(t, 30.0, c.Peak().X)
		}
	})
}
