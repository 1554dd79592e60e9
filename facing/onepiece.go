package facing

import (
	"fmt"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// transform returns the strip moved. Mirrored, its start and its finish have
// changed places.
func (s strip) transform(m path.Similarity) strip {
	t := s
	mirrors := m.Mirrors()
	t.Edges = make([]Edge, len(s.Edges))
	for i, e := range s.Edges {
		j := i
		if mirrors && i%2 == 1 {
			j = len(s.Edges) - i
		}
		e.Net, e.Cut = e.Net.Transform(m), path.Path{}
		if mirrors {
			e.Net = e.Net.Reverse()
		}
		t.Edges[j] = e
	}
	t.Notches = nil
	for _, n := range s.Notches {
		if mirrors {
			n.At = s.Edges[n.Edge].Net.Length() - n.At
			if n.Edge%2 == 1 {
				n.Edge = len(s.Edges) - n.Edge
			}
		}
		n.Net, n.Line = m.Apply(n.Net), path.Line(m.Apply(n.Line.A), m.Apply(n.Line.B))
		t.Notches = append(t.Notches, n)
	}
	t.Inside = s.Inside.Transform(m)
	t.Grain = path.Line(m.Apply(s.Grain.A), m.Apply(s.Grain.B))
	move := func(places []fit.Place) []fit.Place {
		all := make([]fit.Place, len(places))
		for i, v := range places {
			all[i] = fit.Place{Point: m.Apply(v.Point), Out: m.ApplyVec(v.Out)}
		}
		return all
	}
	t.places, t.valleys, t.peaks = move(s.places), move(s.valleys), move(s.peaks)
	if mirrors {
		t.ends[0], t.ends[1] = s.ends[1], s.ends[0]
	}
	return t
}

// unfold returns the whole strip of one on the fold.
func (s strip) unfold() strip {
	k := s.fold()
	if k < 0 {
		return s
	}
	axis := s.Edges[k].Net
	image := s.transform(path.Reflection(axis.Start(), axis.StartTangent()))
	t := s
	t.Piece = s.Piece.Unfold()
	t.valleys = slices.Concat(s.valleys, image.valleys)
	t.peaks = slices.Concat(s.peaks, image.peaks)
	if k == 1 {
		t.ends[fit.Finish] = s.ends[fit.Start]
	} else {
		t.ends[fit.Start] = s.ends[fit.Finish]
	}
	return t
}

// Closing says how the facings of two joined panels close when they are laid out
// flat, with the corners of their hems on one another and their side lines along one
// another.
type Closing struct {
	Seam fit.Seam
	// Angle is by how much the directions of the two side lines differ at the hem.
	Angle float64
	// Gap is the greatest distance of the two side lines, which is that at the inner
	// edge where they are straight.
	Gap float64
}

// flat is a chain of facings to be laid out, from left to right, each so turned that
// its start lies at the finish of the one before.
type flat struct {
	items  []strip
	anchor int  // the item that stays where it is
	ring   bool // the finish of the last is joined to the start of the first
	whole  bool // unfolded at both ends, so that no mirrored copies are cut
}

// onePiece joins the facings of panels that seams join, laid out flat, each chain to
// one. A ring is open at the seam that o.Open names, or else at the last one in it.
// The error says where a seam does not close by more than can be sewn.
func (m *Made) onePiece(r *fit.Result, strips []strip, o Options) ([]strip, error) {
	partner, number := m.partners(r)
	if o.Open != nil {
		_, joined := partner[*o.Open]
		// One that is joined to its own mirror image is open there anyway.
		joined = joined || slices.ContainsFunc(r.Seams, func(s fit.SeamReport) bool { return s.Seam.A == *o.Open && s.Seam.B == *o.Open })
		if !joined {
			return nil, &Error{Piece: r.Panels[o.Open.Panel].Panel.Name + " facing",
				Problem: fmt.Sprintf("it cannot be left open at its %v, where no other facing is joined to it", o.Open.End),
				Hint:    "name a side that is listed under seams"}
		}
	}
	var all []strip
	done := make([]bool, len(strips))
	for i := range strips {
		if done[i] {
			continue
		}
		c := chainOf(i, strips, partner)
		for _, s := range c.items {
			done[s.ends[fit.Start].Panel] = true
		}
		for _, c := range c.opened(o, partner, number) {
			s, err := m.lay(c, r, number, len(strips))
			if err != nil {
				return nil, err
			}
			all = append(all, s)
		}
	}
	return all, nil
}

// partners returns which ends of panels are joined to which and the number of their
// seam. Panels of which different numbers are cut stay apart.
func (m *Made) partners(r *fit.Result) (partner map[fit.EndRef]fit.EndRef, number map[fit.EndRef]int) {
	partner, number = map[fit.EndRef]fit.EndRef{}, map[fit.EndRef]int{}
	halves := func(p Piece) int {
		if p.OnFold {
			return 2 * p.Quantity
		}
		return p.Quantity
	}
	for i, s := range r.Seams {
		a, b := s.Seam.A, s.Seam.B
		if a == b {
			continue
		}
		if x, y := m.Facings[a.Panel], m.Facings[b.Panel]; halves(x) != halves(y) {
			m.Warnings = append(m.Warnings, fit.Warning{Code: "facing-apart", Level: fit.LevelNote, Where: x.Name,
				Message: fmt.Sprintf("it is not laid out in one with %s: %d and %d halves of them are cut; give both panels as many", y.Name, halves(x), halves(y))})
			continue
		}
		partner[a], partner[b] = b, a
		number[a], number[b] = i, i
	}
	return partner, number
}

// mirrored returns the strip turned over.
func (s strip) mirrored() strip {
	return s.transform(path.Reflection(s.Edges[0].Net.Start(), path.Vec{Y: 1}))
}

// chainOf returns the chain of joined facings that one is in.
func chainOf(first int, strips []strip, partner map[fit.EndRef]fit.EndRef) flat {
	c := flat{items: []strip{strips[first]}}
	if strips[first].round() {
		return c
	}
	// To the right, then to the left.
	for {
		e, ok := partner[c.items[len(c.items)-1].ends[fit.Finish]]
		if !ok {
			break
		}
		if e == c.items[0].ends[fit.Start] {
			c.ring = true
			break
		}
		next := strips[e.Panel]
		if e.End == fit.Finish {
			next = next.mirrored()
		}
		c.items = append(c.items, next)
	}
	for !c.ring {
		e, ok := partner[c.items[0].ends[fit.Start]]
		if !ok {
			break
		}
		next := strips[e.Panel]
		if e.End == fit.Start {
			next = next.mirrored()
		}
		c.items = slices.Insert(c.items, 0, next)
		c.anchor++
	}
	return c.aboutFold(strips)
}

// aboutFold makes the facing on a fold the one that stays where it is. With a fold at
// both ends the chain is unfolded to a ring.
func (c flat) aboutFold(strips []strip) flat {
	n := len(c.items)
	first, last := c.items[0].fold() == 3, c.items[n-1].fold() == 1
	if c.ring || n == 1 || !first && !last {
		return c
	}
	anchor := 0
	if !first {
		anchor = n - 1
	}
	// The one that stays is not turned over.
	at := c.items[anchor].ends[fit.Start]
	if at.End != fit.Start {
		slices.Reverse(c.items)
		for i, s := range c.items {
			e := s.ends[fit.Start]
			if c.items[i] = strips[e.Panel]; e.End == fit.Start {
				c.items[i] = strips[e.Panel].mirrored()
			}
		}
		anchor = n - 1 - anchor
	}
	c.anchor = anchor
	if !first || !last {
		return c
	}
	round := flat{ring: true, whole: true, anchor: anchor}
	for _, s := range c.items {
		round.items = append(round.items, s.unfold())
	}
	for i := n - 2; i > 0; i-- {
		round.items = append(round.items, c.items[i].mirrored())
	}
	return round
}

// opened returns the chain open at one seam, or two chains where an open one is cut at
// the seam that the options name.
func (c flat) opened(o Options, partner map[fit.EndRef]fit.EndRef, number map[fit.EndRef]int) []flat {
	n := len(c.items)
	at, seam := -1, -1
	for i, s := range c.items {
		end := s.ends[fit.Finish]
		k, ok := number[end]
		if !ok || i == n-1 && !c.ring {
			continue
		}
		named := o.Open != nil && (*o.Open == end || *o.Open == partner[end])
		if named {
			k = len(number) // before all others
		}
		if (c.ring || named) && k >= seam {
			at, seam = i, k
		}
	}
	if at < 0 {
		return []flat{c}
	}
	if c.ring {
		round := c
		round.ring = false
		round.items = slices.Concat(c.items[at+1:], c.items[:at+1])
		round.anchor = (c.anchor - at - 1 + n) % n
		return []flat{round}
	}
	left, right := flat{items: c.items[:at+1], anchor: at}, flat{items: c.items[at+1:]}
	if c.anchor <= at {
		left.anchor = c.anchor
	} else {
		right.anchor = c.anchor - at - 1
	}
	return []flat{left, right}
}

// lay joins the facings of an open chain to one.
func (m *Made) lay(c flat, r *fit.Result, number map[fit.EndRef]int, panels int) (strip, error) {
	if len(c.items) == 1 {
		return c.items[0], nil
	}
	stays := c.items[c.anchor]
	placed := make([]strip, len(c.items))
	for i, s := range c.items {
		if i == 0 {
			placed[0] = s
			continue
		}
		placed[i] = s.transform(beside(placed[i-1].Edges[1].Net, s.Edges[3].Net.Reverse()))
	}
	// As the one that stays was drawn, so that the sizes of a nest lie as its panel does.
	back := beside(stays.Edges[1].Net, placed[c.anchor].Edges[1].Net)
	for i := range placed {
		placed[i] = placed[i].transform(back)
	}
	one := placed[0]
	one.said = nil
	for i, next := range placed[1:] {
		a := placed[i].ends[fit.Finish]
		closing, err := one.join(next)
		closing.Seam = r.Seams[number[a]].Seam
		if err != nil {
			return strip{}, err
		}
		m.Closings = append(m.Closings, closing)
	}
	for _, s := range c.items {
		for _, said := range s.said {
			if line := s.Panel + ": " + said; !slices.Contains(one.said, line) {
				one.said = append(one.said, line)
			}
		}
	}
	if len(one.said) > mostSaid {
		one.said = []string{fmt.Sprintf("for %d panels", len(one.said))}
	}
	from, to := c.items[0].Panel, c.items[len(c.items)-1].Panel
	one.Name = from + " to " + to + " " + Facing.String()
	if distinct(c.items) == panels {
		one.Name = Facing.String()
	}
	one.Panel, one.Quantity, one.OnFold, one.Grain = stays.Panel, stays.Quantity, one.fold() >= 0, placed[c.anchor].Grain
	one.Pairs = !one.OnFold && !c.whole && one.Quantity > 1
	one.hint = "its panels may lie on one another when they are laid out flat; keep a facing for each panel, leave it open at another seam, or cut it in sections"
	return one, nil
}

// distinct returns how many panels the strips are of.
func distinct(items []strip) int {
	of := map[string]bool{}
	for _, s := range items {
		of[s.Panel] = true
	}
	return len(of)
}

// beside returns the motion that lays one side line, run up from the hem, along
// another: the corners at the hem on one another, those at the inner edge in one
// direction.
func beside(on, side path.Path) path.Similarity {
	turn := side.End().Sub(side.Start()).AngleTo(on.End().Sub(on.Start()))
	return path.Rotation(side.Start(), turn).Then(path.Translation(on.Start().Sub(side.Start())))
}

// join adds the strip that lies beside the finish of this one.
func (s *strip) join(next strip) (Closing, error) {
	a, b := s.Edges[1].Net, next.Edges[3].Net.Reverse()
	c := Closing{Angle: math.Abs(a.StartTangent().AngleTo(b.StartTangent())), Gap: a.End().Dist(b.End())}
	on, along := path.NewRuler(a), path.NewRuler(b)
	for i := range closingPlaces {
		_, off := on.Nearest(along.At(along.Length() * float64(i) / closingPlaces))
		c.Gap = max(c.Gap, off)
	}
	if c.Gap > mostGap {
		return c, &Error{Piece: s.Name, Problem: fmt.Sprintf("laid out flat it does not close with %s: their side lines are up to %.1f mm and %.1f degrees apart, and %.1f mm can be eased in",
			next.Name, c.Gap, c.Angle*180/math.Pi, mostGap),
			Hint: "true the side seams of the panels to one another, leave it open at this seam, or keep a facing for each panel"}
	}
	hem, inner := s.Edges[0], s.Edges[innerEdge]
	mine, other := inner.Net, next.Edges[innerEdge].Net
	if d := a.End().Dist(b.End()); d > joinGap {
		middle := a.End().Lerp(b.End(), 0.5)
		mine, other = withEnd(mine, fit.Start, middle), withEnd(other, fit.Finish, middle)
	}
	length := hem.Net.Length()
	hem.Net = path.Join(joinGap, hem.Net, next.Edges[0].Net)
	inner.Net = path.Join(joinGap, other, mine)
	s.Edges = []Edge{hem, next.Edges[1], inner, s.Edges[3]}
	s.Notches = slices.DeleteFunc(slices.Clone(s.Notches), func(n Notch) bool { return n.Edge == 1 })
	// On the inner edge, which runs back, those that were there lie behind the others.
	for i, n := range s.Notches {
		if n.Edge == innerEdge {
			s.Notches[i].At += other.Length()
		}
	}
	for _, n := range next.Notches {
		switch n.Edge {
		case 0:
			n.At += length
		case 3:
			continue
		}
		s.Notches = append(s.Notches, n)
	}
	// One marks where the seam of the garment comes.
	at, up := mine.Start(), a.EndTangent()
	s.Notches = append(s.Notches, Notch{Notch: fit.Notch{Edge: innerEdge, At: other.Length()}, Net: at, Line: path.Line(at.Add(up), at)})
	s.places = slices.Concat(s.places, next.places)
	s.Internal = slices.Concat(s.Internal, next.Internal)
	s.valleys, s.peaks = slices.Concat(s.valleys, next.valleys), slices.Concat(s.peaks, next.peaks)
	s.ends[fit.Finish] = next.ends[fit.Finish]
	return c, nil
}
