package strip

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCellsFindEveryBoxThatMeetsAnotherOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "pieces")
		c := newCells(rapid.Float64Range(0.1, 50).Draw(t, "width"), n)
		box := rapid.Custom(func(t *rapid.T) reach {
			x, y := rapid.Float64Range(-5, 500).Draw(t, "x"), rapid.Float64Range(0, 20).Draw(t, "y")
			return reach{x, y, x + rapid.Float64Range(0, 120).Draw(t, "w"), y + rapid.Float64Range(0, 20).Draw(t, "h")}
		})
		nowhere := reach{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		boxes := make([]reach, n)
		for i := range boxes {
			boxes[i] = nowhere
		}
		for range rapid.IntRange(1, 100).Draw(t, "moves") {
			i := rapid.IntRange(0, n-1).Draw(t, "moved")
			boxes[i] = box.Draw(t, "box")
			if rapid.IntRange(0, 9).Draw(t, "lifted") == 0 {
				boxes[i] = nowhere
			}
			c.put(i, &boxes[i])
			k := rapid.IntRange(0, n-1).Draw(t, "asked for")
			near := c.appendNear(nil, k, &boxes[k])
			slices.Sort(near)
			require.Equal(t, len(near), len(slices.Compact(slices.Clone(near))))
			for j := range boxes {
				if j != k && boxes[k].meets(&boxes[j]) {
					require.Contains(t, near, int32(j))
				}
			}
		}
	})
}
