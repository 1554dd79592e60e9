package marker_test

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"engrail/facing"
	"engrail/fit"
	"engrail/fit/fittest"
	"engrail/motif/path"
	"engrail/plot"
	"engrail/plot/marker"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// made returns the pieces of a random garment in one or two sizes, the second as large as
// the first: what differs between sizes is not what is tested here.
func made(t *rapid.T) []marker.Piece {
	r, err := fit.Fit(fittest.Garment(t), fittest.Spec(t))
	require.NoError(t, err)
	o := facing.Options{Depth: 45, Favour: 1, Hem: 6, ClipGap: 1.5, MarkEvery: 200, Style: "Test", Side: 10, Inner: 6}
	m, err := facing.Make(r, o)
	if err != nil {
		t.Skip(err)
	}
	var all []marker.Piece
	for i, size := range []string{"38", "40"}[:rapid.IntRange(1, 2).Draw(t, "sizes")] {
		for k, p := range append(m.Garments, m.Facings...) {
			if k > 0 && i > 0 && rapid.Bool().Draw(t, "left out") {
				continue
			}
			p.Size = size
			all = append(all, marker.FromPiece(p, "Test"))
		}
	}
	return all
}

// cloth draws a cloth that is wide enough for most garments.
func cloth(t *rapid.T) marker.Cloth {
	c := marker.Cloth{
		Width:     rapid.Float64Range(900, 2400).Draw(t, "width"),
		Selvage:   rapid.Float64Range(0, 20).Draw(t, "selvage"),
		Direction: marker.Direction(rapid.IntRange(0, 2).Draw(t, "direction")),
		Folded:    rapid.Bool().Draw(t, "folded"),
		Alike:     rapid.Bool().Draw(t, "alike"),
		Gap:       rapid.SampledFrom([]float64{0, 0.5, 3, 10}).Draw(t, "gap"),
		End:       rapid.Float64Range(0, 40).Draw(t, "end"),
	}
	if rapid.Bool().Draw(t, "tilted") {
		c.Tilt = rapid.Float64Range(0.001, 0.05).Draw(t, "tilt")
	}
	if rapid.Bool().Draw(t, "in sections") {
		c.Longest = rapid.Float64Range(1500, 4000).Draw(t, "longest")
	}
	return c
}

func order(t *rapid.T, pieces []marker.Piece) marker.Order {
	all := marker.Order{{Size: "38", Count: rapid.IntRange(1, 2).Draw(t, "garments of 38")}}
	if pieces[len(pieces)-1].Size == "40" {
		all = append(all, marker.Garments{Size: "40", Count: rapid.IntRange(1, 2).Draw(t, "garments of 40")})
	}
	return all
}

// laid draws a job that can be, and lays it in a moment.
func laid(t *rapid.T) (*marker.Job, *marker.Marker) {
	pieces := made(t)
	if rapid.Bool().Draw(t, "one is kept apart") {
		pieces[0].Apart = rapid.Float64Range(0, 40).Draw(t, "apart")
	}
	j, err := marker.New(pieces, order(t, pieces), cloth(t))
	if err != nil {
		var own *marker.Error
		require.ErrorAs(t, err, &own)
		require.NotEmpty(t, own.Remedy(), err)
		t.Skip(err)
	}
	m, err := j.Lay(context.Background(), marker.Options{Time: 40 * time.Millisecond, Seed: rapid.Uint64().Draw(t, "seed"), BySize: rapid.Bool().Draw(t, "by size")})
	require.NoError(t, err)
	return j, m
}

// spread returns the cut line of every outline where it lies in its section, as drawn, and
// the section's number.
func spread(m *marker.Marker) (lines []path.Path, section []int) {
	var from []float64
	at := 0.0
	for _, s := range m.Sections {
		from = append(from, at)
		at += s
	}
	for i, g := range m.Drawing("", nil).Groups[1:] {
		k := m.Places[i].Section
		lines = append(lines, g.Lines[0].Path.Transform(path.Translation(path.Vec{X: -from[k]})))
		section = append(section, k)
	}
	return lines, section
}

