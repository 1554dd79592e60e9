package fit

import (
	"fmt"
	"math"

	"engrail/motif/path"
)

// eased is a curve whose one end is moved by a displacement that fades out
// over the first zone mm of it.
type eased struct {
	line *path.Ruler
	seg  int // the segment of the line that is followed
	move path.Vec
	zone float64
}

// At returns the point at the distance along the line.
func (e eased) At(along float64) path.Point {
	f, _ := fade(along / e.zone)
	p, _ := on(e.line, e.seg, along)
	return p.Add(e.move.Mul(f))
}

// Tangent returns the derivative by the distance.
func (e eased) Tangent(along float64) path.Vec {
	_, df := fade(along / e.zone)
	_, u := on(e.line, e.seg, along)
	return u.Add(e.move.Mul(df / e.zone))
}

// on returns the point and the direction at the distance along the line, taken
// from the given segment also where the distance is a joint.
func on(line *path.Ruler, seg int, along float64) (path.Point, path.Vec) {
	g := line.Path().Segment(seg)
	t := (along - line.Stop(seg)) / (line.Stop(seg+1) - line.Stop(seg))
	return g.At(t), g.TangentAt(t)
}

// fade falls smoothly from 1 at 0 to 0 at 1 and beyond, level at both ends; it
// returns the value and the derivative.
func fade(x float64) (f, df float64) {
	switch {
	case x <= 0:
		return 1, 0
	case x >= 1:
		return 0, 0
	}
	return 1 - x*x*(3-2*x), -6 * x * (1 - x)
}

// bow rises from 0 at 0 with the slope 1 and falls back to 0 at 1 and beyond, where
// it ends level; it returns the value and the derivative.
func bow(x float64) (g, dg float64) {
	switch {
	case x <= 0:
		return x, 1
	case x >= 1:
		return 0, 0
	}
	return x * (1 - x) * (1 - x), (1 - x) * (1 - 3*x)
}

// closedLevel returns the line at the height y (outward positive) beside a hem that
// goes round.
func closedLevel(hem path.Path, y float64) (path.Path, error) {
	if y == 0 {
		return hem, nil
	}
	chains, err := hem.Offset(y, path.Corner{Kind: path.Mitred, Limit: path.DefaultMitreLimit})
	if err != nil {
		return path.Path{}, err
	}
	if len(chains) != 1 || !chains[0].Closed {
		return path.Path{}, fmt.Errorf("the hem is too curved for a line %.2f mm from it", math.Abs(y))
	}
	return chains[0], nil
}

// level returns the line at the height y (outward positive) beside the hem,
// from side to side: the hem's offset, its ends brought to the reach slant*y
// on the sides. The error says that the hem is too curved for it.
func level(hem path.Path, sides [2]side, y float64) (path.Path, error) {
	if y == 0 {
		return hem, nil
	}
	chains, err := hem.Offset(y, path.Corner{Kind: path.Mitred, Limit: path.DefaultMitreLimit})
	if err != nil {
		return path.Path{}, err
	}
	if len(chains) != 1 || chains[0].Closed {
		return path.Path{}, fmt.Errorf("the hem is too curved for a line %.2f mm from it", math.Abs(y))
	}
	line := chains[0]
	if line, err = endOn(line, sides[Finish], sides[Finish].slant*y); err != nil {
		return path.Path{}, err
	}
	if line, err = endOn(line.Reverse(), sides[Start], sides[Start].slant*y); err != nil {
		return path.Path{}, err
	}
	return line.Reverse(), nil
}

// endOn brings the finish of the line to the side's point at the reach: cut
// off or led on straight to the side, and what then is missing along the side
// eased out.
func endOn(line path.Path, s side, reach float64) (path.Path, error) {
	target := s.at(reach)
	length := line.Length()
	// Far enough to reach the side from a hem that meets it slanting.
	far := 4*math.Abs(reach) + 1
	longer := path.Join(path.Coincident, line, path.Open(line.End(), line.End().Add(line.EndTangent().Mul(far))))
	ruler := path.NewRuler(longer)
	meets := math.Inf(1)
	for _, x := range longer.Intersections(s.line(far)) {
		at := ruler.Stop(x.I) + x.T*(ruler.Stop(x.I+1)-ruler.Stop(x.I))
		if math.Abs(at-length) < math.Abs(meets-length) {
			meets = at
		}
	}
	if math.IsInf(meets, 1) {
		return path.Path{}, fmt.Errorf("a line %.2f mm from the hem does not reach the side", math.Abs(reach))
	}
	line = ruler.Sub(0, meets)
	if n := line.Segments(); n > 1 && line.Segment(n-1).Length() < JoinGap {
		// A joint next to the side is none.
		line.V = append(line.V[:n-1:n-1], line.V[n])
	}
	move := target.Sub(line.End())
	if move.Len() < exactEnd {
		line.V[len(line.V)-1].Point = target
		return line, nil
	}
	back := path.NewRuler(line.Reverse())
	ease := eased{line: back, move: move, zone: min(back.Length(), max(4*math.Abs(reach), 100))}
	var end path.Path
	// A joint next to the end of the zone becomes its end.
	for ; ease.seg < back.Path().Segments() && back.Stop(ease.seg) < ease.zone-JoinGap; ease.seg++ {
		to := back.Stop(ease.seg + 1)
		if to > ease.zone+JoinGap {
			to = ease.zone
		}
		p, err := path.FitCurve(ease, back.Stop(ease.seg), to, path.FitTolerance)
		if err != nil {
			return path.Path{}, err
		}
		end = path.Join(JoinGap, end, p)
	}
	if ease.zone < back.Length() {
		end = path.Join(JoinGap, end, back.Sub(ease.zone, back.Length()))
	}
	return end.Reverse(), nil
}
