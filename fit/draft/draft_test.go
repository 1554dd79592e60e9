package draft

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/fit"
	"engrail/motif/path"
)

const inch = 25.4

// drafter is what all four kinds of panel share.
type drafter interface {
	Panel(Form) (fit.Panel, error)
}

func draft(t require.TestingT, d drafter, f Form) fit.Panel {
	p, err := d.Panel(f)
	require.NoError(t, err)
	return p
}

// square reports the sine of the angle by which the path's end and the next
// path's start miss a right angle.
func square(a, b path.Path) float64 { return math.Abs(a.EndTangent().Dot(b.StartTangent())) }

// requireSound checks what every drafted panel promises.
func requireSound(t require.TestingT, p fit.Panel) {
	require.Len(t, p.Edges, 4)
	names := []string{"hem", "finish", "top", "start"}
	for i, e := range p.Edges {
		require.Equal(t, names[i], e.Name)
		require.True(t, e.Path.Finite())
		next := p.Edges[(i+1)%4].Path
		require.Equal(t, e.Path.End(), next.Start(), "%s ends where the next edge starts", e.Name)
		// Arcs follow one another without a corner.
		for j := 1; j < e.Path.Segments(); j++ {
			turn := e.Path.Segment(j - 1).EndTangent().Cross(e.Path.Segment(j).StartTangent())
			require.InDelta(t, 0, turn, 1e-8, "%s has a corner", e.Name)
		}
	}
	require.Equal(t, fit.HemEdge, p.Edges[0].Role)
	require.Positive(t, p.Outline().Area(), "the outline is counter-clockwise")
	require.Less(t, p.Edges[0].Path.Start().X, p.Edges[0].Path.End().X+1e-9, "the hem runs from left to right")
	require.Equal(t, p.Grain.A.X, p.Grain.B.X, "the grain is upright")
	require.Greater(t, p.Grain.B.Y, p.Grain.A.Y)
}

func TestWorkedCircleRadii(t *testing.T) {
	// Waist radii from tutorials: common practice, no source. Where such a
	// tutorial rounds otherwise or takes pi as 3.14, its figure is named.
	const tolerance = 0.005
	tests := []struct {
		name         string
		unit         float64
		waist, ease  float64
		part         float64
		panels       int
		want         float64
		printed      float64 // as printed, where it differs
		printedPi    float64 // what the source takes as pi, 0 when it only rounds
		printedSlack float64
	}{
		{"26 in, full circle", inch, 26, 0, 1, 1, 4.138, 4.13, 0, 0.01},
		{"26 in, half circle", inch, 26, 0, 0.5, 1, 8.276, 8.2, 0, 0.1},
		{"26 in, third of a circle", inch, 26, 0, 1.0 / 3, 1, 12.414, 12.4, 0, 0.05},
		{"26 in, quarter circle", inch, 26, 0, 0.25, 1, 16.552, 16.56, 3.14, 0.005},
		{"110 cm, full circle", 10, 110, 0, 1, 2, 17.507, 17.52, 3.14, 0.005},
		{"110 cm and four seam allowances of 1 cm", 10, 110, 4, 1, 2, 18.144, 18.15, 3.14, 0.005},
		// The source doubles the waist for a half circle: 2 x (110 + 2) = 224.
		{"110 cm and two seam allowances of 1 cm, half circle", 10, 110, 2, 0.5, 1, 35.651, 35.67, 3.14, 0.005},
		{"28 in, full circle", inch, 28, 0, 1, 2, 4.4563, 0, 0, 0},
		{"wrap of 26 in that overlaps by 15 1/4 in", inch, 26, 15.25, 1, 1, 6.565, 6.5, 0, 0.1},
		{"quarter panel of 15 cm", 10, 4 * 15, 0, 1, 4, 9.549, 9.6, 0, 0.06},
		{"quarter panel of 17.5 cm", 10, 4 * 17.5, 0, 1, 4, 11.141, 11.2, 0, 0.06},
		{"23 in, half circle", inch, 23, 0, 0.5, 1, 7.321, 0, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := Circle{Waist: tt.waist * tt.unit, Ease: tt.ease * tt.unit, Length: 600, Part: tt.part, Panels: tt.panels}
			p := draft(t, c, Form{})
			top := p.Edges[2].Path
			require.InDelta(t, tt.want, top.Segment(0).Radius()/tt.unit, tolerance)
			require.InDelta(t, tt.want, c.WaistRadius()/tt.unit, tolerance)
			require.InDelta(t, (tt.waist+tt.ease)/float64(max(1, tt.panels)), top.Length()/tt.unit, 1e-9)
			if tt.printed != 0 {
				pi := tt.printedPi
				if pi == 0 {
					pi = math.Pi
				}
				require.InDelta(t, tt.printed, (tt.waist+tt.ease)/(2*pi*tt.part), tt.printedSlack)
			}
		})
	}
}