// Random garments are laid as they should be, whatever the search does: what is looked at
// is drawn, and counted from the pieces and not from the job.
func TestLayoutsOfRandomGarments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, m := laid(t)
		piecesKeepTheirGap(t, j, m)
		everyPieceIsThere(t, j, m)
		edgesLieOnTheFold(t, m)
		oneWayPiecesLieAllOneWay(t, j, m)
	})
}

// By the polygons of an independent library, of chords a micrometre from the lines,
// pieces are as far apart as they are to be, and on the cloth.
func piecesKeepTheirGap(t *rapid.T, j *marker.Job, m *marker.Marker) {
	const chord = 0.001
	c := j.Cloth
	lines, section := spread(m)
	polygons := make([]geom.Polygon, len(lines))
	boxes := make([]path.Box, len(lines))
	for i, l := range lines {
		var xy []float64
		for _, p := range l.Flatten(chord) {
			xy = append(xy, p.X, p.Y)
		}
		xy = append(xy, xy[0], xy[1])
		polygons[i] = geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))})
		require.NoError(t, polygons[i].Validate())
		boxes[i] = l.Bounds()
		require.GreaterOrEqual(t, boxes[i].Min.X, c.End-marker.Slack)
		require.LessOrEqual(t, boxes[i].Max.X, m.Sections[section[i]]-c.End+marker.Slack)
		low, high := c.Selvage, c.Width-c.Selvage
		if c.Folded {
			low, high = 0, c.Width/2-c.Selvage
		}
		require.GreaterOrEqual(t, boxes[i].Min.Y, low-marker.Slack)
		require.LessOrEqual(t, boxes[i].Max.Y, high+marker.Slack)
		for k := range i {
			keep := c.Gap
			for _, p := range j.Pieces[:1] {
				if p.Name == m.Places[i].Piece && p.Size == m.Places[i].Size || p.Name == m.Places[k].Piece && p.Size == m.Places[k].Size {
					keep = max(keep, p.Apart)
				}
			}
			if section[k] != section[i] || !boxes[i].Grow(keep).Meets(boxes[k]) {
				continue
			}
			d, ok := geom.Distance(polygons[i].AsGeometry(), polygons[k].AsGeometry())
			require.True(t, ok)
			if keep > 0 {
				require.GreaterOrEqual(t, d, keep-2*chord-marker.Slack, "%s and %s", m.Places[i].Piece, m.Places[k].Piece)
				continue
			}
			// Where lines touch, the library's clipping takes one piece for the other.
			over, err := path.OverlapArea(lines[i], lines[k], chord)
			require.NoError(t, err)
			require.Less(t, over, 0.1, "%s and %s", m.Places[i].Piece, m.Places[k].Piece)
		}
	}
}

// With cloth open, pairs are there as drawn and mirrored in equal numbers.
func everyPieceIsThere(t *rapid.T, j *marker.Job, m *marker.Marker) {
	count := map[string]int{}
	for _, p := range m.Places {
		count[p.Piece+p.Size+p.Side.String()]++
	}
	for _, p := range j.Pieces {
		n := 0
		for _, g := range m.Order {
			if g.Size == p.Size {
				n += g.Count * p.Quantity
			}
		}
		of := func(s marker.Side) int { return count[p.Name+p.Size+s.String()] }
		switch {
		case m.Cloth.Folded && p.Half != nil:
			require.Equal(t, n, of(marker.OnFold))
		case m.Cloth.Folded:
			require.Equal(t, n, 2*of(marker.Both))
		case p.Pairs && !m.Cloth.Alike:
			require.Equal(t, n, 2*of(marker.AsDrawn))
			require.Equal(t, n, 2*of(marker.Mirrored))
		default:
			require.Equal(t, n, of(marker.AsDrawn))
		}
	}
}

