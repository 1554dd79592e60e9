package svg

import (
	"bufio"
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
)

// ownClass is the class of the outermost element of files that [Write] makes: in
// these, the classes of lines are their roles.
const ownClass = "engrail"

// looks are the style rules of the roles: a hairline for what is cut, and lines that
// differ in their dashes as well as in their colours.
func looks() string {
	return `path,circle{fill:none;stroke:#1a1a1a;stroke-width:0.3;stroke-linejoin:round}
.cut path{stroke:#000000;stroke-width:0.1}
.stitch path{stroke:#1f5fa8;stroke-dasharray:4 2}
.fold path{stroke-dasharray:10 2 1.5 2}
.grain path{stroke:#1a1a1a}
.notch path{stroke:#1a1a1a}
.clip path{stroke:#c2401c}
.mark path,.mark circle{stroke:#666666}
.inner path{stroke:#1f8a7a;stroke-dasharray:7 1.5 1.5 1.5}
.internal path{stroke:#666666}
.text text{font-family:sans-serif;fill:#1a1a1a}
`
}

// nestLooks are the style rules of a nest: of the roles, which say how wide lines are
// and, other than for cut lines, how they are dashed, and of the sizes, whose colour
// all lines have and whose dashes the cut lines have. Paths take over what the groups
// around them say.
func (e *writer) nestLooks() string {
	var b strings.Builder
	b.WriteString(`svg{fill:none;stroke:#1a1a1a;stroke-width:0.25;stroke-linejoin:round}
.cut{stroke-width:0.35}
.stitch{stroke-width:0.18;stroke-dasharray:0.5 1}
.fold{stroke-dasharray:10 2 1.5 2}
.grain{stroke-dasharray:none}
.notch{stroke-dasharray:none}
.clip{stroke-dasharray:none}
.mark{stroke-dasharray:none}
.inner{stroke-width:0.18;stroke-dasharray:0.5 1}
.internal{stroke-dasharray:none}
.text{font-family:sans-serif;fill:#1a1a1a;stroke:none}
`)
	for k, class := range e.classes {
		look := plot.LookOfSize(k)
		dashes := make([]string, len(look.Dashes))
		for i, d := range look.Dashes {
			dashes[i] = number4(d)
		}
		fmt.Fprintf(&b, ".%s{stroke:#%02x%02x%02x;stroke-dasharray:%s}\n", class, look.Red, look.Green, look.Blue, cmp.Or(strings.Join(dashes, " "), "none"))
	}
	return b.String()
}

