package facing

import (
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// foldWord is what is written along the line on which a grown-on facing is folded
// back.
const foldWord = "fold back"

// grow gives a garment piece with a straight hem its facing, grown on: beyond the line
// along its peaks, on which it is folded right sides together, lies the mirror image of
// facing and hem. Both layers have the shaped hem as a line to be stitched; it is
// trimmed and turned after. Favour has no place in it. The error says that the hem is
// not straight or the facing too deep. Longer is by how much the side at the finish
// begins earlier.
func (p *Piece) grow(f fit.Fitted, o Options) (longer float64, err error) {
	along, err := straight(f, p.Name, o)
	if err != nil {
		return 0, err
	}
	hem := p.Edges[0]
	facing, err := facingNet(f, *p, hem.Net, o)
	if err != nil {
		return 0, err
	}
	line, finish, start := p.peakLine(along)
	over := path.Reflection(line.Start(), along)
	image := func(q path.Path) path.Path { return q.Transform(over) }
	// From the image of the facing's inner edge up to the fold, and down to it.
	_, up, down := facing.peakLine(along)
	inner := facing.Edges[innerEdge].Net
	last := len(p.Edges) - 1
	longer = p.Edges[1].Net.Length()
	p.Edges = slices.Clone(p.Edges)
	p.Edges[0] = Edge{Name: innerName, Role: fit.HemEdge, Inner: true, Allowance: o.Inner,
		Net: image(path.Open(inner.End(), inner.Start()))}
	p.Edges[1].Net = path.Join(joinGap, image(up).Reverse(), finish)
	p.Edges[last].Net = path.Join(joinGap, start, image(down).Reverse())
	longer = p.Edges[1].Net.Length() - longer
	p.Stitches = []path.Path{hem.Net, image(hem.Net)}
	p.Internal = append(slices.Clone(f.Marks), line)
	for _, mark := range f.Marks {
		p.Internal = append(p.Internal, image(mark))
	}
	// At the valley nearest the middle there is room on the facing.
	middle := line.Start().Lerp(line.End(), 0.5)
	at := hem.Net.Start()
	for _, v := range f.Valleys {
		if v.Point.Dist(middle) < at.Dist(middle) {
			at = v.Point
		}
	}
	foot := line.Start().Add(along.Mul(at.Sub(line.Start()).Dot(along)))
	height := min(numberHeight, max(leastLabel, foot.Dist(at)/4))
	wide := letterWidth * height * float64(len(foldWord))
	p.Texts = []fit.Text{{
		At:     foot.Add(along.Mul(-wide / 2)).Add(along.Left().Mul(height / 2)),
		Height: height, Angle: along.Angle(), String: foldWord,
	}}
	return longer, nil
}
