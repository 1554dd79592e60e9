package turn

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// Trim is where the allowance is trimmed narrower: on outward curves that are too tight
// or too short for Vs in the whole of it.
type Trim struct {
	// From and To are its ends along the net line, with the ways out to the cut edge.
	From, To float64
	// Width is how narrow the allowance becomes at the least, and Left the extra edge that
	// stays in one place: more than a fullness below 1 mm, where that cannot be kept.
	Width, Left float64
	// Line runs in the direction of the net line, from the cut edge, or from the slit of
	// a valley, to another; at an end of the net line it ends in the seam there.
	Line path.Path
}

// cell is a part of the turn of an outward curve: as much as one V takes, what lies without
// one, or a tip.
type cell struct {
	turned   [2]float64 // of its run
	from, to float64    // along the net line
	turn     float64    // of it, what has the whole allowance
	snip     int        // its V, or noV or aTip
}

const (
	noV  = -1
	aTip = -2
)

// cell returns a part of the run's turn, without a V.
func (r *run) cell(from, to float64) cell {
	c := cell{turn: to - from, snip: noV}
	c.from, c.turned[0] = r.locate(from, false)
	c.to, c.turned[1] = r.locate(to, true)
	return c
}

// locate returns where along the net line this part of a run has turned by so much, and
// what the run has turned there. Of a joint it is the end, or where the next bit starts.
func (r *run) locate(turned float64, end bool) (along, before float64) {
	for k, b := range r.bits {
		if turned < b.turn-rounding || end && turned <= b.turn+rounding || k == len(r.bits)-1 {
			share := min(1, turned/b.turn)
			return b.from + (b.to-b.from)*share, b.before + b.turn*share
		}
		turned -= b.turn
	}
	return 0, 0
}

// place is a stretch of an outward curve in which what is too much stays together: that
// of one V, or what lies without one between Vs, or straights as long as a bridge.
type place struct {
	from, to, turn float64
	snip           int // or noV
}

// places returns those of the run, in order.
func (r *run) places(bridge float64) []place {
	var all []place
	last := aTip
	for _, c := range r.cells {
		switch n := len(all) - 1; {
		case c.snip == noV && last == noV && c.from-all[n].to < bridge:
			all[n].to, all[n].turn = c.to, all[n].turn+c.turn
		case c.snip != aTip:
			all = append(all, place{c.from, c.to, c.turn, c.snip})
		}
		last = c.snip
	}
	return all
}

// within returns the parts of the run's bits between two places.
func (r *run) within(from, to float64) (bits []bit, turn float64) {
	for _, b := range r.bits {
		lo, hi := max(b.from, from), min(b.to, to)
		if lo < hi || b.from == b.to && lo == hi {
			if b.from < b.to {
				b.before += b.turn * (lo - b.from) / (b.to - b.from)
				b.turn *= (hi - lo) / (b.to - b.from)
				b.from, b.to = lo, hi
			}
			bits, turn = append(bits, b), turn+b.turn
		}
	}
	return bits, turn
}

// sharpest returns the most that a run turns within a length of a place, and where.
func (r *run) sharpest(x place, length float64) (most, from, to float64) {
	for _, b := range r.bits {
		if b.to < x.from || b.from > x.to {
			continue
		}
		first, last := max(b.from, x.from), min(b.to, x.to)
		for _, w := range [2][2]float64{{first, first + length}, {last - length, last}} {
			lo, hi := max(w[0], x.from), min(w[1], x.to)
			if _, turn := r.within(lo, hi); turn > most {
				most, from, to = turn, lo, hi
			}
		}
	}
	return min(most, x.turn), from, to
}

// stays returns the extra edge of a place without a V for each mm of the allowance's
// width: that of what turns by as much as a V at the gap takes, or of a bridge's length,
// where that turns by more.
func (p *Plan) stays(r *run, x place) float64 {
	o := p.Options
	sharpest, _, _ := r.sharpest(x, o.Bridge)
	return 2 * min(x.turn, max(o.Fullness/(2*max(o.Gap, leastGap)), sharpest))
}

