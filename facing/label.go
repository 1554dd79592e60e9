package facing

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"

	"engrail/fit"
	"engrail/motif"
	"engrail/motif/path"
)

// cutLine and motifLine are the lines of a label that say how many to cut and what
// motifs there are.
const (
	cutLine   = 1
	motifLine = 2
)

// text returns the lines of the label.
func (p Piece) text(f fit.Fitted, o Options) []string {
	unit, length := o.writing()
	said := []string{fmt.Sprintf("%s %s x %s %s", motifs(f), length(f.Width), length(f.Spec.Depth), unit)}
	if p.Kind == Facing && o.Form == Band {
		said = append(said, "sewn first, trimmed after")
	}
	return p.lines(said, o)
}

// writing returns the unit of the labels, and how a length is written in it.
func (o Options) writing() (unit string, length func(mm float64) string) {
	if o.Length != nil {
		return o.Unit, o.Length
	}
	return "mm", func(mm float64) string {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", mm), ".0")
	}
}

// lines returns the lines of the label of which some say what motifs there are.
func (p Piece) lines(said []string, o Options) []string {
	head := p.Name
	if o.Style != "" {
		head = o.Style + ": " + head
	}
	unit, length := o.writing()
	lines := slices.Concat([]string{head, p.cutText()}, said, []string{"allowance " + p.allowances(length) + " " + unit})
	if p.Binding > 0 {
		lines = append(lines, fmt.Sprintf("binding %s %s", length(p.Binding), unit))
	}
	return lines
}

// motifs says how many motifs there are, and which: of the first run's shape, of
// several shapes as repeats of so many motifs.
func motifs(f fit.Fitted) string {
	name := f.Spec.Shape.Kind.String()
	if f.Spec.Shape.Kind == motif.Own {
		name = "motif"
	}
	if n := len(f.Spec.Sequence); n > 0 {
		name = fmt.Sprintf("repeats of %d motifs,", n)
		if f.Repeats == 1 {
			name = fmt.Sprintf("repeat of %d motifs,", n)
		}
		return fmt.Sprintf("%d %s", f.Repeats, name)
	}
	switch name {
	case "elliptical", "engrailed", "stepped", "dovetailed":
		name += " motif" // an adjective
	}
	if f.Repeats != 1 {
		name += "s"
	}
	return fmt.Sprintf("%d %s", f.Repeats, name)
}

// cutText says how many to cut, and of what size.
func (p Piece) cutText() string {
	cut := fmt.Sprintf("cut %d", p.Quantity)
	switch {
	case p.OnFold:
		cut += " on fold"
	case p.Pairs && p.Quantity == 2:
		cut += ", one mirrored"
	case p.Pairs:
		cut += ", half of them mirrored"
	}
	if p.Size != "" {
		return "size " + p.Size + ", " + cut
	}
	return cut
}

// allowances lists the widths by the kind of edge: "hem 6, side 15/20".
func (p Piece) allowances(length func(mm float64) string) string {
	var names []string
	widths := map[string][]string{}
	edges := p.Edges
	if len(p.Hole.Net.V) > 0 {
		edges = append(slices.Clone(edges), p.Hole)
	}
	for _, e := range edges {
		name := e.Name
		switch e.Role {
		case fit.FoldEdge:
			continue
		case fit.HemEdge:
			if !e.Inner {
				name = "hem"
			}
		case fit.SeamEdge:
			name = "side"
		case fit.OpeningEdge:
			name = "opening"
		}
		if name == "" {
			name = "other"
		}
		if widths[name] == nil {
			names = append(names, name)
		}
		if w := length(e.Allowance); !slices.Contains(widths[name], w) {
			widths[name] = append(widths[name], w)
		}
	}
	for i, name := range names {
		names[i] += " " + strings.Join(widths[name], "/")
	}
	return strings.Join(names, ", ")
}

// labelGarment places the label across the piece, or up it where it would be
// small across, as near the middle as there is room.
func (p Piece) labelGarment(lines []string, f fit.Fitted, valleys []fit.Place) Label {
	walls := p.walls(f, valleys)
	box := p.Net().Bounds()
	at := func(x, y float64) path.Point {
		return box.Centre().Add(path.Vec{X: x * box.Width(), Y: y * box.Height()})
	}
	spots := func(yield func(off, along float64) bool) {
		for _, off := range [...]float64{0.05, 0, 0.1, -0.05, 0.15, -0.1, 0.2, -0.15, 0.25, 0.3, -0.2, 0.35, -0.25} {
			for _, along := range [...]float64{0, -0.12, 0.12, -0.25, 0.25, -0.35, 0.35} {
				if !yield(off, along) {
					return
				}
			}
		}
	}
	l := label(lines, walls, func(yield func(spot) bool) {
		spots(func(off, along float64) bool { return yield(spot{at(along, off), path.Vec{X: 1}}) })
	})
	if l.Height >= comfortableLabel {
		return l
	}
	up := label(lines, walls, func(yield func(spot) bool) {
		spots(func(off, along float64) bool { return yield(spot{at(off, along), path.Vec{Y: 1}}) })
	})
	if up.Height > l.Height {
		return up
	}
	return l
}

// labelFacing places the label along the band, between the valley line and the
// inner edge, which are the depth apart.
func (p Piece) labelFacing(lines []string, f fit.Fitted, valleys []fit.Place, depth float64) Label {
	return label(lines, p.walls(f, valleys), p.along(depth))
}

