// Package turn plans how the allowance of a shaped hem is made to turn to the
// inside: V notches where there is too much of its edge, slits where there is too
// little, tips trimmed across, and a narrower allowance where a curve is too tight or
// too short for Vs in all of it. It also folds the allowance over in the plane and
// measures what lies double and what gapes.
//
// A net line is the stitching line with the outside to its right; an outward curve
// turns left, an inward curve turns right. The height h of a point in the allowance is
// its distance from the net line, from 0 to the allowance a. Lengths are mm, angles
// radians, areas square mm.
//
// # What turning does
//
// Stitching holds both layers along the net line, so every point of the allowance is
// folded to the other side of it, on the same normal. Along an arc of radius R that
// turns by t, the line at the height h is (R+h)t long when it is flat and has room for
// (R-h)t when it is turned, where the arc is outward: 2ht are too much and lie in
// pleats. Over the allowance these are the integral of 2ht, a*a*t square mm. Beyond the
// centre of an arc that is tighter than the allowance there is no room at all. On an inward arc the
// two lengths change places, and 2ht are missing.
//
// A V whose apex is g short of the stitching and which takes the turn s away is 2as
// wide at the cut edge: its sides then meet on the edge when it is turned. At its apex
// 2gs stay, which is the fullness left; below the apex, nothing can be taken away. Of
// a*a*s square mm in pleats there stay g*a*s. So the fullness limits the turn of one V
// to fullness/(2g), whatever the radius and the allowance are.
//
// Where Vs have no room, the allowance is trimmed narrower, to b: 2bt are too much there.
// On a longer curve Vs have room in an allowance of b that have none in that of a, as
// between two the edge is (R-b)s long when it is turned. On the others b is what keeps
// the fullness, but no less than leastGap.
//
// A slit that takes the turn s opens by 2as at the cut edge. Both its sides
// would turn about its end by only 2(a-g)s; the other 2gs is what the cloth between the
// slit's end and the stitching has to stretch by, and the reason to clip close to
// the line. The limit is held to the whole of 2as, which is never too little. In a
// sharp valley that turns by s the sides are straight, and the corners of the cut
// edge, a/cos(s/2) from the valley, come to lie 4a sin(s/2) apart. No number of slits
// makes that less, as all of the turn is in one place.
//
// At a point the turned sides meet on the bisector. What lies beyond it is double, and
// is trimmed away: straight across, a gap beyond the tip, and from there on both sides
// to where the two turned cut edges meet.
//
// # Fullness
//
// Fullness is the extra edge in one place. A place is what one V takes, from half-way to
// the next. Without Vs, it is a curve as far as nothing parts it: a V, a tip, a straight
// as long as the bridge, or a curve the other way. Of a long one it is any part that turns
// by as much as a V at the gap takes, fullness/(2g), or as long as the bridge if that
// turns by more: so a gentle curve that is trimmed to the gap is rated as what Vs leave
// of it, which is as wide. What turns by more than a V takes within the length of a bridge
// is a tip, where the turned sides meet, and what is counted there is bulk. So it is beside a
// valley, where the allowance ends at the slit and can move into its opening.
//
// # Guarantees
//
//  1. A snip lies in the allowance: it starts on the cut edge, and its end is the gap
//     away from the net line. Only on tight outward curves do Vs end nearer, so that
//     their fullness is kept, but never nearer than leastGap.
//  2. Between two Vs of a curve the bridge is left at the cut edge; where a
//     curve meets another at a corner, two thirds of it.
//  3. In no place more than the fullness is left, if that is 1 mm or more; otherwise
//     [Trim] tells what is.
//  4. A trim line keeps its width from the net line, and in any case leastGap; a tip's
//     the gap, but for a fifth of it. It leads out to the cut edge, to a slit, or to the
//     seam at an end of the net line. Very rarely, beside a narrow valley, its way out comes
//     nearer than the width or ends in the allowance.
//  5. The same net line gives the same plan when it is run from another start.
//
// Start with [Make].
package turn
