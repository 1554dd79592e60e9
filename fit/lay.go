package fit

import (
	"math"
	"slices"

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

// bed is what motifs are laid on: a stretch of a valley line.
type bed struct {
	valley   *path.Ruler // the valley line
	closed   bool
	from, to float64 // where on it the motifs stand
	phases   [2]Phase
	sides    [2]side
	reach    [2]reach
	ends     [2]terminal
}

// reach is, at an end, the reach on the side of the valley line and of the peak, and
// the depth between them.
type reach struct{ valley, peak, depth float64 }

// laid are motifs on a hem.
type laid struct {
	edge           path.Path
	valleys, peaks []Place
	marks          []path.Path
	neck, mouth    float64 // of the narrowest motif that has one, and between two
}

// lay lays the motifs, for each step its cell.
func (b bed) lay(as Lay, cells []motif.Cell, at stations) (laid, error) {
	if as == Bent {
		return b.bend(cells, at)
	}
	return b.rigid(cells, at)
}

// bare returns a stretch without a motif.
func (b bed) bare() laid {
	line := b.valley.Path()
	l := laid{edge: line}
	for i, q := range [2]path.Point{line.Start(), line.End()} {
		if b.phases[i] == Valley {
			l.valleys = append(l.valleys, Place{q, b.sides[i].out})
		}
	}
	return l
}

// join returns the parts as one edge, with the plain stretches at its ends.
func (b bed) join(parts []path.Path) path.Path {
	if b.from > 0 {
		parts = append([]path.Path{b.valley.Sub(0, b.from)}, parts...)
	}
	if l := b.valley.Length(); b.to < l {
		parts = append(parts, b.valley.Sub(b.to, l))
	}
	edge := path.Join(JoinGap, parts...)
	if b.closed {
		edge = edge.Close(JoinGap)
	}
	return edge
}

// outward returns the unit vector to the right of a direction of travel.
func outward(u path.Vec) path.Vec { return u.Right() }

// frame returns the motion from cell coordinates to the plane: origin goes to
// the valley, x along u, y outward.
func frame(origin path.Point, u path.Vec) path.Similarity {
	flip := path.Reflection(path.Point{}, path.Vec{X: 1})
	return flip.Then(path.Frame(origin, u))
}

// rigid lays unbent motifs on the chords between the stations.
func (b bed) rigid(cells []motif.Cell, at stations) (laid, error) {
	points := make([]path.Point, len(at.along))
	for i, d := range at.along {
		points[i] = b.valley.At(d)
	}
	chord := make([]path.Vec, len(points)-1)
	for i := range chord {
		chord[i] = points[i+1].Sub(points[i]).Unit()
	}
	last := len(points) - 1
	// outAt is outward at the i-th valley: along the side at an end, along the
	// bisector between.
	outAt := func(i int) path.Vec {
		before, after := path.Vec{}, path.Vec{}
		switch {
		case i > 0:
			before = chord[i-1]
		case b.closed:
			before = chord[last-1]
		case b.phases[Start] == Valley:
			return b.sides[Start].out
		case b.phases[Start] == Plain:
			before = b.valley.TangentAt(b.from)
		default:
			before = b.ends[Start].inward
		}
		switch {
		case i < len(chord):
			after = chord[i]
		case b.closed:
			after = chord[0]
		case b.phases[Finish] == Valley:
			return b.sides[Finish].out
		case b.phases[Finish] == Plain:
			after = b.valley.TangentAt(b.to)
		default:
			after = b.ends[Finish].inward.Neg()
		}
		return outward(before.Add(after)).Unit()
	}

	var l laid
	parts := make([]path.Path, 0, len(cells)+2)
	first := 0
	if at.steps[0].part == fall {
		// Run from the valley to the peak, then turned round.
		half, err := b.endHalf(cells[0], Start, points[0])
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, half.Reverse())
		l.peaks = append(l.peaks, Place{half.End(), b.sides[Start].out})
		first = 1
	}
	// The cells of one kind come one after another, as one path.
	var cell motif.Cell
	var whole path.Path
	for i, u := range chord {
		if c := cells[first+i]; i == 0 || c.Width != cell.Width || c.Depth != cell.Depth || &c.Rise.V[0] != &cell.Rise.V[0] {
			cell = c
			whole = c.Path()
		}
		m := frame(points[i], u)
		parts = append(parts, whole.Transform(m))
		l.valleys = append(l.valleys, Place{points[i], outAt(i)})
		l.peaks = append(l.peaks, Place{m.Apply(cell.Peak()), m.ApplyVec(cell.PeakOut())})
		for _, line := range cell.Marks {
			l.marks = append(l.marks, line.Transform(m).Reverse()) // m mirrors
		}
	}
	l.valleys = append(l.valleys, Place{points[last], outAt(last)})
	if n := len(cells) - 1; at.steps[n].part == rise {
		half, err := b.endHalf(cells[n], Finish, points[last])
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, half)
		l.peaks = append(l.peaks, Place{half.End(), b.sides[Finish].out})
	}
	l.edge = b.join(parts)
	if b.closed {
		l.valleys = l.valleys[:last]
	}
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
	turn  path.Vec     // from back to the direction square to the side
}