// along returns spots for lettering along the band of a facing, so far from its
// inner edge that it is in the middle of the depth, or near it.
func (p Piece) along(depth float64) iter.Seq[spot] {
	inner := path.NewRuler(p.inner().Net)
	return func(yield func(spot) bool) {
		for _, share := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at := inner.Length() * share
			along := inner.TangentAt(at).Neg()
			for _, off := range [...]float64{0.5, 0.4, 0.6} {
				if !yield(spot{inner.At(at).Add(along.Right().Mul(off * depth)), along}) {
					return
				}
			}
		}
	}
}

// label sets the lines at the first spot that has room for them in full size,
// or else where there is the most room; earlier spots come first when it is
// much the same.
func label(lines []string, walls []wall, spots iter.Seq[spot]) Label {
	letters := 0
	for _, l := range lines {
		letters = max(letters, len([]rune(l)))
	}
	// Half of the block for letters 1 mm high, with half a letter's height around
	// it and as much for descenders.
	half := path.Vec{
		X: (letterWidth*float64(letters) + 1) / 2,
		Y: (lineSpacing*float64(len(lines)-1) + 2.5) / 2,
	}
	var best spot
	room := 0.0
	for s := range spots {
		if best == (spot{}) {
			best = s
		}
		if r := s.room(walls, half, 1.1*room); r > 0 {
			best, room = s, r
		}
		if room >= labelHeight {
			break
		}
	}
	// In steps of half a millimetre.
	h := min(labelHeight, max(leastLabel, math.Floor(2*room)/2))
	return Label{At: best.at, Angle: best.along.Angle(), Height: h, Lines: lines}
}

// wall is a straight line that lettering keeps clear of.
type wall struct {
	a, b    path.Point
	outline bool // of the net outline
}

// walls returns the lines of the piece that lettering keeps clear of: the net
// outline, with straight lines from valley to valley for the shaped hem, and
// what is inside.
func (p Piece) walls(f fit.Fitted, valleys []fit.Place) []wall {
	all := make([]wall, 0, 64)
	at := f.Valley.Start()
	for _, v := range valleys {
		all = append(all, wall{at, v.Point, true})
		at = v.Point
	}
	if p.round() && len(valleys) > 0 {
		all[0].a = at
	} else {
		all = append(all, wall{at, f.Valley.End(), true})
	}
	for _, e := range p.Edges[1:] {
		all = append(all, wallsOf(e.Net, true)...)
	}
	all = append(all, wallsOf(p.Hole.Net, true)...)
	return append(all, p.insideWalls()...)
}

// insideWalls returns what inside of the piece lettering keeps clear of: lines,
// drill holes, other lettering, notches and the grain line.
func (p Piece) insideWalls() []wall {
	var all []wall
	for _, l := range slices.Concat(p.Internal, p.Cutouts, p.Stitches) {
		all = append(all, wallsOf(l, false)...)
	}
	for _, d := range p.Drills {
		all = append(all, wall{d, d, false})
	}
	for _, t := range p.Texts {
		// Along its base line, its middle and its capitals.
		along := path.Direction(t.Angle)
		whole := along.Mul(letterWidth * t.Height * float64(len([]rune(t.String))))
		for up := range 3 {
			from := t.At.Add(along.Left().Mul(t.Height * float64(up) / 2))
			all = append(all, wall{from, from.Add(whole), false})
		}
	}
	for _, n := range p.Notches {
		all = append(all, wall{n.Line.A, n.Line.B, false})
	}
	if p.Grain.Length() > 0 {
		all = append(all, wall{p.Grain.A, p.Grain.B, false})
	}
	return all
}

// wallsOf returns the chords of a line.
func wallsOf(line path.Path, outline bool) []wall {
	var all []wall
	points := line.Flatten(labelChords)
	for i := 1; i < len(points); i++ {
		all = append(all, wall{points[i-1], points[i], outline})
	}
	if line.Closed && len(points) > 1 {
		all = append(all, wall{points[len(points)-1], points[0], outline})
	}
	return all
}

// spot is a place for the middle of lettering and the direction that it runs
// in.
type spot struct {
	at    path.Point
	along path.Vec
}

// room returns how many times the block that reaches half to each side of the
// spot can be enlarged until it meets a wall, 0 outside the piece. When that is
// no more than enough, it returns 0. It reorders the walls.
//
// Measured in half blocks, a point is as far away as the larger of its
// coordinates; along a wall that is least at an end or on a diagonal.
func (s spot) room(walls []wall, half path.Vec, enough float64) float64 {
	u, v := s.along.Mul(1/half.X), s.along.Left().Mul(1/half.Y)
	local := func(p path.Point) path.Vec {
		d := p.Sub(s.at)
		return path.Vec{X: d.Dot(u), Y: d.Dot(v)}
	}
	room := math.Inf(1)
	inside := false
	for i, w := range walls {
		a, b := local(w.a), local(w.b)
		if w.outline && (a.Y > 0) != (b.Y > 0) && a.X+(b.X-a.X)*a.Y/(a.Y-b.Y) < 0 {
			inside = !inside
		}
		if min(a.X, b.X) > room || max(a.X, b.X) < -room || min(a.Y, b.Y) > room || max(a.Y, b.Y) < -room {
			continue
		}
		room = min(room, max(math.Abs(a.X), math.Abs(a.Y)), max(math.Abs(b.X), math.Abs(b.Y)))
		for _, sign := range []float64{-1, 1} {
			da, db := a.X+sign*a.Y, b.X+sign*b.Y
			if (da > 0) != (db > 0) {
				room = min(room, math.Abs(a.X+(b.X-a.X)*da/(da-db)))
			}
		}
		if room <= enough {
			// What is in the way here is likely so at the next spot.
			walls[0], walls[i] = walls[i], walls[0]
			return 0
		}
	}
	if !inside {
		return 0
	}
	return room
}
