package build_test

import (
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/stretchr/testify/require"
)

// The whole job but for the disk: two panels and their facings in nine sizes.
func BenchmarkNineSizes(b *testing.B) {
	for _, formats := range []string{"dxf, hpgl", "dxf, hpgl, png", "png, hpgl, dxf, svg, pdf, astm"} {
		b.Run(strings.ReplaceAll(formats, ", ", "+"), func(b *testing.B) {
			s, err := style.Parse("nine-sizes.yaml", nineSizes(b))
			require.NoError(b, err)
			s.Output.Formats = strings.Split(formats, ", ")
			for b.Loop() {
				p, err := build.New(s, build.Files{Read: patternFile})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := p.Write(func(string, []byte) error { return nil }, func(int, int) {}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The same from a pattern with a layer for each size, the count held or not.
func BenchmarkNineLayers(b *testing.B) {
	for _, hold := range []string{style.HoldWidth, style.HoldCount} {
		b.Run(hold, func(b *testing.B) {
			s := nestStyle(b, "{file: damson-layers.svg, sizes: layers}", "output: {formats: [dxf, hpgl]}")
			s.Motif.Hold = hold
			for b.Loop() {
				p, err := build.New(s, patternFolder())
				if err != nil {
					b.Fatal(err)
				}
				if _, err := p.Write(func(string, []byte) error { return nil }, func(int, int) {}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
