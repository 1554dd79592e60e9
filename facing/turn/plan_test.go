package turn_test

import (
	"math"
	"testing"

	"engrail/facing/turn"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
)

// spacing returns the distances between neighbours along the net line.
func spacing(p *turn.Plan) []float64 {
	var all []float64
	for i := 1; i < len(p.Snips); i++ {
		all = append(all, p.Snips[i].At-p.Snips[i-1].At)
	}
	return all
}

// S5 p. 452: clip inward curves every 1/4 to 1/2 in (6 to 13 mm) by sharpness, and cut V
// notches on outward curves. The computed distance is R times 4 mm / (2 a), so that it
// is theirs on radii from 18 to 39 mm with an allowance of 6 mm; on flatter curves, where
// less is missing, slits are farther apart than printed, and with 10 mm nearer.
func TestSlitsStandAsFarApartAsThePrintedRuleOnCurvesOfGarments(t *testing.T) {
	for _, c := range []struct {
		radius, a   float64
		least, most float64
	}{
		{20, 6, 5.5, 13}, {25, 6, 6, 13}, {38, 6, 6, 13}, {32, 10, 6, 13}, {30, 5, 6, 13}, // as printed
		{100, 6, 25, 35}, // flat: 33 mm are enough
		{20, 10, 3, 5},   // sharp for its allowance: nearer
	} {
		p := planned(t, outwardArc(c.radius, 2.8).Reverse(), turn.Usual(c.a))
		require.NotEmpty(t, spacing(p))
		for _, d := range spacing(p) {
			require.GreaterOrEqual(t, d, c.least, c)
			require.LessOrEqual(t, d, c.most, c)
		}
	}
}

func TestOutwardCurvesHaveVsAndInwardCurvesSlits(t *testing.T) {
	for _, s := range planned(t, outwardArc(30, 2), turn.Usual(6)).Snips {
		require.Equal(t, turn.V, s.Kind)
		require.InDelta(t, 1.5, s.Gap, 1e-9)
		require.InDelta(t, 1.5, path.NewRuler(outwardArc(30, 2)).Path().Segment(0).Centre().Dist(s.Line.V[1].Point)-30, 1e-9, "short of the stitching")
		require.InDelta(t, 12*s.Turn, s.Width, 0.02, "2 a t wide: its sides meet when it is turned")
	}
	for _, s := range planned(t, outwardArc(30, 2).Reverse(), turn.Usual(6)).Snips {
		require.Equal(t, turn.Slit, s.Kind)
		require.InDelta(t, 30-1.5, path.Point{}.Dist(s.Line.End()), 1e-9)
	}
}

func TestAlmostStraightLinesNeedNothing(t *testing.T) {
	for _, net := range []path.Path{path.Open(path.Point{}, path.Point{X: 300}), outwardArc(3000, 0.08), outwardArc(3000, 0.08).Reverse()} {
		p := planned(t, net, turn.Usual(6))
		require.Empty(t, p.Snips)
		require.Empty(t, p.Tips)
	}
}

func TestVsOnTightCurvesEndNearerAndKeepTheFullness(t *testing.T) {
	o := turn.Usual(6)
	wide, tight := planned(t, outwardArc(20, 2.5), o), planned(t, outwardArc(9.7, 2.5), o)
	require.InDelta(t, 1.5, wide.Snips[0].Gap, 1e-9)
	require.Less(t, tight.Snips[0].Gap, 1.5)
	for _, s := range tight.Snips {
		require.LessOrEqual(t, s.Left, o.Fullness+1e-9)
		require.GreaterOrEqual(t, s.Gap, 0.75-1e-9)
	}
	// Tighter still, no Vs have room, and it is trimmed as a tip.
	tip := planned(t, outwardArc(5, 2.5), o)
	require.Empty(t, tip.Snips)
	require.Len(t, tip.Tips, 1)
}

