package strip

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"engrail/motif/path"
)

// table is what does not change in a search: every item in every pose, and how the
// places of two of them make them overlap.
type table struct {
	height  float64
	slack   float64 // by which outlines may overlap, so that what fits to a hair does in spite of rounding
	shapes  []shape
	poses   [][]int32 // the shapes of each item
	piece   []int32   // the item of each piece to lay
	locked  []bool    // of each piece
	start   []spot    // of the pieces that are locked
	area    float64
	middle  float64                    // of the weights of all pieces
	links   []link                     // of each pair of shapes
	stores  []atomic.Pointer[relation] // each is made when it is first asked for
	origins []origin                   // of what it is made
	stored  atomic.Int64               // edges
	turn    float64                    // in steps of which margins are rounded
}

// shape is an item in one of its poses.
type shape struct {
	item, pose int
	parts      [][]path.Point // convex
	hull       []path.Point   // of all parts
	box        path.Box       // of the outline itself
	cover      path.Box       // of the parts and the margin
	low, high  bool
	margin     float64
	weight     float64 // how hard it is to place, for the order in which shapes are laid

	class int32    // of shapes that are this one in a mirror, or turned by half
	sign  path.Vec // how its class has to be mirrored to be this shape
}

// origin is the shapes that a relation is made of, always the same, for rounding, and how it is
// mirrored.
type origin struct {
	a, b int32
	sign path.Vec
}

// link says where the relation of two shapes is stored, and how it has to be mirrored: -1 or 1.
type link struct {
	store int32
	x, y  int8
}

// view is a relation as it is seen from two shapes: for those that are mirror images of
// others, or turned by half, it is mirrored.
type view struct {
	*relation
	sx, sy float64
}

func (v view) depth(x, y float64) float64     { return v.relation.depth(v.sx*x, v.sy*y) }
func (v view) nearDepth(x, y float64) float64 { return v.relation.nearDepth(v.sx*x, v.sy*y) }

// relation returns that of shape a to shape b. It is made when it is first asked for.
func (t *table) relation(a, b int32) view {
	l := &t.links[int(a)*len(t.shapes)+int(b)]
	r := t.stores[l.store].Load()
	if r == nil {
		r = t.relate(l.store)
	}
	return view{r, float64(l.x), float64(l.y)}
}

// relate makes a relation and stores it. When they take too much room, all are made anew as
// they are asked for.
func (t *table) relate(store int32) *relation {
	o := &t.origins[store]
	r := newRelation(&t.shapes[o.a], &t.shapes[o.b], t.slack, t.turn)
	r.mirror(o.sign)
	r.findCorners()
	size := int64(len(r.edges))
	if len(r.hulls) >= leastSampled {
		size += rasterSide * rasterSide / bytesOfEdge // as many bytes as the raster will take
	}
	if t.stored.Add(size) > mostEdges {
		t.stored.Store(size)
		for i := range t.stores {
			t.stores[i].Store(nil)
		}
	}
	t.stores[store].Store(r)
	return r
}

// detail says how far outlines are simplified outward: down to so many hollow corners and so many that
// stick out, if no more than a share of their area is added. turn is that in steps of which margins are rounded.
type detail struct {
	hollows, corners int
	share, turn      float64
}

// tables are those of one problem with outlines of other detail.
type tables struct {
	exact *table   // as they are
	finer []*table // for one part of a search after the other
	close *table   // for what is moved together in the end
}

// newTables checks a problem. The details were found by trying, on garment pieces: the first ones fill the
// valleys of a shaped hem.
func newTables(p Problem) (tables, error) {
	details := []detail{{turn: cornerTurn}, {2, 8, 0.2, coarseTurn}, {5, 12, 0.1, coarseTurn}, {10, 16, 0.03, coarseTurn}, {20, 40, 0.01, cornerTurn}}
	made, errs := make([]*table, len(details)), make([]error, len(details))
	var all sync.WaitGroup
	for i, d := range details {
		all.Go(func() { made[i], errs[i] = newTable(p, d) })
	}
	all.Wait()
	return tables{made[0], made[1:4], made[4]}, cmp.Or(errs...)
}

