package marker

import (
	"fmt"
	"math"
	"strings"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// Shape is an outline with what is drawn in it.
type Shape struct {
	// Outline is closed and counter-clockwise, of the true lines and arcs.
	Outline path.Path
	// Group is what is drawn of it, in the same place.
	Group plot.Group
	// Along is the grain, towards what is up in the pattern: the way that lies along the
	// cloth.
	Along path.Vec
	// Fold is the edge on the fold, of a shape that is half of a piece; it is without
	// length in others.
	Fold path.Segment
}

// Piece is a piece to be laid.
type Piece struct {
	// Name and Size name it: no two pieces have both the same.
	Name, Size string
	// Kind is "garment", "facing", "interfacing", "lining", or empty.
	Kind string
	// Whole is the piece opened out, Half what is cut on the fold of it, if it can be.
	Whole Shape
	Half  *Shape
	// Quantity is how many whole pieces a garment has; Pairs says that half of them are
	// mirrored.
	Quantity int
	Pairs    bool
	// Turns, if there are any, are all that the piece may be turned by, in radians
	// counter-clockwise from how it is drawn, whatever the cloth allows.
	Turns []float64
	// Apart is how far others are kept from it, where that is more than the cloth's gap.
	Apart float64
}

// FromPiece returns a piece of a build. The group of the style's name is drawn with it.
func FromPiece(p facing.Piece, style string) Piece {
	out := Piece{Name: p.Name, Size: p.Size, Kind: p.Kind.String(), Quantity: p.Quantity, Pairs: p.Pairs}
	shape := func(p facing.Piece) Shape {
		return Shape{Outline: p.Cut(), Group: plot.FromPiece(p, style), Along: Upward(p.Grain.Chord())}
	}
	out.Whole = shape(p.Unfold())
	for _, e := range p.Edges {
		if p.OnFold && e.Role == fit.FoldEdge {
			half := shape(p)
			half.Fold = path.Line(e.Cut.Start(), e.Cut.End())
			out.Half = &half
		}
	}
	return out
}

// Upward returns a grain as a direction towards what is up in the pattern, straight up
// for one without length.
func Upward(grain path.Vec) path.Vec {
	u := grain.Unit()
	switch {
	case u == path.Vec{}:
		return path.Vec{Y: 1}
	case math.Abs(u.Y) > path.Coincident && u.Y < 0, math.Abs(u.Y) <= path.Coincident && u.X < 0:
		return u.Neg()
	}
	return u
}

// called returns what messages call the piece.
func (p Piece) called() string {
	if p.Size == "" {
		return p.Name
	}
	return p.Name + ", size " + p.Size
}

// check refuses a piece that cannot be laid.
func (p Piece) check() error {
	if strings.TrimSpace(p.Name) == "" {
		return &Error{"a piece has no name", "name every piece"}
	}
	switch {
	case p.Quantity < 1:
		return &Error{fmt.Sprintf("%s is to be cut %d times", p.called(), p.Quantity), "give a number of 1 or more, or leave the piece out"}
	case p.Quantity > mostPieces:
		return &Error{fmt.Sprintf("%s is to be cut %d times, and a marker has %d pieces at most", p.called(), p.Quantity, mostPieces), "lay fewer at a time"}
	case !(p.Apart >= 0 && p.Apart <= mostLength):
		return &Error{fmt.Sprintf("%s is to be kept %g mm apart", p.called(), p.Apart), "give a distance of 0 or more"}
	}
	for _, t := range p.Turns {
		if !(math.Abs(t) <= mostTurn) {
			return &Error{fmt.Sprintf("%s is to be turned by %g radians", p.called(), t), "give turns of up to 360 degrees"}
		}
	}
	if err := p.Whole.check(p.called()); err != nil || p.Half == nil {
		return err
	}
	return p.Half.check(p.called())
}

func (s Shape) check(name string) error {
	o := s.Outline
	switch {
	case !o.Closed || o.Segments() < 2:
		return &Error{fmt.Sprintf("%s has no closed outline", name), "draw it as one closed line"}
	case !o.Finite() || !within(o.Bounds(), mostLength):
		return &Error{fmt.Sprintf("%s has a coordinate that is not a number, or is beyond 100 m", name), "check the unit of the drawing"}
	}
	if x := o.SelfIntersections(); len(x) > 0 {
		return &Error{fmt.Sprintf("the outline of %s crosses itself at (%.1f, %.1f) mm", name, x[0].X, x[0].Y), "draw it without the loop there"}
	}
	if !(math.Abs(o.Area()) > 0) {
		return &Error{fmt.Sprintf("the outline of %s holds nothing", name), "draw it as one closed line round the piece"}
	}
	return nil
}

func within(b path.Box, most float64) bool {
	return b.Min.Finite() && b.Max.Finite() && b.Min.X > -most && b.Min.Y > -most && b.Max.X < most && b.Max.Y < most
}

// Garments is how many of one size are cut.
type Garments struct {
	// Size is empty for pieces without one.
	Size  string
	Count int
}

// Order is how many garments are cut of each size, in the order in which the sizes follow
// one another where they are grouped.
type Order []Garments

// count returns how many are ordered of a size.
func (o Order) count(size string) (n int) {
	for _, g := range o {
		if g.Size == size {
			n += g.Count
		}
	}
	return n
}
