package png

import (
	"image/color"
	"math"
	"slices"

	"engrail/plot"
)

// hue is a colour as 0xRRGGBB.
type hue uint32

// The colours. The inks differ in lightness as well as in colour, and keep
// apart for eyes that do not tell red from green: blue, vermilion, and a green
// that leans to blue.
const (
	paper   hue = 0xFFFFFF
	garment hue = 0xEFF3F7
	facing  hue = 0xFBE9C6
	stiff   hue = 0xDFEBDA
	lining  hue = 0xF7E1E6
	ink     hue = 0x14191F
	blue    hue = 0x0A5CA8
	red     hue = 0xC63D0F
	green   hue = 0x007565
	grey    hue = 0x4E5863
	hair    hue = 0xC9D0D7
)

func (h hue) rgba() color.RGBA {
	return color.RGBA{uint8(h >> 16), uint8(h >> 8), uint8(h), 0xFF}
}

// grounds returns what the page is drawn on: the paper and the usual tints, and
// others that it has.
func (p *picture) grounds() []hue {
	all := []hue{paper, garment, facing}
	for _, rare := range []hue{stiff, lining} {
		if slices.ContainsFunc(p.items, func(it item) bool { return it.pen.width == 0 && it.pen.hue == rare }) {
			all = append(all, rare)
		}
	}
	return all
}

// palette returns the colours of a picture: every ink blended with everything
// that it is drawn on, in steps that the eye does not see.
func palette(grounds []hue) color.Palette {
	inks := []hue{ink, blue, red, green, grey}
	const hairs, most, room = 4, 15, 256
	steps := min(most, (room-hairs-len(grounds))/(len(grounds)*len(inks)))
	var p color.Palette
	for _, under := range grounds {
		p = append(p, under.rgba())
	}
	for _, under := range grounds {
		for _, over := range inks {
			for i := 1; i <= steps; i++ {
				p = append(p, blend(under, over, i, steps))
			}
		}
	}
	for i := 1; i <= hairs; i++ {
		p = append(p, blend(paper, hair, i, hairs))
	}
	return p
}

func blend(under, over hue, i, of int) color.RGBA {
	a, b := under.rgba(), over.rgba()
	mix := func(x, y uint8) uint8 { return uint8((int(x)*(of-i) + int(y)*i + of/2) / of) }
	return color.RGBA{mix(a.R, b.R), mix(a.G, b.G), mix(a.B, b.B), 0xFF}
}

// pen says how a line is drawn: width and dashes in px.
type pen struct {
	hue   hue
	width float64
	dash  []float64
	butt  bool // ends where the line ends, not half a width beyond
}

// times returns the pen with its lengths scaled.
func (k pen) times(f float64) pen {
	dash := make([]float64, len(k.dash))
	for i, d := range k.dash {
		dash[i] = d * f
	}
	k.width *= f
	k.dash = dash
	return k
}

// penOf returns the pen of a role, at the usual size of picture. No two differ
// in colour alone.
func penOf(r plot.Role) pen {
	switch r {
	case plot.Cut:
		return pen{ink, 2.6, nil, false}
	case plot.Stitch:
		return pen{blue, 1.7, []float64{8, 5}, false}
	case plot.Fold:
		return pen{ink, 2, []float64{20, 5, 3, 5}, false}
	case plot.Grain:
		return pen{ink, 1.3, nil, false}
	case plot.Notch:
		return pen{ink, 2, nil, false}
	case plot.Clip:
		return pen{red, 2.2, nil, true}
	case plot.Mark:
		return pen{red, 2.4, []float64{dot, 6}, false}
	case plot.Inner:
		return pen{green, 1.7, []float64{16, 4, 4, 4, 4, 4}, false}
	case plot.Internal:
		return pen{grey, 1.1, nil, false}
	}
	return pen{ink, 1.6, nil, false}
}

// weightAt returns how heavy lines and signs are at a scale in px per mm: a
// drawing shown small has its lines nearer to each other.
func weightAt(scale float64) float64 {
	const full, least = 1.1, 0.55
	return min(1, max(least, math.Sqrt(scale/full)))
}

// dot (px) is a dash that round ends make a dot. The rasteriser drops lines
// shorter than an eighth of a pixel.
const dot = 0.4

// nameOf returns what the legend calls a role.
func nameOf(r plot.Role) string {
	switch r {
	case plot.Cut:
		return "cut line"
	case plot.Stitch:
		return "stitching line"
	case plot.Grain:
		return "grain line"
	case plot.Inner:
		return "inner edge"
	case plot.Internal:
		return "inside line"
	case plot.Drawn:
		return "line"
	}
	return r.String()
}

// tintOf returns the colour of a piece's inside.
func tintOf(kind string) hue {
	switch kind {
	case "garment":
		return garment
	case "facing":
		return facing
	case "interfacing":
		return stiff
	case "lining":
		return lining
	}
	return paper
}
