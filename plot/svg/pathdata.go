package svg

import (
	"errors"
	"fmt"

	"engrail/motif/path"
)

// pathData draws the commands of a d attribute: SVG 1.1, chapter 8.3. An error
// names the character.
func (p *pen) pathData(d string) error {
	if d == "none" {
		return nil
	}
	var (
		command byte
		curve   byte       // the last command's curve, C or Q, else 0
		control path.Point // that curve's last control point
	)
	c := scanner{s: d}
	for c.space(); !c.done(); c.separator() {
		at := c.i
		switch b := c.s[c.i]; {
		case b|0x20 >= 'a' && b|0x20 <= 'z':
			if command == 0 && b != 'M' && b != 'm' {
				return fmt.Errorf("has path data that starts with %q instead of a move, M", b)
			}
			command = b
			c.i++
		case command == 0, command == 'Z', command == 'z':
			return fmt.Errorf("has path data that %w", c.wanted("a command"))
		case command == 'M':
			command = 'L' // further points after a move are lines
		case command == 'm':
			command = 'l'
		}
		upper := command &^ 0x20
		a, err := c.arguments(upper, command != upper, p.at)
		if err == nil {
			to := path.Point{X: a[0], Y: a[1]}
			mirrored := p.at // the first control point of a smooth curve
			if upper == 'S' && curve == 'C' || upper == 'T' && curve == 'Q' {
				mirrored = p.at.Add(p.at.Sub(control))
			}
			curve = 0
			switch upper {
			case 'Z':
				p.close()
			case 'M':
				p.moveTo(to)
			case 'L':
				err = p.lineTo(to)
			case 'H':
				err = p.lineTo(path.Point{X: a[0], Y: p.at.Y})
			case 'V':
				err = p.lineTo(path.Point{X: p.at.X, Y: a[0]})
			case 'C':
				curve, control = 'C', path.Point{X: a[2], Y: a[3]}
				err = p.cubicTo(to, control, path.Point{X: a[4], Y: a[5]})
			case 'S':
				curve, control = 'C', to
				err = p.cubicTo(mirrored, control, path.Point{X: a[2], Y: a[3]})
			case 'Q':
				curve, control = 'Q', to
				err = p.quadTo(control, path.Point{X: a[2], Y: a[3]})
			case 'T':
				curve, control = 'Q', mirrored
				err = p.quadTo(control, to)
			case 'A':
				err = p.arcTo(a[0], a[1], a[2], a[3] == 1, a[4] == 1, path.Point{X: a[5], Y: a[6]})
			}
		}
		if err != nil {
			return fmt.Errorf("has path data that, in %c at character %d, %w", command, at+1, err)
		}
	}
	p.finish()
	return nil
}

// arguments reads what follows a command. Coordinates of a relative one are
// made absolute.
func (c *scanner) arguments(upper byte, relative bool, from path.Point) ([7]float64, error) {
	// x and y are coordinates, n a number, f a flag.
	var pattern string
	switch upper {
	case 'Z':
	case 'M', 'L', 'T':
		pattern = "xy"
	case 'H':
		pattern = "x"
	case 'V':
		pattern = "y"
	case 'C':
		pattern = "xyxyxy"
	case 'S', 'Q':
		pattern = "xyxy"
	case 'A':
		pattern = "nnnffxy"
	default:
		return [7]float64{}, errors.New("is none of the commands M L H V C S Q T A Z")
	}
	var a [7]float64
	for i, kind := range pattern {
		if i == 0 {
			c.space()
		} else {
			c.separator()
		}
		if kind == 'f' {
			set, err := c.flag()
			if err != nil {
				return a, err
			}
			if set {
				a[i] = 1
			}
			continue
		}
		x, err := c.number()
		if err != nil {
			return a, err
		}
		switch {
		case relative && kind == 'x':
			x += from.X
		case relative && kind == 'y':
			x += from.Y
		}
		a[i] = x
	}
	return a, nil
}
