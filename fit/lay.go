package fit

import (
	"math"

	"engrail/motif"
	"engrail/motif/path"
)

// Place is a valley or a peak of a laid motif.
type Place struct {
	Point path.Point
	// Out is the unit direction out of the garment there: along the bisector
	// of the motif, and along the side at an end.
	Out path.Vec
}

// bed is what a motif is laid on.
type bed struct {
	valley *path.Ruler // the valley line
	depth  float64
	phases [2]Phase
	sides  [2]side
	// reach gives, for each end, the reach on the side of the valley line and
	// of the peak.
	reach [2]struct{ valley, peak float64 }
	ends  [2]terminal
}

// laid is a motif on a hem.
type laid struct {
	edge           path.Path
	valleys, peaks []Place
}

// outward returns the unit vector to the right of a direction of travel.
func outward(u path.Vec) path.Vec { return u.Right() }

// frame returns the motion from cell coordinates to the plane: origin goes to
// the valley, x along u, y outward.
func frame(origin path.Point, u path.Vec) path.Similarity {
	flip := path.Reflection(path.Point{}, path.Vec{X: 1})
	return flip.Then(path.Frame(origin, u))
}

// rigid lays unbent repeats on the chords between the stations.
func (b bed) rigid(cell motif.Cell, at stations) (laid, error) {
	points := make([]path.Point, len(at.along))
	for i, d := range at.along {
		points[i] = b.valley.At(d)
	}
	chord := make([]path.Vec, len(points)-1)
	for i := range chord {
		chord[i] = points[i+1].Sub(points[i]).Unit()
	}
	// outAt is outward at the i-th valley: along the side at an end, along the
	// bisector between.
	outAt := func(i int) path.Vec {
		before, after := path.Vec{}, path.Vec{}
		if i > 0 {
			before = chord[i-1]
		} else if b.phases[Start] == Valley {
			return b.sides[Start].out
		} else {
			before = b.ends[Start].inward
		}
		if i < len(chord) {
			after = chord[i]
		} else if b.phases[Finish] == Valley {
			return b.sides[Finish].out
		} else {
			after = b.ends[Finish].inward.Neg()
		}
		return outward(before.Add(after)).Unit()
	}

	var l laid
	parts := make([]path.Path, 0, len(chord)+2)
	if b.phases[Start] == Peak {
		// Run from the valley to the peak, then turned round.
		half, err := b.endHalf(cell, Start, points[0])
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, half.Reverse())
		l.peaks = append(l.peaks, Place{half.End(), b.sides[Start].out})
	}
	whole := cell.Path()
	for i, u := range chord {
		m := frame(points[i], u)
		parts = append(parts, whole.Transform(m))
		l.valleys = append(l.valleys, Place{points[i], outAt(i)})
		l.peaks = append(l.peaks, Place{m.Apply(path.Point{X: cell.Width / 2, Y: cell.Depth}), outward(u)})
	}
	last := len(points) - 1
	l.valleys = append(l.valleys, Place{points[last], outAt(last)})
	if b.phases[Finish] == Peak {
		half, err := b.endHalf(cell, Finish, points[last])
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, half)
		l.peaks = append(l.peaks, Place{half.End(), b.sides[Finish].out})
	}
	l.edge = path.Join(JoinGap, parts...)
	return l, nil
}

// sheared is a half repeat that ends with its peak on a side: along x it runs
// from the valley to the terminal line, and its heights there follow the side.
type sheared struct {
	bed   bed
	end   End
	foot  path.Point // on the terminal line, at height 0
	back  path.Vec   // from the foot towards the valley
	out   path.Vec   // outward
	half  float64
	local path.Segment // of the cell, in cell coordinates
	from  float64      // the reach of the foot
}

// maps takes a point of the half cell to the plane.
func (s sheared) maps(p path.Point) path.Point {
	x := s.half - p.X // from the terminal line
	q := s.foot.Add(s.back.Mul(x)).Add(s.out.Mul(p.Y))
	f, _ := fade(x / s.half)
	return q.Add(s.move(p.Y).Mul(f))
}

// move returns how far the side's place at the height y lies from where the
// unmoved half repeat has it.
func (s sheared) move(y float64) path.Vec {
	return s.bed.sides[s.end].at(s.reach(y)).Sub(s.foot.Add(s.out.Mul(y)))
}

func (s sheared) reach(y float64) float64 {
	return s.from + (s.bed.reach[s.end].peak-s.from)*y/s.bed.depth
}

