package build

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/png"
)

// nest is one piece in all of its sizes, laid over one another on a common
// point.
type nest struct {
	name   string
	on     string         // what the point is
	pieces []facing.Piece // of each size
	shift  []path.Vec     // by which each is moved
	free   fit.End        // the end of the hem where the sizes lie apart
}

// nests returns the pieces of the plan, those of a panel on the same point.
func (p *Plan) nests() ([]nest, error) {
	all := make([]nest, len(p.Sizes[0].Pieces))
	for i, first := range p.Sizes[0].Pieces {
		n := nest{name: first.Name}
		var origin path.Point
		for k, size := range p.Sizes {
			if len(size.Pieces) != len(all) {
				return nil, fmt.Errorf("size %s has %d pieces and size %s %d", p.Sizes[0].Name, len(all), size.Name, len(size.Pieces))
			}
			piece := size.Pieces[i]
			panel := slices.IndexFunc(size.Fit.Panels, func(f fit.Fitted) bool { return f.Panel.Name == piece.Panel })
			if panel < 0 {
				return nil, fmt.Errorf("the piece %s is of no panel", piece.Name)
			}
			at, on, free := nestPoint(size.Fit, panel)
			if k == 0 {
				origin, n.on, n.free = at, on, free
			}
			n.pieces = append(n.pieces, piece)
			n.shift = append(n.shift, origin.Sub(at))
		}
		all[i] = n
	}
	return all, nil
}

// nestPoint returns the point of a panel that all of its sizes have in common,
// what it is, and an end of the hem at which they lie apart: the end of the hem
// on the fold or on the seam in the middle, else the middle of the hem; of a hem that
// goes all round, the middle of the panel.
func nestPoint(r *fit.Result, panel int) (at path.Point, on string, free fit.End) {
	edges := r.Panels[panel].Panel.Edges
	hem := edges[0].Path
	if len(edges) < 2 {
		return hem.Bounds().Centre(), "its middle", fit.Finish
	}
	ends := [2]path.Point{fit.Start: hem.Start(), fit.Finish: hem.End()}
	sides := [2]fit.Role{fit.Start: edges[len(edges)-1].Role, fit.Finish: edges[1].Role}
	for e, at := range ends {
		if sides[e] == fit.FoldEdge {
			return at, "where hem and fold meet", fit.Finish - fit.End(e)
		}
	}
	for _, s := range r.Seams {
		if s.Seam.A == s.Seam.B && s.Seam.A.Panel == panel {
			return ends[s.Seam.A.End], "where hem and middle seam meet", fit.Finish - s.Seam.A.End
		}
	}
	ruler := path.NewRuler(hem)
	return ruler.At(ruler.Length() / 2), "the middle of the hem", fit.Finish
}

// nestOutputs lists the files that hold all sizes, whose pieces are drawn as the
// groups.
func (p *Plan) nestOutputs(groups [][]plot.Group) ([]output, error) {
	formats := p.Style.Output.Formats
	if len(p.Sizes) < 2 || !slices.ContainsFunc(formats, func(f string) bool { return f != "hpgl" && f != "notes" }) {
		return nil, nil
	}
	nests, err := p.nests()
	if err != nil {
		return nil, err
	}
	title := p.Style.Name + ", all sizes"
	base := fileName(p.Style.Name, "nest")
	var all []output
	add := func(o output) {
		o.size, o.drawing.Title = allSizes, title
		all = append(all, o)
	}
	if slices.Contains(formats, "png") {
		d, err := nestPicture(nests, p.sizeNames())
		if err != nil {
			return nil, err
		}
		o := png.Options{Longest: p.Style.Output.Picture, Captions: p.nestCaptions(nests), NoLegend: true}
		add(output{name: base + ".png", format: "png", drawing: d,
			write: func(w io.Writer, d plot.Drawing) error { return png.Write(w, d, o) }})
	}
	if slices.Contains(formats, "svg") || slices.Contains(formats, "pdf") {
		prints, err := p.nestPrints(nests, title, base)
		if err != nil {
			return nil, err
		}
		all = append(all, prints...)
	}
	if !slices.Contains(formats, "dxf") && !slices.Contains(formats, "astm") {
		return all, nil
	}
	d, err := nestDrawing(nests, groups)
	if err != nil {
		return nil, err
	}
	if slices.Contains(formats, "dxf") {
		add(output{name: base + ".dxf", format: "dxf", drawing: d,
			write: func(w io.Writer, d plot.Drawing) error {
				o := p.plainDXF()
				o.SizeLayers = true
				return dxf.Write(w, d, o)
			}})
	}
	if slices.Contains(formats, "astm") {
		o := p.patternData()
		if r, ok := p.ruled(d, base); ok {
			d, o = r.drawing, r.options
			add(output{name: base + "-astm.rul", format: "rul", drawing: d, write: func(w io.Writer, _ plot.Drawing) error {
				_, err := w.Write(r.table)
				return err
			}})
		}
		add(output{name: base + "-astm.dxf", format: "astm", drawing: d,
			write: func(w io.Writer, d plot.Drawing) error { return dxf.Write(w, d, o) }})
	}
	return all, nil
}

