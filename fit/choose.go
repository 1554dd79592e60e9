package fit

import (
	"math"
	"sort"
)

// option is one count that a panel can have and the width that it gives.
type option struct {
	halves int
	width  float64
}

// choose picks one option for every panel: with the smallest spread of widths
// over all panels, differences below EqualWidths not counting, then with the
// smallest largest distance from the wanted width, then the smallest sum of
// distances, then the fewest repeats. Every panel has an option. It returns
// the index of each panel's.
//
// The smallest spread is the narrowest window over the sorted widths that
// holds an option of every panel. Within any window the option nearest the
// wanted width is best for each panel alone, so trying every option as the
// lower end of a window is exhaustive.
func choose(options [][]option, wanted float64) []int {
	type entry struct {
		panel, index int
		width        float64
	}
	var all []entry
	for p, list := range options {
		for i, o := range list {
			all = append(all, entry{p, i, o.width})
		}
	}
	sort.Slice(all, func(i, j int) bool { return all[i].width < all[j].width })

	inside := make([]int, len(options)) // options of each panel in the window
	missing := len(options)
	spread := math.Inf(1)
	low := 0
	for _, e := range all {
		if inside[e.panel] == 0 {
			missing--
		}
		inside[e.panel]++
		for missing == 0 {
			spread = min(spread, e.width-all[low].width)
			p := all[low].panel
			if inside[p]--; inside[p] == 0 {
				missing++
			}
			low++
		}
	}

	type score struct {
		worst, sum float64
		halves     int
	}
	less := func(a, b score) bool {
		if math.Abs(a.worst-b.worst) > stepPrecision {
			return a.worst < b.worst
		}
		if math.Abs(a.sum-b.sum) > stepPrecision {
			return a.sum < b.sum
		}
		return a.halves < b.halves
	}
	var best []int
	var bestScore score
	for _, from := range all {
		pick := make([]int, len(options))
		var total score
		for p, list := range options {
			nearest, off := -1, math.Inf(1)
			for i, o := range list {
				if o.width < from.width || o.width > from.width+spread+EqualWidths {
					continue
				}
				d := math.Abs(o.width - wanted)
				if d < off || d == off && o.halves < list[nearest].halves {
					nearest, off = i, d
				}
			}
			if nearest < 0 {
				pick = nil
				break
			}
			pick[p] = nearest
			total.worst = max(total.worst, off)
			total.sum += off
			total.halves += list[nearest].halves
		}
		if pick != nil && (best == nil || less(total, bestScore)) {
			best, bestScore = pick, total
		}
	}
	return best
}