func TestTightCurvesAreTrimmedNarrowerForVs(t *testing.T) {
	o := turn.Usual(6)
	net := outwardArc(8, 2.5)
	p := planned(t, net, o)
	require.NotEmpty(t, p.Snips)
	for _, v := range p.Snips {
		require.InDelta(t, 4, v.Edge, 1e-9, "in 5 mm they have no room")
		require.InDelta(t, 8+4, v.Line.Start().Dist(path.Point{}), 1e-9, "on the trim line")
		require.LessOrEqual(t, v.Left, o.Fullness+1e-9)
	}
	require.Len(t, p.Trims, 1)
	require.InDelta(t, 4, p.Trims[0].Width, 1e-9)
	require.InDelta(t, (8+4)*2.5, p.Trims[0].Line.Length(), 1e-6)
	require.LessOrEqual(t, whole(p, net).After.Fullness, o.Fullness+1e-9)
}

func TestShortCurvesAreTrimmedToWhatKeepsTheFullness(t *testing.T) {
	for _, c := range []struct{ radius, sweep, width float64 }{
		{8, 0.3, 1 / (2 * 0.3)},     // 2bt is the fullness
		{3, 0.6, 1 / (2 * 0.6)},     // nearer than the gap
		{5, 3.2, 1 / (2 * 3.0 / 5)}, // a ball: of the length of a bridge
	} {
		net := outwardArc(c.radius, c.sweep)
		p := planned(t, net, turn.Usual(6))
		require.Empty(t, p.Snips, c)
		require.Empty(t, p.Tips, c)
		require.Len(t, p.Trims, 1, c)
		line := path.NewRuler(p.Trims[0].Line)
		require.InDelta(t, c.radius+c.width, line.At(line.Length()/2).Dist(path.Point{}), 1e-6)
		require.InDelta(t, 1, whole(p, net).After.Fullness, 1e-9)
	}
}

func TestTrimLineLeadsOutAt45Degrees(t *testing.T) {
	arc := path.Arc(path.Point{Y: 6}, 6, -math.Pi/2-0.2, 0.4)
	net := path.FromSegments(
		path.Line(arc.A.Add(arc.StartTangent().Mul(-10)), arc.A), arc, path.Line(arc.B, arc.B.Add(arc.EndTangent().Mul(10))))
	o := turn.Usual(6)
	o.Bridge = 60 // no V has room
	p := planned(t, net, o)
	require.Len(t, p.Trims, 1)
	x := p.Trims[0]
	require.InDelta(t, 1/(2*0.4), x.Width, 1e-9)
	require.InDelta(t, 10-(6-x.Width), x.From, 0.02)
	require.InDelta(t, 10+2.4+(6-x.Width), x.To, 0.02)
	ruler := path.NewRuler(net)
	for _, q := range [2]path.Point{x.Line.Start(), x.Line.End()} {
		_, off := ruler.Nearest(q)
		require.InDelta(t, 6, off, 0.02, "on the cut edge")
	}
	require.InDelta(t, 2*math.Sqrt2*(6-x.Width)+(6+x.Width)*0.4, x.Line.Length(), 0.06)
}

func TestPointThatIsCutOffFlatIsATip(t *testing.T) {
	side := path.Point{}.Add(path.Direction(math.Pi - 0.6).Mul(60))
	net := path.Open(side, path.Point{}, path.Point{X: 2}, path.Point{X: 2 - side.X, Y: side.Y})
	require.Positive(t, side.Y)
	p := planned(t, net, turn.Usual(6))
	require.Len(t, p.Tips, 1)
	require.InDelta(t, 1.2, p.Tips[0].Turn, 1e-9)
	require.NotEmpty(t, p.Tips[0].Line.V)
}

func TestSharpValleyHasOneSlitOnItsBisector(t *testing.T) {
	net := path.Open(path.Point{}, path.Point{X: 40, Y: 30}, path.Point{X: 80})
	p := planned(t, net, turn.Usual(6))
	require.Len(t, p.Snips, 1)
	s := p.Snips[0]
	require.InDelta(t, 40, s.Line.Start().X, 1e-6)
	require.InDelta(t, 40, s.Line.End().X, 1e-6)
	require.InDelta(t, 1.5, s.Line.End().Dist(path.Point{X: 40, Y: 30}), 1e-9)
	require.InDelta(t, 4*6*math.Sin(math.Atan(0.75)), s.Opening, 1e-9)
}

