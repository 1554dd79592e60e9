package path

import (
	"fmt"
	"math"
)

// CornerKind is a way to carry an offset round an outer corner.
type CornerKind uint8

const (
	// Rounded goes round the corner on an arc.
	Rounded CornerKind = iota
	// Mitred goes on straight along both tangents to where they meet. A corner
	// that would reach further than Limit times the distance from the source's
	// is cut off straight across there.
	Mitred
	// Squared cuts the mitre off straight across at the distance.
	Squared
)

// Corner tells how an offset goes round an outer corner. The zero Corner is
// rounded.
type Corner struct {
	Kind CornerKind
	// Limit is how far a mitred corner may reach from the source's corner, in
	// distances, at least 1. 0 stands for DefaultMitreLimit.
	Limit float64
}

// DefaultMitreLimit lets corners down to some 29 degrees come to a point.
const DefaultMitreLimit = 4

// Offset returns the paths that run beside p at the distance, to its right
// when the distance is positive: outside of a counter-clockwise outline, below
// a hem that is drawn from left to right. Lines stay lines and arcs arcs.
//
// No point of the result is nearer to p than the distance, on either side:
// where the offset would cross itself or come nearer to another part of p, as
// in a narrow valley, that part is left out. Outer corners are made as corner
// tells; what a mitred corner covers is left out in the same way.
//
// An outline gives outlines, several when it falls apart, none when nothing is
// left. They run the way of p, so that a gap that is closed in by an outward
// offset comes out as a clockwise outline. An open path gives an open path that
// runs from its start to its end, square to p at the ends; more when it is
// broken where p comes near itself. What closes in itself, as in a bay of p with
// a narrow mouth or when the ends of p are near one another, follows as closed
// paths.
//
// Distances are kept within 1e-6. The distance 0, or one below that, gives p.
// Segments below that are passed over. A path without length gives nothing.
//
// It is an error when the distance, a vertex or the limit is not a number that
// makes sense, and when the offset of an outline would not be closed, because p
// crosses itself; [Path.Simple] tells beforehand. An outline that crosses itself
// may also lose parts.
func (p Path) Offset(distance float64, corner Corner) ([]Path, error) {
	limit, err := corner.limit()
	if err != nil {
		return nil, err
	}
	if !(math.Abs(distance) <= farthest) {
		return nil, fmt.Errorf("offset distance %g mm is not a usable length: give one within 1000 km", distance)
	}
	o := offsetting{
		d: distance, clear: math.Abs(distance) - offsetSlack, exact: math.Abs(distance) - 2*slightBend,
		limit: limit, closed: p.Closed,
	}
	if err := o.prepare(p); err != nil {
		return nil, err
	}
	if len(o.source) == 0 {
		return nil, nil
	}
	if math.Abs(distance) <= nodeSize {
		return []Path{p}, nil
	}
	o.draw()
	if len(o.raw) == 0 {
		return nil, nil
	}
	return o.result()
}

// limit returns the reach of the corners in distances, 0 for rounded ones.
func (c Corner) limit() (float64, error) {
	switch c.Kind {
	case Rounded:
		return 0, nil
	case Squared:
		return 1, nil
	case Mitred:
		if c.Limit == 0 {
			return DefaultMitreLimit, nil
		}
		if !(c.Limit >= 1) {
			return 0, fmt.Errorf("mitre limit %g is too small: give at least 1", c.Limit)
		}
		return c.Limit, nil
	}
	return 0, fmt.Errorf("corner kind %d is unknown: give Rounded, Mitred or Squared", c.Kind)
}

// offsetting is the work of one offset, in the steps known for chains of arcs:
// move each segment aside, join neighbours, cut the raw chain where it crosses
// itself, keep the slices that are nowhere too near to the source, and link
// them. The raw chain can only become too near or cease to be so where two of
// its pieces meet that both are not, so that one point tells for a slice.
//
// What is known to be too near is not drawn at all: the way between two pieces
// at an inner corner, and arcs whose radius would fall below nothing. There the
// raw chain has a gap, and a slice with a gap is no good.
type offsetting struct {
	d      float64 // to the right
	clear  float64 // the distance within which a point is too near,
	exact  float64 // and that within which it would be but for the slack
	limit  float64
	closed bool

	source []curve // without short segments, no arc above half a turn
	halves []bool  // source[i] continues the arc of source[i-1]; nil when none does
	near   boxTree // of source

	raw []piece
	// While the raw chain is drawn: the piece of the source's segment before the
	// corner, or -1, and what the next piece is to be marked with.
	last       int
	gap, loose bool

	wedges  []wedge // the mitred corners
	mitres  boxTree // of wedges
	cuts    []cut
	nodes   []node
	slices  []slice
	crosses bool    // the outline meets itself
	overlap bool    // some pieces run together
	lost    []Point // on good parts that are in no good slice
}

// piece is a segment of the raw chain.
type piece struct {
	curve
	gap       bool // the chain is broken before it
	loose     bool // it may meet the piece before it elsewhere than at their joint
	continues bool // it continues the arc of the piece before it
}

// wedge is an outer corner of the source with straight edges round it: the
// points w from the corner between the normals with each product w.n below the
// distance, and w.middle below the reach.
type wedge struct {
	corner          Point
	before, after   Vec // the unit normals on the offset's side
	middle          Vec // half-way between them
	distance, reach float64
	box             Box
}

// node is a place where the raw chain meets itself or is cut off.
type node struct {
	same  int32 // another node at the same place, nearer to the one that stands for all
	first int32 // the first good slice that starts here, or -1
}

// cut is a place on the raw chain where slices end.
type cut struct {
	Point
	key   float64
	piece int32
	node  int32
}

// slice is the part of the raw chain from one cut to the next; -1 stands for
// the end of an open chain, or both for the whole of a closed one.
type slice struct {
	from, to int32
	next     int32 // the next slice that starts at the same node, or -1
	good     bool
}
