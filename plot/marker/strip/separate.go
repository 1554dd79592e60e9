package strip

import (
	"cmp"
	"math"
	"slices"
)

// descend looks along lines for a better place, along the strip and across it in turn,
// until there is none. After a line each way it gives up where the cost is far above the best that is
// known.
func (s *state) descend(i int, p spot, e, best float64) (spot, float64) {
	x0, y0, x1, y1 := s.room(p.shape)
	b := &s.shapes[p.shape].box
	reach := lineReach * max(b.Width(), b.Height())
	for k, failed := 0, 0; failed < 2 && e > 0 && (k < 2 || e <= hopeless*best); k++ {
		l := line{p.x, p.y, false, max(x0-p.x, -reach), min(x1-p.x, reach)}
		if k%2 == 1 {
			l = line{p.x, p.y, true, max(y0-p.y, -reach), min(y1-p.y, reach)}
		}
		failed++
		if l.t1 <= l.t0 {
			continue
		}
		t, cost, ok := s.along(i, p.shape, l, e)
		if !ok {
			continue
		}
		if cost < e*(1-gain) {
			failed = 0
		}
		e = cost
		if l.up {
			p.y += t
		} else {
			p.x += t
		}
	}
	return s.inRoom(p), e
}

// move looks for a better place for a piece: where it is, in its other poses, and in some random
// places in the strip and near to it. The best of them are followed downhill.
func (s *state) move(i int) {
	now := s.at[i]
	e := s.costNow(i)
	type candidate struct {
		spot
		cost float64
	}
	top := [3]candidate{{now, e}, {cost: math.Inf(1)}, {cost: math.Inf(1)}}
	offer := func(p spot) {
		c := s.nearCost(i, p, top[2].cost)
		for k := range top {
			if c < top[k].cost {
				copy(top[k+1:], top[k:2])
				top[k] = candidate{p, c}
				break
			}
		}
	}
	poses := s.poses[s.piece[i]]
	middle := s.shapes[now.shape].box.Centre()
	for _, shape := range poses {
		if shape != now.shape {
			c := s.shapes[shape].box.Centre()
			offer(s.inRoom(spot{now.x + middle.X - c.X, now.y + middle.Y - c.Y, shape}))
		}
	}
	b := s.shapes[now.shape].box
	r := nearReach * max(b.Width(), b.Height())
	for range near {
		offer(s.inRoom(spot{now.x + (s.rng.Float64()*2-1)*r, now.y + (s.rng.Float64()*2-1)*r, now.shape}))
	}
	for range wide {
		shape := poses[s.rng.IntN(len(poses))]
		x0, y0, x1, y1 := s.room(shape)
		offer(s.inRoom(spot{x0 + s.rng.Float64()*(x1-x0), y0 + s.rng.Float64()*(y1-y0), shape}))
	}
	best, found := now, false
	for _, c := range top {
		if math.IsInf(c.cost, 1) {
			break
		}
		if p, cost := s.descend(i, c.spot, s.cost(i, c.spot), e); cost < e {
			best, e, found = p, cost, true
			if e == 0 {
				break
			}
		}
	}
	if found {
		s.put(i, best)
	}
}

// reweigh raises the weights of what overlaps, most where it overlaps most, and lets the
// others fade.
func (s *state) reweigh() {
	n := int32(len(s.at))
	most := 0.0
	for _, k := range s.pairs {
		most = max(most, s.loss[k])
	}
	left := s.pairs[:0]
	for _, k := range s.pairs {
		if d := s.loss[k]; d > 0 {
			s.weight[k] = min(s.weight[k]*(1+raise+raiseMost*d/most), mostWeight)
		} else {
			s.weight[k] = max(s.light[k], s.weight[k]*fade)
		}
		s.weight[k%n*n+k/n] = s.weight[k]
		if s.listed[k] = s.loss[k] > 0 || s.weight[k] > s.light[k]; s.listed[k] {
			left = append(left, k)
		}
	}
	s.pairs = left
}

// appendOverlapping appends the pieces that overlap others and may be moved, by number.
func (s *state) appendOverlapping(list []int) []int {
	n := len(s.at)
	for _, k := range s.pairs {
		if s.loss[k] > 0 {
			list = append(list, int(k)/n, int(k)%n)
		}
	}
	slices.Sort(list)
	return slices.DeleteFunc(slices.Compact(list), func(i int) bool { return s.locked[i] })
}

// separate moves pieces until none overlap. It gives up when too many rounds have brought
// nothing better, and leaves the best that it had.
func (s *state) separate(patience int, quit func() bool) bool {
	least := s.total()
	if least == 0 {
		return true
	}
	best := append([]spot{}, s.at...)
	for range strikes {
		start := least
		for without := 0; without < patience; without++ {
			s.order = s.appendOverlapping(s.order[:0])
			s.rng.Shuffle(len(s.order), func(a, b int) { s.order[a], s.order[b] = s.order[b], s.order[a] })
			for _, i := range s.order {
				if s.costNow(i) > 0 {
					s.move(i)
				}
			}
			now := s.total()
			if now == 0 {
				return true
			}
			if now < least {
				if now < least*better {
					without = 0
				}
				least = now
				copy(best, s.at)
			}
			s.reweigh()
			if quit() {
				return false
			}
		}
		s.restore(best, s.length)
		if least > start*better {
			return false
		}
	}
	return false
}

// swap has two large pieces that are not alike change places.
func (s *state) swap() {
	for range swaps {
		i, j := s.rng.IntN(len(s.at)), s.rng.IntN(len(s.at))
		a, b := s.at[i], s.at[j]
		if s.piece[i] == s.piece[j] || s.locked[i] || s.locked[j] || !s.isLarge(a) || !s.isLarge(b) {
			continue
		}
		p, q := s.shapes[a.shape].box.Centre(), s.shapes[b.shape].box.Centre()
		s.put(i, s.inRoom(spot{b.x + q.X - p.X, b.y + q.Y - p.Y, a.shape}))
		s.put(j, s.inRoom(spot{a.x + p.X - q.X, a.y + p.Y - q.Y, b.shape}))
		return
	}
}

// isLarge reports whether a piece is harder to place than the middle one.
func (s *state) isLarge(p spot) bool { return s.shapes[p.shape].weight >= s.middle }

// shrink makes the strip shorter: what lies beyond its end is moved back, and what is
// longer than the strip is turned to its shortest pose.
func (s *state) shrink(length float64) {
	s.length = length
	for i, p := range s.at {
		if s.locked[i] {
			continue
		}
		if s.shapes[p.shape].box.Width() > length {
			p.shape = slices.MinFunc(s.poses[s.piece[i]], func(a, b int32) int {
				return cmp.Compare(s.shapes[a].box.Width(), s.shapes[b].box.Width())
			})
		}
		s.at[i] = s.inRoom(p)
	}
	s.renew()
}

// settle moves all pieces towards the strip's start, as far as there is room.
func (s *state) settle() {
	order := s.byPlace()
	for range slides {
		moved := false
		for _, i := range order {
			p := s.at[i]
			if s.locked[i] {
				continue
			}
			x0, _, _, _ := s.room(p.shape)
			x0 = max(x0, p.x-slideReach*s.shapes[p.shape].box.Width())
			to := x0
			s.across(i, p.shape, line{y: p.y, t0: x0, t1: p.x})
			for _, k := range s.spans {
				to = max(to, min(k.to, p.x))
			}
			if to < p.x-s.slack {
				p.x = to
				s.put(i, p)
				moved = true
			}
		}
		if !moved {
			break
		}
	}
}
