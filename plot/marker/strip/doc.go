// Package strip lays polygons on a strip of a given height in as little length as it
// can. It knows nothing of cloth or garments: package marker does.
//
// The strip runs from x = 0 onwards, between y = 0 and its height; lengths are mm, or
// any other unit that is the same everywhere. Start with [Search].
package strip