func TestCutWaistLiesInsideByTheAllowance(t *testing.T) {
	// 110 cm and four seams of 1 cm, less 1 cm at the waist: 17.14 cm. Common
	// practice, no source; it takes pi as 3.14 on the way.
	p := draft(t, Circle{Waist: 1100, Ease: 40, Length: 600, Part: 1, Panels: 4}, Form{TopAllowance: 10})
	top := p.Edges[2]
	require.InDelta(t, 17.14, (top.Path.Segment(0).Radius()-top.Allowance)/10, 0.005)
}

func TestWaistOverFourIsNoRadius(t *testing.T) {
	// The quarter of a 32 in waist taken as the radius of a full circle gives
	// 50.27 in of waist. Common practice, no source.
	right := Circle{Waist: 32 * inch, Part: 1}
	require.Greater(t, math.Abs(right.WaistRadius()-32*inch/4), 2*inch)
	wrong := Circle{Waist: 50.2655 * inch, Part: 1}
	require.InDelta(t, 8, wrong.WaistRadius()/inch, 0.005)
}

func TestRuleOfThumbDiffersFromExactRadius(t *testing.T) {
	// Half circle for a 23 in waist by a rule of thumb, W/4 + 1 3/4 = 7 1/2 in.
	// Common practice, no source; exact is 7.321.
	exact := Circle{Waist: 23 * inch, Part: 0.5}.WaistRadius() / inch
	require.InDelta(t, 7.321, exact, 0.005)
	require.InDelta(t, 7.5-exact, 0.179, 0.005)
}

func TestWorkedFullCircleHem(t *testing.T) {
	// Waist 28 in, length 24 in: outer radius 28.4563, hem 178.796 in, and
	// twice the radius is 1.58 yd of cloth. Common practice, no source; the
	// hem follows from it.
	const tolerance = 0.005
	p := draft(t, Circle{Waist: 28 * inch, Length: 24 * inch, Part: 1}, Form{})
	hem := p.Edges[0].Path
	require.InDelta(t, 28.4563, hem.Segment(0).Radius()/inch, tolerance)
	require.InDelta(t, 178.796, hem.Length()/inch, tolerance)
	require.InDelta(t, 1.58, hem.Bounds().Width()/inch/36, tolerance)

	// A facing of 2 in on it ends at a circle of 166.230 in, 4 pi less.
	inner := draft(t, Circle{Waist: 28 * inch, Length: 22 * inch, Part: 1}, Form{}).Edges[0].Path
	require.InDelta(t, 166.230, inner.Length()/inch, tolerance)
	require.InDelta(t, 12.566, (hem.Length()-inner.Length())/inch, tolerance)

	// 24 repeats on it: 7.4499 in along the arc, 7.4286 in chord, 15 degrees.
	ruler := path.NewRuler(hem)
	pitch := hem.Length() / 24
	require.InDelta(t, 7.4499, pitch/inch, tolerance)
	for i := range 24 {
		a, b := float64(i)*pitch, float64(i+1)*pitch
		require.InDelta(t, 7.4286, ruler.At(a).Dist(ruler.At(b))/inch, tolerance)
		require.InDelta(t, 15, 180/math.Pi*ruler.TangentAt(a).AngleTo(ruler.TangentAt(b)), 1e-6)
	}
}

