package toolpath

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"engrail/motif/path"
)

// Line is a line for a tool. Piece numbers the piece it belongs to. Rank says
// when it is drawn: within a piece all lines of a lower rank come first.
type Line struct {
	Path        path.Path
	Piece, Rank int
}

// Step is a line as it is drawn: Line is its index among those given, Path its
// path, run the other way or begun at another vertex as needed.
type Step struct {
	Line int
	Path path.Path
}

// Options tell how lines are put in order.
type Options struct {
	// From is where the tool waits, the origin if it is not finite or beyond 1e9
	// mm. Where it goes after the last line does not matter.
	From path.Point
	// Mix says that pieces need not be finished one before the next: all lines
	// of the lowest rank may come first, then those of the next, if that is
	// shorter.
	Mix bool
	// Kicks bounds the work: it is the number of trial changes, each repaired
	// and kept if it helps, in every set of lines that are free among
	// themselves. 0 stands for a number that grows with the lines: a garment of
	// some hundred lines takes about a millisecond, 500 free lines about one
	// second, and so do thousands. With a negative number there are none, and the
	// travel is some tenth longer.
	Kicks int
	// SmoothStarts is for knives: a closed line begins on a straight or smooth
	// stretch if it has a vertex there, or else at a tip. It begins in a valley, a
	// vertex that turns to the inside by more than 15 degrees, only when it has
	// no other.
	SmoothStarts bool
}

// Order returns the lines in the order in which to draw them, with little
// travel between them: every line once, pieces and ranks kept as [Options] say.
// Open lines may be run the other way; closed ones keep their direction and
// may begin at another vertex. Paths that need no change share their vertices
// with the given ones.
//
// When the given order already keeps pieces and ranks, and its starts are
// allowed, the travel is no longer than there. The result depends on nothing but
// the arguments. Time is usually in proportion to the number of lines, besides
// that for Kicks; 20000 lines take some seconds.
//
// Lines without vertices, and those with a coordinate that is not finite or
// beyond 1e9 mm, come last, in the order given. A line of one vertex is a dot.
// No lines give no steps.
func Order(lines []Line, o Options) []Step {
	if !within(path.Path{V: []path.Vertex{{Point: o.From}}}) {
		o.From = path.Point{}
	}
	j := newJob(lines, o)
	best := j.steps(j.given())
	travel := math.Inf(1)
	if j.allowed(best) {
		travel = Travel(o.From, best)
	}
	for _, c := range j.chains() {
		c.solve(o)
		steps := j.steps(c.sequence())
		if d := Travel(o.From, steps); d < travel {
			travel, best = d, steps
		}
	}
	for _, i := range j.last {
		best = append(best, Step{i, lines[i].Path})
	}
	return best
}

// Travel returns the length in mm that the tool goes from the point to the first
// of the steps and from each to the next, without what it draws. Steps without
// vertices do not count; coordinates that are not finite give no useful sum.
func Travel(from path.Point, steps []Step) float64 {
	sum := 0.0
	for _, s := range steps {
		if len(s.Path.V) == 0 {
			continue
		}
		sum += from.Dist(s.Path.Start())
		from = s.Path.End()
	}
	return sum
}

// within reports whether the path has vertices, all of them finite and not far
// out.
func within(p path.Path) bool {
	for _, v := range p.V {
		if !(math.Abs(v.X) <= farthest && math.Abs(v.Y) <= farthest) {
			return false
		}
	}
	return len(p.V) > 0 && p.Finite()
}

// job is a set of lines to put in order.
type job struct {
	lines []Line
	o     Options
	// drawn are the lines that can be put in order, last the others.
	drawn, last []int
	// sites are the vertices where each line may be entered.
	sites [][]int32
}

func newJob(lines []Line, o Options) *job {
	j := &job{lines: lines, o: o, sites: make([][]int32, len(lines))}
	loops := 0
	for i := range lines {
		if !within(lines[i].Path) {
			j.last = append(j.last, i)
			continue
		}
		j.drawn = append(j.drawn, i)
		if lines[i].Path.Closed {
			loops++
		}
	}
	most := mostStarts
	if loops > 0 {
		most = max(2, min(most, allStarts/loops))
	}
	for _, i := range j.drawn {
		j.sites[i] = j.startsOf(i, most)
	}
	return j
}

