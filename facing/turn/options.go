package turn

import (
	"fmt"
	"math"
)

// Options are the allowance and what its turning is held to.
type Options struct {
	// Allowance is the width of the allowance. Gap is how far short of the stitching
	// snips end.
	Allowance, Gap float64
	// Fullness is the extra edge that may stay in one place, at a V or where there is none;
	// Opening is how wide a slit may gape when the allowance is turned.
	Fullness, Opening float64
	// Bridge is what stays between two Vs at the edge, LeastV the least width of a V
	// there.
	Bridge, LeastV float64
	// Shifted has the slits of inward curves half-way between those of a plan that is
	// not, for the other of two layers; those at valleys stay. The Vs of outward curves
	// are half-way, too, with a narrower one at either end, where that leaves the bridges.
	Shifted bool
}

// Usual returns the usual options for an allowance: a gap of 1.5 mm, less where the
// allowance is so narrow that nothing would be left to snip, a fullness of 1 mm, slits
// that open by 4 mm, and Vs of 2 mm and more that are 3 mm apart.
func Usual(allowance float64) Options {
	return Options{
		Allowance: allowance, Gap: min(usualGap, allowance/2), Fullness: usualFullness, Opening: usualOpening,
		Bridge: usualBridge, LeastV: usualLeastV,
	}
}

// Error says why turning cannot be planned, and what would work.
type Error struct{ Problem, Hint string }

// Error returns the problem.
func (e *Error) Error() string { return e.Problem }

// Remedy returns what would work.
func (e *Error) Remedy() string { return e.Hint }

func (o Options) check() error {
	for _, m := range []struct {
		name               string
		value, least, most float64
	}{
		{"allowance", o.Allowance, leastSnip, maxAllowance}, {"gap short of the stitching", o.Gap, 0, maxAllowance},
		{"fullness", o.Fullness, 0.05, maxLimit}, {"opening of slits", o.Opening, 0.05, maxLimit},
		{"bridge between V notches", o.Bridge, 0, maxLimit}, {"least width of a V notch", o.LeastV, 0, maxLimit},
	} {
		if !(m.value >= m.least && m.value <= m.most) || math.IsNaN(m.value) {
			return &Error{fmt.Sprintf("the %s is %.6g mm", m.name, m.value),
				fmt.Sprintf("give it from %g to %g mm", m.least, m.most)}
		}
	}
	if o.Gap > shareGap*o.Allowance {
		return &Error{fmt.Sprintf("the gap of %.1f mm leaves nothing to snip of an allowance of %.1f mm", o.Gap, o.Allowance),
			fmt.Sprintf("a gap of at most %.1f mm, or an allowance of at least %.1f mm, has room", math.Floor(shareGap*o.Allowance*10)/10, math.Ceil(o.Gap/shareGap*10)/10)}
	}
	return nil
}
