package build

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/pdf"
	"engrail/plot/proof"
	"engrail/plot/stroke"
	"engrail/plot/svg"
	"engrail/plot/toolpath"
)

// trueWithin is how far in mm a file may be from its design: one plotter unit.
const trueWithin = 0.025

// leastClosed (mm) is the length of the least line that is looked at whether it closes.
const leastClosed = 2.0

// farOff (mm) stands in the report for a line that is missing or was not designed.
const farOff = 1e6

// Proof is what came of reading a file back.
type Proof struct {
	Path string `json:"path"`
	// MaxDeviation is the largest distance in mm from the design; nil of a file of
	// which only the size of its pages is read.
	MaxDeviation *float64 `json:"max_deviation"`
	ScaleX       float64  `json:"scale_x"`
	ScaleY       float64  `json:"scale_y"`
	// Open counts the cut lines that are designed closed and are not, Duplicates those
	// of which a part lies on another one.
	Open       int `json:"open"`
	Duplicates int `json:"duplicates"`

	// within is how far the file may be from the design.
	within float64
	// Found is what is in the file, and Against how that compares.
	Found   proof.Findings   `json:"-"`
	Against proof.Comparison `json:"-"`
}

// reading is how a file is read back and what it has to show: the lines of the design,
// each with a class that those which are read have too.
type reading struct {
	read   func(content []byte) (plot.Drawing, error)
	design []plot.Line
	class  func(plot.Line) string
	// atFolds counts the closed cut lines that a pen leaves open at a fold.
	atFolds int
	// mixed says that one pen draws cut lines and others: what they share is drawn once,
	// and nothing tells them apart.
	mixed bool
}

// closed counts the lines that close among those of the classes that cut lines have,
// without those that are as small as dots, which steps may close or open.
func (r reading) closed(lines []plot.Line) (n int) {
	cut := map[string]bool{}
	for _, l := range r.design {
		cut[r.class(l)] = cut[r.class(l)] || l.Role == plot.Cut
	}
	for _, l := range lines {
		if l.Path.Closed && cut[r.class(l)] && l.Path.Length() > leastClosed {
			n++
		}
	}
	return n
}

// prove reads a file back and measures it against its design. There is nothing to
// prove of a picture or a table.
func (o output) prove(content []byte) (*Proof, error) {
	if o.format == "pdf" {
		return o.provePages(content)
	}
	var err error
	if o.drawing, err = o.drawing.Stretch(o.stretch.X, o.stretch.Y, path.FitTolerance); err != nil {
		return nil, err
	}
	r := o.reading()
	if r.read == nil {
		return nil, nil
	}
	d, err := r.read(content)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read back: %w", o.name, err)
	}
	lines, texts := linesOf(d)
	p := &Proof{Path: o.name, within: o.within(), Found: proof.Look(lines, texts), Against: proof.Compare(r.design, lines, r.class)}
	most := round(min(p.Against.Max, farOff))
	p.MaxDeviation, p.ScaleX, p.ScaleY = &most, fine(p.Against.ScaleX), fine(p.Against.ScaleY)
	if !r.mixed {
		p.Open = max(0, r.closed(r.design)-r.atFolds-r.closed(lines))
	}
	p.Duplicates = len(p.Found.Duplicates)
	return p, nil
}

// within is how far in mm what is read back may be from the design: what a trailing
// blade cuts may be as far again off, where it is taken straight across small corners.
func (o output) within() float64 {
	if o.device != nil && o.device.Blade > 0 {
		return 2 * trueWithin
	}
	return trueWithin
}

// warnings say what of the proof a careful maker would look at.
func (p *Proof) warnings() (all []Warning) {
	warn := func(message string) {
		all = append(all, Warning{Code: "proof", Level: fit.LevelWarning.String(), Message: message, Where: p.Path})
	}
	if worst, ok := p.Against.Worst(); ok && worst.Max > p.within {
		warn(fmt.Sprintf("what is read back is up to %.3f mm from the design, in %s lines near (%.1f, %.1f) mm", worst.Max, worst.Class, worst.At.X, worst.At.Y))
	}
	if p.MaxDeviation == nil && (p.ScaleX != 1 || p.ScaleY != 1) {
		warn(fmt.Sprintf("its pages are %g times as wide and %g times as high as they should be", p.ScaleX, p.ScaleY))
	}
	if p.Open > 0 {
		warn(fmt.Sprintf("%d cut lines that should be closed are open", p.Open))
	}
	return all
}

