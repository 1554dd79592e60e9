package toolpath

import (
	"math"
	"math/rand/v2"
	"slices"

	"engrail/motif/path"
)

// tour is an order of lines that is being improved. It is a ring: after the
// last line comes the gap, a line of its own that stands for what is outside,
// from the place to which the tool goes on to the place that it comes from. So
// a ring run the other way has the same travel, and of the two parts into which
// a change cuts it the shorter can be turned round.
//
// The places where a line may be entered or left are its sites: the ends of an
// open line, vertices of a closed one, which is left where it is entered.
type tour struct {
	n     int          // lines; the gap is line n
	at    []path.Point // sites, line by line
	owner []int32      // the line of each site
	alike []int32      // the same for all sites of a closed line, else different
	first []int32      // line i has the sites first[i] up to first[i+1]
	loop  []bool       // lines that are entered and left at one site
	// nowhere is the gap's site to which everything is at distance 0, when it
	// does not matter where the tool goes on to; otherwise -1.
	nowhere int32

	in, out    []int32 // the sites where each line is entered and left
	order, pos []int32 // the lines round the ring, and the place of each

	tree   tree
	near   [][]beside // sites near each site, nearest first
	around [][]pair   // what is near a closed line anywhere

	queue  []int32 // lines round which a gain may be found, a ring
	head   int
	length int
	queued []bool

	log     []change // what has been changed since the last mark
	logging bool

	slab []beside // room for more of near
	// Room that is used again.
	scratch, sorted nearest
	pairsRoom       []pair
}

// beside is a site near another, at that distance.
type beside struct {
	dist float64
	site int32
}

// pair is a site of a line and one of another, and the distance between them.
type pair struct {
	own, other int32
	dist       float64
}

// change is a part of the ring turned round, from place a to place b, or when
// site is set the line a entered at b before.
type change struct {
	a, b int32
	site bool
}

// newTour returns the tour of lines with those sites, in the given order. The
// lines with one site, and those with loop set, are entered and left at one.
func newTour(sites [][]path.Point, loop []bool) *tour {
	n, total := len(sites), 2
	for _, s := range sites {
		total += len(s)
	}
	t := &tour{
		n:  n,
		at: make([]path.Point, 0, total), owner: make([]int32, 0, total), alike: make([]int32, 0, total),
		first: make([]int32, n+2), loop: make([]bool, n+1),
		in: make([]int32, n+1), out: make([]int32, n+1),
		order: make([]int32, n+1), pos: make([]int32, n+1),
		near: make([][]beside, total), around: make([][]pair, n+1),
		queue: make([]int32, n+1), queued: make([]bool, n+1),
	}
	copy(t.loop, loop)
	for i, s := range sites {
		t.first[i] = int32(len(t.at))
		for range s {
			t.owner = append(t.owner, int32(i))
			if t.loop[i] {
				t.alike = append(t.alike, int32(i))
			} else {
				t.alike = append(t.alike, int32(n+len(t.alike)))
			}
		}
		t.at = append(t.at, s...)
		t.in[i] = t.first[i]
		t.out[i] = int32(len(t.at) - 1)
		if t.loop[i] {
			t.out[i] = t.in[i]
		}
	}
	t.first[n] = int32(len(t.at))
	t.first[n+1] = t.first[n] + 2
	t.at = append(t.at, path.Point{}, path.Point{})
	t.owner = append(t.owner, int32(n), int32(n))
	for i := range t.order {
		t.order[i], t.pos[i] = int32(i), int32(i)
	}
	t.out[n], t.in[n] = t.first[n], t.first[n]+1
	t.nowhere = t.in[n]
	t.tree.build(t.at, t.owner, t.alike)
	return t
}

// join sets where the tool comes from and where it goes on to, if that
// matters. It reports whether that is new.
func (t *tour) join(from, to path.Point, matters bool) bool {
	f := t.first[t.n]
	nowhere := f + 1
	if matters {
		nowhere = -1
	} else {
		to = path.Point{}
	}
	if t.at[f] == from && t.at[f+1] == to && t.nowhere == nowhere {
		return false
	}
	t.at[f], t.at[f+1], t.nowhere = from, to, nowhere
	t.near[f], t.near[f+1] = nil, nil
	t.push(int32(t.n))
	t.push(t.next(int32(t.n)))
	t.push(t.prev(int32(t.n)))
	return true
}

