// Package pattern takes panels from a drawing: it finds a piece's outline, its
// corners and edges, takes the allowances off and keeps notches, grain and what is
// inside.
//
// [Inspect] reports the pieces of a drawing of one size and what their edges
// probably are; [Take] makes a panel of one of them, as a [Selection] says. Both
// go by the same study of the piece, so that what the one says is what the other
// does. Lengths are mm in the drawing's own coordinates, y up; places in messages
// are those, for a drawing from a page measured from its lower left corner.
//
// # Outlines
//
// The outline is the largest closed line of the piece. Lines whose ends meet
// within [JoinGap] count as one line; what is drawn on another line counts once.
// Where more than two lines meet, or a line begins and ends on an outline from
// outside, pieces touch, and what the lines enclose are the pieces. An outline in
// another one is a line inside that piece, unless the drawing has facts of its own
// for it, or a grain line. Many short straight segments in a row are a curve and
// become arcs.
//
// A closed line that runs inside of the outline and beside it all round is the
// stitching line, and the outline then the cut line. Lines that the drawing says
// are for stitching need not close: what is open lies on the fold.
//
// # Edges
//
// A corner is where the line turns by [Selection.Corner] or more, at once or
// within a few mm; the edges are what lies between corners. They are those of the
// stitching line where one is drawn and nothing is said of what the outline
// includes, else those of the outline, and numbered from the lower left corner of
// the piece as drawn. The hem is the edge that a line with the word hem runs
// along, or else the lowest one; edges that lie as low, beyond a corner, are other
// runs of it. Seen with the hem below, the edge at its left end is the start side,
// the one at its right end the finish side, and all others are the top.
//
// A piece whose grain line does not stand upright is turned until it does, unless
// it is cut on the bias. Of the two ways round, the longer edge becomes the hem.
//
// # Words
//
// A line's words are its id, label and classes, the names of the groups that it
// is in but the outline is not, and the texts of such a group. A line that has
// the word fold and runs along an edge marks the fold, one with the word grain is
// the grain line; short lines that touch the outline, and those with the word
// notch, are notches. What a line's role says goes before its words.
//
// # Limits
//
// Drawings have up to 50,000 lines with a million points; of more than 2000 closed
// ones the largest are looked at, and of more than 500 pieces the first reported.
// The search for lines that lie on each other stops after some hundred thousand
// pairs.
package pattern
