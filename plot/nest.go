package plot

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot/internal/ground"
)

// SizeLook is how the cut lines of one size of a nest are drawn: in a colour, and in
// dashes and the gaps behind them in mm, none for a solid line.
type SizeLook struct {
	Red, Green, Blue uint8
	Dashes           []float64
}

// LooksOfSizes is the number of looks that sizes have; more sizes begin again with the
// first.
const LooksOfSizes = 12

// LookOfSize returns the look of a size, counted from 0. The dashes alone tell sizes
// apart, in black and white; the colours are as dark as print on white needs.
func LookOfSize(size int) SizeLook {
	looks := [LooksOfSizes]SizeLook{
		{0, 0, 0, nil},
		{194, 64, 28, []float64{6, 2}},
		{31, 95, 168, []float64{2, 2}},
		{20, 120, 60, []float64{9, 2, 1.5, 2}},
		{122, 63, 160, []float64{4, 4}},
		{140, 95, 10, []float64{9, 2, 1.5, 2, 1.5, 2}},
		{176, 32, 110, []float64{14, 3}},
		{15, 124, 134, []float64{1, 3}},
		{85, 85, 85, []float64{4, 2, 1.5, 2, 1.5, 2, 1.5, 2}},
		{160, 20, 30, []float64{12, 2, 4, 2}},
		{50, 50, 140, []float64{6, 2, 6, 2, 1.5, 2}},
		{90, 110, 20, []float64{18, 2, 1, 2, 4, 2}},
	}
	n := size % LooksOfSizes
	if n < 0 {
		n += LooksOfSizes
	}
	return looks[n]
}

// Sizes returns the names of the drawing's sizes, in the order of its groups: nothing
// for a drawing that is no nest.
func (d Drawing) Sizes() []string {
	var names []string
	for _, g := range d.Groups {
		if g.Size != "" && !slices.Contains(names, g.Size) {
			names = append(names, g.Size)
		}
	}
	return names
}

// Legend returns a table of the drawing's sizes, each with a sample of its look, under
// the drawing's title, in as many columns as the width in mm takes, at least one. Its
// upper left corner is the origin. Its groups have the sizes; the samples' role is
// Drawn. It is empty for a drawing that is no nest.
func (d Drawing) Legend(width float64) Group {
	sizes := d.Sizes()
	if len(sizes) == 0 {
		return Group{}
	}
	g := Group{ID: "legend", Label: "sizes"}
	top := 0.0
	if title := utf8.RuneCountInString(d.Title); title > 0 {
		h := min(legendHeading, width/(letterWidth*float64(title)))
		top = h + legendPitch
		g.Texts = append(g.Texts, Text{At: path.Point{Y: -h}, Height: h, String: d.Title})
	}
	longest := 0
	for _, s := range sizes {
		longest = max(longest, utf8.RuneCountInString(s))
	}
	column := legendSample + legendGap + letterWidth*legendText*float64(longest+len("size ")) + legendColumn
	columns := max(1, min(len(sizes), int((width+legendColumn)/column)))
	rows := (len(sizes) + columns - 1) / columns
	for k, s := range sizes {
		at := path.Point{X: float64(k/rows) * column, Y: -top - float64(k%rows)*legendPitch - legendText}
		middle := at.Add(path.Vec{Y: legendText / 2})
		g.Groups = append(g.Groups, Group{
			Size:  s,
			Lines: []Line{{Path: path.Open(middle, middle.Add(path.Vec{X: legendSample}))}},
			Texts: []Text{{At: at.Add(path.Vec{X: legendSample + legendGap}), Height: legendText, String: "size " + s}},
		})
	}
	return g
}