// What is half lies on the fold, and every grain line along the cloth.
func edgesLieOnTheFold(t *rapid.T, m *marker.Marker) {
	for i, g := range m.Drawing("", nil).Groups[1:] {
		p := m.Places[i]
		if !m.Cloth.Alike && !m.Cloth.Folded {
			require.Equal(t, p.Side == marker.Mirrored, p.Mirrored)
		}
		var fold, grain []path.Path
		for _, l := range g.Lines {
			switch {
			case l.Sign:
			case l.Role == plot.Fold:
				fold = append(fold, l.Path)
			case l.Role == plot.Grain:
				grain = append(grain, l.Path)
			}
		}
		if p.Side == marker.OnFold {
			require.Len(t, fold, 1)
			require.InDelta(t, 0, fold[0].Bounds().Max.Y, 1e-5)
			require.InDelta(t, 0, g.Bounds().Min.Y, 1e-5)
		} else {
			require.Empty(t, fold)
		}
		require.Len(t, grain, 1)
		across := math.Abs(grain[0].Segment(0).Chord().Unit().Y)
		if m.Cloth.Direction == marker.AnyWay {
			across = min(across, math.Abs(grain[0].Segment(0).Chord().Unit().X))
		}
		require.LessOrEqual(t, across, math.Sin(m.Cloth.Tilt)+1e-6)
	}
}

// On cloth of one direction the hems of all garments point the same way.
func oneWayPiecesLieAllOneWay(t *rapid.T, j *marker.Job, m *marker.Marker) {
	if m.Cloth.Direction != marker.OneWay {
		return
	}
	for _, p := range m.Places {
		for _, q := range j.Pieces {
			if q.Name != p.Piece || q.Size != p.Size {
				continue
			}
			// Mirrored in the y axis and turned, what was up points along the cloth.
			up := q.Whole.Along
			if p.Mirrored {
				up.X = -up.X
			}
			require.InDelta(t, 0, up.Rotate(p.Turn).Angle(), m.Cloth.Tilt+0.002)
		}
	}
}

// square is a piece of a side of so many mm, hollowed by an arc at its right side.
func square(name string, side float64, quantity int) marker.Piece {
	outline := path.Path{Closed: true, V: []path.Vertex{
		{Point: path.Point{}}, {Point: path.Point{X: side}, Bulge: -0.2}, {Point: path.Point{X: side, Y: side}}, {Point: path.Point{Y: side}},
	}}
	return marker.Piece{
		Name: name, Quantity: quantity, Pairs: quantity > 1,
		Whole: marker.Shape{Outline: outline, Along: path.Vec{Y: 1}, Group: plot.Group{Lines: []plot.Line{{Role: plot.Cut, Path: outline}}}},
	}
}

