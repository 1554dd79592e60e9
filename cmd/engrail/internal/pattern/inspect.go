package pattern

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// Report is what a drawing has in it.
type Report struct {
	// Pieces are in the order that [Selection.Order] counts them in.
	Pieces []Inspected
	// Seams are the sides that are probably sewn to each other, each side in one of
	// them at most.
	Seams []SeamGuess
	// Problems say the piece and the place, and what would help.
	Problems []fit.Warning
}

// Inspected is a piece of a drawing and what [Take] would make of it when nothing
// is said but which piece it is.
type Inspected struct {
	// Number counts the pieces from 1. Name is the piece's best name.
	Number int
	Name   string
	// Key is what finds the piece, as in [Selection]: "name", "id", "label", "text"
	// or "order". Value is what it then says.
	Key, Value string
	Size       string
	// Outline is cleaned, closed and counter-clockwise, as drawn. Cut says that it
	// is a cut line, with the allowances on it; else it is the stitching line.
	Outline path.Path
	Cut     bool
	// Stitch is the stitching line inside of the cut line, closed and
	// counter-clockwise; without vertices where none is drawn. The edges are then
	// its edges.
	Stitch path.Path
	// Edges are in order along the line, those numbered from 1. There are none
	// when the line has less than three corners.
	Edges []InspectedEdge
	// Notches are on the outline.
	Notches []path.Point
	// Grain is without length when the piece has none.
	Grain path.Segment
	// Turned is the angle in radians by which the piece has to turn to stand on
	// its grain with the hem below.
	Turned float64
	Texts  []string
	// Quantity is 0 when the drawing does not say how many to cut.
	Quantity int
	OnFold   bool
}

// InspectedEdge is an edge of a piece. Word and Role are what it probably is.
type InspectedEdge struct {
	// Number is what messages and a selection's "#2" call it.
	Number int
	// Path runs counter-clockwise round the piece.
	Path path.Path
	// Word is "hem", "fold", "start", "finish", "top" or, with no hem found,
	// "other". All runs of a hem are "hem".
	Word string
	Role fit.Role
	// Reason says in plain words why.
	Reason string
	// Allowance is the width in mm between the cut and the stitching line, where
	// both are drawn: then it is Measured.
	Allowance float64
	Measured  bool
	// Corner is the angle in radians inside the piece at the edge's start, and
	// Letter what that corner is called.
	Corner float64
	Letter string
}

// SideRef names a side of a piece: the edge beside one end of its hem, by the
// index of the piece in the report.
type SideRef struct {
	Piece int
	End   fit.End
}

// SeamGuess is two sides that are probably sewn together, with their lengths in
// mm and the reason. A side joined to itself meets its mirror image on another
// copy of the piece.
type SeamGuess struct {
	A, B             SideRef
	ALength, BLength float64
	Reason           string
}

// Inspect reports the pieces of a drawing of one size. It goes as Take does, so
// that what it says is what a panel made of the piece will be; what Take would
// refuse is among the problems. The file's name is for these.
func Inspect(d plot.Drawing, file string) Report {
	var r Report
	problem := func(sel *Selection, warnings []fit.Warning, err error) {
		r.Problems = append(r.Problems, warnings...)
		var e *Error
		if errors.As(err, &e) {
			r.Problems = append(r.Problems, fit.Warning{Code: "piece", Level: fit.LevelError, Where: place(file, "piece "+e.Piece), Message: e.Problem + "; " + e.Hint})
		}
	}
	if err := usable(d, &Selection{File: file}); err != nil {
		problem(nil, nil, err)
		return r
	}
	s := newScene(d)
	if len(s.pieces) == 0 {
		message := "the drawing has no piece"
		var e *Error
		if errors.As(s.unclosed(&Selection{}), &e) {
			message += ": " + e.Problem + "; " + e.Hint
		} else {
			message += "; " + s.choices()
		}
		r.Problems = append(r.Problems, fit.Warning{Code: "no-piece", Level: fit.LevelError, Where: file, Message: message})
	}
	pieces := s.pieces
	if len(pieces) > mostPieces {
		r.Problems = append(r.Problems, fit.Warning{Code: "many-pieces", Where: file,
			Message: fmt.Sprintf("the drawing has %d pieces, of which the first %d are listed; save the pieces that are wanted in a file of their own", len(pieces), mostPieces)})
		pieces = pieces[:mostPieces]
	}
	for i, c := range pieces {
		sel := Selection{File: file, Order: i + 1, Panel: strconv.Itoa(i + 1)}
		t := taking{sel: &sel}
		in, err := t.inspect(s, c)
		in.Number = i + 1
		r.Pieces = append(r.Pieces, in)
		problem(&sel, t.warnings, err)
	}
	for _, w := range s.warnings {
		w.Where = file
		r.Problems = append(r.Problems, w)
	}
	r.Seams = seams(r.Pieces)
	for _, g := range r.Seams {
		for _, side := range [2]struct{ at, other SideRef }{{g.A, g.B}, {g.B, g.A}} {
			e := r.Pieces[side.at.Piece].side(side.at.End)
			if e == nil || g.A == g.B || !strings.HasPrefix(e.Reason, besideHem) {
				continue
			}
			length := g.BLength
			if side.other == g.A {
				length = g.ALength
			}
			e.Reason = fmt.Sprintf("as long as the %v of %s, %.1f mm", side.other.End, r.Pieces[side.other.Piece].Name, length)
		}
	}
	return r
}

// place names a place in a file for people.
func place(file, in string) string {
	if file == "" {
		return in
	}
	return file + ", " + in
}

const besideHem = "beside the hem"

