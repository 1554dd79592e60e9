package hpgl

import (
	"cmp"
	"fmt"
	"slices"

	"engrail/motif/path"
	"engrail/plot/toolpath"
)

// plan puts the items in the order in which they are drawn, each line once and as the
// tool goes along it. The box is round all of them.
func (c *collector) plan(box path.Box) error {
	o := c.options
	at := path.Point{} // where the tool waits
	if o.Origin == Centre && !box.Empty() {
		at = box.Centre()
	}
	pens := c.pensInTurn()
	all := c.items
	c.items = nil
	var outlines []path.Path
	for _, s := range all {
		if o.LeadIn > 0 && s.line != nil && s.line.Closed {
			outlines = append(outlines, *s.line)
		}
	}
	for _, pen := range pens {
		var items []item
		for _, s := range all {
			if s.pen == pen {
				items = append(items, s)
			}
		}
		steps, err := c.ordered(items, at, outlines)
		if err != nil {
			return err
		}
		if n := len(steps); n > 0 {
			at = steps[n-1].end()
		}
		c.items = append(c.items, steps...)
	}
	return nil
}

// pensInTurn returns the pens of the items in the order in which they are taken up.
func (c *collector) pensInTurn() (pens []int) {
	for _, s := range c.items {
		if !slices.Contains(pens, s.pen) {
			pens = append(pens, s.pen)
		}
	}
	c.sort(pens)
	return pens
}

// ordered returns what one pen draws in order, beginning near a point.
//
// A knife keeps to pieces and ranks. A pen is free, but for line types, which change
// as seldom as can be.
func (c *collector) ordered(items []item, from path.Point, outlines []path.Path) ([]item, error) {
	o := c.options
	place := func(s item) toolpath.Line {
		switch {
		case o.Tool == Knife:
			return toolpath.Line{Path: s.way(), Piece: s.piece.n, Rank: s.rank}
		case o.LineTypes:
			return toolpath.Line{Path: s.way(), Piece: int(s.role)}
		}
		return toolpath.Line{Path: s.way()}
	}
	// Lines are drawn once; lettering is left as it is.
	slices.SortStableFunc(items, func(a, b item) int {
		return cmp.Compare(min(1, len(a.strokes)), min(1, len(b.strokes)))
	})
	var lines []toolpath.Line
	for _, s := range items {
		if s.strokes == nil {
			lines = append(lines, place(s))
		}
	}
	parts := once(lines)
	for i, s := range items[len(lines):] {
		parts = append(parts, toolpath.Part{Line: place(s), Of: len(lines) + i})
	}
	left := make([]toolpath.Line, len(parts))
	for i, p := range parts {
		left[i] = p.Line
	}
	how := toolpath.Options{From: from, Kicks: -1}
	if o.Tool == Knife {
		how.Kicks, how.Mix, how.SmoothStarts = 0, o.Together, true
	}
	var out []item
	for _, step := range toolpath.Order(left, how) {
		s := items[parts[step.Line].Of]
		if s.line != nil {
			p := step.Path
			if o.Tool == Knife {
				var err error
				if p, err = o.cut(p, outlines); err != nil {
					return nil, fmt.Errorf("hpgl: %s: %w", s.piece.name, err)
				}
			}
			s.line = &p
		}
		if n := len(s.strokes); n > 0 && step.Path.Start() != s.strokes[0].Start() {
			// From its end.
			back := make([]path.Path, n)
			for k, p := range s.strokes {
				back[n-1-k] = p.Reverse()
			}
			s.strokes = back
		}
		out = append(out, s)
	}
	return out, nil
}

// once is [toolpath.Once], but for lines that lose next to nothing: the spike of some
// hundredths of a mm that rounding leaves in an outline should not open it.
func once(lines []toolpath.Line) (parts []toolpath.Part) {
	all := toolpath.Once(lines, twice)
	for len(all) > 0 {
		n, length := 0, 0.0
		for ; n < len(all) && all[n].Of == all[0].Of; n++ {
			length += all[n].Path.Length()
		}
		if whole := lines[all[0].Of]; length > 0 && whole.Path.Length()-length < leastShared {
			parts = append(parts, toolpath.Part{Line: whole, Of: all[0].Of})
		} else {
			parts = append(parts, all[:n]...)
		}
		all = all[n:]
	}
	return parts
}

// cut returns the path of a knife that cuts along p.
func (o Options) cut(p path.Path, outlines []path.Path) (path.Path, error) {
	if o.Overcut > 0 {
		p = toolpath.Overcut(p, o.Overcut)
	}
	if o.LeadIn > 0 {
		p, _ = toolpath.LeadIn(p, o.LeadIn, o.Blade, outlines...)
	}
	if o.Blade > 0 {
		return toolpath.Trailing(p, o.Blade, o.Swivel)
	}
	return p, nil
}

// way returns the path from where an item begins to where it ends: a line itself, a text
// from its first stroke to its last.
func (s item) way() path.Path {
	switch n := len(s.strokes); {
	case s.line != nil:
		return *s.line
	case n > 0:
		return path.Open(s.strokes[0].Start(), s.strokes[n-1].End())
	}
	return path.Open(s.text.At)
}

// end returns where the tool is when it has drawn the item.
func (s item) end() path.Point { return s.way().End() }
