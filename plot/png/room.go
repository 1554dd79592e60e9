package png

import (
	"math"
	"slices"

	"github.com/fogleman/gg"

	"engrail/motif/path"
)

// nowhere is the owner of the picture outside all pieces.
const nowhere = -1

// use says what a cell is taken by.
type use uint8

const (
	unused use = iota
	lined
	lettered
)

// room knows in small square cells where the picture is taken and whose
// inside it is, to find places for lettering.
type room struct {
	cell       float64
	cols, rows int
	taken      []use
	owner      []int
	bounds     map[int]path.Box // of each owner's ground, px
}

func newRoom(width, height, cell float64) *room {
	r := &room{cell: cell, cols: int(width/cell) + 1, rows: int(height/cell) + 1, bounds: map[int]path.Box{}}
	r.taken = make([]use, r.cols*r.rows)
	r.owner = make([]int, r.cols*r.rows)
	for i := range r.owner {
		r.owner[i] = nowhere
	}
	return r
}

// index returns the cell at the point, -1 outside the picture.
func (r *room) index(p gg.Point) int {
	x, y := math.Floor(p.X/r.cell), math.Floor(p.Y/r.cell)
	if !(x >= 0 && y >= 0 && x < float64(r.cols) && y < float64(r.rows)) {
		return -1
	}
	return int(y)*r.cols + int(x)
}

func (r *room) take(p gg.Point, u use) {
	if i := r.index(p); i >= 0 {
		r.taken[i] = u
	}
}

// follow calls visit with points along the line less than a cell apart.
func (r *room) follow(points []gg.Point, visit func(gg.Point)) {
	for i, p := range points {
		visit(p)
		if i == 0 {
			continue
		}
		q := points[i-1]
		n := int(q.Distance(p)/(r.cell/2)) + 1
		for j := 1; j < n; j++ {
			visit(q.Interpolate(p, float64(j)/float64(n)))
		}
	}
}

func (r *room) takeLine(points []gg.Point) {
	r.follow(points, func(p gg.Point) { r.take(p, lined) })
}

// meets reports whether the line passes a cell of the use.
func (r *room) meets(a, b gg.Point, u use) bool {
	met := false
	r.follow([]gg.Point{a, b}, func(p gg.Point) {
		i := r.index(p)
		met = met || i >= 0 && r.taken[i] == u
	})
	return met
}

// own makes the inside of the outlines the owner's.
func (r *room) own(loops [][]gg.Point, owner int) {
	b := path.EmptyBox()
	for _, l := range loops {
		for _, p := range l {
			b = b.Include(path.Point(p))
		}
	}
	r.bounds[owner] = b
	var xs []float64
	for row := max(0, int(b.Min.Y/r.cell)); row < r.rows && float64(row)*r.cell <= b.Max.Y; row++ {
		y := (float64(row) + 0.5) * r.cell
		xs = xs[:0]
		for _, l := range loops {
			for i := range l {
				a, b := l[i], l[(i+1)%len(l)]
				if (a.Y > y) != (b.Y > y) {
					xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			for c := max(0, int(xs[i]/r.cell)); c < r.cols && (float64(c)+0.5)*r.cell < xs[i+1]; c++ {
				r.owner[row*r.cols+c] = owner
			}
		}
	}
}

// spot is a rectangle for lettering.
type spot struct {
	centre, along gg.Point
	w, h          float64
}

// area is the part of the picture in which lettering may be placed.
type area struct{ x0, y0, x1, y1 float64 }

func (a area) inset(d float64) area { return area{a.x0 + d, a.y0 + d, a.x1 - d, a.y1 - d} }

// clamp returns the point of the area that is nearest to p.
func (a area) clamp(p gg.Point) gg.Point {
	return gg.Point{X: min(max(p.X, a.x0), a.x1), Y: min(max(p.Y, a.y0), a.y1)}
}

// samples calls visit with points of the spot less than a cell apart, until it
// returns false.
func (r *room) samples(s spot, visit func(gg.Point) bool) bool {
	nx, ny := math.Ceil(s.w/r.cell), math.Ceil(s.h/r.cell)
	for j := 0.0; j <= ny; j++ {
		for i := 0.0; i <= nx; i++ {
			if !visit(shift(s.centre, s.along, (i/nx-0.5)*s.w, (j/ny-0.5)*s.h)) {
				return false
			}
		}
	}
	return true
}

// free reports whether the spot lies in the area, on the owner's ground, and
// over nothing.
func (r *room) free(s spot, owner int, in area) bool {
	free := func(p gg.Point) bool {
		if p.X < in.x0 || p.X > in.x1 || p.Y < in.y0 || p.Y > in.y1 {
			return false
		}
		i := r.index(p)
		return i >= 0 && r.taken[i] == unused && r.owner[i] == owner
	}
	// The corners decide most cases.
	for _, x := range []float64{-s.w / 2, s.w / 2} {
		for _, y := range []float64{-s.h / 2, s.h / 2} {
			if !free(shift(s.centre, s.along, x, y)) {
				return false
			}
		}
	}
	return r.samples(s, free)
}

func (r *room) takeSpot(s spot) {
	r.samples(s, func(p gg.Point) bool { r.take(p, lettered); return true })
}

// find returns the free spot nearest to the one given, no further away than
// reach.
func (r *room) find(s spot, owner int, in area, reach float64) (spot, bool) {
	if b, ok := r.bounds[owner]; ok && min(s.w, s.h) > min(b.Width(), b.Height()) {
		return s, false
	}
	step := 2 * r.cell
	at := s.centre
	best := reach * reach
	found := false
	result := s
	try := func(dx, dy float64) {
		d := dx*dx + dy*dy
		if d >= best {
			return
		}
		s.centre = gg.Point{X: at.X + dx, Y: at.Y + dy}
		if r.free(s, owner, in) {
			best, result, found = d, s, true
		}
	}
	// Square rings; the nearest spot of a ring may lie in a corner, beyond the
	// sides of the next rings.
	for ring := 0.0; ring*ring <= best; ring += step {
		for k := -ring; k <= ring; k += step {
			try(k, -ring)
			try(k, ring)
			try(-ring, k)
			try(ring, k)
		}
	}
	return result, found
}

// across returns how far a spot that starts at the point may have to go to
// come to any place of the owner's: 0 when it owns nothing.
func (r *room) across(from gg.Point, owner int) float64 {
	b := r.bounds[owner]
	if b.Empty() {
		return 0
	}
	x := max(math.Abs(b.Min.X-from.X), math.Abs(b.Max.X-from.X))
	y := max(math.Abs(b.Min.Y-from.Y), math.Abs(b.Max.Y-from.Y))
	return math.Hypot(x, y) + r.cell
}
