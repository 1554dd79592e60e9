package path

import (
	"cmp"
	"math"
	"slices"
)

// OverlapArea returns the area in mm^2 that two closed outlines share, of
// either direction. Arcs count as their inscribed chords, which rise at most
// chordError, in mm: an outline gains or loses at most chordError times the
// length of its arcs. It fails when an outline is open, crosses itself or has
// no numbers, or when the chords are more than 20000.
//
// It needs no clipping: the shared area is the integral of the product of the
// two winding numbers, and each of those is a sum over edges.
func OverlapArea(a, b Path, chordError float64) (float64, error) {
	p, err := newRegion("first", []Path{a}, chordError, false)
	if err != nil {
		return 0, err
	}
	q, err := newRegion("second", []Path{b}, chordError, false)
	if err != nil {
		return 0, err
	}
	return max(0, p.shared(q)) / (gridPerMM * gridPerMM), nil
}

// slope is an edge that is not upright, from left to right. It counts up when
// what lies below it is inside.
type slope struct {
	x0, y0, x1, y1 float64
	sign           float64
}

func (s slope) at(x float64) float64 {
	return s.y0 + (s.y1-s.y0)*((x-s.x0)/(s.x1-s.x0))
}

// slopes returns the edges from left to right.
func (r region) slopes() []slope {
	list := make([]slope, 0, r.size())
	for _, ring := range r {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			switch {
			case p.X < q.X:
				list = append(list, slope{p.X, p.Y, q.X, q.Y, -1})
			case p.X > q.X:
				list = append(list, slope{q.X, q.Y, p.X, p.Y, 1})
			}
		}
	}
	slices.SortFunc(list, func(a, b slope) int { return cmp.Compare(a.x0, b.x0) })
	return list
}

// shared returns the integral of the product of the winding numbers of r and
// q. The winding number at a point is the sum of the signs of the edges above
// it, so that the integral is the sum over pairs of edges of the area below
// both. For plain regions it is the area that they share.
func (r region) shared(q region) float64 {
	box := r.bounds()
	if !box.Meets(q.bounds()) {
		return 0
	}
	floor := box.Centre().Y // any will do: the signs above a point add up to 0
	mine, others := r.slopes(), q.slopes()
	var mineNow, othersNow []slope // those that have begun and may not have ended
	sum := 0.0
	for len(mine)+len(others) > 0 {
		if len(others) == 0 || len(mine) > 0 && mine[0].x0 <= others[0].x0 {
			sum += mine[0].belowAll(&othersNow, floor)
			mineNow = append(mineNow, mine[0])
			mine = mine[1:]
		} else {
			sum += others[0].belowAll(&mineNow, floor)
			othersNow = append(othersNow, others[0])
			others = others[1:]
		}
	}
	return sum
}

// belowAll returns the signed areas below the edge and each of the others,
// which begin before it, and drops those that end before it.
func (s slope) belowAll(others *[]slope, floor float64) float64 {
	sum := 0.0
	kept := (*others)[:0]
	for _, f := range *others {
		if f.x1 > s.x0 {
			kept = append(kept, f)
			sum += s.sign * f.sign * belowBoth(s, f, floor)
		}
	}
	*others = kept
	return sum
}

// belowBoth returns the area between the floor and the lower of the two edges,
// where they lie above one another.
func belowBoth(e, f slope, floor float64) float64 {
	from, to := max(e.x0, f.x0), min(e.x1, f.x1)
	e0, e1, f0, f1 := e.at(from), e.at(to), f.at(from), f.at(to)
	// min(e, f) = (e + f)/2 - |e - f|/2
	d0, d1 := math.Abs(e0-f0), math.Abs(e1-f1)
	apart := d0 + d1
	if (e0 < f0) != (e1 < f1) && apart > 0 {
		apart = (d0*d0 + d1*d1) / apart
	}
	return (to - from) * ((e0+e1+f0+f1-apart)/4 - floor)
}
