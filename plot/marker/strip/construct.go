package strip

import (
	"cmp"
	"math"
	"slices"
)

// construct lays the pieces that are not locked in an order, each as far to the start as
// it goes on some lines along the strip. It gives up when the strip gets longer than a limit.
func (s *state) construct(order []int, lines int, limit float64) bool {
	far := 0.0 // of all that lie
	for i := range s.at {
		if s.locked[i] {
			q := s.start[i]
			s.at[i] = q
			s.lie(i, s.reach(q.shape, q.x, q.y))
			far = max(far, s.boxes[i].x1)
			continue
		}
		s.at[i].shape = s.poses[s.piece[i]][0]
		s.lie(i, reach{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}) // nowhere yet
	}
	s.length = math.Inf(1)
	for _, i := range order {
		var best spot
		least := math.MaxFloat64
		for _, shape := range s.poses[s.piece[i]] {
			_, y0, _, y1 := s.room(shape)
			h := &s.shapes[shape]
			end := h.box.Max.X
			least = min(least, far+2*(h.margin+h.cover.Width())) // behind all
			for k := range lines {
				y := y0 + (y1-y0)*float64(k)/float64(lines-1)
				if x, ok := s.firstFree(i, shape, y, least-end); ok {
					best, least = spot{x, y, shape}, x+end
				}
				if y1 == y0 {
					break
				}
			}
		}
		if least >= limit {
			return false
		}
		s.at[i] = best
		s.lie(i, s.reach(best.shape, best.x, best.y))
		far = max(far, s.boxes[i].x1)
	}
	s.length = s.far()
	return true
}

// arrange lays all pieces, the one that is hardest to place first, and then again with
// two of them swapped in the order, to keep the shortest, until many swaps have brought
// nothing. It tells when the first layout is there.
func (s *state) arrange(laid func(), quit func() bool) {
	var order []int
	for i := range s.at {
		if !s.locked[i] {
			order = append(order, i)
		}
	}
	weight := func(i int) float64 { return s.shapes[s.poses[s.piece[i]][0]].weight }
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(weight(j), weight(i)) })
	lines := min(max(allLines/len(s.at), leastLines), mostLines)
	s.construct(order, lines, math.Inf(1))
	best, length := append([]spot{}, s.at...), s.length
	alike := !slices.ContainsFunc(order, func(i int) bool { return s.piece[i] != s.piece[order[0]] })
	laid()
	for without := 0; !alike && without < patience && length > s.bound()*(1+rounding) && !quit(); without++ {
		i, k := s.rng.IntN(len(order)), s.rng.IntN(len(order))
		if s.piece[order[i]] == s.piece[order[k]] {
			continue
		}
		order[i], order[k] = order[k], order[i]
		if s.construct(order, lines, length) {
			length, without = s.length, 0
			copy(best, s.at)
		} else {
			order[i], order[k] = order[k], order[i]
		}
	}
	s.restore(best, length)
}

// byPlace returns the pieces in the order in which they lie along the strip.
func (s *state) byPlace() []int {
	order := make([]int, len(s.at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(s.boxes[i].x0, s.boxes[j].x0) })
	return order
}
