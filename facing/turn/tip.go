package turn

import (
	"math"

	"engrail/motif/path"
)

// addTip notes a tip: a corner, or arcs that are too tight for Vs.
func (p *Plan) addTip(bits []bit) {
	r := run{bits: bits}
	for _, b := range bits {
		r.total += b.turn
	}
	at, out := p.bisector(r.at(r.total / 2))
	p.Tips = append(p.Tips, Tip{From: bits[0].from, To: bits[len(bits)-1].to, Turn: r.total, at: at, out: out})
}

// trimTips finds for every tip where its turned sides meet, and from there the line that
// trims it. Sides that do not meet before the next tip or valley are narrow.
func (p *Plan) trimTips() {
	length := p.w.ruler.Length()
	ends := func(i int) (lo, hi float64) {
		lo, hi = 0, length
		t := p.Tips[i]
		if i > 0 {
			lo = (p.Tips[i-1].To + t.From) / 2
		}
		if i < len(p.Tips)-1 {
			hi = (p.Tips[i+1].From + t.To) / 2
		}
		if p.w.net.Closed { // round to the tip at the other end
			if i == 0 {
				lo = (p.Tips[len(p.Tips)-1].To - length + t.From) / 2
			}
			if i == len(p.Tips)-1 {
				hi = (p.Tips[0].From + length + t.To) / 2
			}
		}
		return lo, hi
	}
	k := 0 // the first slit or V that is not before the tip
	for i := range p.Tips {
		t := &p.Tips[i]
		lo, hi := ends(i)
		for k < len(p.Snips) && p.Snips[k].At < t.From {
			k++
		}
		if k > 0 {
			lo = max(lo, p.Snips[k-1].At)
		}
		if k < len(p.Snips) {
			hi = min(hi, p.Snips[k].At)
		}
		before, fits0 := p.meets(t, t.From, lo)
		after, fits1 := p.meets(t, t.To, hi)
		t.legs = [2]float64{before, after}
		if fits := max(fits0, fits1); fits < p.Options.Allowance {
			p.Narrow = append(p.Narrow, Narrow{At: (t.From+t.To)/2 + p.shift, Fits: fits})
		}
		if t.Line = p.trim(t); len(t.Line.V) == 0 {
			for _, round := range p.trimLines(ordered([]stretch{{from: t.From, to: t.To, width: max(p.Options.Gap, leastGap)}})) {
				if p.clear(t, round.Line) { // of a barb beside which the allowance is narrower, it is not
					t.Line = round.Line
				}
			}
		}
	}
}

// depth returns how far from the net line at a place, into the garment along its normal, the axis of
// the tip is; +Inf where it is never met.
func (p *Plan) depth(t *Tip, s float64) float64 {
	q, out, _ := p.w.place(s)
	in := out.Neg()
	across := in.Cross(t.out)
	off := t.at.Sub(q).Cross(t.out)
	if off*across <= 0 {
		return math.Inf(1)
	}
	return off / across
}

// meets walks from one end of the tip to the limit and returns where the turned edge
// comes to the axis of the tip; and the widest allowance that would on the way, which
// is the allowance itself when it does.
func (p *Plan) meets(t *Tip, from, limit float64) (at, fits float64) {
	a := p.Options.Allowance
	step := walkStep
	if limit < from {
		step = -step
	}
	// Beside the tip, not on it.
	last := from + math.Copysign(placeTolerance, step)
	for s := last; ; s += step {
		end := (limit-s)*step <= 0
		if end {
			s = limit - math.Copysign(placeTolerance, step)
			if (s-from)*step <= 0 {
				return from, fits
			}
		}
		d := p.depth(t, s)
		if math.IsInf(d, 1) && s == last {
			d = 0 // on the arc that is the tip, all normals meet in its centre
		}
		if d >= a {
			lo, hi := last, s
			for math.Abs(hi-lo) > placeTolerance {
				if m := (lo + hi) / 2; p.depth(t, m) >= a {
					hi = m
				} else {
					lo = m
				}
			}
			return hi, a
		}
		fits = max(fits, d)
		if end {
			return s, fits
		}
		last = s
	}
}

