package png

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/fogleman/gg"

	"engrail/motif/path"
	"engrail/plot"
)

// Numbered is a pattern piece in a picture in which the edges are numbered.
type Numbered struct {
	// Name stands at the middle of the piece, and under it the notes.
	Name  string
	Notes []string
	// Outline is closed. Stitch is the stitching line inside of it, closed; what
	// lies between the two is shaded. It has no vertices when there is none.
	Outline, Stitch path.Path
	// Edges are those of the stitching line, or else of the outline, each of them
	// counter-clockwise round the piece.
	Edges []NumberedEdge
	// Lines are all others: grain, notches, what is drawn inside.
	Lines []plot.Line
	// Nested are the outlines of the piece's other sizes.
	Nested []path.Path
}

// NumberedEdge is an edge from corner to corner. Its word says what it is: hem,
// fold, start, finish, top or other, each of which has a line of its own.
type NumberedEdge struct {
	Number int
	Word   string
	Path   path.Path
}

// WriteNumbered writes a picture of pieces for a person who wants to call an
// edge by its number: each is written as #1 beside the middle of its edge, with a
// leader where it has no room there, or not at all where it has none anywhere
// near. Dots are the corners, between which the edges run.
//
// Pieces without lines, numbers that are not finite, and pieces so large that a
// pixel would stand for more than a metre are errors. The options' captions
// stand beside the pieces.
func WriteNumbered(w io.Writer, numbered []Numbered, o Options) error {
	var pieces []piece
	box := path.EmptyBox()
	for _, n := range numbered {
		pc := piece{kind: "garment", outline: n.Outline, stitch: n.Stitch, nested: n.Nested, edges: n.Edges, heading: append([]string{n.Name}, n.Notes...)}
		own, _, err := collect(plot.Drawing{Groups: []plot.Group{{Label: n.Name, Lines: n.Lines}}})
		if err != nil {
			return err
		}
		pc.lines = own[0].lines
		shown := slices.Concat([]path.Path{n.Outline, n.Stitch}, n.Nested)
		for _, e := range n.Edges {
			shown = append(shown, e.Path)
		}
		for _, l := range pc.lines {
			shown = append(shown, l.Path)
		}
		for _, p := range shown {
			if !p.Finite() {
				return fmt.Errorf("png: the piece %q has a coordinate that is not a number or not finite; check the numbers that it is made from", n.Name)
			}
			box = box.Union(p.Bounds())
		}
		pieces = append(pieces, pc)
	}
	return write(w, pieces, box, o.Title, o)
}

// Lengths of the numbers beside edges, px at the usual size.
const (
	edgeAway  = 4   // from an edge to its number
	edgeNear  = 18  // from an edge to a number that needs no leader
	edgeReach = 480 // from an edge to a number with a leader
	cornerDot = 4.5 // radius
)

// edgeWords are the words of edges that have a line of their own, in the order
// of the legend.
func edgeWords() []string { return []string{"hem", "fold", "start", "finish", "top", "other"} }

// penOfEdge returns the pen of an edge with the word. No two differ in colour
// alone.
func penOfEdge(word string) pen {
	switch word {
	case "hem":
		return pen{hue: red, width: 4.6}
	case "fold":
		return pen{hue: ink, width: 2.6, dash: []float64{20, 5, 3, 5}}
	case "start":
		return pen{hue: green, width: 3.2, dash: []float64{15, 6}}
	case "finish":
		return pen{hue: blue, width: 3.2, dash: []float64{6, 5}}
	case "top":
		return pen{hue: ink, width: 2.2}
	}
	return pen{hue: grey, width: 2.8, dash: []float64{dot, 6}}
}

// The pens of the outline when the stitching line has the edges, and of the
// outlines of other sizes.
func cutPen() pen    { return pen{hue: ink, width: 1.2} }
func nestedPen() pen { return pen{hue: grey, width: 1, dash: []float64{3, 3}} }

// numberedLegend returns what occurs in the pieces beside the lines with roles.
func numberedLegend(pieces []piece) (all []entry) {
	words := map[string]bool{}
	var cut, nested bool
	for _, p := range pieces {
		for _, e := range p.edges {
			words[e.Word] = true
		}
		cut = cut || len(p.stitch.V) > 0
		nested = nested || len(p.nested) > 0
	}
	if len(words) == 0 {
		return nil
	}
	names := map[string]string{"start": "start of the hem", "finish": "finish of the hem", "other": "other edge"}
	for _, w := range edgeWords() {
		if words[w] {
			all = append(all, entry{name: cmp.Or(names[w], w), pen: penOfEdge(w)})
		}
	}
	all = append(all, entry{name: "corner", corner: true})
	if cut {
		all = append(all, entry{name: "cut line", pen: cutPen()}, entry{name: "allowance", tint: facing})
	}
	if nested {
		all = append(all, entry{name: "other sizes", pen: nestedPen()})
	}
	return all
}

// allowance shades what lies between the outline and the stitching line.
func (p *picture) allowance(pc piece) {
	if len(pc.stitch.V) > 0 {
		p.items = append(p.items, item{
			pen: pen{hue: facing}, points: pc.view.polyline(pc.outline), holes: [][]gg.Point{pc.view.polyline(pc.stitch)},
		})
	}
}

