package pattern

import (
	"cmp"
	"math"
	"slices"

	"engrail/motif/path"
)

// grid finds points that lie near one another: numbered points in squares with
// sides of JoinGap.
type grid map[[2]int64][]int

func cell(p path.Point) [2]int64 {
	return [2]int64{int64(math.Floor(p.X / JoinGap)), int64(math.Floor(p.Y / JoinGap))}
}

func (g grid) add(p path.Point, i int) { g[cell(p)] = append(g[cell(p)], i) }

// near calls visit with the points in the squares about p, with some of them
// where they crowd.
func (g grid) near(p path.Point, visit func(int)) {
	c := cell(p)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			for n, i := range g[[2]int64{x, y}] {
				if n == mostNear {
					break
				}
				visit(i)
			}
		}
	}
}

// withoutRepeats leaves out lines that lie on another one from end to end.
func withoutRepeats(lines []*openLine) []*openLine {
	mids := make([]path.Point, len(lines))
	lengths := make([]float64, len(lines))
	about := grid{}
	repeated := make([]bool, len(lines))
	for i, l := range lines {
		r := path.NewRuler(l.path)
		lengths[i], mids[i] = r.Length(), r.At(r.Length()/2)
		about.near(mids[i], func(j int) {
			a, b := l, lines[j]
			same := a.end(0).Dist(b.end(0)) <= JoinGap && a.end(1).Dist(b.end(1)) <= JoinGap
			turned := a.end(0).Dist(b.end(1)) <= JoinGap && a.end(1).Dist(b.end(0)) <= JoinGap
			exact := max(a.end(0).Dist(b.end(0)), a.end(1).Dist(b.end(1))) <= speck || max(a.end(0).Dist(b.end(1)), a.end(1).Dist(b.end(0))) <= speck
			if exact && mids[i].Dist(mids[j]) <= speck && lengths[i] > 2*speck {
				repeated[i] = true
			}
			if (same || turned) && mids[i].Dist(mids[j]) <= JoinGap && math.Abs(lengths[i]-lengths[j]) <= JoinGap && lengths[i] > 4*JoinGap {
				repeated[i] = true
			}
		})
		if !repeated[i] {
			about.add(mids[i], i)
		}
	}
	kept := lines[:0]
	for i, l := range lines {
		if !repeated[i] {
			kept = append(kept, l)
		}
	}
	return withoutOverlaps(kept)
}

// withoutOverlaps leaves out what lies on another line: all of a line, or the part
// of it beyond an end of the other.
func withoutOverlaps(lines []*openLine) []*openLine {
	type measured struct {
		*openLine
		box    path.Box
		length float64
		ruler  *path.Ruler
		gone   bool
	}
	m := make([]*measured, len(lines))
	for i, l := range lines {
		m[i] = &measured{openLine: l, box: l.path.Bounds().Grow(quietGap), length: l.path.Length()}
	}
	byX := slices.Clone(m)
	slices.SortStableFunc(byX, func(a, b *measured) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	on := func(p path.Point, l *measured) (along float64, ok bool) {
		if !l.box.Contains(p) {
			return 0, false
		}
		if l.ruler == nil {
			l.ruler = path.NewRuler(l.path)
		}
		along, d := l.ruler.Nearest(p)
		return along, d <= quietGap
	}
	// lies reports whether the part of a line lies on another one.
	lies := func(part path.Path, l *measured) bool {
		const places = 7
		for _, q := range along(part, places) {
			if _, ok := on(q, l); !ok {
				return false
			}
		}
		return true
	}
	looks, trials := 0, 0
	// clip takes from the line a what lies on b, where that is one of its ends.
	clip := func(a, b *measured) {
		_, start := on(a.end(0), b)
		_, finish := on(a.end(1), b)
		if !start && !finish {
			return
		}
		if start && finish {
			a.gone = lies(a.path, b)
			return
		}
		length := a.length
		for end := range 2 {
			at, ok := on(b.end(end), a)
			if !ok || at <= JoinGap || at >= length-JoinGap {
				continue
			}
			from, to := 0.0, at
			if finish {
				from, to = at, length
			}
			if part := a.ruler.Sub(from, to); !lies(part, b) {
				continue
			}
			if start {
				a.path = a.ruler.Sub(at, length)
			} else {
				a.path = a.ruler.Sub(0, at)
			}
			a.length = a.path.Length()
			a.box, a.ruler = a.path.Bounds().Grow(quietGap), nil
			return
		}
	}
	for i, a := range byX {
		for _, b := range byX[i+1:] {
			if looks++; looks > mostLooks || trials > mostTrials || b.box.Min.X > a.box.Max.X || a.gone {
				break
			}
			if b.gone || !a.box.Meets(b.box) {
				continue
			}
			short, long := a, b
			if short.length > long.length {
				short, long = b, a
			}
			if short.length > 4*quietGap {
				trials++
				clip(short, long)
			}
		}
	}
	kept := lines[:0]
	for _, l := range m {
		if !l.gone {
			kept = append(kept, l.openLine)
		}
	}
	return kept
}
