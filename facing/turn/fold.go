package turn

import (
	"math"
	"sort"

	"engrail/motif/path"
)

// Fold is what an allowance does when it is turned: before or after it is snipped.
type Fold struct {
	// Bulk is the area in square mm that lies in pleats, or on the turned
	// allowance of a motif's other side.
	Bulk float64
	// Fullness is the greatest extra edge in one place of an outward curve: of the
	// whole curve before, of what a V takes or what is trimmed narrower after. Tips have
	// only bulk.
	Fullness float64
	// Gap is how wide the edge has to open in one place: of an inward
	// curve before, at a slit after, which in a sharp valley is the same.
	Gap float64
}

// Repeat is a stretch of the net line, and what its snips do.
type Repeat struct {
	From, To float64 // along the net line
	// Before is the allowance as it is cut, After with its snips, trimmed tips and where it
	// is trimmed narrower.
	Before, After Fold
}

// Measure folds the allowance over the net line in the plane, between the stops, which
// are distances along the net line in order; fewer than two give nothing. Snips on a
// stop count to what follows it.
func (p *Plan) Measure(stops []float64) []Repeat {
	if len(stops) < 2 {
		return nil
	}
	all := make([]Repeat, len(stops)-1)
	for i := range all {
		all[i].From, all[i].To = stops[i], stops[i+1]
	}
	// of returns the repeat in which a place of the planner's distances lies.
	length := p.w.ruler.Length()
	of := func(s float64) *Repeat {
		s += p.shift
		if p.w.net.Closed && s > stops[len(stops)-1] {
			s -= length
		}
		i := sort.SearchFloat64s(stops, s+onCut) - 1
		if i < 0 || i >= len(all) {
			if len(all) == 0 || s < stops[0]-onCut || s > stops[len(stops)-1]+onCut {
				return nil
			}
			i = min(max(i, 0), len(all)-1)
		}
		return &all[i]
	}
	for i := range p.runs {
		p.measureRun(&p.runs[i], of)
	}
	for i := range p.Tips {
		p.measureTip(&p.Tips[i], of)
	}
	for _, s := range p.Snips {
		if r := of(s.At); r != nil && s.Kind != V {
			r.After.Gap = max(r.After.Gap, s.Opening)
		}
	}
	return all
}

// pleat returns what lies in pleats of a strip of the height h that is turned over an
// outward arc: the integral over the heights of the extra length for each radian.
func pleat(radius, h float64) float64 {
	if h <= radius {
		return h * h
	}
	// Beyond the centre there is no room at all.
	return radius*radius + radius*(h-radius) + (h*h-radius*radius)/2
}

// afterV returns what stays in pleats at a V: the integral of 2 h turn, less the width
// of the V at that height where it is wider than its apex.
func afterV(v Snip) float64 {
	foot, edge := 2*v.Gap*v.Turn, 2*v.Edge*v.Turn-v.Width
	sum := v.Gap * v.Gap * v.Turn
	if edge >= 0 {
		return sum + (foot+edge)/2*(v.Edge-v.Gap)
	}
	return sum + foot*foot/(foot-edge)/2*(v.Edge-v.Gap)
}

