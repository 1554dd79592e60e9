package toolpath

import (
	"math"

	"engrail/motif/path"
)

// LeadIn begins the path length mm earlier, on a straight line to its start, for
// the blade to turn on before it cuts the path. A blade that is set down may
// head anywhere: its tip may stand anywhere on a circle of the blade's offset
// about the pivot, and comes into line only on the way. So the lead-in lies in
// the waste, and its first half at least clear mm, to be the offset, from every
// outline. On the second half that shrinks with the square of what is left of
// it, while the tip comes into line. [LeadOffsets] tells a good length; with it,
// a blade that is not set down within ten degrees of backwards cuts no deeper
// into a piece than a hundredth of its offset.
//
// The outlines tell what is waste: all that lies inside an even number of them,
// so outside of the pieces and inside their holes, whichever way they run. Give
// every outline that may be near: the piece's own, p among them where it is one,
// its holes, the pieces beside it. With none, a closed p stands alone.
//
// The line ends at the path's start. Of those that are clear it is the one that
// turns least from there into the path, in steps of 15 degrees: straight from
// behind where that is waste, as at an outer corner or for a slit that begins
// at the edge; slanting from a straight or smooth edge; at an inner corner
// between its two edges. The line meets no outline on its way. Where none is
// clear, lines half as long are tried.
//
// When no line is clear the path is begun on the outline itself, length mm
// before the start (once round at most), and cut there twice. That is p, or the
// outline that starts where p does; without one p is returned as it is. Nothing
// is cut then that the path does not cut but for the blade's turning, which may
// leave a nick of up to its offset on either side of where it is set down.
//
// It reports whether the lead-in lies in the waste. A closed path becomes an
// open one that ends at its start: have [Overcut] come first. A path without
// length, a length that is not a number above 0, a clear that is not one of 0 or
// more, and numbers in the paths that [Trailing] refuses give p.
func LeadIn(p path.Path, length, clear float64, outlines ...path.Path) (path.Path, bool) {
	if !(length > 0 && length <= farthest && clear >= 0 && clear <= farthest) || check(p) != nil {
		return p, false
	}
	if len(outlines) == 0 && p.Closed {
		outlines = []path.Path{p}
	}
	for _, o := range outlines {
		if check(o) != nil {
			return p, false
		}
	}
	var back path.Vec
	for s := range headed(p) {
		back = s.StartTangent().Neg()
		break
	}
	if back == (path.Vec{}) {
		return p, false
	}
	e := newEntry(p.Start(), length*(1+1.0/leadPlaces)+clear, outlines)
	for l := length; l >= length*math.Pow(0.5, leadHalvings); l /= 2 {
		for k := range leadSteps + 1 {
			turn := float64(k) * leadStep
			for _, dir := range [2]path.Vec{back.Rotate(turn), back.Rotate(-turn)} {
				if from := e.start.Add(dir.Mul(l)); e.clear(from, clear) {
					return path.Join(0, path.Open(from, e.start), p), true
				}
			}
		}
	}
	for _, o := range append([]path.Path{p}, outlines...) {
		if o.Closed && o.Length() > 0 && o.Start().Dist(e.start) <= path.Coincident {
			r := path.NewRuler(o)
			whole := r.Length()
			return path.Join(path.Coincident, r.Sub(whole-min(length, whole), whole), p), false
		}
	}
	return p, false
}

// entry looks for a way to a path's start through the waste: near are the
// segments of the outlines within reach.
type entry struct {
	start    path.Point
	outlines []path.Path
	near     []path.Segment
}

func newEntry(start path.Point, reach float64, outlines []path.Path) entry {
	e := entry{start: start, outlines: outlines}
	for _, o := range outlines {
		if !o.Bounds().Grow(reach).Contains(start) {
			continue
		}
		for i := range o.Segments() {
			if s := o.Segment(i); s.Bounds().Grow(reach).Contains(start) {
				e.near = append(e.near, s)
			}
		}
	}
	return e
}

// clear reports whether the line from the place to the start lies in the waste,
// as far from every outline as a lead-in does.
func (e entry) clear(from path.Point, distance float64) bool {
	line := path.Line(from, e.start)
	// A distance changes by no more than one moves, so half of the way between two
	// places makes up for all that lie between them.
	between := line.Length() / leadPlaces / 2
	for k := range leadPlaces {
		t := float64(k) / leadPlaces
		least := distance + between
		if left := 2 * (1 - t); left < 1 {
			least = distance * left * left
		}
		at := line.At(t)
		for _, s := range e.near {
			if _, d := s.Nearest(at); d < least {
				return false
			}
		}
	}
	for _, s := range e.near {
		hits := line.Intersect(s)
		for _, h := range hits.At[:hits.N] {
			if h.Dist(e.start) > leadTouch {
				return false
			}
		}
	}
	inside := 0
	for _, o := range e.outlines {
		if o.Contains(from) {
			inside++
		}
	}
	return inside%2 == 0
}