func (t *tour) dist(a, b int32) float64 {
	if a == t.nowhere || b == t.nowhere {
		return 0
	}
	p, q := &t.at[a], &t.at[b]
	dx, dy := p.X-q.X, p.Y-q.Y
	return math.Sqrt(dx*dx + dy*dy)
}

func (t *tour) next(a int32) int32 {
	i := int(t.pos[a]) + 1
	if i == len(t.order) {
		i = 0
	}
	return t.order[i]
}

func (t *tour) prev(a int32) int32 {
	i := int(t.pos[a]) - 1
	if i < 0 {
		i = len(t.order) - 1
	}
	return t.order[i]
}

// travel returns the travel of the whole ring.
func (t *tour) travel() float64 {
	sum := 0.0
	last := t.order[len(t.order)-1]
	for _, a := range t.order {
		sum += t.dist(t.out[last], t.in[a])
		last = a
	}
	return sum
}

// lines returns the lines in order, and where each is entered and left is in
// t.in and t.out: the ring is turned so that it begins behind the gap, in the
// direction of travel.
func (t *tour) lines() []int32 {
	n := int32(t.n)
	if t.out[n] != t.first[n] {
		slices.Reverse(t.order)
		for i := range t.in {
			t.in[i], t.out[i] = t.out[i], t.in[i]
		}
		for i, a := range t.order {
			t.pos[a] = int32(i)
		}
	}
	if p := int(t.pos[n]); p != t.n {
		turned := make([]int32, 0, len(t.order))
		turned = append(append(turned, t.order[p+1:]...), t.order[:p+1]...)
		t.order = turned
		for i, a := range t.order {
			t.pos[a] = int32(i)
		}
	}
	return t.order[:t.n]
}

// set puts the lines in an order, each entered at a site.
func (t *tour) set(order, in []int32) {
	for i, a := range order {
		t.order[i], t.pos[a] = a, int32(i)
		t.enter(a, in[i])
	}
	n := int32(t.n)
	t.order[n], t.pos[n] = n, n
	t.in[n], t.out[n] = t.first[n]+1, t.first[n]
}

// enter sets where a line is entered, and with that where it is left.
func (t *tour) enter(a, site int32) {
	t.in[a], t.out[a] = site, site
	if !t.loop[a] {
		t.out[a] = t.first[a] + t.first[a+1] - 1 - site
	}
}

// greedy puts the lines in order by always going on to the nearest site.
func (t *tour) greedy() {
	order, in := make([]int32, 0, t.n), make([]int32, 0, t.n)
	t.tree.revive()
	p := t.at[t.first[t.n]]
	for range t.n {
		s := t.tree.nearestLive(p)
		a := t.owner[s]
		order, in = append(order, a), append(in, s)
		t.enter(a, s)
		p = t.at[t.out[a]]
		for k := t.first[a]; k < t.first[a+1]; k++ {
			t.tree.remove(k)
		}
	}
	t.set(order, in)
}

// reverse turns the part of the ring from line u on to line v round, or what is
// outside of it, which comes to the same but runs the other way; it reports
// whether it did that.
func (t *tour) reverse(u, v int32) (mirrored bool) {
	n := int32(len(t.order))
	i, j := t.pos[u], t.pos[v]
	count := j - i + 1
	if count <= 0 {
		count += n
	}
	if 2*count > n {
		i, j, count = j+1, i-1, n-count
		if i == n {
			i = 0
		}
		if j < 0 {
			j = n - 1
		}
		mirrored = true
	}
	if count > 0 {
		t.turn(i, j, count)
		if t.logging {
			t.log = append(t.log, change{a: i, b: j})
		}
	}
	return mirrored
}

// turn turns the count places from i round to j round.
func (t *tour) turn(i, j, count int32) {
	order, pos, in, out := t.order, t.pos, t.in, t.out
	n := int32(len(order))
	for ; count > 1; count -= 2 {
		a, b := order[i], order[j]
		order[i], order[j] = b, a
		pos[a], pos[b] = j, i
		in[a], out[a] = out[a], in[a]
		in[b], out[b] = out[b], in[b]
		if i++; i == n {
			i = 0
		}
		if j--; j < 0 {
			j = n - 1
		}
	}
	if count == 1 {
		a := order[i]
		in[a], out[a] = out[a], in[a]
	}
}

// restart has a closed line entered at a site.
func (t *tour) restart(a, site int32) {
	if t.logging {
		t.log = append(t.log, change{a: a, b: t.in[a], site: true})
	}
	t.in[a], t.out[a] = site, site
}

