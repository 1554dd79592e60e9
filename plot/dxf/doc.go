// Package dxf writes drawings as DXF files of release 12, which nearly every
// program for drawing, cutting and pattern making reads, or of release 2000, and
// reads ASCII DXF of any release.
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
// of a POLYLINE, exact to 0.0001 mm, or chords with [Options.Lines] or when
// a chord error is set. Units are millimetres. Which entities make a piece, what
// is known of it, and which lines are only signs, such as arrowheads, stands in
// extended data (application ENGRAIL), which other programs carry along or skip.
//
// Lettering is TEXT, or with [Options.Strokes] lines, for machines that have no
// letters. What it says stands in extended data of the first of these lines
// (application ENGRAIL_TEXT), so that it comes back as lettering.
//
// [R2000] is for readers that want no older release. It has LWPOLYLINE, handles
// with owners, and that release's tables, blocks and objects.
//
// # Exchange
//
// For pattern making programs: the pattern data of ASTM D6673-10 and
// ANSI/AAMA-292. Each piece is a BLOCK, inserted once; facts are TEXT on layer
// 1 such as "Piece Name: Front". The layers are the standard's:
//
//	1     the cut line, one closed POLYLINE a piece
//	2, 3  a POINT at each turn and curve point of the lines on 1, 8, 11 and 14
//	4     slit and V notches, POINT: 30 depth, 39 width of a V, 50 direction inward
//	5     grade reference lines, LINE
//	6     the fold, LINE: the mirror line of a piece cut on the fold
//	7     the grain, LINE
//	8     drawn, not cut: inner edges, darts, marks, clips
//	9, 10 stripe and plaid references, LINE
//	11    cutouts and slits inside the piece
//	13    marked points, POINT
//	14    stitching
//	15    lettering
//	80-83 T, castle, check and U notches, POINT as on layer 4
//	84-87 with [Options.CheckCurves], the curves of 1, 8, 11 and 14 once more
//
// Layer 12 is blank on purpose. The texts Rotation, Flip, Tilt and Fold of the
// standard (Fold is of tubular cloth, not of a mirrored piece) are left out, since
// a drawing says nothing of them.
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
// are points; a turn point is a corner or the end of a straight line. A notch on
// a curve of the outline makes a point of it there, so that it lies on the
// boundary; in a graded file it lies within the chord error of it. Numbers have
// the two decimals that the standard has for METRIC, or with [English] the four
// that it has for inches: with the default chord error nothing is more than
// 0.022 mm from the design.
//
// # Sizes
//
// A group for each piece and size, with the size's name in its piece, becomes
// one of the two things that pattern data have for sizes: a block for each size,
// which says it in its name and in a text Size; or, with [Options.RuleTable], a
// block for each piece in the sample size, with texts "# n" on layer 1 at its
// grade points, and beside the file the rule table (.RUL) that [WriteRules]
// writes. A grade point stands at each vertex that does not move in proportion
// between its neighbours; equal ways share a rule. Sizes that differ in more
// than the places of their points, such as in the number of repeats, give
// a [*GradeError]. Of lettering the graded file keeps what is the same in all
// sizes.
//
// Both come back from [Read] as a group for each piece and size, the second with
// the table in [ReadOptions.Rules], which [ParseRules] reads. A grade point moves
// by its rule. Points between two grade points of a line move in proportion to
// the way along it, bulges staying as they are; so do points of other lines on
// the outline or the stitching line with what they are on. Notches turn with their
// edge. A stitching line without grade points moves as the outline beside it:
// corner with corner, and between them in proportion. Anything else without grade
// points, such as a grain line, a cutout or a text, moves as one with the place
// of the outline that is nearest to it. A piece without grade points is the same
// in all sizes.
//
// # Reading
//
// [Read] takes both flavours and the files of other programs. Lines, arcs and
// bulges stay what they are; ellipses and splines become arcs within a tenth of
// a plotter unit. Entities that a drawing has no place for, such as hatches and
// dimensions, are left out and counted; see [ReadWithReport]. Whatever is wrong in
// a file is a [*SyntaxError] with the line.
//
// Text is UTF-8, or else in the code page that $DWGCODEPAGE names, which is
// ANSI_1252 where it names none that is known.
//
// # Limits
//
// Reading takes room and time in proportion to the file, and within these
// bounds whatever the file is. A file has up to 64 MB; one that does not begin as
// DXF does is given up after 64 kB. With what inserted blocks and sizes make
// there are up to 2^20 entities, 2^20 vertices, and 2^19 arcs that stand for
// ellipses and splines. Blocks are nested up to 32 deep, and a block in itself is
// an error. A text has up to 65536 letters, and numbers are up to 1e9. A rule
// table has up to 16 MB, 500 sizes and ways of 10000 units. To find how a file's
// pieces move, segments are looked at up to 2^26 times. A report has up to 50
// warnings.
package dxf
