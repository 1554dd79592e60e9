package facing

import (
	"errors"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// strip is a facing on its way to other pieces: that of a panel, or those of
// several panels laid out flat. Its cut line, clips and notches are as they were
// before and are made anew, clips at the places of the piece.
type strip struct {
	Piece
	// valleys and peaks are those of its hem, in no order.
	valleys, peaks []fit.Place
	// ends are the ends of panels that its own start and finish are.
	ends [2]fit.EndRef
	// said are the lines of its label that tell of the motifs.
	said []string
	// hint is what may help where its cut line cannot be made.
	hint string
}

// stripOf returns the facing of a panel as a strip.
func stripOf(f fit.Fitted, panel int, p Piece, o Options) strip {
	s := strip{Piece: p, ends: [2]fit.EndRef{{Panel: panel, End: fit.Start}, {Panel: panel, End: fit.Finish}}}
	if len(p.Label.Lines) > motifLine {
		s.said = []string{p.Label.Lines[motifLine]}
	}
	onHem := func(places []fit.Place) []fit.Place {
		all := slices.Clone(places)
		search := edgeSearch{line: p.Edges[0].Net}
		for i, v := range all {
			if on, ok := search.beyond(v.Point, v.Out.Neg(), o.Depth); ok && o.Favour > 0 {
				all[i].Point = on
			}
		}
		return all
	}
	s.valleys, s.peaks = onHem(f.Valleys), onHem(f.Peaks)
	return s
}

// cutAnew makes the cut lines, clips, notches and labels of strips whose nets have
// changed. Seams join ends of the panels of the fit and, beside them, the strips at
// the joins.
func cutAnew(strips []strip, seams []fit.SeamReport, joins [][2]int, o Options) error {
	at := map[fit.EndRef]fit.EndRef{}
	for i, s := range strips {
		for end, e := range s.ends {
			if e.Panel >= 0 {
				at[e] = fit.EndRef{Panel: i, End: fit.End(end)}
			}
		}
	}
	var sewn []fit.SeamReport
	for _, s := range seams {
		a, okA := at[s.Seam.A]
		b, okB := at[s.Seam.B]
		if okA && okB && a != b {
			sewn = append(sewn, fit.SeamReport{Seam: fit.Seam{A: a, B: b}})
		}
	}
	for _, j := range joins {
		sewn = append(sewn, fit.SeamReport{Seam: fit.Seam{
			A: fit.EndRef{Panel: j[0], End: fit.Finish}, B: fit.EndRef{Panel: j[1], End: fit.Start},
		}})
	}
	pieces := make([]Piece, len(strips))
	for i, s := range strips {
		pieces[i] = s.Piece
	}
	led := leads(pieces, sewn, o.Ends)
	for i := range strips {
		if err := strips[i].cutAnew(led[i], o); err != nil {
			return err
		}
	}
	return nil
}

func (s *strip) cutAnew(led map[int][2]lead, o Options) error {
	places, _ := s.hemPlaces()
	notches, grain := s.Notches, s.Grain
	s.Clips, s.Notches, s.Trims, s.Pivots = nil, nil, nil, nil
	if err := s.finish(places, led, o); err != nil {
		var own *Error
		if errors.As(err, &own) && s.hint != "" {
			own.Hint = s.hint
		}
		return err
	}
	for _, n := range notches {
		out := n.Line.A.Sub(n.Line.B).Unit()
		n.At, _ = path.NewRuler(s.Edges[n.Edge].Net).Nearest(n.Net)
		s.notch(n.Notch, n.Net, out)
	}
	s.spareNotches()
	s.Grain = s.grainFor(grain)
	s.bind(o)
	s.Label = label(s.lines(s.said, o), s.plainWalls(), s.along(o.Depth))
	return nil
}
