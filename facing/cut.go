package facing

import (
	"errors"
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// addCut fills in the cut line of every edge, whose nets form a closed,
// counter-clockwise chain. mirrored says of an edge whether it is led across
// its neighbours as its own mirror image.
func addCut(edges []Edge, mirrored func(Edge) bool) error {
	n := len(edges)
	moved := make([]movedEdge, n)
	for i, e := range edges {
		before, after := edges[(i+n-1)%n], edges[(i+1)%n]
		var err error
		if moved[i], err = moveEdge(e.Net, e.Allowance, mirrored(e), before, after); err != nil {
			return fmt.Errorf("edge %d (%s): %w", i, e.Name, err)
		}
	}
	from, to := make([]float64, n), make([]float64, n)
	for i := range edges {
		j := (i + 1) % n
		a, b := moved[i], moved[j]
		pick := nearestCorner
		switch {
		case mirrored(edges[i]):
			pick = lastOnSecond
		case mirrored(edges[j]):
			pick = firstOnFirst
		}
		var ok bool
		if to[i], from[j], ok = meet(a, b, edges[i].Net.End(), pick); !ok {
			// Cut lines that never meet, as beside an edge of another
			// allowance in the same line: a straight step between their ends.
			to[i], from[j] = a.to, b.from
		}
	}
	for i := range edges {
		if from[i] >= to[i] {
			return fmt.Errorf("edge %d (%s) vanishes: the allowances beside it, %.1f and %.1f mm, take up all of it",
				i, edges[i].Name, edges[(i+n-1)%n].Allowance, edges[(i+1)%n].Allowance)
		}
		edges[i].Cut = moved[i].line.Sub(from[i], to[i])
	}
	// Where two meet they share one point.
	for i := range edges {
		next := edges[(i+1)%n].Cut
		cut := edges[i].Cut
		if cut.End().Dist(next.Start()) <= joinGap {
			cut.V[len(cut.V)-1].Point = next.Start()
		} else {
			edges[i].Cut = path.Join(0, cut, path.Open(cut.End(), next.Start()))
		}
	}
	return nil
}

// movedEdge is an edge moved outward, led on beyond both its ends; from and to
// are the distances along it beside the edge's own ends.
type movedEdge struct {
	line     *path.Ruler
	from, to float64
}

// moveEdge moves the net edge outward by the allowance, negative inward. It is
// led on beyond its ends, straight or as its mirror image in the line of the
// neighbouring edge.
func moveEdge(net path.Path, allowance float64, mirrored bool, before, after Edge) (movedEdge, error) {
	wide := math.Abs(allowance)
	head := leadOn(net.Reverse(), mirrored, before.Net.End(), before.Net.EndTangent(), wide+before.Allowance).Reverse()
	tail := leadOn(net, mirrored, after.Net.Start(), after.Net.StartTangent(), wide+after.Allowance)
	longer := path.Join(path.Coincident, head, net, tail)
	if allowance != 0 {
		chains, err := longer.Offset(allowance, path.Corner{})
		if err != nil {
			return movedEdge{}, err
		}
		if longer = longest(chains); len(longer.V) == 0 {
			return movedEdge{}, fmt.Errorf("nothing is left of it when it is moved by %.2f mm", allowance)
		}
	}
	line := path.NewRuler(longer)
	m := movedEdge{line: line}
	// Beside the net's ends, square to it.
	m.from, _ = line.Nearest(net.Start().Add(net.StartTangent().Right().Mul(allowance)))
	m.to, _ = line.Nearest(net.End().Add(net.EndTangent().Right().Mul(allowance)))
	return m, nil
}

// longest returns the longest of the open chains, the empty path when there is
// none. Closed ones are pockets between lobes that the edge closes in.
func longest(chains []path.Path) path.Path {
	var best path.Path
	most := 0.0
	for _, c := range chains {
		if l := c.Length(); !c.Closed && l > most {
			best, most = c, l
		}
	}
	return best
}

// leadOn returns what follows the edge beyond its end: a straight line, or the
// edge's mirror image in the line through the point along the direction, as
// far as reach mm to the side of that line.
func leadOn(net path.Path, mirrored bool, at path.Point, along path.Vec, reach float64) path.Path {
	if !mirrored {
		return path.Open(net.End(), net.End().Add(net.EndTangent().Mul(8*reach+1)))
	}
	// As much of the edge as lies beside the line: it can be one arc from one
	// side to the other, or come back to the line at its other end.
	r := path.NewRuler(net)
	near, step := net, (reach+1)/2
	for back := step; back < r.Length(); back += step {
		if math.Abs(r.At(r.Length()-back).Sub(at).Cross(along)) > reach {
			near = r.Sub(r.Length()-back, r.Length())
			break
		}
	}
	return near.Transform(path.Reflection(at, along)).Reverse()
}

// pick chooses among the places where two moved edges meet; it reports whether
// the distances a, b along the two are better than those before.
type pick func(a, b, oldA, oldB, off, oldOff float64) bool

func nearestCorner(_, _, _, _, off, oldOff float64) bool { return off < oldOff }

// firstOnFirst takes the meeting that comes first along the first edge: a side
// that runs down to a mirrored hem ends where it first meets it.
func firstOnFirst(a, _, oldA, _, _, _ float64) bool { return a < oldA }

// lastOnSecond takes the meeting that comes last along the second edge.
func lastOnSecond(_, b, _, oldB, _, _ float64) bool { return b > oldB }

// meet returns the distances along the two edges at which they meet beside the
// corner.
func meet(a, b movedEdge, corner path.Point, better pick) (alongA, alongB float64, ok bool) {
	off := math.Inf(1)
	for _, x := range a.line.Path().Intersections(b.line.Path()) {
		sa := a.line.Stop(x.I) + x.T*(a.line.Stop(x.I+1)-a.line.Stop(x.I))
		sb := b.line.Stop(x.J) + x.U*(b.line.Stop(x.J+1)-b.line.Stop(x.J))
		o := x.Point.Dist(corner)
		if !ok || better(sa, sb, alongA, alongB, o, off) {
			alongA, alongB, off, ok = sa, sb, o, true
		}
	}
	return alongA, alongB, ok
}

// moveHem returns the hem moved inward by the distance, from side to side: its
// ends lie on the lines of the sides.
func moveHem(hem Edge, before, after Edge, inward float64) (path.Path, error) {
	before.Allowance, after.Allowance = 0, 0
	m, err := moveEdge(hem.Net, -inward, true, before, after)
	if err != nil {
		return path.Path{}, err
	}
	end := func(side path.Path) (float64, bool) {
		// From a little beyond the corner, so that a hem moved by a hair still
		// meets it.
		on := side.Start().Add(side.StartTangent().Mul(-1))
		line := path.NewRuler(path.Join(path.Coincident, path.Open(on, side.Start()), side))
		along, _, ok := meet(m, movedEdge{line: line}, side.Start(), nearestCorner)
		return along, ok
	}
	from, ok1 := end(before.Net.Reverse())
	to, ok2 := end(after.Net)
	if !ok1 || !ok2 || from >= to {
		return path.Path{}, errors.New("moved by the favour, the hem does not reach its sides")
	}
	return m.line.Sub(from, to), nil
}

// mirroredHem says that an edge is led across its neighbours as its mirror
// image: the shaped hem and a facing's inner edge.
func mirroredHem(e Edge) bool { return e.Role == fit.HemEdge || e.Name == innerName }
