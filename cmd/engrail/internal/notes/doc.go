// Package notes writes the sheet that goes with a design: what is cut, how much
// cloth it takes, the figures of the hem, the order of work with these figures in
// it, drawings, cautions, and every unusual word explained.
//
// [Of] makes a [Document] of a [Design], section by section, each by a function of
// its own. A document is sections of paragraphs, lists, tables, figures and terms;
// [Document.Markdown] and [Document.HTML] write it, the former with its drawings in
// files beside it, the latter with them and its style sheet inside. The same design gives the same bytes.
//
// Lengths are mm inside and in the unit of the design in the text; small measures
// of sewing stand in both mm and inches. Facts of the trade have their source
// beside them: published ones with the name, common practice as such.
package notes
