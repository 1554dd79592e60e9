package marker

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot/marker/strip"
)

// Side says how an outline on the cloth becomes pieces.
type Side uint8

// The sides.
const (
	// AsDrawn is one piece, right side up.
	AsDrawn Side = iota
	// Mirrored is one piece, the mirror image of how it is drawn.
	Mirrored
	// Both is cut through both layers of a folded cloth: one piece as drawn, and one
	// mirrored.
	Both
	// OnFold is half of a piece, its edge on the fold.
	OnFold
	sides
)

var sideNames = [sides]string{"as drawn", "mirrored", "both layers", "on fold"}

// String returns the side's name in lower case.
func (s Side) String() string {
	if s < sides {
		return sideNames[s]
	}
	return "side?"
}

// pieces is how many pieces of its own area one outline is.
func (s Side) pieces() int {
	if s == Both || s == OnFold {
		return 2
	}
	return 1
}

// Job is what is to be laid: pieces that fit the cloth, as often as they are ordered.
type Job struct {
	Pieces []Piece
	Order  Order
	Cloth  Cloth
	parts  []part
}

// part is a piece on one side, laid as often as it is demanded.
type part struct {
	piece, demand int
	perGarment    int
	side          Side
	shape         Shape
	polygon       []path.Point // holds the outline
	poses         []strip.Pose
}

// New makes a job of pieces in all sizes, of which those that are ordered are laid.
//
// Errors name the piece and what would help: a piece that is wider than the cloth, or
// that crosses itself, a quantity of none, an order for a size that is not there.
func New(pieces []Piece, order Order, cloth Cloth) (*Job, error) {
	if err := cloth.check(); err != nil {
		return nil, err
	}
	if err := checkOrder(pieces, order); err != nil {
		return nil, err
	}
	j := &Job{Pieces: pieces, Order: order, Cloth: cloth}
	named := map[[2]string]bool{}
	total := 0
	for i, p := range pieces {
		if named[[2]string{p.Name, p.Size}] {
			return nil, &Error{fmt.Sprintf("two pieces are called %s", p.called()), "give each piece a name of its own"}
		}
		named[[2]string{p.Name, p.Size}] = true
		n := order.count(p.Size)
		if n == 0 {
			continue
		}
		if err := p.check(); err != nil {
			return nil, err
		}
		parts, err := j.partsOf(i, n)
		if err != nil {
			return nil, err
		}
		for k := range parts {
			if err := j.pose(&parts[k]); err != nil {
				return nil, err
			}
			total += parts[k].demand
		}
		j.parts = append(j.parts, parts...)
	}
	if total > mostPieces {
		return nil, &Error{fmt.Sprintf("the order comes to %d pieces, and a marker has %d at most", total, mostPieces), "lay fewer garments at a time"}
	}
	return j, nil
}

func checkOrder(pieces []Piece, order Order) error {
	var sizes []string
	for _, p := range pieces {
		if !slices.Contains(sizes, p.Size) {
			sizes = append(sizes, p.Size)
		}
	}
	if len(sizes) == 0 {
		return &Error{"there is no piece to lay", "choose pieces that the style has"}
	}
	if len(order) == 0 {
		return &Error{"the order is empty", "order at least one garment"}
	}
	for _, g := range order {
		switch {
		case g.Count < 1:
			return &Error{fmt.Sprintf("the order has %d garments%s", g.Count, ofSize(g.Size)), "order 1 or more, or leave the size out"}
		case g.Count > mostPieces:
			return &Error{fmt.Sprintf("the order has %d garments%s, and a marker has %d pieces at most", g.Count, ofSize(g.Size), mostPieces), "lay fewer at a time"}
		case slices.Contains(sizes, g.Size):
		case len(sizes) == 1 && sizes[0] == "":
			return &Error{fmt.Sprintf("the order is for size %s, and the pieces have one size without a name", g.Size), "order a number of garments alone, such as 2"}
		case g.Size == "":
			return &Error{"the order says no size, and the pieces have several", "order sizes, of " + strings.Join(sizes, ", ")}
		default:
			return &Error{fmt.Sprintf("the order is for size %s, which is not there", g.Size), "the sizes are " + strings.Join(sizes, ", ")}
		}
	}
	return nil
}

func ofSize(size string) string {
	if size == "" {
		return ""
	}
	return " of size " + size
}

