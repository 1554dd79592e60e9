package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot"
)

// study is a piece with what is known of its edges: the one that Take makes a
// panel of and Inspect reports.
type study struct {
	piece
	// stitch is the stitching line where it is drawn inside of the cut line: the
	// edges are then its edges.
	stitch path.Path
	// edges are the hem first, once it is known.
	edges []edge
	// turn is the angle by which the piece has to turn to have its hem below.
	turn float64
	// finish is the edge beside the hem's finish; that beside its start is the
	// last one.
	finish int
	fold   int // the edge on the fold, -1 without one
	// hemReason and foldReason say why the edges are the ones that are meant.
	hemReason, foldReason string
}

// outlined finds what belongs to the piece with the outline, and cleans that.
func (t *taking) outlined(s *scene, c chain) (study, error) {
	st := study{piece: s.gather(c), finish: 1, fold: -1}
	st.fillNotches()
	if x := st.outline.SelfIntersections(); len(x) > 0 {
		return st, t.sel.errorf("draw it so that it nowhere meets itself; a notch is a line of its own",
			"the outline crosses or touches itself at %s", at(x[0].Point))
	}
	st.outline = smoothed(st.outline)
	if t.sel.Includes == nil {
		if line, ok := st.stitching(); ok {
			st.stitch = smoothed(line)
		}
	}
	return st, nil
}

// cornered cuts the stitching line, or the outline without one, into edges.
func (t *taking) cornered(st *study) error {
	least := t.sel.Corner
	if least == 0 {
		least = DefaultCorner
	}
	line, what := st.outline, "outline"
	if st.stitch.V != nil {
		line, what = st.stitch, "stitching line"
	}
	st.edges = split(line, least)
	if len(st.edges) < 3 {
		return t.sel.errorf("draw the corners where the hem ends sharper, or write `hem: all round` under `piece:` for one without ends",
			"the %s has %s of %.0f degrees or more, and a hem between two sides takes 3", what, count(len(st.edges), "corner"), degrees(least))
	}
	if st.stitch.V != nil {
		t.pair(st)
	}
	return nil
}

// hem finds the hem and puts it first. When it has several runs and the
// selection does not say which is meant, the first of them is put first, and the
// error tells them apart.
func (t *taking) hem(st *study) error {
	sel := t.sel
	turns := st.turns()
	hem, runs := -1, []int(nil)
	var err error
	switch {
	case sel.Hem != "" && !strings.EqualFold(sel.Hem, "lowest"):
		reach := onLine
		if w := sel.Includes; w != nil {
			reach += w.Hem // the line may be the hem's stitching line
		}
		if hem, err = st.namedEdge(sel, "hem", sel.Hem, st.edges, reach); err != nil {
			return err
		}
		st.hemReason = fmt.Sprintf("named as %q", sel.Hem)
	case sel.Hem == "":
		if marked := st.worded(st.edges, "hem"); len(marked) > 0 {
			st.hemReason = "a line with the word hem runs along it"
			hem, runs = marked[0], marked
		}
	}
	if hem >= 0 {
		// The piece stands as drawn when its hem then lies below.
		for _, turn := range append([]float64{0}, turns...) {
			if low := below(st.edges, turn, sel.cutOff()); slices.Contains(low, hem) {
				st.turn = turn
				if runs == nil {
					runs = low
				}
				break
			}
		}
	} else {
		st.hemReason = "the lowest edge"
		if runs, err = t.lowest(st, turns); err != nil {
			return err
		}
		hem = runs[0]
	}
	for _, i := range runs {
		st.edges[i].run = true
	}
	several := len(runs) > 1 && (sel.Hem == "" || strings.EqualFold(sel.Hem, "lowest"))
	if several {
		err = t.severalRuns(st, runs)
		// The leftmost of them first.
		left := func(i int) float64 { return st.edges[i].path.Start().Sub(path.Point{}).Dot(path.Direction(-st.turn)) }
		hem = slices.MinFunc(runs, func(i, j int) int {
			if left(i) < left(j) {
				return -1
			}
			return 1
		})
	}
	st.edges = slices.Concat(st.edges[hem:], st.edges[:hem])
	if several {
		for i, e := range st.edges {
			if e.run {
				st.finish = min(i+1, len(st.edges)-1)
			}
		}
	}
	return err
}

