package build

import (
	"engrail/cmd/engrail/internal/style"
	"engrail/facing"
	"engrail/facing/turn"
)

// Turned is how the allowance along a piece's shaped hem turns: whatever the style has cut
// of it, its plan has all snips.
type Turned struct {
	Piece   facing.Piece
	Plan    *turn.Plan
	Repeats []turn.Repeat
}

// Turning plans the turning of the size's garments, facings and linings, the layers of a
// panel one after the other. Pieces that have no repeat from valley to valley, or no
// allowance along the shaped hem, are left out.
func (p *Plan) Turning(s Size) ([]Turned, error) {
	o := facing.Options{Hem: float64(p.Style.Allowance.Hem), ClipGap: float64(p.Style.Facing.ClipGap), Turning: turningOf(p.Style)}
	var all []Turned
	for _, f := range s.Fit.Panels {
		for _, g := range s.Pieces {
			if g.Panel != f.Panel.Name {
				continue
			}
			plan, repeats, err := facing.PlanTurning(g, o)
			if err != nil {
				return nil, err
			}
			if len(repeats) > 0 {
				all = append(all, Turned{g, plan, repeats})
			}
		}
	}
	return all, nil
}

// turningOf returns what a style says of turning; the words are checked.
func turningOf(s *style.Style) facing.Turning {
	t := s.Turning
	weight := ""
	if t.Stitches {
		weight = s.Cloth.Weight
	}
	return facing.Turning{
		Clips:  map[string]facing.Snip{"slit": facing.Snipped, "mark": facing.Marked, "none": facing.Uncut}[t.Clips],
		Curves: t.Curves && t.Clips != "none", Notches: t.Notches != "none", MarkNotches: t.Notches == "mark",
		On: map[string]facing.Layers{
			"both": facing.BothLayers, "garment": facing.GarmentOnly, "facing": facing.FacingOnly, "staggered": facing.Staggered,
		}[t.On],
		Fullness: float64(t.Fullness), Opening: float64(t.Opening), Tips: t.Tips,
		TrimGarment: float64(t.Trim.Garment), TrimFacing: float64(t.Trim.Facing),
		Cloth: map[string]facing.Cloth{"light": facing.Light, "medium": facing.Medium, "heavy": facing.Heavy}[weight],
	}
}

// Snips are the numbers of a piece's cuts into its allowance, and of marks for them.
type Snips struct {
	Slits       int `json:"slits"`
	Vs          int `json:"vs"`
	MarkedSlits int `json:"marked_slits"`
	MarkedVs    int `json:"marked_vs"`
}

// snipsOf counts the snips of a piece, and those of them that are slits at
// valleys and inner corners.
func snipsOf(p facing.Piece) (snips Snips, valleys int) {
	for _, c := range p.Clips {
		switch c.Kind {
		case facing.SlitClip:
			snips.Slits++
		case facing.VClip:
			snips.Vs++
		case facing.MarkClip:
			snips.MarkedSlits++
		default:
			snips.MarkedVs++
		}
		if c.Valley {
			valleys++
		}
	}
	return snips, valleys
}
