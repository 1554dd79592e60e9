package build

import (
	"fmt"
	"io"
	"math"
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/hpgl"
	"engrail/plot/toolpath"
)

// wideSheet is the width in mm of a sheet for devices without a limit: what a
// roll of 1.6 m takes. A piece that is wider has a wider sheet.
const wideSheet = 1600

// usualRoll is the width in mm of a roll plotter's paper, 36 in, where the style
// says nothing else.
const usualRoll = 914

// device is what reads the HPGL files.
type device struct {
	hpgl.Options
	name   string
	turned bool // fed along x, so that pieces lie with their grain along it
	// vNotches says that notches are cut out.
	vNotches bool
}

// plotter returns the device that the style describes: what is usual for its kind,
// with what the style says.
func plotter(p style.Plotter) (device, error) {
	d := device{name: p.Kind}
	switch p.Kind {
	case "roll plotter":
		d.Options, d.turned = hpgl.RollPlotter(usualRoll), true
	case "flatbed knife":
		d.Options = hpgl.FlatbedKnife()
	case "printer":
		d.Options = hpgl.HPGL2Printer()
	default:
		d.Options = hpgl.PenPlotter()
	}
	switch {
	case p.Tool == "knife" && d.Tool != hpgl.Knife:
		d.Tool, d.Pens, d.LineTypes = hpgl.Knife, hpgl.KnifeTable(), false
	case p.Tool == "pen" && d.Tool != hpgl.Pen:
		d.Tool, d.Pens = hpgl.Pen, hpgl.PenTable()
	}
	if p.Range != "" {
		d.Range = map[string]hpgl.Range{"portable": hpgl.Portable, "wide": hpgl.Wide}[p.Range]
	}
	if p.Origin != "" {
		d.Origin = map[string]hpgl.Origin{"corner": hpgl.Corner, "centre": hpgl.Centre}[p.Origin]
	}
	length := func(to *float64, l style.Length) {
		if l > 0 {
			*to = float64(l)
		}
	}
	truth := func(to *bool, b *bool) {
		if b != nil {
			*to = *b
		}
	}
	whole := func(to *int, n int) {
		if n > 0 {
			*to = n
		}
	}
	length(&d.Width, p.Width)
	length(&d.Height, p.Height)
	length(&d.StepMM, p.Step)
	length(&d.ChordError, p.ChordError)
	truth(&d.Arcs, p.Arcs)
	truth(&d.LineTypes, p.LineTypes)
	truth(&d.PageEnd, p.PageEnd)
	truth(&d.Printer, p.PCL)
	whole(&d.LineLength, p.LineLength)
	whole(&d.Pairs, p.Points)
	d.Speed, d.Force, d.Order = float64(p.Speed), float64(p.Force), p.Order
	switch p.Lettering {
	case "device":
		d.Lettering = hpgl.Device
	case "none":
		d.Pens.Text = 0
	}
	c := p.Cutting
	d.Overcut, d.LeadIn, d.Blade = float64(c.Overcut), float64(c.LeadIn), float64(c.Blade)
	d.Swivel, d.Together = float64(c.Swivel)*math.Pi/180, c.Together
	d.vNotches = c.Notches == "v"
	for word, pen := range p.Pens {
		if word == "text" {
			d.Pens.Text = pen
			continue
		}
		role, ok := plot.ParseRole(word)
		if !ok {
			return d, fmt.Errorf("plotter: nothing is called %q", word)
		}
		d.Pens.Roles[role] = pen
	}
	if err := hpgl.Write(io.Discard, plot.Drawing{}, d.Options); err != nil {
		return d, &Error{
			Problem: fmt.Sprintf("the plotter of the style cannot be: %v", err),
			Hint:    "correct what stands under output and plotter in the style file",
		}
	}
	return d, nil
}

// plots lays the pieces out on as many plots as the device's reach asks for. A piece
// that is larger is drawn by itself, in frames.
func (p *Plan) plots(d device, groups []plot.Group, title, base string) ([]output, error) {
	groups = plotted(groups, d.Pens)
	if d.vNotches && d.Tool == hpgl.Knife {
		groups = cutOut(groups)
	}
	size := p.reach(d)
	// On a roll that is fed along x pieces lie across it, as they hang, in rows that
	// follow one another; then all of it is turned.
	wide, high := size.X, size.Y
	if d.turned {
		wide, high = high, wide
	}
	sheets, err := laidOut(groups, wide, high)
	if err != nil {
		return nil, err
	}
	if d.turned {
		for i, s := range sheets {
			s = s.Transform(path.Rotation(path.Point{}, -math.Pi/2))
			sheets[i] = s.Transform(path.Translation(path.Point{}.Sub(s.Bounds().Min)))
		}
	}
	return framed(d, sheets, size, title, base)
}

