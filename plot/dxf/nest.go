package dxf

import (
	"math"
	"slices"

	"engrail/motif/path"
	"engrail/plot"
)

// match finds the same lines and texts in all sizes, and the points on them
// that are the same.
func (n *nested) match(all []piece, chordError float64) error {
	lists := make([]map[plot.Role][]plot.Line, len(all)) // by role, the outline apart
	outlines := make([]plot.Line, len(all))
	for i, p := range all {
		outline, err := p.outline()
		if err != nil {
			return err
		}
		lists[i] = map[plot.Role][]plot.Line{}
		for k, l := range p.Lines {
			switch {
			case k == outline:
				outlines[i] = l
			case !l.Sign:
				lists[i][l.Role] = append(lists[i][l.Role], l)
			}
		}
		for r := range plot.Internal + 1 {
			if a, b := len(lists[0][r]), len(lists[i][r]); a != b {
				return ungradable("%s has %d %s lines and %s %d", all[0].name, a, r, p.name, b)
			}
		}
	}
	if err := n.matchLine(all, outlines, chordError); err != nil {
		return err
	}
	next := map[plot.Role]int{}
	outline, _ := n.base.outline()
	for k, l := range n.base.Lines { // in its order
		if k == outline || l.Sign {
			continue
		}
		same := make([]plot.Line, len(all))
		for i := range all {
			same[i] = lists[i][l.Role][next[l.Role]]
		}
		next[l.Role]++
		if err := n.matchLine(all, same, chordError); err != nil {
			return err
		}
	}
	n.matchTexts(all)
	return nil
}

// matchLine adds a line that is given in all sizes.
func (n *nested) matchLine(all []piece, lines []plot.Line, chordError float64) error {
	base := lines[n.base0]
	for i, l := range lines {
		switch {
		case len(l.Path.V) != len(base.Path.V) || l.Path.Closed != base.Path.Closed:
			return ungradable("the %s line of %s has %d vertices and that of %s %d",
				l.Role, n.base.name, len(base.Path.V), all[i].name, len(l.Path.V))
		case l.Notch != base.Notch || math.Abs(l.Width-base.Width) > gradeError:
			return ungradable("a notch of %s is of another kind or width than that of %s", n.base.name, all[i].name)
		}
	}
	at := make([][]path.Point, len(lines))
	var turns []bool
	add := func(turn bool, place func(p path.Path) path.Point) {
		for i, l := range lines {
			at[i] = append(at[i], place(l.Path))
		}
		turns = append(turns, turn)
	}
	for k := range base.Path.V {
		add(isTurn(base.Path, k), func(p path.Path) path.Point { return p.V[k].Point })
		if k >= base.Path.Segments() {
			break
		}
		chords := 1
		for _, l := range lines {
			chords = max(chords, len(path.FromSegments(l.Path.Segment(k)).Flatten(chordError))-1)
		}
		for c := 1; c < chords; c++ {
			add(false, func(p path.Path) path.Point { return p.Segment(k).At(float64(c) / float64(chords)) })
		}
	}
	whole := nestedLine{Line: base, turns: turns, at: at}
	whole.Path = path.Path{Closed: base.Path.Closed}
	for _, q := range at[n.base0] {
		whole.Path.V = append(whole.Path.V, path.Vertex{Point: n.units.round(q)})
	}
	if err := n.thin(&whole); err != nil {
		return err
	}
	if base.Role != plot.Fold && base.Role != plot.Grain && !(base.Role == plot.Drawn && isReference(base.Class)) {
		n.lines = append(n.lines, whole)
		return nil
	}
	// Their layers have straight lines only, each its own.
	for k := range whole.Path.Segments() {
		j := (k + 1) % len(whole.Path.V)
		part := nestedLine{Line: whole.Line, turns: []bool{true, true}}
		part.Path = path.Open(whole.Path.V[k].Point, whole.Path.V[j].Point)
		for i := range at {
			part.at = append(part.at, []path.Point{whole.at[i][k], whole.at[i][j]})
		}
		n.lines = append(n.lines, part)
	}
	return nil
}

// thin takes out vertices that are at the place of the one before in every
// size. It is an error where they are in the base alone: no rule can part them.
func (n *nested) thin(l *nestedLine) error {
	kept := 0
	last := len(l.Path.V) - 1
	for k, v := range l.Path.V {
		before := kept - 1
		if k == last && l.Path.Closed && k > 0 && v.Point == l.Path.V[0].Point {
			before = 0
		}
		if before >= 0 && v.Point == l.Path.V[before].Point {
			for i := range l.at {
				if l.at[i][k].Dist(l.at[i][before]) > n.within+samePlace {
					return ungradable("two points of the %s line of %s are in one place, (%.1f, %.1f) mm, and apart in size %s",
						l.Role, n.base.name, v.X, v.Y, n.sizes[i])
				}
			}
			l.turns[before] = l.turns[before] || l.turns[k]
			continue
		}
		l.Path.V[kept], l.turns[kept] = v, l.turns[k]
		for i := range l.at {
			l.at[i][kept] = l.at[i][k]
		}
		kept++
	}
	l.Path.V, l.turns = l.Path.V[:kept], l.turns[:kept]
	for i := range l.at {
		l.at[i] = l.at[i][:kept]
	}
	return nil
}

