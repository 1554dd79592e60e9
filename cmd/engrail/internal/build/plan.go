package build

import (
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/facing/advice"
	"engrail/fit"
)

// Plan is a style worked out: every panel fitted and every piece made.
type Plan struct {
	// Style is the style, in the sizes of its pattern when those are taken from it.
	Style *style.Style
	Sizes []Size
	// Held are the counts of the panels where the style holds them in all of
	// several sizes.
	Held []fit.Held
	// Warnings are those of all sizes, in order.
	Warnings []fit.Warning
	// Before is what stands where Write's files go. New leaves it empty; Write
	// warns of what an earlier build made there and it does not.
	Before Before
	// ungraded warns that sizes with grade rules go out without.
	ungraded []Warning
	sample   string // the size that grade rules start from, of a style that has them
}

// Size is one size of a plan.
type Size struct {
	// Name is empty when the style has one size.
	Name string
	Fit  *fit.Result
	// FacingSeams compares the side seams of the facings.
	FacingSeams []fit.SeamReport
	// Favours compares the hems of garments and facings, by panel; none without facings.
	Favours []facing.Favour
	// Closings say how the facings of joined panels close that are made in one.
	Closings []facing.Closing
	Pieces   []facing.Piece
	// grown is how many times as long as the first size's the hem is where the count
	// is held, else 1; sections are how many there are by the names of the facings,
	// and warnings those of the pieces.
	grown    float64
	sections map[string]int
	warnings []fit.Warning
	// Checks are what a careful maker says of it, fine or not.
	Checks []advice.Finding
	// Truing is what walking along the seams finds: of garments, then of facings.
	Truing []facing.Truing
}

// Files gives the files that a style names, relative to it.
type Files struct {
	// Read returns the bytes of a file.
	Read func(name string) ([]byte, error)
	// List returns the names of the files in a folder; without it there are none
	// but those that the style names.
	List func(folder string) []string
}

// New works a style out. Errors name size and panel.
func New(s *style.Style, files Files) (*Plan, error) {
	spec, err := specOf(s.Motif)
	if err != nil {
		return nil, err
	}
	source := newPatterns(s, files)
	if err := source.findSizes(); err != nil {
		return nil, err
	}
	p := &Plan{Style: source.style, sample: source.sample}
	garments := make([]fit.Garment, len(p.Style.Sizes))
	for i, size := range p.Style.Sizes {
		var warnings []fit.Warning
		if garments[i], warnings, err = source.garment(size); err != nil {
			return nil, err
		}
		p.warn(size.Name, warnings)
	}
	p.Warnings = append(source.warnings, p.Warnings...) // those of whole files first
	if s.Motif.Hold == style.HoldCount && len(garments) > 1 {
		if p.Held, err = fit.HoldCounts(garments, spec); err != nil {
			return nil, err
		}
		for _, g := range garments {
			for k := range g.Panels {
				g.Panels[k].Count = p.Held[k].Repeats
			}
		}
	}
	for i, size := range p.Style.Sizes {
		fitted, err := fit.Fit(garments[i], spec)
		if err != nil {
			return nil, err
		}
		done := Size{Name: size.Name, Fit: fitted, grown: 1}
		if p.Held != nil && i > 0 {
			done.grown = fitted.Panels[0].Edge.Length() / p.Sizes[0].Fit.Panels[0].Edge.Length()
		}
		if err := p.pieces(&done); err != nil {
			return nil, err
		}
		p.Sizes = append(p.Sizes, done)
	}
	if err := p.evenSections(); err != nil {
		return nil, err
	}
	for _, size := range p.Sizes {
		p.warn(size.Name, size.Fit.Warnings)
		p.warn(size.Name, size.warnings)
	}
	return p, nil
}

func endsOf(word string) facing.Ends {
	switch word {
	case style.SquaredEnds:
		return facing.Squared
	case style.SteppedEnds:
		return facing.Stepped
	}
	return facing.Mirrored
}

func (p *Plan) warn(size string, warnings []fit.Warning) {
	for _, w := range warnings {
		if size != "" {
			w.Where = "size " + size + ": " + w.Where
		}
		p.Warnings = append(p.Warnings, w)
	}
}

// evenSections makes the pieces once more, in the greatest numbers of sections that
// a size needs, where sizes differ in them: they have the same pieces then.
func (p *Plan) evenSections() error {
	most, differ := map[string]int{}, false
	for i, size := range p.Sizes {
		for name, n := range size.sections {
			differ = differ || i > 0 && most[name] != n
			most[name] = max(most[name], n)
		}
	}
	for i := range p.Sizes {
		if !differ {
			break
		}
		p.Sizes[i].sections = most
		if err := p.pieces(&p.Sizes[i]); err != nil {
			return err
		}
	}
	return nil
}

// pieces makes the garment pieces and, unless the style wants none, the
// facings, in no fewer sections than the size says. Where the count is held, the
// match marks stand further apart by as much as the shaped hem has grown, so that
// they are at the same repeats in every size.
func (p *Plan) pieces(size *Size) error {
	s := p.Style
	o := facing.Options{
		Depth: float64(s.Facing.Depth), Favour: float64(s.Facing.Favour), FavourBoth: s.Facing.FavourOn == style.FavourOnBoth,
		Hem: float64(s.Allowance.Hem), Inner: float64(s.Allowance.Inner),
		SideAsPanel: s.Facing.Side == nil, Ends: endsOf(s.Allowance.Ends), TrueFacings: s.Facing.Truing == style.CorrectTruing,
		ClipGap: float64(s.Facing.ClipGap), MarkEvery: size.grown * float64(s.Facing.MarkEvery),
		Turning: turningOf(s),
		Style:   s.Name, Unit: string(s.Units), Length: s.Units.Short,
	}
	if s.Facing.Favour == style.Auto {
		o.Favour = facing.TurnOfCloth(float64(s.Cloth.Thickness))
	}
	if s.Facing.Side != nil {
		o.Side = float64(*s.Facing.Side)
	}
	switch s.Facing.InnerEdge {
	case "overlocked":
		o.Finish = facing.Overlocked
	case style.BoundEdge:
		o.Finish = facing.Bound
	}
	switch s.Facing.Kind {
	case style.OnePiece:
		o.Form = facing.OnePiece
	case style.Band:
		o.Form = facing.Band
	case style.GrownOn:
		o.Form = facing.GrownOn
	}
	if at := s.Facing.OpenAt; at.Panel != "" {
		panel := slices.IndexFunc(size.Fit.Panels, func(f fit.Fitted) bool { return f.Panel.Name == at.Panel })
		o.Open = &fit.EndRef{Panel: panel, End: endOf(at.End)}
	}
	o.Section, o.AtPeaks, o.Sections = float64(s.Facing.Section), s.Facing.PiecesAt == "peaks", size.sections
	o.Short = float64(s.Facing.Interfacing)
	o.Interfaced = o.Short > 0
	o.Lined = s.Facing.Lining
	made, err := facing.Make(size.Fit, o)
	if err != nil {
		return err
	}
	size.warnings, size.sections = made.Warnings, made.Sections
	size.FacingSeams, size.Favours, size.Truing, size.Closings = made.Seams, made.Favours, made.Truing, made.Closings
	size.Checks = advice.Review(size.Fit, made, advice.Options{Facing: o, Fray: float64(s.Cloth.Fray), Accept: s.Accept})
	size.Pieces = slices.Concat(made.Garments, made.Facings, made.Interfacings, made.Linings)
	if s.Output.Unfold {
		for i := range size.Pieces {
			size.Pieces[i] = size.Pieces[i].Unfold()
		}
	}
	return nil
}
