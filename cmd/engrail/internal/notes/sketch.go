package notes

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/motif/path"
)

// sketch is a drawing in mm on paper, y up. Lines have a class of the style sheet.
type sketch struct {
	body strings.Builder // y down, from the drawing's origin
	box  path.Box
}

func newSketch() *sketch { return &sketch{box: path.EmptyBox()} }

// letterWide is how wide a letter is beside its height, on the safe side.
const letterWide = 0.56

// draw draws a path; one of a point is a small circle.
func (k *sketch) draw(class string, p path.Path) {
	if len(p.V) == 0 || !p.Finite() {
		return
	}
	k.box = k.box.Union(p.Bounds())
	if p.Segments() == 0 {
		fmt.Fprintf(&k.body, "<circle class=\"%s\" cx=\"%s\" cy=\"%s\" r=\"0.5\"/>\n", class, coordinate(p.V[0].X), coordinate(-p.V[0].Y))
		return
	}
	k.body.WriteString("<path class=\"" + class + "\"" + pathData(p) + "/>\n")
}

// band draws a path as wide as a layer of cloth.
func (k *sketch) band(class string, p path.Path, wide float64) {
	k.box = k.box.Union(p.Bounds().Grow(wide / 2))
	fmt.Fprintf(&k.body, "<path class=\"%s\" style=\"stroke-width:%s\"%s/>\n", class, coordinate(wide), pathData(p))
}

func pathData(p path.Path) string {
	var b strings.Builder
	fmt.Fprintf(&b, " d=\"M%s %s", coordinate(p.V[0].X), coordinate(-p.V[0].Y))
	for i := range p.Segments() {
		s := p.Segment(i)
		if s.IsLine() || math.Abs(s.Bulge)*s.Chord().Len()/2 < sketchChord {
			fmt.Fprintf(&b, "L%s %s", coordinate(s.B.X), coordinate(-s.B.Y))
			continue
		}
		sweep := 0
		if s.Bulge < 0 {
			sweep = 1
		}
		// Two arcs, for the ends of a half circle say too little of its middle.
		for _, q := range [2]path.Point{s.At(0.5), s.B} {
			r := coordinate(s.Radius())
			fmt.Fprintf(&b, "A%s %s 0 0 %d %s %s", r, r, sweep, coordinate(q.X), coordinate(-q.Y))
		}
	}
	if p.Closed {
		b.WriteString("Z")
	}
	b.WriteString("\"")
	return b.String()
}

// line draws a straight line.
func (k *sketch) line(class string, a, b path.Point) { k.draw(class, path.Open(a, b)) }

// write letters a text whose middle, start or end stands at the point.
func (k *sketch) write(at path.Point, anchor, text string) {
	wide := letterWide * nameHeight * float64(len([]rune(text)))
	left := map[string]float64{"start": 0, "middle": wide / 2, "end": wide}[anchor]
	k.box = k.box.Include(path.Point{X: at.X - left, Y: at.Y - nameHeight*0.3}).Include(path.Point{X: at.X - left + wide, Y: at.Y + nameHeight})
	fmt.Fprintf(&k.body, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\">%s</text>\n",
		coordinate(at.X), coordinate(-at.Y), coordinate(nameHeight), anchor, escaped(text))
}

// point writes a name beside the end of a line that comes from what it names; in the middle
// it stands above or below.
func (k *sketch) point(at, from path.Point, anchor, name string) {
	k.line("lead", at, from)
	k.body.WriteString(fmt.Sprintf("<circle class=\"dot\" cx=\"%s\" cy=\"%s\" r=\"0.4\"/>\n", coordinate(at.X), coordinate(-at.Y)))
	const gap = 0.8
	beside := from.Add(path.Vec{X: gap, Y: -nameHeight * 0.35})
	switch {
	case anchor == "end":
		beside.X = from.X - gap
	case anchor == "middle" && from.Y < at.Y:
		beside = from.Add(path.Vec{Y: -gap - nameHeight})
	case anchor == "middle":
		beside = from.Add(path.Vec{Y: gap})
	}
	k.write(beside, anchor, name)
}

// callout is a name and the place that it points at.
type callout struct {
	name string
	at   path.Point
}

// callouts writes names beside the box, each on the side that its place is nearer to, from
// the highest down and apart.
func (k *sketch) callouts(names []callout, box path.Box) {
	middle := box.Centre().X
	for _, right := range []bool{false, true} {
		var side []callout
		for _, c := range names {
			if (c.at.X >= middle) == right {
				side = append(side, c)
			}
		}
		slices.SortStableFunc(side, func(a, b callout) int {
			switch {
			case a.at.Y > b.at.Y:
				return -1
			case a.at.Y < b.at.Y:
				return 1
			}
			return 0
		})
		const step = nameHeight * 1.7
		// As low as need be that all of them have room, and from there down.
		ys := make([]float64, len(side))
		for i, c := range side {
			ys[i] = c.at.Y
			if i > 0 {
				ys[i] = min(ys[i], ys[i-1]-step)
			}
		}
		if n := len(ys); n > 0 {
			if low := box.Min.Y - ys[n-1]; low > 0 {
				ys[n-1] += low
				for i := n - 2; i >= 0; i-- {
					ys[i] = max(ys[i], ys[i+1]+step)
				}
			}
		}
		for i, c := range side {
			if right {
				k.point(c.at, path.Point{X: box.Max.X + 3, Y: ys[i]}, "start", c.name)
			} else {
				k.point(c.at, path.Point{X: box.Min.X - 3, Y: ys[i]}, "end", c.name)
			}
		}
	}
}

// svg returns the drawing as one element, in mm.
func (k *sketch) svg(title string) string {
	if k.box.Empty() {
		return ""
	}
	box := k.box.Grow(1)
	return fmt.Sprintf("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"%smm\" height=\"%smm\" viewBox=\"%s %s %s %s\">\n<title>%s</title>\n%s</svg>\n",
		coordinate(box.Width()), coordinate(box.Height()), coordinate(box.Min.X), coordinate(-box.Max.Y), coordinate(box.Width()), coordinate(box.Height()),
		escaped(title), k.body.String())
}

// coordinate writes a number with up to two decimals.
func coordinate(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