// move puts the lines from f on to l between u and the line after it, v, either
// in their direction or turned round. u is not one of them.
func (t *tour) move(f, l, u int32, turned bool) {
	q := t.next(l)
	if u == t.prev(f) {
		if turned {
			t.reverse(f, l)
		}
		return
	}
	// p [f..l] [q..u] v becomes p [u..q] [l..f] v, then its two parts are turned.
	mirrored := t.reverse(f, u)
	part := func(a, b int32) {
		if mirrored {
			a, b = b, a
		}
		if t.reverse(a, b) {
			mirrored = !mirrored
		}
	}
	part(u, q)
	if !turned {
		part(l, f)
	}
}

// undo takes back what it has noted.
func (t *tour) undo() {
	n := int32(len(t.order))
	for k := len(t.log) - 1; k >= 0; k-- {
		c := t.log[k]
		if c.site {
			t.in[c.a], t.out[c.a] = c.b, c.b
			continue
		}
		count := c.b - c.a + 1
		if count <= 0 {
			count += n
		}
		t.turn(c.a, c.b, count)
	}
	t.log = t.log[:0]
}

func (t *tour) push(a int32) {
	if t.queued[a] {
		return
	}
	t.queued[a] = true
	i := t.head + t.length
	if i >= len(t.queue) {
		i -= len(t.queue)
	}
	t.queue[i] = a
	t.length++
}

func (t *tour) pop() int32 {
	a := t.queue[t.head]
	if t.head++; t.head == len(t.queue) {
		t.head = 0
	}
	t.length--
	t.queued[a] = false
	return a
}

func (t *tour) pushAll(lines ...int32) {
	for _, a := range lines {
		t.push(a)
	}
}

// settle makes changes that shorten the travel, of those kinds, until
// none of them is left round the lines in the queue. It returns the gain.
func (t *tour) settle(kinds kind) float64 {
	sum := 0.0
	for t.length > 0 {
		a := t.pop()
		gain := 0.0
		if kinds&begins != 0 && t.loop[a] {
			gain = t.begin(a)
		}
		if gain == 0 && kinds&crosses != 0 {
			gain = t.cross(a)
		}
		if gain == 0 && kinds&inserts != 0 {
			gain = t.insert(a)
		}
		if gain == 0 && kinds&replaces != 0 && t.loop[a] {
			gain = t.replace(a)
		}
		if gain > 0 {
			sum += gain
			t.push(a)
		}
	}
	return sum
}

// kind is a set of kinds of changes.
type kind uint8

const (
	begins kind = 1 << iota
	crosses
	inserts
	replaces
	everything = begins | crosses | inserts | replaces
)

// improve is settle with all kinds of changes, or with so few lines that this
// is possible, finds the best order. It returns the gain.
func (t *tour) improve() float64 {
	if t.length == 0 {
		return 0
	}
	if gain, done := t.exact(); done {
		for t.length > 0 {
			t.pop()
		}
		return gain
	}
	return t.settle(everything)
}

// begin enters a closed line where that is best between its neighbours.
func (t *tour) begin(a int32) float64 {
	if t.first[a+1]-t.first[a] < 2 {
		return 0
	}
	p, q := t.out[t.prev(a)], t.in[t.next(a)]
	now := t.dist(p, t.in[a]) + t.dist(t.in[a], q)
	site, d := t.between(a, p, q)
	if gain := now - d; gain > noGain {
		t.restart(a, site)
		t.push(t.prev(a))
		t.push(t.next(a))
		return gain
	}
	return 0
}

// between returns the site of a closed line that is best to go to from the site
// p when q is next, and the travel.
func (t *tour) between(a, p, q int32) (int32, float64) {
	best, site := math.Inf(1), t.in[a]
	for s := t.first[a]; s < t.first[a+1]; s++ {
		if d := t.dist(p, s) + t.dist(s, q); d < best {
			best, site = d, s
		}
	}
	return site, best
}

