package png_test

import (
	"fmt"
	"math"

	"engrail/motif/path"
	"engrail/plot"
)

// skirt is a half front panel with a scalloped hem that rises to the side seam,
// drawn by hand: x from the fold, y from the hem at the fold. Its facing is the
// lowest part of it.
type skirt struct {
	size         string
	repeat, rise float64 // chord of a scallop; radius of the hem's curve
	depth        float64
}

const allowance = 10

func pt(x, y float64) path.Point { return path.Point{X: x, Y: y} }

// valleys are where scallops meet; the fold cuts the first scallop through its
// peak.
func (s skirt) valleys() []path.Point {
	var v []path.Point
	for i := range 7 {
		x := (float64(i) - 0.5) * s.repeat
		v = append(v, pt(x, x*x/(2*s.rise)))
	}
	return v
}

// hem returns the scallops, grown by d, from the fold to the last valley, and
// the inner corners between them.
func (s skirt) hem(d float64) (path.Path, []path.Point) {
	v := s.valleys()
	b := 2 * s.depth / s.repeat
	var centres []path.Point
	var r float64
	for i := 1; i < len(v); i++ {
		seg := path.Segment{A: v[i-1], B: v[i], Bulge: b}
		centres = append(centres, seg.Centre())
		r = seg.Radius() + d
	}
	var corners []path.Point
	for i := 1; i < len(centres); i++ {
		c := centres[i].Sub(centres[i-1])
		corners = append(corners, centres[i-1].Lerp(centres[i], 0.5).Add(c.Unit().Right().Mul(math.Sqrt(r*r-c.Dot(c)/4))))
	}
	end := v[len(v)-1]
	last := centres[len(centres)-1]
	out := last.Add(end.Sub(last).Unit().Mul(r))
	at := pt(0, centres[0].Y-math.Sqrt(r*r-centres[0].X*centres[0].X))
	var segs []path.Segment
	for i, next := range append(append([]path.Point{}, corners...), out) {
		u, w := at.Sub(centres[i]), next.Sub(centres[i])
		segs = append(segs, path.Segment{A: at, B: next, Bulge: math.Tan(u.AngleTo(w) / 4)})
		at = next
	}
	return path.FromSegments(segs...), corners
}

// panel returns the outline above the hem, grown by d: side and waist, from
// the hem's end to the fold.
func (s skirt) panel(d, top float64) path.Path {
	end := s.valleys()[6]
	waist := pt(0.58*end.X, top)
	side := waist.Sub(end).Unit()
	out := side.Right().Mul(d)
	low, high := end.Add(out), waist.Add(out).Add(side.Mul(d))
	return path.FromSegments(
		path.Line(low, high),
		path.Segment{A: high, B: pt(0, top-14+d), Bulge: -0.05},
	)
}

