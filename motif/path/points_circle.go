package path

import "math"

// circle is a circle or line through m in the direction u with the curvature
// k (1/mm), positive where it turns left.
type circle struct {
	m Point
	u Vec
	k float64
	// size (mm) is about half the length of what it is fitted to.
	size float64
}

// through returns the circle from a by m to b.
func through(a, m, b Point) circle {
	v, w, c := m.Sub(a), b.Sub(m), b.Sub(a)
	all := v.Len() * w.Len() * c.Len()
	if all == 0 {
		return circle{m: m, u: c.Unit()}
	}
	// Half of the sweep from a to m is the angle that they subtend at b.
	half := c.AngleTo(w)
	return circle{m: m, u: v.Unit().Rotate(half), k: 2 * v.Cross(w) / all}
}

func (c *circle) centre() Point { return c.m.Add(c.u.Left().Mul(1 / c.k)) }

// deviation returns how far q lies to the right of the circle.
func (c *circle) deviation(q Point) float64 {
	w := q.Sub(c.m)
	x := c.k*w.Dot(w) - 2*c.u.Cross(w)
	return x / (1 + math.Sqrt(max(0, 1+c.k*x)))
}

// direction returns the circle's direction next to q.
func (c *circle) direction(q Point) Vec {
	w := q.Sub(c.m)
	return c.u.Left().Sub(w.Mul(c.k)).Unit().Right()
}

// keeps reports whether the circle keeps within the limit of the points.
func (c *circle) keeps(points []Point, limit float64) bool {
	for _, q := range points {
		if !(math.Abs(c.deviation(q)) <= limit) {
			return false
		}
	}
	return true
}

// stride returns every how manieth of n points is used in a fit.
func stride(n int) int { return 1 + n/40 }

// squares returns the sum of the squares of the distances.
func (c *circle) squares(points []Point) float64 {
	step, sum := stride(len(points)), 0.0
	for i := 0; i < len(points); i += step {
		d := c.deviation(points[i])
		sum += d * d
	}
	return sum * float64(step)
}

// refined returns the circle near this one with the least squares of the
// distances to the points, the first and last of which have a weight. Steps of
// Gauss and Newton are taken in the coefficients of
//
//	A (x^2 + y^2) + B x + C y + D
//
// around m, x along u, held to a gradient of 2 on the circle (as in Pratt,
// Direct least-squares fitting of algebraic surfaces, 1987): half of it is the
// distance near the circle, and lines are no special case.
func (c circle) refined(points []Point, first, last float64) circle {
	end := len(points) - 1
	step := stride(end)
	c.size = max(c.m.Dist(points[0]), c.m.Dist(points[end]))
	for range 3 {
		var m [3][4]float64
		n, k, over := c.u.Left(), c.k, 1/(2*c.size)
		add := func(q Point, weight float64) { // as deviation and gradient, at once
			w := q.Sub(c.m)
			y, ww := n.Dot(w), w.Dot(w)
			f := k*ww - 2*y
			d := -weight * f / (1 + math.Sqrt(max(0, 1+k*f)))
			r0, r1, r2 := 2*ww*over*over, c.u.Dot(w)*over, (1-k*y)/2
			w0, w1, w2 := weight*r0, weight*r1, weight*r2
			m[0][0] += w0 * r0
			m[0][1] += w0 * r1
			m[0][2] += w0 * r2
			m[0][3] += r0 * d
			m[1][1] += w1 * r1
			m[1][2] += w1 * r2
			m[1][3] += r1 * d
			m[2][2] += w2 * r2
			m[2][3] += r2 * d
		}
		add(points[0], first)
		for i := step; i < end; i += step {
			add(points[i], 1)
		}
		add(points[end], last)
		x, ok := solve3(m)
		if !ok {
			return c
		}
		c = c.changed(x)
		if math.Abs(x[0])+math.Abs(x[1])+math.Abs(x[2]) < refineEnough {
			break
		}
	}
	return c
}

// gradient returns the change of the deviation at q with those of the
// coefficients A, B and D, over the size.
func (c *circle) gradient(q Point) [3]float64 {
	w := q.Sub(c.m)
	return [3]float64{
		w.Dot(w) / (2 * c.size * c.size),
		c.u.Dot(w) / (2 * c.size),
		(1 - c.k*c.u.Cross(w)) / 2,
	}
}

// change returns the gradients of the deviation at q and of the direction.
func (c *circle) change(q Point) [2][3]float64 {
	w, u := q.Sub(c.m), c.direction(q)
	return [2][3]float64{c.gradient(q), {
		w.Dot(u) / (c.size * c.size),
		c.u.Dot(u) / (2 * c.size),
		-c.k * c.u.Cross(u) / 2,
	}}
}

// changed returns the circle with its coefficients changed.
func (c circle) changed(x [3]float64) circle {
	n := c.u.Left()
	c.k += x[0] / (c.size * c.size)
	c.m = c.m.Add(n.Mul(x[2] / 2))
	c.u = c.u.Add(n.Mul(x[1] / (2 * c.size))).Unit()
	return c
}

// solve3 solves the symmetric system, given by its upper half and right side.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range 3 {
		whole := m[i][i]
		for k := range i {
			f := m[k][i] / m[k][k]
			for j := i; j < 4; j++ {
				m[i][j] -= f * m[k][j]
			}
		}
		if !(m[i][i] > singular*whole) {
			return x, false
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for j := i + 1; j < 3; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return x, true
}
