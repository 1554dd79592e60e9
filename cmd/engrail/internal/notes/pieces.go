package notes

import (
	"fmt"
	"math"
	"strings"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// piecesSection lists the pieces and how many to cut, with a picture of each.
func (s *sheet) piecesSection() Section {
	u := string(s.Unit)
	list := Table{Caption: "Pieces to cut", Left: 3, Head: []string{"Piece", "Cut", "From"}}
	measures := Table{Caption: "How large they are, with allowances, as drawn", Left: s.left(2),
		Head: s.sized("Size", "Piece", "Allowances, "+u, "Width, "+u, "Height, "+u)}
	for k, size := range s.Sizes {
		for _, p := range size.Pieces {
			if k == 0 {
				list.Rows = append(list.Rows, []string{p.Name, howMany(p), s.clothOf(p)})
			}
			box := p.Cut().Bounds()
			measures.Rows = append(measures.Rows, s.sized(size.Name, p.Name, s.allowances(p), s.figure(box.Width()), s.figure(box.Height())))
		}
	}
	how := "Cut lines are solid, stitching lines are dashed; the allowance lies between them. " +
		"Lay each piece with its grain line along the selvage. Snip notches no further than half of the allowance."
	if s.hasClips() {
		how += " Clips are drawn on the pieces, too, but are not cut now: the order of work says when."
	}
	for _, p := range s.Sizes[0].Pieces {
		if p.OnFold {
			how += " A piece on the fold is half of what you cut: fold the cloth and lay the edge that is marked as the fold exactly on it; nothing is cut there."
			break
		}
	}
	for _, p := range s.Sizes[0].Pieces {
		if p.Pairs {
			how += " Of mirrored pieces turn the pattern over for the second one, or cut through two layers that lie right side to right side."
			break
		}
	}
	blocks := []Block{Paragraph(how), list}
	var pictures Figures
	for _, p := range s.Sizes[s.sample()].Pieces {
		pictures = append(pictures, s.picture(p))
	}
	return Section{"pieces", "The pieces", append(blocks, pictures, measures)}
}

// howMany says how many of a piece to cut and how.
func howMany(p facing.Piece) string {
	n := several(p.Quantity, "piece")
	switch {
	case p.OnFold:
		return n + ", on the fold"
	case p.Pairs && p.Quantity == 2:
		return n + ", one of them mirrored"
	case p.Pairs:
		return n + ", half of them mirrored"
	}
	return n
}

func (s *sheet) clothOf(p facing.Piece) string {
	switch {
	case p.Kind == facing.Interfacing:
		return "interfacing"
	case p.Kind == facing.Lining:
		return "lining cloth"
	case p.Kind == facing.Facing && s.has(facing.Interfacing):
		return "facing cloth"
	case p.Kind == facing.Facing:
		return "facing cloth, and the same of interfacing without its allowances"
	}
	return "the garment's cloth"
}

// allowances lists those of a piece by edge, equal ones once.
func (s *sheet) allowances(p facing.Piece) string {
	if p.Kind == facing.Interfacing {
		return "none"
	}
	var words []string
	seen := map[string]bool{}
	add := func(name string, width float64) {
		text := fmt.Sprintf("%s %s", name, s.figure(width))
		if !seen[text] {
			seen[text] = true
			words = append(words, text)
		}
	}
	for _, e := range p.Edges {
		switch e.Role {
		case fit.FoldEdge:
		case fit.HemEdge:
			if e.Inner {
				add("inner edge", e.Allowance)
				continue
			}
			add("hem", e.Allowance)
		case fit.SeamEdge:
			add("side", e.Allowance)
		case fit.OpeningEdge:
			add("opening", e.Allowance)
		default:
			name := e.Name
			if name == "inner" {
				name = "inner edge"
			}
			if name == "" {
				name = "other edges"
			}
			add(name, e.Allowance)
		}
	}
	if len(p.Hole.Net.V) > 0 {
		add("inner edge", p.Hole.Allowance)
	}
	return strings.Join(words, ", ")
}

// The room that the picture of a piece takes on paper, in mm, with the names of its marks
// on both sides.
const (
	pictureWide = 92.0
	pageWide    = 180.0 // of a picture that has no other beside it
	pictureHigh = 78.0
	nameColumn  = 24.0
	nameHeight  = 2.6 // of lettering
)

// smallScale is the scale, one to so many, beyond which nothing is seen of the marks of a piece.
const smallScale = 15

// scales are those that pieces are drawn in: one to so many.
func scales() []float64 {
	return []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50}
}

