package dxf

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"time"

	"engrail/motif/path"
	"engrail/plot"
)

// Flavour is a kind of DXF file.
type Flavour uint8

// The flavours; the package comment describes them.
const (
	Plain Flavour = iota
	Exchange
)

// Release is a release of the format.
type Release uint8

// The releases of the plain flavour.
const (
	// R12 is release 12 (AC1009), with lines as POLYLINE and VERTEX.
	R12 Release = iota
	// R2000 is release 2000 (AC1015), with lines as LWPOLYLINE, and all that
	// strict readers look for in a file.
	R2000
)

// Options say how a drawing is written. The zero value is the plain flavour
// with exact arcs.
type Options struct {
	Flavour Flavour
	// ChordError is the largest distance in mm between an arc and its chords.
	// When it is 0 the plain flavour keeps arcs, or with Lines takes [LinesError],
	// and the exchange flavour takes [ChordError].
	ChordError float64

	// What follows is for the plain flavour; pattern data are release 12 and have
	// chords and texts.

	// Lines draws chords for arcs, for machines that do not read bulges.
	Lines bool
	// Release is the release of the format.
	Release Release
	// Strokes, when it is not nil, draws lettering: it returns the strokes of
	// a text, in mm in the drawing. They go to the layer of the texts, and Read
	// makes the text of them again. A text for which it returns none stays one.
	Strokes func(plot.Text) []path.Path
	// SizeLayers gives each size layers of its own, such as
	// 38-CUT, for a drawing of several sizes.
	SizeLayers bool

	// What follows is for the exchange flavour.

	// Units are those of the file and of its rule table; what the options say stays
	// in mm.
	Units Units
	// Author is vendor, application and release, with semicolons between them.
	Author string
	// Created is when the style was made; nothing is said of it when it is zero,
	// so that the same drawing gives the same bytes.
	Created time.Time
	// SampleSize is the base size, the first piece's when it is empty.
	SampleSize string
	// CutClips makes clips slit notches that are cut with the piece.
	CutClips bool
	// CheckCurves draws the curves of layers 1, 8, 11 and 14 once more on layers 84
	// to 87, as chords within the default [ChordError], for programs that lay
	// curves of their own through the points of layers 2 and 3 and compare. It is
	// of use with a larger chord error, and not to be had with a rule table.
	CheckCurves bool
	// RuleTable, when it is not empty, is the name of the grade rule table that
	// the file asks for. Each piece is then written once, in the sample size, with
	// grade points that make the other sizes, and [WriteRules] writes the table.
	// The sizes of a piece should lie on one another as they grade, not side by
	// side, for the ways between them become the rules.
	// The chord error is then [GradedChordError] when none is set. Points are off
	// their places in the other sizes by up to half as much again, but 0.012 mm at
	// least: with the default nothing is more than 0.02 mm from the design. Large
	// steps on a curve take many grade points; a larger chord error takes fewer.
	RuleTable string
}

// Write writes the drawing as a DXF file, all of it or, after an error,
// nothing.
//
// Groups inside a group are part of it unless they are pieces of their own.
// Lines without vertices are left out; a line of one vertex is a point. Line
// IDs, labels and classes, and IDs of texts, are not kept. In the plain flavour
// a drawing without lines and texts is a file without entities.
//
// The exchange flavour keeps of each group the texts, the lines but those of
// signs, and the facts but the notes, and needs of each a closed cut line; all
// pieces belong to one style. Of closed cut lines the one that encloses most is
// the piece's. It alone keeps the shapes and widths of notches.
//
// The error names the piece and says what cannot be written.
func Write(w io.Writer, d plot.Drawing, o Options) error {
	pieces, o, err := prepare(d, o)
	if err != nil {
		return err
	}
	size := 4096
	for _, p := range pieces {
		size += p.size(o)
	}
	e := &encoder{decimals: plainDecimals, unit: 1}
	if b, ok := w.(interface{ AvailableBuffer() []byte }); ok {
		e.buf = b.AvailableBuffer() // of a buffer that is used again
	}
	e.buf = slices.Grow(e.buf, min(size, maxBytes))
	if o.Flavour == Exchange {
		e.decimals, e.unit = o.Units.decimals(), o.Units.mm()
		if err := e.exchange(d.Title, pieces, o); err != nil {
			return err
		}
	} else {
		e.plain(d, pieces, o)
	}
	_, err = w.Write(e.buf)
	return err
}

