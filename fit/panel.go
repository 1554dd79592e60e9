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

// Notch is a balance mark on a panel's net outline, At mm along the edge from
// that edge's start.
type Notch struct {
	Edge int
	At   float64
}

// Panel is one garment piece as drafted, flat and without allowances. Its
// edges form one closed, counter-clockwise outline, each ending where the next
// one starts; Edges[0] is the hem, Edges[1] the side at the hem's finish and
// the last one the side at its start. With the hem below, it therefore runs
// from left to right.
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
	// Internal are lines inside the panel that are kept as they are.
	Internal []path.Path
	// Count fixes the number of repeats of the unfolded panel; 0 leaves it free.
	Count int
	// StartPhase and FinishPhase say what of the motif stands on each end.
	StartPhase, FinishPhase Phase
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
)

// String returns the phase's name in lower case.
func (p Phase) String() string {
	switch p {
	case Valley:
		return "valley"
	case Peak:
		return "peak"
	}
	return "any"
}

// Outline returns the net outline: closed and counter-clockwise.
func (p Panel) Outline() path.Path {
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
