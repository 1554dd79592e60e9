package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// seams guesses which sides are sewn together: those of equal length, each with
// the one that leans most like it from the grain and is nearest to it in length. A straight middle is as long as the flared sides beside it.
func seams(pieces []Inspected) []SeamGuess {
	type side struct {
		SideRef
		length float64
		lean   float64 // the angle to the grain
		centre bool    // said to be in the middle, front or back
	}
	var sides []side
	for i, p := range pieces {
		for _, end := range [2]fit.End{fit.Start, fit.Finish} {
			if e := p.side(end); e != nil && e.Role == fit.SeamEdge {
				sides = append(sides, side{SideRef{i, end}, e.Path.Length(), p.lean(*e), slices.ContainsFunc(centreWords(), func(w string) bool { return hasWords(e.Reason, w) })})
			}
		}
	}
	type pair struct {
		a, b side
		off  float64
		lean float64
		rank int
	}
	var pairs []pair
	for i, a := range sides {
		for _, b := range sides[i+1:] {
			off := math.Abs(a.length - b.length)
			if a.centre != b.centre || off > max(seamSlack, seamRatio*max(a.length, b.length)) || pieces[a.Piece].Size != pieces[b.Piece].Size {
				continue
			}
			// A finish meets a start where the pieces go round in one direction, and
			// other pieces before copies of the same one.
			rank := 0
			switch {
			case a.Piece == b.Piece && (pieces[a.Piece].Quantity < 2 || pieces[a.Piece].OnFold):
				continue
			case a.Piece == b.Piece:
				rank = 2
			case a.End == b.End:
				rank = 1
			}
			pairs = append(pairs, pair{a, b, math.Round(off / lengthStep), math.Round(math.Abs(a.lean-b.lean) / leanStep), rank})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		ofOne := func(p pair) int { return p.rank / 2 }
		return cmp.Or(cmp.Compare(ofOne(a), ofOne(b)), cmp.Compare(a.lean, b.lean), cmp.Compare(a.off, b.off), cmp.Compare(a.rank, b.rank))
	})
	var all []SeamGuess
	taken := map[SideRef]bool{}
	for _, p := range pairs {
		if taken[p.a.SideRef] || taken[p.b.SideRef] {
			continue
		}
		taken[p.a.SideRef], taken[p.b.SideRef] = true, true
		reason := fmt.Sprintf("equally long: %.1f and %.1f mm", p.a.length, p.b.length)
		if p.a.Piece == p.b.Piece {
			reason += ", on copies of the same piece"
		}
		all = append(all, SeamGuess{p.a.SideRef, p.b.SideRef, p.a.length, p.b.length, reason})
	}
	// What is left of a piece that is cut more than once meets its mirror image.
	for _, s := range sides {
		if p := pieces[s.Piece]; !taken[s.SideRef] && p.Quantity > 1 && !p.OnFold {
			all = append(all, SeamGuess{s.SideRef, s.SideRef, s.length, s.length,
				fmt.Sprintf("no other side is as long, and the piece is cut %d times: it meets its mirror image", p.Quantity)})
		}
	}
	slices.SortStableFunc(all, func(a, b SeamGuess) int {
		return cmp.Or(cmp.Compare(a.A.Piece, b.A.Piece), cmp.Compare(a.A.End, b.A.End))
	})
	return all
}

// lean returns the angle between an edge and the grain, or the upright where the
// piece has no grain line.
func (p Inspected) lean(e InspectedEdge) float64 {
	grain := path.Vec{Y: 1}
	if p.Grain.Length() > 0 {
		grain = p.Grain.Chord().Unit()
	}
	chord := e.Path.End().Sub(e.Path.Start()).Unit()
	return math.Atan2(math.Abs(chord.Cross(grain)), math.Abs(chord.Dot(grain)))
}
