package style

// Style is a whole style: its motif, its panels and what is to be made of them.
type Style struct {
	// Form of this file. Begin it with "engrail: 1".
	Engrail int `yaml:"engrail" rule:"required" min:"1" max:"1"`
	// Name of the style, written on every piece. Left out, it is the file's name.
	Name string `yaml:"style"`
	// Unit of bare numbers in this file. A length with a unit of its own, such as
	// 57mm, 5.5 cm or 2 1/4 in, can stand anywhere.
	Units Unit `yaml:"units" enum:"mm,cm,in"`
	// The shape that is repeated along the hem.
	Motif Motif `yaml:"motif"`
	// Seam allowances of the style. One width in place of the keys is for every
	// edge. Sides and top that are left out are as wide as the drawing of a piece has
	// them, where it has both the cut line and the stitching line, else 15 mm.
	Allowance Allowance `yaml:"allowance"`
	// The SVG or DXF file with the pattern, when panels come from one.
	Pattern Pattern `yaml:"pattern"`
	// The panels of the garment by their names, in the order in which they are
	// listed and laid out.
	Panels []Panel `yaml:"panels" rule:"required" max:"200"`
	// Which sides are sewn together at the hem: pairs of a panel's name and start
	// or finish, such as [front finish, back finish]. A panel's side can be joined
	// to its own mirror image, as at a centre-back seam: [back start, back start].
	Seams []Seam `yaml:"seams" max:"400"`
	// The facing that finishes the hem. A depth in place of the keys is enough; no
	// facing is made with none or 0.
	Facing Facing `yaml:"facing"`
	// The cloth that garment and facing are cut from. A weight in place of the keys is
	// enough.
	Cloth Cloth `yaml:"cloth"`
	// What is done to the allowance of the shaped hem so that it turns to the inside.
	Turning Turning `yaml:"turning"`
	// Sizes by their names. Each says which measures of which panels differ from
	// those under panels. Of a pattern's sizes they are the ones to make; a list
	// of names is enough.
	Sizes []Size `yaml:"sizes" max:"100"`
	// Checks that are accepted by their names, as engrail review shows them, and no longer
	// warn.
	Accept []string `yaml:"accept" enum:"facing-depth,fray-allowance,valley-gap,sharp-point,clip-count,repeat-widths,hem-turn,facing-on-valley,no-favour,notch-on-clip,facing-grain" max:"100"`
	// The files that are made.
	Output Output `yaml:"output"`
}

// Motif is one repeat of the shape along the hem, and how it is laid there.
type Motif struct {
	// Shape of one repeat. Own is one that you draw, with the key own.
	Shape string `yaml:"shape" enum:"scallop,point,wave,engrailed,bulb,elliptical,petal,ogee,bracket,tab,stepped,dovetailed,cloud,own"`
	// Wanted width of one repeat. The widths made are the nearest to it that fit a
	// whole number of repeats in every panel.
	Width Length `yaml:"width" rule:"positive"`
	// Depth of the shape, from its valleys to its peaks.
	Depth Length `yaml:"depth" rule:"positive"`
	// Straight stretch between two repeats.
	Flat Length `yaml:"flat"`
	// How the outermost point of the shape is finished. Left out, it is sharp.
	Tip Tip `yaml:"tip"`
	// How the innermost point of the shape is finished. Left out, it is sharp.
	Valley Valley `yaml:"valley"`
	// How far to the right the outermost point leans, as seen with the hem below; to
	// the left below 0.
	Lean Length `yaml:"lean" rule:"signed"`
	// Turn the shape over, so that its points are where its valleys were.
	Turn bool `yaml:"turn"`
	// Your own shape, for shape: own. The words of a path in place of the keys are
	// enough.
	Own Own `yaml:"own"`
	// A mark inside of each motif.
	Mark Mark `yaml:"mark"`
	// Several motifs in place of one, repeated in this order. Together they are one
	// repeat, and width is that of a motif of width 1.
	Sequence []Member `yaml:"sequence" max:"24"`
	// How motifs grow along each hem.
	Grow Grow `yaml:"grow"`
	// How repeats follow a curved hem: rigid ones keep their shape and are stepped
	// off in equal chords, bent ones follow the curve and are equal along it.
	Lay string `yaml:"lay" enum:"rigid,bent"`
	// What lies on the hem as drafted: with peaks the garment keeps its length,
	// with valleys it grows by the depth, with middle by half of it.
	Rest string `yaml:"rest" enum:"peaks,middle,valleys"`
	// Least width of a repeat. With neither least nor most, widths keep within a
	// tenth of the wanted one where a panel has such a count, and otherwise within
	// 4/5 and 5/4 of it.
	Least Length `yaml:"least" rule:"positive"`
	// Greatest width of a repeat. Left out beside a least width, it is 5/4 of the
	// wanted width, as least is 4/5 of it beside a most.
	Most Length `yaml:"most" rule:"positive"`
	// Repeats in each whole panel, where their number is to be fixed. A panel can
	// have its own.
	Count int `yaml:"count" rule:"positive" max:"10000"`
	// What all sizes have in common: with width the wanted width, so that larger
	// sizes have more repeats; with count their number in each panel, so that
	// larger sizes have wider ones.
	Hold string `yaml:"hold" enum:"width,count"`
}

