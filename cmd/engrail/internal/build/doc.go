// Package build does the whole job: from a style to fitted panels, pieces,
// drawings and files, with a report of all of it.
//
// [New] plans the work, one size after the other, and touches no file but the
// patterns that the style names, through a function that the caller gives.
// [Plan.Write] then makes the files, each through the caller's sink. [Open]
// reads a pattern alone, for whoever wants to look into it.
package build
