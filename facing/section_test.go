package facing_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"
	"engrail/motif"
	"engrail/motif/path"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// eachSectioned checks a fact on the facings of random garments and on the
// sections that they are cut in.
func eachSectioned(t *testing.T, fact func(t *rapid.T, o facing.Options, whole facing.Piece, parts []facing.Piece)) {
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, r := fittest.Fitted(t)
		o := options(t)
		whole := makeOrSkip(t, r, o)
		o.Section = rapid.Float64Range(250, 700).Draw(t, "section")
		o.AtPeaks = rapid.Bool().Draw(t, "at peaks")
		made := makeOrSkip(t, r, o)
		for _, w := range whole.Facings {
			var parts []facing.Piece
			for _, p := range made.Facings {
				if p.Panel == w.Panel {
					parts = append(parts, p)
				}
			}
			require.Len(t, parts, made.Sections[w.Name])
			if len(parts) > 1 {
				seen++
			}
			fact(t, o, w, parts)
		}
	})
	require.Positive(t, seen)
}

// offNet measures distances from the net line of the piece.
func offNet(p facing.Piece) func(q path.Point) float64 {
	net := path.NewRuler(p.Net())
	return func(q path.Point) float64 {
		_, off := net.Nearest(q)
		return off
	}
}

func TestSectionsLaidOnTheFacingCoincideWithIt(t *testing.T) {
	eachSectioned(t, func(t *rapid.T, o facing.Options, whole facing.Piece, parts []facing.Piece) {
		area, hem, inner := 0.0, 0.0, 0.0
		off := offNet(whole)
		for i, p := range parts {
			area += p.Net().Area()
			hem += p.Edges[0].Net.Length()
			inner += p.Edges[2].Net.Length()
			for k, e := range p.Edges {
				joined := k == 1 && i < len(parts)-1 || k == 3 && i > 0
				if joined {
					require.Equal(t, fit.SeamEdge, e.Role)
					continue
				}
				for _, q := range samples(e.Net, 10) {
					require.InDelta(t, 0, off(q), 1e-6)
				}
			}
		}
		require.InDelta(t, whole.Net().Area(), area, 1e-3)
		require.InDelta(t, whole.Edges[0].Net.Length(), hem, 1e-5)
		require.InDelta(t, whole.Edges[2].Net.Length(), inner, 1e-5)
	})
}

func TestNoSectionIsLongerThanWanted(t *testing.T) {
	eachSectioned(t, func(t *rapid.T, o facing.Options, whole facing.Piece, parts []facing.Piece) {
		for _, p := range parts {
			points := p.Unfold().Cut().Flatten(1)
			for i, a := range points {
				for _, b := range points[i+1:] {
					require.LessOrEqual(t, a.Dist(b), o.Section*(1+2e-5))
				}
			}
		}
	})
}

func TestSectionsMeetEdgeOnEdgeAndMatch(t *testing.T) {
	eachSectioned(t, func(t *rapid.T, o facing.Options, whole facing.Piece, parts []facing.Piece) {
		for i := range parts[1:] {
			a, b := parts[i], parts[i+1]
			require.Equal(t, a.Edges[1].Net, b.Edges[3].Net.Reverse())
			require.Equal(t, a.Edges[1].Allowance, b.Edges[3].Allowance)
			on := func(p facing.Piece, edge int) (at []path.Point) {
				for _, n := range p.Notches {
					if n.Edge == edge {
						at = append(at, n.Net)
					}
				}
				return at
			}
			require.Len(t, on(a, 1), 1)
			require.Equal(t, on(a, 1), on(b, 3))
			require.Equal(t, fmt.Sprint(i+1), a.Texts[len(a.Texts)-1].String)
			require.Equal(t, fmt.Sprint(i+1), b.Texts[0].String)
		}
		clips := 0
		for i, p := range parts {
			if len(parts) > 1 {
				require.Equal(t, fmt.Sprintf("%s %d of %d", whole.Name, i+1, len(parts)), p.Name)
			}
			clips += len(p.Clips)
			require.Empty(t, p.Cut().SelfIntersections())
		}
		require.GreaterOrEqual(t, clips, len(whole.Clips)-2*len(parts))
	})
}

func TestSectionsAtValleysStandSquareToAStraightHem(t *testing.T) {
	o := usual()
	o.Section = 250
	made, err := facing.Make(straight(t, 900, 60), o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 5)
	for i, p := range made.Facings {
		repeats := p.Edges[0].Net.End().Sub(p.Edges[0].Net.Start()).Len() / 60
		require.InDelta(t, 3, repeats, 1e-6)
		require.Equal(t, fmt.Sprintf("front facing %d of 5", i+1), p.Name)
		require.Equal(t, "part of 15 scallops 60 x 20 mm", p.Label.Lines[2])
		require.InDelta(t, 0, math.Abs(p.Edges[1].Net.StartTangent().X), 1e-9)
	}
}

func TestSectionsOfAFacingOnTheFoldAreCutInPairs(t *testing.T) {
	o := usual()
	o.Section = 300
	made, err := facing.Make(skirt(t, true), o)
	require.NoError(t, err)
	require.Len(t, made.Facings, 2)
	middle, side := made.Facings[0], made.Facings[1]
	require.True(t, middle.OnFold)
	require.Equal(t, 1, middle.Quantity)
	require.False(t, side.OnFold)
	require.True(t, side.Pairs)
	require.Equal(t, 2, side.Quantity)
	require.Contains(t, side.Label.Lines[1], "cut 2, one mirrored")
}

func TestSectionShorterThanARepeatIsRefused(t *testing.T) {
	o := usual()
	o.Section = 60
	_, err := facing.Make(straight(t, 900, 60), o)
	var own *facing.Error
	require.ErrorAs(t, err, &own)
	require.True(t, strings.HasPrefix(err.Error(), "front facing: cut at every valley the longest section is still "), err)
	require.Contains(t, own.Remedy(), "allow sections of at least ")

	o.Section, o.Sections = 400, map[string]int{"front facing": 40}
	_, err = facing.Make(straight(t, 900, 60), o)
	require.ErrorContains(t, err, "another size has it in 40 sections, but it can be cut at 14 valleys only")
}

func TestSectionsOfARingHaveTheClipOfAJoinOnBothSides(t *testing.T) {
	r, err := fit.Fit(fit.Garment{Panels: []fit.Panel{cloths()["disc"]}}, fit.Spec{Shape: motif.Shape{Kind: motif.Scallop}, Width: 60, Depth: 14})
	require.NoError(t, err)
	made, err := facing.Make(r, facing.Options{Depth: 45, Hem: 6, Inner: 6, SideAsPanel: true, ClipGap: 1.5, Section: 1000})
	require.NoError(t, err)
	require.Greater(t, len(made.Facings), 1)
	clips := 0
	for _, p := range made.Facings {
		clips += len(p.Clips)
	}
	require.Equal(t, len(r.Panels[0].ClipPlaces())+len(made.Facings), clips)
}
