package facing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"engrail/facing/turn"
	"engrail/fit"
	"engrail/motif/path"
)

// ClipKind says what a clip is.
type ClipKind uint8

// The kinds of clips.
const (
	// SlitClip is a straight cut.
	SlitClip ClipKind = iota
	// VClip is a V that is cut out: its line goes from the cut edge to its apex and back.
	VClip
	// MarkClip is a slit, and MarkV a V, that is only marked; the V may start on the line
	// to which the allowance is trimmed there.
	MarkClip
	MarkV
)

// String returns the kind's name in lower case.
func (k ClipKind) String() string {
	return [...]string{"slit", "v", "marked slit", "marked v"}[k]
}

// Cut reports whether the clip is cut, not only marked.
func (k ClipKind) Cut() bool { return k < MarkClip }

// Clip is a cut into the allowance, or a mark for one.
type Clip struct {
	Kind ClipKind
	// Line runs from the edge inward.
	Line path.Path
	// Valley says that it stands at a valley or an inner corner.
	Valley bool
}

// Snip says how snips are made.
type Snip uint8

// The ways to make snips.
const (
	Snipped Snip = iota
	Marked
	Uncut // not at all
)

// Layers says which pieces have snips.
type Layers uint8

// The layers that can be snipped.
const (
	BothLayers Layers = iota
	GarmentOnly
	FacingOnly
	// Staggered is both, the facing's slits and Vs on curves half-way between the
	// garment's.
	Staggered
)

// Cloth is the weight of the cloth: under 0.5 mm, up to 1 mm, and more (common practice,
// no source).
type Cloth uint8

// The weights of cloth.
const (
	NoCloth Cloth = iota
	Light
	Medium
	Heavy
)

// Turning is what is done to the hem's allowance so that it turns to the inside.
type Turning struct {
	// Clips is how slits are made: at valleys and inner corners, and with Curves on
	// inward curves too.
	Clips  Snip
	Curves bool
	// Notches says that there are V notches on outward curves, cut or marked.
	Notches, MarkNotches bool
	On                   Layers
	// Fullness and Opening are the limits of [turn.Options] in mm; 0 stands for the usual
	// ones.
	Fullness, Opening float64
	// Tips draws where points are trimmed; with it or with Notches, it is drawn, too, where
	// the allowance is trimmed narrower on tight and short curves.
	Tips bool
	// TrimGarment and TrimFacing are the widths to which the allowances of garments, and
	// of facings and linings, are trimmed, in mm; 0 trims none.
	TrimGarment, TrimFacing float64
	// Cloth has marks drawn at valleys and points, as long as the stitches across.
	Cloth Cloth
}

// on reports whether pieces of the kind are snipped.
func (t Turning) on(k Kind) bool {
	return t.On != GarmentOnly && k.inner() || t.On != FacingOnly && k == Garment
}

// trimmed returns the width to which the hem's allowance on pieces of the kind is trimmed, 0
// for not at all.
func (t Turning) trimmed(k Kind) float64 {
	if k.inner() {
		return t.TrimFacing
	}
	return t.TrimGarment
}

// planned reports whether there is more than slits at valleys.
func (t Turning) planned() bool { return t.Curves || t.Notches || t.Tips || t.Cloth != NoCloth }

// across returns how many stitches are taken across a point and a valley, and how long
// they are: 1, 2 and 3 at points, one at a valley and two in thick cloth, of 2, 2.5
// and 3 mm (common practice, no source).
func (c Cloth) across() (point, valley int, stitch float64) {
	switch c {
	case Light:
		return 1, 1, 2
	case Medium:
		return 2, 1, 2.5
	}
	return 3, 2, 3
}

// valleyClips returns how many clips stand at valleys and inner corners.
func (p *Piece) valleyClips() int {
	n := 0
	for _, c := range p.Clips {
		if c.Valley {
			n++
		}
	}
	return n
}

// turn plans the turning of the hem's allowance, and adds what the options want of it.
func (p *Piece) turn(valleys []fit.Place, led map[int][2]lead, o Options) error {
	t := o.Turning
	if err := p.trim(led, o); err != nil {
		return err
	}
	if t.planned() && o.Hem > 0 {
		plan, err := p.plan(valleys, o)
		if err != nil {
			return err
		}
		if t.on(p.Kind) {
			p.addSnips(plan, t)
		}
		p.addTrims(plan, o)
		p.addPivots(plan, valleys, t)
		p.warnTurning(plan, o)
	}
	if !t.on(p.Kind) || t.Clips == Uncut {
		p.Clips = slices.DeleteFunc(p.Clips, func(c Clip) bool { return c.Kind == SlitClip })
	}
	if t.Clips == Marked {
		for i := range p.Clips {
			if p.Clips[i].Kind == SlitClip {
				p.Clips[i].Kind = MarkClip
			}
		}
	}
	return nil
}

