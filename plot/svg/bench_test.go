package svg

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkRead(b *testing.B) {
	page, err := os.ReadFile("../../testdata/plot-svg/layers.svg")
	require.NoError(b, err)
	for name, data := range map[string][]byte{
		"page":              page,
		"empty":             []byte(`<svg/>`),
		"broken at the end": append(bytes.Clone(page), '<'),
	} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				_, err := Read(bytes.NewReader(data), Options{})
				if (err == nil) != (name != "broken at the end") {
					b.Fatal(err)
				}
			}
		})
	}
}
