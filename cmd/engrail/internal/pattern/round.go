package pattern

import (
	"slices"

	"engrail/fit"
	"engrail/motif/path"
)

// allRound names a hem that is the whole outline.
const allRound = "all round"

// round makes the panel of a piece whose hem goes all round.
func (t *taking) round(st *study) (fit.Panel, error) {
	sel := t.sel
	none := fit.Panel{}
	if len(sel.More) > 0 {
		return none, sel.errorf("leave out the others", "the hem goes all round, and there is no edge more that it could go on along")
	}
	line, width := st.outline, 0.0
	if st.stitch.V != nil {
		line = st.stitch
		// The allowance is the same all round, or else nothing that can be kept.
		cut := path.NewRuler(st.outline)
		for _, q := range along(line, 40) {
			_, d := cut.Nearest(q)
			width = max(width, d)
		}
	}
	drawn := width
	if sel.Includes != nil {
		drawn = sel.Includes.Hem
		parts, err := line.Offset(-drawn, path.Corner{Kind: path.Mitred})
		if err != nil || len(parts) != 1 || !parts[0].Closed {
			return none, sel.errorf(correctIncludes, "an allowance of %.1f mm cannot be taken off the outline: it is curved too strongly", drawn)
		}
		line = parts[0]
	}
	e := edge{path: line, own: line, number: 1, run: true}
	panel := fit.Panel{Name: sel.Panel, Quantity: max(1, t.quantity(st.piece)),
		Edges: []fit.Edge{{Name: "hem", Role: fit.HemEdge, Path: line, Allowance: sel.Allowance.Hem}}}
	t.marks(&panel, st.piece, []edge{e}, []float64{drawn})
	return panel, nil
}

// longer makes the edges that the hem goes on along part of it.
func (t *taking) longer(st *study) error {
	sel := t.sel
	if len(sel.More) == 0 {
		return nil
	}
	n := len(st.edges)
	in := []int{0}
	for _, name := range sel.More {
		reach := onLine
		if sel.Includes != nil {
			reach += sel.Includes.Hem
		}
		i, err := st.namedEdge(sel, "hem", name, st.edges, reach)
		if err != nil {
			return err
		}
		if slices.Contains(in, i) {
			return sel.errorf("name each edge once", "the hem names the edge #%d twice", st.edges[i].number)
		}
		in = append(in, i)
	}
	if len(in) > n-2 {
		return sel.errorf("write `hem: all round` where all of them are, or leave out those that are not the hem",
			"the hem has %d of the %d edges, which leaves no two sides for it to end on", len(in), n)
	}
	// The first of them is the one whose neighbour before is none of them.
	first := slices.IndexFunc(in, func(i int) bool { return !slices.Contains(in, (i+n-1)%n) })
	start := in[first]
	for k := range in {
		if !slices.Contains(in, (start+k)%n) {
			return sel.errorf(choose("hem", st.edges), "the edges of the hem do not follow one another: after #%d comes #%d, which is none of them",
				st.edges[(start+k+n-1)%n].number, st.edges[(start+k)%n].number)
		}
	}
	st.edges = slices.Concat(st.edges[start:], st.edges[:start])
	whole := st.edges[0]
	var paths, own, cut []path.Path
	for _, e := range st.edges[:len(in)] {
		paths, own, cut = append(paths, e.path), append(own, e.own), append(cut, e.cut)
		if e.measured != whole.measured || e.measured && e.width != whole.width {
			whole.measured, whole.width = false, 0
		}
	}
	whole.run = true
	whole.path, whole.own = path.Join(cornerSpan, paths...), path.Join(cornerSpan, own...)
	whole.cut = path.Path{}
	if whole.measured {
		whole.cut = path.Join(cornerSpan, cut...)
	}
	st.edges = append([]edge{whole}, st.edges[len(in):]...)
	for i := range st.edges[1:] {
		st.edges[i+1].run = false
	}
	st.finish = 1
	return nil
}
