package strip

import (
	"math"

	"engrail/motif/path"
)

// outward returns a simple ring with fewer corners that contains a simple one which runs
// counter-clockwise. Hollow corners are given up first, as each makes a convex part more, and then
// others, one by one: what adds the least area first, while there are more than the detail has and no
// more than its share of the ring's area is added in all.
func outward(ring []path.Point, d detail) []path.Point {
	ring = append([]path.Point{}, ring...)
	left := d.share * areaOf(ring)
	for _, hollow := range []bool{true, false} {
		enough := d.corners
		if hollow {
			enough = d.hollows
		}
		for {
			many := 0
			best, least, meets := -1, left, path.Point{}
			for i := range ring {
				if isHollow(ring, i) != hollow {
					continue
				}
				many++
				if area, x, ok := giveUp(ring, i, least); ok {
					best, least, meets = i, area, x
				}
			}
			if many <= enough || best < 0 {
				break
			}
			left -= least
			if hollow {
				ring = append(ring[:best], ring[best+1:]...)
				continue
			}
			// The side from best to the next is given up for the corner of its neighbours.
			ring[best] = meets
			k := (best + 1) % len(ring)
			ring = append(ring[:k], ring[k+1:]...)
		}
	}
	return ring
}

// isHollow reports whether the i-th corner does not stick out.
func isHollow(ring []path.Point, i int) bool {
	n := len(ring)
	return cross(ring[(i+n-1)%n], ring[i], ring[(i+1)%n]) <= 0
}

// giveUp returns the area that is added when the i-th corner is given up: a hollow one
// for a straight line past it, or else the side behind it for the place where the sides beside
// it meet. It has to be no more than a limit.
func giveUp(ring []path.Point, i int, limit float64) (area float64, meets path.Point, ok bool) {
	n := len(ring)
	a, b, c, d := ring[(i+n-1)%n], ring[i], ring[(i+1)%n], ring[(i+2)%n]
	if turn := cross(a, b, c); turn <= 0 {
		return -turn / 2, path.Point{}, -turn/2 <= limit && empty(ring, a, c, b)
	}
	if n <= 4 || cross(b, c, d) <= 0 {
		return 0, path.Point{}, false
	}
	u, v := b.Sub(a), c.Sub(d)
	across := u.Cross(v)
	if across >= 0 { // the sides run apart, or side by side
		return 0, path.Point{}, false
	}
	t := d.Sub(b).Cross(v) / across
	meets = b.Add(u.Mul(t))
	if t <= 0 || math.IsInf(t, 0) {
		return 0, path.Point{}, false
	}
	area = cross(b, meets, c) / 2
	return area, meets, area <= limit && empty(ring, b, meets, c) && !cutOff(ring, b, meets, c)
}

// cutOff reports whether a side of the ring runs between the corner m and the side from b to c, without
// a corner there.
func cutOff(ring []path.Point, b, m, c path.Point) bool {
	middle := b.Lerp(c, 0.5)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		if p == b || p == c || q == b || q == c {
			continue
		}
		if (cross(p, q, m) >= 0) != (cross(p, q, middle) > 0) && (cross(m, middle, p) >= 0) != (cross(m, middle, q) > 0) {
			return true
		}
	}
	return false
}

// empty reports whether no corner of the ring but those of the triangle itself lies in it
// or on it; the triangle runs counter-clockwise.
func empty(ring []path.Point, a, b, c path.Point) bool {
	x0, x1 := min(a.X, b.X, c.X), max(a.X, b.X, c.X)
	y0, y1 := min(a.Y, b.Y, c.Y), max(a.Y, b.Y, c.Y)
	for _, q := range ring {
		if q.X < x0 || q.X > x1 || q.Y < y0 || q.Y > y1 || q == a || q == b || q == c {
			continue
		}
		if cross(a, b, q) >= 0 && cross(b, c, q) >= 0 && cross(c, a, q) >= 0 {
			return false
		}
	}
	return true
}
