package advice

import (
	"fmt"
	"math"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// facingDepth looks whether facings reach far enough beyond the valleys: beyond the
// allowances of both their edges at the least, and better by 25 mm.
func facingDepth(s subject) []Finding {
	var all []Finding
	for _, p := range s.made.Facings {
		depth, least := s.Facing.Depth, s.Facing.Hem+s.Facing.Inner
		f := Finding{Level: fit.LevelFine, Where: p.Name, Message: "the facing reaches far enough beyond the valleys",
			Figures: []Figure{{"depth", depth, MM}, {"wanted", LeastClear, MM}, {"allowances", least, MM}}}
		remedy := fmt.Sprintf("make the facing %.1f mm deep or more", max(LeastClear, tenths(least)))
		switch {
		case depth < least-slack:
			f.say(fit.LevelError, remedy, "the facing reaches %.1f mm beyond the valleys, and the allowances of its two edges meet there, %.1f mm together", depth, least)
		case depth < LeastClear-slack:
			f.say(fit.LevelWarning, remedy, "the facing reaches only %.1f mm beyond the valleys; narrower than %.1f mm it comes out below the hem", depth, LeastClear)
		}
		all = append(all, f)
	}
	return all
}

// frayAllowance looks whether the allowances of the shaped hem and of seams are wide
// enough for the cloth. A seam without any is left as it is meant.
func frayAllowance(s subject) []Finding {
	var all []Finding
	for _, pieces := range [2][]facing.Piece{s.made.Garments, s.made.Facings} {
		for _, p := range pieces {
			narrow, on := math.Inf(1), ""
			for _, e := range p.Edges {
				switch {
				case e.Role == fit.HemEdge && e.Allowance < narrow:
					narrow, on = e.Allowance, "on the shaped hem"
				case e.Role == fit.SeamEdge && e.Allowance > 0 && e.Allowance < narrow:
					narrow, on = e.Allowance, "at a side seam"
				}
			}
			if on == "" {
				continue
			}
			f := Finding{Level: fit.LevelFine, Where: p.Name, Message: "the allowances are wide enough for the cloth", Figures: []Figure{{"allowance", narrow, MM}, {"fray", s.Fray, MM}}}
			if narrow < s.Fray-slack {
				f.say(fit.LevelWarning, fmt.Sprintf("make the allowance at least %.1f mm and trim it when it is sewn, or take cloth that frays less", s.Fray),
					"the allowance %s is %.1f mm, and cloth that frays by %.1f mm pulls out of the seam", on, narrow, s.Fray)
			}
			all = append(all, f)
		}
	}
	return all
}

// clipCount counts the clips to be cut by hand in the whole garment.
func clipCount(s subject) []Finding {
	count := 0
	for _, pieces := range [2][]facing.Piece{s.made.Garments, s.made.Facings} {
		for _, p := range pieces {
			count += max(1, p.Quantity) * wholeClips(p)
		}
	}
	f := Finding{Level: fit.LevelFine, Message: "the clips are soon cut", Figures: []Figure{{"clips", float64(count), Count}, {"many", ManyClips, Count}}}
	if count > ManyClips {
		f.say(fit.LevelNote, "wider motifs need fewer of them, and smooth ones such as waves can be trimmed narrow in their place",
			"%d clips are to be cut by hand after stitching, which takes about %.0f minutes", count, math.Ceil(float64(count)*60/ManyClips))
	}
	return []Finding{f}
}

// wholeClips returns how many clips a piece has when it is unfolded: one on the fold is
// its own mirror image.
func wholeClips(p facing.Piece) int {
	clips := p.ValleyClips()
	n := len(clips)
	for _, e := range p.Edges {
		if e.Role != fit.FoldEdge {
			continue
		}
		at, along := e.Net.Start(), e.Net.StartTangent()
		for _, c := range clips {
			if math.Abs(c.A.Sub(at).Cross(along)) > onEdge {
				n++
			}
		}
	}
	return n
}

// noFavour looks whether the facing is smaller than the garment.
func noFavour(s subject) []Finding {
	if len(s.made.Facings) == 0 {
		return nil
	}
	f := Finding{Level: fit.LevelFine, Message: "the facing is smaller than the garment by a favour", Figures: []Figure{{"favour", s.Facing.Favour, MM}}}
	if s.Facing.Favour == 0 {
		// Cut 1/8 in smaller, more for heavier cloth (J. Barlup, Threads 131, pp.
		// 71-76); 1/16 in for light cloth is from memory.
		f.say(fit.LevelWarning, "give it a favour of 1 to 3 mm, more for thicker cloth", "the facing is as large as the garment, and its seam will roll to the outside and show")
	}
	return []Finding{f}
}

// notchOnClip looks for the notch of each piece that is nearest to a clip.
func notchOnClip(s subject) []Finding {
	var all []Finding
	for _, pieces := range [2][]facing.Piece{s.made.Garments, s.made.Facings} {
		for _, p := range pieces {
			clips := p.ValleyClips()
			if len(p.Notches) == 0 || len(clips) == 0 {
				continue
			}
			boxes := make([]path.Box, len(clips))
			for i, c := range clips {
				boxes[i] = c.Bounds()
			}
			near, at := math.Inf(1), path.Point{}
			for _, n := range p.Notches {
				for i, c := range clips {
					if !math.IsInf(near, 1) && !n.Line.Bounds().Grow(near).Meets(boxes[i]) {
						continue
					}
					if d := apart(n.Line, c); d < near {
						near, at = d, n.Line.A
					}
				}
			}
			f := Finding{Level: fit.LevelFine, Where: p.Name, Message: "no notch is in the way of a clip", Figures: []Figure{{"apart", near, MM}, {"wanted", NotchClear, MM}}}
			if near < NotchClear-slack {
				f.say(fit.LevelWarning, fmt.Sprintf("move the notch so that it is %.1f mm from the clip, or leave it out", NotchClear),
					"the notch at (%.0f, %.0f) is %.1f mm from a clip, and what is between the two cuts tears away", at.X, at.Y, near)
			}
			all = append(all, f)
		}
	}
	return all
}

// apart returns the distance of two straight lines.
func apart(a, b path.Segment) float64 {
	if a.Intersect(b).N > 0 {
		return 0
	}
	d := math.Inf(1)
	for _, x := range [2][2]path.Segment{{a, b}, {b, a}} {
		for _, q := range [2]path.Point{x[0].A, x[0].B} {
			_, off := x[1].Nearest(q)
			d = min(d, off)
		}
	}
	return d
}

// facingGrain compares the grain of each facing with that of its panel, whose
// outline and grain it copies (a school manual of dressmaking, scan 98).
func facingGrain(s subject) []Finding {
	var all []Finding
	for _, p := range s.made.Facings {
		for _, g := range s.made.Garments {
			if g.Panel != p.Panel || g.Grain.Length() == 0 {
				continue
			}
			f := Finding{Level: fit.LevelFine, Where: p.Name, Message: "the facing is on the grain of its panel"}
			if p.Grain.Length() == 0 {
				f.Figures = []Figure{{"length", 0, MM}}
				f.say(fit.LevelNote, "make the facing deeper, or lay it on the cloth as its panel lies", "the facing has no room for a grain line")
				all = append(all, f)
				continue
			}
			turn := math.Abs(g.Grain.Chord().AngleTo(p.Grain.Chord()))
			turn = min(turn, math.Pi-turn) // a grain line has no direction
			f.Figures = []Figure{{"turn", degrees(turn), Degrees}, {"most", degrees(GrainTurn), Degrees}}
			if turn > GrainTurn+angleSlack {
				f.say(fit.LevelWarning, "turn the facing's grain line as its panel's is; if it is to be cut on the bias, accept this",
					"the facing's grain is turned by %.1f degrees from its panel's, and the two will hang and stretch apart", degrees(turn))
			}
			all = append(all, f)
		}
	}
	return all
}