// Tip is the finish of a motif's outermost point.
type Tip struct {
	// Radius of a rounded tip.
	Round Length `yaml:"round"`
	// Width of a tip that is cut off straight.
	Blunt Length `yaml:"blunt"`
}

// Valley is the finish of a motif's innermost point.
type Valley struct {
	// Radius of a rounded valley.
	Round Length `yaml:"round"`
}

// Own is a shape that is drawn by the user: one motif from left to right, which
// begins and ends on its base line. It is scaled to the width and depth.
type Own struct {
	// A path as in SVG, from its M on, of one line. Larger y is further from the garment,
	// as a hem hangs on the page.
	Path string `yaml:"path" rule:"bare"`
	// In place of a path, its corners from left to right, each as [across, down].
	Points []Point `yaml:"points" max:"1000"`
}

// Mark is drawn inside of each motif, under its outermost point: a place for an
// eyelet or a keyhole.
type Mark struct {
	// What it is: an eyelet is a circle, a keyhole a circle with a slot.
	Kind string `yaml:"kind" enum:"eyelet,keyhole"`
	// Diameter of the circle.
	Size Length `yaml:"size" rule:"positive"`
	// Distance of the circle's middle from the base line. Left out, it is half of the
	// depth.
	Height Length `yaml:"height" rule:"positive"`
}

// Member is one motif of a sequence. What it leaves out it has of the motif, but the
// details of a shape of its own are none.
type Member struct {
	// Shape of this motif.
	Shape string `yaml:"shape" enum:"scallop,point,wave,engrailed,bulb,elliptical,petal,ogee,bracket,tab,stepped,dovetailed,cloud,own"`
	// How many times as wide as the motif's width it is, such as 0.5 or 2/3.
	Width Ratio `yaml:"width"`
	// How many times as deep as the motif's depth it is.
	Depth Ratio `yaml:"depth"`
	// Turn it round, so that one that leans to the right leans to the left.
	Mirrored bool `yaml:"mirrored"`
	// Straight stretch between it and the next.
	Flat Length `yaml:"flat"`
	// How its outermost point is finished.
	Tip Tip `yaml:"tip"`
	// How its innermost point is finished.
	Valley Valley `yaml:"valley"`
	// How far to the right its outermost point leans.
	Lean Length `yaml:"lean" rule:"signed"`
	// Turn it over.
	Turn bool `yaml:"turn"`
	// A shape of its own.
	Own Own `yaml:"own"`
	// A mark inside of it.
	Mark Mark `yaml:"mark"`
}

