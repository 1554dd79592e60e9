package fit

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// option is one count that a run can have and the width that it gives.
type option struct {
	halves int
	width  float64
}

// score is how good a choice is; the smaller the better, in this order.
type score struct {
	spread, worst, sum float64
	halves             int
}

// compare orders scores: spreads within EqualWidths are equal.
func (a score) compare(b score) int {
	switch {
	case math.Abs(a.spread-b.spread) > EqualWidths:
		return cmp.Compare(a.spread, b.spread)
	case math.Abs(a.worst-b.worst) > stepPrecision:
		return cmp.Compare(a.worst, b.worst)
	case math.Abs(a.sum-b.sum) > stepPrecision:
		return cmp.Compare(a.sum, b.sum)
	}
	return cmp.Compare(a.halves, b.halves)
}

// scoreOf returns the score of one option for every run.
func scoreOf(options [][]option, pick []int, wanted float64) score {
	var s score
	low, high := math.Inf(1), math.Inf(-1)
	for p, i := range pick {
		o := options[p][i]
		low, high = min(low, o.width), max(high, o.width)
		off := math.Abs(o.width - wanted)
		s.worst = max(s.worst, off)
		s.sum += off
		s.halves += o.halves
	}
	s.spread = high - low
	return s
}

// choose picks one option for every run: with the smallest spread of widths over
// all runs, differences below EqualWidths not counting, then with the
// smallest largest distance from the wanted width, then the smallest sum of
// distances, then the fewest repeats. Every run has an option. It returns
// the index of each run's.
//
// The smallest spread is the narrowest window over the sorted widths that
// holds an option of every run. Within any window the option nearest the
// wanted width is best for each run alone, so trying every option as the
// lower end of a window is exhaustive.
func choose(options [][]option, wanted float64) []int {
	type entry struct {
		run, index int
		width      float64
	}
	var all []entry
	sorted := make([][]entry, len(options)) // of each run, by width
	for p, list := range options {
		for i, o := range list {
			sorted[p] = append(sorted[p], entry{p, i, o.width})
		}
		slices.SortStableFunc(sorted[p], func(a, b entry) int { return cmp.Compare(a.width, b.width) })
		all = append(all, sorted[p]...)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].width < all[j].width })

	inside := make([]int, len(options)) // options of each run in the window
	missing := len(options)
	spread := math.Inf(1)
	low := 0
	for _, e := range all {
		if inside[e.run] == 0 {
			missing--
		}
		inside[e.run]++
		for missing == 0 {
			spread = min(spread, e.width-all[low].width)
			p := all[low].run
			if inside[p]--; inside[p] == 0 {
				missing++
			}
			low++
		}
	}

	var best []int
	var bestScore score
	pick := make([]int, len(options))
	for k, from := range all {
		if k > 0 && from.width == all[k-1].width {
			continue // the same window
		}
		to := from.width + spread + EqualWidths
		var total score
		for p, list := range sorted {
			// Of the options in the window that on either side of the wanted width.
			at := sort.Search(len(list), func(i int) bool { return list[i].width >= wanted })
			nearest, off := -1, math.Inf(1)
			try := func(i int) {
				if i < 0 || i >= len(list) || list[i].width < from.width || list[i].width > to {
					return
				}
				d, o := math.Abs(list[i].width-wanted), options[p][list[i].index]
				if d < off || d == off && o.halves < options[p][nearest].halves {
					nearest, off = list[i].index, d
				}
			}
			switch {
			case wanted < from.width:
				try(sort.Search(len(list), func(i int) bool { return list[i].width >= from.width }))
			case wanted > to:
				try(sort.Search(len(list), func(i int) bool { return list[i].width > to }) - 1)
			default:
				try(at)
				try(at - 1)
			}
			if nearest < 0 {
				total.halves = -1
				break
			}
			pick[p] = nearest
			total.worst = max(total.worst, off)
			total.sum += off
			total.halves += options[p][nearest].halves
		}
		if total.halves >= 0 && (best == nil || total.compare(bestScore) < 0) {
			best, bestScore = slices.Clone(pick), total
		}
	}
	return best
}

// Choice is which counts were chosen, and why.
type Choice struct {
	// Wanted is the wanted width.
	Wanted float64
	// Spread is the difference of the widest and the narrowest motif of ratio 1 over
	// all runs, Worst the greatest difference from the wanted width, in mm.
	Spread, Worst float64
	// Runs are the runs with a motif, of all panels.
	Runs []ChosenRun

	options [][]option
	pick    []int
}

// ChosenRun is a run with the counts that it could have.
type ChosenRun struct {
	Panel, Size string
	// Run counts the runs of the panel from 1, 0 when it has only one.
	Run int
	// Options are its counts within the limits, in growing order; Chosen is the index
	// of the chosen one. There is one only where it is fixed.
	Options []CountOption
	Chosen  int
	Fixed   bool
}

// CountOption is a number of repeats and the width that it gives, in mm.
type CountOption struct{ Repeats, Width float64 }

// Alternative is another choice: what it changes, and how good it is.
type Alternative struct {
	// Changes are the runs with another count, by their index in the choice, and the
	// index of their option.
	Changes       []Change
	Spread, Worst float64
}

// Change is a run with another of its options.
type Change struct{ Run, Option int }

// decide chooses the counts of the runs. Widths count by the run's own wanted width.
func decide(runs []*run) *Choice {
	if len(runs) == 0 {
		return &Choice{}
	}
	c := &Choice{Wanted: runs[0].spec.Width}
	for _, r := range runs {
		unit := c.Wanted / r.spec.Width
		options := make([]option, len(r.options))
		chosen := ChosenRun{Panel: r.panel.Name, Size: r.panel.Size, Run: r.number, Fixed: r.count > 0}
		for i, o := range r.options {
			options[i] = option{o.halves, o.width * unit}
			chosen.Options = append(chosen.Options, CountOption{r.repeats(o.halves), o.width})
		}
		c.options = append(c.options, options)
		c.Runs = append(c.Runs, chosen)
	}
	c.pick = choose(c.options, c.Wanted)
	for i, k := range c.pick {
		c.Runs[i].Chosen = k
		runs[i].chosen, runs[i].halves = runs[i].made[k], runs[i].options[k].halves
	}
	s := scoreOf(c.options, c.pick, c.Wanted)
	c.Spread, c.Worst = s.spread, s.worst
	return c
}

// Next returns the next best choices, the best of them first: for every run the best
// choice in which it has one repeat more, and one less.
func (c *Choice) Next(most int) []Alternative {
	type found struct {
		pick  []int
		score score
	}
	var all []found
	for p, list := range c.options {
		for _, k := range [2]int{c.pick[p] - 1, c.pick[p] + 1} {
			if k < 0 || k >= len(list) {
				continue
			}
			forced := slices.Clone(c.options)
			forced[p] = list[k : k+1]
			pick := choose(forced, c.Wanted)
			pick[p] = k
			if !slices.ContainsFunc(all, func(f found) bool { return slices.Equal(f.pick, pick) }) {
				all = append(all, found{pick, scoreOf(c.options, pick, c.Wanted)})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return a.score.compare(b.score) })
	var next []Alternative
	for _, f := range all[:min(len(all), most)] {
		a := Alternative{Spread: f.score.spread, Worst: f.score.worst}
		for p, k := range f.pick {
			if k != c.pick[p] {
				a.Changes = append(a.Changes, Change{p, k})
			}
		}
		next = append(next, a)
	}
	return next
}
