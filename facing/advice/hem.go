package advice

import (
	"fmt"
	"math"

	"engrail/fit"
)

// seamName names a seam as the fit's warnings do.
func (s subject) seamName(x fit.Seam) string {
	name := func(e fit.EndRef) string { return fmt.Sprintf("%s %v", s.fit.Panels[e.Panel].Panel.Name, e.End) }
	return name(x.A) + ", " + name(x.B)
}

// hemTurn looks whether the hem runs smoothly across every seam.
func hemTurn(s subject) []Finding {
	var all []Finding
	for _, x := range s.fit.Seams {
		turn := math.Abs(x.HemTurn)
		f := Finding{Level: fit.LevelFine, Where: s.seamName(x.Seam), Message: "the hem runs smoothly across the seam",
			Figures: []Figure{{"turn", degrees(turn), Degrees}, {"most", degrees(fit.VisibleTurn), Degrees}}}
		if turn > fit.VisibleTurn {
			f.say(fit.LevelWarning, "true the hem to run smoothly across the seam", "the hem turns by %.1f degrees where it crosses the seam", degrees(turn))
		}
		all = append(all, f)
	}
	return all
}

// repeatWidths compares motifs that are seen side by side: on both sides of a seam,
// and of a corner between two runs of one motif.
func repeatWidths(s subject) []Finding {
	var all []Finding
	compare := func(where string, a, b float64) {
		wide, narrow := max(a, b), min(a, b)
		if !(narrow > 0) {
			return
		}
		ratio := wide/narrow - 1
		f := Finding{Level: fit.LevelFine, Where: where, Message: "the difference of the motifs' widths is not seen",
			Figures: []Figure{{"wide", wide, MM}, {"narrow", narrow, MM}, {"most", narrow * (1 + fit.VisibleWidths), MM}}}
		if ratio > fit.VisibleWidths {
			f.say(fit.LevelWarning, "try another width or wider limits", "repeats %.1f mm wide beside repeats %.1f mm wide are seen to differ", wide, narrow)
		}
		all = append(all, f)
	}
	for _, x := range s.fit.Seams {
		compare(s.seamName(x.Seam), s.fit.Panels[x.Seam.A.Panel].Width, s.fit.Panels[x.Seam.B.Panel].Width)
	}
	for _, p := range s.fit.Panels {
		for i := 1; i < len(p.Runs); i++ {
			a, b := p.Runs[i-1], p.Runs[i]
			if a.Spec.Width == b.Spec.Width {
				compare(fmt.Sprintf("%s, runs %d and %d", p.Panel.Name, i, i+1), a.Width, b.Width)
			}
		}
	}
	return all
}

// facingOnValley looks how far the seams of facings are from the nearest valley, and
// whether their allowances, which are pressed open, reach to it. Distances are along
// the foot of the motifs.
func facingOnValley(s subject) []Finding {
	var all []Finding
	for _, x := range s.fit.Seams {
		near, reach := math.Inf(1), 0.0
		for _, e := range [2]fit.EndRef{x.Seam.A, x.Seam.B} {
			p := s.fit.Panels[e.Panel]
			end, side := p.Edge.Start(), -1
			if e.End == fit.Finish {
				end, side = p.Edge.End(), 1
			}
			for _, v := range p.Valleys {
				near = min(near, math.Abs(v.Point.Sub(end).Dot(v.Out.Left())))
			}
			for _, f := range s.made.Facings {
				if f.Panel == p.Panel.Name && len(f.Edges) > 1 {
					reach = max(reach, f.Edges[(side+len(f.Edges))%len(f.Edges)].Allowance)
				}
			}
		}
		if len(s.made.Facings) == 0 || math.IsInf(near, 1) {
			continue
		}
		f := Finding{Level: fit.LevelFine, Where: s.seamName(x.Seam), Message: "the facing's seam is clear of the valleys",
			Figures: []Figure{{"apart", near, MM}, {"allowance", reach, MM}}}
		const remedy = "press the facing's seam open and trim it narrow before the hem is sewn, or put a peak there with motif: peak"
		switch {
		case near < onEdge:
			f.say(fit.LevelNote, remedy, "the facing's seam lands on a valley, where its allowances lie under the clip")
		case near < reach-slack:
			f.say(fit.LevelNote, "press the facing's seam open and trim it narrow before the hem is sewn",
				"a valley is %.1f mm from the facing's seam, whose allowance of %.1f mm lies under its clip", near, reach)
		}
		all = append(all, f)
	}
	return all
}