// Grow is how motifs grow along each hem, by equal steps from one to the next.
type Grow struct {
	// How many times as wide they are where they are widest.
	Width Ratio `yaml:"width"`
	// How many times as deep they are where they are deepest.
	Depth Ratio `yaml:"depth"`
	// Where that is: at start, middle or finish of the hem, or a part of the way along
	// it such as 2/3.
	At Place `yaml:"at"`
}

// Allowance is the width of the seam allowances of a style.
type Allowance struct {
	// On the shaped hem, of the garment and its facing alike.
	Hem Length `yaml:"hem" rule:"bare"`
	// On the sides.
	Side Length `yaml:"side" rule:"bare"`
	// On the top of the panels: a waist, a yoke seam.
	Top Length `yaml:"top" rule:"bare"`
	// On the inner edge of the facing.
	Inner Length `yaml:"inner" rule:"bare"`
	// How the hem's allowance ends in that of a side: mirrored lies on the piece edge on edge
	// when the seam is pressed open; squared runs straight out, square to the side;
	// stepped does so at the hem's allowance from the corner of the stitching lines, to which
	// a valley's deeper allowance goes back in a step.
	Ends string `yaml:"ends" enum:"mirrored,squared,stepped"`
}

// Pattern is an SVG or DXF file from which panels are taken.
type Pattern struct {
	// The SVG or DXF file, beside this one. With {size} in the name, such as
	// skirt-{size}.svg, there is a file for each size.
	File string `yaml:"file" rule:"bare"`
	// How the file tells its sizes apart: by a layer or group for each, by a style
	// class, by the stroke's colour or dashes, or by what the pieces of pattern
	// data say. The style then has these sizes, or those of them that it lists
	// under sizes.
	Sizes string `yaml:"sizes" enum:"layers,classes,strokes,pieces"`
	// Names for the sizes in the file, from the first to the last, in place of its
	// own.
	Names []string `yaml:"names" max:"100"`
	// The grade rule table of pattern data that are drawn in one size. Left out, it
	// is the file of the same name that ends in .rul, if there is one.
	Rules string `yaml:"rules"`
	// True length of one unit of the file, such as 1 mm, for a file that comes
	// out in the wrong size. Left out, what the file says counts.
	Unit Length `yaml:"unit" rule:"positive"`
}

// Panel is one piece of the garment. Exactly one of piece, circle, gore,
// straight and curve says where it comes from.
type Panel struct {
	// Name is the panel's key under panels.
	Name string `yaml:"-"`
	// Take the panel from the pattern file. A name in place of the keys is enough.
	Piece *Piece `yaml:"piece"`
	// Draft a part of a circle from waist and length.
	Circle *Circle `yaml:"circle"`
	// Draft a flared panel from waist, hem and length.
	Gore *Gore `yaml:"gore"`
	// Draft a rectangle.
	Straight *Straight `yaml:"straight"`
	// Draft a panel whose hem runs through measured points.
	Curve *Curve `yaml:"curve"`
	// Draft only the right half of the panel, and say what its middle is: placed
	// on the fold, a seam between two mirrored halves, or an opening.
	Half string `yaml:"half" enum:"fold,seam,opening"`
	// How many to cut, a piece on the fold counting as one. Left out, it is 1, or 2
	// of a half with a seam or an opening in the middle; of a piece, what the
	// pattern says.
	Quantity int `yaml:"quantity" rule:"positive" max:"1000"`
	// Repeats in this whole panel, in place of the motif's count.
	Count int `yaml:"count" rule:"positive" max:"10000"`
	// The side at the left end of the hem; of a half, its middle.
	Start End `yaml:"start"`
	// The side at the right end of the hem.
	Finish End `yaml:"finish"`
	// The corners of a hem that has some.
	Corners Corners `yaml:"corners"`
	// What is special on each run of the hem between its corners, in order from
	// the left.
	Runs []Run `yaml:"runs" max:"100"`
	// Seam allowances of this panel, where they differ from the style's. One width
	// in place of the keys is for sides and top.
	Allowance PanelAllowance `yaml:"allowance"`
	// Unstated are the allowances that nothing in the file says, which hold what is
	// usual: a piece whose drawing has the cut line and the stitching line keeps
	// what lies between them.
	Unstated Unstated `yaml:"-"`
}

