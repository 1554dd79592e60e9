package strip

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
	"time"

	"engrail/motif/path"
)

// Search lays the items in as little length as it finds.
//
// It begins with the largest pieces, each as far to the start as there is room on some
// lines. Then it shrinks the strip step by step, moves what lies beyond back, and separates
// the pieces that overlap by it: one after the other goes where it overlaps
// least, and what overlaps for long weighs more and more (guided local search). Where that
// fails, it goes on from one of the best failures with two pieces swapped. For
// the last part the steps are small and the outlines finer; in the end everything is moved
// together as far as the outlines themselves allow.
//
// How much two outlines overlap is told from their no-fit polygon, as in the overlap
// minimisation of Imamichi, Yagiura and Nagamochi (2009) and Umetani and others (2009);
// shrinking, weights, places from random samples and what follows a failure are after Gardeyn,
// Vanden Berghe and Wauters (2025, arXiv:2509.13329), moves along lines after Egeblad, Nielsen
// and Odgaard (2007).
//
// When ctx ends, it returns the best layout so far. What is wrong with the problem or the
// options is an [*Error].
func Search(ctx context.Context, p Problem, o Options) (Layout, error) {
	began := time.Now()
	if o.Time < 0 || o.Time == 0 && (o.Level < 1 || o.Level > mostLevel) {
		return Layout{}, &Error{"there is no effort to search with", "give a level from 1 to 9, or a time above 0"}
	}
	t, err := newTables(p)
	if err != nil {
		return Layout{}, err
	}
	exact := t.exact
	start, err := startOf(exact, p, o.Start)
	if err != nil {
		return Layout{}, err
	}
	if err := exact.checkLocked(p); err != nil {
		return Layout{}, err
	}
	isLaid := start != nil && exact.isLaid(start)
	b := &board{done: make([]bool, workers), work: make([]int, workers), posts: make([][]post, workers), began: began, table: exact, progress: o.Progress, options: o}
	b.changed.L = &b.mutex
	b.best.length = math.Inf(1)
	var all sync.WaitGroup
	for w := range workers {
		all.Go(func() {
			defer b.finish(w)
			k := &worker{board: b, ctx: ctx, number: w, tables: t.finer}
			k.run(start, isLaid)
		})
	}
	all.Wait()
	b.close(t.close)
	l := Layout{Length: b.best.length}
	for i, q := range b.best.at {
		l.Placements = append(l.Placements, Placement{Item: int(exact.piece[i]), Pose: exact.shapes[q.shape].pose, By: path.Vec{X: q.x, Y: q.y}})
	}
	return l, nil
}

// startOf returns the spots of a layout to go on from; nil without one.
func startOf(t *table, p Problem, list []Placement) ([]spot, error) {
	if len(list) == 0 {
		return nil, nil
	}
	at := slices.Clone(t.start)
	free := make([][]int, len(p.Items)) // the pieces of each item that have no spot yet
	for i, item := range t.piece {
		if !t.locked[i] {
			free[item] = append(free[item], i)
		}
	}
	for _, l := range list {
		q, err := t.spot(p, l)
		if err != nil {
			return nil, err
		}
		if t.isLocked(l.Item, q) {
			continue
		}
		if len(free[l.Item]) == 0 {
			return nil, &Error{"the layout to go on from has more of " + p.Items[l.Item].Name + " than are demanded", "give the layout of the same pieces, or none"}
		}
		at[free[l.Item][0]], free[l.Item] = q, free[l.Item][1:]
	}
	for item, left := range free {
		if len(left) > 0 {
			return nil, &Error{"the layout to go on from has too few of " + p.Items[item].Name, "give the layout of the same pieces, or none"}
		}
	}
	return at, nil
}

// worker is one of the searches that run side by side.
type worker struct {
	*state
	board  *board
	ctx    context.Context
	number int
	tables []*table // with ever finer outlines
	best   []spot
	length float64 // of the best
	least  float64 // no strip is shorter
	asked  int     // after which work the others were last asked
	rival  float64 // the best length of theirs that is known
}

// run searches until the effort is spent.
func (w *worker) run(start []spot, isLaid bool) {
	w.state = newState(w.tables[0], w.board.options.Seed, uint64(w.number)+1)
	w.least, w.rival = w.bound(), math.Inf(1)
	w.begin(start, isLaid)
	w.keep()
	w.explore()
	w.refine()
}

// begin lays the pieces out for the first time, or as they lay.
func (w *worker) begin(start []spot, isLaid bool) {
	s := w.state
	if start != nil {
		s.restore(start, 0)
		s.length = s.far()
		if isLaid || s.separate(patience, w.quit) {
			return
		}
	}
	s.arrange(w.keep, func() bool { return w.quit() || w.board.spent(w.work) >= first })
}

