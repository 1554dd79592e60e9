// Package toolpath says how a tool goes along lines: which line next, in which
// direction, and from where on it.
//
// Lengths are true millimetres, y runs up. A tool starts where it waits, goes
// to a line with the pen or the knife up, along it with the tool down, and on
// to the next one. [Once] takes out what would be drawn twice; [Order] puts the
// lines in an order with little travel between them; [Travel] measures that.
//
// A knife needs more. [V] cuts a notch out, [Overcut] leads the end of a cut past
// its beginning, [LeadIn] sets the knife down in the waste, and [Trailing] leads
// the pivot of a blade that trails so that its tip follows the line.
//
// Guarantees:
//
//  1. [Order] gives every line exactly once. Its geometry stays as it is, bulges
//     included: an open line may be run from its other end, a closed one begun at
//     another of its vertices.
//  2. Lines of a lower rank come before the others of their piece; without
//     [Options.Mix] a piece is finished before the next one is begun.
//  3. Where the given order and its starts keep to that, the new travel is not
//     longer.
//  4. The same lines and options give the same steps on every machine that
//     rounds alike: work is bounded by counting it, not by the clock.
package toolpath
