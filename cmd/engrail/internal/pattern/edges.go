package pattern

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
)

// edge is a side of the outline as drawn, from corner to corner.
type edge struct {
	path path.Path
	// own is the path without the shaped ends of allowances.
	own path.Path
	// soft says that the corner at its start is drawn rounded or chamfered: the
	// edge before stops, and this one starts, beside it.
	soft bool
	// number is what messages call it, whichever edge the hem is: counted from 1
	// round the outline from the lower left.
	number int
	// cut is the part of the cut line beside it, where both lines are drawn, and
	// width the allowance measured between them.
	cut      path.Path
	width    float64
	measured bool
	// run says that it is the hem or another run of it.
	run bool
}

// corner is a part of the outline that turns, mostly a point, as distances along
// the outline.
type corner struct {
	from, to, turn float64
}

// cleaned returns the counter-clockwise outline without segments that are too short to have a
// direction.
func cleaned(p path.Path) path.Path {
	var v []path.Vertex
	for _, w := range p.V {
		if n := len(v); n > 0 && v[n-1].Dist(w.Point) < speck {
			v[n-1].Bulge = w.Bulge
			continue
		}
		v = append(v, w)
	}
	for len(v) > 1 && v[len(v)-1].Dist(v[0].Point) < speck {
		v = v[:len(v)-1]
	}
	if q := (path.Path{V: v, Closed: true}); q.Area() > 0 {
		return q
	}
	return p // all of it is so small
}

// corners returns the corners of the outline in order along it.
func corners(r *path.Ruler, least float64) []corner {
	p := r.Path()
	n := p.Segments()
	var turns []corner
	add := func(from, to, turn float64) {
		if math.Abs(turn) < kink {
			return
		}
		if k := len(turns); k > 0 && to-turns[k-1].from <= cornerSpan {
			turns[k-1].to = to
			turns[k-1].turn += turn
			return
		}
		turns = append(turns, corner{from, to, turn})
	}
	for i := range n {
		before, s := p.Segment((i+n-1)%n), p.Segment(i)
		add(r.Stop(i), r.Stop(i), before.EndTangent().AngleTo(s.StartTangent()))
		if s.Length() <= cornerSpan {
			add(r.Stop(i), r.Stop(i+1), s.Sweep())
		}
	}
	// The first and the last may be one corner on both sides of the start.
	if k := len(turns); k > 1 {
		first, last := turns[0], turns[k-1]
		if l := r.Length(); first.to+l-last.from <= cornerSpan {
			turns[k-1] = corner{last.from, first.to + l, last.turn + first.turn}
			turns = turns[1:]
		}
	}
	return slices.DeleteFunc(turns, func(c corner) bool { return math.Abs(c.turn) < least })
}

// split cuts the outline at its corners. The first edge starts at the corner
// nearest to the lower left.
func split(outline path.Path, least float64) []edge {
	r := path.NewRuler(outline)
	c := corners(r, least)
	if len(c) == 0 {
		return nil
	}
	corner := outline.Bounds().Min
	first := 0
	for i := range c {
		if r.At(c[i].from).DistSq(corner) < r.At(c[first].from).DistSq(corner) {
			first = i
		}
	}
	edges := make([]edge, len(c))
	for i := range c {
		a, b := c[(first+i)%len(c)], c[(first+i+1)%len(c)]
		p := r.Sub(a.to, b.from)
		edges[i] = edge{path: p, own: p, soft: a.to > a.from, number: i + 1}
	}
	return edges
}

// merge makes edge i and the one after it one edge, of which the side is one and
// the other the shaped end of an allowance.
func merge(edges []edge, i, side int) []edge {
	e := edges[side]
	e.path, e.soft = path.Join(cornerSpan, edges[i].path, edges[i+1].path), edges[i].soft
	edges[i] = e
	return slices.Delete(edges, i+1, i+2)
}

// list describes the edges for a message.
func list(edges []edge) string {
	if len(edges) == 0 {
		return "the outline has no corners"
	}
	var b strings.Builder
	b.WriteString("the edges are ")
	for i, e := range edges {
		if i == 12 && len(edges) > 13 {
			fmt.Fprintf(&b, ", and %d more", len(edges)-i)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "#%d %.1f mm long from %.1f, %.1f to %.1f, %.1f", e.number, e.path.Length(),
			e.path.Start().X, e.path.Start().Y, e.path.End().X, e.path.End().Y)
	}
	return b.String()
}

// choose is a hint to say in the style file which edge is meant. An edge's number
// has to be quoted there: a bare # begins a note.
func choose(what string, edges []edge) string {
	say := "say which edge is the hem by its number in quotes, such as `hem: \"#1\"`, under `piece:`; "
	switch what {
	case "fold":
		say = "say which edge is the fold with `fold: left` or `fold: right`, under `piece:`; "
	case "edge":
		say = "name an edge by its number in quotes, such as `\"#3\": 10`, under `edges:`; "
	}
	return say + list(edges)
}

