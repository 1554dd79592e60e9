package draft

import (
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// Gore is a flared panel with straight sides: narrower at the waist than at
// the hem, or the reverse.
type Gore struct {
	// Waist and Hem are the lengths of the panel's whole top and hem, measured
	// along them.
	Waist, Hem float64
	// Length is from the waist to the hem down the middle.
	Length float64
	// Rise is how much higher the hem lies at the sides than at the middle.
	//
	// Nil draws the hem as one arc, and with it the panel as a part of a
	// circle, as long at the sides as in the middle. Any other rise keeps the
	// hem level at the middle and square to the sides and draws it in arcs of
	// two radii; the sides are then shorter or longer than the middle. A rise
	// of 0 draws the top and the hem straight, not square to flared sides.
	Rise *float64
}

// Panel returns the panel.
func (g Gore) Panel(f Form) (fit.Panel, error) {
	p, err := g.panel(f)
	return p, f.named(err)
}

func (g Gore) panel(f Form) (fit.Panel, error) {
	if err := measure("waist", g.Waist); err != nil {
		return fit.Panel{}, err
	}
	if err := measure("hem", g.Hem); err != nil {
		return fit.Panel{}, err
	}
	if err := measure("length", g.Length); err != nil {
		return fit.Panel{}, err
	}
	s := sector{top: g.Waist / 2, hem: g.Hem / 2, length: g.Length}
	s.half = (s.hem - s.top) / s.length
	if g.Rise == nil {
		return s.panel(f)
	}
	rise := *g.Rise
	if err := width("rise", math.Abs(rise)); err != nil {
		return fit.Panel{}, err
	}
	if rise == 0 {
		return f.panel(
			symmetric(path.Point{}, f.Half, arc{length: s.hem}),
			symmetric(path.Point{Y: s.length}, f.Half, arc{length: s.top}).Reverse(),
		)
	}
	flare, inner, ok := s.rising(rise)
	if !ok {
		return fit.Panel{}, g.wrongRise(s)
	}
	s.half = flare
	if err := s.fits(f); err != nil {
		return fit.Panel{}, err
	}
	return f.panel(
		symmetric(path.Point{}, f.Half, arc{inner, flare / 2}, arc{s.hem - inner, flare / 2}),
		symmetric(path.Point{Y: s.length}, f.Half, arc{s.top, flare}).Reverse(),
	)
}

// rising solves the half panel whose hem rises by the given height: flare is
// the angle of the side from upright, inner the length of the hem's first arc.
//
// The hem is two arcs that turn by flare/2 each, the top one arc that turns by
// flare, so all meet middle and side at right angles. The hem's length and
// rise give both its radii; that the side is one straight line between the
// corners then leaves, for the flare a,
//
//	(2 hem cos a + a rise) / (1 + cos a) = top + a length
//
// whose difference falls steadily while the rise is below the length. It is
// not ok where there is no flare below a right angle, or where an arc would
// turn the wrong way.
func (s sector) rising(rise float64) (flare, inner float64, ok bool) {
	if math.Abs(rise) >= s.length || s.half == 0 || (rise > 0) != (s.half > 0) {
		return 0, 0, false
	}
	sign := math.Copysign(1, s.half)
	excess := func(a float64) float64 {
		c := math.Cos(a)
		return sign * ((2*s.hem*c+a*rise)/(1+c) - s.top - a*s.length)
	}
	low, high := 0.0, math.Pi/2
	if excess(sign*high) > 0 {
		return 0, 0, false
	}
	for high-low > solved {
		if mid := (low + high) / 2; excess(sign*mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	flare = sign * low
	k := flare / 2
	// Radii r1 and r2 with r1 + r2 = 2 hem/flare and
	// r1 (1 - cos k) + r2 (cos k - cos 2k) = rise; inner = r1 k.
	c := math.Cos(k)
	verse := 2 * math.Sin(k/2) * math.Sin(k/2) // 1 - cos k
	inner = (s.hem*verse*(1+2*c) - rise*k) / (2 * c * verse)
	return flare, inner, inner > 0 && inner < s.hem
}

// wrongRise says which rises are possible.
func (g Gore) wrongRise(s sector) error {
	if s.half == 0 {
		return refuse("leave the rise out",
			"the rise is %.4g mm, but a panel without flare is square at its sides only with a level hem", *g.Rise)
	}
	// Search for the ends of the possible rises on either side of that of one
	// arc, which is possible itself unless the flare is extreme.
	natural := s.hem / s.half * (1 - math.Cos(s.half))
	if _, _, ok := s.rising(natural); !ok {
		return refuse("leave the rise out", "the rise is %.4g mm, but the panel flares too much for a given rise", *g.Rise)
	}
	limit := func(in, out float64) float64 {
		for math.Abs(out-in) > 0.01 {
			mid := (in + out) / 2
			if _, _, ok := s.rising(mid); ok {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	least, most := limit(natural, 0), limit(natural, math.Copysign(s.length, s.half))
	return refuse(fmt.Sprintf("it can be %.1f to %.1f mm, and is %.1f mm when it is left out", least, most, natural),
		"a hem that is square to the sides cannot rise by %.4g mm", *g.Rise)
}
