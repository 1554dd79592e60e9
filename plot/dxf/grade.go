package dxf

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"engrail/motif/path"
	"engrail/plot"
)

// gradePoint is a place that moves by a vector for each size.
type gradePoint struct {
	at    path.Point
	moves []path.Vec
}

// drift is how a place moves that is the ratio t of the way from one grade
// point to another.
type drift struct {
	from, to []path.Vec
	t        float64
}

// in returns the vector of the size. The zero drift does not move.
func (d drift) in(size int) path.Vec {
	if d.from == nil {
		return path.Vec{}
	}
	a := d.from[size]
	if d.t == 0 {
		return a
	}
	return a.Add(d.to[size].Sub(a).Mul(d.t))
}

// all returns the vectors of all sizes.
func (d drift) all() []path.Vec {
	if d.t == 0 {
		return d.from
	}
	moves := make([]path.Vec, len(d.from))
	for i := range moves {
		moves[i] = d.in(i)
	}
	return moves
}

// stop is a place along a line whose moves are known.
type stop struct {
	along float64
	moves []path.Vec
}

// trail is a line on which places between stops move in proportion.
type trail struct {
	*path.Ruler
	ring   bool // it ends where it starts
	stops  []stop
	chords []chord
}

// chord is a segment of a trail with what finding its nearest place takes: the
// way from its start to its end, and that over the square of its length.
type chord struct {
	path.Segment
	way, share path.Vec
}

func newTrail(p path.Path) *trail {
	return &trail{Ruler: path.NewRuler(p), ring: isRing(p)}
}

// nearest returns the place of the trail nearest to the point.
func (t *trail) nearest(at path.Point) (along, dist float64) {
	if t.chords == nil {
		t.chords = make([]chord, t.Path().Segments())
		for i := range t.chords {
			s := t.Path().Segment(i)
			t.chords[i] = chord{Segment: s, way: s.Chord()}
			if l := s.Chord().Dot(s.Chord()); l > noLengthSq {
				t.chords[i].share = s.Chord().Mul(1 / l)
			}
		}
	}
	segment, ratio, best := 0, 0.0, math.Inf(1)
	for i := range t.chords {
		c := &t.chords[i]
		from := at.Sub(c.A)
		r := min(max(from.Dot(c.share), 0), 1)
		off := from.Sub(c.way.Mul(r))
		d := off.Dot(off)
		if c.Bulge != 0 {
			r, d = c.Nearest(at)
			d *= d
		}
		if d < best {
			segment, ratio, best = i, r, d
		}
	}
	return t.Stop(segment) + ratio*(t.Stop(segment+1)-t.Stop(segment)), math.Sqrt(best)
}

// isRing reports whether the path ends where it starts.
func isRing(p path.Path) bool {
	return p.Segments() > 0 && (p.Closed || len(p.V) > 3 && p.Start().Dist(p.End()) <= samePlace)
}

// at returns how the place moves. An open line moves beyond its outer stops as
// it does there. The trail has stops.
func (t *trail) at(along float64) drift {
	n := len(t.stops)
	i, found := slices.BinarySearchFunc(t.stops, along, func(s stop, along float64) int { return cmp.Compare(s.along, along) })
	if found {
		return drift{from: t.stops[i].moves}
	}
	low, high, round := i-1, i, 0.0
	if i == 0 || i == n {
		if !t.ring {
			return drift{from: t.stops[min(i, n-1)].moves}
		}
		low, high, round = n-1, 0, t.Length()
	}
	a, b := t.stops[low], t.stops[high]
	gap, way := b.along-a.along+round, along-a.along
	if way < 0 {
		way += round
	}
	if !(gap > 0) {
		return drift{from: a.moves}
	}
	return drift{a.moves, b.moves, way / gap}
}

// plan says how everything in a piece moves.
type plan struct {
	points []gradePoint
	cells  map[[2]int64][]int32
	used   []bool   // the points that are on something
	work   int      // segments that may still be looked at
	loose  bool     // there is no closed outline
	edges  []*trail // the cut lines that others move with
	seams  []*trail // and the stitching lines
	lines  []lineDrift
	texts  []drift
}