// between returns a corner between two edges.
func between(edges []edge, i, j int) path.Point {
	if (j+1)%len(edges) == i {
		return edges[i].path.Start()
	}
	return edges[i].path.End()
}

// namedEdge returns the one edge that the named lines run along, within reach.
func (p piece) namedEdge(sel *Selection, what, name string, edges []edge, reach float64) (int, error) {
	if digits, ok := strings.CutPrefix(name, "#"); ok {
		if n, err := strconv.Atoi(digits); err == nil {
			i := slices.IndexFunc(edges, func(e edge) bool { return e.number == n })
			if i < 0 {
				return 0, sel.errorf(choose(what, edges), "the %s %q is none of the edges", what, name)
			}
			return i, nil
		}
	}
	if a, b, ok := cornersNamed(name, edges); ok {
		return betweenCorners(sel, what, name, edges, a, b)
	}
	var lines []path.Path
	for _, matches := range []func(marked) bool{
		func(m marked) bool { return m.ID == name },
		func(m marked) bool { return m.Label == name },
		func(m marked) bool { return called(name, m.ID, m.Label) },
		func(m marked) bool { return hasWords(m.words, strings.ToLower(name)) },
	} {
		for _, m := range slices.Concat(p.parts, p.lines) {
			if matches(m) {
				lines = append(lines, m.Path)
			}
		}
		if lines != nil {
			break
		}
	}
	if lines == nil {
		return 0, sel.errorf("give a line along the edge that id or label, or "+choose(what, edges), "the %s was not found: no line of the piece has the id or label %q", what, name)
	}
	var hit []int
	for _, l := range lines {
		for _, i := range alongside(l, edges, reach) {
			if !slices.Contains(hit, i) {
				hit = append(hit, i)
			}
		}
	}
	switch len(hit) {
	case 0:
		return 0, sel.errorf("draw it along the edge, or "+choose(what, edges), "the line %q for the %s does not run along the outline; it lies at %s", name, what, at(lines[0].Bounds().Centre()))
	case 1:
		return hit[0], nil
	}
	slices.Sort(hit)
	names := make([]string, len(hit))
	for i, h := range hit {
		names[i] = fmt.Sprintf("#%d", edges[h].number)
	}
	whole := ""
	if len(hit) == len(edges) {
		whole = ", the whole outline"
	}
	return 0, sel.errorf(fmt.Sprintf("the %s is one edge between two corners; ", what)+choose(what, edges), "the line %q for the %s runs along %d edges, %s%s",
		name, what, len(hit), strings.Join(names, " and "), whole)
}

// lettered and placed are how the two corners of an edge are named: by their
// letters, or by places that they are the nearest to.
var (
	lettered = regexp.MustCompile(`^\s*([A-Z]{1,2})\s+to\s+([A-Z]{1,2})\s*$`)
	placed   = regexp.MustCompile(`^\s*from\s+(-?[\d.]+)\s*,\s*(-?[\d.]+)\s+to\s+(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*$`)
)

// CornerLetter returns what the corner is called at which the edge of the number
// starts: A for 1, Z for 26, AA for 27.
func CornerLetter(number int) string {
	if number > 26 {
		return CornerLetter((number-1)/26) + CornerLetter((number-1)%26+1)
	}
	return string(rune('A' + number - 1))
}

// cornersNamed returns the edges that start at the two corners that are named, -1
// for one that there is not. It is not ok when the name is another kind of name.
func cornersNamed(name string, edges []edge) (a, b int, ok bool) {
	if m := lettered.FindStringSubmatch(name); m != nil {
		at := func(letter string) int {
			return slices.IndexFunc(edges, func(e edge) bool { return CornerLetter(e.number) == letter })
		}
		return at(m[1]), at(m[2]), true
	}
	m := placed.FindStringSubmatch(name)
	if m == nil {
		return 0, 0, false
	}
	var xy [4]float64
	for i := range xy {
		var err error
		if xy[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
			return 0, 0, false
		}
	}
	nearest := func(p path.Point) int {
		best := 0
		for i, e := range edges {
			if e.path.Start().DistSq(p) < edges[best].path.Start().DistSq(p) {
				best = i
			}
		}
		return best
	}
	return nearest(path.Point{X: xy[0], Y: xy[1]}), nearest(path.Point{X: xy[2], Y: xy[3]}), true
}

