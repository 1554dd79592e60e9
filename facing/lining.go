package facing

import (
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// line makes the linings: the garment's pieces with their hems moved in by the favour.
func (m *Made) line(r *fit.Result, led []map[int][2]lead, o Options) error {
	hems, err := movedHems(m.Garments, r.Seams, led, o.Favour)
	if err != nil {
		return err
	}
	for i, f := range r.Panels {
		m.Linings = append(m.Linings, liningNet(f, m.Garments[i], hems[i]))
	}
	led = leads(m.Linings, r.Seams, o.Ends)
	for i, f := range r.Panels {
		if err := m.Linings[i].finishLining(f, led[i], o); err != nil {
			return err
		}
	}
	return nil
}

// liningNet returns the lining of a garment's piece, with the hem as given, without
// its cut line and marks.
func liningNet(f fit.Fitted, garment Piece, hem path.Path) Piece {
	p := newPiece(f, Lining, f.Panel.Name+" "+Lining.String())
	p.Edges = slices.Clone(garment.Edges)
	for i := range p.Edges {
		p.Edges[i].Cut = path.Path{}
	}
	p.Edges[0].Net = hem
	if p.round() {
		return p
	}
	last := len(p.Edges) - 1
	after, before := path.NewRuler(p.Edges[1].Net), path.NewRuler(p.Edges[last].Net)
	from, _ := after.Nearest(hem.End())
	to, _ := before.Nearest(hem.Start())
	p.Edges[1].Net = between(after.Sub(from, after.Length()), hem.End(), after.Path().End())
	p.Edges[last].Net = between(before.Sub(0, to), before.Path().Start(), hem.Start())
	return p
}

// finishLining adds to a lining's net all that goes by it.
func (p *Piece) finishLining(f fit.Fitted, led map[int][2]lead, o Options) error {
	if err := p.finish(p.movedIn(f.ClipPlaces(), f, o), led, o); err != nil {
		return err
	}
	notches := slices.Clone(f.Notches)
	if !p.round() {
		for i := range notches {
			if notches[i].Edge == 1 { // counted from the hem
				notches[i].At += p.Edges[1].Net.Length() - f.Net[1].Path.Length()
			}
		}
	}
	p.addNotches(notches)
	p.addMarks(f, o)
	p.Grain = f.Panel.Grain
	p.Inside = f.Panel.Inside
	p.Internal = slices.Concat(p.Internal, f.Marks)
	p.Label = p.labelGarment(p.text(f, o), f, p.movedIn(f.Valleys, f, o))
	return nil
}