// FromSizes draws one piece in several sizes, which lie over one another where their
// shifts move them, one for each: a group for each, as [FromPiece] draws it and with its size, and
// behind them one with what all share.
//
// Shared are the label, once, with the range of the sizes in it and without what
// differs from size to size; other texts that are in all sizes; the grain line, unless
// sizes have it in different directions; and the signs. The label keeps clear of the
// lines of all sizes where there is room for that. What each size alone has is complete
// without the others: lines that coincide are in each of them.
//
// The name of each size stands beside its cut line, one or two times, where that lies
// apart from the others: on the side at the free end of the hem if it does there. A
// size that coincides with others everywhere, and one whose lines leave no room, has
// no name.
func FromSizes(pieces []facing.Piece, shift []path.Vec, free fit.End, style string) []Group {
	n := nesting{style: style}
	for k, p := range pieces {
		move := path.Translation(shift[k])
		g := FromPiece(p, style).Transform(move)
		g.Size = p.Size
		g.Texts = g.Texts[len(p.Label.Lines):]
		n.sizes = append(n.sizes, g)
		n.sides = append(n.sides, sideOf(p, free).Transform(move))
	}
	if len(pieces) == 0 {
		return nil
	}
	n.shared = Group{ID: Identifier(pieces[0].Name, "all"), Label: pieces[0].Name, Piece: &Piece{
		Name: pieces[0].Name, Style: style, Kind: pieces[0].Kind.String(), Quantity: pieces[0].Quantity,
		OnFold: pieces[0].OnFold, Pairs: pieces[0].Pairs,
	}}
	n.share()
	n.nameSizes()
	n.label(pieces, shift)
	n.sign()
	return append(n.sizes, n.shared)
}

// sideOf returns the cut line of the side at that end of the hem, from the hem up; the
// whole outline of a piece without sides.
func sideOf(p facing.Piece, free fit.End) path.Path {
	if len(p.Edges) < 2 {
		return p.Cut()
	}
	if free == fit.Start {
		return p.Edges[len(p.Edges)-1].Cut.Reverse()
	}
	return p.Edges[1].Cut
}

// nesting is the work on one piece in several sizes.
type nesting struct {
	style  string
	sizes  []Group
	sides  []path.Path // of each size, where its name is best
	shared Group
}

// share moves what is in all sizes from them to the shared group, and takes signs away.
func (n *nesting) share() {
	first := n.sizes[0]
	grain := slices.DeleteFunc(slices.Clone(first.Lines), func(l Line) bool { return l.Role != Grain || l.Sign })
	parallel := len(grain) == 1
	for _, g := range n.sizes {
		parallel = parallel && slices.ContainsFunc(g.Lines, func(l Line) bool {
			return l.Role == Grain && !l.Sign && math.Abs(l.Path.End().Sub(l.Path.Start()).Unit().Cross(grain[0].Path.End().Sub(grain[0].Path.Start()).Unit())) < sameDirection
		})
	}
	if parallel {
		n.shared.Lines = append(n.shared.Lines, grain...)
	}
	for k := range n.sizes {
		n.sizes[k].Lines = slices.DeleteFunc(n.sizes[k].Lines, func(l Line) bool { return l.Role == Grain && parallel || l.Role == Fold && l.Sign })
	}
	for _, t := range first.Texts {
		same := func(u Text) bool { return u.String == t.String }
		if !slices.ContainsFunc(n.sizes, func(g Group) bool { return !slices.ContainsFunc(g.Texts, same) }) {
			n.shared.Texts = append(n.shared.Texts, t)
			for k := range n.sizes {
				n.sizes[k].Texts = slices.DeleteFunc(n.sizes[k].Texts, same)
			}
		}
	}
}

// ground returns the ground inside an outline, with all lines and texts so far.
func (n *nesting) ground(outline path.Path) *ground.Ground {
	room := ground.New(outline)
	for _, g := range append(slices.Clone(n.sizes), n.shared) {
		for _, l := range g.Lines {
			room.Keep(l.Path)
		}
		for _, t := range g.Texts {
			room.KeepBlock(t.Corners())
		}
	}
	return room
}

// cutLine returns the group's largest cut line.
func (g Group) cutLine() (cut path.Path) {
	most := 0.0
	for _, l := range g.Lines {
		if l.Role == Cut && len(l.Path.V) > 0 {
			if area := math.Abs(l.Path.Area()); area > most {
				cut, most = l.Path, area
			}
		}
	}
	return cut
}