// scaleFor returns the largest scale in which the box fits.
func scaleFor(b path.Box, wide, high float64) float64 {
	need := max(b.Width()/wide, b.Height()/high)
	for _, k := range scales() {
		if k >= need {
			return k
		}
	}
	return math.Ceil(need/50) * 50
}

// markName is what a line of a piece is called, empty of those without a name.
func markName(r plot.Role) string {
	switch r {
	case plot.Cut:
		return "cut line"
	case plot.Stitch:
		return "stitching line"
	case plot.Fold:
		return "fold"
	case plot.Grain:
		return "grain line"
	case plot.Notch:
		return "notch"
	case plot.Clip:
		return "clip"
	case plot.Mark:
		return "drill hole"
	case plot.Inner:
		return "inner edge"
	case plot.Internal:
		return "line to mark"
	}
	return ""
}

// picture draws a piece to scale with its marks named.
func (s *sheet) picture(p facing.Piece) Figure {
	g := plot.FromPiece(p, "")
	box := g.Bounds()
	scale, wide := scaleFor(box, pictureWide-2*nameColumn, pictureHigh), false
	if scale > smallScale {
		larger := scaleFor(box, pageWide-2*nameColumn, pictureHigh)
		scale, wide = larger, larger < scale
	}
	toPaper := path.Translation(path.Vec{X: -box.Min.X, Y: -box.Min.Y}).Then(path.Scaling(path.Point{}, 1/scale))
	g = g.Transform(toPaper)
	box = g.Bounds()
	k := newSketch()
	var names []callout
	for _, r := range plot.Roles() {
		var lines []plot.Line
		for _, l := range g.Lines {
			if l.Role != r || len(l.Path.V) == 0 {
				continue
			}
			k.draw(classOf(r), l.Path)
			if !l.Sign {
				lines = append(lines, l)
			}
		}
		if name := markName(r); name != "" && len(lines) > 0 {
			names = append(names, callout{name: name, at: target(r, lines, box)})
		}
	}
	k.callouts(names, box)
	title := p.Name
	if p.Size != "" {
		title += ", size " + p.Size
	}
	how := howMany(p)
	if strings.Contains(how, ",") {
		how += ","
	}
	what := fmt.Sprintf("Cut %s from %s. Drawn at 1:%g.", how, firstWords(s.clothOf(p)), scale)
	notches, clips := len(p.Unfold().Notches), len(p.Unfold().ValleyClips())
	if notches+clips > 0 {
		what += fmt.Sprintf(" Opened out it has %s and %s, those at its seams among them.", several(notches, "notch"), several(clips, "clip"))
	}
	return Figure{SVG: k.svg(title), Title: title, Caption: what, Wide: wide}
}

// firstWords returns the words before the first comma.
func firstWords(s string) string {
	before, _, _ := strings.Cut(s, ",")
	return before
}

// classOf is the class of lines of a role.
func classOf(r plot.Role) string {
	switch r {
	case plot.Mark, plot.Internal:
		return "other"
	}
	return r.String()
}

// target returns the place on the lines that the name of a mark points at: the rightmost
// middle of a line, and on long outlines a place of each role's own, so that the names
// of lines beside one another do not point at one place.
func target(r plot.Role, lines []plot.Line, box path.Box) path.Point {
	if r == plot.Cut || r == plot.Stitch {
		share := map[plot.Role]float64{plot.Cut: 0.72, plot.Stitch: 0.5}[r]
		y := box.Min.Y + share*box.Height()
		best := lines[0].Path.V[0].Point
		level := path.Open(path.Point{X: box.Min.X - 1, Y: y}, path.Point{X: box.Max.X + 1, Y: y})
		found := false
		for _, l := range lines {
			for _, x := range l.Path.Intersections(level) {
				if !found || x.Point.X > best.X {
					best, found = x.Point, true
				}
			}
		}
		if !found { // lines that are all below, as the stitching line of a facing may be
			l := path.NewRuler(lines[0].Path)
			best = l.At(l.Length() * share)
		}
		return best
	}
	var best path.Point
	for i, l := range lines {
		at := l.Path.V[0].Point
		if ruler := path.NewRuler(l.Path); l.Path.Segments() > 0 {
			share := 0.5
			if r == plot.Grain {
				share = 0.3
			}
			at = ruler.At(ruler.Length() * share)
		}
		if i == 0 || at.X > best.X {
			best = at
		}
	}
	return best
}
