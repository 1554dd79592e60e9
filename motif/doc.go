// Package motif draws the shapes that are repeated along a garment's edge.
//
// A shape is drawn once in its unit cell: the base line runs along x from the
// valley at (0, 0) to the next valley at (width, 0), the peak stands at the height
// depth, in the middle unless the shape leans, and y points away from the garment.
// All shapes are made of straight lines and circular arcs. Lengths are millimetres.
//
// A [Unit] is a shape with its size in a sequence of several; [Turned] begins a
// sequence where it reads the same from both sides.
//
// Start with [Shape] and its method [Shape.Cell].
package motif
