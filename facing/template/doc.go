// Package template makes cards to mark a shaped hem by hand: a piece of card whose
// lower edge is one motif on the net line, from valley to valley.
//
// Cards are taken from the hem as it is laid. Motifs that are alike share one, as
// they are or turned over, those of all panels together. Rigid motifs of a run are alike
// but for those that are eased at a seam; bent ones follow the hem, and a card that
// stands for several says how far they are from it. The half motif at an end with a peak
// has a card of its own only where it is not half of another.
//
// A card lies as it is used, with the hem below: x along the chord from the left valley,
// which is the origin, to the right one; y up into the garment. Lengths are mm.
//
// Start with [Make].
package template
