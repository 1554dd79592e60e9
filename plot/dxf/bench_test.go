package dxf_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
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
			{"plain-lines", dxf.Options{Lines: true}},
			{"plain-strokes", dxf.Options{Strokes: strokes}},
			{"r2000", dxf.Options{Release: dxf.R2000}},
			{"r2000-lines", dxf.Options{Release: dxf.R2000, Lines: true}},
			{"exchange", exchange()},
			{"exchange-english", dxf.Options{Flavour: dxf.Exchange, Units: dxf.English}},
			{"exchange-check-curves", dxf.Options{Flavour: dxf.Exchange, CheckCurves: true}},
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
	}{
		{"plain", dxf.Options{}},
		{"plain-lines", dxf.Options{Lines: true}},
		{"plain-strokes", dxf.Options{Strokes: strokes}},
		{"r2000", dxf.Options{Release: dxf.R2000}},
		{"r2000-lines", dxf.Options{Release: dxf.R2000, Lines: true}},
		{"exchange", exchange()},
		{"exchange-english", dxf.Options{Flavour: dxf.Exchange, Units: dxf.English}},
	} {
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

// large returns a drawing of about 10 MB as drawing programs write it: lines,
// arcs, light polylines with bulges, splines and text, with handles and
// subclasses.
func large() []byte {
	var b bytes.Buffer
	b.WriteString("  0\r\nSECTION\r\n  2\r\nENTITIES\r\n")
	for i := 0; b.Len() < 10e6; i++ {
		head := func(kind, class string) {
			fmt.Fprintf(&b, "  0\r\n%s\r\n  5\r\n%X\r\n330\r\n1F\r\n100\r\nAcDbEntity\r\n  8\r\nSIZE %d\r\n100\r\n%s\r\n", kind, i, i%9, class)
		}
		at := func(k int) (x, y float64) {
			return float64(i%1000) + 3*float64(k) + 0.123456789, float64(i/1000) + 5*math.Sin(float64(k)) + 0.987654321
		}
		x, y := at(0)
		head("LINE", "AcDbLine")
		fmt.Fprintf(&b, " 10\r\n%.9f\r\n 20\r\n%.9f\r\n 30\r\n0.0\r\n 11\r\n%.9f\r\n 21\r\n%.9f\r\n 31\r\n0.0\r\n", x, y, y, x)
		head("LWPOLYLINE", "AcDbPolyline")
		b.WriteString(" 90\r\n       40\r\n 70\r\n     1\r\n 43\r\n0.0\r\n")
		for k := range 40 {
			x, y := at(k)
			fmt.Fprintf(&b, " 10\r\n%.9f\r\n 20\r\n%.9f\r\n", x, y)
			if k%4 == 0 {
				b.WriteString(" 42\r\n0.267949192431123\r\n")
			}
		}
		if i%100 == 0 {
			head("SPLINE", "AcDbSpline")
			b.WriteString(" 70\r\n8\r\n 71\r\n3\r\n")
			for _, knot := range []int{0, 0, 0, 0, 1, 2, 3, 3, 3, 3} {
				fmt.Fprintf(&b, " 40\r\n%d.0\r\n", knot)
			}
			for k := range 6 {
				x, y := at(k)
				fmt.Fprintf(&b, " 10\r\n%.9f\r\n 20\r\n%.9f\r\n 30\r\n0.0\r\n", x, y)
			}
		}
	}
	b.WriteString("  0\r\nENDSEC\r\n  0\r\nEOF\r\n")
	return b.Bytes()
}

func BenchmarkReadOthers(b *testing.B) {
	file := large()
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		_, err := dxf.Read(bytes.NewReader(file), dxf.ReadOptions{})
		require.NoError(b, err)
	}
}

// sizesOf returns the drawing in as many sizes, each some mm wider and longer.
func sizesOf(d plot.Drawing, sizes int) plot.Drawing {
	out := plot.Drawing{Title: d.Title}
	for _, g := range d.Groups {
		for s := range sizes {
			m := path.Scaling(path.Point{}, 1+0.02*float64(s))
			sized := g.Transform(m)
			for i, l := range sized.Lines {
				if l.Role == plot.Notch { // as deep in every size
					sized.Lines[i].Path = path.Open(l.Path.Start(), l.Path.Start().Add(g.Lines[i].Path.End().Sub(g.Lines[i].Path.Start())))
				}
			}
			piece := *g.Piece
			piece.Size = strconv.Itoa(34 + 2*s)
			sized.Piece = &piece
			out.Groups = append(out.Groups, sized)
		}
	}
	return out
}

func BenchmarkGraded(b *testing.B) {
	d := sizesOf(plottest.Scalloped(60), 9)
	o := dxf.Options{Flavour: dxf.Exchange, RuleTable: "MARRAM"}
	b.Run("write/2x60-scallops-9-sizes", func(b *testing.B) {
		for b.Loop() {
			require.NoError(b, dxf.Write(io.Discard, d, o))
		}
	})
	var file, table bytes.Buffer
	require.NoError(b, dxf.Write(&file, d, o))
	require.NoError(b, dxf.WriteRules(&table, d, o))
	b.Run("read/2x60-scallops-9-sizes", func(b *testing.B) {
		b.SetBytes(int64(file.Len()))
		for b.Loop() {
			rules, err := dxf.ParseRules(bytes.NewReader(table.Bytes()))
			require.NoError(b, err)
			back, err := dxf.Read(bytes.NewReader(file.Bytes()), dxf.ReadOptions{Rules: rules})
			require.NoError(b, err)
			require.Len(b, back.Groups, 18)
		}
	})
}
