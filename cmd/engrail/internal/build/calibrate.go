package build

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/svg"
)

// Calibration returns what a machine is measured with, in mm: a square of 150 mm with its
// diagonals and a circle of 100 mm in it; below it strips with corners and valleys as
// hems have them, and small squares and circles that show whether the offset of a blade
// is right.
func Calibration() plot.Drawing {
	const side = float64(style.CalibrationSide)
	const base = 80.0 // of the square
	var g plot.Group
	g.ID, g.Label = "calibration", "Calibration"
	add := func(r plot.Role, p path.Path) { g.Lines = append(g.Lines, plot.Line{Role: r, Path: p}) }
	text := func(x, y, angle float64, s string) {
		g.Texts = append(g.Texts, plot.Text{At: path.Point{X: x, Y: y}, Height: 3.5, Angle: angle, Align: plot.Middle, String: s})
	}
	at := func(x, y float64) path.Point { return path.Point{X: x, Y: y} }
	square := func(x, y, side float64) path.Path {
		return path.Closed(at(x, y), at(x+side, y), at(x+side, y+side), at(x, y+side))
	}

	add(plot.Internal, path.Open(at(0, base), at(side, base+side)))
	add(plot.Internal, path.Open(at(side, base), at(0, base+side)))
	add(plot.Internal, path.Circle(at(side/2, base+side/2), 50))
	text(side/2, base+5, 0, fmt.Sprintf("%.0f mm across", side))
	text(7.5, base+side/2, math.Pi/2, fmt.Sprintf("%.0f mm up", side))
	text(side/2, base+side/2+33, 0, "circle 100 mm")
	text(side/2, base+side/2-36, 0, fmt.Sprintf("diagonals %.2f mm", side*math.Sqrt2))

	// Corners of 90, 60 and 30 degrees and half circles that meet in sharp valleys.
	teeth := path.Path{Closed: true}
	corner := func(x, y, bulge float64) { teeth.V = append(teeth.V, path.Vertex{Point: at(x, y), Bulge: bulge}) }
	corner(0, 70, 0)
	corner(0, 58, 0)
	x := 0.0
	for _, degrees := range []float64{90, 60, 30} {
		half := 12 * math.Tan(degrees/2*math.Pi/180)
		corner(x+half, 46, 0)
		corner(x+2*half, 58, 0)
		x += 2 * half
	}
	for range 4 {
		corner(x, 58, 1)
		x += 16
	}
	corner(x, 58, 0)
	// A pointed valley and a flat one.
	for _, flat := range []float64{0, 2} {
		corner(x+9, 46, 0)
		corner(x+18, 58, 0)
		x += 18
		if flat > 0 {
			corner(x+flat, 58, 0)
			x += flat
		}
	}
	corner(x, 70, 0)
	add(plot.Cut, dropRepeats(teeth))
	for i, size := range []float64{5, 10, 20} {
		x := []float64{0, 10, 25}[i]
		add(plot.Cut, square(x, 10, size))
		add(plot.Cut, path.Circle(at(70+[]float64{2.5, 15, 35}[i], 10+size/2), size/2))
	}
	text(22.5, 2, 0, "squares 5, 10, 20 mm")
	text(92.5, 2, 0, "circles 5, 10, 20 mm")
	add(plot.Cut, square(0, base, side))
	return plot.Drawing{Title: "Calibration", Groups: []plot.Group{g}}
}

// dropRepeats leaves out vertices that are where the next one is.
func dropRepeats(p path.Path) path.Path {
	out := path.Path{Closed: p.Closed}
	for i, v := range p.V {
		if next := p.V[(i+1)%len(p.V)]; v.Dist(next.Point) > path.Coincident {
			out.V = append(out.V, v)
		}
	}
	return out
}

