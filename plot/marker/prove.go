package marker

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// Prove checks a layout against the job, as the package comment promises, on the true
// lines and arcs. The error says what is wrong, and where.
func (j *Job) Prove(l Layout) error {
	type laid struct {
		Place
		outline path.Path
		box     path.Box
		apart   float64
	}
	fault := func(format string, a ...any) error {
		return &Error{"the layout is not right: " + fmt.Sprintf(format, a...), "lay it again"}
	}
	if l.Cloth != j.Cloth {
		return fault("it is for another cloth")
	}
	for i, length := range l.Sections {
		if !(length >= 0) || j.Cloth.Longest > 0 && length > j.Cloth.Longest+Slack {
			return fault("section %d is %s long", i+1, mm(length))
		}
	}
	count := make([]int, len(j.parts))
	sections := make([][]laid, len(l.Sections))
	for _, p := range l.Places {
		k := j.partOf(p)
		if k < 0 {
			return fault("%s, %s, is not in the order", p.called(), p.Side)
		}
		if p.Section < 0 || p.Section >= len(l.Sections) {
			return fault("%s lies in section %d of %d", p.called(), p.Section+1, len(l.Sections))
		}
		if !p.At.Finite() || math.IsNaN(p.Turn) || math.IsInf(p.Turn, 0) {
			return fault("%s lies nowhere", p.called())
		}
		count[k]++
		shape := j.parts[k].shape
		if reason := j.misplaced(p, shape); reason != "" {
			return fault("%s lies %s", p.called(), reason)
		}
		outline := shape.Outline.Transform(p.motion(shape.Outline))
		x := laid{p, outline, outline.Bounds(), j.Pieces[j.parts[k].piece].Apart}
		if end := l.Sections[p.Section] - j.Cloth.End; x.box.Max.X > end+Slack {
			return fault("%s reaches %s beyond the end of its section", p.called(), mm(x.box.Max.X-end))
		}
		for _, y := range sections[p.Section] {
			keep := max(j.Cloth.Gap, x.apart, y.apart)
			if !x.box.Grow(keep).Meets(y.box) {
				continue
			}
			if d, over := distance(x.outline, y.outline); over || d < keep-Slack {
				where := x.box.Centre()
				if over {
					return fault("%s near (%.0f, %.0f) mm lies over %s", x.called(), where.X, where.Y, y.called())
				}
				return fault("%s near (%.0f, %.0f) mm is %.4f mm from %s, and %s are to be kept", x.called(), where.X, where.Y, d, y.called(), mm(keep))
			}
		}
		sections[p.Section] = append(sections[p.Section], x)
	}
	for k, q := range j.parts {
		if count[k] != q.demand {
			return fault("%s, %s, lies there %d times and not %d", j.Pieces[q.piece].called(), q.side, count[k], q.demand)
		}
	}
	return nil
}

// misplaced says why a place cannot be of the shape, by itself: beyond the cloth or its
// beginning, turned as it may not be, or off the fold. It is empty for one that can.
func (j *Job) misplaced(p Place, s Shape) string {
	c := j.Cloth
	outline := s.Outline.Transform(p.motion(s.Outline))
	box := outline.Bounds()
	from, height := c.usable()
	if p.Side == OnFold {
		from, height = 0, height+from
	}
	switch {
	case box.Min.X < c.End-Slack:
		return fmt.Sprintf("%s before the beginning of its section", mm(c.End-box.Min.X))
	case box.Min.Y < from-Slack:
		return fmt.Sprintf("%s too near to the lower side of the cloth", mm(from-box.Min.Y))
	case box.Max.Y > from+height+Slack:
		return fmt.Sprintf("%s too near to the upper side of the cloth", mm(box.Max.Y-from-height))
	}
	piece := j.Pieces[j.parts[j.partOf(p)].piece]
	if len(piece.Turns) > 0 {
		for _, t := range piece.Turns {
			if sameAngle(t, p.Turn) && p.Mirrored == (p.Side == Mirrored) {
				return ""
			}
		}
		return fmt.Sprintf("turned by %.4g degrees, which it may not be", degrees(p.Turn))
	}
	if p.Side == AsDrawn && p.Mirrored && !c.Alike || p.Side == Mirrored && !p.Mirrored && !c.Alike {
		return "with its wrong side up"
	}
	m := turned(p.Mirrored, p.Turn)
	if p.Side == OnFold {
		a, b := p.motion(s.Outline).Apply(s.Fold.A), p.motion(s.Outline).Apply(s.Fold.B)
		if max(math.Abs(a.Y), math.Abs(b.Y)) > straightFold+Slack {
			return fmt.Sprintf("with its edge %s off the fold", mm(max(math.Abs(a.Y), math.Abs(b.Y))))
		}
	}
	may := c.Tilt
	if p.Side == OnFold {
		may = foldAlong
	}
	along := m.ApplyVec(s.Along).Angle()
	off := math.Abs(along)
	switch c.Direction {
	case TwoWay:
		off = math.Abs(math.Remainder(along, math.Pi))
	case AnyWay:
		off = math.Abs(math.Remainder(along, math.Pi/2))
	}
	if off > may+1e3*sameTurn {
		return fmt.Sprintf("%.4g degrees off its grain", degrees(off))
	}
	return ""
}

// distance returns how near two outlines come to one another, and whether they share
// more than a rim of [Slack].
func distance(a, b path.Path) (d float64, over bool) {
	if d = a.Distance(b); d > Slack {
		return d, a.Contains(b.Start()) || b.Contains(a.Start())
	}
	// They touch, or seem to: one of them without its rim must be clear of the other.
	if a.Area() < 0 {
		a = a.Reverse()
	}
	inner, err := a.Offset(-Slack, path.Corner{})
	if err != nil {
		return d, true
	}
	for _, in := range inner {
		if in.Distance(b) == 0 || in.Contains(b.Start()) || b.Contains(in.Start()) {
			return d, true
		}
	}
	return d, false
}
