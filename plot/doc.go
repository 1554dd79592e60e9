// Package plot is the drawing model that every format writes and reads:
// groups of lines that have roles, and texts.
//
// Lengths are true millimetres, y runs up, angles are radians counter-clockwise.
// A [Drawing] is a list of groups; a group that stands for a garment piece or
// a facing carries a [Piece] with the facts that pattern formats write down.
// Signs for people, such as the bracket at a fold, are lines too: see
// [Group.Signs].
//
// A nest is one drawing of several sizes that lie over one another: see [FromSizes].
// [Group.Size] tells writers of them.
//
// A format's package (png, hpgl, dxf, svg) has Write, Read or both: Read gives
// the same model that Write takes. The format packages take an io.Writer or
// io.Reader and never open files.
package plot