// trim returns the line that trims the tip: across the axis, a gap beyond the tip,
// and on both sides, where that leaves more than meets when it is turned, to
// where it does. It keeps a circle round the tip of its radius and the gap.
func (p *Plan) trim(t *Tip) path.Path {
	o := p.Options
	radius := 0.0
	if t.To > t.From {
		_, _, i := p.w.place((t.From + t.To) / 2)
		if k := p.w.net.Segment(i).Curvature(); k > 0 {
			radius = 1 / k
		}
	}
	centre := t.at.Add(t.out.Mul(-radius))
	keep := radius + o.Gap
	top := centre.Add(t.out.Mul(keep))
	_, _, hint := p.w.place((t.From + t.To) / 2)
	line := path.Path{}
	var halves [2][]path.Point
	for e, along := range [2]path.Vec{t.out.Right(), t.out.Left()} {
		q, out, _ := p.w.place(t.legs[e])
		end := q.Add(out.Mul(o.Allowance))
		if h := p.w.height(t.legs[e]); h < o.Allowance {
			end = q.Add(out.Mul(h))
		}
		v := end.Sub(centre)
		if v.Dot(t.out) >= keep {
			hit, ok := p.w.hit(top, along, reaches*o.Allowance, p.w.beside[hint])
			if !ok {
				return line
			}
			halves[e] = []path.Point{hit}
			continue
		}
		// The tangent from the end to the circle meets the line across at the corner of
		// the two, seen from the centre half-way between their feet.
		d := v.Len()
		if d <= keep {
			return line
		}
		angle := math.Acos(keep / d) // from the end's direction to the foot
		foot := v.Unit().Rotate(angle)
		if other := v.Unit().Rotate(-angle); other.Dot(t.out) > foot.Dot(t.out) {
			foot = other
		}
		half := t.out.AngleTo(foot) / 2
		if math.Abs(half) > math.Pi/4 {
			return line
		}
		corner := centre.Add(t.out.Rotate(half).Mul(keep / math.Cos(half)))
		halves[e] = []path.Point{end, corner}
		if corner.Sub(top).Dot(along) < 0 {
			// The two tapers meet before the line across.
			halves[e] = []path.Point{end, top}
		}
	}
	points := append([]path.Point{}, halves[0]...)
	for i := len(halves[1]) - 1; i >= 0; i-- {
		points = append(points, halves[1][i])
	}
	line = path.Open(points...)
	if !p.clear(t, line) {
		return path.Path{}
	}
	return line
}

// clear reports whether the line keeps away from the net line beside the tip, and
// within the allowance.
func (p *Plan) clear(t *Tip, line path.Path) bool {
	i, _ := p.w.ruler.Find((t.From + t.To) / 2)
	for k := range line.Segments() {
		n := int(math.Ceil(line.Segment(k).Length()/walkStep)) + 1
		for m := range n + 1 {
			q, off := line.Segment(k).At(float64(m)/float64(n)), math.Inf(1)
			for j := max(0, i-lookAround); j < min(p.w.net.Segments(), i+lookAround+1); j++ {
				_, d := p.w.net.Segment(j).Nearest(q)
				off = min(off, d)
			}
			if off > strays*p.Options.Allowance || off < keepsClear*p.Options.Gap {
				return false
			}
		}
	}
	from, to := t.legs[0], t.legs[1]
	n := int(math.Ceil((to-from)/walkStep)) + 1
	for i := range n + 1 {
		q, _, _ := p.w.place(from + (to-from)*float64(i)/float64(n))
		for k := range line.Segments() {
			if _, d := line.Segment(k).Nearest(q); d < keepsClear*p.Options.Gap {
				return false
			}
		}
	}
	return true
}

// findNarrowValleys finds valleys with no place beside them, up to the middle between two,
// where the whole allowance is.
func (p *Plan) findNarrowValleys(held []*holding) {
	w := p.w
	for i, h := range held {
		for _, side := range [2]float64{-1, 1} {
			k := i + int(side)
			if k < 0 || k >= len(held) {
				continue // a part of a motif at an end tells nothing
			}
			far := (held[k].at + h.at) / 2
			if w.anyFull(min(h.at, far), max(h.at, far)) {
				continue
			}
			most := 0.0
			for s := h.at; (far-s)*side >= 0; s += side * walkStep {
				most = max(most, w.height(s))
			}
			p.Narrow = append(p.Narrow, Narrow{At: h.at + p.shift, Valley: true, Fits: most})
			break
		}
	}
}

// anyFull reports whether the whole allowance is anywhere between two places.
func (w *walk) anyFull(from, to float64) bool {
	i, _ := w.ruler.Find(from)
	for ; i < len(w.full) && w.ruler.Stop(i) < to; i++ {
		if max(from, w.full[i][0]) < min(to, w.full[i][1]) {
			return true
		}
	}
	return false
}