func TestPlantedFaultsAreRefused(t *testing.T) {
	half := square("yoke", 200, 1)
	half.Half = &marker.Shape{Outline: half.Whole.Outline, Along: half.Whole.Along, Fold: path.Line(path.Point{Y: 200}, path.Point{})}
	half.Whole.Outline = path.Closed(path.Point{X: -200}, path.Point{X: 200}, path.Point{X: 200, Y: 200}, path.Point{X: -200, Y: 200})
	apart := square("collar", 100, 2)
	apart.Apart = 30
	pieces := []marker.Piece{apart, square("front", 300, 2), square("back", 250, 2), half}
	for _, folded := range []bool{false, true} {
		cloth := marker.Cloth{Width: 1000, Selvage: 10, Folded: folded, Gap: 3, End: 20, Longest: 4000}
		j, err := marker.New(pieces, marker.Order{{Count: 2}}, cloth)
		require.NoError(t, err)
		m, err := j.Lay(context.Background(), marker.Options{Level: 1})
		require.NoError(t, err)
		require.NoError(t, j.Prove(m.Layout))
		find := func(l marker.Layout, name string) int {
			for i, p := range l.Places {
				if p.Piece == name {
					return i
				}
			}
			t.Fatal(name)
			return -1
		}
		first := func(l marker.Layout, change func(p *marker.Place)) {
			change(&l.Places[find(l, "front")])
		}
		for name, plant := range map[string]func(l *marker.Layout){
			"is not in the order":         func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.Piece = "cuff" }) },
			"lies there":                  func(l *marker.Layout) { l.Places = l.Places[1:] },
			"lies over":                   func(l *marker.Layout) { l.Places = append(l.Places, l.Places[0]) },
			"lies with its wrong side up": func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.Mirrored = !p.Mirrored }) },
			"degrees off its grain":       func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.Turn += math.Pi }) },
			"1 degrees off its grain": func(l *marker.Layout) { // behind all others, with room all round it
				first(*l, func(p *marker.Place) { p.At, p.Turn = path.Point{X: l.Sections[0] + 400, Y: 100}, p.Turn+math.Pi/180 })
				l.Sections[0] = 4000
			},
			"before the beginning":          func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.At.X = 19.9 }) },
			"too near to the lower side":    func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.At.Y = -0.1 }) },
			"too near to the upper side":    func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.At.Y = 800 }) },
			"beyond the end of its section": func(l *marker.Layout) { l.Sections[0] -= 0.1 },
			"lies in section 2 of 1":        func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.Section = 1 }) },
			"long":                          func(l *marker.Layout) { l.Sections[0] = 4001 },
			"lies nowhere":                  func(l *marker.Layout) { first(*l, func(p *marker.Place) { p.At.X = math.NaN() }) },
			"another cloth":                 func(l *marker.Layout) { l.Cloth.Gap = 2 },
			"mm from": func(l *marker.Layout) { // a hundredth too near to its neighbour
				a, b := &l.Places[find(*l, "front")], &l.Places[find(*l, "back")]
				b.At = path.Point{X: l.Sections[0] + 100, Y: 20} // behind all others
				a.At = path.Point{X: b.At.X + 250 + 2.99, Y: 20}
				l.Sections[0] = 4000
			},
			"30 mm are to be kept": func(l *marker.Layout) {
				a, b := &l.Places[find(*l, "collar")], l.Places[find(*l, "front")]
				l.Sections[0] = 4000
				a.At = path.Point{X: b.At.X + 300 + 29.99, Y: b.At.Y}
			},
			"off the fold": func(l *marker.Layout) { l.Places[find(*l, "yoke")].At.Y += 0.2 },
		} {
			if !folded && name == "off the fold" || folded && name == "lies with its wrong side up" {
				continue
			}
			l := m.Layout
			l.Places = append([]marker.Place(nil), l.Places...)
			l.Sections = append([]float64(nil), l.Sections...)
			plant(&l)
			err := j.Prove(l)
			require.ErrorContains(t, err, name, "folded: %v", folded)
			var own *marker.Error
			require.ErrorAs(t, err, &own)
			require.NotEmpty(t, own.Remedy())
		}
	}
}

