// Package hpgl writes drawings for pen plotters and knife cutters in HP-GL, the
// language that both take, and reads such files back.
//
// [Write] keeps to the part of the language that old and new devices share:
// one IN first, SP, PU and PD with absolute integer coordinates, and for
// lettering SI, DI and LB; a command a line, upper case, commas between
// numbers, a semicolon after everything, lines of less than 80 characters. It
// sends no line types, speeds, forces, scaling, page size or page feed: these
// mean different things to different devices and are set at the device. Every
// line is solid.
//
// # Units and accuracy
//
// A coordinate counts plotter units of 0.025 mm (40 to the mm, 1016 to the
// inch) from the device's origin, which is taken as the drawing's; another
// step can be set. Arcs become chords, whose ends lie on the arc. What is
// drawn stays within [Options.ChordError] plus 0.71 steps of the design: the
// default is 0.0247 mm, less than one plotter unit.
//
// # Order
//
// Each pen is taken up once. Lines inside a piece come before its outline,
// because paper and cloth move once they are cut: marks, grain and other inner
// lines, stitching, folds, notches, clips, and last the cut lines, those of a
// piece from the smallest to the largest.
//
// # Fold
//
// A pen draws a fold once, with the fold's pen: the cut line is left open
// there, so that who cuts the paper out sees which edge it is. A knife cuts every outline closed:
// what it cuts is a pattern of paper or card, half a piece, whose straight edge
// is laid on the fold of the cloth. To cut the cloth itself, in one layer, the
// pieces must be drawn whole.
package hpgl
