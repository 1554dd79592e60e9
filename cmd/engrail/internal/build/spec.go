package build

import (
	"errors"
	"fmt"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/motif"
	"engrail/motif/path"
	"engrail/plot/svg"
)

// specOf translates a motif of the style.
func specOf(m style.Motif) (fit.Spec, error) {
	shape, err := shapeOf(style.Member{Shape: m.Shape, Flat: m.Flat, Tip: m.Tip, Valley: m.Valley, Lean: m.Lean, Turn: m.Turn, Own: m.Own, Mark: m.Mark})
	if err != nil {
		return fit.Spec{}, err
	}
	spec := fit.Spec{
		Shape: shape, Depth: float64(m.Depth), Width: float64(m.Width), Least: float64(m.Least), Most: float64(m.Most),
		Growth: fit.Growth{Width: float64(m.Grow.Width), Depth: float64(m.Grow.Depth), At: float64(m.Grow.At)},
	}
	for _, u := range m.Sequence {
		unit := motif.Unit{Shape: shape, Width: float64(u.Width), Depth: float64(u.Depth), Mirrored: u.Mirrored}
		if detailed(u) {
			same := u.Shape == ""
			if same {
				u.Shape, u.Own = m.Shape, m.Own
			}
			if unit.Shape, err = shapeOf(u); err != nil {
				return fit.Spec{}, err
			}
			if same {
				unit.Shape.Drawn = shape.Drawn // the very same, as comparing them asks
			}
		}
		spec.Sequence = append(spec.Sequence, unit)
	}
	if m.Lay == "bent" {
		spec.Lay = fit.Bent
	}
	switch m.Rest {
	case "peaks":
		spec.Rest = fit.Peaks
	case "middle":
		spec.Rest = fit.Middle
	}
	return spec, nil
}

// detailed reports whether a motif of a sequence says more of its shape than that it is the
// motif's.
func detailed(u style.Member) bool {
	return u.Shape != "" || u.Flat != 0 || u.Tip != (style.Tip{}) || u.Valley != (style.Valley{}) || u.Lean != 0 || u.Turn || u.Mark != (style.Mark{})
}

// shapeOf translates a shape with its details.
func shapeOf(u style.Member) (motif.Shape, error) {
	kind, err := motif.ParseKind(u.Shape)
	if err != nil {
		return motif.Shape{}, err
	}
	s := motif.Shape{
		Kind: kind, Flat: float64(u.Flat), TipRadius: float64(u.Tip.Round), TipFlat: float64(u.Tip.Blunt),
		ValleyRadius: float64(u.Valley.Round), Lean: float64(u.Lean), Turn: u.Turn,
		Mark: motif.Mark{Size: float64(u.Mark.Size), Height: float64(u.Mark.Height)},
	}
	switch u.Mark.Kind {
	case "eyelet":
		s.Mark.Kind = motif.Eyelet
	case "keyhole":
		s.Mark.Kind = motif.Keyhole
	}
	if kind == motif.Own {
		if s.Drawn, err = drawnOf(u.Own); err != nil {
			return motif.Shape{}, err
		}
	}
	return s, nil
}

// drawnOf reads the shape that the style draws.
func drawnOf(o style.Own) (*motif.Drawn, error) {
	var p path.Path
	if o.Path != "" {
		var err error
		if p, err = pathOf(o.Path); err != nil {
			return nil, err
		}
	} else {
		var points []path.Point
		for _, q := range o.Points {
			points = append(points, path.Point{X: float64(q.X), Y: float64(q.Y)})
		}
		p = path.Open(points...)
	}
	d, err := motif.NewDrawn(p)
	if err != nil {
		problem, hint, _ := strings.Cut(err.Error(), "; ")
		return nil, &Error{Problem: "own shape: " + problem, Hint: hint}
	}
	return d, nil
}

// pathOf reads the data of an SVG path of one line, whose y grows down.
func pathOf(data string) (path.Path, error) {
	const hint = "write the d of a path from a drawing program, such as M 0 0 C 5 20, 15 20, 20 0"
	if strings.ContainsAny(data, "<>&\"'") {
		return path.Path{}, &Error{Problem: "own shape: the path has a sign in it that no path has", Hint: hint}
	}
	d, err := svg.Read(strings.NewReader(fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg"><path d="%s"/></svg>`, data)), svg.Options{UnitMM: 1})
	if err != nil {
		var placed *svg.Error
		problem := err.Error()
		if errors.As(err, &placed) {
			problem = placed.Err.Error()
		}
		return path.Path{}, &Error{Problem: "own shape: " + problem, Hint: hint}
	}
	var lines []path.Path
	for _, g := range d.Groups {
		for _, l := range g.Lines {
			lines = append(lines, l.Path)
		}
		for _, in := range g.Groups {
			for _, l := range in.Lines {
				lines = append(lines, l.Path)
			}
		}
	}
	if len(lines) != 1 {
		return path.Path{}, &Error{Problem: fmt.Sprintf("own shape: the path has %d lines, and a motif is one", len(lines)), Hint: hint}
	}
	return lines[0].Transform(path.Reflection(path.Point{}, path.Vec{X: 1})), nil
}
