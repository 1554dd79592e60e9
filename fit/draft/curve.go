package draft

import (
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// Curve is a panel whose hem runs smoothly through measured points, below a
// level top and between upright sides.
type Curve struct {
	// Points are at least two points of the hem from left to right, x along
	// the hem and y up. Of a half they are the points of the half, the first
	// one on the middle.
	Points []path.Point
	// Height is the height y of the top, above every point of the hem.
	Height float64
}

// Panel returns the panel, in the coordinates of the points. The hem is a
// chain of arcs without corners that passes through every point; points on one
// circle give that circle. It leaves the middle of a half level, so that the
// unfolded hem has no corner.
func (c Curve) Panel(f Form) (fit.Panel, error) {
	p, err := c.panel(f)
	return p, f.named(err)
}

func (c Curve) panel(f Form) (fit.Panel, error) {
	if n := len(c.Points); n < 2 || n > mostPoints {
		return fit.Panel{}, refuse(fmt.Sprintf("give 2 to %d", mostPoints), "the hem has %d points", n)
	}
	for i, p := range c.Points {
		if !p.Finite() || math.Abs(p.X) > longest || math.Abs(p.Y) > longest {
			return fit.Panel{}, refuse(mostHint, "point %d of the hem is (%.6g, %.6g)", i+1, p.X, p.Y)
		}
		if i > 0 && p.X <= c.Points[i-1].X {
			return fit.Panel{}, refuse("list the points from left to right",
				"point %d of the hem, at x = %.6g mm, is not right of point %d, at %.6g mm", i+1, p.X, i, c.Points[i-1].X)
		}
	}
	if err := measure("hem from side to side", c.Points[len(c.Points)-1].X-c.Points[0].X); err != nil {
		return fit.Panel{}, err
	}
	if math.IsNaN(c.Height) || math.Abs(c.Height) > longest {
		return fit.Panel{}, refuse(mostHint, "the height is %.6g mm", c.Height)
	}
	hem, err := through(c.Points, f.Half)
	if err != nil {
		return fit.Panel{}, err
	}
	if high := hem.Bounds().Max.Y; c.Height < high+shortest {
		return fit.Panel{}, refuse(fmt.Sprintf("give a height above %.0f mm", math.Ceil(high+shortest)),
			"the top, at height %.6g mm, is not above the hem, which reaches %.1f mm", c.Height, high)
	}
	top := path.Open(
		path.Point{X: hem.End().X, Y: c.Height},
		path.Point{X: hem.Start().X, Y: c.Height},
	)
	return f.panel(hem, top)
}

// through returns the smooth chain of arcs through the points, which rise in
// x: at each inner point it has the direction of the circle through it and its
// neighbours. At the ends it runs on in the arc of the first or last points;
// level makes it start level instead. It must not double back in x.
func through(points []path.Point, level bool) (path.Path, error) {
	last := len(points) - 1
	tangents := make([]path.Vec, len(points))
	for i := 1; i < last; i++ {
		d, e := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
		tangents[i] = d.Mul(e.Dot(e)).Add(e.Mul(d.Dot(d))).Unit()
	}
	switch {
	case level:
		tangents[0] = path.Vec{X: 1}
	case last == 1:
		tangents[0] = points[1].Sub(points[0]).Unit()
	default:
		tangents[0] = path.ArcFrom(points[1], tangents[1].Neg(), points[0]).EndTangent().Neg()
	}
	tangents[last] = path.ArcFrom(points[last-1], tangents[last-1], points[last]).EndTangent()

	var chain []path.Segment
	for i := range last {
		arcs := biarc(points[i], tangents[i], points[i+1], tangents[i+1])
		for _, a := range arcs {
			if a.StartTangent().X <= 0 || a.EndTangent().X <= 0 || math.Abs(a.Sweep()) >= math.Pi {
				return path.Path{}, refuse("move them, or measure another point between them",
					"the hem doubles back between points %d and %d", i+1, i+2)
			}
		}
		chain = append(chain, arcs...)
	}
	return path.FromSegments(chain...), nil
}

// biarc returns the arcs from p to q, two or where possible one, that start
// and end in the unit directions s and t and share a tangent where they meet.
// Of the many it is the pair whose tangents at p and q are equally long up to
// where they meet the joint's.
func biarc(p path.Point, s path.Vec, q path.Point, t path.Vec) []path.Segment {
	one := path.ArcFrom(p, s, q)
	if e := one.EndTangent(); math.Abs(e.Cross(t)) < sameTangent && e.Dot(t) > 0 {
		return []path.Segment{one}
	}
	v := q.Sub(p)
	sum := s.Add(t)
	// |v - d (s + t)| = 2 d, solved for the positive d without cancellation.
	b, e := v.Dot(sum), 1-s.Dot(t)
	d := v.Dot(v) / (b + math.Sqrt(b*b+2*e*v.Dot(v)))
	joint := p.Add(s.Mul(d)).Lerp(q.Add(t.Mul(-d)), 0.5)
	return []path.Segment{
		path.ArcFrom(p, s, joint),
		path.ArcFrom(q, t.Neg(), joint).Reverse(),
	}
}