// cross replaces the way from the line a to the next, or the one before it to
// a, and another way, by two that are shorter together: all between them is
// turned round.
func (t *tour) cross(a int32) float64 {
	// Forward: leave a for the line j, and go back from there.
	s, b := t.out[a], t.next(a)
	if s != t.nowhere {
		was := t.dist(s, t.in[b])
		for _, w := range t.nearOf(s) {
			d, c := w.dist, w.site
			if d >= was {
				break
			}
			j := t.owner[c]
			k := t.next(j)
			gain := was - d + t.dist(t.out[j], t.in[k]) - t.dist(t.in[b], t.in[k])
			switch {
			case c == t.out[j]:
			case t.loop[j] && j != b:
				o := t.out[t.prev(j)]
				gain += t.dist(o, t.in[j]) - t.dist(o, c)
			default:
				continue
			}
			if gain > noGain {
				t.push(t.prev(j))
				if c != t.out[j] {
					t.restart(j, c)
				}
				t.push(b)
				t.push(j)
				t.push(k)
				t.reverse(b, j)
				return gain
			}
		}
	}
	// Backward: come to a from the line j, to which everything back from a leads.
	s, b = t.in[a], t.prev(a)
	if s != t.nowhere {
		was := t.dist(t.out[b], s)
		for _, w := range t.nearOf(s) {
			d, c := w.dist, w.site
			if d >= was {
				break
			}
			j := t.owner[c]
			k := t.prev(j)
			gain := was - d + t.dist(t.out[k], t.in[j]) - t.dist(t.out[b], t.out[k])
			switch {
			case c == t.in[j]:
			case t.loop[j] && j != b:
				o := t.in[t.next(j)]
				gain += t.dist(t.out[j], o) - t.dist(c, o)
			default:
				continue
			}
			if gain > noGain {
				t.push(t.next(j))
				if c != t.in[j] {
					t.restart(j, c)
				}
				t.push(b)
				t.push(j)
				t.push(k)
				t.reverse(a, k)
				return gain
			}
		}
	}
	return 0
}

// insert moves up to longestInsert lines in a row, of which a is the first or
// the last, to where that end of them is beside a site near it.
func (t *tour) insert(a int32) float64 {
	n := len(t.order)
	for side := range 2 {
		s := t.in[a]
		if side == 1 {
			s = t.out[a]
		}
		if s == t.nowhere {
			continue
		}
		list := t.nearOf(s)
		f, l := a, a
		for count := 1; count <= longestInsert && count+3 <= n; count++ {
			if count > 1 {
				if side == 0 {
					l = t.next(l)
				} else {
					f = t.prev(f)
				}
			}
			p, q := t.prev(f), t.next(l)
			e := t.out[l] // the end that is not s
			if side == 1 {
				e = t.in[f]
			}
			out := t.dist(t.out[p], t.in[f]) + t.dist(t.out[l], t.in[q]) - t.dist(t.out[p], t.in[q])
			if out <= noGain {
				continue
			}
			reach := t.dist(t.out[p], t.in[f])
			if side == 1 {
				reach = t.dist(t.out[l], t.in[q])
			}
			reach = min(reach, out)
			for _, w := range list {
				d, c := w.dist, w.site
				if d >= reach {
					break
				}
				j := t.owner[c]
				if k := int(t.pos[j] - t.pos[f]); k >= 0 && k < count || k+n < count {
					continue
				}
				if c != t.in[j] && c != t.out[j] && (!t.loop[j] || j == p || j == q) {
					continue
				}
				h, k := t.prev(j), t.next(j)
				moved := 0.0 // what it takes to enter j elsewhere
				// Behind j.
				if (c == t.out[j] || t.loop[j]) && j != p {
					if c != t.out[j] {
						moved = t.dist(t.out[h], t.in[j]) - t.dist(t.out[h], c)
					}
					if gain := out - d - t.dist(e, t.in[k]) + t.dist(t.out[j], t.in[k]) + moved; gain > noGain {
						t.pushAll(p, f, l, q, h, j, k)
						if c != t.out[j] {
							t.restart(j, c)
						}
						t.move(f, l, j, side == 1)
						return gain
					}
				}
				// Before j.
				if (c == t.in[j] || t.loop[j]) && j != q {
					moved = 0
					if c != t.in[j] {
						moved = t.dist(t.out[j], t.in[k]) - t.dist(c, t.in[k])
					}
					if gain := out - d - t.dist(t.out[h], e) + t.dist(t.out[h], t.in[j]) + moved; gain > noGain {
						t.pushAll(p, f, l, q, h, j, k)
						if c != t.in[j] {
							t.restart(j, c)
						}
						t.move(f, l, h, side == 0)
						return gain
					}
				}
			}
		}
	}
	return 0
}

