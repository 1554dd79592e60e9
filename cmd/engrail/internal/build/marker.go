package build

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/hpgl"
	"engrail/plot/marker"
	"engrail/plot/pdf"
	"engrail/plot/png"
	"engrail/plot/svg"
)

// markerScale (px per mm) is what a picture of a marker has at least, so that labels find
// room, up to the largest picture of mostPixels (px).
const (
	markerScale = 0.8
	mostPixels  = 6400
)

// MarkerFormats returns the formats that a marker can be written in.
func MarkerFormats() []string { return []string{"png", "hpgl", "dxf", "svg", "pdf"} }

// MarkerPieces returns the pieces of all sizes of the kinds that are named, to be laid.
func (p *Plan) MarkerPieces(kinds []string) []marker.Piece {
	var all []marker.Piece
	for _, size := range p.Sizes {
		for _, piece := range size.Pieces {
			if slices.Contains(kinds, piece.Kind.String()) {
				all = append(all, marker.FromPiece(piece, p.Style.Name))
			}
		}
	}
	return all
}

// MarkerOptions say how a marker is written.
type MarkerOptions struct {
	// Name is what the marker is of, in titles and file names.
	Name string
	// Formats are those of [MarkerFormats].
	Formats []string
	// Date is written in the legend as it is, when it is not empty.
	Date string
}

// WriteMarker gives the sink the files of a marker: the layout and the formats, as the
// style's output says of each. It returns their names and what the proofs of them warn of.
func (p *Plan) WriteMarker(m *marker.Marker, o MarkerOptions, sink Sink) (names []string, warnings []Warning, err error) {
	base := fileName(o.Name, "marker")
	outputs, err := p.markerOutputs(m, o, base)
	if err != nil {
		return nil, nil, err
	}
	var layout bytes.Buffer
	if err := marker.Encode(&layout, marker.File{Style: o.Name, Use: m.Use(), Layout: m.Layout}); err != nil {
		return nil, nil, err
	}
	add := func(name string, content []byte) error {
		if len(name) > longestName {
			return tooLong(name)
		}
		names = append(names, name)
		return sink(name, content)
	}
	if err := add(base+".json", layout.Bytes()); err != nil {
		return nil, nil, err
	}
	for i := range outputs {
		outputs[i].stretch = p.stretch(outputs[i].format)
	}
	made := p.makeAll(outputs)
	defer made.stop()
	for _, out := range outputs {
		f := made.next()
		if f.err != nil {
			return nil, nil, f.err
		}
		if f.proof != nil {
			warnings = append(warnings, f.proof.warnings()...)
		}
		if err := add(out.name, f.content.Bytes()); err != nil {
			return nil, nil, err
		}
		made.done(f)
	}
	return names, warnings, nil
}

func (p *Plan) markerOutputs(m *marker.Marker, o MarkerOptions, base string) ([]output, error) {
	unit := p.Style.Units
	legend := m.Legend(marker.Facts{
		Style: o.Name, Date: o.Date,
		Length: func(mm float64) string { return unit.Short(mm) + " " + string(unit) },
	})
	title := o.Name + ", marker"
	d := m.Drawing(title, legend)
	var all []output
	for _, format := range o.Formats {
		switch format {
		case "png":
			plain := m.Drawing(title, nil)
			o := png.Options{Longest: markerPicture(plain, p.Style.Output.Picture), Captions: legend[1:], Fine: true, BySize: true}
			all = append(all, output{name: base + ".png", format: format, drawing: plain,
				write: func(w io.Writer, d plot.Drawing) error { return png.Write(w, d, o) }})
		case "hpgl":
			plots, err := p.markerPlots(d, base)
			if err != nil {
				return nil, err
			}
			all = append(all, plots...)
		case "dxf":
			all = append(all, output{name: base + ".dxf", format: format, drawing: d,
				write: func(w io.Writer, d plot.Drawing) error { return dxf.Write(w, d, p.plainDXF()) }})
		case "svg":
			all = append(all, output{name: base + ".svg", format: format, drawing: inSizes(m, d), write: svg.Write})
		case "pdf":
			prints, err := p.markerPrints(inSizes(m, d), base)
			if err != nil {
				return nil, err
			}
			all = append(all, prints...)
		}
	}
	return all, nil
}

// markerPicture returns the longest side of the picture of a marker in px.
func markerPicture(d plot.Drawing, wanted int) int {
	box := d.Bounds()
	long := max(box.Width(), box.Height()) * markerScale
	return min(mostPixels, max(wanted, int(math.Ceil(long/100)*100)))
}

// inSizes sorts the pieces of a marker of several sizes into a group for each.
func inSizes(m *marker.Marker, d plot.Drawing) plot.Drawing {
	var sizes []string
	for _, g := range m.Order {
		if !slices.Contains(sizes, g.Size) {
			sizes = append(sizes, g.Size)
		}
	}
	if len(sizes) < 2 {
		return d
	}
	groups := make([]plot.Group, len(sizes))
	for i, s := range sizes {
		groups[i].Size = s
	}
	for _, g := range d.Groups {
		if k := slices.IndexFunc(sizes, func(s string) bool { return s != "" && g.Piece != nil && g.Piece.Size == s }); k >= 0 {
			groups[k].Groups = append(groups[k].Groups, g)
		} else {
			groups = append(groups, g)
		}
	}
	d.Groups = groups
	return d
}

// markerPlots draws a marker as it lies, its length along x, in frames where the
// plotter reaches less.
func (p *Plan) markerPlots(d plot.Drawing, base string) ([]output, error) {
	device, err := plotter(p.Style.Output.Plotter)
	if err != nil {
		return nil, err
	}
	groups := plotted(d.Groups, device.Pens)
	if device.vNotches && device.Tool == hpgl.Knife {
		groups = cutOut(groups)
	}
	return framed(device, []plot.Drawing{{Title: d.Title, Groups: groups}}, p.reach(device), d.Title, base)
}

// markerPrints lists the PDF files of a marker, on each paper of the style: on a roll with
// the cloth's length along it, in strips where the roll is narrower.
func (p *Plan) markerPrints(d plot.Drawing, base string) ([]output, error) {
	var all []output
	for _, paper := range p.Style.Output.Paper {
		name := base + "-" + fileName(paper.Name)
		if paper.Roll == 0 {
			all = append(all, output{name: name + ".pdf", format: "pdf", drawing: d, page: pageOf(paper), write: p.printed(paper.Name)})
			continue
		}
		turned := d.Transform(path.Rotation(path.Point{}, math.Pi/2))
		wide, long := pdf.RollSpace(turned, float64(paper.Roll))
		frames, err := plot.Frames(turned, wide, long, plot.Mark)
		if err != nil {
			return nil, &Error{Problem: err.Error(), Hint: widerRoll(float64(style.Length(200)))}
		}
		for i, f := range frames {
			one := output{name: name + ".pdf", format: "pdf", drawing: f.Drawing, page: pageOf(paper),
				write: func(w io.Writer, d plot.Drawing) error {
					return pdf.WriteRoll(w, d, float64(paper.Roll), p.printerStretch())
				}}
			one.drawing.Title = d.Title
			if len(frames) > 1 {
				one.name = fmt.Sprintf("%s-%d.pdf", name, i+1)
				one.drawing.Title = fmt.Sprintf("%s, sheet %d of %d", d.Title, i+1, len(frames))
			}
			all = append(all, one)
		}
	}
	return all, nil
}
