package path

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/ctessum/polyclip-go"
)

// Op is an operation on two regions.
type Op uint8

// The operations of [Boolean].
const (
	Union        Op = iota // what lies in one of them or both
	Intersection           // what lies in both
	Difference             // what lies in the first and not in the second
)

// String returns the operation's name in lower case.
func (op Op) String() string {
	switch op {
	case Union:
		return "union"
	case Intersection:
		return "intersection"
	case Difference:
		return "difference"
	}
	return "operation?"
}

// The frame of the work on regions.
const (
	// gridPerMM is the grid that regions are snapped to, in lines a mm. Snapped
	// finer, or not, the clipper fails on edges that are almost upright and on
	// vertices almost on an edge.
	gridPerMM = 1000
	// maxReachMM is how far from the origin a region may lie: its grid lines still
	// have all their digits.
	maxReachMM = 1e6
	// maxRegionVertices bounds the work of an operation, both regions together.
	maxRegionVertices = 20000
	// clipDeadline is how long the clipper may take before it counts as hung;
	// the largest regions take a tenth.
	clipDeadline = 10 * time.Second
)

// Boolean combines two regions of the plane, each made of closed outlines of
// either direction that do not cross themselves or one another; an outline
// inside another is a hole. The result is made of straight lines: outlines
// counter-clockwise, holes clockwise, none when nothing is left. Keep it away
// from lines that are plotted: it works on chords, which rise at most
// chordError, in mm, and with vertices moved by up to 0.002 mm.
//
// Guarantees: the result's area is checked against one found another way
// ([OverlapArea]), so that a part that the clipper loses is an error, not a
// smaller result; the clipper's panics become errors; it is given up after 10
// s. What it was doing can not be stopped then and keeps a processor and
// memory until the program ends, which it should soon do.
//
// It fails on outlines that are open, cross themselves or have no numbers, on
// more than 20000 chords in all, and when the clipper does.
func Boolean(op Op, a, b []Path, chordError float64) ([]Path, error) {
	if op > Difference {
		return nil, fmt.Errorf("combine outlines: operation %d is none of union, intersection and difference", op)
	}
	p, err := newRegion("first", a, chordError, true)
	if err != nil {
		return nil, err
	}
	q, err := newRegion("second", b, chordError, true)
	if err != nil {
		return nil, err
	}
	if n := p.size() + q.size(); n > maxRegionVertices {
		return nil, fmt.Errorf("combine outlines: %d chords in all are more than %d; give a chord error larger than %g mm", n, maxRegionVertices, chordError)
	}
	p, q = p.withVerticesOf(q), q.withVerticesOf(p)
	want := p.shared(q)
	switch op {
	case Union:
		want = p.area() + q.area() - want
	case Difference:
		want = p.area() - want
	}
	slack := areaSlack * gridPerMM * (p.perimeter() + q.perimeter())
	out, err := checkedClip(op, p, q, want, slack)
	if err != nil && !errors.Is(err, errHung) {
		// The clipper sweeps from left to right; what it loses that way it mostly
		// finds from below to above.
		out, err = checkedClip(op, p.transposed(), q.transposed(), want, slack)
		out = out.transposed()
	}
	if err != nil {
		return nil, fmt.Errorf("%v of outlines near %.1f,%.1f mm: %w; move one of them a little or give another chord error than %g mm",
			op, p.bounds().Centre().X/gridPerMM, p.bounds().Centre().Y/gridPerMM, err, chordError)
	}
	return out.oriented().paths(), nil
}

// errHung tells that the clipper was given up.
var errHung = errors.New("the clipper does not come to an end")

// checkedClip clips and compares the area with the one wanted.
func checkedClip(op Op, p, q region, want, slack float64) (region, error) {
	out, err := clip(op, p, q)
	if err != nil {
		return nil, err
	}
	if got := out.oriented().area(); !(math.Abs(got-want) <= slack) {
		const sq = gridPerMM * gridPerMM
		return nil, fmt.Errorf("the clipper's result has %.6f mm^2 instead of %.6f", got/sq, want/sq)
	}
	return out, nil
}

