package path

import (
	"fmt"
	"math"
	"slices"
)

// link joins the good slices to paths.
func (o *offsetting) link() ([]Path, error) {
	var out []Path
	used := make([]bool, len(o.slices))
	if !o.closed {
		// Open chains begin where more good slices start than end.
		begin := make([]int, len(o.nodes))
		for i := range o.slices {
			if s := &o.slices[i]; s.good {
				if s.from >= 0 {
					begin[o.root(o.cuts[s.from].node)]++
				}
				if s.to >= 0 {
					begin[o.root(o.cuts[s.to].node)]--
				}
			}
		}
		for i := range o.slices {
			s := &o.slices[i]
			if !s.good || used[i] {
				continue
			}
			if s.from >= 0 {
				n := &begin[o.root(o.cuts[s.from].node)]
				if *n <= 0 {
					continue
				}
				*n--
			}
			chain, _ := o.follow(i, used)
			out = append(out, o.path(chain, false))
		}
	}
	for i := range o.slices {
		if !o.slices[i].good || used[i] {
			continue
		}
		chain, closed := o.follow(i, used)
		p := o.path(chain, closed)
		switch {
		case closed && len(p.V) > 1 && !o.hollow(chain, p):
			out = append(out, p)
		case !closed && o.closed && p.Length() > lostLength:
			if k := slices.IndexFunc(chain, o.beside); k >= 0 {
				o.lost = append(o.lost, o.middle(&o.slices[chain[k]]))
			}
		}
	}
	if o.crosses && len(out) > 0 {
		return out, nil
	}
	for _, p := range o.lost {
		// Where pieces run together one of them may be there for both.
		if !slices.ContainsFunc(out, func(q Path) bool { return q.passes(p, nodeSize) }) {
			return nil, fmt.Errorf("the path cannot be offset by %g mm near (%.3f, %.3f), where it crosses itself or as good as does: draw it without the loop there",
				o.d, p.X, p.Y)
		}
	}
	return out, nil
}

// passes reports whether the path comes as near to the point.
func (p Path) passes(x Point, within float64) bool {
	for i := range p.Segments() {
		if s := p.Segment(i); s.Bounds().Grow(within).Contains(x) {
			if _, dist := s.Nearest(x); dist <= within {
				return true
			}
		}
	}
	return false
}

// beside reports whether the slice is at the distance from the source, unlike the
// points of mitres that reach through it.
func (o *offsetting) beside(i int) bool {
	return !o.clearBy(o.middle(&o.slices[i]), math.Abs(o.d)+nodeSize)
}

// follow returns the slices that follow on from the one, itself first, and
// whether the last leads back to it. It marks them as used.
func (o *offsetting) follow(start int, used []bool) (chain []int, closed bool) {
	for i := start; ; {
		used[i] = true
		chain = append(chain, i)
		s := &o.slices[i]
		if s.to < 0 {
			return chain, o.closed && s.from < 0
		}
		// Straight on if that is good, else over to the other piece.
		at := o.root(o.cuts[s.to].node)
		next := -1
		for j := int(o.nodes[at].first); j >= 0; j = int(o.slices[j].next) {
			if j == start && o.slices[start].from >= 0 {
				return chain, true
			}
			if !used[j] && (next < 0 || o.slices[j].from == s.to) {
				next = j
			}
		}
		if next < 0 {
			return chain, false
		}
		i = next
	}
}

// path returns the path along the slices, with what was cut to no purpose put
// together again.
func (o *offsetting) path(chain []int, closed bool) Path {
	if s := &o.slices[chain[0]]; s.from < 0 && s.to < 0 && o.halves == nil {
		// Nothing was cut.
		v := make([]Vertex, len(o.raw), len(o.raw)+1)
		for i := range v {
			v[i] = Vertex{o.raw[i].a, o.raw[i].bulge}
		}
		if !closed {
			v = append(v, Vertex{Point: o.raw[len(o.raw)-1].b})
		}
		return Path{V: v, Closed: closed}
	}
	n := 1
	for _, i := range chain {
		_, count := o.span(&o.slices[i])
		n += count
	}
	parts := make([]part, 0, n)
	for _, i := range chain {
		s := &o.slices[i]
		first, count := o.span(s)
		for j := range count {
			p := o.part(s, first, count, j)
			if k := len(parts) - 1; k >= 0 && parts[k].piece == p.piece && parts[k].to == p.from {
				parts[k].b, parts[k].to = p.b, p.to
			} else if p.a.DistSq(p.b) > Coincident*Coincident {
				parts = append(parts, p)
			}
		}
	}
	if k := len(parts) - 1; closed && k > 0 && parts[k].piece == parts[0].piece && parts[k].to == parts[0].from {
		parts[0].a, parts[0].from = parts[k].a, parts[k].from
		parts = parts[:k]
	}
	if k := len(parts) - 1; closed && k > 0 && o.continues(&parts[k], &parts[0]) {
		parts = append(parts[1:], parts[0])
	}
	v := make([]Vertex, 0, len(parts)+1)
	for i, p := range parts {
		s := o.segment(p)
		if i > 0 && o.continues(&parts[i-1], &p) {
			// The quarter sweeps add up.
			w := &v[len(v)-1]
			if b := (w.Bulge + s.Bulge) / (1 - w.Bulge*s.Bulge); math.Abs(b) <= wholeBulge && b*s.Bulge > 0 {
				w.Bulge = b
				continue
			}
		}
		v = append(v, Vertex{s.A, s.Bulge})
	}
	if !closed && len(parts) > 0 {
		v = append(v, Vertex{Point: parts[len(parts)-1].b})
	}
	return Path{V: v, Closed: closed}
}

// continues reports whether the part goes on with the arc of the other one.
func (o *offsetting) continues(other, p *part) bool {
	return o.raw[p.piece].continues && p.from == 0 &&
		other.piece == p.piece-1 && other.to == o.raw[other.piece].fullKey()
}

// hollow reports whether the closed path of the slices has no width to speak
// of: then it is only there by the slack.
func (o *offsetting) hollow(chain []int, p Path) bool {
	for _, i := range chain {
		if o.clearBy(o.middle(&o.slices[i]), math.Abs(o.d)-offsetRounding) {
			return false
		}
	}
	return math.Abs(p.Area()) <= 2*offsetSlack*p.Length()
}