// plan returns the plan of the piece's hem.
func (p *Piece) plan(valleys []fit.Place, o Options) (*turn.Plan, error) {
	limits := turn.Usual(o.Hem)
	limits.Gap = o.ClipGap
	if o.Turning.Fullness > 0 {
		limits.Fullness = o.Turning.Fullness
	}
	if o.Turning.Opening > 0 {
		limits.Opening = o.Turning.Opening
	}
	limits.Shifted = o.Turning.On == Staggered && p.Kind == Facing
	hem := p.Edges[0]
	plan, err := turn.Make(hem.Net, hem.Cut, valleys, limits)
	if err != nil {
		var own *turn.Error
		hint := ""
		if errors.As(err, &own) {
			hint = own.Remedy()
		}
		return nil, &Error{Piece: p.Name, Hint: hint, Cause: err}
	}
	return plan, nil
}

// PlanTurning plans the turning of a finished piece's hem, with a slit at each valley and
// inner corner, and measures each stretch from one of them to the next. Of a piece
// without an allowance along its shaped hem there is no plan: bands, facings that are grown
// on and interfacings.
func PlanTurning(p Piece, o Options) (*turn.Plan, []turn.Repeat, error) {
	if len(p.places) == 0 {
		return nil, nil, nil
	}
	places, along := p.hemPlaces()
	plan, err := p.plan(places, o)
	if err != nil {
		return nil, nil, err
	}
	var stops []float64
	for _, at := range along {
		if len(stops) == 0 || at > stops[len(stops)-1]+sameClip {
			stops = append(stops, at)
		}
	}
	return plan, plan.Measure(stops), nil
}

// hemPlaces returns the places of the hem's clips, in order along it and each once, with
// the distances.
func (p Piece) hemPlaces() (places []fit.Place, along []float64) {
	hem := path.NewRuler(p.Edges[0].Net)
	type spot struct {
		fit.Place
		along float64
	}
	var all []spot
	for _, v := range p.places {
		if !slices.ContainsFunc(all, func(b spot) bool { return b.Point.Dist(v.Point) < sameClip }) {
			at, _ := hem.Nearest(v.Point)
			all = append(all, spot{v, at})
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(a.along, b.along) })
	for _, v := range all {
		places, along = append(places, v.Place), append(along, v.along)
	}
	return places, along
}

// addSnips adds the plan's snips to the clips at valleys.
func (p *Piece) addSnips(plan *turn.Plan, t Turning) {
	k := 0
	var all []Clip
	for _, s := range plan.Snips {
		// Those at valleys are there, in the same order.
		if s.Kind == turn.Slit && k < len(p.Clips) && s.Line.End().Dist(p.Clips[k].Line.End()) < joinGap {
			all = append(all, p.Clips[k])
			k++
			continue
		}
		switch {
		case s.Kind == turn.Slit && t.Curves:
			all = append(all, Clip{Line: s.Line})
		case s.Kind == turn.V && t.Notches:
			kind := VClip
			if t.MarkNotches || s.Edge < plan.Options.Allowance {
				kind = MarkV // on a trim line it is cut when that is
			}
			all = append(all, Clip{Kind: kind, Line: s.Line})
		}
	}
	p.Clips = append(all, p.Clips[k:]...)
}

// addTrims adds where points are trimmed, and where the allowance is trimmed narrower for
// Vs or instead of them. Of a hem that is trimmed all along, what is no narrower is left out.
func (p *Piece) addTrims(plan *turn.Plan, o Options) {
	t, narrow, least, left := o.Turning, 0, o.Hem, 0.0
	for _, tip := range plan.Tips {
		if t.Tips && len(tip.Line.V) > 0 {
			p.Trims = append(p.Trims, tip.Line)
		}
	}
	for _, x := range plan.Trims {
		if all := t.trimmed(p.Kind); (t.Tips || t.Notches) && (all == 0 || x.Width < all) {
			p.Trims = append(p.Trims, x.Line)
			narrow, least, left = narrow+1, min(least, x.Width), max(left, x.Left)
		}
	}
	p.Narrowest = 0
	if narrow > 0 {
		p.Narrowest = least
		still := ""
		if limit := plan.Options.Fullness; left > limit+0.05 {
			still = fmt.Sprintf("; up to %.1f mm of extra edge stay there even so, more than the fullness that is wanted", left)
		}
		p.warn("turn-tight", "%d outward curves are too tight or too short for V notches in an allowance of %.1f mm: lines show where it is trimmed narrower there after stitching, to %.1f mm at the least%s", narrow, o.Hem, least, still)
	}
}

