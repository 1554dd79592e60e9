package fit_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"engrail/fit"
	"engrail/fit/draft"
	"engrail/fit/fittest"
	"engrail/motif"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// straightSizes are garments of one straight panel, as wide as said; a repeat of
// n is the n-th part of it.
func straightSizes(t require.TestingT, widths ...float64) []fit.Garment {
	var all []fit.Garment
	for i, w := range widths {
		p, err := draft.Straight{Width: w, Depth: 300}.Panel(draft.Form{Name: "flounce", Size: fmt.Sprint(34 + 2*i), Quantity: 1})
		require.NoError(t, err)
		all = append(all, fit.Garment{Panels: []fit.Panel{p}})
	}
	return all
}

func scallops(width float64) fit.Spec {
	return fit.Spec{Shape: motif.Shape{Kind: motif.Scallop}, Width: width, Depth: width / 4, Rest: fit.Peaks}
}

func TestOneSizeHoldsTheCountsOfItsFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, spec := fittest.Garment(t), fittest.Spec(t)
		spec.Least, spec.Most = 0, 0 // with limits, one size is not kept near the wanted width
		r, err := fit.Fit(g, spec)
		require.NoError(t, err)
		held, err := fit.HoldCounts([]fit.Garment{g}, spec)
		require.NoError(t, err)
		for i, f := range r.Panels {
			require.Equal(t, f.Repeats, held[i].Repeats)
			if joinedPeak(g, r, i, fit.Start) || joinedPeak(g, r, i, fit.Finish) {
				require.InEpsilon(t, f.Width, held[i].Chosen().Narrow, 0.2, "the end is eased to the other panel's")
			} else {
				require.InDelta(t, f.Width, held[i].Chosen().Narrow, 1e-9)
			}
			require.Equal(t, held[i].Chosen().Narrow, held[i].Chosen().Wide)
		}
	})
}

func TestHeldCountIsTheNearestOverAllSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := rapid.Float64Range(500, 1500).Draw(t, "first")
		step := rapid.Float64Range(0, 15).Draw(t, "step")
		wanted := rapid.Float64Range(30, 60).Draw(t, "wanted")
		var widths []float64
		for i := range rapid.IntRange(1, 9).Draw(t, "sizes") {
			widths = append(widths, first+step*float64(i))
		}
		held, err := fit.HoldCounts(straightSizes(t, widths...), scallops(wanted))
		require.NoError(t, err)
		last := widths[len(widths)-1]
		best, off := 0, math.Inf(1)
		for n := 1; n < 100; n++ {
			narrow, wide := first/float64(n), last/float64(n)
			if narrow < wanted*4/5 || wide > wanted*5/4 {
				continue
			}
			if d := math.Abs((narrow+wide)/2 - wanted); d < off {
				best, off = n, d
			}
		}
		require.Equal(t, best, held[0].Repeats)
		require.InDelta(t, first/float64(best), held[0].Chosen().Narrow, 1e-6)
		require.InDelta(t, last/float64(best), held[0].Chosen().Wide, 1e-6)
	})
}

// 580 and 620 mm in repeats of 55 mm: the middle of the widths is 54.5 mm with 11
// repeats, 60 mm with 10 and 50 mm with 12.
func TestHeldCountHasItsAlternatives(t *testing.T) {
	held, err := fit.HoldCounts(straightSizes(t, 580, 600, 620), scallops(55))
	require.NoError(t, err)
	require.Equal(t, 11, held[0].Repeats)
	var counts []int
	for _, o := range held[0].Options {
		counts = append(counts, o.Repeats)
		require.InDelta(t, 580/float64(o.Repeats), o.Narrow, 1e-6)
		require.InDelta(t, 620/float64(o.Repeats), o.Wide, 1e-6)
	}
	require.Equal(t, []int{10, 11, 12, 13}, counts, "44 to 68.75 mm are 580/13 to 620/10")
}

func TestPanelWithItsOwnCountHoldsIt(t *testing.T) {
	sizes := straightSizes(t, 580, 700)
	for i := range sizes {
		sizes[i].Panels[0].Count = 7
	}
	held, err := fit.HoldCounts(sizes, scallops(55))
	require.NoError(t, err)
	require.Equal(t, 7, held[0].Repeats)
}

// From 54 to 56 mm, 540 mm takes 10 repeats of 54 mm, 605 mm 11 of 55 mm.
func TestSizesWithoutACountInCommonAreNamed(t *testing.T) {
	spec := scallops(55)
	spec.Least, spec.Most = 54, 56
	_, err := fit.HoldCounts(straightSizes(t, 540, 550, 605), spec)
	require.EqualError(t, err, "panel flounce: no number of repeats from 54.0 to 56.0 mm wide fits every size: size 34 takes 10, size 38 takes 11")
	var e *fit.Error
	require.True(t, errors.As(err, &e))
	require.Equal(t, "10 repeats would do in all sizes if widths from 54.0 to 60.5 mm were allowed; or let the number of repeats grow with the size", e.Remedy())

	_, err = fit.HoldCounts(straightSizes(t, 540, 580), spec)
	require.EqualError(t, err, "panel flounce size 36: no whole number of repeats from 54.0 to 56.0 mm wide fits its hem of 580.0 mm")
}

func TestSizesOfDifferentPanelsAreRefused(t *testing.T) {
	sizes := straightSizes(t, 500, 600)
	sizes[1].Panels = append(sizes[1].Panels, sizes[0].Panels...)
	_, err := fit.HoldCounts(sizes, scallops(55))
	require.EqualError(t, err, "one size has 1 panels and another 2; give all the same panels")
	_, err = fit.HoldCounts(nil, scallops(55))
	require.EqualError(t, err, "there is no panel to fit")
}
