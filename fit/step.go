package fit

import (
	"math"

	"engrail/motif/path"
)

// stations are the places of the valleys along a valley line.
type stations struct {
	// width is the length of a motif of ratio 1: of its chord when stepped, of its
	// arc when walked.
	width float64
	// along is the distance of every valley from the line's start.
	along []float64
	// steps are the motifs.
	steps []step
}

// terminal is the straight line through one end of a valley line that the
// motif there is symmetrical about.
type terminal struct {
	// at is the end of the valley line; side is the direction of the side.
	at   path.Point
	side path.Vec
	// inward is the direction, along the valley line or square to a fold, in
	// which the distance from the line counts.
	inward path.Vec
}

// depthOf returns how far p lies from the terminal line, measured along
// inward.
func (t terminal) depthOf(p path.Point) float64 {
	return p.Sub(t.at).Cross(t.side) / t.inward.Cross(t.side)
}

// foot returns the point of the terminal line beside p, against inward.
func (t terminal) foot(p path.Point) path.Point { return p.Add(t.inward.Mul(-t.depthOf(p))) }

// walk sets the valleys by the motifs' lengths along the line. There is no answer,
// and ok is false, when the steps of fixed width are longer than that.
func walk(length float64, steps []step) (s stations, ok bool) {
	ratio, fixed := 0.0, 0.0
	for _, t := range steps {
		fixed += t.length(0)
		ratio += t.length(1) - t.length(0)
	}
	s = stations{width: (length - fixed) / ratio, steps: steps}
	if !(s.width > 0) {
		return stations{}, false
	}
	at := 0.0
	s.along = make([]float64, 0, len(steps)+1)
	if steps[0].part != fall {
		s.along = append(s.along, 0)
	}
	for i, t := range steps {
		at += t.length(s.width)
		if i == len(steps)-1 {
			if t.part != rise {
				s.along = append(s.along, length)
			}
			break
		}
		s.along = append(s.along, at)
	}
	return s, true
}

// stepper steps chords of equal length along a valley line. Beyond its end the
// line goes on straight.
type stepper struct {
	line          *path.Ruler
	bend          []float64 // the curvature of each segment of line
	length        float64   // of the valley line, without the continuation
	start, finish Phase
	ends          [2]terminal
	// last is the length along an arc of the curvature that the chord before cut off.
	last struct{ width, bend, along float64 }
}

func newStepper(valley path.Path, start, finish Phase, ends [2]terminal) *stepper {
	end := valley.End()
	length := valley.Length()
	on := path.Open(end, end.Add(valley.EndTangent().Mul(3*length)))
	line := path.Join(path.Coincident, valley, on)
	bend := make([]float64, line.Segments())
	for i := range bend {
		bend[i] = math.Abs(line.Segment(i).Curvature())
	}
	return &stepper{line: path.NewRuler(line), bend: bend, length: length, start: start, finish: finish, ends: ends}
}

// step returns the stations for the steps: the width is solved so that the last
// step arrives at the end. There is no answer, and ok is false, when the line is
// too curved for so few steps.
func (s *stepper) step(steps []step) (stations, bool) {
	along := make([]float64, 0, len(steps)+1)
	miss := func(width float64) float64 {
		along = along[:0]
		return s.miss(width, steps, &along)
	}
	ratio, fixed := 0.0, 0.0
	for _, t := range steps {
		fixed += t.length(0)
		ratio += t.length(1) - t.length(0)
	}
	// A chord is not longer than its arc, so that the pitch along the line is
	// an upper bound; with slanted ends it may need a little more.
	high := (s.length - fixed) / ratio
	if !(high > 0) {
		return stations{}, false
	}
	missHigh := miss(high)
	for range 8 {
		if missHigh >= 0 {
			break
		}
		high *= 1.05
		missHigh = miss(high)
	}
	// Narrowing every step by a hair brings the end back by as many hairs, so
	// that a step a little larger than what is missed is a close lower bound.
	low := high - 1.2*missHigh/ratio - stepPrecision
	missLow := math.Inf(1)
	for range 12 {
		if low = max(low, high/1000); low < high {
			if missLow = miss(low); missLow <= 0 {
				break
			}
		}
		low -= high - low
	}
	if missHigh < 0 || missLow > 0 {
		return stations{}, false
	}
	width := falsePosition(miss, low, missLow, high, missHigh)
	miss(width)
	if s.start != Peak {
		along[0] = 0
	}
	if s.finish != Peak {
		along[len(along)-1] = s.length
	}
	return stations{width: width, along: along, steps: steps}, true
}