// betweenCorners returns the edge between the corners at the starts of the edges a
// and b, in whichever direction.
func betweenCorners(sel *Selection, what, name string, edges []edge, a, b int) (int, error) {
	n := len(edges)
	switch {
	case a < 0 || b < 0:
		return 0, sel.errorf(choose(what, edges), "the %s %q names a corner that is not there", what, name)
	case a == b:
		return 0, sel.errorf(choose(what, edges), "the %s %q names the corner %s twice, at %s", what, name, CornerLetter(edges[a].number), at(edges[a].path.Start()))
	case (a+1)%n == b:
		return a, nil
	case (b+1)%n == a:
		return b, nil
	}
	return 0, sel.errorf(choose(what, edges), "the %s %q names the corners %s and %s, between which there are several edges", what, name,
		CornerLetter(edges[a].number), CornerLetter(edges[b].number))
}

// alongside returns the edges that the line runs along: those that are nearest to
// some length of it. A line that leaves the outline runs along none.
func alongside(line path.Path, edges []edge, reach float64) []int {
	if line.Segments() == 0 {
		return nil
	}
	type drawn struct {
		edge  int
		ruler *path.Ruler
	}
	var rulers []drawn
	for i, e := range edges {
		rulers = append(rulers, drawn{i, path.NewRuler(e.path)})
		if e.cut.Segments() > 0 {
			rulers = append(rulers, drawn{i, path.NewRuler(e.cut)})
		}
	}
	const places = 25
	count := make([]int, len(edges))
	for _, q := range along(line, places) {
		best, least := 0, math.Inf(1)
		for _, r := range rulers {
			if _, d := r.ruler.Nearest(q); d < least {
				best, least = r.edge, d
			}
		}
		if least > reach {
			return nil
		}
		count[best]++
	}
	var hit []int
	for i, n := range count {
		// One place may be nearer to the next edge, beside the corner.
		if n > 1 {
			hit = append(hit, i)
		}
	}
	return hit
}

// straightened returns the edge as one straight line, which it must be already
// but for a little.
func straightened(sel *Selection, e edge) (edge, error) {
	a, b := e.path.Start(), e.path.End()
	if bend := bend(e.path); bend > Straight {
		return e, sel.errorf(fmt.Sprintf("draw it as one straight line; up to %g mm are made straight", Straight),
			"the fold edge from %s to %s is not straight: it bends by %.2f mm", at(a), at(b), bend)
	}
	e.path = path.Open(a, b)
	e.own = e.path
	return e, nil
}

// names returns what the edges are called, the hem first.
func names(edges []edge) []string {
	n := len(edges)
	all := make([]string, n)
	for i := range all {
		switch {
		case i == 0:
			all[i] = "hem"
		case edges[i].run:
			all[i] = fmt.Sprintf("hem #%d", edges[i].number)
		case i == 1:
			all[i] = "right"
		case i == n-1:
			all[i] = "left"
		case n == 4:
			all[i] = "top"
		default:
			all[i] = fmt.Sprintf("top %d", i-1)
		}
	}
	return all
}

// roles returns what the edges are, the hem first.
func (st *study) roles(sel *Selection) []fit.Role {
	n := len(st.edges)
	all := make([]fit.Role, n)
	all[0] = fit.HemEdge
	for i, said := range map[int]fit.Role{1: sel.Finish, n - 1: sel.Start} {
		all[i] = said
		if said == fit.OtherEdge && !st.edges[i].run {
			all[i], _ = st.sideRole(i)
		}
	}
	if st.fold > 0 {
		all[st.fold] = fit.FoldEdge
	}
	return all
}

// numbered are widths of which those of single edges are by the edges' numbers.
type numbered struct {
	Widths
	own map[int]float64
}

// of returns the allowance of each edge, the hem first.
func (w numbered) of(edges []edge, fold int) []float64 {
	n := len(edges)
	all := make([]float64, n)
	for i, e := range edges {
		switch {
		case e.run || i == 0:
			all[i] = w.Hem
		case i == 1:
			all[i] = w.Finish
		case i == n-1:
			all[i] = w.Start
		default:
			all[i] = w.Top
		}
		if x, ok := w.own[e.number]; ok {
			all[i] = x
		}
	}
	if fold > 0 {
		all[fold] = 0
	}
	return all
}

// given returns the allowances that the edges get, the hem first, where those that
// the drawing has are drawn. An edge of which it has none that is known gets what
// is wanted.
func (st *study) given(sel *Selection, wanted numbered, drawn []float64) []float64 {
	all := wanted.of(st.edges, st.fold)
	n := len(all)
	for i, e := range st.edges {
		as := sel.AsDrawn.Top
		switch {
		case e.run || i == 0:
			as = sel.AsDrawn.Hem
		case i == 1:
			as = sel.AsDrawn.Finish
		case i == n-1:
			as = sel.AsDrawn.Start
		}
		if _, own := wanted.own[e.number]; as && !own && i != st.fold && (e.measured || sel.Includes != nil) {
			all[i] = drawn[i]
		}
	}
	return all
}
