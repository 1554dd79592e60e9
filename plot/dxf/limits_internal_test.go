package dxf

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestReadBoundsWhatItKeeps(t *testing.T) {
	section := func(name, lines string) string { return "0\nSECTION\n2\n" + name + "\n" + lines + "0\nENDSEC\n" }
	points := strings.Repeat("0\nPOINT\n", 60)
	vertices := "0\nPOLYLINE\n" + strings.Repeat("0\nVERTEX\n", 60) + "0\nSEQEND\n"
	block := func(lines string) string { return section("BLOCKS", "0\nBLOCK\n2\nB\n"+lines+"0\nENDBLK\n") }
	inserts := section("ENTITIES", strings.Repeat("0\nINSERT\n2\nB\n", 2)) + "0\nEOF\n"
	for file, want := range map[string]string{
		strings.Repeat(" ", 5001):                           "dxf: the file is larger than 5000 bytes: divide the drawing",
		section("ENTITIES", points+points) + "0\nEOF\n":     "dxf: line 206: more than 100 entities: divide the drawing",
		section("ENTITIES", vertices+vertices) + "0\nEOF\n": "dxf: line 212: more than 100 vertices: divide the drawing",
		// A few bytes of INSERT must not make a drawing without bounds.
		block(points) + inserts:   "dxf: line 86: more than 100 entities, those of inserted blocks counted: divide the drawing",
		block(vertices) + inserts: "dxf: line 10: more than 100 vertices, those of inserted blocks counted: divide the drawing",
	} {
		_, _, err := read(strings.NewReader(file), ReadOptions{}, limits{bytes: 5000, entities: 100, vertices: 100, arcs: 100})
		require.EqualError(t, err, want)
		_, _, err = read(strings.NewReader(file+" "), ReadOptions{}, limits{bytes: 6000, entities: 200, vertices: 200, arcs: 100})
		if !strings.HasPrefix(file, " ") {
			require.NoError(t, err)
		}
	}
}