// fine keeps six decimals.
func fine(x float64) float64 { return math.Round(x*1e6) / 1e6 }

func linesOf(d plot.Drawing) (lines []plot.Line, texts int) {
	for _, g := range d.Groups {
		g.Walk(func(g plot.Group) {
			lines = append(lines, g.Lines...)
			texts += len(g.Texts)
		})
	}
	return lines, texts
}

// reading returns how the file is read back, nothing of one that is not.
func (o output) reading() (r reading) {
	r.design, _ = linesOf(o.drawing)
	r.class = func(l plot.Line) string { return l.Role.String() }
	switch o.format {
	case "dxf":
		r.read = func(content []byte) (plot.Drawing, error) {
			return dxf.Read(bytes.NewReader(content), dxf.ReadOptions{})
		}
	case "astm":
		r.design = slices.DeleteFunc(r.design, func(l plot.Line) bool { return l.Sign })
		r.read = func(content []byte) (plot.Drawing, error) {
			return dxf.Read(bytes.NewReader(content), dxf.ReadOptions{})
		}
	case "svg":
		box := o.drawing.Bounds()
		r.read = func(content []byte) (plot.Drawing, error) {
			d, err := svg.Read(bytes.NewReader(content), svg.Options{})
			// The legend of a nest is beside the drawing, and the page round it.
			d.Groups = slices.DeleteFunc(d.Groups, func(g plot.Group) bool { return g.ID == "legend" })
			return d.Transform(path.Translation(box.Min.Sub(d.Bounds().Min))), err
		}
	case "hpgl":
		return o.plotReading()
	}
	return r
}

// plotReading is that of a plot: it knows pens and no roles, letters are lines, and
// from a centre the drawing is moved.
func (o output) plotReading() (r reading) {
	d := o.device
	box := path.EmptyBox()
	add := func(role plot.Role, pen int, p path.Path) {
		if pen > 0 {
			r.design = append(r.design, plot.Line{Role: role, Path: p, Class: "pen-" + strconv.Itoa(pen)})
			box = box.Union(p.Bounds())
		}
	}
	for _, g := range o.drawing.Groups {
		g.Walk(func(g plot.Group) {
			for _, t := range g.Texts {
				if d.Lettering == hpgl.Strokes {
					for _, p := range stroke.Lines(t) {
						add(plot.Drawn, d.Pens.Text, p)
					}
				}
			}
			for _, l := range g.Lines {
				add(l.Role, d.Pens.Roles[l.Role], l.Path)
				if l.Role == plot.Cut && d.Tool == hpgl.Pen && d.Pens.Roles[plot.Fold] > 0 && onFold(g, l.Path) {
					r.atFolds++
				}
			}
		})
	}
	cut := d.Pens.Roles[plot.Cut]
	for _, role := range plot.Roles() {
		r.mixed = r.mixed || cut > 0 && d.Tool == hpgl.Pen && role != plot.Cut && d.Pens.Roles[role] == cut
	}
	r.mixed = r.mixed || cut > 0 && d.Pens.Text == cut
	r.class = func(l plot.Line) string { return l.Class }
	r.read = func(content []byte) (plot.Drawing, error) {
		read, err := hpgl.Read(bytes.NewReader(content), hpgl.ReadOptions{StepMM: d.StepMM, Pens: d.Pens})
		if shift := d.Shift(box); shift != (path.Vec{}) {
			read = read.Transform(path.Translation(shift.Neg()))
		}
		for i := range read.Groups {
			lines := read.Groups[i].Lines
			d.tips(lines, r.design)
			if r.mixed {
				for k := range lines {
					lines[k].Role = plot.Drawn
				}
			}
		}
		return read, err
	}
	return r
}