func TestWorkedGoreWidths(t *testing.T) {
	// Front half-panel of a seven-gore skirt: hip/12 at the hip, half as much
	// again at the bottom; of a six-gore skirt twice as much. L. I. Baldt,
	// Clothing for Women. Hip 40 in: 3.333, 5.000, 6.667 in.
	const tolerance = 0.005
	for _, tt := range []struct{ ratio, bottom float64 }{{1.5, 5}, {2, 6.667}} {
		hip := 40 * inch / 12
		p := draft(t, Gore{Waist: 2 * hip, Hem: 2 * hip * tt.ratio, Length: 30 * inch}, Form{Half: true})
		require.InDelta(t, 3.333, p.Edges[2].Path.Length()/inch, tolerance)
		require.InDelta(t, tt.bottom, p.Edges[0].Path.Length()/inch, tolerance)
	}
}

// drawForm draws a form with allowances that leave room.
func drawForm(t *rapid.T) Form {
	return Form{Name: "front", Half: rapid.Bool().Draw(t, "half")}
}

func TestCirclePanelsKeepTheirMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "panels")
		c := Circle{
			Waist:  rapid.Float64Range(100, 2000).Draw(t, "waist"),
			Length: rapid.Float64Range(50, 1500).Draw(t, "length"),
			Part:   float64(n) * rapid.Float64Range(0.01, 1).Draw(t, "part"),
			Panels: n,
		}
		f := drawForm(t)
		p := draft(t, c, f)
		requireSound(t, p)
		shares := float64(n)
		if f.Half {
			shares *= 2
		}
		r := c.WaistRadius()
		require.InEpsilon(t, c.Waist/shares, p.Edges[2].Path.Length(), 1e-9)
		require.InEpsilon(t, 2*math.Pi*c.Part*(r+c.Length)/shares, p.Edges[0].Path.Length(), 1e-9)
		require.InEpsilon(t, c.Length, p.Edges[1].Path.Length(), 1e-7)
		require.InEpsilon(t, c.Length, p.Edges[3].Path.Length(), 1e-7)
		// Every corner is square, and the area is that of the ring's part.
		for i := range 4 {
			require.InDelta(t, 0, square(p.Edges[i].Path, p.Edges[(i+1)%4].Path), 1e-7)
		}
		ring := math.Pi * c.Part * ((r+c.Length)*(r+c.Length) - r*r)
		require.InEpsilon(t, ring/shares, p.Outline().Area(), 1e-7)
		// The grain stays on the cloth: between the two circles.
		centre := path.Point{Y: r + c.Length}
		for _, end := range []path.Point{p.Grain.A, p.Grain.B} {
			require.Greater(t, end.Dist(centre), r)
			require.Less(t, end.Dist(centre), r+c.Length)
		}
	})
}

func TestGoresKeepTheirMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Gore{
			Waist:  rapid.Float64Range(50, 800).Draw(t, "waist"),
			Hem:    rapid.Float64Range(50, 1500).Draw(t, "hem"),
			Length: rapid.Float64Range(300, 1500).Draw(t, "length"),
		}
		f := drawForm(t)
		p := draft(t, g, f)
		requireSound(t, p)
		share := 1.0
		if f.Half {
			share = 2
		}
		require.InEpsilon(t, g.Waist/share, p.Edges[2].Path.Length(), 1e-9)
		require.InEpsilon(t, g.Hem/share, p.Edges[0].Path.Length(), 1e-9)
		require.InEpsilon(t, g.Length, p.Edges[1].Path.Length(), 1e-7)
		for i := range 4 {
			require.InDelta(t, 0, square(p.Edges[i].Path, p.Edges[(i+1)%4].Path), 1e-7)
		}
		// Between two lines at one distance the area is the mean length times it.
		require.InEpsilon(t, (g.Waist+g.Hem)/2*g.Length/share, p.Outline().Area(), 1e-7)
	})
}

func TestGoresRiseAsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Gore{
			Waist:  rapid.Float64Range(50, 800).Draw(t, "waist"),
			Length: rapid.Float64Range(300, 1500).Draw(t, "length"),
		}
		// From a pegged panel to one that flares by 0.5 rad on either side.
		a := rapid.OneOf(rapid.Float64Range(0.01, 0.5), rapid.Float64Range(-0.02, -0.01)).Draw(t, "flare")
		g.Hem = g.Waist + 2*a*g.Length
		if g.Hem < 10 {
			t.Skip("no hem left")
		}
		natural := g.Hem / 2 / a * (1 - math.Cos(a))
		rise := natural * rapid.Float64Range(0.7, 1.3).Draw(t, "rise")
		g.Rise = &rise
		f := drawForm(t)
		p := draft(t, g, f)
		requireSound(t, p)
		share := 1.0
		if f.Half {
			share = 2
		}
		hem := p.Edges[0].Path
		require.InEpsilon(t, g.Waist/share, p.Edges[2].Path.Length(), 1e-9)
		require.InEpsilon(t, g.Hem/share, hem.Length(), 1e-9)
		require.InDelta(t, rise, hem.End().Y, 1e-6)
		for i := range 4 {
			require.InDelta(t, 0, square(p.Edges[i].Path, p.Edges[(i+1)%4].Path), 1e-7)
		}
		for i := range hem.Segments() {
			require.Positive(t, hem.Segment(i).Bulge*a, "the hem turns one way")
		}
		if rise > natural {
			require.Less(t, p.Edges[1].Path.Length(), g.Length, "a hem that rises more shortens the sides")
		}
	})
}

func TestNaturalRiseGivesTheSectorBack(t *testing.T) {
	g := Gore{Waist: 300, Hem: 620, Length: 640}
	sector := draft(t, g, Form{})
	rise := sector.Edges[0].Path.End().Y
	g.Rise = &rise
	rising := draft(t, g, Form{})
	require.InDelta(t, sector.Outline().Area(), rising.Outline().Area(), 1e-3)
	require.InDelta(t, sector.Edges[1].Path.Length(), rising.Edges[1].Path.Length(), 1e-6)
}

func TestRiseOfNothingIsStraight(t *testing.T) {
	rise := 0.0
	p := draft(t, Gore{Waist: 300, Hem: 500, Length: 600, Rise: &rise}, Form{})
	requireSound(t, p)
	require.True(t, p.Edges[0].Path.Segment(0).IsLine())
	require.InDelta(t, 500, p.Edges[0].Path.Length(), 1e-9)
	require.InDelta(t, 400*600, p.Outline().Area(), 1e-6)
}

func TestHalvesUnfoldToTheWhole(t *testing.T) {
	rise := 20.0
	for name, d := range map[string]drafter{
		"circle":   Circle{Waist: 700, Length: 600, Part: 1, Panels: 2},
		"gore":     Gore{Waist: 360, Hem: 600, Length: 620},
		"rising":   Gore{Waist: 360, Hem: 600, Length: 620, Rise: &rise},
		"straight": Straight{Width: 500, Depth: 300},
	} {
		t.Run(name, func(t *testing.T) {
			whole, half := draft(t, d, Form{}), draft(t, d, Form{Half: true})
			require.True(t, half.OnFold())
			require.False(t, whole.OnFold())
			fold := half.Edges[3].Path
			require.Equal(t, 0.0, fold.Start().X)
			require.Equal(t, 0.0, fold.End().X)
			hem := half.Edges[0].Path
			mirrored := hem.Transform(path.Reflection(path.Point{}, path.Vec{Y: 1})).Reverse()
			unfolded := path.NewRuler(path.Join(0, mirrored, hem))
			drawn := path.NewRuler(whole.Edges[0].Path)
			require.InDelta(t, drawn.Length(), unfolded.Length(), 1e-8)
			for i := range 101 {
				at := drawn.Length() * float64(i) / 100
				require.InDelta(t, 0, drawn.At(at).Dist(unfolded.At(at)), 1e-8)
			}
		})
	}
}

