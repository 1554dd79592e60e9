package svg_test

import (
	"bytes"
	"os"
	"testing"

	"engrail/plot"
	"engrail/plot/plottest"
	"engrail/plot/svg"

	"github.com/stretchr/testify/require"
)

// The lengths of every element by its id, in mm: the elements as svgelements
// reads them, a Python library for SVG by others, and their points summed up in
// chords, twice as many the second time, so that what is missing is known.
const measure = `
import json, math, sys
import svgelements as s
def chords(seg, n):
    points = [seg.point(i / n) for i in range(n + 1)]
    return sum(abs(complex(a) - complex(b)) for a, b in zip(points, points[1:]))
def length(seg):
    if isinstance(seg, s.Move):
        return 0
    if isinstance(seg, (s.Line, s.Close)):
        return chords(seg, 1) if seg.start is not None and seg.end is not None else 0
    return (4 * chords(seg, 128) - chords(seg, 64)) / 3
lengths = {}
for e in s.SVG.parse(sys.argv[1], reify=True, ppi=96).elements():
    if isinstance(e, (s.Path, s.Shape)):
        n = e.values.get("id") or ""
        lengths[n] = lengths.get(n, 0) + sum(map(length, e.segments(transformed=True))) * 25.4 / 96
print(json.dumps(lengths))
`

func TestLengthsAreThoseOfAnIndependentReader(t *testing.T) {
	for _, file := range []string{"../../testdata/plot-svg/layers.svg", "../../testdata/pattern/tansy-skirt.svg"} {
		want := map[string]float64{}
		plottest.Python(t, &want, "svgelements", "-c", measure, file)

		data, err := os.ReadFile(file)
		require.NoError(t, err)
		d, err := svg.Read(bytes.NewReader(data), svg.Options{})
		require.NoError(t, err)
		got := map[string]float64{}
		for _, g := range d.Groups {
			g.Walk(func(g plot.Group) {
				for _, l := range g.Lines {
					got[l.ID] += l.Path.Length()
				}
			})
		}
		if _, ok := want["eyelet"]; ok {
			// It makes a skewed ellipse 0.03 mm too long; this is the sum of
			// 200,000 chords of the true one.
			want["eyelet"] = 26.76521
		}
		// Copies of an element, and the parts of one in several, have no id.
		for id, l := range want {
			if _, ok := got[id]; !ok {
				delete(want, id)
				want[""] += l
			}
		}
		require.NotEmpty(t, got)
		require.InDeltaMapValues(t, want, got, 0.01, file)
	}
}
