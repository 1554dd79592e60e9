package facing

import (
	"fmt"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// Truing is what walking along a joined seam finds: the sides of two pieces laid on
// each other from the hem up, and from their far ends down. The far end of a facing's side
// is at its inner edge. Lengths are mm; values that are compared are those of the
// seam's side A and of its side B.
type Truing struct {
	Seam fit.Seam
	Kind Kind
	// Lengths are those of the stitching lines of the two sides.
	Lengths [2]float64
	// Pairs are notches that meet, in order from the hem up, and Unmatched is how
	// many on each side meet none.
	Pairs     []NotchPair
	Unmatched [2]int
	// HemTurn is the angle by which the hem's stitching line turns at the join more
	// than where the motif has the same point in the panels' middle, positive
	// when it is hollow.
	HemTurn float64
	// HemStep is how much further down A's hem comes than B's when they are sewn from the
	// notches nearest the hem, from the far end when there are none. CutStep is how much
	// further down A's cut line comes to the stitching line of the side, laid corner on
	// corner.
	HemStep, CutStep float64
}

// NotchPair is two notches that meet, by their distances along the sides from the hem
// and from the far end.
type NotchPair struct{ FromHem, FromTop [2]float64 }

// Apart returns by how much the notches miss each other, from the end from which they
// meet better.
func (n NotchPair) Apart() float64 {
	return min(math.Abs(n.FromHem[0]-n.FromHem[1]), math.Abs(n.FromTop[0]-n.FromTop[1]))
}

// Difference returns by how much A's side is longer.
func (t Truing) Difference() float64 { return t.Lengths[0] - t.Lengths[1] }

// Worst returns the largest of what should be 0, in mm: the differences of the lengths,
// of the notches that meet, and the steps.
func (t Truing) Worst() float64 {
	worst := max(math.Abs(t.Difference()), math.Abs(t.HemStep), math.Abs(t.CutStep))
	for _, n := range t.Pairs {
		worst = max(worst, n.Apart())
	}
	return worst
}

// Verdict says how true a seam is.
type Verdict uint8

// The verdicts, by the worst that the seam differs by: good up to 1/16 in, tolerated up
// to 1/8 in ("10 Patternwork Skills", Threads 200, 2018).
const (
	Good Verdict = iota
	Tolerated
	Untrue
)

// String returns the verdict in a word.
func (v Verdict) String() string { return [...]string{"good", "tolerated", "untrue"}[min(v, Untrue)] }

// Verdict returns how true the seam is.
func (t Truing) Verdict() Verdict { return verdict(t.Worst()) }

func verdict(off float64) Verdict {
	switch {
	case off <= GoodSeam+slack:
		return Good
	case off <= ToleratedSeam+slack:
		return Tolerated
	}
	return Untrue
}

// flank returns the side of the piece beside an end of its hem.
func (p Piece) flank(e fit.End) flank {
	if e == fit.Start {
		return flank{path.NewRuler(p.Edges[len(p.Edges)-1].Net.Reverse())}
	}
	return flank{path.NewRuler(p.Edges[1].Net)}
}

// notchesFromHem returns the distances from the hem of the notches on a side, in order.
func (p Piece) notchesFromHem(e fit.End) []float64 {
	edge := 1
	if e == fit.Start {
		edge = len(p.Edges) - 1
	}
	length := p.Edges[edge].Net.Length()
	var all []float64
	for _, n := range p.Notches {
		if n.Edge == edge {
			at := n.At
			if e == fit.Start {
				at = length - at
			}
			all = append(all, at)
		}
	}
	slices.Sort(all)
	return all
}

// hemAngle returns the angle inside of the piece between its hem and a side.
func (p Piece) hemAngle(e fit.End) float64 {
	hem, up := p.Edges[0].Net, p.flank(e).up.TangentAt(0)
	angle := hem.StartTangent().AngleTo(up)
	if e == fit.Finish {
		angle = up.AngleTo(hem.EndTangent().Neg())
	}
	if angle < -math.Pi/2 {
		angle += 2 * math.Pi // a motif that leans out over the side's foot
	}
	return angle
}

// motifTurn returns by how much the hem turns, positive when it is hollow, at the valley or
// peak next to an end on which another one stands.
func (p Piece) motifTurn(f fit.Fitted, e fit.End, favour float64) (float64, bool) {
	places := f.Valleys
	switch f.Phases[e] {
	case fit.Peak:
		places = f.Peaks
	case fit.Plain:
		return 0, true
	}
	end := f.Edge.Start()
	if e == fit.Finish {
		end = f.Edge.End()
	}
	other := f.Edge.Start().Add(f.Edge.End().Sub(end)) // the hem's other end
	nearest, found := math.Inf(1), fit.Place{}
	for _, v := range places {
		if d := v.Point.Dist(end); d > joinGap && v.Point.Dist(other) > joinGap && d < nearest {
			nearest, found = d, v
		}
	}
	if math.IsInf(nearest, 1) {
		return 0, false
	}
	hem := p.Edges[0].Net
	if p.Kind == Facing {
		found.Point = found.Point.Add(found.Out.Mul(-favour))
	}
	// A tip that has been moved lies further off than by the favour, on the same axis.
	reach := 2*favour*path.DefaultMitreLimit + joinGap
	for i := 1; i < hem.Segments(); i++ {
		q := hem.Segment(i).A.Sub(found.Point)
		if math.Abs(q.Cross(found.Out)) < joinGap && math.Abs(q.Dot(found.Out)) < reach {
			return -path.Turn(hem.Segment(i-1), hem.Segment(i)), true
		}
	}
	return 0, true // within an arc or a line
}

// cutDepth returns how far beyond the corner, along the side, the hem's cut line comes to
// the side's stitching line.
func (p Piece) cutDepth(e fit.End) (float64, bool) {
	side := p.flank(e)
	corner, up := side.at(0), side.up.TangentAt(0)
	in := up.Left()
	if e == fit.Start {
		in = up.Right()
	}
	// A hair inside of the side, where a step along it does not count.
	box := p.Edges[0].Cut.Bounds().Grow(1)
	far := up.Mul(box.Width() + box.Height())
	from := corner.Add(in.Mul(joinGap))
	nearest, depth := math.Inf(1), 0.0
	for _, x := range p.Edges[0].Cut.Intersections(path.Open(from.Add(far.Neg()), from.Add(far))) {
		if d := x.Point.Dist(corner); d < nearest {
			nearest, depth = d, -x.Point.Sub(corner).Dot(up)
		}
	}
	return depth, !math.IsInf(nearest, 1)
}

// truings walks along the seams of the pieces, one for each panel.
func truings(r *fit.Result, pieces []Piece, favour float64) []Truing {
	var all []Truing
	for _, s := range r.Seams {
		refs := [2]fit.EndRef{s.Seam.A, s.Seam.B}
		t := Truing{Seam: s.Seam, Kind: pieces[refs[0].Panel].Kind}
		var notches [2][]float64
		var cuts [2]float64
		turn, crossed := -math.Pi, true
		var motif []float64
		for k, e := range refs {
			p := pieces[e.Panel]
			t.Lengths[k] = p.flank(e.End).up.Length()
			notches[k] = p.notchesFromHem(e.End)
			turn += p.hemAngle(e.End)
			if own, ok := p.motifTurn(r.Panels[e.Panel], e.End, favour); ok {
				motif = append(motif, own)
			}
			var ok bool
			cuts[k], ok = p.cutDepth(e.End)
			crossed = crossed && ok
		}
		t.HemTurn = s.HemTurn
		if len(motif) > 0 {
			t.HemTurn = 0
			for _, own := range motif { // at a cusp, a turn of pi is one of -pi
				t.HemTurn += math.Remainder(turn-own, 2*math.Pi) / float64(len(motif))
			}
		}
		t.pair(notches)
		t.HemStep = t.Difference()
		if len(t.Pairs) > 0 {
			t.HemStep = t.Pairs[0].FromHem[0] - t.Pairs[0].FromHem[1]
		}
		if crossed {
			t.CutStep = cuts[0] - cuts[1]
		}
		all = append(all, t)
	}
	return all
}

// pair finds which notches meet: each with the nearest of the other side that is not
// taken, from the hem or from the far end.
func (t *Truing) pair(notches [2][]float64) {
	taken := 0
	for _, a := range notches[0] {
		found := false
		best := NotchPair{}
		at := taken
		for i := taken; i < len(notches[1]); i++ {
			b := notches[1][i]
			n := NotchPair{FromHem: [2]float64{a, b}, FromTop: [2]float64{t.Lengths[0] - a, t.Lengths[1] - b}}
			if n.Apart() <= notchReach && (!found || n.Apart() < best.Apart()) {
				found, best, at = true, n, i
			}
		}
		if found {
			t.Pairs = append(t.Pairs, best)
			taken = at + 1
		}
	}
	t.Unmatched = [2]int{len(notches[0]) - len(t.Pairs), len(notches[1]) - len(t.Pairs)}
}

// equalSides makes the second facing of every seam as long at its side as the first, by
// moving its inner corner along the garment's side; the inner edge follows over twenty
// times as much. Where the garment's side ends before, nothing is moved.
func equalSides(r *fit.Result, garments, facings []Piece) {
	for _, s := range r.Seams {
		a, b := s.Seam.A, s.Seam.B
		p := &facings[b.Panel]
		want := facings[a.Panel].flank(a.End).up.Length()
		if a == b || math.Abs(want-p.flank(b.End).up.Length()) < path.Coincident {
			continue
		}
		side := garments[b.Panel].flank(b.End)
		hem := p.flank(b.End).up.At(0)
		from, _ := side.up.Nearest(hem)
		if from+want > side.up.Length() {
			continue
		}
		net := side.up.Sub(from, from+want)
		net.V[0].Point = hem
		inner := p.Edges[innerEdge].Net
		if b.End == fit.Finish {
			p.Edges[1].Net = net
			p.Edges[innerEdge].Net = withEnd(inner, fit.Start, net.End())
		} else {
			p.Edges[len(p.Edges)-1].Net = net.Reverse()
			p.Edges[innerEdge].Net = withEnd(inner, fit.Finish, net.End())
		}
	}
}

// warnTruing warns of seams that are not true. The lengths of garments' sides are told
// where the hem is fitted.
func (m *Made) warnTruing() {
	for _, t := range m.Truing {
		name := func(e fit.EndRef) string {
			p := m.Garments
			if t.Kind == Facing {
				p = m.Facings
			}
			return p[e.Panel].Name + " " + e.End.String()
		}
		warn := func(off float64, format string, args ...any) {
			code, level := "truing", fit.LevelNote
			switch verdict(off) {
			case Good:
				return
			case Untrue:
				code, level = "truing-error", fit.LevelWarning
			}
			m.Warnings = append(m.Warnings, fit.Warning{Code: code, Level: level,
				Message: fmt.Sprintf(format, args...) + fmt.Sprintf(" (up to %.1f mm is good, %.1f mm the most)", GoodSeam, ToleratedSeam),
				Where:   name(t.Seam.A) + ", " + name(t.Seam.B)})
		}
		if d := math.Abs(t.Difference()); t.Kind == Facing {
			warn(d, `the facings' joined sides differ by %.1f mm; have them corrected with "truing: correct" under facing`, d)
		}
		for i, n := range t.Pairs {
			warn(n.Apart(), "notch %d from the hem misses its pair by %.1f mm: it lies %.1f and %.1f mm up; move one of them", i+1, n.Apart(), n.FromHem[0], n.FromHem[1])
		}
		step := math.Abs(t.CutStep)
		warn(step, "the hem's cut lines come to the seam %.1f mm apart, as beside motifs that lean or repeats of different widths; let a peak stand on the seam, or leave a flat or a plain stretch beside it", step)
	}
}
