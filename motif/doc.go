// Package motif draws the shapes that are repeated along a garment's edge.
//
// A shape is drawn once in its unit cell: the base line runs along x from the
// valley at (0, 0) to the next valley at (width, 0), the peak stands at
// (width/2, depth), and y points away from the garment. All shapes here are
// symmetrical about the peak and made of straight lines and circular arcs.
// Lengths are millimetres.
//
// Start with [Shape] and its method [Shape.Cell].
package motif
