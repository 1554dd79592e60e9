package svg

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"engrail/motif/path"
)

func translation(x, y float64) path.Affine { return path.Affine{A: 1, D: 1, E: x, F: y} }

func stretch(x, y float64) path.Affine { return path.Affine{A: x, D: y} }

// parseTransform returns the map of a transform list: SVG 1.1, chapter 7.6, and
// the same functions as a CSS property writes them, with px and deg.
func parseTransform(s string) (path.Affine, error) {
	m := path.Identity()
	if s == "none" {
		return m, nil
	}
	c := scanner{s: s}
	for c.space(); !c.done(); c.separator() {
		at := c.i
		name := c.word()
		c.space()
		if name == "" || c.done() || c.s[c.i] != '(' {
			return m, fmt.Errorf("has a transform that %w", c.wanted("a function such as translate(x y)"))
		}
		c.i++
		var a []float64
		for c.space(); !c.done() && c.s[c.i] != ')'; c.separator() {
			x, err := c.number()
			if err != nil {
				return m, fmt.Errorf("has a transform that %w", err)
			}
			if unit := c.word(); unit != "" && unit != "px" && unit != "deg" {
				return m, fmt.Errorf("has a transform with the unit %q: only px and deg can be read", clip(unit))
			}
			a = append(a, x)
		}
		if c.done() {
			return m, errors.New("has a transform whose bracket is not closed")
		}
		c.i++
		f, ok := function(name, a)
		if !ok {
			return m, fmt.Errorf("has a transform that cannot be read at character %d: %s with %d numbers", at+1, clip(name), len(a))
		}
		if m = f.Then(m); !m.Finite() {
			return m, errors.New("has a transform with a number that is too large")
		}
	}
	return m, nil
}

// function returns the map of one transform function, and whether there is one
// of that name with as many arguments.
func function(name string, a []float64) (path.Affine, bool) {
	rad := func(deg float64) float64 { return math.Mod(deg, 360) * math.Pi / 180 }
	n := len(a)
	switch {
	case name == "matrix" && n == 6:
		return path.Affine{A: a[0], B: a[1], C: a[2], D: a[3], E: a[4], F: a[5]}, true
	case name == "translate" && n == 1, name == "translateX" && n == 1:
		return translation(a[0], 0), true
	case name == "translateY" && n == 1:
		return translation(0, a[0]), true
	case name == "translate" && n == 2:
		return translation(a[0], a[1]), true
	case name == "scale" && n == 1:
		return stretch(a[0], a[0]), true
	case name == "scaleX" && n == 1:
		return stretch(a[0], 1), true
	case name == "scaleY" && n == 1:
		return stretch(1, a[0]), true
	case name == "scale" && n == 2:
		return stretch(a[0], a[1]), true
	case name == "rotate" && n == 1:
		return path.Rotation(path.Point{}, rad(a[0])).Affine(), true
	case name == "rotate" && n == 3:
		return path.Rotation(path.Point{X: a[1], Y: a[2]}, rad(a[0])).Affine(), true
	case name == "skewX" && n == 1:
		return path.Affine{A: 1, C: math.Tan(rad(a[0])), D: 1}, true
	case name == "skewY" && n == 1:
		return path.Affine{A: 1, B: math.Tan(rad(a[0])), D: 1}, true
	}
	return path.Affine{}, false
}

// box is the rectangle of a viewBox.
type box struct{ x, y, w, h float64 }

// parseViewBox returns the box, and whether the element has one.
func parseViewBox(e *element) (box, bool, error) {
	text := e.attr("viewBox")
	if text == "" {
		return box{}, false, nil
	}
	v, err := numbers(text)
	if err != nil {
		return box{}, false, e.failf("has a viewBox that %w", err)
	}
	if len(v) != 4 || v[2] <= 0 || v[3] <= 0 {
		return box{}, false, e.failf("has the viewBox %q: give x, y, width and height, the last two above 0", clip(text))
	}
	return box{v[0], v[1], v[2], v[3]}, true, nil
}

// fitted returns the map of the viewBox into a viewport of the size at the
// origin, as preserveAspectRatio says: SVG 2, 8.2.
func (b box) fitted(w, h float64, preserve string) path.Affine {
	sx, sy := w/b.w, h/b.h
	words := strings.Fields(strings.TrimPrefix(strings.TrimSpace(preserve), "defer"))
	align := "xMidYMid"
	if len(words) > 0 {
		align = words[0]
	}
	if align != "none" {
		if len(words) > 1 && words[1] == "slice" {
			sx = max(sx, sy)
		} else {
			sx = min(sx, sy)
		}
		sy = sx
	}
	part := func(min, max string) float64 {
		switch {
		case align == "none" || strings.Contains(align, min):
			return 0
		case strings.Contains(align, max):
			return 1
		}
		return 0.5
	}
	return translation(-b.x, -b.y).Then(stretch(sx, sy)).Then(translation(
		part("xMin", "xMax")*(w-b.w*sx),
		part("YMin", "YMax")*(h-b.h*sy)))
}
