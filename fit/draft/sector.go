package draft

import (
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// Circle is one panel of a skirt cut as a part of a circle. The waist lies on
// a circle of the radius waist/(2 pi part), the hem on one larger by the
// length.
type Circle struct {
	// Waist is the finished waist of the whole skirt, Ease what is added to it
	// before drafting: ease, or the overlap of a wrap.
	Waist, Ease float64
	// Length is from the waist to the hem.
	Length float64
	// Part is how much of a circle the whole skirt takes: 1 a full circle, 0.5
	// a half circle, 1.5 a circle and a half.
	Part float64
	// Panels is how many equal panels the skirt is cut in; 0 stands for 1.
	Panels int
}

// WaistRadius returns the radius of the waist line in mm. It has no meaning
// for measures that Panel refuses.
func (c Circle) WaistRadius() float64 { return (c.Waist + c.Ease) / (2 * math.Pi * c.Part) }

// Panel returns one of the skirt's panels. A full circle in one panel comes
// slit at the top, its two sides on one line.
func (c Circle) Panel(f Form) (fit.Panel, error) {
	p, err := c.panel(f)
	return p, f.named(err)
}

func (c Circle) panel(f Form) (fit.Panel, error) {
	if err := measure("waist", c.Waist); err != nil {
		return fit.Panel{}, err
	}
	if err := width("ease", math.Abs(c.Ease)); err != nil {
		return fit.Panel{}, err
	}
	if err := measure("waist with its ease", c.Waist+c.Ease); err != nil {
		return fit.Panel{}, err
	}
	if err := measure("length", c.Length); err != nil {
		return fit.Panel{}, err
	}
	if c.Panels < 0 {
		return fit.Panel{}, refuse("give at least 1", "the circle is cut in %d panels", c.Panels)
	}
	n := float64(max(1, c.Panels))
	switch {
	case !(c.Part > 0) || math.IsInf(c.Part, 0):
		return fit.Panel{}, refuse("give more than 0, such as 0.5 for a half circle", "the part of a circle is %.4g", c.Part)
	case c.Part > n:
		return fit.Panel{}, refuse(fmt.Sprintf("cut at least %.0f panels", math.Ceil(c.Part)),
			"%.4g circles in %d panels overlap: each would be a sector of %.1f degrees", c.Part, int(n), 360*c.Part/n)
	}
	if r := c.WaistRadius(); r > longest {
		return fit.Panel{}, refuse("take a larger part or a straight panel",
			"the waist radius of %.4g of a circle would be %.1f m", c.Part, r/1000)
	}
	half := math.Pi * c.Part / n
	w := (c.Waist + c.Ease) / n / 2
	return sector{top: w, hem: w + c.Length*half, length: c.Length, half: half}.panel(f)
}

// sector is the ring sector with straight sides of one length and a top and a
// hem square to them; a rectangle when half is 0. Top and hem are the lengths
// of the right half, half is the angle by which it turns, positive when the
// hem is the longer.
type sector struct{ top, hem, length, half float64 }

func (s sector) panel(f Form) (fit.Panel, error) {
	if err := s.fits(f); err != nil {
		return fit.Panel{}, err
	}
	return f.panel(
		symmetric(path.Point{}, f.Half, arc{s.hem, s.half}),
		symmetric(path.Point{Y: s.length}, f.Half, arc{s.top, s.half}).Reverse(),
	)
}

// fits reports why a sector cannot be cut in one piece: its sides, or the
// allowances on them, overlap.
func (s sector) fits(f Form) error {
	turn := math.Abs(s.half)
	if turn > math.Pi+turnSlack {
		return refuse("cut more panels", "the panel would be a sector of %.1f degrees and overlap itself", 360*turn/math.Pi)
	}
	if turn == 0 {
		return nil
	}
	r := min(s.top, s.hem) / turn
	if a := f.TopAllowance; s.half > 0 && turn > math.Pi/2 && a >= r {
		return refuse("take a narrower allowance or a wider waist",
			"the top allowance of %.4g mm closes the waist, whose radius is %.4g mm", a, r)
	}
	if f.Half || turn <= math.Pi/2 {
		return nil
	}
	gap := 2 * r * math.Sin(min(turn, math.Pi))
	if need := f.Start.Allowance + f.Finish.Allowance; gap < need-path.Coincident {
		return refuse("cut more panels, or halves",
			"the sides come within %.1f mm of one another and their allowances need %.1f mm", gap, need)
	}
	return nil
}
