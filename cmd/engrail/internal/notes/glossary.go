package notes

import (
	"slices"
	"strings"
	"unicode"
)

// entry explains a word; forms are how it stands in the text, but for endings such as that
// of the plural.
type entry struct {
	Term
	forms []string
}

// entries are the unusual words that a sheet may use, each explained in plain ones.
func entries() []entry {
	say := func(word, meaning string, forms ...string) entry {
		return entry{Term{word, meaning}, append(forms, word)}
	}
	return []entry{
		say("allowance", "the strip of cloth between the stitching line and the cut line. It ends up inside."),
		say("baste", "to hold layers with long loose stitches that are taken out later."),
		say("bias", "the slanting direction of a cloth, half-way between its two sets of threads, in which it stretches and lies round curves."),
		say("bind", "to cover a cut edge with a narrow strip that is folded over it."),
		say("clip", "a straight snip into the allowance, toward the stitching but not into it, so that the cloth can open there.", "clipped"),
		say("cut line", "the outer line of a piece, along which the cloth is cut."),
		say("drill hole", "a place inside of a piece that is marked on the cloth with a dot, such as the tip of a dart."),
		say("facing", "a band of cloth along the edge, of its shape or cut to it later. It is sewn to the edge and turned to the inside, where it finishes it."),
		say("favour", "how much smaller the facing is cut than the garment, so that the seam between them rolls to the inside and is not seen."),
		say("fold", "where the cloth is folded in two. A piece cut on the fold is half of the real piece; opened out it is whole, and there is no seam."),
		say("foot", "the part of the sewing machine that holds the cloth down beside the needle."),
		say("fray", "to lose threads at a cut edge.", "fraying"),
		say("fuse", "to stick interfacing on with a hot iron."),
		say("grade", "to trim the layers of an allowance to different widths, so that they end in steps and not in a ridge."),
		say("grain line", "the arrow on a piece. It is laid along the lengthwise threads of the cloth, which run as the selvage does; that direction is the grain.", "grain"),
		say("inner corner", "a place where the shaped edge turns in sharply, toward the garment."),
		say("inner edge", "the edge of the facing that lies away from the hem, inside of the garment."),
		say("interfacing", "a thin layer on the wrong side of the facing that makes it firmer.", "interface"),
		say("line to mark", "a line inside of a piece that is drawn on the wrong side of the cloth, such as that of a dart."),
		say("lining", "a second garment inside of the first, of thin cloth."),
		say("match mark", "a notch on the outermost place of a motif. Garment and facing have them on the same motifs, to be pinned together."),
		say("mirrored", "cut with the pattern turned over, as a left sleeve is to a right one."),
		say("motif", "the shape that stands along the hem again and again."),
		say("notch", "a small mark in the cut edge that meets its pair on another piece. A V notch is a small wedge that is cut out of the allowance of a curve, so that it does not bunch up."),
		say("opening", "an end of the hem that is sewn to nothing, as where a skirt wraps over."),
		say("outward curve", "a stretch of the shaped edge that bulges away from the garment. An inward curve is hollow.", "inward curve"),
		say("overlock", "to sew over a cut edge so that it does not fray, with a machine for it or a zigzag."),
		say("panel", "one piece of the garment with a part of the hem, such as a front."),
		say("peak", "the outermost place of a motif."),
		say("pivot", "to stop with the needle down in the cloth, lift the foot, and turn the work about the needle."),
		say("point", "an outward corner of the shaped edge."),
		say("press", "to set the iron down and lift it again, without pushing it along. Allowances that are pressed open lie flat, one to each side of their seam."),
		say("pucker", "to draw together in small creases."),
		say("repeat", "one motif with its valley, or one group of motifs that follows itself along the hem."),
		say("right side", "the side of the cloth that is seen when the garment is worn. The other one is the wrong side.", "wrong side"),
		say("section", "one of the short pieces that a long facing is cut in."),
		say("seam", "where two pieces are sewn together."),
		say("selvage", "the firm edge along both sides of a length of cloth as it is sold."),
		say("snip", "to cut a little way with the tips of the scissors."),
		say("stitching line", "the line that is sewn along, an allowance inside of the cut line. Patterns call it the net line, too."),
		say("tack", "to hold two layers in one place with a few stitches."),
		say("tuck", "a small fold that is sewn in unwanted."),
		say("understitch", "to sew the facing to its allowances, close to the seam, so that it stays inside. Its stitches are the understitching.", "understitching"),
		say("valley", "the innermost place between two motifs."),
		say("dart", "a wedge of cloth that is folded away and sewn, so that a flat piece becomes round."),
		say("zigzag", "a stitch of the sewing machine that goes from side to side."),
	}
}

// glossary explains the words that the text uses, and those that the explanations use.
func glossary(text string) Section {
	rest := entries()
	var terms Terms
	for text != "" {
		said := spaced(text)
		text = ""
		rest = slices.DeleteFunc(rest, func(e entry) bool {
			if !e.in(said) {
				return false
			}
			terms = append(terms, e.Term)
			text += e.Meaning + "\n"
			return true
		})
	}
	slices.SortFunc(terms, func(a, b Term) int { return strings.Compare(a.Word, b.Word) })
	return Section{"words", "Words", []Block{terms}}
}

// spaced returns the words of a text in lower case, each with a space on both sides.
func spaced(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	return " " + strings.Join(words, " ") + " "
}

// in reports whether the spaced words have the entry's, in whatever form.
func (e entry) in(said string) bool {
	return slices.ContainsFunc(e.forms, func(form string) bool {
		return slices.ContainsFunc([]string{"", "s", "es", "d", "ed"}, func(end string) bool {
			return strings.Contains(said, " "+form+end+" ")
		})
	})
}
