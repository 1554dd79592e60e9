package facing

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"engrail/fit"
	"engrail/motif/path"
)

// joinName is the name of the edge at which two sections are joined.
const joinName = "join"

// join is where a strip can be cut: a place on its hem and the one on its inner
// edge that lies square to the hem from it, each with the distance along its line.
type join struct {
	hem, inner           path.Point
	alongHem, alongInner float64
}

// joins returns the places where the strip can be cut, in order along its hem: its
// valleys or its peaks, but not within a hand's breadth of its ends and not where a
// mark inside would be cut.
func (s strip) joins(o Options) []join {
	hem, inner := path.NewRuler(s.Edges[0].Net), path.NewRuler(s.inner().Net)
	places := s.valleys
	if o.AtPeaks {
		places = s.peaks
	}
	reach := 4*o.Depth + s.Edges[0].Net.Bounds().Height()
	// within returns the nearest place of the inner edge straight in from the hem.
	within := func(v fit.Place) (to path.Point, ok bool) {
		for _, x := range path.Open(v.Point, v.Point.Add(v.Out.Mul(-reach))).Intersections(inner.Path()) {
			if !ok || x.Point.Dist(v.Point) < to.Dist(v.Point) {
				to, ok = x.Point, true
			}
		}
		return to, ok
	}
	var all []join
	for _, v := range places {
		along, off := hem.Nearest(v.Point)
		if off > joinGap || along < leastSection || along > hem.Length()-leastSection {
			continue
		}
		to, ok := within(v)
		if !ok {
			continue
		}
		line := path.Open(v.Point, to)
		crosses := func(other path.Path) bool {
			return slices.ContainsFunc(line.Intersections(other), func(x path.Crossing) bool { return x.Point.Dist(v.Point) > joinGap })
		}
		if crosses(hem.Path()) || slices.ContainsFunc(s.Internal, crosses) || !s.round() && (crosses(s.Edges[1].Net) || crosses(s.Edges[len(s.Edges)-1].Net)) {
			continue
		}
		alongInner, _ := inner.Nearest(to)
		all = append(all, join{v.Point, to, along, alongInner})
	}
	slices.SortFunc(all, func(a, b join) int {
		if a.alongHem < b.alongHem {
			return -1
		}
		return 1
	})
	all = slices.CompactFunc(all, func(a, b join) bool { return math.Abs(b.alongHem-a.alongHem) < leastSection })
	// Each lies before the one before it on the inner edge, which runs back.
	var apart []join
	for _, j := range all {
		if n := len(apart); n == 0 || j.alongInner < apart[n-1].alongInner-leastSection/2 {
			apart = append(apart, j)
		}
	}
	return apart
}

// chosen returns the joins that cut the strip in n sections as alike as they can
// be; the one on a fold is half of such a section. There are at least n-1 joins.
func (s strip) chosen(all []join, n int) []join {
	length := s.Edges[0].Net.Length()
	parts, first := float64(n), 1.0
	switch s.fold() {
	case 1:
		parts -= 0.5
	case len(s.Edges) - 1:
		parts, first = parts-0.5, 0.5
	}
	var list []join
	next := 0
	for i := range n - 1 {
		want := length * (first + float64(i)) / parts
		best := next
		last := len(all) - (n - 1 - i)
		for k := next; k <= last; k++ {
			if math.Abs(all[k].alongHem-want) < math.Abs(all[best].alongHem-want) {
				best = k
			}
		}
		list = append(list, all[best])
		next = best + 1
	}
	return list
}

