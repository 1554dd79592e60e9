// Package svg reads and writes drawings in Scalable Vector Graphics, the format of
// the W3C's SVG 1.1 and SVG 2 recommendations; it reads them as general drawing
// programs save them.
//
// [Read] gives the lines and texts at true size in mm with y up, from the lower
// left corner of the page; without a page height, from its upper left corner.
// Every path becomes lines and arcs within path.FitTolerance of the curve as it
// lies on the page, after all transformations.
//
// What is read: svg (also nested), g, a, switch, use, symbol, path, rect, line,
// polyline, polygon, circle, ellipse, text and tspan; transform lists; viewBox
// with preserveAspectRatio; lengths in px, mm, cm, in, pt, pc, Q, em, ex and
// percent, at 96 px to the inch; style attributes, presentation attributes and
// style sheets with plain selectors. What is not displayed is left out. Of the
// look of lines only colour and dashes are kept, by which sizes can be told
// apart; line widths, pictures, clipping and masks are not read, and a line that
// is drawn in no colour is still a line.
//
// [Write] gives a drawing at true size, for cutters and for editing: a group for each
// piece and in it one for each kind of line, with ids, titles and style classes.
//
// # Limits
//
// A file is refused that has more than [MaxBytes] bytes, elements nested deeper
// than [MaxDepth], more than [MaxElements] elements (a clone counts as often as
// it is drawn), more than [MaxVertices] vertices, or a point further than
// [MaxDistance] from the page's corner.
package svg
