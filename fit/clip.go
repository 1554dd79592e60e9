package fit

import (
	"math"
	"slices"

	"engrail/motif/path"
)

// ClipPlaces returns the places at which the allowance of the shaped hem is clipped
// so that it can be turned, in order along the edge: its valleys, and the corners in
// which it turns into the garment, as at the foot of a tab. A valley in the middle of
// a flat has none but at the flat's ends, where these are further apart than a few
// mm, else one in the middle in place of both.
func (f Fitted) ClipPlaces() []Place {
	type spot struct {
		Place
		along float64
	}
	r := path.NewRuler(f.Edge)
	n := f.Edge.Segments()
	var corners, all []spot
	for i := range n {
		if i == 0 && !f.closed {
			continue
		}
		before, after := f.Edge.Segment((i+n-1)%n), f.Edge.Segment(i)
		if path.Turn(before, after) < -innerCorner {
			out := after.StartTangent().Sub(before.EndTangent()).Unit()
			corners = append(corners, spot{Place{after.A, out}, r.Stop(i)})
		}
	}
	length := r.Length()
	apart := func(a, b float64) float64 {
		d := math.Abs(a - b)
		if f.closed {
			d = min(d, length-d)
		}
		return d
	}
	level := func(along float64, out path.Vec) bool {
		if f.closed {
			along = math.Mod(along+length, length)
		} else if along < 0 || along > length {
			return true // beyond an end it is as before it
		}
		return math.Abs(r.TangentAt(along).Dot(out)) < levelFlat
	}
	for _, v := range f.Valleys {
		along, _ := r.Nearest(v.Point)
		near := func(c spot) bool { return apart(c.along, along) <= flatClips/2 }
		switch {
		case slices.ContainsFunc(corners, near):
			corners = slices.DeleteFunc(corners, near)
		case level(along-flatClips/2, v.Out) && level(along+flatClips/2, v.Out) &&
			slices.ContainsFunc(corners, func(c spot) bool { return apart(c.along, along) < f.Width }):
			continue // its ends have clips
		}
		all = append(all, spot{v, along})
	}
	all = append(all, corners...)
	slices.SortStableFunc(all, func(a, b spot) int {
		switch {
		case a.along < b.along:
			return -1
		case a.along > b.along:
			return 1
		}
		return 0
	})
	places := make([]Place, len(all))
	for i, s := range all {
		places[i] = s.Place
	}
	return places
}