func (p *Plan) measureRun(r *run, of func(float64) *Repeat) {
	a := p.Options.Allowance
	first, last := r.bits[0].from, r.bits[len(r.bits)-1].to
	if !r.out {
		widest := 2 * a * r.total
		if len(r.bits) == 1 && r.bits[0].radius == 0 {
			widest = 4 * a * math.Sin(r.total/2)
		}
		if x := of((first + last) / 2); x != nil {
			x.Before.Gap = max(x.Before.Gap, widest)
			if r.slits == 0 {
				x.After.Gap = max(x.After.Gap, widest)
			}
		}
		return
	}
	whole, k := 0.0, 0
	for _, b := range r.bits {
		n := 1
		if b.radius > 0 {
			n = int(max(1, math.Ceil(max((b.to-b.from)/foldStep, b.turn/foldTurn))))
		}
		for i := range n {
			share := (float64(i) + 0.5) / float64(n)
			s := b.from + (b.to-b.from)*share
			turned := b.before + b.turn*share
			for k < len(r.cells) && r.cells[k].turned[1] < turned {
				k++
			}
			snip := noV
			if k < len(r.cells) && r.cells[k].turned[0] <= turned {
				snip = r.cells[k].snip
			}
			if snip == aTip {
				continue // measured by itself
			}
			h := p.w.height(s)
			if b.radius == 0 && p.w.isFullAt(p.bisector(s)) {
				h = a
			}
			turn := b.turn / float64(n)
			if h >= a {
				whole += 2 * a * turn
			}
			if x := of(s); x != nil {
				x.Before.Bulk += pleat(b.radius, h) * turn
				if snip == noV {
					x.After.Bulk += pleat(b.radius, min(h, p.width(p.trimmed, s))) * turn
				}
			}
		}
	}
	if x := of((first + last) / 2); x != nil {
		x.Before.Fullness = max(x.Before.Fullness, whole)
	}
	for _, c := range r.places(p.Options.Bridge) {
		middle := (c.from + c.to) / 2
		x := of(middle)
		if x == nil {
			continue
		}
		if c.snip == noV {
			widest := max(p.width(p.trimmed, c.from), p.width(p.trimmed, middle), p.width(p.trimmed, c.to))
			x.After.Fullness = max(x.After.Fullness, widest*p.stays(r, c))
			continue
		}
		v := p.Snips[c.snip]
		x.After.Bulk += afterV(v)
		x.After.Fullness = max(x.After.Fullness, v.Left, 2*v.Edge*v.Turn-v.Width)
	}
}

// measureTip sums what is folded round the tip itself, and what of its sides lies beyond the
// axis.
func (p *Plan) measureTip(t *Tip, of func(float64) *Repeat) {
	x := of((t.From + t.To) / 2)
	if x == nil {
		return
	}
	a := p.Options.Allowance
	trimmed := func(q path.Point, out path.Vec, h float64) float64 {
		if len(t.Line.V) == 0 {
			return h
		}
		ray := path.Line(q, q.Add(out.Mul(h)))
		for k := range t.Line.Segments() {
			hits := t.Line.Segment(k).Intersect(ray)
			for _, y := range hits.At[:hits.N] {
				h = min(h, y.Point.Dist(q))
			}
		}
		return h
	}
	// Round the tip: slices of its turn.
	n := int(math.Ceil(t.Turn / foldTurn))
	for i := range n {
		share := (float64(i) + 0.5) / float64(n)
		s := t.From + (t.To-t.From)*share
		q, out, k := p.w.place(s)
		radius := 0.0
		if t.From == t.To {
			out = t.out.Rotate((share - 0.5) * t.Turn)
		} else {
			if c := p.w.net.Segment(k).Curvature(); c > 0 {
				radius = 1 / c
			}
		}
		turn := t.Turn / float64(n)
		x.Before.Bulk += pleat(radius, a) * turn
		x.After.Bulk += pleat(radius, trimmed(q, out, a)) * turn
	}
	// The sides beyond the axis.
	for e, from := range [2]float64{t.From, t.To} {
		l := t.legs[e] - from
		n := int(math.Ceil(math.Abs(l) / foldStep))
		for i := range n {
			s := from + l*(float64(i)+0.5)/float64(n)
			q, out, k := p.w.place(s)
			d := p.depth(t, s)
			if math.IsInf(d, 1) {
				d = 0
			}
			h := p.w.height(s)
			c := p.w.net.Segment(k).Curvature()
			ds := math.Abs(l) / float64(n)
			beyond := func(h float64) float64 {
				if h <= d {
					return 0
				}
				return ((h - d) - c*(h*h-d*d)/2) * ds // turned, the slices are narrower by c h
			}
			x.Before.Bulk += max(0, beyond(h))
			x.After.Bulk += max(0, beyond(trimmed(q, out, h)))
		}
	}
}