// replace moves a closed line to where any of its sites is near.
func (t *tour) replace(a int32) float64 {
	if len(t.order) < 4 || t.first[a+1]-t.first[a] < 2 {
		return 0
	}
	p, q := t.prev(a), t.next(a)
	out := t.dist(t.out[p], t.in[a]) + t.dist(t.in[a], t.in[q]) - t.dist(t.out[p], t.in[q])
	if out <= noGain {
		return 0
	}
	for _, w := range t.aroundOf(a) {
		if w.dist >= out {
			break
		}
		j := t.owner[w.other]
		for side := range 2 {
			u, v := j, t.next(j)
			if side == 1 {
				u, v = t.prev(j), j
			}
			if u == a || v == a {
				continue
			}
			base := t.dist(t.out[u], t.in[v])
			if t.dist(t.out[u], w.own)+t.dist(w.own, t.in[v])-base >= 2*out {
				continue
			}
			site, d := t.between(a, t.out[u], t.in[v])
			if gain := out - d + base; gain > noGain {
				t.pushAll(p, q, u, v)
				t.restart(a, site)
				t.move(a, a, u, false)
				return gain
			}
		}
	}
	return 0
}

// nearOf returns the sites near a site, one of each closed line: the nearest ones,
// and the nearest ones on each of four sides, without which the lines of a
// group far from others would see none but one another.
func (t *tour) nearOf(s int32) []beside {
	if list := t.near[s]; list != nil {
		return list
	}
	return t.findNear(s)
}

func (t *tour) findNear(s int32) []beside {
	w, all := &t.scratch, &t.sorted
	if t.n <= fewLines {
		all.start(neighbours+sideNeighbours, t.owner[s], t.at[s], 0, 0)
		t.tree.search(0, all)
		return t.keepNear(s, all)
	}
	all.start(neighbours+4*sideNeighbours, t.owner[s], t.at[s], 0, 0)
	w.start(neighbours, t.owner[s], t.at[s], 0, 0)
	t.tree.search(0, w)
	all.take(w)
	for _, side := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		w.start(sideNeighbours, t.owner[s], t.at[s], side[0], side[1])
		t.tree.search(0, w)
		all.take(w)
	}
	return t.keepNear(s, all)
}

func (t *tour) keepNear(s int32, all *nearest) []beside {
	if cap(t.slab)-len(t.slab) < len(all.found) {
		t.slab = make([]beside, 0, min(1024, 8*len(t.at)))
	}
	start := len(t.slab)
	for _, f := range all.found {
		t.slab = append(t.slab, beside{math.Sqrt(f.distSq), f.site})
	}
	list := t.slab[start:len(t.slab):len(t.slab)]
	t.near[s] = list
	return list
}

// aroundOf returns the lines near a closed line, each with the nearest two
// sites.
func (t *tour) aroundOf(a int32) []pair {
	if t.around[a] != nil {
		return t.around[a]
	}
	all := t.pairsRoom[:0]
	count := t.first[a+1] - t.first[a]
	step := max(1, count/mostLooks)
	for s := t.first[a]; s < t.first[a+1]; s += step {
		for _, c := range t.nearOf(s) {
			all = append(all, pair{s, c.site, c.dist})
		}
	}
	t.pairsRoom = all
	slices.SortStableFunc(all, func(x, y pair) int {
		switch {
		case x.dist < y.dist:
			return -1
		case x.dist > y.dist:
			return 1
		}
		return 0
	})
	list := make([]pair, 0, 2*neighbours)
	for _, w := range all {
		if len(list) == cap(list) {
			break
		}
		if !slices.ContainsFunc(list, func(v pair) bool { return t.owner[v.other] == t.owner[w.other] }) {
			list = append(list, w)
		}
	}
	t.around[a] = list
	return list
}

// few reports whether the best order can be found for certain.
func (t *tour) few() bool {
	total := int(t.first[t.n])
	return t.n <= 12 && total*total<<t.n <= exactWork
}

