package hpgl

import (
	"math"
	"strconv"

	"engrail/motif/path"
)

// arcs draws a path with its arcs as AA. The command turns round a centre of whole
// steps from where the pen is, which need not be a whole step itself behind another
// arc; of the centres near the true one, that is taken which comes nearest to the
// arc. An arc that none comes within a step of becomes chords.
func (e *encoder) arcs(p *path.Path) {
	x, y, _ := e.units(p.Start())
	e.moveTo(x, y)
	at := path.Point{X: float64(x), Y: float64(y)} // of the pen, in steps
	down := false
	n := p.Segments()
	for i := range n {
		s := e.steps(p.Segment(i))
		last := i == n-1
		if !s.IsLine() && s.Radius() > leastArc {
			if centre, sweep, ok := e.wholeArc(at, s); ok {
				if !down {
					e.command("PD")
					down = true
				}
				e.arc(centre, sweep, s.Radius())
				at = centre.Add(at.Sub(centre).Rotate(sweep))
				if last && p.Closed {
					// To the very start, so that the outline is closed.
					e.to(x, y)
				}
				continue
			}
		}
		part := path.FromSegments(p.Segment(i))
		points := e.chords.Append(e.points[:0], part, e.ChordError)
		e.points = points
		ax, ay := int64(math.Round(at.X)), int64(math.Round(at.Y))
		if at.X != math.Round(at.X) || at.Y != math.Round(at.Y) {
			ax = math.MaxInt64 // the pen is on no step
		}
		written := len(e.buf)
		bx, by := e.lines(ax, ay, points[1:], false)
		if len(e.buf) > written {
			at = path.Point{X: float64(bx), Y: float64(by)}
			down = true
		}
	}
	if !down {
		e.to(x, y)
	}
}

// to draws a line to a step.
func (e *encoder) to(x, y int64) {
	e.buf = appendPair(append(e.buf, "PD"...), x, y)
	e.buf = append(e.buf, ";\n"...)
}

// steps returns the segment in the device's steps.
func (e *encoder) steps(s path.Segment) path.Segment {
	scale := func(p path.Point) path.Point {
		return path.Point{X: (p.X + e.shift.X) * e.perMM, Y: (p.Y + e.shift.Y) * e.perMM}
	}
	return path.Segment{A: scale(s.A), B: scale(s.B), Bulge: s.Bulge}
}

// wholeArc returns the centre of whole steps and the sweep of the arc from where the
// pen is that comes nearest to the segment, all in steps, and whether it comes within
// [arcSlack].
func (e *encoder) wholeArc(at path.Point, s path.Segment) (centre path.Point, sweep float64, ok bool) {
	exact := s.Centre()
	if !(math.Abs(exact.X) < e.hi && math.Abs(exact.Y) < e.hi) {
		return centre, 0, false
	}
	least := arcSlack
	for dx := -2.0; dx <= 2; dx++ {
		for dy := -2.0; dy <= 2; dy++ {
			c := path.Point{X: math.Round(exact.X) + dx, Y: math.Round(exact.Y) + dy}
			radius := at.Dist(c)
			if radius == 0 {
				continue
			}
			turn := decimals(at.Sub(c).AngleTo(s.B.Sub(c)) * 180 / math.Pi)
			if math.Abs(s.Sweep()) > math.Pi*0.9 || turn*s.Sweep() < 0 {
				// Past half a turn the angle alone does not say which way.
				turn = decimals(math.Mod(turn+math.Copysign(720, s.Sweep()), 360))
			}
			if math.Abs(turn*math.Pi/180-s.Sweep()) > 0.5 {
				continue
			}
			worst := c.Add(at.Sub(c).Rotate(turn * math.Pi / 180)).Dist(s.B)
			for _, t := range [...]float64{0, 0.25, 0.5, 0.75, 1} {
				worst = max(worst, math.Abs(s.At(t).Dist(c)-radius))
			}
			if worst < least {
				centre, sweep, least, ok = c, turn*math.Pi/180, worst, true
			}
		}
	}
	return centre, sweep, ok
}

// arc sends AA with the centre in steps, the sweep in degrees, and the angle of the
// chords that the device may draw it in: within the chord error.
func (e *encoder) arc(centre path.Point, sweep, radius float64) {
	chord := 4 * math.Asin(math.Sqrt(min(1, e.ChordError*e.perMM/(2*radius)))) * 180 / math.Pi
	e.buf = appendPair(append(e.buf, "AA"...), int64(centre.X), int64(centre.Y))
	e.buf = strconv.AppendFloat(append(e.buf, ','), decimals(sweep*180/math.Pi), 'f', -1, 64)
	e.buf = strconv.AppendFloat(append(e.buf, ','), max(leastChordAngle, math.Floor(chord*10)/10), 'f', -1, 64)
	e.buf = append(e.buf, ";\n"...)
}
