// Package facing turns a fitted hem into pieces to cut: the garment piece with
// its new edge, and the facing that finishes it, each with allowances, clips,
// notches, grain and a label; and interfacings and linings.
//
// The net line of a piece is its stitching line, the cut line lies an
// allowance outside it. The facing's hem line is the garment's, moved inward by
// the favour, so that the seam rolls to the inside; its inner edge lies the
// facing depth above the hem's valley line. Facing and garment are drawn the
// same way up, right sides facing the reader; lengths are mm, outlines run
// counter-clockwise with the hem first.
//
// # Ends of allowances
//
// Where a hem or a facing's inner edge meets a side, its cut line is led
// across the side's stitching line as its own mirror image, out to the side's
// allowance. The allowance then lies edge on edge with the piece when the seam
// is pressed open. Repeats of joined pieces may differ in width, and their
// mirror images with them; the second piece of a seam therefore has the first's
// cut line in its allowance, so that the two lie edge on edge when they are
// sewn. Where the two come to the stitching line at heights of their own, the
// second has a step along it, some tenths of a millimetre. Other [Ends] of the
// allowance can be chosen: square to the side, with or without a step. At a fold there is no
// allowance and the mirror image is the other half of the piece. All other
// corners are the meeting of the two cut lines.
//
// # Kinds of facings
//
// A facing is first made for each panel. What is made of it then keeps its net: in one
// piece, facings of joined panels are laid side line on side line; sections are cut off
// square to the hem at valleys or peaks; a band has a straight cut line and inner edge;
// grown on, facing and hem are mirrored in the line of the peaks. Bands and facings
// grown on need a hem that is straight within a twentieth of the facing's depth.
// Interfacing is the net of a facing moved in from all edges but a fold, a lining the
// garment's piece with the facing's hem.
//
// Start with [Make].
package facing
