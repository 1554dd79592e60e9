package facing

import (
	"fmt"
	"math"
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// innerName and innerEdge are the name and the index of a facing's inner edge.
const (
	innerName = "inner"
	innerEdge = 2
)

// Options are the measures of the facing and of the seam that joins it, in mm.
type Options struct {
	// Depth is measured from the valley line up to the facing's inner edge; 0
	// makes no facing.
	Depth float64
	// Favour is how much smaller than the garment the facing is at the hem, the
	// distance of the two stitching lines. It is all on the facing, or with
	// FavourBoth half of it on the garment, which is moved outward.
	Favour     float64
	FavourBoth bool
	// Hem is the allowance on the shaped edge of garment and facing, Inner that
	// on the facing's inner edge.
	Hem, Inner float64
	// Side is the allowance on the facing's side seams; SideAsPanel takes the
	// panel's own instead.
	Side        float64
	SideAsPanel bool
	// Ends is how the cut lines of hem and inner edge end in the sides' allowances.
	Ends Ends
	// TrueFacings makes the second facing of every seam as long at its side as the first,
	// where they differ, by moving its inner corner.
	TrueFacings bool
	// ClipGap is how far short of the stitching line clips stop.
	ClipGap float64
	// Turning is what is done to the allowance so that it turns; the zero Turning
	// has a slit at every valley and inner corner on both pieces.
	Turning Turning
	// MarkEvery is the wanted distance of match marks along the hem; 0 makes
	// none but the one in the middle.
	MarkEvery float64
	// Finish is what is done to the facing's inner edge.
	Finish InnerFinish
	// Interfaced makes an interfacing for each facing, which stops Short mm from
	// all of its edges but a fold.
	Interfaced bool
	Short      float64
	// Form is what facings there are.
	Form Form
	// Open names the seam at which a ring of facings in one piece is left open, nil for
	// the last of its seams.
	Open *fit.EndRef
	// Section is the greatest length of a facing, allowances included: longer ones
	// are cut in sections at valleys, or at peaks. 0 leaves them whole. Sections are
	// the least numbers of them, by the names of the facings.
	Section  float64
	AtPeaks  bool
	Sections map[string]int
	// Lined makes a lining for each panel, smaller at the hem by the favour.
	Lined bool
	// Style is the style's name on the labels.
	Style string
	// Unit names the unit of the lengths on labels, and Length writes one of so
	// many mm in it; without them labels are in mm.
	Unit   string
	Length func(mm float64) string
}

// Form says what facings there are.
type Form uint8

// The forms of facings.
const (
	// PerPanel is a facing for each panel, in the shape of its hem.
	PerPanel Form = iota
	// OnePiece is one facing for panels that seams join, laid out flat.
	OnePiece
	// Band is a straight strip for each panel with a straight hem, on which the
	// shaped hem is marked: it is sewn first and trimmed after.
	Band
	// GrownOn is a facing that is cut in one with a garment whose hem is straight, and
	// folded back along the line of its peaks.
	GrownOn
)

// Error says why a piece cannot be made and what would work.
type Error struct {
	Piece, Problem, Hint string
	Cause                error
}

// Error returns the piece and the problem.
func (e *Error) Error() string {
	if e.Cause != nil {
		return fmt.Sprintf("%s: %v", e.Piece, e.Cause)
	}
	return fmt.Sprintf("%s: %s", e.Piece, e.Problem)
}

// Remedy returns what would work.
func (e *Error) Remedy() string { return e.Hint }

// Unwrap returns the error underneath.
func (e *Error) Unwrap() error { return e.Cause }

func (o Options) check(piece string) error {
	fail := func(hint, format string, args ...any) error {
		return &Error{Piece: piece, Problem: fmt.Sprintf(format, args...), Hint: hint}
	}
	for _, m := range []struct {
		name  string
		value float64
		most  float64
	}{
		{"facing depth", o.Depth, maxMeasure}, {"favour", o.Favour, maxAllowance}, {"hem allowance", o.Hem, maxAllowance},
		{"inner allowance", o.Inner, maxAllowance}, {"side allowance", o.Side, maxAllowance}, {"clip gap", o.ClipGap, maxAllowance},
		{"distance of match marks", o.MarkEvery, maxMeasure}, {"length of a section", o.Section, maxMeasure}, {"distance of the interfacing from the seams", o.Short, maxAllowance},
	} {
		if !(m.value >= 0 && m.value <= m.most) {
			return fail(fmt.Sprintf("give it from 0 to %g mm", m.most), "the %s is %.6g mm", m.name, m.value)
		}
	}
	if o.Ends > Stepped {
		return fail("take Mirrored, Squared or Stepped", "there is no end %d of an allowance", o.Ends)
	}
	if o.Depth > 0 && o.Hem >= o.Depth {
		return fail("6 mm is usual",
			"the hem allowance of %.1f mm is as much as the facing is deep, %.1f mm, or more", o.Hem, o.Depth)
	}
	if o.Depth > 0 && o.Favour >= o.Depth/2 {
		return fail("1 to 3 mm is usual",
			"the favour of %.1f mm is half of the facing depth of %.1f mm or more", o.Favour, o.Depth)
	}
	return nil
}

// checkMouth refuses an allowance that closes what lies between two motifs: there
// would be no way to cut it.
func (o Options) checkMouth(f fit.Fitted) error {
	for _, run := range f.Runs {
		if run.Mouth > 0 && run.Mouth < 2*o.Hem {
			return &Error{Piece: f.Panel.Name,
				Problem: fmt.Sprintf("the motifs are only %.1f mm apart where they are widest, and two allowances of %.1f mm meet between them", run.Mouth, o.Hem),
				Hint:    fmt.Sprintf("make the hem allowance at most %.1f mm, leave a wider flat between the motifs, or make them larger", math.Floor(run.Mouth/2*10)/10)}
		}
	}
	return nil
}

// Made are the pieces of a garment: a garment piece for each panel of the fit, in
// its order, and unless the options want none a facing for each, or one for several,
// in sections where it is cut.
type Made struct {
	Garments, Facings []Piece
	// Closings say how the facings of joined panels close that are made in one.
	Closings []Closing
	// Sections are the numbers of sections by the names of the facings cut in them.
	Sections map[string]int
	// Interfacings are those of the facings, in their order, when they are wanted.
	Interfacings []Piece
	// Linings are those of the panels, in their order, when they are wanted.
	Linings []Piece
	// Seams compares the side seams of the facings along the seams of the fit.
	Seams []fit.SeamReport
	// Truing is what walking along the seams finds: of the garments, then of the facings,
	// in the order of the fit's seams.
	Truing []Truing
	// Favours compares the hems of garments and facings, by panel; none without
	// facings.
	Favours  []Favour
	Warnings []fit.Warning
}

// Make returns the pieces of a fitted garment. An [*Error] says which piece
// fails, by how much, and what would work: measures that make no sense, a
// facing deeper than its panel, allowances that leave nothing of an edge.
func Make(r *fit.Result, o Options) (*Made, error) {
	m := &Made{}
	longer := make([]float64, len(r.Panels)) // by a facing that is grown on, -1 without
	for _, f := range r.Panels {
		if err := o.check(f.Panel.Name); err != nil {
			return nil, err
		}
		if err := o.checkMouth(f); err != nil {
			return nil, err
		}
	}
	drafted := r
	if o.outward() > 0 && o.Form != GrownOn {
		var err error
		if r, err = grown(r, o); err != nil {
			return nil, err
		}
	}
	for i, f := range r.Panels {
		m.Garments = append(m.Garments, garmentNet(f, o))
		longer[i] = -1
		if o.Form == GrownOn && o.Depth > 0 {
			var err error
			if longer[i], err = m.Garments[i].grow(f, o); err != nil {
				return nil, err
			}
		}
	}
	led := leads(m.Garments, r.Seams, o.Ends)
	for i, f := range r.Panels {
		if err := m.Garments[i].finishGarment(f, led[i], longer[i], o); err != nil {
			return nil, err
		}
	}
	if o.Depth > 0 && o.Form != GrownOn {
		hems, err := movedHems(m.Garments, r.Seams, led, o.Favour)
		if err != nil {
			return nil, err
		}
		for i, f := range r.Panels {
			facing, err := facingNet(f, m.Garments[i], hems[i], o)
			if err != nil {
				return nil, err
			}
			m.Facings = append(m.Facings, facing)
		}
		if o.TrueFacings {
			equalSides(r, m.Garments, m.Facings)
		}
		led := leads(m.Facings, r.Seams, o.Ends)
		for i, f := range r.Panels {
			if err := m.Facings[i].finishFacing(f, m.Garments[i], led[i], o); err != nil {
				return nil, err
			}
		}
		m.Seams = seams(r, m.Facings)
		m.favours(drafted, r, o)
	}
	m.Truing = truings(r, m.Garments, 0)
	if len(m.Facings) > 0 && o.Form != Band {
		m.Truing = append(m.Truing, truings(r, m.Facings, o.Favour)...)
	}
	m.warnTruing()
	if o.Lined && o.Form != GrownOn {
		if err := m.line(r, led, o); err != nil {
			return nil, err
		}
	}
	for i, f := range r.Panels {
		m.warnNeck(f, o)
		if longer[i] < 0 {
			m.warnClips(m.Garments[i], f, o)
			m.Warnings = append(m.Warnings, m.Garments[i].turning...)
		}
		if len(m.Facings) > 0 && o.Form != Band {
			m.warnClips(m.Facings[i], f, o)
		}
	}
	if err := m.shape(r, o); err != nil {
		return nil, err
	}
	for _, p := range m.Facings {
		if !o.Interfaced {
			break
		}
		interfacing, err := p.interfacing(o)
		if err != nil {
			return nil, err
		}
		m.Interfacings = append(m.Interfacings, interfacing)
	}
	return m, nil
}

// shape makes of the facings of the panels those that the options want.
func (m *Made) shape(r *fit.Result, o Options) error {
	if len(m.Facings) == 0 || o.Section == 0 && o.Form != OnePiece {
		return nil
	}
	var strips []strip
	for i, f := range r.Panels {
		strips = append(strips, stripOf(f, i, m.Facings[i], o))
	}
	if o.Form == OnePiece {
		var err error
		if strips, err = m.onePiece(r, strips, o); err != nil {
			return err
		}
	}
	over := make([]tooLong, len(strips))
	var parts []strip
	for again := true; again; {
		var err error
		if parts, err = m.cutStrips(strips, over, r.Seams, o); err != nil {
			return err
		}
		// Beside its neighbour a corner can lie further out than by itself.
		again = false
		k := 0
		for i, s := range strips {
			n := max(1, m.Sections[s.Name])
			longest := 0.0
			for _, p := range parts[k : k+n] {
				if o.Section > 0 {
					longest = max(longest, extent(p.Unfold().Cut()))
				}
			}
			if longest > o.Section {
				over[i], again = tooLong{n, longest}, true
			}
			k += n
		}
	}
	m.Facings = nil
	for _, p := range parts {
		m.Facings = append(m.Facings, p.Piece)
	}
	return nil
}

// cutStrips cuts the strips in sections, if any are wanted, and makes them anew together,
// so that what is joined lies edge on edge.
func (m *Made) cutStrips(strips []strip, over []tooLong, seams []fit.SeamReport, o Options) (parts []strip, err error) {
	var joins [][2]int
	m.Sections = map[string]int{}
	for i, s := range strips {
		if o.Section == 0 {
			parts = append(parts, s)
			continue
		}
		cut, err := s.sections(o, over[i])
		if err != nil {
			return nil, err
		}
		m.Sections[s.Name] = len(cut)
		for k := range cut[1:] {
			joins = append(joins, [2]int{len(parts) + k, len(parts) + k + 1})
		}
		if s.round() {
			joins = append(joins, [2]int{len(parts) + len(cut) - 1, len(parts)})
		}
		parts = append(parts, cut...)
	}
	return parts, cutAnew(parts, seams, joins, o)
}

// warnNeck warns of motifs that cannot be turned: the allowances of both sides meet
// in their necks.
func (m *Made) warnNeck(f fit.Fitted, o Options) {
	for _, run := range f.Runs {
		if run.Neck > 0 && run.Neck < 2*o.Hem {
			m.Warnings = append(m.Warnings, fit.Warning{
				Code: "narrow-neck",
				Message: fmt.Sprintf("the motif is only %.1f mm wide at its neck, where the two allowances of %.1f mm meet when it is turned; an allowance of at most %.1f mm, or motifs %.1f times as wide, would have room",
					run.Neck, o.Hem, math.Floor(run.Neck/2*10)/10, math.Ceil(2*o.Hem/run.Neck*10)/10),
				Where: f.Panel.Name,
			})
			return
		}
	}
}

// warnClips warns of valleys without a clip.
func (m *Made) warnClips(p Piece, f fit.Fitted, o Options) {
	if missing := len(f.ClipPlaces()) - p.valleyClips(); missing > 0 && o.Turning.Clips != Uncut && o.Turning.on(p.Kind) {
		m.Warnings = append(m.Warnings, fit.Warning{
			Code: "clip-room",
			Message: fmt.Sprintf("%d of %d valleys and inner corners have no room for a clip: the hem allowance of %.1f mm leaves less than %.1f mm beside the gap of %.1f mm, or the motif lies in its way at a side; widen the allowance, lessen the gap or make the motif shallower",
				missing, len(f.ClipPlaces()), o.Hem, leastClip, o.ClipGap),
			Where: p.Name,
		})
	}
}

// garmentNet returns the garment piece of a panel without its cut line and
// marks.
func garmentNet(f fit.Fitted, o Options) Piece {
	p := newPiece(f, Garment, f.Panel.Name)
	for i, e := range f.Net {
		edge := Edge{Name: e.Name, Role: e.Role, Net: e.Path, Allowance: e.Allowance}
		if i == 0 {
			edge.Allowance = o.Hem
		}
		if e.Role == fit.FoldEdge {
			edge.Allowance = 0
		}
		p.Edges = append(p.Edges, edge)
	}
	return p
}

// finishGarment adds to a garment's net all that goes by it. With a facing grown on,
// by which its side at the finish is longer, there is no hem to be clipped and matched.
func (p *Piece) finishGarment(f fit.Fitted, led map[int][2]lead, longer float64, o Options) error {
	grown := longer >= 0
	places, notches, marks, texts := f.ClipPlaces(), f.Notches, f.Marks, p.Texts
	if grown {
		places, notches, marks = nil, slices.Clone(notches), p.Internal
		for i := range notches {
			if notches[i].Edge == 1 {
				notches[i].At += longer
			}
		}
		p.bind(o)
	}
	if err := p.finish(places, led, o); err != nil {
		return err
	}
	p.addNotches(notches)
	if !grown {
		p.addMarks(f, o)
	}
	p.Grain = f.Panel.Grain
	p.Inside = f.Panel.Inside
	p.Internal = slices.Concat(p.Internal, marks)
	p.Texts = slices.Concat(p.Texts, texts)
	p.Label = p.labelGarment(p.text(f, o), f, f.Valleys)
	return nil
}

// facingNet returns the facing of a panel, with the hem as given, without its
// cut line and marks.
func facingNet(f fit.Fitted, garment Piece, hem path.Path, o Options) (Piece, error) {
	p := newPiece(f, Facing, f.Panel.Name+" facing")
	tooDeep := func(hint string, err error) error {
		return &Error{Piece: p.Name, Hint: hint, Cause: fmt.Errorf("the facing is deeper than the piece: %w", err)}
	}
	if fits := f.Room() + f.ValleyHeight(); o.Depth > fits {
		return Piece{}, &Error{Piece: p.Name, Hint: fmt.Sprintf("at most %.1f mm deep fits", fits),
			Problem: fmt.Sprintf("the facing is deeper than the piece: %.1f mm above the valleys is %.1f mm beyond its sides", o.Depth, o.Depth-fits)}
	}
	inner, err := f.Level(f.ValleyHeight() - o.Depth)
	if err != nil {
		return Piece{}, tooDeep("make the facing less deep", err)
	}
	last := len(garment.Edges) - 1
	if garment.round() && o.Form == Band {
		_, err := straight(f, p.Name, o)
		return Piece{}, err
	}
	if garment.round() {
		return p.ring(garment, hem, inner, o)
	}
	for i := 2; i < last; i++ {
		e := garment.Edges[i]
		if cross := inner.Intersections(e.Net); len(cross) > 0 {
			at := cross[0].Point
			return Piece{}, tooDeep("make the facing less deep",
				fmt.Errorf("%.1f mm above the valleys its inner edge meets the edge %q at (%.0f, %.0f)", o.Depth, e.Name, at.X, at.Y))
		}
	}
	before, after := garment.Edges[last], garment.Edges[1]
	if cross := inner.Intersections(hem); len(cross) > 0 {
		at := cross[0].Point
		return Piece{}, &Error{Piece: p.Name, Hint: "make the facing deeper",
			Problem: fmt.Sprintf("its inner edge meets the shaped hem at (%.0f, %.0f)", at.X, at.Y)}
	}
	side := func(e Edge, from, to path.Point) Edge {
		r := path.NewRuler(e.Net)
		a, _ := r.Nearest(from)
		b, _ := r.Nearest(to)
		e.Net = r.Sub(a, b)
		e.Net.V[0].Point, e.Net.V[len(e.Net.V)-1].Point = from, to
		if !o.SideAsPanel && e.Role != fit.FoldEdge {
			e.Allowance = o.Side
		}
		e.Cut = path.Path{}
		return e
	}
	if o.Form == Band {
		if _, err := straight(f, p.Name, o); err != nil {
			return Piece{}, err
		}
		inner = path.Open(inner.Start(), inner.End())
	}
	p.Edges = []Edge{
		{Name: garment.Edges[0].Name, Role: fit.HemEdge, Net: hem, Allowance: o.Hem},
		side(after, hem.End(), inner.End()),
		{Name: innerName, Role: fit.OtherEdge, Inner: true, Net: inner.Reverse(), Allowance: o.Inner},
		side(before, inner.Start(), hem.Start()),
	}
	return p, nil
}

// ring makes the facing of a hem that goes all round.
func (p Piece) ring(garment Piece, hem, inner path.Path, o Options) (Piece, error) {
	if cross := inner.Intersections(hem); len(cross) > 0 {
		at := cross[0].Point
		return Piece{}, &Error{Piece: p.Name, Hint: "make the facing deeper",
			Problem: fmt.Sprintf("its inner edge meets the shaped hem at (%.0f, %.0f)", at.X, at.Y)}
	}
	p.Edges = []Edge{{Name: garment.Edges[0].Name, Role: fit.HemEdge, Net: hem, Allowance: o.Hem}}
	p.Hole = Edge{Name: innerName, Role: fit.OtherEdge, Inner: true, Net: inner.Reverse(), Allowance: o.Inner}
	if err := p.Hole.moveClosed(path.Corner{}); err != nil {
		return Piece{}, &Error{Piece: p.Name, Hint: "make the facing less deep or the allowance on its inner edge narrower", Cause: err}
	}
	return p, nil
}

// inner returns the inner edge of a facing, or of one that is grown on.
func (p Piece) inner() Edge {
	if p.Edges[0].Inner {
		return p.Edges[0]
	}
	if p.round() {
		return p.Hole
	}
	return p.Edges[innerEdge]
}

// movedIn returns places on the garment's hem moved in by the favour, those on an end
// to the end of the piece's own.
func (p *Piece) movedIn(places []fit.Place, f fit.Fitted, o Options) []fit.Place {
	hem := p.Edges[0].Net
	all := slices.Clone(places)
	for i, v := range all {
		all[i].Point = v.Point.Add(v.Out.Mul(-o.Favour))
		for e, end := range [2]path.Point{f.Edge.Start(), f.Edge.End()} {
			if f.Phases[e] == fit.Valley && !p.round() && v.Point.Dist(end) < joinGap {
				all[i].Point = []path.Point{hem.Start(), hem.End()}[e]
			}
		}
	}
	return all
}

// finishFacing adds to a facing's net all that goes by it.
func (p *Piece) finishFacing(f fit.Fitted, garment Piece, led map[int][2]lead, o Options) error {
	valleys := p.movedIn(f.Valleys, f, o)
	if o.Form == Band {
		if err := p.finishBand(f, o); err != nil {
			return err
		}
	} else if err := p.finish(p.movedIn(f.ClipPlaces(), f, o), led, o); err != nil {
		return err
	}
	p.copyNotches(garment)
	p.Internal = f.Marks
	p.addMarks(f, o)
	p.Grain = p.grainFor(f.Panel.Grain)
	p.bind(o)
	p.Label = p.labelFacing(p.text(f, o), f, valleys, o.Depth)
	return nil
}

func newPiece(f fit.Fitted, kind Kind, name string) Piece {
	p := Piece{Name: name, Panel: f.Panel.Name, Size: f.Panel.Size, Kind: kind,
		Quantity: max(1, f.Panel.Quantity), OnFold: f.Panel.OnFold()}
	p.Pairs = !p.OnFold && p.Quantity > 1
	return p
}

// finish adds the cut line and the clips, and makes sure that the outline is
// one that can be cut.
func (p *Piece) finish(valleys []fit.Place, led map[int][2]lead, o Options) error {
	p.places = nil
	if err := addCut(p.Edges, led); err != nil {
		return &Error{Piece: p.Name, Hint: "make the allowances narrower", Cause: err}
	}
	for _, cross := range p.Cut().SelfIntersections() {
		at := cross.Point
		if p.onSlit(at) {
			continue
		}
		return &Error{Piece: p.Name, Hint: "make the allowances narrower or the facing deeper",
			Problem: fmt.Sprintf("its cut line crosses itself at (%.0f, %.0f)", at.X, at.Y)}
	}
	search := edgeSearch{line: p.Edges[0].Cut}
	for i, v := range valleys {
		p.places = append(p.places, v)
		end := v.Point.Add(v.Out.Mul(o.ClipGap))
		start, ok := search.beyond(v.Point, v.Out, 4*o.Hem+slack)
		if !ok || start.Sub(end).Dot(v.Out) < leastClip {
			continue
		}
		clip := path.Open(start, end)
		// On a side that leans inward, a deep motif may lie across its line.
		atEnd := !p.round() && (i == 0 || i == len(valleys)-1)
		if atEnd && len(clip.Intersections(p.Edges[0].Net)) > 0 {
			p.places = p.places[:len(p.places)-1]
			continue
		}
		p.Clips = append(p.Clips, Clip{Line: clip, Valley: true})
	}
	return p.turn(valleys, led, o)
}

// onSlit reports whether two edges without an allowance meet at the point, as
// the sides of a full circle do: it is cut open there, and nothing overlaps.
func (p *Piece) onSlit(at path.Point) bool {
	meeting := 0
	for _, e := range p.Edges {
		if e.Allowance != 0 {
			continue
		}
		if _, off := path.NewRuler(e.Cut).Nearest(at); off < joinGap {
			meeting++
		}
	}
	return meeting > 1
}

// edgeSearch finds where rays from inside meet a cut line. The rays come in
// order along the line, so that the search goes on from where the last one
// ended.
type edgeSearch struct {
	line path.Path
	next int
}

// beyond returns the first place of the line on the ray from p along out, no
// farther than reach.
func (s *edgeSearch) beyond(p path.Point, out path.Vec, reach float64) (path.Point, bool) {
	ray := path.Line(p, p.Add(out.Mul(reach)))
	box := ray.Bounds().Grow(slack)
	n := s.line.Segments()
	for k := range n {
		i := (s.next + k) % n
		g := s.line.Segment(i)
		if !box.Meets(g.Bounds()) {
			continue
		}
		best, found := math.Inf(1), path.Point{}
		hits := g.Intersect(ray)
		for _, x := range hits.At[:hits.N] {
			if d := x.Point.Dist(p); d < best {
				best, found = d, x.Point
			}
		}
		// A ray along a fold meets the cut line just at its end.
		for _, q := range []path.Point{g.A, g.B} {
			if v := q.Sub(p); math.Abs(v.Cross(out)) < slack && v.Dot(out) >= 0 && v.Dot(out) < min(reach, best) {
				best, found = v.Dot(out), q
			}
		}
		if !math.IsInf(best, 1) {
			s.next = i
			return found, true
		}
	}
	return path.Point{}, false
}

// addNotch marks the place of the notch on its edge.
func (p *Piece) addNotch(n fit.Notch) {
	r := path.NewRuler(p.Edges[n.Edge].Net)
	p.notch(n, r.At(n.At), r.TangentAt(n.At).Right())
}

// notch draws a notch for a place on the net line of its edge, out of the piece
// along out. The place is left out when the cut line is nowhere beyond it. It is
// as deep as it says where that keeps clear of the stitching line.
func (p *Piece) notch(n fit.Notch, net path.Point, out path.Vec) {
	e := p.Edges[n.Edge]
	search := edgeSearch{line: e.Cut}
	start, ok := search.beyond(net, out, 4*e.Allowance+slack)
	if !ok {
		return
	}
	deep, room := n.Depth, start.Dist(net)
	if deep == 0 || e.Allowance > 0 && deep >= room {
		deep = notchLength // without an allowance it reaches into the piece
		if e.Allowance > 0 {
			deep = min(deep, notchShare*room)
		}
	}
	p.Notches = append(p.Notches, Notch{n, path.Line(start, start.Add(out.Mul(-deep))), net})
}

func (p *Piece) addNotches(notches []fit.Notch) {
	for _, n := range notches {
		if n.Edge > 0 && n.Edge < len(p.Edges) && n.At >= 0 && n.At <= p.Edges[n.Edge].Net.Length() {
			p.addNotch(n)
		}
	}
}

// copyNotches takes over the garment's notches on the stretch of its sides that
// the facing covers, at the same distance from the inner edge.
func (p *Piece) copyNotches(garment Piece) {
	if p.round() {
		return
	}
	for _, n := range garment.Notches {
		to := 1
		switch n.Edge {
		case 1:
		case len(garment.Edges) - 1:
			to = len(p.Edges) - 1
		default:
			continue
		}
		r := path.NewRuler(p.Edges[to].Net)
		if along, off := r.Nearest(n.Net); off < joinGap && along > cornerNotch && along < r.Length()-cornerNotch {
			same := n.Notch
			same.Edge, same.At = to, along
			p.addNotch(same)
		}
	}
}

// addMarks sets match marks on peaks of the hem: on the one nearest the middle
// and on others about the wanted distance apart. The facing's stand on the
// same peaks, so that garment and facing match mark for mark.
func (p *Piece) addMarks(f fit.Fitted, o Options) {
	if len(f.Peaks) == 0 {
		return
	}
	count := 1
	if o.MarkEvery > 0 {
		count = max(1, int(math.Round(f.Edge.Length()/o.MarkEvery)))
	}
	r := path.NewRuler(p.Edges[0].Net)
	lastPeak := -1
	for i := range count {
		k := int((float64(i) + 0.5) / float64(count) * float64(len(f.Peaks)))
		k = min(k, len(f.Peaks)-1)
		if k == lastPeak {
			continue
		}
		lastPeak = k
		peak := f.Peaks[k]
		net := peak.Point
		if p.Kind != Garment {
			// Straight above the garment's peak; a sharp tip moves by more than
			// the favour.
			reach := o.Depth
			if p.Kind == Lining {
				reach = f.Spec.Depth
			}
			search := edgeSearch{line: p.Edges[0].Net}
			if on, ok := search.beyond(net, peak.Out.Neg(), reach); ok {
				net = on
			}
		}
		along, _ := r.Nearest(net)
		p.notch(fit.Notch{At: along}, net, peak.Out)
	}
	p.spareNotches()
}

// grainFor returns the facing's grain line: the panel's direction, through the
// band a quarter of its length along.
func (p Piece) grainFor(panel path.Segment) path.Segment {
	along := panel.Chord().Unit()
	if along == (path.Vec{}) {
		return path.Segment{}
	}
	middle, _ := p.across(0.25)
	low, high := p.room(middle, along)
	// In a narrow band the line keeps less than the margin from its edges.
	half := min(grainLength/2, max((high-low)/2-grainMargin, 0.35*(high-low)))
	if half < leastGrain {
		return path.Segment{}
	}
	middle = middle.Add(along.Mul((low + high) / 2))
	return path.Line(middle.Add(along.Mul(-half)), middle.Add(along.Mul(half)))
}

// across returns the middle of a facing at the ratio of its length, and the
// direction along it.
func (p Piece) across(ratio float64) (path.Point, path.Vec) {
	inner := path.NewRuler(p.inner().Net)
	hem := path.NewRuler(p.Edges[0].Net)
	top := inner.At(inner.Length() * (1 - ratio))
	low := hem.At(hem.Length() * ratio)
	if p.round() {
		along, _ := hem.Nearest(top) // they need not start beside one another
		low = hem.At(along)
	}
	return top.Lerp(low, 0.5), inner.TangentAt(inner.Length() * (1 - ratio)).Neg()
}

// room returns how far the net outline is from the point against and along the
// direction: low is negative or 0.
func (p Piece) room(at path.Point, along path.Vec) (low, high float64) {
	net := p.Net()
	box := net.Bounds()
	far := box.Width() + box.Height() + 1
	low, high = -far, far
	line := path.Open(at.Add(along.Mul(-far)), at.Add(along.Mul(far)))
	crossings := net.Intersections(line)
	if len(p.Hole.Net.V) > 0 {
		crossings = append(crossings, p.Hole.Net.Intersections(line)...)
	}
	for _, x := range crossings {
		d := x.Point.Sub(at).Dot(along)
		if d <= 0 {
			low = max(low, d)
		}
		if d >= 0 {
			high = min(high, d)
		}
	}
	return low, high
}

// seams compares the side seams of facings, one for each panel of the fit and
// in the same order.
func seams(r *fit.Result, facings []Piece) []fit.SeamReport {
	length := func(e fit.EndRef) float64 {
		edges := facings[e.Panel].Edges
		k := 1
		if e.End == fit.Start {
			k = len(edges) - 1
		}
		return edges[k].Net.Length()
	}
	reports := make([]fit.SeamReport, len(r.Seams))
	for i, s := range r.Seams {
		s.ALength, s.BLength = length(s.Seam.A), length(s.Seam.B)
		reports[i] = s
	}
	return reports
}
