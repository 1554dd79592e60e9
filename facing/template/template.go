package template

import (
	"fmt"
	"math"
	"slices"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// Options are what cards have written on them.
type Options struct {
	// Style and Size are the names of the style and of the size.
	Style, Size string
	// Unit names the unit of lengths, and Length writes one of so many mm in it.
	Unit   string
	Length func(mm float64) string
}

// Card is one card.
type Card struct {
	// Name is a letter.
	Name string
	// Lower is the edge to mark along, from left to right. Outline is the whole card,
	// closed and counter-clockwise.
	Lower, Outline path.Path
	// Half says that it is half a motif, from its peak to the valley on its right; the
	// origin is then the place of the valley line under the peak.
	Half bool
	// Width is the chord from valley to valley, of a half from the peak to the valley;
	// Depth is that of the peak under it.
	Width, Depth float64
	// Valley is the valley line; Centre runs from the peak up, with an arrowhead, and a
	// card of a half has none.
	Valley, Centre path.Segment
	Arrow          path.Path
	// Count is how many motifs of the unfolded panels are marked with it, half ones at
	// ends of panels left out; Off is how far they are from it at most.
	Count int
	Off   float64
	Label facing.Label

	members []member
	panels  []int
}

// member is a motif: in a card's coordinates, with its peak.
type member struct {
	line path.Path
	peak path.Point
	half bool
}

// mirror returns the member turned over.
func (m member) mirror() member {
	middle := path.Point{X: m.line.End().X / 2}
	if m.half {
		middle.X = 0
	}
	axis := path.Reflection(middle, path.Vec{Y: 1})
	return member{m.line.Transform(axis).Reverse(), axis.Apply(m.peak), m.half}
}

// off returns how far two motifs are from one another, laid middle on middle.
func (m member) off(n member, enough float64) float64 {
	wide := math.Abs(m.line.End().X - n.line.End().X)
	if d := max(wide/2, math.Abs(m.peak.Y-n.peak.Y)/2); d > enough {
		return d
	}
	shift := path.Vec{}
	if !m.half {
		shift.X = (n.line.End().X - m.line.End().X) / 2
	}
	a, b := path.NewRuler(m.line.Transform(path.Translation(shift))), path.NewRuler(n.line)
	far := 0.0
	for i := range places + 1 {
		t := float64(i) / places
		_, d := b.Nearest(a.At(t * a.Length()))
		_, e := a.Nearest(b.At(t * b.Length()))
		if far = max(far, d, e); far > enough {
			break
		}
	}
	return far
}

// rightHalf returns the half of a motif from its peak on.
func (m member) rightHalf() member {
	r := path.NewRuler(m.line)
	along, _ := r.Nearest(m.peak)
	back := path.Translation(path.Vec{X: -m.peak.X})
	return member{r.Sub(along, r.Length()).Transform(back), back.Apply(m.peak), true}
}

// part is a stretch of a hem, in order: a motif marked with a card, or a plain stretch.
type part struct {
	card   int
	half   bool
	turned bool
	plain  float64
}

// Error says that there are no cards and what to do.
type Error struct{ Problem, Hint string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Remedy returns what to do.
func (e *Error) Remedy() string { return e.Hint }

// Make returns the cards of a fitted garment, in the order in which they are first
// used, those of halves last: none of a garment without motifs. An [*Error] says that it
// would be more than anybody cuts.
func Make(r *fit.Result, o Options) ([]Card, error) {
	var cards []Card
	hems := make([][]part, len(r.Panels))
	all := make([][]stretch, len(r.Panels))
	for i, f := range r.Panels {
		all[i] = stretches(f)
		hems[i] = make([]part, len(all[i]))
	}
	for _, halves := range [2]bool{false, true} {
		for i, f := range r.Panels {
			same := sameRigid
			if f.Spec.Lay == fit.Bent {
				same = sameBent
			}
			for k, s := range all[i] {
				if s.plain > 0 {
					hems[i][k].plain = s.plain
					continue
				}
				if s.half != halves {
					continue
				}
				cards, hems[i][k] = sorted(cards, s, same)
				if len(cards) > mostCards {
					return nil, &Error{fmt.Sprintf("the motifs differ so much that more than %d cards would be needed to mark them", mostCards),
						"leave template out, or let the motifs grow less"}
				}
				c := &cards[hems[i][k].card]
				if !slices.Contains(c.panels, i) {
					c.panels = append(c.panels, i)
				}
				times := max(1, f.Panel.Quantity)
				switch {
				case s.half && !s.fold:
					continue
				case !s.half && f.Panel.OnFold():
					times *= 2
				}
				c.Count += times
			}
		}
	}
	for i := range cards {
		cards[i].Name = nameOf(i)
		cards[i].draw()
	}
	for i := range cards {
		cards[i].letter(cards[i].text(r, hems, cards, o))
	}
	return cards, nil
}

// nameOf returns the name of the i-th card: a letter, then two.
func nameOf(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return nameOf(i/26-1) + nameOf(i%26)
}

// sorted puts a motif to the card that it is marked with, a new one where it is like
// none. Half a motif is marked with half of a whole one where that will do.
func sorted(cards []Card, s stretch, same float64) ([]Card, part) {
	m, square := s.member, s.square
	if s.rises {
		m, square = m.mirror(), square.mirror() // as it is at the start of a hem
	}
	for i := range cards {
		c := &cards[i]
		first := c.members[0]
		switch {
		case s.half && !c.Half:
			if s.rises {
				first = first.mirror()
			}
			if first.rightHalf().off(square, same) <= same {
				return cards, part{card: i, half: true}
			}
		case s.half:
			if first.off(m, same) <= same {
				c.members = append(c.members, m)
				return cards, part{card: i, half: true, turned: s.rises}
			}
		case !c.Half:
			for k, way := range [2]member{m, m.mirror()} {
				if first.off(way, same) <= same {
					c.members = append(c.members, way)
					return cards, part{card: i, turned: k == 1}
				}
			}
		}
	}
	return append(cards, Card{Half: s.half, members: []member{m}}), part{card: len(cards), half: s.half, turned: s.rises}
}

// draw draws the card after the member whose width is nearest to the mean.
func (c *Card) draw() {
	mean := 0.0
	for _, m := range c.members {
		mean += m.line.End().X / float64(len(c.members))
	}
	m := slices.MinFunc(c.members, func(a, b member) int {
		return int(math.Copysign(1, math.Abs(a.line.End().X-mean)-math.Abs(b.line.End().X-mean)))
	})
	for _, n := range c.members {
		c.Off = max(c.Off, n.off(m, math.Inf(1)))
	}
	c.Lower, c.Width, c.Depth = m.line, m.line.End().X, -m.peak.Y
	c.Valley = path.Line(path.Point{}, path.Point{X: c.Width})
	if c.Half {
		return // its centre line is an edge of the card
	}
	top := path.Point{X: m.peak.X, Y: stem}
	c.Centre = path.Line(m.peak, top)
	half := path.Vec{X: min(head/2, c.Width/4), Y: -head}
	c.Arrow = path.Open(top.Add(path.Vec{X: -half.X, Y: half.Y}), top, top.Add(half))
}

// stretch is a part of a hem between two valleys or ends: a motif, or plain.
type stretch struct {
	member
	square member // of half a motif, as half of a whole one lies
	plain  float64
	fold   bool // its half is on a fold
	rises  bool // it is half a motif at the finish
}

// stretches divides the shaped hem of a panel.
func stretches(f fit.Fitted) []stretch {
	along, ok := locate(f)
	if !ok || len(f.Valleys) == 0 {
		return nil
	}
	r := path.NewRuler(f.Edge)
	closed := f.Edge.Closed
	// The peaks come in order, as the valleys do.
	next := 0
	peakIn := func(from, to float64) (path.Point, bool) {
		for k := range along.peaks {
			i := (next + k) % len(along.peaks)
			a := along.peaks[i]
			if closed && a < from {
				a += r.Length()
			}
			if a > from+onEdge && a < to-onEdge {
				next = i + 1
				return f.Peaks[i].Point, true
			}
			if a >= to && !closed {
				break
			}
		}
		return path.Point{}, false
	}
	var all []stretch
	n := len(f.Valleys)
	end := func(e fit.End, v int, from, to float64) {
		peak := f.Peaks[0]
		role := f.Net[len(f.Net)-1].Role
		if e == fit.Finish {
			peak, role = f.Peaks[len(f.Peaks)-1], f.Net[1].Role
		}
		// The origin is where the valley line meets the side.
		at, valley := f.Valley.Start(), f.Valleys[v].Point
		u := valley.Sub(at).Unit()
		if e == fit.Finish {
			at = f.Valley.End()
			u = at.Sub(valley).Unit()
		}
		line := r.Sub(from, to)
		in := func(m path.Similarity) member { return member{line.Transform(m), m.Apply(peak.Point), true} }
		// Half of a whole motif stands square to the side.
		level := peak.Out.Left()
		foot := valley.Add(level.Mul(peak.Point.Sub(valley).Dot(level)))
		all = append(all, stretch{member: in(inverse(at, u)), square: in(inverse(foot, level)), fold: role == fit.FoldEdge, rises: e == fit.Finish})
	}
	plain := func(length float64) {
		if length > onEdge {
			all = append(all, stretch{plain: length})
		}
	}
	if !closed {
		switch first := along.valleys[0]; {
		case f.Phases[fit.Start] == fit.Peak && len(f.Peaks) > 0:
			end(fit.Start, 0, 0, first)
		default:
			plain(first)
		}
	}
	for i := range n {
		j, from := (i+1)%n, along.valleys[i]
		if j == 0 && !closed {
			break
		}
		to := along.valleys[j]
		if j <= i {
			to += r.Length()
		}
		peak, ok := peakIn(from, to)
		if !ok {
			plain(to - from)
			continue
		}
		a, b := f.Valleys[i].Point, f.Valleys[j].Point
		m := inverse(a, b.Sub(a).Unit())
		all = append(all, stretch{member: member{r.Sub(from, to).Transform(m), m.Apply(peak), false}})
	}
	if !closed {
		switch last := along.valleys[n-1]; {
		case f.Phases[fit.Finish] == fit.Peak && len(f.Peaks) > 0:
			end(fit.Finish, n-1, last, r.Length())
		default:
			plain(r.Length() - last)
		}
	}
	return all
}

// alongs are the distances of valleys and peaks along the shaped hem.
type alongs struct{ valleys, peaks []float64 }

// locate finds them; it is not ok where one does not lie on the hem.
func locate(f fit.Fitted) (alongs, bool) {
	r := path.NewRuler(f.Edge)
	find := func(list []fit.Place) ([]float64, bool) {
		all := make([]float64, len(list))
		next, n := 0, f.Edge.Segments()
	places:
		for i, p := range list {
			for k := range n {
				at := (next + k) % n
				g := f.Edge.Segment(at)
				if !g.Bounds().Grow(onEdge).Contains(p.Point) {
					continue
				}
				if t, off := g.Nearest(p.Point); off <= onEdge {
					all[i] = r.Stop(at) + t*g.Length()
					next = at
					continue places
				}
			}
			return nil, false
		}
		return all, true
	}
	valleys, ok := find(f.Valleys)
	peaks, too := find(f.Peaks)
	return alongs{valleys, peaks}, ok && too
}

// inverse returns the motion that takes the point to the origin and the direction to x.
func inverse(origin path.Point, along path.Vec) path.Similarity {
	return path.Translation(path.Point{}.Sub(origin)).Then(path.Rotation(path.Point{}, -along.Angle()))
}
