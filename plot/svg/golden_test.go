package svg

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"engrail/plot"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// A page as a drawing program saves it reads as the golden file says.
func TestLayersReadAsInGoldenFile(t *testing.T) {
	data, err := os.ReadFile("../../testdata/plot-svg/layers.svg")
	require.NoError(t, err)
	d, err := Read(bytes.NewReader(data), Options{})
	require.NoError(t, err)
	var b strings.Builder
	fmt.Fprintf(&b, "drawing %q\n", d.Title)
	for _, g := range d.Groups {
		describe(&b, g, "")
	}
	const name = "../../testdata/plot-svg/layers.golden"
	if *update {
		require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, string(want), b.String())
}

func describe(b *strings.Builder, g plot.Group, indent string) {
	fmt.Fprintf(b, "%sgroup id=%q label=%q\n", indent, g.ID, g.Label)
	indent += "  "
	for _, l := range g.Lines {
		box := l.Path.Bounds()
		fmt.Fprintf(b, "%sline id=%q label=%q class=%q closed=%t length %.2f area %.1f box %.2f,%.2f to %.2f,%.2f\n", indent,
			l.ID, l.Label, l.Class, l.Path.Closed, l.Path.Length(), l.Path.Area(), box.Min.X, box.Min.Y, box.Max.X, box.Max.Y)
	}
	for _, t := range g.Texts {
		fmt.Fprintf(b, "%stext id=%q %q at %.2f,%.2f height %.2f angle %.1f align %d\n", indent,
			t.ID, t.String, t.At.X, t.At.Y, t.Height, t.Angle*180/math.Pi, t.Align)
	}
	for _, in := range g.Groups {
		describe(b, in, indent)
	}
}
