package ground_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
	"engrail/plot/internal/ground"
)

func square(half float64) path.Path {
	return path.Closed(path.Point{X: -half, Y: -half}, path.Point{X: half, Y: -half}, path.Point{X: half, Y: half}, path.Point{X: -half, Y: half})
}

func TestRectangleIsClearUntilItReachesALine(t *testing.T) {
	for name, c := range map[string]struct {
		line  path.Path
		at    path.Point
		half  path.Vec
		angle float64
		want  bool
	}{
		"room all round":        {path.Path{}, path.Point{}, path.Vec{X: 49, Y: 49}, 0, true},
		"over the outline":      {path.Path{}, path.Point{X: 10}, path.Vec{X: 41, Y: 5}, 0, false},
		"outside":               {path.Path{}, path.Point{X: 80}, path.Vec{X: 5, Y: 5}, 0, false},
		"round the outline":     {path.Path{}, path.Point{}, path.Vec{X: 60, Y: 60}, 0, false},
		"corner over":           {path.Path{}, path.Point{}, path.Vec{X: 40, Y: 40}, math.Pi / 4, false},
		"corner within":         {path.Path{}, path.Point{}, path.Vec{X: 35, Y: 35}, math.Pi / 4, true},
		"a line in it":          {path.Open(path.Point{X: 1}, path.Point{X: 2}), path.Point{}, path.Vec{X: 5, Y: 5}, 0, false},
		"a point in it":         {path.Open(path.Point{X: 1, Y: 1}), path.Point{}, path.Vec{X: 5, Y: 5}, 0, false},
		"a line past a corner":  {path.Open(path.Point{X: 0, Y: 12}, path.Point{X: 12}), path.Point{}, path.Vec{X: 5, Y: 5}, 0, true},
		"a line over a corner":  {path.Open(path.Point{X: 0, Y: 9}, path.Point{X: 9}), path.Point{}, path.Vec{X: 5, Y: 5}, 0, false},
		"an arc that bulges in": {path.Path{V: []path.Vertex{{Point: path.Point{X: 20, Y: 20}, Bulge: 1}, {Point: path.Point{X: 20, Y: -20}}}}, path.Point{}, path.Vec{X: 5, Y: 5}, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			g := ground.New(square(50))
			g.Keep(c.line)
			require.Equal(t, c.want, g.Clear(c.at, path.Direction(c.angle), c.half))
		})
	}
}

// A rectangle that is called clear has no point of a line in it, and one that
// is not is outside or has a line's point in it when it is a little larger.
func TestClearAgreesWithPointsAlongTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(most int, what string) float64 {
			return float64(rapid.IntRange(-most, most).Draw(t, what))
		}
		a := path.Point{X: number(40, "ax"), Y: number(40, "ay")}
		b := path.Point{X: number(40, "bx"), Y: number(40, "by")}
		at := path.Point{X: number(20, "x"), Y: number(20, "y")}
		along := path.Direction(number(3, "angle"))
		half := path.Vec{X: float64(rapid.IntRange(1, 15).Draw(t, "half x")), Y: float64(rapid.IntRange(1, 15).Draw(t, "half y"))}
		g := ground.New(square(100))
		g.Keep(path.Open(a, b))
		within := func(more float64) bool {
			for i := range 2001 {
				d := a.Lerp(b, float64(i)/2000).Sub(at)
				if math.Abs(d.Dot(along)) <= half.X+more && math.Abs(d.Dot(along.Left())) <= half.Y+more {
					return true
				}
			}
			return false
		}
		if g.Clear(at, along, half) {
			require.False(t, within(0))
		} else {
			require.True(t, within(0.06))
		}
	})
}
