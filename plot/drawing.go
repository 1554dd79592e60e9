package plot

import (
	"cmp"
	"errors"
	"fmt"
	"unicode/utf8"

	"engrail/fit"
	"engrail/motif/path"
)

// Role says what a line is for, and with that how a format draws it.
type Role uint8

// The roles of lines.
const (
	// Drawn is a line from a file that does not say what it is for.
	Drawn Role = iota
	// Cut is a line to cut along: a piece's outer edge or a cutout.
	Cut
	// Stitch is the stitching line: the piece without its allowances.
	Stitch
	// Fold is an edge that is placed on the fold of the cloth.
	Fold
	// Grain is the line that lies parallel to the selvage.
	Grain
	// Notch is a short line from the cut edge inward that meets its pair on
	// another piece. It starts on the cut edge.
	Notch
	// Clip is a line along which the allowance is snipped after stitching. It
	// starts on the cut edge and stops short of the stitching.
	Clip
	// Mark is a point or line to be marked on the cloth, not cut: the middle of a
	// drill hole is a path of one point.
	Mark
	// Inner is the finished inner edge of a facing.
	Inner
	// Internal is any other line inside the piece: darts, pockets.
	Internal
	roles
)

var roleNames = [roles]string{
	"drawn", "cut", "stitch", "fold", "grain", "notch", "clip", "mark", "inner", "internal",
}

// String returns the role's name in lower case.
func (r Role) String() string {
	if r < roles {
		return roleNames[r]
	}
	return "role?"
}

// ParseRole returns the role of that name.
func ParseRole(name string) (Role, bool) {
	for r, n := range roleNames {
		if n == name {
			return Role(r), true
		}
	}
	return Drawn, false
}

// Roles returns every role but Drawn, in the order in which they are drawn and
// listed.
func Roles() []Role {
	all := make([]Role, 0, roles-1)
	for r := Cut; r < roles; r++ {
		all = append(all, r)
	}
	return all
}

// Line is one path of a drawing. ID and Label name it where a format can say
// so: ID is unique in its file, Label is for people. Class holds further words
// that a file attaches to the line, such as style classes, separated by spaces.
type Line struct {
	Role             Role
	Path             path.Path
	ID, Label, Class string
	// Stroke is the colour and the dashes that a file draws the line in, in one
	// word that is the same for lines that look alike; empty when it says
	// nothing. Writers pass it over.
	Stroke string
	// Notch and Width are the shape of a line with the role Notch and its width
	// at the cut edge in mm, 0 when not known. The line runs from the cut edge
	// inward, as long as the notch is deep.
	Notch fit.NotchKind
	Width float64
	// Sign says that the line only belongs to a sign for the lines of its role,
	// such as the arrowheads of a grain line: see [Group.Signs]. It is drawn
	// for people, and whoever looks for the fold or the grain passes it over.
	Sign bool
}

// Align says which part of a text stands at its position.
type Align uint8

// The alignments of a text's line to its position.
const (
	Left Align = iota
	Middle
	Right
)

// Opposite returns the alignment of a text that is read from the other end.
func (a Align) Opposite() Align { return Right - a }

// Before returns the part of a text's width that lies before its position: 0, 0.5 or 1.
// It is 0 of what is no alignment.
func (a Align) Before() float64 {
	switch a {
	case Middle:
		return 0.5
	case Right:
		return 1
	}
	return 0
}

// Text is one line of lettering. At is on the base line; Height is the height
// of a capital letter in mm.
type Text struct {
	At     path.Point
	Height float64
	Angle  float64
	Align  Align
	String string
	ID     string
}

// Corners returns the corners of the room that the text takes at most: in the
// widest letters that it is written in, from the base line up. They run
// counter-clockwise from the lower left one.
func (t Text) Corners() [4]path.Point {
	along := path.Direction(t.Angle)
	length := along.Mul(letterWidth * t.Height * float64(utf8.RuneCountInString(t.String)))
	up := along.Left().Mul(t.Height)
	a := t.At.Add(length.Mul(-t.Align.Before()))
	b := a.Add(length)
	return [4]path.Point{a, b, b.Add(up), a.Add(up)}
}

// Piece is what is known of the pattern piece that a group draws.
type Piece struct {
	// Name is the piece's name, Size the size's, Style the style's.
	Name, Size, Style string
	// Kind is "garment", "facing", "interfacing", "lining" or, of a card to mark by,
	// "template"; empty when not known.
	Kind string
	// Quantity is how many pieces to cut, 0 when not known. A piece on the
	// fold counts as one whole piece.
	Quantity int
	// OnFold says that the outline is half of the piece, cut on the fold.
	OnFold bool
	// Pairs says that of a quantity above one, half are cut mirrored.
	Pairs bool
	// Material is free text: what to cut it from.
	Material string
	// Notes are further lines for a person.
	Notes []string
}