// clip runs the clipper.
func clip(op Op, p, q region) (region, error) {
	operation := [...]polyclip.Op{polyclip.UNION, polyclip.INTERSECTION, polyclip.DIFFERENCE}[op]
	return guarded(clipDeadline, func() region {
		return fromPolygon(p.polygon().Construct(operation, q.polygon()))
	})
}

// guarded returns the result of work that may panic or never end.
func guarded(deadline time.Duration, work func() region) (region, error) {
	type answer struct {
		region region
		err    error
	}
	done := make(chan answer, 1)
	go func() {
		defer func() {
			if r := recover(); r != nil {
				done <- answer{err: fmt.Errorf("the clipper broke off: %v", r)}
			}
		}()
		done <- answer{region: work()}
	}()
	timer := time.NewTimer(deadline)
	defer timer.Stop()
	select {
	case a := <-done:
		return a.region, a.err
	case <-timer.C:
		return nil, errHung
	}
}

// region is a part of the plane bounded by closed polygons, in grid lines. Of
// an oriented region the outlines run counter-clockwise and the holes
// clockwise.
type region [][]Point

// newRegion returns the closed outlines as an oriented region, after checking
// that they are one. On the grid, outlines that are too small for it are left
// out.
func newRegion(which string, outlines []Path, chordError float64, onGrid bool) (region, error) {
	if !(chordError > 0) {
		return nil, fmt.Errorf("combine outlines: chord error %g mm is no distance above 0; give one, such as 0.01", chordError)
	}
	var r region
	for i, p := range outlines {
		switch {
		case !p.Closed:
			return nil, fmt.Errorf("combine outlines: outline %d of the %s is open; close it", i+1, which)
		case !p.Finite():
			return nil, fmt.Errorf("combine outlines: outline %d of the %s has a coordinate that is not a number; correct it", i+1, which)
		}
		if box := p.Bounds().Union(Box{}); max(box.Width(), box.Height()) > maxReachMM {
			return nil, fmt.Errorf("combine outlines: outline %d of the %s reaches %g mm from the origin, which is more than %g; check its scale",
				i+1, which, max(box.Width(), box.Height()), maxReachMM)
		}
		if n := r.size() + p.flatSize(max(chordError, Coincident)); n > maxRegionVertices {
			return nil, fmt.Errorf("combine outlines: the %s has more than %d chords; give a chord error larger than %g mm", which, maxRegionVertices, chordError)
		}
		ring := p.Flatten(chordError)
		for k, q := range ring {
			ring[k] = Point{q.X * gridPerMM, q.Y * gridPerMM}
		}
		if onGrid {
			ring = snapped(ring)
		}
		if len(ring) > 2 {
			r = append(r, ring)
		}
	}
	r = r.oriented()
	// The integral of the winding number's square is the area only if the number
	// is 0 or 1 everywhere.
	if twice := r.shared(r) - r.area(); math.Abs(twice) > areaSlack*gridPerMM*r.perimeter() {
		box := r.bounds()
		return nil, fmt.Errorf("combine outlines: the %s outline, %.1f x %.1f mm, crosses itself or another one (%.3f mm^2 count twice); take the loop out",
			which, box.Width()/gridPerMM, box.Height()/gridPerMM, math.Abs(twice)/(gridPerMM*gridPerMM))
	}
	return r, nil
}

// snapped returns the points on the grid, without repeated ones and without
// spikes that go out and come straight back.
func snapped(points []Point) []Point {
	ring := make([]Point, 0, len(points))
	for _, p := range points {
		p = Point{math.Round(p.X), math.Round(p.Y)}
		for len(ring) > 0 && ring[len(ring)-1] == p {
			ring = ring[:len(ring)-1]
		}
		ring = append(ring, p)
		if n := len(ring); n > 2 && ring[n-3] == p {
			ring = ring[:n-2]
		}
	}
	for len(ring) > 2 {
		n := len(ring)
		switch {
		case ring[0] == ring[n-1]:
			ring = ring[:n-1]
		case ring[1] == ring[n-1]:
			ring = ring[1 : n-1]
		case ring[0] == ring[n-2]:
			ring = ring[:n-2]
		default:
			return ring
		}
	}
	return nil
}

