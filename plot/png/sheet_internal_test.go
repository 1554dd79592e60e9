package png

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWordsOverARowBeginOne(t *testing.T) {
	cells := []Cell{{Row: "counts"}, {}, {}, {Row: "shapes"}, {}, {}, {}, {Row: "depths"}}
	require.Equal(t, []placeInRow{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {2, 0}, {3, 0}}, placesOf(cells, 3))
	require.Equal(t, []placeInRow{{0, 0}, {0, 1}, {1, 0}}, placesOf(make([]Cell, 3), 2))
}
