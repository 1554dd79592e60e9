package path

import (
	"fmt"
	"math"
)

// Curve is a smooth curve with a parameter. Tangent returns a vector of any
// length in the direction of travel; where the derivative vanishes, that is
// its limit.
type Curve interface {
	At(t float64) Point
	Tangent(t float64) Vec
}

// Limits of the search that fits arcs.
const (
	// maxFitArcs bounds the work on one curve; a hem takes some tens.
	maxFitArcs = 20000
	// placesPerPair and placesPerCurve are how many places of the curve are
	// compared with a pair of arcs at least, and along the whole curve.
	placesPerPair, placesPerCurve = 18, 64
	// pairTurn is the cosine of the largest angle between the chord of a pair of
	// arcs and its end tangents: a quarter turn, but for rounding.
	pairTurn = -1e-9
	// maxLean (rad) is the most that a joint's tangent leans from the curve's.
	maxLean = 0.02
)

// FitCurve returns the part of the curve from t0 to t1 as an open path of
// circular arcs (and lines, where it is straight); from t0 down to t1 it is run
// backwards, and an empty range gives the empty path. The ends and the end
// tangents are the curve's, and the path is smooth at every joint. Split the
// curve at true corners and cusps: those left in it, and turns tighter than the
// tolerance, come out rounded or as corners, within the tolerance of where they
// are.
//
// Every pair of arcs is compared with the curve at 18 places or more, never
// further apart than a 64th of the range, and the largest distance estimated
// from them. The path keeps within the tolerance in mm of the curve, and the
// curve of the path, provided that the curve has no detail finer than those
// places; for Beziers and ellipses that holds.
//
// It takes few arcs, about 0.7 times as many as pairs of arcs that have the
// curve's tangents at their ends: the joints lean by a fraction of a degree, so
// that the error is spread evenly.
//
// It fails when a value is not a number, the curve jumps, or the tolerance asks
// for more than 20000 arcs.
func FitCurve(c Curve, t0, t1, tolerance float64) (Path, error) {
	if !(tolerance > 0) || math.IsInf(tolerance, 0) {
		return Path{}, fmt.Errorf("fit curve: tolerance %g mm is no distance above 0; give one, such as %g", tolerance, FitTolerance)
	}
	if !finite(t0) || !finite(t1) {
		return Path{}, fmt.Errorf("fit curve: the parameter range %g to %g is not finite; give its two ends", t0, t1)
	}
	if t0 == t1 {
		return Path{}, nil
	}
	f := fitter{curve: c, t0: t0, t1: t1, sense: math.Copysign(1, t1-t0), aim: fitAim * tolerance}
	return f.fit()
}

// fitter fits arcs to one curve, front to back.
type fitter struct {
	curve  Curve
	t0, t1 float64
	sense  float64 // -1 when t falls
	aim    float64 // mm
	v      []Vertex
}

// pair is two arcs that touch at m, from a along u to b.
type pair struct {
	a, m, b        Point
	u, um, w       Vec // unit tangents at a, m and b
	ka, kb         float64
	bulgeA, bulgeB float64
}

func (f *fitter) fit() (Path, error) {
	t, a := f.t0, f.curve.At(f.t0)
	u := f.tangent(t, 1)
	if !a.Finite() || !Point(u).Finite() {
		return Path{}, fmt.Errorf("fit curve: the curve is not a number at t = %g; correct it there", t)
	}
	f.v = make([]Vertex, 0, 32)
	step := f.t1 - f.t0
	for t != f.t1 {
		p, end, err := f.longest(t, step, a, u)
		if err != nil {
			return Path{}, err
		}
		step = end - t
		f.add(p)
		t, a, u = end, p.b, p.w
		if len(f.v) > maxFitArcs {
			return Path{}, fmt.Errorf("fit curve: more than %d arcs up to t = %g of %g to %g; give a tolerance larger than %g mm or a shorter curve",
				maxFitArcs, t, f.t0, f.t1, f.aim/fitAim)
		}
	}
	return Path{V: append(f.v, Vertex{Point: a})}, nil
}

