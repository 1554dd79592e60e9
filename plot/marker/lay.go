package marker

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"engrail/motif/path"
	"engrail/plot/marker/strip"
)

// Options say how a job is laid.
type Options struct {
	// Level is the effort from 1 to 9, each four times the one before, 0 for [DefaultLevel]. The
	// same job, level and seed give the same marker.
	Level int
	// Time is how long to search, 0 for by level.
	Time time.Duration
	Seed uint64
	// Start is a layout to go on from, whose locked places stay. What it does not have of
	// the order is added behind it, and what it has beyond that is left out. It may be nil.
	Start *Layout
	// BySize lays the sizes one after the other, in the order's order.
	BySize bool
	// Progress is told how far it has come, one call at a time; it may be left out.
	Progress func(Progress)
}

// DefaultLevel is the effort where none is given.
const DefaultLevel = 5

// Progress is how far a search has come.
type Progress struct {
	// Length is that of the cloth so far, and Use the share of it that pieces take; of
	// several sections or sizes those of the ones that have been laid.
	Length, Use float64
	Elapsed     time.Duration
	// Done is the share of the effort that is spent, from 0 to 1.
	Done float64
}

// Lay lays the job in as little length as it finds, and proves it. When ctx ends it
// returns the best so far. It is an error when what is locked cannot stay, and when the
// result does not pass [Job.Prove].
func (j *Job) Lay(ctx context.Context, o Options) (*Marker, error) {
	if o.Level == 0 {
		o.Level = DefaultLevel
	}
	if o.Level < 1 || o.Level > 9 {
		return nil, &Error{fmt.Sprintf("there is no effort %d", o.Level), "give an effort from 1 to 9"}
	}
	if o.Time < 0 {
		return nil, &Error{"the time to search is less than none", "give a time such as 30s"}
	}
	w := &work{job: j, Options: o, began: time.Now()}
	places, err := w.starting()
	if err != nil {
		return nil, err
	}
	batches := []batch{{demand: j.demand(), start: places}}
	if o.BySize {
		if batches, err = w.bySize(places); err != nil {
			return nil, err
		}
	}
	var sections []block
	for i, b := range batches {
		w.share(i, len(batches))
		laid, err := w.lay(ctx, b)
		if err != nil {
			return nil, err
		}
		for _, s := range laid {
			w.done(s)
			if n := len(sections); n > 0 && o.BySize {
				if joined := j.push(sections[n-1], s); j.sectionFits(joined.length) {
					sections[n-1] = joined
					continue
				}
			}
			sections = append(sections, s)
		}
	}
	m := &Marker{Job: j, Layout: Layout{Cloth: j.Cloth, Order: j.Order}}
	for i, s := range sections {
		m.Sections = append(m.Sections, decimals(s.length+2*j.Cloth.End, placeDecimals))
		for _, p := range s.places {
			p.Section = i
			m.Places = append(m.Places, p)
		}
	}
	j.number(m.Places)
	if err := j.Prove(m.Layout); err != nil {
		return nil, err
	}
	return m, w.kept(places, m.Layout)
}

// kept makes sure that what is locked lies where it was.
func (w *work) kept(start []placed, l Layout) error {
	for _, p := range start {
		if p.Locked && !slices.ContainsFunc(l.Places, func(q Place) bool {
			return q.Locked && q.Piece == p.Piece && q.Size == p.Size && q.Side == p.Side && q.Section == p.Section &&
				q.Mirrored == p.Mirrored && sameAngle(q.Turn, p.Turn) && q.At.Dist(p.At) <= Slack
		}) {
			return &Error{fmt.Sprintf("%s is locked at (%.1f, %.1f) mm and cannot stay there beside the others", p.called(), p.At.X, p.At.Y), "unlock it, or what is in its way"}
		}
	}
	return nil
}

// batch is what is searched at once, unless it has to be divided into sections.
type batch struct {
	demand []int // of each part
	start  []placed
}

// placed is a place with the part that lies there.
type placed struct {
	Place
	part int
}

// block is a batch that is laid in one section: its places, and the length that they take
// between the ends.
type block struct {
	places []Place
	length float64
}

// work is the laying of a job.
type work struct {
	job *Job
	Options
	began        time.Time
	from, to     float64 // the share of the effort that a batch has
	length, area float64 // of the cloth and the pieces of what is done
}

