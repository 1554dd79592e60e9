// Package marker lays the pieces of an order on cloth: all that is cut at once, in as
// little length as a search finds.
//
// Start with [New], which makes a [Job] of pieces, an order and a cloth, or says what
// of them cannot be; [Job.Lay] searches, and gives a [Marker] back that is proved;
// [Marker.Drawing] draws it.
//
// # Cloth
//
// The cloth runs along x from its beginning, 0, and lies between y = 0 and its width;
// lengths are mm. Grain lines run along x, and what of a piece is up in its pattern
// points to +x as it lies, or on cloth of two directions to either side. In an open lay the
// cloth is single, right side up. In a folded lay it is folded along y = 0 with its
// right sides together, so that each outline is cut twice, once mirrored; an edge on the
// fold lies on y = 0, and other pieces are half of the gap away from it.
//
// # Guarantees
//
// A marker that [Job.Lay] returns has passed [Job.Prove], which looks at the true lines
// and arcs of the pieces and knows nothing of the search:
//
//  1. No two pieces are nearer to one another than the gap, or than what is asked for
//     the one that is kept apart, within [Slack].
//  2. Every piece lies on the cloth, clear of its selvages and of the ends of its section.
//  3. Every piece lies along the grain, as the cloth's direction and tilt allow, and
//     mirrored only where the lay is.
//  4. Every piece of the order is there as often as it is ordered, and nothing else.
//  5. No section is longer than the greatest length.
//
// The same input, with an effort by level, gives the same marker.
package marker
