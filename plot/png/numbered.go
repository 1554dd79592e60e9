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
// fold, start, finish, top or other, each of which has a line of its own. Corner
// is what the corner at its start is called.
type NumberedEdge struct {
	Number int
	Word   string
	Corner string
	Path   path.Path
}

// WriteNumbered writes a picture of pieces for a person who wants to call an
// edge by its number: each is written as #1 beside the middle of its edge, with a
// leader where it has no room there, or not at all where it has none anywhere
// near. Dots with their names are the corners, between which the edges run; those
// without room near the dot are left out. A name that has no room
// in its piece or near it is left out as well.
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
	// Numbers stand outside as well.
	return write(w, pieces, box.Grow(numbersShare*max(box.Width(), box.Height())), o.Title, o)
}

// Lengths of the numbers beside edges, px at the usual size.
const (
	edgeAway  = 4   // from an edge to its number
	edgeNear  = 18  // from an edge to a number that needs no leader
	edgeReach = 480 // from an edge to a number with a leader
	crowded   = 20  // numbers without room, after which they are sought only nearby
	cornerDot = 4.5 // radius
	// cornerAway is from a corner to its name; cornerReach and cornerFar are what more
	// it may be to find room, beyond an allowance for instance.
	cornerAway, cornerReach, cornerFar = 5, 14, 44
	// numbersShare is what is left round the pieces for numbers, as a part of the
	// larger side.
	numbersShare = 0.03
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
		points, k := pc.view.polyline(e.Path), penOfEdge(e.Word).times(p.weight)
		if len(k.dash) > 0 {
			// What lies under the edge must not show between its dashes.
			p.stroke(pen{hue: paper, width: k.width + 1}, points...)
		}
		p.stroke(k, points...)
	}
	for _, e := range pc.edges {
		p.fill(ink, disc(pc.view.point(e.Path.Start()), cornerDot*p.weight)...)
	}
}

// headings writes the name of each piece, with its notes, as near to the middle of
// the piece and as large as there is room: the name alone where all of it has
// none, and beside the piece where that has none in it.
func (k *kit) headings(p *picture, r *room, pieces []piece) {
	for i, pc := range pieces {
		if len(pc.heading) == 0 {
			continue
		}
		l := label{
			lines: pc.heading, align: plot.Middle, at: pc.view.point(pc.outline.Bounds().Centre()), owner: i, in: pc.in,
		}
		for _, t := range []struct {
			size  float64
			lines []string
		}{{largeText, pc.heading}, {18, pc.heading}, {labelText, pc.heading}, {labelText, pc.heading[:1]}, {smallText, pc.heading[:1]}} {
			l.size, l.lines = t.size*k.unit, t.lines
			s := k.spot(l)
			s.centre = pc.in.clamp(l.at)
			if s, ok := k.within(r, l, s); ok {
				k.letter(p, r, l, s)
				break
			}
			if t.size == smallText {
				k.elsewhere(p, r, l)
			}
		}
	}
}

// edgeLabel is the number of an edge that is to be placed.
type edgeLabel struct {
	owner  int
	in     area
	edge   NumberedEdge
	length float64 // px
	places []anchor
}

// anchor is a place on an edge that a number can stand beside, and the direction
// into the piece there.
type anchor struct{ at, inward gg.Point }

// numberEdges writes the numbers of all edges, those of short ones first: they
// have to stand nearest.
func (k *kit) numberEdges(p *picture, r *room, pieces []piece) {
	var all []edgeLabel
	for i, pc := range pieces {
		for _, e := range pc.edges {
			ruler := path.NewRuler(e.Path)
			l := edgeLabel{owner: i, in: pc.in, edge: e, length: ruler.Length() * pc.view.scale}
			// The middle first.
			for _, t := range []float64{0.5, 0.4, 0.6, 0.25, 0.75} {
				in := ruler.TangentAt(t * ruler.Length()).Left()
				l.places = append(l.places, anchor{pc.view.point(ruler.At(t * ruler.Length())), gg.Point{X: in.X, Y: -in.Y}})
			}
			all = append(all, l)
		}
	}
	k.nameCorners(p, r, pieces)
	slices.SortStableFunc(all, func(a, b edgeLabel) int { return cmp.Compare(a.length, b.length) })
	missed := 0
	for _, l := range all {
		reaches := []float64{near, besides, edgeReach}
		if missed >= crowded {
			reaches = reaches[:1]
		}
		if !k.numberEdge(p, r, l, reaches) {
			missed++
		}
	}
}

