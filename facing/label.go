package facing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
)

// cutLine is the line of a label that says how many to cut.
const cutLine = 1

// text returns the lines of the label.
func (p Piece) text(f fit.Fitted, o Options) []string {
	head := p.Name
	if o.Style != "" {
		head = o.Style + ": " + head
	}
	unit, length := "mm", func(mm float64) string {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", mm), ".0")
	}
	if o.Length != nil {
		unit, length = o.Unit, o.Length
	}
	plural := "s"
	if f.Repeats == 1 {
		plural = ""
	}
	return []string{
		head,
		p.cutText(),
		fmt.Sprintf("%d %v%s %s x %s %s", f.Repeats, f.Spec.Shape.Kind, plural, length(f.Width), length(f.Spec.Depth), unit),
		"allowance " + p.allowances(length) + " " + unit,
	}
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
	for _, e := range p.Edges {
		name := e.Name
		switch e.Role {
		case fit.FoldEdge:
			continue
		case fit.HemEdge:
			name = "hem"
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

// labelGarment places the label across the piece, or else up it, as near the
// middle as there is room.
func (p Piece) labelGarment(lines []string) Label {
	box := p.Net().Bounds()
	walls := p.walls()
	across := newClearing(walls, box.Centre(), path.Vec{X: 1})
	up := newClearing(walls, box.Centre(), path.Vec{Y: 1})
	for _, share := range []float64{0.05, 0, 0.1, -0.05, 0.15, -0.1, 0.2, -0.15, 0.25, 0.3, -0.2, 0.35, -0.25} {
		across.heights = append(across.heights, share*box.Height())
		up.heights = append(up.heights, share*box.Width())
	}
	return label(lines, []clearing{across}, []clearing{up})
}

// labelFacing places the label along the band, between the valley line and the
// inner edge, which are the depth apart.
func (p Piece) labelFacing(lines []string, depth float64) Label {
	walls := p.walls()
	inner := path.NewRuler(p.Edges[2].Net)
	var all []clearing
	for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		along := inner.Length() * share
		dir := inner.TangentAt(along).Neg()
		c := newClearing(walls, inner.At(along).Add(dir.Right().Mul(depth/2)), dir)
		c.heights = []float64{0, 0.1 * depth, -0.1 * depth}
		all = append(all, c)
	}
	return label(lines, all)
}

// label sets the lines where they keep clear of everything: comfortably large in
// the first of the groups that has room for that, or else as large as any has.
func label(lines []string, groups ...[]clearing) Label {
	letters := 0
	for _, l := range lines {
		letters = max(letters, len([]rune(l)))
	}
	set := func(places []clearing, heights ...float64) (Label, bool) {
		for _, h := range heights {
			// With half a letter's height around it, and as much for descenders.
			wide := h * (letterWidth*float64(letters) + 1)
			high := h * (lineSpacing*float64(len(lines)-1) + 2.5)
			for _, c := range places {
				for _, y := range c.heights {
					if x, ok := c.clear(y, wide, high); ok {
						return Label{At: c.point(x, y), Angle: c.along.Angle(), Height: h, Lines: lines}, true
					}
				}
			}
		}
		return Label{}, false
	}
	for _, g := range groups {
		// From the height of capitals that reads at arm's length.
		if l, ok := set(g, 7, 6, 5, 4); ok {
			return l
		}
	}
	if l, ok := set(slices.Concat(groups...), 3.5, 3, 2.5, 2, 1.5, leastLabel); ok {
		return l
	}
	c := groups[0][0]
	return Label{At: c.at, Angle: c.along.Angle(), Height: leastLabel, Lines: lines}
}

// wall is a straight line that lettering keeps clear of.
type wall struct {
	a, b    path.Point
	outline bool // of the net outline
}

// walls returns the lines of the piece that lettering keeps clear of.
func (p Piece) walls() []wall {
	var all []wall
	add := func(line path.Path, outline bool) {
		points := line.Flatten(labelChords)
		for i := 1; i < len(points); i++ {
			all = append(all, wall{points[i-1], points[i], outline})
		}
		if line.Closed && len(points) > 1 {
			all = append(all, wall{points[len(points)-1], points[0], outline})
		}
	}
	for _, e := range p.Edges {
		add(e.Net, true)
	}
	for _, l := range p.Internal {
		add(l, false)
	}
	for _, n := range p.Notches {
		all = append(all, wall{n.Line.A, n.Line.B, false})
	}
	if p.Grain.Length() > 0 {
		all = append(all, wall{p.Grain.A, p.Grain.B, false})
	}
	return all
}

// clearing is a place for lettering with the walls around it, in a frame whose
// x runs along the lettering from the point at.
type clearing struct {
	at      path.Point
	along   path.Vec
	walls   []wall
	heights []float64 // in the frame, of middles to try
}

func newClearing(walls []wall, at path.Point, along path.Vec) clearing {
	c := clearing{at: at, along: along, walls: make([]wall, len(walls))}
	to := func(p path.Point) path.Point {
		v := p.Sub(at)
		return path.Point{X: v.Dot(along), Y: along.Cross(v)}
	}
	for i, w := range walls {
		c.walls[i] = wall{to(w.a), to(w.b), w.outline}
	}
	return c
}

// point takes a place in the frame to the plane.
func (c clearing) point(x, y float64) path.Point {
	return c.at.Add(c.along.Mul(x)).Add(c.along.Left().Mul(y))
}

// clear returns the middle of the widest stretch inside the piece on the height
// y that has nothing within high/2 of it, when it is as wide as is asked.
func (c clearing) clear(y, wide, high float64) (x float64, ok bool) {
	low, top := y-high/2, y+high/2
	type span struct{ from, to float64 }
	var taken []span
	var crossings []float64 // of the outline with the height y
	for _, w := range c.walls {
		a, b := w.a, w.b
		if a.Y > b.Y {
			a, b = b, a
		}
		if b.Y < low || a.Y > top {
			continue
		}
		if w.outline && a.Y <= y && y < b.Y {
			crossings = append(crossings, a.Lerp(b, (y-a.Y)/(b.Y-a.Y)).X)
		}
		from, to := a.X, b.X
		if rise := b.Y - a.Y; rise > 0 {
			from = a.X + (b.X-a.X)*max(0, low-a.Y)/rise
			to = b.X - (b.X-a.X)*max(0, b.Y-top)/rise
		}
		taken = append(taken, span{min(from, to), max(from, to)})
	}
	slices.SortFunc(taken, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	for i := 1; i < len(taken); i++ {
		from, to := taken[i-1].to, taken[i].from
		taken[i].to = max(from, taken[i].to)
		if to-from < wide {
			continue
		}
		left := 0
		for _, q := range crossings {
			if q <= from {
				left++
			}
		}
		if left%2 == 1 {
			x, wide, ok = (from+to)/2, to-from, true
		}
	}
	return x, ok
}