// exact finds the least travel of a few lines with few sites, over all orders
// (Held and Karp, 1962), and returns the gain. It reports false, without a
// change, when they are more.
func (t *tour) exact() (gain float64, done bool) {
	total := int(t.first[t.n])
	if !t.few() {
		return 0, false
	}
	before := t.travel()
	from, to := t.first[t.n], t.first[t.n]+1
	left := func(s int) int32 {
		a := t.owner[s]
		if t.loop[a] {
			return int32(s)
		}
		return t.first[a] + t.first[a+1] - 1 - int32(s)
	}
	// For each set of lines and each site where the last of them is entered,
	// the least travel, and the site before.
	cost, back := make([]float64, total<<t.n), make([]int32, total<<t.n)
	for set := 1; set < 1<<t.n; set++ {
		for s := range total {
			k := set*total + s
			cost[k] = math.Inf(1)
			rest := set &^ (1 << t.owner[s])
			switch {
			case rest == set:
			case rest == 0:
				cost[k] = t.dist(from, int32(s))
			default:
				for r, c := range cost[rest*total : rest*total+total] {
					if c >= cost[k] {
						continue
					}
					if c += t.dist(left(r), int32(s)); c < cost[k] {
						cost[k], back[k] = c, int32(r)
					}
				}
			}
		}
	}
	set, last, least := 1<<t.n-1, 0, math.Inf(1)
	for s := range total {
		if c := cost[set*total+s] + t.dist(left(s), to); c < least {
			last, least = s, c
		}
	}
	if gain = before - least; gain <= noGain {
		return 0, true
	}
	order, in := make([]int32, t.n), make([]int32, t.n)
	for i := t.n - 1; i >= 0; i-- {
		order[i], in[i] = t.owner[last], int32(last)
		k := set*total + last
		set &^= 1 << order[i]
		last = int(back[k])
	}
	t.set(order, in)
	return gain, true
}

// kick makes changes at random and repairs what is round them, at most limit
// times. It keeps what makes the travel shorter and, when there are many tries
// for each line, at first also what makes it a little longer, as in annealing;
// otherwise it ends when nothing has come of it for long. It returns the gain,
// 0 for a few lines, whose best order is found without.
func (t *tour) kick(limit int, rnd *rand.Rand) float64 {
	n := len(t.order)
	if n < 5 || t.few() {
		return 0
	}
	longest := max(1, min(longestKick, n/8))
	heat := 0.0
	if limit >= hotKicks*n {
		heat = heatPart * t.travel() / float64(n)
	}
	// A better order that was left, and its gain.
	var order, in, out []int32
	best := math.Inf(-1)
	sum, idle := 0.0, 0
	t.logging = true
	for k := range limit {
		t.log = t.log[:0]
		// Two parts that follow one another change places.
		i := rnd.IntN(n)
		c1, c2 := 1+rnd.IntN(longest), 1+rnd.IntN(longest)
		f, l, u := t.order[i], t.order[(i+c1-1)%n], t.order[(i+c1+c2-1)%n]
		p, q, v := t.prev(f), t.next(l), t.next(u)
		gain := t.dist(t.out[p], t.in[f]) + t.dist(t.out[l], t.in[q]) + t.dist(t.out[u], t.in[v]) -
			t.dist(t.out[p], t.in[q]) - t.dist(t.out[u], t.in[f]) - t.dist(t.out[l], t.in[v])
		t.move(f, l, u, false)
		t.pushAll(p, f, l, q, u, v)
		gain += t.settle(everything)
		switch {
		case gain > noGain:
			idle = 0
		case gain >= 0:
			idle++
		case -gain < heat*(1-float64(k)/float64(limit))*rnd.ExpFloat64():
			if sum > best {
				t.undo()
				order, in, out = append(order[:0], t.order...), append(in[:0], t.in...), append(out[:0], t.out...)
				best = sum
				continue
			}
		default:
			t.undo()
			idle++
			continue
		}
		sum += gain
		if heat == 0 && idle > patience*n {
			break
		}
	}
	t.log, t.logging = t.log[:0], false
	if sum < best {
		copy(t.order, order)
		copy(t.in, in)
		copy(t.out, out)
		for i, a := range t.order {
			t.pos[a] = int32(i)
		}
		return best
	}
	return sum
}

// choice returns where the line may be entered.
func (t *tour) choice(a int32) choice {
	return choice{t.at[t.first[a]:t.first[a+1]], t.loop[a], int(t.in[a] - t.first[a])}
}

// choice is a line with the sites where it may be entered; it is left at the
// same one, or, with two and no loop, at the other. Now is the site so far.
type choice struct {
	at   []path.Point
	loop bool
	now  int
}

func (c choice) exit(k int) path.Point {
	if !c.loop {
		k = len(c.at) - 1 - k
	}
	return c.at[k]
}