// newTable checks a problem. Outlines with few corners stay as they are.
func newTable(p Problem, d detail) (*table, error) {
	t := &table{height: p.Height, turn: d.turn}
	if !(p.Height > 0) || math.IsInf(p.Height, 0) {
		return nil, &Error{fmt.Sprintf("the strip is %g high", p.Height), "give it a height above 0"}
	}
	t.slack = rounding * p.Height
	classes := map[string]int32{}
	divided := map[string][][]path.Point{} // the parts of outlines, which left and right share
	for i, item := range p.Items {
		if err := item.check(); err != nil {
			return nil, err
		}
		ring := slices.Clone(item.Outline)
		if areaOf(ring) < 0 {
			slices.Reverse(ring)
		}
		area := areaOf(ring)
		parts, ok := divided[fmt.Sprint(ring)]
		if !ok {
			lean := ring
			if len(ring) > fewCorners {
				lean = outward(ring, d)
			}
			parts, ok = convexParts(lean)
			divided[fmt.Sprint(ring)] = parts
		}
		if !ok {
			return nil, &Error{fmt.Sprintf("%s cannot be divided: its outline runs along itself", item.Name), "draw its outline once, without touching itself"}
		}
		weight := areaOf(hullOf(ring)) * diameterOf(ring)
		var of []int32
		lowest := math.Inf(1)
		for k, pose := range item.Poses {
			sh := shape{item: i, pose: k, low: pose.Low, high: pose.High, margin: item.Margin, weight: weight}
			sh.box = boxOf(pose.ring(ring))
			lowest = min(lowest, sh.box.Height())
			if sh.box.Height() > t.height*(1+rounding) {
				continue
			}
			for _, q := range parts {
				q = pose.ring(q)
				if pose.Mirrored {
					slices.Reverse(q)
				}
				sh.parts = append(sh.parts, q)
			}
			sh.hull = hullOf(slices.Concat(sh.parts...))
			sh.cover = boxOf(slices.Concat(sh.parts...)).Grow(sh.margin)
			sh.class, sh.sign = classOf(classes, item, pose)
			of = append(of, int32(len(t.shapes)))
			t.shapes = append(t.shapes, sh)
		}
		if len(of) == 0 {
			return nil, &Error{fmt.Sprintf("%s is %.6g high, and the strip %.6g", item.Name, lowest, t.height),
				fmt.Sprintf("a strip of at least %.6g has room for it", lowest)}
		}
		t.poses = append(t.poses, of)
		for range item.Demand {
			t.piece = append(t.piece, int32(i))
			t.area += area
		}
	}
	if len(t.piece) == 0 {
		return nil, &Error{"there is nothing to lay", "give at least one item"}
	}
	weights := make([]float64, len(t.piece))
	for i, item := range t.piece {
		weights[i] = t.shapes[t.poses[item][0]].weight
	}
	slices.Sort(weights)
	t.middle = weights[len(weights)/2]
	t.link()
	return t, t.lock(p)
}

// check returns what is wrong with an item.
func (i Item) check() error {
	outline := path.Open(i.Outline...)
	outline.Closed = true
	switch {
	case len(i.Outline) < 3 || !outline.Finite() || areaOf(i.Outline) == 0:
		return &Error{fmt.Sprintf("%s has no area", i.Name), "give it an outline of three corners and more"}
	case i.Demand < 1:
		return &Error{fmt.Sprintf("%s is demanded %d times", i.Name, i.Demand), "demand it once or more, or leave it out"}
	case !(i.Margin >= 0) || math.IsInf(i.Margin, 0):
		return &Error{fmt.Sprintf("the margin round %s is %g", i.Name, i.Margin), "give a margin of 0 or more"}
	case len(i.Poses) == 0:
		return &Error{fmt.Sprintf("%s may not lie in any way", i.Name), "allow it one pose at least"}
	}
	for _, c := range outline.SelfIntersections() {
		return &Error{fmt.Sprintf("the outline of %s crosses itself at %.6g, %.6g", i.Name, c.Point.X, c.Point.Y), "mend the outline"}
	}
	return nil
}

// ring returns the posed points.
func (p Pose) ring(points []path.Point) []path.Point {
	posed := make([]path.Point, len(points))
	for i, q := range points {
		posed[i] = p.Apply(q)
	}
	return posed
}

func boxOf(points []path.Point) path.Box {
	b := path.Box{Min: points[0], Max: points[0]}
	for _, q := range points[1:] {
		b = b.Include(q)
	}
	return b
}

// classOf finds the class of an item in a pose: poses that only differ by half a turn are
// one, and without any other turn those that are mirror images, too.
func classOf(classes map[string]int32, item Item, pose Pose) (int32, path.Vec) {
	sign := path.Vec{X: 1, Y: 1}
	halves := math.Floor(pose.Turn/math.Pi + exactTurn)
	turn := max(0, pose.Turn-halves*math.Pi)
	if math.Mod(halves, 2) != 0 {
		sign = path.Vec{X: -1, Y: -1}
	}
	mirrored := pose.Mirrored
	if mirrored && turn < exactTurn {
		mirrored = false
		sign.X = -sign.X
	}
	var key strings.Builder
	fmt.Fprint(&key, math.Round(turn/sameTurn), mirrored, item.Margin, item.Outline)
	class, ok := classes[key.String()]
	if !ok {
		class = int32(len(classes))
		classes[key.String()] = class
	}
	return class, sign
}

