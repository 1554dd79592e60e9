package facing

import (
	"errors"
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// TurnOfCloth returns the favour in mm that a cloth of the thickness needs: what
// is rolled over another layer through half a turn is longer than that by pi
// times the distance of their middle lines. Cloth of 0.5 mm needs 1.6 mm, cloth of
// 1 mm 3.1 mm, as is usual: 1/16 in for light cloth (from memory), 1/8 in and
// more for heavier (J. Barlup, "Understand Turn-of-Cloth", Threads 131). No thickness
// needs none.
func TurnOfCloth(thickness float64) float64 { return math.Pi * thickness }

// Favour compares the hems of a panel's garment piece and facing, in mm.
type Favour struct {
	// Inward is how far the facing's hem lies inward of the hem as fitted, Outward how
	// far the garment's lies outward of it: their sum is the favour.
	Inward, Outward float64
	// GarmentLength and FacingLength are the lengths of the two stitching lines, of
	// half of a piece when half is drafted.
	GarmentLength, FacingLength float64
	// PerRepeat is by how much the garment's stitching line is longer, for each
	// repeat: it is eased in when the two are sewn. Negative says that the facing's
	// is longer. On a hem without a motif it is 0.
	PerRepeat float64
}

// outward returns how far garments are moved out at the hem.
func (o Options) outward() float64 {
	if o.FavourBoth && o.Depth > 0 {
		return o.Favour / 2
	}
	return 0
}

// favours compares the hems of garments and facings, and warns where a favour
// changes what the motif looks like.
func (m *Made) favours(drafted, r *fit.Result, o Options) {
	for i, f := range r.Panels {
		out := o.outward()
		v := Favour{
			Inward: o.Favour - out, Outward: out,
			GarmentLength: m.Garments[i].Edges[0].Net.Length(), FacingLength: m.Facings[i].Edges[0].Net.Length(),
		}
		if n := float64(f.Repeats); n > 0 {
			if f.Panel.OnFold() {
				n /= 2
			}
			v.PerRepeat = (v.GarmentLength - v.FacingLength) / n
		}
		m.Favours = append(m.Favours, v)
		warn := func(code, format string, args ...any) {
			m.Warnings = append(m.Warnings, fit.Warning{Code: code, Message: fmt.Sprintf(format, args...), Where: f.Panel.Name})
		}
		if o.Favour > favourShare*f.Spec.Depth {
			warn("favour-shape", "the favour of %.1f mm is more than half of the motif's depth of %.1f mm, so that the facing's shape is no longer the garment's; 1 to 3 mm is usual",
				o.Favour, f.Spec.Depth)
		}
		filled := 0.0
		for k, at := range f.Valleys {
			filled = max(filled, at.Point.Sub(drafted.Panels[i].Valleys[k].Point).Dot(at.Out))
		}
		if filled > filledValley && filled > 2*out {
			warn("favour-valleys", "moved out by its half of the favour, %.1f mm, the garment has valleys that are %.1f mm less deep, so narrow are they; put the favour on the facing alone, or leave a flat between the motifs",
				out, filled)
		}
	}
}

// grown returns the fit with the garment's half of the favour: every hem moved
// outward, the sides led on straight to meet it, and all places on the hem moved
// with it. Tips stay sharp.
func grown(r *fit.Result, o Options) (*fit.Result, error) {
	var nets []Piece
	for _, f := range r.Panels {
		nets = append(nets, garmentNet(f, o))
	}
	hems, err := movedHems(nets, r.Seams, leads(nets, r.Seams, Mirrored), -o.outward())
	if err != nil {
		return nil, err
	}
	larger := *r
	larger.Panels = nil
	for i, f := range r.Panels {
		larger.Panels = append(larger.Panels, withHem(f, hems[i], o.outward()))
	}
	return &larger, nil
}

// withHem returns the fitted panel with its hem moved outward.
func withHem(f fit.Fitted, hem path.Path, outward float64) fit.Fitted {
	moved := func(places []fit.Place) []fit.Place {
		search := edgeSearch{line: hem}
		all := make([]fit.Place, len(places))
		for i, v := range places {
			all[i] = v
			if !hem.Closed {
				if v.Point.Dist(f.Edge.Start()) < joinGap {
					all[i].Point = hem.Start()
					continue
				}
				if v.Point.Dist(f.Edge.End()) < joinGap {
					all[i].Point = hem.End()
					continue
				}
			}
			// A narrow valley fills by more than the motif moves, a sharp tip moves by
			// more.
			all[i].Point = v.Point.Add(v.Out.Mul(outward))
			if on, ok := search.beyond(v.Point, v.Out, f.Spec.Depth+path.DefaultMitreLimit*outward); ok {
				all[i].Point = on
			}
		}
		return all
	}
	f.Valleys, f.Peaks = moved(f.Valleys), moved(f.Peaks)
	f.Edge = hem
	net := append([]fit.Edge(nil), f.Net...)
	net[0].Path = hem
	f.Net = net
	if hem.Closed {
		return f
	}
	last := len(net) - 1
	on := hem.End().Dist(net[1].Path.Start())
	net[1].Path = fromCorner(net[1].Path, hem.End())
	net[last].Path = fromCorner(net[last].Path.Reverse(), hem.Start()).Reverse()
	f.Notches = append([]fit.Notch(nil), f.Notches...)
	for i := range f.Notches {
		if f.Notches[i].Edge == 1 {
			f.Notches[i].At += on
		}
	}
	return f
}

// fromCorner returns the side, run up from the hem, begun at another corner
// straight below its own.
func fromCorner(side path.Path, corner path.Point) path.Path {
	if !side.Segment(0).IsLine() {
		return path.Join(0, path.Open(corner), side)
	}
	side.V = append([]path.Vertex(nil), side.V...)
	side.V[0].Point = corner
	return side
}

// movedHems returns the hems of the pieces moved inward, or outward when it is
// negative. Where the hem turns at a seam, the two that meet there would end at
// heights of their own; both take the mean.
func movedHems(pieces []Piece, seams []fit.SeamReport, led []map[int][2]lead, inward float64) ([]path.Path, error) {
	hems := make([]path.Path, len(pieces))
	if inward == 0 {
		for i, g := range pieces {
			hems[i] = g.Edges[0].Net
		}
		return hems, nil
	}
	corner, whose, hint := path.Corner{}, " facing", "lessen the favour or make the motif shallower"
	if inward < 0 {
		corner.Kind, whose, hint = path.Mitred, "", "lessen the favour or put it on the facing alone"
	}
	// The sides beside each hem, from the piece's corner up, and how far up
	// them the moved hem ends.
	sides := make([][2]flank, len(hems))
	heights := make([][2]float64, len(hems))
	for i, g := range pieces {
		if g.round() {
			hem := Edge{Name: g.Edges[0].Name, Net: g.Edges[0].Net, Allowance: -inward}
			if err := hem.moveClosed(corner); err != nil {
				return nil, &Error{Piece: g.Name + whose, Hint: hint, Cause: err}
			}
			hems[i] = hem.Cut
			continue
		}
		before, after := g.Edges[len(g.Edges)-1], g.Edges[1]
		hem, err := moveHem(g, led[i][0], inward, corner)
		if err != nil {
			return nil, &Error{Piece: g.Name + whose, Hint: hint + ": beside a side that leans in it lies across the line of the side", Cause: err}
		}
		hems[i] = hem
		sides[i] = [2]flank{{path.NewRuler(before.Net.Reverse())}, {path.NewRuler(after.Net)}}
		for end, q := range [2]path.Point{hem.Start(), hem.End()} {
			heights[i][end] = sides[i][end].height(q)
		}
	}
	for _, s := range seams {
		a, b := s.Seam.A, s.Seam.B
		ha, hb := heights[a.Panel][a.End], heights[b.Panel][b.End]
		if math.Abs(ha-hb) < joinGap {
			continue
		}
		for _, e := range []fit.EndRef{a, b} {
			hems[e.Panel] = withEnd(hems[e.Panel], e.End, sides[e.Panel][e.End].at((ha+hb)/2))
		}
	}
	return hems, nil
}

// flank is a side as run up from the hem; below its corner it goes on straight.
type flank struct{ up *path.Ruler }

// height returns how far up the side the point is, negative below the corner.
func (s flank) height(q path.Point) float64 {
	if below := s.up.At(0).Sub(q).Dot(s.up.TangentAt(0)); below > 0 {
		return -below
	}
	h, _ := s.up.Nearest(q)
	return h
}

// at returns the point of the side at the height.
func (s flank) at(height float64) path.Point {
	if height < 0 {
		return s.up.At(0).Add(s.up.TangentAt(0).Mul(height))
	}
	return s.up.At(height)
}

// withEnd moves one end of the hem a little, to the point, by a straight line
// that leaves the hem twenty times as far from its end.
func withEnd(hem path.Path, e fit.End, end path.Point) path.Path {
	r := path.NewRuler(hem)
	if e == fit.Start {
		from := 20 * end.Dist(hem.Start())
		return path.Join(0, path.Open(end), r.Sub(from, r.Length()))
	}
	to := r.Length() - 20*end.Dist(hem.End())
	return path.Join(0, r.Sub(0, to), path.Open(end))
}

// moveHem returns the hem moved inward by the distance, outward when it is negative,
// from side to side: its ends lie on the lines of the sides. A deep motif may
// cross its own image on a side that leans in; the hem is then led on along
// itself.
func moveHem(p Piece, led [2]lead, inward float64, corner path.Corner) (path.Path, error) {
	hem, err := moveHemLed(p, led, inward, corner)
	if err != nil {
		hem, err = moveHemLed(p, [2]lead{}, inward, corner)
	}
	return hem, err
}

func moveHemLed(p Piece, led [2]lead, inward float64, corner path.Corner) (path.Path, error) {
	m, err := moveEdge(Edge{Net: p.Edges[0].Net, Allowance: -inward}, 0, led, corner)
	if err != nil {
		return path.Path{}, err
	}
	// The sides as run there, from a little beyond the hem, so that a hem moved
	// by a hair still meets them. One moved outward meets them there alone, in a narrow
	// valley as far out as its motifs are deep.
	on := 1.0
	if inward < 0 {
		box := m.Path().Bounds()
		on += box.Width() + box.Height()
	}
	last := p.Edges[len(p.Edges)-1].Net
	before := path.Join(path.Coincident, last, path.Open(last.End(), last.End().Add(last.EndTangent().Mul(on))))
	next := p.Edges[1].Net
	after := path.Join(path.Coincident, path.Open(next.Start().Add(next.StartTangent().Mul(-on)), next.Start()), next)
	_, from, ok1 := meet(path.NewRuler(before), m, last.End(), nearestCorner)
	to, _, ok2 := meet(m, path.NewRuler(after), next.Start(), nearestCorner)
	if !ok1 || !ok2 || from >= to {
		return path.Path{}, errors.New("moved by the favour, the hem does not reach its sides")
	}
	return m.Sub(from, to), nil
}