// bestChoices returns where to enter each of the lines, in their order, for the
// least travel from a point, and by how much that is less than now.
func bestChoices(from path.Point, items []choice) (best []int, gain float64) {
	if len(items) == 0 {
		return nil, 0
	}
	total := 0
	for _, c := range items {
		total += len(c.at)
	}
	// For each site the least travel up to there, and the site before.
	cost, back := make([]float64, total), make([]int32, total)
	var ranked []int32
	start := 0
	for i, c := range items {
		here := cost[start : start+len(c.at)]
		if i == 0 {
			for k, p := range c.at {
				here[k] = apart(from, p)
			}
			start += len(c.at)
			continue
		}
		last := items[i-1]
		before := cost[start-len(last.at) : start]
		// From the cheapest on, until all that come are too dear: the box round
		// the line before is at least as near as any of its sites.
		ranked = ranked[:0]
		box := path.EmptyBox()
		for k := range last.at {
			ranked = append(ranked, int32(k))
			box = box.Include(last.at[k])
		}
		slices.SortFunc(ranked, func(a, b int32) int {
			switch {
			case before[a] < before[b]:
				return -1
			case before[a] > before[b]:
				return 1
			}
			return int(a - b)
		})
		for k, p := range c.at {
			dx := max(0, box.Min.X-p.X, p.X-box.Max.X)
			dy := max(0, box.Min.Y-p.Y, p.Y-box.Max.Y)
			gap := math.Sqrt(dx*dx + dy*dy)
			here[k] = math.Inf(1)
			for _, r := range ranked {
				if before[r]+gap >= here[k] {
					break
				}
				if d := before[r] + apart(last.exit(int(r)), p); d < here[k] {
					here[k], back[start+k] = d, r
				}
			}
		}
		start += len(c.at)
	}
	last := items[len(items)-1]
	start -= len(last.at)
	k := 0
	for s := range last.at {
		if cost[start+s] < cost[start+k] {
			k = s
		}
	}
	gain = -cost[start+k]
	best = make([]int, len(items))
	for i := len(items) - 1; i >= 0; i-- {
		best[i] = k
		k = int(back[start+k])
		if i > 0 {
			start -= len(items[i-1].at)
		}
	}
	for _, c := range items {
		gain += apart(from, c.at[c.now])
		from = c.exit(c.now)
	}
	return best, gain
}

// apart is the distance of two points that are not far out.
func apart(p, q path.Point) float64 {
	dx, dy := p.X-q.X, p.Y-q.Y
	return math.Sqrt(dx*dx + dy*dy)
}

// tree finds sites near a point: a k-d tree.
type tree struct {
	at    []path.Point
	owner []int32
	alike []int32
	ids   []int32 // sites, each branch's in a row
	nodes []branch
	leaf  []int32 // the leaf of each site
	dead  []bool
}

// branch holds the sites ids[lo:hi]. Its two halves are divided at cut along
// an axis; a leaf has none.
type branch struct {
	cut         float64
	lo, hi      int32
	left, right int32 // 0 in a leaf
	up          int32
	live        int32
	upright     bool // divided in y
}

func (t *tree) build(at []path.Point, owner, alike []int32) {
	n := len(at) - 2 // without those of the gap
	t.at, t.owner, t.alike = at, owner, alike
	t.ids, t.leaf, t.dead = make([]int32, n), make([]int32, n), make([]bool, n)
	for i := range t.ids {
		t.ids[i] = int32(i)
	}
	t.nodes = make([]branch, 0, 4*n/leafSize+1)
	t.divide(0, int32(n), -1)
}

func (t *tree) divide(lo, hi, up int32) int32 {
	id := int32(len(t.nodes))
	t.nodes = append(t.nodes, branch{lo: lo, hi: hi, up: up, live: hi - lo})
	if hi-lo <= leafSize {
		for _, s := range t.ids[lo:hi] {
			t.leaf[s] = id
		}
		return id
	}
	box := path.EmptyBox()
	for _, s := range t.ids[lo:hi] {
		box = box.Include(t.at[s])
	}
	upright := box.Height() > box.Width()
	mid := (lo + hi) / 2
	t.split(lo, hi, mid, upright)
	b := &t.nodes[id]
	b.upright, b.cut = upright, t.key(t.ids[mid], upright)
	left := t.divide(lo, mid, id)
	right := t.divide(mid, hi, id)
	t.nodes[id].left, t.nodes[id].right = left, right
	return id
}

func (t *tree) key(s int32, upright bool) float64 {
	if upright {
		return t.at[s].Y
	}
	return t.at[s].X
}