// prepare returns the drawing's pieces, checked, and the options with a chord
// error where there must be one.
func prepare(d plot.Drawing, o Options) ([]piece, Options, error) {
	if e := o.ChordError; e != 0 && !(e >= minChordError && e <= maxChordError) {
		return nil, o, fmt.Errorf("dxf: the chord error of %g mm is not between %g and %g mm", e, minChordError, maxChordError)
	}
	if o.Units > English {
		return nil, o, fmt.Errorf("dxf: there are no units %d: choose metric or English ones", o.Units)
	}
	if o.CheckCurves && o.Flavour == Exchange && o.RuleTable != "" {
		return nil, o, fmt.Errorf("dxf: check curves cannot be graded by the rule table %q: leave them out, or write a block for each size", o.RuleTable)
	}
	if n := len(spell(fact(keyTitle, d.Title))); o.Flavour == Plain && n > maxText {
		return nil, o, fmt.Errorf("dxf: the drawing's title has %d characters with its key, and a DXF text holds %d: shorten it", n, maxText)
	}
	if o.Flavour == Exchange && o.ChordError == 0 {
		o.ChordError = ChordError
		if o.RuleTable != "" {
			o.ChordError = GradedChordError
		}
	}
	if o.Flavour == Plain && o.Lines && o.ChordError == 0 {
		o.ChordError = LinesError
	}
	if o.Release > R2000 {
		return nil, o, fmt.Errorf("dxf: there is no release %d: choose release 12 or 2000", o.Release)
	}
	pieces := piecesOf(d)
	for _, p := range pieces {
		if err := p.check(); err != nil {
			return nil, o, err
		}
	}
	if o.Flavour == Plain && o.Strokes != nil {
		for i := range pieces {
			if err := pieces[i].stroke(o.Strokes); err != nil {
				return nil, o, err
			}
		}
	}
	return pieces, o, nil
}

// piece is a group with the groups inside it laid into it.
type piece struct {
	plot.Group
	name string // for messages
	// strokes are those of each text, nil when texts are not drawn.
	strokes [][]path.Path
	// Of a piece that is graded: which vertices of its lines, which are straight,
	// are turn points, and its grade points.
	turns  [][]bool
	grades []grade
}

// piecesOf returns the drawing's groups and the pieces inside them, without
// those that hold nothing.
func piecesOf(d plot.Drawing) []piece {
	var pieces []piece
	var add func(g plot.Group, into int)
	add = func(g plot.Group, into int) {
		if into < 0 || g.Piece != nil {
			into = len(pieces)
			pieces = append(pieces, piece{
				Group: plot.Group{ID: g.ID, Label: g.Label, Piece: g.Piece},
				name:  cmp.Or(g.Name(), "group "+strconv.Itoa(into+1)),
			})
		}
		p := &pieces[into]
		for _, l := range g.Lines {
			if len(l.Path.V) > 0 {
				p.Lines = append(p.Lines, l)
			}
		}
		for _, t := range g.Texts {
			if t.String != "" {
				p.Texts = append(p.Texts, t)
			}
		}
		for _, in := range g.Groups {
			add(in, into)
		}
	}
	for _, g := range d.Groups {
		add(g, -1)
	}
	kept := pieces[:0]
	for _, p := range pieces {
		if len(p.Lines)+len(p.Texts) > 0 {
			kept = append(kept, p)
		}
	}
	return kept
}

