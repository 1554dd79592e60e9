package motif

import (
	"math"

	"engrail/motif/path"
)

// How steep the sides of petal and ogee leave their foot, against their chord, and
// how much of a bracket's depth its shoulder has.
const (
	petalSteep      = 1.5
	ogeeSteep       = 1.6
	bracketShoulder = 2.0 / 3
)

// arch draws elliptical, petal, ogee and bracket.
func (s Shape) arch(width, depth float64) (Cell, error) {
	run := s.run(width)
	low := path.Point{X: s.Flat / 2}
	top := path.Point{X: low.X + run, Y: depth}
	steep := func(ratio float64) path.Vec {
		return path.Direction(min(math.Pi/2, ratio*math.Atan2(depth, run)))
	}
	switch s.Kind {
	case Petal:
		return rising(width, depth, low, path.ArcFrom(low, steep(petalSteep), top)), nil
	case Ogee:
		// The upper half is the lower one turned by half a turn about the middle.
		along := steep(ogeeSteep)
		middle := low.Lerp(top, 0.5)
		return rising(width, depth, low, path.ArcFrom(low, along, middle), path.ArcFrom(top, along.Neg(), middle).Reverse()), nil
	case Bracket:
		up := path.Vec{Y: 1}
		shoulder := bracketShoulder * depth
		a := low.Add(path.Vec{X: shoulder, Y: shoulder})
		b := top.Add(path.Vec{X: -(depth - shoulder), Y: -(depth - shoulder)})
		return rising(width, depth, low, path.ArcFrom(low, up, a), path.Line(a, b), path.ArcFrom(top, up.Neg(), b).Reverse()), nil
	}
	e := path.EllipticArc{Centre: path.Point{X: top.X}, RX: run, RY: depth, Start: math.Pi, Sweep: -math.Pi / 2}
	side, err := e.Fit(path.FitTolerance)
	if err != nil {
		return Cell{}, err
	}
	segments := make([]path.Segment, side.Segments())
	for i := range segments {
		segments[i] = side.Segment(i)
	}
	return rising(width, depth, low, segments...), nil
}
