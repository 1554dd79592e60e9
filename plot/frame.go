package plot

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"engrail/motif/path"
)

// Frame is a part of a drawing that a device reaches at once. Frames are
// counted in rows from below and columns from the left, both from 0.
type Frame struct {
	Row, Column int
	// Drawing is the part, moved to the right of and above the origin: At is
	// where its origin lies in the whole drawing.
	Drawing Drawing
	At      path.Point
	// Marks are the numbers of the register marks on it.
	Marks []int
}

// Frames cuts a drawing in frames of at most the width and height in mm, of
// which 0 is without end. A drawing that fits is one frame without marks.
//
// Frames join edge to edge. On every edge between two of them stand two register
// marks, crosses with arms of 5 mm that both frames show whole, with the number of the mark and of the frame:
// laid on one another they join the frames. They have the role that is given,
// and stand clear of the drawing's lines and outside of its cut outlines where
// there is room. Lines end at the edge; a text stands whole on the frame that
// has its middle, or is nearest to that, moved into it. Sizes are those of the lines. A frame with nothing on it is left out.
//
// A drawing without lines, one with numbers that are not finite, a size below
// 100 mm, and more than 10,000 frames are errors.
func Frames(d Drawing, width, height float64, mark Role) ([]Frame, error) {
	if _, err := d.Extent(); err != nil {
		return nil, fmt.Errorf("plot: %w", err)
	}
	box := d.Bounds()
	columns, err := frameCount("wide", box.Width(), width)
	if err != nil {
		return nil, err
	}
	rows, err := frameCount("high", box.Height(), height)
	if err != nil {
		return nil, err
	}
	if columns*rows > maxFrames {
		return nil, fmt.Errorf("plot: the drawing of %.0f x %.0f mm has more than %d frames of %.0f x %.0f mm; take larger ones", box.Width(), box.Height(), maxFrames, width, height)
	}
	if columns == 1 && rows == 1 {
		m := path.Translation(path.Point{}.Sub(box.Min))
		return []Frame{{Drawing: d.Transform(m), At: box.Min}}, nil
	}
	// Grown, so that what lies along its border is inside.
	f := framer{box: box.Grow(roundOff), rows: rows, columns: columns, mark: mark}
	f.sort(d)
	return f.frames(d), nil
}

func frameCount(word string, size, limit float64) (int, error) {
	switch {
	case limit == 0 || size <= limit+roundOff:
		return 1, nil
	case !(limit >= leastFrame):
		return 0, fmt.Errorf("plot: frames %.0f mm %s are too small; give %d mm or more", limit, word, leastFrame)
	}
	n := math.Ceil(size/(limit-2*frameMargin) - roundOff)
	if n > maxFrames {
		return 0, errors.New("plot: the drawing is too large for its frames; take larger ones")
	}
	return int(n), nil
}

// framer cuts a drawing in rows and columns of equal size.
type framer struct {
	box           path.Box
	rows, columns int
	mark          Role
	cuts          []path.Path    // closed cut lines
	walls         []path.Segment // of all lines
}

// tile returns what a frame shows of the drawing.
func (f *framer) tile(row, column int) path.Box {
	// Neighbours have the very same number for the edge between them.
	edge := func(row, column int) path.Point {
		return path.Point{
			X: f.box.Min.X + f.box.Width()*float64(column)/float64(f.columns),
			Y: f.box.Min.Y + f.box.Height()*float64(row)/float64(f.rows),
		}
	}
	return path.Box{Min: edge(row, column), Max: edge(row+1, column+1)}
}

// sort keeps what register marks have to be clear of.
func (f *framer) sort(d Drawing) {
	for _, g := range d.Groups {
		g.Walk(func(g Group) {
			for _, l := range g.Lines {
				if l.Role == Cut && l.Path.Closed {
					f.cuts = append(f.cuts, l.Path)
				}
				for i := range l.Path.Segments() {
					f.walls = append(f.walls, l.Path.Segment(i))
				}
			}
			for _, t := range g.Texts {
				c := t.Corners()
				f.walls = append(f.walls, path.Line(c[0], c[2]), path.Line(c[1], c[3]))
			}
		})
	}
}

// registerMark is a place on the edge between two frames.
type registerMark struct {
	number int
	at     path.Point
	frames [2][2]int // row and column of both
}