func TestCurvePassesThroughEveryPointSmoothly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "points")
		points := make([]path.Point, n)
		x := rapid.Float64Range(-500, 500).Draw(t, "x")
		for i := range points {
			points[i] = path.Point{X: x, Y: rapid.Float64Range(-15, 15).Draw(t, "y")}
			x += rapid.Float64Range(40, 80).Draw(t, "step")
		}
		f := drawForm(t)
		p := draft(t, Curve{Points: points, Height: 300}, f)
		requireSound(t, p)
		hem := p.Edges[0].Path
		require.Equal(t, points[0], hem.Start())
		require.Equal(t, points[n-1], hem.End())
		// The points are joints of the chain, in their order.
		next := 0
		for _, v := range hem.V {
			if next < n && v.Point == points[next] {
				next++
			}
		}
		require.Equal(t, n, next)
		if f.Half {
			require.InDelta(t, 0, hem.StartTangent().Y, 1e-9)
		}
	})
}

func TestPointsOnACircleGiveThatCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(200, 3000).Draw(t, "radius")
		angle := -rapid.Float64Range(0.8, 1.3).Draw(t, "first")
		var points []path.Point
		for angle < 1.2 {
			points = append(points, path.Point{X: r * math.Sin(angle), Y: -r * math.Cos(angle)})
			angle += rapid.Float64Range(0.05, 0.6).Draw(t, "step")
		}
		if len(points) < 3 {
			t.Skip("any two points lie on many circles")
		}
		hem := draft(t, Curve{Points: points, Height: 1}, Form{}).Edges[0].Path
		for i := range hem.Segments() {
			require.InEpsilon(t, r, hem.Segment(i).Radius(), 1e-6)
			require.InDelta(t, 0, hem.Segment(i).Centre().Dist(path.Point{}), r*1e-6)
		}
	})
}

func TestNotchesAreMeasuredFromTheHem(t *testing.T) {
	p := draft(t, Gore{Waist: 300, Hem: 500, Length: 600}, Form{
		Start:  Side{Notches: []float64{50, 200}},
		Finish: Side{Notches: []float64{200, 50}},
	})
	require.Len(t, p.Notches, 4)
	for i, want := range []struct {
		edge int
		up   float64
	}{{1, 50}, {1, 200}, {3, 200}, {3, 50}} {
		n := p.Notches[i]
		require.Equal(t, want.edge, n.Edge)
		edge := p.Edges[n.Edge].Path
		corner := p.Edges[0].Path.End()
		if n.Edge == 3 {
			corner = p.Edges[0].Path.Start()
		}
		require.InDelta(t, want.up, path.NewRuler(edge).At(n.At).Dist(corner), 1e-9)
	}
}

func TestFormSetsRolesAndAllowances(t *testing.T) {
	p := draft(t, Straight{Width: 400, Depth: 300}, Form{
		Name: "back", Size: "M", Quantity: 2, Half: true,
		Start: Side{Role: fit.SeamEdge, Allowance: 20}, Finish: Side{Role: fit.OpeningEdge, Allowance: 12},
		HemAllowance: 6, TopAllowance: 10,
	})
	require.Equal(t, "back", p.Name)
	require.Equal(t, "M", p.Size)
	require.Equal(t, 2, p.Quantity)
	var roles []fit.Role
	var widths []float64
	for _, e := range p.Edges {
		roles = append(roles, e.Role)
		widths = append(widths, e.Allowance)
	}
	require.Equal(t, []fit.Role{fit.HemEdge, fit.OpeningEdge, fit.OtherEdge, fit.SeamEdge}, roles)
	require.Equal(t, []float64{6, 12, 10, 20}, widths)
	require.Equal(t, 1, draft(t, Straight{Width: 400, Depth: 300}, Form{}).Quantity)
}