// sections cuts the strip in sections none of which is longer than o.Section, in at
// least as many as o.Sections says, and in more than some that turned out to be too long
// between their neighbours. The error says how long they would have to be.
func (s strip) sections(o Options, over tooLong) ([]strip, error) {
	where := "valley"
	if o.AtPeaks {
		where = "peak"
	}
	all := s.joins(o)
	least := max(1, o.Sections[s.Name], over.sections+1)
	ring := s.round()
	if ring {
		if len(all) == 0 {
			return nil, &Error{Piece: s.Name, Problem: fmt.Sprintf("it goes all round, and there is no %s where it can be cut", where), Hint: "leave the sections out"}
		}
		s = s.opened(all[0])
		all = s.joins(o)
		least = max(2, least)
	}
	if least > len(all)+1 && least > o.Sections[s.Name] && over.sections > 0 {
		return nil, over.error(s, where, o)
	}
	if least > len(all)+1 {
		return nil, &Error{Piece: s.Name,
			Problem: fmt.Sprintf("another size has it in %d sections, but it can be cut at %d %ss only", least, len(all), where),
			Hint:    "make the sections longer, or build the sizes one by one"}
	}
	longest := math.Inf(1)
	for n := least; n <= len(all)+1; n++ {
		at := s.chosen(all, n)
		if s.chords(at) > o.Section && n <= len(all) {
			continue // no need to make them
		}
		parts := s.cutAt(at, o)
		joins := make([][2]int, n-1)
		for i := range joins {
			joins[i] = [2]int{i, i + 1}
		}
		if ring {
			joins = append(joins, [2]int{n - 1, 0})
			parts[n-1].match(1, s.Edges[1].Net.Start(), s.Edges[1].Net.End(), n, o)
			parts[0].match(3, s.Edges[1].Net.Start(), s.Edges[1].Net.End(), n, o)
		}
		if err := cutAnew(parts, nil, joins, o); err != nil {
			return nil, err
		}
		longest = 0
		for _, p := range parts {
			longest = max(longest, extent(p.Unfold().Cut()))
		}
		if longest <= o.Section {
			return parts, nil
		}
	}
	return nil, tooLong{longest: longest}.error(s, where, o)
}

// tooLong is into how many sections a strip was cut of which one was too long, and how
// long that was.
type tooLong struct {
	sections int
	longest  float64
}

func (t tooLong) error(s strip, where string, o Options) error {
	return &Error{Piece: s.Name,
		Problem: fmt.Sprintf("cut at every %s the longest section is still %.1f mm with its allowances, more than the %.1f mm that are wanted", where, t.longest, o.Section),
		Hint:    fmt.Sprintf("allow sections of at least %.0f mm, or make the motif narrower or the facing less deep", math.Ceil(t.longest))}
}

// opened returns the strip that a ring is when it is cut open at the join.
func (s strip) opened(j join) strip {
	hem, inner := path.NewRuler(s.Edges[0].Net), path.NewRuler(s.Hole.Net)
	side := func(a, b path.Point) Edge {
		return Edge{Name: joinName, Role: fit.SeamEdge, Net: path.Open(a, b), Allowance: ringJoin}
	}
	outer, hole := s.Edges[0], s.Hole
	outer.Net = between(hem.Sub(j.alongHem, j.alongHem), j.hem, j.hem)
	hole.Net = between(inner.Sub(j.alongInner, j.alongInner), j.inner, j.inner)
	s.Edges = []Edge{outer, side(j.hem, j.inner), hole, side(j.inner, j.hem)}
	s.Hole = Edge{}
	s.ends = [2]fit.EndRef{{Panel: -1}, {Panel: -1}}
	s.Notches = slices.Clone(s.Notches)
	opened := path.NewRuler(outer.Net)
	for i, n := range s.Notches {
		s.Notches[i].At, _ = opened.Nearest(n.Net)
	}
	return s
}

// chords returns the longest distance from join to join, and from the ends.
func (s strip) chords(at []join) float64 {
	hem := s.Edges[0].Net
	last, longest := hem.Start(), 0.0
	for _, j := range at {
		longest = max(longest, last.Dist(j.hem))
		last = j.hem
	}
	return max(longest, last.Dist(hem.End()))
}

// extent returns the greatest distance between two points of a closed line, to a
// hundred-thousandth of it.
func extent(line path.Path) float64 {
	points := line.Flatten(extentChords)
	most := 0.0
	for i := range extentDirections {
		along := path.Direction(math.Pi * float64(i) / extentDirections)
		low, high := math.Inf(1), math.Inf(-1)
		for _, q := range points {
			d := path.Vec(q).Dot(along)
			low, high = min(low, d), max(high, d)
		}
		most = max(most, high-low)
	}
	return most
}