// lineDrift is how the vertices of a line move. A notch turns with the edge
// that it is on, about its first vertex: ahead is where the edge leads there,
// from the place that moves as behind to the one that moves as before.
type lineDrift struct {
	vertices       []drift
	ahead          path.Vec
	behind, before drift
}

// errTooMuch says that finding how a piece moves takes too long.
var errTooMuch = errors.New("too many points between grade points: thin out its lines")

// newPlan finds how lines and texts move that the grade points are on. Work
// bounds how many segments are looked at.
//
// What stands at a grade point moves with it, and places between two grade
// points of a line in proportion to the way along it. Places of other lines on
// the outline or the stitching line move as it does there. A stitching line
// without grade points moves as the outline beside it, and the other way round;
// other things without them as the nearest place of the outline, all of a thing
// alike but the ends of a fold.
func newPlan(lines []plot.Line, texts []plot.Text, points []gradePoint, work int) (*plan, error) {
	p := &plan{points: points, used: make([]bool, len(points)), cells: make(map[[2]int64][]int32, len(points)), work: work}
	for i, q := range points {
		c := cellOf(q.at)
		p.cells[c] = append(p.cells[c], int32(i))
	}
	p.lines = make([]lineDrift, len(lines))
	trails := make([]*trail, len(lines))
	for i, l := range lines {
		p.lines[i].vertices = make([]drift, len(l.Path.V))
		if l.Path.Segments() > 0 {
			trails[i] = newTrail(l.Path)
		}
		for k, v := range l.Path.V {
			moves := p.pointAt(v.Point)
			if moves == nil {
				continue
			}
			p.lines[i].vertices[k] = drift{from: moves}
			if trails[i] != nil {
				trails[i].stops = append(trails[i].stops, stop{trails[i].Stop(k), moves})
			}
		}
	}
	p.texts = make([]drift, len(texts))
	for i, t := range texts {
		p.texts[i] = drift{from: p.pointAt(t.At)}
	}
	var bounds []int
	bounds, p.loose = boundaries(lines)
	p.onSegments(bounds, trails)
	p.pairUp(bounds, lines, trails)
	bound := make([]bool, len(lines))
	for _, i := range bounds {
		bound[i] = len(trails[i].stops) > 0
		switch {
		case !bound[i]:
		case lines[i].Role == plot.Cut:
			p.edges = append(p.edges, trails[i])
		default:
			p.seams = append(p.seams, trails[i])
		}
	}
	for i, l := range lines {
		switch {
		case bound[i]:
			p.between(i, trails[i])
		case len(l.Path.V) > 0:
			p.inside(i, l, trails[i])
		}
	}
	for i, t := range texts {
		if p.texts[i].from == nil {
			p.texts[i], _ = p.nearest(t.At)
		}
	}
	if p.work < 0 {
		return nil, errTooMuch
	}
	return p, nil
}

// boundaries returns which of the lines others move with: the outline, which is
// the closed cut line that encloses most, or all cut lines when none is closed,
// so that it is loose; and the stitching lines.
func boundaries(lines []plot.Line) (bounds []int, loose bool) {
	outline, most := -1, 0.0
	var cuts, stitching []int
	for i, l := range lines {
		switch {
		case l.Sign || l.Path.Segments() == 0:
		case l.Role == plot.Cut:
			cuts = append(cuts, i)
			if isRing(l.Path) {
				if area := math.Abs(l.Path.Area()); area > most {
					outline, most = i, area
				}
			}
		case l.Role == plot.Stitch:
			stitching = append(stitching, i)
		}
	}
	if outline >= 0 {
		cuts = []int{outline}
	}
	return append(cuts, stitching...), outline < 0
}

func cellOf(p path.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / samePlace)), int64(math.Floor(p.Y / samePlace))}
}

// pointAt returns the moves of the grade point nearest to the place and not
// further than samePlace, nil when there is none.
func (p *plan) pointAt(at path.Point) []path.Vec {
	if len(p.points) == 0 {
		return nil
	}
	nearest, dist := -1, samePlace
	middle := cellOf(at)
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			cell := p.cells[[2]int64{middle[0] + dx, middle[1] + dy}]
			if p.work -= len(cell); p.work < 0 {
				return nil
			}
			for _, i := range cell {
				// All that are here are on something.
				if d := p.points[i].at.Dist(at); d <= samePlace {
					p.used[i] = true
					if d < dist || nearest < 0 {
						nearest, dist = int(i), d
					}
				}
			}
		}
	}
	if nearest < 0 {
		return nil
	}
	return p.points[nearest].moves
}

