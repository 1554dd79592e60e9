package motif

import "engrail/motif/path"

// Neck returns the width of the motif where it is narrowest below a wider place, and
// how high that is above the base line; 0 for one that nowhere widens upward.
func (c Cell) Neck() (width, height float64) {
	if climbs(c.Rise, 1) && climbs(c.Fall, -1) {
		return 0, 0
	}
	const levels, chords = 64, 0.02
	rise, fall := c.Rise.Flatten(chords), c.Fall.Flatten(chords)
	// at returns the place of a half at a height that is nearest to the other half.
	at := func(points []path.Point, y, sign float64) (x float64, ok bool) {
		for i := 1; i < len(points); i++ {
			a, b := points[i-1], points[i]
			if (a.Y > y) == (b.Y > y) {
				continue
			}
			if q := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y); !ok || sign*q > sign*x {
				x, ok = q, true
			}
		}
		return x, ok
	}
	// From the top down: above is the widest place so far.
	above := 0.0
	for i := levels - 1; i >= 0; i-- {
		y := c.Depth * (float64(i) + 0.5) / levels
		l, okL := at(rise, y, 1)
		r, okR := at(fall, y, -1)
		if !okL || !okR {
			continue
		}
		w := r - l
		if above > w*(1+neckSlack) && (width == 0 || w < width) {
			width, height = w, y
		}
		above = max(above, w)
	}
	return width, height
}

// Mouth returns how far apart the motif and the next one are where they are nearest
// to each other further out than in a wider place: the mouth of what lies between
// them. It is 0 where what lies between is widest at its mouth.
func (c Cell) Mouth() float64 {
	w, _ := c.turned().Neck()
	return w
}

// climbs reports whether a half nowhere runs back or, in the direction of the sign, down.
func climbs(p path.Path, sign float64) bool {
	for i := range p.Segments() {
		g := p.Segment(i)
		for _, u := range [2]path.Vec{g.StartTangent(), g.EndTangent()} {
			if u.X < -cusp || sign*u.Y < -cusp {
				return false
			}
		}
	}
	return true
}
