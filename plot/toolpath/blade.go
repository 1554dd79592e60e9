package toolpath

import (
	"fmt"
	"iter"
	"math"

	"engrail/motif/path"
)

// Trailing returns the path of the pivot of a trailing blade whose tip cuts p.
// The tip stands offset mm behind the pivot, which is what the machine moves.
//
// It is for machines that move the pivot as they are told. Most knife cutters
// have the offset set on the machine and do all this themselves. So it is used
// only where it is asked for: done twice, it is as wrong as not done at all.
//
// The pivot leads the tip by the offset along the tangent. That is exact: a
// straight line is moved on by the offset, and an arc of the radius r becomes
// one of sqrt(r^2+offset^2) about the same centre that turns by as much, so r
// may be smaller than the offset. Where a line runs smoothly into an arc the
// pivot's path bends. At a corner of more than least, in radians, the blade
// swivels: the pivot goes round the corner on an arc of the radius offset while
// the tip stands still. It turns the shorter way; at a half turn, as at the end
// of a slit that is cut there and back, it turns left. At smaller corners it
// goes straight across, and the tip strays by at most
// offset*(1-cos(least/2)), along the lines that meet there. [LeastSwivel] is a
// good value, and 0 swivels at every corner.
//
// The result is open. For a closed path it begins and ends in the same place:
// it ends with the swivel at the first corner, after which the blade heads as
// it did at the start. The blade must head along p when it begins: see
// [LeadIn]. To have it run on past the start, give it what [Overcut] returns.
// Together that is
//
//	cut, _ := LeadIn(Overcut(p, 0.5), LeadOffsets*offset, offset, outlines...)
//	pivot, err := Trailing(cut, offset, LeastSwivel)
//
// With the offset 0, and where p has no length, as a point, p itself is
// returned. The blade does not turn for segments shorter than 0.001 mm: a run of
// them is cut along chords of that length. A path that crosses itself is cut as
// any other.
//
// It fails when the offset or least is negative or not a number, and when p has
// a coordinate or a bulge that is none, or a line longer than 1000 km.
func Trailing(p path.Path, offset, least float64) (path.Path, error) {
	if !(offset >= 0 && offset <= farthest) {
		return path.Path{}, fmt.Errorf("the blade's offset is %g mm: give 0 or more, as measured from the knife's pivot to its tip", offset)
	}
	if !(least >= 0) {
		return path.Path{}, fmt.Errorf("the least turn to swivel at is %g rad: give an angle of 0 or more", least)
	}
	if err := check(p); err != nil {
		return path.Path{}, err
	}
	if offset == 0 {
		return p, nil
	}

	v := make([]path.Vertex, 0, 2*p.Segments()+2)
	var first, heading path.Vec
	for s := range headed(p) {
		a, b := s.StartTangent(), s.EndTangent()
		start := path.Vertex{Point: s.A.Add(a.Mul(offset)), Bulge: s.Bulge}
		if len(v) == 0 {
			first = a
			v = append(v, start)
		} else {
			v = swivel(v, heading, a, least, start)
		}
		v = append(v, path.Vertex{Point: s.B.Add(b.Mul(offset))})
		heading = b
	}
	if len(v) == 0 {
		return p, nil
	}
	if p.Closed {
		v = swivel(v, heading, first, least, path.Vertex{Point: v[0].Point})
	}
	return path.Path{V: v}, nil
}

// check returns what keeps a blade from following the path.
func check(p path.Path) error {
	for i, v := range p.V {
		// Numbers that are not finite fail these, too.
		if !(math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest && math.Abs(v.Bulge) <= math.MaxFloat64) {
			return fmt.Errorf("vertex %d of %d at (%g, %g) with bulge %g is not a number or beyond 1000 km: check the numbers that it is made from",
				i+1, len(p.V), v.X, v.Y, v.Bulge)
		}
	}
	for i := range p.Segments() {
		if s := p.Segment(i); !(s.Length() <= farthest) {
			return fmt.Errorf("the arc from vertex %d of %d at (%g, %g) with bulge %g is longer than 1000 km: check the numbers that it is made from",
				i+1, len(p.V), s.A.X, s.A.Y, s.Bulge)
		}
	}
	return nil
}

// swivel carries the pivot from the last vertex to the next, while the blade
// turns from one heading to another.
func swivel(v []path.Vertex, from, to path.Vec, least float64, next path.Vertex) []path.Vertex {
	last := len(v) - 1
	if v[last].Dist(next.Point) <= sameHeading {
		v[last] = next
		return v
	}
	turn := from.AngleTo(to)
	if turn < halfTurn-math.Pi {
		turn += 2 * math.Pi
	}
	if math.Abs(turn) > least {
		v[last].Bulge = math.Tan(turn / 4)
	}
	return append(v, next)
}

// headed yields the path's segments that are long enough to have a heading, and
// a straight one in place of shorter ones that reach as far together.
func headed(p path.Path) iter.Seq[path.Segment] {
	return func(yield func(path.Segment) bool) {
		var from path.Point
		waiting := false
		for i := range p.Segments() {
			s := p.Segment(i)
			if s.Length() < shortest {
				if !waiting {
					from, waiting = s.A, true
				}
				if s = path.Line(from, s.B); s.Length() < shortest {
					continue
				}
			}
			waiting = false
			if !yield(s) {
				return
			}
		}
	}
}

// Overcut continues a closed path past its start by the length in mm along
// itself, once round at most, as an open path: so the end of the cut meets its
// beginning even where the blade is slanted or the cloth gives. The blade runs
// in its own cut there. An open path is returned as it is, and so is a closed
// one without length, with numbers that [Trailing] refuses, or when the length
// is not above 0.
func Overcut(p path.Path, length float64) path.Path {
	if !p.Closed || p.Segments() == 0 || !(length > 0) || check(p) != nil {
		return p
	}
	r := path.NewRuler(p)
	whole := r.Length()
	if whole == 0 {
		return p
	}
	return path.Join(path.Coincident, p, r.Sub(0, min(length, whole)))
}