// blunt makes tips of what turns as much within the length of a bridge, such as a point cut
// off flat, in places without a V.
func (p *Plan) blunt(r *run) {
	for _, x := range r.places(p.Options.Bridge) {
		turn, from, to := r.sharpest(x, p.Options.Bridge)
		if x.snip != noV || turn < tipTurn {
			continue
		}
		bits, _ := r.within(from, to)
		p.addTip(bits)
		from, to = bits[0].from, bits[len(bits)-1].to
		part := func(from, to float64, snip int) []cell {
			bits, turn := r.within(from, to)
			if turn == 0 {
				return nil
			}
			c := (&run{bits: bits}).cell(0, turn)
			c.snip = snip
			return []cell{c}
		}
		i := slices.IndexFunc(r.cells, func(c cell) bool { return c.snip == noV && c.from >= x.from })
		n := 1
		for i+n < len(r.cells) && r.cells[i+n].snip == noV && r.cells[i+n].to <= x.to {
			n++
		}
		r.cells = slices.Replace(r.cells, i, i+n, slices.Concat(
			part(x.from, from-placeTolerance, noV), part(from, to, aTip), part(to+placeTolerance, x.to, noV))...)
		p.blunt(r)
		return
	}
}

// stretch is a part of the net line beside which the allowance is trimmed to a width.
type stretch struct {
	from, to, width float64
	left            float64 // the extra edge that stays
	reach           float64 // the farthest end of all up to it
}