// look returns where the trail is nearest to the place.
func (p *plan) look(t *trail, at path.Point) (along, dist float64) {
	if p.work -= t.Path().Segments(); p.work < 0 {
		return 0, math.Inf(1)
	}
	return t.nearest(at)
}

// onSegments finds the grade points that are on a boundary between two of its
// vertices.
func (p *plan) onSegments(bounds []int, trails []*trail) {
	for k, q := range p.points {
		if p.used[k] {
			continue
		}
		for _, i := range bounds {
			if along, dist := p.look(trails[i], q.at); dist <= samePlace {
				trails[i].stops = append(trails[i].stops, stop{along, q.moves})
				p.used[k] = true
			}
		}
	}
	for _, t := range trails {
		if t != nil {
			t.sort()
		}
	}
}

func (t *trail) sort() {
	slices.SortStableFunc(t.stops, func(a, b stop) int { return cmp.Compare(a.along, b.along) })
}

// pairUp gives stops to boundaries that have none of their own.
func (p *plan) pairUp(bounds []int, lines []plot.Line, trails []*trail) {
	from := -1
	for _, i := range bounds {
		if len(trails[i].stops) > 0 && (from < 0 || lines[i].Role == lines[from].Role && trails[i].Length() > trails[from].Length()) {
			from = i
		}
	}
	if from < 0 {
		return
	}
	corners := p.cornersOf(trails[from])
	for _, i := range bounds {
		if len(trails[i].stops) == 0 {
			p.transfer(trails[from], corners, trails[i])
		}
	}
}

// transfer gives the trail to stops beside those of from: where a corner or an
// end is on it, the same; a corner to each corner where they are each other's
// nearest; and otherwise the nearest place, if that is not nearest to quite
// another one.
func (p *plan) transfer(from *trail, corners []corner, to *trail) {
	paired := slices.DeleteFunc(p.cornersOf(to), func(c corner) bool {
		along, dist := p.look(from, c.at)
		if dist <= samePlace {
			to.stops = append(to.stops, stop{c.along, from.at(along).all()})
		}
		return dist <= samePlace
	})
	for _, s := range from.stops {
		k := p.nearestCorner(corners, from.At(s.along))
		if k < 0 || corners[k].at.Dist(from.At(s.along)) > samePlace {
			along, dist := p.look(to, from.At(s.along))
			back, _ := p.look(from, to.At(along))
			if gap := math.Abs(back - s.along); min(gap, from.Length()-gap) <= dist+samePlace {
				to.stops = append(to.stops, stop{along, s.moves})
			}
			continue
		}
		if j := p.nearestCorner(paired, corners[k].at); j >= 0 && p.nearestCorner(corners, paired[j].at) == k {
			to.stops = append(to.stops, stop{paired[j].along, s.moves})
		}
	}
	if !to.ring {
		for _, end := range [2]float64{0, to.Length()} {
			if !slices.ContainsFunc(to.stops, func(s stop) bool { return s.along == end }) {
				along, _ := p.look(from, to.At(end))
				to.stops = append(to.stops, stop{end, from.at(along).all()})
			}
		}
	}
	to.sort()
}

// corner is a corner of a trail, or an end.
type corner struct {
	at    path.Point
	along float64
}

func (p *plan) cornersOf(t *trail) []corner {
	var corners []corner
	line := t.Path()
	n := line.Segments()
	if p.work -= n; p.work < 0 {
		return nil
	}
	for i := range n {
		switch {
		case i == 0 && !t.ring:
			corners = append(corners, corner{line.Start(), 0})
		case math.Abs(line.Segment((i+n-1)%n).EndTangent().AngleTo(line.Segment(i).StartTangent())) > cornerTurn:
			corners = append(corners, corner{line.V[i].Point, t.Stop(i)})
		}
	}
	if !t.ring {
		corners = append(corners, corner{line.End(), t.Length()})
	}
	return corners
}

