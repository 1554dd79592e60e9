package facing

import (
	"fmt"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
)

// InnerFinish says what is done to the inner edge of a facing.
type InnerFinish uint8

// The ways to finish an inner edge. All of them leave the net line where it is.
const (
	// Turned under by its allowance.
	Turned InnerFinish = iota
	// Overlocked, or otherwise neatened as it is cut.
	Overlocked
	// Bound with a strip, whose length the piece tells.
	Bound
)

// bind fills in the length of the binding: the inner edge of the whole piece, and
// an end at both of its ends.
func (p *Piece) bind(o Options) {
	if o.Finish != Bound {
		return
	}
	p.Binding = p.inner().Net.Length()
	if p.OnFold {
		p.Binding *= 2
	}
	p.Binding += 2 * bindingEnd
}

// interfacing returns the interfacing of a facing: its net moved in from every
// edge but a fold, without allowances and marks, in the facing's grain. The error
// says that nothing is left of an edge.
func (p Piece) interfacing(o Options) (Piece, error) {
	name := p.Name
	if i := strings.LastIndex(name, Facing.String()); i >= 0 {
		name = name[:i] + Interfacing.String() + name[i+len(Facing.String()):]
	}
	q := Piece{Name: name, Panel: p.Panel, Size: p.Size, Kind: Interfacing,
		Quantity: p.Quantity, Pairs: p.Pairs, OnFold: p.OnFold}
	fail := func(err error) (Piece, error) {
		return Piece{}, &Error{Piece: name, Cause: err,
			Hint: fmt.Sprintf("stop less than %.1f mm short of the seams, 3 mm is usual, or make the facing deeper", o.Short)}
	}
	moved := func(e Edge) Edge {
		e.Allowance = 0
		if e.Role != fit.FoldEdge {
			e.Allowance = -o.Short
		}
		return e
	}
	for _, e := range p.Edges {
		q.Edges = append(q.Edges, moved(e))
	}
	if err := addCut(q.Edges, p.foldLeads()); err != nil {
		return fail(err)
	}
	if len(p.Hole.Net.V) > 0 {
		q.Hole = moved(p.Hole)
		if err := q.Hole.moveClosed(path.Corner{}); err != nil {
			return fail(err)
		}
		if len(q.Hole.Cut.Intersections(q.Edges[0].Cut)) > 0 {
			return fail(fmt.Errorf("nothing is left between the hem and the inner edge"))
		}
	}
	settle := func(e *Edge) { e.Net, e.Allowance = e.Cut, 0 }
	for i := range q.Edges {
		settle(&q.Edges[i])
	}
	settle(&q.Hole)
	if cross := q.Net().SelfIntersections(); len(cross) > 0 {
		at := cross[0].Point
		return fail(fmt.Errorf("its outline crosses itself at (%.0f, %.0f)", at.X, at.Y))
	}
	if !(q.Net().Area() > 0) {
		return fail(fmt.Errorf("nothing is left of it"))
	}
	q.Grain = q.grainFor(p.Grain)
	head := name
	if o.Style != "" {
		head = o.Style + ": " + head
	}
	q.Label = label([]string{head, q.cutText(), "no allowance"}, q.plainWalls(), q.along(o.Depth-o.Short))
	return q, nil
}

// foldLeads leads hem and inner edge on beyond a fold as the other half of the
// piece has them.
func (p Piece) foldLeads() map[int][2]lead {
	var end fit.End
	switch {
	case p.fold() < 0:
		return nil
	case p.fold() == 1:
		end = fit.Finish
	}
	var hem, inner [2]lead // each by its own start and end
	hem[end] = lead{own: p.ending(false, end)}
	inner[1-end] = lead{own: p.ending(true, end)}
	return map[int][2]lead{0: hem, innerEdge: inner}
}

// plainWalls returns the lines that lettering keeps clear of, the shaped hem as it
// is.
func (p Piece) plainWalls() []wall {
	var all []wall
	for _, e := range p.Edges {
		all = append(all, wallsOf(e.Net, true)...)
	}
	all = append(all, wallsOf(p.Hole.Net, true)...)
	return append(all, p.insideWalls()...)
}