// severalRuns is the error for a hem that a corner divides.
func (t *taking) severalRuns(st *study, runs []int) error {
	slices.Sort(runs)
	numbers := make([]string, len(runs))
	for i, r := range runs {
		numbers[i] = fmt.Sprintf("#%d", st.edges[r].number)
	}
	last := len(numbers) - 1
	all := strings.Join(numbers[:last], ", ") + " and " + numbers[last]
	how := "all lie"
	if len(runs) == 2 {
		how = "both lie"
	}
	return t.sel.errorf(fmt.Sprintf("draw the hem without a corner, or list all its edges, such as `hem: [\"#%d\", \"#%d\"]`, or ", st.edges[runs[0]].number, st.edges[runs[1]].number)+choose("hem", st.edges),
		"the hem was not found: the edges %s %s below the piece, with a corner between them at %s",
		all, how, at(between(st.edges, runs[0], runs[1])))
}

// below returns the edges that bound the piece from below when it is turned:
// the lowest one, and in the order of the outline those that begin no higher than
// it ends, and so on: the runs of the hem. A sloping edge no longer than cutOff is
// none of them.
func below(edges []edge, turn, cutOff float64) []int {
	boxes := make([]path.Box, len(edges))
	var all []int
	for i, e := range edges {
		p := e.path
		if turn != 0 {
			p = p.Transform(path.Rotation(path.Point{}, turn))
		}
		// An edge with the piece above it runs to the right.
		c := p.End().Sub(p.Start())
		if math.Abs(c.Y) > slope*c.X && p.Length() <= cutOff {
			continue
		}
		if c.X > 0 && math.Abs(c.Y) <= c.X {
			all = append(all, i)
			boxes[i] = p.Bounds()
		}
	}
	slices.SortStableFunc(all, func(i, j int) int {
		switch a, b := boxes[i].Min.Y, boxes[j].Min.Y; {
		case a < b:
			return -1
		case a > b:
			return 1
		}
		return 0
	})
	for n, i := range all {
		if n > 0 && boxes[i].Min.Y > boxes[all[0]].Max.Y {
			return all[:n]
		}
		if n > 0 {
			boxes[all[0]].Max.Y = max(boxes[all[0]].Max.Y, boxes[i].Max.Y)
		}
	}
	return all
}

// cutOff is how long an edge may be that only cuts off the corner of the
// allowances.
func (s *Selection) cutOff() float64 {
	if s.Includes == nil {
		return 0
	}
	return 1.5 * (s.Includes.Hem + max(s.Includes.Start, s.Includes.Finish))
}

// lowest returns the edges that bound the piece from below as it stands on its
// grain, and notes how it has to turn for that.
func (t *taking) lowest(st *study, turns []float64) ([]int, error) {
	var best, second []int
	var most, next float64
	for _, turn := range turns {
		runs := below(st.edges, turn, t.sel.cutOff())
		length := 0.0
		for _, i := range runs {
			length += st.edges[i].path.Length()
		}
		switch {
		case length > most:
			best, second, most, next, st.turn = runs, best, length, most, turn
		case length > next:
			second, next = runs, length
		}
	}
	switch {
	case best == nil:
		return nil, t.sel.errorf(choose("hem", st.edges), "the hem was not found: no edge lies below the piece from side to side")
	case second != nil && next > clearlyLonger*most:
		return nil, t.sel.errorf(choose("hem", st.edges),
			"the hem was not found: the grain line lies level, and with the piece turned to stand on it, the edges #%d and #%d could both be the hem",
			min(st.edges[best[0]].number, st.edges[second[0]].number), max(st.edges[best[0]].number, st.edges[second[0]].number))
	}
	if st.turn != 0 {
		st.hemReason = "the lowest edge when the piece stands on its grain line"
	}
	return best, nil
}

// turns returns the angles by which the piece may have to turn to stand on its
// grain: none for a piece that stands on it, or that is cut on the bias.
func (p piece) turns() []float64 {
	g := p.grain()
	if g < 0 {
		return []float64{0}
	}
	lean := math.Remainder(longest(p.lines[g].Path).Chord().Angle()-math.Pi/2, math.Pi)
	switch off := math.Abs(lean); {
	case off <= mostLean, math.Abs(off-math.Pi/4) <= biasSlack:
		return []float64{0}
	case off <= lying:
		return []float64{-lean}
	}
	return []float64{-lean, math.Remainder(math.Pi-lean, 2*math.Pi)}
}

// worded returns the edges that lines with the word run along. A line that runs
// along most edges names none of them.
func (p piece) worded(edges []edge, word string) []int {
	var all []int
	for _, m := range slices.Concat(p.parts, p.lines) {
		if !hasWords(m.words, word) || hasWords(m.words, "fold") || m.Path.Segments() == 0 {
			continue
		}
		hit := alongside(m.Path, edges, onLine)
		if len(hit) > max(1, len(edges)/2) {
			continue
		}
		for _, i := range hit {
			if !slices.Contains(all, i) {
				all = append(all, i)
			}
		}
	}
	slices.Sort(all)
	return all
}

