package build

import (
	"fmt"
	"strings"

	"engrail/cmd/engrail/internal/pattern"
	"engrail/cmd/engrail/internal/style"
	"engrail/fit"
	"engrail/fit/draft"
	"engrail/motif/path"
	"engrail/plot"
)

// patterns turns the panels of a style into panels to fit. It keeps what it
// has read.
type patterns struct {
	style    *style.Style
	files    Files
	by       pattern.By        // how the files tell sizes apart
	own      map[string]string // the patterns' names of the sizes, by the style's
	drawings map[string]plot.Drawing
	sized    map[string][]pattern.Sized // of each file
	proposed map[string]proposal        // for each file that the style does not divide
	sample   string                     // of the grade rules
	warnings []fit.Warning
}

// proposal is how a file seems to tell its sizes apart.
type proposal struct {
	by    pattern.By
	names []string
}

func newPatterns(s *style.Style, files Files) *patterns {
	by := pattern.By(s.Pattern.Sizes)
	return &patterns{
		style: s, files: files, by: by, own: map[string]string{},
		drawings: map[string]plot.Drawing{}, sized: map[string][]pattern.Sized{}, proposed: map[string]proposal{},
	}
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
		panel.StartPhase, panel.FinishPhase, panel.CornerPhase = phaseOf(sp.Start.Motif), phaseOf(sp.Finish.Motif), phaseOf(sp.Corners.Motif)
		panel.StartPlain, panel.FinishPlain, panel.CornerPlain = float64(sp.Start.Plain), float64(sp.Finish.Plain), float64(sp.Corners.Plain)
		if panel.Runs, err = runsOf(sp.Runs); err != nil {
			return fit.Garment{}, nil, fmt.Errorf("panel %s: %w", sp.Name, err)
		}
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

// runsOf translates what is special on the runs of a hem.
func runsOf(list []style.Run) ([]fit.RunOptions, error) {
	var all []fit.RunOptions
	for _, r := range list {
		o := fit.RunOptions{Count: r.Count, Bare: r.Bare}
		if r.Motif != nil {
			spec, err := specOf(*r.Motif)
			if err != nil {
				return nil, err
			}
			o.Spec = &spec
		}
		all = append(all, o)
	}
	return all, nil
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
		panel, warnings, err := p.piece(s, size)
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
func (p *patterns) piece(s style.Panel, size string) (fit.Panel, []fit.Warning, error) {
	q := s.Piece
	d, err := p.drawingIn(q.File, size)
	if err != nil {
		return fit.Panel{}, nil, err
	}
	sel := pattern.Selection{
		File: q.File, Panel: s.Name,
		Name: q.Name, ID: q.ID, Label: q.Label, Text: q.Text, Order: q.Order,
		Hem: q.Hem[0], More: q.Hem[1:], Fold: q.Fold, Start: roleOf(s.Start.Edge), Finish: roleOf(s.Finish.Edge),
		Allowance: pattern.Widths{
			Hem: float64(p.style.Allowance.Hem), Top: float64(s.Allowance.Top),
			Start: float64(s.Allowance.Start), Finish: float64(s.Allowance.Finish),
			Edges: edgeWidths(s.Allowance.Edges),
		},
		Quantity: s.Quantity, Check: float64(q.Check),
	}
	left := s.Unstated
	sel.AsDrawn = pattern.Sides{Start: left.Start, Finish: left.Finish, Top: left.Top}
	if i := q.Includes; i != nil {
		sel.Includes = &pattern.Widths{Hem: float64(i.Hem), Start: float64(i.Start), Finish: float64(i.Finish), Top: float64(i.Top), Edges: edgeWidths(i.Edges)}
	}
	panel, warnings, err := pattern.Take(d, sel)
	if p.by != pattern.ByNothing || strings.Contains(q.File, style.SizeInName) || p.style.Sized() && err == nil {
		return panel, warnings, err
	}
	more, hinted := p.propose(sel, err)
	return panel, append(warnings, more...), hinted
}

func edgeWidths(list []style.EdgeWidth) []pattern.EdgeWidth {
	all := make([]pattern.EdgeWidth, len(list))
	for i, w := range list {
		all[i] = pattern.EdgeWidth{Edge: w.Edge, Width: float64(w.Width)}
	}
	return all
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