// split orders the sites so that those before mid are no further along the axis
// than it, and those behind it no less.
func (t *tree) split(lo, hi, mid int32, upright bool) {
	ids := t.ids
	for hi-lo > 1 {
		pivot := t.key(ids[(lo+hi)/2], upright)
		i, j := lo, hi-1
		for i <= j {
			for t.key(ids[i], upright) < pivot {
				i++
			}
			for t.key(ids[j], upright) > pivot {
				j--
			}
			if i <= j {
				ids[i], ids[j] = ids[j], ids[i]
				i++
				j--
			}
		}
		switch {
		case mid <= j:
			hi = j + 1
		case mid >= i:
			lo = i
		default:
			return
		}
	}
}

// nearest collects sites near a point, of other lines than its own: both ends of
// an open line, one site of a closed one.
// With sides set, to 1 or -1, it collects those on one side in x and in y.
type nearest struct {
	at           path.Point
	own          int32
	count        int
	sideX, sideY float64
	found        []found // nearest first
}

type found struct {
	distSq      float64
	site, alike int32
}

func (w *nearest) start(count int, own int32, at path.Point, sideX, sideY float64) {
	w.at, w.own, w.count, w.sideX, w.sideY, w.found = at, own, count, sideX, sideY, w.found[:0]
}

// take adds what another collection found.
func (w *nearest) take(v *nearest) {
	for _, f := range v.found {
		w.add(f.site, f.alike, f.distSq)
	}
}

// reach is the square of the distance from which nothing is wanted.
func (w *nearest) reach() float64 {
	if len(w.found) < w.count {
		return math.Inf(1)
	}
	return w.found[len(w.found)-1].distSq
}

func (w *nearest) add(site, alike int32, distSq float64) {
	i := len(w.found)
	for k := range w.found {
		if w.found[k].alike == alike {
			if w.found[k].distSq <= distSq {
				return
			}
			i = k
			break
		}
	}
	if i == len(w.found) {
		if i < w.count {
			w.found = append(w.found, found{})
		} else {
			i--
		}
	}
	for ; i > 0 && w.found[i-1].distSq > distSq; i-- {
		w.found[i] = w.found[i-1]
	}
	w.found[i] = found{distSq, site, alike}
}

func (t *tree) search(id int32, w *nearest) {
	b := &t.nodes[id]
	if b.right == 0 {
		for _, s := range t.ids[b.lo:b.hi] {
			if t.owner[s] != w.own {
				v := t.at[s].Sub(w.at)
				if v.X*w.sideX < 0 || v.Y*w.sideY < 0 {
					continue
				}
				if d := v.Dot(v); d < w.reach() {
					w.add(s, t.alike[s], d)
				}
			}
		}
		return
	}
	off, side := w.at.X-b.cut, w.sideX
	if b.upright {
		off, side = w.at.Y-b.cut, w.sideY
	}
	nearer, other := b.left, b.right
	if off > 0 {
		nearer, other = other, nearer
	}
	// On one side, one of the halves may have nothing.
	if off*side <= 0 || nearer == b.left == (side < 0) {
		t.search(nearer, w)
	}
	if off*off < w.reach() && (off*side <= 0 || other == b.left == (side < 0)) {
		t.search(other, w)
	}
}

// revive counts all sites again.
func (t *tree) revive() {
	clear(t.dead)
	for i := range t.nodes {
		t.nodes[i].live = t.nodes[i].hi - t.nodes[i].lo
	}
}

// remove has nearestLive pass the site over.
func (t *tree) remove(s int32) {
	t.dead[s] = true
	for id := t.leaf[s]; id >= 0; id = t.nodes[id].up {
		t.nodes[id].live--
	}
}

// nearestLive returns the site nearest to the point that has not been removed.
// There is one.
func (t *tree) nearestLive(p path.Point) int32 {
	site, _ := t.searchLive(0, p, -1, math.Inf(1))
	return site
}

func (t *tree) searchLive(id int32, p path.Point, site int32, best float64) (int32, float64) {
	b := &t.nodes[id]
	if b.live == 0 {
		return site, best
	}
	if b.right == 0 {
		for _, s := range t.ids[b.lo:b.hi] {
			if t.dead[s] {
				continue
			}
			if d := t.at[s].DistSq(p); d < best {
				site, best = s, d
			}
		}
		return site, best
	}
	off := p.X - b.cut
	if b.upright {
		off = p.Y - b.cut
	}
	nearer, other := b.left, b.right
	if off > 0 {
		nearer, other = other, nearer
	}
	site, best = t.searchLive(nearer, p, site, best)
	if off*off < best {
		site, best = t.searchLive(other, p, site, best)
	}
	return site, best
}