// onFold finds the edge on the fold; the hem is edge 0.
func (t *taking) onFold(st *study) error {
	sel := t.sel
	last := len(st.edges) - 1
	st.fold = -1
	named := func(i int) { st.fold, st.foldReason = i, fmt.Sprintf("named as %q", sel.Fold) }
	switch strings.ToLower(sel.Fold) {
	case "none":
		return nil
	case "left":
		named(last)
	case "right":
		named(st.finish)
	case "":
		if err := st.markedFold(sel); err != nil {
			return err
		}
	default:
		i, err := st.namedEdge(sel, "fold", sel.Fold, st.edges, onLine)
		if err != nil {
			return err
		}
		if !st.mayFold(i) {
			return sel.errorf("say `fold: left` or `fold: right` under `piece:`, or name a line along one of the sides", "the fold %q is edge #%d, which is not one of the two sides that the hem ends on", sel.Fold, st.edges[i].number)
		}
		named(i)
	}
	if st.fold < 0 {
		return nil
	}
	e, err := straightened(sel, st.edges[st.fold])
	st.edges[st.fold] = e
	return err
}

// mayFold reports whether the edge can be the one on the fold: a side of the
// hem, or of one of its other runs.
func (st *study) mayFold(i int) bool {
	n := len(st.edges)
	return i == st.finish || i == n-1 ||
		i > 0 && (st.edges[(i+1)%n].run || st.edges[i-1].run) && !st.edges[i].run
}

// markedFold looks for a side that a line with the word fold runs along, or that
// is the only straight one of a piece that is said to lie on the fold.
func (st *study) markedFold(sel *Selection) error {
	const which = "say which it is with `fold: left`, `fold: right` or `fold: none` under `piece:`"
	for _, m := range slices.Concat(st.parts, st.lines) {
		if !strings.Contains(m.words, "fold") || m.Path.Segments() == 0 {
			continue
		}
		hit := alongside(m.Path, st.edges, onLine)
		if len(hit) != 1 || !st.mayFold(hit[0]) {
			continue
		}
		if st.fold >= 0 && st.fold != hit[0] {
			st.fold = -1
			return sel.errorf(which, "lines for a fold run along both sides of the hem")
		}
		st.fold, st.foldReason = hit[0], "a line with the word fold runs along it"
		if m.Role == plot.Fold {
			st.foldReason = "the mirror line runs along it"
		}
	}
	if st.fold >= 0 {
		return nil
	}
	says := ""
	for _, n := range st.notes {
		text := strings.ToLower(n.String)
		if hasWords(text, "on fold") || hasWords(text, "on the fold") {
			says = fmt.Sprintf("the text %q", n.String)
			break
		}
	}
	if says == "" && st.known.OnFold {
		says = "the piece's data"
	}
	if says == "" {
		return nil
	}
	for _, i := range []int{st.finish, len(st.edges) - 1} {
		if bend(st.edges[i].path) > Straight {
			continue
		}
		if st.fold >= 0 {
			st.fold = -1
			break
		}
		st.fold, st.foldReason = i, "the only straight side, and "+says+" says that the piece lies on the fold"
	}
	if st.fold < 0 {
		return sel.errorf(which, "%s says that the piece lies on the fold, but no line along a side says which edge does", says)
	}
	return nil
}

// bend returns how far the path leaves its chord.
func bend(p path.Path) float64 {
	a := p.Start()
	level := p.Transform(path.Rotation(a, -p.End().Sub(a).Angle())).Bounds()
	return max(level.Max.Y-a.Y, a.Y-level.Min.Y)
}

// centreWords are what a side in the middle of the body is called.
func centreWords() []string {
	return []string{"centre back", "center back", "centre front", "center front", "cb", "cf"}
}

// sideRole returns what the edge beside the hem is, as far as lines along it say,
// and why.
func (st *study) sideRole(i int) (fit.Role, string) {
	for _, word := range []string{"opening", "vent", "slit"} {
		if slices.Contains(st.worded(st.edges, word), i) {
			return fit.OpeningEdge, "a line with the word " + word + " runs along it"
		}
	}
	for _, word := range append(centreWords(), "side seam", "side", "seam") {
		if slices.Contains(st.worded(st.edges, word), i) {
			return fit.SeamEdge, "a line with the words " + word + " runs along it"
		}
	}
	return fit.SeamEdge, ""
}
