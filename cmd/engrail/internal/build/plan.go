package build

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/motif"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/svg"
)

// Plan is a style worked out: every panel fitted and every piece made.
type Plan struct {
	Style *style.Style
	Sizes []Size
	// Warnings are those of all sizes, in order.
	Warnings []fit.Warning
	// Before is what stands where Write's files go. New leaves it empty; Write
	// warns of what an earlier build made there and it does not.
	Before Before
}

// Size is one size of a plan.
type Size struct {
	// Name is empty when the style has one size.
	Name string
	Fit  *fit.Result
	// FacingSeams compares the side seams of the facings.
	FacingSeams []fit.SeamReport
	Pieces      []facing.Piece
}

// ReadFile gives the bytes of a file named in the style, relative to it.
type ReadFile func(name string) ([]byte, error)

// New works a style out. Errors name size and panel.
func New(s *style.Style, read ReadFile) (*Plan, error) {
	spec, err := specOf(s.Motif)
	if err != nil {
		return nil, err
	}
	source := patterns{style: s, read: read, drawings: map[string]plot.Drawing{}}
	p := &Plan{Style: s}
	for _, size := range s.Sizes {
		garment, warnings, err := source.garment(size)
		if err != nil {
			return nil, err
		}
		p.warn(size.Name, warnings)
		fitted, err := fit.Fit(garment, spec)
		if err != nil {
			return nil, err
		}
		p.warn(size.Name, fitted.Warnings)
		done := Size{Name: size.Name, Fit: fitted}
		if err := p.pieces(&done); err != nil {
			return nil, err
		}
		p.Sizes = append(p.Sizes, done)
	}
	return p, nil
}

func (p *Plan) warn(size string, warnings []fit.Warning) {
	for _, w := range warnings {
		if size != "" {
			w.Where = "size " + size + ": " + w.Where
		}
		p.Warnings = append(p.Warnings, w)
	}
}

// pieces makes the garment pieces and, unless the style wants none, the
// facings.
func (p *Plan) pieces(size *Size) error {
	s := p.Style
	o := facing.Options{
		Depth: float64(s.Facing.Depth), Favour: float64(s.Facing.Favour),
		Hem: float64(s.Allowance.Hem), Inner: float64(s.Allowance.Inner),
		SideAsPanel: s.Facing.Side == nil,
		ClipGap:     float64(s.Facing.ClipGap), MarkEvery: float64(s.Facing.MarkEvery),
		Style: s.Name, Unit: string(s.Units), Length: s.Units.Short,
	}
	if s.Facing.Side != nil {
		o.Side = float64(*s.Facing.Side)
	}
	made, err := facing.Make(size.Fit, o)
	if err != nil {
		return err
	}
	p.warn(size.Name, made.Warnings)
	size.FacingSeams = made.Seams
	size.Pieces = append(made.Garments, made.Facings...)
	if s.Output.Unfold {
		for i := range size.Pieces {
			size.Pieces[i] = size.Pieces[i].Unfold()
		}
	}
	return nil
}

// specOf translates the style's motif.
func specOf(m style.Motif) (fit.Spec, error) {
	kind, err := motif.ParseKind(m.Shape)
	if err != nil {
		return fit.Spec{}, err
	}
	spec := fit.Spec{
		Shape: motif.Shape{
			Kind: kind, Flat: float64(m.Flat), TipRadius: float64(m.Tip.Round), TipFlat: float64(m.Tip.Blunt),
			ValleyRadius: float64(m.Valley.Round),
		},
		Depth: float64(m.Depth), Width: float64(m.Width), Least: float64(m.Least), Most: float64(m.Most),
	}
	if m.Lay == "bent" {
		spec.Lay = fit.Bent
	}
	switch m.Rest {
	case "peaks":
		spec.Rest = fit.Peaks
	case "middle":
		spec.Rest = fit.Middle
	}
	return spec, nil
}

// patterns turns the panels of a style into panels to fit. It keeps what it
// has read.
type patterns struct {
	style    *style.Style
	read     ReadFile
	drawings map[string]plot.Drawing
}

// garment returns the panels and seams of one size.
func (p *patterns) garment(size style.Size) (fit.Garment, []fit.Warning, error) {
	var g fit.Garment
	var warnings []fit.Warning
	index := map[string]int{}
	for i, sp := range size.Panels {
		index[sp.Name] = i
		panel, w, err := p.panel(sp, size.Name)
		if err != nil {
			return fit.Garment{}, nil, err
		}
		warnings = append(warnings, w...)
		panel.Count = p.style.Motif.Count
		if sp.Count > 0 {
			panel.Count = sp.Count
		}
		panel.StartPhase, panel.FinishPhase = phaseOf(sp.Start.Motif), phaseOf(sp.Finish.Motif)
		g.Panels = append(g.Panels, panel)
	}
	for _, s := range p.style.Seams {
		g.Seams = append(g.Seams, fit.Seam{
			A: fit.EndRef{Panel: index[s.A.Panel], End: endOf(s.A.End)},
			B: fit.EndRef{Panel: index[s.B.Panel], End: endOf(s.B.End)},
		})
	}
	return g, warnings, nil
}

func endOf(word string) fit.End {
	if word == style.FinishEnd {
		return fit.Finish
	}
	return fit.Start
}

func phaseOf(word string) fit.Phase {
	switch word {
	case "valley":
		return fit.Valley
	case "peak":
		return fit.Peak
	}
	return fit.AnyPhase
}

