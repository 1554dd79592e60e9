package pattern

import (
	"fmt"
	"math"

	"engrail/fit"
)

// Selection says which piece of a drawing a panel is, and how to read it.
type Selection struct {
	// File names the drawing in messages. Panel is the panel's name.
	File, Panel string

	// One of these finds the piece; without any it is the drawing's only one. Name
	// is an id, else a label, else a text, whichever is found first. ID and Label
	// are those of a group or of the outline itself. Text stands inside the
	// outline. Order counts the drawing's pieces from 1, those that are lines of a
	// group before those in groups inside it. Upper and lower case are the same
	// where nothing matches exactly.
	Name, ID, Label, Text string
	Order                 int

	// Hem is the id or label of a line that runs along the hem, "#2" for the second
	// edge in the order of the messages, "A to B" for the edge between the corners
	// of these letters, or "from 12, 30 to 480, 41" for the one between the corners
	// that are nearest to these places in mm. Empty or "lowest", the hem is the
	// lowest edge between two corners. "all round" is the whole outline.
	Hem string
	// More are the edges, named likewise, that the hem goes on along, one after the
	// other in whatever order: it then has corners.
	More []string
	// Fold is the edge on the fold: "left" or "right" (the sides at the hem's
	// start and finish), "none", or an edge as the hem is named. Empty, it is the edge along which the drawing has a line with the
	// word fold, if any.
	Fold string
	// Start and Finish say what the sides at the two ends of the hem are, where
	// they do not lie on the fold: fit.SeamEdge or fit.OpeningEdge. Zero is a seam.
	Start, Finish fit.Role

	// Includes are the allowances that the drawn outline has, to be taken off.
	// Without it the stitching line is the one that is drawn inside of the cut
	// line, or else the outline itself.
	Includes *Widths
	// Allowance are the allowances that the panel's edges get. AsDrawn says which
	// of the four get those instead that the drawing has: as measured between the
	// cut line and the stitching line, or those of Includes.
	Allowance Widths
	AsDrawn   Sides

	// Quantity is how many to cut; 0 takes it from a text such as "cut 2", else 1.
	Quantity int
	// Check is the true length of the hem on the stitching line, 0 when not known.
	Check float64
	// Corner is the turn in radians that makes a corner, 0 for DefaultCorner.
	Corner float64
}

// Widths are the allowances of a panel's edges in mm. An edge on the fold has
// none whatever they say, and the other runs of a hem have the hem's.
type Widths struct {
	Hem, Start, Finish, Top float64
	// Edges are those of single edges, which go before the others.
	Edges []EdgeWidth
}

// EdgeWidth is the allowance in mm of the edge that is named as a hem is.
type EdgeWidth struct {
	Edge  string
	Width float64
}

// Sides says something of each kind of edge.
type Sides struct{ Hem, Start, Finish, Top bool }

// Error says why a panel cannot be taken from a drawing, and what would help.
type Error struct {
	// File and Piece name the drawing and the piece in it.
	File, Piece string
	Problem     string
	Hint        string
}

// Error returns the file, the piece and the problem.
func (e *Error) Error() string {
	if e.File == "" {
		return fmt.Sprintf("piece %s: %s", e.Piece, e.Problem)
	}
	return fmt.Sprintf("%s: piece %s: %s", e.File, e.Piece, e.Problem)
}

// correctIncludes is the hint where what the outline is said to include does not
// come off it.
const correctIncludes = "correct the widths under `includes:`, such as `hem: 15mm`, or leave that key out where the outline is the stitching line"

// Remedy returns what would help, with the keys of a style file.
func (e *Error) Remedy() string { return e.Hint }

// piece returns how messages call the piece.
func (s *Selection) piece() string {
	switch {
	case s.Name != "":
		return fmt.Sprintf("%q", s.Name)
	case s.ID != "":
		return fmt.Sprintf("with the id %q", s.ID)
	case s.Label != "":
		return fmt.Sprintf("with the label %q", s.Label)
	case s.Text != "":
		return fmt.Sprintf("with the text %q", s.Text)
	case s.Order != 0:
		return fmt.Sprintf("#%d", s.Order)
	}
	return fmt.Sprintf("for the panel %q", s.Panel)
}

func (s *Selection) errorf(hint, format string, args ...any) error {
	return &Error{File: s.File, Piece: s.piece(), Problem: fmt.Sprintf(format, args...), Hint: hint}
}

// check refuses numbers that make no sense.
func (s *Selection) check() error {
	widths := []Widths{s.Allowance}
	if s.Includes != nil {
		widths = append(widths, *s.Includes)
	}
	for _, w := range widths {
		all := []float64{w.Hem, w.Start, w.Finish, w.Top}
		for _, e := range w.Edges {
			all = append(all, e.Width)
		}
		for _, x := range all {
			if !(x >= 0 && x <= largestPiece) {
				return s.errorf(fmt.Sprintf("give a width from 0 to %g mm, such as `hem: 15mm`, under `allowance:` or `includes:`", largestPiece), "an allowance of %g mm cannot be", x)
			}
		}
	}
	if !(s.Check >= 0) || math.IsInf(s.Check, 0) {
		return s.errorf("give the hem's length, such as `check: 412mm`, under `piece:`", "a hem of %g mm cannot be checked for", s.Check)
	}
	if !(s.Corner >= 0 && s.Corner < math.Pi) {
		return s.errorf("give an angle between 0 and 180 degrees", "a turn of %g rad cannot make a corner", s.Corner)
	}
	if s.Quantity < 0 || s.Order < 0 {
		return s.errorf("count from 1, as in `quantity: 2` and `order: 1`", "a quantity of %d and the order %d cannot both be", s.Quantity, s.Order)
	}
	for _, r := range [2]fit.Role{s.Start, s.Finish} {
		if r != fit.OtherEdge && r != fit.SeamEdge && r != fit.OpeningEdge {
			return s.errorf("say `edge: seam` or `edge: opening` under `start:` and `finish:`, and a fold with `fold: left` under `piece:`", "a side of the hem cannot be a %v edge", r)
		}
	}
	return nil
}