// Group is a set of lines and texts that belong together, with groups inside
// it. In a drawing made for plotting each group is a piece.
type Group struct {
	ID, Label string
	Piece     *Piece
	// Size says that the group and all in it is one size's part of a nest, in which
	// several sizes lie over one another: it is drawn in the size's [SizeLook]. The
	// drawing's own groups with a size are those of [Drawing.Sizes], which formats
	// write as layers.
	Size   string
	Lines  []Line
	Texts  []Text
	Groups []Group
}

// Drawing is what a format writes and what is read from it.
type Drawing struct {
	Title  string
	Groups []Group
}

// Name returns what messages call the group: its piece with the size, or else
// its label, or its ID; nothing when it has none of them.
func (g Group) Name() string {
	switch {
	case g.Piece != nil && g.Piece.Name != "" && g.Piece.Size != "":
		return fmt.Sprintf("piece %q size %s", g.Piece.Name, g.Piece.Size)
	case g.Piece != nil && g.Piece.Name != "":
		return fmt.Sprintf("piece %q", g.Piece.Name)
	case g.Label != "":
		return fmt.Sprintf("group %q", g.Label)
	case g.ID != "":
		return fmt.Sprintf("group %q", g.ID)
	}
	return ""
}

// Walk calls visit for the group and every group inside it, outer ones first.
func (g Group) Walk(visit func(Group)) {
	visit(g)
	for _, in := range g.Groups {
		in.Walk(visit)
	}
}

// Bounds returns the smallest box around the group's lines, the empty box when
// it has none. Texts do not count.
func (g Group) Bounds() path.Box {
	b := path.EmptyBox()
	g.Walk(func(h Group) {
		for _, l := range h.Lines {
			b = b.Union(l.Path.Bounds())
		}
	})
	return b
}

// Extent returns the smallest box around the group's lines and texts, of which the
// latter take the room of their [Text.Corners]; the empty box when it has none.
func (g Group) Extent() path.Box {
	b := g.Bounds()
	g.Walk(func(h Group) {
		for _, t := range h.Texts {
			for _, c := range t.Corners() {
				b = b.Include(c)
			}
		}
	})
	return b
}

// Bounds returns the smallest box around all lines of the drawing.
func (d Drawing) Bounds() path.Box {
	b := path.EmptyBox()
	for _, g := range d.Groups {
		b = b.Union(g.Bounds())
	}
	return b
}

// Extent returns the smallest box around all lines and texts of the drawing, of which
// the latter take the room of their [Text.Corners].
//
// A drawing without lines is an error, and so is a number that is not finite; it names
// the line or the text.
func (d Drawing) Extent() (path.Box, error) {
	box := d.Bounds()
	if box.Empty() {
		return box, errors.New("the drawing has no lines; draw something")
	}
	var bad error
	for _, g := range d.Groups {
		g.Walk(func(g Group) {
			for i, l := range g.Lines {
				if b := l.Path.Bounds(); !l.Path.Finite() || len(l.Path.V) > 0 && !(b.Min.Finite() && b.Max.Finite()) {
					bad = fmt.Errorf("%v line %d of %s has a coordinate that is not a number or not finite; check the numbers that it is made from", l.Role, i+1, cmp.Or(g.Name(), "a group without a name"))
				}
			}
			for _, t := range g.Texts {
				for _, c := range t.Corners() {
					if !c.Finite() {
						bad = fmt.Errorf("text %q of %s has a place, height or angle that is not finite; check the numbers that it is made from", t.String, cmp.Or(g.Name(), "a group without a name"))
					}
					box = box.Include(c)
				}
			}
		})
	}
	return box, bad
}

// Transform returns the group moved; texts turn and scale with it. A motion
// that mirrors moves the texts' positions but leaves the lettering readable.
func (g Group) Transform(m path.Similarity) Group {
	lines := make([]Line, len(g.Lines))
	for i, l := range g.Lines {
		l.Path = l.Path.Transform(m)
		lines[i] = l
	}
	texts := make([]Text, len(g.Texts))
	for i, t := range g.Texts {
		t.At = m.Apply(t.At)
		t.Height *= m.Scale()
		along := m.ApplyVec(path.Direction(t.Angle))
		if m.Mirrors() && along.X < 0 {
			// Read from the other end, so as not to stand on its head.
			along = along.Neg()
			t.Align = t.Align.Opposite()
		}
		t.Angle = along.Angle()
		texts[i] = t
	}
	groups := make([]Group, len(g.Groups))
	for i, in := range g.Groups {
		groups[i] = in.Transform(m)
	}
	g.Lines, g.Texts, g.Groups = lines, texts, groups
	return g
}