// Calibrate writes the calibration drawing in every kind of file, as the style's
// machines get it, each handed to the sink with the proof of it, and a text that says
// what to do with them.
func Calibrate(s *style.Style, sink Sink) ([]Proof, error) {
	p := &Plan{Style: s}
	d, err := plotter(s.Output.Plotter)
	if err != nil {
		return nil, err
	}
	drawing := Calibration()
	outputs := []output{
		{name: "calibration.dxf", format: "dxf", drawing: drawing, write: func(w io.Writer, d plot.Drawing) error { return dxf.Write(w, d, p.plainDXF()) }},
		{name: "calibration.svg", format: "svg", drawing: drawing, write: svg.Write},
	}
	for _, paper := range []style.Paper{{Name: "a4"}, {Name: "letter"}} {
		outputs = append(outputs, output{
			name: "calibration-" + paper.Name + ".pdf", format: "pdf", drawing: drawing, page: pageOf(paper),
			write: p.printed(paper.Name),
		})
	}
	plots, err := p.plots(d, drawing.Groups, drawing.Title, "calibration")
	if err != nil {
		return nil, err
	}
	var proofs []Proof
	for _, o := range append(plots, outputs...) {
		o.stretch = p.stretch(o.format)
		var b bytes.Buffer
		if err := p.make(&b, o); err != nil {
			return nil, err
		}
		made, err := o.prove(b.Bytes())
		if err != nil {
			return nil, err
		}
		proofs = append(proofs, *made)
		if err := sink(o.name, b.Bytes()); err != nil {
			return nil, err
		}
	}
	return proofs, sink("calibration.txt", []byte(calibrationText(p, d)))
}

// make writes the bytes of a file, stretched for the machine that reads it.
func (p *Plan) make(w io.Writer, o output) error {
	d := o.drawing
	var err error
	if o.page == nil { // pages are stretched by themselves
		d, err = d.Stretch(o.stretch.X, o.stretch.Y, path.FitTolerance)
	}
	if err == nil {
		err = o.write(w, d)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", o.name, err)
	}
	return nil
}

// calibrationText says how to measure a machine.
func calibrationText(p *Plan, d device) string {
	var b strings.Builder
	side := float64(style.CalibrationSide)
	fmt.Fprintf(&b, `Calibration

These files hold one drawing: a square of %.0f mm with its diagonals and a circle of
100 mm, strips with corners and valleys, and small squares and circles.

1. Draw, cut or print the file that your machine reads. Try a cutter with a pen first.
   Print the PDF at 100 %% ("actual size"), not fitted to the page.
2. Measure the square with a steel ruler, across and up, from the middle of a line to the
   middle of the other, to a tenth of a mm.
3. If a side is not %.0f mm, write what you measured into the style file, here for a
   plotter whose square is 149.6 mm across and 150.2 mm up (dxf, svg and pdf likewise):

       output:
         measured: {hpgl: [149.6mm, 150.2mm]}

   and run engrail calibrate with the style once more: the square is %.0f mm then.
4. Both diagonals are %.2f mm. If they differ, the machine is out of square; that is
   mended at the machine. A circle that is not round while the square is right points to
   play in the drive.
5. A knife: look at the corners of the small squares and at the teeth. Rounded corners
   mean that the blade's offset is set too low, tails at corners that it is too high; the
   ends of a circle should meet. Most machines make up for the offset themselves: set it
   there. Only if yours does not, write "cutting: {blade offset: 0.25mm}" under "plotter:".

`, side, side, side, side*math.Sqrt2)
	for _, format := range []string{"hpgl", "dxf", "svg", "pdf"} {
		if s := p.stretch(format); s != (path.Vec{X: 1, Y: 1}) {
			fmt.Fprintf(&b, "The %s file is corrected by %.5f across and %.5f up, as the style says.\n", format, s.X, s.Y)
		}
	}
	fmt.Fprintf(&b, "The HPGL file is for a %s.\n\n", d.describe())
	b.WriteString(cautions())
	return b.String()
}

// describe says in a few words what the device is.
func (d device) describe() string {
	name := d.name
	if d.Tool == hpgl.Knife && name != "flatbed knife" {
		name += " with a knife"
	}
	return fmt.Sprintf("%s, steps of %g mm", name, d.StepMM)
}