// ordered puts stretches in order.
func ordered(all []stretch) []stretch {
	slices.SortStableFunc(all, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	reach := math.Inf(-1)
	for i := range all {
		reach = max(reach, all[i].to)
		all[i].reach = reach
	}
	return all
}

// narrow trims the allowance of places without a V to a width that keeps the fullness,
// and leaves out Vs for which that has no room, until all others have some.
func (p *Plan) narrow() {
	o := p.Options
	for {
		p.trimmed = p.trimmed[:0]
		for i := range p.runs {
			p.blunt(&p.runs[i])
			for _, x := range p.runs[i].places(o.Bridge) {
				t := stretch{from: x.from, to: x.to, width: o.Allowance}
				if x.snip >= 0 {
					v := p.Snips[x.snip]
					t = stretch{from: min(t.from, v.mouth[0]), to: max(t.to, v.mouth[1]), width: v.Edge, left: v.Left}
				} else if stays := p.stays(&p.runs[i], x); stays*o.Allowance > o.Fullness {
					t.width = max(leastGap, o.Fullness/stays)
					t.left = t.width * stays
				}
				if t.width < o.Allowance {
					p.trimmed = append(p.trimmed, t)
				}
			}
		}
		p.trimmed = ordered(p.trimmed)
		var kept []int
		for i, s := range p.Snips {
			if s.Kind != V || p.width(p.trimmed, s.At) >= min(s.Gap+leastSnip, s.Edge) {
				kept = append(kept, i)
			}
		}
		if len(kept) == len(p.Snips) {
			break
		}
		p.keep(kept)
	}
	p.Trims = p.trimLines(p.trimmed)
}

// width returns how wide the stretches, in order, leave the allowance beside a place. They
// lead out at 45 degrees.
func (p *Plan) width(all []stretch, s float64) float64 {
	a, length := p.w.a, p.w.ruler.Length()
	least := a
	look := func(s float64) {
		k, _ := slices.BinarySearchFunc(all, s+a, func(x stretch, s float64) int { return cmp.Compare(x.from, s) })
		for _, x := range slices.Backward(all[:k]) {
			if x.reach < s-a {
				break
			}
			least = min(least, x.width+max(0, x.from-s, s-x.to))
		}
	}
	look(s)
	if p.w.net.Closed {
		look(s - length)
		look(s + length)
	}
	return least
}

// trimLines draws the lines along stretches, in order; those that meet are one.
func (p *Plan) trimLines(all []stretch) []Trim {
	var list []Trim
	var first []int // the first stretch of each
	for i, x := range all {
		from, to := p.leads(all, x.to, x.from, -1), p.leads(all, x.from, x.to, 1)
		// What a neighbour's way out leaves may be less, if it ended before.
		width := min(x.width, p.width(all, from), p.width(all, to))
		if n := len(list) - 1; n >= 0 && from <= list[n].To {
			list[n].To, list[n].Width, list[n].Left = max(to, list[n].To), min(width, list[n].Width), max(x.left, list[n].Left)
			continue
		}
		list, first = append(list, Trim{From: from, To: to, Width: width, Left: x.left}), append(first, i)
	}
	first = append(first, len(all))
	for i := range list {
		t := &list[i]
		t.Line = p.trimLine(all, all[first[i]:first[i+1]], t.From, t.To)
		t.From, t.To = t.From+p.shift, t.To+p.shift
	}
	return list
}

// leads walks from the far end s of a stretch, in the direction, to where its line leaves
// the allowance. The bottom of a blunt inward corner does not stop it.
func (p *Plan) leads(all []stretch, near, s, direction float64) float64 {
	least, most := 0.0, p.w.ruler.Length()
	if p.w.net.Closed {
		least, most = -most, 2*most
	}
	ends := func(s float64) bool { return p.width(all, s) >= p.w.height(s)-onCut }
	for (s-near)*direction > trimWalk && ends(s) {
		s -= direction * trimWalk
	}
	inside := s
	for out := 0.0; out < bluntDip; {
		if s <= least || s >= most {
			if out == 0 {
				return s
			}
			break
		}
		s = min(max(s+direction*trimWalk, least), most)
		inward := -direction * p.w.ruler.TangentAt(inside).AngleTo(p.w.ruler.TangentAt(s))
		if ends(s) {
			out += trimWalk
			if inward > valleyTurn {
				break
			}
			continue
		}
		if out > 0 && inward < smooth {
			break // it is another part of the net line that was near
		}
		inside, out = s, 0
	}
	lo, hi := inside, inside+direction*trimWalk
	for math.Abs(hi-lo) > placeTolerance {
		if m := (lo + hi) / 2; ends(m) {
			hi = m
		} else {
			lo = m
		}
	}
	return min(max(hi, least), most)
}

// trimLine draws the line at the width of stretches between two places; inside are the
// stretches there. Along them it has arcs beside arcs; on the ways out chords.
func (p *Plan) trimLine(all, inside []stretch, from, to float64) path.Path {
	w := p.w
	var line path.Path
	add := func(q path.Point) {
		if n := len(line.V); n > 0 && line.V[n-1].Point.Dist(q) < onRay {
			return
		}
		line.V = append(line.V, path.Vertex{Point: q})
	}
	skip := false // the next point, to which another side is nearer
	n, length := w.net.Segments(), w.ruler.Length()
	i, _ := w.ruler.Find(from)
	first := 0.0 // where the net line starts, on a closed one the time round
	if w.net.Closed {
		first = math.Floor(from/length) * length
	}
	for ; i < n || w.net.Closed; i++ {
		if i == n {
			i, first = 0, first+length
		}
		g := w.net.Segment(i)
		start, end := first+w.ruler.Stop(i), first+w.ruler.Stop(i+1)
		if start >= to && i > 0 {
			break
		}
		at := func(s float64) path.Point {
			t := 0.0
			if end > start {
				t = (s - start) / (end - start)
			}
			return g.At(t).Add(g.TangentAt(t).Right().Mul(p.width(all, s)))
		}
		if turn := w.corner[i]; start > from && turn != 0 && len(line.V) > 0 {
			if turn > 0 {
				// Round the corner, as far as the allowance of no other side is nearer.
				b := p.width(all, start)
				out := g.StartTangent().Right().Rotate(-turn)
				before, after := w.clearRound(g.A, out, turn, b)
				if before > 0 {
					line.V = line.V[:len(line.V)-1]
					if m := (from + start) / 2; start-from < bluntDip && p.width(all, m) >= w.height(m)-onCut {
						line.V = line.V[:0] // nothing of it before the corner
					}
					add(g.A.Add(out.Rotate(before).Mul(b)))
				}
				line.V[len(line.V)-1].Bulge = math.Tan((after - before) / 4)
				if after < turn {
					add(g.A.Add(out.Rotate(after).Mul(b)))
					skip = true
				}
			} else {
				// The two sides meet on the bisector.
				_, out := p.bisector(w.ruler.Stop(i))
				line.V = line.V[:len(line.V)-1]
				add(g.A.Add(out.Mul(p.width(all, start) / math.Cos(turn/2))))
			}
		}
		var run func(s0, s1 float64)
		run = func(s0, s1 float64) {
			middle := (s0 + s1) / 2
			w0, w1, mid := p.width(all, s0), p.width(all, s1), p.width(all, middle)
			level := math.Abs(w0-w1) < onRay && math.Abs(mid-w0) < onRay
			straight := math.Abs(mid-(w0+w1)/2) < onRay && at(middle).Dist(at(s0).Lerp(at(s1), 0.5)) < onCut
			if !level && !straight && s1-s0 > trimWalk {
				run(s0, middle)
				run(middle, s1)
				return
			}
			if !skip {
				add(at(s0))
			}
			skip = false
			if level && end > start {
				line.V[len(line.V)-1].Bulge = math.Tan(g.Sweep() * (s1 - s0) / (end - start) / 4)
			}
			add(at(s1))
		}
		// In parts between the ends of stretches, each of which is level or leads out.
		stops := []float64{max(from, start), min(to, end)}
		for _, x := range inside {
			for _, s := range [2]float64{x.from, x.to} {
				if s > stops[0] && s < min(to, end) {
					stops = append(stops, s)
				}
			}
		}
		slices.Sort(stops)
		for k := 1; k < len(stops); k++ {
			run(stops[k-1], stops[k])
		}
	}
	if len(line.V) < 2 {
		return line
	}
	before, after := p.closing(from, line.Start()), p.closing(to, line.End())
	return path.Join(onRay, before.Reverse(), line, after)
}

// clearRound returns from where to where, of the turn of a corner, no part of the net line is
// nearer to what lies at the height; out is the direction from which it turns.
func (w *walk) clearRound(corner path.Point, out path.Vec, turn, height float64) (from, to float64) {
	far, middle := out.Rotate(turn), out.Rotate(turn/2)
	switch {
	case w.isNearest(corner, out, height-onCut):
		return 0, w.clearTurn(corner, out, turn, height)
	case w.isNearest(corner, far, height-onCut):
		return turn + w.clearTurn(corner, far, -turn, height), turn
	}
	return turn/2 + w.clearTurn(corner, middle, -turn/2, height), turn/2 + w.clearTurn(corner, middle, turn/2, height)
}

// clearTurn returns how far a direction out of a corner can turn, at most by the turn, until
// another part of the net line is nearer to what lies there at the height.
func (w *walk) clearTurn(corner path.Point, out path.Vec, turn, height float64) float64 {
	if w.isNearest(corner, out.Rotate(turn), height-onCut) {
		return turn
	}
	lo, hi := 0.0, turn
	for math.Abs(hi-lo) > smooth/10 {
		if m := (lo + hi) / 2; w.isNearest(corner, out.Rotate(m), height-onCut) {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// closing returns the rest of a line that ends where the allowance is narrower, as beside a
// valley: to the slit there, or between what is nearest on both sides to the cut edge. It
// is empty at the cut edge and at an end of the net line.
func (p *Plan) closing(s float64, end path.Point) path.Path {
	w := p.w
	if w.isFull(s) || !w.net.Closed && (s <= 0 || s >= w.ruler.Length()) {
		return path.Path{}
	}
	for _, x := range p.Snips {
		if x.Kind == Slit && math.Abs(x.At-s) < reaches*w.a {
			slit := x.Line.Segment(0)
			if t, off := slit.Nearest(end); off < onSlit {
				return path.Open(end, slit.At(t))
			}
		}
	}
	foot, _, i := w.place(s)
	out := end.Sub(foot)
	other, turn := out, 0.0 // what is as near, farthest to the side
	for k := range w.net.Segments() {
		g := w.net.Segment(k)
		t, d := g.Nearest(end)
		if d > out.Len()+2*onCut {
			continue
		}
		for _, q := range [3]path.Point{g.At(t), g.A, g.B} {
			away := end.Sub(q)
			if by := math.Abs(out.AngleTo(away)); away.Len() <= out.Len()+2*onCut && by > turn {
				other, turn = away, by
			}
		}
	}
	// Between the two; at a seam, where there is no edge between, as the other has it.
	for _, way := range [3]path.Vec{out.Unit().Add(other.Unit()), other, out} {
		if way.Len() < onRay {
			continue
		}
		hit, ok := w.hit(end, way.Unit(), reaches*w.a, w.beside[i])
		if off, _ := w.near.Nearest(hit, w.a); ok && off < w.a+onCut {
			return path.Open(end, hit)
		}
	}
	return path.Path{}
}