// tips makes of lines along which a knife is led those that its tip cuts, from where
// it has come to its line.
func (d *device) tips(lines, design []plot.Line) {
	if d.Blade == 0 && d.LeadIn == 0 && d.Overcut == 0 {
		return
	}
	paths := make([]path.Path, len(design))
	for i, l := range design {
		paths[i] = l.Path
	}
	to := path.NewLocator(paths...)
	for i, l := range lines {
		p := l.Path
		if p.Segments() == 0 || p.Closed && d.Blade == 0 {
			continue
		}
		if d.Blade > 0 {
			p = tipOf(p, d.Blade) // of a pivot that comes back to where it began, too
		}
		r := path.NewRuler(p)
		from := 0.0
		for at := 0.0; at < min(d.LeadIn+d.Blade, r.Length()); at += trueWithin {
			if off, _ := to.Nearest(r.At(at), trueWithin); off > trueWithin {
				from = at + trueWithin // not yet come to the design
			}
		}
		p = r.Sub(from, r.Length())
		// What ends where it has been at first is closed there: the last of a lead-in, which
		// is beside the design, and what is cut twice are left out.
		r = path.NewRuler(p)
		head := min(r.Length()/2, d.Overcut+d.LeadIn+d.Blade+1)
		if r.Length()-head > 2 {
			if along, off := path.NewRuler(r.Sub(0, head)).Nearest(p.End()); off <= 2*trueWithin {
				p = r.Sub(along, r.Length()).Close(2 * trueWithin)
			}
		}
		lines[i].Path = p
	}
}

// tipOf returns where the tip of a trailing blade goes that is led along the path and
// headed along it at first: along its first half mm, as the first of many short chords
// has no direction to speak of.
func tipOf(pivot path.Path, offset float64) path.Path {
	r := path.NewRuler(pivot)
	heading := r.At(min(0.5, r.Length()/2)).Sub(pivot.Start()).Unit()
	b := toolpath.TrailingBlade{Offset: offset, Heading: heading}
	points := []path.Point{pivot.Start().Add(b.Heading.Mul(-offset))}
	for i := range pivot.Segments() {
		b.Follow(pivot.Segment(i), offset, func(p path.Point) {
			// Where the blade turns about a corner its tip stands, but for rounding.
			if points[len(points)-1].Dist(p) > trueWithin {
				points = append(points, p)
			}
		})
	}
	return path.Open(points...)
}

// onFold reports whether a fold of the group lies on a closed cut line.
func onFold(g plot.Group, cut path.Path) bool {
	to := path.NewLocator(cut)
	return cut.Closed && slices.ContainsFunc(g.Lines, func(l plot.Line) bool {
		if l.Role != plot.Fold || l.Sign || l.Path.Segments() == 0 {
			return false
		}
		a, _ := to.Nearest(l.Path.Start(), 0)
		b, _ := to.Nearest(l.Path.End(), 0)
		return max(a, b) < trueWithin
	})
}

// provePages compares the sizes of the pages of a PDF with what they should be.
func (o output) provePages(content []byte) (*Proof, error) {
	pages, err := pdf.Pages(content)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read back: %w", o.name, err)
	}
	should, err := o.page(o.drawing)
	if err != nil {
		return nil, err
	}
	p := &Proof{Path: o.name, ScaleX: 1, ScaleY: 1}
	for _, page := range pages {
		// Pages lie upright or across.
		want := should
		if (page.Width > page.Height) != (want.Width > want.Height) {
			want.Width, want.Height = want.Height, want.Width
		}
		for _, s := range []struct {
			scale *float64
			ratio float64
		}{{&p.ScaleX, page.Width / want.Width}, {&p.ScaleY, page.Height / want.Height}} {
			if math.Abs(s.ratio-1) > math.Abs(*s.scale-1) {
				*s.scale = s.ratio
			}
		}
	}
	// Pages are written in hundredths of a point.
	p.ScaleX, p.ScaleY = math.Round(p.ScaleX*1e4)/1e4, math.Round(p.ScaleY*1e4)/1e4
	return p, nil
}