// End is one of the two sides of a panel, where the hem ends.
type End struct {
	// What the side is. A fold is said by half or by the piece's fold.
	Edge string `yaml:"edge" enum:"seam,opening"`
	// What of the motif stands on it: any leaves the choice to the fit.
	Motif string `yaml:"motif" enum:"any,valley,peak"`
	// Length of a stretch of the hem beside it that stays plain.
	Plain Length `yaml:"plain"`
	// Distances of notches from the hem, up the side of a drafted panel.
	Notches []Length `yaml:"notches" rule:"positive" max:"100"`
}

// Corners are the corners of a hem, at which it turns by 25 degrees or more.
type Corners struct {
	// What of the motif stands on each: any is a valley, and a peak is a motif that
	// turns the corner.
	Motif string `yaml:"motif" enum:"any,valley,peak"`
	// Length of a stretch on both sides of each that stays plain.
	Plain Length `yaml:"plain"`
}

// Run is a run of a hem between two corners or ends.
type Run struct {
	// Leave it without a motif.
	Bare bool `yaml:"bare"`
	// Repeats on it.
	Count int `yaml:"count" rule:"positive" max:"10000"`
	// A motif of its own. What it leaves out of shape, width and depth it has of the
	// style's motif; how it is laid and what rests on the hem are the style's.
	Motif *Motif `yaml:"motif"`
}

// PanelAllowance is the width of one panel's seam allowances.
type PanelAllowance struct {
	// On both sides.
	Side Length `yaml:"side" rule:"bare"`
	// On the side at the start of the hem, where it differs.
	Start Length `yaml:"start"`
	// On the side at the finish of the hem, where it differs.
	Finish Length `yaml:"finish"`
	// On the top.
	Top Length `yaml:"top" rule:"bare"`
	// On single edges of a piece, each named as a hem is, such as {"#3": 10}.
	Edges []EdgeWidth `yaml:"edges" max:"100"`
}

// EdgeWidth is the width of the allowance on one edge of a piece.
type EdgeWidth struct {
	Edge  string
	Width Length
}

// Unstated says which of a panel's allowances a style leaves out.
type Unstated struct{ Start, Finish, Top bool }

// Piece is a piece of the pattern file. One of name, id, label, text and order
// finds it; with none of them the panel's own name does.
type Piece struct {
	// The piece's id, label or text, whichever is found first.
	Name string `yaml:"name" rule:"bare"`
	// The piece's id in the file; in DXF the name of its block.
	ID string `yaml:"id"`
	// The piece's label in the file; in DXF the name of its block or layer.
	Label string `yaml:"label"`
	// A text that stands in the piece.
	Text string `yaml:"text"`
	// The piece's place in the order of the file, counted from 1.
	Order int `yaml:"order" rule:"positive" max:"10000"`
	// The SVG or DXF file, where it is another than the pattern's.
	File string `yaml:"file"`
	// The hem: lowest for the lowest edge between two corners, the id or label of a
	// line along it, #2 for the edge of this number in the picture of the pattern, A
	// to B for the edge between the corners of these letters, or from 12, 30 to 480,
	// 41 for the edge between the corners nearest to these places in mm. A list of
	// edges that follow one another is one hem with corners, and all round is the
	// whole outline.
	Hem []string `yaml:"hem" max:"100"`
	// The edge that lies on the fold: left, right or none, or an edge as the hem is
	// named. Left out, it is where the drawing has a line with the word fold, if
	// any.
	Fold string `yaml:"fold"`
	// Allowances that the drawn outline includes; they are taken off first, though
	// not at a fold. Left out, the outline is the stitching line. One width in
	// place of the keys is for every edge.
	Includes *Includes `yaml:"includes"`
	// True length of the piece's hem along the stitching line, if you have measured
	// it. A file in the wrong size is then found out.
	Check Length `yaml:"check" rule:"positive"`
}