// valleyGap looks whether the valleys have room for a stitch across, and the space
// between two motifs for their allowances. The narrowest of each panel count.
func valleyGap(s subject) []Finding {
	var all []Finding
	for _, p := range s.fit.Panels {
		if len(p.Valleys) == 0 {
			continue
		}
		foot, open := math.Inf(1), math.Inf(1)
		edge := newEdge(p.Edge)
		for _, v := range p.Valleys {
			at, ok := edge.find(v.Point)
			if !ok {
				continue
			}
			here := edge.valley(at, v)
			foot = min(foot, here.foot())
			if w, ok := here.opening(); ok {
				open = min(open, w)
			}
		}
		if math.IsInf(foot, 1) {
			continue
		}
		need := 2 * s.Facing.Hem
		f := Finding{Level: fit.LevelFine, Where: p.Panel.Name, Message: "the valleys have room for a stitch across and for the allowances",
			Figures: []Figure{{"foot", foot, MM}, {"stitch", s.Stitch, MM}}}
		if !math.IsInf(open, 1) {
			f.Figures = append(f.Figures, Figure{"apart", open, MM}, Figure{"allowances", need, MM})
		}
		switch {
		case open < need-slack:
			f.say(fit.LevelWarning, fmt.Sprintf("an allowance of at most %.1f mm has room; otherwise leave a wider flat between the motifs, or make them wider", halfOf(open)),
				"the motifs are only %.1f mm apart, and two allowances of %.1f mm lie on one another between them", open, s.Facing.Hem)
		case foot < sharpFoot:
			f.say(fit.LevelNote, fmt.Sprintf("leave a flat of %.1f mm at each valley, or pivot there and clip to the stitching", s.Stitch),
				"the valleys are sharp, without room for one stitch of %.1f mm across: they pucker unless they are clipped right to the stitching", s.Stitch)
		case foot < s.Stitch-slack:
			f.say(fit.LevelNote, fmt.Sprintf("leave a flat of %.1f mm at each valley, or pivot with a single stitch across it", s.Stitch),
				"the valleys are %.1f mm wide at their foot, less than one stitch of %.1f mm: they pucker unless they are clipped right to the stitching", foot, s.Stitch)
		}
		all = append(all, f)
	}
	return all
}

// sharpPoint looks for the sharpest tip of each panel.
func sharpPoint(s subject) []Finding {
	var all []Finding
	for _, p := range s.fit.Panels {
		if len(p.Peaks) == 0 {
			continue
		}
		edge := newEdge(p.Edge)
		sharp := edge.sharpest(p.Peaks, min(tipReach, tipShare*p.Width))
		if math.IsInf(sharp, 1) {
			continue
		}
		f := Finding{Level: fit.LevelFine, Where: p.Panel.Name, Message: "every point can be turned",
			Figures: []Figure{{"angle", degrees(sharp), Degrees}, {"wanted", degrees(BluntPoint), Degrees}}}
		const remedy = "make the motif wider or shallower, or cut its tip off by some stitches with tip: {blunt: 4mm}"
		switch {
		case sharp < SharpestPoint-angleSlack:
			f.say(fit.LevelError, remedy, "a point of %.0f degrees cannot be turned: its allowances fill it", degrees(sharp))
		case sharp < BluntPoint-angleSlack:
			f.say(fit.LevelWarning, remedy, "a point of %.0f degrees is hard to turn; from %.0f degrees on there is room for the allowances", degrees(sharp), degrees(BluntPoint))
		}
		all = append(all, f)
	}
	return all
}