func (s skirt) pieces() []plot.Group {
	name := func(part string) string { return fmt.Sprintf("Skirt front%s", part) }
	cutHem, inner := s.hem(allowance)
	netHem, net := s.hem(0)
	var clips []plot.Line
	for i := range inner {
		clips = append(clips, plot.Line{Role: plot.Clip, Path: path.Open(inner[i], inner[i].Lerp(net[i], 1-2/inner[i].Dist(net[i])))})
	}
	lettering := func(at path.Point, lines ...string) []plot.Text {
		var t []plot.Text
		for i, l := range lines {
			t = append(t, plot.Text{At: pt(at.X, at.Y-float64(i)*10), Height: 6, Align: plot.Middle, String: l})
		}
		return t
	}
	const top = 612
	upper := s.panel(allowance, top)
	cut := path.Join(1e-9, cutHem, upper)
	stitch := path.Join(1e-9, netHem, s.panel(0, top))
	fold := path.Open(cut.End(), cut.Start())
	edge := path.NewRuler(path.Open(upper.V[0].Point, upper.V[1].Point))
	garment := plot.Group{
		Piece: &plot.Piece{Name: name(""), Size: s.size, Kind: "garment", Quantity: 1, OnFold: true},
		Lines: append([]plot.Line{
			{Role: plot.Cut, Path: cut}, {Role: plot.Stitch, Path: stitch}, {Role: plot.Fold, Path: fold},
			{Role: plot.Grain, Path: path.Open(pt(72, 180), pt(72, 460))},
			{Role: plot.Internal, Path: path.Open(pt(88, top-5), pt(98, top-110), pt(108, top-4))},
			{Role: plot.Mark, Path: path.Open(pt(98, top-110))},
			{Role: plot.Mark, Path: path.Open(pt(160, 330), pt(230, 300))},
		}, clips...),
		Texts: append(lettering(pt(155, 230), name(""), "size "+s.size, "cut 1 on fold", "allowance 10 mm"),
			plot.Text{At: pt(20, 330), Height: 5, Angle: math.Pi / 2, Align: plot.Middle, String: "place on fold"}),
	}
	for i, at := range []float64{140, 300, 308} {
		p, t := edge.At(at), edge.TangentAt(at)
		garment.Lines = append(garment.Lines, plot.Line{Role: plot.Notch, Path: path.Open(p, p.Add(t.Left().Mul(6)))})
		if i < 2 {
			q := p.Add(t.Left().Mul(20))
			garment.Texts = append(garment.Texts, plot.Text{At: pt(q.X, q.Y-2), Height: 4, Align: plot.Middle, String: string(rune('A' + i))})
		}
	}

	const deep = 62
	end := s.valleys()[6]
	side := pt(0.58*end.X, top).Sub(end).Unit()
	band := func(d, above float64) path.Path {
		a := end.Add(side.Right().Mul(d))
		b := a.Add(side.Mul(deep + above))
		return path.FromSegments(path.Line(a, b), path.Segment{A: b, B: pt(0, deep+above), Bulge: -math.Tan(math.Asin(b.X/s.rise) / 4)})
	}
	bandCut := path.Join(1e-9, cutHem, band(allowance, 6))
	half := band(0, 0)
	b := path.NewRuler(path.Open(band(allowance, 6).V[0].Point, band(allowance, 6).V[1].Point))
	facing := plot.Group{
		Piece: &plot.Piece{Name: name(" facing"), Size: s.size, Kind: "facing", Quantity: 1, OnFold: true},
		Lines: append([]plot.Line{
			{Role: plot.Cut, Path: bandCut},
			{Role: plot.Stitch, Path: path.Join(1e-9, netHem, path.FromSegments(half.Segment(0)))},
			{Role: plot.Inner, Path: path.FromSegments(half.Segment(1))},
			{Role: plot.Fold, Path: path.Open(bandCut.End(), bandCut.Start())},
			{Role: plot.Grain, Path: path.Open(pt(60, 2), pt(60, 54))},
			{Role: plot.Notch, Path: path.Open(b.At(34), b.At(34).Add(b.TangentAt(34).Left().Mul(6)))},
		}, clips...),
		Texts: lettering(pt(150, 42), name(" facing"), "size "+s.size+", cut 1 on fold", "favour 1 mm"),
	}
	return []plot.Group{garment, facing}
}

func skirts() []skirt {
	return []skirt{{"38", 58, 2600, 24}, {"44", 66, 2600, 24}}
}

// oneSize is the front of one size with its facing.
func oneSize() plot.Drawing { return arranged(skirts()[1:], 900) }

// twoSizes is the front of both sizes with their facings.
func twoSizes() plot.Drawing { return arranged(skirts(), 900) }

func arranged(all []skirt, width float64) plot.Drawing {
	var groups []plot.Group
	for _, s := range all {
		groups = append(groups, s.pieces()...)
	}
	sheets, err := plot.Arrange(groups, 30, width, 0)
	if err != nil {
		panic(err)
	}
	d := sheets[0]
	d.Title = "Marigold skirt"
	return d
}