// partsOf divides the pieces of n garments into parts.
func (j *Job) partsOf(i, n int) ([]part, error) {
	p := j.Pieces[i]
	total := n * p.Quantity
	add := func(side Side, demand, per int) part {
		q := part{piece: i, side: side, demand: demand, perGarment: per, shape: p.Whole}
		if side == OnFold {
			q.shape = *p.Half
		}
		return q
	}
	switch c := j.Cloth; {
	case !c.Folded && p.Pairs && !c.Alike:
		return []part{add(AsDrawn, n*((p.Quantity+1)/2), (p.Quantity+1)/2), add(Mirrored, n*(p.Quantity/2), p.Quantity/2)}[:min(2, p.Quantity)], nil
	case !c.Folded:
		return []part{add(AsDrawn, total, p.Quantity)}, nil
	case p.Half != nil:
		return []part{add(OnFold, total, p.Quantity)}, nil
	case !p.Pairs && !c.Alike:
		return nil, &Error{fmt.Sprintf("%s is no pair and has no edge on the fold, and folded cloth cuts everything twice, once mirrored", p.called()),
			"lay the cloth open for it"}
	case total%2 != 0:
		return nil, &Error{fmt.Sprintf("%s is cut %d times in all, and folded cloth cuts everything twice", p.called(), total),
			"order an even number of garments, or lay the cloth open"}
	}
	return []part{add(Both, total/2, p.Quantity/2)}, nil
}

// pose finds the polygon of a part, and in which poses it fits the cloth.
func (j *Job) pose(q *part) error {
	p, c := j.Pieces[q.piece], j.Cloth
	outline := q.shape.Outline
	if outline.Area() < 0 {
		outline = outline.Reverse()
	}
	var ok bool
	if q.polygon, ok = container(outline); !ok {
		return &Error{fmt.Sprintf("the outline of %s comes so near to itself that it seems to cross", p.called()), "draw it with more room between its lines"}
	}
	if q.side == OnFold {
		if err := j.holdFold(q); err != nil {
			return &Error{fmt.Sprintf("%s %v", p.called(), err), "lay the cloth open, or correct the fold in the pattern"}
		}
	}
	_, height := c.usable()
	least, short := math.Inf(1), math.Inf(1)
	for _, pose := range j.allowed(q) {
		b := path.EmptyBox()
		for _, v := range q.polygon {
			b = b.Include(pose.Apply(v))
		}
		least = min(least, b.Height())
		if b.Height() > height+path.Coincident {
			continue
		}
		short = min(short, b.Width())
		if c.Longest > 0 && b.Width()+2*c.End > c.Longest {
			continue
		}
		q.poses = append(q.poses, pose)
	}
	switch {
	case len(q.poses) > 0:
		return nil
	case math.IsInf(least, 1):
		return &Error{fmt.Sprintf("the fold of %s does not lie along its grain", p.called()), "lay the cloth open"}
	case math.IsInf(short, 1):
		problem := fmt.Sprintf("%s is %s across the grain, and cloth %s wide has room for %s", p.called(), mm(least), mm(c.Width), mm(height))
		return &tooNarrow{&Error{problem, fmt.Sprintf("cloth %.0f mm wide or wider would do", math.Ceil(c.widthFor(least)))}, p}
	}
	return &Error{fmt.Sprintf("%s is %s along the cloth, and a section of %s has room for %s", p.called(), mm(short), mm(c.Longest), mm(c.Longest-2*c.End)),
		fmt.Sprintf("a greatest length of %.0f mm or more would do", math.Ceil(short+2*c.End))}
}

// holdFold makes sure that the fold is a straight side of the piece, and takes what is
// nearer to it than half of the gap out of its polygon, where no other piece comes but
// one on the fold: what was there lies on the edge of the rest, as far along the fold, so
// that it is no further from others than it was.
func (j *Job) holdFold(q *part) error {
	fold := q.shape.Fold
	along := fold.Chord().Unit()
	if (along == path.Vec{}) {
		return errors.New("has a fold without length")
	}
	if q.shape.Outline.Bounds().Centre().Sub(fold.A).Dot(along.Left()) < 0 {
		along = along.Neg()
	}
	toFold := path.Frame(fold.A, along)
	level := path.Rotation(fold.A, -along.Angle()).Then(path.Translation(path.Point{}.Sub(fold.A)))
	if beyond := -q.shape.Outline.Transform(level).Bounds().Min.Y; beyond > straightFold {
		return fmt.Errorf("reaches %s beyond its fold", mm(beyond))
	}
	keep := j.Cloth.Gap / 2
	points := make([]path.Point, len(q.polygon))
	for i, v := range q.polygon {
		points[i] = level.Apply(v)
	}
	points = lifted(points, keep)
	if !path.Closed(points...).Simple() {
		return errors.New("has lines too near to its fold")
	}
	for i, v := range points {
		points[i] = toFold.Apply(v)
	}
	q.polygon = points
	return nil
}