// check returns an error for what cannot be written in either flavour.
func (p piece) check() error {
	for i, l := range p.Lines {
		if l.Role > plot.Internal {
			return fmt.Errorf("dxf: %s: line %d has no role that is known", p.name, i+1)
		}
		if err := checkPath(l.Path); err != nil {
			return fmt.Errorf("dxf: %s: %s line %d %w", p.name, l.Role, i+1, err)
		}
		if !(l.Width >= 0 && l.Width <= maxCoordinate) {
			return fmt.Errorf("dxf: %s: notch %d is %g mm wide", p.name, i+1, l.Width)
		}
	}
	for i, t := range p.Texts {
		if !(math.Abs(t.At.X) <= maxCoordinate && math.Abs(t.At.Y) <= maxCoordinate && math.Abs(t.Angle) <= maxCoordinate) {
			return fmt.Errorf("dxf: %s: text %d, %q, has a place or angle that is not a number, or too large a one", p.name, i+1, t.String)
		}
		if !(t.Height >= minTextHeight && t.Height <= maxTextHeight) {
			return fmt.Errorf("dxf: %s: text %d, %q, is %g mm high, not between %g and %.0f mm",
				p.name, i+1, t.String, t.Height, minTextHeight, maxTextHeight)
		}
		if n := len(spell(t.String)); n > maxText {
			return fmt.Errorf("dxf: %s: text %d has %d characters, and a DXF text holds %d: divide it", p.name, i+1, n, maxText)
		}
	}
	facts := []string{fact(keyGroup, p.ID), fact(keyLabel, p.Label)}
	if p.Piece != nil {
		facts = append(facts, pieceFacts(*p.Piece)...)
		facts = append(facts, fact(keyStyle, p.Piece.Style))
		for _, n := range p.Piece.Notes {
			facts = append(facts, fact(keyNote, n))
		}
	}
	for _, f := range facts {
		if n := len(spell(f)); n > maxText {
			return fmt.Errorf("dxf: %s: %q has %d characters, and a DXF text holds %d: shorten it", p.name, f, n, maxText)
		}
	}
	return nil
}

// checkPath returns an error for a path that cannot be written.
func checkPath(p path.Path) error {
	if !p.Finite() {
		return errors.New("has a coordinate that is not a number")
	}
	for _, v := range p.V {
		if math.Abs(v.Bulge) > maxBulge {
			return fmt.Errorf("has an arc at (%.1f, %.1f) mm that is too nearly a full turn: divide it", v.X, v.Y)
		}
	}
	b := p.Bounds()
	if r := max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y); !(r <= maxCoordinate) {
		return fmt.Errorf("reaches %.0f mm from the origin, and no more than %.0f mm are written: check its scale", r, maxCoordinate)
	}
	return nil
}

// stroke finds the strokes of the piece's texts.
func (p *piece) stroke(strokes func(plot.Text) []path.Path) error {
	p.strokes = make([][]path.Path, len(p.Texts))
	for i, t := range p.Texts {
		for k, s := range strokes(t) {
			if len(s.V) == 0 {
				continue
			}
			if err := checkPath(s); err != nil {
				return fmt.Errorf("dxf: %s: text %d, %q: stroke %d %w", p.name, i+1, t.String, k+1, err)
			}
			p.strokes[i] = append(p.strokes[i], s)
		}
	}
	return nil
}

// strokesOf returns the strokes of a text, none when it is not drawn.
func (p piece) strokesOf(text int) []path.Path {
	if p.strokes == nil {
		return nil
	}
	return p.strokes[text]
}

// size guesses how many bytes the piece takes. An arc that rises by h over its
// chord becomes about sqrt(h/e) chords within e.
func (p piece) size(o Options) int {
	n := 500 + 150*len(p.Texts)
	room := func(line path.Path) {
		n += 150
		points := 0.0
		for i := range line.Segments() {
			s := line.Segment(i)
			points++
			if o.ChordError > 0 && s.Bulge != 0 {
				points += math.Sqrt(math.Abs(s.Bulge) * s.Chord().Len() / 2 / o.ChordError)
			}
		}
		n = min(n+int(80*points), maxBytes)
	}
	for _, l := range p.Lines {
		room(l.Path)
	}
	for _, strokes := range p.strokes {
		for _, s := range strokes {
			room(s)
		}
	}
	return n
}

// chords returns the path with chords for its arcs.
func chords(p path.Path, chordError float64) path.Path {
	points := p.Flatten(chordError)
	if p.Closed {
		return path.Closed(points...)
	}
	return path.Open(points...)
}
