package hpgl_test

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot"
	"engrail/plot/hpgl"
	"engrail/plot/plottest"
)

func BenchmarkWrite(b *testing.B) {
	for name, d := range map[string]plot.Drawing{
		"nothing": {}, "2x60-scallops": plottest.Scalloped(60),
	} {
		for _, chordError := range []float64{hpgl.ChordError, 0.1} {
			b.Run(fmt.Sprintf("%s/error-%g", name, chordError), func(b *testing.B) {
				var out bytes.Buffer
				for b.Loop() {
					out.Reset()
					require.NoError(b, hpgl.Write(&out, d, hpgl.Options{ChordError: chordError}))
				}
				b.SetBytes(int64(out.Len()))
			})
		}
	}
}

func BenchmarkRead(b *testing.B) {
	var file bytes.Buffer
	require.NoError(b, hpgl.Write(&file, plottest.Scalloped(60), hpgl.Options{}))
	b.Run("2x60-scallops", func(b *testing.B) {
		b.SetBytes(int64(file.Len()))
		for b.Loop() {
			_, err := hpgl.Read(bytes.NewReader(file.Bytes()), hpgl.ReadOptions{})
			require.NoError(b, err)
		}
	})
}
