// Package draft makes panels from measures: parts of a circle, flared panels
// (gores), straight ones and hems through measured points.
//
// A drafted panel stands upright: its hem is below and runs from left to
// right, its grain is vertical, and the middle of its hem lies at (0, 0),
// except that a [Curve] keeps the coordinates of its points. Measures are net
// millimetres, without allowances. Every curve is made of exact circular arcs.
//
// A panel that is the same on both sides can be drafted as its right half (see
// [Form.Half]); measures are always those of the whole panel.
//
// What the methods named Panel promise, besides what [fit.Panel] asks for:
//
//  1. The hem and the top are as long as the measures say.
//  2. Where a measure is impossible there is a [*fit.Error] that says which
//     panel and measure, and what would be possible. No input makes them panic.
package draft
