package motif

import (
	"slices"

	"engrail/motif/path"
)

// Unit is one motif of a sequence: a shape and its size as a ratio to what is
// wanted, where 0 stands for 1.
type Unit struct {
	Shape        Shape
	Width, Depth float64
	// Mirrored turns the shape round, so that one that leans to the right leans to
	// the left.
	Mirrored bool
}

// Ratios returns the unit's width and depth, 1 where they are left out.
func (u Unit) Ratios() (width, depth float64) {
	width, depth = u.Width, u.Depth
	if width == 0 {
		width = 1
	}
	if depth == 0 {
		depth = 1
	}
	return width, depth
}

// Mirror returns the unit's mirror image: itself when its shape is symmetrical.
func (u Unit) Mirror() Unit {
	if u.Shape.Symmetrical() {
		u.Mirrored = false
	} else {
		u.Mirrored = !u.Mirrored
	}
	return u
}

// Cell draws the unit so many mm wide and deep.
func (u Unit) Cell(width, depth float64) (Cell, error) {
	c, err := u.Shape.Cell(width, depth)
	if err == nil && u.Mirrored {
		c = c.Mirror()
	}
	return c, err
}

// Mirror returns the cell's mirror image in the upright line through its middle.
func (c Cell) Mirror() Cell {
	axis := path.Reflection(path.Point{X: c.Width / 2}, path.Vec{Y: 1})
	m := c
	m.Rise, m.Fall = c.Fall.Transform(axis).Reverse(), c.Rise.Transform(axis).Reverse()
	m.Marks = nil
	for _, l := range c.Marks {
		m.Marks = append(m.Marks, l.Transform(axis).Reverse())
	}
	return m
}

// Turned returns the sequence begun at another of its units, so that repeated any
// number of times it is its own mirror image: from valley to valley, or else from
// the middle of its first unit round to the middle of that again. It is not ok when
// there is no such place. One unit alone goes from valley to valley whatever its
// shape.
func Turned(units []Unit, fromMiddle bool) ([]Unit, bool) {
	n := len(units)
	if n == 1 && !fromMiddle {
		return units, true
	}
	for first := range n {
		u := slices.Concat(units[first:], units[:first])
		ok := true
		for i := range u {
			j := n - 1 - i
			if fromMiddle {
				j = (n - i) % n
			}
			if u[i].settled() != u[j].Mirror().settled() {
				ok = false
				break
			}
		}
		if ok {
			return u, true
		}
	}
	return nil, false
}

// settled returns the unit with nothing left out, to compare it.
func (u Unit) settled() Unit {
	u.Width, u.Depth = u.Ratios()
	if u.Shape.Symmetrical() {
		u.Mirrored = false
	}
	return u
}
