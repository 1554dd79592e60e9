// Package stroke writes text as single strokes, in an alphabet of its own, so
// that a label looks alike in every format and any pen can draw it.
//
// # Conventions
//
// The letters are drawn with ruler and compass on a grid of 24 steps to the
// height of a capital, which is 1 below:
//
//	capitals and digits     from 0 to 1; nothing of them is below the base line
//	small letters           x-height 2/3, ascenders to 1, descenders to -1/3
//	marks on capitals       up to 1.37, or 1.64 where there are two
//	marks below             down to -1/3, or -0.6 where there are two
//	brackets                from -1/6 to 9/8
//	advance                 at most 0.83, the room that [plot.Text.Corners] assumes
//	digits                  all of one advance, 0.73
//	pen                     a stroke about 1/10 wide looks best
//
// All of these are of the middle of the stroke: a pen adds half its width on
// every side. Letters stand at distances that follow from the shapes of their
// sides; there is no kerning. A dot is a circle 1/10 wide, which the
// advised pen fills.
//
// The letter I is a plain stem, l has a tail and 1 has a flag; O is nearly
// round, and 0 is narrow and has no slash, as people who sew would take that for
// a letter.
//
// # Characters
//
// There are strokes for printable ASCII, for the letters and signs of Latin-1, for
// the letters of Latin Extended-A, for any other Latin letter that is one of these
// with marks that they have, and for some typographic signs. Marks may be part of
// the character or follow it. Anything else is written as plot/internal/ascii
// spells it, often as a question mark. These look the same, as they do in most
// lettering: Đ and Ð, the comma and the single low quote, the sign µ and the letter
// μ, and spaces.
package stroke
