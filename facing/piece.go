package facing

import (
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// Kind says what a piece is cut for.
type Kind uint8

// The kinds of pieces.
const (
	Garment Kind = iota
	Facing
	// Interfacing stiffens a facing: its net without what lies near the seams.
	Interfacing
	// Lining is a second layer of the garment with the same shaped hem.
	Lining
	kinds
)

var kindNames = [kinds]string{"garment", "facing", "interfacing", "lining"}

// inner reports whether pieces of the kind lie inside of the garment when they are sewn.
func (k Kind) inner() bool { return k == Facing || k == Lining }

// String returns the kind's name in lower case.
func (k Kind) String() string {
	if k < kinds {
		return kindNames[k]
	}
	return "kind?"
}

// Edge is one side of a piece: its net and its cut line, open paths run
// counter-clockwise. On a fold the two are the same.
type Edge struct {
	Name      string
	Role      fit.Role
	Net, Cut  path.Path
	Allowance float64
	// Inner says that it is the inner edge of a facing.
	Inner bool
}

// Notch is a balance mark on the edge of a piece. Line is what is cut of it,
// from the cut edge inward, Net the place on the net line that it marks.
type Notch struct {
	fit.Notch
	Line path.Segment
	Net  path.Point
}

// Label is a block of text; At is the middle of the block, Angle the direction
// of its lines, Height that of its capitals in mm.
type Label struct {
	At     path.Point
	Angle  float64
	Height float64
	Lines  []string
}

// Piece is one piece to cut.
type Piece struct {
	// Name is for people: the panel's name, with "facing" behind it for a
	// facing.
	Name, Panel, Size string
	Kind              Kind
	// Edges form the outline, the hem first; Edges[i].Cut ends where the next
	// one's starts, and so do the nets. A hem that goes all round is the only one,
	// and closed.
	Edges []Edge
	// Hole is the inner edge of a facing that goes all round, a ring: closed and
	// clockwise, its cut line in the hole. It has no net in other pieces.
	Hole Edge
	// Clips run from the cut edge towards the stitching line and stop short of
	// it, one at each valley and inner corner and what [Turning] adds, in order along
	// the hem.
	Clips   []Clip
	Notches []Notch
	// Stitches are lines inside of the outline that are sewn: the shaped hem, on a
	// garment with its facing grown on.
	Stitches []path.Path
	// Trims are where the allowance is trimmed after stitching: across tips, along
	// the net line, and narrower on tight curves. Pivots are short lines at valleys and tips, as long as the
	// stitches that are taken across.
	Trims, Pivots []path.Path
	// Narrowest is the least width in mm to which Trims leave the hem's allowance on tight
	// curves; 0 where there are none.
	Narrowest float64
	// Grain is without length when the panel has none.
	Grain path.Segment
	fit.Inside
	// Section numbers the sections of a facing or an interfacing from 1; it is 0 of one
	// that is whole.
	Section int
	// Quantity is how many whole pieces to cut; Pairs says that half of them
	// are mirrored, OnFold that the outline is half of a piece.
	Quantity int
	Pairs    bool
	OnFold   bool
	// Binding is the length in mm of the strip that binds the inner edge of a
	// whole piece, 0 when it is not bound.
	Binding float64
	Label   Label

	places  []fit.Place   // on the hem, where clips at valleys and inner corners belong
	turning []fit.Warning // of the plan of its turning
}

// Net returns the stitching line: closed and counter-clockwise.
func (p Piece) Net() path.Path { return p.outline(func(e Edge) path.Path { return e.Net }) }

// Cut returns the cut line: closed and counter-clockwise.
func (p Piece) Cut() path.Path { return p.outline(func(e Edge) path.Path { return e.Cut }) }

// round reports whether the hem goes all round.
func (p Piece) round() bool { return len(p.Edges) == 1 }

func (p Piece) outline(line func(Edge) path.Path) path.Path {
	if p.round() {
		return line(p.Edges[0])
	}
	chain := make([]path.Path, len(p.Edges))
	for i, e := range p.Edges {
		chain[i] = line(e)
	}
	return path.Join(joinGap, chain...).Close(joinGap)
}

// fold returns the index of the edge on the fold, -1 when there is none.
func (p Piece) fold() int {
	for i, e := range p.Edges {
		if e.Role == fit.FoldEdge {
			return i
		}
	}
	return -1
}

// Unfold returns the whole piece of one that is cut on the fold: the outline
// and its mirror image in the fold, clips, notches and what is inside of
// both halves, grain and lettering once, and no word of a fold in it. Another piece is
// returned as it is.
func (p Piece) Unfold() Piece {
	k := p.fold()
	if k < 0 {
		return p
	}
	axis := p.Edges[k].Net
	mirror := path.Reflection(axis.Start(), axis.StartTangent())

	// From the end of the fold round to its start, and back mirrored; the
	// edges beside the fold run on into their own images.
	n := len(p.Edges)
	half := make([]Edge, 0, n-1)
	index := make([]int, n) // of an edge of p in half
	for i := 1; i < n; i++ {
		index[(k+i)%n] = len(half)
		half = append(half, p.Edges[(k+i)%n])
	}
	image := func(e Edge) Edge {
		e.Net = e.Net.Transform(mirror).Reverse()
		e.Cut = e.Cut.Transform(mirror).Reverse()
		return e
	}
	join := func(a, b Edge) Edge {
		a.Net = path.Join(joinGap, a.Net, b.Net)
		a.Cut = path.Join(joinGap, a.Cut, b.Cut)
		return a
	}
	m := len(half)
	whole := make([]Edge, 0, 2*m-2)
	whole = append(whole, join(image(half[0]), half[0]))
	whole = append(whole, half[1:]...)
	whole[m-1] = join(whole[m-1], image(half[m-1]))
	for i := m - 2; i > 0; i-- {
		whole = append(whole, image(half[i]))
	}
	first := 0
	for i, e := range whole {
		if e.Role == fit.HemEdge {
			first = i
			break
		}
	}
	u := p
	u.OnFold = false
	if len(p.Label.Lines) > cutLine {
		u.Label.Lines = slices.Clone(p.Label.Lines)
		u.Label.Lines[cutLine] = u.cutText()
	}
	u.Edges = append(append([]Edge(nil), whole[first:]...), whole[:first]...)

	place := func(e int) int { return (e - first + len(whole)) % len(whole) }
	u.Notches = nil
	for _, nt := range p.Notches {
		i := index[nt.Edge]
		here, there := nt, nt
		length := half[i].Net.Length()
		here.Edge = place(i)
		there.Edge = place((2*m - 2 - i) % (2*m - 2))
		there.At = length - nt.At
		switch i {
		case 0:
			here.At += length // its image comes first
		case m - 1:
			there.At += length
			there.Edge = here.Edge
		}
		there.Line = path.Segment{A: mirror.Apply(nt.Line.A), B: mirror.Apply(nt.Line.B)}
		there.Net = mirror.Apply(nt.Net)
		u.Notches = append(u.Notches, here)
		if there.Net.Dist(here.Net) > joinGap {
			u.Notches = append(u.Notches, there)
		}
	}
	u.Clips = nil
	for _, c := range p.Clips {
		u.Clips = append(u.Clips, c)
		other := c
		other.Line = c.Line.Transform(mirror)
		if c.Kind == VClip {
			other.Line = other.Line.Reverse()
		}
		if other.Line.Start().Dist(c.Line.Start()) > joinGap {
			u.Clips = append(u.Clips, other)
		}
	}
	u.places = slices.Clone(p.places)
	for _, v := range p.places {
		u.places = append(u.places, fit.Place{Point: mirror.Apply(v.Point), Out: mirror.ApplyVec(v.Out)})
	}
	u.Stitches = slices.Clone(p.Stitches)
	for _, l := range p.Stitches {
		u.Stitches = append(u.Stitches, l.Transform(mirror))
	}
	images := func(lines []path.Path) []path.Path {
		all := slices.Clone(lines)
		for _, l := range lines {
			all = append(all, l.Transform(mirror).Reverse())
		}
		return all
	}
	u.Trims, u.Pivots = images(p.Trims), images(p.Pivots)
	other := p.Inside.Transform(mirror)
	u.Internal = slices.Concat(p.Internal, other.Internal)
	u.Cutouts = slices.Concat(p.Cutouts, other.Cutouts)
	u.Drills = slices.Concat(p.Drills, other.Drills)
	return u
}