// reach returns what of a design the device reaches at once, 0 for without end.
func (p *Plan) reach(d device) path.Vec {
	width, height := d.Room()
	stretch := p.stretch("hpgl")
	return path.Vec{X: width / stretch.X, Y: height / stretch.Y}
}

// framed makes plots of drawings, in frames of a size where they are larger.
func framed(d device, sheets []plot.Drawing, size path.Vec, title, base string) ([]output, error) {
	var all []output
	for _, sheet := range sheets {
		frames, err := plot.Frames(sheet, size.X, size.Y, d.registerRole())
		if err != nil {
			return nil, &Error{
				Problem: err.Error(),
				Hint:    `give the plotter a larger reach: "output: {plotter: {width: 800mm, height: 600mm}}" in the style file`,
			}
		}
		for _, f := range frames {
			o := output{format: "hpgl", drawing: f.Drawing, device: &d, write: func(w io.Writer, drawn plot.Drawing) error { return hpgl.Write(w, drawn, d.Options) }}
			if len(frames) > 1 {
				o.frame = &FrameReport{Row: f.Row + 1, Column: f.Column + 1, Of: len(frames), Marks: f.Marks}
			}
			all = append(all, o)
		}
	}
	for i := range all {
		all[i].name, all[i].drawing.Title = base+".hpgl", title
		if len(all) > 1 {
			all[i].name = fmt.Sprintf("%s-%d.hpgl", base, i+1)
			all[i].drawing.Title = fmt.Sprintf("%s, plot %d of %d", title, i+1, len(all))
		}
	}
	return all, nil
}

// laidOut lays groups out on sheets of the size, 0 for one without end. Each that is
// larger has one of its own.
func laidOut(groups []plot.Group, width, height float64) ([]plot.Drawing, error) {
	var small, large []plot.Group
	widest := width
	if width == 0 {
		widest = wideSheet
	}
	for _, g := range groups {
		b := g.Bounds()
		switch {
		case b.Empty() || within(b.Width(), width) && within(b.Height(), height):
			small = append(small, g)
			widest = max(widest, b.Width())
		default:
			large = append(large, g)
		}
	}
	sheets, err := plot.Arrange(small, gap, widest, height)
	if err != nil {
		return nil, err
	}
	for _, g := range large {
		alone, err := plot.Arrange([]plot.Group{g}, 0, 0, 0)
		if err != nil {
			return nil, err
		}
		sheets = append(sheets, alone...)
	}
	return sheets, nil
}

// within reports whether a size fits a limit, 0 for none, but for rounding.
func within(size, limit float64) bool { return limit == 0 || size <= limit+1e-6 }

// registerRole returns the role in which the device draws register marks: a knife cuts
// them in the waste.
func (d device) registerRole() plot.Role {
	if d.Tool == hpgl.Knife || d.Pens.Roles[plot.Mark] == 0 {
		return plot.Cut
	}
	return plot.Mark
}

// plotted leaves out the lines that no pen draws, so that a plot is as large as
// what is on it.
func plotted(groups []plot.Group, pens hpgl.Pens) []plot.Group {
	all := make([]plot.Group, len(groups))
	for i, g := range groups {
		lines := make([]plot.Line, 0, len(g.Lines))
		for _, l := range g.Lines {
			if pens.Roles[l.Role] > 0 {
				lines = append(lines, l)
			}
		}
		g.Lines = lines
		all[i] = g
	}
	return all
}

// cutOut makes a V of every notch, as wide as the notch says.
func cutOut(groups []plot.Group) []plot.Group {
	all := make([]plot.Group, len(groups))
	for i, g := range groups {
		var outlines []path.Path
		for _, l := range g.Lines {
			if l.Role == plot.Cut {
				outlines = append(outlines, l.Path)
			}
		}
		to := path.NewLocator(outlines...)
		lines := slices.Clone(g.Lines)
		for k, l := range lines {
			if l.Role != plot.Notch || len(l.Path.V) == 0 {
				continue
			}
			if _, near := to.Nearest(l.Path.Start(), 0); near >= 0 {
				lines[k].Path = toolpath.V(l.Path, l.Width, outlines[near])
			}
		}
		g.Lines = lines
		all[i] = g
	}
	return all
}
