package marker_test

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"

	"engrail/motif/path"
	"engrail/plot/marker"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func encoded(t require.TestingT, f marker.File) string {
	var b bytes.Buffer
	require.NoError(t, marker.Encode(&b, f))
	return b.String()
}

// What is read back is what was laid, is proved as that was, and is written the same.
func TestMarkerComesBackFromItsFile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, m := laid(t)
		written := encoded(t, marker.File{Style: "Test", Use: m.Use(), Layout: m.Layout})
		f, err := marker.Decode(strings.NewReader(written))
		require.NoError(t, err)
		require.Equal(t, written, encoded(t, f))
		require.Equal(t, "Test", f.Style)
		require.InDelta(t, m.Use(), f.Use, 1e-6)
		require.Len(t, f.Places, len(m.Places))
		for i, p := range m.Places {
			q := f.Places[i]
			require.InDelta(t, 0, math.Remainder(p.Turn-q.Turn, 2*math.Pi), 1e-10)
			require.Less(t, p.At.Dist(q.At), 1e-8)
			q.Turn, q.At = p.Turn, p.At
			require.Equal(t, p, q)
		}
		f.Cloth.Tilt = j.Cloth.Tilt // which is written in degrees
		require.Equal(t, j.Cloth, f.Cloth)
		require.NoError(t, j.Prove(f.Layout))
	})
}

const small = `{"engrail_marker": 1, "style": "Skirt",
 "cloth": {"width": 1400, "selvage": 12.7, "direction": "one way", "tilt": 0, "folded": false, "alike": false, "gap": 3, "end": 20, "longest": 0},
 "order": [{"size": "38", "garments": 1}], "use": 0.5, "sections": [400],
 "pieces": [{"piece": "front", "size": "38", "side": "as drawn", "copy": 1, "garment": 1, "section": 1, "mirrored": false, "turn": -90, "x": 20, "y": 12.7, "locked": true}]}`

func TestBadMarkersAreRefusedWithThePlace(t *testing.T) {
	f, err := marker.Decode(strings.NewReader(small))
	require.NoError(t, err)
	require.Equal(t, []marker.Place{{Piece: "front", Size: "38", Copy: 1, Garment: 1, Turn: -math.Pi / 2, At: path.Point{X: 20, Y: 12.7}, Locked: true}}, f.Places)
	for name, c := range map[string]struct{ from, to, problem, hint string }{
		"another form":      {`"engrail_marker": 1`, `"engrail_marker": 2`, "the marker is of form 2, and form 1 is read", "give a file that engrail marker has written"},
		"no such side":      {`"as drawn"`, `"drawn"`, `the marker has at pieces[0], front, the side "drawn"`, "it is as drawn, mirrored, both layers or on fold"},
		"no such section":   {`"section": 1`, `"section": 2`, "the marker has pieces[0], front, in section 2", "sections count from 1, and there are 1"},
		"no such way":       {`"one way"`, `"no way"`, `the marker has cloth of the direction "no way"`, "it is one way, two way or any way"},
		"a negative gap":    {`"gap": 3`, `"gap": -3`, "the cloth's gap between pieces is -3, which cannot be", "give a gap of 0 or more"},
		"far off":           {`"y": 12.7`, `"y": 1e7`, "the marker has pieces[0], front, at (20, 1e+07) mm, turned by -90 degrees", "give x and y in mm and turn in degrees"},
		"a word misspelt":   {`"locked"`, `"lockt"`, `line 4: there is no key "lockt"`, "correct it there, or give a file that is whole"},
		"half of it":        {`"locked": true}]}`, `"locked": true}]`, "line 4: it ends too soon", "correct it there, or give a file that is whole"},
		"more than it":      {`"locked": true}]}`, `"locked": true}]} {}`, "line 4: something follows its end", "correct it there, or give a file that is whole"},
		"a negative length": {`"sections": [400]`, `"sections": [-1]`, "the marker has a section 1 of -1 mm", "give its length in mm"},
	} {
		_, err := marker.Decode(strings.NewReader(strings.Replace(small, c.from, c.to, 1)))
		var own *marker.Error
		require.ErrorAs(t, err, &own, name)
		require.Equal(t, c.problem, own.Error(), name)
		require.Equal(t, c.hint, own.Remedy(), name)
	}
}

const items = `{"name": "shapes", "strip_height": 40, "items": [
 {"demand": 2, "allowed_orientations": [0, 180], "polygon": [[0, 0], [8, 0], [8, 5], [0, 9]]},
 {"demand": 3, "name": "strip", "polygon": [[0, 0], [0, 30], [4, 30], [4, 0], [0, 0]]}]}`