// maps takes a point of the half cell to the plane.
func (s sheared) maps(p path.Point) path.Point {
	x := s.half - p.X // from the terminal line
	q := s.foot.Add(s.back.Mul(x)).Add(s.out.Mul(p.Y))
	f, _ := fade(x / s.half)
	g, _ := bow(x / s.half)
	return q.Add(s.move(p.Y).Mul(f)).Add(s.turn.Mul(s.half * g))
}

// move returns how far the side's place at the height y lies from where the
// unmoved half repeat has it.
func (s sheared) move(y float64) path.Vec {
	return s.bed.sides[s.end].at(s.reach(y)).Sub(s.foot.Add(s.out.Mul(y)))
}

func (s sheared) reach(y float64) float64 {
	return s.from + (s.bed.reach[s.end].peak-s.from)*y/s.bed.reach[s.end].depth
}

// At returns the mapped point at the ratio t of the local segment.
func (s sheared) At(t float64) path.Point { return s.maps(s.local.At(t)) }

// Tangent returns the derivative by t.
func (s sheared) Tangent(t float64) path.Vec {
	p := s.local.At(t)
	d := s.local.TangentAt(t).Mul(s.local.Length())
	x := s.half - p.X
	f, df := fade(x / s.half)
	_, dg := bow(x / s.half)
	slope := (s.bed.reach[s.end].peak - s.from) / s.bed.reach[s.end].depth
	side := s.bed.sides[s.end]
	along := side.out
	if r := s.reach(p.Y); r <= 0 {
		along = side.in.TangentAt(-r).Neg()
	}
	moveDy := along.Mul(slope).Sub(s.out)
	return s.back.Mul(-d.X).Add(s.out.Mul(d.Y)).
		Add(moveDy.Mul(f * d.Y)).
		Add(s.move(p.Y).Mul(-df * d.X / s.half)).
		Add(s.turn.Mul(-dg * d.X))
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
	s.turn = b.square(end, b.reach[end].peak, back).Sub(back)
	if s.turn.Len() < exactTurn && s.move(0).Len() < exactEnd && s.move(cell.Depth).Len() < exactEnd && s.move(cell.Depth/2).Len() < exactEnd {
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

// square returns the unit vector square to the side of the end, at the reach, that
// points about the same way as along.
func (b bed) square(end End, reach float64, along path.Vec) path.Vec {
	dir := b.sides[end].out
	if reach <= 0 {
		dir = b.sides[end].in.TangentAt(-reach).Neg()
	}
	if q := dir.Left(); q.Dot(along) > 0 {
		return q
	}
	return dir.Right()
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
	closed bool      // the line goes round
	// closing is the turn of a closed line at its start.
	closing float64
}

func newHeading(line *path.Ruler, window float64) heading {
	p := line.Path()
	n := p.Segments()
	h := heading{window: window, closed: p.Closed}
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
	if h.closed {
		h.closing = p.Segment(n - 1).EndTangent().AngleTo(p.Segment(0).StartTangent())
	}
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
	if length := h.stops[n]; h.closed && (along < 0 || along > length) {
		// Once more round: the direction has turned, and the integral gone on.
		turns := math.Floor(along / length)
		a, s := h.raw(along - turns*length)
		all := h.turned()
		_, sum := h.raw(length)
		return a + turns*all, s + turns*sum + all*(turns*(along-turns*length)+turns*(turns-1)/2*length)
	}
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

// turned returns by how much a closed line turns in one round.
func (h heading) turned() float64 {
	n := len(h.angle)
	last := h.angle[n-1] + h.bend[n-1]*(h.stops[n]-h.stops[n-1])
	return last - h.angle[0] + h.closing
}

// alone reports whether everything between the two distances, and what the
// averages there look at, lies on one segment, and returns it.
func (h heading) alone(from, to float64) (int, bool) {
	length := h.stops[len(h.stops)-1]
	i := h.segment(max(0, from))
	for _, along := range []float64{from - h.window, to + h.window} {
		if h.closed && (along < 0 || along > length) {
			along -= math.Floor(along/length) * length
		}
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

// bent is the map that bends a motif along the valley line.
type bent struct {
	bed     bed
	heading heading
	zone    [2]float64 // how far from each end what is eased there goes
	from    float64    // the distance along the valley line of the cell's x = 0
	local   path.Segment
	// low and high are the distances along the valley line between which it is
	// followed: there it has no kink.
	low, high float64
	moves     [2]bool // which ends are eased
	// turns are the directions square to the sides at the ends, which a smooth
	// motif takes there, zero where it keeps its own.
	turns [2]path.Vec
}

// maps takes a point of the cell to the plane and returns the derivatives by x and y.
func (b bent) maps(p path.Point) (q path.Point, dx, dy path.Vec) {
	line := b.bed.valley
	along := b.from + p.X
	angle, bend := b.heading.at(along)
	u := path.Direction(angle)
	out := outward(u)
	place := along
	if b.bed.closed {
		place -= math.Floor(along/line.Length()) * line.Length()
		along = place
	}
	// At a kink, the point and the direction are those of the side followed.
	held := min(b.high-path.Coincident, max(b.low+path.Coincident, place))
	q = line.At(held).Add(out.Mul(p.Y))
	dx = line.TangentAt(held)
	q = q.Add(dx.Mul(place - held))
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
		f, df := fade(x / b.zone[end])
		if x >= b.zone[end] {
			continue
		}
		move, moveDy := b.move(End(end), p.Y)
		q = q.Add(move.Mul(f))
		dx = dx.Add(move.Mul(sign * df / b.zone[end]))
		dy = dy.Add(moveDy.Mul(f))
		if b.turns[end] != (path.Vec{}) {
			g, dg := bow(x / b.zone[end])
			turn, turnDy := b.turn(End(end), p.Y)
			q = q.Add(turn.Mul(sign * b.zone[end] * g))
			dx = dx.Add(turn.Mul(dg))
			dy = dy.Add(turnDy.Mul(sign * b.zone[end] * g))
		}
	}
	return q, dx, dy
}

// turn returns how the direction of a level line of the motif at the height y
// differs at the end from the one that it takes there, and the derivative by y.
func (b bent) turn(end End, y float64) (turn, dy path.Vec) {
	line := b.bed.valley
	along := 0.0
	if end == Finish {
		along = line.Length()
	}
	angle, bend := b.heading.at(along)
	d := b.turns[end].Sub(path.Direction(angle))
	own := b.turns[end].Sub(line.TangentAt(along))
	return own.Add(d.Mul(bend * y)), d.Mul(bend)
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
	slope := (r.peak - r.valley) / r.depth
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

// eases finds out what has to be eased at the ends, for the cells there.
func (b *bent) eases(cells [2]motif.Cell) {
	if b.bed.closed {
		return
	}
	for end, cell := range cells {
		b.zone[end] = cell.Width / 2
		phase := b.bed.phases[end]
		if phase == Plain {
			continue
		}
		depth := b.bed.reach[end].depth
		for _, y := range []float64{0, depth / 2, depth} {
			if move, _ := b.move(End(end), y); move.Len() > exactEnd {
				b.moves[end] = true
			}
		}
		// A motif that is level at the end runs smoothly on across it.
		reach, level := b.bed.reach[end].peak, levelAt(cell.Rise.EndTangent()) || levelAt(cell.Fall.StartTangent())
		if phase == Valley {
			reach, level = b.bed.reach[end].valley, levelAt(cell.Rise.StartTangent())
			if End(end) == Finish {
				level = levelAt(cell.Fall.EndTangent())
			}
		}
		along := 0.0
		if End(end) == Finish {
			along = b.bed.valley.Length()
		}
		square := b.bed.square(End(end), reach, b.bed.valley.TangentAt(along))
		if level && square.Sub(b.bed.valley.TangentAt(along)).Len() > exactTurn {
			b.moves[end], b.turns[end] = true, square
		}
	}
}

// levelAt reports whether a cell runs along its base line.
func levelAt(u path.Vec) bool { return math.Abs(u.Y) < levelSlope }

// bend lays motifs that follow the curve of the valley line: x of the cell
// runs along it, y square to it.
func (b bed) bend(cells []motif.Cell, at stations) (laid, error) {
	m := bent{bed: b, heading: newHeading(b.valley, at.width/4)}
	last := len(cells) - 1
	m.eases([2]motif.Cell{cells[0], cells[last]})
	var l laid
	parts := make([]path.Path, 0, len(cells)+2)
	length := b.valley.Length()

	// Motifs that lie wholly on one arc or line, window included, are copies
	// of one another; made holds the first of each kind and curvature at the origin.
	type kind struct {
		rise *path.Vertex
		bend float64
	}
	made := map[kind]path.Path{}
	var cell motif.Cell
	var whole path.Path
	var box path.Box
	part := func(from, to float64) (path.Path, error) {
		m.from = from
		low, high := from+min(0, box.Min.X), to+max(0, box.Max.X-cell.Width)
		i, alone := m.heading.alone(low, high)
		alone = alone && !(m.moves[Start] && low < m.zone[Start]) && !(m.moves[Finish] && high > length-m.zone[Finish])
		if !alone {
			return m.fit(whole)
		}
		angle, _ := m.heading.at(from)
		place := path.Frame(b.valley.At(from), path.Direction(angle))
		k := kind{&cell.Rise.V[0], m.heading.bend[i]}
		copied, ok := made[k]
		if !ok {
			first, err := m.fit(whole)
			if err != nil {
				return path.Path{}, err
			}
			back := path.Translation(path.Point{}.Sub(b.valley.At(from))).Then(path.Rotation(path.Point{}, -angle))
			copied = first.Transform(back)
			made[k] = copied
		}
		return copied.Transform(place), nil
	}
	place := func(x, y float64) Place {
		m.from, m.low, m.high = 0, 0, length
		q, _, dy := m.maps(path.Point{X: x, Y: y})
		return Place{q, dy.Unit()}
	}

	if at.steps[0].part == fall {
		half := cells[0].Width / 2
		m.from = -half
		p, err := m.fit(cells[0].Fall)
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		l.peaks = append(l.peaks, place(0, cells[0].Depth))
		cells = cells[1:]
	}
	for i, d := range at.along {
		l.valleys = append(l.valleys, place(d, 0))
		if i == len(at.along)-1 {
			break
		}
		if c := cells[i]; i == 0 || &c.Rise.V[0] != &cell.Rise.V[0] {
			cell = c
			whole = c.Path()
			box = whole.Bounds()
		}
		p, err := part(d, at.along[i+1])
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		peak := place(d+cell.Peak().X, cell.Depth)
		// Turned with the place, as its tip is.
		out := cell.PeakOut()
		peak.Out = peak.Out.Mul(out.Y).Add(peak.Out.Left().Mul(out.X))
		l.peaks = append(l.peaks, peak)
		for _, line := range cell.Marks {
			// A mark keeps its shape, and turns with the place of its middle.
			middle := line.Bounds().Centre()
			at := place(d+middle.X, middle.Y)
			l.marks = append(l.marks, line.Transform(path.Translation(path.Point{}.Sub(middle)).Then(frame(at.Point, at.Out.Left()))).Reverse())
		}
	}
	if n := len(cells) - 1; at.steps[last].part == rise {
		m.from = at.along[len(at.along)-1]
		p, err := m.fit(cells[n].Rise)
		if err != nil {
			return laid{}, err
		}
		parts = append(parts, p)
		l.peaks = append(l.peaks, place(length, cells[n].Depth))
	}
	l.edge = b.join(parts)
	if b.closed {
		l.valleys = l.valleys[:len(l.valleys)-1]
	}
	return l, nil
}

// fit maps a part of the cell, in cell coordinates, and turns it into arcs.
func (b bent) fit(local path.Path) (path.Path, error) {
	var chain path.Path
	for i := range local.Segments() {
		// A kink of the valley line is one of the result, since the map has it.
		pieces := []path.Segment{local.Segment(i)}
		for _, at := range b.heading.kinks {
			var cut []path.Segment
			for _, g := range pieces {
				cut = append(cut, splitAt(g, at-b.from)...)
			}
			pieces = cut
		}
		for _, g := range pieces {
			if err := b.fitPiece(g, &chain); err != nil {
				return path.Path{}, err
			}
		}
	}
	return chain, nil
}

// splitAt returns the parts of the segment between its meetings with the upright
// line at x.
func splitAt(g path.Segment, x float64) []path.Segment {
	box := g.Bounds()
	if x <= box.Min.X+JoinGap || x >= box.Max.X-JoinGap {
		return []path.Segment{g}
	}
	hits := g.Intersect(path.Line(path.Point{X: x, Y: box.Min.Y - 1}, path.Point{X: x, Y: box.Max.Y + 1}))
	var ts []float64
	for _, h := range hits.At[:hits.N] {
		if p := h.Point; p.Dist(g.A) > JoinGap && p.Dist(g.B) > JoinGap {
			ts = append(ts, g.Ratio(p))
		}
	}
	slices.Sort(ts)
	var all []path.Segment
	done := 0.0
	for _, t := range ts {
		var before path.Segment
		before, g = g.Split((t - done) / (1 - done))
		all = append(all, before)
		done = t
	}
	return append(all, g)
}

// fitPiece adds the arcs of a part of the cell between kinks to the chain.
func (b bent) fitPiece(g path.Segment, chain *path.Path) error {
	b.local = g
	b.low, b.high = 0, b.bed.valley.Length()
	middle := b.from + g.At(0.5).X
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
