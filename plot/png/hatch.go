package png

import (
	"math"
	"slices"

	"github.com/fogleman/gg"
)

// hatching is one or two sets of thin lines at an angle to the right, from 0 to a half
// turn, a distance of so many px apart at the usual size.
type hatching struct {
	angles []float64
	apart  float64
}

// hatchings are those of sizes, in order; the first size has none. After the last they
// begin again.
func hatchings() []hatching {
	const up, down, level, upright = math.Pi / 4, 3 * math.Pi / 4, 0, math.Pi / 2
	return []hatching{
		{}, {[]float64{up}, 9}, {[]float64{down}, 9}, {[]float64{level}, 9}, {[]float64{upright}, 9},
		{[]float64{up, down}, 12}, {[]float64{level, upright}, 12}, {[]float64{up}, 4.5}, {[]float64{down}, 4.5}, {[]float64{level}, 4.5},
	}
}

// hatch gives each size of the pieces a hatching, in the order in which they come.
func hatch(pieces []piece) {
	var sizes []string
	for i, p := range pieces {
		if p.size == "" {
			continue
		}
		k := slices.Index(sizes, p.size)
		if k < 0 {
			k = len(sizes)
			sizes = append(sizes, p.size)
		}
		pieces[i].hatch = k
	}
}

// hatch draws a hatching inside of the outlines, lines at the same places in all of them.
func (p *picture) hatch(number int, loops [][]gg.Point) {
	all := hatchings()
	h := all[number%len(all)]
	for _, angle := range h.angles {
		sin, cos := math.Sincos(angle)
		along := gg.Point{X: cos, Y: -sin}
		across := func(q gg.Point) float64 { return q.X*along.Y - q.Y*along.X }
		forward := func(q gg.Point) float64 { return q.X*along.X + q.Y*along.Y }
		low, high := math.Inf(1), math.Inf(-1)
		for _, l := range loops {
			for _, q := range l {
				low, high = min(low, across(q)), max(high, across(q))
			}
		}
		apart := h.apart * max(1, p.weight)
		for k := math.Ceil(low / apart); k*apart < high; k++ {
			// From one side of an outline to the next.
			var ends []float64
			for _, l := range loops {
				for i, a := range l {
					b := l[(i+1)%len(l)]
					x, y := across(a)-k*apart, across(b)-k*apart
					if (x > 0) != (y > 0) {
						ends = append(ends, forward(a)+(forward(b)-forward(a))*x/(x-y))
					}
				}
			}
			slices.Sort(ends)
			for i := 0; i+1 < len(ends); i += 2 {
				if ends[i+1]-ends[i] < dot {
					continue // a corner alone
				}
				at := func(f float64) gg.Point {
					return gg.Point{X: f*along.X + k*apart*along.Y, Y: f*along.Y - k*apart*along.X}
				}
				p.stroke(pen{hue: grey, width: 0.6 * max(1, p.weight), butt: true}, at(ends[i]), at(ends[i+1]))
			}
		}
	}
}
