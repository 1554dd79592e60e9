package build

import (
	"math"
	"slices"

	"engrail/motif/path"
	"engrail/plot"
)

// evened returns groups that each are one piece in all sizes with the same number
// of joints in the same lines of every size: between two corners the joints of
// all sizes are joints of each, at the same part of its length, which leaves the
// lines where they are. Grade rules move joints. Lines whose corners are not the
// same stay as they are.
func evened(sizes []plot.Group) []plot.Group {
	out := make([]plot.Group, len(sizes))
	for k, g := range sizes {
		out[k] = g
		out[k].Lines = slices.Clone(g.Lines)
	}
	for i := range sizes[0].Lines {
		paths := make([]path.Path, len(sizes))
		for k, g := range sizes {
			if i >= len(g.Lines) || g.Lines[i].Role != sizes[0].Lines[i].Role {
				return out
			}
			paths[k] = straightened(g.Lines[i].Path)
		}
		if even, ok := evenPaths(paths); ok {
			for k := range out {
				out[k].Lines[i].Path = even[k]
			}
		}
	}
	return out
}

// straightened returns the path without the joints in straight stretches, and
// without segments too short to be written.
func straightened(p path.Path) path.Path {
	out := path.Path{Closed: p.Closed}
	n := p.Segments()
	for i, v := range p.V {
		if k := len(out.V); k > 0 && v.Dist(out.V[k-1].Point) < speck && (p.Closed || i < n) {
			out.V[k-1].Bulge = v.Bulge
			continue
		}
		if (p.Closed || i > 0) && i < n {
			before, after := p.Segment((i+n-1)%n), p.Segment(i)
			if before.IsLine() && after.IsLine() && math.Abs(before.EndTangent().AngleTo(after.StartTangent())) < straightTurn {
				continue
			}
		}
		out.V = append(out.V, v)
	}
	return out
}

// evenPaths does it for one line in all sizes.
func evenPaths(paths []path.Path) ([]path.Path, bool) {
	corners := make([][]int, len(paths))
	for k, p := range paths {
		if p.Segments() == 0 || p.Closed != paths[0].Closed {
			return nil, false
		}
		corners[k] = cornersOf(p)
		if len(corners[k]) != len(corners[0]) || p.Closed && corners[k][0] != 0 {
			return nil, false
		}
	}
	rulers := make([]*path.Ruler, len(paths))
	for k, p := range paths {
		rulers[k] = path.NewRuler(p)
	}
	out := make([]path.Path, len(paths))
	for c := range len(corners[0]) - 1 {
		var parts []float64 // where the joints of all sizes lie between the corners
		shortest := math.Inf(1)
		for k, r := range rulers {
			from, to := r.Stop(corners[k][c]), r.Stop(corners[k][c+1])
			for j := corners[k][c] + 1; j < corners[k][c+1]; j++ {
				parts = append(parts, (r.Stop(j)-from)/(to-from))
			}
			shortest = min(shortest, to-from)
		}
		slices.Sort(parts)
		joints := append(together(parts, sameJoint/shortest), [2]float64{1, 1})
		for k, r := range rulers {
			from, to := r.Stop(corners[k][c]), r.Stop(corners[k][c+1])
			at := from
			for _, part := range joints {
				next := from + (part[0]+part[1])/2*(to-from)
				for j := corners[k][c] + 1; j <= corners[k][c+1]; j++ {
					if x := (r.Stop(j) - from) / (to - from); x >= part[0] && x <= part[1] {
						next = r.Stop(j) // its own
						break
					}
				}
				out[k] = joined(out[k], single(r.Sub(at, next)))
				at = next
			}
		}
	}
	for k, p := range paths {
		if p.Closed {
			out[k].V = out[k].V[:len(out[k].V)-1] // once more its start
			out[k].Closed = true
		}
	}
	return out, true
}

// single returns a part that is one segment but for joints beside its ends as
// that segment, from end to end.
func single(part path.Path) path.Path {
	n := part.Segments()
	longest := 0
	for i := range n {
		if part.Segment(i).Length() > part.Segment(longest).Length() {
			longest = i
		}
	}
	return path.Path{V: []path.Vertex{{Point: part.Start(), Bulge: part.V[longest].Bulge}, {Point: part.End()}}}
}

// together returns the ranges of numbers, which are sorted, that lie nearer to one
// another than the gap.
func together(sorted []float64, gap float64) (ranges [][2]float64) {
	for i, x := range sorted {
		if i > 0 && x-sorted[i-1] < gap {
			ranges[len(ranges)-1][1] = x
		} else {
			ranges = append(ranges, [2]float64{x, x})
		}
	}
	return ranges
}

// cornersOf returns the vertices of a line that are corners, with its ends; the
// end of a closed line is its start once more.
func cornersOf(p path.Path) []int {
	n := p.Segments()
	var all []int
	for i := range n + 1 {
		inside := i > 0 && i < n
		if !inside && !(p.Closed && i == 0) {
			all = append(all, i)
			continue
		}
		before, after := p.Segment((i+n-1)%n).EndTangent(), p.Segment(i).StartTangent()
		if !inside || math.Abs(before.AngleTo(after)) > evenCorner {
			all = append(all, i)
		}
	}
	return all
}

// joined appends a part that begins where the path ends.
func joined(p, part path.Path) path.Path {
	if len(p.V) == 0 {
		return path.Path{V: slices.Clone(part.V)}
	}
	p.V = append(p.V[:len(p.V)-1], part.V...)
	return p
}
