package strip

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// convexParts divides a simple polygon that runs counter-clockwise into convex ones:
// ears are cut off one by one, the one nearest to an even triangle first, and then every
// diagonal is taken away again that both of its ends can do without (Hertel and Mehlhorn,
// 1983), the longest first. No more than four times as many parts as possible are left.
func convexParts(ring []path.Point) ([][]path.Point, bool) {
	triangles, ok := earsOf(ring)
	if !ok {
		return nil, false
	}
	return merged(ring, triangles), true
}

func cross(a, b, c path.Point) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// earsOf returns the corners of the triangles, as places in the ring.
func earsOf(ring []path.Point) ([][3]int, bool) {
	left := make([]int, len(ring))
	for i := range left {
		left[i] = i
	}
	var triangles [][3]int
	for len(left) > 3 {
		best, quality := -1, 0.0
		n := len(left)
		for k := range left {
			a, b, c := ring[left[(k+n-1)%n]], ring[left[k]], ring[left[(k+1)%n]]
			area := cross(a, b, c)
			if area < 0 {
				continue
			}
			longest := max(a.DistSq(b), b.DistSq(c), c.DistSq(a))
			q := area / longest
			if best >= 0 && q <= quality {
				continue
			}
			if isEar(ring, left, k) {
				best, quality = k, q
			}
		}
		if best < 0 {
			return nil, false
		}
		triangles = append(triangles, [3]int{left[(best+n-1)%n], left[best], left[(best+1)%n]})
		left = append(left[:best], left[best+1:]...)
	}
	return append(triangles, [3]int{left[0], left[1], left[2]}), true
}

// isEar reports whether no other corner that is left lies in the triangle at k.
func isEar(ring []path.Point, left []int, k int) bool {
	n := len(left)
	a, b, c := ring[left[(k+n-1)%n]], ring[left[k]], ring[left[(k+1)%n]]
	for m := range n - 3 {
		q := ring[left[(k+2+m)%n]]
		if q == a || q == b || q == c {
			continue
		}
		if cross(a, b, q) >= 0 && cross(b, c, q) >= 0 && cross(c, a, q) >= 0 {
			return false
		}
	}
	return true
}

// merged joins triangles to convex polygons.
func merged(ring []path.Point, triangles [][3]int) [][]path.Point {
	type side struct{ from, to int }
	parts := make([][]int, len(triangles))
	of := map[side]int{} // the part of each side
	var diagonals []side
	for i, t := range triangles {
		parts[i] = t[:]
		for k := range t {
			s := side{t[k], t[(k+1)%3]}
			of[s] = i
			if _, ok := of[side{s.to, s.from}]; ok {
				diagonals = append(diagonals, s)
			}
		}
	}
	slices.SortStableFunc(diagonals, func(s, t side) int {
		return cmp.Compare(ring[t.from].DistSq(ring[t.to]), ring[s.from].DistSq(ring[s.to]))
	})
	for _, d := range diagonals {
		p, q := of[d], of[side{d.to, d.from}]
		i, k := slices.Index(parts[p], d.from), slices.Index(parts[q], d.to)
		if !joinsConvex(ring, parts[p], parts[q], i, k) {
			continue
		}
		parts[p] = joined(parts[p], parts[q], i, k)
		for m, v := range parts[q] {
			of[side{v, parts[q][(m+1)%len(parts[q])]}] = p
		}
		parts[q] = nil
	}
	var all [][]path.Point
	for _, p := range parts {
		var part []path.Point
		for i, v := range p {
			a, b, c := ring[p[(i+len(p)-1)%len(p)]], ring[v], ring[p[(i+1)%len(p)]]
			if cross(a, b, c) > 0 || a.Sub(b).Dot(c.Sub(b)) > 0 {
				part = append(part, b)
			}
		}
		if len(part) >= 3 {
			all = append(all, part)
		}
	}
	return all
}

// joined is p with q in place of its i-th side, which is the k-th of q.
func joined(p, q []int, i, k int) []int {
	all := append([]int{}, p[:i+1]...)
	for m := 2; m < len(q); m++ {
		all = append(all, q[(k+m)%len(q)])
	}
	return append(all, p[i+1:]...)
}

// joinsConvex reports whether both ends of the shared side stay convex.
func joinsConvex(ring []path.Point, p, q []int, i, k int) bool {
	np, nq := len(p), len(q)
	turns := func(a, b, c int) bool {
		// A hair of slack for corners in one line.
		s := ring[b].Sub(ring[a])
		t := ring[c].Sub(ring[b])
		return s.Cross(t) >= -straight*s.Len()*t.Len()
	}
	// At the side's start: from p's side before to q's side after; at its end the other.
	return turns(p[(i+np-1)%np], p[i], q[(k+2)%nq]) && turns(q[(k+nq-1)%nq], q[k], p[(i+2)%np])
}

// areaOf is the area in a ring, positive when it runs counter-clockwise.
func areaOf(ring []path.Point) float64 {
	sum := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		sum += (p.X - ring[0].X) * (q.Y - ring[0].Y)
		sum -= (q.X - ring[0].X) * (p.Y - ring[0].Y)
	}
	return sum / 2
}

// hullOf is the convex hull, counter-clockwise (Andrew's monotone chain).
func hullOf(points []path.Point) []path.Point {
	sorted := append([]path.Point{}, points...)
	sortPoints(sorted)
	var hull []path.Point
	half := func(seq func(i int) path.Point) {
		base := len(hull)
		for i := range sorted {
			q := seq(i)
			for len(hull) >= base+2 && cross(hull[len(hull)-2], hull[len(hull)-1], q) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		}
		hull = hull[:len(hull)-1]
	}
	half(func(i int) path.Point { return sorted[i] })
	half(func(i int) path.Point { return sorted[len(sorted)-1-i] })
	return hull
}

// diameterOf is the greatest distance of two points.
func diameterOf(points []path.Point) float64 {
	most := 0.0
	for i, p := range points {
		for _, q := range points[i+1:] {
			most = max(most, p.DistSq(q))
		}
	}
	return math.Sqrt(most)
}

func sortPoints(p []path.Point) {
	slices.SortFunc(p, func(a, b path.Point) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
}