// Includes is the width of the allowances in a drawing.
type Includes struct {
	// On the hem.
	Hem Length `yaml:"hem" rule:"bare"`
	// On both sides.
	Side Length `yaml:"side" rule:"bare"`
	// On the side at the start of the hem, where it differs.
	Start Length `yaml:"start"`
	// On the side at the finish of the hem, where it differs.
	Finish Length `yaml:"finish"`
	// On the top.
	Top Length `yaml:"top" rule:"bare"`
	// On single edges, each named as a hem is, such as {"#3": 10}.
	Edges []EdgeWidth `yaml:"edges" max:"100"`
}

// Circle is a panel of a skirt cut as a part of a circle.
type Circle struct {
	// Finished waist of the whole skirt.
	Waist Length `yaml:"waist" rule:"positive"`
	// Length from the waist to the hem.
	Length Length `yaml:"length" rule:"positive"`
	// How much of a circle the whole skirt is: full, half, third, quarter, or a
	// number or fraction such as 3/4.
	Part Part `yaml:"part"`
	// The same in degrees, 180 for a half circle.
	Angle Degrees `yaml:"angle" rule:"positive"`
	// How many equal panels the circle is cut in. This panel is one of them.
	Panels int `yaml:"panels" rule:"positive" max:"1000"`
	// What is added to the waist before drafting: ease, or a wrap's overlap.
	Ease Length `yaml:"ease" rule:"signed"`
}

// Gore is a flared panel with straight sides.
type Gore struct {
	// Width of the whole panel at the waist, along it.
	Waist Length `yaml:"waist" rule:"positive"`
	// Width of the whole panel at the hem, along it.
	Hem Length `yaml:"hem" rule:"positive"`
	// Length down the middle.
	Length Length `yaml:"length" rule:"positive"`
	// How much higher the hem lies at the sides than in the middle. Left out, it is
	// what keeps the panel as long at the sides as in the middle; 0 is a straight
	// hem.
	Rise *Length `yaml:"rise" rule:"signed"`
}

// Straight is a rectangular panel.
type Straight struct {
	// Width of the whole panel.
	Width Length `yaml:"width" rule:"positive"`
	// Depth from the top to the hem.
	Depth Length `yaml:"depth" rule:"positive"`
}

// Curve is a panel whose hem is measured point by point.
type Curve struct {
	// Points of the hem from left to right, each as [across, up]. Of a half, the
	// first one lies on the middle.
	Points []Point `yaml:"points" max:"1000"`
	// How high up the top of the panel lies.
	Height Length `yaml:"height" rule:"signed"`
}