// startsOf returns the vertices where a line may be entered, no more than most
// of a closed one.
func (j *job) startsOf(i, most int) []int32 {
	p := j.lines[i].Path
	switch n := len(p.V); {
	case n == 1:
		return []int32{0}
	case !p.Closed:
		return []int32{0, int32(n - 1)}
	}
	all := starts(p, j.o.SmoothStarts)
	if len(all) <= most {
		return all
	}
	some := make([]int32, most)
	for k := range some {
		some[k] = all[k*len(all)/most]
	}
	return some
}

// starts returns the vertices where a closed line may be begun.
func starts(p path.Path, smooth bool) []int32 {
	all := make([]int32, len(p.V))
	for i := range all {
		all[i] = int32(i)
	}
	if !smooth {
		return all
	}
	var level, tips []int32
	side := 1.0
	if p.Area() < 0 {
		side = -1
	}
	for i := range p.V {
		switch turn := side * turnAt(p, i); {
		case math.Abs(turn) <= concave:
			level = append(level, int32(i))
		case turn > 0:
			tips = append(tips, int32(i))
		}
	}
	switch {
	case len(level) > 0:
		return level
	case len(tips) > 0:
		return tips
	}
	return all
}

// turnAt returns the turn at the i-th vertex of a closed path, positive to the
// left, between the segments with length beside it.
func turnAt(p path.Path, i int) float64 {
	n := len(p.V)
	before, after := (i+n-1)%n, i
	for range n {
		if p.Segment(before).Chord() != (path.Vec{}) {
			break
		}
		before = (before + n - 1) % n
	}
	for range n {
		if p.Segment(after).Chord() != (path.Vec{}) {
			break
		}
		after = (after + 1) % n
	}
	return p.Segment(before).EndTangent().AngleTo(p.Segment(after).StartTangent())
}

// visit is a line and the vertex where it is entered.
type visit struct {
	line   int
	vertex int32
}

// given returns the lines as they are.
func (j *job) given() []visit {
	seq := make([]visit, len(j.drawn))
	for k, i := range j.drawn {
		seq[k].line = i
	}
	return seq
}

// allowed reports whether the steps keep pieces and ranks as the options say
// and start where that is allowed.
func (j *job) allowed(steps []Step) bool {
	rank := map[int]int{} // of the last line of each piece
	for k, s := range steps {
		l := j.lines[s.Line]
		r, begun := rank[l.Piece]
		if begun && l.Rank < r {
			return false
		}
		if begun && !j.o.Mix && j.lines[steps[k-1].Line].Piece != l.Piece {
			return false
		}
		if s.Path.Closed && j.o.SmoothStarts && !slices.Contains(starts(l.Path, true), 0) {
			return false
		}
		rank[l.Piece] = l.Rank
	}
	return true
}

// steps returns the steps of a sequence. Outlines with more vertices than were
// tried are begun at the best of all.
func (j *job) steps(seq []visit) []Step {
	steps := make([]Step, len(seq))
	p := j.o.From
	for k, v := range seq {
		line := j.lines[v.line].Path
		if line.Closed && len(line.V) > len(j.sites[v.line]) && len(j.sites[v.line]) >= 2 {
			next := func(path.Point) float64 { return 0 }
			if k+1 < len(seq) {
				to := j.lines[seq[k+1].line].Path.V[seq[k+1].vertex].Point
				next = to.Dist
			}
			best := p.Dist(line.V[v.vertex].Point) + next(line.V[v.vertex].Point)
			for _, s := range starts(line, j.o.SmoothStarts) {
				q := line.V[s].Point
				if d := p.Dist(q) + next(q); d < best-noGain {
					v.vertex, best = s, d
				}
			}
		}
		steps[k] = Step{v.line, entered(line, int(v.vertex))}
		p = steps[k].Path.End()
	}
	return steps
}

// entered returns the path as it is run from a vertex: a closed one begun there,
// an open one from that end.
func entered(p path.Path, vertex int) path.Path {
	switch {
	case vertex == 0:
		return p
	case !p.Closed:
		return p.Reverse()
	}
	v := make([]path.Vertex, 0, len(p.V))
	return path.Path{V: append(append(v, p.V[vertex:]...), p.V[:vertex]...), Closed: true}
}

// group is a set of lines that are free among themselves: one rank of a piece,
// or of all pieces.
type group struct {
	*tour
	lines    []int   // by their numbers in the tour
	vertices []int32 // of the sites
}

