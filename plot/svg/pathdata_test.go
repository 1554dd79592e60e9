package svg

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
)

// draw returns what path data draws when a unit is a millimetre and y runs
// down.
func draw(t testing.TB, d string) []path.Path {
	t.Helper()
	room := MaxVertices
	p := pen{m: path.Identity(), room: &room}
	require.NoError(t, p.pathData(d))
	return p.paths
}

// The examples of the path chapter of SVG 1.1 (W3C, second edition, 2011,
// chapter 8), with lengths and areas that follow from the curves' equations.
// Their lines are in the path data given there; the results are worked here.
func TestExamplesOfTheStandard(t *testing.T) {
	r := 150.0
	slack := func(p path.Path) float64 { return 2 * path.FitTolerance * p.Length() }

	t.Run("triangle", func(t *testing.T) {
		p := draw(t, "M 100 100 L 300 100 L 200 300 z")[0]
		require.InDelta(t, 20000, p.Area(), 1e-9)
		require.InDelta(t, 200+2*math.Hypot(100, 200), p.Length(), 1e-9)
	})
	t.Run("three quarters of a pie", func(t *testing.T) {
		p := draw(t, "M300,200 h-150 a150,150 0 1,0 150,-150 z")[0]
		require.Len(t, p.V, 4)
		require.InDelta(t, 0.75*math.Pi*r*r, math.Abs(p.Area()), 1e-6)
		require.InDelta(t, 2*r+1.5*math.Pi*r, p.Length(), 1e-6)
	})
	t.Run("a quarter of a pie", func(t *testing.T) {
		p := draw(t, "M275,175 v-150 a150,150 0 0,0 -150,150 z")[0]
		require.InDelta(t, 0.25*math.Pi*r*r, math.Abs(p.Area()), 1e-6)
		require.InDelta(t, 2*r+0.5*math.Pi*r, p.Length(), 1e-6)
	})
	t.Run("line with growing bumps", func(t *testing.T) {
		all := draw(t, "M600,350 l 50,-25 a25,25 -30 0,1 50,-25 l 50,-25 a25,50 -30 0,1 50,-25 "+
			"l 50,-25 a25,75 -30 0,1 50,-25 l 50,-25 a25,100 -30 0,1 50,-25 l 50,-25")
		require.Len(t, all, 1)
		p := all[0]
		require.InDelta(t, 0, p.End().Dist(path.Point{X: 1050, Y: 125}), 1e-9)
		// Each chord is as long as one axis of 50 or a little longer: the radii grow
		// until the ellipse reaches, and the bump is half of it. The ellipse's x axis
		// is turned by 30 degrees, the chord by atan(1/2).
		chord := math.Hypot(50, 25)
		turn := math.Pi/6 - math.Atan2(25, 50)
		area := 0.0
		for _, ry := range []float64{25, 50, 75, 100} {
			// The half chord in the unit circle of the ellipse, before it grows.
			grow := math.Hypot(chord/2*math.Cos(turn)/25, chord/2*math.Sin(turn)/ry)
			require.Greater(t, grow, 1.0)
			area += math.Pi * (25 * grow) * (ry * grow) / 2
		}
		// Closing the bumps' chords, all on one line, leaves the half ellipses.
		require.InDelta(t, area, math.Abs(p.Area()), slack(p))
	})
	t.Run("quadratic and its smooth follower", func(t *testing.T) {
		p := draw(t, "M200,300 Q400,50 600,300 T1000,300")[0]
		// A parabola over the chord c with its vertex at the height h: two thirds of
		// c h to each side, and the length of a parabola.
		c, h := 400.0, 125.0
		require.InDelta(t, 0, p.Area(), slack(p))
		first := path.NewRuler(p).Sub(0, p.Length()/2)
		require.InDelta(t, 2.0/3*c*h, math.Abs(first.Area()), slack(first))
		k := 4 * h / c
		want := c/2*math.Sqrt(1+k*k) + c/(2*k)*math.Asinh(k)
		require.InDelta(t, 2*want, p.Length(), 0.01)
		require.InDelta(t, 300+h, p.Bounds().Max.Y, path.FitTolerance)
		require.InDelta(t, 300-h, p.Bounds().Min.Y, path.FitTolerance)
	})
	t.Run("cubic and its smooth follower", func(t *testing.T) {
		p := draw(t, "M100,200 C100,100 250,100 250,200 S400,300 400,200")[0]
		long := draw(t, "M100,200 C100,100 250,100 250,200 C250,300 400,300 400,200")[0]
		require.Equal(t, long, p)
		first := path.NewRuler(p).Sub(0, p.Length()/2)
		// Upright arms of 100 on a base of 150: the area is the integral of
		// y dx = 3 100 t (1-t) dx with dx = 450 (2t - 2t^2) dt, 3/5 of 150 100.
		require.InDelta(t, 0.6*150*100, math.Abs(first.Area()), slack(first))
		require.InDelta(t, 125, p.Bounds().Min.Y, path.FitTolerance)
	})
	t.Run("the cubics", func(t *testing.T) {
		for _, d := range []string{
			"M100,200 C100,100 400,100 400,200", "M600,200 C675,100 975,100 900,200",
			"M100,500 C25,400 475,400 400,500", "M600,500 C600,350 900,650 900,500",
			"M100,800 C175,700 325,700 400,800", "M600,800 C625,700 725,700 750,800 S875,900 900,800",
		} {
			p := draw(t, d)
			require.Len(t, p, 1)
			require.InDelta(t, sampledLength(t, d), p[0].Length(), 0.02, d)
		}
	})
}