// Facing is the piece that finishes the shaped hem on the inside.
type Facing struct {
	// Depth from the valleys of the hem up to the facing's inner edge.
	Depth Length `yaml:"depth" rule:"bare,none"`
	// How much smaller than the garment the facing is cut at the hem, so that the seam
	// rolls to the inside; auto takes what the turn of the cloth needs, 3.14 times its
	// thickness.
	Favour Length `yaml:"favour" rule:"auto"`
	// What the favour is taken from: the facing alone, or both, so that the facing is
	// smaller by half of it and the garment larger by as much. The finished edge then lies
	// where the hem was drawn.
	FavourOn string `yaml:"favour on" enum:"facing,both"`
	// What is done where two joined facings differ in the length of their sides: tell says
	// so, and correct makes the second one's as long as the first's, by moving its inner
	// corner. Garments are never changed.
	Truing string `yaml:"truing" enum:"tell,correct"`
	// Allowance on the facing's side seams. Left out, it is the panel's.
	Side *Length `yaml:"side"`
	// How far short of the stitching line clips stop.
	ClipGap Length `yaml:"clip gap"`
	// Wanted distance of the match marks along the hem; 0 leaves only the one in
	// the middle.
	MarkEvery Length `yaml:"mark every"`
	// What facings there are: a shaped one for each panel, each of those pieced from
	// sections, one piece for all panels that are joined, laid out flat with the sides
	// of their facings on one another, or for straight hems a straight band with the
	// shape marked on it, which is sewn first and trimmed after, or a facing that is
	// grown on, cut in one with the garment and folded back.
	Kind string `yaml:"kind" enum:"shaped,one piece,pieced,band,grown on"`
	// The side of a panel, such as back finish, at which a facing in one piece that
	// would close to a ring is left open. Left out, it is the last of its seams.
	OpenAt Side `yaml:"open at"`
	// Greatest length of a section, allowances included, to fit a width of cloth or
	// the bed of a cutter. Left out, it is 400 mm of pieced facings, and a facing in
	// one piece is not cut in sections.
	Section Length `yaml:"section" rule:"positive"`
	// Where sections are joined: at valleys, or at peaks.
	PiecesAt string `yaml:"pieces at" enum:"valleys,peaks"`
	// What is done to the inner edge: turned under by the allowance inner, overlocked,
	// or bound. Overlocked it has no allowance unless one is given, and bound it has
	// none; the pieces then say how long a binding each needs.
	InnerEdge string `yaml:"inner edge" enum:"turned,overlocked,bound"`
	// How far short of the stitching lines a piece of interfacing for each facing
	// stops, such as 3mm; none or 0 makes no interfacing.
	Interfacing Length `yaml:"interfacing" rule:"none"`
	// A lining for each panel with the same shaped hem, smaller there by the favour. It
	// can stand in place of a facing whose depth is none.
	Lining bool `yaml:"lining"`
}

// Cloth is the cloth of the garment and its facing.
type Cloth struct {
	// How heavy it is: light is thinner than 0.5 mm, medium up to 1 mm, heavy thicker.
	// Left out, its thickness says so; with neither it is medium.
	Weight string `yaml:"weight" enum:"light,medium,heavy" rule:"bare"`
	// Thickness of one layer, laid flat under little pressure. Left out, it is the most that
	// its weight has: 0.5 mm if light, 1 mm if medium, and 1.5 mm if heavy.
	Thickness Length `yaml:"thickness" rule:"positive"`
	// How far a raw edge of it frays until the garment is made and worn. Left out, that is
	// not known.
	Fray Length `yaml:"fray"`
	// Width of the cloth between its selvages.
	Width Length `yaml:"width" rule:"positive"`
}

// Turning is what is done to the allowance of the shaped hem so that it turns to the
// inside and lies flat.
type Turning struct {
	// Slits as lines to cut, as marks, or none.
	Clips string `yaml:"clips" enum:"slit,mark,none"`
	// Slits on inward curves too, so close that none gapes wider than the opening;
	// otherwise at valleys and inner corners only.
	Curves bool `yaml:"curves"`
	// V notches on outward curves, as lines to cut, as marks, or none. Where a curve is too
	// tight or too short for them, a line is drawn where the allowance is trimmed narrower,
	// and notches that start on it are marks.
	Notches string `yaml:"notches" enum:"v,mark,none"`
	// Which pieces have them. Staggered is both, with the facing's slits and
	// notches on curves between the garment's.
	On string `yaml:"on" enum:"both,garment,facing,staggered"`
	// Extra edge that may stay in one place, at a V notch or where there is none.
	Fullness Length `yaml:"fullness" rule:"positive"`
	// How wide a slit may gape when the allowance is turned.
	Opening Length `yaml:"opening" rule:"positive"`
	// Widths to which the allowance is trimmed after stitching; 0 draws no line.
	Trim Trimming `yaml:"trim"`
	// Draw where points are trimmed across, and tight curves narrower, even without
	// V notches.
	Tips bool `yaml:"tips"`
	// Draw marks at valleys and points as long as the stitches that are taken across
	// them, which go by the weight of the cloth.
	Stitches bool `yaml:"stitch marks"`
}