// group returns the group of the lines, in the given order.
func (j *job) group(lines []int) *group {
	g := &group{lines: lines}
	at := make([][]path.Point, len(lines))
	loop := make([]bool, len(lines))
	for k, i := range lines {
		p := j.lines[i].Path
		loop[k] = p.Closed || len(p.V) == 1
		at[k] = make([]path.Point, len(j.sites[i]))
		for s, v := range j.sites[i] {
			at[k][s] = p.V[v].Point
		}
		g.vertices = append(g.vertices, j.sites[i]...)
	}
	g.tour = newTour(at, loop)
	return g
}

// ends returns where the group is entered and left.
func (g *group) ends() (path.Point, path.Point) {
	seq := g.tour.lines()
	return g.at[g.in[seq[0]]], g.at[g.out[seq[len(seq)-1]]]
}

// chain is a sequence of groups: those of a piece, in the order of their ranks,
// make a link; links may change places.
type chain struct {
	from  path.Point
	links [][]*group
}

// chains returns the ways in which the lines may be grouped.
func (j *job) chains() []*chain {
	if len(j.drawn) == 0 {
		return nil
	}
	// Lines in order of pieces, as they first come, and ranks.
	piece, rank := map[int]int{}, map[int]bool{}
	for _, i := range j.drawn {
		if _, ok := piece[j.lines[i].Piece]; !ok {
			piece[j.lines[i].Piece] = len(piece)
		}
		rank[j.lines[i].Rank] = true
	}
	if len(rank) == 1 && len(piece) == 1 || len(piece) == len(j.drawn) {
		return []*chain{{j.o.From, [][]*group{{j.group(j.drawn)}}}}
	}
	sorted := slices.Clone(j.drawn)
	slices.SortStableFunc(sorted, func(a, b int) int {
		return cmp.Or(cmp.Compare(piece[j.lines[a].Piece], piece[j.lines[b].Piece]), cmp.Compare(j.lines[a].Rank, j.lines[b].Rank))
	})
	byPiece := &chain{from: j.o.From}
	for start := 0; start < len(sorted); {
		end := start + 1
		a := j.lines[sorted[start]]
		for end < len(sorted) && j.lines[sorted[end]].Piece == a.Piece && j.lines[sorted[end]].Rank == a.Rank {
			end++
		}
		g := j.group(sorted[start:end])
		if start > 0 && j.lines[sorted[start-1]].Piece == a.Piece {
			k := len(byPiece.links) - 1
			byPiece.links[k] = append(byPiece.links[k], g)
		} else {
			byPiece.links = append(byPiece.links, []*group{g})
		}
		start = end
	}
	if !j.o.Mix {
		return []*chain{byPiece}
	}
	sorted = slices.Clone(sorted)
	slices.SortStableFunc(sorted, func(a, b int) int { return cmp.Compare(j.lines[a].Rank, j.lines[b].Rank) })
	byRank := &chain{from: j.o.From, links: make([][]*group, 1)}
	for start := 0; start < len(sorted); {
		end := start + 1
		for end < len(sorted) && j.lines[sorted[end]].Rank == j.lines[sorted[start]].Rank {
			end++
		}
		byRank.links[0] = append(byRank.links[0], j.group(sorted[start:end]))
		start = end
	}
	return []*chain{byPiece, byRank}
}

// solve puts links and the lines in them in order.
func (c *chain) solve(o Options) {
	given := slices.Clone(c.links)
	c.placeLinks()
	c.begin()
	c.settle()
	// What is a good order of pieces depends on where each is begun and left, and
	// so the order in which they are given may be the better one to start from.
	same := func(a, b []*group) bool { return a[0] == b[0] }
	if !slices.EqualFunc(c.links, given, same) {
		placed := c.save()
		c.links = given
		c.begin()
		c.settle()
		if placed.travel < c.travel() {
			c.restore(placed)
		}
	}
	kicked := false
	for k, g := range c.groups() {
		if g.kick(kicks(o.Kicks, g.n), random(k)) > noGain {
			kicked = true
		}
	}
	if kicked {
		c.settle()
	}
	if c.kickLinks(linkKicks(o.Kicks, len(c.links)), random(0)) > noGain {
		c.settle()
	}
}

