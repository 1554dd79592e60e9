package notes

import (
	"math"
	"slices"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// Design is a style worked out, as far as its sheet goes by it.
type Design struct {
	Style *style.Style
	// Unit is that of the lengths in the text.
	Unit  style.Unit
	Sizes []Size
}

// Size is one size: its fitted hems and its pieces. Name is empty when the style has
// one size.
type Size struct {
	Name   string
	Fit    *fit.Result
	Pieces []facing.Piece
}

// Of returns the sheet of a design, which has at least one size. Each section is made
// by a function of its own; one that has nothing to say is left out.
func Of(d Design) Document {
	s := newSheet(d)
	doc := Document{Title: s.title()}
	for _, make := range []func() Section{
		s.overview, s.piecesSection, s.clothSection, s.figuresSection, s.stitchesSection, s.workSection, s.drawingsSection, s.cautionsSection,
	} {
		if section := make(); len(section.Blocks) > 0 {
			doc.Sections = append(doc.Sections, section)
		}
	}
	doc.Sections = append(doc.Sections, glossary(doc.Text()))
	return doc
}

// sheet is a design with its hems measured.
type sheet struct {
	Design
	measure
	hems  [][]hem // of each size, in the order of its panels
	turns turns   // over all sizes
}

func newSheet(d Design) *sheet {
	s := &sheet{Design: d, measure: measure(d.Unit)}
	for _, size := range d.Sizes {
		var hems []hem
		for i, f := range size.Fit.Panels {
			h := hemOf(f, size.Pieces[i], float64(d.Style.Facing.ClipGap))
			s.turns.add(f.Edge)
			hems = append(hems, h)
		}
		s.hems = append(s.hems, hems)
	}
	return s
}

// title names the style, and the size if it is the only one and has a name.
func (s *sheet) title() string {
	t := s.Style.Name + ": notes for the shaped hem"
	if len(s.Sizes) == 1 && s.Sizes[0].Name != "" {
		t += ", size " + s.Sizes[0].Name
	}
	return t
}

// faced reports whether the design has facings.
func (s *sheet) faced() bool { return s.Style.Facing.Depth > 0 }

// has reports whether there are pieces of the kind.
func (s *sheet) has(kind facing.Kind) bool {
	return slices.ContainsFunc(s.Sizes[0].Pieces, func(p facing.Piece) bool { return p.Kind == kind })
}

// grownOn reports whether the facing is cut in one with the garment.
func (s *sheet) grownOn() bool { return s.faced() && s.Style.Facing.Kind == style.GrownOn }

// favour is how much smaller the facing is than the garment.
func (s *sheet) favour() float64 {
	switch f := s.Style.Facing.Favour; {
	case s.grownOn():
		return 0
	case f == style.Auto:
		return facing.TurnOfCloth(float64(s.Style.Cloth.Thickness))
	default:
		return float64(f)
	}
}

// snips counts what is drawn of a kind on the garment's pieces of the sample, opened out,
// without those at valleys.
func (s *sheet) snips(kinds ...facing.ClipKind) (n int) {
	for _, p := range s.Sizes[s.sample()].Pieces {
		if p.Kind != facing.Garment {
			continue
		}
		for _, c := range p.Unfold().Clips {
			if !c.Valley && slices.Contains(kinds, c.Kind) {
				n += p.Quantity
			}
		}
	}
	return n
}

// manySizes reports whether there is more than one size.
func (s *sheet) manySizes() bool { return len(s.Sizes) > 1 }

// sized puts the name of a size before the cells of a row, or the word for it before those
// of a head, in sheets of more than one size.
func (s *sheet) sized(name string, cells ...string) []string {
	if !s.manySizes() {
		return cells
	}
	return append([]string{name}, cells...)
}

// left is how many first columns of a table are words, that of the size among them.
func (s *sheet) left(others int) int {
	if s.manySizes() {
		return others + 1
	}
	return others
}

// sample is the index of the size that is drawn, the middle one.
func (s *sheet) sample() int { return len(s.Sizes) / 2 }

// overSizes returns what the function gives for each size.
func (s *sheet) overSizes(of func(size int) int) []int {
	list := make([]int, len(s.Sizes))
	for i := range s.Sizes {
		list[i] = of(i)
	}
	return list
}

// hem is the shaped hem of a whole panel: opened out when it is cut on the fold.
type hem struct {
	fit.Fitted
	Name     string
	Quantity int
	// Length is that along the shaped edge.
	Length float64
	// Along is the least and the greatest length along the edge of one motif, Across
	// that straight from valley to valley; 0 when no motif lies between two valleys.
	Along, Across [2]float64
	// Clips counts those of the garment's piece, AtSeam those of them on the two ends
	// that are seams.
	Clips  int
	AtSeam [2]bool
}

// ends is how often an end of a panel is there in the whole garment.
func (h hem) ends() int {
	if h.Panel.OnFold() {
		return 2 * h.Quantity
	}
	return h.Quantity
}

// inside counts the clips that are not on a seam.
func (h hem) inside() int {
	n := h.Clips
	times := h.ends() / h.Quantity
	for _, at := range h.AtSeam {
		if at {
			n -= times
		}
	}
	return n
}

func hemOf(f fit.Fitted, garment facing.Piece, clipGap float64) hem {
	h := hem{Fitted: f, Name: f.Panel.Name, Quantity: garment.Quantity, Length: f.Edge.Length()}
	if f.Panel.OnFold() {
		h.Length *= 2
	}
	h.Along, h.Across = motifs(f)
	h.Clips = len(garment.Unfold().ValleyClips())
	if f.Edge.Closed {
		return h
	}
	for e, q := range [2]path.Point{f.Edge.Start(), f.Edge.End()} {
		side := f.Net[1]
		if fit.End(e) == fit.Start {
			side = f.Net[len(f.Net)-1]
		}
		h.AtSeam[e] = side.Role == fit.SeamEdge && slices.ContainsFunc(garment.ValleyClips(), func(c path.Segment) bool {
			return c.B.Dist(q) <= clipGap+atEnd
		})
	}
	return h
}

// motifs measures what lies between each valley and the next one where that is one
// motif: along the edge, and straight across.
func motifs(f fit.Fitted) (along, across [2]float64) {
	r := path.NewRuler(f.Edge)
	places := func(list []fit.Place) []float64 {
		all := make([]float64, len(list))
		for i, p := range list {
			all[i], _ = r.Nearest(p.Point)
		}
		slices.Sort(all)
		return all
	}
	valleys, peaks := places(f.Valleys), places(f.Peaks)
	if f.Edge.Closed && len(valleys) > 0 {
		valleys = append(valleys, valleys[0]+r.Length())
		for _, p := range slices.Clone(peaks) {
			peaks = append(peaks, p+r.Length())
		}
	}
	at := func(x float64) path.Point { return r.At(math.Mod(x, r.Length())) }
	if !f.Edge.Closed {
		at = r.At
	}
	for i := 1; i < len(valleys); i++ {
		a, b := valleys[i-1], valleys[i]
		between := 0
		for _, p := range peaks {
			if p > a && p < b {
				between++
			}
		}
		if between != 1 {
			continue // a plain stretch, or more than one motif
		}
		l, w := b-a, at(a).Dist(at(b))
		if along[1] == 0 {
			along, across = [2]float64{l, l}, [2]float64{w, w}
		}
		along = [2]float64{min(along[0], l), max(along[1], l)}
		across = [2]float64{min(across[0], w), max(across[1], w)}
	}
	return along, across
}

// turns says what the shaped edges have that asks for care when they are sewn and
// turned.
type turns struct {
	// Valleys says that the edge turns sharply into the garment, Points sharply out of
	// it; Lobes that it has curves outward, Bowls curves inward.
	Valleys, Points, Lobes, Bowls bool
	// lobe is the longest curve outward, in mm, and round what it turns.
	lobe, round float64
}

func (t *turns) add(edge path.Path) {
	n := edge.Segments()
	lobe, round := 0.0, 0.0 // of the arcs outward that have run smoothly on so far
	for i := range n {
		g := edge.Segment(i)
		if i > 0 || edge.Closed {
			turn := path.Turn(edge.Segment((i+n-1)%n), g)
			t.Valleys = t.Valleys || turn < -sharpTurn
			t.Points = t.Points || turn > sharpTurn
			if math.Abs(turn) > sharpTurn {
				lobe, round = 0, 0
			}
		}
		if g.Sweep() <= 0 {
			lobe, round = 0, 0
		}
		switch sweep := g.Sweep(); {
		case sweep > roundSweep:
			lobe, round = lobe+g.Length(), round+sweep
			if t.Lobes = true; lobe > t.lobe {
				t.lobe, t.round = lobe, round
			}
		case sweep < -roundSweep:
			t.Bowls = true
		}
	}
}

// join is a seam of the garment and how often it is sewn.
type join struct {
	a, b  int // the panels
	ends  [2]fit.End
	times int
	clip  bool // on it
}

// joins returns the seams of a size.
func (s *sheet) joins(size int) []join {
	var all []join
	for _, x := range s.Sizes[size].Fit.Seams {
		a, b := x.Seam.A, x.Seam.B
		ha, hb := s.hems[size][a.Panel], s.hems[size][b.Panel]
		j := join{a: a.Panel, b: b.Panel, ends: [2]fit.End{a.End, b.End}, times: min(ha.ends(), hb.ends())}
		if a == b {
			j.times = max(1, ha.ends()/2)
		}
		j.clip = ha.AtSeam[a.End] && hb.AtSeam[b.End]
		all = append(all, j)
	}
	return all
}

// seamCount is how many seams cross the hem.
func (s *sheet) seamCount(size int) (n int) {
	for _, j := range s.joins(size) {
		n += j.times
	}
	return n
}

// seamClips is how many of these have a clip.
func (s *sheet) seamClips(size int) (n int) {
	for _, j := range s.joins(size) {
		if j.clip {
			n += j.times
		}
	}
	return n
}

// allClips counts those round the whole hem, of one layer; what two pieces share on a
// seam is one.
func (s *sheet) allClips(size int) int {
	n := s.seamClips(size)
	for _, j := range s.joins(size) {
		if a, b := s.hems[size][j.a].ends(), s.hems[size][j.b].ends(); j.clip {
			n += max(a, b) - min(a, b) // of pieces that have none to meet
		}
	}
	for _, h := range s.hems[size] {
		n += h.inside() * h.Quantity
	}
	for _, loose := range s.looseEnds(size) {
		n += loose
	}
	return n
}

// looseEnds counts for each panel the clips on ends that are seams of which the style
// does not say what they are sewn to.
func (s *sheet) looseEnds(size int) []int {
	list := make([]int, len(s.hems[size]))
	for i, h := range s.hems[size] {
		for e, at := range h.AtSeam {
			joined := slices.ContainsFunc(s.joins(size), func(j join) bool {
				return j.clip && (j.a == i && int(j.ends[0]) == e || j.b == i && int(j.ends[1]) == e)
			})
			if at && !joined {
				list[i] += h.ends()
			}
		}
	}
	return list
}

// around is the length along the shaped edge of the whole garment.
func (s *sheet) around(size int) float64 {
	sum := 0.0
	for _, h := range s.hems[size] {
		sum += h.Length * float64(h.Quantity)
	}
	return sum
}
