package png

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/fogleman/gg"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"engrail/motif/path"
)

func TestEdgesDifferWithoutColour(t *testing.T) {
	pens := append([]pen{cutPen(), nestedPen()}, penOfEdge(""))
	for _, w := range edgeWords() {
		if w != "other" {
			pens = append(pens, penOfEdge(w))
		}
	}
	for i, a := range pens {
		for _, b := range pens[i+1:] {
			require.True(t, !slices.Equal(a.dash, b.dash) || max(a.width, b.width) >= 1.8*min(a.width, b.width), "%v and %v", a, b)
		}
	}
}

// polygons draws star-shaped pieces of many edges in a row, small and large ones.
func polygons(t *rapid.T) (pieces []piece, box path.Box) {
	box = path.EmptyBox()
	for i := range rapid.IntRange(1, 4).Draw(t, "pieces") {
		size := rapid.Float64Range(30, 200).Draw(t, "size")
		o := path.Path{Closed: true}
		n := rapid.IntRange(3, 16).Draw(t, "edges")
		for k := range n {
			r := size * rapid.Float64Range(0.4, 1).Draw(t, "radius")
			o.V = append(o.V, path.Vertex{Point: path.Point{X: 420 * float64(i)}.Add(path.Direction(2 * math.Pi * float64(k) / float64(n)).Mul(r))})
		}
		pc := piece{kind: "garment", outline: o, heading: []string{"1 Front", "cut 2"}}
		for k := range n {
			pc.edges = append(pc.edges, NumberedEdge{Number: k + 1, Word: edgeWords()[k%6], Corner: string(rune(65 + k%26)), Path: path.FromSegments(o.Segment(k))})
		}
		pieces, box = append(pieces, pc), box.Union(o.Bounds())
	}
	return pieces, box
}

func TestEveryEdgeOfAPieceOfFairSizeIsNumbered(t *testing.T) {
	o := path.Path{Closed: true}
	const edges = 18
	pc := piece{kind: "garment", heading: []string{"1 Star"}}
	for i := range edges {
		o.V = append(o.V, path.Vertex{Point: path.Point{}.Add(path.Direction(2 * math.Pi * float64(i) / edges).Mul([]float64{120, 70}[i%2]))})
	}
	pc.outline = o
	for i := range edges {
		pc.edges = append(pc.edges, NumberedEdge{Number: i + 1, Word: "top", Corner: string(rune(65 + i%26)), Path: path.FromSegments(o.Segment(i))})
	}
	k, err := newKit(Options{Longest: 800})
	require.NoError(t, err)
	pg, err := k.page([]piece{pc}, o.Bounds().Grow(50), "", Options{Longest: 800}, key{})
	require.NoError(t, err)
	var numbers []string
	for _, w := range pg.words {
		if strings.HasPrefix(w.text, "#") {
			numbers = append(numbers, w.text)
		}
	}
	require.Len(t, numbers, edges)
}

func TestNumbersOfEdgesStandOverNoLine(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, box := polygons(rt)
		k, err := newKit(Options{Longest: 800})
		require.NoError(rt, err)
		pg, err := k.page(pieces, box.Grow(numbersShare*max(box.Width(), box.Height())), "", Options{Longest: 800, NoLegend: true}, key{})
		require.NoError(rt, err)
		numbers := 0
		for i, w := range pg.words {
			if !strings.HasPrefix(w.text, "#") {
				continue
			}
			numbers++
			letters := area{w.at.X, w.at.Y - capHeight*w.size, w.at.X + w.face.width(w.text, w.size), w.at.Y}
			for _, it := range pg.items {
				if it.pen.width == 0 {
					continue
				}
				near := func(p gg.Point) bool { return letters.clamp(p).Distance(p) < it.pen.width/2 }
				for n := 1; n < len(it.points); n++ {
					a, b := it.points[n-1], it.points[n]
					for s := 0.0; s <= 1; s += 1 / (1 + a.Distance(b)) {
						require.False(rt, near(a.Interpolate(b, s)), "%s stands over a line", w.text)
					}
				}
			}
			for _, v := range pg.words[:i] {
				if strings.HasPrefix(v.text, "#") {
					apart := v.at.Y <= letters.y0 || v.at.Y-capHeight*v.size >= letters.y1 || v.at.X >= letters.x1 || v.at.X+v.face.width(v.text, v.size) <= letters.x0
					require.True(rt, apart, "%s and %s stand over one another", v.text, w.text)
				}
			}
		}
		require.Positive(rt, numbers)
	})
}
