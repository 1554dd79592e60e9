// Package pattern takes panels from a drawing: it finds a piece's outline, its
// corners and edges, takes the allowances off and keeps notches, grain and inner
// lines.
//
// [Take] does the whole of it for one panel, as a [Selection] says. Lengths are
// mm in the drawing's own coordinates, y up; places in messages are those, for a
// drawing from a page measured from its lower left corner.
//
// # What is what
//
// The outline is the largest closed line of the piece. Lines whose ends meet
// within [JoinGap] count as one line. A corner is where the outline turns by
// [Selection.Corner] or more, at once or within a few mm; the edges are what lies
// between corners. The hem is one edge. Seen with the hem below, the edge at its
// left end is the start side, the one at its right end the finish side, and all
// others are the top.
//
// A line's words are its id, label and classes, the names of the groups that it
// is in but the outline is not, and the texts of such a group. A line that has
// the word fold and runs along an edge marks the fold, one with the word grain is
// the grain line; short lines that touch the outline, and those with the word
// notch, are notches.
package pattern
