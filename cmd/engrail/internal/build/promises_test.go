package build_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// topAllowance is the allowance of the top in random styles, in mm.
const topAllowance = 10

// randomStyle draws the style file of a skirt of two drafted panels with any
// motif, joined at the side and at the centre back.
func randomStyle(t *rapid.T) []byte {
	var b strings.Builder
	number := func(low, high float64, what string) float64 {
		return math.Round(rapid.Float64Range(low, high).Draw(t, what)*10) / 10
	}
	width := number(35, 70, "width")
	// All but those that have to be deeper than they are here, that are wider than their
	// foot, or that end in a cusp.
	shape := rapid.SampledFrom([]string{"scallop", "point", "wave", "engrailed", "elliptical", "petal", "tab", "stepped"}).Draw(t, "shape")
	fmt.Fprintf(&b, "engrail: 1\nstyle: Any\nmotif: {shape: %s, width: %g, depth: %g, least: %g, most: %g, lay: %s, rest: %s",
		shape, width, number(0.1, 0.28, "depth")*width, width*0.7, width*1.4,
		rapid.SampledFrom([]string{"rigid", "bent"}).Draw(t, "lay"),
		rapid.SampledFrom([]string{"peaks", "middle", "valleys"}).Draw(t, "rest"))
	if rapid.Bool().Draw(t, "flat") && shape != "tab" { // slits between them
		b.WriteString(", flat: 2")
	}
	fmt.Fprintf(&b, "}\nallowance: {hem: %g, side: %g, top: %d, inner: %g}\n", number(4, 8, "hem"), number(0, 18, "side"), topAllowance, number(0, 8, "inner"))
	phase := rapid.SampledFrom([]string{"valley", "peak"}).Draw(t, "phase at the seams")
	draft := func() string {
		if rapid.Bool().Draw(t, "round") {
			return fmt.Sprintf("circle: {waist: %g, length: 550, part: %g, panels: 2}", number(600, 800, "waist"), number(0.3, 0.8, "part"))
		}
		hem := number(620, 900, "hem")
		return fmt.Sprintf("gore: {waist: %g, hem: %g, length: 550}", number(0.5, 0.9, "waist")*hem, hem)
	}
	front := draft()
	back := draft()
	fmt.Fprintf(&b, "panels:\n"+
		"  front: {%s, half: fold, finish: {motif: %s, notches: [60, 240]}}\n"+
		"  back: {%s, half: seam, start: {motif: %[2]s}, finish: {motif: %[2]s, notches: [60, 240]}}\n", front, phase, back)
	fmt.Fprintf(&b, "seams: [[front finish, back finish]]\nfacing: {depth: %g, favour: %g}\n", number(35, 60, "facing"), number(0, 2, "favour"))
	return []byte(b.String())
}

// eachPlan checks a fact on the demo, and on random drafted styles.
func eachPlan(t *testing.T, fact func(t require.TestingT, p *build.Plan, size build.Size)) {
	t.Run("demo", func(t *testing.T) {
		p := demoPlan(t)
		fact(t, p, p.Sizes[0])
	})
	t.Run("drafted", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			p := planOf(t, "any.yaml", randomStyle(t))
			fact(t, p, p.Sizes[0])
		})
	})
}

// corner is the end of a drafted hem and the direction of its side from there
// into the panel.
type corner struct {
	at path.Point
	up path.Vec
}

func cornerOf(p fit.Panel, e fit.End) corner {
	if e == fit.Start {
		return corner{p.Edges[0].Path.Start(), p.Edges[len(p.Edges)-1].Path.EndTangent().Neg()}
	}
	return corner{p.Edges[0].Path.End(), p.Edges[1].Path.StartTangent()}
}

// beside returns the motion that lays panel b with its end beside panel a's, as
// the two lie when their seam is opened out: corner on corner and side along
// side, b turned over when both ends are starts or both finishes.
func beside(a, b fit.Panel, seam fit.Seam) path.Similarity {
	to, from := cornerOf(a, seam.A.End), cornerOf(b, seam.B.End)
	m := path.Translation(path.Vec{})
	if seam.A.End == seam.B.End {
		m = path.Reflection(from.at, from.up)
	}
	return m.Then(path.Rotation(from.at, from.up.AngleTo(to.up))).Then(path.Translation(to.at.Sub(from.at)))
}

