package build_test

import (
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/stretchr/testify/require"
)

// What the parts of the job take: two panels and their facings in nine sizes.
func BenchmarkParts(b *testing.B) {
	text := nineSizes(b)
	b.Run("parse", func(b *testing.B) {
		for b.Loop() {
			if _, err := style.Parse("nine-sizes.yaml", text); err != nil {
				b.Fatal(err)
			}
		}
	})
	s, err := style.Parse("nine-sizes.yaml", text)
	require.NoError(b, err)
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			if _, err := build.New(s, build.Files{Read: patternFile}); err != nil {
				b.Fatal(err)
			}
		}
	})
	for _, format := range []string{"", "hpgl", "dxf", "astm", "png"} {
		name := "report alone"
		s.Output.Formats = nil
		if format != "" {
			name, s.Output.Formats = format, []string{format}
		}
		p, err := build.New(s, build.Files{Read: patternFile})
		require.NoError(b, err)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := p.Write(func(string, []byte) error { return nil }, func(int, int) {}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