// lifted returns a counter-clockwise polygon with what is lower than y lifted to it: each
// run of its points below becomes the stretch of that line over which it reaches.
func lifted(points []path.Point, y float64) []path.Point {
	n := len(points)
	first := slices.IndexFunc(points, func(p path.Point) bool { return p.Y >= y })
	if first < 0 {
		return points
	}
	var out []path.Point
	low, high := math.Inf(1), math.Inf(-1) // of the run so far
	reach := func(x float64) { low, high = min(low, x), max(high, x) }
	for k := range n {
		p, next := points[(first+k)%n], points[(first+k+1)%n]
		above, after := p.Y >= y, next.Y >= y
		if above {
			out = append(out, p)
		} else {
			reach(p.X)
		}
		if above != after {
			reach(p.X + (next.X-p.X)*(y-p.Y)/(next.Y-p.Y))
		}
		if !above && after {
			for _, x := range []float64{low, high} {
				if at := (path.Point{X: x, Y: y}); at.Dist(out[len(out)-1]) > path.Coincident && at.Dist(next) > path.Coincident {
					out = append(out, at)
				}
			}
			low, high = math.Inf(1), math.Inf(-1)
		}
	}
	return out
}

// allowed returns the poses that the cloth allows a part, of which not all may fit.
func (j *Job) allowed(q *part) []strip.Pose {
	p, c := j.Pieces[q.piece], j.Cloth
	var all []strip.Pose
	if len(p.Turns) > 0 {
		for _, t := range p.Turns {
			all = append(all, strip.Pose{Mirrored: q.side == Mirrored, Turn: t})
		}
		return all
	}
	ways := map[Direction][]float64{OneWay: {0}, TwoWay: {0, math.Pi}, AnyWay: {0, math.Pi / 2, math.Pi, -math.Pi / 2}}[c.Direction]
	tilts := []float64{0}
	if c.Tilt > 0 && q.side != OnFold {
		tilts = append(tilts, c.Tilt, -c.Tilt, c.Tilt/2, -c.Tilt/2)
	}
	mirrors := []bool{q.side == Mirrored}
	if q.side == Both || q.side == OnFold || c.Alike {
		mirrors = []bool{false, true}
	}
	for _, mirrored := range mirrors {
		image := func(v path.Vec) path.Vec {
			if mirrored {
				v.X = -v.X
			}
			return v
		}
		along := image(q.shape.Along)
		for _, way := range ways {
			turn := way - along.Angle()
			if q.side == OnFold {
				// The fold is laid exactly, whichever way it runs, with the piece above it.
				fold := image(q.shape.Fold.Chord())
				if math.Cos(fold.Angle()+turn) < 0 {
					fold = fold.Neg()
				}
				if off := math.Remainder(fold.Angle()+turn, 2*math.Pi); math.Abs(off) > foldAlong {
					continue
				}
				turn = -fold.Angle()
				pose := strip.Pose{Mirrored: mirrored, Turn: turn, Low: true}
				if pose.Apply(q.shape.Outline.Bounds().Centre()).Y > pose.Apply(q.shape.Fold.A).Y {
					all = append(all, pose)
				}
				continue
			}
			for _, tilt := range tilts {
				all = append(all, strip.Pose{Mirrored: mirrored, Turn: math.Remainder(turn+tilt, 2*math.Pi)})
			}
		}
	}
	return all
}

// margin is what the search keeps clear round a part: two of them are the gap, or more
// for a piece that is kept apart.
func (j *Job) margin(q *part) float64 {
	return max(j.Cloth.Gap, j.Pieces[q.piece].Apart) - j.Cloth.Gap/2
}