// sewn returns the motion that lays panel b on panel a right sides together,
// seam line on seam line.
func sewn(a, b fit.Panel, seam fit.Seam) path.Similarity {
	to := cornerOf(a, seam.A.End)
	return beside(a, b, seam).Then(path.Reflection(to.at, to.up))
}

// endOf returns the end of a line that runs with the hem.
func endOf(p path.Path, e fit.End) path.Point {
	if e == fit.Start {
		return p.Start()
	}
	return p.End()
}

// pieceOf returns the garment piece or the facing of a panel.
func pieceOf(t require.TestingT, size build.Size, panel string, kind facing.Kind) facing.Piece {
	for _, p := range size.Pieces {
		if p.Panel == panel && p.Kind == kind {
			return p
		}
	}
	require.Fail(t, "no piece", "%s %v", panel, kind)
	return facing.Piece{}
}

// seamPieces calls visit with the two pieces that each seam joins, garments and
// facings, and the motions that lay the second beside and on the first.
func seamPieces(t require.TestingT, size build.Size, visit func(seam fit.Seam, a, b facing.Piece, beside, sewn path.Similarity)) {
	for _, s := range size.Fit.Seams {
		a, b := size.Fit.Panels[s.Seam.A.Panel].Panel, size.Fit.Panels[s.Seam.B.Panel].Panel
		for _, kind := range []facing.Kind{facing.Garment, facing.Facing} {
			visit(s.Seam, pieceOf(t, size, a.Name, kind), pieceOf(t, size, b.Name, kind), beside(a, b, s.Seam), sewn(a, b, s.Seam))
		}
	}
}

// reachOf returns how far along its panel's side a point lies from the drafted
// hem's corner, positive outward, and how far off the side it is.
func reachOf(p fit.Panel, e fit.End, q path.Point) (reach, off float64) {
	side := p.Edges[1].Path
	if e == fit.Start {
		side = p.Edges[len(p.Edges)-1].Path.Reverse()
	}
	const on = 100 // straight, beyond the corner
	out := side.Start().Add(side.StartTangent().Mul(-on))
	along, off := path.NewRuler(path.Join(0, path.Open(out, side.Start()), side)).Nearest(q)
	return on - along, off
}

// Sewn point on point from the drafted hem's corners, the two sides of a seam
// bring the ends of the shaped hems together, and those of the facings' edges.
func TestEdgesRunOnAcrossTheSeam(t *testing.T) {
	eachPlan(t, func(t require.TestingT, _ *build.Plan, size build.Size) {
		seamPieces(t, size, func(seam fit.Seam, a, b facing.Piece, beside, _ path.Similarity) {
			pa, pb := size.Fit.Panels[seam.A.Panel].Panel, size.Fit.Panels[seam.B.Panel].Panel
			meet := func(what string, la, lb path.Path) {
				p, q := endOf(la, seam.A.End), endOf(lb, seam.B.End)
				ra, offA := reachOf(pa, seam.A.End, p)
				rb, offB := reachOf(pb, seam.B.End, q)
				require.LessOrEqual(t, offA, 0.001, "%s of %s lies on the seam line", what, a.Name)
				require.LessOrEqual(t, offB, 0.001, "%s of %s lies on the seam line", what, b.Name)
				require.InDelta(t, ra, rb, 0.01, "%s of %s and %s", what, a.Name, b.Name)
				if straight := pa.Edges[1].Path.Segments() == 1 && pb.Edges[1].Path.Segments() == 1; straight {
					require.LessOrEqual(t, p.Dist(beside.Apply(q)), 0.01, "%s of %s and %s, opened out", what, a.Name, b.Name)
				}
			}
			meet("hem", a.Edges[0].Net, b.Edges[0].Net)
			if a.Kind == facing.Facing {
				meet("inner edge", a.Edges[2].Net.Reverse(), b.Edges[2].Net.Reverse())
			}
		})
	})
}