// At returns the mapped point at the ratio t of the local segment.
func (s sheared) At(t float64) path.Point { return s.maps(s.local.At(t)) }

// Tangent returns the derivative by t.
func (s sheared) Tangent(t float64) path.Vec {
	p := s.local.At(t)
	d := s.local.TangentAt(t).Mul(s.local.Length())
	x := s.half - p.X
	f, df := fade(x / s.half)
	slope := (s.bed.reach[s.end].peak - s.from) / s.bed.depth
	side := s.bed.sides[s.end]
	along := side.out
	if r := s.reach(p.Y); r <= 0 {
		along = side.in.TangentAt(-r).Neg()
	}
	moveDy := along.Mul(slope).Sub(s.out)
	return s.back.Mul(-d.X).Add(s.out.Mul(d.Y)).
		Add(moveDy.Mul(f * d.Y)).
		Add(s.move(p.Y).Mul(-df * d.X / s.half))
}

// endHalf returns the half repeat from the valley to the peak on the side of
// the end.
func (b bed) endHalf(cell motif.Cell, end End, valley path.Point) (path.Path, error) {
	t := b.ends[end]
	foot := t.foot(valley)
	back := valley.Sub(foot).Unit()
	out := outward(back)
	if end == Finish {
		out = out.Neg()
	}
	s := sheared{bed: b, end: end, foot: foot, back: back, out: out, half: cell.Width / 2, from: b.footReach(end, valley)}
	if s.move(0).Len() < exactEnd && s.move(cell.Depth).Len() < exactEnd && s.move(cell.Depth/2).Len() < exactEnd {
		m := frame(valley, back.Neg())
		if end == Start {
			// Towards the start, outward is on the left.
			m = path.Frame(valley, back.Neg())
		}
		half := cell.Rise.Transform(m)
		half.V[len(half.V)-1].Point = b.sides[end].at(b.reach[end].peak)
		return half, nil
	}
	var half path.Path
	for i := range cell.Rise.Segments() {
		s.local = cell.Rise.Segment(i)
		p, err := path.FitCurve(s, 0, 1, path.FitTolerance)
		if err != nil {
			return path.Path{}, err
		}
		half = path.Join(JoinGap, half, p)
	}
	return half, nil
}

// footReach returns the reach, along the side's direction at the valley line,
// of the point of the terminal line that the half repeat beside it stands on.
func (b bed) footReach(end End, valley path.Point) float64 {
	t := b.ends[end]
	return b.reach[end].valley + t.foot(valley).Sub(t.at).Dot(t.side)
}

// heading is the direction of a chain of arcs as a function of the distance
// along it, averaged over a window. On one arc the average is the direction
// itself; over joints it turns smoothly.
type heading struct {
	stops  []float64 // distance at each segment's start, and the length
	angle  []float64 // direction at each segment's start, unwrapped
	bend   []float64 // curvature of each segment
	sum    []float64 // integral of the direction up to each stop
	kinks  []float64 // distances of the joints at which the line turns
	window float64   // half the window's width
}

func newHeading(line *path.Ruler, window float64) heading {
	p := line.Path()
	n := p.Segments()
	h := heading{window: window}
	angle := p.StartTangent().Angle()
	sum := 0.0
	for i := range n {
		g := p.Segment(i)
		if i > 0 {
			turn := p.Segment(i - 1).EndTangent().AngleTo(g.StartTangent())
			angle += turn
			if math.Abs(turn) > kink {
				h.kinks = append(h.kinks, line.Stop(i))
			}
		}
		h.stops = append(h.stops, line.Stop(i))
		h.angle = append(h.angle, angle)
		h.bend = append(h.bend, g.Curvature())
		h.sum = append(h.sum, sum)
		d := line.Stop(i+1) - line.Stop(i)
		sum += d * (angle + g.Curvature()*d/2)
		angle += g.Sweep()
	}
	h.stops = append(h.stops, line.Length())
	return h
}

