package build_test

import (
	"testing"

	"engrail/facing"
	"engrail/plot"

	"github.com/stretchr/testify/require"
)

// skirts is a style of two panels in three sizes; the lines stand under facing.
func skirts(facing string) []byte {
	return []byte("engrail: 1\nstyle: Skirt\npanels:\n" +
		"  front: {gore: {waist: 360, hem: 800, length: 600}, half: fold}\n" +
		"  back: {gore: {waist: 360, hem: 800, length: 600}, half: seam}\n" +
		"seams: [[front finish, back finish]]\n" +
		"facing: {" + facing + "}\n" +
		"sizes:\n  S: {front: {hem: 500}, back: {hem: 500}}\n  M:\n  L: {front: {hem: 1100}, back: {hem: 1100}}\n")
}

func names(pieces []facing.Piece) (all []string) {
	for _, p := range pieces {
		all = append(all, p.Name)
	}
	return all
}

func TestSizesHaveTheSameSections(t *testing.T) {
	p := planOf(t, "skirt.yaml", skirts("kind: pieced, section: 340, interfacing: 3"))
	for _, s := range p.Sizes {
		require.Equal(t, names(p.Sizes[2].Pieces), names(s.Pieces))
	}
	require.Contains(t, names(p.Sizes[0].Pieces), "front interfacing 2 of 3")
	written(t, p)
}

func TestFacingInOnePieceIsTheSameInAllSizes(t *testing.T) {
	p := planOf(t, "skirt.yaml", skirts("kind: one piece"))
	for _, s := range p.Sizes {
		require.Equal(t, []string{"front", "back", "facing"}, names(s.Pieces))
	}
	_, report := written(t, p)
	for _, s := range report.Sizes {
		require.Len(t, s.Closings, 1)
		require.Equal(t, "front facing finish", s.Closings[0].A)
		require.InDelta(t, 0, s.Closings[0].Gap, 0.01)
	}
	p = planOf(t, "skirt.yaml", skirts("kind: one piece, section: 500"))
	for _, s := range p.Sizes {
		require.Equal(t, names(p.Sizes[2].Pieces), names(s.Pieces))
	}
	p = planOf(t, "skirt.yaml", skirts("kind: one piece, open at: back finish"))
	require.Equal(t, []string{"front", "back", "front facing", "back facing"}, names(p.Sizes[0].Pieces))
}

func TestBindingIsReported(t *testing.T) {
	p := planOf(t, "skirt.yaml", skirts("inner edge: bound"))
	pieces := p.Report().Sizes[0].Pieces
	require.Zero(t, pieces[0].BindingLength)
	require.InDelta(t, p.Sizes[0].Pieces[2].Binding, pieces[2].BindingLength, 1e-4)
	require.Positive(t, pieces[2].BindingLength)
}

func TestBandIsForStraightHems(t *testing.T) {
	p := planOf(t, "flounce.yaml", flounce("facing: {kind: band, depth: 30}"))
	require.InDelta(t, 300+30, p.Report().Sizes[0].Pieces[1].Width, 1e-6)
	written(t, p)
}

func TestFacingGrownOnIsOnTheGarmentsPiece(t *testing.T) {
	p := planOf(t, "flounce.yaml", flounce("facing: {kind: grown on, depth: 30, inner edge: bound}"))
	pieces := p.Report().Sizes[0].Pieces
	require.Len(t, pieces, 1)
	require.InDelta(t, 80+30+10, pieces[0].Height-15, 1e-6)
	require.InDelta(t, 300+20, pieces[0].BindingLength, 1e-6)
	stitched := 0
	for _, l := range plot.FromPiece(p.Sizes[0].Pieces[0], "Flounce").Lines {
		if l.Role == plot.Stitch {
			stitched++
		}
	}
	require.Equal(t, 3, stitched, "the hem twice, and sides and top")
	written(t, p)
}

func TestLiningsComeLast(t *testing.T) {
	p := planOf(t, "skirt.yaml", skirts("depth: none, lining: true"))
	require.Equal(t, []string{"front", "back", "front lining", "back lining"}, names(p.Sizes[0].Pieces))
	written(t, p)
}