// nameSizes writes the name of each size beside its cut line.
func (n *nesting) nameSizes() {
	cuts := make([]path.Path, len(n.sizes))
	box := path.EmptyBox()
	for k, g := range n.sizes {
		if cuts[k] = g.cutLine(); len(cuts[k].V) == 0 {
			return
		}
		box = box.Union(cuts[k].Bounds())
	}
	box = box.Grow(nameReach)
	around := path.Closed(box.Min, path.Point{X: box.Max.X, Y: box.Min.Y}, box.Max, path.Point{X: box.Min.X, Y: box.Max.Y})
	room := n.ground(around)
	for k := range n.sizes {
		p := naming{name: n.sizes[k].Size, cut: cuts[k], room: room, others: ground.New(around)}
		for i, c := range cuts {
			if i != k {
				p.others.Keep(c)
			}
		}
		add := func(t Text, ok bool) bool {
			if ok {
				n.sizes[k].Texts = append(n.sizes[k].Texts, t)
				room.KeepBlock(t.Corners())
			}
			return ok
		}
		// One near the hem and one near the top; where the sides coincide, one anywhere.
		side := path.NewRuler(n.sides[k])
		low := add(p.beside(side, 0.03*side.Length(), 0.45*side.Length()))
		high := add(p.beside(side, 0.97*side.Length(), 0.55*side.Length()))
		if !low && !high {
			whole := path.NewRuler(cuts[k])
			add(p.beside(whole, 0, whole.Length()))
		}
	}
}

// naming is the work on the names of one size.
type naming struct {
	name         string
	cut          path.Path
	room, others *ground.Ground // what is clear of all, and of the other sizes' cut lines
}

// beside places the name along a stretch of the size's cut line: in the largest letters
// that have room, on the inside rather than on the outside, and then as near to the
// first end of the stretch as can be.
func (p naming) beside(line *path.Ruler, from, to float64) (Text, bool) {
	middle := (from + to) / 2
	inward := 1.0 // to the left of the line
	if !p.cut.Contains(line.At(middle).Add(line.TangentAt(middle).Left().Mul(nameClearance))) {
		inward = -1
	}
	steps := min(nameSteps, int(math.Abs(to-from)/nameStep)+1)
	for _, h := range [...]float64{3, 2.5, 2, 1.6} {
		for _, side := range [...]float64{inward, -inward} {
			for i := range steps {
				at := from + (to-from)*float64(i)/float64(steps)
				if t, ok := p.at(line.At(at), line.TangentAt(at), h, side); ok {
					return t, true
				}
			}
		}
	}
	return Text{}, false
}

// at places the name beside a point of the cut line, to the left of it if the side is
// above 0, if there is room and no other size's cut line is nearly as near.
func (p naming) at(at path.Point, along path.Vec, height, side float64) (Text, bool) {
	half := path.Vec{X: letterWidth * height * float64(utf8.RuneCountInString(p.name)) / 2, Y: height / 2}
	off := nameClearance + half.Y
	middle := at.Add(along.Left().Mul(side * off))
	// The clearance is kept on all sides, a hair less to the own line.
	if !p.room.Clear(middle, along, half.Add(path.Vec{X: nameClearance, Y: 0.95 * nameClearance})) ||
		!p.others.Clear(middle, along, path.Vec{X: nameApart * off, Y: nameApart * off}) {
		return Text{}, false
	}
	if along.X < 0 || along.X < 1e-9 && along.Y < 0 {
		along = along.Neg()
	}
	return Text{
		At: middle.Add(along.Left().Mul(-half.Y)), Height: height, Angle: along.Angle(), Align: Middle, String: p.name,
	}, true
}