// done counts a block with what is done.
func (w *work) done(b block) {
	w.length += b.length + 2*w.job.Cloth.End
	for _, p := range b.places {
		q := w.job.parts[w.job.partOf(p)]
		w.area += float64(q.side.pieces()) * math.Abs(q.shape.Outline.Area())
	}
}

// share sets the share of the effort of one of several batches.
func (w *work) share(i, of int) {
	w.from, w.to = float64(i)/float64(of), float64(i+1)/float64(of)
}

// sectionFits reports whether a section may be so long between its ends.
func (j *Job) sectionFits(length float64) bool {
	return j.Cloth.Longest == 0 || length+2*j.Cloth.End <= j.Cloth.Longest
}

// bySize divides the job into a batch for each size.
func (w *work) bySize(start []placed) ([]batch, error) {
	j := w.job
	for _, p := range start {
		if p.Locked {
			return nil, &Error{fmt.Sprintf("%s is locked, and pieces that are grouped by size move together", p.called()), "lock nothing, or do not group by size"}
		}
	}
	var sizes []string
	for _, g := range j.Order {
		if !slices.Contains(sizes, g.Size) {
			sizes = append(sizes, g.Size)
		}
	}
	var all []batch
	for _, size := range sizes {
		b := batch{demand: make([]int, len(j.parts))}
		for i, q := range j.parts {
			if j.Pieces[q.piece].Size == size {
				b.demand[i] = q.demand
			}
		}
		first := math.Inf(1)
		for _, p := range start {
			if p.Size == size {
				b.start = append(b.start, p)
				first = min(first, float64(p.Section)*mostLength+p.At.X)
			}
		}
		for i := range b.start { // in a section of its own
			p := &b.start[i]
			p.At.X += float64(p.Section)*mostLength - first + j.Cloth.End
			p.Section = 0
		}
		all = append(all, b)
	}
	return all, nil
}

func (p Place) called() string { return Piece{Name: p.Piece, Size: p.Size}.called() }

// lay lays a batch in as few sections as hold it.
func (w *work) lay(ctx context.Context, b batch) ([]block, error) {
	j := w.job
	if j.Cloth.Longest == 0 {
		one, err := w.search(ctx, b, w.effort())
		return []block{one}, err
	}
	parts := w.given(b)
	if parts == nil {
		// Laid together in little time, they tell what is beside what, and into how many
		// sections they go.
		o := w.effort()
		o.Level, o.Time = min(layLevel, w.Level), o.Time/4
		together, err := w.search(ctx, b, o)
		if err != nil {
			return nil, err
		}
		least := max(1, int(math.Ceil(together.length/(j.Cloth.Longest-2*j.Cloth.End)-path.Coincident)))
		for n := least; ; n++ {
			parts = j.divide(together, n)
			if done, err := w.sections(ctx, parts); done != nil || err != nil {
				return done, err
			}
			if n >= len(together.places) {
				return nil, &Error{"the pieces do not go into sections of " + mm(j.Cloth.Longest), "give a greater length"}
			}
		}
	}
	done, err := w.sections(ctx, parts)
	if done == nil && err == nil {
		// The sections of the start were longer; they are made anew.
		b.start = nil
		return w.lay(ctx, b)
	}
	return done, err
}

// given returns the batches that the start's sections are, none without a start.
func (w *work) given(b batch) []batch {
	n := 0
	for _, p := range b.start {
		n = max(n, p.Section+1)
	}
	var all []batch
	for i := range n {
		one := batch{demand: make([]int, len(w.job.parts))}
		for _, p := range b.start {
			if p.Section == i {
				p.Section = 0
				one.start = append(one.start, p)
				one.demand[p.part]++
			}
		}
		if len(one.start) > 0 {
			all = append(all, one)
		}
	}
	return all
}

