package pattern

import "engrail/motif/path"

// smoothed returns the line with arcs in place of the facets of its curves, where
// it has many short straight segments in a row. Other lines are returned as they
// are.
func smoothed(p path.Path) path.Path {
	run, longest := 0, 0
	for i := range p.Segments() {
		if s := p.Segment(i); s.IsLine() && s.Length() <= facetLength {
			run++
		} else {
			run = 0
		}
		longest = max(longest, run)
	}
	if longest < leastFacets {
		return p
	}
	q, err := path.FitPoints(p, path.PointCorner, path.PointTolerance)
	if err != nil || q.Closed != p.Closed || !q.Simple() {
		return p
	}
	return q
}