// begin puts the lines of each group in a first order: the given one, or where
// that is shorter, always on to the nearest.
func (c *chain) begin() {
	at := c.from
	for _, g := range c.groups() {
		g.join(at, path.Point{}, false)
		g.tour.lines()
		given := g.travel()
		order, in := slices.Clone(g.order[:g.n]), slices.Clone(g.in[:g.n])
		if g.greedy(); g.travel() > given {
			g.set(order, inOf(order, in))
		}
		g.pushAll(g.order...)
		_, at = g.ends()
	}
}

// inOf returns for each line in order where it is entered.
func inOf(order, in []int32) []int32 {
	sites := make([]int32, len(order))
	for i, a := range order {
		sites[i] = in[a]
	}
	return sites
}

// snapshot is the order of a chain at some time.
type snapshot struct {
	travel    float64
	links     [][]*group
	order, in []int32 // group by group
}

func (c *chain) save() snapshot {
	s := snapshot{travel: c.travel(), links: slices.Clone(c.links)}
	for _, g := range c.groups() {
		order := g.tour.lines()
		s.order = append(s.order, order...)
		for _, a := range order {
			s.in = append(s.in, g.in[a])
		}
	}
	return s
}

func (c *chain) restore(s snapshot) {
	c.links = slices.Clone(s.links)
	k := 0
	for _, g := range c.groups() {
		g.set(s.order[k:k+g.n], s.in[k:k+g.n])
		k += g.n
	}
}

// travel returns the travel of the whole chain.
func (c *chain) travel() float64 {
	sum, at := 0.0, c.from
	for _, g := range c.groups() {
		for _, a := range g.tour.lines() {
			sum += apart(at, g.at[g.in[a]])
			at = g.at[g.out[a]]
		}
	}
	return sum
}

// kickLinks has two parts of the sequence of links change places, or turns a
// part round, at random and at most limit times. It keeps that where the travel
// is shorter when the lines in the links have been put in order again, and
// returns the gain.
func (c *chain) kickLinks(limit int, rnd *rand.Rand) float64 {
	n := len(c.links)
	if n < 3 {
		return 0
	}
	now := c.save()
	begun := now.travel
	for range limit {
		i := rnd.IntN(n - 1)
		j := i + 1 + rnd.IntN(min(longestLinks, n-1-i))
		k := j + 1 + rnd.IntN(min(longestLinks, n-j))
		turned := rnd.IntN(2) == 0
		before := c.way(i, k)
		if turned {
			slices.Reverse(c.links[i:k])
		} else {
			turnLeft(c.links[i:k], j-i)
		}
		if c.way(i, k)-before > linkSlack*now.travel/float64(n) {
			if turned {
				slices.Reverse(c.links[i:k])
			} else {
				turnLeft(c.links[i:k], k-j)
			}
			continue
		}
		for range 2 {
			if c.improve() <= noGain {
				break
			}
		}
		if c.travel() < now.travel-noGain {
			now = c.save()
		} else {
			c.restore(now)
		}
	}
	return begun - now.travel
}

// way returns the travel between the links from the one before i to k.
func (c *chain) way(i, k int) float64 {
	at, sum := c.from, 0.0
	if i > 0 {
		_, at = linkEnds(c.links[i-1])
	}
	for _, l := range c.links[i:min(k+1, len(c.links))] {
		in, out := linkEnds(l)
		sum += apart(at, in)
		at = out
	}
	return sum
}

// linkEnds returns where a link is entered and left.
func linkEnds(l []*group) (path.Point, path.Point) {
	in, _ := l[0].ends()
	_, out := l[len(l)-1].ends()
	return in, out
}

// random returns the random numbers of a set of kicks, always the same.
func random(k int) *rand.Rand { return rand.New(rand.NewPCG(uint64(k), 1)) }

// kicks returns how many kicks there are for n lines.
func kicks(given, n int) int {
	switch {
	case given != 0:
		return given
	case n > 1000:
		return mostKicks
	}
	return min(mostKicks, leastKicks+n*n*n*n*n/kickGrowth)
}

// linkKicks returns how many there are for n links, n > 0. Each looks at all.
func linkKicks(given, n int) int {
	most := max(1, linkLooks/n)
	switch {
	case given != 0:
		return min(given, most)
	case n > 1000:
		return most
	}
	return min(most, n*n*n/linkKickGrowth)
}

// groups returns the groups in order.
func (c *chain) groups() []*group { return slices.Concat(c.links...) }

