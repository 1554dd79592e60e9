package marker

import (
	"math"

	"engrail/motif/path"
)

// Layout is where everything lies, by the names of pieces: what a file keeps of a marker.
type Layout struct {
	Cloth Cloth
	Order Order
	// Sections are the lengths of the sections, ends included, in order along the cloth.
	Sections []float64
	// Places are those of all outlines.
	Places []Place
}

// Place is where an outline lies.
type Place struct {
	Piece, Size string
	Side        Side
	// Copy tells outlines of one piece and side apart, from 1; Garment is the one of its
	// size that it belongs to, from 1.
	Copy, Garment int
	// Section counts from 0.
	Section int
	// It is mirrored in the y axis, so that its left is on the right, if it is; then it is
	// turned, in radians counter-clockwise; then moved until the lower left corner of the
	// box round its outline lies at At, measured from the beginning of the section and the
	// lower edge of the cloth.
	Mirrored bool
	Turn     float64
	At       path.Point
	// Locked says that a search leaves it where it is.
	Locked bool
}

// motion returns the motion that takes a shape to the place.
func (p Place) motion(outline path.Path) path.Similarity {
	m := turned(p.Mirrored, p.Turn)
	return m.Then(path.Translation(p.At.Sub(outline.Transform(m).Bounds().Min)))
}

// turned returns the motion that mirrors in the y axis and then turns, exactly by quarter
// turns.
func turned(mirrored bool, turn float64) path.Similarity {
	sin, cos := math.Sincos(turn)
	if q := math.Round(turn / (math.Pi / 2)); math.Abs(q*math.Pi/2-turn) < sameTurn {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	m := path.Frame(path.Point{}, path.Vec{X: cos, Y: sin})
	if mirrored {
		m = path.Reflection(path.Point{}, path.Vec{Y: 1}).Then(m)
	}
	return m
}

// Length returns the length of the cloth that the layout takes.
func (l Layout) Length() (sum float64) {
	for _, s := range l.Sections {
		sum += s
	}
	return sum
}

// Marker is a job that is laid.
type Marker struct {
	Job *Job
	Layout
}

// Use returns the area of the pieces by that of the cloth that they are cut from, from 0
// to 1. What is cut out inside of an outline counts with it.
func (m *Marker) Use() float64 {
	return m.Job.area(m.Job.demand()) / (m.Cloth.Width * m.Length())
}

// demand returns how often each part is laid.
func (j *Job) demand() []int {
	all := make([]int, len(j.parts))
	for i, q := range j.parts {
		all[i] = q.demand
	}
	return all
}

// area returns the area of all pieces that the parts become.
func (j *Job) area(demand []int) (sum float64) {
	for i, n := range demand {
		q := j.parts[i]
		sum += float64(n*q.side.pieces()) * math.Abs(q.shape.Outline.Area())
	}
	return sum
}
