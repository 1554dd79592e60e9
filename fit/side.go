package fit

import (
	"math"

	"engrail/motif/path"
)

// side is the edge of a panel beside one end of its hem.
type side struct {
	role Role
	// in runs from the hem's corner into the panel, out points the other way.
	in  *path.Ruler
	out path.Vec
	// angle is the angle inside the panel between hem and side.
	angle float64
	// slant is the reach on the side of a place at height 1: see the package
	// comment.
	slant float64
}

// at returns the point of the side at the reach, going on straight beyond the
// corner.
func (s side) at(reach float64) path.Point {
	if reach > 0 {
		return s.in.At(0).Add(s.out.Mul(reach))
	}
	return s.in.At(-reach)
}

// line returns the side from its far end to the corner and straight on by the
// length.
func (s side) line(on float64) path.Path {
	p := s.in.Path().Reverse()
	return path.Join(path.Coincident, p, path.Open(p.End(), s.at(on)))
}

// sides returns the sides beside the start and the finish of the hem.
func (p Panel) sides() ([2]side, error) {
	hem := p.Edges[0].Path
	before, after := p.Edges[len(p.Edges)-1], p.Edges[1]
	both := [2]side{
		{role: before.Role, in: path.NewRuler(before.Path.Reverse())},
		{role: after.Role, in: path.NewRuler(after.Path)},
	}
	along := [2]path.Vec{hem.StartTangent(), hem.EndTangent().Neg()}
	for i := range both {
		s := &both[i]
		up := s.in.TangentAt(0)
		s.out = up.Neg()
		s.angle = math.Abs(along[i].AngleTo(up))
		if !(s.angle >= sharpest && s.angle <= bluntest) {
			return both, p.errorf("draw hem and side so that they meet nearly square",
				"at its %v the hem meets the side at %.0f degrees; from %.0f to %.0f is possible",
				End(i), degrees(s.angle), degrees(sharpest), degrees(bluntest))
		}
		s.slant = 1 / math.Sin(s.angle)
	}
	return both, nil
}

func degrees(a float64) float64 { return a * 180 / math.Pi }

// check refuses a panel that is not one closed outline with a hem.
func (p Panel) check() error {
	for _, l := range [3]float64{p.StartPlain, p.FinishPlain, p.CornerPlain} {
		if !(l >= 0) || math.IsInf(l, 1) {
			return p.errorf("give it a length of 0 or more", "a plain stretch of %g mm cannot be", l)
		}
	}
	if len(p.Edges) == 1 && p.Edges[0].Role == HemEdge && p.Edges[0].Path.Closed {
		switch hem := p.Edges[0].Path; {
		case hem.Segments() == 0 || !hem.Finite():
			return p.errorf("draw it", "its hem has no length or is not made of numbers")
		case hem.Area() <= 0:
			return p.errorf("reverse its edges", "its outline runs clockwise")
		}
		return nil
	}
	if len(p.Edges) < 2 || p.Edges[0].Role != HemEdge {
		return p.errorf("give the panel a hem and the edges beside it", "it has no hem with a side at each end")
	}
	for i, e := range p.Edges {
		next := p.Edges[(i+1)%len(p.Edges)]
		if e.Path.Segments() == 0 || next.Path.Segments() == 0 || !e.Path.Finite() {
			return p.errorf("leave the edge out or draw it", "edge %d (%s) has no length or is not made of numbers", i, e.Name)
		}
		if gap := e.Path.End().Dist(next.Path.Start()); gap > JoinGap {
			return p.errorf("join the edges", "edge %d (%s) ends %.3f mm from where the next one starts", i, e.Name, gap)
		}
	}
	if p.Outline().Area() <= 0 {
		return p.errorf("reverse its edges", "its outline runs clockwise")
	}
	return nil
}
