package strip

import (
	"cmp"
	"math"
	"slices"
)

// construct lays all pieces one by one, the one that is hardest to place first, as far to
// the start as they go on some lines along the strip.
func (s *state) construct() {
	order := make([]int, len(s.at))
	for i := range order {
		order[i] = i
		s.at[i] = s.start[i]
		s.boxes[i] = reach{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} // nowhere yet
		if q := s.at[i]; s.locked[i] {
			s.boxes[i] = s.reach(q.shape, q.x, q.y)
		} else {
			s.at[i].shape = s.poses[s.piece[i]][0]
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(s.shapes[s.at[j].shape].weight, s.shapes[s.at[i].shape].weight)
	})
	lines := min(max(allLines/len(s.at), leastLines), mostLines)
	far := 0.0 // of all that lie
	for i, q := range s.at {
		if s.locked[i] {
			far = max(far, s.boxes[i].x1+s.shapes[q.shape].margin)
		}
	}
	s.length = math.Inf(1)
	for _, i := range order {
		if s.locked[i] {
			continue
		}
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
		s.at[i] = best
		s.boxes[i] = s.reach(best.shape, best.x, best.y)
		far = max(far, s.boxes[i].x1)
	}
	s.length = s.far()
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