// Trimming is the width to which the allowance is trimmed on each piece.
type Trimming struct {
	// On the garment.
	Garment Length `yaml:"garment"`
	// On the facing.
	Facing Length `yaml:"facing"`
}

// Size is one size of the style.
type Size struct {
	// Name is the size's key under sizes, empty when the style has one size.
	Name string
	// Panels are all panels of the style with this size's measures.
	Panels []Panel
}

// Output is what files are made, and how.
type Output struct {
	// Kinds of files: png pictures, hpgl for plotters and cutters, dxf and svg
	// drawings, pdf to print at home, astm, which is DXF for pattern systems after
	// ASTM D6673, and notes, a sheet that explains how the design is cut and sewn, as
	// Markdown and HTML.
	Formats []string `yaml:"formats" enum:"png,hpgl,dxf,svg,pdf,astm,notes" max:"7"`
	// What PDF files are printed on: paper that is put together, a sheet of the
	// drawing's own size, or a roll of a width in mm or with its unit, such as roll
	// 914 or roll 36in. Each has a file.
	Paper []Paper `yaml:"paper" enum:"a4,letter,a3,tabloid,sheet" max:"10"`
	// Unfold pieces that are cut on the fold.
	Unfold bool `yaml:"unfold"`
	// Make cards as well, to mark the motifs by hand, in files of their own in the
	// same formats but pattern data.
	Template bool `yaml:"template"`
	// Longest side of a picture in pixels.
	Picture int `yaml:"picture" min:"640" max:"6400"`
	// The plotter or cutter that reads HPGL files.
	Plotter Plotter `yaml:"plotter"`
	// How drawings in DXF are written.
	DXF DXF `yaml:"dxf"`
	// How pattern data are written.
	ASTM ASTM `yaml:"astm"`
	// What the square of 150 mm of a calibration file measures when a machine has made
	// it, by the kind of file that the machine reads. Files of that kind are then
	// stretched to come out right.
	Measured Measured `yaml:"measured"`
}

// Paper is what PDF files are printed on.
type Paper struct {
	// Name is the word that stands in the file.
	Name string
	// Roll is the width of a roll, 0 for other paper.
	Roll Length
}

// DXF is how drawings in DXF are written.
type DXF struct {
	// The release of the form: r12 is read by everything, r2000 says its unit.
	Release string `yaml:"release" enum:"r12,r2000"`
	// Arcs, or lines alone for machines that read no arcs.
	Arcs *bool `yaml:"arcs"`
	// How far lines may be from an arc that they stand for.
	ChordError Length `yaml:"chord error" rule:"positive"`
	// Lettering as text, or in strokes for machines that have no letters.
	Lettering string `yaml:"lettering" enum:"text,strokes"`
}

// ASTM is how pattern data are written.
type ASTM struct {
	// The unit of the file: metric is mm, english is inches.
	Units string `yaml:"units" enum:"metric,english"`
	// Add dense curves by which an importer can check what it makes of the outlines.
	CheckCurves bool `yaml:"check curves"`
}

// Measured is what the calibration square measures, for each kind of file as [across,
// up].
type Measured struct {
	// By the plotter or cutter that reads HPGL files.
	HPGL Point `yaml:"hpgl"`
	// By the machine that reads drawings in DXF. Pattern data are never stretched.
	DXF Point `yaml:"dxf"`
	// By the machine that reads SVG files.
	SVG Point `yaml:"svg"`
	// By the printer that prints PDF files.
	PDF Point `yaml:"pdf"`
}