// divide returns n batches of about the same area, each of what lies together.
func (j *Job) divide(b block, n int) []batch {
	places := slices.Clone(b.places)
	slices.SortStableFunc(places, func(p, q Place) int { return cmp.Compare(p.At.X, q.At.X) })
	area := func(p Place) float64 { return math.Abs(j.parts[j.partOf(p)].shape.Outline.Area()) }
	whole := 0.0
	for _, p := range places {
		whole += area(p)
	}
	all := make([]batch, n)
	sum := 0.0
	for i, p := range places {
		// So that each has a piece at least.
		k := min(int((sum+area(p)/2)/whole*float64(n)), n-1, i)
		k = max(k, n-(len(places)-i))
		if all[k].demand == nil {
			all[k].demand = make([]int, len(j.parts))
		}
		all[k].demand[j.partOf(p)]++
		sum += area(p)
	}
	return slices.DeleteFunc(all, func(b batch) bool { return b.demand == nil })
}

// sections searches each of the batches; nothing when one of them becomes too long.
func (w *work) sections(ctx context.Context, parts []batch) ([]block, error) {
	from, to, length, area := w.from, w.to, w.length, w.area
	defer func() { w.from, w.to, w.length, w.area = from, to, length, area }()
	var all []block
	for i, b := range parts {
		w.from = from + (to-from)*float64(i)/float64(len(parts))
		w.to = from + (to-from)*float64(i+1)/float64(len(parts))
		one, err := w.search(ctx, b, w.effort())
		if err != nil {
			return nil, err
		}
		if !w.job.sectionFits(one.length) {
			return nil, nil
		}
		w.done(one)
		all = append(all, one)
	}
	return all, nil
}

// effort returns the search's options, with what is left of the time until the end of its
// share.
func (w *work) effort() strip.Options {
	o := strip.Options{Level: w.Level, Seed: w.Seed}
	if w.Time > 0 {
		o.Time = max(time.Millisecond, time.Duration(float64(w.Time)*w.to)-time.Since(w.began))
	}
	return o
}

// search lays a batch on one strip.
func (w *work) search(ctx context.Context, b batch, o strip.Options) (block, error) {
	j := w.job
	from, height := j.Cloth.usable()
	corner := path.Vec{X: j.Cloth.End, Y: from}
	problem := strip.Problem{Height: height}
	item := map[int]int{} // of a part
	var parts []int
	for i, n := range b.demand {
		if n == 0 {
			continue
		}
		q := &j.parts[i]
		item[i] = len(parts)
		parts = append(parts, i)
		problem.Items = append(problem.Items, strip.Item{
			Name: j.Pieces[q.piece].called(), Outline: q.polygon, Poses: slices.Clone(q.poses), Demand: n, Margin: j.margin(q),
		})
	}
	locked := map[strip.Placement]bool{}
	for _, p := range b.start {
		x := &problem.Items[item[p.part]]
		pose := slices.IndexFunc(x.Poses, func(s strip.Pose) bool { return s.Mirrored == p.Mirrored && sameAngle(s.Turn, p.Turn) })
		if pose < 0 {
			pose = len(x.Poses)
			x.Poses = append(x.Poses, strip.Pose{Mirrored: p.Mirrored, Turn: p.Turn, Low: p.Side == OnFold})
		}
		box := j.parts[p.part].shape.Outline.Transform(turned(p.Mirrored, p.Turn)).Bounds()
		at := strip.Placement{Item: item[p.part], Pose: pose, By: p.At.Sub(box.Min).Sub(corner)}
		if p.Side == OnFold {
			at.By.Y = -j.parts[p.part].lowest(x.Poses[pose])
		}
		if p.Locked {
			problem.Locked = append(problem.Locked, at)
			locked[at] = true
		}
		o.Start = append(o.Start, at)
	}
	area := j.area(b.demand)
	if w.Progress != nil {
		o.Progress = func(p strip.Progress) {
			length := w.length + p.Length + 2*j.Cloth.End
			w.Progress(Progress{
				Length: length, Use: (w.area + area) / (j.Cloth.Width * length),
				Elapsed: time.Since(w.began), Done: w.from + (w.to-w.from)*p.Done,
			})
		}
	}
	found, err := strip.Search(ctx, problem, o)
	if err != nil {
		return block{}, err
	}
	var out block
	for _, at := range found.Placements {
		q := &j.parts[parts[at.Item]]
		pose := problem.Items[at.Item].Poses[at.Pose]
		box := q.shape.Outline.Transform(turned(pose.Mirrored, pose.Turn)).Bounds()
		p := Place{
			Piece: j.Pieces[q.piece].Name, Size: j.Pieces[q.piece].Size, Side: q.side,
			Mirrored: pose.Mirrored, Turn: pose.Turn, Locked: locked[at],
		}
		p.At = rounded(box.Min.Add(at.By).Add(corner))
		if q.side == OnFold {
			p.At.Y = 0
		}
		out.places = append(out.places, p)
		out.length = max(out.length, p.At.X+box.Width()-j.Cloth.End)
	}
	return out, nil
}