// segment returns the segment at the distance.
func (h heading) segment(along float64) int {
	low, high := 0, len(h.angle)-1
	for low < high {
		mid := (low + high + 1) / 2
		if h.stops[mid] <= along {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return low
}

// raw returns the direction at the distance and its integral up to there.
// Beyond an end the line goes on as its mirror image in a side square to it: an
// arc as the same arc.
func (h heading) raw(along float64) (angle, sum float64) {
	n := len(h.angle)
	if along < 0 {
		a, s := h.raw(-along)
		return 2*h.angle[0] - a, s + 2*h.angle[0]*along
	}
	if length := h.stops[n]; along > length {
		last := h.angle[n-1] + h.bend[n-1]*(length-h.stops[n-1])
		a, s := h.raw(2*length - along)
		return 2*last - a, s + 2*last*(along-length)
	}
	i := h.segment(along)
	d := along - h.stops[i]
	return h.angle[i] + h.bend[i]*d, h.sum[i] + d*(h.angle[i]+h.bend[i]*d/2)
}

// alone reports whether everything between the two distances, and what the
// averages there look at, lies on one segment, and returns it.
func (h heading) alone(from, to float64) (int, bool) {
	length := h.stops[len(h.stops)-1]
	i := h.segment(max(0, from))
	for _, along := range []float64{from - h.window, to + h.window} {
		if along < 0 {
			along = -along
		}
		if along > length {
			along = 2*length - along
		}
		if h.segment(along) != i {
			return i, false
		}
	}
	return i, h.segment(min(length, to)) == i
}

// at returns the averaged direction as an angle and its derivative.
func (h heading) at(along float64) (angle, bend float64) {
	a0, s0 := h.raw(along - h.window)
	a1, s1 := h.raw(along + h.window)
	return (s1 - s0) / (2 * h.window), (a1 - a0) / (2 * h.window)
}

// bent is the map that bends a repeat along the valley line.
type bent struct {
	bed     bed
	heading heading
	zone    float64
	from    float64 // the distance along the valley line of the cell's x = 0
	local   path.Segment
	// low and high are the distances along the valley line between which it is
	// followed: there it has no kink.
	low, high float64
	moves     [2]bool // which ends are eased
}

// maps takes a point of the cell to the plane and returns the derivatives by x and y.
func (b bent) maps(p path.Point) (q path.Point, dx, dy path.Vec) {
	line := b.bed.valley
	along := b.from + p.X
	angle, bend := b.heading.at(along)
	u := path.Direction(angle)
	out := outward(u)
	// At a kink, the point and the direction are those of the side followed.
	held := min(b.high-path.Coincident, max(b.low+path.Coincident, along))
	q = line.At(held).Add(out.Mul(p.Y))
	dx = line.TangentAt(held)
	q = q.Add(dx.Mul(along - held))
	dx = dx.Add(u.Mul(bend * p.Y))
	dy = out
	for end := range b.moves {
		if !b.moves[end] {
			continue
		}
		x, sign := along, 1.0
		if End(end) == Finish {
			x, sign = line.Length()-along, -1
		}
		f, df := fade(x / b.zone)
		if f == 0 {
			continue
		}
		move, moveDy := b.move(End(end), p.Y)
		q = q.Add(move.Mul(f))
		dx = dx.Add(move.Mul(sign * df / b.zone))
		dy = dy.Add(moveDy.Mul(f))
	}
	return q, dx, dy
}

// move returns how far the side's place at the height y lies from the unmoved
// map's, and the derivative by y.
func (b bent) move(end End, y float64) (move, dy path.Vec) {
	line := b.bed.valley
	along := 0.0
	if end == Finish {
		along = line.Length()
	}
	angle, _ := b.heading.at(along)
	out := outward(path.Direction(angle))
	s := b.bed.sides[end]
	r := b.bed.reach[end]
	slope := (r.peak - r.valley) / b.bed.depth
	reach := r.valley + slope*y
	dir := s.out
	if reach <= 0 {
		dir = s.in.TangentAt(-reach).Neg()
	}
	return s.at(reach).Sub(line.At(along).Add(out.Mul(y))), dir.Mul(slope).Sub(out)
}

// At returns the mapped point at the ratio t of the local segment.
func (b bent) At(t float64) path.Point {
	q, _, _ := b.maps(b.local.At(t))
	return q
}

// Tangent returns the derivative by t.
func (b bent) Tangent(t float64) path.Vec {
	_, dx, dy := b.maps(b.local.At(t))
	d := b.local.TangentAt(t).Mul(b.local.Length())
	return dx.Mul(d.X).Add(dy.Mul(d.Y))
}

// bend lays repeats that follow the curve of the valley line: x of the cell
// runs along it, y square to it.
func (b bed) bend(cell motif.Cell, at stations) (laid, error) {
	m := bent{bed: b, heading: newHeading(b.valley, cell.Width/4), zone: cell.Width / 2}
	for end := range m.moves {
		for _, y := range []float64{0, b.depth / 2, b.depth} {
			if move, _ := m.move(End(end), y); move.Len() > exactEnd {
				m.moves[end] = true
			}
		}
	}
	var l laid
	var parts []path.Path
	half := cell.Width / 2
	fall := cell.Fall
	length := b.valley.Length()

	// Repeats that lie wholly on one arc or line, window included, are copies
	// of one another; made holds the first of each curvature at the origin.
	made := map[float64]path.Path{}
	whole := cell.Path()
	part := func(local path.Path, from, to float64) (path.Path, error) {
		m.from = from
		i, alone := m.heading.alone(from, to)
		alone = alone && !(m.moves[Start] && from < m.zone) && !(m.moves[Finish] && to > length-m.zone)
		if !alone || local.Segments() != whole.Segments() {
			return m.fit(local)
		}
		angle, _ := m.heading.at(from)
		place := path.Frame(b.valley.At(from), path.Direction(angle))
		copied, ok := made[m.heading.bend[i]]
		if !ok {
			first, err := m.fit(local)
			if err != nil {
				return path.Path{}, err
			}
			back := path.Translation(path.Point{}.Sub(b.valley.At(from))).Then(path.Rotation(path.Point{}, -angle))
			copied = first.Transform(back)
			made[m.heading.bend[i]] = copied
		}
		return copied.Transform(place), nil
	}
	place := func(x, y float64) Place {
		m.from, m.low, m.high = 0, 0, length
		q, _, dy := m.maps(path.Point{X: x, Y: y})
		return Place{q, dy.Unit()}
	}

	if b.phases[Start] == Peak {
		p, err := part(fall, -half, half)
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		l.peaks = append(l.peaks, place(0, cell.Depth))
	}
	for i, d := range at.along {
		l.valleys = append(l.valleys, place(d, 0))
		if i == len(at.along)-1 {
			break
		}
		p, err := part(whole, d, d+cell.Width)
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		l.peaks = append(l.peaks, place(d+half, cell.Depth))
	}
	if b.phases[Finish] == Peak {
		last := at.along[len(at.along)-1]
		p, err := part(cell.Rise, last, last+half)
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		l.peaks = append(l.peaks, place(length, cell.Depth))
	}
	l.edge = path.Join(JoinGap, parts...)
	return l, nil
}

// fit maps a part of the cell, in cell coordinates, and turns it into arcs.
func (b bent) fit(local path.Path) (path.Path, error) {
	var chain path.Path
	for i := range local.Segments() {
		g := local.Segment(i)
		// A kink of the valley line is one of the result, since the map has it.
		for _, at := range b.heading.kinks {
			x := at - b.from
			if x <= g.A.X+JoinGap || x >= g.B.X-JoinGap {
				continue
			}
			t := falsePosition(func(t float64) float64 { return g.At(t).X - x }, 0, g.A.X-x, 1, g.B.X-x)
			var before path.Segment
			before, g = g.Split(t)
			if err := b.fitPiece(before, &chain); err != nil {
				return path.Path{}, err
			}
		}
		if err := b.fitPiece(g, &chain); err != nil {
			return path.Path{}, err
		}
	}
	return chain, nil
}

// fitPiece adds the arcs of a part of the cell between kinks to the chain.
func (b bent) fitPiece(g path.Segment, chain *path.Path) error {
	b.local = g
	b.low, b.high = 0, b.bed.valley.Length()
	middle := b.from + (g.A.X+g.B.X)/2
	for _, at := range b.heading.kinks {
		if at <= middle {
			b.low = max(b.low, at)
		} else {
			b.high = min(b.high, at)
		}
	}
	p, err := path.FitCurve(b, 0, 1, path.FitTolerance)
	if err != nil {
		return err
	}
	*chain = path.Join(JoinGap, *chain, p)
	return nil
}

// tightest returns the smallest radius of the line where it bends to the given
// side (1 for left, -1 for right), and the distance along it; +Inf when it
// nowhere does.
func tightest(line *path.Ruler, turn float64) (radius, along float64) {
	radius = math.Inf(1)
	for i := range line.Path().Segments() {
		if k := line.Path().Segment(i).Curvature() * turn; k > 0 && 1/k < radius {
			radius, along = 1/k, (line.Stop(i)+line.Stop(i+1))/2
		}
	}
	return radius, along
}
