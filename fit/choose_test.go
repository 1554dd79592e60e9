package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A thousand small garments, ten in each draw.
func TestChoiceEqualsTryingEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 10 {
			wanted := rapid.Float64Range(30, 90).Draw(t, "wanted")
			options := someOptions(t)
			requireBest(t, options, choose(options, wanted), wanted)
		}
	})
}

func someOptions(t *rapid.T) [][]option {
	options := make([][]option, rapid.IntRange(1, 4).Draw(t, "panels"))
	for p := range options {
		length := rapid.Float64Range(100, 900).Draw(t, "length")
		first := rapid.IntRange(1, 12).Draw(t, "first")
		for n := range rapid.IntRange(1, 6).Draw(t, "counts") {
			options[p] = append(options[p], option{2 * (first + n), length / float64(first+n)})
		}
	}
	return options
}

// requireBest compares a choice with all that there are.
func requireBest(t *rapid.T, options [][]option, pick []int, wanted float64) {
	spread, worst, sum := measures(options, pick, wanted)
	least := math.Inf(1)
	each(options, func(pick []int) {
		s, _, _ := measures(options, pick, wanted)
		least = min(least, s)
	})
	bestWorst, bestSum := math.Inf(1), math.Inf(1)
	each(options, func(pick []int) {
		if s, w, sum := measures(options, pick, wanted); s <= least+EqualWidths {
			if w < bestWorst-stepPrecision || math.Abs(w-bestWorst) <= stepPrecision && sum < bestSum {
				bestWorst, bestSum = w, sum
			}
		}
	})
	require.LessOrEqual(t, spread, least+EqualWidths+1e-9)
	require.InDelta(t, bestWorst, worst, 1e-9)
	require.InDelta(t, bestSum, sum, 1e-6)
}

func TestNextChoicesAreWorseAndEachIsTheBestWithItsChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := &Choice{Wanted: rapid.Float64Range(30, 90).Draw(t, "wanted"), options: someOptions(t)}
		c.pick = choose(c.options, c.Wanted)
		chosen := scoreOf(c.options, c.pick, c.Wanted)
		last := chosen
		for _, a := range c.Next(100) {
			require.NotEmpty(t, a.Changes)
			pick := append([]int(nil), c.pick...)
			for _, ch := range a.Changes {
				require.NotEqual(t, c.pick[ch.Run], ch.Option)
				pick[ch.Run] = ch.Option
			}
			s := scoreOf(c.options, pick, c.Wanted)
			require.InDelta(t, a.Spread, s.spread, 1e-9)
			require.InDelta(t, a.Worst, s.worst, 1e-9)
			require.GreaterOrEqual(t, s.spread, chosen.spread-EqualWidths-1e-9)
			require.LessOrEqual(t, last.spread, s.spread+2*EqualWidths)
			last = s
		}
	})
}

func measures(options [][]option, pick []int, wanted float64) (spread, worst, sum float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for p, i := range pick {
		w := options[p][i].width
		low, high = min(low, w), max(high, w)
		worst = max(worst, math.Abs(w-wanted))
		sum += math.Abs(w - wanted)
	}
	return high - low, worst, sum
}

func each(options [][]option, visit func([]int)) {
	pick := make([]int, len(options))
	var next func(p int)
	next = func(p int) {
		if p == len(options) {
			visit(pick)
			return
		}
		for i := range options[p] {
			pick[p] = i
			next(p + 1)
		}
	}
	next(0)
}