// warn adds to what is said of the piece's turning.
func (p *Piece) warn(code, format string, args ...any) {
	p.turning = append(p.turning, fit.Warning{Code: code, Message: fmt.Sprintf(format, args...), Where: p.Name})
}

// spareNotches only marks the snips on curves in which a notch stands: cut out with them,
// it would be gone before the layers are matched.
func (p *Piece) spareNotches() {
	for i, c := range p.Clips {
		if c.Valley || !c.Kind.Cut() {
			continue
		}
		near := slices.ContainsFunc(p.Notches, func(n Notch) bool {
			at := n.Line.A
			for k := range c.Line.Segments() {
				if _, off := c.Line.Segment(k).Nearest(at); off < notchClear {
					return true
				}
			}
			return false
		})
		if near && c.Kind == VClip {
			p.Clips[i].Kind = MarkV
		} else if near {
			p.Clips[i].Kind = MarkClip
		}
	}
}

// addPivots draws, at valleys and points, a line as long as the stitches across.
func (p *Piece) addPivots(plan *turn.Plan, valleys []fit.Place, t Turning) {
	if t.Cloth == NoCloth {
		return
	}
	point, valley, stitch := t.Cloth.across()
	add := func(v fit.Place, stitches int) {
		half := v.Out.Left().Mul(float64(stitches) * stitch / 2)
		p.Pivots = append(p.Pivots, path.Open(v.Point.Add(half.Neg()), v.Point.Add(half)))
	}
	for i, v := range valleys {
		if !p.round() && (i == 0 || i == len(valleys)-1) && atEnd(v, p.Edges[0].Net) {
			continue // in the seam, where nothing is stitched across
		}
		add(v, valley)
	}
	for _, tip := range plan.Tips {
		add(tip.Place(), point)
	}
}

func atEnd(v fit.Place, net path.Path) bool {
	return v.Point.Dist(net.Start()) < joinGap || v.Point.Dist(net.End()) < joinGap
}

// trim draws the line to which the hem's allowance is trimmed.
func (p *Piece) trim(led map[int][2]lead, o Options) error {
	width := o.Turning.trimmed(p.Kind)
	if width == 0 || o.Hem == 0 {
		return nil
	}
	if !(width > 0 && width < o.Hem) {
		return &Error{Piece: p.Name, Hint: fmt.Sprintf("trim it to less than the hem allowance of %.1f mm, or to 0 for not at all", o.Hem),
			Problem: fmt.Sprintf("an allowance of %.1f mm cannot be trimmed to %.6g mm", o.Hem, width)}
	}
	edges := slices.Clone(p.Edges)
	edges[0].Allowance = width
	if err := addCut(edges, led); err != nil {
		return &Error{Piece: p.Name, Hint: "trim the allowance to another width", Cause: err}
	}
	p.Trims = append(p.Trims, edges[0].Cut)
	return nil
}

// warnTurning warns of places that cannot be turned.
func (p *Piece) warnTurning(plan *turn.Plan, o Options) {
	var tips, hollows int
	least := [2]float64{o.Hem, o.Hem}
	for _, n := range plan.Narrow {
		if n.Valley {
			hollows++
			least[1] = min(least[1], n.Fits)
		} else {
			tips++
			least[0] = min(least[0], n.Fits)
		}
	}
	if tips > 0 {
		p.warn("narrow-point", "the allowances of %.1f mm meet inside of %d motifs when they are turned, the whole way from tip to foot; an allowance of at most %.1f mm would have room", o.Hem, tips, least[0])
	}
	if hollows > 0 {
		p.warn("narrow-valley", "the allowances of %.1f mm meet in %d valleys the whole way down; an allowance of at most %.1f mm would have room", o.Hem, hollows, least[1])
	}
}

// ValleyClips returns the clips at valleys and inner corners, slits and marks for them,
// each as the line from the cut edge inward.
func (p Piece) ValleyClips() []path.Segment {
	var all []path.Segment
	for _, c := range p.Clips {
		if c.Valley && c.Line.Segments() > 0 {
			all = append(all, path.Line(c.Line.Start(), c.Line.End()))
		}
	}
	return all
}
