package fit

import "engrail/motif/path"

// Role says what an edge of a panel is.
type Role uint8

// The roles of a panel's edges.
const (
	// OtherEdge is an edge that has nothing to do with the hem: a waist, a pocket
	// edge.
	OtherEdge Role = iota
	// HemEdge is the lower edge that is shaped.
	HemEdge
	// SeamEdge is an edge that is sewn to another edge.
	SeamEdge
	// FoldEdge is an edge that lies on the fold of the cloth: the panel is half of
	// what is cut.
	FoldEdge
	// OpeningEdge is a finished edge: a wrap's front, a vent, a slit.
	OpeningEdge
	edgeRoles
)

var edgeRoleNames = [edgeRoles]string{"other", "hem", "seam", "fold", "opening"}

// String returns the role's name in lower case.
func (r Role) String() string {
	if r < edgeRoles {
		return edgeRoleNames[r]
	}
	return "role?"
}

// Edge is one side of a panel's net outline: an open path, run
// counter-clockwise round the panel. Allowance is the width in mm between the
// net and the cut line on this edge, 0 on a fold.
type Edge struct {
	Name      string
	Role      Role
	Path      path.Path
	Allowance float64
}

// NotchKind is the shape of a notch.
type NotchKind uint8

// The kinds of notches, as pattern data tell them apart.
const (
	SlitNotch NotchKind = iota
	VNotch
	TNotch
	CastleNotch
	CheckNotch
	UNotch
)

// Notch is a balance mark on a panel's net outline, At mm along the edge from
// that edge's start. Depth and Width are in mm, the width that at the cut edge;
// at 0 they are left to whoever draws it.
type Notch struct {
	Edge         int
	At           float64
	Kind         NotchKind
	Depth, Width float64
}

// Text is one line of lettering on a panel: At is the left end of its base line,
// Height that of a capital in mm, Angle the direction of the line.
type Text struct {
	At            path.Point
	Height, Angle float64
	String        string
}

// Inside is what is drawn inside a panel and kept as it is: lines, closed
// cutouts, the middles of drill holes, and lettering.
type Inside struct {
	Internal, Cutouts []path.Path
	Drills            []path.Point
	Texts             []Text
}

// Transform returns it moved. A motion that mirrors leaves lettering readable.
func (in Inside) Transform(m path.Similarity) Inside {
	var out Inside
	for _, l := range in.Internal {
		out.Internal = append(out.Internal, l.Transform(m))
	}
	for _, c := range in.Cutouts {
		out.Cutouts = append(out.Cutouts, c.Transform(m))
	}
	for _, d := range in.Drills {
		out.Drills = append(out.Drills, m.Apply(d))
	}
	for _, t := range in.Texts {
		t.At, t.Height = m.Apply(t.At), t.Height*m.Scale()
		if !m.Mirrors() {
			t.Angle = m.ApplyVec(path.Direction(t.Angle)).Angle()
		}
		out.Texts = append(out.Texts, t)
	}
	return out
}

// Panel is one garment piece as drafted, flat and without allowances. Its
// edges form one closed, counter-clockwise outline, each ending where the next
// one starts; Edges[0] is the hem, Edges[1] the side at the hem's finish and
// the last one the side at its start. With the hem below, it therefore runs
// from left to right. A hem that turns by more than 25 degrees has a corner there,
// and a run on each side of it. A hem that goes all round is one closed edge, the
// only one.
type Panel struct {
	Name string
	// Size is the size's name, empty when there is only one.
	Size  string
	Edges []Edge
	// Quantity is how many to cut of the unfolded panel.
	Quantity int
	Notches  []Notch
	// Grain is the grain line as drawn; without length when the panel has none.
	Grain path.Segment
	Inside
	// Count fixes the number of repeats of the unfolded panel; 0 leaves it free.
	Count int
	// StartPhase and FinishPhase say what of the motif stands on each end, and
	// CornerPhase what stands on the corners of the hem: a valley when it is left
	// open.
	StartPhase, FinishPhase, CornerPhase Phase
	// StartPlain, FinishPlain and CornerPlain are the lengths in mm of stretches
	// without a motif at the ends and on both sides of each corner.
	StartPlain, FinishPlain, CornerPlain float64
	// Runs say what is special on each run of the hem, in order; none, when nothing
	// is.
	Runs []RunOptions
}

// RunOptions are what one run of a hem has of its own.
type RunOptions struct {
	// Spec is its motif, nil for the garment's. Rest and lay are the garment's.
	Spec *Spec
	// Count fixes its number of repeats; 0 leaves it free. At a corner with a peak
	// on one of its ends it has half a repeat more.
	Count int
	// Bare leaves it without a motif, along the valley line.
	Bare bool
}

// Phase says which point of the motif stands on an end of a hem.
type Phase uint8

// The phases at an end.
const (
	// AnyPhase leaves the choice to the fit: a valley, but on a fold whichever
	// gives the better count.
	AnyPhase Phase = iota
	// Valley puts a valley on the end.
	Valley
	// Peak puts a peak on the end.
	Peak
	// Plain says that no motif stands there: a plain stretch does.
	Plain
)

// String returns the phase's name in lower case.
func (p Phase) String() string {
	switch p {
	case Valley:
		return "valley"
	case Peak:
		return "peak"
	case Plain:
		return "plain stretch"
	}
	return "any"
}

// Outline returns the net outline: closed and counter-clockwise.
func (p Panel) Outline() path.Path {
	if hem := p.Edges[0].Path; hem.Closed {
		return hem
	}
	chain := make([]path.Path, len(p.Edges))
	for i, e := range p.Edges {
		chain[i] = e.Path
	}
	return path.Join(JoinGap, chain...).Close(JoinGap)
}

// OnFold reports whether one of the panel's edges is a fold.
func (p Panel) OnFold() bool {
	for _, e := range p.Edges {
		if e.Role == FoldEdge {
			return true
		}
	}
	return false
}

// End names one of the two ends of a hem.
type End uint8

// The ends of a hem, in the direction of the outline.
const (
	Start End = iota
	Finish
)

// String returns the end's name in lower case.
func (e End) String() string {
	if e == Finish {
		return "finish"
	}
	return "start"
}

// EndRef names an end of one panel of a garment by the panel's index.
type EndRef struct {
	Panel int
	End   End
}

// Seam joins the side at one end of a hem to the side at another. An end
// joined to itself is a seam between two copies of the panel, one mirrored.
type Seam struct{ A, B EndRef }

// Garment is the panels of one size and the seams that join them at the hem.
type Garment struct {
	Panels []Panel
	Seams  []Seam
}