func TestPointIsTrimmedAcrossAndTapered(t *testing.T) {
	// 60 degrees, down.
	net := path.Open(path.Point{X: -40, Y: 40 * math.Sqrt(3)}, path.Point{}, path.Point{X: 40, Y: 40 * math.Sqrt(3)})
	p := planned(t, net, turn.Usual(6))
	require.Len(t, p.Tips, 1)
	line := p.Tips[0].Line
	require.Len(t, line.V, 4)
	require.InDelta(t, -1.5, line.V[1].Y, 1e-9, "across, the gap beyond the tip")
	require.InDelta(t, -1.5, line.V[2].Y, 1e-9)
	require.InDelta(t, -line.V[1].X, line.V[2].X, 1e-6)
	require.Less(t, line.V[0].X, line.V[1].X, "in the direction of the net line")
	_, off := path.NewRuler(line).Nearest(path.Point{})
	require.InDelta(t, 1.5, off, 1e-6)
	// The tapers start where the turned edges meet, a/tan(30) along the sides.
	side := path.Point{}.Add(path.Direction(math.Pi / 3).Mul(6 / math.Tan(math.Pi/6)))
	require.InDelta(t, 6, line.End().Dist(side), 0.01)
}

func TestMotifWhoseSidesMeetIsNarrow(t *testing.T) {
	spike := path.Open(path.Point{}, path.Point{X: 20}, path.Point{X: 24, Y: -40}, path.Point{X: 28}, path.Point{X: 48})
	p := planned(t, spike, turn.Usual(6))
	require.Len(t, p.Narrow, 1)
	// It fits what comes to the axis at the foot.
	fits := p.Narrow[0].Fits
	require.InDelta(t, 4*math.Hypot(4, 40)/40, fits, 0.05)
	o := turn.Usual(math.Floor(fits*10) / 10)
	require.Empty(t, planned(t, spike, o).Narrow)
}

func TestBadInputIsRefusedWithARemedy(t *testing.T) {
	net := outwardArc(30, 1)
	cut := outside(t, net, 6)
	nan := math.NaN()
	change := func(f func(*turn.Options)) turn.Options { o := turn.Usual(6); f(&o); return o }
	for want, o := range map[string]turn.Options{
		"the allowance is 0 mm":                 {},
		"the allowance is -6 mm":                change(func(o *turn.Options) { o.Allowance = -6 }),
		"the allowance is 1e+06 mm":             change(func(o *turn.Options) { o.Allowance = 1e6 }),
		"the allowance is NaN mm":               change(func(o *turn.Options) { o.Allowance = nan }),
		"the fullness is 0 mm":                  change(func(o *turn.Options) { o.Fullness = 0 }),
		"the opening of slits is +Inf mm":       change(func(o *turn.Options) { o.Opening = math.Inf(1) }),
		"the bridge between V notches is -1 mm": change(func(o *turn.Options) { o.Bridge = -1 }),
		"the gap of 6.0 mm leaves nothing to snip of an allowance of 6.0 mm": change(func(o *turn.Options) { o.Gap = 6 }),
	} {
		_, err := turn.Make(net, cut, nil, o)
		var own *turn.Error
		require.ErrorAs(t, err, &own)
		require.EqualError(t, err, want)
		require.NotEmpty(t, own.Remedy())
	}
	for _, bad := range []path.Path{{}, path.Open(path.Point{}), path.Open(path.Point{}, path.Point{X: nan}), path.Open(path.Point{}, path.Point{})} {
		_, err := turn.Make(bad, cut, nil, turn.Usual(6))
		require.EqualError(t, err, "the net line has no length")
		_, err = turn.Make(net, bad, nil, turn.Usual(6))
		require.EqualError(t, err, "the cut line has no length")
	}
}