func TestWhatCannotBeLaidIsRefusedWithARemedy(t *testing.T) {
	ok := func() ([]marker.Piece, marker.Order, marker.Cloth) {
		return []marker.Piece{square("front", 300, 2)}, marker.Order{{Count: 1}}, marker.Cloth{Width: 1000, Gap: 3}
	}
	crossed := square("front", 300, 1)
	crossed.Whole.Outline = path.Closed(path.Point{}, path.Point{X: 100, Y: 100}, path.Point{X: 100}, path.Point{Y: 100})
	for name, c := range map[string]struct {
		change  func(p *[]marker.Piece, o *marker.Order, c *marker.Cloth)
		problem string
		hint    string
	}{
		"wider than the cloth": {
			func(p *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { c.Width, c.Selvage = 310, 10 },
			"front is 300 mm across the grain, and cloth 310 mm wide has room for 290 mm", "cloth 320 mm wide or wider would do",
		},
		"wider than the folded cloth": {
			func(p *[]marker.Piece, _ *marker.Order, c *marker.Cloth) {
				c.Width, c.Selvage, c.Folded = 500, 10, true
			},
			"front is 300 mm across the grain, and cloth 500 mm wide has room for 238.5 mm", "cloth 623 mm wide or wider would do",
		},
		"longer than a section": {
			func(p *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { c.Longest, c.End = 330, 20 },
			"front is 300 mm along the cloth, and a section of 330 mm has room for 290 mm", "a greatest length of 340 mm or more would do",
		},
		"no demand": {
			func(p *[]marker.Piece, _ *marker.Order, _ *marker.Cloth) { (*p)[0].Quantity = 0 },
			"front is to be cut 0 times", "give a number of 1 or more, or leave the piece out",
		},
		"crosses itself": {
			func(p *[]marker.Piece, _ *marker.Order, _ *marker.Cloth) { (*p)[0] = crossed },
			"the outline of front crosses itself at (50.0, 50.0) mm", "draw it without the loop there",
		},
		"negative gap": {
			func(_ *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { c.Gap = -1 },
			"the cloth's gap between pieces is -1, which cannot be", "give a gap of 0 or more",
		},
		"no such size": {
			func(p *[]marker.Piece, o *marker.Order, _ *marker.Cloth) {
				(*p)[0].Size = "38"
				*o = marker.Order{{Size: "83", Count: 1}}
			},
			"the order is for size 83, which is not there", "the sizes are 38",
		},
		"a size of pieces without": {
			func(_ *[]marker.Piece, o *marker.Order, _ *marker.Cloth) { *o = marker.Order{{Size: "38", Count: 1}} },
			"the order is for size 38, and the pieces have one size without a name", "order a number of garments alone, such as 2",
		},
		"no garments": {
			func(_ *[]marker.Piece, o *marker.Order, _ *marker.Cloth) { (*o)[0].Count = 0 },
			"the order has 0 garments", "order 1 or more, or leave the size out",
		},
		"a name twice": {
			func(p *[]marker.Piece, _ *marker.Order, _ *marker.Cloth) { *p = append(*p, (*p)[0]) },
			"two pieces are called front", "give each piece a name of its own",
		},
		"no pair on folded cloth": {
			func(p *[]marker.Piece, _ *marker.Order, c *marker.Cloth) {
				(*p)[0].Quantity, (*p)[0].Pairs, c.Folded = 1, false, true
			},
			"front is no pair and has no edge on the fold, and folded cloth cuts everything twice, once mirrored", "lay the cloth open for it",
		},
		"an odd number on folded cloth": {
			func(p *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { (*p)[0].Quantity, c.Folded = 3, true },
			"front is cut 3 times in all, and folded cloth cuts everything twice", "order an even number of garments, or lay the cloth open",
		},
		"no width left": {
			func(_ *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { c.Width, c.Selvage = 20, 10 },
			"nothing is left of a cloth 20 mm wide beside selvages of 10 mm", "give the whole width of the cloth, and what of it is selvage on one side",
		},
		"too much tilt": {
			func(_ *[]marker.Piece, _ *marker.Order, c *marker.Cloth) { c.Tilt = math.Pi / 6 },
			"a tilt of 30 degrees off grain is more than the most, 10", "give 1 to 3 degrees, or lay the pieces any way on cloth without a grain",
		},
		"too many": {
			func(p *[]marker.Piece, o *marker.Order, _ *marker.Cloth) { (*o)[0].Count = 4000 },
			"the order comes to 8000 pieces, and a marker has 5000 at most", "lay fewer garments at a time",
		},
	} {
		p, o, cl := ok()
		_, err := marker.New(p, o, cl)
		require.NoError(t, err)
		c.change(&p, &o, &cl)
		_, err = marker.New(p, o, cl)
		var own *marker.Error
		require.ErrorAs(t, err, &own, name)
		require.Equal(t, c.problem, own.Error(), name)
		require.Equal(t, c.hint, own.Remedy(), name)
	}
}

func TestGreatestLengthMakesSections(t *testing.T) {
	cloth := marker.Cloth{Width: 700, Gap: 3, End: 20, Longest: 1000}
	j, err := marker.New([]marker.Piece{square("front", 300, 2)}, marker.Order{{Count: 6}}, cloth)
	require.NoError(t, err)
	m, err := j.Lay(context.Background(), marker.Options{Level: 1})
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(m.Sections), 2)
	for _, s := range m.Sections {
		require.LessOrEqual(t, s, 1000.0)
	}
	var splices []path.Path
	for _, l := range m.Drawing("", nil).Groups[0].Lines {
		if l.Label == "splice" {
			splices = append(splices, l.Path)
		}
	}
	require.Len(t, splices, len(m.Sections)-1)
	at := 0.0
	for i, s := range splices {
		at += m.Sections[i]
		require.InDelta(t, at, s.Start().X, 1e-9)
		require.Equal(t, s.Start().X, s.End().X)
	}
}

func TestSizesFollowOneAnother(t *testing.T) {
	var pieces []marker.Piece
	for i, size := range []string{"38", "40", "42"} {
		p := square("front", 200+20*float64(i), 2)
		p.Size = size
		pieces = append(pieces, p)
	}
	cloth := marker.Cloth{Width: 1000, Gap: 3, End: 20}
	j, err := marker.New(pieces, marker.Order{{Size: "40", Count: 2}, {Size: "42", Count: 1}, {Size: "38", Count: 2}}, cloth)
	require.NoError(t, err)
	m, err := j.Lay(context.Background(), marker.Options{Level: 1, BySize: true})
	require.NoError(t, err)
	ends := map[string]float64{}
	starts := map[string]float64{}
	for _, p := range m.Places {
		if s, ok := starts[p.Size]; !ok || p.At.X < s {
			starts[p.Size] = p.At.X
		}
		ends[p.Size] = max(ends[p.Size], p.At.X)
	}
	require.Less(t, starts["40"], starts["42"])
	require.Less(t, starts["42"], starts["38"])
	require.Less(t, ends["40"], ends["42"])
	require.Less(t, ends["42"], ends["38"])
}

func TestSameJobGivesTheSameMarker(t *testing.T) {
	pieces := []marker.Piece{square("front", 300, 2), square("back", 250, 2), square("pocket", 120, 4)}
	lay := func() string {
		j, err := marker.New(pieces, marker.Order{{Count: 2}}, marker.Cloth{Width: 1000, Gap: 3, Direction: marker.TwoWay})
		require.NoError(t, err)
		m, err := j.Lay(context.Background(), marker.Options{Level: 1, Seed: 7})
		require.NoError(t, err)
		return fmt.Sprint(m.Layout)
	}
	require.Equal(t, lay(), lay())
}

func TestALayoutIsGoneOnFrom(t *testing.T) {
	pieces := []marker.Piece{square("front", 300, 2), square("back", 250, 2)}
	cloth := marker.Cloth{Width: 1000, Gap: 3, End: 20}
	lay := func(order int, start *marker.Layout) *marker.Marker {
		j, err := marker.New(pieces, marker.Order{{Count: order}}, cloth)
		require.NoError(t, err)
		m, err := j.Lay(context.Background(), marker.Options{Level: 1, Start: start})
		require.NoError(t, err)
		return m
	}
	one := lay(1, nil)
	require.LessOrEqual(t, lay(1, &one.Layout).Length(), one.Length()+marker.Slack)
	require.Len(t, lay(2, &one.Layout).Places, 8, "what it is without is added")
	require.Len(t, lay(1, &lay(2, nil).Layout).Places, 4, "what it has beyond the order is left out")

	unordered := one.Layout
	unordered.Places = append([]marker.Place(nil), unordered.Places...)
	unordered.Places[0].Locked, unordered.Places[0].Piece = true, "cuff"
	j, err := marker.New(pieces, marker.Order{{Count: 1}}, cloth)
	require.NoError(t, err)
	_, err = j.Lay(context.Background(), marker.Options{Level: 1, Start: &unordered})
	require.ErrorContains(t, err, "cuff is locked")
}

func TestLegendSaysTheFigures(t *testing.T) {
	j, err := marker.New([]marker.Piece{square("front", 300, 2)}, marker.Order{{Count: 2}}, marker.Cloth{Width: 1000, Gap: 3, End: 20, Folded: true})
	require.NoError(t, err)
	m, err := j.Lay(context.Background(), marker.Options{Level: 1})
	require.NoError(t, err)
	area := 4 * pieces300()
	require.InDelta(t, area/(1000*m.Length()), m.Use(), 1e-12)
	require.Equal(t, []string{
		"Skirt", "order 2 garments", "cloth 1000.0 wide", "folded, one way", fmt.Sprintf("length %.1f", m.Length()),
		fmt.Sprintf("use of cloth %.1f %%", 100*m.Use()), "1 May",
	}, m.Legend(marker.Facts{Style: "Skirt", Date: "1 May", Length: func(mm float64) string { return fmt.Sprintf("%.1f", mm) }}))
}

// pieces300 is the area of the square of 300 mm: without the circular segment of sweep
// 4 atan 0.2 over its side.
func pieces300() float64 {
	sweep := 4 * math.Atan(0.2)
	r := 300 / 2 / math.Sin(sweep/2)
	return 300*300 - r*r/2*(sweep-math.Sin(sweep))
}

// Each label stands inside of its piece, over no line, and says the piece and its size.
func TestLabelsStandInTheirPieces(t *testing.T) {
	p := square("front", 300, 2)
	p.Size = "38"
	j, err := marker.New([]marker.Piece{p}, marker.Order{{Size: "38", Count: 2}}, marker.Cloth{Width: 1000, Gap: 3})
	require.NoError(t, err)
	m, err := j.Lay(context.Background(), marker.Options{Level: 1})
	require.NoError(t, err)
	said := map[string]int{}
	for _, g := range m.Drawing("", nil).Groups[1:] {
		require.Len(t, g.Texts, 2)
		require.Equal(t, "front", g.Texts[0].String)
		said[g.Texts[1].String]++
		for _, text := range g.Texts {
			for _, c := range text.Corners() {
				require.True(t, g.Lines[0].Path.Contains(c))
			}
		}
	}
	require.Equal(t, map[string]int{"38 no 1": 1, "38 no 2": 1, "38 no 1, mirrored": 1, "38 no 2, mirrored": 1}, said)
}

// What is locked lies where it lay, on its section, and the others are laid round it.
func TestLockedPiecesStay(t *testing.T) {
	pieces := []marker.Piece{square("front", 300, 2), square("back", 250, 2), square("pocket", 120, 2)}
	for _, longest := range []float64{0, 800} {
		j, err := marker.New(pieces, marker.Order{{Count: 1}}, marker.Cloth{Width: 700, Gap: 3, End: 20, Longest: longest})
		require.NoError(t, err)
		m, err := j.Lay(context.Background(), marker.Options{Level: 1})
		require.NoError(t, err)
		start := m.Layout
		start.Places = append([]marker.Place(nil), m.Places...)
		var locked []marker.Place
		for i := range start.Places {
			if start.Places[i].Piece == "back" {
				start.Places[i].Locked = true
				locked = append(locked, start.Places[i])
			}
		}
		again, err := j.Lay(context.Background(), marker.Options{Level: 1, Start: &start, Seed: 3})
		require.NoError(t, err)
		for _, p := range again.Places {
			if !p.Locked {
				require.NotEqual(t, "back", p.Piece)
				continue
			}
			found := false
			for _, q := range locked {
				found = found || p.Side == q.Side && p.Section == q.Section && p.At.Dist(q.At) < marker.Slack
			}
			require.True(t, found, "%v", p)
		}
	}
}

// What ends at once gives a layout all the same.
func TestInterruptedLayIsALayout(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	j, err := marker.New([]marker.Piece{square("front", 300, 4), square("back", 250, 2)}, marker.Order{{Count: 2}}, marker.Cloth{Width: 1000, Gap: 3})
	require.NoError(t, err)
	m, err := j.Lay(ctx, marker.Options{Level: 9})
	require.NoError(t, err)
	require.Len(t, m.Places, 12)
}