// ruled is pattern data with grade rules: how they are written, and the table.
type ruled struct {
	drawing plot.Drawing
	options dxf.Options
	table   []byte
}

// ruled returns the drawing as pattern data with grade rules: for a style that
// came so, if its sizes have the same lines with the same corners. Where they have
// not, each size is a block of its own.
func (p *Plan) ruled(d plot.Drawing, table string) (ruled, bool) {
	p.ungraded = nil
	if p.sample == "" || !slices.Contains(p.sizeNames(), p.sample) {
		return ruled{}, false
	}
	warn := func(why string) {
		p.ungraded = []Warning{{
			Code:    "no-grade-rules",
			Level:   fit.LevelNote.String(),
			Message: "the sizes go out as a block for each and not with grade rules, as they came: " + why,
			Where:   table + "-astm.dxf",
		}}
	}
	if p.Held == nil {
		warn("sizes have repeats of one width and not as many; write `hold: count` under `motif:` for rules")
		return ruled{}, false
	}
	r := ruled{
		drawing: plot.Drawing{Title: d.Title},
		options: p.patternData(),
	}
	r.options.RuleTable, r.options.SampleSize = table, p.sample
	r.options.CheckCurves = false // there are none with grade rules
	for sizes := range slices.Chunk(d.Groups, len(p.Sizes)) {
		r.drawing.Groups = append(r.drawing.Groups, evened(sizes)...)
	}
	var b bytes.Buffer
	if err := dxf.WriteRules(&b, r.drawing, r.options); err != nil {
		warn(strings.TrimPrefix(err.Error(), "dxf: "))
		return ruled{}, false
	}
	r.table = b.Bytes()
	return r, true
}

func (p *Plan) sizeNames() []string {
	names := make([]string, len(p.Sizes))
	for i, s := range p.Sizes {
		names[i] = s.Name
	}
	return names
}

// nestDrawing lays the nests side by side, with a group for each piece in each
// size.
func nestDrawing(nests []nest, groups [][]plot.Group) (plot.Drawing, error) {
	together := make([]plot.Group, len(nests))
	for i, n := range nests {
		for k := range groups {
			together[i].Groups = append(together[i].Groups, groups[k][i].Transform(path.Translation(n.shift[k])))
		}
	}
	d, err := oneSheet(together, "")
	var flat []plot.Group
	for _, g := range d.Groups {
		flat = append(flat, g.Groups...)
	}
	d.Groups = flat
	return d, err
}

// nestPrints lists the SVG and PDF files that hold all sizes.
func (p *Plan) nestPrints(nests []nest, title, base string) ([]output, error) {
	together := make([]plot.Group, len(nests))
	for i, n := range nests {
		together[i] = plot.Group{
			Label: n.name, Piece: &plot.Piece{Name: n.name},
			Groups: plot.FromSizes(n.pieces, n.shift, n.free, p.Style.Name),
		}
	}
	sheet, err := oneSheet(together, title)
	if err != nil {
		return nil, err
	}
	finish := func(d plot.Drawing) plot.Drawing { return bySize(d, p.sizeNames()) }
	made, err := p.printOutputs(printable{together, finish(sheet), base, finish})
	for i := range made {
		made[i].size = allSizes
	}
	return made, err
}

// bySize sorts what nests have of each size into a group for it, and what the sizes
// share behind these.
func bySize(d plot.Drawing, sizes []string) plot.Drawing {
	groups := make([]plot.Group, len(sizes), len(sizes)+len(d.Groups))
	for k, s := range sizes {
		groups[k].Size = s
	}
	for _, n := range d.Groups {
		for _, g := range n.Groups {
			if k := slices.Index(sizes, g.Size); k >= 0 {
				groups[k].Groups = append(groups[k].Groups, g)
			} else {
				groups = append(groups, g)
			}
		}
	}
	d.Groups = groups
	return d
}

// nestCaptions say on what the sizes lie, and how the motif fits each.
func (p *Plan) nestCaptions(nests []nest) []string {
	unit := p.Style.Units
	lines := []string{"sizes lie over one another on"}
	for i, n := range nests {
		if i < len(p.Sizes[0].Fit.Panels) {
			lines = append(lines, fmt.Sprintf("%s: %s", n.name, n.on))
		}
	}
	for i, f := range p.Sizes[0].Fit.Panels {
		lines = append(lines, "", f.Panel.Name)
		for _, s := range p.Sizes {
			f := s.Fit.Panels[i]
			lines = append(lines, fmt.Sprintf("%s: %d x %s %s", s.Name, f.Repeats, unit.Text(f.Width), unit))
		}
	}
	return lines
}
