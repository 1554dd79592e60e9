// Package proof says what is in a file that was read back, and how far that is
// from its design: so that a file can be trusted before anything is cut.
//
// [Look] lists what a drawing holds and what would spoil a cut: cut lines that
// are not closed, lines that lie on one another, vertices that nearly coincide,
// cut lines that cross themselves. [Compare] measures a drawing against its
// design. Lengths are mm. Neither changes or repairs anything.
package proof