func roleOf(word string) fit.Role {
	switch word {
	case style.SeamEdge:
		return fit.SeamEdge
	case style.Opening:
		return fit.OpeningEdge
	case style.FoldEdge:
		return fit.FoldEdge
	}
	return fit.OtherEdge
}

// panel drafts one panel or takes it from its pattern.
func (p *patterns) panel(s style.Panel, size string) (fit.Panel, []fit.Warning, error) {
	if s.Piece != nil {
		panel, warnings, err := p.piece(s)
		panel.Size = size
		return panel, warnings, err
	}
	form := draft.Form{
		Name: s.Name, Size: size, Quantity: s.Quantity, Half: s.Half != "",
		Start:        draft.Side{Role: roleOf(s.Start.Edge), Allowance: float64(s.Allowance.Start), Notches: lengths(s.Start.Notches)},
		Finish:       draft.Side{Role: roleOf(s.Finish.Edge), Allowance: float64(s.Allowance.Finish), Notches: lengths(s.Finish.Notches)},
		HemAllowance: float64(p.style.Allowance.Hem), TopAllowance: float64(s.Allowance.Top),
	}
	if s.Half != "" {
		form.Start.Role = roleOf(s.Half)
	}
	if form.Start.Role == fit.FoldEdge {
		form.Start.Allowance = 0
	}
	panel, err := drafted(s, form)
	return panel, nil, err
}

// piece takes a panel from the drawing that the style names.
func (p *patterns) piece(s style.Panel) (fit.Panel, []fit.Warning, error) {
	q := s.Piece
	d, err := p.drawing(q.File)
	if err != nil {
		return fit.Panel{}, nil, err
	}
	sel := pattern.Selection{
		File: q.File, Panel: s.Name,
		Name: q.Name, ID: q.ID, Label: q.Label, Text: q.Text, Order: q.Order,
		Hem: q.Hem, Fold: q.Fold, Start: roleOf(s.Start.Edge), Finish: roleOf(s.Finish.Edge),
		Allowance: pattern.Widths{
			Hem: float64(p.style.Allowance.Hem), Top: float64(s.Allowance.Top),
			Start: float64(s.Allowance.Start), Finish: float64(s.Allowance.Finish),
		},
		Quantity: s.Quantity, Check: float64(q.Check),
	}
	if i := q.Includes; i != nil {
		sel.Includes = &pattern.Widths{Hem: float64(i.Hem), Start: float64(i.Start), Finish: float64(i.Finish), Top: float64(i.Top)}
	}
	return pattern.Take(d, sel)
}

// drawing reads a pattern file, once.
func (p *patterns) drawing(file string) (plot.Drawing, error) {
	if d, ok := p.drawings[file]; ok {
		return d, nil
	}
	data, err := p.read(file)
	if err != nil {
		return plot.Drawing{}, err
	}
	d, err := Decode(file, data, float64(p.style.Pattern.Unit))
	if err != nil {
		return plot.Drawing{}, err
	}
	p.drawings[file] = d
	return d, nil
}

// Decode reads a drawing in the format that the file's name says. unit is the
// true length in mm of one of its units, 0 to believe the file.
func Decode(file string, data []byte, unit float64) (d plot.Drawing, err error) {
	isSVG := false
	switch strings.ToLower(filepath.Ext(file)) {
	case ".svg":
		isSVG = true
		d, err = svg.Read(bytes.NewReader(data), svg.Options{UnitMM: unit})
	case ".dxf":
		d, err = dxf.Read(bytes.NewReader(data), dxf.ReadOptions{UnitMM: unit})
	default:
		return d, &Error{
			Problem: fmt.Sprintf("the pattern %s is of a kind that is not read: its name ends in neither .svg nor .dxf", file),
			Hint:    "save the pattern as plain SVG or ASCII DXF in the drawing program, and name that file",
		}
	}
	var placed *svg.Error
	switch {
	case err != nil && (errors.As(err, &placed) || !isSVG):
		return d, fmt.Errorf("%s: %w", file, err)
	case err != nil: // it is of no kind that is read
		return d, &Error{
			Problem: fmt.Sprintf("the pattern %s %v", file, err),
			Hint:    "save the pattern as plain SVG or ASCII DXF in the drawing program, and name that file",
		}
	}
	return d, nil
}

func drafted(s style.Panel, form draft.Form) (fit.Panel, error) {
	switch {
	case s.Circle != nil:
		c := s.Circle
		return draft.Circle{Waist: float64(c.Waist), Ease: float64(c.Ease), Length: float64(c.Length), Part: float64(c.Part), Panels: c.Panels}.Panel(form)
	case s.Gore != nil:
		g := draft.Gore{Waist: float64(s.Gore.Waist), Hem: float64(s.Gore.Hem), Length: float64(s.Gore.Length)}
		if s.Gore.Rise != nil {
			rise := float64(*s.Gore.Rise)
			g.Rise = &rise
		}
		return g.Panel(form)
	case s.Straight != nil:
		return draft.Straight{Width: float64(s.Straight.Width), Depth: float64(s.Straight.Depth)}.Panel(form)
	case s.Curve != nil:
		c := draft.Curve{Height: float64(s.Curve.Height)}
		for _, q := range s.Curve.Points {
			c.Points = append(c.Points, path.Point{X: float64(q.X), Y: float64(q.Y)})
		}
		return c.Panel(form)
	}
	return fit.Panel{}, fmt.Errorf("panel %s has no shape", s.Name)
}

func lengths(list []style.Length) []float64 {
	all := make([]float64, len(list))
	for i, l := range list {
		all[i] = float64(l)
	}
	return all
}