// add appends the arcs of a pair.
func (f *fitter) add(p pair) {
	if math.Abs(p.ka-p.kb)*p.a.DistSq(p.b) <= sameArc && math.Abs(p.bulgeA+p.bulgeB) < 1 {
		bulge := (p.bulgeA + p.bulgeB) / (1 - p.bulgeA*p.bulgeB)
		f.v = append(f.v, Vertex{p.a, bulge})
		return
	}
	f.v = append(f.v, Vertex{p.a, p.bulgeA}, Vertex{p.m, p.bulgeB})
}

// longest returns the longest pair of arcs found from t on that keeps within
// the aim, and where it ends.
func (f *fitter) longest(t, step float64, a Point, u Vec) (pair, float64, error) {
	var best pair
	end, left := t, f.t1-t
	// The step lengths known to fit and not to, and their errors.
	good, goodRatio, bad, badRatio := 0.0, 0.0, math.Inf(1), math.Inf(1)
	for size := math.Abs(step); bad-good >= 0.03*good; {
		e := t + f.sense*size
		if size >= math.Abs(left)*(1-1e-12) {
			e, size = f.t1, math.Abs(left)
		}
		if e == t {
			break
		}
		p, ratio, err := f.try(t, e, a, u)
		if err != nil {
			return pair{}, 0, err
		}
		if ratio <= 1 {
			best, end, good, goodRatio = p, e, size, ratio
			if e == f.t1 || ratio >= fitEnough {
				break
			}
		} else {
			bad, badRatio = size, ratio
		}
		switch gap := bad - good; {
		case good == 0 && math.IsInf(badRatio, 1):
			size /= 2
		case good == 0: // the error of a pair grows about as the cube of its length
			size *= max(0.02, min(0.9, math.Cbrt(fitNext/ratio)))
		case math.IsInf(bad, 1):
			size *= min(4, max(1.03, math.Cbrt(fitNext/ratio)))
		case math.IsInf(badRatio, 1):
			size = good + gap/2
		default: // as a power of the length that holds at both
			power := math.Log(badRatio/goodRatio) / math.Log(bad/good)
			size = good * math.Pow(fitNext/goodRatio, 1/power)
			size = max(good+gap/8, min(bad-gap/8, size))
		}
	}
	// What is left for the last pair is not a sliver: both take an equal share.
	if rest := f.t1 - end; end != t && end != f.t1 && math.Abs(rest) < 0.4*math.Abs(end-t) {
		e := t + left/2
		p, ratio, err := f.try(t, e, a, u)
		if err != nil {
			return pair{}, 0, err
		}
		if ratio <= 1 {
			best, end = p, e
		}
	}
	if end == t {
		return pair{}, 0, fmt.Errorf("fit curve: no arc keeps within %g mm at t = %g of %g to %g; the curve jumps or is not a number there, or its coordinates are too large for the tolerance",
			f.aim/fitAim, t, f.t0, f.t1)
	}
	return best, end, nil
}

// try makes the pair of arcs from t to e and returns its largest distance from
// the curve as a ratio of the aim, +Inf when no pair does.
func (f *fitter) try(t, e float64, a Point, u Vec) (pair, float64, error) {
	b, w := f.curve.At(e), f.tangent(e, -1)
	if !b.Finite() || !Point(w).Finite() {
		return pair{}, 0, fmt.Errorf("fit curve: the curve is not a number at t = %g; correct it there", e)
	}
	p, ok := newPair(a, u, b, w)
	if ok && e != f.t1 {
		// Where the curvature changes steadily, arcs that cross the curve at each
		// joint with its own tangent at every second one err three times as much
		// as arcs that lean equally at all of them.
		lean := (p.ka - p.kb) * math.Sqrt(a.DistSq(b)) / 28
		lean = min(max(lean, -maxLean), maxLean)
		p, ok = newPair(a, u, b, w.Add(w.Left().Mul(lean)).Mul(1/math.Sqrt(1+lean*lean)))
	}
	if !ok {
		return f.dot(t, e, a, b, w)
	}
	n := max(placesPerPair, int(math.Ceil(placesPerCurve*(e-t)/(f.t1-f.t0))))
	h := (e - t) / float64(n)
	// A curve that moves most of the way between two places jumps.
	widest := max(a.DistSq(b)/4, f.aim*f.aim)
	var worst, d0, d1 float64 // d0, d1: the two distances before
	before, alongBefore := a, math.Inf(-1)
	for i := 1; i <= n; i++ {
		q, d := b, 0.0
		if i < n {
			var along float64
			q = f.curve.At(t + float64(i)*h)
			d, along = p.deviation(q)
			if along < alongBefore-Coincident {
				return f.dot(t, e, a, b, w)
			}
			alongBefore = along
		}
		if !(q.DistSq(before) <= widest) { // or not a number
			return f.dot(t, e, a, b, w)
		}
		if m := math.Abs(d); m > worst {
			worst = m
		}
		// The vertex of the parabola through three neighbours.
		if i > 1 && (d1-d0)*(d-d1) < 0 {
			slope, bend := (d-d0)/2, d-2*d1+d0
			worst = max(worst, math.Abs(d1-slope*slope/(2*bend)))
		}
		d0, d1, before = d1, d, q
	}
	return p, worst / f.aim, nil
}