// Write writes a drawing in mm at true size: width and height in mm, and a viewBox
// with as many units. Each group becomes a g with its id and its label as title, in
// it each role a g of the role's class, whose looks one style rule has. Arcs are
// arcs, and nothing is flattened; a path of one point is a small circle. Texts are
// text, in a font 1/0.7 times as large as their capitals.
//
// A nest has a g for each size, with the size as title and as id and class such as
// size-38, around those of its pieces, and a style rule for it: together with the
// rules of the roles these say all looks. Below it is a legend, a g of that id.
//
// A drawing without lines, and numbers that are not finite or beyond a kilometre,
// are errors.
func Write(w io.Writer, d plot.Drawing) error {
	box, err := d.Extent()
	if err != nil {
		return fmt.Errorf("svg: %w", err)
	}
	if far := max(-box.Min.X, -box.Min.Y, box.Max.X, box.Max.Y); far > maxWritten {
		return fmt.Errorf("svg: the drawing reaches %.4g mm from its origin, and %.0f km are written at most; look at the units", far, maxWritten/1e6)
	}
	legend := d.Legend(box.Width())
	if len(legend.Groups) > 0 {
		legend = legend.Transform(path.Translation(path.Vec{X: box.Min.X, Y: box.Min.Y - pageMargin}))
		box = box.Union(legend.Extent())
	}
	box = box.Grow(pageMargin)
	b := bufio.NewWriter(w)
	e := writer{b: b, left: box.Min.X, top: box.Max.Y, ids: map[string]bool{}, sizes: d.Sizes()}
	for _, s := range e.sizes {
		e.classes = append(e.classes, e.unique(plot.Identifier("size", s)))
	}
	wide, high := number4(box.Width()), number4(box.Height())
	fmt.Fprintf(b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"+
		"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"%s\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n", ownClass, wide, high, wide, high)
	if d.Title != "" {
		fmt.Fprintf(b, "<title>%s</title>\n", escaped(d.Title))
	}
	rules := looks()
	if len(e.sizes) > 0 {
		rules = e.nestLooks()
	}
	fmt.Fprintf(b, "<style>\n%s</style>\n", rules)
	begun := map[string]bool{} // of the sizes
	for _, g := range d.Groups {
		size := slices.Index(e.sizes, g.Size)
		if size < 0 {
			e.group(g, "")
			continue
		}
		id := ""
		if !begun[g.Size] {
			begun[g.Size] = true
			id = fmt.Sprintf(" id=\"%s\"", e.classes[size])
		}
		fmt.Fprintf(b, "<g%s class=\"%s\">\n<title>%s</title>\n", id, e.classes[size], escaped(g.Size))
		e.content(g, g.Size)
		b.WriteString("</g>\n")
	}
	if len(legend.Groups) > 0 {
		e.group(legend, "")
	}
	b.WriteString("</svg>\n")
	return b.Flush()
}

// writer writes groups; left and top are the page's, in the drawing's coordinates.
type writer struct {
	b         *bufio.Writer
	left, top float64
	ids       map[string]bool
	// sizes are those of a nest, and classes their classes and ids.
	sizes, classes []string
}

// unique returns the id, with a number where it is taken.
func (e *writer) unique(id string) string {
	unique := id
	for n := 2; e.ids[unique]; n++ {
		unique = fmt.Sprintf("%s-%d", id, n)
	}
	e.ids[unique] = true
	return unique
}

// id returns an attribute with the id, which is made unique; nothing without one.
func (e *writer) id(id string) string {
	if id == "" {
		return ""
	}
	return fmt.Sprintf(" id=\"%s\"", escaped(e.unique(id)))
}

// group writes a group that lies in one of the size, if that is not empty.
func (e *writer) group(g plot.Group, in string) {
	class := ""
	if size := slices.Index(e.sizes, g.Size); size >= 0 && g.Size != in {
		class = fmt.Sprintf(" class=\"%s\"", e.classes[size])
	}
	fmt.Fprintf(e.b, "<g%s%s>\n", e.id(g.ID), class)
	title := g.Label
	if g.Piece != nil && g.Piece.Size != "" && g.Piece.Size != in {
		title += ", size " + g.Piece.Size
	}
	if title != "" {
		fmt.Fprintf(e.b, "<title>%s</title>\n", escaped(title))
	}
	e.content(g, cmp.Or(g.Size, in))
	e.b.WriteString("</g>\n")
}

// content writes what is in a group: its lines by role, its texts, its groups.
func (e *writer) content(g plot.Group, size string) {
	for _, role := range append([]plot.Role{plot.Drawn}, plot.Roles()...) {
		first := true
		for _, l := range g.Lines {
			if l.Role != role || len(l.Path.V) == 0 {
				continue
			}
			if first {
				id := ""
				if g.ID != "" {
					id = g.ID + "-" + role.String()
				}
				fmt.Fprintf(e.b, "<g%s class=\"%v\">\n", e.id(id), role)
				first = false
			}
			e.line(l)
		}
		if !first {
			e.b.WriteString("</g>\n")
		}
	}
	if len(g.Texts) > 0 {
		e.b.WriteString("<g class=\"text\">\n")
		for _, t := range g.Texts {
			e.text(t)
		}
		e.b.WriteString("</g>\n")
	}
	for _, in := range g.Groups {
		e.group(in, size)
	}
}

// x and y write coordinates on the page, whose y grows down.
func (e *writer) x(v float64) string { return number4(v - e.left) }
func (e *writer) y(v float64) string { return number4(e.top - v) }

func (e *writer) line(l plot.Line) {
	p := l.Path
	if p.Segments() == 0 {
		fmt.Fprintf(e.b, "<circle%s cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", e.id(l.ID), e.x(p.V[0].X), e.y(p.V[0].Y), number4(dotRadius))
		return
	}
	fmt.Fprintf(e.b, "<path%s d=\"M%s %s", e.id(l.ID), e.x(p.V[0].X), e.y(p.V[0].Y))
	n := p.Segments()
	for i := range n {
		s := p.Segment(i)
		if p.Closed && i == n-1 && s.IsLine() {
			break // Z draws it
		}
		if s.IsLine() || s.Radius() > largestRadius/2 { // flat to a thousandth of a mm
			fmt.Fprintf(e.b, "L%s %s", e.x(s.B.X), e.y(s.B.Y))
			continue
		}
		// With y down, an arc that turns left is one of falling angles.
		sweep := 0
		if s.Bulge < 0 {
			sweep = 1
		}
		// Of a half circle the ends say too little of its middle.
		parts := math.Ceil(math.Abs(s.Sweep())/widestArc - roundingSlack)
		r := trimmed(strconv.FormatFloat(s.Radius(), 'f', radiusDecimals, 64))
		for k := range int(parts) {
			to := s.At(float64(k+1) / parts)
			fmt.Fprintf(e.b, "A%s %s 0 0 %d %s %s", r, r, sweep, e.x(to.X), e.y(to.Y))
		}
	}
	if p.Closed {
		e.b.WriteString("Z")
	}
	e.b.WriteString("\"/>\n")
}

func (e *writer) text(t plot.Text) {
	anchor := map[plot.Align]string{plot.Middle: ` text-anchor="middle"`, plot.Right: ` text-anchor="end"`}[t.Align]
	turn := ""
	if t.Angle != 0 {
		turn = fmt.Sprintf(" transform=\"rotate(%s %s %s)\"", number4(-t.Angle*180/math.Pi), e.x(t.At.X), e.y(t.At.Y))
	}
	fmt.Fprintf(e.b, "<text%s x=\"%s\" y=\"%s\" font-size=\"%s\"%s%s>%s</text>\n",
		e.id(t.ID), e.x(t.At.X), e.y(t.At.Y), number4(t.Height/capHeight), anchor, turn, escaped(t.String))
}

// number4 writes a number with up to four decimals.
func number4(v float64) string { return trimmed(strconv.FormatFloat(v, 'f', writtenDecimals, 64)) }

// trimmed takes the zeros off the end of a number with decimals.
func trimmed(s string) string {
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func escaped(s string) string {
	var b strings.Builder
	if xml.EscapeText(&b, []byte(s)) != nil { // a strings.Builder takes all
		return ""
	}
	return b.String()
}
