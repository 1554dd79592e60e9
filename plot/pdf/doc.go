// Package pdf writes drawings at true size in the Portable Document Format of
// ISO 32000: on one sheet of the drawing's own size, or on pages of paper that are
// put together.
//
// Lines stay curves: an arc becomes cubic Bézier curves within 0.002 mm of it. Texts
// are text. Files are the same, byte for byte, for the same drawing.
//
// # Pages
//
// A drawing on pages is covered with tiles in rows and columns, the paper upright or
// across, whichever takes fewer. A page shows its tile and, to the right and below, a
// strip of its neighbours; its trim lines are the tile's left and upper side, which are
// cut and laid over the neighbour's strip. The corners of the tiles are marked with
// numbered crosses, which meet where four pages do. Tiles that nothing is drawn on have
// no page. The first page has a test square in mm and one in inches, what to do, and a
// map of the pages.
//
// # Nests
//
// Of a drawing with [plot.Group.Size], each size is a layer (an optional content group)
// named after it, such as "size 38", which a viewer can hide and which goes on from
// page to page. Sizes have a look each, [plot.LookOfSize], which the legend shows: on
// the first page of several, and below the drawing on a sheet. What has no size is
// outside of all layers.
package pdf