// Plotter is the device that reads HPGL files. What is left out is as usual for its
// kind.
type Plotter struct {
	// What the device is. A pen plotter has a carousel of pens; a roll plotter draws
	// with one pen on a roll that is fed along x; a flatbed knife cuts; a printer
	// takes HP-GL/2 inside of PCL.
	Kind string `yaml:"kind" enum:"pen plotter,roll plotter,flatbed knife,printer"`
	// What the device holds. A knife gets no lettering and no inner lines.
	Tool string `yaml:"tool" enum:"pen,knife"`
	// Coordinates that the device takes: portable ones reach 819 mm from the origin
	// and suit every device, wide ones are for devices that take HP-GL/2.
	Range string `yaml:"range" enum:"portable,wide"`
	// Where the device has its origin: in the lower left corner of what it reaches, or
	// in the centre.
	Origin string `yaml:"origin" enum:"corner,centre"`
	// How far the device reaches along x. Pieces that do not fit are drawn in frames
	// that are joined by register marks. Left out, it is as far as the coordinates go.
	Width Length `yaml:"width" rule:"positive"`
	// How far it reaches along y; of a roll plotter, the width of its roll.
	Height Length `yaml:"height" rule:"positive"`
	// Length of one step of the device.
	Step Length `yaml:"step" rule:"positive"`
	// Pen or tool numbers by what they draw, where they differ from the usual ones; 0
	// leaves a kind of line out.
	Pens map[string]int `yaml:"pens" keys:"cut,stitch,fold,grain,notch,clip,mark,internal,inner,text" max:"255"`
	// Pens in the order in which they are taken up. Others come after them.
	Order []int `yaml:"order" min:"1" max:"255"`
	// Send arcs as arcs. Otherwise they become chords.
	Arcs *bool `yaml:"arcs"`
	// How far chords may be from their arc.
	ChordError Length `yaml:"chord error" rule:"positive"`
	// Lettering in strokes that look the same everywhere, in the device's own letters,
	// or none.
	Lettering string `yaml:"lettering" enum:"strokes,device,none"`
	// Draw stitching, folds and inner edges in the device's dashes.
	LineTypes *bool `yaml:"line types"`
	// Speed in cm/s, which is not sent when it is left out.
	Speed int `yaml:"speed" rule:"positive" max:"500"`
	// Force in the device's own numbers, which is not sent when it is left out.
	Force int `yaml:"force" rule:"positive" max:"10000"`
	// Feed the page when the plot is done.
	PageEnd *bool `yaml:"page end"`
	// Wrap the plot in PCL, for printers.
	PCL *bool `yaml:"pcl"`
	// Characters in a line of the file at most.
	LineLength int `yaml:"line length" min:"35" max:"100000"`
	// Points in one command at most.
	Points int `yaml:"points" rule:"positive" max:"100000"`
	// How a knife cuts.
	Cutting Cutting `yaml:"cutting"`
}

// Cutting is how a knife cuts.
type Cutting struct {
	// Notches as slits or as a V that is cut out.
	Notches string `yaml:"notches" enum:"slit,v"`
	// How far a closed line is cut on past its start, so that it comes free.
	Overcut Length `yaml:"overcut"`
	// How far before a line the knife is let down, to turn into its direction.
	LeadIn Length `yaml:"lead in"`
	// Distance of a trailing blade's tip behind its pivot, if the machine does not
	// make up for it by itself. Most do, and doing it twice spoils every corner.
	Blade Length `yaml:"blade offset"`
	// The turn at a corner from which the blade is swivelled.
	Swivel Degrees `yaml:"swivel from" rule:"positive"`
	// Cut marks and notches of all pieces before their outlines, where the way is
	// shorter. Otherwise a piece is finished before the next.
	Together bool `yaml:"together"`
}

// Seam joins two sides at the hem.
type Seam struct{ A, B Side }

// Side is a side of a panel: End is start or finish.
type Side struct{ Panel, End string }
