package png

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func keyKit(t require.TestingT, longest int) *kit {
	k, err := newKit(Options{Longest: longest})
	require.NoError(t, err)
	return k
}

// Whatever the labels and the page, the list has every word of every label, the
// entries one below the other in their order, and nothing over anything else.
func TestListOfLabelsIsCompleteAndInOrder(t *testing.T) {
	k := map[int]*kit{640: keyKit(t, 640), 1600: keyKit(t, 1600), 6400: keyKit(t, 6400)}
	rapid.Check(t, func(t *rapid.T) {
		k := k[rapid.SampledFrom([]int{640, 1600, 6400}).Draw(t, "longest")]
		words := rapid.SliceOfN(rapid.StringMatching(`[a-zA-Z0-9/]{1,14}`), 1, 30)
		left := make([]label, rapid.IntRange(1, 60).Draw(t, "labels"))
		for i := range left {
			left[i].lines = []string{strings.Join(words.Draw(t, "words"), " "), "size 44"}
		}
		page := rapid.Float64Range(0.4, 1).Draw(t, "page")*k.longest - 2*k.margin
		list := k.keyOf(left, page)
		require.Equal(t, len(left), list.numbered)
		require.Len(t, list.entries, len(left))
		require.LessOrEqual(t, list.width, k.longest-2*k.margin)
		size, column, y := keySize*k.unit, 0, 0
		for i, e := range list.entries {
			require.Equal(t, strings.Join(left[i].lines, ", "), strings.Join(e.lines, " "))
			for _, line := range e.lines {
				require.LessOrEqual(t, k.regular.width(line, size), list.column-keySign*k.unit+1e-6)
			}
			if e.column > column {
				column, y = e.column, 0
			}
			require.Equal(t, [2]int{column, y}, [2]int{e.column, e.y})
			y += len(e.lines)
			require.LessOrEqual(t, (keyBefore+float64(y)*keyLead+keyAfter)*k.unit, list.height+1e-6)
		}
		if gap := columnGap * k.unit; list.column <= page {
			require.LessOrEqual(t, float64(column+1)*(list.column+gap)-gap, page+1e-6, "beside the page")
		}
	})
}

func TestWordLongerThanALineIsBroken(t *testing.T) {
	k := keyKit(t, 640)
	word := strings.Repeat("herringbone", 30)
	lines := k.regular.wrap("a "+word+" b", 14, 200)
	require.Equal(t, "a"+word+"b", strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
	for _, l := range lines {
		require.LessOrEqual(t, k.regular.width(l, 14), 200.0)
	}
}

func TestEndlessListEndsWithTheCountOfTheRest(t *testing.T) {
	k := keyKit(t, 640)
	left := make([]label, 5000)
	for i := range left {
		left[i].lines = []string{fmt.Sprintf("mark %d", i)}
	}
	list := k.keyOf(left, 560)
	require.LessOrEqual(t, list.height, (keyMost+0.1)*k.longest)
	last := list.entries[len(list.entries)-1].lines
	require.Equal(t, []string{fmt.Sprintf("and %d more without room", 5000-list.numbered)}, last)
	require.Len(t, list.entries, list.numbered+1)
}
