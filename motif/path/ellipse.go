package path

import (
	"fmt"
	"math"
)

// EllipticArc is a part of an ellipse: from the angle Start, turning by Sweep,
// both as the angle t of (RX cos t, RY sin t) before that is turned by
// Rotation. Sweep is positive counter-clockwise, at most a full turn either
// way. The radii, in mm, are not negative.
type EllipticArc struct {
	Centre                         Point
	RX, RY, Rotation, Start, Sweep float64
}

// EndpointArc returns the arc from one point to another on an ellipse with the
// radii and the turn of its x axis, as SVG's path command A describes it:
// large picks the one that turns by more than half of the ellipse, left the one
// that turns counter-clockwise. (In a drawing with y down, SVG's sweep flag
// means clockwise as seen, but increasing angle in its numbers, which is left
// here.) Radii too small to reach are scaled up. It answers false when the
// command stands for something else: with a radius of 0 a straight line, with
// both ends in one point nothing.
//
// The formulas are those of SVG 2 (W3C, 2018), appendix B.2.4 and B.2.5, the same
// as in SVG 1.1, appendix F.6.5 and F.6.6.
func EndpointArc(from, to Point, rx, ry, rotation float64, large, left bool) (EllipticArc, bool) {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 || from == to {
		return EllipticArc{}, false
	}
	// The half chord in the ellipse's own frame, then in its unit circle.
	half := from.Sub(to).Mul(0.5).Rotate(-rotation)
	u := Vec{half.X / rx, half.Y / ry}
	l := u.Len()
	if l > 1 {
		rx, ry = rx*l, ry*l
		u = u.Mul(1 / l)
		l = 1
	}
	// The centre lies across the chord, at the height of the unit circle.
	side := u.Right().Mul(math.Sqrt((1-l)*(1+l)) / l)
	if large == left {
		side = side.Neg()
	}
	centre := Vec{rx * side.X, ry * side.Y}.Rotate(rotation)
	a, b := u.Sub(side), u.Neg().Sub(side)
	sweep := a.AngleTo(b)
	if left && sweep < 0 {
		sweep += 2 * math.Pi
	} else if !left && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	return EllipticArc{
		Centre: from.Lerp(to, 0.5).Add(centre),
		RX:     rx, RY: ry, Rotation: rotation,
		Start: a.Angle(), Sweep: sweep,
	}, true
}

// At returns the point at the angle t.
func (e EllipticArc) At(t float64) Point {
	s, c := math.Sincos(t)
	return e.Centre.Add(Vec{e.RX * c, e.RY * s}.Rotate(e.Rotation))
}

// Transform returns the arc under the map, which is an arc of an ellipse again.
func (e EllipticArc) Transform(m Affine) EllipticArc {
	x := m.ApplyVec(Direction(e.Rotation)).Mul(e.RX)
	y := m.ApplyVec(Direction(e.Rotation).Left()).Mul(e.RY)
	// The new axes are the singular vectors of the matrix with the columns x and
	// y: a turn of its angles, the two radii, a turn of the plane.
	f, g := (x.X+y.Y)/2, (x.Y-y.X)/2
	h, k := (x.X-y.Y)/2, (x.Y+y.X)/2
	p, q := math.Hypot(f, g), math.Hypot(h, k)
	turn, skew := math.Atan2(g, f), math.Atan2(k, h)
	out := EllipticArc{
		Centre:   m.Apply(e.Centre),
		RX:       p + q,
		RY:       math.Abs(p - q),
		Rotation: (skew + turn) / 2,
		Start:    e.Start + (turn-skew)/2,
		Sweep:    e.Sweep,
	}
	if p < q { // the map mirrors
		out.Start, out.Sweep = -out.Start, -out.Sweep
	}
	return out
}

// ellipse is an elliptic arc with the directions of its radii, as a [Curve] in
// the angle.
type ellipse struct {
	centre Point
	x, y   Vec
}

func (e ellipse) At(t float64) Point {
	s, c := math.Sincos(t)
	return e.centre.Add(e.x.Mul(c)).Add(e.y.Mul(s))
}

func (e ellipse) Tangent(t float64) Vec {
	s, c := math.Sincos(t)
	return e.y.Mul(c).Sub(e.x.Mul(s))
}

// Fit returns the arc as an open path of circular arcs with the arc's own ends
// and end tangents, nowhere further from it than the tolerance in mm (see
// [FitCurve]). With equal radii it is exact: one arc a half turn. With one
// radius 0 it is the straight lines that the ellipse has shrunk to; without
// radii or sweep it is the empty path. A full turn comes back to its start;
// [Path.Close] makes an outline of it.
func (e EllipticArc) Fit(tolerance float64) (Path, error) {
	for _, x := range [7]float64{e.Centre.X, e.Centre.Y, e.RX, e.RY, e.Rotation, e.Start, e.Sweep} {
		if !finite(x) {
			return Path{}, fmt.Errorf("fit elliptic arc %+v: a value is not a number; correct it", e)
		}
	}
	if e.RX < 0 || e.RY < 0 {
		return Path{}, fmt.Errorf("fit elliptic arc %+v: a radius is negative; give radii of 0 or more", e)
	}
	if math.Abs(e.Sweep) > 2*math.Pi+fullTurnSlack {
		return Path{}, fmt.Errorf("fit elliptic arc %+v: it turns by more than a full turn; give a sweep of at most 2 pi", e)
	}
	e.Start = math.Remainder(e.Start, 2*math.Pi)
	switch {
	case e.Start+e.Sweep == e.Start || e.RX == 0 && e.RY == 0:
		return Path{}, nil
	case math.Abs(e.RX-e.RY) <= Coincident:
		return e.circular(), nil
	case min(e.RX, e.RY) == 0:
		return e.flat(), nil
	}
	x := Direction(e.Rotation)
	return FitCurve(ellipse{e.Centre, x.Mul(e.RX), x.Left().Mul(e.RY)}, e.Start, e.Start+e.Sweep, tolerance)
}

// circular returns the arc when its radii are equal.
func (e EllipticArc) circular() Path {
	n := int(math.Ceil(math.Abs(e.Sweep)/math.Pi - fullTurnSlack))
	step := e.Sweep / float64(n)
	v := make([]Vertex, n+1)
	for i := range v {
		v[i] = Vertex{e.At(e.Start + float64(i)*step), math.Tan(step / 4)}
	}
	v[n].Bulge = 0
	return Path{V: v}
}

// flat returns the lines of an arc whose one radius is 0: it turns back where
// the other one ends.
func (e EllipticArc) flat() Path {
	shift := 0.0
	if e.RX == 0 {
		shift = math.Pi / 2
	}
	points := []Point{e.At(e.Start)}
	lo, hi := min(e.Start, e.Start+e.Sweep), max(e.Start, e.Start+e.Sweep)
	var turns []Point
	for k := math.Floor((lo-shift)/math.Pi) + 1; k*math.Pi+shift < hi; k++ {
		turns = append(turns, e.At(k*math.Pi+shift))
	}
	if e.Sweep < 0 {
		for i, j := 0, len(turns)-1; i < j; i, j = i+1, j-1 {
			turns[i], turns[j] = turns[j], turns[i]
		}
	}
	points = append(points, turns...)
	return Open(append(points, e.At(e.Start+e.Sweep))...)
}
