package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestChoiceEqualsTryingEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		panels := rapid.IntRange(1, 4).Draw(t, "panels")
		wanted := rapid.Float64Range(30, 90).Draw(t, "wanted")
		options := make([][]option, panels)
		for p := range options {
			length := rapid.Float64Range(100, 900).Draw(t, "length")
			first := rapid.IntRange(1, 12).Draw(t, "first")
			for n := range rapid.IntRange(1, 6).Draw(t, "counts") {
				options[p] = append(options[p], option{2 * (first + n), length / float64(first+n)})
			}
		}
		spread, worst, sum := measures(options, choose(options, wanted), wanted)

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
