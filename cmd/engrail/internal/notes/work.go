package notes

import (
	"fmt"
	"slices"
	"strings"

	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/fit"
)

// Measures of sewing, in mm. Enclosed allowances are trimmed to 3 to 6 mm and the one
// nearest the outside stays widest, at 6 mm (Apparel: Design, Textiles & Construction,
// 2012, p. 451); the other is still caught by the understitching, 3 mm from the seam (How
// to Understitch a Facing, Threads, 2019). Clips on curves stand 6 to 13 mm
// apart as the curve asks (the former, p. 452), the wider spacing for gentle ones; so V
// notches are held to it.
const (
	widestTrimmed   = 6.0
	narrowerTrimmed = 4.5
	// Nothing is trimmed to less than the lower end of that range.
	narrowestTrimmed = 3.0
	understitching   = 3.0
	nearNotches      = 6.0
	farNotches       = 13.0
	curveClips       = 13.0
	interfacingGap   = 3.0 // short of the stitching line; common practice
)

// layers returns how wide the allowances of garment and facing are left, and how far
// from the seam the understitching runs.
func (s *sheet) layers() (garment, facing, under float64) {
	hem := float64(s.Style.Allowance.Hem)
	garment, facing = min(hem, widestTrimmed), min(hem, narrowerTrimmed)
	if w := float64(s.Style.Turning.Trim.Garment); w > 0 {
		garment = w
	}
	if w := float64(s.Style.Turning.Trim.Facing); w > 0 {
		facing = w
	}
	return garment, facing, min(understitching, facing*2/3)
}

// rolled is how far above the finished edge the seam lies on the inside: of a facing that
// is smaller by the favour, half of it, as both layers end at the fold of the edge. Derived.
func (s *sheet) rolled() float64 { return s.favour() / 2 }

// workSection is the order of work, from the cloth to the last press. Its order is that of
// Apparel: Design, Textiles & Construction, p. 453: match, stitch, trim and clip, press
// toward the facing, understitch, turn, tack.
func (s *sheet) workSection() Section {
	var steps []Item
	add := func(list ...Item) { steps = append(steps, list...) }
	add(s.prepare()...)
	add(s.joining()...)
	switch {
	case s.faced():
		add(s.innerEdge())
		if s.lined() {
			add(s.lining())
		}
		add(s.edge()...)
		add(s.tack(), s.look())
	case s.has(facing.Lining):
		// A lining is sewn to the edge as a facing is.
		for _, step := range s.edge() {
			add(Item{strings.ReplaceAll(step.Lead, "facing", "lining"), strings.ReplaceAll(step.Text, "facing", "lining")})
		}
		add(s.look())
	default:
		add(s.unfaced()...)
	}
	return Section{"work", "The order of work", []Block{
		Paragraph("Do one step after the other; where a step looks odd, its reason stands with it. The numbers are those of this design. Everything else of the garment is sewn as its own pattern says, what is above the hem before or after."),
		List{Ordered: true, Items: steps},
	}}
}

// edge is sewing garment and facing together along the shaped edge, and turning it.
func (s *sheet) edge() []Item {
	steps := []Item{s.layTogether(), s.sew()}
	if s.turns.Valleys {
		steps = append(steps, s.turnAtValleys())
	}
	if s.turns.Points {
		steps = append(steps, s.turnAtPoints())
	}
	steps = append(steps, s.trim(), s.clip())
	if s.turns.Lobes || s.turns.Bowls {
		steps = append(steps, s.notchCurves())
	}
	return append(steps, s.finishing()...)
}