func TestFullCircleInOnePieceIsSlit(t *testing.T) {
	c := Circle{Waist: 700, Length: 600, Part: 1}
	p := draft(t, c, Form{Start: Side{Role: fit.OpeningEdge}, Finish: Side{Role: fit.OpeningEdge}})
	requireSound(t, p)
	require.InDelta(t, 0, p.Edges[0].Path.Start().Dist(p.Edges[0].Path.End()), 1e-9)
	require.InDelta(t, 0, p.Edges[1].Path.End().Dist(p.Edges[3].Path.Start()), 1e-9)
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	number := func(v float64) *float64 { return &v }
	full := Circle{Waist: 700, Length: 600, Part: 1}
	gore := Gore{Waist: 300, Hem: 500, Length: 600}
	with := func(g Gore, rise float64) Gore { g.Rise = &rise; return g }
	points := func(xy ...float64) Curve {
		c := Curve{Height: 500}
		for i := 0; i < len(xy); i += 2 {
			c.Points = append(c.Points, path.Point{X: xy[i], Y: xy[i+1]})
		}
		return c
	}
	tests := []struct {
		name string
		d    drafter
		f    Form
		want string // problem; remedy
	}{
		{"negative waist", Circle{Waist: -5, Length: 600, Part: 1}, Form{}, `panel front: the waist is -5 mm; give at least 1 mm`},
		{"no waist", Circle{Length: 600, Part: 1}, Form{}, `panel front: the waist is 0 mm; give at least 1 mm`},
		{"waist not a number", Circle{Waist: nan, Length: 600, Part: 1}, Form{}, `panel front: the waist is not a number; give at most 100 m, and look at the units`},
		{"endless length", Circle{Waist: 700, Length: inf, Part: 1}, Form{}, `panel front: the length is not a number; give at most 100 m, and look at the units`},
		{"huge length", Circle{Waist: 700, Length: 2e5, Part: 1}, Form{}, `panel front: the length is 200000 mm; give at most 100 m, and look at the units`},
		{"ease eats the waist", Circle{Waist: 700, Ease: -700, Length: 600, Part: 1}, Form{}, `panel front: the waist with its ease is 0 mm; give at least 1 mm`},
		{"no part", Circle{Waist: 700, Length: 600}, Form{}, `panel front: the part of a circle is 0; give more than 0, such as 0.5 for a half circle`},
		{"part not a number", Circle{Waist: 700, Length: 600, Part: nan}, Form{}, `panel front: the part of a circle is NaN; give more than 0, such as 0.5 for a half circle`},
		{"too much circle", Circle{Waist: 700, Length: 600, Part: 1.5}, Form{}, `panel front: 1.5 circles in 1 panels overlap: each would be a sector of 540.0 degrees; cut at least 2 panels`},
		{"hardly any circle", Circle{Waist: 700, Length: 600, Part: 1e-6}, Form{}, `panel front: the waist radius of 1e-06 of a circle would be 111408.5 m; take a larger part or a straight panel`},
		{"negative panels", Circle{Waist: 700, Length: 600, Part: 1, Panels: -2}, Form{}, `panel front: the circle is cut in -2 panels; give at least 1`},
		{"allowances in the slit", full, Form{Start: Side{Allowance: 15}, Finish: Side{Allowance: 15}},
			`panel front: the sides come within 0.0 mm of one another and their allowances need 30.0 mm; cut more panels, or halves`},
		{"waist closed", Circle{Waist: 60, Length: 600, Part: 1, Panels: 1}, Form{TopAllowance: 15},
			`panel front: the top allowance of 15 mm closes the waist, whose radius is 9.549 mm; take a narrower allowance or a wider waist`},
		{"gore round itself", Gore{Waist: 100, Hem: 5000, Length: 600}, Form{}, `panel front: the panel would be a sector of 467.9 degrees and overlap itself; cut more panels`},
		{"no hem", Gore{Waist: 300, Length: 600}, Form{}, `panel front: the hem is 0 mm; give at least 1 mm`},
		{"rise not a number", with(gore, nan), Form{}, `panel front: the rise is not a number; give at most 100 m, and look at the units`},
		{"rise too great", with(gore, 80), Form{}, `panel front: a hem that is square to the sides cannot rise by 80 mm; it can be 10.3 to 31.4 mm, and is 20.8 mm when it is left out`},
		{"rise the wrong way", with(gore, -10), Form{}, `panel front: a hem that is square to the sides cannot rise by -10 mm; it can be 10.3 to 31.4 mm, and is 20.8 mm when it is left out`},
		{"rise without flare", with(Gore{Waist: 400, Hem: 400, Length: 600}, 10), Form{}, `panel front: the rise is 10 mm, but a panel without flare is square at its sides only with a level hem; leave the rise out`},
		{"rise with extreme flare", with(Gore{Waist: 100, Hem: 3000, Length: 600}, 10), Form{}, `panel front: the rise is 10 mm, but the panel flares too much for a given rise; leave the rise out`},
		{"no width", Straight{Depth: 10}, Form{}, `panel front: the width is 0 mm; give at least 1 mm`},
		{"negative depth", Straight{Width: 10, Depth: -1}, Form{}, `panel front: the depth is -1 mm; give at least 1 mm`},
		{"one point", points(0, 0), Form{}, `panel front: the hem has 1 points; give 2 to 10000`},
		{"points turned round", points(0, 0, 100, 5, 100, 9), Form{}, `panel front: point 3 of the hem, at x = 100 mm, is not right of point 2, at 100 mm; list the points from left to right`},
		{"point not a number", points(0, 0, nan, 5), Form{}, `panel front: point 2 of the hem is (NaN, 5); give at most 100 m, and look at the units`},
		{"points too near", points(0, 0, 0.5, 0), Form{}, `panel front: the hem from side to side is 0.5 mm; give at least 1 mm`},
		{"points too steep", points(0, 0, 10, 400, 20, 0), Form{}, `panel front: the hem doubles back between points 1 and 2; move them, or measure another point between them`},
		{"top below the hem", Curve{Points: []path.Point{{X: 0}, {X: 100, Y: 50}}, Height: 40}, Form{}, `panel front: the top, at height 40 mm, is not above the hem, which reaches 50.0 mm; give a height above 51 mm`},
		{"height not a number", Curve{Points: []path.Point{{X: 0}, {X: 100, Y: 50}}, Height: nan}, Form{}, `panel front: the height is NaN mm; give at most 100 m, and look at the units`},
		{"negative allowance", gore, Form{HemAllowance: -1}, `panel front: the hem allowance is -1 mm; give 0 or more`},
		{"allowance not a number", gore, Form{Finish: Side{Allowance: nan}}, `panel front: the finish allowance is not a number; give at most 100 m, and look at the units`},
		{"allowance at a fold", gore, Form{Half: true, Start: Side{Allowance: 15}}, `panel front: the start is a fold and has an allowance of 15 mm; leave it at 0`},
		{"notch on a fold", gore, Form{Half: true, Start: Side{Notches: []float64{50}}}, `panel front: the start is a fold and has notches; put them on a seam`},
		{"fold of a whole", gore, Form{Start: Side{Role: fit.FoldEdge}}, `panel front: the start is a fold, but the panel is drafted whole; draft its half`},
		{"fold at the finish", gore, Form{Half: true, Finish: Side{Role: fit.FoldEdge}}, `panel front: the finish cannot be a fold; draft a half, whose start is the fold`},
		{"hem for a side", gore, Form{Finish: Side{Role: fit.HemEdge}}, `panel front: the finish cannot be a hem edge; it is a seam, a fold or an opening`},
		{"notch beyond the waist", gore, Form{Finish: Side{Notches: []float64{700}}}, `panel front: the notch 700 mm up the finish is not on it; the finish is 600.0 mm long`},
		{"notch not a number", gore, Form{Finish: Side{Notches: []float64{nan}}}, `panel front: the notch NaN mm up the finish is not on it; the finish is 600.0 mm long`},
		{"negative quantity", gore, Form{Quantity: -1}, `panel front: the quantity is -1; cut at least 1`},
		{"rise and allowance", Gore{Waist: 300, Hem: 500, Length: 600, Rise: number(inf)}, Form{}, `panel front: the rise is not a number; give at most 100 m, and look at the units`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.f.Name = "front"
			_, err := tt.d.Panel(tt.f)
			var e *fit.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, tt.want, e.Error()+"; "+e.Remedy())
		})
	}
}