// under draws what lies under the other lines of a numbered piece.
func (p *picture) under(pc piece) {
	for _, n := range pc.nested {
		p.items = append(p.items, item{pen: nestedPen().times(p.weight), points: pc.view.polyline(n), closed: n.Closed})
	}
	if len(pc.stitch.V) > 0 {
		p.items = append(p.items, item{pen: cutPen().times(p.weight), points: pc.view.polyline(pc.outline), closed: true})
	}
}

// over draws the edges and the corners of a numbered piece.
func (p *picture) over(pc piece) {
	for _, e := range pc.edges {
		p.stroke(penOfEdge(e.Word).times(p.weight), pc.view.polyline(e.Path)...)
	}
	for _, e := range pc.edges {
		p.fill(ink, disc(pc.view.point(e.Path.Start()), cornerDot*p.weight)...)
	}
}

// edgeLabel is the number of an edge that is to be placed.
type edgeLabel struct {
	owner  int
	in     area
	edge   NumberedEdge
	length float64  // px
	middle gg.Point // of the edge
	inward gg.Point
}

// numberEdges writes the numbers of all edges, those of short ones first: they
// have to stand nearest.
func (k *kit) numberEdges(p *picture, r *room, pieces []piece) {
	var all []edgeLabel
	for i, pc := range pieces {
		for _, e := range pc.edges {
			ruler := path.NewRuler(e.Path)
			half := ruler.Length() / 2
			in := ruler.TangentAt(half).Left()
			all = append(all, edgeLabel{i, pc.in, e, 2 * half * pc.view.scale, pc.view.point(ruler.At(half)), gg.Point{X: in.X, Y: -in.Y}})
		}
	}
	slices.SortStableFunc(all, func(a, b edgeLabel) int { return cmp.Compare(a.length, b.length) })
	for _, l := range all {
		k.numberEdge(p, r, l)
	}
}

// numberEdge writes the number and the word of an edge where they have room near
// its middle, or the number alone.
func (k *kit) numberEdge(p *picture, r *room, l edgeLabel) {
	number := fmt.Sprintf("#%d", l.edge.Number)
	text, size := number+" "+l.edge.Word, labelText*k.unit
	for _, reach := range []float64{near, besides, edgeReach} {
		for _, t := range []string{text, number} {
			if s, ok := k.besideEdge(r, l, k.medium.width(t, size), size, reach*k.unit); ok {
				k.edgeLeader(p, r, l, s)
				r.takeSpot(s)
				pad := breathing * k.unit
				p.write(k.medium, ink, size, gg.Point{X: s.centre.X - s.w/2 + pad, Y: s.centre.Y - s.h/2 + pad + capHeight*size}, t)
				return
			}
		}
	}
}

// besideEdge finds a place within reach for a word beside an edge: in the piece
// or, where that is nearer, outside of all pieces.
func (k *kit) besideEdge(r *room, l edgeLabel, width, size, reach float64) (spot, bool) {
	pad := breathing * k.unit
	s := spot{along: gg.Point{X: 1}, w: width + 2*pad, h: (capHeight+0.25)*size + 2*pad}
	away := math.Abs(l.inward.X)*s.w/2 + math.Abs(l.inward.Y)*s.h/2 + edgeAway*k.unit
	best, least := s, math.Inf(1)
	for _, side := range []struct {
		owner   int
		inward  float64
		penalty float64
	}{{l.owner, 1, 1}, {nowhere, -1, 1.5}} {
		at := s
		at.centre = l.in.clamp(gg.Point{X: l.middle.X + side.inward*away*l.inward.X, Y: l.middle.Y + side.inward*away*l.inward.Y})
		found, ok := r.find(at, side.owner, l.in, reach)
		if !ok {
			continue
		}
		cost := side.penalty * found.centre.Distance(l.middle)
		if from, far := nearestOf(found, l.middle); far > edgeNear*k.unit && r.meets(from, l.middle, lettered) {
			cost += reach
		}
		if cost < least {
			best, least = found, cost
		}
	}
	return best, !math.IsInf(least, 1)
}

// nearestOf returns the place of an upright spot that is nearest to the point,
// and how far away it is.
func nearestOf(s spot, p gg.Point) (at gg.Point, distance float64) {
	at = area{s.centre.X - s.w/2, s.centre.Y - s.h/2, s.centre.X + s.w/2, s.centre.Y + s.h/2}.clamp(p)
	return at, at.Distance(p)
}

// edgeLeader draws a line from a number to its edge if it stands far from it.
func (k *kit) edgeLeader(p *picture, r *room, l edgeLabel, s spot) {
	from, far := nearestOf(s, l.middle)
	if far <= edgeNear*k.unit {
		return
	}
	p.stroke(pen{hue: grey, width: k.unit}, from, l.middle)
	p.fill(grey, disc(l.middle, 2.5*k.unit)...)
	r.takeLine([]gg.Point{from, l.middle})
}
