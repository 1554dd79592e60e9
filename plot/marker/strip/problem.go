package strip

import (
	"math"
	"time"

	"engrail/motif/path"
)

// Problem is what is to be laid on a strip.
type Problem struct {
	// Height is the strip's, from y = 0 up.
	Height float64
	Items  []Item
	// Locked are placements that stay where they are. They count to the demand of their
	// items.
	Locked []Placement
}

// Item is an outline that is laid as often as it is demanded.
type Item struct {
	// Name is for errors.
	Name string
	// Outline is a closed ring without its first point again at the end, either way
	// round, that does not cross itself.
	Outline []path.Point
	// Poses are the ways in which it may lie, at least one.
	Poses  []Pose
	Demand int
	// Margin is how much is kept free around it: two outlines stay apart by the sum of
	// their margins. To the strip's own sides and its start nothing is kept.
	Margin float64
}

// Pose is a way in which an outline lies: mirrored in the y axis, so that its left is
// on the right, and then turned about the origin, in radians counter-clockwise.
type Pose struct {
	Mirrored bool
	Turn     float64
	// Low says that its lowest point has to lie on y = 0, High that its highest point
	// has to lie on the strip's height: an edge there lies on the strip's side.
	Low, High bool
}

// Apply returns where the pose puts a point.
func (p Pose) Apply(q path.Point) path.Point {
	if p.Mirrored {
		q.X = -q.X
	}
	sin, cos := p.sincos()
	return path.Point{X: q.X*cos - q.Y*sin, Y: q.X*sin + q.Y*cos}
}

// sincos is exact for quarter turns, so that what is straight stays straight.
func (p Pose) sincos() (sin, cos float64) {
	sin, cos = math.Sincos(p.Turn)
	if q := math.Round(p.Turn / (math.Pi / 2)); math.Abs(q*math.Pi/2-p.Turn) < exactTurn {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	return sin, cos
}

// Placement is one outline in its place: in one of its item's poses, then moved.
type Placement struct {
	Item, Pose int
	By         path.Vec
}

// Layout is where everything lies.
type Layout struct {
	// Length is that of the strip that is used, from x = 0.
	Length float64
	// Placements are those of all items in order, as many as each is demanded.
	Placements []Placement
}

// Options say how long to search and how.
type Options struct {
	// Level is the effort from 1 to 9, each four times the one before, and more for many
	// pieces; the same problem, level and seed give the same layout. With Time it is not used.
	Level int
	// Time is how long to search, 0 for by level.
	Time time.Duration
	Seed uint64
	// Start is a layout to go on from; it may be left out.
	Start []Placement
	// Progress is told of every better layout, one call at a time; it may be left out.
	Progress func(Progress)
}

// Progress is how far a search has come.
type Progress struct {
	Length float64
	// Density is the area of all items by the area of the strip that they take.
	Density float64
	Elapsed time.Duration
	// Done is the share of the effort that is spent, from 0 to 1.
	Done float64
}

// Error says what is wrong with a problem, and what would work.
type Error struct{ Problem, Hint string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Remedy returns what would work.
func (e *Error) Remedy() string { return e.Hint }