// size returns the number of vertices.
func (r region) size() int {
	n := 0
	for _, ring := range r {
		n += len(ring)
	}
	return n
}

func (r region) area() float64 {
	sum := 0.0
	for _, ring := range r {
		sum += Closed(ring...).Area()
	}
	return sum
}

func (r region) perimeter() float64 {
	sum := 0.0
	for _, ring := range r {
		sum += Closed(ring...).Length()
	}
	return sum
}

func (r region) bounds() Box {
	b := EmptyBox()
	for _, ring := range r {
		for _, p := range ring {
			b = b.Include(p)
		}
	}
	return b
}

// oriented returns the region with its holes clockwise: the rings that lie in
// an odd number of others.
func (r region) oriented() region {
	out := make(region, len(r))
	for i, ring := range r {
		middle := ring[0].Lerp(ring[1], 0.5)
		hole := false
		for j, other := range r {
			if i != j && Closed(other...).Contains(middle) {
				hole = !hole
			}
		}
		out[i] = ring
		if clockwise := Closed(ring...).Area() < 0; clockwise != hole {
			out[i] = slices.Clone(ring)
			slices.Reverse(out[i])
		}
	}
	return out
}

// transposed returns the mirror image with x and y exchanged.
func (r region) transposed() region {
	out := make(region, len(r))
	for i, ring := range r {
		out[i] = make([]Point, len(ring))
		for k, p := range ring {
			out[i][k] = Point{p.Y, p.X}
		}
	}
	return out
}

// withVerticesOf returns the region with the other's vertices that lie on its
// edges, as far as the grid can tell, inserted there: an edge from vertex to
// vertex is the same in both.
func (r region) withVerticesOf(other region) region {
	near := r.bounds().Grow(2 * onEdge)
	var points []Point
	for _, ring := range other {
		for _, p := range ring {
			if near.Contains(p) {
				points = append(points, p)
			}
		}
	}
	slices.SortFunc(points, func(p, q Point) int { return cmp.Compare(p.X, q.X) })
	out := make(region, len(r))
	var on []Point
	for i, ring := range r {
		for k, a := range ring {
			edge := Line(a, ring[(k+1)%len(ring)])
			box := edge.Bounds().Grow(onEdge)
			on = on[:0]
			first, _ := slices.BinarySearchFunc(points, box.Min.X, func(p Point, x float64) int {
				if p.X < x {
					return -1
				}
				return 1
			})
			for _, p := range points[first:] {
				if p.X > box.Max.X {
					break
				}
				if !box.Contains(p) || p == edge.A || p == edge.B {
					continue
				}
				if t, d := edge.Nearest(p); d <= onEdge && t > 0 && t < 1 {
					on = append(on, p)
				}
			}
			slices.SortFunc(on, func(p, q Point) int {
				if edge.Ratio(p) < edge.Ratio(q) {
					return -1
				}
				return 1
			})
			out[i] = append(out[i], a)
			out[i] = append(out[i], slices.Compact(on)...)
		}
	}
	return out
}

func (r region) polygon() polyclip.Polygon {
	out := make(polyclip.Polygon, len(r))
	for i, ring := range r {
		out[i] = make(polyclip.Contour, len(ring))
		for k, p := range ring {
			out[i][k] = polyclip.Point(p)
		}
	}
	return out
}

// fromPolygon returns the clipper's answer without the rings that have no
// area to speak of.
func fromPolygon(polygon polyclip.Polygon) region {
	var r region
	for _, c := range polygon {
		ring := make([]Point, len(c))
		for k, p := range c {
			ring[k] = Point(p)
		}
		if len(ring) > 2 && math.Abs(Closed(ring...).Area()) > 1 {
			r = append(r, ring)
		}
	}
	return r
}

// paths returns the rings in mm.
func (r region) paths() []Path {
	var out []Path
	for _, ring := range r {
		p := Closed(ring...)
		for i, v := range p.V {
			p.V[i].Point = Point{v.X / gridPerMM, v.Y / gridPerMM}
		}
		out = append(out, p)
	}
	return out
}
