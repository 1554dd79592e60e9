package png_test

import (
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot"
	"engrail/plot/png"
)

func BenchmarkWrite(b *testing.B) {
	for _, c := range []struct {
		name    string
		drawing plot.Drawing
		options png.Options
	}{
		{"two pieces", oneSize(), png.Options{}},
		{"18 pieces", nineSizes(), png.Options{}},
		{"two pieces, half size", oneSize(), png.Options{Longest: 800}},
		{"two pieces, double size", oneSize(), png.Options{Longest: 3200}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				require.NoError(b, png.Write(io.Discard, c.drawing, c.options))
			}
		})
	}
}

func BenchmarkWriteSheet(b *testing.B) {
	for _, n := range []int{4, 24} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var cells []png.Cell
			for i := range n {
				cells = append(cells, edges()[i%4])
			}
			for b.Loop() {
				require.NoError(b, png.WriteSheet(io.Discard, cells, png.Options{Title: "Edges"}))
			}
		})
	}
}