func TestRefusalsNameTheSize(t *testing.T) {
	_, err := Straight{}.Panel(Form{Name: "front", Size: "M"})
	require.EqualError(t, err, "panel front size M: the width is 0 mm")
}

func TestAnyNumbersGiveAPanelOrAnError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string) float64 {
			return rapid.OneOf(
				rapid.Float64(), rapid.Float64Range(-10, 2000),
				rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, longest, -longest, shortest}),
			).Draw(t, name)
		}
		f := Form{
			Half:  rapid.Bool().Draw(t, "half"),
			Start: Side{Role: fit.Role(rapid.IntRange(0, 6).Draw(t, "role"))},
		}
		rise := number("rise")
		for _, d := range []drafter{
			Circle{Waist: number("a"), Ease: number("b"), Length: number("c"), Part: number("d"), Panels: rapid.IntRange(-1, 5).Draw(t, "n")},
			Gore{Waist: number("a"), Hem: number("b"), Length: number("c")},
			Gore{Waist: number("a"), Hem: number("b"), Length: number("c"), Rise: &rise},
			Straight{Width: number("a"), Depth: number("b")},
			Curve{Points: []path.Point{{X: number("a"), Y: number("b")}, {X: number("c"), Y: number("d")}, {X: number("e"), Y: number("f")}}, Height: number("h")},
		} {
			p, err := d.Panel(f)
			if err == nil {
				require.True(t, p.Outline().Finite())
				require.Positive(t, p.Outline().Area())
			}
		}
	})
}

