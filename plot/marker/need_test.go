package marker_test

import (
	"context"
	"testing"

	"engrail/plot/marker"

	"github.com/stretchr/testify/require"
)

func TestClothIsSoldInStepsRoundedUp(t *testing.T) {
	for mm, want := range map[float64]string{0.1: "0.1 m", 100: "0.1 m", 100.001: "0.2 m", 2326.1: "2.4 m", 3000: "3.0 m"} {
		require.Equal(t, want, marker.Metres.Sold(mm))
	}
	yard := 914.4
	for mm, want := range map[float64]string{1: "1/8 yd", yard / 4: "1/4 yd", yard: "1 yd", yard + 1: "1 1/8 yd", 2.49 * yard: "2 1/2 yd"} {
		require.Equal(t, want, marker.Yards.Sold(mm))
	}
}

func TestNeedsAreThoseOfTheUsualWidths(t *testing.T) {
	pieces := []marker.Piece{square("front", 1200, 1), square("back", 300, 2)}
	needs, err := marker.Needs(context.Background(), pieces, marker.Order{{Count: 1}}, marker.Cloth{Gap: 3, Selvage: 12.7}, marker.Metres.Bolts(), marker.Options{Level: 1})
	require.NoError(t, err)
	require.Len(t, needs, 4)
	for _, n := range needs[:2] {
		require.Nil(t, n.Marker)
		require.ErrorContains(t, n.Narrow, "front is 1200 mm across the grain")
	}
	for _, n := range needs[2:] {
		require.Nil(t, n.Narrow)
		require.Equal(t, n.Width, n.Marker.Cloth.Width)
		require.GreaterOrEqual(t, n.Marker.Length(), 1200.0)
	}
	require.Equal(t, "140 cm", needs[2].Name)

	_, err = marker.Needs(context.Background(), pieces, marker.Order{{Count: 0}}, marker.Cloth{}, marker.Yards.Bolts(), marker.Options{Level: 1})
	require.EqualError(t, err, "the order has 0 garments")
}
