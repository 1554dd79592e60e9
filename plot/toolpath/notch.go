package toolpath

import "engrail/motif/path"

// V returns the notch that the slit stands for as a V, for cutting: two straight
// lines, from the outline to the slit's end and back to the outline. The slit
// starts on the outline, the cut edge, and runs inward as long as the notch is
// deep. The V takes width mm of the outline, measured along it, half of them on
// either side of the slit's start, so that its ends lie on the outline itself,
// round a corner, too. It runs the way of the outline.
//
// A width that is not above 0 is not known: the V is then half as wide as deep.
// On an open outline it ends where that does; of a closed one it takes half at
// the most. A slit that does not start on the outline (within 0.01 mm), that is
// closed or has no length, and numbers that [Trailing] refuses give the slit as
// it is.
func V(slit path.Path, width float64, outline path.Path) path.Path {
	if slit.Closed || slit.Segments() == 0 || outline.Segments() == 0 || check(slit) != nil || check(outline) != nil {
		return slit
	}
	depth := slit.Start().Dist(slit.End())
	if !(width > 0) {
		width = notchWidth * depth
	}
	r := path.NewRuler(outline)
	along, off := r.Nearest(slit.Start())
	if depth == 0 || !(off <= onEdge) {
		return slit
	}
	half := width / 2
	if outline.Closed {
		half = min(half, notchRound/2*r.Length())
	}
	return path.Open(r.At(along-half), slit.End(), r.At(along+half))
}
