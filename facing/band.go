package facing

import (
	"fmt"
	"math"

	"engrail/fit"
	"engrail/motif/path"
)

// straight returns the direction in which a straight hem runs: along its chord, or
// square to the fold that it is at. The error says that the hem is not straight
// enough for a band or a facing that is grown on.
func straight(f fit.Fitted, name string, o Options) (path.Vec, error) {
	const hint = "facings that are shaped follow every hem"
	edges := f.Panel.Edges
	hem := edges[0].Path
	if len(edges) < 2 {
		return path.Vec{}, &Error{Piece: name, Problem: "the hem goes all round, and a straight facing needs a straight hem", Hint: hint}
	}
	along := hem.End().Sub(hem.Start()).Unit()
	if before := edges[len(edges)-1]; before.Role == fit.FoldEdge {
		along = before.Path.EndTangent().Left()
	}
	if after := edges[1]; after.Role == fit.FoldEdge {
		along = after.Path.StartTangent().Right()
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range hem.Flatten(joinGap) {
		h := q.Sub(hem.Start()).Dot(along.Right())
		low, high = min(low, h), max(high, h)
	}
	if most := straightShare * o.Depth; high-low > most {
		return path.Vec{}, &Error{Piece: name, Hint: hint + "; a deeper one may be straight if the hem is only a little curved",
			Problem: fmt.Sprintf("the hem is %.1f mm from straight, and a straight facing %.1f mm deep allows %.1f mm", high-low, o.Depth, most)}
	}
	return along, nil
}

// peakLine returns the straight line along the outermost place of the hem, from the
// line of the start side to that of the finish side, with the sides up from it.
func (p Piece) peakLine(along path.Vec) (line, finish, start path.Path) {
	hem, after, before := p.Edges[0].Net, p.Edges[1].Net, p.Edges[len(p.Edges)-1].Net
	out := along.Right()
	most := math.Inf(-1)
	for _, q := range hem.Flatten(joinGap) {
		most = max(most, q.Sub(hem.Start()).Dot(out))
	}
	// on returns where the side, run on straight along down from its corner, meets
	// the line.
	on := func(corner path.Point, down path.Vec) path.Point {
		return corner.Add(down.Mul((most - corner.Sub(hem.Start()).Dot(out)) / down.Dot(out)))
	}
	a, b := on(before.End(), before.EndTangent()), on(after.Start(), after.StartTangent().Neg())
	finish, start = after, before
	if b.Dist(after.Start()) > joinGap {
		finish = path.Join(joinGap, path.Open(b, after.Start()), after)
	}
	if a.Dist(before.End()) > joinGap {
		start = path.Join(joinGap, before, path.Open(before.End(), a))
	}
	return path.Open(a, b), finish, start
}

// finishBand gives a band its cut line: straight along the peaks, and without clips.
func (p *Piece) finishBand(f fit.Fitted, o Options) error {
	along, err := straight(f, p.Name, o)
	if err != nil {
		return err
	}
	plain := *p
	plain.Edges = append([]Edge(nil), p.Edges...)
	line, finish, start := p.peakLine(along)
	plain.Edges[0].Net, plain.Edges[1].Net, plain.Edges[3].Net = line, finish, start
	if err := plain.finish(nil, nil, o); err != nil {
		return err
	}
	for i, e := range plain.Edges {
		p.Edges[i].Cut = e.Cut
	}
	return nil
}