// marks places two on each edge between frames.
func (f *framer) marks() []registerMark {
	var all []registerMark
	add := func(from, to path.Point, a, b [2]int) {
		in := to.Sub(from).Unit().Mul(min(frameMargin, from.Dist(to)/2))
		for _, ends := range [][2]path.Point{{from.Add(in), from.Lerp(to, 0.4)}, {to.Add(in.Neg()), from.Lerp(to, 0.6)}} {
			all = append(all, registerMark{number: len(all) + 1, at: f.clear(ends[0], ends[1]), frames: [2][2]int{a, b}})
		}
	}
	for row := range f.rows {
		for column := range f.columns {
			t := f.tile(row, column)
			if column+1 < f.columns {
				add(path.Point{X: t.Max.X, Y: t.Min.Y}, t.Max, [2]int{row, column}, [2]int{row, column + 1})
			}
			if row+1 < f.rows {
				add(path.Point{X: t.Min.X, Y: t.Max.Y}, t.Max, [2]int{row, column}, [2]int{row + 1, column})
			}
		}
	}
	return all
}

// clear returns the first place from one point to another that is clear of all
// lines and outside of every cut outline, or else the one with the most room.
func (f *framer) clear(from, to path.Point) path.Point {
	best, most := from, math.Inf(-1)
	for k := range markPlaces {
		at := from.Lerp(to, float64(k)/float64(markPlaces-1))
		room := markRoom
		for _, w := range f.walls {
			_, d := w.Nearest(at)
			room = min(room, d)
		}
		if slices.ContainsFunc(f.cuts, func(c path.Path) bool { return c.Contains(at) }) {
			room -= 2 * markRoom
		}
		if room > most {
			best, most = at, room
		}
	}
	return best
}

func (f *framer) frames(d Drawing) []Frame {
	marks := f.marks()
	var all []Frame
	for row := range f.rows {
		for column := range f.columns {
			t := f.tile(row, column)
			part := Drawing{Title: d.Title}
			drawn := false
			for _, g := range d.Groups {
				in, some := f.within(g, t)
				drawn = drawn || some
				part.Groups = append(part.Groups, in)
			}
			if drawn {
				all = append(all, Frame{Row: row, Column: column, Drawing: part})
			}
		}
	}
	for i := range all {
		t := f.tile(all[i].Row, all[i].Column)
		g := Group{ID: "register-marks", Label: "register marks"}
		for _, m := range marks {
			if !slices.Contains(m.frames[:], [2]int{all[i].Row, all[i].Column}) {
				continue
			}
			all[i].Marks = append(all[i].Marks, m.number)
			g.Lines = append(g.Lines, Line{Role: f.mark, Path: path.Open(m.at.Add(path.Vec{X: -markArm}), m.at.Add(path.Vec{X: markArm}))},
				Line{Role: f.mark, Path: path.Open(m.at.Add(path.Vec{Y: -markArm}), m.at.Add(path.Vec{Y: markArm}))})
			g.Texts = append(g.Texts, f.lettered(m.at, t, fmt.Sprintf("mark %d, frame %d of %d", m.number, i+1, len(all)), fmt.Sprintf("mark %d", m.number)))
		}
		all[i].Drawing.Groups = append(all[i].Drawing.Groups, g)
		all[i].At = t.Min.Add(path.Vec{X: -frameMargin * sign(all[i].Column), Y: -frameMargin * sign(all[i].Row)})
		if b := g.Bounds(); !b.Empty() { // the arms reach beyond an edge that is shorter
			all[i].At = path.Point{X: min(all[i].At.X, b.Min.X), Y: min(all[i].At.Y, b.Min.Y)}
		}
		all[i].Drawing = all[i].Drawing.Transform(path.Translation(path.Point{}.Sub(all[i].At)))
	}
	return all
}

// lettered returns the lettering beside a mark, inside of the tile: the first of the
// texts that has room on some side, or the last one where it has most.
func (f *framer) lettered(at path.Point, tile path.Box, texts ...string) (best Text) {
	const height = 3
	for _, s := range texts {
		most := math.Inf(-1)
		for _, out := range [...]path.Vec{{X: markArm + 2, Y: 2}, {X: -markArm - 2, Y: 2}, {X: markArm + 2, Y: -2 - height}, {X: -markArm - 2, Y: -2 - height}} {
			t := Text{At: at.Add(out), Height: height, String: s}
			if out.X < 0 {
				t.Align = Right
			}
			t = into(t, tile)
			c := t.Corners()
			room := markRoom
			for k := range 9 {
				p := c[0].Lerp(c[3], 0.5).Lerp(c[1].Lerp(c[2], 0.5), float64(k)/8)
				for _, w := range f.walls {
					_, d := w.Nearest(p)
					room = min(room, d)
				}
				room = min(room, at.Dist(p)-markArm) // nor over the mark's own arms
			}
			if room > most {
				best, most = t, room
			}
		}
		if most > height {
			break
		}
	}
	return best
}