// matchTexts keeps the texts that are the same in all sizes, and where they are.
func (n *nested) matchTexts(all []piece) {
	places := make([]map[string][]path.Point, len(all)) // that have no match yet
	for i, p := range all {
		places[i] = map[string][]path.Point{}
		for _, t := range p.Texts {
			places[i][t.String] = append(places[i][t.String], t.At)
		}
	}
	var kept []plot.Text
	for _, t := range n.base.Texts {
		var at []path.Point
		for i := range all {
			if left := places[i][t.String]; len(left) > 0 {
				at = append(at, left[0])
				places[i][t.String] = left[1:]
			}
		}
		if len(at) == len(all) {
			t.At = n.units.round(t.At)
			kept = append(kept, t)
			n.texts = append(n.texts, at)
		}
	}
	n.base.Texts = kept
}

// gradePoints returns the points that must move by rules of their own, so that
// all others are within reach of their places in every size when they
// move as [newPlan] says. First it finds those of the outline, then with the
// outline moving those of all else.
func (n *nested) gradePoints() ([]gradePoint, error) {
	var points []gradePoint
	taken := map[path.Point]bool{}
	lines := make([]plot.Line, len(n.lines))
	for i := range lines {
		lines[i] = n.lines[i].Line
	}
	for _, stage := range []struct {
		lines []plot.Line
		texts []plot.Text
	}{{lines[:1], nil}, {lines, n.base.Texts}} {
		for round := 0; ; round++ {
			plan, err := newPlan(stage.lines, stage.texts, points, maxGradeWork)
			if err != nil {
				return nil, ungradable("%s: %v", n.base.name, err)
			}
			before := len(points)
			// Each round halves the gaps; lines that need more than a dozen take
			// all their points at once.
			all := round >= 12
			add := func(what string, at path.Point, places func(size int) path.Point) error {
				if taken[at] {
					// Another line's, of this round: the next one moves this one too.
					if slices.ContainsFunc(points[before:], func(q gradePoint) bool { return q.at == at }) {
						return nil
					}
					return ungradable("the %s of %s at (%.1f, %.1f) mm moves otherwise than what else is there", what, n.base.name, at.X, at.Y)
				}
				taken[at] = true
				points = append(points, n.gradePoint(at, places))
				return nil
			}
			for i := range stage.lines {
				if err := n.split(i, &plan.lines[i], taken, all, add); err != nil {
					return nil, err
				}
			}
			for i, t := range stage.texts {
				off := 0.0
				for s := range n.sizes {
					off = max(off, t.At.Add(plan.texts[i].in(s)).Dist(n.texts[i][s]))
				}
				if off > n.within {
					if err := add("text", t.At, func(s int) path.Point { return n.texts[i][s] }); err != nil {
						return nil, err
					}
				}
			}
			if len(points) == before {
				break
			}
		}
	}
	return points, nil
}

// gradePoint returns the point with its moves to the places in the other sizes.
func (n *nested) gradePoint(at path.Point, places func(size int) path.Point) gradePoint {
	q := gradePoint{at, make([]path.Vec, len(n.sizes))}
	for s := range q.moves {
		if s != n.base0 {
			q.moves[s] = path.Vec(n.units.round(path.Point(places(s).Sub(at))))
		}
	}
	return q
}

// split adds, of each gap between grade points of a line, the vertex that is
// furthest from its place, if that is too far, or all such vertices.
func (n *nested) split(line int, d *lineDrift, taken map[path.Point]bool, all bool,
	add func(what string, at path.Point, places func(size int) path.Point) error) error {
	l := n.lines[line]
	worst, most := -1, n.within
	flush := func() error {
		k := worst
		worst, most = -1, n.within
		if k < 0 {
			return nil
		}
		return add(l.Role.String()+" line", l.Path.V[k].Point, func(s int) path.Point { return l.at[s][k] })
	}
	moved := make([]plot.Line, len(n.sizes))
	for s := range n.sizes {
		moved[s] = d.line(l.Line, s)
	}
	for k, v := range l.Path.V {
		off := 0.0
		for s := range n.sizes {
			if s != n.base0 {
				off = max(off, moved[s].Path.V[k].Dist(l.at[s][k]))
			}
		}
		if k == 1 && (l.Role == plot.Notch || l.Role == plot.Clip && n.cutClips) {
			if err := n.notch(l, moved); err != nil {
				return err
			}
			continue
		}
		if off > most {
			worst, most = k, off
		}
		if all || taken[v.Point] || k+1 == len(l.Path.V) {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	return flush()
}

// notch checks the depth and the direction of a notch, of which the base has
// one for all sizes.
func (n *nested) notch(l nestedLine, moved []plot.Line) error {
	for s, m := range moved {
		got, want := m.Path.V[1].Sub(m.Path.V[0].Point), l.at[s][1].Sub(l.at[s][0])
		if math.Abs(got.Len()-want.Len()) > samePlace || math.Abs(got.AngleTo(want)) > notchTurn {
			return ungradable("the notch of %s at (%.1f, %.1f) mm has another depth or direction in size %s",
				n.base.name, l.Path.V[0].X, l.Path.V[0].Y, n.sizes[s])
		}
	}
	return nil
}
