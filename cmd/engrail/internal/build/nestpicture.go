package build

import (
	"math"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// Lengths of the picture of a nest, in units of which its largest piece has 300.
const (
	nestUnits = 300
	nestReach = 20 // from the pieces to the names
	nestRow   = 25 // from name to name
	nestRing  = 1.2
	// nestText is the height of the names; one beneath the other they are further
	// apart than lines of one text.
	nestText   = 3.5
	nestBeside = 3   // from the end of the line to the name
	nestLetter = 8   // room for a letter
	nestSample = 45  // the length of a sample of a size's line
	nestDash   = 1.2 // of which dashes are so many
	nestRound  = 2   // radians of a round piece beside the names
)

// nestPicture draws the stitching lines of the nests, each size in its own
// dashes and with its name beside it.
func nestPicture(nests []nest, sizes []string) (plot.Drawing, error) {
	longest := 0.0
	for _, n := range nests {
		b := n.bounds()
		longest = max(longest, b.Width(), b.Height())
	}
	u := longest / nestUnits // mm
	groups := make([]plot.Group, len(nests))
	for i, n := range nests {
		g := plot.Group{Label: n.name, Piece: &plot.Piece{Name: n.name}}
		for k := range n.pieces {
			for _, l := range dashed(n.net(k), dashes(k, u)) {
				g.Lines = append(g.Lines, plot.Line{Path: l})
			}
		}
		g.Texts = append(g.Texts, plot.Text{
			At: n.net(0).Bounds().Centre(), Height: 2 * nestText * u, Align: plot.Middle, String: n.name,
		})
		n.nameSizes(&g, sizes, u)
		groups[i] = g
	}
	return oneSheet(groups, "")
}

// net returns the stitching line of a size, in its place.
func (n nest) net(size int) path.Path {
	return n.pieces[size].Net().Transform(path.Translation(n.shift[size]))
}

func (n nest) bounds() path.Box {
	b := path.EmptyBox()
	for k := range n.pieces {
		b = b.Union(n.net(k).Bounds())
	}
	return b
}

// nameSizes writes the names of the sizes beside a nest, one beneath the other,
// each between a line that leads to a ring on the side of its outline and a sample
// of how that is drawn.
func (n nest) nameSizes(g *plot.Group, sizes []string, u float64) {
	rings := make([]path.Point, len(sizes))
	low, high, right := math.Inf(1), math.Inf(-1), 0.0
	box := n.bounds()
	longest := 0
	for k, name := range sizes {
		longest = max(longest, len([]rune(name)))
		rings[k] = n.onSide(k, (float64(k)+0.5)/float64(len(sizes)))
		low, high = min(low, rings[k].Y), max(high, rings[k].Y)
		right += rings[k].X - box.Centre().X
	}
	// A column as high as the rings, or as the names need.
	middle := (low + high) / 2
	half := max(high-low, nestRow*u*float64(len(sizes)-1)) / 2
	out, x := 1.0, box.Max.X
	if right < 0 {
		out, x = -1, box.Min.X
	}
	x += out * nestReach * u
	room := out * (nestBeside*2 + nestLetter*float64(longest)) * u
	for k, at := range rings {
		y := middle
		if len(sizes) > 1 {
			y += half * (1 - 2*float64(k)/float64(len(sizes)-1))
		}
		to := path.Point{X: x, Y: y}
		ring := path.Circle(at, nestRing*u)
		from := at.Add(to.Sub(at).Unit().Mul(nestRing * u))
		sample := path.Open(path.Point{X: x + room, Y: y}, path.Point{X: x + room + out*nestSample*u, Y: y})
		for _, l := range dashed(sample, dashes(k, u)) {
			g.Lines = append(g.Lines, plot.Line{Path: l})
		}
		g.Lines = append(g.Lines,
			plot.Line{Role: plot.Internal, Path: path.Open(from, to)},
			plot.Line{Role: plot.Internal, Path: ring})
		g.Texts = append(g.Texts, plot.Text{
			At: path.Point{X: x + room/2, Y: y - nestText*u/2}, Height: nestText * u, Align: plot.Middle, String: sizes[k],
		})
	}
}

// onSide returns the point at a part of the way down the side of a size, or down the
// right of a piece that is round.
func (n nest) onSide(size int, part float64) path.Point {
	edges := n.pieces[size].Edges
	if len(edges) < 2 {
		net := n.net(size)
		box, ruler := net.Bounds(), path.NewRuler(net)
		out := path.Direction((0.5 - part) * nestRound).Mul(box.Width() + box.Height())
		at, _ := ruler.Nearest(box.Centre().Add(out))
		return ruler.At(at)
	}
	side := edges[1].Net
	if n.free == fit.Start {
		side = edges[len(edges)-1].Net
	}
	ruler := path.NewRuler(side)
	top := side.Start().Y > side.End().Y
	if !top {
		part = 1 - part
	}
	return ruler.At(ruler.Length() * part).Add(n.shift[size])
}

// dashes returns how the outline of a size is drawn: lengths in mm of dashes and
// of the gaps behind them, nothing for a solid line.
func dashes(size int, u float64) []float64 {
	pattern := plot.LookOfSize(size).Dashes
	all := make([]float64, len(pattern))
	for i, l := range pattern {
		all[i] = l * nestDash * u
	}
	return all
}

// dashed cuts a closed line into dashes, stretched so that they come out even.
func dashed(line path.Path, pattern []float64) []path.Path {
	period := 0.0
	for _, l := range pattern {
		period += l
	}
	ruler := path.NewRuler(line)
	n := math.Floor(ruler.Length() / max(period, 1e-9))
	if period == 0 || n < 1 {
		return []path.Path{line}
	}
	stretch := ruler.Length() / (n * period)
	var all []path.Path
	at := 0.0
	for range int(n) {
		for i, l := range pattern {
			if l *= stretch; i%2 == 0 {
				all = append(all, ruler.Sub(at, min(at+l, ruler.Length())))
			}
			at += pattern[i] * stretch
		}
	}
	return all
}
