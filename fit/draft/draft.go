package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// Form is what a panel has beside its measures. The zero value drafts one
// whole panel between two seams, without allowances.
type Form struct {
	// Name and Size are the panel's.
	Name, Size string
	// Quantity is how many to cut; 0 stands for 1.
	Quantity int
	// Half drafts only the right half of the panel. Its start side is then the
	// panel's middle: vertical, and square to the hem and the top.
	Half bool
	// Start is the side at the hem's left end, Finish that at its right end.
	Start, Finish Side
	// HemAllowance and TopAllowance are widths in mm.
	HemAllowance, TopAllowance float64
}

// Side is what a side of a panel is.
type Side struct {
	// Role is a seam, a fold or an opening. [fit.OtherEdge] stands for the
	// usual: a fold at the middle of a half, otherwise a seam.
	Role fit.Role
	// Allowance is its width in mm, 0 on a fold.
	Allowance float64
	// Notches are the distances of its notches from the hem, in mm along the
	// side.
	Notches []float64
}

// The names of a drafted panel's edges, in their order.
const (
	HemName    = "hem"
	FinishName = "finish"
	TopName    = "top"
	StartName  = "start"
)

// panel assembles the panel from its hem, drawn from left to right, and its
// top, drawn from right to left; straight sides join them.
func (f Form) panel(hem, top path.Path) (fit.Panel, error) {
	start, err := f.Start.settle(StartName, f.Half)
	if err != nil {
		return fit.Panel{}, err
	}
	finish, err := f.Finish.settle(FinishName, false)
	if err != nil {
		return fit.Panel{}, err
	}
	if start.Role == fit.FoldEdge && !f.Half {
		return fit.Panel{}, refuse("draft its half", "the start is a fold, but the panel is drafted whole")
	}
	for _, a := range []struct {
		what  string
		width float64
	}{{"hem allowance", f.HemAllowance}, {"top allowance", f.TopAllowance}} {
		if err := width(a.what, a.width); err != nil {
			return fit.Panel{}, err
		}
	}
	if f.Quantity < 0 {
		return fit.Panel{}, refuse("cut at least 1", "the quantity is %d", f.Quantity)
	}

	right := path.Open(hem.End(), top.Start())
	left := path.Open(top.End(), hem.Start())
	p := fit.Panel{
		Name: f.Name, Size: f.Size, Quantity: max(1, f.Quantity),
		Edges: []fit.Edge{
			{Name: HemName, Role: fit.HemEdge, Path: hem, Allowance: f.HemAllowance},
			{Name: FinishName, Role: finish.Role, Path: right, Allowance: finish.Allowance},
			{Name: TopName, Role: fit.OtherEdge, Path: top, Allowance: f.TopAllowance},
			{Name: StartName, Role: start.Role, Path: left, Allowance: start.Allowance},
		},
	}
	// Notches in the order of the outline: up the right side, down the left.
	up, err := finish.notches(FinishName, right.Length())
	if err != nil {
		return fit.Panel{}, err
	}
	for _, d := range up {
		p.Notches = append(p.Notches, fit.Notch{Edge: 1, At: d})
	}
	down, err := start.notches(StartName, left.Length())
	if err != nil {
		return fit.Panel{}, err
	}
	for _, d := range slices.Backward(down) {
		p.Notches = append(p.Notches, fit.Notch{Edge: 3, At: left.Length() - d})
	}
	p.Grain = grain(p.Outline(), hem.Bounds().Centre().X)
	return p, nil
}

// settle returns the side with its usual role filled in, checked.
func (s Side) settle(name string, middle bool) (Side, error) {
	switch s.Role {
	case fit.OtherEdge:
		s.Role = fit.SeamEdge
		if middle {
			s.Role = fit.FoldEdge
		}
	case fit.SeamEdge, fit.FoldEdge, fit.OpeningEdge:
	default:
		return s, refuse("it is a seam, a fold or an opening", "the %s cannot be a %s edge", name, s.Role)
	}
	if name == FinishName && s.Role == fit.FoldEdge {
		return s, refuse("draft a half, whose start is the fold", "the finish cannot be a fold")
	}
	if err := width(name+" allowance", s.Allowance); err != nil {
		return s, err
	}
	if s.Role == fit.FoldEdge && s.Allowance != 0 {
		return s, refuse("leave it at 0", "the %s is a fold and has an allowance of %.4g mm", name, s.Allowance)
	}
	if s.Role == fit.FoldEdge && len(s.Notches) > 0 {
		return s, refuse("put them on a seam", "the %s is a fold and has notches", name)
	}
	return s, nil
}