// The drafted hem turns by less than a tenth of a degree, which no one sees.
func TestDemoHemIsSmoothAcrossItsSeams(t *testing.T) {
	size := demoPlan(t).Sizes[0]
	for _, s := range size.Fit.Seams {
		a, b := size.Fit.Panels[s.Seam.A.Panel].Panel, size.Fit.Panels[s.Seam.B.Panel].Panel
		along := func(p fit.Panel, e fit.End) path.Vec { // towards the seam
			if e == fit.Start {
				return p.Edges[0].Path.StartTangent().Neg()
			}
			return p.Edges[0].Path.EndTangent()
		}
		on := beside(a, b, s.Seam).ApplyVec(along(b, s.Seam.B.End)).Neg()
		turn := along(a, s.Seam.A.End).AngleTo(on) * 180 / math.Pi
		require.InDelta(t, 0, turn, 0.1)
		require.InDelta(t, s.HemTurn*180/math.Pi, math.Abs(turn), 2*math.Abs(turn)+1e-9)
	}
}

// atSides reports whether q lies within the distance of the line of one of the
// panel's sides.
func atSides(p fit.Panel, q path.Point, distance float64) bool {
	for _, e := range []fit.End{fit.Start, fit.Finish} {
		c := cornerOf(p, e)
		if math.Abs(q.Sub(c.at).Cross(c.up)) < distance {
			return true
		}
	}
	return false
}

// samples returns points along the path at most the step apart.
func samples(p path.Path, step float64) []path.Point {
	r := path.NewRuler(p)
	n := int(r.Length()/step) + 1
	list := make([]path.Point, n+1)
	for i := range list {
		list[i] = r.At(r.Length() * float64(i) / float64(n))
	}
	return list
}

// The facing's hem is the garment's, moved in. Beside a seam the garment's
// nearest place may be on the mirror image beyond it, and the two facings'
// ends may have to give to meet.
func TestFacingHemLiesInsideTheGarmentsByTheFavour(t *testing.T) {
	eachPlan(t, func(t require.TestingT, p *build.Plan, size build.Size) {
		favour := float64(p.Style.Facing.Favour)
		for _, f := range size.Fit.Panels {
			garment, made := pieceOf(t, size, f.Panel.Name, facing.Garment), pieceOf(t, size, f.Panel.Name, facing.Facing)
			hem, moved := path.NewRuler(garment.Edges[0].Net), path.NewRuler(made.Edges[0].Net)
			inside := garment.Net()
			for _, q := range samples(moved.Path(), 3) {
				_, off := hem.Nearest(q)
				require.GreaterOrEqual(t, off, favour-0.1)
				if !atSides(f.Panel, q, 2*favour+3) {
					require.InDelta(t, favour, off, 1e-4)
					require.True(t, favour == 0 || inside.Contains(q), "moved inward")
				}
			}
			// A tip of half its angle a leaves favour/sin a; none is that sharp.
			for _, q := range samples(hem.Path(), 3) {
				_, off := moved.Nearest(q)
				require.LessOrEqual(t, off, 6*favour+1e-9, "nothing of the hem is left out")
			}
		}
	})
}

func TestInnerEdgeIsAtTheFacingDepthFromSideToSide(t *testing.T) {
	eachPlan(t, func(t require.TestingT, p *build.Plan, size build.Size) {
		for _, f := range size.Fit.Panels {
			valley, outline := path.NewRuler(f.Valley), f.Panel.Outline()
			for _, q := range samples(pieceOf(t, size, f.Panel.Name, facing.Facing).Edges[2].Net, 5) {
				_, off := valley.Nearest(q)
				require.InDelta(t, float64(p.Style.Facing.Depth), off, 0.05)
				require.True(t, atSides(f.Panel, q, 1) || outline.Contains(q))
			}
		}
	})
}

// fromHem returns how far the notches on the side beside a hem's end lie from
// the hem along the side, in order.
func fromHem(p facing.Piece, e fit.End) []float64 {
	k := 1
	if e == fit.Start {
		k = len(p.Edges) - 1
	}
	var all []float64
	for _, n := range p.Notches {
		if n.Edge != k {
			continue
		}
		at := n.At
		if e == fit.Start {
			at = p.Edges[k].Net.Length() - at
		}
		all = append(all, at)
	}
	slices.Sort(all)
	return all
}