// prepare is washing, cutting and marking.
func (s *sheet) prepare() []Item {
	steps := []Item{{"Wash and press", "all cloth as the finished garment will be washed, so that it shrinks now and not later. Press it smooth."}}
	text := "the pieces along their cut lines."
	for _, from := range []struct {
		kind  facing.Kind
		cloth string
	}{
		{facing.Garment, "the garment's cloth"}, {facing.Facing, "the facing's cloth"},
		{facing.Interfacing, "interfacing"}, {facing.Lining, "the lining's cloth"},
	} {
		var names []string
		for _, p := range s.Sizes[0].Pieces {
			if p.Kind == from.kind {
				names = append(names, fmt.Sprintf("%s (%s)", p.Name, howMany(p)))
			}
		}
		if len(names) > 0 {
			text += " From " + from.cloth + ": " + listed(names) + "."
		}
	}
	gap := interfacingGap
	if s.has(facing.Interfacing) {
		gap = float64(s.Style.Facing.Interfacing)
	} else if s.has(facing.Facing) {
		text += " Cut the same facing pieces from interfacing, but " + s.both(gap) + " inside of their stitching lines."
	}
	steps = append(steps, Item{"Cut", text})
	marks := "Snip every notch no further than half of the allowance. Draw the stitching line of the shaped edge on the wrong side of "
	if s.grownOn() {
		marks += "the garment, and the line on which it is folded back, with chalk or a pen that washes out."
	} else if s.faced() && !s.lined() {
		marks += "the facing, which lies on top when you sew, with chalk or a pen that washes out."
	} else if s.has(facing.Lining) {
		marks += "the lining, which lies on top when you sew, with chalk or a pen that washes out."
	} else {
		marks += "the garment's pieces with chalk or a pen that washes out."
	}
	if s.hasClips() {
		marks += " Mark each clip with a dot only. Do not cut it yet: a cut before sewing lets the valley stretch and fray."
	}
	steps = append(steps, Item{"Mark.", marks})
	if s.has(facing.Facing) {
		steps = append(steps, Item{"Interface", fmt.Sprintf("the facing: fuse or baste the interfacing to the wrong side of the facing pieces, so that it ends %s short of every stitching line. "+
			"It keeps the edge crisp; in the seam it would only add bulk.", s.both(gap))})
	}
	return steps
}

func (s *sheet) hasClips() bool {
	for k := range s.Sizes {
		if s.allClips(k) > 0 {
			return true
		}
	}
	return false
}

// joining is sewing the seams of the garment and of the facing.
func (s *sheet) joining() []Item {
	n := s.seamCount(0)
	if n == 0 {
		text := "There are no seams across the hem that this design knows of."
		switch {
		case s.grownOn():
			text += " If your garment has some, sew them first, on through the facing that is grown on, and press their allowances open."
		case s.faced():
			text += " If your garment has some, sew them first in the garment and in the facing alike, and press their allowances open."
		}
		if s.allRound() {
			return s.sections()
		}
		return append([]Item{{"Look for seams.", text}}, s.sections()...)
	}
	var names, seams []string
	times := map[string]int{}
	for _, j := range s.joins(0) {
		a, b := s.hems[0][min(j.a, j.b)].Name, s.hems[0][max(j.a, j.b)].Name
		name := fmt.Sprintf("%s to %s", a, b)
		if times[name] == 0 {
			names = append(names, name)
		}
		times[name] += j.times
	}
	for _, name := range names {
		seams = append(seams, fmt.Sprintf("%s (%s)", name, several(times[name], "seam")))
	}
	width := s.sideAllowances(facing.Garment)
	steps := []Item{{"Join the garment", fmt.Sprintf("along the seams that cross the hem: %s. Lay the pieces right side to right side, notch on notch, and sew %s from the cut edge, down to the very end. "+
		"Press the allowances open. The shaped edge runs on across the seam only if the two stitching lines meet there exactly; check it before you go on.%s", listed(seams), width, s.otherSeams())}}
	steps = append(steps, s.sections()...)
	switch {
	case s.has(facing.Facing) && s.Style.Facing.Kind == style.OnePiece && s.sideAllowances(facing.Facing) != "":
		steps = append(steps, Item{"Close the facing,", fmt.Sprintf("which is one piece for panels that are joined: sew its ends together, %s from the cut edge, where they meet at a seam of the garment. Trim the allowances of this seam to half their width and press them open. "+
			"The other seams of the garment come to the notches at its inner edge.", s.sideAllowances(facing.Facing))})
	case s.has(facing.Facing) && s.Style.Facing.Kind == style.OnePiece:
		steps = append(steps, Item{"Leave the facing", "as it is: it is one piece for panels that are joined, and its ends are not sewn to one another. The seams of the garment come to the notches at its inner edge."})
	case s.has(facing.Facing):
		steps = append(steps, Item{"Join the facing", fmt.Sprintf("in the same way: %s, %s from the cut edge. Trim their allowances to half their width and press them open. "+
			"Laid on the garment, every seam of the facing has to come to one of the garment.", several(n, "seam"), s.sideAllowances(facing.Facing))})
	}
	if s.has(facing.Lining) {
		steps = append(steps, Item{"Join the lining", fmt.Sprintf("in the same way: %s, %s from the cut edge. Press the allowances open.", several(n, "seam"), s.sideAllowances(facing.Lining))})
	}
	return steps
}

