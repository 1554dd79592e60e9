package build_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFavourGoesByTheClothAndIsReported(t *testing.T) {
	const style = "engrail: 1\nmotif: {shape: point, width: 60, depth: 20}\n" +
		"panels: {front: {straight: {width: 600, depth: 300}}}\noutput: {formats: []}\n"
	for _, c := range []struct {
		text            string
		favour, outward float64
	}{
		{"", 1, 0},
		{"facing: {favour: auto}\n", math.Pi, 0},
		{"facing: {favour: auto}\ncloth: light\n", math.Pi / 2, 0},
		{"facing: {favour: auto, favour on: both}\ncloth: {thickness: 0.4}\n", 0.4 * math.Pi, 0.2 * math.Pi},
		{"facing: {favour: 2, favour on: both}\n", 2, 1},
		{"facing: {favour: 0}\n", 0, 0},
	} {
		p := planOf(t, "plain.yaml", []byte(style+c.text))
		panel := p.Report().Sizes[0].Panels[0]
		require.InDelta(t, c.favour, panel.Favour, 1e-4, c.text)
		require.InDelta(t, c.outward, p.Sizes[0].Favours[0].Outward, 1e-9, c.text)
		// Lines on both sides of a point lose the favour's tangent of half its turn, and
		// gain an arc of the turn at its valley.
		turn := 2 * math.Atan2(20, 30)
		require.InDelta(t, c.favour*(2*math.Tan(turn/2)-turn), panel.EasePerRepeat, 1e-3, c.text)
	}
	none := planOf(t, "plain.yaml", []byte(style+"facing: none\n"))
	require.Zero(t, none.Report().Sizes[0].Panels[0].Favour)
	require.Zero(t, none.Report().Sizes[0].Panels[0].EasePerRepeat)
}

func TestAllowancesEndAsTheStyleSays(t *testing.T) {
	const style = "engrail: 1\nmotif: {shape: point, width: 60, depth: 20}\nallowance: {hem: 6, side: 15, ends: %s}\n" +
		"panels: {front: {straight: {width: 600, depth: 300}, start: {motif: valley}, finish: {motif: valley}}}\noutput: {formats: []}\n"
	// Of a valley between slopes of 2 to 3, the cut line comes to the side a root of 13
	// thirds of its distance below the corner.
	deep := 6 * math.Sqrt(13) / 3
	for word, want := range map[string]float64{"mirrored": deep + 10, "squared": deep, "stepped": 6} {
		p := planOf(t, "plain.yaml", fmt.Appendf(nil, style, word))
		garment := p.Sizes[0].Pieces[0]
		corner := garment.Edges[1].Net.Start()
		require.InDelta(t, want, corner.Y-garment.Edges[1].Cut.Start().Y, 1e-6, word)
	}
}