// sampledLength is the length of the path data's cubics, which start as above,
// by 100,000 chords each: an own evaluation that shares nothing with the
// reader but the numbers.
func sampledLength(t *testing.T, d string) float64 {
	t.Helper()
	var v []float64
	number := 0.0
	sign, digits := 1.0, false
	smooth := -1
	for _, c := range d + " " {
		switch {
		case c >= '0' && c <= '9':
			number, digits = number*10+float64(c-'0'), true
		default:
			if digits {
				v = append(v, sign*number)
			}
			number, sign, digits = 0, 1, false
			if c == 'S' {
				smooth = len(v)
			}
		}
	}
	if smooth >= 0 {
		x, y := 2*v[smooth-2]-v[smooth-4], 2*v[smooth-1]-v[smooth-3]
		v = append(v[:smooth:smooth], append([]float64{x, y}, v[smooth:]...)...)
	}
	var sum float64
	for i := 0; i+7 < len(v); i += 6 {
		px, py := v[i], v[i+1]
		const n = 100_000
		for k := 1; k <= n; k++ {
			u := float64(k) / n
			w := 1 - u
			b := [4]float64{w * w * w, 3 * w * w * u, 3 * w * u * u, u * u * u}
			var x, y float64
			for j := range b {
				x += b[j] * v[i+2*j]
				y += b[j] * v[i+2*j+1]
			}
			sum += math.Hypot(x-px, y-py)
			px, py = x, y
		}
	}
	return sum
}

func TestSpellingsOfTheSamePath(t *testing.T) {
	for _, same := range [][]string{
		{"M 1 2 L 4 6 L 7 2 Z", "M1 2 4 6 7 2z", "m1 2 3 4 3-4z", "m1,2l3,4l3,-4z", "M1,2L4,6,7,2Z", "m 1 2 L 4 6 l 3 -4 z", "M.1e1 2.\nL+4 6 7e0 2 z"},
		{"M0 0 L5 0 L5 7 L1 7", "M0 0H5V7H1", "m0 0h5v7h-4"},
		{"M0 0 C0 5 5 5 5 0 C5 -5 10 -5 10 0", "M0 0C0 5 5 5 5 0S10-5 10 0", "m0 0c0 5 5 5 5 0s5-5 5 0", "M0 0c0 5 5 5 5 0 0-5 5-5 5 0"},
		{"M0 0 L2 0 L5 0 L5 3 L5 7", "M0 0h2 3v3 4", "M0 0H2 5V3 7"},
		{"M0 0 C0 0 5 5 5 0", "M0 0S5 5 5 0", "M0 0s5 5 5 0"},
		{"M0 0 Q5 5 10 0 Q15 -5 20 0 Q25 5 30 0", "M0 0Q5 5 10 0T20 0 30 0", "m0 0q5 5 10 0t10 0 10 0"},
		{"M0 0 Q0 0 10 5", "M0 0 T10 5", "M0 0 L10 5"},
		{"M0 0 L1 1 L9 3", "M0 0L1 1T9 3"},
		{"M0 0 A5 5 0 0 1 10 0", "M0 0a5 5 0 0110 0", "M0 0A5,5,0,0,1,10,0", "M0 0a5 5 0 01 10 0", "m0 0a-5-5 0 0110-0"},
		{"M0 0 A5 5 0 0 1 10 0 A5 5 0 1 0 20 0", "M0 0a5 5 0 0110 0 5 5 0 1010 0"},
		{"M0 0 A3 3 0 0 1 10 0", "M0 0 A5 5 0 0 1 10 0"}, // too small radii grow
		{"M0 0 A0 3 0 0 1 10 0", "M0 0 L10 0"},
		{"M0 0 L5 0 A3 3 0 0 1 5 0 L5 5", "M0 0 L5 0 L5 5"}, // an arc to where it starts is none
		{"M3 3 L5 0 L5 5 Z L 9 9", "m3 3 2-3 0 5zl6 6"},     // after a close at its start
		{"M3 3 L5 0 L5 5 Z M4 4 L9 9", "m3 3 2-3 0 5zm1 1 5 5"},
		{"M3 3 L5 0 L5 5 Z", "M3 3 L5 0 L5 5 L3 3 Z", "M3 3 L5 0 L5 5 L3.001 3 Z"}, // closed before it is closed
	} {
		want := draw(t, same[0])
		for _, d := range same[1:] {
			got := draw(t, d)
			require.Len(t, got, len(want), d)
			for i := range want {
				require.Equal(t, want[i].Closed, got[i].Closed, d)
				require.Len(t, got[i].V, len(want[i].V), d)
				for k, w := range want[i].V {
					require.InDelta(t, 0, w.Dist(got[i].V[k].Point), 1e-9, d)
					require.InDelta(t, w.Bulge, got[i].V[k].Bulge, 1e-9, d)
				}
			}
		}
	}
}

func TestArcFlagsChooseOneOfFour(t *testing.T) {
	// SVG 1.1, 8.3.8: large arcs turn by more than half, sweep runs in the
	// direction of increasing angles.
	for _, c := range []struct {
		flags string
		area  float64
	}{
		{"0 1", math.Pi*25/4 - 12.5},
		{"1 1", math.Pi*25*3/4 + 12.5},
		{"0 0", -(math.Pi*25/4 - 12.5)},
		{"1 0", -(math.Pi*25*3/4 + 12.5)},
	} {
		p := draw(t, "M0 0A5 5 0 "+c.flags+" 5 5")[0]
		require.InDelta(t, c.area, p.Area(), 1e-9, c.flags)
	}
}

func TestTangentsStaySmoothWhereTheCurveIs(t *testing.T) {
	p := draw(t, "M0 0C0 50 80 50 80 0S160-50 160 0")[0]
	for i := range p.Segments() - 1 {
		require.InDelta(t, 0, p.Segment(i).EndTangent().AngleTo(p.Segment(i+1).StartTangent()), 1e-6)
	}
}