// nameCorners writes the name of each corner inside of it or, where it has no room
// there, outside.
func (k *kit) nameCorners(p *picture, r *room, pieces []piece) {
	size, pad := labelText*k.unit, breathing*k.unit
	for i, pc := range pieces {
		for j, e := range pc.edges {
			if e.Corner == "" {
				continue
			}
			before := pc.edges[(j+len(pc.edges)-1)%len(pc.edges)].Path
			inward := e.Path.StartTangent().Left().Add(before.EndTangent().Left()).Unit()
			at := pc.view.point(e.Path.Start())
			s := spot{along: gg.Point{X: 1}, w: k.medium.width(e.Corner, size) + 2*pad, h: (capHeight+0.25)*size + 2*pad}
			away := math.Abs(inward.X)*s.w/2 + math.Abs(inward.Y)*s.h/2 + cornerAway*k.unit
			for _, side := range []struct {
				owner     int
				by, reach float64
			}{{i, away, cornerReach}, {nowhere, -away, cornerReach}, {i, away, cornerFar}, {nowhere, -away, cornerFar}} {
				s.centre = shift(at, gg.Point{X: inward.X, Y: -inward.Y}, side.by, 0)
				found, ok := r.find(s, side.owner, pc.in, side.reach*k.unit)
				if !ok {
					continue
				}
				r.takeSpot(found)
				p.write(k.medium, grey, size, gg.Point{X: found.centre.X - found.w/2 + pad, Y: found.centre.Y - found.h/2 + pad + capHeight*size}, e.Corner)
				break
			}
		}
	}
}

// numberEdge writes the number and the word of an edge where they have room near
// its middle, or the number alone, and reports whether they have within one of the
// reaches.
func (k *kit) numberEdge(p *picture, r *room, l edgeLabel, reaches []float64) bool {
	number := fmt.Sprintf("#%d", l.edge.Number)
	text, size := number+" "+l.edge.Word, labelText*k.unit
	for _, reach := range reaches {
		for _, t := range []string{text, number} {
			s, to, ok := k.besideEdge(r, l, k.medium.width(t, size), size, reach*k.unit)
			if !ok {
				continue
			}
			if from, far := nearestOf(s, to); far > edgeNear*k.unit {
				p.stroke(pen{hue: grey, width: k.unit}, from, to)
				p.fill(grey, disc(to, 2.5*k.unit)...)
				r.takeLine([]gg.Point{from, to})
			}
			r.takeSpot(s)
			pad := breathing * k.unit
			p.write(k.medium, ink, size, gg.Point{X: s.centre.X - s.w/2 + pad, Y: s.centre.Y - s.h/2 + pad + capHeight*size}, t)
			return true
		}
	}
	return false
}

// besideEdge finds a place within reach for a word beside an edge, and the place
// on the edge that it belongs to: in the piece or, where that is nearer, outside
// of all pieces; at the middle of the edge where it can be. A leader does not pass
// over lettering, nor over lines where the number can have another place.
func (k *kit) besideEdge(r *room, l edgeLabel, width, size, reach float64) (best spot, on gg.Point, ok bool) {
	pad := breathing * k.unit
	s := spot{along: gg.Point{X: 1}, w: width + 2*pad, h: (capHeight+0.25)*size + 2*pad}
	least := math.Inf(1)
	for i, a := range l.places {
		away := math.Abs(a.inward.X)*s.w/2 + math.Abs(a.inward.Y)*s.h/2 + edgeAway*k.unit
		for _, side := range []struct {
			owner   int
			inward  float64
			penalty float64
		}{
			{l.owner, away, 1}, {nowhere, -away, 1.5},
			{l.owner, away + reach/4, 1}, {nowhere, -away - reach/4, 1.5},
		} {
			at := s
			at.centre = l.in.clamp(shift(a.at, a.inward, side.inward, 0))
			found, there := r.find(at, side.owner, l.in, reach)
			if !there {
				continue
			}
			from, far := nearestOf(found, a.at)
			if far > edgeNear*k.unit && (r.meets(from, a.at, lettered) ||
				reach < edgeReach*k.unit && r.meets(from, a.at.Interpolate(from, edgeNear*k.unit/(2*far)), lined)) {
				continue
			}
			cost := side.penalty*found.centre.Distance(a.at) + float64(i)*edgeNear*k.unit
			if cost < least {
				best, on, least = found, a.at, cost
			}
		}
		if i == 0 && least < 2*edgeNear*k.unit+s.w/2 {
			break // as good as it can be
		}
	}
	return best, on, !math.IsInf(least, 1)
}

// nearestOf returns the place of an upright spot that is nearest to the point,
// and how far away it is.
func nearestOf(s spot, p gg.Point) (at gg.Point, distance float64) {
	at = area{s.centre.X - s.w/2, s.centre.Y - s.h/2, s.centre.X + s.w/2, s.centre.Y + s.h/2}.clamp(p)
	return at, at.Distance(p)
}
