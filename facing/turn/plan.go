package turn

import (
	"cmp"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// Kind says what a snip is.
type Kind uint8

// The kinds of snips.
const (
	// Slit is a straight cut on an inward curve or at a valley.
	Slit Kind = iota
	// V is a notch cut out on an outward curve.
	V
)

// String returns the kind's name in lower case.
func (k Kind) String() string {
	if k == V {
		return "v"
	}
	return "slit"
}

// Snip is one cut into the allowance.
type Snip struct {
	Kind Kind
	// At is the distance along the net line.
	At float64
	// Line runs from the edge inward; that of a V goes back to the edge.
	Line path.Path
	// Gap is how far short of the stitching it ends.
	Gap float64
	// Turn is the turn of the net line that it takes, positive in both kinds.
	Turn float64
	// Width is a V's along the edge, 0 of a slit.
	Width float64
	// Edge is the width of the allowance that it is cut into: less than the whole one
	// where that is trimmed narrower for Vs, which then start on the trim line.
	Edge float64
	// Left is the extra edge that stays at a V, Opening how wide a slit gapes when
	// the allowance is turned.
	Left, Opening float64
	// Valley says that it stands at a given valley or in a corner.
	Valley bool

	mouth [2]float64 // along the net line, of a V
}

// Tip is a point of the net line, or an outward curve that is too tight for Vs.
type Tip struct {
	// From and To are its ends along the net line, the same at a corner.
	From, To float64
	// Turn is the turn of the net line there, which is below pi.
	Turn float64
	// Line is where the allowance is trimmed, from cut edge to cut edge in the
	// direction of the net line: straight across, or round the tip at the gap where
	// there is no room for that.
	Line path.Path

	at   path.Point // on the net line, and the direction out of it there
	out  path.Vec
	legs [2]float64 // where both turned edges meet
}

// Place returns the tip's middle on the net line and the direction out of it.
func (t Tip) Place() fit.Place { return fit.Place{Point: t.at, Out: t.out} }

// Narrow is a place where the allowances of two sides meet.
type Narrow struct {
	// At is the distance along the net line of the tip or the valley.
	At float64
	// Valley says that they meet flat, outside of the net line in a valley; otherwise
	// turned, inside of a motif.
	Valley bool
	// Fits is the allowance that would have room; 0 says that none has.
	Fits float64
}

// Plan is how an allowance is turned.
type Plan struct {
	Options Options
	// Snips and Tips are in order along the net line.
	Snips []Snip
	Tips  []Tip
	// Trims are where outward curves that are too tight or too short for Vs in the whole
	// allowance are trimmed narrower, in order along the net line.
	Trims []Trim
	// Narrow are places whose sides are too near one another.
	Narrow []Narrow

	w     *walk
	shift float64 // of the planner's distances, on a closed line
	runs  []run
	// trimmed are the stretches of Trims, in order.
	trimmed []stretch
}

// run is a stretch of the net line that turns one way only.
type run struct {
	bits  []bit
	total float64 // the turn, without sign
	out   bool
	slits int    // of an inward one
	cells []cell // of an outward one, in order
}

// Make plans the snips of the allowance between a net line and its cut line, which lies
// the allowance to the right of it and may go on beyond its ends. Valleys are the places that have to have a
// slit, in order along the line, each in its direction; sharp corners that turn
// into the garment have one anyway. Lines without segments, or with coordinates
// that are not numbers, and options out of bounds are an [*Error].
func Make(net, cut path.Path, valleys []fit.Place, o Options) (*Plan, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	for _, l := range []struct {
		name string
		line path.Path
	}{{"net", net}, {"cut", cut}} {
		if l.line.Segments() == 0 || !l.line.Finite() || !(l.line.Length() > 0) {
			return nil, &Error{"the " + l.name + " line has no length", "give a chain of lines and arcs whose coordinates are numbers"}
		}
	}
	p := &Plan{Options: o}
	net, p.shift = opened(net)
	p.w = newWalk(net, cut, o.Allowance)
	held := p.hold(valleys)
	p.divide()
	for i := range p.runs {
		if r := &p.runs[i]; r.out {
			p.notch(i)
		} else {
			p.slit(r, held)
		}
	}
	for _, h := range held {
		if !h.used {
			p.addHeld(h, nil, 0)
		}
	}
	p.sort()
	p.narrow()
	slices.SortStableFunc(p.Tips, func(a, b Tip) int { return cmp.Compare(a.From, b.From) })
	p.trimTips()
	p.findNarrowValleys(held)
	return p, nil
}

// holding is a valley that has to have a slit.
type holding struct {
	fit.Place
	at   float64
	used bool
}

// hold finds the valleys' places on the net line.
func (p *Plan) hold(valleys []fit.Place) []*holding {
	w := p.w
	list := make([]*holding, 0, len(valleys))
	n, next := w.net.Segments(), 0 // on from the last one, as they are in order
	for _, v := range valleys {
		best, at := math.Inf(1), 0.0
		from := next
		for k := range n {
			i := (from + k) % n
			if best < onCut {
				break
			}
			g := w.net.Segment(i)
			l := w.ruler.Stop(i+1) - w.ruler.Stop(i)
			if reach := best + l; g.A.DistSq(v.Point) > reach*reach {
				continue
			}
			if t, d := g.Nearest(v.Point); d < best {
				best, at, next = d, w.ruler.Stop(i)+t*l, i
			}
		}
		list = append(list, &holding{Place: v, at: at})
	}
	slices.SortStableFunc(list, func(a, b *holding) int { return cmp.Compare(a.at, b.at) })
	return list
}

// divide finds the runs and the tips that are corners.
func (p *Plan) divide() {
	open := false
	for _, b := range p.w.bits() {
		if b.radius == 0 && b.turn > tipTurn {
			p.addTip([]bit{b})
			open = false
			continue
		}
		out := b.turn > 0
		if !open || p.runs[len(p.runs)-1].out != out {
			p.runs = append(p.runs, run{out: out})
			open = true
		}
		r := &p.runs[len(p.runs)-1]
		b.before = r.total
		r.bits = append(r.bits, b)
		r.total += math.Abs(b.turn)
	}
}

// at returns the distance along the net line at which the run has turned by so much.
func (r *run) at(turned float64) float64 {
	for k, b := range r.bits {
		t := math.Abs(b.turn)
		if k < len(r.bits)-1 && math.Abs(turned-t) < smooth/10 && r.bits[k+1].from > b.to {
			return (b.to + r.bits[k+1].from) / 2 // on the straight between two
		}
		if turned <= t || k == len(r.bits)-1 {
			return b.from + (b.to-b.from)*min(1, max(0, turned/t))
		}
		turned -= t
	}
	return 0
}

// turnedAt returns how much of its turn the run has done at a distance, corners there
// by half.
func (r *run) turnedAt(s float64) float64 {
	sum := 0.0
	for _, b := range r.bits {
		t := math.Abs(b.turn)
		switch {
		case s >= b.to && (b.to > b.from || s > b.to):
			sum += t
		case b.from == b.to && s == b.to:
			sum += t / 2
		case s > b.from:
			sum += t * (s - b.from) / (b.to - b.from)
		}
	}
	return sum
}

// end returns where the run ends.
func (r *run) end() float64 { return r.bits[len(r.bits)-1].to }

// notch plans the Vs of the i-th run, an outward one.
func (p *Plan) notch(i int) {
	w, r := p.w, &p.runs[i]
	var full []bit // beside which the whole allowance is
	for _, b := range r.bits {
		if b.radius == 0 {
			if w.isFullAt(p.bisector(b.from)) {
				full = append(full, b)
			}
			continue
		}
		from, to := max(b.from, w.full[b.segment][0]), min(b.to, w.full[b.segment][1])
		if from >= to {
			continue
		}
		b.before += b.turn * (from - b.from) / (b.to - b.from)
		b.turn *= (to - from) / (b.to - b.from)
		b.from, b.to = from, to
		full = append(full, b)
	}
	if len(full) == 0 {
		return
	}
	first, last := full[0].from, full[len(full)-1].to
	lo, hi := 0.0, w.ruler.Length() // half-way to what turns beside it
	if i > 0 {
		lo = (p.runs[i-1].end() + first) / 2
	}
	if i < len(p.runs)-1 {
		hi = (p.runs[i+1].bits[0].from + last) / 2
	}
	for _, t := range p.Tips {
		if t.To <= first {
			lo = max(lo, t.To)
		}
		if t.From >= last {
			hi = min(hi, t.From)
		}
	}
	p.notchBits(r, full, [2]float64{w.fullBack(first, lo), w.fullOn(last, hi)}, true)
}

// tightest is the radius below which Vs that leave no more than the fullness are nearer
// to one another than the bridge in an allowance of the width, even if they end at the least gap: from
// (R-a) fullness / (2 leastGap) = bridge.
func (o Options) tightest(width float64) float64 {
	return width + 2*min(leastGap, o.Gap)*o.Bridge/o.Fullness
}

// tipRadius is the radius below which a curve of the turn that has no room for Vs is a tip.
// A ball is one only where no allowance keeps the fullness over the length of a bridge.
func (o Options) tipRadius(turn float64) float64 {
	if turn < mostTip {
		return o.tightest(min(leastNotched, o.Allowance))
	}
	return 2 * leastGap * o.Bridge / o.Fullness
}

// notchBits plans the Vs of a part of a run, between limits that reach beyond it
// where the whole allowance goes on.
func (p *Plan) notchBits(r *run, bits []bit, limits [2]float64, whole bool) {
	sub := run{bits: bits, out: true}
	for _, b := range bits {
		sub.total += b.turn
	}
	if 2*p.Options.Allowance*sub.total <= p.Options.Fullness {
		r.cells = append(r.cells, sub.cell(0, sub.total))
		return
	}
	if p.notched(r, &sub, limits, p.Options.Allowance) {
		return
	}
	if !whole || len(bits) == 1 {
		// Vs have room in an allowance that is narrower, but not where none are needed.
		for width := p.Options.Allowance - trimStep; width >= leastNotched && 2*width*sub.total > p.Options.Fullness; width -= trimStep {
			if p.notched(r, &sub, limits, width) {
				return
			}
		}
		if length := bits[len(bits)-1].to - bits[0].from; sub.total >= tipTurn && length < p.Options.tipRadius(sub.total)*sub.total {
			p.addTip(bits)
			tip := sub.cell(0, sub.total)
			tip.snip = aTip
			r.cells = append(r.cells, tip)
			return
		}
		if k := len(bits) / 2; k > 0 {
			middle := (bits[k-1].to + bits[k].from) / 2
			p.notchBits(r, bits[:k], [2]float64{limits[0], middle}, false)
			p.notchBits(r, bits[k:], [2]float64{middle, limits[1]}, false)
			return
		}
		r.cells = append(r.cells, sub.cell(0, sub.total))
		return
	}
	// What is tight by itself.
	tight := p.Options.tightest(p.Options.Allowance)
	isTight := func(b bit) bool { return b.radius < tight }
	for i := 0; i < len(bits); {
		k := i + 1
		for k < len(bits) && isTight(bits[k]) == isTight(bits[i]) {
			k++
		}
		part := [2]float64{bits[i].from, bits[k-1].to}
		if i == 0 {
			part[0] = limits[0]
		}
		if k == len(bits) {
			part[1] = limits[1]
		}
		p.notchBits(r, bits[i:k], part, false)
		i = k
	}
}

// notched plans the Vs of a part of a run in an allowance of the width, and reports
// whether it found any.
func (p *Plan) notched(r, part *run, limits [2]float64, width float64) bool {
	in := p
	if width < p.Options.Allowance {
		w := *p.w // where the whole allowance is, the narrower one is, too
		w.a = width
		in = &Plan{Options: p.Options, w: &w}
		in.Options.Allowance = width
	}
	vs, ok := in.spread(part, limits)
	if !ok {
		return false
	}
	turned := 0.0
	for _, v := range vs {
		c := part.cell(turned, turned+v.Turn)
		turned += v.Turn
		c.snip = len(p.Snips)
		r.cells = append(r.cells, c)
		p.Snips = append(p.Snips, v)
	}
	return true
}

// spread places as few Vs as keep the fullness, evenly over the turn; where they would
// be too near one another, fewer that end nearer to the stitching. It
// reports whether there is such a number.
func (p *Plan) spread(r *run, limits [2]float64) ([]Snip, bool) {
	o := p.Options
	// flat is the length of the cut edge between two places of the run.
	flat := func(s0, t0, s1, t1 float64) float64 { return s1 - s0 + o.Allowance*(t1-t0) }
	most := math.Ceil(2*o.Gap*r.total/o.Fullness - rounding)
	// No more than there is room for.
	room := math.Floor(flat(limits[0], 0, limits[1], r.total) / max(o.Bridge, leastSnip))
	n := int(max(1, min(most, room)))
	for ; n >= 1; n-- {
		vs, gap, ok := p.evenly(r, n, o.Shifted, limits, flat)
		if !ok && o.Shifted {
			vs, gap, ok = p.evenly(r, n, false, limits, flat)
		}
		if gap < min(leastGap, o.Gap)-rounding {
			return nil, false
		}
		if ok {
			return vs, true
		}
	}
	return nil, false
}

// part is what one V of a run takes: how much the run has turned in its middle, and of
// how much turn it is.
type part struct{ middle, turn float64 }

// parts divides a run's turn among n Vs; shifted, among those half-way between them,
// and a half at either end.
func (r *run) parts(n int, shifted bool) []part {
	step := r.total / float64(n)
	var all []part
	if !shifted {
		for i := range n {
			all = append(all, part{(float64(i) + 0.5) * step, step})
		}
		return all
	}
	all = append(all, part{step / 4, step / 2})
	for i := 1; i < n; i++ {
		all = append(all, part{float64(i) * step, step})
	}
	return append(all, part{r.total - step/4, step / 2})
}

// evenly returns Vs on the run, as many as n or for those half-way between them, the gap
// at which they keep the fullness, and whether they leave the bridges.
func (p *Plan) evenly(r *run, n int, shifted bool, limits [2]float64, flat func(s0, t0, s1, t1 float64) float64) (vs []Snip, gap float64, ok bool) {
	o := p.Options
	step := r.total / float64(n)
	gap = min(o.Gap, o.Fullness/(2*step))
	if o.Allowance*step > o.Allowance-gap {
		return nil, gap, false // flatter than a right angle
	}
	// Wide enough to meet when it is turned; where that leaves less than the bridge, all
	// narrower, by no more than the fullness.
	parts := r.parts(n, shifted)
	wanted := func(q part) float64 { return min(max(o.LeastV, 2*o.Allowance*q.turn), 2*(o.Allowance-gap)) }
	share := 1.0
	beforeS, beforeT, before := limits[0], 0.0, 0.0
	for i, q := range parts {
		s := r.at(q.middle)
		turned := r.turnedAt(s) // in the middle of a corner
		bridge := o.Bridge
		if i == 0 {
			bridge /= 2 // its other half is that of what is beside
		}
		share = min(share, (flat(beforeS, beforeT, s, turned)-bridge)*2/(before+wanted(q)))
		beforeS, beforeT, before = s, turned, wanted(q)
	}
	share = min(share, (flat(beforeS, beforeT, limits[1], r.total)-o.Bridge/2)*2/before)
	vs = make([]Snip, 0, len(parts))
	for _, q := range parts {
		width, closing := share*wanted(q), 2*o.Allowance*q.turn
		if width < max(min(o.LeastV, closing), closing-o.Fullness)-rounding {
			return nil, gap, false
		}
		v, ok := p.v(r.at(q.middle), width, gap, q.turn)
		if !ok {
			return nil, gap, false
		}
		vs = append(vs, v)
	}
	return vs, gap, true
}

// v draws a V, whose mouth is measured along the cut edge.
func (p *Plan) v(s, width, gap, turn float64) (Snip, bool) {
	a := p.Options.Allowance
	at, out := p.bisector(s)
	_, next, _ := p.w.place(s)
	corner := math.Abs(out.AngleTo(next)) // half of what the cut edge goes round
	var mouth [2]path.Point
	reach := [2]float64{s, s}
	for e, side := range [2]float64{-1, 1} {
		rest := width/2 - corner*a
		if rest <= 0 {
			mouth[e] = at.Add(out.Rotate(side * width / 2 / a).Mul(a))
			continue
		}
		to := p.w.alongCut(s, side*rest)
		if !p.w.isFull(to) {
			return Snip{}, false
		}
		q, n, _ := p.w.place(to)
		mouth[e], reach[e] = q.Add(n.Mul(a)), to
	}
	return Snip{
		Kind: V, At: s, Gap: gap, Turn: turn, Width: width, Edge: a, Left: max(2*gap*turn, 2*a*turn-width),
		Line: path.Open(mouth[0], at.Add(out.Mul(gap)), mouth[1]), mouth: reach,
	}, true
}

// slit plans the slits of an inward run: at the valleys that it has, at
// its corners, and as many between as keep the opening.
func (p *Plan) slit(r *run, held []*holding) {
	o := p.Options
	first, last := r.bits[0].from, r.bits[len(r.bits)-1].to
	type post struct {
		turned float64
		held   *holding
		at     float64
		corner float64
	}
	var posts []post
	lo, _ := slices.BinarySearchFunc(held, first-sameValley, func(h *holding, s float64) int { return cmp.Compare(h.at, s) })
	for _, h := range held[lo:] {
		if h.at > last+sameValley {
			break
		}
		if h.at >= first-onCut && h.at <= last+onCut && !h.used {
			h.used = true
			posts = append(posts, post{turned: r.turnedAt(h.at), held: h, at: h.at})
		}
	}
	for _, b := range r.bits {
		if b.radius > 0 || -b.turn < valleyTurn {
			continue
		}
		near := func(h *holding) bool { return math.Abs(h.at-b.from) < sameValley }
		if k := slices.IndexFunc(posts, func(q post) bool { return q.held != nil && near(q.held) }); k >= 0 {
			posts[k].corner = -b.turn
			continue
		}
		if slices.ContainsFunc(held[lo:min(len(held), lo+2)], near) {
			continue
		}
		posts = append(posts, post{turned: r.turnedAt(b.from), at: b.from, corner: -b.turn})
	}
	slices.SortStableFunc(posts, func(a, b post) int { return cmp.Compare(a.at, b.at) })

	if len(posts) == 0 && 2*o.Allowance*r.total <= o.Fullness {
		return
	}
	step := o.Opening / (2 * o.Allowance)
	// The whole run is divided at its posts; each part has room for so many between.
	var all []post
	part := func(from, to float64, left, right bool) {
		turn := to - from
		ends := 0.0 // shares of the posts at its ends
		half := func(is bool) {
			if is {
				ends += 0.5
			}
		}
		half(left)
		half(right)
		n := int(max(0, math.Ceil(turn/step-ends-rounding)))
		if r.at(to)-r.at(from) < slitBridge {
			n = 0 // a corner, in which one is enough
		}
		for ; n > 0; n-- {
			spots := spread(from, turn, n, left, right, o.Shifted)
			if p.room(r, spots, from, to, left, right) {
				for _, at := range spots {
					all = append(all, post{turned: at, at: r.at(at)})
				}
				return
			}
		}
	}
	from := 0.0
	for i, q := range posts {
		part(from, q.turned, i > 0, true)
		all = append(all, q)
		from = q.turned
	}
	part(from, r.total, len(posts) > 0, false)

	// What each takes: half-way to its neighbours.
	for i, q := range all {
		lo, hi := 0.0, r.total
		if i > 0 {
			lo = (all[i-1].turned + q.turned) / 2
		}
		if i < len(all)-1 {
			hi = (q.turned + all[i+1].turned) / 2
		}
		switch {
		case q.held != nil:
			p.addHeld(q.held, r, hi-lo)
		default:
			at, out := p.bisector(q.at)
			if s, ok := p.slitAt(q.at, at, out, hi-lo, q.corner > 0); ok && s.Line.Start().Dist(at) < longest*o.Allowance/math.Cos(q.corner/2) && p.w.isClear(q.at, s.Line, keepsClear*o.Gap*math.Cos(q.corner/2)) {
				r.slits++
				p.Snips = append(p.Snips, s)
			}
		}
	}
}

// spread returns where n slits stand on a turn beside posts at its ends, evenly; shifted,
// between those places, with one more so that none takes more.
func spread(from, turn float64, n int, left, right, shifted bool) []float64 {
	ends := 0.0
	for _, is := range [2]bool{left, right} {
		if is {
			ends += 0.5
		}
	}
	step := turn / (float64(n) + ends)
	first := from + step/2
	if left {
		first = from + step
	}
	spots := make([]float64, 0, n+1)
	if !shifted {
		for i := range n {
			spots = append(spots, first+float64(i)*step)
		}
		return spots
	}
	for i := range n + 1 {
		spots = append(spots, first+(float64(i)-0.5)*step)
	}
	// Not on the ends themselves.
	if !left {
		spots[0] += step / 4
	}
	if !right {
		spots[n] -= step / 4
	}
	return spots
}

// room reports whether slits lie far enough from one another, and from the posts beside
// them, at the cut edge.
func (p *Plan) room(r *run, spots []float64, from, to float64, left, right bool) bool {
	var before path.Point
	has := false
	check := func(turned float64) bool {
		s := r.at(turned)
		q, out := p.bisector(s)
		_, _, i := p.w.place(s)
		end, ok := p.w.hit(q, out, reaches*p.w.a, p.w.beside[i])
		if !ok || has && end.Dist(before) < slitBridge {
			return false
		}
		before, has = end, true
		return true
	}
	if left && !check(from) {
		return false
	}
	for _, at := range spots {
		if !check(at) {
			return false
		}
	}
	return !right || check(to)
}

// bisector returns a place of the net line and the direction out of it, at a corner
// the one that halves its angle.
func (p *Plan) bisector(s float64) (path.Point, path.Vec) {
	q, out, i := p.w.place(s)
	if s == p.w.ruler.Stop(i) && (i > 0 || p.w.net.Closed) {
		n := p.w.net.Segments()
		before := p.w.net.Segment((i + n - 1) % n)
		out = out.Rotate(-path.Turn(before, p.w.net.Segment(i)) / 2)
	}
	return q, out
}

// slitAt draws a slit; it reports whether there is room for one.
func (p *Plan) slitAt(s float64, at path.Point, out path.Vec, turn float64, corner bool) (Snip, bool) {
	_, _, i := p.w.place(s)
	from, ok := p.w.hit(at, out, reaches*p.w.a, p.w.beside[i])
	end := at.Add(out.Mul(p.Options.Gap))
	if !ok || from.Sub(end).Dot(out) < leastSnip {
		return Snip{}, false
	}
	opening := 2 * p.Options.Allowance * turn
	if corner {
		opening = 4 * p.Options.Allowance * math.Sin(turn/2)
	}
	return Snip{Kind: Slit, At: s, Line: path.Open(from, end), Gap: p.Options.Gap, Turn: turn, Edge: p.Options.Allowance, Opening: opening, Valley: corner}, true
}

func (p *Plan) addHeld(h *holding, r *run, turn float64) {
	h.used = true
	s, ok := p.slitAt(h.at, h.Point, h.Out, turn, true)
	if !ok {
		return
	}
	if r != nil {
		r.slits++
	}
	p.Snips = append(p.Snips, s)
}

// sort puts snips in order along the line, and leaves out Vs that are too near
// to one of another curve.
func (p *Plan) sort() {
	order := make([]int, len(p.Snips))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Snips[a].At, p.Snips[b].At) })
	kept := order[:0]
	last := -1 // the V before
	for _, i := range order {
		if v := p.Snips[i]; v.Kind == V {
			// Of two curves that meet, one may have no room beside the other.
			if last >= 0 && p.Snips[last].Line.End().Dist(v.Line.Start()) < p.Options.Bridge*2/3 {
				continue
			}
			last = i
		}
		kept = append(kept, i)
	}
	p.keep(kept)
}

// keep keeps the snips of the numbers, in their order.
func (p *Plan) keep(numbers []int) {
	place := make([]int, len(p.Snips))
	for i := range place {
		place[i] = -1
	}
	kept := make([]Snip, len(numbers))
	for k, i := range numbers {
		kept[k], place[i] = p.Snips[i], k
	}
	p.Snips = kept
	for i := range p.runs {
		for k := range p.runs[i].cells {
			if c := &p.runs[i].cells[k]; c.snip >= 0 {
				c.snip = place[c.snip]
			}
		}
	}
}
