package facing

import (
	"engrail/fit"
	"engrail/motif/path"
)

// Row is pieces laid side by side as they are sewn: the corners and the sides of joined
// ones lie on one another at the hem. The first stands upright, and each next one is
// turned to go on from it.
type Row struct {
	Pieces []Laid
	// Joins are where neighbours are joined, in order.
	Joins []Join
}

// Laid is a whole piece of a row and the motion that lays it there.
type Laid struct {
	Piece  Piece
	Motion path.Similarity
}

// Join is where a row crosses a seam: the seam's index, the corner at the hem, and the
// direction of the seam from there.
type Join struct {
	Seam int
	At   path.Point
	Up   path.Vec
}

// Rows lays the pieces of all panels seam to seam, the seams given by the panels'
// indices. Pieces on the fold are unfolded. A side that is joined to its own mirror
// image has a mirrored copy of its piece beside it, and where a garment closes to a
// ring, its first piece stands at both ends of the row: every seam is in one of the
// rows. A piece that is joined to none is a row of its own.
func Rows(pieces []Piece, seams []fit.Seam) []Row {
	l := layer{pieces: pieces, seams: seams, at: map[fit.EndRef]int{}, laid: map[int]bool{}, used: map[int]bool{}}
	for i, s := range seams {
		l.at[s.A], l.at[s.B] = i, i
	}
	var rows []Row
	// Those with an end that is joined to no other first, so that rows begin there.
	for _, open := range []bool{true, false} {
		for i := range pieces {
			entry, ok := l.loose(i)
			if l.laid[i] || open && !ok {
				continue
			}
			rows = append(rows, l.row(fit.EndRef{Panel: i, End: entry}))
		}
	}
	return rows
}

// layer lays pieces in rows.
type layer struct {
	pieces []Piece
	seams  []fit.Seam
	at     map[fit.EndRef]int // the seam of an end
	laid   map[int]bool       // panels
	used   map[int]bool       // seams
}

// loose returns an end of the panel that no seam joins to another panel.
func (l layer) loose(panel int) (fit.End, bool) {
	for _, e := range []fit.End{fit.Start, fit.Finish} {
		k, joined := l.at[fit.EndRef{Panel: panel, End: e}]
		if !joined || l.seams[k].A == l.seams[k].B {
			return e, true
		}
	}
	return fit.Start, false
}

// row lays a row that begins with the panel of the end, and is gone on with at its other
// end. A side joined to its own image has the copy before it.
func (l layer) row(entry fit.EndRef) Row {
	p := l.pieces[entry.Panel].Unfold()
	m := path.Translation(path.Vec{})
	var row Row
	l.laid[entry.Panel] = true
	if p.round() {
		return Row{Pieces: []Laid{{p, m}}}
	}
	exit := fit.EndRef{Panel: entry.Panel, End: fit.Finish - entry.End}
	if _, joined := l.at[entry]; joined && l.seams[l.at[entry]].A == l.seams[l.at[entry]].B {
		exit = entry // of the copy
	}
	if exit.End == fit.Start {
		m = path.Reflection(path.Point{}, path.Vec{Y: 1})
	}
	row.Pieces = append(row.Pieces, Laid{p, m})
	for {
		k, joined := l.at[exit]
		if !joined || l.used[k] {
			return row
		}
		l.used[k] = true
		next := l.seams[k].A
		if next == exit {
			next = l.seams[k].B
		}
		last := row.Pieces[len(row.Pieces)-1]
		from := last.Piece.flank(exit.End)
		at, up := last.Motion.Apply(from.at(0)), last.Motion.ApplyVec(from.up.TangentAt(0))
		row.Joins = append(row.Joins, Join{k, at, up})
		q := l.pieces[next.Panel].Unfold()
		row.Pieces = append(row.Pieces, Laid{q, q.onto(next.End, at, up)})
		again := l.laid[next.Panel] && next != exit
		l.laid[next.Panel] = true
		if again {
			return row
		}
		exit = fit.EndRef{Panel: next.Panel, End: fit.Finish - next.End}
	}
}

// onto returns the motion that lays the corner and the side at an end of the piece on the
// place and the direction, with the piece to the right of them.
func (p Piece) onto(e fit.End, at path.Point, up path.Vec) path.Similarity {
	side := p.flank(e)
	corner, own := side.at(0), side.up.TangentAt(0)
	m := path.Translation(path.Vec{})
	if e == fit.Finish {
		m = path.Reflection(corner, own)
	}
	return m.Then(path.Rotation(corner, own.AngleTo(up))).Then(path.Translation(at.Sub(corner)))
}
