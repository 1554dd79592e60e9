// Package path is plane geometry on chains of straight lines and circular
// arcs, the one kind of path that engrail uses from the pattern to the plot.
//
// Lengths are millimetres, x runs right, y runs up, angles are radians and
// positive counter-clockwise. An outline is a closed [Path], counter-clockwise
// when it encloses material. A path is a list of vertices; the segment that
// starts at a vertex is straight when the vertex's bulge is 0 and otherwise a
// circular arc, bulge = tan(sweep/4), positive when it turns left. A semicircle
// has bulge 1 or -1. The bulge of the last vertex of an open path has no
// meaning and is 0.
//
// Paths are values whose vertex slices are shared when copied: no function
// here changes the vertices of a path that it is given.
//
// Start with [Path], made from vertices, from [Open] and [Closed], or from
// curves with the fitting functions; measure places along it with [Ruler];
// move it aside with the offset functions. Chords stand for arcs only where a
// format or a question needs them: [Path.Flatten], [Boolean], [OverlapArea].
package path