// sections is joining those of a facing that is cut in some.
func (s *sheet) sections() []Item {
	cut := func(p facing.Piece) bool { return p.Kind == facing.Facing && p.Section > 0 }
	if !slices.ContainsFunc(s.Sizes[0].Pieces, cut) {
		return nil
	}
	return []Item{{"Join the sections", "of the facing to long pieces. The same number stands on both sides of a join: lay them right side to right side, number to number, sew along the stitching line, trim the allowances to half their width and press them open."}}
}

// allRound reports whether every hem goes all round, without ends.
func (s *sheet) allRound() bool {
	return !slices.ContainsFunc(s.hems[0], func(h hem) bool { return !h.Fitted.Edge.Closed })
}

// otherSeams names ends of the hem that are seams of which the style does not say what they
// are sewn to.
func (s *sheet) otherSeams() string {
	var names []string
	for i, h := range s.hems[0] {
		if h.Fitted.Edge.Closed {
			continue
		}
		for e, side := range [2]fit.Edge{h.Net[len(h.Net)-1], h.Net[1]} {
			listed := slices.ContainsFunc(s.joins(0), func(j join) bool {
				return j.a == i && int(j.ends[0]) == e || j.b == i && int(j.ends[1]) == e
			})
			if side.Role == fit.SeamEdge && !listed {
				names = append(names, fmt.Sprintf("the %s of the %s", map[int]string{0: "left side", 1: "right side"}[e], h.Name))
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf(" The design does not say what %s, as the pattern is drawn, is sewn to: sew these seams now, too, in the garment and in the facing.", listed(names))
}

// sideAllowances lists the allowances of the sides of a kind of piece that are seams.
func (s *sheet) sideAllowances(kind facing.Kind) string {
	var widths []string
	seen := map[string]bool{}
	for _, size := range s.Sizes {
		for _, p := range size.Pieces {
			for _, e := range p.Edges {
				if text := s.both(e.Allowance); p.Kind == kind && e.Role == fit.SeamEdge && !seen[text] {
					seen[text] = true
					widths = append(widths, text)
				}
			}
		}
	}
	if len(widths) > 1 {
		return "as wide as the piece says, " + strings.Join(widths, " or ") + ","
	}
	return strings.Join(widths, "")
}

// innerEdge is finishing the facing's inner edge.
func (s *sheet) innerEdge() Item {
	before := "before it is sewn on"
	if s.grownOn() {
		before = "before it is folded back"
	}
	inner := s.innerAllowance()
	how := "overlock it, or zigzag along it"
	switch binding := s.binding(); {
	case binding[1] > 0:
		how = fmt.Sprintf("bind it with a narrow strip of cloth cut on the bias, of which it takes %s %s in all", s.span(binding), s.Unit)
	case inner > 0 && s.Style.Facing.InnerEdge == "overlocked":
		how = fmt.Sprintf("overlock it along the dashed line, %s from the cut edge", s.both(inner))
	case inner > 0:
		how = fmt.Sprintf("turn its allowance of %s to the wrong side, press and stitch it close to the fold. In cloth that is too thick to turn, overlock along the dashed line instead", s.both(inner))
	}
	return Item{"Finish the inner edge", fmt.Sprintf("of the facing now, %s: %s. The edge hangs free inside of the garment and would fray.", before, how)}
}

// innerAllowance is that of the facing's inner edge.
func (s *sheet) innerAllowance() float64 {
	for _, p := range s.Sizes[0].Pieces {
		for _, e := range p.Edges {
			if e.Inner {
				return e.Allowance
			}
		}
		if p.Kind == facing.Facing && len(p.Hole.Net.V) > 0 {
			return p.Hole.Allowance
		}
	}
	return 0
}

// binding is the least and the greatest length that binds the inner edges of a size.
func (s *sheet) binding() (length [2]float64) {
	for k, size := range s.Sizes {
		sum := 0.0
		for _, p := range size.Pieces {
			sum += p.Binding * float64(p.Quantity)
		}
		if k == 0 {
			length = [2]float64{sum, sum}
		}
		length = [2]float64{min(length[0], sum), max(length[1], sum)}
	}
	return length
}

// lined reports whether there are a facing and a lining, which reach the same edge.
func (s *sheet) lined() bool { return s.has(facing.Facing) && s.has(facing.Lining) }

// every is the word for the allowances of all layers.
func (s *sheet) every() string {
	if s.lined() {
		return "all"
	}
	return "both"
}

// lining is making one layer of the facing and the lining. Common practice, as with other
// layers that are backed.
func (s *sheet) lining() Item {
	return Item{"Baste the lining", "to the facing: lay its right side on the wrong side of the facing, the shaped edges one on the other, match mark to match mark, and baste inside of the allowance. " +
		"From here on the two are one layer, that of the facing; when it is turned, the facing is seen inside and the lining lies behind it."}
}

// layTogether is pinning facing to garment.
func (s *sheet) layTogether() Item {
	if s.grownOn() {
		return Item{"Fold back", "the facing along its line, right side to right side, so that the two shaped stitching lines lie one on the other. Stick pins through both at some valleys to see that they do. " +
			"Keep the pins square to the edge, where you can take them out while you sew."}
	}
	text := "on the garment, right side to right side, the shaped edges one on the other."
	if s.faced() && s.Style.Facing.Kind == style.Band {
		text = "on the garment, right side to right side, its straight edge along the outermost places of the garment's edge."
	}
	if s.seamCount(0) > 0 {
		text += " First pin seam to seam"
		text += ", then match mark to match mark on the motifs, then valley to valley."
	} else {
		text += " Pin match mark to match mark on the motifs first, then valley to valley."
	}
	if s.opens() {
		text += " At an end that is an opening, fold the end of the facing to its wrong side first, along its stitching line."
	}
	text += " Keep the pins square to the edge, where you can take them out while you sew."
	if f := s.favour(); f > 0 {
		level := "the cut edges level"
		if s.faced() && s.Style.Facing.Kind == style.Band {
			level = "the straight edge level with those places"
		}
		text += fmt.Sprintf(" The facing is smaller than the garment by its favour of %s: keep %s and let the garment lie a little loose between the marks. This is what later keeps the seam out of sight.", s.both(f), level)
	}
	return Item{"Lay the facing", text}
}

// opens reports whether some hem ends at an opening.
func (s *sheet) opens() bool {
	return slices.ContainsFunc(s.hems[0], func(h hem) bool {
		return slices.ContainsFunc(h.Net, func(e fit.Edge) bool { return e.Role == fit.OpeningEdge })
	})
}

// sew is stitching along the shaped edge.
func (s *sheet) sew() Item {
	around := [2]float64{s.around(0), s.around(0)}
	for k := range s.Sizes {
		around = [2]float64{min(around[0], s.around(k)), max(around[1], s.around(k))}
	}
	start, end := "in the middle of a motif's outer curve", "End by sewing over the first few stitches once more."
	if s.seamCount(0) > 0 {
		start = "at a seam"
	}
	if s.opens() {
		start, end = "at one end of the hem", "Sew a few stitches back at both ends, so that they hold."
	}
	on := "facing on top"
	switch {
	case s.grownOn():
		on = "through both layers"
	case s.lined():
		on = "facing and lining on top"
	}
	text := fmt.Sprintf("along the stitching line, %s, with the stitch length of your cloth from the table of settings. Begin %s. The whole way is %s %s long: sew slowly, and turn the work with your hands. %s "+
		"A smooth line here is a smooth edge later.", on, start, s.span(around), s.Unit, end)
	switch {
	case s.turns.Valleys && s.turns.Points:
		text += " How you turn at valleys and points on the way, the next two steps say."
	case s.turns.Valleys:
		text += " How you turn at each valley on the way, the next step says."
	case s.turns.Points:
		text += " How you turn at each point on the way, the next step says."
	}
	return Item{"Sew", text}
}

// turnAtValleys is how the sewer turns at inner corners.
func (s *sheet) turnAtValleys() Item {
	return Item{"Pivot at each valley.", fmt.Sprintf("Shorten the stitch to %g mm about %s before it. Stop in the valley with the needle down, lift the foot, turn the work until one stitch lies straight across, lower the foot and take that stitch (two in thick cloth); "+
		"then lift and turn again, sew out of the valley, and lengthen the stitch as far behind it. The stitch across leaves room for the clip: without it the valley puckers.%s", reinforced, s.both(beside), s.flatWords())}
}

// flatWords says what the straight stretch between two motifs is for.
func (s *sheet) flatWords() string {
	if f := float64(s.Style.Motif.Flat); f > 0 {
		return fmt.Sprintf(" The pattern has a straight stretch of %s in each valley for it.", s.both(f))
	}
	return ""
}

// turnAtPoints is how the sewer turns at outer corners.
func (s *sheet) turnAtPoints() Item {
	how := "At the tip do the same"
	if !s.turns.Valleys {
		how = fmt.Sprintf("Shorten the stitch to %g mm about %s before it. Stop at the tip with the needle down, lift the foot, turn the work until the foot points straight across, lower it, sew across, pivot again and lengthen the stitch as far behind it:", reinforced, s.both(beside))
	}
	return Item{"Blunt each point.", how + " with one stitch across in light cloth, two in medium and three in heavy. A tip that is sewn to a single hole has no room for the cloth that is turned into it, and comes out lumpy."}
}

// trim is trimming and grading.
func (s *sheet) trim() Item {
	hem := float64(s.Style.Allowance.Hem)
	garment, faced, _ := s.layers()
	var text string
	switch first := s.cutFirst(); {
	case first != "":
		text = fmt.Sprintf("%s, %s from the stitching. Then trim the facing's allowance to %s; the garment's stays %s wide.", first, s.both(hem), s.both(faced), s.both(garment))
	case hem > garment:
		text = fmt.Sprintf("the allowances of the shaped edge, which are %s wide: the garment's to %s, the facing's to %s.", s.both(hem), s.both(garment), s.both(faced))
	case hem > faced:
		text = fmt.Sprintf("the facing's allowance to %s; the garment's stays %s wide.", s.both(faced), s.both(garment))
	default:
		return Item{"Leave the allowances", fmt.Sprintf("of the shaped edge as they are: %s is narrow enough.%s", s.both(hem), s.narrowWords())}
	}
	if s.lined() {
		text += " The lining's is cut with the facing's."
	}
	text += s.narrowWords() + " Two layers that end in one place show as a ridge on the right side; in steps they do not. The wider one lies against the garment."
	if s.turns.Points {
		text += fmt.Sprintf(" Cut each point straight across, no nearer than %s to the stitching, and taper the allowance on both sides of it.", s.both(min(narrowestTrimmed, hem/2)))
	}
	return Item{"Grade", text}
}

// narrowWords says how narrow tight curves are trimmed.
func (s *sheet) narrowWords() string {
	if w := s.narrowest(); w > 0 {
		return fmt.Sprintf(" On tight curves trim both to the lines that the pieces have there, down to %s, and cut notches that start on them only then: a wider allowance has no room when it is turned. Shorten the stitch there, so that the seam holds.", s.both(w))
	}
	return ""
}

// cutFirst says what is cut after stitching of a facing that is not cut to shape before.
func (s *sheet) cutFirst() string {
	switch {
	case s.grownOn():
		return "the edge: cut both layers to shape"
	case s.faced() && s.Style.Facing.Kind == style.Band:
		return "the edge: cut the band to the shape of the garment"
	}
	return ""
}

// clip is snipping the allowance at the valleys.
func (s *sheet) clip() Item {
	if s.grownOn() {
		return Item{"Clip", fmt.Sprintf("each valley and inner corner through both layers, straight toward the stitching, and stop %s short of it. Use the tips of small sharp scissors; too long a clip leaves a hole.", s.both(float64(s.Style.Facing.ClipGap)))}
	}
	if !s.hasClips() {
		return Item{"Look at the valleys.", "No clips are drawn: the allowance leaves no room for them. Snip it where it pulls when you turn the edge, and never into the stitching."}
	}
	gap := float64(s.Style.Facing.ClipGap)
	var where []string
	for i, h := range s.hems[0] {
		n := counts(s.overSizes(func(k int) int { return s.hems[k][i].inside() + s.looseEnds(k)[i]/h.Quantity }))
		if n == "0" {
			continue
		}
		name := "the " + h.Name
		if h.Quantity > 1 {
			name = "each " + h.Name
		}
		place := "valleys"
		if n == "1" {
			place = "valley"
		}
		where = append(where, fmt.Sprintf("at each of the %s %s of %s", n, place, name))
	}
	if n := counts(s.overSizes(s.seamClips)); n != "0" {
		where = append(where, fmt.Sprintf("on %s of the seams", n))
		if n == counts(s.overSizes(s.seamCount)) {
			where[len(where)-1] = fmt.Sprintf("at the valley on each of the %s seams", n)
			if n == "1" {
				where[len(where)-1] = "at the valley on the seam"
			}
		}
	}
	text := fmt.Sprintf("through %s allowances, straight toward the stitching, and stop %s short of it: %s. These are %s places.", s.every(), s.both(gap), listed(where), counts(s.overSizes(s.allClips)))
	if s.Design.hasFlatsOrCorners() {
		text += " An inner corner counts as a valley here."
	}
	if s.manySizes() {
		text += " The number for your size stands in the table of clips."
	}
	text += " Use the tips of small sharp scissors. Too short a clip leaves a tuck in the valley, too long a one a hole; when in doubt, cut less, turn the edge, look, and turn it back."
	return Item{"Clip", text}
}

// hasFlatsOrCorners reports whether some panel has more clip places than valleys.
func (d Design) hasFlatsOrCorners() bool {
	for _, size := range d.Sizes {
		for _, f := range size.Fit.Panels {
			if len(f.ClipPlaces()) != len(f.Valleys) {
				return true
			}
		}
	}
	return false
}

// notchesApart is how far V notches stand apart on the longest curve: what one takes so that no
// more than the fullness stays where it ends, as package turn has it, on the mean radius.
func (s *sheet) notchesApart() float64 {
	radius := s.turns.lobe / s.turns.round
	return max(nearNotches, min(farNotches, radius*float64(s.Style.Turning.Fullness)/(2*float64(s.Style.Facing.ClipGap))))
}

// narrowest is the least width to which the pieces' lines leave the allowance on tight curves,
// 0 where there are none.
func (s *sheet) narrowest() float64 {
	least := 0.0
	for _, size := range s.Sizes {
		for _, p := range size.Pieces {
			if p.Narrowest > 0 && (least == 0 || p.Narrowest < least) {
				least = p.Narrowest
			}
		}
	}
	return least
}

// notchCurves is what the curves between the valleys need.
func (s *sheet) notchCurves() Item {
	var drawn []string
	if n := s.snips(facing.VClip, facing.MarkV); n > 0 {
		drawn = append(drawn, fmt.Sprintf("cut out the V notches on the outward curves, %d round the hem", n))
	}
	if n := s.snips(facing.SlitClip, facing.MarkClip); n > 0 {
		drawn = append(drawn, fmt.Sprintf("snip the slits on the inward curves, %d round the hem", n))
	}
	if len(drawn) > 0 {
		of := ""
		if s.manySizes() {
			of = " in size " + s.Sizes[s.sample()].Name
		}
		return Item{"Notch the curves.", upper(listed(drawn)) + of + ", where the pieces have them, through " + s.every() + " allowances and no nearer to the stitching than they are drawn. " +
			"Outside there is more allowance than room when it is turned; what you take out cannot bunch up."}
	}
	text := ""
	if s.turns.Lobes {
		apart := s.notchesApart()
		n := max(1, int(s.turns.lobe/apart))
		text = fmt.Sprintf("On each outward curve cut small V notches out of the allowances, about %s apart and no nearer to the stitching than the clips: up to %d on the longest curve of this design. "+
			"There is more allowance than room when it is turned inside; what you take out cannot bunch up.", s.both(apart), n)
	}
	if s.turns.Bowls {
		if text != "" {
			text += " "
		}
		text += fmt.Sprintf("On each inward curve snip straight clips about %s apart, closer where it is sharper: there the allowance is too short and has to open.", s.both(curveClips))
	}
	return Item{"Notch the curves.", text}
}

// finishing is pressing, understitching and turning.
func (s *sheet) finishing() []Item {
	_, _, under := s.layers()
	steps := []Item{
		{"Press", "the seam flat as it was sewn, then push " + s.every() + " allowances toward the facing and press them so, over the edge of a board or a rolled towel."},
		{"Understitch:", fmt.Sprintf("open the facing out and sew through the facing and %s allowances, not through the garment, %s from the seam. Go as far into each motif as the foot can, and leave out what it cannot reach. "+
			"The line holds the facing to the inside.", s.every(), s.both(under))},
		{"Turn", "the facing to the inside. Push each motif out from within with something blunt, such as a wooden spoon's handle, never with scissors."},
	}
	roll := "with your fingers until the seam lies exactly on the edge, and press from the wrong side through a cloth, motif by motif."
	if r := s.rolled(); r > 0 {
		roll = fmt.Sprintf("each motif between your fingers until the seam lies about %s inside of the edge, as the favour wants it. Baste it there if the cloth springs back, and press from the wrong side through a cloth, motif by motif. "+
			"The garment's cloth then goes round the edge, and the facing does not show.", s.both(r))
	}
	return append(steps, Item{"Roll and press", roll})
}

// tack is holding the inner edge.
func (s *sheet) tack() Item {
	if s.lined() {
		return Item{"Tack", "the inner edge of the facing to the lining by hand, with loose stitches: they do not go through to the garment."}
	}
	if n := s.seamCount(0); n > 0 {
		return Item{"Tack", fmt.Sprintf("the inner edge of the facing to the garment by hand, with a few loose stitches, only where the allowances of seams lie under it: %s. Stitches anywhere else would show on the right side.", several(n, "place"))}
	}
	return Item{"Tack", "the inner edge of the facing to the wrong side by hand, with loose stitches that catch a single thread of the garment."}
}

// look is the last look.
func (s *sheet) look() Item {
	see := ""
	if s.seamCount(0) > 0 {
		see = " see that the hem runs on smoothly across the seams,"
	}
	return Item{"Look", fmt.Sprintf("at the edge from the right side: count the motifs (%s),%s and press once more where one is flat.", s.motifCounts(), see)}
}

// motifCounts says how many repeats each panel has.
func (s *sheet) motifCounts() string {
	var list []string
	for i, h := range s.hems[0] {
		n := counts(s.overSizes(func(k int) int { return s.hems[k][i].Repeats }))
		word := "repeats"
		if n == "1" {
			word = "repeat"
		}
		name := "the " + h.Name
		if h.Quantity > 1 {
			name = "each " + h.Name
		}
		list = append(list, fmt.Sprintf("%s %s on %s", n, word, name))
	}
	text := listed(list)
	if s.manySizes() {
		text += ", by size"
	}
	return text
}

// unfaced is what can be said of a hem without a facing.
func (s *sheet) unfaced() []Item {
	steps := []Item{{"Choose a finish", fmt.Sprintf("for the shaped edge. Its allowance is %s wide. Line the garment to the edge with lining cut by the same pieces, or bind the edge after cutting the allowance off along the stitching line, or sew a close zigzag along that line and trim to it. "+
		"A lining is sewn, clipped and turned as a facing is; for a facing of the same shape give the style a facing and make these notes anew.", s.both(float64(s.Style.Allowance.Hem)))}}
	if s.hasClips() {
		clip := s.clip()
		clip.Text = "when there is a lining, " + clip.Text
		steps = append(steps, clip)
	}
	return append(steps, Item{"Look", fmt.Sprintf("at the edge from the right side: count the motifs (%s), and press once more where one is flat.", s.motifCounts())})
}

// listed joins words with commas and an and.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
