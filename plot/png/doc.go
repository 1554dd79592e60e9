// Package png draws pictures of drawings that answer at a glance: does it
// meet, how many, how wide.
//
// [Write] makes the preview of a drawing, [WriteSheet] a sheet of small
// pictures with captions. Every role has a line of its own, told apart by its
// form as well as by its colour; pieces are tinted by their kind; a
// legend names what occurs, and a bar shows millimetres and inches. Lettering
// is never smaller than 13 px and never stands over a line: a text that has no
// room where the drawing has it moves inside its piece, or beside it with a
// leader, or becomes a number in a list.
//
// The files hold 8-bit palette colour and state the pixel density at which
// they print at true size. The same drawing gives the same bytes on one kind
// of machine; between processors that round differently a pixel at the edge of
// a line may differ by one step of its blend.
//
// Inside, lengths on the picture are px with y down; lengths that belong to
// the look are px at the usual size of 1600 px and grow with larger pictures.
package png
