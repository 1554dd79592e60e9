package build

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"engrail/plot"
	"engrail/plot/hpgl"
)

// sidecar is a plain text beside the plots: what each pen does, which plots there are,
// and what to mind before a machine starts.
func (p *Plan) sidecar(plots []output) output {
	return output{
		size: allSizes, name: fileName(p.Style.Name, "plots") + ".txt", format: "txt",
		write: func(w io.Writer, _ plot.Drawing) error {
			_, err := io.WriteString(w, p.plotsText(plots))
			return err
		},
	}
}

func (p *Plan) plotsText(plots []output) string {
	d := plots[0].device
	var b strings.Builder
	fmt.Fprintf(&b, "%s: plots for a %s\n\n", p.Style.Name, d.describe())
	b.WriteString(d.pensText())
	b.WriteString("\nWhat is sent\n" + d.sentText())
	if s := p.stretch("hpgl"); s.X != 1 || s.Y != 1 {
		fmt.Fprintf(&b, "- Stretched by %.5f across and %.5f up, as the style says that the machine was measured.\n", s.X, s.Y)
	}
	b.WriteString("\nPlots, in mm across and up\n")
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	framed := false
	for _, o := range plots {
		box := o.drawing.Bounds()
		frame := ""
		if f := o.frame; f != nil {
			framed = true
			frame = fmt.Sprintf("\trow %d, column %d of %d frames, marks %s", f.Row, f.Column, f.Of, strings.Trim(strings.ReplaceAll(fmt.Sprint(f.Marks), " ", ", "), "[]"))
		}
		fmt.Fprintf(t, "  %s\t%.1f x %.1f%s\n", o.name, box.Width(), box.Height(), frame)
	}
	t.Flush()
	if framed {
		b.WriteString("Frames join edge to edge, rows from below and columns from the left: lay each register\n" +
			"mark on the mark of the same number on the next frame, cross on cross.\n")
	}
	b.WriteString("\n" + cautions())
	return b.String()
}

// pensText lists the pens in the order in which they are taken up, with what they do.
func (d *device) pensText() string {
	does := map[int][]string{}
	for _, r := range plot.Roles() {
		if pen := d.Pens.Roles[r]; pen > 0 {
			does[pen] = append(does[pen], roleWords(r))
		}
	}
	if pen := d.Pens.Text; pen > 0 {
		does[pen] = append(does[pen], "lettering")
	}
	var b strings.Builder
	tool := "pen"
	if d.Tool == hpgl.Knife {
		tool = "tool"
		b.WriteString("What each tool does, in the order in which they are taken up\n")
	} else {
		b.WriteString("What each pen does, in the order in which they are taken up\n")
	}
	for _, pen := range d.PensInOrder() {
		fmt.Fprintf(&b, "  %s %d  %s\n", tool, pen, strings.Join(does[pen], ",\n         "))
	}
	return b.String()
}

// roleWords says what lines of a role are.
func roleWords(r plot.Role) string {
	switch r {
	case plot.Cut:
		return "cut lines"
	case plot.Stitch:
		return "stitching lines"
	case plot.Fold:
		return "folds"
	case plot.Grain:
		return "grain lines"
	case plot.Notch:
		return "notches"
	case plot.Clip:
		return "clips at the valleys, to be snipped after stitching"
	case plot.Mark:
		return "marks"
	case plot.Inner:
		return "inner edges of facings"
	}
	return "other inner lines"
}

// sentText says how the plots are written.
func (d *device) sentText() string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, "- "+format+"\n", args...) }
	origin := "in the lower left corner"
	if d.Origin == hpgl.Centre {
		origin = "in the middle of the drawing"
	}
	say("A step is %g mm; the origin is %s.", d.StepMM, origin)
	if d.Arcs {
		say("Arcs as arcs; others as chords within %g mm.", d.ChordError)
	} else {
		say("Arcs as chords within %g mm.", d.ChordError)
	}
	switch {
	case d.Pens.Text == 0:
		say("No lettering.")
	case d.Lettering == hpgl.Device:
		say("Lettering in the device's own letters.")
	default:
		say("Lettering in strokes.")
	}
	if d.LineTypes {
		say("Stitching, folds and inner edges in the device's line types.")
	}
	set := cmp.Or(d.Speed, d.Force) != 0
	if d.Speed > 0 {
		say("Speed %g cm/s.", d.Speed)
	}
	if d.Force > 0 {
		say("Force %g, in the device's own numbers.", d.Force)
	}
	if !set {
		say("No speed and no force: set them at the machine.")
	}
	if d.Printer {
		say("Wrapped for a printer that takes HP-GL/2.")
	}
	if d.PageEnd {
		say("The page is fed at the end.")
	}
	if d.Tool == hpgl.Knife {
		say("Inside of a piece before its outline; lines that two pieces share are cut once.")
		notches := "slits"
		if d.vNotches {
			notches = "a V"
		}
		say("Notches as %s; overcut %g mm, lead-in %g mm.", notches, d.Overcut, d.LeadIn)
		if d.Blade > 0 {
			say("The file makes up for a blade whose tip trails by %g mm: set the machine's own to 0.", d.Blade)
		} else {
			say("The blade's offset is left to the machine: set it there.")
		}
	}
	return b.String()
}

// plotsOf returns the plots among the outputs.
func plotsOf(outputs []output) []output {
	return slices.DeleteFunc(slices.Clone(outputs), func(o output) bool { return o.format != "hpgl" })
}