// inspect reports one piece. The error is what Take would stop at.
func (t *taking) inspect(s *scene, c chain) (Inspected, error) {
	in := Inspected{Outline: c.path}
	in.Key, in.Value = s.keyOf(c)
	in.Name = in.Value
	if in.Key == "order" {
		in.Name = cmp.Or(strings.Trim(s.nameOf(c), `" `), "#"+in.Value)
	}
	t.sel.Panel = in.Name
	t.warnGap(c)
	t.warnShared(c)
	err := t.plausible(c.path.Bounds())
	st, failed := t.outlined(s, c)
	in.Outline, in.Stitch = st.outline, st.stitch
	in.Cut = st.stitch.V != nil
	if !in.Cut && !slices.ContainsFunc(st.parts, func(m marked) bool { return m.Role != plot.Cut }) {
		in.Cut = true
		t.warnf("cut-line", "the outline is a cut line, and no stitching line is drawn in it; say which allowances are on it, such as `includes: 15mm`, under `piece:`")
	}
	err = cmp.Or(err, failed)
	in.Size, in.Quantity, in.OnFold = st.known.Size, t.quantity(st.piece), st.known.OnFold
	for _, n := range st.notes {
		in.Texts = append(in.Texts, n.String)
	}
	if g := st.grain(); g >= 0 {
		in.Grain = longest(st.lines[g].Path)
	}
	outline := path.NewRuler(in.Outline)
	for _, m := range st.lines {
		if m.isNotch(outline) {
			a, _ := outline.Nearest(m.Path.Start())
			in.Notches = append(in.Notches, outline.At(a))
		}
	}
	if failed != nil {
		return in, err
	}
	if failed = t.cornered(&st); failed != nil {
		return in, cmp.Or(err, failed)
	}
	none := t.hem(&st)
	err = cmp.Or(err, none)
	found := slices.ContainsFunc(st.edges, func(e edge) bool { return e.run }) || none == nil
	if found {
		err = cmp.Or(err, t.onFold(&st))
		in.Turned = st.turn
		in.OnFold = in.OnFold || st.fold >= 0
	}
	if err == nil {
		whole := taking{sel: t.sel}
		_, err = whole.panel(&st)
		for _, w := range whole.warnings {
			if w.Code == "notch-off-edge" { // the others are for a build
				t.warnings = append(t.warnings, w)
			}
		}
	}
	n := len(st.edges)
	for i, e := range st.edges {
		ie := InspectedEdge{Number: e.number, Path: e.path, Allowance: e.width, Measured: e.measured, Letter: CornerLetter(e.number)}
		before := st.edges[(i+n-1)%n].path
		ie.Corner = math.Pi - before.EndTangent().AngleTo(e.path.StartTangent())
		switch {
		case !found:
			ie.Word, ie.Reason = "other", "no hem was found"
		case i == st.fold:
			ie.Word, ie.Role, ie.Reason = "fold", fit.FoldEdge, st.foldReason
		case i == 0:
			ie.Word, ie.Role, ie.Reason = "hem", fit.HemEdge, st.hemReason
		case e.run:
			ie.Word, ie.Role, ie.Reason = "hem", fit.HemEdge, "another run of the hem, beyond a corner: it keeps its line and gets the hem's allowance"
		case i == st.finish, i == n-1:
			ie.Word = "finish"
			end := fit.Finish
			if i == n-1 {
				ie.Word, end = "start", fit.Start
			}
			if ie.Role, ie.Reason = st.sideRole(i); ie.Reason == "" {
				ie.Reason = fmt.Sprintf("%s, at its %v", besideHem, end)
			}
		default:
			ie.Word, ie.Reason = "top", "none of the others"
		}
		in.Edges = append(in.Edges, ie)
	}
	slices.SortFunc(in.Edges, func(a, b InspectedEdge) int { return a.Number - b.Number })
	return in, err
}

// side returns the edge beside the end of the hem, nil without one.
func (in Inspected) side(end fit.End) *InspectedEdge {
	for i := range in.Edges {
		if in.Edges[i].Word == end.String() {
			return &in.Edges[i]
		}
	}
	return nil
}

// keyOf returns what a selection finds the outline by.
func (s *scene) keyOf(c chain) (key, value string) {
	finds := func(sel Selection) bool {
		found, err := s.find(&sel)
		return err == nil && slices.Equal(found.items, c.items)
	}
	it := s.items[c.items[0]]
	ids, labels := []string{it.ID}, []string{it.Label}
	for g := it.group; g > 0; g = s.groups[g].parent {
		if p := s.groups[g].piece; p != nil {
			labels = append(labels, p.Name)
		}
		labels, ids = append(labels, s.groups[g].label), append(ids, s.groups[g].id)
	}
	for _, v := range labels {
		if v != "" && finds(Selection{Name: v}) {
			return "name", v
		}
	}
	for _, v := range ids {
		if v != "" && finds(Selection{Name: v}) {
			return "name", v
		}
		if v != "" && finds(Selection{ID: v}) {
			return "id", v
		}
	}
	for _, v := range labels {
		if v != "" && finds(Selection{Label: v}) {
			return "label", v
		}
	}
	tried := 0
	for _, n := range s.notes {
		if tried < mostTexts && n.String != "" && c.path.Contains(n.At) {
			tried++
			if finds(Selection{Text: n.String}) {
				return "text", n.String
			}
		}
	}
	return "order", strconv.Itoa(1 + slices.IndexFunc(s.pieces, func(d chain) bool { return slices.Equal(d.items, c.items) }))
}

// Find sets what finds the piece in a selection.
func (in Inspected) Find(sel *Selection) {
	switch in.Key {
	case "name":
		sel.Name = in.Value
	case "id":
		sel.ID = in.Value
	case "label":
		sel.Label = in.Value
	case "text":
		sel.Text = in.Value
	default:
		sel.Order = in.Number
	}
}