// nearestCorner returns which of the corners is nearest, -1 of none.
func (p *plan) nearestCorner(corners []corner, at path.Point) int {
	nearest, dist := -1, math.Inf(1)
	if p.work -= len(corners); p.work < 0 {
		return -1
	}
	for i, c := range corners {
		if d := c.at.DistSq(at); d < dist {
			nearest, dist = i, d
		}
	}
	return nearest
}

// nearest returns how the place moves that nearestEdge finds, and how far that
// is.
func (p *plan) nearest(at path.Point) (drift, float64) {
	t, along, dist := p.nearestEdge(at)
	if t == nil {
		return drift{}, dist
	}
	return t.at(along), dist
}

// nearestEdge returns the nearest place of the cut lines, or of the stitching
// lines where the place is on one or there is no cut line.
func (p *plan) nearestEdge(at path.Point) (edge *trail, along, dist float64) {
	dist = math.Inf(1)
	look := func(trails []*trail) {
		for _, t := range trails {
			if a, d := p.look(t, at); d < dist {
				edge, along, dist = t, a, d
			}
		}
	}
	look(p.edges)
	if dist > samePlace {
		cut, there, off := edge, along, dist
		dist = math.Inf(1)
		if look(p.seams); cut != nil && dist > samePlace {
			return cut, there, off
		}
	}
	return edge, along, dist
}

// between moves the vertices of a line in proportion between its stops.
func (p *plan) between(line int, t *trail) {
	vertices := p.lines[line].vertices
	for k := range vertices {
		if vertices[k].from == nil {
			vertices[k] = t.at(t.Stop(k))
		}
	}
}

// inside finds how a line moves that is no boundary.
func (p *plan) inside(line int, l plot.Line, t *trail) {
	d := &p.lines[line]
	if isNotch(l) && d.vertices[1].from == nil {
		p.notch(d, l)
		return
	}
	all, dist := drift{}, math.Inf(1)
	var stops []stop
	for k, v := range l.Path.V {
		if d.vertices[k].from == nil {
			there, off := p.nearest(v.Point)
			if l.Role == plot.Fold || off <= samePlace {
				d.vertices[k] = there
			}
			if off < dist {
				all, dist = there, off
			}
		}
		if d.vertices[k].from != nil && t != nil {
			stops = append(stops, stop{t.Stop(k), d.vertices[k].all()})
		}
	}
	switch {
	case len(stops) > 0:
		t.stops = stops
		t.sort()
		p.between(line, t)
	default:
		for k := range d.vertices {
			if d.vertices[k].from == nil {
				d.vertices[k] = all
			}
		}
	}
}

// isNotch reports whether the line is a notch at a place of an edge.
func isNotch(l plot.Line) bool {
	return (l.Role == plot.Notch || l.Role == plot.Clip) && len(l.Path.V) == 2 && !l.Path.Closed
}

// notch moves a notch with its place on the edge and turns it with the edge.
func (p *plan) notch(d *lineDrift, l plot.Line) {
	edge, along, dist := p.nearestEdge(l.Path.Start())
	if d.vertices[0].from == nil && edge != nil {
		d.vertices[0] = edge.at(along)
	}
	d.vertices[1] = d.vertices[0]
	if edge == nil || dist > samePlace {
		return
	}
	a, b := along-turnReach, along+turnReach
	if !edge.ring {
		a, b = max(a, 0), min(b, edge.Length())
	}
	wrapped := func(x float64) float64 { return math.Mod(x+edge.Length(), edge.Length()) }
	if edge.ring {
		a, b = wrapped(a), wrapped(b)
	}
	d.ahead = edge.At(b).Sub(edge.At(a))
	d.behind, d.before = edge.at(a), edge.at(b)
}

// line returns the line in the size.
func (d *lineDrift) line(l plot.Line, size int) plot.Line {
	v := slices.Clone(l.Path.V)
	for k := range v {
		v[k].Point = v[k].Add(d.vertices[k].in(size))
	}
	if d.ahead != (path.Vec{}) {
		turn := d.ahead.AngleTo(d.ahead.Add(d.before.in(size)).Sub(d.behind.in(size)))
		v[1].Point = v[0].Add(l.Path.V[1].Sub(l.Path.V[0].Point).Rotate(turn))
	}
	l.Path.V = v
	return l
}