// notches returns the side's notches in rising order, each of which must lie
// between the ends of the side.
func (s Side) notches(name string, length float64) ([]float64, error) {
	sorted := slices.Sorted(slices.Values(s.Notches))
	for _, d := range sorted {
		if !(d > 0 && d < length) {
			return nil, refuse(fmt.Sprintf("the %s is %.1f mm long", name, length), "the notch %.6g mm up the %s is not on it", d, name)
		}
	}
	return sorted, nil
}

// grain returns the upright grain line at x: the middle three fifths between
// the lowest edge of the outline there and the next one above it.
func grain(outline path.Path, x float64) path.Segment {
	var ys []float64
	for i := range outline.Segments() {
		s := outline.Segment(i)
		if s.IsLine() {
			if t := (x - s.A.X) / (s.B.X - s.A.X); t >= 0 && t <= 1 {
				ys = append(ys, s.At(t).Y)
			}
			continue
		}
		c, r := s.Centre(), s.Radius()
		h := math.Sqrt(r*r - (x-c.X)*(x-c.X)) // NaN where the circle stays clear
		for _, y := range [2]float64{c.Y - h, c.Y + h} {
			if t := s.Ratio(path.Point{X: x, Y: y}); t >= -turnSlack && t <= 1+turnSlack {
				ys = append(ys, y)
			}
		}
	}
	slices.Sort(ys)
	// A joint of two arcs on the grain line is found twice.
	ys = slices.CompactFunc(ys, func(a, b float64) bool { return math.Abs(b-a) < fit.JoinGap })
	if len(ys) < 2 {
		return path.Segment{}
	}
	low, high := path.Point{X: x, Y: ys[0]}, path.Point{X: x, Y: ys[1]}
	return path.Line(low.Lerp(high, 0.2), low.Lerp(high, 0.8))
}

// arc is a stretch of a curve: a circular arc, straight when sweep is 0.
// Length is in mm; sweep, in radians, is positive where it turns left.
type arc struct{ length, sweep float64 }

// symmetric returns the path through the middle point, where it runs to the
// right, with the arcs in their order away from the middle on the right side,
// and unless half is true their mirror images on the left.
func symmetric(middle path.Point, half bool, arcs ...arc) path.Path {
	right := trace(middle, 0, arcs)
	if half {
		return right
	}
	both := make([]arc, 0, 2*len(arcs))
	var turn float64
	for _, a := range slices.Backward(arcs) {
		both = append(both, a)
		turn += a.sweep
	}
	both[len(both)-1] = arc{2 * arcs[0].length, 2 * arcs[0].sweep}
	both = append(both, arcs[1:]...)
	corner := right.End()
	p := trace(path.Point{X: 2*middle.X - corner.X, Y: corner.Y}, -turn, both)
	p.V[len(p.V)-1].Point = corner // exactly the mirror image
	return p
}

// trace returns the smooth chain of arcs that leaves the point in the
// direction heading. Arcs beyond a half turn are drawn in two.
func trace(from path.Point, heading float64, arcs []arc) path.Path {
	p := path.Path{V: []path.Vertex{{Point: from}}}
	for _, a := range arcs {
		n := 1
		if math.Abs(a.sweep) > math.Pi {
			n = 2
		}
		a.length, a.sweep = a.length/float64(n), a.sweep/float64(n)
		for range n {
			chord := a.length
			if h := a.sweep / 2; h != 0 {
				chord *= math.Sin(h) / h
			}
			last := &p.V[len(p.V)-1]
			last.Bulge = math.Tan(a.sweep / 4)
			to := last.Add(path.Direction(heading + a.sweep/2).Mul(chord))
			p.V = append(p.V, path.Vertex{Point: to})
			heading += a.sweep
		}
	}
	return p
}

// measure checks a length that a panel cannot do without.
func measure(what string, v float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return refuse(mostHint, "the %s is not a number", what)
	case v < shortest:
		return refuse(fmt.Sprintf("give at least %.4g mm", shortest), "the %s is %.6g mm", what, v)
	case v > longest:
		return refuse(mostHint, "the %s is %.6g mm", what, v)
	}
	return nil
}

// width checks a length that may be 0.
func width(what string, v float64) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return refuse(mostHint, "the %s is not a number", what)
	case v < 0:
		return refuse("give 0 or more", "the %s is %.6g mm", what, v)
	case v > longest:
		return refuse(mostHint, "the %s is %.6g mm", what, v)
	}
	return nil
}

// mostHint is the remedy for a number beyond longest.
const mostHint = "give at most 100 m, and look at the units"

// refuse returns an error with its remedy; [Form.named] adds the panel's name.
func refuse(hint, format string, args ...any) error {
	return &fit.Error{Problem: fmt.Sprintf(format, args...), Hint: hint}
}

// named puts the panel's name into a refusal.
func (f Form) named(err error) error {
	var e *fit.Error
	if errors.As(err, &e) {
		e.Panel = f.Name
		if f.Size != "" {
			e.Panel += " size " + f.Size
		}
	}
	return err
}