// sign is 1 for what has a neighbour before it, 0 for the first.
func sign(n int) float64 { return float64(min(n, 1)) }

// within returns the part of a group in a tile, and whether there is any.
func (f *framer) within(g Group, tile path.Box) (Group, bool) {
	some := false
	lines := make([]Line, 0, len(g.Lines))
	for _, l := range g.Lines {
		for _, p := range clip(l.Path, tile) {
			part := l
			part.Path = p
			lines = append(lines, part)
			some = true
		}
	}
	var texts []Text
	for _, t := range g.Texts {
		c := t.Corners()
		middle := c[0].Lerp(c[2], 0.5)
		middle.X = min(max(middle.X, f.box.Min.X), f.box.Max.X-roundOff)
		middle.Y = min(max(middle.Y, f.box.Min.Y), f.box.Max.Y-roundOff)
		if holds(tile, middle) {
			texts = append(texts, into(t, tile))
			some = true
		}
	}
	groups := make([]Group, len(g.Groups))
	for i, in := range g.Groups {
		part, any := f.within(in, tile)
		groups[i] = part
		some = some || any
	}
	g.Lines, g.Texts, g.Groups = lines, texts, groups
	return g, some
}

// into returns the text moved so that it lies in the tile, as far as it fits.
func into(t Text, tile path.Box) Text {
	b := path.EmptyBox()
	for _, c := range t.Corners() {
		b = b.Include(c)
	}
	shift := func(lo, hi, least, most float64) float64 { return max(min(0, most-hi), least-lo) }
	t.At = t.At.Add(path.Vec{X: shift(b.Min.X, b.Max.X, tile.Min.X, tile.Max.X), Y: shift(b.Min.Y, b.Max.Y, tile.Min.Y, tile.Max.Y)})
	return t
}

// holds reports whether a point is in the tile. Its upper and right edge belong to
// the next one.
func holds(b path.Box, p path.Point) bool {
	return p.X >= b.Min.X && p.X < b.Max.X && p.Y >= b.Min.Y && p.Y < b.Max.Y
}

// clip returns the parts of a path in a box, whole if it is all inside.
func clip(p path.Path, box path.Box) []path.Path {
	b := p.Bounds()
	switch {
	case b.Empty() || !b.Meets(box):
		return nil
	case holds(box, b.Min) && holds(box, b.Max):
		return []path.Path{p}
	}
	corner := [4]path.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}
	var parts []path.Path
	var part []path.Segment
	end := func() {
		if len(part) > 0 {
			parts = append(parts, path.FromSegments(part...))
			part = nil
		}
	}
	for i := range p.Segments() {
		s := p.Segment(i)
		at := []float64{0, 1}
		for k := range corner {
			h := s.Intersect(path.Line(corner[k], corner[(k+1)%4]))
			for _, x := range h.At[:h.N] {
				at = append(at, x.T)
			}
		}
		slices.Sort(at)
		for k := range len(at) - 1 {
			if at[k+1]-at[k] <= 0 {
				continue
			}
			if sub := s.Sub(at[k], at[k+1]); holds(box, s.At((at[k]+at[k+1])/2)) {
				part = append(part, sub)
			} else {
				end()
			}
		}
	}
	last := part
	end()
	// A closed path that starts inside goes on where it ends.
	if n := len(parts); p.Closed && n > 1 && len(last) > 0 && parts[0].Start() == p.Start() {
		parts[0] = path.Join(roundOff, parts[n-1], parts[0])
		parts = parts[:n-1]
	}
	return parts
}

// Transform returns the drawing moved, group by group as [Group.Transform].
func (d Drawing) Transform(m path.Similarity) Drawing {
	groups := make([]Group, len(d.Groups))
	for i, g := range d.Groups {
		groups[i] = g.Transform(m)
	}
	d.Groups = groups
	return d
}