// keep makes the layout as it is the best, and tells the others.
func (w *worker) keep() {
	w.state.length = w.far()
	w.length = w.state.length
	w.best = append(w.best[:0], w.at...)
	w.board.post(w.number, w.work, w.length, w.best)
}

// quit reports whether the search is to end; it is asked after each round.
func (w *worker) quit() bool {
	w.board.tell(w.number, w.work)
	return w.board.spent(w.work) >= 1 || w.ctx.Err() != nil
}

// look takes over what another worker has found, if it is better.
func (w *worker) look() {
	if p, ok := w.board.found(w.number, w.work, w.length); ok {
		w.length = p.length
		w.best = append(w.best[:0], p.at...)
		w.forget()
		w.restore(w.best, w.length)
	}
}

// isBeaten reports whether another worker has found a strip as short as the one that is tried, which
// is of no use any more then.
func (w *worker) isBeaten() bool {
	tried := w.state.length * (1 + rounding)
	if w.work/epoch != w.asked/epoch {
		w.asked = w.work
		if p, ok := w.board.found(w.number, w.work, tried); ok {
			w.rival = p.length
		}
	}
	return w.rival < tried
}

// failure is a layout in which pieces still overlap, and by how much.
type failure struct {
	at   []spot
	loss float64
}

// explore shrinks the strip in large steps. Where pieces cannot be separated, it tries smaller
// ones, and then goes on from one of the best failures of the same length, with two of the
// pieces swapped.
func (w *worker) explore() {
	isFine := func() bool { return w.quit() || w.board.spent(w.work) >= 1-last || w.length <= w.least*(1+rounding) }
	step := firstStep
	var failures []failure // the best first
	fresh := true
	for !isFine() {
		w.work += tryWork
		if fresh {
			w.shrink(max(w.least, w.length*(1-step)))
			failures = failures[:0]
		}
		until, rounds := w.board.spent(w.work)+mostShare, 0
		enough := func() bool {
			rounds++
			return isFine() || w.isBeaten() || rounds > patience && w.board.spent(w.work) > until
		}
		separated := w.separate(patience, enough) && w.far() < w.length
		if separated {
			w.keep()
			step = min(firstStep, step*longer)
		}
		if separated || w.isBeaten() {
			w.look()
			fresh = true
			continue
		}
		loss := w.total()
		w.forget()
		fresh = step > leastStep
		if fresh {
			step = max(leastStep, step*shorter)
			w.restore(w.best, w.length)
		} else {
			k, _ := slices.BinarySearchFunc(failures, loss, func(f failure, loss float64) int { return cmp.Compare(f.loss, loss) })
			failures = slices.Insert(failures, k, failure{slices.Clone(w.at), loss})
			failures = failures[:min(len(failures), mostFailures)]
			k = int(math.Abs(w.rng.NormFloat64()) * choice * float64(len(failures)))
			w.restore(failures[min(k, len(failures)-1)].at, w.state.length)
			w.swap()
		}
		if before := w.length; !isFine() {
			w.look()
			fresh = fresh || w.length < before
		}
	}
}

// refine shrinks the strip in ever smaller steps, with finer outlines, and finer ones still when no
// step is small enough.
func (w *worker) refine() {
	fine := w.tables[1:]
	w.use(fine[0])
	step := fineStep
	for !w.quit() && w.length > w.least*(1+rounding) {
		w.work += tryWork
		w.forget()
		w.restore(w.best, w.length)
		w.shrink(max(w.least, w.length*(1-step)))
		if w.separate(finePatience, func() bool { return w.quit() || w.isBeaten() }) && w.far() < w.length {
			w.settle()
			w.keep()
		} else if !w.isBeaten() {
			step *= finer
		}
		w.look()
		if step < leastFine {
			step = fineStep // by other random moves
			if len(fine) > 1 {
				fine = fine[1:]
				w.use(fine[0])
			}
		}
	}
}

// use goes on with outlines of other detail.
func (w *worker) use(t *table) {
	before := w.state
	w.state = newState(t, 0, 0)
	w.work, w.rng = before.work, before.rng
	w.restore(w.best, w.length)
}

// bound is a length that no layout is below: that of the area, of the longest piece, and
// of what is locked.
func (t *table) bound() float64 {
	least := t.area / t.height
	for i, item := range t.piece {
		shortest := math.Inf(1)
		for _, k := range t.poses[item] {
			shortest = min(shortest, t.shapes[k].box.Width())
		}
		if q := t.start[i]; t.locked[i] {
			shortest = q.x + t.shapes[q.shape].box.Max.X
		}
		least = max(least, shortest)
	}
	return least
}
