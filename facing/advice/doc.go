// Package advice looks at a fitted garment and its pieces as a careful pattern
// maker would, and says what is likely to go wrong when they are sewn.
//
// Each check has a short name, such as valley-gap. It gives a finding for each
// panel, piece or seam that it looks at: a plain sentence with figures, how much it
// weighs, and what would help. What is as it should be is a finding of the level
// [fit.LevelFine], so that one can see what was looked at. A user who means it so accepts a
// check by its name; its findings are then marked and no longer count.
//
// The checks hem-turn and repeat-widths are named as the warnings of the package
// fit that say the same.
//
// Lengths are mm; figures state angles in degrees.
//
// Start with [Review].
package advice