// lowest returns the lowest y of the part's polygon in a pose.
func (q part) lowest(pose strip.Pose) float64 {
	low := math.Inf(1)
	for _, v := range q.polygon {
		low = min(low, pose.Apply(v).Y)
	}
	return low
}

func sameAngle(a, b float64) bool { return math.Abs(math.Remainder(a-b, 2*math.Pi)) < 1e3*sameTurn }

// rounded returns the point in the decimals of a place.
func rounded(p path.Point) path.Point {
	return path.Point{X: decimals(p.X, placeDecimals), Y: decimals(p.Y, placeDecimals)}
}

// decimals rounds to a number of decimals, without a sign on zero.
func decimals(x float64, n int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', n, 64), 64) // of what it has written
	return r + 0
}

// partOf returns the part that lies at a place, -1 for none.
func (j *Job) partOf(p Place) int {
	return slices.IndexFunc(j.parts, func(q part) bool {
		return q.side == p.Side && j.Pieces[q.piece].Name == p.Piece && j.Pieces[q.piece].Size == p.Size
	})
}

// starting returns the places of the start that are in the job, and behind them those
// that it is without.
func (w *work) starting() ([]placed, error) {
	j := w.job
	if w.Start == nil {
		return nil, nil
	}
	have := make([]int, len(j.parts))
	var all []placed
	last, end := 0, j.Cloth.End
	for _, p := range w.Start.Places {
		k := j.partOf(p)
		if k < 0 && p.Locked {
			return nil, &Error{fmt.Sprintf("%s is locked, %s, and the order has no such piece", p.called(), p.Side), "order it, or unlock it"}
		}
		if k < 0 || have[k] == j.parts[k].demand {
			continue
		}
		if reason := j.misplaced(p, j.parts[k].shape); reason != "" {
			if p.Locked {
				return nil, &Error{fmt.Sprintf("%s is locked %s", p.called(), reason), "unlock it, or give the cloth that it was laid on"}
			}
			continue // it comes behind the others
		}
		have[k]++
		all = append(all, placed{p, k})
		right := p.At.X + j.parts[k].shape.Outline.Transform(turned(p.Mirrored, p.Turn)).Bounds().Width()
		switch {
		case p.Section > last:
			last, end = p.Section, right
		case p.Section == last:
			end = max(end, right)
		}
	}
	if len(all) == 0 {
		return nil, nil
	}
	from, _ := j.Cloth.usable()
	for k, q := range j.parts {
		for range q.demand - have[k] {
			pose := q.poses[0]
			p := Place{Piece: j.Pieces[q.piece].Name, Size: j.Pieces[q.piece].Size, Side: q.side, Section: last, Mirrored: pose.Mirrored, Turn: pose.Turn}
			box := q.shape.Outline.Transform(turned(p.Mirrored, p.Turn)).Bounds()
			p.At = path.Point{X: end + 2*j.margin(&q) + containing, Y: from + box.Min.Y - q.lowest(pose)}
			if q.side == OnFold {
				p.At.Y = 0
			}
			end = p.At.X + box.Width()
			all = append(all, placed{p, k})
		}
	}
	return all, nil
}

// number counts the copies of each part along the cloth, and says to which garment they
// belong.
func (j *Job) number(places []Place) {
	slices.SortStableFunc(places, func(p, q Place) int {
		return cmp.Or(cmp.Compare(p.Section, q.Section), cmp.Compare(j.partOf(p), j.partOf(q)), cmp.Compare(p.At.X, q.At.X), cmp.Compare(p.At.Y, q.At.Y))
	})
	count := make([]int, len(j.parts))
	for i := range places {
		k := j.partOf(places[i])
		places[i].Copy = count[k] + 1
		places[i].Garment = count[k]/max(1, j.parts[k].perGarment) + 1
		count[k]++
	}
}
