package dxf_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot"
	"engrail/plot/dxf"
	"engrail/plot/plottest"
)

func BenchmarkWrite(b *testing.B) {
	drawings := []struct {
		name string
		plot.Drawing
	}{{"nothing", plot.Drawing{}}, {"2x60-scallops", plottest.Scalloped(60)}}
	for _, d := range drawings {
		for _, o := range []struct {
			name string
			dxf.Options
		}{
			{"plain", dxf.Options{}},
			{"plain-error-0.1", dxf.Options{ChordError: 0.1}},
			{"exchange", exchange()},
			{"exchange-error-0.1", dxf.Options{Flavour: dxf.Exchange, ChordError: 0.1}},
		} {
			b.Run(d.name+"/"+o.name, func(b *testing.B) {
				var out bytes.Buffer
				for b.Loop() {
					out.Reset()
					require.NoError(b, dxf.Write(&out, d.Drawing, o.Options))
				}
				b.SetBytes(int64(out.Len()))
			})
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for _, o := range []struct {
		name string
		dxf.Options
	}{{"plain", dxf.Options{}}, {"exchange", exchange()}} {
		var file bytes.Buffer
		require.NoError(b, dxf.Write(&file, plottest.Scalloped(60), o.Options))
		b.Run("2x60-scallops/"+o.name, func(b *testing.B) {
			b.SetBytes(int64(file.Len()))
			for b.Loop() {
				_, err := dxf.Read(bytes.NewReader(file.Bytes()), dxf.ReadOptions{})
				require.NoError(b, err)
			}
		})
	}
}