// sequence returns the lines in order.
func (c *chain) sequence() []visit {
	var seq []visit
	for _, g := range c.groups() {
		for _, a := range g.tour.lines() {
			seq = append(seq, visit{g.lines[a], g.vertices[g.in[a]]})
		}
	}
	return seq
}

// settle improves the order in the groups, the starts of all lines together,
// and the order of the links in turn until nothing is gained.
func (c *chain) settle() {
	for range mostRounds {
		gain := c.improve() + c.starts()
		gain += c.moveLinks()
		if gain <= noGain {
			return
		}
	}
}

// improve improves the order in each group, between its neighbours, and returns
// the gain.
func (c *chain) improve() float64 {
	groups := c.groups()
	gain, from := 0.0, c.from
	for k, g := range groups {
		var to path.Point
		if k+1 < len(groups) {
			to, _ = groups[k+1].ends()
		}
		g.join(from, to, k+1 < len(groups))
		gain += g.tour.improve()
		_, from = g.ends()
	}
	return gain
}

// starts enters every line where that is best for the order as it is, and
// returns the gain.
func (c *chain) starts() float64 {
	var items []choice
	groups := c.groups()
	for _, g := range groups {
		for _, a := range g.tour.lines() {
			items = append(items, g.choice(a))
		}
	}
	best, gain := bestChoices(c.from, items)
	if gain <= noGain {
		return 0
	}
	k := 0
	for _, g := range groups {
		for _, a := range g.order[:g.n] {
			if best[k] != items[k].now {
				g.enter(a, g.first[a]+int32(best[k]))
				g.push(a)
				g.push(g.prev(a))
				g.push(g.next(a))
			}
			k++
		}
	}
	return gain
}

// placeLinks puts the links in an order, as if each were entered and left at
// one of the sites of its lines.
func (c *chain) placeLinks() {
	if len(c.links) < 2 {
		return
	}
	at, loop := make([][]path.Point, len(c.links)), make([]bool, len(c.links))
	for i, l := range c.links {
		var all []path.Point
		for _, g := range l {
			all = append(all, g.at[:g.first[g.n]]...)
		}
		step := (len(all) + linkSites - 1) / linkSites
		for k := 0; k < len(all); k += step {
			at[i] = append(at[i], all[k])
		}
		loop[i] = true
	}
	t := newTour(at, loop)
	t.join(c.from, path.Point{}, false)
	t.greedy()
	t.pushAll(t.order...)
	t.improve()
	links := make([][]*group, 0, len(c.links))
	for _, a := range t.lines() {
		links = append(links, c.links[a])
	}
	c.links = links
}

// moveLinks moves up to longestInsert links in a row elsewhere as long as that
// is shorter, and returns the gain.
func (c *chain) moveLinks() float64 {
	n := len(c.links)
	if n < 2 {
		return 0
	}
	// The ends of the links in order, behind the place that the tool comes from.
	type ends struct{ in, out path.Point }
	e := make([]ends, n+1)
	e[0] = ends{c.from, c.from}
	for i, l := range c.links {
		e[i+1].in, e[i+1].out = linkEnds(l)
	}
	way := func(i, j int) float64 {
		if j > n {
			return 0
		}
		return apart(e[i].out, e[j].in)
	}
	sum := 0.0
	for again := true; again; {
		again = false
		for i := 1; i <= n; i++ {
			for j := i; j <= min(n, i+longestInsert-1); j++ {
				// Links i to j go between k and k+1.
				out := way(i-1, i) + way(j, j+1)
				if j < n {
					out -= way(i-1, j+1)
				}
				best, to := noGain, -1
				for k := max(0, i-pieceReach); k <= min(n, j+pieceReach); k++ {
					if k >= i-1 && k <= j {
						continue
					}
					if gain := out - way(k, i) - way(j, k+1) + way(k, k+1); gain > best {
						best, to = gain, k
					}
				}
				if to < 0 {
					continue
				}
				sum += best
				again = true
				if to < i {
					turnLeft(e[to+1:j+1], i-to-1)
					turnLeft(c.links[to:j], i-to-1)
				} else {
					turnLeft(e[i:to+1], j-i+1)
					turnLeft(c.links[i-1:to], j-i+1)
				}
			}
		}
	}
	return sum
}

// turnLeft moves the first count elements behind the others.
func turnLeft[T any](s []T, count int) {
	slices.Reverse(s[:count])
	slices.Reverse(s[count:])
	slices.Reverse(s)
}