func ExampleCircle() {
	// A half-circle skirt for a waist of 70 cm, 60 cm long: the front, on the fold.
	skirt := Circle{Waist: 700, Length: 600, Part: 0.5, Panels: 2}
	front, err := skirt.Panel(Form{Name: "front", Half: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("waist radius %.1f mm\n", skirt.WaistRadius())
	for _, e := range front.Edges {
		fmt.Printf("%-6s %-5s %.1f mm\n", e.Name, e.Role, e.Path.Length())
	}
	// Output:
	// waist radius 222.8 mm
	// hem    hem   646.2 mm
	// finish seam  600.0 mm
	// top    other 175.0 mm
	// start  fold  600.0 mm
}

func BenchmarkCurve(b *testing.B) {
	for _, n := range []int{2, 10, 100} {
		points := make([]path.Point, n)
		for i := range points {
			points[i] = path.Point{X: 30 * float64(i), Y: 10 * math.Sin(float64(i))}
		}
		b.Run(fmt.Sprintf("points=%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := (Curve{Points: points, Height: 500}).Panel(Form{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A hem that is nearly straight is arcs of kilometres, which the grain line meets
// imprecisely, and at their joint twice.
func TestGrainOfANearlyStraightHemIsLong(t *testing.T) {
	for _, sag := range []float64{0, 1e-10, 1e-7, 1e-5, 1e-3} {
		p, err := (Curve{Points: []path.Point{{X: -200}, {X: -100, Y: sag * 0.75}, {Y: sag}, {X: 100, Y: sag * 0.75}, {X: 200}}, Height: 300}).Panel(Form{Name: "p"})
		require.NoError(t, err)
		require.InDelta(t, 180, p.Grain.Length(), 0.01, "sag %g", sag)
	}
}
