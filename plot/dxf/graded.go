package dxf

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/internal/ascii"
)

// GradeError says why the sizes of a drawing cannot be written as one of them
// with grade rules. As a block for each size they can.
type GradeError struct{ Msg string }

func (e *GradeError) Error() string {
	return "dxf: " + e.Msg + ": write a block for each size"
}

func ungradable(format string, args ...any) error { return &GradeError{fmt.Sprintf(format, args...)} }

// WriteRules writes the grade rule table of a drawing, the .RUL file beside the
// one that [Write] makes with the same options, in which it must have a name.
//
// An error that [Write] has too is the same.
func WriteRules(w io.Writer, d plot.Drawing, o Options) error {
	if o.RuleTable == "" {
		return fmt.Errorf("dxf: the rule table has no name: set one in the options")
	}
	o.Flavour = Exchange
	pieces, o, err := prepare(d, o)
	if err != nil {
		return err
	}
	_, rules, err := gradePieces(pieces, o)
	if err != nil {
		return err
	}
	head := []string{standard, fact(ruleAuthor, o.Author)}
	if !o.Created.IsZero() {
		head = append(head, fact(ruleDate, o.Created.Format(dateLayout)), fact(ruleTime, o.Created.Format(timeLayout)))
	}
	_, err = w.Write(rules.text(head, o.Units))
	return err
}

// gradePieces returns each piece once, in the sample size with its grade
// points, and the rules by which they make the other sizes.
func gradePieces(pieces []piece, o Options) ([]piece, *Rules, error) {
	rules := &Rules{Table: o.RuleTable, UnitMM: 1, Sample: sampleOf(pieces, o), Deltas: map[int][]path.Vec{}}
	spelled := map[string]string{}
	var nests [][]piece // the sizes of a piece
	byName := map[string]int{}
	for _, p := range pieces {
		size := ""
		if p.Piece != nil {
			size = p.Piece.Size
		}
		if size != "" && !slices.Contains(rules.Sizes, size) {
			if strings.ContainsAny(size, ",;\t\r\n") || strings.TrimSpace(size) != size {
				return nil, nil, ungradable("size %q has a sign or a space that a size list cannot hold", size)
			}
			if other, ok := spelled[ascii.Fold(size)]; ok {
				return nil, nil, ungradable("sizes %q and %q are the same in ASCII", other, size)
			}
			spelled[ascii.Fold(size)] = size
			rules.Sizes = append(rules.Sizes, size)
		}
		i, ok := byName[p.pieceName()]
		if !ok || p.Piece == nil { // what is no piece has no sizes
			i = len(nests)
			nests = append(nests, nil)
		}
		if p.Piece != nil {
			byName[p.pieceName()] = i
		}
		nests[i] = append(nests[i], p)
	}
	switch {
	case len(rules.Sizes) < 2:
		return nil, nil, ungradable("the drawing has no second size")
	case len(rules.Sizes) > maxSizes:
		return nil, nil, ungradable("the drawing has %d sizes, and a rule table up to %d", len(rules.Sizes), maxSizes)
	}
	if rules.sample() < 0 {
		return nil, nil, fmt.Errorf("dxf: the sample size %q is not in the drawing, which has %s", rules.Sample, strings.Join(rules.Sizes, ", "))
	}
	t := grading{rules: rules, numbers: map[string]int{}, options: o}
	graded := make([]piece, len(nests))
	for i, nest := range nests {
		var err error
		if graded[i], err = t.piece(nest); err != nil {
			return nil, nil, err
		}
	}
	if len(rules.Deltas) == 0 && len(graded) > 0 {
		// A table has a rule at least: one that does not move.
		p := &graded[0]
		at := p.Lines[0].Path.Start()
		p.grades = append(p.grades, grade{at, t.number(make([]path.Vec, len(rules.Sizes)))})
	}
	return graded, rules, nil
}

// grading makes rules of the moves of grade points.
type grading struct {
	rules   *Rules
	numbers map[string]int // of the rules, by their deltas
	options Options
}

// grade is a grade point of a piece with the number of its rule.
type grade struct {
	at   path.Point
	rule int
}

// number returns the number of the rule with the deltas.
func (t *grading) number(deltas []path.Vec) int {
	var key []byte
	step := t.options.Units.step()
	for _, d := range deltas {
		key = binary.BigEndian.AppendUint64(key, uint64(math.Round(d.X/step)))
		key = binary.BigEndian.AppendUint64(key, uint64(math.Round(d.Y/step)))
	}
	n, ok := t.numbers[string(key)]
	if !ok {
		n = len(t.numbers) + 1
		t.numbers[string(key)] = n
		t.rules.Deltas[n] = deltas
	}
	return n
}

// nested is a piece in all sizes.
type nested struct {
	base   piece
	sizes  []string
	base0  int            // which of the sizes the base is
	lines  []nestedLine   // the outline first
	texts  [][]path.Point // by their sizes
	within float64        // how far a point may be from its place
	units  Units
	// cutClips says that clips are written as notches are.
	cutClips bool
}

// nestedLine is a line of the base, made of straight lines between the points
// that are written, and where its vertices are in each size.
type nestedLine struct {
	plot.Line
	turns []bool
	at    [][]path.Point
}

// piece returns the piece of a nest of sizes with its grade points.
func (t *grading) piece(nest []piece) (piece, error) {
	n := nested{
		sizes: t.rules.Sizes, base0: t.rules.sample(), within: max(gradeError, pointsToChords*t.options.ChordError),
		units: t.options.Units, cutClips: t.options.CutClips,
	}
	all := make([]piece, len(n.sizes))
	found := 0
	for _, p := range nest {
		i := -1
		if p.Piece != nil {
			i = slices.Index(n.sizes, p.Piece.Size)
		}
		switch {
		case i < 0 && len(nest) == 1: // it has no size, and is the same in all
			for i := range all {
				all[i] = p
			}
			found = len(all)
		case i < 0:
			return piece{}, ungradable("%s is there with a size and without one", p.name)
		case all[i].name != "":
			return piece{}, ungradable("%s is there twice", p.name)
		default:
			all[i] = p
			found++
		}
	}
	if found < len(all) {
		i := slices.IndexFunc(all, func(p piece) bool { return p.name == "" })
		return piece{}, ungradable("piece %q has no size %s, which others have", nest[0].pieceName(), n.sizes[i])
	}
	n.base = all[n.base0]
	if err := n.match(all, t.options.ChordError); err != nil {
		return piece{}, err
	}
	points, err := n.gradePoints()
	if err != nil {
		return piece{}, err
	}
	out := piece{Group: n.base.Group, name: n.base.name}
	if out.Piece != nil {
		sizeless := *out.Piece
		sizeless.Size = ""
		out.Piece = &sizeless
	}
	out.Lines = nil
	for _, l := range n.lines {
		out.Lines = append(out.Lines, l.Line)
		out.turns = append(out.turns, l.turns)
	}
	for _, q := range points {
		if slices.ContainsFunc(q.moves, func(v path.Vec) bool { return max(math.Abs(v.X), math.Abs(v.Y)) > maxDelta }) {
			return piece{}, ungradable("the sizes of %s lie more than %g mm apart", n.base.name, maxDelta)
		}
		out.grades = append(out.grades, grade{q.at, t.number(q.moves)})
	}
	return out, nil
}