// label sets the shared label where it is clear of all lines, in all sizes or else in
// the first.
func (n *nesting) label(pieces []facing.Piece, shift []path.Vec) {
	lines := n.labelLines(pieces)
	if len(lines) == 0 {
		return
	}
	l := pieces[0].Label
	l.At, l.Lines = l.At.Add(shift[0]), lines
	highest := comfortableLabel
	spots, angles := []path.Point{}, []float64{0, math.Pi / 2}
	for k, p := range pieces {
		highest = max(highest, p.Label.Height)
		spots = append(spots, p.Label.At.Add(shift[k]))
		angles = slices.Insert(angles, k, p.Label.Angle)
	}
	cut := n.sizes[0].cutLine()
	box := cut.Bounds()
	for y := 1; y < labelGrid; y++ {
		for x := 1; x < labelGrid; x++ {
			spots = append(spots, path.Point{X: box.Min.X + box.Width()*float64(x)/labelGrid, Y: box.Min.Y + box.Height()*float64(y)/labelGrid})
		}
	}
	// The nearest to the middle first.
	slices.SortStableFunc(spots[len(pieces):], func(a, b path.Point) int {
		return cmp.Compare(a.Dist(box.Centre()), b.Dist(box.Centre()))
	})
	letters := 0
	for _, s := range lines {
		letters = max(letters, utf8.RuneCountInString(s))
	}
	room := n.ground(cut)
	for _, holes := range [...][]path.Path{n.holes(len(n.sizes)), n.holes(1)} {
		solid := slices.DeleteFunc(slices.Clone(spots), func(at path.Point) bool {
			return slices.ContainsFunc(holes, func(hole path.Path) bool { return hole.Contains(at) })
		})
		for h := highest; h >= leastLabel; h -= 0.5 {
			half := path.Vec{X: (letterWidth*float64(letters) + 1) * h / 2, Y: (lineSpacing*float64(len(lines)-1) + 2.5) * h / 2}
			for _, at := range solid {
				for _, angle := range angles {
					if room.Clear(at, path.Direction(angle), half) {
						l.At, l.Angle, l.Height = at, angle, h
						n.shared.Texts = append(texts(l), n.shared.Texts...)
						return
					}
				}
			}
		}
	}
	n.shared.Texts = append(texts(l), n.shared.Texts...)
}

// holes returns the cut lines inside of the outlines of the first sizes.
func (n *nesting) holes(sizes int) (all []path.Path) {
	for _, g := range n.sizes[:sizes] {
		outline := math.Abs(g.cutLine().Area())
		for _, l := range g.Lines {
			if l.Role == Cut && l.Path.Closed && math.Abs(l.Path.Area()) < outline {
				all = append(all, l.Path)
			}
		}
	}
	return all
}

// labelLines returns the lines that the labels of all sizes have, with the range of
// the sizes in place of the size.
func (n *nesting) labelLines(pieces []facing.Piece) (lines []string) {
	first, last := pieces[0].Size, pieces[len(pieces)-1].Size
	several := "sizes " + first + "-" + last
	for i, line := range pieces[0].Label.Lines {
		common := func(p facing.Piece, line string) bool {
			return i < len(p.Label.Lines) && p.Label.Lines[i] == line
		}
		ranged := func(p facing.Piece) string {
			if i >= len(p.Label.Lines) {
				return ""
			}
			return strings.Replace(p.Label.Lines[i], "size "+p.Size, several, 1)
		}
		switch {
		case !slices.ContainsFunc(pieces, func(p facing.Piece) bool { return !common(p, line) }):
			lines = append(lines, line)
		case !slices.ContainsFunc(pieces, func(p facing.Piece) bool { return ranged(p) != ranged(pieces[0]) }):
			lines = append(lines, ranged(pieces[0]))
		}
	}
	return lines
}

// sign adds the signs of the grain and of the first size's fold, clear of all sizes.
func (n *nesting) sign() {
	all := Group{Lines: slices.Clone(n.shared.Lines), Texts: slices.Clone(n.shared.Texts)}
	for k, g := range n.sizes {
		for _, l := range g.Lines {
			if k > 0 || l.Role == Grain {
				l.Role = Internal
			}
			all.Lines = append(all.Lines, l)
		}
		all.Texts = append(all.Texts, g.Texts...)
	}
	n.shared.Lines = append(n.shared.Lines, all.Signs()...)
}
