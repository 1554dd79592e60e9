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
// # Runs
//
// A hem has corners where it turns by more than 25 degrees, and a run on each side of
// one. A run has ends of its own: those of the hem, or the line that halves the angle
// of a corner, which both of its runs end on. A hem that goes all round has corners
// only, or is one run without ends. Each run has a motif, a count and a width of its
// own; several motifs can follow one another in a sequence, which counts as one
// repeat, and grow from one to the next. Plain stretches lie on the valley line.
//
// # Ends that meet
//
// A place at the height y above or below the hem lies on the side at the
// reach k*y, where k = 1/sin(angle between hem and side). Two ends that a seam
// joins use the mean of their k, so that what meets there meets. When the
// joined hem runs smoothly across the seam the two k are equal and the motif
// is exact; otherwise the difference is eased out over half a repeat.
//
// A motif that is level at an end runs square to the side there, so that it is smooth
// when it is sewn even where the hem turns, and turns into the hem's direction over
// half a repeat. The two halves of a motif with its peak on a seam have one width, the
// mean of the two panels', so that they are mirror images where hem and side meet at
// the same angle; the next three motifs ease the difference out. All others of a run
// are equal, as their ratios and growth say.
//
// # The choice
//
// Each run has the counts whose widths keep within the limits. Of all choices of one
// for each, that whose widths differ least over the garment is taken, then that whose
// widths lie nearest to the wanted one; [Choice] tells it and the next best.
//
// Start with [Fit].
package fit
