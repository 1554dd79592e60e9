package pattern

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/fit"
	"engrail/motif/path"
	"engrail/plot/dxf"
)

// exchangeFile is a file of pattern data with a skirt front, half of it, whose
// grain lies level as blocks often have it: layers as in ASTM D6673.
func exchangeFile() string {
	var b strings.Builder
	pair := func(code int, value any) { fmt.Fprintf(&b, "%3d\n%v\n", code, value) }
	line := func(layer int, closed bool, xy ...float64) {
		pair(0, "POLYLINE")
		pair(8, layer)
		pair(66, 1)
		if closed {
			pair(70, 1)
		}
		for i := 0; i < len(xy); i += 2 {
			pair(0, "VERTEX")
			pair(8, layer)
			pair(10, xy[i])
			pair(20, xy[i+1])
		}
		pair(0, "SEQEND")
	}
	text := func(layer int, s string, x, y float64) {
		pair(0, "TEXT")
		pair(8, layer)
		pair(10, x)
		pair(20, y)
		pair(40, 6)
		pair(1, s)
	}
	pair(0, "SECTION")
	pair(2, "BLOCKS")
	pair(0, "BLOCK")
	pair(8, 1)
	pair(2, "FRONT-12")
	pair(70, 0)
	pair(10, 0)
	pair(20, 0)
	text(1, "Piece Name: Front", 20, 20)
	text(1, "Size: 12", 20, 10)
	text(1, "Quantity: 1,0", 20, 0)
	// The hem is on the left, the fold below.
	line(1, true, 0, 0, 640, 0, 640, 200, 0, 315)
	line(14, false, 30, 0, 30, 294.4, 630, 186.6, 630, 0)
	line(6, false, 0, 0, 640, 0)
	line(7, false, 150, 100, 450, 100)
	line(8, false, 630, 90, 520, 100, 630, 110)
	line(11, true, 300, 50, 340, 50, 340, 90, 300, 90)
	pair(0, "POINT")
	pair(8, 13)
	pair(10, 520)
	pair(20, 95)
	pair(0, "LINE")
	pair(8, 4)
	pair(10, 300)
	pair(20, 261.1)
	pair(11, 299)
	pair(21, 256)
	text(15, "ease to notch", 200, 180)
	pair(0, "ENDBLK")
	pair(0, "ENDSEC")
	pair(0, "SECTION")
	pair(2, "ENTITIES")
	pair(0, "INSERT")
	pair(8, 1)
	pair(2, "FRONT-12")
	pair(10, 0)
	pair(20, 0)
	text(1, "Style Name: Tansy", 0, -50)
	text(1, "Units: METRIC", 0, -60)
	pair(0, "ENDSEC")
	pair(0, "EOF")
	return b.String()
}

func TestPieceOfPatternDataNeedsNoWords(t *testing.T) {
	d, err := dxf.Read(strings.NewReader(exchangeFile()), dxf.ReadOptions{})
	require.NoError(t, err)
	r := Inspect(d, "tansy.dxf")
	require.Empty(t, r.Problems)
	require.Len(t, r.Pieces, 1)
	in := r.Pieces[0]
	require.Equal(t, []any{"Front", "name", "Front", "12", 1, true, true}, []any{in.Name, in.Key, in.Value, in.Size, in.Quantity, in.OnFold, in.Cut})
	var got []string
	for _, e := range in.Edges {
		got = append(got, fmt.Sprintf("#%d %s %.1f", e.Number, e.Word, e.Allowance))
	}
	require.Equal(t, []string{"#1 fold 0.0", "#2 top 10.0", "#3 start 15.0", "#4 hem 30.0"}, got)
	require.InDelta(t, 90, degrees(in.Turned), 1e-9)

	p, warnings, err := Take(d, Selection{File: "tansy.dxf", Panel: "front", Name: "Front", AsDrawn: Sides{Hem: true, Start: true, Finish: true, Top: true}})
	require.NoError(t, err)
	require.Len(t, warnings, 1)
	require.Equal(t, "turned", warnings[0].Code)
	requirePanel(t, p)
	require.Equal(t, "hem hem, right fold, top other, left seam", roleNames(p))
	require.InDelta(t, 294.4, p.Edges[0].Path.Length(), 1e-6)
	require.InDelta(t, 0, p.Edges[0].Path.End().Sub(p.Edges[0].Path.Start()).Y, 1e-6)
	require.InDelta(t, 600, p.Edges[1].Path.Length(), 1e-6)
	require.Len(t, p.Internal, 1)
	require.Len(t, p.Cutouts, 1)
	require.InDelta(t, 1600, p.Cutouts[0].Area(), 1e-6)
	require.Len(t, p.Drills, 1)
	// 490 mm above the hem and 95 mm from the fold.
	require.InDelta(t, 0, p.Drills[0].Dist(p.Edges[0].Path.End().Add(path.Vec{X: -95, Y: 490})), 1e-6)
	require.Len(t, p.Texts, 1)
	require.Equal(t, "ease to notch", p.Texts[0].String)
	require.Len(t, p.Notches, 1)
	require.Equal(t, []any{3, fit.SlitNotch}, []any{p.Notches[0].Edge, p.Notches[0].Kind})
	require.InDelta(t, 5.2, p.Notches[0].Depth, 0.01)
}
