package strip

import (
	"math"
	"sync"
	"time"
)

// board is where workers tell one another what they have found. What one of them finds is
// seen by the others at the same place of their own work, however fast each runs, so that
// the same effort gives the same layout.
type board struct {
	options  Options
	table    *table
	began    time.Time
	progress func(Progress)

	mutex   sync.Mutex
	changed sync.Cond
	work    []int // of each worker
	done    []bool
	posts   [][]post // of each worker, each better than the one before
	best    post
}

// post is a layout and how much work its finder had done.
type post struct {
	work   int
	length float64
	at     []spot
}

// spent returns the share of the effort that is spent.
func (b *board) spent(work int) float64 {
	if b.options.Time > 0 {
		return float64(time.Since(b.began)) / float64(b.options.Time) / (1 - closing)
	}
	pieces := max(1, float64(len(b.table.piece))/manyPieces)
	return float64(work) / (leastWork * math.Pow(4, float64(b.options.Level)) * pieces)
}

// tell says how far a worker has come.
func (b *board) tell(worker, work int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	if work/epoch != b.work[worker]/epoch {
		defer b.changed.Broadcast()
	}
	b.work[worker] = work
}

// finish says that a worker has no more to tell.
func (b *board) finish(worker int) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.done[worker] = true
	b.changed.Broadcast()
}

// post pins a layout.
func (b *board) post(worker, work int, length float64, at []spot) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	p := post{work, length, append([]spot{}, at...)}
	b.posts[worker] = append(b.posts[worker], p)
	// Of two that are as long, the first worker's, whichever came first.
	if length < b.best.length || length == b.best.length && worker == 0 {
		b.best = p
		if b.progress != nil {
			b.progress(Progress{
				Length: length, Density: b.table.area / b.table.height / length,
				Elapsed: time.Since(b.began), Done: min(1, b.spent(work)),
			})
		}
	}
}

// found returns the best that the other workers had found by the last full epoch of one's own work, if
// it is better than a length. It waits for those that have not come as far.
func (b *board) found(worker, work int, length float64) (best post, ok bool) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	// Others may wait for the same: they have to know how far this one is.
	b.work[worker] = work
	b.changed.Broadcast()
	by := work / epoch * epoch
	best.length = length
	for w := range b.posts {
		if w == worker {
			continue
		}
		for b.work[w] < by && !b.done[w] {
			b.changed.Wait()
		}
		for _, p := range b.posts[w] {
			if p.work <= by && p.length < best.length {
				best, ok = p, true
			}
		}
	}
	return best, ok
}

// close moves all pieces of the best layout together, with outlines as they are.
func (b *board) close(exact *table) {
	s := newState(exact, 0, 0)
	s.restore(b.best.at, b.best.length)
	s.settle()
	if length := s.far(); length < b.best.length {
		b.best = post{length: length, at: s.at}
	}
}