// miss steps along the line with the width and returns by how much, in mm, the
// last step goes past the end; negative when it falls short. It appends the
// valleys' distances to along.
func (s *stepper) miss(width float64, steps []step, along *[]float64) float64 {
	at := 0.0
	if s.start == Peak {
		at = s.reachDepth(s.ends[Start], steps[0].length(width))
		steps = steps[1:]
	}
	*along = append(*along, at)
	seg, _ := s.line.Find(at)
	for _, t := range steps {
		if t.part == rise {
			return t.length(width) - s.ends[Finish].depthOf(s.line.At(at))
		}
		at, seg = s.chord(at, seg, t.width(width))
		*along = append(*along, at)
	}
	return at - s.length
}

// chord returns the first place beyond from, which lies on segment seg, whose
// straight distance from there is width, and its segment.
func (s *stepper) chord(from float64, seg int, width float64) (float64, int) {
	// On one arc, equal chords cut off equal lengths.
	if k := s.bend[seg]; k*width < 2 {
		step := width
		if k > 0 {
			if s.last.width != width || s.last.bend != k {
				s.last.width, s.last.bend, s.last.along = width, k, 2/k*math.Asin(k*width/2)
			}
			step = s.last.along
		}
		if at := from + step; at <= s.line.Stop(seg+1) {
			return at, seg
		}
	}
	p := s.line.At(from)
	line := s.line.Path()
	for ; seg < line.Segments(); seg++ {
		g := line.Segment(seg)
		if g.B.Dist(p) < width {
			continue
		}
		stop := s.line.Stop(seg)
		length := s.line.Stop(seg+1) - stop
		t := g.Ratio(leaves(g, p, width))
		// The circle of a nearly straight arc has its centre far away and with
		// it few digits; Newton's steps along the arc give them back.
		for range 2 {
			v := g.At(t).Sub(p)
			off := v.Len()
			t -= (off - width) * off / (v.Dot(g.TangentAt(t)) * length)
		}
		if at := stop + min(1, max(0, t))*length; at > from {
			return at, seg
		}
	}
	// Past the continuation, three times the length away: far too wide.
	return s.line.Length() + width, line.Segments() - 1
}

// leaves returns where the segment g leaves the circle of the radius around p;
// its end lies outside.
func leaves(g path.Segment, p path.Point, radius float64) path.Point {
	if g.IsLine() {
		u := g.Chord().Unit()
		w := p.Sub(g.A)
		along := w.Dot(u)
		off := w.Cross(u)
		return g.A.Add(u.Mul(along + math.Sqrt(max(0, radius*radius-off*off))))
	}
	centre, r := g.Centre(), g.Radius()
	d := p.Sub(centre)
	dist := d.Len()
	if dist == 0 {
		return g.B
	}
	// The half-angle form of the law of cosines, which keeps its digits when
	// the circle is large.
	sin := (radius*radius - (r-dist)*(r-dist)) / (4 * r * dist)
	turn := 2 * math.Asin(math.Sqrt(min(1, max(0, sin))))
	if g.Bulge < 0 {
		turn = -turn
	}
	return centre.Add(d.Rotate(turn).Mul(r / dist))
}

// reachDepth returns the first distance along the line at which it lies at the
// depth from the terminal line.
func (s *stepper) reachDepth(t terminal, depth float64) float64 {
	line := s.line.Path()
	for i := range line.Segments() {
		g := line.Segment(i)
		if t.depthOf(g.B) < depth {
			continue
		}
		f := func(ratio float64) float64 { return t.depthOf(g.At(ratio)) - depth }
		low, high := f(0), f(1)
		if low > 0 {
			continue
		}
		ratio := falsePosition(f, 0, low, 1, high)
		stop := s.line.Stop(i)
		return stop + ratio*(s.line.Stop(i+1)-stop)
	}
	return s.line.Length()
}

// falsePosition returns the root of f between low and high, where its values
// have opposite signs, by the Illinois variant of the rule of false position.
func falsePosition(f func(float64) float64, low, fLow, high, fHigh float64) float64 {
	side := 0
	for range 200 {
		if fLow == 0 {
			return low
		}
		if fHigh == 0 || high-low < stepPrecision*1e-3 {
			return high
		}
		mid := (low*fHigh - high*fLow) / (fHigh - fLow)
		if !(mid > low && mid < high) {
			mid = low + (high-low)/2
		}
		fMid := f(mid)
		switch {
		case math.Abs(fMid) < stepPrecision*1e-2:
			return mid
		case fMid < 0:
			low, fLow = mid, fMid
			if side == -1 {
				fHigh /= 2
			}
			side = -1
		default:
			high, fHigh = mid, fMid
			if side == 1 {
				fLow /= 2
			}
			side = 1
		}
	}
	return high
}