func TestNotchesOnJoinedSidesMeet(t *testing.T) {
	eachPlan(t, func(t require.TestingT, p *build.Plan, size build.Size) {
		seen := 0
		seamPieces(t, size, func(seam fit.Seam, a, b facing.Piece, _, _ path.Similarity) {
			at, with := fromHem(a, seam.A.End), fromHem(b, seam.B.End)
			seen += len(at)
			require.InDeltaSlice(t, with, at, 0.05, "%s and %s", a.Name, b.Name)
			for _, n := range a.Notches {
				require.InDelta(t, 0, path.NewRuler(a.Edges[n.Edge].Net).At(n.At).Dist(n.Net), 0.01)
				_, off := path.NewRuler(a.Edges[n.Edge].Cut).Nearest(n.Line.A)
				require.InDelta(t, 0, off, 0.002, "it starts on the cut edge")
			}
		})
		require.GreaterOrEqual(t, seen, 2)
	})
}

// beyond returns how far q lies beyond the seam line at a corner, negative
// inside the panel.
func (c corner) beyond(q path.Point, e fit.End) float64 {
	off := q.Sub(c.at).Cross(c.up)
	if e == fit.Start {
		return -off
	}
	return off
}

// Of any two panels, whose repeats may differ in width, all that is cut beyond
// the seam lies edge on edge when they are laid right sides together: the side's
// allowance and what hem and inner edge have there. What the tops have is the
// panels' own.
func TestCutEdgesOfASeamLieEdgeOnEdgeWhenSewn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := planOf(t, "any.yaml", randomStyle(t)).Sizes[0]
		seamPieces(t, size, func(seam fit.Seam, a, b facing.Piece, _, sewn path.Similarity) {
			c := cornerOf(size.Fit.Panels[seam.A.Panel].Panel, seam.A.End)
			other := path.NewRuler(b.Cut().Transform(sewn))
			side := sideOf(a, seam.A.End).Length()
			for _, q := range samples(a.Cut(), 2) {
				up := q.Sub(c.at).Dot(c.up)
				atTop := a.Kind == facing.Garment && up > side-2*topAllowance
				if out := c.beyond(q, seam.A.End); out > 1e-6 && !atTop {
					_, off := other.Nearest(q)
					require.LessOrEqual(t, off, 0.01, "%s and %s, %.1f mm beyond the seam", a.Name, b.Name, out)
				}
			}
		})
	})
}

// sideOf returns the side of a piece at an end, run up from the hem.
func sideOf(p facing.Piece, e fit.End) path.Path {
	if e == fit.Start {
		return p.Edges[len(p.Edges)-1].Net.Reverse()
	}
	return p.Edges[1].Net
}

// When an allowance of the demo is pressed open, it lies on its own piece and
// the hem's cut edges in it on the hem's.
func TestDemoAllowancesPressOpenEdgeOnEdge(t *testing.T) {
	size := demoPlan(t).Sizes[0]
	seamPieces(t, size, func(seam fit.Seam, a, _ facing.Piece, _, _ path.Similarity) {
		side := sideOf(a, seam.A.End)
		ends := map[int]corner{0: {side.Start(), side.StartTangent()}}
		if a.Kind == facing.Facing {
			ends[2] = corner{side.End(), side.EndTangent()}
		}
		for k, c := range ends {
			image := path.NewRuler(a.Edges[k].Cut.Transform(path.Reflection(c.at, c.up)))
			out := 0.0
			for _, q := range samples(a.Edges[k].Cut, 0.5) {
				if x := c.beyond(q, seam.A.End); x > 0.01 {
					out = max(out, x)
					_, off := image.Nearest(q)
					require.LessOrEqual(t, off, 0.01, "%s, %.1f mm beyond the seam", a.Name, x)
				}
			}
			require.InDelta(t, 15, out, 1, "%s is led across its allowance", a.Name)
		}
	})
}
