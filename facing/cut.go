package facing

import (
	"errors"
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// addCut fills in the cut line of every edge, whose nets form a closed,
// counter-clockwise chain. led says, by the index of an edge, what it is led on
// as beyond its start and its end; the others are led on along themselves.
func addCut(edges []Edge, led map[int][2]lead) error {
	n := len(edges)
	if n == 1 {
		return edges[0].moveClosed(path.Corner{})
	}
	moved := make([]*path.Ruler, n)
	for i, e := range edges {
		var err error
		beside := [2]float64{edges[(i+n-1)%n].Allowance, edges[(i+1)%n].Allowance}
		moved[i], err = moveEdge(e, max(beside[0], beside[1]), led[i], path.Corner{})
		if err == nil {
			moved[i], err = follow(moved[i], e, beside, led[i])
		}
		if err != nil {
			return fmt.Errorf("edge %d (%s): %w", i, e.Name, err)
		}
	}
	from, to := make([]float64, n), make([]float64, n)
	for i := range edges {
		j := (i + 1) % n
		pick := nearestCorner
		if _, ok := led[i]; ok {
			pick = lastOnSecond
		} else if _, ok := led[j]; ok {
			pick = firstOnFirst
		}
		var ok bool
		if to[i], from[j], ok = meet(moved[i], moved[j], edges[i].Net.End(), pick); !ok {
			// Cut lines that never meet, as beside an edge of another
			// allowance in the same line: a straight step between their ends.
			_, to[i] = besideEnds(moved[i], edges[i])
			from[j], _ = besideEnds(moved[j], edges[j])
		}
	}
	for i := range edges {
		if from[i] >= to[i] {
			return fmt.Errorf("edge %d (%s) vanishes: the allowances beside it, %.1f and %.1f mm, take up all of it",
				i, edges[i].Name, edges[(i+n-1)%n].Allowance, edges[(i+1)%n].Allowance)
		}
		edges[i].Cut = moved[i].Sub(from[i], to[i])
	}
	// Where two meet they share one point.
	for i := range edges {
		next := edges[(i+1)%n].Cut
		cut := edges[i].Cut
		if cut.End().Dist(next.Start()) <= joinGap {
			cut.V[len(cut.V)-1].Point = next.Start()
		} else {
			edges[i].Cut = path.Join(0, cut, path.Open(cut.End(), next.Start()))
		}
	}
	return nil
}

// moveEdge returns an edge moved outward by its allowance, negative inward. It
// is led on beyond both its ends, equally far and far enough to meet its
// neighbours moved by the allowance beside it. Corner is how it goes round its
// corners.
func moveEdge(e Edge, beside float64, led [2]lead, corner path.Corner) (*path.Ruler, error) {
	reach := math.Abs(e.Allowance) + beside
	head := led[0].beyond(e.Net.Reverse(), reach)
	tail := led[1].beyond(e.Net, reach)
	back, head := withoutLoop(e.Net.Reverse(), head)
	net, tail := withoutLoop(back.Reverse(), tail)
	head = head.Reverse()
	if length := net.Length(); net.Start().Dist(net.End()) < length/2 {
		return moveRound(head, path.NewRuler(net), tail, e.Allowance, corner)
	}
	return move(path.Join(path.Coincident, head, net, tail), e.Allowance, corner)
}

// withoutLoop returns the line and what follows on it without the loop that they make
// before the corner between them, where they cross: a tip that is not quite square to the
// side leans a little across its own mirror image there, and a loop has no allowance
// round it.
func withoutLoop(line, next path.Path) (path.Path, path.Path) {
	a, b := path.NewRuler(line), path.NewRuler(next)
	near := min(loopReach, a.Length()/2, b.Length()/2)
	last, first := path.NewRuler(a.Sub(a.Length()-near, a.Length())), path.NewRuler(b.Sub(0, near))
	to, from := near, 0.0
	for _, x := range last.Path().Intersections(first.Path()) {
		if along := distance(last, x.I, x.T); !x.Overlap && along < to-path.Coincident {
			to, from = along, distance(first, x.J, x.U)
		}
	}
	if from == 0 {
		return line, next
	}
	return a.Sub(0, a.Length()-near+to), b.Sub(from, b.Length())
}

// moveClosed fills in the cut line of a closed edge: the largest line that is left
// where it is moved outward by its allowance. Corner is how it goes round its
// corners.
func (e *Edge) moveClosed(corner path.Corner) error {
	e.Cut = e.Net
	if e.Allowance == 0 {
		return nil
	}
	parts, err := e.Net.Offset(e.Allowance, corner)
	if err != nil {
		return fmt.Errorf("edge %s: %w", e.Name, err)
	}
	most := 0.0
	for _, p := range parts {
		if l := p.Length(); p.Closed && l > most {
			e.Cut, most = p, l
		}
	}
	if most == 0 {
		return fmt.Errorf("edge %s: nothing is left of it when it is moved by %.2f mm", e.Name, e.Allowance)
	}
	return nil
}

// besideEnds returns the distances along a moved edge beside its own ends,
// square to them.
func besideEnds(moved *path.Ruler, e Edge) (start, finish float64) {
	nearest := func(from, to float64, q path.Point, along path.Vec) float64 {
		d, _ := path.NewRuler(moved.Sub(from, to)).Nearest(q.Add(along.Right().Mul(e.Allowance)))
		return from + d
	}
	half := moved.Length() / 2
	return nearest(0, half, e.Net.Start(), e.Net.StartTangent()),
		nearest(half, 2*half, e.Net.End(), e.Net.EndTangent())
}

// follow gives a moved edge, beyond the sides where it follows another piece,
// the very cut line of that piece, and beyond all sides the end that is chosen.
// Where repeats of two widths meet, the lines that are moved from them come to the
// seam at heights of their own; the difference is a step along the stitching line of
// the side.
func follow(moved *path.Ruler, e Edge, beside [2]float64, led [2]lead) (*path.Ruler, error) {
	for end, l := range led {
		if len(l.own.line.V) == 0 || l.first == nil && l.ends == Mirrored || beside[end] == 0 {
			continue
		}
		from := l.own
		if l.first != nil {
			from = *l.first
		}
		beyond, err := from.cut(e.Allowance, e.Allowance+beside[end], l.ends)
		if err != nil {
			return nil, err
		}
		if l.first != nil {
			beyond = beyond.Transform(l.first.carry(l.own))
		}
		at, up := beyond.Start(), l.own.up
		box := moved.Path().Bounds().Union(beyond.Bounds())
		far := up.Mul(box.Width() + box.Height() + 1)
		nearest, on := math.Inf(1), 0.0
		for _, x := range moved.Path().Intersections(path.Open(at.Add(far.Neg()), at.Add(far))) {
			along := distance(moved, x.I, x.T)
			if d := x.Point.Dist(at); d < nearest && (along > moved.Length()/2) == (end == 1) {
				nearest, on = d, along
			}
		}
		switch {
		case math.IsInf(nearest, 1):
			return nil, errors.New("moved by its allowance, it does not reach its sides")
		case end == 0:
			moved = path.NewRuler(path.Join(path.Coincident, beyond.Reverse(), moved.Sub(on, moved.Length())))
		default:
			moved = path.NewRuler(path.Join(path.Coincident, moved.Sub(0, on), beyond))
		}
	}
	return moved, nil
}

// distance returns the distance along the line of a place on one of its
// segments.
func distance(line *path.Ruler, segment int, t float64) float64 {
	from := line.Stop(segment)
	return from + t*(line.Stop(segment+1)-from)
}

// moveRound moves an edge that comes back to near its start, as the hem of a
// full circle, and whose head therefore lies beside its end: the first three
// quarters with the head and the last three with the tail, joined in the
// middle, where the two are the same.
func moveRound(head path.Path, net *path.Ruler, tail path.Path, by float64, corner path.Corner) (*path.Ruler, error) {
	length := net.Length()
	first, err := move(path.Join(path.Coincident, head, net.Sub(0, (1-roundShare)*length)), by, corner)
	if err != nil {
		return nil, err
	}
	second, err := move(path.Join(path.Coincident, net.Sub(roundShare*length, length), tail), by, corner)
	if err != nil {
		return nil, err
	}
	for i := range roundPlaces {
		at := length * (0.45 + 0.1*float64(i)/roundPlaces)
		q := net.At(at).Add(net.TangentAt(at).Right().Mul(by))
		a, offA := first.Nearest(q)
		b, offB := second.Nearest(q)
		if offA < path.Coincident && offB < path.Coincident {
			return path.NewRuler(path.Join(path.Coincident, first.Sub(0, a), second.Sub(b, second.Length()))), nil
		}
	}
	return nil, fmt.Errorf("nothing is left of its middle when it is moved by %.2f mm", by)
}

// move returns an open chain moved to its right, the longest part that is left.
// Closed ones are pockets between lobes that the edge closes in.
func move(chain path.Path, by float64, corner path.Corner) (*path.Ruler, error) {
	if by == 0 {
		return path.NewRuler(chain), nil
	}
	parts, err := chain.Offset(by, corner)
	if err != nil {
		return nil, err
	}
	var best path.Path
	most := 0.0
	for _, p := range parts {
		if l := p.Length(); !p.Closed && l > most {
			best, most = p, l
		}
	}
	if most == 0 {
		return nil, fmt.Errorf("nothing is left of it when it is moved by %.2f mm", by)
	}
	return path.NewRuler(best), nil
}

// ending is where an edge comes to a side: the edge, run towards the corner,
// and the direction of the side there from the hem up. End is that of the hem
// which the side is at.
type ending struct {
	line path.Path
	up   path.Vec
	end  fit.End
	// right says that the line, so run, has the outside of the piece on its
	// right.
	right bool
}

// ending returns how the hem, or else the inner edge of a facing, comes to the
// side at the end.
func (p Piece) ending(inner bool, end fit.End) ending {
	side := p.Edges[1].Net // run up from the hem
	if end == fit.Start {
		side = p.Edges[len(p.Edges)-1].Net.Reverse()
	}
	line, up := p.Edges[0].Net, side.StartTangent()
	if inner {
		line, up = p.Edges[innerEdge].Net, side.EndTangent()
	}
	right := inner == (end == fit.Start)
	if !right {
		line = line.Reverse()
	}
	return ending{line, up, end, right}
}

// carry returns the motion that lays the ending's corner and side on those of
// another, what is inside its piece on what is inside the other's.
func (e ending) carry(to ending) path.Similarity {
	at := e.line.End()
	m := path.Translation(path.Vec{})
	if e.end != to.end {
		m = path.Reflection(at, e.up)
	}
	return m.Then(path.Rotation(at, e.up.AngleTo(to.up))).Then(path.Translation(to.line.End().Sub(at)))
}

// cut returns the cut line in the allowance beyond the side, from the side on:
// the edge and its mirror image, moved outward, are alike on both of its sides. Other
// ends run out square from there.
func (e ending) cut(allowance, reach float64, ends Ends) (path.Path, error) {
	by := allowance
	if !e.right {
		by = -by
	}
	line, image := withoutLoop(e.mirrored(reach))
	moved, err := move(path.Join(path.Coincident, line, image), by, path.Corner{})
	if err != nil {
		return path.Path{}, err
	}
	middle := moved.Length() / 2
	if ends == Mirrored {
		return moved.Sub(middle, moved.Length()), nil
	}
	from := moved.At(middle)
	if ends == Stepped {
		// The step from where the cut line comes to the side is left to whoever joins the two.
		down := e.up
		if from.Sub(e.line.End()).Dot(e.up) < 0 {
			down = down.Neg()
		}
		from = e.line.End().Add(down.Mul(allowance))
	}
	out := e.up.Right()
	if e.end == fit.Start {
		out = e.up.Left()
	}
	return path.Open(from, from.Add(out.Mul(2*reach+1))), nil
}

// mirrored returns as much of the line as lies within reach mm of the line of
// the side, and its mirror image there, run on from the corner. A motif that is wider
// than its foot comes back to within reach; beyond the middle of the line it is the
// line's other end that does.
func (e ending) mirrored(reach float64) (near, image path.Path) {
	// The line can be one arc from one side to the other, or come back to the
	// side at its other end.
	r := path.NewRuler(e.line)
	at := e.line.End()
	last := 0.0 // how far back along the line it is within reach
	for back := reachStep; back < r.Length(); back += reachStep {
		off := math.Abs(r.At(r.Length() - back).Sub(at).Cross(e.up))
		if off <= reach {
			last = back
		}
		if off > reach+overhang || off > reach && back > r.Length()/2 {
			break
		}
	}
	near = r.Sub(max(0, r.Length()-last-(reach+1)/2), r.Length())
	return near, near.Transform(path.Reflection(at, e.up)).Reverse()
}

// lead says how an edge goes on beyond a side: as its own mirror image, so that
// an allowance pressed open lies on its piece edge on edge. Of two joined edges,
// whose repeats may differ in width, the second has the cut line of the first in
// the allowance, so that sewn they do too. The zero lead is on along
// the edge's own last line or circle.
type lead struct {
	own   ending
	first *ending
	ends  Ends
}

// beyond returns what follows the edge, which ends at the corner, as far as
// reach mm to the side of the line of the side.
func (l lead) beyond(edge path.Path, reach float64) path.Path {
	if len(l.own.line.V) == 0 {
		last := path.FromSegments(edge.Segment(edge.Segments() - 1))
		longer := last.LeadOn(reach)
		// A slanting neighbour is met farther on. Straight, so that the ends of an
		// edge of half a circle keep clear of one another.
		far := path.Open(longer.End(), longer.End().Add(longer.EndTangent().Mul(7*reach+1)))
		r := path.NewRuler(path.Join(path.Coincident, longer, far))
		return r.Sub(last.Length(), r.Length())
	}
	_, image := l.own.mirrored(reach)
	return image
}

// leads returns, for each piece and by the index of the edge, how the hem and
// the inner edge go on beyond their start and their end.
func leads(pieces []Piece, seams []fit.SeamReport, ends Ends) []map[int][2]lead {
	firsts := map[fit.EndRef]fit.EndRef{}
	for _, s := range seams {
		if s.Seam.A != s.Seam.B {
			firsts[s.Seam.B] = s.Seam.A
		}
	}
	of := func(i int, inner bool, end fit.End) lead {
		l := lead{own: pieces[i].ending(inner, end), ends: ends}
		if f, ok := firsts[fit.EndRef{Panel: i, End: end}]; ok {
			first := pieces[f.Panel].ending(inner, f.End)
			l.first = &first
		}
		return l
	}
	led := make([]map[int][2]lead, len(pieces))
	for i, p := range pieces {
		if p.round() {
			continue
		}
		led[i] = map[int][2]lead{0: {of(i, false, fit.Start), of(i, false, fit.Finish)}}
		if p.Kind == Facing {
			led[i][innerEdge] = [2]lead{of(i, true, fit.Finish), of(i, true, fit.Start)}
		}
	}
	return led
}

// Ends says how the cut line of a hem, or of a facing's inner edge, ends in the
// allowance beyond a side's stitching line. Inside of the stitching line it is the same.
type Ends uint8

// The ways to end an allowance.
const (
	// Mirrored ends are the edge's mirror image in the side: pressed open, the
	// allowance lies on its piece edge on edge.
	Mirrored Ends = iota
	// Squared ends run straight out, square to the side, from where the cut line comes
	// to it. They suit a seam that is pressed open and a side that is square to the
	// hem (from memory).
	Squared
	// Stepped ends run out square at the edge's own allowance from the corner of the
	// stitching lines. In a valley, where the cut line comes to the side further
	// out, it goes back to there in a step along the side's stitching line, so that
	// nothing sticks out.
	Stepped
)

// pick chooses among the places where two moved edges meet; it reports whether
// the distances a, b along the two are better than those before.
type pick func(a, b, oldA, oldB, off, oldOff float64) bool

func nearestCorner(_, _, _, _, off, oldOff float64) bool { return off < oldOff }

// firstOnFirst takes the meeting that comes first along the first edge: a side
// that runs down to a mirrored hem ends where it first meets it.
func firstOnFirst(a, _, oldA, _, _, _ float64) bool { return a < oldA }

// lastOnSecond takes the meeting that comes last along the second edge.
func lastOnSecond(_, b, _, oldB, _, _ float64) bool { return b > oldB }

// meet returns the distances along two moved edges at which they meet beside
// the corner. A meeting of the latter half of the first with the former half of
// the second goes before others: where edges come back to near their starts,
// those are beside another corner.
func meet(a, b *path.Ruler, corner path.Point, better pick) (alongA, alongB float64, ok bool) {
	var off float64
	var halves bool
	for _, x := range a.Path().Intersections(b.Path()) {
		sa, sb := distance(a, x.I, x.T), distance(b, x.J, x.U)
		o, h := x.Point.Dist(corner), sa > a.Length()/2 && sb < b.Length()/2
		if !ok || h && !halves || h == halves && better(sa, sb, alongA, alongB, o, off) {
			alongA, alongB, off, halves, ok = sa, sb, o, h, true
		}
	}
	return alongA, alongB, ok
}