// dot is the answer where no pair of arcs follows the curve, as at a cusp: a
// line from a to b when all of the curve between keeps within the aim of both.
func (f *fitter) dot(t, e float64, a, b Point, w Vec) (pair, float64, error) {
	for i := range placesPerPair + 1 {
		q := f.curve.At(t + (e-t)*float64(i)/placesPerPair)
		if !(max(q.Dist(a), q.Dist(b)) <= f.aim) {
			return pair{}, math.Inf(1), nil
		}
	}
	m := a.Lerp(b, 0.5)
	along := b.Sub(a).Unit()
	next := w
	if e != f.t1 {
		next = f.tangent(e, 1)
	}
	return pair{a: a, m: m, b: b, u: along, um: along, w: next}, fitEnough, nil
}

// tangent returns the unit tangent at t, from a point a little further on in
// the direction given where the curve has none.
func (f *fitter) tangent(t, direction float64) Vec {
	if u := f.curve.Tangent(t).Unit(); u != (Vec{}) {
		return u.Mul(f.sense)
	}
	h := direction * (f.t1 - f.t0) * 1e-5
	return f.curve.At(t + h).Sub(f.curve.At(t)).Mul(direction).Unit()
}

// newPair returns the two arcs from a along u to b along w whose tangents meet
// equally far from a and b, if both directions are ahead.
func newPair(a Point, u Vec, b Point, w Vec) (pair, bool) {
	v := b.Sub(a)
	vv := v.Dot(v)
	if least := pairTurn * math.Sqrt(vv); vv == 0 || !(u.Dot(v) >= least) || !(w.Dot(v) >= least) {
		return pair{}, false
	}
	// |v - d (u + w)| = 2 d, written so that it has no cancellation.
	s := v.Dot(u.Add(w))
	reach := s + math.Sqrt(s*s+2*vv*(1-u.Dot(w)))
	if !(reach > 0) {
		return pair{}, false // alike and square to the way to b: they meet nowhere
	}
	d := vv / reach
	p := pair{a: a, b: b, u: u, w: w}
	p.m = a.Lerp(b, 0.5).Add(u.Sub(w).Mul(d / 2))
	p.um = v.Sub(u.Add(w).Mul(d)).Mul(0.5 / d)
	p.bulgeA, p.ka = arcAlong(u, p.m.Sub(a))
	p.bulgeB, p.kb = arcAlong(w.Neg(), p.m.Sub(b))
	p.bulgeB, p.kb = -p.bulgeB, -p.kb
	return p, true
}

// arcAlong returns the bulge and the curvature of the arc that leaves along
// the unit vector u and ends at the displacement c.
func arcAlong(u, c Vec) (bulge, curvature float64) {
	ll := c.Dot(c)
	if ll == 0 {
		return 0, 0
	}
	cross := u.Cross(c)
	bulge = cross / (math.Sqrt(ll) + u.Dot(c))
	if math.Abs(bulge) < straightBulge {
		return 0, 0
	}
	return bulge, 2 * cross / ll
}

// deviation returns how far q lies from the arcs, signed, and how far along
// from where they touch.
func (p *pair) deviation(q Point) (d, along float64) {
	w := q.Sub(p.m)
	k := p.ka
	if along = w.Dot(p.um); along > 0 {
		k = p.kb
	}
	// |q - centre| - radius, without the cancellation of a large radius.
	x := k*w.Dot(w) - 2*p.um.Cross(w)
	y := 1 + k*x
	if y < 0 { // q is the centre, but for rounding
		y = 0
	}
	return x / (1 + math.Sqrt(y)), along
}
