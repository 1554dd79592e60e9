// Package dxf writes drawings as DXF release 12 files, which nearly every
// program for drawing, cutting and pattern making reads, and reads ASCII DXF of
// any release.
//
// [Write] makes two flavours. Both are 7-bit ASCII with lines that end in
// CR LF, for programs of the time of release 12 read nothing else; text is
// spelled in ASCII: letters lose their marks, other characters become question
// marks.
//
// # Plain
//
// For drawing programs and cutters. Entities stand in model space at their
// place, without blocks, which small cutters do not follow. Each role has its
// layer, named after it in capitals (CUT, STITCH, FOLD ...), or where sizes are
// told apart after both (38-CUT), with a line type;
// cut lines are continuous, so that no cutter cuts dashes. Arcs are the bulges
// of a POLYLINE, exact to 0.0001 mm, or chords when a chord error is set. Units
// are millimetres. Which entities make a piece, what is known of it, and which
// lines are only signs, such as arrowheads, stands in extended data (application
// ENGRAIL), which other programs carry along or skip.
//
// # Exchange
//
// For pattern making programs: the pattern data of ASTM D6673-10 and
// ANSI/AAMA-292. Each piece is a BLOCK, inserted once; facts are TEXT on layer
// 1 such as "Piece Name: Front". The layers are the standard's:
//
//	1     the cut line, one closed POLYLINE a piece
//	2, 3  a POINT at each turn and curve point of the lines on 1, 8, 11 and 14
//	4     notches, POINT: 30 depth, 50 direction inward; a slit, so no 39 for width
//	6     the fold, LINE: the mirror line of a piece cut on the fold
//	7     the grain, LINE
//	8     drawn, not cut: inner edges, darts, marks, clips
//	11    cutouts and slits inside the piece
//	13    marked points, POINT
//	14    stitching
//	15    lettering
//
// Signs are left out: the mirror and grain layers hold one straight LINE for
// each line and programs draw their own signs for these, and on layer 8 a sign
// would be a line of the garment, drawn on the cloth and graded with it.
//
// Clips go to layer 8 because they are snipped after stitching; cut with the
// piece they would weaken the edge while it is handled and be taken for
// balance notches. [Options.CutClips] makes them slit notches on layer 4.
// Where several roles share a layer, those that are not the layer's first have
// a colour of their own, by which [Read] tells them apart.
//
// Curves are chords between points on the curve, since the standard's lines
// are points; a turn point is a corner or the end of a straight line. Numbers
// have the two decimals that the standard has for METRIC: with the default
// chord error nothing is more than 0.022 mm from the design.
//
// # Reading
//
// [Read] takes both flavours and the files of other programs. Lines, arcs and
// bulges stay what they are; ellipses and splines become arcs within a tenth of
// a plotter unit. Entities that a drawing has no place for, such as hatches and
// dimensions, are left out and counted; see [ReadWithReport]. Whatever is wrong in
// a file is a [*SyntaxError] with the line.
package dxf
