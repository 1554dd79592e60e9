// Package fit lays a motif along the hems of a garment's panels: a whole
// number of repeats in each, as equal as possible over all of them, meeting at
// every seam.
//
// # Words
//
// The hem line is the finished lower edge as drafted, run counter-clockwise
// round the panel, so from left to right with the garment above it. Outward is
// to the right of it, away from the garment. The valley line is where the
// motif's valleys lie: the hem line itself, or the hem line moved inward when
// peaks or middles are to rest on it. A repeat is one motif, from valley to
// valley. A side is the edge of the panel beside one end of the hem; a place
// on a side is told by its reach, the signed distance in mm along the side from
// the hem's corner, positive outward, where the side goes on straight.
//
// # Ends that meet
//
// A place at the height y above or below the hem lies on the side at the
// reach k*y, where k = 1/sin(angle between hem and side). Two ends that a seam
// joins use the mean of their k, so that what meets there meets. When the
// joined hem runs smoothly across the seam the two k are equal and the motif
// is exact; otherwise the difference is eased out over half a repeat.
//
// Start with [Fit].
package fit