// link finds which pairs of shapes can share a relation: a relation of two classes, the second
// mirrored as it is seen from the first.
func (t *table) link() {
	n := len(t.shapes)
	t.links = make([]link, n*n)
	sharing := map[[3]int32]int32{}
	for a := range n {
		for b := range n {
			p, q := &t.shapes[a], &t.shapes[b]
			between := path.Vec{X: p.sign.X * q.sign.X, Y: p.sign.Y * q.sign.Y}
			sign := p.sign
			k := [3]int32{p.class, q.class, int32(between.X+1) + int32(between.Y+1)*2}
			if p.class > q.class {
				// Seen from the other piece, everything is on the other side, and in its mirror.
				k[0], k[1] = k[1], k[0]
				sign = path.Vec{X: -q.sign.X, Y: -q.sign.Y}
			}
			at, ok := sharing[k]
			if !ok {
				at = int32(len(sharing))
				sharing[k] = at
				t.origins = append(t.origins, origin{int32(a), int32(b), sign})
			}
			t.links[a*n+b] = link{at, int8(sign.X), int8(sign.Y)}
		}
	}
	t.stores = make([]atomic.Pointer[relation], len(t.origins))
}

// lock puts the pieces that are locked first of their items.
func (t *table) lock(p Problem) error {
	t.locked = make([]bool, len(t.piece))
	t.start = make([]spot, len(t.piece))
	first := make([]int, len(p.Items))
	at := 0
	for i, item := range p.Items {
		first[i] = at
		at += item.Demand
	}
	used := make([]int, len(p.Items))
	for _, l := range p.Locked {
		q, err := t.spot(p, l)
		if err != nil {
			return err
		}
		if used[l.Item] == p.Items[l.Item].Demand {
			return &Error{fmt.Sprintf("more of %s are locked than the %d that are demanded", p.Items[l.Item].Name, used[l.Item]), "lock fewer of them"}
		}
		i := first[l.Item] + used[l.Item]
		used[l.Item]++
		t.locked[i], t.start[i] = true, q
	}
	return nil
}

// isLocked reports whether one of an item is locked at the spot.
func (t *table) isLocked(item int, at spot) bool {
	for i, of := range t.piece {
		if int(of) == item && t.locked[i] && t.start[i] == at {
			return true
		}
	}
	return false
}

// checkLocked returns an error when pieces that are locked overlap.
func (t *table) checkLocked(p Problem) error {
	for i := range t.start {
		for k := range i {
			if t.locked[i] && t.locked[k] && t.overlap(t.start[i], t.start[k]) {
				return &Error{fmt.Sprintf("%s and %s are locked where they overlap, or are nearer than their margins", p.Items[t.piece[i]].Name, p.Items[t.piece[k]].Name), "lock one of them only"}
			}
		}
	}
	return nil
}

// isLaid reports whether no two pieces overlap.
func (t *table) isLaid(at []spot) bool {
	for i := range at {
		for k := range i {
			if t.overlap(at[i], at[k]) {
				return false
			}
		}
	}
	return true
}

// overlap reports whether two pieces do.
func (t *table) overlap(p, q spot) bool {
	a, b := t.reach(p.shape, p.x, p.y), t.reach(q.shape, q.x, q.y)
	return a.meets(&b) && t.relation(p.shape, q.shape).depth(p.x-q.x, p.y-q.y) > t.slack*10
}

// spot returns a placement's, or says why it is none.
func (t *table) spot(p Problem, l Placement) (spot, error) {
	if l.Item < 0 || l.Item >= len(p.Items) {
		return spot{}, &Error{fmt.Sprintf("a placement is of item %d, and there are %d", l.Item, len(p.Items)), "give a placement of one of the items"}
	}
	name := p.Items[l.Item].Name
	k := slices.IndexFunc(t.poses[l.Item], func(s int32) bool { return t.shapes[s].pose == l.Pose })
	if k < 0 {
		return spot{}, &Error{fmt.Sprintf("%s has no pose %d that fits into the strip", name, l.Pose), "place it in one of its poses"}
	}
	q := spot{l.By.X, l.By.Y, t.poses[l.Item][k]}
	box := t.shapes[q.shape].box
	if slack := t.slack * 10; !(q.x+box.Min.X > -slack && q.y+box.Min.Y > -slack && q.y+box.Max.Y < t.height+slack) {
		return spot{}, &Error{fmt.Sprintf("%s is placed outside of the strip, from %.6g, %.6g to %.6g, %.6g", name, q.x+box.Min.X, q.y+box.Min.Y, q.x+box.Max.X, q.y+box.Max.Y),
			fmt.Sprintf("place it between y = 0 and %.6g, and x = 0 or more", t.height)}
	}
	return q, nil
}