func TestItemsAreReadAndLaid(t *testing.T) {
	in, err := marker.DecodeItems(strings.NewReader(items))
	require.NoError(t, err)
	require.Equal(t, "shapes", in.Name)
	require.Equal(t, 40.0, in.Height)
	require.Len(t, in.Pieces, 2)
	require.Equal(t, "item 1", in.Pieces[0].Name)
	require.Equal(t, []float64{0, math.Pi}, in.Pieces[0].Turns)
	require.Equal(t, "strip", in.Pieces[1].Name)
	require.Equal(t, []float64{0}, in.Pieces[1].Turns)
	require.InDelta(t, 120, in.Pieces[1].Whole.Outline.Area(), 1e-9, "counter-clockwise, without its first corner at the end")

	j, err := marker.New(in.Pieces, marker.Order{{Count: 1}}, marker.Cloth{Width: in.Height})
	require.NoError(t, err)
	m, err := j.Lay(context.Background(), marker.Options{Level: 1})
	require.NoError(t, err)
	require.Len(t, m.Places, 5)
	require.InDelta(t, (2*56+3*120)/(40*m.Length()), m.Use(), 1e-9)
}

func TestBadItemsAreRefusedWithTheirName(t *testing.T) {
	for name, c := range map[string]struct{ from, to, problem string }{
		"no height":   {`"strip_height": 40`, `"strip_height": 0`, "strip_height is 0"},
		"no items":    {items[strings.Index(items, `"items"`):], `"items": []}`, "there are 0 items"},
		"two corners": {`[[0, 0], [8, 0], [8, 5], [0, 9]]`, `[[0, 0], [8, 0]]`, "item 1 has a polygon of 2 corners"},
		"one number":  {`[8, 5]`, `[8]`, "corner 3 of item 1 has 1 numbers"},
		"a word":      {`"demand": 2`, `"demand": "two"`, "line 2: items.demand is a string, where a whole number should be"},
		"half of one": {`"demand": 2`, `"demand": 2.5`, "line 2: items.demand is the number 2.5, where a whole number should be"},
		"a list":      {items, `[]`, "line 1: it is a list, where an object should be"},
		"an object":   {items, `{"items": {}}`, "line 1: items is an object, where a list should be"},
	} {
		_, err := marker.DecodeItems(strings.NewReader(strings.Replace(items, c.from, c.to, 1)))
		var own *marker.Error
		require.ErrorAs(t, err, &own, name)
		require.ErrorContains(t, err, c.problem, name)
		require.NotEmpty(t, own.Remedy(), name)
	}
	// What a job refuses, it names.
	in, err := marker.DecodeItems(strings.NewReader(strings.Replace(items, `"demand": 3`, `"demand": 0`, 1)))
	require.NoError(t, err)
	_, err = marker.New(in.Pieces, marker.Order{{Count: 1}}, marker.Cloth{Width: in.Height})
	require.EqualError(t, err, "strip is to be cut 0 times")
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(strings.Replace(small, "as drawn", "on fold", 1)))
	f.Add([]byte(`{"engrail_marker": 1, "cloth": {"width": 1e300}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := marker.Decode(bytes.NewReader(data))
		if err != nil {
			var own *marker.Error
			require.ErrorAs(t, err, &own)
			return
		}
		once := encoded(t, got)
		again, err := marker.Decode(strings.NewReader(once))
		require.NoError(t, err)
		require.Equal(t, once, encoded(t, again))
	})
}

func FuzzDecodeItems(f *testing.F) {
	f.Add([]byte(items))
	f.Add([]byte(`{"strip_height": 1, "items": [{"demand": 1, "polygon": [[0,0],[1e300,0],[1,1]]}]}`))
	f.Add([]byte(`{"strip_height": 1, "items": [{"demand": 1, "allowed_orientations": [1e300], "polygon": [[0,0],[1,0],[1,1],[1,0]]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := marker.DecodeItems(bytes.NewReader(data))
		if err == nil {
			// No more than a few corners: finding out that a polygon crosses itself takes time.
			n := 0
			for _, p := range in.Pieces {
				n += len(p.Whole.Outline.V) * max(1, min(p.Quantity, 1000))
			}
			if n > 200 {
				return
			}
			_, err = marker.New(in.Pieces, marker.Order{{Count: 1}}, marker.Cloth{Width: in.Height})
		}
		if err != nil {
			var own *marker.Error
			require.ErrorAs(t, err, &own)
		}
	})
}
