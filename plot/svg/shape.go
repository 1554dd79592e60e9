package svg

import (
	"fmt"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// shape draws a path or one of the basic shapes.
func (r *reader) shape(e *element, s state, into *plot.Group) error {
	if s.hidden {
		return nil
	}
	p := pen{m: s.m, room: &r.vertices}
	if err := e.outline(s, &p); err != nil {
		return err
	}
	line := plot.Line{Label: e.label(), Class: s.class, Stroke: s.look()}
	if s.dashes != "" {
		line.Class = joinWords(line.Class, "dashed")
	}
	if len(p.paths) > 1 {
		// The parts share one name, so it is the name of a group.
		g := plot.Group{ID: s.id(e), Label: line.Label}
		for _, part := range p.paths {
			line.Path = part
			g.Lines = append(g.Lines, line)
		}
		into.Groups = append(into.Groups, g)
		return nil
	}
	for _, part := range p.paths {
		line.ID, line.Path = s.id(e), part
		into.Lines = append(into.Lines, line)
	}
	return nil
}

// outline draws the element with the pen.
func (e *element) outline(s state, p *pen) error {
	var failed error
	get := func(name string, a axis) float64 {
		x, err := e.length(s, name, a)
		if failed == nil {
			failed = err
		}
		return x
	}
	// size is for lengths that are not negative.
	size := func(name string, a axis) float64 {
		x := get(name, a)
		if x < 0 && failed == nil {
			failed = fmt.Errorf("has the negative %s %s", name, clip(e.attr(name)))
		}
		return x
	}
	at := func(x, y string) path.Point { return path.Point{X: get(x, along), Y: get(y, down)} }
	switch e.name {
	case "path":
		return p.pathData(e.attr("d"))
	case "polyline", "polygon":
		v, err := numbers(e.attr("points"))
		if err != nil {
			return fmt.Errorf("has a list of points that %w", err)
		}
		if len(v)%2 == 1 {
			return fmt.Errorf("has a list of points that ends with an x without y")
		}
		points := make([]path.Point, len(v)/2)
		for i := range points {
			points[i] = path.Point{X: v[2*i], Y: v[2*i+1]}
		}
		return p.polyline(points, e.name == "polygon")
	case "line":
		a, b := at("x1", "y1"), at("x2", "y2")
		if failed != nil {
			return failed
		}
		return p.polyline([]path.Point{a, b}, false)
	case "circle":
		c, radius := at("cx", "cy"), size("r", across)
		if failed != nil || radius == 0 {
			return failed
		}
		return p.ellipse(c, radius, radius)
	case "ellipse":
		c, rx, ry := at("cx", "cy"), size("rx", along), size("ry", down)
		rx, ry = e.pair(rx, ry)
		if failed != nil || rx == 0 || ry == 0 {
			return failed
		}
		return p.ellipse(c, rx, ry)
	case "rect":
		c := at("x", "y")
		w, h := size("width", along), size("height", down)
		rx, ry := e.pair(size("rx", along), size("ry", down))
		if failed != nil || w == 0 || h == 0 {
			return failed
		}
		return p.rect(c.X, c.Y, w, h, rx, ry)
	}
	return nil
}

// pair returns the radii rx and ry, each the other one where it is not given.
func (e *element) pair(rx, ry float64) (float64, float64) {
	given := func(name string) bool {
		text := e.attr(name)
		return text != "" && !strings.EqualFold(text, "auto")
	}
	switch {
	case !given("rx"):
		return ry, ry
	case !given("ry"):
		return rx, rx
	}
	return rx, ry
}