// cutAt returns the nets of the sections, with marks but without cut lines.
func (s strip) cutAt(at []join, o Options) []strip {
	if len(at) == 0 {
		whole := s
		whole.Edges = slices.Clone(s.Edges)
		return []strip{whole}
	}
	hem, inner := path.NewRuler(s.Edges[0].Net), path.NewRuler(s.Edges[innerEdge].Net)
	start, finish := s.Edges[len(s.Edges)-1], s.Edges[1]
	allowance := max(start.Allowance, finish.Allowance)
	n := len(at) + 1
	parts := make([]strip, n)
	for i := range parts {
		p := strip{Piece: s.Piece, ends: [2]fit.EndRef{{Panel: -1}, {Panel: -1}}}
		p.Name = fmt.Sprintf("%s %d of %d", s.Name, i+1, n)
		p.Section = i + 1
		p.places, p.Notches, p.Internal, p.Texts = nil, nil, nil, nil
		before, after := finish, start
		hemFrom, hemTo, innerFrom, innerTo := 0.0, hem.Length(), 0.0, inner.Length()
		side := func(a, b path.Point) Edge {
			return Edge{Name: joinName, Role: fit.SeamEdge, Net: path.Open(a, b), Allowance: allowance}
		}
		if i == 0 {
			p.ends[fit.Start] = s.ends[fit.Start]
		} else {
			j := at[i-1]
			hemFrom, innerTo = j.alongHem, j.alongInner
			after = side(j.inner, j.hem)
		}
		if i == n-1 {
			p.ends[fit.Finish] = s.ends[fit.Finish]
		} else {
			j := at[i]
			hemTo, innerFrom = j.alongHem, j.alongInner
			before = side(j.hem, j.inner)
		}
		hemEdge, innerSide := s.Edges[0], s.Edges[innerEdge]
		hemEdge.Net = between(hem.Sub(hemFrom, hemTo), after.Net.End(), before.Net.Start())
		innerSide.Net = between(inner.Sub(innerFrom, innerTo), before.Net.End(), after.Net.Start())
		p.Edges = []Edge{hemEdge, before, innerSide, after}
		if p.fold() < 0 && s.OnFold {
			p.OnFold, p.Pairs, p.Quantity = false, true, 2*s.Quantity
		}
		for _, said := range s.said {
			p.said = append(p.said, "part of "+said)
		}
		p.take(s, [2]float64{hemFrom, hemTo}, [2]float64{innerFrom, innerTo})
		parts[i] = p
	}
	for i, j := range at {
		parts[i].match(1, j.hem, j.inner, i+1, o)
		parts[i+1].match(3, j.hem, j.inner, i+1, o)
	}
	return parts
}

// between returns the line with just these ends.
func between(line path.Path, start, end path.Point) path.Path {
	line.V = slices.Clone(line.V)
	line.V[0].Point, line.V[len(line.V)-1].Point = start, end
	return line
}

// take gives a section the places of clips, the notches and the marks of the strip that
// are on its stretches of the hem and the inner edge, or on its sides. A match mark just at a join is left out: the
// join itself is one.
func (p *strip) take(s strip, onHem, onInner [2]float64) {
	hem := path.NewRuler(s.Edges[0].Net)
	from, to := p.Edges[0].Net.Start(), p.Edges[0].Net.End()
	for _, v := range s.places {
		along, _ := hem.Nearest(v.Point)
		// Where a ring is open its hem ends in the place where it starts.
		if along > onHem[0]-sameClip && along < onHem[1]+sameClip || v.Point.Dist(from) < sameClip || v.Point.Dist(to) < sameClip {
			p.places = append(p.places, v)
		}
	}
	for _, n := range s.Notches {
		switch n.Edge {
		case 0:
			if n.At < onHem[0]+cornerNotch || n.At > onHem[1]-cornerNotch {
				continue
			}
		case innerEdge:
			if n.At < onInner[0]+cornerNotch || n.At > onInner[1]-cornerNotch {
				continue
			}
		case 1:
			if p.ends[fit.Finish].Panel < 0 {
				continue
			}
		default:
			if p.ends[fit.Start].Panel < 0 {
				continue
			}
		}
		p.Notches = append(p.Notches, n)
	}
	net := p.Net()
	for _, l := range s.Internal {
		if net.Contains(l.Start()) {
			p.Internal = append(p.Internal, l)
		}
	}
}

// match sets the notch of a join in the middle of an edge, and its number beside it.
func (p *strip) match(edge int, hem, inner path.Point, number int, o Options) {
	at, up := hem.Lerp(inner, 0.5), inner.Sub(hem).Unit()
	out := up.Left()
	if edge == 1 {
		out = up.Right()
	}
	// Of a notch only its place and direction count until it is cut anew.
	p.Notches = append(p.Notches, Notch{
		Notch: fit.Notch{Edge: edge}, Net: at, Line: path.Line(at.Add(out), at),
	})
	height := min(numberHeight, hem.Dist(inner)/8)
	text := strconv.Itoa(number)
	wide := letterWidth * height * float64(len(text))
	in := notchLength + height
	middle := at.Add(out.Mul(-in))
	p.Texts = append(p.Texts, fit.Text{
		At:     middle.Add(up.Right().Mul(-wide / 2)).Add(up.Mul(-height / 2)),
		Height: height, Angle: up.Right().Angle(), String: text,
	})
}
