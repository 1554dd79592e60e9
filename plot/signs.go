package plot

import (
	"math"

	"engrail/motif/path"
	"engrail/plot/internal/ground"
)

// Signs returns the signs that the group's own lines call for, in the manner
// of paper patterns (common practice, no source): arrowheads at both ends of
// each straight grain line, and beside each straight fold a bracket, a bar
// whose bent ends point at the fold with arrows.
//
// An arrowhead is a closed triangle that starts at its tip. A bracket is an
// open path, and stands inside the largest cut line where it is clear of the
// group's lines and texts; it shrinks where there is little room and is left
// out where there is none. Each sign has the role of its line. Lines without
// length and lines that are not finite have none.
func (g Group) Signs() []Line {
	var signs []Line
	add := func(r Role, p path.Path) { signs = append(signs, Line{Role: r, Path: p, Sign: true}) }
	var room *ground.Ground
	for _, l := range g.Lines {
		if l.Sign || l.Path.Segments() != 1 || !l.Path.Segment(0).IsLine() || !l.Path.Finite() || l.Path.Length() == 0 {
			continue
		}
		a, b := l.Path.Start(), l.Path.End()
		switch l.Role {
		case Grain:
			size := min(arrowLength, a.Dist(b)/4)
			add(Grain, arrowhead(b, a, size))
			add(Grain, arrowhead(a, b, size))
		case Fold:
			if room == nil {
				room = g.ground()
			}
			for _, p := range bracket(a, b, room) {
				add(Fold, p)
				room.Keep(p)
			}
		}
	}
	return signs
}

// ground returns the ground inside the group's cut line, the largest when
// there are several.
func (g Group) ground() *ground.Ground {
	var cut path.Path
	most := 0.0
	for _, l := range g.Lines {
		if l.Role == Cut && len(l.Path.V) > 0 {
			if area := math.Abs(l.Path.Area()); area > most {
				cut, most = l.Path, area
			}
		}
	}
	room := ground.New(cut)
	for _, l := range g.Lines {
		room.Keep(l.Path)
	}
	for _, t := range g.Texts {
		room.KeepBlock(t.Corners())
	}
	return room
}

// arrowhead returns the head of an arrow that comes from one point and ends at
// the other.
func arrowhead(from, to path.Point, length float64) path.Path {
	back := from.Sub(to).Unit().Mul(length)
	side := back.Left().Mul(arrowWidth / 2)
	return path.Closed(to, to.Add(back).Add(side), to.Add(back).Add(side.Neg()))
}

// bracket returns the bracket beside the fold from a to b and its two
// arrowheads, nothing when there is no room.
func bracket(a, b path.Point, room *ground.Ground) []path.Path {
	whole := a.Dist(b)
	along := b.Sub(a).Unit()
	for _, share := range [...]float64{0.4, 0.28, 0.16} {
		half := min(whole*share, longestBracket) / 2
		deep := min(half, bracketDepth)
		if deep < leastBracketDepth {
			break
		}
		for _, place := range [...]float64{0.5, 0.6, 0.4, 0.7, 0.3} {
			for _, in := range [...]path.Vec{along.Left(), along.Right()} {
				middle := a.Lerp(b, place)
				// All but what lies along the fold itself.
				box := path.Vec{X: half + bracketMargin, Y: (deep + bracketMargin - foldClearance) / 2}
				if !room.Clear(middle.Add(in.Mul(foldClearance+box.Y)), along, box) {
					continue
				}
				low, high := middle.Add(along.Mul(-half)), middle.Add(along.Mul(half))
				up := in.Mul(deep)
				size := min(arrowLength, 0.6*deep)
				neck := in.Mul(size) // the bar ends where the arrowheads begin
				return []path.Path{
					path.Open(low.Add(neck), low.Add(up), high.Add(up), high.Add(neck)),
					arrowhead(low.Add(up), low, size),
					arrowhead(high.Add(up), high, size),
				}
			}
		}
	}
	return nil
}
